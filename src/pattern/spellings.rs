//! The table of spellings. A person who reads more patterns adds words here.

use super::term::Term;

/// Every spelling, by term. Phrases are words with single spaces; a value follows `=`.
#[rustfmt::skip]
pub(super) static SPELLINGS: &[(Term, &[&str])] = &[
    (Term::BindOff, &[
        "bo", "bind off", "binds off", "binding off", "bound off", "cast off", "casting off",
        "casts off", "b o", "bind", "slip and bind off",
    ]),
    (Term::CastOn, &["cast on", "casting on", "co"]),
    (Term::Dec, &[
        "dec", "decs", "decrease", "decreases", "decreasing", "decr", "narrow", "narrows",
        "narrowing",
    ]),
    (Term::Inc, &["inc", "incs", "increase", "increases", "increasing", "incr", "widen"]),
    (Term::Knit, &["knit", "k", "knitting", "knits"]),
    (Term::Purl, &["purl", "p", "purling", "purls"]),
    (Term::Work, &[
        "work", "works", "working", "worked", "continue", "cont", "continuing", "proceed", "keep",
        "contin",
    ]),
    (Term::Rep, &["rep", "reps", "repeat", "repeats", "repeating", "repeated", "rpt"]),
    (Term::Slip, &["slip", "sl", "slipping"]),
    (Term::Hold, &["holder", "stitch holder", "spare needle", "waste yarn", "safety pin"]),
    (Term::DecOp, &[
        "k2tog", "p2tog", "ssk", "ssp", "skp", "skpo", "k2tog tbl", "p2tog tbl", "k2togtbl",
        "psso", "s1kp", "k3tog=2", "p3tog=2", "k3tog tbl=2", "sssk=2", "sk2p=2", "s2kp=2", "cdd=2",
        "p2sso=2", "dd=2", "slip and bind", "sl and b",
    ]),
    (Term::IncOp, &[
        "m1", "m1l", "m1r", "m1p", "kfb", "pfb", "yo", "yrn", "yfwd", "yon", "k1fb", "p1fb",
        "make 1",
    ]),
    (Term::Together, &["tog", "together"]),
    (Term::Beginning, &["beg", "beginning", "beginnings", "start", "begin", "begins", "starts"]),
    (Term::End, &["end", "ends"]),
    (Term::Side, &["side", "sides", "hand side"]),
    (Term::Edge, &["edge", "edges"]),
    (Term::Armhole, &["armhole", "armholes", "underarm", "side edge", "arm hole", "raglan"]),
    (Term::Neck, &[
        "neck", "front", "neckline", "front edge", "neck edge", "centre front", "center front",
        "centre", "center", "inside",
    ]),
    (Term::Stitch, &["st", "sts", "stitch", "stitches", "stiches", "stich"]),
    (Term::Row, &["row", "rows", "r", "rnd", "rnds", "round", "rounds"]),
    (Term::Ridge, &["ridge", "ridges", "garter ridge", "garter ridges"]),
    (Term::Next, &["next"]),
    (Term::Following, &["foll", "follow", "following", "follg", "subsequent", "succeeding", "fol"]),
    (Term::Every, &["every", "each", "both", "ea", "evey", "ev"]),
    (Term::Alternate, &["alt", "alternate", "other", "alternating", "altn"]),
    (Term::Alternately, &["alternately", "alternatively", "by turns"]),
    (Term::All, &["all"]),
    (Term::Rs, &["rs", "right side", "rightside", "r s"]),
    (Term::Ws, &["ws", "wrong side", "wrongside", "w s"]),
    (Term::Last, &["last", "previous", "preceding", "prev", "past"]),
    (Term::These, &["these", "this", "those"]),
    (Term::From, &["from", "above", "after"]),
    (Term::For, &["for"]),
    (Term::Times, &["times", "time", "tms", "xs"]),
    (Term::More, &["more", "additional", "further", "another", "again", "extra"]),
    (Term::InAll, &["in all", "in total", "total", "altogether", "all together", "in all times"]),
    (Term::Until, &["until", "til", "till", "to", "down to", "up to", "'til", "unti"]),
    (Term::Remaining, &[
        "rem", "remain", "remains", "remaining", "left", "are left", "on needle", "on needles",
        "on the needle", "on your needle", "on the needles",
    ]),
    (Term::There, &[
        "there", "you", "having", "have", "leaving", "leaves", "giving", "gives", "total of",
        "stitch count", "st count", "count", "should",
    ]),
    (Term::Measures, &["measures", "measure", "measuring", "is", "measured", "meas"]),
    (Term::Inch, &["inch", "inches", "ins", "inchs"]),
    (Term::Cm, &["cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"]),
    (Term::Mm, &["mm"]),
    (Term::Even, &[
        "even", "straight", "plain", "without shaping", "without further shaping",
        "without decreasing", "without decreases", "without increasing", "without any shaping",
        "with no shaping", "w/o shaping", "unshaped", "back",
    ]),
    (Term::Garment, &["piece", "sleeve", "garment", "total length"]),
    (Term::Piece, &[
        "cap", "sleeve cap", "top", "sleeve top", "shaping", "head",
        "sleeve head",
    ]),
    (Term::And, &["and", "&", "plus"]),
    (Term::Or, &["or"]),
    (Term::Then, &["then"]),
    (Term::With, &["with"]),
    (Term::Ending, &[
        "ending", "end with", "ends with", "ended", "finishing", "end after", "end on",
        "ending on", "finish with", "finish after", "finish", "ending with",
    ]),
    (Term::Facing, &["facing"]),
    (Term::SameTime, &[
        "at the same time", "at same time", "ast", "same time", "simultaneously",
        "and at same time", "the same time",
    ]),
    (Term::When, &["when", "if"]),
    (Term::Size, &["size", "sizes"]),
    (Term::Only, &["only"]),
    (Term::Reversing, &["reversing", "reverse", "reversed", "to match", "mirror"]),
    (Term::As, &[
        "as for", "same as", "as on", "as given for", "equals", "equal to", "same length as", "as",
    ]),
    (Term::Elsewhere, &[
        "same as back", "as for back", "as for front", "as back", "as front", "as given for back",
        "back armhole", "front armhole", "back's", "back armholes", "to match back",
    ]),
    (Term::Done, &["dec'd", "decd", "inc'd", "incd", "decreased", "increased", "bound-off"]),
    (Term::NoneOf, &["none", "nil"]),
    (Term::Cross, &["x"]),
    (Term::Often, &["once=1", "twice=2", "thrice=3"]),
    (Term::ShortRow, &[
        "w&t", "wrap and turn", "wrap & turn", "short row", "short rows", "turn", "wrap",
        "wrapped", "wraps", "w & t", "slip back", "german short row", "german short rows",
    ]),
    (Term::Filler, &[
        "the", "of", "thereafter", "afterwards", "throughout", "a", "an", "on", "at", "in", "by", "also", "now", "just", "still", "approx",
        "approximately", "about", "exactly", "thus", "so", "that", "are", "be", "were", "was",
        "it", "your", "it's", "only just", "but", "has", "been", "till now", "only until", "same",
        "which", "will", "total number", "number", "further on", "needle", "needles", "way",
        "along", "do", "until you", "one after the other", 
    ]),
    (Term::Inset, &[
        "in from edge", "in from the edge", "in from edges", "in from each edge",
        "in from each end", "in from ends", "inside edge", "from edge", "from each edge",
        "in from both edges", "inside the edge",
    ]),
    (Term::Plain, &[
        "in pattern", "in patt", "in pat", "in st st", "in stocking stitch", "in stockinette",
        "in stockinette stitch", "in stocking st", "in garter st", "in garter stitch", "in rib",
        "in ribbing", "in established pattern", "in established patt", "in pattern as established",
        "in patt as set", "in pattern as set", "as established", "as set", "as before", "as est",
        "in est patt", "in est pattern", "keeping pattern correct", "keeping patt correct",
        "keeping pat correct", "keep pattern correct", "keep patt correct", "keeping to pattern",
        "keeping to patt", "keeping continuity of pattern", "keeping continuity of patt",
        "keeping the continuity of the pattern", "keeping rib correct", "keeping stripes correct",
        "maintaining pattern", "maintaining patt", "maintaining established pattern",
        "maintaining continuity of pattern", "keeping in pattern", "keeping in patt",
        "keep to pattern", "keep in pattern", "taking increased stitches into pattern",
        "taking inc sts into pattern", "taking inc sts into patt", "taking extra sts into patt",
        "taking extra stitches into pattern", "working increased sts into patt",
        "working inc sts into pattern", "incorporating new sts into pattern", "loosely", "firmly",
        "evenly", "neatly", "fully fashioned", "in the usual way", "as usual", "shape top", "shape shoulders", "shape shoulder", "shoulder shaping", "shape armhole and neck", "for neck", "for back neck", "back neck", "shape back neck", "neck shaping", "shape armholes and neck",
        "shape cap", "shape sleeve cap", "shape sleeve top", "shape the cap", "shape the top",
        "shape armhole", "shape armholes", "shape the armholes", "shape sleeve head",
        "cap shaping", "sleeve cap shaping", "armhole shaping", "shape raglan", "top shaping",
        "shape sleeve", "shape neck", "at the same time with two balls",
        "both sleeves at the same time", "both sleeves at same time",
        "both sleeves at the same time with two balls of yarn",
        "both sleeves at the same time using two balls", "with separate balls of yarn",
        "with two balls of yarn", "with two balls", "using two balls", "using two balls of yarn",
        "using separate balls of yarn", "fasten off", "cut yarn", "break yarn", "break off yarn",
        "place marker", "place markers", "knitwise", "purlwise", "in rib pattern", "patt",
        "pattern", "pat", "st st", "stocking stitch", "stockinette", "stockinette stitch",
        "garter st", "garter stitch", "rib", "tbl", "wyib", "wyif", "pm", "sm", "in this manner",
        "in this way", "in same manner", "in same way", "in the same manner", "in the same way",
        "as follows", "as folls", "thus far", "dec row counts as first", "note", "across",
        "at edge",
    ]),
];

/// Numbers in words.
#[rustfmt::skip]
pub(super) static NUMBERS: &[(&str, f64)] = &[
    ("zero", 0.0), ("one", 1.0), ("two", 2.0), ("three", 3.0), ("four", 4.0), ("five", 5.0),
    ("six", 6.0), ("seven", 7.0), ("eight", 8.0), ("nine", 9.0), ("ten", 10.0), ("eleven", 11.0),
    ("twelve", 12.0), ("thirteen", 13.0), ("fourteen", 14.0), ("fifteen", 15.0), ("sixteen", 16.0),
    ("seventeen", 17.0), ("eighteen", 18.0), ("nineteen", 19.0), ("half", 0.5), ("quarter", 0.25),
];

/// Tens, which may take a unit after them: `twenty-four`.
#[rustfmt::skip]
pub(super) static TENS: &[(&str, f64)] = &[
    ("twenty", 20.0), ("thirty", 30.0), ("forty", 40.0), ("fourty", 40.0), ("fifty", 50.0),
    ("sixty", 60.0), ("seventy", 70.0), ("eighty", 80.0), ("ninety", 90.0),
];

/// Ordinals in words.
#[rustfmt::skip]
pub(super) static ORDINALS: &[(&str, f64)] = &[
    ("first", 1.0), ("second", 2.0), ("third", 3.0), ("fourth", 4.0), ("fifth", 5.0),
    ("sixth", 6.0), ("seventh", 7.0), ("eighth", 8.0), ("ninth", 9.0), ("tenth", 10.0),
    ("eleventh", 11.0), ("twelfth", 12.0), ("fourteenth", 14.0), ("sixteenth", 16.0),
    ("twentieth", 20.0),
];
