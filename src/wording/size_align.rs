//! Sizes built alike: the same number of steps and of rates in each, so that they stand in one
//! sentence with numbers in brackets.
//!
//! Five pairs are four pairs and one more: a step, a rate or a row of shaping rounds is split in two
//! where another size has one more of them. Nothing else changes, and every count stays true.

use super::instructions::{Counts, Instructions, Step, Waiting};
use super::rates::Rate;
use super::size_rates::common;
use super::size_set::differ_in_numbers;
use crate::plan::{remarks, step_label};

/// Splits steps and rates until all sizes have as many, as far as they are of one kind.
pub(crate) fn aligned(texts: &mut [Instructions]) {
    for heading in remarks::HEADINGS {
        let mut lists: Vec<Vec<Step>> = texts.iter().map(|t| steps(t, heading)).collect();
        if *heading == remarks::SHORT_ROWS {
            same_steps(&mut lists, &ShortRows);
            for list in &mut lists {
                relabel(list);
            }
        }
        if *heading == remarks::TUBE {
            same_steps(&mut lists, &Shaping);
        }
        if *heading == remarks::PICK_UP {
            same_rates(&mut lists);
        }
        if *heading == remarks::JOIN {
            same_corners(&mut lists);
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

/// A kind of step that can be worked in two parts.
trait Splits {
    /// Steps of this kind: how often it is worked, and the number that tells one from another.
    fn read(&self, step: &Step) -> Option<(u32, u32)>;
    /// True for a step that is no less part of the list but cannot be split.
    fn other(&self, step: &Step) -> bool;
    /// All but the last time, and the last time.
    fn split(&self, step: &Step) -> Option<[Step; 2]>;
}

fn same_steps(lists: &mut [Vec<Step>], kind: &impl Splits) {
    // One size that is worked otherwise stands apart in any case.
    if lists.iter().flatten().any(|step| kind.other(step)) {
        return;
    }
    let of_kind = |list: &[Step]| -> Vec<(usize, u32)> {
        let read = |(i, step): (usize, &Step)| kind.read(step).map(|(_, n)| (i, n));
        list.iter().enumerate().filter_map(read).collect()
    };
    let longest = lists.iter().map(|list| of_kind(list)).max_by_key(Vec::len);
    let wanted: Vec<u32> = longest.into_iter().flatten().map(|(_, n)| n).collect();
    for list in lists {
        loop {
            let now = of_kind(list);
            if now.len() >= wanted.len() {
                break;
            }
            // The split after which the numbers are nearest to those of the longest list.
            let off = |at: usize| -> u32 {
                let after = now.iter().enumerate();
                let twice = after
                    .flat_map(|(i, (_, n))| std::iter::repeat_n(*n, if i == at { 2 } else { 1 }));
                twice.zip(&wanted).map(|(a, b)| a.abs_diff(*b)).sum()
            };
            let splits = (0..now.len()).filter_map(|at| {
                let (i, _) = now.get(at)?;
                Some((off(at), *i, kind.split(list.get(*i)?)?))
            });
            let Some((_, i, parts)) = splits.min_by_key(|(off, i, _)| (*off, *i)) else {
                break;
            };
            list.splice(i..=i, parts);
        }
    }
}

/// The number right after these words.
fn number_after(text: &str, words: &str) -> Option<u32> {
    let (_, rest) = text.split_once(words)?;
    let end = rest
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(rest.len());
    rest.get(..end)?.parse().ok()
}

/// `C. 5 pairs: work the wrapped st and 1 more, w&t.`
struct ShortRows;

/// How the last step goes on.
const LAST: [&str; 2] = [
    "; the last pair turns on the first base st at each end.",
    "; the last pair ends at the underarm marker, where the flanks meet.",
];

impl Splits for ShortRows {
    fn read(&self, step: &Step) -> Option<(u32, u32)> {
        let (_, action) = step.sentence.split_once(": work the ")?;
        let pairs = number_after(&step.sentence, ". ")?;
        let plain = !step.sentence.contains("RS:") && !step.sentence.contains("of the last pair");
        let more = number_after(action, " and ").unwrap_or(0);
        plain.then_some((pairs, more + 1))
    }

    fn other(&self, step: &Step) -> bool {
        let lettered = step.sentence.contains(" pair: ") || step.sentence.contains(" pairs: ");
        lettered && self.read(step).is_none()
    }

    fn split(&self, step: &Step) -> Option<[Step; 2]> {
        let (pairs, taken) = self.read(step)?;
        let Some(Counts::ShortRows {
            rows,
            worked,
            waiting: Waiting::EachSide(waiting),
        }) = step.counts
        else {
            return None;
        };
        let most = pairs.checked_sub(1).filter(|n| *n > 0)?;
        // The last pair may turn in another way than those before it.
        if step.sentence.contains("just turn") || step.sentence.contains("together and turn") {
            return None;
        }
        let (label, rest) = step.sentence.split_once(". ")?;
        let (_, action) = rest.split_once(": ")?;
        let ending = LAST.iter().find(|words| action.ends_with(*words));
        let body = action.trim_end_matches(*ending.unwrap_or(&"."));
        let first = Step::counted(
            format!("{label}. {most} pairs: {body}."),
            Counts::ShortRows {
                rows: rows.checked_sub(2)?,
                worked: worked.checked_sub(2 * taken)?,
                waiting: Waiting::EachSide(waiting + taken),
            },
        );
        let second = Step::counted(
            format!("{label}. 1 pair: {action}"),
            Counts::ShortRows {
                rows: 2,
                worked,
                waiting: Waiting::EachSide(waiting),
            },
        );
        Some([first, second])
    }
}

fn relabel(list: &mut [Step]) {
    let lettered = list.iter_mut().filter(|step| {
        let label = step.sentence.split_once(". ").map(|(label, _)| label);
        label.is_some_and(|l| !l.is_empty() && l.chars().all(|c| c.is_ascii_uppercase()))
    });
    for (i, step) in (0..).zip(lettered) {
        if let Some((_, rest)) = step.sentence.split_once(". ") {
            step.sentence = format!("{}. {rest}", step_label(i));
        }
    }
}

/// `Work the dec round on every 9th round, 12 times.`
struct Shaping;

impl Splits for Shaping {
    fn read(&self, step: &Step) -> Option<(u32, u32)> {
        if !step.sentence.contains(" round on every ") {
            return None;
        }
        let every = number_after(&step.sentence, " on every ").unwrap_or(1);
        let (_, often) = step.sentence.rsplit_once(", ")?;
        Some((times(often.trim_end_matches('.'))?, every))
    }

    fn other(&self, _: &Step) -> bool {
        false
    }

    fn split(&self, step: &Step) -> Option<[Step; 2]> {
        let (often, every) = self.read(step)?;
        let most = often.checked_sub(1).filter(|n| *n > 0)?;
        let Some(Counts::Rounds { rounds, stitches }) = step.counts else {
            return None;
        };
        let (words, _) = step.sentence.rsplit_once(", ")?;
        let before = if words.contains("dec round") {
            stitches + 2
        } else {
            stitches.checked_sub(2)?
        };
        let counts = Counts::Rounds {
            rounds: rounds.checked_sub(every)?,
            stitches: before,
        };
        let first = format!("{words}, {}.", super::instructions::times(most));
        Some([
            Step::counted(first, counts),
            Step {
                sentence: format!("{words}, once."),
                counts: step.counts,
            },
        ])
    }
}

fn times(words: &str) -> Option<u32> {
    match words {
        "once" => Some(1),
        "twice" => Some(2),
        _ => words.strip_suffix(" times")?.parse().ok(),
    }
}

/// The first round made alike: where some size makes other counts at the two corners, all of them name both.
fn same_corners(lists: &mut [Vec<Step>]) {
    let corner = |step: &Step| {
        let (begin, rest) = step.sentence.split_once(EACH_CORNER.0)?;
        let (begin, over) = begin.rsplit_once(' ')?;
        let (made, end) = rest.split_once(EACH_CORNER.1)?;
        Some(format!(
            "{begin} {over} to the base marker, make {made} there, {over} to the other base marker, make {made} there, {over} to the end of the round{end}"
        ))
    };
    let firsts = |lists: &[Vec<Step>]| -> Vec<String> {
        let steps = lists.iter().flatten();
        let rounds = steps.filter(|step| step.sentence.starts_with("Round 1: "));
        rounds.map(|step| step.sentence.clone()).collect()
    };
    if differ_in_numbers(&firsts(lists)) {
        return;
    }
    for step in lists.iter_mut().flatten() {
        if let Some(both) = corner(step) {
            step.sentence = both;
        }
    }
}

/// Round the stitches made: `k round, making 3 sts from the strands at each base marker`.
const EACH_CORNER: (&str, &str) = (" round, making ", " at each base marker");

/// Sentences that stand in the same place get the same rates in each stretch, or as many: all sizes together, or as
/// few groups of sizes as there can be.
fn same_rates(lists: &mut [Vec<Step>]) {
    let shortest = lists.iter().map(Vec::len).min().unwrap_or(0);
    for i in 0..shortest {
        let sentences: Vec<String> = lists
            .iter()
            .filter_map(|list| list.get(i))
            .map(|step| step.sentence.clone())
            .collect();
        let read: Option<Vec<Vec<Piece>>> = sentences.iter().map(|s| pieces(s)).collect();
        let Some(read) = read else { continue };
        let (common, even) = (groups(&read, false), groups(&read, true));
        // Rates that a person can hold in the head are worth a group.
        let found = if common.len() <= even.len() + 1 {
            common
        } else {
            even
        };
        for (size, told) in found.into_iter().flatten() {
            if let Some(step) = lists.get_mut(size).and_then(|list| list.get_mut(i)) {
                step.sentence = told;
            }
        }
    }
}

/// Sizes and what each is told.
type Group = Vec<(usize, String)>;

/// The sizes in groups that can be told in one sentence, each joined to the first group that takes it.
fn groups(read: &[Vec<Piece>], evened: bool) -> Vec<Group> {
    let mut members: Vec<(Vec<usize>, Group)> = Vec::new();
    for size in 0..read.len() {
        let joined = members.iter_mut().any(|(sizes, told)| {
            let wider: Vec<usize> = sizes.iter().copied().chain([size]).collect();
            let Some(group) = told_together(read, &wider, evened) else {
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

/// What these sizes are told where it differs in numbers alone.
fn told_together(read: &[Vec<Piece>], sizes: &[usize], evened: bool) -> Option<Group> {
    let of = sizes.iter().map(|size| read.get(*size).cloned());
    let mut own: Vec<Vec<Piece>> = of.collect::<Option<_>>()?;
    let count = own.first()?.len();
    if own.iter().any(|pieces| pieces.len() != count) {
        return None;
    }
    if own.windows(2).all(|two| two.first() == two.last()) {
        return Some(Group::new());
    }
    let same = (0..count).all(|place| {
        same_numbers(&mut own, place)
            || in_common(&mut own, place)
            || evened && even_out(&mut own, place)
    });
    let told: Vec<String> = own
        .iter()
        .map(|size| size.iter().map(Piece::said).collect())
        .collect();
    let alike = same && differ_in_numbers(&told);
    alike.then(|| sizes.iter().copied().zip(told).collect())
}

/// True where the rates of this stretch are those of all sizes and only how often they are worked differs.
fn same_numbers(sizes: &mut [Vec<Piece>], place: usize) -> bool {
    let rates = |size: &Vec<Piece>| -> Vec<(u32, u32)> {
        let rates = size.get(place).map(|piece| piece.rates.as_slice());
        let rates = rates.unwrap_or_default().iter();
        rates.map(|rate| (rate.stitches, rate.rows)).collect()
    };
    let mut all = sizes.iter().map(rates);
    let first = all.next();
    let same = all.all(|one| Some(one) == first);
    if same {
        say_in_common(sizes, place);
    }
    same
}

/// The same rates in this stretch for every size; false where there are none.
fn in_common(sizes: &mut [Vec<Piece>], place: usize) -> bool {
    let all: Vec<(u32, u32)> = sizes
        .iter()
        .filter_map(|size| size.get(place).map(Piece::all))
        .collect();
    if all.len() != sizes.len() {
        return false;
    }
    let Some(found) = common(&all) else {
        return false;
    };
    let upwards = sizes
        .iter()
        .flatten()
        .any(|piece| piece.words.contains("from the base up"));
    for (size, mut rates) in sizes.iter_mut().zip(found) {
        if upwards {
            rates.reverse();
        }
        if let Some(piece) = size.get_mut(place) {
            piece.rates = rates;
        }
    }
    say_in_common(sizes, place);
    true
}

/// How each rate is told, the same way in all sizes: a rest that differs from size to size, and what every size works
/// once, goes over the next rows.
fn say_in_common(sizes: &mut [Vec<Piece>], place: usize) {
    let pieces = sizes.iter().filter_map(|size| size.get(place));
    let all: Vec<Vec<Rate>> = pieces.map(|piece| piece.rates.clone()).collect();
    let many = all.first().map_or(0, Vec::len);
    let told_once = |at: &usize| {
        let own: Vec<Rate> = all
            .iter()
            .filter_map(|rates| rates.get(*at))
            .copied()
            .collect();
        let differs = own
            .windows(2)
            .any(|two| matches!(two, [a, b] if (a.stitches, a.rows) != (b.stitches, b.rows)));
        let once = own.iter().all(|rate| rate.times == 1 && rate.rows > 1);
        differs || once
    };
    let once: Vec<usize> = (0..many).filter(told_once).collect();
    for piece in sizes.iter_mut().filter_map(|size| size.get_mut(place)) {
        piece.common = Some(once.clone());
    }
}

/// Words up to a stretch, and its rates; the last piece has none.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Piece {
    words: String,
    rates: Vec<Rate>,
    /// The rates are those of all sizes; at these places they are worked once.
    common: Option<Vec<usize>>,
}

impl Piece {
    fn said(&self) -> String {
        let rates = self.rates.iter().enumerate().map(|(i, rate)| {
            let (stitches, rows, times) = (rate.stitches, rate.rows, rate.times);
            match &self.common {
                Some(once) if once.contains(&i) => {
                    format!("{stitches} sts over the next {rows} rows")
                }
                Some(_) if (stitches, rows) == (1, 1) => {
                    format!("1 sts in each of the next {times} rows")
                }
                _ => format!("{stitches} sts for every {rows} rows, {times} times"),
            }
        });
        let rates: Vec<String> = rates.collect();
        format!("{}{}", self.words, rates.join(", then "))
    }

    /// Its stitches and rows.
    fn all(&self) -> (u32, u32) {
        let sum = |number: fn(&Rate) -> u32| self.rates.iter().map(|r| number(r) * r.times).sum();
        (sum(|r| r.stitches), sum(|r| r.rows))
    }
}

/// A pick-up sentence taken apart at its rates; nothing for any other sentence.
fn pieces(sentence: &str) -> Option<Vec<Piece>> {
    let mut pieces = Vec::new();
    let mut words = String::new();
    for (i, part) in sentence.split("; ").enumerate() {
        if i > 0 {
            words.push_str("; ");
        }
        match part.rsplit_once(": ") {
            Some((before, said)) if before.ends_with(" rows") || before.ends_with(" row") => {
                let stitches = number_after(before, "pick up and k ");
                let stitches = stitches.or_else(|| number_after(before, "then "))?;
                words.push_str(before);
                words.push_str(": ");
                pieces.push(Piece {
                    words: std::mem::take(&mut words),
                    rates: rates(said, stitches)?,
                    common: None,
                });
            }
            _ => words.push_str(part),
        }
    }
    if pieces.is_empty() {
        return None;
    }
    pieces.push(Piece {
        words,
        rates: Vec::new(),
        common: None,
    });
    Some(pieces)
}

fn rates(said: &str, stitches: u32) -> Option<Vec<Rate>> {
    if said == "skip 1 row" {
        return Some(vec![of(stitches, stitches + 1, 1)]);
    }
    said.split(", then ").map(rate).collect()
}

const fn of(stitches: u32, rows: u32, times: u32) -> Rate {
    Rate {
        stitches,
        rows,
        times,
    }
}

fn rate(said: &str) -> Option<Rate> {
    if said == "1 st in the next row" {
        return Some(of(1, 1, 1));
    }
    if let Some(rows) = number_after(said, "in each of the next ") {
        return Some(of(1, 1, rows));
    }
    let stitches = number_after(said, "")?;
    if let Some(rows) = number_after(said, " over the next ") {
        return Some(of(stitches, rows, 1));
    }
    let rows = number_after(said, " for every ")?;
    let (_, often) = said.rsplit_once(", ")?;
    Some(of(stitches, rows, times(often)?))
}

/// As many rates in this stretch for every size; false when one cannot be split any more.
fn even_out(sizes: &mut [Vec<Piece>], place: usize) -> bool {
    let many = |size: &Vec<Piece>| size.get(place).map_or(0, |piece| piece.rates.len());
    let wanted = sizes.iter().map(many).max().unwrap_or(0);
    for size in sizes {
        let Some(piece) = size.get_mut(place) else {
            return false;
        };
        while piece.rates.len() < wanted {
            let most = (0..piece.rates.len())
                .max_by_key(|i| piece.rates.get(*i).map_or(0, |rate| rate.times))
                .filter(|i| piece.rates.get(*i).is_some_and(|rate| rate.times > 1));
            let Some(at) = most else { return false };
            let Some(&rate) = piece.rates.get(at) else {
                return false;
            };
            piece.rates.splice(
                at..=at,
                [
                    Rate {
                        times: rate.times - 1,
                        ..rate
                    },
                    Rate { times: 1, ..rate },
                ],
            );
        }
    }
    true
}
