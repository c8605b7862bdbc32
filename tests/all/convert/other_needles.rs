//! The cap goes on with needles of another size: each part has its own gauge, the rest is planned for both.

use capwright::case::read_case;
use capwright::convert::{GaugeError, SizeConversion, convert};
use capwright::diagnostic::{Diagnostic, Level};

const TERN: &str = include_str!("../../../cases/tern-harbour.toml");

fn converted(so_far: &str) -> Result<SizeConversion, Vec<Diagnostic>> {
    let (case, said) = read_case(&format!("{TERN}\n{so_far}\n"));
    let mut found = convert(&case.ok_or(said)?, None)?;
    Ok(found.sizes.remove(0))
}

/// 21 stitches and 27.5 rows to 4 in after 16 rows at 22.5 and 30.5: by hand, (1 + 16) rows are 17 x 4 / 30.5 in, and every
/// pair to come 8 / 27.5 in.
#[test]
fn each_part_has_its_own_gauge() {
    let book = converted("").unwrap();
    let size =
        converted("[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 21\nrows = 27.5\n").unwrap();
    let (plan, m) = (&size.fit.plan, &size.fit.measures);
    let pairs = plan.turn_pairs();
    let depth_in = 17.0 * 4.0 / 30.5 + f64::from(pairs - 8) * 8.0 / 27.5;
    assert!((m.depth.to_cm() / 2.54 - depth_in).abs() < 1e-9);
    // 7.5 rows a pair fewer to the inch: fewer pairs than the plan's, and as deep to half a pair.
    assert!(pairs < book.fit.plan.turn_pairs(), "{pairs}");
    assert!((m.depth - size.old.cap.depth()).to_cm().abs() < 0.5 * 2.0 * 10.16 / 27.5);
    // What is worked is the plan's, stitch for stitch, and as wide as it was.
    assert_eq!(plan.front.moves[..7], book.fit.plan.front.moves[..7]);
    assert_eq!(plan.front.zones, book.fit.plan.front.zones);
    let (new, old) = (
        &m.front.half_widths_cm,
        &book.fit.measures.front.half_widths_cm,
    );
    assert_eq!(new[..8], old[..8]);
    // From pair 9 on a stitch is 4 / 21 in wide.
    let net: u32 = plan.front.moves[..8].iter().map(|m| m.take - m.drop).sum();
    let half_in = (f64::from(plan.crown.stitches.count()) / 2.0 + f64::from(net)) * 4.0 / 21.0;
    assert!((new[8] / 2.54 - half_in).abs() < 1e-9);
    // Strips of both heights and the picked-up row: the area by hand.
    let mut area_cm2 = 10.16 / 30.5 * 10.16 / 22.5 * f64::from(plan.crown.stitches.count());
    for side in [&m.front, &m.back] {
        let edges =
            std::iter::once(2.0 * 10.16 / 30.5).chain(side.moves.iter().map(|m| m.cap.to_cm()));
        for (t, (half, edge)) in side.half_widths_cm.iter().zip(edges).enumerate() {
            let row = 10.16 / if t < 8 { 30.5 } else { 27.5 };
            area_cm2 += 2.0 * row * half + 10.16 / 30.5 * edge;
        }
    }
    assert!(
        (m.area_cm2 - area_cm2).abs() < 1e-6,
        "{} {area_cm2}",
        m.area_cm2
    );
    for written in &size.written {
        assert!(written.knits_back);
        let text = written.instructions.sentences().join("\n");
        assert!(text.contains("From here on work with the other needles"));
    }
    let said = size.findings.iter().find(|d| d.code.id == "so-far-needles");
    let said = &said.unwrap().message;
    // Cap to tube the swatches change by 23 / 22.5 and 31.5 / 30.5.
    assert!(said.starts_with("From row 17 on"), "{said}");
    assert!(
        said.contains("21.5 sts and 28.4 rounds over 4.0 in"),
        "{said}"
    );
}

/// The needles of the swatch are no other needles; the work's own measures stay those of what is worked.
#[test]
fn the_same_needles_change_nothing() {
    let book = converted("").unwrap();
    let same = "[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 22.5\nrows = 30.5\n";
    let size = converted(same).unwrap();
    assert_eq!(size.fit.plan, book.fit.plan);
    assert_eq!(size.fit.measures, book.fit.measures);
    let measured =
        "[so_far]\nrows = 16\ndepth = 2.5\n[so_far.gauge]\nstitches = 22.5\nrows = 30.5\n";
    let size = converted(measured).unwrap();
    // 17 rows are 2.5 in deep, the rest is at the swatch's rows.
    let pairs = f64::from(size.fit.plan.turn_pairs() - 8);
    let depth_in = 2.5 + pairs * 8.0 / 30.5;
    assert!((size.fit.measures.depth.to_cm() / 2.54 - depth_in).abs() < 1e-9);
}

/// Ripping back with other needles leaves fewer rows at the old gauge, and what was promised comes true.
#[test]
fn what_is_ripped_back_is_knitted_anew_at_the_new_gauge() {
    let mut met = 0;
    for (rows, stitches, high) in [(20, 21, 40), (28, 26, 44), (32, 18, 24), (36, 21, 40)] {
        let with = |rows: &str| {
            converted(&format!(
                "[so_far]\nrows = {rows}\n[so_far.gauge]\nstitches = {stitches}\nrows = {high}\n"
            ))
        };
        let Ok(size) = with(&rows.to_string()) else {
            continue;
        };
        let tried = size.findings.iter().find(|d| d.code.id == "so-far-mend");
        let Some(promised) = tried.and_then(|d| d.next.split("so_far.rows = ").nth(1)) else {
            continue;
        };
        met += 1;
        let left: String = promised.chars().take_while(char::is_ascii_digit).collect();
        let promised = promised.split("): ").nth(1).unwrap();
        let promised = promised.split(" in deep").next().unwrap();
        let ripped = with(&left).unwrap();
        let deep = ripped.fit.measures.depth.to_cm() / 2.54;
        assert_eq!(format!("{deep:.1}"), promised, "{rows} {left}");
    }
    assert!(met > 0);
}

#[test]
fn needles_that_cannot_be_are_refused() {
    let gauge = "[so_far.gauge]\nstitches = 21\nrows = 28\n";
    let table = [
        (gauge.to_owned(), "rows = 16"),
        (
            format!("[so_far]\nrows = 15\n{gauge}"),
            "needles are changed between two pairs",
        ),
        (format!("[so_far]\nrows = 38\n{gauge}"), "no row is left"),
        (format!("[so_far]\npicked_up = 75\n{gauge}"), "rows = 16"),
        (
            format!("[so_far]\nmeasured_at = 16\ndepth = 2.2\n{gauge}"),
            "rows = 16",
        ),
        (
            "[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 21\n".to_owned(),
            "rows = 22",
        ),
        ("[so_far]\nrows = 16\ngauge = 21\n".to_owned(), "gauge"),
        (
            "[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 0\nrows = 28\n".to_owned(),
            "stitches",
        ),
        (
            "[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 12\nrows = 28\n".to_owned(),
            "15.0 to 33.8 can be",
        ),
        (
            "[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 21\nrows = 60\n".to_owned(),
            "20.3 to 45.8 can be",
        ),
        (
            "[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 21\nrows = 28\nneedle = 4\n"
                .to_owned(),
            "needle",
        ),
    ];
    for (so_far, expected) in table {
        let found = converted(&so_far)
            .err()
            .unwrap_or_else(|| panic!("taken: {so_far}"));
        let errors = found.iter().filter(|d| d.level == Level::Error);
        let said: Vec<String> = errors
            .map(|d| format!("{} {}", d.message, d.next))
            .collect();
        assert!(
            said.iter().any(|s| s.contains(expected)),
            "{so_far}: {said:?}"
        );
    }
}

/// A swatch that was counted three times says nothing of rows that are knitted with other needles.
#[test]
fn what_may_be_off_is_not_the_first_swatchs() {
    let counted = TERN.replace("stitches = 22.5", "stitches = [22.5, 22.5, 22.4]");
    let counted = counted.replace("rows = 30.5", "rows = [30.5, 30.5, 30.6]");
    let with = |so_far: &str| {
        let (case, said) = read_case(&format!("{counted}\n{so_far}\n"));
        let mut found = convert(&case.ok_or(said).unwrap(), None).unwrap();
        found.sizes.remove(0).landmarks
    };
    let own = with("[so_far]\nrows = 16\n");
    let other = with("[so_far]\nrows = 16\n[so_far.gauge]\nstitches = 21\nrows = 28\n");
    assert_eq!(own.error, GaugeError::Counts);
    assert_eq!(other.error, GaugeError::OtherNeedles);
    // Two swatches of one knitter differ by about 2 % (common practice, no source).
    let last = other.steps.last().unwrap().depth;
    assert!(last.off >= last.length * 0.02);
}
