//! From wishes to an outline in whole stitches and rows.

use super::codes::{BENT_FAR, FRONT_BACK, ROUNDED};
use super::infeasible::explain;
use super::lattice::Lattice;
use super::least::{Nearest, Reference};
use super::problem::{CapCounts, Keep, OutlineProblem, OutlineWishes};
use crate::diagnostic::{Diagnostic, Span};
use crate::measure::{Gauge, Length, Rows, Side, Stitches, nearest_whole};
use crate::outline::{Cap, Seam};
use crate::pattern::{Ledger, LedgerRow};

/// What became of the old cap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutlineStatus {
    /// The wishes already hold: nothing was changed.
    Unchanged,
    /// The old cap was stretched and bent.
    Adapted,
    /// There was no old cap: one was drafted.
    Drafted,
}

impl OutlineStatus {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Unchanged => "unchanged",
            Self::Adapted => "adapted",
            Self::Drafted => "drafted",
        }
    }
}

/// An outline that meets the wishes.
#[derive(Clone, Debug)]
pub struct Adapted {
    /// What became of the old cap.
    pub status: OutlineStatus,
    /// Its rows, the closing bind-off last.
    pub ledger: Ledger,
    /// Its outline.
    pub cap: Cap,
    /// The upper arm wished, before it was rounded to stitches.
    pub upper_arm: Length,
    /// The edge wished on each side, above the underarm.
    pub edge: Length,
    /// True when that came from a wish for ease, false for the old cap's own ease or none.
    pub ease_wished: bool,
    /// What is left at the front: the cap's edge less the one wished there.
    pub front_left: Length,
    /// What is left at the back.
    pub back_left: Length,
    /// How far the shape was bent, root mean square of one side.
    pub bend: Length,
    /// What is worth a word.
    pub findings: Vec<Diagnostic>,
}

/// The outline that meets the wishes with the smallest change.
///
/// # Errors
/// All findings that say why there is none: which limits bind, by how much, and what to change.
pub fn adapt(problem: &OutlineProblem<'_>) -> Result<Adapted, Vec<Diagnostic>> {
    if let Some(old) = problem.old.filter(|_| holds(problem)) {
        let (cap, ledger) = (old.cap.clone(), old.ledger.clone());
        let unbent = Length::ZERO;
        return Ok(finished(
            problem,
            OutlineStatus::Unchanged,
            ledger,
            cap,
            unbent,
        ));
    }
    let counts = problem.counts();
    let status = match problem.old {
        Some(_) => OutlineStatus::Adapted,
        None => OutlineStatus::Drafted,
    };
    match outline(problem, counts) {
        Some((ledger, cap, bend)) => Ok(finished(problem, status, ledger, cap, bend)),
        None => Err(explain(problem, counts)),
    }
}

/// The rows of whole stitches whose edge is nearest to the one wanted, their outline, and how far it had
/// to be bent; `None` when there are none.
pub(crate) fn outline(
    problem: &OutlineProblem<'_>,
    counts: CapCounts,
) -> Option<(Ledger, Cap, Length)> {
    // More numbers of row pairs only where those bent least cannot be written in whole stitches.
    let mut tries = [NEAR, MOST_TRIED].into_iter();
    tries.find_map(|most| written(problem, counts, most))
}

fn written(
    problem: &OutlineProblem<'_>,
    counts: CapCounts,
    most: usize,
) -> Option<(Ledger, Cap, Length)> {
    let mut best: Option<(f64, Ledger, Cap, Length)> = None;
    for (reference, nearest) in &ranked(problem, counts, most) {
        let Some(takes) = takes(problem, counts, reference, nearest) else {
            continue;
        };
        let ledger = ledger(problem, counts, &takes);
        let Ok(cap) = Cap::from_ledger(&ledger, problem.gauge, problem.seam) else {
            continue;
        };
        let off = (cap.edge_above_underarm() - problem.edge()).abs();
        if best.as_ref().is_none_or(|(least, ..)| off.to_cm() < *least) {
            let bend = Length::cm(nearest.bend_cm(reference));
            best = Some((off.to_cm(), ledger, cap, bend));
        }
        if off <= near(problem.gauge) {
            break;
        }
    }
    best.map(|(_, ledger, cap, bend)| (ledger, cap, bend))
}

/// Half a row or half a stitch, the larger: what an edge in whole stitches may be off.
fn near(gauge: Gauge) -> Length {
    let (stitch, row) = (gauge.stitch_width().to_cm(), gauge.row_height().to_cm());
    Length::cm(stitch.max(row) / 2.0)
}

/// True when the old cap already has all that is wished, to the stitch and to half a row or stitch of
/// edge; a given depth to the row.
fn holds(problem: &OutlineProblem<'_>) -> bool {
    let Some(old) = problem.old else { return false };
    let s = problem.gauge.stitch_width();
    let count = |length: Length| Stitches(nearest_whole(length / s));
    let counts = problem.counts();
    let off = (old.cap.edge_above_underarm() - problem.edge()).abs();
    let deep = problem.depth().is_none_or(|depth| {
        (depth - old.cap.depth()).abs().to_cm() <= problem.gauge.row_height().to_cm() * 0.999
    });
    counts.upper_arm == old.cap.upper_arm_stitches()
        && counts.underarm == count(old.cap.underarm())
        && (problem.wishes.top.is_none() || counts.top == count(old.cap.top()))
        && deep
        && off <= near(problem.gauge)
}

/// The nearest outlines for so many numbers of row pairs, the least bent first.
fn ranked(
    problem: &OutlineProblem<'_>,
    counts: CapCounts,
    most: usize,
) -> Vec<(Reference, Nearest)> {
    if counts.below() <= counts.top {
        return Vec::new();
    }
    let curve_cm = problem.edge().to_cm() - problem.ends(counts).top.to_cm();
    let area = problem.half_area_cm2();
    let mut found: Vec<(Reference, Nearest)> = Vec::new();
    let mut pairs: Vec<u32> = problem.pairs().collect();
    if problem.wishes.keep == Keep::Shape {
        // Where the stretched shape itself has nearly the edge wanted, it is bent the least. Another
        // number of pairs is looked at only where those cannot be bent to the edge.
        let off = |pairs: &u32| {
            let reference = problem.reference(counts, *pairs);
            (reference.curve_cm(&reference.half_widths_cm) - curve_cm).abs()
        };
        pairs.sort_by(|a, b| off(a).total_cmp(&off(b)).then(a.cmp(b)));
    }
    for pairs in pairs {
        let reference = problem.reference(counts, pairs);
        if let Some(nearest) = reference.nearest_enlarged(curve_cm, area) {
            found.push((reference, nearest));
        }
        if problem.wishes.keep == Keep::Shape && found.len() >= most {
            break;
        }
    }
    let mean = |(reference, nearest): &(Reference, Nearest)| {
        nearest.cost / reference.half_widths_cm.len() as f64
    };
    found.sort_by(|a, b| mean(a).total_cmp(&mean(b)));
    found.truncate(most);
    found
}

/// Numbers of row pairs that are worked out in whole stitches: writing costs more than bending, and the
/// best of the bent outlines is nearly always the best of the written ones.
const NEAR: usize = 3;

/// The same where none of those can be written.
const MOST_TRIED: usize = 12;

/// The rows to which the old shape has to be stretched or pressed so that its edge meets this one, with
/// the arm as it is; `None` when no depth does.
pub fn proposed_rows(problem: &OutlineProblem<'_>) -> Option<Rows> {
    let counts = problem.counts();
    let ranked = ranked(problem, counts, NEAR);
    let (reference, _) = ranked.first()?;
    Some(Rows(
        2 * u32::try_from(reference.half_widths_cm.len()).ok()?,
    ))
}

fn takes(
    problem: &OutlineProblem<'_>,
    counts: CapCounts,
    reference: &Reference,
    nearest: &Nearest,
) -> Option<Vec<u32>> {
    let lattice = Lattice {
        of: reference,
        half_widths_cm: &nearest.half_widths_cm,
        stitch_cm: problem.gauge.stitch_width().to_cm(),
        stitches: (counts.below() - counts.top).count() / 2,
        first_row: problem.first_row,
        curve_cm: problem.edge().to_cm() - reference.top_cm,
    };
    lattice.takes(near(problem.gauge).to_cm() / 2.0)
}

/// The rows that take so many stitches, seam stitches and the rows of the top seam included.
fn ledger(problem: &OutlineProblem<'_>, counts: CapCounts, takes: &[u32]) -> Ledger {
    let Seam { stitches, rows } = problem.seam;
    let mut writer = RowWriter {
        rows: Vec::new(),
        side: problem.first_row,
        left: counts.upper_arm + stitches + stitches,
    };
    let start = writer.left;
    writer.bind_off(counts.underarm);
    for &take in takes {
        writer.pair(Stitches(take));
    }
    for _ in 0..rows.count() {
        writer.row(Stitches::ZERO, Stitches::ZERO);
    }
    writer.row(writer.left, Stitches::ZERO);
    Ledger {
        start,
        rows: writer.rows,
        divided: None,
    }
}

struct RowWriter {
    rows: Vec<LedgerRow>,
    side: Side,
    left: Stitches,
}

impl RowWriter {
    /// A row that binds off at its start and decreases at each end.
    fn row(&mut self, bind_off: Stitches, each_end: Stitches) {
        self.left = self.left.saturating_sub(bind_off + each_end + each_end);
        self.rows.push(LedgerRow {
            row: u32::try_from(self.rows.len()).map_or(u32::MAX, |n| n + 1),
            side: self.side,
            bind_off,
            decrease_start: each_end,
            decrease_end: each_end,
            increase_start: Stitches::ZERO,
            increase_end: Stitches::ZERO,
            stitches: self.left,
            span: Span::new(0, 0),
        });
        self.side = self.side.turned();
    }

    /// Two rows, each binding off so many at its start.
    fn bind_off(&mut self, stitches: Stitches) {
        self.row(stitches, Stitches::ZERO);
        self.row(stitches, Stitches::ZERO);
    }

    /// Two rows that take so many from each edge.
    fn pair(&mut self, take: Stitches) {
        let none = Stitches::ZERO;
        match take.count() {
            1 => {
                for _ in 0..2 {
                    let here = if self.side == Side::Rs { take } else { none };
                    self.row(none, here);
                }
            }
            2 => {
                self.row(none, Stitches(1));
                self.row(none, Stitches(1));
            }
            _ => self.bind_off(take),
        }
    }
}

fn finished(
    problem: &OutlineProblem<'_>,
    status: OutlineStatus,
    ledger: Ledger,
    cap: Cap,
    bend: Length,
) -> Adapted {
    let edge = cap.edge_above_underarm();
    let mut adapted = Adapted {
        status,
        ledger,
        upper_arm: problem.upper_arm(),
        edge: problem.edge(),
        ease_wished: problem.wishes.ease.is_some(),
        front_left: edge - problem.edge_on(problem.opening.front),
        back_left: edge - problem.edge_on(problem.opening.back),
        bend,
        findings: Vec::new(),
        cap,
    };
    adapted.findings.extend(front_and_back(problem));
    adapted.findings.extend(rounded(problem, edge));
    adapted.findings.extend(bent(problem, bend));
    adapted
}

fn front_and_back(problem: &OutlineProblem<'_>) -> Option<Diagnostic> {
    let (front, back) = (problem.opening.front, problem.opening.back);
    let apart = (front - back).abs();
    if apart < problem.opening.row {
        return None;
    }
    let units = problem.units;
    let (long, short) = if front > back {
        ("front", "back")
    } else {
        ("back", "front")
    };
    let rows = Rows(nearest_whole(apart / problem.opening.row));
    let message = format!(
        "The {long} armhole's edge is {} longer than the {short}'s; the cap is symmetric and meets their mean, {} short of the one and {} over the other.",
        units.show(apart),
        units.show(apart / 2.0),
        units.show(apart / 2.0),
    );
    let next = format!(
        "Nothing, or work {rows} more on the {short}, or {rows} fewer on the {long}, before the shoulder."
    );
    Some(Diagnostic::new(&FRONT_BACK, message).next(next))
}

/// An outline bent further than this gets a warning (common practice, no source): two rows or stitches
/// either way are still the same cap to the eye.
const FAR: Length = Length::cm(1.0);

fn bent(problem: &OutlineProblem<'_>, bend: Length) -> Option<Diagnostic> {
    if bend < FAR {
        return None;
    }
    let units = problem.units;
    let free = OutlineProblem {
        wishes: OutlineWishes {
            depth: None,
            keep: Keep::Shape,
            ..problem.wishes
        },
        rows: None,
        ..problem.clone()
    };
    let message = format!(
        "To meet its edge the outline had to be bent by {} (root mean square of one side).",
        units.show(bend)
    );
    let found = Diagnostic::new(&BENT_FAR, message);
    let is_free = problem.depth().is_none() && problem.wishes.keep == Keep::Shape;
    if is_free {
        return Some(found.next(
            "The depth is free already and no depth asks for less: check the armhole's measures and the arm.",
        ));
    }
    let unbent = adapt(&free).ok().filter(|other| {
        other
            .findings
            .iter()
            .all(|said| said.code.id != BENT_FAR.id)
    });
    Some(match unbent {
        Some(other) => found.next(format!(
            "Let the depth be free (no adapt.depth, adapt.keep = \"shape\"): then the cap has {}, {} deep, and is bent less.",
            other.cap.rows(),
            units.show(other.cap.depth())
        )),
        None => found.next(
            "A free depth asks for no less (tried): check the armhole's measures and the arm.",
        ),
    })
}

fn rounded(problem: &OutlineProblem<'_>, edge: Length) -> Option<Diagnostic> {
    let off = edge - problem.edge();
    (off.abs() > near(problem.gauge)).then(|| {
        let message = format!(
            "In whole stitches and rows the cap's edge comes to {} a side; {} was wanted.",
            problem.units.show(edge),
            problem.units.show(problem.edge()),
        );
        Diagnostic::new(&ROUNDED, message)
    })
}
