//! A set in pattern: the one text of all sizes is knitted back, and what is knitted in each size is the pattern as it
//! lies there.

use crate::common::figures::case_file;
use capwright::case::read_case;
use capwright::convert::{Conversion, convert};
use capwright::needle::{knit_file, prove_pattern};
use capwright::report::{Reader, together_document};

/// A texture that is not the same in a mirror, and a cable over the middle of the crown.
const TEXTURE: &str = r#"
[stitch]
rows = """
kkkkkk
kkpppk
kkkppk
kkkkpk
"""
legend = { L = "2/2 left" }

[stitch.panels.cable]
at = "crown"
rows = """
pkkkkp
pLLLLp
pkkkkp
pkkkkp
"""
"#;

/// A case of ours in pattern, and the text of all its sizes.
fn set(name: &str, stitch: &str) -> (Conversion, String) {
    let text = case_file(name);
    let stripes = text.find("# Four rows and two").unwrap_or(text.len());
    let (text, said) = read_case(&(text[..stripes].to_owned() + stitch));
    let case = text.unwrap_or_else(|| panic!("{said:?}"));
    let conversion = convert(&case, None).unwrap();
    let text = together_document(&case, &conversion, Reader::Terminal).text();
    (conversion, text)
}

/// The layout is held against a plane cut by hand in `stitch::weaver`; here the text says it in every size.
#[test]
fn every_size_is_knitted_back_from_one_text() {
    let rib = "\n[stitch]\nground = \"2x2 rib\"\n";
    let moss = "\n[stitch]\nground = \"moss\"\n";
    let sets = [
        ("skua-stripes", TEXTURE),
        ("skua-stripes", rib),
        ("quillam-cardigan", moss),
        ("quillam-cardigan", TEXTURE),
        ("dunlin-texture", ""),
        ("gannet-saddle", ""),
    ];
    for (name, stitch) in sets {
        let (conversion, text) = set(name, stitch);
        let (pieces, said) = knit_file(&text);
        assert_eq!(said, [], "{name}: {text}");
        let sizes = conversion.sizes.len();
        assert_eq!(pieces.len() % sizes, 0);
        for (i, piece) in pieces.iter().enumerate() {
            let size = &conversion.sizes[i % sizes];
            let written = size.written.get(i / sizes).or(size.written.first());
            let pattern = written.unwrap().pattern.as_ref().unwrap();
            assert!(
                piece
                    .size
                    .as_ref()
                    .is_none_or(|name| *name == size.old.size)
            );
            assert_eq!(prove_pattern(&pattern.layout, &piece.knitted), [], "{name}");
        }
    }
}

/// Each size has its own stitch to begin with, in the place of its number in every list.
#[test]
fn the_stitches_a_row_begins_with_stand_in_lists() {
    let (conversion, text) = set("skua-stripes", TEXTURE);
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let of = |size: usize| {
        let written = &conversion.sizes[size].written[0];
        written.pattern.as_ref().unwrap().layout.rows()
    };
    let rows = [0, 1, 2].map(of);
    let list = |numbers: [u32; 3]| match numbers {
        [a, b, c] if a == b && b == c => a.to_string(),
        [a, b, c] => format!("{a} ({b}, {c})"),
    };
    for (i, number) in (1..=20).enumerate() {
        let side = if number % 2 == 1 { "RS" } else { "WS" };
        let ends = [0, 1, 2].map(|size| (rows[size][i].first, rows[size][i].last));
        let counts = [0, 1, 2].map(|size| rows[size][i].cells.len() as u32);
        let said = format!(
            "from st {} to st {}, {} sts.",
            list(ends.map(|end| end.0)),
            list(ends.map(|end| end.1)),
            list(counts)
        );
        let row = one_line.find(&format!("Row {number} ({side}): row "));
        let row = &one_line[row.unwrap_or_else(|| panic!("row {number}: {text}"))..];
        assert!(row[..160].contains(&said), "{said}: {}", &row[..160]);
    }
    // Stitches made between flank and base lie in columns of their own: the base goes on after them.
    for size in &conversion.sizes {
        let layout = &size.written[0].pattern.as_ref().unwrap().layout;
        let (rows, columns) = (layout.rows(), layout.columns());
        let joins = rows.len() - 2;
        let (own, base) = columns[joins].split_at(columns[joins].len() - rows[joins].new as usize);
        let number = |column: Option<&i64>| layout.number(*column.unwrap());
        let said = format!(
            "to st {}, {} sts, then on the base from st {} to st {}, {} sts.",
            number(own.last()),
            own.len(),
            number(base.first()),
            number(base.last()),
            base.len()
        );
        assert!(one_line.contains(&said), "{said}: {text}");
    }
}

/// Any single number that is changed among the rows in pattern is noticed in some size.
#[test]
fn every_changed_number_is_objected_to() {
    let (_, text) = set("skua-stripes", TEXTURE);
    let from = text.find("ROWS IN PATTERN").unwrap();
    let to = text.find("HOW IT WAS WORKED OUT").unwrap();
    assert_eq!(text.matches("ROWS IN PATTERN").count(), 1);
    let mut at = from;
    let mut changed = 0;
    while let Some(found) = text[at..to].find(|c: char| c.is_ascii_digit()) {
        let start = at + found;
        let digits = text[start..to].bytes().take_while(u8::is_ascii_digit);
        let end = start + digits.count();
        let number: u32 = text[start..end].parse().unwrap();
        let other = format!("{}{}{}", &text[..start], number + 1, &text[end..]);
        let (_, said) = knit_file(&other);
        let around = &text[text.floor_char_boundary(start.saturating_sub(60))..end];
        assert!(!said.is_empty(), "unnoticed: {around} -> {}", number + 1);
        changed += 1;
        at = end;
    }
    assert!(changed > 200, "{changed}");
}

/// The stripes of every size stand in the set: the colours, what is picked up in, the yarn of each.
#[test]
fn a_set_has_its_stripes() {
    let (text, _) = read_case(&case_file("skua-stripes"));
    let case = text.unwrap();
    let conversion = convert(&case, None).unwrap();
    let text = together_document(&case, &conversion, Reader::Terminal).text();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let striped = case.stripes.as_ref().unwrap();
    for stripe in &striped.sleeve.stripes {
        let told = format!("of {}", stripe.colour);
        assert!(text.contains(&told), "{told}: {text}");
    }
    assert!(text.contains("row 1 of the cap is"), "{text}");
    for size in &conversion.sizes {
        for (_, stitches) in &size.stripes.as_ref().unwrap().yarn {
            assert!(text.contains(&stitches.to_string()), "{stitches}");
        }
    }
}

/// The pattern in the tubes of a set: every size's own rounds and counts, listed; two stitches fewer from one to the next.
#[test]
fn a_set_has_the_pattern_in_its_tubes() {
    let (conversion, text) = set("quillam-cardigan", "\n[stitch]\nground = \"2x2 rib\"\n");
    let part = text
        .split("THE PATTERN IN THE TUBE")
        .nth(1)
        .unwrap_or_else(|| panic!("{text}"));
    let part = part.split_whitespace().collect::<Vec<_>>().join(" ");
    let most = conversion.sizes.iter().map(|size| {
        let tube = size.tube.as_ref().unwrap();
        let at = |i: usize| {
            let round = tube.decrease_rounds[i];
            (round, tube.stitches_after(round).count())
        };
        for i in [0, tube.decrease_rounds.len() - 1] {
            let (round, stitches) = at(i);
            assert_eq!(stitches, tube.upper_arm.count() - 2 * (i as u32 + 1));
            assert!(part.contains(&round.to_string()) && part.contains(&stitches.to_string()));
        }
        tube.decrease_rounds.len()
    });
    assert!(most.max().unwrap() > 0);
}

/// A sentence that only some sizes have moves none of the others out of its place: panels at the markers of the crown.
#[test]
fn the_head_of_a_set_is_one_list_of_sentences() {
    let panels = r#"
[stitch]
ground = "moss"

[stitch.panels.side]
rows = """
kp
kp
"""
from_centre = 4
"#;
    let (_, text) = set("skua-stripes", panels);
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(one_line.matches("Round 1 is row").count(), 1, "{text}");
    let (panel, round) = (
        one_line.rfind("Panel \"side\"").unwrap(),
        one_line.find("Round 1 is row").unwrap(),
    );
    assert!(panel < round);
    assert!(!one_line.contains("Size S: Round 1"), "{text}");
    assert_eq!(knit_file(&text).1, [], "{text}");
}
