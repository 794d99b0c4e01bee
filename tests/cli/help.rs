//! Help, the version, and command lines that cannot be used.

use predicates::prelude::*;
use predicates::str::{contains, is_empty, starts_with};

use crate::plans::REEF;
use crate::read::too_wide;
use crate::run::{hangbar, stdout, text_of};

#[test]
fn no_arguments_print_the_short_help_and_end_with_2() {
    hangbar().assert().code(2).stdout(is_empty()).stderr(
        contains("Usage: hangbar <COMMAND>")
            .and(contains("brief"))
            .and(contains("check")),
    );
}

#[test]
fn the_version_is_the_crate_s() {
    let line = format!("hangbar {}\n", env!("CARGO_PKG_VERSION"));
    hangbar()
        .arg("--version")
        .assert()
        .success()
        .stdout(line)
        .stderr(is_empty());
}

#[test]
fn every_help_names_every_exit_status() {
    for args in [
        &["--help"][..],
        &["brief", "--help"],
        &["check", "--help"],
        &["whatif", "--help"],
        &["mix", "--help"],
        &["sheet", "--help"],
    ] {
        let mut assert = hangbar().args(args).assert().success().stderr(is_empty());
        for status in [
            "0  go",
            "1  no-go",
            "2  the plan or the command cannot be used",
            "3  an internal check failed",
        ] {
            assert = assert.stdout(contains(status));
        }
    }
}

#[test]
fn no_line_of_help_is_wider_than_80_columns() {
    for args in [
        &["--help"][..],
        &["brief", "--help"],
        &["check", "--help"],
        &["whatif", "--help"],
        &["mix", "--help"],
        &["sheet", "--help"],
    ] {
        let mut command = hangbar();
        let assert = command.args(args).env("COLUMNS", "200").assert().success();
        let help = text_of(&assert.get_output().stdout);
        assert!(help.lines().count() > 10, "{args:?}: {help}");
        assert_eq!(too_wide(&help), Vec::<String>::new(), "{args:?}");
    }
}

/// Pasted into a shell, half an example runs another command.
#[test]
fn each_example_of_the_help_stands_on_one_line() {
    let help = stdout(&["--help"]);
    let examples = help.lines().skip_while(|line| *line != "Examples:").skip(1);
    for line in examples.take_while(|line| !line.is_empty()) {
        assert!(
            line.starts_with("  hangbar "),
            "`{line}` is not a whole command"
        );
        assert_eq!(line.matches('"').count() % 2, 0, "{line}");
    }
}

/// A path, its options and their quotes as they stand in the help.
#[test]
fn the_examples_of_the_help_run() {
    let help = stdout(&["--help"]);
    let examples = help.lines().skip_while(|line| *line != "Examples:").skip(1);
    let block: Vec<&str> = examples
        .take_while(|line| !line.is_empty())
        .map(str::trim)
        .collect();
    let joined = block.join(" ");
    let commands: Vec<&str> = joined
        .split("hangbar ")
        .filter(|part| !part.is_empty())
        .collect();
    assert!(commands.len() >= 2, "{joined}");
    for command in commands {
        // Pieces in quotes are every second one.
        let args = command
            .split('"')
            .enumerate()
            .flat_map(|(index, piece)| match index % 2 {
                0 => piece.split_whitespace().collect::<Vec<_>>(),
                _ => vec![piece],
            });
        let root = env!("CARGO_MANIFEST_DIR");
        hangbar()
            .current_dir(root)
            .args(args)
            .assert()
            .code(0)
            .stdout(starts_with("GO  "));
    }
}

#[test]
fn a_command_that_cannot_be_used_ends_with_2_and_prints_nothing() {
    for args in [
        &["nonsense"][..],
        &["brief"],
        &["check"],
        &["brief", "-", "--format", "xml"],
        &["brief", "-", "--units", "nautical"],
        &["brief", "-", "--color", "blue"],
        &["brief", "-", "--depth"],
        &["brief", "-", "--fill", "Noor"],
        &["brief", "-", "--fill", "=200 bar"],
        &["brief", "-", "--no-such-option"],
        &["brief", "one.toml", "two.toml"],
        &["check", "-", "--depth", "20 m"],
        &["mix"],
        &["mix", "EAN32", "--best-for", "30 m"],
        &["mix", "EAN32", "--depth", "0 m"],
        &["mix", "EAN32", "--depth", "nan m"],
        &["mix", "EAN32", "--from", "60 bar air"],
        &["mix", "EAN32", "--top", "air"],
        &["mix", "EAN32", "--temperature", "20 C"],
        &["whatif", "-", "--late", "5"],
        &["whatif", "-", "--late", "nan min"],
        &["whatif", "-", "--deeper", "51 m"],
        &["whatif", "-", "--harder", "0%"],
    ] {
        let assert = hangbar().args(args).write_stdin(REEF).assert();
        assert
            .code(2)
            .stdout(is_empty())
            .stderr(starts_with("error: "));
    }
}

/// A shell user writes a value after its option; the library then says what is accepted.
#[test]
fn a_negative_depth_is_refused_by_its_range() {
    let mut command = hangbar();
    let assert = command
        .args(["brief", "-", "--depth", "-5 m"])
        .write_stdin(REEF)
        .assert();
    assert
        .code(2)
        .stdout(is_empty())
        .stderr(contains("`depth` is -5 m, out of range"));
}
