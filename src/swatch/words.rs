//! Numbers and lists as a knitter reads them.

use crate::measure::{Length, Units};

/// What was counted: along a row, or up the fabric.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Counted {
    /// Stitches, along a row.
    Stitches,
    /// Rows, up the fabric.
    Rows,
}

impl Counted {
    /// `stitches` or `rows`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stitches => "stitches",
            Self::Rows => "rows",
        }
    }

    /// `stitch` or `row`.
    pub const fn singular(self) -> &'static str {
        match self {
            Self::Stitches => "stitch",
            Self::Rows => "row",
        }
    }

    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Stitches => Self::Rows,
            Self::Rows => Self::Stitches,
        }
    }
}

/// A gauge per 10 cm as a number in the case's units: per 10 cm, or per 4 in.
pub fn show_gauge(per_10cm: f64, units: Units) -> String {
    let shown = per_10cm * (units.swatch_length().to_cm() / 10.0);
    // Adding zero turns -0.0 into 0.0.
    format!("{:.1}", (shown * 10.0).round() / 10.0 + 0.0)
}

/// `10 cm` or `4 in`: what a gauge is given over in these units.
pub(crate) fn gauge_length(units: Units) -> String {
    let length = units.swatch_length();
    format!("{} {}", plain(units.number(length)), units.word())
}

/// A length at which counting again helps: half as long again as the usual one.
pub(crate) fn longer_length(units: Units) -> String {
    let length = units.swatch_length() * 1.5;
    format!("{} {}", plain(units.number(length)), units.word())
}

/// A number with at most two decimals, and none that are zero: `22`, `22.5`, `10.16`.
pub(crate) fn plain(number: f64) -> String {
    let text = format!("{number:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// A length with at most two decimals in the case's units.
pub(crate) fn exact_length(length: Length, units: Units) -> String {
    format!("{} {}", plain(units.number(length)), units.word())
}

/// A part of a stitch or row: `half a stitch`, `one row`, `0.3 of a stitch`.
pub(crate) fn part(division: f64, counted: Counted) -> String {
    let (one, many) = (counted.singular(), counted.word());
    match plain(division).as_str() {
        "0.25" => format!("a quarter of a {one}"),
        "0.5" => format!("half a {one}"),
        "1" => format!("one {one}"),
        number if division < 1.0 => format!("{number} of a {one}"),
        number => format!("{number} {many}"),
    }
}

/// The word for a small number of times or places: `one more place`, `3 more places`.
pub(crate) fn places(count: usize) -> String {
    if count == 1 {
        "one more place".to_owned()
    } else {
        format!("{count} more places")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gauge_is_shown_as_the_case_counts_it() {
        assert_eq!(show_gauge(22.5, Units::Cm), "22.5");
        // 4 in are 10.16 cm, so 22 in 4 in are 21.65 in 10 cm.
        assert_eq!(show_gauge(22.0 / 1.016, Units::In), "22.0");
        assert_eq!(gauge_length(Units::Cm), "10 cm");
        assert_eq!(longer_length(Units::In), "6 in");
    }

    #[test]
    fn numbers_and_lists_read_well() {
        assert_eq!(plain(22.0), "22");
        assert_eq!(plain(10.16), "10.16");
        assert_eq!(plain(-0.001), "0");
        assert_eq!(part(0.5, Counted::Rows), "half a row");
        assert_eq!(part(2.0, Counted::Rows), "2 rows");
        assert_eq!(part(0.1, Counted::Stitches), "0.1 of a stitch");
        assert_eq!(places(1), "one more place");
    }
}
