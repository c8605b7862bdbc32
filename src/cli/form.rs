//! The forms a result can take.

/// A form a result can take.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Form {
    /// For people
    Text,
    /// For programs
    Json,
    /// A page
    Html,
    /// Sheets of paper
    Pdf,
    /// One picture
    Svg,
    /// Comma-separated values
    Csv,
}

/// All there are.
pub(crate) const EVERY_FORM: &[Form] = &[
    Form::Text,
    Form::Json,
    Form::Html,
    Form::Pdf,
    Form::Svg,
    Form::Csv,
];

/// What every command can write.
pub(crate) const TEXT_JSON: &[Form] = &[Form::Text, Form::Json];

/// What a document is laid out as.
pub(crate) const LAID_OUT: &[Form] = &[Form::Text, Form::Html, Form::Pdf];

/// What a check can be written as.
pub(crate) const CHECK_FORMS: &[Form] = &[Form::Text, Form::Json, Form::Html, Form::Pdf];

/// What the lesson on drift can be written as.
pub(crate) const LESSON_FORMS: &[Form] =
    &[Form::Text, Form::Json, Form::Html, Form::Pdf, Form::Svg];

/// What the exercise sheet can be written as.
pub(crate) const EXERCISE_FORMS: &[Form] = &[Form::Text, Form::Json, Form::Html, Form::Pdf];

impl Form {
    pub(crate) const fn ending(self) -> &'static str {
        match self {
            Self::Text => "txt",
            Self::Json => "json",
            Self::Html => "html",
            Self::Pdf => "pdf",
            Self::Svg => "svg",
            Self::Csv => "csv",
        }
    }

    pub(crate) fn of(ending: &str) -> Option<Self> {
        let ending = ending.to_lowercase();
        EVERY_FORM
            .iter()
            .copied()
            .find(|form| form.ending() == ending)
    }
}

/// `.txt, .json and .pdf`.
pub(crate) fn endings(can: &[Form]) -> String {
    let words: Vec<String> = can
        .iter()
        .map(|form| format!(".{}", form.ending()))
        .collect();
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => words.concat(),
    }
}
