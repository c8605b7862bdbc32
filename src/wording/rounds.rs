//! The join and the tube.

use super::instructions::{Counts, Section, Step, times};
use super::text::Writer;
use crate::case::{Terms, Turn};
use crate::fit::TubePlan;
use crate::needle::remarks;

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
            stitches: self.plan.upper_arm().count(),
            base: None,
        };
        vec![
            Step::counted(sentence, counts),
            Step::plain(remarks::CLOSE_MARKER),
        ]
    }

    fn join_at_base(&self) -> Vec<Step> {
        let german = self.style.turn == Turn::German;
        let before = self.going.base_before.count();
        let turned = if german {
            "ds on the base"
        } else {
            "wrapped base st"
        };
        let more = match before.saturating_sub(1) {
            0 => String::new(),
            n => format!(" and {n} more"),
        };
        let sentence = format!(
            "Work the next RS row to the {turned}, work it{more}, to the middle of the base; pm: rounds begin here."
        );
        let counts = Counts::Join {
            turn_pairs: self.plan.turn_pairs(),
            stitches: self.plan.upper_arm().count(),
            base: Some((before, self.going.base_after.count())),
        };
        let mut steps = vec![Step::counted(sentence, counts)];
        if self.going.base_after.count() > 0 {
            let other = if german { "ds" } else { "wrapped base st" };
            steps.push(Step::plain(format!(
                "In the first round work the other {other} as you come to it."
            )));
        }
        steps.push(Step::plain(if german {
            remarks::CLOSE_GERMAN
        } else {
            remarks::CLOSE_WRAP
        }));
        steps
    }

    pub(crate) fn tube(&self, tube: &TubePlan) -> Section {
        let widens = tube.cuff > tube.upper_arm;
        let mut steps = Vec::new();
        if !tube.decrease_rounds.is_empty() {
            steps.push(shape_round(widens));
        }
        let name = if widens { "inc" } else { "dec" };
        let mut stitches = tube.upper_arm.count();
        let mut rounds = 0;
        for (every, n) in intervals(&tube.decrease_rounds) {
            rounds += every * n;
            stitches = if widens {
                stitches + 2 * n
            } else {
                stitches.saturating_sub(2 * n)
            };
            let sentence = format!(
                "Work the {name} round on every {}, {}.",
                ordinal_round(every),
                times(n)
            );
            steps.push(Step::counted(sentence, Counts::Rounds { rounds, stitches }));
        }
        let rest = tube.rounds.count().saturating_sub(rounds);
        if rest > 0 {
            let rounds = tube.rounds.count();
            steps.push(Step::counted(
                self.even(rest),
                Counts::Rounds { rounds, stitches },
            ));
        }
        Section {
            heading: remarks::TUBE.to_owned(),
            steps,
        }
    }

    fn even(&self, rounds: u32) -> String {
        let even = match self.style.terms {
            Terms::Us => "even",
            Terms::Uk => "straight",
        };
        let word = if rounds == 1 { "round" } else { "rounds" };
        format!("Work {rounds} {word} {even}.")
    }
}

/// The two of a round mirror one another on both sides of the underarm.
fn shape_round(widens: bool) -> Step {
    if widens {
        let sentence = "Inc round: k1, inc 1, k to the last st, inc 1, k1.";
        return Step::counted(sentence, Counts::Shaping { fewer: -2 });
    }
    let sentence = "Dec round: k1, k2tog, k to the last 3 sts, ssk, k1.";
    Step::counted(sentence, Counts::Shaping { fewer: 2 })
}

/// Equal distances between shaping rounds, as (distance, how many running).
fn intervals(shaping: &[u32]) -> Vec<(u32, u32)> {
    let before = std::iter::once(&0).chain(shaping);
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

/// `round`, `2nd round`, `8th round`.
fn ordinal_round(n: u32) -> String {
    let ending = match (n % 10, n % 100) {
        (1, t) if t != 11 => "st",
        (2, t) if t != 12 => "nd",
        (3, t) if t != 13 => "rd",
        _ => "th",
    };
    if n == 1 {
        "round".to_owned()
    } else {
        format!("{n}{ending} round")
    }
}
