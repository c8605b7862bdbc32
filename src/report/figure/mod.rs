//! Figures as SVG: people look before they read.
//!
//! Every figure stands for itself (its ids begin with its own name, nothing leaks into the page it is
//! set in), is legible in black and white, and says its numbers in its description.

mod arm;
mod armhole;
mod chart;
mod chart_grid;
mod chart_repeat;
mod chart_tube;
mod depth_width;
mod ease;
mod fabric;
mod letters;
mod of;
mod outline;
mod overlay;
mod planned_sleeves;
mod scale;
mod schematic;
mod sheet;
mod size_set;
mod svg;
mod swatch;
mod symbols;
mod trade;

use crate::case::Case;
use crate::convert::Conversion;
use crate::convert::drift::DriftLesson;
use of::{Of, SIDES};
pub use sheet::Figure;

/// The figures of one size; `size` is its place in `conversion.sizes`. None for a size that is not
/// there.
pub fn size_figures(case: &Case, conversion: &Conversion, size: usize) -> Vec<Figure> {
    let Some(of) = Of::new(case, conversion, size) else {
        return Vec::new();
    };
    let mut figures = vec![
        overlay::overlay(&of),
        fabric::fabric_map(&of),
        armhole::armhole(&of),
        ease::ease_strip(&of),
        depth_width::depth_width(&of),
        trade::trade(&of),
        schematic::schematic(&of),
    ];
    figures.extend(arm::arm(&of));
    figures.extend(chart::charts(&of));
    figures
}

/// The figures of the size set; none where there is one size.
pub fn set_figures(case: &Case, conversion: &Conversion) -> Vec<Figure> {
    size_set::size_set(case, conversion).into_iter().collect()
}

/// The figures of the lesson on drift.
pub fn drift_figures(case: &Case, lesson: &DriftLesson) -> Vec<Figure> {
    let sleeves = lesson.sizes.iter().enumerate();
    let sleeves =
        sleeves.map(|(i, size)| planned_sleeves::planned_sleeves(case, lesson, size, i + 1));
    std::iter::once(swatch::swatch(case, lesson))
        .chain(sleeves)
        .collect()
}
