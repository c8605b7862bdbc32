//! The join and the tube.

use super::amounts::{rounds as so_many_rounds, sts, times};
use super::instructions::{Counts, Section, Step};
use super::text::Writer;
use super::told::{RoundShape, Shaping, StepTold};
use crate::case::{Terms, Turn};
use crate::plan::{CuffPlan, CuffStitch, TubePlan, remarks};

impl Writer<'_> {
    pub(crate) fn join(&self) -> Section {
        Section {
            heading: remarks::JOIN.to_owned(),
            steps: if self.plan.base().count() == 0 {
                self.join_at_marker()
            } else {
                self.join_at_base()
            },
        }
    }

    fn join_at_marker(&self) -> Vec<Step> {
        let sentence = "Work the next RS row to the underarm marker: rounds begin here.";
        let counts = Counts::Join {
            turn_pairs: self.plan.turn_pairs(),
            stitches: self.plan.cap_end().count(),
            base: None,
        };
        vec![
            Step::counted(sentence, counts),
            self.first_round(),
            Step::plain(self.close_at_marker()),
        ]
    }

    /// How the last gap is closed where there is no base: one strand gives one stitch.
    fn close_at_marker(&self) -> &'static str {
        let made = self.going.corners.map(|corner| corner.change.max(0));
        if made.into_iter().sum::<i32>() > 1 {
            remarks::CLOSE_MARKER_BESIDE
        } else {
            remarks::CLOSE_MARKER
        }
    }

    fn join_at_base(&self) -> Vec<Step> {
        let (turned, how) = match self.style.turn {
            Turn::German => ("ds on the base", "work it as one st"),
            Turn::Wrap => ("wrapped base st", "work it together with its wrap"),
        };
        let before = self.going.base_before.count();
        let more = match before.saturating_sub(1) {
            0 => String::new(),
            n => format!(", then {n} more"),
        };
        let sentence = format!(
            "Work the next RS row to the {turned}, {how}{more}, to the middle of the base; pm: rounds begin here."
        );
        let counts = Counts::Join {
            turn_pairs: self.plan.turn_pairs(),
            stitches: self.plan.cap_end().count(),
            base: Some((before, self.going.base_after.count())),
        };
        let close = match self.style.turn {
            Turn::German => remarks::CLOSE_GERMAN,
            Turn::Wrap => remarks::CLOSE_WRAP,
        };
        vec![
            Step::counted(sentence, counts),
            self.first_round(),
            Step::plain(remarks::CORNERS),
            Step::plain(close),
        ]
    }

    /// The round that closes the corners of the base; the join's change is made there.
    fn first_round(&self) -> Step {
        let [leaving, coming] = self.going.corners.map(|corner| corner.change);
        let after = self.going.base_after.count();
        let turned = match self.style.turn {
            _ if after == 0 => "",
            Turn::German => "; work the other ds on the base as one st",
            Turn::Wrap => "; work the other wrapped base st together with its wrap",
        };
        let counts = rounds((1, self.plan.upper_arm().count()));
        let mut parts = self.leaving(leaving);
        parts.extend(self.coming(coming));
        let corner_by_corner = format!("Round 1: {}{turned}.", parts.join(", "));
        if leaving != coming || leaving < 0 || after == 0 {
            return Step::counted(corner_by_corner, counts);
        }
        let each = self.each_corner(leaving.unsigned_abs());
        let told = match leaving {
            // Closed corners are told in other words than stitches made, in either way.
            0 => StepTold::Words,
            _ => StepTold::EachCorner { corner_by_corner },
        };
        Step {
            told,
            ..Step::counted(format!("Round 1: {each}{turned}."), counts)
        }
    }

    /// How stitches are worked on the way: knit, or as the stitch pattern has them.
    fn over(&self) -> &'static str {
        if self.style.in_pattern { "work" } else { "k" }
    }

    fn each_corner(&self, made: u32) -> String {
        let over = self.over();
        match made {
            0 => format!(
                "{over} round, at each base marker lifting the strand and working it together with the next st"
            ),
            n => format!("{over} round, making {} at each base marker", strands(n)),
        }
    }

    /// From the start of the round over the corner where it leaves the base.
    fn leaving(&self, change: i32) -> Vec<String> {
        let n = change.unsigned_abs();
        let after = self.going.base_after.count();
        if change < 0 {
            let before = n.min(after);
            let mut parts = Vec::new();
            if after > before {
                parts.push(format!(
                    "{} to {} before the base marker",
                    self.over(),
                    sts(before)
                ));
            }
            parts.push(together("k2tog", n));
            return parts;
        }
        let begin = match (self.plan.base().count(), after) {
            (0, _) => "begin at the underarm marker".to_owned(),
            (_, 0) => "begin at the base marker".to_owned(),
            _ => format!("{} to the base marker", self.over()),
        };
        vec![begin, strand(n)]
    }

    /// Over the other corner to the end of the round.
    fn coming(&self, change: i32) -> Vec<String> {
        let n = change.unsigned_abs();
        let base = self.going.base_before.count();
        let to_end = format!("{} to the end of the round", self.over());
        if self.plan.base().count() == 0 {
            return match change {
                0 => vec![to_end],
                1.. => vec![to_end, strand(n)],
                _ => vec![
                    format!("{} to the last {}", self.over(), sts(2 * n)),
                    together(self.left_leaning(), n),
                ],
            };
        }
        let mut parts = Vec::new();
        let left = if change < 0 {
            let of_base = n.min(base);
            let before = sts(2 * n - of_base);
            parts.push(format!(
                "{} to {before} before the other base marker",
                self.over()
            ));
            parts.push(together(self.left_leaning(), n));
            base - of_base
        } else {
            parts.push(format!("{} to the other base marker", self.over()));
            parts.push(strand(n));
            base - u32::from(n == 0)
        };
        if left > 0 {
            parts.push(to_end);
        }
        parts
    }

    pub(crate) fn tube(&self, tube: &TubePlan, cuff: Option<&CuffPlan>) -> Section {
        let shape = if tube.widens() {
            RoundShape::Wider
        } else {
            RoundShape::Narrower
        };
        let mut steps = Vec::new();
        if !tube.decrease_rounds.is_empty() {
            steps.push(self.shape_round(shape));
        }
        // The round that closes the join is the first one.
        let mut at = (1, tube.upper_arm.count());
        let done = tube
            .decrease_rounds
            .partition_point(|at| *at <= tube.worked.count());
        if tube.worked.count() > 0 {
            let shaped = u32::try_from(done).unwrap_or(u32::MAX);
            at = (
                tube.worked.count(),
                tube.stitches_after(tube.worked.count()).count(),
            );
            let sentence = worked_so_far(at.0, shaped, (shape, tube.beside));
            steps.push(Step::counted(sentence, rounds(at)));
        }
        let later = tube.decrease_rounds.get(done..).unwrap_or(&[]);
        for (every, times) in intervals(at.0, later) {
            at = (at.0 + every * times, shape.after(at.1, times));
            let told = Shaping {
                shape,
                every,
                times,
            };
            steps.push(Step::shaping(told, rounds(at)));
        }
        let rest = tube.rounds.count().saturating_sub(at.0);
        if rest > 0 {
            at.0 = tube.rounds.count();
            steps.push(Step::counted(self.even(rest), rounds(at)));
        }
        match cuff {
            Some(cuff) => steps.extend(self.cuff(cuff, at)),
            None => steps.push(Step::plain(match self.style.terms {
                Terms::Us => remarks::OLD_CUFF_US,
                Terms::Uk => remarks::OLD_CUFF_UK,
            })),
        }
        Section {
            heading: remarks::TUBE.to_owned(),
            steps,
        }
    }

    /// The cuff: a round that brings the count to what its stitch needs, then the rest of it.
    fn cuff(&self, cuff: &CuffPlan, (before, stitches): (u32, u32)) -> Vec<Step> {
        let mut steps = vec![Step::plain(remarks::CUFF_NEEDLES)];
        let wanted = cuff.stitches.count();
        let mut left = cuff.rounds.count();
        if wanted != stitches {
            let how = if wanted < stitches {
                "decreasing"
            } else {
                "increasing"
            };
            let sentence = format!(
                "K 1 round, {how} {} evenly: the cuff needs another count.",
                sts(wanted.abs_diff(stitches))
            );
            steps.push(Step::counted(sentence, rounds((before + 1, wanted))));
            left = left.saturating_sub(1);
        }
        let stitch = match (cuff.stitch, self.style.terms) {
            (CuffStitch::Rib1, _) => "k1, p1 rib",
            (CuffStitch::Rib2, _) => "k2, p2 rib",
            (CuffStitch::Garter, _) => "garter st",
            (CuffStitch::Plain, Terms::Us) => "stockinette st",
            (CuffStitch::Plain, Terms::Uk) => "stocking st",
        };
        if left > 0 {
            let sentence = format!("Cuff: work {} of {stitch}.", so_many_rounds(left));
            let after = (before + cuff.rounds.count(), wanted);
            steps.push(Step::counted(sentence, rounds(after)));
        }
        steps.push(Step::plain(match self.style.terms {
            Terms::Us => remarks::FINISH_US,
            Terms::Uk => remarks::FINISH_UK,
        }));
        steps
    }

    /// The two of a round mirror one another on both sides of the underarm.
    fn shape_round(&self, shape: RoundShape) -> Step {
        if shape == RoundShape::Wider {
            let sentence = format!(
                "Inc round: k1, inc 1, {} to the last st, inc 1, k1.",
                self.over()
            );
            return Step::counted(sentence, Counts::Shaping { fewer: -2 });
        }
        let left = self.left_leaning();
        let sentence = format!(
            "Dec round: k1, k2tog, {} to the last 3 sts, {left}, k1.",
            self.over()
        );
        Step::counted(sentence, Counts::Shaping { fewer: 2 })
    }

    fn even(&self, count: u32) -> String {
        let even = match self.style.terms {
            Terms::Us => "even",
            Terms::Uk => "straight",
        };
        format!("Work {} {even}.", so_many_rounds(count))
    }
}

/// Rounds since the join, and stitches on the needle.
const fn rounds((rounds, stitches): (u32, u32)) -> Counts {
    Counts::Rounds { rounds, stitches }
}

/// What is done with the strand at a corner.
fn strand(made: u32) -> String {
    match made {
        0 => "lift the strand there and k it together with the next st".to_owned(),
        n => format!("make {} there", strands(n)),
    }
}

/// `1 st from the strand`, `2 sts from the strands`.
fn strands(n: u32) -> String {
    let strands = if n == 1 { "strand" } else { "strands" };
    format!("{} from the {strands}", sts(n))
}

/// `k2tog`, `k2tog twice`.
fn together(decrease: &str, n: u32) -> String {
    match n {
        1 => decrease.to_owned(),
        n => format!("{decrease} {}", times(n)),
    }
}

/// `Worked so far: 30 rounds, the dec round in 4 of them.`, or with `2 sts more than planned`.
fn worked_so_far(worked: u32, shaped: u32, (shape, beside): (RoundShape, i32)) -> String {
    let of_them = match shaped {
        0 => String::new(),
        n => format!(", the {} round in {n} of them", shape.name()),
    };
    let off = match beside {
        0 => String::new(),
        1.. => format!(", {} more than planned", sts(beside.unsigned_abs())),
        _ => format!(", {} fewer than planned", sts(beside.unsigned_abs())),
    };
    format!("Worked so far: {}{of_them}{off}.", so_many_rounds(worked))
}

/// Equal distances between shaping rounds from this round on, as (distance, how many running).
fn intervals(from: u32, shaping: &[u32]) -> Vec<(u32, u32)> {
    let before = std::iter::once(&from).chain(shaping);
    let mut out: Vec<(u32, u32)> = Vec::new();
    for (a, b) in before.zip(shaping) {
        let distance = b.saturating_sub(*a);
        match out.last_mut() {
            Some((same, n)) if *same == distance => *n += 1,
            _ => out.push((distance, 1)),
        }
    }
    out
}
