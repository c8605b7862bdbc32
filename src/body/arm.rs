//! The question and the answer: a size, a bust or a measured arm -> the arms of such people.

use super::ask::ask;
use super::codes::{ARM_ODD_FOR_BUST, ARM_OUT_OF_RANGE, ARM_WIDER_THAN_BUST, TABLE_MISSING};
use super::curve::{Curve, Line};
use super::spread::Spread;
use super::table::{Band, Kind, Posture, Table, find, tables};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, UPPER_ARM_WIDTH, Units, whole};

/// The arm as a share of the bust: the flexed arms of ANSUR II run from 0.258 to 0.423 of the
/// chest, the charts' from 0.29 to 0.375; a little is left on each side.
const ARM_SHARE_OF_BUST: [f64; 2] = [0.2, 0.5];

/// What a table is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Query {
    /// The table's name, e.g. `woman`; may be empty beside a measured arm.
    pub table: String,
    /// What is known of the person.
    pub key: Key,
}

impl Query {
    /// The answer: see [`look_up`].
    pub fn look_up(&self) -> (Option<Arm>, Vec<Diagnostic>) {
        look_up(&self.table, &self.key)
    }
}

/// What is known of the person.
#[derive(Clone, Debug, PartialEq)]
pub enum Key {
    /// A size of a chart, or an age of a table by age.
    Size(String),
    /// Bust or chest girth.
    Bust(Length),
    /// The upper arm as measured on the person. It beats any table.
    UpperArm(Length),
}

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
    pub counted: Option<Band>,
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
    pub spread: Option<Spread>,
    /// The same people's relaxed arms at the armpit, where the sleeve's upper arm lies; `None` where no
    /// survey has it.
    pub armpit: Option<Spread>,
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

    fn measured(girth: Length) -> Self {
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
    pub(super) fn of_curve(table: &Table, curve: &Curve, bust: Length) -> Self {
        Self {
            extrapolated: curve.is_extrapolated(bust),
            counted: table.bands.iter().find(|band| band.holds(bust)).copied(),
            armpit: at_the_armpit(table, &curve.at(bust)),
            ..Self::spread(table, bust_label(bust), curve.at(bust))
        }
    }

    pub(super) fn spread(table: &Table, label: String, spread: Spread) -> Self {
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
pub(super) fn at_the_armpit(survey: &Table, flexed: &Spread) -> Option<Spread> {
    let both = find(survey.armpit_survey.as_ref()?).ok()?;
    let of = |measure: &str| {
        let row = both.row(measure).ok()?;
        Some((both.length(row, "mean")?, both.length(row, "sd")?))
    };
    let people = both.row("axillary arm circumference").ok()?;
    let n = both.cell(people, "n")?.middle()?;
    let biceps = of("biceps circumference, flexed")?;
    let armpit = of("axillary arm circumference")?;
    Some(Line::of_equal_rank(biceps, armpit, whole(n)).of(flexed))
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

/// The arms of the people asked for, and everything there is to say about the question.
///
/// No arm comes back when the question cannot be answered; the diagnostics then say why.
pub fn look_up(table: &str, key: &Key) -> (Option<Arm>, Vec<Diagnostic>) {
    let mut said = Vec::new();
    if let Key::UpperArm(girth) = key {
        if !table.trim().is_empty() {
            said.extend(find(table).err().map(|error| *error));
        }
        return (measured(*girth, &mut said), said);
    }
    if table.trim().is_empty() {
        return (None, vec![table_missing(key)]);
    }
    let answer = find(table).and_then(|table| ask(table, key, &mut said));
    match answer {
        Ok(arm) => (Some(arm), said),
        Err(error) => {
            said.push(*error);
            (None, said)
        }
    }
}

/// Bust or chest of the people asked for, where the question or the table says it.
pub fn bust_of(table: &str, key: &Key) -> Option<Length> {
    match key {
        Key::Bust(bust) => Some(*bust),
        Key::Size(size) => {
            let table = find(table).ok()?;
            table.length(table.row(size).ok()?, "chest")
        }
        Key::UpperArm(_) => None,
    }
}

fn table_missing(key: &Key) -> Diagnostic {
    let (what, answers): (String, fn(&Table) -> bool) = match key {
        Key::Size(size) => (format!("The size '{}'", size.trim()), |table| {
            matches!(table.kind, Kind::Chart | Kind::Ages)
        }),
        Key::Bust(bust) => (format!("A bust of {}", both(*bust)), |table| {
            table.bust_limits.is_some() || table.curve.is_some()
        }),
        Key::UpperArm(girth) => (format!("An upper arm of {}", both(*girth)), |_| true),
    };
    let ids = tables().iter().filter(|table| answers(table));
    let ids: Vec<&str> = ids.map(|table| table.id.as_str()).collect();
    let message = format!(
        "{what} is given without a table; it could be looked up in {}.",
        ids.join(", ")
    );
    Diagnostic::new(&TABLE_MISSING, message)
}

fn measured(girth: Length, said: &mut Vec<Diagnostic>) -> Option<Arm> {
    if UPPER_ARM_WIDTH.check(girth.to_cm()).is_ok() {
        return Some(Arm::measured(girth));
    }
    let allowed = UPPER_ARM_WIDTH.allowed();
    let message = format!(
        "the measured upper arm of {} is outside {allowed}.",
        both(girth)
    );
    said.push(Diagnostic::new(&ARM_OUT_OF_RANGE, message));
    None
}

/// Says whether an upper arm and a bust can be one person's.
pub fn arm_and_bust(upper_arm: Length, bust: Length) -> Vec<Diagnostic> {
    let share = upper_arm / bust;
    let measures = format!(
        "an upper arm of {} with a bust of {}",
        both(upper_arm),
        both(bust)
    );
    if share >= 1.0 {
        let message = format!("{measures}: the arm is wider than the bust.");
        vec![Diagnostic::new(&ARM_WIDER_THAN_BUST, message)]
    } else if (ARM_SHARE_OF_BUST[0]..=ARM_SHARE_OF_BUST[1]).contains(&share) {
        Vec::new()
    } else {
        let [least, most] = ARM_SHARE_OF_BUST.map(|share| share * 100.0);
        let percent = share * 100.0;
        let message = format!(
            "{measures}: the arm is {percent:.0} % of the bust, expected {least:.0} to {most:.0} %."
        );
        vec![Diagnostic::new(&ARM_ODD_FOR_BUST, message)]
    }
}

pub(super) fn bust_label(bust: Length) -> String {
    format!("bust {}", both(bust))
}

/// A length in both units, for messages that must not be misread.
pub(super) fn both(length: Length) -> String {
    format!("{} ({})", Units::Cm.show(length), Units::In.show(length))
}

/// The edition, with the credit line where one is asked for.
pub(super) fn cited(table: &Table) -> String {
    if table.credit.is_empty() {
        table.edition.clone()
    } else {
        format!("{} ({})", table.edition, table.credit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arm(table: &str, key: &Key) -> Arm {
        look_up(table, key).0.unwrap()
    }

    #[test]
    fn a_measured_arm_beats_any_table() {
        let (found, said) = look_up("woman", &Key::UpperArm(Length::cm(41.0)));
        let found = found.unwrap();
        assert!(found.is_measured() && said.is_empty());
        assert_eq!(
            (found.mean, found.low, found.high),
            (Length::cm(41.0), Length::cm(41.0), Length::cm(41.0))
        );
        assert_eq!(found.share_fitting(Length::cm(45.0), Length::ZERO), None);
        let (found, said) = look_up("womn", &Key::UpperArm(Length::cm(4.0)));
        assert!(found.is_none());
        let ids: Vec<&str> = said.iter().map(|d| d.code.id).collect();
        assert_eq!(ids, ["body-table-unknown", "body-arm-out-of-range"]);
    }

    #[test]
    fn a_size_and_the_bust_in_its_middle_are_the_same_people() {
        let size = arm("woman", &Key::Size("M".to_owned()));
        let bust = arm("woman", &Key::Bust(Length::inches(37.0)));
        assert_eq!(size.spread, bust.spread);
        assert_eq!(size.chart, Some(Length::inches(11.0)));
        assert_eq!(bust.chart, size.chart);
        assert_eq!(bust.size.as_deref(), Some("M"));
    }

    #[test]
    fn a_number_in_the_other_unit_is_not_converted_in_silence() {
        let (found, said) = look_up("woman", &Key::Bust(Length::cm(38.0)));
        assert!(found.is_none());
        assert_eq!(said[0].code.id, "body-units-mixed");
        assert_eq!(
            said[0].advice(),
            "If 38.0 in was meant, write the unit beside the number."
        );
        let (_, said) = look_up("woman", &Key::Bust(Length::inches(96.0)));
        assert_eq!(said[0].code.id, "body-units-mixed");
        let (_, said) = look_up("woman", &Key::Bust(Length::cm(10.0)));
        assert_eq!(said[0].code.id, "body-bust-out-of-range");
    }

    #[test]
    fn bins_hold_the_arms_between_their_girths() {
        let arm = arm("woman", &Key::Bust(Length::cm(94.0)));
        let bins = arm.bins(Length::cm(1.0));
        let all: f64 = bins.iter().map(|bin| bin.share).sum();
        assert!((0.998..=1.0).contains(&all), "{all}");
        for bin in &bins {
            let below = |girth| arm.share_fitting(girth, Length::ZERO).unwrap();
            let between = below(bin.to) - below(bin.from);
            approx::assert_abs_diff_eq!(bin.share, between, epsilon = 1e-12);
            approx::assert_abs_diff_eq!(bin.from.to_cm().fract(), 0.0, epsilon = 1e-9);
        }
        assert!(arm.bins(Length::ZERO).is_empty());
    }
}
