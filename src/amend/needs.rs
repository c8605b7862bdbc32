//! What the pattern says at its head of the sleeves: gauge, yarn, needles, abbreviations, lengths.

use super::change::{AmendSource, Change};
use crate::convert::GaugeSource;
use crate::leaflet::{Measured, PrintedLength};
use crate::measure::{CM_PER_INCH, Gauge, Length, Units, signed_to};

/// All changes outside the rows and the making up.
pub(super) fn changes(source: &AmendSource<'_>) -> Vec<Change> {
    let mut out: Vec<Change> = [
        gauge(source),
        yarn(source),
        needles(source),
        abbreviations(source),
    ]
    .into_iter()
    .flatten()
    .collect();
    out.extend(
        source
            .print
            .lengths
            .iter()
            .map(|length| lengths(source, length)),
    );
    out
}

fn insertion(at: usize, text: String, reason: &str) -> Change {
    Change {
        removed: Vec::new(),
        added: vec![(at, text)],
        reason: reason.to_owned(),
    }
}

/// A number without needless decimals.
fn short(number: f64) -> String {
    ((number * 10.0).round() / 10.0).to_string()
}

/// The gauges that a swatch has shown; where there is none the printed one stands, and nothing is added.
fn gauge(source: &AmendSource<'_>) -> Option<Change> {
    let at = source.print.gauge?;
    let used = &source.conversion.sizes.first()?.gauge;
    let flat = (used.cap_source == GaugeSource::Flat).then(|| {
        let cap = counts_of(source, used.cap, "rows");
        format!("{cap} back and forth for the cap")
    });
    let round = (!used.tube_assumed).then(|| {
        let tube = counts_of(source, used.tube, "rounds");
        let below = if flat.is_some() { " below it" } else { "" };
        format!("{tube} in rounds{below}")
    });
    let said: Vec<String> = [flat, round].into_iter().flatten().collect();
    if said.is_empty() {
        return None;
    }
    Some(insertion(
        at,
        format!(" Sleeves: {}.", said.join(", ")),
        "The counts of the new sleeves are made for these gauges; knitting in rounds is often not as tight or as loose as knitting flat.",
    ))
}

/// A gauge over the length that the pattern prints its own over: `7.1 sts and 9.2 rows to 1 inch`.
pub(super) fn counts_of(source: &AmendSource<'_>, gauge: Gauge, rows: &str) -> String {
    let units = source.case.units;
    let printed = source.print.gauge_over;
    let (over, unit) = printed.unwrap_or((units.number(units.swatch_length()), units.word()));
    let cm = over * if unit == "in" { CM_PER_INCH } else { 1.0 };
    let length = match (unit, over) {
        ("in", 1.0) => "1 inch".to_owned(),
        _ => format!("{} {unit}", short(over)),
    };
    format!(
        "{} sts and {} {rows} to {length}",
        short(gauge.stitches_per_10cm() * cm / 10.0),
        short(gauge.rows_per_10cm() * cm / 10.0)
    )
}

/// By how much the new caps take more stitches than the old ones, in per cent, one a size.
fn more_yarn(source: &AmendSource<'_>) -> Vec<String> {
    let sizes = source.conversion.sizes.iter().map(|size| {
        let (new, old) = (size.loops.all().as_f64(), size.flat_loops.as_f64());
        signed_to((new / old.max(1.0) - 1.0) * 100.0, 0)
    });
    sizes.collect()
}

fn yarn(source: &AmendSource<'_>) -> Option<Change> {
    let at = source.print.yarn?;
    let more = source.notation.list(&more_yarn(source));
    let text = if more == "0" {
        " Yarn of the two sleeve caps: as much as for sewn-in ones.".to_owned()
    } else {
        format!(" Yarn of the two sleeve caps: {more} % against sewn-in ones.")
    };
    Some(insertion(
        at,
        text,
        "Stitches knitted in a new cap against those of the old one, a few per cent either way. Caps are a small part of a garment, so the amounts are left as printed.",
    ))
}

fn needles(source: &AmendSource<'_>) -> Option<Change> {
    let at = source.print.needles?;
    let text = format!(
        " For the sleeves also: a circular needle of 80 cm (32 in) or longer to work in a loop, or double-pointed needles, of the same sizes; {} stitch markers.",
        markers(source)
    );
    Some(insertion(
        at,
        text,
        "The sleeves are worked round the armhole and in rounds.",
    ))
}

/// Markers that are placed in the text that has most.
fn markers(source: &AmendSource<'_>) -> usize {
    let count = |text: &str| text.matches("; pm").count();
    let texts = source
        .conversion
        .sizes
        .iter()
        .flat_map(|size| &size.written);
    let placed = texts.map(|one| {
        one.instructions
            .sentences()
            .iter()
            .map(|said| count(said))
            .sum::<usize>()
    });
    placed.max().unwrap_or(0)
}

/// The abbreviations of the new words that these do not explain.
pub(super) fn terms(source: &AmendSource<'_>, known: &str) -> String {
    let mut terms: Vec<(&str, &str)> = Vec::new();
    for one in source
        .conversion
        .sizes
        .iter()
        .flat_map(|size| &size.written)
        .flat_map(|one| &one.abbreviations)
    {
        if terms.iter().all(|(short, _)| *short != one.short) && !explains(known, one.short) {
            terms.push((one.short, one.meaning));
        }
    }
    terms.sort_by_key(|(short, _)| short.to_lowercase());
    let terms: Vec<String> = terms
        .iter()
        .map(|(short, meaning)| format!("{short}: {meaning}"))
        .collect();
    terms.join("; ")
}

/// True when the word stands there alone.
fn explains(known: &str, word: &str) -> bool {
    let known = known.to_lowercase();
    let letter = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '&');
    known
        .match_indices(&word.to_lowercase())
        .any(|(at, found)| {
            let before = known.get(..at).and_then(|text| text.chars().next_back());
            let after = known
                .get(at + found.len()..)
                .and_then(|text| text.chars().next());
            !letter(before) && !letter(after)
        })
}

fn abbreviations(source: &AmendSource<'_>) -> Option<Change> {
    let (at, known) = source.print.abbreviations.as_ref()?;
    let terms = terms(source, known);
    (!terms.is_empty()).then(|| {
        let text = format!(" {terms}.");
        insertion(
            *at,
            text,
            "Words of the new sleeves that are not explained yet.",
        )
    })
}

/// A printed length of the sleeve: its name where it was a seam's, and the numbers that differ.
fn lengths(source: &AmendSource<'_>, length: &PrintedLength) -> Change {
    let mut change = Change::default();
    let mut reasons = Vec::new();
    if let Some(seam) = &length.seam {
        change.removed.extend(seam.ranges.iter().cloned());
        change.added.push((seam.end(), "to underarm".to_owned()));
        reasons.push("The sleeve has no seam.");
    }
    let new = new_numbers(source, length);
    for ((_, place), new) in length.numbers.iter().zip(new) {
        if let Some(new) = new {
            change.removed.extend(place.ranges.iter().cloned());
            change.added.push((place.end(), new));
        }
    }
    if change.added.len() > usize::from(length.seam.is_some()) {
        reasons.push("What the new sleeve measures at the gauges given.");
    }
    change.reason = reasons.join(" ");
    change
}

/// For each printed number the new one, where it differs by more than the print can show.
fn new_numbers(source: &AmendSource<'_>, length: &PrintedLength) -> Vec<Option<String>> {
    let units = if length.inches { Units::In } else { Units::Cm };
    let printed = length.values();
    let sizes = &source.conversion.sizes;
    let number = |text: String| Some(text);
    if printed.len() != sizes.len() {
        return Vec::new();
    }
    let style = NumberStyle::of(length);
    let pairs = sizes.iter().enumerate().zip(printed);
    let new = pairs.map(|((at, size), printed)| {
        let now = match length.of {
            Measured::UpperArm => units.number(size.fit.measures.upper_arm),
            Measured::Length => {
                let cuff = source
                    .case
                    .sleeve
                    .cuff_length
                    .as_ref()
                    .and_then(|all| all.get(at));
                let given = source.case.sleeve.length.as_ref()?.get(at)?;
                let tube = size
                    .gauge
                    .tube
                    .height(size.tube.as_ref()?.rows_below_underarm());
                printed + units.number(tube + cuff.copied().unwrap_or(Length::ZERO) - *given)
            }
        };
        ((now - printed).abs() >= style.step / 2.0)
            .then(|| style.write(now))
            .and_then(number)
    });
    new.collect()
}

/// How the numbers of a printed list are written.
struct NumberStyle {
    step: f64,
    decimals: bool,
}

impl NumberStyle {
    fn of(length: &PrintedLength) -> Self {
        let any = |marks: &[char]| length.numbers.iter().any(|(text, _)| text.contains(marks));
        let step = if any(&['¼', '¾']) { 0.25 } else { 0.5 };
        let decimals = any(&['.']) || !(length.inches || any(&['½', '/']));
        Self { step, decimals }
    }

    fn write(&self, number: f64) -> String {
        let number = (number / self.step).round() * self.step;
        let whole = number.floor();
        let part = number - whole;
        if self.decimals || part == 0.0 {
            return number.to_string();
        }
        let glyph = match (part * 4.0).round() {
            1.0 => '¼',
            2.0 => '½',
            _ => '¾',
        };
        format!("{whole}{glyph}")
    }
}
