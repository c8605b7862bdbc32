//! Why there is no outline: which limits bind, by how much, and what would cure it.

use super::codes::{
    AREA_NOT_KEPT, ARM_NARROW, ARMHOLE_LONG, ARMHOLE_SHORT, NOT_FOUND, UNDERARM_WIDE,
};
use super::least::MOST_ENLARGED;
use super::problem::{CapCounts, EdgeEase, Keep, OutlineProblem, OutlineWishes};
// Circle with solve.rs: a refusal names only a cure that was tried, with the solver that refused.
use super::solve::outline;
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Rows, Stitches, UPPER_ARM_WIDTH, Units, nearest_whole};

/// All reasons, each with what would cure it.
pub(crate) fn explain(problem: &OutlineProblem<'_>, counts: CapCounts) -> Vec<Diagnostic> {
    let contradictions = contradictions(problem, counts);
    if !contradictions.is_empty() {
        return contradictions;
    }
    let shape = OutlineProblem {
        wishes: OutlineWishes {
            keep: match problem.wishes.keep {
                Keep::Area => Keep::Shape,
                keep => keep,
            },
            ..problem.wishes
        },
        ..problem.clone()
    };
    match Fits::of(&shape, counts, OtherGarment::default()) {
        Fits::Short(by) => vec![too_short(&shape, counts, by)],
        Fits::Long(by) => vec![too_long(&shape, counts, by)],
        Fits::Yes if problem.half_area_cm2().is_some() && works(&shape) => vec![area(problem)],
        Fits::Yes => vec![not_found(problem)],
    }
}

fn contradictions(problem: &OutlineProblem<'_>, counts: CapCounts) -> Vec<Diagnostic> {
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
        let message = format!(
            "Above the underarm the arm of {} leaves {}, no more than the top of {}.",
            units.show(gauge.width(counts.upper_arm)),
            units.show(gauge.width(counts.below())),
            units.show(gauge.width(counts.top)),
        );
        let cures = [
            top_needed(problem, counts).map(|top| format!("set adapt.top to {}", units.show(top))),
            arm_needed(problem, counts, 1)
                .map(|arm| format!("set adapt.upper_arm to {}", units.show(arm))),
        ];
        let said = Diagnostic::new(&ARM_NARROW, message);
        found.push(with_cures(said, cures, ARM_NARROW_ELSE));
    }
    found
}

/// Another garment to try.
#[derive(Clone, Copy, Debug, Default)]
struct OtherGarment {
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
    fn of(problem: &OutlineProblem<'_>, counts: CapCounts, change: OtherGarment) -> Self {
        let counts = changed(counts, change.stitches);
        if counts.below() <= counts.top {
            return Self::Long(Length::ZERO);
        }
        let problem = &OutlineProblem {
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

fn changed(counts: CapCounts, stitches: i32) -> CapCounts {
    let upper_arm = i64::from(counts.upper_arm.count()) + i64::from(stitches);
    CapCounts {
        upper_arm: Stitches(u32::try_from(upper_arm.max(0)).unwrap_or(u32::MAX)),
        ..counts
    }
}

/// Rows and stitches tried for a cure: the smallest wins, and the search must end. An armhole has about
/// a hundred rows, an upper arm as many stitches; a cure beyond four times that is another garment.
const MOST_TRIED: i32 = 400;

/// Changes that the limits allow and that are tried in whole stitches, the smallest first. Each costs as
/// much as a whole adaptation, and what the limits allow can nearly always be written.
const MOST_WORKED: usize = 12;

/// The fewest rows more (or fewer) in the armhole that let some depth fit.
fn rows_needed(problem: &OutlineProblem<'_>, counts: CapCounts, sign: i32) -> Option<Rows> {
    let rows = (1..=MOST_TRIED).filter(|rows| {
        let change = OtherGarment {
            rows: f64::from(sign * rows),
            stitches: 0,
        };
        let left = problem.opening.deeper(change.rows);
        let possible = left.depth.is_positive() && left.edge().is_positive();
        possible && Fits::of(problem, counts, change).is_yes()
    });
    let found = rows.take(MOST_WORKED).find(|rows| {
        works(&OutlineProblem {
            opening: problem.opening.deeper(f64::from(sign * rows)),
            ..problem.clone()
        })
    });
    found.map(|rows| Rows(rows.unsigned_abs()))
}

/// The nearest wider (or narrower) arm that lets some depth fit, as it would be written into the case.
fn arm_needed(problem: &OutlineProblem<'_>, counts: CapCounts, sign: i32) -> Option<Length> {
    let arms = (1..=MOST_TRIED).filter_map(|stitches| {
        let change = OtherGarment {
            rows: 0.0,
            stitches: sign * stitches,
        };
        let width = problem
            .gauge
            .width(changed(counts, change.stitches).upper_arm);
        let arm = as_written(problem.units, width);
        let in_bounds = UPPER_ARM_WIDTH.check(arm.to_cm()).is_ok();
        (in_bounds && Fits::of(problem, counts, change).is_yes()).then_some(arm)
    });
    arms.take(MOST_WORKED).find(|arm| {
        works(&OutlineProblem {
            wishes: OutlineWishes {
                upper_arm: Some(*arm),
                ..problem.wishes
            },
            ..problem.clone()
        })
    })
}

/// The widest top below the one asked for that lets some depth fit, as it would be written into the case.
fn top_needed(problem: &OutlineProblem<'_>, counts: CapCounts) -> Option<Length> {
    let widest = counts.below().saturating_sub(Stitches(2)).count();
    let tops = (1..=widest).rev().map(|top| {
        let width = problem.gauge.width(Stitches(top));
        as_written(problem.units, width)
    });
    tops.take(MOST_WORKED).find(|top| {
        works(&OutlineProblem {
            wishes: OutlineWishes {
                top: Some(*top),
                ..problem.wishes
            },
            ..problem.clone()
        })
    })
}

/// Ease that is tried, in centimetres: what is more is another garment.
const EASES_CM: [f64; 8] = [0.5, -0.5, 1.0, -1.0, 1.5, -1.5, 2.0, -2.0];

/// The smallest ease near the one asked for that lets some depth fit, as it would be written into the case.
fn ease_needed(problem: &OutlineProblem<'_>) -> Option<Length> {
    let now = problem.edge() - (problem.opening.front + problem.opening.back) / 2.0;
    let eases = EASES_CM
        .iter()
        .map(|more| as_written(problem.units, now + Length::cm(*more)));
    eases.into_iter().find(|ease| {
        works(&OutlineProblem {
            wishes: OutlineWishes {
                ease: Some(EdgeEase::Length(*ease)),
                ..problem.wishes
            },
            ..problem.clone()
        })
    })
}

/// True when the change really gives a cap: what is advised has been tried.
fn works(problem: &OutlineProblem<'_>) -> bool {
    outline(problem, problem.counts()).is_some()
}

/// A length as it is shown, and so as it would be written into a case: to a tenth.
fn as_written(units: Units, length: Length) -> Length {
    units.length((units.number(length) * 10.0).round() / 10.0)
}

fn at_what_depth(problem: &OutlineProblem<'_>) -> String {
    match problem.depth() {
        Some(depth) => format!("at a depth of {}", problem.units.show(depth)),
        None => "at any depth".to_owned(),
    }
}

fn too_short(problem: &OutlineProblem<'_>, counts: CapCounts, by: Length) -> Diagnostic {
    let units = problem.units;
    let message = format!(
        "The armhole is {} too short for this arm {}: it gives one side of the cap {}, and straight from the top to the underarm there are {}.",
        by_how_much(units, by),
        at_what_depth(problem),
        units.show(problem.edge()),
        units.show(problem.edge() + by),
    );
    let cures = [
        depth_cure(problem),
        rows_needed(problem, counts, 1).map(|rows| format!("deepen the armhole by {rows}")),
        arm_needed(problem, counts, -1).map(|arm| format!("narrow the arm to {}", units.show(arm))),
    ];
    with_cures(
        Diagnostic::new(&ARMHOLE_SHORT, message),
        cures,
        MEASURE_AGAIN,
    )
}

/// What a tenth would round to nothing is not told as nothing.
fn by_how_much(units: Units, by: Length) -> String {
    if units.number(by) < 0.05 {
        return "a hair".to_owned();
    }
    units.show(by)
}

fn too_long(problem: &OutlineProblem<'_>, counts: CapCounts, by: Length) -> Diagnostic {
    let units = problem.units;
    let message = format!(
        "The armhole is {} too long for this arm {}: it gives one side of the cap {}, and the longest edge this shape can be bent to is {}.",
        by_how_much(units, by),
        at_what_depth(problem),
        units.show(problem.edge()),
        units.show(problem.edge() - by),
    );
    let cures = [
        depth_cure(problem),
        rows_needed(problem, counts, -1)
            .map(|rows| format!("take {rows} out of the armhole on each side")),
        arm_needed(problem, counts, 1).map(|arm| format!("widen the arm to {}", units.show(arm))),
    ];
    with_cures(
        Diagnostic::new(&ARMHOLE_LONG, message),
        cures,
        MEASURE_AGAIN,
    )
}

/// Another depth, where it was the depth that bound.
fn depth_cure(problem: &OutlineProblem<'_>) -> Option<String> {
    problem.depth()?;
    let free = OutlineProblem {
        wishes: OutlineWishes {
            depth: None,
            keep: Keep::Shape,
            ..problem.wishes
        },
        rows: None,
        ..problem.clone()
    };
    let pair = problem.gauge.row_height() * 2.0;
    let wanted = nearest_whole(problem.depth()? / pair);
    let mut pairs: Vec<u32> = free.pairs().collect();
    pairs.sort_by_key(|pairs| (pairs.abs_diff(wanted), *pairs));
    let depths = pairs
        .into_iter()
        .map(|pairs| as_written(problem.units, pair * f64::from(pairs)));
    let mut good = depths.take(MOST_WORKED).filter(|depth| {
        works(&OutlineProblem {
            wishes: OutlineWishes {
                depth: Some(*depth),
                ..free.wishes
            },
            ..free.clone()
        })
    });
    let depth = problem.units.show(good.next()?);
    let beside = match problem.wishes.keep {
        Keep::Depth => " (adapt.depth) and leave adapt.keep out",
        _ => "",
    };
    Some(format!("make the cap {depth} deep{beside}"))
}

/// Said where none of the cures that were tried helps.
const MEASURE_AGAIN: &str = "No other depth, armhole or arm near these helps alone (tried): measure the armhole and the arm again.";
const ARM_NARROW_ELSE: &str =
    "No other top and no other arm helps alone (tried): measure the armhole and the arm again.";

/// The cures, or what is said where there is none.
fn with_cures<const N: usize>(
    diagnostic: Diagnostic,
    cures: [Option<String>; N],
    none: &str,
) -> Diagnostic {
    let cures: Vec<String> = cures.into_iter().flatten().collect();
    if cures.is_empty() {
        return diagnostic.next(none);
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
fn area(problem: &OutlineProblem<'_>) -> Diagnostic {
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
fn not_found(problem: &OutlineProblem<'_>) -> Diagnostic {
    let message = format!(
        "No rows of whole stitches have an edge of {} a side at this arm and top.",
        problem.units.show(problem.edge()),
    );
    let counts = problem.counts();
    let cures = [
        depth_cure(problem),
        arm_needed(problem, counts, 1)
            .map(|arm| format!("widen the arm to {}", problem.units.show(arm))),
        arm_needed(problem, counts, -1)
            .map(|arm| format!("narrow the arm to {}", problem.units.show(arm))),
        ease_needed(problem).map(|ease| format!("set adapt.ease to {}", problem.units.show(ease))),
    ];
    with_cures(
        Diagnostic::new(&NOT_FOUND, message),
        cures,
        "No other depth, arm or ease near these helps alone (tried): measure the armhole and the arm again.",
    )
}
