//! A converted case, size by size: all that there is to say of it, as numbers and findings.

use super::garment::Old;
use super::gauges::GaugesUsed;
use super::landmarks::Landmarks;
use super::loops::CapLoops;
use super::stripes::StripedSleeve;
use super::written::Written;
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::fit::{Fit, Measures, NearTie};
use crate::measure::{Length, Stitches};
use crate::outline::EaseBand;
use crate::plan::{CapPlan, CuffPlan, TubePlan};

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

/// The upper arm if the tube's gauge were off.
#[derive(Clone, Copy, Debug)]
pub struct Sensitivity {
    /// By how much its stitches would be off, in per cent.
    pub drift_pct: i32,
    /// The finished upper arm.
    pub upper_arm: Length,
}

/// A case converted size by size: what could be done, and the sizes that could not.
#[derive(Clone, Debug)]
pub struct SizeBySize {
    /// The sizes that were converted and all that was found on the whole.
    pub conversion: Conversion,
    /// The sizes that could not be converted, in the case's order, each with its findings.
    pub failed: Vec<(String, Vec<Diagnostic>)>,
}

/// A size's own best cap, where another one was taken so that all sizes have the same runs.
#[derive(Clone, Debug)]
pub struct Alone {
    /// Its runs.
    pub runs: usize,
    /// What it measures.
    pub measures: Measures,
}

/// One size, converted.
#[derive(Clone, Debug)]
pub struct SizeConversion {
    /// Its cap is on the needles.
    pub under_way: bool,
    /// The old garment.
    pub old: Old,
    /// The gauges used.
    pub gauge: GaugesUsed,
    /// The new cap.
    pub fit: Fit,
    /// Caps nearly as good as the best and simpler to knit.
    pub near_ties: Vec<NearTie>,
    /// The size's own best cap, where all sizes were given the same runs.
    pub alone: Option<Alone>,
    /// The fit's measure that needs both the plan and the problem: seam edge of one side.
    pub edge: Length,
    /// What the cap measures on the way.
    pub landmarks: Landmarks,
    /// The half width each turn pair should have, from the crown down.
    pub targets_cm: Vec<f64>,
    /// Ease along the front edge of the new cap, from the underarm up.
    pub front_ease: Vec<EaseBand>,
    /// Ease along the back edge of the new cap.
    pub back_ease: Vec<EaseBand>,
    /// The common-practice recipe beside it.
    pub recipe: (CapPlan, Measures, Length),
    /// The sleeve below the cap, when the case gives cuff and length.
    pub tube: Option<TubePlan>,
    /// The cuff below it, where the case says how it is worked.
    pub cuff: Option<CuffPlan>,
    /// The written pattern: one for each sleeve that needs its own.
    pub written: Vec<Written>,
    /// The stripes, where the case has some.
    pub stripes: Option<StripedSleeve>,
    /// Stitches knitted in the new cap.
    pub loops: CapLoops,
    /// Stitches knitted in the flat cap.
    pub flat_loops: Stitches,
    /// Upper arm in rounds if the drift were this many per cent, when no round swatch is given.
    pub sensitivity: Vec<Sensitivity>,
    /// Everything found for this size.
    pub findings: Vec<Diagnostic>,
}

impl SizeConversion {
    /// Stitches the sleeve ends on: those its cuff is worked on, or the tube's where no cuff is told; none without a tube.
    pub fn cuff_stitches(&self) -> Option<Stitches> {
        let tube = self.tube.as_ref()?;
        Some(self.cuff.map_or(tube.cuff, |cuff| cuff.stitches))
    }
}
