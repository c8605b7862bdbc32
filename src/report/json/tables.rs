//! The tables and answers as plain data in both units, for a door to print as text or JSON.

use serde::Serialize;

use crate::body::{
    Arm, BodyTable, Cell, ChestBand, Posture, TableColumn, TableKind, TableQuantity, TableRow,
    tables,
};
use crate::measure::{Length, Units};

/// One line of the list of tables.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TableLine {
    /// The name it is asked by.
    pub id: &'static str,
    /// One line.
    pub title: &'static str,
    /// What it can be asked, e.g. `a size or a bust`.
    pub answers: &'static str,
    /// When it was published or measured.
    pub year: &'static str,
}

/// A length in both units, rounded for reading: centimetres to a tenth, inches to a hundredth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LengthView {
    /// Centimetres.
    pub cm: f64,
    /// Inches.
    #[serde(rename = "in")]
    pub inches: f64,
}

/// A column's heading.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ColumnView {
    /// Short name.
    pub id: String,
    /// The heading.
    pub name: String,
    /// Where the tape lies.
    pub landmark: String,
    /// What its numbers are.
    pub quantity: TableQuantity,
}

/// The edges of a cell; equal for a single figure.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EdgesView<T> {
    /// The figure or the lower edge.
    pub low: Option<T>,
    /// The figure again or the upper edge.
    pub high: Option<T>,
}

/// A cell: a length in both units, or a bare number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum CellView {
    /// A length or a range of lengths.
    Length(EdgesView<LengthView>),
    /// A number or a range of numbers.
    Number(EdgesView<f64>),
}

/// A row in both units.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RowView {
    /// The size, the age or the measure.
    pub label: String,
    /// Where the tape lies.
    pub landmark: String,
    /// One cell per column.
    pub cells: Vec<CellView>,
    /// A misprint or a doubt.
    pub note: String,
}

/// A table with everything that belongs to it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TableView {
    /// The name it is asked by.
    pub id: String,
    /// One line.
    pub title: String,
    /// What it can be asked.
    pub kind: TableKind,
    /// The publication.
    pub edition: String,
    /// When it was published or measured.
    pub year: String,
    /// Who was measured.
    pub population: String,
    /// Whether its arms are relaxed or flexed.
    pub posture: Option<Posture>,
    /// Where the tape lies, and what must not be compared.
    pub landmarks: String,
    /// On what terms the figures are given.
    pub licence: String,
    /// The credit line the publisher asks for; often empty.
    pub credit: String,
    /// Where the figures are from.
    pub source: String,
    /// What a reader should know.
    pub notes: Vec<String>,
    /// The headings.
    pub columns: Vec<ColumnView>,
    /// The rows.
    pub rows: Vec<RowView>,
    /// For a survey of chest and arm: the arms at every 4 cm of its usable range.
    pub arms: Vec<ArmView>,
}

/// An answer in both units.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ArmView {
    /// The table that answered; empty for a measured arm.
    pub table: String,
    /// What was asked.
    pub label: String,
    /// The chart's size asked for or nearest.
    pub size: Option<String>,
    /// The chart's own figure.
    pub chart: Option<LengthView>,
    /// The mean arm.
    pub mean: LengthView,
    /// Deviation from one person to the next.
    pub sd: Option<LengthView>,
    /// One person in twenty has a thinner arm.
    pub low: LengthView,
    /// One person in twenty has a thicker arm.
    pub high: LengthView,
    /// Relaxed or flexed.
    pub posture: Option<Posture>,
    /// True outside the survey's usable range.
    pub extrapolated: bool,
    /// What was counted at this bust, for a survey's own (flexed) arms.
    pub counted: Option<BandView>,
    /// The chart's armhole depth.
    pub armhole_depth: Option<EdgesView<LengthView>>,
    /// True for the sizes of infants.
    pub infant: bool,
    /// Where the figures are from.
    pub source: String,
}

/// The arms counted in a band of chest, in both units.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BandView {
    /// The band begins here.
    pub from: LengthView,
    /// The band ends before this.
    pub to: LengthView,
    /// People counted.
    pub people: u32,
    /// One person in twenty had a thinner arm.
    pub low: LengthView,
    /// Half of them had a thinner arm.
    pub median: LengthView,
    /// One person in twenty had a thicker arm.
    pub high: LengthView,
}

/// All tables, one line each.
pub fn table_list() -> Vec<TableLine> {
    tables()
        .iter()
        .map(|table| TableLine {
            id: &table.id,
            title: &table.title,
            answers: table.answers(),
            year: &table.year,
        })
        .collect()
}

/// A table in both units.
pub fn table_view(table: &BodyTable) -> TableView {
    TableView {
        id: table.id.clone(),
        title: table.title.clone(),
        kind: table.kind,
        edition: table.edition.clone(),
        year: table.year.clone(),
        population: table.population.clone(),
        posture: table.posture,
        landmarks: table.landmarks.clone(),
        licence: table.licence.clone(),
        credit: table.credit.clone(),
        source: table.source.clone(),
        notes: table.notes.clone(),
        columns: table.columns.iter().map(ColumnView::of).collect(),
        rows: table
            .rows
            .iter()
            .map(|row| RowView::of(table, row))
            .collect(),
        arms: arms(table),
    }
}

/// The arms at every 4 cm of the usable range.
fn arms(table: &BodyTable) -> Vec<ArmView> {
    let Some(curve) = &table.curve else {
        return Vec::new();
    };
    let [from, to] = curve.usable_mm.map(|mm| mm / 10.0);
    (0u32..100)
        .map(|step| from + 4.0 * f64::from(step))
        .take_while(|bust| *bust <= to)
        .map(|bust| ArmView::from(&Arm::of_curve(table, curve, Length::cm(bust))))
        .collect()
}

impl LengthView {
    /// A length in both units.
    pub fn of(length: Length) -> Self {
        Self {
            cm: rounded(length.to_cm(), 10.0),
            inches: rounded(length.to_inches(), 100.0),
        }
    }

    /// The number in these units, without a word after it.
    pub fn text(self, units: Units) -> String {
        match units {
            Units::Cm => format!("{:.1}", self.cm),
            Units::In => format!("{}", self.inches),
        }
    }
}

impl BandView {
    fn of(band: ChestBand) -> Self {
        let view = |mm: f64| LengthView::of(Length::cm(mm / 10.0));
        let [from, to] = band.chest_mm.map(view);
        let [low, _, median, _, high] = band.percentiles_mm.map(view);
        Self {
            from,
            to,
            people: band.n,
            low,
            median,
            high,
        }
    }
}

impl ColumnView {
    fn of(column: &TableColumn) -> Self {
        Self {
            id: column.id.clone(),
            name: column.name.clone(),
            landmark: column.landmark.clone(),
            quantity: column.quantity,
        }
    }
}

impl RowView {
    fn of(table: &BodyTable, row: &TableRow) -> Self {
        let cells = row.values.iter().zip(&table.columns);
        Self {
            label: row.label.clone(),
            landmark: row.landmark.clone(),
            cells: cells
                .map(|(cell, column)| CellView::of(table, *cell, column))
                .collect(),
            note: row.note.clone(),
        }
    }
}

impl CellView {
    fn of(table: &BodyTable, cell: Cell, column: &TableColumn) -> Self {
        match column.quantity {
            TableQuantity::Length => {
                let view = |number| LengthView::of(table.units.length(number));
                Self::Length(EdgesView {
                    low: cell.low.map(view),
                    high: cell.high.map(view),
                })
            }
            TableQuantity::Count | TableQuantity::Millimetres => Self::Number(EdgesView {
                low: cell.low,
                high: cell.high,
            }),
        }
    }

    /// The cell for a person to read: `24.8`, `71.1 to 76.2`, `6 and more`, `up to 4`, or a dash.
    pub fn text(self, units: Units) -> String {
        match self {
            Self::Length(edges) => edges.text(|length| length.text(units)),
            Self::Number(edges) => edges.text(|number| number.to_string()),
        }
    }
}

impl<T: Copy + PartialEq> EdgesView<T> {
    fn text(self, show: impl Fn(T) -> String) -> String {
        match (self.low, self.high) {
            (Some(low), Some(high)) if low == high => show(low),
            (Some(low), Some(high)) => format!("{} to {}", show(low), show(high)),
            (Some(low), None) => format!("{} and more", show(low)),
            (None, Some(high)) => format!("up to {}", show(high)),
            (None, None) => "-".to_owned(),
        }
    }
}

impl From<&Arm> for ArmView {
    fn from(arm: &Arm) -> Self {
        Self {
            table: arm.table.clone(),
            label: arm.label.clone(),
            size: arm.size.clone(),
            chart: arm.chart.map(LengthView::of),
            mean: LengthView::of(arm.mean),
            sd: arm.sd.map(LengthView::of),
            low: LengthView::of(arm.low),
            high: LengthView::of(arm.high),
            posture: arm.posture,
            extrapolated: arm.extrapolated,
            counted: arm.counted.map(BandView::of),
            armhole_depth: arm.armhole_depth.map(|(low, high)| EdgesView {
                low: Some(LengthView::of(low)),
                high: Some(LengthView::of(high)),
            }),
            infant: arm.infant,
            source: arm.source.clone(),
        }
    }
}

fn rounded(number: f64, parts: f64) -> f64 {
    // Adding zero turns -0.0 into 0.0.
    (number * parts).round() / parts + 0.0
}
