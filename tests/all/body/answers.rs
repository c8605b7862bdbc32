//! What a person is told: good questions in both units, and bad ones.

use std::collections::BTreeSet;

use capwright::body::{CODES, Key, TableKind, arm_and_bust, find, look_up, parse_key, tables};
use capwright::diagnostic::{Diagnostic, Level};
use capwright::measure::{Length, Units};
use capwright::report::{ArmView, table_list, table_view};
use proptest::prelude::*;

fn said(table: &str, key: &Key) -> Vec<Diagnostic> {
    let (arm, said) = look_up(table, key);
    assert!(arm.is_none(), "{arm:?}");
    said
}

fn size(name: &str) -> Key {
    Key::Size(name.to_owned())
}

#[test]
fn an_unknown_table_names_the_nearest_and_lists_all() {
    let said = said("wommen", &size("M"));
    assert_eq!(said.len(), 1);
    assert_eq!(said[0].code.id, "body-table-unknown");
    assert_eq!(
        said[0].message,
        "there is no body table 'wommen'. The nearest is 'women'."
    );
    for table in tables() {
        assert!(said[0].advice().contains(&table.id), "{}", table.id);
    }
}

#[test]
fn an_unknown_size_names_the_nearest_and_lists_all() {
    let said = said("youth", &size("15"));
    assert_eq!(said[0].code.id, "body-size-unknown");
    assert!(
        said[0]
            .message
            .starts_with("the table 'youth' has no size '15'.")
    );
    assert_eq!(said[0].advice(), "Use one of: 12, 14, 16.");
}

#[test]
fn a_table_is_asked_only_what_it_holds() {
    for (table, key, answers) in [
        ("ansur2-men", size("L"), "it answers a chest."),
        (
            "nhanes-male",
            Key::Bust(Length::cm(100.0)),
            "it answers an age.",
        ),
        (
            "yarn",
            size("0 Lace"),
            "it answers nothing: it is for reading.",
        ),
        (
            "ansur1988-women",
            Key::Bust(Length::cm(90.0)),
            "it answers nothing: it is for reading.",
        ),
    ] {
        let said = said(table, &key);
        assert_eq!(said[0].code.id, "body-table-not-asked-that");
        assert!(said[0].message.ends_with(answers), "{}", said[0].message);
    }
}

/// Limits as stated in the tables: a chart about one size past its first and last, in inches.
#[test]
fn a_bust_far_outside_is_refused_and_one_just_outside_is_extrapolated() {
    for (table, inside, outside) in [
        ("woman", [61.0, 167.6], [60.9, 167.7]),
        ("man", [71.2, 172.7], [71.1, 172.8]),
        ("ansur2-women", [61.0, 168.0], [60.9, 168.1]),
        ("ansur2-men", [71.0, 173.0], [70.9, 173.1]),
    ] {
        for bust in inside {
            let (arm, said) = look_up(table, &Key::Bust(Length::cm(bust)));
            let arm = arm.unwrap();
            assert!(arm.extrapolated, "{table} {bust}");
            let warned = said
                .iter()
                .find(|d| d.code.id == "body-extrapolated")
                .unwrap();
            assert_eq!(warned.level, Level::Warning);
            assert!(arm.low < arm.mean && arm.mean < arm.high);
        }
        for bust in outside
            .into_iter()
            .chain([10.0, 500.0, f64::NAN, f64::INFINITY, -90.0])
        {
            let said = said(table, &Key::Bust(Length::cm(bust)));
            assert_eq!(said[0].level, Level::Error);
            assert!(
                said[0].message.contains(&format!("'{table}' answers")),
                "{}",
                said[0].message
            );
        }
    }
}

#[test]
fn a_number_in_the_other_unit_is_refused_with_the_likely_meaning() {
    let key = parse_key(find("woman").unwrap(), "38", Units::Cm).unwrap();
    let said_of_38 = said("woman", &key);
    assert_eq!(said_of_38[0].code.id, "body-units-mixed");
    assert_eq!(
        said_of_38[0].message,
        "a bust of 38.0 cm (15.0 in) is outside: the table 'woman' answers 61.0 cm (24.0 in) to \
         167.6 cm (66.0 in). 38.0 in would be inside."
    );
    let key = parse_key(find("man").unwrap(), "104", Units::In).unwrap();
    let said_of_104 = said("man", &key);
    assert_eq!(said_of_104[0].code.id, "body-units-mixed");
    assert_eq!(
        said_of_104[0].advice(),
        "If 104.0 cm was meant, write the unit beside the number."
    );
    let far = said("woman", &Key::Bust(Length::cm(10.0)));
    assert_eq!(far[0].code.id, "body-bust-out-of-range");
    assert_eq!(
        far[0].message,
        "a bust of 10.0 cm (3.9 in) is too far outside: the table 'woman' answers \
         61.0 cm (24.0 in) to 167.6 cm (66.0 in)."
    );
}

#[test]
fn an_arm_and_a_bust_that_cannot_belong_together() {
    let of = |arm: f64, bust: f64| -> Vec<&'static str> {
        let said = arm_and_bust("", Length::cm(arm), Length::cm(bust));
        said.iter().map(|d| d.code.id).collect()
    };
    assert_eq!(of(96.0, 38.0), ["body-arm-wider-than-bust"]);
    assert_eq!(of(38.0, 38.0), ["body-arm-wider-than-bust"]);
    assert_eq!(of(60.0, 100.0), ["body-arm-odd-for-bust"]);
    assert_eq!(of(12.0, 96.0), ["body-arm-odd-for-bust"]);
    // Every size of every chart passes.
    for table in tables()
        .iter()
        .filter(|table| table.kind == TableKind::Chart)
    {
        for row in &table.rows {
            let [arm, bust] = ["upper_arm", "chest"].map(|c| table.length(row, c).unwrap());
            assert!(
                arm_and_bust("", arm, bust).is_empty(),
                "{} {}",
                table.id,
                row.label
            );
        }
    }
    assert!(!arm_and_bust("", Length::cm(f64::NAN), Length::cm(90.0)).is_empty());
    assert!(!arm_and_bust("", Length::cm(30.0), Length::ZERO).is_empty());
}

#[test]
fn a_measured_arm_needs_no_table_and_beats_one() {
    let key = Key::UpperArm(Length::inches(14.0));
    for table in ["", "woman", "man"] {
        let (arm, said) = look_up(table, &key);
        assert_eq!(arm.unwrap().typical(), Length::inches(14.0));
        assert!(said.is_empty());
    }
    for cm in [0.0, -3.0, 4.9, 121.0, f64::NAN, f64::INFINITY] {
        let said = said("", &Key::UpperArm(Length::cm(cm)));
        assert_eq!(said[0].code.id, "body-arm-out-of-range", "{cm}");
    }
}

/// Woman M: bust 36 to 38 in, upper arm 11 in, armhole depth 7 to 7 1/2 in (Craft Yarn Council).
#[test]
fn a_size_is_shown_in_both_units() {
    let table = table_view(find("woman").unwrap());
    let row = table.rows.iter().find(|row| row.label == "M").unwrap();
    let at = |id: &str| table.columns.iter().position(|c| c.id == id).unwrap();
    let bust = row.cells[at("chest")];
    assert_eq!(bust.text(Units::In), "36 to 38");
    assert_eq!(bust.text(Units::Cm), "91.4 to 96.5");
    assert_eq!(row.cells[at("upper_arm")].text(Units::In), "11");
    assert_eq!(row.cells[at("upper_arm")].text(Units::Cm), "27.9");
    let (arm, _) = look_up("woman", &size("M"));
    let json = serde_json::to_value(ArmView::from(&arm.unwrap())).unwrap();
    assert_eq!(json["chart"], serde_json::json!({"cm": 27.9, "in": 11.0}));
    assert_eq!(
        json["armhole_depth"]["low"],
        serde_json::json!({"cm": 17.8, "in": 7.0})
    );
    assert_eq!(
        json["armhole_depth"]["high"],
        serde_json::json!({"cm": 19.1, "in": 7.5})
    );
    assert_eq!(json["posture"], "relaxed");
    assert_eq!(json["extrapolated"], false);
    let source = json["source"].as_str().unwrap();
    assert!(
        source.contains("Source: Craft Yarn Council's www.YarnStandards.com"),
        "{source}"
    );
    assert!(source.contains("NATICK/TR-15/007"), "{source}");
    assert!(source.contains("1967 survey"), "{source}");
}

/// Bands with one edge and numbers that are no lengths.
#[test]
fn bands_are_shown_in_words() {
    let cells = |id: &str| -> Vec<Vec<String>> {
        let table = table_view(find(id).unwrap());
        let text = |row: &capwright::report::RowView| {
            row.cells.iter().map(|c| c.text(Units::In)).collect()
        };
        table.rows.iter().map(text).collect()
    };
    assert_eq!(cells("ease")[0], ["-4 to -2"]);
    assert_eq!(cells("ease")[2], ["up to 4"]);
    assert_eq!(cells("ease")[4], ["6 and more"]);
    assert_eq!(cells("yarn")[4], ["16 to 20", "4.5 to 5.5"]);
    assert_eq!(cells("yarn")[7], ["up to 6", "12.75 and more"]);
    let blank = table_view(find("ansur1988-women").unwrap());
    assert!(
        blank
            .rows
            .iter()
            .flat_map(|r| &r.cells)
            .any(|c| c.text(Units::Cm) == "-")
    );
}

/// A hair's breadth of bust makes no jump at the edges of the survey (women 76 to 116 cm, men 84
/// to 132 cm) nor between two sizes.
#[test]
fn a_hairs_breadth_of_bust_makes_no_jump() {
    for (table, from, to) in [("woman", 62.0, 166.0), ("man", 72.0, 172.0)] {
        let at = |bust: f64| look_up(table, &Key::Bust(Length::cm(bust))).0.unwrap();
        let mut bust = from;
        while bust < to {
            let (thin, thick) = (at(bust), at(bust + 0.25));
            for (a, b) in [
                (thin.low, thick.low),
                (thin.mean, thick.mean),
                (thin.high, thick.high),
            ] {
                let step = (b - a).to_cm();
                assert!((0.0..0.25).contains(&step), "{table} {bust} {step}");
            }
            bust += 0.25;
        }
    }
}

/// Every 4 cm from 76 to 116 cm of women's chests: 11 lines.
#[test]
fn a_survey_shows_its_arms_by_bust() {
    let women = table_view(find("ansur2-women").unwrap());
    assert_eq!(women.arms.len(), 11);
    assert_eq!(women.arms[0].label, "bust 76.0 cm (29.9 in)");
    let men = table_view(find("ansur2-men").unwrap());
    assert!(men.arms.iter().all(|arm| arm.label.starts_with("chest ")));
    assert!(women.arms.iter().all(|arm| !arm.extrapolated));
    assert!(
        women
            .arms
            .windows(2)
            .all(|pair| pair[0].mean.cm < pair[1].mean.cm)
    );
    // Of 387 women from 92 to 96 cm half had arms below 30.5 cm (NATICK/TR-15/007, counted).
    let counted = women.arms[4].counted.as_ref().unwrap();
    assert_eq!(
        (counted.from.cm, counted.people, counted.median.cm),
        (92.0, 387, 30.5)
    );
    assert_eq!(table_list().len(), tables().len());
    assert_eq!(table_list()[0].answers, "a size or a bust");
}

#[test]
fn every_table_is_written_as_json() {
    for table in tables() {
        let json = serde_json::to_value(table_view(table)).unwrap();
        assert_eq!(json["rows"].as_array().unwrap().len(), table.rows.len());
    }
}

#[test]
fn codes_are_complete_and_named_once() {
    let ids: BTreeSet<&str> = CODES.iter().map(|code| code.id).collect();
    assert_eq!(ids.len(), CODES.len());
    for code in CODES {
        assert!(code.id.starts_with("body-"));
        for text in [code.title, code.why, code.source, code.next] {
            assert!(
                !text.is_empty() && !text.contains("  "),
                "{}: {text}",
                code.id
            );
        }
    }
}

proptest! {
    /// No text and no number makes the room fall over; an arm comes back or a reason does.
    #[test]
    fn any_question_is_answered(at in 0usize..16, text in ".{0,12}", number in proptest::num::f64::ANY) {
        let table = &tables()[at];
        for key in [Key::Size(text.clone()), Key::Bust(Length::cm(number)), Key::UpperArm(Length::cm(number))] {
            let (arm, said) = look_up(&table.id, &key);
            prop_assert!(arm.is_some() || said.iter().any(|d| d.level == Level::Error));
        }
        let (arm, said) = look_up(&text, &Key::Bust(Length::cm(number)));
        prop_assert!(arm.is_some() || !said.is_empty());
        if let Err(error) = parse_key(table, &text, Units::In) {
            prop_assert!(!error.message.is_empty());
        }
    }

    /// A larger bust has a thicker arm, and shares and girths undo one another.
    #[test]
    fn arms_grow_with_the_bust(bust in 62.0f64..160.0, more in 0.1f64..7.0, share in 0.01f64..0.99) {
        for table in ["woman", "ansur2-women"] {
            let at = |cm: f64| look_up(table, &Key::Bust(Length::cm(cm))).0.unwrap();
            let (thin, thick) = (at(bust), at(bust + more));
            prop_assert!(thin.mean < thick.mean);
            let spread = thin.spread.unwrap();
            for edge in [0.0, 1.0, -3.0, f64::INFINITY] {
                prop_assert!(spread.quantile(edge).is_positive());
            }
            prop_assert!(spread.quantile(f64::NAN).to_cm().is_nan());
            let back = spread.share_below(spread.quantile(share));
            prop_assert!((back - share).abs() < 1e-6);
        }
    }

    /// A length is read back in either unit, however it is spaced.
    #[test]
    fn a_bust_is_read_back(tenths in 300u32..1700, space in " {0,3}") {
        let number = f64::from(tenths) / 10.0;
        let woman = find("woman").unwrap();
        for (unit, length) in [("cm", Length::cm(number)), ("in", Length::inches(number)), ("\"", Length::inches(number))] {
            let text = format!("{space}{number}{space}{unit}{space}");
            prop_assert_eq!(parse_key(woman, &text, Units::Cm).unwrap(), Key::Bust(length));
        }
    }
}
