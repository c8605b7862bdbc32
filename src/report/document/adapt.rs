//! What `[adapt]` changed, why, and what it does to the rest of the garment.

use super::{Block, ColumnKind, TableBlock, TableColumn};
use crate::adapt::{Keep, OutlineStatus};
use crate::case::Case;
use crate::convert::{Adaptation, Old};
use crate::measure::{Length, Units};
use crate::outline::Cap;
use crate::report::flat::flat_lines;
use crate::report::number::{plain, signed_count};

/// What changed and why; empty without the table in the case.
pub(super) fn adapted(units: Units, old: &Old) -> Vec<Block> {
    let Some(adapted) = &old.adapted else {
        return Vec::new();
    };
    let (heading, sentences) = match adapted.outline.status {
        OutlineStatus::Unchanged => ("Adapted: nothing", unchanged(units, adapted)),
        OutlineStatus::Adapted => ("Adapted", changed(units, old, adapted)),
        OutlineStatus::Drafted => ("Drafted", drafted(units, old, adapted)),
    };
    let mut blocks = vec![Block::heading(heading), Block::Sentences(sentences)];
    if adapted.is_changed() {
        blocks.push(Block::Text(
            "The same cap flat, for those who sew it in:".to_owned(),
        ));
        blocks.push(Block::Lines(adapted.lines.clone()));
    }
    blocks
}

const SET: [&str; 8] = [
    "size",
    "",
    "rows",
    "depth",
    "upper arm",
    "edge a side",
    "wanted",
    "armhole rows for it: front, back",
];

/// All sizes of a set: one line each, then the flat caps in one text.
pub(super) fn adapted_set(case: &Case, sizes: &[Old]) -> Vec<Block> {
    let units = case.units;
    let rows: Vec<Vec<String>> = sizes.iter().filter_map(|old| set_row(units, old)).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let caption = format!("Old \u{2192} new ({units})");
    vec![
        Block::heading("Adapted"),
        Block::Table(TableBlock::new(
            caption,
            TableColumn::all(&SET, ColumnKind::Short),
            rows,
        )),
        Block::Text("The same caps flat, for those who sew them in:".to_owned()),
        Block::Lines(flat_lines(case, &sizes.iter().collect::<Vec<_>>())),
    ]
}

fn set_row(units: Units, old: &Old) -> Option<Vec<String>> {
    let adapted = old.adapted.as_ref()?;
    let outline = &adapted.outline;
    let printed = adapted.printed.as_ref().map(|(_, cap)| cap);
    let pair = |of: &dyn Fn(&Cap) -> String| {
        let new = of(&old.cap);
        match printed.map(of) {
            Some(before) if before != new => format!("{before} \u{2192} {new}"),
            _ => new,
        }
    };
    Some(vec![
        old.size.clone(),
        outline.status.word().to_owned(),
        pair(&|cap| cap.rows().count().to_string()),
        pair(&|cap| plain(units, cap.depth())),
        pair(&|cap| plain(units, cap.upper_arm())),
        pair(&|cap| plain(units, cap.edge_above_underarm())),
        plain(units, outline.edge),
        format!(
            "{}, {}",
            signed_count(i64::from(adapted.front_rows)),
            signed_count(i64::from(adapted.back_rows))
        ),
    ])
}

fn unchanged(units: Units, adapted: &Adaptation) -> Vec<String> {
    let outline = &adapted.outline;
    vec![format!(
        "The old cap already has what is wished: an upper arm of {} and an edge of {} a side for {}.",
        units.show(outline.cap.upper_arm()),
        units.show(outline.cap.edge_above_underarm()),
        units.show(outline.edge),
    )]
}

fn changed(units: Units, old: &Old, adapted: &Adaptation) -> Vec<String> {
    let Some((_, printed)) = &adapted.printed else {
        return Vec::new();
    };
    let mut said = vec![edge(units, old, adapted, Some(printed))];
    said.extend(arm(units, old, adapted, printed));
    said.push(depth(units, old, adapted, printed));
    said.push(shape(units, adapted));
    said.extend(sides(adapted));
    said.extend(instead(adapted));
    said.extend(rounds(adapted));
    said
}

/// The edge asked for, on which everything hangs.
fn edge(units: Units, old: &Old, adapted: &Adaptation, printed: Option<&Cap>) -> String {
    let outline = &adapted.outline;
    let before = printed.map_or_else(String::new, |cap| {
        format!(", the old one's {}", units.show(cap.edge_above_underarm()))
    });
    let sides = if old.is_alike() {
        format!("{} a side", units.show(old.front.edge()))
    } else {
        format!(
            "{} at the front and {} at the back",
            units.show(old.front.edge()),
            units.show(old.back.edge())
        )
    };
    let sides = if adapted.at_shoulder > Length::ZERO {
        let more = units.show(adapted.at_shoulder);
        format!("{sides}, and half of what waits at the shoulder is {more}")
    } else {
        sides
    };
    let why = match printed {
        _ if outline.ease_wished => "with the ease wished",
        Some(cap) if cap.edge_above_underarm() == outline.edge => "as with the old cap",
        _ => "with no more ease than is usual",
    };
    format!(
        "Edge: the armhole has {sides}; {} a side is wanted {why}. This cap's is {}{before}.",
        units.show(outline.edge),
        units.show(outline.cap.edge_above_underarm()),
    )
}

fn arm(units: Units, old: &Old, adapted: &Adaptation, printed: &Cap) -> Option<String> {
    let (before, after) = (printed.upper_arm(), old.cap.upper_arm());
    (before != after).then(|| {
        format!(
            "Upper arm: {} was wished; {} instead of {} flat.",
            units.show(adapted.outline.upper_arm),
            units.show(after),
            units.show(before),
        )
    })
}

fn depth(units: Units, old: &Old, adapted: &Adaptation, printed: &Cap) -> String {
    let (before, after) = (printed.depth(), old.cap.depth());
    let word = if after > before {
        "deeper"
    } else if after < before {
        "shallower"
    } else {
        return format!(
            "Depth: {} as before; the outline was bent instead.",
            units.show(after)
        );
    };
    let why = match adapted.rule {
        Some(rule) => format!("as wished by \"{}\"", rule.word()),
        None if adapted.depth_wished => "as wished".to_owned(),
        None => "with arm, top and edge given, the edge decides how deep a cap is".to_owned(),
    };
    format!(
        "Depth: {} instead of {}, {} {word}: {why}.",
        units.show(after),
        units.show(before),
        units.show((after - before).abs()),
    )
}

fn shape(units: Units, adapted: &Adaptation) -> String {
    let kept = match adapted.keep {
        Keep::Shape => "the old slopes, stretched evenly between the new ends",
        Keep::Depth => "the old depth",
        Keep::Area => "the old area",
    };
    format!(
        "Kept: {kept}; bent by {} (rms of one side) to meet the edge.",
        units.show_fine(adapted.outline.bend)
    )
}

/// Rows to work into the armhole or to leave out, where front and back differ.
fn sides(adapted: &Adaptation) -> Option<String> {
    let (front, back) = (adapted.front_rows, adapted.back_rows);
    if front == 0 && back == 0 {
        return None;
    }
    let side = |name: &str, rows: i32| match rows {
        0 => None,
        rows => Some(format!("{} on the {name}", more_or_fewer(rows))),
    };
    let sides: Vec<String> = [side("front", front), side("back", back)]
        .into_iter()
        .flatten()
        .collect();
    Some(format!(
        "Armhole: to meet this symmetric cap exactly, {}; else ease the difference in.",
        sides.join(" and ")
    ))
}

fn instead(adapted: &Adaptation) -> Option<String> {
    let rows = adapted.instead_rows.filter(|rows| *rows != 0)?;
    Some(format!(
        "Instead: to keep the old cap with its own arm, {} on each side of the armhole, front and back.",
        more_or_fewer(rows)
    ))
}

fn rounds(adapted: &Adaptation) -> Option<String> {
    let rounds = adapted.rounds.filter(|rounds| *rounds != 0)?;
    let word = if rounds > 0 { "more" } else { "fewer" };
    let (of, keep) = match rounds.abs() {
        1 => ("round", "keeps"),
        _ => ("rounds", "keep"),
    };
    Some(format!(
        "Length: {} {of} {word} below the underarm {keep} the sleeve as long from the shoulder as with the old cap; the tube below has the length of the case.",
        rounds.abs()
    ))
}

fn more_or_fewer(rows: i32) -> String {
    let word = if rows > 0 { "more" } else { "fewer" };
    let rows_word = if rows.abs() == 1 { "row" } else { "rows" };
    format!("{} {rows_word} {word}", rows.abs())
}

fn drafted(units: Units, old: &Old, adapted: &Adaptation) -> Vec<String> {
    let outline = &adapted.outline;
    let mut said = vec![
        format!(
            "Shape: a tube of the arm's {} cut slantwise (method: S. Partlan, 2013), between a top of {} and the body's own underarm; bent by {} to meet the edge.",
            units.show(outline.upper_arm),
            units.show(outline.cap.top()),
            units.show_fine(outline.bend),
        ),
        edge(units, old, adapted, None),
    ];
    if !adapted.rules.is_empty() {
        let figures: Vec<String> = adapted
            .rules
            .iter()
            .map(|rule| {
                format!(
                    "{} \"{}\" ({}; {})",
                    units.show(rule.depth),
                    rule.rule.word(),
                    rule.says,
                    rule.source
                )
            })
            .collect();
        let chosen = match adapted.rule {
            Some(rule) => format!("adapt.depth = \"{}\" was asked for", rule.word()),
            None if adapted.depth_wished => "as wished".to_owned(),
            None => "the edge decides".to_owned(),
        };
        said.push(format!(
            "Depth: {} ({chosen}). Published rules, side by side: {}.",
            units.show(outline.cap.depth()),
            figures.join("; ")
        ));
    }
    said.extend(sides(adapted));
    said
}
