//! What a command leaves behind, and its exit code.

use crate::diagnostic::{Level, visible_lines};

/// What a command leaves behind for `main` to print.
#[derive(Debug, Default)]
pub struct Outcome {
    /// Text for standard output.
    pub out: String,
    /// Text for standard error, with colour codes that a non-terminal strips.
    pub err: String,
    /// Exit code.
    pub code: u8,
}

/// Named on every page, so that it can be made again.
pub(crate) const VERSION: &str = env!("CARGO_PKG_VERSION");

/// Exit code for findings at error level.
pub(crate) const FINDINGS: u8 = 1;

/// Exit code for input that cannot be used.
pub(crate) const UNUSABLE: u8 = 2;

impl Outcome {
    /// One sentence on why nothing could be done.
    pub(crate) fn unusable(sentence: &str) -> Self {
        Self::unusable_for(&[sentence.to_owned()])
    }

    /// All the reasons why nothing could be done.
    pub(crate) fn unusable_for(sentences: &[String]) -> Self {
        let lines = sentences
            .iter()
            .map(|sentence| format!("error: {}\n", visible_lines(sentence)));
        Self {
            err: lines.collect(),
            code: UNUSABLE,
            ..Self::default()
        }
    }

    /// The same, said after this.
    #[must_use]
    pub(crate) fn after(mut self, before: &str) -> Self {
        self.err.insert_str(0, before);
        self
    }
}

/// The exit code for a result with findings of this level.
pub(crate) fn code(worst: Option<Level>) -> u8 {
    if worst == Some(Level::Error) {
        FINDINGS
    } else {
        0
    }
}
