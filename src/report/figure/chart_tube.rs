//! The tube in pattern on both sides of the underarm marker: where its shaping takes the stitches.

use super::chart_grid::{Grid, NUMBERS, PenLines, SQUARE, legend, square};
use super::sheet::{BELOW_HEADING, INK, MARGIN, Pen, SMALL, Sheet, TextSet, WIDTH};
use super::{Figure, Of};
use crate::convert::Patterned;
use crate::plan::Hand;
use crate::stitch::{Stitch, TubeRound};

/// Stitches shown on either side of the marker.
const BESIDE: i64 = 14;
/// Rounds shown: those below go on alike.
const ROUNDS: usize = 40;

const MARKER: Pen = Pen::new(INK, 1.8, "2 3");

/// The first rounds of the tube, the marker in the middle; none without a tube that is shaped.
pub(super) fn tube(of: &Of<'_>, pattern: &Patterned) -> Option<Figure> {
    let rounds = pattern.tube(of.size.tube.as_ref()?);
    let first = rounds.first()?;
    rounds.iter().find(|round| round.shaped)?;
    let shown = rounds.get(..ROUNDS.min(rounds.len()))?;
    let hand = of.case.style.hand;
    let flipped = hand == Hand::Left;
    let mut sheet = Sheet::default();
    let top = BELOW_HEADING + 14.0;
    sheet.key((MARGIN, top), MARKER, "marker: rounds begin here");
    let grid = Grid {
        left: (WIDTH - 2.0 * BESIDE as f64 * SQUARE) / 2.0,
        bottom: top + 22.0 + SQUARE * shown.len() as f64,
        wide: SQUARE,
        high: SQUARE,
        from: -BESIDE,
        to: BESIDE,
        row: 0,
        flipped,
    };
    let stitches = squares(&mut sheet, &grid, shown, first);
    let middle = [
        (grid.edge(0), grid.bottom),
        (grid.edge(0), grid.y(shown.len())),
    ];
    sheet.segments(&[middle], MARKER);
    numbers(&mut sheet, &grid, shown);
    let y = grid.bottom + SMALL + 6.0;
    let (left, right) = match hand {
        Hand::Left => ("end of the round", "its beginning"),
        Hand::Right => ("beginning of the round", "its end"),
    };
    sheet.text((MARGIN, y), TextSet::LABEL, left);
    sheet.text((WIDTH - MARGIN, y), TextSet::LABEL.end(), right);
    let end = legend(&mut sheet, &stitches, flipped, y + 34.0);
    let about = of.about_one_sleeve(
        "tube-chart",
        "The tube in pattern beside the underarm",
        words(shown.len(), rounds.len()),
        None,
    );
    Some(sheet.finish(about, end))
}

/// Every stitch beside the marker, and the frame of each half of a round; the stitches that occur.
fn squares(sheet: &mut Sheet, grid: &Grid, shown: &[TubeRound], first: &TubeRound) -> Vec<Stitch> {
    let mut lines = PenLines::default();
    let mut stitches: Vec<Stitch> = Vec::new();
    for (at, round) in shown.iter().enumerate() {
        for (place, cell) in places(round, first) {
            square(&mut lines, grid, (place, grid.y(at)), cell);
            stitches.push(cell.stitch);
        }
        for (from, to) in [
            (round.from - first.from, BESIDE),
            (-BESIDE, round.to - first.to),
        ] {
            let (a, b) = (grid.edge(from.max(-BESIDE)), grid.edge(to.min(BESIDE)));
            lines.frame((a.min(b), grid.y(at)), ((a - b).abs(), SQUARE));
        }
    }
    lines.draw(sheet, grid);
    stitches.sort_unstable();
    stitches.dedup();
    stitches
}

/// The numbers of the first round and of those that are shaped.
fn numbers(sheet: &mut Sheet, grid: &Grid, shown: &[TubeRound]) {
    let numbered = shown.iter().enumerate();
    for (at, round) in numbered.filter(|(_, round)| round.shaped || round.round == 1) {
        let y = grid.y(at) - SQUARE / 2.0 + SMALL * 0.36;
        sheet.text(
            (WIDTH - MARGIN - NUMBERS, y),
            TextSet::LABEL,
            &format!("R{}", round.round),
        );
    }
}

fn words(shown: usize, all: usize) -> String {
    let below = if shown < all {
        "; the rounds below go on alike"
    } else {
        ""
    };
    format!(
        "{BESIDE} stitches on either side of the marker, rounds 1 to {shown}, drawn with the needle at the top. Round 1 and those that are shaped have a number{below}."
    )
}

/// The stitches near the marker, counted from it: the round's beginning from 0 up, its end from -1 down.
fn places(round: &TubeRound, first: &TubeRound) -> Vec<(i64, crate::stitch::Cell)> {
    let columns = (round.from..round.to).zip(&round.cells);
    let mut places = Vec::new();
    for (column, cell) in columns {
        let (begin, end) = (column - first.from, column - first.to);
        if begin < BESIDE {
            places.push((begin, *cell));
        } else if end >= -BESIDE {
            places.push((end, *cell));
        }
    }
    places
}
