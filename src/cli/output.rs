//! Where a result goes and in which form: the ending of `-o` decides, `--format` where there is none.

use std::borrow::Cow;
use std::path::{Path, PathBuf};

use super::args::{Format, OutputArgs};
use super::files;
use super::form::{Form, endings};
use super::outcome::Outcome;
use crate::diagnostic::visible_lines;

/// Where the result goes: known before anything is computed.
#[derive(Debug)]
pub(crate) struct Targets {
    /// Files and what each holds.
    files: Vec<(PathBuf, Form)>,
    /// What is printed; without files, always something.
    printed: Option<Form>,
}

impl Targets {
    /// Decides on a form for every file. `can` is what the command writes, `inputs` what it reads.
    ///
    /// # Errors
    /// A sentence for each file that cannot be written, in one outcome.
    pub(crate) fn new(args: &OutputArgs, inputs: &[&Path], can: &[Form]) -> Result<Self, Outcome> {
        let usual = can.first().copied().unwrap_or(Form::Text);
        let asked = args.format.map_or(usual, Form::from);
        let print =
            args.output.is_empty() || args.output.iter().any(|path| is_standard_output(path));
        let mut files: Vec<(PathBuf, Form)> = Vec::new();
        let mut faults = Vec::new();
        if print && !can.contains(&asked) {
            faults.push(format!(
                "--format {} does not go with the other options, which write {}.",
                asked.ending(),
                endings(can)
            ));
        }
        for path in args.output.iter().filter(|path| !is_standard_output(path)) {
            let twice = files.iter().any(|(known, _)| files::same(known, path));
            let form = form_of(path, args.format, can)
                .and_then(|form| files::writable(path, inputs).map(|()| form));
            match form {
                Ok(_) if twice => faults.push(format!(
                    "{} is named twice; give every result a file of its own.",
                    path.display()
                )),
                Ok(form) => files.push((path.clone(), form)),
                Err(sentence) => faults.push(sentence),
            }
        }
        if faults.is_empty() {
            let printed = print.then_some(asked);
            return Ok(Self { files, printed });
        }
        Err(Outcome::unusable_for(&faults))
    }

    /// Every form that is asked for, once.
    pub(crate) fn forms(&self) -> Vec<Form> {
        let mut forms: Vec<Form> = Vec::new();
        for form in self.files.iter().map(|(_, form)| *form).chain(self.printed) {
            if !forms.contains(&form) {
                forms.push(form);
            }
        }
        forms
    }

    /// Prints the result or writes all files; when one cannot be made, none is written.
    pub(crate) fn deliver(
        &self,
        mut outcome: Outcome,
        render: impl Fn(Form) -> Result<Vec<u8>, String>,
    ) -> Outcome {
        let made: Result<Vec<(Form, Vec<u8>)>, String> = self
            .forms()
            .into_iter()
            .map(|form| Ok((form, safe(form, render(form)?))))
            .collect();
        let made = match made {
            Ok(made) => made,
            Err(sentence) => return Outcome::unusable(&sentence).after(&outcome.err),
        };
        let of = |form: Form| made.iter().find(|(known, _)| *known == form);
        if let Some((_, bytes)) = self.printed.and_then(of) {
            // A PDF is never printed; all other forms are UTF-8.
            outcome.out = String::from_utf8_lossy(bytes).into_owned();
        }
        let contents: Vec<(&Path, &[u8])> = self
            .files
            .iter()
            .filter_map(|(path, form)| Some((path.as_path(), of(*form)?.1.as_slice())))
            .collect();
        match files::write_all(&contents) {
            Ok(()) => outcome,
            Err(sentence) => Outcome::unusable(&sentence).after(&outcome.err),
        }
    }
}

/// The same result with nothing in it that acts on a terminal or on the direction of reading,
/// wherever it came from. In JSON the escapes mean what they stand for.
pub(crate) fn safe(form: Form, bytes: Vec<u8>) -> Vec<u8> {
    match (form, String::from_utf8(bytes)) {
        (Form::Pdf, Ok(text)) => text.into_bytes(),
        (_, Ok(text)) => match visible_lines(&text) {
            Cow::Borrowed(_) => text.into_bytes(),
            Cow::Owned(text) => text.into_bytes(),
        },
        (_, Err(bytes)) => bytes.into_bytes(),
    }
}

/// `-`, or standard output by the names that Unix has for it.
fn is_standard_output(path: &Path) -> bool {
    let names = ["-", "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"];
    names.iter().any(|name| path.as_os_str() == *name)
}

/// The form a file is written in.
fn form_of(path: &Path, format: Option<Format>, can: &[Form]) -> Result<Form, String> {
    let name = path.display();
    let chosen = format.map(Form::from);
    let Some(ending) = path.extension().map(|ending| ending.to_string_lossy()) else {
        return Ok(chosen.or(can.first().copied()).unwrap_or(Form::Text));
    };
    match (Form::of(&ending), chosen) {
        (Some(form), _) if !can.contains(&form) => Err(format!(
            "{name}: this command does not write .{}; it writes {}.",
            form.ending(),
            endings(can)
        )),
        (Some(form), Some(chosen)) if form != chosen => Err(format!(
            "{name}: --format says .{}, the file's name says .{}; leave one of them out.",
            chosen.ending(),
            form.ending()
        )),
        (Some(form), _) => Ok(form),
        (None, Some(chosen)) => Ok(chosen),
        (None, None) => Err(format!(
            "{name}: the ending .{ending} says no form that is known; this command writes {}. Change the ending, or say --format text or --format json.",
            endings(can)
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::form::{EVERY_FORM, TEXT_JSON};

    fn form(path: &str, format: Option<Format>) -> Result<Form, String> {
        form_of(Path::new(path), format, EVERY_FORM)
    }

    #[test]
    fn the_ending_decides() {
        assert_eq!(form("a/sleeve.pdf", None), Ok(Form::Pdf));
        assert_eq!(form("SLEEVE.HTML", None), Ok(Form::Html));
        assert_eq!(form("sleeve.json", Some(Format::Json)), Ok(Form::Json));
        assert_eq!(form("sleeve", None), Ok(Form::Text));
        assert_eq!(form("sleeve", Some(Format::Json)), Ok(Form::Json));
        assert_eq!(form("sleeve.md", Some(Format::Text)), Ok(Form::Text));
    }

    #[test]
    fn what_cannot_be_written_is_said() {
        let unknown = form("sleeve.doc", None).unwrap_err();
        assert!(
            unknown.contains(".txt, .json, .html, .pdf, .svg and .csv"),
            "{unknown}"
        );
        let both = form("sleeve.txt", Some(Format::Json)).unwrap_err();
        assert!(both.contains("leave one of them out"), "{both}");
        let cannot = form_of(Path::new("x.svg"), None, TEXT_JSON).unwrap_err();
        assert!(cannot.contains("it writes .txt and .json"), "{cannot}");
    }
}
