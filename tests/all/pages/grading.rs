//! All sizes side by side: the figures are those of the conversion, the steps their differences.

use std::process::Command;

use serde_json::Value;

fn run(args: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("capwright runs");
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

const CASE: &str = "cases/quillam-cardigan.toml";

fn numbers(value: &Value) -> Vec<f64> {
    value
        .as_array()
        .unwrap()
        .iter()
        .map(|n| n.as_f64().unwrap())
        .collect()
}

#[test]
fn the_figures_are_those_of_the_conversion_and_the_steps_their_differences() {
    let grading: Value =
        serde_json::from_str(&run(&["convert", CASE, "--grading", "--format", "json"])).unwrap();
    // A grading is of the caps of one text: with the same runs where a list serves all sizes.
    let same = ["convert", CASE, "--same-runs", "--format", "json"];
    let whole: Value = serde_json::from_str(&run(&same)).unwrap();
    let sizes = whole["sizes"].as_array().unwrap();
    let of = |path: &str| -> Vec<f64> {
        sizes
            .iter()
            .map(|size| size.pointer(path).unwrap().as_f64().unwrap())
            .collect()
    };
    let mut seen = 0;
    for measure in grading["measures"].as_array().unwrap() {
        let values = numbers(&measure["values"]);
        let steps = numbers(&measure["steps"]);
        assert_eq!(steps.len() + 1, values.len());
        for (pair, step) in values.windows(2).zip(&steps) {
            assert!(
                (pair[1] - pair[0] - step).abs() < 0.0021,
                "{}",
                measure["name"]
            );
        }
        let path = match measure["name"].as_str().unwrap() {
            "crown" => "/fit/crown",
            "front picked up" => "/fit/front/picked_up",
            "back picked up" => "/fit/back/picked_up",
            "base" => "/fit/base",
            "turn pairs" => "/fit/turn_pairs",
            "sts at the upper arm" => "/fit/upper_arm_stitches",
            "upper arm" => "/fit/upper_arm_cm",
            "old depth" => "/old_cap/depth_cm",
            "runs" => "/fit/runs",
            "sts at the cuff" => "/sleeve/cuff_stitches",
            _ => continue,
        };
        assert_eq!(values, of(path), "{path}");
        seen += 1;
    }
    assert_eq!(seen, 10);
    // Every size is in one way of building, and its runs make up its moves.
    let mut placed = 0;
    for structure in grading["structures"].as_array().unwrap() {
        for (i, label) in structure["sizes"].as_array().unwrap().iter().enumerate() {
            placed += 1;
            let size = sizes.iter().find(|size| size["size"] == *label).unwrap();
            for flank in ["front", "back"] {
                let runs = structure[flank].as_array().unwrap().iter();
                let moves: Vec<&Value> = runs
                    .flat_map(|run| {
                        vec![
                            &run["move"];
                            usize::try_from(run["times"][i].as_u64().unwrap()).unwrap()
                        ]
                    })
                    .collect();
                let wanted: Vec<&Value> = size["fit"][flank]["moves"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .collect();
                assert_eq!(moves, wanted, "{label} {flank}");
            }
        }
    }
    assert_eq!(placed, sizes.len());
}

/// The lists to paste are in the pattern's own notation and sum up: crown, flanks and base make
/// what is picked up in all, size by size.
#[test]
fn the_lists_to_paste_add_up() {
    let text = run(&["convert", CASE, "--grading"]);
    let paste = text.split("To paste\n").nth(1).unwrap();
    let joined: String = paste.split_whitespace().collect::<Vec<_>>().join(" ");
    let list = |after: &str| -> Vec<u32> {
        let rest = joined
            .split(after)
            .nth(1)
            .unwrap_or_else(|| panic!("no {after} in {joined}"));
        let list = rest.split(" sts").next().unwrap();
        assert!(list.contains('[') && list.contains(':'), "{list}");
        let numbers = list
            .split(|c: char| !c.is_ascii_digit())
            .filter(|n| !n.is_empty());
        numbers.map(|n| n.parse().unwrap()).collect()
    };
    let parts = [
        "Crown: pick up and knit ",
        "Front flank: pick up and knit ",
        "Back flank: pick up and knit ",
        "Base: pick up and knit ",
    ]
    .map(list);
    let all = list("In all: pick up and knit ");
    assert_eq!(all.len(), 10);
    for (i, all) in all.iter().enumerate() {
        assert_eq!(parts.iter().map(|part| part[i]).sum::<u32>(), *all);
    }
}

#[test]
fn the_view_reads_well() {
    insta::assert_snapshot!("grading", run(&["convert", CASE, "--grading"]));
    let csv = run(&["convert", CASE, "--grading=csv"]);
    let columns = csv.lines().map(|line| line.split(',').count());
    assert!(columns.clone().all(|n| n == 13), "{csv}");
    assert_eq!(columns.count(), 1 + 2 * 21);
}
