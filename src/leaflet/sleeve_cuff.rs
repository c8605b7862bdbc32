//! The sleeve's cuff: its stitches, its stitch, its length, and the length of the sleeve with or without it.

use std::sync::LazyLock;

use regex::Regex;

use super::Fact;
use super::cuff::{
    ACROSS_VERB, EVERY_SO_MANY, RIB_OTHERWISE, cast_on, cuff, cuff_goes_on, grows_from,
    rib_otherwise,
};
use super::lengths::{PrintedList, length_doubts, lengths, seam};
use super::lists::{fits, in_trade_notation, regex};
use super::section::{last_count, sentence_end};
use super::sleeve::{Count, SleeveLines, counted, same};

impl SleeveLines<'_> {
    pub(super) fn cuff(&self, cap: usize, sizes: usize) -> Vec<Fact> {
        let length = self.length.as_ref();
        let mut facts = Vec::new();
        let cuff = self.cuff_length(length.map_or(cap, |length| length.from), sizes);
        let stitches = self.cuff_stitches(cap);
        if let (Some(((values, from, to), open)), Some(_)) = (&stitches, length) {
            let evidence = self.flow.evidence(*from, *to);
            let mut fact = counted("sleeve.cuff_stitches", values, evidence, sizes);
            if *open {
                fact.doubt(
                    "It is changed evenly after the cuff, and the count then is not printed.",
                );
            }
            facts.push(fact);
        } else {
            facts.push(self.no_cuff_stitches(stitches.as_ref().map(|(count, _)| count)));
        }
        let Some(length) = length else {
            facts.push(Fact::missing(
                "sleeve.length",
                "No length of the sleeve up to the cap was found.",
            ));
            return facts;
        };
        let mut fact = length.fact("sleeve.length", self.flow);
        if length.more {
            fact.doubt("It is worked on from what was there: it is not the whole length.");
        }
        if !fits(&length.values, sizes) {
            fact.doubt(&format!(
                "It has {} numbers for {sizes} sizes.",
                length.values.len()
            ));
        }
        let above = self.is_above_cuff(length, cap);
        if let Some(seam) = seam(self.flow, length.unit, sizes) {
            let near = same(&seam.0, &length.values);
            if near {
                fact.say("The measurements say the same.");
            } else {
                fact.evidence.push(self.flow.evidence(seam.1, seam.2));
                fact.doubt("The measurements give another sleeve length.");
            }
        }
        for why in length_doubts(self.flow, self.from, length, cap) {
            fact.doubt(why);
        }
        facts.push(fact);
        let known = cuff.as_ref().filter(|cuff| cuff.unit == length.unit);
        if let Some(cuff) = known.filter(|_| !above) {
            let mut fact = cuff.fact("sleeve.cuff_length", self.flow);
            if let Some(told) = cuff_goes_on(self.flow, cuff, cap) {
                fact.evidence.push(told);
                fact.doubt("The cuff goes on after it, or is told in parts.");
            }
            facts.push(fact);
            facts.extend(self.cuff_stitch(cap));
        } else if !above && let Some((from, to)) = rib_otherwise(self.flow, self.from, length.from)
        {
            let mut fact = Fact::missing("sleeve.cuff_length", RIB_OTHERWISE);
            fact.evidence.push(self.flow.evidence(from, to));
            facts.push(fact);
        }
        facts
    }

    /// True for a length that is measured from above the cuff: `14 in from top of rib`.
    fn is_above_cuff(&self, length: &PrintedList, cap: usize) -> bool {
        let rest = self
            .flow
            .get(length.to, sentence_end(self.flow, length.to, cap))
            .to_lowercase();
        let says = |words: &[&str]| words.iter().any(|word| rest.contains(word));
        let beyond = [
            "above",
            "from",
            "excluding",
            "after",
            "not including",
            "without",
            "beyond",
            "omitting",
            "plus",
            "besides",
        ];
        let border = [
            "rib", "cuff", "border", "welt", "moss st", "seed st", "garter",
        ];
        says(&border) && says(&beyond)
            || says(&[
                "color change",
                "colour change",
                "change of colo",
                "change of needle",
                "needle change",
                "marked row",
                "from marker",
            ])
    }

    /// Why there is no count of the cuff: it goes with the length of the sleeve.
    fn no_cuff_stitches(&self, cast: Option<&Count>) -> Fact {
        let key = "sleeve.cuff_stitches";
        let Some((values, from, to)) = cast else {
            return Fact::missing(key, "No cast-on of the sleeve was found.");
        };
        let why = format!(
            "{} are cast on, and no length of the sleeve up to the cap was found, with which they go: give both.",
            in_trade_notation(values)
        );
        let mut fact = Fact::missing(key, &why);
        fact.evidence.push(self.flow.evidence(*from, *to));
        fact
    }

    /// The one stitch of a cuff that keeps its count.
    fn cuff_stitch(&self, cap: usize) -> Option<Fact> {
        static STITCHES: LazyLock<[(Regex, &str); 3]> = LazyLock::new(|| {
            [
                (
                    regex(
                        r"(?i)\bk(?:nit)? ?\.? ?1[,.;]? ?p(?:url)? ?\.? ?1\b|\bsingle rib|\b1 ?[x×/] ?1 rib",
                    ),
                    "1x1",
                ),
                (
                    regex(
                        r"(?i)\bk(?:nit)? ?\.? ?2[,.;]? ?p(?:url)? ?\.? ?2\b|\bdouble rib|\b2 ?[x×/] ?2 rib",
                    ),
                    "2x2",
                ),
                (regex(r"(?i)\bgarter\b"), "garter"),
            ]
        });
        static OTHER: LazyLock<Regex> = LazyLock::new(|| {
            regex(r"(?i)\bk ?\.? ?[3-9]|\bp ?\.? ?[3-9]|moss|seed|twist|cable|\brows?:|patt")
        });
        let cast = cast_on(self.flow, self.from, cap)?;
        let (from, to) = cuff(self.flow, cast, cap)?;
        let words = self.flow.get(from, to);
        let found = STITCHES.iter().filter(|(sign, _)| sign.is_match(words));
        let found: Vec<&str> = found.map(|(_, name)| *name).collect();
        let [only] = found.as_slice() else {
            return None;
        };
        let plain = !OTHER.is_match(words) && grows_from(self.flow, cast, cap).is_none();
        plain.then(|| {
            Fact::new(
                "sleeve.cuff.stitch",
                *only,
                vec![self.flow.evidence(from, to)],
            )
        })
    }

    /// The cast-on, or what is left after a ribbed cuff is increased across; and whether it is
    /// increased without a count behind it.
    fn cuff_stitches(&self, cap: usize) -> Option<(Count, bool)> {
        static CAST: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bcast(?:ing)? on|\bCO\b"));
        static EVENLY: LazyLock<Regex> = LazyLock::new(|| {
            regex(&format!(
                r"(?i){ACROSS_VERB}(?:evenly|across|{EVERY_SO_MANY}|(?:in|on|over) (?:the )?(?:last|next) (?:rib )?row)"
            ))
        });
        let text = self.flow.get(self.from, cap);
        let cast = CAST.find(text)?;
        let from = self.from + cast.start();
        let end = sentence_end(self.flow, from, cap).min(from + 160);
        // The sentence may go on to the increases and their count.
        let own = cast_on(self.flow, self.from, cap)
            .and_then(|(start, ends)| last_count(self.flow, start, ends));
        let first = match own {
            Some(own) => own,
            None => last_count(self.flow, from, self.flow.text.floor_char_boundary(end))?,
        };
        let Some(evenly) = EVENLY.find(text) else {
            let later = self.count_before_tube(&first, cap);
            return Some((later.unwrap_or(first), false));
        };
        let end = sentence_end(self.flow, self.from + evenly.end(), cap);
        // The count may stand behind the sentence, in brackets of its own or on the next line.
        let after = [0, 20, 40].into_iter().find_map(|more| {
            let end = self.flow.text.floor_char_boundary((end + more).min(cap));
            last_count(self.flow, self.from + evenly.start(), end)
        });
        Some(after.map_or((first, true), |count| (count, false)))
    }

    /// Another count that is printed between the cast-on and the first increase at the sides: `* m1, rib 6; rep from *. 62 sts`.
    fn count_before_tube(&self, first: &Count, cap: usize) -> Option<Count> {
        static SIDES: LazyLock<Regex> = LazyLock::new(|| {
            regex(
                r"(?i)\b(?:inc|m1|make|shap)\w*\b[^.]{0,60}(?:\beach (?:end|side)|\bboth (?:ends|sides)|\bevery [^.]{0,24}\brows?\b)",
            )
        });
        let behind = self.flow.get(first.2, cap);
        let sides = SIDES.find(behind)?;
        let later = last_count(self.flow, first.2, first.2 + sides.start())?;
        let near = |(a, b): (&f64, &f64)| (0.6..=1.7).contains(&(a / b));
        let alike = later.0.len() == first.0.len() && later.0.iter().zip(&first.0).all(near);
        alike.then_some(later)
    }

    fn cuff_length(&self, to: usize, sizes: usize) -> Option<PrintedList> {
        static RIB: LazyLock<Regex> =
            LazyLock::new(|| regex(r"(?i)\brib|border|welt|garter|moss|seed"));
        let mut at = self.from;
        while at < to {
            let end = sentence_end(self.flow, at, to).max(at + 1);
            let text = self.flow.get(at, end);
            if let Some(rib) = RIB.find(text) {
                let lengths = lengths(self.flow, at, end, sizes);
                let near = |length: &PrintedList| length.from.abs_diff(at + rib.start());
                return lengths
                    .into_iter()
                    .filter(|length| length.to <= to && length.values.iter().all(|n| *n < 20.0))
                    .min_by_key(near);
            }
            at = end;
        }
        // A border that is not called one: the first short length that is worked to.
        let whole = self.length.as_ref()?;
        let short = |length: &PrintedList| {
            length.unit == whole.unit
                && length
                    .values
                    .iter()
                    .all(|n| *n * 3.0 < whole.values.first().copied().unwrap_or(0.0))
        };
        lengths(self.flow, self.from, to, sizes)
            .into_iter()
            .find(short)
    }
}
