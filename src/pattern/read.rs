//! The door of the room: text and context in, ledgers and diagnostics out.

use std::collections::BTreeMap;

use crate::case::Take;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::measure::{Rows, Stitches, Stop};

use super::advice::attach;
use super::ambiguity;
use super::budget::Budget;
use super::clause;
use super::codes;
use super::context::{Context, Piece, take_of};
use super::ledger::Ledger;
use super::limits::{MAX_BYTES, MAX_DIAGNOSTICS, MAX_REPAIRED_BYTES, MAX_SIZES};
use super::program::{Action, Instruction, Program};
use super::repair::{Faults, Search, faults};
use super::run::{Setting, SizeOutcome};
use super::term::whole;

/// What the lines say, one ledger per size.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// One entry per size of the context, in its order, each as far as it could be read.
    pub sizes: Vec<SizeReading>,
}

/// The rows of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizeReading {
    /// The label of the size.
    pub size: String,
    /// Its rows.
    pub ledger: Ledger,
}

/// Reads the lines of a cap or an armhole for every size.
///
/// Never fails and never panics: what is not understood, or cannot be right, is told in the
/// diagnostics, with its place as bytes of `text`. Nothing is repaired: a diagnostic carries the
/// edits after which every stated count agrees, and the ledger is that of the text as it stands.
/// Rows are counted from the first row of the lines, which is row 1.
pub fn read(text: &str, context: &Context) -> (Reading, Vec<Diagnostic>) {
    read_until(text, context, &Stop::never())
}

/// The same; once `stop` is set no further reading or repair is tried.
pub fn read_until(text: &str, context: &Context, stop: &Stop) -> (Reading, Vec<Diagnostic>) {
    let context = within_limits(context);
    let (text, mut diagnostics) = text_within_limits(text, &context);
    let settings = settings(&context, &mut diagnostics);
    let budget = Budget::new(stop);
    let heard = hear(text, &context, &settings, &budget);
    diagnostics.extend(repaired(text, &context, &settings, &heard, &budget));
    if budget.is_spent() {
        let message =
            "not every other reading and repair was tried: these lines are too long for it";
        diagnostics.push(Diagnostic::new(&codes::NOT_ALL_TRIED, message));
    }
    let outcomes = heard.outcomes;
    let sizes = outcomes
        .into_iter()
        .zip(&context.sizes)
        .map(|(outcome, label)| SizeReading {
            size: label.clone(),
            ledger: outcome.ledger,
        })
        .collect();
    (Reading { sizes }, in_order(diagnostics))
}

/// A text as far as it was understood and carried out.
struct Heard {
    program: Program,
    outcomes: Vec<SizeOutcome>,
    diagnostics: Vec<Diagnostic>,
}

impl Heard {
    /// True when this finding was made.
    fn has(&self, codes: &[&Code]) -> bool {
        self.diagnostics
            .iter()
            .any(|d| codes.iter().any(|c| c.id == d.code.id))
    }

    fn faults(&self) -> Vec<Faults> {
        self.outcomes.iter().map(faults).collect()
    }
}

fn hear(text: &str, context: &Context, settings: &[Setting], budget: &Budget<'_>) -> Heard {
    let (mut program, mut diagnostics) = clause::parse(text, &context.sizes);
    if !has_rows(&program.steps) {
        diagnostics.push(Diagnostic::new(
            &codes::NO_LINES,
            "there is no instruction in the lines",
        ));
    }
    take_readings(&mut program, context);
    let (outcomes, found) = ambiguity::settle(&mut program, settings, context, budget);
    diagnostics.extend(found);
    Heard {
        program,
        outcomes,
        diagnostics,
    }
}

/// All that is to be said, with the repairs of what disagrees.
fn repaired(
    text: &str,
    context: &Context,
    settings: &[Setting],
    heard: &Heard,
    budget: &Budget<'_>,
) -> Vec<Diagnostic> {
    let list = heard.has(&[&codes::LIST_LENGTH]);
    let mut before = heard.faults();
    let mut all = heard.diagnostics.clone();
    all.extend(told(&heard.outcomes, context));
    let faulty = list || before.iter().any(|&f| f != (0, 0));
    // What was not understood may explain any disagreement: no edit is proposed then.
    if !faulty
        || text.len() > MAX_REPAIRED_BYTES
        || budget.is_spent()
        || heard.has(&[&codes::NOT_UNDERSTOOD, &codes::ELSEWHERE])
    {
        return all;
    }
    if let Some(first) = before.first_mut().filter(|_| list) {
        first.0 += 1;
    }
    let rows: usize = heard.outcomes.iter().map(|o| o.work).sum();
    let reread = |text: &str| {
        if !budget.allows(rows + heard.program.steps.len()) {
            return vec![(1, 0); settings.len()];
        }
        let heard = hear(text, context, settings, budget);
        let mut after = heard.faults();
        let bad = heard.has(&[&codes::LIST_LENGTH, &codes::NOT_UNDERSTOOD]);
        if let Some(first) = after.first_mut().filter(|_| bad) {
            first.0 += 1;
        }
        after
    };
    let search = Search {
        text,
        program: &heard.program,
        settings,
        faults: before,
        list,
        reread: &reread,
        budget,
    };
    let found = search.find();
    for diagnostic in &mut all {
        attach(diagnostic, &found, context, text);
    }
    all
}

/// The findings of all sizes. What is the same in every size is said once, without a size.
fn told(outcomes: &[SizeOutcome], context: &Context) -> Vec<Diagnostic> {
    let mut found: BTreeMap<(Option<Span>, String), (Diagnostic, Vec<usize>)> = BTreeMap::new();
    for (size, outcome) in outcomes.iter().enumerate() {
        for finding in outcome.findings.iter().take(MAX_DIAGNOSTICS) {
            let new = finding.diagnostic(context.units);
            let key = (new.span, new.message.clone());
            let (_, sizes) = found.entry(key).or_insert_with(|| (new, Vec::new()));
            if sizes.last() != Some(&size) {
                sizes.push(size);
            }
        }
    }
    let mut out = Vec::new();
    for (diagnostic, sizes) in found.into_values() {
        if sizes.len() == outcomes.len() {
            out.push(diagnostic);
            continue;
        }
        let labels = sizes.iter().filter_map(|&size| context.sizes.get(size));
        out.extend(labels.map(|label| diagnostic.clone().for_size(label)));
    }
    out
}

/// The context with at least one size, one without a name where it names none. Sizes beyond [`MAX_SIZES`] stay in it and
/// are not read: what is said of them stands in [`text_within_limits`].
fn within_limits(context: &Context) -> Context {
    let mut context = context.clone();
    if context.sizes.is_empty() {
        context.sizes.push(String::new());
    }
    context
}

/// The part of the text that is read.
fn text_within_limits<'a>(text: &'a str, context: &Context) -> (&'a str, Vec<Diagnostic>) {
    let mut diagnostics = Vec::new();
    let mut end = text.len().min(MAX_BYTES);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    if end < text.len() {
        let message = format!("the text has {} bytes, {MAX_BYTES} are read", text.len());
        diagnostics.push(Diagnostic::new(&codes::TOO_LONG, message));
    }
    if context.sizes.len() > MAX_SIZES {
        let message = format!(
            "there are {} sizes, {MAX_SIZES} are read",
            context.sizes.len()
        );
        diagnostics.push(Diagnostic::new(&codes::TOO_MANY_SIZES, message));
    }
    (text.get(..end).unwrap_or_default(), diagnostics)
}

/// True when some step works a row.
fn has_rows(steps: &[Instruction]) -> bool {
    steps.iter().any(|step| match &step.action {
        Action::Count(_)
        | Action::Change(_)
        | Action::Ended(_)
        | Action::EndedRow(_)
        | Action::RowsNamed(_)
        | Action::Star
        | Action::OtherSide { .. }
        | Action::Divide { .. }
        | Action::Begin(_)
        | Action::Saddle => false,
        Action::Group { steps, .. } => has_rows(steps),
        _ => true,
    })
}

fn settings(context: &Context, diagnostics: &mut Vec<Diagnostic>) -> Vec<Setting> {
    let lists = [
        Some(context.stitches.len()),
        context.row_heights.as_ref().map(Vec::len),
    ];
    for given in lists.into_iter().flatten() {
        let left_out = context.stitches.is_empty() && given == 0;
        if given != 1 && given != context.sizes.len() && !left_out {
            let message = format!(
                "{given} numbers are given for {} sizes",
                context.sizes.len()
            );
            diagnostics.push(Diagnostic::new(&codes::STARTING_COUNT, message));
        }
    }
    (0..context.sizes.len())
        .map(|size| Setting {
            size,
            start: context.stitches_of(size),
            first: context.first_row,
            row_height: context.row_height_of(size),
            half_piece: context.piece == Piece::Body,
        })
        .collect()
}

fn take_readings(program: &mut Program, context: &Context) {
    for choice in &mut program.choices {
        choice.second = take_of(context.readings, choice.doubt) == Take::Second;
    }
}

/// By place in the text, then as found; at most so many.
fn in_order(mut diagnostics: Vec<Diagnostic>) -> Vec<Diagnostic> {
    diagnostics.sort_by_key(|d| d.span.map_or((0, 0), |s| (s.from, s.to)));
    if let Some(more) = diagnostics
        .len()
        .checked_sub(MAX_DIAGNOSTICS)
        .filter(|&m| m > 0)
    {
        diagnostics.truncate(MAX_DIAGNOSTICS);
        let message = format!("{more} more findings are left out");
        diagnostics.push(Diagnostic::new(&codes::TOO_LONG, message));
    }
    diagnostics
}

/// Reads a size set that stands alone: `67 [71:77]`, `102 (114-122-134)`, `36-38 (40-42) 44-46`.
///
/// One number per size, in the order given; a size that is skipped (`-`, `none`) has none.
pub fn parse_size_set(text: &str) -> (Vec<Stitches>, Vec<Diagnostic>) {
    let (entries, mut diagnostics) = clause::read_set(text);
    if entries.is_empty() {
        diagnostics.push(Diagnostic::new(
            &codes::NOT_UNDERSTOOD,
            format!("there is no number in '{text}'"),
        ));
    }
    if entries.len() > MAX_SIZES {
        let message = format!("there are {} sizes, {MAX_SIZES} are read", entries.len());
        diagnostics.push(Diagnostic::new(&codes::TOO_MANY_SIZES, message));
    }
    let numbers = entries
        .iter()
        .take(MAX_SIZES)
        .map(|e| e.value.and_then(whole).unwrap_or(0));
    (numbers.map(Stitches).collect(), diagnostics)
}

impl SizeReading {
    /// Rows of fabric: all but the closing bind-off.
    pub fn rows(&self) -> Rows {
        self.ledger.row_count()
    }
}
