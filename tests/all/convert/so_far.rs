//! `[so_far]`: the tube from the round one is on, and what the work says.

use capwright::case::read_case;
use capwright::convert::{Conversion, convert};
use capwright::diagnostic::{Diagnostic, Level};
use capwright::measure::{Length, Units};
use capwright::needle::knit_sentences;

const CASE: &str = include_str!("../../../cases/tern-harbour.toml");

fn with(so_far: &str) -> String {
    format!("{CASE}\n[so_far]\n{so_far}\n")
}

fn converted(text: &str) -> Result<Conversion, Vec<Diagnostic>> {
    let (case, said) = read_case(text);
    convert(&case.unwrap_or_else(|| panic!("{text}\n{said:?}")), None)
}

fn said<'a>(found: &'a Conversion, code: &str) -> Vec<&'a str> {
    let all = found.sizes[0].findings.iter();
    let of = all.filter(|d| d.code.id == code);
    of.map(|d| d.message.as_str()).collect()
}

fn sentences(found: &Conversion) -> Vec<String> {
    let written = &found.sizes[0].written[0];
    assert!(written.knits_back);
    written.instructions.sentences()
}

/// Where nothing has changed, what is to come stays where it was, at every round.
#[test]
fn nothing_changed_leaves_what_is_to_come() {
    let plan = converted(CASE).unwrap().sizes[0].tube.clone().unwrap();
    for round in [1, 2, 30, 61, plan.rounds.count() - 1, plan.rounds.count()] {
        let past = plan
            .decrease_rounds
            .iter()
            .filter(|at| **at <= round)
            .count();
        let stitches = plan.upper_arm.count() - 2 * past as u32;
        let text = with(&format!("rounds = {round}\nstitches = {stitches}"));
        let found = converted(&text).unwrap();
        let tube = found.sizes[0].tube.as_ref().unwrap();
        assert_eq!((tube.rounds, tube.cuff), (plan.rounds, plan.cuff));
        let later = |rounds: &[u32]| -> Vec<u32> {
            rounds.iter().filter(|at| **at > round).copied().collect()
        };
        assert_eq!(later(&tube.decrease_rounds), later(&plan.decrease_rounds));
        sentences(&found);
    }
}

/// 60 rounds are worked and 65 stitches left of 75; then the cuff is to have 52 stitches of the old pattern
/// instead of 46, and the sleeve to be 2 inches shorter. The words begin at round 61 and every number in
/// them is held by another.
#[test]
fn another_cuff_and_length_from_round_sixty_on() {
    let text = with("rounds = 60\nstitches = 65")
        .replace("cuff_stitches = 46", "cuff_stitches = 52")
        .replace("length = 17.5", "length = 15.5");
    let found = converted(&text).unwrap();
    let all = sentences(&found);
    let at = all
        .iter()
        .position(|said| said.starts_with("Worked so far"))
        .unwrap();
    assert_eq!(
        all[at],
        "Worked so far: 60 rounds, the dec round in 5 of them. [60 rounds, 65 sts]"
    );
    // By hand: 15.5 in at 31.5 rows to 4 in are 122 rows, 121 rounds; 50 net stitches at 22 to 4 in are 9.09 in,
    // 52.3 at 23; of 51 and 53 the nearer is 53, six shaping rounds.
    let tube = found.sizes[0].tube.as_ref().unwrap();
    assert_eq!((tube.rounds.count(), tube.cuff.count()), (121, 53));
    assert_eq!(tube.decrease_rounds.len(), 5 + 6);
    assert!(all[at + 1..].iter().any(|said| said.ends_with("53 sts]")));
    for (from, to) in [
        ("60 rounds, the", "61 rounds, the"),
        ("in 5 of", "in 4 of"),
        ("[60 rounds, 65", "[60 rounds, 67"),
    ] {
        let changed: Vec<String> = all.iter().map(|said| said.replace(from, to)).collect();
        assert_ne!(changed, all);
        let (_, found) = knit_sentences(&changed);
        assert!(found.iter().any(|d| d.level == Level::Error), "{to}");
    }
}

/// The work is wider than its swatch: 75 stitches measure 13.6 in instead of 13.04, so 22.06 to 4 in; the cuff
/// of 8 in (44 net stitches at 22) is then 44 stitches, and of 43 and 45 the tie goes to neither but the nearer.
#[test]
fn the_rest_goes_by_the_gauge_of_the_work() {
    let found = converted(&with("upper_arm = 13.6")).unwrap();
    let notes = said(&found, "so-far-gauge");
    assert_eq!(notes.len(), 1);
    assert!(
        notes[0].contains("75 sts of the work measure 13.6 in: 22.1 over 4.0 in")
            && notes[0].contains("-4.1 %"),
        "{notes:?}"
    );
    let size = &found.sizes[0];
    let per_10cm = 10.0 * 75.0 / (13.6 * 2.54);
    assert!((size.gauge.tube.stitches_per_10cm() - per_10cm).abs() < 1e-9);
    let wanted = 8.0 * 2.54 * per_10cm / 10.0;
    let cuff = f64::from(size.tube.as_ref().unwrap().cuff.count());
    assert!((cuff - wanted).abs() <= 1.0, "{cuff} {wanted}");
    // Length: 30 rounds and the join's row measure 3.8 in, 31 rows: 32.6 to 4 in; 13.7 in are left.
    let found = converted(&with("rounds = 30\nstitches = 71\nlength = 3.8")).unwrap();
    let left = 13.7 / (3.8 / 31.0);
    let rounds = f64::from(found.sizes[0].tube.as_ref().unwrap().rounds.count());
    assert!((rounds - 30.0 - left).abs() <= 0.5, "{rounds} {left}");
    sentences(&found);
}

#[test]
fn a_tight_upper_arm_is_told() {
    let told = |width: f64| {
        let found = converted(&with(&format!("upper_arm = {width}"))).unwrap();
        let all = found.sizes[0].findings.iter();
        let mut of_work = all.filter(|d| d.message.contains("upper arm of the work"));
        of_work.any(|d| d.level == Level::Warning)
    };
    assert!(
        told(11.2),
        "an inch and a half under the arm of a bust of 36"
    );
    assert!(!told(13.5));
}

/// The tape is read to 3 mm either way: whatever the true gauge, the range holds it, and its ends are reached.
#[test]
fn the_range_of_a_measured_part_is_the_tapes() {
    use capwright::check::WorkGauge;
    for rows in [8.0, 16.0, 40.0] {
        for gauge in [15.0, 30.2, 44.0] {
            let truth = 10.0 * rows / gauge;
            for step in -10_i32..=10 {
                let read = truth + 0.03 * f64::from(step);
                let work = WorkGauge {
                    units: Units::Cm,
                    what: "rows",
                    count: rows,
                    measured: Length::cm(read),
                    read_to: Length::cm(0.3),
                    of_swatch_per_10cm: gauge,
                };
                let (low, high) = work.range_per_10cm();
                assert!(
                    low - 1e-9 <= gauge && gauge <= high + 1e-9,
                    "{rows} {gauge} {step}"
                );
                let at_end = (low - gauge).abs() < 1e-9 || (high - gauge).abs() < 1e-9;
                assert_eq!(at_end, step.abs() == 10);
            }
        }
    }
}

/// Sixteen rows at 30.5 to 4 in are 2.1 in; 2.0 in are 32 to 4 in, and the cap ends shorter by as much.
#[test]
fn eight_pairs_say_what_the_cap_comes_to() {
    let found = converted(&with("rows = 16\ndepth = 2.0\nwidth = 7.0")).unwrap();
    let depth = found.sizes[0].fit.measures.depth.to_cm() / 2.54;
    let notes = said(&found, "so-far-gauge");
    assert_eq!(notes.len(), 2, "{notes:?}");
    let above = depth * 30.5 / 4.0 - 2.0 * f64::from(found.sizes[0].fit.plan.turn_pairs());
    let per_4in = (16.0 + above) * 4.0 / 2.0;
    assert!(
        notes[0].contains(&format!("{per_4in:.1} over 4.0 in")),
        "{notes:?}"
    );
    let end = depth * 30.5 / per_4in;
    assert!(
        notes[0].contains(&format!("ends {end:.1} in deep")),
        "{notes:?}"
    );
    let far = converted(&with("rows = 16\ndepth = 3.2")).unwrap();
    assert_eq!(said(&far, "so-far-gauge-far").len(), 1);
}

#[test]
fn counts_on_the_needle_are_held_against_the_plan() {
    let plan = converted(CASE).unwrap().sizes[0].fit.plan.clone();
    let (crown, base) = (plan.crown.stitches.count(), plan.base().count());
    let flank = plan.front.picked_up().count();
    let all = plan.picked_up().count();
    let counts = |so_far: &str| {
        let found = converted(&with(so_far)).unwrap();
        said(&found, "so-far-counts").join("|")
    };
    let sections = |second: u32| {
        format!(
            "picked_up = {{ crown = {crown}, first = {flank}, base = {base}, second = {second} }}"
        )
    };
    assert_eq!(counts(&format!("picked_up = {all}")), "");
    assert_eq!(counts(&sections(flank)), "");
    assert!(counts(&format!("picked_up = {}", all + 3)).contains("3 too many"));
    assert!(counts(&sections(flank - 1)).contains("1 too few"));
    // After four pairs what waits is what the later moves take in.
    let left: u32 = plan.front.moves.iter().skip(3).map(|m| m.take).sum();
    assert_eq!(counts(&format!("rows = 8\nturned_at = {left}")), "");
    assert!(counts(&format!("rows = 8\nturned_at = {}", left + 1)).contains("After row 8"));
}

#[test]
fn what_cannot_be_so_is_refused() {
    for (so_far, code) in [
        ("", "missing-key"),
        ("rounds = 30", "missing-key"),
        ("length = 4", "missing-key"),
        ("depth = 2", "missing-key"),
        ("rounds = 0", "out-of-range"),
        ("rounds = 30.5\nstitches = 67", "wrong-type"),
        ("rounds = 30\nstitches = \"many\"", "wrong-type"),
        ("upper_arm = 90", "out-of-range"),
        ("rows = 16\ndepth = 0", "out-of-range"),
        ("rows = 15\ndepth = 2", "keys-clash"),
        ("rows = 16\nround = 3", "unknown-key"),
        ("picked_up = { crown = 13 }", "missing-key"),
        (
            "picked_up = { crown = 13, first = 27, base = 8, second = 27, third = 1 }",
            "unknown-key",
        ),
        ("picked_up = [13, 27]", "wrong-type"),
        ("rounds = 30\nstitches = 67\nsize = \"M\"", "keys-clash"),
    ] {
        let (case, said) = read_case(&with(so_far));
        assert!(case.is_none(), "{so_far}");
        assert!(said.iter().any(|d| d.code.id == code), "{so_far}: {said:?}");
    }
    let no_length = with("rounds = 30\nstitches = 67").replace("length = 17.5", "");
    assert!(
        read_case(&no_length)
            .1
            .iter()
            .any(|d| d.code.id == "keys-clash")
    );
    for (so_far, code) in [
        ("rounds = 30\nstitches = 66", "tube-state"),
        ("rounds = 3\nstitches = 69", "tube-state"),
        ("rows = 40", "so-far-beyond"),
    ] {
        let error = converted(&with(so_far)).unwrap_err();
        assert!(
            error.iter().any(|d| d.code.id == code),
            "{so_far}: {error:?}"
        );
    }
    let passed = converted(&with("rounds = 100\nstitches = 37")).unwrap();
    assert_eq!(said(&passed, "tube-past-cuff").len(), 1);
}

/// Of several sizes one is on the needles; the others are converted as if nothing were.
#[test]
fn only_the_size_that_is_named_is_under_way() {
    let set = include_str!("../../../cases/quillam-cardigan.toml");
    let (case, said) = read_case(&format!("{set}\n[so_far]\nupper_arm = 33\n"));
    assert!(case.is_none());
    assert!(said.iter().any(|d| d.code.id == "missing-key"), "{said:?}");
    let text = format!("{set}\n[so_far]\nsize = \"91 cm\"\nupper_arm = 33\n");
    let found = converted(&text).unwrap();
    let told: Vec<&str> = found
        .sizes
        .iter()
        .filter(|size| size.findings.iter().any(|d| d.code.id == "so-far-gauge"))
        .map(|size| size.old.size.as_str())
        .collect();
    assert_eq!(told, ["91 cm"]);
}
