//! The rooms of the source: who may use whom.
//!
//! Read from the text of the files: `use` lines and paths that begin with `crate` or `super`.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// The rooms from the ground up, as the map in DEVELOPERS.md has them.
const ROOMS: [&str; 20] = [
    "letters",
    "quantity",
    "site",
    "tissue",
    "rules",
    "dive",
    "oxygen",
    "plan",
    "record",
    "plan_file",
    "surface",
    "gas",
    "finding",
    "whatif",
    "referee",
    "briefing",
    "day",
    "debrief",
    "explain",
    "report",
];
/// Modules that others may go to past the door: figures for people, and the table of ranges.
const OPEN: [&str; 2] = ["quantity::show", "rules::ranges"];

/// Modules by their path from the root, as `dive::flight`; a room's door is `dive`.
type Graph = BTreeMap<String, BTreeSet<String>>;

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// Every file below a folder, but for the folders named.
fn files(folder: &Path, without: &str, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            if !path.ends_with(without) {
                files(&path, without, found);
            }
        } else {
            found.push(path);
        }
    }
}

/// `src/dive/flight.rs` is `dive::flight`.
fn module_of(root: &Path, file: &Path) -> String {
    let path = file.strip_prefix(root).unwrap().with_extension("");
    let names: Vec<_> = path.iter().map(|name| name.to_str().unwrap()).collect();
    names.join("::")
}

/// The code of a file without comments, texts and its own tests.
fn code_of(file: &Path) -> String {
    let text = fs::read_to_string(file).unwrap();
    let text = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = text
        .lines()
        .map(|line| line.split("//").next().unwrap_or_default());
    lines.collect::<Vec<_>>().join(" ")
}

/// `{a, b::{c, d}}` as `a`, `b::c`, `b::d`, each behind the prefix.
fn flat(prefix: &str, tree: &str, found: &mut Vec<String>) {
    let (mut depth, mut item) = (0, String::new());
    for c in tree.chars().chain([',']) {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if c != ',' || depth > 0 {
            item.push(c);
            continue;
        }
        let whole = item.trim();
        match whole.split_once('{') {
            Some((head, rest)) => {
                let inner = rest.trim_end().strip_suffix('}').unwrap_or(rest);
                flat(&format!("{prefix}{}", head.trim()), inner, found);
            }
            None if !whole.is_empty() => found.push(format!("{prefix}{whole}")),
            None => {}
        }
        item.clear();
    }
}

/// All paths that a file names: those of its `use` lines, and those in its code.
fn paths_of(code: &str) -> Vec<String> {
    let mut paths = Vec::new();
    for part in code.split("use ").skip(1) {
        flat("", part.split(';').next().unwrap_or_default(), &mut paths);
    }
    let is_path = |c: char| c.is_alphanumeric() || c == '_' || c == ':';
    let words = code.split(|c: char| !is_path(c));
    paths.extend(
        words
            .filter(|word| word.contains("::") && !word.ends_with("::"))
            .map(str::to_owned),
    );
    paths
}

/// The module that a path leads to from another one, if it is one of the tree.
fn target(path: &str, from: &str, modules: &BTreeSet<String>) -> Option<String> {
    let mut here: Vec<&str> = from.split("::").filter(|name| *name != "main").collect();
    let mut rest: Vec<&str> = path.split("::").map(str::trim).collect();
    match rest.first() {
        Some(&"crate") => {
            here.clear();
            rest.remove(0);
        }
        Some(&"super") => {
            while rest.first() == Some(&"super") {
                here.pop();
                rest.remove(0);
            }
        }
        Some(&"self") => {
            rest.remove(0);
        }
        // A child of this module, or of nobody here.
        _ => {}
    }
    let whole: Vec<&str> = here.iter().chain(&rest).copied().collect();
    // What ends a path from the root is an item at a door, though a file may be called so too.
    let ends = whole.len() - usize::from(path.starts_with("crate::") && whole.len() > 1);
    let longest = here.len().clamp(1, ends)..=ends;
    let mut found = longest.rev().map(|count| whole[..count].join("::"));
    let found = found.find(|name| modules.contains(name))?;
    // A word of this module's own, or of nobody here, leads nowhere else.
    let named = path.starts_with("crate::") || path.starts_with("super::");
    let is_inside = from.starts_with(&format!("{found}::"));
    (found != from && (named || !is_inside)).then_some(found)
}

fn graph(root: &Path, without: &str) -> Graph {
    let mut found = Vec::new();
    files(root, without, &mut found);
    let modules: BTreeSet<String> = found.iter().map(|file| module_of(root, file)).collect();
    let uses = |file: &PathBuf| {
        let from = module_of(root, file);
        let paths = paths_of(&code_of(file));
        let targets = paths
            .iter()
            .filter_map(|path| target(path, &from, &modules));
        (from.clone(), targets.filter(|to| *to != from).collect())
    };
    found.iter().map(uses).collect()
}

/// The rooms: what stands before the first `::`.
fn rooms(graph: &Graph) -> Graph {
    let room = |module: &str| module.split("::").next().unwrap_or_default().to_owned();
    let mut rooms = Graph::new();
    for (from, uses) in graph {
        let known = rooms.entry(room(from)).or_default();
        known.extend(
            uses.iter()
                .map(|to| room(to))
                .filter(|to| *to != room(from)),
        );
    }
    rooms
}

/// A circle, if there is one: whoever is left when those who use nobody left are taken away.
fn circle(graph: &Graph) -> Vec<String> {
    let mut left = graph.clone();
    loop {
        let free =
            |(_, uses): &(&String, &BTreeSet<String>)| uses.iter().all(|to| !left.contains_key(to));
        let done: Vec<String> = left
            .iter()
            .filter(free)
            .map(|(name, _)| name.clone())
            .collect();
        if done.is_empty() {
            return left.into_keys().collect();
        }
        left.retain(|name, _| !done.contains(name));
    }
}

#[test]
fn no_two_modules_of_the_library_use_each_other() {
    let graph = graph(&source(), "bin");
    assert!(graph.len() > 80, "only {} modules were found", graph.len());
    assert!(graph["dive::schedule"].contains("dive::ascent"));
    assert!(graph["dive::schedule"].contains("rules"));
    assert_eq!(circle(&graph), Vec::<String>::new());
}

#[test]
fn no_two_rooms_of_the_library_use_each_other() {
    let rooms = rooms(&graph(&source(), "bin"));
    assert!(rooms["gas"].contains("dive") && rooms["briefing"].contains("gas"));
    assert_eq!(circle(&rooms), Vec::<String>::new());
}

#[test]
fn a_room_uses_only_those_before_it_and_by_their_doors() {
    let graph = graph(&source(), "bin");
    let floor = |room: &str| {
        let floor = ROOMS.iter().position(|known| *known == room);
        floor.unwrap_or_else(|| panic!("{room} is no room that this test knows"))
    };
    for (from, uses) in &graph {
        let room = from.split("::").next().unwrap();
        for to in uses.iter().filter(|_| room != "lib") {
            let other = to.split("::").next().unwrap();
            if other == room {
                continue;
            }
            assert!(floor(other) < floor(room), "{from} uses {to}");
            let is_open = to == other || OPEN.contains(&to.as_str());
            assert!(is_open, "{from} goes to {to}, past the door");
        }
    }
    let map = Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let map = fs::read_to_string(map).unwrap();
    let places = ROOMS.iter().map(|room| {
        let names = [format!("| `{room}/`"), format!("| `{room}.rs`")];
        let place = names.iter().find_map(|name| map.find(name));
        place.unwrap_or_else(|| panic!("{room} is not in the map"))
    });
    assert!(places.is_sorted(), "the map has the rooms in another order");
}

#[test]
fn no_two_modules_of_the_binary_use_each_other() {
    let graph = graph(&source().join("bin").join("hangbar"), "none");
    assert!(graph.len() > 10 && !graph["main"].is_empty(), "{graph:?}");
    assert_eq!(circle(&graph), Vec::<String>::new());
}

#[test]
fn a_door_declares_and_shows_and_holds_nothing() {
    let root = source();
    let mut doors = 0;
    for entry in fs::read_dir(&root).unwrap() {
        let file = entry.unwrap().path();
        if !file.is_file() || !file.with_extension("").is_dir() {
            continue;
        }
        let code = code_of(&file);
        for item in ["fn ", "struct ", "enum ", "impl ", "const ", "macro_rules!"] {
            assert!(!code.contains(item), "{}: {item}", file.display());
        }
        doors += 1;
    }
    assert!(doors >= 10, "only {doors} doors were found");
}

#[test]
fn a_circle_is_seen() {
    let uses = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
    let graph: Graph = [
        ("a".to_owned(), uses(&["b"])),
        ("b".to_owned(), uses(&["c"])),
        ("c".to_owned(), uses(&["b", "d"])),
        ("d".to_owned(), uses(&[])),
    ]
    .into();
    assert_eq!(circle(&graph), ["a", "b", "c"]);
    let modules = ["dive", "dive::flight", "plan"].map(str::to_owned).into();
    let to = |path, from| target(path, from, &modules);
    assert_eq!(
        to("super::flight::Flight", "dive::ascent").as_deref(),
        Some("dive::flight")
    );
    assert_eq!(
        to("crate::plan::Plan", "dive::flight").as_deref(),
        Some("plan")
    );
    assert_eq!(
        to("flight::Flight", "dive").as_deref(),
        Some("dive::flight")
    );
    assert_eq!(
        to("crate::dive::Flight", "dive::flight").as_deref(),
        Some("dive")
    );
    assert_eq!(to("super::Flight", "dive::flight").as_deref(), Some("dive"));
    assert_eq!(to("crate::dive::flight::Flight", "dive::flight"), None);
    assert_eq!(to("std::fmt", "dive"), None);
    assert_eq!(to("fmt::Display", "dive::flight"), None);
}
