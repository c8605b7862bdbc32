//! The pick-up of several sizes: rates that all have in common, so that the sizes differ in numbers alone.

use super::instructions::Step;
use super::rates::Rate;
use super::size_rates::{MOST_LEFT, common};
use super::size_sentence::differ_in_numbers;
use super::stretch::{Half, RateForm, RateStretch};
use super::told::{PickUp, SeamStitch, StepTold, ToldPiece};

/// Sentences that stand in the same place get the same rates in each stretch, or as many: all sizes together, or as
/// few groups of sizes as there can be.
pub(crate) fn same_rates(lists: &mut [Vec<Step>]) {
    let shortest = lists.iter().map(Vec::len).min().unwrap_or(0);
    for i in 0..shortest {
        let told = lists.iter().filter_map(|list| match &list.get(i)?.told {
            StepTold::PickUp(told) => Some(told.clone()),
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
        let found = joined(&told, found);
        for (size, told) in found.into_iter().flat_map(|group| group.told) {
            if let Some(step) = lists.get_mut(size).and_then(|list| list.get_mut(i)) {
                step.sentence = told.sentence();
                step.told = StepTold::PickUp(told);
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

/// Sizes that are told the same but for numbers.
struct SizeGroup {
    sizes: Vec<usize>,
    /// What each is told; left out, it keeps its own words.
    told: Vec<(usize, PickUp)>,
}

/// The sizes in groups that can be told in one sentence, each joined to the first group that takes it.
fn groups(all: &[PickUp], evened: Evened) -> Vec<SizeGroup> {
    let mut groups: Vec<SizeGroup> = Vec::new();
    for size in 0..all.len() {
        let taken = groups.iter_mut().any(|group| {
            let sizes: Vec<usize> = group.sizes.iter().copied().chain([size]).collect();
            let Some(told) = told_together(all, &sizes, evened) else {
                return false;
            };
            *group = SizeGroup { sizes, told };
            true
        });
        if !taken {
            groups.push(SizeGroup {
                sizes: vec![size],
                told: Vec::new(),
            });
        }
    }
    groups
}

/// The groups, two made one wherever a single rate more, which one of them does not work, says what both are told.
fn joined(all: &[PickUp], mut groups: Vec<SizeGroup>) -> Vec<SizeGroup> {
    let mut at = 0;
    while at < groups.len() {
        let found = (at + 1..groups.len()).find_map(|other| {
            let both = united(all, groups.get(at)?, groups.get(other)?)?;
            Some((other, both))
        });
        match (found, groups.get_mut(at)) {
            (Some((other, both)), Some(group)) => {
                *group = both;
                groups.remove(other);
            }
            _ => at += 1,
        }
    }
    groups
}

/// Two groups as one: the rates of both in each stretch, at the most one more in all than the longer has.
fn united(all: &[PickUp], one: &SizeGroup, other: &SizeGroup) -> Option<SizeGroup> {
    let told = |group: &SizeGroup| -> Option<Vec<(usize, PickUp)>> {
        let own = |size: &usize| {
            let new = group.told.iter().find(|(of, _)| of == size);
            let new = new.map(|(_, told)| told).or_else(|| all.get(*size))?;
            Some((*size, new.clone()))
        };
        group.sizes.iter().map(own).collect()
    };
    let (mut first, mut second) = (told(one)?, told(other)?);
    let places = first
        .iter()
        .chain(&second)
        .map(|(_, told)| told.pieces.len());
    let (fewest, most) = (places.clone().min()?, places.max()?);
    let mut more = 0;
    for place in 0..most {
        let (mut a, mut b) = (stretches(&mut first, place), stretches(&mut second, place));
        if a.is_empty() && b.is_empty() {
            continue;
        }
        let rates = |of: &[&mut RateStretch]| of.iter().map(|size| size.rates.len()).max();
        let longest = rates(&a).max(rates(&b))?;
        more += unite(&mut a, &mut b)?.checked_sub(longest)?;
        let mut both: Vec<&mut RateStretch> = a.into_iter().chain(b).collect();
        say_in_common(&mut both);
    }
    let mut both: Vec<(usize, PickUp)> = first.into_iter().chain(second).collect();
    name_seams(both.iter_mut().map(|(_, told)| told).collect());
    both.sort_by_key(|(size, _)| *size);
    let said: Vec<String> = both.iter().map(|(_, told)| told.sentence()).collect();
    (fewest == most && more <= 1 && differ_in_numbers(&said)).then(|| SizeGroup {
        sizes: both.iter().map(|(size, _)| *size).collect(),
        told: both,
    })
}

/// The stretches in this place.
fn stretches(sizes: &mut [(usize, PickUp)], place: usize) -> Vec<&mut RateStretch> {
    let pieces = sizes
        .iter_mut()
        .filter_map(|(_, told)| told.pieces.get_mut(place));
    let along = pieces.filter_map(|piece| match piece {
        ToldPiece::Along(stretch) if !stretch.rates.is_empty() => Some(stretch),
        _ => None,
    });
    along.collect()
}

/// A rate of a group, size by size.
type RateColumn = Vec<Rate>;

/// The rates of two groups one after the other, what both have once; how many there are then. Nothing where a group
/// has no rates here, or its sizes have not the same.
fn unite(a: &mut [&mut RateStretch], b: &mut [&mut RateStretch]) -> Option<usize> {
    let (first, second) = (columns(a)?, columns(b)?);
    let mirrored = a.first()?.half == Half::Mirrored;
    let turned = |mut columns: Vec<RateColumn>| {
        if mirrored {
            columns.reverse();
        }
        columns
    };
    let all = turned(shortest(
        &turned(first),
        &turned(second),
        (a.len(), b.len()),
    ));
    let count = all.len();
    let rates = |size: usize| -> Vec<Rate> {
        let own = all.iter().filter_map(|column| column.get(size));
        own.copied().collect()
    };
    let after = a.len();
    for (size, stretch) in a.iter_mut().enumerate() {
        stretch.rates = rates(size);
    }
    for (size, stretch) in b.iter_mut().enumerate() {
        stretch.rates = rates(after + size);
    }
    Some(count)
}

/// The rates by place; nothing where the sizes have not as many.
fn columns(sizes: &[&mut RateStretch]) -> Option<Vec<RateColumn>> {
    let many = sizes.first()?.rates.len();
    let same = sizes.iter().all(|size| size.rates.len() == many);
    let column = |place: usize| {
        sizes
            .iter()
            .filter_map(|size| size.rates.get(place))
            .copied()
            .collect()
    };
    same.then(|| (0..many).map(column).collect())
}

/// The shortest list that has the columns of both groups in their order, a rest last.
fn shortest(a: &[RateColumn], b: &[RateColumn], sizes: (usize, usize)) -> Vec<RateColumn> {
    let none = |of: &RateColumn, sizes: usize| {
        let like = of.first().copied().filter(|_| !is_rest(of));
        let like = like.map_or((0, 0, 1), |rate| (rate.stitches, rate.rows, 0));
        let (stitches, rows, times) = like;
        vec![
            Rate {
                stitches,
                rows,
                times
            };
            sizes
        ]
    };
    match (a.split_first(), b.split_first()) {
        (None, None) => Vec::new(),
        (Some((own, rest)), None) => {
            let column = [own.clone(), none(own, sizes.1)].concat();
            [vec![column], shortest(rest, b, sizes)].concat()
        }
        (None, Some((own, rest))) => {
            let column = [none(own, sizes.0), own.clone()].concat();
            [vec![column], shortest(a, rest, sizes)].concat()
        }
        (Some((first, after_a)), Some((second, after_b))) => {
            let paired = paired(first, second)
                .map(|column| [vec![column], shortest(after_a, after_b, sizes)].concat());
            let a_first = [first.clone(), none(first, sizes.1)].concat();
            let b_first = [none(second, sizes.0), second.clone()].concat();
            let others = [
                [vec![a_first], shortest(after_a, b, sizes)].concat(),
                [vec![b_first], shortest(a, after_b, sizes)].concat(),
            ];
            let all = paired.into_iter().chain(others);
            all.min_by_key(Vec::len).unwrap_or_default()
        }
    }
}

/// Both groups' rates as one: the same rate, or a few stitches as they come.
fn paired(a: &RateColumn, b: &RateColumn) -> Option<RateColumn> {
    let rate = |column: &RateColumn| column.first().map(|rate| (rate.stitches, rate.rows));
    let both = [a.as_slice(), b].concat();
    if !is_rest(a) && !is_rest(b) {
        return (rate(a) == rate(b)).then_some(both);
    }
    let once = both.into_iter().map(|rate| Rate {
        stitches: rate.stitches * rate.times,
        rows: rate.rows * rate.times,
        times: 1,
    });
    let once: RateColumn = once.collect();
    let few = once.iter().all(|rate| rate.stitches <= MOST_LEFT);
    few.then_some(once)
}

/// True for stitches that differ from size to size, or that every size works once.
fn is_rest(column: &RateColumn) -> bool {
    let differs =
        |two: &[Rate]| matches!(two, [a, b] if (a.stitches, a.rows) != (b.stitches, b.rows));
    column.windows(2).any(differs) || column.iter().all(|rate| rate.times == 1 && rate.rows > 1)
}

/// What these sizes are told where it differs in numbers alone; nothing new where it does not differ at all.
fn told_together(all: &[PickUp], sizes: &[usize], evened: Evened) -> Option<Vec<(usize, PickUp)>> {
    let of = sizes.iter().map(|size| all.get(*size).cloned());
    let mut own: Vec<PickUp> = of.collect::<Option<_>>()?;
    let count = own.first()?.pieces.len();
    if own.iter().any(|told| told.pieces.len() != count) {
        return None;
    }
    if own.windows(2).all(|two| two.first() == two.last()) {
        return Some(Vec::new());
    }
    for place in 0..count {
        let pieces = own.iter_mut().filter_map(|told| told.pieces.get_mut(place));
        let stretches = pieces.filter_map(|piece| match piece {
            ToldPiece::Along(stretch) if !stretch.rates.is_empty() => Some(stretch),
            _ => None,
        });
        let mut stretches: Vec<&mut RateStretch> = stretches.collect();
        let same = stretches.is_empty()
            || stretches.len() == sizes.len()
                && (all_but_a_row(&stretches)
                    || same_numbers(&mut stretches)
                    || in_common(&mut stretches)
                    || evened == Evened::Yes && even_out(&mut stretches));
        if !same {
            return None;
        }
    }
    name_seams(own.iter_mut().collect());
    let said: Vec<String> = own.iter().map(PickUp::sentence).collect();
    differ_in_numbers(&said).then(|| sizes.iter().copied().zip(own).collect())
}

/// Where one size has a stitch in the shoulder seam, the others have a place for it.
fn name_seams(sizes: Vec<&mut PickUp>) {
    let pieces = sizes.into_iter().flat_map(|told| told.pieces.iter_mut());
    let seams = pieces.filter_map(|piece| match piece {
        ToldPiece::Seam(seam) => Some(seam),
        _ => None,
    });
    let seams: Vec<&mut SeamStitch> = seams.collect();
    let some_size_has = seams.iter().any(|seam| seam.stitches > 0);
    for seam in seams {
        seam.some_size_has = some_size_has;
    }
}

/// True where every size has a stitch in each row but the same one: the words say it as they are.
fn all_but_a_row(sizes: &[&mut RateStretch]) -> bool {
    let first = sizes.first().map(|size| size.left_out);
    let mut all = sizes.iter();
    all.all(|size| size.leaves_one_out() && Some(size.left_out) == first)
}

/// True where the rates of this stretch are those of all sizes and only how often they are worked differs.
fn same_numbers(sizes: &mut [&mut RateStretch]) -> bool {
    let rates = |size: &RateStretch| -> Vec<(u32, u32)> {
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
fn in_common(sizes: &mut [&mut RateStretch]) -> bool {
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
fn say_in_common(sizes: &mut [&mut RateStretch]) {
    let many = sizes.first().map_or(0, |size| size.rates.len());
    let told_once = |at: &usize| {
        let own = sizes.iter().filter_map(|size| size.rates.get(*at));
        let one_time = own.clone().all(|rate| rate.times <= 1);
        one_time && is_rest(&own.copied().collect())
    };
    let once: Vec<usize> = (0..many).filter(told_once).collect();
    for size in sizes {
        size.form = RateForm::InCommon(once.clone());
    }
}

/// As many rates in this stretch for every size; false when one cannot be split any more.
fn even_out(sizes: &mut [&mut RateStretch]) -> bool {
    let wanted = sizes.iter().map(|size| size.rates.len()).max().unwrap_or(0);
    for size in sizes {
        size.form = RateForm::EachRate;
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
