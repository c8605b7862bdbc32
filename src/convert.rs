//! The job, readable top to bottom: case -> conversion.

use crate::body::{self, Arm};
use crate::case::{Armhole, Body, BodyKey, CapGauge, Case};
use crate::check::{
    Garment, SizeWidths, SleeveFacts, garment_findings, gauge_findings, size_set_findings,
    sleeve_findings,
};
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::fit::{
    self, CapPlan, DEFAULT_GAP_LIMIT, Ease, Fit, Live, Measures, Move, Problem, Repeat, Tube,
    TubePlan, Wishes,
};
use crate::measure::{Gauge, Length, Rows, Side, Stitches};
use crate::needle::{self, Sleeve};
use crate::outline::{ArmholeEdge, Cap, Seam, armhole_from_ledger, armhole_from_measures};
use crate::pattern::{self, Context, Ledger, Piece, Readings};
use crate::swatch::{self, Drift, Measured};
use crate::wording::{self, Instructions, SleeveText};

/// A converted case: every size that was asked for.
#[derive(Clone, Debug)]
pub struct Conversion {
    /// The sizes, in the case's order.
    pub sizes: Vec<SizeConversion>,
    /// What concerns the lines and the case as a whole.
    pub findings: Vec<Diagnostic>,
}

impl Conversion {
    /// The highest level of all findings.
    pub fn worst(&self) -> Option<Level> {
        let sizes = self.sizes.iter().filter_map(|size| worst(&size.findings));
        sizes.chain(worst(&self.findings)).max()
    }
}

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

/// One size, converted.
#[derive(Clone, Debug)]
pub struct SizeConversion {
    /// The old garment.
    pub old: Old,
    /// The gauges used.
    pub gauge: GaugesUsed,
    /// The new cap.
    pub fit: Fit,
    /// The fit's measure that needs both the plan and the problem: seam edge of one side.
    pub edge: Length,
    /// The common-practice recipe beside it.
    pub recipe: (CapPlan, Measures, Length),
    /// The sleeve below the cap, when the case gives cuff and length.
    pub tube: Option<TubePlan>,
    /// The written pattern: one for each sleeve that needs its own.
    pub written: Vec<(Sleeve, Instructions)>,
    /// Upper arm in rounds if the drift were this many per cent, when no round swatch is given.
    pub sensitivity: Vec<(i32, Length)>,
    /// Everything found for this size.
    pub findings: Vec<Diagnostic>,
}

/// The gauges a conversion uses.
#[derive(Clone, Copy, Debug)]
pub struct GaugesUsed {
    /// The old cap's.
    pub pattern: Gauge,
    /// The armhole's.
    pub body: Gauge,
    /// The new cap's.
    pub cap: Gauge,
    /// The tube's.
    pub tube: Gauge,
    /// Round against flat, when both were swatched.
    pub drift: Option<Drift>,
    /// True when the tube's gauge was not measured.
    pub tube_assumed: bool,
}

impl GaugesUsed {
    /// Tube against cap in per cent: stitches, rows.
    pub fn drift_pct(&self) -> (f64, f64) {
        let pct = |tube: f64, cap: f64| 100.0 * (tube / cap - 1.0);
        (
            pct(self.tube.stitches_per_10cm(), self.cap.stitches_per_10cm()),
            pct(self.tube.rows_per_10cm(), self.cap.rows_per_10cm()),
        )
    }
}

/// Converts a case, or one of its sizes.
///
/// # Errors
/// All findings when the case cannot be converted: lines that cannot be read, an outline that is no
/// cap, no feasible fit, a certificate or a proof that fails. Nothing is returned then.
pub fn convert(case: &Case, only: Option<usize>) -> Result<Conversion, Vec<Diagnostic>> {
    let (old, mut findings) = read_garment(case, only)?;
    let (gauge, said) = gauges(case)?;
    findings.extend(said);
    let mut sizes = Vec::new();
    let mut failed = Vec::new();
    for (index, old) in old {
        match convert_size(case, index, old, gauge) {
            Ok(size) => sizes.push(size),
            Err(found) => failed.extend(found),
        }
    }
    if !failed.is_empty() {
        failed.splice(0..0, findings);
        return Err(failed);
    }
    findings.extend(size_set_findings(case.units, &widths(&sizes)));
    Ok(Conversion { sizes, findings })
}

/// Reads and checks the old garment, without fitting anything: what `check` prints.
///
/// # Errors
/// All findings when a size cannot be read.
pub fn check(
    case: &Case,
    only: Option<usize>,
) -> Result<(Vec<Old>, Vec<Diagnostic>), Vec<Diagnostic>> {
    let (old, mut findings) = read_garment(case, only)?;
    findings.extend(gauges(case)?.1);
    let old: Vec<Old> = old.into_iter().map(|(_, old)| old).collect();
    let widths: Vec<SizeWidths> = old.iter().map(old_widths).collect();
    findings.extend(size_set_findings(case.units, &widths));
    Ok((old, findings))
}

/// Gauges from the swatches: the cap flat, the tube round, each with its stand-in.
fn gauges(case: &Case) -> Result<(GaugesUsed, Vec<Diagnostic>), Vec<Diagnostic>> {
    let mut findings = Vec::new();
    let mut measure = |swatch: &crate::case::Swatch, name: &str| -> Option<Measured> {
        let (measured, said) = swatch::measure(swatch, case.units);
        let named = said.into_iter().map(|d| Diagnostic {
            message: format!("[gauge.{name}] {}", d.message),
            ..d
        });
        findings.extend(named);
        measured
    };
    let pattern = measure(&case.gauge.pattern, "pattern");
    let flat = case.gauge.flat.as_ref().and_then(|s| measure(s, "flat"));
    let round = case.gauge.round.as_ref().and_then(|s| measure(s, "round"));
    let body = case.gauge.body.as_ref().and_then(|s| measure(s, "body"));
    if let (Some(flat), Some(round)) = (&case.gauge.flat, &case.gauge.round) {
        findings.extend(swatch::pair_findings(flat, round, case.units));
    }
    findings.extend(gauge_findings(
        case.gauge.flat.is_some(),
        case.gauge.round.is_some(),
    ));
    let Some(pattern) = pattern.as_ref().and_then(gauge_of) else {
        return Err(findings);
    };
    if worst(&findings) == Some(Level::Error) {
        return Err(findings);
    }
    let drift = flat
        .as_ref()
        .zip(round.as_ref())
        .map(|(f, r)| swatch::drift(f, r));
    let (flat, round) = (
        flat.as_ref().and_then(gauge_of),
        round.as_ref().and_then(gauge_of),
    );
    let cap = match case.gauge.cap {
        Some(CapGauge::Flat) => flat,
        Some(CapGauge::Round) => round,
        None => flat.or(round),
    };
    let used = GaugesUsed {
        pattern,
        body: body.as_ref().and_then(gauge_of).unwrap_or(pattern),
        cap: cap.unwrap_or(pattern),
        tube: round.unwrap_or(pattern),
        drift,
        tube_assumed: round.is_none(),
    };
    Ok((used, findings))
}

fn gauge_of(measured: &Measured) -> Option<Gauge> {
    measured.gauge().ok()
}

type Garments = (Vec<(usize, Old)>, Vec<Diagnostic>);

/// Lines -> ledgers -> outlines, for every size asked for.
fn read_garment(case: &Case, only: Option<usize>) -> Result<Garments, Vec<Diagnostic>> {
    let (gauge, _) = gauges(case)?;
    let (ledgers, mut findings) = read_cap(case, gauge.pattern);
    let (fronts, backs) = (
        Edges::read(case, &case.front, gauge.body, &mut findings),
        Edges::read(case, &case.back, gauge.body, &mut findings),
    );
    findings.dedup();
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

/// One side's armhole before it is measured size by size.
enum Edges<'a> {
    Lines(Vec<Ledger>, Seam),
    Measures(&'a [Length], &'a [Length], &'a [Length]),
}

impl<'a> Edges<'a> {
    fn read(
        case: &Case,
        armhole: &'a Armhole,
        gauge: Gauge,
        findings: &mut Vec<Diagnostic>,
    ) -> Self {
        match armhole {
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
                findings.extend(found);
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

/// Fit -> certificate -> written pattern -> knitted back, for one size.
fn convert_size(
    case: &Case,
    index: usize,
    old: Old,
    gauge: GaugesUsed,
) -> Result<SizeConversion, Vec<Diagnostic>> {
    let named = |found: Vec<Diagnostic>| -> Vec<Diagnostic> {
        found.into_iter().map(|d| d.for_size(&old.size)).collect()
    };
    let problem = problem(case, index, &old, gauge);
    let fit = fit::fit(&problem).map_err(|d| named(vec![d]))?;
    let faults = fit::certify(&problem, &fit.plan, &fit.measures);
    if !faults.is_empty() {
        return Err(named(faults));
    }
    let recipe = fit::recipe(&problem);
    let recipe_measures = fit::measure(&problem, &recipe);
    let recipe_edge = recipe_measures.edge(&recipe, &problem);
    let tube = tube(case, index, gauge, fit.plan.upper_arm());
    let written = write(case, &fit.plan, tube.as_ref()).map_err(named)?;
    let mut findings = old.findings.clone();
    findings.extend(named(sleeve_findings(&SleeveFacts {
        units: case.units,
        fit: &fit,
        row_height: gauge.cap.row_height(),
        wanted: problem.upper_arm,
        arm: old.arm.as_ref(),
    })));
    let edge = fit.measures.edge(&fit.plan, &problem);
    Ok(SizeConversion {
        sensitivity: sensitivity(gauge, fit.plan.upper_arm()),
        gauge,
        edge,
        recipe: (recipe, recipe_measures, recipe_edge),
        tube,
        written,
        findings,
        fit,
        old,
    })
}

fn problem<'a>(case: &Case, index: usize, old: &'a Old, gauge: GaugesUsed) -> Problem<'a> {
    let shoulder = case.shoulder.as_ref().and_then(|list| list.get(index));
    let wishes = &case.fit;
    Problem {
        cap: &old.cap,
        front: &old.front,
        back: &old.back,
        cap_gauge: gauge.cap,
        tube_gauge: gauge.tube,
        upper_arm: old.cap.upper_arm(),
        repeat: Repeat {
            multiple: case.sleeve.repeat.0,
            plus: case.sleeve.repeat.1,
        },
        live: shoulder.map(|shoulder| Live {
            stitches: shoulder.live,
            extra_each_side: shoulder.extra_each_side,
        }),
        wishes: Wishes {
            moves: wishes.moves.as_ref().map(|moves| {
                moves
                    .iter()
                    .map(|(take, drop)| Move::new(*take, *drop))
                    .collect()
            }),
            runs: wishes.runs,
            gap_limit: wishes.gap_limit.unwrap_or(DEFAULT_GAP_LIMIT),
            ease: if wishes.ease_at_shoulder {
                Ease::Shoulder
            } else {
                Ease::Even
            },
            base_tolerance: wishes.base_tolerance,
        },
    }
}

fn tube(case: &Case, index: usize, gauge: GaugesUsed, upper_arm: Stitches) -> Option<TubePlan> {
    let length = *case.sleeve.length.as_ref()?.get(index)?;
    let seams = case.sleeve.seam_stitches + case.sleeve.seam_stitches;
    let cuff = match &case.sleeve.cuff_stitches {
        Some(cuff) => gauge.pattern.width(cuff.get(index)?.saturating_sub(seams)),
        None => gauge.tube.width(upper_arm),
    };
    let repeat = Repeat {
        multiple: case.sleeve.repeat.0,
        plus: case.sleeve.repeat.1,
    };
    fit::tube(upper_arm, Tube { cuff, length }, gauge.tube, repeat)
}

/// Writes the pattern and knits it back; a text that does not knit back is never returned.
fn write(
    case: &Case,
    plan: &CapPlan,
    tube: Option<&TubePlan>,
) -> Result<Vec<(Sleeve, Instructions)>, Vec<Diagnostic>> {
    let mut written = Vec::new();
    for &sleeve in Sleeve::needed(plan) {
        let text = wording::write(&SleeveText {
            plan,
            tube,
            style: case.style,
            sleeve,
        });
        let (knitted, mut faults) = needle::knit_sentences(&text.sentences());
        faults.extend(needle::prove(plan, tube, case.style, sleeve, &knitted));
        if worst(&faults) == Some(Level::Error) {
            return Err(faults);
        }
        written.push((sleeve, text));
    }
    Ok(written)
}

/// Drifts shown when the tube's gauge is assumed, in per cent.
const DRIFTS_PCT: [i32; 7] = [-6, -4, -2, 0, 2, 4, 6];

fn sensitivity(gauge: GaugesUsed, upper_arm: Stitches) -> Vec<(i32, Length)> {
    let width = gauge.tube.width(upper_arm);
    let drifts = DRIFTS_PCT.into_iter().filter(|_| gauge.tube_assumed);
    drifts
        .map(|pct| (pct, width / (1.0 + f64::from(pct) / 100.0)))
        .collect()
}

fn old_widths(old: &Old) -> SizeWidths {
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

fn widths(sizes: &[SizeConversion]) -> Vec<SizeWidths> {
    sizes.iter().map(|size| old_widths(&size.old)).collect()
}
