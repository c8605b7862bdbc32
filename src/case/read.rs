//! From TOML to a valid case, section by section.

use std::cell::{Cell, RefCell};

use toml::de::DeTable;

use super::adapt;
use super::armhole::{armholes, shoulder};
use super::codes::{CLASH, LIST_LENGTH, OUT_OF_RANGE, SYNTAX, TOO_MANY, UNKNOWN_WORD};
use super::sleeve::sleeve;
use super::so_far::so_far;
use super::stitch::{judge_joined_rows, stitch};
use super::stripes::striped;
use super::swatch::swatch;
use super::table::{CaseReading, CaseTable};
use super::words;
use super::{
    Body, BodyKey, BodyMade, CapGauge, Case, FitWishes, Gauges, Readings, SameRuns, Sleeve, Style,
    Take, Terms, Turn, TurnDecrease, Underarm,
};
use crate::diagnostic::{Diagnostic, Level, Span, worst};
use crate::measure::limits::MAX_DIAGNOSTICS;
use crate::measure::{
    ARM_EASE, BASE_TOLERANCE, BUST, CHOICE, GAP_LIMIT, PICKED_UP_ROW, RUNS, Rows, Stitches,
    UPPER_ARM_WIDTH, Units,
};
use crate::plan::{Hand, Move, STEEPEST};

/// Reads a case file.
///
/// Returns the case when nothing needed is missing or wrong, and all that was found; spans are
/// bytes of the file.
pub fn read_case(text: &str) -> (Option<Case>, Vec<Diagnostic>) {
    let (table, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        return (
            None,
            errors
                .iter()
                .take(MAX_DIAGNOSTICS)
                .map(|error| syntax(error, text))
                .collect(),
        );
    }
    let heading = heading(table.get_ref());
    let reading = CaseReading {
        problems: RefCell::default(),
        more: Cell::default(),
        units: heading.units,
        sizes: heading.sizes.len(),
    };
    let root = CaseTable::root(&reading, table.get_ref());
    let case = case(&root, heading.sizes);
    judge_joined_rows(&root, text);
    root.finish();
    let mut problems = reading.problems.into_inner();
    let more = reading.more.get();
    if more > 0 {
        let message = format!("There are {more} more problems of this kind or another.");
        problems.push(Diagnostic::new(&TOO_MANY, message));
    }
    let usable = worst(&problems) != Some(Level::Error);
    (case.filter(|_| usable), problems)
}

fn syntax(error: &toml::de::Error, text: &str) -> Diagnostic {
    let message = format!(
        "This is not TOML: {}.",
        error.message().trim_end_matches('.')
    );
    let diagnostic = Diagnostic::new(&SYNTAX, message);
    let diagnostic = match error.message() {
        // A chart's \ (ssk) between double quotes.
        said if said.contains("escape") => diagnostic.next("A \\ stands for itself between single quotes: write a chart that has one as rows = '''...'''."),
        said if said.contains("duplicate key") => diagnostic.next("This key or table is there already: leave one out, or give it another name."),
        _ => diagnostic,
    };
    match error.span() {
        Some(span) => diagnostic.at(Span::new(span.start, span.end.min(text.len()))),
        None => diagnostic,
    }
}

/// Units and sizes come first: everything else is read in their light.
struct CaseHead {
    units: Units,
    sizes: Vec<String>,
}

const UNITS: &[(&str, Units)] = &[("cm", Units::Cm), ("in", Units::In)];

fn heading(table: &DeTable<'_>) -> CaseHead {
    let reading = CaseReading {
        problems: RefCell::default(),
        more: Cell::default(),
        units: Units::Cm,
        sizes: 1,
    };
    let root = CaseTable::root(&reading, table);
    CaseHead {
        units: root.choice("units", UNITS).unwrap_or_default(),
        sizes: words::labels(&root),
    }
}

fn case(root: &CaseTable<'_>, sizes: Vec<String>) -> Option<Case> {
    let title = words::title(root);
    words::judge_labels(root);
    let units = root.choice("units", UNITS);
    if !root.has("units") {
        root.missing("units", "units = \"cm\"");
    }
    let gauge = gauges(root);
    let sleeve = sleeve(root);
    let style = root
        .table("wording")
        .map(|table| style(&table))
        .unwrap_or_default();
    let armholes = armholes(root, style);
    let shoulder = root.table("shoulder").map(|table| shoulder(&table));
    let body = root.table("body").map(|table| body(&table));
    let fit = root
        .table("fit")
        .map(|table| fit(&table))
        .unwrap_or_default();
    let readings = root.table("readings").map(|table| readings(&table));
    let adapt = root.table("adapt").map(|table| {
        let old_cap = sleeve.as_ref().is_none_or(Sleeve::has_old_cap);
        adapt::adapt(&table, old_cap)
    });
    if let Some(adapt) = &adapt {
        adapt::agrees(root, adapt, shoulder.is_some(), body.is_some());
    }
    let so_far = root.table("so_far").and_then(|table| {
        let has_length = sleeve.as_ref().is_none_or(|sleeve| sleeve.length.is_some());
        so_far(&table, &sizes, has_length)
    });
    let stitch = root
        .table("stitch")
        .map(|table| stitch(&table, shoulder.is_some()));
    let stripes = root.table("stripes").map(|table| striped(&table));
    let (front, back) = armholes?;
    Some(Case {
        title,
        units: units?,
        sizes,
        gauge: gauge?,
        sleeve: sleeve?,
        front,
        back,
        shoulder: shoulder.flatten(),
        body: body.flatten(),
        adapt,
        stitch: stitch.flatten(),
        stripes: stripes.flatten(),
        so_far,
        fit,
        style,
        readings: readings.unwrap_or_default(),
    })
}

fn gauges(root: &CaseTable<'_>) -> Option<Gauges> {
    let Some(table) = root.table("gauge") else {
        root.missing("gauge.pattern", "[gauge.pattern] with stitches and rows");
        return None;
    };
    let pattern = table.table("pattern").map(|t| swatch(&t));
    if !table.has("pattern") {
        table.missing("pattern", "[gauge.pattern] with stitches and rows");
    }
    let other = |key: &str| table.table(key).and_then(|t| swatch(&t));
    let gauges = Gauges {
        flat: other("flat"),
        round: other("round"),
        body: other("body"),
        cap: table.choice(
            "cap",
            &[("flat", CapGauge::Flat), ("round", CapGauge::Round)],
        ),
        pattern: pattern.flatten().unwrap_or_default(),
    };
    for (cap, key) in [(CapGauge::Flat, "flat"), (CapGauge::Round, "round")] {
        if gauges.cap == Some(cap) && !table.has(key) {
            let message = format!("gauge.cap is \"{key}\", but there is no [gauge.{key}].");
            let next = format!("Give [gauge.{key}], or leave gauge.cap out.");
            table.clash("cap", message, &next);
        }
    }
    table.finish();
    Some(gauges)
}

fn body(table: &CaseTable<'_>) -> Option<Body> {
    let name = table.text("table").map(str::to_owned);
    let given: Vec<&str> = ["size", "bust", "upper_arm"]
        .into_iter()
        .filter(|key| table.has(key))
        .collect();
    let keys = match given.as_slice() {
        [] => {
            table.missing("size", wearer_example(name.as_deref()));
            None
        }
        ["size"] => body_sizes(table),
        ["bust"] => table
            .lengths("bust", &BUST)
            .map(|list| list.into_iter().map(BodyKey::Bust).collect()),
        // A measured arm beats any table; a bust beside it is a check on both.
        ["upper_arm"] | ["bust", "upper_arm"] => table
            .lengths("upper_arm", &UPPER_ARM_WIDTH)
            .map(|list| list.into_iter().map(BodyKey::UpperArm).collect()),
        several => {
            let message = format!("[body] gives {}; keep one of them.", several.join(" and "));
            table.say(&CLASH, table.place_of(several[0]), message);
            None
        }
    };
    let busts = match given.as_slice() {
        ["bust", "upper_arm"] => table.lengths("bust", &BUST),
        _ => None,
    };
    let ease = table.lengths("ease", &ARM_EASE);
    table.finish();
    Some(Body {
        table: name,
        keys: keys?,
        busts,
        ease,
    })
}

/// How a wearer of this table is told: a size of it, a chest, an arm in centimetres.
fn wearer_example(table: Option<&str>) -> &'static str {
    match table {
        Some("child") => "size = \"6\", bust = 63.5 or upper_arm = 20.5",
        Some("baby") => "size = \"6 mo\", bust = 43 or upper_arm = 15",
        Some("youth") => "size = \"12\", bust = 76 or upper_arm = 23",
        Some("man") => "size = \"M\", bust = 99 or upper_arm = 33",
        _ => "size = \"M\", bust = 92 or upper_arm = 29",
    }
}

fn body_sizes(table: &CaseTable<'_>) -> Option<Vec<BodyKey>> {
    let labels = table.texts("size")?;
    let sizes = table.reading().sizes;
    let labels = match labels.as_slice() {
        [one] => vec![*one; sizes],
        _ => labels,
    };
    if labels.len() != sizes {
        let message = format!(
            "body.size has {} entries, but the case has {sizes} sizes.",
            labels.len()
        );
        table.say(&LIST_LENGTH, table.place_of("size"), message);
        return None;
    }
    Some(
        labels
            .into_iter()
            .map(|label| BodyKey::Size(label.to_owned()))
            .collect(),
    )
}

fn fit(table: &CaseTable<'_>) -> FitWishes {
    let wishes = FitWishes {
        moves: table.texts("moves").map(|words| moves(table, &words)),
        runs: table.count("runs", &RUNS).map(|n| n as usize),
        choice: table.count("choice", &CHOICE).unwrap_or(1) as usize,
        same_runs: match table.flag("same_runs") {
            None => SameRuns::Unsaid,
            Some(false) => SameRuns::No,
            Some(true) => SameRuns::Yes,
        },
        gap_limit: table.number("gap_limit", &GAP_LIMIT),
        ease_at_shoulder: table
            .choice("ease", &[("even", false), ("shoulder", true)])
            .unwrap_or(false),
        base_tolerance: Stitches(table.count("base_tolerance", &BASE_TOLERANCE).unwrap_or(0)),
        picked_up_row: table.count("picked_up_row", &PICKED_UP_ROW).map(Rows),
        plain_join: table.flag("plain_join").unwrap_or(false),
    };
    table.finish();
    wishes
}

fn moves(table: &CaseTable<'_>, words: &[&str]) -> Vec<Move> {
    if words.is_empty() {
        let message = format!(
            "fit.moves is an empty list; it names at least one move (1/0 to {STEEPEST}/0, 1/1 or 2/1), or is left out for the usual ones."
        );
        table.say(&OUT_OF_RANGE, table.place_of("moves"), message);
    }
    let read = words.iter().filter_map(|word| {
        let found = move_of(word);
        if found.is_none() {
            let message = format!(
                "fit.moves has \"{word}\"; a move is 1/0 to {STEEPEST}/0, 1/1 or 2/1 (stitches taken / decreased)."
            );
            table.say(&UNKNOWN_WORD, table.place_of("moves"), message);
        }
        found
    });
    read.collect()
}

fn move_of(word: &str) -> Option<Move> {
    let (take, drop) = word.split_once('/')?;
    let (take, drop) = (take.trim().parse().ok()?, drop.trim().parse().ok()?);
    matches!((take, drop), (1..=STEEPEST, 0) | (1 | 2, 1)).then_some(Move::new(take, drop))
}

const DECREASES: &[(&str, TurnDecrease)] = &[
    ("together", TurnDecrease::Together),
    ("next", TurnDecrease::Next),
];

const UNDERARMS: &[(&str, Underarm)] = &[
    ("bound-off", Underarm::BoundOff),
    ("live", Underarm::Live),
    ("cast-on", Underarm::CastOn),
];

const BODIES: &[(&str, BodyMade)] = &[
    ("pieces", BodyMade::Pieces),
    ("round", BodyMade::Round),
    ("steeked", BodyMade::Steeked),
];

fn style(table: &CaseTable<'_>) -> Style {
    let style = Style {
        terms: table
            .choice("terms", &[("us", Terms::Us), ("uk", Terms::Uk)])
            .unwrap_or_default(),
        turn: table
            .choice("turn", &[("wrap", Turn::Wrap), ("german", Turn::German)])
            .unwrap_or_default(),
        hand: table
            .choice("hand", &[("right", Hand::Right), ("left", Hand::Left)])
            .unwrap_or_default(),
        decrease: table.choice("decrease", DECREASES).unwrap_or_default(),
        underarm: table.choice("underarm", UNDERARMS).unwrap_or_default(),
        body: table.choice("body", BODIES).unwrap_or_default(),
        in_seam: Stitches::ZERO,
        stepped: Stitches::ZERO,
        in_pattern: false,
    };
    table.finish();
    style
}

const TAKES: &[(&str, Take)] = &[
    ("usual", Take::Usual),
    ("first", Take::First),
    ("second", Take::Second),
];

fn readings(table: &CaseTable<'_>) -> Readings {
    let take = |key: &str| table.choice(key, TAKES).unwrap_or_default();
    let readings = Readings {
        next_and_every: take("next_and_every"),
        repeat: take("repeat"),
        first_decrease: take("first_decrease"),
        trailing_row: take("trailing_row"),
        rows_twice: take("rows_twice"),
        cross: take("cross"),
        row_list: take("row_list"),
        edge: take("edge"),
    };
    table.finish();
    readings
}
