//! All sizes in one text as the command prints it: it knits back, and hardly a sentence is for some sizes only.

use std::fs;
use std::path::Path;

use capwright::case::read_case;
use capwright::convert::convert;
use capwright::needle::knit_file;
use capwright::report::{Reader, together_document};

fn together(path: &str) -> (usize, String) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let case = read_case(&fs::read_to_string(path).unwrap()).0.unwrap();
    let case = case.for_one_text();
    let conversion = convert(&case, None).unwrap();
    let text = together_document(&case, &conversion, Reader::Terminal).text();
    (case.sizes.len(), text)
}

/// How many sentences of the pattern are for some sizes only, and of how many.
fn for_some_sizes(text: &str) -> (usize, usize) {
    let pattern = text.split("\nThe pattern\n").nth(1).unwrap();
    let pattern = pattern.split("\nHOW IT WAS").next().unwrap();
    let (mut some, mut all, mut only) = (0, 0, false);
    for line in pattern.lines().filter(|line| !line.starts_with("   ")) {
        let Some(sentence) = line.strip_prefix("  ") else {
            only = false;
            continue;
        };
        only = match sentence {
            _ if sentence.starts_with("Size") => true,
            _ if sentence.starts_with("All sizes.") => false,
            _ => only,
        };
        all += 1;
        some += usize::from(only);
    }
    (some, all)
}

/// The needle's own count; the second sleeve is read from what it says of the first.
#[test]
fn ten_sizes_in_one_text() {
    let (sizes, text) = together("cases/quillam-cardigan.toml");
    let (pieces, said) = knit_file(&text);
    assert_eq!(said, []);
    assert_eq!(pieces.len(), 2 * sizes);
    assert!(text.contains("As for the left sleeve."));
    // One sentence in five is allowed; with the same runs in all sizes there is none.
    assert!(!text.contains(" only."), "{text}");
    assert!(text.contains("The same runs in all sizes"));
    for (left, right) in pieces.iter().zip(pieces.iter().skip(sizes)) {
        assert_eq!(left.size, right.size);
        assert_eq!(left.knitted.upper_arm, right.knitted.upper_arm);
        assert_eq!(left.knitted.rounds, right.knitted.rounds);
    }
}

/// A changed number in a section that both sleeves share is found in both, at its place.
#[test]
fn what_the_second_sleeve_takes_from_the_first_is_checked() {
    let (sizes, text) = together("cases/quillam-cardigan.toml");
    let shared = "Row 2 (WS): p16";
    assert_eq!(text.matches(shared).count(), 1);
    let (_, said) = knit_file(&text.replace(shared, "Row 2 (WS): p13"));
    let at = text.find(shared).unwrap();
    let there = said.iter().filter(|d| {
        d.span
            .is_some_and(|span| span.from <= at + 20 && at <= span.to)
    });
    assert!(there.count() >= 2, "{said:#?}");
    assert!(sizes == 10);
}

#[test]
fn twelve_sizes_in_one_text() {
    let (sizes, text) = together("tests/data/check/twelve.toml");
    // An editor's rule: one sentence in five for some sizes only.
    let (some, all) = for_some_sizes(&text);
    assert!(some * 5 <= all, "{some} of {all}: {text}");
    let (pieces, said) = knit_file(&text);
    assert_eq!(said, []);
    assert_eq!(pieces.len(), sizes);
}

/// The rows to be counted before the yarn is joined are held against what is picked up in each size: any of their
/// numbers, changed by one, is objected to; where they are lists, and where a sentence is for some sizes.
#[test]
fn every_number_of_the_rows_to_count_is_read() {
    let (_, ten) = together("cases/quillam-cardigan.toml");
    let (_, three) = together("cases/skua-stripes.toml");
    let for_some = told_by_size(&three, &["Size S", "Sizes M / L"]);
    assert_ne!(three, for_some);
    for text in [&ten, &three, &for_some] {
        assert_eq!(knit_file(text).1, []);
        let (from, to) = rows_to_count(text);
        let mut at = from;
        let mut changed = 0;
        while let Some(found) = text[at..to].find(|c: char| c.is_ascii_digit()) {
            let start = at + found;
            let digits = text[start..to].bytes().take_while(u8::is_ascii_digit);
            at = start + digits.count();
            let number: u32 = text[start..at].parse().unwrap();
            let other = format!("{}{}{}", &text[..start], number + 1, &text[at..]);
            assert!(!knit_file(&other).1.is_empty(), "{}", &text[from..at]);
            changed += 1;
        }
        assert!(changed >= 18, "{changed}");
    }
}

fn rows_to_count(text: &str) -> (usize, usize) {
    let from = text.find("Count the rows along each side").unwrap();
    let length = text[from..].find("When a count differs").unwrap();
    (from, text[..from + length].rfind('.').unwrap() + 1)
}

/// The same with a sentence for the first size and one for the others.
fn told_by_size(text: &str, labels: &[&str; 2]) -> String {
    let (from, to) = rows_to_count(text);
    let list = regex::Regex::new(r"(\d+)\s+\((\d+),\s+(\d+)\)").unwrap();
    let words = &text[from..to];
    let [first, others] = ["$1", "$2 ($3)"].map(|kept| list.replace_all(words, kept));
    let both = format!("{}: {first}\n  {}: {others}", labels[0], labels[1]);
    format!("{}{both}{}", &text[..from], &text[to..])
}
