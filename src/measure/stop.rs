//! The wish that work in progress end.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A flag that long work looks at: once it is set, the work ends as soon as it can, with whatever it
/// has. Copies share the flag. The default one is never set and costs nothing to look at.
#[derive(Clone, Debug, Default)]
pub struct Stop(Option<Arc<AtomicBool>>);

impl Stop {
    /// A flag that nobody can set.
    pub const fn never() -> Self {
        Self(None)
    }

    /// A flag that can be set from anywhere, by any of its copies.
    pub fn flag() -> Self {
        Self(Some(Arc::default()))
    }

    /// Asks the work to end.
    pub fn set(&self) {
        if let Some(flag) = &self.0 {
            flag.store(true, Ordering::Relaxed);
        }
    }

    /// True when the work should end.
    pub fn is_set(&self) -> bool {
        self.0
            .as_ref()
            .is_some_and(|flag| flag.load(Ordering::Relaxed))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn copies_share_the_flag_and_the_default_has_none() {
        let stop = Stop::flag();
        let copy = stop.clone();
        assert!(!copy.is_set());
        stop.set();
        assert!(copy.is_set());
        let never = Stop::never();
        never.set();
        assert!(!never.is_set() && !Stop::default().is_set());
    }
}
