//! Many cases at once: found, done side by side, kept, summed up.

mod find;
mod folder;
mod store;

use std::io::{self, IsTerminal as _};
use std::num::NonZeroUsize;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

use indicatif::{ProgressBar, ProgressStyle};

use super::files;
use super::form::Form;
use super::job::{Job, Wanted};
use super::lines;
use super::outcome::{FINDINGS, Outcome, UNUSABLE};
use super::output::safe;
use crate::diagnostic::{visible, visible_lines};
use crate::measure::limits::MAX_AHEAD;
use crate::parallel;
use crate::report::{CaseSummary, Ending, Said, batch_document, summary_csv};
use find::{CaseFile, find};
use store::{Journal, Store, StoredCase, Trouble};

/// One case of the batch, done.
enum Finished {
    /// Done now, or unchanged since an earlier run.
    Kept(StoredCase, Age),
    /// Not to be kept: it could not be read or written, or the program is at fault.
    Lost(CaseSummary),
    /// Nothing can be written any more.
    Stopped(String),
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Age {
    New,
    Unchanged,
}

/// What the whole run left behind.
#[derive(Default)]
struct BatchRun {
    summaries: Vec<CaseSummary>,
    entries: Vec<StoredCase>,
    unchanged: usize,
    stopped: Option<String>,
}

/// What to do when not one case was named but many: lines, several files or a folder.
pub(crate) fn many(job: &Job<'_>) -> Option<Outcome> {
    let args = job.batch();
    let first = &job.case().case;
    if let Some(form) = args.lines {
        return Some(lines::lines(job, form));
    }
    (!args.more.is_empty() || first.is_dir()).then(|| batch(job))
}

/// Does the job for every case that was named or lies in a named folder.
fn batch(job: &Job<'_>) -> Outcome {
    whole_batch(job).unwrap_or_else(|sentence| Outcome::unusable(&sentence))
}

/// The same, or why nothing can be done.
fn whole_batch(job: &Job<'_>) -> Result<Outcome, String> {
    let mut paths = vec![job.case().case.as_path()];
    paths.extend(job.batch().more.iter().map(PathBuf::as_path));
    let search = find(&paths);
    if search.cases.is_empty() {
        return Err(nothing(&search.problems));
    }
    let form = job.form()?;
    let folder = job.only_output("Many cases have one folder for their results")?;
    let inputs = search.cases.iter().map(|case| case.path.as_path());
    let inputs: Vec<&Path> = inputs.collect();
    let store = folder.map(|folder| Store::open(folder, &job.options(), &inputs));
    let (store, journal) = store.transpose()?.unzip();
    let run = run(job, form, &search.cases, store.as_ref(), journal);
    if let Some(sentence) = run.stopped {
        return Err(format!(
            "{sentence} {} of {} cases are done and kept; the same command goes on from there.",
            run.entries.len(),
            search.cases.len()
        ));
    }
    let mut summaries = run.summaries;
    let now = summaries.len() - run.unchanged;
    summaries.extend(search.problems.iter().map(|(place, why)| {
        CaseSummary::failed(place, None, vec![Said::fault(format!("{why}."))])
    }));
    let mut outcome = Outcome {
        out: visible_lines(&batch_document(job.kind(), &summaries).text()).into_owned(),
        err: String::new(),
        code: code(&summaries),
    };
    let kept = store.map(|store| keep(job, store, &summaries, &run.entries));
    match kept {
        None => {}
        Some(Ok((root, left))) => {
            outcome.err = news(now, run.unchanged, &root) + &left_over(&left);
        }
        Some(Err(Trouble::File(sentence) | Trouble::Folder(sentence))) => {
            outcome.err = format!("error: {sentence}\n");
            outcome.code = UNUSABLE;
        }
    }
    Ok(outcome)
}

fn nothing(problems: &[(String, String)]) -> String {
    match problems.first() {
        Some((place, why)) => format!("{place} cannot be looked into: {why}."),
        None => "There is no case in this folder: no file that ends in .toml.".to_owned(),
    }
}

fn run(
    job: &Job<'_>,
    form: Form,
    cases: &[CaseFile],
    store: Option<&Store>,
    mut journal: Option<Journal>,
) -> BatchRun {
    let threads = job.threads();
    // With fewer cases than threads the sizes of one case share what is left over.
    let each = threads.get() / cases.len().clamp(1, threads.get());
    let each = NonZeroUsize::new(each).unwrap_or(NonZeroUsize::MIN);
    let progress = ProgressLine::new(cases.len());
    let mut run = BatchRun::default();
    let work = |found: &CaseFile| one(job, form, found, store, each);
    let ahead = threads.get() * MAX_AHEAD;
    parallel::stream(threads, ahead, cases.iter(), work, |finished| {
        progress.step();
        run.stopped = match finished {
            Finished::Kept(entry, age) => run.keep(entry, age, journal.as_mut()),
            Finished::Lost(summary) => {
                run.summaries.push(summary);
                None
            }
            Finished::Stopped(sentence) => Some(sentence),
        };
        match run.stopped {
            Some(_) => ControlFlow::Break(()),
            None => ControlFlow::Continue(()),
        }
    });
    progress.end();
    run
}

impl BatchRun {
    /// Takes in a finished case; a sentence when nothing can be written any more.
    fn keep(
        &mut self,
        entry: StoredCase,
        age: Age,
        journal: Option<&mut Journal>,
    ) -> Option<String> {
        self.unchanged += usize::from(age == Age::Unchanged);
        if let Some(journal) = journal.filter(|_| age == Age::New)
            && let Err(sentence) = journal.record(&entry)
        {
            return Some(sentence);
        }
        self.summaries.push(entry.summary.clone());
        self.entries.push(entry);
        None
    }
}

/// One case, on a worker's thread.
fn one(
    job: &Job<'_>,
    form: Form,
    found: &CaseFile,
    store: Option<&Store>,
    threads: NonZeroUsize,
) -> Finished {
    let name = &found.name;
    let text = files::text(&found.path);
    let key = match (&text, store) {
        (Ok(text), Some(store)) => Some(store.key(text)),
        _ => None,
    };
    if let (Some(key), Some(store), false) = (&key, store, job.batch().again)
        && let Some(entry) = store.unchanged(name, key, form.ending())
    {
        return Finished::Kept(entry, Age::Unchanged);
    }
    let wanted = store.map_or(Wanted::Nothing, |_| Wanted::File(form));
    let done = job.run(name, text, wanted, threads);
    let (Some(key), Some(store), false) = (key, store, done.fault) else {
        return Finished::Lost(done.summary);
    };
    match store.save(key, done.summary, done.file.as_deref(), form.ending()) {
        Ok(entry) => Finished::Kept(entry, Age::New),
        Err(Trouble::File(sentence)) => {
            Finished::Lost(CaseSummary::failed(name, None, vec![Said::fault(sentence)]))
        }
        Err(Trouble::Folder(sentence)) => Finished::Stopped(sentence),
    }
}

/// Writes what sums up the run, and closes the folder.
fn keep(
    job: &Job<'_>,
    store: Store,
    summaries: &[CaseSummary],
    entries: &[StoredCase],
) -> Result<(PathBuf, Vec<String>), Trouble> {
    let kind = job.kind();
    let lines: Result<Vec<String>, _> = summaries.iter().map(serde_json::to_string).collect();
    let lines = lines.map_err(|error| Trouble::File(format!("The results: {error}.")))?;
    let document = batch_document(kind, summaries);
    for (name, form, text) in [
        ("results.jsonl", Form::Json, lines.join("\n") + "\n"),
        ("summary.csv", Form::Csv, summary_csv(summaries)),
        ("summary.txt", Form::Text, document.text()),
        ("index.html", Form::Html, document.html()),
    ] {
        store.write(name, &safe(form, text.into_bytes()))?;
    }
    store.close(entries)
}

/// How many were done now; for standard error, so that the summary is the same whenever it is made.
fn news(now: usize, unchanged: usize, root: &Path) -> String {
    let page = root.join("index.html");
    format!(
        "note: {now} worked on now, {unchanged} unchanged since an earlier run; {} links the results.\n",
        page.display()
    )
}

/// Worksheets of cases that are gone, or what else lies among them: named, never removed.
fn left_over(left: &[String]) -> String {
    const NAMED: usize = 5;
    if left.is_empty() {
        return String::new();
    }
    let named: Vec<&str> = left.iter().take(NAMED).map(String::as_str).collect();
    let more = if left.len() > NAMED { ", ..." } else { "" };
    let text = format!(
        "note: {} files among the worksheets belong to no case of this run: {}{more}; remove them when they are not wanted.",
        left.len(),
        named.join(", ")
    );
    visible(&text).into_owned() + "\n"
}

fn code(summaries: &[CaseSummary]) -> u8 {
    match summaries.iter().map(CaseSummary::ending).max() {
        Some(Ending::Failed) => UNUSABLE,
        Some(Ending::Findings) => FINDINGS,
        Some(Ending::Fine) | None => 0,
    }
}

/// The bar; on standard error, and only when that is a terminal.
#[derive(Debug)]
struct ProgressLine(ProgressBar);

impl ProgressLine {
    fn new(cases: usize) -> Self {
        let total = u64::try_from(cases).unwrap_or(u64::MAX);
        if !io::stderr().is_terminal() {
            return Self(ProgressBar::hidden());
        }
        let bar = ProgressBar::new(total);
        let look = "{bar:30} {pos} of {len} cases, {eta} left";
        // The look is a constant; were it wrong, the bar would have its usual one.
        if let Ok(style) = ProgressStyle::with_template(look) {
            bar.set_style(style.progress_chars("=> "));
        }
        Self(bar)
    }

    fn step(&self) {
        self.0.inc(1);
    }

    fn end(&self) {
        self.0.finish_and_clear();
    }
}
