//! The letters of the pages: one family, embedded, the same on every machine.

use std::sync::Arc;

use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::paper::PdfError;
use crate::report::document::bound;

const REGULAR: &[u8] = include_bytes!("../../fonts/DejaVuSans.ttf");
const BOLD: &[u8] = include_bytes!("../../fonts/DejaVuSans-Bold.ttf");
const MONO: &[u8] = include_bytes!("../../fonts/DejaVuSansMono.ttf");

/// A weight of the family, or its typewriter face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Weight {
    Regular,
    Bold,
    /// Every letter as wide as the next.
    Mono,
}

/// A weight and a size in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Type {
    pub(super) weight: Weight,
    pub(super) size: f32,
}

impl Type {
    pub(super) const fn regular(size: f32) -> Self {
        Self {
            weight: Weight::Regular,
            size,
        }
    }

    pub(super) const fn bold(size: f32) -> Self {
        Self {
            weight: Weight::Bold,
            size,
        }
    }

    pub(super) const fn mono(size: f32) -> Self {
        Self {
            weight: Weight::Mono,
            size,
        }
    }

    /// From one line of a paragraph to the next.
    pub(super) fn leading(self) -> f32 {
        self.size * 1.27
    }

    /// From the top of a line to the feet of its letters.
    pub(super) fn rise(self) -> f32 {
        self.size * 1.02
    }
}

/// What is said beside.
pub(super) const SMALL: Type = Type::regular(7.6);
/// Cells.
pub(super) const TABLE: Type = Type::regular(8.3);
/// Cells of rows to tick off.
pub(super) const TICKED: Type = Type::regular(7.6);
/// Headings of columns.
pub(super) const TABLE_HEAD: Type = Type::bold(7.4);
/// One weight, to measure with and to draw with.
struct Face {
    measure: ttf_parser::Face<'static>,
    draw: Font,
}

impl Face {
    fn new(data: &'static [u8]) -> Result<Self, PdfError> {
        Ok(Self {
            measure: ttf_parser::Face::parse(data, 0).map_err(|_| PdfError::Font)?,
            draw: Font::new(data.into(), 0).ok_or(PdfError::Font)?,
        })
    }

    /// The glyph of a letter and its advance at size 1. A letter that the font lacks has the
    /// empty box of glyph 0.
    fn glyph(&self, letter: char) -> (u16, f32) {
        let id = self
            .measure
            .glyph_index(letter)
            .unwrap_or(ttf_parser::GlyphId(0));
        let advance = self.measure.glyph_hor_advance(id).unwrap_or(0);
        (
            id.0,
            f32::from(advance) / f32::from(self.measure.units_per_em()),
        )
    }
}

/// All weights, and regular and bold for the text in figures.
pub(super) struct Fonts {
    regular: Face,
    bold: Face,
    mono: Face,
    svg: usvg::Options<'static>,
}

impl Fonts {
    pub(super) fn new() -> Result<Self, PdfError> {
        let mut database = usvg::fontdb::Database::new();
        for data in [REGULAR, BOLD] {
            database.load_font_source(usvg::fontdb::Source::Binary(Arc::new(data)));
        }
        database.set_sans_serif_family("DejaVu Sans");
        let svg = usvg::Options {
            font_family: "DejaVu Sans".to_owned(),
            fontdb: Arc::new(database),
            ..usvg::Options::default()
        };
        Ok(Self {
            regular: Face::new(REGULAR)?,
            bold: Face::new(BOLD)?,
            mono: Face::new(MONO)?,
            svg,
        })
    }

    /// How figures are read: with these fonts and no others.
    pub(super) const fn svg(&self) -> &usvg::Options<'static> {
        &self.svg
    }

    const fn face(&self, weight: Weight) -> &Face {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
            Weight::Mono => &self.mono,
        }
    }

    /// The font to draw with.
    pub(super) fn font(&self, weight: Weight) -> Font {
        self.face(weight).draw.clone()
    }

    /// How wide a line is, in points.
    pub(super) fn width(&self, text: &str, set: Type) -> f32 {
        let face = self.face(set.weight);
        let letters = text.chars().map(|letter| face.glyph(letter).1);
        letters.sum::<f32>() * set.size
    }

    /// The glyphs of a line.
    pub(super) fn glyphs(&self, text: &str, weight: Weight) -> Vec<KrillaGlyph> {
        let face = self.face(weight);
        let letters = text.char_indices().map(|(at, letter)| {
            let (id, advance) = face.glyph(letter);
            let range = at..at + letter.len_utf8();
            KrillaGlyph::new(
                GlyphId::new(u32::from(id)),
                advance,
                0.0,
                0.0,
                0.0,
                range,
                None,
            )
        });
        letters.collect()
    }

    /// Words in lines of at most `width` points; a word that is wider is cut.
    pub(super) fn lines(&self, text: &str, set: Type, width: f32) -> Vec<String> {
        let space = self.width(" ", set);
        let mut lines: Vec<String> = Vec::new();
        let mut used = 0.0;
        let text = bound(text);
        for word in text
            .split([' ', '\t', '\n'])
            .filter(|word| !word.is_empty())
        {
            for (i, piece) in self.pieces(word, set, width).into_iter().enumerate() {
                let wide = self.width(&piece, set);
                match lines.last_mut() {
                    Some(line) if i == 0 && used + space + wide <= width => {
                        line.push(' ');
                        line.push_str(&piece);
                        used += space + wide;
                    }
                    _ => {
                        lines.push(piece);
                        used = wide;
                    }
                }
            }
        }
        lines
    }

    /// A word in pieces that fit; nearly always one.
    fn pieces(&self, word: &str, set: Type, width: f32) -> Vec<String> {
        if self.width(word, set) <= width {
            return vec![word.to_owned()];
        }
        let face = self.face(set.weight);
        let mut pieces = vec![String::new()];
        let mut used = 0.0;
        for letter in word.chars() {
            let wide = face.glyph(letter).1 * set.size;
            if used + wide > width && used > 0.0 {
                pieces.push(String::new());
                used = 0.0;
            }
            if let Some(piece) = pieces.last_mut() {
                piece.push(letter);
            }
            used += wide;
        }
        pieces
    }
}
