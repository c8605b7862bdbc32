//! Squares of a chart: where they lie, the lines that are drawn in them, and the legend below.

use super::sheet::{GUIDE, INK, MARGIN, PAPER, Pen, Sheet, TextSet, WIDTH};
use super::symbols::Symbol;
use crate::stitch::{Cell, Stitch};

/// Room for row numbers on either side.
pub(super) const NUMBERS: f64 = 34.0;
/// A square that can be read well.
pub(super) const SQUARE: f64 = 17.0;

const GRID: Pen = Pen::new(GUIDE, 0.6, "");
const THIN: Pen = Pen::new(INK, 1.1, "");
const THICK: Pen = Pen::new(INK, 2.6, "");
pub(super) const EDGE: Pen = Pen::new(INK, 2.4, "5 3");

/// Squares of a chart and where they lie.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    /// Left end of the leftmost column, top of the highest row.
    pub(super) left: f64,
    pub(super) bottom: f64,
    pub(super) wide: f64,
    pub(super) high: f64,
    /// Columns, from the first to one past the last.
    pub(super) from: i64,
    pub(super) to: i64,
    /// The lowest row, from 0.
    pub(super) row: usize,
    /// True where columns go from left to right: a left hand's.
    pub(super) flipped: bool,
}

impl Grid {
    /// The left edge of so many columns from this one on.
    pub(super) fn x(&self, column: i64, wide: usize) -> f64 {
        let wide = i64::try_from(wide).unwrap_or(1);
        let place = if self.flipped {
            column - self.from
        } else {
            self.to - column - wide
        };
        self.left + self.wide * place as f64
    }

    /// How fine the lines are: small squares have thinner ones.
    pub(super) fn fine(&self) -> f64 {
        (self.wide.min(self.high) / SQUARE).clamp(0.35, 1.0)
    }

    pub(super) fn pen(&self, pen: Pen) -> Pen {
        Pen {
            width: pen.width * self.fine(),
            ..pen
        }
    }

    /// The lower edge of a row.
    pub(super) fn y(&self, row: usize) -> f64 {
        self.bottom - self.high * (row as f64 - self.row as f64)
    }

    /// The line between this column and the one before it.
    pub(super) fn edge(&self, column: i64) -> f64 {
        if self.flipped {
            self.x(column, 1)
        } else {
            self.x(column, 1) + self.wide
        }
    }
}

/// Lines gathered by their pen.
#[derive(Default)]
pub(super) struct PenLines {
    pub(super) grid: Vec<[(f64, f64); 2]>,
    pub(super) thin: Vec<[(f64, f64); 2]>,
    pub(super) thick: Vec<[(f64, f64); 2]>,
    pub(super) edge: Vec<[(f64, f64); 2]>,
    pub(super) rings: Vec<(f64, f64)>,
    pub(super) turns: Vec<(f64, f64)>,
}

impl PenLines {
    /// The outline of squares, from their left lower corner.
    pub(super) fn frame(&mut self, (x, y): (f64, f64), (wide, high): (f64, f64)) {
        let (right, top) = (x + wide, y - high);
        self.grid.extend([
            [(x, y), (right, y)],
            [(right, y), (right, top)],
            [(right, top), (x, top)],
            [(x, top), (x, y)],
        ]);
    }

    /// The left side of a square; the row's outline closes it.
    pub(super) fn side(&mut self, (x, y): (f64, f64), high: f64) {
        self.grid.push([(x, y), (x, y - high)]);
    }

    /// A stitch in its squares, the left lower corner of which lies here.
    pub(super) fn stitch(&mut self, stitch: Stitch, grid: &Grid, (x, y): (f64, f64)) {
        let symbol = Symbol::new(stitch);
        let symbol = if grid.flipped {
            symbol.mirrored()
        } else {
            symbol
        };
        let place = |(right, up): (f64, f64)| (x + right * grid.wide, y - up * grid.high);
        let placed = |strokes: &[[(f64, f64); 2]]| -> Vec<[(f64, f64); 2]> {
            strokes.iter().map(|stroke| stroke.map(place)).collect()
        };
        self.thin.extend(placed(&symbol.lines));
        self.thick.extend(placed(&symbol.thick));
        if symbol.ring {
            self.rings.push(place((0.5, 0.5)));
        }
        self.side((x, y), grid.high);
    }

    pub(super) fn draw(&self, sheet: &mut Sheet, grid: &Grid) {
        sheet.segments(&self.grid, grid.pen(GRID));
        sheet.segments(&self.thin, grid.pen(THIN));
        sheet.segments(&self.thick, grid.pen(THICK));
        for at in &self.rings {
            let radius = grid.wide.min(grid.high) * 0.28;
            sheet.dot(*at, radius, PAPER, Some(grid.pen(THIN)));
        }
        sheet.segments(&self.edge, grid.pen(EDGE));
        for at in &self.turns {
            sheet.dot(*at, 2.6 * grid.fine(), INK, None);
        }
    }
}

/// A stitch at its first square; where a piece cuts it, the square alone.
pub(super) fn square(lines: &mut PenLines, grid: &Grid, (column, y): (i64, f64), cell: Cell) {
    let wide = cell.stitch.width();
    let part = i64::try_from(cell.part).unwrap_or(0);
    let first = column - part;
    let last = first + i64::try_from(wide).unwrap_or(1);
    if first < grid.from || last > grid.to {
        lines.side((grid.x(column, 1), y), grid.high);
    } else if part == 0 {
        lines.stitch(cell.stitch, grid, (grid.x(first, wide), y));
    }
}

/// The symbols with their words; where the drawing ends.
pub(super) fn legend(sheet: &mut Sheet, stitches: &[Stitch], flipped: bool, top: f64) -> f64 {
    let square = 20.0;
    let across = (WIDTH - 2.0 * MARGIN) / 2.0;
    let mut end = top;
    for (i, stitch) in stitches.iter().enumerate() {
        let x = MARGIN + across * (i % 2) as f64;
        let y = top + 27.0 * (i / 2) as f64;
        let grid = Grid {
            left: x,
            bottom: y,
            wide: square,
            high: square,
            from: 0,
            to: 0,
            row: 0,
            flipped,
        };
        let mut lines = PenLines::default();
        lines.stitch(*stitch, &grid, (x, y));
        lines.frame((x, y), (square * stitch.width() as f64, square));
        lines.draw(sheet, &grid);
        let name = stitch.entry().map_or("crossing", |entry| entry.name);
        let text = if name == stitch.to_string() {
            name.to_owned()
        } else {
            format!("{stitch}, {name}")
        };
        sheet.text(
            (x + square * stitch.width() as f64 + 8.0, y - 5.0),
            TextSet::LABEL,
            &text,
        );
        end = y;
    }
    end + 14.0
}
