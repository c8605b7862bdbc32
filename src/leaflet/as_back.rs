//! A front that is sent back to the back, and what it has of its own all the same.

use std::sync::LazyLock;

use regex::Regex;

use super::lists::regex;
use super::section::{TextSection, shaping};
use super::{Evidence, Flow};

static AS: LazyLock<Regex> = LazyLock::new(|| {
    regex(
        r"(?i)\b(?:(?:exactly )?(?:as|like)(?: given| you did| you worked| you knit(?:ted)?)?(?: for| on)?|same as(?: for| you did)?|to match|follow(?:ing)? (?:the )?instructions for)\s+(?:the )?back\b[^.]{0,60}|from \*{1,3} to \*{1,3}[^.]{0,30}back",
    )
});

/// Words that send the front back to the back, unless it has an armhole of its own: from where to where.
pub(super) fn as_back(
    flow: &Flow,
    section: TextSection,
    own: Option<(usize, usize)>,
) -> Option<Evidence> {
    static SHAPES: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bcast(?:ing)? on|\bCO\b"));
    // A front with an armhole of its own is not the back's, however long it is told to be.
    static OWN: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?is)\b(?:dec\w*|k ?2 ?tog|tog)\b[^.]{0,60}(?:armhole|each (?:end|side)|both (?:ends|sides)|side edge)",
        )
    });
    let text = flow.get(section.from, section.to);
    let found = AS.find(text)?;
    let begins = section.from + found.start();
    if own.is_some_and(|(from, to)| from > begins && OWN.is_match(flow.get(from, to))) {
        return None;
    }
    let before = text.get(..found.start()).unwrap_or_default();
    if SHAPES.is_match(before) && shaping(flow, section.from, begins).is_some() {
        return None;
    }
    Some(flow.evidence(begins, section.from + found.end()))
}

/// Where the front is sent to the back before this place; what was counted before it is counted no longer.
pub(super) fn sent_before(flow: &Flow, from: usize, to: usize) -> Option<usize> {
    AS.find(flow.get(from, to))
        .map(|found| from + found.start())
}

/// True where stitches are gained or lost on the way from the cast-on to the armhole.
pub(super) fn counts_change(flow: &Flow, from: usize, to: usize) -> bool {
    static CHANGE: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:inc|dec)(?:s|r\w*|ing)?\b|\bm ?1\b|\btog\b"));
    CHANGE.is_match(flow.get(from, to))
}

/// `Work as left front, reversing all shaping and binding off 2 sts more at the armhole`.
pub(super) fn reversed_otherwise(flow: &Flow, section: TextSection) -> bool {
    static OTHER: LazyLock<Regex> = LazyLock::new(|| {
        let loops = r"(?:sts?|stitch\w*|rows?|times)";
        let much = "(?:more|fewer|less|extra)";
        regex(&format!(
            r"(?i)\brevers\w+\b[^.]*\b(?:{loops} {much}|{much} (?:\w+ )?{loops})\b"
        ))
    });
    OTHER.is_match(flow.get(section.from, section.to))
}

/// Words in small letters, single blanks between them.
fn plain(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ").to_lowercase()
}

/// True where the front's armholes may be others than the back's, though it is sent there:
/// `Work as back, but with armholes 2 rows shorter`, `Work as back to armholes. Bind off 8 sts ...`.
pub(super) fn is_unlike(flow: &Flow, section: TextSection, back: &str) -> bool {
    static SENDS: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:as|like)\b[^.]{0,30}\bback\b[^.]*"));
    static BUT: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:but|except\w*|only|instead|working)\b[^.]*\b(?:armholes?|underarms?|sides?|dec\w*|cast|bind)\b|\b(?:more|fewer|less) (?:times|sts|stitch\w*|rows)\b|\b(?:sts?|stitch\w*) (?:more|fewer|less)\b|\btimes more\b|\b(?:casting|binding) off|\bdecreasing",
        )
    });
    static NECK: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bneck|\bcent(?:re|er)"));
    let text = flow.get(section.from, section.to);
    shapes_its_own(text, back)
        || SENDS
            .find_iter(text)
            .any(|sentence| BUT.is_match(sentence.as_str()) && !NECK.is_match(sentence.as_str()))
}

/// True where the front is shaped at its sides before its neck, by words that neither send to the back nor stand there too.
fn shapes_its_own(text: &str, back: &str) -> bool {
    static SHAPES: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:dec|decs|decrease\w*|decreasing|k ?2 ?tog|p ?2 ?tog|2 tog|tog|ssk|skp|s?k2po|psso|BO)\b|\b(?:bind|cast)(?:ing)?[ -]off",
        )
    });
    static SENDS: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:as|like|match\w*|for)\b.*\bback\b"));
    static NECK: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:neck\w*|shoulders?|cent(?:re|er))\b"));
    // `Next row: k 31, cast off next 15 sts, k to end.`
    static NECK_ROW: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:k|knit|work|patt)\w* \(?\d[^.]*\b(?:cast|bind)\w* off"));
    static SENTENCE: LazyLock<Regex> = LazyLock::new(|| regex(r"[^.]+"));
    let back = plain(back);
    let from = AS.find(text).map_or(0, |found| found.start());
    let sentences = SENTENCE.find_iter(text.get(from..).unwrap_or_default());
    let before_neck = sentences
        .map(|sentence| plain(sentence.as_str()))
        .take_while(|sentence| !NECK.is_match(sentence) || sentence.contains("armhole"))
        .take_while(|sentence| !NECK_ROW.is_match(sentence));
    before_neck
        .filter(|sentence| SHAPES.is_match(sentence) && !SENDS.is_match(sentence))
        .any(|sentence| !back.contains(sentence.trim()))
}
