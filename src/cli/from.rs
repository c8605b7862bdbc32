//! `new --from`: a whole printed pattern -> a case, each key with the words it was found in.

use super::outcome::{FINDINGS, Outcome, UNUSABLE};
use std::fmt::Write as _;
use std::fs;
use std::io::{self, BufRead, IsTerminal as _, Write};
use std::path::{Path, PathBuf};

use serde::Serialize;
use serde_json::json;

use super::args::{Format, NewArgs};
use super::files;
use super::new::{PATIENCE, objections};
use super::print::{read, read_of};
use crate::case::set_key;
use crate::check::{draft_sized, prove_leaflet, refused_keys};
use crate::leaflet::{Evidence, Fact, Flow, Leaflet, Status, Which};

/// Reads the pattern, asks what is open where somebody can answer, writes the case.
pub(crate) fn from(args: &NewArgs) -> Outcome {
    let pattern = args.from.clone().unwrap_or_default();
    if pattern.is_dir() {
        return shelf(&pattern, args);
    }
    let which = Which {
        garment: args.garment,
        sleeve: args.sleeve,
    };
    let mut leaflet = match read_of(&pattern, which) {
        Ok((flow, leaflet)) => sized(&flow, which, &args.set).unwrap_or(leaflet),
        Err(sentence) => return Outcome::unusable(&sentence),
    };
    if !leaflet.refused.is_empty() {
        let mut outcome = Outcome::unusable(&(leaflet.refused.clone() + &choices(&leaflet)));
        if args.format == Format::Json {
            outcome.out = as_json(&leaflet);
        }
        return outcome;
    }
    let file = args.case_file();
    if let Err(sentence) = completed(&mut leaflet, &pattern, &file, args) {
        return Outcome::unusable(&sentence);
    }
    Outcome {
        out: match args.format {
            Format::Json => as_json(&leaflet),
            Format::Text => told(&leaflet, &file, args.sleeve),
        },
        code: code(&leaflet),
        ..Outcome::default()
    }
}

/// Sets the keys that were given, asks where somebody can answer, and writes the case where one is wanted.
fn completed(
    leaflet: &mut Leaflet,
    pattern: &Path,
    file: &Path,
    args: &NewArgs,
) -> Result<(), String> {
    let writes = args.format == Format::Text || args.file.is_some();
    if writes && file.exists() {
        return Err(format!(
            "{} is there already; name another file.",
            file.display()
        ));
    }
    set(leaflet, &args.set)?;
    let asks =
        args.format == Format::Text && pattern.as_os_str() != "-" && io::stdin().is_terminal();
    if asks {
        let answered = ask(leaflet, &mut io::stdin().lock(), &mut anstream::stderr());
        answered.map_err(|_| "The answers ended; nothing was written.".to_owned())?;
        // The answers wrote the case anew.
        set(leaflet, &args.set)?;
    }
    if writes {
        files::write_all(&[(file, leaflet.case.as_bytes())])?;
    }
    Ok(())
}

/// What to say to get one of several garments.
pub(super) fn choices(leaflet: &Leaflet) -> String {
    let named = (1..).zip(&leaflet.garments);
    named.fold(String::new(), |said, (number, title)| {
        format!("{said}\n  --garment {number}  {title}")
    })
}

fn code(leaflet: &Leaflet) -> u8 {
    match leaflet.open().next() {
        Some(_) => FINDINGS,
        None => 0,
    }
}

/// Sets what the person knows beforehand.
fn set(leaflet: &mut Leaflet, keys: &[String]) -> Result<(), String> {
    for assignment in keys {
        let (key, value) = assignment.split_once('=').unwrap_or((assignment, ""));
        answer(leaflet, key, value);
    }
    prove_leaflet(leaflet);
    for assignment in keys {
        leaflet.case = set_key(&leaflet.case, assignment).map_err(|error| error.to_string())?;
        if SWATCHES.iter().any(|key| assignment.starts_with(key)) {
            leaflet.swatches_are_given();
        }
    }
    Ok(())
}

/// All read anew for the sizes that are set, since they tell how many numbers a list has.
fn sized(flow: &Flow, which: Which, keys: &[String]) -> Option<Leaflet> {
    let sizes = keys
        .iter()
        .filter_map(|set| set.trim().strip_prefix("sizes"));
    let given = sizes
        .filter_map(|rest| rest.trim_start().strip_prefix('='))
        .next_back()?;
    Some(draft_sized(flow, which, &labels(given)))
}

/// The labels of a list as it is typed: `["S", "M"]` or `S, M`.
fn labels(typed: &str) -> Vec<String> {
    let bare = typed.trim().trim_start_matches('[').trim_end_matches(']');
    let labels = bare
        .split(',')
        .map(|label| label.trim().trim_matches(['"', '\'']).trim());
    labels
        .filter(|label| !label.is_empty())
        .map(str::to_owned)
        .collect()
}

/// Takes an answer for one key; its doubts are settled.
fn answer(leaflet: &mut Leaflet, key: &str, value: &str) {
    let value = &if key == "sizes" {
        labels(value).join(", ")
    } else {
        value.to_owned()
    };
    if let Some(fact) = leaflet.facts.iter_mut().find(|fact| fact.key == key) {
        fact.value.clone_from(value);
        fact.status = Status::Sure;
        "Given by you.".clone_into(&mut fact.why);
    }
}

/// Asks for what is missing or unsure, then for the knitter's own swatches.
fn ask(leaflet: &mut Leaflet, input: &mut dyn BufRead, out: &mut dyn Write) -> io::Result<()> {
    let open: Vec<Fact> = leaflet.open().cloned().collect();
    for fact in open {
        writeln!(out, "\n{}: {}", fact.key, fact.why)?;
        for at in &fact.evidence {
            writeln!(out, "  page {}, line {}: {}", at.page, at.line, at.text)?;
        }
        if fact.value.contains('\n') {
            writeln!(out, "  Look at these lines in the case file.")?;
            continue;
        }
        let typed = judged(&fact.key, &fact.value, (input, out), &|typed| {
            let mut tried = leaflet.clone();
            answer(&mut tried, &fact.key, typed);
            tried.write();
            Ok(tried.case)
        })?;
        if let Some(typed) = typed {
            answer(leaflet, &fact.key, &typed);
        }
    }
    leaflet.write();
    writeln!(
        out,
        "\nYour own swatches, which no page holds; an empty answer leaves one out."
    )?;
    let mut given = false;
    for key in SWATCHES {
        let typed = judged(key, "", (input, out), &|typed| {
            set_key(&leaflet.case, &format!("{key}={typed}")).map_err(|error| error.to_string())
        })?;
        if let Some(typed) = typed
            && let Ok(text) = set_key(&leaflet.case, &format!("{key}={typed}"))
        {
            leaflet.case = text;
            given = true;
        }
    }
    if given {
        leaflet.swatches_are_given();
    }
    Ok(())
}

/// The swatches' counts that are asked for.
const SWATCHES: [&str; 4] = [
    "gauge.round.stitches",
    "gauge.round.rows",
    "gauge.flat.stitches",
    "gauge.flat.rows",
];

/// Asks for a key until the case with the answer can be read, a few times; none where it is left out. `with` gives
/// the text of the case with an answer.
fn judged(
    key: &str,
    value: &str,
    (input, out): (&mut dyn BufRead, &mut dyn Write),
    with: &dyn Fn(&str) -> Result<String, String>,
) -> io::Result<Option<String>> {
    for _ in 0..PATIENCE {
        let typed = asked(key, value, input, out)?;
        if typed.is_empty() {
            return Ok(None);
        }
        let wrong = match with(&typed) {
            Ok(text) => objections(&text, key),
            Err(sentence) => vec![sentence],
        };
        if wrong.is_empty() {
            return Ok(Some(typed));
        }
        for sentence in wrong {
            writeln!(out, "  {sentence}")?;
        }
    }
    writeln!(
        out,
        "  Then it waits: the case file can be corrected later."
    )?;
    Ok(None)
}

fn asked(
    key: &str,
    value: &str,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
) -> io::Result<String> {
    write!(out, "{key} [{value}]: ")?;
    out.flush()?;
    let mut line = String::new();
    if input.read_line(&mut line)? == 0 {
        return Err(io::ErrorKind::UnexpectedEof.into());
    }
    let typed = line.trim();
    Ok(if typed.is_empty() { value } else { typed }.to_owned())
}

/// What was found; what there is nothing of is left out.
#[derive(Serialize)]
struct FoundJson<'a> {
    construction: &'a str,
    /// Why it cannot be used.
    #[serde(skip_serializing_if = "str::is_empty")]
    refused: &'a str,
    /// The words that told the construction.
    signs: &'a [Evidence],
    facts: &'a [Fact],
    /// The garments of the text, where it has several.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    garments: &'a [String],
    /// The sleeves with a cap, where it has several.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    sleeves: &'a [String],
    /// Tables of the case that no pattern holds: one's own swatches.
    yours: [&'static str; 2],
    /// The text of the case.
    case: &'a str,
}

fn as_json(leaflet: &Leaflet) -> String {
    let found = json!(FoundJson {
        construction: &leaflet.construction,
        refused: &leaflet.refused,
        signs: &leaflet.signs,
        facts: &leaflet.facts,
        garments: &leaflet.garments,
        sleeves: &leaflet.sleeves,
        yours: ["gauge.flat", "gauge.round"],
        case: &leaflet.case,
    });
    format!("{found:#}\n")
}

fn told(leaflet: &Leaflet, file: &Path, sleeve: Option<usize>) -> String {
    let sure = leaflet
        .facts
        .iter()
        .filter(|fact| fact.status == Status::Sure)
        .count();
    let mut out = format!(
        "{} is written: {sure} of {} facts found and sure ({}).\n",
        file.display(),
        leaflet.facts.len(),
        leaflet.construction
    );
    for fact in leaflet.open() {
        let status = if fact.status == Status::Missing {
            "missing"
        } else {
            "unsure"
        };
        let _ = writeln!(out, "  {status}: {}: {}", fact.key, fact.why);
    }
    if !leaflet.sleeves.is_empty() && sleeve.is_none() {
        out += "Several sleeves have a cap of their own; the first is taken. The others:\n";
        for (number, name) in (1..).zip(&leaflet.sleeves).skip(1) {
            let _ = writeln!(out, "  --sleeve {number}  {name}");
        }
    }
    out += &next(leaflet, file);
    out
}

/// What to do next: first what a conversion would refuse.
fn next(leaflet: &Leaflet, file: &Path) -> String {
    let refused = refused_keys(leaflet);
    let swatches = (!leaflet.has_swatches()).then(|| "fill in your own swatches".to_owned());
    let mend = (!refused.is_empty()).then(|| {
        let keys = refused.join(", ");
        format!("put right {keys}, with which it cannot be converted")
    });
    let first: Vec<String> = [mend, swatches].into_iter().flatten().collect();
    let command = format!("capwright convert {}\n", file.display());
    let words = first.join("; ");
    let mut letters = words.chars();
    match letters.next() {
        Some(letter) => {
            let letter: String = letter.to_uppercase().collect();
            format!("{letter}{}, then: {command}", letters.as_str())
        }
        None => format!("Next: {command}"),
    }
}

/// A folder of patterns becomes a folder of cases, and one table of what is open.
fn shelf(folder: &Path, args: &NewArgs) -> Outcome {
    let Some(target) = args.file.clone() else {
        return Outcome::unusable("Name a folder for the cases: capwright new CASES --from SHELF.");
    };
    let patterns = match patterns_in(folder) {
        Ok(patterns) => patterns,
        Err(sentence) => return Outcome::unusable(&sentence),
    };
    if let Err(error) = fs::create_dir_all(&target) {
        return Outcome::unusable(&format!("{} cannot be made: {error}.", target.display()));
    }
    let mut rows = Vec::new();
    let mut worst = 0;
    for pattern in patterns {
        let name = pattern.file_name().unwrap_or_default().to_string_lossy();
        let case = target
            .join(pattern.file_stem().unwrap_or_default())
            .with_extension("toml");
        let (state, code) = one_of_shelf(&pattern, &case, &args.set);
        worst = worst.max(code);
        rows.push((name.into_owned(), state));
    }
    Outcome {
        out: shelf_table(&rows, args.format),
        code: worst,
        ..Outcome::default()
    }
}

/// The patterns of a folder, by name.
fn patterns_in(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let entries = fs::read_dir(folder)
        .map_err(|error| format!("{} cannot be read: {error}.", folder.display()))?;
    let paths = entries.filter_map(|entry| Some(entry.ok()?.path()));
    let is_pattern = |path: &PathBuf| {
        let known = |end: &std::ffi::OsStr| {
            ["txt", "pdf"]
                .iter()
                .any(|known| end.eq_ignore_ascii_case(known))
        };
        path.extension().is_some_and(known)
    };
    let mut patterns: Vec<PathBuf> = paths.filter(is_pattern).collect();
    patterns.sort();
    if patterns.is_empty() {
        return Err("There is no .txt or .pdf in this folder.".to_owned());
    }
    Ok(patterns)
}

/// Every pattern with what is open in it.
fn shelf_table(rows: &[(String, String)], format: Format) -> String {
    match format {
        Format::Json => {
            let rows = rows
                .iter()
                .map(|(name, state)| json!({"pattern": name, "open": state}));
            format!("{:#}\n", json!({ "patterns": rows.collect::<Vec<_>>() }))
        }
        Format::Text => {
            let widths = rows.iter().map(|(name, _)| name.chars().count());
            let width = widths.max().unwrap_or(0);
            let lines = rows
                .iter()
                .map(|(name, state)| format!("{name:width$}  {state}"));
            lines.collect::<Vec<_>>().join("\n") + "\n"
        }
    }
}

fn one_of_shelf(pattern: &Path, case: &Path, keys: &[String]) -> (String, u8) {
    let unusable = |sentence: String| (format!("not used: {sentence}"), UNUSABLE);
    if case.exists() {
        return unusable(format!("{} is there already.", case.display()));
    }
    let mut leaflet = match read(pattern) {
        Ok((flow, leaflet)) if leaflet.refused.is_empty() => {
            sized(&flow, Which::default(), keys).unwrap_or(leaflet)
        }
        Ok((_, leaflet)) => return unusable(leaflet.refused),
        Err(sentence) => return unusable(sentence),
    };
    if let Err(sentence) =
        set(&mut leaflet, keys).and_then(|()| files::write_all(&[(case, leaflet.case.as_bytes())]))
    {
        return unusable(sentence);
    }
    let open: Vec<String> = leaflet
        .open()
        .map(|fact| {
            format!(
                "{}{}",
                fact.key,
                if fact.status == Status::Missing {
                    " (missing)"
                } else {
                    ""
                }
            )
        })
        .collect();
    let state = if open.is_empty() {
        "nothing open".to_owned()
    } else {
        format!("open: {}", open.join(", "))
    };
    (state, code(&leaflet))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::leaflet::{Flow, read_flow};

    const PRINTED: &str = include_str!("../../tests/leaflets/01-alder-pullover.txt");

    /// Whoever answers in words, or gives a count over the wrong length, is asked again and told why.
    #[test]
    fn each_answer_is_judged_at_once() {
        let mut leaflet = read_flow(&Flow::of_text(PRINTED));
        let open = leaflet.open().count();
        // What is open is left as it stands.
        let typed = "\n".repeat(open) + "twenty\n20.5 sts to 10 cm\n21\n29\n";
        let mut out = Vec::new();
        ask(&mut leaflet, &mut (typed + "\n\n").as_bytes(), &mut out).unwrap();
        let out = String::from_utf8(out).unwrap();
        assert!(!leaflet.case.contains("twenty"), "{}", leaflet.case);
        assert!(
            leaflet
                .case
                .contains("[gauge.round]\nstitches = 21\nrows = 29"),
            "{}",
            leaflet.case
        );
        assert_eq!(out.matches("gauge.round.stitches []").count(), 3, "{out}");
        assert!(leaflet.has_swatches());
    }
}
