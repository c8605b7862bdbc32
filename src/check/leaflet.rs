//! What a printed pattern says, held against its own rows: the lines of cap and armholes are read
//! as those of any case, and what disagrees makes its fact unsure.

use crate::case::{key_at, read_case};
use crate::diagnostic::{Diagnostic, Level};
use crate::leaflet::{Flow, Leaflet, Status, Which, read_flow_of, read_flow_sized, read_leaflet};
use crate::pattern::Piece;

use super::print::{contradictions, reading};

/// Sentences of the reader that are put to a fact at the most.
const MOST: usize = 3;

/// A case drafted from a whole printed pattern: each key with the words it stands in and how far it can
/// be trusted; [`Leaflet::case`] is the text of the case. A pattern that has no set-in sleeve is refused
/// with the reason in [`Leaflet::refused`].
pub fn draft(pattern: &str) -> Leaflet {
    let mut leaflet = read_leaflet(pattern);
    prove_leaflet(&mut leaflet);
    leaflet
}

/// The same of a running text, for one of several garments or sleeves.
pub fn draft_of(flow: &Flow, which: Which) -> Leaflet {
    let mut leaflet = read_flow_of(flow, which);
    prove_leaflet(&mut leaflet);
    leaflet
}

/// The same, where somebody says what the sizes are.
pub fn draft_sized(flow: &Flow, which: Which, labels: &[String]) -> Leaflet {
    let mut leaflet = read_flow_sized(flow, which, labels);
    prove_leaflet(&mut leaflet);
    leaflet
}

/// Every key that holds lines, the count of stitches before them and the piece they are of.
const LINES: [(&str, &str, Piece); 4] = [
    ("sleeve.cap", "sleeve.stitches", Piece::Sleeve),
    ("armhole.lines", "armhole.stitches", Piece::Body),
    ("armhole.back.lines", "armhole.back.stitches", Piece::Body),
    ("armhole.front.lines", "armhole.front.stitches", Piece::Body),
];

/// The keys with which a conversion would refuse the case as it stands: what it lacks or cannot be, and lines that hold an
/// error.
pub fn refused_keys(leaflet: &Leaflet) -> Vec<String> {
    let is_error = |said: &Diagnostic| said.level == Level::Error;
    let (_, said) = read_case(&leaflet.case);
    let of_case = said
        .iter()
        .filter(|said| is_error(said))
        .filter_map(|said| {
            let at = said.span.and_then(|span| key_at(&leaflet.case, span));
            said.key.clone().or(at)
        });
    let lines = LINES.iter().filter(|(lines, stitches, piece)| {
        said_of(leaflet, lines, stitches, *piece).is_some_and(|said| said.iter().any(is_error))
    });
    let mut keys: Vec<String> = of_case.collect();
    keys.extend(lines.map(|(lines, ..)| (*lines).to_owned()));
    keys.sort();
    keys.dedup();
    keys
}

/// Reads the lines that were found and doubts what does not agree; then writes the case anew.
pub fn prove_leaflet(leaflet: &mut Leaflet) {
    if !leaflet.refused.is_empty() {
        return;
    }
    take_written_out(leaflet);
    if is_raglan(leaflet) {
        refuse_raglan(leaflet);
        return;
    }
    for (lines, stitches, piece) in LINES {
        let Some(said) = said_of(leaflet, lines, stitches, piece) else {
            let told = leaflet
                .fact(lines)
                .is_some_and(|fact| !fact.value.is_empty());
            if told {
                doubt(
                    leaflet,
                    lines,
                    "Without the count of stitches before them they could not be held against anything.",
                );
            }
            continue;
        };
        let loud = said.iter().filter(|said| said.level > Level::Note);
        let sentences: Vec<String> = loud.take(MOST).map(sentence).collect();
        // A count that the rows miss, or that no whole number of decreases reaches.
        let missed = ["odd-remainder", "out-of-reach", "too-many-removed"];
        let of_counts = |id: &str| id.contains("count") || missed.contains(&id);
        let counts = said
            .iter()
            .any(|said| said.level > Level::Note && of_counts(said.code.id));
        for sentence in &sentences {
            doubt(leaflet, lines, sentence);
        }
        if counts {
            doubt(
                leaflet,
                stitches,
                "The counts in the lines that follow do not agree with it.",
            );
        }
    }
    for (key, why) in contradictions(leaflet) {
        doubt(leaflet, &key, &why);
    }
    leaflet.write();
    let (_, said) = read_case(&leaflet.case);
    let errors: Vec<Diagnostic> = said
        .into_iter()
        .filter(|said| said.level == Level::Error)
        .collect();
    for error in errors {
        let at = error.span.and_then(|span| key_at(&leaflet.case, span));
        if let Some(key) = error.key.clone().or(at) {
            doubt(leaflet, &key, &sentence(&error));
        }
    }
    leaflet.write();
}

/// A cap that is told by the armhole: its rows, where they reach the counts of the sleeve.
fn take_written_out(leaflet: &mut Leaflet) {
    let ways = std::mem::take(&mut leaflet.written_out);
    let told = leaflet.fact("sleeve.cap").cloned();
    let (Some(told), false) = (told, ways.is_empty()) else {
        return;
    };
    for way in ways {
        let Some(fact) = leaflet.facts.iter_mut().find(|fact| fact.key == told.key) else {
            return;
        };
        fact.value.clone_from(&way);
        let said = said_of(leaflet, "sleeve.cap", "sleeve.stitches", Piece::Sleeve);
        let holds = said.is_some_and(|said| said.iter().all(|said| said.level <= Level::Note));
        let fact = leaflet.facts.iter_mut().find(|fact| fact.key == told.key);
        if let Some(fact) = fact {
            if holds {
                fact.status = Status::Sure;
                "The rows of the back's armhole, to which the words send, written out."
                    .clone_into(&mut fact.why);
                return;
            }
            fact.clone_from(&told);
        }
    }
}

/// True when the body narrows all the way up, in as many rows as the cap: the edges of a raglan, whatever it
/// is called. An armhole ends in a straight part, and has more rows than a cap.
fn is_raglan(leaflet: &Leaflet) -> bool {
    let cap = reading(leaflet, "sleeve.cap", "sleeve.stitches", Piece::Sleeve);
    let armholes = [
        ("armhole.lines", "armhole.stitches"),
        ("armhole.back.lines", "armhole.back.stitches"),
    ];
    let mut armholes = armholes
        .iter()
        .filter_map(|(lines, stitches)| reading(leaflet, lines, stitches, Piece::Body));
    let (Some((cap, _)), Some((armhole, _))) = (cap, armholes.next()) else {
        return false;
    };
    !cap.sizes.is_empty()
        && cap.sizes.iter().zip(&armhole.sizes).all(|(cap, armhole)| {
            let (cap, armhole) = (cap.ledger.fabric(), armhole.ledger.fabric());
            let shaped = armhole.iter().rposition(|row| !row.is_even());
            let straight = armhole.len() - shaped.map_or(0, |at| at + 1);
            armhole.len() >= LEAST_RAGLAN
                && straight <= 2
                && armhole.len().abs_diff(cap.len()) <= 2 + armhole.len() / 10
        })
}

/// Fewer rows than these are the curve of an armhole whose length is not told.
const LEAST_RAGLAN: usize = 24;

fn refuse_raglan(leaflet: &mut Leaflet) {
    let edges = ["sleeve.cap", "armhole.lines", "armhole.back.lines"];
    let signs = edges
        .iter()
        .filter_map(|key| leaflet.fact(key)?.evidence.first());
    leaflet.signs = signs.cloned().collect();
    let quoted: Vec<&str> = leaflet
        .signs
        .iter()
        .map(|sign| sign.text.as_str())
        .collect();
    leaflet.refused = format!(
        "Back and sleeve narrow in as many rows, up to the neck: the sleeves are raglan and have no set-in cap. It says: \"{}\".",
        quoted.join("\"; \"")
    );
    "raglan".clone_into(&mut leaflet.construction);
    leaflet.facts.clear();
    leaflet.case.clear();
}

fn doubt(leaflet: &mut Leaflet, key: &str, why: &str) {
    let fact = leaflet.facts.iter_mut().find(|fact| fact.key == key);
    if let Some(fact) =
        fact.filter(|fact| fact.status != Status::Missing && !fact.why.contains(why))
    {
        fact.doubt(why);
    }
}

fn sentence(said: &Diagnostic) -> String {
    let repairs: Vec<String> = said
        .repairs
        .iter()
        .map(|repair| repair.text.clone())
        .take(2)
        .collect();
    let message = whole(&said.message);
    match repairs.as_slice() {
        [] => message,
        texts => format!(
            "{message} It would agree with {} there.",
            texts.join(" or ")
        ),
    }
}

/// With a capital and a stop: several of them stand one behind the other.
fn whole(message: &str) -> String {
    let mut letters = message.trim_end().chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    let said: String = first.chain(letters).collect();
    let ends = said.ends_with(['.', '!', '?']) || said.ends_with(".\"") || said.is_empty();
    said + if ends { "" } else { "." }
}

/// What the reader says of these lines; nothing where lines or stitches are missing.
fn said_of(
    leaflet: &Leaflet,
    lines: &str,
    stitches: &str,
    piece: Piece,
) -> Option<Vec<Diagnostic>> {
    let (reading, said) = reading(leaflet, lines, stitches, piece)?;
    (!reading.sizes.is_empty()).then_some(said)
}
