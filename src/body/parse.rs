//! Sizes, ages and busts as people write them.

use super::arm::both;
use super::codes::UNITS_MIXED;
use super::table::{BodyTable, plain};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Units};

/// What is known of the person.
#[derive(Clone, Debug, PartialEq)]
pub enum Key {
    /// A size of a chart, or an age of a table by age.
    Size(String),
    /// Bust or chest girth.
    Bust(Length),
    /// The upper arm as measured on the person. It beats any table.
    UpperArm(Length),
}

/// Two statements of one length may differ by so much: a chart prints halves of both units.
const ROUNDING_CM: f64 = 1.3;

/// Reads what a table is asked for: one of its sizes or ages, or a bust in either unit.
///
/// `M`, `xxl`, `8 years`; `38 in`, `38"`, `96.5 cm`, `965 mm`, `38 in (96.5 cm)`. A bare number is
/// a size when the table has one of that name, else a bust in `units`.
///
/// # Errors
/// A diagnostic for a text that is neither, and for two lengths that are not the same.
pub fn parse_key(table: &BodyTable, text: &str, units: Units) -> Result<Key, Box<Diagnostic>> {
    let row = table.row(text);
    if row.is_ok() || age_band(text).is_some_and(|band| table.row(&band).is_ok()) {
        return Ok(Key::Size(text.trim().to_owned()));
    }
    match (lengths(text, units), row) {
        (Some(lengths), _) => one_length(&lengths).map(Key::Bust),
        (None, Err(error)) => Err(error),
        (None, Ok(row)) => Ok(Key::Size(row.label.clone())),
    }
}

/// The first of several statements of a length, when they agree.
fn one_length(lengths: &[Length]) -> Result<Length, Box<Diagnostic>> {
    let first = lengths.first().copied().unwrap_or_default();
    let apart = |other: &&Length| (**other - first).abs().to_cm() > ROUNDING_CM;
    match lengths.iter().find(apart) {
        None => Ok(first),
        Some(other) => Err(Box::new(Diagnostic::new(
            &UNITS_MIXED,
            format!(
                "the two lengths are not the same: {} and {}.",
                both(first),
                both(*other)
            ),
        ))),
    }
}

/// Every number of the text with the unit after it; `None` when something else is in it.
fn lengths(text: &str, units: Units) -> Option<Vec<Length>> {
    let text = text.replace(',', ".").to_lowercase();
    let mut rest = text.trim();
    let mut found = Vec::new();
    while !rest.is_empty() {
        let end = rest
            .find(|c: char| !c.is_ascii_digit() && c != '.')
            .unwrap_or(rest.len());
        let (number, after) = rest.split_at_checked(end)?;
        let number: f64 = number.parse().ok()?;
        let end = after
            .find(|c: char| c.is_ascii_digit())
            .unwrap_or(after.len());
        let (unit, after) = after.split_at_checked(end)?;
        found.push(with_unit(number, unit, units)?);
        rest = after;
    }
    (!found.is_empty()).then_some(found)
}

fn with_unit(number: f64, unit: &str, units: Units) -> Option<Length> {
    let between = |c: char| c.is_whitespace() || matches!(c, '(' | ')' | '/' | '=' | '.');
    match unit.trim_matches(between) {
        "" => Some(units.length(number)),
        "cm" => Some(Length::cm(number)),
        "mm" => Some(Length::cm(number / 10.0)),
        "in" | "inch" | "inches" | "\"" | "\u{2033}" | "\u{201d}" => Some(Length::inches(number)),
        _ => None,
    }
}

/// The band of NHANES that holds an age, e.g. `34` -> `30-39`, `9 months` -> `6-11 months`.
pub(super) fn age_band(text: &str) -> Option<String> {
    let text = plain(text);
    if let Some(months) = text.strip_suffix("mo") {
        let months: u32 = months.parse().ok()?;
        return match months {
            0 | 1 => None,
            2..=5 => Some("2-5 months".to_owned()),
            6..=11 => Some("6-11 months".to_owned()),
            _ => years(months / 12),
        };
    }
    years(text.parse().ok()?)
}

fn years(age: u32) -> Option<String> {
    match age {
        0 => None,
        1..=19 => Some(age.to_string()),
        20..=79 => Some(format!("{}-{}", age / 10 * 10, age / 10 * 10 + 9)),
        80..=120 => Some("80+".to_owned()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::find;

    #[test]
    fn a_bust_is_read_in_either_unit() {
        let woman = find("woman").unwrap();
        let read = |text: &str| parse_key(woman, text, Units::Cm);
        for text in [
            "38 in",
            "38in",
            "38\"",
            "96.52 cm",
            "96,52cm",
            "965.2 mm",
            "38 in (96.5 cm)",
            "96.52",
        ] {
            match read(text) {
                Ok(Key::Bust(bust)) => assert!((bust.to_cm() - 96.52).abs() < 1e-9, "{text}"),
                other => panic!("{text}: {other:?}"),
            }
        }
        assert_eq!(read(" xl "), Ok(Key::Size("xl".to_owned())));
        let child = find("child").unwrap();
        assert_eq!(
            parse_key(child, "8", Units::In),
            Ok(Key::Size("8".to_owned()))
        );
        let girls = find("nhanes-female").unwrap();
        assert_eq!(
            parse_key(girls, "9 months", Units::In),
            Ok(Key::Size("9 months".to_owned()))
        );
    }

    #[test]
    fn two_lengths_that_differ_are_refused() {
        let woman = find("woman").unwrap();
        let error = parse_key(woman, "38 in (38 cm)", Units::Cm).unwrap_err();
        assert_eq!(
            error.message,
            "the two lengths are not the same: 96.5 cm (38.0 in) and 38.0 cm (15.0 in)."
        );
        for text in ["38 ft", "", "9.9.9 cm", "M L", "-38 in", "38 in x"] {
            let error = parse_key(woman, text, Units::Cm).unwrap_err();
            assert_eq!(error.code.id, "body-size-unknown", "{text}");
        }
    }

    #[test]
    fn an_age_falls_into_its_band() {
        for (age, band) in [
            ("34", Some("30-39")),
            ("9 months", Some("6-11 months")),
            ("18 mo", Some("1")),
            ("95", Some("80+")),
            ("0", None),
            ("old", None),
        ] {
            assert_eq!(age_band(age).as_deref(), band);
        }
    }

    #[test]
    fn sizes_are_found_however_they_are_written() {
        for (written, plainly) in [
            (" XXL ", "2x"),
            ("2XL", "2x"),
            ("Small", "s"),
            ("X-Large", "xl"),
            ("6 months", "6mo"),
            ("3 mo", "3mo"),
            ("8 years", "8"),
            ("2-5 months", "2-5months"),
            ("M", "m"),
        ] {
            assert_eq!(plain(written), plainly);
        }
    }
}
