//! A sheet as PDF: text that can be searched, figures as vectors, a tree of tags for screen readers, and
//! one embedded family of letters. No date and no random number: the same sheet is the same bytes.

mod blocks;
mod flow;
mod fonts;
mod paint;
mod table;
mod tags;

use thiserror::Error;

use crate::report::document::Document;
use fonts::Fonts;

/// A sheet of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 x 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 x 11 in.
    Letter,
}

/// Points in a millimetre: 72 to the inch.
const MM: f32 = 72.0 / 25.4;

impl Paper {
    /// Width and height in points.
    const fn size(self) -> (f32, f32) {
        match self {
            Self::A4 => (210.0 * MM, 297.0 * MM),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// Why no PDF could be made.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum PdfError {
    /// The embedded font cannot be read.
    #[error(
        "The PDF cannot be made: the font of this program cannot be read. Write .html and print that."
    )]
    Font,
    /// A figure cannot be drawn.
    #[error(
        "The PDF cannot be made: the picture '{name}' cannot be drawn ({why}). Write .html and print that."
    )]
    Figure {
        /// Which figure.
        name: String,
        /// What is wrong with it.
        why: String,
    },
    /// The file cannot be put together.
    #[error("The PDF cannot be made: {0}. Write .html and print that.")]
    Write(String),
}

/// Left and right margin.
const SIDE: f32 = 16.0 * MM;
/// Upper margin.
const ABOVE: f32 = 15.0 * MM;
/// Lower margin; the foot stands in it.
const BELOW: f32 = 19.0 * MM;

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

/// A number of user units as points; both are far within the range of `f32`.
#[allow(
    clippy::cast_possible_truncation,
    reason = "krilla measures in f32; seven digits are far finer than print"
)]
const fn points(number: f64) -> f32 {
    number as f32
}
