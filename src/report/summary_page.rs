//! A batch as a page: the same table as the text, with links to the worksheets.

use std::fmt::Write as _;

use super::sheet::{STYLE, escape};
use super::summary::CaseSummary;
use super::summary_text::{Batch, cells, failures, headings, headline, legend, looks, units_of};

/// A whole page in HTML, without scripts and without anything from elsewhere.
pub fn summary_page(batch: Batch, cases: &[CaseSummary]) -> String {
    let headline = escape(&headline(batch, cases));
    let units = units_of(cases);
    let title = match batch {
        Batch::Convert => "Converted cases",
        Batch::Check => "Checked cases",
    };
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n\
         <header>\n<h1>{title}</h1>\n<p>{headline}.</p>\n</header>\n<main>\n"
    );
    if cases.iter().any(|case| !case.sizes.is_empty()) {
        let _ = write!(
            out,
            "<h2 id=\"sizes\">Every size</h2>\n\
             <div class=\"wide\" role=\"group\" aria-labelledby=\"sizes\" tabindex=\"0\">\n<table>\n\
             <caption>Lengths in {units}. {}</caption>\n<thead><tr>",
            escape(legend(batch).trim())
        );
        for (heading, left) in headings(batch) {
            let class = if *left { "" } else { " class=\"number\"" };
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
        let cell = escape(cell);
        let _ = match (i, &case.worksheet) {
            (0, Some(path)) => write!(
                out,
                "<th scope=\"row\"><a href=\"{}\">{cell}</a></th>",
                address(path)
            ),
            (0, None) => write!(out, "<th scope=\"row\">{cell}</th>"),
            _ if i == last => write!(out, "<td class=\"words\">{cell}</td>"),
            _ if *left => write!(out, "<td class=\"short\">{cell}</td>"),
            _ => write!(out, "<td class=\"number\">{cell}</td>"),
        };
    }
    out.push_str("</tr>\n");
    out
}

fn list(heading: &str, entries: &[(String, String)]) -> String {
    if entries.is_empty() {
        return String::new();
    }
    let mut out = format!("<h2>{heading}</h2>\n<ul class=\"sentences\">\n");
    for (place, why) in entries {
        let _ = writeln!(out, "<li>{}: {}</li>", escape(place), escape(why));
    }
    out.push_str("</ul>\n");
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
