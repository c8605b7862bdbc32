//! Several garments in one text, several sleeves in one garment: what there is, and the one that is wanted.

use std::sync::LazyLock;

use regex::Regex;

use super::Flow;
use super::construction::{backs, caps};
use super::lists::regex;
use super::section::{Part, TextSection};

/// Which of several, counted from 1; the first or only one where nothing is said.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Which {
    /// Of the garments in the text.
    pub garment: Option<usize>,
    /// Of the sleeves with a cap.
    pub sleeve: Option<usize>,
}

/// One garment of several.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct TextGarment {
    pub(super) title: String,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// A line that names a garment.
static TITLE: LazyLock<Regex> = LazyLock::new(|| {
    regex(
        r"(?im)^[ \t]*([^.\n:]{0,50}\b(?:pullovers?|cardigans?|sweaters?|jumpers?|jackets?|coats?|tops?|vests?|waistcoats?|slipovers?|jerseys?|tunics?|hoodies?|blouses?)\b[^.\n:]{0,30})$",
    )
});

/// The garments, each from its title on; none where the text has one, or where their titles are not found.
pub(super) fn garments(flow: &Flow, sections: &[TextSection]) -> Vec<TextGarment> {
    let backs = backs(flow, sections);
    if backs.len() < 2 || caps(flow, sections).len() < 2 {
        return Vec::new();
    }
    let mut starts = vec![0];
    for back in backs.iter().skip(1) {
        // The piece before it, whose rows name no garment by a line of its own.
        let mut pieces = sections.iter().filter(|s| s.part != Part::Other);
        let before = pieces.rfind(|s| s.head < back.head);
        let zone = before.map_or(0, |section| section.from);
        let Some(title) = TITLE.find(flow.get(zone, back.head)) else {
            return Vec::new();
        };
        starts.push(zone + title.start());
    }
    let ends = starts.iter().skip(1).copied().chain([flow.text.len()]);
    let ends: Vec<usize> = ends.collect();
    let of = |(&from, to): (&usize, usize)| TextGarment {
        title: title(flow, from, to),
        from,
        to,
    };
    starts.iter().zip(ends).map(of).collect()
}

/// The line that names it; of the first garment the last such line before its pieces.
fn title(flow: &Flow, from: usize, to: usize) -> String {
    let text = flow.get(from, to);
    let head = text.to_ascii_lowercase().find("back").unwrap_or(text.len());
    let lines = TITLE.find_iter(text.get(..head).unwrap_or(text));
    let line = if from == 0 {
        lines.last()
    } else {
        lines.into_iter().next()
    };
    let words = line.map_or_else(|| text.lines().next().unwrap_or_default(), |l| l.as_str());
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The sleeves that have a cap, by their headings.
pub(super) fn sleeves(flow: &Flow, sections: &[TextSection]) -> Vec<String> {
    let shaped = sections.iter().filter(|s| is_shaped_sleeve(flow, s));
    let named = shaped.map(|s| flow.evidence(s.head, s.from).text);
    named
        .map(|name| name.trim_end_matches([':', '.', ' ']).to_owned())
        .collect()
}

/// Only the sleeve that is wanted is called one.
pub(super) fn only_sleeve(flow: &Flow, sections: &mut [TextSection], wanted: usize) {
    let mut number = 0;
    for section in sections.iter_mut() {
        if is_shaped_sleeve(flow, section) {
            number += 1;
            if number != wanted {
                section.part = Part::Other;
            }
        }
    }
}

fn is_shaped_sleeve(flow: &Flow, section: &TextSection) -> bool {
    section.part == Part::Sleeve && super::section::shaping_of(flow, section).is_some()
}
