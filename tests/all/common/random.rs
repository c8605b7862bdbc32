//! Random cases, as a person would write them.
#![allow(dead_code, reason = "each test uses its own part")]

use proptest::prelude::*;

/// What a random cap is made of: all the numbers of its case.
#[derive(Clone, Debug)]
pub(crate) struct Numbers {
    gauge: (u32, u32),
    drift_pct: i32,
    underarm: u32,
    /// Decreases on every row, every other row, every row again, every fourth row first.
    decreases: (u32, u32, u32, u32),
    steps: (u32, u32),
    last: u32,
    ease_pct: i32,
    front_longer: u32,
    style: (bool, bool, bool),
    live: Option<u32>,
}

/// Random numbers of a case.
pub(crate) fn numbers() -> impl Strategy<Value = Numbers> {
    let gauge = (14u32..30).prop_flat_map(|s| (Just(s), s * 125 / 100..s * 150 / 100));
    let decreases = (0u32..6, 4u32..18, 0u32..4, 0u32..3);
    let live = prop_oneof![3 => Just(None), 1 => (6u32..14).prop_map(Some)];
    (
        (gauge, -6..7i32, 2u32..8, decreases),
        ((1u32..4, 1u32..4), 8u32..20, -2..8i32, 0u32..6),
        (any::<(bool, bool, bool)>(), live),
    )
        .prop_map(
            |(
                (gauge, drift_pct, underarm, decreases),
                (steps, last, ease_pct, front_longer),
                (style, live),
            )| {
                Numbers {
                    gauge,
                    drift_pct,
                    underarm,
                    decreases,
                    steps,
                    last,
                    ease_pct,
                    front_longer,
                    style,
                    live,
                }
            },
        )
}

/// The cap's lines.
fn lines_text(n: &Numbers) -> String {
    let (every, other, again, fourth) = n.decreases;
    let mut lines = format!(
        "Bind off {} sts at the beginning of the next 2 rows.\n",
        n.underarm
    );
    let mut say = |times: u32, words: String| {
        if times > 0 {
            lines.push_str(&words);
        }
    };
    say(
        every,
        format!("Decrease 1 st each end of the next {every} rows.\n"),
    );
    say(
        fourth,
        format!(
            "Work 3 rows even, then decrease 1 st each end of the next row. Repeat the last 4 rows {} more times.\n",
            fourth.saturating_sub(1)
        ),
    );
    say(
        other,
        format!(
            "Work 1 row even, then decrease 1 st each end of the next row. Repeat the last 2 rows {} more times.\n",
            other.saturating_sub(1)
        ),
    );
    say(
        again,
        format!("Decrease 1 st each end of the next {again} rows.\n"),
    );
    say(
        n.steps.1,
        format!(
            "Bind off {} sts at the beginning of the next {} rows.\n",
            n.steps.0,
            2 * n.steps.1
        ),
    );
    say(
        1,
        format!(
            "Bind off the remaining {} sts.
",
            n.last
        ),
    );
    lines
}

/// The case as a person would write it.
pub(crate) fn case_text(n: &Numbers) -> String {
    let (every, other, again, fourth) = n.decreases;
    let shaped = 2 * (every + other + again + fourth) + 2 * n.steps.0 * n.steps.1;
    let stitches = n.last + shaped + 2 * n.underarm;
    let (s, r) = (10.0 / f64::from(n.gauge.0), 10.0 / f64::from(n.gauge.1));
    let rows = 2 + every + 4 * fourth + 2 * other + again + 2 * n.steps.1;
    // About the edge of the cap: the diagonal from underarm to top, the armhole a little shorter.
    let (x, y) = (f64::from(shaped / 2) * s, f64::from(rows) * r);
    let curve = 1.05 * (x * x + y * y).sqrt() + f64::from(n.last) * s / 2.0;
    let edge = curve / (1.0 + f64::from(n.ease_pct) / 100.0);
    let longer = f64::from(n.front_longer) * 0.2;
    let underarm = f64::from(n.underarm - 1) * s;
    let drift = 1.0 + f64::from(n.drift_pct) / 100.0;
    let lines = lines_text(n);
    let live = n
        .live
        .map(|live| format!("[shoulder]\nlive_stitches = {live}\nextra_each_side = 1\n"));
    format!(
        "title = \"random\"\nunits = \"cm\"\n\
         [gauge.pattern]\nstitches = {0}\nrows = {1}\n[gauge.flat]\nstitches = {0}\nrows = {1}\n\
         [gauge.round]\nstitches = {2:.2}\nrows = {3:.2}\n\
         [sleeve]\nstitches = {stitches}\ncap = \"\"\"\n{lines}\"\"\"\ncuff_stitches = {4}\nlength = 40\n\
         [armhole.front]\nedge = {5:.2}\nunderarm = {underarm:.2}\ndepth = {6:.2}\n\
         [armhole.back]\nedge = {edge:.2}\nunderarm = {underarm:.2}\ndepth = {7:.2}\n{8}\
         [wording]\nterms = \"{9}\"\nturn = \"{10}\"\nhand = \"{11}\"\n",
        n.gauge.0,
        n.gauge.1,
        f64::from(n.gauge.0) * drift,
        f64::from(n.gauge.1) * drift,
        stitches * 6 / 10,
        edge + longer,
        (edge + longer) * 0.96,
        edge * 0.96,
        live.unwrap_or_default(),
        if n.style.0 { "us" } else { "uk" },
        if n.style.1 { "wrap" } else { "german" },
        if n.style.2 { "right" } else { "left" },
    )
}
