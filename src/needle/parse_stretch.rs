//! Sections of the pick-up, their stretches and rates, counts of rows and of times.

use super::cursor::Cursor;
use super::said::{PickUpPart, RowLeftOut};
use crate::plan::{Flank, Section, SectionName};

/// A named flank's place follows from where it stands: [`Section::First`] stands for both until
/// the needle knows.
pub(super) fn section(c: &mut Cursor<'_, '_>) -> Option<(Section, Option<Flank>)> {
    let at = c.any(&SectionName::ALL.map(SectionName::words))?;
    Some(match SectionName::ALL.get(at)? {
        SectionName::Crown => (Section::Crown, None),
        SectionName::Base => (Section::Base, None),
        SectionName::FirstFlank => (Section::First, None),
        SectionName::SecondFlank => (Section::Second, None),
        SectionName::BackFlank => (Section::First, Some(Flank::Back)),
        SectionName::FrontFlank => (Section::First, Some(Flank::Front)),
    })
}

pub(super) fn part(c: &mut Cursor<'_, '_>) -> Option<PickUpPart> {
    if c.phrase("pm") {
        return Some(PickUpPart::Marker);
    }
    let tight = [
        "the first st sits tight against the crown",
        "the last st sits tight against the crown",
    ];
    if c.any(&tight).is_some() {
        return Some(PickUpPart::Words);
    }
    if c.phrase("from the seam down the same in the opposite order") {
        return Some(PickUpPart::Mirror);
    }
    c.attempt(live)
        .or_else(|| c.attempt(in_seam))
        .or_else(|| c.attempt(along))
        .or_else(|| c.attempt(plain))
}

fn live(c: &mut Cursor<'_, '_>) -> Option<PickUpPart> {
    c.expect("k the")?;
    let stitches = c.number()?;
    c.any(&["live sts", "live st"])?;
    c.expect("from the holder")?;
    Some(PickUpPart::Live(stitches))
}

fn in_seam(c: &mut Cursor<'_, '_>) -> Option<PickUpPart> {
    let stitches = stitches(c)?;
    c.expect("in the shoulder seam itself")?;
    Some(PickUpPart::Seam(stitches))
}

pub(super) fn stitches(c: &mut Cursor<'_, '_>) -> Option<u32> {
    let n = c.number()?;
    c.any(&["sts", "st"])?;
    Some(n)
}

pub(super) fn rows(c: &mut Cursor<'_, '_>) -> Option<u32> {
    let n = c.number()?;
    c.any(&["rows", "row"])?;
    Some(n)
}

/// `pick up and k 12 sts over 16 rows: 3 sts for every 4 rows, 4 times`.
fn along(c: &mut Cursor<'_, '_>) -> Option<PickUpPart> {
    c.any(&["pick up and k", "then"])?;
    stretch(c)
}

/// `12 sts over 16 rows: 3 sts for every 4 rows, 4 times`.
pub(super) fn stretch(c: &mut Cursor<'_, '_>) -> Option<PickUpPart> {
    let all = stitches(c)?;
    c.expect("over")?;
    let over = rows(c)?;
    c.expect(":")?;
    if c.phrase("skip") {
        let left_out = match c.any(&["the first row", "the last row"]) {
            Some(0) => Some(RowLeftOut::First),
            Some(_) => Some(RowLeftOut::Last),
            None => None,
        };
        let skipped = if left_out.is_some() { 1 } else { rows(c)? };
        let rates = vec![(all, all.saturating_add(skipped), 1)];
        return Some(PickUpPart::Along {
            stitches: all,
            rows: over,
            rates,
            left_out,
        });
    }
    let mut rates = vec![rate(c)?];
    while c.phrase(", then") {
        rates.push(rate(c)?);
    }
    Some(PickUpPart::Along {
        stitches: all,
        rows: over,
        rates,
        left_out: None,
    })
}

fn rate(c: &mut Cursor<'_, '_>) -> Option<(u32, u32, u32)> {
    if c.phrase("1 st in the next row") {
        return Some((1, 1, 1));
    }
    let single = c.attempt(|c| {
        c.any(&["1 st in each of the next", "1 sts in each of the next"])?;
        Some((1, 1, rows(c)?))
    });
    let once = |c: &mut Cursor<'_, '_>| {
        let per = stitches(c)?;
        c.expect("over the next")?;
        Some((per, rows(c)?, 1))
    };
    let many = |c: &mut Cursor<'_, '_>| {
        let per = stitches(c)?;
        c.expect("for every")?;
        let over = rows(c)?;
        c.expect(",")?;
        Some((per, over, times(c)?))
    };
    single
        .or_else(|| c.attempt(once))
        .or_else(|| c.attempt(many))
}

/// `once`, `twice` or `n times`.
pub(super) fn times(c: &mut Cursor<'_, '_>) -> Option<u32> {
    if let Some(i) = c.any(&["once", "twice"]) {
        return Some(if i == 0 { 1 } else { 2 });
    }
    let n = c.number()?;
    c.expect("times")?;
    Some(n)
}

/// `pick up and k 8 sts, one in each bound-off st beside the seam`, or stitches without a rate.
fn plain(c: &mut Cursor<'_, '_>) -> Option<PickUpPart> {
    c.any(&["pick up and k", "then"])?;
    let n = stitches(c)?;
    let edges = [
        ", one in each bound-off st",
        ", one in each cast-off st",
        ", one in each cast-on st",
    ];
    if c.any(&edges).is_none() {
        return Some(PickUpPart::Plain(n));
    }
    if c.any(&["beside the seam", "of the underarm"]).is_some() {
        return Some(PickUpPart::Plain(n));
    }
    c.expect("that shows:")?;
    let shown = c.number()?;
    c.expect("of the")?;
    let of = c.number()?;
    c.expect(",")?;
    let lost = c.number()?;
    c.any(&["lie in the seam", "lies in the seam"])?;
    Some(PickUpPart::Shown {
        stitches: n,
        shown,
        of,
        lost,
    })
}
