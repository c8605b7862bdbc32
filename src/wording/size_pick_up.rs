//! The pick-up of several sizes: rates that all have in common, so that the sizes differ in numbers alone.

use super::instructions::Step;
use super::rates::Rate;
use super::size_rates::common;
use super::size_set::differ_in_numbers;
use super::stretch::{Form, Half, Stretch};
use super::told::{PickUp, Piece, Told};

/// Sentences that stand in the same place get the same rates in each stretch, or as many: all sizes together, or as
/// few groups of sizes as there can be.
pub(crate) fn same_rates(lists: &mut [Vec<Step>]) {
    let shortest = lists.iter().map(Vec::len).min().unwrap_or(0);
    for i in 0..shortest {
        let told = lists.iter().filter_map(|list| match &list.get(i)?.told {
            Told::PickUp(told) => Some(told.clone()),
            _ => None,
        });
        let told: Vec<PickUp> = told.collect();
        if told.len() != lists.len() {
            continue;
        }
        let (common, even) = (groups(&told, Evened::No), groups(&told, Evened::Yes));
        // Rates that a person can hold in the head are worth a group.
        let found = if common.len() <= even.len() + 1 {
            common
        } else {
            even
        };
        for (size, told) in found.into_iter().flatten() {
            if let Some(step) = lists.get_mut(size).and_then(|list| list.get_mut(i)) {
                step.sentence = told.sentence();
                step.told = Told::PickUp(told);
            }
        }
    }
}

/// Whether rates that the sizes have not in common may be split until there are as many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Evened {
    Yes,
    No,
}

/// Sizes and what each is told.
type Group = Vec<(usize, PickUp)>;

/// The sizes in groups that can be told in one sentence, each joined to the first group that takes it.
fn groups(all: &[PickUp], evened: Evened) -> Vec<Group> {
    let mut members: Vec<(Vec<usize>, Group)> = Vec::new();
    for size in 0..all.len() {
        let joined = members.iter_mut().any(|(sizes, told)| {
            let wider: Vec<usize> = sizes.iter().copied().chain([size]).collect();
            let Some(group) = told_together(all, &wider, evened) else {
                return false;
            };
            (*sizes, *told) = (wider, group);
            true
        });
        if !joined {
            // Alone it keeps its own words.
            members.push((vec![size], Group::new()));
        }
    }
    members.into_iter().map(|(_, told)| told).collect()
}

/// What these sizes are told where it differs in numbers alone; nothing new where it does not differ at all.
fn told_together(all: &[PickUp], sizes: &[usize], evened: Evened) -> Option<Group> {
    let of = sizes.iter().map(|size| all.get(*size).cloned());
    let mut own: Vec<PickUp> = of.collect::<Option<_>>()?;
    let count = own.first()?.pieces.len();
    if own.iter().any(|told| told.pieces.len() != count) {
        return None;
    }
    if own.windows(2).all(|two| two.first() == two.last()) {
        return Some(Group::new());
    }
    for place in 0..count {
        let pieces = own.iter_mut().filter_map(|told| told.pieces.get_mut(place));
        let stretches = pieces.filter_map(|piece| match piece {
            Piece::Along(stretch) if !stretch.rates.is_empty() => Some(stretch),
            _ => None,
        });
        let mut stretches: Vec<&mut Stretch> = stretches.collect();
        let same = stretches.is_empty()
            || stretches.len() == sizes.len()
                && (same_numbers(&mut stretches)
                    || in_common(&mut stretches)
                    || evened == Evened::Yes && even_out(&mut stretches));
        if !same {
            return None;
        }
    }
    let said: Vec<String> = own.iter().map(PickUp::sentence).collect();
    differ_in_numbers(&said).then(|| sizes.iter().copied().zip(own).collect())
}

/// True where the rates of this stretch are those of all sizes and only how often they are worked differs.
fn same_numbers(sizes: &mut [&mut Stretch]) -> bool {
    let rates = |size: &Stretch| -> Vec<(u32, u32)> {
        let rates = size.rates.iter();
        rates.map(|rate| (rate.stitches, rate.rows)).collect()
    };
    let mut all = sizes.iter().map(|size| rates(size));
    let first = all.next();
    let same = all.all(|one| Some(one) == first);
    if same {
        say_in_common(sizes);
    }
    same
}

/// The same rates in this stretch for every size; false where there are none.
fn in_common(sizes: &mut [&mut Stretch]) -> bool {
    let all: Vec<(u32, u32)> = sizes
        .iter()
        .map(|size| (size.stitches, size.rows))
        .collect();
    let Some(found) = common(&all) else {
        return false;
    };
    for (size, mut rates) in sizes.iter_mut().zip(found) {
        if size.half == Half::Mirrored {
            rates.reverse();
        }
        size.rates = rates;
    }
    say_in_common(sizes);
    true
}

/// How each rate is told, the same way in all sizes: a rest that differs from size to size, and what every size works
/// once, goes over the next rows.
fn say_in_common(sizes: &mut [&mut Stretch]) {
    let many = sizes.first().map_or(0, |size| size.rates.len());
    let told_once = |at: &usize| {
        let own = sizes.iter().filter_map(|size| size.rates.get(*at));
        let own: Vec<&Rate> = own.collect();
        let differs = own
            .windows(2)
            .any(|two| matches!(two, [a, b] if (a.stitches, a.rows) != (b.stitches, b.rows)));
        differs || own.iter().all(|rate| rate.times == 1 && rate.rows > 1)
    };
    let once: Vec<usize> = (0..many).filter(told_once).collect();
    for size in sizes {
        size.form = Form::InCommon(once.clone());
    }
}

/// As many rates in this stretch for every size; false when one cannot be split any more.
fn even_out(sizes: &mut [&mut Stretch]) -> bool {
    let wanted = sizes.iter().map(|size| size.rates.len()).max().unwrap_or(0);
    for size in sizes {
        size.form = Form::EachRate;
        while size.rates.len() < wanted {
            let often = |i: &usize| size.rates.get(*i).map_or(0, |rate| rate.times);
            let most = (0..size.rates.len()).max_by_key(often);
            let Some((at, rate)) = most.and_then(|at| Some((at, *size.rates.get(at)?))) else {
                return false;
            };
            if rate.times < 2 {
                return false;
            }
            let before = Rate {
                times: rate.times - 1,
                ..rate
            };
            size.rates
                .splice(at..=at, [before, Rate { times: 1, ..rate }]);
        }
    }
    true
}
