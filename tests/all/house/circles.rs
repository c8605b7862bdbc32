//! Inside a room imports go one way, too: no file uses another that leads back to it, unless the
//! reason is written in the file: `// Circle with b.rs: why`.

use std::collections::{BTreeMap, BTreeSet};

use super::source::{Module, Place, modules, paths};

type Modules = BTreeMap<Place, Module>;

/// The file in which the thing at this path is defined.
fn defined(modules: &Modules, from: &Place, path: &[String], steps: usize) -> Option<Place> {
    let mut at = from.clone();
    let mut rest = path;
    match path.first()?.as_str() {
        "crate" => at.clear(),
        "self" => {}
        "super" => {
            at.pop();
        }
        _ => {
            let child = [from.as_slice(), &path[..1]].concat();
            modules.contains_key(&child).then_some(())?;
            at = child;
        }
    }
    rest = &rest[1..];
    while let Some((name, after)) = rest.split_first() {
        if name == "super" {
            at.pop();
        } else {
            let child = [at.as_slice(), std::slice::from_ref(name)].concat();
            if !modules.contains_key(&child) {
                break;
            }
            at = child;
        }
        rest = after;
    }
    // What a room hands on is defined where it has it from.
    let handed = rest.first().and_then(|name| {
        let module = modules.get(&at)?;
        let here = module.uses.iter().find(|u| &u.name == name)?;
        defined(modules, &at, &here.path, steps.checked_sub(1)?)
    });
    Some(handed.unwrap_or(at))
}

/// How often a name occurs, but where it names a file of the room.
fn times(code: &str, name: &str) -> usize {
    let letter = |c: char| c.is_alphanumeric() || c == '_';
    let lines = code
        .lines()
        .filter(|line| !line.ends_with(&format!("mod {name};")));
    let words = lines.flat_map(|line| line.split(|c| !letter(c)));
    words.filter(|word| *word == name).count()
}

/// The files of its own room that a file uses.
fn used(modules: &Modules, place: &Place) -> BTreeSet<Place> {
    let module = &modules[place];
    let children: Vec<&str> = modules
        .keys()
        .filter(|other| other.len() == place.len() + 1 && other.starts_with(place))
        .filter_map(|other| other.last().map(String::as_str))
        .collect();
    let imported = module
        .uses
        .iter()
        .filter(|u| !u.handed_on || times(&module.code, &u.name) > 1)
        .map(|u| u.path.clone());
    let named = paths(&module.code, &children);
    let named = named.into_iter().filter(|path| path.len() > 1);
    // A `use` line is among the paths, too, as far as its first group; that says less.
    let whole = |path: &Vec<String>| {
        let handed = module.uses.iter().find(|u| u.path.starts_with(path));
        handed.is_none()
    };
    imported
        .chain(named.filter(whole))
        .filter_map(|path| defined(modules, place, &path, 8))
        .filter(|other| other != place && other.first() == place.first())
        .collect()
}

fn excused(module: &Module, other: &Module) -> bool {
    let name = other.file.file_name().unwrap().to_str().unwrap();
    let folder = other.file.parent().and_then(|f| f.file_name());
    let folder = folder.and_then(|f| f.to_str()).unwrap_or_default();
    let name = if name == "mod.rs" {
        format!("{folder}/mod.rs")
    } else {
        name.to_owned()
    };
    let line = format!("// Circle with {name}: ");
    let reasons = module.text.lines().filter_map(|l| l.strip_prefix(&line));
    reasons.into_iter().any(|reason| reason.len() > 20)
}

/// Where one gets to from here, itself only by a way back.
fn reached<'a>(
    arrows: &'a BTreeMap<Place, BTreeSet<Place>>,
    from: &'a Place,
) -> BTreeSet<&'a Place> {
    let mut reached = BTreeSet::new();
    let mut next = vec![from];
    while let Some(place) = next.pop() {
        for other in &arrows[place] {
            if reached.insert(other) {
                next.push(other);
            }
        }
    }
    reached
}

fn circles(modules: &Modules) -> Vec<String> {
    let arrows: BTreeMap<Place, BTreeSet<Place>> = modules
        .iter()
        .map(|(place, module)| {
            let mut others = used(modules, place);
            others.retain(|other| !excused(module, &modules[other]));
            (place.clone(), others)
        })
        .collect();
    let mut found = Vec::new();
    for (place, others) in &arrows {
        for other in others {
            if reached(&arrows, other).contains(place) {
                found.push(format!("{} -> {}", place.join("::"), other.join("::")));
            }
        }
    }
    found
}

#[test]
fn no_circle_between_the_files_of_a_room() {
    let found = circles(&modules());
    assert!(found.is_empty(), "in a circle:\n{}", found.join("\n"));
}

fn small(files: &[(&str, &str)]) -> Vec<String> {
    let module = |(place, text): &(&str, &str)| {
        let place: Place = place.split("::").map(str::to_owned).collect();
        let code = super::source::code(text);
        let module = Module {
            file: format!("{}.rs", place.join("/")).into(),
            text: (*text).to_owned(),
            uses: super::source::uses(&code),
            code,
        };
        (place, module)
    };
    circles(&files.iter().map(module).collect())
}

#[test]
fn a_circle_is_noticed() {
    let room = ("fit", "mod a;\nmod b;\npub use a::A;\npub use b::B;");
    let both = ["fit::a -> fit::b", "fit::b -> fit::a"];
    let a = ("fit::a", "use super::B;\npub struct A(B);");
    assert_eq!(small(&[room, a, ("fit::b", "use crate::fit::a::A;")]), both);
    assert_eq!(
        small(&[room, a, ("fit::b", "fn b() { super::a::c() }")]),
        both
    );
    let why = "// Circle with a.rs: an A without a B has no meaning.\nuse super::A;";
    assert!(small(&[room, a, ("fit::b", why)]).is_empty());
    assert!(small(&[room, a, ("fit::b", "pub struct B;")]).is_empty());
    let own = ("fit", "mod a;\nuse a::A;\npub struct B(A);");
    assert_eq!(small(&[own, a]), ["fit -> fit::a", "fit::a -> fit"]);
}
