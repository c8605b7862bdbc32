//! The saddle above a cap.

use std::sync::LazyLock;

use regex::Regex;

use super::Flow;
use super::lists::{counts, list, regex};

/// The stitches it is worked on, where its own words say so: `Saddle: Continue on these 12 (14, 16) stitches`. They begin
/// behind the cap.
pub(super) fn stitches(
    flow: &Flow,
    cap_ends: usize,
    to: usize,
) -> Option<(Vec<f64>, usize, usize)> {
    static SADDLE: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)\b(?:saddle|strap)\b([^.\d]{{0,60}}?)({})\s*(?:sts\b|stitches\b)",
            list()
        ))
    });
    static CHANGES: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:inc|dec|bind|cast|pick|made?\b|tog)"));
    let text = flow.get(cap_ends, to);
    SADDLE.captures_iter(text).find_map(|found| {
        let (between, list) = (found.get(1)?, found.get(2)?);
        let values = counts(list.as_str());
        let large = values.iter().all(|count| *count >= 4.0);
        let told = large && !CHANGES.is_match(between.as_str());
        let (from, to) = (cap_ends + list.start(), cap_ends + found.get(0)?.end());
        told.then_some((values, from, to))
    })
}
