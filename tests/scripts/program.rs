//! The program as a script runs it, and plans for it.

use std::path::PathBuf;

use assert_cmd::Command;
use serde_json::Value;

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

pub(crate) fn developers() -> String {
    std::fs::read_to_string(root().join("DEVELOPERS.md")).unwrap()
}

/// What a command printed, and how it ended.
pub(crate) struct Ended {
    pub(crate) status: i32,
    pub(crate) stdout: String,
    pub(crate) stderr: String,
}

impl Ended {
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.stdout).unwrap_or_else(|error| panic!("{error}: {self:?}"))
    }
}

impl std::fmt::Debug for Ended {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}\n{}\n{}", self.status, self.stdout, self.stderr)
    }
}

pub(crate) fn command() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command.current_dir(root()).env_remove("NO_COLOR");
    command
}

/// `hangbar …` with the plan on standard input.
pub(crate) fn run(args: &[&str], plan: &str) -> Ended {
    let output = command().args(args).write_stdin(plan).output().unwrap();
    Ended {
        status: output.status.code().unwrap(),
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
    }
}

/// Every command that prints text for people.
pub(crate) const ALL: [&str; 6] = ["brief", "whatif", "limits", "trace", "explain", "check"];

/// A go.
pub(crate) const REEF: &str = r#"title = "Copper Reef"

[profile]
depth = "15 m"
bottom_time = "20 min"

[[diver]]
name = "Noor"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// Three faults.
pub(crate) const BROKEN: &str =
    "titel = \"x\"\n[profile]\ndepth = \"20\"\nbottom_time = \"20 m\"\n";

/// Its stops never clear.
pub(crate) const STUCK: &str = "[profile]\ndepth = \"40 m\"\nbottom_time = \"60 min\"\n\
                     [model]\ngradient_factors = [5, 5]\n[gas]\nbottom = \"10/0\"\n";

/// Needs stops and asks for none.
pub(crate) const LATE: &str = r#"[profile]
depth = "40 m"
bottom_time = "30 min"

[[diver]]
name = "Noor"
sac = "15 L/min"
cylinder = { size = "2x12 L", fill = "230 bar" }
"#;

/// Nobody dives: a schedule only.
pub(crate) const SKETCH: &str =
    "title = \"Sketch\"\n[profile]\ndepth = \"15 m\"\nbottom_time = \"20 min\"\n";
