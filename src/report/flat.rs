//! The flat cap that the new one keeps: what it is called, its numbers, its lines.

use crate::adapt::OutlineStatus;
use crate::case::Case;
use crate::convert::Old;
use crate::measure::{Length, Units};
use crate::outline::Cap;
use crate::pattern::{Ledger, SizeReading, write_lines};

/// The column of the table of numbers for the cap as its lines have it.
pub(crate) fn printed_cells(units: Units, cap: &Cap) -> [String; 5] {
    let length = |length: Length| units.show(length);
    [
        cap.rows().count().to_string(),
        length(cap.depth()),
        units.show_area(cap.area_cm2()),
        length(cap.upper_arm()),
        length(cap.top()),
    ]
}

/// The cap of the lines, where another took its place.
pub(crate) fn replaced(old: &Old) -> Option<&(Ledger, Cap)> {
    let adapted = old
        .adapted
        .as_ref()
        .filter(|adapted| adapted.is_changed())?;
    adapted.printed.as_ref()
}

/// What the flat cap is called that the new one keeps.
pub(crate) fn flat_name(old: &Old) -> &'static str {
    match old.adapted.as_ref().map(|adapted| adapted.outline.status) {
        Some(OutlineStatus::Adapted) => "adapted cap",
        Some(OutlineStatus::Drafted) => "drafted cap",
        Some(OutlineStatus::Unchanged) | None => "old cap",
    }
}

/// The same in one word before another.
pub(crate) fn flat_word(old: &Old) -> &'static str {
    if flat_name(old) == "old cap" {
        "old"
    } else {
        "flat"
    }
}
/// The flat caps of all sizes as a pattern's lines, in the terms of the case.
pub(crate) fn flat_lines(case: &Case, sizes: &[&Old]) -> String {
    let readings = sizes.iter().map(|old| SizeReading {
        size: old.size.clone(),
        ledger: old.ledger.clone(),
    });
    write_lines(&readings.collect::<Vec<_>>(), case.style.terms)
}
