//! The pick-up row by row, and what to do when the armhole came out a row longer or shorter.

use super::rates::{Rate, rates};
use super::stretch::{Half, RateStretch};
use super::text::{SleeveText, Writer};
use crate::measure::{Rows, Stitches};
use crate::plan::{SectionName, Zone};

/// One section of the pick-up, row by row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PickUpList {
    /// `Crown`, `Back flank` and so on.
    pub section: &'static str,
    /// From where its rows are counted, for the sentence.
    pub counted_from: &'static str,
    /// The rows a stitch is picked up in, in the order of the pick-up.
    pub rows: Vec<u32>,
    /// All rows of the section.
    pub of: u32,
    /// The rates when the armhole has one row more, in words; empty when there is none.
    pub one_row_more: String,
    /// The rates when it has one row fewer; empty when there are then too few rows.
    pub one_row_fewer: String,
}

/// The rows in which stitches are picked up at these rates, in the order given.
///
/// Within one repeat they are as even as whole rows allow: row `floor(i rows / stitches) + 1` for
/// i = 0, 1, ... The gaps are those of [`crate::plan::even_intervals`], interleaved as a drawn line
/// interleaves them (Bresenham, 1965) instead of the short ones first.
pub fn rate_rows(rates: &[Rate]) -> Vec<u32> {
    let mut rows = Vec::new();
    let mut before = 0;
    for rate in rates {
        for _ in 0..rate.times {
            let in_repeat = |i: u32| before + i * rate.rows / rate.stitches.max(1) + 1;
            rows.extend((0..rate.stitches).map(in_repeat));
            before += rate.rows;
        }
    }
    rows
}

/// The rows of a flank in which its stitches are picked up, from the crown down and counted from there.
pub fn flank_rows(zones: &[Zone]) -> Vec<u32> {
    let mut rows = Vec::new();
    let mut before = 0;
    for zone in zones {
        let of_zone = rate_rows(&rates(zone.stitches.count(), zone.rows.count()));
        rows.extend(of_zone.into_iter().map(|row| row + before));
        before += zone.rows.count();
    }
    rows
}

/// The lists of a sleeve: crown, first flank, second flank. The base is picked up one for one.
pub fn pick_up_lists(input: &SleeveText<'_>) -> Vec<PickUpList> {
    let writer = Writer::new(input.plan, input.style, input.sleeve);
    let mut lists = crown_lists(&writer);
    lists.push(flank_list(
        writer.first_name(),
        &writer.going.first.zones,
        Half::First,
    ));
    lists.push(flank_list(
        writer.second_name(),
        &writer.going.second.zones,
        Half::Mirrored,
    ));
    lists.retain(|list| !list.rows.is_empty());
    lists
}

fn crown_lists(writer: &Writer<'_>) -> Vec<PickUpList> {
    let crown = &writer.plan.crown;
    let picked = crown.stitches.saturating_sub(crown.live).count();
    let rows = crown.rows.count();
    // The rates of what follows the live stitches come in the opposite order.
    let list = |section, counted_from, stitches: u32, rows: u32, stretch: StretchOf| PickUpList {
        section,
        counted_from,
        rows: rate_rows(&stretch(stitches, rows).rates),
        of: rows,
        one_row_more: changed(stitches, rows, 1, stretch),
        one_row_fewer: changed(stitches, rows, -1, stretch),
    };
    if crown.live == Stitches::ZERO {
        if let Some(half) = RateStretch::half_crown(picked, rows) {
            return vec![half_crown_list(half, picked % 2)];
        }
        return vec![list(
            SectionName::Crown.words(),
            "from the start",
            picked,
            rows,
            FROM_CROWN,
        )];
    }
    vec![
        list(
            "Crown before the live sts",
            "from the start",
            picked.div_ceil(2),
            rows.div_ceil(2),
            FROM_CROWN,
        ),
        list(
            "Crown after the live sts",
            "from the live sts",
            picked / 2,
            rows / 2,
            RateStretch::after_live,
        ),
    ]
}

/// One list for both sides. Two stitches beside the seam sit tight against it; beside one in the seam itself the next is a
/// row or two away.
fn half_crown_list(half: RateStretch, in_seam: u32) -> PickUpList {
    let RateStretch { stitches, rows, .. } = half;
    let mut said = half.rates;
    let picked = if in_seam > 0 {
        let from_end = rate_rows(&said).into_iter().rev();
        from_end.map(|row| rows + 1 - row).collect()
    } else {
        said.reverse();
        rate_rows(&said)
    };
    PickUpList {
        section: SectionName::Crown.words(),
        counted_from: FROM_SEAM,
        rows: picked,
        of: rows,
        one_row_more: changed(2 * stitches + in_seam, rows, 1, RateStretch::half_of),
        one_row_fewer: changed(2 * stitches + in_seam, rows, -1, RateStretch::half_of),
    }
}

/// Where the rows of a crown without live stitches are counted from.
pub const FROM_SEAM: &str = "from the shoulder seam down on both sides";

/// A flank's rows are counted from the crown on both sides, so that the two mirror one another
/// and the stitch next to the crown is in row 1.
fn flank_list(section: &'static str, zones: &[Zone], half: Half) -> PickUpList {
    let mut rows = flank_rows(zones);
    if half == Half::Mirrored {
        rows.reverse();
    }
    PickUpList {
        section,
        counted_from: "from the crown down",
        rows,
        of: zones.iter().map(|zone| zone.rows.count()).sum(),
        one_row_more: changed_zones(zones, 1, half),
        one_row_fewer: changed_zones(zones, -1, half),
    }
}

/// Stitches over rows as a stretch of the pick-up.
type StretchOf = fn(u32, u32) -> RateStretch;

const FROM_CROWN: StretchOf = |stitches, rows| RateStretch::new(stitches, rows, Half::First);
const FROM_BASE: StretchOf = |stitches, rows| RateStretch::new(stitches, rows, Half::Mirrored);

/// The rates over one row more or fewer; empty when the stitches then find no row.
fn changed(stitches: u32, rows: u32, by: i32, of: StretchOf) -> String {
    let stretch = of(stitches, rows.saturating_add_signed(by));
    if stretch.rates.is_empty() {
        return String::new();
    }
    stretch.to_string()
}

/// The zone with the widest gaps takes the change, where it shows least.
fn changed_zones(zones: &[Zone], by: i32, half: Half) -> String {
    let gap = |z: &Zone| (z.rows.count() * 100).checked_div(z.stitches.count());
    let Some(widest) = zones.iter().map(gap).max() else {
        return String::new();
    };
    let mut changed_one = false;
    let mut said = Vec::new();
    for zone in zones {
        let mut rows = zone.rows;
        if !changed_one && gap(zone) == widest {
            changed_one = true;
            rows = Rows(rows.count().saturating_add_signed(by));
        }
        let of = match half {
            Half::First => FROM_CROWN,
            Half::Mirrored => FROM_BASE,
        };
        let words = changed(zone.stitches.count(), rows.count(), 0, of);
        if words.is_empty() {
            return String::new();
        }
        said.push(words);
    }
    if half == Half::Mirrored {
        said.reverse();
    }
    said.join("; then ")
}

impl PickUpList {
    /// The list in a sentence: `Back flank, rows counted from the crown down: pick up in rows 1,
    /// 2, 4, ...`.
    pub fn sentence(&self) -> String {
        format!(
            "{}, rows counted {}: pick up in rows {} (of {}).",
            self.section,
            self.counted_from,
            self.numbers(),
            self.of
        )
    }

    /// `1, 2, 4, 5`.
    pub fn numbers(&self) -> String {
        let numbers: Vec<String> = self.rows.iter().map(ToString::to_string).collect();
        numbers.join(", ")
    }

    /// What to do when the armhole has one row more or fewer than planned.
    pub fn one_row_off(&self) -> Vec<String> {
        let fewer = self.of.saturating_sub(1);
        vec![
            format!("One row more ({}): {}.", self.of + 1, self.one_row_more),
            format!("One row fewer ({fewer}): {}.", self.fewer()),
        ]
    }

    /// What to do when the armhole has one row fewer.
    pub fn fewer(&self) -> &str {
        if self.one_row_fewer.is_empty() {
            "there is no row for every st; pick up 1 st fewer and lift the strand beside the marker for the missing one"
        } else {
            &self.one_row_fewer
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::even_intervals;

    fn in_repeat(stitches: u32, rows: u32) -> Vec<u32> {
        rate_rows(&[Rate {
            stitches,
            rows,
            times: 1,
        }])
    }

    /// stitchesofviolet, 26 Feb 2009: 5 stitches in 8 rows as 1,0,1,0,1,1,0,1; ours is the same
    /// wheel begun at another place.
    #[test]
    fn five_in_eight_as_published() {
        let published = [1, 0, 1, 0, 1, 1, 0, 1];
        let rows = in_repeat(5, 8);
        let ours: Vec<u32> = (1..=8).map(|r| u32::from(rows.contains(&r))).collect();
        let turned = |by: usize| {
            let wheel = published.iter().cycle().skip(by).take(8);
            wheel.copied().collect::<Vec<u32>>()
        };
        assert!((0..8).any(|by| turned(by) == ours), "{ours:?}");
    }

    /// The gaps, the last one round to the next repeat included, are those of the trade's rule.
    #[test]
    fn the_gaps_are_those_of_even_spacing() {
        for rows in 1..=60 {
            for stitches in 1..=rows {
                let picked = in_repeat(stitches, rows);
                assert_eq!(picked.len(), stitches as usize);
                assert_eq!(picked.first(), Some(&1), "tight against the crown");
                let next = picked.iter().skip(1).copied().chain([rows + 1]);
                let mut gaps: Vec<u32> = picked.iter().zip(next).map(|(a, b)| b - a).collect();
                gaps.sort_unstable();
                assert_eq!(gaps, even_intervals(rows, stitches));
            }
        }
    }

    /// For every crown over an even number of rows: both sides have as many, all of them are there, no two lie in one row, and
    /// across the seam they are no further apart than two rows more than the crown's mean.
    #[test]
    fn both_halves_of_a_crown_mirror_one_another() {
        let mut odd = 0;
        for rows in (2..=60_u32).step_by(2) {
            for stitches in rows.div_ceil(2).max(2)..=rows {
                let half = RateStretch::half_crown(stitches, rows).unwrap();
                let list = half_crown_list(half, stitches % 2);
                assert_eq!(list.of, rows / 2);
                let both = 2 * list.rows.len() + stitches as usize % 2;
                assert_eq!(both, stitches as usize);
                assert!(list.rows.is_sorted() && list.rows.windows(2).all(|w| w[0] < w[1]));
                assert!(list.rows.iter().all(|row| (1..=rows / 2).contains(row)));
                let first = *list.rows.first().unwrap();
                if stitches % 2 == 0 {
                    assert_eq!(first, 1, "{stitches} over {rows}");
                } else {
                    odd += 1;
                    // From the seam to the middle of the first row, against rows a stitch.
                    let apart = f64::from(first) - 0.5;
                    let mean = f64::from(rows) / f64::from(stitches);
                    assert!(apart <= mean + 1.0, "{stitches} over {rows}: {first}");
                }
            }
        }
        assert!(odd > 200, "{odd}");
        assert_eq!(RateStretch::half_crown(5, 7), None);
        assert_eq!(RateStretch::half_crown(1, 2), None);
    }

    #[test]
    fn one_row_off_in_words() {
        let zone = |stitches, rows| Zone {
            stitches: Stitches(stitches),
            rows: Rows(rows),
        };
        let list = flank_list("Back flank", &[zone(6, 8), zone(4, 8)], Half::First);
        assert_eq!(list.rows, [1, 2, 3, 5, 6, 7, 9, 11, 13, 15]);
        assert_eq!(
            list.one_row_off(),
            [
                "One row more (17): 6 sts over 8 rows: 3 sts for every 4 rows, twice; then 4 sts over 9 rows: 1 st for every 2 rows, 3 times, then 1 st over the next 3 rows.",
                "One row fewer (15): 6 sts over 8 rows: 3 sts for every 4 rows, twice; then 4 sts over 7 rows: 1 st for every 2 rows, 3 times, then 1 st in the next row.",
            ]
        );
        let tight = flank_list("Back flank", &[zone(6, 6)], Half::First);
        assert!(tight.one_row_off()[1].contains("no row for every st"));
    }
}
