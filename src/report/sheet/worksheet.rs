//! A conversion as a worksheet: what goes to the chair first, then the pictures, the checks and what it
//! was made from.

use super::html::html;
use super::steps::section;
use super::{Block, Column, ColumnKind, Part, Sheet, Table, slug};
use crate::case::{Case, Turn};
use crate::convert::{Conversion, SizeConversion, Written};
use crate::diagnostic::Diagnostic;
use crate::needle::Sleeve;
use crate::outline::EaseBand;
use crate::report::checks::band_ease;
use crate::report::figure::{Figure, set_figures, size_figures};
use crate::report::pattern_text::{pick_up_sentences, sleeve_name};
use crate::report::text::{
    OVERVIEW, OVERVIEW_LEGEND, REST, drifted_arms, ease_strips, finished_lines, gauge_rows,
    number_rows, overview_row,
};
use crate::wording::{ABBREVIATIONS_SOURCE, Checklist};

/// The worksheet of a conversion as one self-contained page of HTML.
///
/// `case_text` is the text of the case file and `version` that of the program: both are printed on
/// it, so that it can be made again.
pub fn worksheet_html(
    case: &Case,
    conversion: &Conversion,
    case_text: &str,
    version: &str,
) -> String {
    html(&worksheet(case, conversion, case_text, version))
}

/// The worksheet before it is laid out.
pub(super) fn worksheet(
    case: &Case,
    conversion: &Conversion,
    case_text: &str,
    version: &str,
) -> Sheet {
    let several = conversion.sizes.len() > 1;
    let mut parts = Vec::new();
    if several {
        parts.push(all_sizes(case, conversion));
    }
    for (at, size) in conversion.sizes.iter().enumerate() {
        let figures = size_figures(case, conversion, at);
        parts.push(
            SizePart {
                case,
                size,
                figures,
                at,
            }
            .part(several),
        );
    }
    if !conversion.findings.is_empty() {
        parts.push(Part {
            id: "about-the-case".to_owned(),
            title: "About the case".to_owned(),
            new_page: several,
            blocks: vec![Block::Findings(conversion.findings.clone())],
        });
    }
    parts.push(made_from(case, conversion, case_text, version));
    let sizes = match conversion.sizes.as_slice() {
        [one] => size_words(case, &one.old.size),
        all => format!("{} sizes", all.len()),
    };
    Sheet {
        title: case.title.clone(),
        subtitle: format!(
            "Short-row sleeve cap picked up round the armhole, {sizes}, {}",
            units_words(case)
        ),
        foot: format!("{} - capwright {version}", case.title),
        parts,
    }
}

fn units_words(case: &Case) -> &'static str {
    match case.units {
        crate::measure::Units::Cm => "lengths in centimetres",
        crate::measure::Units::In => "lengths in inches",
    }
}

/// `size M`, or `one size`.
fn size_words(case: &Case, size: &str) -> String {
    if case.sizes.len() == 1 {
        size.to_owned()
    } else {
        format!("size {size}")
    }
}

/// One row a size, and the pictures of the set.
fn all_sizes(case: &Case, conversion: &Conversion) -> Part {
    let kind = |i| {
        if i == 0 {
            ColumnKind::Head
        } else {
            ColumnKind::Number
        }
    };
    let columns = OVERVIEW.iter().enumerate();
    let rows = conversion.sizes.iter();
    let mut blocks = vec![
        Block::Table(Table {
            caption: format!("All sizes ({})", case.units),
            captioned: true,
            columns: columns
                .map(|(i, name)| Column::new(*name, kind(i)))
                .collect(),
            rows: rows
                .map(|size| overview_row(case.units, size).to_vec())
                .collect(),
            boxes: false,
            whole: true,
        }),
        Block::Small(OVERVIEW_LEGEND.to_owned()),
    ];
    blocks.push(Block::Figures(set_figures(case, conversion)));
    Part {
        id: "all-sizes".to_owned(),
        title: "All sizes".to_owned(),
        new_page: false,
        blocks,
    }
}

/// What is told of one size.
struct SizePart<'a> {
    case: &'a Case,
    size: &'a SizeConversion,
    figures: Vec<Figure>,
    at: usize,
}

impl SizePart<'_> {
    fn part(mut self, several: bool) -> Part {
        let id = format!("size-{}-{}", self.at + 1, slug(&self.size.old.size));
        let mut blocks = self.at_a_glance();
        for written in &self.size.written {
            blocks.extend(self.pattern(&id, written));
        }
        blocks.push(Block::section(
            format!("{id}-measurements"),
            "Finished measurements",
        ));
        blocks.push(Block::Sentences(self.finished()));
        for written in &self.size.written {
            blocks.extend(checklist(&id, written));
        }
        let strips = self.take("ease-strip");
        let pictures = std::mem::take(&mut self.figures);
        if !pictures.is_empty() {
            blocks.push(Block::section(format!("{id}-pictures"), "Pictures"));
            blocks.push(Block::Figures(pictures));
        }
        blocks.push(Block::section(format!("{id}-ease"), "Ease along the edge"));
        blocks.push(Block::Figures(strips));
        blocks.extend(self.ease());
        blocks.push(Block::section(
            format!("{id}-findings"),
            "Findings and cautions",
        ));
        // Under the size's own heading its name is not said again.
        let unnamed = self
            .size
            .findings
            .iter()
            .cloned()
            .map(|finding| Diagnostic {
                size: None,
                ..finding
            });
        blocks.push(Block::Findings(unnamed.collect()));
        blocks.push(Block::Text(REST.to_owned()));
        let title = if self.case.sizes.len() == 1 {
            "The sleeve".to_owned()
        } else {
            format!("Size {}", self.size.old.size)
        };
        Part {
            id,
            title,
            new_page: several,
            blocks,
        }
    }

    /// Gauge, numbers and the two outlines over one another.
    fn at_a_glance(&mut self) -> Vec<Block> {
        let units = self.case.units;
        let gauges = gauge_rows(self.case, self.size);
        let mut numbers = number_rows(units, self.size);
        let heads = if numbers.is_empty() {
            None
        } else {
            Some(numbers.remove(0))
        };
        let kind = |i| {
            if i == 0 {
                ColumnKind::Head
            } else {
                ColumnKind::Short
            }
        };
        let columns = heads.iter().flatten().enumerate();
        vec![
            Block::Table(Table {
                caption: format!("Gauge over {}", units.show(units.swatch_length())),
                captioned: true,
                columns: vec![
                    Column::new("for", ColumnKind::Head),
                    Column::new("gauge", ColumnKind::Words),
                ],
                rows: gauges
                    .into_iter()
                    .map(|(name, text)| vec![name.to_owned(), text])
                    .collect(),
                boxes: false,
                whole: true,
            }),
            Block::Table(Table {
                caption: "The old cap, the new one, and the common recipe for comparison"
                    .to_owned(),
                captioned: true,
                columns: columns
                    .map(|(i, name)| Column::new(if i == 0 { "measure" } else { name }, kind(i)))
                    .collect(),
                rows: numbers
                    .iter()
                    .map(|row| row.iter().map(|cell| compared(cell)).collect())
                    .collect(),
                boxes: false,
                whole: true,
            }),
            Block::Figures(self.take("overlay")),
        ]
    }

    /// The figures of this name, out of those that are still to be shown.
    fn take(&mut self, name: &str) -> Vec<Figure> {
        let (taken, rest) = std::mem::take(&mut self.figures)
            .into_iter()
            .partition(|figure| figure.name == name);
        self.figures = rest;
        taken
    }

    fn pattern(&mut self, id: &str, written: &Written) -> Vec<Block> {
        let id = format!("{id}-pattern-{}", written.sleeve.word());
        let mut blocks = vec![Block::section(id, sleeve_title("Pattern", written.sleeve))];
        sentences(&mut blocks, "Before you start", &written.before);
        sentences(&mut blocks, "Needles", &written.needles);
        sentences(&mut blocks, "Stitch pattern", &written.stitch_pattern);
        for part in &written.instructions.sections {
            blocks.extend(section(part));
            if part.heading == "SHORT ROWS" {
                blocks.push(Block::Figures(self.take("fabric-map")));
            }
        }
        sentences(
            &mut blocks,
            "Rows picked up",
            &pick_up_sentences(&written.lists),
        );
        blocks.push(Block::heading("Abbreviations"));
        let terms = written.abbreviations.iter();
        blocks.push(Block::Terms(
            terms
                .map(|a| (a.short.to_owned(), a.meaning.to_owned()))
                .collect(),
        ));
        blocks.push(Block::Small(capital(ABBREVIATIONS_SOURCE)));
        blocks
    }

    fn finished(&self) -> Vec<String> {
        let mut lines: Vec<String> = finished_lines(self.case, self.size)
            .iter()
            .map(|line| capital(line))
            .collect();
        lines.extend(drifted_arms(self.case.units, self.size).map(|arms| {
            let arms = arms.replace("   ", "; ");
            format!("Upper arm if your rounds differ from the pattern's gauge by {arms}")
        }));
        lines
    }

    /// Where the old and the new cap are fuller or tighter than the armhole, from the underarm up.
    fn ease(&self) -> Vec<Block> {
        let units = self.case.units;
        let strips = ease_strips(self.size);
        let bands = strips
            .iter()
            .map(|(_, strip)| strip.len())
            .max()
            .unwrap_or(0);
        let mut columns = vec![Column::new("cap", ColumnKind::Head)];
        columns.extend(
            (1..=bands).map(|band| Column::new(band_name(band, bands), ColumnKind::Number)),
        );
        let row = |(name, strip): &(&str, &[EaseBand])| {
            let mut row = vec![(*name).to_owned()];
            row.extend(strip.iter().map(|band| band_ease(units, band)));
            row.resize(bands + 1, String::new());
            row
        };
        vec![
            Block::Table(Table {
                caption: format!("Cap less armhole ({units}) in {bands} bands of equal height"),
            captioned: true,
                rows: strips.iter().map(row).collect(),
                columns,
                boxes: false,
                whole: true,
            }),
            Block::Small("Plus: the cap is longer there and is eased in. Minus: it is shorter and is stretched.".to_owned()),
        ]
    }
}

/// A measure and how far it is off, in brackets.
fn compared(cell: &str) -> String {
    match cell.split_once("  ") {
        Some((measure, off)) => format!("{measure} ({off})"),
        None => cell.to_owned(),
    }
}

fn band_name(band: usize, bands: usize) -> String {
    match band {
        1 => "underarm".to_owned(),
        _ if band == bands => "shoulder".to_owned(),
        _ => band.to_string(),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}

fn sentences(blocks: &mut Vec<Block>, heading: &str, sentences: &[String]) {
    let said: Vec<String> = sentences
        .iter()
        .filter(|s| !s.is_empty())
        .cloned()
        .collect();
    if !said.is_empty() {
        blocks.push(Block::heading(heading));
        blocks.push(Block::Sentences(said));
    }
}

/// `Pattern`, or `Pattern, left sleeve (the wearer's left)`.
fn sleeve_title(what: &str, sleeve: Sleeve) -> String {
    match sleeve_name(sleeve) {
        None => what.to_owned(),
        Some(name) => format!("{what}, {}", name.to_lowercase()),
    }
}

fn checklist(id: &str, written: &Written) -> [Block; 2] {
    let id = format!("{id}-checklist-{}", written.sleeve.word());
    let title = sleeve_title("Checklist", written.sleeve);
    [
        Block::section(id, title.clone()),
        Block::Table(checklist_table(&written.checklist, &title)),
    ]
}

fn checklist_table(list: &Checklist, title: &str) -> Table {
    let number = |name: &str| Column::new(name, ColumnKind::Number);
    let short = |name: &str| Column::new(name, ColumnKind::Short);
    let row = |row: &crate::wording::CheckRow| {
        vec![
            row.row.to_string(),
            row.side.to_owned(),
            row.step.clone(),
            row.turn.clone(),
            row.worked.to_string(),
            row.waiting_first.to_string(),
            row.waiting_second.to_string(),
            row.decreases.to_string(),
            row.on_needle.to_string(),
        ]
    };
    Table {
        caption: format!("{title}: every row of the cap"),
        captioned: false,
        columns: vec![
            Column::new("Row", ColumnKind::Head),
            short("Side"),
            short("Step"),
            short("Turn"),
            number("Worked"),
            number(&format!("Waiting, {}", list.first)),
            number(&format!("Waiting, {}", list.second)),
            number("Decreased"),
            number("On the needle"),
        ],
        rows: list.rows.iter().map(row).collect(),
        boxes: true,
        whole: false,
    }
}

/// What it takes to make the same sheet again.
fn made_from(case: &Case, conversion: &Conversion, case_text: &str, version: &str) -> Part {
    let size = match conversion.sizes.as_slice() {
        [one] if case.sizes.len() > 1 => format!(" --size \"{}\"", one.old.size),
        _ => String::new(),
    };
    let turn = match case.style.turn {
        Turn::Wrap => "wrap and turn",
        Turn::German => "German short rows",
    };
    Part {
        id: "made-from".to_owned(),
        title: "What this was made from".to_owned(),
        new_page: false,
        blocks: vec![
            Block::Text(format!(
                "Made by capwright {version}; turns: {turn}. Save the lines below as case.toml; the same version makes the same sheet again with: capwright convert case.toml{size} -o sleeve.html"
            )),
            Block::Lines(case_text.trim_end().to_owned()),
        ],
    }
}
