//! The pieces of a pattern: where each begins and ends in the running text.

use std::sync::LazyLock;

use regex::Regex;

use super::Flow;
use super::lists::regex;

/// What a stretch of the text is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    Back,
    Front,
    Sleeve,
    Other,
}

/// A stretch of the text under its heading.
#[derive(Clone, Copy, Debug)]
pub(super) struct TextSection {
    pub(super) part: Part,
    /// The heading says one half: `left front`.
    pub(super) half: bool,
    /// Where the heading begins.
    pub(super) head: usize,
    /// What follows it.
    pub(super) from: usize,
    pub(super) to: usize,
}

/// Cuts the text at its headings.
pub(super) fn sections(flow: &Flow) -> Vec<TextSection> {
    static HEAD: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?m)(?:^|[.!:;] )[ \t*#]*((?i:(?:the |work )?((?:(?:left|right|short|long) )?(?:back|fronts?|sleeves?)(?: and (?:back|fronts?))?|finishing|making[ -]up|to make up|make up|neck ?bands?|neck ?border|neck edging|collar|(?:button|front) ?(?:hole )?(?:bands?|borders?)|pockets?|pocket linings?|materials|gauge|tension|abbreviations|measurements|assembly|blocking|hood|to complete|notes?)))(?: ?[(\[][^)\]\n]{0,40}[)\]])?(?: ?\([^)\n]{0,30}\))?[ \t*]*(:|\.\s?[—–-]+|[—–]|\.?$)",
        )
    });
    // In capitals a heading needs no mark behind it: `BACK CO 98 sts.`
    static CAPITALS: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?m)(?:^|[.:!;] )[ \t*#]*((?:THE )?((?:(?:LEFT|RIGHT|SHORT|LONG) )?(?:BACK|FRONTS?|SLEEVES?|FINISHING|MAKING UP|TO MAKE UP|NECKBAND|COLLAR|POCKETS?)))\b[.,]?(\s+)[A-Z(*]",
        )
    });
    // At the head of a line a point is mark enough: `Back. Cast on 102 sts.`
    static POINT: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?m)^[ \t*#]*((?:The )?((?i:(?:left |right )?(?:back|fronts?|sleeves?)|finishing|making[ -]up|to make up|neck ?band|collar)))\.(\s+)[A-Z(*]",
        )
    });
    let mut found: Vec<(usize, usize, String)> = spoken(flow);
    for heading in HEAD
        .captures_iter(&flow.text)
        .chain(CAPITALS.captures_iter(&flow.text))
        .chain(POINT.captures_iter(&flow.text))
    {
        if let (Some(all), Some(name), Some(words)) =
            (heading.get(0), heading.get(1), heading.get(2))
        {
            let end = heading.get(3).map_or(all.end(), |mark| mark.end());
            if name.as_str().starts_with(char::is_uppercase) {
                found.push((name.start(), end, words.as_str().to_lowercase()));
            }
        }
    }
    // Of two readings of one heading the longer has its brackets too: `THE SLEEVES (both alike).`
    found.sort_by_key(|heading| (heading.0, std::cmp::Reverse(heading.1)));
    found.dedup_by_key(|heading| heading.0);
    let ends = found
        .iter()
        .skip(1)
        .map(|next| next.0)
        .chain([flow.text.len()]);
    let ends: Vec<usize> = ends.collect();
    let of = |((head, from, words), to): (&(usize, usize, String), usize)| TextSection {
        part: part(words),
        head: *head,
        half: words.contains("left") || words.contains("right"),
        from: *from,
        to: to.max(*from),
    };
    found.iter().zip(ends).map(of).collect()
}

/// Headings that are sentences: a short line by itself that ends with its piece, `How do I knit the back?`.
fn spoken(flow: &Flow) -> Vec<(usize, usize, String)> {
    static LINE: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?m)^[ \t*#]*([A-Z][A-Za-z' ,-]{2,50}?\b(backs?|fronts?|sleeves?|together|finishing|neck ?bands?|collar|pockets?)(?: pieces?| panels?)?)[ \t*]*[?!:.]?[ \t*]*$",
        )
    });
    // A line of an instruction that happens to end there: `As for back`, `Sew the shoulders and set in the sleeves.`
    static TOLD: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:as|like|same|match\w*|of|to|until|on|set|sew|join|repeat|follow|for|press|leave|both|and|is|are|purl|at|from|with|rs|ws)\b",
        )
    });
    let lines = LINE.captures_iter(&flow.text).filter_map(|line| {
        let (words, part) = (line.get(1)?, line.get(2)?);
        let before = flow.text.get(..words.start())?;
        let before = before.trim_end_matches([' ', '\t', '*', '#']);
        let alone = before.ends_with("\n\n") || before.is_empty();
        let several = words.as_str().contains(' ');
        let names = PIECES.find_iter(words.as_str()).count() == 1;
        (alone && several && names && !TOLD.is_match(words.as_str())).then(|| {
            (
                words.start(),
                line.get(0).map_or(words.end(), |all| all.end()),
                part.as_str().to_lowercase(),
            )
        })
    });
    lines.collect()
}

/// The names of pieces.
static PIECES: LazyLock<Regex> = LazyLock::new(|| {
    regex(r"(?i)\b(?:backs?|fronts?|sleeves?|together|finishing|neck ?bands?|collar|pockets?)\b")
});

fn part(words: &str) -> Part {
    match words {
        word if word.contains("sleeve") => Part::Sleeve,
        word if word.ends_with("back") || word.starts_with("back") => Part::Back,
        word if word.ends_with("front") || word.ends_with("fronts") => Part::Front,
        _ => Part::Other,
    }
}

/// A bind-off, as a verb.
pub(super) static BIND_OFF: LazyLock<Regex> =
    LazyLock::new(|| regex(r"(?i)\b(?:bind(?:ing)?[ -]off|cast(?:ing)?[ -]off|b\.?o\.?)\s"));

/// Where the shaping of this piece begins: at its first bind-off, or where a sleeve is sent to the armhole.
pub(super) fn shaping_of(flow: &Flow, section: &TextSection) -> Option<usize> {
    let bound = shaping(flow, section.from, section.to);
    let told = (section.part == Part::Sleeve)
        .then(|| to_armhole(flow, section.from, bound.unwrap_or(section.to)))
        .flatten();
    told.map(|(from, _)| from).or(bound)
}

/// Where the instruction begins that sends the cap back to the armhole, and where it ends.
pub(super) fn to_armhole(flow: &Flow, from: usize, to: usize) -> Option<(usize, usize)> {
    static AS: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:as|like)\b[^.;:\n]{0,30}\barmholes?(?: shapings?)?\b(?: (?:of|on|for|as) [^.;:,\n]{0,20}\bback\b)?|\barmholes?(?: shapings?)? as\b[^.;:\n]{0,20}\bback\b",
        )
    });
    // `as far as the armhole`, `as wide as the armhole`: no shaping.
    static LENGTH: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bas (?:far|long|wide|deep|much)\b|\bfits?\b|\bmeasures?\b"));
    let found = AS
        .find_iter(flow.get(from, to))
        .map(|found| (begins(flow, from, from + found.start()), from + found.end()))
        .find(|&(start, end)| !LENGTH.is_match(flow.get(start, end)))?;
    Some(found)
}

/// The first bind-off from here on that shapes an edge, with the start of its instruction.
pub(super) fn shaping(flow: &Flow, from: usize, to: usize) -> Option<usize> {
    static OTHER: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)^\s*(?:in rib|in patt|loosely|all\b|(?:the )?rem|row|edge\b)")
    });
    let text = flow.get(from, to);
    let verb = BIND_OFF.find_iter(text).find(|found| {
        let rest = text.get(found.end()..).unwrap_or_default();
        !OTHER.is_match(rest.get(..rest.floor_char_boundary(40)).unwrap_or_default())
    })?;
    Some(begins(flow, from, from + verb.start()))
}

/// Where the instruction of this verb begins.
fn begins(flow: &Flow, from: usize, verb: usize) -> usize {
    static END: LazyLock<Regex> = LazyLock::new(|| regex(r"(?:[.:;!]|\.?[—–]|\*\*)\s+|\n"));
    static LABEL: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)(?:\brows? \d+(?:\s*(?:[-–—&,]|and|to)\s*\d+)*|\d+(?:st|nd|rd|th) row|next row|\brow)\s*(?:\((?:RS|WS)\))?:\s*$",
        )
    });
    static LENGTH: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r#"(?i)measures?|until|\bafter\b|shape|shaping|\bcap\b|\btop\b|armhole|\bheight\b|\bat\b[^.;:\d]{0,20}\d[\d.,½¼¾ ()\[\]–-]*(?:cm|in(?:s|ches)?\b|")"#,
        )
    });
    let before = flow.get(from, verb);
    let mut start = 0;
    for end in END.find_iter(before) {
        // A line that goes on in small letters is set so, and begins nothing.
        let next = before.get(end.end()..).unwrap_or_default().chars().next();
        let goes_on = end.as_str() == "\n" && next.is_some_and(char::is_lowercase);
        if !goes_on && !LABEL.is_match(before.get(..end.end()).unwrap_or_default()) {
            start = end.end();
        }
    }
    let lead = before.get(start..).unwrap_or_default();
    if LENGTH.is_match(lead) {
        verb
    } else {
        from + start
    }
}

/// Stitches made or taken away, as a verb, or shaping that goes on without one: `then of every 6th row 8 times`.
pub(super) static CHANGES: LazyLock<Regex> = LazyLock::new(|| {
    regex(
        r"(?i)\b(?:inc|dec)(?:s|\.|reas\w+)?(?: |$)|\bm1|\b(?:make|add)\w* (?:\d|one|two|a st)|\bwiden|\bnarrow|\btak(?:e|ing) in|\bkfb|\bk ?\.? ?2 ?tog|\bssk\b|\bskp|\b(?:every|each|foll\w*|alt\w*)\b[^.;]{0,40}\b(?:rows?|rnds?|rounds?)\b[^.;]{0,40}\btimes\b",
    )
});

/// The end of the sentence that holds this byte: after its full stop.
pub(super) fn sentence_end(flow: &Flow, at: usize, to: usize) -> usize {
    static STOP: LazyLock<Regex> =
        LazyLock::new(|| regex(r"\.(?:\s+(?:[A-Z*\[(]|$)|\s*\n|$)|\n\s*\n|\n[A-Z]"));
    let text = flow.get(at, to);
    STOP.find(text).map_or(to, |stop| {
        at + stop.start()
            + usize::from(
                text.get(stop.start()..)
                    .is_some_and(|rest| rest.starts_with('.')),
            )
    })
}

/// The last printed count of stitches in this stretch, with its place.
pub(super) fn last_count(flow: &Flow, from: usize, to: usize) -> Option<(Vec<f64>, usize, usize)> {
    static COUNT: LazyLock<Regex> = LazyLock::new(|| {
        let list = super::lists::list();
        let st = r"\s*(?:sts?|stitches)\b";
        regex(&format!(
            r"(?i)(?:cast(?:ing)? on|\bCO|there are|you have|until|giving|\bhas|reach(?:es)?|\bto|on|=|–|—|--|\d\s?-|[.(\[]\s*|\n|,|;|:|times\s*,?|total of|now|have)\s*[(\[]?({list}){st}(?:\s*(?:on needles?|rem\w*|now|in all|total|\.|\)|\]|$|,|;|\n| on | using| with| and | in ))?"
        ))
    });
    static CHANGE: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)(?:inc\w*|dec\w*|slip|rep\w*|last|multiple of|work|knit|k)\s*[(\[]?$")
    });
    let text = flow.get(from, to);
    let counts = COUNT.captures_iter(text).filter_map(|found| {
        let list = found.get(1)?;
        let all = found.get(0)?;
        let lead = text.get(..all.start())?;
        let rest = text.get(all.end()..)?.trim_start();
        let cast = all.as_str().to_lowercase();
        let changes = CHANGE.is_match(lead)
            || rest.starts_with("inc")
            || rest.starts_with("dec")
            || rest.starts_with("each");
        // `dec to 40 sts` says what there are then, `dec 40 sts` does not.
        let whole = cast.starts_with("cast") || cast.trim_start().starts_with("to ");
        let large = super::lists::counts(list.as_str())
            .iter()
            .all(|n| *n >= 12.0);
        // A bracket behind a number is the rest of a list, no count of its own.
        let rest_of_list = all.as_str().starts_with(['(', '['])
            && lead
                .trim_end()
                .ends_with(|letter: char| letter.is_numeric());
        (!rest_of_list && (!changes || whole) && large).then(|| {
            (
                super::lists::counts(list.as_str()),
                from + all.start(),
                from + list.end(),
            )
        })
    });
    counts.last()
}

/// Where the armhole's lines end: at shoulder, neck, holder or a turn.
pub(super) fn armhole_end(flow: &Flow, from: usize, to: usize) -> usize {
    static STOP: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?im)(?:^|[.;:!]\s)\s*(?:(?:to )?(?:shape |slope )|(?:then |now |next |here )(?:come|comes|for|shape|work) (?:the )?|next row[^.]{0,20} )?(?:left |right |the |back |v-?)*(?:shoulders?|neck\w*)\b(?:\s*(?:and (?:neck|shoulders?)|shaping|slope))*|(?:^|[.;]\s+)\s*(?:then )?(?:bind|cast)[ -]off (?:all|rem|the rem|loosely|sts|straight)|(?:leave|place|slip|put)\b[^.]{0,50}holder|\bat (?:a |the )?(?:total )?height of [^.]{0,60}\b(?:cast|bind) off for (?:the )?shoulders?|\b(?:shape|slope) (?:the )?(?:shoulders?|neck|back neck)|(?:^|[.;]\s+)\s*k(?:nit)? ?\d+[^.]{0,40}turn",
        )
    });
    let text = flow.get(from, to);
    STOP.find(text).map_or(to, |stop| {
        let lead = stop.as_str();
        let dot = usize::from(lead.starts_with(['.', ';']));
        from + stop.start() + dot
    })
}
