//! One text for several sizes: numbers in brackets where the sizes are built alike.
//!
//! Sentences of several sizes are merged when they differ in numbers alone: `3 (4, 5) times`.
//! Where the sizes are built differently, a sentence begins with those it is for, in the same brackets as its numbers
//! (`Sizes S (M) only.`). A size of these that has nothing in a list has a dash there. `needle` reads the same notation
//! back, size by size.

use super::instructions::{Instructions, Section, Step};
use super::notation::{self, Notation};
use super::size_align::aligned;
use super::size_sentence::{SizeSentence, merged};
use super::told::{StepTold, Whom};
use crate::plan::remarks;

/// Merges the instructions of several sizes, each with its name, in the order given.
///
/// All must be for the same sleeve and in the same style. Nothing is lost: read back for one size,
/// the text says what that size's own instructions say. With one size these come back unchanged.
pub fn write_set(sizes: &[(String, Instructions)]) -> Instructions {
    write_set_in(sizes, &Notation::usual(sizes.len()))
}

/// The same with the numbers of the sizes as a pattern lists them. `needle` reads the usual notation only.
pub fn write_set_in(sizes: &[(String, Instructions)], notation: &Notation) -> Instructions {
    if let [(_, only)] = sizes {
        return only.clone();
    }
    let mut texts: Vec<Instructions> = sizes.iter().map(|(_, text)| text.clone()).collect();
    aligned(&mut texts);
    let names = sizes.iter().map(|(name, _)| name.clone());
    let sizes: Vec<(String, Instructions)> = names.zip(texts).collect();
    let sections = remarks::HEADINGS
        .iter()
        .filter_map(|heading| section(heading, &sizes, notation));
    let mut text = Instructions {
        sections: sections.collect(),
    };
    explain_dashes(&mut text);
    text
}

/// The dash is explained right after the names of the sizes, where there is one.
fn explain_dashes(text: &mut Instructions) {
    let mut steps = text.sections.iter().flat_map(|section| &section.steps);
    if steps.any(|step| step.sentence.contains(notation::DASH))
        && let Some(first) = text.sections.first_mut()
    {
        let at = first.steps.len().min(1);
        first.steps.insert(at, Step::plain(remarks::DASHES));
    }
}

/// The second sleeve's text where the first one's stands above it: sections that are the same are not told again.
/// `needle` reads them there.
pub fn as_left(text: &Instructions, left: &Instructions) -> Instructions {
    let sections = text.sections.iter().map(|section| {
        if !left.sections.contains(section) {
            return section.clone();
        }
        Section {
            heading: section.heading.clone(),
            steps: vec![Step::plain(remarks::AS_LEFT)],
        }
    });
    Instructions {
        sections: sections.collect(),
    }
}

fn section(
    heading: &str,
    sizes: &[(String, Instructions)],
    notation: &Notation,
) -> Option<Section> {
    let names: Vec<&str> = sizes.iter().map(|(name, _)| name.as_str()).collect();
    let of_size = |(_, text): &(String, Instructions)| -> Vec<SizeSentence> {
        let found = text.sections.iter().filter(|s| s.heading == heading);
        found.flat_map(|s| &s.steps).map(SizeSentence::of).collect()
    };
    let lists: Vec<Vec<SizeSentence>> = sizes.iter().map(of_size).collect();
    if lists.iter().all(Vec::is_empty) {
        return None;
    }
    let mut writer = SetWriter {
        names: &names,
        notation,
        scope: (0..names.len()).collect(),
        steps: Vec::new(),
    };
    if heading == remarks::PICK_UP {
        writer
            .steps
            .push(Step::plain(remarks::sizes_are(&notation.names(&names))));
    }
    let order = if heading == remarks::SHORT_ROWS {
        Order::SizesApart
    } else {
        Order::SentenceBySentence
    };
    writer.section(&lists, order);
    Some(Section {
        heading: heading.to_owned(),
        steps: writer.steps,
    })
}

/// How sentences that differ from size to size follow one another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    /// Each for all groups of sizes, then the next one.
    SentenceBySentence,
    /// All of a group of sizes, then all of the next: steps that go on from one another.
    SizesApart,
}

struct SetWriter<'a> {
    names: &'a [&'a str],
    notation: &'a Notation,
    /// The sizes that were named last.
    scope: Vec<usize>,
    steps: Vec<Step>,
}

impl SetWriter<'_> {
    /// What begins alike is written once; the rest sentence by sentence where each size has as
    /// many and the order allows it, else size group by size group.
    fn section(&mut self, lists: &[Vec<SizeSentence>], order: Order) {
        let all: Vec<usize> = (0..lists.len()).collect();
        let shortest = lists.iter().map(Vec::len).min().unwrap_or(0);
        let alike = |i: &usize| keys(lists, *i).windows(2).all(|pair| pair[0] == pair[1]);
        let common = (0..shortest).take_while(alike).count();
        for i in 0..common {
            self.write(&all, lists, i);
        }
        let same_length = lists.iter().all(|list| list.len() == shortest);
        if order == Order::SentenceBySentence && same_length {
            for i in common..shortest {
                let groups = groups(&all, |size| keys(lists, i).get(size).cloned());
                for group in groups {
                    self.write(&group, lists, i);
                }
            }
            return;
        }
        let rest = |size: usize| {
            let list = lists.get(size)?.iter().skip(common);
            Some(list.map(|s| s.key.clone()).collect::<Vec<_>>())
        };
        for group in groups(&all, rest) {
            let length = group
                .first()
                .and_then(|s| lists.get(*s))
                .map_or(0, Vec::len);
            for i in common..length {
                self.write(&group, lists, i);
            }
        }
    }

    fn write(&mut self, group: &[usize], lists: &[Vec<SizeSentence>], i: usize) {
        let everyone = group.len() == self.names.len();
        let notation = self.notation.of_some(group);
        // They stand in the paragraph of the first sentence that is theirs, so that no page ends between the two.
        let scope = if self.scope == group {
            String::new()
        } else if everyone {
            format!("{} ", remarks::ALL_SIZES)
        } else {
            let names = group.iter().filter_map(|s| self.names.get(*s)).copied();
            let listed = notation.names(&names.collect::<Vec<_>>());
            format!("{} ", remarks::only(group.len(), &listed))
        };
        self.scope = group.to_vec();
        let of_group = group.iter().filter_map(|s| lists.get(*s)?.get(i));
        let said = merged(&of_group.collect::<Vec<_>>(), &notation);
        let whom = if everyone { Whom::All } else { Whom::Some };
        self.steps.push(Step {
            told: StepTold::OfSet(whom),
            ..Step::plain(scope + &said)
        });
    }
}

fn keys(lists: &[Vec<SizeSentence>], i: usize) -> Vec<String> {
    let key = |list: &Vec<SizeSentence>| list.get(i).map(|s| s.key.clone());
    lists.iter().filter_map(key).collect()
}

/// The sizes whose keys are equal, in the order of their first size.
fn groups<K: PartialEq>(sizes: &[usize], key: impl Fn(usize) -> K) -> Vec<Vec<usize>> {
    let mut groups: Vec<(K, Vec<usize>)> = Vec::new();
    for &size in sizes {
        let key = key(size);
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, group)) => group.push(size),
            None => groups.push((key, vec![size])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}
