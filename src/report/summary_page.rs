//! A batch as a page: the same table as the text, with links to the worksheets.

use std::fmt::Write as _;

use super::summary::CaseSummary;
use super::summary_text::{Batch, cells, failures, headings, headline, legend, looks, units_of};

const STYLE: &str = "
:root { color-scheme: light dark; --paper: #fbfaf7; --ink: #23272b; --line: #c9c5bb; --link: #1d4f73; --band: #f1eee7 }
@media (prefers-color-scheme: dark) { :root { --paper: #1d2023; --ink: #e9e6df; --line: #4d5155; --link: #9cc7e6; --band: #26292d } }
body { margin: 0 auto; max-width: 75rem; padding: 1rem; background: var(--paper); color: var(--ink); font: 1rem/1.5 system-ui, sans-serif }
a { color: var(--link) }
.scroll { overflow-x: auto }
.scroll:focus-visible { outline: 2px solid var(--link) }
table { border-collapse: collapse; font-variant-numeric: tabular-nums }
caption { text-align: left; padding: .5rem 0 }
th, td { padding: .25rem .6rem; border-bottom: 1px solid var(--line); text-align: right; white-space: nowrap }
th.words, td.words { text-align: left }
td.wide { white-space: normal; min-width: 14rem }
tbody tr:nth-child(even) { background: var(--band) }
@media print { a { color: inherit; text-decoration: none } body { max-width: none } td.wide { min-width: 0 } }
";

/// A whole page in HTML, without scripts and without anything from elsewhere.
pub fn summary_page(batch: Batch, cases: &[CaseSummary]) -> String {
    let headline = escaped(&headline(batch, cases));
    let units = units_of(cases);
    let title = match batch {
        Batch::Convert => "Converted cases",
        Batch::Check => "Checked cases",
    };
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n\
         <h1>{title}</h1>\n<p>{headline}.</p>\n"
    );
    if cases.iter().any(|case| !case.sizes.is_empty()) {
        let _ = write!(
            out,
            "<h2 id=\"sizes\">Every size</h2>\n\
             <div class=\"scroll\" role=\"region\" aria-labelledby=\"sizes\" tabindex=\"0\">\n<table>\n\
             <caption>Lengths in {units}. {}</caption>\n<thead><tr>",
            escaped(legend(batch).trim())
        );
        for (heading, left) in headings(batch) {
            let class = if *left { " class=\"words\"" } else { "" };
            let _ = write!(out, "<th scope=\"col\"{class}>{heading}</th>");
        }
        out.push_str("</tr></thead>\n<tbody>\n");
        for case in cases {
            for size in &case.sizes {
                let cells = cells(batch, units, &case.case, size);
                out.push_str(&row(batch, case, &cells));
            }
        }
        out.push_str("</tbody>\n</table>\n</div>\n");
    }
    out.push_str(&list("Need a look", &looks(cases)));
    out.push_str(&list("Failed", &failures(cases)));
    out.push_str("</main>\n</body>\n</html>\n");
    out
}

fn row(batch: Batch, case: &CaseSummary, cells: &[String]) -> String {
    let mut out = "<tr>".to_owned();
    let last = cells.len().saturating_sub(1);
    for (i, (cell, (_, left))) in cells.iter().zip(headings(batch)).enumerate() {
        let cell = escaped(cell);
        let _ = match (i, &case.worksheet) {
            (0, Some(path)) => write!(
                out,
                "<th scope=\"row\" class=\"words\"><a href=\"{}\">{cell}</a></th>",
                address(path)
            ),
            (0, None) => write!(out, "<th scope=\"row\" class=\"words\">{cell}</th>"),
            _ if i == last => write!(out, "<td class=\"words wide\">{cell}</td>"),
            _ if *left => write!(out, "<td class=\"words\">{cell}</td>"),
            _ => write!(out, "<td>{cell}</td>"),
        };
    }
    out.push_str("</tr>\n");
    out
}

fn list(heading: &str, entries: &[(String, String)]) -> String {
    if entries.is_empty() {
        return String::new();
    }
    let mut out = format!("<h2>{heading}</h2>\n<ul>\n");
    for (place, why) in entries {
        let _ = writeln!(out, "<li>{}: {}</li>", escaped(place), escaped(why));
    }
    out.push_str("</ul>\n");
    out
}

/// Text for an element or an attribute. Control characters, which HTML does not allow, are left
/// out.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            letter if letter.is_control() => out.push(' '),
            letter => out.push(letter),
        }
    }
    out
}

/// A relative path as an address: what RFC 3986 does not allow in a path is percent-encoded.
fn address(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_cannot_break_the_page() {
        let mut case = CaseSummary::failed("a<b> & \"c\"", None, Vec::new());
        case.worksheet = Some("worksheets/a<b> & \"c\" 100%.txt".to_owned());
        case.sizes.push(super::super::SizeSummary {
            size: "<S>".to_owned(),
            done: true,
            ..Default::default()
        });
        let page = summary_page(Batch::Convert, &[case]);
        assert!(!page.contains("<b>") && !page.contains("<S>"));
        // RFC 3986, section 2.1: space 20, percent 25, quote 22, less 3C, greater 3E, and 26.
        assert!(page.contains("href=\"worksheets/a%3Cb%3E%20%26%20%22c%22%20100%25.txt\""));
        assert!(page.contains(">a&lt;b&gt; &amp; &quot;c&quot;</a>"));
    }
}
