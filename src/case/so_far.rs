//! `[so_far]`: what is on the needles already.

use super::codes::{CLASH, OUT_OF_RANGE};
use super::table::{Table, article};
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
    /// Stitches that wait on each side.
    pub turned_at: Option<Stitches>,
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

const OF_CAP: [&str; 5] = ["picked_up", "rows", "depth", "width", "turned_at"];
const OF_TUBE: [&str; 4] = ["rounds", "stitches", "upper_arm", "length"];

pub(super) fn so_far(
    table: &Table<'_>,
    sizes: &[String],
    sleeve_has_length: bool,
) -> Option<SoFar> {
    let size = size(table, sizes);
    let given = |keys: &[&str]| keys.iter().any(|key| table.has(key));
    let (of_cap, of_tube) = (given(&OF_CAP), given(&OF_TUBE));
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
    let mend = table.choice("mend", &[("keep", Mend::Keep), ("correct", Mend::Correct)]);
    table.finish();
    Some(SoFar {
        size: size?,
        cap: cap.flatten(),
        tube,
        sleeve,
        mend,
    })
}

/// The size that is on the needles: it must be named where there are several.
fn size(table: &Table<'_>, sizes: &[String]) -> Option<usize> {
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
                table.say(&CLASH, table.place_of("size"), message);
            }
            found
        }
    }
}

fn cap(table: &Table<'_>) -> Option<CapSoFar> {
    let rows = table.count("rows", &CAP_ROWS).map(Rows);
    let cap = CapSoFar {
        picked_up: picked_up(table),
        rows,
        depth: length(table, "depth", &DEPTH_SO_FAR),
        width: length(table, "width", &UPPER_ARM_WIDTH),
        turned_at: table.count("turned_at", &WAITING).map(Stitches),
    };
    for key in ["depth", "width", "turned_at"] {
        if table.has(key) && !table.has("rows") {
            table.missing("rows", "rows = 16");
            break;
        }
    }
    // A measure is taken after a whole pair; with an odd row the sides are not alike.
    if let Some(rows) = rows.filter(|rows| !rows.is_even())
        && (cap.depth.is_some() || cap.width.is_some() || cap.turned_at.is_some())
    {
        let message = format!(
            "After row {} one side has turned once more than the other; work the WS row of the pair, then measure and count.",
            rows.count()
        );
        table.say(&CLASH, table.place_of("rows"), message);
    }
    let complete = OF_CAP.iter().all(|key| !table.has(key) || known(&cap, key));
    complete.then_some(cap)
}

/// True when a key that was given could be read.
fn known(cap: &CapSoFar, key: &str) -> bool {
    match key {
        "picked_up" => cap.picked_up.is_some(),
        "rows" => cap.rows.is_some(),
        "depth" => cap.depth.is_some(),
        "width" => cap.width.is_some(),
        _ => cap.turned_at.is_some(),
    }
}

fn picked_up(table: &Table<'_>) -> Option<PickedUp> {
    if !table.is_table("picked_up") {
        let total = table.count("picked_up", &STITCH_COUNT)?;
        return Some(PickedUp::Total(Stitches(total)));
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

fn tube(table: &Table<'_>, sleeve_has_length: bool) -> Option<TubeSoFar> {
    if !sleeve_has_length {
        let message = "What is knitted of the tube is given, but not sleeve.length: without it no tube is planned.";
        let key = OF_TUBE.iter().find(|key| table.has(key))?;
        table.say(&CLASH, table.place_of(key), message.to_owned());
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
fn length(table: &Table<'_>, key: &str, bound: &'static crate::measure::Bound) -> Option<Length> {
    let value = table.any_number(key)?;
    let units = table.reading().units;
    let length = units.length(value);
    if bound.check(length.to_cm()).is_err() {
        let message = format!(
            "so_far.{key} is {value} {units}; {} {} lies between {} and {}.",
            article(bound.name),
            bound.name,
            units.show(Length::cm(bound.min)),
            units.show(Length::cm(bound.max))
        );
        table.say(&OUT_OF_RANGE, table.place_of(key), message);
        return None;
    }
    Some(length)
}
