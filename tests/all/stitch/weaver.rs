//! A weaver who knows nothing of caps: she lays the repeat on a plane, cuts it by the outline of the cap as
//! the needle has knitted it, and must have the same stitches in her hand.

use std::collections::BTreeMap;

use crate::common::plans as common;
use capwright::needle::{Knitted, knit_sentences};
use capwright::plan::{CapPlan, Hand, Section, Sleeve};
use capwright::stitch::{Cell, Chart, Drawn, Layout, Legend, Pattern, Stitch, Worked};
use capwright::wording::{SleeveText, write};
use proptest::prelude::*;
use proptest::strategy::ValueTree;

/// A ground of plain stitches that may be cut anywhere.
fn ground() -> impl Strategy<Value = Chart> {
    (1usize..9, 1usize..7).prop_flat_map(|(width, height)| {
        let row = prop::collection::vec(prop::sample::select(vec!['k', 'p', 't']), width);
        prop::collection::vec(row, height).prop_map(|rows| {
            let rows: Vec<String> = rows.iter().map(|row| row.iter().collect()).collect();
            let legend = Legend::from([('t', Stitch::KnitTbl)]);
            Chart::parse(&rows.join("\n"), &legend).unwrap()
        })
    })
}

fn knitted(plan: &CapPlan, sleeve: Sleeve) -> Knitted {
    let input = SleeveText {
        plan,
        tube: None,
        cuff: None,
        style: capwright::case::Style::default(),
        sleeve,
    };
    let (knitted, said) = knit_sentences(&write(&input).sentences());
    assert!(
        said.iter()
            .all(|d| d.level < capwright::diagnostic::Level::Error),
        "{said:?}"
    );
    knitted
}

/// The columns of the tube that each row of the cap works: a stitch is in every row from its first one on.
/// Those beyond the base come before the crown when one walks along the row.
fn outline(knitted: &Knitted) -> Vec<Vec<i64>> {
    let rows = 2 * knitted.turn_pairs + 1;
    let end = i64::from(knitted.cap_end.count());
    let coming = i64::from(knitted.corners[1].change);
    let columns = |row: u32| {
        let there = knitted
            .columns
            .iter()
            .filter(|c| c.first_row.is_some_and(|first| first <= row));
        let place = |c: &capwright::needle::Column| {
            let at = i64::try_from(c.stitch).unwrap();
            match c.section {
                Section::Second => (at - end, at - end),
                Section::Base => (at, at + coming),
                _ => (at, at),
            }
        };
        // Two picked-up stitches that became one are one; two stitches on one column are two.
        let stitches: BTreeMap<i64, i64> = there.map(place).collect();
        stitches.into_values().collect()
    };
    (1..=rows).map(columns).collect()
}

/// True when the first crown stitch and the last one of the needle are one.
fn wraps(knitted: &Knitted) -> bool {
    knitted.columns.first().map(|c| c.stitch) == knitted.columns.last().map(|c| c.stitch)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn the_layout_is_the_plane_cut_by_the_cap(plan in common::plan(), chart in ground(), first in 0usize..6) {
        let pattern = Pattern::plain("ground", Drawn::new(chart, Worked::FromShoulder, Some(first)), Worked::FromShoulder);
        for &sleeve in common::sleeves(&plan) {
            let (layout, _) = Layout::new(&pattern, &plan, sleeve, Hand::Right).unwrap();
            let rows = layout.rows();
            let knitted = knitted(&plan, sleeve);
            if wraps(&knitted) {
                // The needle's numbers begin in the middle of a stitch.
                continue;
            }
            let outline = outline(&knitted);
            prop_assert_eq!(rows.len(), outline.len() + 1);
            let drawn = &pattern.ground;
            let plane = |row: usize, column: i64| -> Cell {
                let width = i64::try_from(drawn.chart.width()).unwrap();
                let offset = i64::try_from(layout.offset).unwrap();
                let mut at = column + offset;
                while at < 0 { at += width; }
                while at >= width { at -= width; }
                let mut up = first;
                for _ in 0..row { up += 1; }
                while up >= drawn.chart.height() { up -= drawn.chart.height(); }
                drawn.chart.rows()[up][usize::try_from(at).unwrap()]
            };
            for (row, columns) in outline.iter().enumerate() {
                let cut: Vec<Cell> = columns.iter().map(|column| plane(row, *column)).collect();
                prop_assert_eq!(&rows[row].cells, &cut, "row {}", row + 1);
            }
            // The first round is the next row of the plane on every column: no step at the join.
            let round = &rows[outline.len()];
            let from = i64::from(layout.spans()[outline.len()].0.try_into().unwrap_or(0i32));
            let cut: Vec<Cell> = (0..round.cells.len())
                .map(|i| plane(outline.len(), from + i64::try_from(i).unwrap()))
                .collect();
            prop_assert_eq!(&round.cells, &cut);
            prop_assert_eq!(round.cells.len(), plan.upper_arm().count() as usize);
        }
    }
}

/// Where the upper arm is whole repeats, the last stitch of the round is followed by the next of the repeat.
#[test]
fn whole_repeats_close_round_the_arm() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut closed = 0;
    for _ in 0..60 {
        let plan = common::plan().new_tree(&mut runner).unwrap().current();
        let chart = Chart::parse("ppkk", &Legend::new()).unwrap();
        let pattern = Pattern::plain(
            "rib",
            Drawn::new(chart, Worked::FromCuff, None),
            Worked::FromCuff,
        );
        let (layout, said) = Layout::new(&pattern, &plan, Sleeve::Left, Hand::Right).unwrap();
        let round = layout.rows().pop().unwrap();
        let whole = plan.upper_arm().count().is_multiple_of(4);
        assert_eq!(whole, round.last % 4 + 1 == round.first, "{round:?}");
        assert_eq!(whole, said.is_empty());
        closed += usize::from(whole);
    }
    assert!(closed > 5, "only {closed} caps close");
}

/// By hand: a rib on a crown of an even number lies alike on both sides of its middle; on an odd one it cannot.
#[test]
fn repeats_are_symmetrical_about_the_crown() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut even = 0;
    for _ in 0..40 {
        let plan = common::plan().new_tree(&mut runner).unwrap().current();
        for text in ["ppkk", "pk", "kkp", "kp\npk", "kpkkk\nkkkpk"] {
            let chart = Chart::parse(text, &Legend::new()).unwrap();
            let pattern = Pattern::plain(
                "ground",
                Drawn::new(chart.clone(), Worked::FromShoulder, None),
                Worked::FromShoulder,
            );
            let (layout, _) = Layout::new(&pattern, &plan, Sleeve::Left, Hand::Right).unwrap();
            let crown = &layout.rows()[0].cells;
            let mut mirrored = crown.clone();
            mirrored.reverse();
            // Brute force over all ways to lay it, on a strip that is longer than crown and repeat.
            let strip = crown.len() + 2 * chart.width() * 8;
            let alike = |offset: usize| {
                (0..chart.height()).all(|row| {
                    let lay: Vec<Cell> = (0..strip).map(|x| chart.cell(row, offset + x)).collect();
                    let mut back = lay.clone();
                    back.reverse();
                    lay == back
                })
            };
            let possible = (0..chart.width()).any(alike);
            if possible {
                assert_eq!(crown, &mirrored, "{text} on {}", crown.len());
                even += 1;
            }
        }
    }
    assert!(even > 60, "only {even} could be symmetrical");
}

/// A left hand works the mirror image of the words, on the mirrored way round: what hangs there is the same.
#[test]
fn a_left_hand_has_the_same_sleeve() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let legend = Legend::from([('L', Stitch::named("2/1 left purl").unwrap())]);
    let panel = Chart::parse("kpLLLp\nkpk/op", &legend).unwrap();
    let plain = Chart::parse("k", &Legend::new()).unwrap();
    let drawn = |chart: Chart| Drawn::new(chart, Worked::FromShoulder, Some(0));
    let mut pattern = Pattern::plain("plain", drawn(plain), Worked::FromShoulder);
    pattern.panels.push(capwright::stitch::Panel {
        name: "strip".to_owned(),
        drawn: drawn(panel),
        place: capwright::stitch::PanelPlace::Crown,
    });
    let mut compared = 0;
    for _ in 0..60 {
        let plan = common::plan().new_tree(&mut runner).unwrap().current();
        let crown = i64::from(plan.crown.stitches.count());
        if crown < 6 || crown % 2 == 1 || plan.join_change != 0 {
            continue;
        }
        let lay = |hand| Layout::new(&pattern, &plan, Sleeve::Left, hand).unwrap().0;
        let (right, left) = (lay(Hand::Right), lay(Hand::Left));
        // The rows of the two hands turn on the other flank first: compared are the columns that both have.
        for (a, b) in right
            .rows()
            .iter()
            .zip(left.rows())
            .zip(right.columns().iter().zip(left.columns()))
            .filter_map(|((a, b), (x, y))| {
                (!a.is_round()).then(|| ((x.clone(), a.cells.clone()), (y, b.cells)))
            })
        {
            for (column, cell) in a.0.iter().zip(&a.1) {
                let other = b.0.iter().position(|there| crown - 1 - there == *column);
                let Some(other) = other else { continue };
                let seen = b.1[other];
                assert_eq!(seen.stitch.mirrored(), cell.stitch);
                assert_eq!(seen.stitch.width() - 1 - seen.part, cell.part);
                compared += 1;
            }
        }
    }
    assert!(compared > 500, "only {compared} stitches were compared");
}
