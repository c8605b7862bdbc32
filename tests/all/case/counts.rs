//! `[armhole]` by counts: what is read, what is refused, and what becomes of it in the pattern.

use capwright::case::read_case;
use capwright::convert::{Conversion, convert};
use capwright::diagnostic::Diagnostic;

const BODY: &str = include_str!("../../../cases/tern-harbour.toml");

/// Our pullover with another armhole.
fn with(armhole: &str) -> String {
    let from = BODY.find("[armhole]").unwrap();
    let to = BODY.find("[body]").unwrap();
    format!("{}{armhole}\n{}", &BODY[..from], &BODY[to..])
}

fn converted(armhole: &str) -> Conversion {
    let (case, said) = read_case(&with(armhole));
    convert(&case.unwrap_or_else(|| panic!("{said:?}")), None).unwrap()
}

fn refused(armhole: &str) -> Vec<Diagnostic> {
    let (case, said) = read_case(&with(armhole));
    assert!(case.is_none(), "{armhole}");
    said
}

/// The rows a flank and its half of the crown are picked up along are the rows counted.
#[test]
fn each_flank_is_picked_up_along_its_own_rows() {
    let found = converted(
        "[armhole.front]\nrows = 53\nbound_off = 5\nsteps = 4\ndecreases = 4\nseam_stitches = 1\n\
         [armhole.back]\nrows = 50\nbound_off = 5\nseam_stitches = 1",
    );
    let size = &found.sizes[0];
    let plan = &size.fit.plan;
    let rows = |flank: &capwright::plan::FlankPlan| {
        flank
            .zones
            .iter()
            .map(|zone| zone.rows.count())
            .sum::<u32>()
    };
    let half = plan.crown.rows.count() / 2;
    assert_eq!(plan.crown.rows.count() % 2, 0);
    assert_eq!(rows(&plan.front) + half, 53);
    assert_eq!(rows(&plan.back) + half, 50);
    assert_eq!(plan.base().count(), 8);
    let before = &size.written[0].before;
    let count = before
        .iter()
        .find(|line| line.starts_with("Count"))
        .unwrap();
    assert!(
        count.contains("front side 53 rows") && count.contains("back side 50 rows"),
        "{count}"
    );
    assert!(size.written.iter().all(|written| written.knits_back));
}

#[test]
fn counts_and_tape_check_each_other() {
    let said = |armhole: &str| {
        let found = converted(armhole);
        let of = |d: &&Diagnostic| d.code.id == "armhole-counts-disagree";
        let messages = found.findings.iter().filter(of);
        messages.map(|d| d.message.clone()).collect::<Vec<_>>()
    };
    // 56 rows at 30 to 4 in are 7.5 in; 60 decreases are none.
    assert!(said("[armhole]\nrows = 56\nbound_off = 4\nedge = 7.6\ndepth = 7.5").is_empty());
    let off = said("[armhole]\nrows = 56\nbound_off = 4\nedge = 9\ndepth = 8.8");
    // Arithmetic: 30 x 7.47 / 9 = 24.9.
    assert_eq!(off.len(), 1);
    assert!(
        off[0].contains("7.5 in") && off[0].contains("9.0 in") && off[0].contains("24.9"),
        "{off:?}"
    );
    let depth = said("[armhole]\nrows = 56\nbound_off = 4\ndepth = 9");
    assert!(depth.len() == 1 && depth[0].contains("depth"), "{depth:?}");
    let wide = said("[armhole]\nrows = 56\nbound_off = 4\nunderarm = 2");
    assert!(wide.len() == 1 && wide[0].contains("underarm"), "{wide:?}");
    let both = said(
        "[armhole.front]\nrows = 56\nbound_off = 4\nedge = 9\n[armhole.back]\nrows = 56\nbound_off = 4",
    );
    assert!(both.len() == 1 && both[0].contains("front"), "{both:?}");
}

#[test]
fn counts_stand_over_lines_and_it_is_said() {
    let lines = "[armhole]\nstitches = 90\nlines = \"\"\"\nBind off 5 sts at beg of next 2 rows. Dec 1 st each end \
        every RS row 4 times. Work even for 46 rows. Bind off rem sts.\n\"\"\"\n";
    let plain = converted(lines);
    let of_lines = plain.sizes[0].old.front.sites().count();
    let found = converted(&format!("{lines}rows = {}\nbound_off = 6", of_lines - 3));
    assert_eq!(found.sizes[0].old.front.sites().count(), of_lines - 3);
    assert_eq!(found.sizes[0].fit.plan.base().count(), 10);
    let said: Vec<&str> = found.findings.iter().map(|d| d.code.id).collect();
    assert_eq!(
        said.iter()
            .filter(|id| **id == "armhole-as-counted")
            .count(),
        1
    );
    assert!(
        plain
            .findings
            .iter()
            .all(|d| d.code.id != "armhole-as-counted")
    );
}

#[test]
fn what_cannot_be_counted_is_refused_with_its_place() {
    for (armhole, code, place) in [
        ("[armhole]\nrows = 53", "missing-key", ""),
        ("[armhole]\nbound_off = 5", "missing-key", ""),
        ("[armhole]\nrows = 2\nbound_off = 5", "out-of-range", "2"),
        (
            "[armhole]\nrows = 53.5\nbound_off = 5",
            "wrong-type",
            "53.5",
        ),
        (
            "[armhole]\nrows = 5000\nbound_off = 5",
            "out-of-range",
            "5000",
        ),
        ("[armhole]\nrows = 53\nbound_off = -1", "out-of-range", "-1"),
        (
            "[armhole]\nrows = [53, 50]\nbound_off = 5",
            "list-length",
            "[53, 50]",
        ),
        (
            "[armhole]\nrows = 10\nbound_off = 5\nsteps = 10",
            "keys-clash",
            "10",
        ),
        (
            "[armhole]\nrows = 10\nbound_off = 5\nsteps = 2\ndecreases = 8",
            "keys-clash",
            "8",
        ),
        (
            "[armhole]\nrows = 53\nbound_off = 2\nseam_stitches = 3",
            "keys-clash",
            "2",
        ),
        (
            "[armhole]\nrows = 53\nbound_off = 5\nedge = 7\ndepth = 8",
            "out-of-range",
            "7",
        ),
        (
            "[armhole]\nrows = 53\nbound_off = 5\nrow = 5",
            "unknown-key",
            "row",
        ),
        (
            "[armhole]\nstitches = 90\nlines = \"Work even.\"\nsteps = 5",
            "keys-clash",
            "5",
        ),
    ] {
        let said = refused(armhole);
        let found = said.iter().find(|d| d.code.id == code);
        let found = found.unwrap_or_else(|| panic!("{armhole}: {said:?}"));
        if !place.is_empty() {
            let span = found.span.unwrap();
            assert_eq!(&with(armhole)[span.from..span.to], place, "{armhole}");
        }
    }
}
