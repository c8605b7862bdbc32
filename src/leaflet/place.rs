//! A stretch of the print.

use std::ops::Range;

use super::{Evidence, Flow};

/// A stretch of the print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its bytes: one stretch, or several where the head of a page lies between.
    pub ranges: Vec<Range<usize>>,
    /// Its words, with page and line.
    pub at: Evidence,
}

impl Place {
    pub(super) fn new(flow: &Flow, from: usize, to: usize) -> Self {
        Self {
            ranges: flow.printed(from, to),
            at: flow.evidence(from, to),
        }
    }

    /// Its first byte.
    pub fn start(&self) -> usize {
        self.ranges.first().map_or(0, |range| range.start)
    }

    /// The byte after its last.
    pub fn end(&self) -> usize {
        self.ranges.last().map_or(0, |range| range.end)
    }

    /// True when it shares a byte with another.
    pub fn meets(&self, other: &Self) -> bool {
        let meets = |a: &Range<usize>, b: &Range<usize>| a.start < b.end && b.start < a.end;
        self.ranges
            .iter()
            .any(|a| other.ranges.iter().any(|b| meets(a, b)))
    }
}
