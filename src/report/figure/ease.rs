//! The ease strip: where along the armhole the cap is fuller or tighter, old and new.

use crate::report::flat::flat_name;
use nalgebra::Point2;

use super::scale::{Axis, Frame};
use super::sheet::{BELOW_HEADING, INK, MARGIN, NEW, OLD, OLD_FILL, Pen, SMALL, Set, Sheet, WIDTH};
use super::{Figure, Of};
use crate::measure::{Length, Units};
use crate::outline::EaseBand;

/// Height of one panel.
const PANEL: f64 = 170.0;
/// From one panel to the next.
const APART: f64 = 72.0;

pub(super) fn ease_strip(of: &Of<'_>) -> Figure {
    let size = of.size;
    let alike = size.old.is_alike() && size.front_ease == size.back_ease;
    let both = [
        ("front", &size.old.front_ease, &size.front_ease),
        ("back", &size.old.back_ease, &size.back_ease),
    ];
    let panels = both.get(..if alike { 1 } else { 2 }).unwrap_or(&both);
    let units = of.case.units;
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let next = swatch_key(&mut sheet, (MARGIN, keys), Bar::OLD, flat_name(&size.old));
    let next = swatch_key(&mut sheet, (next, keys), Bar::NEW, "new cap");
    let said = format!("above the line fuller, below tighter ({units})");
    sheet.text((next, keys), Set::LABEL, &said);
    let all = panels
        .iter()
        .flat_map(|(_, old, new)| old.iter().chain(new.iter()));
    let numbers: Vec<f64> = all.map(|band| units.number(band.ease())).collect();
    let mut words = Vec::new();
    let mut top = BELOW_HEADING + 66.0;
    for (name, old, new) in panels {
        let name = if alike { "front and back alike" } else { name };
        let head = format!(
            "{name}: in all {} old, {} new",
            signed(units, sum(old)),
            signed(units, sum(new))
        );
        sheet.text((MARGIN, top - 18.0), Set::LABEL, &head);
        panel(&mut sheet, units, (old, new), &numbers, top);
        words.push(format!(
            "{head}. Old {}; new {}",
            listed(units, old),
            listed(units, new)
        ));
        top += PANEL + APART;
    }
    let words = format!(
        "Ease along the edge from underarm to shoulder, cap less armhole at the same heights: {}.",
        words.join(". ")
    );
    let about = of.about("ease-strip", "Ease along the armhole", words, None);
    sheet.finish(about, top - APART + 40.0)
}

fn sum(strip: &[EaseBand]) -> Length {
    strip.iter().map(EaseBand::ease).sum()
}

fn signed(units: Units, length: Length) -> String {
    let hundredths = (units.number(length) * 100.0).round() / 100.0 + 0.0;
    format!("{hundredths:+.2} {units}")
}

fn listed(units: Units, strip: &[EaseBand]) -> String {
    let bands = strip.iter().map(|band| {
        let hundredths = (units.number(band.ease()) * 100.0).round() / 100.0 + 0.0;
        format!("{hundredths:+.2}")
    });
    bands.collect::<Vec<String>>().join(", ")
}

/// How a bar is drawn.
#[derive(Clone, Copy)]
struct Bar {
    fill: &'static str,
    pen: Pen,
}

impl Bar {
    const OLD: Self = Self {
        fill: OLD_FILL,
        pen: Pen::new(OLD, 1.4, "5 3"),
    };
    const NEW: Self = Self {
        fill: NEW,
        pen: Pen::new(NEW, 1.4, ""),
    };
}

fn swatch_key(sheet: &mut Sheet, at: (f64, f64), bar: Bar, text: &str) -> f64 {
    let (x, y) = at;
    let corners = rectangle(x, y - 12.0, x + 18.0, y);
    sheet.shape(&corners, bar.fill, Some(bar.pen), &[]);
    sheet.text((x + 26.0, y), Set::LABEL, text);
    x + 26.0 + super::letters::width_of(text, SMALL) + 22.0
}

pub(super) fn rectangle(left: f64, top: f64, right: f64, bottom: f64) -> [Point2<f64>; 4] {
    [
        Point2::new(left, top),
        Point2::new(right, top),
        Point2::new(right, bottom),
        Point2::new(left, bottom),
    ]
}

fn panel(
    sheet: &mut Sheet,
    units: Units,
    (old, new): (&[EaseBand], &[EaseBand]),
    numbers: &[f64],
    top: f64,
) {
    let frame = Frame {
        left: 74.0,
        right: WIDTH - MARGIN,
        top,
        bottom: top + PANEL,
    };
    let axis = Axis::of(numbers, true, frame.bottom, frame.top);
    frame.across(sheet, &axis, &axis.marks(6));
    let band = (frame.right - frame.left) / old.len().max(1) as f64;
    for (i, (old, new)) in old.iter().zip(new).enumerate() {
        let left = frame.left + band * i as f64;
        for (bar, ease, at) in [(Bar::OLD, old.ease(), 0.14), (Bar::NEW, new.ease(), 0.52)] {
            let x = left + band * at;
            let y = axis.at(units.number(ease));
            let corners = rectangle(x, y, x + band * 0.34, axis.at(0.0));
            sheet.shape(&corners, bar.fill, Some(bar.pen), &[]);
        }
    }
    sheet.rule(
        (frame.left, axis.at(0.0)),
        (frame.right, axis.at(0.0)),
        Pen::AXIS,
    );
    let base = frame.bottom + 22.0;
    sheet.text((frame.left, base), Set::LABEL, "underarm");
    sheet.text((frame.right, base), Set::LABEL.end(), "shoulder");
    let arrow = f64::midpoint(frame.left, frame.right);
    let y = base - SMALL / 3.0;
    sheet.rule((arrow - 90.0, y), (arrow + 82.0, y), Pen::AXIS);
    let head = [
        Point2::new(arrow + 90.0, y),
        Point2::new(arrow + 80.0, y - 4.0),
        Point2::new(arrow + 80.0, y + 4.0),
    ];
    sheet.shape(&head, INK, None, &[]);
}
