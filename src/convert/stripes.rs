//! Stripes on the new sleeve: which row has which colour, and where they meet those of the body.

use serde::Serialize;

use super::garment::Old;
use super::gauges::GaugesUsed;
use crate::measure::{Length, whole};
use crate::outline::ArmholeEdge;
use crate::plan::{CapPlan, Flank, FlankPlan, TubePlan};
use crate::stitch::Striped;
use crate::wording::{Checklist, flank_rows};

/// Rows of one colour on the sleeve, from the shoulder down.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Band {
    /// Its colour.
    pub colour: String,
    /// Its first row: 0 is the picked-up row, then the rows of the cap, the rounds after them.
    pub from: u32,
    /// Its last row.
    pub to: u32,
    /// Stitches worked in it.
    pub stitches: u64,
}

/// Where a turn pair of the cap meets the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// Front or back.
    pub flank: Flank,
    /// The turn pair.
    pub pair: u32,
    /// Its height above the underarm line.
    pub height: Length,
    /// The row of the body there, from the underarm line up.
    pub body_row: u32,
    /// Rows of the body that the pair's two rows lie along.
    pub body_rows: u32,
    /// By how many rows the sleeve's stripe lies too high; none where its colour never comes.
    pub off: Option<i64>,
    /// True when both have the same colour.
    pub alike: bool,
}

/// The stripes of a sleeve.
#[derive(Clone, Debug, PartialEq)]
pub struct StripedSleeve {
    /// The row of the stripes, from 0, that row 1 of the cap is.
    pub first_row: u32,
    /// From the picked-up row down.
    pub bands: Vec<Band>,
    /// Rows of the cap, the one that joins the last.
    pub cap_rows: u32,
    /// Every turn pair but the first, front and back, from the shoulder down.
    pub meetings: Vec<Meeting>,
    /// Stitches of each colour.
    pub yarn: Vec<(String, u64)>,
}

/// Colours of the rows and where they meet the body's.
pub(super) fn stripes(
    striped: &Striped,
    old: &Old,
    plan: &CapPlan,
    tube: Option<&TubePlan>,
    checklist: &Checklist,
    gauge: &GaugesUsed,
) -> StripedSleeve {
    let body = gauge.body.row_height();
    let places: Vec<PairPlace> = [
        (Flank::Front, &old.front, &plan.front),
        (Flank::Back, &old.back, &plan.back),
    ]
    .into_iter()
    .flat_map(|(flank, armhole, picked)| places(flank, armhole, (plan, picked), body))
    .collect();
    let first_row = striped
        .first_row
        .unwrap_or_else(|| best(striped, &places, old));
    let rows = row_stitches(plan, tube, checklist);
    let bands = bands(striped, first_row, &rows);
    let mut yarn: Vec<(String, u64)> = striped
        .sleeve
        .colours()
        .iter()
        .map(|colour| ((*colour).to_owned(), 0))
        .collect();
    for band in &bands {
        for (_, stitches) in yarn.iter_mut().filter(|(colour, _)| *colour == band.colour) {
            *stitches += band.stitches;
        }
    }
    let meetings = places.iter().map(|place| place.meeting(striped, first_row));
    StripedSleeve {
        first_row,
        cap_rows: 2 * plan.turn_pairs() + 1,
        meetings: meetings.collect(),
        bands,
        yarn,
    }
}

/// A row of the sleeve in the sequence of its stripes, which goes up while the work goes down.
fn sequence_row(first_row: u32, row: i64) -> i64 {
    i64::from(first_row) - (row - 1)
}

/// Stitches of the picked-up row, of every row of the cap, and of every round.
fn row_stitches(plan: &CapPlan, tube: Option<&TubePlan>, checklist: &Checklist) -> Vec<u64> {
    let mut rows = vec![u64::from(plan.picked_up().count())];
    // A short row goes from turn to turn: it works all that is worked so far.
    rows.extend(checklist.rows.iter().map(|row| u64::from(row.worked)));
    let Some(tube) = tube else { return rows };
    let rounds = 1..=tube.rounds.count();
    rows.extend(rounds.map(|round| u64::from(tube.stitches_after(round).count())));
    rows
}

fn bands(striped: &Striped, first_row: u32, rows: &[u64]) -> Vec<Band> {
    let mut bands: Vec<Band> = Vec::new();
    for (row, stitches) in (0..).zip(rows) {
        let colour = striped
            .sleeve
            .colour(sequence_row(first_row, i64::from(row)));
        match bands.last_mut() {
            Some(band) if band.colour == colour => {
                band.to = row;
                band.stitches += stitches;
            }
            _ => bands.push(Band {
                colour: colour.to_owned(),
                from: row,
                to: row,
                stitches: *stitches,
            }),
        }
    }
    bands
}

/// Where a turn pair lies along the armhole.
#[derive(Clone, Copy, Debug)]
struct PairPlace {
    flank: Flank,
    pair: u32,
    height: Length,
    body_row: u32,
    body_rows: u32,
}

impl PairPlace {
    /// The second row of the pair is level with its lowest picked-up stitch.
    fn meeting(&self, striped: &Striped, first_row: u32) -> Meeting {
        let sleeve = sequence_row(first_row, 2 * i64::from(self.pair));
        let body = i64::from(striped.armhole_row) + i64::from(self.body_row) - 1;
        Meeting {
            flank: self.flank,
            pair: self.pair,
            height: self.height,
            body_row: self.body_row,
            body_rows: self.body_rows,
            off: striped.off(sleeve, body),
            alike: striped.sleeve.colour(sleeve) == striped.body.colour(body),
        }
    }
}

/// The turn pairs of one flank by the last stitch that each takes in.
fn places(
    flank: Flank,
    armhole: &ArmholeEdge,
    (plan, picked): (&CapPlan, &FlankPlan),
    body: Length,
) -> Vec<PairPlace> {
    let crown = plan.crown.rows.count() / 2;
    // From the shoulder, as the pattern says where to pick up.
    let sites = flank_rows(&picked.zones).into_iter().map(|row| crown + row);
    let sites: Vec<u32> = sites.collect();
    let mut taken = 0;
    let mut before = crown;
    let mut places = Vec::new();
    for (pair, m) in (2..).zip(&picked.moves) {
        taken += m.take as usize;
        let Some(site) = taken.checked_sub(1).and_then(|last| sites.get(last)) else {
            continue;
        };
        // The middle of the row that the stitch is picked up in.
        let along = armhole.length_to(f64::from(*site) - 0.5);
        let height = Length::cm(armhole.point_below_shoulder_cm(along).y.max(0.0));
        places.push(PairPlace {
            flank,
            pair,
            height,
            body_row: whole(height / body) + 1,
            body_rows: site.saturating_sub(before),
        });
        before = *site;
    }
    places
}

/// The first row with which front and back are least off at the height asked for; of several the one with
/// which most of the edge has the body's colours.
fn best(striped: &Striped, places: &[PairPlace], old: &Old) -> u32 {
    let wanted = (old.front.depth() + old.back.depth()) / 2.0 * striped.match_at;
    let nearest = |flank: Flank| {
        let of_it = places.iter().filter(move |place| place.flank == flank);
        of_it.min_by(|a, b| {
            let away = |place: &PairPlace| (place.height - wanted).abs().to_cm();
            away(a).total_cmp(&away(b))
        })
    };
    let there: Vec<&PairPlace> = [Flank::Front, Flank::Back]
        .into_iter()
        .filter_map(nearest)
        .collect();
    let never = i64::from(striped.sleeve.period());
    let cost = |first: &u32| {
        let off = |place: &&PairPlace| place.meeting(striped, *first).off.map_or(never, i64::abs);
        let at_height: i64 = there.iter().map(off).sum();
        let unlike = places
            .iter()
            .filter(|place| !place.meeting(striped, *first).alike)
            .count();
        (at_height, unlike, *first)
    };
    (0..striped.sleeve.period()).min_by_key(cost).unwrap_or(0)
}
