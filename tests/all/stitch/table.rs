//! The table of stitches against the published list, and what reversal does against geometry.

use capwright::stitch::{Cell, Chart, Crossing, Legend, MOST_CROSSED, STANDARD, Stitch};
use proptest::prelude::*;

/// Craft Yarn Council, knitting abbreviations: short word, change of the count, lean on the right side.
/// Facts copied from the list as our sources have it (`sources/body/knitting_abbreviations.csv`).
const PUBLISHED: &[(&str, i32, Option<char>)] = &[
    ("k", 0, None),
    ("p", 0, None),
    ("yo", 1, None),
    ("k2tog", -1, Some('/')),
    ("k3tog", -2, Some('/')),
    ("ssk", -1, Some('\\')),
    ("skp", -1, Some('\\')),
    ("k2tog tbl", -1, Some('\\')),
    ("p2tog", -1, Some('/')),
    ("p2tog tbl", -1, Some('\\')),
    ("p3tog", -2, None),
    ("ssp", -1, Some('\\')),
    ("sssk", -2, Some('\\')),
    ("sk2p", -2, Some('\\')),
    ("s2kp2", -2, None),
];

/// The pairs of which one is worked on a right-side row and the other on a wrong-side row for the same look
/// (the list: "ssp: WS partner of ssk"; p2tog as the partner of k2tog is common practice, no source).
const PARTNERS: &[(&str, &str)] = &[("ssk", "ssp"), ("k2tog", "p2tog"), ("k", "p"), ("p", "k")];

#[test]
fn short_words_and_counts_are_those_of_the_published_list() {
    for (short, change, _) in PUBLISHED {
        let stitch = Stitch::named(short).unwrap_or_else(|| panic!("{short}"));
        let entry = stitch.entry().unwrap();
        assert_eq!(entry.rs, *short);
        assert_eq!(
            1 - i32::try_from(stitch.takes()).unwrap(),
            *change,
            "{short}"
        );
        assert_eq!(entry.source, STANDARD, "{short}");
    }
    // `skp / skpo` is one line of the list.
    assert_eq!(Stitch::named("skpo"), Stitch::named("skp"));
    for (rs, ws) in PARTNERS {
        assert_eq!(
            Stitch::named(rs).unwrap().short(false).as_deref(),
            Some(*ws)
        );
    }
    // `tbl`, `sl`, `wyib / wyif` and `p2tog` are words of the list as well.
    let words = ["k", "p", "tbl", "sl", "wyib", "wyif", "p2tog"];
    for (stitch, entry) in Stitch::all() {
        let listed = PUBLISHED.iter().any(|(short, ..)| *short == entry.rs);
        let spelt = entry.rs.split(' ').all(|word| words.contains(&word));
        assert_eq!(entry.source == STANDARD, listed || spelt, "{stitch}");
    }
}

/// A line that leans one way leans the other way in a mirror.
#[test]
fn leans_change_in_a_mirror_and_nothing_else_does() {
    for (short, _, lean) in PUBLISHED {
        let mirrored = Stitch::named(short).unwrap().mirrored();
        let other = PUBLISHED
            .iter()
            .find(|(short, ..)| Stitch::named(short) == Some(mirrored));
        let wanted = lean.map(|lean| if lean == '/' { '\\' } else { '/' });
        match other {
            Some((_, _, found)) => assert_eq!(*found, wanted, "{short}"),
            None => assert_eq!(mirrored.to_string(), "p3tog tbl", "{short}"),
        }
    }
}

/// A crossing as strands: where each starts at the bottom and ends at the top, from the right, and whether it
/// goes in front.
fn strands(crossing: Crossing) -> Vec<(usize, usize, bool)> {
    let (front, behind) = (usize::from(crossing.front), usize::from(crossing.behind));
    let all = front + behind;
    let mut strands: Vec<_> = (0..all)
        .map(|i| {
            // A left crossing takes the front ones from the right end to the left end.
            if crossing.left {
                let ahead = i < front;
                (i, if ahead { i + behind } else { i - front }, ahead)
            } else {
                let ahead = i >= behind;
                (i, if ahead { i - behind } else { i + front }, ahead)
            }
        })
        .collect();
    strands.sort_unstable();
    strands
}

fn crossings() -> impl Iterator<Item = Crossing> {
    let sizes =
        (1..=MOST_CROSSED).flat_map(|front| (1..=MOST_CROSSED).map(move |behind| (front, behind)));
    sizes.flat_map(|(front, behind)| {
        [(true, false), (false, false), (true, true), (false, true)].map(move |(left, purl)| {
            Crossing {
                front,
                behind,
                left,
                purl,
            }
        })
    })
}

/// Half a turn: bottom and top change places, and so do right and left; front stays front.
#[test]
fn a_crossing_turned_round_is_the_same_crossing() {
    for crossing in crossings() {
        let stitch = Stitch::Cross(crossing);
        let all = stitch.width();
        let mut turned: Vec<_> = strands(crossing)
            .into_iter()
            .map(|(from, to, ahead)| (all - 1 - to, all - 1 - from, ahead))
            .collect();
        turned.sort_unstable();
        assert_eq!(turned, strands(crossing), "{stitch}");
        let mut mirrored: Vec<_> = strands(crossing)
            .into_iter()
            .map(|(from, to, ahead)| (all - 1 - from, all - 1 - to, ahead))
            .collect();
        mirrored.sort_unstable();
        let Stitch::Cross(other) = stitch.mirrored() else {
            panic!("{stitch}")
        };
        assert_eq!(mirrored, strands(other), "{stitch}");
    }
}

fn chart() -> impl Strategy<Value = Chart> {
    (1usize..9, 1usize..7).prop_flat_map(|(width, height)| {
        let row = prop::collection::vec(
            prop::sample::select(vec!["k", "p", "t", "o/", "\\o", "LLL", "RR"]),
            1..12,
        );
        prop::collection::vec(row, height).prop_map(move |rows| {
            let line = |words: &Vec<&str>| {
                let mut line = String::new();
                for word in words.iter().chain(std::iter::repeat(&"k")) {
                    if line.len() + word.len() > width {
                        break;
                    }
                    // Two crossings side by side read as two; a different one must not follow on its letter.
                    line.push_str(word);
                }
                let short = width - line.len();
                line + &"k".repeat(short)
            };
            let text: Vec<String> = rows.iter().map(line).collect();
            Chart::parse(&text.join("\n"), &legend()).unwrap()
        })
    })
}

fn legend() -> Legend {
    let named = |words: &str| Stitch::named(words).unwrap();
    Legend::from([
        ('L', named("2/1 left purl")),
        ('R', named("1/1 right")),
        ('t', named("twisted")),
    ])
}

proptest! {
    #[test]
    fn reversal_twice_is_identity(chart in chart()) {
        prop_assert_eq!(&chart.turned().turned(), &chart);
        prop_assert_eq!(&chart.mirrored().mirrored(), &chart);
        // A fabric turned and mirrored is the fabric seen in a lake: both orders give the same.
        prop_assert_eq!(chart.turned().mirrored(), chart.mirrored().turned());
    }

    /// The square at (row, column) comes to the opposite place; crossings stay whole.
    #[test]
    fn every_square_comes_to_the_opposite_place(chart in chart()) {
        let turned = chart.turned();
        let (width, height) = (chart.width(), chart.height());
        for row in 0..height {
            for column in 0..width {
                let cell = chart.cell(row, column);
                let there = turned.cell(height - 1 - row, width - 1 - column);
                prop_assert_eq!(there.stitch, cell.stitch);
                let first = width - 1 - column - there.part;
                let whole: Vec<Cell> = (0..cell.stitch.width())
                    .map(|part| turned.cell(height - 1 - row, first + part))
                    .collect();
                let wanted: Vec<Cell> = (0..cell.stitch.width())
                    .map(|part| Cell { stitch: cell.stitch, part })
                    .collect();
                prop_assert_eq!(whole, wanted);
            }
        }
    }
}
