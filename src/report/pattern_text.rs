//! The text for one sleeve: what to have ready, the instructions, the pick-up row by row.

use std::fmt::Write as _;

use crate::convert::Written;
use crate::needle::Sleeve;
use crate::wording::{ABBREVIATIONS_SOURCE, Instructions, PickUpList, Step};

/// Width of the text in characters.
pub(super) const WIDTH: usize = 96;

/// Everything for one sleeve. The needle reads the instructions alone: they begin at PICK UP and
/// end at the next heading that is none of theirs.
pub(super) fn sleeve_text(written: &Written) -> String {
    let mut out = String::new();
    if let Some(name) = sleeve_name(written.sleeve) {
        let _ = writeln!(out, "{name}\n");
    }
    out.push_str(&paragraph("BEFORE YOU START", &written.before));
    out.push_str(&paragraph("NEEDLES", &written.needles));
    out.push_str(&paragraph("STITCH PATTERN", &written.stitch_pattern));
    out.push_str(&paragraph("ABBREVIATIONS", &[abbreviations(written)]));
    out.push_str(&instructions(&written.instructions));
    out.push_str(&paragraph(
        "ROWS PICKED UP",
        &pick_up_sentences(&written.lists),
    ));
    out
}

/// The heading of a sleeve that has a text of its own.
pub(super) const fn sleeve_name(sleeve: Sleeve) -> Option<&'static str> {
    match sleeve {
        Sleeve::Both => None,
        Sleeve::Left => Some("LEFT SLEEVE (the wearer's left)"),
        Sleeve::Right => Some("RIGHT SLEEVE (the wearer's right)"),
    }
}

fn abbreviations(written: &Written) -> String {
    let entries = written.abbreviations.iter();
    let entries: Vec<String> = entries
        .map(|a| format!("{}: {}", a.short, a.meaning))
        .collect();
    format!("{} ({ABBREVIATIONS_SOURCE})", entries.join("; "))
}

/// The exact rows, and the rate when the armhole came out a row longer or shorter.
pub(super) fn pick_up_sentences(lists: &[PickUpList]) -> Vec<String> {
    lists
        .iter()
        .flat_map(|list| std::iter::once(list.sentence()).chain(list.one_row_off()))
        .collect()
}

/// A heading with sentences under it; nothing when there are none.
fn paragraph(heading: &str, sentences: &[String]) -> String {
    let mut out = String::new();
    for sentence in sentences.iter().filter(|sentence| !sentence.is_empty()) {
        if out.is_empty() {
            let _ = writeln!(out, "{heading}");
        }
        for (i, line) in wrapped(sentence, WIDTH - 6).iter().enumerate() {
            let _ = writeln!(out, "{}{line}", if i == 0 { "  " } else { "      " });
        }
    }
    if !out.is_empty() {
        out.push('\n');
    }
    out
}

/// Headings and sentences, the counts in a column at the right.
pub(super) fn instructions(text: &Instructions) -> String {
    let mut out = String::new();
    for section in &text.sections {
        let _ = writeln!(out, "{}", section.heading);
        for step in &section.steps {
            out.push_str(&step_text(step));
        }
        out.push('\n');
    }
    out
}

fn step_text(step: &Step) -> String {
    let mut out = String::new();
    let lines = wrapped(&step.sentence, WIDTH - 6);
    let counts = step.counts.as_ref().map(|counts| format!("[{counts}]"));
    for (i, line) in lines.iter().enumerate() {
        let indent = if i == 0 { "  " } else { "      " };
        out.push_str(indent);
        out.push_str(line);
        if i + 1 < lines.len() {
            out.push('\n');
        }
    }
    if let Some(counts) = counts {
        let used = out.lines().last().map_or(0, |line| line.chars().count());
        if used + 2 + counts.chars().count() > WIDTH {
            let _ = write!(out, "\n{counts:>WIDTH$}");
        } else {
            let _ = write!(out, "{counts:>rest$}", rest = WIDTH - used);
        }
    }
    out.push('\n');
    out
}

/// Words in lines of at most `width` characters.
pub(crate) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
