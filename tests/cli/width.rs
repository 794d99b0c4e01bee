//! The width of the text.

use predicates::prelude::*;
use predicates::str::is_match;

use crate::plans::{BRIG, GOOD_FILES, REEF, edited};
use crate::read::too_wide;
use crate::run::{run, stdout, text};

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
                let (_, text) = run(&[command, "-", "--units", units], plan);
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
    assert!(text.contains("Bo needs more than 600 bar"), "{text}");
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
    let text = text(&plan, &[]);
    assert!(text.contains("switch to 50.5/25.5"), "{text}");
    assert_eq!(too_wide(&text), Vec::<String>::new());
}

/// Shares of a gas are printed as they are given, digits and all.
#[test]
fn a_gas_of_many_digits_fits_the_run_times() {
    let gas = "18.123456789012344/45.123456789012344";
    let text = text(&edited(BRIG, "18/45", gas), &[]);
    assert!(text.contains(gas), "{text}");
    assert_eq!(too_wide(&text), Vec::<String>::new());
}

/// A name of 40 wide letters at the head of a diver's table.
#[test]
fn a_wide_name_fits_the_headings_of_a_what_if() {
    let plan = edited(REEF, "\"Noor\"", &format!("\"{}\"", "海".repeat(40)));
    let (_, text) = run(&["whatif", "-"], &plan);
    assert!(text.contains(&"海".repeat(10)), "{text}");
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

#[test]
fn tables_fit_eighty_columns() {
    for arguments in [
        &[
            "limits",
            "--gas",
            "air,EAN28,EAN32,EAN36",
            "--factors",
            "40/85,30/70",
        ][..],
        &["limits", "--units", "imperial", "--gas", "air,EAN32"],
        &["mix", "18/45", "--depth", "60 m", "--blend", "200 bar"],
        &[
            "mix",
            "10/70.123456789",
            "--depth",
            "100 ft",
            "--units",
            "imperial",
        ],
        &["trace", "plans/anvil.toml"],
        &["trace", "plans/orla-finch-stern.toml"],
        &["trace", "plans/long-ledge.toml", "--step", "0.5 min"],
        &["trace", "plans/anvil.toml", "--compartment", "1,4,8,16"],
        &[
            "trace",
            "plans/anvil.toml",
            "--compartment",
            "1,2,3,4,5,6,7",
        ],
        &[
            "trace",
            "tests/data/trimix.toml",
            "--compartment",
            "13,14,15,16",
        ],
        &[
            "trace",
            "tests/data/trimix.toml",
            "--compartment",
            "1,2,3,4",
            "--depth",
            "110 m",
            "--units",
            "imperial",
        ],
    ] {
        let text = stdout(arguments);
        assert!(text.lines().count() > 10, "{arguments:?}");
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{arguments:?}: {line}");
        }
    }
}

#[cfg(target_os = "linux")]
mod in_a_window {
    use std::process::{Command, Stdio};

    use crate::folder::Folder;
    use crate::read::without_colour;
    use crate::run::{stdout, text_of};
    use crate::terminal::on_terminal;

    /// What a line for the shell shows on a terminal of so many columns.
    fn shown(line: &str, columns: u32) -> String {
        let line = format!("stty cols {columns} rows 40; {line}");
        let output = Command::new("script")
            .args(["-qec", &line, "/dev/null"])
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .envs([("TERM", "xterm"), ("SHELL", "/bin/sh")])
            .stdin(Stdio::null())
            .output()
            .unwrap();
        without_colour(&text_of(&output.stdout).replace("\r\n", "\n"))
    }

    /// Standard input and standard error are the window all along.
    #[test]
    fn text_that_is_kept_in_a_file_is_as_wide_as_in_any_other_window() {
        if on_terminal(&["--version"], &[]).is_none() {
            return;
        }
        let folder = Folder::new("cli-window");
        let kept = folder.path().join("kept.txt");
        let program = env!("CARGO_BIN_EXE_hangbar");
        for words in [&["brief", "plans/anvil.toml"][..], &["limits"]] {
            let line = format!("'{program}' {}", words.join(" "));
            let want = stdout(words);
            for columns in [50, 300] {
                assert_eq!(
                    shown(&format!("{line} > '{}'", kept.display()), columns),
                    ""
                );
                assert_eq!(std::fs::read_to_string(&kept).unwrap(), want, "{columns}");
                assert_eq!(shown(&format!("{line} | cat"), columns), want, "{columns}");
            }
            // What goes to the window itself is as wide as that.
            let narrow = shown(&line, 50);
            assert!(narrow.lines().all(|line| line.chars().count() <= 50));
            assert_ne!(narrow, want);
        }
    }
}
