//! `[armhole]`: the body's lines, its measures, or what was counted on it, front and back apart; and `[shoulder]`
//! above it.

use super::codes::{CLASH, OUT_OF_RANGE};
use super::style::{Style, Underarm};
use super::table::{CaseTable, SIDES};
use crate::measure::{
    ARMHOLE_DEPTH, ARMHOLE_EDGE, ARMHOLE_ROWS, LIVE_STITCHES, Length, Rows, SEAM_STITCHES,
    SHOULDER_STITCHES, STITCH_COUNT, Side, Stitches, UNDERARM, UNDERARM_STITCHES,
};

/// One side's armhole.
#[derive(Clone, Debug, PartialEq)]
pub enum Armhole {
    /// From the body's lines.
    Lines {
        /// Stitches of the body piece before the armhole.
        stitches: Vec<Stitches>,
        /// The pattern's own lines, from the underarm to the shoulder.
        lines: String,
        /// The side of the first row of the lines.
        first_row: Side,
        /// Stitches lost to the seam at each edge.
        seam_stitches: Stitches,
        /// What was counted on the finished body instead, one entry a size.
        counted: Option<Vec<Counted>>,
    },
    /// From measures, net of seams.
    Measures {
        /// Underarm to shoulder along one edge.
        edge: Vec<Length>,
        /// Bound off at that edge.
        underarm: Vec<Length>,
        /// Height.
        depth: Vec<Length>,
    },
    /// Counted on the finished body, one entry a size.
    Counts {
        /// The counts.
        counted: Vec<Counted>,
        /// What a tape said beside them.
        taped: Vec<Taped>,
    },
}

/// What was counted along one edge of a finished armhole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counted {
    /// Places from the underarm to the shoulder: row ends, and each stitch bound off in steps.
    /// Left out only beside the body's lines, whose rows then stand.
    pub rows: Option<Rows>,
    /// How many of the places are stitches bound off in steps.
    pub steps: Stitches,
    /// Stitches decreased along the edge.
    pub decreases: Stitches,
    /// Stitches of the underarm at this edge, those in the seam among them.
    pub bound_off: Option<Stitches>,
    /// Those of them that lie in the seam.
    pub seam_stitches: Stitches,
}

impl Counted {
    /// Stitches of the underarm that can be picked up.
    pub fn underarm(&self) -> Option<Stitches> {
        let bound_off = self.bound_off?;
        Some(bound_off.saturating_sub(self.seam_stitches))
    }
}

/// What a tape says of one edge of a finished armhole, net of seams.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Taped {
    /// Underarm to shoulder along the edge.
    pub edge: Option<Length>,
    /// Bound off at that edge.
    pub underarm: Option<Length>,
    /// Height.
    pub depth: Option<Length>,
}

/// `[shoulder]`, one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shoulder {
    /// Stitches waiting on a holder.
    pub live: Stitches,
    /// Stitches picked up beside them on each side.
    pub extra_each_side: Stitches,
}

/// Front and back; one table stands for both.
pub(super) fn armholes(root: &CaseTable<'_>, style: Style) -> Option<(Armhole, Armhole)> {
    let Some(table) = root.table("armhole") else {
        if !root.has("armhole") {
            root.missing("armhole", "[armhole] with edge, underarm and depth");
        }
        return None;
    };
    let pair = match (table.table("front"), table.table("back")) {
        (Some(front), Some(back)) => {
            let pair = (armhole(&front, style), armhole(&back, style));
            front.finish();
            back.finish();
            pair.0.zip(pair.1)
        }
        (None, None) => armhole(&table, style).map(|both| (both.clone(), both)),
        (front, _) => {
            let (has, lacks) = if front.is_some() {
                ("front", "back")
            } else {
                ("back", "front")
            };
            let message = format!(
                "There is an [armhole.{has}] but no [armhole.{lacks}]; give both, or one [armhole] for both."
            );
            let next = format!("Give [armhole.{lacks}] as well, or one [armhole] for both.");
            table.clash(has, message, &next);
            None
        }
    };
    table.finish();
    pair
}

const MEASURES: [&str; 3] = ["edge", "underarm", "depth"];

fn armhole(table: &CaseTable<'_>, style: Style) -> Option<Armhole> {
    if table.has("lines") {
        let not_of_lines = MEASURES.iter().chain(&["steps", "decreases"]);
        for key in not_of_lines.filter(|key| table.has(key)) {
            let message = format!("The armhole is given by lines and by {key}; keep one of them.");
            table.say(&CLASH, table.place_of(key), message);
        }
        return armhole_lines(table, style);
    }
    if ["rows", "bound_off", "steps", "decreases"]
        .iter()
        .any(|key| table.has(key))
    {
        return armhole_counts(table, style);
    }
    for key in MEASURES.iter().filter(|key| !table.has(key)) {
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
fn longer_than_deep(table: &CaseTable<'_>, edge: Option<&[Length]>, depth: Option<&[Length]>) {
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

fn armhole_lines(table: &CaseTable<'_>, style: Style) -> Option<Armhole> {
    if !table.has("stitches") {
        table.missing("stitches", "stitches = 90");
    }
    let lines = table.text("lines")?.to_owned();
    let first_row = table.choice("first_row", SIDES).unwrap_or(Side::Rs);
    let seam_stitches = in_seam(table, style, 1)?;
    let counted = if table.has("rows") || table.has("bound_off") {
        Some(counted(table, seam_stitches)?)
    } else {
        None
    };
    Some(Armhole::Lines {
        stitches: table.stitches("stitches", &STITCH_COUNT)?,
        lines,
        first_row,
        seam_stitches,
        counted,
    })
}

/// Stitches lost in the side seam: none where there is no such seam.
fn in_seam(table: &CaseTable<'_>, style: Style, usual: u32) -> Option<Stitches> {
    let given = table.count("seam_stitches", &SEAM_STITCHES);
    if table.has("seam_stitches") {
        let lost = given?;
        let why = match style.underarm {
            _ if style.body.is_seamless() => "a body without side seams",
            Underarm::Live if table.has("bound_off") => "an underarm that waits on a holder",
            _ => return Some(Stitches(lost)),
        };
        if lost > 0 {
            let message = format!(
                "{lost} stitches cannot lie in the seam of {why}; leave seam_stitches out."
            );
            table.clash("seam_stitches", message, "Leave seam_stitches out.");
            return None;
        }
    }
    Some(Stitches(if style.body.is_seamless() {
        0
    } else {
        given.unwrap_or(usual)
    }))
}

/// By counts, with or without a tape's measures to hold them against.
fn armhole_counts(table: &CaseTable<'_>, style: Style) -> Option<Armhole> {
    if !table.has("rows") {
        table.missing("rows", "rows = 56");
    }
    if !table.has("bound_off") && !table.has("underarm") {
        table.missing("bound_off", "bound_off = 5");
    }
    let of_seam = in_seam(table, style, 0);
    let edge = table.lengths("edge", &ARMHOLE_EDGE);
    let underarm = table.lengths("underarm", &UNDERARM);
    let depth = table.lengths("depth", &ARMHOLE_DEPTH);
    longer_than_deep(table, edge.as_deref(), depth.as_deref());
    let counted = counted(table, of_seam?)?;
    let at = |list: &Option<Vec<Length>>, index: usize| list.as_ref()?.get(index).copied();
    let taped = (0..counted.len()).map(|index| Taped {
        edge: at(&edge, index),
        underarm: at(&underarm, index),
        depth: at(&depth, index),
    });
    let taped: Vec<Taped> = taped.collect();
    let known = |one: (&Counted, &Taped)| one.0.bound_off.is_some() || one.1.underarm.is_some();
    let complete = table.has("rows") && counted.iter().zip(&taped).all(known);
    complete.then_some(Armhole::Counts { counted, taped })
}

/// The counts of every size, each checked against the others.
fn counted(table: &CaseTable<'_>, seam_stitches: Stitches) -> Option<Vec<Counted>> {
    let given = |key| {
        table
            .has(key)
            .then(|| table.stitches(key, &UNDERARM_STITCHES))
    };
    let rows = table
        .has("rows")
        .then(|| table.stitches("rows", &ARMHOLE_ROWS));
    let (bound_off, steps, decreases) = (given("bound_off"), given("steps"), given("decreases"));
    // What was given and is wrong has been reported.
    if [&rows, &bound_off, &steps, &decreases].contains(&&Some(None)) {
        return None;
    }
    let at = |list: &Option<Option<Vec<Stitches>>>, index: usize| {
        list.as_ref()?.as_ref()?.get(index).copied()
    };
    let one = |index| Counted {
        rows: at(&rows, index).map(|rows| Rows(rows.count())),
        steps: at(&steps, index).unwrap_or_default(),
        decreases: at(&decreases, index).unwrap_or_default(),
        bound_off: at(&bound_off, index),
        seam_stitches,
    };
    let list: Vec<Counted> = (0..table.reading().sizes).map(one).collect();
    let fine: Vec<bool> = list.iter().map(|one| agrees(table, one)).collect();
    fine.iter().all(|fine| *fine).then_some(list)
}

/// Reports counts that cannot be those of one edge.
fn agrees(table: &CaseTable<'_>, counted: &Counted) -> bool {
    let mut fine = true;
    let mut say = |key: &str, message: String| {
        table.clash(
            key,
            message,
            "Count again, and correct the count that is off.",
        );
        fine = false;
    };
    let (rows, steps, decreases) = (
        counted.rows.unwrap_or_default().count(),
        counted.steps.count(),
        counted.decreases.count(),
    );
    if table.has("rows") && steps > 0 && steps >= rows {
        say(
            "steps",
            format!(
                "{steps} stitches bound off in steps cannot be among {rows} places; each of them is counted as a row."
            ),
        );
    } else if table.has("rows") && decreases > 0 && decreases >= rows - steps {
        say(
            "decreases",
            format!(
                "{decreases} decreases do not fit on {} rows; an armhole is decreased once a row at most.",
                rows - steps
            ),
        );
    }
    if let Some(bound_off) = counted.bound_off
        && bound_off < counted.seam_stitches
    {
        say(
            "bound_off",
            format!(
                "{} stitches in the seam cannot be among the {} of the underarm.",
                counted.seam_stitches.count(),
                bound_off.count()
            ),
        );
    }
    fine
}

/// Stitches that wait at the shoulder, and those picked up beside them.
pub(super) fn shoulder(table: &CaseTable<'_>) -> Option<Vec<Shoulder>> {
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
