//! The swatches: every count, and where the true gauge lies.

use super::Figure;
use super::scale::{Axis, ChartFrame};
use super::sheet::{
    About, BELOW_HEADING, INK, MARGIN, MarkKind, NEW, Pen, PointMark, SMALL, Sheet, TextSet,
};
use crate::case::{Case, SwatchCount};
use crate::convert::drift::DriftLesson;
use crate::measure::{Interval, Units};
use crate::swatch::{Counted, Estimate, per_10cm, show_gauge};

const COUNT: PointMark = PointMark::open(MarkKind::Dot, 4.0);
const MEAN: PointMark = PointMark::full(MarkKind::Square, 5.0);
const ROW: f64 = 42.0;

/// One swatch: its name, its counts, what they come to, and whether it was only printed.
struct CountedLine<'a> {
    name: &'static str,
    counts: &'a [SwatchCount],
    estimate: Estimate,
    printed: bool,
}

impl CountedLine<'_> {
    /// The 95 % interval of repeated counts.
    fn interval(&self) -> Option<Interval> {
        self.estimate.interval().filter(|_| !self.printed)
    }
}

pub(super) fn swatch(case: &Case, lesson: &DriftLesson) -> Figure {
    let units = case.units;
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let next = sheet.mark_key((MARGIN, keys), COUNT, INK, "count");
    let next = sheet.mark_key((next, keys), MEAN, NEW, "mean");
    sheet.key(
        (next, keys),
        INTERVAL,
        "where the true gauge lies, 95 % sure",
    );
    let mut top = BELOW_HEADING + 54.0;
    let mut words = Vec::new();
    for counted in [Counted::Stitches, Counted::Rows] {
        let lines = lines(case, lesson, counted);
        let over = units.show(units.swatch_length());
        let head = format!("{} over {over}", counted.word());
        sheet.text((MARGIN, top), TextSet::LABEL, &head);
        let frame = ChartFrame {
            left: 130.0,
            right: 440.0,
            top: top + 14.0,
            bottom: top + 14.0 + ROW * lines.len() as f64,
        };
        panel(&mut sheet, units, frame, &lines);
        words.push(format!("{head}: {}", said(units, &lines)));
        top = frame.bottom + 62.0;
    }
    let about = About {
        name: "swatch",
        place: "all".to_owned(),
        heading: "The swatches",
        subject: case.title.clone(),
        description: format!(
            "Counts of the swatches with their means and 95 % intervals. {}.",
            words.join(". ")
        ),
        units_per_cm: None,
    };
    sheet.finish(about, top - 22.0)
}

const INTERVAL: Pen = Pen::new(NEW, 3.0, "");

fn lines<'a>(case: &'a Case, lesson: &DriftLesson, counted: Counted) -> Vec<CountedLine<'a>> {
    let swatches = &lesson.gauge.swatches;
    let gauge = &case.gauge;
    let all = [
        ("old pattern", Some(&gauge.pattern), Some(swatches.pattern)),
        ("flat", gauge.flat.as_ref(), swatches.flat),
        ("round", gauge.round.as_ref(), swatches.round),
    ];
    let lines = all.into_iter().filter_map(|(name, counts, measured)| {
        let (counts, measured) = counts.zip(measured)?;
        let (counts, estimate) = match counted {
            Counted::Stitches => (&counts.stitches, measured.stitches),
            Counted::Rows => (&counts.rows, measured.rows),
        };
        Some(CountedLine {
            name,
            counts,
            estimate,
            printed: name == "old pattern",
        })
    });
    lines.collect()
}

fn number(per_10cm: f64, units: Units) -> f64 {
    per_10cm * units.swatch_length().to_cm() / 10.0
}

fn panel(sheet: &mut Sheet, units: Units, frame: ChartFrame, lines: &[CountedLine<'_>]) {
    let axis = axis(units, frame, lines);
    let marks = axis.marks(6);
    for (mark, _) in &marks {
        let x = axis.at(*mark);
        sheet.rule((x, frame.top), (x, frame.bottom), Pen::GUIDE);
    }
    for (i, line) in lines.iter().enumerate() {
        let y = frame.top + ROW * (i as f64 + 0.5);
        sheet.text((MARGIN, y + SMALL / 3.0), TextSet::LABEL, line.name);
        if let Some(ends) = line.interval() {
            interval(sheet, &axis, units, ends, y + 6.0);
        }
        counts(sheet, &axis, units, line.counts, y - 9.0);
        let mean = axis.at(number(line.estimate.mean, units));
        sheet.mark((mean, y + 6.0), MEAN, NEW);
        sheet.text(
            (frame.right + 18.0, y + SMALL / 3.0),
            TextSet::LABEL,
            &value(units, line),
        );
    }
    frame.below(sheet, &axis, &marks);
}

/// All counts and intervals; an interval far wider than the counts runs out of the frame.
fn axis(units: Units, frame: ChartFrame, lines: &[CountedLine<'_>]) -> Axis {
    let means = lines.iter().map(|line| number(line.estimate.mean, units));
    let middle = means.clone().sum::<f64>() / lines.len().max(1) as f64;
    let counted = lines.iter().flat_map(|line| line.counts);
    let counted = counted.map(|count| number(per_10cm(count), units));
    let ends = lines.iter().filter_map(CountedLine::interval);
    let ends = ends.flat_map(|ends| [ends.low, ends.high]);
    let ends = ends.map(|end| number(end, units).clamp(0.8 * middle, 1.25 * middle));
    let all: Vec<f64> = means.chain(counted).chain(ends).collect();
    Axis::of(&all, false, frame.left, frame.right)
}

/// The interval with its ends; an end outside the frame is an arrow head.
fn interval(sheet: &mut Sheet, axis: &Axis, units: Units, ends: Interval, y: f64) {
    let place = |end: f64| axis.at(number(end, units).clamp(axis.from, axis.to));
    let Interval { low, high } = ends;
    let (left, right) = (place(low), place(high));
    sheet.rule((left, y), (right, y), INTERVAL);
    for (x, end, inward) in [(left, low, 8.0), (right, high, -8.0)] {
        let end = number(end, units);
        if (axis.from..=axis.to).contains(&end) {
            sheet.rule((x, y - 6.0), (x, y + 6.0), Pen::new(NEW, 1.6, ""));
        } else {
            let head = [(x, y), (x + inward, y - 6.0), (x + inward, y + 6.0)];
            let head: Vec<_> = head
                .iter()
                .map(|(x, y)| nalgebra::Point2::new(*x, *y))
                .collect();
            sheet.shape(&head, NEW, None, &[]);
        }
    }
}

/// One mark a count; equal counts lie on one another a little higher.
fn counts(sheet: &mut Sheet, axis: &Axis, units: Units, counts: &[SwatchCount], y: f64) {
    let places: Vec<f64> = counts
        .iter()
        .map(|count| axis.at(number(per_10cm(count), units)))
        .collect();
    for (i, x) in places.iter().enumerate() {
        let same = places
            .iter()
            .take(i)
            .filter(|other| (*other - x).abs() < 2.0)
            .count();
        // More than three cannot be told apart in the height of a row.
        let up = 3.0 * same.min(3) as f64;
        sheet.mark((*x, y - up), COUNT, INK);
    }
}

fn value(units: Units, line: &CountedLine<'_>) -> String {
    let show = |per_10cm| show_gauge(per_10cm, units);
    let mean = show(line.estimate.mean);
    match line.interval() {
        Some(Interval { low, high }) => format!("{mean} ({}-{})", show(low.max(0.0)), show(high)),
        None if line.printed => format!("{mean} as printed"),
        None => format!("{mean}, one count"),
    }
}

fn said(units: Units, lines: &[CountedLine<'_>]) -> String {
    let lines = lines.iter().map(|line| {
        let counts = line.counts.len();
        let word = if counts == 1 { "count" } else { "counts" };
        format!("{} {} from {counts} {word}", line.name, value(units, line))
    });
    lines.collect::<Vec<String>>().join(", ")
}
