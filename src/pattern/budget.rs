//! Work that other readings and repairs may take: rows carried out, whatever they are carried out for.

use std::cell::Cell;

use super::limits::MAX_TRIAL_ROWS;
use crate::measure::Stop;

/// Rows that may still be worked for trials; what they all share.
#[derive(Debug)]
pub(super) struct Budget<'a> {
    stop: &'a Stop,
    left: Cell<usize>,
    refused: Cell<bool>,
}

impl<'a> Budget<'a> {
    /// All the rows there are for one text, as long as nobody asks the work to end.
    pub(super) fn new(stop: &'a Stop) -> Self {
        Self {
            stop,
            left: Cell::new(MAX_TRIAL_ROWS),
            refused: Cell::new(false),
        }
    }

    /// Takes the rows of one more trial, when there are as many left.
    pub(super) fn allows(&self, rows: usize) -> bool {
        let left = self.left.get().checked_sub(rows.max(1));
        let left = left.filter(|_| !self.stop.is_set());
        self.left.set(left.unwrap_or(0));
        if left.is_none() {
            self.refused.set(true);
        }
        left.is_some()
    }

    /// True when something was not tried.
    pub(super) fn is_spent(&self) -> bool {
        self.refused.get() || self.stop.is_set()
    }
}
