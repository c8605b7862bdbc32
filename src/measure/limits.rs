//! What is accepted at most, so that any input is answered in bounded time and memory: one table
//! for all doors. Bounds of single quantities (a gauge, an armhole) stand in `bounds.rs`.

/// Bytes of a file; a larger one is refused before it is read.
// Our cases have 2 kB, our printed patterns 3 kB, the text of a set of twelve sizes 60 kB: whatever is a thousand times that is something else.
pub const MAX_FILE_BYTES: u64 = 4 << 20;
/// Bytes of a line of `--lines`; a longer one is passed over.
// Five hundred times our largest case.
pub const MAX_LINE_BYTES: usize = 1 << 20;
/// Folders within folders that a batch looks into.
// A shelf is sorted by year and kind, and a link that leads back must end.
pub const MAX_FOLDERS: usize = 32;
/// Cases or lines that are begun before the oldest unfinished one is done, for each thread.
// Keeps every core busy where cases differ much in time, and bounds the answers that wait.
pub const MAX_AHEAD: usize = 4;
/// Numbers or words in a list of a case file.
// Ten lists of forty sizes.
pub const MAX_LIST: usize = 400;
/// Bytes of pattern lines read; the rest is reported and left out.
// As a line of `--lines` has.
pub const MAX_BYTES: usize = 1 << 20;
/// Characters of a title.
// Two lines of a printed page.
pub const MAX_TITLE: usize = 200;
/// Characters of a size's label.
// `Largest (to fit bust 132 to 137 cm)` has 35.
pub const MAX_LABEL: usize = 40;
/// Sizes in one set.
// Printed patterns have up to some fourteen (common practice, no source).
pub const MAX_SIZES: usize = 40;
/// Rows of one size.
// A cap has up to some hundred and fifty.
pub const MAX_ROWS: usize = 10_000;
/// Stitches or rows in one number; larger ones are misprints.
// No garment has a row of a hundred thousand stitches.
pub const MAX_NUMBER: f64 = 100_000.0;
/// Stitches on a needle.
// As a number has.
pub const MAX_STITCHES: u32 = 100_000;
/// Diagnostics reported of one text; the rest are counted in a last one.
// Ten for each of forty sizes.
pub const MAX_DIAGNOSTICS: usize = 400;
/// Diagnostics shown on a terminal, each with its place; the rest are counted.
// Two screens.
pub const MAX_SHOWN: usize = 60;
/// Brackets within brackets that are still looked into.
// Printed repeats have two.
pub const MAX_DEPTH: usize = 32;
/// Words of one clause: more than any clause of forty sizes has.
pub const MAX_CLAUSE: usize = 600;
/// Instructions carried out for one size: a repeat of a repeat of nothing must end too.
// Five for each row of the longest text.
pub const MAX_STEPS: usize = 50_000;
/// Bytes of text in which a repair is still looked for: far more than any cap needs.
pub const MAX_REPAIRED_BYTES: usize = 20_000;
/// Rows carried out in all while repairs and other readings are tried.
// The rows of two hundred texts of the greatest length.
pub const MAX_TRIAL_ROWS: usize = 2_000_000;
/// Bytes of a worksheet that an earlier run wrote; a larger one is not looked at: it is made again.
// Ten sizes with figures have 1.5 MB.
pub const MAX_WORKSHEET_BYTES: u64 = 64 << 20;
/// Bytes of a line of the manifest of an earlier run; a longer one is passed over.
// As a file has.
pub const MAX_ENTRY_BYTES: usize = 4 << 20;
/// Entries of the manifest of an earlier run that are taken into account.
// Whatever is left out is made again.
pub const MAX_ENTRIES: usize = 1_000_000;
