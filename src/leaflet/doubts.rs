//! What other words of the print say against facts: corrections, stitches that are not counted, a second sleeve, a body that
//! fits no such table.

use std::sync::LazyLock;

use regex::Regex;

use crate::measure::CM_PER_INCH;

use super::lists::{numbers, regex};
use super::{Fact, Flow, Status};

/// Every doubt that words elsewhere in the print raise.
pub(super) fn by_other_words(flow: &Flow, facts: &mut [Fact]) {
    corrected(flow, facts);
    not_counted(flow, facts);
    several_sleeves(flow, facts);
    another_body(facts);
    two_wearers(flow, facts);
    ordinals(facts);
}

/// `Every 1nd row`: one of the two is a misprint, the number or its ending.
fn ordinals(facts: &mut [Fact]) {
    static NTH: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(\d*?)(1?\d)(st|nd|rd|th)\s+(?:rows?|rnds?|rounds?)\b"));
    let wrong = |words: &str| {
        NTH.captures_iter(words).find_map(|found| {
            let ending = match found.get(2)?.as_str() {
                "1" => "st",
                "2" => "nd",
                "3" => "rd",
                _ => "th",
            };
            let printed = found.get(3)?.as_str();
            (!printed.eq_ignore_ascii_case(ending))
                .then(|| found.get(0).map(|all| all.as_str().to_owned()))?
        })
    };
    for fact in facts {
        let said = fact.evidence.iter().find_map(|at| wrong(&at.text));
        if let Some(said) = wrong(&fact.value).or(said) {
            fact.doubt(&format!(
                "\"{said}\" is misprinted: its number or its ending."
            ));
        }
    }
}

/// `For men and women`, `for girls and women`: which table of bodies is meant?
fn two_wearers(flow: &Flow, facts: &mut [Fact]) {
    static TWO: LazyLock<Regex> = LazyLock::new(|| {
        let young = r"(?:girls?|boys?|child(?:ren)?|sons?|daughters?)";
        let women = r"(?:women|woman|ladies|lady|mothers?|hers?)";
        let men = r"(?:men|man|gentlem[ae]n|fathers?|his|him)";
        let and = r"(?:'s|s')?\s+(?:and|&|or)\s+(?:a |the |for )?";
        regex(&format!(
            r"(?i)\b(?:{young}{and}(?:{women}|{men})|{women}{and}(?:{young}|{men})|{men}{and}(?:{young}|{women}))\b"
        ))
    });
    let Some(sign) = TWO.find(&flow.text) else {
        return;
    };
    let at = flow.evidence(sign.start(), sign.end());
    let table = facts.iter_mut().find(|fact| fact.key == "body.table");
    if let Some(table) = table {
        table.doubt(&format!("It is for several wearers: \"{}\".", at.text));
    }
}

/// How many sizes there are is not sure, so no list is.
pub(super) fn lists(facts: &mut [Fact]) {
    let listed = facts
        .iter_mut()
        .filter(|fact| fact.key != "sizes" && fact.key != "title");
    let listed = listed.filter(|fact| fact.value.contains(" (") && !fact.key.contains("lines"));
    listed
        .filter(|fact| fact.status == Status::Sure && fact.key != "sleeve.cap")
        .for_each(|fact| fact.doubt("How many sizes there are is not sure."));
}

/// Corrections that are printed with a pattern may be of any of its numbers: a notice of them that speaks of counts or
/// rows, not every `correction` that a text asks for.
fn corrected(flow: &Flow, facts: &mut [Fact]) {
    static SIGN: LazyLock<Regex> = LazyLock::new(|| {
        let word = r"(?:errat(?:a|um)|corrigend\w+|corrections?|corrected|misprints?)";
        let counts = r"\b(?:sts?|stitch(?:es)?|rows?|times|sleeves?|cap|armholes?)\b";
        let instead = r"\b(?:should (?:read|be|say)|instead of|in place of|to read|for \d+,? read \d+|not \d+)\b";
        // A heading of corrections, and a number below it; or a notice within a sentence.
        let heading = format!(r"(?m:^)\W*{word}(?: slip| sheet)?\b.{{0,160}}?\d");
        let notice = r"\b(?:errat(?:a|um)|corrigend\w+|corrections?\s*[:.—–-]|corrected|(?:has|have) been (?:revised|altered|amended))";
        regex(&format!(
            r"(?is){heading}|{notice}[^.\n]{{0,160}}{counts}|\b{word}\b.{{0,240}}?{instead}"
        ))
    });
    let Some(sign) = SIGN.find(&flow.text) else {
        return;
    };
    let at = flow.evidence(sign.start(), sign.end());
    let why = format!(
        "A correction is printed (page {}, line {}): see whether it is of this.",
        at.page, at.line
    );
    of_counts(facts, &why);
}

/// `The edge stitches are not counted`: every count of stitches is without them.
fn not_counted(flow: &Flow, facts: &mut [Fact]) {
    static SIGN: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:edge|selvedge|selvage|border|seam) (?:sts?|stitch(?:es)?)\b[^.]{0,80}\bnot (?:be )?(?:counted|included|count\b)|\b(?:edge|selvedge|selvage|border|seam) (?:sts?|stitch(?:es)?)\b[^.]{0,60}\badd(?:ed)?\b|\b(?:not (?:count|counting|include|including|counted)|without counting|excluding|exclusive of)\b[^.]{0,40}\b(?:edge|selvedge|selvage|seam) (?:sts?\b|stitch)",
        )
    });
    if let Some(sign) = SIGN.find(&flow.text) {
        let at = flow.evidence(sign.start(), sign.end());
        let why = format!(
            "Edge stitches are not counted in the print (page {}, line {}): add them, or see that none is lost in the seams.",
            at.page, at.line
        );
        of_counts(facts, &why);
    }
}

/// Doubts what is shaped or counted.
fn of_counts(facts: &mut [Fact], why: &str) {
    let shaped = |key: &str| key.starts_with("sleeve.") || key.starts_with("armhole.");
    let mine = facts.iter_mut().filter(|fact| shaped(&fact.key));
    mine.filter(|fact| fact.status == Status::Sure)
        .for_each(|fact| fact.doubt(why));
}

/// Long sleeves and short ones: how long, and from how many stitches, depends on which are meant.
fn several_sleeves(flow: &Flow, facts: &mut [Fact]) {
    static HEADING: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?im)^\W*(short|three[- ]quarter|3/4|elbow|long)(?:[- ]length)? sleeves?\b\W*(?:$|[:.(])",
        )
    });
    let mut kinds: Vec<String> = HEADING
        .captures_iter(&flow.text)
        .filter_map(|found| Some(found.get(1)?.as_str().to_lowercase()))
        .collect();
    kinds.dedup();
    let [first, second, ..] = kinds.as_slice() else {
        return;
    };
    let why = format!("Both {first} and {second} sleeves are printed: see which this is of.");
    let mine = facts
        .iter_mut()
        .filter(|fact| fact.key.starts_with("sleeve.") && fact.status == Status::Sure);
    mine.for_each(|fact| fact.doubt(&why));
}

/// A baby's or a child's table beside a bust that no baby or child has.
fn another_body(facts: &mut [Fact]) {
    let of = |key: &str| facts.iter().find(|fact| fact.key == key);
    let inches = of("units").is_some_and(|units| units.value == "in");
    let bust = of("body.bust").map_or(Vec::new(), |bust| numbers(&bust.value));
    let Some(table) = of("body.table").map(|table| table.value.clone()) else {
        return;
    };
    let cm = |n: &f64| if inches { n * CM_PER_INCH } else { *n };
    let (least, most) = (
        bust.iter().map(cm).reduce(f64::min),
        bust.iter().map(cm).reduce(f64::max),
    );
    let unlike = match table.as_str() {
        "baby" => least.is_some_and(|n| n > LARGEST_BABY),
        "child" => least.is_some_and(|n| n > LARGEST_OF_SMALLEST_CHILD),
        _ => most.is_some_and(|n| n < SMALLEST_GROWN),
    };
    let table = facts.iter_mut().find(|fact| fact.key == "body.table");
    if let Some(table) = table.filter(|_| unlike) {
        table.doubt("The bust or chest that is printed is not that of such a wearer.");
    }
}

/// Chests beyond which a word for a baby, a child or a grown person is of something else; common practice, no source.
const LARGEST_BABY: f64 = 60.0;
const LARGEST_OF_SMALLEST_CHILD: f64 = 80.0;
const SMALLEST_GROWN: f64 = 70.0;
