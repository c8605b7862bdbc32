//! A whole printed pattern -> facts with the words they stand in -> the text of a case.
//!
//! `flow` makes one running text of the pages (every character keeps page and line), `lists` reads
//! numbers one a size, `sizes` the names of the sizes, `section` cuts the text into pieces, `head`
//! reads gauge and wearer, `sleeve`, `cuff` and `body` what is shaped, `construction` what kind of
//! garment it is, `case_text` writes the case; `print` and `seams` find what another sleeve changes. Nothing is computed that is not printed: a fact is the
//! words' own number, and a second statement of it only confirms or doubts it. What the rows say
//! is asked of the reader of patterns above this room (`check::prove_leaflet`).

mod as_back;
mod body;
mod cap_lines;
mod case_text;
#[cfg(feature = "leaflet-pdf")]
mod columns;
mod construction;
mod cuff;
mod divided;
mod doubts;
mod fabric;
mod fact;
mod flow;
mod gauge;
mod head;
mod hem;
mod increases;
mod lengths;
#[cfg(feature = "leaflet-pdf")]
mod letters;
mod lists;
#[cfg(feature = "leaflet-pdf")]
mod pdf;
mod place;
mod print;
mod reference;
mod saddle;
mod seams;
mod section;
mod sizes;
mod sleeve;
mod sleeve_cuff;
mod told;
mod which;

use std::borrow::Cow;

use serde::Serialize;

pub use fact::{Evidence, Fact, Status};
pub use flow::Flow;
pub use increases::{Increases, Pace};
pub use lists::in_trade_notation;
#[cfg(feature = "leaflet-pdf")]
pub use pdf::{LeafletPdfError, read_pdf};
pub use place::Place;
pub use print::{Measured, Print, PrintedLength, read_print};
pub use seams::{Clause, Joins, Seam};
use section::{Part, TextSection};
pub use told::{Told, What};
pub use which::Which;

/// What a pattern says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Leaflet {
    /// Set-in, raglan, yoke and so on.
    pub construction: String,
    /// Why it cannot be used, with the signs quoted; empty when it can.
    pub refused: String,
    /// The words that told the construction.
    pub signs: Vec<Evidence>,
    /// The facts, in the order of a case.
    pub facts: Vec<Fact>,
    /// The text of the case.
    pub case: String,
    /// The garments of the text by their titles, where it has several.
    pub garments: Vec<String>,
    /// The sleeves with a cap by their headings, where it has several.
    pub sleeves: Vec<String>,
    /// The cap written out in every way its words may be meant, where they send to the armhole; who can read rows
    /// takes the one that holds.
    #[serde(skip)]
    pub written_out: Vec<String>,
    /// What is told beside the facts, for them to be held against.
    #[serde(skip)]
    pub told: Vec<Told>,
    /// How the sleeve is increased, where its words are understood.
    #[serde(skip)]
    pub increases: Option<Increases>,
}

/// More text than this is no pattern.
pub const MAX_BYTES: usize = 2_000_000;

/// Reads a whole pattern.
pub fn read_leaflet(text: &str) -> Leaflet {
    if text.len() > MAX_BYTES {
        return refused(
            "none",
            "This is longer than any pattern: 2 MB of text at the most.",
        );
    }
    read_flow(&Flow::of_text(text))
}

/// Reads a pattern whose pages are one running text already.
pub fn read_flow(flow: &Flow) -> Leaflet {
    read_flow_of(flow, Which::default())
}

/// Reads one of several garments, with one of several sleeves.
pub fn read_flow_of(flow: &Flow, which: Which) -> Leaflet {
    read_flow_sized(flow, which, &[])
}

/// The same, where somebody says what the sizes are: how many numbers a list has follows from them, so all is read
/// anew. Without labels they are those of the print.
pub fn read_flow_sized(flow: &Flow, which: Which, labels: &[String]) -> Leaflet {
    match garment_of(flow, which.garment) {
        Ok(garment) => read_garment(&garment, which.sleeve, labels),
        Err(sentence) => refused("several", &sentence),
    }
}

/// One of several garments as a running text of its own, its places those of the whole; the whole where none is
/// named.
///
/// # Errors
/// A sentence when the text has no such garment.
pub fn garment_of(flow: &Flow, number: Option<usize>) -> Result<Cow<'_, Flow>, String> {
    let Some(number) = number else {
        return Ok(Cow::Borrowed(flow));
    };
    let garments = which::garments(flow, &section::sections(flow));
    match number.checked_sub(1).and_then(|at| garments.get(at)) {
        Some(wanted) => Ok(Cow::Owned(flow.stretch(wanted.from, wanted.to))),
        None if garments.is_empty() => {
            Err("No second garment with a title of its own was found in this text.".to_owned())
        }
        None => Err(format!(
            "There are {} garments in this text; garment {number} is none of them.",
            garments.len()
        )),
    }
}

fn read_garment(flow: &Flow, sleeve: Option<usize>, labels: &[String]) -> Leaflet {
    let kind = construction::kind(flow);
    let signs = kind.signs(flow);
    if !kind.is_read() {
        return refused_for(kind.word(), kind.refusal(), signs);
    }
    let mut sections = section::sections(flow);
    let garments = which::garments(flow, &sections);
    if let Some(unlike) = construction::unlike(flow, &sections, !garments.is_empty()) {
        if garments.is_empty() {
            return refused_for(unlike.word, &unlike.refusal, unlike.signs);
        }
        // Their titles say more than the headings of their backs.
        return Leaflet {
            garments: garments.into_iter().map(|garment| garment.title).collect(),
            signs: unlike.signs,
            ..refused(unlike.word, &unlike.refusal)
        };
    }
    let sleeves = which::sleeves(flow, &sections);
    if let Some(number) = sleeve {
        if number == 0 || number > sleeves.len() {
            let sentence = format!(
                "There is no sleeve {number} with a cap in this text, only {}.",
                sleeves.len()
            );
            return refused(kind.word(), &sentence);
        }
        which::only_sleeve(flow, &mut sections, number);
    }
    let sizes = sizes_of(flow, labels);
    let count = sizes.labels.len();
    let sleeve = sleeve::SleeveLines::find(flow, &sections, count, kind.is_saddle());
    let mut leaflet = Leaflet {
        construction: kind.word().to_owned(),
        refused: String::new(),
        signs,
        facts: facts(flow, &sections, &sizes, &sleeve),
        told: told::told(flow, &sections, count),
        increases: sleeve.increases(),
        case: String::new(),
        garments: Vec::new(),
        written_out: reference::cap_of_armhole(flow, &sections),
        sleeves: if sleeves.len() > 1 {
            sleeves
        } else {
            Vec::new()
        },
    };
    leaflet.write();
    leaflet
}

impl Leaflet {
    /// Writes the case anew, after a fact has changed.
    pub fn write(&mut self) {
        self.case = case_text::write(&self.facts);
    }

    /// True once swatches of the knitter's own stand in the case.
    pub fn has_swatches(&self) -> bool {
        !self.case.contains(case_text::YOUR_SWATCHES)
    }

    /// Takes the place of the swatches out of the case: they are given.
    pub fn swatches_are_given(&mut self) {
        self.case = self.case.replace(case_text::YOUR_SWATCHES, "");
    }

    /// The fact of this key.
    pub fn fact(&self, key: &str) -> Option<&Fact> {
        self.facts.iter().find(|fact| fact.key == key)
    }

    /// The facts that are missing or unsure.
    pub fn open(&self) -> impl Iterator<Item = &Fact> {
        self.facts.iter().filter(|fact| fact.status != Status::Sure)
    }
}

/// Refused, with the signs quoted.
fn refused_for(construction: &str, refusal: &str, signs: Vec<Evidence>) -> Leaflet {
    let quoted: Vec<&str> = signs.iter().map(|sign| sign.text.as_str()).collect();
    let sentence = match quoted.as_slice() {
        [] => refusal.to_owned(),
        quoted => format!("{refusal} It says: \"{}\".", quoted.join("\"; \"")),
    };
    Leaflet {
        signs,
        ..refused(construction, &sentence)
    }
}

fn refused(construction: &str, sentence: &str) -> Leaflet {
    Leaflet {
        construction: construction.to_owned(),
        refused: sentence.to_owned(),
        signs: Vec::new(),
        facts: Vec::new(),
        case: String::new(),
        garments: Vec::new(),
        sleeves: Vec::new(),
        written_out: Vec::new(),
        told: Vec::new(),
        increases: None,
    }
}

/// The sizes as somebody tells them, or as they are printed.
fn sizes_of(flow: &Flow, labels: &[String]) -> sizes::TextSizes {
    if labels.is_empty() {
        sizes::sizes(flow)
    } else {
        sizes::given(labels)
    }
}

fn units_of(flow: &Flow, sleeve: &sleeve::SleeveLines<'_>) -> &'static str {
    sleeve.units().or_else(|| head::units(flow)).unwrap_or("cm")
}

/// All facts, in the order of a case.
fn facts(
    flow: &Flow,
    sections: &[TextSection],
    sizes: &sizes::TextSizes,
    sleeve: &sleeve::SleeveLines<'_>,
) -> Vec<Fact> {
    let count = sizes.labels.len();
    let units = units_of(flow, sleeve);
    let mut facts = vec![head::title(flow), head::units_fact(flow, sleeve, units)];
    facts.extend(sizes.fact(flow));
    let worked = |part| fabric::worked(flow, sections, part);
    let body = worked(Part::Back).or_else(|| worked(Part::Front));
    let of_sleeve = worked(Part::Sleeve);
    facts.extend(gauge::gauge(flow, units, of_sleeve.as_ref(), body.as_ref()));
    facts.extend(sleeve.facts(flow, count));
    facts.extend(body::facts(flow, sections, count));
    facts.extend(head::wearer(flow, count, units));
    facts.push(head::terms(flow));
    doubt_doubled(flow, sections, &mut facts);
    doubts::by_other_words(flow, &mut facts);
    if sizes.is_open() {
        doubts::lists(&mut facts);
    }
    facts
}

/// A piece that is printed twice, such as a sleeve in two lengths: which of them is meant is not printed.
fn doubt_doubled(flow: &Flow, sections: &[TextSection], facts: &mut [Fact]) {
    for (part, start, what) in [
        (Part::Sleeve, "sleeve.", "sleeve"),
        (Part::Back, "armhole.", "back"),
    ] {
        let shaped = sections
            .iter()
            .filter(|section| section.part == part && section::shaping_of(flow, section).is_some());
        let shaped: Vec<&TextSection> = shaped.collect();
        // A left and a right one may be told by the same rows.
        let halves = shaped.iter().all(|section| section.half);
        let rows = |section: &TextSection| {
            let from = section::shaping_of(flow, section).unwrap_or(section.from);
            let end = cap_lines::cap_end(flow, from, section.to);
            let words = flow.get(from, end).split_whitespace();
            let before = section::last_count(flow, section.from, from).map(|count| count.0);
            (words.collect::<Vec<_>>().join(" ").to_lowercase(), before)
        };
        let alike =
            |one: &&TextSection| shaped.first().is_some_and(|first| rows(first) == rows(one));
        if halves && (part != Part::Sleeve || shaped.iter().all(alike)) {
            continue;
        }
        let at: Vec<Evidence> = shaped
            .iter()
            .map(|section| flow.evidence(section.head, section.from))
            .collect();
        if let [_, second, ..] = at.as_slice() {
            let why = format!(
                "Another {what} is printed (page {}, line {}); this is of the first.",
                second.page, second.line
            );
            let mine = facts.iter_mut().filter(|fact| fact.key.starts_with(start));
            mine.filter(|fact| fact.status == Status::Sure)
                .for_each(|fact| fact.doubt(&why));
        }
    }
}
