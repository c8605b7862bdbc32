//! Grounds that have a name.

use super::chart::{Chart, Legend};

/// Names of common grounds with their rows, as a case would write them (common knowledge of the trade).
pub const GROUNDS: &[(&str, &str)] = &[
    ("stocking stitch", "k"),
    ("stockinette", "k"),
    ("reverse stocking stitch", "p"),
    ("garter", "p\nk"),
    ("1x1 rib", "pk"),
    ("2x2 rib", "ppkk"),
    ("moss", "kp\npk"),
    ("seed", "kp\npk"),
];

/// The chart of a named ground.
pub fn ground(name: &str) -> Option<Chart> {
    let (_, rows) = GROUNDS.iter().find(|(known, _)| *known == name)?;
    Chart::parse(rows, &Legend::new()).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_has_its_rows() {
        for (name, _) in GROUNDS {
            let chart = ground(name).unwrap();
            assert!(!chart.has_way_up(), "{name}");
        }
        assert!(ground("2x2 rib").unwrap().is_rib());
        assert!(!ground("moss").unwrap().is_rib());
        assert!(ground("basket").is_none());
    }
}
