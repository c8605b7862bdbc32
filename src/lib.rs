//! Old flat sleeve caps into short-row caps: computed, written as a pattern, knitted back to prove it.
//!
//! A case is the text of a case file: the old cap's own lines, the armhole, the gauges. [`read_case`] reads
//! it, [`check()`] judges the old garment, [`convert()`] does the whole job for one size or all of them, and
//! [`report`] says the result as text, page, figure or JSON. [`draft`] starts a case from a whole printed
//! pattern. Everything is computed in memory: no file is read or written, nothing is printed, no clock is
//! asked, and the same text gives the same bytes on every machine.
//!
//! ```
//! use capwright::report::{Reader, conversion_document, conversion_json};
//!
//! # fn main() -> Result<(), Vec<capwright::Diagnostic>> {
//! let (case, findings) = capwright::read_case(
//!     r#"
//!     title = "A plain pullover"
//!     units = "in"
//!     gauge.pattern = { stitches = 22, rows = 30 }
//!     gauge.round = { stitches = 23, rows = 31.5 }
//!
//!     [sleeve]
//!     stitches = 74
//!     cap = """
//!     Bind off 5 sts at the beginning of the next 2 rows (64 sts).
//!     Decrease 1 st each end of the next 3 rows, then every other row 13 times, then the next 3 rows.
//!     Bind off 3 sts at the beginning of the next 4 rows. Bind off the remaining 14 sts.
//!     """
//!
//!     [armhole]
//!     edge = 8.2
//!     underarm = 0.75
//!     depth = 7.5
//!     "#,
//! );
//! // Without a case the findings say why; with one they may still be worth reading.
//! let case = case.ok_or(findings)?;
//! let conversion = capwright::convert(&case, None)?;
//!
//! // The pattern, as sentences and as a whole text.
//! let sentences = conversion.sizes[0].written[0].instructions.sentences();
//! assert!(sentences.iter().any(|sentence| sentence.starts_with("Base: pick up and k ")));
//! let text = conversion_document(&case, &conversion, Reader::Terminal, None).text();
//! assert!(text.contains("SHORT ROWS"));
//!
//! // The same as JSON.
//! let json = conversion_json(&case, &conversion);
//! assert_eq!(json["sizes"][0]["knits_back"], true);
//! # Ok(())
//! # }
//! ```
//!
//! # Units
//!
//! Lengths are [`measure::Length`], counts [`measure::Stitches`] and [`measure::Rows`]; a bare number says
//! its unit in its name (`_cm`, `_cm2`, `_pct`). Gauge is stitches and rows per 10 cm. Inches exist in a
//! case's text and in what is printed, nowhere between.
//!
//! # Errors
//!
//! What is wrong with a text or a case is a list of [`Diagnostic`]s, all of them at once: a stable code, a
//! level, the place, what is allowed, what to do next. Everything else has an error type of its own. The
//! library never panics on an input; it has limits instead, all in [`measure::limits`].
//!
//! # Features
//!
//! Without any feature there is the whole computation with its texts, pages, figures and JSON.
//! `leaflet-pdf` reads patterns out of PDFs, `pdf` writes them, `desk` answers the requests of the page in
//! memory; `cli` and `workbench` are the program's own doors.
//!
//! # Rooms
//!
//! Data flows one way, and so do imports: `report -> amend -> convert -> check -> wording, needle, fit -> adapt ->
//! body -> swatch -> outline -> pattern -> case -> stitch -> plan -> leaflet -> measure -> parallel -> diagnostic`. A room may use
//! any room to its right and none to its left; `tests/all/house/imports.rs` reads the `use` lines.

pub mod adapt;
pub mod amend;
pub mod body;
pub mod case;
pub mod check;
#[cfg(feature = "cli")]
#[doc(hidden)]
pub mod cli;
pub mod convert;
pub mod diagnostic;
pub mod fit;
pub mod leaflet;
pub mod measure;
pub mod needle;
pub mod outline;
pub mod parallel;
pub mod pattern;
pub mod plan;
pub mod report;
pub mod stitch;
pub mod swatch;
pub mod wording;
#[cfg(feature = "desk")]
pub mod workbench;

pub use case::{Case, read_case};
pub use check::draft;
pub use convert::{Conversion, check, convert};
pub use diagnostic::Diagnostic;
