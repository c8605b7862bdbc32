//! The question and the answer: a size, a bust or a measured arm -> the arms of such people.

use super::arm::{Arm, both};
use super::ask::ask;
use super::codes::{ARM_ODD_FOR_BUST, ARM_OUT_OF_RANGE, ARM_WIDER_THAN_BUST, TABLE_MISSING};
use super::parse::Key;
use super::table::{BodyTable, TableKind, find, tables};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, UPPER_ARM_WIDTH};

/// The arm as a share of the bust: the flexed arms of ANSUR II run from 0.258 to 0.423 of the
/// chest, the charts' from 0.29 to 0.375; a little is left on each side.
const ARM_SHARE_OF_BUST: [f64; 2] = [0.2, 0.5];

/// What a table is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Query {
    /// The table's name, e.g. `woman`; may be empty beside a measured arm.
    pub table: String,
    /// What is known of the person.
    pub key: Key,
}

impl Query {
    /// The answer: see [`look_up`].
    pub fn look_up(&self) -> (Option<Arm>, Vec<Diagnostic>) {
        look_up(&self.table, &self.key)
    }
}

/// The arms of the people asked for, and everything there is to say about the question.
///
/// No arm comes back when the question cannot be answered; the diagnostics then say why.
pub fn look_up(table: &str, key: &Key) -> (Option<Arm>, Vec<Diagnostic>) {
    let mut said = Vec::new();
    if let Key::UpperArm(girth) = key {
        if !table.trim().is_empty() {
            said.extend(find(table).err().map(|error| *error));
        }
        return (measured(*girth, &mut said), said);
    }
    if table.trim().is_empty() {
        return (None, vec![table_missing(key)]);
    }
    let answer = find(table).and_then(|table| ask(table, key, &mut said));
    match answer {
        Ok(arm) => (Some(arm), said),
        Err(error) => {
            said.push(*error);
            (None, said)
        }
    }
}

/// Bust or chest of the people asked for, where the question or the table says it.
pub fn bust_of(table: &str, key: &Key) -> Option<Length> {
    match key {
        Key::Bust(bust) => Some(*bust),
        Key::Size(size) => {
            let table = find(table).ok()?;
            table.length(table.row(size).ok()?, "chest")
        }
        Key::UpperArm(_) => None,
    }
}

fn table_missing(key: &Key) -> Diagnostic {
    let (what, answers): (String, fn(&BodyTable) -> bool) = match key {
        Key::Size(size) => (format!("The size '{}'", size.trim()), |table| {
            matches!(table.kind, TableKind::Chart | TableKind::Ages)
        }),
        Key::Bust(bust) => (format!("A bust or chest of {}", both(*bust)), |table| {
            table.bust_limits.is_some() || table.curve.is_some()
        }),
        Key::UpperArm(girth) => (format!("An upper arm of {}", both(*girth)), |_| true),
    };
    let ids = tables().iter().filter(|table| answers(table));
    let ids: Vec<&str> = ids.map(|table| table.id.as_str()).collect();
    let message = format!(
        "{what} is given without a table; it could be looked up in {}.",
        ids.join(", ")
    );
    Diagnostic::new(&TABLE_MISSING, message)
}

fn measured(girth: Length, said: &mut Vec<Diagnostic>) -> Option<Arm> {
    if UPPER_ARM_WIDTH.check(girth.to_cm()).is_ok() {
        return Some(Arm::measured(girth));
    }
    let allowed = UPPER_ARM_WIDTH.allowed();
    let message = format!(
        "the measured upper arm of {} is outside {allowed}.",
        both(girth)
    );
    said.push(Diagnostic::new(&ARM_OUT_OF_RANGE, message));
    None
}

/// Says whether an upper arm and a bust can be one person's; the table, where there is one, says whether it is a bust
/// or a chest.
pub fn arm_and_bust(table: &str, upper_arm: Length, bust: Length) -> Vec<Diagnostic> {
    let girth = find(table).map_or("bust or chest", |table| table.girth.word());
    let share = upper_arm / bust;
    let measures = format!(
        "an upper arm of {} with a {girth} of {}",
        both(upper_arm),
        both(bust)
    );
    if share >= 1.0 {
        let message = format!("{measures}: the arm is wider than the {girth}.");
        vec![Diagnostic::new(&ARM_WIDER_THAN_BUST, message)]
    } else if (ARM_SHARE_OF_BUST[0]..=ARM_SHARE_OF_BUST[1]).contains(&share) {
        Vec::new()
    } else {
        let [least, most] = ARM_SHARE_OF_BUST.map(|share| share * 100.0);
        let percent = share * 100.0;
        let message = format!(
            "{measures}: the arm is {percent:.0} % of the {girth}, expected {least:.0} to {most:.0} %."
        );
        vec![Diagnostic::new(&ARM_ODD_FOR_BUST, message)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arm(table: &str, key: &Key) -> Arm {
        look_up(table, key).0.unwrap()
    }

    #[test]
    fn a_measured_arm_beats_any_table() {
        let (found, said) = look_up("woman", &Key::UpperArm(Length::cm(41.0)));
        let found = found.unwrap();
        assert!(found.is_measured() && said.is_empty());
        assert_eq!(
            (found.mean, found.low, found.high),
            (Length::cm(41.0), Length::cm(41.0), Length::cm(41.0))
        );
        assert_eq!(found.share_fitting(Length::cm(45.0), Length::ZERO), None);
        let (found, said) = look_up("womn", &Key::UpperArm(Length::cm(4.0)));
        assert!(found.is_none());
        let ids: Vec<&str> = said.iter().map(|d| d.code.id).collect();
        assert_eq!(ids, ["body-table-unknown", "body-arm-out-of-range"]);
    }

    #[test]
    fn a_size_and_the_bust_in_its_middle_are_the_same_people() {
        let size = arm("woman", &Key::Size("M".to_owned()));
        let bust = arm("woman", &Key::Bust(Length::inches(37.0)));
        assert_eq!(size.spread, bust.spread);
        assert_eq!(size.chart, Some(Length::inches(11.0)));
        assert_eq!(bust.chart, size.chart);
        assert_eq!(bust.size.as_deref(), Some("M"));
    }

    #[test]
    fn a_number_in_the_other_unit_is_not_converted_in_silence() {
        let (found, said) = look_up("woman", &Key::Bust(Length::cm(38.0)));
        assert!(found.is_none());
        assert_eq!(said[0].code.id, "body-units-mixed");
        assert_eq!(
            said[0].advice(),
            "If 38.0 in was meant, write the unit beside the number."
        );
        let (_, said) = look_up("woman", &Key::Bust(Length::inches(96.0)));
        assert_eq!(said[0].code.id, "body-units-mixed");
        let (_, said) = look_up("woman", &Key::Bust(Length::cm(10.0)));
        assert_eq!(said[0].code.id, "body-bust-out-of-range");
    }

    #[test]
    fn bins_hold_the_arms_between_their_girths() {
        let arm = arm("woman", &Key::Bust(Length::cm(94.0)));
        let bins = arm.bins(Length::cm(1.0));
        let all: f64 = bins.iter().map(|bin| bin.share).sum();
        assert!((0.998..=1.0).contains(&all), "{all}");
        for bin in &bins {
            let below = |girth| arm.share_fitting(girth, Length::ZERO).unwrap();
            let between = below(bin.to) - below(bin.from);
            approx::assert_abs_diff_eq!(bin.share, between, epsilon = 1e-12);
            approx::assert_abs_diff_eq!(bin.from.to_cm().fract(), 0.0, epsilon = 1e-9);
        }
        assert!(arm.bins(Length::ZERO).is_empty());
    }
}
