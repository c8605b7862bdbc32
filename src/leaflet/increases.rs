//! How a sleeve is increased: at both ends of every so many rows, so many times or until a count is reached.

use std::sync::LazyLock;

use regex::Regex;

use super::lists::{counts, in_trade_notation, list, regex};
use super::section::{last_count, sentence_end};
use super::{Evidence, Flow};

/// The increases of a sleeve as printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Increases {
    /// Stitches before the first of them, in trade notation.
    pub from: String,
    /// One pace after the other.
    pub paces: Vec<Pace>,
    /// Increases beside those of the paces: `next row and every 8th row`. Two numbers where the words may mean either.
    pub first: Vec<u32>,
    /// Where they stand.
    pub at: Evidence,
}

impl Increases {
    /// The counts that they add up to, in each reading of their words; nothing where they go on until a count.
    pub(super) fn reached(&self) -> Option<Vec<Vec<f64>>> {
        let from = counts(&self.from);
        let times: Vec<Vec<f64>> = self.paces.iter().map(|pace| counts(&pace.times)).collect();
        let length = times.iter().map(Vec::len).max()?.max(from.len());
        let at = |list: &[f64], i: usize| list.get(if list.len() == 1 { 0 } else { i }).copied();
        let sum = |i: usize| times.iter().map(|list| at(list, i)).sum::<Option<f64>>();
        let reached = |first: &u32| {
            let each =
                (0..length).map(|i| Some(at(&from, i)? + 2.0 * (sum(i)? + f64::from(*first))));
            each.collect::<Option<Vec<f64>>>()
        };
        self.first.iter().map(reached).collect()
    }
}

/// `Every 8th row 10 (12) times`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pace {
    /// Every so many rows, in trade notation.
    pub every: String,
    /// So often; nothing where it goes on until a count.
    pub times: String,
}

/// Within a clause: a point behind `st.` ends nothing.
const WITHIN: &str = r"(?:[^.;:]|\.,? ?[a-z\d(\[])";

/// `Every`, what follows it, and rows.
static PACE: LazyLock<Regex> = LazyLock::new(|| {
    let list = list();
    let nth = r"\d+(?:st|nd|rd|th)";
    let words = r"second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|twelfth";
    regex(&format!(
        r"(?i)\b(?:every|each)\s+(?:foll\w*\.?\s+|alternate\s+and\s+)?(?:({nth}(?:[\s,:;/()\[\]–-]+{nth})*[)\]]?|{words})|({list})|(other|alt\w*\.?|RS|right[ -]side|knit))\s*(?:rows?|rnds?|rounds?)\b"
    ))
});

/// The increases between the cuff and the cap; nothing where their words are not understood.
pub(super) fn increases(flow: &Flow, from: usize, cap: usize) -> Option<Increases> {
    static BEGINS: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)\b(?:inc\w*|widen\w*)\b{WITHIN}{{0,60}}?(?:(?:each|ea|either) (?:end|side|edge)|both (?:ends|sides|edges)|every)|\binc\w* r(?:ow|nd|ound)\b"
        ))
    });
    static SECOND: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\b(?:inc\w* r(?:ow|nd|ound))\b"));
    static EVENLY: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)evenly|across|in (?:the )?(?:last|next) row"));
    static MADE: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\b(?:inc|dec)\w*|\bm1\b|\bmake\b"));
    static BESIDE: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\d(?:st|nd|rd|th)\s*(?:rows?)?,? and \d+(?:st|nd|rd|th)|\b(?:next|foll\w*)\s+\d+\s+(?:alt\w*|rows?|RS)|\balternately\b",
        )
    });
    let text = flow.get(from, cap);
    let begins = BEGINS.find_iter(text).find(|found| {
        let rest = text.get(found.start()..).unwrap_or_default();
        !EVENLY.is_match(rest.split(['.', ';']).next().unwrap_or_default())
    })?;
    let start = from + begins.start();
    let (count, _, counted) = last_count(flow, from, start)?;
    let words = flow.get(start, cap);
    // What is made after the count, and rows that are named one by one, are none of the paces.
    if MADE.is_match(flow.get(counted, start)) || BESIDE.is_match(words) {
        return None;
    }
    let paces = paces(words)?;
    let more = |pace: &(Pace, bool)| pace.1;
    let by_row = SECOND.is_match(words);
    let first = if is_first(words) || by_row {
        if paces.iter().any(more) {
            vec![1]
        } else if by_row {
            vec![1, 0]
        } else {
            vec![0, 1]
        }
    } else {
        vec![0]
    };
    Some(Increases {
        from: in_trade_notation(&count),
        paces: paces.into_iter().map(|pace| pace.0).collect(),
        first,
        at: flow.evidence(start, sentence_end(flow, start, cap)),
    })
}

/// `7th row and then every 6th row`: the 7th is one more.
fn is_first(words: &str) -> bool {
    static FIRST: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)(?:\bnext|\bthis|\bfirst|\d(?:st|nd|rd|th)|\bthird|\bfifth|\bseventh)\s*(?:rows?|rnds?|rounds?)?,?\s*(?:and|then|and\s+then)\s+(?:(?:on|in|at (?:each|both) ends? of)\s+)?(?:every|each|foll)",
        )
    });
    FIRST.is_match(words)
}

/// Every pace with its times, and true where they are `more`.
fn paces(words: &str) -> Option<Vec<(Pace, bool)>> {
    static TIMES: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)^{WITHIN}{{0,50}}?({list})\s*(more )?(?:times?\b|[x×] ?1 st)(?:\s*(more))?|^{WITHIN}{{0,50}}?\b(once|twice)\b( more)?"
        ))
    });
    static TIME: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\btimes?\b|\bonce\b|\btwice\b|\d [x×] ?1 st"));
    static SHAPED: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bdec\w*|\bat the same time\b"));
    let at: Vec<_> = PACE.captures_iter(words).collect();
    let mut out = Vec::new();
    for (i, found) in at.iter().enumerate() {
        let end = found.get(0)?.end();
        let next = at.get(i + 1).and_then(|next| next.get(0));
        let rest = words.get(end..next.map_or(words.len(), |next| next.start()))?;
        let every = match (found.get(1), found.get(2)) {
            (Some(nth), _) => ordinals(nth.as_str()),
            (_, Some(list)) => counts(list.as_str()),
            _ => vec![2.0],
        };
        let times = TIMES.captures(rest);
        let more = times
            .as_ref()
            .is_some_and(|times| [2, 3, 5].iter().any(|&group| times.get(group).is_some()));
        let often = times.map_or(Vec::new(), |times| match (times.get(1), times.get(4)) {
            (Some(list), _) => counts(list.as_str()),
            (_, Some(word)) if word.as_str().eq_ignore_ascii_case("twice") => vec![2.0],
            _ => vec![1.0],
        });
        let pace = Pace {
            every: in_trade_notation(&every),
            times: in_trade_notation(&often),
        };
        out.push((pace, more));
    }
    let told = out.iter().filter(|pace| !pace.0.times.is_empty()).count();
    let all = TIME.find_iter(words).count() == told && !SHAPED.is_match(words);
    (all && !out.is_empty()).then_some(out)
}

/// `8th (8th, 6th)`, `eighth`.
fn ordinals(text: &str) -> Vec<f64> {
    const WORDS: [&str; 11] = [
        "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
        "eleventh", "twelfth",
    ];
    let word = WORDS
        .iter()
        .position(|word| text.eq_ignore_ascii_case(word));
    word.map_or_else(|| counts(text), |at| vec![at as f64 + 2.0])
}
