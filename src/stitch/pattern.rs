//! A stitch pattern as a sleeve has it: a ground, panels on it, and the row each of them begins with.

use super::chart::Chart;
use super::table::Stitch;
use crate::plan::Hand;

/// Which way the rows of a case are worked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Worked {
    /// From the cuff up, as sleeves with a cap are: the new sleeve turns them upside down.
    #[default]
    FromCuff,
    /// From the shoulder down, as they will be worked.
    FromShoulder,
}

/// A chart, both as it is given and as it is worked from the shoulder down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// As the case has it.
    pub given: Chart,
    /// As the new sleeve works it.
    pub chart: Chart,
    /// The row, from 0, that row 1 of the cap is.
    pub first_row: usize,
}

/// Where a panel lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PanelPlace {
    /// Its middle on the middle of the crown.
    Crown,
    /// Its middle on the middle of the live stitches of a saddle.
    Saddle,
    /// Twice: so many stitches from the middle of the crown on either side, the second one a mirror image.
    FromCentre(u32),
}

/// Strips of another pattern on one sleeve at the most.
pub const MOST_PANELS: usize = 24;

/// A strip of another pattern that runs down the sleeve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Panel {
    /// What the case calls it.
    pub name: String,
    /// Its chart: as wide as the panel.
    pub drawn: Drawn,
    /// Where it lies.
    pub place: PanelPlace,
}

/// The stitch pattern of a sleeve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// What the ground is called.
    pub name: String,
    /// The ground's repeat.
    pub ground: Drawn,
    /// The stitch of the repeat, from 0, that the first stitch of the crown (of the saddle, where its
    /// stitches are live) is; left out, the repeats are symmetrical about the crown.
    pub first_stitch: Option<usize>,
    /// The panels.
    pub panels: Vec<Panel>,
    /// Which way the rows were given.
    pub worked: Worked,
}

impl Drawn {
    /// A chart that is worked this way and begins with this row (from 0); without one, with the first row
    /// from which what is easier on the right side comes on right-side rows.
    pub fn new(given: Chart, worked: Worked, first_row: Option<usize>) -> Self {
        let chart = match worked {
            Worked::FromCuff => given.turned(),
            Worked::FromShoulder => given.clone(),
        };
        let first_row = first_row.unwrap_or_else(|| easiest_row(&chart));
        Self {
            first_row: first_row % chart.height(),
            given,
            chart,
        }
    }

    /// The row of the chart, from 0, that this row of the work is: rows of the cap from 1, rounds after them.
    pub fn row_at(&self, row: u32) -> usize {
        (self.first_row + (row as usize).saturating_sub(1)) % self.chart.height()
    }

    /// A stitch that would have to be worked on a wrong-side row and cannot be, with its row of the chart.
    pub fn not_on_wrong_side(&self) -> Option<(usize, Stitch)> {
        let none = |cell: &&super::chart::Cell| cell.stitch.short(false).is_none();
        let rows = wrong_side_rows(&self.chart, self.first_row);
        rows.into_iter().find_map(|row| {
            let cells = self.chart.rows().get(row)?;
            Some((row, cells.iter().find(none)?.stitch))
        })
    }

    /// What is lost by turning it: each such stitch once.
    pub fn lost_when_turned(&self) -> Vec<Stitch> {
        let mut lost = self.given.stitches();
        lost.retain(|stitch| stitch.lost_when_turned().is_some());
        lost
    }
}

/// Rows of the chart that fall on wrong-side rows when the first row of the cap is this one. Over an odd
/// number of rows the sides change from repeat to repeat: then all do.
fn wrong_side_rows(chart: &Chart, first: usize) -> Vec<usize> {
    let height = chart.height();
    let step = if height.is_multiple_of(2) { 2 } else { 1 };
    (0..height)
        .skip(1)
        .step_by(step)
        .map(|i| (first + i) % height)
        .chain((step == 1).then_some(first))
        .collect()
}

/// The first row with which the fewest stitches come on wrong-side rows that are easier on the other.
fn easiest_row(chart: &Chart) -> usize {
    let hard = |first: &usize| -> (usize, usize) {
        let rows = wrong_side_rows(chart, *first);
        let cells = rows
            .iter()
            .filter_map(|row| chart.rows().get(*row))
            .flatten();
        let cells = cells.filter(|cell| cell.part == 0).map(|cell| cell.stitch);
        let never = cells.clone().filter(|s| s.short(false).is_none()).count();
        (never, cells.filter(|s| s.wants_right_side()).count())
    };
    (0..chart.height()).min_by_key(hard).unwrap_or(0)
}

impl Pattern {
    /// The ground alone, named or of the case's own rows.
    pub fn plain(name: &str, ground: Drawn, worked: Worked) -> Self {
        Self {
            name: name.to_owned(),
            ground,
            first_stitch: None,
            panels: Vec::new(),
            worked,
        }
    }

    /// All charts, the ground's first, with what they are called.
    pub fn drawn(&self) -> impl Iterator<Item = (&str, &Drawn)> {
        let panels = self
            .panels
            .iter()
            .map(|panel| (panel.name.as_str(), &panel.drawn));
        std::iter::once((self.name.as_str(), &self.ground)).chain(panels)
    }

    /// The pattern that a left hand works so that it looks the same: everything a left hand does comes out as
    /// the mirror image, so the charts are mirrored first.
    #[must_use]
    pub fn for_hand(&self, hand: Hand) -> Self {
        let mut pattern = self.clone();
        if hand == Hand::Left {
            let panels = pattern.panels.iter_mut().map(|panel| &mut panel.drawn);
            for drawn in std::iter::once(&mut pattern.ground).chain(panels) {
                drawn.chart = drawn.chart.mirrored();
                drawn.given = drawn.given.mirrored();
            }
        }
        pattern
    }
}
