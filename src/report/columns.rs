//! What goes into comma-separated values.

use serde_json::json;

use super::json::{number, unit};
use super::row_columns::row_columns;
use super::summary::{CaseSummary, SizeSummary};
use crate::case::Case;
use crate::convert::{Conversion, grading};
use crate::diagnostic::Level;
use crate::wording::{Csv, words};

/// The cap's rows to tick off, of every size and sleeve; the names of the waiting columns are those of
/// the first sleeve.
pub fn checklist_csv(conversion: &Conversion) -> String {
    let written = || {
        let sizes = conversion.sizes.iter();
        sizes.flat_map(|size| size.written.iter().map(move |written| (size, written)))
    };
    let Some((size, first)) = written().next() else {
        return String::new();
    };
    let waiting = |flank: &str| format!("waiting_{}", flank.replace(' ', "_"));
    let list = &first.checklist;
    let mut head = vec![
        "size".to_owned(),
        "sleeve".to_owned(),
        "done".to_owned(),
        "row".to_owned(),
        "side".to_owned(),
        "step".to_owned(),
        "turn".to_owned(),
        "worked".to_owned(),
        waiting(list.first),
        waiting(list.second),
        "decreases".to_owned(),
        "on_needle".to_owned(),
    ];
    let more = row_columns(size, first).into_iter();
    head.extend(more.map(|column| words(&column.name.to_lowercase().replace(' ', "_"))));
    let rows = written().flat_map(|(size, written)| {
        // The other sleeve's flanks come in the other order.
        let turned = written.checklist.first != list.first;
        let more = row_columns(size, written);
        let rows = written.checklist.rows.iter().enumerate();
        rows.map(move |(at, row)| {
            let more = more.iter().map(|column| column.cells.get(at));
            let more = more.map(|cell| cell.map_or_else(String::new, |cell| words(cell)));
            let (first, second) = if turned {
                (row.waiting_second, row.waiting_first)
            } else {
                (row.waiting_first, row.waiting_second)
            };
            let own = [
                words(&size.old.size),
                written.sleeve.word().to_owned(),
                String::new(),
                row.row.to_string(),
                row.side.to_owned(),
                row.step.clone(),
                row.turn.clone(),
                row.worked.to_string(),
                first.to_string(),
                second.to_string(),
                row.decreases.to_string(),
                row.on_needle.to_string(),
            ];
            own.into_iter().chain(more).collect()
        })
    });
    table(std::iter::once(head).chain(rows))
}

fn table(rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut csv = Csv::default();
    for row in rows {
        csv.line(row);
    }
    csv.text()
}

/// All sizes side by side: a line of values and a line of steps for each measure.
pub fn grading_csv(case: &Case, conversion: &Conversion) -> String {
    let grading = grading(case, conversion);
    let mut head = ["measure", "unit", "what"].map(str::to_owned).to_vec();
    head.extend(grading.sizes.iter().map(|size| words(size)));
    let rows = grading.measures.iter().flat_map(|measure| {
        let steps = std::iter::once(None).chain(measure.steps()).collect();
        let both = [("value", measure.values.clone()), ("step", steps)];
        both.map(|(what, numbers): (_, Vec<Option<f64>>)| {
            let names = [measure.name, unit(measure.kind), what];
            let cells = numbers.into_iter().map(|cell| {
                cell.map(|value| json!(number(measure.kind, value)).to_string())
                    .unwrap_or_default()
            });
            names.map(str::to_owned).into_iter().chain(cells).collect()
        })
    });
    table(std::iter::once(head).chain(rows))
}

const SIZE: [&str; 18] = [
    "case",
    "title",
    "size",
    "outcome",
    "area_error_pct",
    "depth_error_cm",
    "old_depth_cm",
    "depth_share",
    "ease_pct",
    "upper_arm_cm",
    "body_arm_cm",
    "turn_pairs",
    "upper_arm_stitches",
    "runs",
    "errors",
    "warnings",
    "notes",
    "look",
];

/// A batch, one line a size, lengths in centimetres; a case that could not be used at all has one line
/// with an empty size.
pub fn summary_csv(cases: &[CaseSummary]) -> String {
    let mut csv = Csv::default();
    csv.line(SIZE);
    for case in cases {
        if case.sizes.is_empty() {
            let unused = SizeSummary {
                findings: case.findings.clone(),
                ..SizeSummary::default()
            };
            csv.line(line(case, &unused));
        }
        for size in &case.sizes {
            csv.line(line(case, size));
        }
    }
    csv.text()
}

fn line(case: &CaseSummary, size: &SizeSummary) -> [String; SIZE.len()] {
    fn number<T: ToString>(cell: Option<T>) -> String {
        cell.map(|cell| cell.to_string()).unwrap_or_default()
    }
    [
        words(&case.case),
        words(&case.title),
        words(&size.size),
        if size.done { "done" } else { "failed" }.to_owned(),
        number(size.area_error_pct),
        number(size.depth_error_cm),
        number(size.old_depth_cm),
        number(size.depth_share),
        number(size.ease_pct),
        number(size.upper_arm_cm),
        number(size.arm_cm),
        number(size.turn_pairs),
        number(size.upper_arm_stitches),
        number(size.runs),
        size.count(Level::Error).to_string(),
        size.count(Level::Warning).to_string(),
        size.count(Level::Note).to_string(),
        words(&size.look().join(" ")),
    ]
}
