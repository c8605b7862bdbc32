//! The print against itself: one list of cross-checks. Each says which facts go into it, the two sums in words, and how far
//! apart they may be, with the reason. Where they do not agree every one of these facts is doubted, with both numbers.

mod armhole;
mod body;
mod numbers;
mod rows;
mod series;
mod sleeve;
mod sums;
mod widths;

use crate::leaflet::Leaflet;

use numbers::PrintNumbers;
pub(super) use rows::reading;
use sums::Compared;

/// One cross-check of a size.
struct Check {
    /// What is compared; nothing where the print does not tell it.
    sums: fn(&PrintNumbers<'_>, usize) -> Option<Compared>,
    /// Why no more than its tolerance is allowed.
    reason: &'static str,
}

/// Every cross-check of one size, those of the sizes' order aside (`series`).
const CHECKS: &[Check] = &[
    Check {
        sums: sleeve::increases_reach,
        reason: "Each increase at both ends adds two stitches, and no more.",
    },
    Check {
        sums: sleeve::increases_fit,
        reason: "In no size may they be more by a fifth, nor end in the first quarter (common practice, no source).",
    },
    Check {
        sums: widths::bust,
        reason: "Seams and rounding make less than a tenth.",
    },
    Check {
        sums: widths::back,
        reason: "Seams and rounding make less than a tenth.",
    },
    Check {
        sums: widths::cross_back,
        reason: "Seams and rounding make less than a tenth.",
    },
    Check {
        sums: widths::upper_arm,
        reason: "Seams and rounding make less than a tenth.",
    },
    Check {
        sums: widths::ease,
        reason: "Garments are made from a little narrower than the body to half as wide again (common practice, no source).",
    },
    Check {
        sums: widths::front_and_back,
        reason: "Front and back are about as wide, bands aside (common practice, no source).",
    },
    Check {
        sums: armhole::shoulders_and_neck,
        reason: "Nothing else is left above the armhole.",
    },
    Check {
        sums: armhole::shoulders,
        reason: "Between the shoulders lies the neck: a fifth to three quarters of the back (common practice, no source).",
    },
    Check {
        sums: armhole::divided,
        reason: "The front is divided on the stitches that it has.",
    },
    Check {
        sums: armhole::printed_depth,
        reason: "It is the same length.",
    },
    Check {
        sums: armhole::whole_length,
        reason: "Side and armhole make the length, but for the slope of the shoulder and the neck (common practice, no source).",
    },
    Check {
        sums: armhole::underarm,
        reason: "Sleeve and body bind off about as many at the underarm, and in the other sizes the same where they do in most (common practice, no source).",
    },
    Check {
        sums: armhole::cap_depth,
        reason: "A cap is shallower than its armhole, and a third as deep at least (common practice, no source).",
    },
    Check {
        sums: body::armhole_depth,
        reason: "Charts: Craft Yarn Council, Standards & Guidelines for Crochet and Knitting; 2.5 cm less to 5 cm more is ease.",
    },
    Check {
        sums: body::sleeve_length,
        reason: "Charts: Craft Yarn Council, Standards & Guidelines for Crochet and Knitting; up to 8 cm more is a cuff that is turned or a dropped shoulder.",
    },
    Check {
        sums: body::upper_arm,
        reason: "Charts: Craft Yarn Council, Standards & Guidelines for Crochet and Knitting; from a tenth tighter to two thirds wider is ease.",
    },
    Check {
        sums: body::label,
        reason: "The other sizes are named by their bust or chest.",
    },
];

/// Every fact that another number of the print contradicts, with both numbers.
pub(super) fn contradictions(leaflet: &Leaflet) -> Vec<(String, String)> {
    let numbers = PrintNumbers::of(leaflet);
    let mut out = Vec::new();
    for check in CHECKS {
        // The first size that does not agree says enough.
        let sums =
            (0..numbers.sizes()).filter_map(|size| Some((size, (check.sums)(&numbers, size)?)));
        let Some((size, sums)) = sums.into_iter().find(|(_, sums)| !sums.agree) else {
            continue;
        };
        let why = format!("{}{}. {}", sums.sentence, numbers.named(size), check.reason);
        out.extend(sums.facts.into_iter().map(|key| (key, why.clone())));
    }
    out.extend(series::contradictions(&numbers));
    out
}
