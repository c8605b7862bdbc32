//! One picture of a result, chosen by its name.

use crate::case::Case;
use crate::convert::Conversion;
use crate::convert::drift::DriftLesson;
use crate::report::{drift_figures, picture, set_figures, size_figures};

/// A picture of a conversion as a file of its own.
///
/// # Errors
/// A sentence: there is no such picture, or the size is not said.
pub(crate) fn conversion_picture(
    case: &Case,
    conversion: &Conversion,
    name: Option<&str>,
) -> Result<String, String> {
    let name = name.unwrap_or("overlay");
    let of_set = set_figures(case, conversion);
    let of_size = size_figures(case, conversion, 0);
    let one_size = conversion.sizes.len() == 1;
    if !one_size && of_size.iter().any(|figure| figure.name == name) {
        let others: Vec<String> = of_set
            .iter()
            .map(|figure| format!(", or --figure {}", figure.name))
            .collect();
        return Err(format!(
            "The picture '{name}' is of one size: choose it with --size ({}){}.",
            case.sizes.join(", "),
            others.concat()
        ));
    }
    picture(of_size.into_iter().chain(of_set).collect(), name)
}

/// A picture of the lesson on drift as a file of its own.
///
/// # Errors
/// A sentence: there is no such picture.
pub(crate) fn lesson_picture(
    case: &Case,
    lesson: &DriftLesson,
    name: Option<&str>,
) -> Result<String, String> {
    picture(
        drift_figures(case, lesson),
        name.unwrap_or("planned-sleeves"),
    )
}
