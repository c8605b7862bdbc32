//! Comma-separated values (RFC 4180), by the `csv` crate, with the cells of foreign text defused.

use csv::{QuoteStyle, Terminator, WriterBuilder};

/// A table, line by line. Lines may differ in length.
#[derive(Debug, Default)]
pub(crate) struct Csv(Vec<Vec<String>>);

impl Csv {
    pub(crate) fn line<T: Into<String>>(&mut self, cells: impl IntoIterator<Item = T>) {
        self.0.push(cells.into_iter().map(Into::into).collect());
    }

    /// The table as text, its lines ended as the standard says.
    pub(crate) fn text(&self) -> String {
        let mut writer = WriterBuilder::new()
            .flexible(true)
            .quote_style(QuoteStyle::Necessary)
            .terminator(Terminator::CRLF)
            .from_writer(Vec::new());
        for line in &self.0 {
            // Into memory: there is nothing that could fail.
            let _ = writer.write_record(line);
        }
        let bytes = writer.into_inner().unwrap_or_default();
        String::from_utf8(bytes).unwrap_or_default()
    }
}

/// Foreign text as a cell: what a spreadsheet would take for a formula gets an apostrophe in front
/// (OWASP, CSV Injection: the signs, a tab, line ends, and the wide forms of the signs), blanks
/// before it notwithstanding.
pub(crate) fn words(text: &str) -> String {
    const SIGNS: [char; 8] = [
        '=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
    ];
    let formula = text.starts_with(['\t', '\r', '\n']) || text.trim_start().starts_with(SIGNS);
    if formula {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, rules 1 and 5 to 7, with its own examples.
    #[test]
    fn cells_are_quoted_as_the_standard_says() {
        let mut csv = Csv::default();
        csv.line(["aaa", "b CRLF\r\nbb", "ccc"]);
        csv.line(["aaa", "b\"bb", "S, M"]);
        assert_eq!(
            csv.text(),
            "aaa,\"b CRLF\r\nbb\",ccc\r\naaa,\"b\"\"bb\",\"S, M\"\r\n"
        );
    }

    #[test]
    fn no_cell_is_a_formula() {
        for bad in [
            "=1+1",
            "+1",
            "-1",
            "@SUM(A1)",
            "\t=1",
            " =1",
            "\u{ff1d}1",
            "\r=1",
        ] {
            assert!(words(bad).starts_with('\''), "{bad}");
        }
        for plain in ["M", "", "2-4 years", "91 cm"] {
            assert_eq!(words(plain), plain);
        }
    }
}
