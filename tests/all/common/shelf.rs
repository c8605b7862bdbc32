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

/// How many stitches there are to work with.
#[derive(Clone, Copy)]
struct Scale {
    /// The least stitches over 10 cm, and by how many it may be more.
    stitches: (u32, u32),
    /// The arm of the first size in centimetres.
    arm_cm: u32,
    /// Bound off in two steps at each side of the top.
    step: u32,
}

/// Adults' sizes in the usual yarns.
const USUAL: Scale = Scale {
    stitches: (18, 10),
    arm_cm: 27,
    step: 3,
};

/// Children's sizes in bulky yarn: fitted in no time.
const BULKY: Scale = Scale {
    stitches: (11, 3),
    arm_cm: 20,
    step: 1,
};

/// Decreased on every row before the steps.
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
    text_of(number, sizes, USUAL)
}

/// The same in bulky yarn, for tests that are not about the fit.
pub fn bulky_case_text(number: u32, sizes: u32) -> String {
    text_of(number, sizes, BULKY)
}

fn text_of(number: u32, sizes: u32, scale: Scale) -> String {
    let mut numbers = Numbers(u64::from(number));
    let stitches = scale.stitches.0 + numbers.below(scale.stitches.1);
    let gauge = (stitches, stitches * 4 / 3 + numbers.below(3));
    let ease_pct = 1 + numbers.below(4);
    let arm_cm = scale.arm_cm + numbers.below(4);
    let grows_mm = 13 + numbers.below(6);
    let sizes: Vec<Size> = (0..sizes)
        .map(|i| {
            let arm_cm = f64::from(arm_cm) + f64::from(i * grows_mm) / 10.0;
            size(gauge, ease_pct, arm_cm, i, scale.step)
        })
        .collect();
    let drift = 1.0 + f64::from(numbers.below(7)) / 100.0;
    let german = numbers.below(2) == 0;
    let uk = numbers.below(2) == 0;
    written(number, (gauge, scale.step), drift, (german, uk), &sizes)
}

fn size(gauge: (u32, u32), ease_pct: u32, arm_cm: f64, i: u32, step: u32) -> Size {
    let (s, r) = (10.0 / f64::from(gauge.0), 10.0 / f64::from(gauge.1));
    let half = (arm_cm / s / 2.0).round() as u32 + 1;
    let underarm = gauge.0 / 5 + i / 3;
    let top = 2 * (gauge.0 * 3 / 10 + i / 4);
    let every = 3 + 2 * (i / 3);
    let shaped = half.saturating_sub(underarm + top / 2 + 2 * step);
    let other = shaped.saturating_sub(every + LAST).max(1);
    let stitches = top + 2 * (underarm + every + other + LAST + 2 * step);
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
    (gauge, step): ((u32, u32), u32),
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
         {off} {step} sts at the beginning of the next 4 rows.\n{off} the remaining {} sts.\n\"\"\"\n\
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
