//! The lesson on drift: the swatches, the sleeve planned four ways, every drift, and how sure it all is.

use super::findings::told;
use super::lesson_sleeves::{planned_sleeves, sweep};
use super::lesson_sure::{amount, chance, how_sure};
use super::{Block, Chapter, ColumnKind, Document, Reader, TableBlock, TableColumn, slug};
use crate::case::Case;
use crate::convert::drift::{
    ASSUMED_PCT, DriftLesson, NextSwatch, Quantity, SizeDrift, SleevePart, Why,
};
use crate::convert::{GaugeSource, GaugesUsed};
use crate::diagnostic::Diagnostic;
use crate::measure::{Interval, Units};
use crate::report::figure::drift_figures;
use crate::report::number::{gauge as counts_of, signed_length};
use crate::swatch::{Estimate, Measured, Method, show_gauge};

/// The whole lesson.
pub fn lesson_document(case: &Case, lesson: &DriftLesson, reader: Reader) -> Document {
    let units = case.units;
    let mut parts = Vec::new();
    if reader.is_sheet() {
        let figures = drift_figures(case, lesson);
        if !figures.is_empty() {
            // On paper two beside one another would have letters of six points.
            let pictures = if reader == Reader::Paper {
                let each = figures.into_iter().map(Box::new);
                each.map(Block::Chart).collect()
            } else {
                vec![Block::Figures(figures)]
            };
            parts.push(Chapter::new("Pictures", pictures));
        }
    }
    let mut blocks = swatches(units, &lesson.gauge);
    blocks.extend(verdicts(lesson, reader));
    blocks.extend(assumed(units, lesson));
    parts.push(Chapter::new("Your swatches", blocks));
    if lesson.sizes.len() > 1 {
        parts.push(Chapter::new(
            "All sizes",
            all_sizes(units, &lesson.sizes, reader),
        ));
    }
    if let Some(first) = lesson.sizes.first() {
        let title = if case.sizes.len() > 1 {
            format!("Size {}", first.size)
        } else {
            "The sleeve".to_owned()
        };
        parts.push(Chapter {
            id: format!("size-{}", slug(&first.size)),
            ..Chapter::new(title, size_blocks(units, lesson, first, reader))
        });
    }
    parts.push(Chapter::new(
        "Which swatch next?",
        next(units, &lesson.next),
    ));
    if !lesson.findings.is_empty() {
        parts.push(Chapter::new(
            "Findings",
            vec![found(&lesson.findings, reader)],
        ));
    }
    Document {
        title: format!("{} - flat against round ({units})", case.title),
        subtitle: "What the change of gauge does to this sleeve".to_owned(),
        foot: case.title.clone(),
        parts,
        paged: false,
    }
}

fn found(findings: &[Diagnostic], reader: Reader) -> Block {
    let told = findings.iter().map(|finding| told(finding, reader));
    Block::Findings(told.collect())
}

/// What the two swatches say of each other, and what would settle it.
fn verdicts(lesson: &DriftLesson, reader: Reader) -> Vec<Block> {
    if lesson.verdicts.is_empty() {
        return Vec::new();
    }
    vec![
        Block::heading("What they say of each other"),
        found(&lesson.verdicts, reader),
    ]
}

/// Every gauge that stands in for a swatch, what that may do, and how to be rid of it.
fn assumed(units: Units, lesson: &DriftLesson) -> Vec<Block> {
    let said = lesson.assumptions.iter().map(|assumption| {
        let (part, missing) = match assumption.part {
            SleevePart::Tube => ("tube", "swatch in the round"),
            SleevePart::Cap => ("cap", "flat swatch"),
        };
        format!(
            "There is no {missing}: the {} gauge, {}, is taken for the {part}. {} A {missing} ends the guessing.",
            assumption.taken.word(),
            counts_of(units, assumption.gauge),
            effects(units, lesson, assumption.part),
        )
    });
    super::sentences("Assumed", &said.collect::<Vec<_>>())
}

/// What an assumed gauge does over the usual range of a drift, in the first size.
fn effects(units: Units, lesson: &DriftLesson, part: SleevePart) -> String {
    let Some(size) = lesson.sizes.first() else {
        return String::new();
    };
    let mut moved = Vec::new();
    for (place, input) in lesson.inputs.iter().enumerate() {
        if !(input.assumed && input.drives.includes(part)) {
            continue;
        }
        for spread in &size.spreads {
            let Some(effect) = spread.effects.get(place).copied().flatten() else {
                continue;
            };
            let show = |value| amount(units, spread.quantity.kind(), value);
            moved.push(format!(
                "{} from {} to {} ({})",
                spread.quantity.name(),
                show(effect.at_low),
                show(effect.at_high),
                input.counted.word(),
            ));
        }
    }
    format!(
        "If your own is looser or tighter than that by up to {ASSUMED_PCT} % in stitches or in rows, this sleeve has: {}.",
        moved.join("; ")
    )
}

/// One line a size.
fn all_sizes(units: Units, sizes: &[SizeDrift], reader: Reader) -> Vec<Block> {
    let names = [
        "size",
        "wanted",
        "upper arm",
        "between",
        "and",
        "jump",
        "cap depth",
        "between",
        "and",
        "tighter",
    ];
    let rows = sizes.iter().filter_map(|size| size_row(units, size));
    let mut legend =
        "tighter: chance that the upper arm ends tighter than wanted. The first size is shown in full below".to_owned();
    legend += if reader == Reader::Terminal {
        "; --size shows another one."
    } else {
        "."
    };
    let caption = "The sleeve planned with each gauge in its place";
    vec![
        Block::Table(TableBlock::new(
            caption,
            TableColumn::all(&names, ColumnKind::Number),
            rows.collect(),
        )),
        Block::Small(legend),
    ]
}

fn size_row(units: Units, size: &SizeDrift) -> Option<Vec<String>> {
    let right = size.sleeves.first()?;
    let ends = |quantity: Quantity| {
        let spread = size.spreads.iter().find(|s| s.quantity == quantity);
        let show = |value: f64| amount(units, quantity.kind(), value);
        match spread.filter(|s| s.is_counted()) {
            Some(spread) => vec![show(spread.low), show(spread.high)],
            None => vec!["not".to_owned(), "known".to_owned()],
        }
    };
    let mut row = vec![
        size.size.clone(),
        units.show(size.wanted.upper_arm),
        units.show(right.knitted.upper_arm),
    ];
    row.extend(ends(Quantity::UpperArm));
    row.push(signed_length(units, right.knitted.jump()));
    row.push(units.show(right.knitted.depth));
    row.extend(ends(Quantity::CapDepth));
    row.push(size.tighter.map_or_else(String::new, |t| chance(t.at_all)));
    Some(row)
}

/// The one swatch to knit or to count again, how wide, and how to measure it.
fn next(units: Units, next: &NextSwatch) -> Vec<Block> {
    let round = next.swatch == GaugeSource::Round;
    let kind = if round {
        "in the round"
    } else {
        "back and forth"
    };
    let why = match next.why {
        Why::Missing => format!("Knit one swatch {kind}: of all that is missing it tells most."),
        Why::LeastSure => format!(
            "Count your {} swatch in more places: its counts leave this sleeve the least sure. Where it is too small for that, knit it again:",
            if round { "round" } else { "flat" }
        ),
    };
    let how = if round {
        "Work every row from the right side: at its end slide the stitches back to the start of the needle and carry the yarn loosely behind (then say floats = true in the case), or knit a tube twice as wide."
    } else {
        "Work it back and forth, as the cap will be."
    };
    let recipe = format!(
        "Cast on {}, about {} wide, in the sleeve's stitch, with the sleeve's yarn and needles, and work {}. {how}",
        next.cast_on,
        units.show(next.width),
        next.rows,
    );
    let measure = format!(
        "Wash and dry it as the sleeve will be. Lay it flat without pulling. Count the stitches over {} in the middle, away from the edges, half stitches too, in {} {}; then the rows in the same way. Write every count into the case: stitches = [.., .., ..].",
        units.show(next.count_over),
        next.places,
        match next.why {
            Why::Missing => "places",
            Why::LeastSure => "more places",
        },
    );
    vec![Block::Sentences(vec![why, recipe, measure])]
}

/// What was counted, with its 95 % interval.
fn swatches(units: Units, gauge: &GaugesUsed) -> Vec<Block> {
    let names = ["", "stitches", "", "rows", "", "sts for 1 row", "counts"];
    let all = [
        ("old pattern", Some(gauge.swatches.pattern)),
        ("flat", gauge.swatches.flat),
        ("round", gauge.swatches.round),
    ];
    let rows = all.into_iter().map(|(name, measured)| match measured {
        Some(measured) => swatch_row(units, name, &measured, name != "old pattern"),
        None => vec![format!("{name}: no swatch")],
    });
    let over = units.show(units.swatch_length());
    let caption = format!(
        "Over {over}; in brackets where the true gauge lies, 95 % sure, from repeated counts"
    );
    vec![Block::Table(TableBlock::new(
        caption,
        TableColumn::all(&names, ColumnKind::Number),
        rows.collect(),
    ))]
}

fn swatch_row(units: Units, name: &str, measured: &Measured, counted: bool) -> Vec<String> {
    let show = |e: &Estimate| show_gauge(e.mean, units);
    let interval = |e: &Estimate| match e.interval() {
        _ if !counted => "as printed".to_owned(),
        Some(Interval { low, high }) => format!(
            "({} to {})",
            show_gauge(low.max(0.0), units),
            show_gauge(high, units)
        ),
        None => "one count".to_owned(),
    };
    vec![
        name.to_owned(),
        show(&measured.stitches),
        interval(&measured.stitches),
        show(&measured.rows),
        interval(&measured.rows),
        format!("{:.2}", measured.stitch_row_ratio()),
        counts(measured, counted),
    ]
}

fn counts(measured: &Measured, counted: bool) -> String {
    if !counted {
        return String::new();
    }
    let (stitches, rows) = (&measured.stitches, &measured.rows);
    let reading = [stitches, rows]
        .iter()
        .any(|e| e.is_repeated() && e.method == Method::ReadingError);
    let note = if reading { ", reading error" } else { "" };
    if stitches.counts == rows.counts {
        format!("{}{note}", stitches.counts)
    } else {
        format!("{} and {}{note}", stitches.counts, rows.counts)
    }
}

fn size_blocks(units: Units, lesson: &DriftLesson, size: &SizeDrift, reader: Reader) -> Vec<Block> {
    let mut blocks = planned_sleeves(units, &lesson.gauge, size);
    blocks.extend(how_sure(units, lesson, size));
    blocks.extend(size.sweeps.iter().flat_map(|one| sweep(units, one)));
    if !size.findings.is_empty() {
        blocks.push(found(&size.findings, reader));
    }
    blocks
}
