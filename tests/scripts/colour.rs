//! Colour: where it is asked for or on a terminal, and nowhere else.

use crate::program::{ALL, REEF, run};
use crate::terminal::on_terminal;

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

#[test]
fn a_terminal_has_colour_unless_it_asks_for_none() {
    let has_colour = |command: &str, more: &[&str], environment: &[(&str, &str)]| {
        let line = [&[command, "plans/sand-garden.toml"][..], more].concat();
        let (status, text) = on_terminal(&line, environment)?;
        assert_eq!(status, 0, "{line:?} {environment:?}: {text}");
        assert!(text.lines().count() > 0, "{line:?} {environment:?}");
        Some(text.contains("\u{1b}["))
    };
    for command in ALL {
        let Some(coloured) = has_colour(command, &[], &[]) else {
            return;
        };
        assert!(coloured, "{command}");
        for environment in [("NO_COLOR", "1"), ("TERM", "dumb")] {
            let coloured = has_colour(command, &[], &[environment]);
            assert_eq!(coloured, Some(false), "{command} {environment:?}");
        }
        let unset = has_colour(command, &[], &[("NO_COLOR", "")]);
        assert_eq!(unset, Some(true), "{command}");
        let forced = has_colour(command, &["--color", "always"], &[("NO_COLOR", "1")]);
        assert_eq!(forced, Some(true), "{command}");
    }
}
