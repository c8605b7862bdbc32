//! Numbers as people read them: units and rounding, in one place; signs are those of `measure`.

use crate::measure::{Gauge, Length, Units};
pub(crate) use crate::measure::{signed, signed_count, signed_pct, signed_to};

/// A length with its sign, in these units without their name.
pub(crate) fn signed_in(units: Units, length: Length) -> String {
    signed(units.number(length))
}

/// A length with its sign and its unit.
pub(crate) fn signed_length(units: Units, length: Length) -> String {
    format!("{} {units}", signed_in(units, length))
}

/// A number with so many decimals, halves away from zero as people round them: 21.25 is 21.3 wherever it stands.
pub(crate) fn rounded_to(number: f64, decimals: i32) -> String {
    let scale = 10_f64.powi(decimals);
    let places = usize::try_from(decimals).unwrap_or_default();
    format!("{:.places$}", (number * scale).round() / scale + 0.0)
}

/// A length without its unit, to a tenth.
pub(crate) fn plain(units: Units, length: Length) -> String {
    rounded_to(units.number(length), 1)
}

/// `22.5 sts and 30.0 rows`, over the length a gauge is counted over in these units.
pub(crate) fn gauge(units: Units, gauge: Gauge) -> String {
    let over = units.swatch_length().to_cm() / 10.0;
    let number = |per_10cm: f64| rounded_to(per_10cm * over, 1);
    format!(
        "{} sts and {} rows",
        number(gauge.stitches_per_10cm()),
        number(gauge.rows_per_10cm())
    )
}

/// `1 run`, `4 runs`, `2 stitches`.
pub(crate) fn counted(n: usize, word: &str) -> String {
    let plural = match word {
        _ if n == 1 => "",
        "stitch" => "es",
        _ => "s",
    };
    format!("{n} {word}{plural}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_are_rounded_away_from_zero() {
        assert_eq!(rounded_to(21.25, 1), "21.3");
        assert_eq!(rounded_to(-0.04, 1), "0.0");
    }
}
