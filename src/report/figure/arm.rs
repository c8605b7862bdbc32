//! The arms of the people of the size, and the finished upper arm among them.

use super::super::number::signed;
use super::ease::rectangle;
use super::scale::{Axis, ChartFrame};
use super::sheet::{
    BELOW_HEADING, INK, MARGIN, MarkKind, NEW_FILL, PAPER, Pen, PointMark, Sheet, TextSet, WIDTH,
};
use super::{Figure, Of};
use crate::body::{Arm, ArmBin, share_in_words};
use crate::measure::{Length, Units};

const PANEL: f64 = 220.0;
const TYPICAL: PointMark = PointMark::full(MarkKind::Triangle, 7.0);

/// None when the case names nobody.
pub(super) fn arm(of: &Of<'_>) -> Option<Figure> {
    let arm = of.size.old.arm.as_ref()?;
    let units = of.case.units;
    let (finished, old) = (of.size.fit.measures.upper_arm, of.size.old.cap.upper_arm());
    let bins = arm.bins(bin_width(units));
    let mut sheet = Sheet::default();
    let keys = BELOW_HEADING + 14.0;
    let text = format!("finished upper arm {}", units.show(finished));
    sheet.key((MARGIN, keys), Pen::NEW, &text);
    let text = format!("old upper arm {}", units.show(old));
    sheet.key((MARGIN, keys + 22.0), Pen::OLD, &text);
    let whose = if arm.is_measured() {
        "measured arm"
    } else {
        "usual arm"
    };
    let text = format!("{whose} {}", units.show(arm.typical()));
    sheet.mark_key((330.0, keys + 22.0), TYPICAL, INK, &text);
    let top = BELOW_HEADING + if bins.is_empty() { 66.0 } else { 92.0 };
    let high = if bins.is_empty() { 60.0 } else { PANEL };
    let frame = ChartFrame {
        left: 74.0,
        right: WIDTH - MARGIN,
        top,
        bottom: top + high,
    };
    let along = girths(arm, &bins, [finished, old], units, frame);
    if !bins.is_empty() {
        sheet.text((MARGIN, top - 18.0), TextSet::LABEL, "arms in 100");
        bars(&mut sheet, frame, &along, &bins, (finished, units));
    }
    for (girth, pen) in [(old, Pen::OLD), (finished, Pen::NEW)] {
        let x = along.at(units.number(girth));
        sheet.rule((x, frame.top), (x, frame.bottom), pen);
    }
    let typical = along.at(units.number(arm.typical()));
    sheet.mark((typical, frame.bottom - 8.0), TYPICAL, INK);
    frame.below(&mut sheet, &along, &along.marks(10));
    let foot = frame.bottom + 44.0;
    sheet.text(
        (WIDTH - MARGIN, foot),
        TextSet::LABEL.end(),
        &format!("upper arm ({units})"),
    );
    let fits = fits(units, arm, finished);
    sheet.text((MARGIN, foot), TextSet::LABEL, &fits);
    let about = of.about(
        "arm",
        "Upper arm and the arms of the size",
        words(of, arm, &fits),
        None,
    );
    Some(sheet.finish(about, foot + 16.0))
}

fn bin_width(units: Units) -> Length {
    match units {
        Units::Cm => Length::cm(1.0),
        Units::In => Length::inches(0.5),
    }
}

/// The axis that holds bars, lines and arm.
fn girths(
    arm: &Arm,
    bins: &[ArmBin],
    sleeves: [Length; 2],
    units: Units,
    frame: ChartFrame,
) -> Axis {
    let ends = bins.iter().flat_map(|bin| [bin.from, bin.to]);
    let all = ends.chain(sleeves).chain([arm.typical()]);
    let numbers: Vec<f64> = all.map(|girth| units.number(girth)).collect();
    Axis::of(&numbers, false, frame.left, frame.right)
}

fn bars(
    sheet: &mut Sheet,
    frame: ChartFrame,
    along: &Axis,
    bins: &[ArmBin],
    (finished, units): (Length, Units),
) {
    let shares: Vec<f64> = bins.iter().map(|bin| 100.0 * bin.share).collect();
    let axis = Axis::of(&shares, true, frame.bottom, frame.top);
    frame.across(sheet, &axis, &axis.marks(5));
    for (bin, share) in bins.iter().zip(&shares) {
        let (left, right) = (
            along.at(units.number(bin.from)),
            along.at(units.number(bin.to)),
        );
        let corners = rectangle(left, axis.at(*share), right, frame.bottom);
        let fill = if bin.to <= finished { NEW_FILL } else { PAPER };
        sheet.shape(&corners, fill, Some(Pen::AXIS), &[]);
    }
}

/// How many of the arms the sleeve goes round without stretching; of one measured arm, its ease.
fn fits(units: Units, arm: &Arm, finished: Length) -> String {
    let Some(share) = arm.share_fitting(finished, Length::ZERO) else {
        let ease = units.number(finished - arm.typical());
        return format!("ease {} {units}", signed(ease));
    };
    format!("no thicker than the sleeve: {}", share_in_words(share))
}

fn words(of: &Of<'_>, arm: &Arm, fits: &str) -> String {
    let units = of.case.units;
    let spread = if arm.is_measured() {
        String::new()
    } else {
        format!(
            " Of {} nine arms in ten lie between {} and {}.",
            arm.people,
            units.show(arm.low),
            units.show(arm.high)
        )
    };
    format!(
        "The finished upper arm of {} and the old one of {} on the arms of {} ({}), usually {}.{spread} In all: {fits}.",
        units.show(of.size.fit.measures.upper_arm),
        units.show(of.size.old.cap.upper_arm()),
        arm.label,
        arm.source,
        units.show(arm.typical())
    )
}
