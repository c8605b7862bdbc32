//! The pattern of one sleeve, its stitch pattern and its stripes.

use serde::Serialize;

use super::all;
use super::rounded::Cm;
use crate::convert::{Band, Meeting, Patterned, StripedSleeve, Written};
use crate::plan::{Flank, TubePlan};
use crate::stitch::{Cell, Layout, PatternRow, Placed, TubeRound};
use crate::wording::{Abbreviation, PickUpList, Step};

/// The pattern of one sleeve.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct WrittenJson<'a> {
    /// Which one.
    #[cfg_attr(test, schemars(extend("enum" = ["both", "left", "right"])))]
    sleeve: &'static str,
    /// Its sentences.
    instructions: Vec<String>,
    /// Those of its sentences, counted from 0, that explain and are nothing to do.
    explains: Vec<usize>,
    /// What is done first.
    before: &'a [String],
    /// Needles that carry the work.
    needles: &'a [String],
    /// Where a stitch pattern stands.
    stitch_pattern: &'a [String],
    /// Those that occur.
    abbreviations: &'a [Abbreviation],
    /// The pick-up row by row. A crown without live stitches has the rows of one half: they are the same on both sides of
    /// the shoulder seam, and an odd stitch lies in the seam itself.
    pick_up_rows: Vec<PickUpJson<'a>>,
    /// The stitch pattern on this cap; only where the case has `[stitch]`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "PatternJson<'a>"))]
    pattern: Option<PatternJson<'a>>,
}

impl<'a> From<&'a Written> for WrittenJson<'a> {
    fn from(written: &'a Written) -> Self {
        Self {
            sleeve: written.sleeve.word(),
            instructions: written.instructions.sentences(),
            explains: written.instructions.explanations(),
            before: &written.before,
            needles: &written.needles,
            stitch_pattern: &written.stitch_pattern,
            abbreviations: &written.abbreviations,
            pick_up_rows: all(&written.lists),
            pattern: written.pattern.as_ref().map(PatternJson::from),
        }
    }
}

/// A section of the pick-up.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct PickUpJson<'a> {
    /// Which one.
    section: &'static str,
    /// From where its rows are counted.
    counted_from: &'static str,
    /// The rows a stitch is picked up in.
    rows: &'a [u32],
    /// All its rows.
    of: u32,
}

impl<'a> From<&'a PickUpList> for PickUpJson<'a> {
    fn from(list: &'a PickUpList) -> Self {
        Self {
            section: list.section,
            counted_from: list.counted_from,
            rows: &list.rows,
            of: list.of,
        }
    }
}

/// What of a stitch pattern lies on every stitch of the cap and of the first round.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct PatternJson<'a> {
    /// Stitches of the ground's repeat.
    repeat_stitches: usize,
    /// Its rows.
    repeat_rows: usize,
    /// The stitch of the repeat on the first stitch of the crown.
    first_crown_stitch: u32,
    /// The row of the repeat on row 1 of the cap.
    first_row: usize,
    /// The panels, in the order of a right-side row.
    panels: Vec<PanelJson<'a>>,
    /// Every row of the cap, then the first round.
    rows: Vec<PatternRowJson>,
    /// Charts and rows in words.
    sentences: Vec<String>,
}

impl<'a> From<&'a Patterned> for PatternJson<'a> {
    fn from(pattern: &'a Patterned) -> Self {
        let layout = &pattern.layout;
        let ground = layout.ground();
        let steps = pattern.words.section.steps.iter();
        Self {
            repeat_stitches: ground.chart.width(),
            repeat_rows: ground.chart.height(),
            first_crown_stitch: layout.number(0),
            first_row: ground.first_row + 1,
            panels: all(&layout.panels),
            rows: all(&layout.rows()),
            sentences: steps.map(Step::full).collect(),
        }
    }
}

/// A panel.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct PanelJson<'a> {
    /// What the case calls it.
    name: &'a str,
    /// The stitch of the crown it begins on.
    first_crown_stitch: i64,
    /// Its stitches.
    stitches: usize,
    /// Rows of its chart.
    rows: usize,
    /// Its row on row 1 of the cap.
    first_row: usize,
}

impl<'a> From<&'a Placed> for PanelJson<'a> {
    fn from(panel: &'a Placed) -> Self {
        Self {
            name: &panel.name,
            first_crown_stitch: panel.from + 1,
            stitches: panel.drawn.chart.width(),
            rows: panel.drawn.chart.height(),
            first_row: panel.drawn.first_row + 1,
        }
    }
}

/// A row in pattern.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct PatternRowJson {
    /// Its number; the first round follows the row that joins.
    row: u32,
    /// The side that is seen.
    #[cfg_attr(test, schemars(extend("enum" = ["RS", "WS"])))]
    side: &'static str,
    /// The row of the repeat.
    repeat_row: u32,
    /// The row of each panel.
    panel_rows: Vec<u32>,
    /// The stitch of the repeat it begins with.
    first: u32,
    /// The stitch of the repeat it ends with.
    last: u32,
    /// Stitches at its end that no row has worked before.
    new: u32,
    /// Its stitches as seen from the right side, from right to left; a crossing once for each of its stitches.
    stitches: Vec<String>,
}

impl From<&PatternRow> for PatternRowJson {
    fn from(row: &PatternRow) -> Self {
        Self {
            row: row.row,
            side: if row.right_side { "RS" } else { "WS" },
            repeat_row: row.of_ground,
            panel_rows: row.of_panels.clone(),
            first: row.first,
            last: row.last,
            new: row.new,
            stitches: words(&row.cells),
        }
    }
}

/// The tube of one sleeve in pattern.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct TubeInPatternJson {
    /// Which sleeve.
    #[cfg_attr(test, schemars(extend("enum" = ["both", "left", "right"])))]
    sleeve: &'static str,
    /// Every round, from the join down; all stitches stay in their columns, the shaping takes them away beside the
    /// marker.
    rounds: Vec<TubeRoundJson>,
}

impl TubeInPatternJson {
    /// None without a pattern.
    pub(super) fn of(written: &Written, tube: &TubePlan) -> Option<Self> {
        let pattern = written.pattern.as_ref()?;
        let rounds = pattern.tube(tube);
        Some(Self {
            sleeve: written.sleeve.word(),
            rounds: rounds
                .iter()
                .map(|round| TubeRoundJson::of(round, &pattern.layout))
                .collect(),
        })
    }
}

/// A round of the tube.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TubeRoundJson {
    /// Its number, from 1 at the join.
    round: u32,
    /// True where it is shaped.
    shaped: bool,
    /// The row of the repeat.
    repeat_row: u32,
    /// The stitch of the repeat that its second stitch is; from the first shaping on its first and its last are knit.
    second: u32,
    /// The same of its last stitch but one.
    last_but_one: u32,
    /// Its stitches in the order they are worked; a crossing once for each of its stitches.
    stitches: Vec<String>,
}

impl TubeRoundJson {
    fn of(round: &TubeRound, layout: &Layout) -> Self {
        Self {
            round: round.round,
            shaped: round.shaped,
            repeat_row: round.of_ground,
            second: layout.number(round.second()),
            last_but_one: layout.number(round.last_but_one()),
            stitches: words(&round.cells),
        }
    }
}

fn words(cells: &[Cell]) -> Vec<String> {
    cells.iter().map(|cell| cell.stitch.to_string()).collect()
}

/// Stripes of the sleeve and where they meet the body's.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct StripesJson<'a> {
    /// The row of the sleeve's stripes that row 1 of the cap is.
    first_row: u32,
    /// Rows of one colour, from the shoulder down.
    bands: &'a [Band],
    /// Where each turn pair but the first meets the body, front and back.
    meetings: Vec<MeetingJson>,
    /// Stitches of each colour, from the pick-up to the cuff.
    yarn: Vec<YarnJson<'a>>,
}

impl<'a> From<&'a StripedSleeve> for StripesJson<'a> {
    fn from(sleeve: &'a StripedSleeve) -> Self {
        Self {
            first_row: sleeve.first_row + 1,
            bands: &sleeve.bands,
            meetings: all(&sleeve.meetings),
            yarn: all(&sleeve.yarn),
        }
    }
}

/// A turn pair on one side, against the body.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct MeetingJson {
    /// Which side.
    #[cfg_attr(test, schemars(extend("enum" = ["front", "back"])))]
    side: &'static str,
    /// Its number.
    turn_pair: u32,
    /// Above the underarm.
    height_cm: Cm,
    /// The row of the body there, from the underarm up.
    body_row: u32,
    /// Rows of the body beside its two rows.
    body_rows: u32,
    /// By how many rows the sleeve's stripe lies too high; null where its colour never comes.
    rows_too_high: Option<i64>,
    /// True when both have one colour.
    same_colour: bool,
}

impl From<&Meeting> for MeetingJson {
    fn from(meeting: &Meeting) -> Self {
        Self {
            side: match meeting.flank {
                Flank::Front => "front",
                Flank::Back => "back",
            },
            turn_pair: meeting.pair,
            height_cm: Cm(meeting.height),
            body_row: meeting.body_row,
            body_rows: meeting.body_rows,
            rows_too_high: meeting.off,
            same_colour: meeting.alike,
        }
    }
}

/// Yarn of one colour.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct YarnJson<'a> {
    /// Its name.
    colour: &'a str,
    /// Its stitches.
    stitches: u64,
}

impl<'a> From<&'a (String, u64)> for YarnJson<'a> {
    fn from((colour, stitches): &'a (String, u64)) -> Self {
        Self {
            colour,
            stitches: *stitches,
        }
    }
}
