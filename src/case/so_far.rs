//! `[so_far]`: what is on the needles already.

use super::codes::{LIST_LENGTH, OUT_OF_RANGE};
use super::swatch::{Swatch, swatch};
use super::table::{CaseTable, article};
use crate::measure::{
    CAP_ROWS, DEPTH_SO_FAR, Length, PICKED_UP, Rows, SLEEVE_LENGTH, STITCH_COUNT, Stitches,
    TUBE_ROUNDS, UPPER_ARM_WIDTH, WAITING,
};
use crate::plan::Sleeve;

/// `[so_far]`: the state of one sleeve of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct SoFar {
    /// The place of its size in the case.
    pub size: usize,
    /// What was knitted of the cap.
    pub cap: Option<CapSoFar>,
    /// What was knitted of the tube.
    pub tube: Option<TubeSoFar>,
    /// The sleeve it is, when said.
    pub sleeve: Option<Sleeve>,
    /// Whether counts that are off are kept, when said.
    pub mend: Option<Mend>,
    /// A swatch of the needles that the cap goes on with, where they are others.
    pub gauge: Option<Swatch>,
}

/// `mend`: what is done with counts that are off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mend {
    /// They stay, and the rest is planned with them.
    Keep,
    /// Stitches are made or taken away among those that wait.
    Correct,
}

/// What was knitted of the cap.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CapSoFar {
    /// Stitches picked up.
    pub picked_up: Option<PickedUp>,
    /// Rows of the cap worked.
    pub rows: Option<Rows>,
    /// What they measure, from the picked-up edge down to the needle.
    pub depth: Option<Length>,
    /// What the widest row measures, from turn to turn.
    pub width: Option<Length>,
    /// Rows that were worked when it was measured, where some were ripped back since.
    pub measured_at: Option<Rows>,
    /// Stitches that wait on the first and on the second flank.
    pub turned_at: Option<[Stitches; 2]>,
}

impl CapSoFar {
    /// Rows that depth and width were measured after.
    pub fn measured_rows(&self) -> Option<Rows> {
        self.measured_at.or(self.rows)
    }
}

/// Stitches picked up, section by section or in all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PickedUp {
    /// All of them.
    Total(Stitches),
    /// In the order of the work.
    Sections {
        /// Across the shoulder.
        crown: Stitches,
        /// The flank after it.
        first: Stitches,
        /// Along the underarm.
        base: Stitches,
        /// The flank picked up last.
        second: Stitches,
    },
}

impl PickedUp {
    /// All of them.
    pub fn total(&self) -> Stitches {
        match *self {
            Self::Total(all) => all,
            Self::Sections {
                crown,
                first,
                base,
                second,
            } => crown + first + base + second,
        }
    }
}

/// What was knitted of the tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TubeSoFar {
    /// Rounds since the join; the one that closes it is the first.
    pub rounds: Rows,
    /// Stitches on the needle; left out, as many as the plan has after the join.
    pub stitches: Option<Stitches>,
    /// Round the upper arm, measured on the work after the join.
    pub upper_arm: Option<Length>,
    /// From the underarm down to the needle, measured on the work.
    pub length: Option<Length>,
}

const OF_CAP: [&str; 6] = [
    "picked_up",
    "rows",
    "depth",
    "width",
    "measured_at",
    "turned_at",
];
const OF_TUBE: [&str; 4] = ["rounds", "stitches", "upper_arm", "length"];

pub(super) fn so_far(
    table: &CaseTable<'_>,
    sizes: &[String],
    sleeve_has_length: bool,
) -> Option<SoFar> {
    let size = size(table, sizes);
    let given = |keys: &[&str]| keys.iter().any(|key| table.has(key));
    let (of_cap, of_tube) = (given(&OF_CAP) || table.has("gauge"), given(&OF_TUBE));
    if !of_cap && !of_tube {
        table.missing("rounds", "rounds = 30");
    }
    let cap = of_cap.then(|| cap(table));
    let tube = if of_tube {
        tube(table, sleeve_has_length)
    } else {
        None
    };
    let sleeve = table.choice(
        "sleeve",
        &[("left", Sleeve::Left), ("right", Sleeve::Right)],
    );
    let gauge = table.table("gauge").and_then(|inner| swatch(&inner));
    let other_needles = !table.has("gauge") || gauge.is_some();
    let mend = table.choice("mend", &[("keep", Mend::Keep), ("correct", Mend::Correct)]);
    table.finish();
    Some(SoFar {
        size: size?,
        cap: cap.flatten().filter(|_| other_needles),
        tube,
        sleeve,
        mend,
        gauge,
    })
}

/// The size that is on the needles: it must be named where there are several.
fn size(table: &CaseTable<'_>, sizes: &[String]) -> Option<usize> {
    let named = table.text("size");
    match (named, sizes) {
        (None, [_]) if !table.has("size") => Some(0),
        (None, _) => {
            if !table.has("size") {
                table.missing("size", &format!("size = \"{}\"", sizes.first()?));
            }
            None
        }
        (Some(name), _) => {
            let found = sizes.iter().position(|size| size == name);
            if found.is_none() {
                let message = format!(
                    "so_far.size is \"{name}\", but the sizes are {}.",
                    sizes.join(", ")
                );
                table.clash("size", message, "Name one of the sizes of the case.");
            }
            found
        }
    }
}

fn cap(table: &CaseTable<'_>) -> Option<CapSoFar> {
    let rows = table.count("rows", &CAP_ROWS).map(Rows);
    let cap = CapSoFar {
        picked_up: picked_up(table),
        rows,
        depth: length(table, "depth", &DEPTH_SO_FAR),
        width: length(table, "width", &UPPER_ARM_WIDTH),
        measured_at: table.count("measured_at", &CAP_ROWS).map(Rows),
        turned_at: turned_at(table),
    };
    for key in ["depth", "width", "turned_at", "gauge"] {
        let measured = ["depth", "width"].contains(&key) && table.has("measured_at");
        if table.has(key) && !table.has("rows") && !measured {
            table.missing("rows", "rows = 16");
            break;
        }
    }
    whole_pairs(table, &cap);
    let complete = OF_CAP.iter().all(|key| !table.has(key) || known(&cap, key));
    complete.then_some(cap)
}

/// Said where a measure or a count is not that of a whole pair: after an RS row the sides are not alike.
fn whole_pairs(table: &CaseTable<'_>, cap: &CapSoFar) {
    let odd = |rows: Option<Rows>| rows.filter(|rows| !rows.is_even());
    let measured = cap.depth.is_some() || cap.width.is_some();
    let counted = cap.turned_at.is_some() || (measured && cap.measured_at.is_none());
    let changed = table.has("gauge");
    if let Some(rows) = odd(cap.rows).filter(|_| counted || changed) {
        let what = if changed {
            "needles are changed between two pairs"
        } else {
            "a measure and a count of what waits are those of whole pairs"
        };
        let message = format!(
            "After row {} one side has turned once more than the other: {what}.",
            rows.count()
        );
        let next = rows.count() + 1;
        let next = format!(
            "Work row {next}, which ends the pair, then give so_far.rows = {next} with what is measured and counted after it."
        );
        table.clash("rows", message, &next);
    }
    let Some(at) = cap.measured_at else { return };
    if odd(Some(at)).is_some() || !measured || cap.rows.is_some_and(|rows| rows > at) {
        let message = format!(
            "so_far.measured_at is {}: it is the last row of a pair, no row before so_far.rows, and depth or width are what was measured then.",
            at.count()
        );
        let next =
            "Give the rows that were worked when it was measured, or leave so_far.measured_at out.";
        table.clash("measured_at", message, next);
    }
}

/// Stitches that wait: on both sides as many, or on the first and the second flank.
fn turned_at(table: &CaseTable<'_>) -> Option<[Stitches; 2]> {
    let numbers = table.numbers("turned_at")?;
    let whole = |number: f64| {
        let number = table.within("turned_at", number, &WAITING, table.place_of("turned_at"))?;
        table.whole("turned_at", number, table.place_of("turned_at"))
    };
    let counts: Option<Vec<u32>> = numbers.into_iter().map(whole).collect();
    match counts?.as_slice() {
        &[both] => Some([Stitches(both), Stitches(both)]),
        &[first, second] => Some([Stitches(first), Stitches(second)]),
        more => {
            let message = format!(
                "so_far.turned_at is a list of {}; it is one count for both sides, or two: first flank, second flank.",
                more.len()
            );
            table.say(&LIST_LENGTH, table.place_of("turned_at"), message);
            None
        }
    }
}

/// True when a key that was given could be read.
fn known(cap: &CapSoFar, key: &str) -> bool {
    match key {
        "picked_up" => cap.picked_up.is_some(),
        "rows" => cap.rows.is_some(),
        "depth" => cap.depth.is_some(),
        "width" => cap.width.is_some(),
        "measured_at" => cap.measured_at.is_some(),
        _ => cap.turned_at.is_some(),
    }
}

/// A total, or a list of four in the order of the work.
fn counted(table: &CaseTable<'_>) -> Option<PickedUp> {
    let place = table.place_of("picked_up");
    let numbers = table.numbers("picked_up")?;
    let bound = if numbers.len() == 1 {
        &STITCH_COUNT
    } else {
        &PICKED_UP
    };
    let whole = |number: f64| {
        let number = table.within("picked_up", number, bound, place)?;
        table.whole("picked_up", number, place).map(Stitches)
    };
    let counts: Option<Vec<Stitches>> = numbers.into_iter().map(whole).collect();
    match counts?.as_slice() {
        &[total] => Some(PickedUp::Total(total)),
        &[crown, first, base, second] => Some(PickedUp::Sections {
            crown,
            first,
            base,
            second,
        }),
        other => {
            let message = format!(
                "so_far.picked_up is a list of {}; it is one total, or four counts in the order of the work: crown, first flank, base, second flank.",
                other.len()
            );
            table.say(&LIST_LENGTH, place, message);
            None
        }
    }
}

fn picked_up(table: &CaseTable<'_>) -> Option<PickedUp> {
    if !table.is_table("picked_up") {
        return counted(table);
    }
    let inner = table.table("picked_up")?;
    let names = ["crown", "first", "base", "second"];
    let counts = names.map(|name| {
        if !inner.has(name) {
            inner.missing(name, &format!("{name} = 20"));
        }
        inner.count(name, &PICKED_UP).map(Stitches)
    });
    inner.finish();
    let [crown, first, base, second] = counts;
    Some(PickedUp::Sections {
        crown: crown?,
        first: first?,
        base: base?,
        second: second?,
    })
}

fn tube(table: &CaseTable<'_>, sleeve_has_length: bool) -> Option<TubeSoFar> {
    if !sleeve_has_length {
        let message = "What is knitted of the tube is given, but not sleeve.length: without it no tube is planned.";
        let key = OF_TUBE.iter().find(|key| table.has(key))?;
        let next = "Give sleeve.length, or leave out what is knitted of the tube.";
        table.clash(key, message.to_owned(), next);
    }
    let rounds = table.count("rounds", &TUBE_ROUNDS);
    let stitches = table.count("stitches", &STITCH_COUNT).map(Stitches);
    let tube = TubeSoFar {
        rounds: Rows(rounds.unwrap_or(1)),
        stitches,
        upper_arm: length(table, "upper_arm", &UPPER_ARM_WIDTH),
        length: length(table, "length", &SLEEVE_LENGTH),
    };
    if tube.rounds > Rows(1) && !table.has("stitches") {
        table.missing("stitches", "stitches = 67");
        return None;
    }
    if table.has("length") && !table.has("rounds") {
        table.missing("rounds", "rounds = 30");
        return None;
    }
    let read = [
        ("rounds", rounds.is_some()),
        ("stitches", stitches.is_some()),
        ("upper_arm", tube.upper_arm.is_some()),
        ("length", tube.length.is_some()),
    ];
    let complete = read.iter().all(|(key, read)| !table.has(key) || *read);
    (complete && sleeve_has_length).then_some(tube)
}

/// One length; it is that of the one size on the needles.
fn length(
    table: &CaseTable<'_>,
    key: &str,
    bound: &'static crate::measure::Bound,
) -> Option<Length> {
    let value = table.any_number(key)?;
    let units = table.reading().units;
    let length = units.length(value);
    if bound.check(length.to_cm()).is_err() {
        let message = format!(
            "so_far.{key} is {value} {units}; {} {} lies between {} and {}.",
            article(bound.name),
            bound.name,
            units.show_least(Length::cm(bound.min)),
            units.show_most(Length::cm(bound.max))
        );
        table.say(&OUT_OF_RANGE, table.place_of(key), message);
        return None;
    }
    Some(length)
}
