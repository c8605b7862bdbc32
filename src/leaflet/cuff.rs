//! The cuff: its cast-on, and how it is worked up to what begins the tube.

use std::sync::LazyLock;

use regex::Regex;

use super::lengths::PrintedList;
use super::lists::{counts, list, regex};
use super::section::last_count;
use super::{Evidence, Flow};

/// The cast-on's own words: where its clause begins and where its count ends.
pub(super) fn cast_on(flow: &Flow, from: usize, to: usize) -> Option<(usize, usize)> {
    static CAST: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bcast(?:ing)? on|\bCO\b"));
    static STITCHES: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)^[^.\d]{{0,40}}{}\s*(?:sts?\b\.?|stitches)?",
            list()
        ))
    });
    let cast = CAST.find(flow.get(from, to))?;
    let start = from + cast.start();
    let count = STITCHES.find(flow.get(from + cast.end(), to))?;
    Some((start, from + cast.end() + count.end()))
}

/// What begins the tube: another needle, stitch or shaping.
static TUBE: LazyLock<Regex> = LazyLock::new(|| {
    regex(
        r"(?i)\b(?:chang|switch)\w* to|\binc(?:s|r\w*|ing)?\b|\bst\.? ?st\b|\bstockinette|\bstocking|\bsmooth|\bplain\b|\bbeg\w* with|\bwork even|\bcont\w*|\bproceed|\bshap\w+",
    )
});

/// How the cuff is worked, from behind the cast-on to what begins the tube.
pub(super) fn cuff(
    flow: &Flow,
    (_, cast_ends): (usize, usize),
    cap: usize,
) -> Option<(usize, usize)> {
    static RIB: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\brib|garter|moss|seed|border|welt|\bk ?\.?1\b"));
    static WORKS: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:rep\w*|rib\w*|until|garter|moss|seed)\b"));
    static LEAD: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)^(?:[\s.,;:]+|(?:and|then)\b|(?:using|with|on|in)\s[^.,;]{0,30}?needles?(?:\s\d[\d.,½¼¾]*\s*mm)?)+",
        )
    });
    let text = flow.get(cast_ends, cap);
    let start = LEAD.find(text).map_or(0, |lead| lead.end());
    let text = text.get(start..)?;
    let tube = TUBE.find(text).map_or(text.len(), |tube| tube.start());
    let before = text.get(..tube)?;
    let sentence = [". ", ".\n"]
        .iter()
        .filter_map(|mark| before.rfind(mark))
        .max();
    let clause = [",", ";", " and ", " then "]
        .iter()
        .filter_map(|mark| before.rfind(mark))
        .max();
    // The sentence that begins the tube may end the cuff first: `Rep these rows for 5 cm, inc ...`.
    let longer = clause.filter(|&end| {
        let from = sentence.map_or(0, |stop| stop + 1);
        before
            .get(from..end)
            .is_some_and(|words| WORKS.is_match(words))
    });
    let end = match (longer, sentence, before.rfind('\n')) {
        (Some(end), ..) => end,
        (_, Some(stop), _) => stop + 1,
        // Lines without full stops.
        (.., Some(line)) if before.get(line..)?.trim().is_empty() => line,
        _ => clause?,
    };
    let words = before.get(..end)?.trim_end();
    let from = cast_ends + start;
    RIB.is_match(words).then_some((from, from + words.len()))
}

/// `inc`, `inc. 6 sts.`, and what stands between it and how it is spread.
pub(super) const ACROSS_VERB: &str = r"\b(?:inc|dec)(?:s|r\w*|ing)?\b\.?(?:\bsts?\.|[^.]){0,60}?";

/// `in every 6th st`: spread over the row.
pub(super) const EVERY_SO_MANY: &str = r"\b(?:in|into) (?:every|each) (?:\d+\w*|other|alt\w*\.?|second|third|fourth|fifth|sixth) (?:st\b|stitch\b)";

/// The count that is cast on, where it is changed evenly before the tube.
pub(super) fn grows_from(
    flow: &Flow,
    (cast, ends): (usize, usize),
    cap: usize,
) -> Option<Vec<f64>> {
    static EVENLY: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i){ACROSS_VERB}(?:evenly|across|{EVERY_SO_MANY})"
        ))
    });
    EVENLY.find(flow.get(ends, cap))?;
    last_count(flow, cast, ends).map(|(values, ..)| values)
}

/// Said of counts that `increase 4 sts evenly` does not lead to.
pub(super) const EVENLY_OTHERWISE: &str =
    "The stitches before, those increased evenly and those after it do not agree.";

/// `Cast on 50 sts ... inc 4 sts evenly. 54 sts.`: true where the three numbers do not agree in some size.
pub(super) fn evenly_otherwise(flow: &Flow, from: usize, to: usize) -> bool {
    static EVENLY: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)\binc\w*\s+({list})\s*sts?\b[^.;(\d]{{0,60}}(?:evenly|across)(?:(?:middle|cent(?:re|er)|next|first|last|these|those) \d+ sts?\b|[^.;(\d]){{0,60}}[.;(—–:= -]+({list})\s*sts?\b"
        ))
    });
    let text = flow.get(from, to);
    EVENLY.captures_iter(text).any(|found| {
        let of = |at: usize| {
            found
                .get(at)
                .map_or(Vec::new(), |list| counts(list.as_str()))
        };
        let (more, after) = (of(1), of(2));
        let begins = found.get(0).map_or(0, |all| all.start());
        let Some((before, ..)) = last_count(flow, from, from + begins) else {
            return false;
        };
        let length = before.len().max(more.len()).max(after.len());
        let at = |list: &[f64], i: usize| list.get(if list.len() == 1 { 0 } else { i }).copied();
        (0..length).any(|i| match (at(&before, i), at(&more, i), at(&after, i)) {
            (Some(before), Some(more), Some(after)) => (before + more - after).abs() > 0.5,
            _ => false,
        })
    })
}

/// Said of a cuff whose length is not printed in the unit of the sleeve's.
pub(super) const RIB_OTHERWISE: &str = "The cuff is told in rows, or in the other unit. The sleeve's length is from its first row: without the cuff's the new sleeve comes out too long by it. Measure it, or work it out.";

/// `Rib for 3 in, then work 4 rows in garter st`: another stretch of the border, behind its length or before it.
pub(super) fn cuff_goes_on(flow: &Flow, length: &PrintedList, cap: usize) -> Option<Evidence> {
    static PART: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i){}\s*(?:more |further )?(?:rows?|rounds?|rnds?|in|ins|inch(?:es)?|cms?)\b[^.;:]{{0,24}}?\b(?:rib\w*|garter|moss|seed|border|welt)\b|\b(?:rib\w*|garter|moss|seed)\b[^.;:]{{0,24}}? for {}",
            list(),
            list()
        ))
    });
    static TUBE: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:chang|switch)\w* to|\binc\w*|\bst\.? ?st\b|\bstock"));
    let rest = flow.get(length.to, cap);
    let border = TUBE
        .find(rest)
        .map_or(rest.len().min(160), |tube| tube.start());
    let told = PART.find(rest).filter(|told| told.start() < border)?;
    Some(flow.evidence(length.to + told.start(), length.to + told.end()))
}

/// `Work 18 rows in k1, p1 rib`, `2 in rib` in a pattern in centimetres: where that is said.
pub(super) fn rib_otherwise(flow: &Flow, from: usize, to: usize) -> Option<(usize, usize)> {
    static TOLD: LazyLock<Regex> = LazyLock::new(|| {
        let much = format!(
            r"{}\s*(?:rows?|rounds?|rnds?|in|ins|inch(?:es)?|cms?)\b\.?",
            list()
        );
        let rib = r"\b(?:rib\w*|garter|moss|seed)\b";
        // `k.1, p.1 rib`.
        let between = r"(?:\b[kp]\.|[^.;:]){0,40}?";
        regex(&format!(r"(?i){much}{between}{rib}|{rib}{between}{much}"))
    });
    let told = TOLD.find(flow.get(from, to))?;
    Some((from + told.start(), from + told.end()))
}
