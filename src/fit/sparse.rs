//! The costs of a table of which few states are reached: stretches of neighbouring states, one after the
//! other in one list.

use super::best::MOST_RUNS;

/// What follows a state.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Slot {
    /// Going on with a move, so many changes left.
    Stay(usize, usize),
    /// A new run, so many changes left after it.
    Start(usize),
}

/// Costs of neighbouring states: decreases from `low` on, the costs from `first` on.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    low: usize,
    count: usize,
    first: usize,
}

/// The stretches of a width and a move (or a new run).
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Block {
    /// The numbers of changes left that have a stretch, as bits.
    pub(crate) alive: u8,
    /// The decreases that all stretches lie between, the upper end left out.
    low: usize,
    high: usize,
    /// Place of the first.
    first: usize,
}

/// The widths of a pair.
#[derive(Clone, Copy, Debug, Default)]
struct Layer {
    narrowest: usize,
    /// Its blocks: those of every width from the narrowest, for every move and for a new run.
    first: usize,
    end: usize,
}

/// The costs by turn pair, width, move (or a new run), changes left and decreases; filled from the last
/// pair up, the widths of a pair from the narrowest, the changes left from the fewest.
#[derive(Debug)]
pub(crate) struct Sparse {
    moves: usize,
    layers: Vec<Layer>,
    blocks: Vec<Block>,
    stretches: Vec<Stretch>,
    costs: Vec<f64>,
}

impl Block {
    /// The decreases before a move from which its stretches can be reached, the upper end left out.
    pub(crate) fn before(self, drop: usize) -> Option<(usize, usize)> {
        let (low, high) = (
            self.low.saturating_sub(drop),
            self.high.saturating_sub(drop),
        );
        (low < high).then_some((low, high))
    }
}

impl Sparse {
    /// Room for the widths of all pairs, `widths` in all.
    pub(crate) fn new(pairs: usize, widths: usize, moves: usize) -> Self {
        Self {
            moves,
            layers: vec![Layer::default(); pairs],
            blocks: Vec::with_capacity((widths + 1) * (moves + 1)),
            stretches: Vec::with_capacity(4 * widths),
            costs: Vec::with_capacity(8 * widths),
        }
    }

    /// The widths of a pair.
    pub(crate) fn widths(&self, pair: usize) -> std::ops::Range<usize> {
        let layer = self.layers[pair - 1];
        let count = (layer.end - layer.first) / (self.moves + 1);
        layer.narrowest..layer.narrowest + count
    }

    /// How many costs there are.
    pub(crate) fn entries(&self) -> u64 {
        self.costs.len() as u64
    }

    /// Begins a pair at its narrowest width.
    pub(crate) fn begin(&mut self, pair: usize, narrowest: usize) {
        self.layers[pair - 1] = Layer {
            narrowest,
            first: self.blocks.len(),
            end: self.blocks.len(),
        };
    }

    /// Goes on with the next width of a pair.
    pub(crate) fn next_width(&mut self, pair: usize) {
        let end = self.blocks.len() + self.moves + 1;
        self.blocks.resize(end, Block::default());
        self.layers[pair - 1].end = end;
    }

    /// Takes away the widths at both ends of a pair, the last one begun, that have no stretches.
    pub(crate) fn trim(&mut self, pair: usize) {
        let layer = &mut self.layers[pair - 1];
        let size = self.moves + 1;
        let empty = |width: &[Block]| width.iter().all(|block| block.alive == 0);
        let widths = || self.blocks[layer.first..layer.end].chunks(size);
        let before = widths().take_while(|width| empty(width)).count();
        let after = widths().rev().take_while(|width| empty(width)).count();
        layer.narrowest += before;
        layer.first += before * size;
        layer.end -= after * size;
    }

    /// Adds a stretch to the last width, without its ends that nothing reaches.
    pub(crate) fn push(&mut self, slot: Slot, low: usize, costs: &[f64]) {
        let (m, c) = self.parts(slot);
        let reached = |cost: &f64| cost.is_finite();
        let from = costs.iter().position(reached);
        let to = costs.iter().rposition(reached);
        let place = (self.blocks.len() + m).checked_sub(self.moves + 1);
        let block = place.and_then(|place| self.blocks.get_mut(place));
        let (Some((from, to)), Some(block)) = (from.zip(to), block) else {
            return;
        };
        let stretch = Stretch {
            low: low + from,
            count: to + 1 - from,
            first: self.costs.len(),
        };
        let high = stretch.low + stretch.count;
        if block.alive == 0 {
            *block = Block {
                alive: 0,
                low: stretch.low,
                high,
                first: self.stretches.len(),
            };
        }
        block.alive |= 1 << c;
        block.low = block.low.min(stretch.low);
        block.high = block.high.max(high);
        self.stretches.push(stretch);
        self.costs.extend_from_slice(&costs[from..=to]);
    }

    /// The stretches of a width for going on with move `m`, and those for a new run.
    pub(crate) fn blocks(&self, pair: usize, w: usize, m: usize) -> (Block, Block) {
        match self.width(pair, w) {
            [blocks @ .., start] => (blocks[m], *start),
            [] => (Block::default(), Block::default()),
        }
    }

    /// The blocks of a width: for every move, then for a new run.
    fn width(&self, pair: usize, w: usize) -> &[Block] {
        let layer = self.layers[pair - 1];
        let size = self.moves + 1;
        let first = |w: usize| layer.first + w * size;
        let first = w.checked_sub(layer.narrowest).map(first);
        let first = first.filter(|first| *first < layer.end);
        first.map_or(&[], |first| &self.blocks[first..first + size])
    }

    /// Decreases of the first state of a stretch, and the costs of its states.
    pub(crate) fn stretch(&self, block: Block, c: usize) -> (usize, &[f64]) {
        if block.alive & 1 << c == 0 {
            return (0, &[]);
        }
        let fewer = block.alive & ((1 << c) - 1);
        let stretch = self.stretches[block.first + fewer.count_ones() as usize];
        let costs = &self.costs[stretch.first..stretch.first + stretch.count];
        (stretch.low, costs)
    }

    /// The cost of one state; infinite where it was not reached.
    pub(crate) fn cost(&self, pair: usize, (w, d): (usize, usize), slot: Slot) -> f64 {
        let (m, c) = self.parts(slot);
        let block = self.width(pair, w).get(m).copied().unwrap_or_default();
        let (low, costs) = self.stretch(block, c);
        let cost = d.checked_sub(low).and_then(|i| costs.get(i));
        cost.copied().unwrap_or(f64::INFINITY)
    }

    /// The move (or a new run) and the changes left.
    const fn parts(&self, slot: Slot) -> (usize, usize) {
        match slot {
            Slot::Stay(m, c) => (m, c),
            Slot::Start(c) => (self.moves, c),
        }
    }
}

/// The places of the bits that are set.
pub(crate) fn places(bits: u8) -> impl Iterator<Item = usize> {
    (0..MOST_RUNS).filter(move |c| bits & 1 << c != 0)
}
