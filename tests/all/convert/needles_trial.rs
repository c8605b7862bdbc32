//! At the needles, tried by hand: what is printed can be followed, what cannot be is refused, what is far off is said.

use capwright::case::read_case;
use capwright::check::Outcome;
use capwright::convert::{Conversion, SizeConversion, convert};
use capwright::diagnostic::{Diagnostic, Level};
use capwright::needle::knit_sentences;

const PLOVER: &str = include_str!("../../data/needles/plover.toml");

fn converted(so_far: &str) -> Result<SizeConversion, Vec<Diagnostic>> {
    converted_of(PLOVER, so_far)
}

fn converted_of(case: &str, so_far: &str) -> Result<SizeConversion, Vec<Diagnostic>> {
    let text = format!("{case}\n[so_far]\n{}\n", so_far.replace("; ", "\n"));
    let (case, said) = read_case(&text);
    let Some(case) = case else {
        return Err(said);
    };
    let Conversion { sizes, .. } = convert(&case, None)?;
    Ok(sizes.into_iter().next().unwrap())
}

fn found(so_far: &str) -> SizeConversion {
    converted(so_far).unwrap_or_else(|said| panic!("{so_far}: {said:?}"))
}

fn book() -> SizeConversion {
    let (case, said) = read_case(PLOVER);
    let found = convert(&case.unwrap_or_else(|| panic!("{said:?}")), None);
    found.unwrap().sizes.remove(0)
}

fn said(size: &SizeConversion, code: &str) -> String {
    let all = size.findings.iter().filter(|d| d.code.id == code);
    let words = all.map(|d| format!("{} -> {}", d.message, d.advice()));
    words.collect::<Vec<_>>().join("|")
}

fn refused(so_far: &str) -> String {
    let errors = converted(so_far).err().unwrap_or_default();
    let errors = errors.iter().filter(|d| d.level == Level::Error);
    let words = errors.map(|d| format!("{}: {}", d.code.id, d.message));
    words.collect::<Vec<_>>().join("|")
}

fn sentences(size: &SizeConversion) -> Vec<String> {
    assert!(size.written.iter().all(|written| written.knits_back));
    size.written[0].instructions.sentences()
}

/// A tube that is worked straight has no shaping that a count could come from, whichever side of the plan it lies on.
#[test]
fn a_straight_tube_has_no_shaping_that_a_count_came_from() {
    let straight = PLOVER.replace("cuff_stitches = 44\n", "");
    let joined = book().fit.plan.upper_arm().count();
    for (now, beside) in [(joined + 2, 2), (joined - 2, -2)] {
        let so_far = format!("rounds = 20; stitches = {now}");
        let size = converted_of(&straight, &so_far).unwrap();
        assert_eq!(size.tube.as_ref().unwrap().beside, beside);
        assert_ne!(said(&size, "so-far-counts"), "");
        let words = sentences(&size).join(" ");
        assert!(!words.contains("round in 1 of them"), "{words}");
    }
}

/// 20 cm of cuff at 21.5 to 10 cm are 43 stitches; from an even count 42 or 44. Whatever lies on the needle, the shaping
/// goes from there to the cuff, and every number of the sentence that says so is held by another.
#[test]
fn a_count_beside_the_plan_is_shaped_to_the_cuff() {
    let whole = book();
    let joined = whole.fit.plan.upper_arm().count();
    for (rounds, now) in [
        (20, joined + 2),
        (1, joined + 2),
        (1, joined - 2),
        (40, joined + 6),
    ] {
        let size = found(&format!("rounds = {rounds}; stitches = {now}"));
        let tube = size.tube.as_ref().unwrap();
        assert!((42..=44).contains(&tube.cuff.count()), "{rounds} {now}");
        assert_eq!(
            tube.decrease_rounds.len() as u32,
            (now - tube.cuff.count()) / 2
        );
        assert_eq!(tube.rounds, whole.tube.as_ref().unwrap().rounds);
        let told = said(&size, "so-far-counts");
        assert!(told.contains(&format!("goes on from {now}")), "{told}");
        assert_eq!(said(&size, "tube-past-cuff"), "");
        // The way back that is named is the plan again: at once, or a stitch a round where many are put right at each end.
        let each = now.abs_diff(joined) / 2;
        let to = rounds + if each > 2 { each } else { 1 };
        let again = found(&format!("rounds = {to}; stitches = {joined}"));
        assert!(told.contains(&format!("so_far.rounds = {to}, so_far.stitches = {joined}")));
        assert_eq!(said(&again, "so-far-counts"), "");
        let all = sentences(&size);
        let at = all
            .iter()
            .position(|s| s.starts_with("Worked so far"))
            .unwrap();
        let off = format!("{} sts", now.abs_diff(joined));
        assert!(all[at].contains(&off), "{}", all[at]);
        for (from, to) in [
            (off, "99 sts".to_owned()),
            (format!("{rounds} round"), "7 round".to_owned()),
        ] {
            let mut changed = all.clone();
            changed[at] = all[at].replacen(&from, &to, 1);
            let (_, faults) = knit_sentences(&changed);
            assert!(
                faults.iter().any(|d| d.level == Level::Error),
                "{}",
                changed[at]
            );
        }
    }
    let far = refused(&format!("rounds = 1; stitches = {}", joined + 20));
    assert!(far.contains("after 1 round are 20 away"), "{far}");
}

/// Arithmetic: the sleeve is 44 cm at 30 rows to 10 cm, 132 rows; 140 rounds and the join's row are 47 cm.
#[test]
fn a_sleeve_too_long_already_is_said() {
    let size = found("rounds = 140; stitches = 44");
    let told = said(&size, "tube-past-length");
    assert!(
        told.contains("47.0 cm from the underarm; 44.0 cm was wanted"),
        "{told}"
    );
    assert!(told.contains("3.0 cm too long"), "{told}");
    for fine in ["rounds = 131; stitches = 44", "rounds = 100; stitches = 50"] {
        assert_eq!(said(&found(fine), "tube-past-length"), "");
    }
    let short = found("rounds = 120; stitches = 44; length = 45.5");
    assert!(said(&short, "tube-past-length").contains("1.5 cm too long"));
}

/// The tube changes from the cap as the swatches do: 21.5 to 21 stitches, 30 to 29 rows.
#[test]
fn the_tube_follows_the_cap_that_was_measured() {
    let plan = book().fit.plan;
    let wanted = book().old.wanted_upper_arm().to_cm();
    for (rows, width) in [(16, 22.0), (16, 18.0), (36, 34.0)] {
        let size = found(&format!("rows = {rows}; width = {width}"));
        let (cap, tube) = (size.gauge.cap, size.gauge.tube);
        let change = tube.stitches_per_10cm() / cap.stitches_per_10cm();
        assert!((change - 21.5 / 21.0).abs() < 1e-9, "{change}");
        let between: u32 = plan.crown.stitches.count()
            + 2 * plan
                .front
                .moves
                .iter()
                .take(rows / 2 - 1)
                .map(|m| m.take - m.drop)
                .sum::<u32>();
        let per_10cm = f64::from(between) * 10.0 / width;
        assert!(
            (cap.stitches_per_10cm() - per_10cm).abs() < 1e-9,
            "{rows} {per_10cm}"
        );
        // A stitch of the tube is half a centimetre: the arm is as wide as wanted to within one, or it is said.
        let arm = f64::from(size.fit.plan.upper_arm().count()) / tube.stitches_per_10cm() * 10.0;
        let near = (arm - wanted).abs() <= 10.0 / tube.stitches_per_10cm();
        let told = said(&size, "so-far-rest");
        assert!(
            near || told.contains("upper arm wanted cannot be had"),
            "{arm} {wanted} {told}"
        );
        let told = said(&size, "so-far-gauge") + &said(&size, "so-far-gauge-far");
        assert!(
            told.contains("The tube goes by the cap's measures as well"),
            "{told}"
        );
    }
    // Where the tube was measured, that counts and nothing is carried over.
    let now = found("rows = 16; width = 22").fit.plan.upper_arm().count() - 4;
    let measured = found(&format!(
        "rows = 16; width = 22; rounds = 30; stitches = {now}; upper_arm = 36; length = 10.3"
    ));
    let joined = f64::from(measured.fit.plan.upper_arm().count());
    assert!((measured.gauge.tube.stitches_per_10cm() - joined / 3.6).abs() < 1e-9);
    assert!(!said(&measured, "so-far-gauge").contains("The tube goes by"));
    assert!(said(&measured, "so-far-joined").contains("from row 17 on"));
}

/// What is printed for a way back is put into the case and gives what was promised, with the gauge the work showed.
#[test]
fn the_way_back_can_be_followed() {
    let mut ripped = 0;
    for so_far in [
        "rows = 16; depth = 4.6",
        "rows = 16; depth = 4.6; width = 22",
        "rows = 36; width = 34; depth = 12.9",
        "rows = 16; depth = 4.8; picked_up = { crown = 19, first = 24, base = 10, second = 24 }",
        "rows = 20; depth = 5.7; turned_at = 12",
        "rows = 20; depth = 5.7; turned_at = [12, 11]; width = 22",
    ] {
        let size = found(so_far);
        let told = said(&size, "so-far-mend");
        let Some((_, way)) = told.split_once("Ripped back by ") else {
            continue;
        };
        ripped += 1;
        let (_, keys) = way.split_once('(').unwrap();
        let (keys, promised) = keys.split_once("): ").unwrap();
        let promised = promised.split(['.', ';']).collect::<Vec<_>>().join(".");
        let mut case: Vec<String> = so_far.split("; ").map(str::to_owned).collect();
        for key in split_keys(keys) {
            let name = key.trim_start_matches("no ").split(" = ").next().unwrap();
            let name = name.trim_start_matches("so_far.");
            case.retain(|line| !line.starts_with(&format!("{name} = ")));
            if let Some(set) = key.strip_prefix("so_far.") {
                case.push(set.to_owned());
            }
        }
        let case = case.join("; ");
        let followed = found(&case);
        let outcome = Outcome {
            units: capwright::measure::Units::Cm,
            plan: &followed.fit.plan,
            measures: &followed.fit.measures,
        };
        let words = outcome.words();
        assert!(
            promised.starts_with(&words),
            "{so_far}\n{case}\n{words}\n{promised}"
        );
        let [was, is] = [&size, &followed].map(|size| size.gauge.cap);
        assert!((was.rows_per_10cm() - is.rows_per_10cm()).abs() < 1e-9);
        assert!((was.stitches_per_10cm() - is.stitches_per_10cm()).abs() < 0.02);
    }
    assert!(ripped >= 3, "{ripped}");
}

/// At the commas that are not inside brackets.
fn split_keys(keys: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut inside = false;
    for c in keys.chars() {
        inside = (inside || c == '[') && c != ']';
        if c == ',' && !inside {
            out.push(String::new());
        } else {
            out.last_mut().unwrap().push(c);
        }
    }
    out.iter().map(|key| key.trim().to_owned()).collect()
}

/// By hand, at 21 stitches and 29 rows flat, 21.5 and 30 round: 17 rows are 5.9 cm, so 3.6 (a third less, and the
/// tape) to 9.1 cm can be.
#[test]
fn measures_that_cannot_be_are_refused() {
    for (so_far, key, words) in [
        (
            "rows = 16; depth = 15",
            "so_far.depth is 15.0 cm",
            "3.6 cm to 9.1 cm can be",
        ),
        (
            "rows = 16; depth = 2; width = 40",
            "so_far.depth is 2.0 cm",
            "so_far.width is 40.0 cm",
        ),
        (
            "rounds = 60; stitches = 64; upper_arm = 14",
            "so_far.upper_arm is 14.0 cm",
            "36.3 cm",
        ),
        (
            "rounds = 60; stitches = 64; length = 8.5",
            "so_far.length is 8.5 cm",
            "61 rounds",
        ),
    ] {
        let told = refused(so_far);
        assert!(told.contains("so-far-measure"), "{so_far}: {told}");
        assert!(
            told.contains(key) && told.contains(words),
            "{so_far}: {told}"
        );
    }
    let both = refused("rows = 10; rounds = 20; stitches = 72");
    assert!(
        both.contains("so-far-state") && both.contains("but the cap has 36 rows"),
        "{both}"
    );
    // A cap that was planned anew on the way and is done: the tube follows it.
    found(
        "rows = 10; picked_up = { crown = 19, first = 24, base = 10, second = 24 }; rounds = 20; stitches = 74",
    );
    for (so_far, word) in [
        ("measured_at = 16", "measured_at is 16"),
        (
            "rows = 4; depth = 5.9; measured_at = 15",
            "measured_at is 15",
        ),
        (
            "rows = 20; depth = 5.9; measured_at = 16",
            "measured_at is 16",
        ),
        ("rows = 16; turned_at = [4, 5, 6]", "list of 3"),
        ("rows = 16; turned_at = [4.5, 5]", "whole number"),
        ("rows = 16; turned_at = [4, -5]", "lies within"),
    ] {
        let told = refused(so_far);
        assert!(told.contains(word), "{so_far}: {told}");
    }
}

/// A cap a tape cannot tell from the plan has nothing to be mended; two notes on one state agree.
#[test]
fn what_nobody_can_see_is_not_mended() {
    let near = found("rows = 6; depth = 2.0");
    assert_eq!(said(&near, "so-far-mend"), "");
    let wide = found("rows = 36; width = 34; depth = 12.9");
    let notes = said(&wide, "so-far-gauge");
    assert!(
        !notes.contains("the plan stays") && notes.contains("the height of a row is what it was"),
        "{notes}"
    );
    assert!(said(&wide, "so-far-mend").contains("cannot all be mended"));
}

/// A total says nothing of where its stitches lie: the four counts are named, and they are a case.
#[test]
fn a_total_says_where_it_is_taken_to_lie() {
    let size = found("picked_up = 78");
    let told = said(&size, "so-far-counts");
    let (_, four) = told.split_once("so_far.picked_up = {").unwrap();
    let (four, _) = four.split_once('}').unwrap();
    let numbers: Vec<u32> = four
        .split(',')
        .filter_map(|part| part.split('=').nth(1)?.trim().parse().ok())
        .collect();
    assert_eq!(
        (numbers.len(), numbers.iter().sum::<u32>()),
        (4, 78),
        "{told}"
    );
    let same = found(&format!("picked_up = {{ {four} }}"));
    assert_eq!(same.fit.plan, size.fit.plan);
    let all = sentences(&size);
    assert!(
        all.iter().any(|s| s.contains("nothing is picked up again")),
        "{all:?}"
    );
    assert!(
        !sentences(&book())
            .iter()
            .any(|s| s.contains("nothing is picked up again"))
    );
}

/// A hand that goes along the needle once, skipping as it is told, comes out at the end of what waits.
#[test]
fn counts_are_put_right_along_the_needle() {
    let size =
        found("picked_up = { crown = 20, first = 26, base = 10, second = 25 }; mend = \"correct\"");
    let told: Vec<String> = sentences(&size)
        .into_iter()
        .filter(|s| s.contains("the next over the one after it"))
        .collect();
    assert!(told.len() >= 2, "{told:?}");
    let before = [
        ("Crown, in the order of the pick-up", 20),
        ("from the crown down", 26),
        ("from the base up", 25),
    ];
    for sentence in &told {
        let (_, waiting) = before
            .iter()
            .find(|(words, _)| sentence.contains(words))
            .unwrap();
        let (_, steps) = sentence.split_once(": ").unwrap();
        let (steps, _) = steps.split_once(" [").unwrap();
        let along: u32 = steps
            .split("; ")
            .map(|step| {
                let number = step
                    .split(' ')
                    .filter_map(|word| word.parse::<u32>().ok())
                    .sum::<u32>();
                number
                    + if step.contains("pass the next over") {
                        2
                    } else {
                        0
                    }
            })
            .sum();
        assert_eq!(along, *waiting, "{sentence}");
    }
}

/// After an RS row the WS row is still to be worked: said where the work goes on, and what to give then.
#[test]
fn half_a_pair_is_said_at_its_place() {
    let all = sentences(&found("rows = 17"));
    let at = all
        .iter()
        .position(|s| s.starts_with("The WS row that ends this pair"))
        .unwrap();
    assert!(
        all[at + 1].starts_with("Worked so far: 18 rows"),
        "{}",
        all[at + 1]
    );
    assert!(
        !sentences(&found("rows = 18"))
            .iter()
            .any(|s| s.starts_with("The WS row that ends"))
    );
    let both = converted("rows = 17; depth = 6.6").unwrap_err();
    assert!(
        both.iter()
            .any(|d| d.advice().contains("Work row 18") && d.advice().contains("so_far.rows = 18")),
        "{both:?}"
    );
}

/// A shaping round that is the very next one.
#[test]
fn the_next_round_is_called_that() {
    let near = sentences(&found("rounds = 129; stitches = 46")).join(" ");
    assert!(
        near.contains("Work the dec round in the next round."),
        "{near}"
    );
}
