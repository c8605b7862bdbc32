//! Every row of every body table against its published figure.
//!
//! The figures in `tests/data/body/` are facts copied from the publications named at the top of
//! each file; the tables of the program were written apart from them.

use std::collections::BTreeMap;

use approx::assert_abs_diff_eq;
use capwright::body::{BodyTable, Cell, TableKind, TableQuantity, TableRow, find, tables};

type Record<'a> = BTreeMap<&'a str, &'a str>;

/// The lines of a data file as records; lines with `#` name the source.
fn records(text: &str) -> Vec<Record<'_>> {
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let head: Vec<&str> = lines.next().expect("a head").split(';').collect();
    lines
        .map(|line| head.iter().copied().zip(line.split(';')).collect())
        .collect()
}

fn number(record: &Record<'_>, key: &str) -> Option<f64> {
    match record[key] {
        "" => None,
        text => Some(text.parse().expect("a number")),
    }
}

fn cell(table: &BodyTable, row: &TableRow, column: &str) -> Cell {
    table.cell(row, column).expect("the column is there")
}

fn row<'a>(table: &'a BodyTable, label: &str) -> &'a TableRow {
    table.row(label).unwrap_or_else(|d| panic!("{}", d.message))
}

#[test]
fn charts_are_as_printed_in_inches_and_centimetres() {
    let facts = records(include_str!("../../data/body/cyc.csv"));
    for fact in &facts {
        let table = find(fact["chart"]).unwrap();
        let row = row(table, fact["size"]);
        let inches = cell(table, row, fact["measure"]);
        assert_eq!(
            (inches.low, inches.high),
            (number(fact, "in_lo"), number(fact, "in_hi")),
            "{fact:?}"
        );
        let at = table
            .columns
            .iter()
            .position(|c| c.id == fact["measure"])
            .unwrap();
        let printed = row.printed_cm[at];
        assert_eq!(
            (printed.low, printed.high),
            (number(fact, "cm_lo"), number(fact, "cm_hi")),
            "{fact:?}"
        );
    }
    let cells: usize = tables()
        .iter()
        .filter(|table| table.kind == TableKind::Chart)
        .map(|table| table.rows.len() * table.columns.len())
        .sum();
    assert_eq!(cells, facts.len(), "no row without a published figure");
}

/// The charts round centimetres to halves; where they are farther off the row must say so.
#[test]
fn a_misprint_of_the_centimetres_is_noted() {
    for fact in records(include_str!("../../data/body/cyc.csv")) {
        let off = [("in_lo", "cm_lo"), ("in_hi", "cm_hi")].map(|(inch, cm)| {
            (number(&fact, inch).unwrap() * 2.54 - number(&fact, cm).unwrap()).abs()
        });
        let noted = fact["misprint"] == "yes";
        assert!(noted || off.iter().all(|d| *d < 0.66), "{fact:?}");
        let table = find(fact["chart"]).unwrap();
        let note = &row(table, fact["size"]).note;
        let column = table
            .columns
            .iter()
            .find(|c| c.id == fact["measure"])
            .unwrap();
        assert_eq!(
            note.contains(&format!("{}: ", column.name)),
            noted,
            "{fact:?}"
        );
    }
}

/// Each column of a survey table against the same column of a data file.
fn agrees(id: &str, facts: &[Record<'_>], label: &str, columns: &[(&str, &str)]) {
    let table = find(id).unwrap();
    for fact in facts {
        let row = row(table, fact[label]);
        for (ours, theirs) in columns {
            let found = cell(table, row, ours);
            assert_eq!(found.low, number(fact, theirs), "{id} {ours} {fact:?}");
            assert_eq!(found.low, found.high, "{id} {ours} {fact:?}");
        }
    }
    assert_eq!(
        table.rows.len(),
        facts.len(),
        "{id}: no row without a figure"
    );
}

fn of_sex<'a>(facts: &[Record<'a>], sex: &str) -> Vec<Record<'a>> {
    facts.iter().filter(|f| f["sex"] == sex).cloned().collect()
}

const SUMMARY: [&str; 10] = [
    "n", "mean", "sd", "min", "max", "p5", "p25", "p50", "p75", "p95",
];

#[test]
fn the_army_summary_of_2012_is_the_one_computed() {
    let facts = records(include_str!("../../data/body/ansur2_summary.csv"));
    let columns = SUMMARY.map(|c| (c, c));
    agrees("ansur2-women", &of_sex(&facts, "F"), "measure", &columns);
    agrees("ansur2-men", &of_sex(&facts, "M"), "measure", &columns);
}

#[test]
fn the_arms_counted_by_chest_are_as_computed() {
    let facts = records(include_str!(
        "../../data/body/ansur2_biceps_by_chest_band.csv"
    ));
    for (id, sex) in [("ansur2-women", "F"), ("ansur2-men", "M")] {
        let facts = of_sex(&facts, sex);
        let bands = &find(id).unwrap().bands;
        assert_eq!(bands.len(), facts.len());
        for (band, fact) in bands.iter().zip(&facts) {
            let of = |column: &str| number(fact, column).unwrap();
            let ours = band
                .chest_mm
                .into_iter()
                .chain([f64::from(band.n)])
                .chain(band.percentiles_mm);
            let columns = [
                "chest_lo_mm",
                "chest_hi_mm",
                "n",
                "p5",
                "p25",
                "p50",
                "p75",
                "p95",
            ];
            for (ours, column) in ours.zip(columns) {
                assert_abs_diff_eq!(ours, of(column), epsilon = 1e-12);
            }
        }
    }
}

/// The printed report rounds to a tenth (percentiles to one) of a millimetre.
#[test]
fn the_army_summary_of_2012_agrees_with_the_printed_report() {
    let facts = records(include_str!("../../data/body/ansur2_published.csv"));
    for fact in &facts {
        let id = if fact["sex"] == "F" {
            "ansur2-women"
        } else {
            "ansur2-men"
        };
        let table = find(id).unwrap();
        let row = row(table, fact["measure"]);
        for (column, off) in [
            ("n", 0.0),
            ("mean", 0.06),
            ("sd", 0.06),
            ("p5", 0.5),
            ("p50", 0.5),
            ("p95", 0.5),
        ] {
            let ours = cell(table, row, column).low.unwrap();
            assert_abs_diff_eq!(ours, number(fact, column).unwrap(), epsilon = off);
        }
    }
    assert_eq!(facts.len(), 28);
}

#[test]
fn the_army_figures_of_1988_are_as_printed() {
    let facts = records(include_str!("../../data/body/ansur1988.csv"));
    let columns = [
        ("n", "n"),
        ("mean", "mean_mm"),
        ("sd", "sd_mm"),
        ("p5", "p5_mm"),
        ("p50", "p50_mm"),
        ("p95", "p95_mm"),
    ];
    agrees("ansur1988-women", &of_sex(&facts, "F"), "measure", &columns);
    agrees("ansur1988-men", &of_sex(&facts, "M"), "measure", &columns);
}

#[test]
fn the_flying_men_of_1967_are_as_computed() {
    let facts = records(include_str!("../../data/body/usaf1967.csv"));
    agrees("usaf1967-men", &facts, "measure", &SUMMARY.map(|c| (c, c)));
    let line = find("usaf1967-men").unwrap().relaxed.unwrap();
    let facts = records(include_str!("../../data/body/usaf1967_regression.csv"));
    let fact = facts
        .iter()
        .find(|f| f["y"] == "biceps_relaxed_right" && f["x"] == "biceps_flexed_right")
        .unwrap();
    let theirs =
        ["n", "slope", "intercept_mm", "residual_sd_mm", "r2"].map(|c| number(fact, c).unwrap());
    let ours = [
        f64::from(line.n),
        line.slope,
        line.intercept_mm,
        line.residual_sd_mm,
        line.r2,
    ];
    for (ours, theirs) in ours.into_iter().zip(theirs) {
        assert_abs_diff_eq!(ours, theirs, epsilon = 1e-12);
    }
}

#[test]
fn arms_by_age_are_as_computed() {
    let facts = records(include_str!("../../data/body/nhanes.csv"));
    let columns = [
        "n", "mean", "se", "sd", "p05", "p10", "p15", "p25", "p50", "p75", "p85", "p90", "p95",
    ];
    for (id, sex, measure) in [
        ("nhanes-female", "F", "mid_upper_arm_circumference_cm"),
        ("nhanes-male", "M", "mid_upper_arm_circumference_cm"),
        ("nhanes-female-length", "F", "upper_arm_length_cm"),
        ("nhanes-male-length", "M", "upper_arm_length_cm"),
    ] {
        let mut facts = of_sex(&facts, sex);
        facts.retain(|fact| fact["measure"] == measure);
        agrees(id, &facts, "age", &columns.map(|c| (c, c)));
    }
}

#[test]
fn yarn_categories_are_as_printed() {
    let facts = records(include_str!("../../data/body/yarn.csv"));
    let table = find("yarn").unwrap();
    for fact in &facts {
        let row = row(table, &format!("{} {}", fact["category"], fact["name"]));
        let stitches = cell(table, row, "stitches");
        let needle = cell(table, row, "needle");
        assert_eq!(stitches.low, number(fact, "sts_per_4in_lo"));
        assert_eq!(stitches.high, number(fact, "sts_per_4in_hi"));
        assert_eq!(needle.low, number(fact, "needle_mm_lo"));
        assert_eq!(needle.high, number(fact, "needle_mm_hi"));
    }
    assert_eq!(table.rows.len(), facts.len());
}

/// Ease bands, in inches: Craft Yarn Council, 2015 (the edges that were seen in print), and the
/// older chart as quoted in 2011.
#[test]
fn ease_bands_are_as_printed() {
    let table = find("ease").unwrap();
    for (label, low, high) in [
        ("very close fitting", Some(-4.0), Some(-2.0)),
        ("close fitting", Some(0.0), Some(0.0)),
        ("classic fit", None, Some(4.0)),
        ("loose fit", None, Some(6.0)),
        ("oversized", Some(6.0), None),
        ("very close fitting, before 2015", None, Some(0.0)),
        ("close fitting, before 2015", Some(1.0), Some(2.0)),
        ("standard fitting, before 2015", Some(2.0), Some(4.0)),
        ("loose fitting, before 2015", Some(4.0), Some(6.0)),
        ("oversized, before 2015", Some(6.0), None),
    ] {
        let found = cell(table, row(table, label), "ease");
        assert_eq!((found.low, found.high), (low, high), "{label}");
    }
    assert_eq!(table.rows.len(), 10);
}

/// What a publisher asks for is given wherever its figures are.
#[test]
fn charts_carry_their_credit_line() {
    for table in tables() {
        let yarn_council = table.source.contains("Craft Yarn Council");
        let credited = table.credit == "Source: Craft Yarn Council's www.YarnStandards.com";
        assert_eq!(yarn_council, credited, "{}", table.id);
    }
}

/// No cell stands for a quantity that its column does not hold.
#[test]
fn lengths_grow_with_the_size_and_arms_stay_below_the_bust() {
    for table in tables().iter().filter(|t| t.kind == TableKind::Chart) {
        let lengths: Vec<f64> = table
            .rows
            .iter()
            .map(|row| table.length(row, "upper_arm").unwrap().to_cm())
            .collect();
        assert!(
            lengths.windows(2).all(|pair| pair[0] < pair[1]),
            "{}",
            table.id
        );
        for row in &table.rows {
            let arm = table.length(row, "upper_arm").unwrap();
            assert!(arm < table.length(row, "chest").unwrap() * 0.5);
        }
        assert!(
            table
                .columns
                .iter()
                .all(|c| c.quantity == TableQuantity::Length)
        );
    }
}
