//! Whole repeats at the upper arm, where the stitch pattern needs them and they cost little; what they cost.

use crate::case::Case;
use crate::diagnostic::Diagnostic;
use crate::fit::{self, Fit, OPEN_REPEAT, Problem, Work, upper_arm_stitches};
use crate::measure::{Stop, Units, signed_pct};
use crate::plan::Repeat;
use crate::stitch::WHOLE_REPEATS;

/// The problem with whole repeats of a pattern that would break at the underarm, while they are worth their width.
/// What a case says of its repeat stands.
pub(super) fn in_whole_repeats<'a>(case: &Case, index: usize, problem: Problem<'a>) -> Problem<'a> {
    match whole(case, index, &problem) {
        Some(whole) if off_cm2(&whole) <= off_cm2(&problem) + OPEN_REPEAT => whole,
        _ => problem,
    }
}

/// The same problem in whole repeats, where the case leaves them open and its ground needs them.
fn whole<'a>(case: &Case, index: usize, problem: &Problem<'a>) -> Option<Problem<'a>> {
    let ground = &case.stitch.as_ref()?.ground.chart;
    let multiple = u32::try_from(ground.width()).ok()?;
    let needed = case.sleeve.asked_repeat(index).is_none() && multiple > 1 && !ground.is_rib();
    needed.then(|| Problem {
        repeat: Repeat { multiple, plus: 0 },
        ..problem.clone()
    })
}

/// Square of what the half width of the upper arm is off, in centimetres.
fn off_cm2(problem: &Problem<'_>) -> f64 {
    let half = problem.tube_gauge.width(upper_arm_stitches(problem)) - problem.upper_arm;
    (half.to_cm() / 2.0).powi(2)
}

/// Where whole repeats changed the upper arm: said, with what they cost in width, area and ease.
pub(super) fn price_of_repeats(
    case: &Case,
    index: usize,
    (problem, stop): (&Problem<'_>, &Stop),
    with: &Fit,
) -> Vec<Diagnostic> {
    let free = Problem {
        repeat: case.sleeve.repeat(index),
        ..problem.clone()
    };
    let taken = with.plan.upper_arm();
    if free.repeat == problem.repeat || upper_arm_stitches(&free) == taken {
        return Vec::new();
    }
    let multiple = problem.repeat.multiple.max(1);
    let mut message = format!(
        "The upper arm has {} sts, {} of {multiple}, so that the stitch pattern closes at the underarm; without that it would have {}.",
        taken.count(),
        match taken.count() / multiple {
            1 => "1 whole repeat".to_owned(),
            n => format!("{n} whole repeats"),
        },
        upper_arm_stitches(&free).count()
    );
    if let Ok(without) = fit::fit_until(&free, Work::USUAL, stop) {
        message += &price(case.units, with, &without);
    }
    vec![Diagnostic::new(&WHOLE_REPEATS, message).about("stitch")]
}

fn price(units: Units, with: &Fit, without: &Fit) -> String {
    let (new, other) = (&with.measures, &without.measures);
    let pct = |pct: f64| format!("{:.1} %", pct + 0.0);
    format!(
        " {}, {}, {}.",
        either(
            "Its width",
            &units.show(new.upper_arm),
            &units.show(other.upper_arm)
        ),
        either(
            "the error of its area",
            &pct(new.area_error_pct.abs()),
            &pct(other.area_error_pct.abs())
        ),
        either(
            "its ease along the armhole",
            &signed_pct(new.ease_pct()),
            &signed_pct(other.ease_pct())
        )
    )
}

fn either(what: &str, with: &str, without: &str) -> String {
    if with == without {
        format!("{what} is {with} either way")
    } else {
        format!("{what} is {with} instead of {without}")
    }
}
