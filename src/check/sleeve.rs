//! The new sleeve: upper arm against the arm, depth kept, cautions.

use super::arm::arm_findings;
use super::codes::{
    AREA_OFF, ARM_OFF_WANTED, DEPTH_OFF, NEW_EDGE_LONG, NEW_EDGE_SHORT, NOT_PROVEN, PUFFED_CROWN,
    SECTION_STRAIN, TUBE_SHORT, WIDTH_OFF, finding,
};
use crate::body::Arm;
use crate::diagnostic::Diagnostic;
use crate::fit::{Fit, Measures, SideMeasures, Status, Stretch};
use crate::measure::{Length, Stitches, Units, nearest_whole, whole};
use crate::outline::{MOST_EASE_IN_ALL, MOST_EASE_OF_A_SIDE};

/// What is known of the new sleeve in one size.
#[expect(missing_debug_implementations, reason = "it holds a question")]
#[derive(Clone, Copy)]
pub struct SleeveFacts<'a> {
    /// Units for the messages.
    pub units: Units,
    /// The fit.
    pub fit: &'a Fit,
    /// Height of a row of the new cap.
    pub row_height: Length,
    /// Width of a stitch of the new cap.
    pub stitch_width: Length,
    /// Rows between two picked-up stitches at the most.
    pub gap_limit: f64,
    /// The upper arm that was wanted.
    pub wanted: Length,
    /// How much longer the old cap's edges were than the armhole, front and back together.
    pub old_ease: Length,
    /// The half width each turn pair should have, from the crown down, in centimetres: front, back.
    pub targets_cm: [&'a [f64]; 2],
    /// The arms of the people it is for.
    pub arm: Option<&'a Arm>,
    /// Whether a cap for another upper arm can be made.
    pub adapts_to: &'a dyn Fn(Length) -> bool,
}

/// Rounding of the upper arm that is worth a word: a stitch of bulky yarn is a centimetre wide.
const ROUNDING: Length = Length::cm(1.0);

/// True when a cap has nothing that this finding reports: what a cure is judged by.
pub fn is_cured(facts: &SleeveFacts<'_>, id: &str) -> bool {
    let found = [
        depth(facts),
        area(facts),
        width(facts),
        strain(facts),
        ease(facts),
    ];
    !found.iter().flatten().any(|said| said.code.id == id)
}

/// The findings that another limit of `[fit]` may cure.
pub fn is_of_the_fit(id: &str) -> bool {
    [
        &DEPTH_OFF,
        &AREA_OFF,
        &WIDTH_OFF,
        &SECTION_STRAIN,
        &NEW_EDGE_LONG,
        &NEW_EDGE_SHORT,
    ]
    .iter()
    .any(|code| code.id == id)
}

/// All findings on the new sleeve.
pub fn sleeve_findings(facts: &SleeveFacts<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    found.extend(depth(facts));
    found.extend(area(facts));
    found.extend(width(facts));
    found.extend(strain(facts));
    found.extend(rounded(facts));
    found.extend(ease(facts));
    if facts.fit.status == Status::Feasible {
        let message = "The search for a better cap was cut short.";
        found.push(finding(&NOT_PROVEN, message.to_owned()));
    }
    let finished = facts.fit.measures.upper_arm;
    found.extend(arm_findings(
        facts.units,
        "finished upper arm",
        finished,
        facts.arm,
        facts.adapts_to,
    ));
    found
}

fn depth(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let off = facts.fit.measures.depth_error;
    (off.abs().to_cm() > facts.row_height.to_cm() * 1.000_001).then(|| {
        let message = format!(
            "The new cap is {} {} than the old one, more than one row.",
            facts.units.show(off.abs()),
            if off.to_cm() > 0.0 {
                "deeper"
            } else {
                "shallower"
            },
        );
        finding(&DEPTH_OFF, message)
    })
}

/// The area may be off by so much, in per cent: the fit is usually within half a per cent, so that more
/// means that a limit of the case binds.
const AREA_PCT: f64 = 3.0;

fn area(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let off = facts.fit.measures.area_error_pct;
    (off.abs() > AREA_PCT).then(|| {
        let message = format!(
            "The new cap has {:.1} % {} fabric than the old one; up to {AREA_PCT} % is usual.",
            off.abs(),
            if off > 0.0 { "more" } else { "less" },
        );
        finding(&AREA_OFF, message)
    })
}

/// Half a width may be off by so much; the fit's own is about 2 mm.
const WIDTH: Length = Length::cm(1.0);

/// The turn pair that is farthest from the old width, when that is far.
fn width(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let measures = &facts.fit.measures;
    let [front, back] = facts.targets_cm;
    let sides = [
        ("the front", &measures.front, front),
        ("the back", &measures.back, back),
    ];
    let offs = sides.iter().flat_map(|(name, side, targets)| {
        let pairs = side.fabric_cm.iter().zip(targets.iter()).enumerate();
        pairs.map(move |(pair, (width, target))| (*name, pair + 1, width - target))
    });
    let (side, pair, off) = offs.max_by(|a, b| a.2.abs().total_cmp(&b.2.abs()))?;
    (off.abs() > WIDTH.to_cm()).then(|| {
        let units = facts.units;
        let side = if measures.front == measures.back {
            "each side"
        } else {
            side
        };
        let message = format!(
            "In turn pair {pair} of {} {side} of the new cap is {} {} than the old cap there; up to {} a side is usual.",
            facts.fit.plan.turn_pairs(),
            units.show_fine(Length::cm(off.abs())),
            if off > 0.0 { "wider" } else { "narrower" },
            units.show_fine(WIDTH),
        );
        finding(&WIDTH_OFF, message)
    })
}

/// A stretch may pull or pucker by so much before it is named, in per cent (common practice, no source).
const STRAIN_PCT: f64 = 15.0;

/// A stretch shorter than this gives way with its neighbours: about four fingers.
const STRETCH: Length = Length::cm(6.0);

/// Every stretch of a flank that is long enough to show: one run or several that lie beside one another.
fn long_stretches(side: &SideMeasures) -> Vec<(usize, Stretch)> {
    let runs = side.runs();
    let from = |first: usize| {
        let mut all = Stretch::default();
        let grown = runs.iter().skip(first).map(move |run| {
            all = all.beside(*run);
            all
        });
        (1..).zip(grown)
    };
    let stretches = (0..runs.len()).flat_map(from);
    stretches
        .filter(|(_, stretch)| stretch.armhole.to_cm() >= STRETCH.to_cm())
        .collect()
}

/// The stretch that pulls or puckers most, when that shows.
fn strain(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let measures = &facts.fit.measures;
    let sides = [("the front", &measures.front), ("the back", &measures.back)];
    let stretches = sides.iter().flat_map(|(name, side)| {
        let long = long_stretches(side).into_iter();
        long.map(|(runs, stretch)| (*name, runs, stretch))
    });
    let worst = |a: &Stretch, b: &Stretch| a.strain_pct().abs().total_cmp(&b.strain_pct().abs());
    let (side, runs, stretch) = stretches.max_by(|a, b| worst(&a.2, &b.2))?;
    let strain = stretch.strain_pct();
    (strain.abs() > STRAIN_PCT).then(|| {
        let units = facts.units;
        let side = if measures.front == measures.back {
            "front and back"
        } else {
            side
        };
        let message = format!(
            "Along {side} {} of {} {} {} of the armhole with {} of the cap's edge, {:.0} % {}; up to {STRAIN_PCT} % gives way unseen.",
            if runs == 1 { "a run".to_owned() } else { format!("{runs} runs beside one another") },
            Stitches(stretch.stitches.count()),
            if runs == 1 { "meets" } else { "meet" },
            units.show(stretch.armhole),
            units.show(stretch.cap),
            strain.abs(),
            if strain < 0.0 { "less: it pulls" } else { "more: it puckers" },
        );
        finding(&SECTION_STRAIN, message)
    })
}

/// Rounding to whole stitches and rows may leave an edge so much shorter than the armhole, of its length.
const SHORT_SHARE: f64 = 0.02;

/// The same of one side, in lengths: a row.
const SHORT_LEAST: Length = Length::cm(0.3);

/// The new cap's edge against the armhole, front and back together: never shorter, nor more than about
/// an inch longer; then each side by itself. A puffed cap's excess is said with what gathering it takes.
fn ease(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let sides = [&facts.fit.measures.front, &facts.fit.measures.back];
    let armhole: Length = sides.iter().map(|side| side.armhole).sum();
    let edge: Length = sides.iter().map(|side| side.edge).sum();
    let ease = edge - armhole;
    let (code, word) = if ease < armhole * -SHORT_SHARE {
        (&NEW_EDGE_SHORT, "shorter")
    } else if ease <= MOST_EASE_IN_ALL {
        return one_side(facts);
    } else if facts.old_ease > MOST_EASE_IN_ALL {
        return Some(puffed(facts));
    } else {
        (&NEW_EDGE_LONG, "longer")
    };
    let units = facts.units;
    let message = format!(
        "The new cap's edges, front and back together {}, are {} ({:.0} %) {word} than the armhole's {}; the old cap's were {} {}. Nothing shorter and up to {} longer is usual.",
        units.show(edge),
        units.show(ease.abs()),
        100.0 * (ease / armhole).abs(),
        units.show(armhole),
        units.show(facts.old_ease.abs()),
        if facts.old_ease < Length::ZERO {
            "shorter"
        } else {
            "longer"
        },
        units.show(MOST_EASE_IN_ALL),
    );
    Some(finding(code, message))
}

/// The worse side that is too short or too long, where the two even each other out or the armhole is small.
fn one_side(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let Measures { front, back, .. } = &facts.fit.measures;
    let alike = front.armhole == back.armhole && front.edge == back.edge;
    let mut sides = [("front ", front), ("back ", back)];
    sides.sort_by(|a, b| b.1.ease_pct().abs().total_cmp(&a.1.ease_pct().abs()));
    let faulty = |(name, side): (&'static str, &'_ SideMeasures)| {
        let (ease, short) = (side.edge - side.armhole, side.armhole - side.edge);
        if short > side.armhole * SHORT_SHARE && short > SHORT_LEAST {
            Some((name, side.clone(), &NEW_EDGE_SHORT, "shorter"))
        } else if ease > MOST_EASE_IN_ALL || ease > side.armhole * MOST_EASE_OF_A_SIDE {
            Some((name, side.clone(), &NEW_EDGE_LONG, "longer"))
        } else {
            None
        }
    };
    let (name, side, code, word) = sides.into_iter().find_map(faulty)?;
    let units = facts.units;
    let message = format!(
        "The new cap's edge of {} is {} ({:.0} %) {word} than the {}armhole's {}. Nothing shorter and up to {} longer altogether, no more than {:.0} % of a side, is usual.",
        units.show(side.edge),
        units.show((side.edge - side.armhole).abs()),
        side.ease_pct().abs(),
        if alike { "" } else { name },
        units.show(side.armhole),
        units.show(MOST_EASE_IN_ALL),
        100.0 * MOST_EASE_OF_A_SIDE,
    );
    Some(finding(code, message))
}

/// The excess of a puffed cap: where it lies, and what gathering it at the crown would take, as far as that helps.
fn puffed(facts: &SleeveFacts<'_>) -> Diagnostic {
    let sides = [&facts.fit.measures.front, &facts.fit.measures.back];
    let excess = |side: &SideMeasures| side.edge - side.armhole;
    let (front, back) = (excess(sides[0]), excess(sides[1]));
    // The armhole that no move of a flank meets is the crown's.
    let of_crown = |side: &SideMeasures| {
        let moves: f64 = side.moves.iter().map(|m| m.armhole.to_cm()).sum();
        side.armhole.to_cm() - moves
    };
    let crown_cm = facts.fit.plan.crown.stitches.as_f64() * facts.stitch_width.to_cm();
    let at_crown_cm = crown_cm - of_crown(sides[0]) - of_crown(sides[1]);
    let in_stitches = |cm: f64| nearest_whole(cm.max(0.0) / facts.stitch_width.to_cm());
    let wanted = in_stitches((front + back).to_cm());
    let crown = facts.fit.plan.crown;
    let picked_up = crown.stitches.saturating_sub(crown.live).count();
    // Fewer would leave holes between them.
    let fewest = whole((crown.rows.as_f64() / facts.gap_limit - 1e-9).ceil());
    // Gathers take away what lies at the crown; what lies along the flanks stays there.
    let made = wanted
        .min(in_stitches(at_crown_cm))
        .min(picked_up.saturating_sub(fewest));
    let where_it_is = format!(
        "The new cap's edge is {} longer than the armhole at the front and {} at the back, {} in all.",
        facts.units.show(front),
        facts.units.show(back),
        Stitches(wanted),
    );
    if made == 0 {
        let message = format!(
            "{where_it_is} It lies along the flanks: the crown is no longer than its rows, and gathers there would take nothing away."
        );
        let next = "Leave the fullness as it is: it is eased in along the flanks.";
        return finding(&PUFFED_CROWN, message).next(next);
    }
    let left = wanted - made;
    let message = format!(
        "{where_it_is} Gathered at the crown: pick up {} along its {}{} instead of {picked_up} and make {} in the first short row, spread evenly; {} of fullness {} left to spread.",
        picked_up - made,
        crown.rows,
        about_rate(picked_up - made, crown.rows.count()),
        Stitches(made),
        Stitches(left),
        if left == 1 { "is" } else { "are" },
    );
    finding(&PUFFED_CROWN, message)
}

/// `, about 2 in every 3 rows`: the nearest rate with at most eight rows; nothing where the rows are few.
fn about_rate(stitches: u32, rows: u32) -> String {
    if rows <= 8 {
        return String::new();
    }
    let rate = f64::from(stitches) / f64::from(rows);
    let near = |every: u32| nearest_whole(rate * f64::from(every));
    let off = |every: u32| (f64::from(near(every)) / f64::from(every) - rate).abs();
    let every = (1..=8_u32)
        .filter(|every| near(*every) > 0)
        .min_by(|a, b| off(*a).total_cmp(&off(*b)));
    every.map_or_else(String::new, |every| match (near(every), every) {
        (each, 1) => format!(", about {each} in every row"),
        (each, _) => format!(", about {each} in every {every} rows"),
    })
}

fn rounded(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let finished = facts.fit.measures.upper_arm;
    let off = finished - facts.wanted;
    (off.abs() > ROUNDING).then(|| {
        let message = format!(
            "The upper arm comes to {}; {} was wanted.",
            facts.units.show(finished),
            facts.units.show(facts.wanted),
        );
        finding(&ARM_OFF_WANTED, message)
    })
}

/// Said when a length is given but no tube of that length reaches the cuff.
pub fn tube_too_short() -> Diagnostic {
    let message =
        "The sleeve is too short to reach the cuff by two stitches on each shaping round.";
    finding(&TUBE_SHORT, message.to_owned())
}
