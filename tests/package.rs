//! What is packed, and what it is built with.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::process::Command;

use serde_json::Value;

/// The output of cargo in this package, which asks nobody outside.
fn cargo(arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    let output = command.args(arguments).arg("--offline").output().unwrap();
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{arguments:?}: {errors}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn the_package_holds_the_program_its_plans_and_no_tests() {
    let list = cargo(&["package", "--list", "--allow-dirty"]);
    let files: Vec<&str> = list.lines().collect();
    for file in [
        "src/lib.rs",
        "src/bin/hangbar/main.rs",
        "README.md",
        "LICENSE",
    ] {
        assert!(files.contains(&file), "no {file} in {list}");
    }
    let plans = |file: &&&str| file.starts_with("plans/");
    assert!(files.iter().filter(plans).count() > 10, "{list}");
    for file in files {
        let known = [
            "src/",
            "plans/",
            "examples/",
            "tests/benches/",
            "Cargo.",
            ".cargo_vcs",
        ];
        let known = known.iter().any(|start| file.starts_with(start));
        let alone = ["README.md", "DEVELOPERS.md", "LICENSE"].contains(&file);
        assert!(known || alone, "what is {file} packed for?");
    }
}

/// As `1.88` or `1.88.0`.
fn version(text: &str) -> Vec<u32> {
    let parts = text.split(['.', '-']).map_while(|part| part.parse().ok());
    let mut parts: Vec<u32> = parts.collect();
    parts.resize(3, 0);
    parts
}

#[test]
fn no_dependency_asks_for_a_newer_rust_than_this_package_promises() {
    // Those of other systems may not be here.
    let about = cargo(&["version", "--verbose"]);
    let host = about.lines().find_map(|line| line.strip_prefix("host: "));
    let here = ["--filter-platform", host.unwrap()];
    let asked = ["metadata", "--format-version", "1", "--locked"];
    let metadata = cargo(&[&asked[..], &here[..]].concat());
    let metadata: Value = serde_json::from_str(&metadata).unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    let promised = packages.iter().find(|package| package["name"] == "hangbar");
    let promised = promised.unwrap()["rust_version"].as_str().unwrap();
    let mut asked = 0;
    for package in packages {
        if let Some(asks) = package["rust_version"].as_str() {
            let name = &package["name"];
            assert!(version(asks) <= version(promised), "{name} asks for {asks}");
            asked += 1;
        }
    }
    assert!(asked > 20, "only {asked} packages say what they ask for");
}
