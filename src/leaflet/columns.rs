//! Columns of a PDF's pages, set one under the other.
//!
//! A gutter is a strip that is white over many rows at the same place, with text of about the same width at both sides
//! and the right text beginning at one place. A wide space within one row is none, and so is the white of a table,
//! which has numbers at its right.

use super::letters::{Letter, LetterRow, lines, rows, usual_em};

/// A strip narrower than so many ems is a space between words.
const GUTTER: f64 = 0.6;

/// What begins within so many ems begins at one place.
const ALIGNED: f64 = 0.2;

/// Rows that a gutter must have at either side; fewer where another page of the print has it at that place.
const ROWS: usize = 6;
const ROWS_KNOWN: usize = 2;

/// Columns in a page's width at the most.
const DEPTH: usize = 3;

/// Letters that are looked at for gutters, each once for every place where a right column might begin: a second of work. The
/// longest pattern has 200 pages, each with some ten such places for three thousand letters, looked at six times.
const MOST_LOOKS: usize = 200_000_000;

/// The lines of all pages; none where the letters begin at more places than columns can.
pub(super) fn pages(pages: Vec<Vec<Letter>>) -> Option<Vec<Vec<String>>> {
    within(pages, MOST_LOOKS)
}

fn within(pages: Vec<Vec<Letter>>, mut looks: usize) -> Option<Vec<Vec<String>>> {
    let pages: Vec<Vec<Letter>> = pages.into_iter().map(usable).collect();
    let mut known = Vec::new();
    for page in &pages {
        let mut lines = Vec::new();
        let em = usual_em(page);
        set_out(
            page.clone(),
            em,
            &[],
            DEPTH,
            (&mut lines, &mut known, &mut looks),
        )?;
    }
    let out = pages.into_iter().map(|page| {
        let mut lines = Vec::new();
        let em = usual_em(&page);
        let mut found = Vec::new();
        set_out(
            page,
            em,
            &known,
            DEPTH,
            (&mut lines, &mut found, &mut looks),
        )?;
        Some(lines)
    });
    out.collect()
}

/// What a page is set out into: its lines, the gutters found, and the looks that are left.
type Out<'a> = (&'a mut Vec<String>, &'a mut Vec<f64>, &'a mut usize);

fn usable(mut letters: Vec<Letter>) -> Vec<Letter> {
    letters.retain(|letter| letter.x.is_finite() && letter.y.is_finite() && letter.em > 0.5);
    letters
}

/// Sets letters out as lines, column after column; the gutters that it finds are `found`.
fn set_out(
    letters: Vec<Letter>,
    em: f64,
    known: &[f64],
    depth: usize,
    (out, found, looks): Out<'_>,
) -> Option<()> {
    let rows = rows(letters, em);
    let best = if depth > 1 {
        gutter(&rows, em, known, looks)?
    } else {
        None
    };
    let Some((gutter, bands)) = best else {
        out.extend(lines(&rows, em));
        return Some(());
    };
    if !found
        .iter()
        .any(|&one| (one - gutter).abs() <= ALIGNED * em)
    {
        found.push(gutter);
    }
    let mut at = 0;
    for (from, to) in bands {
        add(out, lines(rows.get(at..from).unwrap_or_default(), em));
        let band = rows.get(from..to).unwrap_or_default();
        let letters = band.iter().flat_map(|row| row.letters.iter().cloned());
        let (left, right): (Vec<Letter>, Vec<Letter>) =
            letters.partition(|letter| letter.x < gutter - ALIGNED * em);
        for side in [left, right] {
            let mut column = Vec::new();
            set_out(side, em, known, depth - 1, (&mut column, found, looks))?;
            add(out, column);
        }
        at = to;
    }
    add(out, lines(rows.get(at..).unwrap_or_default(), em));
    Some(())
}

/// A column begins at its margin.
fn add(out: &mut Vec<String>, column: Vec<String>) {
    let indent = |line: &String| line.len() - line.trim_start().len();
    let filled = column.iter().filter(|line| !line.trim().is_empty());
    let margin = filled.map(indent).min().unwrap_or(0);
    out.extend(
        column
            .into_iter()
            .map(|line| line.get(margin..).unwrap_or_default().to_owned()),
    );
}

/// A run of rows, from and to.
type RowRun = (usize, usize);

/// The place where right columns begin that has the most rows, and its bands; nothing at all when too much would have to be
/// looked at.
#[expect(
    clippy::option_option,
    reason = "no gutter, or no answer within the looks that are left"
)]
fn gutter(
    rows: &[LetterRow],
    em: f64,
    known: &[f64],
    looks: &mut usize,
) -> Option<Option<(f64, Vec<RowRun>)>> {
    let letters: usize = rows.iter().map(|row| row.letters.len()).sum();
    let all: Vec<Vec<(f64, f64)>> = rows.iter().map(|row| row.stretches(GUTTER * em)).collect();
    let mut starts: Vec<f64> = all.iter().flatten().map(|stretch| stretch.0).collect();
    starts.sort_by(f64::total_cmp);
    let near = |a: f64, b: f64| (a - b).abs() <= ALIGNED * em;
    let mut best: Option<(usize, f64, Vec<RowRun>)> = None;
    let mut tried = f64::NEG_INFINITY;
    for &start in &starts {
        let is_known = known.iter().any(|&known| near(known, start));
        let least = if is_known { ROWS_KNOWN } else { ROWS };
        let from = starts.partition_point(|&other| other < start);
        let same = starts.get(from..).unwrap_or_default();
        if start - tried < 0.05 * em
            || same.iter().take_while(|&&other| near(other, start)).count() < least
        {
            continue;
        }
        tried = start;
        *looks = looks.checked_sub(letters)?;
        let bands = bands(rows, &all, start, em, least);
        let size = bands.iter().map(|band| band.1 - band.0).sum();
        if size > 0 && best.as_ref().is_none_or(|best| size > best.0) {
            best = Some((size, start, bands));
        }
    }
    Some(best.map(|(_, start, bands)| (start, bands)))
}

/// The runs of rows that leave the strip before this place white and have text at both sides of it.
fn bands(
    rows: &[LetterRow],
    all: &[Vec<(f64, f64)>],
    start: f64,
    em: f64,
    least: usize,
) -> Vec<RowRun> {
    let edge = start - ALIGNED * em;
    let crosses = |row: &Vec<(f64, f64)>| {
        let strip = start - (GUTTER - 0.02) * em;
        row.iter().any(|one| one.0 < edge && one.1 > strip)
    };
    let stands_apart = standing_apart(rows, em);
    let free =
        |at: usize| all.get(at).is_some_and(|row| !crosses(row)) && !stands_apart.contains(&at);
    let mut out = Vec::new();
    let mut at = 0;
    while at < rows.len() {
        let to = (at..rows.len()).find(|&to| !free(to)).unwrap_or(rows.len());
        let band = (at, before_the_next(rows, all, (at, to), edge, em));
        if is_columns(rows, all, band, start, em, least) {
            out.push(band);
        }
        at = to + 1;
    }
    out
}

/// The head and the foot of a page, which stand apart or are set smaller.
fn standing_apart(rows: &[LetterRow], em: f64) -> Vec<usize> {
    let last = rows.len().saturating_sub(1);
    let pairs = [(0, 1), (last, last.saturating_sub(1))];
    let apart = pairs.into_iter().filter(|&(at, next)| {
        let (Some(row), Some(next)) = (rows.get(at), rows.get(next)) else {
            return false;
        };
        (row.y - next.y).abs() > 3.0 * em || row.em() < 0.85 * em
    });
    apart.map(|(at, _)| at).collect()
}

/// The end of a band without the short lines that already belong to the full width below it.
fn before_the_next(
    rows: &[LetterRow],
    all: &[Vec<(f64, f64)>],
    (from, to): RowRun,
    edge: f64,
    em: f64,
) -> usize {
    if to == rows.len() {
        return to;
    }
    let is_right = |at: &usize| {
        all.get(*at)
            .is_some_and(|row| row.iter().any(|one| one.0 >= edge))
    };
    let after = (from..to).rev().find(is_right).map_or(from, |at| at + 1);
    let y = |at: usize| rows.get(at).map_or(0.0, |row| row.y);
    let apart = (after.max(from + 1)..to).find(|&at| y(at) - y(at - 1) > 2.0 * em);
    apart.unwrap_or(to)
}

/// True for two columns of running text: rows enough, of about the same width, with words in them.
fn is_columns(
    rows: &[LetterRow],
    all: &[Vec<(f64, f64)>],
    (from, to): RowRun,
    start: f64,
    em: f64,
    least: usize,
) -> bool {
    let edge = start - ALIGNED * em;
    let band = all.get(from..to).unwrap_or_default();
    let having =
        |is: &dyn Fn(&(f64, f64)) -> bool| band.iter().filter(|row| row.iter().any(is)).count();
    let left = having(&|one| one.0 < edge);
    let right = having(&|one| one.0 >= edge);
    let aligned = having(&|one| (one.0 - start).abs() <= ALIGNED * em);
    let inked = band.iter().flatten();
    let (low, high) = inked.fold((f64::INFINITY, 0.0_f64), |(low, high), one| {
        (low.min(one.0), high.max(one.1))
    });
    let widths = (start - low) / (high - start).max(em);
    let words = |side: &dyn Fn(&Letter) -> bool, rows_of: usize| {
        let letters = rows.get(from..to).unwrap_or_default().iter();
        let letters = letters.flat_map(|row| &row.letters);
        let mine: Vec<&Letter> = letters.filter(|one| !one.is_blank() && side(one)).collect();
        let told = mine
            .iter()
            .filter(|one| one.text.chars().any(char::is_alphabetic));
        let told = told.count();
        told * 5 >= mine.len() * 2 && mine.len() >= 12 * rows_of
    };
    left >= least
        && aligned >= least
        && aligned * 2 >= right
        && (0.4..=2.5).contains(&widths)
        && words(&|letter| letter.x < edge, left)
        && words(&|letter| letter.x >= edge, right)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Letters at every second place of every row begin at as many places.
    #[test]
    fn many_places_are_too_much_work() {
        let row = |y: u32| {
            (0..60_u32).map(move |x| Letter {
                text: "a".to_owned(),
                x: f64::from(x) * 20.0,
                y: f64::from(y) * 12.0,
                em: 10.0,
                width: 5.0,
            })
        };
        let page: Vec<Letter> = (0..20).flat_map(row).collect();
        // 1,200 letters, looked at once for each of sixty places: 72,000 looks at the least.
        assert!(within(vec![page.clone()], 60_000).is_none());
        assert!(within(vec![page], MOST_LOOKS).is_some());
    }
}
