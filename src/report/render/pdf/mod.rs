//! A sheet as PDF: text that can be searched, figures as vectors, a tree of tags for screen readers, and
//! one embedded family of letters. No date and no random number: the same sheet is the same bytes.

mod blocks;
mod flow;
mod fonts;
mod paint;
mod paper;
mod table;
mod tags;

use crate::report::document::Document;
use fonts::Fonts;
use paper::{ABOVE, BELOW, SIDE};
pub use paper::{Paper, PdfError};

pub(super) fn pdf(sheet: &Document, paper: Paper) -> Result<Vec<u8>, PdfError> {
    let fonts = Fonts::new()?;
    let (width, height) = paper.size();
    let frame = (width - 2.0 * SIDE, height - ABOVE - BELOW);
    let chapters = chapters(sheet, &fonts, frame);
    let composed = blocks::compose(sheet, &fonts, frame, &chapters);
    let pages = flow::pages(composed.chunks, frame.1);
    let painter = paint::Painter::new(sheet, &fonts, paper, &composed.figures)?;
    painter.paint(&pages, &composed.tags)
}

/// Where the chapters of a booklet begin: it is laid out once with the places not known yet, which take
/// the same room. Nothing for a sheet of a few pages.
fn chapters(sheet: &Document, fonts: &Fonts, frame: (f32, f32)) -> Vec<(String, usize)> {
    if sheet.parts.iter().filter(|part| part.new_page).count() < 2 {
        return Vec::new();
    }
    let unknown: Vec<(String, usize)> = sheet
        .parts
        .iter()
        .map(|part| (part.title.clone(), 0))
        .collect();
    let composed = blocks::compose(sheet, fonts, frame, &unknown);
    flow::chapters(&flow::pages(composed.chunks, frame.1))
}
