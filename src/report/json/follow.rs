//! The steps to follow at the needles.

use serde_json::{Value, json};

use super::cm;
use crate::case::Case;
use crate::convert::SizeConversion;
use crate::report::follow::follow_steps;

/// The steps of every sleeve of a size, each sleeve by its word.
pub fn follow_json(case: &Case, size: &SizeConversion) -> Value {
    let sleeve = |written| {
        let steps = follow_steps(case, size, written);
        let steps = steps.iter().map(|step| {
            json!({
                "part": step.part,
                "at": step.at,
                "side": step.side,
                "say": step.say,
                "then": step.then,
                "measure": step.measure,
                "depth_cm": step.depth.map(|depth| cm(depth.length)),
                "depth_off_cm": step.depth.map(|depth| cm(depth.off)),
            })
        });
        json!({ "sleeve": written.sleeve.word(), "steps": steps.collect::<Vec<_>>() })
    };
    size.written.iter().map(sleeve).collect()
}
