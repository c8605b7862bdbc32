//! What is printed beside the instructions and moves no stitch: where the stitch pattern stands, where it
//! lies in the tube, which stripe comes when. It is held against what was knitted and against itself.

mod head;
mod in_tube;
mod meetings;
mod printed;
mod stripes;

use super::knitted::Knitted;
use crate::diagnostic::{Diagnostic, Span};
use printed::PrintedSection;

/// Text before a set of instructions, back to the one before it, and after it, up to the next one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Around {
    pub(super) above: Span,
    pub(super) below: Span,
}

/// What differs in the sections around the instructions from what one size of them was knitted to.
pub(super) fn check(
    file: &str,
    around: Around,
    size: Option<(&[String], usize)>,
    knitted: &Knitted,
) -> Vec<Diagnostic> {
    let above = |heading: &str| PrintedSection::find(file, around.above, heading, size);
    // One text of all sizes has all of it above the instructions, a text of its own some of it below.
    let below = |heading: &str| {
        PrintedSection::find(file, around.below, heading, size).or_else(|| above(heading))
    };
    let mut found = Vec::new();
    found.extend(
        above("STITCH PATTERN")
            .iter()
            .flat_map(|p| head::check(p, knitted)),
    );
    found.extend(
        above("STITCHES OF THE PATTERN")
            .iter()
            .flat_map(|p| head::stitches(p, knitted)),
    );
    found.extend(
        below("THE PATTERN IN THE TUBE")
            .iter()
            .flat_map(|p| in_tube::check(p, knitted)),
    );
    found.extend(
        below("STRIPES")
            .iter()
            .flat_map(|p| stripes::check(p, knitted)),
    );
    found
}
