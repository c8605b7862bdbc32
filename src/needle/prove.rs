//! The proof: what was knitted from the text is what was planned.
//!
//! The rows of every column follow from the way short rows are worked, not from the simulator:
//!
//! - T turn pairs are rows 1 to 2T; the row that runs on to the middle of the base is row 2T + 1.
//! - The crown is worked in every one of them: 2T + 1 rows.
//! - A stitch the first flank takes in at pair t is first worked in the RS row of that pair, then
//!   in its WS row, and in both rows of the later pairs, and in the last row: 2 (T - t) + 3 rows.
//! - The second flank takes in on the WS row, one row later: 2 (T - t) + 2 rows.
//! - The base before the middle has one row, the base after it none.
//!
//! A decreased stitch counts the rows of the stitch it was worked into from then on.

use super::codes;
use super::knitted::{Column, Knitted, PickedStretch};
use crate::case::Style;
use crate::diagnostic::Diagnostic;
use crate::measure::{Rows, Stitches};
use crate::plan::{CapPlan, CuffPlan, Flank, FlankPlan, Going, Hand, Section, Sleeve, TubePlan};

/// Compares what was knitted with the plan; empty when they agree.
///
/// Tube and cuff are what the text was written with: without a tube it must end with the join.
pub fn prove(
    plan: &CapPlan,
    (tube, cuff): (Option<&TubePlan>, Option<&CuffPlan>),
    style: Style,
    sleeve: Sleeve,
    knitted: &Knitted,
) -> Vec<Diagnostic> {
    let mut proof = Comparison(Vec::new());
    let going = Going::round(plan, sleeve, style.hand);
    proof.cap(plan, &going, knitted);
    proof.flank_order(sleeve, style.hand, knitted);
    proof.columns(&columns(plan, &going), &knitted.columns);
    proof.stretches(&stretches(plan, &going), knitted);
    proof.tube(tube, cuff, knitted);
    proof.0
}

struct Comparison(Vec<Diagnostic>);

impl Comparison {
    fn same<T: PartialEq + std::fmt::Debug>(&mut self, what: &str, planned: &T, knitted: &T) {
        if planned != knitted {
            let message = format!("{what}: {planned:?} planned, {knitted:?} knitted");
            self.0.push(Diagnostic::new(&codes::NOT_THE_PLAN, message));
        }
    }

    fn cap(&mut self, plan: &CapPlan, going: &Going<'_>, knitted: &Knitted) {
        let decreases = (plan.front.decreases() + plan.back.decreases()).count();
        let picked = u32::try_from(knitted.columns.len()).unwrap_or(u32::MAX);
        self.same("stitches picked up", &plan.picked_up().count(), &picked);
        self.same("turn pairs", &plan.turn_pairs(), &knitted.turn_pairs);
        self.same("decreases of the cap", &decreases, &knitted.cap_decreases);
        self.same(
            "stitches when the cap is done",
            &plan.cap_end().count(),
            &knitted.cap_end.count(),
        );
        self.same(
            "stitches after the join",
            &plan.upper_arm().count(),
            &knitted.upper_arm.count(),
        );
        self.same(
            "what changes at the corners of the base",
            &going.corners,
            &knitted.corners,
        );
        self.same(
            "base stitches before and after the start of the round",
            &(going.base_before.count(), going.base_after.count()),
            &(knitted.base_before.count(), knitted.base_after.count()),
        );
    }

    fn flank_order(&mut self, sleeve: Sleeve, hand: Hand, knitted: &Knitted) {
        let back_first = (sleeve == Sleeve::Left) == (hand == Hand::Right);
        let planned = match sleeve {
            Sleeve::Both => None,
            _ if back_first => Some(Flank::Back),
            _ => Some(Flank::Front),
        };
        if knitted.columns.iter().any(|c| c.section == Section::First) {
            self.same("the flank after the crown", &planned, &knitted.first_flank);
        }
    }

    fn columns(&mut self, planned: &[Planned], knitted: &[Column]) {
        let rows = |c: &Column| (c.section, c.live, c.rows.count());
        let found: Vec<_> = knitted.iter().map(rows).collect();
        let wanted: Vec<_> = planned
            .iter()
            .map(|p| (p.section, p.live, p.rows))
            .collect();
        self.first_difference("section and rows of picked-up stitch", &wanted, &found);
        let next = knitted.iter().cycle().skip(1);
        let joined: Vec<_> = knitted
            .iter()
            .zip(next)
            .map(|(a, b)| a.stitch == b.stitch)
            .collect();
        let wanted: Vec<_> = planned.iter().map(|p| p.with_next).collect();
        // A needle of one stitch is its own neighbour.
        if planned.len() > 1 {
            self.first_difference(
                "decreased with the next one: picked-up stitch",
                &wanted,
                &joined,
            );
        }
    }

    fn first_difference<T: PartialEq + std::fmt::Debug>(
        &mut self,
        what: &str,
        planned: &[T],
        knitted: &[T],
    ) {
        let different = planned
            .iter()
            .zip(knitted)
            .enumerate()
            .find(|(_, (a, b))| a != b);
        if let Some((i, (a, b))) = different {
            self.same(&format!("{what} {}", i + 1), a, b);
        }
    }

    fn stretches(&mut self, planned: &[PickedStretch], knitted: &Knitted) {
        self.first_difference("stretch of the pick-up", planned, &knitted.stretches);
        self.same(
            "stretches of the pick-up",
            &planned.len(),
            &knitted.stretches.len(),
        );
    }

    fn tube(&mut self, tube: Option<&TubePlan>, cuff: Option<&CuffPlan>, knitted: &Knitted) {
        let none = TubePlan {
            upper_arm: knitted.upper_arm,
            cuff: knitted.upper_arm,
            rounds: Rows(1),
            decrease_rounds: Vec::new(),
            worked: Rows::ZERO,
            beside: 0,
        };
        let tube = tube.unwrap_or(&none);
        let shaped = if tube.widens() {
            &knitted.increase_rounds
        } else {
            &knitted.decrease_rounds
        };
        let rounds = tube.rounds + cuff.map_or(Rows::ZERO, |cuff| cuff.rounds);
        let last = cuff.map_or(tube.cuff, |cuff| cuff.stitches);
        self.same("rounds", &rounds.count(), &knitted.rounds.count());
        self.same("shaping rounds", &tube.decrease_rounds, shaped);
        self.same("stitches at the cuff", &last.count(), &knitted.cuff.count());
        self.same(
            "stitches where the tube begins",
            &tube.upper_arm.count(),
            &knitted.upper_arm.count(),
        );
    }
}

/// What one picked-up stitch must become.
#[derive(Clone, Copy, Debug)]
struct Planned {
    section: Section,
    live: bool,
    rows: u32,
    /// True when it and the next one of the needle end in one stitch.
    with_next: bool,
}

fn columns(plan: &CapPlan, going: &Going<'_>) -> Vec<Planned> {
    let pairs = plan.turn_pairs();
    let crown = crown_columns(plan);
    let first = flank_columns(going.first, Section::First, pairs, 3);
    let mut second = flank_columns(going.second, Section::Second, pairs, 2);
    // `flank_columns` says which stitches join the one before them, counted from the crown.
    let into_crown = second.first().is_some_and(|p| p.with_next);
    second.reverse();
    if let Some(last) = second.last_mut() {
        last.with_next = into_crown;
    }
    let base = |n: Stitches, rows| {
        let column = Planned {
            section: Section::Base,
            live: false,
            rows,
            with_next: false,
        };
        std::iter::repeat_n(column, n.count() as usize)
    };
    let mut all = crown;
    append_joined_before(&mut all, &first);
    all.extend(base(going.base_before, 1));
    all.extend(base(going.base_after, 0));
    all.extend(second);
    all
}

/// Appends columns whose `with_next` still says "with the one before".
fn append_joined_before(all: &mut Vec<Planned>, columns: &[Planned]) {
    for column in columns {
        if let Some(before) = all.last_mut() {
            before.with_next = column.with_next;
        }
        all.push(Planned {
            with_next: false,
            ..*column
        });
    }
}

fn crown_columns(plan: &CapPlan) -> Vec<Planned> {
    let (all, live) = (plan.crown.stitches.count(), plan.crown.live.count());
    let before = all.saturating_sub(live).div_ceil(2);
    let column = |i| Planned {
        section: Section::Crown,
        live: i >= before && i < before + live,
        rows: 2 * plan.turn_pairs() + 1,
        with_next: false,
    };
    (0..all).map(column).collect()
}

/// A flank from the crown down; `with_next` means "with the one nearer the crown" here.
fn flank_columns(flank: &FlankPlan, section: Section, pairs: u32, extra: u32) -> Vec<Planned> {
    let mut columns = Vec::new();
    for (pair, m) in (2..).zip(&flank.moves) {
        for i in 0..m.take {
            // k/1 works the first two together, 1/1 the only one with the stitch before it.
            let together = m.drop > 0 && (m.take == 1 || i == 1);
            columns.push(Planned {
                section,
                live: false,
                rows: 2 * (pairs - pair) + extra,
                with_next: together,
            });
        }
    }
    columns
}

fn stretches(plan: &CapPlan, going: &Going<'_>) -> Vec<PickedStretch> {
    let mut all = crown_stretches(plan);
    let of = |section, zone: &crate::plan::Zone| PickedStretch {
        section,
        stitches: zone.stitches,
        rows: zone.rows,
        live: false,
    };
    all.extend(going.first.zones.iter().map(|z| of(Section::First, z)));
    all.push(PickedStretch {
        section: Section::Base,
        stitches: plan.base(),
        rows: Rows::ZERO,
        live: false,
    });
    all.extend(
        going
            .second
            .zones
            .iter()
            .rev()
            .map(|z| of(Section::Second, z)),
    );
    all.retain(|stretch| stretch.stitches > Stitches::ZERO);
    all
}

/// The crown in one stretch, or halves on both sides of the live stitches.
fn crown_stretches(plan: &CapPlan) -> Vec<PickedStretch> {
    let crown = &plan.crown;
    let stretch = |stitches: u32, rows: u32, live| PickedStretch {
        section: Section::Crown,
        stitches: Stitches(stitches),
        rows: Rows(rows),
        live,
    };
    let picked = crown.stitches.saturating_sub(crown.live).count();
    if crown.live == Stitches::ZERO {
        return vec![stretch(picked, crown.rows.count(), false)];
    }
    let rows = crown.rows.count();
    vec![
        stretch(picked.div_ceil(2), rows.div_ceil(2), false),
        stretch(crown.live.count(), 0, true),
        stretch(picked / 2, rows / 2, false),
    ]
}
