//! The finished sleeve with its measurements.

use nalgebra::Point2;

use super::outline::{closed, mirrored, new_edge, tube_steps};
use super::scale::{True, kept_apart};
use super::sheet::{BELOW_HEADING, NEW, NEW_FILL, Pen, SMALL, Sheet, TextSet};
use super::{Figure, Of};
use crate::measure::{Length, Units, nearest_whole};

const WIDEST: f64 = 286.0;
const TALLEST: f64 = 400.0;
/// Where the words begin.
const WORDS: f64 = 366.0;
/// From the sleeve's ends to the lines of their widths.
const OFF: f64 = 13.0;
/// What is drawn of a tube that is not planned.
const STUB: Length = Length::cm(6.0);

pub(super) fn schematic(of: &Of<'_>) -> Figure {
    let drawn = DrawnOutlines::new(of);
    let k = (WIDEST / drawn.widest_cm()).min(TALLEST / drawn.height_cm());
    let map = True {
        origin: (14.0 + WIDEST / 2.0, BELOW_HEADING + 20.0 + OFF),
        k,
    };
    let mut sheet = Sheet::default();
    let pen = Pen::new(NEW, 2.0, "");
    let depth = of.size.fit.measures.depth.to_cm();
    sheet.shape(
        &map.all(&drawn.cap),
        NEW_FILL,
        Some(pen),
        &[("data-part", "cap".to_owned())],
    );
    let planned = of.size.tube.is_some();
    let side = if planned {
        pen
    } else {
        Pen::new(NEW, 2.0, "6 5")
    };
    let part = [("data-part", "tube".to_owned())];
    if planned {
        let outline = closed(&drawn.tube, &drawn.tube);
        sheet.shape(&map.all(&outline), "none", Some(side), &part);
    } else {
        sheet.line(&map.all(&drawn.tube), side, &part);
        sheet.line(&map.all(&mirrored(&drawn.tube)), side, &part);
    }
    measurements(&mut sheet, of, &drawn, map);
    let about = of.about("schematic", "The finished sleeve", words(of), Some(k));
    sheet.finish(
        about,
        map.origin.1 + k * (depth + drawn.tube_cm).max(110.0 / k) + 30.0 + OFF,
    )
}

/// The outlines in centimetres: `x` from the centre line, `y` from the top down.
struct DrawnOutlines {
    cap: Vec<Point2<f64>>,
    /// The right-hand side of the tube.
    tube: Vec<Point2<f64>>,
    tube_cm: f64,
    depth_cm: f64,
}

impl DrawnOutlines {
    fn new(of: &Of<'_>) -> Self {
        let size = of.size;
        let (m, gauge) = (&size.fit.measures, size.gauge.tube);
        let depth_cm = m.depth.to_cm();
        let join = size.gauge.cap.width(size.fit.plan.upper_arm()).to_cm() / 2.0;
        let corner = |edge: &mut Vec<Point2<f64>>| edge.push(Point2::new(join, depth_cm));
        let (mut front, mut back) = (new_edge(size, &m.front), new_edge(size, &m.back));
        corner(&mut front);
        corner(&mut back);
        let tube = size.tube.as_ref();
        let tube_cm = tube
            .map_or(STUB, |tube| gauge.height(tube.rows_below_underarm()))
            .to_cm();
        let half = m.upper_arm.to_cm() / 2.0;
        let stub = || vec![Point2::new(half, 0.0), Point2::new(half, tube_cm)];
        let steps = tube.map_or_else(stub, |tube| tube_steps(tube, gauge));
        Self {
            cap: closed(&back, &front),
            tube: steps
                .iter()
                .map(|p| Point2::new(p.x, p.y + depth_cm))
                .collect(),
            tube_cm,
            depth_cm,
        }
    }

    fn widest_cm(&self) -> f64 {
        let points = self.cap.iter().chain(&self.tube);
        2.0 * points.map(|p| p.x.abs()).fold(0.0, f64::max)
    }

    fn height_cm(&self) -> f64 {
        self.depth_cm + self.tube_cm
    }
}

/// `1 + 44 rows`: the rows of a length, the one that lies there before the first is worked apart.
fn of_rows(before: f64, worked: u32, name: &str) -> String {
    match nearest_whole(before) {
        0 => format!("{worked} {name}"),
        before => format!("{before} + {worked} {name}"),
    }
}

/// Every measurement beside the sleeve, at its height, with a line that leads to it.
fn measurements(sheet: &mut Sheet, of: &Of<'_>, drawn: &DrawnOutlines, map: True) {
    let all = measured(of, drawn);
    let at = |y_cm: f64| map.at(0.0, y_cm).1;
    let bottom = at(drawn.height_cm());
    let wanted: Vec<f64> = all.iter().map(|one| at(one.middle()) + one.off).collect();
    let last = bottom.max(at(0.0) + 22.0 * (all.len() - 1) as f64);
    let places = kept_apart(&wanted, 22.0, last);
    let bar = map.at(drawn.widest_cm() / 2.0, 0.0).0 + 16.0;
    for (one, place) in all.iter().zip(places) {
        one.draw(sheet, map, bar, place);
    }
    if of.size.tube.is_none() {
        let y = bottom + 20.0;
        sheet.text(
            (map.origin.0, y),
            TextSet::LABEL.middle(),
            "tube not planned",
        );
    }
}

/// What is measured, from the crown down.
fn measured(of: &Of<'_>, drawn: &DrawnOutlines) -> Vec<Measurement> {
    let (units, size) = (of.case.units, of.size);
    let (plan, m) = (&size.fit.plan, &size.fit.measures);
    let (top, join) = (0.0, drawn.depth_cm);
    let bottom = drawn.height_cm();
    let of_crown = |half: &[f64]| half.first().copied().unwrap_or(0.0);
    let crown = of_crown(&m.front.half_widths_cm) + of_crown(&m.back.half_widths_cm);
    let crown = Length::cm(crown);
    let mut all = vec![
        Measurement::across((top, -OFF), "crown", units, crown).of(plan.crown.stitches.to_string()),
        Measurement::down((top, join), "cap depth", units, m.depth).of(of_rows(
            2.0 * m.picked_up.to_cm() / m.front.pair_heights_cm.first().copied().unwrap_or(1.0),
            2 * plan.turn_pairs(),
            "rows",
        )),
        Measurement::across((join, 0.0), "upper arm", units, m.upper_arm)
            .of(plan.upper_arm().to_string()),
    ];
    if let Some(tube) = &size.tube {
        let gauge = size.gauge.tube;
        let stitches = size.cuff_stitches().unwrap_or(tube.cuff);
        let (length, cuff) = (
            gauge.height(tube.rows_below_underarm()),
            gauge.width(stitches),
        );
        all.push(
            Measurement::down((join, bottom), "to cuff", units, length).of(of_rows(
                (tube.rows_below_underarm() - tube.rounds).as_f64(),
                tube.rounds.count(),
                "rounds",
            )),
        );
        all.push(Measurement::across((bottom, OFF), "cuff", units, cuff).of(stitches.to_string()));
    }
    all
}

/// One measurement: the heights it spans, and half its width when it goes across.
struct Measurement {
    from: f64,
    to: f64,
    edge: Option<Length>,
    /// How far from its height its line lies, so that it is seen beside the outline.
    off: f64,
    text: String,
}

impl Measurement {
    /// The line across the sleeve, or along it at `bar`, and the words at `place`.
    fn draw(&self, sheet: &mut Sheet, map: True, bar: f64, place: f64) {
        let at = |y_cm: f64| map.at(0.0, y_cm).1;
        let y = at(self.middle()) + self.off;
        let from = if let Some(half) = self.edge {
            let (left, right) = (map.at(-half.to_cm(), 0.0).0, map.at(half.to_cm(), 0.0).0);
            sheet.rule((left, y), (right, y), Pen::AXIS);
            sheet.rule((left, y - 5.0), (left, y + 5.0), Pen::AXIS);
            sheet.rule((right, y - 5.0), (right, y + 5.0), Pen::AXIS);
            right + 6.0
        } else {
            let (upper, lower) = (at(self.from) + 3.0, at(self.to) - 3.0);
            sheet.rule((bar, upper), (bar, lower), Pen::AXIS);
            sheet.rule((bar - 5.0, upper), (bar + 5.0, upper), Pen::AXIS);
            sheet.rule((bar - 5.0, lower), (bar + 5.0, lower), Pen::AXIS);
            bar
        };
        let knee = WORDS - 26.0;
        sheet.rule((from, y), (knee, y), Pen::GUIDE);
        sheet.rule((knee, y), (WORDS - 6.0, place), Pen::GUIDE);
        sheet.text((WORDS, place + SMALL / 3.0), TextSet::LABEL, &self.text);
    }

    fn across((y, off): (f64, f64), name: &str, units: Units, length: Length) -> Self {
        Self {
            from: y,
            to: y,
            edge: Some(length / 2.0),
            off,
            text: format!("{name} {}", units.show(length)),
        }
    }

    fn down((from, to): (f64, f64), name: &str, units: Units, length: Length) -> Self {
        Self {
            from,
            to,
            edge: None,
            off: 0.0,
            text: format!("{name} {}", units.show(length)),
        }
    }

    /// The stitches or rows that make it.
    fn of(self, count: impl std::fmt::Display) -> Self {
        Self {
            text: format!("{}, {count}", self.text),
            ..self
        }
    }

    fn middle(&self) -> f64 {
        f64::midpoint(self.from, self.to)
    }
}

fn words(of: &Of<'_>) -> String {
    let (units, size) = (of.case.units, of.size);
    let m = &size.fit.measures;
    let tube = size.tube.as_ref().map_or_else(
        || "The tube below is not planned.".to_owned(),
        |tube| {
            let cuff = size.cuff_stitches().unwrap_or(tube.cuff);
            format!(
                "Underarm to cuff {}, the row that joins counted as well, cuff {} ({cuff}).",
                units.show(size.gauge.tube.height(tube.rows_below_underarm())),
                units.show(size.gauge.tube.width(cuff)),
            )
        },
    );
    format!(
        "The finished sleeve laid flat, true to scale: upper arm {} ({}), cap depth {} with the row picked up, crown {}. {tube}",
        units.show(m.upper_arm),
        size.fit.plan.upper_arm(),
        units.show(m.depth),
        units.show(size.gauge.cap.width(size.fit.plan.crown.stitches)),
    )
}
