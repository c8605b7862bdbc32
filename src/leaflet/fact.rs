//! A fact of a printed pattern, and where it stands.

use serde::Serialize;

/// How far a fact can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Status {
    /// Printed, and its words have no other reading that was noticed.
    Sure,
    /// Printed, but something speaks against it.
    Unsure,
    /// Not found.
    Missing,
}

/// Where a fact stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Evidence {
    /// Page, from 1.
    pub page: u32,
    /// Line on the page, from 1.
    pub line: u32,
    /// The words.
    pub text: String,
}

/// One key of the case, as printed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fact {
    /// The key of the case, e.g. `sleeve.cap`.
    pub key: String,
    /// Its value as a case file takes it, lists in trade notation; empty when missing.
    pub value: String,
    /// How far it can be trusted.
    pub status: Status,
    /// Where it stands.
    pub evidence: Vec<Evidence>,
    /// What speaks for or against it.
    pub why: String,
}

impl Fact {
    pub(super) fn new(key: &str, value: impl Into<String>, evidence: Vec<Evidence>) -> Self {
        Self {
            key: key.to_owned(),
            value: value.into(),
            status: Status::Sure,
            evidence,
            why: String::new(),
        }
    }

    pub(super) fn missing(key: &str, why: &str) -> Self {
        Self {
            status: Status::Missing,
            why: why.to_owned(),
            ..Self::new(key, "", Vec::new())
        }
    }

    /// Doubts it, for this reason.
    pub fn doubt(&mut self, why: &str) {
        if self.status == Status::Sure {
            self.status = Status::Unsure;
        }
        self.say(why);
    }

    /// Adds a sentence about it.
    pub fn say(&mut self, why: &str) {
        if !self.why.is_empty() {
            self.why.push(' ');
        }
        self.why += why;
    }
}
