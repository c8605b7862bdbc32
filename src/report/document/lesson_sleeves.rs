//! The sleeve planned with different gauges, and every drift, as tables.

use super::{Block, ColumnKind, TableBlock, TableColumn};
use crate::convert::drift::{PlannedSleeve, SizeDrift, SleevePart, Sweep, Taken};
use crate::convert::{GaugeSource, GaugesUsed};
use crate::measure::{Length, Units};
use crate::report::number::{
    gauge as counts_of, signed_count, signed_in, signed_length, signed_pct,
};

/// The same sleeve planned in several ways and knitted by the same hands.
pub(super) fn planned_sleeves(units: Units, gauge: &GaugesUsed, size: &SizeDrift) -> Vec<Block> {
    if size.sleeves.len() < 2 {
        return Vec::new();
    }
    let story = format!(
        "Whatever the plan says, these hands knit the cap back and forth at {} and the tube in rounds at {}{}. So this comes off the needles (in brackets: off what was wanted, or off the right counts):",
        counts_of(units, gauge.cap),
        counts_of(units, gauge.tube),
        if gauge.assumed(SleevePart::Tube) || gauge.assumed(SleevePart::Cap) {
            " (as far as that is known, see above)"
        } else {
            ""
        },
    );
    let mut columns = vec![TableColumn::new("planned with", ColumnKind::Head)];
    let plans = size.sleeves.iter();
    columns.extend(plans.map(|sleeve| TableColumn::new(taken(sleeve.taken), ColumnKind::Number)));
    let mut rows = Vec::new();
    for (name, cell) in SLEEVE_ROWS {
        let mut row = vec![(*name).to_owned()];
        row.extend(size.sleeves.iter().map(|sleeve| cell(units, sleeve)));
        if row.iter().skip(1).any(|cell| !cell.is_empty()) {
            rows.push(row);
        }
    }
    let what = "At the join the gauge changes, and so does the width of a stitch. A right plan makes or decreases stitches in the first round, so that cap and tube are nearly as wide as each other just there; the jump is what is left of it. Without such stitches (plain join), or with one gauge taken for all, it shows whole. The row picked up is a row of the cap as well, and the one that joins a row of the tube. Armhole share is the cap's edge in per cent of the armhole's: above 100 it is eased in.";
    vec![
        Block::heading(TITLE),
        Block::Text(story),
        Block::Table(TableBlock::new(TITLE, columns, rows).under_heading()),
        Block::Text(what.to_owned() + &smaller_jump(size)),
    ]
}

/// Said where some other plan has a smaller jump at the join than the right one.
fn smaller_jump(size: &SizeDrift) -> String {
    let Some((right, others)) = size.sleeves.split_first() else {
        return String::new();
    };
    let jump = |sleeve: &PlannedSleeve| sleeve.knitted.jump().abs();
    let smaller = others.iter().filter(|other| jump(other) < jump(right));
    let smaller: Vec<String> = smaller
        .map(|one| format!("\"{}\"", taken(one.taken)))
        .collect();
    if smaller.is_empty() {
        return String::new();
    }
    format!(
        " The jump alone tells no right plan from a wrong one: whole stitches leave some of it in any, and here there is less of it in {}; what is wrong there stands in the other rows.",
        smaller.join(" and ")
    )
}

const TITLE: &str = "The same sleeve, planned with different gauges";

const fn taken(taken: Taken) -> &'static str {
    match taken {
        Taken::EachItsOwn => "each its own",
        Taken::PlainJoin => "its own, plain join",
        Taken::OneForAll(GaugeSource::Pattern) => "pattern's for all",
        Taken::OneForAll(GaugeSource::Flat) => "flat for all",
        Taken::OneForAll(GaugeSource::Round) => "round for all",
    }
}

type SleeveCell = fn(Units, &PlannedSleeve) -> String;

/// One row of the table of sleeves: its name and its cell.
const SLEEVE_ROWS: &[(&str, SleeveCell)] = &[
    ("cap sts at the join", |_, s| {
        s.plan.cap.cap_end().count().to_string()
    }),
    ("sts of the first round", |_, s| {
        with(
            s.plan.cap.upper_arm().count().to_string(),
            &more(s.off.stitches),
        )
    }),
    ("upper arm", |units, s| {
        with(
            units.show(s.knitted.upper_arm),
            &signed_in(units, s.off.upper_arm),
        )
    }),
    ("cap side of join", |units, s| {
        units.show(s.knitted.join_cap_side)
    }),
    ("jump at join", |units, s| {
        signed_length(units, s.knitted.jump())
    }),
    ("cap rows", |_, s| {
        with(
            (2 * s.plan.cap.turn_pairs()).to_string(),
            &more(s.off.cap_rows),
        )
    }),
    ("cap depth", |units, s| {
        with(units.show(s.knitted.depth), &signed_in(units, s.off.depth))
    }),
    ("cap area", |units, s| {
        with(
            units.show_area(s.knitted.area_cm2),
            &signed_pct(s.off.area_pct),
        )
    }),
    ("armhole share", |_, s| {
        format!("{:.1} %", s.knitted.armhole_share_pct)
    }),
    ("rounds to the cuff", |_, s| {
        let rounds = s.plan.tube.as_ref().map(|tube| tube.rounds.count());
        both(rounds.map(|n| n.to_string()), s.off.rounds.map(more))
    }),
    ("underarm to cuff", |units, s| {
        let is = s.knitted.tube_length.map(|length| units.show(length));
        both(is, s.off.tube_length.map(|length| signed_in(units, length)))
    }),
    ("cuff", |units, s| {
        let is = s.knitted.cuff.map(|length| units.show(length));
        both(is, s.off.cuff.map(|length| signed_in(units, length)))
    }),
];

fn both(is: Option<String>, off: Option<String>) -> String {
    with(is.unwrap_or_default(), &off.unwrap_or_default())
}

fn with(is: String, off: &str) -> String {
    if off.is_empty() || is.is_empty() {
        is
    } else {
        format!("{is} ({off})")
    }
}

/// `-3`, `+2`, or `right`.
fn more(count: i64) -> String {
    if count == 0 {
        "right".to_owned()
    } else {
        signed_count(count)
    }
}

/// A table over every drift, for one part of the sleeve.
pub(super) fn sweep(units: Units, sweep: &Sweep) -> Vec<Block> {
    let (title, story) = match (sweep.part, sweep.assumed) {
        (SleevePart::Tube, true) => (
            "If your rounds are not what was assumed",
            format!(
                "There is no swatch in the round, so the tube was planned at {}. If your rounds differ from that by the drift shown:",
                counts_of(units, sweep.planned_at)
            ),
        ),
        (SleevePart::Tube, false) => (
            "What a drift does to the tube",
            format!(
                "A sleeve planned with the cap's gauge alone, {}, for the tube as well. If your rounds differ from it by the drift shown:",
                counts_of(units, sweep.planned_at)
            ),
        ),
        (SleevePart::Cap, true) => (
            "If your flat rows are not what was assumed",
            format!(
                "There is no flat swatch, so the cap was planned at {}. If round differs from flat by the drift shown, your flat knitting differs from that the other way:",
                counts_of(units, sweep.planned_at)
            ),
        ),
        (SleevePart::Cap, false) => (
            "What a drift does to the cap",
            format!(
                "A cap planned with the tube's gauge alone, {}. If round differs from flat by the drift shown:",
                counts_of(units, sweep.planned_at)
            ),
        ),
    };
    let table = match sweep.part {
        SleevePart::Tube => tube(units, sweep),
        SleevePart::Cap => cap(units, sweep),
    };
    vec![
        Block::heading(title),
        Block::Text(story),
        Block::Table(TableBlock {
            caption: title.to_owned(),
            ..table.under_heading()
        }),
    ]
}

/// `+2 %`, `0 %`, `−4 %`.
fn pct(pct: i32) -> String {
    format!("{} %", signed_count(i64::from(pct)))
}

fn tube(units: Units, sweep: &Sweep) -> TableBlock {
    let mut names = vec!["drift", "upper arm", "off", "jump", "stitches right"];
    let tube = sweep.rounds.is_some();
    if tube {
        names.extend(["cuff", "underarm to cuff", "off", "rounds right"]);
    }
    let rows = sweep.rows.iter().map(|row| {
        let mut line = vec![
            pct(row.drift_pct),
            units.show(row.knitted.upper_arm),
            signed_in(units, row.upper_arm_off),
            signed_in(units, row.knitted.jump()),
            row.right_stitches.count().to_string(),
        ];
        if tube {
            let show = |length: Option<Length>| length.map(|l| units.show(l)).unwrap_or_default();
            let off = row.tube_off.map(|l| signed_in(units, l));
            let rounds = row.right_rounds.map(|r| r.count().to_string());
            line.extend([
                show(row.knitted.cuff),
                show(row.knitted.tube_length),
                off.unwrap_or_default(),
                rounds.unwrap_or_default(),
            ]);
        }
        line
    });
    TableBlock::new(
        "",
        TableColumn::all(&names, ColumnKind::Number),
        rows.collect(),
    )
}

fn cap(units: Units, sweep: &Sweep) -> TableBlock {
    let names = [
        "drift",
        "cap depth",
        "off",
        "cap area",
        "off",
        "armhole share",
        "jump",
    ];
    let rows = sweep.rows.iter().map(|row| {
        vec![
            pct(row.drift_pct),
            units.show(row.knitted.depth),
            signed_in(units, row.depth_off),
            units.show_area(row.knitted.area_cm2),
            signed_pct(row.area_pct),
            format!("{:.1} %", row.knitted.armhole_share_pct),
            signed_in(units, row.knitted.jump()),
        ]
    });
    TableBlock::new(
        "",
        TableColumn::all(&names, ColumnKind::Number),
        rows.collect(),
    )
}
