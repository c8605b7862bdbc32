//! Random problems small enough for the slow methods, from a generator with a fixed start.

use capwright::fit::{Ease, Live, Problem, Wishes};
use capwright::measure::{Gauge, Length, Rows, Stitches};
use capwright::outline::{ArmholeEdge, Cap, armhole_from_ledger};
use capwright::plan::{Move, Repeat};

use super::super::common::{RowSpec, SEAM, armhole, gauge, ledger};
use super::random::Random;

/// What a random problem is made of.
#[derive(Debug)]
pub struct Case {
    pub cap: Cap,
    pub front: ArmholeEdge,
    pub back: ArmholeEdge,
    pub cap_gauge: Gauge,
    pub tube_gauge: Gauge,
    pub upper_arm: Length,
    pub repeat: Repeat,
    pub live: Option<Live>,
    pub wishes: Wishes,
}

impl Case {
    pub fn problem(&self) -> Problem<'_> {
        Problem {
            cap: &self.cap,
            front: &self.front,
            back: &self.back,
            cap_gauge: self.cap_gauge,
            worked: None,
            tube_gauge: self.tube_gauge,
            upper_arm: self.upper_arm,
            repeat: self.repeat,
            live: self.live,
            wishes: self.wishes.clone(),
        }
    }
}

/// What kind of problem is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    /// Row pairs of the old cap at the least and the most.
    pub pairs: (u32, u32),
    /// How many moves are allowed at the least and the most.
    pub moves: (usize, usize),
    /// Front and back are alike.
    pub alike: bool,
    /// Every problem has its crown fixed by live stitches.
    pub fixed_crown: bool,
    /// The gap limit at the most.
    pub gap: f64,
}

/// Rows of a random bell: underarm, decreases on some of the rows, steps at the top.
fn rows(random: &mut Random, pairs: u32) -> (u32, Vec<RowSpec>) {
    let underarm = random.from(1, 3);
    let mut rows = vec![(underarm, 0, 0); 2];
    let steps = random.from(0, (pairs / 3).min(2));
    for _ in 1..pairs - steps {
        rows.extend(match random.from(0, 5) {
            0 => [(0, 0, 0), (0, 0, 0)],
            1 => [(0, 1, 1), (0, 1, 1)],
            2 => [(0, 0, 0), (0, 2, 2)],
            _ => [(0, 0, 0), (0, 1, 1)],
        });
    }
    let step = random.from(2, 3);
    rows.extend(vec![(step, 0, 0); 2 * steps as usize]);
    if random.one_in(3) {
        rows.push((0, 0, 0));
    }
    let lost: u32 = rows.iter().map(|row| row.0 + row.1 + row.2).sum();
    (lost + random.from(7, 12), rows)
}

/// A random armhole with so many rows: from measures, or from lines with a stepped curve.
fn edge(random: &mut Random, rows: u32, gauge: Gauge) -> ArmholeEdge {
    let underarm = random.from(1, 3);
    if random.one_in(2) {
        let depth_cm = gauge.row_height().to_cm() * f64::from(rows);
        let edge_cm = depth_cm * random.between(1.0, 1.15);
        return armhole(
            edge_cm,
            gauge.stitch_width().to_cm() * f64::from(underarm),
            depth_cm,
            gauge,
        );
    }
    let mut lines = vec![(underarm + 1, 0, 0); 2];
    if random.one_in(2) {
        lines.extend([(2, 0, 0); 2]);
    }
    for _ in 0..random.from(0, 3) {
        lines.extend([(0, 1, 1), (0, 0, 0)]);
    }
    while lines.len() < rows as usize {
        lines.push((0, 0, 0));
    }
    armhole_from_ledger(&ledger(60, &lines), gauge, SEAM).unwrap()
}

/// Moves to choose from: some of the usual ones, always with a way to go straight or to widen.
fn moves(random: &mut Random, kind: Kind) -> Vec<Move> {
    let all = [(1, 0), (2, 1), (2, 0), (1, 1), (3, 0), (3, 1), (4, 0)];
    let mut moves: Vec<Move> = all.iter().map(|m| Move::new(m.0, m.1)).collect();
    let wanted = random.from(kind.moves.0 as u32, kind.moves.1 as u32) as usize;
    while moves.len() > wanted {
        let out = random.from(0, moves.len() as u32 - 1) as usize;
        moves.remove(out);
    }
    moves
}

/// The `n`-th random problem of a kind; many are feasible, some are not.
pub fn case(kind: Kind, n: u64) -> Case {
    let random = &mut Random(n.wrapping_mul(0x5851_F42D_4C95_7F2D).wrapping_add(7));
    let pairs = random.from(kind.pairs.0, kind.pairs.1);
    let (start, rows) = rows(random, pairs);
    let stitches = random.between(12.0, 32.0);
    let pattern = gauge(stitches, stitches / random.between(0.67, 0.79));
    let cap = Cap::from_ledger(&ledger(start, &rows), pattern, SEAM).unwrap();
    let cap_gauge = drifted(random, pattern);
    let tube_gauge = drifted(random, cap_gauge);
    let live = (kind.fixed_crown || random.one_in(4)).then(|| Live {
        stitches: Stitches(random.from(5, 9)),
        extra_each_side: Stitches(random.from(0, 2)),
    });
    // A flank has about as many rows as stitches to add, half as many again at the most.
    let around = f64::from(start - rows.iter().map(|row| row.0 + row.1 + row.2).sum::<u32>());
    let net = (cap.upper_arm_stitches().as_f64() - around) / 2.0;
    let sites = net * random.between(1.0, 1.6) + live.map_or(around / 1.8, |_| 1.0);
    let front = edge(random, sites.round().max(4.0) as u32, pattern);
    let back = if kind.alike {
        front.clone()
    } else {
        let more = sites + f64::from(random.from(0, 3));
        edge(random, more.round().max(4.0) as u32, pattern)
    };
    Case {
        upper_arm: cap.upper_arm(),
        repeat: match random.from(0, 3) {
            0 => Repeat {
                multiple: 2,
                plus: 1,
            },
            1 => Repeat {
                multiple: 3,
                plus: 0,
            },
            _ => Repeat::ANY,
        },
        wishes: Wishes {
            moves: Some(moves(random, kind)),
            runs: None,
            gap_limit: random.between(1.1, kind.gap),
            ease: if random.one_in(3) {
                Ease::Shoulder
            } else {
                Ease::Even
            },
            base_tolerance: Stitches(if random.one_in(3) {
                random.from(1, 3)
            } else {
                0
            }),
            picked_up_row: Rows(u32::from(!random.one_in(4))),
            plain_join: random.one_in(6),
        },
        cap,
        front,
        back,
        cap_gauge,
        tube_gauge,
        live,
    }
}

fn drifted(random: &mut Random, from: Gauge) -> Gauge {
    if random.one_in(3) {
        return from;
    }
    gauge(
        from.stitches_per_10cm() * random.between(0.94, 1.06),
        from.rows_per_10cm() * random.between(0.94, 1.06),
    )
}
