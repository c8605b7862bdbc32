//! What the tests share: caps and cases to try, and how figures and patterns are read back.

pub(crate) mod caps;
pub(crate) mod drift;
pub(crate) mod figures;
pub(crate) mod leaflets;
pub(crate) mod misprints;
pub(crate) mod plans;
pub(crate) mod plausible;
pub(crate) mod random;
pub(crate) mod shelf;

pub(crate) use caps::*;
