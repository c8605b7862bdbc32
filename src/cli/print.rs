//! A whole printed pattern from a file: text or PDF.

use std::fs;
use std::io::{self, Read as _};
use std::path::Path;

use crate::check::draft_of;
use crate::leaflet::{Flow, Leaflet, MAX_BYTES as MAX_TEXT, Which};

/// A larger file is no pattern.
const MAX_BYTES: u64 = 64 << 20;

/// Reads one pattern, and its lines as those of a case.
pub(crate) fn read(path: &Path) -> Result<(Flow, Leaflet), String> {
    read_of(path, Which::default())
}

/// Reads one of several garments or sleeves.
pub(crate) fn read_of(path: &Path, which: Which) -> Result<(Flow, Leaflet), String> {
    let name = if path.as_os_str() == "-" {
        "Standard input".to_owned()
    } else {
        path.display().to_string()
    };
    let cannot = |error: io::Error| format!("{name} cannot be read: {error}.");
    let mut bytes = Vec::new();
    let taken = if path.as_os_str() == "-" {
        io::stdin().take(MAX_BYTES + 1).read_to_end(&mut bytes)
    } else {
        fs::File::open(path).and_then(|file| file.take(MAX_BYTES + 1).read_to_end(&mut bytes))
    };
    taken.map_err(cannot)?;
    if bytes.len() as u64 > MAX_BYTES {
        return Err(format!(
            "{name} is larger than {} MB; a pattern is not.",
            MAX_BYTES >> 20
        ));
    }
    let flow = flow_of(&name, bytes)?;
    let leaflet = draft_of(&flow, which);
    Ok((flow, leaflet))
}

fn flow_of(name: &str, bytes: Vec<u8>) -> Result<Flow, String> {
    if bytes.starts_with(b"%PDF") {
        return pdf(name, bytes);
    }
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        // Old text files are in Latin-1, where every byte is the character of its number.
        Err(error) if !error.as_bytes().contains(&0) => error
            .into_bytes()
            .iter()
            .map(|&byte| char::from(byte))
            .collect(),
        Err(_) => return Err(format!("{name} is neither text nor a PDF.")),
    };
    if text.contains('\0') {
        return Err(format!("{name} is neither text nor a PDF."));
    }
    if text.len() > MAX_TEXT {
        return Err(format!(
            "{name} is longer than any pattern: 2 MB of text at the most."
        ));
    }
    Ok(Flow::of_text(&text))
}

#[cfg(feature = "leaflet-pdf")]
fn pdf(_name: &str, bytes: Vec<u8>) -> Result<Flow, String> {
    crate::leaflet::read_pdf(bytes).map_err(|error| error.to_string())
}

#[cfg(not(feature = "leaflet-pdf"))]
fn pdf(name: &str, _bytes: Vec<u8>) -> Result<Flow, String> {
    Err(format!(
        "{name} is a PDF, which this build does not read; save its text and use that."
    ))
}
