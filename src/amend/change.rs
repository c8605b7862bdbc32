//! Changes of a print, and what they are made from.

use std::ops::Range;

use crate::case::Case;
use crate::convert::Conversion;
use crate::leaflet::{Leaflet, Print};
use crate::wording::Notation;

/// One change of the print.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// Bytes of the print that go.
    pub removed: Vec<Range<usize>>,
    /// What is put in, and before which byte of the print.
    pub added: Vec<(usize, String)>,
    /// Why.
    pub reason: String,
}

/// An amended pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amendment {
    /// The name of the pattern.
    pub title: String,
    /// The print.
    pub print: String,
    /// The changes, in the order of the print.
    pub changes: Vec<Change>,
    /// What a person has to decide.
    pub decide: Vec<String>,
}

/// Said with every amended pattern.
pub const RIGHTS: &str = "An amended pattern may be published, sold or passed on only by whoever holds the rights in the pattern; for knitting at home keep it to yourself.";

/// What an amendment is made from.
pub(super) struct AmendSource<'a> {
    pub(super) print: &'a Print,
    pub(super) leaflet: &'a Leaflet,
    pub(super) case: &'a Case,
    pub(super) conversion: &'a Conversion,
    /// How the pattern lists the numbers of its sizes.
    pub(super) notation: Notation,
}

impl Change {
    /// Its first place.
    pub(super) fn start(&self) -> usize {
        let removed = self.removed.iter().map(|range| range.start);
        removed
            .chain(self.added.iter().map(|(at, _)| *at))
            .min()
            .unwrap_or_default()
    }
}
