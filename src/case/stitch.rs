//! `[stitch]`: the sleeve's stitch pattern, a ground and panels on it.

use super::codes::{CLASH, OUT_OF_RANGE, UNKNOWN_WORD};
use super::table::CaseTable;
use super::words;
use crate::diagnostic::{Diagnostic, nearest};
use crate::measure::{CHART_PLACE, FROM_CENTRE};
use crate::stitch::{
    CHART, Chart, Drawn, GROUNDS, Legend, MOST_PANELS, Panel, PanelPlace, Pattern, RowFault,
    Stitch, TURNED, WAY_UP, WRONG_SIDE, Worked, ground,
};

const WORKED: &[(&str, Worked)] = &[("up", Worked::FromCuff), ("down", Worked::FromShoulder)];

pub(super) fn stitch(table: &CaseTable<'_>, saddle: bool) -> Option<Pattern> {
    let letters = letters(table);
    let worked = table.choice("worked", WORKED).unwrap_or_default();
    let panels = panels(table, &letters, worked, saddle);
    let (name, given) = match (table.has("ground"), table.has("rows")) {
        (true, true) => {
            let message =
                "stitch.ground and stitch.rows both say what the ground is; leave one out.";
            table.say(&CLASH, table.place_of("rows"), message.to_owned());
            (String::new(), None)
        }
        (_, true) => (
            "stitch pattern".to_owned(),
            chart(table, "stitch pattern", &letters),
        ),
        (true, false) => named(table),
        (false, false) if table.has("panels") => {
            ("stocking stitch".to_owned(), ground("stocking stitch"))
        }
        (false, false) => {
            table.missing("ground", "ground = \"2x2 rib\", or rows = \"\"\"...\"\"\"");
            (String::new(), None)
        }
    };
    let drawn = given.map(|given| drawn(table, &name, given, worked));
    let width = drawn.as_ref().map(|drawn| drawn.chart.width());
    // Known keys even where there is no chart to hold them against.
    table.has("first_row");
    let first_stitch = place_in(table, "first_stitch", width, "sts");
    table.finish();
    Some(Pattern {
        first_stitch,
        panels,
        ..Pattern::plain(&name, drawn?, worked)
    })
}

fn named(table: &CaseTable<'_>) -> (String, Option<Chart>) {
    let name = table.text("ground").unwrap_or_default();
    let chart = ground(name);
    if chart.is_none() && !name.is_empty() {
        let names: Vec<String> = GROUNDS
            .iter()
            .map(|(name, _)| format!("\"{name}\""))
            .collect();
        let message = format!(
            "stitch.ground is \"{name}\"; it must be one of {}.",
            names.join(", ")
        );
        let near = nearest(name, GROUNDS.iter().map(|(name, _)| *name));
        let said = Diagnostic::new(&UNKNOWN_WORD, message);
        let said = match near {
            Some(near) => said.next(format!(
                "Did you mean \"{near}\"? Any other ground can be written as rows."
            )),
            None => said.next("Use one of the names, or write the ground as rows."),
        };
        table.say_with(said, table.place_of("ground"));
    }
    (name.to_owned(), chart)
}

/// What the characters stand for, and those of which the case says what is no stitch: that is said once, here.
struct Letters {
    legend: Legend,
    faulty: Vec<char>,
    /// False where nothing of the legend could be read.
    readable: bool,
}

fn letters(table: &CaseTable<'_>) -> Letters {
    let mut known = Letters {
        legend: Legend::new(),
        faulty: Vec::new(),
        readable: !table.has("legend") || table.is_table("legend"),
    };
    if !known.readable {
        let message = "stitch.legend cannot be read: it has a line for each character, such as L = 2/2 left, and each character once.";
        table.say(&CHART, table.place_of("legend"), message.to_owned());
        return known;
    }
    for (key, words, place) in table.entries("legend") {
        let mut letters = key.chars();
        let (Some(letter), None) = (letters.next(), letters.next()) else {
            let message =
                format!("stitch.legend explains `{key}`; a chart has one character a stitch.");
            table.say(&CHART, place, message);
            continue;
        };
        if let Some(stitch) = Stitch::named(words) {
            known.legend.insert(letter, stitch);
            continue;
        }
        known.faulty.push(letter);
        let message =
            format!("stitch.legend says `{key}` is \"{words}\", which is no stitch of the table.");
        let names: Vec<&str> = Stitch::all().map(|(_, entry)| entry.name).collect();
        let next = format!(
            "Use one of {}, or a crossing such as \"2/2 left\" or \"2/1 right purl\" (in front / behind).",
            names.join(", ")
        );
        table.say_with(Diagnostic::new(&CHART, message).next(next), place);
    }
    known
}

/// The chart in `rows`; everything that is wrong with it is said, alike faults of several rows once.
fn chart(table: &CaseTable<'_>, name: &str, letters: &Letters) -> Option<Chart> {
    let text = table.text("rows")?;
    let faults = match Chart::parse(text, &letters.legend) {
        Ok(chart) => return Some(chart),
        Err(faults) => faults,
    };
    let said_already = |fault: &RowFault| {
        fault
            .unknown
            .is_some_and(|letter| !letters.readable || letters.faulty.contains(&letter))
    };
    let mut together: Vec<(Vec<usize>, String)> = Vec::new();
    for fault in faults.into_iter().filter(|fault| !said_already(fault)) {
        match together.iter_mut().find(|(_, what)| *what == fault.what) {
            Some((rows, _)) => rows.extend(fault.row),
            None => together.push((fault.row.into_iter().collect(), fault.what)),
        }
    }
    for (rows, what) in together {
        let message = match rows.as_slice() {
            [] => format!("The chart of the {name} cannot be used: {what}."),
            [row] => format!("Row {row} of the {name} {what}."),
            rows => format!("{} of the {name}: each {what}.", row_list(rows)),
        };
        let has_no_rows = message.ends_with("it has no rows.");
        let said = Diagnostic::new(&CHART, message);
        let said = if has_no_rows {
            said.next("Write a line for every row, the last line for row 1.")
        } else {
            said
        };
        table.say_with(said, table.place_of("rows"));
    }
    None
}

/// Between double quotes a \ at the end of a line joins it with the next one, so that two rows would be one: said, since
/// the row may still close.
pub(super) fn judge_joined_rows(root: &CaseTable<'_>, text: &str) {
    if !root.is_table("stitch") {
        return;
    }
    let judge = |table: &CaseTable<'_>| {
        let place = table.place_of("rows");
        let raw = text.get(place.from..place.to).unwrap_or_default();
        if table.has("rows") && raw.starts_with('"') && joins_lines(raw) {
            let message = "The rows of a chart are joined by a \\ at the end of a line.";
            let next = "Write the chart as rows = '''...''': between single quotes a \\ stands for itself.";
            table.say_with(Diagnostic::new(&CHART, message).next(next), place);
        }
    };
    if let Some(stitch) = root.table("stitch") {
        judge(&stitch);
        if stitch.is_table("panels") {
            stitch
                .tables("panels")
                .iter()
                .for_each(|(_, panel)| judge(panel));
        }
    }
}

/// A \ that is not itself escaped, with nothing but blanks up to the end of its line.
fn joins_lines(raw: &str) -> bool {
    let mut letters = raw.chars();
    while let Some(letter) = letters.next() {
        if letter == '\\' && letters.next().is_some_and(char::is_whitespace) {
            return true;
        }
    }
    false
}

/// "Rows 1, 3 and 5".
fn row_list(rows: &[usize]) -> String {
    let mut rows: Vec<String> = rows.iter().map(ToString::to_string).collect();
    let last = rows.pop().unwrap_or_default();
    format!("Rows {} and {last}", rows.join(", "))
}

/// The chart as it is worked; what is lost by that, and what cannot be done, is said.
fn drawn(table: &CaseTable<'_>, name: &str, given: Chart, worked: Worked) -> Drawn {
    let first_row = place_in(table, "first_row", Some(given.height()), "rows");
    let drawn = Drawn::new(given, worked, first_row);
    let place = table.place_of("rows");
    if let Some((row, stitch)) = drawn.not_on_wrong_side() {
        let row = row + 1;
        let message = format!(
            "Row {row} of the {name} has {stitch} and would come on a wrong-side row of the cap."
        );
        table.say(&WRONG_SIDE, place, message);
    }
    if worked == Worked::FromCuff && drawn.given.has_way_up() {
        table.say_with(turned(name, &drawn), place);
    }
    drawn
}

fn turned(name: &str, drawn: &Drawn) -> Diagnostic {
    let lost: Vec<String> = drawn
        .lost_when_turned()
        .into_iter()
        .filter_map(|stitch| Some(format!("{stitch}: {}", stitch.lost_when_turned()?)))
        .collect();
    if lost.is_empty() {
        let message = format!(
            "The {name} has a way up; its chart is turned round, so that it hangs as before."
        );
        return Diagnostic::new(&TURNED, message);
    }
    let message = format!(
        "The {name} has a way up and will not look as before when it is worked from the shoulder down ({}).",
        lost.join("; ")
    );
    Diagnostic::new(&WAY_UP, message)
}

/// A row or a stitch of a chart, counted from 1 in the case and from 0 here.
fn place_in(table: &CaseTable<'_>, key: &str, most: Option<usize>, unit: &str) -> Option<usize> {
    let given = table.count(key, &CHART_PLACE)? as usize;
    let most = most.unwrap_or(given);
    if given > most {
        let message = format!("stitch: {key} is {given}, but the chart has {most} {unit}.");
        table.say(&OUT_OF_RANGE, table.place_of(key), message);
        return None;
    }
    Some(given - 1)
}

fn panels(table: &CaseTable<'_>, letters: &Letters, worked: Worked, saddle: bool) -> Vec<Panel> {
    let panels = table.tables("panels");
    if panels.len() > MOST_PANELS {
        let message = format!(
            "stitch.panels has {} panels; {MOST_PANELS} is the limit.",
            panels.len()
        );
        table.say(&OUT_OF_RANGE, table.place_of("panels"), message);
        return Vec::new();
    }
    let panels = panels.into_iter();
    panels
        .filter_map(|(name, inner)| {
            let name = words::name(table, "panels", &name);
            panel(&name, &inner, letters, worked, saddle)
        })
        .collect()
}

fn panel(
    name: &str,
    table: &CaseTable<'_>,
    letters: &Letters,
    worked: Worked,
    saddle: bool,
) -> Option<Panel> {
    if !table.has("rows") {
        table.missing("rows", "rows = \"\"\"...\"\"\"");
    }
    let called = format!("panel \"{name}\"");
    let drawn = chart(table, &called, letters).map(|given| drawn(table, &called, given, worked));
    // A known key even where there is no chart to hold it against.
    table.has("first_row");
    let at = table.choice(
        "at",
        &[("crown", PanelPlace::Crown), ("saddle", PanelPlace::Saddle)],
    );
    let aside = table
        .count("from_centre", &FROM_CENTRE)
        .map(PanelPlace::FromCentre);
    if table.has("at") && table.has("from_centre") {
        let message = format!("The {called} has a place twice, at and from_centre; leave one out.");
        table.say(&CLASH, table.place_of("from_centre"), message);
    }
    if at == Some(PanelPlace::Saddle) && !saddle {
        let message = format!(
            "The {called} lies on a saddle, but there is no [shoulder] with live_stitches."
        );
        let next =
            "Say how many stitches wait ([shoulder] with live_stitches), or write at = \"crown\".";
        table.clash("at", message, next);
    }
    table.finish();
    Some(Panel {
        name: name.to_owned(),
        drawn: drawn?,
        place: at.or(aside).unwrap_or(PanelPlace::Crown),
    })
}
