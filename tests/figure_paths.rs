//! What is drawn measures what is reported: areas and lengths of the paths, by kurbo.
#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests")]

#[path = "common/figures.rs"]
mod figures;
#[path = "common/random.rs"]
mod random;

use capwright::case::read_case;
use capwright::convert::{SizeConversion, convert};
use capwright::measure::{Length, Stitches};
use capwright::report::{Figure, drift_figures, set_figures, size_figures};
use figures::{CASES, Drawn, case_file, named, parsed, with};
use kurbo::{BezPath, ParamCurveArclen as _, Shape as _};
use proptest::strategy::{Strategy as _, ValueTree as _};
use proptest::test_runner::TestRunner;

/// Coordinates are rounded to three decimals of a user unit.
const ROUNDING: f64 = 0.0005;

/// The one path whose attribute has this value.
fn path(figure: &Figure, key: &str, value: &str) -> BezPath {
    let doc = parsed(&figure.svg);
    let found = with(&doc, key, value);
    assert_eq!(found.len(), 1, "{key}={value} in {}", figure.id);
    BezPath::from_svg(found[0].attribute("d").unwrap()).unwrap()
}

fn length_of(path: &BezPath) -> f64 {
    path.segments().map(|segment| segment.arclen(1e-9)).sum()
}

/// An area is off by at most the rounding times the outline.
fn assert_area(figure: &Figure, outline: &str, area_cm2: f64) {
    let k = figure.units_per_cm.unwrap();
    let path = path(figure, "data-outline", outline);
    let within = 2.0 * ROUNDING * length_of(&path) / (k * k);
    let drawn = path.area().abs() / (k * k);
    assert!((drawn - area_cm2).abs() <= within, "{drawn} for {area_cm2}");
}

/// Every corner moves by at most the rounding in both directions.
fn assert_length(figure: &Figure, path: &BezPath, length: Length) {
    let k = figure.units_per_cm.unwrap();
    let within = 4.0 * ROUNDING * path.elements().len() as f64 / k;
    let drawn = length_of(path) / k;
    assert!(
        (drawn - length.to_cm()).abs() <= within,
        "{drawn} for {length:?} in {}",
        figure.id
    );
}

fn check(size: &SizeConversion, figures: &[Figure]) {
    let (old, new) = (&size.old.cap, &size.fit.measures);
    let plan = &size.fit.plan;
    let overlay = named(figures, "overlay");
    assert_area(overlay, "old", old.area_cm2());
    assert_area(overlay, "new", new.area_cm2);
    let crown = size.gauge.cap.width(plan.crown.stitches) / 2.0;
    let edges = [
        ("old-front", old.curve()),
        ("old-back", old.curve()),
        ("new-front", new.front.edge - crown),
        ("new-back", new.back.edge - crown),
    ];
    for (name, length) in edges {
        assert_length(overlay, &path(overlay, "data-edge", name), length);
    }
    let armhole = named(figures, "armhole");
    for (name, edge) in [("front", &size.old.front), ("back", &size.old.back)] {
        assert_length(armhole, &path(armhole, "data-armhole", name), edge.edge());
    }
    // A dot for every stitch picked up, a square for every live one, one of each in the key.
    let doc = parsed(&armhole.svg);
    let dots = doc
        .root()
        .descendants()
        .filter(|n| n.has_tag_name("circle"));
    let picked = plan.picked_up().count() - plan.crown.live.count();
    assert_eq!(dots.count(), picked as usize + 1);
    let schematic = named(figures, "schematic");
    let k = schematic.units_per_cm.unwrap();
    let cap = path(schematic, "data-part", "cap").bounding_box();
    let join = size.gauge.cap.width(plan.upper_arm());
    assert!((cap.width() / k - join.to_cm()).abs() < 0.001);
    assert!((cap.height() / k - new.depth.to_cm()).abs() < 0.001);
    if let Some(tube) = &size.tube {
        let drawn = path(schematic, "data-part", "tube").bounding_box();
        let widest = Stitches(plan.upper_arm().count().max(tube.cuff.count()));
        let wide = size.gauge.tube.width(widest);
        assert!((drawn.width() / k - wide.to_cm()).abs() < 0.001);
        let long = size.gauge.tube.height(tube.rounds);
        assert!((drawn.height() / k - long.to_cm()).abs() < 0.001);
    }
}

#[test]
fn drawn_paths_measure_what_is_reported() {
    for name in CASES {
        let drawn = Drawn::of(&case_file(name));
        for (at, size) in drawn.conversion.sizes.iter().enumerate() {
            check(size, &drawn.size(at));
        }
        if drawn.conversion.sizes.len() > 1 {
            nested_sizes_measure_what_is_reported(&drawn);
        }
    }
}

#[test]
fn drawn_paths_of_random_caps_measure_what_is_reported() {
    let mut runner = TestRunner::deterministic();
    let mut checked = 0;
    for _ in 0..25 {
        let numbers = random::numbers().new_tree(&mut runner).unwrap().current();
        let case = read_case(&random::case_text(&numbers)).0.unwrap();
        if let Ok(conversion) = convert(&case, None) {
            check(&conversion.sizes[0], &size_figures(&case, &conversion, 0));
            checked += 1;
        }
    }
    assert!(checked >= 15, "{checked}");
}

/// The sizes lie on one another as wide and as deep as they are.
fn nested_sizes_measure_what_is_reported(drawn: &Drawn) {
    let figures = set_figures(&drawn.case, &drawn.conversion);
    let set = named(&figures, "size-set");
    let k = set.units_per_cm.unwrap();
    for (at, size) in drawn.conversion.sizes.iter().enumerate() {
        let join = size.gauge.cap.width(size.fit.plan.upper_arm());
        let sides = [
            ("data-old", size.old.cap.upper_arm(), size.old.cap.depth()),
            ("data-new", join, size.fit.measures.depth),
        ];
        for (key, arm, depth) in sides {
            let side = path(set, key, &at.to_string()).bounding_box();
            assert!((side.width() / k - arm.to_cm() / 2.0).abs() < 0.001);
            assert!((side.height() / k - depth.to_cm()).abs() < 0.001);
        }
    }
}

/// The two thick lines at a join are as long as the jump, half of it at each side.
#[test]
fn the_jump_at_the_join_is_drawn_as_long_as_it_is() {
    let drawn = Drawn::of(&case_file("saddle-lesson"));
    let lesson = drawn.lesson();
    let figures = drift_figures(&drawn.case, &lesson);
    let figure = named(&figures, "four-sleeves");
    let k = figure.units_per_cm.unwrap();
    let doc = parsed(&figure.svg);
    for side in ["left", "right"] {
        let jumps = with(&doc, "data-jump", side);
        assert_eq!(jumps.len(), lesson.sizes[0].sleeves.len());
        for (jump, sleeve) in jumps.iter().zip(&lesson.sizes[0].sleeves) {
            let path = BezPath::from_svg(jump.attribute("d").unwrap()).unwrap();
            let half = sleeve.knitted.jump().abs().to_cm() / 2.0;
            assert!((length_of(&path) / k - half).abs() < 0.001);
        }
    }
}
