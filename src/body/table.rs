//! The tables, as published, and how one is found by name.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::codes::{SIZE_UNKNOWN, TABLE_UNKNOWN};
use super::curve::{Curve, Regression};
use crate::diagnostic::{Diagnostic, nearest};
use crate::measure::Length;

/// One table of `body-tables/`.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BodyTable {
    /// Short name, e.g. `woman`.
    pub id: String,
    /// Other names it is found by.
    pub aliases: Vec<String>,
    /// One line for a list.
    pub title: String,
    /// What it can be asked.
    pub kind: TableKind,
    /// The publication.
    pub edition: String,
    /// When it was published or measured.
    pub year: String,
    /// Who was measured.
    pub population: String,
    /// Who was measured, in a few words that fit into a sentence; empty for a chart.
    #[serde(default)]
    pub people: String,
    /// What the girth of its people's chest is called.
    #[serde(default)]
    pub girth: Girth,
    /// The unit of its lengths as published.
    pub units: TableUnits,
    /// Whether its arms are relaxed or flexed; `None` when it holds no arms.
    #[serde(default)]
    pub posture: Option<Posture>,
    /// Where the tape lies, and what must not be compared.
    pub landmarks: String,
    /// On what terms the figures are given here.
    pub licence: String,
    /// The credit line the publisher asks for; often empty.
    pub credit: String,
    /// Where the figures are from.
    pub source: String,
    /// What a reader should know.
    pub notes: Vec<String>,
    /// The tables that give a chart its spread.
    #[serde(default)]
    pub survey: Vec<String>,
    /// The survey that holds both the flexed biceps and the arm at the armpit.
    #[serde(default)]
    pub armpit_survey: Option<String>,
    /// True when the equation from flexed to relaxed arms is not of the people of the chart.
    #[serde(default)]
    pub borrows_relaxed: bool,
    /// The tables that hold a counterpart of a chart's armhole depth.
    #[serde(default)]
    pub armhole_survey: Vec<String>,
    /// A chart's smallest and largest bust that is answered, in its units.
    #[serde(default)]
    pub bust_limits: Option<[f64; 2]>,
    /// Flexed arms as counted in bands of chest, beside what the curve predicts.
    #[serde(default)]
    pub bands: Vec<ChestBand>,
    /// What the cells of each row mean, in order.
    pub columns: Vec<TableColumn>,
    /// The rows, as published.
    pub rows: Vec<TableRow>,
    /// The arm given the chest, computed from the survey.
    #[serde(default)]
    pub curve: Option<Curve>,
    /// The relaxed arm given the flexed one, computed from the survey.
    #[serde(default)]
    pub relaxed: Option<Regression>,
    /// The scye girth given the chest, computed from the survey.
    #[serde(default)]
    pub scye: Option<Regression>,
}

/// What a table can be asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TableKind {
    /// Sizes; asked for a size or a bust.
    Chart,
    /// A summary of people measured; asked for a bust when it has a curve.
    Survey,
    /// Arms by age; asked for an age.
    Ages,
    /// Bands to read, not to ask.
    Bands,
}

/// What the girth of the chest is called in words for the knitter: a woman's bust, anybody else's chest.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Girth {
    /// Of women.
    Bust,
    /// Of men, children and babies, and of a table of both.
    #[default]
    Chest,
}

impl Girth {
    /// In a sentence.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bust => "bust",
            Self::Chest => "chest",
        }
    }
}

/// Whether the arm hung or was tensed when it was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Posture {
    /// Hanging.
    Relaxed,
    /// Bent and tensed: about 2 cm more.
    Flexed,
}

/// The unit of a table's lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TableUnits {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    In,
}

impl TableUnits {
    /// A number of the table as a length.
    pub const fn length(self, number: f64) -> Length {
        match self {
            Self::Mm => Length::cm(number / 10.0),
            Self::Cm => Length::cm(number),
            Self::In => Length::inches(number),
        }
    }
}

/// What a column's numbers are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TableQuantity {
    /// A length in the table's units.
    #[default]
    Length,
    /// A number of people or of stitches.
    Count,
    /// A needle's diameter in millimetres, whatever the table's units.
    Millimetres,
}

/// What the cells of a column mean.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TableColumn {
    /// Short name, e.g. `upper_arm`.
    pub id: String,
    /// The heading.
    pub name: String,
    /// Where the tape lies.
    #[serde(default)]
    pub landmark: String,
    /// What its numbers are.
    #[serde(default, rename = "kind")]
    pub quantity: TableQuantity,
}

/// The flexed arms counted in a band of chest.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChestBand {
    /// The band: from, up to but not with.
    pub chest_mm: [f64; 2],
    /// People counted.
    pub n: u32,
    /// The girths that 5, 25, 50, 75 and 95 % of them stay below.
    pub percentiles_mm: [f64; 5],
}

impl ChestBand {
    /// True when a chest falls into the band.
    pub fn holds(&self, chest: Length) -> bool {
        let [from, to] = self.chest_mm;
        (from..to).contains(&(chest.to_cm() * 10.0))
    }
}

/// One row as published.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TableRow {
    /// The size, the age or the measure.
    pub label: String,
    /// The survey's own name of the measure.
    #[serde(default)]
    pub id: String,
    /// Where the tape lies.
    #[serde(default)]
    pub landmark: String,
    /// The age group a child's size is compared with.
    #[serde(default)]
    pub age: String,
    /// True for the sizes of infants.
    #[serde(default)]
    pub infant: bool,
    /// One cell per column, in the table's units.
    pub values: Vec<Cell>,
    /// The centimetres printed beside the inches, as printed.
    #[serde(default)]
    pub printed_cm: Vec<Cell>,
    /// A misprint or a doubt.
    #[serde(default)]
    pub note: String,
}

/// A published figure or range; a missing edge is `None`.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(from = "Published")]
pub struct Cell {
    /// The figure, or the lower edge.
    pub low: Option<f64>,
    /// The figure again, or the upper edge.
    pub high: Option<f64>,
}

/// How a cell is written: `9.75`, `[28, 30]`, `[nan, 6]` (no lower edge), `[]` (blank).
#[derive(Deserialize)]
#[serde(untagged)]
enum Published {
    One(f64),
    Many(Vec<f64>),
}

impl From<Published> for Cell {
    fn from(published: Published) -> Self {
        let (low, high) = match &published {
            Published::One(number) => (Some(*number), Some(*number)),
            Published::Many(edges) => (edges.first().copied(), edges.last().copied()),
        };
        Self {
            low: low.filter(|n| n.is_finite()),
            high: high.filter(|n| n.is_finite()),
        }
    }
}

impl Cell {
    /// The figure, or the middle of the range; `None` when an edge is missing.
    pub fn middle(self) -> Option<f64> {
        Some(f64::midpoint(self.low?, self.high?))
    }
}

impl BodyTable {
    /// What it can be asked, in words.
    pub fn answers(&self) -> &'static str {
        match (self.kind, self.girth) {
            (TableKind::Chart, Girth::Bust) => "a size or a bust",
            (TableKind::Chart, Girth::Chest) => "a size or a chest",
            (TableKind::Survey, Girth::Bust) if self.curve.is_some() => "a bust",
            (TableKind::Survey, Girth::Chest) if self.curve.is_some() => "a chest",
            (TableKind::Ages, _) => "an age",
            (TableKind::Survey | TableKind::Bands, _) => "nothing: it is for reading",
        }
    }

    /// The cell of a row in a column.
    pub fn cell(&self, row: &TableRow, column: &str) -> Option<Cell> {
        let at = self.columns.iter().position(|c| c.id == column)?;
        row.values.get(at).copied()
    }

    /// The middle of a cell as a length.
    pub fn length(&self, row: &TableRow, column: &str) -> Option<Length> {
        Some(self.units.length(self.cell(row, column)?.middle()?))
    }

    /// Both edges of a cell as lengths.
    pub fn edges(&self, row: &TableRow, column: &str) -> Option<(Length, Length)> {
        let cell = self.cell(row, column)?;
        Some((self.units.length(cell.low?), self.units.length(cell.high?)))
    }

    /// The row of a size, an age or a measure, however it is written: `XXL` is `2X`, `small` is
    /// `S`, `6 months` is `6 mo`.
    ///
    /// # Errors
    /// A diagnostic that names the nearest size.
    pub fn row(&self, label: &str) -> Result<&TableRow, Box<Diagnostic>> {
        let wanted = plain(label);
        let same = |row: &&TableRow| {
            plain(&row.label) == wanted || (row.id == label.trim() && !label.trim().is_empty())
        };
        self.rows
            .iter()
            .find(same)
            .ok_or_else(|| Box::new(self.no_such_row(label)))
    }

    fn no_such_row(&self, label: &str) -> Diagnostic {
        let labels: Vec<&str> = self.rows.iter().map(|row| row.label.as_str()).collect();
        let near = nearest(label, labels.iter().copied());
        let hint = near.map_or_else(String::new, |near| format!(" The nearest is '{near}'."));
        Diagnostic::new(
            &SIZE_UNKNOWN,
            format!(
                "the table '{}' has no size '{}'.{hint}",
                self.id,
                label.trim()
            ),
        )
        .next(format!("Use one of: {}.", labels.join(", ")))
    }
}

/// The files of `body-tables/`, in the order they are listed.
pub(super) const FILES: [&str; 16] = [
    include_str!("../../body-tables/woman.toml"),
    include_str!("../../body-tables/man.toml"),
    include_str!("../../body-tables/baby.toml"),
    include_str!("../../body-tables/child.toml"),
    include_str!("../../body-tables/youth.toml"),
    include_str!("../../body-tables/ansur2-women.toml"),
    include_str!("../../body-tables/ansur2-men.toml"),
    include_str!("../../body-tables/nhanes-female.toml"),
    include_str!("../../body-tables/nhanes-male.toml"),
    include_str!("../../body-tables/nhanes-female-length.toml"),
    include_str!("../../body-tables/nhanes-male-length.toml"),
    include_str!("../../body-tables/usaf1967-men.toml"),
    include_str!("../../body-tables/ansur1988-women.toml"),
    include_str!("../../body-tables/ansur1988-men.toml"),
    include_str!("../../body-tables/ease.toml"),
    include_str!("../../body-tables/yarn.toml"),
];

/// All tables. The files are part of the program and a test proves that every one is read.
pub fn tables() -> &'static [BodyTable] {
    static TABLES: LazyLock<Vec<BodyTable>> = LazyLock::new(|| {
        FILES
            .iter()
            .filter_map(|text| toml::from_str(text).ok())
            .collect()
    });
    &TABLES
}

/// The table of this name.
///
/// # Errors
/// A diagnostic that names the nearest table.
pub fn find(id: &str) -> Result<&'static BodyTable, Box<Diagnostic>> {
    let wanted = id.trim().to_lowercase();
    let named = |table: &&BodyTable| table.id == wanted || table.aliases.contains(&wanted);
    tables()
        .iter()
        .find(named)
        .ok_or_else(|| Box::new(no_such_table(id)))
}

fn no_such_table(id: &str) -> Diagnostic {
    let ids: Vec<&str> = tables().iter().map(|table| table.id.as_str()).collect();
    let aliases = tables()
        .iter()
        .flat_map(|table| table.aliases.iter().map(String::as_str));
    let near = nearest(id.trim(), ids.iter().copied().chain(aliases));
    let hint = near.map_or_else(String::new, |near| format!(" The nearest is '{near}'."));
    Diagnostic::new(
        &TABLE_UNKNOWN,
        format!("there is no body table '{}'.{hint}", id.trim()),
    )
    .next(format!("Use one of: {}.", ids.join(", ")))
}

/// A size without the ways of writing it: `Small` and `s` are `s`, `XXL` and `2XL` are `2x`,
/// `6 months` is `6mo`.
pub(super) fn plain(label: &str) -> String {
    let text: String = label
        .to_lowercase()
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '.')
        .collect();
    let word = match text.as_str() {
        "extrasmall" | "extra-small" | "xsmall" | "x-small" => "xs",
        "small" => "s",
        "medium" => "m",
        "large" => "l",
        "extralarge" | "extra-large" | "xlarge" | "x-large" => "xl",
        "xxl" | "2xl" => "2x",
        "xxxl" | "3xl" => "3x",
        "4xl" => "4x",
        "5xl" => "5x",
        _ => return months(&text),
    };
    word.to_owned()
}

/// `6months` and `6m` keep their number and end in `mo`; `8years` is `8`.
fn months(text: &str) -> String {
    let number = |endings: &[&str]| {
        let rest = endings
            .iter()
            .find_map(|ending| text.strip_suffix(ending))?;
        (!rest.is_empty() && rest.bytes().all(|b| b.is_ascii_digit())).then_some(rest)
    };
    if let Some(months) = number(&["months", "month", "mos", "mo", "m"]) {
        format!("{months}mo")
    } else if let Some(years) = number(&["years", "year", "yrs", "yr", "y"]) {
        years.to_owned()
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_is_read_and_every_row_has_a_cell_per_column() {
        for text in FILES {
            let table: BodyTable = toml::from_str(text).unwrap();
            for row in &table.rows {
                assert_eq!(
                    row.values.len(),
                    table.columns.len(),
                    "{} {}",
                    table.id,
                    row.label
                );
            }
        }
        assert_eq!(tables().len(), FILES.len());
    }

    #[test]
    fn every_table_says_where_it_is_from() {
        for table in tables() {
            for text in [
                &table.title,
                &table.edition,
                &table.landmarks,
                &table.licence,
                &table.source,
                &table.year,
            ] {
                assert!(!text.is_empty(), "{}", table.id);
            }
        }
    }

    #[test]
    fn an_unknown_table_or_size_names_the_nearest() {
        let error = find("womn").unwrap_err();
        assert_eq!(
            error.message,
            "there is no body table 'womn'. The nearest is 'woman'."
        );
        let woman = find(" Women ").unwrap();
        assert_eq!(woman.id, "woman");
        assert_eq!(woman.row("xxl").unwrap().label, "2X");
        let error = woman.row("6X").unwrap_err();
        assert!(
            error
                .message
                .starts_with("the table 'woman' has no size '6X'."),
            "{}",
            error.message
        );
        assert_eq!(
            error.advice(),
            "Use one of: XS, S, M, L, XL, 2X, 3X, 4X, 5X."
        );
    }
}
