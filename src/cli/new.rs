//! `new`: a case by questions. Every answer is judged by the reader of case files, and asked for
//! again with its own sentence when it cannot be.

use std::io::{self, BufRead, Read as _, Write};

use serde_json::{Value, json};

use super::args::NewArgs;
use super::files;
use super::open::refused;
use super::outcome::Outcome;
use super::show::{SpanSource, diagnostics};
use crate::case::{Case, Kind, find_key, key_at, read_case, write_case};
use crate::convert::convert as convert_case;
use crate::diagnostic::{Diagnostic, Level, Repair, visible, worst};
use crate::measure::limits::MAX_BYTES;
use crate::measure::{Stitches, nearest_whole, parse_size_list};
use crate::pattern::{Context, read, with_repair};

/// How often a question is put before it is left for later: whoever cannot answer gets through all
/// the same, and corrects the file.
pub(super) const PATIENCE: usize = 3;

/// The answers ended before the questions did, or the terminal is gone.
struct Ended;

impl From<io::Error> for Ended {
    fn from(_: io::Error) -> Self {
        Self
    }
}

type QuestionResult<T> = Result<T, Ended>;

/// Asks, writes the case file, says what to do next.
pub(crate) fn new(args: &NewArgs, input: &mut dyn BufRead, out: &mut dyn Write) -> Outcome {
    let mut session = Session {
        form: json!({}),
        input,
        out,
    };
    match session.file(args) {
        Ok(outcome) => outcome,
        Err(Ended) => Outcome::unusable(
            "The answers ended before the case was complete; nothing was written.",
        ),
    }
}

struct Session<'a> {
    form: Value,
    input: &'a mut dyn BufRead,
    out: &'a mut dyn Write,
}

impl Session<'_> {
    fn file(&mut self, args: &NewArgs) -> QuestionResult<Outcome> {
        let file = args.case_file();
        let name = file.display().to_string();
        if file.exists() && !self.yes(&format!("{name} is there already. Replace it?"), false)? {
            return Ok(Outcome::unusable(&format!("{name} was left as it is.")));
        }
        writeln!(
            self.out,
            "An empty answer takes what stands in [brackets]; where nothing stands there, the question is left out.\n"
        )?;
        self.questions()?;
        let converts = match self.complete()? {
            Some(case) => match convert_case(&case, None) {
                Ok(_) => true,
                Err(found) => {
                    let outcome = refused(&case, &found, String::new());
                    write!(self.out, "\n{}", outcome.err)?;
                    false
                }
            },
            None => false,
        };
        let anyway = "This case cannot be converted yet. Write it all the same?";
        if !converts && !self.yes(anyway, true)? {
            return Ok(Outcome::unusable("Nothing was written."));
        }
        let text = write_case(&self.form);
        let name = visible(&name);
        let next = if converts {
            format!("{name} is written and converts. Next: capwright convert {name}\n")
        } else {
            format!("{name} is written. Correct it, then: capwright check {name}\n")
        };
        Ok(match files::write_all(&[(&file, text.as_bytes())]) {
            Ok(()) => Outcome {
                out: next,
                ..Outcome::default()
            },
            Err(sentence) => Outcome::unusable(&sentence),
        })
    }

    fn questions(&mut self) -> QuestionResult<()> {
        self.ask("units", "cm")?;
        self.ask("title", "Sleeve")?;
        self.ask("sizes", "")?;
        self.gauges()?;
        self.sleeve()?;
        self.armhole()?;
        if self.yes(
            "Do saddle stitches wait on a holder at the shoulder?",
            false,
        )? {
            self.ask("shoulder.live_stitches", "16")?;
            self.ask("shoulder.extra_each_side", "0")?;
        }
        self.body()?;
        self.ask("adapt.upper_arm", "")?;
        self.ask("wording.terms", "us")?;
        self.ask("wording.turn", "wrap")?;
        self.ask("wording.hand", "right")
    }

    fn gauges(&mut self) -> QuestionResult<()> {
        writeln!(self.out, "The old pattern's gauge, as printed.")?;
        self.swatch("gauge.pattern")?;
        for (table, question) in [
            (
                "gauge.flat",
                "Have you a swatch of your own, knitted back and forth?",
            ),
            (
                "gauge.round",
                "Have you a swatch of your own, knitted in rounds?",
            ),
        ] {
            if self.yes(question, false)? {
                self.swatch(table)?;
            }
        }
        Ok(())
    }

    fn swatch(&mut self, table: &str) -> QuestionResult<()> {
        let inches = self.given("units") == "in";
        self.ask(&format!("{table}.over"), if inches { "4" } else { "10" })?;
        self.insist(&format!("{table}.stitches"))?;
        self.insist(&format!("{table}.rows"))
    }

    fn sleeve(&mut self) -> QuestionResult<()> {
        self.insist("sleeve.stitches")?;
        self.ask("sleeve.first_row", "RS")?;
        self.cap_lines()?;
        self.ask("sleeve.seam_stitches", "1")?;
        self.ask("sleeve.cuff_stitches", "")?;
        if !self.given("sleeve.cuff_stitches").is_empty() {
            self.insist("sleeve.length")?;
        }
        Ok(())
    }

    fn armhole(&mut self) -> QuestionResult<()> {
        let by = self.choice(
            "Is the armhole given by its measures, by the body's own lines, or by counts on the finished body?",
            &["measures", "lines", "counts"],
        )?;
        let tables: &[&str] = if self.yes("Do the front and back armholes differ?", false)? {
            &["armhole.front", "armhole.back"]
        } else {
            &["armhole"]
        };
        for table in tables {
            if tables.len() > 1 {
                writeln!(self.out, "[{table}]")?;
            }
            match by.as_str() {
                "lines" => {
                    // First the lines: without them the reader takes the armhole to be given by measures.
                    self.ask_lines(&format!("{table}.lines"))?;
                    self.insist(&format!("{table}.stitches"))?;
                    self.ask(&format!("{table}.first_row"), "RS")?;
                    self.ask(&format!("{table}.seam_stitches"), "1")?;
                }
                "counts" => {
                    for key in ["rows", "bound_off"] {
                        self.insist(&format!("{table}.{key}"))?;
                    }
                    for key in ["steps", "decreases", "seam_stitches"] {
                        self.ask(&format!("{table}.{key}"), "0")?;
                    }
                }
                _ => {
                    for key in ["edge", "underarm", "depth"] {
                        self.insist(&format!("{table}.{key}"))?;
                    }
                }
            }
        }
        Ok(())
    }

    fn body(&mut self) -> QuestionResult<()> {
        let by = self.choice(
            "Is the wearer known by a size, a bust or chest, a measured arm, or not at all?",
            &["none", "size", "bust", "arm"],
        )?;
        let key = match by.as_str() {
            "size" => "body.size",
            "bust" => "body.bust",
            "arm" => "body.upper_arm",
            _ => return Ok(()),
        };
        self.ask("body.table", "woman")?;
        self.insist(key)
    }

    /// The cap's lines, read at once: a misprint is easiest to see with the pattern at hand.
    fn cap_lines(&mut self) -> QuestionResult<()> {
        for _ in 0..PATIENCE {
            self.ask_lines("sleeve.cap")?;
            let Some(context) = self.context() else {
                return Ok(());
            };
            let lines = self.given("sleeve.cap");
            let (_, found) = read(&lines, &context);
            let loud: Vec<Diagnostic> = found
                .into_iter()
                .filter(|said| said.level > Level::Note)
                .collect();
            let source = SpanSource {
                name: "sleeve.cap",
                text: &lines,
            };
            write!(self.out, "\n{}", diagnostics(&loud, source))?;
            if worst(&loud) != Some(Level::Error) {
                return Ok(());
            }
            let repairs = loud.iter().flat_map(|said| &said.repairs);
            let repairs: Vec<&Repair> = repairs.collect();
            if let Some(repair) = self.repair(&repairs)? {
                self.put("sleeve.cap", &with_repair(&lines, repair));
                return Ok(());
            }
            if self.yes("Keep these lines as they are?", false)? {
                return Ok(());
            }
        }
        self.later()
    }

    /// One of the changes that are proposed, if one is wanted.
    fn repair<'r>(&mut self, repairs: &[&'r Repair]) -> QuestionResult<Option<&'r Repair>> {
        if repairs.is_empty() {
            return Ok(None);
        }
        let question = format!(
            "Make one of the {} changes proposed, counted from above? 0 for none",
            repairs.len()
        );
        for _ in 0..PATIENCE {
            let answer = self.line(&question, "0")?;
            match answer.parse::<usize>() {
                Ok(0) => return Ok(None),
                Ok(n) if n <= repairs.len() => return Ok(repairs.get(n - 1).copied()),
                _ => writeln!(self.out, "  Answer with 0 to {}.", repairs.len())?,
            }
        }
        self.taken("0")?;
        Ok(None)
    }

    fn context(&self) -> Option<Context> {
        let stitches = parse_size_list(&self.given("sleeve.stitches")).ok()?;
        let sizes = (1..=stitches.len()).map(|n| n.to_string()).collect();
        let stitches = stitches.into_iter().map(|n| Stitches(nearest_whole(n)));
        let mut context = Context::new(sizes, stitches.collect());
        if self.given("sleeve.first_row") == "WS" {
            context.first_row = crate::measure::Side::Ws;
        }
        Some(context)
    }

    /// Asks again for whatever does not go together; none when the case is not whole after that, so
    /// that it is finished in the file.
    fn complete(&mut self) -> QuestionResult<Option<Case>> {
        for _ in 0..PATIENCE {
            let text = write_case(&self.form);
            let (case, said) = read_case(&text);
            if case.is_some() {
                return Ok(case);
            }
            let errors = said.iter().filter(|said| said.level == Level::Error);
            let mut again: Vec<String> = Vec::new();
            for error in errors {
                writeln!(self.out, "{} {}", error.message, error.advice())?;
                let at = error.span.and_then(|span| key_at(&text, span));
                again.extend(error.key.clone().or(at));
            }
            again.retain(|path| find_key(path).is_some());
            again.dedup();
            if again.is_empty() {
                return Ok(None);
            }
            for path in again {
                self.once_more(&path)?;
            }
        }
        Ok(read_case(&write_case(&self.form)).0)
    }

    fn once_more(&mut self, path: &str) -> QuestionResult<()> {
        match find_key(path).map(|key| key.kind) {
            Some(Kind::Lines) => self.ask_lines(path),
            _ => self.insist(path),
        }
    }

    /// Asks until there is an answer; whoever gives none time after time may go on without.
    fn insist(&mut self, path: &str) -> QuestionResult<()> {
        for _ in 0..PATIENCE {
            self.ask(path, "")?;
            if !self.given(path).is_empty() {
                return Ok(());
            }
            writeln!(self.out, "  The job cannot be done without it.")?;
        }
        self.later()
    }

    /// Says that an answer can wait.
    fn later(&mut self) -> QuestionResult<()> {
        writeln!(
            self.out,
            "  Then it waits: the case file can be corrected later."
        )?;
        Ok(())
    }

    /// Says what is taken where no answer was to be had.
    fn taken(&mut self, default: &str) -> QuestionResult<()> {
        writeln!(self.out, "  \"{default}\" is taken.")?;
        Ok(())
    }

    /// Asks for one key until the answer can be, a few times; an empty answer takes the default.
    fn ask(&mut self, path: &str, default: &str) -> QuestionResult<()> {
        let Some(key) = find_key(path) else {
            return Ok(());
        };
        let label = match path.rsplit_once('.') {
            Some((table, _)) if table.starts_with("gauge.") => {
                format!("{} ({table})", key.label)
            }
            _ => key.label.to_owned(),
        };
        writeln!(self.out, "  {}", key.help)?;
        if let Kind::Word(words) = key.kind {
            writeln!(self.out, "  One of: {}.", words.join(", "))?;
        }
        for _ in 0..PATIENCE {
            let answer = self.line(&label, default)?;
            self.put(path, &answer);
            let wrong = self.wrong(path);
            if wrong.is_empty() {
                return Ok(());
            }
            for sentence in wrong {
                writeln!(self.out, "  {sentence}")?;
            }
        }
        self.later()
    }

    fn ask_lines(&mut self, path: &str) -> QuestionResult<()> {
        let Some(key) = find_key(path) else {
            return Ok(());
        };
        writeln!(self.out, "  {}", key.help)?;
        writeln!(
            self.out,
            "{}: paste them; an empty line ends them.",
            key.label
        )?;
        let mut lines = String::new();
        let mut empty = 0;
        while lines.len() <= MAX_BYTES {
            let line = self.answer()?;
            if !line.trim().is_empty() {
                lines += line.trim_end();
                lines.push('\n');
                continue;
            }
            if !lines.is_empty() {
                break;
            }
            empty += 1;
            if empty == PATIENCE {
                return self.later();
            }
            writeln!(self.out, "  The job cannot be done without them.")?;
        }
        self.put(path, &lines);
        Ok(())
    }

    fn wrong(&self, path: &str) -> Vec<String> {
        objections(&write_case(&self.form), path)
    }

    fn yes(&mut self, question: &str, default: bool) -> QuestionResult<bool> {
        let word = if default { "yes" } else { "no" };
        for _ in 0..PATIENCE {
            let answer = self.line(question, word)?.to_lowercase();
            match answer.as_str() {
                "y" | "yes" => return Ok(true),
                "n" | "no" => return Ok(false),
                _ => writeln!(self.out, "  Answer yes or no.")?,
            }
        }
        self.taken(word)?;
        Ok(default)
    }

    /// One of a few words, the first being the default.
    fn choice(&mut self, question: &str, words: &[&str]) -> QuestionResult<String> {
        let default = words.first().copied().unwrap_or_default();
        for _ in 0..PATIENCE {
            let answer = self.line(question, default)?;
            if words.contains(&answer.as_str()) {
                return Ok(answer);
            }
            writeln!(self.out, "  Answer with one of: {}.", words.join(", "))?;
        }
        self.taken(default)?;
        Ok(default.to_owned())
    }

    fn line(&mut self, question: &str, default: &str) -> QuestionResult<String> {
        match default {
            "" => write!(self.out, "{question}: ")?,
            default => write!(self.out, "{question} [{default}]: ")?,
        }
        self.out.flush()?;
        let answer = self.answer()?;
        let answer = answer.trim();
        Ok(if answer.is_empty() { default } else { answer }.to_owned())
    }

    fn answer(&mut self) -> QuestionResult<String> {
        let mut line = String::new();
        // A line without an end is no answer.
        let most = MAX_BYTES as u64;
        if (&mut self.input).take(most).read_line(&mut line)? == 0 {
            return Err(Ended);
        }
        Ok(line)
    }

    fn given(&self, path: &str) -> String {
        let mut steps = path.split('.');
        let value = steps.try_fold(&self.form, |at, step| at.get(step));
        value.and_then(Value::as_str).unwrap_or_default().to_owned()
    }

    fn put(&mut self, path: &str, answer: &str) {
        let mut at = &mut self.form;
        for step in path.split('.') {
            if !at.is_object() {
                *at = json!({});
            }
            at = &mut at[step];
        }
        *at = json!(answer);
    }
}
/// What the reader of case files objects to in one key of a case.
pub(super) fn objections(text: &str, path: &str) -> Vec<String> {
    let (_, said) = read_case(text);
    let about = said.iter().filter(|said| {
        let at = said.span.and_then(|span| key_at(text, span));
        said.level == Level::Error && said.key.is_none() && at.as_deref() == Some(path)
    });
    about
        .map(|said| format!("{} {}", said.message, said.advice()))
        .collect()
}
