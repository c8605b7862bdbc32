//! `[sleeve]`: the old cap, the tube and its cuff.

use super::codes::CLASH;
use super::table::{CaseTable, SIDES};
use super::{Cuff, Sleeve};
use crate::measure::{
    CUFF_LENGTH, CUFF_STITCHES, REPEAT, Rows, SEAM_ROWS, SEAM_STITCHES, SLEEVE_LENGTH,
    STITCH_COUNT, Side, Stitches,
};
use crate::plan::{CuffStitch, Repeat};

pub(super) fn sleeve(root: &CaseTable<'_>) -> Option<Sleeve> {
    let Some(table) = root.table("sleeve") else {
        if !root.has("sleeve") {
            root.missing("sleeve", "[sleeve] with stitches and cap");
        }
        return None;
    };
    let stitches = table.stitches("stitches", &STITCH_COUNT);
    let cap = table.text("cap");
    // Without an old cap, [adapt] says what to draft.
    let drafted = root.has("adapt") && !table.has("stitches") && !table.has("cap");
    for (key, example) in [
        ("stitches", "stitches = 70"),
        ("cap", "cap = \"\"\"...\"\"\""),
    ] {
        if !drafted && !table.has(key) {
            table.missing(key, example);
        }
    }
    let sleeve = Sleeve {
        stitches: stitches.unwrap_or_default(),
        cap: cap.unwrap_or_default().to_owned(),
        first_row: table.choice("first_row", SIDES).unwrap_or(Side::Rs),
        seam_stitches: Stitches(table.count("seam_stitches", &SEAM_STITCHES).unwrap_or(1)),
        seam_rows: Rows(table.count("seam_rows", &SEAM_ROWS).unwrap_or(0)),
        repeat: table.table("repeat").map(|t| repeat(&t)),
        cuff_stitches: table.stitches("cuff_stitches", &CUFF_STITCHES),
        length: table.lengths("length", &SLEEVE_LENGTH),
        cuff_length: table.lengths("cuff_length", &CUFF_LENGTH),
        cuff: None,
    };
    let mut sleeve = sleeve;
    if let Some(inner) = table.table("cuff") {
        cuff(&inner, &mut sleeve);
    }
    cuff_within(&table, &sleeve);
    table.finish();
    (drafted || sleeve.has_old_cap() && cap.is_some()).then_some(sleeve)
}

const CUFFS: &[(&str, CuffStitch)] = &[
    ("1x1", CuffStitch::Rib1),
    ("2x2", CuffStitch::Rib2),
    ("garter", CuffStitch::Garter),
    ("plain", CuffStitch::Plain),
];

/// `cuff = { ... }`: its stitches and length are those of `cuff_stitches` and `cuff_length`.
fn cuff(table: &CaseTable<'_>, sleeve: &mut Sleeve) {
    let stitch = table.choice("stitch", CUFFS).unwrap_or_default();
    let multiple = table
        .count("multiple", &REPEAT)
        .unwrap_or(stitch.multiple());
    sleeve.cuff = Some(Cuff {
        stitch,
        multiple: multiple.max(1),
    });
    for (key, outside, given) in [
        ("stitches", "cuff_stitches", sleeve.cuff_stitches.is_some()),
        ("length", "cuff_length", sleeve.cuff_length.is_some()),
    ] {
        if given && table.has(key) {
            let message =
                format!("{key} of the cuff is given twice, here and as {outside}; leave one out.");
            table.say(&CLASH, table.place_of(key), message);
        }
    }
    if let Some(stitches) = table.stitches("stitches", &CUFF_STITCHES) {
        sleeve.cuff_stitches = Some(stitches);
    }
    if let Some(length) = table.lengths("length", &CUFF_LENGTH) {
        sleeve.cuff_length = Some(length);
    }
    table.finish();
}

/// A cuff is shorter than the sleeve it is part of.
fn cuff_within(table: &CaseTable<'_>, sleeve: &Sleeve) {
    let Some(cuffs) = &sleeve.cuff_length else {
        return;
    };
    let lengths = sleeve.length.as_deref().unwrap_or(&[]);
    // One that cannot be read has a finding of its own.
    if lengths.is_empty() && !table.has("length") {
        table.missing("length", "length = 45");
    }
    let units = table.reading().units;
    for (length, cuff) in lengths
        .iter()
        .zip(cuffs)
        .filter(|(length, cuff)| cuff >= length)
    {
        let message = format!(
            "The cuff of {} is not shorter than the sleeve of {} it is part of.",
            units.show(*cuff),
            units.show(*length)
        );
        let next = "Correct one of the two; the sleeve's length includes the cuff.";
        table.clash("cuff_length", message, next);
    }
}

/// The repeat of each size; what could not be read stands for any count.
fn repeat(table: &CaseTable<'_>) -> Vec<Repeat> {
    let each = |key: &str, otherwise: u32| {
        let counts = table.sized_counts(key, &REPEAT);
        counts.unwrap_or_else(|| vec![otherwise; table.reading().sizes])
    };
    let repeats = each("multiple", 1).into_iter().zip(each("plus", 0));
    let repeats = repeats.map(|(multiple, plus)| Repeat {
        multiple: multiple.max(1),
        plus,
    });
    let repeats = repeats.collect();
    table.finish();
    repeats
}
