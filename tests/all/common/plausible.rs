//! Random cases such as people have: any yarn, any size, saddles, tight and wide cuffs, repeats,
//! adapted caps, all words. Not all of them can be knitted; none may bring the program to blame
//! itself.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::write_with_newline,
    reason = "helpers of tests; each test binary uses some of them"
)]

use std::fmt::Write as _;

/// One number after another from a fixed start (`SplitMix64`: Steele, Lea and Flood, OOPSLA 2014).
pub struct Numbers(pub u64);

impl Numbers {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn within(&mut self, from: u32, to: u32) -> u32 {
        let span = u64::from(to - from) + 1;
        from + u32::try_from(self.next() % span).unwrap_or_default()
    }

    fn one_in(&mut self, n: u32) -> bool {
        self.within(1, n) == 1
    }

    fn pick<'a>(&mut self, words: &[&'a str]) -> &'a str {
        let last = u32::try_from(words.len() - 1).unwrap_or_default();
        words[self.within(0, last) as usize]
    }
}

/// A cap in whole stitches, one size.
struct Cap {
    underarm: u32,
    every: u32,
    other: u32,
    step: u32,
    top: u32,
    stitches: u32,
    rows: u32,
}

fn cap(numbers: &mut Numbers, gauge: (f64, f64), arm_cm: f64, least_every: u32) -> Cap {
    let mut half = (arm_cm * gauge.0 / 20.0) as u32;
    half = half.max(9);
    let top = 2 * ((half / 5).max(1) + numbers.within(0, 2));
    let underarm = (half / 8).max(1) + numbers.within(0, 2);
    let step = numbers.within(1, 3);
    let shaped = half.saturating_sub(underarm + top / 2 + 2 * step).max(3);
    // In a set each clause holds for every size.
    let every = numbers.within(least_every, shaped / 2);
    let other = shaped - every;
    Cap {
        underarm,
        every,
        other,
        step,
        top,
        stitches: top + 2 * (underarm + every + other + 2 * step),
        rows: 2 + every + 2 * other + 4,
    }
}

/// One plausible case; the same number gives the same text.
pub fn case_text(number: u64) -> String {
    let mut numbers = Numbers(number.wrapping_mul(0x5851_f42d_4c95_7f2d) ^ 0x1234_5678);
    let n = &mut numbers;
    let gauge_st = f64::from(n.within(18, 72)) / 2.0;
    let gauge_rows = (gauge_st * f64::from(n.within(115, 160)) / 100.0).round();
    let first_arm = f64::from(n.within(14, 46));
    let sizes = if n.one_in(4) { n.within(2, 5) } else { 1 };
    let (s, r) = (10.0 / gauge_st, 10.0 / gauge_rows);
    let caps: Vec<Cap> = (0..sizes)
        .map(|i| {
            cap(
                n,
                (gauge_st, gauge_rows),
                first_arm + 2.5 * f64::from(i),
                u32::from(sizes > 1),
            )
        })
        .collect();
    let mut out = format!("title = \"Invented {number}\"\nunits = \"cm\"\n");
    if sizes > 1 {
        let labels: Vec<String> = (0..sizes)
            .map(|i| format!("\"{} cm\"", 80 + 8 * i))
            .collect();
        let _ = writeln!(out, "sizes = [{}]", labels.join(", "));
    }
    gauges(n, (gauge_st, gauge_rows), &mut out);
    let uk = n.one_in(2);
    let off = if uk { "Cast off" } else { "Bind off" };
    let each = |of: &dyn Fn(&Cap) -> u32| listed(caps.iter().map(|c| of(c).to_string()));
    let _ = write!(
        out,
        "[sleeve]\nstitches = \"{}\"\nseam_stitches = {}\ncap = \"\"\"\n\
         {off} {} sts at the beginning of the next 2 rows.\n",
        each(&|c| c.stitches),
        n.within(0, 1),
        each(&|c| c.underarm)
    );
    if caps.iter().all(|c| c.every > 0) {
        let _ = writeln!(
            out,
            "Decrease 1 st each end of the next {} rows.",
            each(&|c| c.every)
        );
    }
    let _ = write!(
        out,
        "Decrease 1 st each end of every other row {} times.\n\
         {off} {} sts at the beginning of the next 4 rows.\n{off} the remaining {} sts.\n\"\"\"\n",
        each(&|c| c.other),
        each(&|c| c.step),
        each(&|c| c.top)
    );
    if !n.one_in(5) {
        let tight = n.within(0, 6);
        let cuff = |c: &Cap| match tight {
            0 => 4,
            1 => 5,
            2 => c.stitches + 10,
            _ => (c.stitches * (3 + tight) / 10).max(3),
        };
        let _ = write!(out, "cuff_stitches = \"{}\"\n", each(&cuff));
        let _ = writeln!(out, "length = {}", n.within(8, 52));
    }
    if n.one_in(6) {
        let _ = writeln!(
            out,
            "repeat = {{ multiple = {}, plus = {} }}",
            n.within(2, 8),
            n.within(0, 2)
        );
    }
    armhole(n, &caps, (s, r), &mut out);
    wishes(n, &mut out);
    let _ = writeln!(
        out,
        "[wording]\nterms = \"{}\"\nturn = \"{}\"\nhand = \"{}\"",
        if uk { "uk" } else { "us" },
        n.pick(&["wrap", "german"]),
        n.pick(&["right", "left"])
    );
    out
}

fn gauges(n: &mut Numbers, (stitches, rows): (f64, f64), out: &mut String) {
    let _ = write!(
        out,
        "[gauge.pattern]\nstitches = {stitches}\nrows = {rows}\n"
    );
    for table in ["flat", "round"] {
        if n.one_in(5) {
            continue;
        }
        let drift = f64::from(n.within(93, 107)) / 100.0;
        let (st, ro) = (stitches * drift, rows * drift);
        let _ = writeln!(out, "[gauge.{table}]");
        if n.one_in(2) {
            let _ = write!(out, "stitches = {st:.1}\nrows = {ro:.1}\n");
        } else {
            let _ = write!(
                out,
                "stitches = [{st:.1}, {:.1}, {:.1}]\nrows = [{ro:.1}, {:.1}]\n",
                st + 0.5,
                st - 0.5,
                ro + 0.5
            );
        }
    }
}

fn armhole(n: &mut Numbers, caps: &[Cap], (s, r): (f64, f64), out: &mut String) {
    let ease = f64::from(n.within(98, 108)) / 100.0;
    let edge = |c: &Cap| {
        let x = f64::from(c.stitches / 2 - c.underarm - c.top / 2) * s;
        let y = f64::from(c.rows - 2) * r;
        (1.05 * (x * x + y * y).sqrt() + f64::from(c.top) * s / 2.0) / ease
    };
    let cms = |of: &dyn Fn(&Cap) -> f64| listed(caps.iter().map(|c| format!("{:.1}", of(c))));
    let _ = write!(
        out,
        "[armhole]\nedge = \"{}\"\nunderarm = \"{}\"\ndepth = \"{}\"\n",
        cms(&edge),
        cms(&|c| f64::from(c.underarm) * s),
        cms(&|c| edge(c) * 0.95)
    );
    if n.one_in(6) {
        let live = match n.within(0, 3) {
            0 => 0,
            1 => n.within(1, 4),
            _ => caps.iter().map(|c| c.top).min().unwrap_or(2),
        };
        let _ = write!(
            out,
            "[shoulder]\nlive_stitches = {live}\nextra_each_side = {}\n",
            n.within(0, 3)
        );
    }
    if n.one_in(3) {
        let _ = writeln!(
            out,
            "[body]\ntable = \"woman\"\nbust = {}",
            n.within(76, 124)
        );
    }
}

fn wishes(n: &mut Numbers, out: &mut String) {
    if n.one_in(8) {
        out.push_str("[adapt]\n");
    }
    if n.one_in(3) {
        out.push_str("[fit]\n");
        if n.one_in(2) {
            let _ = writeln!(out, "runs = {}", n.within(1, 8));
        }
        if n.one_in(2) {
            let _ = writeln!(out, "choice = {}", n.within(1, 2));
        }
        if n.one_in(3) {
            let _ = writeln!(out, "ease = \"{}\"", n.pick(&["even", "shoulder"]));
        }
        if n.one_in(4) {
            let _ = writeln!(out, "base_tolerance = {}", n.within(0, 3));
        }
    }
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
