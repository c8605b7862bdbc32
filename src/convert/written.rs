//! The written pattern of one size: written, knitted back, and all that goes with it to the chair.

use super::gauges::GaugesUsed;
use crate::case::Case;
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::needle;
use crate::plan::{CapPlan, CuffPlan, Progress, Sleeve, TubePlan};
use crate::wording::{
    self, Abbreviation, Checklist, Instructions, PickUpList, SleeveText, abbreviations,
    before_starting, checklist, edge_rows, needles, pick_up_lists, pick_up_section, stitch_pattern,
};

/// The text for one sleeve.
#[derive(Clone, Debug)]
pub struct Written {
    /// Which sleeve it is for.
    pub sleeve: Sleeve,
    /// The instructions; they have been knitted back.
    pub instructions: Instructions,
    /// What is done before the pick-up.
    pub before: Vec<String>,
    /// The rows to be found along the armhole's edge.
    pub edge_rows: String,
    /// Needles that carry the work.
    pub needles: Vec<String>,
    /// Where a stitch pattern stands; empty without a repeat.
    pub stitch_pattern: Vec<String>,
    /// The abbreviations that occur.
    pub abbreviations: Vec<Abbreviation>,
    /// The pick-up, row by row.
    pub lists: Vec<PickUpList>,
    /// Every row of the cap, to tick off.
    pub checklist: Checklist,
    /// What the needle said of it.
    pub knits_back: bool,
}

/// Writes the pattern and knits it back; a text that does not knit back is never returned.
pub(super) fn written(
    case: &Case,
    index: usize,
    plan: &CapPlan,
    (tube, cuff): (Option<&TubePlan>, Option<&CuffPlan>),
    gauge: &GaugesUsed,
    so_far: Option<(&Progress, Option<Sleeve>)>,
) -> Result<Vec<Written>, Vec<Diagnostic>> {
    let only = so_far.and_then(|(_, sleeve)| Some([sleeve?]));
    let sleeves = only.as_ref().map_or(Sleeve::needed(plan), |only| only);
    let texts = sleeves.iter().map(|&sleeve| {
        let input = SleeveText {
            plan,
            tube,
            cuff,
            style: case.style_of(index),
            sleeve,
        };
        one(case, &input, gauge, so_far.map(|(progress, _)| progress))
    });
    texts.collect()
}

fn one(
    case: &Case,
    input: &SleeveText<'_>,
    gauge: &GaugesUsed,
    progress: Option<&Progress>,
) -> Result<Written, Vec<Diagnostic>> {
    let instructions = wording::write_on(input, progress);
    let sentences = instructions.sentences();
    let words: Vec<String> = sentences.iter().flat_map(|s| needle::words_of(s)).collect();
    let lists = pick_up_lists(&SleeveText {
        plan: progress.map_or(input.plan, |progress| &progress.picked),
        ..*input
    });
    let mut printed = instructions.clone();
    printed.sections.push(pick_up_section(&lists));
    let (knitted, mut faults) = needle::knit_sentences(&printed.sentences());
    let proof = needle::prove(
        input.plan,
        (input.tube, input.cuff),
        input.style,
        input.sleeve,
        &knitted,
    );
    faults.extend(proof);
    let knits_back = worst(&faults) != Some(Level::Error);
    if !knits_back {
        return Err(faults);
    }
    let repeat = case.sleeve.repeat;
    Ok(Written {
        sleeve: input.sleeve,
        before: before_starting(input),
        edge_rows: edge_rows(input),
        needles: needles(input, gauge.cap, gauge.tube, case.units),
        stitch_pattern: if repeat.multiple > 1 {
            stitch_pattern(input, repeat)
        } else {
            Vec::new()
        },
        abbreviations: abbreviations(&words),
        lists,
        knits_back,
        checklist: checklist(&knitted.needle_rows, knitted.first_flank, input.style.turn),
        instructions,
    })
}
