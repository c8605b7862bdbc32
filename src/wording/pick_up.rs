//! The pick-up, section by section.

use super::amounts::{rows, sts};
use super::instructions::{Counts, Section, Step};
use super::rates::rates;
use super::stretch::{Half, RateStretch};
use super::text::Writer;
use super::told::PickUp;
use crate::case::{BodyMade, Terms, Underarm};
use crate::plan::{Flank, FlankPlan, SectionName, Sleeve, Zone, remarks};

impl Writer<'_> {
    pub(crate) fn pick_up(&self) -> Section {
        let mut steps = vec![Step::plain(remarks::SECTIONS), self.start()];
        if self.sleeve == Sleeve::Both {
            steps.push(Step::plain(remarks::ALIKE));
        }
        if self.plan.crown.live.count() > 0 {
            steps.push(Step::plain(remarks::SADDLE));
        }
        let first = self.going.first.picked_up().count();
        let base = self.plan.base().count();
        let second = self.going.second.picked_up().count();
        let mut on_needle = 0;
        let sections = [
            (self.crown(), self.plan.crown.stitches.count()),
            (self.first_flank(), first),
            (
                PickUp::default().words(format!(
                    "{}: {}; pm.",
                    SectionName::Base.words(),
                    self.base()
                )),
                base,
            ),
            (self.second_flank(), second),
        ];
        for (told, stitches) in sections {
            on_needle += stitches;
            if stitches > 0 {
                let counts = Counts::PickUp {
                    stitches,
                    on_needle,
                };
                steps.push(Step::pick_up(told, counts));
            }
        }
        Section {
            heading: remarks::PICK_UP.to_owned(),
            steps,
        }
    }

    /// Where the yarn is joined: half of the crown's rows below the shoulder seam, on the side that
    /// is picked up last.
    fn start(&self) -> Step {
        let crown = &self.plan.crown;
        let live = crown.live.count() > 0;
        let below = crown.rows.count().div_ceil(2);
        let middle = if live {
            "live sts of the saddle"
        } else {
            "shoulder seam"
        };
        let picked = crown.stitches.saturating_sub(crown.live).count();
        // A crown that says no rows says no start either.
        let from = if picked == 0 || rates(picked, crown.rows.count()).is_empty() {
            format!("at the {middle}")
        } else {
            format!("{} below the {middle}", rows(below))
        };
        let side = |flank| match flank {
            Flank::Front => "front",
            Flank::Back => "back",
        };
        let begins = match (self.sleeve, self.going.first_is) {
            (Sleeve::Both, Flank::Back) => {
                format!("{from} (left sleeve: on the front; right sleeve: on the back)")
            }
            (Sleeve::Both, Flank::Front) => {
                format!("{from} (left sleeve: on the back; right sleeve: on the front)")
            }
            (_, Flank::Back) => format!("on the {}, {from}", side(Flank::Front)),
            (_, Flank::Front) => format!("on the {}, {from}", side(Flank::Back)),
        };
        let inside = match self.style.body {
            BodyMade::Steeked => "between the body and the steek",
            BodyMade::Pieces | BodyMade::Round => "one whole st inside the edge",
        };
        Step::plain(format!(
            "With RS facing, begin {begins}, and go over the shoulder and once round the armhole; the needle goes in {inside}."
        ))
    }

    fn crown(&self) -> PickUp {
        let crown = &self.plan.crown;
        let picked = crown.stitches.saturating_sub(crown.live).count();
        let rows = crown.rows.count();
        let told = PickUp::default().words(SectionName::Crown.words());
        let told = if crown.live.count() == 0 {
            over_the_seam(told, picked, rows)
        } else {
            let told = told.words(": ");
            let first = RateStretch::new(picked.div_ceil(2), rows.div_ceil(2), Half::First);
            let second = RateStretch::after_live(picked / 2, rows / 2);
            let mut told = told;
            if first.stitches > 0 {
                told = told.words("pick up and k ").along(first).words("; ");
            }
            told = told.words(live(crown.live.count()));
            if second.stitches > 0 {
                told = told.words("; pick up and k ").along(second);
            }
            told
        };
        told.words("; pm.")
    }

    fn first_flank(&self) -> PickUp {
        let begin = format!("{}, from the crown down: pick up and k ", self.first_name());
        zones(
            PickUp::default().words(begin),
            self.going.first,
            Half::First,
        )
        .words("; the first st sits tight against the crown; pm.")
    }

    fn second_flank(&self) -> PickUp {
        let begin = format!("{}, from the base up: pick up and k ", self.second_name());
        zones(
            PickUp::default().words(begin),
            self.going.second,
            Half::Mirrored,
        )
        .words("; the last st sits tight against the crown; pm.")
    }

    fn base(&self) -> String {
        let n = self.plan.base().count();
        if self.style.underarm == Underarm::Live {
            return live(n);
        }
        let edge = match (self.style.underarm, self.style.terms) {
            (Underarm::CastOn, _) => "cast-on",
            (_, Terms::Us) => "bound-off",
            (_, Terms::Uk) => "cast-off",
        };
        let lost = self.style.in_seam.count();
        let place = if self.style.body.is_seamless() {
            "of the underarm".to_owned()
        } else if lost > 0 {
            let lie = if lost == 1 { "lies" } else { "lie" };
            format!(
                "that shows: {n} of the {}, {lost} {lie} in the seam",
                n + lost
            )
        } else {
            "beside the seam".to_owned()
        };
        format!("pick up and k {}, one in each {edge} st {place}", sts(n))
    }
}

/// Two halves that mirror one another, so that no more stitches lie on one side of the shoulder than on the other.
fn over_the_seam(told: PickUp, picked: u32, rows: u32) -> PickUp {
    let Some(half) = RateStretch::half_crown(picked, rows) else {
        let whole = RateStretch::new(picked, rows, Half::First);
        return told.words(": pick up and k ").along(whole);
    };
    told.words(", up to the shoulder seam: pick up and k ")
        .along(half)
        .seam(picked % 2)
        .words("; from the seam down the same in the opposite order")
}

/// Stitches that wait on a holder.
fn live(stitches: u32) -> String {
    let word = if stitches == 1 { "st" } else { "sts" };
    format!("k the {stitches} live {word} from the holder")
}

fn zones(told: PickUp, flank: &FlankPlan, half: Half) -> PickUp {
    let mut zones: Vec<&Zone> = flank.zones.iter().collect();
    if half == Half::Mirrored {
        zones.reverse();
    }
    zones.retain(|zone| zone.stitches.count() > 0);
    let stretches = zones
        .into_iter()
        .map(|zone| RateStretch::new(zone.stitches.count(), zone.rows.count(), half));
    let mut told = told;
    for (i, stretch) in stretches.enumerate() {
        if i > 0 {
            told = told.words("; then ");
        }
        told = told.along(stretch);
    }
    told
}
