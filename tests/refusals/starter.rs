//! Starter plans: each can be briefed as it is, and says of itself that its figures are nobody's.

use hangbar::briefing::{Briefing, brief};
use hangbar::finding::Weight;
use hangbar::plan_file::{read, starter_plan};
use hangbar::quantity::UnitSystem;
use hangbar::report::document;

use crate::compare::compare;

const BOTH: [UnitSystem; 2] = [UnitSystem::Metric, UnitSystem::Imperial];
const MARK: &str = "# an example: put in your own";

fn briefed(text: &str) -> Briefing {
    let plan = read(text).unwrap_or_else(|errors| panic!("{errors}\n{text}"));
    brief(plan).unwrap()
}

#[test]
fn every_starter_is_a_modest_go_of_so_many_divers_whom_nobody_is() {
    for units in BOTH {
        for divers in 1..=50 {
            let text = starter_plan(units, divers).unwrap();
            let briefing = briefed(&text);
            assert!(briefing.is_go(), "{units:?} {divers}");
            let plan = &briefing.plan;
            assert_eq!(plan.units(), units);
            assert_eq!(plan.title(), Some("Starter plan: put in your own figures"));
            let names: Vec<&str> = plan.divers().iter().map(|one| one.name.as_str()).collect();
            let want: Vec<String> = (1..=divers).map(|one| format!("Diver {one}")).collect();
            assert_eq!(names, want);
            // Modest: no stops, a no-stop limit and gas for half as long again, nothing to warn of.
            assert!(!briefing.schedule.staged);
            let bottom = briefing.schedule.leave_bottom().as_min();
            let limit = briefing.no_stop_limit.time().unwrap();
            assert!(limit.as_min() > 3.0 * bottom);
            assert!(plan.levels()[0].depth.as_m() <= 10.0);
            let weights = briefing
                .findings
                .iter()
                .map(hangbar::finding::Finding::weight);
            assert!(weights.into_iter().all(|weight| weight == Weight::Note));
            let json = serde_json::to_value(document::Briefing::try_from(&briefing).unwrap());
            for diver in json.unwrap()["divers"].as_array().unwrap() {
                assert!(
                    diver["gas_limit_min"].as_f64().unwrap() > 1.2 * bottom,
                    "{diver}"
                );
            }
        }
    }
}

#[test]
fn nobody_and_a_boat_too_full_get_none() {
    for divers in [0, 51, usize::MAX] {
        let refused = starter_plan(UnitSystem::Metric, divers).unwrap_err();
        assert_eq!(
            refused.to_string(),
            format!("a starter plan for {divers} divers")
        );
        assert_eq!(refused.accepted(), "1 to 50 divers");
    }
}

/// What nobody has put in is told on its own line or on the one above.
#[test]
fn every_figure_that_is_given_is_marked_as_an_example() {
    for units in BOTH {
        let text = starter_plan(units, 3).unwrap();
        let mut above = "";
        let mut marked = 0;
        for line in text.lines() {
            let is_given = line.contains(" = ") && !line.starts_with('#');
            let is_of_the_file = line.starts_with("title = ") || line.starts_with("units = ");
            if is_given && !is_of_the_file {
                assert!(line.ends_with(MARK) || above == MARK, "{line}");
                marked += 1;
            }
            above = line;
        }
        assert_eq!(marked, 2 + 3 * 3);
    }
}

#[test]
fn no_line_is_wider_than_a_screen() {
    for units in BOTH {
        let text = starter_plan(units, 50).unwrap();
        let wide: Vec<&str> = text
            .lines()
            .filter(|line| line.chars().count() > 80)
            .collect();
        assert_eq!(wide, Vec::<&str>::new());
    }
}

/// The lines behind a `#`, each with the text that it stands in once the `#` is gone.
fn switched_on(text: &str) -> Vec<(String, String)> {
    let lines: Vec<&str> = text.lines().collect();
    let before = lines
        .iter()
        .position(|line| *line == "#[[before]]")
        .unwrap();
    let is_key = |line: &str| line.starts_with('#') && !line.starts_with("# ") && line.len() > 1;
    let keys = (0..before).filter(|index| is_key(lines[*index]));
    let text_with = |index: usize| {
        let line = lines[index].trim_start_matches('#').to_owned();
        let mut lines: Vec<&str> = lines.clone();
        lines[index] = &line;
        (lines[index].to_owned(), lines.join("\n"))
    };
    keys.map(text_with).collect()
}

#[test]
fn a_line_with_a_default_switched_on_changes_nothing() {
    for units in BOTH {
        let text = starter_plan(units, 2).unwrap();
        let json = |text: &str| {
            let briefing = briefed(text);
            serde_json::to_value(document::Briefing::try_from(&briefing).unwrap()).unwrap()
        };
        let plain = json(&text);
        let mut same = 0;
        // What shows how it is written only is another dive, and is seen to be.
        const EXAMPLES: [&str; 16] = [
            "splash",
            "surface_pressure",
            "current",
            "arrived",
            "home_altitude",
            "level",
            "swim_speed",
            "out",
            "hang",
            "emergency",
            "pony",
            "depth_limit",
            "stage",
            "gauge",
            "buddy",
            "gas",
        ];
        for (line, text) in switched_on(&text) {
            let key = line.split(' ').next().unwrap();
            if EXAMPLES.contains(&key) {
                continue;
            }
            same += 1;
            let mut wrong = Vec::new();
            compare("", &plain, &json(&text), &mut wrong);
            assert!(wrong.is_empty(), "{line}: {wrong:?}");
        }
        assert_eq!(same, 20, "{units:?}");
    }
}

/// An example may want another key beside it, but it is written as the reader wants it.
#[test]
fn every_line_switched_on_is_written_as_the_reader_wants_it() {
    const WANTS_ANOTHER: [&str; 6] = [
        "is given, and levels too",
        "the plan has none",
        "`arrived` is missing",
        "nobody is called",
        "which the plan never breathes",
        "is missing",
    ];
    for units in BOTH {
        let text = starter_plan(units, 2).unwrap();
        for (line, text) in switched_on(&text) {
            let problems = read(&text).err();
            for problem in problems.iter().flat_map(|errors| errors.problems()) {
                let message = &problem.message;
                let fits = WANTS_ANOTHER.iter().any(|words| message.contains(words));
                assert!(fits, "{line}: {message}");
            }
        }
        let before = text.split_once("#[[before]]").unwrap().1;
        let keys = ["depth", "bottom_time", "gas", "surface_interval"];
        let lines = before.lines().filter_map(|line| {
            let line = line.strip_prefix('#')?;
            let key = line.split(' ').next()?;
            keys.contains(&key).then_some(line)
        });
        let lines: Vec<&str> = lines.collect();
        assert_eq!(lines.len(), keys.len());
        assert_eq!(
            read(&format!("{text}\n[[before]]\n{}", lines.join("\n"))).err(),
            None
        );
    }
}
