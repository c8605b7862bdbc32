//! Figures are SVG that any reader takes, with words for those who do not see them.

use crate::common::figures;
use std::collections::BTreeSet;

use crate::common::figures::{CASES, Drawn, case_file, named, parsed, with};
use capwright::case::read_case;
use capwright::convert::convert;
use capwright::report::{Figure, drift_figures, set_figures};

/// Elements that any renderer of static SVG 1.1 knows (W3C, SVG 1.1 second edition).
const ELEMENTS: [&str; 9] = [
    "svg", "title", "desc", "g", "rect", "path", "line", "circle", "text",
];

/// Attributes whose value is a number.
const NUMBERS: [&str; 13] = [
    "x",
    "y",
    "x1",
    "y1",
    "x2",
    "y2",
    "cx",
    "cy",
    "r",
    "width",
    "height",
    "font-size",
    "stroke-width",
];

fn sound(figure: &Figure) {
    let doc = parsed(&figure.svg);
    let root = doc.root_element();
    let children: Vec<_> = root
        .children()
        .filter(roxmltree::Node::is_element)
        .collect();
    assert_eq!(children[0].tag_name().name(), "title");
    assert_eq!(children[0].text(), Some(figure.title.as_str()));
    assert_eq!(children[1].tag_name().name(), "desc");
    assert_eq!(children[1].text(), Some(figure.description.as_str()));
    assert_eq!(root.attribute("role"), Some("img"));
    for id in root.attribute("aria-labelledby").unwrap().split(' ') {
        assert_eq!(with(&doc, "id", id).len(), 1, "{id}");
        assert!(id.starts_with(&figure.id));
    }
    let view = format!("0 0 {} {}", figure.width, figure.height);
    assert_eq!(root.attribute("viewBox"), Some(view.as_str()));
    for node in doc.root().descendants().filter(roxmltree::Node::is_element) {
        assert!(ELEMENTS.contains(&node.tag_name().name()), "{node:?}");
        for attribute in node.attributes() {
            if NUMBERS.contains(&attribute.name()) {
                rounded(attribute.value());
            }
        }
        let data = node.attribute("d").unwrap_or_default();
        let numbers = data.split(['M', 'L', 'Z', ' ']).filter(|n| !n.is_empty());
        numbers.for_each(rounded);
    }
}

/// A finite number with at most three decimals, and no zero with a sign.
fn rounded(text: &str) {
    let number: f64 = text.parse().unwrap_or_else(|_| panic!("{text}"));
    let decimals = text.split_once('.').map_or(0, |(_, after)| after.len());
    assert!(
        number.is_finite() && decimals <= 3 && text != "-0",
        "{text}"
    );
}

#[test]
fn every_figure_of_the_cases_is_sound_and_all_stand_on_one_page() {
    for name in CASES {
        let drawn = Drawn::of(&case_file(name));
        let figures = drawn.all();
        let mut ids = BTreeSet::new();
        for figure in &figures {
            sound(figure);
            assert!(ids.insert(figure.id.clone()), "{} twice", figure.id);
            assert!(figure.title.ends_with(&drawn.case.title) || figure.title.contains(", "));
        }
        let all: BTreeSet<&str> = figures.iter().map(|figure| figure.kind).collect();
        let several = drawn.conversion.sizes.len() > 1;
        assert_eq!(all.contains("size-set"), several);
        assert_eq!(all.len(), if several { 11 } else { 10 }, "{all:?}");
        every_turn_pair_says_what_its_rows_do(&drawn);
        descriptions_say_the_numbers(&drawn);
        assert_eq!(
            figures,
            Drawn::of(&case_file(name)).all(),
            "not the same twice"
        );
    }
}

/// Charts of a stitch pattern, for either hand: sound, no label upon another, the same every time.
#[test]
fn charts_are_sound_and_legible() {
    for name in ["gannet-saddle", "dunlin-texture"] {
        for hand in ["right", "left"] {
            let text =
                case_file(name).replace("[wording]", &format!("[wording]\nhand = \"{hand}\""));
            let drawn = Drawn::of(&text);
            let figures = drawn.size(0);
            let mut ids = BTreeSet::new();
            for figure in &figures {
                sound(figure);
                assert!(ids.insert(figure.id.clone()), "{} twice", figure.id);
                assert_eq!(figures::faults_of_words(figure), Vec::<String>::new());
            }
            let kinds: BTreeSet<&str> = figures.iter().map(|figure| figure.kind).collect();
            for chart in ["cap-chart", "chart-piece", "repeat-chart"] {
                assert!(kinds.contains(chart), "{chart}");
            }
            assert_eq!(figures, Drawn::of(&text).size(0), "not the same twice");
        }
    }
}

/// Whatever is drawn of a size can be asked for: the saddle's chart has pieces and two repeats.
#[test]
fn every_figure_has_a_name_of_its_own() {
    for (name, several) in [
        ("gannet-saddle", "chart-piece-3"),
        ("gannet-saddle", "repeat-chart-2"),
        ("dunlin-texture", "chart-piece-2"),
    ] {
        let figures = Drawn::of(&case_file(name)).size(0);
        let names: BTreeSet<&str> = figures.iter().map(|figure| &*figure.name).collect();
        assert_eq!(names.len(), figures.len(), "{names:?}");
        assert!(names.contains(several), "{names:?}");
        for figure in &figures {
            assert!(figure.name.starts_with(figure.kind), "{}", figure.name);
        }
    }
    let figures = Drawn::of(&case_file("gannet-saddle")).size(0);
    let second = &named(&figures, "chart-piece-2").title;
    assert!(second.contains("piece 2 of "), "{second}");
}

#[test]
fn the_same_case_gives_the_same_bytes() {
    let text = case_file("saddle-lesson");
    assert_eq!(Drawn::of(&text).all(), Drawn::of(&text).all());
}

/// The size set says which size is out of step, and marks it with a sign.
#[test]
fn the_odd_size_is_marked() {
    let text = case_file("quillam-cardigan").replace(":22.5:24] cm", ":22.5:30] cm");
    let (case, _) = read_case(&text);
    let case = case.unwrap();
    let conversion = convert(&case, None).unwrap();
    let figure = &set_figures(&case, &conversion)[0];
    assert!(
        figure
            .description
            .contains("The back armhole's depth grows by")
    );
    let odd = "out of step with its neighbours";
    assert_eq!(figure.description.matches(odd).count(), 1);
    assert!(figure.svg.contains(">out of step</text>"));
}

/// The title of the case may hold anything a person can type, and more than fits.
#[test]
fn a_title_with_signs_of_xml_is_shown_as_it_is() {
    let hostile = r#"a<b> & \"c\" ]]> <!-- &amp; "#;
    let long = "W".repeat(170); // a title has 200 characters at the most
    let text =
        case_file("tern-harbour").replace("Tern Harbour pullover", &format!("{hostile}{long}"));
    let drawn = Drawn::of(&text);
    assert!(drawn.case.title.starts_with("a<b> & \"c\""));
    for figure in drawn.all() {
        sound(&figure);
        assert!(figure.title.contains(&drawn.case.title), "{}", figure.title);
        assert_eq!(figures::faults_of_words(&figure), Vec::<String>::new());
    }
}

/// Nothing but the swatches is in it, so that it changes when the drawing does.
#[test]
fn the_swatches_as_drawn() {
    let drawn = Drawn::of(&case_file("tern-harbour"));
    let figures = drift_figures(&drawn.case, &drawn.lesson());
    insta::assert_snapshot!(named(&figures, "swatch").svg);
}

#[test]
fn a_size_that_is_not_there_has_no_figures() {
    let drawn = Drawn::of(&case_file("tern-harbour"));
    assert!(drawn.size(1).is_empty());
}

/// The workbench shows the words of the strip under the pointer.
fn every_turn_pair_says_what_its_rows_do(drawn: &Drawn) {
    for (at, size) in drawn.conversion.sizes.iter().enumerate() {
        let figures = drawn.size(at);
        let doc = parsed(&named(&figures, "fabric-map").svg);
        let checklist = &size.written[0].checklist.rows;
        let strips = doc.root().descendants();
        let strips: Vec<_> = strips.filter(|n| n.has_attribute("data-pair")).collect();
        assert_eq!(strips.len(), size.fit.plan.turn_pairs() as usize);
        for (i, strip) in strips.into_iter().enumerate() {
            assert_eq!(
                strip.attribute("data-pair"),
                Some((i + 1).to_string().as_str())
            );
            let said = strip.first_element_child().unwrap().text().unwrap();
            for row in &checklist[2 * i..2 * i + 2] {
                let words = format!("Row {} ({}): {};", row.row, row.side, row.turn);
                assert!(said.contains(&words), "{said}");
                let step = format!(" {}. ", row.step);
                assert!(row.step.is_empty() || said.contains(&step), "{said}");
            }
        }
    }
}

/// What a reader hears holds the numbers that are shown.
fn descriptions_say_the_numbers(drawn: &Drawn) {
    let units = drawn.case.units;
    let size = &drawn.conversion.sizes[0];
    let figures = drawn.size(0);
    let (old, new) = (&size.old.cap, &size.fit.measures);
    let says = |figure: &str, number: String| {
        let said = &named(&figures, figure).description;
        assert!(said.contains(&number), "{number} in {said}");
    };
    for length in [old.depth(), new.depth, old.upper_arm(), new.upper_arm] {
        says("overlay", units.show(length));
    }
    says("schematic", units.show(new.upper_arm));
    says("armhole", units.show(size.old.front.edge()));
    says("depth-width", units.show_fine(new.width_rms));
    says("arm", units.show(new.upper_arm));
    says("trade", format!("{:.4}", new.objective));
    says(
        "fabric-map",
        format!("{} turn pairs", size.fit.plan.turn_pairs()),
    );
    for run in new.front.runs() {
        let strain = format!("{:+.1} %", run.strain_pct()).replace('-', "\u{2212}");
        says("ease-strip", strain);
    }
}
