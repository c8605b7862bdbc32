//! What a plan is: a cap, a tube and a cuff as stitches and rows, before they are words.
//!
//! `fit` finds a plan, `wording` writes it, `needle` knits what was written; they meet here and
//! nowhere else. Nothing here decides anything: [`cap`](self::CapPlan) and tube are what is to be
//! knitted, [`Going`] the order of work for one sleeve and one hand, [`NeedleRow`] a row of the cap
//! to be ticked off, [`SectionName`] what a section is called, [`remarks`] the sentences that move no stitch.

mod cap;
mod names;
mod order;
mod progress;
pub mod remarks;
mod rows;
mod tube;

pub use cap::{CapPlan, Crown, FlankPlan, Move, STEEPEST, Zone};
pub use names::SectionName;
pub use order::{Corner, Flank, Going, Hand, Sleeve};
pub use progress::{Fix, Progress};
pub use rows::{NeedleRow, Section, TurnedOn, step_ends, step_label};
pub(crate) use tube::JOIN_ROW;
pub use tube::{CuffPlan, CuffStitch, Repeat, TubePlan, even_intervals, worked_shaping};
