//! The program in a folder of its own, and a good plan with records of its dive.

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Command, Output};

/// What the environment of whoever runs the tests may not decide.
const FREE_OF: [&str; 4] = ["NO_COLOR", "CLICOLOR_FORCE", "COLUMNS", "HANGBAR_REWRITE"];

pub(crate) fn hangbar(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command.current_dir(folder).env("TERM", "dumb");
    for name in FREE_OF {
        command.env_remove(name);
    }
    command
}

/// What a command gives with nothing on standard input.
pub(crate) fn run(folder: &Path, arguments: &[impl AsRef<OsStr>]) -> Ended {
    Ended::of(hangbar(folder).args(arguments).output().unwrap())
}

/// What a command printed, and how it ended.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Ended {
    pub(crate) status: i32,
    pub(crate) stdout: String,
    pub(crate) stderr: String,
}

impl Ended {
    pub(crate) fn of(output: Output) -> Self {
        Self {
            status: output.status.code().unwrap(),
            stdout: String::from_utf8(output.stdout).unwrap(),
            stderr: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

/// A text with one piece of it changed, which must be there once.
pub(crate) fn edited(text: &str, old: &str, new: &str) -> String {
    assert_eq!(text.matches(old).count(), 1, "{old:?} in\n{text}");
    text.replace(old, new)
}

/// A go for two buddies.
pub(crate) const STEPS: &str = r#"title = "Ferry Steps"
splash = "09:30"

[site]
water = "sea"
temperature = "12 C"

[profile]
depth = "24 m"
bottom_time = "25 min"

[gas]
bottom = "EAN32"

[reserve]
turn = "third"

[[diver]]
name = "Runa"
sac = "15 L/min"
cylinder = { size = "12 L", at = "232 bar", fill = "210 bar" }
buddy = "Oskar"

[[diver]]
name = "Oskar"
sac = "18 L/min"
cylinder = { size = "15 L", fill = "220 bar" }
pony = { size = "3 L", fill = "200 bar" }
buddy = "Runa"
"#;

/// What Runa wrote down.
pub(crate) const SLATE: &str = r#"[[diver]]
name = "Runa"
greatest_depth = "24.2 m"
bottom_time = "25 min"
time_in = "09:34"
time_out = "10:07"
run_time = "33 min"
start_pressure = "210 bar"
end_pressure = "90 bar"
average_depth = "18.3 m"
"#;

/// What Runa's logger wrote.
pub(crate) const TABLE: &str = "# diver: Runa
time (s),depth (m),pressure (bar)
0,0.0,210
60,12.0,205
160,24.0,198
1500,24.0,120
1640,5.0,112
1820,5.0,110
1880,0.0,109
";

/// What another logger of hers wrote.
pub(crate) const UDDF: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<uddf xmlns="http://www.streit.cc/uddf/3.2/" version="3.2.3">
  <diver><owner><personal><firstname>Runa</firstname></personal></owner></diver>
  <gasdefinitions><mix id="mix-1"><o2>0.32</o2><he>0.0</he></mix></gasdefinitions>
  <profiledata>
    <repetitiongroup id="group-1">
      <dive id="dive-1">
        <informationbeforedive><datetime>2026-08-14T09:34:00</datetime></informationbeforedive>
        <tankdata><link ref="mix-1"/></tankdata>
        <samples>
          <waypoint><depth>0.0</depth><divetime>0</divetime><switchmix ref="mix-1"/></waypoint>
          <waypoint><depth>24.0</depth><divetime>160</divetime></waypoint>
          <waypoint><depth>24.0</depth><divetime>1500</divetime></waypoint>
          <waypoint><depth>5.0</depth><divetime>1640</divetime></waypoint>
          <waypoint><depth>5.0</depth><divetime>1820</divetime></waypoint>
          <waypoint><depth>0.0</depth><divetime>1880</divetime></waypoint>
        </samples>
      </dive>
    </repetitiongroup>
  </profiledata>
</uddf>
"#;
