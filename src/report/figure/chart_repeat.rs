//! The repeats of a stitch pattern as charts in squares.

use super::chart_grid::{Grid, NUMBERS, PenLines, legend};
use super::sheet::{About, BELOW_HEADING, MARGIN, SMALL, Sheet, TextSet, WIDTH};
use super::{Figure, Of};
use crate::plan::Hand;
use crate::report::number::counted;
use crate::stitch::{Chart, Drawn, Worked};

/// The repeats as charts in squares; where one is turned round, as it was and as it is worked.
pub(super) fn repeats(of: &Of<'_>) -> Vec<Figure> {
    let hand = of.case.style.hand;
    let Some(pattern) = of
        .case
        .stitch
        .as_ref()
        .map(|pattern| pattern.for_hand(hand))
    else {
        return Vec::new();
    };
    let several = pattern.drawn().count() > 1;
    let mut figures = Vec::new();
    for (number, (name, drawn)) in (1..).zip(pattern.drawn()) {
        // A ground of one stitch needs no picture beside a panel.
        if several && drawn.chart.width() == 1 && drawn.chart.height() == 1 {
            continue;
        }
        figures.push(repeat(of, (name, number), drawn, pattern.worked));
    }
    figures
}

fn repeat(of: &Of<'_>, (name, number): (&str, usize), drawn: &Drawn, worked: Worked) -> Figure {
    let turned = worked == Worked::FromCuff && drawn.given.has_way_up();
    let mut sheet = Sheet::default();
    let flipped = of.case.style.hand == Hand::Left;
    let mut y = BELOW_HEADING + 22.0;
    let heading = if turned {
        "As it is worked now, from the shoulder down"
    } else {
        "The repeat"
    };
    y = one_chart(&mut sheet, heading, (&drawn.chart, flipped), y);
    if turned {
        y = one_chart(
            &mut sheet,
            "As the old sleeve has it, from the cuff up: not to be worked from",
            (&drawn.given, flipped),
            y + 18.0,
        );
    }
    let end = legend(&mut sheet, &drawn.chart.stitches(), flipped, y + 30.0);
    let mut words = format!(
        "The repeat of the {name}: {} and {}, seen from the right side, row 1 at the bottom; row 1 of the cap is its row {}.",
        counted(drawn.chart.width(), "stitch"),
        counted(drawn.chart.height(), "row"),
        drawn.first_row + 1
    );
    if turned {
        words.push_str(" Both looks are drawn: as it is worked now, and as the old sleeve had it.");
    }
    let about = of.about("repeat-chart", "Repeat of the stitch pattern", words, None);
    let about = About {
        place: format!("{}-{number}", about.place),
        subject: format!("{name}: {}", about.subject),
        ..about
    };
    sheet.finish(about, end)
}

/// A chart with its numbers; where it ends.
fn one_chart(sheet: &mut Sheet, heading: &str, (chart, flipped): (&Chart, bool), top: f64) -> f64 {
    let width = i64::try_from(chart.width()).unwrap_or(1);
    let square = ((WIDTH - 2.0 * (MARGIN + NUMBERS)) / width as f64).min(24.0);
    sheet.text((MARGIN, top), TextSet::LABEL, heading);
    let grid = Grid {
        left: MARGIN + NUMBERS,
        bottom: top + 12.0 + square * chart.height() as f64,
        wide: square,
        high: square,
        from: 0,
        to: width,
        row: 0,
        flipped,
    };
    let mut lines = PenLines::default();
    let every = (SMALL / square).ceil().max(1.0);
    for (at, row) in chart.rows().iter().enumerate() {
        let y = grid.y(at);
        for (column, cell) in (0..).zip(row).filter(|(_, cell)| cell.part == 0) {
            lines.stitch(cell.stitch, &grid, (grid.x(column, cell.stitch.width()), y));
        }
        lines.frame((grid.left, y), (square * width as f64, square));
        if (at as f64 % every) < 0.5 {
            let middle = y - square / 2.0 + SMALL * 0.36;
            let number = (at + 1).to_string();
            sheet.text(
                (grid.left + square * width as f64 + 6.0, middle),
                TextSet::LABEL,
                &number,
            );
        }
    }
    lines.draw(sheet, &grid);
    let ends = [(0, 1), (width - 1, width)];
    let ends = ends.into_iter().take(if width > 1 { 2 } else { 1 });
    for (column, number) in ends {
        let x = grid.x(column, 1) + square / 2.0;
        sheet.text(
            (x, grid.bottom + SMALL + 3.0),
            TextSet::LABEL.middle(),
            &number.to_string(),
        );
    }
    grid.bottom + SMALL + 4.0
}
