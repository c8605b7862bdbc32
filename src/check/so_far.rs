//! What is on the needles: the gauge the work shows, and its counts against the plan.

use super::codes::finding;
use super::codes_so_far::{
    SO_FAR_BEYOND, SO_FAR_COUNTS, SO_FAR_GAUGE, SO_FAR_GAUGE_FAR, SO_FAR_MEASURE, SO_FAR_PAIR,
};
use crate::case::{CapSoFar, PickedUp};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Stitches, Units, signed_pct};
use crate::plan::{CapPlan, Flank, FlankPlan};

/// Stitches or rows of the work that were measured.
#[derive(Clone, Copy, Debug)]
pub struct WorkGauge {
    /// Units for the messages.
    pub units: Units,
    /// The key of the case that has the measure.
    pub key: &'static str,
    /// `sts`, `rounds` or `rows`.
    pub what: &'static str,
    /// How many of them.
    pub count: f64,
    /// What they measure.
    pub measured: Length,
    /// The tape is read to so much either way.
    pub read_to: Length,
    /// What the swatch had.
    pub of_swatch_per_10cm: f64,
    /// How far the fabric may be from its swatch, in per cent, with nothing wrong.
    pub swatch_off_pct: f64,
}

/// Work that differs from its swatch by more than this was miscounted or mismeasured more likely than
/// not: 4 to 5 % are usual between flat and round (common practice, no source).
const FAR_PCT: f64 = 15.0;

impl WorkGauge {
    /// Per 10 cm.
    pub fn per_10cm(&self) -> f64 {
        10.0 * self.count / self.measured.to_cm()
    }

    /// The least and the most that the reading of the tape leaves open, per 10 cm. A count along a length
    /// is as many times the gauge as the length is, so all of its error is the tape's.
    pub fn range_per_10cm(&self) -> (f64, f64) {
        let per = |length: f64| 10.0 * self.count / length;
        let (measured, off) = (self.measured.to_cm(), self.read_to.to_cm());
        (per(measured + off), per((measured - off).max(off)))
    }

    /// How far off it may be either way, in per cent.
    pub fn off_by_pct(&self) -> f64 {
        let (low, high) = self.range_per_10cm();
        50.0 * (high - low) / self.per_10cm()
    }

    /// True when the measure is off by no more than swatch and tape leave open: the landmarks' "nothing to worry about".
    pub fn is_as_swatch(&self) -> bool {
        let swatch = self.at_swatch();
        let open = swatch * (self.swatch_off_pct / 100.0) + self.read_to;
        (self.measured.to_cm() - swatch.to_cm()).abs() <= open.to_cm()
    }

    /// What the swatch makes of the count.
    fn at_swatch(&self) -> Length {
        Length::cm(10.0 * self.count / self.of_swatch_per_10cm)
    }

    /// What the measure can be: what the swatch makes of the count, and half as much again or a third less.
    fn can_be(&self) -> (Length, Length) {
        let swatch = self.at_swatch();
        let least = swatch * (1.0 / MOST_TIMES) - self.read_to;
        (least, swatch * MOST_TIMES + self.read_to)
    }

    /// True when no work of these needles and this yarn can measure so much, however the tape is read.
    pub fn is_impossible(&self) -> bool {
        let (least, most) = self.can_be();
        !(least..=most).contains(&self.measured)
    }

    /// Against the swatch, in per cent.
    pub fn off_pct(&self) -> f64 {
        100.0 * (self.per_10cm() / self.of_swatch_per_10cm - 1.0)
    }
}

/// Needles of another size and another hand change a gauge by a tenth, a loose yarn by a fifth; at half as much again
/// or a third less it is another fabric (common practice, no source).
pub(super) const MOST_TIMES: f64 = 1.5;

/// Said of a measure that no work of this count can have.
pub fn impossible_measure(work: &WorkGauge) -> Option<Diagnostic> {
    work.is_impossible().then(|| {
        let units = work.units;
        let over = units.swatch_length();
        let (least, most) = work.can_be();
        let message = format!(
            "{} is {}, but {:.0} {} at the swatch's {:.1} over {} measure {}; {} to {} can be.",
            work.key,
            units.show(work.measured),
            work.count,
            work.what,
            work.of_swatch_per_10cm * over.to_cm() / 10.0,
            units.show(over),
            units.show(work.at_swatch()),
            units.show(if least.is_positive() {
                least
            } else {
                Length::ZERO
            }),
            units.show(most)
        );
        finding(&SO_FAR_MEASURE, message).about(work.key.to_owned())
    })
}

/// What the work says of its gauge.
pub fn work_gauge_finding(work: &WorkGauge) -> Diagnostic {
    let over = work.units.swatch_length();
    let shown = |per_10cm: f64| format!("{:.1}", per_10cm * over.to_cm() / 10.0);
    let (low, high) = work.range_per_10cm();
    let off = work.off_pct();
    let signed = signed_pct(off);
    let message = format!(
        "{:.0} {} of the work measure {}: {} over {} ({} to {} with the tape read to {} either way), where the swatch had {} ({signed}).",
        work.count,
        work.what,
        work.units.show(work.measured),
        shown(work.per_10cm()),
        work.units.show(over),
        shown(low),
        shown(high),
        work.units.show(work.read_to),
        shown(work.of_swatch_per_10cm),
    );
    let code = if off.abs() > FAR_PCT {
        &SO_FAR_GAUGE_FAR
    } else {
        &SO_FAR_GAUGE
    };
    finding(code, message)
}

/// The cap on the needles beside its plan.
#[derive(Clone, Copy, Debug)]
pub struct CapState<'a> {
    /// Units for the messages.
    pub units: Units,
    /// The plan.
    pub plan: &'a CapPlan,
    /// Its depth.
    pub depth: Length,
    /// Its gauge.
    pub gauge: Gauge,
    /// The tape is read to so much either way.
    pub read_to: Length,
    /// How far its stitches and its rows may be from the swatch's, in per cent, with nothing wrong.
    pub swatch_off_pct: [f64; 2],
    /// What is there.
    pub so_far: &'a CapSoFar,
    /// The flank that is picked up right after the crown.
    pub first_is: Flank,
}

/// The work against the plan: an error for what no plan leads to, notes for what the work says.
pub fn cap_state_findings(state: &CapState<'_>) -> Vec<Diagnostic> {
    let mut found: Vec<Diagnostic> = picked_up(state).into_iter().collect();
    let all = 2 * state.plan.turn_pairs();
    let beyond = |rows: &Rows| *rows > Rows(all);
    if let Some(rows) = state.so_far.measured_rows().filter(beyond) {
        let message = format!(
            "{} rows of the cap are more than its plan has: {all}, and then the row that joins.",
            rows.count()
        );
        found.push(finding(&SO_FAR_BEYOND, message));
        return found;
    }
    let Some(rows) = state.so_far.rows else {
        return found;
    };
    found.extend(waiting(state, rows));
    if !rows.is_even() {
        let message = format!(
            "Row {} is the RS row of a pair; row {} ends it.",
            rows.count(),
            rows.count() + 1
        );
        found.push(finding(&SO_FAR_PAIR, message));
    }
    found
}

/// What was picked up, where it is not what the plan has.
fn picked_up(state: &CapState<'_>) -> Option<Diagnostic> {
    let (plan, found) = (state.plan, state.so_far.picked_up?);
    let planned = plan.picked_up();
    let flanks = [plan.front.picked_up(), plan.back.picked_up()];
    let (same, sections) = match found {
        // Said once it is known where its stitches are taken to lie.
        PickedUp::Total(_) => return None,
        PickedUp::Sections {
            crown,
            first,
            base,
            second,
        } => {
            let ours = [first, second] == flanks || [second, first] == flanks;
            let same = crown == plan.crown.stitches && base == plan.base() && ours;
            let said = format!(
                " (crown {}, flanks {} and {}, base {})",
                plan.crown.stitches.count(),
                flanks.map(Stitches::count).iter().min().unwrap_or(&0),
                flanks.map(Stitches::count).iter().max().unwrap_or(&0),
                plan.base().count()
            );
            (same, said)
        }
    };
    (!same).then(|| {
        let message = format!(
            "{} sts are picked up where the plan has {}{sections}: {}.",
            found.total().count(),
            planned.count(),
            change(found.total(), planned)
        );
        finding(&SO_FAR_COUNTS, message)
    })
}

/// `3 too many`.
fn change(all: Stitches, planned: Stitches) -> String {
    let (all, planned) = (all.count(), planned.count());
    match all.cmp(&planned) {
        std::cmp::Ordering::Greater => format!("{} too many", all - planned),
        std::cmp::Ordering::Less => format!("{} too few", planned - all),
        std::cmp::Ordering::Equal => "otherwise spread".to_owned(),
    }
}

/// A total that is not the plan's, with the four counts it is taken to be: it says nothing of where they lie.
pub fn total_finding(taken: PickedUp, planned: Stitches) -> Option<Diagnostic> {
    let all = taken.total();
    let PickedUp::Sections {
        crown,
        first,
        base,
        second,
    } = taken
    else {
        return None;
    };
    (all != planned).then(|| {
        let message = format!(
            "{} sts are picked up where the plan has {}: {}. A total does not say where they lie; taken to be so_far.picked_up = {{ crown = {}, first = {}, base = {}, second = {} }}.",
            all.count(),
            planned.count(),
            change(all, planned),
            crown.count(),
            first.count(),
            base.count(),
            second.count()
        );
        let next = "Count the sts between the markers, in the order of the work, and give those four where they are others; else go by the pattern below.";
        finding(&SO_FAR_COUNTS, message).next(next)
    })
}

/// Stitches that wait, where they are not those of the plan.
fn waiting(state: &CapState<'_>, rows: Rows) -> Option<Diagnostic> {
    let [first, second] = state.so_far.turned_at?.map(Stitches::count);
    let taken = rows.count() / 2;
    let left = |flank: &FlankPlan| -> u32 {
        let later = flank.moves.iter().skip(taken.saturating_sub(1) as usize);
        later.map(|m| m.take).sum()
    };
    let flank = |which: Flank| match which {
        Flank::Front => left(&state.plan.front),
        Flank::Back => left(&state.plan.back),
    };
    let planned = [state.first_is, state.first_is.other()].map(flank);
    let side = |which: Flank| match which {
        Flank::Front => "front",
        Flank::Back => "back",
    };
    let expected = match planned {
        [a, b] if a == b => format!("{a} each side"),
        [a, b] => format!(
            "{a} on the first flank, which is the {}, and {b} on the second",
            side(state.first_is)
        ),
    };
    let found = if first == second {
        format!("{first} sts wait on each side")
    } else {
        format!("{first} sts wait on the first flank and {second} on the second")
    };
    (planned != [first, second]).then(|| {
        let message = format!(
            "After row {} {found} where the plan has {expected}.",
            rows.count()
        );
        let said = finding(&SO_FAR_COUNTS, message);
        if planned == [second, first] {
            let key = format!("so_far.turned_at = [{second}, {first}]");
            said.next(format!("These are the plan's counts exchanged: the first flank is the one picked up right after the crown. If so, give {key}; on the other sleeve the sides change places (so_far.sleeve)."))
        } else {
            said
        }
    })
}

/// The rows and the stitches of a cap that were measured.
#[derive(Clone, Copy, Debug)]
pub struct CapWork {
    /// Rows down to the needle, what lies above the first short row included.
    pub rows: Option<WorkGauge>,
    /// Stitches from turn to turn.
    pub stitches: Option<WorkGauge>,
}

impl CapWork {
    /// What a cap's measures say: so many rows above the first short row count, so many stitches lie between the
    /// turns.
    pub fn of(state: &CapState<'_>, between_turns: Stitches) -> Self {
        let [stitches_off, rows_off] = state.swatch_off_pct;
        let work = |key, what, count, measured, (of_swatch_per_10cm, swatch_off_pct)| WorkGauge {
            units: state.units,
            key,
            what,
            count,
            measured,
            read_to: state.read_to,
            of_swatch_per_10cm,
            swatch_off_pct,
        };
        // What lies above the rows of the cap, if the plan's depth has any of it.
        let whole = f64::from(2 * state.plan.turn_pairs());
        let above = state.depth / state.gauge.row_height() - whole;
        let rows = state.so_far.measured_rows().zip(state.so_far.depth);
        let gauge = state.gauge;
        Self {
            rows: rows.map(|(rows, depth)| {
                let of_swatch = (gauge.rows_per_10cm(), rows_off);
                work(
                    "so_far.depth",
                    "rows",
                    rows.as_f64() + above,
                    depth,
                    of_swatch,
                )
            }),
            stitches: state.so_far.width.map(|width| {
                let of_swatch = (gauge.stitches_per_10cm(), stitches_off);
                let count = between_turns.as_f64();
                work("so_far.width", "sts", count, width, of_swatch)
            }),
        }
    }

    /// The key of a measure that is far from its swatch.
    pub fn far_key(&self) -> Option<&'static str> {
        let mut all = self.rows.iter().chain(&self.stitches);
        let far = all.find(|work| work.off_pct().abs() > FAR_PCT)?;
        Some(far.key)
    }

    /// Measures that cannot be.
    pub fn impossible(&self) -> Vec<Diagnostic> {
        let all = self.rows.iter().chain(&self.stitches);
        all.filter_map(impossible_measure).collect()
    }

    /// What is said of it: what the tape says, and what it comes to at the end.
    pub fn findings(&self, state: &CapState<'_>) -> Vec<Diagnostic> {
        let same = |work: &WorkGauge, said: Diagnostic, what: &str| {
            if work.is_as_swatch() {
                let message = format!(
                    "{} Swatch and tape leave as much open: the swatch's count stays.",
                    said.message
                );
                Diagnostic { message, ..said }.next(format!("Nothing: {what} is what it was."))
            } else {
                said
            }
        };
        let rows = self.rows.map(|rows| {
            let said = work_gauge_finding(&rows);
            if rows.is_as_swatch() {
                return same(&rows, said, "the height of a row");
            }
            let end = state.depth * (state.gauge.rows_per_10cm() / rows.per_10cm());
            let message = format!(
                "{} At this rate the cap of the plan would end {} deep instead of {}.",
                said.message,
                state.units.show(end),
                state.units.show(state.depth)
            );
            Diagnostic { message, ..said }
        });
        let stitches = self
            .stitches
            .map(|sts| same(&sts, work_gauge_finding(&sts), "the width of a stitch"));
        rows.into_iter().chain(stitches).collect()
    }

    /// The gauge the work shows, as far as the tape can tell it from the swatch's; none where no yarn is knitted
    /// like that.
    pub fn gauge(&self, swatch: Gauge) -> Option<Gauge> {
        let shown = |work: &Option<WorkGauge>, swatch: f64| {
            let other = work.as_ref().filter(|work| !work.is_as_swatch());
            other.map_or(swatch, WorkGauge::per_10cm)
        };
        let stitches = shown(&self.stitches, swatch.stitches_per_10cm());
        Gauge::per_10cm(stitches, shown(&self.rows, swatch.rows_per_10cm())).ok()
    }
}
