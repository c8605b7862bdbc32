//! The knitter: does what the sentences say, one after the other, and says where they go wrong.

use std::collections::BTreeMap;

use super::codes;
use super::knitted::{Column, Knitted, NeedleRow, Section, Stretch};
use super::machine::{Needle, Slip, State};
use super::said::{Claim, RoundOp, Said, Sentence};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::measure::{Rows, Side, Stitches};

/// The state between two sentences.
#[derive(Debug)]
pub(crate) struct Knitter<'a> {
    text: &'a str,
    pub(crate) needle: Needle,
    pub(crate) out: Knitted,
    pub(crate) diagnostics: Vec<Diagnostic>,
    /// The sentence being worked: its place and its number.
    pub(crate) here: Span,
    index: usize,
    /// A slip left the needle in a state nobody knows; the rest is only read.
    lost: bool,
    /// Differences between stated and found counts already reported, by kind of count.
    reported: BTreeMap<String, i64>,
    pub(crate) start_rows: Option<u32>,
    pub(crate) steps: u32,
    pub(crate) shape: Option<Vec<RoundOp>>,
    pub(crate) joined: bool,
    pub(crate) promised: bool,
    /// Rows of the cap up to the last stated number of rows.
    row_before: u32,
    /// Stitches on the needle before this sentence.
    stitches_before: u32,
}

impl<'a> Knitter<'a> {
    pub(crate) fn new(text: &'a str) -> Self {
        Self {
            text,
            needle: Needle::empty(),
            out: Knitted::default(),
            diagnostics: Vec::new(),
            here: Span::new(0, 0),
            index: 0,
            lost: false,
            reported: BTreeMap::new(),
            start_rows: None,
            steps: 0,
            shape: None,
            joined: false,
            promised: false,
            row_before: 0,
            stitches_before: 0,
        }
    }

    /// Works all sentences.
    pub(crate) fn knit(mut self, sentences: &[Sentence]) -> (Knitted, Vec<Diagnostic>) {
        for (index, sentence) in sentences.iter().enumerate() {
            self.index = index;
            self.here = sentence.span;
            self.sentence(sentence);
        }
        if !self.lost {
            self.finish();
        }
        (self.out, self.diagnostics)
    }

    fn sentence(&mut self, sentence: &Sentence) {
        let Some(said) = &sentence.said else {
            self.say(&codes::UNREADABLE, "this cannot be read");
            self.lost = true;
            return;
        };
        if sentence.claims.is_none() {
            self.say(
                &codes::UNREADABLE,
                "the counts in the square brackets cannot be read",
            );
        }
        if self.lost {
            return;
        }
        self.stitches_before = self.needle.len();
        if let Err(slip) = self.perform(said) {
            let row = self.needle.row;
            let place = if row == 0 {
                String::new()
            } else {
                format!("in row {row} ")
            };
            self.say(slip.code, &format!("{place}{}", slip.message));
            self.lost = true;
            return;
        }
        for (claim, stated, span) in sentence.claims.iter().flatten() {
            self.check(*claim, *stated, *span, said);
        }
    }

    fn perform(&mut self, said: &Said) -> Result<(), Slip> {
        match said {
            Said::Words => Ok(()),
            Said::Start { rows } => {
                self.start_rows = *rows;
                Ok(())
            }
            Said::PickUp {
                section,
                flank,
                parts,
            } => self.pick_up(*section, *flank, parts),
            Said::FirstRow {
                number,
                side,
                knit,
                stitches,
                turn,
            } => {
                self.row_is(*number, *side, *knit)?;
                self.first_row(*stitches, *turn)
            }
            Said::Step {
                label,
                times,
                rs,
                ws,
                to_base,
            } => {
                self.label_is(label)?;
                self.step(*times, rs, ws)?;
                self.ends_at_base(*to_base)
            }
            Said::Join { double, more } => self.join(*double, *more),
            Said::OtherBaseStitch { double } => self.other_base_stitch(*double),
            Said::ShapeRound(ops) => self.shape_round(ops),
            Said::Shape { every, times } => self.shape_every(*every, *times),
            Said::Even { rounds } => self.even(*rounds),
        }
    }

    /// A finding at the sentence being worked, which it quotes.
    pub(crate) fn say(&mut self, code: &'static Code, message: &str) {
        let here = self.here;
        self.say_at(code, message, here);
    }

    fn say_at(&mut self, code: &'static Code, message: &str, span: Span) {
        let quoted = quote(
            self.text
                .get(self.here.from..self.here.to)
                .unwrap_or_default(),
        );
        let message = format!("{message}: \u{201c}{quoted}\u{201d}");
        self.diagnostics
            .push(Diagnostic::new(code, message).at(span));
    }

    fn check(&mut self, claim: Claim, stated: u32, span: Span, said: &Said) {
        let found = self.found(claim, said);
        if claim == Claim::Rows {
            self.row_before = self.needle.row;
        }
        let off = i64::from(found) - i64::from(stated);
        // A slip shifts every later total by the same amount: it is reported once.
        let running = !matches!(claim, Claim::Rows | Claim::Fewer | Claim::More);
        let kind = format!("{claim:?}");
        let known = running && self.reported.get(&kind) == Some(&off);
        if running {
            self.reported.insert(kind, off);
        }
        if off != 0 && !known {
            let place = self.place();
            let message = format!("{place}{} is {found}, not {stated}", words(claim));
            self.say_at(&codes::COUNT, &message, span);
        }
    }

    fn place(&self) -> String {
        match (self.joined, self.needle.row) {
            (_, 0) => String::new(),
            (true, _) if self.out.rounds.count() > 0 => {
                format!("after round {} ", self.out.rounds.count())
            }
            (_, row) => format!("after row {row} "),
        }
    }

    fn found(&self, claim: Claim, said: &Said) -> u32 {
        let needle = &self.needle;
        match claim {
            Claim::Rows => needle.row - self.row_before,
            Claim::Worked => needle.worked(),
            Claim::WaitingEach => {
                let (first, second) = self.waiting();
                // Unequal sides cannot both be the stated number; the worse one is shown.
                first.max(second)
            }
            Claim::WaitingAt(flank) => {
                let (first, second) = self.waiting();
                if self.out.first_flank == Some(flank) {
                    first
                } else {
                    second
                }
            }
            Claim::Stitches if matches!(said, Said::PickUp { .. }) => {
                needle.len() - self.stitches_before
            }
            Claim::Stitches | Claim::OnNeedle => needle.len(),
            Claim::TurnPairs => needle.turns / 2,
            Claim::BaseBefore => self.out.base_before.count(),
            Claim::BaseAfter => self.out.base_after.count(),
            Claim::Rounds => self.out.rounds.count(),
            Claim::Fewer => self.shaped(true),
            Claim::More => self.shaped(false),
        }
    }

    fn waiting(&self) -> (u32, u32) {
        let needle = &self.needle;
        (
            needle.waiting(Section::First),
            needle.waiting(Section::Second),
        )
    }

    /// Writes down the needle after a row of the cap.
    pub(crate) fn note_row(&mut self, side: Side) {
        let (first, second) = self.waiting();
        let row = NeedleRow {
            row: self.needle.row,
            right_side: side == Side::Rs,
            sentence: self.index,
            worked: Stitches(self.needle.worked()),
            waiting_first: Stitches(first),
            waiting_second: Stitches(second),
            decreases: self.needle.decreases,
            stitches: Stitches(self.needle.len()),
            picture: picture(&self.needle),
        };
        self.out.needle_rows.push(row);
    }

    pub(crate) fn note_stretch(&mut self, section: Section, stitches: u32, rows: u32, live: bool) {
        self.out.stretches.push(Stretch {
            section,
            stitches: Stitches(stitches),
            rows: Rows(rows),
            live,
        });
    }

    /// Writes down every column as it stands when rounds begin.
    pub(crate) fn note_columns(&mut self) {
        let mut stitch_of = BTreeMap::new();
        for (i, stitch) in self.needle.stitches.iter().enumerate() {
            for column in &stitch.columns {
                stitch_of.insert(*column, i);
            }
        }
        let column = |(i, picked): (usize, &super::machine::Picked)| Column {
            section: picked.section,
            live: picked.live,
            rows: Rows(picked.rows),
            first_row: picked.first_row,
            stitch: stitch_of.get(&i).copied().unwrap_or_default(),
        };
        self.out.columns = self.needle.picked.iter().enumerate().map(column).collect();
    }

    fn finish(&mut self) {
        if !self.joined {
            self.say(&codes::ORDER, "the pattern ends before rounds begin");
            return;
        }
        self.out.cuff = Stitches(self.needle.len());
        if self.needle.turned().next().is_some() && !self.promised {
            self.say(
                &codes::LEFT_TURNED,
                "a turned stitch on the base is left when the pattern ends",
            );
        }
    }
}

/// The words a count is spoken of with.
fn words(claim: Claim) -> &'static str {
    match claim {
        Claim::Rows => "the number of rows of this step",
        Claim::Worked => "the number of worked sts",
        Claim::WaitingEach | Claim::WaitingAt(_) => "the number of sts waiting before the base",
        Claim::Stitches => "the number of sts",
        Claim::OnNeedle => "the number of sts on the needle",
        Claim::TurnPairs => "the number of turn pairs",
        Claim::BaseBefore | Claim::BaseAfter => "the number of base sts on this side of the marker",
        Claim::Rounds => "the number of rounds so far",
        Claim::Fewer | Claim::More => "the change of the number of sts in this round",
    }
}

/// A sentence on one line, shortened.
fn quote(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= 110 {
        return line;
    }
    let start: String = line.chars().take(107).collect();
    format!("{start}...")
}

/// One sign a stitch, `|` for a marker; see [`NeedleRow::picture`].
fn picture(needle: &Needle) -> String {
    let mut picture = String::new();
    for stitch in &needle.stitches {
        picture.push(match stitch.state {
            State::Wrapped(_) => 'w',
            State::Double => 'd',
            State::Plain if stitch.last_row == 0 => '.',
            State::Plain if stitch.last_row < needle.row => '=',
            State::Plain if stitch.decreased => '/',
            State::Plain => '-',
        });
        if stitch.marker {
            picture.push('|');
        }
    }
    picture
}
