//! The pattern on the cap: which stitch of which row of the pattern lies on every stitch of every row.
//!
//! Columns are counted along the right-side row from the first stitch of the crown, which is 0: the second
//! flank lies below 0, the first one beyond the crown. Stitches that are decreased together share a column
//! (they are one stitch of the tube), so that the columns are those of the tube and nothing shifts at the
//! join. T turn pairs are rows 1 to 2T; row 2T + 1 runs on to the middle of the base, and round 1 is row
//! 2T + 2: the rows of the pattern go on through the join.

use super::chart::{Cell, Chart};
use super::codes::{OFF_CENTRE, PANEL, REPEAT_OPEN};
use super::pattern::{Drawn, PanelPlace, Pattern};
use super::table::Stitch;
use crate::diagnostic::{Diagnostic, Level};
use crate::plan::{CapPlan, FlankPlan, Going, Hand, Sleeve};

/// One row of the work, stitch by stitch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PatternRow {
    /// Its number: rows of the cap, then the first round.
    pub row: u32,
    /// True for a right-side row or a round.
    pub right_side: bool,
    /// The row of the ground's repeat, from 1.
    pub of_ground: u32,
    /// The row of each panel's chart, from 1, from right to left.
    pub of_panels: Vec<u32>,
    /// The stitch of the repeat, from 1, that the first stitch of the row is, in the order of the work.
    pub first: u32,
    /// The same of the last stitch of the row.
    pub last: u32,
    /// Stitches at its end that no row has worked before.
    pub new: u32,
    /// The stitches from right to left, seen from the right side.
    pub cells: Vec<Cell>,
    /// Edges of panels: so many stitches from its right end.
    pub edges: Vec<u32>,
}

impl PatternRow {
    /// True for the first round: it comes after the row that joins, a right-side row as well.
    pub fn is_round(&self) -> bool {
        self.right_side && self.row.is_multiple_of(2)
    }
}

/// A panel where it lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Its first column.
    pub from: i64,
    /// What the case calls it.
    pub name: String,
    /// Its chart; for the second of a pair the mirror image.
    pub drawn: Drawn,
}

impl Placed {
    /// One past its last column.
    pub fn to(&self) -> i64 {
        self.from + wide(&self.drawn.chart)
    }

    fn has(&self, column: i64) -> bool {
        (self.from..self.to()).contains(&column)
    }
}

/// A pattern laid on a cap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    ground: Drawn,
    /// Stitches of the crown.
    pub crown: u32,
    /// The stitch of the ground's repeat, from 0, on the first stitch of the crown.
    pub offset: usize,
    /// The panels, from right to left.
    pub panels: Vec<Placed>,
    /// The columns of every row of the cap and of the first round: first, one past the last, and the base
    /// stitches of the row that joins, which may lie a few columns on.
    rows: Vec<Spread>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Spread {
    from: i64,
    to: i64,
    /// Columns of the base, where it does not follow at once.
    base: (i64, i64),
    new: u32,
}

fn wide(chart: &Chart) -> i64 {
    i64::try_from(chart.width()).unwrap_or(i64::MAX)
}

/// Column of a repeat, from 0, at this distance from its first one.
fn around(at: i64, width: usize) -> usize {
    let width = i64::try_from(width.max(1)).unwrap_or(1);
    usize::try_from(at.rem_euclid(width)).unwrap_or(0)
}

impl Layout {
    /// Lays a pattern on a cap, as one sleeve and one hand meet it.
    ///
    /// # Errors
    /// Panels that do not lie on the crown or lie on one another.
    pub fn new(
        pattern: &Pattern,
        plan: &CapPlan,
        sleeve: Sleeve,
        hand: Hand,
    ) -> Result<(Self, Vec<Diagnostic>), Vec<Diagnostic>> {
        let pattern = &pattern.for_hand(hand);
        let going = Going::round(plan, sleeve, hand);
        let crown = plan.crown.stitches.count();
        let mut said = Vec::new();
        let mut layout = Self {
            ground: pattern.ground.clone(),
            crown,
            offset: offset(pattern, plan),
            panels: Vec::new(),
            rows: spreads(plan, &going),
        };
        let faults = layout.place(pattern, plan, &mut said);
        if !faults.is_empty() {
            return Err(faults);
        }
        said.extend(layout.open_repeat(plan, pattern));
        Ok((layout, said))
    }

    fn place(
        &mut self,
        pattern: &Pattern,
        plan: &CapPlan,
        said: &mut Vec<Diagnostic>,
    ) -> Vec<Diagnostic> {
        let mut faults = Vec::new();
        for panel in &pattern.panels {
            let width = panel.drawn.chart.width();
            let live = plan.crown.live.count();
            let room = match panel.place {
                PanelPlace::Saddle => live,
                PanelPlace::Crown | PanelPlace::FromCentre(_) => self.crown,
            };
            let fits = match panel.place {
                PanelPlace::FromCentre(n) => 2 * (u64::from(n) + width as u64) <= u64::from(room),
                _ => width as u64 <= u64::from(room),
            };
            if !fits {
                faults.push(too_wide(
                    &panel.name,
                    (width, panel.place),
                    room,
                    self.crown,
                ));
                continue;
            }
            let middle = i64::from(self.crown);
            let width = wide(&panel.drawn.chart);
            let placed = |from, drawn: &Drawn| Placed {
                from,
                name: panel.name.clone(),
                drawn: drawn.clone(),
            };
            match panel.place {
                PanelPlace::Crown => self.panels.push(placed((middle - width) / 2, &panel.drawn)),
                PanelPlace::Saddle => {
                    let before = i64::from((self.crown - live).div_ceil(2));
                    let from = before + (i64::from(live) - width) / 2;
                    self.panels.push(placed(from, &panel.drawn));
                }
                PanelPlace::FromCentre(n) => {
                    let n = i64::from(n);
                    let mirrored = Drawn {
                        chart: panel.drawn.chart.mirrored(),
                        ..panel.drawn.clone()
                    };
                    let right = (middle + 1) / 2 - n - width;
                    self.panels.push(placed(right, &mirrored));
                    self.panels.push(placed(middle / 2 + n, &panel.drawn));
                }
            }
            let centred = !matches!(panel.place, PanelPlace::FromCentre(_));
            if centred && (i64::from(room) - width) % 2 != 0 {
                let before = (i64::from(room) - width) / 2;
                let after = i64::from(room) - width - before;
                let message = format!(
                    "The panel \"{}\" has {width} sts on {room}: it lies half a stitch off the middle, with {before} sts before it in the order of the pick-up and {after} after it.",
                    panel.name
                );
                said.push(Diagnostic::new(&OFF_CENTRE, message).about(key_of(&panel.name)));
            }
        }
        self.panels.sort_by_key(|panel| panel.from);
        faults.extend(self.overlaps());
        faults
    }

    fn overlaps(&self) -> Vec<Diagnostic> {
        let pairs = self.panels.iter().zip(self.panels.iter().skip(1));
        let over = pairs.filter(|(a, b)| b.from < a.to());
        let said = over.map(|(a, b)| {
            let message = format!(
                "The panels \"{}\" and \"{}\" share {} sts.",
                a.name,
                b.name,
                (a.to() - b.from).min(wide(&b.drawn.chart))
            );
            Diagnostic::new(&PANEL, message).about(key_of(&b.name))
        });
        said.collect()
    }

    /// Where a part of a repeat stands at the underarm.
    fn open_repeat(&self, plan: &CapPlan, pattern: &Pattern) -> Option<Diagnostic> {
        let width = u32::try_from(self.ground.chart.width()).unwrap_or(u32::MAX);
        let round = plan.upper_arm().count();
        let over = round % width;
        if over == 0 {
            return None;
        }
        let (message, next) = if round < width {
            (
                format!(
                    "The {} is {width} sts wide and the upper arm has {round}: its last {} are never worked, and it breaks at the underarm.",
                    pattern.name,
                    width - round
                ),
                "Draw a chart no wider than the upper arm, or leave it: it lies under the arm."
                    .to_owned(),
            )
        } else {
            (
                format!(
                    "The upper arm of {round} sts is {} of {width} sts and {over} more: the {} breaks at the underarm.",
                    match round / width {
                        1 => "1 repeat".to_owned(),
                        n => format!("{n} repeats"),
                    },
                    pattern.name
                ),
                format!(
                    "Write repeat = {{ multiple = {width} }} under [sleeve] for whole repeats, or leave it: it lies under the arm."
                ),
            )
        };
        let rib = self.ground.chart.is_rib();
        let level = if rib { Level::Note } else { Level::Warning };
        Some(
            Diagnostic::new(&REPEAT_OPEN, message)
                .about("stitch")
                .level(level)
                .next(next),
        )
    }

    /// True where the pattern leaps in the row that joins: the stitches that the first round makes at the corner, and
    /// their columns, are not there yet.
    pub fn leaps_at_join(&self) -> bool {
        self.rows.iter().any(|spread| spread.base.1 > spread.base.0)
    }

    /// The chart of the ground as it is worked.
    pub fn ground(&self) -> &Drawn {
        &self.ground
    }

    /// The stitches of the charts as they are worked, and plain ones for what is cut at a turn; each once.
    pub fn stitches(&self) -> Vec<Stitch> {
        let panels = self.panels.iter().map(|panel| &panel.drawn.chart);
        let charts = std::iter::once(&self.ground.chart).chain(panels);
        let mut all: Vec<Stitch> = charts
            .flat_map(Chart::stitches)
            .chain([Stitch::Knit])
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Every row of the cap, then the first round.
    pub fn rows(&self) -> Vec<PatternRow> {
        let numbers = 1..=u32::try_from(self.rows.len()).unwrap_or(u32::MAX);
        numbers
            .zip(&self.rows)
            .map(|(row, spread)| self.row(row, spread))
            .collect()
    }

    /// The columns of every row of the cap and of the first round: the first and one past the last.
    pub fn spans(&self) -> Vec<(i64, i64)> {
        self.rows
            .iter()
            .map(|spread| (spread.from, spread.to))
            .collect()
    }

    /// The columns of every row of the cap and of the first round, in the order of [`PatternRow::cells`].
    pub fn columns(&self) -> Vec<Vec<i64>> {
        let of = |spread: &Spread| {
            let base = spread.base.0..spread.base.1;
            (spread.from..spread.to).chain(base).collect()
        };
        self.rows.iter().map(of).collect()
    }

    fn row(&self, row: u32, spread: &Spread) -> PatternRow {
        let round = row as usize == self.rows.len();
        let right_side = round || row % 2 == 1;
        let cells = |(from, to): (i64, i64)| {
            (from..to).map(move |column| self.cell(row, column, (from, to)))
        };
        let mut all: Vec<Cell> = cells((spread.from, spread.to)).collect();
        all.extend(cells(spread.base));
        let last = if spread.base.1 > spread.base.0 {
            spread.base.1 - 1
        } else {
            spread.to - 1
        };
        let ends = [spread.from, last].map(|column| self.number(column));
        let [first, last] = if right_side { ends } else { [ends[1], ends[0]] };
        PatternRow {
            row,
            right_side,
            of_ground: self.ground_row(row),
            of_panels: self
                .panels
                .iter()
                .map(|panel| small(panel.drawn.row_at(row)) + 1)
                .collect(),
            first,
            last,
            new: spread.new,
            cells: all,
            edges: self.edges(spread),
        }
    }

    /// The stitch of the ground's repeat, from 1, in this column.
    pub fn number(&self, column: i64) -> u32 {
        small(self.in_ground(column)) + 1
    }

    /// The row of the ground's repeat, from 1, in this row of the work.
    pub(super) fn ground_row(&self, row: u32) -> u32 {
        small(self.ground.row_at(row)) + 1
    }

    fn in_ground(&self, column: i64) -> usize {
        let offset = i64::try_from(self.offset).unwrap_or(0);
        around(column + offset, self.ground.chart.width())
    }

    fn edges(&self, spread: &Spread) -> Vec<u32> {
        let both = self
            .panels
            .iter()
            .flat_map(|panel| [panel.from, panel.to()]);
        // Where the row runs on over the base, the end of the flank lies inside it.
        let runs_on = spread.base.1 > spread.base.0;
        let inside =
            both.filter(|at| spread.from < *at && (*at < spread.to || runs_on && *at == spread.to));
        let mut edges: Vec<u32> = inside
            .map(|at| u32::try_from(at - spread.from).unwrap_or(u32::MAX))
            .collect();
        edges.dedup();
        edges
    }

    /// What lies in this column of a row that spans these columns: what the chart has there, or a plain
    /// stitch where it would be a part of something.
    pub(super) fn cell(&self, row: u32, column: i64, span: (i64, i64)) -> Cell {
        let inside = |from: i64, to: i64| span.0 <= from && to <= span.1;
        if let Some(panel) = self.panels.iter().find(|panel| panel.has(column)) {
            let at = around(column - panel.from, panel.drawn.chart.width());
            let cell = panel.drawn.chart.cell(panel.drawn.row_at(row), at);
            return whole_or_plain(cell, column, (panel.from, panel.to()), inside);
        }
        let at = self.in_ground(column);
        let cell = self.ground.chart.cell(self.ground.row_at(row), at);
        let from = column - i64::try_from(at).unwrap_or(0);
        let free = |from: i64, to: i64| {
            inside(from, to)
                && !self
                    .panels
                    .iter()
                    .any(|panel| panel.from < to && from < panel.to())
        };
        whole_or_plain(cell, column, (from, from + wide(&self.ground.chart)), free)
    }
}

/// A crossing needs all its stitches, an increase its decrease, wherever in the repeat that stands.
fn whole_or_plain(
    cell: Cell,
    column: i64,
    repeat: (i64, i64),
    is_there: impl Fn(i64, i64) -> bool,
) -> Cell {
    let wide = i64::try_from(cell.stitch.width()).unwrap_or(i64::MAX);
    let from = column - i64::try_from(cell.part).unwrap_or(0);
    let whole = if cell.stitch.keeps_count() {
        is_there(from, from + wide)
    } else {
        is_there(repeat.0, repeat.1)
    };
    if whole { cell } else { Cell::of(Stitch::Knit) }
}

fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

fn too_wide(name: &str, (width, place): (usize, PanelPlace), room: u32, crown: u32) -> Diagnostic {
    let on = match place {
        PanelPlace::Saddle if room == 0 => "no stitches of a saddle are live".to_owned(),
        PanelPlace::Saddle => format!("the saddle has {room} live sts"),
        PanelPlace::Crown | PanelPlace::FromCentre(_) => format!("the crown has {room} sts"),
    };
    let twice = match place {
        PanelPlace::FromCentre(n) => format!(" on either side, {n} from the middle"),
        _ => String::new(),
    };
    let message = format!("The panel \"{name}\" is {width} sts wide{twice}, but {on}.");
    let said = Diagnostic::new(&PANEL, message).about(key_of(name));
    // A wider crown gives a saddle no live stitch more.
    match place {
        PanelPlace::Saddle if width as u64 <= u64::from(crown) => said.next(format!(
            "Write at = \"crown\": the crown has {crown} sts; or make the panel narrower."
        )),
        PanelPlace::Saddle => said.next(format!(
            "Make the panel narrower: the whole crown has {crown} sts."
        )),
        PanelPlace::Crown | PanelPlace::FromCentre(_) => said,
    }
}

/// The key of a panel in its case.
fn key_of(panel: &str) -> String {
    format!("stitch.panels.{panel}")
}

/// The columns of every row.
fn spreads(plan: &CapPlan, going: &Going<'_>) -> Vec<Spread> {
    let crown = i64::from(plan.crown.stitches.count());
    let widths = |flank: &FlankPlan| -> Vec<u32> {
        let each = flank.moves.iter().map(|m| m.widens().count());
        std::iter::once(0).chain(each).collect()
    };
    let mut rows = Vec::new();
    let (mut first, mut second) = (0, 0);
    let spread = |second: i64, first: i64, new| Spread {
        from: -second,
        to: crown + first,
        base: (0, 0),
        new,
    };
    for (more, other) in widths(going.first).into_iter().zip(widths(going.second)) {
        first += i64::from(more);
        rows.push(spread(second, first, more));
        second += i64::from(other);
        rows.push(spread(second, first, other));
    }
    let [leaving, coming] = going.corners.map(|corner| i64::from(corner.change));
    let before = i64::from(going.base_before.count());
    let after = i64::from(going.base_after.count());
    let end = crown + first + coming;
    let joined = Spread {
        base: (end, end + before),
        ..spread(second, first, going.base_before.count())
    };
    // Where nothing is made at the corner the base goes on from the flank.
    rows.push(if coming == 0 {
        Spread {
            to: end + before,
            base: (0, 0),
            ..joined
        }
    } else {
        joined
    });
    rows.push(Spread {
        from: -(second + leaving + after),
        to: end + before,
        base: (0, 0),
        new: 0,
    });
    rows
}

/// The stitch of the repeat on the first stitch of the crown.
///
/// The case says which, on the first stitch of the crown or of a saddle; otherwise the one with which the
/// crown is most nearly its own mirror image, and of several the one with the repeat's own middle nearest
/// to the crown's.
fn offset(pattern: &Pattern, plan: &CapPlan) -> usize {
    let chart = &pattern.ground.chart;
    let width = chart.width();
    let (crown, live) = (plan.crown.stitches.count(), plan.crown.live.count());
    if let Some(first) = pattern.first_stitch {
        let before = if live > 0 {
            (crown - live.min(crown)).div_ceil(2)
        } else {
            0
        };
        let first = i64::try_from(first).unwrap_or(0);
        return around(first - i64::from(before), width);
    }
    let crown = crown as usize;
    let mirror = chart.mirrored();
    let best = |offset: &usize| {
        let off = off_middle(width, *offset, crown);
        (unlike(chart, &mirror, *offset, crown), off, *offset)
    };
    (0..width).min_by_key(best).unwrap_or(0)
}

/// Squares of the chart that differ from those on the other side of the crown's middle.
fn unlike(chart: &Chart, mirror: &Chart, offset: usize, crown: usize) -> usize {
    let width = chart.width();
    // Column x of the mirror image is column width - 1 - x of the chart.
    let opposite = |x: usize| {
        let there = small_signed(offset + crown) - 1 - small_signed(x);
        width - 1 - around(there, width)
    };
    let pairs = (0..chart.height()).flat_map(|row| (0..width).map(move |x| (row, x)));
    let differ =
        |(row, x): &(usize, usize)| chart.cell(*row, offset + x) != mirror.cell(*row, opposite(*x));
    pairs.filter(differ).count()
}

/// Half stitches from the middle of a repeat to the middle of the crown.
fn off_middle(width: usize, offset: usize, crown: usize) -> usize {
    let twice = 2 * width;
    let at = (2 * offset + crown + twice - 1) % twice;
    let away = at.abs_diff(width - 1);
    away.min(twice - away)
}

fn small_signed(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}
