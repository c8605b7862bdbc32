//! A cap that is told by the armhole: `Shape top as given for back armholes until 66 sts remain.`

use std::sync::LazyLock;

use regex::Regex;

use super::Flow;
use super::body::back_lines;
use super::cap_lines::lines_of;
use super::lists::{list, regex};
use super::section::{TextSection, sentence_end, to_armhole};
use super::sleeve::SleeveLines;

/// The cap written out where its words send to the back's armhole.
pub(super) fn cap_of_armhole(flow: &Flow, sections: &[TextSection]) -> Vec<String> {
    let Some((from, to)) = SleeveLines::find(flow, sections, 1, false).cap() else {
        return Vec::new();
    };
    let told = to_armhole(flow, from, to).filter(|told| told.0 == from);
    match (told, back_lines(flow, sections)) {
        (Some((_, end)), Some(back)) => written_out(&back, flow.get(end, to)),
        _ => Vec::new(),
    }
}

/// The cap written out, in every way in which its words may be meant: the armhole's shaping up to this or that
/// sentence, the count that is to remain, and what follows.
fn written_out(armhole: &str, after: &str) -> Vec<String> {
    static UNTIL: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)^[ ,]*(?:until|to)\s(?:there are )?[(\[]?({list})\s*(?:sts?|stitches)\b\.?\s*(?:rem\w*|left|on needles?)?\s*[.;,]?"
        ))
    });
    let (count, rest) = match UNTIL.captures(after) {
        Some(found) => (
            found.get(1).map(|list| format!("{} sts.", list.as_str())),
            after.get(found.get(0).map_or(0, |all| all.end())..),
        ),
        None => (None, Some(after)),
    };
    let rest = rest.unwrap_or_default();
    let rest = rest.trim_start_matches([' ', ',', '.', ';', ':', '\n']);
    let steps = steps(armhole);
    let ends = match count {
        // Up to a count it may be any part of it.
        Some(_) => 1..=steps.len(),
        None => steps.len()..=steps.len(),
    };
    let text = |end: usize| {
        let mut lines: Vec<&str> = steps.iter().take(end).map(String::as_str).collect();
        lines.extend(count.as_deref());
        lines.push(rest);
        lines_of(&lines.join("\n"))
    };
    if steps.is_empty() {
        return Vec::new();
    }
    ends.rev().map(text).collect()
}

/// What shapes the armhole, an instruction a line, without the counts of its own stitches. Nothing where it goes on
/// until a count, since that of the sleeve is another.
fn steps(armhole: &str) -> Vec<String> {
    static COUNT: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)(?:[(\[=–—-]\s*)?{list}\s*(?:sts?|stitches)\b\.?(?: (?:rem\w*|left|now))*\s*[)\]]?"
        ))
    });
    static SHAPES: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:bind|cast)(?:ing)?[ -]off|\bBO\b|\bdec\w*|\bk ?2 ?tog|\bnarrow|\bssk|\bskp",
        )
    });
    static STRAIGHT: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)measure|straight|\beven\b|without shaping|until|\bto \d"));
    let mut out: Vec<String> = Vec::new();
    let flow = Flow::of_text(armhole);
    let mut at = 0;
    while at < flow.text.len() {
        let end = sentence_end(&flow, at, flow.text.len());
        let end = end.max(flow.text.ceil_char_boundary(at + 1));
        let sentence = flow.get(at, end).trim();
        at = end;
        let counts_only = COUNT.replace_all(sentence, "");
        if sentence.is_empty() || !counts_only.contains(char::is_alphanumeric) {
            continue;
        }
        // From the first sentence that is no shaping by rows on, nothing can be taken over.
        if STRAIGHT.is_match(sentence) || !SHAPES.is_match(sentence) {
            break;
        }
        out.push(without_count(sentence));
    }
    out
}

/// A sentence without the count of stitches at its end.
fn without_count(sentence: &str) -> String {
    static TAIL: LazyLock<Regex> = LazyLock::new(|| {
        let list = list();
        regex(&format!(
            r"(?i)\s*(?:[.(\[=–—:;,-]\s*)(?:there are |leaving |leaves )?{list}\s*(?:sts?|stitches)\b\.?(?: (?:rem\w*|left|now))*\s*[)\]]?\s*\.?$"
        ))
    });
    let short = TAIL.replace(sentence, "");
    format!("{}.", short.trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand.
    #[test]
    fn an_armhole_told_again() {
        let armhole = "Cast off 5 (6) sts at beg of next 2 rows. 90 (100) sts.\nDec 1 st each end of next 3 (5) rows (84 (90) sts).\nDec 1 st each end of every alt row until 78 (82) sts rem.\nWork straight.";
        let all = written_out(armhole, " until 66 (70) sts rem. Cast off.");
        assert_eq!(
            all,
            [
                "Cast off 5 (6) sts at beg of next 2 rows.\nDec 1 st each end of next 3 (5) rows.\n66 (70) sts.\nCast off.",
                "Cast off 5 (6) sts at beg of next 2 rows.\n66 (70) sts.\nCast off.",
            ]
        );
        let all = written_out(
            armhole,
            ", then dec 1 st each end of every alt row to 22 sts.",
        );
        assert_eq!(
            all,
            [
                "Cast off 5 (6) sts at beg of next 2 rows.\nDec 1 st each end of next 3 (5) rows.\nthen dec 1 st each end of every alt row to 22 sts."
            ]
        );
    }
}
