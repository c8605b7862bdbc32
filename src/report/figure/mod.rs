//! Figures as SVG: people look before they read.
//!
//! Every figure stands for itself (its ids begin with its own name, nothing leaks into the page it is
//! set in), is legible in black and white, and says its numbers in its description.

mod arm;
mod armhole;
mod depth_width;
mod ease;
mod fabric;
mod four_sleeves;
mod letters;
mod outline;
mod overlay;
mod scale;
mod schematic;
mod sheet;
mod size_set;
mod svg;
mod swatch;
mod trade;

use super::document::flat_name;
use crate::case::Case;
use crate::convert::drift::DriftLesson;
use crate::convert::{Conversion, SizeConversion, Written};
use sheet::About;

/// A figure, ready to be written to a file or set into a page.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What kind it is: `overlay`, `armhole`, ...
    pub name: &'static str,
    /// Name and size, unique on a page: `overlay-1`. All ids in the SVG begin with it.
    pub id: String,
    /// One line: what is shown, the case's title, the size.
    pub title: String,
    /// What is seen, in words, with the numbers.
    pub description: String,
    /// The SVG element, without an XML declaration.
    pub svg: String,
    /// Width in user units.
    pub width: f64,
    /// Height in user units.
    pub height: f64,
    /// User units for one centimetre of fabric, for a figure drawn true to scale.
    pub units_per_cm: Option<f64>,
}

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
    figures
}

/// The figures of the size set; none where there is one size.
pub fn set_figures(case: &Case, conversion: &Conversion) -> Vec<Figure> {
    size_set::size_set(case, conversion).into_iter().collect()
}

/// The figures of the lesson on drift.
pub fn drift_figures(case: &Case, lesson: &DriftLesson) -> Vec<Figure> {
    let sleeves = lesson.sizes.iter().enumerate();
    let sleeves = sleeves.map(|(i, size)| four_sleeves::four_sleeves(case, lesson, size, i + 1));
    std::iter::once(swatch::swatch(case, lesson))
        .chain(sleeves)
        .collect()
}

/// What the left and the right side of a figure are: the left sleeve seen from outside.
const SIDES: (&str, &str) = ("front", "back");

/// What the figures of one size are drawn from.
struct Of<'a> {
    case: &'a Case,
    size: &'a SizeConversion,
    /// The size's place in the conversion, from 1.
    place: usize,
}

impl<'a> Of<'a> {
    fn new(case: &'a Case, conversion: &'a Conversion, at: usize) -> Option<Self> {
        Some(Self {
            case,
            size: conversion.sizes.get(at)?,
            place: at + 1,
        })
    }

    fn about(
        &self,
        name: &'static str,
        heading: &'static str,
        description: String,
        units_per_cm: Option<f64>,
    ) -> About {
        About {
            name,
            place: self.place.to_string(),
            heading,
            subject: format!("{}, {}", self.case.title, self.size.old.size),
            description,
            units_per_cm,
        }
    }

    /// The text the figures follow: the one for both sleeves, or for the left one.
    fn written(&self) -> Option<&'a Written> {
        self.size.written.first()
    }

    /// For figures where it matters which side is the front.
    fn about_one_sleeve(
        &self,
        name: &'static str,
        heading: &'static str,
        description: String,
        units_per_cm: Option<f64>,
    ) -> About {
        let mut about = self.about(name, heading, description, units_per_cm);
        if self.size.written.len() > 1 {
            about.subject.push_str(", left sleeve");
            about
                .description
                .push_str(" This is the left sleeve; the right one is its mirror image.");
        }
        about
    }

    fn old_words(&self) -> String {
        let (units, cap) = (self.case.units, &self.size.old.cap);
        format!(
            "{}: {} deep, {}",
            flat_name(&self.size.old),
            units.show(cap.depth()),
            units.show_area(cap.area_cm2())
        )
    }

    fn new_words(&self) -> String {
        let (units, m) = (self.case.units, &self.size.fit.measures);
        format!(
            "new cap: {} deep, {}",
            units.show(m.depth),
            units.show_area(m.area_cm2)
        )
    }
}
