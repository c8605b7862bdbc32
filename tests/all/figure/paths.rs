//! What is drawn measures what is reported: areas and lengths of the paths, by kurbo.

use crate::common::figures::{
    CASES, Drawn, assert_drawn_to_measure, case_file, length_of, named, parsed, path, with,
};
use capwright::report::{drift_figures, set_figures};
use kurbo::{BezPath, Shape as _};

#[test]
fn drawn_paths_measure_what_is_reported() {
    for name in CASES {
        let drawn = Drawn::of(&case_file(name));
        for (at, size) in drawn.conversion.sizes.iter().enumerate() {
            assert_drawn_to_measure(size, &drawn.size(at));
        }
        if drawn.conversion.sizes.len() > 1 {
            nested_sizes_measure_what_is_reported(&drawn);
        }
    }
}

/// The sizes lie on one another as wide and as deep as they are.
fn nested_sizes_measure_what_is_reported(drawn: &Drawn) {
    let figures = set_figures(&drawn.case, &drawn.conversion);
    let set = named(&figures, "size-set");
    let k = set.units_per_cm.unwrap();
    for (at, size) in drawn.conversion.sizes.iter().enumerate() {
        let join = size.gauge.cap.width(size.fit.plan.cap_end());
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
    let figure = named(&figures, "planned-sleeves");
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
