//! What is said of many cases at a glance: a few figures a size, and why a case or a size failed.
//!
//! A summary is kept in files and read back, so that a case that has not changed need not be
//! converted again.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::body::Arm;
use crate::case::{Case, UNUSABLE_CASE};
use crate::convert::{Old, SizeBySize, SizeConversion};
use crate::diagnostic::{Diagnostic, Level};

/// One case of a batch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CaseSummary {
    /// Its name in the batch: the path below the folder that was given, without the ending.
    pub case: String,
    /// Its title; the name when it could not be read.
    pub title: String,
    /// The units its results are shown in, `cm` or `in`.
    pub units: String,
    /// The worksheet, relative to the folder of the results.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub worksheet: Option<String>,
    /// Its sizes in the case's order; empty when the case could not be used at all.
    pub sizes: Vec<SizeSummary>,
    /// Findings that concern no single size.
    pub findings: Vec<Said>,
}

/// One size of a case. Lengths are centimetres, rounded to a hundredth of a millimetre.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SizeSummary {
    /// Its label.
    pub size: String,
    /// True when it was converted (or, for a check, its outline could be made out).
    pub done: bool,
    /// New against old area, in per cent.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub area_error_pct: Option<f64>,
    /// New less old depth.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub depth_error_cm: Option<f64>,
    /// Depth of the old cap.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub old_depth_cm: Option<f64>,
    /// Depth of the old cap as a share of the armhole's, for a check.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub depth_share: Option<f64>,
    /// Cap edge longer than the armhole, in per cent (of the new cap; of the old one for a check).
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ease_pct: Option<f64>,
    /// Finished upper arm (the old one's for a check).
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub upper_arm_cm: Option<f64>,
    /// The arm it is for, when the case says whose.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub arm_cm: Option<f64>,
    /// Turn pairs of the new cap.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub turn_pairs: Option<u32>,
    /// Stitches at the upper arm.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub upper_arm_stitches: Option<u32>,
    /// Runs to remember.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub runs: Option<usize>,
    /// What has been proven of the fit: `optimal` or `feasible`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub status: Option<String>,
    /// What was found.
    pub findings: Vec<Said>,
}

/// A finding, as a summary keeps it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Said {
    /// Its code.
    pub code: String,
    /// Its level: `error`, `warning` or `note`.
    pub level: String,
    /// The sentence.
    pub message: String,
    /// What to do about it.
    pub next: String,
}

impl Said {
    /// A finding's code, level, sentence and next step.
    pub fn of(finding: &Diagnostic) -> Self {
        Self {
            code: finding.code.id.to_owned(),
            level: finding.level.word().to_owned(),
            message: finding.message.clone(),
            next: finding.advice().to_owned(),
        }
    }

    /// What keeps a case from being read at all.
    pub fn fault(message: impl Into<String>) -> Self {
        Self::of(&Diagnostic::new(&UNUSABLE_CASE, message))
    }
}

/// How the run of a case ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ending {
    /// Every size is done and nothing is wrong.
    Fine,
    /// Every size is done; a finding is at error level.
    Findings,
    /// A size, or the whole case, could not be used.
    Failed,
}

impl CaseSummary {
    /// A case that could not be used at all, and why.
    pub fn failed(case: &str, title: Option<&Case>, findings: Vec<Said>) -> Self {
        Self {
            case: case.to_owned(),
            title: title.map_or(case, |known| &known.title).to_owned(),
            units: title.map_or("cm", |known| known.units.word()).to_owned(),
            worksheet: None,
            sizes: Vec::new(),
            findings,
        }
    }

    /// A converted case.
    pub fn converted(name: &str, case: &Case, result: &SizeBySize) -> Self {
        let done = result.conversion.sizes.iter().map(converted);
        let failed = result.failed.iter().map(|(size, found)| SizeSummary {
            size: size.clone(),
            findings: said(found),
            ..SizeSummary::default()
        });
        let mut sizes: Vec<SizeSummary> = done.chain(failed).collect();
        let place = |size: &SizeSummary| case.sizes.iter().position(|label| *label == size.size);
        sizes.sort_by_key(place);
        // What stands out from size to size belongs to the size that is named.
        let mut whole = Vec::new();
        for finding in &result.conversion.findings {
            let named = sizes
                .iter_mut()
                .find(|s| Some(&s.size) == finding.size.as_ref());
            match named {
                Some(size) => size.findings.push(Said::of(finding)),
                None => whole.push(Said::of(finding)),
            }
        }
        Self {
            sizes,
            ..Self::failed(name, Some(case), whole)
        }
    }

    /// A checked case; sizes without an outline are those that failed.
    pub fn checked(name: &str, case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> Self {
        let of = |label: Option<&String>| -> Vec<Said> {
            let found = findings.iter().filter(|said| said.size.as_ref() == label);
            found.map(Said::of).collect()
        };
        let labels = case.sizes.iter().filter_map(|label| {
            let mut found = of(Some(label));
            let mut size = match sizes.iter().find(|old| old.size == *label) {
                Some(old) => checked(old),
                None if found.is_empty() => return None,
                None => SizeSummary {
                    size: label.clone(),
                    ..SizeSummary::default()
                },
            };
            found.append(&mut size.findings);
            size.findings = found;
            Some(size)
        });
        Self {
            sizes: labels.collect(),
            ..Self::failed(name, Some(case), of(None))
        }
    }

    /// How its run ended.
    pub fn ending(&self) -> Ending {
        if self.sizes.is_empty() || self.sizes.iter().any(|size| !size.done) {
            return Ending::Failed;
        }
        let mut all = self.findings.iter();
        let wrong = |said: &Said| said.level == Level::Error.word();
        if all.any(wrong) || self.sizes.iter().flat_map(|s| &s.findings).any(wrong) {
            Ending::Findings
        } else {
            Ending::Fine
        }
    }
}

impl SizeSummary {
    /// Finished upper arm less the arm it is for.
    pub fn arm_ease_cm(&self) -> Option<f64> {
        self.upper_arm_cm
            .zip(self.arm_cm)
            .map(|(finished, arm)| finished - arm)
    }

    /// Codes of what may spoil it, errors and warnings, each once.
    pub fn look(&self) -> Vec<&str> {
        let loud = self
            .findings
            .iter()
            .filter(|said| said.level != Level::Note.word());
        let codes: BTreeSet<&str> = loud.map(|said| said.code.as_str()).collect();
        codes.into_iter().collect()
    }

    /// Findings of this level.
    pub fn count(&self, level: Level) -> usize {
        let same = |said: &&Said| said.level == level.word();
        self.findings.iter().filter(same).count()
    }
}

fn converted(size: &SizeConversion) -> SizeSummary {
    let (plan, measures) = (&size.fit.plan, &size.fit.measures);
    SizeSummary {
        area_error_pct: Some(rounded(measures.area_error_pct)),
        depth_error_cm: Some(rounded(measures.depth_error.to_cm())),
        ease_pct: Some(rounded(measures.ease_pct())),
        upper_arm_cm: Some(rounded(measures.upper_arm.to_cm())),
        turn_pairs: Some(plan.turn_pairs()),
        upper_arm_stitches: Some(plan.upper_arm().count()),
        runs: Some(plan.runs()),
        status: Some(size.fit.status.word().to_owned()),
        findings: said(&size.findings),
        ..of_old(&size.old)
    }
}

fn checked(old: &Old) -> SizeSummary {
    let (front, back) = old.ease();
    let armholes = old.front.edge() + old.back.edge();
    SizeSummary {
        depth_share: Some(rounded(old.depth_share())),
        ease_pct: Some(rounded(100.0 * ((front + back) / armholes))),
        upper_arm_cm: Some(rounded(old.cap.upper_arm().to_cm())),
        findings: said(&old.findings),
        ..of_old(old)
    }
}

fn of_old(old: &Old) -> SizeSummary {
    SizeSummary {
        size: old.size.clone(),
        done: true,
        old_depth_cm: Some(rounded(old.cap.depth().to_cm())),
        arm_cm: old
            .arm
            .as_ref()
            .map(Arm::typical)
            .map(|arm| rounded(arm.to_cm())),
        ..SizeSummary::default()
    }
}

fn said(findings: &[Diagnostic]) -> Vec<Said> {
    findings.iter().map(Said::of).collect()
}

/// Three decimals; -0 is 0.
fn rounded(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0 + 0.0
}
