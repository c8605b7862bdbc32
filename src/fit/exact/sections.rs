//! The best pick-up for moves that are given: at most three sections, each at one rate.
//!
//! A section begins where a run of moves begins, or at the move at which the straight part of the armhole
//! ends. For given beginnings the rows of the sections are shared out until no row is better placed in
//! another section. On a straight edge every section's cost is convex in its rows, so that this is the
//! best way to share them (O. Gross, A class of discrete-type minimization problems, 1956; from memory);
//! on the slopes near the underarm it is a local best, and held against trying everything in the tests.

use super::super::objective::WEIGHTS;
use super::super::pickup::{FlankEdge, LEAST_OF_SECTION, MOST_SECTIONS};
use super::super::problem::{FREE_GAP, WANTED_EASE};
use super::frame::Frame;
use crate::measure::{Rows, Stitches};
use crate::plan::Zone;

/// A pick-up of one flank.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct FlankPickUp {
    pub(super) zones: Vec<Zone>,
    /// Local strain (sum of squares over the flank, in centimetres), not yet a mean.
    pub(super) strain_cm: f64,
    /// What holes and sections cost this flank.
    pub(super) words: f64,
    /// What all of it costs.
    pub(super) cost: f64,
}

/// Sections that begin at given moves, and what they cost at the least.
#[derive(Clone, Debug)]
pub(super) struct SectionWay {
    pub(super) least: f64,
    cuts: Cuts,
}

/// A move with what the flank has taken in before it.
#[derive(Clone, Copy, Debug)]
pub(super) struct TakenMove {
    pub(super) before: u32,
    pub(super) take: u32,
    pub(super) edge_cm: f64,
    /// Sum over the moves before it of `e^2 / take`.
    pub(super) squares_before: f64,
    /// Sum over the moves before it of `e`.
    pub(super) edges_before: f64,
}

impl TakenMove {
    /// The move that follows this one, or the first.
    pub(super) fn after(last: Option<&Self>, take: u32, edge_cm: f64) -> Self {
        let before = last.map_or((0, 0.0, 0.0), Self::sums);
        Self {
            before: before.0,
            take,
            edge_cm,
            squares_before: before.1,
            edges_before: before.2,
        }
    }

    /// Stitches, `e^2 / take` and `e` of this move and all before it.
    fn sums(&self) -> (u32, f64, f64) {
        (
            self.before + self.take,
            self.squares_before + self.edge_cm * self.edge_cm / f64::from(self.take.max(1)),
            self.edges_before + self.edge_cm,
        )
    }

    /// The same of this move and all that follow up to the last.
    fn until(&self, last: &Self) -> (u32, f64, f64) {
        let (stitches, squares, edges) = last.sums();
        (
            stitches - self.before,
            squares - self.squares_before,
            edges - self.edges_before,
        )
    }
}

/// How long a flank and its places are, for what bounds its pick-up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lengths {
    pub(super) whole_cm: f64,
    /// Of all flanks that strain is a mean over.
    pub(super) all_cm: f64,
    /// A place of the straight part.
    pub(super) straight_cm: f64,
    /// The shortest and the longest place below it, where there are some.
    pub(super) slopes_cm: Option<(f64, f64)>,
    pub(super) sites: f64,
    /// The flank's share of what is a mean over both.
    pub(super) share: f64,
}

/// Sections of a flank as (first move, one past the last).
type Cuts = Vec<(usize, usize)>;

/// The strain of last sections that was worked out already. A last section ends where the flank does, so that the move it
/// begins at and its rows say all of it; it is also the one that takes time, for it goes down the slopes.
#[derive(Debug)]
struct Lasts {
    /// By the first move: rows, strain.
    known: Vec<Vec<(u32, f64)>>,
}

impl Lasts {
    fn of(moves: usize) -> Self {
        Self {
            known: vec![Vec::new(); moves],
        }
    }

    /// The strain of the section that begins at this move and has so many rows.
    fn strain_cm(&mut self, first: usize, rows: u32, worked_out: impl FnOnce() -> f64) -> f64 {
        let Some(known) = self.known.get_mut(first) else {
            return worked_out();
        };
        if let Some((_, strain_cm)) = known.iter().find(|known| known.0 == rows) {
            return *strain_cm;
        }
        let strain_cm = worked_out();
        known.push((rows, strain_cm));
        strain_cm
    }
}

/// One flank to be picked up.
#[derive(Debug)]
pub(super) struct PickedFlank<'a> {
    edge: FlankEdge<'a>,
    whole_cm: f64,
    sites: u32,
    /// Length from the top down to each place.
    to_cm: Vec<f64>,
    /// Sum over both flanks that strain is a mean over.
    all_cm: f64,
    gap_limit: f64,
    /// The place at which the straight part ends.
    straight: u32,
    /// The wanted ease is the same everywhere.
    even: bool,
}

impl<'a> PickedFlank<'a> {
    /// All flanks of a frame that differ.
    pub(super) fn all(frame: &Frame<'a>) -> Vec<Self> {
        let all_cm = frame.edges.iter().map(FlankEdge::length_cm).sum();
        let edges = frame.edges.iter();
        edges
            .map(|edge| Self::new(*edge, all_cm, frame.gap_limit))
            .collect()
    }

    fn new(edge: FlankEdge<'a>, all_cm: f64, gap_limit: f64) -> Self {
        let sites = edge.sites().count();
        let to_cm: Vec<f64> = (0..=sites)
            .map(|i| edge.length_to_cm(f64::from(i)))
            .collect();
        let first = to_cm.get(1).copied().unwrap_or(0.0);
        let straight = |pair: &[f64]| match pair {
            [a, b] => (b - a - first).abs() <= 1e-9,
            _ => false,
        };
        let straight = to_cm.windows(2).take_while(|pair| straight(pair)).count();
        Self {
            whole_cm: edge.length_cm(),
            straight: u32::try_from(straight).unwrap_or(sites),
            even: edge.is_even(),
            edge,
            sites,
            to_cm,
            all_cm,
            gap_limit,
        }
    }

    /// How long it and its places are.
    pub(super) fn lengths(&self) -> Lengths {
        let places = self.to_cm.windows(2).map(|pair| pair[1] - pair[0]);
        let slopes = places.clone().skip(self.straight as usize);
        Lengths {
            whole_cm: self.whole_cm,
            all_cm: self.all_cm,
            straight_cm: places.clone().next().unwrap_or(0.0),
            slopes_cm: (self.straight < self.sites).then(|| {
                let longest = slopes.clone().fold(0.0, f64::max);
                (slopes.fold(f64::INFINITY, f64::min), longest)
            }),
            sites: f64::from(self.sites),
            share: self.share(),
        }
    }

    /// Stitches taken in before the place at which the straight part ends when all are spread evenly.
    fn before_slopes(&self, all: u32) -> u32 {
        let at = u64::from(self.straight) * u64::from(all) / u64::from(self.sites.max(1));
        u32::try_from(at).unwrap_or(u32::MAX)
    }

    /// The same whatever is picked up: at the least and at the most.
    pub(super) fn straight_ends(&self, frame: &Frame<'_>) -> (u32, u32) {
        let (least, most) = frame.picked_up();
        (self.before_slopes(least), self.before_slopes(most))
    }

    /// Length down to a place, parts of one allowed.
    fn length_cm(&self, place: f64) -> f64 {
        let full = crate::measure::whole(place.max(0.0)) as usize;
        let from = self.to_cm.get(full).copied().unwrap_or(self.whole_cm);
        let to = self.to_cm.get(full + 1).copied().unwrap_or(from);
        from + (to - from) * (place - full as f64)
    }

    /// Every way to begin at most so many sections, the cheapest at the least first.
    pub(super) fn ways(
        &self,
        moves: &[TakenMove],
        starts: &[usize],
        most: usize,
    ) -> Vec<SectionWay> {
        let ways = self.cuts(moves, starts, most).into_iter();
        let mut ways: Vec<SectionWay> = ways
            .map(|cuts| SectionWay {
                least: self.least(moves, &cuts),
                cuts,
            })
            .collect();
        ways.sort_by(|a, b| a.least.total_cmp(&b.least));
        ways
    }

    /// The best pick-up of these ways that costs no more than this; none when there is none or the stitches do not fit.
    pub(super) fn best(
        &self,
        moves: &[TakenMove],
        ways: &[SectionWay],
        limit: f64,
    ) -> Option<FlankPickUp> {
        let mut best: Option<FlankPickUp> = None;
        let mut limit = limit;
        let mut lasts = Lasts::of(moves.len());
        for way in ways {
            if way.least > limit {
                break;
            }
            let Some(found) = self.shared(moves, &way.cuts, &mut lasts) else {
                continue;
            };
            let better = best
                .as_ref()
                .is_none_or(|best| found.cost < best.cost - 1e-12);
            if better {
                limit = limit.min(found.cost);
                best = Some(found);
            }
        }
        best.filter(|best| best.cost <= limit)
    }

    /// What these sections cost at the least, whatever their rows: with the length of the flank shared out in parts of
    /// rows. A section of one rate costs `sum e^2 / a` with `a` in proportion to the stitches taken on the straight
    /// part; moves whose places may differ in length cost no less than `(sum e)^2` over their length (Cauchy).
    fn least(&self, moves: &[TakenMove], cuts: &Cuts) -> f64 {
        let words = WEIGHTS.section * (cuts.len() as f64 - 1.0) * self.share();
        if !self.even {
            return words;
        }
        let all = taken(moves, moves.len());
        // What is left takes a row a stitch at the least: these moves lie on the straight part, whatever the rows.
        let straight = (self.straight + all).saturating_sub(self.sites);
        let straight = moves.partition_point(|m| m.before + m.take <= straight);
        let edges = cuts.iter().map(|(from, to)| {
            let (last, first) = (straight.min(*to), straight.max(*from));
            asked(moves, (*from, last)) + sums(moves, (first, *to)).2
        });
        let edges: f64 = edges.sum();
        let whole = sums(moves, (0, moves.len())).2;
        let wanted = 1.0 + WANTED_EASE;
        let strain_cm =
            edges * edges / self.whole_cm - 2.0 * wanted * whole + wanted * wanted * self.whole_cm;
        let beyond = (f64::from(self.sites) - FREE_GAP * f64::from(all)).max(0.0);
        let holes = WEIGHTS.holes * beyond / f64::from(self.sites.max(1)) * self.share();
        WEIGHTS.strain * strain_cm / self.all_cm + words + holes
    }

    /// Every way to begin sections at these moves.
    fn cuts(&self, moves: &[TakenMove], starts: &[usize], most: usize) -> Vec<Cuts> {
        let n = moves.len();
        let mut starts: Vec<usize> = starts.iter().copied().filter(|i| *i > 0).collect();
        starts.extend(self.end_of_straight(moves));
        starts.sort_unstable();
        starts.dedup();
        let mut all = vec![vec![(0, n)]];
        for (i, a) in starts.iter().enumerate() {
            if most >= 2 {
                all.push(vec![(0, *a), (*a, n)]);
            }
            for b in starts.iter().skip(i + 1).filter(|_| most >= MOST_SECTIONS) {
                all.push(vec![(0, *a), (*a, *b), (*b, n)]);
            }
        }
        let stitches = |cut: &(usize, usize)| taken(moves, cut.1) - taken(moves, cut.0);
        all.retain(|cuts| {
            cuts.len() == 1 || cuts.iter().all(|cut| stitches(cut) >= LEAST_OF_SECTION)
        });
        all
    }

    /// The move at which the straight part ends when all stitches are spread evenly.
    fn end_of_straight(&self, moves: &[TakenMove]) -> Option<usize> {
        let at = self.before_slopes(taken(moves, moves.len()));
        let i = moves.iter().position(|m| m.before >= at)?;
        (self.straight < self.sites && i > 0).then_some(i)
    }

    /// The rows shared out to these sections until no row is better placed elsewhere.
    fn shared(&self, moves: &[TakenMove], cuts: &Cuts, lasts: &mut Lasts) -> Option<FlankPickUp> {
        let mut rows = self.first_rows(moves, cuts)?;
        let mut cost = self.cost((moves, cuts), &rows, lasts);
        if cuts.len() > 1 {
            while let Some((better, then)) = self.better((moves, cuts), &rows, cost, lasts) {
                (cost, rows) = (better, then);
            }
        }
        let zones: Vec<Zone> = cuts
            .iter()
            .zip(&rows)
            .map(|(cut, rows)| Zone {
                stitches: Stitches(taken(moves, cut.1) - taken(moves, cut.0)),
                rows: Rows(*rows),
            })
            .collect();
        let words = self.words(&zones);
        Some(FlankPickUp {
            strain_cm: (cost - words) * self.all_cm / WEIGHTS.strain,
            words,
            cost,
            zones,
        })
    }

    /// What holes and sections cost; a mean over both flanks, or alike on both.
    fn words(&self, zones: &[Zone]) -> f64 {
        let beyond = zones.iter().map(|zone| {
            let free = FREE_GAP * zone.stitches.as_f64();
            (zone.rows.as_f64() - free).max(0.0)
        });
        let holes = WEIGHTS.holes * beyond.sum::<f64>() / f64::from(self.sites.max(1));
        let sections = WEIGHTS.section * (zones.len() as f64 - 1.0);
        (holes + sections) * self.share()
    }

    /// This flank's share of what is a mean over both.
    fn share(&self) -> f64 {
        if self.all_cm > self.whole_cm * (1.0 + 1e-12) {
            0.5
        } else {
            1.0
        }
    }

    /// Rows in proportion to what the sections' edges ask for, within the limits of each.
    fn first_rows(&self, moves: &[TakenMove], cuts: &Cuts) -> Option<Vec<u32>> {
        let asked: Vec<f64> = cuts.iter().map(|cut| asked(moves, *cut)).collect();
        let all: f64 = asked.iter().sum();
        let limits: Vec<(u32, u32)> = cuts.iter().map(|cut| self.limits(moves, *cut)).collect();
        let (least, most) = limits
            .iter()
            .fold((0, 0), |sum, limit| (sum.0 + limit.0, sum.1 + limit.1));
        if !(least..=most).contains(&self.sites) {
            return None;
        }
        let share =
            |asked: &f64| crate::measure::nearest_whole(f64::from(self.sites) * asked / all);
        let wanted = asked.iter().map(share);
        let mut rows: Vec<u32> = wanted
            .zip(&limits)
            .map(|(rows, limit)| rows.clamp(limit.0, limit.1))
            .collect();
        loop {
            let sum: u32 = rows.iter().sum();
            if sum == self.sites {
                return Some(rows);
            }
            let short = sum < self.sites;
            let place = rows.iter().zip(&limits).position(|(rows, limit)| {
                if short {
                    *rows < limit.1
                } else {
                    *rows > limit.0
                }
            })?;
            rows[place] = if short {
                rows[place] + 1
            } else {
                rows[place] - 1
            };
        }
    }

    /// The fewest and the most rows of a section.
    fn limits(&self, moves: &[TakenMove], cut: (usize, usize)) -> (u32, u32) {
        let stitches = taken(moves, cut.1) - taken(moves, cut.0);
        let most = crate::measure::whole(self.gap_limit * f64::from(stitches) + 1e-9);
        (stitches, most)
    }

    /// The best change of one row from one section to another, if any is better.
    fn better(
        &self,
        (moves, cuts): (&[TakenMove], &Cuts),
        rows: &[u32],
        cost: f64,
        lasts: &mut Lasts,
    ) -> Option<(f64, Vec<u32>)> {
        let mut best: Option<(f64, Vec<u32>)> = None;
        for from in 0..rows.len() {
            for to in (0..rows.len()).filter(|to| *to != from) {
                let mut other = rows.to_vec();
                other[to] += 1;
                let Some(fewer) = other[from].checked_sub(1) else {
                    continue;
                };
                other[from] = fewer;
                let within = |i: usize| {
                    let limits = self.limits(moves, cuts[i]);
                    (limits.0..=limits.1).contains(&other[i])
                };
                if !(within(from) && within(to)) {
                    continue;
                }
                let then = self.cost((moves, cuts), &other, lasts);
                if then < best.as_ref().map_or(cost, |best| best.0) - 1e-12 {
                    best = Some((then, other));
                }
            }
        }
        best
    }

    /// What strain, holes and sections of this pick-up cost.
    fn cost(&self, (moves, cuts): (&[TakenMove], &Cuts), rows: &[u32], lasts: &mut Lasts) -> f64 {
        let (mut top, mut strain_cm, mut beyond) = (0.0, 0.0, 0.0);
        for (cut, rows) in cuts.iter().zip(rows) {
            let stitches = taken(moves, cut.1) - taken(moves, cut.0);
            let gap = f64::from(*rows) / f64::from(stitches.max(1));
            let section = moves.get(cut.0..cut.1).unwrap_or(&[]);
            let straight = self.even && top + f64::from(*rows) <= f64::from(self.straight);
            strain_cm += if straight {
                self.straight_strain_cm(sums(moves, *cut), gap)
            } else if cut.1 == moves.len() {
                lasts.strain_cm(cut.0, *rows, || self.strain_cm(section, top, gap))
            } else {
                self.strain_cm(section, top, gap)
            };
            beyond += (f64::from(*rows) - FREE_GAP * f64::from(stitches)).max(0.0);
            top += f64::from(*rows);
        }
        let holes = WEIGHTS.holes * beyond / f64::from(self.sites.max(1));
        let sections = WEIGHTS.section * (cuts.len() as f64 - 1.0);
        WEIGHTS.strain * strain_cm / self.all_cm + (holes + sections) * self.share()
    }

    /// The same on the straight part, where every place is as long: `sum (e - c a)^2 / a` with `a` in proportion
    /// to the stitches taken.
    fn straight_strain_cm(&self, (stitches, squares, edges): (u32, f64, f64), gap: f64) -> f64 {
        let a_cm = gap * self.to_cm.get(1).copied().unwrap_or(0.0);
        let wanted = 1.0 + WANTED_EASE;
        let armhole_cm = a_cm * f64::from(stitches);
        squares / a_cm - 2.0 * wanted * edges + wanted * wanted * armhole_cm
    }

    /// Local strain of the moves of one section that begins at this place.
    fn strain_cm(&self, moves: &[TakenMove], top: f64, gap: f64) -> f64 {
        let mut place = top;
        let mut from_cm = self.length_cm(place);
        let mut wanted_from = self.edge.wanted_to_cm(from_cm, self.whole_cm);
        let mut sum = 0.0;
        for m in moves {
            place += gap * f64::from(m.take);
            let to_cm = self.length_cm(place);
            let wanted_to = self.edge.wanted_to_cm(to_cm, self.whole_cm);
            let off = m.edge_cm - (wanted_to - wanted_from);
            sum += off * off / (to_cm - from_cm);
            (from_cm, wanted_from) = (to_cm, wanted_to);
        }
        sum
    }
}

/// Stitches taken in before a move.
fn taken(moves: &[TakenMove], before: usize) -> u32 {
    match (moves.get(before), moves.last()) {
        (Some(m), _) => m.before,
        (None, Some(last)) => last.before + last.take,
        (None, None) => 0,
    }
}

/// What a section's rows are in proportion to: where every move has the stretch of armhole that its edge
/// asks for, `sum e^2 / take` times the stitches, under the root.
fn asked(moves: &[TakenMove], cut: (usize, usize)) -> f64 {
    let (stitches, squares, _) = sums(moves, cut);
    (squares * f64::from(stitches)).sqrt()
}

/// Stitches, `sum e^2 / take` and `sum e` of a section.
fn sums(moves: &[TakenMove], cut: (usize, usize)) -> (u32, f64, f64) {
    let section = moves.get(cut.0..cut.1).unwrap_or(&[]);
    let ends = section.first().zip(section.last());
    ends.map_or((0, 0.0, 0.0), |(first, last)| first.until(last))
}
