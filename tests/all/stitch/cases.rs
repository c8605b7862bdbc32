//! The cases that have a stitch pattern: converted clean, drawn whole.

use crate::common::figures::{Drawn, case_file, parsed};
use capwright::diagnostic::Level;
use capwright::report::follow_steps;
use capwright::stitch::Stitch;

const PATTERNED: [&str; 2] = ["gannet-saddle", "dunlin-texture"];

#[test]
fn they_convert_without_a_warning() {
    for name in ["gannet-saddle", "dunlin-texture", "skua-stripes"] {
        let drawn = Drawn::of(&case_file(name));
        assert!(drawn.conversion.worst() < Some(Level::Warning), "{name}");
    }
}

/// Every stitch of every row is drawn once: squares and symbols are counted in the picture.
#[test]
fn the_chart_has_every_stitch() {
    for name in PATTERNED {
        let drawn = Drawn::of(&case_file(name));
        let figures = drawn.size(0);
        let chart = figures
            .iter()
            .find(|figure| figure.name == "cap-chart")
            .unwrap();
        let doc = parsed(&chart.svg);
        let pattern = drawn.conversion.sizes[0].written[0]
            .pattern
            .as_ref()
            .unwrap();
        let rows = pattern.layout.rows();
        let purls = rows
            .iter()
            .flat_map(|row| &row.cells)
            .filter(|cell| cell.stitch == Stitch::Purl)
            .count();
        // Thin lines: a bar for each purl, four pieces for each crossing of two strands behind, and the legend's.
        let crossings = rows.iter().flat_map(|row| &row.cells);
        let crossings = crossings
            .filter(|cell| cell.part == 0 && matches!(cell.stitch, Stitch::Cross(_)))
            .count();
        let most = doc
            .descendants()
            .filter(|node| {
                node.tag_name().name() == "path" && node.attribute("stroke") == Some("#22303a")
            })
            .filter_map(|node| node.attribute("d"))
            .map(|data| data.matches('M').count())
            .max()
            .unwrap();
        assert_eq!(most, purls + 4 * crossings, "{name}");
        let dots = doc
            .descendants()
            .filter(|node| node.tag_name().name() == "circle")
            .count();
        // One dot a turn and one in the key.
        assert_eq!(dots, rows.len() - 2 + 1, "{name}");
    }
}

/// The pieces hold all columns and rows between them, and no piece is larger than a page can show.
#[test]
fn the_pieces_are_legible() {
    for name in PATTERNED {
        let drawn = Drawn::of(&case_file(name));
        for figure in drawn
            .size(0)
            .iter()
            .filter(|figure| figure.kind == "chart-piece")
        {
            // A4 and letter leave 17 cm across and 23 cm down: a square of 17 units of 640 is 4.5 mm.
            assert!(
                figure.height / figure.width < 23.0 / 17.0,
                "{}",
                figure.title
            );
        }
    }
}

/// Whoever follows row by row is told each row in pattern, and each row's colour.
#[test]
fn the_steps_to_follow_tell_pattern_and_colour() {
    let of = |name: &str| {
        let drawn = Drawn::of(&case_file(name));
        let size = &drawn.conversion.sizes[0];
        let steps = follow_steps(&drawn.case, size, &size.written[0]);
        let said = steps.into_iter().map(|step| (step.at, step.say));
        (drawn, said.collect::<Vec<_>>())
    };
    let (drawn, steps) = of("gannet-saddle");
    let words = &drawn.conversion.sizes[0].written[0]
        .pattern
        .as_ref()
        .unwrap()
        .words;
    for sentence in &words.rows {
        let told = steps
            .iter()
            .filter(|(_, say)| say.contains(sentence))
            .count();
        assert_eq!(told, 1, "{sentence}");
    }
    let (drawn, steps) = of("skua-stripes");
    let sleeve = drawn.conversion.sizes[0].stripes.as_ref().unwrap();
    let colours: Vec<String> = steps
        .iter()
        .flat_map(|(_, say)| {
            say.iter()
                .filter(|said| said.starts_with("Colour: "))
                .cloned()
        })
        .collect();
    let bands = sleeve
        .bands
        .iter()
        .flat_map(|band| (band.from..=band.to).map(|_| format!("Colour: {}.", band.colour)));
    let worked: Vec<String> = bands.skip(1).collect();
    assert_eq!(colours, worked, "every row and round but the picked-up one");
}
