//! A conversion: all sizes side by side, then each size, then what it was made from.

use super::measures::gauges;
use super::size::{REST, checklist_title, is_alone, part};
use super::written::{abbreviations, checklist};
use super::{Block, Chapter, ColumnKind, Document, Reader, TableBlock, TableColumn, findings};
use crate::case::{Case, Turn};
use crate::convert::{Conversion, SizeConversion};
use crate::diagnostic::Diagnostic;
use crate::measure::Units;
use crate::report::figure::set_figures;
use crate::report::flat::flat_lines;
use crate::report::number::{plain, signed_in, signed_pct};
use crate::report::row_columns::row_columns;

/// What it takes to make the same sheet again: at the end of a page, and in the foot of every sheet.
#[derive(Clone, Copy, Debug)]
pub struct MadeFrom<'a> {
    /// The text of the case file.
    pub case_text: &'a str,
    /// The program's version.
    pub version: &'a str,
}

/// The whole conversion.
pub fn conversion_document(
    case: &Case,
    conversion: &Conversion,
    reader: Reader,
    made_from: Option<MadeFrom<'_>>,
) -> Document {
    let several = conversion.sizes.len() > 1;
    let mut parts = Vec::new();
    if several {
        let mut all = all_sizes(case, conversion, reader);
        let written = conversion.sizes.iter().flat_map(|size| &size.written);
        all.blocks
            .extend(abbreviations(&written.collect::<Vec<_>>()));
        parts.push(all);
    }
    let sizes = 0..conversion.sizes.len();
    parts.extend(sizes.filter_map(|at| part(case, conversion, at, reader)));
    parts.extend(about_the_case(case, conversion, reader));
    let version = made_from.map(|made| format!(" - capwright {}", made.version));
    // On paper the foot of every page says so; nobody types a case from there.
    let page = made_from.filter(|_| reader == Reader::Page);
    parts.extend(page.map(|made| self::made_from(case, conversion, made)));
    Document {
        title: case.title.clone(),
        subtitle: format!(
            "Short-row sleeve cap picked up round the armhole, {}, {}",
            size_words(case, conversion),
            units_words(case.units)
        ),
        foot: format!("{}{}", case.title, version.unwrap_or_default()),
        parts,
        paged: false,
    }
}

/// What was found in the case as a whole; in a booklet what was found of any size, once.
fn about_the_case(case: &Case, conversion: &Conversion, reader: Reader) -> Option<Chapter> {
    let several = conversion.sizes.len() > 1;
    let booklet = several && reader == Reader::Paper;
    let mut found: Vec<&Diagnostic> = conversion.findings.iter().collect();
    if is_alone(conversion, reader) {
        found.clear();
    }
    if booklet {
        found.extend(conversion.sizes.iter().flat_map(|size| &size.findings));
    }
    let mut blocks = Vec::new();
    if !found.is_empty() {
        let told = findings::once(&found, case.sizes.len(), reader);
        blocks.push(Block::Findings(told));
    }
    blocks.extend(booklet.then(|| Block::Text(REST.to_owned())));
    (!blocks.is_empty()).then(|| Chapter {
        new_page: several,
        ..Chapter::new("About the case", blocks)
    })
}

pub(super) const fn units_words(units: Units) -> &'static str {
    match units {
        Units::Cm => "lengths in centimetres",
        Units::In => "lengths in inches",
    }
}

/// `size M`, `one size`, `10 sizes`.
fn size_words(case: &Case, conversion: &Conversion) -> String {
    match conversion.sizes.as_slice() {
        [one] if case.sizes.len() == 1 => one.old.size.clone(),
        [one] => format!("size {}", one.old.size),
        all => format!("{} sizes", all.len()),
    }
}

/// The flat caps alone, as a pattern's lines for all sizes: for those who stay with sewing.
pub fn flat_lines_text(case: &Case, conversion: &Conversion) -> String {
    let sizes = conversion.sizes.iter().map(|size| &size.old);
    flat_lines(case, &sizes.collect::<Vec<_>>())
}

/// The cap's rows to tick off, of every size and sleeve.
pub fn checklist_document(case: &Case, conversion: &Conversion) -> Document {
    let parts = conversion.sizes.iter().map(|size| {
        let blocks = size.written.iter().flat_map(|written| {
            let title = checklist_title(written);
            let id = format!("{}-{}", super::slug(&size.old.size), written.sleeve.word());
            let more = row_columns(size, written);
            let table = checklist(&written.checklist, &more, &title);
            [Block::section(id, title), Block::Table(table)]
        });
        Chapter::new(size.old.size.clone(), blocks.collect())
    });
    Document {
        title: case.title.clone(),
        subtitle: "Every row of the cap, to tick off".to_owned(),
        foot: case.title.clone(),
        parts: parts.collect(),
        paged: false,
    }
}

/// Headings of the table of all sizes.
const OVERVIEW: [&str; 13] = [
    "size",
    "crown",
    "front",
    "back",
    "base",
    "pairs",
    "sts",
    "runs",
    "upper arm",
    "area",
    "depth",
    "ease",
    "recipe's area",
];

/// What the headings mean.
const OVERVIEW_LEGEND: &str = "front, back: stitches picked up; sts: stitches at the upper arm; area, depth: new against old cap; ease: cap edge longer than the armhole";

/// One row a size, and the pictures of the set.
fn all_sizes(case: &Case, conversion: &Conversion, reader: Reader) -> Chapter {
    let first = conversion.sizes.first();
    let mut blocks: Vec<Block> = first.map(|size| gauges(case, size)).into_iter().collect();
    blocks.extend(overview(case, conversion));
    if reader.is_sheet() {
        blocks.push(Block::Figures(set_figures(case, conversion)));
    }
    Chapter::new("All sizes", blocks)
}

/// What the sizes have of everything.
pub(super) fn overview(case: &Case, conversion: &Conversion) -> [Block; 2] {
    let rows = conversion.sizes.iter();
    [
        Block::Table(TableBlock::new(
            format!("All sizes ({})", case.units),
            TableColumn::all(&OVERVIEW, ColumnKind::Number),
            rows.map(|size| overview_row(case.units, size)).collect(),
        )),
        Block::Small(OVERVIEW_LEGEND.to_owned()),
    ]
}

fn overview_row(units: Units, size: &SizeConversion) -> Vec<String> {
    let (plan, m) = (&size.fit.plan, &size.fit.measures);
    vec![
        size.old.size.clone(),
        plan.crown.stitches.count().to_string(),
        plan.front.picked_up().count().to_string(),
        plan.back.picked_up().count().to_string(),
        plan.base().count().to_string(),
        plan.turn_pairs().to_string(),
        plan.upper_arm().count().to_string(),
        plan.runs().to_string(),
        plain(units, m.upper_arm),
        signed_pct(m.area_error_pct),
        signed_in(units, m.depth_error),
        signed_pct(m.ease_pct()),
        signed_pct(size.recipe.1.area_error_pct),
    ]
}

/// What it takes to make the same sheet again.
fn made_from(case: &Case, conversion: &Conversion, made: MadeFrom<'_>) -> Chapter {
    let by = format!(
        "Made by capwright {}; turns: {}.",
        made.version,
        turns(case)
    );
    let size = match conversion.sizes.as_slice() {
        [one] if case.sizes.len() > 1 => format!(" --size \"{}\"", one.old.size),
        _ => String::new(),
    };
    let words = format!(
        "{by} Save the lines below as case.toml; the same version makes the same sheet again with: capwright convert case.toml{size} -o sleeve.html"
    );
    Chapter {
        id: "made-from".to_owned(),
        ..Chapter::new(
            "What this was made from",
            vec![
                Block::Text(words),
                Block::Lines(made.case_text.trim_end().to_owned()),
            ],
        )
    }
}

const fn turns(case: &Case) -> &'static str {
    match case.style.turn {
        Turn::Wrap => "wrap and turn",
        Turn::German => "German short rows",
    }
}
