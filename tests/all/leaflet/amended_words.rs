//! What an amended pattern says in the print's own terms: gauges, needles, brackets, cuffs, seams.

use super::amend::{amended, amended_at, pattern};

/// By hand: 28 sts and 37 rows in 4 in are 7 sts and 9.25 rows in one, 27 and 36 in flat knitting 6.8 (6.75) and 9.
#[test]
fn gauges_are_printed_over_the_patterns_own_length() {
    let text = pattern("02-old-jumper");
    assert!(text.contains("7 sts. to one inch"));
    let swatches = |keys: &[&str]| amended_at(&text, keys).unwrap();
    let round = ["gauge.round.stitches=28", "gauge.round.rows=37"];
    let flat = ["gauge.flat.stitches=27", "gauge.flat.rows=36"];
    let both: Vec<&str> = round.iter().chain(&flat).copied().collect();
    let amendment = swatches(&both);
    assert!(
        amendment.text().contains("Sleeves: 6.8 sts and 9 rows to 1 inch back and forth for the cap, 7 sts and 9.3 rounds to 1 inch in rounds below it."),
        "{}",
        amendment.text()
    );
    // Nobody's swatch is no fact: it is for a person to decide.
    let amendment = swatches(&round);
    let text = amendment.text();
    assert!(
        text.contains("Sleeves: 7 sts and 9.3 rounds to 1 inch in rounds.")
            && !text.contains("back and forth")
    );
    let decide = amendment.decide.join("\n");
    assert!(
        decide.contains("no swatch back and forth")
            && decide.contains("7 sts and 9.3 rows to 1 inch"),
        "{decide}"
    );
    let amendment = swatches(&[]);
    assert!(!amendment.text().contains("Sleeves: "));
    assert!(amendment.decide.join("\n").contains("no swatch in rounds"));
}

/// With decimals, by comparison, on another verb: the two needles are in the sleeve, and nobody is asked for them.
#[test]
fn the_needles_stay_in_the_sleeve() {
    for (name, cuff, tube) in [
        ("54-fourteen-metric", "4 mm needles", "4.5 mm needles"),
        ("60-child-decimals", "3.25 mm needles", "4 mm needles"),
        ("65-plain-and-pocket", "4 mm needles", "4.5 mm needles"),
        ("01-alder-pullover", "smaller needles", "larger needles"),
        ("02-old-jumper", "No. 12 needles", "No. 10 needles"),
    ] {
        let amendment = amended(&pattern(name), &[]).unwrap();
        let text = amendment.text();
        assert!(
            text.contains(&format!(
                "Work the sleeve with {tube}, the cuff with {cuff}."
            )),
            "{name}: {text}"
        );
        assert!(
            text.contains(&format!("Change to {cuff}.")),
            "{name}: {text}"
        );
        assert!(!text.contains("if the old cuff was worked so"), "{name}");
        assert!(
            !amendment
                .decide
                .join("\n")
                .contains("does not name two needles"),
            "{name}"
        );
    }
}

/// The words of a cuff whose stitch is not told stay; no sentence sends to an old cuff that is no longer there.
#[test]
fn the_cuffs_words_stay() {
    let text = pattern("02-old-jumper");
    let told = text.replacen(
        "cast on 52 sts. Work in k.1, p.1 rib for 3 ins.",
        "cast on 52 sts. and work in rib for 3 inches.",
        1,
    );
    assert_ne!(told, text);
    let amendment = amended(&told, &[]).unwrap();
    assert!(
        amendment.text().contains("work in rib for 3 inches"),
        "{}",
        amendment.text()
    );
    assert!(!amendment.text().contains("the old one"));
    assert!(
        !amendment
            .decide
            .join("\n")
            .contains("How the cuff is worked was not found")
    );
}

#[test]
fn brackets_are_grouped_as_the_print_has_them() {
    let amendment = amended(&pattern("54-fourteen-metric"), &[]).unwrap();
    let text = amendment.text();
    let lists = text.lines().filter(|line| line.contains("Base: pick up"));
    let mut seen = 0;
    for line in lists.filter(|line| line.contains('(')) {
        seen += 1;
        assert!(line.contains(") ["), "{line}");
    }
    assert!(seen > 0, "{text}");
}

#[test]
fn folded_and_sewn_into_position_is_set_in() {
    let text = pattern("02-old-jumper");
    let folded = text.replace(
        "Set in sleeves.",
        "Fold sleeves in half lengthways, place fold to shoulder seam and sew into position.",
    );
    assert_ne!(folded, text);
    let amendment = amended(&folded, &[]).unwrap();
    assert!(
        !amendment.text().contains("Fold sleeves"),
        "{}",
        amendment.text()
    );
    assert!(!amendment.decide.join("\n").contains("Fold sleeves"));
}
