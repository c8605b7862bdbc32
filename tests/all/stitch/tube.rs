//! The pattern in the tube, held against a sleeve whose every stitch is followed from hand to hand.

use crate::common::figures::case_file;
use capwright::case::read_case;
use capwright::convert;
use capwright::convert::SizeConversion;
use capwright::report::conversion_json;

fn converted(text: &str) -> SizeConversion {
    let (case, said) = read_case(text);
    let case = case.unwrap_or_else(|| panic!("{said:?}"));
    convert(&case, None).unwrap().sizes.remove(0)
}

/// `k1, k2tog, work to the last 3 sts, ssk, k1`, by the definition of both decreases: of two stitches knit together the
/// second one worked lies on top, of two slipped and knit through their backs the first one (the trade's own
/// definitions, from memory).
fn shaped(stitches: &[i64]) -> Vec<i64> {
    let n = stitches.len();
    let mut out = vec![stitches[0], stitches[2]];
    out.extend(&stitches[3..n - 3]);
    out.extend([stitches[n - 3], stitches[n - 1]]);
    out
}

#[test]
fn every_stitch_keeps_its_column_down_to_the_cuff() {
    for name in ["gannet-saddle", "dunlin-texture"] {
        let size = converted(&case_file(name));
        let tube = size.tube.as_ref().unwrap();
        for written in &size.written {
            let pattern = written.pattern.as_ref().unwrap();
            let layout = &pattern.layout;
            let (from, to) = *layout.spans().last().unwrap();
            let mut stitches: Vec<i64> = (from..to).collect();
            let rounds = pattern.tube(tube);
            assert_eq!(rounds.len(), tube.rounds.count() as usize);
            // Round 1 is the one that the cap's rows end with.
            assert_eq!(rounds[0].cells, layout.rows().last().unwrap().cells);
            for round in &rounds {
                if tube.decrease_rounds.contains(&round.round) {
                    stitches = shaped(&stitches);
                    let (second, last) = (stitches[1], stitches[stitches.len() - 2]);
                    assert_eq!((round.second(), round.last_but_one()), (second, last));
                }
                assert_eq!(
                    round.cells.len(),
                    stitches.len(),
                    "{name}: round {}",
                    round.round
                );
                // The ground, laid on the plane: only where no panel lies and nothing is shaped.
                let row = layout.spans().len() as u32 + round.round - 1;
                let chart = &layout.ground().chart;
                let free = |column: i64| {
                    layout
                        .panels
                        .iter()
                        .all(|p| column < p.from || p.to() <= column)
                };
                let inner = stitches.iter().zip(&round.cells).skip(2);
                for (column, cell) in inner.take(stitches.len() - 4).filter(|(c, _)| free(**c)) {
                    let across = layout.number(*column) as usize - 1;
                    let wanted = chart.cell(layout.ground().row_at(row), across);
                    assert_eq!(
                        *cell, wanted,
                        "{name}: round {}, column {column}",
                        round.round
                    );
                }
            }
            let cuff = tube.cuff.count() as usize;
            assert_eq!(stitches.len(), cuff, "{name}");
            assert!(layout.panel_reached(&rounds).is_none());
        }
    }
}

/// The JSON has the stitches of a sleeve that is followed from hand to hand.
#[test]
fn the_json_has_every_round() {
    for name in ["gannet-saddle", "dunlin-texture"] {
        let case = read_case(&case_file(name)).0.unwrap();
        let conversion = convert(&case, None).unwrap();
        let json = conversion_json(&case, &conversion);
        let size = &conversion.sizes[0];
        let tube = size.tube.as_ref().unwrap();
        let told = json["sizes"][0]["sleeve"]["in_pattern"].as_array().unwrap();
        assert_eq!(told.len(), size.written.len());
        for (told, written) in told.iter().zip(&size.written) {
            let layout = &written.pattern.as_ref().unwrap().layout;
            assert_eq!(told["sleeve"], written.sleeve.word());
            let rounds = told["rounds"].as_array().unwrap();
            assert_eq!(rounds.len(), tube.rounds.count() as usize);
            let rows = json["sizes"][0]["sleeves"][0]["pattern"]["rows"].as_array();
            assert_eq!(
                rounds[0]["stitches"],
                rows.unwrap().last().unwrap()["stitches"]
            );
            let (from, to) = *layout.spans().last().unwrap();
            let mut stitches: Vec<i64> = (from..to).collect();
            for (number, round) in (1..).zip(rounds) {
                let is_shaped = tube.decrease_rounds.contains(&number);
                if is_shaped {
                    stitches = shaped(&stitches);
                }
                let beside = [stitches[1], stitches[stitches.len() - 2]];
                let beside = beside.map(|column| layout.number(column));
                assert_eq!(round["round"], number);
                assert_eq!(round["shaped"], is_shaped);
                assert_eq!([&round["second"], &round["last_but_one"]], beside);
                let words = round["stitches"].as_array().unwrap();
                assert_eq!(words.len(), stitches.len());
                if is_shaped {
                    let ends = [&words[0], &words[1], &words[words.len() - 2]];
                    assert_eq!(ends, ["k", "k2tog", "ssk"]);
                }
            }
        }
    }
}

/// The cable begins on crown stitch 7 and is 12 wide; by hand: the tube may lose stitches until it is as wide as the
/// cable and an edge stitch on either side.
#[test]
fn shaping_that_reaches_a_panel_is_said() {
    let text = case_file("gannet-saddle");
    let reached = |cuff: u32| {
        let cuff = format!("cuff_stitches = {cuff}");
        let text = text
            .replace("cuff_stitches = 46", &cuff)
            .replace("length = 44", "length = 60")
            .replace("repeat = { multiple = 4 }", "repeat = { multiple = 2 }");
        let size = converted(&text);
        let left = size.tube.as_ref().unwrap().cuff.count();
        let mut found = size.findings.iter().filter(|d| d.code.id == "stitch-panel");
        (left, found.next().map(|d| d.message.clone()))
    };
    let (_, none) = reached(20);
    assert_eq!(none, None);
    let (left, said) = reached(12);
    assert!(left < 14, "{left}");
    assert!(said.unwrap().contains("takes sts of the panel \"cable\""));
}

/// A panel as wide as the crown: its edges are the crown's markers, and that is said.
#[test]
fn markers_that_fall_together_are_said() {
    let text = case_file("gannet-saddle");
    let (head, _) = text.split_once("[stitch.panels.cable]").unwrap();
    let about = |panel: &str| {
        let size = converted(&format!("{head}{panel}"));
        size.written[0]
            .pattern
            .as_ref()
            .unwrap()
            .words
            .about
            .join(" ")
    };
    let both = about(&format!("[stitch.panels.a]\nrows = \"{}\"", "k".repeat(24)));
    assert!(
        both.contains("Both edges of the panel \"a\" and the crown's own marker fall together"),
        "{both}"
    );
    let none = about("[stitch.panels.a]\nrows = \"kkpk\"");
    assert!(!none.contains("fall together"), "{none}");
}
