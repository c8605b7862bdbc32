//! Stripes: the colour of every row, where sleeve and body meet, and the yarn.

use super::{Block, ColumnKind, TableBlock, TableColumn};
use crate::case::Case;
use crate::convert::{Band, Meeting, SizeConversion, StripedSleeve};
use crate::measure::Units;
use crate::plan::Flank;
use crate::stitch::Stripes;

/// What is said of the stripes of a size; nothing where the case has none.
pub(super) fn stripes(case: &Case, size: &SizeConversion) -> Vec<Block> {
    let Some(sleeve) = &size.stripes else {
        return Vec::new();
    };
    vec![
        Block::heading("Stripes"),
        Block::Sentences(stripe_sentences(case, size)),
        Block::Table(bands(sleeve)),
        Block::Table(meetings(case.units, sleeve)),
    ]
}

/// The same in sentences alone, as many for every size of a case.
pub(super) fn stripe_sentences(case: &Case, size: &SizeConversion) -> Vec<String> {
    let (Some(striped), Some(sleeve)) = (&case.stripes, &size.stripes) else {
        return Vec::new();
    };
    let mut said = vec![format!(
        "The sleeve's stripes, from the cuff up: {}.",
        words(&striped.sleeve)
    )];
    if striped.body != striped.sleeve {
        said.push(format!(
            "The body's, from the hem up: {}.",
            words(&striped.body)
        ));
    }
    said.push(begin(&striped.sleeve, sleeve));
    said.extend(meet(case.units, sleeve));
    if striped.sleeve.has_odd() {
        said.push("Stripes of an odd number of rows: where the yarn of the next colour hangs at the other end of a short row, join it anew or slide the sts to it (common practice, no source).".to_owned());
    }
    let part = match size.tube {
        Some(_) => "cap and tube down to the cuff",
        None => "the cap",
    };
    said.push(yarn(sleeve, part));
    said
}

fn rows(n: u32) -> String {
    format!("{n} row{}", if n == 1 { "" } else { "s" })
}

fn words(stripes: &Stripes) -> String {
    let each = stripes
        .stripes
        .iter()
        .map(|s| format!("{} of {}", rows(s.rows), s.colour));
    each.collect::<Vec<_>>().join(", ")
}

fn begin(stripes: &Stripes, sleeve: &StripedSleeve) -> String {
    let (index, within) = stripes.at(i64::from(sleeve.first_row));
    let stripe = stripes.stripes.get(index);
    let (colour, of) = stripe.map_or(("", 0), |stripe| (stripe.colour.as_str(), stripe.rows));
    let picked = sleeve.bands.first().map_or("", |band| &band.colour);
    let of_it = match (within + 1, of) {
        (_, 1) => "and then its one row is worked".to_owned(),
        (left, of) if left == of => format!("all {of} rows of it still to work"),
        (left, of) => format!("with {left} of its {of} rows still to work"),
    };
    format!(
        "Pick up in {picked}; the sleeve is worked down, so the stripes come in the other order: row 1 of the cap is {colour}, {of_it}."
    )
}

/// The sides that are told: one for both where they are alike.
fn sides(sleeve: &StripedSleeve) -> Vec<(&'static str, Vec<&Meeting>)> {
    let of = |flank: Flank| -> Vec<&Meeting> {
        sleeve
            .meetings
            .iter()
            .filter(|m| m.flank == flank)
            .collect()
    };
    let (front, back) = (of(Flank::Front), of(Flank::Back));
    let same = |(a, b): (&&Meeting, &&Meeting)| {
        Meeting {
            flank: b.flank,
            ..**a
        } == **b
    };
    if front.len() == back.len() && front.iter().zip(&back).all(same) {
        return vec![("Front and back", front)];
    }
    vec![("Front", front), ("Back", back)]
}

/// Where both agree, and where the rows run one by one.
fn meet(units: Units, sleeve: &StripedSleeve) -> Vec<String> {
    let told = sides(sleeve)
        .into_iter()
        .filter(|(_, there)| !there.is_empty());
    told.map(|(name, there)| {
        let alike = there.iter().filter(|m| m.alike).count();
        let in_step: Vec<&&Meeting> = there.iter().filter(|m| m.body_rows == 2).collect();
        let step = match (in_step.first(), in_step.last()) {
            (Some(high), Some(low)) => format!(
                "{} lie row for row along the body, between {} and {} above the underarm",
                in_step.len(),
                units.show(low.height),
                units.show(high.height)
            ),
            _ => "none lies row for row along the body".to_owned(),
        };
        // The needle holds the table below against this sentence.
        let rows: u32 = there.iter().map(|m| m.body_rows).sum();
        format!(
            "{name}: {alike} of {} turn pairs meet the body in its colour; {step}; together they lie along {rows} rows of it.",
            there.len()
        )
    })
    .collect()
}

fn yarn(sleeve: &StripedSleeve, part: &str) -> String {
    let all: u64 = sleeve.yarn.iter().map(|(_, stitches)| stitches).sum();
    let each = sleeve
        .yarn
        .iter()
        .map(|(colour, stitches)| format!("{colour}: {stitches} sts"));
    format!(
        "Yarn for {part}, one sleeve: {} ({all} in all); each colour takes its share of the yarn.",
        each.collect::<Vec<_>>().join("; ")
    )
}

/// Bands that are told: those of the cap and the first one in rounds; they then come again.
fn told(sleeve: &StripedSleeve) -> impl Iterator<Item = &Band> {
    let in_rounds = |band: &&Band| band.from > sleeve.cap_rows;
    let cap = sleeve.bands.iter().take_while(move |band| !in_rounds(band));
    cap.chain(sleeve.bands.iter().find(in_rounds))
}

/// Which rows a band consists of: `picked-up row to row 3`, `rounds 4 to 9`.
fn band_rows(band: &Band, cap_rows: u32) -> String {
    let place = |row: u32| match row {
        0 => "picked-up row".to_owned(),
        row if row <= cap_rows => format!("row {row}"),
        row => format!("round {}", row - cap_rows),
    };
    if band.from == band.to {
        return place(band.from);
    }
    format!("{} to {}", place(band.from), place(band.to))
}

fn bands(sleeve: &StripedSleeve) -> TableBlock {
    let row = |band: &Band| {
        vec![
            band_rows(band, sleeve.cap_rows),
            band.colour.clone(),
            (band.to - band.from + 1).to_string(),
            band.stitches.to_string(),
        ]
    };
    let columns = vec![
        TableColumn::new("From the shoulder down", ColumnKind::Head),
        TableColumn::new("Colour", ColumnKind::Short),
        TableColumn::new("Rows", ColumnKind::Number),
        TableColumn::new("Stitches", ColumnKind::Number),
    ];
    TableBlock::new(
        "Stripes of the sleeve",
        columns,
        told(sleeve).map(row).collect(),
    )
}

fn meetings(units: Units, sleeve: &StripedSleeve) -> TableBlock {
    let row = |name: &str, m: &Meeting| {
        let off = match m.off {
            None => "never".to_owned(),
            Some(0) => "level".to_owned(),
            Some(n) => format!(
                "{} too {}",
                rows(u32::try_from(n.unsigned_abs()).unwrap_or(u32::MAX)),
                if n > 0 { "high" } else { "low" }
            ),
        };
        vec![
            format!("{}, pair {}", name.to_lowercase(), m.pair),
            units.show(m.height),
            m.body_row.to_string(),
            m.body_rows.to_string(),
            off,
            if m.alike { "yes" } else { "no" }.to_owned(),
        ]
    };
    let columns = vec![
        TableColumn::new("Where", ColumnKind::Head),
        TableColumn::new("Above the underarm", ColumnKind::Short),
        TableColumn::new("Body row", ColumnKind::Number),
        TableColumn::new("Body rows beside it", ColumnKind::Number),
        TableColumn::new("The sleeve's stripe lies", ColumnKind::Short),
        TableColumn::new("Same colour", ColumnKind::Short),
    ];
    let sides = sides(sleeve).into_iter();
    let rows = sides.flat_map(|(name, there)| there.into_iter().map(move |m| row(name, m)));
    TableBlock::new(
        "Where the sleeve meets the body, from the shoulder down",
        columns,
        rows.collect(),
    )
}
