//! A body that is worked in one piece up to the armholes, as if its back had been flat: what is bound off between the pieces
//! is half of each, and the stitches of the back are printed. It is never sure: nobody printed these rows.

use std::sync::LazyLock;

use regex::Regex;

use super::cap_lines::lines_of;
use super::lists::{counts, fits, in_trade_notation, list, regex};
use super::section::{Part, TextSection, armhole_end, sentence_end};
use super::{Fact, Flow};

/// Said of what was made of a divided body.
const WHY: &str = "The body is divided at the armholes; this is its back as if it were flat: the stitches that it has then, and half of those bound off between the pieces at each of its edges.";

/// The facts of the armhole, in the words of the print.
pub(super) fn facts(flow: &Flow, sections: &[TextSection], sizes: usize) -> Option<Vec<Fact>> {
    static DIVIDE: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)\b(?:divid\w*|separate|split)\b[^.;]{0,40}?\b(?:armholes?|backs?|fronts?)\b")
    });
    let back = sections.iter().find(|section| section.part == Part::Back)?;
    let divide = DIVIDE.find(flow.get(0, back.head))?.start();
    // A left front may stand between.
    let heads = sections.iter().map(|section| section.head);
    let end = heads
        .filter(|head| *head > divide)
        .min()
        .unwrap_or(back.head);
    let words = flow.get(divide, end);
    let underarm = underarm(words)?;
    let left = left(words)?;
    let length = underarm.len().max(left.len());
    let at = |list: &[f64], i: usize| list.get(if list.len() == 1 { 0 } else { i }).copied();
    let half: Vec<f64> = underarm.iter().map(|n| n / 2.0).collect();
    let before: Vec<f64> = (0..length)
        .map(|i| Some(at(&left, i)? + at(&underarm, i)?))
        .collect::<Option<_>>()?;
    let whole = half.iter().all(|n| n.fract() == 0.0);
    if !whole || !fits(&before, sizes) {
        return None;
    }
    let (from, to) = shaping(flow, back)?;
    let lines = format!(
        "{} {} sts at beg of next 2 rows. {} sts.\n{}",
        if words.to_lowercase().contains("cast off") {
            "Cast off"
        } else {
            "Bind off"
        },
        in_trade_notation(&half),
        in_trade_notation(&left),
        lines_of(&flow.said(from, to))
    );
    let divided = flow.evidence(divide, sentence_end(flow, divide, end));
    let mut stitches = Fact::new(
        "armhole.stitches",
        in_trade_notation(&before),
        vec![divided.clone()],
    );
    let mut lines = Fact::new(
        "armhole.lines",
        lines,
        vec![divided, flow.evidence(from, to)],
    );
    stitches.doubt(WHY);
    lines.doubt(WHY);
    Some(vec![stitches, lines])
}

/// What is bound off between two pieces: of several counts the largest, which at the end of a round is worked in two halves.
fn underarm(words: &str) -> Option<Vec<f64>> {
    static BOUND: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)\b(?:bind|cast|binding|casting)[ -]off\s+(?:the )?(?:next |last |first |following )?({list})|\bBO\s+(?:the )?(?:next |last )?({list})"
        ))
    });
    let all = BOUND.captures_iter(words).filter_map(|found| {
        let list = found.get(1).or_else(|| found.get(2))?;
        Some(counts(list.as_str()))
    });
    let first = |list: &[f64]| list.first().copied().unwrap_or(0.0);
    all.max_by(|a, b| first(a).total_cmp(&first(b)))
}

/// The stitches that the back has then.
fn left(words: &str) -> Option<Vec<f64>> {
    static LEFT: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)({list})\s*(?:sts?\b\.?|stitches)\s*(?:each|(?:rem\w* )?(?:for|on) (?:each|the back))|until there are\s+({list})|\b(?:k|knit|work)\s+({list})\s*(?:sts?\b\.?|stitches)?\s*(?:for|of) (?:the )?back"
        ))
    });
    let found = LEFT.captures(words)?;
    let list = [1, 2, 3].iter().find_map(|&group| found.get(group))?;
    Some(counts(list.as_str()))
}

/// The back's own rows, from the first that decreases to its shoulders.
fn shaping(flow: &Flow, back: &TextSection) -> Option<(usize, usize)> {
    static DEC: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bdec\w*|\bk ?2 ?tog|\bssk\b|\bwork (?:even|straight)"));
    static SENTENCE: LazyLock<Regex> = LazyLock::new(|| regex(r"\.\s+|\n|, "));
    let text = flow.get(back.from, back.to);
    let dec = DEC.find(text)?;
    let before = text.get(..dec.start())?;
    let start = SENTENCE
        .find_iter(before)
        .last()
        .map_or(0, |stop| stop.end());
    let from = back.from + start;
    Some((from, armhole_end(flow, from, back.to)))
}
