//! The cap as a chart: every stitch of every row a square, as the knitter has it before her, the needle at
//! the top. Once whole and in true proportion, once in squares, in pieces that a page can hold.

use std::ops::Range;

use super::chart_grid::{Grid, NUMBERS, PenLines, SQUARE, legend, square};
use super::chart_repeat::repeats;
use super::chart_tube::tube;
use super::sheet::{
    BELOW_HEADING, INK, MARGIN, MarkKind, NEW, NEW_FILL, Pen, PointMark, SMALL, Sheet, TextSet,
    WIDTH,
};
use super::{Figure, Of, chart_grid};
use crate::convert::{Patterned, Written};
use crate::plan::Hand;
use crate::stitch::{PatternRow, Stitch};

/// Columns and rows of a piece at the most, and how many of them the next one shows again.
const COLUMNS: i64 = 32;
const ROWS: usize = 36;
const AGAIN: i64 = 4;
/// Height of the squares of a piece, which with its legend goes on a page.
const TALL: f64 = 620.0;

const MARKER: Pen = Pen::new(INK, 1.8, "2 3");
const PANEL: Pen = Pen::new(INK, 1.8, "");
const BOX: Pen = Pen::new(NEW, 3.0, "");

/// The charts of a size: whole, in pieces, and the repeats; none where the case tells no pattern.
pub(super) fn charts(of: &Of<'_>) -> Vec<Figure> {
    let Some((written, pattern)) = of.written().and_then(|w| Some((w, w.pattern.as_ref()?))) else {
        return Vec::new();
    };
    let cap = CapChart::new(of, written, pattern);
    let mut figures = vec![cap.whole()];
    figures.extend(cap.pieces());
    figures.extend(tube(of, pattern));
    figures.extend(repeats(of));
    figures
}

/// Columns and rows of a piece.
type ChartPiece = (Range<i64>, Range<usize>);

/// What the charts of a cap are drawn from.
struct CapChart<'a> {
    of: &'a Of<'a>,
    written: &'a Written,
    pattern: &'a Patterned,
    rows: Vec<PatternRow>,
    columns: Vec<Vec<i64>>,
    flipped: bool,
}

impl<'a> CapChart<'a> {
    fn new(of: &'a Of<'a>, written: &'a Written, pattern: &'a Patterned) -> Self {
        Self {
            of,
            written,
            pattern,
            rows: pattern.layout.rows(),
            columns: pattern.layout.columns(),
            flipped: of.case.style.hand == Hand::Left,
        }
    }

    /// All columns: those of the first round and of the row that joins.
    fn all(&self) -> Range<i64> {
        let columns = || self.columns.iter().flatten();
        let from = columns().min().copied().unwrap_or(0);
        from..columns().max().map_or(1, |last| last + 1)
    }

    /// The whole cap in true proportion.
    fn whole(&self) -> Figure {
        let all = self.all();
        let wide = (WIDTH - 2.0 * (MARGIN + NUMBERS)) / (all.end - all.start).max(1) as f64;
        let gauge = self.of.size.gauge.cap;
        let high = wide * (gauge.row_height().to_cm() / gauge.stitch_width().to_cm());
        let mut sheet = Sheet::default();
        let top = self.keys(&mut sheet, BELOW_HEADING + 14.0) + 22.0;
        let grid = self.grid(&all, 0..self.rows.len(), (wide, high), top);
        self.draw(&mut sheet, &grid, self.rows.len());
        let end = self.names(&mut sheet, &grid);
        let end = legend(&mut sheet, &self.stitches(), self.flipped, end + 30.0);
        let words = format!(
            "{} rows of the cap and round 1, drawn with the needle at the top; turn it round to see it as it is worn. Every stitch is a cell in the proportion of the cap's gauge. {}",
            self.rows.len().saturating_sub(1),
            self.pattern.words.about.join(" ")
        );
        let k = wide / gauge.stitch_width().to_cm();
        let about = self
            .of
            .about_one_sleeve("cap-chart", "The cap as a chart", words, Some(k));
        sheet.finish(about, end)
    }

    fn grid(
        &self,
        columns: &Range<i64>,
        rows: Range<usize>,
        (wide, high): (f64, f64),
        top: f64,
    ) -> Grid {
        let across = wide * (columns.end - columns.start) as f64;
        Grid {
            left: (WIDTH - across) / 2.0,
            bottom: top + high * rows.len() as f64,
            wide,
            high,
            from: columns.start,
            to: columns.end,
            row: rows.start,
            flipped: self.flipped,
        }
    }

    /// Squares, as many to a piece as can be read; neighbours share some columns and rows.
    fn pieces(&self) -> Vec<Figure> {
        let mut pieces = Vec::new();
        for rows in cut(
            0..i64::try_from(self.rows.len()).unwrap_or(0),
            i64::try_from(ROWS).unwrap_or(1),
        ) {
            for columns in cut(self.all(), COLUMNS) {
                let rows = usize::try_from(rows.start).unwrap_or(0)
                    ..usize::try_from(rows.end).unwrap_or(0);
                let holds = rows.clone().any(|row| {
                    self.columns
                        .get(row)
                        .is_some_and(|there| there.iter().any(|c| columns.contains(c)))
                });
                if holds {
                    pieces.push((columns, rows));
                }
            }
        }
        let numbers = 1..=pieces.len();
        numbers.map(|number| self.piece(&pieces, number)).collect()
    }

    fn piece(&self, pieces: &[ChartPiece], number: usize) -> Figure {
        let of = pieces.len();
        let here = pieces.get(number - 1).cloned();
        let (columns, rows) = here.unwrap_or((0..1, 0..0));
        let across = (columns.end - columns.start).max(1) as f64;
        let fits = (WIDTH - 2.0 * (MARGIN + NUMBERS)) / across;
        let square = fits
            .min(TALL / rows.len().max(1) as f64)
            .clamp(SQUARE, 24.0);
        let mut sheet = Sheet::default();
        let top = self.keys(&mut sheet, BELOW_HEADING + 14.0) + 24.0;
        let grid = self.grid(&columns, rows.clone(), (square, square), top);
        self.draw(&mut sheet, &grid, rows.end);
        let end = grid.bottom + 12.0;
        let end = legend(&mut sheet, &self.stitches(), self.flipped, end + 30.0);
        let row = |at: usize| self.rows.get(at).map(row_name).unwrap_or_default();
        let words = format!(
            "Piece {number} of {of}, {}: {} to {}, columns {} to {} counted from the first crown stitch along an RS row.{}",
            self.parts(&columns),
            row(rows.start),
            row(rows.end.saturating_sub(1)),
            columns.start + 1,
            columns.end,
            self.neighbours(pieces, number)
        );
        let mut about =
            self.of
                .about_one_sleeve("chart-piece", "Chart of the cap, in squares", words, None);
        if of > 1 {
            about.subject = format!(
                "piece {number} of {of}, {}: {}",
                self.parts(&columns),
                about.subject
            );
        }
        about.place = format!("{}-{number}", about.place);
        sheet.finish(about, end)
    }

    /// The parts of the cap that these columns lie in, from the right: `back flank, crown`.
    fn parts(&self, columns: &Range<i64>) -> String {
        let list = &self.written.checklist;
        let crown = i64::from(self.pattern.layout.crown);
        let all = [
            (list.second, columns.start < 0),
            ("crown", columns.start < crown && columns.end > 0),
            (list.first, columns.end > crown),
        ];
        let mut here: Vec<&str> = (all.iter().filter(|(_, here)| *here))
            .map(|(name, _)| *name)
            .collect();
        if self.flipped {
            here.reverse();
        }
        here.join(", ")
    }

    /// ` It goes on in piece 2 at the left, in piece 4 above; neighbours share 4 columns or rows.`
    fn neighbours(&self, pieces: &[ChartPiece], number: usize) -> String {
        let Some((columns, rows)) = pieces.get(number - 1) else {
            return String::new();
        };
        let (before, after) = if self.flipped {
            ("at the left", "at the right")
        } else {
            ("at the right", "at the left")
        };
        let beside = |piece: &ChartPiece| match piece {
            (c, r) if r == rows && c.start < columns.start && c.end > columns.start => Some(before),
            (c, r) if r == rows && c.start > columns.start && c.start < columns.end => Some(after),
            (c, r) if c == columns && r.start < rows.start && r.end > rows.start => Some("below"),
            (c, r) if c == columns && r.start > rows.start && r.start < rows.end => Some("above"),
            _ => None,
        };
        let found = (1..).zip(pieces).filter_map(|(n, piece): (usize, _)| {
            let place = beside(piece)?;
            Some(format!("in piece {n} {place}"))
        });
        let found: Vec<String> = found.collect();
        if found.is_empty() {
            return String::new();
        }
        format!(
            " It goes on {}; neighbours share {AGAIN} columns or rows.",
            found.join(", ")
        )
    }

    fn stitches(&self) -> Vec<Stitch> {
        let mut all: Vec<Stitch> = self
            .rows
            .iter()
            .flat_map(|row| &row.cells)
            .map(|cell| cell.stitch)
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// What the lines mean; where the next thing may begin.
    fn keys(&self, sheet: &mut Sheet, y: f64) -> f64 {
        let turn = PointMark::full(MarkKind::Dot, 2.6);
        let mut x = sheet.mark_key((MARGIN, y), turn, INK, "turn");
        x = sheet.key((x, y), chart_grid::EDGE, "picked up");
        x = sheet.key((x, y), MARKER, "marker");
        if !self.pattern.layout.panels.is_empty() {
            x = sheet.key((x, y), PANEL, "panel");
        }
        if self.repeat_box().is_some() {
            sheet.key((x, y), BOX, "one repeat");
        }
        y
    }

    /// Rows from the lowest of the grid up to this one.
    fn draw(&self, sheet: &mut Sheet, grid: &Grid, end: usize) {
        self.panels(sheet, grid, end);
        let mut lines = PenLines::default();
        for at in grid.row..end {
            self.row(&mut lines, grid, at);
        }
        lines.draw(sheet, grid);
        self.marks(sheet, grid, end);
        self.numbers(sheet, grid, end);
    }

    fn row(&self, lines: &mut PenLines, grid: &Grid, at: usize) {
        let (Some(row), Some(columns)) = (self.rows.get(at), self.columns.get(at)) else {
            return;
        };
        let here = || {
            columns
                .iter()
                .filter(|column| (grid.from..grid.to).contains(*column))
        };
        let (Some(first), Some(past)) = (here().min(), here().max().map(|last| last + 1)) else {
            return;
        };
        let (a, b) = (grid.edge(*first), grid.edge(past));
        lines.frame((a.min(b), grid.y(at)), ((a - b).abs(), grid.high));
        self.turn(lines, grid, at);
        let before = at
            .checked_sub(1)
            .and_then(|before| self.columns.get(before));
        let y = grid.y(at);
        for (place, (column, cell)) in columns.iter().zip(&row.cells).enumerate() {
            if !(grid.from..grid.to).contains(column) {
                continue;
            }
            // Two stitches on one column are one square: the second is decreased into the first.
            if columns
                .get(..place)
                .is_some_and(|earlier| earlier.contains(column))
            {
                continue;
            }
            if !before.is_some_and(|there| there.contains(column)) {
                let (a, b) = (grid.edge(*column), grid.edge(*column + 1));
                lines.edge.push([(a, y), (b, y)]);
            }
            square(lines, grid, (*column, y), *cell);
        }
    }

    /// A dot where the row turns; the row that joins and the round do not.
    fn turn(&self, lines: &mut PenLines, grid: &Grid, at: usize) {
        let turns = self.rows.len().saturating_sub(2);
        let (Some(row), Some(columns)) = (self.rows.get(at), self.columns.get(at)) else {
            return;
        };
        let end = if row.right_side {
            columns.last()
        } else {
            columns.first()
        };
        let Some(end) = end.filter(|end| at < turns && (grid.from..grid.to).contains(*end)) else {
            return;
        };
        let goes_left = row.right_side != self.flipped;
        let out = grid.wide * 0.25 + 1.0;
        let x = if goes_left {
            grid.x(*end, 1) - out
        } else {
            grid.x(*end, 1) + grid.wide + out
        };
        lines.turns.push((x, grid.y(at) - grid.high / 2.0));
    }

    /// Panels are shaded lightly and lined: the shade alone says nothing.
    fn panels(&self, sheet: &mut Sheet, grid: &Grid, end: usize) {
        for panel in &self.pattern.layout.panels {
            let (from, to) = (panel.from.max(grid.from), panel.to().min(grid.to));
            if from >= to {
                continue;
            }
            let wide = usize::try_from(to - from).unwrap_or(1);
            let (x, right) = (
                grid.x(from, wide),
                grid.x(from, wide) + grid.wide * wide as f64,
            );
            let (low, high) = (grid.y(grid.row), grid.y(end));
            let points = [(x, low), (right, low), (right, high), (x, high)];
            let points: Vec<_> = points
                .into_iter()
                .map(|(x, y)| nalgebra::Point2::new(x, y))
                .collect();
            sheet.shape(&points, NEW_FILL, None, &[]);
        }
    }

    /// Markers at the crown, edges of panels, one repeat.
    fn marks(&self, sheet: &mut Sheet, grid: &Grid, end: usize) {
        let (low, high) = (grid.y(grid.row), grid.y(end));
        let upright = |column: i64| [(grid.edge(column), low), (grid.edge(column), high)];
        let inside = |column: &i64| (grid.from..=grid.to).contains(column);
        let crown = [0, i64::from(self.pattern.layout.crown)]
            .into_iter()
            .filter(inside);
        sheet.segments(&crown.map(upright).collect::<Vec<_>>(), grid.pen(MARKER));
        let panels = self
            .pattern
            .layout
            .panels
            .iter()
            .flat_map(|p| [p.from, p.to()])
            .filter(inside);
        sheet.segments(&panels.map(upright).collect::<Vec<_>>(), grid.pen(PANEL));
        let Some((columns, rows)) = self.repeat_box() else {
            return;
        };
        if columns.start < grid.from
            || columns.end > grid.to
            || rows.start < grid.row
            || rows.end > end
        {
            return;
        }
        let (a, b) = (grid.edge(columns.start), grid.edge(columns.end));
        let (low, high) = (grid.y(rows.start), grid.y(rows.end));
        sheet.segments(
            &[
                [(a, low), (b, low)],
                [(b, low), (b, high)],
                [(b, high), (a, high)],
                [(a, high), (a, low)],
            ],
            grid.pen(BOX),
        );
    }

    /// The lowest whole repeat of the ground that no panel covers, the one nearest to the crown's middle.
    fn repeat_box(&self) -> Option<(Range<i64>, Range<usize>)> {
        let layout = &self.pattern.layout;
        let chart = &layout.ground().chart;
        let (wide, high) = (i64::try_from(chart.width()).ok()?, chart.height());
        if wide == 1 && high == 1 {
            return None;
        }
        let row = (0..self.rows.len()).find(|at| {
            self.rows
                .get(*at)
                .is_some_and(|row| row.of_ground == 1 && at + high <= self.rows.len())
        })?;
        let spans = layout.spans();
        let starts = (row..=self.rows.len() - high).filter(|at| (at - row).is_multiple_of(high));
        starts.into_iter().find_map(|at| {
            let (from, to) = *spans.get(at)?;
            let free = |start: &i64| {
                layout.number(*start) == 1
                    && !layout
                        .panels
                        .iter()
                        .any(|panel| panel.from < start + wide && *start < panel.to())
            };
            let middle = i64::from(layout.crown) / 2;
            let nearest = (from..=to - wide)
                .filter(free)
                .min_by_key(|start| (start + wide / 2 - middle).abs())?;
            Some((nearest..nearest + wide, at..at + high))
        })
    }

    /// Each row's number where it begins; some are left out where they would run into one another.
    fn numbers(&self, sheet: &mut Sheet, grid: &Grid, end: usize) {
        let mut last = [f64::INFINITY; 2];
        for at in grid.row..end {
            let (Some(row), Some(columns)) = (self.rows.get(at), self.columns.get(at)) else {
                continue;
            };
            let here = columns.iter().filter(|c| (grid.from..grid.to).contains(*c));
            let (Some(first), Some(past)) = (here.clone().min(), here.max()) else {
                continue;
            };
            let begins_right = row.right_side != self.flipped;
            let (a, b) = (grid.edge(*first), grid.edge(past + 1));
            let (left, right) = (a.min(b) - 8.0, a.max(b) + 8.0);
            let begins = if begins_right { right } else { left };
            // Where the rows are lower than letters the numbers stand outside all of them.
            let x = match (grid.high < SMALL, begins_right) {
                (true, true) => WIDTH - MARGIN - NUMBERS + 8.0,
                (true, false) => MARGIN + NUMBERS - 8.0,
                (false, _) => begins,
            };
            let y = grid.y(at) - grid.high / 2.0 + SMALL * 0.36;
            let side = usize::from(begins_right);
            let Some(before) = last.get_mut(side) else {
                continue;
            };
            if *before - y < SMALL {
                continue;
            }
            *before = y;
            if (x - begins).abs() > 4.0 {
                let level = grid.y(at) - grid.high / 2.0;
                sheet.rule((x, level), (begins, level), Pen::GUIDE);
            }
            let x = if begins_right { x + 2.0 } else { x - 2.0 };
            let set = if begins_right {
                TextSet::LABEL
            } else {
                TextSet::LABEL.end()
            };
            let name = if row.is_round() {
                "R1".to_owned()
            } else {
                row.row.to_string()
            };
            sheet.text((x, y), set, &name);
        }
    }

    /// Which flank is where; where the drawing ends.
    fn names(&self, sheet: &mut Sheet, grid: &Grid) -> f64 {
        let y = grid.bottom + SMALL + 8.0;
        let list = &self.written.checklist;
        let (left, right) = if self.flipped {
            (list.second, list.first)
        } else {
            (list.first, list.second)
        };
        sheet.text((MARGIN, y), TextSet::LABEL, left);
        sheet.text((WIDTH - MARGIN, y), TextSet::LABEL.end(), right);
        sheet.text((WIDTH / 2.0, y), TextSet::LABEL.middle(), "shoulder");
        y
    }
}

fn row_name(row: &PatternRow) -> String {
    if row.is_round() {
        "round 1".to_owned()
    } else {
        format!("row {}", row.row)
    }
}

/// Pieces of so many at the most, of nearly equal length, neighbours sharing some.
fn cut(all: Range<i64>, most: i64) -> Vec<Range<i64>> {
    let length = all.end - all.start;
    if length <= most {
        return vec![all];
    }
    let pieces = (length - AGAIN + most - AGAIN - 1) / (most - AGAIN);
    let each = (length + (pieces - 1) * AGAIN + pieces - 1) / pieces;
    let start = |i: i64| (all.start + i * (each - AGAIN)).min(all.end - each);
    (0..pieces).map(|i| start(i)..start(i) + each).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_cover_all_and_share_their_ends() {
        for length in 1..200 {
            let pieces = cut(-7..length - 7, COLUMNS);
            assert_eq!(pieces.first().unwrap().start, -7);
            assert_eq!(pieces.last().unwrap().end, length - 7);
            assert!(
                pieces
                    .iter()
                    .all(|p| p.end - p.start <= COLUMNS && p.end > p.start),
                "{pieces:?}"
            );
            for pair in pieces.windows(2) {
                assert!(pair[0].end - pair[1].start >= AGAIN, "{pieces:?}");
            }
        }
    }
}
