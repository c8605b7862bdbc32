//! `knit`: a written pattern, knitted back.

use std::fmt::Write as _;

use serde_json::json;

use super::args::KnitArgs;
use super::files;
use super::form::{Form, TEXT_JSON};
use super::outcome::{Outcome, code};
use super::output::Targets;
use super::render::json_line;
use super::show::{SpanSource, diagnostics};
use crate::diagnostic::worst;
use crate::needle::{Piece, draw_columns, knit_file, show_row};
use crate::report::finding_json;

pub(crate) fn knit(args: &KnitArgs) -> Outcome {
    let targets = match Targets::new(&args.output, &[&args.file], TEXT_JSON) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    let text = match files::text(&args.file) {
        Ok(text) => text,
        Err(sentence) => return Outcome::unusable(&sentence),
    };
    let (pieces, found) = knit_file(&text);
    let name = args.file.display().to_string();
    let source = SpanSource {
        name: &name,
        text: &text,
    };
    let outcome = Outcome {
        out: String::new(),
        err: diagnostics(&found, source),
        code: code(worst(&found)),
    };
    targets.deliver(outcome, |form| {
        let out = match form {
            Form::Json => json_line(&json!({
                "pieces": pieces.iter().map(piece_json).collect::<Vec<_>>(),
                "diagnostics": found.iter().map(finding_json).collect::<Vec<_>>(),
            })),
            _ => pieces.iter().map(|piece| piece_text(piece, args)).collect(),
        };
        Ok(out.into_bytes())
    })
}

fn piece_text(piece: &Piece, args: &KnitArgs) -> String {
    let knitted = &piece.knitted;
    let mut out = String::new();
    let title = if piece.title.is_empty() {
        "Sleeve"
    } else {
        &piece.title
    };
    let _ = writeln!(
        out,
        "{title}: {} picked up, {} turn pairs, {} decreases, {} at the join, {} rounds, {} at the cuff",
        knitted.columns.len(),
        knitted.turn_pairs,
        knitted.cap_decreases,
        knitted.upper_arm,
        knitted.rounds.count(),
        knitted.cuff
    );
    if let Some(row) = args.row {
        let shown = show_row(knitted, row);
        let none = || {
            format!(
                "the cap has no row {row}; its last is row {}\n",
                knitted.needle_rows.len()
            )
        };
        out.push_str(&shown.unwrap_or_else(none));
        out.push('\n');
    }
    if args.columns {
        out.push_str(&draw_columns(knitted));
        out.push('\n');
    }
    out
}

fn piece_json(piece: &Piece) -> serde_json::Value {
    let knitted = &piece.knitted;
    json!({
        "title": piece.title,
        "size": piece.size,
        "turn_pairs": knitted.turn_pairs,
        "decreases": knitted.cap_decreases,
        "upper_arm_stitches": knitted.upper_arm.count(),
        "rounds": knitted.rounds.count(),
        "decrease_rounds": knitted.decrease_rounds,
        "cuff_stitches": knitted.cuff.count(),
        "rows_per_column": knitted.columns.iter().map(|c| c.rows.count()).collect::<Vec<_>>(),
    })
}
