//! An invented shelf of patterns: cases of several sizes, as many as wanted, the same in every run.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "helpers of tests; each test binary uses some of them"
)]

use std::fmt::Write as _;

/// The numbers of one size.
struct Size {
    underarm: u32,
    every: u32,
    other: u32,
    top: u32,
    stitches: u32,
    edge_cm: f64,
    underarm_cm: f64,
    depth_cm: f64,
    bust_cm: f64,
}

/// Bound off in two steps at each side of the top, and decreased on every row before them.
const STEP: u32 = 3;
const LAST: u32 = 3;

/// One number after another from a fixed start (`SplitMix64`: Steele, Lea and Flood, OOPSLA 2014).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, n: u32) -> u32 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % u64::from(n)) as u32
    }
}

/// The text of the case of this number, with so many sizes.
pub fn case_text(number: u32, sizes: u32) -> String {
    let mut numbers = Numbers(u64::from(number));
    let gauge = (18 + numbers.below(10), 24 + numbers.below(12));
    let ease_pct = 1 + numbers.below(4);
    let arm_cm = 27 + numbers.below(4);
    let grows_mm = 13 + numbers.below(6);
    let sizes: Vec<Size> = (0..sizes)
        .map(|i| {
            let arm_cm = f64::from(arm_cm) + f64::from(i * grows_mm) / 10.0;
            size(gauge, ease_pct, arm_cm, i)
        })
        .collect();
    let drift = 1.0 + f64::from(numbers.below(7)) / 100.0;
    let german = numbers.below(2) == 0;
    let uk = numbers.below(2) == 0;
    written(number, gauge, drift, (german, uk), &sizes)
}

fn size(gauge: (u32, u32), ease_pct: u32, arm_cm: f64, i: u32) -> Size {
    let (s, r) = (10.0 / f64::from(gauge.0), 10.0 / f64::from(gauge.1));
    let half = (arm_cm / s / 2.0).round() as u32 + 1;
    let underarm = gauge.0 / 5 + i / 3;
    let top = 2 * (gauge.0 * 3 / 10 + i / 4);
    let every = 3 + 2 * (i / 3);
    let shaped = half.saturating_sub(underarm + top / 2 + 2 * STEP);
    let other = shaped.saturating_sub(every + LAST).max(1);
    let stitches = top + 2 * (underarm + every + other + LAST + 2 * STEP);
    let rows = 2 + every + 2 * other + LAST + 4;
    let (x, y) = (
        f64::from(stitches / 2 - underarm - top / 2) * s,
        f64::from(rows - 2) * r,
    );
    let curve = 1.05 * (x * x + y * y).sqrt() + f64::from(top) * s / 2.0;
    let edge_cm = curve / (1.0 + f64::from(ease_pct) / 100.0);
    Size {
        underarm,
        every,
        other,
        top,
        stitches,
        edge_cm,
        underarm_cm: f64::from(underarm - 1) * s,
        depth_cm: edge_cm * 0.96,
        bust_cm: 78.0 + 5.0 * f64::from(i),
    }
}

fn written(
    number: u32,
    gauge: (u32, u32),
    drift: f64,
    (german, uk): (bool, bool),
    sizes: &[Size],
) -> String {
    let counts = |of: &dyn Fn(&Size) -> u32| listed(sizes.iter().map(|s| of(s).to_string()));
    let cms = |of: &dyn Fn(&Size) -> f64| listed(sizes.iter().map(|s| format!("{:.1}", of(s))));
    let off = if uk { "Cast off" } else { "Bind off" };
    let labels: Vec<String> = (1..=sizes.len()).map(|n| format!("\"{n}\"")).collect();
    let mut out = format!(
        "title = \"Invented shelf {number}\"\nunits = \"cm\"\nsizes = [{}]\n",
        labels.join(", ")
    );
    let _ = write!(
        out,
        "[gauge.pattern]\nstitches = {0}\nrows = {1}\n[gauge.flat]\nstitches = {0}\nrows = {1}\n\
         [gauge.round]\nstitches = {2:.2}\nrows = {3:.2}\n",
        gauge.0,
        gauge.1,
        f64::from(gauge.0) * drift,
        f64::from(gauge.1) * drift
    );
    let _ = write!(
        out,
        "[sleeve]\nstitches = \"{}\"\ncap = \"\"\"\n{off} {} sts at the beginning of the next 2 rows.\n\
         Decrease 1 st each end of the next {} rows, then every other row {} times, then the next {LAST} rows.\n\
         {off} {STEP} sts at the beginning of the next 4 rows.\n{off} the remaining {} sts.\n\"\"\"\n\
         cuff_stitches = \"{}\"\nlength = 44\n",
        counts(&|s| s.stitches),
        counts(&|s| s.underarm),
        counts(&|s| s.every),
        counts(&|s| s.other),
        counts(&|s| s.top),
        counts(&|s| s.stitches * 6 / 10),
    );
    let _ = write!(
        out,
        "[armhole]\nedge = \"{}\"\nunderarm = \"{}\"\ndepth = \"{}\"\n\
         [body]\ntable = \"woman\"\nbust = \"{}\"\n[wording]\nterms = \"{}\"\nturn = \"{}\"\n",
        cms(&|s| s.edge_cm),
        cms(&|s| s.underarm_cm),
        cms(&|s| s.depth_cm),
        cms(&|s| s.bust_cm),
        if uk { "uk" } else { "us" },
        if german { "german" } else { "wrap" },
    );
    out
}

/// `60 (64, 68)`.
fn listed(numbers: impl Iterator<Item = String>) -> String {
    let numbers: Vec<String> = numbers.collect();
    match numbers.split_first() {
        Some((first, rest)) if !rest.is_empty() => format!("{first} ({})", rest.join(", ")),
        Some((first, _)) => first.clone(),
        None => String::new(),
    }
}
