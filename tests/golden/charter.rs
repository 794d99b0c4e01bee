//! The plans of the demo charter as their readers are promised them.

use std::fs;

use crate::program::{STANDARD_ERROR, plans, root, run};

/// Two screens of 50 lines.
const TWO_SCREENS: usize = 100;
const COLUMNS: usize = 80;

#[test]
fn each_plan_gives_the_verdict_that_its_comment_promises() {
    for name in plans() {
        let text = fs::read_to_string(root().join(format!("plans/{name}.toml"))).unwrap();
        let promise = text.split_once("Verdict: ").unwrap().1;
        let words = ["GO", "NO-GO", "SCHEDULE ONLY"];
        let promised = words.iter().find(|word| promise.starts_with(**word));
        let promised = promised.unwrap_or_else(|| panic!("{name} promises nothing"));
        let briefing = run(&["brief", &format!("plans/{name}.toml")]);
        assert!(briefing.starts_with(&format!("{promised}  ")), "{name}");
    }
}

#[test]
fn no_line_is_wider_than_a_screen_and_four_divers_fit_two_of_them() {
    let mut most_divers = 0;
    for name in plans() {
        let plan = format!("plans/{name}.toml");
        let divers = fs::read_to_string(root().join(&plan)).unwrap();
        let divers = divers.matches("[[diver]]").count();
        most_divers = most_divers.max(divers);
        for command in ["brief", "whatif"] {
            let text = run(&[command, &plan]);
            assert!(!text.contains(STANDARD_ERROR), "{command} {name}: {text}");
            for line in text.lines() {
                assert!(line.chars().count() <= COLUMNS, "{command} {name}: {line}");
            }
            let lines = text.lines().count();
            assert!(
                command != "brief" || lines <= TWO_SCREENS,
                "{name}: {lines} lines"
            );
        }
    }
    assert_eq!(most_divers, 4, "no plan has four divers");
}
