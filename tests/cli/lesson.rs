//! The lesson of the README, command by command.

use std::fs;

use approx::assert_abs_diff_eq;
use serde_json::Value;

use crate::folder::Folder;
use crate::run::{json_of, tried};

/// The README's lesson, each line's ends joined.
fn lesson() -> String {
    let readme = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
    let readme = fs::read_to_string(readme).unwrap();
    let lesson = readme.split_once("## A lesson in an hour").unwrap().1;
    let lesson = lesson.split_once("\n## ").unwrap().0;
    lesson.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The commands of a text: what stands in backticks and begins with the program's name.
fn commands(text: &str) -> Vec<Vec<String>> {
    let spans = text.split('`').skip(1).step_by(2);
    let commands = spans.filter_map(|span| span.strip_prefix("hangbar "));
    commands
        .map(|command| {
            // Quoted pieces keep their blanks.
            let pieces = command.split('"').enumerate();
            pieces
                .flat_map(|(index, piece)| {
                    if index % 2 == 1 {
                        vec![piece.to_owned()]
                    } else {
                        piece.split_whitespace().map(str::to_owned).collect()
                    }
                })
                .collect()
        })
        .collect()
}

#[test]
fn every_command_of_the_lesson_does_what_its_step_says() {
    let lesson = lesson();
    let commands = commands(&lesson);
    assert!(commands.len() >= 11, "{commands:?}");
    let mut pictures = 0;
    let folder = Folder::new("cli-lesson");
    for mut command in commands {
        let plan = command.iter().find(|word| word.ends_with(".toml"));
        let no_go = plan.is_some_and(|plan| {
            let plan = format!("{}/{plan}", env!("CARGO_MANIFEST_DIR"));
            fs::read_to_string(plan).unwrap().contains("Verdict: NO-GO")
        });
        let drawn = command.iter().position(|word| word == "--picture");
        let path = drawn.map(|at| folder.path().join(&command[at + 1]));
        if let (Some(at), Some(path)) = (drawn, &path) {
            command[at + 1] = path.to_str().unwrap().to_owned();
        }
        let words: Vec<&str> = command.iter().map(String::as_str).collect();
        let run = tried(&words, "").code(i32::from(no_go)).stderr("");
        assert!(!run.get_output().stdout.is_empty(), "{words:?}");
        if let Some(path) = path {
            assert!(
                fs::read_to_string(path).unwrap().ends_with("</svg>\n"),
                "{words:?}"
            );
            pictures += 1;
        }
    }
    assert!(pictures >= 7, "{pictures} pictures");
    // An option alone would be a command that nobody can run.
    let spans = lesson.split('`').skip(1).step_by(2);
    assert_eq!(spans.filter(|span| span.starts_with("--")).count(), 0);
}

#[test]
fn the_lesson_s_ceiling_begins_before_the_limit_because_the_way_up_gives_off_gas() {
    let lesson = lesson();
    let (begins, limit) = (21.0, 24.0);
    assert!(lesson.contains("at about minute 21, yet the limit is 24 minutes"));
    let document = |arguments: &[&str]| {
        let mut all = vec!["trace", "--format", "json", "--step", "0.1 min"];
        all.extend(arguments);
        json_of(&all)["samples"].as_array().unwrap().clone()
    };
    let minute = |sample: &Value| sample["run_time_min"].as_f64().unwrap();
    let late = document(&["plans/lesson-3-left-late.toml"]);
    let at_the_limit = document(&["plans/lesson-2-no-stop.toml", "--bottom-time", "24 min"]);
    // The same minute, staged or not: at the surface the high factor is in force for both.
    for samples in [&late, &at_the_limit] {
        let first = samples
            .iter()
            .find(|s| s["ceiling_m"].as_f64().unwrap() > 0.0);
        assert_abs_diff_eq!(minute(first.unwrap()), begins, epsilon = 0.5);
    }
    let limits = json_of(&[
        "limits", "--format", "json", "--from", "24 m", "--to", "24 m",
    ]);
    let no_stop = limits["limits"][0]["no_stop_limit_min"].as_f64().unwrap();
    assert_abs_diff_eq!(no_stop.floor(), limit, epsilon = 1e-9);
    // Compartment 2 passes what the high factor lets it hold at the surface, 1.01325 bar +
    // 0.85*(1.0000 + 1.01325/0.6514 - 1.01325) = 2.32413 bar, and is back under it on the way up.
    let over: Vec<f64> = at_the_limit
        .iter()
        .filter(|s| s["compartments"][1]["inert_bar"].as_f64().unwrap() > 2.324_13)
        .map(minute)
        .collect();
    let (first, last) = (over[0], *over.last().unwrap());
    assert_abs_diff_eq!(first, begins, epsilon = 0.5);
    let end = minute(at_the_limit.last().unwrap());
    assert!(last > 24.0 && last < 24.0 + 24.0 / 9.0, "{last} of {end}");
}
