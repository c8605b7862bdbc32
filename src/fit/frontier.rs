//! What is still open in a best-first search (P. Hart, N. Nilsson, B. Raphael, 1968).

use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// What is open: the least bound comes first, among equals what has more done, then the older.
#[derive(Debug)]
pub(super) struct Frontier<T> {
    heap: BinaryHeap<OpenItem<T>>,
    made: usize,
}

#[derive(Debug)]
struct OpenItem<T> {
    bound: f64,
    done: usize,
    made: usize,
    item: T,
}

impl<T> Frontier<T> {
    pub(super) const fn new() -> Self {
        Self {
            heap: BinaryHeap::new(),
            made: 0,
        }
    }

    /// Opens what leads to nothing below this bound, with so much of it done.
    pub(super) fn push(&mut self, bound: f64, done: usize, item: T) {
        self.heap.push(OpenItem {
            bound,
            done,
            made: self.made,
            item,
        });
        self.made += 1;
    }

    /// The first, with its bound.
    pub(super) fn pop(&mut self) -> Option<(f64, T)> {
        self.heap.pop().map(|open| (open.bound, open.item))
    }

    /// The least bound; infinite where nothing is open.
    pub(super) fn bound(&self) -> f64 {
        self.heap.peek().map_or(f64::INFINITY, |open| open.bound)
    }
}

impl<T> PartialEq for OpenItem<T> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<T> Eq for OpenItem<T> {}

impl<T> PartialOrd for OpenItem<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The first is the greatest.
impl<T> Ord for OpenItem<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        let bounds = other.bound.total_cmp(&self.bound);
        let done = bounds.then(self.done.cmp(&other.done));
        done.then(other.made.cmp(&self.made))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_bound_then_what_is_nearly_done_then_the_older() {
        let mut open = Frontier::new();
        for (bound, done, item) in [
            (2.0, 9, 'e'),
            (1.0, 1, 'c'),
            (1.0, 2, 'a'),
            (1.0, 2, 'b'),
            (1.5, 0, 'd'),
        ] {
            open.push(bound, done, item);
        }
        assert!((open.bound() - 1.0).abs() < 1e-12);
        let order: Vec<char> = std::iter::from_fn(|| open.pop())
            .map(|(_, item)| item)
            .collect();
        assert_eq!(order, ['a', 'b', 'c', 'd', 'e']);
        assert!(open.bound().is_infinite());
    }
}
