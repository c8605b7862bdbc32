//! Why there is no cap: which limit binds, with its numbers.

use super::codes::{ARM_TOO_WIDE, ARMHOLE_TOO_LONG, ARMHOLE_TOO_SHORT, CROWN_TOO_WIDE, NO_CAP};
use super::frames::{Choice, choices, turn_pair_counts, upper_arm_stitches};
use super::pickup::FlankEdge;
use super::problem::Problem;
use super::relax::{relaxations, tried_in_vain};
use crate::diagnostic::{Code, Diagnostic};
use crate::measure::{Rows, Stitches, Stop, whole};
use crate::plan::{Move, STEEPEST};

/// True for the findings of a size that has no cap at all.
pub(crate) fn is_no_cap(code: &Code) -> bool {
    [
        &ARMHOLE_TOO_SHORT,
        &ARMHOLE_TOO_LONG,
        &ARM_TOO_WIDE,
        &CROWN_TOO_WIDE,
        &NO_CAP,
    ]
    .iter()
    .any(|known| known.id == code.id)
}

/// The limit that rules out the frame nearest to the old cap.
pub(super) fn explain(problem: &Problem<'_>, stop: &Stop) -> Diagnostic {
    let mut counts = turn_pair_counts(problem).into_iter();
    let first = counts.find_map(|pairs| choices(problem, pairs).into_iter().next());
    let found = match first {
        Some(choice) => binding(problem, &choice),
        None => crown_too_wide(problem),
    };
    let relaxed = relaxations(problem, stop);
    // Advice is what was tried; a sleeve that is no set-in one has words of its own.
    let first = match (found.next.as_str(), relaxed.is_empty()) {
        ("", true) => return found.next(tried_in_vain()),
        (_, true) => return found,
        ("", false) => String::new(),
        (own, false) => format!("{own} "),
    };
    let next = format!(
        "{first}Tried on the whole model, any one of these alone makes a cap possible: {}.",
        relaxed.join("; ")
    );
    found.next(next)
}

fn crown_too_wide(problem: &Problem<'_>) -> Diagnostic {
    let base = problem.front.underarm() + problem.back.underarm();
    if let Some(found) = odd_left(problem, base) {
        return found;
    }
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

/// Two flanks alike add an even number; with nothing made at the join, an odd one cannot be had.
fn odd_left(problem: &Problem<'_>, base: Stitches) -> Option<Diagnostic> {
    let live = problem.live.filter(|_| problem.wishes.plain_join)?;
    let crown = live.stitches + live.extra_each_side + live.extra_each_side;
    let upper_arm = upper_arm_stitches(problem);
    let left = upper_arm.checked_sub(crown + base)?;
    let message = format!(
        "The crown's {crown} and the base's {base} leave {left} of the upper arm's {upper_arm} for two flanks that are alike, an odd number, and a plain join makes none."
    );
    (left.count() % 2 == 1).then(|| Diagnostic::new(&CROWN_TOO_WIDE, message))
}

/// A top as wide as this share of the upper arm has no curve below it.
const STRAIGHT: f64 = 0.85;

fn binding(problem: &Problem<'_>, choice: &Choice) -> Diagnostic {
    let moves = choice.turn_pairs - 1;
    // What a flank must add at the least, and can at the most, as more or fewer stitches are made at the join.
    let nets = || choice.ends.iter().map(|end| Stitches(end.0));
    let fewest = nets().min().unwrap_or(Stitches::ZERO);
    let most = nets().max().unwrap_or(Stitches::ZERO);
    let allowed = problem.allowed_moves(&problem.targets_cm(choice.turn_pairs));
    for (name, armhole) in [("front", problem.front), ("back", problem.back)] {
        let sites = FlankEdge::new(problem, armhole, choice.crown).sites();
        if let Some(found) = too_short(name, sites, fewest)
            .or_else(|| too_steep(&allowed, moves, fewest))
            .or_else(|| too_long(problem, name, sites, most, moves))
        {
            return found;
        }
    }
    Diagnostic::new(
        &NO_CAP,
        format!(
            "With {} turn pairs no sequence of the allowed moves was found that meets every limit.",
            moves + 1
        ),
    )
}

fn too_short(name: &str, sites: Rows, net: Stitches) -> Option<Diagnostic> {
    net.count().checked_sub(sites.count()).filter(|n| *n > 0)?;
    let message = format!(
        "The {name} armhole is too short: below the crown it has {sites}, but the flank must take in at least {net}, one in a row at the most."
    );
    Some(Diagnostic::new(&ARMHOLE_TOO_SHORT, message))
}

fn too_steep(allowed: &[Move], moves: u32, net: Stitches) -> Option<Diagnostic> {
    let widest = allowed.iter().map(|m| m.widens().count()).max()?;
    let reach = widest * moves;
    let needed = net.count().div_ceil(moves.max(1));
    let beyond = if needed > STEEPEST {
        format!("; it would take moves of {needed}/0, and none is steeper than {STEEPEST}/0")
    } else {
        String::new()
    };
    let message = format!(
        "The flank must add at least {net} in {moves} moves, but the steepest allowed move adds {widest}: {reach} at most{beyond}."
    );
    (reach < net.count()).then(|| Diagnostic::new(&ARM_TOO_WIDE, message))
}

fn too_long(
    problem: &Problem<'_>,
    name: &str,
    sites: Rows,
    net: Stitches,
    moves: u32,
) -> Option<Diagnostic> {
    let gap = problem.wishes.gap_limit;
    let least = whole((sites.as_f64() / gap - 1e-9).ceil());
    let least = Stitches(least);
    let most = net + Stitches(moves);
    let message = format!(
        "The {name} armhole is too long: its {sites} below the crown need at least {least} at a gap of {gap} rows, but the flank can take in {most} at the most ({net} of the upper arm, with the fewest made at the join, and one decrease at each turn pair)."
    );
    (least > most).then(|| Diagnostic::new(&ARMHOLE_TOO_LONG, message))
}
