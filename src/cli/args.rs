//! The arguments of every command.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use super::form::Form;

/// Turns the flat cap of a set-in sleeve into a short-row cap picked up round the armhole.
#[derive(Debug, Parser)]
#[command(name = "capwright", version, about, max_term_width = 100)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// `convert`: a case and what is printed of the result.
#[derive(Debug, Args)]
pub struct ConvertArgs {
    /// The case.
    #[command(flatten)]
    pub case: CaseArgs,
    /// All sizes in one text, numbers in brackets, for pasting into a pattern; all work the same runs where a list serves
    /// them (`fit.same_runs` = false in the case: each its own)
    #[arg(long, conflicts_with = "checklist")]
    pub together: bool,
    /// Only the flat caps as a pattern's lines, adapted where the case asks for it: for sewing in
    #[arg(long, conflicts_with_all = ["checklist", "together"])]
    pub flat_lines: bool,
    /// As many runs to remember as this (1 to 8), the same as --set fit.runs=N
    #[arg(long, value_name = "N")]
    pub runs: Option<usize>,
    /// The same runs in all sizes, so that one text with numbers in brackets serves all; the same as
    /// `fit.same_runs` = true in the case. See what it costs with --grading
    #[arg(long)]
    pub same_runs: bool,
    /// Which of the caps offered: 1 is the best, the others are nearly as good and simpler to knit; the same
    /// as --set fit.choice=N
    #[arg(long, value_name = "N")]
    pub choice: Option<usize>,
    /// Only the cap's rows to tick off: for people, or as comma-separated values
    #[arg(long, value_name = "FORM", value_enum, num_args = 0..=1, default_missing_value = "text")]
    pub checklist: Option<TableForm>,
    /// All sizes side by side instead: steps between neighbours, what is out of step, and the counts in
    /// brackets, ready to paste; for people, or as comma-separated values
    #[arg(long, value_name = "FORM", value_enum, num_args = 0..=1, default_missing_value = "text", require_equals = true, conflicts_with_all = ["checklist", "together"])]
    pub grading: Option<TableForm>,
    /// The picture that is printed, or written to a file that ends in .svg (there: overlay if left out)
    #[arg(long, value_name = "NAME")]
    pub figure: Option<String>,
    /// The paper of a file that ends in .pdf
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperArg,
    /// Many cases at once.
    #[command(flatten)]
    pub batch: BatchArgs,
}

/// Sheets of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum PaperArg {
    /// 210 x 297 mm
    #[default]
    A4,
    /// 8.5 x 11 in
    Letter,
}

/// `check`: a case, or many.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The case.
    #[command(flatten)]
    pub case: CaseArgs,
    /// Many cases at once.
    #[command(flatten)]
    pub batch: BatchArgs,
}

/// Many cases at once.
#[derive(Debug, Args)]
pub struct BatchArgs {
    /// More cases, and folders of cases: one summary of all; -o then names a folder for the results
    #[arg(value_name = "CASE")]
    pub more: Vec<PathBuf>,
    /// Threads that work at once; as many as the machine has cores if left out. The results are the
    /// same with any number
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub jobs: Option<u16>,
    /// The form of the worksheets in the folder of the results; text if left out
    #[arg(long, value_name = "FORM", value_enum)]
    pub worksheets: Option<Form>,
    /// Do all cases again, those that have not changed since the last run too
    #[arg(long)]
    pub again: bool,
    /// One case as a line of JSON in, one result as a line of JSON out, in the same order; without a
    /// file from standard input
    #[arg(long, value_name = "FORM", value_enum, num_args = 0..=1, default_missing_value = "full", require_equals = true)]
    pub lines: Option<LinesForm>,
}

/// How much of a result stands in its line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum LinesForm {
    /// The whole result
    Full,
    /// Only its figures and findings, as in a summary of many cases
    Summary,
}

/// How a table is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum TableForm {
    /// For people
    Text,
    /// Comma-separated values
    Csv,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// The whole job: from the old pattern's lines to a written short-row cap that knits back
    Convert(ConvertArgs),
    /// Check the old cap against armhole and body, without fitting a new one
    Check(CheckArgs),
    /// Flat against round: what the change of gauge does to this sleeve
    Drift(DriftArgs),
    /// Read pattern lines and show the ledger: every row and the stitches left
    Read(ReadArgs),
    /// What a finding means, where its limits come from and what to do
    Explain(ExplainArgs),
    /// Knit a written pattern back, stitch by stitch
    Knit(KnitArgs),
    /// The tables of body measurements
    Tables(TablesArgs),
    /// Completions for a shell, to be sourced or put where it looks for them
    Completions(CompletionsArgs),
    /// The manual page, or that of one command, in the format of man
    Man(ManArgs),
    /// Start a case by questions in the terminal
    New(NewArgs),
    /// Put the new sleeve into a whole printed pattern: every change marked with its reason
    Amend(AmendArgs),
    /// The whole job in a browser on this machine: paste, type, see the new cap at once
    #[cfg(feature = "workbench")]
    Workbench(WorkbenchArgs),
}

/// How the result is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}

impl From<Format> for Form {
    fn from(format: Format) -> Self {
        match format {
            Format::Text => Self::Text,
            Format::Json => Self::Json,
        }
    }
}

/// Whose words are used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum TermsArg {
    /// Bind off
    Us,
    /// Cast off
    Uk,
}

/// Where and how the result goes.
#[derive(Clone, Debug, Args)]
pub struct OutputArgs {
    /// Text for people (as usual) or JSON for programs
    #[arg(long, value_enum)]
    pub format: Option<Format>,
    /// Write to this file instead of standard output, in the form its ending says; give it again for
    /// further files, - for standard output. Written whole or not at all
    #[arg(short, long, value_name = "FILE")]
    pub output: Vec<PathBuf>,
}

/// A case and one of its sizes.
#[derive(Clone, Debug, Args)]
pub struct CaseArgs {
    /// The case file (TOML); - or nothing for standard input
    #[arg(default_value = "-", hide_default_value = true)]
    pub case: PathBuf,
    /// Only this size
    #[arg(long, value_name = "SIZE")]
    pub size: Option<String>,
    /// Make the one-number change that is proposed for a misprint in the cap's lines: its place in the
    /// list, 1 if left out. The case file is not changed
    #[arg(long, value_name = "N", num_args = 0..=1, default_missing_value = "1")]
    pub accept_repair: Option<usize>,
    /// What if: any key of the case with another value, e.g. fit.runs=4 or gauge.round.rows=30; nothing
    /// after the = leaves the key out. Can be given several times. The case file is not changed
    #[arg(long, value_name = "KEY=VALUE")]
    pub set: Vec<String>,
    /// Output.
    #[command(flatten)]
    pub output: OutputArgs,
}

/// A case, and whether to print its exercises.
#[derive(Debug, Args)]
pub struct DriftArgs {
    /// The case.
    #[command(flatten)]
    pub case: CaseArgs,
    /// Print an exercise sheet instead: a page of questions from the case, a page of answers
    #[arg(long)]
    pub exercise: bool,
    /// The picture that is printed, or written to a file that ends in .svg (there: planned-sleeves if left
    /// out)
    #[arg(long, value_name = "NAME", conflicts_with = "exercise")]
    pub figure: Option<String>,
    /// The paper of a file that ends in .pdf
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperArg,
}

/// Lines to read.
#[derive(Debug, Args)]
pub struct ReadArgs {
    /// A case file, or a file of lines together with --stitches; - for standard input
    pub input: PathBuf,
    /// Stitches on the needle before the lines, one for each size: "67 (71, 77)"
    #[arg(long, value_name = "STITCHES")]
    pub stitches: Option<String>,
    /// The side of the first row
    #[arg(long, value_name = "SIDE", default_value = "RS")]
    pub first_row: String,
    /// Rows per 10 cm, needed where the lines give lengths instead of rows
    #[arg(long, value_name = "ROWS")]
    pub rows_per_10cm: Option<f64>,
    /// Write the same shaping back as clean lines, in US or UK terms
    #[arg(long, value_name = "TERMS", value_enum)]
    pub rewrite: Option<TermsArg>,
    /// Make the one-number change that is proposed for a misprint: its place in the list, 1 if left out
    #[arg(long, value_name = "N", num_args = 0..=1, default_missing_value = "1")]
    pub accept_repair: Option<usize>,
    /// Output.
    #[command(flatten)]
    pub output: OutputArgs,
}

/// A shell.
#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// A manual page.
#[derive(Debug, Args)]
pub struct ManArgs {
    /// The command, e.g. convert; the program as a whole without one
    pub command: Option<String>,
}

/// A finding.
#[derive(Debug, Args)]
pub struct ExplainArgs {
    /// The finding's code, e.g. upper-arm-tight; all are listed without one
    pub code: Option<String>,
    /// Output.
    #[command(flatten)]
    pub output: OutputArgs,
}

/// A written pattern.
#[derive(Debug, Args)]
pub struct KnitArgs {
    /// The written pattern; - for standard input. With --follow a case
    pub file: PathBuf,
    /// Follow a case one row at a time: Enter goes on, b back, q leaves off. The place is kept in a file
    /// beside the case, its name ending in .place.json
    #[arg(long, conflicts_with_all = ["row", "columns", "output", "format"])]
    pub follow: bool,
    /// With --follow: the size that is knitted
    #[arg(long, value_name = "SIZE", requires = "follow")]
    pub size: Option<String>,
    /// With --follow: the sleeve that is knitted, where the two differ
    #[arg(long, value_name = "SLEEVE", value_enum, requires = "follow")]
    pub sleeve: Option<SleeveArg>,
    /// Show the needle after this row of the cap
    #[arg(long, value_name = "ROW")]
    pub row: Option<u32>,
    /// Draw the cap as columns of stitches, one line a turn pair
    #[arg(long)]
    pub columns: bool,
    /// Output.
    #[command(flatten)]
    pub output: OutputArgs,
}

/// One of the two sleeves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SleeveArg {
    /// The wearer's left
    Left,
    /// The wearer's right
    Right,
}

/// Tables of body measurements.
#[derive(Debug, Args)]
pub struct TablesArgs {
    /// The table to show; all are listed without one
    pub table: Option<String>,
    /// Look up a size, an age or a bust in it: M, "8 years", "38 in", "96.5 cm"
    pub ask: Option<String>,
    /// Output.
    #[command(flatten)]
    pub output: OutputArgs,
}

/// A new case.
#[derive(Debug, Args)]
pub struct NewArgs {
    /// The case file to write; sleeve.toml when left out
    pub file: Option<PathBuf>,
    /// Take what a whole printed pattern says: a text, a PDF, a folder of them, or - for standard input
    #[arg(long, value_name = "PATTERN")]
    pub from: Option<PathBuf>,
    /// With --from: a key of the case that you know, such as gauge.round.stitches=23; repeatable
    #[arg(long, value_name = "KEY=VALUE", requires = "from")]
    pub set: Vec<String>,
    /// With --from: which garment of a text with several, counted from 1
    #[arg(long, value_name = "N", requires = "from")]
    pub garment: Option<usize>,
    /// With --from: which sleeve, where several have a cap, counted from 1
    #[arg(long, value_name = "N", requires = "from")]
    pub sleeve: Option<usize>,
    /// With --from: how the facts found are printed
    #[arg(long, value_enum, default_value = "text", requires = "from")]
    pub format: Format,
}

impl NewArgs {
    /// The case file to write.
    pub fn case_file(&self) -> PathBuf {
        self.file
            .clone()
            .unwrap_or_else(|| PathBuf::from("sleeve.toml"))
    }
}

/// A pattern to amend.
#[derive(Debug, Args)]
pub struct AmendArgs {
    /// The whole printed pattern: a text, a PDF, or - for standard input
    pub pattern: PathBuf,
    /// The case that was made from it
    pub case: PathBuf,
    /// Only the amended text, without marks, reasons and what is left to decide
    #[arg(long)]
    pub unmarked: bool,
    /// Which garment of a text with several, counted from 1
    #[arg(long, value_name = "N")]
    pub garment: Option<usize>,
    /// A key of the case with another value, as with the other commands
    #[arg(long, value_name = "KEY=VALUE")]
    pub set: Vec<String>,
    /// Output.
    #[command(flatten)]
    pub output: OutputArgs,
}

/// The workbench.
#[cfg(feature = "workbench")]
#[derive(Clone, Copy, Debug, Args)]
pub struct WorkbenchArgs {
    /// The port of 127.0.0.1 to use; without it 7423 when it is free, else any that is
    #[arg(long)]
    pub port: Option<u16>,
}
