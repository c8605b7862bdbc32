//! The best rest for every number of runs: one list for both flanks, or a list for each.

use super::super::exact::MOST_RUNS;
use super::super::frames::{joins, upper_arm_stitches};
use super::super::problem::Problem;
use super::side::{RestFlank, sides};
use super::state::{Begun, runs_of};
use super::stream::{MoveList, Stream};
use super::table::{RestFrame, Touches, Track};
use crate::plan::{CapPlan, Corner, Move};

/// Differences below this are the last bits of sums.
const ROUNDING: f64 = 1e-9;

/// At least so many runs may begin in a rest, however many the work has.
const LEAST_NEW_RUNS: usize = 3;

/// How often better tangents are looked for.
const TANGENTS: usize = 4;

/// Nodes of one search at the most.
const MOST_WORK: u64 = 40_000;

/// A rest that was found.
#[derive(Clone, Debug)]
struct BestRest {
    objective: f64,
    plan: CapPlan,
}

/// The best rests known.
#[derive(Debug)]
pub(super) struct RestSearch {
    by_runs: Vec<Option<BestRest>>,
    /// What was left without proof costs at least this much.
    unproven: Vec<f64>,
    worked_runs: usize,
    /// Rests that cost so much or more are not wanted.
    below: f64,
    /// A rest there is, but none below that.
    above: bool,
}

/// One number of turn pairs, ready to be searched.
#[derive(Debug)]
pub(super) struct ReadyRest<'b> {
    begun: &'b Begun,
    frame: RestFrame,
    sides: [RestFlank; 2],
    /// Decreases to come at the front and at the back, with the change at the join they leave.
    ends: Vec<End>,
    runs: usize,
    touches: Touches,
}

#[derive(Clone, Copy, Debug)]
struct End {
    drops: [usize; 2],
    join: i32,
}

impl<'b> ReadyRest<'b> {
    /// None where no number of decreases leads to the upper arm.
    pub(super) fn new(
        problem: &Problem<'_>,
        begun: &'b Begun,
        pairs: u32,
        allowed: &[Move],
    ) -> Option<Self> {
        let frame = RestFrame::new(problem, begun, pairs, allowed);
        let left = frame.pairs.checked_sub(begun.turn_pairs.max(1) as usize)?;
        let ends = ends(problem, begun, left, frame.join_near());
        let runs = MOST_RUNS
            .saturating_sub(worked_runs(begun))
            .max(LEAST_NEW_RUNS);
        (!ends.is_empty()).then(|| Self {
            begun,
            frame,
            sides: sides(problem, begun),
            ends,
            runs: runs.min(left),
            touches: Touches::default(),
        })
    }

    fn tracks(&self, at: Touches) -> Vec<Track<'_>> {
        let most = |i: usize| self.ends.iter().filter_map(|end| end.drops.get(i)).max();
        let track = |sides, flank, i| {
            let sizes = (most(i).copied().unwrap_or(0), self.runs);
            Track::new(&self.frame, self.begun, (sides, flank), sizes, at)
        };
        let (front, back) = self.sides.split_at(1);
        if self.begun.is_alike() {
            vec![track(&self.sides, &self.begun.front, 0)]
        } else {
            vec![
                track(front, &self.begun.front, 0),
                track(back, &self.begun.back, 1),
            ]
        }
    }

    /// The tracks whose tangents touch where their own best lists are, as nearly as pays.
    fn tuned(&mut self, search: &mut RestSearch) {
        let mut step = 1.0;
        let mut best = f64::NEG_INFINITY;
        let mut next = self.touches;
        for _ in 0..=TANGENTS {
            let (bound, found) = self.cheapest(next, search);
            let Some(found) = found else {
                return;
            };
            if bound >= search.below {
                self.ends.clear();
                return;
            }
            if bound > best {
                (best, self.touches) = (bound, next);
            } else {
                step *= 0.4;
            }
            let towards = |a: f64, b: f64| a + step * (b - a);
            let other = Touches {
                area: towards(self.touches.area, found.area),
                ease_cm: towards(self.touches.ease_cm, found.ease_cm),
            };
            if self.frame.are_near(other, self.touches) {
                return;
            }
            next = other;
        }
    }

    /// The least bound under these tangents, and where those of its own cap touch.
    fn cheapest(&self, at: Touches, search: &mut RestSearch) -> (f64, Option<Touches>) {
        let tracks = self.tracks(at);
        let bound = |end: &End| {
            let flanks = tracks.iter().zip(end.drops);
            let roots = flanks.map(|(track, drops)| track.root(self.frame.pairs, drops, self.runs));
            roots.sum::<f64>() + self.constant(at, end.join)
        };
        let bounds = self.ends.iter().map(|end| (bound(end), end));
        let Some((bound, end)) = bounds.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            return (f64::INFINITY, None);
        };
        let mut flanks = tracks.iter().zip(end.drops).map(|(track, drops)| {
            let mut stream = Stream::new(&self.frame, track, drops, self.runs);
            stream.next_below(f64::INFINITY, MOST_WORK)
        });
        let (first, second) = (flanks.next().flatten(), flanks.next());
        let Some(a) = first else {
            return (f64::INFINITY, None);
        };
        let Some(b) = second.unwrap_or_else(|| Some(a.clone())) else {
            return (f64::INFINITY, None);
        };
        let join = end.join;
        search.offer(self, &a.moves, &b.moves, join);
        let sums = self.sums(&a.moves, &b.moves);
        (bound, Some(self.frame.touches(sums)))
    }

    fn constant(&self, at: Touches, join: i32) -> f64 {
        self.frame.constant(at) + self.frame.join_cost(join)
    }

    fn sums(&self, front: &[Move], back: &[Move]) -> super::table::ListSums {
        let whole = |worked: &[Move], rest: &[Move]| [worked, rest].concat();
        let (a, b) = self.sides.split_at(1);
        self.frame.whole(a, &whole(&self.begun.front.moves, front))
            + self.frame.whole(b, &whole(&self.begun.back.moves, back))
    }

    /// Every rest of at most so many runs in all that may be better than what is known.
    fn search(&self, tracks: &[Track<'_>], runs: usize, search: &mut RestSearch) {
        let new_runs = |moves: &[Move]| runs.checked_sub(runs_of(moves));
        let (front, back) = (&self.begun.front.moves, &self.begun.back.moves);
        let Some(most) = new_runs(front).zip(new_runs(back)) else {
            return;
        };
        let mut work = MOST_WORK;
        for end in &self.ends {
            let mut streams = tracks.iter().zip(end.drops).zip([most.0, most.1]);
            let mut stream = || {
                let ((track, drops), runs) = streams.next()?;
                Some(Stream::new(&self.frame, track, drops, runs.min(self.runs)))
            };
            let constant = self.constant(self.touches, end.join);
            let Some(a) = stream() else { continue };
            let left = match stream() {
                Some(b) => self.pairs([a, b], (constant, end.join), (runs, work), search),
                None => self.alike(a, (constant, end.join), (runs, work), search),
            };
            work = left;
        }
    }

    /// Both flanks with one list. Returns the work that is left.
    fn alike(
        &self,
        mut lists: Stream<'_, '_>,
        (constant, join): (f64, i32),
        (runs, most): (usize, u64),
        search: &mut RestSearch,
    ) -> u64 {
        loop {
            let limit = search.limit(runs) - ROUNDING - constant;
            let Some(list) = lists.next_below(limit, most) else {
                break;
            };
            search.offer(self, &list.moves, &list.moves, join);
        }
        let bound = lists.bound() + constant;
        if bound + ROUNDING < search.limit(runs) {
            search.left_unproven(runs, bound);
        }
        most.saturating_sub(lists.work)
    }

    /// A list for each flank: pairs in which the next list of either can have a part. Returns the work left.
    fn pairs(
        &self,
        mut streams: [Stream<'_, '_>; 2],
        (constant, join): (f64, i32),
        (runs, most): (usize, u64),
        search: &mut RestSearch,
    ) -> u64 {
        let least = [streams[0].bound(), streams[1].bound()];
        let mut known: [Vec<MoveList>; 2] = [Vec::new(), Vec::new()];
        loop {
            let limit = search.limit(runs) - ROUNDING - constant;
            let bounds = [streams[0].bound() + least[1], streams[1].bound() + least[0]];
            let next = usize::from(bounds[1] < bounds[0]);
            let work = streams[0].work + streams[1].work;
            if bounds[next] >= limit || work >= most {
                break;
            }
            let here = streams[next].work + (most - work);
            let Some(list) = streams[next].next_below(limit - least[1 - next], here) else {
                continue;
            };
            for other in &known[1 - next] {
                if list.cost + other.cost + constant + ROUNDING >= search.limit(runs) {
                    break;
                }
                let (front, back) = if next == 0 {
                    (&list, other)
                } else {
                    (other, &list)
                };
                search.offer(self, &front.moves, &back.moves, join);
            }
            known[next].push(list);
        }
        let bound = (streams[0].bound() + least[1]).min(streams[1].bound() + least[0]) + constant;
        if bound + ROUNDING < search.limit(runs) {
            search.left_unproven(runs, bound);
        }
        most.saturating_sub(streams[0].work + streams[1].work)
    }
}

impl RestSearch {
    pub(super) fn new(begun: &Begun, below: f64) -> Self {
        let most = MOST_RUNS.max(worked_runs(begun) + LEAST_NEW_RUNS);
        Self {
            by_runs: vec![None; most],
            unproven: vec![f64::INFINITY; most],
            worked_runs: worked_runs(begun),
            below,
            above: false,
        }
    }

    /// True when there are rests, and the bounds show that none costs less than was asked for.
    pub(super) fn is_above(&self) -> bool {
        self.above
    }

    pub(super) fn has_found(&self) -> bool {
        self.by_runs.iter().any(Option::is_some)
    }

    /// Looks through these, the most runs first: the best rest of eight that has four is the best of seven to four.
    pub(super) fn run(&mut self, mut all: Vec<ReadyRest<'_>>) {
        for ready in &mut all {
            ready.tuned(self);
        }
        let some = !all.is_empty();
        all.retain(|ready| !ready.ends.is_empty());
        if some && all.is_empty() {
            self.above = true;
            return;
        }
        let tracks: Vec<Vec<Track<'_>>> = all.iter().map(|one| one.tracks(one.touches)).collect();
        let mut runs = self.by_runs.len();
        while runs >= self.worked_runs.max(1) {
            for (ready, tracks) in all.iter().zip(&tracks) {
                ready.search(tracks, runs, self);
            }
            let Some(fewest) = self.fewest_of_best(runs) else {
                return;
            };
            let bound = self
                .unproven
                .get(runs - 1)
                .copied()
                .unwrap_or(f64::INFINITY);
            for fewer in fewest..runs {
                self.left_unproven(fewer, bound);
            }
            runs = fewest - 1;
        }
    }

    fn fewest_of_best(&self, runs: usize) -> Option<usize> {
        let known = self.by_runs.iter().enumerate().take(runs);
        let found = known.filter_map(|(i, found)| Some((i + 1, found.as_ref()?.objective)));
        let best = found.min_by(|a, b| a.1.total_cmp(&b.1))?;
        Some(best.0)
    }

    /// The objective to beat with at most so many runs.
    fn limit(&self, runs: usize) -> f64 {
        let known = self.by_runs.iter().take(runs).flatten();
        known
            .map(|found| found.objective)
            .fold(f64::INFINITY, f64::min)
    }

    fn offer(&mut self, ready: &ReadyRest<'_>, front: &[Move], back: &[Move], join: i32) {
        let objective = ready.frame.objective(ready.sums(front, back), join);
        let plan = ready.begun.plan(front, back, join);
        let runs = plan.runs().max(1);
        if objective + ROUNDING < self.limit(runs)
            && let Some(place) = self.by_runs.get_mut(runs - 1)
        {
            *place = Some(BestRest { objective, plan });
        }
    }

    fn left_unproven(&mut self, runs: usize, bound: f64) {
        if let Some(least) = self.unproven.get_mut(runs - 1) {
            *least = least.min(bound);
        }
    }

    /// The best rests by runs of the whole, with more runs never worse, and what was left without proof.
    pub(super) fn into_by_runs(self) -> Vec<(Option<(CapPlan, f64)>, f64)> {
        let mut best: Option<BestRest> = None;
        let mut out = Vec::new();
        for (found, unproven) in self.by_runs.into_iter().zip(self.unproven) {
            let better = |found: &BestRest| {
                best.as_ref()
                    .is_none_or(|best| found.objective < best.objective)
            };
            if let Some(found) = found.filter(better) {
                best = Some(found);
            }
            let here = best
                .as_ref()
                .map(|found| (found.plan.clone(), found.objective));
            out.push((here, unproven));
        }
        out
    }
}

fn worked_runs(begun: &Begun) -> usize {
    runs_of(&begun.front.moves).max(runs_of(&begun.back.moves))
}

/// Decreases to come on each flank, so that what is left at the join is within the window and can be worked at the
/// corners of the base; alike where the flanks stand alike.
fn ends(problem: &Problem<'_>, begun: &Begun, left: usize, near: i32) -> Vec<End> {
    let count = |n: crate::measure::Stitches| i64::from(n.count());
    let flank = |flank: &crate::plan::FlankPlan| {
        i64::from(super::state::picked(flank)) - count(flank.decreases())
    };
    let all = count(begun.crown.stitches)
        + count(begun.base_front)
        + count(begun.base_back)
        + flank(&begun.front)
        + flank(&begun.back);
    let over = all - count(upper_arm_stitches(problem));
    let joins = joins(problem);
    let base = begun.base_front + begun.base_back;
    let has_room = |drops: usize, join: i32| {
        let left = all - count(base) - i64::try_from(drops).unwrap_or(i64::MAX);
        let others = crate::measure::Stitches(u32::try_from(left).unwrap_or(0));
        Corner::have_room(join, base, others)
    };
    let mut out = Vec::new();
    for front in 0..=left {
        for back in 0..=left {
            if begun.is_alike() && front != back {
                continue;
            }
            let join = i64::try_from(front + back).unwrap_or(i64::MAX) - over;
            let Ok(join) = i32::try_from(join) else {
                continue;
            };
            if joins.contains(&join) && has_room(front + back, join) {
                out.push(End {
                    drops: [front, back],
                    join,
                });
            }
        }
    }
    out.sort_by_key(|end| ((end.join - near).abs(), end.drops));
    out
}
