//! Phrases of several sizes side by side.

use super::phrase::{PhraseKey, SizePhrase};

/// One phrase for all sizes.
#[derive(Clone, Debug)]
pub(super) struct SharedPhrase {
    pub(super) key: PhraseKey,
    /// One entry per size; none for a size that skips it.
    pub(super) sizes: Vec<Option<SizePhrase>>,
}

/// Phrases of one size that are still put side by side; the table grows with their square.
const LONGEST: usize = 400;

/// The phrases of all sizes in one sequence, each size's own in its own order.
///
/// The sequence is grown size by size to a shortest common supersequence (the usual table over
/// two sequences). `None` when a size has too many phrases for that.
pub(super) fn side_by_side(sizes: &[Vec<SizePhrase>]) -> Option<Vec<SharedPhrase>> {
    let mut merged: Vec<SharedPhrase> = Vec::new();
    for (size, phrases) in sizes.iter().enumerate() {
        if phrases.len() > LONGEST || merged.len() > 2 * LONGEST {
            return None;
        }
        merged = grown(merged, phrases, size);
    }
    Some(merged)
}

fn grown(merged: Vec<SharedPhrase>, phrases: &[SizePhrase], size: usize) -> Vec<SharedPhrase> {
    let table = table(&merged, phrases);
    let best = |i: usize, j: usize| {
        table
            .get(i)
            .and_then(|row| row.get(j))
            .copied()
            .unwrap_or(0)
    };
    let mut out = Vec::with_capacity(merged.len() + phrases.len());
    let mut j = 0;
    for (i, mut shared) in merged.into_iter().enumerate() {
        // What only this size has comes first, as long as it costs no match further on.
        while let Some(phrase) = phrases.get(j)
            && phrase.key != shared.key
            && best(i, j + 1) == best(i, j)
            && best(i, j) > 0
        {
            out.push(alone(*phrase, size));
            j += 1;
        }
        let matched = phrases
            .get(j)
            .filter(|p| p.key == shared.key && best(i, j) == best(i + 1, j + 1) + 1);
        shared.sizes.push(matched.copied());
        j += usize::from(matched.is_some());
        out.push(shared);
    }
    out.extend(
        phrases
            .get(j..)
            .unwrap_or_default()
            .iter()
            .map(|&p| alone(p, size)),
    );
    out
}

/// A phrase that only this size has so far; the sizes before skip it.
fn alone(phrase: SizePhrase, size: usize) -> SharedPhrase {
    let mut sizes = vec![None; size];
    sizes.push(Some(phrase));
    SharedPhrase {
        key: phrase.key,
        sizes,
    }
}

/// Longest common subsequence of the tails, from each pair of places.
fn table(merged: &[SharedPhrase], phrases: &[SizePhrase]) -> Vec<Vec<u32>> {
    let mut table = vec![vec![0_u32; phrases.len() + 1]; merged.len() + 1];
    for (i, shared) in merged.iter().enumerate().rev() {
        let below = table.get(i + 1).cloned().unwrap_or_default();
        let mut row = vec![0; phrases.len() + 1];
        for (j, phrase) in phrases.iter().enumerate().rev() {
            let at = |row: &[u32], j: usize| row.get(j).copied().unwrap_or(0);
            let skip = at(&below, j).max(at(&row, j + 1));
            let both = u32::from(phrase.key == shared.key) * (at(&below, j + 1) + 1);
            if let Some(cell) = row.get_mut(j) {
                *cell = skip.max(both);
            }
        }
        if let Some(place) = table.get_mut(i) {
            *place = row;
        }
    }
    table
}
