//! Clauses that close seams or set sleeves in: what each of them joins.

use std::sync::LazyLock;

use regex::Regex;

use super::Flow;
use super::lists::regex;
use super::place::Place;
use super::section::sentence_end;

/// A sentence of the making up that closes seams or sets sleeves in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seam {
    /// The sentence, to its full stop.
    pub place: Place,
    /// Its clauses.
    pub clauses: Vec<Clause>,
}

/// One thing that such a sentence asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clause {
    /// Its words, on one line.
    pub words: String,
    /// Where they stand, without what ties them to the next ones.
    pub place: Place,
    /// What it joins; nothing when it is about something else.
    pub joins: Option<Joins>,
}

/// What a clause joins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "seams are joined in any combination"
)]
pub struct Joins {
    /// The sleeve and the armhole.
    pub set_in: bool,
    /// Both shoulders.
    pub shoulders: bool,
    /// The sides of the body.
    pub sides: bool,
    /// The sleeve's own seam.
    pub sleeves: bool,
    /// All seams, without naming them.
    pub all: bool,
    /// One shoulder or side, or something beside these: nothing that can be settled without a person.
    pub other: bool,
}

impl Clause {
    /// True when it is known what becomes of it.
    pub fn is_settled(&self) -> bool {
        self.joins.is_some_and(|joins| !joins.other)
    }
}

/// Verbs that begin a clause of the making up.
const VERBS: &str = r"(?:sew|join|close|stitch|graft|seam|set|insert|fit|put|press|block|pin|weave|darn|steam|fold|attach|turn|pick|work|make|knit)";

/// Every sentence about seams outside these bytes.
pub(super) fn seams(flow: &Flow, (from, to): (usize, usize)) -> Vec<Seam> {
    let before = sentences(flow, 0, from);
    let after = sentences(flow, to, flow.text.len());
    let all = before.into_iter().chain(after);
    let read = all.map(|(from, to)| {
        let mut clauses = clauses(flow, from, to);
        folded(flow.get(from, to), &mut clauses);
        Seam {
            place: Place::new(flow, from, to),
            clauses,
        }
    });
    read.filter(|seam| seam.clauses.iter().any(|clause| clause.joins.is_some()))
        .collect()
}

/// Sentences of this stretch: to a full stop, a semicolon, a blank line or a line that begins anew.
pub(super) fn sentences(flow: &Flow, from: usize, to: usize) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut at = from;
    while at < to {
        let text = flow.get(at, to);
        at += text.len() - text.trim_start().len();
        let end = sentence_end(flow, at, to);
        let half = flow.get(at, end).find("; ").map(|stop| at + stop + 1);
        let end = half
            .unwrap_or(end)
            .max(flow.text.ceil_char_boundary(at + 1))
            .min(to);
        // A heading that runs into its sentence is none of its words.
        let start = HEADING
            .find(flow.get(at, end))
            .map_or(at, |head| at + head.end());
        if start < end {
            out.push((start, end));
        }
        at = end;
    }
    out
}

static HEADING: LazyLock<Regex> = LazyLock::new(|| {
    regex(
        r"^(?:[A-Z][A-Za-z]*(?: [A-Za-z]+){0,2}(?::|\.?[—–-]+)|[A-Z]{4,}(?: [A-Z]{2,}){0,2}\b[.:]?)\s*",
    )
});

/// The clauses of a sentence, each to its last word.
fn clauses(flow: &Flow, from: usize, to: usize) -> Vec<Clause> {
    static TIE: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)(?:\s*,\s*(?:and\s+|then\s+)*|\s+(?:and|then)\s+(?:then\s+)?)({VERBS})\b"
        ))
    });
    static VERB: LazyLock<Regex> = LazyLock::new(|| regex(&format!(r"(?i)^{VERBS}\b")));
    let text = flow.get(from, to).trim_end();
    let text = text.trim_end_matches(['.', ';']);
    let mut out = Vec::new();
    let mut start = 0;
    for tie in TIE.captures_iter(text) {
        let (Some(all), Some(verb)) = (tie.get(0), tie.get(1)) else {
            continue;
        };
        // What has no verb of its own says how the next clause is done.
        if VERB.is_match(text.get(start..).unwrap_or_default()) {
            out.push((start, all.start()));
            start = verb.start();
        }
    }
    out.push((start, text.len()));
    let clause = |(start, end): (usize, usize)| {
        let words = text.get(start..end).unwrap_or_default();
        Clause {
            words: words.split_whitespace().collect::<Vec<_>>().join(" "),
            place: Place::new(flow, from + start, from + end),
            joins: joins(words),
        }
    };
    out.into_iter().map(clause).collect()
}

/// `Fold sleeves in half, place fold to shoulder seam and sew into position`: its clauses set the sleeves in together.
fn folded(sentence: &str, clauses: &mut [Clause]) {
    static FOLDED: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)^(?:fold|place|lay|pin) [^.]*\bsleeves?\b[^.]*\b(?:sew|stitch|set|join)\b[^.]*\bin(?:to)? (?:position|place)\b",
        )
    });
    static SEWN: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)\b(?:sew|stitch|set|join)\b[^.]*\bin(?:to)? (?:position|place)\b")
    });
    if !FOLDED.is_match(sentence) {
        return;
    }
    let sewn = clauses
        .iter()
        .position(|clause| SEWN.is_match(&clause.words));
    let until = sewn.map_or(0, |at| at + 1);
    let mine = clauses.iter_mut().take(until);
    for clause in mine.filter(|clause| clause.joins.is_none()) {
        clause.joins = Some(Joins {
            set_in: true,
            ..Joins::default()
        });
    }
}

/// What a clause joins; nothing when it is about no seam.
fn joins(words: &str) -> Option<Joins> {
    static SET_IN: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:set|sew|insert|fit|put|stitch|join|attach|place)\b(?:[^.]*\bsleeves?\b(?: (?:caps?|tops?))?(?: in\b| into|[^.]*\barmholes?)|(?: up)? in (?:the )?sleeves?)|\binsert (?:the )?sleeves?|^(?:[^,]{0,60}, )?set[ -]in (?:the )?sleeves?",
        )
    });
    static SEAM: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)^(?:[^,]{0,60}, )?(?:(?:sew|join|close|stitch|graft|seam)\b[^.]*?\b(?:seams?|shoulders?|sides?|up|together)\b|work\b[^.]{0,40}\bseams?\b|seam (?:the )?sleeves?\b)",
        )
    });
    static OTHER: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:neck\w*|collars?|pockets?|saddles?|raglans?|button\w*|borders?|bands?|front bands?|hems?|zip\w*|linings?|placket\w*|hoods?|half|side of|ends?|ball|yarn|wool)\b|\b(?:left|right)\b",
        )
    });
    static NAMED: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:shoulders?|sides?|sleeves?|under ?arms?)\b"));
    if SET_IN.is_match(words) {
        return Some(Joins {
            set_in: true,
            ..Joins::default()
        });
    }
    if !SEAM.is_match(words) {
        return None;
    }
    let says = |word: &str| words.to_lowercase().contains(word);
    let named = NAMED.is_match(words);
    let all = !named && (says("seam") || says("sew up") || says("stitch up") || says("together"));
    let other = OTHER.is_match(words);
    if !named && (!all || other) {
        return None;
    }
    Some(Joins {
        set_in: false,
        shoulders: says("shoulder"),
        sides: says("side") || says("underarm"),
        sleeves: says("sleeve"),
        all,
        other,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What each clause of a sentence joins, in letters: set in, shoulders, sides, sleeves, all, other.
    fn read(text: &str) -> Vec<(String, String)> {
        let flow = Flow::of_text(text);
        let seams = seams(&flow, (flow.text.len(), flow.text.len()));
        let letters = |joins: Joins| -> String {
            let flags = [
                (joins.set_in, 'i'),
                (joins.shoulders, 's'),
                (joins.sides, 'd'),
                (joins.sleeves, 'l'),
                (joins.all, 'a'),
                (joins.other, 'o'),
            ];
            flags
                .iter()
                .filter(|flag| flag.0)
                .map(|flag| flag.1)
                .collect()
        };
        let clauses = seams.into_iter().flat_map(|seam| seam.clauses);
        let said = clauses.filter_map(|clause| Some((clause.words, letters(clause.joins?))));
        said.collect()
    }

    #[test]
    fn clauses_of_the_making_up() {
        for (text, wanted) in [
            (
                "Sew shoulder seams. Set in sleeves. Sew side and sleeve seams.",
                "s i dl",
            ),
            ("Press work lightly. Sew up seams. Set in sleeves.", "a i"),
            ("Weave in ends. Sew shoulders, set in sleeves.", "s i"),
            (
                "Sew shoulder, side and sleeve seams. Sew in sleeves.",
                "sdl i",
            ),
            ("Sew shoulder seams and set sleeves into armholes.", "s i"),
            ("Sew up and set in sleeves.", "a i"),
            ("Close the shoulder seams. Set in the sleeves.", "s i"),
            (
                "Matching centre of cap to shoulder seam, sew sleeves into armholes, easing to fit.",
                "i",
            ),
            (
                "Join left shoulder and neckband seam. Join right shoulder seam.",
                "so so",
            ),
            ("Sew saddles to shoulders. Press seams.", "so"),
            ("Join a second ball, bind off 20 sts.", ""),
            (
                "Work in rib as on sleeves for 2 in. Work as back to shoulders.",
                "",
            ),
            ("Sew on buttons and join side seams.", "d"),
            (
                "Fold sleeves in half lengthways, place fold to shoulder seam and sew into position. Join side and sleeve seams.",
                "i i dl",
            ),
            ("Fold neckband in half to inside and sew into position.", ""),
            (
                "A plain pullover for cool mornings, with set-in sleeves and a round neck. Set in sleeves.",
                "i",
            ),
        ] {
            let found: Vec<String> = read(text).into_iter().map(|(_, letters)| letters).collect();
            assert_eq!(found.join(" "), wanted, "{text}: {:?}", read(text));
        }
    }
}
