//! Where the stitch pattern stands in the rounds of the tube.

use super::{Block, Column, ColumnKind, Table};
use crate::convert::Patterned;
use crate::plan::TubePlan;
use crate::stitch::TubeRound;

/// The stitches beside the marker after every shaping, for a ground that has more than one stitch.
pub(super) fn in_tube(pattern: &Patterned, tube: &TubePlan) -> Vec<Block> {
    let layout = &pattern.layout;
    let rounds = pattern.tube(tube);
    if layout.ground().chart.width() < 2 || !rounds.iter().any(|round| round.shaped) {
        return Vec::new();
    }
    // A rib has one row: nothing to say of it.
    let several_rows = layout.ground().chart.height() > 1;
    let row = |round: &TubeRound| {
        let mut row = vec![round.round.to_string(), round.cells.len().to_string()];
        row.extend(several_rows.then(|| round.of_ground.to_string()));
        let beside = [round.second(), round.last_but_one()];
        row.extend(beside.map(|column| layout.number(column).to_string()));
        row
    };
    let rows = rounds
        .iter()
        .filter(|round| round.shaped)
        .map(row)
        .collect();
    let number = |name: &str| Column::new(name, ColumnKind::Number);
    let mut columns = vec![Column::new("Round", ColumnKind::Head), number("sts")];
    columns.extend(several_rows.then(|| number("row of the repeat")));
    columns.extend(["2nd st of the round", "last st but one"].map(number));
    let caption = "Stitches of the repeat beside the marker, from each shaping on".to_owned();
    vec![
        Block::heading("The pattern in the tube"),
        Block::Sentences(vec![
            "All stitches stay in their columns down to the cuff. The shaping takes them away beside the marker; from the first shaping on the first and the last st of a round are k.".to_owned(),
        ]),
        Block::Table(Table::new(caption, columns, rows)),
    ]
}
