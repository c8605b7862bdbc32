//! The upper arms of people: their mean, their spread, the share a sleeve fits.

use super::curve::{Curve, Regression};
use super::spread::ArmSpread;
use super::table::{BodyTable, ChestBand, Posture, find};
use crate::measure::{Length, Units, whole};

/// The upper arms of the people asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Arm {
    /// The table that answered; empty for a measured arm.
    pub table: String,
    /// What was asked, as the table calls it: `M`, `bust 94.0 cm`, `measured`.
    pub label: String,
    /// The mean arm, or the measured one.
    pub mean: Length,
    /// Deviation from one person to the next; `None` for a measured arm.
    pub sd: Option<Length>,
    /// One person in twenty has a thinner arm.
    pub low: Length,
    /// One person in twenty has a thicker arm.
    pub high: Length,
    /// The chart's own figure. Between two sizes it is interpolated.
    pub chart: Option<Length>,
    /// The size of the chart that was asked for or whose chest is nearest.
    pub size: Option<String>,
    /// True outside the survey's usable range.
    pub extrapolated: bool,
    /// What was counted at this bust, for a survey's own (flexed) arms.
    pub counted: Option<ChestBand>,
    /// Whether these arms hang or are tensed; `None` for a measured arm, which may be either.
    pub posture: Option<Posture>,
    /// The chart's armhole depth, from and to.
    pub armhole_depth: Option<(Length, Length)>,
    /// True for the sizes of infants.
    pub infant: bool,
    /// Where the figures are from, with the credit line where one is asked for.
    pub source: String,
    /// Who was measured, in a few words; empty for a measured arm.
    pub people: String,
    /// How the arms are spread; `None` for a measured arm.
    pub spread: Option<ArmSpread>,
    /// The same people's relaxed arms at the armpit, where the sleeve's upper arm lies; `None` where no
    /// survey has it.
    pub armpit: Option<ArmSpread>,
    /// The ease that was chosen, finished sleeve less arm (negative for a sleeve that stretches).
    pub ease: Option<Length>,
}

/// The share of people whose arm lies between two girths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmBin {
    /// The thinner one.
    pub from: Length,
    /// The thicker one.
    pub to: Length,
    /// 0 to 1.
    pub share: f64,
}

/// Bins beyond this many are not made.
const MOST_BINS: u32 = 400;

impl Arm {
    /// The share (0 to 1) of these people whom a finished upper arm fits with at least this much
    /// ease (negative for a sleeve that stretches); `None` for one measured arm.
    pub fn share_fitting(&self, finished_upper_arm: Length, ease: Length) -> Option<f64> {
        let spread = self.spread.as_ref()?;
        Some(spread.share_below(finished_upper_arm - ease))
    }

    /// The share (0 to 1) of these people whose arm at the armpit goes into a finished upper arm with at
    /// least this much ease; `None` where no survey has that girth.
    pub fn share_at_armpit(&self, finished_upper_arm: Length, ease: Length) -> Option<f64> {
        let spread = self.armpit.as_ref()?;
        Some(spread.share_below(finished_upper_arm - ease))
    }

    /// The arms in bins of this width that begin at whole multiples of it, from the thinnest arm
    /// in a thousand to the thickest; empty for a measured arm.
    pub fn bins(&self, width: Length) -> Vec<ArmBin> {
        let Some(spread) = self.spread.as_ref().filter(|_| width.is_positive()) else {
            return Vec::new();
        };
        let first = whole(spread.quantile(0.001) / width);
        let last = whole(spread.quantile(0.999) / width).min(first + MOST_BINS);
        let edge = |n: u32| width * f64::from(n);
        let bins = (first..=last).map(|n| ArmBin {
            from: edge(n),
            to: edge(n + 1),
            share: spread.share_below(edge(n + 1)) - spread.share_below(edge(n)),
        });
        bins.collect()
    }

    /// The one figure to draft to: the measured arm, else the chart's, else the mean.
    pub fn typical(&self) -> Length {
        self.chart.unwrap_or(self.mean)
    }

    /// True for an arm that was measured on the person.
    pub const fn is_measured(&self) -> bool {
        self.spread.is_none()
    }

    pub(super) fn measured(girth: Length) -> Self {
        Self {
            table: String::new(),
            label: "measured".to_owned(),
            mean: girth,
            sd: None,
            low: girth,
            high: girth,
            chart: None,
            size: None,
            extrapolated: false,
            counted: None,
            posture: None,
            armhole_depth: None,
            infant: false,
            source: "measured on the person".to_owned(),
            people: String::new(),
            spread: None,
            armpit: None,
            ease: None,
        }
    }

    /// The flexed arms of a survey, as measured.
    pub(crate) fn of_curve(table: &BodyTable, curve: &Curve, bust: Length) -> Self {
        Self {
            extrapolated: curve.is_extrapolated(bust),
            counted: table.bands.iter().find(|band| band.holds(bust)).copied(),
            armpit: at_the_armpit(table, &curve.at(bust)),
            ..Self::spread(table, girth_label(table, bust), curve.at(bust))
        }
    }

    pub(super) fn spread(table: &BodyTable, label: String, spread: ArmSpread) -> Self {
        Self {
            table: table.id.clone(),
            label,
            mean: spread.mean(),
            sd: Some(spread.sd()),
            low: spread.quantile(0.05),
            high: spread.quantile(0.95),
            posture: table.posture,
            source: cited(table),
            people: table.people.clone(),
            spread: Some(spread),
            ..Self::measured(Length::ZERO)
        }
    }
}

/// The arms at the armpit of people whose flexed biceps are spread so, by the survey that has both.
///
/// The surveys give mean and deviation of both girths (their published 5th, 50th and 95th percentiles
/// agree with that to 1 mm, which a test holds), so the one is turned into the other rank by rank.
pub(super) fn at_the_armpit(survey: &BodyTable, flexed: &ArmSpread) -> Option<ArmSpread> {
    let both = find(survey.armpit_survey.as_ref()?).ok()?;
    let of = |measure: &str| {
        let row = both.row(measure).ok()?;
        Some((both.length(row, "mean")?, both.length(row, "sd")?))
    };
    let people = both.row("axillary arm circumference").ok()?;
    let n = both.cell(people, "n")?.middle()?;
    let biceps = of("biceps circumference, flexed")?;
    let armpit = of("axillary arm circumference")?;
    Some(Regression::of_equal_rank(biceps, armpit, whole(n)).of(flexed))
}

/// A share of people (0 to 1) as finely as a survey knows it: a few hundred people of one bust leave
/// it 5 to 10 in 100 either way.
pub fn share_in_words(share: f64) -> &'static str {
    match share {
        p if p < 0.05 => "under 5 in 100",
        p if p < 0.15 => "about 1 in 10",
        p if p < 0.30 => "about a quarter",
        p if p < 0.40 => "about a third",
        p if p < 0.60 => "about half",
        p if p < 0.70 => "about two thirds",
        p if p < 0.85 => "about three quarters",
        p if p <= 0.95 => "about 9 in 10",
        _ => "over 95 in 100",
    }
}

/// The same for a narrow column: people in 100.
pub fn share_in_short(share: f64) -> &'static str {
    match share_in_words(share) {
        "under 5 in 100" => "<5",
        "about 1 in 10" => "10",
        "about a quarter" => "25",
        "about a third" => "33",
        "about half" => "50",
        "about two thirds" => "67",
        "about three quarters" => "75",
        "about 9 in 10" => "90",
        _ => ">95",
    }
}

/// `bust 91.4 cm (36.0 in)`.
pub(super) fn girth_label(table: &BodyTable, girth: Length) -> String {
    format!("{} {}", table.girth.word(), both(girth))
}

/// A length in both units, for messages that must not be misread.
pub(super) fn both(length: Length) -> String {
    format!("{} ({})", Units::Cm.show(length), Units::In.show(length))
}

/// The edition, with the credit line where one is asked for.
pub(super) fn cited(table: &BodyTable) -> String {
    if table.credit.is_empty() {
        table.edition.clone()
    } else {
        format!("{} ({})", table.edition, table.credit)
    }
}
