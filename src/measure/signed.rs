//! Numbers with their signs. A minus is a minus sign, and what rounds to nothing has no sign.

/// A number with its sign and so many decimals.
pub(crate) fn signed_to(number: f64, decimals: i32) -> String {
    let scale = 10_f64.powi(decimals);
    let rounded = (number * scale).round() / scale;
    let sign = match rounded {
        _ if rounded > 0.0 => "+",
        _ if rounded < 0.0 => "\u{2212}",
        _ => "",
    };
    let places = usize::try_from(decimals).unwrap_or_default();
    format!("{sign}{:.places$}", rounded.abs())
}

/// `+0.3`, `−1.2`, `0.0`.
pub(crate) fn signed(number: f64) -> String {
    signed_to(number, 1)
}

/// `+0.3 %`.
pub(crate) fn signed_pct(pct: f64) -> String {
    format!("{} %", signed(pct))
}

/// A whole number with its sign: `+2`, `−3`, `0`.
pub(crate) fn signed_count(count: i64) -> String {
    signed_to(count as f64, 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_are_of_what_is_shown() {
        assert_eq!(signed(0.04), "0.0");
        assert_eq!(signed(-0.04), "0.0");
        assert_eq!(signed(-1.25), "\u{2212}1.3");
        assert_eq!(signed_to(0.125, 2), "+0.13");
        assert_eq!(signed_count(-3), "\u{2212}3");
        assert_eq!(signed_pct(2.0), "+2.0 %");
    }
}
