//! The sleeve: cuff, increases, length, and the lines of its cap.

use std::sync::LazyLock;

use regex::Regex;

use super::cap_lines::{cap_end, closes, lines_of};
use super::cuff::{EVENLY_OTHERWISE, evenly_otherwise};
use super::increases::{Increases, increases};
use super::lengths::{PrintedList, length};
use super::lists::{counts, fits, in_trade_notation, regex};
use super::section::{
    CHANGES, Part, TextSection, last_count, sentence_end, shaping_of, to_armhole,
};
use super::{Evidence, Fact, Flow, saddle};

/// Where the sleeve's parts lie in the text.
#[derive(Debug)]
pub(super) struct SleeveLines<'f> {
    pub(super) flow: &'f Flow,
    /// From the cast-on.
    pub(super) from: usize,
    /// Where the cap begins and ends.
    cap: Option<(usize, usize)>,
    to: usize,
    saddle: bool,
    pub(super) length: Option<PrintedList>,
    /// No piece has a heading, and more than one is cast on.
    unnamed: bool,
}

/// A count, one a size, with where it begins and ends.
pub(super) type Count = (Vec<f64>, usize, usize);

impl<'f> SleeveLines<'f> {
    /// Finds the sleeve that has a cap: under its heading, or the section that has the most.
    pub(super) fn find(
        flow: &'f Flow,
        sections: &[TextSection],
        sizes: usize,
        saddle: bool,
    ) -> Self {
        let mine = sections
            .iter()
            .filter(|section| section.part == Part::Sleeve);
        let whole = TextSection {
            part: Part::Sleeve,
            half: false,
            head: 0,
            from: 0,
            to: flow.text.len(),
        };
        // Without any heading of a piece the whole is a sleeve; with one, a sleeve is only what is called so.
        let alone = sections.iter().all(|section| section.part == Part::Other);
        let mut found = mine.copied().chain(alone.then_some(whole)).map(|section| {
            let cap =
                shaping_of(flow, &section).map(|from| (from, cap_end(flow, from, section.to)));
            (section, cap)
        });
        let first = found.next().unwrap_or((whole, None));
        let (section, cap) = if first.1.is_some() {
            first
        } else {
            found.find(|(_, cap)| cap.is_some()).unwrap_or(first)
        };
        let before = cap.map_or(section.to, |cap| cap.0);
        Self {
            unnamed: alone && CAST_COUNT.find_iter(&flow.text).count() > 1,
            flow,
            from: section.from,
            cap,
            to: section.to,
            saddle,
            length: length(flow, section.from, before, sizes),
        }
    }

    /// Where the lines of its cap begin and end.
    pub(super) fn cap(&self) -> Option<(usize, usize)> {
        self.cap
    }

    /// How it is increased from the cuff to the cap.
    pub(super) fn increases(&self) -> Option<Increases> {
        increases(self.flow, self.from, self.cap?.0)
    }

    /// The unit the sleeve is measured in.
    pub(super) fn units(&self) -> Option<&'static str> {
        self.length.as_ref().map(|length| length.unit)
    }

    /// The length that it is worked to.
    pub(super) fn worked_length(&self) -> Option<&PrintedList> {
        self.length.as_ref().filter(|length| !length.more)
    }

    /// Where its length stands.
    pub(super) fn length_evidence(&self, flow: &Flow) -> Vec<Evidence> {
        let length = self.length.as_ref();
        length
            .map(|length| flow.evidence(length.from, length.to))
            .into_iter()
            .collect()
    }

    /// The facts of the sleeve.
    pub(super) fn facts(&self, flow: &Flow, sizes: usize) -> Vec<Fact> {
        let mut facts = self.found(flow, sizes);
        if self.unnamed {
            let sure = facts
                .iter_mut()
                .filter(|fact| fact.status == super::Status::Sure);
            sure.for_each(|fact| {
                fact.doubt("No heading tells the pieces apart, and several are cast on: this may be of another one.");
            });
        }
        facts
    }

    fn found(&self, _flow: &Flow, sizes: usize) -> Vec<Fact> {
        let Some((from, to)) = self.cap else {
            let why = "No bind-off of a cap was found in a section for the sleeve.";
            return vec![
                Fact::missing("sleeve.stitches", why),
                Fact::missing("sleeve.cap", why),
            ];
        };
        let mut stitches = self.stitches(from, sizes);
        if let Some(at) = self.rounds(from) {
            stitches.evidence.push(at);
            stitches.doubt("The sleeve is worked in rounds, so it has no seam of its own: see whether any stitch is lost at the edges of the cap (seam_stitches, 1 if left out).");
        }
        let mut facts = vec![stitches, self.cap_fact(from, to)];
        facts.extend(self.first_row(from));
        facts.extend(self.cuff(from, sizes));
        self.doubt_odd(from, &mut facts);
        self.doubt_ways(from, &mut facts);
        if evenly_otherwise(self.flow, self.from, from) {
            for key in ["sleeve.cuff_stitches", "sleeve.stitches"] {
                if let Some(fact) = facts.iter_mut().find(|fact| fact.key == key) {
                    fact.doubt(EVENLY_OTHERWISE);
                }
            }
        }
        if self.saddle {
            facts.push(self.live(from, to, sizes));
        }
        facts
    }

    /// The words that say that the tube is worked in rounds.
    fn rounds(&self, cap: usize) -> Option<Evidence> {
        static ROUNDS: LazyLock<Regex> = LazyLock::new(|| {
            regex(
                r"(?i)\b(?:in (?:the )?rounds?|rnds?|join (?:to work )?in (?:the )?round|every \d+(?:st|nd|rd|th) round)\b",
            )
        });
        let found = ROUNDS.find(self.flow.get(self.from, cap))?;
        let from = self.from + found.start();
        Some(self.flow.evidence(from, sentence_end(self.flow, from, cap)))
    }

    fn cap_fact(&self, from: usize, to: usize) -> Fact {
        let lines = lines_of(&self.flow.said(from, to));
        let mut fact = Fact::new(
            "sleeve.cap",
            lines.clone(),
            vec![self.flow.evidence(from, to)],
        );
        if CAST_COUNT.is_match(&lines) {
            fact.doubt("Stitches are cast on in these lines: they may begin too early.");
        }
        if to_armhole(self.flow, from, to).is_some_and(|(start, _)| start == from) {
            fact.doubt(
                "The cap is told by the armhole, and its rows could not be taken from there.",
            );
        }
        if !closes(&lines) && !self.saddle {
            fact.doubt("No last bind-off was found: the lines may end too early.");
        }
        fact
    }

    fn stitches(&self, cap: usize, sizes: usize) -> Fact {
        let Some((values, from, to)) = last_count(self.flow, self.from, cap) else {
            return Fact::missing(
                "sleeve.stitches",
                "No count of stitches stands before the cap.",
            );
        };
        let mut fact = counted(
            "sleeve.stitches",
            &values,
            self.flow.evidence(from, to),
            sizes,
        );
        let after = self
            .flow
            .get(to, self.flow.text.floor_char_boundary(to + 20));
        if ONE_WAY.is_match(after) {
            fact.doubt("This count is of one way of several.");
        }
        if let Some(reached) = self.increases().and_then(|increases| increases.reached()) {
            let agrees = reached.iter().any(|count| same(count, &values));
            let first = reached
                .first()
                .map_or(String::new(), |count| in_trade_notation(count));
            if agrees {
                fact.say("The increases give as many.");
            } else if from < self.last_increase(cap) {
                return self.by_increases(&reached, sizes, cap);
            } else {
                fact.doubt(&format!("The increases before the cap give {first}."));
            }
        } else if self.has_increase_after(from, cap) {
            fact.doubt("Increases follow this count, and how many could not be told.");
        }
        fact
    }

    /// A long and a short sleeve that share their cap: which of them is meant is not printed.
    fn doubt_ways(&self, cap: usize, facts: &mut [Fact]) {
        if CAST_COUNT.find_iter(self.flow.get(self.from, cap)).count() < 2 {
            return;
        }
        let keys = [
            "sleeve.cuff_stitches",
            "sleeve.cuff_length",
            "sleeve.length",
        ];
        let mine = facts
            .iter_mut()
            .filter(|fact| keys.contains(&fact.key.as_str()));
        mine.filter(|fact| fact.status == super::Status::Sure)
            .for_each(|fact| {
                fact.doubt("More than one sleeve is cast on before the cap: see which this is of.");
            });
    }

    /// Increases at both ends of rows add an even number, so that cuff and upper arm differ by one.
    fn doubt_odd(&self, cap: usize, facts: &mut [Fact]) {
        static BOTH: LazyLock<Regex> = LazyLock::new(|| {
            regex(
                r"(?i)\binc\w*[^.;]{0,80}\b(?:(?:each|either) (?:end|side|edge)|both (?:ends|sides|edges))",
            )
        });
        // What is made over a row, after a count, may be odd.
        static OTHER: LazyLock<Regex> =
            LazyLock::new(|| regex(r"(?i)\b(?:evenly|across|increase in|inc in|m1|make one)\b"));
        let words = self.flow.get(self.from, cap);
        if !BOTH.is_match(words) || OTHER.is_match(words) {
            return;
        }
        let counts = |key: &str| {
            let fact = facts.iter().find(|fact| fact.key == key);
            fact.map_or(Vec::new(), |fact| counts(&fact.value))
        };
        let (cuff, arm) = (counts("sleeve.cuff_stitches"), counts("sleeve.stitches"));
        let sizes = cuff.len().max(arm.len());
        let of =
            |list: &[f64], size: usize| list.get(if list.len() == 1 { 0 } else { size }).copied();
        let odd = (0..sizes).any(|size| {
            let both = of(&cuff, size).zip(of(&arm, size));
            both.is_some_and(|(cuff, arm)| arm < cuff || (arm - cuff) % 2.0 != 0.0)
        });
        if odd {
            for key in ["sleeve.cuff_stitches", "sleeve.stitches"] {
                if let Some(fact) = facts.iter_mut().find(|fact| fact.key == key) {
                    fact.doubt(
                        "Increases at both ends lead to no such number from the cuff to the cap.",
                    );
                }
            }
        }
    }

    /// No count is printed after the increases: theirs is the only one.
    fn by_increases(&self, reached: &[Vec<f64>], sizes: usize, cap: usize) -> Fact {
        let values = reached.first().cloned().unwrap_or_default();
        let at = self.last_increase(cap);
        let evidence = self.flow.evidence(at, sentence_end(self.flow, at, cap));
        let mut fact = counted("sleeve.stitches", &values, evidence, sizes);
        if reached.len() > 1 {
            fact.doubt(
                "No count is printed after the increases, and their words have two readings.",
            );
        } else {
            fact.say("From the cast-on and the increases; no count is printed after them.");
        }
        fact
    }

    fn last_increase(&self, cap: usize) -> usize {
        // No inches.
        static INC: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\binc(?:s|r\w*|ing)?\b"));
        let text = self.flow.get(self.from, cap);
        INC.find_iter(text)
            .last()
            .map_or(self.from, |found| self.from + found.start())
    }

    fn has_increase_after(&self, at: usize, cap: usize) -> bool {
        CHANGES.is_match(self.flow.get(at, cap))
    }

    fn first_row(&self, cap: usize) -> Option<Fact> {
        static ENDS: LazyLock<Regex> = LazyLock::new(|| {
            regex(
                r"(?i)(?:end(?:ing|ed)?|finish(?:ing)?)\s+(?:with|after|on)?\s*(?:an?\s+)?(RS|WS|right[ -]side|wrong[ -]side|knit|k|purl|p|RS facing|WS facing)(?:\s*(facing|row))?",
            )
        });
        static LABEL: LazyLock<Regex> = LazyLock::new(|| regex(r"^[^:]{0,20}\((RS|WS)\):"));
        let text = self.flow.get(cap.saturating_sub(160).max(self.from), cap);
        let text = if text.is_empty() {
            self.flow.get(self.from, cap)
        } else {
            text
        };
        let after = self.flow.get(cap, (cap + 60).min(self.to));
        if let Some(label) = LABEL.captures(after) {
            let side = label.get(1)?.as_str().to_uppercase();
            return Some(Fact::new(
                "sleeve.first_row",
                side,
                vec![self.flow.evidence(cap, cap + label.get(0)?.end())],
            ));
        }
        let ends = ENDS.captures_iter(text).last()?;
        let word = ends.get(1)?.as_str().to_lowercase();
        let right = word.starts_with('r') || word.starts_with('k');
        let facing = ends
            .get(2)
            .is_some_and(|word| word.as_str().eq_ignore_ascii_case("facing"));
        let side = if right == facing { "RS" } else { "WS" };
        let at = cap - text.len() + ends.get(0)?.start();
        Some(Fact::new(
            "sleeve.first_row",
            side,
            vec![self.flow.evidence(at, at + ends.get(0)?.len())],
        ))
    }

    /// The saddle's stitches: the last count of the cap's lines.
    fn live(&self, from: usize, to: usize, sizes: usize) -> Fact {
        let told = saddle::stitches(self.flow, to, self.to);
        let end = (to + 80).min(self.to);
        match told
            .or_else(|| last_count(self.flow, from, to))
            .or_else(|| last_count(self.flow, from, self.flow.text.floor_char_boundary(end)))
        {
            Some((values, counted_at, counted_to)) => {
                let evidence = self.flow.evidence(counted_at, counted_to);
                let mut fact = counted("shoulder.live_stitches", &values, evidence, sizes);
                if BINDS_THE_REST.is_match(self.flow.get(from, to)) {
                    fact.doubt(
                        "The cap's lines bind off what is left, so no stitch of a saddle is live.",
                    );
                }
                fact
            }
            None => Fact::missing(
                "shoulder.live_stitches",
                "The saddle's stitches were not found.",
            ),
        }
    }
}

/// A cap that closes.
static BINDS_THE_REST: LazyLock<Regex> = LazyLock::new(|| {
    regex(r"(?i)\b(?:bind|cast)[ -]off (?:the |all )*(?:rem\w*|last)\b[^.]*\.?\s*$")
});

/// `76 sts for the full sleeve`.
static ONE_WAY: LazyLock<Regex> =
    LazyLock::new(|| regex(r"(?i)^\s*(?:sts?|stitches)\.? (?:for (?:the|an?)|if)\b"));

/// Stitches that are cast on: a piece begins.
static CAST_COUNT: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\b(?:cast(?:ing)? on|CO) \d"));

/// A count of stitches as a fact, unsure when its list does not go with the sizes.
pub(super) fn counted(key: &str, values: &[f64], evidence: Evidence, sizes: usize) -> Fact {
    let mut fact = Fact::new(key, in_trade_notation(values), vec![evidence]);
    if !fits(values, sizes) {
        fact.doubt(&format!(
            "It has {} numbers for {sizes} sizes.",
            values.len()
        ));
    }
    fact
}

pub(super) fn same(a: &[f64], b: &[f64]) -> bool {
    let length = a.len().max(b.len());
    let at = |list: &[f64], i: usize| list.get(if list.len() == 1 { 0 } else { i }).copied();
    (0..length).all(|i| matches!((at(a, i), at(b, i)), (Some(a), Some(b)) if (a - b).abs() < 1e-6))
}
