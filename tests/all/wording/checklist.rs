//! The checklist, the pick-up list and the abbreviations of one small cap.

use capwright::case::{Style, Turn, read_case};
use capwright::convert::{Conversion, convert};
use capwright::measure::{Rows, Stitches};
use capwright::needle::{knit_sentences, words_of};
use capwright::plan::{CapPlan, Crown, FlankPlan, Move, Sleeve, Zone};
use capwright::report::{Reader, checklist_csv, checklist_document, conversion_document};
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

/// Colour and chart rows stand beside every row to tick off, in text, table of values and worksheet.
#[test]
fn colours_and_rows_of_charts_are_columns_of_the_checklist() {
    let of = |name: &str| {
        let text = std::fs::read_to_string(format!("cases/{name}.toml")).unwrap();
        let case = read_case(&text).0.unwrap();
        let conversion = convert(&case, Some(0)).unwrap();
        (case, conversion)
    };
    let csv_rows = |conversion: &Conversion| -> Vec<Vec<String>> {
        let csv = checklist_csv(conversion);
        let rows = csv
            .lines()
            .map(|line| line.split(',').map(str::to_owned).collect());
        rows.collect()
    };
    let (case, conversion) = of("skua-stripes");
    let rows = csv_rows(&conversion);
    assert_eq!(rows[0].last().unwrap(), "colour");
    // By hand from the sequence: four rows of ink and two of chalk, from the first change down.
    let colours: String = rows[1..]
        .iter()
        .map(|row| &row.last().unwrap()[..1])
        .collect();
    assert!(colours.contains("ciiiicciiiicc"), "{colours}");
    for text in [
        checklist_document(&case, &conversion).text(),
        conversion_document(&case, &conversion, Reader::Page, None).html(),
    ] {
        assert!(text.contains("Colour"), "{text}");
    }
    let (case, conversion) = of("gannet-saddle");
    let rows = csv_rows(&conversion);
    assert_eq!(rows[0].last().unwrap(), "row_of_cable");
    // An eight-row cable that begins with its row 7 (`cases/gannet-saddle.toml`).
    let told: String = rows[1..]
        .iter()
        .map(|row| row.last().unwrap().as_str())
        .collect();
    assert!(told.starts_with("7812345678"), "{told}");
    // A narrow heading stands in several lines.
    let text = checklist_document(&case, &conversion).text();
    assert!(text.contains("cable"), "{text}");
    let (_, conversion) = of("dunlin-texture");
    assert_eq!(
        csv_rows(&conversion)[0].last().unwrap(),
        "row_of_the_repeat"
    );
}
