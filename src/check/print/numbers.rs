//! The numbers of a print by size: facts, what is told beside them, and the rows of cap and armhole.

use crate::leaflet::{Fact, Increases, Leaflet, Status, Told, What};
use crate::measure::{CM_PER_INCH, parse_size_list};
use crate::pattern::{Ledger, Piece};

use super::rows::reading;

/// The numbers of one print.
pub(super) struct PrintNumbers<'l> {
    leaflet: &'l Leaflet,
    labels: Vec<String>,
    cap: Vec<Ledger>,
    back: Vec<Ledger>,
    front: Vec<Ledger>,
}

impl<'l> PrintNumbers<'l> {
    pub(super) fn of(leaflet: &'l Leaflet) -> Self {
        let labels: Vec<String> = leaflet.fact("sizes").map_or_else(
            || vec![String::new()],
            |fact| fact.value.split(", ").map(str::to_owned).collect(),
        );
        let rows = |lines: &str, stitches: &str, piece: Piece| -> Vec<Ledger> {
            let read = reading(leaflet, lines, stitches, piece);
            let sizes = read.map_or(Vec::new(), |(reading, _)| reading.sizes);
            sizes.into_iter().map(|size| size.ledger).collect()
        };
        let [lines, stitches] = back_keys(leaflet);
        Self {
            leaflet,
            cap: rows("sleeve.cap", "sleeve.stitches", Piece::Sleeve),
            back: rows(lines, stitches, Piece::Body),
            front: rows("armhole.front.lines", "armhole.front.stitches", Piece::Body),
            labels,
        }
    }

    pub(super) fn sizes(&self) -> usize {
        self.labels.len()
    }

    /// The size in brackets, where there is more than one.
    pub(super) fn named(&self, size: usize) -> String {
        match self.labels.get(size) {
            Some(label) if self.labels.len() > 1 => format!(" (size {label})"),
            _ => String::new(),
        }
    }

    pub(super) fn label(&self, size: usize) -> &str {
        self.labels.get(size).map_or("", String::as_str)
    }

    /// The first number of the size's name, where all are named alike: `6 mo` and `2 yr` are not.
    pub(super) fn numeral(&self, size: usize) -> Option<f64> {
        let words =
            |label: &str| -> String { label.chars().filter(|one| one.is_alphabetic()).collect() };
        let label = self.label(size);
        if self.labels.iter().any(|other| words(other) != words(label)) {
            return None;
        }
        let digits = label
            .bytes()
            .take_while(|byte| byte.is_ascii_digit() || *byte == b'.')
            .count();
        label.get(..digits)?.parse().ok()
    }

    /// The bust or chest in centimetres; where it is not printed, what the stitches round the body are made for.
    pub(super) fn girth(&self, size: usize) -> Option<f64> {
        self.cm("body.bust", size).or_else(|| {
            let round = 2.0 * self.number(self.back_stitches(), size)?;
            Some(round / self.stitches_per_cm(true)?.0 / USUAL_EASE)
        })
    }

    fn fact(&self, key: &str) -> Option<&Fact> {
        let fact = self.leaflet.fact(key)?;
        (fact.status != Status::Missing && !fact.value.is_empty()).then_some(fact)
    }

    /// True for a fact that nothing speaks against so far.
    pub(super) fn is_sure(&self, key: &str) -> bool {
        self.leaflet
            .fact(key)
            .is_some_and(|fact| fact.status == Status::Sure)
    }

    /// The words of a fact.
    pub(super) fn words(&self, key: &str) -> &str {
        self.fact(key).map_or("", |fact| &fact.value)
    }

    /// The lines of the back's armhole, which is both pieces' where they are alike.
    pub(super) fn back_lines(&self) -> &'static str {
        back_keys(self.leaflet)[0]
    }

    /// The stitches before them.
    pub(super) fn back_stitches(&self) -> &'static str {
        back_keys(self.leaflet)[1]
    }

    /// True where the front is worked as the back.
    pub(super) fn front_is_as_back(&self) -> bool {
        self.is_sure("armhole.lines")
    }

    /// A number of a fact for this size.
    pub(super) fn number(&self, key: &str, size: usize) -> Option<f64> {
        self.of_list(&self.fact(key)?.value, size)
    }

    /// The number of this size in a list with one for each or one for all.
    pub(super) fn of_list(&self, list: &str, size: usize) -> Option<f64> {
        let list = parse_size_list(list).ok()?;
        match list.as_slice() {
            [one] => Some(*one),
            all if all.len() == self.sizes() => all.get(size).copied(),
            _ => None,
        }
    }

    /// True where the lengths of the facts are inches.
    pub(super) fn in_inches(&self) -> bool {
        self.words("units") == "in"
    }

    /// A length of a fact in centimetres.
    pub(super) fn cm(&self, key: &str, size: usize) -> Option<f64> {
        let factor = if self.in_inches() { CM_PER_INCH } else { 1.0 };
        Some(self.number(key, size)? * factor)
    }

    /// A length as the print has it, with its unit.
    pub(super) fn length(&self, cm: f64) -> String {
        if self.in_inches() {
            format!("{} in", super::sums::said(cm / CM_PER_INCH))
        } else {
            format!("{} cm", super::sums::said(cm))
        }
    }

    fn told(&self, what: What) -> Option<&Told> {
        self.leaflet.told.iter().find(|told| told.what == what)
    }

    /// What is told beside the facts: lengths in centimetres, stitches as they are.
    pub(super) fn told_of(&self, what: What, size: usize) -> Option<f64> {
        let told = self.told(what)?;
        let factor = if told.unit == "in" { CM_PER_INCH } else { 1.0 };
        Some(self.of_list(&told.value, size)? * factor)
    }

    pub(super) fn increases(&self) -> Option<&Increases> {
        self.leaflet.increases.as_ref()
    }

    /// Stitches to the centimetre, of the sleeve or of the body, with the key they are of.
    pub(super) fn stitches_per_cm(&self, body: bool) -> Option<(f64, &'static str)> {
        self.gauge(body, "gauge.body.stitches", "gauge.pattern.stitches")
    }

    /// Rows to the centimetre.
    pub(super) fn rows_per_cm(&self, body: bool) -> Option<(f64, &'static str)> {
        self.gauge(body, "gauge.body.rows", "gauge.pattern.rows")
    }

    fn gauge(
        &self,
        body: bool,
        own: &'static str,
        usual: &'static str,
    ) -> Option<(f64, &'static str)> {
        let key = if body && self.fact(own).is_some() {
            own
        } else {
            usual
        };
        let table = key.rsplit_once('.')?.0;
        let over = self.cm(&format!("{table}.over"), 0);
        let over = over.unwrap_or(if self.in_inches() {
            4.0 * CM_PER_INCH
        } else {
            10.0
        });
        let count = self.number(key, 0)?;
        (count > 0.0 && over > 0.0).then_some((count / over, key))
    }

    pub(super) fn cap(&self, size: usize) -> Option<&Ledger> {
        self.cap.get(size).filter(|ledger| !ledger.rows.is_empty())
    }

    pub(super) fn back(&self, size: usize) -> Option<&Ledger> {
        self.back.get(size).filter(|ledger| !ledger.rows.is_empty())
    }

    pub(super) fn front(&self, size: usize) -> Option<&Ledger> {
        self.front
            .get(size)
            .filter(|ledger| !ledger.rows.is_empty())
    }
}

fn back_keys(leaflet: &Leaflet) -> [&'static str; 2] {
    if leaflet.fact("armhole.back.lines").is_some() {
        ["armhole.back.lines", "armhole.back.stitches"]
    } else {
        ["armhole.lines", "armhole.stitches"]
    }
}

/// A garment's width over its wearer's: charts of ease begin at a classic fit of 5 to 10 cm (common practice, no source).
const USUAL_EASE: f64 = 1.08;
