//! A finding: what it is about, how much it matters, and what to do next.

use serde::Serialize;
use strsim::osa_distance;

use super::visible::shown;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// Worth knowing; nothing needs to be done.
    Note,
    /// May spoil the result; look before knitting.
    Warning,
    /// The result cannot be right.
    Error,
}

impl Level {
    /// The word shown, so that colour is never the only signal.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// One entry of the table of findings: what `explain` says about a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Code {
    /// Stable name, e.g. `upper-arm-tight`.
    #[serde(rename = "code")]
    pub id: &'static str,
    /// The level it is raised at.
    pub level: Level,
    /// What it means, in one line.
    pub title: &'static str,
    /// What is measured, its limits, and why it matters.
    pub why: &'static str,
    /// A published source, or `common practice, no source`.
    pub source: &'static str,
    /// What the user does next.
    pub next: &'static str,
}

/// A half-open range of bytes in the text as it was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    /// First byte.
    pub from: usize,
    /// One past the last byte.
    pub to: usize,
}

impl Span {
    /// The bytes `from..to`.
    pub const fn new(from: usize, to: usize) -> Self {
        Self { from, to }
    }

    /// The smallest span that holds both.
    #[must_use]
    pub fn join(self, other: Self) -> Self {
        Self::new(self.from.min(other.from), self.to.max(other.to))
    }
}

impl Serialize for Span {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        [self.from, self.to].serialize(serializer)
    }
}

/// A change to the text after which what is stated agrees. Proposed, never applied in silence.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Repair {
    /// What is replaced.
    #[cfg_attr(test, schemars(with = "[usize; 2]"))]
    pub span: Span,
    /// What takes its place.
    pub text: String,
}

/// One thing said about an input.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// The entry of the table it belongs to.
    pub code: &'static Code,
    /// The level in this instance; usually that of the code.
    pub level: Level,
    /// One sentence: what is wrong, with the offending value and what is allowed.
    pub message: String,
    /// What to do about it here; the code's own advice when empty.
    pub next: String,
    /// The place in the text as given.
    pub span: Option<Span>,
    /// Which text of the case the place lies in, e.g. `armhole.front.lines`, where it is not the
    /// text that was read.
    pub lines: Option<&'static str>,
    /// The key of the case that is missing, e.g. `sleeve.cap`, or that it is about, where it has no place of its own.
    pub key: Option<String>,
    /// The size it concerns, when not all.
    pub size: Option<String>,
    /// Edits after which every stated count agrees, best first.
    pub repairs: Vec<Repair>,
}

impl Diagnostic {
    /// A finding of this code at the code's own level, without a place. What the message quotes of
    /// a foreign text is made visible and cut, here and in all that is said with it.
    pub fn new(code: &'static Code, message: impl Into<String>) -> Self {
        Self {
            code,
            level: code.level,
            message: shown(message.into()),
            next: String::new(),
            span: None,
            lines: None,
            key: None,
            size: None,
            repairs: Vec::new(),
        }
    }

    /// The same, at a place.
    #[must_use]
    pub fn at(mut self, span: Span) -> Self {
        self.span = Some(span);
        self
    }

    /// The same, its place being in this text of the case.
    #[must_use]
    pub fn in_lines(mut self, lines: &'static str) -> Self {
        self.lines = Some(lines);
        self
    }

    /// The same, about a key of the case.
    #[must_use]
    pub fn about(mut self, key: impl Into<String>) -> Self {
        self.key = Some(shown(key.into()));
        self
    }

    /// The same, for one size.
    #[must_use]
    pub fn for_size(mut self, size: impl Into<String>) -> Self {
        self.size = Some(shown(size.into()));
        self
    }

    /// The same, with advice of its own.
    #[must_use]
    pub fn next(mut self, next: impl Into<String>) -> Self {
        self.next = shown(next.into());
        self
    }

    /// The same, at another level.
    #[must_use]
    pub fn level(mut self, level: Level) -> Self {
        self.level = level;
        self
    }

    /// The same, with edits that would cure it.
    #[must_use]
    pub fn repairs(mut self, repairs: Vec<Repair>) -> Self {
        self.repairs = repairs;
        self
    }

    /// What to do next: this instance's advice, else the code's.
    pub fn advice(&self) -> &str {
        if self.next.is_empty() {
            self.code.next
        } else {
            &self.next
        }
    }
}

/// The highest level among the diagnostics, if there is any.
pub fn worst(diagnostics: &[Diagnostic]) -> Option<Level> {
    diagnostics.iter().map(|d| d.level).max()
}

/// The known word closest to `word`, if one is close enough to be what was meant.
///
/// Closeness is the optimal string alignment distance (insertions, deletions, substitutions and
/// swaps of neighbours count one each), at most a third of the longer word's length.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    known
        .into_iter()
        .map(|k| (osa_distance(&word, &k.to_lowercase()), k))
        .filter(|(d, k)| d * 3 <= k.chars().count().max(word.chars().count()))
        .min_by_key(|(d, k)| (*d, *k))
        .map(|(_, k)| k)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_word_is_offered_only_when_near() {
        let known = ["stitches", "seam_stitches", "repeat"];
        assert_eq!(nearest("sitches", known), Some("stitches"));
        assert_eq!(nearest("stiches", known), Some("stitches"));
        assert_eq!(nearest("reapet", known), Some("repeat"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest("", known), None);
    }
}
