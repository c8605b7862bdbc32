//! The fabric map of the new cap: every turn pair a strip, with its turns, decreases and step.

use nalgebra::Point2;

use super::scale::kept_apart;
use super::sheet::{
    BELOW_HEADING, GUIDE, INK, MARGIN, MarkKind, NEW, NEW_FILL, PAPER, Pen, PointMark, SMALL,
    Sheet, TextSet, WIDTH,
};
use super::{Figure, Of, SIDES};
use crate::fit::SideMeasures;
use crate::measure::Stitches;
use crate::plan::FlankPlan;
use crate::wording::{CheckRow, Instructions};

/// Room for the steps at the left and the rows at the right.
const LEFT: f64 = 84.0;
const RIGHT: f64 = 82.0;
/// Between two lines of labels.
const LINE: f64 = 18.0;
const TURN: PointMark = PointMark::full(MarkKind::Dot, 3.2);
const DECREASE: PointMark = PointMark::open(MarkKind::Triangle, 5.5);

pub(super) fn fabric_map(of: &Of<'_>) -> Figure {
    let map = Map::new(of);
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let next = sheet.mark_key((MARGIN, keys), TURN, INK, "turn");
    let plan = &of.size.fit.plan;
    let decreases = plan.front.decreases() + plan.back.decreases();
    let next = if decreases > Stitches::ZERO {
        sheet.mark_key((next, keys), DECREASE, INK, "turn, with a decrease")
    } else {
        next
    };
    sheet.key((next, keys), MARKER, "marker");
    let heads = map.top - 16.0;
    sheet.text((MARGIN, heads), TextSet::LABEL, "step, worked");
    sheet.text((WIDTH - MARGIN, heads), TextSet::LABEL.end(), "rows");
    let (left, right) = SIDES;
    sheet.text((map.centre - 90.0, heads), TextSet::LABEL.end(), left);
    sheet.text((map.centre + 90.0, heads), TextSet::LABEL, right);
    for pair in 0..map.pairs() {
        map.strip(&mut sheet, pair);
    }
    map.steps(&mut sheet);
    map.base(&mut sheet);
    let bottom = map.y(map.pairs()) + 12.0;
    let stitches = of.size.fit.plan.upper_arm();
    let said = format!(
        "base {}; then rounds of {}",
        of.size.fit.plan.base(),
        stitches
    );
    sheet.text((map.centre, bottom + 22.0), TextSet::LABEL.middle(), &said);
    let about = of.about_one_sleeve("fabric-map", "Fabric map of the new cap", map.words(), None);
    sheet.finish(about, bottom + 38.0)
}

/// The knitter's markers: at both ends of the crown and of the base.
const MARKER: Pen = Pen::new(INK, 2.4, "2 3");

/// The strips: across true to scale, down as high as the labels need.
struct Map<'a> {
    of: &'a Of<'a>,
    centre: f64,
    top: f64,
    /// Height of a strip.
    high: f64,
    /// Units for one centimetre across.
    k: f64,
    rows: &'a [CheckRow],
    steps: Vec<StepOf>,
}

/// Consecutive turn pairs of one step of the pattern; the first pair has none.
struct StepOf {
    label: String,
    from: usize,
    to: usize,
}

impl<'a> Map<'a> {
    fn new(of: &'a Of<'a>) -> Self {
        let size = of.size;
        let pairs = size.fit.measures.front.half_widths_cm.len();
        let rows = of
            .written()
            .map_or(&[][..], |w| w.checklist.rows.as_slice());
        let steps = steps(rows, pairs);
        let shortest = steps.iter().map(|step| step.to - step.from).min();
        let wide = size.gauge.cap.width(size.fit.plan.upper_arm()).to_cm();
        let across = WIDTH - LEFT - RIGHT;
        // A step's label must find room beside its strips.
        let least = LINE / shortest.unwrap_or(1).max(1) as f64;
        Self {
            of,
            centre: LEFT + across / 2.0,
            top: BELOW_HEADING + 60.0,
            high: (400.0 / pairs as f64).clamp(9.0, LINE).max(least),
            k: across / wide,
            rows,
            steps,
        }
    }

    fn pairs(&self) -> usize {
        self.of.size.fit.measures.front.half_widths_cm.len()
    }

    fn y(&self, pair: usize) -> f64 {
        self.top + self.high * pair as f64
    }

    /// Left and right end of a turn pair.
    fn ends(&self, pair: usize) -> (f64, f64) {
        let m = &self.of.size.fit.measures;
        let half = |side: &SideMeasures| side.half_widths_cm.get(pair).copied().unwrap_or(0.0);
        (
            self.centre - self.k * half(&m.front),
            self.centre + self.k * half(&m.back),
        )
    }

    fn strip(&self, sheet: &mut Sheet, pair: usize) {
        let (left, right) = self.ends(pair);
        let (top, bottom) = (self.y(pair), self.y(pair + 1));
        let number = (pair + 1).to_string();
        sheet.open_group(&[("data-pair", number)], &self.pair_words(pair));
        let corners = [
            Point2::new(left, top),
            Point2::new(right, top),
            Point2::new(right, bottom),
            Point2::new(left, bottom),
        ];
        let step = self.steps.iter().position(|step| step.to > pair);
        let shaded = step.is_some_and(|step| step % 2 == 0);
        let fill = if shaded { NEW_FILL } else { PAPER };
        let pen = Pen::new(NEW, 1.0, "");
        sheet.shape(&corners, fill, Some(pen), &[]);
        let plan = &self.of.size.fit.plan;
        let middle = f64::midpoint(top, bottom);
        sheet.mark((left, middle), turn_mark(&plan.front, pair), INK);
        sheet.mark((right, middle), turn_mark(&plan.back, pair), INK);
        sheet.close_group();
    }

    /// Labels of the steps at the left, their rows at the right.
    fn steps(&self, sheet: &mut Sheet) {
        let middle = |step: &StepOf| f64::midpoint(self.y(step.from), self.y(step.to));
        let wanted: Vec<f64> = self.steps.iter().map(middle).collect();
        let last = self.y(self.pairs()) - LINE / 2.0;
        let places = kept_apart(&wanted, LINE, last.max(self.top));
        for (step, y) in self.steps.iter().zip(places) {
            let base = y + SMALL / 3.0;
            // Stitches worked when the step is done, as the pattern counts them.
            let last = (2 * step.to)
                .checked_sub(1)
                .and_then(|row| self.rows.get(row));
            let worked = last.map_or_else(String::new, |row| row.worked.to_string());
            let label = format!("{} {worked}", step.label);
            sheet.text((MARGIN, base), TextSet::LABEL, label.trim());
            let rows = format!("{}-{}", 2 * step.from + 1, 2 * step.to);
            sheet.text((WIDTH - MARGIN, base), TextSet::LABEL.end(), &rows);
            let edge = self.y(step.from);
            let (left, right) = self.ends(step.from);
            sheet.rule((LEFT - 22.0, edge), (left, edge), Pen::GUIDE);
            sheet.rule((right, edge), (WIDTH - RIGHT + 6.0, edge), Pen::GUIDE);
        }
    }

    /// The base below the last pair, with the markers at its ends and at the crown's.
    fn base(&self, sheet: &mut Sheet) {
        let size = self.of.size;
        let bottom = self.y(self.pairs());
        let (left, right) = self.ends(self.pairs().saturating_sub(1));
        let s = self.k * size.gauge.cap.stitch_width().to_cm();
        let plan = &size.fit.plan;
        let ends = [
            (left, left - s * plan.base_front.as_f64()),
            (right, right + s * plan.base_back.as_f64()),
        ];
        for (from, to) in ends {
            let thick = Pen::new(GUIDE, 5.0, "");
            sheet.rule((from, bottom + 4.0), (to, bottom + 4.0), thick);
            sheet.rule((from, bottom - self.high), (from, bottom + 12.0), MARKER);
        }
        let (left, right) = self.ends(0);
        for x in [left, right] {
            sheet.rule((x, self.top - 10.0), (x, self.top + self.high), MARKER);
        }
    }

    fn words(&self) -> String {
        let plan = &self.of.size.fit.plan;
        let steps = self.steps.iter().filter(|step| !step.label.is_empty());
        let steps: Vec<String> = steps
            .map(|step| {
                let rows = format!("rows {} to {}", 2 * step.from + 1, 2 * step.to);
                format!("step {}: {rows}", step.label)
            })
            .collect();
        let (left, right) = SIDES;
        format!(
            "The new cap from the crown down, seen from outside, every turn pair a strip: {} at the left, {} at the right. Crown {}, {} turn pairs ({} rows); decreases {} front, {} back. {}. Across true to scale, down not.",
            left,
            right,
            plan.crown.stitches,
            plan.turn_pairs(),
            2 * plan.turn_pairs(),
            plan.front.decreases().count(),
            plan.back.decreases().count(),
            steps.join(", ")
        )
    }

    /// What the two rows of a pair do.
    fn pair_words(&self, pair: usize) -> String {
        let rows = self.rows.get(2 * pair..2 * pair + 2).unwrap_or(&[]);
        let mut said = format!(
            "Turn pair {}, rows {} and {}",
            pair + 1,
            2 * pair + 1,
            2 * pair + 2
        );
        let step = self.steps.iter().find(|step| step.to > pair);
        let label = step.map_or("", |step| step.label.as_str());
        if label.is_empty() {
            said.push_str(": the crown alone.");
        } else {
            said.push_str(". ");
            let written = self.of.written();
            let sentence = written.and_then(|w| sentence_of(&w.instructions, label));
            said.push_str(sentence.unwrap_or(label));
        }
        let turns = rows.iter().map(|row| {
            format!(
                " Row {} ({}): {}; {} sts worked.",
                row.row, row.side, row.turn, row.worked
            )
        });
        said.extend(turns);
        said
    }
}

/// The mark at the end of a turn pair: what the move of the pair did there.
fn turn_mark(flank: &FlankPlan, pair: usize) -> PointMark {
    let its_move = pair.checked_sub(1).and_then(|at| flank.moves.get(at));
    match its_move {
        Some(m) if m.drop > 0 => DECREASE,
        _ => TURN,
    }
}

/// The steps of the checklist as stretches of turn pairs.
fn steps(rows: &[CheckRow], pairs: usize) -> Vec<StepOf> {
    let mut steps: Vec<StepOf> = Vec::new();
    for pair in 0..pairs {
        let label = rows.get(2 * pair).map_or("", |row| row.step.as_str());
        match steps.last_mut() {
            Some(step) if step.label == label => step.to = pair + 1,
            _ => steps.push(StepOf {
                label: label.to_owned(),
                from: pair,
                to: pair + 1,
            }),
        }
    }
    steps
}

/// The sentence of a step of the short rows.
fn sentence_of<'a>(instructions: &'a Instructions, label: &str) -> Option<&'a str> {
    let sections = instructions.sections.iter();
    let mut steps = sections.flat_map(|section| &section.steps);
    let step = steps.find(|step| step.letters().as_deref() == Some(label))?;
    Some(&step.sentence)
}
