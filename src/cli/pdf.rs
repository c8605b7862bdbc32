//! The forms made of pages; without the feature `pdf` a sentence says what to build.

use super::args::PaperArg;
use crate::case::Case;
use crate::convert::Conversion;
use crate::convert::drift::DriftLesson;

#[cfg(feature = "pdf")]
mod with {
    use super::{Case, Conversion, DriftLesson, PaperArg};
    use crate::cli::VERSION;
    use crate::report::{Paper, exercise_pdf, lesson_pdf, worksheet_pdf};

    impl From<PaperArg> for Paper {
        fn from(paper: PaperArg) -> Self {
            match paper {
                PaperArg::A4 => Self::A4,
                PaperArg::Letter => Self::Letter,
            }
        }
    }

    pub(crate) fn worksheet(
        case: &Case,
        conversion: &Conversion,
        case_text: &str,
        paper: PaperArg,
    ) -> Result<Vec<u8>, String> {
        worksheet_pdf(case, conversion, case_text, VERSION, paper.into())
            .map_err(|error| error.to_string())
    }

    pub(crate) fn exercise(
        case: &Case,
        lesson: &DriftLesson,
        paper: PaperArg,
    ) -> Result<Vec<u8>, String> {
        exercise_pdf(case, lesson, paper.into()).map_err(|error| error.to_string())
    }

    pub(crate) fn lesson(
        case: &Case,
        lesson: &DriftLesson,
        paper: PaperArg,
    ) -> Result<Vec<u8>, String> {
        lesson_pdf(case, lesson, paper.into()).map_err(|error| error.to_string())
    }
}

#[cfg(not(feature = "pdf"))]
mod with {
    use super::{Case, Conversion, DriftLesson, PaperArg};

    const WITHOUT: &str = "This program was built without PDF; build it with --features pdf, or write .html and print that.";

    pub(crate) fn worksheet(
        _: &Case,
        _: &Conversion,
        _: &str,
        _: PaperArg,
    ) -> Result<Vec<u8>, String> {
        Err(WITHOUT.to_owned())
    }

    pub(crate) fn exercise(_: &Case, _: &DriftLesson, _: PaperArg) -> Result<Vec<u8>, String> {
        Err(WITHOUT.to_owned())
    }

    pub(crate) fn lesson(_: &Case, _: &DriftLesson, _: PaperArg) -> Result<Vec<u8>, String> {
        Err(WITHOUT.to_owned())
    }
}

pub(crate) use with::{exercise, lesson, worksheet};
