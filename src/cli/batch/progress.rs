//! How far a batch is: a bar on a terminal, nothing elsewhere.

use std::io::{self, IsTerminal as _};

use indicatif::{ProgressBar, ProgressStyle};

/// The bar; on standard error, and only when that is a terminal.
#[derive(Debug)]
pub(super) struct Progress(ProgressBar);

impl Progress {
    pub(super) fn new(cases: usize) -> Self {
        let total = u64::try_from(cases).unwrap_or(u64::MAX);
        if !io::stderr().is_terminal() {
            return Self(ProgressBar::hidden());
        }
        let bar = ProgressBar::new(total);
        let look = "{bar:30} {pos} of {len} cases, {eta} left";
        // The look is a constant; were it wrong, the bar would have its usual one.
        if let Ok(style) = ProgressStyle::with_template(look) {
            bar.set_style(style.progress_chars("=> "));
        }
        Self(bar)
    }

    pub(super) fn step(&self) {
        self.0.inc(1);
    }

    pub(super) fn end(&self) {
        self.0.finish_and_clear();
    }
}
