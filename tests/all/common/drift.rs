#![allow(
    clippy::unwrap_used,
    clippy::panic,
    dead_code,
    reason = "helpers of several tests, none of which uses all"
)]
//! A small case with swatches to fill in.

use capwright::case::{Case, read_case};
use capwright::convert::drift::{DriftLesson, drift};

/// The swatches of a case: the keys of each table as they are written.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Swatches<'a> {
    pub(crate) flat: Option<&'a str>,
    pub(crate) round: Option<&'a str>,
    /// Lines of `[gauge]` itself.
    pub(crate) chosen: &'a str,
}

/// The case file: 22 stitches and 30 rows over 10 cm, 68 stitches net at the upper arm, 42 at the
/// cuff, 44 cm from underarm to cuff.
pub(crate) fn file(swatches: &Swatches<'_>) -> String {
    let table = |name: &str, keys: Option<&str>| {
        keys.map(|keys| format!("[gauge.{name}]\n{keys}\n"))
            .unwrap_or_default()
    };
    let flat = table("flat", swatches.flat);
    let round = table("round", swatches.round);
    format!(
        r#"title = "Bell heather pullover"
units = "cm"
[gauge]
{}
[gauge.pattern]
stitches = 22
rows = 30
{flat}{round}
[sleeve]
stitches = 70
cap = """
Bind off 5 sts at the beginning of the next 2 rows.
Decrease 1 st each end of the next 3 rows, then every other row 11 times, then the next 3 rows.
Bind off 3 sts at the beginning of the next 4 rows.
Bind off 14 sts.
"""
cuff_stitches = 44
length = 44
[armhole]
edge = 18.2
underarm = 2
depth = 17
"#,
        swatches.chosen
    )
}

pub(crate) fn read(swatches: &Swatches<'_>) -> Case {
    let (case, said) = read_case(&file(swatches));
    case.unwrap_or_else(|| panic!("{said:?}"))
}

pub(crate) fn lesson(swatches: &Swatches<'_>) -> DriftLesson {
    drift(&read(swatches), None).unwrap()
}
