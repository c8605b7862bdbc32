//! A document as one HTML page: nothing fetched, styles for screen, dark screen and print. A page with boxes has a few
//! lines of script that keep its ticks; all else needs none.

use std::fmt::Write as _;

use crate::report::document::{
    Amended, Block, Changed, Chapter, ColumnKind, Document, FindingBlock, Heading, TableBlock,
    TableColumn, bound,
};
use crate::report::figure::Figure;

const STYLE: &str = include_str!("page.css");
/// Keeps the ticks of a page; the policy lets this text run and no other.
const TICKS: &str = include_str!("ticks.js");
/// SHA-256 of it, in base64: `openssl dgst -sha256 -binary src/report/render/ticks.js | base64`.
const TICKS_HASH: &str = "rtFMvRA0vhi3k1uFhKFJFYfFUofglXRTNIn66j8RZh0=";

/// Text as HTML has it. Control characters, which HTML does not know, are left out.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' => out.push(letter),
            _ if letter.is_control() => {}
            _ => out.push(letter),
        }
    }
    out
}

/// The whole page.
pub(super) fn html(document: &Document) -> String {
    let title = escape(&document.title);
    let mut out =
        String::from("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    let ticked = has_boxes(document);
    let script = if ticked {
        format!("'sha256-{TICKS_HASH}'")
    } else {
        "'none'".to_owned()
    };
    let _ = writeln!(
        out,
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src {script}\">"
    );
    out.push_str("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    let _ = writeln!(
        out,
        "<title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>"
    );
    let _ = writeln!(
        out,
        "<header>\n<h1>{title}</h1>\n<p>{}</p>\n</header>",
        escape(&document.subtitle)
    );
    contents(&mut out, &document.parts);
    let mut main = String::new();
    for part in &document.parts {
        self::part(&mut main, part);
    }
    let kept = if ticked {
        format!(" data-ticks=\"{:016x}\"", fnv(&main))
    } else {
        String::new()
    };
    let _ = writeln!(
        out,
        "<main{kept}>\n{main}</main>\n<footer><p>{}</p></footer>",
        escape(&document.foot)
    );
    if ticked {
        let _ = writeln!(out, "<script>{TICKS}</script>");
    }
    out.push_str("</body>\n</html>\n");
    out
}

fn has_boxes(document: &Document) -> bool {
    let blocks = document.parts.iter().flat_map(|part| &part.blocks);
    let mut tables = blocks.filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    tables.any(|table| !table.boxes.is_empty())
}

/// FNV-1a, 64 bits (Fowler, Noll and Vo; from memory): names what stands on a page, and guards nothing.
fn fnv(text: &str) -> u64 {
    let mix = |hash: u64, byte: u8| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    text.bytes().fold(0xcbf2_9ce4_8422_2325, mix)
}

/// Links to every chapter and its sections.
fn contents(out: &mut String, parts: &[Chapter]) {
    out.push_str("<nav aria-label=\"Contents\">\n<ul>\n");
    for part in parts {
        let _ = write!(
            out,
            "<li><a href=\"#{}\">{}</a>",
            part.id,
            escape(&part.title)
        );
        let mut sections = String::new();
        for block in &part.blocks {
            if let Block::Heading(Heading {
                id: Some(id), text, ..
            }) = block
            {
                let _ = writeln!(sections, "<li><a href=\"#{id}\">{}</a></li>", escape(text));
            }
        }
        if !sections.is_empty() {
            let _ = write!(out, "\n<ul>\n{sections}</ul>\n");
        }
        out.push_str("</li>\n");
    }
    out.push_str("</ul>\n</nav>\n");
}

fn part(out: &mut String, part: &Chapter) {
    let class = if part.new_page {
        " class=\"new-page\""
    } else {
        ""
    };
    let _ = writeln!(
        out,
        "<section id=\"{id}\"{class} aria-labelledby=\"{id}-title\">\n<h2 id=\"{id}-title\">{}</h2>",
        escape(&part.title),
        id = part.id
    );
    // A heading that stands before the first section is a section's own, so that no level is left out.
    let mut level = 2;
    for block in &part.blocks {
        if let Block::Heading(heading) = block {
            level = heading.level.min(level + 1);
            self::heading(out, heading, level);
        } else {
            self::block(out, block);
        }
    }
    out.push_str("</section>\n");
}

fn block(out: &mut String, block: &Block) {
    match block {
        Block::Heading(heading) => self::heading(out, heading, heading.level),
        Block::Text(text) => {
            let _ = writeln!(out, "<p>{}</p>", escape(&bound(text)));
        }
        Block::Small(text) => {
            let _ = writeln!(out, "<p class=\"small\">{}</p>", escape(&bound(text)));
        }
        Block::Sentences(sentences) => list(out, "ul", "sentences", sentences),
        Block::Numbered { texts, room } => {
            list(out, "ol", if *room { "room" } else { "answers" }, texts);
        }
        Block::Terms(terms) => {
            out.push_str("<dl>\n");
            for (word, meaning) in terms {
                let _ = writeln!(
                    out,
                    "<div><dt>{}</dt><dd>{}</dd></div>",
                    escape(word),
                    escape(meaning)
                );
            }
            out.push_str("</dl>\n");
        }
        Block::Table(table) => self::table(out, table),
        Block::Figures(figures) => self::figures(out, figures),
        Block::Chart(chart) => figures(out, std::slice::from_ref(&**chart)),
        Block::Steps(steps) => match &steps.table {
            Some(table) => self::table(out, table),
            None => list(out, "ul", "sentences", &steps.sentences()),
        },
        Block::Findings(findings) => self::findings(out, findings),
        Block::Amended(pieces) => amended(out, pieces),
        Block::Lines(lines) => {
            let _ = writeln!(out, "<pre tabindex=\"0\">{}</pre>", escape(lines));
        }
    }
}

/// A print with its changes: nothing between the pieces, so that the text is the print's own.
fn amended(out: &mut String, pieces: &[Amended]) {
    out.push_str("<div class=\"amended\">");
    for piece in pieces {
        let text = escape(&piece.text);
        let _ = match piece.change {
            None => write!(out, "{text}"),
            Some((number, Changed::Old)) => {
                write!(out, "<del data-change=\"{number}\">{text}</del>")
            }
            Some((number, Changed::New)) => {
                write!(out, "<ins data-change=\"{number}\">{text}</ins>")
            }
        };
    }
    out.push_str("</div>\n");
}

fn heading(out: &mut String, heading: &Heading, level: u8) {
    let id = heading.id.as_ref().map(|id| format!(" id=\"{id}\""));
    let _ = writeln!(
        out,
        "<h{level}{}>{}</h{level}>",
        id.unwrap_or_default(),
        escape(&heading.text)
    );
}

fn list(out: &mut String, element: &str, class: &str, texts: &[String]) {
    let _ = writeln!(out, "<{element} class=\"{class}\">");
    for text in texts {
        let _ = writeln!(out, "<li>{}</li>", escape(&bound(text)));
    }
    let _ = writeln!(out, "</{element}>");
}

const fn class(kind: ColumnKind) -> &'static str {
    match kind {
        ColumnKind::Head => "head",
        ColumnKind::Words => "words",
        ColumnKind::Short => "short",
        ColumnKind::Number => "number",
    }
}

/// A table in a frame that scrolls sideways when the screen is narrow.
fn table(out: &mut String, table: &TableBlock) {
    table_head(out, table);
    for (at, row) in table.rows.iter().enumerate() {
        out.push_str("<tr>");
        boxes(out, table, row);
        if let [alone] = row.as_slice() {
            let columns = table.columns.len();
            let _ = write!(
                out,
                "<td class=\"words\" colspan=\"{columns}\">{}</td>",
                escape(&bound(alone))
            );
        } else {
            let link = table.links.get(at).filter(|link| !link.is_empty());
            cells(out, table, row, link.map(String::as_str));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n</div>\n");
}

/// The frame, the caption and the names of the columns.
fn table_head(out: &mut String, table: &TableBlock) {
    let kind = match (table.whole, table.boxes.is_empty()) {
        (_, false) => "boxes",
        (true, _) => "whole",
        _ => "long",
    };
    let _ = writeln!(
        out,
        "<div class=\"wide\" role=\"group\" aria-label=\"{caption}\" tabindex=\"0\">\n<table class=\"{kind}\">\n<caption{unseen}>{caption}</caption>\n<thead>\n<tr>",
        unseen = if table.captioned {
            ""
        } else {
            " class=\"unseen\""
        },
        caption = escape(&table.caption)
    );
    for head in &table.boxes {
        let _ = writeln!(out, "<th scope=\"col\" class=\"short\">{head}</th>");
    }
    for TableColumn { name, kind } in &table.columns {
        let _ = writeln!(
            out,
            "<th scope=\"col\" class=\"{}\">{}</th>",
            class(*kind),
            escape(name)
        );
    }
    out.push_str("</tr>\n</thead>\n<tbody>\n");
}

/// The boxes to tick before a row.
fn boxes(out: &mut String, table: &TableBlock, row: &[String]) {
    let name = row.first().map(|name| escape(name)).unwrap_or_default();
    for head in &table.boxes {
        let _ = write!(
            out,
            "<td class=\"box\"><input type=\"checkbox\" aria-label=\"row {name} {}\"></td>",
            head.to_lowercase()
        );
    }
}

/// A row's cells; the one that names it leads where the link does.
fn cells(out: &mut String, table: &TableBlock, row: &[String], link: Option<&str>) {
    for (TableColumn { kind, .. }, cell) in table.columns.iter().zip(row) {
        let cell = escape(&bound(cell));
        let _ = match (kind, link) {
            (ColumnKind::Head, Some(link)) => write!(
                out,
                "<th scope=\"row\"><a href=\"{}\">{cell}</a></th>",
                address(link)
            ),
            (ColumnKind::Head, None) => write!(out, "<th scope=\"row\">{cell}</th>"),
            (kind, _) => write!(out, "<td class=\"{}\">{cell}</td>", class(*kind)),
        };
    }
}

/// Every figure on a card of its own; its title and description are in the SVG.
fn figures(out: &mut String, figures: &[Figure]) {
    let Some(first) = figures.first() else {
        return;
    };
    let class = if figures.len() == 1 { "one" } else { "many" };
    let _ = writeln!(
        out,
        "<div class=\"figures {class}\" id=\"figures-{}\">",
        first.id
    );
    for figure in figures {
        let _ = writeln!(
            out,
            "<figure>\n{}\n<figcaption>{}</figcaption>\n</figure>",
            figure.svg.trim_end(),
            escape(&figure.title)
        );
    }
    out.push_str("</div>\n");
}

fn findings(out: &mut String, findings: &[FindingBlock]) {
    if findings.is_empty() {
        out.push_str("<p>Nothing was found.</p>\n");
        return;
    }
    out.push_str("<ul class=\"findings\">\n");
    for finding in findings {
        let about = if finding.about.is_empty() {
            String::new()
        } else {
            format!(", {}", escape(&finding.about))
        };
        let level = finding.level.word();
        let _ = writeln!(
            out,
            "<li class=\"{level}\">\n<p class=\"small\"><strong>{level}</strong> <code>{}</code>{about}</p>\n<p>{}</p>",
            finding.code,
            escape(&bound(&finding.message)),
        );
        if let Some(next) = &finding.next {
            let _ = writeln!(out, "<p><b>Next:</b> {}</p>", escape(&bound(next)));
        }
        if let Some(source) = finding.source {
            let _ = writeln!(
                out,
                "<p class=\"small\"><b>Source:</b> {}</p>",
                escape(source)
            );
        }
        out.push_str("</li>\n");
    }
    out.push_str("</ul>\n");
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
    use crate::report::{Batch, CaseSummary, SizeSummary, batch_document};

    #[test]
    fn names_cannot_break_the_page() {
        let mut case = CaseSummary::failed("a<b> & \"c\"", None, Vec::new());
        case.worksheet = Some("worksheets/a<b> & \"c\" 100%.txt".to_owned());
        case.sizes.push(SizeSummary {
            size: "<S>".to_owned(),
            done: true,
            ..SizeSummary::default()
        });
        let page = batch_document(Batch::Convert, &[case]).html();
        assert!(!page.contains("<b> &") && !page.contains("<S>"));
        // RFC 3986, section 2.1: space 20, percent 25, quote 22, less 3C, greater 3E, and 26.
        assert!(page.contains("href=\"worksheets/a%3Cb%3E%20%26%20%22c%22%20100%25.txt\""));
        assert!(page.contains(">a&lt;b&gt; &amp; &quot;c&quot;</a>"));
    }
}
