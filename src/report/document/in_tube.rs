//! Where the stitch pattern stands in the rounds of the tube.

use super::{Block, ColumnKind, TableBlock, TableColumn};
use crate::convert::Patterned;
use crate::plan::TubePlan;
use crate::stitch::TubeRound;
use crate::wording::Notation;

/// The stitches beside the marker after every shaping, for a ground that has more than one stitch.
pub(super) fn in_tube(pattern: &Patterned, tube: &TubePlan) -> Vec<Block> {
    in_tubes(&[(pattern, tube)])
}

/// The same of several sizes, their numbers listed; a size with fewer shapings has a dash.
pub(super) fn in_tubes(sizes: &[(&Patterned, &TubePlan)]) -> Vec<Block> {
    let Some((pattern, _)) = sizes.first() else {
        return Vec::new();
    };
    let ground = pattern.layout.ground();
    // A rib has one row: nothing to say of it.
    let several_rows = ground.chart.height() > 1;
    let shaped = sizes.iter().map(|(pattern, tube)| {
        let rounds = pattern.tube(tube).into_iter();
        let shaped = rounds.filter(|round| round.shaped);
        shaped
            .map(|round| numbers(pattern, &round, several_rows))
            .collect()
    });
    let shaped: Vec<Vec<Vec<u32>>> = shaped.collect();
    let most = shaped.iter().map(Vec::len).max().unwrap_or(0);
    if ground.chart.width() < 2 || most == 0 {
        return Vec::new();
    }
    let kind = if sizes.len() > 1 {
        ColumnKind::Words
    } else {
        ColumnKind::Number
    };
    let number = |name: &str| TableColumn::new(name, kind);
    let mut columns = vec![TableColumn::new("Round", ColumnKind::Head), number("sts")];
    columns.extend(several_rows.then(|| number("row of the repeat")));
    columns.extend(["2nd st of the round", "last st but one"].map(number));
    let notation = Notation::usual(sizes.len());
    let cell = |at: usize, column: usize| {
        let own = shaped
            .iter()
            .map(|rounds| rounds.get(at)?.get(column).copied());
        let own: Vec<Option<u32>> = own.collect();
        match own.as_slice() {
            [Some(first), others @ ..] if others.iter().all(|o| o == &Some(*first)) => {
                first.to_string()
            }
            _ => notation.list(
                &own.iter()
                    .map(|n| n.map_or_else(|| notation.nothing().to_owned(), |n| n.to_string()))
                    .collect::<Vec<_>>(),
            ),
        }
    };
    let rows = (0..most).map(|at| (0..columns.len()).map(|column| cell(at, column)).collect());
    let rows: Vec<Vec<String>> = rows.collect();
    let caption = "Stitches of the repeat beside the marker, from each shaping on".to_owned();
    vec![
        Block::heading("The pattern in the tube"),
        Block::Sentences(vec![
            "All stitches stay in their columns down to the cuff. The shaping takes them away beside the marker; from the first shaping on the first and the last st of a round are k.".to_owned(),
        ]),
        Block::Table(TableBlock::new(caption, columns, rows)),
    ]
}

/// Round, stitches, row of the repeat where it has several, the stitches of the repeat beside the marker.
fn numbers(pattern: &Patterned, round: &TubeRound, several_rows: bool) -> Vec<u32> {
    let stitches = u32::try_from(round.cells.len()).unwrap_or(u32::MAX);
    let beside = [round.second(), round.last_but_one()];
    let mut all = vec![round.round, stitches];
    all.extend(several_rows.then_some(round.of_ground));
    all.extend(beside.map(|column| pattern.layout.number(column)));
    all
}
