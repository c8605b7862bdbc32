//! Gauge, finished measurements, and the flat cap beside the new one and the recipe.

use super::{Block, ColumnKind, TableBlock, TableColumn};
use crate::case::{Case, Terms};
use crate::convert::SizeConversion;
use crate::fit::Measures;
use crate::measure::{GaugeChange, Length, Units};
use crate::plan::CapPlan;
use crate::report::flat::{flat_name, flat_word, printed_cells, replaced};
use crate::report::number::{counted, gauge, plain, signed_count, signed_in, signed_pct};

/// The gauges to knit to; what changes between them.
pub(super) fn gauges(case: &Case, size: &SizeConversion) -> Block {
    let units = case.units;
    let used = &size.gauge;
    let worked = size
        .tube
        .as_ref()
        .is_some_and(|tube| tube.worked.count() > 0);
    let assumed = if worked {
        " (from round 1 on as the work shows it, where it was measured)"
    } else if used.tube_assumed {
        " (assumed: no swatch in the round)"
    } else {
        ""
    };
    let GaugeChange {
        stitches_pct: stitches,
        rows_pct: rows,
    } = used.change();
    let pattern = if case.sleeve.has_old_cap() {
        "Old pattern"
    } else {
        "Pattern"
    };
    let row = |name: &str, text: String| vec![name.to_owned(), text];
    let columns = vec![
        TableColumn::new("", ColumnKind::Head),
        TableColumn::new("", ColumnKind::Words),
    ];
    let rows = vec![
        row("Cap", format!("{}, back and forth", gauge(units, used.cap))),
        row(
            "Tube",
            format!("{}, in rounds{assumed}", gauge(units, used.tube)),
        ),
        row(
            "Drift",
            format!(
                "{} in stitches, {} in rows from cap to tube",
                signed_pct(stitches),
                signed_pct(rows)
            ),
        ),
        row(pattern, gauge(units, used.pattern)),
    ];
    let over = units.show(units.swatch_length()).replace(".0", "");
    let caption = match case.style.terms {
        Terms::Us => format!("Gauge over {over}"),
        Terms::Uk => format!("Tension over {over}"),
    };
    Block::Table(TableBlock::new(caption, columns, rows))
}

/// What the sleeve measures.
pub(super) fn finished(case: &Case, size: &SizeConversion) -> Vec<Block> {
    let units = case.units;
    let row = |name: &str, length: Length| vec![name.to_owned(), units.show(length)];
    let tube = &size.gauge.tube;
    let mut rows = vec![
        // Of a sleeve under way the tube's gauge is that of the work.
        row("Upper arm", tube.width(size.fit.plan.upper_arm())),
        row("Cap depth", size.fit.measures.depth),
    ];
    if let Some(plan) = &size.tube {
        let length = tube.height(plan.rows_below_underarm());
        rows.push(row("Underarm to cuff", length));
        rows.extend(
            size.cuff_stitches()
                .map(|cuff| row("Cuff", tube.width(cuff))),
        );
    }
    let columns = vec![
        TableColumn::new("", ColumnKind::Head),
        TableColumn::new("", ColumnKind::Number),
    ];
    let table = TableBlock::new("Finished measurements", columns, rows);
    let mut blocks = vec![Block::Table(table)];
    let said: Vec<String> = no_tube(case, size)
        .into_iter()
        .chain(other_drifts(units, size))
        .collect();
    if !said.is_empty() {
        blocks.push(Block::Sentences(said));
    }
    blocks
}

/// Why the tube is not planned, where it is not.
fn no_tube(case: &Case, size: &SizeConversion) -> Option<String> {
    let why = match (&size.tube, &case.sleeve.length) {
        (Some(_), _) => return None,
        (None, Some(_)) => "it is too short for its shaping",
        (None, None) => "its length and the stitches at the cuff are not given",
    };
    Some(format!("The tube is not planned: {why}."))
}

/// The upper arm at other drifts, where there is no swatch in the round.
fn other_drifts(units: Units, size: &SizeConversion) -> Option<String> {
    let arms = size.sensitivity.iter().map(|one| {
        let drift = signed_count(i64::from(one.drift_pct));
        format!("{drift} %: {}", units.show(one.upper_arm))
    });
    let arms: Vec<String> = arms.collect();
    (!arms.is_empty()).then(|| {
        format!(
            "Upper arm if your rounds differ from the pattern's gauge by {}.",
            arms.join("; ")
        )
    })
}

/// The same of a size of a set, as bare numbers: upper arm, depth, underarm to cuff, cuff; empty where it is not
/// planned.
pub(super) fn lengths(units: Units, size: &SizeConversion) -> [String; 4] {
    let tube = &size.gauge.tube;
    let planned = size.tube.as_ref();
    let of =
        |length: Option<Length>| length.map_or_else(String::new, |length| plain(units, length));
    [
        plain(units, tube.width(size.fit.plan.upper_arm())),
        plain(units, size.fit.measures.depth),
        of(planned.map(|plan| tube.height(plan.rows_below_underarm()))),
        of(size.cuff_stitches().map(|cuff| tube.width(cuff))),
    ]
}

/// How much yarn, as far as a cap can say.
pub(super) fn yarn(size: &SizeConversion) -> String {
    format!(
        "Yarn: the new cap has {} sts, the {} picked up among them; the {} one {}, those bound off among them. It takes about that proportion, a few per cent either way. Two seams are saved: cap into armhole, and sleeve.",
        size.loops.all().count(),
        size.loops.picked_up.count(),
        flat_word(&size.old),
        size.flat_loops.count(),
    )
}

/// Flat cap, new cap and recipe side by side; the cap of the lines first where another took its place.
pub(super) fn numbers(units: Units, size: &SizeConversion) -> Block {
    let mut columns = vec![
        TableColumn::new("", ColumnKind::Head),
        TableColumn::new(flat_name(&size.old), ColumnKind::Short),
        TableColumn::new("new cap", ColumnKind::Short),
        TableColumn::new("common recipe", ColumnKind::Short),
    ];
    let mut rows = number_rows(units, size);
    if let Some((_, printed)) = replaced(&size.old) {
        columns.insert(1, TableColumn::new("old cap", ColumnKind::Short));
        // What is only asked of a new cap stays empty.
        let cells = printed_cells(units, printed).into_iter();
        let cells = cells.chain(std::iter::repeat(String::new()));
        for (row, cell) in rows.iter_mut().zip(cells) {
            row.insert(1, cell);
        }
    }
    let caption = format!(
        "The {}, the new one, and the common recipe for comparison",
        flat_name(&size.old)
    );
    Block::Table(TableBlock::new(caption, columns, rows))
}

fn number_rows(units: Units, size: &SizeConversion) -> Vec<Vec<String>> {
    let old = &size.old.cap;
    let (recipe, rm, _) = &size.recipe;
    let (plan, m) = (&size.fit.plan, &size.fit.measures);
    let row = |name: &str, flat: String, of: &dyn Fn(&CapPlan, &Measures) -> String| {
        vec![name.to_owned(), flat, of(plan, m), of(recipe, rm)]
    };
    let off = format!("off the {} width", flat_word(&size.old));
    vec![
        row("rows", old.rows().count().to_string(), &|plan, _| {
            let pairs = plan.turn_pairs();
            format!("{pairs} turn pairs ({} rows)", 2 * pairs)
        }),
        row("depth", units.show(old.depth()), &|_, m| {
            format!(
                "{} ({})",
                units.show(m.depth),
                signed_in(units, m.depth_error)
            )
        }),
        row("area", units.show_area(old.area_cm2()), &|_, m| {
            let area = units.show_area(m.area_cm2);
            format!("{area} ({})", signed_pct(m.area_error_pct))
        }),
        row("upper arm", units.show(old.upper_arm()), &|plan, m| {
            let stitches = plan.upper_arm().count();
            format!("{stitches} sts in rounds, {}", units.show(m.upper_arm))
        }),
        row("top", units.show(old.top()), &|plan, _| {
            format!("crown of {}", plan.crown.stitches.count())
        }),
        row(&off, String::new(), &|_, m| {
            format!("{} rms", units.show_fine(m.width_rms))
        }),
        row("edge on armhole", String::new(), &|_, m| {
            let (front, back) = (m.front.ease_pct(), m.back.ease_pct());
            format!("front {}, back {}", signed_pct(front), signed_pct(back))
        }),
        row("local strain", String::new(), &|_, m| {
            format!("{:.1} % rms", m.strain_rms_pct)
        }),
        row("decreases", String::new(), &|plan, _| drops(plan)),
        row("to remember", String::new(), &|plan, _| {
            counted(plan.runs(), "run")
        }),
    ]
}

fn drops(plan: &CapPlan) -> String {
    let (front, back) = (
        plan.front.decreases().count(),
        plan.back.decreases().count(),
    );
    if front == back {
        format!("{front} a side")
    } else {
        format!("{front} front, {back} back")
    }
}
