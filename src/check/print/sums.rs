//! Two sums of the print that are to be one.

/// What was compared.
pub(super) struct Compared {
    /// The facts that go into it.
    pub(super) facts: Vec<String>,
    /// Both sums in words, with their numbers.
    pub(super) sentence: String,
    /// True where they are near enough.
    pub(super) agree: bool,
}

impl Compared {
    /// Two sums, the second of which lies within these limits of the first.
    pub(super) fn new(facts: &[&str], sentence: String, agree: bool) -> Self {
        Self {
            facts: facts.iter().map(|&key| key.to_owned()).collect(),
            sentence,
            agree,
        }
    }
}

/// A number as it is said: whole, or with one digit behind the point.
pub(super) fn said(number: f64) -> String {
    let rounded = (number * 10.0).round() / 10.0;
    rounded.to_string()
}
