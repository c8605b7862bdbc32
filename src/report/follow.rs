//! The pattern as it is followed at the needles: one row, round or sentence at a time, with what is then
//! there and what it measures.

use crate::case::{Case, Terms};
use crate::convert::{GiveOrTake, Landmark, SizeConversion, Written};
use crate::plan::{SectionName, TubePlan, remarks};
use crate::stitch::Layout;
use crate::wording::{CheckRow, Counts, Section, Step};

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct FollowStep {
    /// The part of the work: `Pick up`, `Short rows`.
    pub part: String,
    /// Where in it: `Row 13`, `Round 20 of 134`, `2 of 4`.
    pub at: String,
    /// The side that faces, where it is a row.
    pub side: Option<&'static str>,
    /// What is done, in sentences.
    pub say: Vec<String>,
    /// What is then on the needle; empty where nothing is counted.
    pub then: String,
    /// What it then measures; empty where nothing is.
    pub measure: String,
    /// Its row of the cap or its round of the tube.
    pub number: Option<u32>,
    /// Depth of the cap after this row.
    pub depth: Option<GiveOrTake>,
    /// Length below the underarm after this round.
    pub length: Option<GiveOrTake>,
}

/// Every step of one sleeve, from what comes first to the last round.
pub fn follow_steps(case: &Case, size: &SizeConversion, written: &Written) -> Vec<FollowStep> {
    let mut follower = FollowWriter {
        case,
        size,
        written,
        steps: Vec::new(),
    };
    follower.before();
    for section in &written.instructions.sections {
        match section.heading.as_str() {
            remarks::SHORT_ROWS => follower.short_rows(section),
            remarks::TUBE => follower.tube(section),
            _ => follower.sentences(section),
        }
    }
    follower.steps
}

/// The rows of the charts that a round is, where they have several.
fn rows_of_charts(layout: &Layout, row: u32) -> Option<String> {
    let ground = layout.ground();
    let panels = layout
        .panels
        .iter()
        .map(|panel| (format!("\"{}\"", panel.name), &panel.drawn));
    let charts = std::iter::once(("the repeat".to_owned(), ground)).chain(panels);
    let charts = charts.filter(|(_, drawn)| drawn.chart.height() > 1);
    let mut rows: Vec<String> = charts
        .map(|(name, drawn)| format!("row {} of {name}", drawn.row_at(row) + 1))
        .collect();
    rows.dedup();
    (!rows.is_empty()).then(|| format!("In pattern: {}.", rows.join(", ")))
}

struct FollowWriter<'a> {
    case: &'a Case,
    size: &'a SizeConversion,
    written: &'a Written,
    steps: Vec<FollowStep>,
}

/// A step of which only this is known.
fn step(part: &str, at: impl Into<String>, say: Vec<String>) -> FollowStep {
    FollowStep {
        part: part.to_owned(),
        at: at.into(),
        side: None,
        say,
        then: String::new(),
        measure: String::new(),
        number: None,
        depth: None,
        length: None,
    }
}

/// What is planned after this row or round, counted from 1.
fn nth(all: &[GiveOrTake], number: u32) -> Option<GiveOrTake> {
    all.get(number.checked_sub(1)? as usize).copied()
}

fn counts(of: &Step) -> String {
    of.counts
        .as_ref()
        .map_or_else(String::new, ToString::to_string)
}

/// `SHORT ROWS` as `Short rows`.
fn title(section: &Section) -> String {
    let mut letters = section.heading.chars();
    let first: String = letters.next().into_iter().collect();
    first + &letters.as_str().to_lowercase()
}

impl FollowWriter<'_> {
    /// What this row is in pattern and in which colour: rows of the cap from 1, the rounds after them.
    fn in_pattern(&self, row: u32) -> Vec<String> {
        let mut say = Vec::new();
        if let Some(pattern) = &self.written.pattern {
            let words = row
                .checked_sub(1)
                .and_then(|at| pattern.words.rows.get(at as usize));
            say.extend(
                words
                    .cloned()
                    .or_else(|| rows_of_charts(&pattern.layout, row)),
            );
        }
        let bands = self.size.stripes.iter().flat_map(|stripes| &stripes.bands);
        let band = bands
            .into_iter()
            .find(|band| (band.from..=band.to).contains(&row));
        say.extend(band.map(|band| format!("Colour: {}.", band.colour)));
        say
    }

    fn before(&mut self) {
        let all = self.written.before.len();
        for (place, said) in self.written.before.iter().enumerate() {
            let at = format!("{} of {all}", place + 1);
            self.steps
                .push(step("Before you start", at, vec![said.clone()]));
        }
    }

    /// Sentence by sentence; in the join, what guides the hands stays with the row it is about.
    fn sentences(&mut self, section: &Section) {
        let mut groups: Vec<Vec<&Step>> = Vec::new();
        for one in &section.steps {
            let guides = section.heading == remarks::JOIN && one.counts.is_none();
            match groups.last_mut().filter(|_| guides) {
                Some(group) => group.push(one),
                None => groups.push(vec![one]),
            }
        }
        let part = title(section);
        let all = groups.len();
        let last_row = self.written.checklist.rows.last();
        for (place, group) in groups.iter().enumerate() {
            let mut say: Vec<String> = group.iter().map(|one| one.sentence.clone()).collect();
            if section.heading == remarks::PICK_UP {
                let said = group.first().map_or("", |one| one.sentence.as_str());
                say.extend(self.rows_picked_up(said));
            }
            let mut new = step(&part, format!("{} of {all}", place + 1), say);
            new.then = group.first().map_or_else(String::new, |one| counts(one));
            if section.heading == remarks::JOIN && place == 0 {
                new.side = last_row.map(|row| row.side);
                new.at = last_row.map_or(new.at, |row| format!("Row {}", row.row));
                new.number = last_row.map(|row| row.row);
                new.depth = self.depth_at_join();
            }
            if section.heading == remarks::JOIN && place < 2 {
                let joined = self.size.fit.plan.turn_pairs() * 2 + 1;
                let row = joined + u32::try_from(place).unwrap_or(0);
                new.say.extend(self.in_pattern(row));
            }
            self.steps.push(new);
        }
    }

    /// Depth after the row that joins: the cap's, and a row of the tube.
    fn depth_at_join(&self) -> Option<GiveOrTake> {
        let cap = self.size.landmarks.rows.last()?;
        let length = cap.length + self.size.gauge.tube.row_height();
        Some(GiveOrTake { length, ..*cap })
    }

    /// The rows in which the stitches of this section of the pick-up are.
    fn rows_picked_up(&self, said: &str) -> Option<String> {
        let lists = &self.written.lists;
        if let Some(list) = lists.iter().find(|list| said.starts_with(list.section)) {
            return Some(list.sentence());
        }
        // Flanks that are alike have one list, told from the crown down.
        let list = lists
            .iter()
            .find(|list| list.section == SectionName::FirstFlank.words())?;
        said.starts_with(SectionName::SecondFlank.words()).then(|| {
            format!(
                "The rows of the first flank, from the end of its list. {}",
                list.sentence()
            )
        })
    }

    /// Row by row.
    fn short_rows(&mut self, section: &Section) {
        let part = title(section);
        let is_row = |one: &&Step| one.counts.is_some() || one.sentence.starts_with("Row 1 ");
        let guides = section.steps.iter().take_while(|one| !is_row(one));
        let guides: Vec<String> = guides.map(|one| one.sentence.clone()).collect();
        let skipped = guides.len();
        self.steps.push(step(&part, "How the rows go", guides));
        for (place, one) in section.steps.iter().skip(skipped).enumerate() {
            let lies = matches!(
                one.counts,
                None | Some(Counts::SoFar { .. } | Counts::PutRight { .. })
            );
            if place > 0 && lies {
                self.steps.push(with_counts(&part, "On the needle", one));
                continue;
            }
            let letters = one.letters().unwrap_or_default();
            let rows = self.written.checklist.rows.iter();
            let of_step = |row: &&CheckRow| match place {
                0 | 1 => row.row == if place == 0 { 1 } else { 2 },
                _ => row.step == letters,
            };
            let rows: Vec<&CheckRow> = rows.filter(of_step).collect();
            for (at, row) in rows.iter().enumerate() {
                let last = at + 1 == rows.len() && place > 0;
                let new = self.row(&part, one, row, (at, rows.len()));
                self.steps.push(new);
                if last {
                    self.measured(&letters);
                }
            }
        }
    }

    fn row(&self, part: &str, one: &Step, row: &CheckRow, (at, of): (usize, usize)) -> FollowStep {
        let list = &self.written.checklist;
        let mut say = vec![one.sentence.clone()];
        if of > 2 {
            say.push(format!("Now pair {} of {}.", at / 2 + 1, of / 2));
        }
        say.extend(self.in_pattern(row.row));
        say.push(format!("Turn: {}.", row.turn));
        FollowStep {
            side: Some(row.side),
            number: Some(row.row),
            depth: nth(&self.size.landmarks.rows, row.row),
            then: format!(
                "{} worked, {} waiting on the {}, {} on the {}",
                row.worked, row.waiting_first, list.first, row.waiting_second, list.second
            ),
            ..step(part, format!("Row {}", row.row), say)
        }
    }

    /// Puts the landmark of these letters to the step that is last so far.
    fn measured(&mut self, letters: &str) {
        let of = |at: &&Landmark| at.step.as_deref().unwrap_or_default() == letters;
        let found = self.size.landmarks.steps.iter().find(of);
        if let (Some(at), Some(last)) = (found, self.steps.last_mut()) {
            let units = self.case.units;
            let shown = |of: GiveOrTake| {
                format!(
                    "{}, {} either way",
                    units.show(of.length),
                    units.show(of.off)
                )
            };
            last.measure = format!(
                "depth {}; width between the turns {}",
                shown(at.depth),
                shown(at.width)
            );
        }
    }

    /// Round by round to the cuff, then its sentences.
    fn tube(&mut self, section: &Section) {
        let Some(tube) = &self.size.tube else {
            return self.sentences(section);
        };
        let part = title(section);
        let (all, worked) = (tube.rounds.count(), tube.worked.count());
        let shaping = |one: &&Step| matches!(one.counts, Some(Counts::Shaping { .. }));
        let shaped = section.steps.iter().find(shaping);
        let shaped = shaped.map_or("", |one| one.sentence.as_str());
        let so_far = |one: &&Step| {
            worked > 0
                && matches!(one.counts, Some(Counts::Rounds { rounds, .. }) if rounds == worked)
        };
        for one in section.steps.iter().filter(so_far) {
            self.steps.push(with_counts(&part, "so far", one));
        }
        for round in worked.max(1) + 1..=all {
            self.round(tube, &part, shaped, round);
        }
        let below = |one: &&Step| match one.counts {
            Some(Counts::Rounds { rounds, .. }) => rounds > all,
            Some(_) => false,
            None => true,
        };
        for one in section.steps.iter().filter(below) {
            self.steps.push(with_counts("Cuff", "below the tube", one));
        }
    }

    /// One round of the tube; `shaped` is how a shaping round is worked.
    fn round(&mut self, tube: &TubePlan, part: &str, shaped: &str, round: u32) {
        let done = tube.decrease_rounds.partition_point(|at| *at <= round);
        let stitches = tube.stitches_after(round).count();
        let mut say = Vec::new();
        if tube.decrease_rounds.contains(&round) {
            say.push(shaped.to_owned());
        } else {
            let even = match self.case.style.terms {
                Terms::Us => "Work the round even.",
                Terms::Uk => "Work the round straight.",
            };
            say.push(even.to_owned());
            let next = tube.decrease_rounds.get(done);
            say.extend(next.map(|next| format!("The next shaping round is round {next}.")));
        }
        say.extend(self.in_pattern(self.size.fit.plan.turn_pairs() * 2 + 1 + round));
        let length = nth(&self.size.landmarks.rounds, round);
        let below =
            |at: GiveOrTake| format!("{} below the underarm", self.case.units.show(at.length));
        self.steps.push(FollowStep {
            then: format!("{stitches} sts"),
            measure: length.map_or_else(String::new, below),
            number: Some(round),
            length,
            ..step(
                part,
                format!("Round {round} of {}", tube.rounds.count()),
                say,
            )
        });
    }
}

/// A sentence with its counts.
fn with_counts(part: &str, at: &str, one: &Step) -> FollowStep {
    FollowStep {
        then: counts(one),
        ..step(part, at, vec![one.sentence.clone()])
    }
}
