//! What is said above the instructions of the rows along the armhole, the saddle's stitches and those of the underarm, held
//! against what is picked up.

use super::codes;
use super::cursor::Cursor;
use super::knitted::{Column, Knitted};
use super::lexer::{Token, lex};
use super::parse_stretch::rows;
use super::sizes::one_size;
use crate::diagnostic::{Diagnostic, Span};
use crate::plan::{Flank, Section};

/// `back side 56 rows, 12 of them for the crown and 44 for the flank`.
struct EdgeSaid {
    side: EdgeSide,
    all: u32,
    crown: u32,
    flank: u32,
    span: Span,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum EdgeSide {
    First,
    Second,
    Of(Flank),
}

const SIDES: [(&str, EdgeSide); 4] = [
    ("first side", EdgeSide::First),
    ("second side", EdgeSide::Second),
    ("back side", EdgeSide::Of(Flank::Back)),
    ("front side", EdgeSide::Of(Flank::Front)),
];

/// What is said above the instructions, by how its sentence begins.
#[derive(Clone, Copy)]
enum Claim {
    /// Rows along the armhole.
    Rows,
    /// Stitches that a saddle leaves on a holder.
    Saddle,
    /// Stitches of the new cap, and those picked up among them.
    Yarn,
    /// Stitches of the underarm, and those of them that lie in the seam.
    Underarm,
}

const CLAIMS: [Claim; 4] = [Claim::Rows, Claim::Saddle, Claim::Yarn, Claim::Underarm];

impl Claim {
    const fn begins(self) -> &'static str {
        match self {
            Self::Rows => "Count the rows along each side of the armhole",
            Self::Saddle => "Knit the saddle first",
            Self::Yarn => "Yarn: the new cap has",
            Self::Underarm => "Of the",
        }
    }

    /// What its last sentence in this text says against what was knitted.
    fn check(self, before: &str, knitted: &Knitted) -> Vec<Diagnostic> {
        match self {
            Self::Rows => {
                let said = told(before);
                let wrong = said.iter().filter_map(|edge| differs(edge, knitted));
                wrong.collect()
            }
            Self::Saddle => saddle_differs(before, knitted).into_iter().collect(),
            Self::Yarn => yarn_differs(before, knitted).into_iter().collect(),
            Self::Underarm => underarm_differs(before, knitted).into_iter().collect(),
        }
    }
}

/// What the sentences that are last in this text, above instructions, say of what these pick up.
pub(crate) fn check(before: &str, knitted: &Knitted) -> Vec<Diagnostic> {
    let said = CLAIMS.map(|claim| claim.check(before, knitted));
    said.into_iter().flatten().collect()
}

/// The same above instructions for several sizes: what the last such sentence for each says to it.
pub(crate) fn check_sizes(before: &str, of_sizes: &[(String, Knitted)]) -> Vec<Diagnostic> {
    let said = CLAIMS.map(|claim| check_sizes_of(claim, before, of_sizes));
    said.into_iter().flatten().collect()
}

fn check_sizes_of(claim: Claim, before: &str, of_sizes: &[(String, Knitted)]) -> Vec<Diagnostic> {
    let names: Vec<String> = of_sizes.iter().map(|(name, _)| name.clone()).collect();
    let tokens = lex(before);
    let sentences: Vec<(Span, Vec<String>)> = sentences(&tokens, claim)
        .into_iter()
        .filter_map(|sentence| {
            let span = sentence.first()?.span.join(sentence.last()?.span);
            let sizes = sizes_before(before.get(..span.from)?, &names);
            Some((span, sizes.unwrap_or_else(|| names.clone())))
        })
        .collect();
    let mut said = Vec::new();
    for (name, knitted) in of_sizes {
        let mine = |sizes: &[String]| sizes.iter().position(|size| size == name);
        let last = sentences.iter().rev();
        let last = last.filter_map(|(span, sizes)| Some((span, sizes, mine(sizes)?)));
        let Some((span, sizes, place)) = last.take(1).next() else {
            continue;
        };
        let words = before.get(span.from..span.to).unwrap_or_default();
        let (of_size, mut wrong) = one_size(words, sizes, place);
        wrong.extend(claim.check(&of_size, knitted));
        said.extend(wrong.into_iter().map(|d| {
            let moved = |at: Span| Span::new(at.from + span.from, at.to + span.from);
            Diagnostic {
                span: d.span.map(moved),
                ..d.for_size(name.clone())
            }
        }));
    }
    said
}

/// The sizes that a sentence is for: `Size S:` or `Sizes S / M:` right before it; none where it is for all.
fn sizes_before(text: &str, names: &[String]) -> Option<Vec<String>> {
    let before = text.trim_end().strip_suffix(':')?;
    let at = before.rfind("Size")?;
    let words = before.get(at..)?.strip_prefix("Size")?;
    let words = words.strip_prefix('s').unwrap_or(words);
    let bare = |name: &str| name.split_whitespace().collect::<Vec<_>>().join(" ");
    let told: Vec<String> = words.split(" / ").map(bare).collect();
    let known = |name: &String| names.iter().any(|known| bare(known) == *name);
    told.iter().all(known).then(|| {
        let of = names.iter().filter(|name| told.contains(&bare(name)));
        of.cloned().collect()
    })
}

/// Every such sentence, without the full stop. Lines are broken anywhere, so the words are looked for one by one.
fn sentences<'t, 'a>(tokens: &'t [Token<'a>], claim: Claim) -> Vec<&'t [Token<'a>]> {
    let begins = |at: &usize| {
        let rest = tokens.get(*at..).unwrap_or_default();
        let first = claim.begins().split([' ', ':']).next();
        let here = rest.first().zip(first);
        here.is_some_and(|(token, first)| token.is(first))
            && Cursor::new(rest).phrase(claim.begins())
    };
    let sentence = |from: usize| {
        let rest = tokens.get(from..)?;
        let end = rest.iter().position(|token| token.is("."));
        rest.get(..end.unwrap_or(rest.len()))
    };
    (0..tokens.len())
        .filter(begins)
        .filter_map(sentence)
        .collect()
}

/// Both sides of the last such sentence.
fn told(text: &str) -> Vec<EdgeSaid> {
    let tokens = lex(text);
    let all = sentences(&tokens, Claim::Rows);
    let sentence = all.last().copied().unwrap_or_default();
    let at = |at: usize| {
        let rest = sentence.get(at..)?;
        let mut cursor = Cursor::new(rest);
        let (side, all, crown, flank) = edge(&mut cursor)?;
        let whole = rest.first()?.span;
        Some(EdgeSaid {
            side,
            all,
            crown,
            flank,
            span: whole,
        })
    };
    (0..sentence.len()).filter_map(at).collect()
}

/// `Knit the saddle first, ... and leave its 15 live sts on a holder at the armhole edge`.
fn saddle_differs(text: &str, knitted: &Knitted) -> Option<Diagnostic> {
    let tokens = lex(text);
    let all = sentences(&tokens, Claim::Saddle);
    let sentence = *all.last()?;
    let (span, said) = (0..sentence.len()).find_map(|at| {
        let rest = sentence.get(at..)?;
        let mut c = Cursor::new(rest);
        c.expect("its")?;
        let said = c.number()?;
        c.any(&["live sts on a holder", "live st on a holder"])?;
        Some((rest.first()?.span, said))
    })?;
    let taken = count(knitted, |column| {
        column.section == Section::Crown && column.live
    });
    (said != taken).then(|| {
        let message =
            format!("the saddle leaves {said} live sts, but {taken} are worked from the holder");
        Diagnostic::new(&codes::COUNT, message).at(span)
    })
}

/// `Yarn: the new cap has 1650 sts, the 69 picked up among them`.
fn yarn_differs(text: &str, knitted: &Knitted) -> Option<Diagnostic> {
    let tokens = lex(text);
    let sentence = *sentences(&tokens, Claim::Yarn).last()?;
    let mut c = Cursor::new(sentence);
    c.expect(Claim::Yarn.begins())?;
    let all = c.number()?;
    c.expect("sts, the")?;
    let picked = c.number()?;
    c.expect("picked up among them")?;
    let span = sentence.first()?.span;
    let taken = count(knitted, |column| !column.live);
    let loops = knitted.cap_loops.saturating_add(taken);
    ((all, picked) != (loops, taken)).then(|| {
        let message = format!(
            "the cap is to have {all} sts, {picked} of them picked up, but {loops} are worked, {taken} of them picked up"
        );
        Diagnostic::new(&codes::COUNT, message).at(span)
    })
}

/// `Of the 13 sts at the underarm 1 lie in the seam`.
fn underarm_differs(text: &str, knitted: &Knitted) -> Option<Diagnostic> {
    let tokens = lex(text);
    let all = sentences(&tokens, Claim::Underarm);
    let (span, of, lost) = all.iter().rev().find_map(|sentence| {
        let mut c = Cursor::new(sentence);
        c.expect("Of the")?;
        let of = c.number()?;
        c.any(&["sts at the underarm", "st at the underarm"])?;
        let lost = c.number()?;
        c.any(&["lie in the seam", "lies in the seam"])?;
        Some((sentence.first()?.span, of, lost))
    })?;
    let base = count(knitted, |column| column.section == Section::Base);
    (base.checked_add(lost) != Some(of)).then(|| {
        let message = format!(
            "of {of} sts at the underarm {lost} lie in the seam, but {base} are picked up there"
        );
        Diagnostic::new(&codes::COUNT, message).at(span)
    })
}

fn count(knitted: &Knitted, is: impl Fn(&Column) -> bool) -> u32 {
    let found = knitted.columns.iter().filter(|column| is(column)).count();
    u32::try_from(found).unwrap_or(u32::MAX)
}

fn edge(c: &mut Cursor<'_, '_>) -> Option<(EdgeSide, u32, u32, u32)> {
    let (_, side) = *SIDES.get(c.any(&SIDES.map(|(words, _)| words))?)?;
    let all = rows(c)?;
    let parts = c.attempt(|c| {
        c.expect(",")?;
        let crown = c.number()?;
        c.expect("of them for the crown and")?;
        let flank = c.number()?;
        c.expect("for the flank")?;
        Some((crown, flank))
    });
    let (crown, flank) = parts.unwrap_or((0, all));
    Some((side, all, crown, flank))
}

fn differs(edge: &EdgeSaid, knitted: &Knitted) -> Option<Diagnostic> {
    let picked = |section: Section| -> u32 {
        let of_it = knitted.stretches.iter().filter(|s| s.section == section);
        of_it.map(|s| s.rows.count()).fold(0, u32::saturating_add)
    };
    let first = match edge.side {
        EdgeSide::First => true,
        EdgeSide::Second => false,
        EdgeSide::Of(flank) => knitted.first_flank? == flank,
    };
    let crown = picked(Section::Crown);
    let (crown, flank) = if first {
        (crown / 2, picked(Section::First))
    } else {
        (crown.div_ceil(2), picked(Section::Second))
    };
    let all = crown.saturating_add(flank);
    ((edge.all, edge.crown, edge.flank) != (all, crown, flank)).then(|| {
        let message = format!(
            "{} rows are to be counted there, {} for the crown and {} for the flank, but the pick-up goes over {all}: {crown} and {flank}",
            edge.all, edge.crown, edge.flank
        );
        Diagnostic::new(&codes::COUNT, message).at(edge.span)
    })
}
