//! Whole outputs as files: every plan of the demo charter as a guide reads it, and the README's
//! copy of one. `HANGBAR_REWRITE=1 cargo test --test goldens` writes them anew; read the diff.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;

/// Two screens of 50 lines.
const TWO_SCREENS: usize = 100;
const COLUMNS: usize = 80;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn plans() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(root().join("plans"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter_map(|name| name.strip_suffix(".toml").map(str::to_owned))
        .collect();
    names.sort();
    assert!(names.len() >= 8, "the demo charter lost plans");
    names
}

/// Standard output, with status and standard error where they are not 0 and empty.
fn run(arguments: &[&str]) -> String {
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .current_dir(root())
        .args(arguments)
        .output()
        .unwrap();
    let mut text = String::from_utf8(output.stdout).unwrap();
    let errors = String::from_utf8(output.stderr).unwrap();
    if !errors.is_empty() {
        text.push_str(&format!("--- standard error\n{errors}"));
    }
    match output.status.code().unwrap() {
        0 => {}
        status => text.push_str(&format!("--- exit status {status}\n")),
    }
    text
}

fn compare(name: &str, got: &str) {
    let path = root().join("tests/golden").join(format!("{name}.txt"));
    if std::env::var_os("HANGBAR_REWRITE").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, got).unwrap();
    }
    let want = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        got == want,
        "{name} differs from its golden; it is now:\n{got}"
    );
}

#[test]
fn every_plan_of_the_charter_is_briefed_as_its_golden_has_it() {
    for name in plans() {
        let plan = format!("plans/{name}.toml");
        compare(&format!("brief-{name}"), &run(&["brief", &plan]));
    }
}

#[test]
fn a_briefing_reads_in_the_other_units_as_its_golden_has_it() {
    for (name, units) in [("anvil", "imperial"), ("orla-finch", "metric")] {
        let plan = format!("plans/{name}.toml");
        let got = run(&["brief", &plan, "--units", units]);
        compare(&format!("brief-{name}-{units}"), &got);
    }
}

#[test]
fn the_what_ifs_read_as_their_goldens_have_them() {
    for name in ["skua-stack", "orla-finch-stern", "long-ledge"] {
        let plan = format!("plans/{name}.toml");
        compare(&format!("whatif-{name}"), &run(&["whatif", &plan]));
    }
    let chosen = ["--late", "4min,8min", "--deeper", "5m", "--harder", "40%"];
    let mut arguments = vec!["whatif", "plans/kittiwake-wall.toml"];
    arguments.extend(chosen);
    compare("whatif-kittiwake-wall-chosen", &run(&arguments));
}

#[test]
fn the_check_of_the_charter_reads_as_its_golden_has_it() {
    compare("check-plans", &run(&["check", "plans"]));
}

#[test]
fn each_plan_gives_the_verdict_that_its_comment_promises() {
    for name in plans() {
        let text = fs::read_to_string(root().join(format!("plans/{name}.toml"))).unwrap();
        let promise = text.split_once("Verdict: ").unwrap().1;
        let words = ["GO", "NO-GO", "SCHEDULE ONLY"];
        let promised = words.iter().find(|word| promise.starts_with(**word));
        let promised = promised.unwrap_or_else(|| panic!("{name} promises nothing"));
        let briefing = run(&["brief", &format!("plans/{name}.toml")]);
        assert!(briefing.starts_with(&format!("{promised}  ")), "{name}");
    }
}

#[test]
fn no_line_is_wider_than_a_screen_and_four_divers_fit_two_of_them() {
    let mut most_divers = 0;
    for name in plans() {
        let plan = format!("plans/{name}.toml");
        let divers = fs::read_to_string(root().join(&plan)).unwrap();
        let divers = divers.matches("[[diver]]").count();
        most_divers = most_divers.max(divers);
        for command in ["brief", "whatif"] {
            let text = run(&[command, &plan]);
            for line in text.lines() {
                assert!(line.chars().count() <= COLUMNS, "{command} {name}: {line}");
            }
            let lines = text.lines().count();
            assert!(
                command != "brief" || lines <= TWO_SCREENS,
                "{name}: {lines} lines"
            );
        }
    }
    assert_eq!(most_divers, 4, "no plan has four divers");
}

/// The README's blocks of plain text: a briefing, then a refusal.
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
    let got = got.strip_prefix("--- standard error\n").unwrap();
    let got = got.strip_suffix("--- exit status 2\n").unwrap();
    assert_eq!(readme_blocks("text")[1], got);
}

#[test]
fn the_readme_s_plan_with_every_key_is_briefed() {
    let plan = &readme_blocks("toml")[0];
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .args(["brief", "-"])
        .write_stdin(plan.as_str())
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{text}");
    assert!(text.starts_with("GO  Skua Stack, outer side\n"));
}
