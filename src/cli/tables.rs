//! `tables`: the body measurements that ship with the program.

use std::fmt::Write as _;

use serde_json::json;

use super::args::TablesArgs;
use super::form::{Form, TEXT_JSON};
use super::outcome::{Outcome, UNUSABLE};
use super::output::Targets;
use super::render::json_line;
use super::show::{SpanSource, diagnostics};
use crate::body::{self, BodyTable};
use crate::diagnostic::Diagnostic;
use crate::measure::Units;
use crate::report::{ArmView, CellView, LengthView, RowView, TableView, table_list, table_view};

/// What was asked of the tables.
enum TableAnswer {
    List,
    Table(&'static BodyTable),
    Arm(Box<ArmView>),
}

pub(crate) fn tables(args: &TablesArgs) -> Outcome {
    let targets = match Targets::new(&args.output, &[], TEXT_JSON) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    match answer(args) {
        Ok((answer, err)) => {
            let outcome = Outcome {
                err,
                ..Outcome::default()
            };
            targets.deliver(outcome, |form| Ok(answer.written(form).into_bytes()))
        }
        Err(list) => Outcome {
            err: said(&list),
            code: UNUSABLE,
            ..Outcome::default()
        },
    }
}

fn answer(args: &TablesArgs) -> Result<(TableAnswer, String), Vec<Diagnostic>> {
    let Some(id) = &args.table else {
        return Ok((TableAnswer::List, String::new()));
    };
    let table = body::find(id).map_err(|d| vec![*d])?;
    match &args.ask {
        None => Ok((TableAnswer::Table(table), String::new())),
        Some(ask) => look_up(table, ask),
    }
}

impl TableAnswer {
    fn written(&self, form: Form) -> String {
        let json = form == Form::Json;
        match self {
            Self::List if json => json_line(&json!(table_list())),
            Self::List => list(),
            Self::Table(table) if json => json_line(&json!(table_view(table))),
            Self::Table(table) => one(table),
            Self::Arm(arm) if json => json_line(&json!(arm)),
            Self::Arm(arm) => format!("{}Source: {}\n", arm_text(arm), arm.source),
        }
    }
}

fn said(list: &[Diagnostic]) -> String {
    diagnostics(list, SpanSource { name: "", text: "" })
}

fn list() -> String {
    let mut out = String::new();
    for table in table_list() {
        let _ = writeln!(out, "{:<16} {} ({})", table.id, table.title, table.year);
        let _ = writeln!(out, "{:<16} answers: {}", "", table.answers);
    }
    out
}

fn one(table: &BodyTable) -> String {
    let view = table_view(table);
    let mut out = format!(
        "{} ({}, {})\n{}\n",
        view.title, view.edition, view.year, view.population
    );
    let _ = writeln!(out, "Source: {}", view.source);
    if !view.credit.is_empty() {
        let _ = writeln!(out, "Credit: {}", view.credit);
    }
    let _ = writeln!(out, "Licence: {}", view.licence);
    if !view.landmarks.is_empty() {
        let _ = writeln!(out, "Landmarks: {}", view.landmarks);
    }
    out.push_str(&landmarks(&view));
    for note in &view.notes {
        let _ = writeln!(out, "Note: {note}");
    }
    out.push('\n');
    for row in &view.rows {
        out.push_str(&row_text(&view, row));
    }
    for arm in &view.arms {
        out.push_str(&arm_text(arm));
    }
    out
}

fn landmarks(view: &TableView) -> String {
    let columns = view
        .columns
        .iter()
        .filter(|column| !column.landmark.is_empty());
    columns.fold(String::new(), |mut out, column| {
        let _ = writeln!(out, "{}: {}", column.name, column.landmark);
        out
    })
}

fn row_text(view: &TableView, row: &RowView) -> String {
    let mut out = format!("{}\n", row.label);
    for (column, cell) in view.columns.iter().zip(&row.cells) {
        let _ = writeln!(out, "    {:<36} {}", column.name, cell_text(*cell));
    }
    if !row.note.is_empty() {
        let _ = writeln!(out, "    ({})", row.note);
    }
    out
}

fn cell_text(cell: CellView) -> String {
    match cell {
        CellView::Number(_) => cell.text(Units::Cm),
        CellView::Length(_) => format!("{} cm ({} in)", cell.text(Units::Cm), cell.text(Units::In)),
    }
}

fn arm_text(arm: &ArmView) -> String {
    let both = |l: LengthView| format!("{:.1} cm ({:.1} in)", l.cm, l.inches);
    let mut out = format!("{}: upper arm {}", arm.label, both(arm.mean));
    let _ = write!(
        out,
        ", nine in ten between {} and {}",
        both(arm.low),
        both(arm.high)
    );
    if let Some(chart) = arm.chart {
        let _ = write!(out, "; the chart has {}", both(chart));
    }
    if arm.extrapolated {
        out.push_str("; extrapolated");
    }
    out.push('\n');
    out
}

fn look_up(table: &'static BodyTable, ask: &str) -> Result<(TableAnswer, String), Vec<Diagnostic>> {
    let key = body::parse_key(table, ask, Units::Cm).map_err(|d| vec![*d])?;
    let (arm, found) = body::look_up(&table.id, &key);
    let Some(arm) = arm else { return Err(found) };
    Ok((
        TableAnswer::Arm(Box::new(ArmView::from(&arm))),
        said(&found),
    ))
}
