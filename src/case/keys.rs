//! Every key of a case in the order it is written: its kind, its name for people, and where in a
//! pattern the number stands. The page's fields, the questions of `new` and the comments in a
//! written case are all from this table.

/// What a key holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Words.
    Text,
    /// The pattern's own lines.
    Lines,
    /// One of a few words.
    Word(&'static [&'static str]),
    /// Labels, one for each size, or moves.
    Labels,
    /// Yes or no.
    Flag,
    /// One number.
    Number,
    /// One length.
    Length,
    /// One number for each size.
    Sized,
    /// One length for each size.
    Lengths,
    /// One length for each size, or shares in per cent.
    Amounts,
    /// One length for each size, or a small table on one line.
    LengthsOr(&'static [Key]),
    /// Counts on a swatch, as many as were taken.
    Counts,
    /// The length of a swatch's counts: one, or one for each.
    Overs,
    /// A list of lists: a word and a number each.
    Pairs,
    /// A small table on one line.
    Inline(&'static [Key]),
    /// A table whose keys are characters of the case's own.
    Legend,
    /// Small tables with names of the case's own.
    Named(&'static [Key]),
}

impl Kind {
    /// True when the numbers are lengths, in the units of the case.
    pub const fn is_length(self) -> bool {
        matches!(
            self,
            Self::Length | Self::Lengths | Self::Amounts | Self::LengthsOr(_) | Self::Overs
        )
    }

    /// The word by which a page knows the kind.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Lines => "lines",
            Self::Word(_) => "word",
            Self::Labels => "labels",
            Self::Flag => "flag",
            Self::Number | Self::Length => "number",
            Self::Sized | Self::Lengths | Self::Amounts | Self::LengthsOr(_) => "sized",
            Self::Counts | Self::Overs => "counts",
            Self::Pairs => "pairs",
            Self::Legend => "legend",
            Self::Inline(_) | Self::Named(_) => "inline",
        }
    }
}

/// One key of a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Key {
    /// Its name in its table.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// What a person calls it.
    pub label: &'static str,
    /// One line: what it is and where in a pattern it stands.
    pub help: &'static str,
}

/// One table of a case.
#[derive(Clone, Copy, Debug)]
pub struct Section {
    /// Its name with dots; empty for the head of the file.
    pub path: &'static str,
    /// One line about it.
    pub about: &'static str,
    /// Its keys in the order written.
    pub keys: &'static [Key],
}

const fn key(name: &'static str, kind: Kind, label: &'static str, help: &'static str) -> Key {
    Key {
        name,
        kind,
        label,
        help,
    }
}

const SIDES: Kind = Kind::Word(&["RS", "WS"]);
const TAKES: Kind = Kind::Word(&["usual", "first", "second"]);

#[rustfmt::skip]
const SWATCH: &[Key] = &[
    key("stitches", Kind::Counts, "Stitches", "Stitches counted over the measured length. Several counts in different places, 22.5, 22, 22.5, show how even the fabric is."),
    key("rows", Kind::Counts, "Rows", "Rows (or rounds) counted over the measured length, once or in several places."),
    key("over", Kind::Overs, "Counted over", "The length the counts were taken over; 10 cm or 4 in when left out."),
    key("washed", Kind::Flag, "Washed and dried", "True when the swatch was washed and dried as the sleeve will be."),
    key("floats", Kind::Flag, "Flat strip with floats", "True for a swatch \"in the round\" knitted as a flat strip with the yarn carried behind."),
    key("edge_stitches", Kind::Number, "Edge stitches counted", "Edge stitches that are part of every count; 0 when counted in the middle."),
    key("division", Kind::Number, "Counted to", "The smallest part of a stitch that was counted: 0.5 for halves."),
];

#[rustfmt::skip]
const CUFF: &[Key] = &[
    key("stitch", Kind::Word(&["1x1", "2x2", "garter", "plain"]), "Cuff's stitch", "1x1: knit 1, purl 1; 2x2: knit 2, purl 2; garter; or plain, which rolls."),
    key("multiple", Kind::Number, "Multiple of", "Its stitches are a multiple of so many; 2 or 4 for the ribs."),
    key("stitches", Kind::Sized, "Stitches", "The same as the stitches at the cuff."),
    key("length", Kind::Lengths, "Length", "The same as the cuff length: the sleeve length then includes it."),
];

const REPEAT: &[Key] = &[
    key(
        "multiple",
        Kind::Sized,
        "Repeat: multiple of",
        "The stitch pattern's multiple: 4 in \"multiple of 4 + 2\".",
    ),
    key(
        "plus",
        Kind::Sized,
        "Repeat: plus",
        "The stitches beside the repeats: 2 in \"multiple of 4 + 2\".",
    ),
];

const NAMES: Kind = Kind::Word(&[
    "stocking stitch",
    "stockinette",
    "reverse stocking stitch",
    "garter",
    "1x1 rib",
    "2x2 rib",
    "moss",
    "seed",
]);

#[rustfmt::skip]
const PANEL: &[Key] = &[
    key("rows", Kind::Lines, "Rows of the panel", "The panel as a chart, seen from the right side; the last line is row 1."),
    key("first_row", Kind::Number, "First row", "The row of the chart that row 1 of the cap is."),
    key("at", Kind::Word(&["crown", "saddle"]), "Where it lies", "crown: centred on the crown; saddle: on the live stitches."),
    key("from_centre", Kind::Number, "From the centre", "So many stitches from the centre, on both sides."),
];

#[rustfmt::skip]
const EASED: &[Key] = &[
    key("body", Kind::Lengths, "The arm", "Round the bare upper arm; left out, that of the wearer."),
    key("ease", Kind::Amounts, "Ease at the upper arm", "What is added to the arm: a length, or 10 %."),
];

#[rustfmt::skip]
const ARMHOLE: &[Key] = &[
    key("edge", Kind::Lengths, "Armhole edge", "With a tape along one armhole edge, from the end of the underarm bind-off up to the shoulder; or half the armhole's circumference less the underarm."),
    key("underarm", Kind::Lengths, "Underarm", "Width of the stitches bound off at the underarm on one edge: in the pattern, those stitches over the gauge."),
    key("depth", Kind::Lengths, "Armhole depth", "Straight up from underarm to shoulder; on the schematic, or \"work until armhole measures\"."),
    key("rows", Kind::Sized, "Rows counted", "Counted on the finished body along one armhole edge, from the underarm to the shoulder seam; each stitch bound off in steps counts as a row."),
    key("bound_off", Kind::Sized, "Stitches of the underarm", "Counted on the finished body: stitches bound off (or held, or cast on) at the underarm on one edge, those in the seam among them."),
    key("steps", Kind::Sized, "Of them bound off in steps", "How many of the rows counted are stitches bound off in steps above the underarm; 0 when there are none."),
    key("decreases", Kind::Sized, "Decreases along the edge", "Stitches decreased along this edge above the underarm; they make the edge slant."),
    key("stitches", Kind::Sized, "Stitches before the armhole", "Stitches of the body piece just before its armhole is begun."),
    key("lines", Kind::Lines, "Armhole lines", "The pattern's own lines from the underarm bind-off to the shoulder, without the neck."),
    key("first_row", SIDES, "First row of the lines", "The side that faces you on the first row of the lines."),
    key("seam_stitches", Kind::Number, "Seam stitches", "Stitches lost to the seam at each edge; usually 1, without a seam 0. Beside counts: those of the underarm that lie in the seam, 0 when left out."),
];

/// The keys of a case, table by table.
#[rustfmt::skip]
pub const SECTIONS: &[Section] = &[
    Section { path: "", about: "", keys: &[
        key("title", Kind::Text, "Name", "A name for this sleeve; it heads the written pattern."),
        key("units", Kind::Word(&["cm", "in"]), "Units", "Units of every length here and in the written pattern: cm or in."),
        key("sizes", Kind::Labels, "Sizes", "Labels of the sizes in the pattern's order, as in \"S (M, L)\"; leave out for one size."),
    ]},
    Section { path: "gauge", about: "Gauge.", keys: &[
        key("cap", Kind::Word(&["flat", "round"]), "Cap worked at", "Which of your swatches the cap is worked at; the flat one when there is one."),
    ]},
    Section { path: "gauge.pattern", about: "The old pattern's gauge, as printed under \"gauge\" or \"tension\".", keys: SWATCH },
    Section { path: "gauge.flat", about: "Your own swatch, knitted back and forth in the sleeve's stitch.", keys: SWATCH },
    Section { path: "gauge.flat.before_washing", about: "The same swatch counted before it was washed.", keys: SWATCH },
    Section { path: "gauge.round", about: "Your own swatch, knitted in rounds in the sleeve's stitch.", keys: SWATCH },
    Section { path: "gauge.round.before_washing", about: "The same swatch counted before it was washed.", keys: SWATCH },
    Section { path: "gauge.body", about: "The body's gauge, where its stitch differs from the sleeve's.", keys: SWATCH },
    Section { path: "sleeve", about: "The old sleeve.", keys: &[
        key("stitches", Kind::Sized, "Stitches before the cap", "Stitches on the needle just before the cap: the last count before \"shape cap\"."),
        key("cap", Kind::Lines, "Cap lines", "The pattern's own lines, from the first bind-off of the cap to the last."),
        key("first_row", SIDES, "First row of the cap", "The side that faces you on the cap's first row; nearly always RS."),
        key("seam_stitches", Kind::Number, "Seam stitches", "Stitches lost to the seam at each edge; usually 1, for a seamless sleeve 0."),
        key("seam_rows", Kind::Number, "Seam rows at the top", "Rows lost to the seam at the top of the cap; usually 0."),
        key("repeat", Kind::Inline(REPEAT), "Stitch repeat", "The stitch pattern's repeat: a multiple of so many stitches, plus some."),
        key("cuff_stitches", Kind::Sized, "Stitches at the cuff", "Stitches cast on at the cuff, or left after a ribbed cuff; leave out for a cap without a tube."),
        key("length", Kind::Lengths, "Sleeve length", "From the underarm to the cuff: on the schematic, or \"work until sleeve measures\"."),
        key("cuff_length", Kind::Lengths, "Cuff length", "Length of the cuff, where the sleeve length includes it and it is worked otherwise."),
        key("cuff", Kind::Inline(CUFF), "Cuff", "How the cuff is worked; leave out to end where it begins."),
    ]},
    Section { path: "armhole", about: "The armhole of the body, front and back alike unless both are given.", keys: ARMHOLE },
    Section { path: "armhole.front", about: "The front armhole.", keys: ARMHOLE },
    Section { path: "armhole.back", about: "The back armhole.", keys: ARMHOLE },
    Section { path: "shoulder", about: "A saddle whose stitches wait at the shoulder.", keys: &[
        key("live_stitches", Kind::Sized, "Stitches on the holder", "Stitches of the saddle that wait on a holder at the shoulder."),
        key("extra_each_side", Kind::Sized, "Picked up beside them", "Stitches picked up beside the saddle on each side."),
    ]},
    Section { path: "body", about: "Whom it is for.", keys: &[
        key("table", Kind::Text, "Body table", "The table of body measurements: woman, man, youth, child, baby or a survey."),
        key("size", Kind::Labels, "Size in the table", "The table's size, M, or one for each size; for babies and children the age or size."),
        key("bust", Kind::Lengths, "Bust or chest", "The body's bust or chest, \"to fit\"; not the finished width."),
        key("upper_arm", Kind::Lengths, "Upper arm, measured", "Round the bare upper arm at its widest; a measured arm beats any table."),
        key("ease", Kind::Lengths, "Ease wanted", "How much wider than the arm the sleeve should be; leave out to keep the old sleeve's width."),
    ]},
    Section { path: "adapt", about: "Another arm, armhole or top than the old cap's.", keys: &[
        key("upper_arm", Kind::LengthsOr(EASED), "Upper arm of the sleeve", "The finished width round the upper arm that you want instead of the old one."),
        key("ease", Kind::Amounts, "Ease along the armhole", "How much longer the cap's edge should be than the armhole on each side: a length, or 2 %."),
        key("top", Kind::Lengths, "Width of the top", "Width of the cap's top; live for as wide as the stitches that wait at the shoulder."),
        key("depth", Kind::Lengths, "Cap depth", "A depth, or free for what the edge asks for; or a published rule: chest, top, top and chest, cut."),
        key("keep", Kind::Word(&["shape", "depth", "area"]), "Keep of the old cap", "What of the old cap may not change."),
        key("sizes", Kind::Word(&["each", "alike"]), "Change the sizes", "Each size its own change, or the same change for all."),
    ]},
    Section { path: "stitch", about: "The sleeve's stitch pattern.", keys: &[
        key("ground", NAMES, "Ground", "A ground with a name: stocking stitch, reverse stocking stitch, garter, 1x1 rib, 2x2 rib, moss."),
        key("rows", Kind::Lines, "Rows of the ground", "The repeat as a chart, seen from the right side: one character a stitch, the last line is row 1."),
        key("legend", Kind::Legend, "Legend", "What the characters stand for: k, p, o (yarn over), / (k2tog) and \\ (ssk) without it; a crossing is written 2/2 left."),
        key("worked", Kind::Word(&["up", "down"]), "Rows are worked", "up when the rows go from the cuff up, as in an old sleeve: they are then turned round; down when they go from the shoulder down."),
        key("first_row", Kind::Number, "First row", "The row of the chart, as it will be worked, that row 1 of the cap is; left out, it is chosen."),
        key("first_stitch", Kind::Number, "First stitch", "The stitch of the repeat on the first stitch of the crown, or of the saddle; left out, the repeats are symmetrical."),
        key("panels", Kind::Named(PANEL), "Panels", "Strips of another pattern, each by its name: rows, first_row, and at (crown or saddle) or from_centre."),
    ]},
    Section { path: "stripes", about: "Stripes of body and sleeve.", keys: &[
        key("body", Kind::Pairs, "Stripes of the body", "Colours and rows from the hem up, such as [[\"navy\", 4], [\"cream\", 2]]; they begin again at the end."),
        key("sleeve", Kind::Pairs, "Stripes of the sleeve", "The same for the sleeve, from the cuff up; left out, those of the body."),
        key("armhole_row", Kind::Number, "Row of the body's stripes at the underarm", "The row of the body's stripes, from 1, that its first row above the underarm is."),
        key("first_row", Kind::Number, "Row of the sleeve's stripes at the shoulder", "The row of the sleeve's stripes that row 1 of the cap is; left out, the one that matches best."),
        key("match_at", Kind::Number, "Where they should match", "Share of the armhole's height above the underarm: 0.5 for its middle."),
    ]},
    Section { path: "so_far", about: "What is on the needles already, of one sleeve of one size.", keys: &[
        key("size", Kind::Text, "Size on the needles", "The size that is being knitted, where the case has several."),
        key("picked_up", Kind::Counts, "Stitches picked up", "Four counts in the order of the work, such as 19, 24, 10, 24: crown, first flank, base, second flank; or one total, which does not say where they lie."),
        key("rows", Kind::Number, "Rows of the cap worked", "Rows of the cap that are worked, counted from the first short row."),
        key("depth", Kind::Length, "Depth of these rows", "What they measure, flat, from the picked-up edge in the middle of the crown down to the needle."),
        key("width", Kind::Length, "Width of the widest row", "What the last row measures along the needle, from turn to turn."),
        key("measured_at", Kind::Number, "Rows when it was measured", "Rows that were worked when depth and width were measured, where some were ripped back since: the gauge they show stays."),
        key("turned_at", Kind::Counts, "Stitches waiting a side", "Stitches that wait on each side before the base marker; two counts, such as 12, 14, where the first flank has others than the second."),
        key("mend", Kind::Word(&["keep", "correct"]), "Counts that are off", "Keep them and plan with them, or make or take away stitches among those that wait; left out, a pick-up takes what costs less, and worked rows keep them."),
        key("sleeve", Kind::Word(&["left", "right"]), "Sleeve on the needles", "Which sleeve it is, where its two sides are not alike."),
        key("rounds", Kind::Number, "Rounds worked since the join", "Rounds of the tube that are worked; the one that closes the join is the first."),
        key("stitches", Kind::Number, "Stitches on the needle", "Stitches in the round now."),
        key("upper_arm", Kind::Length, "Upper arm of the work", "Measured on the work, flat and doubled, just below the join."),
        key("length", Kind::Length, "Length of the work", "Measured on the work from the underarm down to the needle."),
    ]},
    Section { path: "so_far.gauge", about: "A swatch of the needles that the cap goes on with from the next row, where they are others than so far.", keys: SWATCH },
    Section { path: "fit", about: "Wishes for the new cap.", keys: &[
        key("moves", Kind::Labels, "Moves allowed", "Moves the fit may use, stitches taken / decreased: 1/0, 2/0, 2/1."),
        key("runs", Kind::Number, "Runs to remember", "How many different runs of turns you are willing to remember, 1 to 8; left out, the fit chooses."),
        key("choice", Kind::Number, "Which cap", "1 for the best; 2 and on for those offered beside it, nearly as good and simpler to knit."),
        key("same_runs", Kind::Flag, "Same runs in all sizes", "One list of runs for all sizes, so that one text with numbers in brackets serves them all; costs a little area and shape."),
        key("gap_limit", Kind::Number, "Gap limit", "Rows between two picked-up stitches at the most, 1 to 2.4; wider gaps show as holes."),
        key("ease", Kind::Word(&["even", "shoulder"]), "Ease along the edge", "Spread the cap's ease evenly along the armhole, or keep it near the shoulder."),
        key("picked_up_row", Kind::Number, "Picked-up row", "1 when the row that the pick-up makes counts as a row of the sleeve, 0 when it vanishes into the seam line."),
        key("plain_join", Kind::Flag, "Plain join", "No stitch is made or decreased in the first round, although the gauge changes there: the sleeve then gets narrower or wider just below the cap."),
        key("base_tolerance", Kind::Number, "Base tolerance", "Stitches by which the underarm pick-up may differ from the underarm bind-off."),
    ]},
    Section { path: "readings", about: "Which reading to take of a wording that has two; a finding names the one it is about.", keys: &[
        key("next_and_every", TAKES, "\"next and every ... n times\"", "n in all (first), or n after the next (second)."),
        key("repeat", TAKES, "\"repeat the last 2 rows n times\"", "n more (first), or n in all (second)."),
        key("first_decrease", TAKES, "\"every 4th row\" after a bind-off", "From the next right-side row (first), or four rows on (second)."),
        key("trailing_row", TAKES, "A bind-off after decreases", "At once (first), or after one more plain row (second)."),
        key("rows_twice", TAKES, "\"next 2 rows twice\"", "Four rows (first), or two (second)."),
        key("cross", TAKES, "\"2 x 1\"", "Two stitches once (first), or one stitch twice (second)."),
        key("row_list", TAKES, "\"rows 3, 5 and 9\"", "Counted from the first row of the lines (first), or from here (second)."),
        key("edge", TAKES, "\"dec 1 st\" without an edge", "At each end (first), or at one edge (second); the other way round on a half piece."),
    ]},
    Section { path: "wording", about: "How the new pattern is worded.", keys: &[
        key("terms", Kind::Word(&["us", "uk"]), "Terms", "us: bind off; uk: cast off."),
        key("turn", Kind::Word(&["wrap", "german"]), "Turns", "wrap: wrap and turn; german: German short rows."),
        key("hand", Kind::Word(&["right", "left"]), "Hand", "right, or left for the mirror image."),
        key("decrease", Kind::Word(&["together", "next"]), "Decreases at a turn", "together: the two are turned on together; next: one is turned on and later worked together with the next."),
        key("underarm", Kind::Word(&["bound-off", "live", "cast-on"]), "Underarm", "bound-off; live where its stitches wait on a holder; cast-on where they were cast on in a body from the top."),
        key("body", Kind::Word(&["pieces", "round", "steeked"]), "The body", "pieces, sewn at the sides; round, without side seams; steeked, in the round with armholes to be cut."),
    ]},
];

/// The table of this name.
pub fn section(path: &str) -> Option<&'static Section> {
    SECTIONS.iter().find(|section| section.path == path)
}

/// The key with this path, e.g. `sleeve.cap`.
pub fn find_key(path: &str) -> Option<&'static Key> {
    let (table, name) = path.rsplit_once('.').unwrap_or(("", path));
    let in_table = |table: &str| section(table)?.keys.iter().find(|key| key.name == name);
    in_table(table)
        .or_else(|| {
            let inline = find_key(Some(table).filter(|table| !table.is_empty())?)?;
            match inline.kind {
                Kind::Inline(keys) | Kind::LengthsOr(keys) => {
                    keys.iter().find(|key| key.name == name)
                }
                _ => None,
            }
        })
        .or_else(|| match find_key(table.rsplit_once('.')?.0)?.kind {
            Kind::Named(keys) => keys.iter().find(|key| key.name == name),
            _ => None,
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_found_by_their_path() {
        assert_eq!(find_key("sleeve.cap").unwrap().kind, Kind::Lines);
        assert_eq!(find_key("sleeve.repeat.plus").unwrap().name, "plus");
        assert_eq!(find_key("title").unwrap().name, "title");
        assert!(find_key("sleeve.nothing").is_none());
        assert!(find_key("nothing.at.all").is_none());
    }

    #[test]
    fn the_page_offers_every_ground_that_has_a_name() {
        let Kind::Word(words) = NAMES else {
            panic!("grounds are words")
        };
        let known = crate::stitch::GROUNDS.iter().map(|(name, _)| *name);
        assert!(known.eq(words.iter().copied()));
    }

    #[test]
    fn every_help_is_one_sentence_on_one_line() {
        for section in SECTIONS {
            for key in section.keys {
                assert!(
                    !key.help.contains('\n') && key.help.ends_with('.'),
                    "{}",
                    key.help
                );
            }
        }
    }
}
