//! `hangbar check`.

use std::fs;
use std::path::Path;

use predicates::prelude::*;
use predicates::str::contains;

use crate::document::{Check, Finding, Verdict};
use crate::folder::Folder;
use crate::plans::{BROKEN, LAGOON, REEF, STUCK, THIRSTY, gully};
use crate::run::{hangbar, json_briefing, parsed, text_of};

#[test]
fn check_prints_a_line_for_each_file_in_the_order_given() {
    let folder = Folder::new("cli-check-order");
    let (reef, thirsty) = (
        folder.write("reef.toml", REEF),
        folder.write("thirsty.toml", THIRSTY),
    );
    let notes = folder.write("lagoon.txt", LAGOON);
    let output = hangbar()
        .arg("check")
        .args([&thirsty, &reef, &notes, &reef])
        .output()
        .unwrap();
    let lines: Vec<String> = text_of(&output.stdout).lines().map(str::to_owned).collect();
    let want = [
        ("no-go", &thirsty),
        ("go", &reef),
        ("schedule-only", &notes),
        ("go", &reef),
    ];
    assert_eq!(lines.len(), want.len(), "{lines:?}");
    for (line, (verdict, file)) in lines.iter().zip(want) {
        let words: Vec<&str> = line.split_whitespace().collect();
        assert_eq!(words[..2], [verdict, &*file.to_string_lossy()], "{line}");
    }
    assert!(
        lines[0].contains("no-go: ") && lines[0].contains("gas-runs-out (Benedikta)"),
        "{}",
        lines[0]
    );
    assert!(output.stderr.is_empty());
}

#[test]
fn check_ends_with_the_worst_status_of_all() {
    let folder = Folder::new("cli-check-status");
    let go = folder.write("go.toml", REEF);
    let no_go = folder.write("no-go.toml", THIRSTY);
    let broken = folder.write("broken.toml", BROKEN);
    let stuck = folder.write("stuck.toml", STUCK);
    let missing = folder.path().join("missing.toml");
    for (paths, code) in [
        (vec![&go], 0),
        (vec![&go, &go], 0),
        (vec![&no_go, &go], 1),
        (vec![&go, &no_go], 1),
        (vec![&broken, &go], 2),
        (vec![&broken, &no_go], 2),
        (vec![&no_go, &stuck, &go], 2),
        (vec![&missing, &go], 2),
    ] {
        for format in ["text", "json"] {
            hangbar()
                .args(["check", "--format", format])
                .args(&paths)
                .assert()
                .code(code);
        }
    }
}

#[test]
fn a_broken_file_does_not_stop_check_from_reading_the_others() {
    let folder = Folder::new("cli-check-broken");
    folder.write("a.toml", BROKEN);
    folder.write("b.toml", REEF);
    folder.write("c.toml", STUCK);
    folder.write("d.toml", THIRSTY);
    fs::write(folder.path().join("e.toml"), b"\xff\xfe").unwrap();
    let rows = check_json(&[folder.path()], 2);
    let verdicts: Vec<Verdict> = rows.iter().map(|row| row.verdict).collect();
    let (unusable, go, no_go) = (Verdict::Unusable, Verdict::Go, Verdict::NoGo);
    assert_eq!(verdicts, [unusable, go, unusable, no_go, unusable]);
    let statuses: Vec<i32> = rows.iter().map(|row| row.exit_status.unwrap()).collect();
    assert_eq!(statuses, [2, 0, 2, 1, 2]);
    let output = hangbar().arg("check").arg(folder.path()).output().unwrap();
    assert_eq!(text_of(&output.stdout).lines().count(), 5);
    let stderr = text_of(&output.stderr);
    assert!(
        stderr.contains("a.toml:1:1") && stderr.contains("UTF-16"),
        "{stderr}"
    );
}

#[test]
fn each_json_line_of_check_has_every_field_and_no_other() {
    let folder = Folder::new("cli-check-json");
    folder.write("a.toml", BROKEN);
    folder.write("b.toml", THIRSTY);
    folder.write("c.toml", REEF);
    let rows = check_json(&[folder.path()], 2);
    assert!(rows.iter().all(|row| row.schema == "hangbar/check/1"));
    let errors = &rows[0].errors;
    let places: Vec<(Option<usize>, Option<usize>)> =
        errors.iter().map(|one| (one.line, one.column)).collect();
    assert_eq!(
        places,
        [(Some(1), Some(1)), (Some(3), Some(9)), (Some(4), Some(15))]
    );
    assert_eq!(errors[0].meant.as_deref(), Some("title"));
    assert_eq!(
        (errors[0].table.as_deref(), errors[0].key.as_deref()),
        (None, None)
    );
    assert_eq!(
        (errors[1].table.as_deref(), errors[1].key.as_deref()),
        (Some("[profile]"), Some("depth"))
    );
    assert!(
        errors[1]
            .accepted
            .as_deref()
            .unwrap()
            .contains("as \"28 m\"")
    );
    let briefing = json_briefing(THIRSTY, &[]);
    let codes = |findings: &[Finding]| -> Vec<String> {
        findings
            .iter()
            .map(|finding| format!("{} {}", finding.code, finding.message))
            .collect()
    };
    assert_eq!(codes(&rows[1].findings), codes(&briefing.findings));
    assert!(rows[1].errors.is_empty() && rows[2].errors.is_empty());
}

#[test]
fn check_takes_every_plan_of_a_folder_and_of_the_folders_in_it_by_name() {
    let folder = Folder::new("cli-check-folder");
    for name in [
        "b.toml",
        "a.toml",
        "deeper/still/d.toml",
        "deeper/c.toml",
        "plan.d/e.toml",
    ] {
        folder.write(name, LAGOON);
    }
    // Not plans: another ending, a hidden file, a hidden folder.
    for name in [
        "notes.txt",
        "a.toml.bak",
        ".hidden.toml",
        ".git/x.toml",
        "toml",
    ] {
        folder.write(name, BROKEN);
    }
    let rows = check_json(&[folder.path()], 0);
    let files: Vec<String> = rows
        .iter()
        .filter(|row| row.verdict != Verdict::Skipped)
        .map(|row| {
            Path::new(&row.file)
                .strip_prefix(folder.path())
                .unwrap()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    let want = [
        "a.toml",
        "b.toml",
        "deeper/c.toml",
        "deeper/still/d.toml",
        "plan.d/e.toml",
    ];
    assert_eq!(files, want);
}

#[test]
fn a_folder_without_plans_is_an_error_and_the_others_are_still_checked() {
    let folder = Folder::new("cli-check-empty");
    let empty = folder.path().join("empty");
    fs::create_dir(&empty).unwrap();
    let reef = folder.write("reef.toml", REEF);
    for format in ["text", "json"] {
        let mut command = hangbar();
        let assert = command
            .args(["check", "--format", format])
            .args([&empty, &reef])
            .assert();
        assert
            .code(2)
            .stdout(contains("reef.toml"))
            .stderr(contains("no plan (.toml file) in folder").and(contains("empty")));
    }
}

#[test]
fn file_names_with_blanks_are_whole_and_with_control_characters_harmless() {
    let folder = Folder::new("cli-check-names");
    let names = [
        "two  words.toml",
        "tab\there.toml",
        "esc\u{1b}[31m.toml",
        "line\nend.toml",
        "ümlaut 海.toml",
    ];
    for name in names {
        folder.write(name, LAGOON);
        folder.write(&format!("broken/{name}"), BROKEN);
    }
    let output = hangbar().arg("check").arg(folder.path()).output().unwrap();
    let (stdout, stderr) = (text_of(&output.stdout), text_of(&output.stderr));
    assert_eq!(stdout.lines().count(), 2 * names.len(), "{stdout}");
    for text in [&stdout, &stderr] {
        assert!(
            text.contains("two  words.toml") && text.contains("ümlaut 海.toml"),
            "{text}"
        );
        assert!(
            text.chars().all(|c| c == '\n' || !c.is_control()),
            "{text:?}"
        );
    }
    let rows = check_json(&[folder.path()], 2);
    for name in names {
        assert_eq!(
            rows.iter().filter(|row| row.file.ends_with(name)).count(),
            2,
            "{name:?}"
        );
    }
    let broken = folder.path().join("broken").join("esc\u{1b}[31m.toml");
    let output = hangbar().arg("brief").arg(broken).output().unwrap();
    let errors = text_of(&output.stderr);
    assert!(
        errors.contains("esc") && !errors.contains('\u{1b}'),
        "{errors:?}"
    );
}

#[cfg(target_os = "linux")]
#[test]
fn a_file_name_that_is_not_text_is_still_checked() {
    use std::os::unix::ffi::OsStrExt;
    let folder = Folder::new("cli-check-bytes");
    let name = std::ffi::OsStr::from_bytes(b"caf\xe9.toml");
    fs::write(folder.path().join(name), LAGOON).unwrap();
    let rows = check_json(&[folder.path()], 0);
    assert!(
        rows[0].file.ends_with("caf\u{fffd}.toml"),
        "{}",
        rows[0].file
    );
}

/// A link back up would make a folder endless.
#[cfg(unix)]
#[test]
fn a_folder_that_is_linked_into_itself_lists_each_plan_once() {
    let folder = Folder::new("cli-check-loop");
    folder.write("lagoon.toml", LAGOON);
    std::os::unix::fs::symlink(".", folder.path().join("again")).unwrap();
    let rows = check_json(&[folder.path()], 0);
    let skipped = |row: &&Check| row.verdict == Verdict::Skipped;
    assert_eq!(rows.iter().filter(skipped).count(), 1);
    assert_eq!(rows.len(), 2);
}

#[cfg(unix)]
#[test]
fn a_link_to_nowhere_is_named_and_stops_nothing() {
    let folder = Folder::new("cli-check-nowhere");
    folder.write("b.toml", LAGOON);
    std::os::unix::fs::symlink("gone.toml", folder.path().join("a.toml")).unwrap();
    let rows = check_json(&[folder.path()], 2);
    let verdicts: Vec<Verdict> = rows.iter().map(|row| row.verdict).collect();
    assert_eq!(verdicts, [Verdict::Unusable, Verdict::ScheduleOnly]);
    assert!(
        rows[0].errors[0].message.contains("there is no such file"),
        "{}",
        rows[0].errors[0].message
    );
}

#[test]
fn a_check_counts_what_a_hang_and_a_current_forbid() {
    let folder = Folder::new("cli-check-hang-and-current");
    let plan = gully("200 bar")
        .replace(
            "floor = \"0 bar\"",
            "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"30 min\" }",
        )
        .replace(
            "water = \"en13319\"",
            "water = \"en13319\"\ncurrent = \"1 kn\"",
        )
        .replace(
            "depth = \"18 m\"",
            "depth = \"18 m\"\nswim_speed = \"0.9 kn\"\nout = \"with\"",
        );
    folder.write("gully.toml", &plan);
    hangbar()
        .arg("check")
        .arg(folder.path())
        .assert()
        .code(1)
        .stdout(contains("no-go: current-too-strong, hang-short (Ben)"));
}

fn check_json(paths: &[&Path], code: i32) -> Vec<Check> {
    let output = hangbar()
        .args(["check", "--format", "json"])
        .args(paths)
        .output()
        .unwrap();
    assert_eq!(
        output.status.code(),
        Some(code),
        "{}",
        text_of(&output.stderr)
    );
    text_of(&output.stdout)
        .lines()
        .map(|line| parsed(line.as_bytes()))
        .collect()
}
