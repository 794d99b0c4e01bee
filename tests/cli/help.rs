//! Help, the version, and command lines that cannot be used.

use predicates::prelude::*;
use predicates::str::{contains, is_empty, starts_with};

use std::path::Path;

use crate::folder::Folder;
use crate::plans::REEF;
use crate::read::too_wide;
use crate::run::{hangbar, run, stdout, text_of};

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
    let mut helps = vec![vec!["--help".to_owned()]];
    for command in commands() {
        helps.push(vec![command, "--help".to_owned()]);
    }
    for args in helps {
        let mut command = hangbar();
        let assert = command.args(&args).env("COLUMNS", "200").assert().success();
        let help = text_of(&assert.get_output().stdout);
        assert!(help.lines().count() > 10, "{args:?}: {help}");
        assert_eq!(too_wide(&help), Vec::<String>::new(), "{args:?}");
    }
}

/// Every command there is, as the help lists them.
fn commands() -> Vec<String> {
    let help = stdout(&["--help"]);
    let listed = help.lines().skip_while(|line| *line != "Commands:").skip(1);
    let listed = listed.take_while(|line| !line.is_empty());
    let first_words = listed.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = first_words.map(|line| line.split_whitespace().next().unwrap().to_owned());
    names.filter(|name| name != "help").collect()
}

/// The examples of a help.
fn examples(help: &str) -> Vec<String> {
    let lines = help.lines().skip_while(|line| *line != "Examples:").skip(1);
    let lines = lines.take_while(|line| !line.is_empty());
    lines.map(|line| line.trim().to_owned()).collect()
}

/// The words that a shell makes of a line; a quote keeps blanks.
fn words(line: &str) -> Vec<String> {
    let parts = line.split('"').enumerate();
    let mut words = vec![String::new()];
    for (index, part) in parts {
        let quoted = index % 2 == 1;
        for (count, piece) in part.split(|c| c == ' ' && !quoted).enumerate() {
            if count > 0 {
                words.push(String::new());
            }
            words.last_mut().unwrap().push_str(piece);
        }
    }
    words
}

/// What does not run as it stands, or not on one line, teaches somebody else's program.
#[test]
fn each_example_of_each_help_runs() {
    let folder = Folder::new("examples-of-help");
    for part in ["plans", "examples/records"] {
        let to = folder.path().join(part);
        std::fs::create_dir_all(&to).unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(part);
        for file in std::fs::read_dir(from).unwrap() {
            let file = file.unwrap();
            std::fs::copy(file.path(), to.join(file.file_name())).unwrap();
        }
    }
    // The slates and a logger's table as they come ashore.
    let records = folder.path().join("examples/records");
    for (record, ashore) in [("pencil.toml", "slates.toml"), ("mara.csv", "mara.csv")] {
        let record = records.join(format!("kittiwake-wall-{record}"));
        std::fs::copy(record, folder.path().join(ashore)).unwrap();
    }
    let commands = commands();
    assert!(commands.len() > 10, "{commands:?}");
    let mut helps = vec![("hangbar".to_owned(), stdout(&["--help"]))];
    for command in commands {
        let help = stdout(&[&command, "--help"]);
        helps.push((command, help));
    }
    for (command, help) in helps {
        let examples = examples(&help);
        assert!(!examples.is_empty(), "{command} has no example: {help}");
        for example in examples {
            let words = words(&example);
            assert_eq!(words[0], "hangbar", "{example}");
            let own = command == "hangbar" || words[1] == command;
            assert!(own, "`{example}` in the help of {command}");
            let mut run = hangbar();
            let ended = run.current_dir(folder.path()).args(&words[1..]).assert();
            let output = ended.get_output();
            let status = output.status.code();
            let errors = text_of(&output.stderr);
            assert!(matches!(status, Some(0 | 1)), "`{example}`: {errors}");
        }
    }
}

/// The plan in the help is whole: it is briefed as it stands.
#[test]
fn the_plan_of_the_help_is_a_go() {
    let help = stdout(&["--help"]);
    let plan = help.lines().skip_while(|line| *line != "A plan:").skip(1);
    let plan: String = plan.map(|line| format!("{}\n", line.trim())).collect();
    assert!(plan.contains("[[diver]]"), "{help}");
    let (status, text) = run(&["brief", "-"], &plan);
    assert_eq!(status, 0, "{text}");
    assert!(text.starts_with("GO"), "{text}");
}

#[test]
fn every_shell_gets_completions_of_every_command_and_its_options() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = stdout(&["completions", shell]);
        for command in commands() {
            assert!(script.contains(&command), "{shell} knows no {command}");
        }
        for option in ["bottom-time", "home-by", "best-for"] {
            assert!(script.contains(option), "{shell} knows no --{option}");
        }
    }
    hangbar().args(["completions", "tcl"]).assert().code(2);
}

#[test]
fn every_command_has_a_manual_page() {
    let folder = Folder::new("manual");
    let into = folder.path().display().to_string();
    stdout(&["manual", "--into", &into]);
    for command in commands() {
        let page = stdout(&["manual", &command]);
        let title = format!(".TH HANGBAR-{} 1", command.to_uppercase());
        assert!(page.contains(&title), "{page}");
        let written = std::fs::read_to_string(folder.path().join(format!("hangbar-{command}.1")));
        assert_eq!(written.unwrap(), page);
    }
    let first = stdout(&["manual"]);
    assert!(first.contains(".TH HANGBAR 1"), "{first}");
    assert!(first.contains("hangbar\\-brief(1)"), "{first}");
    // Again over those that are there, and nowhere else.
    stdout(&["manual", "--into", &into]);
    hangbar()
        .args(["manual", "--into", "no/such/folder"])
        .assert()
        .code(2)
        .stderr(contains("there is no such folder"));
    hangbar()
        .args(["manual", "breif"])
        .assert()
        .code(2)
        .stderr(contains("one of brief, whatif"));
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
