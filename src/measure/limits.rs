//! What is accepted at most, so that any input is answered in bounded time and memory: one table
//! for all doors. Bounds of single quantities (a gauge, an armhole) stand in `bounds.rs`.

/// Bytes of a file; a larger one is refused before it is read.
pub const MAX_FILE_BYTES: u64 = 4 << 20;
/// Bytes of a line of `--lines`; a longer one is passed over.
pub const MAX_LINE_BYTES: usize = 1 << 20;
/// Folders within folders that a batch looks into.
pub const MAX_FOLDERS: usize = 32;
/// Cases or lines that are begun before the oldest unfinished one is done, for each thread.
pub const MAX_AHEAD: usize = 4;
/// Numbers or words in a list of a case file.
pub const MAX_LIST: usize = 400;
/// Bytes of pattern lines read; the rest is reported and left out.
pub const MAX_BYTES: usize = 1 << 20;
/// Characters of a title.
pub const MAX_TITLE: usize = 200;
/// Characters of a size's label.
pub const MAX_LABEL: usize = 40;
/// Sizes in one set.
pub const MAX_SIZES: usize = 40;
/// Rows of one size.
pub const MAX_ROWS: usize = 10_000;
/// Stitches or rows in one number; larger ones are misprints.
pub const MAX_NUMBER: f64 = 100_000.0;
/// Stitches on a needle.
pub const MAX_STITCHES: u32 = 100_000;
/// Diagnostics reported of one text; the rest are counted in a last one.
pub const MAX_DIAGNOSTICS: usize = 400;
/// Diagnostics shown on a terminal, each with its place; the rest are counted.
pub const MAX_SHOWN: usize = 60;
/// Brackets within brackets that are still looked into.
pub const MAX_DEPTH: usize = 32;
/// Words of one clause: more than any clause of forty sizes has.
pub const MAX_CLAUSE: usize = 600;
/// Instructions carried out for one size: a repeat of a repeat of nothing must end too.
pub const MAX_STEPS: usize = 50_000;
/// Bytes of text in which a repair is still looked for: far more than any cap needs.
pub const MAX_REPAIRED_BYTES: usize = 20_000;
/// Rows carried out in all while repairs and other readings are tried.
pub const MAX_TRIAL_ROWS: usize = 2_000_000;
/// Bytes of a worksheet that an earlier run wrote; a larger one is not looked at: it is made again.
pub const MAX_WORKSHEET_BYTES: u64 = 64 << 20;
/// Bytes of a line of the manifest of an earlier run; a longer one is passed over.
pub const MAX_ENTRY_BYTES: usize = 4 << 20;
/// Entries of the manifest of an earlier run that are taken into account.
pub const MAX_ENTRIES: usize = 1_000_000;
