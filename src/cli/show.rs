//! Diagnostics for the terminal: the words underlined where there is a place.

use std::fmt::Write as _;

use annotate_snippets::{AnnotationKind, Group, Level as Rank, Renderer, Snippet};

use crate::case::{Case, ONE_SIZE};
use crate::diagnostic::{Diagnostic, Level, visible, visible_lines};
use crate::measure::limits::MAX_SHOWN;

/// Bytes of a text that is shown whole around a place.
const LONG_TEXT: usize = 64 << 10;

/// Bytes shown on either side of a place in a longer text.
const AROUND: usize = 200;

/// A text that spans refer to, and its name.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SpanSource<'a> {
    pub(crate) name: &'a str,
    pub(crate) text: &'a str,
}

/// All diagnostics, each with its place underlined and its next step.
pub(crate) fn diagnostics(list: &[Diagnostic], source: SpanSource<'_>) -> String {
    let shown = list.iter().take(MAX_SHOWN);
    let mut text: String = shown.map(|diagnostic| one(diagnostic, source)).collect();
    if let Some(more @ 1..) = list.len().checked_sub(MAX_SHOWN) {
        let _ = writeln!(
            text,
            "note: {more} more; correct the first ones and look again.\n"
        );
    }
    text
}

/// Diagnostics, each shown in the lines of the case that it is about.
pub(crate) fn in_case(case: &Case, found: &[Diagnostic]) -> String {
    let shown = found.iter().map(|diagnostic| {
        let name = diagnostic.lines.unwrap_or_default();
        let text = case.lines(name).unwrap_or_default();
        diagnostics(std::slice::from_ref(diagnostic), SpanSource { name, text })
    });
    shown.collect()
}

fn one(diagnostic: &Diagnostic, source: SpanSource<'_>) -> String {
    let rank = match diagnostic.level {
        Level::Error => Rank::ERROR,
        Level::Warning => Rank::WARNING,
        Level::Note => Rank::NOTE,
    };
    let size = diagnostic
        .size
        .as_ref()
        .filter(|size| *size != ONE_SIZE)
        .map(|size| format!("size {size}: "))
        .unwrap_or_default();
    let message = format!("{size}{}", diagnostic.message);
    let title = rank.primary_title(message).id(diagnostic.code.id);
    let mut group = match snippet(diagnostic, source) {
        Some(snippet) => title.element(snippet),
        None => Group::with_title(title),
    };
    for repair in &diagnostic.repairs {
        let old = source
            .text
            .get(repair.span.from..repair.span.to)
            .unwrap_or_default();
        let old = visible(old);
        let proposal = match (old.trim(), repair.text.trim()) {
            ("", new) => format!("inserting `{new}` there makes every count agree"),
            (old, "") => format!("leaving out `{old}` makes every count agree"),
            (old, new) => format!("`{new}` instead of `{old}` makes every count agree"),
        };
        group = group.element(Rank::HELP.message(proposal));
    }
    group = group.element(Rank::HELP.message(diagnostic.advice().to_owned()));
    let report = [group];
    let text = Renderer::styled().render(&report);
    // The colours are ours; the renderer lets no other escape through.
    let parts: Vec<_> = text.split('\u{1b}').map(visible_lines).collect();
    parts.join("\u{1b}") + "\n\n"
}

fn snippet<'a>(
    diagnostic: &Diagnostic,
    source: SpanSource<'a>,
) -> Option<Snippet<'a, annotate_snippets::Annotation<'a>>> {
    let span = diagnostic.span?;
    // A span that does not lie in the text belongs to another one.
    source.text.get(span.from..span.to)?;
    let (text, from, line) = near(source.text, span.from, span.to);
    Some(
        Snippet::source(text)
            .path(visible(source.name))
            .line_start(line)
            .annotation(AnnotationKind::Primary.span(span.from - from..span.to - from)),
    )
}

/// The text around these bytes, where it begins and on which line: of a very long text only what is shown,
/// since all of it is laid out anew for each finding.
fn near(text: &str, from: usize, to: usize) -> (&str, usize, usize) {
    if text.len() <= LONG_TEXT {
        return (text, 0, 1);
    }
    let before = text.floor_char_boundary(from.saturating_sub(AROUND));
    let after = text.ceil_char_boundary(to.saturating_add(AROUND).min(text.len()));
    let head = text.get(before..from).unwrap_or_default();
    let start = head.rfind('\n').map_or(before, |at| before + at + 1);
    let tail = text.get(to..after).unwrap_or_default();
    let end = tail.find('\n').map_or(after, |at| to + at);
    let lines = text.get(..start).unwrap_or_default().matches('\n').count();
    (text.get(start..end).unwrap_or_default(), start, lines + 1)
}
