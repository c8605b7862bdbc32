//! Stitch patterns: the table of stitches, charts, grounds and panels, and what of them lies on every stitch
//! of every row of a cap.
//!
//! A chart is always what is seen from the right side. `wording` tells the rows of a [`Layout`], the needle
//! reads them back with the same table; neither asks the other.

mod chart;
mod codes;
mod ground;
mod layout;
mod pattern;
mod stripes;
mod table;
mod tube;

pub use chart::{Cell, Chart, Legend, MOST_SQUARES, RowFault};
pub use codes::CODES;
pub(crate) use codes::{
    CHART, PANEL, REPEAT_OPEN, STRIPES, TURNED, WAY_UP, WHOLE_REPEATS, WRONG_SIDE,
};
pub use ground::{GROUNDS, ground};
pub use layout::{Layout, PatternRow, Placed};
pub use pattern::{Drawn, MOST_PANELS, Panel, PanelPlace, Pattern, Worked};
pub use stripes::{Stripe, Striped, Stripes};
pub use table::{Crossing, Entry, MOST_CROSSED, PRACTICE, STANDARD, Stitch};
pub use tube::TubeRound;
