//! Lists in trade notation, `60 (64, 68)`: one number for each size.

use std::fmt;

/// Why a list in trade notation was not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SizeListError {
    /// There is no number in it.
    Empty,
    /// Something that is not a number stands where a number was expected.
    NotANumber(String),
}

impl fmt::Display for SizeListError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("there is no number in it"),
            Self::NotANumber(word) => write!(f, "'{word}' is not a number"),
        }
    }
}

impl std::error::Error for SizeListError {}

/// Reads the numbers of a list in trade notation, in the order of the sizes.
///
/// Round and square brackets, commas, colons, semicolons and spaces all separate.
/// `60 (64, 68)`, `67 [71:77]` and `18` are lists of three, three and one numbers. This is the
/// notation of single values in a case file; pattern lines have a richer one in `pattern`.
///
/// # Errors
/// [`SizeListError`] when it holds no number or something else than numbers.
pub fn parse_size_list(text: &str) -> Result<Vec<f64>, SizeListError> {
    let separators = ['(', ')', '[', ']', ',', ':', ';', ' ', '\t', '\u{a0}'];
    let words = text.split(separators).filter(|word| !word.is_empty());
    let numbers: Result<Vec<f64>, _> = words
        .map(|word| {
            word.parse::<f64>()
                .ok()
                .filter(|number| number.is_finite())
                .ok_or_else(|| SizeListError::NotANumber(word.to_owned()))
        })
        .collect();
    match numbers {
        Ok(list) if list.is_empty() => Err(SizeListError::Empty),
        other => other,
    }
}

/// `fifty (50)`, `50 (fifty)`: of two equal numbers one stands in words and one in figures, so they are one number told
/// twice and no two sizes.
pub(crate) fn told_twice(one: &str, again: &str) -> bool {
    one.contains(char::is_alphabetic) != again.contains(char::is_alphabetic)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_notations_of_a_single_value() {
        assert_eq!(parse_size_list("60 (64, 68)").unwrap(), [60.0, 64.0, 68.0]);
        assert_eq!(parse_size_list("67 [71:77]").unwrap(), [67.0, 71.0, 77.0]);
        assert_eq!(
            parse_size_list("41 (46, 46) (54, 56)").unwrap().len(),
            5,
            "two bracket groups are one list"
        );
        assert_eq!(parse_size_list("18.5").unwrap(), [18.5]);
        assert_eq!(parse_size_list(" ( ) "), Err(SizeListError::Empty));
        assert_eq!(
            parse_size_list("6 (x)"),
            Err(SizeListError::NotANumber("x".to_owned()))
        );
    }
}
