//! Texts in the trade's many wordings, with the rows they stand for worked out by hand.
//!
//! The numbers of `READ` are those of the trade notes' list of 82 templates (bind-offs 1-17, decreases
//! 18-42, repeats 43-51, "until" 52-61, plain rows 62-65, simultaneous 66-70, how it is worked 71-77,
//! short rows 78-82). The wordings are ours.
#![allow(dead_code, reason = "each test takes the tables it needs")]

mod attacks;
mod attacks_manners;
mod attacks_refused;
mod attacks_structure;
mod attacks_typed;
mod attacks_typed_refused;
mod attacks_unclear;
mod printed;
mod printed_more;
mod printed_sets;
mod probed;
mod sides;
mod translated;

pub(crate) use attacks::{ATTACKS, ATTACKS_BODY};
pub(crate) use attacks_manners::{ATTACKS_MANNERS, ATTACKS_MANNERS_BODY};
pub(crate) use attacks_refused::ATTACKS_REFUSED;
pub(crate) use attacks_structure::ATTACKS_STRUCTURE;
pub(crate) use attacks_typed::{TYPED, TYPED_OR_ERROR};
pub(crate) use attacks_typed_refused::TYPED_REFUSED;
pub(crate) use attacks_unclear::ATTACKS_UNCLEAR;
pub(crate) use printed::PRINTED;
pub(crate) use printed_more::{PRINTED_MORE, REFUSED_MORE};
pub(crate) use printed_sets::{PRINTED_BODY, PRINTED_DIVIDED, PRINTED_SETS, REFUSED};
pub(crate) use probed::{PROBED, PROBED_BODY, PROBED_REFUSED};
pub(crate) use sides::{SIDES, SIDES_REFUSED};
pub(crate) use translated::{TRANSLATED, TRANSLATED_REFUSED};

/// The template's number, the stitches before it, the lines, and the rows they stand for:
/// `b3` three bound off at the beginning, `d` one decreased at each end, `<` at the beginning, `>`
/// at the end, `i` one increased at each end, `.` plain; `x3` three such rows; `|` the last
/// bind-off. Sizes are separated by `/`.
pub(crate) type Row = (u32, u32, &'static str, &'static str);

#[rustfmt::skip]
pub(crate) const READ: &[Row] = &[
    (1, 40, "BO 4 sts at beg of next 2 rows.", "b4x2"),
    (1, 40, "Bind off four stitches at the beginning of the next two rows.", "b4x2"),
    (2, 60, "Cast off 3 sts at beg of next 4 rows.", "b3x4"),
    (3, 60, "BO 5 sts at beg of next 2 rows, then 3 sts at beg of next 4 rows.", "b5x2 b3x4"),
    (3, 60, "BO 5 sts at beg of next 2 rows, 3 sts at the beg of the foll 4 rows.", "b5x2 b3x4"),
    (4, 40, "BO 3 sts at beg of every row until 16 sts remain.", "b3x8"),
    (5, 40, "BO 4 sts each side.", "b4x2"),
    (5, 40, "Cast off 4 sts at each end of next row.", "b4x2"),
    (6, 40, "At each end of every 2nd row, bind off 3 sts once, 2 sts twice.", "b3x2 b2x4"),
    (6, 40, "At each end of every 2nd row bind off 2 x 1 st, 1 x 2 sts.", "b1x4 b2x2"),
    (7, 40, "Cast off each side every other row: 3 sts 1 time, 2 sts 2 times, 1 st 4 times.", "b3x2 b2x4 b1x8"),
    (8, 40, "Cast off 1x2 sts, 3x1 st each side every 2 rows.", "b2x2 b1x6"),
    (9, 60, "BO 3 sts at beg of next 2 rows once, 2 sts twice, 1 st 11 times.", "b3x2 b2x4 b1x22"),
    (10, 60, "Row 1 (RS): BO 2 sts, k to end. Row 2: BO 2 sts, p to end. Rep rows 1-2 3 more times.", "b2x8"),
    (10, 60, "1st row: Cast off 2 sts, work to end.\n2nd row: Cast off 2 sts, work to end.\nRep 1st and 2nd rows twice more.", "b2x6"),
    (11, 40, "Cast off 4 sts at armhole edge. Cast off 2 sts at armhole edge every other row twice.", "b4 . b2 . b2"),
    (12, 40, "Cast off 3 sts at beg of next and foll 2 alt rows (front edge).", "b3 . b3 . b3"),
    (13, 60, "Cast off 3, 2, 2, 1, 1 sts at beg of next and foll rows each side.", "b3x2 b2x4 b1x4"),
    (14, 20, "Cast off rem 20 sts.", "b20|"),
    (14, 20, "Work 2 rows even. Leave rem 20 sts on a holder.", ".x2 b20|"),
    (14, 20, "Work 2 rows even. Cast off.", ".x2 b20|"),
    (15, 20, "Bind off straight across the last 3 in.", "b20|"),
    (16, 40, "Dec 1 st at end of next row, then bind off 2 sts at beg of next row.", "> b2"),
    (17, 40, "BO 4 sts at beg of next 2 rows. Slip the first st of each bind-off.", "b4x2"),
    (18, 40, "Dec 1 st each end of next row.", "d"),
    (19, 40, "Dec 1 st each end of every row 5 times.", "dx5"),
    (20, 40, "Dec 1 st at each end of next 5 rows.", "dx5"),
    (21, 46, "Dec 1 st each end of every other row 4 times.", "d . d . d . d"),
    (22, 46, "Dec 1 st each end of next and every alternate row 4 times.", "d . d . d . d"),
    (23, 46, "Dec 1 st each end of next and foll 4 alt rows.", "d . d . d . d . d"),
    (24, 46, "Dec 1 st each end of next row, then on foll 3 alt rows.", "d . d . d . d"),
    (24, 46, "Dec 1 st each end of next row. Then dec each end of foll 3 alt rows.", "d . d . d . d"),
    (25, 49, "Dec 1 st each end of next 3 rows, foll 1 alt row, then on 1 foll 4th row.", "dx3 . d .x3 d"),
    (26, 46, "Dec 1 st each end of next row and every foll 4th row to 40 sts.", "d .x3 d .x3 d"),
    (27, 46, "Dec 1 st each end of next row, then every 4th row twice.", "d .x3 d .x3 d"),
    (27, 46, "BO 2 sts at beg of next 2 rows. Dec 1 st each end of every 4th row 2 times.", "b2x2 d .x3 d"),
    (28, 46, "Dec 1 st each end of next row, then every 4 rows 2 times.", "d .x3 d .x3 d"),
    (29, 46, "Dec 1 st each end of every RS row 3 times.", "d . d . d"),
    (29, 46, "Dec 1 st at both sides on every right side row three times.", "d . d . d"),
    (30, 46, "Dec 1 st each end of every other RS row 3 times.", "d .x3 d .x3 d"),
    (31, 46, "Dec 1 st at both ends of every knit row 3 times.", "d . d . d"),
    (31, 46, "Dec 1 st each end of every WS row 2 times.", ". d . d"),
    (32, 46, "Dec 1 st at end of each row until 40 sts remain.", ">x6"),
    (33, 46, "Dec 1 st each end every 3rd ridge (6th row) 2 times.", ".x5 d .x5 d"),
    (34, 46, "Dec 1 st each end every inch 2 times.", ".x9 d .x9 d"),
    (34, 46, "Dec 1 st each end every 1/2 in 2 times.", ".x4 d .x4 d"),
    (35, 46, "Narrow each end of next 3 rows.", "dx3"),
    (36, 48, "K 2 tog each end of every 2nd row until decreased to 30.", "d . d . d . d . d . d . d . d . d"),
    (37, 60, "Dec 1 st each end of next row, then every 4 rows 2 times, then every 2 rows 3 times.", "d .x3 d .x3 d . d . d . d"),
    (38, 60, "Dec 1 st each end of next row, then every 0 rows 0 times, then every 2 rows 2 times.", "d . d . d"),
    (39, 60, "[Dec row, work 1 row even] 5 times.", "d . d . d . d . d ."),
    (40, 60, "(Dec 1 st each end of next row, work 3 rows even) 2 times.", "d .x3 d .x3"),
    (41, 60, "Work 3 rows, dec 1 st each end of next row, rep twice.", ".x3 d .x3 d .x3 d"),
    (42, 60, "Work dec row on RS every 8th round 2 times.", ".x7 d .x7 d"),
    (43, 60, "Dec row (RS): K2, ssk, k to last 4 sts, k2tog, k2. Rep dec row every RS row 2 more times.", "d . d . d"),
    (44, 60, "Dec row (RS): K2, ssk, k to last 4 sts, k2tog, k2. Rep dec row every 4th row 2 times.", "d .x3 d .x3 d"),
    (45, 60, "Dec 1 st each end of next row. Purl 1 row. Rep last 2 rows 2 times.", "d . d . d ."),
    (46, 60, "Dec 1 st each end of next row. Purl back. Rep last 2 rows another 2 times.", "d . d . d ."),
    (47, 60, "Row 1: K1, ssk, k to last 3 sts, k2tog, k1. Row 2: Purl. Rep these 2 rows until 54 sts rem.", "d . d . d ."),
    (48, 60, "*Dec 1 st each end of next row, work 1 row even; rep from * once more.", "d . d ."),
    (48, 60, "* Dec 1 st each end of next row, work 1 row even. Rep from * twice more.", "d . d . d ."),
    (49, 60, "Row 1: K1, ssk, k to last 3 sts, k2tog, k1. Rows 2-3: Knit. Work rows 1-3 three times.", "d .x2 d .x2 d .x2"),
    (50, 60, "Dec 1 st each end of next row, then every RS row, 3 times in all.", "d . d . d"),
    (51, 60, "** Dec 1 st each end of next row. Work 1 row. ** Work 2 rows even. Work from ** to ** again.", "d . .x2 d ."),
    (52, 60, "Dec 1 st each end of every RS row until 54 sts rem.", "d . d . d"),
    (53, 60, "Dec 1 st each end of every row to 54 sts.", "dx3"),
    (54, 40, "Inc 1 st each end of next and every foll 4th row until there are 46 sts.", "i .x3 i .x3 i"),
    (55, 46, "BO 2 sts at beg of next 2 rows. Dec 1 st each end of next row. Work even until cap measures 1 in from first bind-off.", "b2x2 d .x7"),
    (56, 46, "BO 2 sts at beg of next 2 rows. Work even until armhole measures 1 in, ending with a WS row.", "b2x2 .x8"),
    (57, 46, "Work even until armhole measures 1 in, ending with RS facing for next row.", ".x10"),
    (58, 46, "Dec 1 st each end of every alt row 3 times, ending after a WS row.", "d . d . d ."),
    (59, 46, "Dec 1 st each end of next 4 rows, ending with a p row.", "dx4"),
    (60, 46, "When work measures 46 cm dec 1 st each end of next row. Cont straight until work measures 51.08 cm.", "d .x19"),
    (60, 46, "BO 2 sts at beg of next 2 rows. Work even until piece measures 1 in from cap beg.", "b2x2 .x8"),
    (62, 46, "Work even for 4 rows.", ".x4"),
    (62, 46, "Cont straight for 4 rows.", ".x4"),
    (62, 46, "Work 4 rows without shaping.", ".x4"),
    (62, 46, "Patt 4 rows straight.", ".x4"),
    (63, 46, "Work 2 rows even. Work 1 row. Purl back.", ".x4"),
    (64, 60, "Dec 1 st each end of next row. Work 3 rows even. Dec 1 st each end of next row.", "d .x3 d"),
    (65, 46, "Dec 1 st each end of next row. Work 1 in more. BO 4 sts at beg of next 2 rows.", "d .x11 b4x2"),
    (66, 60, "Dec 1 st each end of every row 4 times, AT THE SAME TIME, when 56 sts remain, inc 1 st at end of next row.", "dx2 d+ d"),
    (67, 40, "Dec 1 st at armhole edge of next 5 rows and at the same time dec 1 st at neck edge of next and foll 4th row.", "d > < > d"),
    (67, 40, "Dec 1 st at armhole edge of next 5 rows and at the same time dec 1 st at front slope edge of next and foll 4th row.", "d > < > d"),
    (69, 46, "Work both sleeves at the same time with two balls of yarn. Dec 1 st each end of next row.", "d"),
    (70, 46, "Keeping patt correct, dec 1 st each end of next row, taking inc sts into pattern.", "d"),
    (71, 46, "K2, ssk, k to last 4 sts, k2tog, k2.", "d"),
    (72, 46, "K1, k2tog, k to last 3 sts, ssk, k1.", "d"),
    (73, 46, "Dec 1 st each end of next row, working decs 1 st in from edge.", "d"),
    (74, 46, "Sl 1, k1, psso, k to last 2 sts, k2tog.", "d"),
    (74, 46, "Row 1: Skp, k to last 2 sts, p2tog tbl.", "d"),
    (74, 46, "Row 1: K3tog, k to last 3 sts, k3tog.", "dd"),
    (75, 46, "Work 2 tog each end of every 3rd row 2 times.", ".x2 d .x2 d"),
    (76, 46, "Dec 1 st at armhole edge of next 3 rows.", "< > <"),
    (77, 46, "Dec 1 st each end of next row (2 sts dec'd). Dec 1 st each end of next row — 42 sts rem.", "dx2"),
];

/// Whole caps and armholes as they stand in print, in as many manners as there are houses. The
/// counts are stated in the lines themselves and must agree, so each is its own check.
#[rustfmt::skip]
pub(crate) const WHOLE: &[(u32, &str, &str)] = &[
    (60, "B.O. 3 sts. beg. next 2 rows. Dec. 1 st. ea. end every other row 10 times. B.O. 2 sts. beg. next 4 rows. B.O. rem. 26 sts.",
        "b3x2 d . d . d . d . d . d . d . d . d . d b2x4 b26|"),
    (60, "Next row (RS): BO 4 sts, knit to end. Next row: BO 4 sts, purl to end. 52 sts. Next row (dec): K1, ssk, knit to last 3 sts, k2tog, k1. Next row: Purl. Repeat last two rows 2 more times. 46 sts. BO 3 sts at beg of next 4 rows. BO rem 34 sts.",
        "b4x2 d . d . d . b3x4 b34|"),
    (60, "Row 1 (RS): K2, k2tog, knit to last 4 sts, ssk, k2 (2 sts decreased). Row 2: Purl. Rep Rows 1 and 2 until 54 sts remain. Then work Row 1 every 4th row 2 times. 50 sts. Bind off all sts.",
        "d . d . d .x3 d .x3 d b50|"),
    (64, "Dec 1 st each end of next row, then every 4th row 2x, every 2nd row 3x, every row 2x. 48 sts.",
        "d .x3 d .x3 d . d . d . dx3"),
    (80, "For the cap, bind off at both sides every 2 rows 1 x 4 sts, 2 x 2 sts and 1 x 3 sts. Bind off the remaining 58 sts.",
        "b4x2 b2x4 b3x2 b58|"),
    (80, "When sleeve measures 45 cm, bind off 4 sts at each side, then bind off 2 sts each side 2 times and 1 st each side 3 times. Bind off rem 58 sts.",
        "b4x2 b2x4 b1x6 b58|"),
    (75, "At armhole edge, cast off 4 sts once, 3 sts once, 2 sts twice, then dec 1 st every other row 3 times. 61 sts.",
        "b4 . b3 . b2 . b2 . < . < . <"),
    (48, "Next row (RS): Cast off 5 sts, patt to end. Work 1 row. Dec 1 st at armhole edge of next 5 rows, then on foll 3 alt rows. 35 sts.",
        "b5 . < > < > < . < . < . <"),
    (84, "Dec 1 st each end of next row, then every 2nd and 4th row alternately 4 times. 74 sts.",
        "d . d .x3 d . d .x3 d"),
    (84, "Dec 1 st each end of next row, then alternately every 2nd and every 4th row until 74 sts rem.",
        "d . d .x3 d . d .x3 d"),
    (84, "*Dec 1 st each end of next row. Work 3 rows even.* Rep from * to * 2 more times. 78 sts.",
        "d .x3 d .x3 d .x3"),
    (84, "Cast on 3 sts at beg of next 2 rows, then 2 sts at beg of next 4 rows. 98 sts. Inc 1 st each end of every RS row 2 times. 102 sts.",
        "+++x2 ++x4 i . i"),
    (84, "BO 5 sts at beg next two rows. Decrease 1 st at each side on the following 5th row, then every 4th row 2 times. 68 sts.",
        "b5x2 .x4 d .x3 d .x3 d"),
    (84, "Cast off 4 sts at the beg of the next 2 rows. Dec 1 st at each end of the next 3 (RS) rows, then of every foll alt row to 66 sts.",
        "b4x2 d . d . d . d . d"),
    (84, "Decrease 1 st each end every RS row 2 times, working decreases as established. Then decrease 1 st each end every row 5 times. 70 sts remain.",
        "d . dx6"),
    (84, "Bind off six stitches at the beginning of each of the next 2 rows. Decrease one stitch at both ends of EOR twice. Sixty-eight stitches remain. Bind off.",
        "b6x2 d . d b68|"),
    (100, "Bind off 6 sts at beg of next 2 rows. Work even until armholes measure 1\" (2.5 cm), end with a WS row. Shape shoulders: Bind off 7 sts at beg of next 2 rows. Bind off rem 74 sts for back neck.",
        "b6x2 .x8 b7x2 b74|"),
    (50, "Bind off from armhole edge 5 sts once, 2 sts twice. 41 sts. Dec 1 st at same edge every other row 2 times. 39 sts.",
        "b5 . b2 . b2 . < . <"),
    (80, "Narrow once each side every other row 3 times. 74 sts.", "d . d . d"),
    (72, "BO 4 sts, work to end. Turn. BO 4 sts, work to end. 64 sts.", "b4x2"),
    (72, "Next 2 rows: BO 4 sts, work in pattern to end. Next row (Dec Row): K2, ssk, k to last 4 sts, k2tog, k2—2 sts dec. Next row: P. Rep last 2 rows 2 times more. 58 sts. Next 2 rows: BO 3, work to end. BO rem 52 sts.",
        "b4x2 d . d . d . b3x2 b52|"),
    (72, "BO 4 st at beg of next 2 R. Dec 1 st each end every R 3 times. 58 sts.", "b4x2 dx3"),
    (72, "With RS facing, dec 1 st at each end of the row on next row, then every RS row x 2. 66 sts. Purl 1 WS row. BO all sts loosely.",
        "d . d . d . b66|"),
    (66, "1st row: k1, sl1, k1, psso, k to last 3 sts, k2tog, k1. 2nd row: k1, p to last st, k1. Rep 1st and 2nd rows until 60 sts rem, ending with 2nd row. Cast off.",
        "d . d . d . b60|"),
    (84, "Bind off 2 sts at beg of next 2 rows 2 more times. 72 sts.", "b2x6"),
    (84, "Bind off 5 sts at beg of next 2 rows. Next row: Dec 1 st at each end. Repeat this row every other row until 68 sts rem.",
        "b5x2 d . d . d"),
    (84, "Bind off 5 sts at beg of next 2 rows. Next row: K1, ssk, k to last 3 sts, k2tog, k1. Then every right side row thereafter 2 times. 68 sts.",
        "b5x2 d . d . d"),
    (84, "Bind off 5 st(s) at beg of next 2 rows; 74 st(s).", "b5x2"),
    (84, "Row 1: Bind off 3 sts, k to end. Row 2 and all WS rows: Purl. Row 3: K1, ssk, k to last 3 sts, k2tog, k1. 79 sts. Row 4: Purl. Row 5: Rep row 3. 77 sts.",
        "b3 . d . d"),
    (84, "Dec 1 st each end of this row, then every foll 4th row 2 times. 78 sts; end WS. BO 3 sts at beg of next 2 rows.", "d .x3 d .x3 d . b3x2"),
    (84, "Decrease each side of every other row: 1 stitch 3 times, 2 stitches 2 times. 70 sts.", "d . d . d . dd . dd"),
    (84, "Dec at each end of every 2nd row: 1 st x 2, 2 sts x 2. 72 sts.", "d . d . dd . dd"),
    (84, "At each edge, bind off 4 sts every other row once, then 3 sts every other row twice, then dec 1 st every other row 2 times. 60 sts.",
        "b4x2 b3x4 d . d"),
    (75, "Cast off 3 sts at beg of next 2 rows (69 sts). Dec 1 st at each end of 3rd row and every foll 4th row to 63 sts. Purl 1 row.",
        "b3x2 .x2 d .x3 d .x3 d ."),
];

/// Labels, stitches, a sleeve's lines, and the rows of every size.
pub(crate) type Sized = (
    &'static [&'static str],
    &'static [u32],
    &'static str,
    &'static [&'static str],
);

const SML: &[&str] = &["Small", "Medium", "Large"];
const SHORT: &[&str] = &["S", "M", "L"];
const BUST: &[&str] = &["34", "36", "38"];
const ONE: &[&str] = &["one"];
const THREE: &[u32] = &[58, 62, 66];
const SIXTY: &[u32] = &[60, 64, 68];

/// Size words in every order, and texts of sleeves with what lies before and after the cap.
#[rustfmt::skip]
pub(crate) const SIZED: &[Sized] = &[
    (SML, THREE, "Bind off 4 sts at beg of next 2 rows. Medium and Large only: Bind off 2 sts at beg of next 2 rows. All sizes: Dec 1 st each end of next row.",
        &["b4x2 d", "b4x2 b2x2 d", "b4x2 b2x2 d"]),
    (SML, THREE, "Bind off 4 sts at beg of next 2 rows. For Large: Dec 1 st each end of next row. Purl 1 row. All sizes: Dec 1 st each end of next row.",
        &["b4x2 d", "b4x2 d", "b4x2 d . d"]),
    (SML, THREE, "(Medium, Large) Bind off 2 sts at beg of next 2 rows. Dec 1 st each end of next row. All sizes: Work 2 rows even.",
        &[".x2", "b2x2 d .x2", "b2x2 d .x2"]),
    (SML, THREE, "Bind off 4 sts at beg of next 2 rows. Largest size only: work 2 rows even. All sizes: Dec 1 st each end of next row.",
        &["b4x2 d", "b4x2 d", "b4x2 .x2 d"]),
    (SML, THREE, "All sizes except Small: bind off 2 sts at beg of next 2 rows. All sizes: Dec 1 st each end of next row.",
        &["d", "b2x2 d", "b2x2 d"]),
    (SML, THREE, "All except Large: bind off 2 sts at beg of next 2 rows. All sizes: Dec 1 st each end of next row.",
        &["b2x2 d", "b2x2 d", "d"]),
    (SML, THREE, "2nd and 3rd sizes: bind off 2 sts at beg of next 2 rows. All sizes: Dec 1 st each end of next row.",
        &["d", "b2x2 d", "b2x2 d"]),
    (SML, THREE, "Sizes 2 and up: bind off 2 sts at beg of next 2 rows. All sizes: Dec 1 st each end of next row.",
        &["d", "b2x2 d", "b2x2 d"]),
    (SML, THREE, "Medium and larger: bind off 2 sts at beg of next 2 rows. Each size: Dec 1 st each end of next row.",
        &["d", "b2x2 d", "b2x2 d"]),
    (SML, THREE, "Larger sizes: bind off 2 sts at beg of next 2 rows. All sizes: Dec 1 st each end of next row.",
        &["d", "b2x2 d", "b2x2 d"]),
    (SML, THREE, "2 smallest sizes: bind off 2 sts at beg of next 2 rows. All sizes: Dec 1 st each end of next row.",
        &["b2x2 d", "b2x2 d", "d"]),
    (SML, THREE, "Small: Dec 1 st each end of next row. Medium: Dec 1 st each end of next 2 rows. Large: Dec 1 st each end of next 3 rows.",
        &["d", "dx2", "dx3"]),
    (SML, THREE, "Medium only: Dec 1 st each end of next row. Other sizes: Dec 1 st each end of next 2 rows. All sizes: Work 2 rows even.",
        &["dx2 .x2", "d .x2", "dx2 .x2"]),
    (SHORT, THREE, "Cast off 4 sts at beg of next 2 rows. M and L: dec 1 st each end of next 3 rows. S: dec 1 st each end of next row. All sizes: work 2 rows.",
        &["b4x2 d .x2", "b4x2 dx3 .x2", "b4x2 dx3 .x2"]),
    (SHORT, THREE, "Cast off 4 sts at beg of next 2 rows. Size L only: dec 1 st each end of next 3 rows. All sizes: work 2 rows.",
        &["b4x2 .x2", "b4x2 .x2", "b4x2 dx3 .x2"]),
    (SHORT, THREE, "Cast off 4 sts at beg of next 2 rows. Dec 1 st each end of next row (size L only). Work 2 rows.",
        &["b4x2 .x2", "b4x2 .x2", "b4x2 d .x2"]),
    (BUST, THREE, "Cast off 4 sts at beg of next 2 rows. 36 and 38 only: dec 1 st each end of next 3 rows. All sizes: work 2 rows.",
        &["b4x2 .x2", "b4x2 dx3 .x2", "b4x2 dx3 .x2"]),
    (BUST, THREE, "Cast off 4 sts at beg of next 2 rows. Sizes 34 and 36: dec 1 st each end of next 3 rows. All sizes: work 2 rows.",
        &["b4x2 dx3 .x2", "b4x2 dx3 .x2", "b4x2 .x2"]),
    (BUST, THREE, "Dec 1 st each end of every 4th (4th, 6th) row twice.",
        &[".x3 d .x3 d", ".x3 d .x3 d", ".x5 d .x5 d"]),
    (BUST, THREE, "Dec 1 st each end of the 3rd (5th, 7th) row and every foll 2nd (4th, 6th) row until 54 (58, 62) sts rem.",
        &[".x2 d . d", ".x4 d .x3 d", ".x6 d .x5 d"]),
    // The end of a row.
    (ONE, &[60], "Bind off 4 sts, k to end, turn. Bind off 4 sts, p to end, turn. 52 sts. Dec 1 st each end of next row.", &["b4x2 d"]),
    (ONE, &[60], "Next row: k2tog, k to last 2 sts, k2tog, turn. Next row: purl, turn.", &["d ."]),
    // Over the row.
    (ONE, &[40], "K2 tog all along the row. 20 sts.", &["dddddddddd"]),
    (ONE, &[40], "Next row: k2tog across. 20 sts.", &["dddddddddd"]),
    (ONE, &[40], "Next row: (k2, k2tog) to end. 30 sts. Cast off.", &["ddddd b30|"]),
    (ONE, &[41], "Next row: *k2, k2tog; rep from * to last st, k1. 31 sts.", &["ddddd"]),
    (ONE, &[42], "Next row: [k3, k2tog] 6 times, k to end. 36 sts.", &["ddd"]),
    (ONE, &[42], "Next row: k3tog to end. 14 sts.", &["dddddddddddddd"]),
    (ONE, &[42], "K2tog 4 times, k to last 8 sts, k2tog 4 times. 34 sts.", &["dddd"]),
    (ONE, &[42], "Dec 6 sts evenly across next row. 36 sts.", &["ddd"]),
    // So many rows in all.
    (ONE, &[60], "Work 12 rows, decreasing 1 st each end of the next and every foll 4th row. 54 sts.", &["d .x3 d .x3 d .x3"]),
    (ONE, &[60], "Work 8 rows, dec 1 st each end of first row and alternate rows. 52 sts.", &["d . d . d . d ."]),
    (ONE, &[60], "Work 6 rows, dec 1 st at both ends of every row. 48 sts.", &["dx6"]),
    // Before and after the cap.
    (ONE, &[90], "Cast on 90 sts. Work 20 rows in rib. Work in st st until work measures 14 in from beg. Bind off 5 sts at beg of next 2 rows. 80 sts. Dec 1 st each end of next row.",
        &["b5x2 d"]),
    (ONE, &[90], "Cast on 80 sts. K 10 rows. Inc 1 st each end of every 6th row until there are 90 sts. Work even until sleeve measures 17 in. Shape cap: Bind off 5 sts at beg of next 2 rows. 80 sts.",
        &["b5x2"]),
    (ONE, &[60], "Work 6 rows in rib. Bind off 5 sts at beg of next 2 rows. 50 sts.", &["b5x2"]),
    (ONE, &[40], "Bind off 4 sts at beg of next 2 rows. Dec 1 st each end of next 8 rows. 16 sts. Saddle: work 30 rows even on rem 16 sts. Leave sts on a holder.",
        &["b4x2 dx8 b16|"]),
    (ONE, &[40], "Bind off 4 sts at beg of next 2 rows. Dec 1 st each end of next 8 rows. Work even on rem 16 sts for 30 rows. Leave sts on a holder.",
        &["b4x2 dx8 b16|"]),
    (ONE, &[40], "Bind off 4 sts at beg of next 2 rows. Dec 1 st each end of next 8 rows. Leave rem 16 sts on a holder. Work 30 rows for saddle.",
        &["b4x2 dx8 b16|"]),
];

/// Body pieces that are divided: stitches, lines, and the rows of the half that is followed. The row
/// that parts the work loses the stitches that leave it at its end.
#[rustfmt::skip]
pub(crate) const DIVIDED: &[(u32, &str, &str)] = &[
    (60, "Bind off 5 sts at beg of next 2 rows. 50 sts. Work 6 rows even. K 18, bind off center 14 sts, k to end. Working each side separately, dec 1 st at neck edge every row 3 times. 15 sts. Work 2 rows even. Bind off.",
        "b5x2 .x6 >32 < > < .x2 b15|"),
    (60, "Cast off 5 sts at beg of next 2 rows. Work 6 rows. Next row: K 18, turn, leave rem 32 sts on a holder. Dec 1 st at neck edge of next 3 rows. 15 sts. Cast off. With RS facing, rejoin yarn to rem sts, cast off 14 sts, k to end. Complete to match first side, reversing shapings.",
        "b5x2 .x6 >32 < > < b15|"),
    (60, "Cast off 5 sts at beg of next 2 rows. Work 6 rows. Shape neck: Bind off centre 14 sts. Dec 1 st every row 3 times. 15 sts. Cast off.",
        "b5x2 .x6 >32 < > < b15|"),
    (60, "Bind off 5 sts at beg of next 2 rows. Divide for V-neck: work 25 sts, turn, leave rem 25 sts on holder. Dec 1 st at neck edge every other row 3 times and AT SAME TIME dec 1 st at armhole edge every other row 2 times. 20 sts. Bind off. Other side: work to correspond.",
        "b5x2 >25 . d . d . > b20|"),
    (60, "Bind off 5 sts at beg of next 2 rows. Work 18 sts, join second ball of yarn, bind off center 14 sts, work to end. Working both sides at once, bind off 2 sts at each neck edge once. 16 sts each side. Bind off 8 sts at beg of next 4 rows.",
        "b5x2 >32 b2 b8 . b8|"),
];
