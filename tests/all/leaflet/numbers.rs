//! Lengths as patterns print them: fractions, decimals and lists, with the values worked out by hand. What has two readings
//! is never sure.

use capwright::leaflet::{Fact, Status, read_leaflet};

/// A pattern of so many sizes with these lengths of cuff and sleeve.
fn pattern(sizes: usize, cuff: &str, length: &str) -> String {
    let list = |all: [u32; 3]| match sizes {
        1 => all[0].to_string(),
        2 => format!("{} ({})", all[0], all[1]),
        _ => format!("{} ({}, {})", all[0], all[1], all[2]),
    };
    let names = ["", "SIZES: S (M)\n", "SIZES: S (M, L)\n"][sizes - 1];
    format!(
        "HERON PULLOVER\n\n{names}\nGAUGE\n22 sts and 30 rows = 4 in (10 cm) in stockinette st.\n\nSLEEVES\n\
         Cast on {} sts. Work in k1, p1 rib for {cuff}. Change to St st. Inc 1 st each end of every 8th row until there \
         are {} sts. Work even until sleeve measures {length} from beg, ending with a WS row.\n\
         Shape Cap: Bind off 4 sts at beg of next 2 rows. Dec 1 st each end of every other row until {} sts remain. Bind \
         off 2 sts at beg of next 4 rows. Bind off rem {} sts.\n",
        list([44, 46, 48]),
        list([66, 70, 74]),
        list([30, 30, 32]),
        list([22, 22, 24]),
    )
}

fn fact(sizes: usize, cuff: &str, length: &str, key: &str) -> Fact {
    let text = pattern(sizes, cuff, length);
    let leaflet = read_leaflet(&text);
    let found = leaflet.fact(key).cloned();
    found.unwrap_or_else(|| panic!("{key}: {text}\n{:?}", leaflet.facts))
}

#[test]
fn lengths_are_read_as_they_are_printed() {
    for (sizes, printed, value) in [
        (1, "17 7/8 in", "17.875"),
        (3, "17 7/8 in", "17.875"),
        (1, "17-1/2 in", "17.5"),
        (3, "17-1/2 in", "17.5"),
        (1, "17\n1/2 in", "17.5"),
        (1, "17\u{a0}1/2 in", "17.5"),
        (1, "17⅞ in", "17.875"),
        (1, "17 5/16 in", "17.3125"),
        (2, "17½ (18) in", "17.5 (18)"),
        (2, "17,17½ in", "17 (17.5)"),
        (3, "17 1/4 (17-3/4, 18 1/8) in", "17.25 (17.75, 18.125)"),
        (1, "43,5 cm", "43.5"),
        (3, "43,5 cm", "43.5"),
        (2, "43,5 (44,5) cm", "43.5 (44.5)"),
        (3, "43,44,45 cm", "43 (44, 45)"),
        (3, "43/44/45 cm", "43 (44, 45)"),
        (3, "43-44-45 cm", "43 (44, 45)"),
        (2, "43.5 (44.5) cm", "43.5 (44.5)"),
    ] {
        let found = fact(sizes, "2 in", printed, "sleeve.length");
        assert_eq!(found.value, value, "{sizes} sizes, {printed}");
        assert_eq!(found.status, Status::Sure, "{printed}: {}", found.why);
    }
    for (sizes, printed, value) in [
        (1, "3/4 in", "0.75"),
        (3, "3/4 in", "0.75"),
        (2, "¾ in", "0.75"),
        (2, "1 1/2 in", "1.5"),
        (3, "2-2-3 in", "2 (2, 3)"),
        (3, "2/2/3 in", "2 (2, 3)"),
    ] {
        let found = fact(sizes, printed, "17 in", "sleeve.cuff_length");
        assert_eq!(found.value, value, "{sizes} sizes, {printed}");
        assert_eq!(found.status, Status::Sure, "{printed}: {}", found.why);
    }
}

#[test]
fn what_has_two_readings_is_never_sure() {
    for (sizes, printed) in [
        // A decimal for both sizes, or a length for each.
        (2, "43,5 cm"),
        (2, "43,45 cm"),
        // A decimal nobody prints, or lengths for sizes there are not.
        (1, "43,45 cm"),
        // A larger size with a shorter sleeve.
        (2, "44 (43) cm"),
        (3, "44 (45, 44) cm"),
    ] {
        let found = fact(sizes, "2 in", printed, "sleeve.length");
        assert_eq!(
            found.status,
            Status::Unsure,
            "{sizes}, {printed}: {found:?}"
        );
    }
    // Three quarters for both sizes, or three for one and four for the other.
    let found = fact(2, "3/4 in", "17 in", "sleeve.cuff_length");
    assert_eq!(found.status, Status::Unsure, "{found:?}");
}

/// A gauge with a decimal comma: the digit behind it is no count of its own.
#[test]
fn a_gauge_with_a_decimal_comma() {
    let text = pattern(1, "5 cm", "43 cm").replace("22 sts and 30 rows", "21,5 sts and 28,5 rows");
    let leaflet = read_leaflet(&text);
    for (key, value) in [
        ("gauge.pattern.stitches", "21.5"),
        ("gauge.pattern.rows", "28.5"),
    ] {
        assert_eq!(leaflet.fact(key).unwrap().value, value);
    }
}

/// Letters that get longer in small letters move no words: the evidence is what is printed.
#[test]
fn the_words_of_a_fact_are_those_it_was_told_by() {
    let plain = pattern(1, "2 in", "17 in")
        .replace("SLEEVES", "To fit a woman's bust of 36 in.\n\nSLEEVES");
    let long = format!("{}\n{plain}", "İ".repeat(16));
    for text in [&plain, &long] {
        let leaflet = read_leaflet(text);
        let words = |key: &str| leaflet.fact(key).unwrap().evidence[0].text.clone();
        assert_eq!(words("wording.terms"), "Bind off");
        assert!(
            ["woman's", "woman", "bust"].contains(&words("body.table").as_str()),
            "{}",
            words("body.table")
        );
    }
    for verb in ["casting off", "bound off", "cast off", "bind off"] {
        let text = plain.replace("Bind off", verb);
        let leaflet = read_leaflet(&text);
        let terms = leaflet.fact("wording.terms").unwrap();
        let uk = verb.starts_with("cast");
        assert_eq!(terms.evidence[0].text, verb, "{terms:?}");
        assert_eq!(terms.value, if uk { "uk" } else { "us" });
    }
}
