//! Round the instructions: the order of the garment, needles, the stitch pattern's place.

use super::amounts::{rows, sts};
use super::text::SleeveText;
use super::text::Writer;
use crate::case::{BodyMade, Terms, Underarm};
use crate::measure::{Gauge, Length, Stitches, Units};
use crate::plan::{Flank, FlankPlan, Repeat, Sleeve};

/// What is done before the pick-up, and what to check then (common practice, no source).
pub fn before_starting(input: &SleeveText<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    let live = input.plan.crown.live.count();
    if live > 0 {
        lines.push(format!(
            "Knit the saddle first, outward from the neck, join front and back to it, and leave its {} on a holder at the armhole edge.",
            sts(live).replace("st", "live st")
        ));
    }
    lines.extend(body_first(input.style.body, live));
    if input.plan.base() > Stitches::ZERO {
        lines.extend(underarm_first(input));
    }
    lines.push(format!("{} {ROWS_DIFFER}", edge_rows(input)));
    lines
}

/// How the armhole comes to be closed and ready (common practice, no source); a saddle, of live stitches, joins the
/// shoulders.
fn body_first(body: BodyMade, live: u32) -> Vec<String> {
    let joined = match (body, live > 0) {
        (BodyMade::Pieces, false) => "Join the shoulders and the sides of the body first:",
        (BodyMade::Pieces, true) => "Join the sides of the body as well:",
        (BodyMade::Round | BodyMade::Steeked, false) => {
            "Join the shoulders of the body first; worked in the round, it has no side seams."
        }
        (BodyMade::Round | BodyMade::Steeked, true) => {
            "The body, worked in the round, has no side seams."
        }
    };
    let (the, armhole) = match body {
        BodyMade::Pieces => ("the", "closed"),
        BodyMade::Round => ("The", "closed"),
        BodyMade::Steeked => ("The", "cut"),
    };
    let mut lines = vec![format!(
        "{joined} {the} sleeve is knitted straight onto the {armhole} armhole, so neither a sleeve seam nor an armhole seam is sewn."
    )];
    if body == BodyMade::Steeked {
        lines.extend(STEEKS.iter().map(|&said| said.to_owned()));
    }
    lines
}

/// Caution at a cut armhole (common practice, no source).
const STEEKS: [&str; 3] = [
    "Caution, secure first: a cut cannot be taken back. Mark the middle column of the steek; on each side of it fasten every row, from the underarm to the shoulder seam, with a line of small stitches by hand or machine, or with a crocheted chain. Smooth yarn (superwash, cotton, silk) runs: give it two lines a side, and try it on a swatch in your yarn before anything else.",
    "Only then cut along the middle column, with nothing else under the scissors, and not past the underarm.",
    "Pick up between the body's last st and the steek: the steek turns to the inside by itself; sew it down loosely when the sleeve is done.",
];

/// What to know of an underarm that is not bound off beside a seam (common practice, no source).
fn underarm_first(input: &SleeveText<'_>) -> Option<String> {
    let lost = input.style.in_seam.count();
    Some(match input.style.underarm {
        Underarm::Live => "The sts of the underarm wait on a holder and are knitted as they are, one for one. A st that drops there runs down the body: take them onto a needle one by one, none twisted, and count them before you join the yarn.".to_owned(),
        Underarm::CastOn => "The underarm is a cast-on edge: pick up one st for each cast-on st, under both its legs. From this side they stand half a st aside, so that there seems to be one more or one fewer: count the cast-on sts, not the gaps.".to_owned(),
        Underarm::BoundOff if lost > 0 => format!(
            "Of the {} at the underarm {lost} lie in the seam: look for them before you pick up, and pick up in none of them; the corners are closed in the first round.",
            sts(input.plan.base().count() + lost)
        ),
        Underarm::BoundOff => return None,
    })
}

/// The same where the rows picked up are not listed.
pub fn without_lists(sentence: &str) -> String {
    sentence.replace(ROWS_DIFFER, ROWS_DIFFER_UNLISTED)
}

/// What to do when the armhole has other rows, and no lists say what.
const ROWS_DIFFER_UNLISTED: &str =
    "When a count differs, give your counts and have the sleeve planned anew.";

/// What to do when the armhole has other rows.
const ROWS_DIFFER: &str = "When a count differs by one, \"Rows picked up\" at the end says what to do; when it differs by more, give your counts and have the sleeve planned anew.";

/// The rows to be found on each half of the armhole edge.
pub fn edge_rows(input: &SleeveText<'_>) -> String {
    let writer = Writer::new(input.plan, input.style, input.sleeve);
    let crown = writer.plan.crown.rows.count();
    // The larger half of the crown's rows lies before the middle, on the second flank's side.
    let first = side_rows(writer.first_name(), crown / 2, writer.going.first);
    let second = side_rows(writer.second_name(), crown.div_ceil(2), writer.going.second);
    // Back and front are named in one order, whichever is picked up first.
    let (first, second) = match (writer.sleeve, writer.going.first_is) {
        (Sleeve::Left | Sleeve::Right, Flank::Front) => (second, first),
        _ => (first, second),
    };
    let bound_off = match writer.style.terms {
        Terms::Us => "bound-off",
        Terms::Uk => "cast-off",
    };
    let underarm = match writer.style.underarm {
        Underarm::BoundOff => bound_off,
        Underarm::Live => "held",
        Underarm::CastOn => "cast-on",
    };
    let from = if writer.plan.crown.live.count() > 0 {
        "the live sts"
    } else {
        "the shoulder seam"
    };
    let steps = match writer.style.stepped.count() {
        0 => String::new(),
        _ => format!(", each stepped {bound_off} st as a row"),
    };
    format!(
        "Count the rows along each side of the armhole, from {from} to the {underarm} sts of the underarm{steps}: {first}; {second}."
    )
}

/// `back side 56 rows, 12 of them for the crown and 44 for the flank`.
fn side_rows(flank_name: &str, crown: u32, flank: &FlankPlan) -> String {
    let flank = flank.zones.iter().map(|z| z.rows.count()).sum::<u32>();
    let name = flank_name.to_lowercase().replace("flank", "side");
    let all = rows(crown + flank);
    match crown {
        0 => format!("{name} {all}"),
        _ => format!("{name} {all}, {crown} of them for the crown and {flank} for the flank"),
    }
}

/// Lengths circular needles are sold in, in centimetres and by their name in inches (common
/// practice, no source).
const CIRCULARS: [(f64, &str, &str); 4] = [
    (40.0, "40 cm", "16 in"),
    (60.0, "60 cm", "24 in"),
    (80.0, "80 cm", "32 in"),
    (100.0, "100 cm", "40 in"),
];

/// Needles that carry the work: at the armhole and, where the tube gets narrower, at the cuff.
///
/// A circular needle must not be longer than the stitches stretch; any long one works in a loop.
pub fn needles(input: &SleeveText<'_>, cap: Gauge, tube: Gauge, units: Units) -> Vec<String> {
    let armhole = cap.width(input.plan.picked_up());
    let mut lines = vec![format!(
        "The picked-up sts stretch over {}: {}.",
        units.show(armhole),
        needle_for(armhole, units)
    )];
    if let Some(plan) = input.tube {
        let narrowest = tube.width(plan.cuff.min(plan.upper_arm));
        lines.push(format!(
            "The tube is {} round where it is narrowest: {}.",
            units.show(narrowest),
            needle_for(narrowest, units)
        ));
    }
    lines
}

fn needle_for(stretch: Length, units: Units) -> String {
    let name = |circular: &(f64, &'static str, &'static str)| match units {
        Units::Cm => circular.1,
        Units::In => circular.2,
    };
    let fitting = CIRCULARS
        .iter()
        .filter(|circular| circular.0 <= stretch.to_cm());
    let longest = fitting.map(name).next_back();
    let [_, _, loop_from, _] = &CIRCULARS;
    let in_a_loop = format!("of {} or more in a loop", name(loop_from));
    match longest {
        Some(longest) => format!("a circular needle of up to {longest}, or one {in_a_loop}"),
        None => format!("double-pointed needles, or a circular needle {in_a_loop}"),
    }
}

/// Where a stitch pattern stands on the growing rows and in the round; empty without a repeat.
///
/// Seen from the start of the round the `plus` stitches lie half on either side of the marker, the
/// repeats between them. The crown's first stitch follows from counting the stitches of the round
/// up to it.
pub fn stitch_pattern(input: &SleeveText<'_>, repeat: Repeat) -> Vec<String> {
    if repeat.multiple < 2 {
        return Vec::new();
    }
    let writer = Writer::new(input.plan, input.style, input.sleeve);
    let before = repeat.plus.div_ceil(2);
    let [leaving, _] = writer.going.corners;
    let crown = (writer.going.base_after + writer.going.second.net())
        .count()
        .saturating_add_signed(leaving.change);
    let repeats = (crown + repeat.multiple - before % repeat.multiple) % repeat.multiple;
    let plain = match input.style.terms {
        Terms::Us => "stockinette st",
        Terms::Uk => "stocking st",
    };
    let mut lines = vec![format!(
        "Stitch pattern of {}: the first crown st of an RS row is st {} of the repeat. Sts taken in continue the pattern outwards on both sides. A rib simply goes on, at a turn too; where a pattern needs whole repeats, work what is none at a turn in {plain}.",
        sts(repeat.multiple),
        repeats + 1
    )];
    if repeat.plus > 0 {
        lines.push(beside_repeats(before, repeat.plus - before));
    }
    lines
}

/// `In rounds the first 2 sts and the last st stand outside the repeats.`
fn beside_repeats(first: u32, last: u32) -> String {
    let some = |which: &str, n: u32| match n {
        0 => None,
        1 => Some(format!("the {which} st")),
        n => Some(format!("the {which} {}", sts(n))),
    };
    let both: Vec<String> = [some("first", first), some("last", last)]
        .into_iter()
        .flatten()
        .collect();
    let stand = if first + last == 1 { "stands" } else { "stand" };
    format!(
        "In rounds {} {stand} outside the repeats.",
        both.join(" and ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::case::Style;
    use crate::measure::Rows;
    use crate::plan::{CapPlan, Crown, Move, Sleeve, TubePlan, Zone};

    fn plan() -> CapPlan {
        let flank = FlankPlan {
            moves: vec![Move::new(2, 0), Move::new(2, 1), Move::new(1, 1)],
            zones: vec![Zone {
                stitches: Stitches(5),
                rows: Rows(8),
            }],
        };
        CapPlan {
            join_change: 0,
            crown: Crown {
                stitches: Stitches(9),
                live: Stitches(3),
                rows: Rows(7),
            },
            base_front: Stitches(3),
            base_back: Stitches(2),
            front: flank.clone(),
            back: flank,
        }
    }

    fn input(plan: &CapPlan) -> SleeveText<'_> {
        SleeveText {
            plan,
            tube: None,
            cuff: None,
            style: Style::default(),
            sleeve: Sleeve::Left,
        }
    }

    #[test]
    fn what_to_do_first() {
        assert_eq!(
            before_starting(&input(&plan())),
            [
                "Knit the saddle first, outward from the neck, join front and back to it, and leave its 3 live sts on a holder at the armhole edge.",
                "Join the sides of the body as well: the sleeve is knitted straight onto the closed armhole, so neither a sleeve seam nor an armhole seam is sewn.",
                "Count the rows along each side of the armhole, from the live sts to the bound-off sts of the underarm: back side 11 rows, 3 of them for the crown and 8 for the flank; front side 12 rows, 4 of them for the crown and 8 for the flank. When a count differs by one, \"Rows picked up\" at the end says what to do; when it differs by more, give your counts and have the sleeve planned anew.",
            ]
        );
    }

    #[test]
    fn stepped_stitches_are_rows_where_there_are_some() {
        let plan = plan();
        let told = |stepped, terms| {
            let style = Style {
                stepped: Stitches(stepped),
                terms,
                ..Style::default()
            };
            edge_rows(&SleeveText {
                style,
                ..input(&plan)
            })
        };
        assert!(!told(0, Terms::Us).contains("stepped"));
        assert!(told(4, Terms::Us).contains("underarm, each stepped bound-off st as a row: back"));
        assert!(told(4, Terms::Uk).contains("underarm, each stepped cast-off st as a row: back"));
    }

    #[test]
    fn needles_as_long_as_the_stitches_stretch() {
        let plan = plan();
        let tube = TubePlan {
            upper_arm: Stitches(90),
            cuff: Stitches(44),
            rounds: Rows(10),
            decrease_rounds: Vec::new(),
            worked: Rows::ZERO,
            beside: 0,
        };
        let gauge = Gauge::per_10cm(20.0, 28.0).unwrap();
        let input = SleeveText {
            tube: Some(&tube),
            ..input(&plan)
        };
        // 24 stitches at 20 to 10 cm are 12 cm, 44 are 22 cm: too short for any circular needle.
        let lines = needles(&input, gauge, gauge, Units::Cm);
        assert_eq!(lines.len(), 2);
        assert!(
            lines.iter().all(|line| line.contains("double-pointed")),
            "{lines:?}"
        );
        assert_eq!(
            needle_for(Length::cm(61.0), Units::Cm),
            "a circular needle of up to 60 cm, or one of 80 cm or more in a loop"
        );
    }
}
