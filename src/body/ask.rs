//! How each kind of table answers.

use super::arm::{Arm, at_the_armpit, both, cited, girth_label};
use super::codes::{
    BUST_OUT_OF_RANGE, CHART_AND_SURVEY, EXTRAPOLATED, MENS_EQUATION, NOT_ASKED_THAT, UNITS_MIXED,
};
use super::curve::Curve;
use super::parse::{Key, age_band};
use super::spread::{ArmSpread, GroupFigures};
use super::table::{BodyTable, TableKind, TableRow, find};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Units};

/// Above the usable range the centre passes from survey to chart over two of the survey's 4 cm
/// bands, so that a hair's breadth of bust makes no jump (common practice, no source).
const PASSING_OVER: Length = Length::cm(8.0);

/// The arms of the people asked for; notes and warnings are added to what is said.
pub(super) fn ask(
    table: &BodyTable,
    key: &Key,
    said: &mut Vec<Diagnostic>,
) -> Result<Arm, Box<Diagnostic>> {
    match (table.kind, key) {
        (TableKind::Chart, Key::Size(size)) => {
            let row = table.row(size)?;
            let bust = table
                .length(row, "chest")
                .ok_or_else(|| not_that(table, key))?;
            chart(table, row, row.label.clone(), bust, said)
        }
        (TableKind::Chart, Key::Bust(bust)) => {
            let [low, high] = table.bust_limits.ok_or_else(|| not_that(table, key))?;
            in_limits(
                *bust,
                table.units.length(low),
                table.units.length(high),
                table,
            )?;
            let row = nearest_row(table, *bust).ok_or_else(|| not_that(table, key))?;
            chart(table, row, girth_label(table, *bust), *bust, said)
        }
        (TableKind::Survey, Key::Bust(bust)) => {
            let curve = table.curve.as_ref().ok_or_else(|| not_that(table, key))?;
            let [low, high] = curve.limits_mm;
            in_limits(
                *bust,
                Length::cm(low / 10.0),
                Length::cm(high / 10.0),
                table,
            )?;
            said.extend(outside_survey(table, curve, *bust));
            Ok(Arm::of_curve(table, curve, *bust))
        }
        (TableKind::Ages, Key::Size(age)) => {
            let row = age_row(table, age)?;
            let spread = counted(&[(table, row)]).ok_or_else(|| not_that(table, key))?;
            let mut arm = Arm::spread(table, row.label.clone(), spread);
            arm.infant = row.infant;
            Ok(arm)
        }
        _ => Err(not_that(table, key)),
    }
}

/// A chart's size with the spread of the surveys behind it.
fn chart(
    table: &BodyTable,
    row: &TableRow,
    label: String,
    bust: Length,
    said: &mut Vec<Diagnostic>,
) -> Result<Arm, Box<Diagnostic>> {
    let surveys: Vec<&BodyTable> = table.survey.iter().filter_map(|id| find(id).ok()).collect();
    let figure = chart_figure(table, bust);
    let curve = surveys.iter().find_map(|survey| survey.curve.as_ref());
    let spread = match curve {
        Some(curve) => adults(&surveys, curve, bust, figure),
        None => children(&surveys, row),
    };
    let spread = spread.ok_or_else(|| not_that(table, &Key::Bust(bust)))?;
    let armpit = curve.and_then(|curve| armpit(&surveys, curve, bust, figure));
    let mut arm = Arm::spread(table, label, spread);
    arm.armpit = armpit;
    arm.people = people(&surveys, row);
    arm.chart = figure;
    arm.size = Some(row.label.clone());
    arm.extrapolated = curve.is_some_and(|curve| curve.is_extrapolated(bust));
    arm.armhole_depth = table.edges(row, "armhole_depth");
    arm.infant = row.infant;
    arm.source = sources(table, &surveys);
    if table.borrows_relaxed {
        said.push(Diagnostic::new(
            &MENS_EQUATION,
            "the survey measured women's arms flexed; they were turned into relaxed ones by an equation that was found on men.",
        ));
    }
    said.extend(curve.and_then(|curve| outside_survey(table, curve, bust)));
    said.extend(disagreement(&arm));
    Ok(arm)
}

/// The relaxed arms of adults of a bust. Above the survey, where the charts go on for 40 cm, the
/// centre passes from the survey's to the chart's figure; the relative spread stays the survey's.
/// Below it the survey's tangent goes on, for the one size there has its middle 2 cm outside.
fn adults(
    surveys: &[&BodyTable],
    curve: &Curve,
    bust: Length,
    figure: Option<Length>,
) -> Option<ArmSpread> {
    let relaxed = surveys.iter().find_map(|survey| survey.relaxed)?;
    let spread = relaxed.of(&curve.at(bust));
    let beyond = (curve.above(bust) / PASSING_OVER).min(1.0);
    let mean = spread.mean();
    Some(match figure {
        Some(figure) if beyond > 0.0 => spread.centred(mean + (figure - mean) * beyond),
        _ => spread,
    })
}

/// The same people's arms at the armpit, moved with the centre of their hanging arms.
fn armpit(
    surveys: &[&BodyTable],
    curve: &Curve,
    bust: Length,
    figure: Option<Length>,
) -> Option<ArmSpread> {
    let flexed = curve.at(bust);
    let survey = surveys.iter().find(|survey| survey.curve.is_some())?;
    let spread = at_the_armpit(survey, &flexed)?;
    let relaxed = surveys
        .iter()
        .find_map(|survey| survey.relaxed)?
        .of(&flexed);
    let moved = adults(surveys, curve, bust, figure)?.mean() / relaxed.mean();
    Some(spread.centred(spread.mean() * moved))
}

/// Who was measured: those of the survey of adults, or the girls and boys of the size's age.
fn people(surveys: &[&BodyTable], row: &TableRow) -> String {
    let adults = surveys.iter().find(|survey| survey.curve.is_some());
    match adults {
        Some(survey) => survey.people.clone(),
        None if row.age.contains("months") => format!("infants of {} (USA, 2015-2018)", row.age),
        None if row.age == "1" => "children of 1 year (USA, 2015-2018)".to_owned(),
        None => format!("children of {} years (USA, 2015-2018)", row.age),
    }
}

/// Every publication once, the chart's first.
fn sources(table: &BodyTable, surveys: &[&BodyTable]) -> String {
    let mut all = vec![cited(table)];
    for survey in surveys {
        let source = cited(survey);
        if !all.contains(&source) {
            all.push(source);
        }
    }
    all.join("; ")
}

/// The arms of girls and boys of the size's age, in equal parts.
fn children(surveys: &[&BodyTable], row: &TableRow) -> Option<ArmSpread> {
    let rows: Vec<(&BodyTable, &TableRow)> = surveys
        .iter()
        .filter_map(|survey| Some((*survey, survey.row(&row.age).ok()?)))
        .collect();
    counted(&rows)
}

/// The row of an age: as the table names it, or the band that holds so many months or years.
fn age_row<'a>(table: &'a BodyTable, age: &str) -> Result<&'a TableRow, Box<Diagnostic>> {
    table.row(age).or_else(|error| {
        let band = age_band(age).ok_or(error)?;
        table.row(&band)
    })
}

/// The published percentiles of rows of tables by age.
fn counted(rows: &[(&BodyTable, &TableRow)]) -> Option<ArmSpread> {
    let groups: Vec<GroupFigures> = rows
        .iter()
        .filter_map(|(table, row)| group(table, row))
        .collect();
    (!groups.is_empty()).then_some(ArmSpread::Counted(groups))
}

fn group(table: &BodyTable, row: &TableRow) -> Option<GroupFigures> {
    let mut points: Vec<(f64, f64)> = table
        .columns
        .iter()
        .filter_map(|column| {
            let percent: f64 = column.id.strip_prefix('p')?.parse().ok()?;
            Some((percent / 100.0, table.length(row, &column.id)?.to_cm()))
        })
        .collect();
    // Two percentiles rounded to one girth would make a step: the lower one stays.
    points.dedup_by(|later, earlier| later.1 <= earlier.1);
    (points.len() > 1).then_some(GroupFigures {
        mean_cm: table.length(row, "mean")?.to_cm(),
        sd_cm: table.length(row, "sd")?.to_cm(),
        points,
    })
}

/// The chart's arm for a bust: straight lines between the middles of its sizes, which past the
/// first and last size go on.
fn chart_figure(table: &BodyTable, bust: Length) -> Option<Length> {
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
fn nearest_row(table: &BodyTable, bust: Length) -> Option<&TableRow> {
    let away = |row: &TableRow| {
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
    table: &BodyTable,
) -> Result<(), Box<Diagnostic>> {
    let inside = |length: &Length| *length >= low && *length <= high;
    if inside(&bust) {
        return Ok(());
    }
    let answers = format!(
        "the table '{}' answers {} to {}",
        table.id,
        both(low),
        both(high)
    );
    let asked = format!("a {} of {}", table.girth.word(), both(bust));
    let as_inches = Length::inches(bust.to_cm());
    let as_cm = Length::cm(bust.to_inches());
    Err(Box::new(if inside(&as_inches) {
        units_mixed(&asked, &answers, &Units::In.show(as_inches))
    } else if inside(&as_cm) {
        units_mixed(&asked, &answers, &Units::Cm.show(as_cm))
    } else {
        Diagnostic::new(
            &BUST_OUT_OF_RANGE,
            format!("{asked} is too far outside: {answers}."),
        )
    }))
}

/// The number makes sense in the other unit.
fn units_mixed(asked: &str, answers: &str, likely: &str) -> Diagnostic {
    Diagnostic::new(
        &UNITS_MIXED,
        format!("{asked} is outside: {answers}. {likely} would be inside."),
    )
    .next(format!(
        "If {likely} was meant, write the unit beside the number."
    ))
}

/// Says so when a bust is outside the survey's usable range.
fn outside_survey(table: &BodyTable, curve: &Curve, bust: Length) -> Option<Diagnostic> {
    let [low, high] = curve.usable_mm.map(|mm| both(Length::cm(mm / 10.0)));
    let message = format!(
        "a {} of {} is outside the survey's usable range, {low} to {high}: the spread is \
         extrapolated.",
        table.girth.word(),
        both(bust)
    );
    let outside = curve.is_extrapolated(bust);
    outside.then(|| Diagnostic::new(&EXTRAPOLATED, message))
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

fn not_that(table: &BodyTable, key: &Key) -> Box<Diagnostic> {
    let asked = match key {
        Key::Size(size) => format!("the size '{}'", size.trim()),
        Key::Bust(bust) => format!("a {} of {}", table.girth.word(), both(*bust)),
        Key::UpperArm(girth) => format!("an upper arm of {}", both(*girth)),
    };
    let answers = table.answers();
    Box::new(Diagnostic::new(
        &NOT_ASKED_THAT,
        format!(
            "the table '{}' cannot be asked for {asked}; it answers {answers}.",
            table.id
        ),
    ))
}
