//! A case file: any text is read, or refused with a word; a form that is made of it can be written and read again.
#![no_main]

use capwright::case::{case_text, form_of, read_case, write_case};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let (case, said) = read_case(text);
    for found in &said {
        if let Some(span) = found.span {
            assert!(span.from <= span.to && span.to <= text.len(), "{found:?}");
        }
    }
    assert!(case.is_some() || !said.is_empty(), "refused without a word");
    if let Some(form) = form_of(text) {
        let _ = read_case(&write_case(&form));
    }
    if let Ok(json) = serde_json::from_str(text) {
        let _ = case_text(&json);
    }
});
