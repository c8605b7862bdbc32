//! `[adapt]`: the outlines of all sizes, from the wishes of the case.

use super::gauges::GaugesUsed;
use super::old::Parts;
use crate::adapt::{
    self, ARM_STRETCHED, Adapted, BODY_UNKNOWN, DEPTH_RULE, EdgeEase, Keep, OldCap, Opening,
    OutlineProblem, OutlineStatus, OutlineWishes, SIZES_EVENED, alike, cap_depth_by_chest,
    cap_depth_by_cylinder, cap_depth_by_top, cap_depth_by_top_and_chest, in_order,
};
use crate::body::Arm;
use crate::case::{Adapt, Amount, ArmWish, Case, DepthRule, DepthWish, KeepWish, SetWish, TopWish};
use crate::diagnostic::{Diagnostic, Level};
use crate::measure::{Length, Rows, Stitches};
use crate::outline::{Cap, Seam};
use crate::pattern::{Ledger, SizeReading, write_lines};

/// What `[adapt]` made of one size, and what that does to the rest of the garment.
#[derive(Clone, Debug)]
pub struct Adaptation {
    /// The old cap as its lines have it, when there is one.
    pub printed: Option<(Ledger, Cap)>,
    /// The outline that takes its place.
    pub outline: Adapted,
    /// What one side of the top meets besides the armhole's edge: half of what waits at a shoulder.
    pub at_shoulder: Length,
    /// What may not change.
    pub keep: Keep,
    /// The depth that each published rule gives, where its measures are known.
    pub rules: Vec<RuleDepth>,
    /// True when a depth was wished, by number, by rule, or by keeping the old one.
    pub depth_wished: bool,
    /// The rule that was asked for.
    pub rule: Option<DepthRule>,
    /// The flat cap as a pattern's lines, for those who sew it in.
    pub lines: String,
    /// Rows by which the front is too short (more) or too long (fewer) for the symmetric cap.
    pub front_rows: i32,
    /// The same at the back.
    pub back_rows: i32,
    /// Rows by which each side of the armhole would have to change instead, for the old cap as it is.
    pub instead_rows: Option<i32>,
    /// Rounds to add below the underarm (or to leave out) so that the sleeve is as long from the
    /// shoulder as with the old cap.
    pub rounds: Option<i32>,
}

impl Adaptation {
    /// True when something was changed.
    pub fn is_changed(&self) -> bool {
        self.outline.status != OutlineStatus::Unchanged
    }
}

/// What a published rule gives for the depth of a cap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleDepth {
    /// Which rule.
    pub rule: DepthRule,
    /// The depth.
    pub depth: Length,
    /// In words.
    pub says: &'static str,
    /// Where it is from.
    pub source: &'static str,
}

/// The outlines of all sizes; a size that cannot be met has the reasons instead.
pub(super) fn outlines(
    case: &Case,
    wishes: &Adapt,
    gauge: &GaugesUsed,
    parts: &[Parts],
) -> Vec<Result<Adaptation, Vec<Diagnostic>>> {
    let problems: Vec<Result<OutlineProblem<'_>, Vec<Diagnostic>>> = parts
        .iter()
        .map(|part| problem(case, wishes, gauge, part))
        .collect();
    let mut found: Vec<Result<Adapted, Vec<Diagnostic>>> = problems
        .iter()
        .map(|problem| match problem {
            Ok(problem) => adapt::adapt(problem),
            Err(found) => Err(found.clone()),
        })
        .collect();
    even_out(wishes, &problems, &mut found);
    let each = parts.iter().zip(problems).zip(found);
    each.map(|((part, problem), outline)| {
        let (problem, outline) = (problem?, outline?);
        Ok(adaptation(case, wishes, gauge, part, &problem, outline))
    })
    .collect()
}

/// One change for all where that is asked for; else a larger size gets no shallower cap, as far as its
/// edge allows it.
fn even_out(
    wishes: &Adapt,
    problems: &[Result<OutlineProblem<'_>, Vec<Diagnostic>>],
    found: &mut [Result<Adapted, Vec<Diagnostic>>],
) {
    let given = matches!(
        &wishes.depth,
        Some(DepthWish::Depth(_) | DepthWish::Rule(_))
    );
    if given || wishes.keep == Some(KeepWish::Depth) || found.len() < 2 {
        return;
    }
    let own: Option<Vec<Rows>> = found
        .iter()
        .map(|outline| outline.as_ref().ok().map(|outline| outline.cap.rows()))
        .collect();
    let Some(own) = own else { return };
    let together = wishes.sizes == SetWish::Alike;
    let wanted = if together {
        let olds = problems.iter().zip(&own).map(|(problem, own)| {
            let old = problem.as_ref().ok().and_then(|problem| problem.old);
            (old.map_or(*own, |old| old.cap.rows()), *own)
        });
        alike(&olds.collect::<Vec<_>>())
    } else {
        in_order(&own)
    };
    for ((problem, outline), (own, rows)) in problems
        .iter()
        .zip(found.iter_mut())
        .zip(own.iter().zip(wanted))
    {
        let Ok(problem) = problem else { continue };
        if *own == rows {
            continue;
        }
        let evened = OutlineProblem {
            rows: Some(rows),
            ..problem.clone()
        };
        match adapt::adapt(&evened) {
            Ok(mut other) => {
                let message = format!(
                    "For itself this size would have a cap of {own}; with the other sizes it has {rows}."
                );
                other.findings.push(Diagnostic::new(&SIZES_EVENED, message));
                *outline = Ok(other);
            }
            // Only what was asked for may fail; the order gives way to the edge.
            Err(reasons) if together => *outline = Err(reasons),
            Err(_) => {
                if let Ok(outline) = outline {
                    let message = format!(
                        "With {own} this size breaks the order of the sizes ({rows} would keep it), because its armhole and arm allow no other depth near it."
                    );
                    let said = Diagnostic::new(&SIZES_EVENED, message).level(Level::Warning);
                    outline.findings.push(
                        said.next("Check arm and armhole of this size against its neighbours'."),
                    );
                }
            }
        }
    }
}

fn problem<'a>(
    case: &Case,
    wishes: &Adapt,
    gauge: &GaugesUsed,
    part: &'a Parts,
) -> Result<OutlineProblem<'a>, Vec<Diagnostic>> {
    let upper_arm = upper_arm(case, wishes, part)?;
    let live = live_width(case, gauge, part.index);
    let mut problem = OutlineProblem {
        units: case.units,
        old: part
            .printed
            .as_ref()
            .map(|(ledger, cap)| OldCap { cap, ledger }),
        opening: opening(gauge, part),
        gauge: gauge.pattern,
        seam: Seam {
            stitches: case.sleeve.seam_stitches,
            rows: case.sleeve.seam_rows,
        },
        first_row: case.sleeve.first_row,
        wishes: OutlineWishes {
            upper_arm,
            ease: of_size(wishes.ease.as_deref(), part.index).map(|amount| match amount {
                Amount::Length(length) => EdgeEase::Length(length),
                Amount::Percent(pct) => EdgeEase::Percent(pct),
            }),
            top: match &wishes.top {
                Some(TopWish::Width(list)) => of_size(Some(list), part.index),
                Some(TopWish::Live) => live,
                // Live stitches are the top of a cap that has none yet.
                None => live.filter(|_| part.printed.is_none()),
            },
            depth: None,
            keep: match wishes.keep {
                Some(KeepWish::Depth) => Keep::Depth,
                Some(KeepWish::Area) => Keep::Area,
                Some(KeepWish::Shape) | None => Keep::Shape,
            },
        },
        rows: None,
    };
    problem.wishes.depth = match &wishes.depth {
        Some(DepthWish::Depth(list)) => of_size(Some(list), part.index),
        Some(DepthWish::Rule(rule)) => Some(ruled(case, *rule, &problem, part)?),
        Some(DepthWish::Free) | None => None,
    };
    Ok(problem)
}

fn of_size<T: Copy>(list: Option<&[T]>, index: usize) -> Option<T> {
    list.and_then(|list| list.get(index)).copied()
}

fn opening(gauge: &GaugesUsed, part: &Parts) -> Opening {
    let saddle = part.saddle / 2.0;
    Opening {
        front: part.front.edge() + saddle,
        back: part.back.edge() + saddle,
        depth: (part.front.depth() + part.back.depth()) / 2.0 + saddle,
        underarm: (part.front.underarm_width() + part.back.underarm_width()) / 2.0,
        row: gauge.body.row_height(),
    }
}

/// Width of the stitches that wait at the shoulder and of those picked up beside them.
fn live_width(case: &Case, gauge: &GaugesUsed, index: usize) -> Option<Length> {
    let shoulder = case.shoulder.as_ref()?.get(index)?;
    let all: Stitches = shoulder.live + shoulder.extra_each_side + shoulder.extra_each_side;
    (all > Stitches::ZERO).then(|| gauge.pattern.width(all))
}

/// A sleeve this much smaller than the arm is refused (common practice, no source).
const MOST_STRETCH: f64 = 0.2;

/// The finished upper arm that is wished.
fn upper_arm(case: &Case, wishes: &Adapt, part: &Parts) -> Result<Option<Length>, Vec<Diagnostic>> {
    let Some(wish) = &wishes.upper_arm else {
        return Ok(None);
    };
    let known = part.person.arm.as_ref().map(Arm::typical);
    let (finished, arm) = match wish {
        ArmWish::Finished(list) => (of_size(Some(list), part.index), known),
        ArmWish::Eased { body, ease } => {
            let arm = of_size(body.as_deref(), part.index).or(known);
            let ease = of_size(Some(ease), part.index);
            let Some((arm, ease)) = arm.zip(ease) else {
                let message = "There is no arm that the ease of adapt.upper_arm can be added to.";
                return Err(vec![Diagnostic::new(&BODY_UNKNOWN, message)]);
            };
            (Some(arm + ease.of(arm)), Some(arm))
        }
    };
    if let Some((finished, arm)) = finished.zip(arm)
        && finished < arm * (1.0 - MOST_STRETCH)
    {
        let units = case.units;
        let message = format!(
            "The upper arm wished, {}, is {:.0} % smaller than the arm of {}; at most {:.0} % is accepted, which is {}.",
            units.show(finished),
            100.0 * (1.0 - finished / arm),
            units.show(arm),
            100.0 * MOST_STRETCH,
            units.show(arm * (1.0 - MOST_STRETCH)),
        );
        return Err(vec![Diagnostic::new(&ARM_STRETCHED, message)]);
    }
    Ok(finished)
}

/// The depth of a rule; without what it needs, an error.
fn ruled(
    case: &Case,
    rule: DepthRule,
    problem: &OutlineProblem<'_>,
    part: &Parts,
) -> Result<Length, Vec<Diagnostic>> {
    let rules = rules(problem, part);
    let found = rules.iter().find(|known| known.rule == rule);
    found
        .map(|known| known.depth)
        .filter(|depth| depth.is_positive())
        .ok_or_else(|| {
            let message = match rule {
                DepthRule::Cut => format!(
                    "adapt.depth = \"cut\" gives no depth: the armhole of {} round is no longer than the arm of {}.",
                    case.units.show(girth(problem)),
                    case.units.show(problem.upper_arm()),
                ),
                _ => format!(
                    "adapt.depth = \"{}\" gives no depth: it needs the bust or chest of [body].",
                    rule.word()
                ),
            };
            vec![
                Diagnostic::new(&DEPTH_RULE, message)
                    .next("Give the bust or chest in [body], or choose another depth."),
            ]
        })
}

/// The armhole all the way round.
fn girth(problem: &OutlineProblem<'_>) -> Length {
    let opening = problem.opening;
    opening.front + opening.back + opening.underarm * 2.0
}

/// What each rule gives, where its measures are known.
fn rules(problem: &OutlineProblem<'_>, part: &Parts) -> Vec<RuleDepth> {
    let (depth, top) = (problem.opening.depth, problem.top());
    let chest = part.person.bust;
    let all = DepthRule::ALL.into_iter().filter_map(|rule| {
        let (depth, says, source) = match rule {
            DepthRule::Chest => (
                cap_depth_by_chest(depth, chest?),
                "armhole depth less 2, 3 or 4 in by chest",
                "R. Hunter, 21 Nov 2011",
            ),
            DepthRule::Top => (
                cap_depth_by_top(depth, top),
                "armhole depth less 1.5 in and half the top",
                "30-day sweater course, day 24",
            ),
            DepthRule::TopAndChest => (
                cap_depth_by_top_and_chest(depth, top, chest?),
                "armhole depth less half the top and half the chest's allowance",
                "Slipped Stitches, Mar 2014",
            ),
            DepthRule::Cut => (
                cap_depth_by_cylinder(problem.upper_arm(), girth(problem))?,
                "a tube of this arm cut slantwise to the armhole's girth",
                "method: S. Partlan, 2013",
            ),
        };
        Some(RuleDepth {
            rule,
            depth,
            says,
            source,
        })
    });
    all.collect()
}

fn adaptation(
    case: &Case,
    wishes: &Adapt,
    gauge: &GaugesUsed,
    part: &Parts,
    problem: &OutlineProblem<'_>,
    outline: Adapted,
) -> Adaptation {
    let rules = rules(problem, part);
    let label = case.sizes.get(part.index).cloned().unwrap_or_default();
    let reading = SizeReading {
        size: label,
        ledger: outline.ledger.clone(),
    };
    let rows = |left: Length| whole_rows(left, gauge.body.row_height());
    let printed = part.printed.as_ref().map(|(_, cap)| cap);
    Adaptation {
        at_shoulder: part.saddle / 2.0,
        depth_wished: problem.wishes.depth.is_some() || problem.wishes.keep == Keep::Depth,
        keep: problem.wishes.keep,
        rule: match &wishes.depth {
            Some(DepthWish::Rule(rule)) => Some(*rule),
            _ => None,
        },
        lines: write_lines(&[reading], case.style.terms),
        front_rows: rows(outline.front_left),
        back_rows: rows(outline.back_left),
        instead_rows: printed.map(|cap| rows(cap.edge_above_underarm() - problem.edge())),
        rounds: printed.map(|cap| {
            let less = cap.depth() - outline.cap.depth();
            whole_rows(less, gauge.tube.row_height())
        }),
        printed: part.printed.clone(),
        rules,
        outline,
    }
}

/// The nearest whole number of rows, negative for a negative length.
fn whole_rows(length: Length, row: Length) -> i32 {
    let rows = crate::measure::nearest_whole((length / row).abs());
    let rows = i32::try_from(rows).unwrap_or(i32::MAX);
    if length.to_cm() < 0.0 { -rows } else { rows }
}
