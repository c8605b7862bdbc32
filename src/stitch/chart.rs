//! A chart: rows of stitches as they look from the right side, row 1 at the bottom.

use std::collections::BTreeMap;

use super::table::Stitch;

/// One square of a chart: a stitch, or one part of a crossing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cell {
    /// The stitch.
    pub stitch: Stitch,
    /// Which square of the stitch it is, from the right, from 0.
    pub part: usize,
}

impl Cell {
    /// A stitch of one square.
    pub const fn of(stitch: Stitch) -> Self {
        Self { stitch, part: 0 }
    }
}

/// Rows of equal width, at least one of at least one stitch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chart {
    /// Row 1 first; in each row the stitch at the right first: it is the first one of a right-side row.
    rows: Vec<Vec<Cell>>,
}

/// What is wrong with a row of a chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowFault {
    /// Its number, from 1 at the bottom; none for the chart as a whole.
    pub row: Option<usize>,
    /// The character that nothing explains, where that is the fault.
    pub unknown: Option<char>,
    /// Half a sentence.
    pub what: String,
}

/// What the characters of a chart stand for.
pub type Legend = BTreeMap<char, Stitch>;

/// Rows and stitches of a chart at the most.
pub const MOST_SQUARES: usize = 200;

impl Chart {
    /// The chart of a text: a line for a row, the last line is row 1, the last character of a line the
    /// first stitch of a right-side row. Blank lines and white space round the lines do not count.
    ///
    /// # Errors
    /// All faults, the lowest row first.
    pub fn parse(text: &str, legend: &Legend) -> Result<Self, Vec<RowFault>> {
        let lines: Vec<&str> = text
            .lines()
            .map(str::trim)
            .filter(|l| !l.is_empty())
            .collect();
        if lines.is_empty() {
            return Err(vec![whole("it has no rows")]);
        }
        let longest = lines
            .iter()
            .map(|line| line.chars().count())
            .max()
            .unwrap_or(0);
        if lines.len() > MOST_SQUARES || longest > MOST_SQUARES {
            return Err(vec![whole(&format!(
                "it has {} rows of up to {longest} stitches; {MOST_SQUARES} of either is the most",
                lines.len()
            ))]);
        }
        let mut faults = Vec::new();
        let mut rows = Vec::new();
        let width = lines.last().map_or(0, |line| line.chars().count());
        for (number, line) in (1..).zip(lines.iter().rev()) {
            let (row, found) = read_row(line, width, legend);
            faults.extend(found.into_iter().map(|fault| RowFault {
                row: Some(number),
                ..fault
            }));
            rows.push(row);
        }
        if faults.is_empty() {
            Ok(Self { rows })
        } else {
            Err(faults)
        }
    }

    /// Stitches of a row.
    pub fn width(&self) -> usize {
        self.rows.first().map_or(1, Vec::len).max(1)
    }

    /// Rows.
    pub fn height(&self) -> usize {
        self.rows.len().max(1)
    }

    /// The square in this row and column, both from 0, the column from the right; both go round.
    pub fn cell(&self, row: usize, column: usize) -> Cell {
        let row = self.rows.get(row % self.height());
        let cell = row.and_then(|row| row.get(column % self.width()));
        cell.copied().unwrap_or(Cell::of(Stitch::Knit))
    }

    /// The rows, row 1 first, each from the right.
    pub fn rows(&self) -> &[Vec<Cell>] {
        &self.rows
    }

    /// The stitches that occur, in the order of the table.
    pub fn stitches(&self) -> Vec<Stitch> {
        let mut all: Vec<Stitch> = self.rows.iter().flatten().map(|cell| cell.stitch).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The chart by which the fabric is worked from its other end, so that it looks as before once it
    /// is turned round: the last row first, each row from its other end.
    #[must_use]
    pub fn turned(&self) -> Self {
        let row = |row: &Vec<Cell>| row.iter().rev().map(|cell| other_end(*cell)).collect();
        Self {
            rows: self.rows.iter().rev().map(row).collect(),
        }
    }

    /// The mirror image: left and right change places.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mirrored = |cell: &Cell| Cell {
            stitch: cell.stitch.mirrored(),
            ..other_end(*cell)
        };
        let row = |row: &Vec<Cell>| row.iter().rev().map(mirrored).collect();
        Self {
            rows: self.rows.iter().map(row).collect(),
        }
    }

    /// True when both lie on one another after some rows and stitches are moved to the other end.
    pub fn is_same_fabric(&self, other: &Self) -> bool {
        let (width, height) = (self.width(), self.height());
        if (width, height) != (other.width(), other.height()) {
            return false;
        }
        // Only places where the rarest square comes upon one of its kind need a look.
        let mut count: BTreeMap<Cell, usize> = BTreeMap::new();
        for cell in self.rows.iter().flatten() {
            *count.entry(*cell).or_default() += 1;
        }
        let Some((rarest, _)) = count.into_iter().min_by_key(|(_, n)| *n) else {
            return false;
        };
        let places = || (0..height).flat_map(|row| (0..width).map(move |column| (row, column)));
        let Some((row, column)) = places().find(|(row, column)| self.cell(*row, *column) == rarest)
        else {
            return false;
        };
        let lies = |(up, along): (usize, usize)| {
            places()
                .all(|(row, column)| self.cell(row, column) == other.cell(row + up, column + along))
        };
        places()
            .filter(|(up, along)| other.cell(row + up, column + along) == rarest)
            .any(lies)
    }

    /// True when the pattern does not look the same upside down.
    pub fn has_way_up(&self) -> bool {
        self.stitches()
            .iter()
            .any(|s| s.lost_when_turned().is_some())
            || !self.is_same_fabric(&self.turned())
    }

    /// Every row is the first one again, of knit and purl alone: it goes on wherever it begins, and may be
    /// cut anywhere.
    pub fn is_rib(&self) -> bool {
        let plain = |cell: &Cell| matches!(cell.stitch, Stitch::Knit | Stitch::Purl);
        let first = self.rows.first();
        self.rows
            .iter()
            .all(|row| Some(row) == first && row.iter().all(plain))
    }
}

/// The square as it lies when its row is read from the other end.
fn other_end(cell: Cell) -> Cell {
    Cell {
        part: (cell.stitch.width() - 1).saturating_sub(cell.part),
        ..cell
    }
}

fn whole(what: &str) -> RowFault {
    RowFault {
        row: None,
        unknown: None,
        what: what.to_owned(),
    }
}

/// A character that is no stitch.
fn unexplained(letter: char) -> RowFault {
    let what = if letter.is_whitespace() {
        "has a gap between its stitches; they stand close together".to_owned()
    } else {
        format!("has `{letter}`, which the legend does not explain")
    };
    RowFault {
        unknown: Some(letter),
        ..whole(&what)
    }
}

fn counted(stitches: usize) -> String {
    format!("{stitches} stitch{}", if stitches == 1 { "" } else { "es" })
}

/// One line, from the right; and what is wrong with it.
fn read_row(line: &str, width: usize, legend: &Legend) -> (Vec<Cell>, Vec<RowFault>) {
    let mut faults = Vec::new();
    let letters: Vec<char> = line.chars().rev().collect();
    if letters.len() != width {
        let what = format!("has {}, row 1 has {width}", counted(letters.len()));
        faults.push(whole(&what));
    }
    let mut row: Vec<Cell> = Vec::new();
    let mut unknown: Vec<char> = Vec::new();
    let mut at = 0;
    while let Some(letter) = letters.get(at) {
        let known = legend
            .get(letter)
            .copied()
            .or_else(|| Stitch::of_letter(*letter));
        let Some(stitch) = known else {
            if !unknown.contains(letter) {
                unknown.push(*letter);
                faults.push(unexplained(*letter));
            }
            at += 1;
            continue;
        };
        let cells = stitch.width();
        let same = letters.iter().skip(at).take_while(|l| *l == letter).count();
        if same < cells {
            faults.push(whole(&format!(
                "has {same} `{letter}` in a row, but {stitch} is a crossing of {cells} stitches"
            )));
        }
        row.extend((0..cells.min(same)).map(|part| Cell { stitch, part }));
        at += cells.min(same).max(1);
    }
    if faults.is_empty() {
        faults.extend(count_fault(&row));
    }
    (row, faults)
}

/// What a row takes it gives back.
fn count_fault(row: &[Cell]) -> Option<RowFault> {
    let single = |cell: &&Cell| cell.part == 0;
    let takes: u32 = row
        .iter()
        .filter(single)
        .map(|cell| cell.stitch.takes())
        .sum();
    let makes = u32::try_from(row.len()).unwrap_or(u32::MAX);
    (takes != makes).then(|| {
        whole(&format!("works {takes} stitches into {makes}: increases and decreases of a row must close within it"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chart(text: &str) -> Result<Chart, Vec<RowFault>> {
        let legend = Legend::from([
            ('L', Stitch::named("2/2 left").unwrap()),
            ('P', Stitch::named("2/1 left purl").unwrap()),
        ]);
        Chart::parse(text, &legend)
    }

    #[test]
    fn the_last_line_is_row_one_and_its_last_letter_the_first_stitch() {
        let read = chart("\n  pk\n  kk\n").unwrap();
        assert_eq!((read.width(), read.height()), (2, 2));
        assert_eq!(read.cell(0, 0), Cell::of(Stitch::Knit));
        assert_eq!(read.cell(1, 0), Cell::of(Stitch::Knit));
        assert_eq!(read.cell(1, 1), Cell::of(Stitch::Purl));
        assert_eq!(read.cell(3, 3), Cell::of(Stitch::Purl), "both go round");
    }

    #[test]
    fn what_does_not_close_is_refused_with_its_row() {
        let rows = |text: &str| -> Vec<Option<usize>> {
            chart(text)
                .unwrap_err()
                .iter()
                .map(|fault| fault.row)
                .collect()
        };
        assert_eq!(rows(""), [None]);
        assert_eq!(rows("kkk\nkk\nkkk"), [Some(2)]);
        assert_eq!(rows("k?k\nkkk"), [Some(2)]);
        assert_eq!(rows("ok/k\nkk/k"), [Some(1)], "k2tog without its yarn over");
        assert_eq!(
            rows("LLLkk\nkkkkk"),
            [Some(2)],
            "three quarters of a crossing"
        );
        assert!(
            chart("LLLLLLLL\nkkkkkkkk").is_ok(),
            "two crossings side by side"
        );
    }
}
