//! `hangbar whatif`, the clock, buddies and gauges on the built binary.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use assert_cmd::Command;
use assert_cmd::assert::Assert;
use predicates::prelude::*;
use predicates::str::contains;
use serde_json::Value;

/// One pair; `{fill}` is the second diver's.
const PAIR: &str = r#"
title = "North Gully"
splash = "23:50"
[site]
water = "en13319"
[profile]
depth = "18 m"
bottom_time = "20 min"
[model]
gas_law = "ideal"
[reserve]
floor = "0 bar"
[surface]
overdue_after = "15 min"
emergency = "Call the harbour on VHF 11"
[[diver]]
name = "Ada"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
[[diver]]
name = "Ben"
sac = "20 L/min"
cylinder = { size = "10 L", fill = "{fill}" }
gauge = "psi"
"#;

fn hangbar(arguments: &[&str], plan: &str) -> Assert {
    Command::cargo_bin("hangbar")
        .unwrap()
        .args(arguments)
        .write_stdin(plan)
        .assert()
}

fn pair(fill: &str) -> String {
    PAIR.replace("{fill}", fill)
}

fn json(arguments: &[&str], plan: &str) -> Value {
    let assert = hangbar(arguments, plan);
    serde_json::from_slice(&assert.get_output().stdout).unwrap()
}

/// The lines of one diver's table.
fn table_of(text: &str, name: &str) -> Vec<String> {
    let lines = text
        .lines()
        .skip_while(|line| !line.starts_with(&format!("{name}, ")));
    lines
        .take_while(|line| !line.is_empty())
        .map(str::to_owned)
        .collect()
}

fn what_if(fill: &str) -> (i32, Vec<String>) {
    let assert = hangbar(&["whatif", "-"], &pair(fill));
    let output = assert.get_output();
    let text = String::from_utf8(output.stdout.clone()).unwrap();
    (output.status.code().unwrap(), table_of(&text, "Ben"))
}

#[test]
fn a_fine_dive_keeps_its_reserve_until_the_minute_it_says() {
    let (status, table) = what_if("200 bar");
    assert_eq!(status, 0);
    assert!(
        table[2].contains("as planned") && table[2].contains("holds"),
        "{table:?}"
    );
    // 715.889 L are left on 10 L: 72.54 bar = 1052.0 psi, shown down to 1050.
    assert!(table[2].contains("1050 psi"), "{table:?}");
    let ten = table
        .iter()
        .find(|line| line.contains("10 min late"))
        .unwrap();
    assert!(ten.contains("GONE <"), "{ten}");
    let words = table
        .join(" ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(words.contains("The reserve is gone from +6 min"), "{words}");
    assert!(
        words.contains("empty before the surface from +13 min"),
        "{words}"
    );
}

#[test]
fn a_dive_with_a_broken_reserve_says_so_as_planned() {
    // 150 bar: 1480.385 L less 1092.820 leaves 387.565, under the 579.249 of the reserve; the
    // surface is reached with 222.428 L: 22.54 bar = 326.9 psi, shown down to 300.
    let (status, table) = what_if("150 bar");
    assert_eq!(status, 1);
    assert!(
        table[2].contains("GONE <") && table[2].contains("300 psi"),
        "{table:?}"
    );
    let words = table
        .join(" ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(words.contains("The reserve is gone as planned"), "{words}");
}

#[test]
fn a_dive_that_runs_dry_says_when_and_where() {
    // 118 bar: empty 0.337 min into the stop at 5 m, which begins at 21.444.
    let (status, table) = what_if("118 bar");
    assert_eq!(status, 1);
    assert!(table[2].contains("EMPTY at minute 21, 5 m <"), "{table:?}");
    let words = table
        .join(" ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        words.contains("empty before the surface as planned"),
        "{words}"
    );
}

#[test]
fn the_json_of_a_what_if_holds_the_same_three_regimes() {
    let arguments = ["whatif", "-", "--format", "json"];
    let ben = |fill: &str| json(&arguments, &pair(fill))["planned"]["divers"][1].clone();
    let fine = ben("200 bar");
    assert_eq!(fine["reserve_holds"], true);
    // 715.8894 L · 1.01325/10
    assert!(
        (fine["end_bar"].as_f64().unwrap() - 72.5375).abs() < 1e-3,
        "{fine}"
    );
    let broken = ben("150 bar");
    assert_eq!(broken["reserve_holds"], false);
    assert!(
        (broken["end_bar"].as_f64().unwrap() - 22.5375).abs() < 1e-3,
        "{broken}"
    );
    let empty = ben("118 bar");
    assert!(empty["end_bar"].is_null());
    assert!(
        (empty["empty_min"].as_f64().unwrap() - 21.781669).abs() < 1e-4,
        "{empty}"
    );
    assert!(
        (empty["empty_m"].as_f64().unwrap() - 5.0).abs() < 1e-9,
        "{empty}"
    );
}

#[test]
fn chosen_changes_take_the_place_of_the_usual_ones() {
    let arguments = [
        "whatif",
        "-",
        "--format",
        "json",
        "--late",
        "4min,8 min",
        "--deeper",
        "10 ft",
        "--harder",
        "40%",
    ];
    let document = json(&arguments, &pair("200 bar"));
    assert_eq!(document["schema"], "hangbar/what-if/1");
    let changes: Vec<(f64, f64, f64)> = document["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|change| {
            let number = |key: &str| change[key].as_f64().unwrap();
            (number("late_min"), number("deeper_m"), number("harder_pct"))
        })
        .collect();
    let ten_feet = 3.048;
    assert_eq!(
        changes,
        [
            (4.0, 0.0, 0.0),
            (8.0, 0.0, 0.0),
            (0.0, ten_feet, 0.0),
            (4.0, ten_feet, 0.0),
            (8.0, ten_feet, 0.0),
            (0.0, 0.0, 40.0),
        ]
    );
}

#[test]
fn changes_that_make_no_sense_are_refused() {
    for (option, value, words) in [
        ("--late", "4", "has no unit"),
        ("--late", "4 m", "unit of depth"),
        ("--late", "0 min", "accepted: 0.5 min to 240 min"),
        ("--deeper", "5 min", "unit of time"),
        ("--deeper", "nan m", "plain number"),
        ("--harder", "-5%", "accepted: 1% to 300%"),
        ("--harder", "inf", "accepted: 1% to 300%"),
    ] {
        let option = format!("{option}={value}");
        hangbar(&["whatif", "-", &option], &pair("200 bar"))
            .code(2)
            .stdout("")
            .stderr(contains(words));
    }
    let many: Vec<String> = (1..=40).map(|minute| format!("{minute}min")).collect();
    hangbar(
        &["whatif", "-", "--late", &many.join(",")],
        &pair("200 bar"),
    )
    .code(2)
    .stdout("")
    .stderr(contains("40 changes are asked for; at most 30"));
}

#[test]
fn the_clock_goes_past_midnight_and_every_row_has_a_time_of_day() {
    // Splash 23:50: leaves at 20, at the stop from 21.44 to 24.44, up at 25, overdue at 40.
    hangbar(&["brief", "-"], &pair("200 bar"))
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
    let surface = &json(&["brief", "-", "--format", "json"], &pair("200 bar"))["surface"];
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
    hangbar(&["brief", "-", "--splash", "09:40"], &pair("200 bar"))
        .code(0)
        .stdout(contains("20:00         10:00  leave the bottom"))
        .stdout(contains("23:50").not());
    hangbar(&["brief", "-", "--splash", "24:00"], &pair("200 bar"))
        .code(2)
        .stdout("")
        .stderr(contains("option --splash").and(contains("from 00:00 to 23:59")));
}

#[test]
fn without_a_splash_the_skipper_gets_minutes() {
    let plan = pair("200 bar").replace("splash = \"23:50\"", "");
    hangbar(&["brief", "-"], &plan)
        .code(0)
        .stdout(contains("Start the clock at the splash."))
        .stdout(contains("time of day").not());
    let surface = &json(&["brief", "-", "--format", "json"], &plan)["surface"];
    assert!(surface["splash"].is_null() && surface["surface"]["time_of_day"].is_null());
}

#[test]
fn each_diver_reads_the_own_gauge() {
    // Ada's minimum is 48.91 bar, shown as 50; Ben's 58.69 bar = 851.2 psi, shown as 900.
    let assert = hangbar(&["brief", "-"], &pair("200 bar")).code(0);
    let text = String::from_utf8(assert.get_output().stdout.clone()).unwrap();
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("Ada 50 bar, Ben 900 psi"), "{text}");
    assert!(
        text.contains("  Ben    ...:...  ..... psi  ...:...  ..... psi"),
        "{text}"
    );
    let document = json(&["brief", "-", "--format", "json"], &pair("200 bar"));
    assert_eq!(document["divers"][0]["gauge"], "bar");
    assert_eq!(document["divers"][1]["gauge"], "psi");
}

#[test]
fn buddies_who_do_not_match_are_refused() {
    let buddies = |ada: &str, ben: &str| {
        let plan = pair("200 bar");
        let plan = plan.replace("name = \"Ada\"", &format!("name = \"Ada\"\n{ada}"));
        plan.replace("name = \"Ben\"", &format!("name = \"Ben\"\n{ben}"))
    };
    for (ada, ben, words) in [
        ("buddy = \"Bne\"", "", "nobody is called \"Bne\""),
        ("buddy = \"Ada\"", "", "Ada cannot be their own buddy"),
        (
            "buddy = \"Ben\"",
            "",
            "Ada names Ben as buddy, but not the other way round",
        ),
    ] {
        hangbar(&["brief", "-"], &buddies(ada, ben))
            .code(2)
            .stdout("")
            .stderr(contains(words).and(contains("-:19:9").not()));
    }
    hangbar(
        &["brief", "-"],
        &buddies("buddy = \"Ben\"", "buddy = \"Ada\""),
    )
    .code(0);
}

#[test]
fn a_group_of_four_buddies_is_refused_and_one_of_three_is_not() {
    let team = |count: usize| {
        let names = ["Ada", "Ben", "Cleo", "Dag"];
        let mut plan = String::from("[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n");
        for index in 0..count {
            let (name, buddy) = (names[index], names[(index + 1) % count]);
            plan.push_str(&format!(
                "[[diver]]\nname = \"{name}\"\nbuddy = \"{buddy}\"\nsac = \"15 L/min\"\n\
                 cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n"
            ));
        }
        plan
    };
    hangbar(&["brief", "-"], &team(2)).code(0);
    hangbar(&["brief", "-"], &team(3)).code(0);
    hangbar(&["brief", "-"], &team(4))
        .code(2)
        .stderr(contains("4 divers are linked as buddies"));
}

#[test]
fn a_check_counts_what_a_hang_and_a_current_forbid() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("hang-and-current");
    std::fs::create_dir_all(&folder).unwrap();
    let plan = pair("200 bar")
        .replace(
            "floor = \"0 bar\"",
            "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"30 min\" }",
        )
        .replace(
            "water = \"en13319\"",
            "water = \"en13319\"\ncurrent = \"1 kn\"",
        )
        .replace(
            "depth = \"18 m\"",
            "depth = \"18 m\"\nswim_speed = \"0.9 kn\"\nout = \"with\"",
        );
    std::fs::write(folder.join("gully.toml"), plan).unwrap();
    Command::cargo_bin("hangbar")
        .unwrap()
        .arg("check")
        .arg(&folder)
        .assert()
        .code(1)
        .stdout(contains("no-go: current-too-strong, hang-short (Ben)"));
}

#[test]
fn a_missed_stop_is_a_consequence_and_never_a_plan() {
    // The own pony, 1.5 L at 190 bar, gives 266.4690 L: with 15 · 1.5 L/min that is 11.843067
    // atm·min; the way up with the stop takes 11.033309, one with two more minutes at the stop
    // 14.020232: gone there, while straight up takes 6.552924.
    let plan = |minutes: &str| {
        let pony = "name = \"Ada\"\npony = { size = \"1.5 L\", fill = \"190 bar\" }";
        let stop = format!("safety_stop = {{ depth = \"5 m\", time = \"{minutes}\" }}");
        pair("200 bar")
            .replace("name = \"Ada\"", pony)
            .replace("[model]", &format!("[ascent]\n{stop}\n[model]"))
    };
    let words = |plan: &str| {
        let assert = hangbar(&["whatif", "-"], plan);
        let text = String::from_utf8(assert.get_output().stdout.clone()).unwrap();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let missed = words(&plan("5 min"));
    assert!(
        missed.contains("of stops missed, straight up instead"),
        "{missed}"
    );
    assert!(
        missed.contains("Missed stops are what happens, never a plan."),
        "{missed}"
    );
    let fine = words(&plan("3 min"));
    assert!(!fine.contains("Missed stops"), "{fine}");
}

#[test]
fn a_no_go_is_told_no_way_to_share_gas() {
    // 160 bar: Ben's gas for two ends in the stop, and the plan is a no-go for it.
    let assert = hangbar(&["whatif", "-"], &pair("160 bar")).code(1);
    let text = String::from_utf8(assert.get_output().stdout.clone()).unwrap();
    assert!(!text.contains("on Ben's gas"), "{text}");
    let document = json(&["whatif", "-", "--format", "json"], &pair("160 bar"));
    assert_eq!(document["lost_gas"][0]["shared"]["outcome"], "stops-missed");
}
