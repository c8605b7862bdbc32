//! Sizes and lengths as people write them.

/// A size without the ways of writing it: `Small` and `s` are `s`, `XXL` and `2XL` are `2x`,
/// `6 months` is `6mo`.
pub(super) fn plain(label: &str) -> String {
    let text: String = label
        .to_lowercase()
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '.')
        .collect();
    let word = match text.as_str() {
        "extrasmall" | "extra-small" | "xsmall" | "x-small" => "xs",
        "small" => "s",
        "medium" => "m",
        "large" => "l",
        "extralarge" | "extra-large" | "xlarge" | "x-large" => "xl",
        "xxl" | "2xl" => "2x",
        "xxxl" | "3xl" => "3x",
        "4xl" => "4x",
        "5xl" => "5x",
        _ => return months(&text),
    };
    word.to_owned()
}

/// `6months` and `6m` keep their number and end in `mo`; `8years` is `8`.
fn months(text: &str) -> String {
    let number = |endings: &[&str]| {
        let rest = endings
            .iter()
            .find_map(|ending| text.strip_suffix(ending))?;
        (!rest.is_empty() && rest.bytes().all(|b| b.is_ascii_digit())).then_some(rest)
    };
    if let Some(months) = number(&["months", "month", "mos", "mo", "m"]) {
        format!("{months}mo")
    } else if let Some(years) = number(&["years", "year", "yrs", "yr", "y"]) {
        years.to_owned()
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
