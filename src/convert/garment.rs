//! The old garment: lines -> ledgers -> outlines, checked, in every size that was asked for.

use super::adapt::{Adaptation, outlines};
use super::gauges::{GaugesUsed, gauges};
use super::old::{BodySide, Edges, Parts, read_cap};
use super::person::Person;
use crate::adapt::Adapted;
use crate::body::Arm;
use crate::case::Case;
use crate::check::{
    ArmShare, Garment, SizeWidths, adapted_to, arm_findings, arm_share, curve_findings,
    garment_findings, stopped,
};
use crate::diagnostic::{Diagnostic, Level};
use crate::measure::{Gauge, Length, Stop};
use crate::outline::{ArmholeEdge, Cap, CapEdge, EaseBand, ease_strip};
use crate::pattern::Ledger;

/// The old garments that could be made out, and what was said on the way.
pub(super) struct Garments {
    /// Every size that has an outline, with its place in the case.
    pub(super) sizes: Vec<(usize, Old)>,
    /// What concerns the lines, sizes that have no outline among them.
    pub(super) findings: Vec<Diagnostic>,
    /// The gauges they were measured with.
    pub(super) gauge: GaugesUsed,
    /// What concerns the gauges.
    pub(super) of_gauges: Vec<Diagnostic>,
}

impl Garments {
    /// Everything that keeps a conversion from going on, with all that was said beside it.
    pub(super) fn failure(&self) -> Option<Vec<Diagnostic>> {
        let sizes = self.sizes.iter().flat_map(|(_, old)| &old.findings);
        let failed = sizes.filter(|finding| finding.level == Level::Error);
        let failed: Vec<Diagnostic> = self.findings.iter().chain(failed).cloned().collect();
        let fails = failed.iter().any(|finding| finding.level == Level::Error);
        fails.then_some(failed)
    }
}

/// Lines -> ledgers -> outlines, for every size asked for. A size with an error in its lines has
/// no outline; the others go on.
///
/// # Errors
/// All findings when the gauge cannot be used.
pub(super) fn read_garment(
    case: &Case,
    only: Option<usize>,
    stop: &Stop,
) -> Result<Garments, Vec<Diagnostic>> {
    let (gauge, of_gauges) = gauges(case)?;
    let (ledgers, mut findings) = read_cap(case, gauge.pattern, stop);
    let (fronts, backs) = (
        Edges::read(case, BodySide::Front, gauge.body, &mut findings, stop),
        Edges::read(case, BodySide::Back, gauge.body, &mut findings, stop),
    );
    unless_stopped(stop)?;
    let failed: Vec<bool> = case
        .sizes
        .iter()
        .map(|label| findings.iter().any(|finding| is_error_of(finding, label)))
        .collect();
    // When one size is asked for, what is said about the others is not. They are adapted all the
    // same, because a size set keeps its order.
    let asked = only.and_then(|only| case.sizes.get(only));
    findings.retain(|said| said.size.is_none() || asked.is_none() || said.size.as_ref() == asked);
    let wanted = |index: usize| only.is_none_or(|only| only == index);
    let mut parts = Vec::new();
    for (index, label) in case.sizes.iter().enumerate() {
        if failed.get(index).copied().unwrap_or(true) || case.adapt.is_none() && !wanted(index) {
            continue;
        }
        if wanted(index) {
            let counted = counted_on_body(case, index, (&fronts, &backs), gauge.body);
            findings.extend(counted.into_iter().map(|d| d.for_size(label)));
        }
        let edges = fronts.of(index, gauge.body).and_then(|front| {
            let back = backs.of(index, gauge.body)?;
            Ok((front, back))
        });
        match Parts::read(case, index, ledgers.get(index), gauge.pattern, edges) {
            Ok(one) => parts.push(one),
            Err(found) if wanted(index) => {
                findings.extend(found.into_iter().map(|d| d.for_size(label)));
            }
            Err(_) => {}
        }
    }
    let adapted = match &case.adapt {
        Some(wishes) => {
            let found = outlines(case, wishes, &gauge, &parts);
            found.into_iter().map(Some).collect()
        }
        None => vec![None; parts.len()],
    };
    let mut sizes = Vec::new();
    for (part, adapted) in parts.into_iter().zip(adapted) {
        let index = part.index;
        if !wanted(index) {
            continue;
        }
        match adapted.transpose() {
            Ok(adapted) => sizes.extend(garment(case, part, adapted).map(|one| (index, one))),
            Err(found) => {
                let label = case.sizes.get(index).cloned().unwrap_or_default();
                findings.extend(found.into_iter().map(|d| d.for_size(&label)));
            }
        }
    }
    Ok(Garments {
        sizes,
        findings,
        gauge,
        of_gauges,
    })
}

/// What was counted on the body against what else is known of it; said once where one table stands for
/// both sides.
fn counted_on_body(
    case: &Case,
    index: usize,
    (fronts, backs): (&Edges<'_>, &Edges<'_>),
    gauge: Gauge,
) -> Vec<Diagnostic> {
    let found = |edges: &Edges<'_>, side| edges.counted_findings(index, side, gauge, case.units);
    if case.front == case.back {
        return found(fronts, "");
    }
    let mut both = found(fronts, "front ");
    both.extend(found(backs, "back "));
    both
}

/// Nothing goes on once the work is to end.
///
/// # Errors
/// The one finding that says so.
pub(super) fn unless_stopped(stop: &Stop) -> Result<(), Vec<Diagnostic>> {
    if stop.is_set() {
        Err(vec![stopped()])
    } else {
        Ok(())
    }
}

/// True for an error in the lines of this size, or of all.
fn is_error_of(finding: &Diagnostic, size: &str) -> bool {
    let concerns = finding.size.as_ref().is_none_or(|named| named == size);
    finding.level == Level::Error && concerns
}

/// The old garment in one size: what `check` looks at, without a new cap.
#[derive(Clone, Debug)]
pub struct Old {
    /// The size's label.
    pub size: String,
    /// The cap's rows: those of its lines, or of the outline that `[adapt]` put in their place.
    pub ledger: Ledger,
    /// The cap's outline, the same.
    pub cap: Cap,
    /// What `[adapt]` did.
    pub adapted: Option<Adaptation>,
    /// The front armhole.
    pub front: ArmholeEdge,
    /// The back armhole.
    pub back: ArmholeEdge,
    /// Width of the stitches that wait at the shoulder (a saddle's), half of it on each side.
    pub saddle: Length,
    /// Where along the front edge the cap is longer or shorter than the armhole.
    pub front_ease: Vec<EaseBand>,
    /// The same at the back.
    pub back_ease: Vec<EaseBand>,
    /// The arms of the people it is for.
    pub arm: Option<Arm>,
    /// The share of them whom the old upper arm fits.
    pub share: Option<ArmShare>,
    /// What was found.
    pub findings: Vec<Diagnostic>,
}

/// Bands of a strip of ease: about two centimetres each on an adult's armhole.
pub(super) const EASE_BANDS: u32 = 8;

/// One size with its cap: the adapted one, or that of the lines. A size has one of them.
fn garment(case: &Case, parts: Parts, adapted: Option<Adaptation>) -> Option<Old> {
    let changed = adapted.as_ref().filter(|adapted| adapted.is_changed());
    let (ledger, cap) = match changed {
        Some(adapted) => (adapted.outline.ledger.clone(), adapted.outline.cap.clone()),
        None => parts.printed.clone()?,
    };
    let Parts {
        index,
        printed,
        front,
        back,
        person,
        saddle,
    } = parts;
    let Person {
        arm,
        bust,
        counterparts,
        mut findings,
    } = person;
    findings.extend(garment_findings(&Garment {
        units: case.units,
        cap: &cap,
        ledger: &ledger,
        front: &front,
        back: &back,
        saddle,
        bust,
        arm: arm.as_ref(),
        adapts: case.adapt.is_some(),
        counterparts: &counterparts,
    }));
    if let Some((ledger, cap)) = &printed {
        findings.extend(curve_findings(cap, ledger, &case.sleeve.cap));
    }
    if let Some(adapted) = &adapted {
        findings.extend(adapted.outline.findings.iter().cloned());
    }
    let size = case.sizes.get(index).cloned().unwrap_or_default();
    let ease = |armhole| ease_strip(&CapEdge::from(&cap), armhole, saddle / 2.0, EASE_BANDS);
    Some(Old {
        ledger,
        front_ease: ease(&front),
        back_ease: ease(&back),
        share: arm.as_ref().and_then(|arm| arm_share(cap.upper_arm(), arm)),
        cap,
        adapted,
        front,
        back,
        saddle,
        arm,
        findings: findings.into_iter().map(|d| d.for_size(&size)).collect(),
        size,
    })
}

impl Old {
    /// Depth of the cap as a share of the armhole's, the mean of front and back.
    pub fn depth_share(&self) -> f64 {
        self.cap.depth() / self.armhole_depth()
    }

    /// Depth of the armhole up to the middle of the shoulder, the mean of front and back: half of a
    /// saddle's width lies above the armhole's own rows.
    pub fn armhole_depth(&self) -> Length {
        (self.front.depth() + self.back.depth() + self.saddle) / 2.0
    }

    /// Ease of the whole edge at the front and at the back: what the bands of a strip add up to.
    pub fn ease(&self) -> (Length, Length) {
        let sum = |strip: &[EaseBand]| strip.iter().map(EaseBand::ease).sum();
        (sum(&self.front_ease), sum(&self.back_ease))
    }

    /// The finished upper arm wanted: the one wished for, else the cap's own.
    pub fn wanted_upper_arm(&self) -> Length {
        let changed = self.adapted.as_ref().filter(|adapted| adapted.is_changed());
        changed.map_or(self.cap.upper_arm(), |adapted| adapted.outline.upper_arm)
    }

    /// The word for the cap before `name` in a message: the old one's, or none.
    fn called(&self, old: &'static str, adapted: &'static str) -> &'static str {
        match &self.adapted {
            Some(adaptation) if adaptation.is_changed() => adapted,
            _ => old,
        }
    }

    /// True when front and back have the same armhole.
    pub fn is_alike(&self) -> bool {
        self.front == self.back
    }

    /// The cap that `[adapt]` makes in this armhole, for another upper arm or the one there is.
    pub(super) fn adapted_to(&self, case: &Case, upper_arm: Option<Length>) -> Option<Adapted> {
        let garment = Garment {
            units: case.units,
            cap: &self.cap,
            ledger: &self.ledger,
            front: &self.front,
            back: &self.back,
            saddle: self.saddle,
            bust: None,
            arm: self.arm.as_ref(),
            adapts: case.adapt.is_some(),
            counterparts: &[],
        };
        adapted_to(&garment, upper_arm)
    }

    /// The old upper arm against the arms it is for: what `check` adds, where no new sleeve is
    /// judged instead.
    pub(super) fn judge_arm(&mut self, case: &Case) {
        let arm = self.arm.as_ref();
        let found = arm_findings(
            case.units,
            self.called("old upper arm", "upper arm"),
            self.cap.upper_arm(),
            arm,
            &|upper_arm| self.adapted_to(case, Some(upper_arm)).is_some(),
        );
        let found = found.into_iter().map(|d| d.for_size(&self.size));
        self.findings.extend(found);
    }
}

/// What is compared from size to size.
pub(super) fn old_widths(old: &Old) -> SizeWidths {
    SizeWidths {
        size: old.size.clone(),
        lengths: vec![
            (
                old.called("old upper arm", "upper arm"),
                old.cap.upper_arm(),
            ),
            (
                old.called("old cap's depth", "cap's depth"),
                old.cap.depth(),
            ),
            ("front armhole's edge", old.front.edge()),
            ("back armhole's edge", old.back.edge()),
            ("front armhole's depth", old.front.depth()),
            ("back armhole's depth", old.back.depth()),
        ],
    }
}
