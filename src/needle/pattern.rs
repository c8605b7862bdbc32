//! Knitting in pattern: every row has the stitches that lie on the needle, and every stitch is the chart's.
//!
//! The charts are read from the text too, so that a changed stitch or a row off by one is noticed without
//! the plan: column by column a row must be what the repeat and the panels have there. Where a part of a
//! repeat lies at a turn or beside a panel, a plain stitch may stand for what would not be whole.

use std::ops::Range;

use super::codes;
use super::knitted::ToldChart;
use super::knitter::Knitter;
use super::machine::Slip;
use super::said::{BaseSaid, ChartSaid, PatternSaid, RowSaid};
use crate::measure::Side;
use crate::plan::NeedleRow;
use crate::stitch::{Cell, MOST_PANELS, PatternRow, Stitch};

impl Knitter<'_> {
    pub(crate) fn pattern(&mut self, said: &PatternSaid) -> Result<(), Slip> {
        match said {
            PatternSaid::Chart(chart) => self.chart(chart),
            PatternSaid::ChartRow {
                panel,
                row,
                stitches,
            } => self.chart_row(*panel, *row, stitches),
            PatternSaid::PanelLies { panel, first, last } => {
                self.check_panel_lies(*panel, *first, *last);
                Ok(())
            }
            PatternSaid::Row(row) => self.row_in_pattern(row),
        }
    }

    fn chart(&mut self, said: &ChartSaid) -> Result<(), Slip> {
        let number = u32::try_from(self.out.charts.len()).unwrap_or(u32::MAX);
        if said.panel.unwrap_or(0) != number || !self.out.pattern.is_empty() {
            return Err(Slip::new(
                &codes::ORDER,
                "the charts come before the rows, the repeat first, then the panels by their numbers",
            ));
        }
        if self.out.charts.len() > MOST_PANELS {
            let message = format!("a sleeve has {MOST_PANELS} panels at the most");
            return Err(Slip::new(&codes::IMPOSSIBLE, message));
        }
        self.check_chart_ended();
        self.out.charts.push(ToldChart {
            first_stitch: said.first_stitch,
            first_row: said.first_row,
            width: said.width,
            height: said.height,
            rows: Vec::new(),
        });
        Ok(())
    }

    /// The chart told last has all its rows.
    fn check_chart_ended(&mut self) {
        let short = self
            .out
            .charts
            .last()
            .filter(|chart| chart.rows.len() != chart.height as usize);
        if let Some(chart) = short {
            let message = format!(
                "the chart before this has {} rows, not {}",
                chart.rows.len(),
                chart.height
            );
            self.say(&codes::COUNT, &message);
        }
    }

    fn chart_row(&mut self, panel: Option<u32>, row: u32, stitches: &[Stitch]) -> Result<(), Slip> {
        let last = self.out.charts.len().checked_sub(1);
        let chart = self.out.charts.last_mut();
        let next = chart.as_ref().map_or(0, |chart| chart.rows.len() + 1);
        let Some(chart) =
            chart.filter(|_| last == Some(panel.unwrap_or(0) as usize) && next == row as usize)
        else {
            return Err(Slip::new(
                &codes::ORDER,
                "a row of a chart that does not come here",
            ));
        };
        let cells = cells_of(stitches);
        let (width, found) = (chart.width, cells.len());
        chart.rows.push(cells);
        if found != width as usize {
            self.say(
                &codes::COUNT,
                &format!("the row has {found} sts, the chart {width}"),
            );
        }
        Ok(())
    }

    /// Rows that are told by the charts name no stitch of a panel: its place is told twice instead.
    fn check_panel_lies(&mut self, panel: u32, first: u32, last: u32) {
        let told = self.out.charts.get(panel as usize).filter(|_| panel > 0);
        let columns = told.map(ToldChart::columns);
        if columns != Some(i64::from(first) - 1..i64::from(last)) {
            let message = format!("panel {panel} does not lie on crown sts {first} to {last}");
            self.say(&codes::COUNT, &message);
        }
    }

    fn row_in_pattern(&mut self, said: &RowSaid) -> Result<(), Slip> {
        if self.out.pattern.is_empty() {
            self.check_chart_ended();
        }
        let row = u32::try_from(self.out.pattern.len())
            .unwrap_or(u32::MAX)
            .saturating_add(1);
        let at = self.row_there(row);
        let is_round = row == self.join_row + 1;
        let side = if at.as_ref().is_some_and(|at| !at.right_side) {
            Side::Ws
        } else {
            Side::Rs
        };
        if !self.joined
            || said.number != (!is_round).then_some(row)
            || said.side != side
            || (at.is_none() && !is_round)
        {
            return Err(Slip::new(
                &codes::ORDER,
                format!("row {row} ({side}) of the cap should be told here in pattern"),
            ));
        }
        let told = match said.by_chart {
            Some(counts) => self.by_chart(row, said, counts, at.as_ref()),
            None => self.told(row, said),
        };
        self.check_counts(&told, at.as_ref());
        self.check_takes(&told);
        self.check_places(&told, said);
        self.check_cells(&told, at.as_ref());
        self.out.pattern.push(told);
        Ok(())
    }

    /// The needle after this row.
    fn row_there(&self, row: u32) -> Option<NeedleRow> {
        self.out
            .needle_rows
            .iter()
            .find(|at| at.row == row)
            .cloned()
    }

    fn told(&self, row: u32, said: &RowSaid) -> PatternRow {
        let right_side = said.side == Side::Rs;
        let mut stitches = said.stitches.clone();
        let mut edges = said.edges.clone();
        let mut of_panels = said.of_panels.clone();
        let count: usize = stitches.iter().map(|stitch| stitch.width()).sum();
        let count = u32::try_from(count).unwrap_or(u32::MAX);
        let panels = self.out.charts.len().saturating_sub(1);
        if let ([one], true) = (of_panels.as_slice(), panels > 1) {
            of_panels = vec![*one; panels];
        }
        if !right_side {
            stitches.reverse();
            edges = edges
                .iter()
                .rev()
                .map(|edge| count.saturating_sub(*edge))
                .collect();
            of_panels.reverse();
        }
        let (first, last) = said.ends.unwrap_or((1, 1));
        PatternRow {
            row,
            right_side,
            of_ground: said.of_ground.unwrap_or(1),
            of_panels,
            first,
            last,
            new: said.new,
            cells: cells_of(&stitches),
            edges,
        }
    }

    /// What a row is that names its places on the charts and no stitch: what the charts have there. Where the flank
    /// ends and the base begins is checked at once, the rest as of any row.
    fn by_chart(
        &mut self,
        row: u32,
        said: &RowSaid,
        (own, base): (u32, Option<BaseSaid>),
        at: Option<&NeedleRow>,
    ) -> PatternRow {
        let told = self.told(row, said);
        let on_base = base.map_or(0, |base| base.stitches);
        let stretches = self.columns(row, i64::from(own) + i64::from(on_base), at);
        let columns = along(&stretches);
        let Some(charts) = Charts::of(&self.out.charts) else {
            return told;
        };
        let cell = |(column, stretch): &(i64, &Range<i64>)| charts.worked(row, *column, stretch);
        let cells = columns
            .iter()
            .map(|at| cell(at).unwrap_or(Cell::of(Stitch::Knit)));
        let number = |place: usize| {
            columns
                .get(place)
                .map_or(1, |(column, _)| charts.number(*column))
        };
        let corner =
            (base.is_some() && own > 0).then(|| [own - 1, own].map(|place| number(place as usize)));
        let found = PatternRow {
            cells: cells.collect(),
            edges: charts.edges(&stretches),
            new: self.new_in(row, at).unwrap_or(0),
            last: base
                .and_then(|base| base.ends)
                .map_or(told.last, |ends| ends.1),
            ..told
        };
        let ends = said.ends.zip(base.and_then(|base| base.ends));
        let named = ends.map(|((_, flank), (base, _))| [flank, base].map(i64::from));
        if corner != base.map(|_| named.unwrap_or([1, 1])) {
            let message = format!(
                "row {row} has sts {corner:?} of the repeat where the base begins, not {named:?}"
            );
            self.say(&codes::COUNT, &message);
        }
        let joins = if row == self.join_row {
            self.out.base_before.count()
        } else {
            0
        };
        if joins != on_base {
            let message = format!("row {row} has {joins} base sts, not {on_base}");
            self.say(&codes::COUNT, &message);
        }
        found
    }

    /// The stitches that no row before this one has worked; none for the first row and the round.
    fn new_in(&self, row: u32, at: Option<&NeedleRow>) -> Option<u32> {
        let before = row.checked_sub(1).and_then(|row| self.row_there(row))?;
        Some(at?.worked.saturating_sub(before.worked).count())
    }

    /// As many stitches as the row has, and as many new ones.
    fn check_counts(&mut self, told: &PatternRow, at: Option<&NeedleRow>) {
        let found = at.map_or(self.out.upper_arm.count(), |at| at.worked.count());
        let has = told.cells.len();
        if has != found as usize {
            self.say(
                &codes::COUNT,
                &format!("row {} has {found} sts, not {has}", told.row),
            );
        }
        match self.new_in(told.row, at) {
            Some(new) if new != told.new => {
                let message = format!("row {} works {new} new sts, not {}", told.row, told.new);
                self.say(&codes::COUNT, &message);
            }
            None if told.new > 0 => self.say(&codes::COUNT, "no st of this row is new"),
            _ => {}
        }
    }

    fn check_takes(&mut self, told: &PatternRow) {
        let stitches = told.cells.iter().filter(|cell| cell.part == 0);
        let takes: u32 = stitches.map(|cell| cell.stitch.takes()).sum();
        if takes as usize != told.cells.len() {
            let message = format!(
                "row {} works {takes} sts into {}",
                told.row,
                told.cells.len()
            );
            self.say(&codes::COUNT, &message);
        }
    }

    /// The rows and the stitches of the charts that the row names.
    fn check_places(&mut self, told: &PatternRow, said: &RowSaid) {
        let rows: Vec<u32> = self
            .out
            .charts
            .iter()
            .map(|chart| chart.row_at(told.row) + 1)
            .collect();
        let named = std::iter::once(told.of_ground).chain(told.of_panels.iter().copied());
        let named: Vec<u32> = named.collect();
        let needed = self
            .out
            .charts
            .first()
            .is_some_and(|chart| chart.height > 1);
        if rows != named || needed != said.of_ground.is_some() {
            let message = format!(
                "row {} of the cap is on rows {rows:?} of the charts, not on {named:?}",
                told.row
            );
            self.say(&codes::COUNT, &message);
        }
    }

    /// Column by column what the charts have there, and where the row begins and ends on them.
    fn check_cells(&mut self, told: &PatternRow, at: Option<&NeedleRow>) {
        let length = i64::try_from(told.cells.len()).unwrap_or(i64::MAX);
        let stretches = self.columns(told.row, length, at);
        let Some(charts) = Charts::of(&self.out.charts) else {
            self.say(&codes::ORDER, "no chart is told before the rows");
            return;
        };
        let columns = along(&stretches);
        let ends = [columns.first(), columns.last()];
        let mut ends = ends.map(|end| end.map_or(1, |(column, _)| charts.number(*column)));
        if !told.right_side {
            ends.reverse();
        }
        let edges = charts.edges(&stretches);
        let wrong = columns
            .iter()
            .zip(&told.cells)
            .find_map(|((column, stretch), cell)| {
                let (expected, whole) = charts.cell(told.row, *column, stretch);
                let may_be_plain = expected.is_some_and(|e| e.stitch.wants_right_side() && !whole);
                let plain = may_be_plain && cell.stitch == Stitch::Knit;
                (expected != Some(*cell) && !plain).then_some((*column, expected, cell.stitch))
            });
        if ends != [i64::from(told.first), i64::from(told.last)] {
            let message = format!(
                "row {} goes from st {} to st {} of the repeat, not from {} to {}",
                told.row, ends[0], ends[1], told.first, told.last
            );
            self.say(&codes::COUNT, &message);
        }
        if edges != told.edges {
            self.say(
                &codes::COUNT,
                "the markers do not lie at the edges of the panels",
            );
        }
        if let Some((column, expected, found)) = wrong {
            let chart =
                expected.map_or_else(|| "nothing".to_owned(), |cell| cell.stitch.to_string());
            let message = format!(
                "row {}: the chart has {chart} on st {} of the crown, counted along an RS row, not {found}",
                told.row,
                column + 1
            );
            self.say(&codes::NOT_THE_CHART, &message);
        }
    }

    /// Where the stitches of a row lie, counted from the first crown stitch along an RS row. The stitches
    /// made or decreased at a corner lie between flank and base from the start: then there are two stretches.
    fn columns(&self, row: u32, length: i64, at: Option<&NeedleRow>) -> [Range<i64>; 2] {
        let [leaving, coming] = self.out.corners.map(|corner| i64::from(corner.change));
        let second = self.added_on_ws(row);
        let Some(at) = at else {
            let from = -(second + leaving + i64::from(self.out.base_after.count()));
            return [from..from + length, 0..0];
        };
        let end = length - second;
        if at.row != self.join_row || coming == 0 {
            return [-second..end, 0..0];
        }
        let flank_end = end - i64::from(self.out.base_before.count());
        [-second..flank_end, flank_end + coming..end + coming]
    }

    /// Stitches that wrong-side rows have added up to this row.
    fn added_on_ws(&self, row: u32) -> i64 {
        let pairs = self
            .out
            .needle_rows
            .iter()
            .zip(self.out.needle_rows.iter().skip(1));
        let ws = pairs.filter(|(_, at)| at.row <= row && !at.right_side);
        ws.map(|(before, at)| i64::from(at.worked.saturating_sub(before.worked).count()))
            .sum()
    }

    /// Where any row is told in pattern, all are.
    pub(super) fn check_pattern_ended(&mut self) {
        let rows = self.out.pattern.len();
        if self.out.charts.is_empty() && rows == 0 {
            return;
        }
        let all = self.join_row + 1;
        if rows != all as usize {
            let message = format!(
                "{rows} rows are told in pattern, but the cap and the first round are {all}"
            );
            self.say(&codes::ORDER, &message);
        }
    }
}

/// The charts as the text has told them.
struct Charts<'a> {
    ground: &'a ToldChart,
    panels: &'a [ToldChart],
}

/// The columns of these stretches, each with the one it lies in.
fn along(stretches: &[Range<i64>; 2]) -> Vec<(i64, &Range<i64>)> {
    let columns = stretches
        .iter()
        .map(|stretch| stretch.clone().map(move |column| (column, stretch)));
    columns.flatten().collect()
}

impl<'a> Charts<'a> {
    /// None before the repeat is told.
    fn of(charts: &'a [ToldChart]) -> Option<Self> {
        let (ground, panels) = charts.split_first()?;
        Some(Self { ground, panels })
    }

    /// The stitch of the ground's repeat, from 1, in this column.
    fn number(&self, column: i64) -> i64 {
        let place = column + i64::from(self.ground.first_stitch) - 1;
        place.rem_euclid(i64::from(self.ground.width.max(1))) + 1
    }

    fn panel_at(&self, column: i64) -> Option<&ToldChart> {
        self.panels
            .iter()
            .find(|panel| panel.columns().contains(&column))
    }

    /// What lies in this column of a row, and whether the repeat it belongs to is whole in its stretch.
    fn cell(&self, row: u32, column: i64, stretch: &Range<i64>) -> (Option<Cell>, bool) {
        let inside =
            |repeat: &Range<i64>| stretch.start <= repeat.start && repeat.end <= stretch.end;
        if let Some(panel) = self.panel_at(column) {
            let repeat = panel.columns();
            return (panel.cell(row, column - repeat.start), inside(&repeat));
        }
        let place = self.number(column) - 1;
        let mut repeat = column - place..column - place + i64::from(self.ground.width);
        let whole = inside(&repeat) && repeat.all(|column| self.panel_at(column).is_none());
        (self.ground.cell(row, place), whole)
    }

    /// What is worked in this column: a plain stitch where not all of a crossing is there, or an increase without its
    /// decrease.
    fn worked(&self, row: u32, column: i64, stretch: &Range<i64>) -> Option<Cell> {
        let (cell, whole) = self.cell(row, column, stretch);
        let cell = cell?;
        let from = column - i64::try_from(cell.part).ok()?;
        let mut own = from..from + i64::try_from(cell.stitch.width()).ok()?;
        let inside = stretch.start <= own.start && own.end <= stretch.end;
        let panel = |column| self.panel_at(column).map(|panel| panel.first_stitch);
        let there = inside && own.all(|other| panel(other) == panel(column));
        let is_whole = if cell.stitch.keeps_count() {
            there
        } else {
            whole
        };
        Some(if is_whole {
            cell
        } else {
            Cell::of(Stitch::Knit)
        })
    }

    /// Edges of panels, by the number of stitches before each: those within the row, and one where the flank ends and the
    /// row runs on over a base that lies elsewhere on the charts.
    fn edges(&self, [cap, base]: &[Range<i64>; 2]) -> Vec<u32> {
        let from = cap.start;
        let panels = self.panels.iter().map(ToldChart::columns);
        let mut edges: Vec<i64> = panels
            .flat_map(|columns| [columns.start, columns.end])
            .filter(|edge| {
                from < *edge && (*edge < cap.end || *edge == cap.end && !base.is_empty())
            })
            .collect();
        edges.sort_unstable();
        edges.dedup();
        edges
            .into_iter()
            .filter_map(|edge| u32::try_from(edge - from).ok())
            .collect()
    }
}

/// The squares of these stitches, from the right.
fn cells_of(stitches: &[Stitch]) -> Vec<Cell> {
    let parts = |stitch: &Stitch| {
        let stitch = *stitch;
        (0..stitch.width()).map(move |part| Cell { stitch, part })
    };
    stitches.iter().flat_map(parts).collect()
}
