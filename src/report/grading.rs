//! All sizes of a case side by side: as text, JSON and comma-separated values.

use std::fmt::Write as _;

use serde_json::{Value, json};

use super::json::round;
use super::pattern_text::wrapped;
use super::text::{laid_out, signed, signed_pct};
use crate::case::Case;
use crate::convert::{Conversion, Grading, Kind, Measure, OutOfStep, Structure, grading};
use crate::fit::{Measures, Move};
use crate::measure::{Length, Units, nearest_whole};
use crate::wording::{Csv, words};

/// Characters of one line of a table.
const WIDTH: usize = 96;

/// The tables, what is out of step, the runs, and what can be pasted.
pub fn grading_text(case: &Case, conversion: &Conversion) -> String {
    let grading = grading(case, conversion);
    let units = case.units;
    let title = format!("{} - grading ({units})", case.title);
    let mut out = format!("{title}\n{}\n\n", "=".repeat(title.chars().count()));
    out.push_str("SIDE BY SIDE\n");
    out.push_str(&table(&grading, &|m| {
        m.values
            .iter()
            .map(|v| cell(units, m.kind, *v, false))
            .collect()
    }));
    if grading.sizes.len() > 1 {
        out.push_str("STEPS from the size before\n");
        out.push_str(&table(&grading, &|m| {
            let steps = m.steps();
            let steps = steps.iter().map(|v| cell(units, m.kind, *v, true));
            std::iter::once(String::new()).chain(steps).collect()
        }));
        out.push_str("OUT OF STEP\n");
        if grading.out_of_step.is_empty() {
            out.push_str("  Nothing.\n");
        }
        for found in &grading.out_of_step {
            out.push_str(&paragraph(&sentence(units, &grading, found)));
        }
        out.push('\n');
    }
    out.push_str(&runs(&grading));
    out.push_str(&cost_of_same_runs(case, conversion));
    out.push_str("TO PASTE\n");
    for sentence in grading.sentences(conversion, case.style.terms) {
        out.push_str(&paragraph(&sentence));
    }
    out.push_str(
        "\nHow the stitches fall on the rows of each size, and every run in words: `convert`, or\n`convert --together` for one text with numbers in brackets.\n",
    );
    out
}

/// Columns of sizes, as many side by side as a line takes.
fn table(grading: &Grading, cells: &dyn Fn(&Measure) -> Vec<String>) -> String {
    let names = grading.measures.iter().map(|m| m.name.len());
    let name_width = names.max().unwrap_or(0);
    let shown = grading.measures.iter().filter(|m| says_something(m));
    let rows: Vec<(&str, Vec<String>)> = shown.map(|m| (m.name, cells(m))).collect();
    let all = rows
        .iter()
        .flat_map(|(_, cells)| cells)
        .chain(&grading.sizes);
    let width = all.map(|cell| cell.chars().count()).max().unwrap_or(0) + 2;
    let room = (WIDTH.saturating_sub(name_width + 2) / width).max(1);
    // As many in each table as in the others, rather than nine and one.
    let tables = grading.sizes.len().div_ceil(room).max(1);
    let at_once = grading.sizes.len().div_ceil(tables).max(1);
    let mut out = String::new();
    for from in (0..grading.sizes.len()).step_by(at_once) {
        let mut line = |name: &str, cells: &[String]| {
            let mut text = format!("  {name:<name_width$}");
            for cell in cells.iter().skip(from).take(at_once) {
                let _ = write!(text, "{cell:>width$}");
            }
            let _ = writeln!(out, "{}", text.trim_end());
        };
        line("", &grading.sizes);
        for (name, cells) in &rows {
            line(name, cells);
        }
        out.push('\n');
    }
    out
}

/// Decreases that no size has need no line.
fn says_something(measure: &Measure) -> bool {
    measure
        .values
        .iter()
        .any(|value| value.is_some_and(|n| n != 0.0))
}

fn cell(units: Units, kind: Kind, value: Option<f64>, step: bool) -> String {
    let Some(value) = value else {
        return "-".to_owned();
    };
    let shown = match kind {
        Kind::Length => units.number(Length::cm(value)),
        Kind::Count | Kind::Percent => value,
    };
    match (kind, step) {
        (Kind::Count, false) => format!("{shown:.0}"),
        (Kind::Count, true) if shown == 0.0 => "0".to_owned(),
        (Kind::Count, true) => format!("{shown:+.0}"),
        (Kind::Percent, false) => format!("{} %", signed(shown)),
        (Kind::Length | Kind::Percent, true) => signed(shown),
        (Kind::Length, false) => format!("{:.1}", (shown * 10.0).round() / 10.0 + 0.0),
    }
}

/// `front picked up: +9 from M to L; the usual step is +2.`
fn sentence(units: Units, grading: &Grading, found: &OutOfStep) -> String {
    let name = |place: usize| grading.sizes.get(place).map_or("", String::as_str);
    let Some(measure) = grading.measures.get(found.measure) else {
        return String::new();
    };
    let number = |value: f64| cell(units, measure.kind, Some(value), true);
    // The median of an even number of steps may lie between two counts.
    let usual = match measure.kind {
        Kind::Count => signed(found.usual).trim_end_matches(".0").to_owned(),
        Kind::Length | Kind::Percent => number(found.usual),
    };
    let unit = match measure.kind {
        Kind::Count => String::new(),
        Kind::Length => format!(" {units}"),
        Kind::Percent => " %".to_owned(),
    };
    format!(
        "{}: {}{unit} from {} to {}; the usual step is {usual}{unit}.",
        measure.name,
        number(found.step),
        name(found.size.saturating_sub(1)),
        name(found.size),
    )
}

/// What the same runs in all sizes cost each of them, against its own best cap.
fn cost_of_same_runs(case: &Case, conversion: &Conversion) -> String {
    let rows = conversion.sizes.iter().filter_map(|size| {
        let alone = size.alone.as_ref()?;
        let (own, same) = (&alone.measures, &size.fit.measures);
        let depth = |m: &Measures| format!("{:+.2}", case.units.number(m.depth_error) + 0.0);
        Some([
            size.old.size.clone(),
            format!("{} -> {}", alone.runs, size.fit.plan.runs()),
            format!(
                "{} -> {}",
                signed_pct(own.area_error_pct),
                signed_pct(same.area_error_pct)
            ),
            format!("{} -> {} {}", depth(own), depth(same), case.units),
            format!(
                "{} -> {}",
                case.units.show_fine(own.width_rms),
                case.units.show_fine(same.width_rms)
            ),
        ])
    });
    let rows: Vec<[String; 5]> = rows.collect();
    if rows.is_empty() {
        return String::new();
    }
    let head = ["  size", "runs", "area", "depth", "off the old width"].map(str::to_owned);
    let mut table = vec![head];
    table.extend(
        rows.into_iter()
            .map(|[size, a, b, c, d]| [format!("  {size}"), a, b, c, d]),
    );
    format!(
        "THE SAME RUNS IN ALL SIZES, and what they cost: each size's own best cap -> this one\n{}\n",
        laid_out(&table)
    )
}

/// Sizes that are built alike, with the times of their runs.
fn runs(grading: &Grading) -> String {
    let mut out =
        "RUNS, from the crown down: times x move (stitches taken in / decreased)\n".to_owned();
    for structure in &grading.structures {
        let sizes = labels(grading, structure);
        let flank = |runs: &[(Move, Vec<u32>)]| {
            let runs = runs
                .iter()
                .map(|(m, times)| format!("{} x {m}", times_of(grading, structure, times)));
            runs.collect::<Vec<_>>().join(", then ")
        };
        let _ = writeln!(out, "  {}", sizes.join(", "));
        if structure.front == structure.back {
            out.push_str(&paragraph(&format!("  both: {}", flank(&structure.front))));
        } else {
            out.push_str(&paragraph(&format!("  front: {}", flank(&structure.front))));
            out.push_str(&paragraph(&format!("  back: {}", flank(&structure.back))));
        }
    }
    let alike = match grading.structures.len() {
        _ if grading.sizes.len() == 1 => String::new(),
        1 => "All sizes are built alike: one text with numbers in brackets serves all.".to_owned(),
        n => format!(
            "The sizes are built in {n} ways: `convert --together` says which sentences are for which; `--same-runs` finds one way for all."
        ),
    };
    if !alike.is_empty() {
        let _ = writeln!(out, "  {alike}");
    }
    out.push('\n');
    out
}

fn labels<'a>(grading: &'a Grading, structure: &Structure) -> Vec<&'a str> {
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

fn paragraph(sentence: &str) -> String {
    let indent = sentence.len() - sentence.trim_start().len();
    let mut out = String::new();
    for (i, line) in wrapped(sentence, WIDTH - 8).iter().enumerate() {
        let more = if i == 0 { 2 } else { 6 };
        let _ = writeln!(out, "{:width$}{line}", "", width = indent + more);
    }
    out
}

/// The same as one JSON object. Lengths are centimetres.
pub fn grading_json(case: &Case, conversion: &Conversion) -> Value {
    let grading = grading(case, conversion);
    let measures = grading.measures.iter().map(|measure| {
        let number = |value: &Option<f64>| value.map(|value| number(measure.kind, value));
        json!({
            "name": measure.name,
            "unit": unit(measure.kind),
            "values": measure.values.iter().map(number).collect::<Vec<_>>(),
            "steps": measure.steps().iter().map(number).collect::<Vec<_>>(),
        })
    });
    let out_of_step = grading.out_of_step.iter().map(|found| {
        json!({
            "measure": grading.measures.get(found.measure).map(|m| m.name),
            "size": grading.sizes.get(found.size),
            "step": round(found.step, 3),
            "usual": round(found.usual, 3),
        })
    });
    let structures = grading.structures.iter().map(|structure| {
        json!({
            "sizes": labels(&grading, structure),
            "front": runs_json(&structure.front),
            "back": runs_json(&structure.back),
        })
    });
    json!({
        "case": case.title,
        "units": case.units.word(),
        "sizes": grading.sizes,
        "measures": measures.collect::<Vec<_>>(),
        "out_of_step": out_of_step.collect::<Vec<_>>(),
        "structures": structures.collect::<Vec<_>>(),
        "to_paste": grading.sentences(conversion, case.style.terms),
    })
}

fn runs_json(runs: &[(Move, Vec<u32>)]) -> Vec<Value> {
    let runs = runs.iter();
    runs.map(|(m, times)| json!({ "move": m, "times": times }))
        .collect()
}

/// Counts are whole numbers, the others have three decimals.
fn number(kind: Kind, value: f64) -> Value {
    match kind {
        Kind::Count if value < 0.0 => json!(-i64::from(nearest_whole(-value))),
        Kind::Count => json!(nearest_whole(value)),
        Kind::Length | Kind::Percent => round(value, 3),
    }
}

const fn unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Count => "count",
        Kind::Length => "cm",
        Kind::Percent => "percent",
    }
}

/// The same as comma-separated values: a line of values and a line of steps for each measure.
pub fn grading_csv(case: &Case, conversion: &Conversion) -> String {
    let grading = grading(case, conversion);
    let sizes = grading.sizes.iter().map(|size| words(size));
    let headings = ["measure", "unit", "what"].map(str::to_owned);
    let mut csv = Csv::default();
    csv.line(headings.into_iter().chain(sizes));
    for measure in &grading.measures {
        let steps = std::iter::once(None).chain(measure.steps()).collect();
        for (what, numbers) in [("value", measure.values.clone()), ("step", steps)] {
            let cells = numbers.iter().map(|cell: &Option<f64>| {
                cell.map(|value| number(measure.kind, value).to_string())
                    .unwrap_or_default()
            });
            let heads = [measure.name, unit(measure.kind), what].map(str::to_owned);
            csv.line(heads.into_iter().chain(cells));
        }
    }
    csv.text()
}
