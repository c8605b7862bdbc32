//! The short rows, as a list of steps the knitter can remember.

use super::instructions::{Counts, Section, Step, Waiting};
use super::text::Writer;
use super::told::Pairs;
use crate::case::{Terms, Turn, TurnDecrease};
use crate::measure::Side;
use crate::plan::{Flank, Move, Progress, Sleeve, remarks};

/// What is done at a turn; it depends on the move that follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum TurnKind {
    /// One stitch is turned on.
    One,
    /// Two stitches that will be decreased.
    Two,
    /// None: the underarm has no base, and the other flank begins.
    None,
}

/// Moves that are the same at several turn pairs running, on both flanks.
#[derive(Clone, Copy, Debug)]
struct MoveRun {
    first: Move,
    second: Move,
    times: u32,
    /// Moves before it.
    from: usize,
}

/// One side's part of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct SideWords {
    m: Move,
    turn: TurnKind,
    last: TurnKind,
}

impl Writer<'_> {
    /// The short rows; those of so many turn pairs are worked, and something is put right after them.
    pub(crate) fn short_rows(&self, worked: Option<(&Progress, &[Step])>) -> Section {
        let mut steps = self.short_row_remarks();
        let past = Writer {
            beside: worked.map_or([0, 0], |(progress, _)| progress.beside()),
            ..*self
        };
        steps.push(past.row_one());
        steps.push(past.row_two());
        let done = worked.map(|(progress, _)| progress.turn_pairs.saturating_sub(1) as usize);
        let runs = self.runs(done.unwrap_or(0));
        let begun = || {
            worked.into_iter().flat_map(|(progress, fixes)| {
                let half = progress.ends_on_rs.then(|| Step::plain(remarks::HALF_PAIR));
                let here = past.worked_so_far(progress.turn_pairs);
                let other = progress.other_needles;
                let other = other.then(|| Step::plain(remarks::OTHER_NEEDLES));
                let fixes = fixes.iter().cloned();
                half.into_iter().chain([here]).chain(fixes).chain(other)
            })
        };
        if done == Some(0) {
            steps.extend(begun());
        }
        for (i, run) in (0..).zip(&runs) {
            let before = done.is_some_and(|done| run.from < done);
            steps.push(if before { past } else { *self }.step(i, run));
            if done.filter(|done| *done > 0) == Some(run.from + run.times as usize) {
                steps.extend(begun());
            }
        }
        Section {
            heading: remarks::SHORT_ROWS.to_owned(),
            steps,
        }
    }

    fn short_row_remarks(&self) -> Vec<Step> {
        let mut said = match self.style.turn {
            Turn::Wrap => vec![remarks::ROWS_WRAP],
            Turn::German => vec![remarks::ROWS_GERMAN, remarks::COUNT_GERMAN],
        };
        let work = if self.style.in_pattern {
            remarks::WORK_IN_PATTERN
        } else {
            remarks::WORK
        };
        said.extend([remarks::PAIR, work, remarks::MARKERS]);
        let moves = || self.plan.front.moves.iter().chain(&self.plan.back.moves);
        if moves().any(|m| m.drop > 0) {
            said.push(match self.style.terms {
                Terms::Us => remarks::LEANS_US,
                Terms::Uk => remarks::LEANS_UK,
            });
        }
        if moves().any(|m| wraps_two(*m)) {
            said.push(match (self.style.turn, self.style.decrease) {
                (Turn::Wrap, TurnDecrease::Together) => remarks::TWO_WRAP,
                (Turn::Wrap, TurnDecrease::Next) => remarks::NEXT_WRAP,
                (Turn::German, TurnDecrease::Together) => remarks::TWO_GERMAN,
                (Turn::German, TurnDecrease::Next) => remarks::NEXT_GERMAN,
            });
        }
        said.into_iter().map(Step::plain).collect()
    }

    fn row_one(&self) -> Step {
        let turn = self.turn_words(self.kind_before(0, Side::Rs), Some(Side::Rs));
        Step::plain(format!(
            "Row 1 (RS): {} to the marker, {turn}.",
            self.over_the_crown("k")
        ))
    }

    fn row_two(&self) -> Step {
        let turn = self.turn_words(self.kind_before(0, Side::Ws), Some(Side::Ws));
        let sentence = format!(
            "Row 2 (WS): {} to the marker, {turn}.",
            self.over_the_crown("p")
        );
        Step::counted(sentence, self.counts(2, 0))
    }

    /// `k17`, or `work 17 in pattern`.
    fn over_the_crown(&self, plain: &str) -> String {
        let crown = self.plan.crown.stitches.count();
        if self.style.in_pattern {
            format!("work {crown} in pattern")
        } else {
            format!("{plain}{crown}")
        }
    }

    /// Both flanks' runs, broken wherever either of them changes, and where the work goes on.
    fn runs(&self, done: usize) -> Vec<MoveRun> {
        let moves = self.going.first.moves.iter().zip(&self.going.second.moves);
        let mut runs: Vec<MoveRun> = Vec::new();
        for (from, (&first, &second)) in moves.enumerate() {
            match runs.last_mut() {
                Some(run) if run.first == first && run.second == second && from != done => {
                    run.times += 1;
                }
                _ => runs.push(MoveRun {
                    first,
                    second,
                    times: 1,
                    from,
                }),
            }
        }
        runs
    }

    fn moves(&self, side: Side) -> &[Move] {
        match side {
            Side::Rs => &self.going.first.moves,
            Side::Ws => &self.going.second.moves,
        }
    }

    /// The turn before the move at this index; after the last move it is on the base.
    fn kind_before(&self, index: usize, side: Side) -> TurnKind {
        match self.moves(side).get(index) {
            Some(m) if self.turns_two(*m) => TurnKind::Two,
            None if self.plan.base().count() == 0 => TurnKind::None,
            _ => TurnKind::One,
        }
    }

    fn step(&self, index: u32, run: &MoveRun) -> Step {
        let end = run.from + run.times as usize;
        let side_words = |side, m: Move| {
            let last = self.kind_before(end, side);
            let own = if self.turns_two(m) {
                TurnKind::Two
            } else {
                TurnKind::One
            };
            let turn = if run.times == 1 { last } else { own };
            SideWords { m, turn, last }
        };
        let rs = side_words(Side::Rs, run.first);
        let ws = side_words(Side::Ws, run.second);
        let ending = if end < self.going.first.moves.len() {
            ""
        } else if self.plan.base().count() == 0 {
            "; the last pair ends at the underarm marker, where the flanks meet"
        } else {
            "; the last pair turns on the first base st at each end"
        };
        let told = Pairs {
            index,
            times: run.times,
            action: self.both(rs, ws),
            each: (rs == ws && rs.turn == rs.last).then_some(rs.m),
            ending,
        };
        Step::pairs(told, self.counts(2 * run.times, end))
    }

    fn both(&self, rs: SideWords, ws: SideWords) -> String {
        if rs == ws {
            let last = self.last_turn(rs, None);
            return format!("{}{last}", self.action(rs, None));
        }
        format!(
            "RS: {}; WS: {}{}{}",
            self.action(rs, Some(Side::Rs)),
            self.action(ws, Some(Side::Ws)),
            self.last_turn(rs, Some(Side::Rs)),
            self.last_turn(ws, Some(Side::Ws)),
        )
    }

    fn last_turn(&self, words: SideWords, side: Option<Side>) -> String {
        if words.turn == words.last {
            return String::new();
        }
        let which = match side {
            None => "both turns",
            Some(Side::Rs) => "the RS turn",
            Some(Side::Ws) => "the WS turn",
        };
        let turn = self.turn_words(words.last, side);
        format!("; at {which} of the last pair {turn}")
    }

    fn action(&self, words: SideWords, side: Option<Side>) -> String {
        format!(
            "{}, {}",
            self.take_words(words.m, side),
            self.turn_words(words.turn, side)
        )
    }

    fn take_words(&self, m: Move, side: Option<Side>) -> String {
        let turned = match self.style.turn {
            Turn::Wrap => "wrapped st",
            Turn::German => "ds",
        };
        let decrease = self.decrease_words(side);
        if m.drop > 0 && m.take == 1 {
            return format!("work to 1 st before the {turned}, {decrease} these 2 sts");
        }
        let more = m.take.saturating_sub(1 + m.drop);
        if wraps_two(m) && self.style.decrease == TurnDecrease::Next {
            let more = if more > 0 {
                format!(" and work {more} more")
            } else {
                String::new()
            };
            return format!("{decrease} the {turned} and the next st{more}");
        }
        if wraps_two(m) && self.style.turn == Turn::Wrap {
            let more = if more > 0 {
                format!(" and work {more} more")
            } else {
                String::new()
            };
            return format!("{decrease} the 2 wrapped sts{more}");
        }
        let more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        format!("work the {turned}{more}")
    }

    fn turn_words(&self, kind: TurnKind, side: Option<Side>) -> String {
        match (self.style.turn, kind) {
            (_, TurnKind::None) => "just turn".to_owned(),
            (Turn::Wrap, TurnKind::One) => "w&t".to_owned(),
            (Turn::Wrap, TurnKind::Two) => "wrap the next 2 sts together and turn".to_owned(),
            (Turn::German, TurnKind::One) => "work 1, turn, ds".to_owned(),
            (Turn::German, TurnKind::Two) => format!("{}, turn, ds", self.decrease_words(side)),
        }
    }

    /// Both leans at once, or the one of a side. See [`remarks::LEANS_US`].
    fn decrease_words(&self, side: Option<Side>) -> String {
        let rs = self.left_leaning();
        match side {
            None => format!("{rs} (WS: p2tog)"),
            Some(Side::Rs) => rs.to_owned(),
            Some(Side::Ws) => "p2tog".to_owned(),
        }
    }

    /// True when the turn before this move takes two stitches at once.
    fn turns_two(&self, m: Move) -> bool {
        wraps_two(m) && self.style.decrease == TurnDecrease::Together
    }

    /// The counts when so many moves of each flank are done.
    fn counts(&self, rows: u32, done: usize) -> Counts {
        let widened =
            |moves: &[Move]| -> u32 { moves.iter().take(done).map(|m| m.widens().count()).sum() };
        let worked = self.plan.crown.stitches.count()
            + widened(&self.going.first.moves)
            + widened(&self.going.second.moves);
        Counts::ShortRows {
            rows,
            worked,
            waiting: self.waiting(done),
        }
    }

    /// Stitches worked and stitches that wait when so many moves of each flank are done.
    pub(crate) fn on_needle(&self, done: usize) -> (u32, Waiting) {
        let Counts::ShortRows {
            worked, waiting, ..
        } = self.counts(0, done)
        else {
            return (0, self.waiting(done));
        };
        (worked, waiting)
    }

    fn waiting(&self, done: usize) -> Waiting {
        let first = self.waiting_at(Side::Rs, done);
        let second = self.waiting_at(Side::Ws, done);
        // What is alike needs one number, whatever else of the sleeves differs.
        let [beside, beyond] = self.beside;
        let alike = self.plan.front.moves == self.plan.back.moves && beside == beyond;
        match (self.sleeve, self.going.first_is) {
            (Sleeve::Both, _) => Waiting::EachSide(first),
            _ if alike => Waiting::EachSide(first),
            (_, Flank::Back) => Waiting::BackAndFront {
                back: first,
                front: second,
            },
            (_, Flank::Front) => Waiting::BackAndFront {
                back: second,
                front: first,
            },
        }
    }

    /// Stitches that wait on the flank where rows of this side turn: a German turn before a decrease has already made
    /// one stitch of two.
    pub(crate) fn waiting_at(&self, side: Side, done: usize) -> u32 {
        let left: u32 = self.moves(side).iter().skip(done).map(|m| m.take).sum();
        let [first, second] = self.beside;
        let beside = if side == Side::Rs { first } else { second };
        let left = left.saturating_add_signed(beside);
        let decreased =
            self.style.turn == Turn::German && self.kind_before(done, side) == TurnKind::Two;
        left.saturating_sub(u32::from(decreased))
    }
}

/// True for a move that decreases where the row turns.
fn wraps_two(m: Move) -> bool {
    m.drop > 0 && m.take > 1
}
