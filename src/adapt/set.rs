//! A size set: a larger size never gets a shallower cap, and steps are smooth.

use crate::measure::{Rows, nearest_whole};

/// Rows of the caps in order: where a larger size has fewer, it and its neighbours share their mean
/// (pool adjacent violators, the least squares answer), to an even number of rows; the others keep
/// theirs.
pub fn in_order(rows: &[Rows]) -> Vec<Rows> {
    // (sum, how many)
    let mut pools: Vec<(f64, u32)> = Vec::new();
    for rows in rows {
        pools.push((rows.as_f64(), 1));
        while let [.., before, last] = pools.as_slice() {
            if mean(*before) <= mean(*last) {
                break;
            }
            let both = (before.0 + last.0, before.1 + last.1);
            pools.truncate(pools.len() - 2);
            pools.push(both);
        }
    }
    let mut own = rows.iter();
    pools
        .into_iter()
        .flat_map(|pool| {
            let even = Rows(2 * nearest_whole(mean(pool) / 2.0));
            let kept: Vec<Rows> = own.by_ref().take(pool.1 as usize).copied().collect();
            match kept.as_slice() {
                [one] => vec![*one],
                several => vec![even; several.len()],
            }
        })
        .collect()
}

fn mean(pool: (f64, u32)) -> f64 {
    pool.0 / f64::from(pool.1)
}

/// One change for all sizes: every old cap changes by the same number of rows, the mean of what each
/// would take alone; the lists are (old rows, rows alone).
pub fn alike(rows: &[(Rows, Rows)]) -> Vec<Rows> {
    let changes = rows.iter().map(|(old, new)| new.as_f64() - old.as_f64());
    let mean = changes.sum::<f64>() / rows.len().max(1) as f64;
    // A whole number of pairs, so that every size changes by the same.
    let pairs = nearest_whole(mean.abs() / 2.0);
    let changed = |old: Rows| {
        if mean < 0.0 {
            old.saturating_sub(Rows(2 * pairs))
        } else {
            old + Rows(2 * pairs)
        }
    };
    rows.iter().map(|(old, _)| changed(*old)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(list: &[u32]) -> Vec<Rows> {
        list.iter().map(|&n| Rows(n)).collect()
    }

    /// By hand: 38 and 34 share 36; an ordered list stays.
    #[test]
    fn neighbours_out_of_order_share_their_mean() {
        assert_eq!(in_order(&rows(&[30, 38, 34, 40])), rows(&[30, 36, 36, 40]));
        assert_eq!(in_order(&rows(&[30, 31, 33])), rows(&[30, 31, 33]));
        assert_eq!(in_order(&rows(&[40, 36, 32])), rows(&[36, 36, 36]));
        assert!(in_order(&[]).is_empty());
    }

    /// By hand: changes of 2, 4 and 6 rows, all take 4.
    #[test]
    fn one_change_for_all() {
        let pairs: Vec<(Rows, Rows)> = [(30, 32), (34, 38), (40, 46)]
            .map(|(old, new)| (Rows(old), Rows(new)))
            .to_vec();
        assert_eq!(alike(&pairs), rows(&[34, 38, 44]));
    }
}
