//! Times of day, what is told at the surface, and where a current carries the divers meanwhile.

use approx::assert_relative_eq;
use predicates::prelude::*;
use predicates::str::contains;

use crate::plans::{deep_then_shallow, gully, one_level, pair, roomy};
use crate::read::{codes, flowing, number};
use crate::run::{json, screen, tried};

#[test]
fn the_clock_goes_past_midnight_and_every_row_has_a_time_of_day() {
    // Splash 23:50: leaves at 20, at the stop from 21.44 to 24.44, up at 25, overdue at 40.
    tried(&["brief", "-"], &gully("200 bar"))
        .code(0)
        .stdout(contains(
            "18 m    1:00  19:00  20:00         00:10  leave the bottom, on air",
        ))
        // 13/9 min up, 3 min there, 5/9 min up: row, sum and run time agree.
        .stdout(contains(
            "5 m   21:27   3:00  24:27         00:15  safety stop",
        ))
        .stdout(contains("surface   25:00                       00:15"))
        .stdout(contains("They leave the bottom by 00:10, are up by 00:15"))
        .stdout(contains("OVERDUE"))
        .stdout(contains("00:30"))
        .stdout(contains("Emergency: Call the harbour on VHF 11"));
    let surface = &json("brief", &gully("200 bar"), &[])["surface"];
    for (key, time_of_day) in [
        ("leave_bottom", "00:10"),
        ("first_stop", "00:11"),
        ("surface", "00:15"),
        ("overdue", "00:30"),
    ] {
        assert_eq!(surface[key]["time_of_day"], time_of_day, "{key}");
    }
    let overdue = surface["overdue"]["run_time_min"].as_f64().unwrap();
    assert!((overdue - 40.0).abs() < 1e-6);
}

#[test]
fn a_splash_on_the_command_line_stands_for_the_plan_s() {
    tried(&["brief", "-", "--splash", "09:40"], &gully("200 bar"))
        .code(0)
        .stdout(contains("20:00         10:00  leave the bottom"))
        .stdout(contains("23:50").not());
    tried(&["brief", "-", "--splash", "24:00"], &gully("200 bar"))
        .code(2)
        .stdout("")
        .stderr(contains("option --splash").and(contains("from 00:00 to 23:59")));
}

#[test]
fn without_a_splash_the_skipper_gets_minutes() {
    let plan = gully("200 bar").replace("splash = \"23:50\"", "");
    tried(&["brief", "-"], &plan)
        .code(0)
        .stdout(contains("Start the clock at the splash."))
        .stdout(contains("time of day").not());
    let surface = &json("brief", &plan, &[])["surface"];
    assert!(surface["splash"].is_null() && surface["surface"]["time_of_day"].is_null());
}

#[test]
fn arriving_staying_leaving_and_run_time_add_up() {
    let seconds = |text: &str| -> i64 {
        let (minutes, seconds) = text.split_once(':').unwrap();
        minutes.parse::<i64>().unwrap() * 60 + seconds.parse::<i64>().unwrap()
    };
    for plan in [
        one_level("22 m", "20 min"),
        one_level("40 m", "22 min").replace("[profile]", "[profile]\nstaged = true"),
        deep_then_shallow("staged = true"),
    ] {
        let (_, text) = screen(&plan, &[]);
        let document = json("brief", &plan, &[]);
        let rows: Vec<Vec<&str>> = text
            .lines()
            .skip_while(|line| !line.starts_with("Run time"))
            .skip(2)
            .take_while(|line| !line.trim_start().starts_with("surface"))
            .map(|line| line.split_whitespace().collect())
            .collect();
        assert!(rows.len() >= 2, "{text}");
        let mut left = 0;
        for row in &rows {
            // `28 m    1:34  20:26  22:00  level, on air`
            assert!(row.len() > 4 && row[2].contains(':'), "{row:?}: {text}");
            let [arrive, stay, leave] = [row[2], row[3], row[4]].map(seconds);
            assert_eq!(arrive + stay, leave, "{row:?}");
            assert!(arrive >= left, "{row:?}");
            left = leave;
        }
        let mut table = text
            .lines()
            .skip_while(|line| !line.starts_with("Run time"));
        let surface = table.find(|line| line.trim_start().starts_with("surface "));
        let up = seconds(surface.unwrap().split_whitespace().nth(1).unwrap());
        let run_time = number(&document["run_time_min"]) * 60.0;
        #[expect(clippy::cast_precision_loss, reason = "some thousands of seconds")]
        let up_s = up as f64;
        assert!(
            up >= left && up_s >= run_time - 1e-6 && up_s < run_time + 1.0,
            "{text}"
        );
    }
    // A safety stop of three minutes is three minutes.
    let (_, text) = screen(&one_level("22 m", "20 min"), &[]);
    assert!(
        text.contains("  3:00  ") && text.contains("safety stop"),
        "{text}"
    );
}

#[test]
fn half_a_minute_is_said_and_the_last_level_is_left_before_its_own_safety_stop() {
    let text = flowing(&screen(&one_level("24 m", "24.5 min"), &[]).1);
    assert!(text.contains("24 m for 24.5 minutes"), "{text}");
    // A stop as deep as the last level: leaving it is a row of its own.
    let drift = roomy(
        "[[profile.level]]\ndepth = \"18 m\"\ntime = \"15 min\"\n\
         [[profile.level]]\ndepth = \"5 m\"\ntime = \"10 min\"",
    );
    let (_, text) = screen(&drift, &[]);
    assert!(text.contains("25:00  leave the bottom, on air\n"), "{text}");
    assert!(text.contains("3:00  28:00  safety stop\n"), "{text}");
    assert!(
        flowing(&text).contains("a safety stop of 3 minutes at 5 m"),
        "{text}"
    );
}

#[test]
fn the_hang_is_in_the_clock_and_one_below_the_dive_is_named() {
    let plan = |hang: &str| {
        pair(
            &format!(
                "[profile]\ndepth = \"20 m\"\nbottom_time = \"20 min\"\n\
                 [reserve]\nhang = {{ depth = \"{hang}\", time = \"15 min\" }}"
            ),
            "14 L/min",
            "15 L",
            "",
        )
    };
    // Up after 25.2 minutes, with the hang after 40.2: the clock goes on to the next minute.
    for more in [&[][..], &["--short"]] {
        let text = flowing(&screen(&plan("5 m"), more).1);
        assert!(
            text.contains("up by minute 41, and OVERDUE at minute 51"),
            "{text}"
        );
    }
    assert!(
        !codes(&json("brief", &plan("20 m"), &[]), "caution").contains(&"hang-too-deep".into())
    );
    assert!(codes(&json("brief", &plan("25 m"), &[]), "caution").contains(&"hang-too-deep".into()));
}

#[test]
fn the_current_is_told_over_the_whole_dive_and_on_the_way_up() {
    let plan = one_level("18 m", "20 min") + "[site]\ncurrent = \"0.5 kn\"\n";
    // 0.5 · 1852/60 m/min · 25 min = 385.8 m, shown to the next 10; of it 5 min: 77.2 m.
    let text = flowing(&screen(&plan, &[]).1);
    assert!(
        text.contains("carries them 390 m over the whole dive, 80 m of it on the way up"),
        "{text}"
    );
    let surface = &json("brief", &plan, &[])["surface"];
    assert_relative_eq!(
        number(&surface["drift_dive_m"]),
        0.5 * 1852.0 / 60.0 * 25.0,
        epsilon = 1e-6
    );
}
