//! One frame of the search: what is fixed before any move is chosen, and what each move costs in it.

use super::super::frames::{Choice, join_near};
use super::super::objective::WEIGHTS;
use super::super::pickup::FlankEdge;
use super::super::problem::{FREE_GAP, Problem};
use crate::measure::Stitches;
use crate::plan::Move;

/// So many decreases at the most are counted one by one.
const FEW_DROPS: usize = 12;

/// How decreases are counted: all that may be, where they are few and the places are; else none beyond what
/// the gap limit asks for.
#[derive(Clone, Copy, Debug)]
struct Drops {
    states: usize,
    counted: bool,
}

impl Drops {
    fn of(frame: &Frame<'_>) -> Self {
        let nets = frame.choice.ends.iter().map(|end| end.0 as usize);
        let may = (frame.least_sites as usize).saturating_sub(nets.clone().min().unwrap_or(0));
        let must = nets.map(|net| frame.least_drops(net)).max().unwrap_or(0);
        let counted = may + 1 < frame.pairs && may <= FEW_DROPS;
        Self {
            states: if counted { may + 1 } else { must + 1 },
            counted,
        }
    }
}

/// The ease of both edges together that costs nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct EaseRange {
    least_cm: f64,
    most_cm: f64,
}

impl EaseRange {
    /// What so much ease costs.
    pub(super) fn cost(self, ease_cm: f64) -> f64 {
        let outside_cm = self.outside_cm(ease_cm);
        WEIGHTS.ease * outside_cm * outside_cm
    }

    /// By how much it lies outside; below: negative.
    fn outside_cm(self, ease_cm: f64) -> f64 {
        ease_cm - ease_cm.clamp(self.least_cm, self.most_cm)
    }
}

/// Where the squares of a frame's area error and of its ease are replaced by tangents.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Tangents {
    /// Relative area error.
    pub(super) area: f64,
    /// Ease of both edges together.
    pub(super) ease_cm: f64,
    pub(super) range: EaseRange,
}

impl Tangents {
    /// What a square centimetre more costs, as a share of the old area.
    pub(super) fn area_price(self) -> f64 {
        2.0 * WEIGHTS.area * self.area
    }

    /// What a centimetre of edge more costs on both sides.
    pub(super) fn edge_price(self) -> f64 {
        4.0 * WEIGHTS.ease * self.range.outside_cm(self.ease_cm)
    }

    /// What both cost before the first move, with so much area error and ease so far.
    fn begins(self, error: f64, ease_cm: f64) -> f64 {
        self.area_price() * error - WEIGHTS.area * self.area * self.area
            + self.range.cost(self.ease_cm)
            + self.edge_price() / 2.0 * (ease_cm - self.ease_cm)
    }

    /// What both cost before the first move of a frame.
    pub(super) fn begins_of(self, frame: &Frame<'_>) -> f64 {
        let error = frame.first_area_cm2() / frame.old_area_cm2 - 1.0;
        self.begins(error, frame.ease_cm(0.0))
    }

    /// A step towards others.
    pub(super) fn towards(self, others: Self, step: f64) -> Self {
        Self {
            area: self.area + step * (others.area - self.area),
            ease_cm: self.ease_cm + step * (others.ease_cm - self.ease_cm),
            range: self.range,
        }
    }

    /// True when others are as good: a fiftieth of a per cent of area, a fifth of a millimetre of ease.
    pub(super) fn is_near(self, others: Self) -> bool {
        let outside_cm = |ease_cm: f64| self.range.outside_cm(ease_cm);
        let ease_cm = outside_cm(self.ease_cm) - outside_cm(others.ease_cm);
        (self.area - others.area).abs() < 2e-4 && ease_cm.abs() < 0.02
    }
}

/// A kind of move and what it costs wherever it is worked.
#[derive(Clone, Copy, Debug)]
pub(super) struct CostedMove {
    pub(super) moved: Move,
    /// Stitches by which a flank widens.
    pub(super) widens: usize,
    /// Edge of the cap.
    pub(super) edge_cm: f64,
    /// The least that its local strain can cost, less what the length of the armhole costs anyway.
    pub(super) strain: f64,
}

/// The parts of the strain that the pick-up does not change.
#[derive(Clone, Copy, Debug, Default)]
struct StrainParts {
    always: f64,
    each: f64,
}

/// Everything that both flanks share but the moves.
#[derive(Clone, Debug)]
pub(super) struct Frame<'a> {
    pub(super) choice: Choice,
    pub(super) pairs: usize,
    pub(super) kinds: Vec<CostedMove>,
    /// The kinds are worked one after the other, each once at the least.
    pub(super) chain: bool,
    /// The armholes below the crown: one where front and back are alike.
    pub(super) edges: Vec<FlankEdge<'a>>,
    pub(super) targets_cm: Vec<f64>,
    pub(super) stitch_cm: f64,
    pub(super) pair_cm: f64,
    pub(super) picked_up_cm: f64,
    pub(super) old_area_cm2: f64,
    pub(super) gap_limit: f64,
    /// What every cap of this frame costs: its depth, the first pair, the length of the armhole.
    pub(super) fixed: f64,
    /// What the strain costs that follows from the length of the armhole alone.
    armhole: f64,
    wanted: StrainParts,
    depth_off_cm: f64,
    drops: Drops,
    /// Half the crown, the picked-up row and the first pair: the edge of one side before any move.
    other_edge_cm: f64,
    /// What ease costs nothing.
    pub(super) range: EaseRange,
    /// Stitches that both gauges call for at the join.
    join_near: i32,
    /// Both armhole edges, with live stitches at the shoulder.
    armhole_cm: f64,
    most_sites: u32,
    least_sites: u32,
}

impl<'a> Frame<'a> {
    /// The frame of a choice with these moves; none when no flank has stitches enough or to spare.
    pub(super) fn new(
        problem: &Problem<'a>,
        choice: Choice,
        moves: &[Move],
        chain: bool,
    ) -> Option<Self> {
        let pair_cm = 2.0 * problem.cap_gauge.row_height().to_cm();
        let edges = edges(problem, &choice);
        let sites = edges.iter().map(|edge| edge.sites().count());
        let (least_sites, most_sites) = (sites.clone().min()?, sites.max()?);
        let (least_cm, most_cm) = problem.ease_range_cm();
        let mut frame = Self {
            pairs: choice.turn_pairs as usize,
            kinds: Vec::new(),
            chain,
            edges,
            targets_cm: problem.targets_cm(choice.turn_pairs),
            stitch_cm: problem.cap_gauge.stitch_width().to_cm(),
            pair_cm,
            picked_up_cm: problem.picked_up_height().to_cm(),
            old_area_cm2: problem.cap.area_cm2(),
            gap_limit: problem.wishes.gap_limit,
            fixed: 0.0,
            armhole: 0.0,
            wanted: StrainParts::default(),
            range: EaseRange { least_cm, most_cm },
            join_near: join_near(problem),
            depth_off_cm: (problem.depth_of(choice.turn_pairs) - problem.cap.depth()).to_cm(),
            other_edge_cm: problem.cap_gauge.width(choice.crown.stitches).to_cm() / 2.0
                + problem.picked_up_height().to_cm()
                + pair_cm,
            armhole_cm: (problem.front.edge()
                + problem.back.edge()
                + problem.cap_gauge.width(choice.crown.live))
            .to_cm(),
            drops: Drops {
                states: 1,
                counted: false,
            },
            most_sites,
            least_sites,
            choice,
        };
        let reached = |net: usize| frame.can_reach(moves, net);
        let ends = frame.choice.ends.iter().copied();
        let ends: Vec<(u32, i32)> = ends
            .filter(|(net, _)| *net <= least_sites && reached(*net as usize))
            .collect();
        frame.choice.ends = ends;
        frame.drops = Drops::of(&frame);
        if frame.choice.ends.is_empty() || least_sites == 0 {
            return None;
        }
        frame.price(moves);
        Some(frame)
    }

    /// True when as many moves as there are can add so many stitches with the decreases that takes.
    fn can_reach(&self, moves: &[Move], net: usize) -> bool {
        let drops = self.least_drops(net);
        let left = (self.pairs - 1).checked_sub(drops);
        let widest = |drop: bool| {
            let of = moves.iter().filter(|m| (m.drop > 0) == drop);
            of.map(|m| m.widens().count() as usize).max()
        };
        let with = if drops > 0 { widest(true) } else { Some(0) };
        let (Some(left), Some(with)) = (left, with) else {
            return false;
        };
        let any = widest(false).max(widest(true)).unwrap_or(0);
        net <= drops * with + left * any
    }

    /// Prices the kinds: the relaxation of the pick-ups (see the page at the head of this room).
    fn price(&mut self, moves: &[Move]) {
        let edge_cm = |m: &Move| {
            let across_cm = self.stitch_cm * m.widens().as_f64();
            (across_cm * across_cm + self.pair_cm * self.pair_cm).sqrt()
        };
        let wanted = self.wanted_edge_cm();
        let lengths: Vec<Places> = self.edges.iter().map(Places::of).collect();
        let whole_cm: f64 = lengths.iter().map(|places| places.whole_cm).sum();
        let strain = |m: &Move| -> f64 {
            let mean_cm = whole_cm / lengths.len() as f64;
            let hole = |places: &Places| places.hole(mean_cm);
            let of = |places: &Places| {
                let prices = (places.multiplier(wanted), hole(places));
                places.least(*m, edge_cm(m), prices, self.gap_limit)
            };
            WEIGHTS.strain * lengths.iter().map(of).sum::<f64>() / whole_cm
        };
        let always = |places: &Places| places.always(wanted);
        let armhole = WEIGHTS.strain * lengths.iter().map(always).sum::<f64>() / whole_cm;
        let kinds = moves.iter().map(|m| CostedMove {
            moved: *m,
            widens: m.widens().count() as usize,
            edge_cm: edge_cm(m),
            strain: strain(m),
        });
        self.kinds = kinds.collect();
        self.armhole = armhole;
        self.fixed = self.shaping_fixed() + armhole;
        let share = |of: &dyn Fn(&Places) -> f64| {
            WEIGHTS.strain * lengths.iter().map(of).sum::<f64>() / whole_cm
        };
        self.wanted = StrainParts {
            always: share(&|places| places.wanted.0 * places.wanted.0 * places.whole_cm),
            each: share(&|places| 2.0 * places.wanted.1),
        };
    }

    /// What every cap of this frame costs for its depth and its first pair.
    pub(super) fn shaping_fixed(&self) -> f64 {
        self.depth_cost() + self.width_cost(1, 0, self.pair_cm)
    }

    /// `c^2 L` of all flanks, weighed, with the least ease that is wanted anywhere.
    pub(super) const fn wanted_always(&self) -> f64 {
        self.wanted.always
    }

    /// `2 c e` of all flanks, weighed, with the most ease that is wanted anywhere.
    pub(super) fn wanted_each(&self, edge_cm: f64) -> f64 {
        self.wanted.each * edge_cm
    }

    /// True when decreases are counted one by one.
    pub(super) const fn counts_drops(&self) -> bool {
        self.drops.counted
    }

    /// The most decreases of one move.
    pub(super) fn most_drop(&self) -> usize {
        let drops = self.kinds.iter().map(|kind| kind.moved.drop as usize);
        drops.max().unwrap_or(0)
    }

    /// What the flanks may have picked up at the least and at the most.
    pub(super) fn picked_up(&self) -> (u32, u32) {
        let nets = self.choice.ends.iter().map(|end| end.0);
        let least = f64::from(self.most_sites) / self.gap_limit - 1e-9;
        let least = crate::measure::whole(least.max(0.0));
        (nets.min().unwrap_or(0).max(least), self.least_sites)
    }

    /// The edge of one side below the first pair when every pair has its target width.
    pub(super) fn wanted_edge_cm(&self) -> f64 {
        let pairs = self.targets_cm.windows(2);
        let edges = pairs.map(|t| match t {
            [a, b] => ((b - a) * (b - a) + self.pair_cm * self.pair_cm).sqrt(),
            _ => 0.0,
        });
        edges.sum()
    }

    /// Half width of a pair (counted from 1) after so many stitches were added.
    pub(super) fn half_cm(&self, net: usize) -> f64 {
        self.stitch_cm * (self.choice.crown.stitches.as_f64() / 2.0 + net as f64)
    }

    /// What the width of a pair costs, as a mean over all pairs.
    pub(super) fn width_cost(&self, pair: usize, net: usize, edge_cm: f64) -> f64 {
        let covered_cm = self.picked_up_cm / self.pair_cm * edge_cm;
        let target_cm = self.targets_cm.get(pair - 1).copied().unwrap_or(0.0);
        let off = self.half_cm(net) + covered_cm - target_cm;
        off * off / self.pairs as f64
    }

    /// What a move's decrease costs at this pair.
    pub(super) fn decrease_cost(&self, pair: usize, drop: u32) -> f64 {
        let pairs = self.pairs as f64;
        let above = (pairs - pair as f64) / (pairs * pairs);
        f64::from(drop) * (WEIGHTS.decrease / pairs + WEIGHTS.high_decrease * above)
    }

    /// Area that a pair adds to both sides.
    pub(super) fn area_cm2(&self, net: usize, edge_cm: f64) -> f64 {
        2.0 * (self.pair_cm * self.half_cm(net) + self.picked_up_cm * edge_cm)
    }

    /// Area of the first pair and of the picked-up row above it.
    pub(super) fn first_area_cm2(&self) -> f64 {
        let crown_cm = self.stitch_cm * self.choice.crown.stitches.as_f64();
        self.area_cm2(0, self.pair_cm) + self.picked_up_cm * crown_cm
    }

    /// What the strain of these moves costs at the least.
    pub(super) fn least_strain(&self, moves: &[Move]) -> f64 {
        let of = |m: &Move| {
            self.kinds
                .iter()
                .find(|kind| kind.moved == *m)
                .map(|kind| kind.strain)
        };
        self.armhole + moves.iter().filter_map(of).sum::<f64>()
    }

    /// What the depth costs.
    pub(super) fn depth_cost(&self) -> f64 {
        WEIGHTS.depth * self.depth_off_cm * self.depth_off_cm
    }

    /// Ease of both edges together when the moves of one side have such an edge.
    pub(super) fn ease_cm(&self, edge_cm: f64) -> f64 {
        2.0 * (self.other_edge_cm + edge_cm) - self.armhole_cm
    }

    /// Decreases that a flank needs at the least when it adds so many stitches, so that its pick-ups are
    /// no farther apart than the gap limit.
    pub(super) fn least_drops(&self, net: usize) -> usize {
        let least = (f64::from(self.most_sites) / self.gap_limit - 1e-9).ceil();
        (crate::measure::whole(least.max(0.0)) as usize).saturating_sub(net)
    }

    /// True when so many stitches find a place each, close enough to one another.
    pub(super) fn can_pick_up(&self, stitches: u32) -> bool {
        stitches <= self.least_sites
            && f64::from(self.most_sites) <= self.gap_limit * f64::from(stitches) + 1e-9
    }

    /// What the width of a pair costs at the least, whatever move is made there.
    pub(super) fn least_width_cost(&self, pair: usize, net: usize) -> f64 {
        let costs = self
            .kinds
            .iter()
            .map(|kind| self.width_cost(pair, net, kind.edge_cm));
        costs.fold(f64::INFINITY, f64::min)
    }

    /// The steepest move.
    pub(super) fn steepest(&self) -> usize {
        self.kinds.iter().map(|kind| kind.widens).max().unwrap_or(0)
    }

    /// What any cap of this frame costs at the least, whatever its area and its runs: the relaxation over
    /// pairs, stitches added and decreases alone.
    pub(super) fn least(&self) -> f64 {
        let (nets, drops) = (self.most_net() + 1, self.drop_states());
        let end = |i: usize| self.end_cost(i / drops, i % drops);
        let mut below: Vec<f64> = (0..nets * drops).map(end).collect();
        let steepest = self.steepest();
        for pair in (2..=self.pairs).rev() {
            let mut above = vec![f64::INFINITY; nets * drops];
            // No moves before this one add more.
            let reached = steepest * (pair - 2) + 1;
            for kind in &self.kinds {
                let always = kind.strain + self.decrease_cost(pair, kind.moved.drop);
                let from = below.chunks_exact(drops).skip(kind.widens);
                let nets = above.chunks_exact_mut(drops).zip(from).enumerate();
                for (net, (here, after)) in nets.take(reached) {
                    let then = net + kind.widens;
                    let cost = always + self.width_cost(pair, then, kind.edge_cm);
                    self.relax(here, after, kind.moved.drop as usize, cost);
                }
            }
            below = above;
        }
        self.fixed + below.first().copied().unwrap_or(f64::INFINITY)
    }

    /// Takes a move of this cost and with so many decreases where it costs less, for every number of decreases before it.
    fn relax(&self, here: &mut [f64], after: &[f64], drop: usize, cost: f64) {
        let told = after.len().saturating_sub(drop);
        let (exact, beyond) = here.split_at_mut(told);
        for (here, after) in exact.iter_mut().zip(after.iter().skip(drop)) {
            *here = lesser(*here, cost + after);
        }
        // Where decreases are not counted one by one, those beyond the last are as many as the last.
        let last = after.last().filter(|_| !self.drops.counted);
        for here in beyond {
            *here = last.map_or(*here, |last| lesser(*here, cost + last));
        }
    }

    /// How many numbers of decreases are told apart.
    pub(super) fn drop_states(&self) -> usize {
        self.drops.states
    }

    /// Decreases counted after a move; none when there is no place for another.
    pub(super) fn drops_after(&self, before: usize, moved: Move) -> Option<usize> {
        let after = before + moved.drop as usize;
        let most = self.drops.states - 1;
        if self.drops.counted {
            (after <= most).then_some(after)
        } else {
            Some(after.min(most))
        }
    }

    /// What the flanks may add at the most.
    pub(super) fn most_net(&self) -> usize {
        let nets = self.choice.ends.iter().map(|end| end.0 as usize);
        nets.max().unwrap_or(0)
    }

    /// What the end costs when each flank has added so many stitches with so many decreases; infinite where
    /// that is no end.
    pub(super) fn end_cost(&self, net: usize, drops: usize) -> f64 {
        let few = !self.drops.counted || net + drops <= self.least_sites as usize;
        let end = self.choice.ends.iter().find(|end| end.0 as usize == net);
        let end = end.filter(|_| few && drops >= self.least_drops(net));
        end.map_or(f64::INFINITY, |end| self.join_cost(end.1))
    }

    /// What so many stitches made at the join cost.
    pub(super) fn join_cost(&self, change: i32) -> f64 {
        let off = (change - self.join_near).abs();
        WEIGHTS.join * f64::from(change.abs()) + WEIGHTS.join_off * f64::from(off)
    }

    /// True when the flanks may end with so many stitches added.
    pub(super) fn is_end(&self, net: usize) -> bool {
        self.choice.ends.iter().any(|end| end.0 as usize == net)
    }

    /// The change at the join when each flank has added so many stitches.
    pub(super) fn join_change(&self, net: usize) -> i32 {
        let end = self.choice.ends.iter().find(|end| end.0 as usize == net);
        end.map_or(0, |end| end.1)
    }

    /// Stitches of the base.
    pub(super) fn base(&self) -> (Stitches, Stitches) {
        (self.choice.base_front, self.choice.base_back)
    }
}

fn edges<'a>(problem: &Problem<'a>, choice: &Choice) -> Vec<FlankEdge<'a>> {
    let mut edges = vec![FlankEdge::new(problem, problem.front, choice.crown)];
    if !problem.alike() {
        edges.push(FlankEdge::new(problem, problem.back, choice.crown));
    }
    edges
}

/// What the relaxation knows of one flank's armhole.
struct Places {
    whole_cm: f64,
    shortest_cm: f64,
    longest_cm: f64,
    sites: f64,
    /// Cap edge wanted for a centimetre of armhole, at the least and at the most.
    wanted: (f64, f64),
}

impl Places {
    fn of(edge: &FlankEdge<'_>) -> Self {
        let sites = edge.sites().count();
        let whole_cm = edge.length_cm();
        let length =
            |i: u32| edge.length_to_cm(f64::from(i) + 1.0) - edge.length_to_cm(f64::from(i));
        let (mut shortest_cm, mut longest_cm) = (f64::INFINITY, 0.0_f64);
        for i in 0..sites {
            shortest_cm = shortest_cm.min(length(i));
            longest_cm = longest_cm.max(length(i));
        }
        let last_cm =
            edge.wanted_to_cm(whole_cm, whole_cm) - edge.wanted_to_cm(whole_cm * 0.9, whole_cm);
        let first_cm = edge.wanted_to_cm(whole_cm * 0.1, whole_cm);
        let rates = [first_cm / (0.1 * whole_cm), last_cm / (0.1 * whole_cm)];
        Self {
            whole_cm,
            shortest_cm,
            longest_cm,
            sites: f64::from(sites),
            wanted: (rates[0].min(rates[1]), rates[0].max(rates[1])),
        }
    }

    /// The multiplier of the armhole's length that is right when every move has its share of it.
    fn multiplier(&self, edge_cm: f64) -> f64 {
        let share = edge_cm / self.whole_cm.max(f64::MIN_POSITIVE);
        share * share
    }

    /// What a centimetre beyond the free gap costs at the least: no row is longer than the longest.
    fn hole(&self, mean_flank_cm: f64) -> f64 {
        let row = WEIGHTS.holes / WEIGHTS.strain / self.sites;
        row / self.longest_cm * mean_flank_cm
    }

    /// What a move costs at the least: the best length for it at these prices of a centimetre.
    fn least(&self, m: Move, edge_cm: f64, (price, hole): (f64, f64), gap_limit: f64) -> f64 {
        let take = f64::from(m.take);
        let (low, high) = (take * self.shortest_cm, take * gap_limit * self.longest_cm);
        let free_cm = take * FREE_GAP * self.longest_cm;
        let cost = |armhole_cm: f64| {
            edge_cm * edge_cm / armhole_cm
                + price * armhole_cm
                + hole * (armhole_cm - free_cm).max(0.0)
        };
        let best = [
            edge_cm / price.sqrt(),
            free_cm,
            edge_cm / (price + hole).sqrt(),
        ];
        let least = best
            .into_iter()
            .map(|a| cost(a.clamp(low, high.max(low))))
            .fold(f64::INFINITY, f64::min);
        least - 2.0 * self.wanted.1 * edge_cm
    }

    /// What the length of the armhole costs in any cap.
    fn always(&self, flank_edge_cm: f64) -> f64 {
        let squared = self.wanted.0 * self.wanted.0;
        (squared - self.multiplier(flank_edge_cm)) * self.whole_cm
    }
}

/// The lesser of two costs. None is ever not a number, and a comparison is one instruction where `f64::min` is four.
pub(super) fn lesser(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}
