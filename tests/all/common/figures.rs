//! Figures of a case, read back as XML.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of several tests, none of which uses all"
)]

use capwright::case::{Case, read_case};
use capwright::convert::drift::{DriftLesson, drift};
use capwright::convert::{Conversion, SizeConversion, convert};
use capwright::measure::{Length, Stitches};
use capwright::report::{Figure, drift_figures, set_figures, size_figures};
use kurbo::{BezPath, ParamCurveArclen as _, Shape as _};
use roxmltree::{Document, Node};

/// The cases of the project.
pub const CASES: [&str; 3] = ["tern-harbour", "quillam-cardigan", "saddle-lesson"];

pub fn case_file(name: &str) -> String {
    std::fs::read_to_string(format!("cases/{name}.toml")).unwrap()
}

/// A case with all that is drawn of it.
pub struct Drawn {
    pub case: Case,
    pub conversion: Conversion,
}

impl Drawn {
    pub fn of(text: &str) -> Self {
        let (case, said) = read_case(text);
        let case = case.unwrap_or_else(|| panic!("{said:?}"));
        Self {
            conversion: convert(&case, None).unwrap(),
            case,
        }
    }

    pub fn size(&self, at: usize) -> Vec<Figure> {
        size_figures(&self.case, &self.conversion, at)
    }

    /// The lesson of the first size: it plans every sleeve four times.
    pub fn lesson(&self) -> DriftLesson {
        drift(&self.case, Some(0)).unwrap()
    }

    pub fn all(&self) -> Vec<Figure> {
        let sizes = (0..self.conversion.sizes.len()).flat_map(|at| self.size(at));
        let set = set_figures(&self.case, &self.conversion);
        let lesson = drift_figures(&self.case, &self.lesson());
        sizes.chain(set).chain(lesson).collect()
    }
}

pub fn named<'a>(figures: &'a [Figure], name: &str) -> &'a Figure {
    figures.iter().find(|figure| figure.name == name).unwrap()
}

pub fn parsed(svg: &str) -> Document<'_> {
    Document::parse(svg).unwrap_or_else(|error| panic!("{error}\n{svg}"))
}

/// The elements whose attribute has this value.
pub fn with<'a>(doc: &'a Document<'a>, key: &'a str, value: &'a str) -> Vec<Node<'a, 'a>> {
    let all = doc.root().descendants();
    all.filter(|node| node.attribute(key) == Some(value))
        .collect()
}

pub fn number(node: Node<'_, '_>, key: &str) -> f64 {
    let value = node.attribute(key);
    let value = value.unwrap_or_else(|| panic!("no {key} in {node:?}"));
    value.parse().unwrap()
}

/// Everything that keeps the words of a figure from being read: letters below 5 pt at a width of
/// 8 cm, text outside the paper, text over text.
pub fn faults_of_words(figure: &Figure) -> Vec<String> {
    let doc = parsed(&figure.svg);
    let texts = doc.root().descendants().filter(|n| n.has_tag_name("text"));
    let boxes: Vec<Words> = texts.map(Words::new).collect();
    let mut faults = Vec::new();
    for (i, one) in boxes.iter().enumerate() {
        // 1 pt is 1/72 in.
        let points = one.size / figure.width * 8.0 / 2.54 * 72.0;
        if points < 5.0 {
            faults.push(format!("{}: {points:.1} pt: {}", figure.id, one.text));
        }
        if one.left < 0.0 || one.top < 0.0 || one.right > figure.width || one.bottom > figure.height
        {
            faults.push(format!("{}: outside: {one:?}", figure.id));
        }
        for other in boxes.iter().skip(i + 1).filter(|other| one.overlaps(other)) {
            faults.push(format!("{}: {one:?} over {other:?}", figure.id));
        }
    }
    faults
}

/// A line of text with a box round it that is not too small.
#[derive(Debug)]
struct Words {
    text: String,
    size: f64,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Words {
    fn new(node: Node<'_, '_>) -> Self {
        let text = node.text().unwrap_or_default().to_owned();
        let (x, y, size) = (
            number(node, "x"),
            number(node, "y"),
            number(node, "font-size"),
        );
        let width = text.chars().map(at_most).sum::<f64>() * size;
        let left = match node.attribute("text-anchor").unwrap() {
            "start" => x,
            "middle" => x - width / 2.0,
            "end" => x - width,
            other => panic!("{other}"),
        };
        Self {
            text,
            size,
            left,
            right: left + width,
            // Ascenders and descenders of the fonts asked for, from memory.
            top: y - 0.76 * size,
            bottom: y + 0.24 * size,
        }
    }

    fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// A width no letter of its kind goes beyond in common sans-serif fonts, in letter sizes: Arial,
/// Helvetica, Verdana and the wide font the figures ask for (from memory, rounded up).
fn at_most(letter: char) -> f64 {
    match letter {
        ' ' | '.' | ',' | ':' | ';' | '\'' | 'i' | 'j' | 'l' | 'I' => 0.34,
        '-' | 'f' | 't' | 'r' | '(' | ')' | '!' | '[' | ']' | '\\' => 0.42,
        '"' => 0.46,
        'm' | 'W' | '%' => 1.0,
        'w' | 'M' | '+' | '<' | '>' => 0.88,
        'a'..='z' | '0'..='9' => 0.64,
        'A'..='Z' | '&' => 0.79,
        _ => 1.0,
    }
}

/// Coordinates are rounded to three decimals of a user unit.
const ROUNDING: f64 = 0.0005;

/// The one path whose attribute has this value.
pub fn path(figure: &Figure, key: &str, value: &str) -> BezPath {
    let doc = parsed(&figure.svg);
    let found = with(&doc, key, value);
    assert_eq!(found.len(), 1, "{key}={value} in {}", figure.id);
    BezPath::from_svg(found[0].attribute("d").unwrap()).unwrap()
}

pub fn length_of(path: &BezPath) -> f64 {
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

/// What is drawn of a size measures what is reported of it.
pub fn assert_drawn_to_measure(size: &SizeConversion, figures: &[Figure]) {
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
    assert_pick_up(size, armhole);
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
        let long = size.gauge.tube.height(tube.rows_below_underarm());
        assert!((drawn.height() / k - long.to_cm()).abs() < 0.001);
    }
}

/// A dot for every stitch picked up, each flank's on its own side, the crown's halved.
fn assert_pick_up(size: &SizeConversion, armhole: &Figure) {
    let plan = &size.fit.plan;
    let doc = parsed(&armhole.svg);
    let dots = doc
        .root()
        .descendants()
        .filter(|n| n.has_tag_name("circle"))
        // Those of a repeat are drawn larger, to be counted.
        .filter(|dot| number(*dot, "r") < 5.0);
    // The first one is in the key.
    let left: Vec<bool> = dots
        .skip(1)
        .map(|dot| number(dot, "cx") < armhole.width / 2.0)
        .collect();
    let front = left.iter().filter(|left| **left).count();
    let back = left.len() - front;
    let below = |flank: Stitches, base: Stitches| (flank + base).count() as usize;
    let crown = [
        front.checked_sub(below(plan.front.picked_up(), plan.base_front)),
        back.checked_sub(below(plan.back.picked_up(), plan.base_back)),
    ];
    let [Some(front), Some(back)] = crown else {
        panic!("{crown:?} in {}", armhole.id);
    };
    let picked = plan.crown.stitches.count() - plan.crown.live.count();
    assert_eq!(front + back, picked as usize);
    // Two rates over the shoulder: never two stitches from even (`wording/rates.rs`).
    assert!(front.abs_diff(back) <= 2, "{front} and {back}");
}
