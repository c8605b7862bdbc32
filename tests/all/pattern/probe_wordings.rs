//! Other wordings of the same: marks, figures in words, synonyms, another order. They read the same, or are refused.

use super::probe_words::places;

/// Wordings that mean the same to a knitter, whatever stands beside them.
#[rustfmt::skip]
const SYNONYMS: &[(&str, &[&str])] = &[
    ("bind off", &["cast off", "BO"]),
    ("cast off", &["bind off", "casting off"]),
    ("each end", &["both ends", "each side", "each edge", "either end"]),
    ("each side", &["both sides", "each end", "each edge"]),
    ("both ends", &["each end", "both sides"]),
    ("every alt row", &["every alternate row", "every other row", "every 2nd row", "every second row", "alternate rows", "each alternate row"]),
    ("every other row", &["every alt row", "every 2nd row", "alternate rows"]),
    ("every 2nd row", &["every other row", "every second row"]),
    ("every rs row", &["each RS row", "every right side row", "RS rows", "all RS rows", "every RS row only"]),
    ("every row", &["each row", "all rows"]),
    ("every 4th row", &["every fourth row", "every 4 rows", "each 4th row", "every foll 4th row"]),
    ("foll", &["following"]),
    ("next row", &["the next row"]),
    ("beg", &["the beginning", "start"]),
    ("at beg of", &["at the beginning of", "beg", "at the start of"]),
    ("rem", &["remain", "are left"]),
    ("until", &["to", "till"]),
    ("dec 1 st", &["decrease one stitch", "decrease 1", "k2tog", "work 2 tog", "dec one st"]),
    ("sts", &["stitches", "st"]),
    ("twice", &["2 times", "two times", "2x"]),
    ("once", &["1 time", "one time"]),
    ("times", &["x"]),
    ("3 times", &["three times", "3x", "x 3"]),
    ("4 times", &["four times", "4x"]),
    ("twice more", &["2 more times", "2 times more", "a further 2 times", "another 2 times"]),
    ("once more", &["1 more time", "again"]),
    ("more times", &["times more"]),
    ("times more", &["more times"]),
    ("then", &["and then"]),
    ("and", &["&"]),
    ("work", &["knit", "continue"]),
    ("even", &["straight", "plain", "without shaping"]),
    ("rep", &["repeat", "work"]),
    ("last 2 rows", &["last two rows", "these 2 rows", "previous 2 rows", "2 rows above"]),
    ("these 2 rows", &["the last 2 rows"]),
    ("k to end", &["knit to end", "work to end", "k to end of row", "knit across", "k across", "k rem sts"]),
    ("to last", &["to the last", "until the last", "to within last"]),
    ("at the same time", &["simultaneously", "at same time"]),
    ("all sizes", &["each size"]),
    ("armhole edge", &["armhole", "underarm edge", "side edge"]),
    ("ending with a ws row", &["ending after a WS row", "ending on a WS row", "end with WS", "ending with RS facing"]),
];

#[rustfmt::skip]
const WORDS: &[&str] = &[
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
];

/// The same text in other words, with what was changed.
pub(crate) fn wordings(text: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for &(words, others) in SYNONYMS {
        for (from, to) in places(text, words) {
            for other in others {
                out.push((format!("{words}>{other}"), replaced(text, from, to, other)));
            }
        }
    }
    marks(text, &mut out);
    figures(text, &mut out);
    whole(text, &mut out);
    out
}

fn replaced(text: &str, from: usize, to: usize, new: &str) -> String {
    format!("{}{new}{}", &text[..from], &text[to..])
}

fn marks(text: &str, out: &mut Vec<(String, String)>) {
    let all: &[(&str, &[&str])] = &[
        (", ", &["; ", " - ", ". ", ": "]),
        ("; ", &[", ", ". ", " - "]),
        (". ", &["; ", ", ", "\n", " - "]),
        (": ", &[" - ", ". ", ", ", " "]),
        (" at each end", &[", at each end", " (at each end)"]),
        (" at beg", &[", at beg"]),
        (" of next", &[", next", " on next", " in next", " next"]),
        (
            " of every",
            &[", every", " on every", ", on every", " every"],
        ),
        (" on every", &[", every", " of every", ", on every"]),
        (" every", &[", every"]),
        (" each end", &[", each end"]),
        (" until", &[", until"]),
        (" and", &[", and"]),
        (" then", &[", then", "; then"]),
    ];
    for &(mark, others) in all {
        for (at, _) in text.match_indices(mark) {
            let before = text[..at].trim_end_matches("st").trim_end_matches("th");
            let before = before.trim_end_matches("nd").trim_end_matches("rd");
            let numbers = before.ends_with(|c: char| c.is_ascii_digit())
                && text[at + mark.len()..].starts_with(|c: char| c.is_ascii_digit());
            for other in others {
                // `rows 1 - 3` is a stretch.
                if numbers && *other == " - " {
                    continue;
                }
                out.push((
                    format!("{mark:?}>{other:?}"),
                    replaced(text, at, at + mark.len(), other),
                ));
            }
        }
    }
    // A comma before a number of times.
    for n in [
        "once", "twice", "2 times", "3 times", "4 times", "5 times", "6 times",
    ] {
        for (at, to) in places(text, n) {
            if at > 0 && text[..at].ends_with(' ') && !text[..at - 1].ends_with(',') {
                out.push((
                    format!(">, {n}"),
                    replaced(text, at - 1, to, &format!(", {n}")),
                ));
                out.push((format!(">({n})"), replaced(text, at, to, &format!("({n})"))));
                out.push((
                    format!("> - {n}"),
                    replaced(text, at - 1, to, &format!(" - {n}")),
                ));
            }
        }
    }
    // A count in brackets or behind a mark.
    for (at, _) in text.match_indices(" sts.") {
        let from = text[..at]
            .trim_end_matches(|c: char| c.is_ascii_digit())
            .len();
        if from >= 2 && from < at && text[..from].ends_with(". ") {
            let count = &text[from..at];
            for new in [
                format!(" ({count} sts)."),
                format!(" - {count} sts."),
                format!(", {count} sts."),
                format!(" = {count} sts."),
                format!(" ({count})."),
            ] {
                out.push(("count".to_owned(), replaced(text, from - 2, at + 5, &new)));
            }
        }
    }
}

fn figures(text: &str, out: &mut Vec<(String, String)>) {
    let bytes = text.as_bytes();
    for (n, word) in WORDS.iter().enumerate() {
        for (from, to) in places(text, &n.to_string()) {
            let list = |c: Option<&u8>| c.is_some_and(|c| b"-/.".contains(c));
            if list(from.checked_sub(1).and_then(|at| bytes.get(at))) || list(bytes.get(to)) {
                continue;
            }
            out.push((format!("{n}>{word}"), replaced(text, from, to, word)));
        }
    }
}

fn whole(text: &str, out: &mut Vec<(String, String)>) {
    out.push(("lower".to_owned(), text.to_lowercase()));
    out.push(("upper".to_owned(), text.to_uppercase()));
    out.push(("lines".to_owned(), text.replace(". ", ".\n")));
    out.push(("wrapped".to_owned(), text.replace(", ", ",\n")));
    out.push(("wide".to_owned(), text.replace(' ', "  ")));
    out.push(("no-break".to_owned(), text.replace(' ', "\u{a0}")));
    out.push(("semicolons".to_owned(), text.replace(". ", "; ")));
    out.push(("commas".to_owned(), text.replace(". ", ", ")));
    out.push(("no commas".to_owned(), text.replace(", ", " ")));
}

/// The same steps in another order.
pub(crate) fn orders(text: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let lower = text.to_ascii_lowercase();
    for (at, _) in lower.match_indices("every ") {
        let rest = &lower[at..];
        let Some(row) = rest.find(" row ") else {
            continue;
        };
        let times_at = at + row + 5;
        let tail = &text[times_at..];
        let Some(n_end) = tail.find(' ') else {
            continue;
        };
        let (n, rest) = (&tail[..n_end], &tail[n_end + 1..]);
        if rest.starts_with("times") && n.chars().all(|c| c.is_ascii_digit()) {
            let pace = &text[at..times_at - 1];
            let end = times_at + n_end + 6;
            for new in [
                format!("{pace}, {n} times"),
                format!("{pace} for {n} times"),
                format!("{pace} (x{n})"),
                format!("{pace} - {n} times"),
                format!("{pace}: {n} times"),
                format!("{pace}; {n} times"),
            ] {
                out.push(("order of times".to_owned(), replaced(text, at, end, &new)));
            }
        }
    }
    for (at, _) in lower.match_indices("until ") {
        let tail = &text[at + 6..];
        let digits = tail.len() - tail.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if digits == 0 || !tail[digits..].starts_with(" sts rem") {
            continue;
        }
        let n = &tail[..digits];
        let word = tail[digits + 5..]
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(tail.len() - digits - 5);
        let end = at + 6 + digits + 5 + word;
        for new in [
            format!("until there are {n} sts"),
            format!("until {n} remain"),
            format!("to {n} sts"),
            format!("until only {n} sts remain"),
            format!("until you have {n} sts left"),
            format!("down to {n} sts"),
            format!("until {n} sts are left on the needle"),
            format!("until decreased to {n} sts"),
            format!("({n} sts)"),
            format!("till {n} sts"),
            format!("leaving {n} sts"),
            format!("- {n} sts"),
        ] {
            out.push(("order of until".to_owned(), replaced(text, at, end, &new)));
        }
    }
    out
}

/// The text with one number of it, and with all of them, as a list of three equal ones.
pub(crate) fn in_three_sizes(text: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let numbers: Vec<(usize, usize)> = super::probe_words::digits(text)
        .into_iter()
        .filter(|&(from, to)| {
            let joined = |c: char| c.is_alphanumeric() || "-/.½¼¾*".contains(c);
            let before = text[..from].chars().next_back().is_some_and(joined);
            let after = text[to..].trim_start_matches('.').chars().next();
            let after = after.is_some_and(|c| joined(c) && c != '.');
            let row = text[..from].to_ascii_lowercase();
            let named = ["row ", "rows ", "and ", "to ", "r", "rnd ", "through "]
                .iter()
                .any(|w| row.ends_with(w));
            let tog = text[to..].trim_start().starts_with("tog");
            !before && !after && !named && !tog
        })
        .collect();
    for &(from, to) in &numbers {
        let n = &text[from..to];
        for list in [
            format!("{n} ({n}, {n})"),
            format!("{n} [{n}: {n}]"),
            format!("{n}/{n}/{n}"),
            format!("{n}-{n}-{n}"),
            format!("{n} ({n}) {n}"),
            format!("({n}, {n}, {n})"),
            format!("{n} ({n} {n})"),
            format!("{n}:{n}:{n}"),
        ] {
            out.push(("list".to_owned(), replaced(text, from, to, &list)));
        }
    }
    out
}
