//! Where there is no cap, the changes that are named do make one, and smaller ones do not.
//!
//! Checked by fitting again: the fit itself is held against brute force and general solvers elsewhere.

use crate::fit_oracle::cases::{Kind, case};
use crate::fit_oracle::upper_arm;
use capwright::fit::{Problem, fit};

const KIND: Kind = Kind {
    pairs: (4, 7),
    moves: (3, 5),
    alike: false,
    fixed_crown: false,
    gap: 1.5,
};

/// The number before or after these words in a sentence.
fn number(text: &str, words: &str, before: bool) -> Option<f64> {
    let at = text.find(words)?;
    let digits = |c: char| c.is_ascii_digit() || c == '.';
    let word = if before {
        text[..at]
            .split(' ')
            .rev()
            .find(|word| word.starts_with(|c: char| c.is_ascii_digit()))?
    } else {
        text[at + words.len()..]
            .split([' ', ';'])
            .find(|word| !word.is_empty())?
    };
    word.trim_end_matches('.')
        .trim_matches(|c| !digits(c))
        .parse()
        .ok()
}

fn with_arm(problem: &Problem<'_>, stitches: f64) -> bool {
    let width = problem.tube_gauge.stitch_width() * stitches;
    fit(&Problem {
        upper_arm: width,
        ..problem.clone()
    })
    .is_ok()
}

fn with_gap(problem: &Problem<'_>, gap: f64) -> bool {
    let mut other = problem.clone();
    other.wishes.gap_limit = gap;
    fit(&other).is_ok()
}

#[test]
fn what_is_named_helps_and_less_does_not() {
    let (mut infeasible, mut arms, mut gaps) = (0, 0, 0);
    for n in 0..90 {
        let case = case(KIND, n);
        let problem = case.problem();
        let Err(finding) = fit(&problem) else {
            continue;
        };
        infeasible += 1;
        let next = finding.advice();
        let now = f64::from(upper_arm(&problem));
        let Some((_, named)) = next.split_once("makes a cap possible: ") else {
            continue;
        };
        for (words, sign) in [
            ("more at the upper arm", 1.0),
            ("fewer at the upper arm", -1.0),
        ] {
            if let Some(change) = number(named, words, true) {
                arms += 1;
                assert!(with_arm(&problem, now + sign * change), "case {n}: {next}");
                for less in 1..change as u32 {
                    let other = now + sign * f64::from(less);
                    let allowed = problem
                        .repeat
                        .allows(capwright::measure::Stitches(other as u32));
                    let same = f64::from(upper_arm(&Problem {
                        upper_arm: problem.tube_gauge.stitch_width() * other,
                        ..problem.clone()
                    }));
                    if allowed && (same - other).abs() < 0.5 {
                        assert!(
                            !with_arm(&problem, other),
                            "case {n}: {less} is enough: {next}"
                        );
                    }
                }
            }
        }
        if let Some(gap) = number(named, "fit.gap_limit = ", false) {
            gaps += 1;
            assert!(with_gap(&problem, gap), "case {n}: {next}");
            assert!(
                !with_gap(&problem, (gap - 0.1).max(problem.wishes.gap_limit)),
                "case {n}: {next}"
            );
        }
    }
    assert!(
        infeasible >= 10 && arms >= 5 && gaps >= 1,
        "{infeasible} {arms} {gaps}"
    );
}
