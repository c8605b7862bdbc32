//! All sizes of a case side by side.

use super::{Block, Chapter, ColumnKind, Document, Reader, TableBlock, TableColumn, sentences};
use crate::case::Case;
use crate::convert::{Conversion, Grading, Measure, MeasureKind, OutOfStep, Structure, grading};
use crate::fit::Measures;
use crate::measure::{Length, Units};
use crate::plan::Move;
use crate::report::number::{plain, signed, signed_pct, signed_to};

/// The tables, what is out of step, the runs, and what can be pasted.
pub fn grading_document(case: &Case, conversion: &Conversion, reader: Reader) -> Document {
    let grading = grading(case, conversion);
    let units = case.units;
    let values = table("Side by side", &grading, &|m| {
        let values = m.values.iter();
        values
            .map(|v| cell(units, m.kind, *v, GradedNumber::Value))
            .collect()
    });
    let mut parts = vec![Chapter::new("Side by side", vec![values])];
    if grading.sizes.len() > 1 {
        parts.push(steps(units, &grading));
    }
    let mut blocks = runs(&grading, reader);
    blocks.extend(cost_of_same_runs(case, conversion));
    parts.push(Chapter::new("Runs", blocks));
    let paste = grading.sentences(conversion, case.style.terms);
    parts.push(Chapter::new("To paste", vec![Block::Sentences(paste)]));
    if reader == Reader::Terminal {
        let more = "These are the caps of `convert --together`: the same runs in all sizes where a list serves them. Every run in words: there, or in `convert` with each size's own best cap.";
        if let Some(last) = parts.last_mut() {
            last.blocks.push(Block::Small(more.to_owned()));
        }
    }
    Document {
        title: format!("{} - grading ({units})", case.title),
        subtitle: "All sizes side by side".to_owned(),
        foot: case.title.clone(),
        parts,
        paged: false,
    }
}

/// What changes from one size to the next, and what of it is out of step.
fn steps(units: Units, grading: &Grading) -> Chapter {
    let title = "Steps from the size before";
    let steps = table(title, grading, &|m| {
        let steps = m.steps();
        let steps = steps
            .iter()
            .map(|v| cell(units, m.kind, *v, GradedNumber::Step));
        std::iter::once(String::new()).chain(steps).collect()
    });
    let out = grading.out_of_step.iter();
    let mut out: Vec<String> = out.map(|found| sentence(units, grading, found)).collect();
    out.extend(against_the_order(units, grading));
    if out.is_empty() {
        out.push("Nothing.".to_owned());
    }
    let out = sentences("Out of step", &out);
    Chapter::new(title, std::iter::once(steps).chain(out).collect())
}

/// A column a size, a row a measure.
fn table(title: &str, grading: &Grading, cells: &dyn Fn(&Measure) -> Vec<String>) -> Block {
    let mut columns = vec![TableColumn::new("", ColumnKind::Head)];
    let sizes = grading.sizes.iter();
    columns.extend(sizes.map(|size| TableColumn::new(size, ColumnKind::Number)));
    let shown = grading.measures.iter().filter(|m| says_something(m));
    let rows = shown.map(|m| {
        let mut row = vec![m.name.to_owned()];
        row.extend(cells(m));
        row
    });
    Block::Table(TableBlock::new(title, columns, rows.collect()).under_heading())
}

/// Decreases that no size has need no line.
fn says_something(measure: &Measure) -> bool {
    measure
        .values
        .iter()
        .any(|value| value.is_some_and(|n| n != 0.0))
}

/// What a number of the tables is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum GradedNumber {
    Value,
    /// From the size before, with its sign.
    Step,
}

fn cell(units: Units, kind: MeasureKind, value: Option<f64>, shown: GradedNumber) -> String {
    let Some(value) = value else {
        return "-".to_owned();
    };
    let length = Length::cm(value);
    match (kind, shown) {
        (MeasureKind::Count, GradedNumber::Value) => format!("{value:.0}"),
        (MeasureKind::Count, GradedNumber::Step) => signed_to(value, 0),
        (MeasureKind::Percent, GradedNumber::Value) => signed_pct(value),
        (MeasureKind::Percent, GradedNumber::Step) => signed(value),
        (MeasureKind::Length, GradedNumber::Step) => signed(units.number(length)),
        (MeasureKind::Length, GradedNumber::Value) => plain(units, length),
    }
}

/// `front picked up: +9 from M to L; the usual step is +2.`
fn sentence(units: Units, grading: &Grading, found: &OutOfStep) -> String {
    let name = |place: usize| grading.sizes.get(place).map_or("", String::as_str);
    let Some(measure) = grading.measures.get(found.measure) else {
        return String::new();
    };
    let number = |value: f64| cell(units, measure.kind, Some(value), GradedNumber::Step);
    // The median of an even number of steps may lie between two counts.
    let usual = match measure.kind {
        MeasureKind::Count => signed(found.usual).trim_end_matches(".0").to_owned(),
        MeasureKind::Length | MeasureKind::Percent => number(found.usual),
    };
    let unit = match measure.kind {
        MeasureKind::Count => String::new(),
        MeasureKind::Length => format!(" {units}"),
        MeasureKind::Percent => " %".to_owned(),
    };
    format!(
        "{}: {}{unit} from {} to {}; the usual step is {usual}{unit}.",
        measure.name,
        number(found.step),
        name(found.size.saturating_sub(1)),
        name(found.size),
    )
}

/// `crown: −1 from 5 to 6, −2 from 9 to 10, against the order of the sizes.`
fn against_the_order(units: Units, grading: &Grading) -> Vec<String> {
    let name = |place: usize| grading.sizes.get(place).map_or("", String::as_str);
    let measures = grading.measures.iter().enumerate();
    let said = measures.filter_map(|(place, measure)| {
        let unit = match measure.kind {
            MeasureKind::Count => String::new(),
            MeasureKind::Length => format!(" {units}"),
            MeasureKind::Percent => " %".to_owned(),
        };
        let turned = grading.turned.iter().filter(|one| one.measure == place);
        let steps = turned.map(|one| {
            format!(
                "{}{unit} from {} to {}",
                cell(units, measure.kind, Some(one.step), GradedNumber::Step),
                name(one.size.saturating_sub(1)),
                name(one.size)
            )
        });
        let steps: Vec<String> = steps.collect();
        (!steps.is_empty()).then(|| {
            format!(
                "{}: {}, against the order of the sizes.",
                measure.name,
                steps.join(", ")
            )
        })
    });
    said.collect()
}

/// What the same runs in all sizes cost each of them, against its own best cap.
pub(super) fn cost_of_same_runs(case: &Case, conversion: &Conversion) -> Vec<Block> {
    let units = case.units;
    let change = |own: String, same: String| format!("{own} \u{2192} {same}");
    let rows = conversion.sizes.iter().filter_map(|size| {
        let alone = size.alone.as_ref()?;
        let (own, same) = (&alone.measures, &size.fit.measures);
        // Its own best cap is the one it has: nothing is given up.
        if (own.objective - same.objective).abs() < 1e-9 {
            return None;
        }
        let depth = |m: &Measures| signed_to(units.number(m.depth_error), 2);
        let area = |m: &Measures| signed_pct(m.area_error_pct);
        let width = |m: &Measures| units.show_fine(m.width_rms);
        Some(vec![
            size.old.size.clone(),
            change(alone.runs.to_string(), size.fit.plan.runs().to_string()),
            change(area(own), area(same)),
            change(depth(own), format!("{} {units}", depth(same))),
            change(width(own), width(same)),
            change(signed_pct(own.ease_pct()), signed_pct(same.ease_pct())),
        ])
    });
    let rows: Vec<Vec<String>> = rows.collect();
    if conversion.sizes.iter().all(|size| size.alone.is_none()) {
        return Vec::new();
    }
    if rows.is_empty() {
        let said =
            "The same runs in all sizes cost none of them anything: they are each size's own best.";
        return vec![Block::Text(said.to_owned())];
    }
    let names = ["size", "runs", "area", "depth", "off the old width", "ease"];
    vec![Block::Table(TableBlock::new(
        "The same runs in all sizes and what they cost: own best cap \u{2192} this one (others: nothing)",
        TableColumn::all(&names, ColumnKind::Short),
        rows,
    ))]
}

/// Sizes that are built alike, with the times of their runs.
fn runs(grading: &Grading, reader: Reader) -> Vec<Block> {
    let mut blocks = vec![Block::Text(
        "From the crown down: times x move (stitches taken in / decreased).".to_owned(),
    )];
    for structure in &grading.structures {
        let flank = |name: &str, runs: &[(Move, Vec<u32>)]| {
            let runs = runs.iter();
            let runs =
                runs.map(|(m, times)| format!("{} x {m}", times_of(grading, structure, times)));
            format!("{name}: {}", runs.collect::<Vec<_>>().join(", then "))
        };
        blocks.push(Block::heading(labels(grading, structure).join(", ")));
        blocks.push(Block::Sentences(if structure.front == structure.back {
            vec![flank("both", &structure.front)]
        } else {
            vec![
                flank("front", &structure.front),
                flank("back", &structure.back),
            ]
        }));
    }
    let alike = match grading.structures.len() {
        _ if grading.sizes.len() == 1 => return blocks,
        1 => "All sizes are built alike: one text with numbers in brackets serves all.".to_owned(),
        n if reader == Reader::Terminal => format!(
            "The sizes are built in {n} ways: `convert --together`, whose caps these are, says which sentences are for which."
        ),
        n => format!("The sizes are built in {n} ways."),
    };
    blocks.push(Block::Text(alike));
    blocks
}

pub(crate) fn labels<'a>(grading: &'a Grading, structure: &Structure) -> Vec<&'a str> {
    let sizes = structure.sizes.iter();
    sizes
        .filter_map(|place| grading.sizes.get(*place).map(String::as_str))
        .collect()
}

/// The times of a run in its sizes: as the pattern lists them when they are all sizes.
fn times_of(grading: &Grading, structure: &Structure, times: &[u32]) -> String {
    if structure.sizes.len() == grading.sizes.len() {
        return grading.notation.list(times);
    }
    crate::wording::Notation::usual(times.len()).list(times)
}
