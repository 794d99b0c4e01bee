//! Exit status, what is read, and where the output goes.

use std::fs;
use std::io::Write;
use std::process::Stdio;

use predicates::prelude::*;
use predicates::str::{contains, is_empty, is_match, starts_with};

use crate::document::Verdict;
use crate::folder::Folder;
use crate::plans::{BROKEN, GOOD_FILES, REEF, STUCK, THIRSTY, verdict_of};
use crate::run::{brief, hangbar, text, text_of};

#[test]
fn the_exit_status_is_the_verdict() {
    for (name, plan, code) in GOOD_FILES {
        for format in ["text", "json"] {
            let output = brief(plan, &["--format", format]);
            assert_eq!(output.status.code(), Some(*code), "{name}");
            assert!(
                output.stderr.is_empty(),
                "{name}: {}",
                text_of(&output.stderr)
            );
        }
    }
}

#[test]
fn the_verdict_comes_first_and_last() {
    for (name, plan, code) in GOOD_FILES {
        let text = text(plan, &[]);
        let word = match verdict_of(plan, *code) {
            Verdict::Go => "GO  ",
            Verdict::NoGo => "NO-GO  ",
            Verdict::ScheduleOnly => "SCHEDULE ONLY  ",
            other => panic!("{name}: {other:?}"),
        };
        assert!(text.starts_with(word), "{name}: {text}");
        let title = plan.lines().next().unwrap().strip_prefix("title = ");
        let title = title.map_or("Untitled dive", |title| title.trim_matches('"'));
        let first = text.lines().next().unwrap();
        assert!(first.ends_with(title), "{name}: {text}");
        assert_eq!(text.lines().last(), Some(first), "{name}: {text}");
    }
}

#[test]
fn a_refused_plan_leaves_no_result_on_standard_output() {
    for plan in [BROKEN, STUCK, "", "[profile"] {
        for args in [
            &["brief"][..],
            &["brief", "--format", "json"],
            &["whatif"],
            &["whatif", "--format", "json"],
        ] {
            let mut command = hangbar();
            let assert = command.args(args).arg("-").write_stdin(plan).assert();
            // With JSON asked for its errors are JSON too.
            let json = args.contains(&"json");
            let want = if json {
                "\"schema\": \"hangbar/errors/1\""
            } else {
                ""
            };
            let assert = assert
                .code(2)
                .stdout(contains(want))
                .stderr(starts_with("error: ").and(contains("--> standard input")));
            if !json {
                assert.stdout(is_empty());
            }
        }
    }
}

#[test]
fn a_dive_without_a_way_up_says_which_stop_does_not_clear_and_why() {
    let output = brief(STUCK, &[]);
    let stderr = text_of(&output.stderr);
    assert!(
        is_match(r"the stop at \d+\.\d m does not clear within 9999 min: compartment \d+ holds")
            .unwrap()
            .eval(&stderr),
        "{stderr}"
    );
}

#[test]
fn a_plan_is_read_from_standard_input_as_from_its_file() {
    let folder = Folder::new("cli-stdin");
    let file = folder.write("reef.toml", REEF);
    let from_file = hangbar().arg("brief").arg(file).output().unwrap();
    assert_eq!(brief(REEF, &[]), from_file);
}

#[test]
fn a_file_that_cannot_be_read_is_named_with_the_reason() {
    let folder = Folder::new("cli-unreadable");
    let latin = folder.path().join("latin.toml");
    fs::write(&latin, b"title = \"Caf\xe9\"\n").unwrap();
    for (path, reason) in [
        (folder.path().join("missing.toml"), "there is no such file"),
        (folder.path().to_path_buf(), "it is a folder"),
        (latin, "the file is not UTF-8 text"),
    ] {
        for command in ["brief", "whatif"] {
            let assert = hangbar().arg(command).arg(&path).assert();
            let name = path.to_string_lossy().into_owned();
            assert.code(2).stdout(is_empty()).stderr(
                starts_with("error: cannot read ")
                    .and(contains(name))
                    .and(contains(reason)),
            );
        }
    }
    let mut command = hangbar();
    let assert = command
        .args(["brief", "-"])
        .write_stdin(&b"title = \"\xff\""[..])
        .assert();
    assert
        .code(2)
        .stdout(is_empty())
        .stderr(contains("standard input: the file is not UTF-8 text"));
}

#[test]
fn an_error_in_a_file_names_it_with_line_and_column() {
    let folder = Folder::new("cli-named");
    let file = folder.write("broken plan.toml", BROKEN);
    let name = file.to_string_lossy().into_owned();
    let assert = hangbar().arg("brief").arg(&file).assert();
    let mut assert = assert.code(2).stdout(is_empty());
    for place in ["1:1", "3:9", "4:15"] {
        assert = assert.stderr(contains(format!("--> {name}:{place}")));
    }
}

/// As `hangbar … | head -0`: nobody reads, nobody panics.
#[test]
fn output_that_nobody_reads_ends_with_the_verdict_and_without_a_word() {
    let folder = Folder::new("cli-closed");
    let file = folder.write("thirsty.toml", THIRSTY);
    let file = file.to_str().unwrap();
    for (args, plan, code) in [
        (&["brief", "-"][..], REEF, 0),
        (&["brief", "-"], THIRSTY, 1),
        (&["brief", "-", "--format", "json"], REEF, 0),
        (&["whatif", "-"], REEF, 0),
        (&["check", "-", file], REEF, 1),
    ] {
        let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_hangbar"))
            .args(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // The plan comes only after the reader is gone, so the command cannot have printed yet.
        drop(child.stdout.take());
        child
            .stdin
            .take()
            .unwrap()
            .write_all(plan.as_bytes())
            .unwrap();
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(code), "{args:?}");
        assert_eq!(text_of(&output.stderr), "", "{args:?}");
    }
}

#[test]
fn errors_that_nobody_reads_end_with_2() {
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(["brief", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stderr.take());
    child
        .stdin
        .take()
        .unwrap()
        .write_all(BROKEN.as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0));
}

#[cfg(target_os = "linux")]
#[test]
fn a_result_that_cannot_be_written_is_an_error() {
    let full = fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(["brief", "-"])
        .stdin(Stdio::piped())
        .stdout(full)
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(REEF.as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(text_of(&output.stderr).starts_with("error: cannot write the result: "));
}
