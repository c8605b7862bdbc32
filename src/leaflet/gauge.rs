//! Gauges: so many stitches and rows, over how much of which stitch; the sleeve's and the body's.

use std::sync::LazyLock;

use regex::Regex;

use crate::measure::CM_PER_INCH;

use super::fabric::{FabricOf, PLAIN, fabrics};
use super::lists::{NUMBER, TWO_READINGS, UNIT, lengths, numbers, regex, unit_word};
use super::section::sentence_end;
use super::{Evidence, Fact, Flow};

/// One gauge as printed.
struct PrintedGauge {
    stitches: f64,
    rows: Option<f64>,
    over: f64,
    unit: &'static str,
    /// The same length in the other unit, where it is printed too.
    other: Option<f64>,
    /// What it is over, by the words round it.
    fabrics: Vec<&'static str>,
    /// A comma in its numbers, with two digits behind it, may be none of a decimal.
    two_readings: bool,
    from: usize,
    to: usize,
    /// Where the words about it end.
    end: usize,
}

impl PrintedGauge {
    /// Stitches and rows to the centimetre.
    fn per_cm(&self) -> (f64, Option<f64>) {
        let length = self.over * if self.unit == "in" { CM_PER_INCH } else { 1.0 };
        (self.stitches / length, self.rows.map(|rows| rows / length))
    }

    fn is_rib(&self) -> bool {
        self.fabrics.contains(&"rib")
    }

    /// True for one that says the same: the same numbers, in the other unit about the same.
    fn is_like(&self, other: &Self) -> bool {
        let ((a, a_rows), (b, b_rows)) = (self.per_cm(), other.per_cm());
        let most = if self.unit == other.unit {
            0.002
        } else {
            0.025
        };
        let near = |a: f64, b: f64| (a - b).abs() <= most * a.max(b);
        let other_stitch =
            !self.fabrics.is_empty() && !other.fabrics.is_empty() && self.fabrics != other.fabrics;
        let rows_alike = match (a_rows, b_rows) {
            (Some(a), Some(b)) => near(a, b),
            _ => !other_stitch,
        };
        near(a, b) && rows_alike
    }
}

/// Needles named between the counts and the length: `on 4.5 mm needles`, `on needles 4`, `using larger needles`.
const NEEDLE: &str = r",?\s+(?:on|with|using)\s+(?:needles?\s+(?:(?:nos?\.?|sizes?)\s*)?\d+(?:[.,]\d+|\s?[½¼¾])?(?:\s*mm\b)?|(?:(?:US|UK|sizes?|nos?\.?)\s*)*\d+(?:[.,]\d+|\s?[½¼¾])?(?:\s*mm)?\s+needles?|(?:the\s+)?(?:larg|small)er\s+needles?)";

fn printed(flow: &Flow) -> Vec<PrintedGauge> {
    static FORM: LazyLock<Regex> = LazyLock::new(|| {
        let (unit, number, needle) = (UNIT, &*NUMBER, NEEDLE);
        let eq =
            r"(?:=|equals?|to|(?:should )?(?:measures?|makes?|gives?|equal|cover)|per|over|is|:)";
        regex(&format!(
            r"(?i)({number})\s*(?:sts?\b|stitches)\.?(?:\s*(?:and|x|×|,|by|;|&|\+|/)?\s*({number})\s*(?:rows?|rnds?|r\b)\.?)?(?:\s+(?:in|over|of)\s+[a-z ]{{3,30}}?)?(?:{needle}\s*(?:=|equals?|to|measures?|makes?|gives?)|\s*{eq})?\s*(?:(?:an?\s+|the\s+)?(?:one|({number}))|an?\b|the\b)\s*(?:{unit}?\s*[x×]\s*{number}\s*)?(?:sq(?:uare|\.)\s*)?({unit})?(?:\s?square)?\s*(?:[(\[/]\s*({number})\s*({unit})?)?"
        ))
    });
    let text = &flow.text;
    let mut out = Vec::new();
    let unit_of = |text: Option<regex::Match<'_>>, all: &str| {
        let word = text.map_or("", |unit| unit.as_str());
        let inch = all.to_lowercase().contains("inch") || all.contains('"');
        match word {
            "" if all.to_lowercase().contains("cm") => Some("cm"),
            "" if inch => Some("in"),
            "" => None,
            word => Some(unit_word(word)),
        }
    };
    for found in FORM.captures_iter(text) {
        let Some(all) = found.get(0) else { continue };
        let one = |at: usize| first_number(&found, at);
        let (Some(stitches), Some(unit)) = (one(1), unit_of(found.get(4), all.as_str())) else {
            continue;
        };
        let over = one(3).unwrap_or(1.0);
        let two_readings = has_two_readings(&found, [1, 2]);
        out.push(PrintedGauge {
            stitches,
            rows: one(2),
            over,
            unit,
            other: one(5),
            fabrics: Vec::new(),
            two_readings,
            from: all.start(),
            to: all.start() + all.as_str().trim_end().len(),
            end: all.end(),
        });
    }
    out.extend(inverse(flow));
    let told = rows_first(flow);
    // `30 rows and 22 sts = 10 cm`: its second half was taken for a gauge without rows.
    out.retain(|gauge| {
        told.iter()
            .all(|whole| !(whole.from..whole.to).contains(&gauge.from))
    });
    out.extend(told);
    out.retain(|gauge| {
        let per_cm =
            gauge.stitches / gauge.over / if gauge.unit == "in" { CM_PER_INCH } else { 1.0 };
        (0.5..=6.0).contains(&per_cm)
    });
    out.sort_by_key(|gauge| gauge.from);
    with_fabrics(flow, &mut out);
    out
}

fn first_number(found: &regex::Captures<'_>, at: usize) -> Option<f64> {
    numbers(found.get(at)?.as_str()).first().copied()
}

fn has_two_readings(found: &regex::Captures<'_>, counts: [usize; 2]) -> bool {
    let mut counts = counts.into_iter().filter_map(|at| found.get(at));
    counts.any(|count| lengths(count.as_str(), 1).1)
}

/// `10 cm = 22 sts`.
fn inverse(flow: &Flow) -> Vec<PrintedGauge> {
    static INVERSE: LazyLock<Regex> = LazyLock::new(|| {
        let (number, needle) = (&*NUMBER, NEEDLE);
        regex(&format!(
            r"(?i)({number})\s*({UNIT})\s*(?:square)?(?:\s+(?:of|in|over)\s+[a-z .]{{3,30}}?)?(?:{needle})?\s*(?:=|equals?|:)\s*({number})\s*(?:sts?\b|stitches)\.?(?:\s*(?:and|x|×|,|by|;|&)?\s*({number})\s*(?:rows?|rnds?)\b)?"
        ))
    });
    let text = &flow.text;
    let mut out = Vec::new();
    for found in INVERSE.captures_iter(text) {
        let Some(all) = found.get(0) else { continue };
        let one = |at: usize| first_number(&found, at);
        let (Some(over), Some(stitches)) = (one(1), one(3)) else {
            continue;
        };
        let unit = found.get(2).map_or("cm", |unit| unit_word(unit.as_str()));
        let (rows, other) = (one(4), None);
        let two_readings = has_two_readings(&found, [3, 4]);
        out.push(PrintedGauge {
            stitches,
            rows,
            over,
            unit,
            other,
            fabrics: Vec::new(),
            two_readings,
            from: all.start(),
            to: all.start() + all.as_str().trim_end().len(),
            end: all.end(),
        });
    }
    out
}

/// `30 rows and 22 sts = 10 cm`, and behind the word alone `Gauge: 22 x 30 = 10 cm`.
fn rows_first(flow: &Flow) -> Vec<PrintedGauge> {
    static ROWS: LazyLock<Regex> = LazyLock::new(|| {
        let (number, unit) = (&*NUMBER, UNIT);
        regex(&format!(
            r"(?i)({number})\s*rows?\s*(?:and|x|×|,|by|&|\+|/)\s*({number})\s*(?:sts?\b|stitches)\.?\s*(?:=|equals?|to|measures?|make|per|over|:)\s*(?:an?\s+)?({number})?\s*(?:{unit}?\s*[x×]\s*{number}\s*)?({unit})"
        ))
    });
    static BARE: LazyLock<Regex> = LazyLock::new(|| {
        let (number, unit) = (&*NUMBER, UNIT);
        regex(&format!(
            r"(?i)\b(?:gauge|tension)\b[^\d\n]{{0,40}}({number})\s*[x×/]\s*({number})\s*(?:=|equals?|to|measures?|per|over|:|in)\s*(?:an?\s+)?({number})\s*(?:{unit}?\s*[x×]\s*{number}\s*)?({unit})"
        ))
    });
    let all = |form: &'static Regex, stitches: usize, rows: usize| {
        form.captures_iter(&flow.text).filter_map(move |found| {
            let all = found.get(0)?;
            let begins = found.get(1)?.start();
            Some(PrintedGauge {
                stitches: first_number(&found, stitches)?,
                rows: first_number(&found, rows),
                over: first_number(&found, 3).unwrap_or(1.0),
                unit: unit_word(found.get(4)?.as_str()),
                other: None,
                fabrics: Vec::new(),
                two_readings: has_two_readings(&found, [1, 2]),
                from: begins,
                to: begins + flow.get(begins, all.end()).trim_end().len(),
                end: all.end(),
            })
        })
    };
    // Stitches stand first where neither is named (common practice, no source); a usual ratio says the same.
    let bare =
        all(&BARE, 1, 2).filter(|gauge| gauge.rows.is_some_and(|rows| rows > gauge.stitches));
    all(&ROWS, 2, 1).chain(bare).collect()
}

/// The words that say what each gauge is over: its own, those behind it up to the next mark or gauge, or else those
/// before it.
fn with_fabrics(flow: &Flow, all: &mut [PrintedGauge]) {
    let places: Vec<(usize, usize)> = all.iter().map(|gauge| (gauge.from, gauge.to)).collect();
    for (at, gauge) in all.iter_mut().enumerate() {
        let before = at.checked_sub(1).and_then(|at| places.get(at));
        let before = before.map_or(0, |place| place.1);
        let after = places.get(at + 1).map_or(flow.text.len(), |place| place.0);
        let own = flow.get(gauge.from, gauge.to);
        let behind = behind(flow.get(gauge.to, after), after < flow.text.len());
        let ahead = ahead(flow.get(before, gauge.from), before > 0);
        gauge.fabrics = fabrics(&format!("{own} {behind}"));
        gauge.end = gauge.to + behind.trim_end().len();
        if gauge.fabrics.is_empty() {
            gauge.fabrics = fabrics(ahead);
        }
    }
}

/// What begins another statement.
static STOP: LazyLock<Regex> =
    LazyLock::new(|| regex(r"[;\n]\s*(?:[^a-z]|$)|[;]|\.\s+(?:[A-Z][a-z]|[A-Z]{3}|\d)"));

/// Marks that part one gauge from the next.
static MARK: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)[,;:.\n]\s|\band\b|\bor\b"));

/// The words behind a gauge that are of it: up to the next statement, and where another gauge follows, up to the last mark
/// before that.
fn behind(text: &str, another: bool) -> &str {
    let end = STOP.find(text).map_or(text.len(), |stop| stop.start());
    let mark = MARK
        .find_iter(text)
        .last()
        .filter(|_| another && end == text.len());
    text.get(..mark.map_or(end, |mark| mark.start()))
        .unwrap_or_default()
}

/// The words before a gauge that are of it.
fn ahead(text: &str, another: bool) -> &str {
    // `In moss st: 20 sts`: the mark right before the numbers parts nothing.
    let text = text.trim_end().trim_end_matches([':', '-', '–', '—']);
    let line = text.rfind(['\n', ';']).map_or(0, |at| at + 1);
    let stop = STOP.find_iter(text).last().map_or(0, |stop| stop.start());
    let mark = MARK.find_iter(text).last().filter(|_| another);
    let from = line.max(stop).max(mark.map_or(0, |mark| mark.start()));
    text.get(from..).unwrap_or_default()
}

/// The gauges of all but rib, unless there is no other; those that say the same but once.
fn different(all: &[PrintedGauge]) -> Vec<&PrintedGauge> {
    let mut out: Vec<&PrintedGauge> = Vec::new();
    let only_rib = all.iter().all(PrintedGauge::is_rib);
    for gauge in all.iter().filter(|gauge| only_rib || !gauge.is_rib()) {
        if !out.iter().any(|known| known.is_like(gauge)) {
            out.push(gauge);
        }
    }
    out
}

/// The gauge of a piece: the only one of its stitch.
fn of_stitch<'a>(all: &[&'a PrintedGauge], worked: Option<&FabricOf>) -> Option<&'a PrintedGauge> {
    let stitch = worked?.stitch;
    let mut mine = all.iter().filter(|gauge| gauge.fabrics == [stitch]);
    mine.next().filter(|_| mine.next().is_none()).copied()
}

/// The gauge of plain knitting where it is said, else the first.
fn chosen<'a>(main: &[&'a PrintedGauge]) -> Option<&'a PrintedGauge> {
    let plain = main.iter().find(|gauge| gauge.fabrics.contains(&PLAIN));
    plain.or_else(|| main.first()).copied()
}

/// Where the gauge of the main stitch ends, and over what length it is printed.
pub(super) fn gauge_place(flow: &Flow) -> Option<(usize, f64, &'static str)> {
    chosen(&different(&printed(flow))).map(|gauge| (gauge.to, gauge.over, gauge.unit))
}

/// The gauges of sleeve and body, with the length each is over.
pub(super) fn gauge(
    flow: &Flow,
    units: &str,
    sleeve: Option<&FabricOf>,
    body: Option<&FabricOf>,
) -> Vec<Fact> {
    let all = printed(flow);
    let different = different(&all);
    let Some(guess) = chosen(&different) else {
        let why = "No gauge (tension) was found: so many stitches to 10 cm or 4 in.";
        return vec![
            Fact::missing("gauge.pattern.stitches", why),
            Fact::missing("gauge.pattern.rows", why),
        ];
    };
    if different.len() == 1 {
        let mut facts = facts_of("gauge.pattern", (flow, &different), guess, units);
        if let Some((why, quoted)) = of_another_stitch(flow, guess, sleeve) {
            facts = doubted(facts, &quoted, &why);
        }
        return facts;
    }
    let quoted: Vec<Evidence> = different
        .iter()
        .map(|gauge| flow.evidence(gauge.from, gauge.end))
        .collect();
    let words: Vec<String> = quoted.iter().map(|at| format!("\"{}\"", at.text)).collect();
    let said = words.join(", ");
    let mut facts = match of_stitch(&different, sleeve) {
        Some(gauge) => {
            let mut facts = facts_of("gauge.pattern", (flow, &different), gauge, units);
            name_stitch(&mut facts, flow, gauge, sleeve);
            facts
        }
        None => doubted(
            facts_of("gauge.pattern", (flow, &different), guess, units),
            &quoted,
            &format!(
                "More than one gauge is printed, {said}, and no words tell which is that of the sleeve's stitch."
            ),
        ),
    };
    let of_sleeve = of_stitch(&different, sleeve).unwrap_or(guess);
    match of_stitch(&different, body) {
        Some(gauge) if std::ptr::eq(gauge, of_sleeve) => {}
        Some(gauge) => {
            let mut own = facts_of("gauge.body", (flow, &different), gauge, units);
            name_stitch(&mut own, flow, gauge, body);
            facts.extend(own);
        }
        None => {
            let why = format!(
                "More than one gauge is printed, {said}, and no words tell which is the body's; it is taken to be the sleeve's unless [gauge.body] is given."
            );
            facts = doubted(facts, &quoted, &why);
        }
    }
    facts
}

/// Why the only gauge is not the sleeve's: it is told to be of another stitch than the sleeve is worked in, or of a pattern,
/// while plain knitting is spoken of.
fn of_another_stitch(
    flow: &Flow,
    gauge: &PrintedGauge,
    sleeve: Option<&FabricOf>,
) -> Option<(String, Vec<Evidence>)> {
    static PLAIN_WORDS: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)\bst\.? ?st\b|\bstock\w*|\bsmooth (?:st|knit)|\bplain (?:st|knit)")
    });
    let told = gauge.fabrics.first()?;
    let quoted = flow.evidence(gauge.from, gauge.end);
    // `Pattern` may be any of them.
    if gauge.fabrics.contains(&"pattern") {
        return None;
    }
    match sleeve {
        Some(worked) => {
            let same = gauge.fabrics.contains(&worked.stitch) || worked.stitch == "pattern";
            let why = format!(
                "\"{}\" is the gauge of {told}, and the sleeve is worked in {} (\"{}\"); no other is printed.",
                quoted.text, worked.stitch, worked.evidence.text
            );
            (!same).then(|| (why, vec![quoted, worked.evidence.clone()]))
        }
        None if gauge.fabrics.contains(&PLAIN) => None,
        None => PLAIN_WORDS.is_match(&flow.text).then(|| {
            let why = format!(
                "\"{}\" is the gauge of {told}, and no words tell that the sleeve is worked in it.",
                quoted.text
            );
            (why, vec![quoted])
        }),
    }
}

/// Each of these facts shows the gauge's stitch and where the piece is worked in it.
fn name_stitch(facts: &mut [Fact], flow: &Flow, gauge: &PrintedGauge, worked: Option<&FabricOf>) {
    for fact in facts
        .iter_mut()
        .filter(|fact| fact.status != super::Status::Missing)
    {
        fact.evidence = vec![flow.evidence(gauge.from, gauge.end)];
        fact.evidence
            .extend(worked.map(|worked| worked.evidence.clone()));
    }
}

fn doubted(mut facts: Vec<Fact>, quoted: &[Evidence], why: &str) -> Vec<Fact> {
    for fact in facts
        .iter_mut()
        .filter(|fact| fact.status != super::Status::Missing)
    {
        quoted.clone_into(&mut fact.evidence);
        fact.doubt(why);
    }
    facts
}

/// What the words beside a gauge say against it.
fn doubt(flow: &Flow, gauge: &PrintedGauge, stitches: &mut Fact) {
    static SMOOTH: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bst\.? ?st\b|stock|smooth|garter|\bplain"));
    static RANGE_BEFORE: LazyLock<Regex> = LazyLock::new(|| regex(r"\d\s?(?:[–-]|to|or)\s?$"));
    static UNWASHED: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bbefore (?:wash|block)|\bunwashed|\bunblocked"));
    static SLEEVES: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)^[^.\n]{0,80}\bsleeves?\b[^.\n]{0,60}\d[\d.,½¼¾]* ?(?:sts?|stitches|rows)\b")
    });
    static ROUND: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:rnds?|rounds)\b|\bin the round\b"));
    if gauge.two_readings {
        stitches.doubt(TWO_READINGS);
    }
    if RANGE_BEFORE.is_match(flow.get(0, gauge.from)) {
        stitches.doubt("A range is printed; this is its upper end.");
    }
    let sentence = flow.get(gauge.from, sentence_end(flow, gauge.from, flow.text.len()));
    if SLEEVES.is_match(flow.get(gauge.to, flow.text.len())) {
        stitches
            .doubt("Another gauge is told of the sleeves: look which one their cap is worked at.");
    }
    if ROUND.is_match(sentence) {
        stitches.doubt("It is told of rounds: look whether the sleeve is worked in rows, whose gauge may be another.");
    }
    if UNWASHED.is_match(sentence) {
        stitches.doubt("It is told before washing and after; look which one the measures are for.");
    }
    if gauge.is_rib() && SMOOTH.is_match(&flow.text) {
        stitches.doubt("It is the gauge of a rib, and no other is printed.");
    }
}

/// One gauge as facts of this table.
fn facts_of(
    table: &str,
    (flow, all): (&Flow, &[&PrintedGauge]),
    gauge: &PrintedGauge,
    units: &str,
) -> Vec<Fact> {
    static ROWS: LazyLock<Regex> = LazyLock::new(|| {
        let number = &*NUMBER;
        regex(&format!(
            r"(?i)({number})\s*rows?\.?\s*(?:=|equals?|to|measures?|per|over|make)\s*(?:an?\b|the|one|({number}))\s*{UNIT}"
        ))
    });
    let evidence = vec![flow.evidence(gauge.from, gauge.to)];
    let mut stitches = Fact::new(
        &format!("{table}.stitches"),
        gauge.stitches.to_string(),
        evidence.clone(),
    );
    doubt(flow, gauge, &mut stitches);
    let mut facts = vec![stitches];
    // Rows within another gauge are that one's.
    let of_another = |at: usize| all.iter().any(|one| (one.from..one.to).contains(&at));
    let mut loose = ROWS.captures_iter(&flow.text);
    let loose = loose.find(|found| found.get(1).is_some_and(|rows| !of_another(rows.start())));
    let apart = loose.and_then(|found| {
        let rows = *numbers(found.get(1)?.as_str()).first()?;
        let over = found
            .get(2)
            .and_then(|n| numbers(n.as_str()).first().copied())
            .unwrap_or(1.0);
        let all = found.get(0)?;
        Some((
            rows / over * gauge.over,
            flow.evidence(all.start(), all.end()),
        ))
    });
    let rows = gauge
        .rows
        .map(|rows| (rows, evidence.clone()))
        .or_else(|| apart.map(|(rows, at)| (rows, vec![at])));
    let rows = if let Some((rows, evidence)) = rows {
        let mut fact = rows_fact(table, rows, gauge, evidence);
        if fact.status == super::Status::Unsure
            && let Some(stitches) = facts.first_mut()
        {
            stitches.doubt(&fact.why);
        }
        if gauge.rows.is_none() && all.len() > 1 {
            fact.doubt("These rows are printed apart, and more than one gauge is: look whether they are of this stitch.");
        }
        if gauge.two_readings {
            fact.doubt(TWO_READINGS);
        }
        fact
    } else {
        let guess = (gauge.stitches / 0.73 * 2.0).round() / 2.0;
        let why = format!(
            "The row gauge is not printed. From a usual ratio it would be about {guess}; count your own swatch."
        );
        Fact::missing(&format!("{table}.rows"), &why)
    };
    facts.push(rows);
    let over = match (gauge.unit == units, gauge.other, gauge.unit) {
        (true, _, _) => gauge.over,
        (false, Some(other), _) => other,
        (false, None, "in") => gauge.over * CM_PER_INCH,
        (false, None, _) => (gauge.over / CM_PER_INCH * 1000.0).round() / 1000.0,
    };
    let usual = if units == "in" { 4.0 } else { 10.0 };
    if (over - usual).abs() > 1e-9 {
        facts.push(Fact::new(
            &format!("{table}.over"),
            over.to_string(),
            evidence,
        ));
    }
    facts
}

/// Rows, doubted where no knitting has such a ratio.
fn rows_fact(table: &str, rows: f64, gauge: &PrintedGauge, evidence: Vec<Evidence>) -> Fact {
    let stitches = gauge.stitches;
    let mut fact = Fact::new(&format!("{table}.rows"), rows.to_string(), evidence);
    let ratio = stitches / rows;
    // Published gauges lie between 0.67 and 0.79 in plain knitting.
    let plain = gauge.fabrics.iter().all(|stitch| *stitch == PLAIN);
    if plain && !(0.62..=0.85).contains(&ratio) || !(0.4..=1.1).contains(&ratio) {
        fact.doubt(&format!(
            "{stitches} stitches to {rows} rows is no usual ratio for plain knitting."
        ));
    }
    fact
}
