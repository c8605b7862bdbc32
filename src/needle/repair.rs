//! Edits of one number after which a written pattern knits without a finding.

use super::lexer::{Token, WordKind, lex};
use crate::diagnostic::{Repair, Span};

/// How far a number may be off: larger slips are seldom slips of the pen.
const FURTHEST: u32 = 3;
/// As many texts are tried at most: a pattern of one size has a few hundred numbers, each with six edits.
const MOST_TRIED: usize = 1200;
/// Bytes of text knitted in all: a long pattern has fewer edits tried, the likeliest first.
const MOST_KNITTED: usize = 4 << 20;
/// As many edits are offered at most.
const MOST_OFFERED: usize = 5;

/// The edits, the smallest change first and, among equals, the one nearest before `error`.
///
/// A changed number shows where it stands or later, so only numbers before the end of the
/// sentence of the first error are tried; every candidate is knitted to its end.
pub(crate) fn repairs(text: &str, error: Span) -> Vec<Repair> {
    let end = end_of_sentence(text, error);
    let mut tokens = lex(text);
    tokens.retain(|token| token.span.from < end && number(token).is_some());
    tokens.reverse();
    let by_size = (1..=FURTHEST).flat_map(|by| tokens.iter().flat_map(move |t| changed(t, by)));
    by_size
        .take(MOST_TRIED.min(MOST_KNITTED / text.len().max(1)))
        .filter(|repair| cures(text, repair))
        .take(MOST_OFFERED)
        .collect()
}

fn end_of_sentence(text: &str, error: Span) -> usize {
    let after = text.get(error.to..).unwrap_or_default();
    error.to + after.find('\n').unwrap_or(after.len())
}

fn number(token: &Token<'_>) -> Option<u32> {
    match token.kind {
        WordKind::Number(n) => Some(n),
        _ if token.is("once") => Some(1),
        _ if token.is("twice") => Some(2),
        _ => None,
    }
}

fn changed(token: &Token<'_>, by: u32) -> Vec<Repair> {
    let Some(n) = number(token) else {
        return Vec::new();
    };
    let others = [n.checked_sub(by), n.checked_add(by)];
    let text = |n: u32| match (token.kind, n) {
        (WordKind::Number(_), n) => n.to_string(),
        (_, 1) => "once".to_owned(),
        (_, 2) => "twice".to_owned(),
        (_, n) => format!("{n} times"),
    };
    others
        .into_iter()
        .flatten()
        .map(|n| Repair {
            span: token.span,
            text: text(n),
        })
        .collect()
}

fn cures(text: &str, repair: &Repair) -> bool {
    let before = text.get(..repair.span.from).unwrap_or_default();
    let after = text.get(repair.span.to..).unwrap_or_default();
    super::knit(&format!("{before}{}{after}", repair.text))
        .1
        .is_empty()
}
