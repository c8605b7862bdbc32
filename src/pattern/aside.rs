//! Words that are no term of the trade are taken out before anything is read.
//!
//! What is left reads the same with or without them, whatever the place, and each of them is an
//! error. Only the name of a stitch pattern, `in trellis st`, is a filler, and a whole sentence in brackets that speaks of
//! the saddle and of no work at all.

use super::lexer::{Token, TokenKind};
use super::term::Term;
use super::vocabulary::{is_known, is_label_word, letters_and_number, phrases, plain};
use crate::diagnostic::Span;

/// What a remark may say of a saddle.
const OF_SADDLES: [&str; 7] = ["adds", "add", "gives", "makes", "rest", "height", "up"];

/// Words in the name of a stitch pattern.
const LONGEST_NAME: usize = 3;

/// The tokens that are read, and the places of the words set aside.
pub(super) fn set_aside(
    text: &str,
    tokens: &[Token],
    labels: &[String],
) -> (Vec<Token>, Vec<Span>) {
    let slice = |t: &Token| text.get(t.span.from..t.span.to).unwrap_or_default();
    let word = |t: &Token| plain(slice(t));
    let foreign: Vec<bool> = tokens
        .iter()
        .enumerate()
        .map(|(at, t)| t.kind == TokenKind::Word && !is_read(text, tokens, at, slice(t), labels))
        .collect();
    let mut read: Vec<Token> = Vec::with_capacity(tokens.len());
    let mut aside = Vec::new();
    let mut at = 0;
    while let Some(&token) = tokens.get(at) {
        let last = read.iter().rev().find(|t| !is_space(t));
        if last.is_none_or(|t| t.kind == TokenKind::Mark('.'))
            && let Some(end) = remark(tokens, &foreign, at, &word)
        {
            let inside = (at..end).filter(|&at| foreign.get(at).copied().unwrap_or(false));
            let inside = inside.filter_map(|at| tokens.get(at));
            let unknown = inside.filter(|t| !OF_SADDLES.contains(&word(t).as_str()));
            aside.extend(unknown.map(|t| t.span));
            at = end;
            continue;
        }
        if !foreign.get(at).copied().unwrap_or(false) {
            push(&mut read, token);
            at += 1;
            continue;
        }
        let before = read.iter().rev().find(|t| !is_space(t)).map(word);
        let name = before.filter(|w| matches!(w.as_str(), "in" | "of"));
        if let Some(end) = name.and_then(|_| pattern_name(tokens, &foreign, at, &word)) {
            at = end;
            continue;
        }
        aside.push(token.span);
        at += 1;
    }
    (read, aside)
}

/// A remark is a short sentence: so many words and spaces. A bracket that goes on for longer is none.
const MOST_OF_A_REMARK: usize = 80;

/// The place after `(The saddle adds the rest.)` when that begins here: no number and no word of the trade but the saddle,
/// the shoulder and what remains.
fn remark(
    tokens: &[Token],
    foreign: &[bool],
    from: usize,
    word: &impl Fn(&Token) -> String,
) -> Option<usize> {
    let rest = tokens.get(from..)?;
    let (first, rest) = rest.split_first()?;
    (first.kind == TokenKind::Mark('(')).then_some(())?;
    let mut near = rest.iter().take(MOST_OF_A_REMARK);
    let length = near.position(|t| t.kind == TokenKind::Mark(')'))?;
    let inside = rest.get(..length)?;
    let own = inside
        .iter()
        .enumerate()
        .rev()
        .map(|(at, t)| (from + 1 + at, t));
    let mut own = own.filter(|(at, t)| !is_space(t) && !foreign.get(*at).copied().unwrap_or(false));
    let (_, stop) = own.next()?;
    (stop.kind == TokenKind::Mark('.')).then_some(())?;
    let mut of_saddle = false;
    for (at, token) in (from + 1..).zip(inside) {
        match token.kind {
            TokenKind::Space { .. } | TokenKind::Mark('.' | ',') => {}
            TokenKind::Word => {
                let harmless = [
                    Term::Filler,
                    Term::Saddle,
                    Term::ForShoulder,
                    Term::Remaining,
                ];
                let word = word(token);
                let alone = phrases(&word).iter().filter(|p| p.rest.is_empty());
                let terms: Vec<Term> = alone.map(|phrase| phrase.term).collect();
                of_saddle |= terms.contains(&Term::Saddle);
                let known = !terms.is_empty() && terms.iter().all(|term| harmless.contains(term));
                let is_foreign = foreign.get(at).copied().unwrap_or(false);
                (known || is_foreign).then_some(())?;
            }
            _ => return None,
        }
    }
    of_saddle.then_some(from + length + 2)
}

/// True for a word that some table knows, or that may be a number.
fn is_read(text: &str, tokens: &[Token], at: usize, printed: &str, labels: &[String]) -> bool {
    let word = plain(printed);
    let Some(&token) = tokens.get(at) else {
        return false;
    };
    let after_digits = at
        .checked_sub(1)
        .and_then(|at| tokens.get(at))
        .is_some_and(|t| t.kind == TokenKind::Digits);
    let digit_like = |c: char| c.is_ascii_digit() || matches!(c, 'l' | 'I' | 'O' | 'o');
    let slip = printed.len() <= 4 && printed.chars().all(digit_like);
    let suffix = after_digits && matches!(word.as_str(), "th" | "st" | "nd" | "rd" | "d");
    // `in double moss st` is the name of a stitch, `double dec row` that of a row.
    if word == "double" {
        let slice = |t: &Token| text.get(t.span.from..t.span.to).unwrap_or_default();
        let after = tokens.iter().skip(at + 1).filter(|t| !is_space(t));
        let mut known =
            after.skip_while(|t| t.kind == TokenKind::Word && !is_known(&plain(slice(t))));
        let next = known.next().map_or("", slice);
        let terms = phrases(&plain(next));
        return terms
            .iter()
            .any(|p| matches!(p.term, Term::Dec | Term::Inc));
    }
    suffix
        || slip
        || is_known(&word)
        || word == "eor"
        || is_label_word(printed, labels)
        || letters_and_number(token, &word).is_some()
}

/// The place after `trellis st` when that stands here; that of the last word of `trellis pattern`.
fn pattern_name(
    tokens: &[Token],
    foreign: &[bool],
    from: usize,
    word: &impl Fn(&Token) -> String,
) -> Option<usize> {
    let mut names = 0;
    for (at, token) in tokens.iter().enumerate().skip(from) {
        match token.kind {
            TokenKind::Space { lines: 0 | 1 } | TokenKind::Mark('-') => {}
            TokenKind::Word if foreign.get(at).copied().unwrap_or(false) => names += 1,
            TokenKind::Word => {
                let noun = word(token);
                // `in trellis pattern` is `in pattern`, which says that a row is plain.
                let next = tokens.iter().skip(at + 1).find(|t| !is_space(t)).map(word);
                let again = matches!(next.as_deref(), Some("st" | "stitch"));
                return match noun.as_str() {
                    // `in trellis st st` is `in st st`.
                    "st" | "stitch" if again => Some(at),
                    "st" | "stitch" => Some(at + 1),
                    "patt" | "pattern" | "pat" | "rib" => Some(at),
                    _ => None,
                };
            }
            _ => return None,
        }
        if names > LONGEST_NAME {
            return None;
        }
    }
    None
}

fn is_space(token: &Token) -> bool {
    matches!(token.kind, TokenKind::Space { .. })
}

/// Two stretches of white space with a word taken out between them are one.
fn push(read: &mut Vec<Token>, token: Token) {
    if let TokenKind::Space { lines } = token.kind
        && let Some(last) = read.last_mut()
        && let TokenKind::Space { lines: before } = &mut last.kind
    {
        *before = lines.max(*before);
        last.span = last.span.join(token.span);
        return;
    }
    read.push(token);
}
