//! The trade between simple and faithful: the best cap for every number of runs, and those near it.

use super::{Block, ColumnKind, Reader, TableBlock, TableColumn};
use crate::convert::SizeConversion;
use crate::fit::Measures;
use crate::measure::Units;
use crate::plan::{CapPlan, FlankPlan};
use crate::report::number::{signed, signed_pct};

/// A table with a line for every number of runs that gains something, the chosen one marked, then
/// what is nearly as good and simpler.
pub(super) fn trade(units: Units, size: &SizeConversion, reader: Reader) -> Vec<Block> {
    let mut rows = Vec::new();
    let chosen = size.fit.plan.runs();
    let mut before: Option<&CapPlan> = None;
    for point in &size.fit.trade {
        let Some((plan, measures)) = &point.cap else {
            continue;
        };
        // More runs that gain nothing give the same cap.
        if before != Some(plan) {
            let mark = if plan.runs() == chosen { ", taken" } else { "" };
            rows.push(row(units, format!("{}{mark}", plan.runs()), plan, measures));
        }
        before = Some(plan);
    }
    let names = [
        "runs",
        "area",
        "off the old width, rms",
        "edge on armhole",
        "local strain",
        "decreases",
    ];
    let mut blocks = vec![Block::Table(TableBlock::new(
        "Simple against faithful: the best cap for every number of runs",
        TableColumn::all(&names, ColumnKind::Short),
        rows,
    ))];
    if reader == Reader::Terminal {
        blocks.push(Block::Small("--runs N takes another.".to_owned()));
    }
    blocks.extend(near_ties(size, reader));
    blocks
}

fn near_ties(size: &SizeConversion, reader: Reader) -> Vec<Block> {
    // Paper has no way to take another.
    if size.near_ties.is_empty() || reader == Reader::Paper {
        return Vec::new();
    }
    let rows = (2..).zip(&size.near_ties).map(|(choice, tie): (usize, _)| {
        let words: Vec<&str> = tie.simpler.iter().map(|simpler| simpler.words()).collect();
        vec![
            choice.to_string(),
            format!("{}: {}", words.join(", "), flanks(&tie.plan)),
            signed_pct(tie.measures.area_error_pct),
        ]
    });
    let columns = vec![
        TableColumn::new("choice", ColumnKind::Head),
        TableColumn::new(
            "taken in / decreased x turn pairs, from the crown down",
            ColumnKind::Words,
        ),
        TableColumn::new("area", ColumnKind::Number),
    ];
    let mut blocks = vec![Block::Table(TableBlock::new(
        "Nearly as good and simpler",
        columns,
        rows.collect(),
    ))];
    if reader == Reader::Terminal {
        blocks.push(Block::Small("--choice N takes one of these.".to_owned()));
    }
    blocks
}

fn row(units: Units, runs: String, plan: &CapPlan, m: &Measures) -> Vec<String> {
    let (front, back) = (m.front.ease_pct(), m.back.ease_pct());
    vec![
        runs,
        signed_pct(m.area_error_pct),
        units.show_fine(m.width_rms),
        if signed(front) == signed(back) {
            signed_pct(front)
        } else {
            format!("front {}, back {}", signed_pct(front), signed_pct(back))
        },
        format!("{:.1} %", m.strain_rms_pct),
        (plan.front.decreases() + plan.back.decreases())
            .count()
            .to_string(),
    ]
}

/// The runs of both flanks.
fn flanks(plan: &CapPlan) -> String {
    if plan.front.moves == plan.back.moves {
        return runs(&plan.front);
    }
    format!("front {}; back {}", runs(&plan.front), runs(&plan.back))
}

/// From the crown down: stitches taken in / decreased x turn pairs.
fn runs(flank: &FlankPlan) -> String {
    let runs = flank.runs().into_iter();
    let runs: Vec<String> = runs.map(|(m, times)| format!("{m} x {times}")).collect();
    runs.join(", ")
}
