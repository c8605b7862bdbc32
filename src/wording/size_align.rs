//! Sizes built alike: the same number of steps in each, so that they stand in one sentence with numbers in brackets.
//!
//! Five pairs are four pairs and one more: a step or a row of shaping rounds is split in two where another size has one
//! more of them. Nothing else changes, and every count stays true.

use super::instructions::{Counts, Instructions, Step};
use super::size_pick_up::same_rates;
use super::size_sentence::differ_in_numbers;
use super::told::{Pairs, Shaping, StepTold};
use crate::plan::remarks;

/// Splits steps and rates until all sizes have as many, as far as they are of one kind.
pub(crate) fn aligned(texts: &mut [Instructions]) {
    for heading in remarks::HEADINGS {
        let mut lists: Vec<Vec<Step>> = texts.iter().map(|t| steps(t, heading)).collect();
        match *heading {
            remarks::PICK_UP => same_rates(&mut lists),
            remarks::SHORT_ROWS => {
                same_steps(&mut lists);
                for list in &mut lists {
                    letter_again(list);
                }
            }
            remarks::JOIN => same_corners(&mut lists),
            remarks::TUBE => same_steps(&mut lists),
            _ => continue,
        }
        for (text, list) in texts.iter_mut().zip(lists) {
            for section in text.sections.iter_mut().filter(|s| s.heading == *heading) {
                section.steps.clone_from(&list);
            }
        }
    }
}

fn steps(text: &Instructions, heading: &str) -> Vec<Step> {
    let found = text.sections.iter().filter(|s| s.heading == heading);
    found.flat_map(|s| s.steps.clone()).collect()
}

/// What tells steps apart that are worked several times over: the stitches a pair takes in and decreases, or the rounds
/// from one shaping round to the next.
type StepKey = (u32, u32);

/// Steps that differ in the second number are told in other words.
const OTHER_WORDS: u32 = 1000;

fn kind(step: &Step) -> Option<StepKey> {
    match &step.told {
        StepTold::Pairs(pairs) => pairs.each.map(|m| (m.take, m.drop)),
        StepTold::Shaping(shaping) => Some((shaping.every, 0)),
        _ => None,
    }
}

fn unlike((a, b): StepKey, (c, d): StepKey) -> u32 {
    a.abs_diff(c) + OTHER_WORDS * b.abs_diff(d)
}

/// The steps of a size that can be split, by their places.
fn kinds(list: &[Step]) -> Vec<(usize, StepKey)> {
    let read = |(i, step)| kind(step).map(|kind| (i, kind));
    list.iter().enumerate().filter_map(read).collect()
}

fn same_steps(lists: &mut [Vec<Step>]) {
    // One size that is worked otherwise stands apart in any case.
    let other = |step: &Step| matches!(&step.told, StepTold::Pairs(pairs) if pairs.each.is_none());
    if lists.iter().flatten().any(other) {
        return;
    }
    let all = lists.iter().map(|list| kinds(list));
    let longest = all.max_by_key(Vec::len).unwrap_or_default();
    let wanted: Vec<StepKey> = longest.into_iter().map(|(_, kind)| kind).collect();
    let split: Vec<Vec<Step>> = lists.iter().map(|list| split_into(list, &wanted)).collect();
    let in_place = |list: &Vec<Step>| {
        let own = kinds(list);
        own.len() == wanted.len() && own.iter().zip(&wanted).all(|(a, b)| a.1.1 == b.1)
    };
    if split.iter().all(in_place) {
        lists.clone_from_slice(&split);
    }
}

/// The steps of a size, split until there are as many of them as wanted and nearest to these.
fn split_into(list: &[Step], wanted: &[StepKey]) -> Vec<Step> {
    let mut list = list.to_vec();
    loop {
        let now = kinds(&list);
        if now.len() >= wanted.len() {
            return list;
        }
        let off = |at: usize| -> u32 {
            let twice = now.iter().enumerate();
            let twice = twice
                .flat_map(|(i, (_, kind))| std::iter::repeat_n(*kind, if i == at { 2 } else { 1 }));
            twice.zip(wanted).map(|(a, b)| unlike(a, *b)).sum()
        };
        let splits = now.iter().enumerate();
        let splits =
            splits.filter_map(|(at, (i, _))| Some((off(at), *i, last_apart(list.get(*i)?)?)));
        let Some((_, i, parts)) = splits.min_by_key(|(off, i, _)| (*off, *i)) else {
            return list;
        };
        list.splice(i..=i, parts);
    }
}

/// All but the last time, and the last time.
fn last_apart(step: &Step) -> Option<[Step; 2]> {
    match &step.told {
        StepTold::Pairs(pairs) => last_pair_apart(pairs, step.counts?),
        StepTold::Shaping(shaping) => last_shaping_apart(*shaping, step.counts?),
        _ => None,
    }
}

fn last_pair_apart(pairs: &Pairs, counts: Counts) -> Option<[Step; 2]> {
    let Counts::ShortRows {
        rows,
        worked,
        waiting,
    } = counts
    else {
        return None;
    };
    let (m, [before, last]) = (pairs.each?, pairs.last_apart()?);
    let counts_before = Counts::ShortRows {
        rows: rows.checked_sub(2)?,
        worked: worked.checked_sub(2 * m.widens().count())?,
        waiting: waiting.and_each_side(m.take),
    };
    let counts_last = Counts::ShortRows {
        rows: 2,
        worked,
        waiting,
    };
    Some([
        Step::pairs(before, counts_before),
        Step::pairs(last, counts_last),
    ])
}

fn last_shaping_apart(shaping: Shaping, counts: Counts) -> Option<[Step; 2]> {
    let Counts::Rounds { rounds, stitches } = counts else {
        return None;
    };
    let [before, last] = shaping.last_apart()?;
    let counts_before = Counts::Rounds {
        rounds: rounds.checked_sub(shaping.every)?,
        stitches: shaping.shape.before(stitches, 1),
    };
    Some([
        Step::shaping(before, counts_before),
        Step::shaping(last, counts),
    ])
}

/// The letters of the steps, in their order.
fn letter_again(list: &mut [Step]) {
    let mut index = 0;
    for step in list {
        if let StepTold::Pairs(pairs) = &mut step.told {
            pairs.index = index;
            step.sentence = pairs.sentence();
            index += 1;
        }
    }
}

/// The first round made alike: where some size makes other counts at the two corners, all of them name both.
fn same_corners(lists: &mut [Vec<Step>]) {
    let firsts = lists.iter().flatten();
    let firsts =
        firsts.filter(|step| matches!(step.counts, Some(Counts::Rounds { rounds: 1, .. })));
    let firsts: Vec<String> = firsts.map(|step| step.sentence.clone()).collect();
    if differ_in_numbers(&firsts) {
        return;
    }
    for step in lists.iter_mut().flatten() {
        if let StepTold::EachCorner { corner_by_corner } = &step.told {
            step.sentence.clone_from(corner_by_corner);
        }
    }
}
