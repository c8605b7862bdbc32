//! Pages of marks, drawn.

use krilla::Document as Pdf;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, Identifier, SpanTag};
use krilla_svg::{SurfaceExt as _, SvgSettings};

use super::flow::{Ink, Mark, Page, PlacedMark};
use super::fonts::{Fonts, SMALL};
use super::paper::{ABOVE, MM, Paper, PdfError, SIDE};
use super::tags::{Node, Tags};
use crate::report::document::Document;
use crate::report::figure::Figure;

/// Draws a sheet's pages.
pub(super) struct Painter<'a> {
    sheet: &'a Document,
    fonts: &'a Fonts,
    paper: Paper,
    pictures: Vec<(&'a str, usvg::Tree)>,
}

fn colour(ink: Ink) -> rgb::Color {
    match ink {
        Ink::Text => rgb::Color::new(0x1c, 0x28, 0x30),
        Ink::Soft => rgb::Color::new(0x4a, 0x58, 0x62),
        Ink::Accent => rgb::Color::new(0x0f, 0x55, 0x70),
        Ink::Rule => rgb::Color::new(0xa9, 0xb3, 0xb9),
    }
}

fn fill(ink: Ink) -> Fill {
    Fill {
        paint: colour(ink).into(),
        ..Fill::default()
    }
}

fn stroke(ink: Ink, width: f32) -> Stroke {
    Stroke {
        paint: colour(ink).into(),
        width,
        ..Stroke::default()
    }
}

fn line(from: (f32, f32), to: (f32, f32)) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.move_to(from.0, from.1);
    path.line_to(to.0, to.1);
    path.finish()
}

fn square(x: f32, y: f32, side: f32) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(x, y, side, side)?);
    path.finish()
}

impl<'a> Painter<'a> {
    /// Reads the figures.
    ///
    /// # Errors
    /// Names the figure that cannot be read.
    pub(super) fn new(
        sheet: &'a Document,
        fonts: &'a Fonts,
        paper: Paper,
        figures: &[&'a Figure],
    ) -> Result<Self, PdfError> {
        let pictures = figures.iter().map(|figure| {
            let tree = usvg::Tree::from_str(&figure.svg, fonts.svg());
            let tree = tree.map_err(|error| PdfError::Figure {
                name: figure.id.clone(),
                why: error.to_string(),
            })?;
            Ok((figure.id.as_str(), tree))
        });
        let pictures: Result<Vec<_>, PdfError> = pictures.collect();
        Ok(Self {
            sheet,
            fonts,
            paper,
            pictures: pictures?,
        })
    }

    /// The file.
    ///
    /// # Errors
    /// When a figure cannot be drawn or the file cannot be put together.
    pub(super) fn paint(&self, pages: &[Page], tags: &Tags) -> Result<Vec<u8>, PdfError> {
        let mut document = Pdf::new();
        document.set_metadata(
            Metadata::new()
                .title(self.sheet.title.clone())
                .description(self.sheet.subtitle.clone())
                .language("en".to_owned())
                .creator("capwright".to_owned()),
        );
        let mut drawn = Vec::new();
        for (at, page) in pages.iter().enumerate() {
            let (width, height) = self.paper.size();
            let settings = PageSettings::from_wh(width, height)
                .ok_or_else(|| PdfError::Write("the paper has no size".to_owned()))?;
            let mut sheet = document.start_page_with(settings);
            let mut surface = sheet.surface();
            for placed in &page.marks {
                drawn.extend(self.placed(&mut surface, placed)?);
            }
            self.foot(&mut surface, &page.chapter, (at + 1, pages.len()));
            surface.finish();
            sheet.finish();
        }
        document.set_outline(outline(pages));
        document.set_tag_tree(tags.tree(drawn));
        document
            .finish()
            .map_err(|error| PdfError::Write(error.to_string()))
    }

    /// Draws a mark, tagged with what it means.
    fn placed(
        &self,
        surface: &mut Surface<'_>,
        placed: &PlacedMark,
    ) -> Result<Option<(Node, Identifier)>, PdfError> {
        let tag = match (placed.node, &placed.mark) {
            (None, _) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            (Some(_), Mark::Text { .. }) => ContentTag::Span(SpanTag::empty()),
            (Some(_), _) => ContentTag::Other,
        };
        let identifier = surface.start_tagged(tag);
        surface.push_transform(&Transform::from_translate(SIDE, ABOVE));
        let drawn = self.mark(surface, &placed.mark);
        surface.pop();
        surface.end_tagged();
        drawn?;
        Ok(placed.node.map(|node| (node, identifier)))
    }

    fn mark(&self, surface: &mut Surface<'_>, mark: &Mark) -> Result<(), PdfError> {
        match mark {
            Mark::Text { text, .. } if text.is_empty() => {}
            Mark::Text {
                x,
                y,
                set,
                ink,
                text,
            } => {
                surface.set_stroke(None);
                surface.set_fill(Some(fill(*ink)));
                surface.draw_glyphs(
                    Point::from_xy(*x, *y),
                    &self.fonts.glyphs(text, set.weight),
                    self.fonts.font(set.weight),
                    text,
                    set.size,
                    false,
                );
            }
            Mark::Line {
                from,
                to,
                width,
                ink,
            } => {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(*ink, *width)));
                if let Some(path) = line(*from, *to) {
                    surface.draw_path(&path);
                }
            }
            Mark::Tick { x, y, side } => {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(Ink::Text, 0.7)));
                if let Some(path) = square(*x, *y, *side) {
                    surface.draw_path(&path);
                }
            }
            Mark::Picture {
                x,
                y,
                width,
                height,
                number,
            } => {
                return self.picture(surface, *number, (*x, *y), (*width, *height));
            }
        }
        Ok(())
    }

    fn picture(
        &self,
        surface: &mut Surface<'_>,
        number: usize,
        at: (f32, f32),
        size: (f32, f32),
    ) -> Result<(), PdfError> {
        let (name, tree) = self
            .pictures
            .get(number)
            .ok_or_else(|| PdfError::Write(format!("picture {number} is missing")))?;
        surface.push_transform(&Transform::from_translate(at.0, at.1));
        let drawn = Size::from_wh(size.0, size.1)
            .and_then(|size| surface.draw_svg(tree, size, SvgSettings::default()));
        surface.pop();
        drawn.ok_or_else(|| PdfError::Figure {
            name: (*name).to_owned(),
            why: "it has no size or uses what a PDF cannot show".to_owned(),
        })
    }

    /// What it is at the left, the page's number at the right.
    fn foot(&self, surface: &mut Surface<'_>, chapter: &str, (number, of): (usize, usize)) {
        let (width, height) = self.paper.size();
        let y = height - 10.0 * MM;
        let page = format!("page {number} of {of}");
        let right = width - SIDE - self.fonts.width(&page, SMALL);
        let room = right - SIDE - 12.0;
        let several = self.sheet.parts.iter().filter(|part| part.new_page).count() > 1;
        let foot = match chapter {
            chapter if several && !chapter.is_empty() => format!("{chapter} - {}", self.sheet.foot),
            _ => self.sheet.foot.clone(),
        };
        let mut left = self.fonts.lines(&foot, SMALL, room);
        left.truncate(1);
        let left = left.into_iter().map(|text| (SIDE, text));
        for (x, text) in left.chain([(right, page)]) {
            surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(
                ArtifactType::PaginationOther,
            )));
            let mark = Mark::Text {
                x,
                y,
                set: SMALL,
                ink: Ink::Soft,
                text,
            };
            // Text is always drawn; only pictures can fail.
            let _ = self.mark(surface, &mark);
            surface.end_tagged();
        }
    }
}

/// Chapters, and their sections below them.
fn outline(pages: &[Page]) -> Outline {
    let mut chapters: Vec<OutlineNode> = Vec::new();
    for (number, page) in pages.iter().enumerate() {
        for (depth, words, y) in &page.bookmarks {
            let at = XyzDestination::new(number, Point::from_xy(SIDE, ABOVE + y));
            let node = OutlineNode::new(words.clone(), at);
            match chapters.last_mut() {
                Some(chapter) if *depth > 1 => chapter.push_child(node),
                _ => chapters.push(node),
            }
        }
    }
    let mut outline = Outline::new();
    for chapter in chapters {
        outline.push_child(chapter);
    }
    outline
}
