//! The blocks that everything said is composed of.

use crate::diagnostic::Level;
use crate::report::figure::Figure;

/// Who reads it, and so what may be named: what one cannot do is not said to him.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reader {
    /// At a terminal: options of the command and keys of the case.
    Terminal,
    /// In the browser beside the form: neither options nor keys.
    Browser,
    /// A page of its own, with boxes to tick, every source, and the case's text at its end.
    Page,
    /// The same on paper.
    Paper,
}

impl Reader {
    /// True for what is printed or kept, not typed at.
    pub(crate) const fn is_sheet(self) -> bool {
        matches!(self, Self::Page | Self::Paper)
    }
}

/// A text, a page or a booklet before it is laid out.
#[derive(Clone, Debug, Default)]
pub struct Document {
    /// What it is of: the case's title.
    pub(crate) title: String,
    /// What it is, in one line.
    pub(crate) subtitle: String,
    /// Said at the foot of every printed page.
    pub(crate) foot: String,
    /// Its chapters; a chapter of which there are several begins on a new page.
    pub(crate) parts: Vec<Chapter>,
    /// True when as text, too, it is printed: narrow, and a new page is a form feed.
    pub(crate) paged: bool,
}

/// A chapter.
#[derive(Clone, Debug)]
pub(crate) struct Chapter {
    /// Its place on the page, unique.
    pub(crate) id: String,
    /// Its heading.
    pub(crate) title: String,
    /// True when it begins on a new page.
    pub(crate) new_page: bool,
    /// What it consists of.
    pub(crate) blocks: Vec<Block>,
}

/// One piece of a page.
#[derive(Clone, Debug)]
pub(crate) enum Block {
    /// A heading below the chapter's own.
    Heading(Heading),
    /// A paragraph.
    Text(String),
    /// A paragraph in small type: where something comes from.
    Small(String),
    /// Sentences to follow one after the other.
    Sentences(Vec<String>),
    /// Words and what they mean.
    Terms(Vec<(String, String)>),
    /// Questions or answers, numbered.
    Numbered {
        /// The texts.
        texts: Vec<String>,
        /// True when room for an answer is left below each.
        room: bool,
    },
    /// A table.
    Table(TableBlock),
    /// Pictures beside one another where there is room.
    Figures(Vec<Figure>),
    /// A picture that is worked from: as wide as the page.
    Chart(Box<Figure>),
    /// Steps of a pattern, each with what the knitter then has.
    Steps(Steps),
    /// What was found.
    Findings(Vec<FindingBlock>),
    /// A file's lines as they are.
    Lines(String),
    /// A print with what is taken out and put in, as it stands: nothing is broken or indented.
    Amended(Vec<Amended>),
}

/// A piece of an amended print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Amended {
    /// Number and kind of the change; nothing for what stays.
    pub(crate) change: Option<(usize, Changed)>,
    /// The words.
    pub(crate) text: String,
}

/// What a change does with a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Changed {
    /// Takes it out.
    Old,
    /// Puts it in.
    New,
}

/// The same as text, each change between marks that stand nowhere in the pieces: `⟦3\u{2212} old⟧`, `⟦3+ new⟧`.
pub(crate) fn with_marks(pieces: &[Amended]) -> String {
    let stands = |mark: &str| pieces.iter().any(|piece| piece.text.contains(mark));
    let mark = |mark: &str| {
        let mut long = mark.to_owned();
        while stands(&long) {
            long += mark;
        }
        long
    };
    let (open, close) = (mark("\u{27e6}"), mark("\u{27e7}"));
    let pieces = pieces.iter().map(|piece| match piece.change {
        None => piece.text.clone(),
        Some((number, Changed::Old)) => format!("{open}{number}\u{2212} {}{close}", piece.text),
        Some((number, Changed::New)) => format!("{open}{number}+ {}{close}", piece.text),
    });
    pieces.collect()
}

/// A heading below the chapter's own.
#[derive(Clone, Debug)]
pub(crate) struct Heading {
    /// 3 for a section, 4 for what is in it.
    pub(crate) level: u8,
    /// Its place on the page, where it can be jumped to.
    pub(crate) id: Option<String>,
    /// The words.
    pub(crate) text: String,
}

impl Block {
    /// A section that can be jumped to.
    pub(crate) fn section(id: String, text: impl Into<String>) -> Self {
        Self::Heading(Heading {
            level: 3,
            id: Some(id),
            text: text.into(),
        })
    }

    /// A heading within a section.
    pub(crate) fn heading(text: impl Into<String>) -> Self {
        Self::Heading(Heading {
            level: 4,
            id: None,
            text: text.into(),
        })
    }
}

impl Chapter {
    /// A chapter on the page where the one before it ends.
    pub(crate) fn new(title: impl Into<String>, blocks: Vec<Block>) -> Self {
        let title = title.into();
        Self {
            id: slug(&title),
            title,
            new_page: false,
            blocks,
        }
    }
}

/// A heading and sentences to follow; nothing where nothing is said.
pub(crate) fn sentences(heading: &str, sentences: &[String]) -> Vec<Block> {
    let said = sentences.iter().filter(|sentence| !sentence.is_empty());
    let said: Vec<String> = said.cloned().collect();
    if said.is_empty() {
        return Vec::new();
    }
    vec![Block::heading(heading), Block::Sentences(said)]
}

/// A table; every row has a cell for every column, or one that goes across all of them.
#[derive(Clone, Debug, Default)]
pub(crate) struct TableBlock {
    /// What it shows.
    pub(crate) caption: String,
    /// False when a heading right above it says so; the caption is then for those who cannot see.
    pub(crate) captioned: bool,
    /// Its columns.
    pub(crate) columns: Vec<TableColumn>,
    /// Its rows.
    pub(crate) rows: Vec<Vec<String>>,
    /// Where the row's first cell leads to, row by row; empty for nowhere.
    pub(crate) links: Vec<String>,
    /// Headings of the boxes to tick that stand before each row.
    pub(crate) boxes: Vec<&'static str>,
    /// True when it is never split between two pages.
    pub(crate) whole: bool,
}

/// A column of a table.
#[derive(Clone, Debug)]
pub(crate) struct TableColumn {
    /// Its heading.
    pub(crate) name: String,
    /// What stands in it.
    pub(crate) kind: ColumnKind,
}

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ColumnKind {
    /// The row's own heading.
    Head,
    /// Sentences: it takes the room that is left.
    Words,
    /// A few words.
    Short,
    /// Numbers, set at the right.
    Number,
}

impl TableBlock {
    /// A table that stays on one page, below its caption.
    pub(crate) fn new(
        caption: impl Into<String>,
        columns: Vec<TableColumn>,
        rows: Vec<Vec<String>>,
    ) -> Self {
        Self {
            caption: caption.into(),
            captioned: true,
            columns,
            rows,
            links: Vec::new(),
            boxes: Vec::new(),
            whole: true,
        }
    }

    /// The same right below a heading that says what it shows.
    pub(crate) fn under_heading(self) -> Self {
        Self {
            captioned: false,
            ..self
        }
    }
}

impl TableColumn {
    /// The first column names its row; the others are of one kind.
    pub(crate) fn all(names: &[&str], kind: ColumnKind) -> Vec<Self> {
        let columns = names.iter().enumerate();
        columns
            .map(|(i, name)| Self::new(*name, if i == 0 { ColumnKind::Head } else { kind }))
            .collect()
    }

    pub(crate) fn new(name: impl Into<String>, kind: ColumnKind) -> Self {
        Self {
            name: name.into(),
            kind,
        }
    }
}

/// Steps with their counts.
#[derive(Clone, Debug)]
pub(crate) struct Steps {
    /// Each sentence, and its counts in words.
    pub(crate) steps: Vec<(String, Option<String>)>,
    /// The same as a table, where anything is counted in columns.
    pub(crate) table: Option<TableBlock>,
}

impl Steps {
    /// Each sentence with its counts in square brackets.
    pub(crate) fn sentences(&self) -> Vec<String> {
        let steps = self.steps.iter();
        let full = steps.map(|(sentence, counts)| match counts {
            Some(counts) => format!("{sentence} [{counts}]"),
            None => sentence.clone(),
        });
        full.collect()
    }
}

/// A finding before it is laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct FindingBlock {
    /// How much it matters.
    pub(crate) level: Level,
    /// Its code.
    pub(crate) code: &'static str,
    /// Whom it concerns: `size M`; nothing for the whole.
    pub(crate) about: String,
    /// The sentence.
    pub(crate) message: String,
    /// What to do about it, where this reader can.
    pub(crate) next: Option<String>,
    /// Where it comes from, for what is printed or kept.
    pub(crate) source: Option<&'static str>,
}

/// Words as part of an id: letters and digits, the rest as single hyphens.
pub(crate) fn slug(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        if letter.is_ascii_alphanumeric() {
            out.push(letter.to_ascii_lowercase());
        } else if !out.ends_with('-') {
            out.push('-');
        }
    }
    out.trim_matches('-').to_owned()
}

/// A space at which a line is never broken.
const BOUND: char = '\u{a0}';

/// The text with every number bound to the unit or the per cent sign after it.
pub(crate) fn bound(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for (at, letter) in text.char_indices() {
        let after_number = out.ends_with(|c: char| c.is_ascii_digit());
        if letter == ' ' && after_number && begins_with_unit(text.get(at + 1..).unwrap_or_default())
        {
            out.push(BOUND);
        } else {
            out.push(letter);
        }
    }
    out
}

fn begins_with_unit(text: &str) -> bool {
    let units = ["%", "cm", "in"];
    let rest = units.iter().find_map(|unit| text.strip_prefix(unit));
    rest.is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_units() {
        assert_eq!(
            bound("bust 91.4 cm (36.0 in)"),
            "bust 91.4\u{a0}cm (36.0\u{a0}in)"
        );
        assert_eq!(
            bound("+7.5 %, 2 inner, no in"),
            "+7.5\u{a0}%, 2 inner, no in"
        );
    }

    #[test]
    fn ids_are_made_of_letters_and_digits() {
        assert_eq!(slug("91 cm"), "91-cm");
        assert_eq!(slug(" To fit: 32/34\" "), "to-fit-32-34");
        assert_eq!(slug("\u{2013}"), "");
    }
}
