//! An outline in whole stitches: bind-offs and decreases row by row, as a pattern would have them.
//!
//! From the underarm up each row pair takes 0, 1, 2 or more stitches from each edge: one by a
//! decrease on the right-side row, two by a decrease on every row, more by a bind-off at the
//! beginning of both. Pairs of one pace (every row, every other row, every 4th row, every 6th row,
//! even, bind-offs) follow one another; a change of pace costs something, because the knitter has to
//! remember it. Dynamic programming finds the cheapest sequence near the widths wanted. A price on the
//! length of the edge brings that within reach of the length wanted.

use super::least::Reference;
use crate::measure::{Side, nearest_whole};

/// What is wanted, in centimetres and stitches.
#[derive(Clone, Debug)]
pub(crate) struct Lattice<'a> {
    /// The ends.
    pub(crate) of: &'a Reference,
    /// Half widths wanted, from the top.
    pub(crate) half_widths_cm: &'a [f64],
    /// Width of a stitch in centimetres.
    pub(crate) stitch_cm: f64,
    /// Stitches to be taken from each edge above the underarm bind-offs.
    pub(crate) stitches: u32,
    /// The side of the first row.
    pub(crate) first_row: Side,
    /// Length wanted from the top corner to the underarm line.
    pub(crate) curve_cm: f64,
}

/// A pair at one place of its pace.
#[derive(Clone, Copy, Debug, PartialEq)]
struct PacePlace {
    /// Which pace.
    pace: usize,
    /// Place in it; a pace is left after its last place.
    place: usize,
    last: bool,
    /// Stitches taken from each edge.
    takes: u32,
    /// Half the mean width of the two rows over the half width after them, in stitches.
    more: f64,
}

/// Price of a change of pace, in squares of a stitch; of a bind-off by another number, half. A row may
/// thus lie most of a stitch off the outline before the knitter is given another rule to remember; where
/// no sequence leads through at this price, a fifth of it and none are tried.
const CHANGE: f64 = 0.5;

/// How far from the widths wanted a row may be, in stitches a side. A top far narrower than the pair
/// below it needs more: it is reached by one long bind-off, whose stitches are still there when the pair
/// begins.
const WINDOW: f64 = 5.0;

/// When no sequence leads through, one window so many times as wide is tried: the table grows with it.
const WIDER: f64 = 3.0;

/// Prices of the edge are tried up to this, in stitches: at the ends the edge alone decides, and a higher
/// price changes no step any more.
const MOST_PRICE: f64 = 64.0;

impl Lattice<'_> {
    /// Stitches that each pair above the underarm pair takes from each edge, from below; `None` when
    /// they cannot be taken in so few pairs.
    ///
    /// The sequence whose edge is nearest to the one wanted, within `near_cm` the cheapest one.
    pub(crate) fn takes(&self, near_cm: f64) -> Option<Vec<u32>> {
        let window = WINDOW.max(3.0 * self.top_piece() + 2.0);
        self.takes_within(window, near_cm)
            .or_else(|| self.takes_within(window * WIDER, near_cm))
    }

    /// Rise of the uppermost piece of the edge in stitches.
    fn top_piece(&self) -> f64 {
        let top = self
            .half_widths_cm
            .first()
            .map_or(0.0, |w| w - self.of.top_cm);
        top / self.stitch_cm
    }

    fn takes_within(&self, window: f64, near_cm: f64) -> Option<Vec<u32>> {
        let mut best: Option<(f64, Vec<u32>)> = None;
        for change in [CHANGE, CHANGE / 5.0, 0.0] {
            let (mut low, mut high) = (-MOST_PRICE, MOST_PRICE);
            let mut price = 0.0;
            for _ in 0..14 {
                let takes = self.cheapest(price, change, window)?;
                let off = self.curve_of(&takes) - self.curve_cm;
                if best.as_ref().is_none_or(|(least, _)| off.abs() < *least) {
                    best = Some((off.abs(), takes));
                }
                if off.abs() <= near_cm {
                    return best.map(|(_, takes)| takes);
                }
                if off > 0.0 {
                    low = price;
                } else {
                    high = price;
                }
                price = between(low, high);
            }
        }
        best.map(|(_, takes)| takes)
    }

    /// Length of the edge that these takes draw.
    fn curve_of(&self, takes: &[u32]) -> f64 {
        let mut left = self.stitches;
        let mut widths = vec![self.of.below_cm];
        for &take in takes {
            left = left.saturating_sub(take);
            widths.push(self.mean_cm(left, self.more(take)));
        }
        widths.reverse();
        self.of.curve_cm(&widths)
    }

    /// Half the mean width of a pair in centimetres.
    fn mean_cm(&self, left: u32, more: f64) -> f64 {
        self.of.top_cm + self.stitch_cm * (f64::from(left) + more)
    }

    fn more(&self, takes: u32) -> f64 {
        match (takes, self.first_row) {
            (0, _) | (1, Side::Rs) => 0.0,
            (1, Side::Ws) => 0.5,
            (2, _) => 0.5,
            (n, _) => f64::from(n) / 4.0,
        }
    }

    fn nodes(&self, window: f64) -> Vec<PacePlace> {
        let widest = self.half_widths_cm.windows(2).map(|pair| match pair {
            [a, b] => (b - a) / self.stitch_cm,
            _ => 0.0,
        });
        let widest = widest.fold(4.0 * self.top_piece(), f64::max);
        let pairs = f64::from(u32::try_from(self.half_widths_cm.len()).unwrap_or(u32::MAX));
        let least = f64::from(self.stitches) / (pairs - 1.0).max(1.0);
        let most = nearest_whole(widest.max(least).ceil() + window / 2.0);
        let paces = [vec![0], vec![1, 0, 0], vec![1, 0], vec![1], vec![2]];
        let paces = paces.into_iter().chain((3..=most).map(|n| vec![n]));
        let mut nodes = Vec::new();
        for (pace, takes) in paces.enumerate() {
            for (place, &take) in takes.iter().enumerate() {
                nodes.push(PacePlace {
                    pace,
                    place,
                    last: place + 1 == takes.len(),
                    takes: take,
                    more: self.more(take),
                });
            }
        }
        nodes
    }

    /// The cheapest sequence at a price of the edge (for each stitch of its length).
    fn cheapest(&self, price: f64, change: f64, window: f64) -> Option<Vec<u32>> {
        let nodes = self.nodes(window);
        let pairs = self.half_widths_cm.len();
        let mut tables: Vec<PaceTable> = Vec::with_capacity(pairs);
        for pair in 1..pairs {
            let wanted = self.half_widths_cm.get(pairs - 1 - pair).copied()?;
            let centre = (wanted - self.of.top_cm) / self.stitch_cm;
            let low = nearest_whole((centre - window).floor());
            let high = nearest_whole((centre + window).ceil()).min(self.stitches);
            let mut table = PaceTable::new(low, high, nodes.len());
            let most = self.most_near(pair);
            let useful = |node: &PacePlace| f64::from(node.takes) <= most;
            for left in low..=high {
                for (at, node) in nodes.iter().enumerate().filter(|n| useful(n.1)) {
                    let mean = self.mean_cm(left, node.more);
                    let off = (mean - wanted) / self.stitch_cm;
                    let before = left + node.takes;
                    let from = match tables.last() {
                        None => self.first(before, *node, mean, price),
                        Some(last) => {
                            self.cheapest_before(last, &nodes, (before, *node, mean), price, change)
                        }
                    };
                    if let Some((cost, from)) = from {
                        table.set(left, at, (cost + off * off, from));
                    }
                }
            }
            tables.push(table);
        }
        self.traced(&tables, &nodes, price)
    }

    /// The longest bind-off worth a try at this pair above the underarm's: four times the rise of the
    /// pieces around it, since half the mean width of a pair lies a quarter of its bind-off outside.
    fn most_near(&self, pair: usize) -> f64 {
        let pairs = self.half_widths_cm.len();
        let rise = |from_top: usize| {
            let above = match from_top.checked_sub(1) {
                Some(above) => self.half_widths_cm.get(above).copied(),
                None => Some(self.of.top_cm),
            };
            let here = self.half_widths_cm.get(from_top).copied();
            above.zip(here).map_or(0.0, |(above, here)| here - above)
        };
        let at = pairs.saturating_sub(1 + pair);
        let around = [at.saturating_sub(1), at, at + 1].map(rise);
        let steepest = around.into_iter().fold(0.0, f64::max) / self.stitch_cm;
        4.0 * steepest + 4.0
    }

    /// The first pair above the underarm pair; a pace begins at its first place.
    fn first(&self, before: u32, node: PacePlace, mean: f64, price: f64) -> Option<(f64, usize)> {
        let starts = before == self.stitches && node.place == 0;
        starts.then(|| (price * self.piece(self.of.below_cm, mean, 2.0), 0))
    }

    fn cheapest_before(
        &self,
        last: &PaceTable,
        nodes: &[PacePlace],
        (before, node, mean): (u32, PacePlace, f64),
        price: f64,
        change: f64,
    ) -> Option<(f64, usize)> {
        let mut best: Option<(f64, usize)> = None;
        for (at, from) in nodes.iter().enumerate() {
            let goes_on = from.pace == node.pace
                && (from.place + 1 == node.place || from.last && node.place == 0);
            let changes = from.pace != node.pace && from.last && node.place == 0;
            if !goes_on && !changes {
                continue;
            }
            let Some(cost) = last.cost(before, at) else {
                continue;
            };
            let both_bound = from.takes > 2 && node.takes > 2;
            let remembered = match (changes, both_bound) {
                (false, _) => 0.0,
                (true, true) => change / 2.0,
                (true, false) => change,
            };
            let edge = self.piece(self.mean_cm(before, from.more), mean, 2.0);
            let cost = cost + remembered + price * edge;
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, at));
            }
        }
        best
    }

    /// Length in stitches of the edge between two pairs, so many rows apart.
    fn piece(&self, from_cm: f64, to_cm: f64, rows: f64) -> f64 {
        let (x, h) = (to_cm - from_cm, rows * self.of.row_cm);
        (x * x + h * h).sqrt() / self.stitch_cm
    }

    fn traced(&self, tables: &[PaceTable], nodes: &[PacePlace], price: f64) -> Option<Vec<u32>> {
        let last = tables.last()?;
        let ends = nodes.iter().enumerate().filter_map(|(at, node)| {
            let cost = last.cost(0, at)?;
            let edge = self.piece(self.mean_cm(0, node.more), self.of.top_cm, 1.0);
            Some((cost + price * edge, at))
        });
        let (_, mut at) = ends.min_by(|a, b| a.0.total_cmp(&b.0))?;
        let (mut left, mut takes) = (0, Vec::new());
        for table in tables.iter().rev() {
            let node = nodes.get(at)?;
            let (_, from) = table.get(left, at)?;
            takes.push(node.takes);
            left += node.takes;
            at = from;
        }
        takes.reverse();
        Some(takes)
    }
}

/// The next price: doubled from the start, then halved between those tried.
fn between(low: f64, high: f64) -> f64 {
    match (low <= -MOST_PRICE, high >= MOST_PRICE) {
        (true, _) => (high * 2.0 - 0.25).max(-MOST_PRICE),
        (_, true) => (low * 2.0 + 0.25).min(MOST_PRICE),
        _ => f64::midpoint(low, high),
    }
}

/// Costs of one pair: for each number of stitches left and each node, the cost and the node before.
struct PaceTable {
    low: u32,
    nodes: usize,
    cells: Vec<Option<(f64, usize)>>,
}

impl PaceTable {
    fn new(low: u32, high: u32, nodes: usize) -> Self {
        let rows = (high + 1).saturating_sub(low) as usize;
        Self {
            low,
            nodes,
            cells: vec![None; rows * nodes],
        }
    }

    fn place(&self, left: u32, node: usize) -> Option<usize> {
        Some(left.checked_sub(self.low)? as usize * self.nodes + node)
    }

    fn get(&self, left: u32, node: usize) -> Option<(f64, usize)> {
        self.cells.get(self.place(left, node)?).copied().flatten()
    }

    fn cost(&self, left: u32, node: usize) -> Option<f64> {
        self.get(left, node).map(|cell| cell.0)
    }

    fn set(&mut self, left: u32, node: usize, cell: (f64, usize)) {
        if let Some(place) = self.place(left, node)
            && let Some(slot) = self.cells.get_mut(place)
        {
            *slot = Some(cell);
        }
    }
}
