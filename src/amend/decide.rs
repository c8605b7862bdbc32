//! What nobody but a person can decide, and whether case and print belong together.

use std::borrow::Cow;

use super::change::AmendSource;
use super::needs::counts_of;
use crate::case::Case;
use crate::convert::GaugeSource;
use crate::diagnostic::{Diagnostic, Group, Level, groups, visible_lines};
use crate::leaflet::{Evidence, Fact, Leaflet, Print, Status};
use crate::measure::Stitches;
use crate::plan::Sleeve;

/// Refuses a case that is of another pattern.
pub(super) fn same_pattern(print: &Print, leaflet: &Leaflet, case: &Case) -> Result<(), String> {
    if print.sizes.len() != case.sizes.len() {
        return Err(format!(
            "The case has {} and the pattern {}: is it of this pattern?",
            sizes(case.sizes.len()),
            sizes(print.sizes.len())
        ));
    }
    if !case.sleeve.has_old_cap() {
        return Err("The case has no old cap; only a pattern's own sleeve is replaced.".to_owned());
    }
    if !same_cap(leaflet, case) && !same_stitches(leaflet, case) {
        return Err("Neither the cap's lines nor its stitches are those of this pattern: the case is of another one.".to_owned());
    }
    Ok(())
}

fn sizes(n: usize) -> String {
    if n == 1 {
        "one size".to_owned()
    } else {
        format!("{n} sizes")
    }
}

fn words(text: &str) -> Vec<&str> {
    text.split_whitespace().collect()
}

fn same_cap(leaflet: &Leaflet, case: &Case) -> bool {
    leaflet
        .fact("sleeve.cap")
        .is_some_and(|fact| words(&fact.value) == words(&case.sleeve.cap))
}

fn same_stitches(leaflet: &Leaflet, case: &Case) -> bool {
    let printed = leaflet
        .fact("sleeve.stitches")
        .and_then(|fact| crate::measure::parse_size_list(&fact.value).ok());
    printed.is_some_and(|printed| {
        let given = case.sleeve.stitches.iter().map(|n| n.as_f64());
        printed.len() == 1 || given.eq(printed.iter().copied())
    })
}

/// Everything to decide, the gravest first.
pub(super) fn list(source: &AmendSource<'_>) -> Vec<String> {
    let mut out = Vec::new();
    out.extend(of_the_case(source));
    out.extend(of_the_reading(source));
    out.extend(of_the_seams(source.print));
    out.extend(of_the_cuff(source));
    out.extend(of_the_sleeve(source));
    out.extend(of_the_head(source));
    if matches!(visible_lines(&source.print.text), Cow::Owned(_)) {
        out.push("The print holds characters that cannot be seen, such as soft hyphens; a text or page shows them as \\u and a number, the JSON has them as they are.".to_owned());
    }
    let mentions = source.print.mentions.iter();
    out.extend(mentions.map(|place| {
        format!(
            "{}: it speaks of the sleeves; does it still hold?",
            quoted(&place.at)
        )
    }));
    out.push("Drawings, photographs and charts are no part of this text: a schematic of the sleeve has to be drawn anew.".to_owned());
    out
}

fn quoted(at: &Evidence) -> String {
    format!("Page {}, line {}, \"{}\"", at.page, at.line, at.text)
}

/// Where the case says otherwise than the print, and what was found when it was converted.
fn of_the_case(source: &AmendSource<'_>) -> Vec<String> {
    let mut out = Vec::new();
    if !same_cap(source.leaflet, source.case) {
        out.push("The case's lines of the cap are not the printed ones; where the print is wrong, say so in an erratum for those who have it.".to_owned());
    }
    if source.case.adapt.is_some() {
        out.push("The case asks for another cap than the printed one ([adapt]): the new sleeve is that one's. Look whether the armhole's rows have to change with it.".to_owned());
    }
    let all = source
        .conversion
        .sizes
        .iter()
        .flat_map(|size| &size.findings);
    let all = source.conversion.findings.iter().chain(all);
    let loud = all.filter(|found: &&Diagnostic| found.level > Level::Note);
    out.extend(groups(loud).iter().map(of_sizes));
    if source
        .conversion
        .sizes
        .first()
        .is_some_and(|size| size.gauge.tube_assumed)
    {
        out.push("There is no swatch in rounds: the tube is counted at the pattern's gauge. Knit one before this is published.".to_owned());
    }
    let first = source.conversion.sizes.first().map(|size| &size.gauge);
    if let Some(used) = first.filter(|used| used.cap_source == GaugeSource::Round) {
        out.push(format!(
            "There is no swatch back and forth: the cap, which is worked so, is counted at the gauge in rounds, {}. Knit one before this is published.",
            counts_of(source, used.cap, "rows")
        ));
    }
    out
}

/// A finding with all the sizes that have it: whoever prints the pattern mends them all.
fn of_sizes(group: &Group<'_>) -> String {
    let Diagnostic { message, code, .. } = group.first;
    let sizes = match group.sizes.as_slice() {
        [] => String::new(),
        [one] => format!("Size {one}: "),
        all => format!("Sizes {}: ", all.join(", ")),
    };
    format!("{sizes}{message}{} [{}]", group.figures(), code.id)
}

/// True where the case says otherwise than an unsure fact: somebody has looked.
fn is_answered(case: &Case, fact: &Fact) -> bool {
    let counts = |list: &[Stitches]| Some(list.iter().map(|n| n.as_f64()).collect());
    let sleeve = &case.sleeve;
    let given: Option<Vec<f64>> = match fact.key.as_str() {
        "sleeve.cap" => return words(&fact.value) != words(&sleeve.cap),
        "sleeve.stitches" => counts(&sleeve.stitches),
        "sleeve.cuff_stitches" => sleeve.cuff_stitches.as_deref().and_then(counts),
        // Lengths and gauges may differ by their units alone: their doubts stay.
        _ => None,
    };
    let printed = crate::measure::parse_size_list(&fact.value).ok();
    let Some((given, printed)) = given.zip(printed) else {
        return false;
    };
    let of = |at: usize| printed.get(at).or(printed.first()).copied();
    let same = |(at, n): (usize, &f64)| of(at).is_some_and(|printed| (printed - n).abs() < 1e-9);
    !given.iter().enumerate().all(same)
}

/// Facts of the print that were unsure or not found.
fn of_the_reading(source: &AmendSource<'_>) -> Vec<String> {
    let open = source
        .leaflet
        .facts
        .iter()
        .filter(|fact| fact.status == Status::Unsure && !is_answered(source.case, fact));
    let said = open.map(|fact| {
        let at = fact.evidence.first().map(|at| format!(" ({})", quoted(at)));
        format!(
            "{} was not read with certainty: {}{}",
            fact.key,
            fact.why,
            at.unwrap_or_default()
        )
    });
    said.collect()
}

fn of_the_seams(print: &Print) -> Vec<String> {
    let open = print.seams.iter().filter(|seam| {
        seam.clauses
            .iter()
            .any(|clause| clause.joins.is_some_and(|joins| joins.other))
    });
    let said = open.map(|seam| format!("{}: shoulders and sides must be closed before the sleeves are picked up; where the neck or a border is worked with a seam open, it has to come before the sleeves.", quoted(&seam.place.at)));
    let mut out: Vec<String> = said.collect();
    let clauses = print.seams.iter().flat_map(|seam| {
        let clauses = seam.clauses.iter();
        clauses.map(move |clause| (seam, clause))
    });
    let gathered = clauses.filter(|(_, clause)| clause.is_settled() && is_gathered(&clause.words));
    out.extend(gathered.map(|(seam, clause)| {
        format!(
            "{}: \"{}\" goes, and with it the fullness that was gathered, pleated or eased in at the top. The new sleeve has none there; where it is to stand full, say how many stitches are made in the first row.",
            quoted(&seam.place.at),
            clause.words.trim()
        )
    }));
    out.extend(print.pressed.iter().map(|place| {
        format!(
            "{}: back and front are joined before the sleeves are begun. Press or block them before that, and the sleeves when they are done.",
            quoted(&place.at)
        )
    }));
    if print.seams.is_empty() {
        out.push("No sentence of the making up closes seams or sets the sleeves in; that shoulders and sides are joined first stands at the sleeves alone.".to_owned());
    }
    out
}

/// Words of a seam that take up fullness.
fn is_gathered(words: &str) -> bool {
    let words = words.to_lowercase();
    let begins = ["gather", "pleat", "fulness", "fullness", "puff", "tuck"];
    let whole = ["ease", "eased", "easing"];
    words
        .split(|c: char| !c.is_alphabetic())
        .any(|word| whole.contains(&word) || begins.iter().any(|sign| word.starts_with(sign)))
}

fn of_the_cuff(source: &AmendSource<'_>) -> Vec<String> {
    let print = source.print;
    let mut out = Vec::new();
    if source
        .conversion
        .sizes
        .iter()
        .any(|size| size.tube.is_none())
    {
        out.push("The case does not say length and cuff of the sleeve, so the new text ends below the cap: write the tube and the cuff.".to_owned());
        return out;
    }
    if source.case.sleeve.cuff.is_some() {
        return out;
    }
    let Some(cuff) = &print.cuff else {
        out.push("How the cuff is worked was not found in the old sleeve: write it below the tube, in rounds.".to_owned());
        return out;
    };
    let ends: Vec<u32> = source
        .conversion
        .sizes
        .iter()
        .filter_map(|size| Some(size.tube.as_ref()?.cuff.count()))
        .collect();
    out.push(format!(
        "{}: the cuff's words are the old ones, for rows. Read them for rounds (every round is a right-side one), and see whether {} sts suit its stitch.",
        quoted(&cuff.at),
        source.notation.list(&ends)
    ));
    if print.cuff_grows_from.is_some() {
        out.push("The old sleeve changed its count between cuff and tube; the cuff now has the stitches that were cast on, which at another gauge is another width.".to_owned());
    }
    out
}

fn of_the_sleeve(source: &AmendSource<'_>) -> Vec<String> {
    let mut out = Vec::new();
    if source.case.shoulder.is_some() {
        out.push("The saddle is now worked before the sleeve, outward from the neck, and its stitches wait on a holder: its rows have to be written anew and set before the sleeve.".to_owned());
    }
    let apart = source
        .conversion
        .sizes
        .iter()
        .flat_map(|size| &size.written)
        .any(|one| one.sleeve != Sleeve::Both);
    if apart {
        out.push("Front and back of the armhole differ, so left and right sleeve have a text each; \"both alike\" or \"make 2\" at the heading does not hold for the cap.".to_owned());
    }
    let repeats = source.case.sleeve.repeat.iter().flatten();
    if repeats.into_iter().any(|repeat| repeat.multiple > 1) {
        out.push("The sleeve has a stitch pattern: where it stands on the short rows and in rounds is for a person to write.".to_owned());
    }
    if source.print.needle_names.iter().any(Option::is_none) {
        out.push("The old sleeve does not name two needles, one for the cuff and one for the rest: say with which the new one is worked.".to_owned());
    }
    if source.print.body_ends.is_some() {
        out.push("The sleeves were printed before the body and are set behind it: look whether the body's text goes back to them.".to_owned());
    }
    out
}

fn of_the_head(source: &AmendSource<'_>) -> Vec<String> {
    let print = source.print;
    let mut out = Vec::new();
    match print.yarn {
        Some(_) => out.push("Whether the amounts of yarn still reach, in a size that used its last ball to the end.".to_owned()),
        None => out.push("No amount of yarn was found; the new caps take about the yarn of the old ones.".to_owned()),
    }
    if print.needles.is_none() {
        out.push("No list of needles was found: a circular needle of 80 cm (32 in) or longer or double-pointed needles, and stitch markers, are needed for the sleeves.".to_owned());
    }
    if print.gauge.is_none() {
        out.push("No place for the gauge of the sleeves was found.".to_owned());
    }
    if print.lengths.is_empty() {
        out.push("No length of the sleeve was found among the measurements.".to_owned());
    }
    let uneven = print
        .lengths
        .iter()
        .filter(|length| length.numbers.len() != source.case.sizes.len());
    out.extend(uneven.map(|length| {
        format!(
            "{}: it has {} for {}; put in what the new sleeves measure.",
            quoted(&length.place.at),
            match length.numbers.len() {
                0 => "numbers that can be read in two ways".to_owned(),
                1 => "one number".to_owned(),
                count => format!("{count} numbers"),
            },
            sizes(source.case.sizes.len())
        )
    }));
    out
}
