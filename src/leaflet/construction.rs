//! What kind of garment it is, told before any number is looked at.

use std::sync::LazyLock;

use regex::Regex;

use super::lists::regex;
use super::section::{BIND_OFF, Part, TextSection, shaping_of};
use super::{Evidence, Flow};

/// One kind of garment.
pub(super) struct Construction {
    word: &'static str,
    refusal: &'static str,
    sign: LazyLock<Regex>,
    /// Not this kind when these words stand there too.
    unless: LazyLock<Regex>,
}

impl Construction {
    pub(super) fn word(&self) -> &'static str {
        self.word
    }

    pub(super) fn refusal(&self) -> &'static str {
        self.refusal
    }

    /// Whether it has a set-in cap to be rebuilt.
    pub(super) fn is_read(&self) -> bool {
        self.refusal.is_empty()
    }

    pub(super) fn is_saddle(&self) -> bool {
        self.word == "saddle"
    }

    /// The first words that say so.
    pub(super) fn signs(&self, flow: &Flow) -> Vec<Evidence> {
        let found = self.sign.find_iter(&flow.text);
        found
            .filter(|sign| self.is_meant(sign.as_str()))
            .take(2)
            .map(|sign| flow.evidence(sign.start(), sign.end()))
            .collect()
    }

    /// False for a saddle that is denied, or the name of a colour.
    fn is_meant(&self, sign: &str) -> bool {
        static NOT_MEANT: LazyLock<Regex> = LazyLock::new(|| {
            regex(
                r"(?i)\b(?:without|no|not|never|nor|instead of)\b[^.]*\bsaddle|\bsaddle[ -](?:brown|tan|leather|stitch(?:ed|ing)|grey|gray|beige|chestnut)\b|\b(?:colou?r|shade)\b[^.]*\bsaddle",
            )
        });
        !(self.is_saddle() && NOT_MEANT.is_match(sign))
    }
}

macro_rules! kind {
    ($word:expr, $sign:expr, $unless:expr, $refusal:expr) => {
        Construction {
            word: $word,
            refusal: $refusal,
            sign: LazyLock::new(|| regex($sign)),
            unless: LazyLock::new(|| regex($unless)),
        }
    };
}

const NEVER: &str = r"[^\s\S]";
const SET_IN: &str = r"(?i)set[ -]in sleeve|sets? (?:in )?(?:the )?sleeves? (?:in|into)|insert (?:the )?sleeves|(?:sew|set) in (?:the )?sleeves|shape (?:the )?(?:sleeve )?(?:cap|top)\b|sleeve cap";

/// The kinds, the first that fits being taken.
static KINDS: [Construction; 11] = [
    kind!(
        "none",
        r"(?i)\b(?:crochet|dc in|treble|sc in|hdc)\b",
        r"(?i)\b(?:knit|purl|stocking|stockinette)\b",
        "This is crochet; only knitted sleeves can be rebuilt."
    ),
    kind!(
        "raglan",
        r"(?i)[^.\n]{0,30}\braglans?\b[^.\n]{0,40}",
        r"(?i)(?:no|not a|instead of (?:a )?) raglan",
        "The sleeves are raglan: they have no set-in cap."
    ),
    kind!(
        "top-down",
        r"(?i)pick(?:ing)?(?: |-)up (?:and (?:knit|k)\b )?[^.]{0,60}(?:around|along|round) (?:the )?armhole[^.]{0,30}sleeve|sleeves?[^.]{0,80}pick(?:ed)? up[^.\n]{0,60}armhole|sleeves?\b[^\n]{0,40}\n[^\n]{0,80}pick up (?:and (?:knit|k) )?[^.]{0,60}armhole|worked from the top down[^.\n]{0,40}",
        r"(?i)(?:bind|cast) off (?:the )?(?:rem|remaining) [^.]{1,60}\n+(?:finishing|making up)[\s\S]{0,200}set in",
        "The sleeves are picked up or worked from the top already: there is no flat cap to rebuild."
    ),
    kind!(
        "yoke",
        r"(?i)[^.\n]{0,40}\b(?:round|circular)?\s?yoke\b[^.\n]{0,60}|(?:sleeves? and (?:the )?(?:body|back)|body and (?:both )?(?:the )?sleeves?)\b[^.\n]{0,40}\b(?:one|same|long|circular) (?:circular )?needle",
        r"(?i)(?:saddle|sleeve cap|shape (?:sleeve )?(?:cap|top))",
        "It has a yoke: body and sleeves are worked together, without a set-in cap."
    ),
    kind!(
        "dolman",
        r"(?i)[^.\n]{0,30}\b(?:dolman|batwing|kimono|magyar)\b[^.\n]{0,30}",
        NEVER,
        "The sleeves are worked in one with the body: there is no set-in cap."
    ),
    kind!(
        "sideways",
        r"(?i)(?:worked |knit(?:ted)? )?(?:sideways|from (?:side to side|cuff to cuff)|side to side)[^.\n]{0,30}",
        SET_IN,
        "It is worked sideways: there is no flat cap in rows."
    ),
    kind!(
        "drop shoulder",
        r"(?i)[^.\n]{0,20}drop(?:ped)?[ -]shoulders?\b[^.\n]{0,20}",
        r"(?i)no drop",
        "It has drop shoulders: the sleeves have no cap."
    ),
    kind!(
        "saddle",
        r"(?i)[^.\n]{0,20}\bsaddles?\b[^.\n]{0,40}",
        NEVER,
        ""
    ),
    kind!("set-in", SET_IN, NEVER, ""),
    kind!(
        "set-in",
        r"(?is)sleeves?\b.{0,2500}?(?:bind|cast|BO)\b.{0,600}?\b(?:dec|decrease|narrow|k ?2 ?tog)",
        r"(?i)^\s*$",
        ""
    ),
    kind!(
        "none",
        NEVER,
        NEVER,
        "This does not read as a knitting pattern with a set-in sleeve: no sleeve with bind-offs and decreases was found."
    ),
];

/// What kind of garment it is.
pub(super) fn kind(flow: &Flow) -> &'static Construction {
    let fits =
        |kind: &&Construction| !kind.signs(flow).is_empty() && !kind.unless.is_match(&flow.text);
    let straight = no_shaping(flow);
    let [.., none] = &KINDS;
    KINDS
        .iter()
        .find(fits)
        .filter(|kind| !(kind.is_read() && straight))
        .unwrap_or(none)
}

/// A reason that only the pieces tell, which no word of the pattern does.
pub(super) struct Unlike {
    pub(super) word: &'static str,
    pub(super) refusal: String,
    pub(super) signs: Vec<Evidence>,
}

/// The pieces of this kind that are cast on.
fn begun<'s>(
    flow: &'s Flow,
    sections: &'s [TextSection],
    part: Part,
) -> impl Iterator<Item = &'s TextSection> {
    let mine = sections.iter().filter(move |section| section.part == part);
    mine.filter(|section| CAST.is_match(flow.get(section.from, section.to)))
}

/// The backs with armholes.
pub(super) fn backs<'s>(flow: &'s Flow, sections: &'s [TextSection]) -> Vec<&'s TextSection> {
    let shaped = |section: &&TextSection| shaping_of(flow, section).is_some();
    begun(flow, sections, Part::Back).filter(shaped).collect()
}

/// The sleeves with a cap that are not called left or right.
pub(super) fn caps<'s>(flow: &'s Flow, sections: &'s [TextSection]) -> Vec<&'s TextSection> {
    let shaped = |section: &&TextSection| shaping_of(flow, section).is_some();
    let mine = begun(flow, sections, Part::Sleeve).filter(shaped);
    mine.filter(|section| !section.half).collect()
}

/// Several garments in one text, each with a title to take it by or not, or sleeves that end straight.
pub(super) fn unlike(flow: &Flow, sections: &[TextSection], titled: bool) -> Option<Unlike> {
    let heading = |section: &TextSection| flow.evidence(section.head, section.from);
    let backs = backs(flow, sections);
    let caps = caps(flow, sections);
    if backs.len() > 1 && caps.len() > 1 {
        return Some(Unlike {
            word: "several",
            refusal: format!(
                "There are {} garments in this text, each with a back and sleeves of its own. {}",
                backs.len().min(caps.len()),
                if titled {
                    "Take one of them."
                } else {
                    "Leave the one you want and cut the others out."
                }
            ),
            signs: backs.iter().map(|section| heading(section)).collect(),
        });
    }
    let shaped = |section: &&TextSection| shaping_of(flow, section).is_some();
    let sleeves: Vec<&TextSection> = begun(flow, sections, Part::Sleeve).collect();
    let named = sections.iter().any(|section| section.part == Part::Sleeve);
    if !backs.is_empty() && !named && !SLEEVE.is_match(&flow.text) {
        return Some(Unlike {
            word: "none",
            refusal: "It has a body with armholes, and no sleeve is cast on: there is no cap."
                .to_owned(),
            signs: Vec::new(),
        });
    }
    let straight = !sleeves.is_empty() && !sleeves.iter().any(shaped);
    let ends = |section: &&TextSection| {
        let text = flow.get(section.from, section.to);
        let found = BIND_OFF.find(text)?;
        let end = section.from + found.end() + 20;
        Some(flow.evidence(
            section.from + found.start(),
            flow.text.floor_char_boundary(end),
        ))
    };
    let signs: Vec<Evidence> = sleeves.iter().filter_map(ends).collect();
    (straight && !signs.is_empty()).then(|| Unlike {
        word: "drop shoulder",
        refusal: "The sleeves end straight, without a cap: they are sewn to a dropped shoulder."
            .to_owned(),
        signs,
    })
}

/// A sleeve that is cast on where no heading stands.
static SLEEVE: LazyLock<Regex> = LazyLock::new(|| {
    regex(r"(?i)\bsleeves?\b[^\n]{0,120}\n?[^\n]{0,120}\b(?:cast(?:ing)? on|CO)\b")
});

static CAST: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bcast(?:ing)? on|\bCO\b"));

/// True when no bind-off is followed by decreases anywhere: there is nothing like a cap.
fn no_shaping(flow: &Flow) -> bool {
    static SHAPED: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?is)\b(?:bind|cast|BO|bound|casting|binding)\b.{0,400}?(?:\b(?:dec|k ?2 ?tog|narrow|skp|ssk|tog)|\d (?:st|stitch|stitches|sts) \d+ times?|\d ?[x×] ?\d+ st)",
        )
    });
    !SHAPED.is_match(&flow.text)
}
