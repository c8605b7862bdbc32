//! Sentences of the pick-up list: the rows one by one, and an armhole of a row more or fewer.

use super::cursor::Cursor;
use super::parse_stretch::{section, stretch};
use super::said::{CountedFrom, Said};
use crate::plan::Section;

/// `First flank, rows counted from the crown down: pick up in rows 1, 2, 4 (of 6)`.
pub(crate) fn row_list(c: &mut Cursor<'_, '_>) -> Option<Said> {
    let (section, flank) = section(c)?;
    let live = c.any(&["before the live sts", "after the live sts"]);
    let counted = [
        (
            ", rows counted from the start: pick up in",
            CountedFrom::Start,
        ),
        (
            ", rows counted from the live sts: pick up in",
            CountedFrom::Live,
        ),
        (
            ", rows counted from the crown down: pick up in",
            CountedFrom::Crown,
        ),
        (
            ", rows counted from the shoulder seam down on both sides: pick up in",
            CountedFrom::Seam,
        ),
    ];
    let found = c.any(&counted.map(|(words, _)| words))?;
    let (_, counted) = *counted.get(found)?;
    // A flank is counted from the crown; the crown from its start, its live stitches or the seam.
    let of_flank = counted == CountedFrom::Crown;
    if (section == Section::Crown) == of_flank
        || (live == Some(1)) != (counted == CountedFrom::Live)
    {
        return None;
    }
    c.any(&["rows", "row"])?;
    let mut rows = vec![c.number()?];
    while c.phrase(",") {
        rows.push(c.number()?);
    }
    c.expect("(of")?;
    let of = c.number()?;
    c.expect(")")?;
    Some(Said::RowList {
        section,
        flank,
        counted,
        rows,
        of,
    })
}

/// `One row more (7): 4 sts over 7 rows: ...`.
pub(crate) fn one_row_off(c: &mut Cursor<'_, '_>) -> Option<Said> {
    let more = c.any(&["One row more (", "One row fewer ("])? == 0;
    let of = c.number()?;
    c.expect("):")?;
    let mut parts = Vec::new();
    if !c.phrase("there is no row for every st; pick up 1 st fewer and lift the strand beside the marker for the missing one")
    {
        parts.push(stretch(c)?);
        while c.phrase("; then") {
            parts.push(stretch(c)?);
        }
    }
    Some(Said::OneRowOff { more, of, parts })
}
