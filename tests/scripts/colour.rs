//! Colour: where it is asked for or on a terminal, and nowhere else.

use crate::program::{ALL, REEF, root, run};

#[test]
fn every_command_is_coloured_where_that_is_asked_for_and_says_the_same_without() {
    for command in ALL {
        let coloured = run(&[command, "-", "--color", "always"], REEF);
        let plain = run(&[command, "-", "--color", "never"], REEF);
        assert_eq!((coloured.status, plain.status), (0, 0), "{command}");
        assert!(coloured.stdout.contains("\u{1b}["), "{command}: no colour");
        assert!(!plain.stdout.contains('\u{1b}'), "{command}: {plain:?}");
        assert_eq!(without_colour(&coloured.stdout), plain.stdout, "{command}");
    }
}

/// The text without what a terminal takes for a change of style.
fn without_colour(text: &str) -> String {
    let mut plain = String::new();
    let mut pieces = text.split("\u{1b}[");
    plain.push_str(pieces.next().unwrap_or_default());
    for piece in pieces {
        plain.push_str(piece.split_once('m').unwrap().1);
    }
    plain
}

#[test]
fn a_pipe_and_the_formats_of_scripts_have_no_colour() {
    let plain = |args: &[&str]| {
        let ended = run(args, REEF);
        assert_eq!((ended.status, ended.stderr.as_str()), (0, ""), "{args:?}");
        assert!(!ended.stdout.is_empty(), "{args:?}");
        assert!(!ended.stdout.contains('\u{1b}'), "{args:?}");
    };
    let always = ["--color", "always", "--format"];
    for command in ALL {
        plain(&[command, "-"]);
        plain(&[&[command, "-"][..], &always, &["json"]].concat());
    }
    for command in ["limits", "trace"] {
        plain(&[&[command, "-"][..], &always, &["csv"]].concat());
    }
}

/// A terminal made by `script`, of util-linux.
#[cfg(target_os = "linux")]
#[test]
fn a_terminal_has_colour_unless_it_asks_for_none() {
    let on_a_terminal = |command: &str, environment: &[(&str, &str)]| {
        let line = format!(
            "{} {command} plans/sand-garden.toml",
            env!("CARGO_BIN_EXE_hangbar")
        );
        let mut script = std::process::Command::new("script");
        script.args(["-qec", &line, "/dev/null"]);
        script.current_dir(root());
        script.env("TERM", "xterm").env_remove("NO_COLOR");
        script.envs(environment.iter().copied());
        script.stdin(std::process::Stdio::null());
        let Ok(output) = script.output() else {
            panic!("a terminal takes the program `script`, of util-linux, and it is not here");
        };
        let text = String::from_utf8(output.stdout).unwrap();
        assert!(output.status.success(), "{line} {environment:?}: {text}");
        assert!(text.lines().count() > 0, "{line} {environment:?}");
        text.contains("\u{1b}[")
    };
    for command in ALL {
        assert!(on_a_terminal(command, &[]), "{command}");
        for environment in [("NO_COLOR", "1"), ("TERM", "dumb")] {
            let coloured = on_a_terminal(command, &[environment]);
            assert!(!coloured, "{command} {environment:?}");
        }
        assert!(on_a_terminal(command, &[("NO_COLOR", "")]), "{command}");
        let forced = format!("{command} --color always");
        assert!(on_a_terminal(&forced, &[("NO_COLOR", "1")]), "{command}");
    }
}
