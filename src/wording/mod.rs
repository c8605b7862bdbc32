//! Plan -> sentences: the written pattern of one sleeve.
//!
//! Every number in a sentence can be checked against another number of the same text, so that
//! the needle notices when one of them is changed.

mod abbreviations;
mod amounts;
mod checklist;
mod csv;
mod garment;
mod in_pattern;
mod instructions;
mod notation;
mod pick_up;
mod pick_up_list;
mod progress;
mod rates;
mod rounds;
mod short_rows;
mod size_align;
mod size_pick_up;
mod size_rates;
mod size_sentence;
mod size_set;
mod stretch;
mod text;
mod told;

pub use abbreviations::{Abbreviation, abbreviations, abbreviations_source};
pub use checklist::{CheckRow, Checklist, checklist};
pub(crate) use csv::{Csv, words};
pub use garment::{before_starting, edge_rows, needles, stitch_pattern, without_lists};
pub use in_pattern::{InPattern, in_pattern};
pub use instructions::{Counts, Instructions, Section, Step, Waiting};
pub use notation::Notation;
pub use pick_up_list::{FROM_SEAM, PickUpList, flank_rows, pick_up_lists, rate_rows};
pub use rates::{Rate, rates};
pub use size_sentence::one_sentence;
pub use size_set::{as_left, write_set, write_set_in};

use crate::plan::{Going, Progress, remarks};
pub use text::SleeveText;
use text::Writer;

/// The pick-up row by row, as the section that ends a printed pattern.
pub fn pick_up_section(lists: &[PickUpList]) -> Section {
    let steps = lists
        .iter()
        .flat_map(|list| std::iter::once(list.sentence()).chain(list.one_row_off()));
    Section {
        heading: remarks::ROWS_PICKED_UP.to_owned(),
        steps: steps.map(Step::plain).collect(),
    }
}

/// Writes the instructions for one sleeve.
pub fn write(input: &SleeveText<'_>) -> Instructions {
    write_on(input, None)
}

/// The same for a sleeve whose cap is under way: what is done, where the work goes on, what is put right there.
pub fn write_on(input: &SleeveText<'_>, progress: Option<&Progress>) -> Instructions {
    let writer = Writer::new(input.plan, input.style, input.sleeve);
    let picked = progress.map_or(input.plan, |progress| &progress.picked);
    let mut pick_up = Writer {
        plan: picked,
        going: Going::round(picked, writer.sleeve, input.style.hand),
        ..writer
    }
    .pick_up();
    if progress.is_some() {
        pick_up.steps.insert(1, Step::plain(remarks::PICKED_UP));
    }
    let fixes = progress.map_or_else(Vec::new, |progress| writer.fixes(progress));
    let begun = progress.filter(|progress| progress.turn_pairs > 0);
    if begun.is_none() {
        pick_up.steps.extend(fixes.iter().cloned());
    }
    let worked = begun.map(|progress| (progress, fixes.as_slice()));
    let mut sections = vec![pick_up, writer.short_rows(worked), writer.join()];
    sections.extend(input.tube.map(|tube| writer.tube(tube, input.cuff)));
    Instructions { sections }
}
