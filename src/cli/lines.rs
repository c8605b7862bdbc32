//! A case as a line of JSON in, its result as a line of JSON out: for job runners that split a
//! large archive into lines.
//!
//! The lines are read a few at a time and worked on side by side; results come in the order of the
//! lines, each as soon as it can. A line that cannot be used gives a result that says why.

use std::fs::File;
use std::io::{self, BufRead, BufReader, Write};
use std::num::NonZeroUsize;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

use serde::Serialize;
use serde_json::{Value, json};

use super::args::LinesForm;
use super::bounded::next_line;
use super::files::{Growing, plain, writable};
use super::job::{Done, Job, Wanted};
use super::outcome::{FINDINGS, Outcome, UNUSABLE};
use crate::case::case_text;
use crate::diagnostic::visible;
use crate::measure::limits::{MAX_AHEAD, MAX_LINE_BYTES};
use crate::parallel;
use crate::report::{CaseSummary, Ending};

/// A line as it was read: its number, counted from 1, and its bytes or why there are none.
type NumberedLine = (u64, Result<Vec<u8>, String>);

/// How the lines came out.
#[derive(Debug, Default)]
struct Tally {
    lines: u64,
    failed: u64,
    findings: u64,
}

/// Does the job for every line of the files that were named, or of standard input.
pub(crate) fn lines(job: &Job<'_>, form: LinesForm) -> Outcome {
    let paths: Vec<&Path> = std::iter::once(&job.case().case)
        .chain(&job.batch().more)
        .map(PathBuf::as_path)
        .collect();
    if let Some(missing) = paths.iter().find(|path| path.is_dir()) {
        return Outcome::unusable(&format!(
            "{} is a folder; lines come from files or from standard input.",
            missing.display()
        ));
    }
    let source = NumberedLines::new(paths.iter().map(|path| (*path).to_owned()).collect());
    let mut count = Tally::default();
    let file = match job.only_output("Lines go to one file") {
        Ok(file) => file,
        Err(sentence) => return Outcome::unusable(&sentence),
    };
    if let Some(path) = file
        && let Err(sentence) = writable(path, &paths)
    {
        return Outcome::unusable(&sentence);
    }
    let written = if let Some(path) = file {
        to_file(job, form, source, path, &mut count)
    } else {
        stream(job, form, source, &mut io::stdout().lock(), &mut count)
    };
    match written {
        Ok(()) => count.outcome(),
        // The reader has gone away: it has what it wanted.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => count.outcome(),
        Err(error) => Outcome::unusable(&format!(
            "The results cannot be written: {}.",
            plain(&error)
        )),
    }
}

fn to_file(
    job: &Job<'_>,
    form: LinesForm,
    source: NumberedLines,
    path: &Path,
    count: &mut Tally,
) -> io::Result<()> {
    let mut file = Growing::begin(path)?;
    stream(job, form, source, &mut file, count)?;
    file.finish()
}

/// Lines in, lines out.
fn stream(
    job: &Job<'_>,
    form: LinesForm,
    source: NumberedLines,
    out: &mut dyn Write,
    count: &mut Tally,
) -> io::Result<()> {
    let mut written = Ok(());
    let work = |(number, line): NumberedLine| result(job, form, number, line);
    let threads = job.threads();
    let ahead = threads.get() * MAX_AHEAD;
    parallel::stream(threads, ahead, source, work, |(ending, line)| {
        count.lines += 1;
        count.failed += u64::from(ending == Ending::Failed);
        count.findings += u64::from(ending == Ending::Findings);
        // Each result goes out at once: who waits for it may be who writes the next line.
        written = writeln!(out, "{line}").and_then(|()| out.flush());
        match written {
            Ok(()) => ControlFlow::Continue(()),
            Err(_) => ControlFlow::Break(()),
        }
    });
    written
}

impl Tally {
    fn outcome(&self) -> Outcome {
        let code = match (self.failed, self.findings) {
            (0, 0) => 0,
            (0, _) => FINDINGS,
            _ => UNUSABLE,
        };
        Outcome {
            err: format!("note: {} lines, {} failed.\n", self.lines, self.failed),
            code,
            ..Outcome::default()
        }
    }
}

/// The result of one line.
fn result(
    job: &Job<'_>,
    form: LinesForm,
    number: u64,
    line: Result<Vec<u8>, String>,
) -> (Ending, String) {
    let (id, text) = match line.and_then(|line| read(&line)) {
        Ok(asked) => (asked.id, asked.text),
        Err(sentence) => (Value::Null, Err(sentence)),
    };
    let wanted = match form {
        LinesForm::Full => Wanted::Json,
        LinesForm::Summary => Wanted::Nothing,
    };
    let name = format!("line {number}");
    let done = job.run(&name, text, wanted, NonZeroUsize::MIN);
    let ending = done.summary.ending();
    let answer = answer(number, id, form, ending, done).to_string();
    // What a text holds may act on the terminal it is shown on; in JSON the escapes mean the same.
    (ending, visible(&answer).into_owned())
}

/// A line of the answer.
#[derive(Serialize)]
struct LineJson {
    /// The number of the line it answers.
    line: u64,
    /// As it was given.
    #[serde(skip_serializing_if = "Value::is_null")]
    id: Value,
    ok: bool,
    /// Why it is not.
    #[serde(skip_serializing_if = "Option::is_none")]
    errors: Option<Vec<ErrorJson>>,
    /// The whole result.
    #[serde(skip_serializing_if = "Option::is_none")]
    result: Option<Value>,
    /// Its figures and findings alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    summary: Option<CaseSummary>,
}

#[derive(Serialize)]
struct ErrorJson {
    code: String,
    message: String,
    next: String,
    size: Option<String>,
}

fn answer(number: u64, id: Value, form: LinesForm, ending: Ending, done: Done) -> Value {
    let failed = ending == Ending::Failed;
    let (result, summary) = match form {
        LinesForm::Full => (done.json, None),
        // Without a size there is nothing that the errors do not say.
        LinesForm::Summary if done.summary.sizes.is_empty() => (None, None),
        LinesForm::Summary => (None, Some(done.summary.clone())),
    };
    json!(LineJson {
        line: number,
        id,
        ok: !failed,
        errors: failed.then(|| errors(&done.summary)),
        result,
        summary,
    })
}

/// Of the case, then of each size that failed.
fn errors(summary: &CaseSummary) -> Vec<ErrorJson> {
    let sizes = summary.sizes.iter().filter(|size| !size.done);
    let of_sizes = sizes.flat_map(|size| size.findings.iter().map(|said| (said, Some(&size.size))));
    let of_case = summary.findings.iter().map(|said| (said, None));
    let all = of_case
        .chain(of_sizes)
        .filter(|(said, _)| said.level == "error");
    all.map(|(said, size)| ErrorJson {
        code: said.code.clone(),
        message: said.message.clone(),
        next: said.next.clone(),
        size: size.cloned(),
    })
    .collect()
}

/// The case that a JSON object says.
fn of_json(json: &Value) -> Result<String, String> {
    case_text(json).map_err(|error| error.to_string())
}

/// What a line asks for.
struct LineAsked {
    /// Handed back with the result.
    id: Value,
    /// The case as the text of a case file.
    text: Result<String, String>,
}

/// A line is a case, or `{"id": ..., "case": {...}}`, or `{"id": ..., "toml": "..."}`.
fn read(line: &[u8]) -> Result<LineAsked, String> {
    let text = std::str::from_utf8(line).map_err(|error| {
        let at = error.valid_up_to();
        format!("The line is not UTF-8: byte {at} of it cannot be read.")
    })?;
    let mut json: Value = serde_json::from_str(text).map_err(|error| {
        let place = error.column();
        format!("The line is not JSON: something is wrong at or before byte {place} of it.")
    })?;
    let object = json.as_object_mut().filter(|object| {
        let of_case = ["sleeve", "gauge", "armhole"];
        let wraps = object.contains_key("case") || object.contains_key("toml");
        wraps && !of_case.iter().any(|key| object.contains_key(*key))
    });
    let Some(object) = object else {
        return Ok(LineAsked {
            id: Value::Null,
            text: of_json(&json),
        });
    };
    let id = object.remove("id").unwrap_or_default();
    let text = match (object.remove("case"), object.remove("toml")) {
        (Some(case), None) => of_json(&case),
        (None, Some(Value::String(toml))) => Ok(toml),
        (None, _) => Err("\"toml\" must be the text of a case file.".to_owned()),
        (Some(_), Some(_)) => {
            Err("The line has \"case\" and \"toml\"; keep one of them.".to_owned())
        }
    };
    let unknown: Vec<&str> = object.keys().map(String::as_str).collect();
    let text = if unknown.is_empty() {
        text
    } else {
        Err(format!(
            "A line holds \"id\" and \"case\" (or \"toml\"); {} is not known.",
            unknown.join(", ")
        ))
    };
    Ok(LineAsked { id, text })
}

/// Lines of several files, one after the other, numbered throughout. Empty lines are passed over.
struct NumberedLines {
    files: std::vec::IntoIter<PathBuf>,
    open: Option<Box<dyn BufRead + Send>>,
    number: u64,
}

impl NumberedLines {
    fn new(files: Vec<PathBuf>) -> Self {
        Self {
            files: files.into_iter(),
            open: None,
            number: 0,
        }
    }

    fn opened(path: &Path) -> io::Result<Box<dyn BufRead + Send>> {
        if path.as_os_str() == "-" {
            return Ok(Box::new(BufReader::new(io::stdin())));
        }
        Ok(Box::new(BufReader::new(File::open(path)?)))
    }
}

impl Iterator for NumberedLines {
    type Item = NumberedLine;

    fn next(&mut self) -> Option<NumberedLine> {
        loop {
            if self.open.is_none() {
                let path = self.files.next()?;
                match Self::opened(&path) {
                    Ok(file) => self.open = Some(file),
                    Err(error) => {
                        self.number += 1;
                        let why = format!("{} cannot be read: {}.", path.display(), plain(&error));
                        return Some((self.number, Err(why)));
                    }
                }
            }
            let file = self.open.as_mut()?;
            match next_line(file, MAX_LINE_BYTES) {
                Ok(None) => self.open = None,
                Ok(Some(line)) => {
                    self.number += 1;
                    if line.as_ref().is_ok_and(|line| is_blank(line)) {
                        continue;
                    }
                    return Some((self.number, line.map_err(|_| too_long())));
                }
                Err(error) => {
                    self.open = None;
                    self.number += 1;
                    let why = format!("Reading broke off: {}.", plain(&error));
                    return Some((self.number, Err(why)));
                }
            }
        }
    }
}

fn too_long() -> String {
    format!(
        "The line is longer than {} MB; a case is a few kilobytes.",
        MAX_LINE_BYTES >> 20
    )
}

fn is_blank(line: &[u8]) -> bool {
    line.iter().all(u8::is_ascii_whitespace)
}
