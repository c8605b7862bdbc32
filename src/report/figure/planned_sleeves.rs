//! The same sleeve planned with different gauges and knitted by the same hands, side by side.

use nalgebra::Point2;

use super::super::number::signed_in;
use super::Figure;
use super::outline::{closed, mirrored, tube_steps};
use super::scale::True;
use super::sheet::{
    About, BELOW_HEADING, INK, MARGIN, NEW, NEW_FILL, OLD, Pen, Sheet, TextSet, WIDTH,
};
use crate::case::Case;
use crate::convert::GaugeSource;
use crate::convert::drift::{DriftLesson, PlannedSleeve, SizeDrift, Taken, Truth};
use crate::fit::edge_points_cm;
use crate::measure::{Length, Units};
use crate::plan::FlankPlan;

const TALLEST: f64 = 300.0;
const WANTED: Pen = Pen::new(OLD, 1.6, "5 4");
/// The step in width where the cap meets the tube.
const JUMP: Pen = Pen::new(INK, 5.0, "");
const STUB: Length = Length::cm(8.0);

pub(super) fn planned_sleeves(
    case: &Case,
    lesson: &DriftLesson,
    size: &SizeDrift,
    place: usize,
) -> Figure {
    let truth = Truth {
        cap: lesson.gauge.cap,
        tube: lesson.gauge.tube,
    };
    let drawn: Vec<DrawnSleeve> = size
        .sleeves
        .iter()
        .map(|one| DrawnSleeve::new(one, size, truth))
        .collect();
    let column = (WIDTH - 2.0 * MARGIN) / drawn.len().max(1) as f64;
    let most = |of: fn(&DrawnSleeve) -> f64| drawn.iter().map(of).fold(0.0, f64::max);
    let (wide, deep) = (most(DrawnSleeve::wide), most(|sleeve| sleeve.deep));
    let k = ((column - 12.0) / wide).min(TALLEST / deep);
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let next = sheet.key((MARGIN, keys), Pen::new(NEW, 2.0, ""), "knitted");
    let next = sheet.key((next, keys), WANTED, "wanted");
    let next = sheet.key((next, keys), JUMP, "jump at the join");
    let numbers = format!("numbers: off, in {}", case.units);
    sheet.text((next, keys), TextSet::LABEL, &numbers);
    let top = BELOW_HEADING + 64.0;
    for (i, (sleeve, planned)) in drawn.iter().zip(&size.sleeves).enumerate() {
        let centre = MARGIN + column * (i as f64 + 0.5);
        let map = True {
            origin: (centre, top),
            k,
        };
        sheet.text(
            (centre, top - 20.0),
            TextSet::LABEL.middle(),
            taken(planned.taken),
        );
        sleeve.draw(&mut sheet, map);
        let mut y = top + k * deep + 30.0;
        for line in below(case.units, planned) {
            sheet.text((centre, y), TextSet::LABEL.middle(), &line);
            y += 20.0;
        }
    }
    let about = About {
        name: "planned-sleeves",
        place: place.to_string(),
        heading: "One pair of hands, different plans",
        subject: format!("{}, {}", case.title, size.size),
        description: words(case.units, size),
        units_per_cm: Some(k),
    };
    sheet.finish(about, top + k * deep + 30.0 + 20.0 * 4.0 + 2.0)
}

/// Which gauge a plan took, in a few letters.
const fn taken(taken: Taken) -> &'static str {
    match taken {
        Taken::EachItsOwn => "each its own",
        Taken::PlainJoin => "plain join",
        Taken::OneForAll(GaugeSource::Pattern) => "pattern's",
        Taken::OneForAll(GaugeSource::Flat) => "flat alone",
        Taken::OneForAll(GaugeSource::Round) => "round alone",
    }
}

/// One sleeve's outlines in centimetres.
struct DrawnSleeve {
    cap: Vec<Point2<f64>>,
    tube: Vec<Point2<f64>>,
    wanted: Vec<Point2<f64>>,
    /// The right-hand ends of the join: the tube's and the cap's.
    join: [Point2<f64>; 2],
    deep: f64,
}

impl DrawnSleeve {
    fn new(planned: &PlannedSleeve, size: &SizeDrift, truth: Truth) -> Self {
        let (plan, knitted) = (&planned.plan, &planned.knitted);
        let depth = knitted.depth.to_cm();
        let join = knitted.join_cap_side.to_cm() / 2.0;
        let side = |flank: &FlankPlan| {
            let s = truth.cap.stitch_width().to_cm();
            let halves = flank.half_stitches(plan.cap.crown).into_iter();
            let halves: Vec<f64> = halves.map(|half| half * s).collect();
            let heights = vec![2.0 * truth.cap.row_height().to_cm(); halves.len()];
            let mut edge = edge_points_cm(&halves, &heights, knitted.picked_up);
            edge.push(Point2::new(join, depth));
            edge
        };
        let arm = knitted.upper_arm.to_cm() / 2.0;
        let stub = || vec![Point2::new(arm, 0.0), Point2::new(arm, STUB.to_cm())];
        let tube = plan.tube.as_ref();
        let tube = tube.map_or_else(stub, |tube| tube_steps(tube, truth.tube));
        let below: Vec<_> = tube.iter().map(|p| Point2::new(p.x, p.y + depth)).collect();
        let wanted = wanted(size);
        let all = below.iter().chain(&wanted);
        Self {
            join: [Point2::new(arm, depth), Point2::new(join, depth)],
            deep: all.map(|p| p.y).fold(depth, f64::max),
            cap: closed(&side(&plan.cap.back), &side(&plan.cap.front)),
            tube: closed(&below, &below),
            wanted: closed(&wanted, &wanted),
        }
    }

    fn wide(&self) -> f64 {
        let all = self.cap.iter().chain(&self.tube).chain(&self.wanted);
        2.0 * all.map(|p| p.x.abs()).fold(0.0, f64::max)
    }

    fn draw(&self, sheet: &mut Sheet, map: True) {
        let pen = Pen::new(NEW, 1.6, "");
        sheet.shape(
            &map.all(&self.tube),
            "none",
            Some(pen),
            &[("data-part", "tube".to_owned())],
        );
        sheet.shape(
            &map.all(&self.cap),
            NEW_FILL,
            Some(pen),
            &[("data-part", "cap".to_owned())],
        );
        sheet.shape(&map.all(&self.wanted), "none", Some(WANTED), &[]);
        let jump = |side: &str| [("data-jump", side.to_owned())];
        sheet.line(&map.all(&self.join), JUMP, &jump("right"));
        sheet.line(&map.all(&mirrored(&self.join)), JUMP, &jump("left"));
    }
}

/// What was wanted below the cap: upper arm, cuff and length, from the depth wanted down.
fn wanted(size: &SizeDrift) -> Vec<Point2<f64>> {
    let wanted = &size.wanted;
    let (arm, depth) = (wanted.upper_arm.to_cm() / 2.0, wanted.depth.to_cm());
    let cuff = wanted.cuff.map_or(arm, |cuff| cuff.to_cm() / 2.0);
    let length = wanted.tube_length.unwrap_or(STUB).to_cm();
    vec![Point2::new(arm, depth), Point2::new(cuff, depth + length)]
}

/// What is off, under each sleeve.
fn below(units: Units, planned: &PlannedSleeve) -> Vec<String> {
    let off = &planned.off;
    let mut lines = vec![
        format!("arm {}", signed_in(units, off.upper_arm)),
        format!("depth {}", signed_in(units, off.depth)),
    ];
    lines.extend(
        off.tube_length
            .map(|off| format!("length {}", signed_in(units, off))),
    );
    lines.push(format!("jump {}", signed_in(units, planned.knitted.jump())));
    lines
}

fn words(units: Units, size: &SizeDrift) -> String {
    let sleeves = size.sleeves.iter().map(|planned| {
        let k = &planned.knitted;
        format!(
            "{}: {} ({units}); upper arm {}, cap {} deep, {} on the cap's side of the join",
            taken(planned.taken),
            below(units, planned).join(", "),
            units.show(k.upper_arm),
            units.show(k.depth),
            units.show(k.join_cap_side)
        )
    });
    let sleeves: Vec<String> = sleeves.collect();
    format!(
        "The same sleeve planned with different gauges and knitted by the same hands, true to scale, against the upper arm of {}, the cap depth of {} and the length that were wanted. Off what was wanted, and the jump in width where cap and tube meet: {}.",
        units.show(size.wanted.upper_arm),
        units.show(size.wanted.depth),
        sleeves.join(". ")
    )
}
