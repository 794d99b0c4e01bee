//! Colour, on a terminal and elsewhere.

use predicates::str::contains;

use crate::folder::Folder;
use crate::plans::{REEF, THIRSTY};
use crate::read::without_colour;
use crate::run::{hangbar, screen, text_of};
#[cfg(target_os = "linux")]
use crate::{run::text, terminal::on_terminal};

#[test]
fn colour_only_adds_and_is_off_for_a_pipe() {
    let folder = Folder::new("cli-colour");
    let file = folder.write("thirsty.toml", THIRSTY);
    for command in ["brief", "whatif", "check"] {
        let run = |args: &[&str]| {
            let mut hangbar = hangbar();
            let output = hangbar.arg(command).arg(&file).args(args).output().unwrap();
            assert_eq!(output.status.code(), Some(1), "{command}");
            text_of(&output.stdout)
        };
        let (auto, always, never) = (
            run(&[]),
            run(&["--color", "always"]),
            run(&["--color", "never"]),
        );
        assert!(always.contains("\u{1b}["), "{command}: {always}");
        assert!(!never.contains('\u{1b}'), "{command}: {never}");
        assert_eq!(auto, never, "{command}");
        assert_eq!(without_colour(&always), never, "{command}");
    }
}

#[test]
fn colour_that_is_asked_for_outright_is_given_whatever_the_surroundings_say() {
    for (name, value) in [("NO_COLOR", "1"), ("TERM", "dumb")] {
        let mut command = hangbar();
        let assert = command
            .args(["brief", "-", "--color", "always"])
            .env(name, value)
            .write_stdin(REEF)
            .assert();
        assert.success().stdout(contains("\u{1b}["));
    }
}

#[test]
fn json_has_no_colour_even_where_colour_is_asked_for() {
    let (status, json) = screen(REEF, &["--format", "json", "--color", "always"]);
    assert_eq!(status, 0);
    assert!(json.starts_with('{') && !json.contains('\u{1b}'), "{json}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_terminal_gets_colour_unless_its_user_has_asked_for_none() {
    let folder = Folder::new("cli-terminal");
    let file = folder.write("reef.toml", REEF);
    let arguments = ["brief", file.to_str().unwrap()];
    let Some((status, coloured)) = on_terminal(&arguments, &[("NO_COLOR", "")]) else {
        return;
    };
    assert_eq!(status, 0);
    assert!(coloured.contains("\u{1b}["), "{coloured}");
    let plain = text(REEF, &[]);
    assert_eq!(without_colour(&coloured), plain);
    for asked in [("NO_COLOR", "1"), ("TERM", "dumb")] {
        let (status, text) = on_terminal(&arguments, &[asked]).unwrap();
        assert_eq!(status, 0);
        assert_eq!(text, plain, "{asked:?}");
    }
}
