//! What others have written: each crate has its reason in `DEVELOPERS.md`, and no reason is left over.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn read(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}

/// The crates that a table of the manifest names, for every system or for one.
fn crates(manifest: &toml::Table, table: &str) -> BTreeSet<String> {
    let of_systems = manifest["target"].as_table().unwrap().values();
    let of_systems = of_systems.filter_map(|system| system.get(table));
    let tables = of_systems.chain([&manifest[table]]);
    let crates = tables.flat_map(|table| table.as_table().unwrap().keys());
    let crates: BTreeSet<String> = crates.cloned().collect();
    assert!(!crates.is_empty(), "{table}");
    crates
}

/// The crates in the first column of the table, and whether they are for tests.
fn reasons(text: &str) -> Vec<(String, bool)> {
    let (_, section) = text.split_once("\n## Why each dependency\n").unwrap();
    let rows = section
        .lines()
        .skip_while(|line| !line.starts_with("| ---"))
        .skip(1)
        .take_while(|line| line.starts_with("| "));
    let mut reasons = Vec::new();
    for row in rows {
        let (_, rest) = row.split_once("| ").unwrap();
        let (names, why) = rest.split_once(" | ").unwrap();
        assert!(why.trim_end_matches(" |").len() > 10, "{row}");
        let (names, of_what) = names.split_once(" (").unwrap_or((names, ""));
        let names = names.split(", ").map(str::to_owned);
        reasons.extend(names.map(|name| (name, of_what == "tests)")));
    }
    reasons
}

#[test]
fn every_crate_has_its_reason_and_every_reason_its_crate() {
    let manifest: toml::Table = read("Cargo.toml").parse().unwrap();
    let reasons = reasons(&read("DEVELOPERS.md"));
    for (table, for_tests) in [("dependencies", false), ("dev-dependencies", true)] {
        let given = reasons.iter().filter(|(_, tests)| *tests == for_tests);
        let given: Vec<&String> = given.map(|(name, _)| name).collect();
        let names: BTreeSet<String> = given.iter().copied().cloned().collect();
        assert_eq!(names.len(), given.len(), "a crate stands twice: {given:?}");
        assert_eq!(names, crates(&manifest, table), "{table}");
    }
}
