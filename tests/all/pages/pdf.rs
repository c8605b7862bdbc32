//! The pages as PDF. Their text is read back by another program in `tests/browser/pdf.check.mjs`.
#![cfg(feature = "pdf")]

use std::fs;
use std::path::Path;

use capwright::case::read_case;
use capwright::convert::convert;
use capwright::convert::drift::drift;
use capwright::report::{
    MadeFrom, Paper, Reader, conversion_document, exercise_document, together_document,
};

fn text_of(case: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("cases/{case}.toml"));
    fs::read_to_string(path).unwrap()
}

fn worksheet(text: &str, paper: Paper) -> Vec<u8> {
    let case = read_case(text).0.unwrap();
    let conversion = convert(&case, None).unwrap();
    let made = MadeFrom {
        case_text: text,
        version: "0.0.0",
    };
    let document = conversion_document(&case, &conversion, Reader::Paper, Some(made));
    document.pdf(paper).unwrap()
}

fn contains(bytes: &[u8], words: &str) -> bool {
    bytes
        .windows(words.len())
        .any(|window| window == words.as_bytes())
}

/// ISO 32000-1, 7.5.2 and 7.5.5: how a file begins and ends.
#[test]
fn it_is_a_pdf_and_the_same_bytes_every_time() {
    let text = text_of("tern-harbour");
    let once = worksheet(&text, Paper::A4);
    assert!(once.starts_with(b"%PDF-1."));
    assert!(once.trim_ascii_end().ends_with(b"%%EOF"));
    assert_eq!(once, worksheet(&text, Paper::A4));
    assert_ne!(once, worksheet(&text, Paper::Letter));
}

#[test]
fn the_exercise_is_the_same_every_time() {
    let case = read_case(&text_of("saddle-lesson")).0.unwrap();
    let lesson = drift(&case, None).unwrap();
    let sheet = || {
        exercise_document(&case, &lesson)
            .pdf(Paper::Letter)
            .unwrap()
    };
    assert_eq!(sheet(), sheet());
}

/// Words that are marks elsewhere, letters that the font lacks, a word wider than the page.
#[test]
fn any_title_makes_a_pdf() {
    let long = "m".repeat(150);
    for title in [
        "a<b> & 'c' (d) \\\\ e",
        "\u{7de8}\u{307f}\u{7269} \u{1f9f6} e\u{301}",
        &long,
    ] {
        let text = text_of("tern-harbour").replace("Tern Harbour pullover", title);
        let made = worksheet(&text, Paper::A4);
        assert!(made.starts_with(b"%PDF-1."), "{title}");
        assert!(contains(&made, "/Lang"), "tagged with its language");
    }
}

/// Pages as another program's parser counts them.
#[cfg(feature = "leaflet-pdf")]
fn pages(pdf: Vec<u8>) -> usize {
    hayro_syntax::Pdf::new(pdf).unwrap().pages().len()
}

/// The brief of these pages: a single size is four pages at the most. Letter is 18 mm shorter than A4, and the case with an
/// adapted cap goes on to a fifth page there.
#[cfg(feature = "leaflet-pdf")]
#[test]
fn a_single_size_has_four_pages() {
    let single = |text: &str, size: Option<&str>| {
        let case = read_case(text).0.unwrap();
        let at = size.map(|size| case.sizes.iter().position(|name| name == size).unwrap());
        let conversion = convert(&case, at).unwrap();
        let document = conversion_document(&case, &conversion, Reader::Paper, None);
        [Paper::A4, Paper::Letter].map(|paper| pages(document.pdf(paper).unwrap()))
    };
    for case in [
        "tern-harbour",
        "saddle-lesson",
        "tern-wider-arm",
        "heron-topdown",
    ] {
        let found = single(&text_of(case), None);
        assert!(found[0] <= 4 && found[1] <= 5, "{case}: {found:?}");
    }
    for size in ["81 cm", "91 cm", "127 cm"] {
        let found = single(&text_of("quillam-cardigan"), Some(size));
        assert!(found[0] <= 4 && found[1] <= 5, "{size}: {found:?}");
    }
}

/// The same for sets: all ten sizes in one text on three pages, and a booklet of twelve under forty.
#[cfg(feature = "leaflet-pdf")]
#[test]
fn sets_have_few_pages() {
    let quillam = text_of("quillam-cardigan");
    let case = read_case(&quillam).0.unwrap().for_one_text();
    let conversion = convert(&case, None).unwrap();
    let together = together_document(&case, &conversion, Reader::Paper);
    let found = pages(together.pdf(Paper::A4).unwrap());
    assert!(found <= 3, "together: {found}");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/check/twelve.toml");
    let case = read_case(&fs::read_to_string(path).unwrap()).0.unwrap();
    let conversion = convert(&case, None).unwrap();
    let booklet = conversion_document(&case, &conversion, Reader::Paper, None);
    let found = pages(booklet.pdf(Paper::A4).unwrap());
    assert!(found < 40, "booklet: {found}");
    let case = case.for_one_text();
    let conversion = convert(&case, None).unwrap();
    let together = together_document(&case, &conversion, Reader::Paper);
    let found = pages(together.pdf(Paper::A4).unwrap());
    assert!(found <= 3, "together: {found}");
}
