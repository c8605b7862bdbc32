//! The old garment: flat caps, armholes, where the one is longer than the other.

use serde::Serialize;

use super::all;
use super::rounded::{Cm, Rounded};
use crate::convert::Old;
use crate::measure::{Rows, Stitches};
use crate::outline::{ArmholeEdge, Cap, EaseBand};
use crate::pattern::{Ledger, LedgerRow};

/// A flat cap, net of seams.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct FlatCapJson {
    /// Rows from the underarm to the top.
    rows: Rows,
    /// Depth.
    depth_cm: Cm,
    /// Area of fabric.
    area_cm2: Rounded<2>,
    /// Seam edge of one side, underarm bind-off and half the top included.
    edge_cm: Cm,
    /// The same without the underarm bind-off.
    edge_above_underarm_cm: Cm,
    /// The edge along its steps.
    stepped_edge_cm: Cm,
    /// Width round the upper arm.
    upper_arm_cm: Cm,
    /// Width of the last bind-off.
    top_cm: Cm,
    /// Stitches of the last bind-off.
    final_stitches: Stitches,
    /// Its rows.
    ledger: Vec<LedgerRowJson>,
}

impl FlatCapJson {
    fn of(cap: &Cap, ledger: &Ledger) -> Self {
        Self {
            rows: cap.rows(),
            depth_cm: Cm(cap.depth()),
            area_cm2: Rounded(cap.area_cm2()),
            edge_cm: Cm(cap.edge()),
            edge_above_underarm_cm: Cm(cap.edge_above_underarm()),
            stepped_edge_cm: Cm(cap.stepped_edge()),
            upper_arm_cm: Cm(cap.upper_arm()),
            top_cm: Cm(cap.top()),
            final_stitches: cap.final_stitches(),
            ledger: all(&ledger.rows),
        }
    }

    /// The flat cap that a new one keeps: the old one, or what `[adapt]` put in its place.
    pub(super) fn old(old: &Old) -> Self {
        Self::of(&old.cap, &old.ledger)
    }

    /// The same once more where `[adapt]` was asked.
    pub(super) fn adapted(old: &Old) -> Option<Self> {
        old.adapted.as_ref().map(|_| Self::old(old))
    }

    /// The cap as its lines have it, where another outline took its place.
    pub(super) fn printed(old: &Old) -> Option<Self> {
        let (ledger, cap) = old.adapted.as_ref()?.printed.as_ref()?;
        Some(Self::of(cap, ledger))
    }
}

/// One row and what happened on it.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct LedgerRowJson {
    /// Its number, from 1.
    row: u32,
    /// The side of the fabric that faces.
    #[cfg_attr(test, schemars(extend("enum" = ["RS", "WS"])))]
    side: &'static str,
    /// Stitches bound off.
    bind_off: Stitches,
    /// Stitches decreased at the edge where the row starts.
    decrease_start: Stitches,
    /// The same at the other edge.
    decrease_end: Stitches,
    /// Stitches left.
    stitches: Stitches,
}

impl From<&LedgerRow> for LedgerRowJson {
    fn from(row: &LedgerRow) -> Self {
        Self {
            row: row.row,
            side: row.side.word(),
            bind_off: row.bind_off,
            decrease_start: row.decrease_start,
            decrease_end: row.decrease_end,
            stitches: row.stitches,
        }
    }
}

/// The armhole.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct ArmholeJson {
    /// Its front edge.
    front_cm: Cm,
    /// Its back edge.
    back_cm: Cm,
    /// What is bound off under the arm, both sides.
    underarm_cm: Cm,
    /// Its depth, the mean of both sides.
    depth_cm: Cm,
    /// Places along the front that can be picked up.
    rows_front: Rows,
    /// The same along the back.
    rows_back: Rows,
}

impl ArmholeJson {
    pub(super) fn of(front: &ArmholeEdge, back: &ArmholeEdge) -> Self {
        Self {
            front_cm: Cm(front.edge()),
            back_cm: Cm(back.edge()),
            underarm_cm: Cm(front.underarm_width() + back.underarm_width()),
            depth_cm: Cm((front.depth() + back.depth()) / 2.0),
            rows_front: front.sites(),
            rows_back: back.sites(),
        }
    }
}

/// Ease along both edges, from the underarm up.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct StripJson {
    /// Along the front.
    front: Vec<EaseBandJson>,
    /// Along the back.
    back: Vec<EaseBandJson>,
}

impl StripJson {
    pub(super) fn of(front: &[EaseBand], back: &[EaseBand]) -> Self {
        Self {
            front: all(front),
            back: all(back),
        }
    }
}

/// A stretch of an edge.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct EaseBandJson {
    /// Height above the underarm where it begins.
    from_cm: Cm,
    /// Where it ends.
    to_cm: Cm,
    /// Edge of the cap.
    cap_cm: Cm,
    /// Edge of the armhole.
    armhole_cm: Cm,
    /// The one less the other.
    ease_cm: Cm,
    /// The same in per cent.
    ease_pct: Rounded<1>,
}

impl From<&EaseBand> for EaseBandJson {
    fn from(band: &EaseBand) -> Self {
        Self {
            from_cm: Cm(band.from),
            to_cm: Cm(band.to),
            cap_cm: Cm(band.cap),
            armhole_cm: Cm(band.armhole),
            ease_cm: Cm(band.ease()),
            ease_pct: Rounded(band.pct()),
        }
    }
}
