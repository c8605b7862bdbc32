//! What the figures of one size are drawn from, and the words they share.

use super::sheet::About;
use crate::case::Case;
use crate::convert::{Conversion, SizeConversion, Written};
use crate::report::flat::flat_name;

/// What the left and the right side of a figure are: the left sleeve seen from outside.
pub(super) const SIDES: (&str, &str) = ("front", "back");

/// What the figures of one size are drawn from.
pub(super) struct Of<'a> {
    pub(super) case: &'a Case,
    pub(super) size: &'a SizeConversion,
    /// The size's place in the conversion, from 1.
    pub(super) place: usize,
}

impl<'a> Of<'a> {
    pub(super) fn new(case: &'a Case, conversion: &'a Conversion, at: usize) -> Option<Self> {
        Some(Self {
            case,
            size: conversion.sizes.get(at)?,
            place: at + 1,
        })
    }

    pub(super) fn about(
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
    pub(super) fn written(&self) -> Option<&'a Written> {
        self.size.written.first()
    }

    /// For figures where it matters which side is the front.
    pub(super) fn about_one_sleeve(
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

    pub(super) fn old_words(&self) -> String {
        let (units, cap) = (self.case.units, &self.size.old.cap);
        format!(
            "{}: {} deep, {}",
            flat_name(&self.size.old),
            units.show(cap.depth()),
            units.show_area(cap.area_cm2())
        )
    }

    pub(super) fn new_words(&self) -> String {
        let (units, m) = (self.case.units, &self.size.fit.measures);
        format!(
            "new cap: {} deep, {}",
            units.show(m.depth),
            units.show_area(m.area_cm2)
        )
    }
}
