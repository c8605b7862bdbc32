//! The checklist, the pick-up list and the abbreviations of one small cap.

use capwright::case::{Style, Turn};
use capwright::measure::{Rows, Stitches};
use capwright::needle::{knit_sentences, words_of};
use capwright::plan::{CapPlan, Crown, FlankPlan, Move, Sleeve, Zone};
use capwright::wording::{SleeveText, abbreviations, checklist, pick_up_lists, write};

fn flank(moves: &[(u32, u32)], zones: &[(u32, u32)]) -> FlankPlan {
    FlankPlan {
        moves: moves
            .iter()
            .map(|&(take, drop)| Move::new(take, drop))
            .collect(),
        zones: zones
            .iter()
            .map(|&(stitches, rows)| Zone {
                stitches: Stitches(stitches),
                rows: Rows(rows),
            })
            .collect(),
    }
}

fn plan() -> CapPlan {
    CapPlan {
        join_change: 0,
        crown: Crown {
            stitches: Stitches(8),
            live: Stitches(4),
            rows: Rows(5),
        },
        base_front: Stitches(3),
        base_back: Stitches(2),
        front: flank(&[(2, 0), (1, 0), (2, 1), (3, 0)], &[(5, 6), (3, 6)]),
        back: flank(&[(1, 0), (1, 0), (1, 1), (2, 0)], &[(5, 9)]),
    }
}

fn input(plan: &CapPlan, turn: Turn) -> SleeveText<'_> {
    SleeveText {
        plan,
        tube: None,
        cuff: None,
        style: Style {
            turn,
            ..Style::default()
        },
        sleeve: Sleeve::Right,
    }
}

fn words(sentences: &[String]) -> Vec<String> {
    sentences.iter().flat_map(|s| words_of(s)).collect()
}

#[test]
fn the_checklist_as_text_and_csv() {
    let plan = plan();
    let sentences = write(&input(&plan, Turn::Wrap)).sentences();
    let (knitted, diagnostics) = knit_sentences(&sentences);
    assert_eq!(diagnostics, []);
    let list = checklist(&knitted.needle_rows, knitted.first_flank, Turn::Wrap);
    // Every row once: two a turn pair and the one that runs on to the base.
    let rows: Vec<u32> = list.rows.iter().map(|row| row.row).collect();
    assert_eq!(rows, (1..=2 * plan.turn_pairs() + 1).collect::<Vec<_>>());
    insta::assert_snapshot!("checklist", list.to_text());
    insta::assert_snapshot!("checklist_csv", list.to_csv());
}

/// Both methods turn on the same stitches and have the same stitches between the turns.
#[test]
fn both_methods_turn_at_the_same_places() {
    let plan = plan();
    let rows = |turn| {
        let (knitted, _) = knit_sentences(&write(&input(&plan, turn)).sentences());
        let row = |r: &capwright::plan::NeedleRow| (r.row, r.turned_on, r.worked);
        knitted.needle_rows.iter().map(row).collect::<Vec<_>>()
    };
    assert_eq!(rows(Turn::Wrap), rows(Turn::German));
}

#[test]
fn the_pick_up_row_by_row() {
    let plan = plan();
    let lists = pick_up_lists(&input(&plan, Turn::Wrap));
    let said: Vec<String> = lists
        .iter()
        .flat_map(|list| std::iter::once(list.sentence()).chain(list.one_row_off()))
        .collect();
    insta::assert_snapshot!("pick_up_list", said.join("\n"));
}

/// Only what is used is listed, and every short word of the instructions is.
#[test]
fn abbreviations_are_those_used() {
    let plan = plan();
    for (turn, with, without) in [(Turn::Wrap, "w&t", "ds"), (Turn::German, "ds", "w&t")] {
        let list = abbreviations(&words(&write(&input(&plan, turn)).sentences()));
        let has = |short: &str| list.iter().any(|a| a.short == short);
        assert!(has(with) && !has(without) && !has("k2tog"));
        for short in ["k", "p", "pm", "RS", "ssk", "p2tog", "st", "sts", "WS"] {
            assert!(has(short), "{short}");
        }
    }
}
