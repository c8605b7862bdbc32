//! Headings of a printed pattern.

/// The capitals of a heading line: four or more of them, that end there or go on with a comma, colon or bracket.
pub(crate) fn heading(line: &str) -> Option<&str> {
    let line = line.trim();
    let end = line
        .find(|c: char| !(c.is_uppercase() || c == ' '))
        .unwrap_or(line.len());
    let capitals = line.get(..end).unwrap_or_default().trim_end();
    let next = line.get(end..).unwrap_or_default().chars().next();
    let whole = next.is_none_or(|c| c == ',' || c == ':' || c == '(');
    let letters = capitals.chars().filter(|c| c.is_uppercase()).count();
    (whole && letters >= 4).then_some(capitals)
}
