//! One size of a case, ready to be planned at any gauge.

use super::knitted::Truth;
use crate::case::Case;
use crate::convert::below::{tube, wanted_cuff, wanted_length};
use crate::convert::garment::Old;
use crate::convert::gauges::{GaugeSource, GaugesUsed};
use crate::convert::size::problem;
use crate::fit::Problem;
use crate::measure::{Gauge, Length, Stitches, Stop};
use crate::plan::TubePlan;

/// The part of the sleeve whose gauge is not what the plan took it to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SleevePart {
    /// The cap, back and forth.
    Cap,
    /// The tube, in rounds.
    Tube,
}

/// The old sleeve's measures, net of seams.
#[derive(Clone, Copy, Debug)]
pub struct OldMeasures {
    /// Upper arm.
    pub upper_arm: Length,
    /// Depth of the cap.
    pub depth: Length,
    /// Area of the cap in square centimetres.
    pub area_cm2: f64,
    /// Cuff.
    pub cuff: Option<Length>,
    /// Underarm to cuff.
    pub tube_length: Option<Length>,
}

/// One size of a case, ready to be planned at any gauge.
#[derive(Clone, Copy)]
pub(super) struct Sizing<'a> {
    pub(super) case: &'a Case,
    pub(super) index: usize,
    pub(super) old: &'a Old,
    pub(super) gauge: &'a GaugesUsed,
    pub(super) stop: &'a Stop,
}

impl<'a> Sizing<'a> {
    /// The gauges the case's sleeve is knitted at, as far as they are known.
    pub(super) const fn truth(&self) -> Truth {
        Truth {
            cap: self.gauge.cap,
            tube: self.gauge.tube,
        }
    }

    pub(super) fn gauges(&self, at: Truth) -> GaugesUsed {
        GaugesUsed {
            cap: at.cap,
            tube: at.tube,
            ..*self.gauge
        }
    }

    pub(super) fn problem(&self, at: Truth) -> Problem<'a> {
        problem(self.case, self.index, self.old, &self.gauges(at))
    }

    pub(super) fn tube(&self, at: Truth, upper_arm: Stitches) -> Option<TubePlan> {
        tube(self.case, self.index, &self.gauges(at), upper_arm)
    }

    pub(super) fn gauge_of(&self, source: GaugeSource) -> Option<Gauge> {
        self.gauge.swatches.of(source)?.gauge().ok()
    }

    pub(super) fn wanted(&self) -> OldMeasures {
        let cap = &self.old.cap;
        OldMeasures {
            upper_arm: cap.upper_arm(),
            depth: cap.depth(),
            area_cm2: cap.area_cm2(),
            cuff: wanted_cuff(self.case, self.index, self.gauge),
            tube_length: wanted_length(self.case, self.index),
        }
    }
}

impl GaugesUsed {
    /// True when the gauge of this part is not from a swatch of its own kind, nor chosen.
    pub fn assumed(&self, part: SleevePart) -> bool {
        match part {
            SleevePart::Tube => self.tube_source != GaugeSource::Round,
            SleevePart::Cap => self.cap_source != GaugeSource::Flat && !self.cap_chosen,
        }
    }
}
