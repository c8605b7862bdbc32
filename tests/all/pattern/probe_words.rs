//! The probe: each word of a text changed for another that means something else.
//!
//! A word that could be another one without changing anything has not been read. What is changed and for what is written
//! here from the trade's words alone; the reader's own tables are not asked.

use std::collections::BTreeMap;

use capwright::diagnostic::{Diagnostic, Level};
use capwright::pattern::{Context, Reading, read};

/// One word of the text, and what stands in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Change {
    /// Bytes of the text and what replaces them, in order.
    pub(crate) edits: Vec<(usize, usize, String)>,
    pub(crate) kind: &'static str,
}

impl Change {
    fn one(from: usize, to: usize, new: &str, kind: &'static str) -> Self {
        Self {
            edits: vec![(from, to, new.to_owned())],
            kind,
        }
    }

    /// The text with the change made.
    pub(crate) fn of(&self, text: &str) -> String {
        let mut out = String::new();
        let mut at = 0;
        for (from, to, new) in &self.edits {
            out += &text[at..*from];
            out += new;
            at = *to;
        }
        out + &text[at..]
    }

    /// What is changed, for people.
    pub(crate) fn told(&self, text: &str) -> String {
        let one = |(from, to, new): &(usize, usize, String)| format!("{}>{new}", &text[*from..*to]);
        self.edits.iter().map(one).collect::<Vec<_>>().join(" ")
    }
}

/// A word, several words or an abbreviation, and what is put in its place; `-` takes it out.
#[rustfmt::skip]
pub(crate) const EXCHANGES: &[(&str, &str, &[&str])] = &[
    // Sides.
    ("right side", "side", &["wrong side"]),
    ("right-side", "side", &["wrong-side"]),
    ("wrong side", "side", &["right side"]),
    ("wrong-side", "side", &["right-side"]),
    ("rs", "side", &["ws"]),
    ("ws", "side", &["rs"]),
    ("knit row", "side", &["purl row"]),
    ("knit rows", "side", &["purl rows"]),
    ("k row", "side", &["p row"]),
    ("purl row", "side", &["knit row"]),
    ("purl rows", "side", &["knit rows"]),
    ("p row", "side", &["k row"]),
    // Once more.
    ("more", "more", &["-"]),
    ("again", "more", &["-"]),
    ("another", "more", &["-"]),
    ("additional", "more", &["-"]),
    ("further", "more", &["-"]),
    ("in all", "in all", &["more", "-"]),
    ("in total", "in all", &["more", "-"]),
    ("altogether", "in all", &["more", "-"]),
    ("once", "often", &["twice"]),
    ("twice", "often", &["3 times", "once"]),
    ("thrice", "often", &["twice"]),
    // Edges.
    ("each end", "edge", &["end", "beg"]),
    ("both ends", "edge", &["end", "beg"]),
    ("each side", "edge", &["end", "beg"]),
    ("both sides", "edge", &["end", "beg"]),
    ("each edge", "edge", &["end", "beg"]),
    ("both edges", "edge", &["end", "beg"]),
    ("ea end", "edge", &["end", "beg"]),
    ("armhole edge", "edge", &["neck edge"]),
    ("neck edge", "edge", &["armhole edge"]),
    ("same edge", "edge", &["other edge"]),
    ("at beg", "edge", &["at end"]),
    ("beg of", "edge", &["end of"]),
    ("beginning of", "edge", &["end of"]),
    ("at end", "edge", &["at beg"]),
    // Paces.
    ("alt", "pace", &["-", "4th"]),
    ("alternate", "pace", &["-", "4th"]),
    ("every other", "pace", &["every", "every 4th"]),
    ("foll", "pace", &["last"]),
    ("next", "pace", &["last"]),
    ("last", "pace", &["first", "next"]),
    ("first", "ordinal", &["2nd"]),
    ("second", "ordinal", &["3rd"]),
    ("third", "ordinal", &["4th"]),
    // From where, how far, and on what condition.
    ("until", "until", &["-", "from"]),
    ("except", "only", &["-"]),
    ("if", "only", &["-"]),
    ("when", "only", &["-"]),
    ("not", "not", &["-"]),
    ("without", "not", &["-", "with"]),
    ("at the same time", "same time", &["-", "then"]),
    // What is done, and to what.
    ("dec", "verb", &["inc"]),
    ("decrease", "verb", &["increase"]),
    ("decreasing", "verb", &["increasing"]),
    ("inc", "verb", &["dec"]),
    ("increase", "verb", &["decrease"]),
    ("bind off", "verb", &["cast on"]),
    ("cast off", "verb", &["cast on"]),
    ("bo", "verb", &["cast on"]),
    ("cast on", "verb", &["cast off"]),
    ("work even", "verb", &["dec"]),
    ("rows", "unit", &["sts"]),
    ("sts", "unit", &["rows"]),
    ("cm", "unit", &["in"]),
    ("inches", "unit", &["cm"]),
    ("centre", "edge", &["first"]),
    ("center", "edge", &["first"]),
    ("larger", "size", &["smaller"]),
    ("largest", "size", &["smallest"]),
    ("smallest", "size", &["largest"]),
];

#[rustfmt::skip]
const WORDS: &[&str] = &[
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
];

/// Every change of one word, or of the numbers of one list.
pub(crate) fn changes(text: &str, labels: &[String]) -> Vec<Change> {
    let mut out = numbers(text, labels.len());
    out.extend(exchanged(text));
    out.extend(labels_exchanged(text, labels));
    out
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '\''
}

/// The places where these words stand by themselves, in any case.
pub(crate) fn places(text: &str, words: &str) -> Vec<(usize, usize)> {
    let lower = text.to_ascii_lowercase();
    let alone = |&(from, to): &(usize, usize)| {
        let before = lower[..from].chars().next_back();
        let after = lower[to..].chars().next();
        !before.is_some_and(is_word) && !after.is_some_and(is_word)
    };
    let found = lower
        .match_indices(words)
        .map(|(at, _)| (at, at + words.len()));
    found.filter(alone).collect()
}

fn exchanged(text: &str) -> Vec<Change> {
    let mut out = Vec::new();
    for &(words, kind, others) in EXCHANGES {
        for (from, to) in places(text, words) {
            for other in others {
                let new = if *other == "-" { "" } else { other };
                out.push(Change::one(from, to, new, kind));
            }
        }
    }
    let pairs = WORDS.windows(2);
    for pair in pairs {
        for (from, to) in places(text, pair[0]) {
            out.push(Change::one(from, to, pair[1], "number in words"));
        }
    }
    out
}

/// The name of a size in place of another.
fn labels_exchanged(text: &str, labels: &[String]) -> Vec<Change> {
    let mut out = Vec::new();
    for (n, label) in labels.iter().enumerate() {
        let other = &labels[(n + 1) % labels.len()];
        let number = label.parse::<u32>().is_ok();
        if labels.len() < 2 || number {
            continue;
        }
        let found = places(text, &label.to_ascii_lowercase()).into_iter();
        let same = found.filter(|&(from, to)| text[from..to] == *label);
        out.extend(same.map(|(from, to)| Change::one(from, to, other, "label")));
    }
    out
}

/// Every number raised by one: those of a list that has one for each size together.
fn numbers(text: &str, sizes: usize) -> Vec<Change> {
    let mut lists: Vec<Vec<(usize, usize)>> = Vec::new();
    let mut last = 0;
    for (from, to) in digits(text) {
        let between = &text[last..from];
        let joined = last > 0 && between.chars().all(|c| " ()[],:;-/–".contains(c));
        match lists.last_mut() {
            Some(list) if joined => list.push((from, to)),
            _ => lists.push(vec![(from, to)]),
        }
        last = to;
    }
    let mut out = Vec::new();
    for list in lists {
        let together = sizes > 1 && list.len() == sizes;
        let parts = list.chunks(if together { sizes } else { 1 });
        for part in parts {
            let edits = part.iter().map(|&(from, to)| {
                let raised = text[from..to].parse::<u64>().unwrap_or(0) + 1;
                (from, to, raised.to_string())
            });
            out.push(Change {
                edits: edits.collect(),
                kind: "number",
            });
        }
    }
    out
}

pub(crate) fn digits(text: &str) -> Vec<(usize, usize)> {
    let mut out: Vec<(usize, usize)> = Vec::new();
    for (at, _) in text.match_indices(|c: char| c.is_ascii_digit()) {
        match out.last_mut() {
            Some((_, to)) if *to == at => *to = at + 1,
            _ => out.push((at, at + 1)),
        }
    }
    out
}

/// Rows, counts and sides, and what is said of them with its values, without places and without the words that are quoted.
pub(crate) fn heard(text: &str, context: &Context) -> (Vec<String>, BTreeMap<String, usize>) {
    let (reading, said) = read(text, context);
    let mut all = BTreeMap::new();
    for one in &said {
        *all.entry(without_quotes(one)).or_insert(0) += 1;
    }
    (rows(&reading), all)
}

fn rows(reading: &Reading) -> Vec<String> {
    let of = |r: &capwright::pattern::LedgerRow| {
        format!(
            "{:?} {} {} {} {} {} {}",
            r.side,
            r.bind_off.count(),
            r.decrease_start.count(),
            r.decrease_end.count(),
            r.increase_start.count(),
            r.increase_end.count(),
            r.stitches.count()
        )
    };
    let ledgers = reading.sizes.iter().map(|s| {
        let rows: Vec<String> = s.ledger.rows.iter().map(of).collect();
        format!("{:?} {}", s.ledger.divided, rows.join("; "))
    });
    ledgers.collect()
}

fn without_quotes(said: &Diagnostic) -> String {
    let parts = said.message.split('\'').step_by(2);
    format!(
        "{} {:?} {}",
        said.code.id,
        said.size,
        parts.collect::<String>()
    )
}

/// The changes that change nothing of what is heard, and ought to.
pub(crate) fn unheard(text: &str, context: &Context) -> Vec<Change> {
    let before = heard(text, context);
    // What lies before the cap or after it is left out, and that is said.
    if before.1.keys().any(|said| said.starts_with("left-out")) {
        return Vec::new();
    }
    let changes = changes(text, &context.sizes).into_iter();
    let ought = changes.filter(|change| !change.is_harmless(text));
    ought
        .filter(|change| heard(&change.of(text), context) == before)
        .collect()
}

/// Words that change nothing beside these others; each was looked at.
#[rustfmt::skip]
const HARMLESS: &[(&str, &str)] = &[
    // Once is once at any pace, and so is none at all.
    ("every other>every 4th", "every other row once"),
    ("0>1", "every 0 rows 0 times"),
    // All that are left are the last ones.
    ("last>first", "the last 60 sts"),
    ("last>first", "the last 52 sts"),
    ("3>4", "across the last 3 in"),
    // Until a count, that three rows earlier or later is reached on the same row.
    ("3>4", "next 3 (RS) rows, then of every foll alt row to 66"),
    // Two stitches at a time pass the number by.
    ("56>57", "when 56 sts remain"),
    // Each half has its own two rows of these.
    ("4>5", "beg of next 4 rows"),
    // None of any rows; rows 2 and 3 are alike; `four times (five times in all)` is five in all, and so is five of five.
    ("1>2", "next 0 rows"),
    ("2>3", "Row 3: knit. Row 4: as row 2"),
    ("1>2", "Rows 3 and 4: As rows 1 and 2. Row 5: As row 1"),
    ("four>five", "four times (five times in all)"),
    // No row comes between that would be told twice.
    ("alt>", "Row 2 and every foll alt row: purl"),
    ("alt>", "foll 2 alt rows (front edge)"),
    // A plain row, knitted or purled.
    ("knit row>purl row", "and knit row"),
    ("Purl row>knit row", "Purl row"),
    // Nothing stands before it.
    ("AT THE SAME TIME>", "AT THE SAME TIME, dec"),
    ("AT THE SAME TIME>then", "AT THE SAME TIME, dec"),
    ("at the same time>", "Cont in patt and at the same time"),
    ("at the same time>then", "Cont in patt and at the same time"),
];

impl Change {
    /// The words change nothing at this place, by what stands beside them.
    fn is_harmless(&self, text: &str) -> bool {
        let told = self.told(text);
        let listed = |&(change, beside): &(&str, &str)| told == change && text.contains(beside);
        let Some((from, to, _)) = self.edits.first() else {
            return false;
        };
        let (before, after) = (
            text[..*from].to_ascii_lowercase(),
            text[*to..].to_ascii_lowercase(),
        );
        let start = before.rfind(['.', ':', ';']).map_or(0, |at| at + 1);
        let end = after.find(['.', ';']).unwrap_or(after.len());
        let sentence = format!("{} {}", &before[start..], &after[..end]);
        HARMLESS.iter().any(listed)
            || match self.kind {
                // The name of the first row, and of a decrease row.
                "number" if before.trim() == "row" || before.trim() == "rnd" => true,
                "number" if before.ends_with("decrease row ") => true,
                "number" => {
                    is_edge_stitch(&before, &after) || is_inset(&after) || in_brackets(&after)
                }
                // `twice more` after a row of the same kind is twice.
                "more" | "in all" => {
                    !(sentence.contains("rep ")
                        && (sentence.contains("last ") || sentence.contains("rows ")))
                }
                // The name of a row.
                "verb" => {
                    after.starts_with(" row")
                        || after.starts_with(')')
                        || after.starts_with(" on ")
                        || after.contains("0 rows")
                }
                "edge" => {
                    let bound = ["bind off", "cast off", "bo "]
                        .iter()
                        .any(|verb| sentence.contains(verb));
                    let whole = told.starts_with("armhole") && !text.contains("neck");
                    let none = after.contains(" 0 rows");
                    bound && sentence.contains("next") || whole || none
                }
                _ => false,
            }
    }
}

/// `k2` before a decrease: stitches that are worked as they come. Where they are counted a wrong number does not come out.
fn is_edge_stitch(before: &str, after: &str) -> bool {
    let verb = before.trim_end_matches([' ', '.']);
    let works = ["k", "p", "sl", "knit", "purl", "slip"].iter().any(|word| {
        verb.ends_with(word) && !verb.trim_end_matches(word).ends_with(char::is_alphabetic)
    });
    works && !after.trim_start().starts_with("row")
}

/// `2 sts in from the edge`, `1 edge st`.
fn is_inset(after: &str) -> bool {
    let after = after.trim_start();
    let named = ["st in from", "sts in from", "edge st"];
    named.iter().any(|words| after.starts_with(words))
}

/// `(2.5 cm)`: the same length, rounded.
fn in_brackets(after: &str) -> bool {
    [" cm)", " cm]"].iter().any(|unit| after.starts_with(unit))
}

/// The rows that are heard, when nothing is refused.
pub(crate) fn rows_read(text: &str, context: &Context) -> Option<Vec<String>> {
    let (reading, said) = read(text, context);
    said.iter()
        .all(|d| d.level != Level::Error)
        .then(|| rows(&reading))
}
