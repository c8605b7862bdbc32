//! Why there is no cap: which limit binds, with its numbers.

use super::codes::{
    ARM_TOO_WIDE, ARMHOLE_TOO_LONG, ARMHOLE_TOO_SHORT, CROWN_TOO_WIDE, NO_CAP, PARITY,
};
use super::frames::{Choice, choices, turn_pair_counts, upper_arm_stitches};
use super::pickup::stitch_range;
use super::problem::Problem;
use super::relax::{STEEPEST, relaxations};
use crate::diagnostic::Diagnostic;
use crate::measure::{Rows, Stitches};

/// The limit that rules out the frame nearest to the old cap.
pub(crate) fn explain(problem: &Problem<'_>) -> Diagnostic {
    let mut counts = turn_pair_counts(problem).into_iter().flatten();
    let first = counts.find_map(|pairs| choices(problem, pairs).into_iter().next());
    let found = match first {
        Some(choice) => binding(problem, &choice),
        None => parity(problem).unwrap_or_else(|| crown_too_wide(problem)),
    };
    let relaxed = relaxations(problem);
    if relaxed.is_empty() {
        return found;
    }
    let next = format!(
        "{} Tried on the whole model, any one of these alone makes a cap possible: {}.",
        found.advice(),
        relaxed.join("; ")
    );
    found.next(next)
}

/// Live stitches fix the crown, the repeat fixes the upper arm, and an odd number is left between.
fn parity(problem: &Problem<'_>) -> Option<Diagnostic> {
    let live = problem.live?;
    let crown = live.stitches + live.extra_each_side + live.extra_each_side;
    let base = problem.front.underarm() + problem.back.underarm();
    let upper_arm = upper_arm_stitches(problem);
    let left = upper_arm
        .checked_sub(crown + base)
        .filter(|left| !left.is_even())?;
    let message = format!(
        "Between the crown's {crown}, the base's {base} and the upper arm's {upper_arm} an odd number, {}, is left for two equal flanks, and the stitch repeat of {} + {} allows no other upper arm.",
        left.count(),
        problem.repeat.multiple,
        problem.repeat.plus
    );
    Some(Diagnostic::new(&PARITY, message))
}

fn crown_too_wide(problem: &Problem<'_>) -> Diagnostic {
    let base = problem.front.underarm() + problem.back.underarm();
    let message = match problem.live {
        Some(live) => format!(
            "The crown's {} and the base's {base} leave nothing of the upper arm's {} for the flanks.",
            live.stitches + live.extra_each_side + live.extra_each_side,
            upper_arm_stitches(problem)
        ),
        None => format!(
            "The cap's top and the base's {base} leave nothing of the upper arm's {} for the flanks.",
            upper_arm_stitches(problem)
        ),
    };
    let found = Diagnostic::new(&CROWN_TOO_WIDE, message);
    let straight = problem.live.is_none() && problem.cap.top() > problem.cap.upper_arm() * STRAIGHT;
    if straight {
        return found.next(
            "This sleeve's top is straight (a square armhole): it has no curve to shape. Pick up all stitches along the armhole's sides, work these rows back and forth without turns, and sew their ends to the underarm.",
        );
    }
    found
}

/// A top as wide as this share of the upper arm has no curve below it.
const STRAIGHT: f64 = 0.85;

fn binding(problem: &Problem<'_>, choice: &Choice) -> Diagnostic {
    let moves = u32::try_from(choice.frame.turn_pairs() - 1).unwrap_or(u32::MAX);
    let sides = [
        ("front", problem.front, choice.net),
        ("back", problem.back, choice.net),
    ];
    for (name, armhole, net) in sides {
        let net = Stitches(u32::try_from(net).unwrap_or(u32::MAX));
        let sites = armhole.sites().saturating_sub(choice.crown_sites());
        if let Some(found) = too_short(name, sites, net)
            .or_else(|| too_steep(choice, moves, net))
            .or_else(|| too_long(problem, name, sites, net, moves))
        {
            return found;
        }
    }
    Diagnostic::new(
        &NO_CAP,
        format!(
            "With {} turn pairs no sequence of the allowed moves meets every limit.",
            moves + 1
        ),
    )
}

fn too_short(name: &str, sites: Rows, net: Stitches) -> Option<Diagnostic> {
    let missing = net.count().checked_sub(sites.count()).filter(|n| *n > 0)?;
    let message = format!(
        "The {name} armhole is too short: below the crown it has {sites}, but the flank must take in at least {net}, one in a row at the most."
    );
    let next = format!(
        "Deepen the armhole by {}, or narrow the upper arm by {}.",
        Rows(missing),
        Stitches(2 * missing)
    );
    Some(Diagnostic::new(&ARMHOLE_TOO_SHORT, message).next(next))
}

fn too_steep(choice: &Choice, moves: u32, net: Stitches) -> Option<Diagnostic> {
    let widest = choice
        .frame
        .moves
        .iter()
        .map(|m| m.widens().count())
        .max()?;
    let reach = widest * moves;
    let message = format!(
        "The flank must add {net} in {moves} moves, but the steepest allowed move adds {widest}: {reach} at most."
    );
    let needed = net.count().div_ceil(moves.max(1));
    let next = if needed > STEEPEST {
        format!(
            "Deepen the cap: it would take moves of {needed}/0, and none is steeper than {STEEPEST}/0."
        )
    } else {
        format!("Allow moves up to {needed}/0 in fit.moves, or deepen the cap.")
    };
    (reach < net.count()).then(|| Diagnostic::new(&ARM_TOO_WIDE, message).next(next))
}

fn too_long(
    problem: &Problem<'_>,
    name: &str,
    sites: Rows,
    net: Stitches,
    moves: u32,
) -> Option<Diagnostic> {
    let gap = problem.wishes.gap_limit;
    let (least, _) = stitch_range(sites, gap);
    let most = net + Stitches(moves);
    let message = format!(
        "The {name} armhole is too long: its {sites} below the crown need at least {least} at a gap of {gap} rows, but the flank can take in {most} at the most ({net} of the upper arm and one decrease at each turn pair)."
    );
    let needed = sites.as_f64() / most.as_f64();
    let next = format!(
        "Raise fit.gap_limit to {:.2}, or widen the upper arm by {}.",
        (needed * 100.0).ceil() / 100.0,
        Stitches(2 * least.saturating_sub(most).count())
    );
    (least > most).then(|| Diagnostic::new(&ARMHOLE_TOO_LONG, message).next(next))
}
