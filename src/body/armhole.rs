//! What a survey holds that comes near a knitter's armhole depth.
//!
//! No survey measures the depth of an armhole as a chart does, and none the depth of a cap. The
//! nearest are the scye depth and half the scye girth. The drop from shoulder point to armpit is
//! about half of an armhole depth and is never used here.

use statrs::distribution::{ContinuousCDF, Normal};

use super::table::{BodyTable, TableRow, find};
use crate::measure::Length;

/// A measure of people's armholes, spread from one person to the next (taken as normal).
#[derive(Clone, Debug, PartialEq)]
pub struct Counterpart {
    /// What was measured.
    pub what: &'static str,
    /// The mean.
    pub mean: Length,
    /// Deviation from one person to the next.
    pub sd: Length,
    /// False when it is of everybody in the survey, whatever their bust.
    pub of_this_bust: bool,
    /// True for half a girth round the armhole, false for a depth.
    pub of_girth: bool,
    /// Who was measured, in a few words.
    pub people: String,
    /// Where it is from.
    pub source: String,
}

impl Counterpart {
    /// The share (0 to 1) of people whom an armhole of this depth clears by at least this ease.
    pub fn share_fitting(&self, armhole_depth: Length, ease: Length) -> f64 {
        let z = (armhole_depth - ease - self.mean) / self.sd;
        Normal::standard().cdf(z)
    }

    /// One person in twenty has less, one in twenty more.
    pub fn range(&self) -> (Length, Length) {
        let away = self.sd * Normal::standard().inverse_cdf(0.95);
        (self.mean - away, self.mean + away)
    }
}

/// The counterparts of a chart's armhole depth, of people of this bust where the survey can say
/// so; empty for a table that has none (children's charts).
pub fn armhole_counterparts(table: &str, bust: Length) -> Vec<Counterpart> {
    let Ok(table) = find(table) else {
        return Vec::new();
    };
    let surveys = table.armhole_survey.iter().filter_map(|id| find(id).ok());
    surveys
        .flat_map(|survey| {
            let half = named(survey, "scye circumference", "half the scye girth", 0.5);
            let depth = named(survey, "scye depth", "scye depth", 1.0);
            [half, depth, over_shoulder(survey, bust)]
        })
        .flatten()
        .collect()
}

fn named(survey: &BodyTable, measure: &str, what: &'static str, times: f64) -> Option<Counterpart> {
    let row: &TableRow = survey.row(measure).ok()?;
    Some(Counterpart {
        what,
        mean: survey.length(row, "mean")? * times,
        sd: survey.length(row, "sd")? * times,
        of_this_bust: false,
        of_girth: times < 1.0,
        people: survey.people.clone(),
        source: survey.edition.clone(),
    })
}

/// Half the girth over the shoulder point, of men of this chest; only for chests that were seen.
fn over_shoulder(survey: &BodyTable, bust: Length) -> Option<Counterpart> {
    let line = survey.scye?;
    let row = survey.row("chest_circ").ok()?;
    let seen = survey.length(row, "min")?..=survey.length(row, "max")?;
    seen.contains(&bust).then(|| Counterpart {
        what: "half the scye girth over the shoulder point",
        mean: line.at(bust) * 0.5,
        sd: Length::cm(line.residual_sd_mm / 10.0) * 0.5,
        of_this_bust: true,
        of_girth: true,
        people: survey.people.clone(),
        source: survey.edition.clone(),
    })
}
