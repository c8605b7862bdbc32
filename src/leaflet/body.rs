//! The body's armholes, back and front.

use std::sync::LazyLock;

use regex::Regex;

use super::as_back::{as_back, counts_change, is_unlike, reversed_otherwise, sent_before};
use super::cap_lines::lines_of;
use super::cuff::{EVENLY_OTHERWISE, evenly_otherwise};
use super::hem::{FromHem, from_hem};
use super::lengths::lengths;
use super::lists::{UNIT, fall, fits, regex};
use super::section::{CHANGES, Part, TextSection, armhole_end, last_count, sentence_end, shaping};
use super::sleeve::counted;
use super::{Evidence, Fact, Flow, divided};

/// Where a piece with an armhole begins, where its armhole does and ends, and where the piece ends.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shaped {
    pub(super) begins: usize,
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) ends: usize,
}

/// The back, where it has an armhole.
pub(super) fn back(flow: &Flow, sections: &[TextSection]) -> Option<Shaped> {
    let mut backs = sections.iter().filter(|section| section.part == Part::Back);
    backs.find_map(|section| {
        let armhole = armhole(flow, *section)?;
        Some(Shaped {
            begins: section.from,
            from: armhole.from,
            to: armhole.to,
            ends: section.to,
        })
    })
}

/// Where a whole front begins and ends.
pub(super) fn front(sections: &[TextSection]) -> Option<(usize, usize)> {
    let mut fronts = sections
        .iter()
        .filter(|section| section.part == Part::Front && !section.half);
    fronts.next().map(|section| (section.from, section.to))
}

/// The lines of the back's armhole.
pub(super) fn back_lines(flow: &Flow, sections: &[TextSection]) -> Option<String> {
    let mut backs = sections.iter().filter(|section| section.part == Part::Back);
    Some(backs.find_map(|section| armhole(flow, *section))?.lines)
}

/// One piece's armhole.
pub(super) struct PieceArmhole {
    stitches: Option<(Vec<f64>, usize, usize)>,
    pub(super) lines: String,
    /// Where its piece begins.
    pub(super) begins: usize,
    pub(super) from: usize,
    to: usize,
    /// Its length was told from the hem: what the lines had to say instead.
    from_hem: Option<FromHem>,
}

/// The facts of the armholes.
pub(super) fn facts(flow: &Flow, sections: &[TextSection], sizes: usize) -> Vec<Fact> {
    let of = |part: Part| sections.iter().filter(move |section| section.part == part);
    let mut back = of(Part::Back).find_map(|section| armhole(flow, *section));
    let mut front = of(Part::Front).find_map(|section| Some((*section, armhole(flow, *section)?)));
    for one in back
        .iter_mut()
        .chain(front.iter_mut().map(|front| &mut front.1))
    {
        one.from_hem = from_hem(flow, &one.lines, (one.begins, one.from), sizes);
        if let Some(hem) = &one.from_hem {
            one.lines.clone_from(&hem.lines);
        }
    }
    let own = |section| armhole(flow, section).map(|own| (own.from, own.to));
    let alike = of(Part::Front).find_map(|section| as_back(flow, *section, own(*section)));
    match (back, front) {
        (Some(back), Some((section, front))) if alike.is_none() => {
            let halves: Vec<TextSection> = of(Part::Front).copied().collect();
            each_of_its_own(flow, sizes, &back, (section, front), &halves)
        }
        (Some(back), _) => {
            let mut facts = write(flow, "armhole", &back, sizes);
            for fact in facts.iter_mut().filter(|fact| fact.key.ends_with("lines")) {
                match &alike {
                    Some(words) => {
                        fact.evidence.push(words.clone());
                        fact.say("The front is worked as the back.");
                        if of(Part::Front)
                            .any(|section| is_unlike(flow, *section, flow.get(back.from, back.to)))
                        {
                            fact.doubt("But something about its armholes or sides is another.");
                        }
                    }
                    None => fact
                        .doubt("No armhole of the front was found; it is taken to be the back's."),
                }
            }
            facts
        }
        (None, Some((_, front))) => {
            let mut facts = write(flow, "armhole", &front, sizes);
            for fact in &mut facts {
                fact.doubt("Only the front's armhole was found; it is taken for both.");
            }
            facts
        }
        (None, None) => divided::facts(flow, sections, sizes).unwrap_or_else(|| {
            let why = "No armhole was found in a section for the back or the front.";
            vec![
                Fact::missing("armhole.stitches", why),
                Fact::missing("armhole.lines", why),
            ]
        }),
    }
}

/// Back and front have armholes of their own; a front's section, its armhole, and all sections of fronts.
fn each_of_its_own(
    flow: &Flow,
    sizes: usize,
    back: &PieceArmhole,
    (section, mut front): (TextSection, PieceArmhole),
    fronts: &[TextSection],
) -> Vec<Fact> {
    let mut facts = write(flow, "armhole.back", back, sizes);
    // A length before the neck is the neck's; where the front ends is where the back does.
    let at_neck = is_at_neck(flow, front.to, section.to);
    let open = at_neck || needs_length(&front.lines);
    let to_shoulder = straight(&back.lines)
        .filter(|_| open)
        .and_then(|tail| with_tail(&front.lines, tail));
    let mut from_back = Vec::new();
    let unknown = at_neck && to_shoulder.is_none();
    if let Some(lines) = to_shoulder {
        front.lines = lines;
        from_back.push(flow.evidence(back.from, back.to));
    }
    let mut mine = write(flow, "armhole.front", &front, sizes);
    if fronts
        .iter()
        .any(|section| reversed_otherwise(flow, *section))
    {
        for fact in mine.iter_mut().filter(|fact| !fact.value.is_empty()) {
            fact.doubt("The other front has an armhole of its own.");
        }
    }
    let sent = sent_before(flow, front.begins, front.from)
        .filter(|_| counts_change(flow, back.begins, back.from));
    let before = front.stitches.as_ref().map(|(_, from, _)| *from);
    if sent.zip(before).is_some_and(|(sent, before)| before < sent) {
        let mut counts = mine.iter_mut();
        if let Some(count) = counts.find(|fact| fact.key.ends_with("stitches")) {
            count.doubt("It is printed before the words that send the front to the back.");
        }
    }
    let mut lines = mine.iter_mut().find(|fact| fact.key.ends_with("lines"));
    if let Some(fact) = lines.as_mut().filter(|_| !from_back.is_empty()) {
        fact.evidence.append(&mut from_back);
        fact.say("The length is that of the back, which the front matches at the shoulder.");
        if let Some(hem) = &back.from_hem {
            fact.doubt(&hem.why);
        }
    } else if let Some(fact) = lines.filter(|_| unknown) {
        fact.doubt(
            "They end at the neck, and no length of the back goes on from there to the shoulder.",
        );
    }
    if section.half && mine.iter().all(|fact| fact.value.is_empty()) {
        mine.clear();
    }
    facts.extend(mine);
    facts
}

fn write(flow: &Flow, table: &str, armhole: &PieceArmhole, sizes: usize) -> Vec<Fact> {
    let key = format!("{table}.stitches");
    let stitches = match &armhole.stitches {
        Some((values, from, to)) => {
            let mut fact = counted(&key, values, flow.evidence(*from, *to), sizes);
            if let Some(change) = CHANGES.find(flow.get(*to, armhole.from)) {
                let at = to + change.start();
                fact.evidence
                    .push(flow.evidence(at, sentence_end(flow, at, armhole.from)));
                fact.doubt("Stitches are increased or decreased after this count, and none is printed after that.");
            }
            if evenly_otherwise(flow, armhole.begins, armhole.from) {
                fact.doubt(EVENLY_OTHERWISE);
            }
            fact
        }
        None => Fact::missing(&key, "No count of stitches stands before the armhole."),
    };
    let mut lines = Fact::new(
        &format!("{table}.lines"),
        armhole.lines.clone(),
        vec![flow.evidence(armhole.from, armhole.to)],
    );
    let measured = lengths(flow, armhole.from, armhole.to, sizes);
    if measured
        .iter()
        .any(|length| fits(&length.values, sizes) && fall(&length.values))
    {
        lines.doubt("A length in them is shorter for a larger size.");
    }
    if let Some(hem) = &armhole.from_hem {
        lines.evidence.push(hem.side.clone());
        lines.doubt(&hem.why);
    }
    if let Some(height) = height(flow, armhole) {
        lines.evidence.push(height);
        lines.doubt("How high the armhole is follows from two heights of the back: that at which its shoulders begin, less that at which it does. Add it, as \"work until armhole measures ...\".");
    } else if needs_length(&armhole.lines) {
        lines.doubt("They say no length or count of rows up to the shoulder.");
    }
    vec![stitches, lines]
}

/// `At a total height of 55 (56, 57) cm cast off for the shoulders`, behind an armhole's lines.
fn height(flow: &Flow, armhole: &PieceArmhole) -> Option<Evidence> {
    static HEIGHT: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)^\s*at (?:a |the )?(?:total )?height of [^.]{0,60}shoulders?")
    });
    let rest = flow.get(armhole.to, flow.text.len());
    let found = HEIGHT.find(rest)?;
    Some(flow.evidence(armhole.to, armhole.to + found.end()))
}

fn armhole(flow: &Flow, section: TextSection) -> Option<PieceArmhole> {
    static CAST: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bcast(?:ing)? on|\bCO\b"));
    if !CAST.is_match(flow.get(section.from, section.to)) {
        return None;
    }
    let from = shaping(flow, section.from, section.to)?;
    let to = armhole_end(flow, from, section.to);
    let lines = lines_of(&flow.said(from, to));
    Some(PieceArmhole {
        stitches: last_count(flow, section.from, from),
        lines,
        begins: section.from,
        from,
        to,
        from_hem: None,
    })
}

static LENGTH: LazyLock<Regex> = LazyLock::new(|| {
    let list = super::lists::list();
    regex(&format!(
        r"(?i)(?:until|when|after|till|to)\b[^.\d]{{0,60}}{list}\s*{UNIT}|(?:work|patt|cont\w*|knit)\b[^.\d]{{0,20}} {list}\s*(?:more |further )?rows|\w (?:for )?{list}\s*{UNIT}"
    ))
});

fn needs_length(lines: &str) -> bool {
    static BACK: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)less than|shorter than|same as|matches|fewer|as back"));
    !LENGTH.is_match(lines) || BACK.is_match(lines)
}

/// The last sentence that says how long the armhole is.
fn straight(lines: &str) -> Option<&str> {
    let found = lines
        .split_inclusive(". ")
        .flat_map(|part| part.split_inclusive(".\n"));
    let found: Vec<&str> = found.filter(|sentence| LENGTH.is_match(sentence)).collect();
    found.last().map(|sentence| sentence.trim())
}

/// True where the neck begins at `from`, and no shoulder with it.
fn is_at_neck(flow: &Flow, from: usize, to: usize) -> bool {
    static FIRST: LazyLock<Regex> = LazyLock::new(|| regex(r"^[\s.;:!]*[^.;:\n]*"));
    static NECK: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bneck|\bturn|\bholder|\bcent(?:re|er)"));
    let first = FIRST
        .find(flow.get(from, to))
        .map_or("", |found| found.as_str());
    NECK.is_match(first) && !first.to_lowercase().contains("shoulder")
}

/// These lines without what they say about going on straight, and the other piece's words for it; none where the
/// armhole is shaped after those words.
fn with_tail(lines: &str, tail: &str) -> Option<String> {
    static SHAPES: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:dec\w*|tog|(?:bind|cast)\w* off|BO)\b"));
    static STRAIGHT: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)(?:^|[.]\s+)((?:work|cont\w*|keep|patt|knit)[^.]{0,40}(?:straight|even|without|until|unti))",
        )
    });
    let cut = STRAIGHT
        .captures_iter(lines)
        .filter_map(|found| found.get(1))
        .last();
    let (head, rest) = cut
        .and_then(|cut| lines.split_at_checked(cut.start()))
        .unwrap_or((lines, ""));
    (!SHAPES.is_match(rest)).then(|| format!("{}\n{tail}", head.trim_end()))
}
