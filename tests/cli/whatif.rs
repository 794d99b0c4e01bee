//! `hangbar whatif`: each diver's minutes, and changes that are asked for.

use approx::assert_relative_eq;
use predicates::str::{contains, is_empty};

use crate::document::WhatIf;
use crate::plans::{GOOD_FILES, REEF, edited, gully, one_level, verdict_of};
use crate::read::flowing;
use crate::run::{json, json_briefing, parsed, run, tried};

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
    let (status, text) = run(&["whatif", "-"], &gully(fill));
    (status, table_of(&text, "Ben"))
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
    let words = flowing(&table.join(" "));
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
    let words = flowing(&table.join(" "));
    assert!(words.contains("The reserve is gone as planned"), "{words}");
}

#[test]
fn a_dive_that_runs_dry_says_when_and_where() {
    // 118 bar: empty 0.337 min into the stop at 5 m, which begins at 21.444.
    let (status, table) = what_if("118 bar");
    assert_eq!(status, 1);
    assert!(table[2].contains("EMPTY at minute 21, 5 m <"), "{table:?}");
    let words = flowing(&table.join(" "));
    assert!(
        words.contains("empty before the surface as planned"),
        "{words}"
    );
}

#[test]
fn the_json_of_a_what_if_holds_the_same_three_regimes() {
    let ben = |fill: &str| json("whatif", &gully(fill), &[])["planned"]["divers"][1].clone();
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
fn the_json_of_a_what_if_has_every_field_and_no_other() {
    for (name, plan, code) in GOOD_FILES {
        let (status, text) = run(&["whatif", "-", "--format", "json"], plan);
        assert_eq!(status, *code, "{name}");
        let document: WhatIf = parsed(text.as_bytes());
        assert_eq!(document.schema, "hangbar/what-if/1");
        assert_eq!(document.verdict, verdict_of(plan, *code), "{name}");
        let briefing = json_briefing(plan, &[]);
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
    let document: WhatIf = parsed(run(&args, REEF).1.as_bytes());
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
    let briefing = json_briefing(&changed, &[]);
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
fn chosen_changes_take_the_place_of_the_usual_ones() {
    let chosen = [
        "--late",
        "4min,8 min",
        "--deeper",
        "10 ft",
        "--harder",
        "40%",
    ];
    let document = json("whatif", &gully("200 bar"), &chosen);
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
        tried(&["whatif", "-", &option], &gully("200 bar"))
            .code(2)
            .stdout("")
            .stderr(contains(words));
    }
    let many: Vec<String> = (1..=40).map(|minute| format!("{minute}min")).collect();
    tried(
        &["whatif", "-", "--late", &many.join(",")],
        &gully("200 bar"),
    )
    .code(2)
    .stdout("")
    .stderr(contains("40 changes are asked for; at most 30"));
}

#[test]
fn too_many_changes_are_refused_before_any_is_printed() {
    let late: Vec<String> = (1..=31).map(|minute| format!("{minute} min")).collect();
    tried(&["whatif", "-", "--late", &late.join(",")], REEF)
        .code(2)
        .stdout(is_empty())
        .stderr(contains("31 changes are asked for; at most 30"));
}

#[test]
fn a_pony_covers_no_dive_whose_main_cylinder_is_empty_first() {
    let plan = "[profile]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n\
                [[diver]]\nname = \"Tom\"\nsac = \"18 L/min\"\n\
                cylinder = { size = \"10 L\", fill = \"200 bar\" }\n\
                pony = { size = \"6 L\", fill = \"200 bar\" }\n";
    let (_, text) = run(&["whatif", "-", "--late", "20min"], plan);
    let row = text
        .lines()
        .find(|line| line.contains("20 min late") && line.contains("EMPTY"))
        .unwrap();
    assert!(row.contains("main empty first"), "{text}");
    assert!(!row.contains("every stop"), "{row}");
}

#[test]
fn a_what_if_has_a_verdict_for_each_change_and_the_status_of_the_plan() {
    let plan = one_level("21 m", "30 min");
    let (status, text) = run(&["whatif", "-", "--late", "1min,10min"], &plan);
    assert_eq!(status, 0);
    let row = |name: &str| {
        text.lines()
            .find(|line| line.contains(name))
            .unwrap()
            .to_owned()
    };
    assert!(row("1 min late").ends_with("  go"), "{text}");
    assert!(
        row("10 min late").contains("NO-GO: stops unplanned"),
        "{text}"
    );
    // The plan itself past its limit: its own status, whatever a change would be.
    let past = one_level("21 m", "40 min");
    assert_eq!(run(&["whatif", "-", "--harder", "5%"], &past).0, 1);
}

#[test]
fn a_missed_stop_is_a_consequence_and_never_a_plan() {
    // The own pony, 1.5 L at 190 bar, gives 266.4690 L: with 15 · 1.5 L/min that is 11.843067
    // atm·min; the way up with the stop takes 11.033309, one with two more minutes at the stop
    // 14.020232: gone there, while straight up takes 6.552924.
    let plan = |minutes: &str| {
        let pony = "name = \"Ada\"\npony = { size = \"1.5 L\", fill = \"190 bar\" }";
        let stop = format!("safety_stop = {{ depth = \"5 m\", time = \"{minutes}\" }}");
        gully("200 bar")
            .replace("name = \"Ada\"", pony)
            .replace("[model]", &format!("[ascent]\n{stop}\n[model]"))
    };
    let words = |plan: &str| flowing(&run(&["whatif", "-"], plan).1);
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
    assert!(fine.contains("If one diver's gas is gone"), "{fine}");
    assert!(!fine.contains("Missed stops"), "{fine}");
}

#[test]
fn a_no_go_is_told_no_way_to_share_gas() {
    // 160 bar: Ben's gas for two ends in the stop, and the plan is a no-go for it.
    let (status, text) = run(&["whatif", "-"], &gully("160 bar"));
    assert_eq!(status, 1);
    assert!(!text.contains("on Ben's gas"), "{text}");
    let (status, text) = run(&["whatif", "-"], &gully("200 bar"));
    assert_eq!(status, 0);
    assert!(text.contains("on Ben's gas"), "{text}");
    let document = json("whatif", &gully("160 bar"), &[]);
    assert_eq!(document["lost_gas"][0]["shared"]["outcome"], "stops-missed");
}
