//! Narrow screens and the short briefing.

use std::fs;

use crate::plans::{DRIFT, OVERLOADING, deep_then_shallow, one_level};
use crate::read::flowing;
use crate::run::{run, screen};

/// Eight divers with the longest names, and much to say against the dive.
fn eight(staged: bool) -> String {
    let mut plan = String::from(
        "title = \"A very long title that a charter might well give to one of its regular sites\"\n\
         splash = \"09:40\"\n[site]\ncurrent = \"0.4 kn\"\n[gas]\nbottom = \"EAN32\"\n",
    );
    let minutes = if staged { 40 } else { 20 };
    plan.push_str(&format!(
        "[profile]\ndepth = \"34 m\"\nbottom_time = \"{minutes} min\"\nstaged = {staged}\n\
         [model]\ngradient_factors = [20, 70]\n"
    ));
    for index in 0..8 {
        plan.push_str(&format!(
            "[[diver]]\nname = \"Bartholomew Featherstonehaugh number {index}\"\nsac = \"12 L/min\"\n\
             cylinder = {{ size = \"24 L\", fill = \"232 bar\" }}\n\
             pony = {{ size = \"2 L\", fill = \"120 bar\" }}\n"
        ));
    }
    plan
}

#[test]
fn a_short_briefing_is_one_small_screen() {
    const ROWS: usize = 24;
    const COLUMNS: usize = 60;
    let mut verdicts = Vec::new();
    let mut plans = vec![
        eight(false),
        eight(true),
        eight(true).replace("staged = true", "staged = false"),
        DRIFT.to_owned(),
        OVERLOADING.to_owned(),
    ];
    for entry in fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/plans")).unwrap() {
        plans.push(fs::read_to_string(entry.unwrap().path()).unwrap());
    }
    for plan in plans {
        let (_, text) = screen(&plan, &["--short", "--columns", "60"]);
        assert!(
            text.lines().count() <= ROWS,
            "{} rows:\n{text}",
            text.lines().count()
        );
        for line in text.lines() {
            assert!(line.chars().count() <= COLUMNS, "{line}");
        }
        let verdict = text.split("  ").next().unwrap().to_owned();
        if verdict == "GO" {
            for word in ["No-stop limit", "turn", "minimum", "up ", "OVERDUE"] {
                assert!(text.contains(word), "{word}: {text}");
            }
        }
        verdicts.push(verdict);
    }
    for verdict in ["GO", "NO-GO", "SCHEDULE ONLY"] {
        assert!(verdicts.iter().any(|one| one == verdict), "{verdicts:?}");
    }
}

#[test]
fn every_screen_fits_a_phone_and_no_figure_is_parted_from_its_unit() {
    for columns in [40_usize, 48, 60, 80] {
        let width = columns.to_string();
        for (plan, command) in [
            (eight(false), "brief"),
            (eight(false), "whatif"),
            (DRIFT.to_owned(), "brief"),
            (OVERLOADING.to_owned(), "whatif"),
            (deep_then_shallow("staged = true"), "explain"),
            (deep_then_shallow("staged = true"), "trace"),
            (deep_then_shallow("staged = true"), "limits"),
        ] {
            let (_, text) = run(&[command, "-", "--columns", &width], &plan);
            for line in text.lines() {
                assert!(
                    line.chars().count() <= columns,
                    "{command} {columns}: {line}"
                );
            }
            for (line, next) in text.lines().zip(text.lines().skip(1)) {
                let ends_in_figure = line.ends_with(|c: char| c.is_ascii_digit());
                let unit = next.split_whitespace().next().unwrap_or_default();
                let unit = unit.trim_end_matches([',', '.', ';', ')', ':']);
                assert!(
                    !(ends_in_figure && ["m", "bar", "min", "L", "minutes", "psi"].contains(&unit))
                        || command == "explain",
                    "{command} {columns}: {line} | {next}"
                );
            }
        }
    }
    // At 44 columns the table of the gas is a line a diver; at 80 a table.
    let plan = one_level("18 m", "20 min");
    let narrow = flowing(&screen(&plan, &["--columns", "44"]).1);
    assert!(narrow.contains("Odd: fill 230 bar, turn at "), "{narrow}");
    let wide = screen(&plan, &["--columns", "80"]).1;
    assert!(wide.contains("  Odd    230 bar"), "{wide}");
}

#[test]
fn a_short_briefing_tells_the_gas_switch_and_keeps_a_stop_on_one_line() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/plans/long-ledge.toml");
    let plan = fs::read_to_string(path).unwrap();
    let (_, text) = screen(&plan, &["--short", "--columns", "40"]);
    assert!(
        flowing(&text).contains("21 m switch to EAN50 1:00, 9 m 0:26"),
        "{text}"
    );
    for line in text.lines() {
        assert!(!line.ends_with(" m") && !line.ends_with("EAN50"), "{text}");
    }
}

#[test]
fn a_figure_stays_whole_behind_the_longest_name() {
    let plan = one_level("18 m", "20 min").replace("Odd", "Maximiliana Wolkenstein-Rodenegg");
    let (_, text) = screen(&plan, &["--columns", "40"]);
    for figure in ["230 bar", "50 bar"] {
        assert!(text.contains(figure), "{figure}: {text}");
    }
    for line in text.lines() {
        let rest = line.trim_start();
        assert!(
            !rest.starts_with("bar") && !rest.starts_with("kg"),
            "{text}"
        );
    }
}
