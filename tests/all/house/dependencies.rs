//! What may be linked in, read from Cargo.lock alone: no network, no crate fetched, no extra tool.
//!
//! The rules stand in `deny.toml`, as cargo-deny reads them. A lock file says nothing of licences;
//! `.ci/run` has them checked by cargo-deny where it is installed and else holds the expressions of
//! all crates against `tests/data/licences.txt`, whose lines are judged here.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use toml::{Table, Value};

/// Crates in several versions in the lock file that no build ever needs.
const NEVER_BUILT: &[&str] = &["glam"]; // nalgebra could convert to four versions of it

fn table(name: &str) -> Table {
    fs::read_to_string(name).unwrap().parse().expect(name)
}

/// The array of tables or words that these keys lead to.
fn array<'a>(table: &'a Table, room: &str, key: &str) -> &'a [Value] {
    let found = table.get(room).and_then(|room| room.get(key));
    found.and_then(Value::as_array).expect(key)
}

fn word<'a>(value: &'a Value, key: &str) -> &'a str {
    value.get(key).and_then(Value::as_str).unwrap_or_default()
}

/// The crates of the lock file, all platforms and tests included.
fn locked() -> Vec<Value> {
    let lock = table("Cargo.lock");
    lock.get("package").unwrap().as_array().unwrap().clone()
}

/// The names in a list of `deny.toml`, without their versions; each entry says why it is there.
fn named(rules: &Table, key: &str) -> BTreeSet<String> {
    let entries = array(rules, "bans", key).iter();
    entries
        .map(|entry| {
            assert!(!word(entry, "reason").is_empty(), "{entry}: no reason");
            let name = word(entry, "crate");
            name.split('@').next().unwrap().to_owned()
        })
        .collect()
}

#[test]
fn no_crate_is_banned() {
    let banned = named(&table("deny.toml"), "deny");
    assert!(!banned.is_empty());
    for package in locked() {
        assert!(!banned.contains(word(&package, "name")), "{package}");
    }
}

#[test]
fn every_crate_comes_from_the_registry_with_its_checksum() {
    let rules = table("deny.toml");
    let registries: Vec<String> = array(&rules, "sources", "allow-registry")
        .iter()
        .map(|registry| format!("registry+{}", registry.as_str().unwrap()))
        .collect();
    let packages = locked();
    assert!(packages.len() > 100, "{}", packages.len());
    let ours = ["capwright", "capwright-web"];
    for package in packages.iter().filter(|p| !ours.contains(&word(p, "name"))) {
        let source = word(package, "source").to_owned();
        assert!(registries.contains(&source), "{package}");
        assert_eq!(word(package, "checksum").len(), 64, "{package}");
    }
}

#[test]
fn no_new_crate_comes_twice() {
    let mut versions: BTreeMap<String, u32> = BTreeMap::new();
    for package in locked() {
        *versions
            .entry(word(&package, "name").to_owned())
            .or_default() += 1;
    }
    versions.retain(|_, count| *count > 1);
    let twice: BTreeSet<String> = versions.into_keys().collect();
    let mut allowed = named(&table("deny.toml"), "skip");
    allowed.extend(NEVER_BUILT.iter().map(|&name| name.to_owned()));
    assert_eq!(twice, allowed, "crates in several versions");
}

/// `A OR B` needs one allowed side, `A AND B` needs both, brackets first (SPDX specification 2.3,
/// annex D; `/` is the older way to write OR).
fn offered(expression: &str, allowed: &[&str]) -> bool {
    let expression = expression.replace('/', " OR ");
    let words = expression.replace('(', " ( ").replace(')', " ) ");
    let mut words = words.split_whitespace().peekable();
    let answer = either(&mut words, allowed);
    assert!(words.next().is_none(), "{expression}");
    answer
}

type Words<'a> = std::iter::Peekable<std::str::SplitWhitespace<'a>>;

fn either(words: &mut Words<'_>, allowed: &[&str]) -> bool {
    let mut answer = both(words, allowed);
    while words.next_if_eq(&"OR").is_some() {
        answer |= both(words, allowed);
    }
    answer
}

fn both(words: &mut Words<'_>, allowed: &[&str]) -> bool {
    let mut answer = one(words, allowed);
    while words.next_if_eq(&"AND").is_some() {
        answer &= one(words, allowed);
    }
    answer
}

fn one(words: &mut Words<'_>, allowed: &[&str]) -> bool {
    let word = words.next().expect("a licence");
    if word == "(" {
        let answer = either(words, allowed);
        assert_eq!(words.next(), Some(")"));
        return answer;
    }
    let mut name = word.to_owned();
    if words.next_if_eq(&"WITH").is_some() {
        name = format!("{name} WITH {}", words.next().expect("an exception"));
    }
    allowed.contains(&name.as_str())
}

#[test]
fn every_licence_known_is_one_we_may_use() {
    let rules = table("deny.toml");
    let allowed = array(&rules, "licenses", "allow").iter();
    let allowed: Vec<&str> = allowed.map(|name| name.as_str().unwrap()).collect();
    let known = fs::read_to_string("tests/data/licences.txt").unwrap();
    assert!(known.lines().count() > 10);
    for expression in known.lines() {
        assert!(offered(expression, &allowed), "{expression}");
    }
    for refused in [
        "GPL-3.0-only",
        "MIT AND GPL-3.0-only",
        "(MIT OR Zlib) AND GPL-3.0-only",
        "GPL-2.0-only WITH Classpath-exception-2.0",
    ] {
        assert!(!offered(refused, &allowed), "{refused}");
    }
}
