//! The README's copies of plans, briefings and refusals.

use std::fs;

use assert_cmd::Command;

use crate::program::{STANDARD_ERROR, root, run};

/// The README's blocks of plain text: a briefing, a refusal, a gas.
fn readme_blocks(language: &str) -> Vec<String> {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let opening = format!("```{language}\n");
    let blocks = readme.split(opening.as_str()).skip(1);
    blocks
        .map(|block| block.split_once("```\n").unwrap().0.to_owned())
        .collect()
}

#[test]
fn the_readme_shows_the_briefing_that_the_program_gives() {
    let shown = &readme_blocks("text")[0];
    assert_eq!(*shown, run(&["brief", "plans/kittiwake-wall.toml"]));
}

#[test]
fn the_readme_shows_the_refusal_that_the_program_gives() {
    let got = run(&["brief", "tests/data/mistakes.toml"]);
    let got = got.strip_prefix(STANDARD_ERROR).unwrap();
    let got = got.strip_suffix("--- exit status 2\n").unwrap();
    assert_eq!(readme_blocks("text")[1], got);
}

#[test]
fn the_readme_shows_how_the_day_begins_that_the_program_gives() {
    let line = [
        "day",
        "plans/kittiwake-wall.toml",
        "plans/slack-water.toml",
        "--home-by",
        "16:00",
    ];
    let got = run(&line);
    let (begins, _) = got.split_once("\nDive 1, splash ").unwrap();
    assert_eq!(readme_blocks("text")[2], begins);
}

#[test]
fn the_readme_shows_how_the_debrief_begins_that_the_program_gives() {
    let record = |name: &str| format!("examples/records/kittiwake-wall-{name}");
    let (slate, table, readings) = (
        record("pencil.toml"),
        record("mara.csv"),
        record("idris.uddf"),
    );
    let got = run(&[
        "debrief",
        "plans/kittiwake-wall.toml",
        &slate,
        &table,
        &readings,
    ]);
    let (begins, _) = got.split_once("\nWhat it left").unwrap();
    assert_eq!(readme_blocks("text")[3], begins);
}

#[test]
fn the_readme_shows_the_gas_that_the_program_gives() {
    let line = [
        "mix",
        "EAN32",
        "--depth",
        "24m",
        "--blend",
        "200 bar",
        "--from",
        "60 bar EAN28",
    ];
    assert_eq!(readme_blocks("text")[4], run(&line));
}

#[test]
fn the_readme_s_plan_with_every_key_is_briefed() {
    let plan = &readme_blocks("toml")[0];
    let output = Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(["brief", "-"])
        .write_stdin(plan.as_str())
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{text}");
    assert!(text.starts_with("GO  Skua Stack, outer side\n"));
}
