//! What a plan may say in more than one way, and what a tired guide is told who wrote it wrong.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use hangbar::plan::TimeOfDay;
use hangbar::plan_file::{Overrides, PlanErrors, Problem, read, read_with};

/// A plan of one diver; `@` in it stands for what a test puts there.
const REEF: &str = r#"splash = "10:15"

[profile]
depth = "18 m"
bottom_time = "30 min"

[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// The plan with one piece of its text changed.
fn edited(old: &str, new: &str) -> String {
    assert_eq!(REEF.matches(old).count(), 1, "`{old}` must stand once");
    REEF.replace(old, new)
}

/// The only problem there is.
fn only(errors: PlanErrors) -> Problem {
    match errors.problems() {
        [problem] => problem.clone(),
        _ => panic!("several problems:\n{errors}"),
    }
}

/// The only problem of a broken plan.
fn refusal(old: &str, new: &str) -> Problem {
    match read(&edited(old, new)) {
        Ok(_) => panic!("{new} is read"),
        Err(errors) => only(errors),
    }
}

// ---------------------------------------------------------------------------------------------
// The time of day

#[test]
fn an_hour_has_one_digit_or_two_in_the_file_and_on_the_command_line() {
    for (text, hour, minute) in [
        ("9:40", 9, 40),
        ("09:40", 9, 40),
        ("0:00", 0, 0),
        ("00:05", 0, 5),
        ("23:59", 23, 59),
        (" 7:30 ", 7, 30),
    ] {
        let want = TimeOfDay::new(hour, minute);
        let quoted = format!("\"{text}\"");
        let plan = read(&edited("\"10:15\"", &quoted)).unwrap();
        assert_eq!(plan.splash, want, "{text}");
        let overrides = Overrides {
            splash: Some(text.to_owned()),
            ..Overrides::default()
        };
        assert_eq!(read_with(REEF, &overrides).unwrap().splash, want, "{text}");
    }
}

#[test]
fn a_time_of_day_written_otherwise_is_refused_with_the_way_to_write_it() {
    for text in [
        "9:4", "24:00", "9.40", "940", "9:60", "009:40", ":40", "9:", "9:40:00", "-9:40", "9: 40",
        "٩:40",
    ] {
        let problem = refusal("\"10:15\"", &format!("\"{text}\""));
        assert_eq!(problem.key.as_deref(), Some("splash"));
        assert_eq!(problem.message, format!("`splash` is \"{text}\""));
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("with two digits of minutes, as \"9:40\""));
        assert!(accepted.contains("in quotes"));
        let overrides = Overrides {
            splash: Some(text.to_owned()),
            ..Overrides::default()
        };
        let problem = only(read_with(REEF, &overrides).unwrap_err());
        assert_eq!(problem.overridden_by, Some("--splash"));
        // Nobody writes quotes after an option.
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("two digits of minutes, as 9:40"));
        assert!(!accepted.contains("quotes"));
    }
}
