//! Where the stitch pattern stands, and how its stitches are worked.

use super::printed::PrintedSection;
use crate::diagnostic::Diagnostic;
use crate::needle::codes;
use crate::needle::cursor::Cursor;
use crate::needle::knitted::Knitted;
use crate::needle::knitted::ToldChart;
use crate::needle::lexer::Token;
use crate::stitch::{Chart, Stitch, ground};

/// Numbers of a sentence, and those that it should have.
struct SentenceNumbers {
    of: &'static str,
    said: Vec<u32>,
    knitted: Vec<u32>,
}

/// The numbers of the head against the charts and the first round; none where no chart is told.
pub(super) fn check(printed: &PrintedSection, knitted: &Knitted) -> Vec<Diagnostic> {
    let Some((repeat, panels)) = knitted.charts.split_first() else {
        return Vec::new();
    };
    let tokens = printed.tokens();
    let mut panels = panels.iter();
    let mut found = Vec::new();
    for sentence in printed.sentences(&tokens) {
        let numbers = the_ground(sentence, repeat)
            .or_else(|| first_stitch(sentence, repeat))
            .or_else(|| panel(sentence, &mut panels))
            .or_else(|| first_round(sentence, knitted));
        let wrong = numbers.filter(|numbers| numbers.said != numbers.knitted);
        found.extend(wrong.map(|n| {
            let message = format!(
                "the head of the pattern has {:?} for {}, the charts and rows have {:?}",
                n.said, n.of, n.knitted
            );
            printed.differs(&codes::COUNT, message, sentence)
        }));
        let named = name_of_ground(printed, sentence);
        found.extend(named.filter(|name| !is_called(name, repeat)).map(|name| {
            let message = format!("the rows of the repeat are not those of \"{name}\"");
            printed.differs(&codes::NOT_THE_CHART, message, sentence)
        }));
    }
    found
}

/// Where the words `, a repeat of` begin in `Ground: 2x2 rib, a repeat of 4 sts and 1 row`.
fn repeat_at(sentence: &[Token<'_>]) -> Option<usize> {
    Cursor::new(sentence).phrase("Ground:").then_some(())?;
    let rest = |at: &usize| sentence.get(*at..).unwrap_or_default();
    (0..sentence.len()).find(|at| Cursor::new(rest(at)).phrase(", a repeat of"))
}

fn the_ground(sentence: &[Token<'_>], repeat: &ToldChart) -> Option<SentenceNumbers> {
    let mut c = Cursor::new(sentence.get(repeat_at(sentence)?..)?);
    c.expect(", a repeat of")?;
    let width = c.number()?;
    c.any(&["sts and", "st and"])?;
    Some(SentenceNumbers {
        of: "the repeat",
        said: vec![width, c.number()?],
        knitted: vec![repeat.width, repeat.height],
    })
}

fn name_of_ground(printed: &PrintedSection, sentence: &[Token<'_>]) -> Option<String> {
    let end = repeat_at(sentence)?;
    Some(printed.words(sentence.get(2..end)?))
}

/// True for the name of a ground with these rows, and for one of the knitter's own.
fn is_called(name: &str, repeat: &ToldChart) -> bool {
    match ground(name) {
        Some(known) => is_shifted(&known, repeat),
        None => name == "stitch pattern",
    }
}

/// The same repeat, begun anywhere: a left hand's or one that is turned round begins elsewhere.
fn is_shifted(known: &Chart, told: &ToldChart) -> bool {
    let rows = known.rows();
    let (high, wide) = (known.height(), known.width());
    let same_size = told.rows.len() == high && told.rows.iter().all(|row| row.len() == wide);
    let shifted = |down: usize, across: usize| {
        (0..high).all(|at| {
            let (Some(a), Some(b)) = (rows.get((at + down) % high), told.rows.get(at)) else {
                return false;
            };
            (0..wide).all(|place| a.get((place + across) % wide) == b.get(place))
        })
    };
    same_size && (0..high).any(|down| (0..wide).any(|across| shifted(down, across)))
}

/// `The first crown st of an RS row is st 2 of the repeat`.
fn first_stitch(sentence: &[Token<'_>], repeat: &ToldChart) -> Option<SentenceNumbers> {
    let mut c = Cursor::new(sentence);
    c.expect("The first crown st of an RS row is st")?;
    Some(SentenceNumbers {
        of: "the first crown st",
        said: vec![c.number()?],
        knitted: vec![repeat.first_stitch],
    })
}

/// `Panel "cable": 12 sts from crown st 7 on, row 7 of its chart on row 1 of the cap`.
fn panel(
    sentence: &[Token<'_>],
    panels: &mut std::slice::Iter<'_, ToldChart>,
) -> Option<SentenceNumbers> {
    let read = |at: usize| {
        let mut c = Cursor::new(sentence.get(at..)?);
        c.expect(":")?;
        let width = c.number()?;
        c.any(&["sts from crown st", "st from crown st"])?;
        let first = c.number()?;
        c.expect("on, row")?;
        let row = c.number()?;
        c.expect("of its chart on row")?;
        Some(vec![width, first, row, c.number()?])
    };
    Cursor::new(sentence).phrase("Panel").then_some(())?;
    let said = (0..sentence.len()).find_map(read)?;
    let knitted = panels
        .next()
        .map(|panel| vec![panel.width, panel.first_stitch, panel.first_row, 1]);
    Some(SentenceNumbers {
        of: "a panel",
        said,
        knitted: knitted.unwrap_or_default(),
    })
}

/// `Round 1 is row 6 of the repeat and begins with st 2`, `Round 1 goes on as the rows did and begins with st 4`.
fn first_round(sentence: &[Token<'_>], knitted: &Knitted) -> Option<SentenceNumbers> {
    let round = knitted.pattern.last()?;
    let mut c = Cursor::new(sentence);
    c.expect("Round")?;
    let mut said = vec![c.number()?];
    let mut found = vec![1];
    if c.phrase("is row") {
        said.push(c.number()?);
        found.push(round.of_ground);
        c.expect("of the repeat")?;
    } else {
        c.expect("goes on as the rows did")?;
    }
    if c.phrase("and begins with st") {
        said.push(c.number()?);
        found.push(round.first);
    }
    Some(SentenceNumbers {
        of: "round 1",
        said,
        knitted: found,
    })
}

/// How each stitch of the charts is worked, word for word as the table has it.
pub(super) fn stitches(printed: &PrintedSection, knitted: &Knitted) -> Vec<Diagnostic> {
    let cells = knitted
        .charts
        .iter()
        .flat_map(|chart| chart.rows.iter().flatten());
    let mut all: Vec<Stitch> = cells.map(|cell| cell.stitch).collect();
    all.sort_unstable();
    all.dedup();
    let tokens = printed.tokens();
    let wrong = all.iter().filter_map(|stitch| {
        let (short, meaning) = stitch.explained();
        let near = PrintedSection::nearest(&tokens, &format!("{short}: {meaning}"))?;
        let message = format!("{short} is not told as the charts need it: {meaning}");
        Some(printed.differs(&codes::NOT_THE_CHART, message, near))
    });
    wrong.collect()
}
