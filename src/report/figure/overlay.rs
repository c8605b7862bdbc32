//! Old and new cap over one another, true to scale, with rulers in centimetres and inches.

use super::outline::{closed, mirrored, new_edge, new_steps, old_steps};
use super::scale::True;
use super::sheet::{BELOW_HEADING, MARGIN, NEW, OLD_FILL, Pen, SMALL, Set, Sheet, WIDTH};
use super::{Figure, Of};
use crate::measure::{Length, Units};

pub(super) fn overlay(of: &Of<'_>) -> Figure {
    let size = of.size;
    let (old, new) = (&size.old.cap, &size.fit.measures);
    let join = size.gauge.cap.width(size.fit.plan.upper_arm());
    let widest_cm = old.upper_arm().to_cm().max(join.to_cm());
    let deepest_cm = old.depth().to_cm().max(new.depth.to_cm());
    let k = ((WIDTH - 2.0 * SIDE) / widest_cm).min(TALLEST / deepest_cm);
    let map = True {
        origin: (WIDTH / 2.0, BELOW_HEADING + 84.0),
        k,
    };
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    sheet.key((MARGIN, keys), Pen::OLD, &of.old_words());
    sheet.key((MARGIN, keys + 22.0), Pen::NEW, &of.new_words());
    let (front, back) = (new_steps(size, &new.front), new_steps(size, &new.back));
    let rows = old_steps(old);
    let what = |what: &str| [("data-outline", what.to_owned())];
    sheet.shape(
        &map.all(&closed(&rows, &rows)),
        OLD_FILL,
        None,
        &what("old"),
    );
    sheet.shape(
        &map.all(&closed(&front, &back)),
        "none",
        Some(Pen::NEW),
        &what("new"),
    );
    edges(&mut sheet, map, of);
    rulers(
        &mut sheet,
        map,
        Length::cm(widest_cm),
        Length::cm(deepest_cm),
    );
    sheet.finish(
        of.about("overlay", "Old and new cap", of.overlay_words(), Some(k)),
        map.origin.1 + k * deepest_cm + 50.0,
    )
}

/// Room for the rulers at the sides.
const SIDE: f64 = 62.0;
/// The deepest a drawing may be.
const TALLEST: f64 = 420.0;

/// The net outline of the old cap and the curve of the new one, with the underarm bind-off.
fn edges(sheet: &mut Sheet, map: True, of: &Of<'_>) {
    let size = of.size;
    let what = |what: &str| [("data-edge", what.to_owned())];
    let old = size.old.cap.edge_points_cm();
    sheet.line(&map.all(&old), Pen::OLD, &what("old-front"));
    sheet.line(&map.all(&mirrored(&old)), Pen::OLD, &what("old-back"));
    let thin = Pen::new(NEW, 1.2, "");
    let front = new_edge(size, &size.fit.measures.front);
    let back = new_edge(size, &size.fit.measures.back);
    sheet.line(&map.all(&front), thin, &what("new-front"));
    sheet.line(&map.all(&mirrored(&back)), thin, &what("new-back"));
}

/// A ruler of each unit: centimetres below and at the left, inches above and at the right.
///
/// Across, both count from the centre line; down, from the top of the caps.
fn rulers(sheet: &mut Sheet, map: True, width: Length, depth: Length) {
    let half = width / 2.0;
    let at = |x: Length, y: Length| map.at(x.to_cm(), y.to_cm());
    let (left, top) = at(Length::ZERO - half, Length::ZERO);
    let (right, bottom) = at(half, depth);
    for scale in [Ruler::CM, Ruler::IN] {
        let marks = scale.units.number(half);
        for (number, long) in scale.marks(-marks, marks) {
            let x = at(scale.units.length(number), Length::ZERO).0;
            let y = if scale.is_cm() {
                bottom + GAP
            } else {
                top - GAP
            };
            let out = scale.out(long);
            sheet.rule((x, y), (x, y + out), Pen::AXIS);
            if long {
                let base = if scale.is_cm() { y + 25.0 } else { y - 13.0 };
                let text = format!("{}", number.abs());
                sheet.text((x, base), Set::LABEL.middle(), &text);
            }
        }
        for (number, long) in scale.marks(0.0, scale.units.number(depth)) {
            let y = at(Length::ZERO, scale.units.length(number)).1;
            let x = if scale.is_cm() {
                left - GAP
            } else {
                right + GAP
            };
            let out = scale.out(long);
            sheet.rule((x, y), (x - out, y), Pen::AXIS);
            if long {
                let (x, set) = if scale.is_cm() {
                    (x - 13.0, Set::LABEL.end())
                } else {
                    (x + 13.0, Set::LABEL)
                };
                sheet.text((x, y + SMALL / 3.0), set, &format!("{number}"));
            }
        }
    }
    sheet.rule((left, bottom + GAP), (right, bottom + GAP), Pen::AXIS);
    sheet.rule((left, top - GAP), (right, top - GAP), Pen::AXIS);
    sheet.rule((left - GAP, top), (left - GAP, bottom), Pen::AXIS);
    sheet.rule((right + GAP, top), (right + GAP, bottom), Pen::AXIS);
    sheet.text(
        (left - GAP - 13.0, bottom + GAP + 25.0),
        Set::LABEL.end(),
        "cm",
    );
    sheet.text((right + GAP + 13.0, top - GAP - 13.0), Set::LABEL, "in");
}

/// Between drawing and ruler.
const GAP: f64 = 10.0;

/// Which marks a ruler has.
#[derive(Clone, Copy)]
struct Ruler {
    units: Units,
    /// Every so many short marks a long one with a number.
    long_every: i32,
}

impl Ruler {
    const CM: Self = Self {
        units: Units::Cm,
        long_every: 5,
    };
    const IN: Self = Self {
        units: Units::In,
        long_every: 2,
    };

    fn is_cm(self) -> bool {
        self.units == Units::Cm
    }

    /// Length and direction of a mark: outward, away from the drawing.
    fn out(self, long: bool) -> f64 {
        let length = if long { 9.0 } else { 5.0 };
        if self.is_cm() { length } else { -length }
    }

    /// Whole numbers between these two, and whether the mark is a long one.
    fn marks(self, from: f64, to: f64) -> impl Iterator<Item = (f64, bool)> {
        let whole = (-100..=100).filter(move |n| (from..=to).contains(&f64::from(*n)));
        whole.map(move |n| (f64::from(n), n % self.long_every == 0))
    }
}
