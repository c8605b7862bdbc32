//! Whom the garment is for: arms, bust, and what the surveys know of armholes.

use crate::body::{Arm, Counterpart, Key, arm_and_bust, armhole_counterparts, bust_of, look_up};
use crate::case::{ArmWish, BodyKey, Case};
use crate::diagnostic::Diagnostic;
use crate::measure::Length;

/// The people of one size.
#[derive(Clone, Debug, Default)]
pub(super) struct Person {
    /// Their arms.
    pub(super) arm: Option<Arm>,
    /// Their bust or chest, where it is known.
    pub(super) bust: Option<Length>,
    /// Measures of people that come near an armhole.
    pub(super) counterparts: Vec<Counterpart>,
    /// What was said about the question.
    pub(super) findings: Vec<Diagnostic>,
}

/// Looks up the people of one size of the case; nobody when the case names no body.
pub(super) fn person(case: &Case, index: usize) -> Person {
    let Some((body, key)) = case
        .body
        .as_ref()
        .and_then(|body| Some((body, body.keys.get(index)?)))
    else {
        return wished(case, index);
    };
    let table = body.table.as_deref().unwrap_or_default();
    let key = key_of(key);
    let (mut arm, mut findings) = look_up(table, &key);
    if let Some(arm) = &mut arm {
        arm.ease = body.ease.as_ref().and_then(|list| list.get(index)).copied();
    }
    let beside = body.busts.as_ref().and_then(|list| list.get(index));
    let bust = beside.copied().or_else(|| bust_of(table, &key));
    if let (Key::UpperArm(arm), Some(bust)) = (&key, bust) {
        findings.extend(arm_and_bust(table, *arm, bust));
    }
    Person {
        arm,
        bust,
        counterparts: bust.map_or_else(Vec::new, |bust| armhole_counterparts(table, bust)),
        findings,
    }
}

/// The arm that `[adapt]` names, in a case without a body.
fn wished(case: &Case, index: usize) -> Person {
    let wish = case
        .adapt
        .as_ref()
        .and_then(|adapt| adapt.upper_arm.as_ref());
    let Some(ArmWish::Eased {
        body: Some(arms), ..
    }) = wish
    else {
        return Person::default();
    };
    let found = arms.get(index).map(|arm| look_up("", &Key::UpperArm(*arm)));
    let (arm, findings) = found.unwrap_or_default();
    Person {
        arm,
        findings,
        ..Person::default()
    }
}

fn key_of(key: &BodyKey) -> Key {
    match key {
        BodyKey::Size(label) => Key::Size(label.clone()),
        BodyKey::Bust(bust) => Key::Bust(*bust),
        BodyKey::UpperArm(arm) => Key::UpperArm(*arm),
    }
}
