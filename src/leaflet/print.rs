//! Where in the print the things stand that another sleeve changes: its rows, the seams, the lengths,
//! what the pattern needs. Nothing is changed here and nothing is composed.

use std::sync::LazyLock;

use regex::Regex;

use super::cuff::{cast_on, cuff, grows_from};
use super::lists::{UNIT, lengths as read_lengths, list, numbers, places, regex, unit_word};
use super::place::Place;
use super::seams::{Seam, seams, sentences};
use super::section::{Part, TextSection, sections, sentence_end, shaping_of};
use super::sleeve::SleeveLines;
use super::{Flow, construction, gauge, sizes};

/// What a printed pattern says of its sleeves, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Print {
    /// The whole print; of columns side by side, the columns under one another.
    pub text: String,
    /// The sleeve's heading.
    pub heading: Place,
    /// Its rows, from the cast-on to the end of the cap.
    pub rows: Place,
    /// Within them: how the cuff is worked after its cast-on.
    pub cuff: Option<Place>,
    /// Stitches that are cast on, where the tube begins with another count.
    pub cuff_grows_from: Option<Vec<f64>>,
    /// Needles of the cuff and of the tube, by the names the pattern gives them.
    pub needle_names: [Option<String>; 2],
    /// Where the body ends, when the sleeve is printed before it.
    pub body_ends: Option<usize>,
    /// Sentences that close seams or set the sleeves in.
    pub seams: Vec<Seam>,
    /// Lengths that the sleeve is said to have.
    pub lengths: Vec<PrintedLength>,
    /// Ends of what is said of yarn, needles and gauge.
    pub yarn: Option<usize>,
    /// As above.
    pub needles: Option<usize>,
    /// As above.
    pub gauge: Option<usize>,
    /// The length that the gauge is printed over, `cm` or `in`.
    pub gauge_over: Option<(f64, &'static str)>,
    /// The end of the abbreviations, and their words.
    pub abbreviations: Option<(usize, String)>,
    /// Every other sentence that speaks of sleeves.
    pub mentions: Vec<Place>,
    /// Sentences that press or block pieces.
    pub pressed: Vec<Place>,
    /// The names of the sizes.
    pub sizes: Vec<String>,
}

/// What a printed length is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measured {
    /// Underarm to cuff.
    Length,
    /// The upper arm.
    UpperArm,
}

/// A length of the sleeve among the measurements.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintedLength {
    /// What of.
    pub of: Measured,
    /// Each number as printed, with its place, one a size or one for all; none where their commas or fractions have
    /// two readings.
    pub numbers: Vec<(String, Place)>,
    /// True for inches.
    pub inches: bool,
    /// The word `seam`, where it is called the length of one.
    pub seam: Option<Place>,
    /// The whole.
    pub place: Place,
}

/// Looks up in a pattern what another sleeve changes.
///
/// # Errors
/// A sentence when the sleeve cannot be told apart from the rest.
pub fn read_print(flow: &Flow) -> Result<Print, String> {
    let kind = construction::kind(flow);
    if !kind.is_read() {
        return Err(kind.refusal().to_owned());
    }
    let sections = sections(flow);
    let sizes = sizes::sizes(flow).labels;
    let sleeve = SleeveLines::find(flow, &sections, sizes.len(), kind.is_saddle());
    let with_cap = |section: &&TextSection| {
        section.part == Part::Sleeve && shaping_of(flow, section).is_some()
    };
    let own: Vec<&TextSection> = sections.iter().filter(with_cap).collect();
    let section = match own.as_slice() {
        [one] => **one,
        [] => return Err(
            "No heading tells where the sleeve begins; set one (\"Sleeves\") above its cast-on."
                .to_owned(),
        ),
        [first, second, ..] => {
            let at = [first, second].map(|section| flow.evidence(section.head, section.from));
            return Err(format!(
                "Two sleeves are printed with a cap each (page {}, line {}; page {}, line {}); this amends one that serves for both.",
                at[0].page, at[0].line, at[1].page, at[1].line
            ));
        }
    };
    let Some((cap, cap_end)) = sleeve.cap() else {
        return Err("No cap was found in the sleeve.".to_owned());
    };
    let from = begins(flow, section.from, cap);
    let cast = cast_on(flow, from, cap);
    let rows = Place::new(flow, from, cap_end);
    let mut lengths = lengths(flow, (section.from, section.to), sizes.len());
    lengths.extend(in_table(flow, &sleeve, sizes.len()));
    let seams = seams(flow, (from, cap_end));
    let gauge = gauge::gauge_place(flow);
    let mut print = Print {
        text: flow.print().to_owned(),
        heading: Place::new(flow, section.head, section.from),
        cuff: cast
            .and_then(|cast| cuff(flow, cast, cap))
            .map(|(from, to)| Place::new(flow, from, to)),
        cuff_grows_from: cast.and_then(|cast| grows_from(flow, cast, cap)),
        needle_names: needle_names(flow, from, cap),
        body_ends: body_ends(flow, &sections, section),
        yarn: yarn(flow, &sections),
        needles: needles(flow, &sections),
        gauge: gauge.map(|(to, ..)| after(flow, to)),
        gauge_over: gauge.map(|(_, over, unit)| (over, unit)),
        abbreviations: abbreviations(flow),
        mentions: Vec::new(),
        pressed: pressed(flow),
        sizes,
        rows,
        seams,
        lengths,
    };
    print.mentions = mentions(flow, &print);
    Ok(print)
}

/// The byte of the print after the sentence that holds this one.
fn after(flow: &Flow, at: usize) -> usize {
    let end = sentence_end(flow, at, flow.text.len());
    let words = flow.get(at, end);
    let end = at + words.trim_end().len();
    let start = flow.text.floor_char_boundary(end.saturating_sub(1));
    Place::new(flow, start, end).end()
}

/// The first letter after the heading.
fn begins(flow: &Flow, from: usize, to: usize) -> usize {
    let text = flow.get(from, to);
    from + text.len() - text.trim_start().len()
}

/// `smaller needles` of the cast-on, `larger needles` of the change.
fn needle_names(flow: &Flow, from: usize, cap: usize) -> [Option<String>; 2] {
    static NAME: LazyLock<Regex> = LazyLock::new(|| {
        let size = r"\d+(?:[.,]\d+|\s?[½¼¾])?(?:[- ]?mm\b)?";
        let word = format!(
            r"(?:\(?{size}\)?|mm|nos?\.?|sizes?|US|UK|small(?:er|est)|larg(?:er|est)|finer|thicker|thinner|bigger|straight|circular|double[- ]pointed|dp|short|long|knitting|bone|steel|wooden|pairs?|set|of)"
        );
        regex(&format!(
            r"(?i)\b(?:with|using|on|to) (?:the |a pair of )?((?:{word} ){{0,5}}?needles?(?: (?:(?:nos?\.?|size) ?)?{size})?|(?:No|size)\.?\s*\d+(?: needles?)?\b)(\s*(?:sts?\b|stitch|[(\[]))?"
        ))
    });
    static CHANGE: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:chang(?:e|ing)|switch(?:ing)?) (?:back )?to\b|\bcont(?:inu\w+|\.)? (?:[^.;]|\.\d){0,40}?\bneedles?\b",
        )
    });
    let text = flow.get(from, cap);
    let change = CHANGE.find(text).map(|found| found.start());
    let name = |from: usize, to: usize| {
        // `On needle` names none, and `needles 56 sts` no size.
        NAME.captures_iter(flow.get(from, to)).find_map(|found| {
            let named = found.get(1)?;
            let said = flow.said(from + named.start(), from + named.end());
            let words: Vec<&str> = said.split_whitespace().collect();
            (words.len() > 1 && found.get(2).is_none()).then(|| words.join(" "))
        })
    };
    [
        name(from, change.map_or(cap, |at| from + at)),
        change.and_then(|at| name(from + at, cap)),
    ]
}

/// Where the last piece of the body ends, when it is printed after the sleeve.
fn body_ends(flow: &Flow, sections: &[TextSection], sleeve: TextSection) -> Option<usize> {
    let body = |section: &&TextSection| matches!(section.part, Part::Back | Part::Front);
    let last = sections.iter().rfind(body)?;
    (last.from > sleeve.from).then(|| {
        let end = last.from + flow.get(last.from, last.to).trim_end().len();
        let start = flow.text.floor_char_boundary(end.saturating_sub(1));
        Place::new(flow, start, end).end()
    })
}

/// Lengths of the sleeve outside its own section.
fn lengths(flow: &Flow, (from, to): (usize, usize), sizes: usize) -> Vec<PrintedLength> {
    static LENGTH: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)(sleeve (seam|length)|length of sleeves?(?: (seam))?|underarm sleeve(?: (seam))?|sleeve to underarm|upper arms?|sleeve width|width of (?:the )?sleeves?)[^\d\n.]{{0,30}}?(?:(cms?|ins?)\.?\s*)?({})\s*({UNIT})?",
            list()
        ))
    });
    let mut out = Vec::new();
    for found in LENGTH.captures_iter(&flow.text) {
        let (Some(all), Some(name), Some(list)) = (found.get(0), found.get(1), found.get(6)) else {
            continue;
        };
        let Some(unit) = found.get(5).or_else(|| found.get(7)) else {
            continue;
        };
        if (from..to).contains(&all.start()) {
            continue;
        }
        let name = name.as_str().to_lowercase();
        let wide = name.contains("arm") && !name.contains("under") || name.contains("width");
        let seam = [2, 3, 4].into_iter().find_map(|group| found.get(group));
        let seam = seam.filter(|word| word.as_str().eq_ignore_ascii_case("seam"));
        // Numbers that have two readings are nobody's to change.
        let numbers = if read_lengths(list.as_str(), sizes).1 {
            Vec::new()
        } else {
            number_places(flow, list.start(), list.as_str())
        };
        out.push(PrintedLength {
            of: if wide {
                Measured::UpperArm
            } else {
                Measured::Length
            },
            numbers,
            inches: unit_word(unit.as_str()) == "in",
            seam: seam.map(|word| Place::new(flow, word.start(), word.end())),
            place: Place::new(flow, all.start(), all.end()),
        });
    }
    out
}

/// `SleeveLines  44 (45, 46) cm`, a line of a table: the length where its numbers are those that the sleeve is worked to.
fn in_table(flow: &Flow, sleeve: &SleeveLines<'_>, sizes: usize) -> Option<PrintedLength> {
    static LINE: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?im)^[ \t]*(sleeves?[ \t]*[:.–—-]*[ \t]+({})[ \t]*({UNIT}))",
            list()
        ))
    });
    let worked = sleeve.worked_length()?;
    LINE.captures_iter(&flow.text).find_map(|found| {
        let (all, list, unit) = (found.get(1)?, found.get(2)?, found.get(3)?);
        let (values, two_readings) = read_lengths(list.as_str(), sizes);
        let unit = unit_word(unit.as_str());
        let same = values == worked.values && unit == worked.unit && !two_readings;
        same.then(|| PrintedLength {
            of: Measured::Length,
            numbers: number_places(flow, list.start(), list.as_str()),
            inches: unit == "in",
            seam: None,
            place: Place::new(flow, all.start(), all.end()),
        })
    })
}

/// Each number of a list as printed, with its place.
fn number_places(flow: &Flow, from: usize, list: &str) -> Vec<(String, Place)> {
    let places = places(list).into_iter().map(|one| {
        let (start, end) = (from + one.from, from + one.to);
        (
            flow.get(start, end).to_owned(),
            Place::new(flow, start, end),
        )
    });
    places.collect()
}

impl PrintedLength {
    /// The numbers' values.
    pub fn values(&self) -> Vec<f64> {
        let numbers = self.numbers.iter();
        numbers.filter_map(|(text, _)| numbers_of(text)).collect()
    }
}

fn numbers_of(text: &str) -> Option<f64> {
    numbers(text).first().copied()
}

/// Where the pieces begin: what a pattern needs is said before.
fn head_ends(flow: &Flow, sections: &[TextSection]) -> usize {
    let piece = sections.iter().find(|section| section.part != Part::Other);
    piece.map_or(flow.text.len(), |section| section.head)
}

fn yarn(flow: &Flow, sections: &[TextSection]) -> Option<usize> {
    static YARN: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i){}\s*(?:x\s*)?(?:\d+ ?-?\s?(?:g|grams?|ozs?)\.?\s*)?(?:balls?|skeins?|hanks?|ozs?\b|ounces|g\b|grams?\b)",
            list()
        ))
    });
    let found = YARN
        .find_iter(flow.get(0, head_ends(flow, sections)))
        .last()?;
    Some(after(flow, found.end()))
}

fn needles(flow: &Flow, sections: &[TextSection]) -> Option<usize> {
    static NEEDLES: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)(?:\bpairs?\b|\bsizes?\b|\bnos?\.|\bneedles?\b|\d ?mm)[^.\n]{0,40}\bneedles?\b|\bneedles?\b[^.\n]{0,20}(?:\bnos?\.|\d)",
        )
    });
    static GAUGE: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\brows\b|\bsts\b|gauge|tension|stitches"));
    let head = flow.get(0, head_ends(flow, sections));
    let found = NEEDLES.find_iter(head).find(|found| {
        let line = head
            .get(..found.start())
            .and_then(|text| text.rfind(['\n', '.']));
        let sentence = head.get(line.map_or(0, |at| at + 1)..found.end());
        !sentence.is_some_and(|words| GAUGE.is_match(words))
    })?;
    Some(after(flow, found.end()))
}

/// Letters of a line that is a heading alone: `ABBREVIATIONS USED`.
const ALONE: usize = 22;

fn abbreviations(flow: &Flow) -> Option<(usize, String)> {
    static HEAD: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?m)^[ \t]*(?:ABBREVIATIONS?|Abbreviations?)\b[^\n]*"));
    static NEXT: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"\n\s*\n|\n[A-Z][A-Z &]{3,}\b|\n(?:The |THE )?(?:Back|Front|Sleeves?|Tension|Gauge|Materials)\b",
        )
    });
    let found = HEAD.find(&flow.text)?;
    let rest = flow.get(found.end(), flow.text.len());
    // Under a heading of its own they begin on the next line, beside a word they end with it.
    let beside = found.len() > ALONE;
    let skipped = if beside {
        0
    } else {
        rest.len() - rest.trim_start_matches('\n').len()
    };
    let end = NEXT.find(rest.get(skipped..)?);
    let end = found.end() + end.map_or(rest.len(), |next| skipped + next.start());
    let words = flow.get(found.start(), end).trim_end();
    let end = found.start() + words.len();
    let start = flow.text.floor_char_boundary(end.saturating_sub(1));
    Some((Place::new(flow, start, end).end(), words.to_owned()))
}

/// Sentences that press or block what is knitted, but for those that are about something else first.
fn pressed(flow: &Flow) -> Vec<Place> {
    static PRESS: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)^(?:[^,.]{0,60},\s*)?(?:(?:lightly|carefully|gently|wet|steam)\s+)*(?:block|press|steam|pin out)\b",
        )
    });
    let all = sentences(flow, 0, flow.text.len()).into_iter();
    let said = all.filter(|(from, to)| PRESS.is_match(flow.get(*from, *to)));
    said.map(|(from, to)| Place::new(flow, from, to)).collect()
}

/// Sentences that speak of sleeves and are none of the above.
fn mentions(flow: &Flow, print: &Print) -> Vec<Place> {
    static SLEEVE: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bsleeves?\b|\bset[ -]in\b|\bsleeve ?caps?\b"));
    let all = sentences(flow, 0, flow.text.len()).into_iter();
    let said = all.filter(|(from, to)| SLEEVE.is_match(flow.get(*from, *to)));
    let places = said.map(|(from, to)| Place::new(flow, from, to));
    let known = |place: &Place| {
        print.rows.meets(place)
            || print.heading.meets(place)
            || print.lengths.iter().any(|length| length.place.meets(place))
            || print.seams.iter().any(|seam| {
                seam.clauses
                    .iter()
                    .all(|clause| clause.is_settled() || clause.joins.is_none())
                    && seam.place.meets(place)
            })
    };
    places.filter(|place| !known(place)).collect()
}
