//! The proof: sections as stages.
//!
//! The table of [`super::table`] lets every move have its own stretch of armhole. Here a move has the rate of the
//! section it lies in: at most three sections a flank, each of one rate, that begin where a run begins or at the end
//! of the straight part, at the objective's price; pick-ups beyond two rows cost what holes cost; a place of the
//! straight part is a row high, one of the slopes below it longer. The length of the whole flank is enforced by a
//! multiplier. What is still let go: rates are known to a class of a quarter row, the sections' rows need not be
//! whole, where the slopes begin is chosen with the moves, places within them count as the shortest or the longest,
//! and of two flanks that differ every move has the better one's.
//!
//! The pick-up is *hidden*: a beginning of moves may belong to many pick-ups. Its vector holds the least cost for
//! every (sections left, part of the armhole, class of rate), so that a list of moves is one node whatever its
//! pick-up.

mod rates;
mod search;
mod table;

use super::best::Best;
use super::frame::Frame;
use super::sections::PickedFlank;
use super::table::Through;
use rates::RateTable;
use search::StagedSearch;
use table::StagedTable;

/// What any cap of the frame costs at the least, whatever its runs; never more than the truth where none costs less
/// than the limit.
pub(super) fn least(
    frame: &Frame<'_>,
    flanks: &[PickedFlank<'_>],
    through: &Through,
    limit: f64,
    best: &mut Best,
) -> f64 {
    table(frame, flanks, (None, through), limit, best)
        .map_or(f64::NEG_INFINITY, |table| table.root(frame))
}

/// Looks in one frame for every cap with at most so many runs that is better than the best known, and
/// returns what those that were not looked at cost at the least.
pub(super) fn prove(
    frame: &Frame<'_>,
    flanks: &[PickedFlank<'_>],
    (runs, through): (usize, &Through),
    best: &mut Best,
) -> f64 {
    let limit = best.limit(runs);
    let Some(table) = table(frame, flanks, (Some(runs), through), limit, best) else {
        return f64::NEG_INFINITY;
    };
    if table.root(frame) >= limit {
        return f64::INFINITY;
    }
    let proof = StagedSearch {
        frame,
        flanks,
        table: &table,
    };
    proof.run(runs, best)
}

/// The table for at most so many runs, or any number; none where an armhole has no places.
fn table(
    frame: &Frame<'_>,
    flanks: &[PickedFlank<'_>],
    (runs, through): (Option<usize>, &Through),
    limit: f64,
    best: &mut Best,
) -> Option<StagedTable> {
    let rates = RateTable::of(frame, flanks, runs)?;
    let table = StagedTable::new(frame, rates, through, runs, limit);
    best.works(table.work());
    Some(table)
}
