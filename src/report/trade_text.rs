//! The trade between simple and faithful: the best cap for every number of runs, and those near it.

use std::fmt::Write as _;

use super::text::{laid_out, signed, signed_pct};
use crate::convert::SizeConversion;
use crate::fit::{CapPlan, FlankPlan, Measures};
use crate::measure::Units;

/// A table with a line for every number of runs that gains something, the chosen one marked.
pub(super) fn trade_text(units: Units, size: &SizeConversion) -> String {
    let mut table = vec![
        [
            "runs",
            "area",
            "off the old width",
            "edge on armhole",
            "decreases",
        ]
        .map(str::to_owned),
    ];
    let chosen = size.fit.plan.runs();
    let mut before: Option<&CapPlan> = None;
    for point in &size.fit.trade {
        let Some((plan, measures)) = &point.cap else {
            continue;
        };
        // More runs that gain nothing give the same cap.
        if before != Some(plan) {
            let mark = if plan.runs() == chosen { " *" } else { "" };
            table.push(line(
                units,
                &format!("{}{mark}", plan.runs()),
                plan,
                measures,
            ));
        }
        before = Some(plan);
    }
    let mut out = "Simple against faithful: the best cap for every number of runs\n".to_owned();
    out += &laid_out(&table);
    out += "  * chosen; --runs N takes another\n";
    if !size.near_ties.is_empty() {
        out += "Nearly as good and simpler, as stitches taken in/decreased x turn pairs from the crown down\n";
    }
    for (i, tie) in size.near_ties.iter().enumerate() {
        let words: Vec<&str> = tie.simpler.iter().map(|simpler| simpler.words()).collect();
        let _ = writeln!(
            out,
            "  {}  {}: {}, area {}",
            i + 2,
            words.join(", "),
            flanks(&tie.plan),
            signed_pct(tie.measures.area_error_pct),
        );
    }
    if !size.near_ties.is_empty() {
        out += "  --choice N takes one of these\n";
    }
    out + "\n"
}

fn line(units: Units, runs: &str, plan: &CapPlan, m: &Measures) -> [String; 5] {
    let (front, back) = (m.front.ease_pct(), m.back.ease_pct());
    let alike = signed(front) == signed(back);
    [
        runs.to_owned(),
        signed_pct(m.area_error_pct),
        format!("{} rms", units.show_fine(m.width_rms)),
        if alike {
            signed_pct(front)
        } else {
            format!("front {}, back {}", signed_pct(front), signed_pct(back))
        },
        (plan.front.decreases() + plan.back.decreases())
            .count()
            .to_string(),
    ]
}

/// The runs of both flanks, from the crown down: stitches taken in (and decreased), times.
fn flanks(plan: &CapPlan) -> String {
    if plan.front.moves == plan.back.moves {
        return runs(&plan.front);
    }
    format!("front {}, back {}", runs(&plan.front), runs(&plan.back))
}

fn runs(flank: &FlankPlan) -> String {
    let runs = flank.runs().into_iter();
    let runs: Vec<String> = runs.map(|(m, times)| format!("{m} x {times}")).collect();
    runs.join(" ")
}
