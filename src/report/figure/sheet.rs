//! The sheet a figure is drawn on: one width, one set of lines, letters and greys for all figures.
//!
//! Black and white must do: what a colour says is said by a line pattern, a sign or a word too.
//! The smallest letters are 15 units on a width of 640: 5.3 pt when a figure is printed 8 cm wide.

use nalgebra::Point2;
use serde::Serialize;

use super::letters::{fitted, width_of};
use super::svg::{Attr, close, empty, leaf, line_data, num, open};

/// A figure, ready to be written to a file or set into a page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// What it is asked for by, one of its own among the figures of a size: its kind, and of several of a
    /// kind their number as well: `chart-piece`, `chart-piece-2`.
    pub name: String,
    /// What kind it is: `overlay`, `armhole`, ...
    pub kind: &'static str,
    /// Kind and size, unique on a page: `overlay-1`. All ids in the SVG begin with it.
    pub id: String,
    /// One line: what is shown, the case's title, the size.
    pub title: String,
    /// What is seen, in words, with the numbers.
    pub description: String,
    /// The SVG element, without an XML declaration.
    pub svg: String,
    /// Width in user units.
    #[serde(skip)]
    pub width: f64,
    /// Height in user units.
    #[serde(skip)]
    pub height: f64,
    /// User units for one centimetre of fabric, for a figure drawn true to scale.
    #[serde(skip)]
    pub units_per_cm: Option<f64>,
}

/// Width of every figure in user units.
pub(super) const WIDTH: f64 = 640.0;
/// Letters of labels.
pub(super) const SMALL: f64 = 15.0;
/// Letters of the heading.
pub(super) const LARGE: f64 = 19.0;
/// Space kept free at the left and the right edge.
pub(super) const MARGIN: f64 = 14.0;
/// Where a drawing may begin, below the heading.
pub(super) const BELOW_HEADING: f64 = 62.0;

/// Text and axes.
pub(super) const INK: &str = "#22303a";
/// What belongs to the old garment.
pub(super) const OLD: &str = "#7d4a1e";
/// What belongs to the new cap.
pub(super) const NEW: &str = "#0f5570";
/// Fill of the old cap.
pub(super) const OLD_FILL: &str = "#efe6da";
/// Fill of the new cap.
pub(super) const NEW_FILL: &str = "#dfeaef";
/// Lines that only guide the eye.
pub(super) const GUIDE: &str = "#b9c2c7";
/// Paper.
pub(super) const PAPER: &str = "#ffffff";

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pen {
    pub(super) colour: &'static str,
    pub(super) width: f64,
    /// Dash pattern, empty for an unbroken line.
    pub(super) dash: &'static str,
}

impl Pen {
    /// Axes and frames.
    pub(super) const AXIS: Self = Self::new(INK, 1.0, "");
    /// Guides.
    pub(super) const GUIDE: Self = Self::new(GUIDE, 1.0, "");
    /// The old garment: dashed wherever it stands beside the new.
    pub(super) const OLD: Self = Self::new(OLD, 2.4, "9 5");
    /// The new cap: unbroken.
    pub(super) const NEW: Self = Self::new(NEW, 2.4, "");

    pub(super) const fn new(colour: &'static str, width: f64, dash: &'static str) -> Self {
        Self {
            colour,
            width,
            dash,
        }
    }

    pub(super) fn attrs(self) -> Vec<Attr> {
        let mut attrs = vec![
            ("stroke", self.colour.to_owned()),
            ("stroke-width", num(self.width)),
        ];
        if !self.dash.is_empty() {
            attrs.push(("stroke-dasharray", self.dash.to_owned()));
        }
        attrs
    }
}

/// The form of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum MarkKind {
    Dot,
    Triangle,
    Square,
}

/// A mark: its form, half its size, and whether it is open.
#[derive(Clone, Copy, Debug)]
pub(super) struct PointMark {
    pub(super) kind: MarkKind,
    pub(super) radius: f64,
    pub(super) open: bool,
}

impl PointMark {
    pub(super) const fn full(kind: MarkKind, radius: f64) -> Self {
        Self {
            kind,
            radius,
            open: false,
        }
    }

    pub(super) const fn open(kind: MarkKind, radius: f64) -> Self {
        Self {
            kind,
            radius,
            open: true,
        }
    }
}

/// Where a text hangs on its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hang {
    Start,
    Middle,
    End,
}

/// How a text is set.
#[derive(Clone, Copy, Debug)]
pub(super) struct TextSet {
    pub(super) hang: Hang,
    pub(super) size: f64,
    pub(super) colour: &'static str,
}

impl TextSet {
    pub(super) const LABEL: Self = Self {
        hang: Hang::Start,
        size: SMALL,
        colour: INK,
    };

    pub(super) const fn middle(self) -> Self {
        Self {
            hang: Hang::Middle,
            ..self
        }
    }

    pub(super) const fn end(self) -> Self {
        Self {
            hang: Hang::End,
            ..self
        }
    }

    pub(super) const fn colour(self, colour: &'static str) -> Self {
        Self { colour, ..self }
    }
}

/// What a figure is about.
#[derive(Clone, Debug)]
pub(super) struct About {
    pub(super) name: &'static str,
    /// What makes its ids unique on a page beside `name`: the place of the size.
    pub(super) place: String,
    /// What it shows: `Old and new cap`.
    pub(super) heading: &'static str,
    /// Of what: `Tern Harbour pullover, one size`.
    pub(super) subject: String,
    /// In words, with the numbers.
    pub(super) description: String,
    /// User units for one centimetre, where it is drawn to scale.
    pub(super) units_per_cm: Option<f64>,
}

/// A figure in the making.
#[derive(Clone, Debug, Default)]
pub(super) struct Sheet {
    out: String,
}

impl Sheet {
    /// A broken line through the points; more attributes are added as they are.
    pub(super) fn line(&mut self, points: &[Point2<f64>], pen: Pen, more: &[Attr]) {
        self.path(&line_data(points), "none", Some(pen), more);
    }

    /// A closed shape.
    pub(super) fn shape(
        &mut self,
        points: &[Point2<f64>],
        fill: &str,
        pen: Option<Pen>,
        more: &[Attr],
    ) {
        self.path(&(line_data(points) + "Z"), fill, pen, more);
    }

    fn path(&mut self, data: &str, fill: &str, pen: Option<Pen>, more: &[Attr]) {
        let mut attrs: Vec<Attr> = vec![("d", data.to_owned()), ("fill", fill.to_owned())];
        attrs.extend(pen.into_iter().flat_map(Pen::attrs));
        attrs.push(("stroke-linejoin", "round".to_owned()));
        attrs.extend(more.iter().cloned());
        empty(&mut self.out, "path", &attrs);
    }

    /// Straight lines with one pen.
    pub(super) fn segments(&mut self, lines: &[[(f64, f64); 2]], pen: Pen) {
        if lines.is_empty() {
            return;
        }
        let data: String = lines
            .iter()
            .map(|line| line_data(&line.map(|(x, y)| Point2::new(x, y))))
            .collect();
        self.path(&data, "none", Some(pen), &[]);
    }

    /// A straight line.
    pub(super) fn rule(&mut self, from: (f64, f64), to: (f64, f64), pen: Pen) {
        let mut attrs = vec![
            ("x1", num(from.0)),
            ("y1", num(from.1)),
            ("x2", num(to.0)),
            ("y2", num(to.1)),
        ];
        attrs.extend(pen.attrs());
        empty(&mut self.out, "line", &attrs);
    }

    /// A dot.
    pub(super) fn dot(&mut self, at: (f64, f64), radius: f64, fill: &str, pen: Option<Pen>) {
        let mut attrs = vec![
            ("cx", num(at.0)),
            ("cy", num(at.1)),
            ("r", num(radius)),
            ("fill", fill.to_owned()),
        ];
        attrs.extend(pen.into_iter().flat_map(Pen::attrs));
        empty(&mut self.out, "circle", &attrs);
    }

    /// A line of text; `y` is its base line.
    pub(super) fn text(&mut self, at: (f64, f64), set: TextSet, text: &str) {
        let anchor = match set.hang {
            Hang::Start => "start",
            Hang::Middle => "middle",
            Hang::End => "end",
        };
        let attrs = [
            ("x", num(at.0)),
            ("y", num(at.1)),
            ("font-size", num(set.size)),
            ("fill", set.colour.to_owned()),
            ("text-anchor", anchor.to_owned()),
        ];
        leaf(&mut self.out, "text", &attrs, text);
    }

    /// A mark of this kind round a point.
    pub(super) fn mark(&mut self, at: (f64, f64), mark: PointMark, colour: &str) {
        let (x, y) = at;
        let r = mark.radius;
        let pen = Some(Pen::new(INK, 1.2, "")).filter(|_| mark.open);
        let fill = if mark.open { PAPER } else { colour };
        let corners: &[(f64, f64)] = match mark.kind {
            MarkKind::Dot => return self.dot(at, r, fill, pen),
            MarkKind::Triangle => &[(-r, 0.8 * r), (r, 0.8 * r), (0.0, -r)],
            MarkKind::Square => &[(-r, -r), (r, -r), (r, r), (-r, r)],
        };
        let points: Vec<Point2<f64>> = corners
            .iter()
            .map(|(dx, dy)| Point2::new(x + dx, y + dy))
            .collect();
        self.shape(&points, fill, pen, &[]);
    }

    /// Opens a group with words of its own, which a reader may show at the pointer.
    pub(super) fn open_group(&mut self, attrs: &[Attr], title: &str) {
        open(&mut self.out, "g", attrs);
        leaf(&mut self.out, "title", &[], title);
    }

    /// Closes the group opened last.
    pub(super) fn close_group(&mut self) {
        close(&mut self.out, "g");
    }

    /// A mark with what it stands for; where the next one may begin.
    pub(super) fn mark_key(
        &mut self,
        at: (f64, f64),
        mark: PointMark,
        colour: &str,
        text: &str,
    ) -> f64 {
        let (x, y) = at;
        self.mark((x + 8.0, y - SMALL / 3.0), mark, colour);
        self.text((x + 22.0, y), TextSet::LABEL, text);
        x + 22.0 + width_of(text, SMALL) + 22.0
    }

    /// A line pattern with what it stands for; where the next one may begin.
    pub(super) fn key(&mut self, at: (f64, f64), pen: Pen, text: &str) -> f64 {
        let (x, y) = at;
        self.rule((x, y - SMALL / 3.0), (x + 34.0, y - SMALL / 3.0), pen);
        self.text((x + 42.0, y), TextSet::LABEL.colour(pen.colour), text);
        x + 42.0 + width_of(text, SMALL) + 22.0
    }

    /// The finished figure of this height, rounded up to a whole unit.
    pub(super) fn finish(self, about: About, height: f64) -> Figure {
        let height = height.ceil();
        let title = format!("{}: {}", about.heading, about.subject);
        let id = format!("{}-{}", about.name, about.place);
        let (title_id, desc_id) = (format!("{id}-title"), format!("{id}-desc"));
        let mut svg = String::new();
        let mut attrs = vec![
            ("xmlns", "http://www.w3.org/2000/svg".to_owned()),
            ("viewBox", format!("0 0 {} {}", num(WIDTH), num(height))),
            ("role", "img".to_owned()),
            ("aria-labelledby", format!("{title_id} {desc_id}")),
            ("font-family", "DejaVu Sans, sans-serif".to_owned()),
        ];
        attrs.extend(about.units_per_cm.map(|k| ("data-units-per-cm", num(k))));
        open(&mut svg, "svg", &attrs);
        svg.push('\n');
        leaf(&mut svg, "title", &[("id", title_id)], &title);
        leaf(&mut svg, "desc", &[("id", desc_id)], &about.description);
        let paper = [
            ("width", num(WIDTH)),
            ("height", num(height)),
            ("fill", PAPER.to_owned()),
        ];
        empty(&mut svg, "rect", &paper);
        let mut heading = Self::default();
        let large = TextSet {
            size: LARGE,
            ..TextSet::LABEL
        };
        heading.text((MARGIN, 26.0), large, about.heading);
        let subject = fitted(&about.subject, SMALL, WIDTH - 2.0 * MARGIN);
        heading.text((MARGIN, 48.0), TextSet::LABEL, &subject);
        svg.push_str(&heading.out);
        svg.push_str(&self.out);
        close(&mut svg, "svg");
        Figure {
            name: about.name.to_owned(),
            kind: about.name,
            id,
            title,
            description: about.description,
            svg,
            width: WIDTH,
            height,
            units_per_cm: about.units_per_cm,
        }
    }
}
