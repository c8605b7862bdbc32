//! The written pattern of one size: written, knitted back, and all that goes with it to the chair.

use super::garment::Old;
use super::gauges::GaugesUsed;
use crate::case::{Case, Style};
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::needle;
use crate::plan::{CapPlan, CuffPlan, Progress, Repeat, Sleeve, TubePlan};
use crate::stitch::{Layout, PANEL, Pattern, REPEAT_OPEN, TubeRound};
use crate::wording::{
    self, Abbreviation, Checklist, InPattern, Instructions, PickUpList, SleeveText, abbreviations,
    before_starting, checklist, edge_rows, in_pattern, needles, pick_up_lists, pick_up_section,
    stitch_pattern,
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
    /// The stitch pattern on this cap, where the case tells it.
    pub pattern: Option<Patterned>,
    /// The abbreviations that occur.
    pub abbreviations: Vec<Abbreviation>,
    /// The pick-up, row by row.
    pub lists: Vec<PickUpList>,
    /// Every row of the cap, to tick off.
    pub checklist: Checklist,
    /// What the needle said of it.
    pub knits_back: bool,
}

/// A stitch pattern on a cap: where every stitch of it lies, and the words for it.
#[derive(Clone, Debug)]
pub struct Patterned {
    /// Where it lies.
    pub layout: Layout,
    /// Charts and rows in words; they have been knitted back.
    pub words: InPattern,
    /// What was found in laying it out.
    pub(super) said: Vec<Diagnostic>,
}

impl Patterned {
    /// The rounds of the tube in pattern.
    pub fn tube(&self, tube: &TubePlan) -> Vec<TubeRound> {
        self.layout.tube(tube)
    }

    /// Said where the shaping of the tube reaches a panel.
    pub(super) fn panel_in_tube(&self, tube: &TubePlan) -> Option<Diagnostic> {
        let rounds = self.tube(tube);
        let (round, panel) = self.layout.panel_reached(&rounds)?;
        let message = format!(
            "From round {round} of the tube on its shaping takes sts of the panel \"{}\".",
            panel.name
        );
        let next = "Ask for more sts at the cuff, make the panel narrower, or let the panel end above that round.";
        let said = Diagnostic::new(&PANEL, message)
            .level(Level::Warning)
            .next(next);
        Some(said.about(format!("stitch.panels.{}", panel.name)))
    }

    /// The pattern on this cap. A part of a repeat at the underarm that was asked for is nothing to be told.
    fn new(
        pattern: &Pattern,
        input: &SleeveText<'_>,
        asked: Option<Repeat>,
    ) -> Result<Self, Vec<Diagnostic>> {
        let (layout, mut said) = Layout::new(pattern, input.plan, input.sleeve, input.style.hand)?;
        let width = u32::try_from(pattern.ground.chart.width()).unwrap_or(u32::MAX);
        let as_asked = asked.is_some_and(|asked| {
            asked.multiple.is_multiple_of(width) && asked.allows(input.plan.upper_arm())
        });
        said.retain(|d| !(as_asked && d.code.id == REPEAT_OPEN.id));
        // What is written already is not to be written again.
        for open in said.iter_mut().filter(|d| d.code.id == REPEAT_OPEN.id) {
            if let Some(asked) = asked {
                open.next = format!(
                    "The case asks for a multiple of {}; repeat = {{ multiple = {width} }} in its place gives whole repeats, or leave it: it lies under the arm.",
                    asked.multiple
                );
            }
        }
        Ok(Self {
            words: in_pattern(&layout, pattern, input.style.hand),
            layout,
            said,
        })
    }
}

/// Writes the pattern and knits it back; a text that does not knit back is never returned.
pub(super) fn written(
    case: &Case,
    (index, old): (usize, &Old),
    plan: &CapPlan,
    (tube, cuff): (Option<&TubePlan>, Option<&CuffPlan>),
    gauge: &GaugesUsed,
    so_far: Option<(&Progress, Option<Sleeve>)>,
) -> Result<Vec<Written>, Vec<Diagnostic>> {
    let only = so_far.and_then(|(_, sleeve)| Some([sleeve?]));
    let style = Style {
        stepped: old.front.stepped_stitches() + old.back.stepped_stitches(),
        ..case.style_of(index)
    };
    let sleeves = only.as_ref().map_or(Sleeve::needed(plan), |only| only);
    let texts = sleeves.iter().map(|&sleeve| {
        let input = SleeveText {
            plan,
            tube,
            cuff,
            style,
            sleeve,
        };
        one(
            case,
            index,
            &input,
            gauge,
            so_far.map(|(progress, _)| progress),
        )
    });
    texts.collect()
}

fn one(
    case: &Case,
    index: usize,
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
    let pattern = case
        .stitch
        .as_ref()
        .map(|pattern| Patterned::new(pattern, input, case.sleeve.asked_repeat(index)))
        .transpose()?;
    let mut printed = instructions.clone();
    printed.sections.push(pick_up_section(&lists));
    printed
        .sections
        .extend(pattern.iter().map(|pattern| pattern.words.section.clone()));
    let (knitted, mut faults) = needle::knit_sentences(&printed.sentences());
    let proof = needle::prove(
        input.plan,
        (input.tube, input.cuff),
        input.style,
        input.sleeve,
        &knitted,
    );
    faults.extend(proof);
    if let Some(pattern) = &pattern {
        faults.extend(needle::prove_pattern(&pattern.layout, &knitted));
    }
    let knits_back = worst(&faults) != Some(Level::Error);
    if !knits_back {
        return Err(faults);
    }
    let repeat = case.sleeve.repeat(index);
    Ok(Written {
        sleeve: input.sleeve,
        before: before_starting(input),
        edge_rows: edge_rows(input),
        needles: needles(input, gauge.cap, gauge.tube, case.units),
        stitch_pattern: if let Some(pattern) = &pattern {
            pattern.words.about.clone()
        } else if repeat.multiple > 1 {
            stitch_pattern(input, repeat)
        } else {
            Vec::new()
        },
        pattern,
        abbreviations: abbreviations(&words),
        lists,
        knits_back,
        checklist: checklist(&knitted.needle_rows, knitted.first_flank, input.style.turn),
        instructions,
    })
}
