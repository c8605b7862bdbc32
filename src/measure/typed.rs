//! A length as people type it at the needles: `6.5`, `6,5`, `7 1/4`, `7½`, `2.8 in`, `71 mm`.

use super::length::{Length, Units};

/// The length that was typed, in these units where it names none; none where it is no length.
///
/// ```
/// use capwright::measure::{Length, Units, typed_length};
/// assert_eq!(typed_length("7 1/4", Units::In), Some(Length::inches(7.25)));
/// assert_eq!(typed_length("a span", Units::In), None);
/// ```
pub fn typed_length(text: &str, units: Units) -> Option<Length> {
    let text = spelt_out(text.trim());
    let number_ends = text.rfind(|c: char| c.is_ascii_digit())? + 1;
    let (typed, unit) = text.split_at_checked(number_ends)?;
    let one = match unit.trim().trim_end_matches('.').to_lowercase().as_str() {
        "" => units.length(1.0),
        "cm" | "cms" => Length::cm(1.0),
        "mm" => Length::cm(0.1),
        "in" | "ins" | "inch" | "inches" | "\"" | "\u{201d}" | "\u{2033}" | "''" => {
            Length::inches(1.0)
        }
        _ => return None,
    };
    let length = one * number(typed.trim())?;
    length.is_positive().then_some(length)
}

/// `7½` as `7 1/2`, a decimal comma as a point.
fn spelt_out(text: &str) -> String {
    let sign = |c| {
        Some(match c {
            '\u{bd}' => "1/2",
            '\u{bc}' => "1/4",
            '\u{be}' => "3/4",
            '\u{2153}' => "1/3",
            '\u{2154}' => "2/3",
            '\u{215b}' => "1/8",
            '\u{215c}' => "3/8",
            '\u{215d}' => "5/8",
            '\u{215e}' => "7/8",
            _ => return None,
        })
    };
    let spelt = text.chars().map(|c| match sign(c) {
        Some(fraction) => format!(" {fraction}"),
        None if c == ',' => ".".to_owned(),
        None if c == '\u{2044}' => "/".to_owned(),
        None => c.to_string(),
    });
    spelt.collect()
}

/// `7.25`, `1/4`, `7 1/4`, `7-1/4`.
fn number(text: &str) -> Option<f64> {
    // A sign is none of a length; the hyphen stands between a number and its fraction.
    if text.starts_with('-') {
        return None;
    }
    let parts: Vec<&str> = text.split([' ', '-']).filter(|p| !p.is_empty()).collect();
    match parts.as_slice() {
        [one] if one.contains('/') => fraction(one),
        [one] => decimal(one),
        [whole, part] => {
            let whole: u32 = whole.parse().ok()?;
            Some(f64::from(whole) + fraction(part)?)
        }
        _ => None,
    }
}

fn fraction(text: &str) -> Option<f64> {
    let (over, under) = text.split_once('/')?;
    let (over, under): (u32, u32) = (over.parse().ok()?, under.parse().ok()?);
    (under > 0).then(|| f64::from(over) / f64::from(under))
}

/// Digits with one point at the most: no sign, no exponent, no word.
fn decimal(text: &str) -> Option<f64> {
    let plain = text.chars().all(|c| c.is_ascii_digit() || c == '.');
    text.parse().ok().filter(|_| plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand; an inch is 2.54 cm.
    #[test]
    fn lengths_as_they_are_typed() {
        for (typed, units, cm) in [
            ("6.5", Units::Cm, 6.5),
            ("6,5 cm", Units::In, 6.5),
            ("71 mm", Units::In, 7.1),
            ("2.8 in", Units::Cm, 7.112),
            ("7 1/4", Units::In, 18.415),
            ("7-1/4\"", Units::Cm, 18.415),
            ("7\u{bd}", Units::In, 19.05),
            ("\u{be} inch", Units::Cm, 1.905),
            ("3/4", Units::In, 1.905),
        ] {
            let read = typed_length(typed, units).map(Length::to_cm);
            assert!(read.is_some_and(|read| (read - cm).abs() < 1e-9), "{typed}");
        }
        for typed in [
            "", "in", "a span", "-3", "0", "1/0", "7 8", "1e3", "2 ells", "NaN", "6.5.1",
        ] {
            assert_eq!(typed_length(typed, Units::Cm), None, "{typed}");
        }
    }
}
