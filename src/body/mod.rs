//! What an arm of this size measures, with its spread.
//!
//! The tables of `body-tables/` are part of the program. Three kinds answer a question:
//!
//! - a *chart* (`woman`, `man`, `baby`, `child`, `youth`) is asked for a size or a bust. It gives
//!   one figure; who wears the size is spread round it, and that spread comes from a survey: of
//!   chest and arm for adults, of arms by age for children;
//! - a *survey* with a curve (`ansur2-women`, `ansur2-men`) is asked for a bust and gives the
//!   flexed arm as it was measured;
//! - a table *by age* (`nhanes-female`, `nhanes-male`) is asked for an age.
//!
//! The others are for reading: relaxed against flexed arms, scye girths, ease, yarn. A measured
//! arm beats every table.
//!
//! Flexed and relaxed arms differ by about 2 cm. Charts are taken as relaxed, so the flexed
//! survey is turned into relaxed arms by the equation of the USAF men of 1967; it is used for
//! women too, for want of one of their own, and every such answer says so.

mod arm;
mod armhole;
mod ask;
mod codes;
mod curve;
mod look_up;
mod parse;
mod spread;
mod table;

pub use arm::{Arm, ArmBin, share_in_short, share_in_words};
pub use armhole::{Counterpart, armhole_counterparts};
pub use codes::CODES;
pub use curve::{Curve, Regression};
pub use look_up::{Query, arm_and_bust, bust_of, look_up};
pub use parse::{Key, parse_key};
pub use spread::{ArmSpread, GroupFigures};
pub use table::{
    BodyTable, Cell, ChestBand, Posture, TableColumn, TableKind, TableQuantity, TableRow,
    TableUnits, find, tables,
};
