//! One size: what goes to the chair first, then the boxes to tick, last how it was worked out.

use super::adapt::adapted;
use super::in_tube::in_tube;
use super::stripes::stripes;
use super::written::{
    abbreviations, checklist, instructions, instructions_beside, narrow_checklist, narrow_remark,
    pattern_stitches, rows_in_pattern, rows_picked_up, same_rows, sleeve_title,
};
use super::{
    Block, Chapter, FindingBlock, Reader, ease, findings, landmarks, measures, sentences, slug,
    trade,
};
use crate::case::Case;
use crate::convert::{Conversion, SizeConversion, Written};
use crate::report::figure::{Figure, size_figures};
use crate::report::row_columns::row_columns;

/// Said with every pattern.
pub(super) const REST: &str = "Long sessions tire the hands: put the work down now and then.";

/// Of the second sleeve on paper.
const SAME_ROWS: &str = "Rows picked up as for the first sleeve: a flank that is now worked the other way takes its list of rows, and its rates, from the end.";

/// Figures of a size on paper; a page on screen has them all.
const ON_PAPER: [&str; 7] = [
    "schematic",
    "fabric-map",
    "overlay",
    "cap-chart",
    "chart-piece",
    "tube-chart",
    "repeat-chart",
];
/// The same for a size of a booklet.
const IN_A_SET: [&str; 3] = ["schematic", "cap-chart", "repeat-chart"];

/// The chapter of one size.
pub(super) fn part(
    case: &Case,
    conversion: &Conversion,
    at: usize,
    reader: Reader,
) -> Option<Chapter> {
    let size = conversion.sizes.get(at)?;
    let several = conversion.sizes.len() > 1;
    let mut figures = if reader.is_sheet() {
        size_figures(case, conversion, at)
    } else {
        Vec::new()
    };
    if reader == Reader::Paper {
        let kept: &[&str] = if several { &IN_A_SET } else { &ON_PAPER };
        figures.retain(|figure| kept.contains(&figure.kind));
    }
    let chapter = SizeSheet {
        id: format!("size-{}-{}", at + 1, slug(&size.old.size)),
        case,
        size,
        several,
        reader,
        about: if is_alone(conversion, reader) {
            let found: Vec<_> = conversion.findings.iter().collect();
            findings::once(&found, 1, reader)
        } else {
            Vec::new()
        },
    };
    let blocks = chapter.blocks(figures);
    let title = if case.sizes.len() == 1 {
        "The sleeve".to_owned()
    } else {
        format!("Size {}", size.old.size)
    };
    Some(Chapter {
        id: chapter.id,
        title,
        new_page: several,
        blocks,
    })
}

/// A single size on paper: few pages, so what was found about its case stands with the rest.
pub(super) fn is_alone(conversion: &Conversion, reader: Reader) -> bool {
    reader == Reader::Paper && conversion.sizes.len() == 1
}

struct SizeSheet<'a> {
    id: String,
    case: &'a Case,
    size: &'a SizeConversion,
    several: bool,
    reader: Reader,
    /// What was found about the case, where no chapter of its own says it.
    about: Vec<FindingBlock>,
}

/// Takes the figures of this kind out of those that are still to be shown.
fn take(figures: &mut Vec<Figure>, kind: &str) -> Vec<Figure> {
    figures
        .extract_if(.., |figure| figure.kind == kind)
        .collect()
}

fn pictures(figures: Vec<Figure>) -> Option<Block> {
    (!figures.is_empty()).then_some(Block::Figures(figures))
}

/// The charts, each as wide as the page.
fn charts(figures: &mut Vec<Figure>) -> Vec<Block> {
    let kinds = ["cap-chart", "chart-piece", "tube-chart", "repeat-chart"];
    let charts: Vec<Figure> = kinds.iter().flat_map(|kind| take(figures, kind)).collect();
    if charts.is_empty() {
        return Vec::new();
    }
    let each = charts
        .into_iter()
        .map(|chart| Block::Chart(Box::new(chart)));
    std::iter::once(Block::heading("Charts"))
        .chain(each)
        .collect()
}

impl SizeSheet<'_> {
    /// In a booklet of many sizes each has its pattern; findings are told once for all, and a size's own
    /// sheet has its checklist and how it was worked out.
    fn is_short(&self) -> bool {
        self.several && self.reader == Reader::Paper
    }

    fn section(&self, name: &str, title: &str) -> Block {
        Block::section(format!("{}-{name}", self.id), title)
    }

    fn blocks(&self, mut figures: Vec<Figure>) -> Vec<Block> {
        let mut blocks = self.first_page(&mut figures);
        blocks.extend(self.patterns(&mut figures));
        let measures = landmarks::landmarks(self.case.units, &self.size.landmarks, self.reader);
        let checklists = if self.reader.is_sheet() && !self.is_short() {
            self.checklists()
        } else {
            Vec::new()
        };
        // What is longest comes first on paper, where it is not split.
        let (one, other) = match self.reader {
            Reader::Paper => (checklists, measures),
            _ => (measures, checklists),
        };
        blocks.extend(one);
        blocks.extend(other);
        if !self.is_short() {
            blocks.extend(self.worked_out(figures));
        }
        blocks
    }

    /// Gauge, measurements, what is needed, and what it looks like.
    fn first_page(&self, figures: &mut Vec<Figure>) -> Vec<Block> {
        let mut blocks = Vec::new();
        // Of a set they are told once, with all sizes.
        if !self.several {
            blocks.push(measures::gauges(self.case, self.size));
        }
        blocks.extend(measures::finished(self.case, self.size));
        blocks.push(Block::heading("What you need"));
        let mut needed: Vec<String> = Vec::new();
        for written in &self.size.written {
            let new = written.needles.iter().filter(|said| !needed.contains(said));
            let new: Vec<String> = new.cloned().collect();
            needed.extend(new);
        }
        needed.push(measures::yarn(self.size));
        blocks.push(Block::Sentences(needed));
        let mut shown = take(figures, "schematic");
        shown.extend(take(figures, "fabric-map"));
        blocks.extend(pictures(shown));
        blocks
    }

    /// What all sleeves share is told once, above the first.
    fn patterns(&self, figures: &mut Vec<Figure>) -> Vec<Block> {
        let mut blocks = Vec::new();
        let first = self.size.written.first();
        for written in &self.size.written {
            let title = sleeve_title(written.sleeve);
            let name = format!("pattern-{}", written.sleeve.word());
            blocks.push(self.section(&name, title));
            let told = first.filter(|first| !std::ptr::eq(*first, written));
            if told.is_none_or(|told| told.before != written.before) {
                blocks.extend(sentences("Before you start", &written.before));
            }
            if told.is_none_or(|told| told.stitch_pattern != written.stitch_pattern) {
                blocks.extend(sentences("Stitch pattern", &written.stitch_pattern));
            }
            if told.is_none() {
                blocks.extend(pattern_stitches(written));
            }
            if !self.several && told.is_none() {
                let all: Vec<&Written> = self.size.written.iter().collect();
                blocks.extend(abbreviations(&all));
            }
            match told.filter(|_| self.reader == Reader::Paper) {
                Some(told) => blocks.extend(instructions_beside(
                    &written.instructions,
                    &told.instructions,
                )),
                None => blocks.extend(instructions(&written.instructions)),
            }
            match told.filter(|told| self.reader == Reader::Paper && same_rows(told, written)) {
                Some(_) => blocks.push(Block::Sentences(vec![SAME_ROWS.to_owned()])),
                None => blocks.extend(rows_picked_up(written, self.reader)),
            }
            if told.is_none() {
                blocks.extend(charts(figures));
            }
            blocks.extend(rows_in_pattern(written));
            let tube = written.pattern.as_ref().zip(self.size.tube.as_ref());
            blocks.extend(tube.map_or_else(Vec::new, |(pattern, tube)| in_tube(pattern, tube)));
        }
        blocks.extend(stripes(self.case, self.size));
        blocks
    }

    /// One for both sleeves on paper, where their rows are alike.
    fn checklists(&self) -> Vec<Block> {
        let written = &self.size.written;
        let lists: Vec<_> = written.iter().map(|one| &one.checklist).collect();
        let columns = written.iter().map(|one| row_columns(self.size, one));
        let both: Vec<_> = lists.iter().copied().zip(columns).collect();
        let narrow = narrow_checklist(&both, "Checklist");
        match narrow.filter(|_| self.reader == Reader::Paper) {
            Some(table) => vec![
                self.section("checklist", "Checklist"),
                Block::Small(narrow_remark(&lists)),
                Block::Table(table),
            ],
            None => written.iter().flat_map(|one| self.checklist(one)).collect(),
        }
    }

    fn checklist(&self, written: &Written) -> [Block; 2] {
        let title = checklist_title(written);
        let name = format!("checklist-{}", written.sleeve.word());
        [
            self.section(&name, &title),
            Block::Table(checklist(
                &written.checklist,
                &row_columns(self.size, written),
                &title,
            )),
        ]
    }

    /// For whoever wants it.
    fn worked_out(&self, mut figures: Vec<Figure>) -> Vec<Block> {
        let units = self.case.units;
        let mut blocks = vec![self.section("worked-out", "How it was worked out")];
        blocks.push(measures::numbers(units, self.size));
        blocks.extend(adapted(units, &self.size.old));
        blocks.extend(trade::trade(units, self.size, self.reader));
        let mut ease = ease::of_size(units, self.size).into_iter();
        blocks.extend(ease.next());
        if self.reader == Reader::Paper {
            blocks.extend(pictures(take(&mut figures, "overlay")));
        }
        blocks.extend(ease);
        blocks.extend(pictures(figures));
        blocks.push(self.section("findings", "Findings and cautions"));
        let found = self.size.findings.iter();
        let found = found.map(|finding| findings::of_size(finding, self.reader));
        let mut found: Vec<_> = found.collect();
        found.extend(self.about.iter().cloned());
        blocks.push(Block::Findings(found));
        blocks.push(Block::Text(REST.to_owned()));
        blocks
    }
}

/// `Checklist`, or `Checklist, left sleeve`.
pub(super) fn checklist_title(written: &Written) -> String {
    match written.sleeve {
        crate::plan::Sleeve::Both => "Checklist".to_owned(),
        sleeve => format!("Checklist, {} sleeve", sleeve.word()),
    }
}
