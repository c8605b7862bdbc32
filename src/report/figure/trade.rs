//! The trade between simple and faithful: what one more run to remember buys.

use nalgebra::Point2;

use super::scale::{Axis, ChartFrame};
use super::sheet::{
    BELOW_HEADING, INK, MARGIN, MarkKind, NEW, Pen, PointMark, Sheet, TextSet, WIDTH,
};
use super::{Figure, Of};
use crate::fit::Measures;
use crate::measure::Units;

const BEST: PointMark = PointMark::open(MarkKind::Dot, 4.5);
const CHOSEN: PointMark = PointMark::full(MarkKind::Square, 6.5);
const PANEL: f64 = 104.0;
const APART: f64 = 54.0;

/// One panel: what it shows, the number of a cap, and how far its axis goes at the least.
struct TradePanel {
    name: String,
    number: fn(Units, &Measures) -> f64,
    least: f64,
}

/// What is looked at. An axis shows a per cent and a row at the least, so that nothing looks
/// larger than it is.
fn panels(of: &Of<'_>) -> [TradePanel; 3] {
    let units = of.case.units;
    [
        TradePanel {
            name: "how far off in all".to_owned(),
            number: |_, m| m.objective,
            least: 0.0,
        },
        TradePanel {
            name: "area off (%)".to_owned(),
            number: |_, m| m.area_error_pct,
            least: 1.0,
        },
        TradePanel {
            name: format!("depth off ({units})"),
            number: |units, m| units.number(m.depth_error),
            least: units.number(of.size.gauge.cap.row_height()),
        },
    ]
}

pub(super) fn trade(of: &Of<'_>) -> Figure {
    let fit = &of.size.fit;
    let chosen = fit.trade.iter().find(|point| {
        let plan = point.cap.as_ref().map(|cap| &cap.0);
        plan == Some(&fit.plan)
    });
    let chosen = chosen.map(|point| point.runs);
    let units = of.case.units;
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let next = sheet.mark_key((MARGIN, keys), BEST, INK, "best with so many runs");
    sheet.mark_key((next, keys), CHOSEN, NEW, "chosen");
    let most = fit.trade.len() as f64;
    let runs = Axis {
        from: 0.5,
        to: most + 0.5,
        low: 90.0,
        high: WIDTH - MARGIN,
    };
    let mut top = BELOW_HEADING + 68.0;
    for one in panels(of) {
        let frame = ChartFrame {
            left: 90.0,
            right: WIDTH - MARGIN,
            top,
            bottom: top + PANEL,
        };
        sheet.text((MARGIN, top - 18.0), TextSet::LABEL, &one.name);
        let points: Vec<(usize, f64)> = fit
            .trade
            .iter()
            .filter_map(|p| Some((p.runs, (one.number)(units, &p.cap.as_ref()?.1))))
            .collect();
        panel(&mut sheet, frame, &runs, (&points, one.least), chosen);
        top += PANEL + APART;
    }
    let bottom = top - APART;
    let marks: Vec<(f64, String)> = fit
        .trade
        .iter()
        .map(|p| (p.runs as f64, p.runs.to_string()))
        .collect();
    let frame = ChartFrame {
        left: 90.0,
        right: WIDTH - MARGIN,
        top,
        bottom,
    };
    frame.below(&mut sheet, &runs, &marks);
    let foot = bottom + 44.0;
    sheet.text(
        (WIDTH - MARGIN, foot),
        TextSet::LABEL.end(),
        "runs to remember",
    );
    let about = of.about("trade", "Simple against faithful", words(of, chosen), None);
    sheet.finish(about, foot + 16.0)
}

fn panel(
    sheet: &mut Sheet,
    frame: ChartFrame,
    runs: &Axis,
    (points, least): (&[(usize, f64)], f64),
    chosen: Option<usize>,
) {
    let mut numbers: Vec<f64> = points.iter().map(|p| p.1).collect();
    numbers.extend([-least, least].into_iter().filter(|n| *n != 0.0));
    let axis = Axis::of(&numbers, true, frame.bottom, frame.top);
    frame.across(sheet, &axis, &axis.marks(5));
    let at = |(run, number): &(usize, f64)| (runs.at(*run as f64), axis.at(*number));
    let line: Vec<Point2<f64>> = points
        .iter()
        .map(at)
        .map(|(x, y)| Point2::new(x, y))
        .collect();
    sheet.line(&line, Pen::new(NEW, 1.4, ""), &[]);
    for point in points {
        let name = if point.0 == 1 { "run" } else { "runs" };
        let title = format!("{} {name}", point.0);
        sheet.open_group(&[("data-runs", point.0.to_string())], &title);
        if Some(point.0) == chosen {
            sheet.mark(at(point), CHOSEN, NEW);
        } else {
            sheet.mark(at(point), BEST, INK);
        }
        sheet.close_group();
    }
}

fn words(of: &Of<'_>, chosen: Option<usize>) -> String {
    let units = of.case.units;
    let points = of.size.fit.trade.iter().map(|point| match &point.cap {
        None => format!("{} runs: no cap", point.runs),
        Some((_, m)) => format!(
            "{} {}: objective {:.4}, area {:+.1} %, depth {:+.2} {units}",
            point.runs,
            if point.runs == 1 { "run" } else { "runs" },
            m.objective,
            m.area_error_pct + 0.0,
            units.number(m.depth_error) + 0.0
        ),
    });
    let points: Vec<String> = points.collect();
    let chosen = chosen.map_or(String::new(), |runs| format!(" Chosen: {runs}."));
    format!(
        "The best cap for every number of runs a knitter has to remember, and how far it is off the old one. {}.{chosen}",
        points.join("; ")
    )
}
