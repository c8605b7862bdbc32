//! What the widths of a flank cost with so many runs, down to every width at every pair.
//!
//! Bellman's recursion (R. Bellman, Dynamic Programming, 1957) over turn pair, stitches widened by,
//! widening of the last move and changes of move left. Moves that widen alike are one here, so that a
//! sequence never has more runs, nor more of a single move, than the one it stands for: what comes out
//! bounds every pick-up plan from below.

use super::best::MOST_RUNS;
use super::objective::WEIGHTS;
use super::table::Frame;
use super::widths::Widths;

/// A cost for every number of changes of move that are left.
pub(crate) type ByChanges = [f64; MOST_RUNS];

const NONE: ByChanges = [f64::INFINITY; MOST_RUNS];

/// Costs of widths at most so dear, at one multiplier, for flanks with at most so many runs.
#[derive(Debug)]
pub(crate) struct RunWidths {
    band: Band,
    kinds: Kinds,
    /// `before[place * kinds + kind][c]`: least cost from the first pair down to this one, when the last
    /// move is of this kind and `c` changes are left.
    before: Vec<ByChanges>,
    /// `before_new[place][c]`: the same when a new run begins here and `c` changes are left after it.
    before_new: Vec<ByChanges>,
    /// Least cost of a whole flank with at most 1, 2, ... runs.
    pub(crate) roots: ByChanges,
}

impl RunWidths {
    /// Flanks with at most `runs` runs, their area priced at a multiplier, whose squares alone add up to
    /// no more than `most`.
    pub(crate) fn new(
        frame: &Frame,
        widths: &Widths,
        (runs, multiplier): (usize, f64),
        most: f64,
    ) -> Self {
        let (band, kinds) = (Band::new(widths, most), Kinds::of(frame));
        let mut costs = Self {
            before: vec![NONE; band.places() * kinds.widens.len()],
            before_new: vec![NONE; band.places()],
            band,
            kinds,
            roots: NONE,
        };
        if let Some(crown) = costs.before_new.first_mut() {
            crown[..runs].fill(widths.at(1, 0, multiplier));
        }
        for pair in 2..=widths.pairs {
            costs.pair(widths, (runs, multiplier), pair);
        }
        costs
    }

    /// Adds the costs of a pair; those of the pair above are there.
    fn pair(&mut self, widths: &Widths, (runs, multiplier): (usize, f64), pair: usize) {
        let last = pair == widths.pairs;
        for (w, place) in self.band.range(pair).zip(self.band.first(pair)..) {
            let price = widths.at(pair, w, multiplier);
            let mut ended = NONE;
            for (kind, k) in self.kinds.widens.iter().enumerate() {
                let from = w.checked_sub(*k);
                let Some(from) = from.and_then(|from| self.band.place(pair - 1, from)) else {
                    continue;
                };
                let fresh = &self.before_new[from];
                let longer = &self.before[from * self.kinds.widens.len() + kind];
                let order = &self.kinds.order[kind];
                let mut stay = NONE;
                for c in 0..MOST_RUNS {
                    let fresh = fresh[c] + order[c];
                    stay[c] = price + fresh.min(longer[c]);
                    let end = price + longer[c].min(fresh + WEIGHTS.lone_move);
                    ended[c] = ended[c].min(end);
                }
                self.before[place * self.kinds.widens.len() + kind] = stay;
            }
            self.before_new[place][..MOST_RUNS - 1].copy_from_slice(&ended[1..]);
            if last && w == widths.net {
                self.roots = roots(&ended, runs);
            }
        }
    }

    /// How many widths there are at all pairs.
    pub(crate) fn places(&self) -> usize {
        self.band.places()
    }

    /// Narrowest and widest at a pair (from 1) among the flanks looked at.
    pub(crate) fn range(&self, pair: usize) -> std::ops::Range<usize> {
        self.band.range(pair)
    }

    /// What comes down to a width at a pair.
    pub(crate) fn at(&self, pair: usize, w: usize) -> Option<AtWidth<'_>> {
        let place = self.band.place(pair, w)?;
        let kinds = self.kinds.widens.len();
        Some(AtWidth {
            before: &self.before[place * kinds..(place + 1) * kinds],
            before_new: &self.before_new[place],
            kind_of: &self.kinds.of_move,
        })
    }
}

/// What whole flanks with at most 1, 2, ... runs cost, from what they cost by the changes left of so many
/// runs.
fn roots(ended: &ByChanges, runs: usize) -> ByChanges {
    let mut roots = NONE;
    for (i, root) in roots[..runs].iter_mut().enumerate() {
        let left = runs - 1 - i..runs;
        *root = ended[left].iter().copied().fold(f64::INFINITY, f64::min);
    }
    roots
}

/// The costs of one width at one pair.
#[derive(Clone, Copy, Debug)]
pub(crate) struct AtWidth<'a> {
    before: &'a [ByChanges],
    /// Least cost down to this pair when a new run begins here, by the changes left after it.
    pub(crate) before_new: &'a ByChanges,
    kind_of: &'a [usize],
}

impl AtWidth<'_> {
    /// Least cost down to this pair when its move is the `m`-th of the frame, by the changes left.
    pub(crate) fn before(&self, m: usize) -> &ByChanges {
        &self.before[self.kind_of[m]]
    }
}

/// The widths that are looked at, and where they lie in a table.
#[derive(Debug)]
struct Band {
    /// For every pair: the narrowest, and its place; then the end.
    firsts: Vec<(usize, usize)>,
}

impl Band {
    fn new(widths: &Widths, most: f64) -> Self {
        let (mut firsts, mut place) = (Vec::with_capacity(widths.pairs + 1), 0);
        for pair in 1..=widths.pairs {
            let range = widths.range(pair, most);
            firsts.push((range.start, place));
            place += range.len();
        }
        firsts.push((0, place));
        Self { firsts }
    }

    fn range(&self, pair: usize) -> std::ops::Range<usize> {
        let (narrowest, first) = self.firsts[pair - 1];
        narrowest..narrowest + self.firsts[pair].1 - first
    }

    /// Place of the narrowest width of a pair.
    fn first(&self, pair: usize) -> usize {
        self.firsts[pair - 1].1
    }

    fn place(&self, pair: usize, w: usize) -> Option<usize> {
        let (narrowest, first) = self.firsts[pair - 1];
        let place = first + w.checked_sub(narrowest)?;
        (place < self.firsts[pair].1).then_some(place)
    }

    fn places(&self) -> usize {
        self.firsts.last().map_or(0, |end| end.1)
    }
}

/// The moves as far as widths can tell them apart; in a chain every move by its place.
#[derive(Debug)]
struct Kinds {
    widens: Vec<usize>,
    of_move: Vec<usize>,
    /// For every kind: nothing, or infinity where the order of a chain does not allow so many changes
    /// left where it is worked.
    order: Vec<ByChanges>,
}

impl Kinds {
    fn of(frame: &Frame) -> Self {
        let moves = frame.moves.iter();
        let by_move: Vec<usize> = moves.map(|m| m.widens().count() as usize).collect();
        let chain = frame.chain;
        let mut widens = by_move.clone();
        if !chain {
            widens.sort_unstable();
            widens.dedup();
        }
        let kind = |(m, k): (usize, &usize)| {
            let known = widens.iter().position(|other| other == k);
            if chain { m } else { known.unwrap_or(0) }
        };
        let order = |kind: usize| {
            let allowed = |c: usize| !chain || c + kind + 1 == MOST_RUNS;
            std::array::from_fn(|c| if allowed(c) { 0.0 } else { f64::INFINITY })
        };
        Self {
            of_move: by_move.iter().enumerate().map(kind).collect(),
            order: (0..widens.len()).map(order).collect(),
            widens,
        }
    }
}
