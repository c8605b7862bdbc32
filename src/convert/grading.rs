//! All sizes side by side: what changes from one to the next, and what is out of step.

use super::{Conversion, SizeConversion};
use crate::case::{Case, Terms};
use crate::measure::{Length, Rows, Stitches};
use crate::plan::{CapPlan, FlankPlan, Move};
use crate::wording::Notation;

/// What a measure counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasureKind {
    /// Stitches, rows, turn pairs: whole numbers.
    Count,
    /// Centimetres.
    Length,
    /// Per cent.
    Percent,
}

/// One measure of every size.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// What it is, e.g. `front picked up`.
    pub name: &'static str,
    /// What it counts.
    pub kind: MeasureKind,
    /// Its values, one a size: whole numbers, centimetres or per cent. `None` where a size has none.
    pub values: Vec<Option<f64>>,
    /// A step that differs from the usual one by less is never out of step.
    least: f64,
}

/// A step between two neighbouring sizes that is out of proportion.
#[derive(Clone, Debug, PartialEq)]
pub struct OutOfStep {
    /// The measure's place in the list.
    pub measure: usize,
    /// The place of the larger size.
    pub size: usize,
    /// The step.
    pub step: f64,
    /// The median of the set's steps.
    pub usual: f64,
}

/// A measure that gets smaller from a size to the next while the sizes grow, or larger while they shrink.
#[derive(Clone, Debug, PartialEq)]
pub struct Turned {
    /// The measure's place in the list.
    pub measure: usize,
    /// The place of the second of the two sizes.
    pub size: usize,
    /// The step.
    pub step: f64,
}

/// Sizes whose flanks have the same moves in the same order, however often each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Structure {
    /// The places of its sizes.
    pub sizes: Vec<usize>,
    /// The front flank's runs: the move, and how often it is made in each of the sizes.
    pub front: Vec<(Move, Vec<u32>)>,
    /// The back flank's.
    pub back: Vec<(Move, Vec<u32>)>,
}

/// All sizes of a case side by side.
#[derive(Clone, Debug)]
pub struct Grading {
    /// The sizes' labels.
    pub sizes: Vec<String>,
    /// How the pattern lists numbers of several sizes.
    pub notation: Notation,
    /// The measures.
    pub measures: Vec<Measure>,
    /// Steps that are out of proportion, measure by measure.
    pub out_of_step: Vec<OutOfStep>,
    /// Steps against the order of the sizes, measure by measure, that are not out of proportion as well.
    pub turned: Vec<Turned>,
    /// Sizes that are built alike, in the order of their first size.
    pub structures: Vec<Structure>,
}

/// Puts the sizes of a conversion side by side.
pub fn grading(case: &Case, conversion: &Conversion) -> Grading {
    let sizes = &conversion.sizes;
    let measures = measures(sizes);
    let out_of_step: Vec<OutOfStep> = (0..)
        .zip(&measures)
        .flat_map(|(place, measure)| out_of_step(place, measure))
        .collect();
    let mut turned = turned(&measures);
    turned.retain(|one| {
        let same = |found: &OutOfStep| (found.measure, found.size) == (one.measure, one.size);
        !out_of_step.iter().any(same)
    });
    Grading {
        sizes: sizes.iter().map(|size| size.old.size.clone()).collect(),
        notation: Notation::of(&case.sleeve.cap, sizes.len()),
        measures,
        out_of_step,
        turned,
        structures: structures(sizes),
    }
}

impl Measure {
    /// The differences between neighbours, one fewer than there are sizes.
    pub fn steps(&self) -> Vec<Option<f64>> {
        let step = |pair: &[Option<f64>]| match pair {
            [Some(smaller), Some(larger)] => Some(larger - smaller),
            _ => None,
        };
        self.values.windows(2).map(step).collect()
    }
}

fn measures(sizes: &[SizeConversion]) -> Vec<Measure> {
    let all = |name, kind, least, value: &dyn Fn(&SizeConversion) -> Option<f64>| Measure {
        name,
        kind,
        values: sizes.iter().map(value).collect(),
        least,
    };
    let count = |name, least, value: &dyn Fn(&CapPlan) -> u32| {
        all(name, MeasureKind::Count, least, &|size| {
            Some(f64::from(value(&size.fit.plan)))
        })
    };
    let length = |name, least, value: &dyn Fn(&SizeConversion) -> Length| {
        all(name, MeasureKind::Length, least, &|size| {
            Some(value(size).to_cm())
        })
    };
    let percent = |name, least, value: &dyn Fn(&SizeConversion) -> f64| {
        all(name, MeasureKind::Percent, least, &|size| Some(value(size)))
    };
    vec![
        count("crown", 3.0, &|plan| plan.crown.stitches.count()),
        count("front picked up", 4.0, &|plan| {
            plan.front.picked_up().count()
        }),
        count("back picked up", 4.0, &|plan| plan.back.picked_up().count()),
        count("over front rows", 6.0, &|plan| rows_of(&plan.front)),
        count("over back rows", 6.0, &|plan| rows_of(&plan.back)),
        count("base", 3.0, &|plan| plan.base().count()),
        count("picked up in all", 6.0, &|plan| plan.picked_up().count()),
        count("turn pairs", 2.0, &CapPlan::turn_pairs),
        count("front decreases", 3.0, &|plan| {
            plan.front.decreases().count()
        }),
        count("back decreases", 3.0, &|plan| plan.back.decreases().count()),
        count("runs", 3.0, &|plan| {
            u32::try_from(plan.runs()).unwrap_or(u32::MAX)
        }),
        count("sts at the upper arm", 6.0, &|plan| {
            plan.upper_arm().count()
        }),
        length(UPPER_ARM, 1.5, &|size| size.fit.measures.upper_arm),
        length("depth", 1.0, &|size| size.fit.measures.depth),
        length("old depth", 1.0, &|size| size.old.cap.depth()),
        length("depth off the old one", 0.5, &|size| {
            size.fit.measures.depth_error
        }),
        percent("area off the old one", 1.0, &|size| {
            size.fit.measures.area_error_pct
        }),
        percent("front ease", 2.5, &|size| {
            size.fit.measures.front.ease_pct()
        }),
        percent("back ease", 2.5, &|size| size.fit.measures.back.ease_pct()),
        all("sts at the cuff", MeasureKind::Count, 4.0, &|size| {
            size.cuff_stitches().map(Stitches::as_f64)
        }),
        all("rounds to the cuff", MeasureKind::Count, 6.0, &|size| {
            size.tube
                .as_ref()
                .map(|tube| f64::from(tube.rounds.count()))
        }),
    ]
}

/// Rows of the armhole's edge that a flank is picked up over.
fn rows_of(flank: &FlankPlan) -> u32 {
    flank
        .zones
        .iter()
        .map(|zone| zone.rows)
        .sum::<Rows>()
        .count()
}

/// With fewer steps nobody can say which one is out of step.
const LEAST_STEPS: usize = 3;

/// Modified z-scores above 3.5 are outliers (Iglewicz and Hoaglin, How to Detect and Handle
/// Outliers, ASQC 1993; from memory): 0.6745 times the distance from the median, over the median
/// distance.
const Z_FACTOR: f64 = 0.6745;
const Z_LIMIT: f64 = 3.5;

fn out_of_step(place: usize, measure: &Measure) -> Vec<OutOfStep> {
    let steps = measure.steps();
    let known: Vec<f64> = steps.iter().flatten().copied().collect();
    if known.len() < LEAST_STEPS {
        return Vec::new();
    }
    let usual = median(known.clone());
    let spread = median(known.iter().map(|step| (step - usual).abs()).collect());
    let far = |step: f64| {
        let distance = (step - usual).abs();
        distance >= measure.least && Z_FACTOR * distance > Z_LIMIT * spread
    };
    let steps = steps.into_iter().enumerate();
    steps
        .filter_map(|(i, step)| {
            let step = step.filter(|step| far(*step))?;
            Some(OutOfStep {
                measure: place,
                size: i + 1,
                step,
                usual,
            })
        })
        .collect()
}

/// Measures of the new sleeve that grow with the arm it is for.
const WITH_THE_ARM: [&str; 9] = [
    "crown",
    "front picked up",
    "back picked up",
    "base",
    "picked up in all",
    "turn pairs",
    "sts at the upper arm",
    UPPER_ARM,
    "depth",
];

/// The measure that says whether a set grows.
const UPPER_ARM: &str = "upper arm";

/// Less is a rounding, in centimetres.
const SAME_LENGTH_CM: f64 = 0.05;

/// Steps against the order of the sizes.
fn turned(measures: &[Measure]) -> Vec<Turned> {
    let arm = measures.iter().find(|measure| measure.name == UPPER_ARM);
    let arms: Vec<f64> = arm.map_or_else(Vec::new, |arm| {
        arm.values.iter().flatten().copied().collect()
    });
    let (Some(first), Some(last)) = (arms.first(), arms.last()) else {
        return Vec::new();
    };
    let grows = last - first;
    let with_the_arm = measures.iter().enumerate();
    let with_the_arm = with_the_arm.filter(|(_, measure)| WITH_THE_ARM.contains(&measure.name));
    let steps = with_the_arm.flat_map(|(place, measure)| {
        let steps = (1..).zip(measure.steps());
        steps.filter_map(move |(size, step)| Some((place, size, step?)))
    });
    let against = steps.filter(|(.., step)| step * grows < 0.0 && step.abs() > SAME_LENGTH_CM);
    against
        .map(|(measure, size, step)| Turned {
            measure,
            size,
            step,
        })
        .collect()
}

/// The median; nothing of an empty list is 0.
fn median(mut numbers: Vec<f64>) -> f64 {
    numbers.sort_by(f64::total_cmp);
    let half = numbers.len() / 2;
    let upper = numbers.get(half).copied().unwrap_or(0.0);
    if numbers.len().is_multiple_of(2) {
        let lower = half.checked_sub(1).and_then(|at| numbers.get(at));
        f64::midpoint(lower.copied().unwrap_or(upper), upper)
    } else {
        upper
    }
}

fn structures(sizes: &[SizeConversion]) -> Vec<Structure> {
    let mut found: Vec<Structure> = Vec::new();
    for (place, size) in sizes.iter().enumerate() {
        let (front, back) = (size.fit.plan.front.runs(), size.fit.plan.back.runs());
        let alike = found
            .iter_mut()
            .find(|known| same_moves(&known.front, &front) && same_moves(&known.back, &back));
        if let Some(known) = alike {
            known.sizes.push(place);
            add(&mut known.front, &front);
            add(&mut known.back, &back);
        } else {
            let single = |runs: &[(Move, u32)]| runs.iter().map(|(m, n)| (*m, vec![*n])).collect();
            found.push(Structure {
                sizes: vec![place],
                front: single(&front),
                back: single(&back),
            });
        }
    }
    found
}

fn same_moves(known: &[(Move, Vec<u32>)], runs: &[(Move, u32)]) -> bool {
    let known = known.iter().map(|(m, _)| m);
    known.eq(runs.iter().map(|(m, _)| m))
}

fn add(known: &mut [(Move, Vec<u32>)], runs: &[(Move, u32)]) {
    for ((_, times), (_, n)) in known.iter_mut().zip(runs) {
        times.push(*n);
    }
}

impl Grading {
    /// Pick-up and turn pairs in the notation of the pattern, ready to be pasted into it.
    pub fn sentences(&self, conversion: &Conversion, terms: Terms) -> Vec<String> {
        let plans: Vec<&CapPlan> = conversion.sizes.iter().map(|s| &s.fit.plan).collect();
        let stitches = |value: &dyn Fn(&CapPlan) -> Stitches| {
            let counts: Vec<u32> = plans.iter().map(|plan| value(plan).count()).collect();
            self.notation.list(&counts)
        };
        let rows = |value: &dyn Fn(&CapPlan) -> Rows| {
            let counts: Vec<u32> = plans.iter().map(|plan| value(plan).count()).collect();
            self.notation.list(&counts)
        };
        let flank = |name: &str, of: &dyn Fn(&CapPlan) -> FlankPlan| {
            format!(
                "{name}: pick up and knit {} sts over {} rows.",
                stitches(&|plan| of(plan).picked_up()),
                rows(&|plan| of(plan).zones.iter().map(|zone| zone.rows).sum()),
            )
        };
        let mut out = vec![format!("Sizes {}.", self.notation.list(&self.sizes))];
        let live = stitches(&|plan| plan.crown.live);
        out.push(if live == "0" {
            format!(
                "Crown: pick up and knit {} sts over {} rows, half on each side of the shoulder seam, an odd st in the seam itself.",
                stitches(&|plan| plan.crown.stitches),
                rows(&|plan| plan.crown.rows),
            )
        } else {
            format!(
                "Crown: {} sts, {live} of them live, the others picked up over {} rows, half on each side.",
                stitches(&|plan| plan.crown.stitches),
                rows(&|plan| plan.crown.rows),
            )
        });
        let alike = |plan: &&CapPlan| plan.front == plan.back;
        if plans.iter().all(alike) {
            out.push(flank("Each flank", &|plan| plan.front.clone()));
        } else {
            out.push(flank("Front flank", &|plan| plan.front.clone()));
            out.push(flank("Back flank", &|plan| plan.back.clone()));
        }
        out.push(format!(
            "Base: pick up and knit {} sts, one in each {} st.",
            stitches(&CapPlan::base),
            match terms {
                Terms::Us => "bound-off",
                Terms::Uk => "cast-off",
            }
        ));
        out.push(format!(
            "In all: pick up and knit {} sts.",
            stitches(&CapPlan::picked_up)
        ));
        let pairs: Vec<u32> = plans.iter().map(|plan| plan.turn_pairs()).collect();
        out.push(format!(
            "Short rows: work {} turn pairs; {} sts at the upper arm, in rounds.",
            self.notation.list(&pairs),
            stitches(&CapPlan::upper_arm)
        ));
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measure(values: &[f64], least: f64) -> Measure {
        Measure {
            name: "test",
            kind: MeasureKind::Count,
            values: values.iter().copied().map(Some).collect(),
            least,
        }
    }

    /// Steps 2, 2, 2, 8, 2: median 2, median distance 0; only the 8 is out of step, by hand.
    #[test]
    fn one_long_step_among_equal_ones_is_out_of_step() {
        let found = out_of_step(0, &measure(&[10.0, 12.0, 14.0, 16.0, 24.0, 26.0], 3.0));
        let wanted = OutOfStep {
            measure: 0,
            size: 4,
            step: 8.0,
            usual: 2.0,
        };
        assert_eq!(found, [wanted]);
        // The same steps are in order where six more are nothing.
        assert!(out_of_step(0, &measure(&[10.0, 12.0, 14.0, 16.0, 24.0, 26.0], 7.0)).is_empty());
    }

    /// By hand: arms 30, 32, 34 grow; of the crowns 17, 16, 18 the second is one fewer, and a front ease may go either way.
    #[test]
    fn a_crown_that_falls_while_the_sizes_grow_is_named() {
        let named = |name, values: &[f64]| Measure {
            name,
            ..measure(values, 3.0)
        };
        let growing = [
            named("crown", &[17.0, 16.0, 18.0]),
            named("front ease", &[2.0, 1.0, 0.0]),
            named("upper arm", &[30.0, 32.0, 34.0]),
        ];
        let fall = Turned {
            measure: 0,
            size: 1,
            step: -1.0,
        };
        assert_eq!(turned(&growing), [fall]);
        let shrinking = growing.map(|mut measure| {
            measure.values.reverse();
            measure
        });
        let rise = Turned {
            measure: 0,
            size: 2,
            step: 1.0,
        };
        assert_eq!(turned(&shrinking), [rise]);
    }

    /// Steps 1, 3, 5, 7, 9: median 5, distances 4, 2, 0, 2, 4, their median 2; 0.6745 * 4 / 2 is
    /// 1.35, below 3.5.
    #[test]
    fn even_spread_is_in_step() {
        assert!(out_of_step(0, &measure(&[0.0, 1.0, 4.0, 9.0, 16.0, 25.0], 1.0)).is_empty());
        assert!(out_of_step(0, &measure(&[0.0, 1.0, 90.0], 1.0)).is_empty());
    }
}
