//! What was found.

use serde::Serialize;

use crate::diagnostic::{Diagnostic, Level, Repair, Span};

/// One thing that was found.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct FindingJson<'a> {
    /// Stable name; `capwright explain CODE` says more.
    code: &'a str,
    /// How much it matters.
    level: Level,
    /// One sentence, with the offending value and what is allowed; its words may change.
    message: &'a str,
    /// A published source, or `common practice, no source`.
    source: &'a str,
    /// What to do about it.
    next: &'a str,
    /// The size it concerns.
    size: Option<&'a str>,
    /// Its place in the text: first byte, one past the last.
    #[cfg_attr(test, schemars(with = "Option<[usize; 2]>"))]
    span: Option<Span>,
    /// The text of the case that the place lies in.
    lines: Option<&'a str>,
    /// The key of the case that is missing, or that the finding is about where it has no place of its own.
    key: Option<&'a str>,
    /// Edits after which every stated count agrees, best first.
    repairs: &'a [Repair],
}

impl<'a> From<&'a Diagnostic> for FindingJson<'a> {
    fn from(finding: &'a Diagnostic) -> Self {
        Self {
            code: finding.code.id,
            level: finding.level,
            message: &finding.message,
            source: finding.code.source,
            next: finding.advice(),
            size: finding.size.as_deref(),
            span: finding.span,
            lines: finding.lines,
            key: finding.key.as_deref(),
            repairs: &finding.repairs,
        }
    }
}
