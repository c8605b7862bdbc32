//! Columns that a stitch pattern or stripes add to the rows to tick off.

use crate::convert::{Patterned, SizeConversion, Written};
use crate::stitch::PatternRow;

/// A column with a cell for every row of the cap.
pub(super) struct RowColumn {
    /// Its heading: `Colour`, `Row of cable`.
    pub(super) name: String,
    pub(super) cells: Vec<String>,
}

/// The colour, then the row of the repeat and of each panel's chart, where there is one to be told.
pub(super) fn row_columns(size: &SizeConversion, written: &Written) -> Vec<RowColumn> {
    let pattern = written.pattern.iter().flat_map(chart_rows);
    colour(size, written).into_iter().chain(pattern).collect()
}

fn colour(size: &SizeConversion, written: &Written) -> Option<RowColumn> {
    let bands = &size.stripes.as_ref()?.bands;
    let of = |row: u32| {
        let band = bands.iter().find(|band| band.from <= row && row <= band.to);
        band.map_or_else(String::new, |band| band.colour.clone())
    };
    let rows = written.checklist.rows.iter();
    Some(RowColumn {
        name: "Colour".to_owned(),
        cells: rows.map(|row| of(row.row)).collect(),
    })
}

/// A chart of one row is on that row always; two panels of one name are the same chart, one its mirror image.
fn chart_rows(pattern: &Patterned) -> Vec<RowColumn> {
    let layout = &pattern.layout;
    let rows = layout.rows();
    let column = |name: String, of: &dyn Fn(&PatternRow) -> Option<u32>| RowColumn {
        name,
        cells: rows
            .iter()
            .filter(|row| !row.is_round())
            .map(|row| of(row).map_or_else(String::new, |n| n.to_string()))
            .collect(),
    };
    let mut columns: Vec<RowColumn> = Vec::new();
    if layout.ground().chart.height() > 1 {
        let name = "Row of the repeat".to_owned();
        columns.push(column(name, &|row| Some(row.of_ground)));
    }
    for (at, panel) in layout.panels.iter().enumerate() {
        let name = format!("Row of {}", panel.name);
        let is_new = columns.iter().all(|column| column.name != name);
        if panel.drawn.chart.height() > 1 && is_new {
            columns.push(column(name, &|row| row.of_panels.get(at).copied()));
        }
    }
    columns
}
