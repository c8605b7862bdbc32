//! The armhole laid flat, with every place a stitch is picked up.

use nalgebra::Point2;

use super::letters::wrapped;
use super::scale::{True, kept_apart};
use super::sheet::{
    BELOW_HEADING, INK, MARGIN, MarkKind, NEW, PAPER, Pen, PointMark, SMALL, Sheet, TextSet, WIDTH,
};
use super::{Figure, Of};
use crate::measure::{Rows, Stitches};
use crate::outline::ArmholeEdge;
use crate::plan::{Crown, Flank, FlankPlan, Hand, SectionName};
use crate::wording::{FROM_SEAM, PickUpList, Rate, rate_rows, rates};

const TALLEST: f64 = 440.0;
/// Widest the opening may be: labels stand at both sides.
const WIDEST: f64 = 210.0;
const PICKED: PointMark = PointMark::full(MarkKind::Dot, 3.0);
const REPEATED: PointMark = PointMark::full(MarkKind::Dot, 6.0);
const LIVE: PointMark = PointMark::open(MarkKind::Square, 3.4);

pub(super) fn armhole(of: &Of<'_>) -> Figure {
    let (front, back) = (
        DrawnEdge::new(of, Flank::Front),
        DrawnEdge::new(of, Flank::Back),
    );
    let deepest_cm = front.depth_cm().max(back.depth_cm());
    let widest_cm = front.out_cm() + back.out_cm();
    let k = (TALLEST / deepest_cm).min(WIDEST / widest_cm);
    let top = BELOW_HEADING + 78.0;
    let map = True {
        origin: (WIDTH / 2.0, top + k * deepest_cm),
        k,
    };
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let next = sheet.mark_key((MARGIN, keys), PICKED, INK, "stitch picked up");
    let next = if of.size.fit.plan.crown.live > Stitches::ZERO {
        sheet.mark_key((next, keys), LIVE, INK, "live stitch")
    } else {
        next
    };
    sheet.key((next, keys), Pen::AXIS, "row passed over");
    front.draw(&mut sheet, map);
    back.draw(&mut sheet, map);
    shoulder(&mut sheet, map, &front, &back, of.size.fit.plan.crown);
    let words = format!(
        "The armhole laid flat, joined at the underarm and drawn apart at the shoulder, true to scale: front at the left, back at the right. The pick-up starts at the crown's end on the {} side, goes over the shoulder and once round. {}. {}. Crown {}, {} of them live.",
        match front.place {
            PickUpTurn::First => "back",
            PickUpTurn::Second => "front",
        },
        front.words(),
        back.words(),
        of.size.fit.plan.crown.stitches,
        of.size.fit.plan.crown.live.count(),
    );
    let end = enlarged(&mut sheet, of, map.origin.1 + 60.0);
    let about = of.about_one_sleeve("armhole", "Where stitches are picked up", words, Some(k));
    sheet.finish(about, end)
}

/// Where a side comes in the pick-up: right after the crown, or last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum PickUpTurn {
    First,
    Second,
}

/// One side of the armhole and its pick-up.
struct DrawnEdge<'a> {
    of: &'a Of<'a>,
    flank: Flank,
    place: PickUpTurn,
    armhole: &'a ArmholeEdge,
    plan: &'a FlankPlan,
    base: Stitches,
    /// Places picked up in, counted from the shoulder down from 0; the crown's first.
    crown: Vec<u32>,
    picked: Vec<u32>,
}

impl<'a> DrawnEdge<'a> {
    fn new(of: &'a Of<'a>, flank: Flank) -> Self {
        let (old, plan) = (&of.size.old, &of.size.fit.plan);
        let place = match (flank, of.case.style.hand) {
            (Flank::Back, Hand::Right) | (Flank::Front, Hand::Left) => PickUpTurn::First,
            (Flank::Front, Hand::Right) | (Flank::Back, Hand::Left) => PickUpTurn::Second,
        };
        let (armhole, of_flank, base) = match flank {
            Flank::Front => (&old.front, &plan.front, plan.base_front),
            Flank::Back => (&old.back, &plan.back, plan.base_back),
        };
        let lists = of.written().map_or(&[][..], |w| w.lists.as_slice());
        let crown_places = plan.crown.rows.count() / 2;
        let is_crown = |list: &&PickUpList| list.section.starts_with(SectionName::Crown.words());
        let crown = lists.iter().filter(is_crown).enumerate();
        let crown = crown.flat_map(|(i, list)| crown_sites(list, i, place, crown_places));
        let picked = lists.iter().filter(|list| !is_crown(list));
        let picked = picked
            .skip(usize::from(place == PickUpTurn::Second))
            .take(1);
        let picked = picked.flat_map(|list| &list.rows);
        Self {
            of,
            flank,
            place,
            armhole,
            plan: of_flank,
            base,
            crown: crown.collect(),
            picked: picked
                .map(|row| (crown_places + row).saturating_sub(1))
                .collect(),
        }
    }

    fn depth_cm(&self) -> f64 {
        self.armhole.shape_cm().last().map_or(0.0, |end| end.y)
    }

    /// How far the edge lies from the middle of the underarm at the most.
    fn out_cm(&self) -> f64 {
        let xs = self.armhole.shape_cm().iter().map(|p| p.x);
        self.armhole.underarm_width().to_cm() + xs.fold(0.0, f64::max)
    }

    /// A point of the shape on the sheet: `x` from the middle of the underarm outward, `y` up.
    fn place(&self, shape: Point2<f64>) -> Point2<f64> {
        let x = self.armhole.underarm_width().to_cm() + shape.x;
        Point2::new(if self.flank == Flank::Front { -x } else { x }, -shape.y)
    }

    /// The point of the edge that lies so many places below the shoulder.
    fn below(&self, places: f64) -> Point2<f64> {
        let along = self.armhole.length_to(places);
        self.place(self.armhole.point_below_shoulder_cm(along))
    }

    /// The middle of a place of the edge.
    fn site(&self, site: u32) -> Point2<f64> {
        self.below(f64::from(site) + 0.5)
    }

    fn draw(&self, sheet: &mut Sheet, map: True) {
        let side = if self.flank == Flank::Front {
            "front"
        } else {
            "back"
        };
        let shape: Vec<_> = self
            .armhole
            .shape_cm()
            .iter()
            .map(|p| self.place(*p))
            .collect();
        let pen = Pen::new(NEW, 1.6, "");
        sheet.line(&map.all(&shape), pen, &[("data-armhole", side.to_owned())]);
        let corner = self.place(Point2::new(0.0, 0.0));
        let middle = Point2::new(0.0, 0.0);
        sheet.line(&map.all(&[corner, middle]), pen, &[]);
        for site in 0..self.armhole.sites().count() {
            let p = self.site(site);
            let (x, y) = map.at(p.x, p.y);
            sheet.rule((x - 4.0, y), (x + 4.0, y), Pen::AXIS);
        }
        for site in self.crown.iter().chain(&self.picked) {
            let p = self.site(*site);
            sheet.mark(map.at(p.x, p.y), PICKED, INK);
        }
        for i in 0..self.base.count() {
            let share = (f64::from(i) + 0.5) / self.base.as_f64();
            let x = self.armhole.underarm_width().to_cm() * share;
            let x = if self.flank == Flank::Front { -x } else { x };
            sheet.mark(map.at(x, 0.0), PICKED, INK);
        }
        self.crown_end(sheet, map);
        self.labels(sheet, map);
    }

    /// A marker where the crown ends and the flank begins.
    fn crown_end(&self, sheet: &mut Sheet, map: True) {
        let p = self.below(self.of.size.fit.plan.crown.rows.as_f64() / 2.0);
        let (x, y) = map.at(p.x, p.y);
        sheet.rule((x - 12.0, y), (x + 12.0, y), Pen::new(INK, 2.4, "2 3"));
    }

    /// What is picked up from the shoulder down: the place it stands beside, and the words.
    fn said(&self) -> Vec<(f64, String)> {
        let half = Rows(self.of.size.fit.plan.crown.rows.count() / 2);
        let mut above = half.as_f64();
        let mut said = Vec::new();
        if !self.crown.is_empty() {
            let words = format!("crown: {} in {half}", self.crown.len());
            said.push((above / 2.0, words));
        }
        if self.place == PickUpTurn::Second {
            said.push((above, "start here".to_owned()));
        }
        for zone in &self.plan.zones {
            let rows = zone.rows.as_f64();
            let words = format!("{} in {}", zone.stitches.count(), zone.rows);
            said.push((above + rows / 2.0, words));
            above += rows;
        }
        said.push((above, format!("base: {}", self.base.count())));
        said
    }

    /// The words beside the edge, and what it is above it.
    fn labels(&self, sheet: &mut Sheet, map: True) {
        let out = map.k * self.out_cm() + 22.0;
        let (x, head_x, set) = if self.flank == Flank::Front {
            (map.origin.0 - out, MARGIN, TextSet::LABEL.end())
        } else {
            (map.origin.0 + out, WIDTH - MARGIN, TextSet::LABEL)
        };
        let said = self.said();
        let wanted: Vec<f64> = said
            .iter()
            .map(|(places, _)| map.at(0.0, self.below(*places).y).1)
            .collect();
        let places = kept_apart(&wanted, 20.0, map.origin.1 + 24.0);
        for ((_, words), y) in said.iter().zip(places) {
            sheet.text((x, y + SMALL / 3.0), set, words);
        }
        let (side, head_set) = if self.flank == Flank::Front {
            ("front", TextSet::LABEL)
        } else {
            ("back", TextSet::LABEL.end())
        };
        let edge = self.of.case.units.show(self.armhole.edge());
        let head = format!("{side}, edge {edge}");
        sheet.text((head_x, BELOW_HEADING + 40.0), head_set, &head);
    }

    fn words(&self) -> String {
        let units = self.of.case.units;
        let zones: Vec<String> = self
            .plan
            .zones
            .iter()
            .map(|zone| format!("{} over {}", zone.stitches, zone.rows))
            .collect();
        format!(
            "{}: edge {}, {} on the crown's side, flank {}, base {}",
            if self.flank == Flank::Front {
                "Front"
            } else {
                "Back"
            },
            units.show(self.armhole.edge()),
            self.crown.len(),
            zones.join(" and "),
            self.base.count()
        )
    }
}

/// The places of a crown's list that lie on one side of the shoulder, counted from the shoulder.
///
/// A crown without live stitches is one list for both sides, or one that comes up the second side and goes down the
/// first; one with them is two lists.
fn crown_sites(list: &PickUpList, at: usize, place: PickUpTurn, half: u32) -> Vec<u32> {
    let two = list.section != SectionName::Crown.words();
    let rows = list.rows.iter().copied();
    match (two, place) {
        (true, PickUpTurn::First) if at == 1 => rows.map(|row| row.saturating_sub(1)).collect(),
        (true, PickUpTurn::Second) if at == 0 => {
            rows.map(|row| list.of.saturating_sub(row)).collect()
        }
        (true, _) => Vec::new(),
        (false, _) if list.counted_from == FROM_SEAM => {
            rows.map(|row| row.saturating_sub(1)).collect()
        }
        (false, PickUpTurn::First) => rows
            .filter(|row| *row > half)
            .map(|row| row - half - 1)
            .collect(),
        (false, PickUpTurn::Second) => rows
            .filter(|row| *row <= half)
            .map(|row| half - row)
            .collect(),
    }
}

/// A rate, and where it is worked.
type RateAt = (Rate, Vec<String>);

/// The rate of each section that is worked most often, each rate once.
fn repeats(of: &Of<'_>) -> Vec<RateAt> {
    let plan = &of.size.fit.plan;
    // Both halves of the crown are picked up alike.
    let picked = plan.crown.stitches.saturating_sub(plan.crown.live);
    let mut sections = vec![(
        "crown".to_owned(),
        Stitches(picked.count() / 2),
        Rows(plan.crown.rows.count() / 2),
    )];
    let alike = plan.front.zones == plan.back.zones;
    let flanks = [("back", &plan.back), ("front", &plan.front)];
    for (name, flank) in flanks.into_iter().take(if alike { 1 } else { 2 }) {
        let name = if alike { "flank" } else { name };
        let zones = (1..).zip(&flank.zones);
        sections.extend(zones.map(|(i, zone)| (format!("{name} {i}"), zone.stitches, zone.rows)));
    }
    let mut found: Vec<RateAt> = Vec::new();
    for (name, stitches, rows) in sections {
        let rates = rates(stitches.count(), rows.count());
        let Some(most) = rates.iter().max_by_key(|rate| rate.rows * rate.times) else {
            continue;
        };
        let same =
            |known: &&mut RateAt| (known.0.stitches, known.0.rows) == (most.stitches, most.rows);
        match found.iter_mut().find(same) {
            Some((_, names)) => names.push(name),
            None if most.rows <= LONGEST_REPEAT => found.push((*most, vec![name])),
            None => {}
        }
    }
    found
}

/// Rows of the longest repeat that is drawn.
const LONGEST_REPEAT: u32 = 12;
/// From row to row of a repeat.
const APART: f64 = 17.0;
/// From one repeat to the next one below it.
const STEP: f64 = 30.0;

/// One repeat of each rate, large enough to be counted; the place where the picture ends.
fn enlarged(sheet: &mut Sheet, of: &Of<'_>, top: f64) -> f64 {
    let repeats = repeats(of);
    if repeats.is_empty() {
        return top - 12.0;
    }
    sheet.text(
        (MARGIN, top),
        TextSet::LABEL,
        "One repeat, enlarged; sections from the crown down",
    );
    let mut y = top;
    for (rate, names) in repeats {
        y += STEP;
        let x = |row: u32| MARGIN + 12.0 + APART * f64::from(row);
        sheet.rule((x(0) - 10.0, y), (x(rate.rows) - 6.0, y), Pen::AXIS);
        for row in 0..rate.rows {
            sheet.rule((x(row), y - 6.0), (x(row), y + 6.0), Pen::AXIS);
        }
        let once = Rate { times: 1, ..rate };
        for row in rate_rows(&[once]) {
            sheet.mark((x(row.saturating_sub(1)), y), REPEATED, INK);
        }
        let words = format!(
            "{} in {}: {}",
            Stitches(rate.stitches),
            Rows(rate.rows),
            names.join(", ")
        );
        let left = MARGIN + 24.0 + APART * f64::from(LONGEST_REPEAT);
        // Other fonts are up to a tenth wider.
        let lines = wrapped(&words, SMALL, (WIDTH - MARGIN - left) / 1.1);
        for (i, line) in lines.iter().enumerate() {
            y += if i > 0 { SMALL * 1.3 } else { 0.0 };
            sheet.text((left, y + SMALL / 3.0), TextSet::LABEL, line);
        }
    }
    y + 24.0
}

/// The shoulder, drawn apart: a dashed link with the live stitches on it, or the one that is picked up in the seam.
fn shoulder(
    sheet: &mut Sheet,
    map: True,
    front: &DrawnEdge<'_>,
    back: &DrawnEdge<'_>,
    crown: Crown,
) {
    let beside = u32::try_from(front.crown.len() + back.crown.len()).unwrap_or(u32::MAX);
    let in_seam = if beside > 0 {
        crown.stitches.saturating_sub(Stitches(beside))
    } else {
        Stitches::ZERO
    };
    let (apart, mark, fill) = if crown.live > Stitches::ZERO {
        (crown.live, LIVE, PAPER)
    } else {
        (in_seam, PICKED, INK)
    };
    let (a, b) = (front.below(0.0), back.below(0.0));
    let (left, right) = (map.at(a.x, a.y), map.at(b.x, b.y));
    sheet.rule(left, right, Pen::new(INK, 1.2, "3 5"));
    for i in 0..apart.count() {
        let share = (f64::from(i) + 0.5) / apart.as_f64();
        let at = |a: f64, b: f64| a + (b - a) * share;
        let p = (at(left.0, right.0), at(left.1, right.1));
        sheet.mark(p, mark, fill);
    }
    let y = f64::midpoint(left.1, right.1) + 26.0;
    sheet.text((map.origin.0, y), TextSet::LABEL.middle(), "shoulder");
}
