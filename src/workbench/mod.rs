//! The workbench: a page in the browser and a small JSON interface, for this machine alone.
//!
//! The other door to the same rooms as `cli`: every answer is made by the library calls the
//! commands make, so what is downloaded here has the bytes a command writes. The server keeps
//! nothing: each request brings its whole case. It opens no file and writes none.
//!
//! - `GET /` and the files of the page, all of them in the program; `GET /api/start`: keys of a case,
//!   body tables, our cases.
//! - `POST /api/open | read | check | convert | drift | figures | file` with `{"case": {...}}` (the
//!   tables and keys of a case file, values as typed) or `{"toml": "..."}`, and `"size"` for one size
//!   (its place or its label).

mod api;
mod file;
mod guard;
mod lines;
mod look;
mod page;
mod request;
mod said;
mod server;
mod start;

pub use api::{Answer, answer};
pub use server::{USUAL_PORT, Workbench};
