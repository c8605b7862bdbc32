//! `[stitch]` in a case: what is read, and what is refused with the row it is in.

use capwright::case::read_case;
use capwright::diagnostic::Level;
use capwright::{Case, Diagnostic, convert};

const SLEEVE: &str = include_str!("../../../cases/saddle-lesson.toml");

fn read(stitch: &str) -> (Option<Case>, Vec<(&'static str, String)>) {
    let (case, said) = read_case(&format!("{SLEEVE}\n{stitch}"));
    let said = said.into_iter().map(|d| (d.code.id, d.message));
    (case, said.collect())
}

/// What is refused: the text of `[stitch]`, the code, a part of the message.
const REFUSED: &[(&str, &str, &str)] = &[
    (
        "[stitch]\nrows = \"\"\"\nkkk\nkk\nkkk\n\"\"\"",
        "stitch-chart",
        "Row 2 of the stitch pattern has 2 stitches, row 1 has 3",
    ),
    (
        "[stitch]\nrows = \"k?k\"",
        "stitch-chart",
        "Row 1 of the stitch pattern has `?`",
    ),
    (
        "[stitch]\nrows = \"\"\"\nko/k\nkk/k\n\"\"\"",
        "stitch-chart",
        "Row 1 of the stitch pattern works 5 stitches into 4",
    ),
    (
        "[stitch]\nrows = \"kLLLk\"\nlegend = { L = \"2/2 left\" }",
        "stitch-chart",
        "crossing of 4",
    ),
    ("[stitch]\nrows = \"\"", "stitch-chart", "no rows"),
    (
        "[stitch]\nrows = \"kx\"\nlegend = { x = \"bobble of nine\" }",
        "stitch-chart",
        "no stitch of the table",
    ),
    (
        "[stitch]\nrows = \"kx\"\nlegend = { xx = \"purl\" }",
        "stitch-chart",
        "one character a stitch",
    ),
    ("[stitch]\nground = \"brocade\"", "unknown-word", "brocade"),
    (
        "[stitch]\nground = \"moss\"\nrows = \"kp\"",
        "keys-clash",
        "leave one out",
    ),
    ("[stitch]\nworked = \"up\"", "missing-key", "stitch.ground"),
    (
        "[stitch]\nground = \"moss\"\nfirst_row = 3",
        "out-of-range",
        "has 2 rows",
    ),
    (
        "[stitch]\nground = \"moss\"\nfirst_stitch = 3",
        "out-of-range",
        "has 2 sts",
    ),
    (
        "[stitch]\nground = \"moss\"\nfirst_stitch = 0",
        "out-of-range",
        "0",
    ),
    (
        "[stitch]\nground = \"moss\"\ncolour = 2",
        "unknown-key",
        "stitch.colour",
    ),
    (
        "[stitch]\nrows = \"\"\"\nkkk\nkkk\novo\n\"\"\"\nlegend = { v = \"s2kp2\" }",
        "stitch-wrong-side",
        "Row 3",
    ),
    (
        "[stitch]\nrows = \"\"\"\novo\nkkk\n\"\"\"\nfirst_row = 2\nworked = \"down\"\nlegend = { v = \"s2kp2\" }\n",
        "",
        "",
    ),
    (
        "[stitch]\nrows = \"\"\"\novo\nkkk\n\"\"\"\nfirst_row = 1\nworked = \"down\"\nlegend = { v = \"s2kp2\" }\n",
        "stitch-wrong-side",
        "Row 2",
    ),
    ("[stitch.panels.a]\nat = \"crown\"", "missing-key", "rows"),
    (
        "[stitch.panels.a]\nrows = \"kpk\"\nat = \"crown\"\nfrom_centre = 2",
        "keys-clash",
        "twice",
    ),
];

#[test]
fn what_cannot_be_worked_is_refused_with_its_row() {
    for (text, code, part) in REFUSED {
        let (case, said) = read(text);
        if code.is_empty() {
            assert!(case.is_some(), "{text}: {said:?}");
            continue;
        }
        assert!(case.is_none(), "{text}");
        let found = said
            .iter()
            .any(|(id, message)| id == code && message.contains(part));
        assert!(found, "{text}\n{said:?}");
    }
}

/// Each fault once: rows that are wrong in the same way together, a character whose line in the legend is wrong there.
#[test]
fn a_fault_is_told_once() {
    let told = |stitch: &str| -> Vec<String> {
        let (case, said) = read(stitch);
        assert!(case.is_none());
        said.into_iter().map(|(_, message)| message).collect()
    };
    assert_eq!(
        told("[stitch]\nrows = \"\"\"\nkxk\nkkk\nkxk\nkk\n\"\"\""),
        [
            "Rows 2, 3 and 4 of the stitch pattern: each has 3 stitches, row 1 has 2.",
            "Rows 2 and 4 of the stitch pattern: each has `x`, which the legend does not explain.",
        ]
    );
    assert_eq!(
        told("[stitch]\nrows = \"k p\""),
        ["Row 1 of the stitch pattern has a gap between its stitches; they stand close together."]
    );
    for legend in ["{ x = \"wobble\" }", "\"x = wobble, or so\""] {
        let panel = "[stitch.panels.a]\nrows = \"xkx\"\nfirst_row = 1";
        let said = told(&format!(
            "[stitch]\nrows = \"kx\"\nlegend = {legend}\n{panel}"
        ));
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].starts_with("stitch.legend"), "{said:?}");
    }
}

/// Four stitches and four more would be one row of seven, which closes: TOML 1.0 joins lines at a \ (its chapter on
/// strings). Single quotes take it as it is.
#[test]
fn rows_are_not_joined_in_silence() {
    let (case, said) = read("[stitch]\nrows = \"\"\"\nkkkk\nk/o\\\nkkkk\n\"\"\"");
    assert!(case.is_none());
    assert!(
        said.iter()
            .any(|(id, m)| *id == "stitch-chart" && m.contains("joined")),
        "{said:?}"
    );
    let single = "[stitch]\nrows = '''\nkkkk\no\\o/\nkkkk\n'''\nworked = \"down\"";
    assert!(read(single).0.is_some(), "{:?}", read(single).1);
    let escaped =
        "[stitch]\nrows = \"\"\"\nkkk\nko\\\\\nkkk\n\"\"\"\nworked = \"down\"\nfirst_row = 2";
    let (_, said) = read(escaped);
    assert!(said.iter().all(|(_, m)| !m.contains("joined")), "{said:?}");
    let (_, said) = read_case(&format!("{SLEEVE}\n[stitch]\nrows = \"k/o\\k\""));
    assert!(
        said.iter().any(|d| d.next.contains("single quotes")),
        "{said:?}"
    );
}

#[test]
fn a_saddle_panel_needs_a_saddle() {
    let without = SLEEVE.replace("[shoulder]\nlive_stitches = 16\nextra_each_side = 2\n", "");
    let (case, said) = read_case(&format!(
        "{without}\n[stitch.panels.a]\nrows = \"kpk\"\nat = \"saddle\""
    ));
    assert!(case.is_none());
    assert!(
        said.iter()
            .any(|d| d.code.id == "keys-clash" && d.message.contains("saddle"))
    );
}

fn refused(stitch: &str) -> Vec<(&'static str, String)> {
    let found = refusals(stitch).into_iter();
    found.map(|d| (d.code.id, d.message)).collect()
}

fn refusals(stitch: &str) -> Vec<Diagnostic> {
    let (case, said) = read(stitch);
    let case = case.unwrap_or_else(|| panic!("{said:?}"));
    convert(&case, None).map(|_| ()).unwrap_err()
}

/// A wider crown gives a saddle no live stitch more; what is advised helps.
#[test]
fn a_panel_wider_than_its_saddle_is_sent_to_the_crown() {
    let panel = |at: &str| {
        let rows = "k".repeat(17);
        format!("[stitch.panels.braid]\nat = \"{at}\"\nrows = \"{rows}\"")
    };
    let found = refusals(&panel("saddle"));
    assert_eq!(found.len(), 1, "{found:?}");
    let next = &found[0].next;
    assert!(
        next.contains("at = \"crown\"") && !next.contains("extra"),
        "{next}"
    );
    let case = read(&panel("crown")).0.unwrap();
    assert!(convert(&case, None).is_ok());
}

#[test]
fn panels_lie_on_the_crown_and_not_on_one_another() {
    let wide = format!(
        "[stitch.panels.braid]\nat = \"saddle\"\nrows = \"{}\"",
        "k".repeat(17)
    );
    assert!(refused(&wide).iter().any(|(id, m)| *id == "stitch-panel"
        && m.contains("17 sts wide, but the saddle has 16 live sts")));
    let aside = "[stitch.panels.braid]\nfrom_centre = 8\nrows = \"kpk\"";
    assert!(
        refused(aside)
            .iter()
            .any(|(id, m)| *id == "stitch-panel" && m.contains("the crown has 20 sts"))
    );
    let over =
        "[stitch.panels.a]\nrows = \"kpppk\"\n[stitch.panels.b]\nfrom_centre = 1\nrows = \"kpk\"";
    assert!(
        refused(over)
            .iter()
            .any(|(id, m)| *id == "stitch-panel" && m.contains("share"))
    );
}

#[test]
fn what_has_a_way_up_is_turned_and_said() {
    let levels = |stitch: &str| -> Vec<(&str, Level)> {
        let (_, said) = read_case(&format!("{SLEEVE}\n{stitch}"));
        said.into_iter()
            .filter(|d| d.code.id.starts_with("stitch"))
            .map(|d| (d.code.id, d.level))
            .collect()
    };
    // Its own image when turned round: nothing to say.
    assert_eq!(levels("[stitch]\nground = \"moss\""), []);
    assert_eq!(
        levels(
            "[stitch]\nrows = \"LLLLpp\nkkkkpp\""
                .replace('\n', "\\n")
                .replacen("\\n", "\n", 1)
                .as_str()
        ),
        [("stitch-chart", Level::Error)]
    );
    let letter_f = "[stitch]\nrows = \"\"\"\nkkkkk\nkkppp\nkkkkp\nkkkpp\nkkkkp\nkkkkk\n\"\"\"";
    assert_eq!(levels(letter_f), [("stitch-turned", Level::Note)]);
    assert_eq!(levels(&format!("{letter_f}\nworked = \"down\"")), []);
    let lace = "[stitch]\nrows = \"\"\"\nkkkk\nko/k\n\"\"\"";
    assert_eq!(levels(lace), [("stitch-way-up", Level::Warning)]);
}

/// The turned letter lies upside down in the chart that is worked, first row at the shoulder.
#[test]
fn the_chart_is_turned_round() {
    let (case, _) = read("[stitch]\nrows = \"\"\"\nkkk\nppk\nkpk\n\"\"\"\nfirst_row = 1");
    let pattern = case.unwrap().stitch.unwrap();
    let row = |n: usize| -> String {
        let cells = pattern.ground.chart.rows()[n].iter().rev();
        cells.map(|cell| cell.stitch.to_string()).collect()
    };
    // By hand, half a turn: rows from the last, each from its other end.
    assert_eq!([row(0), row(1), row(2)], ["kkk", "kpp", "kpk"]);
}

/// Names of the case go into headings and tables: what acts on a terminal is written out, line breaks refused.
#[test]
fn names_of_panels_and_colours_act_on_nothing() {
    let (case, said) = read("[stitch.panels.\"a\\u001b[31m\"]\nrows = \"kpk\"");
    assert!(
        said.iter().any(|(id, _)| *id == "hidden-characters"),
        "{said:?}"
    );
    assert!(
        !case.unwrap().stitch.unwrap().panels[0]
            .name
            .contains('\u{1b}')
    );
    let (case, said) = read("[stripes]\nbody = [[\"ink\\nchalk\", 2]]");
    assert!(case.is_none());
    assert!(
        said.iter().any(|(id, _)| *id == "unusable-words"),
        "{said:?}"
    );
    let many: Vec<String> = (0..25)
        .map(|i| format!("[stitch.panels.p{i}]\nrows = \"k\"\n"))
        .collect();
    let many = many.concat();
    assert!(
        read(&many)
            .1
            .iter()
            .any(|(id, m)| *id == "out-of-range" && m.contains("25 panels"))
    );
}
