//! Figures as SVG: people look before they read.
//!
//! Every figure stands for itself (its ids begin with its own name, nothing leaks into the page it is
//! set in), is legible in black and white, and says its numbers in its description.

mod letters;
mod outline;
mod overlay;
mod scale;
mod sheet;
mod svg;

use crate::case::Case;
use crate::convert::drift::DriftLesson;
use crate::convert::{Conversion, SizeConversion};
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
    vec![overlay::overlay(&of)]
}

/// The figures of the size set; none where there is one size.
pub fn set_figures(case: &Case, conversion: &Conversion) -> Vec<Figure> {
    let _ = (case, conversion);
    Vec::new()
}

/// The figures of the lesson on drift.
pub fn drift_figures(case: &Case, lesson: &DriftLesson) -> Vec<Figure> {
    let _ = (case, lesson);
    Vec::new()
}

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

    fn old_words(&self) -> String {
        let (units, cap) = (self.case.units, &self.size.old.cap);
        format!(
            "old cap: {} deep, {}",
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

    fn overlay_words(&self) -> String {
        let (units, size) = (self.case.units, self.size);
        format!(
            "Outlines of both caps over one another, true to scale, tops level. The {}; upper arm {}. The {}; upper arm {}.",
            self.old_words(),
            units.show(size.old.cap.upper_arm()),
            self.new_words(),
            units.show(size.fit.measures.upper_arm)
        )
    }
}
