//! Rows in pattern: what is written is what lies there, and every slip is noticed from the text alone.

use crate::common::plans as common;
use capwright::case::Style;
use capwright::diagnostic::Level;
use capwright::needle::{Knitted, knit_sentences, prove_pattern};
use capwright::plan::{CapPlan, Sleeve};
use capwright::stitch::{Chart, Drawn, Layout, Legend, Panel, PanelPlace, Pattern, Stitch, Worked};
use capwright::wording::{SleeveText, in_pattern, write};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

fn legend() -> Legend {
    let named = |words: &str| Stitch::named(words).unwrap();
    Legend::from([
        ('L', named("2/2 left")),
        ('R', named("1/2 right purl")),
        ('t', named("twisted")),
        ('s', named("slip")),
        ('v', named("s2kp2")),
        ('x', named("sk2p")),
        ('y', named("k2tog tbl")),
        ('z', named("p3tog")),
    ])
}

fn chart(text: &str) -> Chart {
    Chart::parse(text, &legend()).unwrap_or_else(|faults| panic!("{faults:?}"))
}

const GROUNDS: [&str; 8] = [
    "k",
    "ppkk",
    "kp\npk",
    "kkkkk\nkovok",
    "kkkkk\nkoxok\nkkkkk\nkoykk",
    "kkkkkk\nkozokk",
    "kktp\nsktp\nkktp\nkkkp",
    "kkkkkkk\nLLLLRRR",
];

fn pattern() -> impl Strategy<Value = Pattern> {
    let panel = prop::option::of((
        prop::sample::select(vec!["ktk", "LLLL\nkkkk", "ko/\n\\ok"]),
        0u32..4,
        any::<bool>(),
    ));
    (prop::sample::select(GROUNDS.to_vec()), panel, any::<bool>()).prop_map(
        |(ground, panel, up)| {
            let worked = if up {
                Worked::FromCuff
            } else {
                Worked::FromShoulder
            };
            let panels = panel.into_iter().map(|(text, n, centred)| Panel {
                name: "strip".to_owned(),
                drawn: Drawn::new(chart(text), worked, None),
                place: if centred {
                    PanelPlace::Crown
                } else {
                    PanelPlace::FromCentre(n)
                },
            });
            Pattern {
                panels: panels.collect(),
                ..Pattern::plain("ground", Drawn::new(chart(ground), worked, None), worked)
            }
        },
    )
}

fn text_of(
    plan: &CapPlan,
    pattern: &Pattern,
    style: Style,
    sleeve: Sleeve,
) -> Option<(Layout, String)> {
    let (layout, _) = Layout::new(pattern, plan, sleeve, style.hand).ok()?;
    let input = SleeveText {
        plan,
        tube: None,
        cuff: None,
        style: Style {
            in_pattern: true,
            ..style
        },
        sleeve,
    };
    let mut text = write(&input);
    text.sections
        .push(in_pattern(&layout, pattern, style.hand).section);
    Some((layout, text.sentences().join("\n")))
}

fn knit(text: &str) -> (Knitted, bool) {
    let (knitted, said) = knit_sentences(&[text.to_owned()]);
    (knitted, said.iter().any(|d| d.level == Level::Error))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(80))]

    #[test]
    fn what_is_written_is_knitted_back(plan in common::plan(), pattern in pattern(), style in common::style()) {
        for &sleeve in common::sleeves(&plan) {
            let Some((layout, text)) = text_of(&plan, &pattern, style, sleeve) else { continue };
            let (knitted, said) = knit_sentences(std::slice::from_ref(&text));
            let errors: Vec<_> = said.iter().filter(|d| d.level == Level::Error).collect();
            prop_assert!(errors.is_empty(), "{:?}\n{}", errors, text);
            prop_assert_eq!(prove_pattern(&layout, &knitted), vec![]);
        }
    }

    /// Every row gives back the stitches it takes, wherever a turn cuts it.
    #[test]
    fn counts_close_in_every_row(plan in common::plan(), pattern in pattern()) {
        let Ok((layout, _)) = Layout::new(&pattern, &plan, Sleeve::Left, capwright::plan::Hand::Right) else { return Ok(()) };
        for row in layout.rows() {
            let takes: u32 = row.cells.iter().filter(|c| c.part == 0).map(|c| c.stitch.takes()).sum();
            prop_assert_eq!(takes as usize, row.cells.len(), "row {}", row.row);
        }
    }
}

/// All ways to spoil one line: a number one off, a stitch for another.
fn spoilt(line: &str) -> Vec<String> {
    let mut out = Vec::new();
    let digit = |c: char| c.is_ascii_digit();
    let mut at = 0;
    while let Some(from) = line[at..].find(digit).map(|i| at + i) {
        let to = line[from..]
            .find(|c| !digit(c))
            .map_or(line.len(), |i| from + i);
        let n: u32 = line[from..to].parse().unwrap();
        for other in [n.checked_sub(1), Some(n + 1)].into_iter().flatten() {
            out.push(format!("{}{other}{}", &line[..from], &line[to..]));
        }
        at = to;
    }
    for (a, b) in [
        (" k", " p"),
        (" p", " k"),
        ("(k", "(p"),
        ("(p", "(k"),
        ("LC", "RC"),
        ("RPC", "RC"),
        ("twice", "3 times"),
        ("wyib", "wyif"),
        (", sm", ""),
    ] {
        for (from, found) in line.match_indices(a) {
            let after = line[from + found.len()..].chars().next();
            let stitch = after.is_some_and(|c| c.is_ascii_digit()) || !a.starts_with([' ', '(']);
            if stitch {
                out.push(format!(
                    "{}{b}{}",
                    &line[..from],
                    &line[from + found.len()..]
                ));
            }
        }
    }
    out
}

/// From the text alone or, where that still closes, against the layout: no change of a number, a stitch or a
/// marker goes through, nor do two rows that change places.
#[test]
fn every_slip_is_noticed() {
    let mut runner = TestRunner::deterministic();
    let (mut slips, mut alone) = (0, 0);
    for _ in 0..12 {
        let (plan, pattern, style) = (common::plan(), pattern(), common::style())
            .new_tree(&mut runner)
            .unwrap()
            .current();
        if plan.turn_pairs() > 8 {
            continue;
        }
        let Some((layout, text)) = text_of(&plan, &pattern, style, Sleeve::Left) else {
            continue;
        };
        let lines: Vec<&str> = text.lines().collect();
        let from = lines
            .iter()
            .position(|line| *line == "ROWS IN PATTERN")
            .unwrap();
        let told = |line: &str| {
            line.starts_with("Row ")
                || line.starts_with("Round 1")
                || line.contains("epeat")
                || line.starts_with("Panel ")
        };
        for at in (from..lines.len()).filter(|at| told(lines[*at])) {
            for changed in spoilt(lines[at]) {
                let mut lines = lines.clone();
                lines[at] = &changed;
                let (knitted, objects) = knit(&lines.join("\n"));
                slips += 1;
                alone += usize::from(objects);
                assert!(
                    objects || !prove_pattern(&layout, &knitted).is_empty(),
                    "unnoticed: {changed}\nwas: {}\n{text}",
                    lines[at]
                );
            }
            if at + 1 < lines.len() && lines[at] != lines[at + 1] && told(lines[at + 1]) {
                let mut lines = lines.clone();
                lines.swap(at, at + 1);
                let (knitted, objects) = knit(&lines.join("\n"));
                assert!(
                    objects || !prove_pattern(&layout, &knitted).is_empty(),
                    "swapped: {}",
                    lines[at]
                );
            }
        }
    }
    assert!(slips > 1000, "only {slips} slips were tried");
    assert!(
        alone * 100 > slips * 95,
        "the text alone gives away {alone} of {slips}"
    );
}
