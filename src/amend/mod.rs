//! A printed pattern with the new sleeve in place of the old one, for whoever edits it.
//!
//! The print stays as it is, byte for byte; what changes is a list of changes, each with its places and
//! its reason, so that leaving them out gives the print back. What nobody but a person can settle is
//! listed. Numbers are those of the conversion.

mod change;
mod decide;
mod needs;
mod order;
mod place;
mod sleeve;

use crate::case::Case;
use crate::convert::Conversion;
use crate::leaflet::{Leaflet, Print};
use crate::wording::Notation;

use change::AmendSource;
pub use change::{Amendment, Change, RIGHTS};
pub use place::Piece;

/// Puts the new sleeve into a pattern that was read whole.
///
/// # Errors
/// A sentence when the case is not of this pattern.
pub fn amend(
    (print, leaflet): (&Print, &Leaflet),
    case: &Case,
    conversion: &Conversion,
) -> Result<Amendment, String> {
    decide::same_pattern(print, leaflet, case)?;
    let source = AmendSource {
        print,
        leaflet,
        case,
        conversion,
        notation: Notation::of(&case.sleeve.cap, case.sizes.len()),
    };
    let (mut changes, closed) = order::seams(print);
    changes.push(sleeve::change(&source, &closed));
    changes.extend(needs::changes(&source));
    changes.retain(|change| !change.removed.is_empty() || !change.added.is_empty());
    changes.sort_by_key(Change::start);
    Ok(Amendment {
        title: case.title.clone(),
        print: print.text.clone(),
        decide: decide::list(&source),
        changes,
    })
}
