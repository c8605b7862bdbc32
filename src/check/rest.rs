//! What is said of a cap that goes on from the needles: the rest, what cannot be mended, what was tried.

use super::codes::finding;
use super::codes_so_far::{SO_FAR_JOINED, SO_FAR_MEND, SO_FAR_PICK_UP, SO_FAR_REST, SO_FAR_STATE};
use crate::case::{CapSoFar, SoFar};
use crate::diagnostic::Diagnostic;
use crate::fit::Measures;
use crate::measure::{Length, Rows, Units, signed};
use crate::plan::CapPlan;

/// A cap and what it measures, to be told in one line.
#[derive(Clone, Copy, Debug)]
pub struct Outcome<'a> {
    /// Units for the words.
    pub units: Units,
    /// The cap.
    pub plan: &'a CapPlan,
    /// What it measures.
    pub measures: &'a Measures,
}

impl Outcome<'_> {
    /// `5.0 in deep (0.1 in short), area -0.4 %, widths 0.05 in off, ease +1.9 %, 3 runs`.
    pub fn words(&self) -> String {
        let m = self.measures;
        let runs = match self.plan.runs() {
            1 => "1 run".to_owned(),
            n => format!("{n} runs"),
        };
        // Where the flanks differ a run of one may be several steps of both.
        let runs = match self.plan.steps() {
            steps if steps > self.plan.runs() => format!("{runs} in {steps} steps"),
            _ => runs,
        };
        format!(
            "{} deep{}, area {} %, widths {} off in the mean, ease {} %, {runs}",
            self.units.show(m.depth),
            self.off(),
            signed(m.area_error_pct),
            self.units.show_fine(m.width_rms),
            signed(m.ease_pct()),
        )
    }

    /// ` (0.1 in short)`; nothing where the depth is the old one's as it is shown.
    fn off(&self) -> String {
        let off = self.measures.depth_error;
        let nothing = self.units.show(Length::cm(0.0));
        let shown = self.units.show(off.abs());
        match (shown == nothing, off < Length::ZERO) {
            (true, _) => String::new(),
            (false, true) => format!(" ({shown} short)"),
            (false, false) => format!(" ({shown} too much)"),
        }
    }
}

/// A way that was tried, and what it comes to.
#[derive(Clone, Debug)]
pub struct Tried {
    /// What is done: `rip back 2 pairs, to row 12`.
    pub way: String,
    /// What the case says then, where it must say something else: `so_far.rows = 12`.
    pub keys: Vec<String>,
    /// What it comes to, or that it leads to no cap.
    pub comes_to: Option<String>,
}

/// `to rip back 2 pairs comes to ...; ...`.
pub fn tried_words(tried: &[Tried]) -> String {
    let each = tried.iter().map(|one| {
        let keys = if one.keys.is_empty() {
            String::new()
        } else {
            format!(" ({})", one.keys.join(", "))
        };
        match &one.comes_to {
            Some(outcome) => format!("{}{keys}: {outcome}", one.way),
            None => format!(
                "{}{keys}: no rest leads from there to the upper arm",
                one.way
            ),
        }
    });
    each.collect::<Vec<_>>().join("; ")
}

/// The rest that was planned.
pub fn rest_finding(
    row: u32,
    planned_pairs: u32,
    outcome: &Outcome<'_>,
    besides: &str,
) -> Diagnostic {
    let pairs = outcome.plan.turn_pairs();
    let all = if pairs == planned_pairs {
        format!("{pairs} turn pairs in all, as planned")
    } else {
        format!("{pairs} turn pairs in all where the plan had {planned_pairs}")
    };
    let message = format!(
        "From row {row} on the rest is planned anew, {all}. It comes to {}.{besides}",
        outcome.words()
    );
    finding(&SO_FAR_REST, message)
}

/// What cannot be mended from where the work stands, and what was tried.
pub fn mend_finding(outcome: &Outcome<'_>, planned: &Outcome<'_>, tried: &[Tried]) -> Diagnostic {
    let message = format!(
        "What is worked cannot all be mended from here: the best rest comes to {}; the plan was {}.",
        outcome.words(),
        planned.words()
    );
    let next = if tried.is_empty() {
        "Nothing else that was tried from here (ripping back, stitches made or taken away among those that wait) comes nearer: accept it, or begin again.".to_owned()
    } else {
        format!(
            "Accept it, or take one of what was tried: {}.",
            tried_words(tried)
        )
    };
    finding(&SO_FAR_MEND, message).next(next)
}

/// A pick-up kept and put right, side by side, and which of the two the pattern takes.
pub fn pick_up_finding(tried: &[Tried], taken: &str, other: Option<&str>) -> Diagnostic {
    let message = format!("{}. The pattern takes: {taken}.", tried_words(tried));
    let said = finding(&SO_FAR_PICK_UP, message);
    match other {
        Some(word) => said.next(format!(
            "Leave it, or take the other with so_far.mend = \"{word}\"."
        )),
        None => said,
    }
}

/// The tube is begun, and the case has a row of the cap before its last: with the plan as it was that cannot be; a rest
/// that was planned there was worked since.
pub fn joined_finding(
    (so_far, cap): (&SoFar, &CapSoFar),
    plan: &CapPlan,
    as_planned: bool,
) -> Option<Diagnostic> {
    let (tube, rows) = (so_far.tube?, cap.rows?);
    let all = 2 * plan.turn_pairs();
    if rows >= Rows(all) {
        return None;
    }
    let (rows, rounds) = (rows.count(), tube.rounds.count());
    let worked = format!("so_far.rows is {rows}, and the tube is begun (round {rounds})");
    if as_planned {
        let message = format!(
            "{worked}: but the cap has {all} rows, and the tube begins after them. Give rows of the cap while it is worked, rounds after the join."
        );
        return Some(finding(&SO_FAR_STATE, message).about("so_far.rows"));
    }
    let message = format!(
        "{worked}: the cap is taken to have been worked to its end by what was planned from row {} on.",
        rows + 1
    );
    Some(finding(&SO_FAR_JOINED, message))
}

/// A state that no plan leads to, with what was expected.
pub fn state_finding(message: String) -> Diagnostic {
    finding(&SO_FAR_STATE, message)
}
