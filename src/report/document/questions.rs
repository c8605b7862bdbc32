//! The exercises on drift: questions and their answers.

use serde::Serialize;

use crate::case::Case;
use crate::convert::drift::{DriftLesson, Exercise, LengthExercise, SUPPOSED_PCT, SleevePart};
use crate::measure::{Gauge, Length, Rows, Stitches, Units};
use crate::report::number::{rounded_to, signed_pct};

/// One question with its answer.
#[derive(Serialize)]
pub(crate) struct Question {
    pub(crate) question: String,
    pub(crate) answer: String,
}

/// What the pages say, before it is laid out.
pub(crate) struct Questions {
    /// `, size M`, or nothing where there is one size.
    pub(crate) size: String,
    /// What is known.
    pub(crate) given: String,
    pub(crate) list: Vec<Question>,
}

/// The questions on the lesson's first size; none without both gauges.
pub(crate) fn questions_of(case: &Case, lesson: &DriftLesson) -> Option<Questions> {
    let (size, exercise) = first(lesson)?;
    Some(Questions {
        size: match case.sizes.len() {
            1 => String::new(),
            _ => format!(", size {size}"),
        },
        given: given(case.units, exercise),
        list: questions(case.units, exercise),
    })
}

fn first(lesson: &DriftLesson) -> Option<(&str, &Exercise)> {
    let size = lesson.sizes.first()?;
    Some((size.size.as_str(), size.exercise.as_ref()?))
}

fn given(units: Units, exercise: &Exercise) -> String {
    let supposed = match exercise.supposed {
        Some(SleevePart::Tube) => format!(" (suppose it: {SUPPOSED_PCT} % tighter)"),
        Some(SleevePart::Cap) => format!(" (suppose that flat is {SUPPOSED_PCT} % looser)"),
        None => String::new(),
    };
    format!(
        "A sleeve: the cap is knitted back and forth, the tube below it in rounds. Over {} there are {} flat, and {} in the round{supposed}. Give lengths with two decimals. (The numbers are those of the gauges alone: a fitted sleeve may have a pair of rows or a few stitches more or fewer, where the cap's edge has to meet the armhole.)",
        over(units),
        gauge(units, exercise.flat),
        gauge(units, exercise.round),
    )
}

fn over(units: Units) -> String {
    format!(
        "{} {}",
        number(units.number(units.swatch_length())),
        units.word()
    )
}

fn gauge(units: Units, gauge: Gauge) -> String {
    format!(
        "{} stitches and {} rows",
        number(shown(units, gauge.stitches_per_10cm())),
        number(shown(units, gauge.rows_per_10cm()))
    )
}

/// A gauge per 10 cm as a number over the case's own length.
fn shown(units: Units, per_10cm: f64) -> f64 {
    per_10cm * units.swatch_length().to_cm() / 10.0
}

/// At most two decimals, and none that are zero.
fn number(number: f64) -> String {
    let text = rounded_to(number, 2);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn stitches(units: Units, gauge: Gauge) -> String {
    number(shown(units, gauge.stitches_per_10cm()))
}

fn rows(units: Units, gauge: Gauge) -> String {
    number(shown(units, gauge.rows_per_10cm()))
}

fn questions(units: Units, exercise: &Exercise) -> Vec<Question> {
    let mut list = vec![
        drift(units, exercise),
        arm(units, exercise),
        wrong_arm(units, exercise),
        join(units, exercise),
        made_at_join(units, exercise),
        cap(units, exercise),
    ];
    list.extend(
        exercise
            .tube
            .as_ref()
            .map(|tube| tube_length(units, exercise, tube)),
    );
    list.push(misread(units, exercise));
    list.push(think());
    list
}

fn drift(units: Units, exercise: &Exercise) -> Question {
    let pct = |(name, flat, round, pct): (&str, String, String, f64)| {
        format!(
            "{name}: {round} / {flat} = {}, so {}",
            rounded_to(1.0 + pct / 100.0, 3),
            signed_pct(pct)
        )
    };
    let (flat, round) = (exercise.flat, exercise.round);
    let both = [
        (
            "Stitches",
            stitches(units, flat),
            stitches(units, round),
            exercise.drift.stitches_pct,
        ),
        (
            "Rows",
            rows(units, flat),
            rows(units, round),
            exercise.drift.rows_pct,
        ),
    ];
    Question {
        question: "The drift is the round count over the flat one. How many per cent is it in stitches, and in rows? Which of the two changes widths, and which changes lengths?".to_owned(),
        answer: format!(
            "{}. Stitches lie side by side, so they change widths; rows lie on top of each other, so they change lengths. More to the same length is tighter: narrower, or shorter.",
            both.map(pct).join(". ")
        ),
    }
}

/// `35 x 20 / 10 = 70, so 70 stitches`: a width in stitches, before and after rounding.
fn wide_at(units: Units, width: Length, at: Gauge, (exact, whole): (f64, Stitches)) -> String {
    format!(
        "{} x {} / {} = {}, so {whole}",
        number(units.number(width)),
        stitches(units, at),
        number(units.number(units.swatch_length())),
        number(exact),
    )
}

fn arm(units: Units, exercise: &Exercise) -> Question {
    let arm = &exercise.arm;
    Question {
        question: format!(
            "The upper arm is to be {} round, measured on the tube. How many stitches is that, to the nearest whole one?",
            units.show(arm.wanted)
        ),
        answer: format!(
            "The tube is knitted in rounds, so the round gauge counts: {}. They measure {}.",
            wide_at(units, arm.wanted, exercise.round, (arm.exact, arm.right)),
            units.show_fine(arm.width),
        ),
    }
}

fn wrong_arm(units: Units, exercise: &Exercise) -> Question {
    let arm = &exercise.arm;
    Question {
        question: "A friend takes the flat gauge for everything. How many stitches does the friend plan for the upper arm, how wide is it when it is knitted in rounds, and how far off is that?".to_owned(),
        answer: format!(
            "{}. In rounds: {} x {} / {} = {}, which is {}.",
            wide_at(units, arm.wanted, exercise.flat, (arm.wrong_exact, arm.wrong)),
            arm.wrong.count(),
            number(units.number(units.swatch_length())),
            stitches(units, exercise.round),
            units.show_fine(arm.wrong_width),
            off(units, arm.wrong_off(), "too wide", "too narrow"),
        ),
    }
}

const JUST_RIGHT: &str = "just right";

fn off(units: Units, length: Length, more: &str, less: &str) -> String {
    let text = units.show_fine(length.abs());
    if text == units.show_fine(Length::ZERO) {
        JUST_RIGHT.to_owned()
    } else if length > Length::ZERO {
        format!("{text} {more}")
    } else {
        format!("{text} {less}")
    }
}

fn join(units: Units, exercise: &Exercise) -> Question {
    let arm = &exercise.arm;
    let over = number(units.number(units.swatch_length()));
    Question {
        question: format!(
            "Take the right number of stitches, {}, for the last row of the cap as well. How wide is the last row of the cap, which is flat, and how wide is the first round of the tube? What happens at the join?",
            arm.right.count()
        ),
        answer: format!(
            "Cap: {n} x {over} / {} = {}. Tube: {n} x {over} / {} = {}. The number of stitches is the same above and below, so {}.",
            stitches(units, exercise.flat),
            units.show_fine(arm.cap_side),
            stitches(units, exercise.round),
            units.show_fine(arm.width),
            match off(units, arm.jump(), "wider", "narrower").as_str() {
                JUST_RIGHT => "the join does not show: these stitches have no drift".to_owned(),
                change => format!("just there the sleeve gets {change}"),
            },
            n = arm.right.count(),
        ),
    }
}

fn made_at_join(units: Units, exercise: &Exercise) -> Question {
    let arm = &exercise.arm;
    let (below, above) = (arm.right.count(), arm.wrong.count());
    let done = match arm.made_at_join() {
        0 => "The first round has as many: nothing is to be done.".to_owned(),
        made if made > 0 => format!("Make {below} - {above} = {made} in the first round."),
        _ => format!(
            "Decrease {above} - {below} = {} in the first round.",
            above - below
        ),
    };
    Question {
        question: format!(
            "The cap is to be {} wide at its last row, as the tube is. How many stitches should that row have, and how many are made or decreased in the first round?",
            units.show(arm.wanted)
        ),
        answer: format!(
            "The row is flat: {}. It is the friend's number: right for the cap, wrong for the tube. {done}",
            wide_at(
                units,
                arm.wanted,
                exercise.flat,
                (arm.wrong_exact, arm.wrong)
            ),
        ),
    }
}

fn cap(units: Units, exercise: &Exercise) -> Question {
    let cap = &exercise.cap;
    Question {
        question: format!(
            "The cap is to be {} deep. {}Its short rows come in pairs. How many short rows is that, to the nearest even number? How many would a plan with the round gauge have, and how deep would that cap be?",
            units.show(cap.wanted),
            if cap.before == Rows::ZERO {
                ""
            } else {
                "The row picked up is its first. "
            },
        ),
        answer: lengths(
            units,
            cap,
            exercise.flat,
            exercise.round,
            ("row picked up", "short rows"),
            ("too deep", "too shallow"),
        ),
    }
}

fn tube_length(units: Units, exercise: &Exercise, tube: &LengthExercise) -> Question {
    Question {
        question: format!(
            "From underarm to cuff the sleeve is to be {} long, the row that joins is its first. How many rounds are worked after it? How many would a plan with the flat gauge have, and how long would that tube be?",
            units.show(tube.wanted)
        ),
        answer: lengths(
            units,
            tube,
            exercise.round,
            exercise.flat,
            ("row that joins", "rounds"),
            ("too long", "too short"),
        ),
    }
}

fn lengths(
    units: Units,
    length: &LengthExercise,
    right: Gauge,
    wrong: Gauge,
    (before, name): (&str, &str),
    (more, less): (&str, &str),
) -> String {
    let over = number(units.number(units.swatch_length()));
    let wanted = number(units.number(length.wanted));
    let (less_one, with) = match length.before {
        Rows::ZERO => (String::new(), "they".to_owned()),
        rows => (
            format!(" less the {before}"),
            format!(
                "with the {before} they are {} and",
                length.wrong + rows.count()
            ),
        ),
    };
    let knitted = units.show_fine(length.right_length);
    let result = if length.right == length.wrong {
        format!(
            "the same number, {knitted} by either: in rows this drift is too small to show here"
        )
    } else {
        format!(
            "{with} measure {} x {over} / {} = {}, which is {}; the right ones measure {knitted}",
            length.wrong + length.before.count(),
            rows(units, right),
            units.show_fine(length.wrong_length),
            off(units, length.wrong_off(), more, less),
        )
    };
    format!(
        "{wanted} x {} / {over} = {}{less_one}: {} {name}. With the other gauge: {wanted} x {} / {over} = {}{less_one}: {} {name}; {result}.",
        rows(units, right),
        number(length.exact),
        length.right,
        rows(units, wrong),
        number(length.wrong_exact),
        length.wrong,
    )
}

fn misread(units: Units, exercise: &Exercise) -> Question {
    let [(tighter, narrow), (looser, wide)] = exercise.misread;
    let over = number(units.number(units.swatch_length()));
    Question {
        question: format!(
            "Stitches are counted to the half, so one count of {} may be a quarter of a stitch off either way. Between which widths does the right upper arm of {} end?",
            stitches(units, exercise.round),
            exercise.arm.right,
        ),
        answer: format!(
            "{n} x {over} / {} = {} and {n} x {over} / {} = {}. Three counts in three places say more than one: they show how evenly the swatch is knit.",
            stitches(units, tighter),
            units.show_fine(narrow),
            stitches(units, looser),
            units.show_fine(wide),
            n = exercise.arm.right.count(),
        ),
    }
}

fn think() -> Question {
    Question {
        question: "A knitter's rows drift and her stitches do not. Which of these change: upper arm, cuff, cap depth, length of the tube, the step at the join?".to_owned(),
        answer: "Lengths follow the rows: a tube planned with the flat rows gets another length, a cap planned with the rounds another depth (and with it another area and edge). Upper arm, cuff and the join are widths and stay.".to_owned(),
    }
}
