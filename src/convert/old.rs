//! The old garment: lines -> ledgers -> outlines, checked.

use super::gauges::gauges;
use crate::body::{self, Arm};
use crate::case::{Armhole, Body, BodyKey, Case};
use crate::check::{Garment, SizeWidths, garment_findings};
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::{Gauge, Length, Rows, Side, Stitches};
use crate::outline::{ArmholeEdge, Cap, Seam, armhole_from_ledger, armhole_from_measures};
use crate::pattern::{self, Context, Ledger, Piece, Readings};

/// The old garment in one size: what `check` looks at, without a new cap.
#[derive(Clone, Debug)]
pub struct Old {
    /// The size's label.
    pub size: String,
    /// The cap's rows.
    pub ledger: Ledger,
    /// The cap's outline.
    pub cap: Cap,
    /// The front armhole.
    pub front: ArmholeEdge,
    /// The back armhole.
    pub back: ArmholeEdge,
    /// The arms of the people it is for.
    pub arm: Option<Arm>,
    /// What was found.
    pub findings: Vec<Diagnostic>,
}

type Garments = (Vec<(usize, Old)>, Vec<Diagnostic>);

/// Lines -> ledgers -> outlines, for every size asked for.
pub(super) fn read_garment(case: &Case, only: Option<usize>) -> Result<Garments, Vec<Diagnostic>> {
    let (gauge, _) = gauges(case)?;
    let (ledgers, mut findings) = read_cap(case, gauge.pattern);
    let (fronts, backs) = (
        Edges::read(case, Front, gauge.body, &mut findings),
        Edges::read(case, Back, gauge.body, &mut findings),
    );
    if worst(&findings) == Some(Level::Error) {
        return Err(findings);
    }
    let mut old = Vec::new();
    let mut failed = Vec::new();
    for index in (0..case.sizes.len()).filter(|i| only.is_none_or(|only| only == *i)) {
        let edges = fronts.of(index, gauge.body).and_then(|front| {
            let back = backs.of(index, gauge.body)?;
            Ok((front, back))
        });
        let label = &case.sizes[index];
        match garment(case, index, &ledgers[index], gauge.pattern, edges) {
            Ok(one) => old.push((index, one)),
            Err(found) => failed.extend(found.into_iter().map(|d| d.for_size(label))),
        }
    }
    if failed.is_empty() {
        Ok((old, findings))
    } else {
        findings.extend(failed);
        Err(findings)
    }
}

/// Where the cap's lines stand in a case.
const CAP_LINES: &str = "sleeve.cap";

fn read_cap(case: &Case, gauge: Gauge) -> (Vec<Ledger>, Vec<Diagnostic>) {
    let context = context(
        case,
        &case.sleeve.stitches,
        case.sleeve.first_row,
        gauge,
        Piece::Sleeve,
    );
    let (reading, found) = pattern::read(&case.sleeve.cap, &context);
    let ledgers = reading.sizes.into_iter().map(|size| size.ledger).collect();
    let found = found.into_iter().map(|d| d.in_lines(CAP_LINES)).collect();
    (ledgers, found)
}

/// What the cap's lines are read with.
///
/// # Errors
/// All findings when the pattern's gauge cannot be used.
pub fn cap_context(case: &Case) -> Result<Context, Vec<Diagnostic>> {
    let (gauge, _) = gauges(case)?;
    let sleeve = &case.sleeve;
    Ok(context(
        case,
        &sleeve.stitches,
        sleeve.first_row,
        gauge.pattern,
        Piece::Sleeve,
    ))
}

fn context(
    case: &Case,
    stitches: &[Stitches],
    first_row: Side,
    gauge: Gauge,
    piece: Piece,
) -> Context {
    Context {
        sizes: case.sizes.clone(),
        stitches: stitches.to_vec(),
        first_row,
        row_heights: Some(vec![gauge.row_height(); case.sizes.len()]),
        units: case.units,
        piece,
        readings: Readings::default(),
    }
}

/// The front or the back of the body.
#[derive(Clone, Copy, PartialEq, Eq)]
enum BodySide {
    Front,
    Back,
}

use BodySide::{Back, Front};

impl BodySide {
    fn armhole(self, case: &Case) -> &Armhole {
        match self {
            Front => &case.front,
            Back => &case.back,
        }
    }

    /// Where its lines stand in the case.
    fn lines(self, case: &Case) -> &'static str {
        match self {
            _ if case.front == case.back => "armhole.lines",
            Front => "armhole.front.lines",
            Back => "armhole.back.lines",
        }
    }
}

/// One side's armhole before it is measured size by size.
enum Edges<'a> {
    Lines(Vec<Ledger>, Seam),
    Measures(&'a [Length], &'a [Length], &'a [Length]),
}

impl<'a> Edges<'a> {
    fn read(case: &'a Case, body: BodySide, gauge: Gauge, findings: &mut Vec<Diagnostic>) -> Self {
        match body.armhole(case) {
            Armhole::Measures {
                edge,
                underarm,
                depth,
            } => Self::Measures(edge, underarm, depth),
            Armhole::Lines {
                stitches,
                lines,
                first_row,
                seam_stitches,
            } => {
                let context = context(case, stitches, *first_row, gauge, Piece::Body);
                let (reading, found) = pattern::read(lines, &context);
                // One table stands for both sides: what is wrong in it is said once.
                let again = body == Back && case.front == case.back;
                let name = body.lines(case);
                findings.extend(
                    found
                        .into_iter()
                        .filter(|_| !again)
                        .map(|d| d.in_lines(name)),
                );
                let seam = Seam {
                    stitches: *seam_stitches,
                    rows: Rows::ZERO,
                };
                Self::Lines(reading.sizes.into_iter().map(|s| s.ledger).collect(), seam)
            }
        }
    }

    fn of(&self, index: usize, gauge: Gauge) -> Result<ArmholeEdge, Diagnostic> {
        match self {
            Self::Lines(ledgers, seam) => armhole_from_ledger(&ledgers[index], gauge, *seam),
            Self::Measures(edge, underarm, depth) => {
                armhole_from_measures(edge[index], underarm[index], depth[index], gauge)
            }
        }
    }
}

fn garment(
    case: &Case,
    index: usize,
    ledger: &Ledger,
    gauge: Gauge,
    edges: Result<(ArmholeEdge, ArmholeEdge), Diagnostic>,
) -> Result<Old, Vec<Diagnostic>> {
    let seam = Seam {
        stitches: case.sleeve.seam_stitches,
        rows: case.sleeve.seam_rows,
    };
    let cap = Cap::from_ledger(ledger, gauge, seam);
    let (cap, (front, back)) = match (cap, edges) {
        (Ok(cap), Ok(edges)) => (cap, edges),
        (cap, edges) => {
            let mut found = cap.err().unwrap_or_default();
            found.extend(edges.err());
            return Err(found);
        }
    };
    let (arm, mut findings) = arm(case.body.as_ref(), index);
    findings.extend(garment_findings(&Garment {
        units: case.units,
        cap: &cap,
        front: &front,
        back: &back,
        saddle: saddle(case, index, gauge),
        arm: arm.as_ref(),
    }));
    let size = case.sizes[index].clone();
    if worst(&findings) == Some(Level::Error) {
        return Err(findings);
    }
    Ok(Old {
        ledger: ledger.clone(),
        cap,
        front,
        back,
        arm,
        findings: findings.into_iter().map(|d| d.for_size(&size)).collect(),
        size,
    })
}

/// Width of the stitches that wait at the shoulder.
fn saddle(case: &Case, index: usize, gauge: Gauge) -> Length {
    let shoulder = case.shoulder.as_ref().and_then(|list| list.get(index));
    shoulder.map_or(Length::ZERO, |shoulder| gauge.width(shoulder.live))
}

fn arm(body: Option<&Body>, index: usize) -> (Option<Arm>, Vec<Diagnostic>) {
    let Some((body, key)) = body.and_then(|body| Some((body, body.keys.get(index)?))) else {
        return (None, Vec::new());
    };
    let key = match key {
        BodyKey::Size(label) => body::Key::Size(label.clone()),
        BodyKey::Bust(bust) => body::Key::Bust(*bust),
        BodyKey::UpperArm(arm) => body::Key::UpperArm(*arm),
    };
    body::look_up(body.table.as_deref().unwrap_or_default(), &key)
}

/// What is compared from size to size.
pub(super) fn old_widths(old: &Old) -> SizeWidths {
    SizeWidths {
        size: old.size.clone(),
        lengths: vec![
            ("old upper arm", old.cap.upper_arm()),
            ("old cap's depth", old.cap.depth()),
            ("front armhole's edge", old.front.edge()),
            ("back armhole's edge", old.back.edge()),
        ],
    }
}
