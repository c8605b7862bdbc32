//! The table of findings.

use super::codes_so_far::CODES_SO_FAR;
use crate::diagnostic::{Code, Diagnostic, Level, nearest};
use crate::{adapt, body, case, fit, needle, outline, pattern, stitch, swatch};

macro_rules! finding {
    ($name:ident, $id:literal, $level:ident, $title:literal, $why:literal, $source:literal, $next:literal) => {
        pub(crate) static $name: Code = Code {
            id: $id,
            level: Level::$level,
            title: $title,
            why: $why,
            source: $source,
            next: $next,
        };
    };
}

finding!(
    STOPPED,
    "stopped",
    Error,
    "the work was stopped",
    "Whoever asked for the answer went away or asked for something else, so it was not worked out to its end.",
    "the program itself",
    "Ask again."
);
finding!(
    ARMHOLE_COUNTS_DISAGREE,
    "armhole-counts-disagree",
    Warning,
    "the armhole's counts and its measures do not belong together",
    "Rows and stitches counted on a finished body have a length at the body's gauge. A tape that says \
     something else by more than half a centimetre and 3 % means a slip in one of them, or a body that \
     was knitted at another gauge. The pick-up goes by the counts, lengths by the tape.",
    "common practice, no source (the limit); arithmetic",
    "Count again, each stitch bound off in steps as a row, and measure again without stretching the edge; if both are right, give the body's own gauge as [gauge.body]."
);
finding!(
    ARMHOLE_AS_COUNTED,
    "armhole-as-counted",
    Note,
    "the body has other rows than its lines",
    "What was counted on the finished body stands: the pick-up goes into the rows that are there. The lines \
     still say how the lower part is shaped; what differs is taken to lie in the straight part above it.",
    "common practice, no source",
    "Nothing, if the counts are right."
);
finding!(
    TUBE_PAST_CUFF,
    "tube-past-cuff",
    Warning,
    "the tube has passed the cuff that is wanted",
    "A tube narrows or widens two stitches at a time in one direction. What is shaped beyond the cuff that is \
     wanted can only be had back by ripping, or by an even change in the cuff's first round.",
    "common practice, no source",
    "Keep the cuff that comes of it, or rip back to the count that is wanted."
);
finding!(
    CAP_EDGE_SHORT,
    "cap-edge-short",
    Warning,
    "the old cap's edge is shorter than the armhole",
    "Half the top and the curve of the cap are sewn to one side of the armhole. A shorter edge drags \
     across the shoulder, and a new cap of the same area keeps that fault. Measured net of seams, on \
     each side; more than 2 % or 3 mm shorter is reported.",
    "By Gum By Golly, 18 Mar 2011 (cap edge equal to the armhole or up to about an inch more, never \
     less); Interweave, 2013 (which lengths must match)",
    "Check that cap and armhole are of the same size, and the armhole's measures; else deepen the \
     cap or shorten the armhole before converting."
);
finding!(
    CAP_EDGE_LONG,
    "cap-edge-long",
    Warning,
    "the old cap's edge is much longer than the armhole",
    "A knitted cap has no ease, or up to about one inch (2.5 cm) over the whole armhole, front and back \
     together, to be eased in; more puckers. The larger figures in sewing books are for woven cloth. A side is looked at \
     by itself too: more than 15 % of it is reported, where the armhole is small or the other side is short.",
    "By Gum By Golly, 18 Mar 2011 (up to about an inch); J. Wolcott, sleeve cap adjustments (no ease \
     in knitwear unless designed in); the 15 %: common practice, no source",
    "Check the armhole's measures, or let `[adapt]` with `ease` shorten the edge. For a puffed cap this is intended: the crown will be gathered."
);
finding!(
    PUFFED_CROWN,
    "puffed-crown",
    Note,
    "the new cap has more edge than the armhole carries flat",
    "A cap that keeps a puffed cap's area has more edge than armhole: more than an inch (2.5 cm) over the \
     whole armhole. Spread along the armhole it is fullness everywhere; as gathers it belongs at the crown. The stitches of the \
     excess are then not picked up but made in the first short row, as many as the gap limit allows.",
    "By Gum By Golly, 18 Mar 2011 (up to about an inch is eased in); making them in the first row: common \
     practice, no source",
    "Leave the fullness as it is, or gather the crown with the numbers given."
);
finding!(
    AREA_OFF,
    "area-not-kept",
    Warning,
    "the new cap has more or less fabric than the old one",
    "The new cap keeps the old cap's area, so that it holds the same shoulder. More than 3 % off is \
     reported: about a row of the whole cap.",
    "common practice, no source (the limit); geometry",
    "Allow more runs or moves in [fit], or live with the difference."
);
finding!(
    SECTION_STRAIN,
    "section-strain",
    Warning,
    "a stretch of the new cap pulls or puckers where it is picked up",
    "Along each run of turns, and runs beside one another, the cap's edge is compared with the armhole that its stitches are picked up \
     from. A knitted edge gives way by a tenth unseen; more than 15 % over a hand's width shows as a pull or \
     a pucker.",
    "common practice, no source (the limit); geometry",
    "Allow more runs or moves in [fit], a wider base, or a gap limit of 2.4."
);
finding!(
    WIDTH_OFF,
    "width-not-kept",
    Warning,
    "a stretch of the new cap is much wider or narrower than the old one",
    "The new cap's width is compared with the old cap's at the same share of the depth, pair by pair. More \
     than 1 cm on a side is reported: there the cap bulges or is tight, whatever its area.",
    "common practice, no source (the limit); geometry",
    "Allow more runs or moves in [fit], or live with the difference."
);
finding!(
    NEW_EDGE_LONG,
    "new-edge-long",
    Warning,
    "the new cap's edge is much longer than the armhole",
    "Up to about one inch (2.5 cm) over the whole armhole, front and back together, is eased in; more \
     puckers; so does more than 15 % of one side. The old cap had no such excess, so it comes from the new cap: a depth and \
     a width kept in whole turn pairs, a limit on the moves, or a cap gauge far from the pattern's.",
    "By Gum By Golly, 18 Mar 2011 (cap edge equal to the armhole or up to about an inch more, never less); the 15 %: \
     common practice, no source",
    "Allow more runs or moves in [fit], or give the edge its length by `[adapt]` with `ease = 0`."
);
finding!(
    NEW_EDGE_SHORT,
    "new-edge-short",
    Warning,
    "the new cap's edge is shorter than the armhole",
    "An edge shorter than its armhole drags across the shoulder. More than 2 % short is reported, which is \
     more than the rounding to whole stitches and rows; of one side by itself, more than 2 % and 3 mm.",
    "By Gum By Golly, 18 Mar 2011 (cap edge equal to the armhole or up to about an inch more, never \
     less); the 2 %: common practice, no source",
    "Allow more runs or moves in [fit], or give the edge its length by `[adapt]` with `ease = 0`."
);
finding!(
    CAP_TOO_DEEP,
    "cap-too-deep",
    Warning,
    "the cap is very deep for its armhole",
    "Published rules put the cap's depth at about two thirds of the armhole's depth: 5 in for an 8 in \
     armhole, 5.5 in for 8.5 in. Reported above four fifths: such a cap bunches at the top or pulls at \
     the side when the arm is lifted.",
    "R. Hunter, 21 Nov 2011 (armhole depth minus 2, 3 or 4 in by chest); Slipped Stitches, Mar 2014; \
     S. Partlan, 2013 (a tube cut slantwise); the limit of 0.8: common practice, no source",
    "Check that cap and armhole belong to the same size, the row gauge, and that depth is measured \
     straight up; for a puffed cap it is meant."
);
finding!(
    CAP_TOO_SHALLOW,
    "cap-too-shallow",
    Warning,
    "the cap is very shallow for its armhole",
    "Published rules put the cap's depth at about two thirds of the armhole's depth: 5 in for an 8 in \
     armhole, 5.5 in for 8.5 in. Reported below one half: such a sleeve stands out from the body and \
     folds under the arm, as a drop-shoulder sleeve does.",
    "R. Hunter, 21 Nov 2011 (armhole depth minus 2, 3 or 4 in by chest); Slipped Stitches, Mar 2014; \
     S. Partlan, 2013 (a tube cut slantwise); the limit of 0.5: common practice, no source",
    "Check that cap and armhole belong to the same size, the row gauge, and that no lines of the cap \
     are missing."
);
finding!(
    ROW_OFF_CURVE,
    "row-off-curve",
    Warning,
    "rows narrow the cap far more than the rows around them",
    "Measured against the monotone curve through the other row pairs: a pair stands out by more than \
     one stitch a side, and a pair above it falls in by more than one. A cap flares at the underarm and \
     rounds off at the top, so this is the reverse of its shape, and probably a misprint or a \
     misreading. The pairs next to the top and to the underarm are not judged.",
    "the curve: Fritsch and Carlson, 1980; J. Wilson, Knitty winter 2004 (shallow at the underarm, steep \
     in the middle, shallow at the top); the limit of one stitch: common practice, no source",
    "Compare these words with the printed page or with the next size's number; look for errata."
);
finding!(
    ARMHOLE_UNFINISHED,
    "armhole-unfinished",
    Warning,
    "the armhole's lines stop before the shoulder",
    "The lines end while stitches are still being decreased: without a shoulder, a bind-off of the rest \
     or five even rows. Edge and depth are then only those of the lower part.",
    "common practice, no source",
    "Add the rows up to the shoulder, e.g. `work even until armhole measures 20 cm`."
);
finding!(
    ARMHOLE_ROWS_ABOVE,
    "armhole-rows-above",
    Warning,
    "many even rows above what is taken for the shoulder",
    "The first bind-off after five rows without one is taken for the shoulder, and so are decreases that go to the end \
     flatter than the diagonal; what is above is no armhole. Ten even rows or more above them may mean that they still \
     belong to the curve: edge and depth are then too short.",
    "common practice, no source",
    "If the armhole goes on there, write that bind-off as decreases; if not, end the lines at the shoulder."
);
finding!(
    ARMHOLE_SHARE,
    "armhole-share",
    Note,
    "how many people the armhole clears",
    "Nobody has measured a knitter's armhole depth or a cap's depth on people; the nearest are the scye \
     depth, compared with the armhole's depth, and the scye girth (round the shoulder joint), half of \
     which is compared with half the armhole's own girth. The drop from shoulder point to armpit is about \
     half an armhole depth and is not compared. Only a survey that can be asked for this chest gives a share; \
     one of everybody, whatever their size, would say nothing here (`capwright tables` shows them).",
    "US Air Force survey of 1967 (men); US Army, NATICK/TR-89/044, 1989",
    "Nothing, or measure a garment that fits and compare its armhole."
);
finding!(
    UNDERARM_UNEQUAL,
    "underarm-unequal",
    Note,
    "sleeve and body are bound off differently at the underarm",
    "The sleeve's first bind-off meets the body's first bind-off and is usually as wide. The new base \
     is picked up from the body's, one for one, so the difference moves into the cap.",
    "a designer's blog, 2011 (same for most sizes, longer on the body in some plus sizes)",
    "Nothing, if the pattern means it; else check both numbers."
);
finding!(
    UNDERARM_TOO_WIDE,
    "underarm-too-wide",
    Error,
    "the body's underarm takes most of the sleeve",
    "The base is picked up from the body's bound-off stitches, one for one. Where they take more than half of the \
     upper arm there is no cap left to be knitted; a sixth to a quarter is usual.",
    "common practice, no source",
    "Count the stitches bound off on one side of one piece, between the side seam and the first decrease."
);
finding!(
    FRONT_LONGER,
    "front-longer-than-back",
    Note,
    "the front armhole is longer than the back",
    "Where the two differ, the back is usually the longer one, because shoulders slope to the back \
     and arms reach forward. Reported from 1 cm on.",
    "common practice, no source",
    "Check that front and back are not exchanged."
);
finding!(
    TOP_ODD,
    "top-width-odd",
    Note,
    "the top of the cap is unusually wide or narrow",
    "The final bind-off of an adult's cap is 2 to 3 in wide, up to 5 in for wide caps.",
    "30-day sweater course, day 24; knitting handbook, p. 180 (about 2 3/4 in)",
    "Nothing, if the shape is meant; else check the last lines of the cap."
);
finding!(
    ARMHOLE_DEPTH_ODD,
    "armhole-depth-odd",
    Note,
    "the armhole's depth is unusual for the size",
    "The chart gives the armhole depth of each size; a garment adds ease to it. Reported when the \
     armhole is shallower than the chart's smallest figure or more than 5 cm deeper than its largest.",
    "Craft Yarn Council's www.YarnStandards.com; R. Hunter, 2011 (body measure + 1 to 2 in)",
    "Check the size given in [body] and the armhole's depth."
);
finding!(
    ARM_TIGHT,
    "upper-arm-tight",
    Warning,
    "the finished upper arm is tighter than the arm",
    "Knitting stretches, and close sleeves are often made a little smaller than the arm; more than \
     about a tenth smaller binds. Measured: finished width in rounds against the arm of the size, \
     the bust, or the one measured.",
    "common practice, no source (the limit of one tenth); the arm's own source is named in the message",
    "Choose a larger size or a wider upper arm, or measure the arm and give body.upper_arm."
);
finding!(
    ARM_LOOSE,
    "upper-arm-loose",
    Note,
    "the finished upper arm is much wider than the arm",
    "Reported when the sleeve is more than 15 cm (6 in) wider than the arm; that is more ease than a \
     loose garment usually has at the bust.",
    "Craft Yarn Council's ease bands (for the bust): loose fitting 4 to 6 in; carried over to the arm: \
     common practice, no source",
    "Nothing, if a wide sleeve is meant; else check the size."
);
finding!(
    ARM_SHARE,
    "upper-arm-share",
    Note,
    "how many people of this size the upper arm fits",
    "Bust or chest says little about the arm: at the same girth arms differ by about 7 cm from the \
     5th to the 95th person. The shares are those of people of this size in the survey named, soldiers for \
     adults, who are fitter than most: whose arm is no thicker than the sleeve as it is, and no thicker than \
     the sleeve stretched by a tenth. Where the survey has it, the arm at the armpit stands beside the \
     biceps: there the sleeve is joined. A few hundred people of one size leave a share 5 to 10 in 100 either \
     way, so it is said in words as coarse as that.",
    "US Army, NATICK/TR-15/007, 2014 (arm by chest); NATICK/TR-89/044, 1989 (arm at the armpit beside the \
     biceps); see `capwright tables`",
    "Measure the arm and give body.upper_arm; that beats any table."
);
finding!(
    GAUGE_ASSUMED,
    "gauge-assumed",
    Warning,
    "no swatch in the round: the pattern's gauge is taken for the tube",
    "Most hands knit tighter or looser in rounds than back and forth, by several per cent and in \
     either direction. The stitch count is the same above and below the join, so the upper arm is off \
     by just that share.",
    "This Is Knit, 25 Mar 2011 (23 against 22, 22 against 21 stitches); Classic Elite, Dec 2010 (6.75 \
     against 6.5)",
    "Knit a swatch in the round, 15 cm (6 in) wide, in the sleeve's stitch, and give [gauge.round]."
);
finding!(
    BODY_ASSUMED,
    "body-gauge-assumed",
    Note,
    "the armhole's rows are reckoned at the pattern's gauge, the knitter's own is another",
    "An armhole that is told by rows is as long as the body's rows are high. Whoever knits looser or tighter than the pattern \
     knits the body so, too, and its armhole is longer or shorter by just that share.",
    "arithmetic; two swatches that one knitter makes alike differ by about 2 % (common practice, no source)",
    "Count the rows of the finished body and give [gauge.body]; nothing, where the body has the pattern's gauge."
);
finding!(
    FLAT_ASSUMED,
    "flat-gauge-assumed",
    Note,
    "no flat swatch: the cap is computed at the round swatch's gauge",
    "The cap is worked back and forth although the tube below it is round. Without a flat swatch the \
     cap's width and depth are off by the drift between the two.",
    "This Is Knit, 25 Mar 2011; common practice, no source",
    "Knit a swatch back and forth and give [gauge.flat]."
);
finding!(
    DEPTH_OFF,
    "depth-not-kept",
    Warning,
    "the new cap is more than one row deeper or shallower",
    "The depth is a whole number of turn pairs, so it is within one row of the old depth, unless no cap \
     with that many turn pairs can be knitted; then the next number is taken.",
    "geometry",
    "Allow more moves or a larger gap limit to keep the depth."
);
finding!(
    NOT_PROVEN,
    "not-proven-optimal",
    Note,
    "a better cap was not ruled out",
    "The search was cut short because the case is very large. The cap shown is certified and knits \
     back, but a slightly better one may exist.",
    "the fit's own report",
    "Nothing: a better cap was not ruled out, that is all."
);
finding!(
    ARM_OFF_WANTED,
    "upper-arm-rounded",
    Warning,
    "the upper arm differs from the one wanted",
    "The upper arm is a whole number of stitches that the stitch repeat allows; reported from 1 cm on.",
    "arithmetic",
    "Choose another repeat of the stitch pattern, or accept the width. Its key is `sleeve.repeat`."
);
finding!(
    TUBE_SHORT,
    "tube-too-short",
    Warning,
    "the tube is too short for its shaping",
    "Two stitches are decreased (or increased) on each shaping round; a tube with fewer rounds than \
     that cannot reach the cuff. The pattern then ends at the join.",
    "arithmetic",
    "Lengthen the sleeve, or give a cuff nearer to the upper arm (sleeve.cuff_stitches)."
);
finding!(
    CAUTION_TIGHT,
    "caution-tight",
    Warning,
    "a tight sleeve can do harm",
    "A sleeve or cuff much tighter than the arm hinders the flow of blood and lymph. After surgery or \
     with swelling or lymphoedema that is a matter for the clinician.",
    "common practice, no source; defer to the clinician's advice",
    "For an arm that swells follow the clinician's advice on sleeves; choose a wider upper arm."
);
finding!(
    CAUTION_INFANT,
    "caution-infant",
    Note,
    "a garment for an infant",
    "Long strands and open loops inside a sleeve can catch a finger. Rules for children's clothing \
     differ by country. Raised for the sizes of infants, and without a size when the upper arm is no \
     wider than 7.75 in (19.7 cm): the chart's arm at 24 months is 7.5 in.",
    "common practice, no source; defer to local rules for children's clothing",
    "Weave in every end, leave no floats or open loops inside, and keep to the local rules."
);
finding!(
    SIZE_ORDER,
    "size-order",
    Warning,
    "a larger size is narrower or shallower than a smaller one",
    "From size to size the upper arm, the cap's depth and the armhole grow or stay the same. A size \
     that breaks the order is often a misprint in one of its numbers.",
    "common practice, no source",
    "Compare this size's numbers with its neighbours'."
);

finding!(
    GRADING_JUMP,
    "grading-jump",
    Note,
    "one step from size to size is far longer than the others",
    "Measured between neighbouring sizes, from four sizes on: a step more than 2.5 times the median of \
     the other steps, and more than 1.5 cm longer. In the published size charts no measure of the arm \
     or of the armhole takes such a step.",
    "Craft Yarn Council's www.YarnStandards.com (the steps of the charts); the limits: common practice, \
     no source",
    "Compare the numbers of both sizes; if they are right, a size in between would be welcome."
);

finding!(
    SAME_RUNS_JUMP,
    "same-runs-jump",
    Warning,
    "with the same runs in all sizes the numbers jump from size to size",
    "One list of runs for all sizes leaves each size only its own numbers to come close to its cap. Where \
     they go up by two or more from one size to the next and down by two or more to the one after, the \
     sizes no longer grow in step, and the written set is hard to check.",
    "common practice, no source",
    "Let each size work its own runs, or live with it. The key is `fit.same_runs = false`."
);

/// Said when what is picked up along a flank, or decreased there, goes up and down from size to size.
pub fn same_runs_jump(what: &str, numbers: &[u32]) -> Option<Diagnostic> {
    let steps: Vec<i64> = numbers
        .windows(2)
        .filter_map(|pair| Some(i64::from(*pair.last()?) - i64::from(*pair.first()?)))
        .collect();
    let back = steps.windows(2).any(|pair| match pair {
        [a, b] => a.signum() * b.signum() < 0 && a.abs().min(b.abs()) >= 2,
        _ => false,
    });
    back.then(|| {
        let list: Vec<String> = numbers.iter().map(u32::to_string).collect();
        let message = format!(
            "With the same runs in all sizes the {what} jump: {}.",
            list.join(", ")
        );
        finding(&SAME_RUNS_JUMP, message)
    })
}

/// This room's own part of the table.
pub static CODES: &[&Code] = &[
    &STOPPED,
    &PUFFED_CROWN,
    &AREA_OFF,
    &SECTION_STRAIN,
    &WIDTH_OFF,
    &NEW_EDGE_LONG,
    &NEW_EDGE_SHORT,
    &TUBE_PAST_CUFF,
    &ARMHOLE_COUNTS_DISAGREE,
    &ARMHOLE_AS_COUNTED,
    &CAP_EDGE_SHORT,
    &CAP_EDGE_LONG,
    &CAP_TOO_DEEP,
    &CAP_TOO_SHALLOW,
    &ROW_OFF_CURVE,
    &ARMHOLE_UNFINISHED,
    &ARMHOLE_ROWS_ABOVE,
    &ARMHOLE_SHARE,
    &UNDERARM_UNEQUAL,
    &UNDERARM_TOO_WIDE,
    &FRONT_LONGER,
    &TOP_ODD,
    &ARMHOLE_DEPTH_ODD,
    &ARM_TIGHT,
    &ARM_LOOSE,
    &ARM_SHARE,
    &GAUGE_ASSUMED,
    &FLAT_ASSUMED,
    &BODY_ASSUMED,
    &DEPTH_OFF,
    &NOT_PROVEN,
    &ARM_OFF_WANTED,
    &TUBE_SHORT,
    &CAUTION_TIGHT,
    &CAUTION_INFANT,
    &SIZE_ORDER,
    &GRADING_JUMP,
    &SAME_RUNS_JUMP,
];

/// The one table of findings: every code of every room, by name.
pub fn all_codes() -> Vec<&'static Code> {
    let rooms = [
        case::CODES,
        stitch::CODES,
        pattern::CODES,
        outline::CODES,
        swatch::CODES,
        body::CODES,
        adapt::CODES,
        fit::CODES,
        needle::CODES,
        CODES,
        CODES_SO_FAR,
    ];
    let mut codes: Vec<&'static Code> = rooms.into_iter().flatten().copied().collect();
    codes.sort_by_key(|code| code.id);
    codes
}

/// A name that no finding has, and the nearest that one has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnknownCode {
    /// The name that was asked for.
    pub id: String,
    /// The nearest name there is.
    pub near: Option<&'static str>,
}

impl std::fmt::Display for UnknownCode {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "There is no finding called '{}'", self.id)?;
        match self.near {
            Some(near) => write!(f, ". Did you mean '{near}'?"),
            None => write!(f, "; `capwright explain` lists all."),
        }
    }
}

impl std::error::Error for UnknownCode {}

/// The entry of this name.
///
/// # Errors
/// There is none; the nearest name is in the error.
pub fn find_code(id: &str) -> Result<&'static Code, UnknownCode> {
    let codes = all_codes();
    if let Some(code) = codes.iter().find(|code| code.id == id) {
        return Ok(code);
    }
    Err(UnknownCode {
        id: id.to_owned(),
        near: nearest(id, codes.iter().map(|code| code.id)),
    })
}

/// What is said of work that was not done to its end.
pub(crate) fn stopped() -> Diagnostic {
    finding(&STOPPED, "The work was stopped before its end.".to_owned())
}

/// A finding of one code.
pub(crate) fn finding(code: &'static Code, message: String) -> Diagnostic {
    Diagnostic::new(code, message)
}
