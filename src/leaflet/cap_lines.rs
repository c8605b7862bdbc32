//! The lines of a cap: where they end, whether they close it, and how a case holds them.

use std::sync::LazyLock;

use regex::Regex;

use super::Flow;
use super::lists::regex;
use super::section::sentence_end;

/// Where the lines of a cap end: after the last bind-off, or where a saddle or another piece begins.
pub(super) fn cap_end(flow: &Flow, from: usize, to: usize) -> usize {
    static LAST: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:(?:bind(?:ing)?[ -]off|cast(?:ing)?[ -]off|BO|fasten off)\s+(?:(?:all|the|loosely|these|in pattern|last)\s+)*(?:rem\w*|all\b|sts\b|stitches\b|last\b|loosely\.)|\b(?:bind|cast|fasten)[ -]off\.(?:\s|$)|\bBO\.(?:\s|$)|(?:leave|place|slip|put)\b[^.]{0,60}?holder)",
        )
    });
    static STOP: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?im)(?:^|[.] )\s*(?:saddle|strap)\b|\b(?:work|cont\w*)[^.]{0,40}saddle")
    });
    let text = flow.get(from, to);
    let stop = STOP.find(text).map_or(to, |stop| from + stop.start());
    let last = |from: usize| {
        let last = LAST.find(flow.get(from, stop))?;
        Some(sentence_end(flow, from + last.start(), stop))
    };
    let Some(mut end) = last(from) else {
        return stop;
    };
    while for_sizes(flow.get(end, stop))
        && let Some(next) = last(end)
    {
        end = next;
    }
    end
}

/// True when these lines go on for some sizes by name: each size has its own end of the cap.
fn for_sizes(rest: &str) -> bool {
    static SIZES: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)^(?:for )?(?:the )?(?:sizes? |(?:\d+(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth|last|small(?:er|est)?|medium|larger?|largest|x-large|extra[ -](?:small|large)|X{0,4}[SL]|M)\b[^.:\n]{0,40}(?:\bsizes?\b|\bonly\b|:))",
        )
    });
    SIZES.is_match(rest.trim_start())
}

/// True when these lines close the cap: all that is left is bound off or held.
pub(super) fn closes(lines: &str) -> bool {
    static CLOSE: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)\brem|\ball\b|last|holder|(?:off|BO)\W{0,3}$|\boff sts|\boff loosely")
    });
    CLOSE.is_match(
        lines
            .rsplit(['\n', '.'])
            .find(|part| part.trim().len() > 3)
            .unwrap_or(lines),
    ) || CLOSE.is_match(lines)
}

/// The number of a step and what follows it, which begins with a capital: `5. Decrease`, `5) Decrease`, `5 Decrease`.
fn step(line: &str) -> Option<(u32, &str)> {
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = line.split_at_checked(digits)?;
    let bare = rest.strip_prefix(['.', ')']);
    let spaced = bare.is_some() || rest.starts_with(' ');
    let rest = bare.unwrap_or(rest).trim_start();
    let alone = rest.is_empty() && bare.is_some() || rest.starts_with(char::is_uppercase);
    let short = number.len() < 3 && alone && spaced;
    Some((number.parse().ok().filter(|_| short)?, rest))
}

/// Lists with dashes between blanks, `5 - 5 - 6`, as `5-5-6`: between two numbers alone a dash may be that of a sentence.
fn tight(text: &str) -> String {
    static LIST: LazyLock<Regex> =
        LazyLock::new(|| regex(r"\d+[½¼¾]?(?:[ \t]+[–-][ \t]+\d+[½¼¾]?){2,}"));
    static DASH: LazyLock<Regex> = LazyLock::new(|| regex(r"[ \t]+[–-][ \t]+"));
    let list = |found: &regex::Captures<'_>| {
        let list = found.get(0).map_or("", |list| list.as_str());
        DASH.replace_all(list, "-").into_owned()
    };
    LIST.replace_all(text, list).into_owned()
}

/// The lines as a case holds them: each printed line without its margin, blank lines left out.
pub(super) fn lines_of(text: &str) -> String {
    let lines: Vec<&str> = text
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect();
    let steps: Vec<u32> = lines
        .iter()
        .filter_map(|line| Some(step(line)?.0))
        .collect();
    // The number of a step, `5. Decrease`, is no number of the instruction; one with no step
    // before or after it may well be.
    let plain = |line: &&str| match step(line) {
        Some((n, rest))
            if steps.contains(&(n + 1)) || n.checked_sub(1).is_some_and(|n| steps.contains(&n)) =>
        {
            rest.to_owned()
        }
        _ => (*line).to_owned(),
    };
    let lines: Vec<String> = lines
        .iter()
        .map(plain)
        .filter(|line| !line.is_empty())
        .collect();
    let text = tight(&lines.join("\n"));
    // Marks that other pieces come back to mean nothing here, unless these lines do so themselves.
    let text = if text.contains("rom *") {
        text
    } else {
        text.replace("**", "")
    };
    text.trim_end_matches(['*', ' ']).to_owned()
}
