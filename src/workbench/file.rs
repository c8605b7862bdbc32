//! Downloads: the bytes a command writes for the same case.

use super::api::Answer;
use super::request::Request;
use super::said::of_lines;
use crate::case::Case;
use crate::convert::drift::drift as lesson_of;
use crate::convert::{Conversion, convert};
use crate::report::{
    checklist_csv, checklist_text, conversion_json, conversion_text, drift_exercise_text,
    together_text,
};

const TEXT: &str = "text/plain; charset=utf-8";

/// The file that is asked for by `"kind"`.
pub(super) fn file(request: &Request, only: Option<usize>) -> Answer {
    let kind = request.word("kind").unwrap_or_default();
    if kind == "toml" {
        return named(request, "toml", "application/toml", request.text.clone());
    }
    let Some(case) = &request.case else {
        return Answer::refused("The case is not complete yet; its fields say what is missing.");
    };
    if kind == "exercise" {
        return match lesson_of(case, only) {
            Ok(lesson) => named(
                request,
                "exercise.txt",
                TEXT,
                drift_exercise_text(case, &lesson),
            ),
            Err(found) => Answer::failed(&of_lines(&found, Some(case))),
        };
    }
    match convert(case, only) {
        Ok(conversion) => of_conversion(request, kind, case, &conversion),
        Err(found) => Answer::failed(&of_lines(&found, Some(case))),
    }
}

fn of_conversion(request: &Request, kind: &str, case: &Case, conversion: &Conversion) -> Answer {
    let (ending, mime, text) = match kind {
        "txt" => ("txt", TEXT, conversion_text(case, conversion)),
        "together" => ("all-sizes.txt", TEXT, together_text(case, conversion)),
        "checklist" => ("checklist.txt", TEXT, checklist_text(conversion)),
        "csv" => (
            "checklist.csv",
            "text/csv; charset=utf-8",
            checklist_csv(conversion),
        ),
        "json" => {
            let json = conversion_json(case, conversion);
            ("json", "application/json", format!("{json:#}\n"))
        }
        _ => {
            return Answer::refused(
                "\"kind\" is one of toml, txt, together, checklist, csv, json, exercise.",
            );
        }
    };
    named(request, ending, mime, text)
}

fn named(request: &Request, ending: &str, mime: &'static str, text: impl Into<Vec<u8>>) -> Answer {
    let title = request.form.get("title").and_then(|title| title.as_str());
    Answer {
        file: Some(format!(
            "{}.{ending}",
            plain_name(title.unwrap_or_default())
        )),
        ..Answer::fine(mime, text.into())
    }
}

/// A title as a file name of letters, digits and hyphens.
fn plain_name(title: &str) -> String {
    let letters = title.chars().take(60).map(|letter| {
        if letter.is_ascii_alphanumeric() {
            letter.to_ascii_lowercase()
        } else {
            '-'
        }
    });
    let letters: String = letters.collect();
    let words: Vec<&str> = letters.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        "sleeve".to_owned()
    } else {
        words.join("-")
    }
}

#[cfg(test)]
mod tests {
    use super::plain_name;

    #[test]
    fn a_file_name_holds_no_path() {
        assert_eq!(plain_name("../../etc/passwd"), "etc-passwd");
        assert_eq!(plain_name("Tern Harbour pullover"), "tern-harbour-pullover");
        assert_eq!(plain_name("\u{1f9f6}\"\r\n"), "sleeve");
    }
}
