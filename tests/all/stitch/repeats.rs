//! Whole repeats at the upper arm: taken while they are worth their width, said with their price.

use crate::common::figures::case_file;
use capwright::case::read_case;
use capwright::convert;
use capwright::convert::SizeConversion;
use capwright::diagnostic::Level;

/// Dunlin Flats, with another ground and with what is said of the repeat.
fn converted(ground: &str, repeat: &str) -> SizeConversion {
    let text = std::fs::read_to_string("cases/dunlin-texture.toml").unwrap();
    let (head, tail) = text.split_once("rows = \"\"\"\n").unwrap();
    let (_, tail) = tail.split_once("\"\"\"\n").unwrap();
    let text =
        format!("{head}rows = \"{ground}\"\n{tail}").replace("repeat = { multiple = 8 }", repeat);
    let (case, said) = read_case(&text);
    let case = case.unwrap_or_else(|| panic!("{said:?}"));
    convert(&case, None).unwrap().sizes.remove(0)
}

/// Two rows that differ: no rib.
fn ground(width: usize) -> String {
    format!("{}\\n{}p", "k".repeat(width), "k".repeat(width - 1))
}

fn said(size: &SizeConversion, code: &str) -> Option<String> {
    let mut found = size.findings.iter().filter(|d| d.code.id == code);
    found.next().map(|d| d.message.clone())
}

/// By brute force over all counts: the nearest one costs the square of what half the arm is off, a part of a repeat
/// a quarter of a square centimetre more (half an arm that is 5 mm off: the arm is a centimetre off).
#[test]
fn whole_repeats_are_taken_while_the_arm_is_no_centimetre_off_for_them() {
    let mut taken = 0;
    for width in [2, 3, 5, 7, 8, 11, 14, 17, 20, 23, 29, 40] {
        let size = converted(&ground(width), "");
        let count = size.fit.plan.upper_arm().count() as usize;
        let stitch_cm = size.gauge.tube.stitch_width().to_cm();
        let wanted_cm = size.old.wanted_upper_arm().to_cm();
        let price = |count: usize| {
            let half_cm = (count as f64 * stitch_cm - wanted_cm) / 2.0;
            half_cm * half_cm
                + if count.is_multiple_of(width) {
                    0.0
                } else {
                    0.25
                }
        };
        let best = (1..200).map(price).fold(f64::INFINITY, f64::min);
        assert!(price(count) < best + 1e-9, "{width}: {count}");
        let nearest = (wanted_cm / stitch_cm).round() as usize;
        let open = said(&size, "stitch-repeat-open").is_some();
        assert_eq!(open, !count.is_multiple_of(width), "{width}: {count}");
        let told = said(&size, "stitch-whole-repeats");
        assert_eq!(
            told.is_some(),
            count != nearest,
            "{width}: {count}, {told:?}"
        );
        if let Some(told) = told {
            taken += 1;
            let repeats = count / width;
            assert!(
                told.contains(&format!(
                    "has {count} sts, {repeats} whole repeats of {width}"
                )) && told.contains(&format!("it would have {nearest}.")),
                "{told}"
            );
            // What it says of the other cap is that other cap's: the case that asks for any count has it.
            let free = converted(&ground(width), "repeat = { multiple = 1 }");
            assert_eq!(free.fit.plan.upper_arm().count() as usize, nearest);
            let area = format!("{:.1} %", free.fit.measures.area_error_pct.abs());
            let said = [
                format!("is {area} either way"),
                format!("instead of {area}"),
            ];
            assert!(
                said.iter().any(|said| told.contains(said)),
                "{told}: {area}"
            );
        }
    }
    assert!(taken > 2, "{taken}");
}

#[test]
fn a_rib_and_a_case_that_names_its_repeat_are_left_alone() {
    let any = converted(&ground(8), "repeat = { multiple = 1 }");
    for size in [
        converted("kppk", ""),
        converted("ppppkkkk", ""),
        any.clone(),
    ] {
        assert_eq!(said(&size, "stitch-whole-repeats"), None);
        assert_eq!(size.fit.plan.upper_arm(), any.fit.plan.upper_arm());
    }
    let twelve = converted(&ground(8), "repeat = { multiple = 12 }");
    assert_eq!(twelve.fit.plan.upper_arm().count() % 12, 0);
    // The case as it is names its repeat, too.
    assert!(case_file("dunlin-texture").contains("\nrepeat = { multiple = 8 }\n"));
}

/// What is written already is not advised to be written; an arm that is off by more than a centimetre is no note.
#[test]
fn a_repeat_that_is_asked_for_and_does_not_fit_says_so() {
    let size = converted("kkkpppp", "repeat = { multiple = 30 }");
    let of = |code: &str| size.findings.iter().find(|d| d.code.id == code);
    let open = of("stitch-repeat-open").unwrap();
    assert!(!open.next.contains("Write repeat"), "{}", open.next);
    assert!(
        open.next.contains("asks for a multiple of 30"),
        "{}",
        open.next
    );
    assert!(open.next.contains("multiple = 7 }"), "{}", open.next);
    let arm = of("upper-arm-rounded").unwrap();
    assert_eq!(arm.level, Level::Warning, "{}", arm.message);
}
