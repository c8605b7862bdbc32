//! Where along the armhole the new cap puckers or pulls, by runs, where their stitches are picked up.

use nalgebra::Point2;

use super::scale::{Axis, ChartFrame};
use super::sheet::{BELOW_HEADING, INK, MARGIN, NEW, NEW_FILL, Pen, SMALL, Sheet, TextSet, WIDTH};
use super::{Figure, Of};
use crate::fit::{SideMeasures, Stretch};
use crate::measure::Length;
use crate::report::number::signed_pct;

/// Height of one panel.
const PANEL: f64 = 170.0;
/// From one panel to the next.
const APART: f64 = 96.0;

pub(super) fn ease_strip(of: &Of<'_>) -> Figure {
    let measures = &of.size.fit.measures;
    let alike = measures.front.moves == measures.back.moves;
    let both = [("front", &measures.front), ("back", &measures.back)];
    let panels = both.get(..if alike { 1 } else { 2 }).unwrap_or(&both);
    let all: Vec<f64> = panels
        .iter()
        .flat_map(|(_, side)| side.runs())
        .map(|run| run.strain_pct())
        .collect();
    let mut sheet = Sheet::default();
    sheet.text(
        (MARGIN, BELOW_HEADING + 14.0),
        TextSet::LABEL,
        "cap longer than its armhole in per cent: above the line it puckers, below pulls",
    );
    let mut top = BELOW_HEADING + 66.0;
    let mut words = Vec::new();
    for (name, side) in panels {
        let name = if alike { "front and back alike" } else { name };
        let head = format!(
            "{name}: flank {}, with the crown {} in all",
            signed_pct(flank_pct(side)),
            signed_pct(side.ease_pct())
        );
        sheet.text((MARGIN, top - 18.0), TextSet::LABEL, &head);
        panel(&mut sheet, side, &all, top);
        words.push(format!("{head}. From the crown down {}", listed(side)));
        top += PANEL + APART;
    }
    let words = format!(
        "Strain along the flank, cap edge against the armhole that its stitches are picked up from: {}.",
        words.join(". ")
    );
    let about = of.about("ease-strip", "Ease along the armhole", words, None);
    sheet.finish(about, top - APART + 64.0)
}

/// Cap edge longer than the armhole along the flank, without the crown.
fn flank_pct(side: &SideMeasures) -> f64 {
    let sum = |of: fn(&Stretch) -> Length| side.runs().iter().map(of).sum::<Length>();
    100.0 * (sum(|run| run.cap) / sum(|run| run.armhole) - 1.0)
}

/// `2 turn pairs, 4 sts: -3.1 %; ...`
fn listed(side: &SideMeasures) -> String {
    let runs = side.runs();
    let runs = runs.iter().map(|run| {
        let pairs = if run.moves == 1 { "pair" } else { "pairs" };
        format!(
            "{} {pairs}, {}: {}",
            run.moves,
            run.stitches,
            signed_pct(run.strain_pct())
        )
    });
    runs.collect::<Vec<String>>().join("; ")
}

pub(super) fn rectangle(left: f64, top: f64, right: f64, bottom: f64) -> [Point2<f64>; 4] {
    [
        Point2::new(left, top),
        Point2::new(right, top),
        Point2::new(right, bottom),
        Point2::new(left, bottom),
    ]
}

fn panel(sheet: &mut Sheet, side: &SideMeasures, numbers: &[f64], top: f64) {
    let frame = ChartFrame {
        left: 74.0,
        right: WIDTH - MARGIN,
        top,
        bottom: top + PANEL,
    };
    let axis = Axis::of(numbers, true, frame.bottom, frame.top);
    frame.across(sheet, &axis, &axis.marks(6));
    let runs = side.runs();
    let whole: f64 = runs.iter().map(|run| run.armhole.to_cm()).sum();
    let scale = (frame.right - frame.left) / whole.max(f64::MIN_POSITIVE);
    let mut left = frame.left;
    for run in &runs {
        let right = left + scale * run.armhole.to_cm();
        let corners = rectangle(left, axis.at(run.strain_pct()), right, axis.at(0.0));
        sheet.shape(&corners, NEW_FILL, Some(Pen::new(NEW, 1.4, "")), &[]);
        label(sheet, run, (left, right), frame.bottom + 20.0);
        left = right;
    }
    sheet.rule(
        (frame.left, axis.at(0.0)),
        (frame.right, axis.at(0.0)),
        Pen::AXIS,
    );
    let base = frame.bottom + 44.0;
    sheet.text((frame.left, base), TextSet::LABEL, "crown");
    sheet.text((frame.right, base), TextSet::LABEL.end(), "underarm");
    let arrow = f64::midpoint(frame.left, frame.right);
    let y = base - SMALL / 3.0;
    sheet.rule((arrow - 90.0, y), (arrow + 82.0, y), Pen::AXIS);
    let head = [
        Point2::new(arrow + 90.0, y),
        Point2::new(arrow + 80.0, y - 4.0),
        Point2::new(arrow + 80.0, y + 4.0),
    ];
    sheet.shape(&head, INK, None, &[]);
}

/// How many stitches the run is picked up with, where there is room to say it.
fn label(sheet: &mut Sheet, run: &Stretch, (left, right): (f64, f64), y: f64) {
    let text = run.stitches.to_string();
    // Fonts differ: a letter's room is left between two labels.
    if super::letters::width_of(&text, SMALL) + SMALL < right - left {
        sheet.text(
            (f64::midpoint(left, right), y),
            TextSet::LABEL.middle(),
            &text,
        );
    }
}
