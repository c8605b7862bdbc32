//! `[adapt]`: wishes for another outline than the old cap's.

use super::codes::{CLASH, OUT_OF_RANGE, UNKNOWN_WORD, WRONG_TYPE};
use super::table::{CaseTable, place};
use crate::measure::{
    ARM_EASE, ARM_EASE_PCT, Bound, CAP_DEPTH, EDGE_EASE, EDGE_EASE_PCT, Length, TOP_WIDTH,
    UPPER_ARM_WIDTH, parse_size_list,
};

/// `[adapt]`. A list has one entry a size.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Adapt {
    /// The upper arm.
    pub upper_arm: Option<ArmWish>,
    /// Ease along the armhole, on each side.
    pub ease: Option<Vec<Amount>>,
    /// The top.
    pub top: Option<TopWish>,
    /// The depth.
    pub depth: Option<DepthWish>,
    /// What may not change.
    pub keep: Option<KeepWish>,
    /// One change for all sizes, or each its own.
    pub sizes: SetWish,
}

/// A length, or a share in per cent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// A length.
    Length(Length),
    /// Per cent of what it is added to.
    Percent(f64),
}

impl Amount {
    /// What it comes to beside this length.
    pub fn of(self, length: Length) -> Length {
        match self {
            Self::Length(amount) => amount,
            Self::Percent(pct) => length * (pct / 100.0),
        }
    }
}

/// `adapt.upper_arm`.
#[derive(Clone, Debug, PartialEq)]
pub enum ArmWish {
    /// The finished width.
    Finished(Vec<Length>),
    /// The arm and the ease; without an arm that of `[body]`.
    Eased {
        /// The arm.
        body: Option<Vec<Length>>,
        /// What is added to it.
        ease: Vec<Amount>,
    },
}

/// `adapt.top`.
#[derive(Clone, Debug, PartialEq)]
pub enum TopWish {
    /// Its width.
    Width(Vec<Length>),
    /// As wide as the live stitches that wait at the shoulder.
    Live,
}

/// `adapt.depth`.
#[derive(Clone, Debug, PartialEq)]
pub enum DepthWish {
    /// What the edge asks for.
    Free,
    /// A depth.
    Depth(Vec<Length>),
    /// A published rule's.
    Rule(DepthRule),
}

/// Published rules for the depth of a cap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DepthRule {
    /// Armhole depth less 2, 3 or 4 in by chest.
    Chest,
    /// Armhole depth less 1.5 in and half the top.
    Top,
    /// Armhole depth less half the top and half the chest's allowance.
    TopAndChest,
    /// A tube cut slantwise to the armhole's girth.
    Cut,
}

impl DepthRule {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Chest, Self::Top, Self::TopAndChest, Self::Cut];

    /// The word of the case.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Chest => "chest",
            Self::Top => "top",
            Self::TopAndChest => "top and chest",
            Self::Cut => "cut",
        }
    }
}

/// `adapt.keep`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeepWish {
    /// Slopes and where they turn.
    Shape,
    /// The depth.
    Depth,
    /// The area.
    Area,
}

/// `adapt.sizes`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SetWish {
    /// Each size its own change; the order of the sizes is kept.
    #[default]
    Each,
    /// The same change of rows for all.
    Alike,
}

/// Reads the table; `old_cap` is false for a case without the lines of an old cap.
pub(super) fn adapt(table: &CaseTable<'_>, old_cap: bool) -> Adapt {
    let keep = table.choice(
        "keep",
        &[
            ("shape", KeepWish::Shape),
            ("depth", KeepWish::Depth),
            ("area", KeepWish::Area),
        ],
    );
    let sizes = table.choice(
        "sizes",
        &[("each", SetWish::Each), ("alike", SetWish::Alike)],
    );
    let adapt = Adapt {
        upper_arm: upper_arm(table),
        ease: amounts(table, "ease", &EDGE_EASE, &EDGE_EASE_PCT),
        top: top(table),
        depth: depth(table),
        keep,
        sizes: sizes.unwrap_or_default(),
    };
    if !old_cap {
        if !table.has("upper_arm") {
            table.missing("upper_arm", "upper_arm = { body = 30, ease = 3 }");
        }
        for key in ["keep", "sizes"].into_iter().filter(|key| table.has(key)) {
            let message =
                format!("adapt.{key} is about an old cap, and the case has no sleeve.cap.");
            let next = format!("Leave adapt.{key} out, or give the old cap (sleeve.cap).");
            table.clash(key, message, &next);
        }
    }
    if keep == Some(KeepWish::Depth) && table.has("depth") {
        let message =
            "adapt.keep = \"depth\" keeps the old depth, and adapt.depth asks for another.";
        table.say(&CLASH, table.place_of("depth"), message.to_owned());
    }
    table.finish();
    adapt
}

fn upper_arm(table: &CaseTable<'_>) -> Option<ArmWish> {
    let value = table.get("upper_arm")?;
    if value.get_ref().as_table().is_none() {
        return table
            .lengths("upper_arm", &UPPER_ARM_WIDTH)
            .map(ArmWish::Finished);
    }
    let inner = table.table("upper_arm")?;
    let body = inner.lengths("body", &UPPER_ARM_WIDTH);
    let ease = amounts(&inner, "ease", &ARM_EASE, &ARM_EASE_PCT);
    if !inner.has("ease") {
        inner.missing("ease", "ease = 3");
    }
    inner.finish();
    Some(ArmWish::Eased { body, ease: ease? })
}

fn top(table: &CaseTable<'_>) -> Option<TopWish> {
    if word(table, "top") {
        return table.choice("top", &[("live", ())]).map(|()| TopWish::Live);
    }
    table.lengths("top", &TOP_WIDTH).map(TopWish::Width)
}

fn depth(table: &CaseTable<'_>) -> Option<DepthWish> {
    if word(table, "depth") {
        let rules = DepthRule::ALL.map(|rule| (rule.word(), Some(rule)));
        let mut choices = vec![("free", None)];
        choices.extend(rules);
        let choice = table.choice("depth", &choices)?;
        return Some(choice.map_or(DepthWish::Free, DepthWish::Rule));
    }
    table.lengths("depth", &CAP_DEPTH).map(DepthWish::Depth)
}

/// True when the value is text that begins with a letter: a word and no list of numbers.
fn word(table: &CaseTable<'_>, key: &str) -> bool {
    let text = table.get(key).and_then(|value| value.get_ref().as_str());
    text.is_some_and(|text| text.trim_start().starts_with(char::is_alphabetic))
}

/// A length or `"3 %"` for each size.
fn amounts(
    table: &CaseTable<'_>,
    key: &str,
    bound_cm: &'static Bound,
    bound_pct: &'static Bound,
) -> Option<Vec<Amount>> {
    let value = table.get(key)?;
    let Some(text) = value.get_ref().as_str().filter(|text| text.contains('%')) else {
        let lengths = table.lengths(key, bound_cm)?;
        return Some(lengths.into_iter().map(Amount::Length).collect());
    };
    let numbers = match parse_size_list(&text.replace('%', " ")) {
        Ok(numbers) => numbers,
        Err(error) => {
            let message = format!("adapt.{key} is \"{text}\": {error}.");
            table.say(&WRONG_TYPE, place(value), message);
            return None;
        }
    };
    let sizes = table.reading().sizes;
    let numbers = match numbers.as_slice() {
        [one] => vec![*one; sizes],
        list if list.len() == sizes => numbers,
        list => {
            let message = format!(
                "adapt.{key} has {} numbers, but the case has {sizes} sizes.",
                list.len()
            );
            table.say(&super::codes::LIST_LENGTH, place(value), message);
            return None;
        }
    };
    let within = |pct: f64| {
        let inside = bound_pct.check(pct).is_ok();
        if !inside {
            let message = format!(
                "adapt.{key} is {pct} %; {} lies within {}.",
                bound_pct.name,
                bound_pct.allowed()
            );
            table.say(&OUT_OF_RANGE, place(value), message);
        }
        inside.then_some(Amount::Percent(pct))
    };
    numbers.into_iter().map(within).collect()
}

/// Wishes that cannot be read without other tables of the case.
pub(super) fn agrees(root: &CaseTable<'_>, adapt: &Adapt, has_live: bool, has_body: bool) {
    let Some(table) = root.table("adapt") else {
        return;
    };
    if adapt.top == Some(TopWish::Live) && !has_live {
        let message = "adapt.top is \"live\", but no [shoulder] says how many stitches wait there.";
        table.say(&UNKNOWN_WORD, table.place_of("top"), message.to_owned());
    }
    if let Some(ArmWish::Eased { body: None, .. }) = adapt.upper_arm
        && !has_body
    {
        let message =
            "adapt.upper_arm has an ease but no arm to add it to, and the case has no [body].";
        let next = "Give [body], or adapt.upper_arm as a finished width.";
        table.clash("upper_arm", message.to_owned(), next);
    }
}
