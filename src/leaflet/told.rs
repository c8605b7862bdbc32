//! What the print tells beside the facts of a case: measures of the finished garment, stitches of shoulders and neck. Nothing is
//! made of them; facts are held against them (`check/print`).

use std::sync::LazyLock;

use regex::Regex;

use super::body::{Shaped, back, front};
use super::lengths::length;
use super::lists::{UNIT, counts, fits, in_trade_notation, lengths, list, regex, unit_word};
use super::section::TextSection;
use super::{Evidence, Flow};

/// What a number of the print is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// Round the finished garment under the arms.
    Bust,
    /// Across one finished piece below the armholes.
    Width,
    /// Across the back above them.
    CrossBack,
    /// Round the finished sleeve at its widest.
    UpperArm,
    /// Depth of the armhole.
    ArmholeDepth,
    /// From the shoulder to the lower edge.
    Length,
    /// From the lower edge of the back to its armholes, as it is worked.
    Side,
    /// Stitches of both shoulders together.
    Shoulders,
    /// Stitches left between them.
    Neck,
    /// Stitches of the front where it is divided: both sides and what is bound off between.
    Divided,
}

/// A number of the print, one a size, that is no fact of a case.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// What it is of.
    pub what: What,
    /// In trade notation, as the values of facts.
    pub value: String,
    /// `cm` or `in`; nothing for stitches.
    pub unit: &'static str,
    /// Where it stands.
    pub at: Evidence,
}

/// All that is told.
pub(super) fn told(flow: &Flow, sections: &[TextSection], sizes: usize) -> Vec<Told> {
    // Cables pull in: no width follows from the one gauge.
    static CABLES: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bcables?\b|\bcabled\b|\bpanel\b|\baran\b"));
    let cabled = CABLES.is_match(&flow.text);
    let mut all: Vec<Told> = MEASURES
        .iter()
        .filter(|(what, _)| !cabled || matches!(what, What::ArmholeDepth | What::Length))
        .filter_map(|(what, form)| measured(flow, *what, form, sizes))
        .collect();
    let back = back(flow, sections);
    if let Some(back) = back {
        all.extend(side(flow, back, sizes));
        all.extend(shoulders(flow, back));
    }
    all.extend(front(sections).and_then(|(from, to)| divided(flow, from, to)));
    all.retain(|told| fits(&counts_of(told), sizes));
    all
}

fn counts_of(told: &Told) -> Vec<f64> {
    super::lists::numbers(&told.value)
}

/// The words that name a measure, before its numbers.
static MEASURES: LazyLock<[(What, Regex); 6]> = LazyLock::new(|| {
    let form = |words: &str| {
        let list = list();
        regex(&format!(
            r"(?i)(?:{words})[^\d\n.½¼¾]{{0,24}}?(?:({UNIT})[\s:.]*)?({list}|{})[ -]*({UNIT})?",
            super::lists::list_of_inches()
        ))
    };
    let finished = r"(?:finished|actual|garment|knitted|completed)";
    let girth =
        r"(?:bust|chest|measurements?|measures?|size|width all round|width round|circumference)";
    [
        (
            What::Bust,
            form(&format!(
                r"\b{finished} {girth}(?: \(?(?:at )?(?:the )?(?:bust|chest|under ?arms?)\)?)?|\b(?:finished|garment) measurements\s+(?:bust|chest)|\b(?:all )?round (?:the )?(?:body )?(?:at|under) (?:the )?(?:under ?arms?|arms)|\b(?:bust|chest) \((?:finished|actual|garment)\)"
            )),
        ),
        (
            What::Width,
            form(
                r"\b(?:back )?width (?:of (?:back|body) )?(?:at|across) (?:the )?(?:under ?arms?|back|chest|bust)",
            ),
        ),
        (
            What::CrossBack,
            form(r"\bcross[ -]back\b|\bacross (?:the )?shoulders\b"),
        ),
        (
            What::UpperArm,
            form(r"\bupper ?arm\b(?: width| circumference)?|\bsleeve width\b|\bwidth of sleeve\b"),
        ),
        (
            What::ArmholeDepth,
            form(r"\barmhole depth\b|\bdepth of armholes?\b"),
        ),
        (
            What::Length,
            form(
                r"\b(?:full |total |finished |body |back )length\b|(?m:^)\W*length(?: (?:to|from) (?:top of |centre |center |back |the )*(?:shoulders?|neck))?\b|\blength (?:to|from) (?:top of |centre |center |back |the )*(?:shoulders?|neck)",
            ),
        ),
    ]
});

/// The first measure of this kind with a unit and a number for each size.
fn measured(flow: &Flow, what: What, form: &Regex, sizes: usize) -> Option<Told> {
    // `Finished measurements: length 56 cm`, `length of sleeve seam`.
    static OTHER: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:length|long|sleeve (?:length|seam)|hips?|waist|heights?|ages?|years?|shoulders? to|side)\b",
        )
    });
    static SIDE: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:sleeves?|side|under ?arms?|armholes?|waist)\b"));
    form.captures_iter(&flow.text).find_map(|found| {
        let (all, list) = (found.get(0)?, found.get(2)?);
        // Without its unit it may be the name of a size.
        let unit = found.get(1).or_else(|| found.get(3))?;
        let unit = unit_word(unit.as_str());
        let first = list.as_str().lines().next().unwrap_or_default();
        let values = [list.as_str(), first]
            .map(|text| lengths(text, sizes))
            .into_iter()
            .find(|(values, two_readings)| fits(values, sizes) && !two_readings)?
            .0;
        let words = flow.get(all.start(), list.start());
        let other = if what == What::Length { &SIDE } else { &OTHER };
        let of_another = other.is_match(words) || words.to_lowercase().contains("fit");
        (!of_another).then(|| Told {
            what,
            value: in_trade_notation(&values),
            unit,
            at: flow.evidence(all.start(), all.end()),
        })
    })
}

/// How far the back is worked before its armholes.
fn side(flow: &Flow, back: Shaped, sizes: usize) -> Option<Told> {
    let length = length(flow, back.begins, back.from, sizes)?;
    (!length.more).then(|| Told {
        what: What::Side,
        value: in_trade_notation(&length.values),
        unit: length.unit,
        at: flow.evidence(length.from, length.to),
    })
}

/// Shoulders that are bound off in equal steps at both edges, and what is left after them.
fn shoulders(flow: &Flow, back: Shaped) -> Vec<Told> {
    static STEP: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)({list})\s*(?:sts?\b\.?|stitches)\s*(?:at|in)?\s*(?:the )?beg\w*\.?\s*(?:of )?(?:each of )?(?:the )?(?:next|foll\w*|every)?\s*({list})\s*rows"
        ))
    });
    static REST: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)^[^.;]{{0,40}}?[.;,]?\s*(?:then )?(?:bind|cast|BO|leave|place|slip|put)\b[^.;\d]{{0,40}}?\brem\w*\.?\s*({list})\s*(?:sts?\b|stitches)"
        ))
    });
    let text = flow.get(back.to, back.ends);
    let mut steps = Vec::new();
    let mut end = 0;
    for step in STEP.captures_iter(text) {
        let (Some(all), Some(stitches), Some(rows)) = (step.get(0), step.get(1), step.get(2))
        else {
            continue;
        };
        // Between two steps stands nothing but what joins them.
        if end > 0
            && text
                .get(end..all.start())
                .is_none_or(|between| between.len() > 40)
        {
            break;
        }
        steps.push((counts(stitches.as_str()), counts(rows.as_str())));
        end = all.end();
    }
    let Some(sum) = sum_of_steps(&steps) else {
        return Vec::new();
    };
    let told = |what: What, values: &[f64], from: usize, to: usize| Told {
        what,
        value: in_trade_notation(values),
        unit: "",
        at: flow.evidence(back.to + from, back.to + to),
    };
    let mut out = vec![told(What::Shoulders, &sum, 0, end)];
    let rest = text.get(end..).unwrap_or_default();
    if let Some(found) = REST.captures(rest)
        && let (Some(all), Some(list)) = (found.get(0), found.get(1))
    {
        out.push(told(
            What::Neck,
            &counts(list.as_str()),
            end,
            end + all.end(),
        ));
    }
    out
}

/// Stitches times rows, one a size, added up.
fn sum_of_steps(steps: &[(Vec<f64>, Vec<f64>)]) -> Option<Vec<f64>> {
    let length = steps.iter().map(|(a, b)| a.len().max(b.len())).max()?;
    let at = |list: &[f64], i: usize| list.get(if list.len() == 1 { 0 } else { i }).copied();
    let sum = |i: usize| {
        let each = steps.iter().map(|(a, b)| Some(at(a, i)? * at(b, i)?));
        each.sum::<Option<f64>>()
    };
    (0..length).map(sum).collect()
}

/// `K 29 (31) sts, cast off next 12 (14) sts, k to end`: both sides of the front and what lies between.
fn divided(flow: &Flow, from: usize, to: usize) -> Option<Told> {
    static ROW: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)\b(?:k|p|knit|purl|work|patt)\.?\s*(?:across )?(?:the )?(?:first )?({list})\s*(?:sts?\b\.?|stitches)?,?\s*(?:turn|(?:join|attach|with)\b[^.;\d]{{0,40}}?)?,?\s*(?:bind off|cast off|BO)\s*(?:the )?(?:next |cent(?:re|er) |middle )?({list})\s*(?:sts?\b\.?|stitches)?(?:\s*for (?:the )?neck)?,?\s*(?:and )?(?:k|p|knit|purl|work|patt)\.?\s*(?:across )?to\b"
        ))
    });
    let found = ROW.captures(flow.get(from, to))?;
    let (all, side, middle) = (found.get(0)?, found.get(1)?, found.get(2)?);
    let steps = [
        (counts(side.as_str()), vec![2.0]),
        (counts(middle.as_str()), vec![1.0]),
    ];
    Some(Told {
        what: What::Divided,
        value: in_trade_notation(&sum_of_steps(&steps)?),
        unit: "",
        at: flow.evidence(from + all.start(), from + all.end()),
    })
}
