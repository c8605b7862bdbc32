#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "helpers of tests"
)]
//! What may be linked in: licences and named crates. Needs no network and no extra tool.

use std::collections::BTreeSet;
use std::process::Command;

/// One of these must be offered by every crate.
const LICENCES: &[&str] = &[
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "ISC",
    "Unicode-3.0",
    "0BSD",
];

/// Crates that may not come in, and why.
const BANNED: &[(&str, &str)] = &[
    (
        "tiny_http",
        "CVE-2026-66752 and CVE-2026-66753, no release since 2022",
    ),
    ("openssl-sys", "needs a C library; nothing here speaks TLS"),
];

/// Crates allowed in two versions, and who pulls the older one.
const DUPLICATES: &[&str] = &[
    "miniz_oxide", // png, below tiny-skia
    "roxmltree",   // fontconfig-parser, below usvg's fontdb
];

/// One line a crate, as `name version|licence|source`, of the crates really built for these edges.
fn tree(edges: &str) -> BTreeSet<String> {
    let out = Command::new(env!("CARGO"))
        .args([
            "tree",
            "--locked",
            "--offline",
            "--all-features",
            "--prefix=none",
            "--no-dedupe",
        ])
        .args(["--target=all", "--edges", edges, "--format={p}|{l}"])
        .output()
        .expect("cargo tree runs");
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    let text = String::from_utf8(out.stdout).expect("cargo tree prints UTF-8");
    text.lines()
        .skip(1)
        .map(|l| l.replace(" (*)", "").replace(" (proc-macro)", ""))
        .collect()
}

/// `A OR B` needs one allowed side, `A AND B` needs both. Brackets are dropped: enough for the Rust registry.
fn allowed(expr: &str) -> bool {
    let expr = expr.replace('/', " OR ").replace(['(', ')'], "");
    expr.split(" AND ").all(|part| {
        part.split(" OR ")
            .any(|l| LICENCES.contains(&l.trim().trim_end_matches(" WITH LLVM-exception")))
    })
}

#[test]
fn licences_and_bans() {
    let mut problems = Vec::new();
    for line in tree("normal,build,dev") {
        let (package, licence) = line.split_once('|').expect("the format has one bar");
        let name = package.split(' ').next().unwrap_or(package);
        if !allowed(licence) {
            problems.push(format!("{package}: licence `{licence}`"));
        }
        if let Some((_, why)) = BANNED.iter().find(|b| b.0 == name) {
            problems.push(format!("{package}: banned, {why}"));
        }
    }
    assert!(problems.is_empty(), "{}", problems.join("\n"));
}

#[test]
fn no_new_duplicates() {
    let mut seen = BTreeSet::new();
    let mut twice = BTreeSet::new();
    for line in tree("normal,build") {
        let name = line.split(' ').next().unwrap_or("").to_owned();
        if !seen.insert(name.clone()) {
            twice.insert(name);
        }
    }
    let allowed: BTreeSet<String> = DUPLICATES.iter().map(|s| (*s).to_owned()).collect();
    assert_eq!(twice, allowed, "crates in two versions");
}
