//! Amended patterns: what is not marked as put in is the print, byte for byte; nothing is sewn that the
//! new sleeve has not; its words knit.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::LazyLock;

use capwright::amend::{Amendment, Piece, amend};
use capwright::case::{read_case, set_key};
use capwright::check::prove_leaflet;
use capwright::convert::convert;
use capwright::leaflet::{Flow, read_flow, read_print};
use capwright::needle::knit_file;
use capwright::report::{amendment_document, amendment_json};

use crate::common::leaflets::patterns;

const SWATCHES: [&str; 4] = [
    "gauge.round.stitches=22",
    "gauge.round.rows=30",
    "gauge.flat.stitches=22",
    "gauge.flat.rows=30",
];

/// The pattern amended with swatches of ours; a sentence where it cannot be.
pub(super) fn amended(text: &str, more: &[&str]) -> Result<Amendment, String> {
    let keys: Vec<&str> = SWATCHES.iter().chain(more).copied().collect();
    amended_at(text, &keys)
}

/// The same with these keys set, and no others.
pub(super) fn amended_at(text: &str, keys: &[&str]) -> Result<Amendment, String> {
    let flow = Flow::of_text(text);
    let mut leaflet = read_flow(&flow);
    prove_leaflet(&mut leaflet);
    let print = read_print(&flow)?;
    let mut case = leaflet.case.clone();
    for key in keys {
        case = set_key(&case, key).unwrap();
    }
    // Where no row gauge is printed the knitter fills in a usual one.
    let value = |key: &str| {
        leaflet
            .fact(key)
            .map_or(String::new(), |fact| fact.value.clone())
    };
    if value("gauge.pattern.rows").is_empty() {
        let stitches = value("gauge.pattern.stitches").parse::<f64>();
        let stitches = stitches.map_err(|_| "no gauge that is read".to_owned())?;
        case = set_key(&case, &format!("gauge.pattern.rows={:.1}", stitches / 0.73)).unwrap();
    }
    let (case, said) = read_case(&case);
    let case =
        case.ok_or_else(|| format!("no case: {:?}", said.first().map(|said| &said.message)))?;
    let conversion = convert(&case, None)
        .map_err(|said| format!("{:?}", said.first().map(|said| &said.message)))?;
    amend((&print, &leaflet), &case, &conversion)
}

pub(super) fn pattern(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/leaflets/{name}.txt"));
    fs::read_to_string(path).unwrap()
}

/// All of our patterns that have a set-in sleeve and can be amended, with their texts: made once, several tests look at them.
static ALL: LazyLock<Vec<(String, String, Amendment)>> = LazyLock::new(|| {
    let patterns = patterns()
        .into_iter()
        .filter(|pattern| !pattern.truth.is_empty());
    let mut out = Vec::new();
    for pattern in patterns {
        // What cannot be amended has tests of its own.
        if let Ok(amendment) = amended(&pattern.text, &[]) {
            out.push((pattern.name, pattern.text, amendment));
        }
    }
    out
});

/// What is left of a text with marks when all that is put in goes.
fn without_new(text: &str) -> String {
    let mut out = String::new();
    let mut pieces = text.split('\u{27e6}');
    out += pieces.next().unwrap();
    for piece in pieces {
        let (marked, after) = piece.split_once('\u{27e7}').unwrap();
        let kind = marked.find(|c: char| !c.is_ascii_digit()).unwrap();
        if let Some(old) = marked[kind..].strip_prefix("\u{2212} ") {
            out += old;
        } else {
            assert!(marked[kind..].starts_with("+ "), "{marked}");
        }
        out += after;
    }
    out
}

/// The same of the page: elements that are put in go, the others lose their tags.
fn without_ins(page: &str) -> String {
    let (_, text) = page.split_once("<div class=\"amended\">").unwrap();
    let (mut text, _) = text.split_once("</div>").unwrap();
    let mut out = String::new();
    while let Some((before, rest)) = text.split_once("<ins") {
        out += before;
        text = rest.split_once("</ins>").unwrap().1;
    }
    out += text;
    let mut plain = String::new();
    for piece in out.split('<') {
        let kept = match piece.split_once('>') {
            Some((tag, text)) if tag.starts_with("del") || tag == "/del" => text,
            _ => piece,
        };
        plain += kept;
    }
    let marks = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&amp;", "&"),
    ];
    marks
        .iter()
        .fold(plain, |text, (mark, letter)| text.replace(mark, letter))
}

#[test]
fn what_is_not_put_in_is_the_print_byte_for_byte() {
    let all = &*ALL;
    assert!(all.len() >= 25, "{}", all.len());
    for (name, text, amendment) in all {
        let kept_and_old: String = amendment
            .pieces()
            .iter()
            .filter_map(|piece| match piece {
                Piece::Kept(text) | Piece::Old(_, text) => Some(*text),
                Piece::New(..) => None,
            })
            .collect();
        assert_eq!(kept_and_old, amendment.print, "{name}");
        // Columns side by side are set under one another first, and the print is then that.
        if !name.contains("columns") {
            assert_eq!(&amendment.print, text, "{name}");
        }
        let document = amendment_document(amendment);
        let written = document.text();
        let (_, marked) = written
            .split_once("The amended pattern\n-------------------\n")
            .unwrap();
        assert_eq!(without_new(marked), amendment.print, "{name}");
        // HTML knows no page ends.
        assert_eq!(
            without_ins(&document.html()),
            amendment.print.replace('\u{c}', ""),
            "{name}"
        );
        // Every change has a reason, and none is empty.
        for change in &amendment.changes {
            assert!(change.reason.ends_with('.'), "{name}: {change:?}");
            assert!(!change.removed.is_empty() || !change.added.is_empty());
        }
    }
}

#[test]
fn with_other_line_ends_and_pages_it_is_the_print_too() {
    let text = pattern("03-cardigan-halves");
    let pages: Vec<String> = text.lines().map(str::to_owned).collect();
    let pages: Vec<String> = pages
        .chunks(16)
        .zip(1..)
        .map(|(lines, page)| format!("Fenland, page {page}\n{}\n{page}\n", lines.join("\n")))
        .collect();
    // Words divided at line ends, and two letters cast as one.
    let divided = text
        .replace("ending with RS", "end-\ning with RS")
        .replace("fi", "\u{fb01}");
    for text in [text.replace('\n', "\r\n"), pages.join("\u{c}"), divided] {
        let amendment = amended(&text, &[]).unwrap();
        assert_eq!(amendment.print, text);
        let written = amendment_document(&amendment).text();
        let (_, marked) = written
            .split_once("The amended pattern\n-------------------\n")
            .unwrap();
        assert_eq!(without_new(marked), text);
        assert!(!amendment.text().contains("Shape top"), "{text}");
        // Running heads are no part of the sleeve and stay.
        for page in 1..=text.matches("Fenland, page").count() {
            assert!(
                amendment
                    .text()
                    .contains(&format!("Fenland, page {page}\n"))
            );
        }
    }
}

/// Nothing that is left or put in sets a sleeve in or closes its seam, unless it is listed.
#[test]
fn no_sleeve_is_sewn_any_more() {
    let sewn = [
        "set in",
        "sew in sleeve",
        "insert sleeve",
        "sleeve seam",
        "into armhole",
        "set sleeves",
        "in the sleeves",
    ];
    for (name, _, amendment) in ALL.iter() {
        let text = amendment.text().to_lowercase();
        let text: Vec<&str> = text.split_whitespace().collect();
        let text = text.join(" ");
        let listed = amendment.decide.join(" ").to_lowercase();
        for words in sewn {
            assert!(
                !text.contains(words) || listed.contains(words),
                "{name}: {words}"
            );
        }
    }
}

/// The new sleeve's words, with the numbers in the usual brackets, are knitted size by size.
#[test]
fn the_new_sleeve_knits() {
    for name in [
        "01-alder-pullover",
        "02-old-jumper",
        "03-cardigan-halves",
        "05-translated-slashes",
        "07-fourteen-sizes",
        "09-alternating-brackets",
        "17-sleeves-first",
    ] {
        let amendment = amended(&pattern(name), &[]).unwrap();
        let text = amendment.text();
        let from = text.find("PICK UP\n").expect(name);
        let lines: Vec<&str> = text[from..]
            .lines()
            .take_while(|line| {
                !line.contains("Cuff, in rounds:")
                    && !line.starts_with("FINISHING")
                    && !line.is_empty()
            })
            // The cuff's needle has the print's name for it.
            .filter(|line| !line.starts_with("Change to "))
            .collect();
        let lines = usual(&with_strokes(&lines), name);
        let (pieces, said) = knit_file(&format!("A SLEEVE\n{lines}\n"));
        let loud: Vec<_> = said
            .iter()
            .filter(|said| said.level > capwright::diagnostic::Level::Note)
            .collect();
        assert!(loud.is_empty(), "{name}: {loud:?}\n{lines}");
        assert!(!pieces.is_empty(), "{name}");
    }
}

/// Names of sizes, listed as the pattern lists its numbers, with strokes between them.
fn with_strokes(lines: &[&str]) -> String {
    let names = |listed: &str| -> String {
        let names = listed.split(['(', ')', '[', ']', ',', ':', ';', '/']);
        let names = names.map(str::trim).filter(|name| !name.is_empty());
        names.collect::<Vec<_>>().join(" / ")
    };
    let line = |line: &&str| {
        let all = line.strip_prefix("The sizes are ");
        if let Some(listed) = all.and_then(|rest| rest.strip_suffix('.')) {
            return format!("The sizes are {}.", names(listed));
        }
        for begin in ["Sizes ", "Size "] {
            let some = line.strip_prefix(begin);
            if let Some((listed, rest)) = some.and_then(|rest| rest.split_once(" only.")) {
                return format!("{begin}{} only.{rest}", names(listed));
            }
        }
        (*line).to_owned()
    };
    lines.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// A digit, or the dash of a size that has nothing there.
fn in_list(letter: char) -> bool {
    letter.is_ascii_digit() || letter == '\u{2013}'
}

/// Lists in other brackets as the needle reads them.
fn usual(text: &str, name: &str) -> String {
    let mut out = String::new();
    let letters: Vec<char> = text.chars().collect();
    let digit = |at: usize| letters.get(at).is_some_and(|c| in_list(*c));
    let mut at = 0;
    let mut open = false;
    while at < letters.len() {
        let letter = letters[at];
        let before_digit = digit(at + 1);
        match letter {
            '[' if before_digit
                && (out.ends_with(' ') && out.trim_end().ends_with(|c| in_list(c) || c == ')'))
                && name != "01-alder-pullover" =>
            {
                out.push('(');
                open = true;
            }
            ']' if open => {
                out.push(')');
                open = false;
            }
            ':' if open => {
                out += ", ";
                if letters.get(at + 1) == Some(&' ') {
                    at += 1;
                }
            }
            _ => out.push(letter),
        }
        at += 1;
    }
    if name.contains("slashes") {
        out = slashed(&out);
    }
    // Several pairs of brackets are one list.
    let mut pieces = out.split(") (").peekable();
    let mut joined = String::new();
    while let Some(piece) = pieces.next() {
        joined += piece;
        let number = |text: Option<char>| text.is_some_and(in_list);
        if let Some(next) = pieces.peek() {
            let list = number(piece.chars().next_back()) && number(next.chars().next());
            joined += if list { ", " } else { ") (" };
        }
    }
    joined
}

/// `4/4/5` as `4 (4, 5)`.
fn slashed(text: &str) -> String {
    let list = |word: &str| {
        let numbers: Vec<&str> = word.split('/').collect();
        let plain = numbers.len() > 1
            && numbers
                .iter()
                .all(|n| !n.is_empty() && n.chars().all(in_list));
        plain.then(|| format!("{} ({})", numbers[0], numbers[1..].join(", ")))
    };
    let part = |word: &str| {
        let start = word.find(in_list).unwrap_or(word.len());
        let end = word
            .char_indices()
            .rfind(|(_, c)| in_list(*c))
            .map_or(start, |(at, c)| at + c.len_utf8());
        let middle = list(&word[start..end]).unwrap_or_else(|| word[start..end].to_owned());
        format!("{}{middle}{}", &word[..start], &word[end..])
    };
    let lines = text
        .lines()
        .map(|line| line.split(' ').map(part).collect::<Vec<_>>().join(" "));
    lines.collect::<Vec<_>>().join("\n")
}

/// Written by hand from the prints: what the making up says afterwards, and what stands before the sleeves.
#[test]
fn the_making_up_says_what_is_left() {
    for (name, left, before) in [
        (
            "01-alder-pullover",
            "FINISHING\n\nNECKBAND: With RS",
            "Sew shoulder seams. Sew side seams.",
        ),
        (
            "02-old-jumper",
            "TO MAKE UP.—Press work lightly.",
            "Sew shoulder and side seams.",
        ),
        (
            "06-row-by-row",
            "Weave in ends.",
            "Sew shoulders. Join side seams.",
        ),
        (
            "07-fourteen-sizes",
            "Block pieces.",
            "Sew shoulders. Sew sides.",
        ),
        (
            "08-child-run-in",
            "Finishing:",
            "Sew shoulder and side seams.",
        ),
        ("13-magazine", "Press.", "Join shoulder and side seams."),
        (
            "16-no-counts",
            "FINISHING:",
            "Join shoulder seams. Join side seams.",
        ),
    ] {
        let text = amended(&pattern(name), &[]).unwrap().text();
        assert!(
            text.contains(left),
            "{name}: {}",
            &text[text.len().saturating_sub(300)..]
        );
        assert!(text.contains(before), "{name}: {text}");
    }
}

/// A sentence that takes up fullness at the top does not go without a word; nor is a doubt listed that was answered.
#[test]
fn fullness_that_goes_is_named() {
    let print = pattern("01-alder-pullover");
    let full = print.replace(
        "Set in sleeves.",
        "Set in sleeves, pleating the fulness at the top.",
    );
    assert_ne!(full, print);
    let decide = |text: &str| amended(text, &[]).unwrap().decide.join("\n");
    assert!(
        decide(&full).contains("pleating the fulness at the top\" goes"),
        "{}",
        decide(&full)
    );
    assert!(!decide(&print).contains("goes, and with it the fullness"));
}

/// `Sleeve seam, 18 inches` is no seam any more; a cap that is made wider changes the printed arm.
#[test]
fn printed_lengths_are_brought_into_line() {
    let text = pattern("02-old-jumper");
    let changed = amended(&text, &[]).unwrap().text();
    assert!(
        changed.contains("Sleeve to underarm, 18 inches."),
        "{changed}"
    );
    // Abbreviations beside their word end with their line.
    assert!(
        changed.contains("ins. = inches. k2tog: knit 2 together;"),
        "{changed}"
    );
    let text = pattern("13-magazine");
    let changed = amended(&text, &[]).unwrap().text();
    assert!(
        changed.contains("Length of sleeve to underarm: 43 [44: 45] cm"),
        "{changed}"
    );
    // 22 stitches in 4 in: 66 less two for the seam are 11.6 in, nothing like 20.
    let wide = pattern("01-alder-pullover").replace(
        "Finished bust:",
        "Upper arm: 20 (21, 22, 23) in\nFinished bust:",
    );
    let changed = amended(&wide, &[]).unwrap().text();
    let line = changed
        .lines()
        .find(|line| line.starts_with("Upper arm:"))
        .unwrap();
    assert!(!line.contains("20 ("), "{line}");
}

#[test]
fn what_does_not_belong_together_is_refused() {
    let alder = pattern("01-alder-pullover");
    let flow = Flow::of_text(&alder);
    let leaflet = read_flow(&flow);
    let print = read_print(&flow).unwrap();
    let (case, _) = read_case(
        &fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("cases/tern-harbour.toml"))
            .unwrap(),
    );
    let case = case.unwrap();
    let conversion = convert(&case, None).unwrap();
    let refused = amend((&print, &leaflet), &case, &conversion).unwrap_err();
    assert!(refused.contains("4 sizes"), "{refused}");
    // Two sleeves with a cap each, a sleeve under no heading, a raglan.
    let (head, sleeve) = alder.split_at(alder.find("SLEEVES\n").unwrap());
    let twice = format!("{head}LEFT {sleeve}").replacen(
        "FINISHING",
        &format!("RIGHT {}", &sleeve[..sleeve.find("FINISHING").unwrap()]),
        1,
    );
    let twice = format!("{twice}\nFINISHING\nSet in sleeves.\n");
    assert!(
        read_print(&Flow::of_text(&twice))
            .unwrap_err()
            .contains("Two sleeves")
    );
    let bare = alder
        .replace("SLEEVES\n", "")
        .replace("BACK\n", "")
        .replace("FRONT\n", "");
    assert!(
        read_print(&Flow::of_text(&bare))
            .unwrap_err()
            .contains("heading")
    );
    assert!(
        read_print(&Flow::of_text(&pattern("40-raglan")))
            .unwrap_err()
            .contains("raglan")
    );
}

#[test]
fn json_gives_the_bytes_of_every_change() {
    let text = pattern("03-cardigan-halves");
    let json = amendment_json(&amended(&text, &[]).unwrap());
    for change in json["changes"].as_array().unwrap() {
        for removed in change["removed"].as_array().unwrap() {
            let (from, to) = (
                removed["from"].as_u64().unwrap(),
                removed["to"].as_u64().unwrap(),
            );
            assert_eq!(removed["text"], text[from as usize..to as usize]);
        }
    }
    assert!(json["rights"].as_str().unwrap().contains("rights"));
    assert!(json["amended"].as_str().unwrap().contains("SHORT ROWS"));
}

fn command(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(folder)
        .output()
        .unwrap()
}

#[test]
fn from_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let text = pattern("01-alder-pullover");
    fs::write(folder.path().join("alder.txt"), &text).unwrap();
    let mut new = vec!["new", "alder.toml", "--from", "alder.txt"];
    new.extend(SWATCHES.iter().flat_map(|key| ["--set", key]));
    assert!(
        command(folder.path(), &new)
            .status
            .code()
            .is_some_and(|code| code < 2)
    );
    let done = command(
        folder.path(),
        &[
            "amend",
            "alder.txt",
            "alder.toml",
            "-o",
            "new.txt",
            "-o",
            "new.html",
            "-o",
            "new.json",
        ],
    );
    assert_eq!(
        done.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    let written = fs::read_to_string(folder.path().join("new.txt")).unwrap();
    let (_, marked) = written
        .split_once("The amended pattern\n-------------------\n")
        .unwrap();
    assert_eq!(without_new(marked), text);
    assert!(
        fs::read_to_string(folder.path().join("new.html"))
            .unwrap()
            .contains("<ins ")
    );
    let plain = command(
        folder.path(),
        &["amend", "alder.txt", "alder.toml", "--unmarked"],
    );
    assert!(String::from_utf8_lossy(&plain.stdout).starts_with("ALDER PULLOVER\n"));
    assert!(!String::from_utf8_lossy(&plain.stdout).contains('\u{27e6}'));
    // The pattern itself is never written over.
    let over = command(
        folder.path(),
        &["amend", "alder.txt", "alder.toml", "-o", "alder.txt"],
    );
    assert_eq!(over.status.code(), Some(2));
    assert_eq!(
        fs::read_to_string(folder.path().join("alder.txt")).unwrap(),
        text
    );
    let none = command(folder.path(), &["amend", "nothing.txt", "alder.toml"]);
    assert_eq!(none.status.code(), Some(2));
}
