//! What the reader accepts at most, so that any text is answered in bounded time.

/// Bytes of text read; the rest is reported and left out.
pub const MAX_BYTES: usize = 1 << 20;
/// Sizes in one set.
pub const MAX_SIZES: usize = 40;
/// Rows of one size.
pub const MAX_ROWS: usize = 10_000;
/// Stitches or rows in one number; larger ones are misprints.
pub const MAX_NUMBER: f64 = 100_000.0;
/// Stitches on a needle.
pub const MAX_STITCHES: u32 = 100_000;
/// Diagnostics reported; the rest are counted in a last one.
pub(super) const MAX_DIAGNOSTICS: usize = 400;
/// Brackets within brackets that are still looked into.
pub(super) const MAX_DEPTH: usize = 32;
/// Words of one clause: more than any clause of forty sizes has.
pub(super) const MAX_CLAUSE: usize = 600;
/// Instructions carried out for one size: a repeat of a repeat of nothing must end too.
pub(super) const MAX_STEPS: usize = 50_000;
/// Bytes of text in which a repair is still looked for: far more than any cap needs.
pub(super) const MAX_REPAIRED_BYTES: usize = 20_000;
/// Rows carried out in all while repairs and other readings are tried.
pub(super) const MAX_TRIAL_ROWS: usize = 2_000_000;
