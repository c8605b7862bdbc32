//! `amend`: the new sleeve in a whole printed pattern.

use super::args::{AmendArgs, CaseArgs};
use super::form::Form;
use super::from::choices;
use super::open::{open, refused};
use super::outcome::{Outcome, code};
use super::output::Targets;
use super::print::read_of;
use super::render::json_line;
use crate::amend::{Amendment, amend as amend_print};
use crate::convert::convert;
use crate::leaflet::{Which, garment_of, read_print};
use crate::report::{amendment_document, amendment_json};

/// What is written of an amendment.
const FORMS: &[Form] = &[Form::Text, Form::Json, Form::Html];
/// What is written of the amended text alone.
const TEXT: &[Form] = &[Form::Text];

/// Reads both, converts, and writes the amended pattern.
pub(crate) fn amend(args: &AmendArgs) -> Outcome {
    let forms = if args.unmarked { TEXT } else { FORMS };
    let inputs = [args.pattern.as_path(), args.case.as_path()];
    let targets = match Targets::new(&args.output, &inputs, forms) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    if inputs.iter().all(|path| path.as_os_str() == "-") {
        return Outcome::unusable("Only one of pattern and case can come from standard input.");
    }
    let (amendment, mut outcome) = match amended(args) {
        Ok(amended) => amended,
        Err(outcome) => return outcome,
    };
    // What is left to decide is said even where only the text is wanted.
    if args.unmarked {
        let left = amendment.decide.len();
        outcome.err = format!(
            "{}note: {left} things are left to decide; see them without --unmarked.\n",
            outcome.err
        );
    }
    targets.deliver(outcome, |form| {
        Ok(match form {
            Form::Json => json_line(&amendment_json(&amendment)).into_bytes(),
            Form::Html => amendment_document(&amendment).html().into_bytes(),
            _ if args.unmarked => amendment.text().into_bytes(),
            _ => amendment_document(&amendment).text().into_bytes(),
        })
    })
}

/// The print with the new sleeve in it, and what was said on the way.
fn amended(args: &AmendArgs) -> Result<(Amendment, Outcome), Outcome> {
    let unusable = |sentence: String| Outcome::unusable(&sentence);
    let which = Which {
        garment: args.garment,
        ..Which::default()
    };
    let (flow, leaflet) = read_of(&args.pattern, which).map_err(unusable)?;
    if !leaflet.refused.is_empty() {
        return Err(unusable(leaflet.refused.clone() + &choices(&leaflet)));
    }
    let print = garment_of(&flow, args.garment).and_then(|garment| read_print(&garment));
    let print = print.map_err(unusable)?;
    let opened = open(&case_args(args))?;
    let case = &opened.case.for_one_text();
    let conversion = match convert(case, None) {
        Ok(conversion) => conversion,
        Err(found) => return Err(refused(case, &found, opened.err)),
    };
    let amendment = amend_print((&print, &leaflet), case, &conversion).map_err(unusable)?;
    let outcome = Outcome {
        err: opened.err,
        code: code(conversion.worst()),
        ..Outcome::default()
    };
    Ok((amendment, outcome))
}

fn case_args(args: &AmendArgs) -> CaseArgs {
    CaseArgs {
        case: args.case.clone(),
        size: None,
        accept_repair: None,
        set: args.set.clone(),
        output: args.output.clone(),
    }
}
