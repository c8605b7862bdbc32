//! Rows of one side named before what is done on them, rows told by a repeat, a last bind-off after a comma. Ours; the rows
//! they stand for are worked out by hand.
//!
//! The notation is that of the other texts.

use super::{ONE, Sized};

#[rustfmt::skip]
pub(crate) const SIDES: &[Sized] = &[
    (ONE, &[60], "Bind off 4 sts at beg of next 2 rows. Dec 1 st each end of next row. Work 1 row. Rep these rows twice more.", &["b4x2 (d .)*3"]),
    (ONE, &[60], "Bind off 4 sts at beg of next 2 rows, then in every 2nd row 3 sts once, 2 sts twice.", &["b4x2 b3x2 b2x4"]),
    (ONE, &[60], "Bind off 4 sts at beg of next 2 rows, then every 2nd row 2 sts 3 times.", &["b4x2 b2x6"]),
    (ONE, &[60], "Bind off 4 sts at beg of next 2 rows, then in every 2nd row 3 x 2 sts.", &["b4x2 b2x6"]),
    (ONE, &[60], "Bind off 4 sts at beg of next row, then in every 2nd row 3 sts once, 2 sts twice.", &["b4 . b3 . b2 . b2"]),
    (&["S", "M"], &[60, 60], "Dec 1 st each end of every 0 (2) rows 0 (3) times. Work 2 rows.", &[".x2", "d . d . d .x2"]),
    (ONE, &[60], "On next 3 RS rows dec 1 st each end.", &["d . d . d"]),
    (ONE, &[60], "On the next 3 right side rows, dec 1 st each end.", &["d . d . d"]),
    (ONE, &[60], "Following 3 RS rows: dec 1 st at each end.", &["d . d . d"]),
    (ONE, &[60], "Next 3 knit rows: dec 1 st each end.", &["d . d . d"]),
    (ONE, &[60], "Work 1 row. Next 3 WS rows: dec 1 st each end. 54 sts.", &[". d . d . d"]),
    (ONE, &[60], "On next 3 RS rows bind off 2 sts at beg.", &["b2 . b2 . b2"]),
    (ONE, &[60], "Next 2 RS rows: BO 4 sts, k to end.", &["b4 . b4"]),
    (ONE, &[60], "Next 3 RS rows: k2tog, k to last 2 sts, k2tog.", &["d . d . d"]),
    (&["S", "M"], &[60, 60], "Next 2 (3) RS rows: dec 1 st each end.", &["d . d", "d . d . d"]),
    (ONE, &[60], "Dec row: k2tog, k to last 2 sts, k2tog. Next 3 RS rows: rep dec row.", &["d . d . d . d"]),
    (ONE, &[60], "Dec row: k2tog, k to last 2 sts, k2tog. Next 3 rows: rep dec row.", &["dx4"]),
    (ONE, &[60], "Row 1: dec 1 st each end. Row 2: p. Next 4 rows: rep rows 1 and 2.", &["d . d . d ."]),
    (ONE, &[60], "Dec row: k2tog, k to last 2 sts, k2tog. Next row: p. Next 4 rows: rep last 2 rows.", &["d . d . d ."]),
    (ONE, &[60], "Bind off 5 at beg of next 2 rows, BO 2 at beg of next 4 rows, BO 42.", &["b5x2 b2x4 b42|"]),
    (ONE, &[60], "Decrease one stitch at both ends of the needle in every second row until 50 stitches remain. Bind off 2 stitches at the beginning of the next 4 rows, bind off the rest.",
        &["(d .)*4 d b2x4 b42|"]),
    (ONE, &[60], "Bind off 5 sts at beg of next 2 rows. Cast off the remainder.", &["b5x2 b50|"]),
];

/// Labels, stitches, lines, and the words that bring an error.
#[rustfmt::skip]
pub(crate) const SIDES_REFUSED: &[(&[&str], &[u32], &str, &str)] = &[
    (ONE, &[60], "Row 1: bind off 2, k to end. Row 2: bind off 2, p to end. Row 3: dec 1 st each end. Row 4: purl. Rep these rows 3 times more.", "Rep these rows 3 times more"),
    (ONE, &[60], "Bind off 2 sts at beg of next row. Dec 1 st each end of next row. Work 1 row. Rep these rows 3 times more.", "Rep these rows 3 times more"),
    (ONE, &[60], "Row 1: dec 1 st each end. Row 2: purl. Row 1: dec 1 st each end. Row 2: purl. Rep these rows twice more.", "Rep these rows twice more"),
    (&["S", "M"], &[60, 70], "Dec 1 st each end of every 2 (0) rows until 40 (44) sts.", "Dec 1 st each end of every 2 (0) rows until 40 (44) sts"),
    (ONE, &[60], "Dec 1 st each end of every 0 rows for 12 rows.", "Dec 1 st each end of every 0 rows for 12 rows"),
    (ONE, &[60], "Work 1 row. Row 5: dec 1 st each end. Row 6: purl.", "Row 5: dec 1 st each end"),
    (ONE, &[60], "Bind off 4 sts at beg of next 2 rows. Work 1 row. Row 3: dec 1 st each end.", "Row 3: dec 1 st each end"),
    (ONE, &[60], "Dec 1 st each end of next 4 rows. Work even until sleeve measures 20 in from beg. Dec 1 st each end of next row.", "Work even until sleeve measures 20 in from beg"),
    (ONE, &[60], "Next 2 rows (RS): dec 1 st each end.", "Next 2 rows"),
    (ONE, &[60], "Dec 1 st each end of next row. Work 1 row. Next 3 RS rows: rep last 2 rows.", "Next 3 RS rows"),
    (ONE, &[60], "Row 1: dec 1 st each end. Row 2: p. Next 6 rows: rep rows 1 and 2 twice.", "Next 6 rows: rep rows 1 and 2 twice"),
    (ONE, &[60], "Bind off 5 at beg of next 2 rows, dec 1 at ea end of every RS row 7 times, BO 2 at beg of next 4 rows, BO 26.", "BO 26"),
    (ONE, &[60], "Dec 1 st at each end of rows 1, 3, 5 and 7 of the next 8 rows.", "next 8 rows"),
    (ONE, &[60], "Cast off \u{2067}4\u{2069} sts at beg of next 2 rows. Cast off.", "\u{2067}"),
];
