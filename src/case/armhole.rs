//! `[armhole]` by lines or by measures, and `[shoulder]` above it.

use super::codes::{CLASH, OUT_OF_RANGE};
use super::sleeve::SIDES;
use super::table::Table;
use super::{Armhole, Shoulder};
use crate::measure::{
    ARMHOLE_DEPTH, ARMHOLE_EDGE, LIVE_STITCHES, Length, SEAM_STITCHES, SHOULDER_STITCHES,
    STITCH_COUNT, Side, Stitches, UNDERARM,
};

pub(super) fn armholes(root: &Table<'_>) -> Option<(Armhole, Armhole)> {
    let Some(table) = root.table("armhole") else {
        if !root.has("armhole") {
            root.missing("armhole", "[armhole] with edge, underarm and depth");
        }
        return None;
    };
    let pair = match (table.table("front"), table.table("back")) {
        (Some(front), Some(back)) => {
            let pair = (armhole(&front), armhole(&back));
            front.finish();
            back.finish();
            pair.0.zip(pair.1)
        }
        (None, None) => armhole(&table).map(|both| (both.clone(), both)),
        (front, _) => {
            let (has, lacks) = if front.is_some() {
                ("front", "back")
            } else {
                ("back", "front")
            };
            let message = format!(
                "There is an [armhole.{has}] but no [armhole.{lacks}]; give both, or one [armhole] for both."
            );
            table.say(&CLASH, table.place_of(has), message);
            None
        }
    };
    table.finish();
    pair
}

fn armhole(table: &Table<'_>) -> Option<Armhole> {
    let measures = ["edge", "underarm", "depth"];
    if table.has("lines") {
        if let Some(key) = measures.iter().find(|key| table.has(key)) {
            let message = format!("The armhole is given by lines and by {key}; keep one of them.");
            table.say(&CLASH, table.place_of(key), message);
        }
        return armhole_lines(table);
    }
    for key in measures.iter().filter(|key| !table.has(key)) {
        table.missing(key, &format!("{key} = 20"));
    }
    let edge = table.lengths("edge", &ARMHOLE_EDGE);
    let underarm = table.lengths("underarm", &UNDERARM);
    let depth = table.lengths("depth", &ARMHOLE_DEPTH);
    longer_than_deep(table, edge.as_deref(), depth.as_deref());
    let (edge, underarm, depth) = (edge?, underarm?, depth?);
    Some(Armhole::Measures {
        edge,
        underarm,
        depth,
    })
}

/// An edge cannot be shorter than the height it climbs.
fn longer_than_deep(table: &Table<'_>, edge: Option<&[Length]>, depth: Option<&[Length]>) {
    let pairs = edge.unwrap_or(&[]).iter().zip(depth.unwrap_or(&[]));
    for (edge, depth) in pairs {
        if edge.to_cm() < depth.to_cm() * 0.999 {
            let units = table.reading().units;
            let message = format!(
                "The armhole's edge of {} is shorter than its depth of {}; measured along the curve it is at least as long.",
                units.show(*edge),
                units.show(*depth)
            );
            table.say(&OUT_OF_RANGE, table.place_of("edge"), message);
        }
    }
}

fn armhole_lines(table: &Table<'_>) -> Option<Armhole> {
    if !table.has("stitches") {
        table.missing("stitches", "stitches = 90");
    }
    let lines = table.text("lines")?.to_owned();
    let first_row = table.choice("first_row", SIDES).unwrap_or(Side::Rs);
    let seam_stitches = Stitches(table.count("seam_stitches", &SEAM_STITCHES).unwrap_or(1));
    Some(Armhole::Lines {
        stitches: table.stitches("stitches", &STITCH_COUNT)?,
        lines,
        first_row,
        seam_stitches,
    })
}

pub(super) fn shoulder(table: &Table<'_>) -> Option<Vec<Shoulder>> {
    let live = table.stitches("live_stitches", &LIVE_STITCHES);
    if !table.has("live_stitches") {
        table.missing("live_stitches", "live_stitches = 16");
    }
    let extra = table.stitches("extra_each_side", &SHOULDER_STITCHES);
    table.finish();
    let live = live?;
    let extra = extra.unwrap_or_else(|| vec![Stitches::ZERO; live.len()]);
    let both = live.into_iter().zip(extra);
    Some(
        both.map(|(live, extra_each_side)| Shoulder {
            live,
            extra_each_side,
        })
        .collect(),
    )
}
