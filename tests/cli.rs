//! The command as a guide and a script use it: help, exit status, text, JSON, overrides, folders.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Output, Stdio};

use approx::assert_relative_eq;
use assert_cmd::Command;
use hangbar::quantity::PSI_BAR;
use hangbar::{briefing, plan_file};
use predicates::prelude::*;
use predicates::str::{contains, is_empty, is_match, starts_with};
use serde::de::DeserializeOwned;
use serde_json::Value;

#[path = "support/document.rs"]
mod document;
#[path = "support/folder.rs"]
mod folder;
use document::{Briefing, Check, Kind, Level, PonyVerdict, Verdict, WhatIf};
use folder::Folder;

/// GO, no-stop, metric: two divers, one with a pony.
const REEF: &str = r#"title = "Copper Reef"
splash = "14:20"

[profile]
depth = "21 m"
bottom_time = "30 min"

[gas]
bottom = "EAN32"

[[diver]]
name = "Noor"
sac = "15.3 L/min"
cylinder = { size = "12 L", fill = "207 bar" }
pony = { size = "3 L", fill = "190 bar" }

[[diver]]
name = "Casper"
sac = "19.1 L/min"
cylinder = { size = "15 L", fill = "220 bar" }
depth_limit = "30 m"
"#;

/// GO, staged: trimix, two gases for the way up, a diver alone.
const BRIG: &str = r#"title = "The old brig"

[profile]
depth = "55 m"
bottom_time = "25 min"

[gas]
bottom = "18/45"
decompression = ["EAN50", "oxygen"]

[[diver]]
name = "Orsolya"
sac = "17 L/min"
cylinder = { size = "24 L", fill = "230 bar" }
stage = [
    { gas = "EAN50", size = "11 L", fill = "200 bar" },
    { gas = "oxygen", size = "7 L", fill = "200 bar" },
]
"#;

/// NO-GO: the gas does not reach the surface, and the pony covers nothing.
const THIRSTY: &str = r#"title = "Too long on one cylinder"

[profile]
depth = "38 m"
bottom_time = "30 min"

[[diver]]
name = "Benedikta"
sac = "24 L/min"
cylinder = { size = "10 L", fill = "200 bar" }
pony = { size = "1 L", fill = "150 bar" }

[[diver]]
name = "Yorick"
sac = "22 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// So shallow that there is no no-stop limit; a schedule only, for nobody is named.
const LAGOON: &str = "[profile]\ndepth = \"5 m\"\nbottom_time = \"60 min\"\n";

/// GO, imperial: two levels, a hang, cylinders by their rating.
const KELP: &str = r#"title = "Kelp garden"
units = "imperial"

[[profile.level]]
depth = "70 ft"
time = "15 min"

[[profile.level]]
depth = "40 ft"
time = "20 min"

[[diver]]
name = "Marigold"
sac = "0.55 cuft/min"
cylinder = { rated = "100 cuft", at = "3442 psi", fill = "3400 psi" }

[[diver]]
name = "Ezra"
sac = "19 psi/min"
cylinder = { rated = "80 cuft", at = "3000 psi", fill = "3000 psi" }
pony = { rated = "19 cuft", at = "3000 psi", fill = "2950 psi" }
"#;

/// A good file of a dive that has no way up: breathing this gas, the stops never clear.
const STUCK: &str = "[profile]\ndepth = \"40 m\"\nbottom_time = \"60 min\"\n\
                     [model]\ngradient_factors = [5, 5]\n[gas]\nbottom = \"10/0\"\n";

/// Three faults.
const BROKEN: &str = "titel = \"x\"\n[profile]\ndepth = \"20\"\nbottom_time = \"20 m\"\n";

const GOOD_FILES: &[(&str, &str, i32)] = &[
    ("reef", REEF, 0),
    ("brig", BRIG, 0),
    ("thirsty", THIRSTY, 1),
    ("lagoon", LAGOON, 0),
    ("kelp", KELP, 0),
];

/// A figure may be past a mark by this share of a step and still be that mark.
const NOISE: f64 = 1e-6;

// ---------------------------------------------------------------------------------------------
// Help

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
    ] {
        let help = stdout(hangbar().args(args).env("COLUMNS", "200"));
        assert_eq!(too_wide(&help), Vec::<String>::new(), "{args:?}");
    }
}

/// Pasted into a shell, half an example runs another command.
#[test]
fn each_example_of_the_help_stands_on_one_line() {
    let help = stdout(hangbar().arg("--help"));
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
    let help = stdout(hangbar().arg("--help"));
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

// ---------------------------------------------------------------------------------------------
// Exit status and input

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

/// The verdict of one of [`GOOD_FILES`]: without a team a schedule is no go.
fn verdict_of(plan: &str, code: i32) -> Verdict {
    match code {
        0 if plan.contains("[[diver]]") => Verdict::Go,
        0 => Verdict::ScheduleOnly,
        _ => Verdict::NoGo,
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
        (folder.path().join("missing.toml"), "No such file"),
        (folder.path().to_path_buf(), "directory"),
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

// ---------------------------------------------------------------------------------------------
// JSON

#[test]
fn the_json_of_a_briefing_has_every_field_and_no_other() {
    for (name, plan, _) in GOOD_FILES {
        let document = json(plan, &[]);
        assert_eq!(document.schema, "hangbar/briefing/1", "{name}");
        assert_eq!(document.tissues.len(), 16, "{name}");
        assert!((1..=16).contains(&document.surfacing.compartment), "{name}");
        assert!(
            document.findings.is_sorted_by_key(|finding| finding.level),
            "{name}"
        );
        let segments = &document.segments;
        assert_eq!(segments[0].kind, Kind::Descent, "{name}");
        assert_relative_eq!(segments[0].start_min, 0.0);
        assert_relative_eq!(segments.last().unwrap().end_min, document.run_time_min);
        assert_relative_eq!(segments.last().unwrap().to_m, 0.0);
        for pair in segments.windows(2) {
            assert_relative_eq!(pair[0].end_min, pair[1].start_min);
            assert_relative_eq!(pair[0].to_m, pair[1].from_m);
        }
    }
}

#[test]
fn null_stands_where_the_contract_allows_it_and_a_number_elsewhere() {
    let (reef, brig, thirsty) = (json(REEF, &[]), json(BRIG, &[]), json(THIRSTY, &[]));
    assert_eq!(json(LAGOON, &[]).no_stop_limit_min, None);
    assert!(reef.no_stop_limit_min.unwrap() > 30.0);
    assert_eq!((reef.staged, reef.anchor_m), (false, None));
    assert!(brig.staged && brig.anchor_m.unwrap() > 0.0);
    assert!(reef.divers.iter().all(|diver| diver.end_bar.is_some()));
    assert_eq!(thirsty.divers[0].end_bar, None);
    assert!(reef.divers[0].pony.is_some() && reef.divers[1].pony.is_none());
    assert_eq!(
        thirsty.divers[0].pony.as_ref().unwrap().verdict,
        PonyVerdict::Short
    );
    assert_relative_eq!(thirsty.divers[0].turn_min.unwrap(), 0.0);
    // Turned at nothing but the reserve, a short dive never gets there.
    let short = edited(REEF, "\"30 min\"", "\"5 min\"");
    assert_eq!(json(&short, &[]).divers[0].turn_min, None);
    let of_team = |document: &Briefing| document.findings.iter().any(|one| one.diver.is_none());
    let of_diver = |document: &Briefing, name: &str| {
        document
            .findings
            .iter()
            .any(|one| one.diver.as_deref() == Some(name))
    };
    assert!(of_team(&brig) && of_diver(&brig, "Orsolya") && of_diver(&thirsty, "Benedikta"));
}

#[test]
fn a_no_go_finding_and_exit_status_1_go_together() {
    for (name, plan, code) in GOOD_FILES {
        let document = json(plan, &[]);
        let no_go = document
            .findings
            .iter()
            .any(|finding| finding.level == Level::NoGo);
        assert_eq!(no_go, *code == 1, "{name}");
    }
}

#[test]
fn the_figures_of_the_json_are_the_library_s_unrounded() {
    for (_, plan, _) in GOOD_FILES {
        let document = json(plan, &[]);
        let briefing = briefing::brief(plan_file::read(plan).unwrap()).unwrap();
        assert_relative_eq!(document.run_time_min, briefing.schedule.run_time().as_min());
        assert_relative_eq!(document.oxygen.cns_pct, briefing.oxygen.cns_pct);
        assert_relative_eq!(document.oxygen.otu, briefing.oxygen.otu);
        assert_relative_eq!(
            document.surfacing.gradient_pct,
            briefing.schedule.surfacing.fraction * 100.0
        );
        for (tissue, loading) in document
            .tissues
            .iter()
            .zip(briefing.schedule.tissues.loadings())
        {
            assert_relative_eq!(tissue.n2_bar, loading.n2_bar);
            assert_relative_eq!(tissue.he_bar, loading.he_bar);
        }
        assert_eq!(document.divers.len(), briefing.divers.len());
        for (diver, budget) in document.divers.iter().zip(&briefing.divers) {
            assert_eq!(diver.name, budget.name);
            assert_relative_eq!(diver.start_l, budget.start.as_l());
            assert_relative_eq!(diver.planned_use_l, budget.planned_use.as_l());
            assert_relative_eq!(diver.reserve_l, budget.reserve.as_l());
            assert_relative_eq!(diver.minimum_gas_bar, budget.minimum_gas.as_bar());
            assert_relative_eq!(diver.turn_bar, budget.turn.as_bar());
            assert_eq!(diver.gas_limit_min, budget.gas_limit.minutes);
        }
    }
}

#[test]
fn every_number_of_the_json_is_finite_and_no_key_is_in_another_case() {
    fn walk(value: &Value, path: &str) {
        match value {
            Value::Number(number) => assert!(number.as_f64().unwrap().is_finite(), "{path}"),
            Value::Array(items) => items.iter().for_each(|item| walk(item, path)),
            Value::Object(fields) => {
                for (key, field) in fields {
                    let snake = key
                        .chars()
                        .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
                    assert!(snake, "{path}.{key}");
                    walk(field, &format!("{path}.{key}"));
                }
            }
            Value::Null | Value::Bool(_) | Value::String(_) => {}
        }
    }
    for (name, plan, _) in GOOD_FILES {
        let value: Value = parsed(&brief(plan, &["--format", "json"]).stdout);
        walk(&value, name);
    }
}

// ---------------------------------------------------------------------------------------------
// Units and colour

#[test]
fn units_change_the_text_and_neither_the_json_nor_the_verdict() {
    for (name, plan, code) in GOOD_FILES {
        let plain = brief(plan, &["--format", "json"]);
        let (metric, imperial) = (&["--units", "metric"][..], &["--units", "imperial"][..]);
        for units in [metric, imperial] {
            let output = brief(plan, &[units, &["--format", "json"]].concat());
            assert_eq!(output, plain, "{name}");
            assert_eq!(brief(plan, units).status.code(), Some(*code), "{name}");
        }
        let (metric, imperial) = (text(plan, metric), text(plan, imperial));
        assert_ne!(metric, imperial, "{name}");
        assert_eq!(metric.lines().next(), imperial.lines().next(), "{name}");
        let depth_in = |unit: &str| is_match(format!(r"\d {unit}\b[^/]")).unwrap();
        for (text, own, other) in [(&metric, "m", "ft"), (&imperial, "ft", "m")] {
            assert!(
                depth_in(own).eval(text),
                "{name} has no depth in {own}:\n{text}"
            );
            assert!(
                !depth_in(other).eval(text),
                "{name} has a depth in {other}:\n{text}"
            );
        }
    }
}

#[test]
fn a_plan_is_shown_in_its_own_units_unless_others_are_asked_for() {
    assert_eq!(text(REEF, &[]), text(REEF, &["--units", "metric"]));
    assert_eq!(text(KELP, &[]), text(KELP, &["--units", "imperial"]));
}

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
    let output = brief(REEF, &["--format", "json", "--color", "always"]);
    assert!(!text_of(&output.stdout).contains('\u{1b}'));
}

/// On a terminal, made by `script`; without that program there is none to try.
#[cfg(target_os = "linux")]
#[test]
fn a_terminal_gets_colour_unless_its_user_has_asked_for_none() {
    let folder = Folder::new("cli-terminal");
    let file = folder.write("reef.toml", REEF);
    let command = format!("{} brief {}", env!("CARGO_BIN_EXE_hangbar"), file.display());
    let on_terminal = |name: &str, value: &str| {
        let output = std::process::Command::new("script")
            .args(["-qec", &command, "/dev/null"])
            .env("TERM", "xterm")
            .env_remove("NO_COLOR")
            .env(name, value)
            .stdin(Stdio::null())
            .output();
        output.ok().map(|output| text_of(&output.stdout))
    };
    let Some(coloured) = on_terminal("NO_COLOR", "") else {
        eprintln!("not tried: no program `script` here");
        return;
    };
    assert!(coloured.contains("\u{1b}["), "{coloured}");
    let plain = coloured.replace("\r\n", "\n");
    assert_eq!(without_colour(&plain), text(REEF, &[]));
    for (name, value) in [("NO_COLOR", "1"), ("TERM", "dumb")] {
        let text = on_terminal(name, value).unwrap();
        assert!(
            text.starts_with("GO  ") && !text.contains('\u{1b}'),
            "{name}: {text}"
        );
    }
}

// ---------------------------------------------------------------------------------------------
// The width of the text

/// Plans that have much to say or say it with long words.
fn long_winded() -> Vec<(&'static str, String)> {
    let mut team = String::new();
    for name in [
        "Maximiliane von Brückner",
        "Bartholomäus-Konstantin von und zu Heide",
        "Wilhelminawilhelminawilhelminawilhelmina",
        "ダイバー山田太郎次郎三郎四郎",
        "Ib",
    ] {
        team.push_str(&format!(
            "[[diver]]\nname = \"{name}\"\nsac = \"21.7 L/min\"\ndepth_limit = \"20 m\"\n\
             cylinder = {{ size = \"12 L\", fill = \"203.3 bar\" }}\n\
             pony = {{ size = \"2 L\", fill = \"180 bar\" }}\n"
        ));
    }
    let dive = "splash = \"23:45\"\n[site]\ncurrent = \"0.7 kn\"\naltitude = \"1,300 m\"\n\
                [profile]\ndepth = \"41.7 m\"\nbottom_time = \"37.5 min\"\n\
                [gas]\nbottom = \"EAN32.5\"\n"
        .replace("1,300", "1300");
    let title = |title: &str| format!("title = \"{title}\"\n{dive}{team}");
    vec![
        ("a title in one word", title(&"Seefahrt".repeat(25))),
        (
            "a title in wide letters",
            title(&"沈没船の長い廊下と暗い部屋".repeat(15)),
        ),
        (
            "a title of seventy letters",
            title("A wall, a ledge, a wreck and the long swim back to the anchor chain ah"),
        ),
        ("a title of two letters", title("Øy")),
        (
            "a long dive",
            edited(
                &edited(&title("Hours"), "37.5 min", "1440 min"),
                "41.7 m",
                "6 m",
            ),
        ),
        (
            "a deep dive",
            edited(&title("Deep"), "41.7 m", "75.5 m")
                .replace("EAN32.5", "16/50")
                .replace("12 L", "95 L"),
        ),
        ("six levels", {
            let levels: String = [44.4, 33.3, 28.8, 22.2, 15.5, 7.7]
                .map(|depth| {
                    format!("[[profile.level]]\ndepth = \"{depth} m\"\ntime = \"9.5 min\"\n")
                })
                .concat();
            let old = "[profile]\ndepth = \"41.7 m\"\nbottom_time = \"37.5 min\"\n";
            edited(&title("Steps"), old, &levels)
        }),
        (
            "imperial",
            format!("units = \"imperial\"\n{}", title("Feet")),
        ),
        (
            "an emergency line",
            edited(
                &title("Line"),
                "[profile]",
                &format!(
                    "[surface]\nemergency = \"{}\"\n[profile]",
                    "harbour radio, channel 12, then the duty officer; ".repeat(5)
                ),
            ),
        ),
        (
            "a hang",
            edited(
                &title("Hang"),
                "[profile]",
                "[reserve]\nhang = { depth = \"4.5 m\", time = \"12.5 min\" }\n[profile]",
            ),
        ),
    ]
}

#[test]
fn no_line_of_text_is_wider_than_80_columns() {
    let mut plans = long_winded();
    plans.extend(
        GOOD_FILES
            .iter()
            .map(|(name, plan, _)| (*name, (*plan).to_owned())),
    );
    let mut wide = Vec::new();
    for (name, plan) in &plans {
        for units in ["metric", "imperial"] {
            for command in ["brief", "whatif"] {
                let mut hangbar = hangbar();
                let output = hangbar
                    .args([command, "-", "--units", units])
                    .write_stdin(plan.as_str())
                    .output()
                    .unwrap();
                let text = text_of(&output.stdout);
                assert!(!text.is_empty(), "{name}: {}", text_of(&output.stderr));
                wide.extend(
                    too_wide(&text)
                        .into_iter()
                        .map(|line| format!("{name}, {command} {units}: {line}")),
                );
            }
        }
    }
    assert!(
        wide.is_empty(),
        "{} lines:\n{}",
        wide.len(),
        wide.join("\n")
    );
}

/// Minimum gas is asked of a cylinder that could never hold it.
#[test]
fn a_cylinder_far_too_small_breaks_no_table() {
    let plan = "[profile]\ndepth = \"60 m\"\nbottom_time = \"60 min\"\n[[diver]]\nname = \"Bo\"\n\
                sac = \"30 L/min\"\ncylinder = { size = \"3 L\", fill = \"200 bar\" }\n";
    let text = text(plan, &[]);
    assert_eq!(too_wide(&text), Vec::<String>::new());
    assert!(!is_match(r"\d{7,} bar").unwrap().eval(&text), "{text}");
}

/// An analysed trimix is switched to at the safety stop's level of a dive with a splash.
#[test]
fn a_switch_and_a_safety_stop_fit_one_line_of_the_run_times() {
    let plan = edited(
        BRIG,
        "title = \"The old brig\"",
        "splash = \"10:15\"\n[ascent]\nsafety_stop = { depth = \"20 m\", time = \"3 min\" }",
    );
    let plan = plan.replace("EAN50", "50.5/25.5");
    assert_eq!(too_wide(&text(&plan, &[])), Vec::<String>::new());
}

/// Shares of a gas are printed as they are given, digits and all.
#[test]
fn a_gas_of_many_digits_fits_the_run_times() {
    let plan = edited(BRIG, "18/45", "18.123456789012344/45.123456789012344");
    assert_eq!(too_wide(&text(&plan, &[])), Vec::<String>::new());
}

/// A name of 40 wide letters at the head of a diver's table.
#[test]
fn a_wide_name_fits_the_headings_of_a_what_if() {
    let plan = edited(REEF, "\"Noor\"", &format!("\"{}\"", "海".repeat(40)));
    let mut command = hangbar();
    let text = stdout(command.args(["whatif", "-"]).write_stdin(plan));
    assert_eq!(too_wide(&text), Vec::<String>::new());
}

#[test]
fn no_line_ends_in_blanks_and_the_text_ends_with_one_line_end() {
    for (name, plan, _) in GOOD_FILES {
        let text = text(plan, &[]);
        assert!(text.ends_with('\n') && !text.ends_with("\n\n"), "{name}");
        let trailing = text
            .lines()
            .find(|line| line.ends_with(char::is_whitespace));
        assert_eq!(trailing, None, "{name}");
    }
}

// ---------------------------------------------------------------------------------------------
// Rounding toward safety

/// What the gas table shows for a diver.
struct GasRow {
    fill: f64,
    unit: String,
    turn: f64,
    due: String,
    minimum: f64,
    leaves: String,
    back: String,
    limit: String,
}

/// A pressure of the table; `>600` is one beyond every gauge.
fn figure(cell: &str) -> f64 {
    cell.strip_prefix('>')
        .map_or_else(|| cell.parse().unwrap(), |_| f64::INFINITY)
}

fn gas_row(text: &str, name: &str) -> GasRow {
    let rows = section(text, "Gas");
    let row = rows
        .iter()
        .find_map(|line| line.strip_prefix(&format!("  {name} ")))
        .expect("the diver has a row");
    let row = row.replace(" min", "min");
    let cells: Vec<&str> = row.split_whitespace().collect();
    let [fill, unit, turn, due, minimum, leaves, back, limit] = cells[..] else {
        panic!("the row of {name} has {} cells: {row}", cells.len());
    };
    GasRow {
        fill: fill.parse().unwrap(),
        unit: unit.to_owned(),
        turn: figure(turn),
        due: due.to_owned(),
        minimum: figure(minimum),
        leaves: leaves.to_owned(),
        back: back.to_owned(),
        limit: limit.to_owned(),
    }
}

#[test]
fn what_must_be_kept_is_rounded_up_and_what_is_left_is_rounded_down() {
    for (_, plan, _) in GOOD_FILES {
        let document = json(plan, &[]);
        if document.verdict == Verdict::NoGo {
            let words = flowing(&text(plan, &[]));
            for order in ["Turn at", "turn due", "with at least:", "left for both"] {
                assert!(!words.contains(order), "a no-go says \"{order}\": {words}");
            }
            continue;
        }
        for (units, unit, step, bar) in [
            ("metric", "bar", 5.0, 1.0),
            ("imperial", "psi", 50.0, PSI_BAR),
        ] {
            let text = text(plan, &["--units", units]);
            for diver in &document.divers {
                let row = gas_row(&text, &diver.name);
                let who = format!("{} in {unit}", diver.name);
                assert_eq!(row.unit, unit, "{who}");
                // On leaving the bottom; other levels have minimums of their own.
                let minimum = diver.levels.last().unwrap().minimum_gas_bar;
                is_next_up(
                    row.minimum,
                    minimum / bar,
                    step,
                    &format!("minimum of {who}"),
                );
                is_next_up(
                    row.turn,
                    diver.turn_bar / bar,
                    step,
                    &format!("turn of {who}"),
                );
                is_next_down_or_empty(
                    &row.back,
                    diver.end_bar.map(|end| end / bar),
                    step,
                    &format!("back of {who}"),
                );
                is_next_down_or_empty(
                    &row.leaves,
                    diver.leaving_bar.map(|left| left / bar),
                    step,
                    &format!("leaves of {who}"),
                );
                // No figure speaks of a bottom time beyond the team's, or the no-stop limit.
                let shown = match row.limit.as_str() {
                    "none" => 0.0,
                    minutes => minutes.strip_suffix("min").unwrap().parse().unwrap(),
                };
                let team = document.longest_go_min.unwrap();
                assert_relative_eq!(shown, f64::from(diver.gas_limit_min.min(team)));
                if let Some(no_stop) = document.no_stop_limit_min
                    && diver.levels.len() == 1
                    && !document.staged
                {
                    assert!(shown <= no_stop, "gas limit of {who}");
                }
                match diver.turn_min {
                    None => assert_eq!(row.due, "never", "{who}"),
                    Some(minute) => {
                        let due: f64 = row.due.strip_suffix("min").unwrap().parse().unwrap();
                        assert!(
                            due <= minute + NOISE && minute < due + 1.0,
                            "turn due of {who}: {due} for {minute}"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn the_minimum_in_the_briefing_s_sentence_is_the_table_s() {
    for plan in [REEF, BRIG, KELP] {
        for units in ["metric", "imperial"] {
            let text = text(plan, &["--units", units]);
            let words = flowing(&text);
            let sentence = words.split("and with at least: ").nth(1).unwrap();
            for diver in &json(plan, &[]).divers {
                let row = gas_row(&text, &diver.name);
                let want = format!("{} {} {}", diver.name, row.minimum, row.unit);
                assert!(sentence.contains(&want), "{want} is not in {sentence}");
            }
        }
    }
}

#[test]
fn a_fill_on_a_mark_of_the_gauge_is_shown_as_it_is() {
    for (plan, name, fill, unit) in [
        (REEF, "Casper", 220.0, "metric"),
        (KELP, "Ezra", 3000.0, "imperial"),
        (KELP, "Marigold", 3400.0, "imperial"),
    ] {
        let row = gas_row(&text(plan, &["--units", unit]), name);
        assert_relative_eq!(row.fill, fill);
    }
}

#[test]
fn a_floor_that_decides_the_minimum_is_shown_as_it_is() {
    let alone = |units: &str, depth: &str| {
        format!(
            "units = \"{units}\"\n[profile]\ndepth = \"{depth}\"\nbottom_time = \"20 min\"\n\
             [[diver]]\nname = \"Noor\"\nsac = \"12 L/min\"\ncylinder = {{ size = \"15 L\", fill = \"200 bar\" }}\n"
        )
    };
    for (units, depth, floor) in [("metric", "8 m", 50.0), ("imperial", "25 ft", 500.0)] {
        let row = gas_row(&text(&alone(units, depth), &[]), "Noor");
        assert_relative_eq!(row.minimum, floor);
    }
    // 50 bar are 725.2 psi: up to the next 50.
    let row = gas_row(
        &text(&alone("metric", "8 m"), &["--units", "imperial"]),
        "Noor",
    );
    assert_relative_eq!(row.minimum, 750.0);
}

#[test]
fn times_and_doses_are_rounded_toward_safety() {
    for (name, plan, _) in GOOD_FILES {
        let document = json(plan, &[]);
        let words = flowing(&text(plan, &[]));
        let up = number_after(&words, "back on the surface at minute ");
        is_next_up(
            up,
            document.run_time_min,
            1.0,
            &format!("run time of {name}"),
        );
        match document.no_stop_limit_min {
            Some(limit) => {
                let after = words.split("No-stop limit at ").nth(1).unwrap();
                let shown = number_after(after, ": ");
                assert!(
                    shown <= limit + NOISE && limit < shown + 1.0,
                    "no-stop limit of {name}: {shown} for {limit}"
                );
            }
            None => assert!(words.contains(": more than 999 minutes"), "{name}: {words}"),
        }
        let oxygen = &document.oxygen;
        is_next_up(
            number_after(&words, "CNS "),
            oxygen.cns_pct,
            1.0,
            &format!("CNS of {name}"),
        );
        is_next_up(
            number_after(&words, "OTU "),
            oxygen.otu,
            1.0,
            &format!("OTU of {name}"),
        );
        let pressure = number_after(&words, "Oxygen: at most ");
        is_next_up(
            pressure,
            oxygen.max_po2_bar,
            0.01,
            &format!("oxygen pressure of {name}"),
        );
    }
}

#[test]
fn a_pony_s_gas_is_rounded_down_and_its_need_up() {
    for (plan, name, units, litre) in [
        (REEF, "Noor", "metric", 1.0),
        (REEF, "Noor", "imperial", 28.316_846_592),
        (KELP, "Ezra", "imperial", 28.316_846_592),
        (THIRSTY, "Benedikta", "metric", 1.0),
    ] {
        let document = json(plan, &[]);
        let diver = document
            .divers
            .iter()
            .find(|diver| diver.name == name)
            .unwrap();
        let pony = diver.pony.as_ref().unwrap();
        let words = flowing(&text(plan, &["--units", units]));
        let step = if units == "metric" { 1.0 } else { 0.1 };
        let ponies = words.split("Ponies: ").nth(1).unwrap();
        let have = number_after(ponies, &format!("{name}'s pony gives "));
        assert!(have <= pony.have_l / litre + NOISE, "{name}: {have}");
        assert!(pony.have_l / litre < have + step, "{name}: {have}");
        let full = number_after(ponies, "every stop ").max(number_after(ponies, "every stop ("));
        is_next_up(
            full,
            pony.need_full_l / litre,
            step,
            &format!("need of {name}"),
        );
    }
}

#[test]
fn the_text_has_every_finding_of_the_json_in_its_own_words() {
    for (name, plan, _) in GOOD_FILES {
        let text = text(plan, &[]);
        let (head, _) = text.split_once("\n\n").unwrap();
        let words = flowing(head);
        let document = json(plan, &[]);
        for finding in &document.findings {
            let level = match finding.level {
                Level::NoGo => "no-go",
                Level::Caution => "caution",
                Level::Note => "note",
            };
            let sentence = format!("{level} {}", finding.message);
            assert!(
                words.contains(&sentence),
                "{name}: `{sentence}` is not in\n{words}"
            );
        }
    }
}

/// A depth that is past a limit by less than is shown.
#[test]
fn a_depth_past_a_diver_s_limit_never_prints_as_the_limit() {
    let plan = edited(REEF, "\"21 m\"", "\"30.001 m\"");
    let document = json(&plan, &[]);
    let finding = document
        .findings
        .iter()
        .find(|finding| finding.code == "depth-limit")
        .unwrap();
    assert_eq!(
        finding.message,
        "Casper may dive to 30 m; this dive goes to 30.1 m."
    );
    assert!(
        json(&edited(REEF, "\"21 m\"", "\"30 m\""), &[])
            .findings
            .iter()
            .all(|finding| finding.code != "depth-limit")
    );
}

// ---------------------------------------------------------------------------------------------
// What differs on the day

#[test]
fn an_override_gives_the_same_briefing_as_the_file_with_that_value_in_it() {
    for (plan, args, old, new) in [
        (REEF, &["--depth", "24 m"][..], "\"21 m\"", "\"24 m\""),
        (REEF, &["--depth", "80 ft"], "\"21 m\"", "\"80 ft\""),
        (
            REEF,
            &["--bottom-time", "22 min"],
            "\"30 min\"",
            "\"22 min\"",
        ),
        (REEF, &["--splash", "15:05"], "\"14:20\"", "\"15:05\""),
        (
            REEF,
            &["--fill", "Noor=181 bar"],
            "\"207 bar\"",
            "\"181 bar\"",
        ),
        (
            REEF,
            &["--fill", " Noor = 181 bar "],
            "\"207 bar\"",
            "\"181 bar\"",
        ),
        (
            KELP,
            &["--fill", "Ezra=2700 psi"],
            "fill = \"3000 psi\"",
            "fill = \"2700 psi\"",
        ),
        (
            KELP,
            &["--bottom-time", "30 min"],
            "\"20 min\"",
            "\"15 min\"",
        ),
        (KELP, &["--bottom-time", "1 h"], "\"20 min\"", "\"45 min\""),
    ] {
        let changed = edited(plan, old, new);
        for format in ["text", "json"] {
            let on_the_day = brief(plan, &[args, &["--format", format]].concat());
            assert_eq!(
                on_the_day,
                brief(&changed, &["--format", format]),
                "{args:?}"
            );
            assert_ne!(
                text_of(&on_the_day.stdout),
                text_of(&brief(plan, &["--format", format]).stdout),
                "{args:?}"
            );
        }
    }
}

#[test]
fn overrides_work_together_and_fills_for_each_diver() {
    let args = [
        "--depth",
        "19 m",
        "--bottom-time",
        "35 min",
        "--fill",
        "Casper=200 bar",
        "--fill",
        "Noor=2800 psi",
    ];
    let mut changed = edited(REEF, "\"21 m\"", "\"19 m\"");
    for (old, new) in [
        ("\"30 min\"", "\"35 min\""),
        ("\"220 bar\"", "\"200 bar\""),
        ("\"207 bar\"", "\"2800 psi\""),
    ] {
        changed = edited(&changed, old, new);
    }
    assert_eq!(brief(REEF, &args), brief(&changed, &[]));
}

#[test]
fn an_override_can_turn_a_go_into_a_no_go_and_back() {
    let fill = brief(REEF, &["--fill", "Casper=70 bar"]);
    assert_eq!(fill.status.code(), Some(1));
    assert!(text_of(&fill.stdout).starts_with("NO-GO  "));
    assert_eq!(brief(REEF, &["--depth", "40 m"]).status.code(), Some(1));
    assert_eq!(brief(THIRSTY, &[]).status.code(), Some(1));
    assert_eq!(
        brief(THIRSTY, &["--depth", "15 m", "--bottom-time", "20 min"])
            .status
            .code(),
        Some(0)
    );
}

#[test]
fn whatif_takes_the_same_overrides() {
    let run = |plan: &str, args: &[&str]| {
        hangbar()
            .args(["whatif", "-"])
            .args(args)
            .write_stdin(plan)
            .output()
            .unwrap()
    };
    let changed = edited(REEF, "\"21 m\"", "\"24 m\"");
    assert_eq!(run(REEF, &["--depth", "24 m"]), run(&changed, &[]));
    assert_ne!(run(REEF, &[]), run(&changed, &[]));
}

// ---------------------------------------------------------------------------------------------
// What if

#[test]
fn the_json_of_a_what_if_has_every_field_and_no_other() {
    for (name, plan, code) in GOOD_FILES {
        let mut command = hangbar();
        let output = command
            .args(["whatif", "-", "--format", "json"])
            .write_stdin(*plan)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(*code), "{name}");
        let document: WhatIf = parsed(&output.stdout);
        assert_eq!(document.schema, "hangbar/what-if/1");
        assert_eq!(document.verdict, verdict_of(plan, *code), "{name}");
        let briefing = json(plan, &[]);
        assert_relative_eq!(document.planned.run_time_min, briefing.run_time_min);
        for change in &document.changes {
            assert_eq!(change.outcome.is_none(), change.error.is_some(), "{name}");
        }
    }
}

#[test]
fn a_what_if_works_out_each_change_that_is_asked_for() {
    let args = [
        "whatif",
        "-",
        "--late",
        "4min,8min",
        "--deeper",
        "5 m",
        "--harder",
        "30%",
        "--format",
        "json",
    ];
    let output = hangbar().args(args).write_stdin(REEF).output().unwrap();
    let document: WhatIf = parsed(&output.stdout);
    let changes: Vec<(f64, f64, f64)> = document
        .changes
        .iter()
        .map(|one| (one.late_min, one.deeper_m, one.harder_pct))
        .collect();
    let want = [
        (4.0, 0.0, 0.0),
        (8.0, 0.0, 0.0),
        (0.0, 5.0, 0.0),
        (4.0, 5.0, 0.0),
        (8.0, 5.0, 0.0),
        (0.0, 0.0, 30.0),
    ];
    assert_eq!(changes.len(), want.len());
    for (change, want) in changes.iter().zip(want) {
        assert_relative_eq!(change.0, want.0);
        assert_relative_eq!(change.1, want.1);
        assert_relative_eq!(change.2, want.2);
    }
    // Eight minutes late and five metres deeper is the plan with those in it.
    let changed = edited(
        &edited(REEF, "\"21 m\"", "\"26 m\""),
        "\"30 min\"",
        "\"38 min\"",
    );
    let outcome = document.changes[4].outcome.as_ref().unwrap();
    let briefing = json(&changed, &[]);
    assert_relative_eq!(outcome.run_time_min, briefing.run_time_min);
    assert_eq!(outcome.no_stop, !briefing.staged);
    for (diver, alone) in outcome.divers.iter().zip(&briefing.divers) {
        assert_eq!(
            diver.end_bar.is_some(),
            alone.end_bar.is_some(),
            "{}",
            diver.name
        );
        if let (Some(got), Some(want)) = (diver.end_bar, alone.end_bar) {
            assert_relative_eq!(got, want, epsilon = 1e-9);
        }
    }
}

#[test]
fn too_many_changes_are_refused_before_any_is_printed() {
    let late: Vec<String> = (1..=31).map(|minute| format!("{minute} min")).collect();
    let mut command = hangbar();
    let assert = command
        .args(["whatif", "-", "--late", &late.join(",")])
        .write_stdin(REEF)
        .assert();
    assert
        .code(2)
        .stdout(is_empty())
        .stderr(contains("31 changes are asked for; at most 30"));
}

// ---------------------------------------------------------------------------------------------
// Check

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
        stderr.contains("a.toml:1:1") && stderr.contains("not UTF-8"),
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
    let briefing = json(THIRSTY, &[]);
    let codes = |findings: &[document::Finding]| -> Vec<String> {
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
    assert!(!text_of(&output.stderr).contains('\u{1b}'));
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
        rows[0].errors[0].message.contains("No such file"),
        "{}",
        rows[0].errors[0].message
    );
}

// ---------------------------------------------------------------------------------------------
// Where the output goes

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

// ---------------------------------------------------------------------------------------------
// Helpers

/// The command, in surroundings that ask for nothing.
fn hangbar() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
    command
}

fn brief(plan: &str, args: &[&str]) -> Output {
    hangbar()
        .args(["brief", "-"])
        .args(args)
        .write_stdin(plan)
        .output()
        .unwrap()
}

/// The text of a briefing that there is.
fn text(plan: &str, args: &[&str]) -> String {
    let output = brief(plan, args);
    assert!(
        matches!(output.status.code(), Some(0 | 1)),
        "{}",
        text_of(&output.stderr)
    );
    text_of(&output.stdout)
}

fn json(plan: &str, args: &[&str]) -> Briefing {
    parsed(&brief(plan, &[args, &["--format", "json"]].concat()).stdout)
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

fn parsed<T: DeserializeOwned>(json: &[u8]) -> T {
    match serde_json::from_slice(json) {
        Ok(document) => document,
        Err(error) => panic!("{error}:\n{}", text_of(json)),
    }
}

fn stdout(command: &mut Command) -> String {
    text_of(&command.output().unwrap().stdout)
}

fn text_of(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The plan with one piece of its text changed.
fn edited(plan: &str, old: &str, new: &str) -> String {
    assert_eq!(
        plan.matches(old).count(),
        1,
        "`{old}` must stand in the plan once"
    );
    plan.replace(old, new)
}

/// The lines under a heading.
fn section<'t>(text: &'t str, heading: &str) -> Vec<&'t str> {
    let from_heading = text.lines().skip_while(|line| *line != heading);
    from_heading
        .skip(1)
        .take_while(|line| !line.is_empty())
        .collect()
}

/// A text with its line ends and indents as single blanks.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The number that follows some words for the first time; 0 where the words are not there.
fn number_after(text: &str, words: &str) -> f64 {
    let Some((_, rest)) = text.split_once(words) else {
        return 0.0;
    };
    let end = rest
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(rest.len());
    rest[..end].trim_end_matches('.').parse().unwrap_or(0.0)
}

/// Whether a figure is the first multiple of a step that is not less than the value.
fn is_next_up(shown: f64, value: f64, step: f64, what: &str) {
    if shown.is_infinite() {
        // No gauge goes there: 600 bar, 9000 psi.
        assert!(value > 120.0 * step, "{what}: {value} is not shown");
        return;
    }
    let on_step = (shown / step - (shown / step).round()).abs() < NOISE;
    let next = shown >= value - step * NOISE && shown - value < step;
    assert!(
        on_step && next,
        "{what}: {shown} is shown for {value}, steps of {step}"
    );
}

fn is_next_down_or_empty(shown: &str, value: Option<f64>, step: f64, what: &str) {
    match value {
        None => assert_eq!(shown, "empty", "{what}"),
        Some(value) => {
            let shown: f64 = shown.parse().unwrap();
            let on_step = (shown / step - (shown / step).round()).abs() < NOISE;
            let next = shown <= value + step * NOISE && value - shown < step;
            assert!(
                on_step && next,
                "{what}: {shown} is shown for {value}, steps of {step}"
            );
        }
    }
}

/// The lines that take more than 80 columns.
fn too_wide(text: &str) -> Vec<String> {
    let wide = |line: &&str| line.chars().map(columns).sum::<usize>() > 80;
    text.lines().filter(wide).map(str::to_owned).collect()
}

/// Columns of a character on a terminal, as far as these tests go.
fn columns(c: char) -> usize {
    let wide = matches!(c, '\u{1100}'..='\u{115f}' | '\u{2e80}'..='\u{a4cf}' | '\u{ac00}'..='\u{d7a3}'
        | '\u{f900}'..='\u{faff}' | '\u{fe30}'..='\u{fe6f}' | '\u{ff00}'..='\u{ff60}');
    if wide { 2 } else { 1 }
}

/// A text without what colours it.
fn without_colour(text: &str) -> String {
    let mut parts = text.split("\u{1b}[");
    let mut plain = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (_, rest) = part.split_once('m').expect("every sequence is a colour");
        plain.push_str(rest);
    }
    plain
}
