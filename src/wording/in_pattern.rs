//! The rows of the cap in pattern: stitch by stitch, in the order they are worked.

use super::amounts::{sts, times};
use super::instructions::{Instructions, Section, Step};
use crate::measure::Side;
use crate::plan::{Hand, remarks};
use crate::stitch::{Cell, Chart, Layout, Pattern, PatternRow, Placed, Stitch};

/// A stitch pattern in words, for one sleeve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InPattern {
    /// What lies where.
    pub about: Vec<String>,
    /// The stitches that occur: short word and how they are worked.
    pub terms: Vec<(String, String)>,
    /// Every row of the cap, then the first round.
    pub rows: Vec<String>,
    /// Charts and rows, as the section that ends a printed pattern.
    pub section: Section,
    /// The same with every row told by the charts, as it stands in a text for several sizes.
    by_chart: Section,
}

impl InPattern {
    /// The instructions of a size as they stand beside those of others: stitch by stitch hardly a row is the same in
    /// two sizes, by its place on the chart every row is, but for numbers.
    pub fn beside_others(&self, instructions: &Instructions) -> Instructions {
        let mut text = instructions.clone();
        let steps = text
            .sections
            .iter_mut()
            .flat_map(|section| &mut section.steps);
        for step in steps.filter(|step| step.sentence == remarks::WORK_IN_PATTERN) {
            remarks::WORK_BY_CHART.clone_into(&mut step.sentence);
        }
        text.sections.push(self.by_chart.clone());
        text
    }
}

/// Writes the rows of a cap in pattern.
pub fn in_pattern(layout: &Layout, pattern: &Pattern, hand: Hand) -> InPattern {
    let stitches = layout.stitches();
    let size = Size::of(&layout.ground().chart);
    let rows = layout.rows();
    let panels = (1..).zip(&layout.panels).map(panel_lies);
    let by_chart = panels.chain(rows_by_chart(layout, size));
    let by_chart: Vec<String> = by_chart.collect();
    let rows: Vec<String> = rows.iter().map(|row| sentence(row, size)).collect();
    let marker = (!layout.panels.is_empty()).then(|| ("sm".to_owned(), "slip marker".to_owned()));
    InPattern {
        about: about(layout, pattern, hand),
        section: section(layout, remarks::PATTERN_ROWS, &rows),
        by_chart: section(layout, remarks::PATTERN_BY_CHART, &by_chart),
        rows,
        terms: stitches
            .into_iter()
            .map(Stitch::explained)
            .chain(marker)
            .collect(),
    }
}

/// What has to be known, the charts, the rows.
fn section(layout: &Layout, told: &str, rows: &[String]) -> Section {
    let mut words = vec![remarks::CHART_ROWS, told, remarks::PATTERN_STEPS];
    let stitches = layout.stitches();
    if stitches.iter().any(|stitch| stitch.wants_right_side()) {
        words.push(remarks::PATTERN_PLAIN);
    }
    let grounds = std::iter::once(&layout.ground().chart);
    let mut all = grounds.chain(layout.panels.iter().map(|panel| &panel.drawn.chart));
    if all.any(has_double_yo) {
        words.push(remarks::PATTERN_DOUBLE_YO);
    }
    if layout.leaps_at_join() {
        words.push(remarks::PATTERN_JOIN);
    }
    if !layout.panels.is_empty() {
        words.push(remarks::PATTERN_MARKERS);
    }
    let mut steps: Vec<Step> = words.into_iter().map(Step::plain).collect();
    steps.extend(charts(layout).into_iter().map(Step::plain));
    steps.extend(rows.iter().map(Step::plain));
    Section {
        heading: remarks::ROWS_IN_PATTERN.to_owned(),
        steps,
    }
}

/// True where two yarn overs lie side by side, within a repeat or from one to the next.
fn has_double_yo(chart: &Chart) -> bool {
    let is_yo = |cell: &Cell| cell.stitch == Stitch::YarnOver;
    chart.rows().iter().any(|row| {
        let next = row.iter().cycle().skip(1);
        row.len() > 1 && row.iter().zip(next).any(|(a, b)| is_yo(a) && is_yo(b))
    })
}

/// Stitches and rows of a repeat.
#[derive(Clone, Copy, Debug)]
struct Size {
    width: usize,
    height: usize,
}

impl Size {
    fn of(chart: &Chart) -> Self {
        Self {
            width: chart.width(),
            height: chart.height(),
        }
    }

    fn words(self) -> String {
        let word = |n: usize, one: &str| format!("{n} {one}{}", if n == 1 { "" } else { "s" });
        format!(
            "{} and {}",
            word(self.width, "st"),
            word(self.height, "row")
        )
    }
}

/// What lies where, for whoever looks before reading the rows.
fn about(layout: &Layout, pattern: &Pattern, hand: Hand) -> Vec<String> {
    let ground = layout.ground();
    let size = Size::of(&ground.chart);
    let mut lines = vec![format!(
        "Ground: {}, a repeat of {}.",
        pattern.name,
        size.words()
    )];
    if size.width > 1 {
        lines.push(format!(
            "The first crown st of an RS row is st {} of the repeat; sts taken in continue it outwards on both sides.",
            layout.number(0)
        ));
    }
    for panel in &layout.panels {
        lines.push(format!(
            "Panel \"{}\": {} from crown st {} on, row {} of its chart on row 1 of the cap.",
            panel.name,
            sts(u32::try_from(panel.drawn.chart.width()).unwrap_or(u32::MAX)),
            panel.from + 1,
            panel.drawn.first_row + 1
        ));
    }
    lines.extend(at_crown_markers(layout));
    if hand == Hand::Left {
        lines.push("The charts are told for a left hand: RS rows go from left to right, and what is worked comes out as the mirror image of the words, so that the sleeve looks as a right hand's.".to_owned());
    }
    lines.extend(layout.rows().last().map(|round| {
        let of = row_of(round, size);
        let at = if size.width > 1 { format!(" and begins with st {}", round.first) } else { String::new() };
        let is = if of.is_empty() { "goes on as the rows did".to_owned() } else { format!("is {of}") };
        format!("Round 1 {is}{at}; the rounds of the tube go on from there, every one seen from the right side. Shaping takes its sts beside the marker at the underarm, outside panels.")
    }));
    lines
}

/// Where the edge of a panel and a marker of the crown fall together.
fn at_crown_markers(layout: &Layout) -> Vec<String> {
    let crown = [0, i64::from(layout.crown)];
    let there = layout.panels.iter().filter_map(|panel| {
        let edges = [panel.from, panel.to()];
        let edge = match edges.map(|edge| crown.contains(&edge)) {
            [true, true] => "Both edges",
            [true, false] => "The first edge",
            [false, true] => "The last edge",
            [false, false] => return None,
        };
        Some(format!(
            "{edge} of the panel \"{}\" and the crown's own marker fall together: leave that marker in place down to the cuff, and place no other.",
            panel.name
        ))
    });
    there.collect()
}

/// The charts as they are worked, row by row.
fn charts(layout: &Layout) -> Vec<String> {
    let ground = layout.ground();
    let mut lines = vec![format!(
        "The repeat has {}; the first crown st is its st {}, row 1 of the cap its row {}.",
        Size::of(&ground.chart).words(),
        layout.number(0),
        ground.first_row + 1
    )];
    lines.extend(chart_rows("Repeat", &ground.chart));
    for (number, panel) in (1..).zip(&layout.panels) {
        lines.push(panel_line(number, panel));
        lines.extend(chart_rows(&format!("Panel {number}"), &panel.drawn.chart));
    }
    lines
}

fn panel_line(number: u32, panel: &Placed) -> String {
    format!(
        "Panel {number} has {}; its first st is crown st {}, row 1 of the cap its row {}.",
        Size::of(&panel.drawn.chart).words(),
        panel.from + 1,
        panel.drawn.first_row + 1
    )
}

/// Its place once more, where no row names its stitches.
fn panel_lies((number, panel): (u32, &Placed)) -> String {
    format!(
        "Panel {number} lies on crown sts {} to {}.",
        panel.from + 1,
        panel.to()
    )
}

fn chart_rows(name: &str, chart: &Chart) -> Vec<String> {
    let rows = (1..).zip(chart.rows());
    rows.map(|(number, cells)| {
        format!("{name}, row {number}: {}.", row_words(cells, &[], Side::Rs))
    })
    .collect()
}

/// `Row 7 (WS): row 3 of the repeat, from st 2 to st 5: p1, (k2, p2) 6 times; the last 2 sts are new.`
fn sentence(row: &PatternRow, size: Size) -> String {
    let mut places = chart_rows_of(row, size);
    places.extend(from_to(row.first, row.last, size));
    let place = if places.is_empty() {
        String::new()
    } else {
        format!(" {}:", places.join(", "))
    };
    let new = match row.new {
        0 => String::new(),
        1 => "; the last st is new".to_owned(),
        n => format!("; the last {n} sts are new"),
    };
    format!(
        "{}:{place} {}{new}.",
        name(row),
        row_words(&row.cells, &row.edges, side(row))
    )
}

/// Every row by its places on the charts: `Row 7 (WS): row 3 of the repeat, from st 2 to st 5, 27 sts.` The base of
/// the row that joins may lie a few columns on, so it is told apart.
fn rows_by_chart(layout: &Layout, size: Size) -> Vec<String> {
    let stretch = |columns: &[i64], side: Side| {
        let ends = [columns.first(), columns.last()];
        let [a, b] = ends.map(|end| end.map_or(1, |column| layout.number(*column)));
        let (from, to) = match side {
            Side::Rs => (a, b),
            Side::Ws => (b, a),
        };
        let count = sts(u32::try_from(columns.len()).unwrap_or(u32::MAX));
        let places = from_to(from, to, size).into_iter().chain([count]);
        places.collect::<Vec<_>>().join(", ")
    };
    let rows = layout.rows();
    let joins = rows.len().saturating_sub(2);
    let row = |(i, (row, columns)): (usize, (&PatternRow, Vec<i64>))| {
        let base = if i == joins { row.new as usize } else { 0 };
        let (own, base) = columns.split_at(columns.len().saturating_sub(base));
        let mut parts = chart_rows_of(row, size);
        parts.push(stretch(own, side(row)));
        if !base.is_empty() {
            parts.push(format!("then on the base {}", stretch(base, Side::Rs)));
        }
        format!("{}: {}.", name(row), parts.join(", "))
    };
    rows.iter()
        .zip(layout.columns())
        .enumerate()
        .map(row)
        .collect()
}

const fn side(row: &PatternRow) -> Side {
    if row.right_side { Side::Rs } else { Side::Ws }
}

fn name(row: &PatternRow) -> String {
    if row.is_round() {
        "Round 1".to_owned()
    } else {
        format!("Row {} ({})", row.row, side(row))
    }
}

/// The rows of the charts that a row of the work is.
fn chart_rows_of(row: &PatternRow, size: Size) -> Vec<String> {
    let ground = Some(row_of(row, size)).filter(|words| !words.is_empty());
    ground.into_iter().chain(panel_rows(row)).collect()
}

/// The stitches of the repeat that something begins and ends with, where it has several.
fn from_to(from: u32, to: u32, size: Size) -> Option<String> {
    (size.width > 1).then(|| format!("from st {from} to st {to}"))
}

fn row_of(row: &PatternRow, size: Size) -> String {
    if size.height > 1 {
        format!("row {} of the repeat", row.of_ground)
    } else {
        String::new()
    }
}

/// The rows of the panels, in the order of the work; told once where they are the same.
fn panel_rows(row: &PatternRow) -> Option<String> {
    let mut rows = row.of_panels.clone();
    if !row.right_side {
        rows.reverse();
    }
    let first = *rows.first()?;
    if rows.iter().all(|row| *row == first) {
        return Some(format!("panel row {first}"));
    }
    let all: Vec<String> = rows.iter().map(u32::to_string).collect();
    Some(format!("panel rows {}", all.join(" / ")))
}

/// The words of a row, with a marker to slip at the edges of panels.
fn row_words(cells: &[Cell], edges: &[u32], side: Side) -> String {
    let mut segments = Vec::new();
    let mut from = 0;
    for edge in edges.iter().map(|edge| *edge as usize).chain([cells.len()]) {
        segments.push(cells.get(from..edge).unwrap_or(&[]));
        from = edge;
    }
    if side == Side::Ws {
        segments.reverse();
    }
    let words: Vec<String> = segments
        .iter()
        .map(|segment| stretch(segment, side))
        .collect();
    words.join(", sm, ")
}

/// Some stitches in the order of the work, repeats put in brackets.
fn stretch(cells: &[Cell], side: Side) -> String {
    let mut stitches: Vec<Stitch> = cells
        .iter()
        .filter(|cell| cell.part == 0)
        .map(|cell| cell.stitch)
        .collect();
    if side == Side::Ws {
        stitches.reverse();
    }
    let words: Vec<String> = stitches
        .chunk_by(|a, b| a == b)
        .map(|same| several(same.first().copied(), same.len(), side))
        .collect();
    bracketed(&words)
}

/// `k3`, `k3 tbl`, `k2tog twice`.
fn several(stitch: Option<Stitch>, n: usize, side: Side) -> String {
    let stitch = stitch.unwrap_or(Stitch::Knit);
    let short = stitch
        .short(side == Side::Rs)
        .unwrap_or_else(|| stitch.to_string());
    let counted = matches!(
        stitch,
        Stitch::Knit
            | Stitch::Purl
            | Stitch::KnitTbl
            | Stitch::PurlTbl
            | Stitch::Slip
            | Stitch::SlipFront
    );
    if counted {
        return match short.split_once(' ') {
            Some((word, how)) => format!("{word}{n} {how}"),
            None => format!("{short}{n}"),
        };
    }
    match u32::try_from(n) {
        Ok(1) | Err(_) => short,
        Ok(n) => format!("{short} {}", times(n)),
    }
}

/// Words that come again and again stand in brackets: `(k2, p2) 6 times`.
fn bracketed(words: &[String]) -> String {
    let mut out: Vec<String> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let (length, n) = longest_repeat(words.get(at..).unwrap_or(&[]));
        let group = words.get(at..at + length).unwrap_or(&[]).join(", ");
        if n > 1 {
            out.push(format!(
                "({group}) {}",
                times(u32::try_from(n).unwrap_or(u32::MAX))
            ));
        } else {
            out.push(group);
        }
        at += (length * n).max(1);
    }
    out.join(", ")
}

/// Words of a repeat at the most.
const LONGEST: usize = 24;

/// The repeat that these words begin with and that covers most of them: how many words, how often.
fn longest_repeat(words: &[String]) -> (usize, usize) {
    let mut best = (1, 1);
    for length in 2..=LONGEST.min(words.len() / 2) {
        let mut groups = words.chunks_exact(length);
        let Some(first) = groups.next() else { break };
        let n = 1 + groups.take_while(|group| *group == first).count();
        if n > 1 && length * n > best.0 * best.1 {
            best = (length, n);
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<String> {
        text.split(", ").map(str::to_owned).collect()
    }

    #[test]
    fn repeats_stand_in_brackets() {
        for (given, wanted) in [
            ("k2, p2, k2, p2, k2, p2, k2", "(k2, p2) 3 times, k2"),
            ("k1, p1, k1, p1", "(k1, p1) twice"),
            ("k3", "k3"),
            ("p1, k2, p2, k2, p2, k1", "p1, (k2, p2) twice, k1"),
        ] {
            assert_eq!(bracketed(&words(given)), wanted);
        }
    }

    #[test]
    fn stitches_are_told_from_either_side() {
        let cells: Vec<Cell> = [Stitch::Knit, Stitch::Knit, Stitch::Purl]
            .map(Cell::of)
            .to_vec();
        assert_eq!(row_words(&cells, &[], Side::Rs), "k2, p1");
        assert_eq!(row_words(&cells, &[], Side::Ws), "k1, p2");
        assert_eq!(row_words(&cells, &[2], Side::Ws), "k1, sm, p2");
        assert_eq!(several(Some(Stitch::KnitTbl), 3, Side::Ws), "p3 tbl");
        assert_eq!(several(Some(Stitch::K2tog), 2, Side::Rs), "k2tog twice");
    }
}
