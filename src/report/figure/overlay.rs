//! Old and new cap over one another, true to scale, with rulers in centimetres and inches.

use crate::report::flat::replaced;
use nalgebra::Point2;

use super::outline::{closed, mirrored, new_edge, new_steps, old_steps};
use super::scale::True;
use super::sheet::{BELOW_HEADING, MARGIN, NEW, OLD, OLD_FILL, Pen, SMALL, Sheet, TextSet, WIDTH};
use super::{Figure, Of, SIDES};
use crate::measure::{Length, Units};
use crate::outline::Cap;

/// Room for the rulers at the sides.
const SIDE: f64 = 66.0;
/// The deepest a drawing may be.
const TALLEST: f64 = 420.0;

pub(super) fn overlay(of: &Of<'_>) -> Figure {
    let size = of.size;
    let (old, new) = (&size.old.cap, &size.fit.measures);
    let printed = replaced(&size.old).map(|(_, cap)| cap);
    let longest = |a, b, of: fn(&Cap) -> Length| longer(longer(a, b), printed.map_or(a, of));
    let widest = longest(old.upper_arm(), join(of), Cap::upper_arm);
    let deepest = longest(old.depth(), new.depth, Cap::depth);
    let k = ((WIDTH - 2.0 * SIDE) / widest.to_cm()).min(TALLEST / deepest.to_cm());
    let map = True {
        origin: (WIDTH / 2.0, BELOW_HEADING + 84.0),
        k,
    };
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    sheet.key((MARGIN, keys), Pen::OLD, &of.old_words());
    sheet.key((MARGIN, keys + 22.0), Pen::NEW, &of.new_words());
    let what = |what: &str| [("data-outline", what.to_owned())];
    let rows = map.all(&closed(&old_steps(old), &old_steps(old)));
    sheet.shape(&rows, OLD_FILL, Some(Pen::new(OLD, 0.8, "")), &what("old"));
    let pairs = closed(&new_steps(size, &new.back), &new_steps(size, &new.front));
    let thin = Pen::new(NEW, 1.0, "");
    sheet.shape(&map.all(&pairs), "none", Some(thin), &what("new"));
    net_outlines(&mut sheet, map, of);
    if let Some(printed) = printed {
        let (edge, dashed) = (printed.edge_points_cm(), Pen::new(OLD, 1.2, "6 4"));
        let what = [("data-edge", "printed".to_owned())];
        sheet.line(&map.all(&mirrored(&edge)), dashed, &what);
        sheet.line(&map.all(&edge), dashed, &what);
    }
    rulers(&mut sheet, map, widest, deepest);
    let (left, right) = SIDES;
    let y = map.origin.1 + k * deepest.to_cm() - 14.0;
    let out = k * widest.to_cm() / 4.0;
    sheet.text((map.origin.0 - out, y), TextSet::LABEL.middle(), left);
    sheet.text((map.origin.0 + out, y), TextSet::LABEL.middle(), right);
    let note = map.origin.1 + k * deepest.to_cm() + 62.0;
    let said = match printed {
        Some(_) => "bold: net outline; dashed: old cap; steps: rows, pairs with picked-up row",
        None => "bold: net outline; steps: rows (old), turn pairs and picked-up row (new)",
    };
    sheet.text((MARGIN, note), TextSet::LABEL, said);
    let about = of.about_one_sleeve("overlay", "Old and new cap", words(of), Some(k));
    sheet.finish(about, note + 14.0)
}

/// The cap's side of the join.
fn join(of: &Of<'_>) -> Length {
    of.size.gauge.cap.width(of.size.fit.plan.cap_end())
}

fn longer(a: Length, b: Length) -> Length {
    if a > b { a } else { b }
}

fn words(of: &Of<'_>) -> String {
    let (units, size) = (of.case.units, of.size);
    format!(
        "Both caps over one another, true to scale, tops level; front at the left, back at the right. {}; upper arm {}. {}; upper arm {} in rounds, and {} at the cap's side of the join.",
        capital(&of.old_words()),
        units.show(size.old.cap.upper_arm()),
        capital(&of.new_words()),
        units.show(size.fit.measures.upper_arm),
        units.show(join(of)),
    )
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    first.into_iter().chain(letters).collect()
}

/// The curves of both caps and the underarm bind-offs beside them.
fn net_outlines(sheet: &mut Sheet, map: True, of: &Of<'_>) {
    let size = of.size;
    let what = |what: &str| [("data-edge", what.to_owned())];
    let (old, new) = (&size.old.cap, &size.fit.measures);
    let front = new_edge(size, &new.front);
    let back = new_edge(size, &new.back);
    let old_edge = old.edge_points_cm();
    sheet.line(&map.all(&mirrored(&front)), Pen::NEW, &what("new-front"));
    sheet.line(&map.all(&back), Pen::NEW, &what("new-back"));
    sheet.line(&map.all(&mirrored(&old_edge)), Pen::OLD, &what("old-front"));
    sheet.line(&map.all(&old_edge), Pen::OLD, &what("old-back"));
    let (old_arm, new_arm) = (old.upper_arm(), join(of));
    let underarms = [
        (Pen::NEW, back, new_arm, 1.0),
        (Pen::NEW, front, new_arm, -1.0),
        (Pen::OLD, old_edge.clone(), old_arm, 1.0),
        (Pen::OLD, old_edge, old_arm, -1.0),
    ];
    for (pen, edge, arm, side) in underarms {
        let Some(corner) = edge.last() else { continue };
        let end = Point2::new(side * arm.to_cm() / 2.0, corner.y);
        let from = Point2::new(side * corner.x, corner.y);
        sheet.line(&map.all(&[from, end]), pen, &what("underarm"));
    }
}

/// A ruler of each unit: centimetres below and at the left, inches above and at the right.
///
/// Across, both count from the centre line; down, from the top of the caps.
fn rulers(sheet: &mut Sheet, map: True, width: Length, depth: Length) {
    let half = width / 2.0;
    let (left, top) = map.at(-half.to_cm(), 0.0);
    let (right, bottom) = map.at(half.to_cm(), depth.to_cm());
    for ruler in [Ruler::CM, Ruler::IN] {
        let at = |number: f64| {
            let length = ruler.units.length(number).to_cm();
            map.at(length, length)
        };
        let half = ruler.units.number(half);
        for (number, mark) in ruler.marks(-half, half) {
            let y = if ruler.is_cm() {
                bottom + GAP
            } else {
                top - GAP
            };
            ruler.mark_across(sheet, (at(number).0, y), number.abs(), mark);
        }
        for (number, mark) in ruler.marks(0.0, ruler.units.number(depth)) {
            let x = if ruler.is_cm() {
                left - GAP
            } else {
                right + GAP
            };
            ruler.mark_down(sheet, (x, at(number).1), number, mark);
        }
    }
    let (out_left, out_right) = (left - GAP, right + GAP);
    sheet.rule((left, bottom + GAP), (right, bottom + GAP), Pen::AXIS);
    sheet.rule((left, top - GAP), (right, top - GAP), Pen::AXIS);
    sheet.rule((out_left, top), (out_left, bottom), Pen::AXIS);
    sheet.rule((out_right, top), (out_right, bottom), Pen::AXIS);
    let cm = (out_left - 13.0, bottom + GAP + 25.0);
    sheet.text(cm, TextSet::LABEL.end(), Units::Cm.word());
    let inches = (out_right + 13.0, top - GAP - 13.0);
    sheet.text(inches, TextSet::LABEL, Units::In.word());
}

/// Between drawing and ruler.
const GAP: f64 = 10.0;

/// A mark of a ruler; the long ones have a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tick {
    Long,
    Short,
}

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

    /// Length of a mark, away from the drawing: down and left for centimetres.
    fn out(self, mark: Tick) -> f64 {
        let length = match mark {
            Tick::Long => 9.0,
            Tick::Short => 5.0,
        };
        if self.is_cm() { length } else { -length }
    }

    /// Whole numbers between these two, and their marks.
    fn marks(self, from: f64, to: f64) -> impl Iterator<Item = (f64, Tick)> {
        let whole = (-200..=200).filter(move |n| (from..=to).contains(&f64::from(*n)));
        let mark = move |n| match n % self.long_every {
            0 => Tick::Long,
            _ => Tick::Short,
        };
        whole.map(move |n| (f64::from(n), mark(n)))
    }

    fn mark_across(self, sheet: &mut Sheet, (x, y): (f64, f64), number: f64, mark: Tick) {
        sheet.rule((x, y), (x, y + self.out(mark)), Pen::AXIS);
        if mark == Tick::Long {
            let base = if self.is_cm() { y + 25.0 } else { y - 13.0 };
            sheet.text((x, base), TextSet::LABEL.middle(), &format!("{number}"));
        }
    }

    fn mark_down(self, sheet: &mut Sheet, (x, y): (f64, f64), number: f64, mark: Tick) {
        sheet.rule((x, y), (x - self.out(mark), y), Pen::AXIS);
        if mark == Tick::Long {
            let (x, set) = if self.is_cm() {
                (x - 13.0, TextSet::LABEL.end())
            } else {
                (x + 13.0, TextSet::LABEL)
            };
            sheet.text((x, y + SMALL / 3.0), set, &format!("{number}"));
        }
    }
}
