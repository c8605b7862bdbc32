//! The stitch that something is knitted in, by the words of a pattern.

use std::sync::LazyLock;

use regex::Regex;

use super::cuff::{cast_on, cuff};
use super::lists::regex;
use super::section::{Part, TextSection, shaping_of};
use super::{Evidence, Flow};

/// Plain knitting.
pub(super) const PLAIN: &str = "stocking stitch";

/// Names of stitches, each with the words for it; a pattern that is not named is the last.
static STITCHES: LazyLock<[(&str, Regex); 15]> =
    LazyLock::new(|| {
        [
        (
            PLAIN,
            r"(?i)\bst\.? ?st\b|\bstock\w*|\bsmooth (?:st|knit)\w*|\bplain (?:st|knit)\w*|\bs\.s\.",
        ),
        ("garter stitch", r"(?i)\bgarter|\bg\.? ?st\b"),
        ("moss stitch", r"(?i)\b(?:moss|seed)\b|\bm\.? ?st\b"),
        ("rib", r"(?i)\brib"),
        ("cables", r"(?i)\bcabl\w*|\bplait\w*"),
        ("lace", r"(?i)\blac(?:e|y)\b|\bopen ?work|\beyelets?"),
        ("basket stitch", r"(?i)\bbasket\w*"),
        ("brioche", r"(?i)\bbrioche|\bfisherman\w*"),
        ("stranded knitting", r"(?i)\bfair isle|\bstranded|\bjacquard|\bcolou?r ?work"),
        ("slip stitch", r"(?i)\bslip ?-?st(?:itch)? patt\w*|\btweed st\w*"),
        ("honeycomb", r"(?i)\bhoneycomb"),
        ("trellis", r"(?i)\btrellis|\blattice"),
        ("reverse stocking stitch", r"(?i)\brev\w*\.? st"),
        ("double knitting stitch", r"(?i)\bdouble (?:moss|seed)|\birish moss"),
        ("pattern", r"(?i)\bpatt\w*"),
    ]
    .map(|(name, words)| (name, regex(words)))
    });

/// The stitches that the words of a gauge name; `pattern` is said of any of them, too.
pub(super) fn fabrics(words: &str) -> Vec<&'static str> {
    let mut out = named(words);
    if out.len() > 1 {
        out.retain(|name| *name != "pattern");
    }
    out
}

/// The stitches that these words name.
fn named(words: &str) -> Vec<&'static str> {
    let named = STITCHES.iter().filter(|(_, sign)| sign.is_match(words));
    let mut out: Vec<&'static str> = named.map(|(name, _)| *name).collect();
    let finer = [
        ("double knitting stitch", "moss stitch"),
        ("reverse stocking stitch", PLAIN),
    ];
    for (fine, coarse) in finer {
        if out.contains(&fine) {
            out.retain(|name| *name != coarse);
        }
    }
    out
}

/// The stitch of a piece above its border, and where it is named.
#[derive(Clone, Debug)]
pub(super) struct FabricOf {
    pub(super) stitch: &'static str,
    pub(super) evidence: Evidence,
}

/// The one stitch that the first shaped piece of this kind is worked in, from its border to its edge; none where it is not named, or
/// where several are.
pub(super) fn worked(flow: &Flow, sections: &[TextSection], part: Part) -> Option<FabricOf> {
    let mut mine = sections.iter().filter(|section| section.part == part);
    let (section, edge) = mine.find_map(|section| Some((section, shaping_of(flow, section)?)))?;
    let cast = cast_on(flow, section.from, edge);
    let from = cast.map_or(section.from, |cast| cast.1);
    let from = cast
        .and_then(|cast| cuff(flow, cast, edge))
        .map_or(from, |border| border.1);
    let named: Vec<&str> = named(flow.get(from, edge))
        .into_iter()
        .filter(|name| *name != "rib")
        .collect();
    let [stitch] = named.as_slice() else {
        return None;
    };
    let (_, sign) = STITCHES.iter().find(|(name, _)| name == stitch)?;
    let at = sign.find(flow.get(from, edge))?;
    Some(FabricOf {
        stitch: STITCHES.iter().find(|(name, _)| name == stitch)?.0,
        evidence: flow.evidence(from + at.start(), from + at.end()),
    })
}
