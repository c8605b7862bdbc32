//! The text of a PDF, set out on lines as it stands on its pages.
//!
//! Only glyphs and their places are taken; `columns` makes lines of them, column after column.

use hayro_interpret::font::{Glyph, GlyphRun};
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::kurbo::{Affine, BezPath, Point, Rect, Vec2};
use hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps,
    InterpreterCache, InterpreterSettings, RenderContent, SoftMask, interpret_page,
};
use hayro_syntax::{DecryptionError, LoadPdfError, Pdf};

use thiserror::Error;

use super::columns;
use super::flow::Flow;
use super::letters::Letter;

/// More pages or letters than these are no pattern.
const MAX_PAGES: usize = 200;
const MAX_LETTERS: usize = 600_000;

/// Why a PDF cannot be read as a pattern.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum LeafletPdfError {
    /// A stream packed twice: it could grow without bounds.
    #[error("This PDF is packed more than once, which no pattern is; it is not opened.")]
    PackedTwice,
    /// It asks for a password.
    #[error("This PDF asks for a password; save it without one and use that.")]
    Password,
    /// Encrypted in a way that is not known.
    #[error("This PDF is locked in a way that cannot be read; print it to a new PDF and use that.")]
    Locked,
    /// Not the structure of a PDF.
    #[error("This PDF is damaged and cannot be read.")]
    Damaged,
    /// More pages than a pattern has.
    #[error("This PDF has {0} pages; a pattern has {MAX_PAGES} at the most.")]
    Pages(usize),
    /// More letters than a pattern has.
    #[error("This PDF holds more text than any pattern.")]
    TooMuchText,
    /// Letters that begin at more places than columns do.
    #[error(
        "The letters of this PDF begin at so many places that its columns cannot be told; copy its text by hand and use that."
    )]
    TooManyColumns,
    /// Fonts that do not say which letters they draw.
    #[error(
        "The letters of this PDF cannot be told from its fonts; copy its text by hand and use that."
    )]
    UnknownLetters,
    /// A scan.
    #[error(
        "This PDF has no text: it is a picture of a page. Use a text recogniser first, or type the text."
    )]
    NoText,
}

/// Reads the text of a PDF.
///
/// # Errors
/// When it has none, or none that can be trusted.
pub fn read_pdf(bytes: Vec<u8>) -> Result<Flow, LeafletPdfError> {
    if packed_twice(&bytes) {
        return Err(LeafletPdfError::PackedTwice);
    }
    let pdf = Pdf::new(bytes).map_err(|error| match error {
        LoadPdfError::Decryption(DecryptionError::PasswordProtected) => LeafletPdfError::Password,
        LoadPdfError::Decryption(_) => LeafletPdfError::Locked,
        LoadPdfError::Invalid => LeafletPdfError::Damaged,
    })?;
    let pages = pdf.pages();
    if pages.len() > MAX_PAGES {
        return Err(LeafletPdfError::Pages(pages.len()));
    }
    let cache = InterpreterCache::new();
    let mut all = Vec::new();
    let (mut letters, mut unknown) = (0, 0);
    for page in pages.iter() {
        let settings = InterpreterSettings {
            render_content: RenderContent::PAGE,
            ..InterpreterSettings::default()
        };
        let (_, height) = page.render_dimensions();
        let area = Rect::new(0.0, 0.0, 1.0, 1.0);
        let mut context = Context::new(Affine::IDENTITY, area, &cache, pdf.xref(), settings);
        let mut reader = LetterSink {
            height: f64::from(height),
            ..LetterSink::default()
        };
        interpret_page(page, &mut context, &mut reader);
        letters += reader.letters.len();
        unknown += reader.unknown;
        if letters > MAX_LETTERS {
            return Err(LeafletPdfError::TooMuchText);
        }
        all.push(reader.letters);
    }
    if unknown * 50 > letters {
        return Err(LeafletPdfError::UnknownLetters);
    }
    if letters < 40 {
        return Err(LeafletPdfError::NoText);
    }
    let pages = columns::pages(all).ok_or(LeafletPdfError::TooManyColumns)?;
    Ok(Flow::of_pages(&pages))
}

/// Two packings of one stream can grow from kilobytes to gigabytes.
fn packed_twice(bytes: &[u8]) -> bool {
    let names = [&b"FlateDecode"[..], b"/Fl "];
    let is_name = |at: &[u8]| names.iter().any(|name| at.starts_with(name));
    bytes.windows(32).any(|window| {
        let rest = window.get(11..).unwrap_or_default();
        window.starts_with(b"FlateDecode") && {
            let next = rest
                .iter()
                .position(|byte| !matches!(byte, b' ' | b'/' | b'\n' | b'\r'));
            next.and_then(|at| rest.get(at..)).is_some_and(is_name)
        }
    })
}

#[derive(Default)]
struct LetterSink {
    height: f64,
    letters: Vec<Letter>,
    unknown: usize,
}

impl Device<'_> for LetterSink {
    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, '_>, props: DrawProps<'_>, _: &DrawMode) {
        for glyph in run.glyphs() {
            let text = match glyph.as_unicode() {
                Some(BfString::Char(letter)) => letter.to_string(),
                Some(BfString::String(text)) => text,
                None => "\u{fffd}".to_owned(),
            };
            if text.contains('\u{fffd}') {
                self.unknown += 1;
            }
            let place = props.transform * glyph.transform();
            let at = place * Point::ZERO;
            let length = |x: f64, y: f64| {
                let end = place * Point::new(x, y);
                let way: Vec2 = end - at;
                (way.x * way.x + way.y * way.y).sqrt()
            };
            let advance = match &**glyph {
                Glyph::Outline(outline) => outline.advance_width(),
                Glyph::Type3(own) => own.advance_width(),
            };
            if self.letters.len() <= MAX_LETTERS {
                self.letters.push(Letter {
                    text,
                    x: at.x,
                    y: self.height - at.y,
                    em: length(0.0, 1000.0),
                    width: length(f64::from(advance.unwrap_or(500.0)), 0.0),
                });
            }
        }
    }
    fn draw_path(&mut self, _: &BezPath, _: DrawProps<'_>, _: &DrawMode) {}
    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'_>>, _: BlendMode) {}
    fn draw_image(&mut self, _: Image<'_, '_>, _: ImageDrawProps<'_>) {}
    fn pop_clip(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}
