//! The cap row by row, to be ticked off.
//!
//! The rows are those of the knitted text, not of the plan: what is ticked off was proved.

use super::csv::Csv;
use crate::case::Turn;
use crate::plan::{Flank, NeedleRow, Section, TurnedOn};

/// One row to tick off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckRow {
    /// Its number.
    pub row: u32,
    /// `RS` or `WS`.
    pub side: &'static str,
    /// The letters of its step; empty for the first two rows and the last.
    pub step: String,
    /// Where it turns, in words.
    pub turn: String,
    /// The same where there is little room: `1st flank, 12`; the 1st flank is the one where RS rows turn.
    pub place: String,
    /// Stitches worked so far, those turned on left out.
    pub worked: u32,
    /// Stitches waiting on the first flank.
    pub waiting_first: u32,
    /// Stitches waiting on the second flank.
    pub waiting_second: u32,
    /// Decreases so far.
    pub decreases: u32,
    /// Stitches on the needle.
    pub on_needle: u32,
}

/// All rows of the cap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checklist {
    /// Name of the flank where RS rows turn.
    pub first: &'static str,
    /// Name of the flank where WS rows turn.
    pub second: &'static str,
    /// In the order they are worked.
    pub rows: Vec<CheckRow>,
}

/// The checklist of the rows of a cap, as they were knitted; the last of them runs on to the start
/// of the round.
///
/// Left out, `first_flank` is whichever comes first: front and back are alike.
pub fn checklist(rows: &[NeedleRow], first_flank: Option<Flank>, turn: Turn) -> Checklist {
    let (first, second) = match first_flank {
        None => ("first flank", "second flank"),
        Some(Flank::Back) => ("back", "front"),
        Some(Flank::Front) => ("front", "back"),
    };
    let names = FlankNames {
        first,
        second,
        turn,
    };
    Checklist {
        first,
        second,
        rows: rows
            .iter()
            .enumerate()
            .map(|(i, row)| names.row(row, i + 1 == rows.len()))
            .collect(),
    }
}

struct FlankNames {
    first: &'static str,
    second: &'static str,
    turn: Turn,
}

impl FlankNames {
    fn row(&self, row: &NeedleRow, last: bool) -> CheckRow {
        CheckRow {
            row: row.row,
            side: if row.right_side { "RS" } else { "WS" },
            step: row.step.clone().unwrap_or_default(),
            turn: match row.turned_on {
                Some(on) => self.turned_on(on),
                None if last => "on to the start of the round".to_owned(),
                None => "turn at the underarm".to_owned(),
            },
            place: match row.turned_on {
                Some(on) => place(on),
                None if last => "to the round".to_owned(),
                None => "underarm".to_owned(),
            },
            worked: row.worked.count(),
            waiting_first: row.waiting_first.count(),
            waiting_second: row.waiting_second.count(),
            decreases: row.decreases,
            on_needle: row.stitches.count(),
        }
    }

    fn turned_on(&self, on: TurnedOn) -> String {
        let how = match (self.turn, on.from == on.to) {
            (Turn::Wrap, true) => "w&t st",
            (Turn::Wrap, false) => "wrap and turn sts",
            (Turn::German, true) => "ds on st",
            (Turn::German, false) => "ds of sts",
        };
        let which = numbers(on);
        let section = match on.section {
            Section::Crown => "crown",
            Section::First => self.first,
            Section::Base => "base",
            Section::Second => self.second,
        };
        format!("{how} {which}, {section}")
    }
}

/// `12`, or `12 + 13` where two are turned on.
fn numbers(on: TurnedOn) -> String {
    if on.from == on.to {
        on.from.to_string()
    } else {
        format!("{} + {}", on.from, on.to)
    }
}

fn place(on: TurnedOn) -> String {
    let section = match on.section {
        Section::Crown => "crown",
        Section::First => "1st flank",
        Section::Base => "base",
        Section::Second => "2nd flank",
    };
    format!("{section}, {}", numbers(on))
}

impl Checklist {
    /// As a table of plain text with a box to tick.
    pub fn to_text(&self) -> String {
        let width = self.rows.iter().map(|row| row.turn.chars().count()).max();
        let width = width.unwrap_or_default();
        let mut out = format!(
            "[ ]  row  side step  {:<width$}  worked  waiting: {}, {}  decreased  on the needle\n",
            "turn", self.first, self.second
        );
        let waiting = "waiting: , ".len() + self.first.len() + self.second.len();
        for row in &self.rows {
            let both = format!("{}, {}", row.waiting_first, row.waiting_second);
            let line = format!(
                "[ ]  {:>3}  {}   {:<4}  {:<width$}  {:>6}  {:>waiting$}  {:>9}  {:>13}",
                row.row,
                row.side,
                row.step,
                row.turn,
                row.worked,
                both,
                row.decreases,
                row.on_needle
            );
            out.push_str(&line);
            out.push('\n');
        }
        out
    }

    /// As comma-separated values (RFC 4180), with a heading line and an empty column to tick.
    pub fn to_csv(&self) -> String {
        let waiting = |flank: &str| format!("waiting_{}", flank.replace(' ', "_"));
        let mut csv = Csv::default();
        let mut headings = [
            "done",
            "row",
            "side",
            "step",
            "turn",
            "worked",
            "",
            "",
            "decreases",
            "on_needle",
        ]
        .map(str::to_owned);
        headings[6] = waiting(self.first);
        headings[7] = waiting(self.second);
        csv.line(headings);
        for row in &self.rows {
            csv.line([
                String::new(),
                row.row.to_string(),
                row.side.to_owned(),
                row.step.clone(),
                row.turn.clone(),
                row.worked.to_string(),
                row.waiting_first.to_string(),
                row.waiting_second.to_string(),
                row.decreases.to_string(),
                row.on_needle.to_string(),
            ]);
        }
        csv.text()
    }
}
