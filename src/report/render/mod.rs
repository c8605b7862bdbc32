//! Lays documents out: as text, as a page, on paper. One renderer a form, one
//! place for a table in each.

mod html;
#[cfg(feature = "pdf")]
mod pdf;
mod text;

#[cfg(feature = "pdf")]
pub use pdf::{Paper, PdfError};

use super::document::Document;

impl Document {
    /// As plain text.
    pub fn text(&self) -> String {
        text::text(self)
    }

    /// As one self-contained page of HTML.
    pub fn html(&self) -> String {
        html::html(self)
    }

    /// As sheets of paper.
    ///
    /// # Errors
    /// When a figure cannot be drawn or the file cannot be put together.
    #[cfg(feature = "pdf")]
    pub fn pdf(&self, paper: Paper) -> Result<Vec<u8>, PdfError> {
        pdf::pdf(self, paper)
    }
}
