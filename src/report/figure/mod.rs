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
#[cfg(any(feature = "cli", feature = "desk"))]
use crate::diagnostic::nearest;
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
    told_apart(figures)
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
    told_apart(
        std::iter::once(swatch::swatch(case, lesson))
            .chain(sleeves)
            .collect(),
    )
}

/// The second figure of a kind and those after it have their number in their name.
fn told_apart(mut figures: Vec<Figure>) -> Vec<Figure> {
    let kinds: Vec<&str> = figures.iter().map(|figure| figure.kind).collect();
    for (at, figure) in figures.iter_mut().enumerate() {
        let before = kinds.iter().take(at);
        let before = before.filter(|kind| **kind == figure.kind).count();
        if before > 0 {
            figure.name = format!("{}-{}", figure.kind, before + 1);
        }
    }
    figures
}

/// The SVG of the figure of this name, as a file.
///
/// # Errors
/// A sentence with the names there are.
#[cfg(any(feature = "cli", feature = "desk"))]
pub(crate) fn picture(figures: Vec<Figure>, name: &str) -> Result<String, String> {
    let names: Vec<String> = figures.iter().map(|figure| figure.name.clone()).collect();
    let found = figures.into_iter().find(|figure| figure.name == name);
    found.map(|figure| figure.svg + "\n").ok_or_else(|| {
        let hint = nearest(name, names.iter().map(String::as_str))
            .map(|near| format!(" Did you mean {near}?"))
            .unwrap_or_default();
        format!(
            "There is no picture '{name}' here; there are {}.{hint}",
            names.join(", ")
        )
    })
}
