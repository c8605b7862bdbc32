//! Width against depth: what every turn pair should measure, and what it does.

use nalgebra::Point2;

use super::scale::{Axis, ChartFrame};
use super::sheet::{
    BELOW_HEADING, INK, MARGIN, MarkKind, NEW, OLD, Pen, PointMark, Sheet, TextSet, WIDTH,
};
use super::{Figure, Of};
use crate::measure::Length;

const TARGET: PointMark = PointMark::open(MarkKind::Dot, 4.0);
const FRONT: Pen = Pen::new(NEW, 2.0, "");
const BACK: Pen = Pen::new(OLD, 2.0, "6 4");
const UPPER: ChartFrame = ChartFrame {
    left: 74.0,
    right: WIDTH - MARGIN,
    top: BELOW_HEADING + 68.0,
    bottom: BELOW_HEADING + 298.0,
};
const LOWER: ChartFrame = ChartFrame {
    top: UPPER.bottom + 50.0,
    bottom: UPPER.bottom + 180.0,
    ..UPPER
};

pub(super) fn depth_width(of: &Of<'_>) -> Figure {
    let chart = WidthChart::new(of);
    let units = of.case.units;
    let mut sheet = Sheet::default();
    chart.keys(&mut sheet);
    let head = format!("half width of the turn pairs ({units})");
    sheet.text((MARGIN, UPPER.top - 18.0), TextSet::LABEL, &head);
    chart.widths(&mut sheet);
    let head = format!("new less old ({units})");
    sheet.text((MARGIN, LOWER.top - 18.0), TextSet::LABEL, &head);
    chart.differences(&mut sheet);
    LOWER.below(&mut sheet, &chart.depth, &chart.depth.marks(8));
    let foot = LOWER.bottom + 44.0;
    let said = format!("depth below the top ({units}), crown to underarm");
    sheet.text((WIDTH - MARGIN, foot), TextSet::LABEL.end(), &said);
    let about = of.about("depth-width", "Width against depth", chart.words(of), None);
    sheet.finish(about, foot + 16.0)
}

/// Half widths of the turn pairs in the case's units.
struct WidthChart {
    depth: Axis,
    targets: Vec<f64>,
    sides: Vec<DrawnSide>,
}

/// One flank; both where they are alike.
struct DrawnSide {
    name: &'static str,
    pen: Pen,
    halves: Vec<f64>,
    /// Half widths less targets.
    off: Vec<f64>,
}

impl WidthChart {
    fn new(of: &Of<'_>) -> Self {
        let (m, units) = (&of.size.fit.measures, of.case.units);
        let shown = |cm: &[f64]| -> Vec<f64> {
            let lengths = cm.iter().map(|cm| Length::cm(*cm));
            lengths.map(|length| units.number(length)).collect()
        };
        let targets = shown(&of.size.targets_cm);
        let side = |name, pen, halves_cm: &[f64]| {
            let halves = shown(halves_cm);
            let pairs = halves.iter().zip(&targets);
            DrawnSide {
                name,
                pen,
                off: pairs.map(|(half, target)| half - target).collect(),
                halves,
            }
        };
        let (front, back) = (&m.front.fabric_cm, &m.back.fabric_cm);
        let sides = if front == back {
            vec![side("new cap", FRONT, front)]
        } else {
            vec![
                side("new, front", FRONT, front),
                side("new, back", BACK, back),
            ]
        };
        Self {
            depth: Axis {
                from: 0.0,
                to: units.number(m.depth),
                low: UPPER.left,
                high: UPPER.right,
            },
            targets,
            sides,
        }
    }

    fn keys(&self, sheet: &mut Sheet) {
        let y = BELOW_HEADING + 14.0;
        let mut x = sheet.mark_key((MARGIN, y), TARGET, INK, "old cap's share");
        for side in &self.sides {
            x = sheet.key((x, y), side.pen, side.name);
        }
    }

    /// Where so many turn pairs from the top end.
    fn x(&self, pairs: f64) -> f64 {
        let share = pairs / self.targets.len().max(1) as f64;
        self.depth.at(share * self.depth.to)
    }

    fn widths(&self, sheet: &mut Sheet) {
        let halves = self.sides.iter().flat_map(|side| &side.halves);
        let all: Vec<f64> = halves.chain(&self.targets).copied().collect();
        let axis = Axis::of(&all, true, UPPER.bottom, UPPER.top);
        UPPER.across(sheet, &axis, &axis.marks(6));
        for side in &self.sides {
            sheet.line(&self.stepped(&axis, &side.halves), side.pen, &[]);
        }
        for (i, target) in self.targets.iter().enumerate() {
            let at = (self.x(i as f64 + 0.5), axis.at(*target));
            sheet.mark(at, TARGET, INK);
        }
    }

    fn differences(&self, sheet: &mut Sheet) {
        let off = self.sides.iter().flat_map(|side| &side.off);
        let all: Vec<f64> = off.copied().collect();
        let axis = Axis::of(&all, true, LOWER.bottom, LOWER.top);
        LOWER.across(sheet, &axis, &axis.marks(4));
        for side in &self.sides {
            sheet.line(&self.stepped(&axis, &side.off), side.pen, &[]);
        }
    }

    /// One level for each turn pair.
    fn stepped(&self, axis: &Axis, levels: &[f64]) -> Vec<Point2<f64>> {
        let steps = levels.iter().enumerate();
        let steps = steps.flat_map(|(i, level)| {
            let (from, to) = (self.x(i as f64), self.x(i as f64 + 1.0));
            let y = axis.at(*level);
            [Point2::new(from, y), Point2::new(to, y)]
        });
        steps.collect()
    }

    fn words(&self, of: &Of<'_>) -> String {
        let units = of.case.units;
        let off = self.sides.iter().flat_map(|side| &side.off);
        let farthest = off.map(|off| off.abs()).fold(0.0, f64::max);
        format!(
            "Half width of each of {} turn pairs against depth: circles are what the old cap has there, spread over the same share of the depth, lines the new cap. Root mean square of the difference {}, largest {farthest:.2} {units}.",
            self.targets.len(),
            units.show_fine(of.size.fit.measures.width_rms),
        )
    }
}
