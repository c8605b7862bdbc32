//! Sheets of paper; without the feature `pdf` a sentence says what to build.

use super::args::PaperArg;
use crate::report::Document;

#[cfg(feature = "pdf")]
impl From<PaperArg> for crate::report::Paper {
    fn from(paper: PaperArg) -> Self {
        match paper {
            PaperArg::A4 => Self::A4,
            PaperArg::Letter => Self::Letter,
        }
    }
}

/// A document as PDF.
///
/// # Errors
/// A sentence when it cannot be made.
#[cfg(feature = "pdf")]
pub(crate) fn pdf(document: &Document, paper: PaperArg) -> Result<Vec<u8>, String> {
    document
        .pdf(paper.into())
        .map_err(|error| error.to_string())
}

/// The sentence.
///
/// # Errors
/// Always.
#[cfg(not(feature = "pdf"))]
pub(crate) fn pdf(_: &Document, _: PaperArg) -> Result<Vec<u8>, String> {
    Err("This program was built without PDF; build it with --features pdf, or write .html and print that.".to_owned())
}
