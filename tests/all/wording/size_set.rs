//! Several sizes in one text, read back size by size.

use crate::common::plans as common;
use capwright::case::Style;
use capwright::diagnostic::Level;
use capwright::measure::{Rows, Stitches};
use capwright::needle::{knit_file, knit_sizes, prove};
use capwright::plan::{CapPlan, Crown, FlankPlan, Move, Sleeve, TubePlan, Zone, even_intervals};
use capwright::wording::{Instructions, SleeveText, write, write_set};
use proptest::prelude::*;

fn flank(runs: &[(u32, u32, u32)], zone: (u32, u32)) -> FlankPlan {
    let moves = runs.iter().flat_map(|&(times, take, drop)| {
        std::iter::repeat_n(Move::new(take, drop), times as usize)
    });
    FlankPlan {
        moves: moves.collect(),
        zones: vec![Zone {
            stitches: Stitches(zone.0),
            rows: Rows(zone.1),
        }],
    }
}

fn alike(crown: (u32, u32), base: u32, flank: FlankPlan) -> CapPlan {
    CapPlan {
        join_change: 0,
        crown: Crown {
            stitches: Stitches(crown.0),
            live: Stitches(0),
            rows: Rows(crown.1),
        },
        base_front: Stitches(base),
        base_back: Stitches(base),
        front: flank.clone(),
        back: flank,
    }
}

/// Three sizes of which the first two are built alike.
fn three() -> Vec<(String, CapPlan, TubePlan)> {
    let plans = [
        alike(
            (13, 14),
            4,
            flank(&[(3, 2, 0), (9, 1, 0), (1, 3, 0)], (18, 32)),
        ),
        alike(
            (15, 16),
            4,
            flank(&[(4, 2, 0), (9, 1, 0), (1, 4, 0)], (21, 36)),
        ),
        alike(
            (17, 18),
            5,
            flank(&[(3, 2, 0), (9, 1, 0), (2, 2, 1), (1, 2, 0)], (21, 36)),
        ),
    ];
    let tube = |plan: &CapPlan, every: u32| {
        let mut at = 1;
        let rounds = even_intervals(every * 8, 8).into_iter().map(|gap| {
            at += gap;
            at
        });
        TubePlan {
            upper_arm: plan.upper_arm(),
            cuff: plan.upper_arm() - Stitches(16),
            rounds: Rows(every * 8 + 11),
            decrease_rounds: rounds.collect(),
            worked: Rows::ZERO,
            beside: 0,
        }
    };
    let names = ["S", "M 38", "L"];
    let sizes = names.iter().zip(plans).zip([9, 10, 11]);
    sizes
        .map(|((name, plan), every)| {
            let tube = tube(&plan, every);
            ((*name).to_owned(), plan, tube)
        })
        .collect()
}

fn set(sizes: &[(String, CapPlan, TubePlan)], style: Style, sleeve: Sleeve) -> Instructions {
    let each = sizes.iter().map(|(name, plan, tube)| {
        let input = SleeveText {
            plan,
            tube: Some(tube),
            cuff: None,
            style,
            sleeve,
        };
        (name.clone(), write(&input))
    });
    write_set(&each.collect::<Vec<_>>())
}

#[test]
fn three_sizes_in_one_text() {
    let sizes = three();
    let text = set(&sizes, Style::default(), Sleeve::Both)
        .sentences()
        .join("\n");
    insta::assert_snapshot!("three_sizes", text);
    let (pieces, diagnostics) = knit_file(&format!("A SLEEVE\n{text}\n"));
    assert_eq!(diagnostics, []);
    let names: Vec<&str> = pieces.iter().filter_map(|p| p.size.as_deref()).collect();
    assert_eq!(names, ["S", "M 38", "L"]);
    for (piece, (_, plan, tube)) in pieces.iter().zip(&sizes) {
        let style = Style::default();
        assert_eq!(
            prove(
                plan,
                (Some(tube), None),
                style,
                Sleeve::Both,
                &piece.knitted
            ),
            []
        );
    }
}

/// Every digit of a text for several sizes is checked in one of them.
#[test]
fn a_changed_number_of_one_size_is_objected_to() {
    let text = set(&three(), Style::default(), Sleeve::Both)
        .sentences()
        .join("\n");
    let start = text.find("With RS").unwrap();
    let bytes: Vec<char> = text.chars().collect();
    let mut changes = 0;
    for at in start..bytes.len() {
        let whole_number = |i: usize| bytes.get(i).is_none_or(|c| !c.is_ascii_digit());
        // The name of a size is no number to be checked.
        let name = text[..at].ends_with("M 3") || text[..at].ends_with("M ");
        if !bytes[at].is_ascii_digit() || !whole_number(at + 1) || name {
            continue;
        }
        let digit = bytes[at].to_digit(10).unwrap();
        let mut other = bytes.clone();
        other[at] = char::from_digit((digit + 1) % 10, 10).unwrap();
        let mutant: String = other.into_iter().collect();
        let (_, diagnostics) = knit_sizes(&mutant);
        changes += 1;
        let objects = diagnostics.iter().any(|d| d.level == Level::Error);
        assert!(objects, "unnoticed at {at}:\n{mutant}");
    }
    assert!(changes > 150, "only {changes} changes were tried");
}

#[test]
fn a_list_of_the_wrong_length_is_named() {
    let text = set(&three(), Style::default(), Sleeve::Both)
        .sentences()
        .join("\n");
    let shorter = text.replacen("13 (15, 17)", "13 (15)", 1);
    assert_ne!(shorter, text);
    let (_, diagnostics) = knit_sizes(&shorter);
    assert_eq!(
        diagnostics[0].message,
        "a list of 2 numbers stands where 3 sizes are worked"
    );
}

/// Sizes that a sentence is for stand in the same brackets as its numbers.
#[test]
fn sizes_are_listed_as_their_numbers_are() {
    let text = set(&three(), Style::default(), Sleeve::Both)
        .sentences()
        .join("\n");
    assert!(text.contains("The sizes are S (M 38, L)."), "{text}");
    assert!(
        text.contains("Sizes S (M 38) only. Row 1 (RS): k13 (15) to"),
        "{text}"
    );
    assert!(text.contains("Size L only. The decreases"), "{text}");
    let bracketed = text
        .replace("S (M 38, L).", "S / M (38) / L.")
        .replace("S (M 38) only", "S / M (38) only");
    let (pieces, diagnostics) = knit_sizes(&bracketed);
    assert_eq!(diagnostics, []);
    let names: Vec<&str> = pieces.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["S", "M (38)", "L"]);
}

/// A size whose name looks like a list is one size.
#[test]
fn one_name_with_brackets_is_one_size() {
    let text = set(&three(), Style::default(), Sleeve::Both)
        .sentences()
        .join("\n");
    let bracketed = text
        .replace("S (M 38, L).", "S / M 38 / L (40).")
        .replace("Size L only", "Size L (40) only");
    let (_, diagnostics) = knit_sizes(&bracketed);
    assert_eq!(diagnostics, []);
}

/// By hand: half of 16 sts over 24 rows is 2 in 3 four times; half of 16 over 26 the same three times and 1 in 2 twice, the
/// seventeenth lies in the seam.
#[test]
fn what_a_size_has_not_is_a_dash() {
    let flank = flank(&[(3, 2, 0), (9, 1, 0)], (15, 30));
    let plans = [alike((16, 24), 4, flank.clone()), alike((17, 26), 4, flank)];
    let texts = ["S", "M"].iter().zip(&plans).map(|(name, plan)| {
        let input = SleeveText {
            plan,
            tube: None,
            cuff: None,
            style: Style::default(),
            sleeve: Sleeve::Both,
        };
        ((*name).to_owned(), write(&input))
    });
    let text = write_set(&texts.collect::<Vec<_>>()).sentences().join("\n");
    let rest = "4 (3) times, then 1 st for every 2 rows, \u{2013} (2) times; \u{2013} (1) sts in the shoulder seam itself;";
    assert!(text.contains(rest), "{text}");
    assert!(text.contains("A dash in a list is nothing to work."));
    let (knitted, diagnostics) = knit_sizes(&text);
    assert_eq!(diagnostics, []);
    for ((_, knitted), plan) in knitted.iter().zip(&plans) {
        let said = prove(plan, (None, None), Style::default(), Sleeve::Both, knitted);
        assert_eq!(said, []);
    }
    for (from, to) in [
        ("\u{2013} (2) times", "1 (2) times"),
        ("\u{2013} (1) sts", "1 (1) sts"),
    ] {
        let (_, diagnostics) = knit_sizes(&text.replace(from, to));
        assert!(
            diagnostics.iter().any(|d| d.level == Level::Error),
            "{from}"
        );
    }
}

/// A size whose crown is picked up at a rate of its own stands beside the others, with a dash in theirs.
#[test]
fn one_rate_more_makes_two_groups_one() {
    let flank = flank(&[(3, 2, 0), (9, 1, 0)], (15, 30));
    let crowns = [(16, 24), (17, 26), (15, 22), (17, 22)];
    let plans = crowns.map(|crown| alike(crown, 4, flank.clone()));
    let texts = ["S", "M", "L", "XL"]
        .iter()
        .zip(&plans)
        .map(|(name, plan)| {
            let input = SleeveText {
                plan,
                tube: None,
                cuff: None,
                style: Style::default(),
                sleeve: Sleeve::Both,
            };
            ((*name).to_owned(), write(&input))
        });
    let text = write_set(&texts.collect::<Vec<_>>()).sentences().join("\n");
    assert!(!text.contains("only."), "{text}");
    let (knitted, diagnostics) = knit_sizes(&text);
    assert_eq!(diagnostics, [], "{text}");
    for ((_, knitted), plan) in knitted.iter().zip(&plans) {
        let said = prove(plan, (None, None), Style::default(), Sleeve::Both, knitted);
        assert_eq!(said, []);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Sizes built alike or not: what is merged comes apart again.
    #[test]
    fn every_set_knits_back(
        base in common::plan(),
        others in prop::collection::vec((common::plan(), 0u32..3, 0u32..3, any::<bool>()), 1..4),
        style in common::style(),
    ) {
        let grown = |crown: u32, base_by: u32| {
            let mut plan = base.clone();
            plan.crown.stitches += Stitches(crown);
            plan.crown.rows += Rows(crown);
            plan.base_front += Stitches(base_by);
            plan.base_back += Stitches(base_by);
            plan
        };
        let mut plans = vec![base.clone()];
        plans.extend(others.iter().map(|(other, crown, base_by, alike)| {
            if *alike { grown(*crown, *base_by) } else { other.clone() }
        }));
        let both = plans.iter().all(|p| Sleeve::needed(p) == [Sleeve::Both]);
        let sleeve = if both { Sleeve::Both } else { Sleeve::Right };
        let texts: Vec<(String, Instructions)> = (0..)
            .zip(&plans)
            .map(|(i, plan)| {
                let input = SleeveText { plan, tube: None,
 cuff: None, style, sleeve };
                (format!("size {i}"), write(&input))
            })
            .collect();
        let text = write_set(&texts).sentences().join("\n");
        let (knitted, diagnostics) = knit_sizes(&text);
        prop_assert_eq!(&diagnostics, &[], "{}", &text);
        prop_assert_eq!(knitted.len(), plans.len());
        for ((_, knitted), plan) in knitted.iter().zip(&plans) {
            prop_assert_eq!(&prove(plan, (None, None), style, sleeve, knitted), &[], "{}", &text);
        }
    }
}
