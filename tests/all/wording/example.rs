//! The small cap of the design, written in every style and knitted back.

use capwright::case::{Style, Terms, Turn, TurnDecrease, Underarm};
use capwright::measure::{Rows, Stitches};
use capwright::needle::{knit_sentences, prove};
use capwright::plan::{
    CapPlan, Crown, FlankPlan, Hand, Move, Sleeve, TubePlan, Zone, even_intervals,
};
use capwright::wording::{SleeveText, write};

fn moves(runs: &[(u32, u32, u32)]) -> Vec<Move> {
    runs.iter()
        .flat_map(|&(times, take, drop)| std::iter::repeat_n(Move::new(take, drop), times as usize))
        .collect()
}

fn zone(stitches: u32, rows: u32) -> Zone {
    Zone {
        stitches: Stitches(stitches),
        rows: Rows(rows),
    }
}

/// Crown of 17, 25 a flank, base of 8: 75 picked up, 17 turn pairs, 71 stitches in the round.
fn example() -> CapPlan {
    let flank = FlankPlan {
        moves: moves(&[(3, 2, 0), (9, 1, 0), (2, 2, 1), (1, 2, 0), (1, 4, 0)]),
        zones: vec![zone(25, 44)],
    };
    CapPlan {
        join_change: 0,
        crown: Crown {
            stitches: Stitches(17),
            live: Stitches(0),
            rows: Rows(18),
        },
        base_front: Stitches(4),
        base_back: Stitches(4),
        front: flank.clone(),
        back: flank,
    }
}

/// A saddle of 11 live stitches, two zones a flank, the front one steeper than the back.
fn saddle() -> CapPlan {
    let front = FlankPlan {
        moves: moves(&[(2, 3, 0), (5, 1, 0), (3, 1, 1), (2, 2, 1), (1, 4, 0)]),
        zones: vec![zone(12, 15), zone(10, 20)],
    };
    let back = FlankPlan {
        moves: moves(&[(3, 2, 0), (6, 1, 0), (2, 2, 1), (2, 2, 0)]),
        zones: vec![zone(20, 36)],
    };
    CapPlan {
        join_change: 0,
        crown: Crown {
            stitches: Stitches(17),
            live: Stitches(11),
            rows: Rows(7),
        },
        base_front: Stitches(5),
        base_back: Stitches(4),
        front,
        back,
    }
}

/// 71 to 43 stitches: 14 decrease rounds over 124 of 140 rounds after the first one (A. Budd, 2010: every 8th twice,
/// every 9th twelve times).
fn tube(plan: &CapPlan) -> TubePlan {
    let mut at = 1;
    let decrease_rounds: Vec<u32> = even_intervals(124, 14)
        .into_iter()
        .map(|step| {
            at += step;
            at
        })
        .collect();
    TubePlan {
        upper_arm: plan.upper_arm(),
        cuff: plan.upper_arm() - Stitches(28),
        rounds: Rows(141),
        decrease_rounds,
        worked: Rows::ZERO,
        beside: 0,
    }
}

fn style(terms: Terms, turn: Turn) -> Style {
    Style {
        terms,
        turn,
        ..Style::default()
    }
}

fn written(plan: &CapPlan, style: Style, sleeve: Sleeve) -> String {
    let tube = tube(plan);
    let text = write(&SleeveText {
        plan,
        tube: Some(&tube),
        cuff: None,
        style,
        sleeve,
    });
    let sentences = text.sentences();
    let (knitted, diagnostics) = knit_sentences(&sentences);
    assert_eq!(diagnostics, [], "{}", sentences.join("\n"));
    assert_eq!(
        prove(plan, (Some(&tube), None), style, sleeve, &knitted),
        []
    );
    sentences.join("\n")
}

/// Source: the counts of the worked example, by hand: 17 + 2 (25 - 2) + 8 = 71;
/// 1 + 3 + 9 + 2 + 1 + 1 = 17 turn pairs; 6 + 9 + 4 + 2 + 4 = 25 stitches taken a side.
#[test]
fn the_example_has_the_counts_worked_by_hand() {
    let text = written(&example(), style(Terms::Us, Turn::Wrap), Sleeve::Both);
    for counts in [
        "[6 rows, 29 worked, 19 waiting each side]",
        "[18 rows, 47 worked, 10 waiting each side]",
        "[4 rows, 51 worked, 6 waiting each side]",
        "[2 rows, 55 worked, 4 waiting each side]",
        "[2 rows, 63 worked, 0 waiting each side]",
        "[17 turn pairs, 71 sts, 4 base sts before the marker, 4 after it]",
    ] {
        assert!(text.contains(counts), "{counts} in\n{text}");
    }
    insta::assert_snapshot!("example_wrap_us", text);
}

#[test]
fn the_example_in_german_short_rows_and_uk_terms() {
    let text = written(&example(), style(Terms::Uk, Turn::German), Sleeve::Both);
    insta::assert_snapshot!("example_german_uk", text);
}

#[test]
fn a_saddle_whose_front_and_back_differ() {
    let left = written(&saddle(), style(Terms::Us, Turn::Wrap), Sleeve::Left);
    insta::assert_snapshot!("saddle_wrap_left", left);
    let right = written(&saddle(), style(Terms::Us, Turn::German), Sleeve::Right);
    insta::assert_snapshot!("saddle_german_right", right);
}

/// A left-handed knitter goes round the left sleeve as a right-handed one goes round the right:
/// only the edge where the pick-up starts is named otherwise.
#[test]
fn hands_are_mirror_images() {
    let left_hand = Style {
        hand: Hand::Left,
        ..Style::default()
    };
    let left = written(&saddle(), left_hand, Sleeve::Left);
    let right = written(&saddle(), Style::default(), Sleeve::Right);
    // The wearer's front is the front for both; only the sleeve's name is another.
    assert_eq!(left, right);
}

/// The other usual decrease at a turn, for both turns, in the terms of both countries.
#[test]
fn decreases_worked_with_the_next_stitch() {
    for (name, terms, turn) in [
        ("saddle_next_wrap", Terms::Us, Turn::Wrap),
        ("saddle_next_german", Terms::Uk, Turn::German),
    ] {
        let next = Style {
            decrease: TurnDecrease::Next,
            underarm: Underarm::Live,
            ..style(terms, turn)
        };
        insta::assert_snapshot!(name, written(&saddle(), next, Sleeve::Left));
    }
}
