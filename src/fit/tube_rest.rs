//! The rest of a tube: what is knitted stays, shaping is planned from the round one is on.

use std::cmp::Ordering;

use super::codes::TUBE_STATE;
use super::tube::{Tube, nearest_cuff, tube as whole_tube};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Stitches, nearest_whole};
use crate::plan::{JOIN_ROW, Repeat, TubePlan, even_intervals, worked_shaping};

/// What is knitted of a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Underway {
    /// Rounds worked; the one that closes the join is the first.
    pub rounds: Rows,
    /// Stitches on the needle.
    pub stitches: Stitches,
    /// From the underarm down to the needle, measured on the work.
    pub length: Option<Length>,
}

/// The tube from the round one is on. The rounds that are left lie evenly between the shaping rounds that
/// are left; where nothing has changed they stay where they were. A count that shaping towards the cuff does not lead
/// to is taken as it is ([`TubePlan::beside`]), and the shaping to come goes from there to the cuff.
///
/// `None` when too few rounds are left for the shaping.
///
/// # Errors
/// A finding when no stitches made or lost on the way explain what is on the needle.
pub fn tube_rest(
    upper_arm: Stitches,
    underway: Underway,
    tube: Tube,
    gauge: Gauge,
    repeat: Repeat,
) -> Result<Option<TubePlan>, Diagnostic> {
    let (worked, now) = (underway.rounds.count(), underway.stitches);
    let wanted = tube.cuff / gauge.stitch_width();
    let past = Past::of(upper_arm, underway, wanted)?;
    let left = match underway.length {
        Some(length) => nearest_whole((tube.length - length) / gauge.row_height()),
        None => nearest_whole(tube.length / gauge.row_height())
            .saturating_sub(JOIN_ROW.count())
            .saturating_sub(worked),
    };
    let (shaped, beside) = (past.shaped, past.beside);
    let past = worked_shaping(worked, shaped);
    let unchanged = whole_tube(upper_arm, tube, gauge, repeat).filter(|plan| {
        let so_far = plan.decrease_rounds.iter().filter(|at| **at <= worked);
        let same_way = (plan.cuff < plan.upper_arm) == (now < upper_arm) || shaped == 0;
        let same = plan.rounds.count() == worked + left && so_far.count() == shaped as usize;
        same && same_way && beside == 0
    });
    if let Some(plan) = unchanged {
        let later = plan.decrease_rounds.iter().filter(|at| **at > worked);
        return Ok(Some(TubePlan {
            decrease_rounds: past.into_iter().chain(later.copied()).collect(),
            worked: underway.rounds,
            ..plan
        }));
    }
    // What was decreased is not made again, nor the other way round.
    let allowed = |n: u32| match now.cmp(&upper_arm) {
        _ if beside != 0 => true,
        Ordering::Less => n <= now.count(),
        Ordering::Equal => true,
        Ordering::Greater => n >= now.count(),
    };
    let cuff = nearest_cuff(now, wanted, repeat, &allowed).unwrap_or(now);
    let times = now.count().abs_diff(cuff.count()) / 2;
    if times > 0 && left < times + 1 {
        return Ok(None);
    }
    let mut at = worked;
    let intervals = even_intervals(left, times + 1).into_iter();
    let later = intervals.take(times as usize).map(|interval| {
        at += interval;
        at
    });
    Ok(Some(TubePlan {
        upper_arm,
        cuff,
        rounds: Rows(worked + left),
        decrease_rounds: past.into_iter().chain(later).collect(),
        worked: underway.rounds,
        beside,
    }))
}

/// What led to the count on the needle.
struct Past {
    /// Shaping rounds towards the cuff.
    shaped: u32,
    /// Stitches beside those.
    beside: i32,
}

/// Stitches that may have been made or lost at the join: as many as its change is free by.
const AT_JOIN: u32 = 4;

impl Past {
    fn of(upper_arm: Stitches, underway: Underway, wanted: f64) -> Result<Self, Diagnostic> {
        let (worked, now) = (underway.rounds.count(), underway.stitches);
        let change = upper_arm.count().abs_diff(now.count());
        let can_be_shaped = worked.saturating_sub(1);
        if !change.is_multiple_of(2) {
            return Err(impossible(upper_arm, underway, change));
        }
        let narrows = wanted < upper_arm.as_f64();
        // Two stitches go at a time: a cuff less than one away is the upper arm's own, and no round shapes towards it.
        let straight = (wanted - upper_arm.as_f64()).abs() < 1.0;
        let towards = change == 0 || !straight && narrows == (now < upper_arm);
        if towards && change / 2 <= can_be_shaped {
            return Ok(Self {
                shaped: change / 2,
                beside: 0,
            });
        }
        if change > AT_JOIN.max(2 * can_be_shaped) {
            return Err(impossible(upper_arm, underway, change));
        }
        let beside = i32::try_from(change).unwrap_or(0);
        Ok(Self {
            shaped: 0,
            beside: if now < upper_arm { -beside } else { beside },
        })
    }
}

fn impossible(upper_arm: Stitches, underway: Underway, change: u32) -> Diagnostic {
    let (worked, now) = (underway.rounds.count(), underway.stitches.count());
    let most = 2 * worked.saturating_sub(1);
    let message = if change.is_multiple_of(2) {
        format!(
            "{now} sts after {worked} {} are {change} away from the {} of the join; two a round from round 2 on make {most} at the most.",
            if worked == 1 { "round" } else { "rounds" },
            upper_arm.count()
        )
    } else {
        format!(
            "{now} sts cannot come of the {} of the join two at a time; {} or {} can. Count again; if it is so, make or decrease one st in the next round and give that count.",
            upper_arm.count(),
            now.saturating_sub(1),
            now + 1
        )
    };
    Diagnostic::new(&TUBE_STATE, message)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TUBE: Tube = Tube {
        cuff: Length::cm(20.0),
        length: Length::cm(45.0),
    };

    fn gauge() -> Gauge {
        Gauge::per_10cm(20.0, 30.0).unwrap()
    }

    fn rest(rounds: u32, stitches: u32, tube: Tube) -> Option<TubePlan> {
        let underway = Underway {
            rounds: Rows(rounds),
            stitches: Stitches(stitches),
            length: None,
        };
        tube_rest(Stitches(70), underway, tube, gauge(), Repeat::ANY).unwrap()
    }

    /// Identity: at every round of the plan, with what the plan has there, the rest is the plan's.
    #[test]
    fn nothing_changed_leaves_the_plan() {
        for cuff_cm in [20.0, 35.0, 50.0] {
            let tube = Tube {
                cuff: Length::cm(cuff_cm),
                ..TUBE
            };
            let plan = whole_tube(Stitches(70), tube, gauge(), Repeat::ANY).unwrap();
            for round in 1..=plan.rounds.count() {
                let past = plan.decrease_rounds.iter().filter(|at| **at <= round);
                let done = u32::try_from(past.count()).unwrap();
                let now = if cuff_cm > 35.0 {
                    70 + 2 * done
                } else {
                    70 - 2 * done
                };
                let found = rest(round, now, tube).unwrap();
                assert_eq!((found.cuff, found.rounds), (plan.cuff, plan.rounds));
                let later = |plan: &TubePlan| -> Vec<u32> {
                    plan.decrease_rounds
                        .iter()
                        .filter(|at| **at > round)
                        .copied()
                        .collect()
                };
                assert_eq!(later(&found), later(&plan), "round {round}");
                assert_eq!(found.decrease_rounds.len(), plan.decrease_rounds.len());
            }
        }
    }

    /// Arithmetic: after 60 of 134 rounds with 60 stitches, a cuff of 25 cm is 50 stitches at 20: five more
    /// shaping rounds over 74 rounds in 6 intervals, 12 four times and 13 twice: 72, 84, 96, 108, 121.
    #[test]
    fn another_cuff_from_the_middle_on() {
        let tube = Tube {
            cuff: Length::cm(25.0),
            ..TUBE
        };
        let plan = rest(60, 60, tube).unwrap();
        assert_eq!((plan.cuff, plan.rounds), (Stitches(50), Rows(134)));
        assert_eq!(plan.decrease_rounds[5..], [72, 84, 96, 108, 121]);
        assert_eq!(plan.worked, Rows(60));
        // 10 cm shorter: 105 rows, 104 rounds, 44 left, five shaping rounds: 7 four times, 8 twice.
        let shorter = Tube {
            length: Length::cm(35.0),
            ..tube
        };
        let plan = rest(60, 60, shorter).unwrap();
        assert_eq!(plan.decrease_rounds[5..], [67, 74, 81, 88, 96]);
        // A measured length counts from the tape: 30 cm of 45 are knitted, 15 cm are 45 rounds.
        let underway = Underway {
            rounds: Rows(60),
            stitches: Stitches(60),
            length: Some(Length::cm(30.0)),
        };
        let found = tube_rest(Stitches(70), underway, tube, gauge(), Repeat::ANY);
        assert_eq!(found.unwrap().unwrap().rounds, Rows(105));
    }

    /// Arithmetic: 40 stitches are wanted at the cuff. 74 after 20 rounds are four more than the join has: 17 shaping
    /// rounds from there on; 72 after the first round 16, 68 after it 14.
    #[test]
    fn a_count_beside_the_plan_is_where_the_shaping_goes_from() {
        for (rounds, now, beside) in [(20, 74, 4), (1, 72, 2), (1, 68, -2), (2, 66, -4)] {
            let plan = rest(rounds, now, TUBE).unwrap();
            assert_eq!((plan.cuff, plan.beside), (Stitches(40), beside));
            let shaped = u32::try_from(plan.decrease_rounds.len()).unwrap();
            assert_eq!(shaped, (now - 40) / 2);
            assert!(plan.decrease_rounds.iter().all(|at| *at > rounds));
            assert_eq!(plan.stitches_after(rounds), Stitches(now));
            assert_eq!(plan.stitches_after(plan.rounds.count()), Stitches(40));
            assert!(!plan.widens());
        }
        // A bell of 80 stitches that was narrowed first: six are missing, and eight shaping rounds widen from 64.
        let bell = Tube {
            cuff: Length::cm(40.0),
            ..TUBE
        };
        let plan = rest(20, 64, bell).unwrap();
        assert_eq!(
            (plan.cuff, plan.beside, plan.widens()),
            (Stitches(80), -6, true)
        );
        assert_eq!(plan.decrease_rounds.len(), 8);
    }

    #[test]
    fn what_cannot_be_is_said() {
        let fails = |rounds, stitches| {
            let underway = Underway {
                rounds: Rows(rounds),
                stitches: Stitches(stitches),
                length: None,
            };
            tube_rest(Stitches(70), underway, TUBE, gauge(), Repeat::ANY).unwrap_err()
        };
        assert!(fails(30, 67).message.contains("66 or 68"));
        assert!(fails(3, 64).message.contains("4 at the most"));
        assert!(fails(1, 80).message.contains("after 1 round are"));
        // Too few rounds are left for 20 stitches; a cuff wider than what is left stays as it is.
        let short = Tube {
            length: Length::cm(22.0),
            ..TUBE
        };
        assert_eq!(rest(60, 60, short), None);
        let wide = Tube {
            cuff: Length::cm(34.0),
            ..TUBE
        };
        assert_eq!(rest(60, 60, wide).unwrap().cuff, Stitches(60));
    }
}
