//! The knitter: does what the sentences say, one after the other, and says where they go wrong.

use std::collections::BTreeMap;

use super::codes;
use super::knitted::{Column, Knitted, PickedStretch};
use super::machine::{Needle, NeedleStitch, Picked, Slip, State};
use super::said::{Claim, RoundOp, Said, Sentence};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::measure::{Rows, Side, Stitches};
use crate::plan::{Flank, NeedleRow, Section, TurnedOn};

/// A stretch of the pick-up with its rates, in the order they are worked.
#[derive(Clone, Debug)]
pub(crate) struct RatedStretch {
    pub(super) section: Section,
    /// True for what is picked up after the live stitches.
    pub(super) after_live: bool,
    pub(super) stitches: u32,
    pub(super) rates: Vec<(u32, u32, u32)>,
    /// Half of a crown: the other half mirrors it.
    pub(super) mirrored: bool,
    /// A stitch lies in the seam between the two halves.
    pub(super) seam: bool,
}

/// A section whose rows were listed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Listed {
    pub(super) stitches: u32,
    pub(super) rows: u32,
}

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
    reported: BTreeMap<Claim, i64>,
    pub(crate) start_rows: Option<u32>,
    /// The flank the pick-up begins on, over the shoulder from the first one.
    pub(crate) begins_on: Option<Flank>,
    pub(crate) steps: u32,
    pub(crate) step: Option<String>,
    pub(crate) shape: Option<Vec<RoundOp>>,
    pub(crate) joined: bool,
    pub(crate) in_cuff: bool,
    /// The row that runs on to the middle of the base.
    pub(crate) join_row: u32,
    /// Stretches with their rates, as they were picked up.
    pub(crate) stretches: Vec<RatedStretch>,
    /// The section the last list of rows was for, and how many there are.
    pub(crate) listed: Option<Listed>,
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
            begins_on: None,
            steps: 0,
            step: None,
            shape: None,
            joined: false,
            in_cuff: false,
            join_row: 0,
            stretches: Vec::new(),
            listed: None,
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
            let place = match self.place("in") {
                _ if slip.code == &codes::ORDER => String::new(),
                place if place.is_empty() => place,
                place => format!("{}: ", place.trim_end()),
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
            Said::Start { rows, on } => {
                self.start_rows = *rows;
                self.begins_on = *on;
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
                self.step = Some(label.clone());
                self.step(*times, rs, ws)?;
                self.ends_at_base(*to_base)
            }
            Said::Join { double, more } => self.join(*double, *more),
            Said::JoinAtMarker => self.join_at_marker(),
            Said::FirstRound {
                number,
                ops,
                turned,
            } => self.first_round(*number, ops, *turned),
            Said::RowList {
                section,
                flank,
                counted,
                rows,
                of,
            } => self.row_list(*section, *flank, *counted, rows, *of),
            Said::OneRowOff { more, of, parts } => self.one_row_off(*more, *of, parts),
            Said::Pattern(said) => self.pattern(said),
            Said::ShapeRound(ops) => self.shape_round(ops),
            Said::SoFar { rows } => self.cap_so_far(*rows),
            Said::PutRight {
                section,
                flank,
                made,
                skips,
                left,
            } => self.put_right(self.named(*section, *flank), *made, (skips, *left)),
            Said::Worked {
                rounds,
                shaped,
                beside,
            } => self.worked_so_far(*rounds, *shaped, *beside),
            Said::Shape { every, times } => self.shape_every(*every, *times),
            Said::Even { rounds } => self.even(*rounds),
            Said::Adjust {
                rounds,
                stitches,
                fewer,
            } => self.adjust(*rounds, *stitches, *fewer),
            Said::Cuff { rounds, multiple } => self.cuff(*rounds, *multiple),
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
        let found = self.found(claim, stated, said);
        if claim == Claim::Rows {
            self.row_before = self.needle.row;
        }
        let off = i64::from(found) - i64::from(stated);
        // A slip shifts every later total by the same amount: it is reported once.
        let running = !matches!(claim, Claim::Rows | Claim::Fewer | Claim::More);
        let known = running && self.reported.get(&claim) == Some(&off);
        if running {
            self.reported.insert(claim, off);
        }
        if off != 0 && !known {
            let place = self.place("after");
            let message = format!("{place}{} is {found}, not {stated}", words(claim));
            self.say_at(&codes::COUNT, &message, span);
        }
    }

    /// `in row 8 `, `after round 3 `; nothing before the first row.
    fn place(&self, preposition: &str) -> String {
        match self.needle.row {
            0 => String::new(),
            row if self.joined && row > self.join_row => {
                format!("{preposition} round {} ", row - self.join_row)
            }
            row => format!("{preposition} row {row} "),
        }
    }

    /// What the needle holds; of two sides that should be alike the one that is not as stated.
    fn found(&self, claim: Claim, stated: u32, said: &Said) -> u32 {
        let needle = &self.needle;
        match claim {
            Claim::Rows => needle.row - self.row_before,
            Claim::Worked => needle.worked(),
            Claim::WaitingEach => {
                let (first, second) = self.waiting();
                if first == stated { second } else { first }
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
            Claim::Stitches if let Said::PutRight { section, flank, .. } = said => {
                needle.waiting(self.named(*section, *flank))
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

    /// The section a name stands for once the first flank is known.
    pub(crate) fn named(&self, section: Section, flank: Option<Flank>) -> Section {
        match flank {
            Some(flank) if self.out.first_flank != Some(flank) => Section::Second,
            _ => section,
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
            step: self.step.clone(),
            turned_on: self.turned_on(),
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

    fn turned_on(&self) -> Option<TurnedOn> {
        let place = |column: usize| {
            let section = self.needle.picked.get(column)?.section;
            let of_it = |picked: &&Picked| picked.section == section;
            let before = self.needle.picked.iter().take(column).filter(of_it).count();
            let all = self.needle.picked.iter().filter(of_it).count();
            // The second flank is picked up towards the crown, and turned on from its side.
            let backwards = section == Section::Second
                || (section == Section::Base && self.needle.side == Side::Rs);
            let from_crown = if backwards { all - before } else { before + 1 };
            Some((section, u32::try_from(from_crown).unwrap_or(u32::MAX)))
        };
        let places = self.needle.turned_on.iter().filter_map(|c| place(*c));
        let (section, _) = places.clone().next()?;
        Some(TurnedOn {
            section,
            from: places.clone().map(|(_, n)| n).min()?,
            to: places.map(|(_, n)| n).max()?,
        })
    }

    pub(crate) fn note_stretch(&mut self, section: Section, stitches: u32, rows: u32, live: bool) {
        self.out.stretches.push(PickedStretch {
            section,
            stitches: Stitches(stitches),
            rows: Rows(rows),
            live,
        });
    }

    /// The stretch noted last has more stitches, over more rows.
    pub(crate) fn stretch_goes_on(&mut self, stitches: u32, rows: u32) {
        if let Some(last) = self.out.stretches.last_mut() {
            last.stitches += Stitches(stitches);
            last.rows += Rows(rows);
        }
    }

    /// Writes down every column as it stands when rounds begin.
    pub(crate) fn note_columns(&mut self) {
        let mut stitch_of = BTreeMap::new();
        for (i, stitch) in self.needle.stitches.iter().enumerate() {
            for column in &stitch.columns {
                stitch_of.insert(*column, i);
            }
        }
        let column = |(i, picked): (usize, &Picked)| Column {
            section: picked.section,
            live: picked.live,
            rows: Rows(picked.rows),
            first_row: picked.first_row,
            decreased_row: picked.decreased_row,
            stitch: stitch_of.get(&i).copied().unwrap_or_default(),
        };
        self.out.columns = self.needle.picked.iter().enumerate().map(column).collect();
    }

    fn finish(&mut self) {
        if !self.joined {
            self.say(&codes::ORDER, "the pattern ends before rounds begin");
            return;
        }
        if self.out.rounds == Rows::ZERO {
            self.say(
                &codes::LEFT_TURNED,
                "the round that closes the join is missing",
            );
        }
        self.check_pattern_ended();
        self.out.cuff = Stitches(self.needle.len());
        self.out.tube_loops = self.needle.loops - self.out.cap_loops;
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
    let stitches = &needle.stitches;
    let of_base = |s: &&NeedleStitch| needle.section(s) == Section::Base;
    let base = stitches.iter().filter(of_base).count();
    let early = |s: &&NeedleStitch| needle.section(s) <= Section::First;
    let before = stitches.iter().take_while(early).count();
    let half = if needle.base_open {
        needle.at
    } else {
        before + base.div_ceil(2)
    };
    let order = (0..stitches.len()).map(|i| (i + half) % stitches.len());
    let mut picture = String::new();
    for stitch in order.filter_map(|i| stitches.get(i)) {
        picture.push(sign(stitch, needle.row));
        if stitch.marker {
            picture.push('|');
        }
    }
    picture
}

fn sign(stitch: &NeedleStitch, row: u32) -> char {
    match stitch.state {
        State::Wrapped(_) => 'w',
        State::Double => 'd',
        State::Plain if stitch.last_row == 0 => '.',
        State::Plain if stitch.last_row < row => '=',
        State::Plain if stitch.decreased => '/',
        State::Plain => '-',
    }
}
