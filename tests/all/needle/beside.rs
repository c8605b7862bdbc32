//! What is printed beside the instructions: change one number or one stitch of it and `knit` objects.

use crate::common::figures::case_file;
use capwright::case::read_case;
use capwright::convert::convert;
use capwright::diagnostic::Level;
use capwright::needle::knit_file;
use capwright::report::{Reader, conversion_document, together_document};

/// The text of a case of ours as it is printed, of one size or of all in one text.
fn printed(name: &str, size: Option<usize>) -> String {
    let case = read_case(&case_file(name)).0.unwrap();
    let conversion = convert(&case, size).unwrap();
    match size {
        Some(_) => conversion_document(&case, &conversion, Reader::Terminal, None).text(),
        None => together_document(&case, &conversion, Reader::Terminal).text(),
    }
}

fn objects(text: &str) -> bool {
    let (_, said) = knit_file(text);
    said.iter().any(|d| d.level == Level::Error)
}

/// Where a section begins behind its heading, and where the next heading is.
fn section(text: &str, heading: &str) -> std::ops::Range<usize> {
    let from = text.find(&format!("\n{heading}\n")).expect(heading) + heading.len() + 2;
    let is_heading = |line: &str| line.starts_with(|c: char| c.is_uppercase());
    let rest = text[from..].split_inclusive('\n');
    let long: usize = rest
        .take_while(|line| !is_heading(line))
        .map(str::len)
        .sum();
    from..from + long
}

/// The text with each number of a part one larger and one smaller. Of a decimal only the whole: a tenth of a height
/// is the tape's. `2nd` is a heading.
fn other_numbers(text: &str, part: std::ops::Range<usize>) -> Vec<String> {
    let mut out = Vec::new();
    let mut at = part.start;
    while let Some(from) = text[at..part.end].find(|c: char| c.is_ascii_digit()) {
        let from = at + from;
        let digits = text[from..].find(|c: char| !c.is_ascii_digit());
        let to = digits.map_or(text.len(), |long| from + long);
        at = to;
        if text[..from].ends_with('.') || text[to..].starts_with("nd ") {
            continue;
        }
        let n: u32 = text[from..to].parse().unwrap();
        for other in [n.checked_sub(1), Some(n + 1)].into_iter().flatten() {
            out.push(format!("{}{other}{}", &text[..from], &text[to..]));
        }
    }
    out
}

/// What differs between two texts, for a message.
fn changed(text: &str, mutant: &str) -> String {
    let mut lines = text.lines().zip(mutant.lines());
    let line = lines.find(|(a, b)| a != b);
    line.map_or_else(String::new, |(a, b)| format!("{b}\nwas: {a}"))
}

#[test]
fn every_changed_number_beside_the_instructions_is_noticed() {
    let texts = [
        ("gannet-saddle", Some(0)),
        ("dunlin-texture", Some(0)),
        ("skua-stripes", Some(1)),
        ("skua-stripes", Some(2)),
        ("dunlin-texture", None),
    ];
    let headings = [
        "STITCH PATTERN",
        "STITCHES OF THE PATTERN",
        "THE PATTERN IN THE TUBE",
        "STRIPES",
    ];
    let mut changes = 0;
    for (name, size) in texts {
        let text = printed(name, size);
        assert_eq!(knit_file(&text).1, [], "{name}");
        let there = headings
            .iter()
            .filter(|h| text.contains(&format!("\n{h}\n")));
        for heading in there {
            for mutant in other_numbers(&text, section(&text, heading)) {
                changes += 1;
                assert!(
                    objects(&mutant),
                    "{name}, {heading}: {}",
                    changed(&text, &mutant)
                );
            }
        }
    }
    assert!(changes > 700, "only {changes} changes were tried");
}

/// A stitch, a colour or a word for another one.
#[test]
fn every_other_stitch_or_colour_beside_the_instructions_is_noticed() {
    let edits = [
        (
            "gannet-saddle",
            "k1, k2tog, work to the last 3 sts, ssk, k1",
            "k1, ssk, work to the last 3 sts, k2tog, k1",
        ),
        ("gannet-saddle", "Ground: 2x2 rib", "Ground: 1x1 rib"),
        ("gannet-saddle", "2 in front on a", "2 behind on a"),
        (
            "dunlin-texture",
            "p: purl; on a WS row k",
            "p: purl; on a WS row p",
        ),
        ("skua-stripes", "4 rows of ink", "4 rows of chalk"),
        ("skua-stripes", "Pick up in ink", "Pick up in chalk"),
        (
            "skua-stripes",
            "level            yes",
            "level            no",
        ),
        ("skua-stripes", "row too low", "row too high"),
        (
            "skua-stripes",
            "row 3 to row 6      ink",
            "row 3 to row 6      chalk",
        ),
    ];
    for (name, from, to) in edits {
        let size = usize::from(name == "skua-stripes");
        let text = printed(name, Some(size));
        assert!(text.contains(from), "{name}: {from}\n{text}");
        let mutant = text.replacen(from, to, 1);
        assert!(objects(&mutant), "{name}: {}", changed(&text, &mutant));
    }
}

/// What is to be counted before the yarn is joined: the saddle's stitches and those of the underarm, as they are taken.
#[test]
fn stitches_told_before_the_pick_up_are_those_that_are_taken() {
    let saddle = printed("gannet-saddle", Some(0));
    let from = saddle.find("Knit the saddle first").unwrap();
    let to = from + saddle[from..].find("armhole").unwrap();
    let mutants = other_numbers(&saddle, from..to);
    assert_eq!(mutants.len(), 2);
    for mutant in mutants {
        assert!(objects(&mutant), "{}", changed(&saddle, &mutant));
    }
    let tern = case_file("tern-harbour");
    let (head, rest) = tern.split_once("[armhole]").unwrap();
    let (_, body) = rest.split_once("[body]").unwrap();
    let lost = "[armhole]\nrows = 56\nbound_off = 6\nseam_stitches = 2\n[body]";
    let seam = format!("{head}{lost}{body}");
    let case = read_case(&seam).0.unwrap();
    let conversion = convert(&case, Some(0)).unwrap();
    let text = conversion_document(&case, &conversion, Reader::Terminal, None).text();
    assert_eq!(knit_file(&text).1, []);
    let at = text.find("at the underarm").expect("the seam is told");
    let from = text[..at].rfind("Of the").unwrap();
    let to = from + text[from..].find("lie").unwrap();
    let mutants = other_numbers(&text, from..to);
    assert!(mutants.len() >= 4);
    for mutant in mutants {
        assert!(objects(&mutant), "{}", changed(&text, &mutant));
    }
}

/// The new cap's stitches, by which the yarn is reckoned: the loops that are worked and those that are picked up.
#[test]
fn the_yarns_stitches_are_those_that_are_worked() {
    for name in ["tern-harbour", "gannet-saddle"] {
        let text = printed(name, Some(0));
        let from = text.find("Yarn: the new cap has").unwrap();
        let to = from + text[from..].find("picked").unwrap();
        let mutants = other_numbers(&text, from..to);
        assert!(mutants.len() >= 4);
        for mutant in mutants {
            assert!(objects(&mutant), "{}", changed(&text, &mutant));
        }
    }
}
