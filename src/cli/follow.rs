//! `knit --follow`: the pattern of a case one step at a time, the place kept in a file beside the case.

use std::fs;
use std::io::{self, BufRead, Write};
use std::path::{Path, PathBuf};

use serde_json::{Map, Value, json};

use super::args::{CaseArgs, KnitArgs, OutputArgs, SleeveArg};
use super::bounded::{TooLong, next_line};
use super::files;
use super::open::{Opened, open, refused};
use super::outcome::Outcome;
use crate::case::Case;
use crate::convert::{GiveOrTake, SizeConversion, Written, convert as convert_case};
use crate::diagnostic::visible;
use crate::measure::{Length, Units, typed_length};
use crate::plan::Sleeve;
use crate::report::{FollowStep, follow_steps};

const HELP: &str = "Enter: next step.  b: back.  g 13: go to row (in the tube: round) 13; g round 13.  m 2.4: after this row it measures so much (m 2 1/2, m 6 cm).  note ...: keep a note.  q: leave off; the place is kept.";

/// A line of an answer is no longer than this.
const MOST_ANSWER: usize = 2000;

/// Notes that are kept of one sleeve.
const MOST_NOTES: usize = 200;

/// Follows a case until its last step, or until the answers end.
pub(crate) fn follow(args: &KnitArgs, input: &mut dyn BufRead, out: &mut dyn Write) -> Outcome {
    match follower(args) {
        Ok(mut follower) => match follower.run(input, out) {
            Ok(()) => Outcome {
                out: String::new(),
                err: String::new(),
                code: 0,
            },
            Err(Left::Unwritten(sentence)) => Outcome::unusable(&sentence),
            // Whoever reads is gone: what was followed is kept.
            Err(Left::Gone) => Outcome {
                out: String::new(),
                err: String::new(),
                code: 0,
            },
        },
        Err(outcome) => outcome,
    }
}

/// Why it ends before the last step.
enum Left {
    /// The place could not be kept.
    Unwritten(String),
    /// The terminal is gone.
    Gone,
}

impl From<io::Error> for Left {
    fn from(_: io::Error) -> Self {
        Self::Gone
    }
}

struct PaperFollower {
    units: Units,
    title: String,
    steps: Vec<FollowStep>,
    /// Depth of the whole cap.
    depth: Length,
    /// Length of the whole tube.
    length: Length,
    kept: Kept,
}

fn follower(args: &KnitArgs) -> Result<PaperFollower, Outcome> {
    if args.file.as_os_str() == "-" {
        return Err(Outcome::unusable(
            "--follow keeps its place beside the case: name a case file, not standard input.",
        ));
    }
    let Opened {
        case, only, err, ..
    } = open(&CaseArgs {
        case: args.file.clone(),
        size: args.size.clone(),
        accept_repair: None,
        set: Vec::new(),
        output: OutputArgs {
            format: None,
            output: Vec::new(),
        },
    })?;
    if only.is_none() && case.sizes.len() > 1 {
        let sentence = format!(
            "The case has {} sizes: name one with --size ({}).",
            case.sizes.len(),
            case.sizes.join(", ")
        );
        return Err(Outcome::unusable(&sentence));
    }
    let conversion = convert_case(&case, only).map_err(|found| refused(&case, &found, err))?;
    let size = conversion.sizes.first();
    let size = size.ok_or_else(|| Outcome::unusable("The case has no size to knit."))?;
    let written = sleeve(size, args.sleeve)?;
    let name = format!("{} / {}", size.old.size, written.sleeve.word());
    Ok(PaperFollower {
        units: case.units,
        title: heading(&case, size, written),
        steps: follow_steps(&case, size, written),
        depth: size.fit.measures.depth,
        length: (size.landmarks.rounds.last()).map_or(Length::ZERO, |last| last.length),
        kept: Kept::read(&args.file, name)?,
    })
}

fn sleeve(size: &SizeConversion, asked: Option<SleeveArg>) -> Result<&Written, Outcome> {
    let wanted = match asked {
        Some(SleeveArg::Left) => Sleeve::Left,
        Some(SleeveArg::Right) => Sleeve::Right,
        None => Sleeve::Both,
    };
    let fits = |written: &&Written| written.sleeve == wanted || written.sleeve == Sleeve::Both;
    size.written.iter().find(fits).ok_or_else(|| {
        Outcome::unusable("The two sleeves differ: say which with --sleeve left or --sleeve right.")
    })
}

fn heading(case: &Case, size: &SizeConversion, written: &Written) -> String {
    let mut title = case.title.clone();
    if case.sizes.len() > 1 {
        title = format!("{title}, size {}", size.old.size);
    }
    match written.sleeve {
        Sleeve::Both => title,
        sleeve => format!("{title}, {} sleeve", sleeve.word()),
    }
}

impl PaperFollower {
    fn run(&mut self, input: &mut dyn BufRead, out: &mut dyn Write) -> Result<(), Left> {
        let mut place = self.kept.place(&self.steps);
        writeln!(out, "{}\n{HELP}", self.title)?;
        if let Some(moved) = self.kept.moved.take() {
            writeln!(out, "{moved}")?;
        }
        loop {
            self.show(place, out)?;
            write!(out, "> ")?;
            out.flush()?;
            let line = match next_line(input, MOST_ANSWER)? {
                None => {
                    writeln!(out)?;
                    return Ok(());
                }
                Some(Ok(line)) => line,
                // Its beginning was no answer, and none is no Enter.
                Some(Err(TooLong)) => {
                    writeln!(
                        out,
                        "That line is longer than {MOST_ANSWER} bytes: nothing is done with it."
                    )?;
                    continue;
                }
            };
            let Some(next) = self.answer(place, &String::from_utf8_lossy(&line), out)? else {
                return Ok(());
            };
            place = next;
            self.kept
                .keep(&self.steps, place)
                .map_err(Left::Unwritten)?;
        }
    }

    /// Does what was typed; the step that is looked at then, or nothing at the end.
    fn answer(
        &mut self,
        place: usize,
        typed: &str,
        out: &mut dyn Write,
    ) -> io::Result<Option<usize>> {
        let typed = typed.trim();
        let (word, rest) = typed.split_once(' ').unwrap_or((typed, ""));
        match (word, rest.trim()) {
            ("" | "n", "") if place + 1 < self.steps.len() => return Ok(Some(place + 1)),
            ("" | "n", "") => {
                writeln!(out, "That was the last step.")?;
                return Ok(None);
            }
            ("b", "") => return Ok(Some(place.saturating_sub(1))),
            ("q", "") => return Ok(None),
            ("g", number) => {
                let found = self.row(place, number);
                if found.place.is_none() {
                    writeln!(out, "There is no row or round {}.", visible(number))?;
                }
                if let Some(besides) = found.besides {
                    writeln!(out, "{besides}")?;
                }
                return Ok(Some(found.place.unwrap_or(place)));
            }
            ("m", number) => writeln!(out, "{}", self.measured(place, number))?,
            ("note", words) if !words.is_empty() => {
                if !self.kept.note(&self.steps, place, words) {
                    writeln!(
                        out,
                        "This note is not kept: {MOST_NOTES} are kept of one sleeve. Take some out of {}.",
                        visible(&self.kept.file.display().to_string())
                    )?;
                }
            }
            _ => writeln!(out, "{HELP}")?,
        }
        Ok(Some(place))
    }

    fn show(&self, place: usize, out: &mut dyn Write) -> io::Result<()> {
        let Some(step) = self.steps.get(place) else {
            return Ok(());
        };
        let side = step
            .side
            .map_or_else(String::new, |side| format!(" ({side})"));
        writeln!(
            out,
            "\n{}, {}{side}   [{} of {}]",
            step.part,
            step.at,
            place + 1,
            self.steps.len()
        )?;
        for said in &step.say {
            writeln!(out, "  {said}")?;
        }
        for (name, said) in [("Then", &step.then), ("It measures", &step.measure)] {
            if !said.is_empty() {
                writeln!(out, "  {name}: {said}")?;
            }
        }
        for note in self.kept.notes_at(step) {
            writeln!(out, "  Note: {}", visible(&note))?;
        }
        Ok(())
    }

    /// The row or round of this number: in the part one is in where it has one, a row of the cap elsewhere.
    fn row(&self, place: usize, typed: &str) -> Sought {
        let (kind, number) = match typed.rsplit_once(' ') {
            Some((word, number)) => (CountedIn::of(word.trim()), number),
            None => (Some(CountedIn::Any), typed),
        };
        let (Some(kind), Ok(number)) = (kind, number.parse::<u32>()) else {
            return Sought::default();
        };
        let at = |begins: &str| {
            let is = |step: &FollowStep| step.number == Some(number) && step.at.starts_with(begins);
            self.steps.iter().position(is)
        };
        let row = at("Row ").filter(|_| kind != CountedIn::Round);
        let round = at("Round ").filter(|_| kind != CountedIn::Row);
        let in_tube =
            (self.steps.get(place)).is_some_and(|step| step.part == "Tube" || step.part == "Cuff");
        let (here, other) = if in_tube { (round, row) } else { (row, round) };
        let word = if in_tube { "row" } else { "round" };
        Sought {
            place: here.or(other),
            besides: here
                .and(other)
                .map(|_| format!("There is a {word} {number}, too: g {word} {number}.")),
        }
    }

    /// What a measure says after this row or round.
    fn measured(&self, place: usize, typed: &str) -> String {
        let Some(step) = self.steps.get(place) else {
            return String::new();
        };
        let Some(measured) = typed_length(typed, self.units) else {
            return format!(
                "Say what it measures in {}: m 6.5, m 2 1/2, m 6.5 cm, m 2.5 in.",
                self.units
            );
        };
        let (Some(number), Some(planned)) = (step.number, step.depth.or(step.length)) else {
            return "This step is none to be measured: go to the row or round that is worked last (g 18), then give the measure.".to_owned();
        };
        let row = step.depth.is_some();
        let off = OffBy::of(measured, planned, row);
        let (shown, allowed) = (off.words(self.units), self.units.show(planned.off));
        let after = format!(
            "After {} {number} {} are planned: {shown}",
            if row { "row" } else { "round" },
            self.units.show(planned.length)
        );
        if off.size.to_cm() <= planned.off.to_cm() {
            return format!("{after}: nothing to worry about (up to {allowed} is not).");
        }
        let (whole, what) = if row {
            (self.depth, "cap")
        } else {
            (self.length, "tube")
        };
        let at_end = OffBy {
            size: off.size * (whole / planned.length),
            ..off
        };
        format!(
            "{after}, more than the {allowed} that is nothing to worry about. At this rate the {what} ends {}. {}",
            at_end.words(self.units),
            self.what_to_give(step, number, measured)
        )
    }

    /// The keys that plan the rest from here.
    fn what_to_give(&self, step: &FollowStep, number: u32, measured: Length) -> String {
        let shown = self.units.show(measured);
        let typed = shown.split(' ').next().unwrap_or_default();
        if step.length.is_some() {
            let stitches = step.then.split(' ').next().unwrap_or_default();
            return format!(
                "Count the rounds again; if they are right, give in the case so_far.rounds = {number}, so_far.stitches = {stitches} (those on your needle) and so_far.length = {typed}, and the rest is planned from there."
            );
        }
        let next = number + 1;
        let ends_pair = |step: &FollowStep| step.depth.is_some() && step.number == Some(next);
        if number % 2 == 1 && !self.steps.iter().any(ends_pair) {
            let pairs = number - 1;
            return format!(
                "Count the rows again; row {number} joins and is no row of the cap's pairs: measure down to row {pairs}, give in the case so_far.rows = {pairs} and that depth as so_far.depth, and the rest is planned from there."
            );
        }
        if number % 2 == 1 {
            return format!(
                "Count the rows again; if they are right, work row {next}, measure once more and give in the case so_far.rows = {next} and so_far.depth, and the rest is planned from there."
            );
        }
        format!(
            "Count the rows again; if they are right, give in the case so_far.rows = {number} and so_far.depth = {typed}, and the rest is planned from there."
        )
    }
}

/// Where a number leads.
#[derive(Default)]
struct Sought {
    place: Option<usize>,
    /// That it leads elsewhere, too.
    besides: Option<String>,
}

/// What a number counts.
#[derive(Clone, Copy, PartialEq, Eq)]
enum CountedIn {
    Any,
    Row,
    Round,
}

impl CountedIn {
    fn of(word: &str) -> Option<Self> {
        match word {
            "row" => Some(Self::Row),
            "round" | "rnd" => Some(Self::Round),
            _ => None,
        }
    }
}

/// How far off a measure is.
#[derive(Clone, Copy)]
struct OffBy {
    size: Length,
    word: &'static str,
}

impl OffBy {
    fn of(measured: Length, planned: GiveOrTake, is_depth: bool) -> Self {
        let off = measured - planned.length;
        let word = match (off.is_positive(), is_depth) {
            (false, _) => "short",
            (true, true) => "deeper than planned",
            (true, false) => "longer than planned",
        };
        Self {
            size: off.abs(),
            word,
        }
    }

    fn words(self, units: Units) -> String {
        format!("{} {}", units.show(self.size), self.word)
    }
}

/// What these steps say, as a word that is another with any letter of them: FNV-1a in 64 bits (Fowler, Noll and Vo; the constants from memory).
fn digest(steps: &[FollowStep]) -> String {
    let words = steps.iter().flat_map(|step| {
        let names = [&step.part, &step.at, &step.then];
        names.into_iter().chain(&step.say)
    });
    let bytes = words.flat_map(|word| word.bytes().chain([0]));
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{hash:016x}")
}

/// The place and the notes of every sleeve of a case, in a file beside it.
struct Kept {
    file: PathBuf,
    all: Map<String, Value>,
    name: String,
    moved: Option<String>,
}

impl Kept {
    /// What was kept; nothing where there is no file yet.
    fn read(case: &Path, name: String) -> Result<Self, Outcome> {
        let file = case.with_extension("place.json");
        let shown = visible(&file.display().to_string()).into_owned();
        let about = fs::symlink_metadata(&file);
        // A pipe would be waited for, a link leads elsewhere.
        if about.as_ref().is_ok_and(|about| !about.is_file()) {
            let sentence =
                format!("{shown} is a link or no file; the place is kept under that name.");
            return Err(Outcome::unusable(&sentence));
        }
        let all = if about.is_ok() {
            let text = files::text(&file).map_err(|sentence| Outcome::unusable(&sentence))?;
            let read: Result<Map<String, Value>, _> = serde_json::from_str(&text);
            read.map_err(|_| {
                let sentence = format!(
                    "{shown} does not hold a place that was kept; move it away to begin anew."
                );
                Outcome::unusable(&sentence)
            })?
        } else {
            Map::new()
        };
        Ok(Self {
            file,
            all,
            name,
            moved: None,
        })
    }

    fn mine(&self) -> Option<&Map<String, Value>> {
        self.all.get(&self.name)?.as_object()
    }

    /// The step that was left off at: by its name, since the plan may have changed.
    fn place(&mut self, steps: &[FollowStep]) -> usize {
        let Some(mine) = self.mine() else { return 0 };
        let text = |key: &str| mine.get(key).and_then(Value::as_str).unwrap_or_default();
        let (part, at) = (text("part"), text("at"));
        let is = |step: &FollowStep| step.part == part && step.at == at;
        if let Some(found) = steps.iter().position(is) {
            let (worked, coming) = steps.split_at(found);
            let otherwise = |key: &str, now: &[FollowStep]| {
                let then = text(key);
                !then.is_empty() && then != digest(now)
            };
            if otherwise("worked", worked) {
                self.moved = Some(format!(
                    "The pattern has changed since you left off, and rows that are worked read otherwise now: compare {}, {} with what is on the needle, or put what is knitted into [so_far].",
                    visible(part),
                    visible(at)
                ));
            } else if otherwise("coming", coming) {
                self.moved = Some("The pattern has changed since you left off: the rows to come are others, those that are worked are not.".to_owned());
            }
            return found;
        }
        self.moved = Some(format!(
            "The pattern has changed: there is no {}, {} any more. It begins again from the start; g NUMBER goes to a row.",
            visible(part),
            visible(at)
        ));
        0
    }

    fn notes(&self) -> Vec<Value> {
        let notes = self.mine().and_then(|mine| mine.get("notes")?.as_array());
        notes.cloned().unwrap_or_default()
    }

    fn notes_at(&self, step: &FollowStep) -> Vec<String> {
        let notes = self.notes();
        let here = notes
            .iter()
            .filter(|note| note["part"] == step.part.as_str() && note["at"] == step.at.as_str());
        let words = here.filter_map(|note| note["note"].as_str().map(str::to_owned));
        words.collect()
    }

    /// False where no more notes are kept.
    fn note(&mut self, steps: &[FollowStep], place: usize, words: &str) -> bool {
        let mut notes = self.notes();
        let Some(step) = steps.get(place).filter(|_| notes.len() < MOST_NOTES) else {
            return false;
        };
        notes.push(json!({ "part": step.part, "at": step.at, "note": words }));
        self.put("notes", Value::from(notes));
        true
    }

    fn put(&mut self, key: &str, value: Value) {
        let mine = self
            .all
            .entry(self.name.clone())
            .or_insert_with(|| json!({}));
        if !mine.is_object() {
            *mine = json!({});
        }
        if let Some(mine) = mine.as_object_mut() {
            mine.insert(key.to_owned(), value);
        }
    }

    /// Writes the place down.
    fn keep(&mut self, steps: &[FollowStep], place: usize) -> Result<(), String> {
        let Some(step) = steps.get(place) else {
            return Ok(());
        };
        let (worked, coming) = steps.split_at(place);
        self.put("part", json!(step.part));
        self.put("at", json!(step.at));
        self.put("worked", json!(digest(worked)));
        self.put("coming", json!(digest(coming)));
        let mut text = Value::from(self.all.clone()).to_string();
        text.push('\n');
        files::write_all(&[(&self.file, text.as_bytes())])
    }
}
