//! Wordings with two readings: which was taken, why, and what the other would change.

use std::collections::BTreeSet;

use crate::case::Take;
use crate::diagnostic::{Code, Diagnostic, Level};

use super::budget::Budget;
use super::codes;
use super::context::{Context, take_of};
use super::finding::FindingKind;
use super::program::{ChoiceId, Doubt, DoubtTaken, Program};
use super::run::{Setting, SizeOutcome, run};

/// Both readings of a wording in words, first and second.
fn told(doubt: Doubt) -> (&'static Code, &'static str, &'static str) {
    match doubt {
        Doubt::NextAndEvery => (
            &codes::READING_NEXT_AND_EVERY,
            "the times count the next row too",
            "the times come after the next row",
        ),
        Doubt::Repeat => (
            &codes::READING_REPEAT,
            "so many times more",
            "so many times in all",
        ),
        Doubt::FirstDecrease => (
            &codes::READING_FIRST_DECREASE,
            "the first shaping row is the next one",
            "the full number of rows comes before the first shaping row",
        ),
        Doubt::TrailingRow => (
            &codes::READING_TRAILING_ROW,
            "the bind-off starts at once",
            "one more plain row comes before the bind-off",
        ),
        Doubt::RowsTwice => (
            &codes::READING_ROWS_TWICE,
            "all the rows are worked so many times",
            "the rows are worked once, so many edges in all",
        ),
        Doubt::Cross => (
            &codes::READING_CROSS,
            "stitches by times",
            "times by stitches",
        ),
        Doubt::RowList => (
            &codes::READING_ROW_LIST,
            "the rows count from the first row of the lines",
            "the rows count from here",
        ),
        Doubt::Edge => (
            &codes::READING_EDGE,
            "the stitches go at each end",
            "the stitches go at one edge",
        ),
    }
}

/// Works every size with the readings chosen; where the text leaves one open and the stated counts
/// prove the other, that is taken. Gives the outcomes and what is to be said about it.
pub(super) fn settle(
    program: &mut Program,
    settings: &[Setting],
    context: &Context,
    budget: &Budget<'_>,
) -> (Vec<SizeOutcome>, Vec<Diagnostic>) {
    let mut outcomes = run_all(program, settings);
    let by_side = !states_otherwise(&outcomes);
    let proved = prove(program, settings, context, &mut outcomes, budget);
    let met: BTreeSet<ChoiceId> = outcomes
        .iter()
        .flat_map(|o| o.met.iter().copied())
        .collect();
    let mut diagnostics = Vec::new();
    for id in met {
        let Some(choice) = program.choices.get(id).copied() else {
            continue;
        };
        if !budget.allows(cost(program, &outcomes)) {
            break;
        }
        let other = run_all(&turned(program, id), settings);
        let by_count = proved.contains(&id);
        let by = (by_count, by_side);
        if let Some(found) = compare(choice, by, (&outcomes, &other), context) {
            diagnostics.push(found);
        }
    }
    (outcomes, diagnostics)
}

pub(super) fn run_all(program: &Program, settings: &[Setting]) -> Vec<SizeOutcome> {
    settings
        .iter()
        .map(|&setting| run(program, setting))
        .collect()
}

/// Rows and steps of another trial of all sizes, as far as they can be foretold.
fn cost(program: &Program, outcomes: &[SizeOutcome]) -> usize {
    outcomes.iter().map(|o| o.work + program.steps.len()).sum()
}

/// The program with the other reading at one place.
fn turned(program: &Program, id: ChoiceId) -> Program {
    let mut program = program.clone();
    if let Some(choice) = program.choices.get_mut(id) {
        choice.second = !choice.second;
    }
    program
}

/// How many findings keep the counts, or the sides stated, from being right.
fn faults(outcomes: &[SizeOutcome]) -> usize {
    let wrong = |kind: FindingKind| kind.spoils_count() || kind.is_side();
    let spoils = |o: &SizeOutcome| o.findings.iter().filter(|f| wrong(f.kind)).count();
    outcomes.iter().map(spoils).sum()
}

/// True when a side stated in the text contradicts these rows.
fn ends_otherwise(outcomes: &[SizeOutcome]) -> bool {
    outcomes
        .iter()
        .any(|o| o.findings.iter().any(|f| f.kind.is_side()))
}

/// True when a count stated in the text contradicts these rows.
fn states_otherwise(outcomes: &[SizeOutcome]) -> bool {
    let stated = |kind: FindingKind| {
        matches!(
            kind,
            FindingKind::Count { .. } | FindingKind::Change { .. } | FindingKind::Odd { .. }
        )
    };
    outcomes
        .iter()
        .any(|o| o.findings.iter().any(|f| stated(f.kind)))
}

/// Turns the one open reading, or all of one kind, after which every stated count agrees.
fn prove(
    program: &mut Program,
    settings: &[Setting],
    context: &Context,
    outcomes: &mut Vec<SizeOutcome>,
    budget: &Budget<'_>,
) -> BTreeSet<ChoiceId> {
    if faults(outcomes) == 0 || !states_otherwise(outcomes) && !ends_otherwise(outcomes) {
        return BTreeSet::new();
    }
    let open: Vec<ChoiceId> = outcomes
        .iter()
        .flat_map(|o| o.met.iter().copied())
        .collect::<BTreeSet<_>>()
        .into_iter()
        .filter(|&id| {
            let doubt = program.choices.get(id).map(|c| c.doubt);
            doubt.is_some_and(|d| take_of(context.readings, d) == Take::Usual)
        })
        .collect();
    let kinds: BTreeSet<Doubt> = open
        .iter()
        .filter_map(|&id| program.choices.get(id))
        .map(|c| c.doubt)
        .collect();
    let of_kind = |doubt: Doubt| -> Vec<ChoiceId> {
        let same = |id: &ChoiceId| program.choices.get(*id).is_some_and(|c| c.doubt == doubt);
        open.iter().copied().filter(same).collect()
    };
    let singles = open.iter().take(40).map(|&id| vec![id]);
    let sets: Vec<Vec<ChoiceId>> = singles.chain(kinds.into_iter().map(of_kind)).collect();
    for set in sets {
        if !budget.allows(cost(program, outcomes)) {
            break;
        }
        let trial = set.iter().fold(program.clone(), |p, &id| turned(&p, id));
        let tried = run_all(&trial, settings);
        if faults(&tried) == 0 {
            *program = trial;
            *outcomes = tried;
            return set.into_iter().collect();
        }
    }
    BTreeSet::new()
}

/// What the other reading would change, size by size; `None` when nothing.
fn compare(
    choice: DoubtTaken,
    (by_count, by_side): (bool, bool),
    (taken, other): (&[SizeOutcome], &[SizeOutcome]),
    context: &Context,
) -> Option<Diagnostic> {
    let size = taken
        .iter()
        .zip(other)
        .position(|(a, b)| a.ledger.rows != b.ledger.rows)?;
    let (here, there) = (taken.get(size)?, other.get(size)?);
    let (code, one, other_one) = told(choice.doubt);
    // With an edge the usual reading depends on the piece; the one that takes less is one edge.
    let second = if choice.doubt == Doubt::Edge {
        there.ledger.final_stitches() < here.ledger.final_stitches()
    } else {
        choice.second
    };
    let (is, would) = if second {
        (other_one, one)
    } else {
        (one, other_one)
    };
    // Only a count that the text states proves a reading.
    let proved_now = !by_count && faults(taken) == 0 && states_otherwise(other);
    let why = if by_count && by_side {
        "the side that the text names asks for it"
    } else if by_count || proved_now {
        "what the text states proves it"
    } else {
        "it is the usual one"
    };
    let label = context.sizes.get(size).map_or("", String::as_str);
    let change = change(here, there, context, size);
    let for_size = if context.sizes.len() > 1 {
        format!(" in size {label}")
    } else {
        String::new()
    };
    let message = format!(
        "read as '{is}' ({why}); the other reading, '{would}', would give {change}{for_size}"
    );
    let level = if by_count || proved_now {
        Level::Note
    } else {
        code.level
    };
    Some(Diagnostic::new(code, message).at(choice.span).level(level))
}

/// `2 rows more, 2 stitches fewer and 0.7 cm more depth`.
fn change(taken: &SizeOutcome, other: &SizeOutcome, context: &Context, size: usize) -> String {
    let rows = |o: &SizeOutcome| i64::from(o.ledger.row_count().count());
    let stitches = |o: &SizeOutcome| i64::from(o.ledger.final_stitches().count());
    let by_rows = rows(other) - rows(taken);
    let by_stitches = stitches(other) - stitches(taken);
    let mut parts = vec![
        more(by_rows, "row", "rows"),
        more(by_stitches, "stitch", "stitches"),
    ];
    if let Some(height) = context.row_height_of(size).filter(|_| by_rows != 0) {
        let depth = height * by_rows as f64;
        let way = if by_rows < 0 { "less" } else { "more" };
        parts.push(format!("{} {way} depth", context.units.show(depth.abs())));
    }
    parts.join(", ")
}

fn more(by: i64, one: &str, many: &str) -> String {
    let word = if by.abs() == 1 { one } else { many };
    match by {
        0 => format!("the same {many}"),
        1.. => format!("{by} {word} more"),
        _ => format!("{} {word} fewer", -by),
    }
}
