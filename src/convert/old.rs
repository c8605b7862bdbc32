//! The printed lines of a case, read: what is known of each size before its cap is settled.

use super::gauges::gauges;
use super::person::{Person, person};
use crate::case::{Armhole, Case, Counted, Taped};
use crate::check::{CountedArmhole, counted_findings, lines_as_counted};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Side, Stitches, Stop, Units, nearest_whole};
use crate::outline::{
    ArmholeCounts, ArmholeEdge, Cap, Seam, armhole_from_counts, armhole_from_counts_and_tape,
    armhole_from_ledger, armhole_from_ledger_as_counted, armhole_from_measures,
    worked_from_the_top,
};
use crate::pattern::{self, Context, Ledger, Piece};

/// Where the cap's lines stand in a case.
const CAP_LINES: &str = "sleeve.cap";

pub(super) fn read_cap(case: &Case, gauge: Gauge, stop: &Stop) -> (Vec<Ledger>, Vec<Diagnostic>) {
    if !case.sleeve.has_old_cap() {
        return (Vec::new(), Vec::new());
    }
    let context = context(
        case,
        &case.sleeve.stitches,
        case.sleeve.first_row,
        gauge,
        Piece::Sleeve,
    );
    let (reading, found) = pattern::read_until(&case.sleeve.cap, &context, stop);
    let from_the_top = |ledger: &Ledger| ledger.is_from_the_top();
    let ledgers: Vec<Ledger> = reading.sizes.into_iter().map(|size| size.ledger).collect();
    let mut found = found;
    let top_down = !ledgers.is_empty() && ledgers.iter().all(from_the_top);
    let ledgers = if top_down {
        found.retain(|said| said.code.id != "not-closed");
        found.push(worked_from_the_top());
        ledgers.iter().map(Ledger::turned).collect()
    } else {
        ledgers
    };
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

/// What the lines of an armhole are read with; `None` for an armhole that is given by measures.
///
/// # Errors
/// All findings when the gauge cannot be used.
pub fn armhole_context(case: &Case, armhole: &Armhole) -> Result<Option<Context>, Vec<Diagnostic>> {
    let (gauge, _) = gauges(case)?;
    Ok(match armhole {
        Armhole::Measures { .. } | Armhole::Counts { .. } => None,
        Armhole::Lines {
            stitches,
            first_row,
            ..
        } => Some(context(case, stitches, *first_row, gauge.body, Piece::Body)),
    })
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
        readings: case.readings,
    }
}

/// The front or the back of the body.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum BodySide {
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
pub(super) enum Edges<'a> {
    Lines(Vec<Ledger>, Seam, Option<&'a [Counted]>),
    Measures(&'a [Length], &'a [Length], &'a [Length]),
    Counts(&'a [Counted], &'a [Taped]),
}

impl<'a> Edges<'a> {
    pub(super) fn read(
        case: &'a Case,
        body: BodySide,
        gauge: Gauge,
        findings: &mut Vec<Diagnostic>,
        stop: &Stop,
    ) -> Self {
        match body.armhole(case) {
            Armhole::Measures {
                edge,
                underarm,
                depth,
            } => Self::Measures(edge, underarm, depth),
            Armhole::Counts { counted, taped } => Self::Counts(counted, taped),
            Armhole::Lines {
                stitches,
                lines,
                first_row,
                seam_stitches,
                counted,
            } => {
                let context = context(case, stitches, *first_row, gauge, Piece::Body);
                let (reading, found) = pattern::read_until(lines, &context, stop);
                // One table stands for both sides: what is wrong in it is said once. The rest of
                // a body piece waits on the needle for the shoulder seam.
                let again = body == Back && case.front == case.back;
                let found = found
                    .into_iter()
                    .filter(|said| !again && said.code.id != "not-closed");
                let name = body.lines(case);
                findings.extend(found.map(|said| said.in_lines(name)));
                let seam = Seam {
                    stitches: *seam_stitches,
                    rows: Rows::ZERO,
                };
                let ledgers = reading.sizes.into_iter().map(|s| s.ledger).collect();
                Self::Lines(ledgers, seam, counted.as_deref())
            }
        }
    }

    pub(super) fn of(&self, index: usize, gauge: Gauge) -> Result<ArmholeEdge, Diagnostic> {
        match self {
            Self::Lines(ledgers, seam, None) => armhole_from_ledger(&ledgers[index], gauge, *seam),
            Self::Lines(ledgers, seam, Some(counted)) => {
                let counted = &counted[index];
                let found = (counted.rows, counted.underarm());
                armhole_from_ledger_as_counted(&ledgers[index], gauge, *seam, found)
            }
            Self::Measures(edge, underarm, depth) => {
                armhole_from_measures(edge[index], underarm[index], depth[index], gauge)
            }
            Self::Counts(counted, taped) => {
                let (counts, taped) = (counts(&counted[index], &taped[index], gauge), taped[index]);
                let tape = (taped.edge, taped.underarm, taped.depth);
                armhole_from_counts_and_tape(&counts, tape, gauge)
            }
        }
    }

    /// What was counted against the lines or the tape; nothing where only one of them was given.
    pub(super) fn counted_findings(
        &self,
        index: usize,
        side: &'static str,
        gauge: Gauge,
        units: Units,
    ) -> Vec<Diagnostic> {
        match self {
            Self::Lines(ledgers, seam, Some(counted)) => {
                let of_lines = armhole_from_ledger(&ledgers[index], gauge, *seam);
                let counted = &counted[index];
                of_lines.map_or_else(
                    |_| Vec::new(),
                    |edge| lines_as_counted(side, &edge, counted.rows, counted.underarm()),
                )
            }
            Self::Counts(counted, taped) => {
                let (counted, taped) = (&counted[index], &taped[index]);
                let drawn = armhole_from_counts(&counts(counted, taped, gauge), gauge);
                drawn.map_or_else(
                    |_| Vec::new(),
                    |drawn| {
                        counted_findings(&CountedArmhole {
                            units,
                            side,
                            gauge,
                            drawn: &drawn,
                            underarm: counted.underarm(),
                            edge: taped.edge,
                            depth: taped.depth,
                            underarm_width: taped.underarm,
                        })
                    },
                )
            }
            Self::Lines(_, _, None) | Self::Measures(..) => Vec::new(),
        }
    }
}

/// The counts of one edge; an underarm that was only measured in whole stitches.
fn counts(counted: &Counted, taped: &Taped, gauge: Gauge) -> ArmholeCounts {
    let measured = taped.underarm.unwrap_or(Length::ZERO) / gauge.stitch_width();
    ArmholeCounts {
        rows: counted.rows.unwrap_or_default(),
        steps: counted.steps,
        decreases: counted.decreases,
        underarm: counted
            .underarm()
            .unwrap_or(Stitches(nearest_whole(measured))),
    }
}

/// What is known of one size before its cap is settled.
#[derive(Clone, Debug)]
pub(super) struct Parts {
    /// Its place in the case.
    pub(super) index: usize,
    /// The old cap as its lines have it.
    pub(super) printed: Option<(Ledger, Cap)>,
    /// The front armhole.
    pub(super) front: ArmholeEdge,
    /// The back armhole.
    pub(super) back: ArmholeEdge,
    /// Whom it is for.
    pub(super) person: Person,
    /// Width of the stitches that wait at the shoulder.
    pub(super) saddle: Length,
}

impl Parts {
    pub(super) fn read(
        case: &Case,
        index: usize,
        ledger: Option<&Ledger>,
        gauge: Gauge,
        edges: Result<(ArmholeEdge, ArmholeEdge), Diagnostic>,
    ) -> Result<Self, Vec<Diagnostic>> {
        let seam = Seam {
            stitches: case.sleeve.seam_stitches,
            rows: case.sleeve.seam_rows,
        };
        let cap = ledger.map(|ledger| {
            let cap = Cap::from_ledger(ledger, gauge, seam)?;
            Ok((ledger.clone(), cap))
        });
        let (printed, (front, back)) = match (cap.transpose(), edges) {
            (Ok(printed), Ok(edges)) => (printed, edges),
            (cap, edges) => {
                let mut found: Vec<Diagnostic> = cap.err().unwrap_or_default();
                found.extend(edges.err());
                return Err(found);
            }
        };
        Ok(Self {
            index,
            printed,
            front,
            back,
            person: person(case, index),
            saddle: saddle(case, index, gauge),
        })
    }
}

/// Width of the stitches that wait at the shoulder.
fn saddle(case: &Case, index: usize, gauge: Gauge) -> Length {
    let shoulder = case.shoulder.as_ref().and_then(|list| list.get(index));
    shoulder.map_or(Length::ZERO, |shoulder| gauge.width(shoulder.live))
}
