//! Width against depth: what every turn pair should measure, and what it does.

use nalgebra::Point2;

use super::scale::{Axis, Frame};
use super::sheet::{BELOW_HEADING, INK, MARGIN, Mark, MarkKind, NEW, OLD, Pen, Set, Sheet, WIDTH};
use super::{Figure, Of};
use crate::measure::Length;

const TARGET: Mark = Mark::open(MarkKind::Dot, 4.0);
const FRONT: Pen = Pen::new(NEW, 2.0, "");
const BACK: Pen = Pen::new(OLD, 2.0, "6 4");
const UPPER: f64 = 230.0;
const LOWER: f64 = 130.0;

pub(super) fn depth_width(of: &Of<'_>) -> Figure {
    let (size, units) = (of.size, of.case.units);
    let m = &size.fit.measures;
    let sides = [
        ("front", FRONT, &m.front.half_widths_cm),
        ("back", BACK, &m.back.half_widths_cm),
    ];
    let alike = m.front.half_widths_cm == m.back.half_widths_cm;
    let sides = sides.get(..if alike { 1 } else { 2 }).unwrap_or(&sides);
    let shown =
        |cm: &[f64]| -> Vec<f64> { cm.iter().map(|cm| units.number(Length::cm(*cm))).collect() };
    let targets = shown(&size.targets_cm);
    let fits: Vec<Vec<f64>> = sides.iter().map(|side| shown(side.2)).collect();
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let mut next = sheet.mark_key((MARGIN, keys), TARGET, INK, "old cap's share");
    for (name, pen, _) in sides {
        let name = if alike { "new cap" } else { name };
        let text = if alike {
            name.to_owned()
        } else {
            format!("new, {name}")
        };
        next = sheet.key((next, keys), *pen, &text);
    }
    let top = BELOW_HEADING + 68.0;
    let upper = Frame {
        left: 74.0,
        right: WIDTH - MARGIN,
        top,
        bottom: top + UPPER,
    };
    let lower = Frame {
        top: upper.bottom + 50.0,
        bottom: upper.bottom + 50.0 + LOWER,
        ..upper
    };
    let depth = units.number(m.depth);
    let along = Axis {
        from: 0.0,
        to: depth,
        low: upper.left,
        high: upper.right,
    };
    let pair = depth / targets.len().max(1) as f64;
    let depths: Vec<f64> = (0..targets.len())
        .map(|i| pair * (i as f64 + 0.5))
        .collect();

    let head = format!("half width of the turn pairs ({units})");
    sheet.text((MARGIN, upper.top - 18.0), Set::LABEL, &head);
    let all: Vec<f64> = fits.iter().flatten().chain(&targets).copied().collect();
    let axis = Axis::of(&all, true, upper.bottom, upper.top);
    upper.across(&mut sheet, &axis, &axis.marks(6));
    for ((_, pen, _), fit) in sides.iter().zip(&fits) {
        sheet.line(&stepped(&along, &axis, fit, pair), *pen, &[]);
    }
    for (depth, target) in depths.iter().zip(&targets) {
        sheet.mark((along.at(*depth), axis.at(*target)), TARGET, INK);
    }

    let head = format!("new less old ({units})");
    sheet.text((MARGIN, lower.top - 18.0), Set::LABEL, &head);
    let off: Vec<Vec<f64>> = fits.iter().map(|fit| differences(fit, &targets)).collect();
    let all: Vec<f64> = off.iter().flatten().copied().collect();
    let axis = Axis::of(&all, true, lower.bottom, lower.top);
    lower.across(&mut sheet, &axis, &axis.marks(4));
    for ((_, pen, _), off) in sides.iter().zip(&off) {
        sheet.line(&stepped(&along, &axis, off, pair), *pen, &[]);
    }
    lower.below(&mut sheet, &along, &along.marks(8));
    let foot = lower.bottom + 44.0;
    let said = format!("depth below the top ({units}), crown to underarm");
    sheet.text((WIDTH - MARGIN, foot), Set::LABEL.end(), &said);
    let farthest = all.iter().map(|x| x.abs()).fold(0.0, f64::max);
    let words = format!(
        "Half width of each of {} turn pairs against depth: circles are what the old cap has there, spread over the same share of the depth, lines the new cap. Root mean square of the difference {}, largest {:.2} {units}.",
        targets.len(),
        units.show_fine(m.width_rms),
        farthest,
    );
    let about = of.about("depth-width", "Width against depth", words, None);
    sheet.finish(about, foot + 16.0)
}

fn differences(fit: &[f64], targets: &[f64]) -> Vec<f64> {
    fit.iter()
        .zip(targets)
        .map(|(fit, target)| fit - target)
        .collect()
}

/// One level for each turn pair.
fn stepped(along: &Axis, axis: &Axis, levels: &[f64], pair: f64) -> Vec<Point2<f64>> {
    let steps = levels.iter().enumerate();
    steps
        .flat_map(|(i, level)| {
            let y = axis.at(*level);
            let x = |n: usize| along.at(pair * n as f64);
            [Point2::new(x(i), y), Point2::new(x(i + 1), y)]
        })
        .collect()
}
