//! Runs the command on a terminal, made by the program `script`.

use std::io::ErrorKind;
use std::process::{Command, Stdio};

/// Set to 1 on a machine that has no such program: then the tests that need it are left out.
const NO_TERMINAL: &str = "HANGBAR_NO_TERMINAL";

/// Exit status and text of a command on a terminal; `None` where the surroundings say that none
/// can be made.
pub(crate) fn on_terminal(
    arguments: &[&str],
    surroundings: &[(&str, &str)],
) -> Option<(i32, String)> {
    if !cfg!(target_os = "linux") {
        eprintln!("skipped: the program `script` takes other arguments here");
        return None;
    }
    let quoted: Vec<String> = [env!("CARGO_BIN_EXE_hangbar")]
        .iter()
        .chain(arguments)
        .map(|word| format!("'{}'", word.replace('\'', r"'\''")))
        .collect();
    let output = Command::new("script")
        .args(["-qec", &quoted.join(" "), "/dev/null"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("TERM", "xterm")
        .env("SHELL", "/bin/sh")
        .env_remove("NO_COLOR")
        .env_remove("CLICOLOR_FORCE")
        .envs(surroundings.iter().copied())
        .stdin(Stdio::null())
        .output();
    match output {
        Ok(output) => {
            let text = String::from_utf8(output.stdout)
                .unwrap()
                .replace("\r\n", "\n");
            Some((output.status.code().unwrap(), text))
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {
            let none = std::env::var(NO_TERMINAL).is_ok_and(|value| value == "1");
            assert!(
                none,
                "no program `script` here to make a terminal (Debian: package bsdutils); to leave \
                 out what needs one, set {NO_TERMINAL}=1"
            );
            eprintln!("skipped: no program `script` here, and {NO_TERMINAL}=1");
            None
        }
        Err(error) => panic!("script: {error}"),
    }
}
