//! The workbench: a page in the browser and a small JSON interface.
//!
//! The other door to the same rooms as `cli`: every answer is made by the library calls the
//! commands make, so what is downloaded here has the bytes a command writes. Nothing is kept: each
//! request brings its whole case. No file is opened and none written.
//!
//! - `start`: keys of a case, body tables, our cases.
//! - `open | read | check | convert | drift | figures | file` with `{"case": {...}}` (the tables and
//!   keys of a case file, values as typed) or `{"toml": "..."}`, and `"size"` for one size (its place
//!   or its label); `file` of an amended pattern also brings its `"print"`.
//! - `leaflet` with `{"print": "..."}` or `{"pdf": "..."}` in base64: a whole pattern as facts and a form.
//!
//! Two carriers bring requests here: the server of this machine alone (feature `workbench`: `POST
//! /api/WHAT`, `GET /` for the page, `GET /api/start`), and the one-file page that has the whole
//! program in it (the crate in `web/`, feature `desk` alone).

mod answer;
mod api;
#[cfg(feature = "leaflet-pdf")]
mod base64;
mod file;
#[cfg(feature = "workbench")]
mod guard;
mod lines;
mod look;
#[cfg(feature = "workbench")]
mod page;
mod pattern;
mod request;
mod said;
#[cfg(feature = "workbench")]
mod server;
mod start;

pub use answer::Answer;
pub use api::{answer, answer_until, beginning};
#[cfg(feature = "workbench")]
pub use server::{USUAL_PORT, Workbench};
