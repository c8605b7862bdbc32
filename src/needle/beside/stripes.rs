//! The stripes: their colours follow from the sequence and the row they begin with, their stitches from the
//! rows that were knitted, and where they meet the body one row of it decides all.

use super::meetings::meetings;
use super::printed::PrintedSection;
use crate::diagnostic::{Diagnostic, Span};
use crate::needle::codes;
use crate::needle::cursor::Cursor;
use crate::needle::knitted::Knitted;
use crate::needle::lexer::{Token, lex};
use crate::stitch::{Stripe, Stripes};

/// Rows of a sequence at the most: every one of them is tried as the first, and a sleeve has a few hundred.
const MOST_ROWS: u64 = 2000;

/// All that is told of stripes, against the rows that were knitted and against itself.
pub(super) fn check(printed: &PrintedSection, knitted: &Knitted) -> Vec<Diagnostic> {
    let tokens = printed.tokens();
    let sentences = printed.sentences(&tokens);
    let told = |begins: &str| {
        let mut found = sentences.iter();
        found.find_map(|said| sequence(printed, said, begins))
    };
    let sleeve = told("The sleeve's stripes, from the cuff up:");
    let begun = sentences.iter().find_map(|said| begun(printed, said));
    let (Some(sleeve), Some(begun)) = (sleeve, begun) else {
        let message = "the sequence of the stripes or its beginning cannot be read".to_owned();
        return vec![printed.at(&codes::UNREADABLE, message, Span::new(0, 0))];
    };
    let body = told("The body's, from the hem up:").unwrap_or_else(|| sleeve.clone());
    // Two stripes alike in one sequence: whichever agrees.
    let each = begun.firsts(&sleeve).into_iter().map(|first| {
        let mut found = yarn_and_bands(printed, &tokens, &worked(&sleeve, first, knitted));
        found.extend(meetings(
            printed,
            &sentences,
            (&sleeve, &body),
            (first, knitted.turn_pairs),
        ));
        found
    });
    each.min_by_key(Vec::len).unwrap_or_else(|| {
        let message = "the stripes have no such row to begin with".to_owned();
        vec![printed.at(&codes::COUNT, message, Span::new(0, 0))]
    })
}

/// `4 rows of ink, 2 rows of chalk` after these words.
fn sequence(printed: &PrintedSection, said: &[Token<'_>], begins: &str) -> Option<Stripes> {
    Cursor::new(said).expect(begins)?;
    let rest = said.get(lex(begins).len()..)?;
    let from = |at: usize| rest.get(at..).unwrap_or_default();
    let begins = |at: &usize| {
        let after = at.checked_sub(1).and_then(|before| rest.get(before));
        after.is_none_or(|mark| mark.is(",")) && rows_of(from(*at)).is_some()
    };
    let starts: Vec<usize> = (0..rest.len()).filter(begins).collect();
    let ends = starts.iter().skip(1).map(|at| at - 1).chain([rest.len()]);
    let stripes = starts.iter().zip(ends).map(|(at, end)| {
        Some(Stripe {
            rows: rows_of(from(*at))?,
            colour: printed.words(rest.get(at + 3..end)?),
        })
    });
    let stripes: Vec<Stripe> = stripes.collect::<Option<_>>()?;
    let rows = stripes.iter().map(|stripe| u64::from(stripe.rows));
    (1..=MOST_ROWS)
        .contains(&rows.sum())
        .then_some(Stripes { stripes })
}

/// `4 rows of`.
fn rows_of(tokens: &[Token<'_>]) -> Option<u32> {
    let mut c = Cursor::new(tokens);
    let rows = c.number()?;
    c.any(&["rows of", "row of"])?;
    Some(rows)
}

/// With which colour the work begins, and what is left of its stripe.
struct FirstColour {
    picked: String,
    colour: String,
    left: u32,
    of: u32,
}

impl FirstColour {
    /// The rows of the sequence, from 0, that row 1 of the cap may be.
    fn firsts(&self, sleeve: &Stripes) -> Vec<u32> {
        let fits = |first: &u32| {
            let (index, within) = sleeve.at(i64::from(*first));
            let stripe = sleeve.stripes.get(index);
            stripe.is_some_and(|s| s.colour == self.colour && s.rows == self.of)
                && within + 1 == self.left
                && sleeve.colour(i64::from(*first) + 1) == self.picked
        };
        (0..sleeve.period()).filter(fits).collect()
    }
}

/// `Pick up in chalk; the sleeve is worked down, ...: row 1 of the cap is chalk, with 1 of its 2 rows still to work`.
fn begun(printed: &PrintedSection, said: &[Token<'_>]) -> Option<FirstColour> {
    const PICK_UP: &str = "Pick up in";
    const THEN: &str =
        "; the sleeve is worked down, so the stripes come in the other order: row 1 of the cap is";
    Cursor::new(said).expect(PICK_UP)?;
    let from = |at: usize| said.get(at..).unwrap_or_default();
    let then = (0..said.len()).find(|at| Cursor::new(from(*at)).phrase(THEN))?;
    let colour = then + lex(THEN).len();
    let (end, (left, of)) = (colour..said.len()).find_map(|at| Some((at, left(from(at))?)))?;
    Some(FirstColour {
        picked: printed.words(said.get(lex(PICK_UP).len()..then)?),
        colour: printed.words(said.get(colour..end)?),
        left,
        of,
    })
}

/// `, with 1 of its 2 rows still to work`: rows that are left, and rows of the stripe.
fn left(tokens: &[Token<'_>]) -> Option<(u32, u32)> {
    let mut c = Cursor::new(tokens);
    if c.phrase(", and then its one row is worked") {
        return Some((1, 1));
    }
    if c.phrase(", all") {
        let all = c.number()?;
        c.expect("rows of it still to work")?;
        return Some((all, all));
    }
    c.expect(", with")?;
    let left = c.number()?;
    c.expect("of its")?;
    let of = c.number()?;
    c.expect("rows still to work")?;
    Some((left, of))
}

/// Rows of one colour: the first, the last, the stitches in them.
struct WorkedBand {
    colour: String,
    from: u32,
    to: u32,
    stitches: u64,
}

/// The sleeve's bands from the picked-up row down.
struct SleeveBands {
    bands: Vec<WorkedBand>,
    cap_rows: u32,
    colours: Vec<String>,
}

fn worked(sleeve: &Stripes, first: u32, knitted: &Knitted) -> SleeveBands {
    let picked = u64::try_from(knitted.columns.len()).unwrap_or(u64::MAX);
    let cap = knitted
        .needle_rows
        .iter()
        .map(|row| u64::from(row.worked.count()));
    let rounds = knitted
        .of_rounds
        .iter()
        .map(|round| u64::from(round.count()));
    let mut bands: Vec<WorkedBand> = Vec::new();
    for (row, stitches) in (0..).zip([picked].into_iter().chain(cap).chain(rounds)) {
        let colour = sleeve.colour(i64::from(first) - (i64::from(row) - 1));
        match bands.last_mut().filter(|band| band.colour == colour) {
            Some(band) => {
                band.to = row;
                band.stitches += stitches;
            }
            None => bands.push(WorkedBand {
                colour: colour.to_owned(),
                from: row,
                to: row,
                stitches,
            }),
        }
    }
    SleeveBands {
        bands,
        cap_rows: u32::try_from(knitted.needle_rows.len()).unwrap_or(u32::MAX),
        colours: sleeve.colours().into_iter().map(str::to_owned).collect(),
    }
}

/// The yarn of each colour, and the bands of the cap with the first one in rounds.
fn yarn_and_bands(
    printed: &PrintedSection,
    tokens: &[Token<'_>],
    worked: &SleeveBands,
) -> Vec<Diagnostic> {
    let place = |row: u32| match row {
        0 => "picked-up row".to_owned(),
        row if row <= worked.cap_rows => format!("row {row}"),
        row => format!("round {}", row - worked.cap_rows),
    };
    let line = |band: &WorkedBand| {
        let rows = if band.from == band.to {
            place(band.from)
        } else {
            format!("{} to {}", place(band.from), place(band.to))
        };
        let count = band.to - band.from + 1;
        format!("{rows} {} {count} {}", band.colour, band.stitches)
    };
    let of = |colour: &String| -> u64 {
        let own = worked.bands.iter().filter(|band| band.colour == *colour);
        own.map(|band| band.stitches).sum()
    };
    let each = worked
        .colours
        .iter()
        .map(|colour| format!("{colour}: {} sts", of(colour)));
    let all: u64 = worked.colours.iter().map(of).sum();
    let each = each.collect::<Vec<_>>().join("; ");
    let mut wanted = vec![format!("one sleeve: {each} ({all} in all)")];
    let is_table = tokens
        .windows(2)
        .any(|pair| matches!(pair, [a, b] if a.is("Stripes") && b.is("of")));
    if is_table {
        let cap = worked
            .bands
            .iter()
            .take_while(|band| band.from <= worked.cap_rows);
        let round = worked.bands.iter().find(|band| band.from > worked.cap_rows);
        wanted.extend(cap.chain(round).map(line));
    }
    let missing = wanted.iter().filter_map(|wanted| {
        let near = PrintedSection::nearest(tokens, wanted)?;
        let message = format!("the stripes as they were knitted have \"{wanted}\" here");
        Some(printed.differs(&codes::COUNT, message, near))
    });
    missing.collect()
}
