//! Random wishes through the whole job: adapted, fitted, certified, written and knitted back, or refused
//! with a reason.

use capwright::adapt::OutlineStatus;
use capwright::case::read_case;
use capwright::convert::convert;
use capwright::measure::Units;

/// A fixed generator (`SplitMix64`): the same cases in every run.
struct Random(u64);

impl Random {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        low + (high - low) * ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

const OLD_CAP: &str = r#"stitches = 70
cap = """
Bind off 5 sts at the beginning of the next 2 rows.
Decrease 1 st each end of the next 3 rows, then every other row 11 times, then the next 3 rows.
Bind off 3 sts at the beginning of the next 4 rows.
Bind off the remaining 14 sts.
"""
"#;

fn case_text(random: &mut Random, drafted: bool) -> String {
    let gauge = random.between(16.0, 26.0);
    let rows = gauge * random.between(1.3, 1.45);
    let round = gauge * random.between(0.97, 1.05);
    let edge = random.between(17.0, 22.0);
    let depth = edge * random.between(0.88, 0.96);
    let underarm = random.between(1.5, 3.5);
    let arm = if drafted {
        random.between(28.0, 40.0)
    } else {
        70.0 / gauge * 10.0 * random.between(0.93, 1.08)
    };
    let ease = random.between(0.0, 4.0);
    let cap = if drafted { "" } else { OLD_CAP };
    format!(
        "title = \"Random\"\nunits = \"cm\"\n[gauge.pattern]\nstitches = {gauge:.1}\nrows = {rows:.1}\n\
         [gauge.flat]\nstitches = {gauge:.1}\nrows = {rows:.1}\n[gauge.round]\nstitches = {round:.1}\n\
         rows = {rows:.1}\n[sleeve]\n{cap}[armhole]\nedge = {edge:.1}\nunderarm = {underarm:.1}\n\
         depth = {depth:.1}\n[adapt]\nupper_arm = {arm:.1}\nease = \"{ease:.1} %\"\n"
    )
}

#[test]
fn every_adapted_cap_is_knitted_back_or_refused_for_a_reason() {
    let mut random = Random(7);
    let (mut knitted, mut refused) = (0, Vec::new());
    for n in 0..24 {
        let text = case_text(&mut random, n % 2 == 0);
        let (case, said) = read_case(&text);
        let case = case.unwrap_or_else(|| panic!("{said:?}\n{text}"));
        match convert(&case, None) {
            Ok(conversion) => {
                let size = &conversion.sizes[0];
                let adapted = size.old.adapted.as_ref().unwrap();
                let drafted = adapted.outline.status == OutlineStatus::Drafted;
                assert_eq!(drafted, n % 2 == 0);
                let stitch = size.gauge.tube.stitch_width();
                let off = size.fit.measures.upper_arm - adapted.outline.upper_arm;
                assert!(off.abs() <= stitch * 1.01, "{} {text}", Units::Cm.show(off));
                let row = size.gauge.cap.row_height();
                assert!(size.fit.measures.depth_error.abs() <= row * 3.01, "{text}");
                assert!(size.fit.measures.area_error_pct.abs() < 2.5, "{text}");
                knitted += 1;
            }
            Err(found) => {
                let worst = found.iter().find(|said| said.level.word() == "error");
                let worst = worst.expect("a refusal has an error");
                assert!(!worst.advice().is_empty());
                refused.push(worst.code.id);
            }
        }
    }
    assert!(knitted >= 16, "{knitted} knitted, {refused:?}");
}
