//! The question and the answer: a size, a bust or a measured arm -> the arms of such people.

use super::codes::{
    ARM_OUT_OF_RANGE, BUST_OUT_OF_RANGE, CHART_AND_SURVEY, EXTRAPOLATED, MENS_EQUATION,
    NOT_ASKED_THAT, UNITS_MIXED,
};
use super::curve::Curve;
use super::spread::{Counted, Spread};
use super::table::{Kind, Posture, Row, Table, find, tables};
use crate::diagnostic::Diagnostic;
use crate::measure::{CM_PER_INCH, Length, UPPER_ARM_WIDTH, Units};

/// What a table is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Query {
    /// The table's name, e.g. `woman`; may be empty beside a measured arm.
    pub table: String,
    /// What is known of the person.
    pub key: Key,
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
    /// Whether these arms hang or are tensed; `None` for a measured arm, which may be either.
    pub posture: Option<Posture>,
    /// The chart's armhole depth, from and to.
    pub armhole_depth: Option<(Length, Length)>,
    /// True for the sizes of infants.
    pub infant: bool,
    /// Where the figures are from, with the credit line where one is asked for.
    pub source: String,
    /// How the arms are spread; `None` for a measured arm.
    pub spread: Option<Spread>,
}

impl Arm {
    /// The share (0 to 1) of these people whom a finished upper arm fits with at least this much
    /// ease (negative for a sleeve that stretches); `None` for one measured arm.
    pub fn share_fitting(&self, finished_upper_arm: Length, ease: Length) -> Option<f64> {
        let spread = self.spread.as_ref()?;
        Some(spread.share_below(finished_upper_arm - ease))
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
            posture: None,
            armhole_depth: None,
            infant: false,
            source: "measured on the person".to_owned(),
            spread: None,
        }
    }

    fn spread(table: &Table, label: String, spread: Spread) -> Self {
        Self {
            table: table.id.clone(),
            label,
            mean: spread.mean(),
            sd: Some(spread.sd()),
            low: spread.quantile(0.05),
            high: spread.quantile(0.95),
            posture: table.posture,
            source: cited(table),
            spread: Some(spread),
            ..Self::measured(Length::ZERO)
        }
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
    let answer = find(table).and_then(|table| ask(table, key, &mut said));
    match answer {
        Ok(arm) => (Some(arm), said),
        Err(error) => {
            said.push(*error);
            (None, said)
        }
    }
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

fn ask(table: &Table, key: &Key, said: &mut Vec<Diagnostic>) -> Result<Arm, Box<Diagnostic>> {
    match (table.kind, key) {
        (Kind::Chart, Key::Size(size)) => {
            let row = table.row(size)?;
            let bust = table
                .length(row, "chest")
                .ok_or_else(|| not_that(table, key))?;
            chart(table, row, row.label.clone(), bust, said)
        }
        (Kind::Chart, Key::Bust(bust)) => {
            let [low, high] = table.bust_limits.ok_or_else(|| not_that(table, key))?;
            in_limits(
                *bust,
                table.units.length(low),
                table.units.length(high),
                table,
            )?;
            let row = nearest_row(table, *bust).ok_or_else(|| not_that(table, key))?;
            chart(table, row, bust_label(*bust), *bust, said)
        }
        (Kind::Survey, Key::Bust(bust)) => {
            let curve = table.curve.as_ref().ok_or_else(|| not_that(table, key))?;
            let [low, high] = curve.limits_mm;
            in_limits(
                *bust,
                Length::cm(low / 10.0),
                Length::cm(high / 10.0),
                table,
            )?;
            Ok(survey(table, curve, *bust, said))
        }
        (Kind::Ages, Key::Size(age)) => {
            let row = table.row(age)?;
            let spread = counted(&[(table, row)]).ok_or_else(|| not_that(table, key))?;
            let mut arm = Arm::spread(table, row.label.clone(), spread);
            arm.infant = row.infant;
            Ok(arm)
        }
        _ => Err(not_that(table, key)),
    }
}

/// A chart's size with the spread of the survey behind it.
fn chart(
    table: &Table,
    row: &Row,
    label: String,
    bust: Length,
    said: &mut Vec<Diagnostic>,
) -> Result<Arm, Box<Diagnostic>> {
    let surveys: Vec<&Table> = table.survey.iter().filter_map(|id| find(id).ok()).collect();
    let figure = chart_figure(table, bust);
    let curve = surveys
        .iter()
        .find_map(|survey| Some((*survey, survey.curve.as_ref()?)));
    let (spread, extrapolated) = match curve {
        Some((survey, curve)) => adults(survey, curve, bust, figure, said),
        None => (children(&surveys, row), false),
    };
    let spread = spread.ok_or_else(|| not_that(table, &Key::Bust(bust)))?;
    let mut arm = Arm::spread(table, label, spread);
    arm.chart = figure;
    arm.size = Some(row.label.clone());
    arm.extrapolated = extrapolated;
    arm.armhole_depth = table.edges(row, "armhole_depth");
    arm.infant = row.infant;
    arm.source = surveys.iter().fold(cited(table), |text, survey| {
        format!("{text}; {}", cited(survey))
    });
    said.extend(disagreement(&arm));
    Ok(arm)
}

/// The relaxed arms of adults of a bust. Outside the survey the chart's figure is the centre and
/// only the relative spread is the survey's.
fn adults(
    survey: &Table,
    curve: &Curve,
    bust: Length,
    figure: Option<Length>,
    said: &mut Vec<Diagnostic>,
) -> (Option<Spread>, bool) {
    let Some(relaxed) = tables().iter().find_map(|table| table.relaxed) else {
        return (None, false);
    };
    if survey.id == "ansur2-women" {
        said.push(Diagnostic::new(
            &MENS_EQUATION,
            "the spread is of women's flexed arms, turned into relaxed ones by an equation of men.",
        ));
    }
    let spread = relaxed.of(&curve.at(bust));
    let extrapolated = curve.is_extrapolated(bust);
    if extrapolated {
        said.push(outside_survey(curve, bust));
    }
    match figure {
        Some(figure) if extrapolated => (Some(spread.centred(figure)), true),
        _ => (Some(spread), extrapolated),
    }
}

/// The arms of girls and boys of the size's age, in equal parts.
fn children(surveys: &[&Table], row: &Row) -> Option<Spread> {
    let rows: Vec<(&Table, &Row)> = surveys
        .iter()
        .filter_map(|survey| Some((*survey, survey.row(&row.age).ok()?)))
        .collect();
    counted(&rows)
}

/// The flexed arms of a survey, as measured.
fn survey(table: &Table, curve: &Curve, bust: Length, said: &mut Vec<Diagnostic>) -> Arm {
    let mut arm = Arm::spread(table, bust_label(bust), curve.at(bust));
    arm.extrapolated = curve.is_extrapolated(bust);
    if arm.extrapolated {
        said.push(outside_survey(curve, bust));
    }
    arm
}

/// The published percentiles of rows of tables by age.
fn counted(rows: &[(&Table, &Row)]) -> Option<Spread> {
    let groups: Vec<Counted> = rows
        .iter()
        .filter_map(|(table, row)| group(table, row))
        .collect();
    (!groups.is_empty()).then_some(Spread::Counted(groups))
}

fn group(table: &Table, row: &Row) -> Option<Counted> {
    let points: Vec<(f64, f64)> = table
        .columns
        .iter()
        .filter_map(|column| {
            let percent: f64 = column.id.strip_prefix('p')?.parse().ok()?;
            Some((percent / 100.0, table.length(row, &column.id)?.to_cm()))
        })
        .collect();
    (points.len() > 1).then_some(Counted {
        mean_cm: table.length(row, "mean")?.to_cm(),
        sd_cm: table.length(row, "sd")?.to_cm(),
        points,
    })
}

/// The chart's arm for a bust: straight lines between the middles of its sizes, which past the
/// first and last size go on.
fn chart_figure(table: &Table, bust: Length) -> Option<Length> {
    let points: Vec<(Length, Length)> = table
        .rows
        .iter()
        .filter_map(|row| Some((table.length(row, "chest")?, table.length(row, "upper_arm")?)))
        .collect();
    let last = points.len().checked_sub(1)?;
    let piece = points
        .partition_point(|(chest, _)| *chest < bust)
        .clamp(1, last.max(1));
    let (x0, y0) = *points.get(piece - 1)?;
    let (x1, y1) = *points.get(piece)?;
    Some(y0 + (y1 - y0) * ((bust - x0) / (x1 - x0)))
}

/// The size whose chest is nearest, the smaller of two equally near.
fn nearest_row(table: &Table, bust: Length) -> Option<&Row> {
    let away = |row: &Row| {
        table
            .length(row, "chest")
            .map(|chest| (chest - bust).abs().to_cm())
    };
    table
        .rows
        .iter()
        .filter_map(|row| Some((away(row)?, row)))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, row)| row)
}

fn in_limits(
    bust: Length,
    low: Length,
    high: Length,
    table: &Table,
) -> Result<(), Box<Diagnostic>> {
    let inside = |length: Length| length >= low && length <= high;
    if inside(bust) {
        return Ok(());
    }
    let range = format!("{} to {}", both(low), both(high));
    let number = bust.to_cm();
    let hint = if inside(Length::inches(number)) {
        Some((number, "in", "cm"))
    } else if inside(Length::cm(number / CM_PER_INCH)) {
        Some((number / CM_PER_INCH, "cm", "in"))
    } else {
        None
    };
    Err(Box::new(match hint {
        Some((number, meant, written)) => Diagnostic::new(
            &UNITS_MIXED,
            format!(
                "a bust of {number:.1} {written} is outside the table '{}' ({range}), but {number:.1} {meant} is inside.",
                table.id
            ),
        )
        .next(format!("If it was measured so, write '{number:.1} {meant}'.")),
        None => Diagnostic::new(
            &BUST_OUT_OF_RANGE,
            format!("a bust of {} is too far outside the table '{}', which answers {range}.", both(bust), table.id),
        ),
    }))
}

fn outside_survey(curve: &Curve, bust: Length) -> Diagnostic {
    let [low, high] = curve.usable_mm.map(|mm| Length::cm(mm / 10.0));
    Diagnostic::new(
        &EXTRAPOLATED,
        format!(
            "a bust of {} is outside the survey's usable range, {} to {}: the spread is extrapolated.",
            both(bust),
            both(low),
            both(high)
        ),
    )
}

fn disagreement(arm: &Arm) -> Option<Diagnostic> {
    let figure = arm.chart?;
    let apart = (figure - arm.mean) / arm.mean;
    (apart.abs() > 0.1).then(|| {
        Diagnostic::new(
            &CHART_AND_SURVEY,
            format!(
                "for {} the chart gives an upper arm of {}, the survey's mean is {}.",
                arm.label,
                both(figure),
                both(arm.mean)
            ),
        )
        .for_size(arm.size.clone().unwrap_or_default())
    })
}

fn not_that(table: &Table, key: &Key) -> Box<Diagnostic> {
    let asked = match key {
        Key::Size(size) => format!("the size '{}'", size.trim()),
        Key::Bust(bust) => format!("a bust of {}", both(*bust)),
        Key::UpperArm(girth) => format!("an upper arm of {}", both(*girth)),
    };
    let answers = match table.kind {
        Kind::Chart => "a size or a bust",
        Kind::Survey if table.curve.is_some() => "a bust",
        Kind::Ages => "an age",
        Kind::Survey | Kind::Bands => "nothing: it is for reading",
    };
    Box::new(Diagnostic::new(
        &NOT_ASKED_THAT,
        format!(
            "the table '{}' cannot be asked for {asked}; it answers {answers}.",
            table.id
        ),
    ))
}

fn bust_label(bust: Length) -> String {
    format!("bust {}", both(bust))
}

/// A length in both units, for messages that must not be misread.
pub(super) fn both(length: Length) -> String {
    format!("{} ({})", Units::Cm.show(length), Units::In.show(length))
}

/// The edition, with the credit line where one is asked for.
fn cited(table: &Table) -> String {
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
        assert_eq!(said[0].advice(), "If it was measured so, write '38.0 in'.");
        let (_, said) = look_up("woman", &Key::Bust(Length::inches(96.0)));
        assert_eq!(said[0].code.id, "body-units-mixed");
        let (_, said) = look_up("woman", &Key::Bust(Length::cm(10.0)));
        assert_eq!(said[0].code.id, "body-bust-out-of-range");
    }
}
