//! Every word of every sentence is accounted for.
//!
//! A word is used by an instruction that was understood, or it carries nothing (a joint, a filler
//! of the table), or it was not understood: then it is an error, with what was read of its sentence
//! and what was not. Words that are no term of the trade were set aside before anything was read
//! (`aside`); terms that no instruction took are marked by the parser.

use crate::diagnostic::{Diagnostic, Span, nearest};

use super::codes;
use super::limits::MAX_DIAGNOSTICS;
use super::term::{Lexeme, Term};
use super::vocabulary::{is_known, plain, words_like};

/// What became of a term.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Fate {
    /// An instruction took it, or it joins what others took.
    #[default]
    Used,
    /// No instruction took it.
    Left,
}

/// Misspelt words for which a known one is looked for.
const MOST_SUGGESTIONS: usize = 12;

/// Stretches of a sentence that are shown as read.
const MOST_STRETCHES: usize = 12;

/// One word or mark of the text, as it is accounted for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum WordKind {
    Used,
    Joint,
    Stop,
    NotUnderstood,
    /// Not even a term.
    Foreign,
}

/// True for a term that carries stitches, rows, sizes, sides, edges, repeats or an end.
fn carries(term: Term) -> bool {
    !matches!(
        term,
        Term::Comma
            | Term::Colon
            | Term::Semicolon
            | Term::Stop
            | Term::Open
            | Term::Close
            | Term::Dash
            | Term::Slash
            | Term::Equals
            | Term::And
            | Term::Then
            | Term::With
            | Term::For
            | Term::Work
            | Term::There
    )
}

fn kind(lexeme: &Lexeme, fate: Fate) -> WordKind {
    match (lexeme.term, fate) {
        (Term::Stop, _) => WordKind::Stop,
        (term, Fate::Left) if carries(term) => WordKind::NotUnderstood,
        (_, Fate::Left) => WordKind::Joint,
        (
            Term::Comma
            | Term::Colon
            | Term::Semicolon
            | Term::And
            | Term::Then
            | Term::Open
            | Term::Close
            | Term::Equals
            | Term::Dash,
            _,
        ) => WordKind::Joint,
        _ => WordKind::Used,
    }
}

/// One finding for every stretch of words that was not understood.
pub(super) fn not_understood(
    text: &str,
    terms: &[Lexeme],
    fates: &[Fate],
    aside: &[Span],
) -> Vec<Diagnostic> {
    if aside.is_empty() && !fates.contains(&Fate::Left) {
        return Vec::new();
    }
    let fates = fates.iter().copied().chain(std::iter::repeat(Fate::Used));
    let read = terms.iter().zip(fates).map(|(l, f)| (l.span, kind(l, f)));
    let foreign = aside.iter().map(|&span| (span, WordKind::Foreign));
    let mut words: Vec<(Span, WordKind)> = read.chain(foreign).collect();
    words.sort_by_key(|(span, _)| (span.from, span.to));
    let mut suggestions = MOST_SUGGESTIONS;
    let sentences = words.split(|(_, kind)| *kind == WordKind::Stop);
    let mut out = Vec::new();
    for sentence in sentences {
        of_sentence(text, sentence, &mut suggestions, &mut out);
        // As many as are shown, and one more, so that the rest is counted as left out.
        if out.len() > MAX_DIAGNOSTICS {
            break;
        }
    }
    out
}

fn of_sentence(
    text: &str,
    sentence: &[(Span, WordKind)],
    suggestions: &mut usize,
    out: &mut Vec<Diagnostic>,
) {
    let lost = |kind: WordKind| matches!(kind, WordKind::NotUnderstood | WordKind::Foreign);
    if !sentence.iter().any(|(_, kind)| lost(*kind)) {
        return;
    }
    let read = read_of(text, sentence);
    for stretch in sentence.split(|(_, kind)| *kind == WordKind::Used) {
        let inner = stretch.iter().filter(|(_, kind)| lost(*kind));
        let Some(span) = inner.map(|(span, _)| *span).reduce(Span::join) else {
            continue;
        };
        let foreign = stretch
            .iter()
            .filter(|(_, kind)| *kind == WordKind::Foreign);
        let near = foreign
            .map(|(span, _)| slice(text, *span))
            .find_map(|word| near(word, suggestions));
        out.push(finding(text, span, &read, near));
        if out.len() > MAX_DIAGNOSTICS {
            return;
        }
    }
}

fn finding(text: &str, span: Span, read: &str, near: Option<&str>) -> Diagnostic {
    let words = shortened(slice(text, span));
    let rest = match read {
        "" => "nothing of its sentence is read".to_owned(),
        read => format!("only '{read}' is read of its sentence"),
    };
    let mut message = format!("'{words}' was not understood; {rest}");
    if let Some(word) = near {
        message = format!("{message}; '{word}' may be meant");
    }
    Diagnostic::new(&codes::NOT_UNDERSTOOD, message).at(span)
}

/// The words of the sentence that were used, shortened.
fn read_of(text: &str, sentence: &[(Span, WordKind)]) -> String {
    let lost = |kind: WordKind| matches!(kind, WordKind::NotUnderstood | WordKind::Foreign);
    let stretches = sentence.split(|(_, kind)| lost(*kind));
    let used = stretches.filter_map(|stretch| {
        let used = stretch.iter().filter(|(_, kind)| *kind == WordKind::Used);
        used.map(|(span, _)| *span).reduce(Span::join)
    });
    let words: Vec<&str> = used
        .take(MOST_STRETCHES)
        .map(|span| slice(text, span))
        .collect();
    shortened(&words.join(" .. "))
}

/// The known word nearest to a misspelt one: never the word itself, nor one that begins otherwise (`deep` is no slip
/// for `keep`).
fn near(word: &str, suggestions: &mut usize) -> Option<&'static str> {
    let worth_it = *suggestions > 0 && word.len() > 3 && word.len() < 24;
    *suggestions = suggestions.saturating_sub(1);
    let word = plain(word);
    let like = words_like(&word).filter(|known| known.chars().next() == word.chars().next());
    let known = is_known(&word);
    (worth_it && !known).then(|| nearest(&word, like)).flatten()
}

fn slice(text: &str, span: Span) -> &str {
    text.get(span.from..span.to).unwrap_or_default()
}

/// At most sixty characters of the words.
fn shortened(words: &str) -> String {
    let mut out = String::new();
    for word in words.split_whitespace() {
        if out.chars().count() + word.chars().count() > 60 {
            return out + " ...";
        }
        if !out.is_empty() {
            out.push(' ');
        }
        out += word;
    }
    out
}
