//! All sizes in one text, numbers in brackets: what an editor pastes into a pattern.

use super::conversion::{overview, units_words};
use super::grading::cost_of_same_runs;
use super::in_tube::in_tubes;
use super::measures::{gauges, lengths, yarn};
use super::stripes::stripe_sentences;
use super::written::{abbreviations, instructions, pattern_stitches, sleeve_title};
use super::{
    Block, Chapter, ColumnKind, Document, Reader, TableBlock, TableColumn, findings, sentences,
};
use crate::case::{Case, SameRuns};
use crate::convert::{Conversion, Written};
use crate::diagnostic::{Diagnostic, Level};
use crate::plan::Sleeve;
use crate::report::figure::set_figures;
use crate::wording::{Instructions, Notation, as_left, one_sentence, without_lists, write_set};

/// All sizes in one text.
///
/// One text for each sleeve that needs its own; sizes built otherwise get sentences of their own.
pub fn together_document(case: &Case, conversion: &Conversion, reader: Reader) -> Document {
    let set = SizeSet { case, conversion };
    // One chapter of pattern: in a text the needle reads from one sleeve's heading to the next.
    let mut parts = vec![
        Chapter::new("All sizes", set.before()),
        Chapter::new("The pattern", set.pattern(reader)),
    ];
    parts.extend(set.found(reader));
    Document {
        title: case.title.clone(),
        subtitle: format!("All sizes in one text, {}", units_words(case.units)),
        foot: case.title.clone(),
        parts,
        paged: false,
    }
}

struct SizeSet<'a> {
    case: &'a Case,
    conversion: &'a Conversion,
}

impl SizeSet<'_> {
    /// Of every size what it has for a sleeve.
    fn sleeve(&self, i: usize) -> Vec<(&str, &Written)> {
        let sizes = self.conversion.sizes.iter();
        let written = sizes.filter_map(|size| {
            let written = size.written.get(i).or(size.written.first())?;
            Some((size.old.size.as_str(), written))
        });
        written.collect()
    }

    fn sleeves(&self) -> usize {
        let sizes = self.conversion.sizes.iter();
        sizes.map(|size| size.written.len()).max().unwrap_or(0)
    }

    /// Gauge, measurements, what is needed, what is done first, abbreviations.
    fn before(&self) -> Vec<Block> {
        let sizes = &self.conversion.sizes;
        let first = sizes.first().map(|size| gauges(self.case, size));
        let mut blocks: Vec<Block> = first.into_iter().collect();
        blocks.push(Block::Table(self.measurements()));
        let written = self.sleeve(0);
        let mut needed = told(&written, |one| one.needles.clone());
        let yarns: Vec<String> = sizes.iter().map(yarn).collect();
        needed.extend(merged(&self.names(), &yarns));
        blocks.extend(sentences("What you need", &needed));
        let first = told(&written, |one| {
            let said = one.before.iter();
            said.map(|said| without_lists(said)).collect()
        });
        blocks.extend(sentences("Before you start", &first));
        let pattern = told(&written, |one| one.stitch_pattern.clone());
        blocks.extend(sentences("Stitch pattern", &pattern));
        let names = self.names();
        let stripes = sizes.iter().map(|size| stripe_sentences(self.case, size));
        let stripes = told_together(&names, &stripes.collect::<Vec<_>>());
        blocks.extend(sentences("Stripes", &stripes));
        // The charts are the same in all sizes, and so are their stitches.
        let stitches = written.first().map(|(_, one)| pattern_stitches(one));
        blocks.extend(stitches.into_iter().flatten());
        let tubes = self.conversion.sizes.iter().filter_map(|size| {
            let pattern = size.written.first()?.pattern.as_ref()?;
            Some((pattern, size.tube.as_ref()?))
        });
        blocks.extend(in_tubes(&tubes.collect::<Vec<_>>()));
        let all = sizes.iter().flat_map(|size| &size.written);
        blocks.extend(abbreviations(&all.collect::<Vec<_>>()));
        blocks
    }

    /// The instructions of a size with its rows in pattern: of a size alone stitch by stitch, else by the charts.
    fn with_pattern(&self, written: &Written) -> Instructions {
        let instructions = &written.instructions;
        match (&written.pattern, self.conversion.sizes.as_slice()) {
            (None, _) => instructions.clone(),
            (Some(pattern), [_]) => {
                let mut text = instructions.clone();
                text.sections.push(pattern.words.section.clone());
                text
            }
            (Some(pattern), _) => pattern.words.beside_others(instructions),
        }
    }

    fn names(&self) -> Vec<&str> {
        let sizes = self.conversion.sizes.iter();
        sizes.map(|size| size.old.size.as_str()).collect()
    }

    /// A row a size.
    fn measurements(&self) -> TableBlock {
        let rows = self.conversion.sizes.iter().map(|size| {
            let mut row = vec![size.old.size.clone()];
            row.extend(lengths(self.case.units, size));
            row
        });
        TableBlock::new(
            format!("Finished measurements ({})", self.case.units),
            TableColumn::all(&MEASUREMENTS, ColumnKind::Number),
            rows.collect(),
        )
    }

    /// The sleeves, and last how they were worked out.
    fn pattern(&self, reader: Reader) -> Vec<Block> {
        let mut blocks = Vec::new();
        let mut left: Option<Instructions> = None;
        for i in 0..self.sleeves() {
            let of_sleeve = self.sleeve(i).into_iter();
            let of_sleeve = of_sleeve.map(|(size, one)| (size.to_owned(), self.with_pattern(one)));
            let text = write_set(&of_sleeve.collect::<Vec<_>>());
            let mut sizes = self.conversion.sizes.iter();
            let named = sizes.find_map(|size| size.written.get(i));
            let title = sleeve_title(named.map_or(Sleeve::Both, |written| written.sleeve));
            blocks.push(Block::section(super::slug(title) + "-text", title));
            blocks.extend(match &left {
                Some(left) => instructions(&as_left(&text, left)),
                None => instructions(&text),
            });
            left.get_or_insert(text);
        }
        blocks.push(Block::section(
            "worked-out".to_owned(),
            "How it was worked out",
        ));
        blocks.extend(overview(self.case, self.conversion));
        blocks.extend(cost_of_same_runs(self.case, self.conversion));
        if reader == Reader::Terminal {
            let first = left.as_ref();
            blocks.extend(
                first
                    .and_then(|first| self.for_some_sizes(first))
                    .map(Block::Text),
            );
        }
        if reader == Reader::Page {
            let figures = set_figures(self.case, self.conversion);
            blocks.push(Block::Figures(figures));
        }
        blocks
    }

    /// What was found, each once with the sizes it is true of: last, since it is for whoever prints the text.
    fn found(&self, reader: Reader) -> Option<Chapter> {
        let sizes = self.conversion.sizes.iter();
        let found = self.conversion.findings.iter();
        // On paper only what may spoil the sleeve: the pages are the pattern's.
        let found: Vec<&Diagnostic> = found
            .chain(sizes.flat_map(|size| &size.findings))
            .filter(|found| reader != Reader::Paper || found.level > Level::Note)
            .collect();
        let told = findings::once(&found, self.case.sizes.len(), reader);
        (!told.is_empty()).then(|| Chapter::new("About the case", vec![Block::Findings(told)]))
    }

    /// Said where the sizes have caps of their own and many sentences are for some of them only.
    fn for_some_sizes(&self, first: &Instructions) -> Option<String> {
        let alike = self
            .conversion
            .sizes
            .iter()
            .any(|size| size.alone.is_some());
        let (some, all) = first.for_some_sizes();
        if alike || some * SENTENCES_FOR_ONE_OF_SOME <= all {
            return None;
        }
        let said =
            format!("Of the {all} sentences of the first text {some} are for some sizes only");
        Some(match self.case.fit.same_runs {
            SameRuns::WherePossible => {
                format!("{said}: no list of runs was found that all sizes can work.")
            }
            _ => format!(
                "{said}: each size has its own best cap. With same_runs = true under [fit], or without that key, all sizes work the same runs where a list serves them; what that costs each size then stands here."
            ),
        })
    }
}

/// One sentence of so many may be for some sizes only before the way out is named.
const SENTENCES_FOR_ONE_OF_SOME: usize = 5;

const MEASUREMENTS: [&str; 5] = ["size", "upper arm", "cap depth", "underarm to cuff", "cuff"];

/// What every size is told, sentence by sentence.
fn told(written: &[(&str, &Written)], of: impl Fn(&Written) -> Vec<String>) -> Vec<String> {
    let names: Vec<&str> = written.iter().map(|(name, _)| *name).collect();
    let lists: Vec<Vec<String>> = written.iter().map(|(_, one)| of(one)).collect();
    told_together(&names, &lists)
}

fn told_together(names: &[&str], lists: &[Vec<String>]) -> Vec<String> {
    let lists = side_by_side(lists);
    let most = lists.iter().map(Vec::len).max().unwrap_or(0);
    let mut all = Vec::new();
    for i in 0..most {
        let own = names.iter().zip(&lists);
        let own = own.filter_map(|(name, list)| Some((*name, list.get(i)?.clone()?)));
        let (of, said): (Vec<&str>, Vec<String>) = own.unzip();
        if said.len() == names.len() {
            all.extend(merged(&of, &said));
        } else {
            all.extend(by_size(&of, &said));
        }
    }
    all
}

/// The same sentence of all sizes in one place. Where some sizes have a sentence that others have not, sentences are
/// the same that differ in numbers alone, the second such one of a size the second of every size.
fn side_by_side(lists: &[Vec<String>]) -> Vec<Vec<Option<String>>> {
    let first = lists.first().map_or(0, Vec::len);
    if lists.iter().all(|list| list.len() == first) {
        let whole = |list: &Vec<String>| list.iter().cloned().map(Some).collect();
        return lists.iter().map(whole).collect();
    }
    let keyed: Vec<Vec<(String, usize)>> = lists.iter().map(|list| keys(list)).collect();
    let mut order: Vec<&(String, usize)> = Vec::new();
    for keys in &keyed {
        let mut at = 0;
        for key in keys {
            if let Some(known) = order.iter().position(|known| *known == key) {
                at = known + 1;
            } else {
                order.insert(at, key);
                at += 1;
            }
        }
    }
    let placed = keyed.iter().zip(lists).map(|(keys, list)| {
        let own = |key: &&(String, usize)| {
            let at = keys.iter().position(|own| own == *key)?;
            list.get(at).cloned()
        };
        order.iter().map(own).collect()
    });
    placed.collect()
}

/// A sentence without its numbers, and how often it came before in the list.
fn keys(list: &[String]) -> Vec<(String, usize)> {
    let without = |said: &String| said.replace(|c: char| c.is_ascii_digit(), "");
    let mut keys: Vec<(String, usize)> = Vec::new();
    for said in list.iter().map(without) {
        let before = keys.iter().filter(|(known, _)| *known == said).count();
        keys.push((said, before));
    }
    keys
}

/// One sentence where sizes differ in numbers alone, else one for every group that does not differ.
fn merged(names: &[&str], said: &[String]) -> Vec<String> {
    let notation = Notation::usual(said.len());
    if let Some(one) = in_one_length(said, &notation) {
        return vec![one];
    }
    let lengths = said.iter().any(|said| first_length(said).is_some());
    match one_sentence(said, &notation).filter(|_| !lengths) {
        Some(one) => vec![one],
        None => by_size(names, said),
    }
}

fn by_size(names: &[&str], said: &[String]) -> Vec<String> {
    let mut groups: Vec<(String, Vec<&str>, Vec<String>)> = Vec::new();
    for (name, sentence) in names.iter().zip(said) {
        let length = first_length(sentence);
        let key = length.map_or_else(|| sentence.clone(), |(a, _, b)| format!("{a} {b}"));
        match groups.iter_mut().find(|(known, ..)| *known == key) {
            Some((_, of, all)) => {
                of.push(name);
                all.push(sentence.clone());
            }
            None => groups.push((key, vec![name], vec![sentence.clone()])),
        }
    }
    let words = groups.into_iter().map(|(_, of, all)| {
        let one = in_one_length(&all, &Notation::usual(all.len()));
        let sentence = one.or_else(|| all.first().cloned()).unwrap_or_default();
        let size = if of.len() == 1 { "Size" } else { "Sizes" };
        format!("{size} {}: {sentence}", of.join(" / "))
    });
    words.collect()
}

/// Sentences that differ in one length alone.
fn in_one_length(said: &[String], notation: &Notation) -> Option<String> {
    let read: Option<Vec<_>> = said.iter().map(|said| first_length(said)).collect();
    let read = read?;
    let (before, _, after) = read.first()?;
    let alike = read.iter().all(|(b, _, a)| b == before && a == after);
    let lengths: Vec<&str> = read.iter().map(|(_, length, _)| *length).collect();
    alike.then(|| format!("{before}{}{after}", notation.list(&lengths)))
}

/// The first number with a decimal point, what stands before it and what after it.
fn first_length(said: &str) -> Option<(&str, &str, &str)> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let mut at = 0;
    while let Some(found) = said.get(at..)?.find(|c: char| c.is_ascii_digit()) {
        let from = at + found;
        let whole = digits(said.get(from..)?);
        let rest = said.get(from + whole..)?;
        let decimals = rest.strip_prefix('.').map_or(0, digits);
        if decimals > 0 {
            let to = from + whole + 1 + decimals;
            return Some((said.get(..from)?, said.get(from..to)?, said.get(to..)?));
        }
        at = from + whole;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn owned(texts: &[&str]) -> Vec<String> {
        texts.iter().map(|&text| text.to_owned()).collect()
    }

    #[test]
    fn lengths_stand_in_one_list() {
        let said = owned(&[
            "It is 31.3 cm: one of 80 cm.",
            "It is 9.0 cm: one of 80 cm.",
        ]);
        assert_eq!(
            merged(&["S", "M"], &said),
            ["It is 31.3 (9.0) cm: one of 80 cm."]
        );
    }

    #[test]
    fn what_differs_in_more_is_told_group_by_group() {
        let said = owned(&[
            "It is 31.3 cm: one of 40 cm.",
            "It is 39.0 cm: one of 80 cm.",
            "It is 32.0 cm: one of 40 cm.",
        ]);
        assert_eq!(
            merged(&["S", "M", "L"], &said),
            [
                "Sizes S / L: It is 31.3 (32.0) cm: one of 40 cm.",
                "Size M: It is 39.0 cm: one of 80 cm."
            ]
        );
    }

    #[test]
    fn counts_stand_in_lists() {
        let said = owned(&["12 rows of 3 sts.", "14 rows of 3 sts."]);
        assert_eq!(merged(&["S", "M"], &said), ["12 (14) rows of 3 sts."]);
    }
}
