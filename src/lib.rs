//! Capwright: old flat sleeve caps into short-row caps, computed, written and knitted back.
//!
//! Data flows one way, and so do imports: `report -> convert -> check -> wording, needle, fit
//! -> adapt -> body -> swatch -> outline -> pattern -> plan -> case -> leaflet -> measure -> diagnostic`. A room may
//! use any room to its right and none to its left; `tests/all/house/imports.rs` reads the `use` lines.

pub mod adapt;
pub mod body;
pub mod case;
pub mod check;
#[cfg(feature = "cli")]
pub mod cli;
pub mod convert;
pub mod diagnostic;
pub mod fit;
pub mod leaflet;
pub mod measure;
pub mod needle;
pub mod outline;
pub mod pattern;
pub mod plan;
pub mod report;
pub mod swatch;
pub mod wording;
#[cfg(feature = "desk")]
pub mod workbench;
