//! The new sleeve in place of the old one's rows: what comes first, the conversion's own sentences, and
//! the cuff, whose printed words stay.

use super::change::{AmendSource, Change};
use crate::case::Terms;
use crate::convert::Written;
use crate::leaflet::{Place, Print};
use crate::plan::{Sleeve, remarks};
use crate::wording::{Instructions, one_sentence, write_set_in};

const REASON: &str = "The sleeve is picked up round the armhole and worked from the shoulder down to the cuff; the cap is shaped by short rows.";
const HEADING: &str = "The sleeves need the body: they come after it.";

/// Whose words for the cuff stand below the new sleeve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CuffWords {
    Printed,
    New,
}

/// The change of the sleeve's rows. `closed` is what is joined before.
pub(super) fn change(source: &AmendSource<'_>, closed: &[String]) -> Change {
    let print = source.print;
    let mut removed = print.rows.ranges.clone();
    let mut added = Vec::new();
    let mut reason = REASON.to_owned();
    let keeps_cuff = print.cuff.as_ref().filter(|_| source.keeps_cuff());
    let cuff_words = match keeps_cuff {
        Some(_) => CuffWords::Printed,
        None => CuffWords::New,
    };
    let new = new_words(source, closed, cuff_words);
    match (print.body_ends, keeps_cuff) {
        // Printed before the body: the whole section moves behind it.
        (Some(at), cuff) => {
            removed = print
                .heading
                .ranges
                .iter()
                .cloned()
                .chain(removed)
                .collect();
            let heading = print.heading.at.text.trim();
            let cuff = cuff.map(|cuff| format!("{} {}", stop(&cuff.at.text), last(source)));
            let gap = line_end(print);
            let text = [Some(heading.to_owned()), Some(new), cuff]
                .into_iter()
                .flatten();
            let text: Vec<String> = text.collect();
            added.push((at, format!("{gap}{gap}{}", text.join(gap))));
            reason = format!("{HEADING} {REASON}");
        }
        (None, Some(cuff)) => {
            removed = without(&removed, &cuff.ranges);
            added.push((cuff.start(), format!("{new}{}", line_end(print))));
            let dot = if words(print, cuff).ends_with('.') {
                ""
            } else {
                "."
            };
            added.push((cuff.end(), format!("{dot} {}", last(source))));
        }
        (None, None) => added.push((print.rows.end(), new)),
    }
    Change {
        removed,
        added,
        reason,
    }
}

impl AmendSource<'_> {
    /// True when the print's own words for the cuff stay, because the case has none.
    pub(super) fn keeps_cuff(&self) -> bool {
        self.case.sleeve.cuff.is_none()
            && self.conversion.sizes.iter().all(|size| size.tube.is_some())
    }

    /// The written texts of every size for the sleeve of this place.
    pub(super) fn written(&self, at: usize) -> Vec<&Written> {
        let sizes = self.conversion.sizes.iter();
        sizes
            .filter_map(|size| size.written.get(at).or(size.written.first()))
            .collect()
    }

    /// How many texts there are: one when both sleeves are alike in all sizes.
    pub(super) fn texts(&self) -> usize {
        let sizes = self.conversion.sizes.iter().map(|size| size.written.len());
        sizes.max().unwrap_or(0)
    }
}

/// A place's words as printed.
fn words(print: &Print, place: &Place) -> String {
    let ranges = place.ranges.iter();
    ranges
        .filter_map(|range| print.text.get(range.clone()))
        .collect()
}

fn stop(words: &str) -> String {
    format!("{}.", words.trim().trim_end_matches('.'))
}

/// The print's own kind of line end.
fn line_end(print: &Print) -> &'static str {
    if print.text.contains("\r\n") {
        "\r\n"
    } else {
        "\n"
    }
}

fn without(
    ranges: &[std::ops::Range<usize>],
    kept: &[std::ops::Range<usize>],
) -> Vec<std::ops::Range<usize>> {
    let mut out = ranges.to_vec();
    for cut in kept {
        out = out
            .into_iter()
            .flat_map(|range| {
                [
                    range.start..range.end.min(cut.start),
                    range.start.max(cut.end)..range.end,
                ]
            })
            .filter(|range| range.start < range.end)
            .collect();
    }
    out
}

/// What follows the cuff.
fn last(source: &AmendSource<'_>) -> &'static str {
    match source.case.style.terms {
        Terms::Us => remarks::FINISH_US,
        Terms::Uk => remarks::FINISH_UK,
    }
}

fn new_words(source: &AmendSource<'_>, closed: &[String], cuff: CuffWords) -> String {
    let mut lines = vec![closed.join(" ")];
    lines.extend(needles(source.print));
    lines.extend(rows_to_count(source));
    if source.print.abbreviations.is_none() {
        lines.push(format!(
            "Abbreviations of the sleeves: {}.",
            super::needs::terms(source, "")
        ));
    }
    for at in 0..source.texts() {
        lines.extend(text(source, at, cuff));
    }
    if cuff == CuffWords::Printed {
        lines.push(before_cuff(source));
    }
    lines.join(line_end(source.print))
}

fn needles(print: &Print) -> Option<String> {
    match &print.needle_names {
        [Some(cuff), Some(tube)] => Some(format!(
            "Work the sleeve with {tube}, the cuff with {cuff}."
        )),
        _ => None,
    }
}

/// The rows to be found along the armhole; size by size where one sentence cannot say it.
fn rows_to_count(source: &AmendSource<'_>) -> Vec<String> {
    let written = source.written(0);
    let said: Vec<String> = written.iter().map(|one| one.edge_rows.clone()).collect();
    if let Some(one) = one_sentence(&said, &source.notation) {
        return vec![one];
    }
    let sizes = source.conversion.sizes.iter().map(|size| &size.old.size);
    sizes
        .zip(said)
        .map(|(size, said)| format!("Size {size}: {said}"))
        .collect()
}

/// The text for one sleeve, or for both.
fn text(source: &AmendSource<'_>, at: usize, cuff: CuffWords) -> Vec<String> {
    let written = source.written(at);
    let sizes = source
        .conversion
        .sizes
        .iter()
        .map(|size| size.old.size.clone());
    let of_sizes = sizes.zip(&written).map(|(size, one)| {
        let text = one.instructions.clone();
        let text = match cuff {
            CuffWords::Printed => without_cuff(text),
            CuffWords::New => text,
        };
        (size, text)
    });
    let text = write_set_in(&of_sizes.collect::<Vec<_>>(), &source.notation);
    let title = written
        .iter()
        .map(|one| one.sleeve)
        .find(|sleeve| *sleeve != Sleeve::Both);
    let title = title.map(|sleeve| {
        format!(
            "{} SLEEVE (the wearer's {})",
            sleeve.word().to_uppercase(),
            sleeve.word()
        )
    });
    let sections = text.sections.iter().flat_map(|section| {
        let steps = section.steps.iter().map(crate::wording::Step::full);
        let steps = steps.map(|step| with_needle(step, source.print));
        std::iter::once(section.heading.clone()).chain(steps)
    });
    title.into_iter().chain(sections).collect()
}

/// The cuff's needle by its name, in the place of advice to whoever knows none.
fn with_needle(step: String, print: &Print) -> String {
    match &print.needle_names {
        [Some(cuff), Some(_)] if step == remarks::CUFF_NEEDLES => format!("Change to {cuff}."),
        _ => step,
    }
}

/// The print says itself how the cuff is worked.
fn without_cuff(mut text: Instructions) -> Instructions {
    for section in &mut text.sections {
        section.steps.retain(|step| {
            ![remarks::OLD_CUFF_US, remarks::OLD_CUFF_UK].contains(&step.sentence.as_str())
        });
    }
    text
}

/// The cuff's needle, and the count it begins with.
fn before_cuff(source: &AmendSource<'_>) -> String {
    let print = source.print;
    let count = print.cuff_grows_from.as_ref().map(|counts| {
        format!(
            "K 1 round, changing evenly to {} sts.",
            source.notation.list(counts)
        )
    });
    let [cuff, tube] = &print.needle_names;
    let change = cuff.as_ref().filter(|_| tube.is_some());
    let change = change.map(|cuff| format!("Change to {cuff}."));
    let words: Vec<String> = [count, change, Some("Cuff, in rounds:".to_owned())]
        .into_iter()
        .flatten()
        .collect();
    words.join(" ")
}
