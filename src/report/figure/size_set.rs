//! All sizes nested: old caps on the right, new caps on the left, the odd one marked.

use nalgebra::Point2;

use super::Figure;
use super::letters::fitted;
use super::outline::{mirrored, new_edge};
use super::scale::{True, kept_apart};
use super::sheet::{
    About, BELOW_HEADING, INK, MARGIN, MarkKind, NEW, OLD, Pen, PointMark, SMALL, Sheet, TextSet,
    WIDTH,
};
use crate::case::Case;
use crate::convert::{Conversion, SizeConversion};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Units};

const TALLEST: f64 = 380.0;
/// Between two lines of labels.
const LINE: f64 = 19.0;
/// Widest a size's label may be.
const LABEL: f64 = 118.0;
const ODD: PointMark = PointMark::full(MarkKind::Triangle, 6.5);

/// None for one size alone.
pub(super) fn size_set(case: &Case, conversion: &Conversion) -> Option<Figure> {
    if conversion.sizes.len() < 2 {
        return None;
    }
    let nest = Nest::new(case, conversion);
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let next = sheet.key((MARGIN, keys), Pen::new(NEW, 1.6, ""), "new caps (left)");
    let next = sheet.key((next, keys), Pen::new(OLD, 1.6, "6 4"), "old caps (right)");
    if !nest.odd.is_empty() {
        sheet.mark_key((next, keys), ODD, INK, "out of step");
    }
    nest.draw(&mut sheet);
    let (x, y) = nest.map.at(0.0, 0.0);
    sheet.rule((x, y), (x, y - nest.map.k * nest.deepest_cm()), Pen::GUIDE);
    let bottom = y + 24.0;
    sheet.text((x, bottom), TextSet::LABEL.middle(), "underarm line");
    ruler(&mut sheet, case.units, nest.map.k, y);
    let about = About {
        name: "size-set",
        place: "all".to_owned(),
        heading: "All sizes",
        subject: case.title.clone(),
        description: nest.words(),
        units_per_cm: Some(nest.map.k),
    };
    Some(sheet.finish(about, bottom + 16.0))
}

/// A bar of a length that everybody knows, below the underarm line at the right.
fn ruler(sheet: &mut Sheet, units: Units, k: f64, y: f64) {
    let length = units.swatch_length();
    let right = WIDTH - MARGIN;
    let left = right - k * length.to_cm();
    let at = y + 18.0;
    sheet.rule((left, at), (right, at), Pen::AXIS);
    for x in [left, right] {
        sheet.rule((x, at - 5.0), (x, at + 5.0), Pen::AXIS);
    }
    let text = format!("{} {units}", units.number(length));
    sheet.text((left - 8.0, at + SMALL / 3.0), TextSet::LABEL.end(), &text);
}

/// The right-hand side of the old cap and of the new one, up from the underarm line.
fn sides(size: &SizeConversion) -> (Vec<Point2<f64>>, Vec<Point2<f64>>) {
    let up = |mut points: Vec<Point2<f64>>, half_arm: f64| {
        let depth = points.last().map_or(0.0, |p| p.y);
        points.push(Point2::new(half_arm, depth));
        points.insert(0, Point2::new(0.0, 0.0));
        points
            .iter()
            .map(|p| Point2::new(p.x, p.y - depth))
            .collect()
    };
    let old = &size.old.cap;
    let join = size.gauge.cap.width(size.fit.plan.cap_end());
    (
        up(old.edge_points_cm(), old.upper_arm().to_cm() / 2.0),
        up(new_edge(size, &size.fit.measures.front), join.to_cm() / 2.0),
    )
}

struct Nest<'a> {
    case: &'a Case,
    sizes: &'a [SizeConversion],
    /// Places of the sizes that break the order or the usual step.
    odd: Vec<usize>,
    /// What was said about them.
    found: Vec<&'a str>,
    map: True,
}

impl<'a> Nest<'a> {
    fn new(case: &'a Case, conversion: &'a Conversion) -> Self {
        let sizes = &conversion.sizes;
        let of_set = |found: &&Diagnostic| ["size-order", "grading-jump"].contains(&found.code.id);
        let found: Vec<&Diagnostic> = conversion.findings.iter().filter(of_set).collect();
        let breaks = |size: &SizeConversion| {
            let size = Some(&size.old.size);
            found.iter().any(|found| found.size.as_ref() == size)
        };
        let odd = sizes.iter().enumerate().filter(|(_, size)| breaks(size));
        let mut nest = Self {
            case,
            sizes,
            odd: odd.map(|(place, _)| place).collect(),
            found: found.iter().map(|found| found.message.as_str()).collect(),
            map: True {
                origin: (0.0, 0.0),
                k: 1.0,
            },
        };
        let k = ((WIDTH - 2.0 * MARGIN) / nest.widest_cm()).min(TALLEST / nest.deepest_cm());
        // The labels stand above the lowest top, clear of all outlines.
        let shallowest = sizes.iter().map(|size| size.old.cap.depth().to_cm());
        let lowest = k * shallowest.fold(f64::INFINITY, f64::min);
        let labels = LINE * sizes.len() as f64;
        nest.map = True {
            origin: (
                WIDTH / 2.0,
                BELOW_HEADING + 40.0 + (lowest + labels).max(k * nest.deepest_cm()),
            ),
            k,
        };
        nest
    }

    fn widest_cm(&self) -> f64 {
        let widths = self.sizes.iter().flat_map(|size| {
            let join = size.gauge.cap.width(size.fit.plan.cap_end());
            [join, size.old.cap.upper_arm()]
        });
        widths.map(Length::to_cm).fold(0.0, f64::max)
    }

    fn deepest_cm(&self) -> f64 {
        let depths = self.sizes.iter();
        let depths = depths.flat_map(|size| [size.old.cap.depth(), size.fit.measures.depth]);
        depths.map(Length::to_cm).fold(0.0, f64::max)
    }

    fn draw(&self, sheet: &mut Sheet) {
        let mut corners = Vec::new();
        for (place, size) in self.sizes.iter().enumerate() {
            let width = if self.odd.contains(&place) { 3.2 } else { 1.3 };
            let (old, new) = sides(size);
            let pen = Pen::new(NEW, width, "");
            let name = place.to_string();
            sheet.line(
                &self.map.all(&mirrored(&new)),
                pen,
                &[("data-new", name.clone())],
            );
            let pen = Pen::new(OLD, width, "6 4");
            sheet.line(&self.map.all(&old), pen, &[("data-old", name)]);
            // The top corner of the old cap: the labels lead to it.
            let corner = old.get(1).copied().unwrap_or_default();
            corners.push((self.map.at(corner.x, corner.y), place));
        }
        corners.sort_by(|((_, a), i), ((_, b), j)| a.total_cmp(b).then(j.cmp(i)));
        let wanted: Vec<f64> = corners.iter().map(|(at, _)| at.1).collect();
        let lowest = wanted.last().copied().unwrap_or_default();
        let places = kept_apart(&wanted, LINE, lowest);
        for ((corner, place), y) in corners.into_iter().zip(places) {
            self.label(sheet, corner, place, y);
        }
    }

    fn label(&self, sheet: &mut Sheet, corner: (f64, f64), place: usize, y: f64) {
        let x = WIDTH - MARGIN - LABEL;
        sheet.rule(corner, (x - 22.0, y), Pen::GUIDE);
        if self.odd.contains(&place) {
            sheet.mark((x - 10.0, y), ODD, INK);
        }
        let label = self.sizes.get(place).map_or("", |size| &size.old.size);
        let text = fitted(label, SMALL, LABEL);
        sheet.text((x, y + SMALL / 3.0), TextSet::LABEL, &text);
    }

    fn words(&self) -> String {
        let units = self.case.units;
        let sizes = self.sizes.iter().enumerate().map(|(place, size)| {
            let (old, m) = (&size.old.cap, &size.fit.measures);
            let odd = if self.odd.contains(&place) {
                ", out of step with its neighbours"
            } else {
                ""
            };
            format!(
                "{}: old cap {} deep, {}, upper arm {}; new cap {} deep, {}, upper arm {}{odd}",
                size.old.size,
                units.show(old.depth()),
                units.show_area(old.area_cm2()),
                units.show(old.upper_arm()),
                units.show(m.depth),
                units.show_area(m.area_cm2),
                units.show(m.upper_arm),
            )
        });
        let sizes: Vec<String> = sizes.collect();
        format!(
            "All sizes nested on the centre line and the underarm line, true to scale: new caps at the left, old caps at the right. {}. {}",
            sizes.join(". "),
            self.found.join(" ")
        )
    }
}
