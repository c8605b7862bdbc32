//! Why there is no outline: which limits bind, by how much, and what would cure it.

use super::codes::{
    AREA_NOT_KEPT, ARM_NARROW, ARMHOLE_LONG, ARMHOLE_SHORT, NOT_FOUND, UNDERARM_WIDE,
};
use super::least::MOST_ENLARGED;
use super::problem::{Counts, Keep, Problem, Wishes};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Rows, Stitches, nearest_whole};

/// All reasons, each with what would cure it.
pub(crate) fn explain(problem: &Problem<'_>, counts: Counts) -> Vec<Diagnostic> {
    let contradictions = contradictions(problem, counts);
    if !contradictions.is_empty() {
        return contradictions;
    }
    let shape = Problem {
        wishes: Wishes {
            keep: match problem.wishes.keep {
                Keep::Area => Keep::Shape,
                keep => keep,
            },
            ..problem.wishes
        },
        ..problem.clone()
    };
    match Fits::of(&shape, counts, Change::default()) {
        Fits::Short(by) => vec![too_short(&shape, counts, by)],
        Fits::Long(by) => vec![too_long(&shape, counts, by)],
        Fits::Yes if problem.half_area_cm2().is_some() => vec![area(problem)],
        Fits::Yes => vec![not_found(problem)],
    }
}

fn contradictions(problem: &Problem<'_>, counts: Counts) -> Vec<Diagnostic> {
    let units = problem.units;
    let gauge = problem.gauge;
    let mut found = Vec::new();
    if counts.underarm + counts.underarm >= counts.upper_arm {
        let message = format!(
            "The underarm takes {} at each edge, {} in all; the upper arm is only {}.",
            units.show(gauge.width(counts.underarm)),
            units.show(gauge.width(counts.underarm + counts.underarm)),
            units.show(gauge.width(counts.upper_arm)),
        );
        found.push(Diagnostic::new(&UNDERARM_WIDE, message));
    } else if counts.below() <= counts.top {
        let most = gauge.width(counts.below().saturating_sub(Stitches(2)));
        let least = gauge.width(counts.top + counts.underarm + counts.underarm + Stitches(2));
        let message = format!(
            "Above the underarm the arm of {} leaves {}, no more than the top of {}.",
            units.show(gauge.width(counts.upper_arm)),
            units.show(gauge.width(counts.below())),
            units.show(gauge.width(counts.top)),
        );
        let next = format!(
            "Make the top no wider than {}, or the arm at least {}.",
            units.show(most),
            units.show(least),
        );
        found.push(Diagnostic::new(&ARM_NARROW, message).next(next));
    }
    found
}

/// Another garment to try.
#[derive(Clone, Copy, Debug, Default)]
struct Change {
    /// Rows added to the armhole.
    rows: f64,
    /// Stitches added to the upper arm.
    stitches: i32,
}

/// Whether some depth fits, by the limits of straight and bent edges.
enum Fits {
    Yes,
    /// Even the shortest edge is too long by so much: the armhole is too short.
    Short(Length),
    /// Even the longest edge is too short by so much.
    Long(Length),
}

impl Fits {
    fn of(problem: &Problem<'_>, counts: Counts, change: Change) -> Self {
        let counts = changed(counts, change.stitches);
        if counts.below() <= counts.top {
            return Self::Long(Length::ZERO);
        }
        let problem = &Problem {
            opening: problem.opening.deeper(change.rows),
            ..problem.clone()
        };
        let edge_cm = problem.edge().to_cm() - problem.ends(counts).top.to_cm();
        let pairs = problem.pairs();
        let shortest = problem.reference(counts, *pairs.start()).shortest_cm();
        if edge_cm < shortest {
            return Self::Short(Length::cm(shortest - edge_cm));
        }
        let deepest = problem.reference(counts, *pairs.end());
        match deepest.enlarged(MOST_ENLARGED).longest_cm(None) {
            Some(longest) if edge_cm > longest => Self::Long(Length::cm(edge_cm - longest)),
            _ => Self::Yes,
        }
    }

    const fn is_yes(&self) -> bool {
        matches!(self, Self::Yes)
    }
}

fn changed(counts: Counts, stitches: i32) -> Counts {
    let upper_arm = i64::from(counts.upper_arm.count()) + i64::from(stitches);
    Counts {
        upper_arm: Stitches(u32::try_from(upper_arm.max(0)).unwrap_or(u32::MAX)),
        ..counts
    }
}

/// Rows and stitches tried for a cure.
const MOST_TRIED: i32 = 400;

/// The fewest rows more (or fewer) in the armhole that let some depth fit.
fn rows_needed(problem: &Problem<'_>, counts: Counts, sign: i32) -> Option<Rows> {
    (1..=MOST_TRIED).find_map(|rows| {
        let change = Change {
            rows: f64::from(sign * rows),
            stitches: 0,
        };
        let left = problem.opening.deeper(change.rows);
        let possible = left.depth.is_positive() && left.edge().is_positive();
        let fits = possible && Fits::of(problem, counts, change).is_yes();
        fits.then(|| Rows(rows.unsigned_abs()))
    })
}

/// The fewest stitches more (or fewer) at the upper arm that let some depth fit.
fn stitches_needed(problem: &Problem<'_>, counts: Counts, sign: i32) -> Option<Stitches> {
    (1..=MOST_TRIED / 2).find_map(|pairs| {
        let change = Change {
            rows: 0.0,
            stitches: sign * 2 * pairs,
        };
        let fits = Fits::of(problem, counts, change).is_yes();
        fits.then(|| Stitches(2 * pairs.unsigned_abs()))
    })
}

fn at_what_depth(problem: &Problem<'_>) -> String {
    match problem.depth() {
        Some(depth) => format!("at a depth of {}", problem.units.show(depth)),
        None => "at any depth".to_owned(),
    }
}

fn too_short(problem: &Problem<'_>, counts: Counts, by: Length) -> Diagnostic {
    let units = problem.units;
    let message = format!(
        "The armhole is {} too short for this arm {}: it gives one side of the cap {}, and straight from the top to the underarm there are {}.",
        units.show(by),
        at_what_depth(problem),
        units.show(problem.edge()),
        units.show(problem.edge() + by),
    );
    let cures = [
        depth_cure(problem, counts, by),
        rows_needed(problem, counts, 1).map(|rows| format!("deepen the armhole by {rows}")),
        stitches_needed(problem, counts, -1).map(|stitches| {
            let less = problem.gauge.width(stitches);
            let arm = problem.gauge.width(counts.upper_arm) - less;
            format!(
                "narrow the arm by {} to {}",
                units.show(less),
                units.show(arm)
            )
        }),
    ];
    with_cures(Diagnostic::new(&ARMHOLE_SHORT, message), cures)
}

fn too_long(problem: &Problem<'_>, counts: Counts, by: Length) -> Diagnostic {
    let units = problem.units;
    let message = format!(
        "The armhole is {} too long for this arm {}: it gives one side of the cap {}, and the longest edge this shape can be bent to is {}.",
        units.show(by),
        at_what_depth(problem),
        units.show(problem.edge()),
        units.show(problem.edge() - by),
    );
    let cures = [
        depth_cure(problem, counts, by),
        rows_needed(problem, counts, -1)
            .map(|rows| format!("take {rows} out of the armhole on each side")),
        stitches_needed(problem, counts, 1).map(|stitches| {
            let more = problem.gauge.width(stitches);
            let arm = problem.gauge.width(counts.upper_arm) + more;
            format!(
                "widen the arm by {} to {}",
                units.show(more),
                units.show(arm)
            )
        }),
    ];
    with_cures(Diagnostic::new(&ARMHOLE_LONG, message), cures)
}

/// Another depth, where it was the depth that bound.
fn depth_cure(problem: &Problem<'_>, counts: Counts, _by: Length) -> Option<String> {
    problem.depth()?;
    let free = Problem {
        wishes: Wishes {
            depth: None,
            keep: Keep::Shape,
            ..problem.wishes
        },
        rows: None,
        ..problem.clone()
    };
    let pair = problem.gauge.row_height() * 2.0;
    let fits = |pairs: &u32| {
        let at = Problem {
            wishes: Wishes {
                depth: Some(pair * f64::from(*pairs)),
                ..free.wishes
            },
            ..free.clone()
        };
        Fits::of(&at, counts, Change::default()).is_yes()
    };
    let wanted = nearest_whole(problem.depth()? / pair);
    let mut pairs: Vec<u32> = free.pairs().filter(fits).collect();
    pairs.sort_by_key(|pairs| (pairs.abs_diff(wanted), *pairs));
    let depth = pair * f64::from(*pairs.first()?);
    Some(format!("make the cap {} deep", problem.units.show(depth)))
}

fn with_cures(diagnostic: Diagnostic, cures: [Option<String>; 3]) -> Diagnostic {
    let cures: Vec<String> = cures.into_iter().flatten().collect();
    if cures.is_empty() {
        return diagnostic;
    }
    let text = cures.join(", or ");
    let mut letters = text.chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    diagnostic.next(format!("{first}{}.", letters.as_str()))
}

/// The old area cannot be had with this edge.
fn area(problem: &Problem<'_>) -> Diagnostic {
    let units = problem.units;
    let area = problem.old.map_or(0.0, |old| old.cap.area_cm2());
    let message = format!(
        "No cap with the old area of {} has an edge of {} a side at this arm and top.",
        units.show_area(area),
        units.show(problem.edge()),
    );
    Diagnostic::new(&AREA_NOT_KEPT, message)
}

/// Straight and bent edges leave room, but no rows of whole stitches lead through it.
fn not_found(problem: &Problem<'_>) -> Diagnostic {
    let message = format!(
        "No rows of whole stitches have an edge of {} a side at this arm and top.",
        problem.units.show(problem.edge()),
    );
    Diagnostic::new(&NOT_FOUND, message)
}
