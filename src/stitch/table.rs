//! The table of stitches: what each takes and makes, its short word on either side, its mirror image,
//! and what becomes of it when the fabric hangs the other way up.

use std::fmt;

/// A stitch of a chart, as it looks from the right side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stitch {
    /// Knit.
    Knit,
    /// Purl.
    Purl,
    /// Knit through the back loop: its legs cross.
    KnitTbl,
    /// Purl through the back loop.
    PurlTbl,
    /// Slipped with the yarn behind it.
    Slip,
    /// Slipped with the yarn in front of it, where it shows.
    SlipFront,
    /// Yarn over.
    YarnOver,
    /// Made from the strand, leaning to the left.
    MakeLeft,
    /// Made from the strand, leaning to the right.
    MakeRight,
    /// Two together, leaning to the right.
    K2tog,
    /// Two together, leaning to the left.
    Ssk,
    /// Two together, one passed over the other, leaning to the left.
    Skp,
    /// Two together through the back loops, leaning to the left.
    K2togTbl,
    /// Two purled together, leaning to the right.
    P2tog,
    /// Two purled together, leaning to the left.
    Ssp,
    /// Two purled together through the back loops, leaning to the left.
    P2togTbl,
    /// Three together, leaning to the right.
    K3tog,
    /// Three together, leaning to the left.
    Sssk,
    /// Three together, one passed over two, leaning to the left.
    Sk2p,
    /// Three purled together, leaning to the right.
    P3tog,
    /// Three purled together through the back loops, leaning to the left.
    P3togTbl,
    /// Three together, the middle one on top.
    S2kp2,
    /// Some stitches cross in front of others.
    Cross(Crossing),
}

/// A cable's crossing: `front` knit stitches go in front of `behind` others.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Crossing {
    /// Stitches that cross in front, always knit.
    pub front: u8,
    /// Stitches that cross behind.
    pub behind: u8,
    /// True when the front ones go to the left, seen from the right side.
    pub left: bool,
    /// True when those behind are purled.
    pub purl: bool,
}

/// Most stitches on either side of a crossing.
pub const MOST_CROSSED: u8 = 6;

/// Stitches without parameters, in the order of the table.
const PLAIN: [Stitch; 22] = [
    Stitch::Knit,
    Stitch::Purl,
    Stitch::KnitTbl,
    Stitch::PurlTbl,
    Stitch::Slip,
    Stitch::SlipFront,
    Stitch::YarnOver,
    Stitch::MakeLeft,
    Stitch::MakeRight,
    Stitch::K2tog,
    Stitch::Ssk,
    Stitch::Skp,
    Stitch::K2togTbl,
    Stitch::P2tog,
    Stitch::Ssp,
    Stitch::P2togTbl,
    Stitch::K3tog,
    Stitch::Sssk,
    Stitch::Sk2p,
    Stitch::P3tog,
    Stitch::P3togTbl,
    Stitch::S2kp2,
];

/// What the table says of a stitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// What it is called in a legend.
    pub name: &'static str,
    /// The character that stands for it where the case's legend says nothing else.
    pub letter: Option<char>,
    /// Its short word on right-side rows and in rounds.
    pub rs: &'static str,
    /// The short word of what looks like it when worked on a wrong-side row.
    pub ws: Option<&'static str>,
    /// The standard list's meaning of the short word.
    pub meaning: &'static str,
    /// Stitches of the row below that it takes.
    pub takes: u32,
    /// Where the short word is from.
    pub source: &'static str,
}

/// Where most short words are from.
pub const STANDARD: &str = "standard abbreviations of the Craft Yarn Council";
/// Words that our copy of the list does not have.
pub const PRACTICE: &str = "common practice, no source";

const fn entry(
    name: &'static str,
    letter: Option<char>,
    (rs, ws): (&'static str, Option<&'static str>),
    meaning: &'static str,
    takes: u32,
    source: &'static str,
) -> Entry {
    Entry {
        name,
        letter,
        rs,
        ws,
        meaning,
        takes,
        source,
    }
}

impl Stitch {
    /// Its line in the table; a crossing has none of its own.
    #[rustfmt::skip]
    pub const fn entry(self) -> Option<Entry> {
        Some(match self {
            Self::Knit => entry("knit", Some('k'), ("k", Some("p")), "knit", 1, STANDARD),
            Self::Purl => entry("purl", Some('p'), ("p", Some("k")), "purl", 1, STANDARD),
            Self::KnitTbl => entry("knit tbl", None, ("k tbl", Some("p tbl")), "knit through the back loop", 1, STANDARD),
            Self::PurlTbl => entry("purl tbl", None, ("p tbl", Some("k tbl")), "purl through the back loop", 1, STANDARD),
            Self::Slip => entry("slip", None, ("sl wyib", Some("sl wyif")), "slip purlwise with yarn in back", 1, STANDARD),
            Self::SlipFront => entry("slip wyif", None, ("sl wyif", Some("sl wyib")), "slip purlwise with yarn in front", 1, STANDARD),
            Self::YarnOver => entry("yarn over", Some('o'), ("yo", Some("yo")), "yarn over", 0, STANDARD),
            Self::MakeLeft => entry("make left", None, ("M1L", None), "make 1 st leaning to the left: lift the strand from the front, knit it through the back loop", 0, PRACTICE),
            Self::MakeRight => entry("make right", None, ("M1R", None), "make 1 st leaning to the right: lift the strand from the back, knit it through the front loop", 0, PRACTICE),
            Self::K2tog => entry("k2tog", Some('/'), ("k2tog", Some("p2tog")), "knit 2 together", 2, STANDARD),
            Self::Ssk => entry("ssk", Some('\\'), ("ssk", Some("ssp")), "slip, slip, knit the 2 slipped sts together through the back loops", 2, STANDARD),
            Self::Skp => entry("skp", None, ("skp", None), "slip 1, knit 1, pass the slipped st over", 2, STANDARD),
            Self::K2togTbl => entry("k2tog tbl", None, ("k2tog tbl", Some("p2tog tbl")), "knit 2 together through the back loops", 2, STANDARD),
            Self::P2tog => entry("p2tog", None, ("p2tog", Some("k2tog")), "purl 2 together", 2, STANDARD),
            Self::Ssp => entry("ssp", None, ("ssp", Some("ssk")), "slip, slip knitwise, return, purl the 2 together through the back loops", 2, STANDARD),
            Self::P2togTbl => entry("p2tog tbl", None, ("p2tog tbl", Some("k2tog tbl")), "purl 2 together through the back loops", 2, STANDARD),
            Self::K3tog => entry("k3tog", None, ("k3tog", Some("p3tog")), "knit 3 together", 3, STANDARD),
            Self::Sssk => entry("sssk", None, ("sssk", None), "slip 3, knit them together through the back loops", 3, STANDARD),
            Self::Sk2p => entry("sk2p", None, ("sk2p", None), "slip 1, knit 2 together, pass the slipped st over", 3, STANDARD),
            Self::P3tog => entry("p3tog", None, ("p3tog", Some("k3tog")), "purl 3 together", 3, STANDARD),
            Self::P3togTbl => entry("p3tog tbl", None, ("p3tog tbl", Some("k3tog tbl")), "purl 3 together through the back loops", 3, PRACTICE),
            Self::S2kp2 => entry("s2kp2", None, ("s2kp2", None), "slip 2 together knitwise, knit 1, pass the 2 slipped sts over", 3, STANDARD),
            Self::Cross(_) => return None,
        })
    }

    /// All stitches that have a line in the table.
    pub fn all() -> impl Iterator<Item = (Self, Entry)> {
        PLAIN
            .into_iter()
            .filter_map(|stitch| Some((stitch, stitch.entry()?)))
    }

    /// The stitch that a legend means by these words: its name, its short word, or a crossing.
    pub fn named(words: &str) -> Option<Self> {
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        let lower = words.to_lowercase();
        let known = Self::all().find(|(_, e)| e.name == lower || e.rs.eq_ignore_ascii_case(&lower));
        let twisted = |word: &str| match word {
            "twisted" | "twisted knit" => Some(Self::KnitTbl),
            "twisted purl" => Some(Self::PurlTbl),
            "skpo" => Some(Self::Skp),
            _ => None,
        };
        known
            .map(|(stitch, _)| stitch)
            .or_else(|| twisted(&lower))
            .or_else(|| Crossing::named(&lower).map(Self::Cross))
    }

    /// The stitch that a chart's character means without a legend.
    pub fn of_letter(letter: char) -> Option<Self> {
        let known = Self::all().find(|(_, e)| e.letter == Some(letter));
        known.map(|(stitch, _)| stitch)
    }

    /// Its short word, and how it is worked on either side.
    pub fn explained(self) -> (String, String) {
        let meaning = match (self, self.entry()) {
            (Self::Cross(crossing), _) => {
                let [rs, ws] = crossing.how();
                format!("RS: {rs}; WS: {ws}")
            }
            (_, Some(entry)) => match entry.ws {
                Some(ws) if ws != entry.rs => format!("{}; on a WS row {ws}", entry.meaning),
                _ => entry.meaning.to_owned(),
            },
            (_, None) => String::new(),
        };
        (self.to_string(), meaning)
    }

    /// Cells of a chart it is as wide as.
    pub fn width(self) -> usize {
        match self {
            Self::Cross(crossing) => crossing.width(),
            _ => 1,
        }
    }

    /// Stitches of the row below that it takes.
    pub fn takes(self) -> u32 {
        match self.entry() {
            Some(entry) => entry.takes,
            None => u32::try_from(self.width()).unwrap_or(u32::MAX),
        }
    }

    /// True when it takes as many stitches as it makes.
    pub fn keeps_count(self) -> bool {
        self.entry().is_none_or(|entry| entry.takes == 1)
    }

    /// True for what is easier done where the right side is seen.
    pub fn wants_right_side(self) -> bool {
        !matches!(
            self,
            Self::Knit | Self::Purl | Self::KnitTbl | Self::PurlTbl | Self::Slip | Self::SlipFront
        )
    }

    /// The same where left and right change places. Several lean to the left and one to the right, so that the mirror
    /// image of that one is the most usual of them.
    #[must_use]
    pub const fn mirrored(self) -> Self {
        match self {
            Self::MakeLeft => Self::MakeRight,
            Self::MakeRight => Self::MakeLeft,
            Self::K2tog => Self::Ssk,
            Self::Ssk | Self::Skp | Self::K2togTbl => Self::K2tog,
            Self::P2tog => Self::Ssp,
            Self::Ssp | Self::P2togTbl => Self::P2tog,
            Self::K3tog => Self::Sssk,
            Self::Sssk | Self::Sk2p => Self::K3tog,
            Self::P3tog => Self::P3togTbl,
            Self::P3togTbl => Self::P3tog,
            Self::Cross(crossing) => Self::Cross(Crossing {
                left: !crossing.left,
                ..crossing
            }),
            same => same,
        }
    }

    /// What of it is lost when the fabric is worked from the other end and turned round. Turned round by
    /// half a turn, what leans to the right goes on leaning to the right, so the stitch stays the same.
    pub const fn lost_when_turned(self) -> Option<&'static str> {
        match self {
            Self::YarnOver | Self::MakeLeft | Self::MakeRight => {
                Some("the columns part below it instead of above it")
            }
            Self::K2tog
            | Self::Ssk
            | Self::Skp
            | Self::K2togTbl
            | Self::P2tog
            | Self::Ssp
            | Self::P2togTbl
            | Self::K3tog
            | Self::Sssk
            | Self::Sk2p
            | Self::P3tog
            | Self::P3togTbl
            | Self::S2kp2 => {
                Some("it leans as before, but the columns run together from the other end")
            }
            _ => None,
        }
    }

    /// The short word on a right-side or a wrong-side row; `None` for what is not worked there.
    pub fn short(self, right_side: bool) -> Option<String> {
        match self.entry() {
            Some(entry) if right_side => Some(entry.rs.to_owned()),
            Some(entry) => entry.ws.map(str::to_owned),
            None => Some(self.to_string()),
        }
    }
}

impl fmt::Display for Stitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cross(crossing) => crossing.fmt(f),
            other => f.write_str(other.entry().map_or("", |entry| entry.rs)),
        }
    }
}

impl Crossing {
    /// Stitches in all.
    pub const fn width(self) -> usize {
        self.front as usize + self.behind as usize
    }

    /// `2/2 left`, `2/1 right purl`; also with `LC`, `RC`, `LPC`, `RPC`.
    fn named(words: &str) -> Option<Self> {
        let (counts, way) = words.split_once(' ')?;
        let (front, behind) = counts.split_once('/')?;
        let count = |text: &str| text.parse().ok().filter(|n| (1..=MOST_CROSSED).contains(n));
        let (left, purl) = match way {
            "left" | "lc" => (true, false),
            "right" | "rc" => (false, false),
            "left purl" | "lpc" => (true, true),
            "right purl" | "rpc" => (false, true),
            _ => return None,
        };
        Some(Self {
            front: count(front)?,
            behind: count(behind)?,
            left,
            purl,
        })
    }

    /// How it is worked on a right-side row and on a wrong-side row (common practice, no source).
    pub fn how(self) -> [String; 2] {
        let (front, behind) = (self.front, self.behind);
        let (knit, purl) = if self.purl { ("p", "k") } else { ("k", "p") };
        // Met from the other side, the stitches come in the other order, and before is behind.
        if self.left {
            [
                format!(
                    "hold {front} in front on a cable needle, {knit}{behind}, then k{front} from the cable needle"
                ),
                format!(
                    "hold {behind} in front on a cable needle, p{front}, then {purl}{behind} from the cable needle"
                ),
            ]
        } else {
            [
                format!(
                    "hold {behind} behind on a cable needle, k{front}, then {knit}{behind} from the cable needle"
                ),
                format!(
                    "hold {front} behind on a cable needle, {purl}{behind}, then p{front} from the cable needle"
                ),
            ]
        }
    }
}

impl fmt::Display for Crossing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let way = match (self.left, self.purl) {
            (true, false) => "LC",
            (false, false) => "RC",
            (true, true) => "LPC",
            (false, true) => "RPC",
        };
        write!(f, "{}/{} {way}", self.front, self.behind)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn legends_are_understood() {
        for (stitch, entry) in Stitch::all() {
            assert_eq!(Stitch::named(entry.name), Some(stitch));
            assert_eq!(Stitch::named(entry.rs), Some(stitch));
            assert_eq!(
                entry.letter.and_then(Stitch::of_letter),
                entry.letter.map(|_| stitch)
            );
        }
        let cross = |front, behind, left, purl| {
            Some(Stitch::Cross(Crossing {
                front,
                behind,
                left,
                purl,
            }))
        };
        assert_eq!(Stitch::named("2/2 left"), cross(2, 2, true, false));
        assert_eq!(Stitch::named("2/1  right purl"), cross(2, 1, false, true));
        assert_eq!(Stitch::named("3/3 RC"), cross(3, 3, false, false));
        for wrong in ["", "2/2", "0/2 left", "7/1 left", "2/2 up", "knot"] {
            assert_eq!(Stitch::named(wrong), None, "{wrong}");
        }
    }
}
