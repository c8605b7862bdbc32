//! What is said of a cap that goes on from the needles: the rest, what cannot be mended, what was tried.

use super::codes::finding;
use super::codes_so_far::{SO_FAR_MEND, SO_FAR_PICK_UP, SO_FAR_REST, SO_FAR_STATE};
use crate::diagnostic::Diagnostic;
use crate::fit::Measures;
use crate::measure::{Length, Units, signed};
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
        // Where the flanks differ a run of one may be several steps of both.
        let runs = match self.plan.steps() {
            1 => "1 run".to_owned(),
            n => format!("{n} runs"),
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
    /// What it comes to, or that it leads to no cap.
    pub comes_to: Option<String>,
}

/// `to rip back 2 pairs comes to ...; ...`.
pub fn tried_words(tried: &[Tried]) -> String {
    let each = tried.iter().map(|one| match &one.comes_to {
        Some(outcome) => format!("{}: {outcome}", one.way),
        None => format!("{}: no rest leads from there to the upper arm", one.way),
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

/// A state that no plan leads to, with what was expected.
pub fn state_finding(message: String) -> Diagnostic {
    finding(&SO_FAR_STATE, message)
}
