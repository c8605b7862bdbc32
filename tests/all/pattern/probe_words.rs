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
        let one = |(from, to, new): &(usize, usize, String)| {
            format!("{}>{new}", &text[*from..*to])
        };
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
    ("armhole", "edge", &["neck"]),
    ("neck edge", "edge", &["armhole edge"]),
    ("same edge", "edge", &["other edge"]),
    ("at beg", "edge", &["at end"]),
    ("beg of", "edge", &["end of"]),
    ("beginning of", "edge", &["end of"]),
    ("at end", "edge", &["at beg"]),
    ("at each end", "edge", &["-"]),
    ("at both ends", "edge", &["-"]),
    // Paces.
    ("alt", "pace", &["-", "4th"]),
    ("alternate", "pace", &["-", "4th"]),
    ("every other", "pace", &["every", "every 4th"]),
    ("every", "pace", &["next"]),
    ("foll", "pace", &["last"]),
    ("next", "pace", &["last"]),
    ("last", "pace", &["first", "next"]),
    ("first", "ordinal", &["2nd"]),
    ("second", "ordinal", &["3rd"]),
    ("third", "ordinal", &["4th"]),
    // From where, how far, and on what condition.
    ("starting", "from", &["-", "ending"]),
    ("beginning", "from", &["-", "ending"]),
    ("commencing", "from", &["-", "ending"]),
    ("ending", "from", &["-", "starting"]),
    ("ends", "from", &["-"]),
    ("from", "from", &["-", "until"]),
    ("after", "from", &["-", "before"]),
    ("until", "until", &["-", "from"]),
    ("before", "from", &["-", "after"]),
    ("except", "only", &["-"]),
    ("only", "only", &["-"]),
    ("if", "only", &["-"]),
    ("when", "only", &["-"]),
    ("all", "only", &["-"]),
    ("remaining", "rest", &["-"]),
    ("rem", "rest", &["-"]),
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
    ("row", "unit", &["st"]),
    ("sts", "unit", &["rows"]),
    ("cm", "unit", &["in"]),
    ("inches", "unit", &["cm"]),
    ("rep", "verb", &["-"]),
    ("repeat", "verb", &["-"]),
    ("turn", "turn", &["-"]),
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
    let found = lower.match_indices(words).map(|(at, _)| (at, at + words.len()));
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
    format!("{} {:?} {}", said.code.id, said.size, parts.collect::<String>())
}

/// True when the text is read without an error.
pub(crate) fn is_read(text: &str, context: &Context) -> bool {
    read(text, context).1.iter().all(|d| d.level != Level::Error)
}

/// The changes that change nothing of what is heard.
pub(crate) fn unheard(text: &str, context: &Context) -> Vec<Change> {
    let before = heard(text, context);
    let changes = changes(text, &context.sizes).into_iter();
    changes
        .filter(|change| heard(&change.of(text), context) == before)
        .collect()
}

/// The rows that are heard, when nothing is refused.
pub(crate) fn rows_read(text: &str, context: &Context) -> Option<Vec<String>> {
    let (reading, said) = read(text, context);
    said.iter().all(|d| d.level != Level::Error).then(|| rows(&reading))
}
