//! No-stop limits side by side.

use approx::assert_abs_diff_eq;
use hangbar::dive::fly;
use hangbar::dive::no_stop_limit;
use hangbar::dive::{LimitCell, LimitColumn, limit_table};
use hangbar::plan_file::read;
use hangbar::quantity::{Depth, Pressure, Time};
use hangbar::rules::{DiveRules, Level};
use hangbar::tissue::Tissues;
use predicates::str::contains;

use crate::run::{json_of, run, stdout, tried};

#[test]
fn the_compartment_that_decides_surfaces_at_the_high_factor_and_no_other_above_it() {
    for gas in ["air", "EAN32", "18/45"] {
        let rules = DiveRules {
            bottom_gas: gas.parse().unwrap(),
            ..DiveRules::default()
        };
        let mut straight = rules.clone();
        straight.ascent.safety_stop = None;
        let column = LimitColumn {
            gas: rules.bottom_gas,
            factors: rules.factors,
        };
        let depths: Vec<Depth> = [15.0, 21.0, 30.0].map(Depth::from_m).to_vec();
        let oxygen = Pressure::from_bar(1.63);
        let clean = Tissues::clean(rules.environment.surface());
        for row in limit_table(&rules, &clean, &[column], &depths, oxygen).unwrap() {
            let LimitCell::Minutes { time, leading } = row.cells[0] else {
                panic!("{gas} at {:?}: {:?}", row.depth, row.cells[0]);
            };
            // A hair inside, so that rounding does not make it a staged dive.
            let level = Level {
                depth: row.depth,
                time: time - Time::from_min(1e-7),
            };
            let dive = fly(&straight, &clean, &[level]).unwrap();
            assert_eq!(dive.surfacing.index, leading, "{gas} at {:?}", row.depth);
            assert_abs_diff_eq!(dive.surfacing.fraction, 0.85, epsilon = 1e-7);
        }
    }
}

#[test]
fn a_depth_beyond_the_oxygen_limit_gets_no_number() {
    // MOD of EAN36 at 1.4 bar in sea water of 1025 kg/m3: 28.608 m (arithmetic of the published
    // rule PO2/f, by the contract's water).
    let arguments = [
        "--gas", "EAN36", "--from", "28.6 m", "--to", "28.7 m", "--step", "0.5 m",
    ];
    let mut inside = vec!["limits", "--format", "json"];
    inside.extend(arguments);
    let rows = json_of(&inside)["limits"].as_array().unwrap().clone();
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0]["state"], "limit");
    let beyond = json_of(&[
        "limits", "--format", "json", "--gas", "EAN36", "--from", "28.7 m", "--to", "28.7 m",
    ]);
    assert_eq!(beyond["limits"][0]["state"], "over-oxygen-limit");
    assert!(beyond["limits"][0]["no_stop_limit_min"].is_null());
    let text = stdout(&["limits", "--gas", "EAN36", "--from", "30 m", "--to", "30 m"]);
    // (1.01325 + 30 · 0.10051816) · 0.36 = 1.4503…, shown up.
    assert!(text.contains("O2 1.46 bar"), "{text}");
    // A raised limit lets the number through: that of the same limit at no depth too deep.
    let raised = [
        "limits",
        "--gas",
        "EAN36",
        "--from",
        "30 m",
        "--to",
        "30 m",
        "--oxygen-limit",
        "1.6 bar",
    ];
    let rules = DiveRules {
        bottom_gas: "EAN36".parse().unwrap(),
        ..DiveRules::default()
    };
    let clean = Tissues::clean(rules.environment.surface());
    let limit = no_stop_limit(&rules, &clean, Depth::from_m(30.0)).unwrap();
    let limit = limit.time().unwrap();
    let text = stdout(&raised);
    let row = text
        .lines()
        .find(|line| line.trim_start().starts_with("30 m"));
    let minutes = format!(" {} (", limit.as_min().floor());
    assert!(row.unwrap().contains(&minutes), "{text}");
    assert!(!text.contains("O2 1.46"), "{text}");
}

#[test]
fn the_table_is_the_briefing_s_limit_in_every_form() {
    let plan = "[profile]\ndepth = \"24 m\"\nbottom_time = \"10 min\"";
    let read = read(plan).unwrap();
    let clean = Tissues::clean(read.rules().environment.surface());
    let want = no_stop_limit(read.rules(), &clean, Depth::from_m(24.0))
        .unwrap()
        .time()
        .unwrap()
        .as_min();
    let document = json_of(&[
        "limits", "--format", "json", "--from", "24 m", "--to", "24 m",
    ]);
    let got = document["limits"][0]["no_stop_limit_min"].as_f64().unwrap();
    assert_abs_diff_eq!(got, want, epsilon = 1e-12);
    let csv = stdout(&[
        "limits", "--format", "csv", "--from", "24 m", "--to", "24 m",
    ]);
    let row: Vec<&str> = csv.lines().nth(1).unwrap().split(',').collect();
    assert_eq!(row[..4], ["24", "air", "40", "85"]);
    assert_abs_diff_eq!(row[4].parse::<f64>().unwrap(), want, epsilon = 1e-12);
    let text = stdout(&["limits", "--from", "24 m", "--to", "24 m"]);
    let shown = format!("{} (", want.floor());
    let row = text
        .lines()
        .find(|line| line.trim_start().starts_with("24 m"));
    assert!(row.unwrap().contains(&shown), "{text}");
}

#[test]
fn the_usual_rows_are_those_of_the_units() {
    let depths = |arguments: &[&str]| -> Vec<f64> {
        let rows = json_of(arguments)["limits"].as_array().unwrap().clone();
        rows.iter()
            .map(|row| row["depth_m"].as_f64().unwrap())
            .collect()
    };
    let metric = depths(&["limits", "--format", "json"]);
    assert_eq!((metric.len(), metric[0], metric[15]), (16, 10.0, 40.0));
    let imperial = depths(&["limits", "--format", "json", "--units", "imperial"]);
    assert_eq!(imperial.len(), 11);
    assert_abs_diff_eq!(imperial[0], 30.0 * 0.3048, epsilon = 1e-9);
    assert_abs_diff_eq!(imperial[10], 130.0 * 0.3048, epsilon = 1e-9);
}

#[test]
fn the_site_of_the_limits_comes_from_the_plan_or_from_options() {
    let of = |arguments: &[&str]| {
        let mut all = vec![
            "limits", "--format", "json", "--from", "18 m", "--to", "18 m",
        ];
        all.extend(arguments);
        let document = json_of(&all);
        let limit = document["limits"][0]["no_stop_limit_min"].as_f64().unwrap();
        (limit, document["surface_bar"].as_f64().unwrap())
    };
    let plan = of(&["plans/hollin-tarn.toml"]);
    let options = of(&["--water", "fresh", "--altitude", "1640 m"]);
    assert_eq!(plan, options);
    // ISO 2533 at 1,640 m: 1.01325 · (1 − 0.0065·1640/288.15)^5.2558761
    assert_abs_diff_eq!(plan.1, 0.831_134, epsilon = 1e-6);
    let sea = of(&[]);
    assert!(
        plan.0 < sea.0,
        "the lake is tighter: {} and {}",
        plan.0,
        sea.0
    );
    let slow = of(&["--ascent-rate", "3 m/min"]);
    assert!(
        slow.0 > sea.0,
        "a slower way up gives off more: {} and {}",
        slow.0,
        sea.0
    );
}

#[test]
fn who_came_up_lately_has_shorter_limits_and_the_table_says_who_that_is() {
    let lake = [
        "limits",
        "--altitude",
        "1640 m",
        "--water",
        "fresh",
        "--from",
        "18 m",
        "--to",
        "18 m",
    ];
    let json = |more: &[&str]| json_of(&[&lake, more, &["--format", "json"]].concat());
    let text = |more: &[&str]| {
        let text = stdout(&[&lake, more].concat());
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let minutes = |document: &serde_json::Value| {
        let limit = &document["limits"][0]["no_stop_limit_min"];
        limit.as_f64().unwrap()
    };
    let adapted = json(&[]);
    assert!(adapted["arrived_min"].is_null() && adapted["home_altitude_m"].is_null());
    // (0.831 134 − 0.0627)·0.79, the arithmetic of clean tissues at 1,640 m.
    let slowest = |document: &serde_json::Value| {
        let held = &document["start"]["tissues"][15]["n2_bar"];
        held.as_f64().unwrap()
    };
    assert_abs_diff_eq!(slowest(&adapted), 0.607_063, epsilon = 1e-6);
    let just_now = json(&["--arrived", "0 min"]);
    // (1.01325 − 0.0627)·0.79, the same at sea level.
    assert_abs_diff_eq!(slowest(&just_now), 0.750_934_5, epsilon = 1e-9);
    let hour = json(&["--arrived", "1 h", "--home-altitude", "20 m"]);
    assert_abs_diff_eq!(hour["arrived_min"].as_f64().unwrap(), 60.0);
    assert_abs_diff_eq!(hour["home_altitude_m"].as_f64().unwrap(), 20.0);
    assert!(minutes(&just_now) < minutes(&hour) && minutes(&hour) < minutes(&adapted));
    // A month at the site, and nobody tells them apart.
    let month = json(&["--arrived", "43200 min"]);
    assert_abs_diff_eq!(minutes(&month), minutes(&adapted), epsilon = 1e-9);
    let unsaid = text(&[]);
    assert!(unsaid.contains("they are taken as adapted"), "{unsaid}");
    assert!(unsaid.contains("From clean tissues"), "{unsaid}");
    let said = text(&["--arrived", "1 h", "--home-altitude", "20 m"]);
    let who = "divers who came 60 minutes before the dive from an altitude of 20 m";
    assert!(said.contains(who) && !said.contains("adapted"), "{said}");
    // A plan says it too, and an option in its place.
    let plan = |arguments: &[&str]| {
        let plan = [
            "limits",
            "plans/hollin-tarn-same-day.toml",
            "--format",
            "json",
        ];
        json_of(&[&plan, &lake[5..], arguments].concat())
    };
    assert_abs_diff_eq!(plan(&[])["arrived_min"].as_f64().unwrap(), 50.0);
    let later = plan(&["--arrived", "1 h"]);
    assert_abs_diff_eq!(minutes(&later), minutes(&hour), epsilon = 1e-9);
    // At sea level nobody is told anything.
    assert!(!stdout(&["limits"]).contains("adapted"));
}

#[test]
fn limits_that_make_no_sense_are_refused() {
    for (arguments, words) in [
        (&["--factors", "85/40"][..], "is over the high one"),
        (&["--factors", "40"], "the low and the high per cent"),
        (&["--gas", "EAN320"], "outside 5 % to 100 %"),
        (
            &["--from", "40 m", "--to", "10 m"],
            "--from is deeper than --to",
        ),
        (&["--step", "0 m"], "accepted: 0.3 m"),
        (
            &["--from", "1 m", "--to", "200 m", "--step", "0.5 m"],
            "more than 100 depths",
        ),
        (
            &["--oxygen-limit", "2 bar"],
            "accepted: 0.5 bar to 1.63 bar",
        ),
        (&["--altitude", "5000 m"], "option --altitude"),
        (&["--arrived", "-5 min"], "option --arrived"),
        (&["--arrived", "90"], "`90` has no unit"),
        (&["--arrived", "90 m"], "unit of depth"),
        (&["--arrived", "nan min"], "option --arrived"),
        (&["--arrived", "31 d"], "option --arrived"),
        (
            &["--home-altitude", "20 m"],
            "--home-altitude with --arrived",
        ),
        (
            &["--arrived", "1 h", "--home-altitude", "5000 m"],
            "option --home-altitude",
        ),
        (&["--water", "seas"], "did you mean `sea`?"),
        (&["--ascent-rate", "9 m"], "unit of depth"),
        (
            &["--gas", "air,EAN28,EAN32", "--factors", "30/70,40/85,90/90"],
            "9 columns",
        ),
    ] {
        let mut all = vec!["limits"];
        all.extend(arguments);
        tried(&all, "").code(2).stdout("").stderr(contains(words));
    }
}

#[test]
fn units_change_no_limit() {
    let limits = |units: &str| {
        let arguments = [
            "limits", "--from", "30m", "--to", "30m", "--format", "csv", "--units", units,
        ];
        run(&arguments, "").1
    };
    let metric = limits("metric");
    assert_eq!(metric.lines().count(), 2, "{metric}");
    assert_eq!(metric, limits("imperial"));
}
