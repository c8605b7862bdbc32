//! `--accept-repair`: a proposed change to the lines, made because the user said so.

use crate::diagnostic::{Diagnostic, Repair};
use crate::pattern::{Context, read, with_repair};

/// The lines with the `n`-th proposed repair made, and a sentence that says what was changed.
///
/// # Errors
/// A sentence when there is no such repair.
pub(crate) fn repaired(
    lines: &str,
    context: &Context,
    n: usize,
) -> Result<(String, String), String> {
    let (_, found) = read(lines, context);
    let repairs = proposed(&found);
    let Some(repair) = n.checked_sub(1).and_then(|i| repairs.get(i)) else {
        return Err(match repairs.len() {
            0 => "There is no change to accept: nothing in the lines calls for one.".to_owned(),
            1 => "Only one change is proposed; say --accept-repair.".to_owned(),
            many => format!("{many} changes are proposed; say --accept-repair with 1 to {many}."),
        });
    };
    let old = lines
        .get(repair.span.from..repair.span.to)
        .unwrap_or_default();
    let said = format!(
        "note: read with `{}` instead of `{}`, as --accept-repair asked; the file is not changed\n\n",
        repair.text.trim(),
        old.trim()
    );
    Ok((with_repair(lines, repair), said))
}

/// Every repair once, in the order proposed.
fn proposed(found: &[Diagnostic]) -> Vec<&Repair> {
    let mut repairs: Vec<&Repair> = Vec::new();
    for repair in found.iter().flat_map(|diagnostic| &diagnostic.repairs) {
        if !repairs.contains(&repair) {
            repairs.push(repair);
        }
    }
    repairs
}
