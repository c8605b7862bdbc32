//! Stripes: colours row by row against a list written out by brute force, yarn against the loops knitted.

use capwright::case::read_case;
use capwright::convert::{Conversion, convert};
use capwright::plan::Flank;
use capwright::{Case, Diagnostic};

const STRIPED: &str = include_str!("../../../cases/skua-stripes.toml");

fn converted(text: &str) -> (Case, Conversion) {
    let (case, said) = read_case(text);
    let case = case.unwrap_or_else(|| panic!("{said:?}"));
    let conversion = convert(&case, None).unwrap();
    (case, conversion)
}

/// The colours of a whole sleeve, hung up: written out from the cuff up by hand, then read from the top.
#[test]
fn every_row_has_the_colour_of_the_garment_as_it_hangs() {
    let (case, conversion) = converted(STRIPED);
    let stripes = &case.stripes.as_ref().unwrap().sleeve;
    let mut hung: Vec<&str> = Vec::new();
    while hung.len() < 2000 {
        for stripe in &stripes.stripes {
            hung.extend(std::iter::repeat_n(
                stripe.colour.as_str(),
                stripe.rows as usize,
            ));
        }
    }
    for size in &conversion.sizes {
        let sleeve = size.stripes.as_ref().unwrap();
        // A whole number of sequences lies below row 1, which is one row below the picked-up row.
        let top = 6 * 200 + sleeve.first_row as usize + 1;
        let down: Vec<&str> = hung[..=top].iter().rev().copied().collect();
        let mut rows = 0;
        for band in &sleeve.bands {
            assert_eq!(band.from as usize, rows);
            for row in band.from..=band.to {
                assert_eq!(down[row as usize], band.colour, "row {row}");
            }
            rows = band.to as usize + 1;
        }
        let rounds = size.tube.as_ref().unwrap().rounds.count();
        assert_eq!(rows, (sleeve.cap_rows + rounds + 1) as usize);
    }
}

/// The needle counts every loop it forms; the colours share them without one left over.
#[test]
fn the_colours_share_all_stitches() {
    let (_, conversion) = converted(STRIPED);
    for size in &conversion.sizes {
        let sleeve = size.stripes.as_ref().unwrap();
        let cap: u64 = sleeve.bands.iter().map(|band| band.stitches).sum();
        let tube = size.tube.as_ref().unwrap();
        let mut rounds = 0;
        for round in 1..=tube.rounds.count() {
            let shaped = tube
                .decrease_rounds
                .iter()
                .filter(|at| **at <= round)
                .count();
            rounds += u64::from(tube.upper_arm.count()) - 2 * shaped as u64;
        }
        assert_eq!(cap, u64::from(size.loops.all().count()) + rounds);
        let yarn: u64 = sleeve.yarn.iter().map(|(_, stitches)| stitches).sum();
        assert_eq!(yarn, cap);
    }
}

/// No other first row lies nearer at the height asked for, front and back together: all are tried.
#[test]
fn the_chosen_first_row_matches_best_where_it_should() {
    for at in ["0.2", "0.5", "0.8"] {
        let text = STRIPED.replace(
            "armhole_row = 3",
            &format!("armhole_row = 3\nmatch_at = {at}"),
        );
        let off = |text: &str| -> (u32, i64) {
            let (case, conversion) = converted(text);
            let size = &conversion.sizes[0];
            let sleeve = size.stripes.as_ref().unwrap();
            let depth = (size.old.front.depth() + size.old.back.depth()) / 2.0;
            let wanted = depth * case.stripes.as_ref().unwrap().match_at;
            let nearest = |flank| {
                let there = sleeve.meetings.iter().filter(|m| m.flank == flank);
                there.min_by(|a, b| {
                    let away = |m: &capwright::convert::Meeting| (m.height - wanted).abs().to_cm();
                    away(a).total_cmp(&away(b))
                })
            };
            let both =
                [Flank::Front, Flank::Back].map(|flank| nearest(flank).unwrap().off.unwrap().abs());
            (sleeve.first_row, both[0] + both[1])
        };
        let (_, chosen) = off(&text);
        for first in 1..=6 {
            let (row, other) =
                off(&format!("{text}\n")
                    .replace("match_at", &format!("first_row = {first}\nmatch_at")));
            assert_eq!(row + 1, first);
            assert!(
                chosen <= other,
                "{at}: {first} is off {other}, the chosen one {chosen}"
            );
        }
    }
}

/// Heights go down from pair to pair, and the rows beside the pairs add up to the flank's.
#[test]
fn the_pairs_lie_along_the_whole_flank() {
    let (_, conversion) = converted(STRIPED);
    for size in &conversion.sizes {
        let plan = &size.fit.plan;
        for (flank, picked) in [(Flank::Front, &plan.front), (Flank::Back, &plan.back)] {
            let there = size
                .stripes
                .as_ref()
                .unwrap()
                .meetings
                .iter()
                .filter(|m| m.flank == flank);
            let there: Vec<_> = there.collect();
            assert_eq!(there.len(), picked.moves.len());
            assert!(
                there
                    .windows(2)
                    .all(|pair| pair[0].height >= pair[1].height)
            );
            let rows: u32 = there.iter().map(|m| m.body_rows).sum();
            let zones: u32 = picked.zones.iter().map(|zone| zone.rows.count()).sum();
            assert!(rows <= zones && zones - rows <= 2, "{rows} of {zones}");
        }
    }
}

fn said(stripes: &str) -> Vec<Diagnostic> {
    let text = STRIPED.replace("body = [[\"ink\", 4], [\"chalk\", 2]]", stripes);
    read_case(&text).1
}

#[test]
fn stripes_that_cannot_be_knitted_are_refused() {
    for (stripes, code) in [
        ("body = [[\"\", 4]]", "stripes"),
        ("body = [[\"  \", 4], [\"ink\", 2]]", "stripes"),
        ("body = []", "stripes"),
        ("body = [[\"ink\", 0]]", "out-of-range"),
        ("body = [[\"ink\", 2.5]]", "stripes"),
        ("body = [[4, \"ink\"]]", "wrong-type"),
        ("body = [\"ink\", 4]", "wrong-type"),
        ("body = [[\"ink\", 2]]", "out-of-range"),
        ("", "missing-key"),
    ] {
        let said = said(stripes);
        assert!(
            said.iter().any(|d| d.code.id == code),
            "{stripes}: {said:?}"
        );
    }
}
