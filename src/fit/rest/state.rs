//! Where the work stands: what is picked up, the moves that are worked, how the last turn was made.

use crate::measure::{Rows, Stitches, nearest_whole};
use crate::plan::{CapPlan, Crown, Fix, FlankPlan, Move, STEEPEST, Zone};

/// How the last turn was made: the first move to come follows from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turned {
    /// On one stitch.
    One,
    /// On two at once, which will be decreased.
    Two,
}

/// What of a cap is on the needles.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Begun {
    /// The crown as it was picked up.
    pub crown: Crown,
    /// Stitches picked up along the front's half of the underarm.
    pub base_front: Stitches,
    /// The same at the back.
    pub base_back: Stitches,
    /// The front flank: the moves that are worked, the pick-up as it is.
    pub front: FlankPlan,
    /// The back flank.
    pub back: FlankPlan,
    /// Turn pairs worked, that of the crown included.
    pub turn_pairs: u32,
    /// How the last turn was made; none before the first, or where it does not bind.
    pub turned: Option<Turned>,
}

/// Stitches put right on the needle among those that wait: made where positive, taken away where negative.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Correction {
    /// In the crown; none once it is worked.
    pub crown: i32,
    /// On the front flank.
    pub front: i32,
    /// On the back flank.
    pub back: i32,
}

impl Correction {
    /// How many stitches are made or taken away.
    pub fn count(&self) -> u32 {
        self.crown.unsigned_abs() + self.front.unsigned_abs() + self.back.unsigned_abs()
    }
}

impl Begun {
    /// A plan of which so many turn pairs are worked, all as it says.
    pub fn of(plan: &CapPlan, turn_pairs: u32) -> Self {
        let turn_pairs = turn_pairs.min(plan.turn_pairs());
        let done = turn_pairs.saturating_sub(1) as usize;
        let flank = |flank: &FlankPlan| FlankPlan {
            moves: flank.moves.iter().take(done).copied().collect(),
            zones: flank.zones.clone(),
        };
        Self {
            crown: plan.crown,
            base_front: plan.base_front,
            base_back: plan.base_back,
            front: flank(&plan.front),
            back: flank(&plan.back),
            turn_pairs,
            turned: plan
                .front
                .moves
                .get(done)
                .filter(|_| turn_pairs > 0)
                .copied()
                .map(turned),
        }
    }

    /// The same with fewer pairs worked. Of the turns that are opened again the last one kept is as it was.
    #[must_use]
    pub fn ripped_back(&self, pairs: u32) -> Self {
        let turn_pairs = self.turn_pairs.saturating_sub(pairs);
        let done = turn_pairs.saturating_sub(1) as usize;
        let flank = |flank: &FlankPlan| FlankPlan {
            moves: flank.moves.iter().take(done).copied().collect(),
            zones: flank.zones.clone(),
        };
        let next = self.front.moves.get(done);
        Self {
            front: flank(&self.front),
            back: flank(&self.back),
            turn_pairs,
            turned: if pairs == 0 {
                self.turned
            } else {
                next.filter(|_| turn_pairs > 0).copied().map(turned)
            },
            ..self.clone()
        }
    }

    /// The flanks with other counts, as if each stitch too many or too few lay where the rest of its section does.
    #[must_use]
    pub fn counted(
        &self,
        crown: Stitches,
        base: Stitches,
        front: Stitches,
        back: Stitches,
    ) -> Self {
        let planned = self.base_front + self.base_back;
        let base_front = if base == planned {
            self.base_front
        } else {
            Stitches(base.count().div_ceil(2))
        };
        let flank = |flank: &FlankPlan, stitches: Stitches| FlankPlan {
            moves: flank.moves.clone(),
            zones: spread(&flank.zones, stitches),
        };
        Self {
            crown: Crown {
                stitches: crown,
                ..self.crown
            },
            base_front,
            base_back: base.saturating_sub(base_front),
            front: flank(&self.front, front),
            back: flank(&self.back, back),
            ..self.clone()
        }
    }

    /// The same after stitches that wait were put right on the needle; none where too few wait, or where two are
    /// turned on at once.
    pub fn corrected(&self, by: Correction) -> Option<Self> {
        if self.turned == Some(Turned::Two) {
            return None;
        }
        let crown = if by.crown == 0 {
            self.crown.stitches
        } else {
            self.corrected_crown(by.crown)?
        };
        let flank = |flank: &FlankPlan, by: i32| {
            Some(FlankPlan {
                zones: corrected(flank, by)?,
                ..flank.clone()
            })
        };
        Some(Self {
            crown: Crown {
                stitches: crown,
                ..self.crown
            },
            front: flank(&self.front, by.front)?,
            back: flank(&self.back, by.back)?,
            ..self.clone()
        })
    }

    /// The crown can be put right before its first row, where no stitches of a saddle lie in it.
    fn corrected_crown(&self, by: i32) -> Option<Stitches> {
        let now = self.crown.stitches.count();
        let free = self.turn_pairs == 0 && self.crown.live == Stitches::ZERO;
        let room = free && Fix::has_room(now, by.unsigned_abs());
        let crown = now.checked_add_signed(by).filter(|_| room)?;
        Some(Stitches(crown))
    }

    /// The same where so many stitches wait at the front and at the back: the last turns were made elsewhere. None where no turns
    /// lead there.
    pub fn turned_at(&self, [at_front, at_back]: [Stitches; 2]) -> Option<Self> {
        let flank = |flank: &FlankPlan, waiting: Stitches| {
            let taken = picked(flank).checked_sub(waiting.count())?;
            Some(FlankPlan {
                moves: bent(&flank.moves, taken)?,
                zones: flank.zones.clone(),
            })
        };
        let (front, back) = (flank(&self.front, at_front)?, flank(&self.back, at_back)?);
        let moved = front.moves != self.front.moves || back.moves != self.back.moves;
        Some(Self {
            turned: if moved {
                self.turned.map(|_| Turned::One)
            } else {
                self.turned
            },
            front,
            back,
            ..self.clone()
        })
    }

    /// Stitches that wait, at the front and at the back; below zero is none.
    pub fn waiting(&self) -> [u32; 2] {
        [&self.front, &self.back].map(|flank| picked(flank).saturating_sub(taken(&flank.moves)))
    }

    /// True when a flank has as many stitches as its moves take in.
    pub fn has_enough(&self) -> bool {
        [&self.front, &self.back]
            .iter()
            .all(|flank| taken(&flank.moves) <= picked(flank))
    }

    pub(super) fn most_waiting(&self) -> u32 {
        self.waiting().into_iter().max().unwrap_or(0)
    }

    /// True when the stitches that wait can be taken in by so many pairs in all: one at least at each.
    pub(super) fn can_end(&self, pairs: u32, allowed: &[Move]) -> bool {
        let steepest = allowed.iter().map(|m| m.take).max().unwrap_or(0);
        let Some(left) = pairs.checked_sub(self.turn_pairs.max(1)) else {
            return false;
        };
        self.has_enough() && (self.waiting().into_iter()).all(|n| left <= n && n <= left * steepest)
    }

    /// True when both flanks stand alike, but for the rows they are picked up from.
    pub fn is_alike(&self) -> bool {
        self.front.moves == self.back.moves && picked(&self.front) == picked(&self.back)
    }

    /// True when this move may follow the last turn.
    pub(crate) fn may_begin(&self, m: Move) -> bool {
        let two = m.drop > 0 && m.take > 1;
        match self.turned {
            None => true,
            Some(Turned::Two) => two,
            Some(Turned::One) => !two,
        }
    }

    /// The whole cap with these moves after those that are worked.
    pub(super) fn plan(&self, front: &[Move], back: &[Move], join_change: i32) -> CapPlan {
        let flank = |flank: &FlankPlan, rest: &[Move]| FlankPlan {
            moves: [flank.moves.as_slice(), rest].concat(),
            zones: flank.zones.clone(),
        };
        CapPlan {
            crown: self.crown,
            base_front: self.base_front,
            base_back: self.base_back,
            front: flank(&self.front, front),
            back: flank(&self.back, back),
            join_change,
        }
    }
}

/// How a turn is made before this move.
fn turned(next: Move) -> Turned {
    if next.drop > 0 && next.take > 1 {
        Turned::Two
    } else {
        Turned::One
    }
}

/// Stitches picked up along a flank.
pub(super) fn picked(flank: &FlankPlan) -> u32 {
    flank.zones.iter().map(|zone| zone.stitches.count()).sum()
}

/// Stitches these moves take in.
pub(super) fn taken(moves: &[Move]) -> u32 {
    moves.iter().map(|m| m.take).sum()
}

/// The zones with so many stitches in all, each as near its share as whole stitches allow, and none with more than
/// one a row while another has room.
fn spread(zones: &[Zone], stitches: Stitches) -> Vec<Zone> {
    let before: f64 = zones.iter().map(|zone| zone.stitches.as_f64()).sum();
    let mut left = stitches.count();
    let mut done = 0.0;
    let mut given = 0;
    let mut out: Vec<Zone> = Vec::new();
    for zone in zones {
        done += zone.stitches.as_f64();
        let to = nearest_whole(stitches.as_f64() * done / before.max(1.0));
        let here = to.saturating_sub(given).min(left);
        given += here;
        left -= here;
        out.push(Zone {
            stitches: Stitches(here),
            rows: zone.rows,
        });
    }
    // What is more than a row each goes where there is room.
    let room = |zone: &Zone| zone.rows.count().saturating_sub(zone.stitches.count());
    loop {
        let full = out
            .iter()
            .position(|zone| zone.rows < Rows(zone.stitches.count()));
        let free = out.iter().position(|zone| room(zone) > 0);
        let (Some(full), Some(free)) = (full, free) else {
            return out;
        };
        if let Some(zone) = out.get_mut(full) {
            zone.stitches = Stitches(zone.stitches.count() - 1);
        }
        if let Some(zone) = out.get_mut(free) {
            zone.stitches += Stitches(1);
        }
    }
}

/// How many stitches of each zone wait.
pub(crate) fn waiting_by_zone(flank: &FlankPlan) -> Vec<u32> {
    let mut done = taken(&flank.moves);
    let zones = flank.zones.iter().map(|zone| {
        let here = done.min(zone.stitches.count());
        done -= here;
        zone.stitches.count() - here
    });
    zones.collect()
}

/// The zones with so many stitches more or fewer among those that wait, each its share.
fn corrected(flank: &FlankPlan, by: i32) -> Option<Vec<Zone>> {
    let waiting = waiting_by_zone(flank);
    let all: u32 = waiting.iter().sum();
    let count = by.unsigned_abs();
    let (mut to, mut given) = (0, 0);
    let mut zones = flank.zones.clone();
    for (zone, waiting) in zones.iter_mut().zip(waiting) {
        to += waiting;
        let share = nearest_whole(f64::from(count) * f64::from(to) / f64::from(all.max(1))) - given;
        given += share;
        if !Fix::has_room(waiting, share) {
            return None;
        }
        let stitches = zone.stitches.count();
        zone.stitches = Stitches(if by > 0 {
            stitches + share
        } else {
            stitches - share
        });
    }
    (given == count).then_some(zones)
}

/// The moves with the last ones changed, so that they take in so many stitches.
fn bent(moves: &[Move], wanted: u32) -> Option<Vec<Move>> {
    let mut out = moves.to_vec();
    for i in (0..out.len()).rev() {
        let now = taken(&out);
        // What leads there already is as it was worked.
        if now == wanted {
            break;
        }
        let m = out.get_mut(i)?;
        // A decrease needs no more than the stitch that is taken in: `1/1`.
        let least = m.drop.max(1);
        let other = (i64::from(m.take) + i64::from(wanted) - i64::from(now))
            .clamp(i64::from(least), i64::from(STEEPEST));
        m.take = u32::try_from(other).ok()?;
    }
    (taken(&out) == wanted).then_some(out)
}

/// Runs of equal moves.
pub(super) fn runs_of(moves: &[Move]) -> usize {
    moves.chunk_by(|a, b| a == b).count()
}
