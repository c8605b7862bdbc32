//! The pick-up, section by section.

use super::instructions::{Counts, Section, Step, sts};
use super::rates::{rates, words};
use super::text::Writer;
use crate::case::{BodyMade, Terms, Underarm};
use crate::plan::{Flank, FlankPlan, Sleeve, Zone, remarks};

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
            (self.base(), base),
            (self.second_flank(), second),
        ];
        for (sentence, stitches) in sections {
            on_needle += stitches;
            if stitches > 0 {
                let counts = Counts::PickUp {
                    stitches,
                    on_needle,
                };
                steps.push(Step::counted(sentence, counts));
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
        let rows = crown.rows.count().div_ceil(2);
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
            format!("{} below the {middle}", super::instructions::rows(rows))
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

    fn crown(&self) -> String {
        let crown = &self.plan.crown;
        let picked = crown.stitches.saturating_sub(crown.live).count();
        let rows = crown.rows.count();
        if crown.live.count() == 0 {
            return format!("Crown: pick up and k {}; pm.", along(picked, rows, false));
        }
        let mut parts = Vec::new();
        let halves = [
            (picked.div_ceil(2), rows.div_ceil(2)),
            (picked / 2, rows / 2),
        ];
        for (i, (stitches, rows)) in halves.into_iter().enumerate() {
            if stitches > 0 {
                parts.push(format!("pick up and k {}", along(stitches, rows, i == 1)));
            }
            if i == 0 {
                parts.push(format!(
                    "k the {} live st{} from the holder",
                    crown.live.count(),
                    if crown.live.count() == 1 { "" } else { "s" }
                ));
            }
        }
        format!("Crown: {}; pm.", parts.join("; "))
    }

    fn first_flank(&self) -> String {
        let name = self.first_name();
        let zones = zones(self.going.first, false);
        format!(
            "{name}, from the crown down: {zones}; the first st sits tight against the crown; pm."
        )
    }

    fn second_flank(&self) -> String {
        let name = self.second_name();
        let zones = zones(self.going.second, true);
        format!("{name}, from the base up: {zones}; the last st sits tight against the crown; pm.")
    }

    fn base(&self) -> String {
        let n = self.plan.base().count();
        if self.style.underarm == Underarm::Live {
            let word = if n == 1 { "live st" } else { "live sts" };
            return format!("Base: k the {n} {word} from the holder; pm.");
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
        format!(
            "Base: pick up and k {}, one in each {edge} st {place}; pm.",
            sts(n)
        )
    }
}

fn zones(flank: &FlankPlan, upwards: bool) -> String {
    let mut zones: Vec<&Zone> = flank.zones.iter().collect();
    if upwards {
        zones.reverse();
    }
    zones.retain(|zone| zone.stitches.count() > 0);
    let said = zones
        .iter()
        .map(|zone| along(zone.stitches.count(), zone.rows.count(), upwards));
    format!("pick up and k {}", said.collect::<Vec<_>>().join("; then "))
}

/// `12 sts over 16 rows: 3 sts for every 4 rows, 4 times`. Upwards the rates come in the opposite
/// order, so that both sides of the armhole are mirror images.
pub(crate) fn along(stitches: u32, rows: u32, upwards: bool) -> String {
    let mut rates = rates(stitches, rows);
    if rates.is_empty() {
        return sts(stitches);
    }
    if upwards {
        rates.reverse();
    }
    format!(
        "{} over {}: {}",
        sts(stitches),
        super::instructions::rows(rows),
        words(&rates)
    )
}
