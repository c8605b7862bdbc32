//! The worksheets as HTML: whole, well made, and the same every time.
//!
//! What a browser and a validator say of them is in `tests/browser`.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use capwright::case::{Case, read_case};
use capwright::convert::drift::drift;
use capwright::convert::{Conversion, check, convert};
use capwright::report::{
    MadeFrom, Reader, check_document, conversion_document, exercise_document, lesson_document,
};
use sha2::{Digest as _, Sha256};

/// The names of all cases.
fn cases() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let files = fs::read_dir(folder).unwrap();
    let names = files.map(|file| file.unwrap().file_name().into_string().unwrap());
    let mut cases: Vec<String> = names
        .filter_map(|name| Some(name.strip_suffix(".toml")?.to_owned()))
        .collect();
    cases.sort();
    assert!(cases.len() >= 8, "{cases:?}");
    cases
}

fn text_of(case: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("cases/{case}.toml"));
    fs::read_to_string(path).unwrap()
}

fn converted(text: &str) -> (Case, Conversion) {
    let case = read_case(text).0.unwrap();
    let conversion = convert(&case, None).unwrap();
    (case, conversion)
}

fn worksheet_html(case: &Case, conversion: &Conversion, case_text: &str, version: &str) -> String {
    let made = MadeFrom { case_text, version };
    conversion_document(case, conversion, Reader::Page, Some(made)).html()
}

/// Every page with a name for messages.
fn pages() -> Vec<(String, String)> {
    let worksheets = cases().into_iter().map(|name| {
        let text = text_of(&name);
        let (case, conversion) = converted(&text);
        let page = worksheet_html(&case, &conversion, &text, "0.0.0");
        (name, page)
    });
    let mut pages: Vec<(String, String)> = worksheets.collect();
    let case = read_case(&text_of("saddle-lesson")).0.unwrap();
    let lesson = drift(&case, None).unwrap();
    let (sizes, findings) = check(&case, None).unwrap();
    for (name, document) in [
        ("exercise", exercise_document(&case, &lesson)),
        ("lesson", lesson_document(&case, &lesson, Reader::Page)),
        (
            "check",
            check_document(&case, &sizes, &findings, Reader::Page),
        ),
    ] {
        pages.push((name.to_owned(), document.html()));
    }
    pages
}

/// Start tags: their names and their attributes as written.
fn tags(page: &str) -> Vec<(&str, &str)> {
    let pieces = page.split('<').skip(1);
    let starts = pieces.filter(|piece| piece.starts_with(|c: char| c.is_ascii_alphabetic()));
    starts
        .map(|piece| {
            let tag = piece.split('>').next().unwrap();
            tag.split_once(char::is_whitespace).unwrap_or((tag, ""))
        })
        .collect()
}

/// The value of an attribute.
fn attribute<'a>(attributes: &'a str, name: &str) -> Option<&'a str> {
    let mut pieces = attributes.split('"');
    while let (Some(key), Some(value)) = (pieces.next(), pieces.next()) {
        if key.trim().trim_end_matches('=') == name {
            return Some(value);
        }
    }
    None
}

fn unescaped(text: &str) -> String {
    text.replace('\u{a0}', " ")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&amp;", "&")
}

/// One test for all of it: the pages take longer to make than to look at.
#[test]
fn pages_are_well_made() {
    for (name, page) in pages() {
        links_lead_somewhere(&name, &page);
        heads_and_headings(&name, &page);
        stands_for_itself(&name, &page);
    }
}

fn links_lead_somewhere(name: &str, page: &str) {
    let mut ids = BTreeSet::new();
    let mut wanted = Vec::new();
    for (tag, attributes) in tags(page) {
        if let Some(id) = attribute(attributes, "id") {
            assert!(ids.insert(id), "{name}: {tag} {id} is there twice");
        }
        if let Some(to) = attribute(attributes, "href") {
            wanted.push(to.strip_prefix('#').expect("links stay on the page"));
        }
        if let Some(ids) = attribute(attributes, "aria-labelledby") {
            wanted.extend(ids.split(' '));
        }
    }
    assert!(wanted.len() > 2, "{name}");
    for id in wanted {
        assert!(ids.contains(id), "{name}: nothing is called {id}");
    }
}

/// Heads of tables have a scope, and no level of headings is left out.
fn heads_and_headings(name: &str, page: &str) {
    let mut level = 0;
    for (tag, attributes) in tags(page) {
        if tag == "th" {
            assert!(
                attribute(attributes, "scope").is_some(),
                "{name}: {attributes}"
            );
        }
        if let Some(next) = tag.strip_prefix('h').and_then(|n| n.parse::<u32>().ok()) {
            assert!(next <= level + 1, "{name}: h{next} after h{level}");
            level = next;
        }
    }
    assert_eq!(page.matches("<h1").count(), 1);
    assert!(page.contains("<html lang=\"en\">"));
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let group = |bytes: &[u8]| {
        let byte = |at: usize| u32::from(bytes.get(at).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        let letter = |at: usize| {
            if at <= bytes.len() {
                char::from(LETTERS[(bits >> (18 - 6 * at) & 63) as usize])
            } else {
                '='
            }
        };
        [0, 1, 2, 3].map(letter)
    };
    bytes.chunks(3).flat_map(group).collect()
}

/// One script at the most, which the policy names by its hash (W3C, Content Security Policy Level 3, 2.3.1), and
/// nothing is fetched.
fn stands_for_itself(name: &str, page: &str) {
    assert!(!page.contains("<link"), "{name}");
    let scripts: Vec<&str> = page.split("<script").skip(1).collect();
    match scripts.as_slice() {
        [] => assert!(page.contains("script-src 'none'"), "{name}"),
        [only] => {
            let text = only.strip_prefix('>').unwrap();
            let text = text.split_once("</script>").unwrap().0;
            let hash = base64(&Sha256::digest(text));
            assert!(
                page.contains(&format!("script-src 'sha256-{hash}'")),
                "{name}: {hash}"
            );
            assert!(
                page.contains("<input type=\"checkbox\""),
                "{name}: nothing to keep"
            );
        }
        _ => panic!("{name}: {} scripts", scripts.len()),
    }
    assert!(
        !page.contains("@import") && !page.contains("url(http"),
        "{name}"
    );
    for (tag, attributes) in tags(page) {
        assert!(
            attribute(attributes, "src").is_none(),
            "{name}: {tag} {attributes}"
        );
    }
}

#[test]
fn everything_is_said() {
    for name in &cases() {
        let text = text_of(name);
        let (case, conversion) = converted(&text);
        let page = unescaped(&worksheet_html(&case, &conversion, &text, "7.8.9"));
        assert!(page.contains(text.trim()), "{name}: the case's own text");
        assert!(page.contains("capwright 7.8.9"));
        for size in &conversion.sizes {
            for written in &size.written {
                let steps = written.instructions.sections.iter().flat_map(|s| &s.steps);
                for step in steps {
                    assert!(page.contains(&step.sentence), "{name}: {}", step.sentence);
                }
                for said in written.before.iter().chain(&written.needles) {
                    assert!(page.contains(said), "{name}: {said}");
                }
                for list in &written.lists {
                    assert!(page.contains(&list.sentence()), "{name}");
                }
            }
            for finding in &size.findings {
                assert!(
                    page.contains(&finding.message),
                    "{name}: {}",
                    finding.message
                );
                assert!(page.contains(finding.code.source), "{name}");
            }
        }
        // A box for every row of every sleeve's cap.
        let written = conversion.sizes.iter().flat_map(|size| &size.written);
        let rows: usize = written.map(|written| written.checklist.rows.len()).sum();
        assert_eq!(
            page.matches("<input type=\"checkbox\"").count(),
            rows,
            "{name}"
        );
    }
}

/// Titles and labels of sizes are the user's own words, and stay words.
#[test]
fn words_are_never_taken_for_marks() {
    let text = text_of("saddle-lesson")
        .replace(
            "Oxbow saddle lesson",
            "a<b> & 'c' <script>alert(1)</script>",
        )
        .replace("[\"lesson\"]", "[\"</h2><i>\"]");
    let (case, conversion) = converted(&text);
    let page = worksheet_html(&case, &conversion, &text, "0.0.0");
    // The page's own script is the only one.
    assert_eq!(page.matches("<script>").count(), 1);
    assert!(!page.contains("<script>alert") && !page.contains("<i>"));
    assert!(page.contains("<title>a&lt;b&gt; &amp; 'c' &lt;script&gt;"));
    assert_eq!(page.matches("<h1>").count(), 1);
}

#[test]
fn the_same_bytes_every_time() {
    let page = || {
        let text = text_of("saddle-lesson");
        let (case, conversion) = converted(&text);
        worksheet_html(&case, &conversion, &text, "0.0.0")
    };
    let once = page();
    assert_eq!(once, page());
    assert!(once.ends_with("</html>\n"));
}
