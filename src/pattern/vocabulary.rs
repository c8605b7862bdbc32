//! The words of the trade looked up: phrases by their first word, longest first.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use super::lexer::Token;
use super::spellings::{NUMBERS, ORDINALS, SPELLINGS, TENS};
use super::term::Term;

/// Words written short with a point, after which the sentence may go on.
static SHORTENED: &[&str] = &[
    "st", "sts", "beg", "rem", "foll", "follg", "fol", "alt", "dec", "inc", "tog", "rep", "k", "p",
    "in", "ins", "cm", "cms", "approx", "cont", "patt", "pat", "rnd", "rnds", "sl", "ea", "no",
    "decr", "incr", "mm", "tbl", "r", "w", "est", "ev", "contin", "altn", "b", "o", "bo", "opp",
];

/// A phrase after its first word, what it means, and the number it carries.
#[derive(Clone, Debug)]
pub(super) struct Phrase {
    pub(super) rest: Vec<&'static str>,
    pub(super) term: Term,
    pub(super) value: f64,
}

/// All phrases by their first word, longest first.
static PHRASES: LazyLock<BTreeMap<&'static str, Vec<Phrase>>> = LazyLock::new(|| {
    let mut map: BTreeMap<&'static str, Vec<Phrase>> = BTreeMap::new();
    let spelled = SPELLINGS
        .iter()
        .flat_map(|&(term, list)| list.iter().map(move |&s| (term, s)));
    for (term, spelling) in spelled {
        let (words, value) = spelling.split_once('=').unwrap_or((spelling, "1"));
        add(&mut map, words, term, value.parse().unwrap_or(1.0));
    }
    let counted = NUMBERS
        .iter()
        .chain(TENS)
        .map(|&(w, v)| (w, v, Term::Number));
    let placed = ORDINALS.iter().map(|&(w, v)| (w, v, Term::Ordinal));
    for (word, value, term) in counted.chain(placed) {
        add(&mut map, word, term, value);
    }
    for list in map.values_mut() {
        list.sort_by_key(|phrase| std::cmp::Reverse(phrase.rest.len()));
    }
    map
});

fn add(map: &mut BTreeMap<&'static str, Vec<Phrase>>, words: &'static str, term: Term, value: f64) {
    let mut words = words.split(' ');
    if let Some(first) = words.next() {
        let rest = words.collect();
        map.entry(first)
            .or_default()
            .push(Phrase { rest, term, value });
    }
}

/// The phrases that start with this word (lower case, plain apostrophes), longest first.
pub(super) fn phrases(first: &str) -> &'static [Phrase] {
    PHRASES.get(first).map_or(&[], Vec::as_slice)
}

/// Every word that stands in some phrase.
static WORDS: LazyLock<BTreeSet<&'static str>> = LazyLock::new(|| {
    let first = PHRASES.keys().copied();
    let rest = PHRASES
        .values()
        .flatten()
        .flat_map(|p| p.rest.iter().copied());
    first.chain(rest).collect()
});

/// True for a word that the table of spellings knows, alone or in a phrase.
pub(super) fn is_known(word: &str) -> bool {
    WORDS.contains(word)
}

/// True when a point after the word need not end the sentence.
pub(super) fn is_shortened(word: &str) -> bool {
    SHORTENED.contains(&word)
}

/// True for `twenty` to `ninety`.
pub(super) fn is_ten(word: &str) -> bool {
    TENS.iter().any(|&(ten, _)| ten == word)
}

/// The first words of all phrases that are about as long as this one, for did-you-mean.
pub(super) fn words_like(word: &str) -> impl Iterator<Item = &'static str> {
    let length = word.len();
    PHRASES.keys().copied().filter(move |known| {
        known.len() > 3 && known.len().abs_diff(length) * 3 <= length.max(known.len())
    })
}

/// Lower case, apostrophes plain, soft hyphens gone, and the points of `p.s.s.o.`.
pub(super) fn plain(word: &str) -> String {
    let dotted = word.len() > 1 && word.starts_with(char::is_alphabetic);
    word.chars()
        .filter(|&c| c != '\u{ad}' && !(dotted && c == '.'))
        .flat_map(char::to_lowercase)
        .map(|c| if matches!(c, '’' | '‘') { '\'' } else { c })
        .collect()
}

/// True for a word of a label: single letters as they are printed, longer words in any case.
pub(super) fn is_label_word(word: &str, labels: &[String]) -> bool {
    labels
        .iter()
        .any(|l| l == word || l.len() > 1 && l.eq_ignore_ascii_case(word))
}

/// `k2`, `x1`, `sl1`: a known word and the number written against it.
pub(super) fn letters_and_number(token: Token, word: &str) -> Option<(String, f64)> {
    let letters: String = word.chars().take_while(char::is_ascii_alphabetic).collect();
    let number = word.strip_prefix(letters.as_str())?;
    let known = phrases(&letters).iter().any(|p| p.rest.is_empty());
    let same_bytes = word.len() == token.span.to - token.span.from;
    (known && same_bytes && number.chars().all(|c| c.is_ascii_digit()))
        .then(|| number.parse().ok().map(|n| (letters, n)))
        .flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_spelling_has_two_meanings() {
        let mut seen = BTreeMap::new();
        for (term, spelling) in SPELLINGS
            .iter()
            .flat_map(|&(t, list)| list.iter().map(move |&s| (t, s)))
        {
            if let Some(before) = seen.insert(spelling, term) {
                assert_eq!(before, term, "{spelling}");
            }
        }
    }
}
