//! What a finding on the new cap advises has been tried: set in the case, it cures the finding.

use capwright::case::read_case;
use capwright::convert::convert;
use capwright::diagnostic::Diagnostic;

/// A case with these lines in `[fit]`.
fn findings(fit: &str) -> Vec<Diagnostic> {
    let text = format!(
        r#"units = "cm"
[gauge.pattern]
stitches = 22
rows = 30
[sleeve]
stitches = 70
cap = """
Bind off 5 sts at the beginning of the next 2 rows.
Decrease 1 st each end of the next 3 rows, then every other row 11 times, then the next 3 rows.
Bind off 3 sts at the beginning of the next 4 rows.
Bind off 14 sts.
"""
[armhole]
edge = 18.2
underarm = 2
depth = 17
[fit]
{fit}
"#
    );
    let case = read_case(&text).0.unwrap();
    match convert(&case, None) {
        Ok(done) => done
            .sizes
            .into_iter()
            .flat_map(|size| size.findings)
            .collect(),
        Err(_) => Vec::new(),
    }
}

const OF_THE_FIT: [&str; 6] = [
    "section-strain",
    "area-not-kept",
    "width-not-kept",
    "depth-not-kept",
    "new-edge-long",
    "new-edge-short",
];

#[test]
fn advice_is_tried() {
    let mut cured = 0;
    let mut said = 0;
    for fit in [
        "runs = 1",
        "runs = 2",
        "moves = [\"1/0\", \"2/0\"]\nruns = 1",
        "runs = 2\nmoves = [\"1/0\", \"3/0\"]",
        "runs = 2\nmoves = [\"2/1\", \"3/0\"]",
        "moves = [\"1/1\", \"4/0\"]",
        "gap_limit = 1.4",
        "gap_limit = 1.2\nruns = 3",
    ] {
        for finding in findings(fit) {
            if !OF_THE_FIT.contains(&finding.code.id) {
                continue;
            }
            said += 1;
            let advice = finding.advice();
            let Some(keys) = advice.strip_prefix("Tried, and it helps: ") else {
                assert!(advice.contains("(tried)"), "{advice}");
                continue;
            };
            for key in keys.trim_end_matches('.').split(", or ") {
                let name = key
                    .trim_start_matches("fit.")
                    .trim_start_matches("leaving fit.");
                let name = name.split([' ', '=']).next().unwrap();
                let kept = fit.lines().filter(|line| !line.starts_with(name));
                let mut lines: Vec<&str> = kept.collect();
                lines.extend(key.strip_prefix("fit."));
                let again = findings(&lines.join("\n"));
                let still = again.iter().any(|found| found.code.id == finding.code.id);
                assert!(!still, "{fit}: {} by {key}", finding.code.id);
                cured += 1;
            }
        }
    }
    assert!(said > 0 && cured > 0, "{said} said, {cured} cured");
}
