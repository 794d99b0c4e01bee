//! True at the rail: what the screens say must be what happens. Each test is a plan on which they
//! once did not.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use assert_cmd::Command;
use serde_json::Value;

/// Runs a command on a plan from standard input: exit status and standard output.
fn run(arguments: &[&str], plan: &str) -> (i32, String) {
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .args(arguments)
        .write_stdin(plan)
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    (output.status.code().unwrap(), text)
}

fn brief(plan: &str, more: &[&str]) -> (i32, String) {
    run(&[&["brief", "-"], more].concat(), plan)
}

fn json(command: &str, plan: &str, more: &[&str]) -> Value {
    let arguments = [&[command, "-", "--format", "json"], more].concat();
    serde_json::from_str(&run(&arguments, plan).1).unwrap()
}

/// The words of a screen on one line.
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn codes(document: &Value, level: &str) -> Vec<String> {
    let findings = document["findings"].as_array().unwrap().iter();
    findings
        .filter(|finding| finding["level"] == level)
        .map(|finding| finding["code"].as_str().unwrap().to_owned())
        .collect()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// One level and one diver with so much of everything that only the dive decides.
fn roomy(profile: &str) -> String {
    format!(
        "{profile}\n[[diver]]\nname = \"Odd\"\nsac = \"14 L/min\"\n\
         cylinder = {{ size = \"24 L\", fill = \"230 bar\" }}\n"
    )
}

fn one_level(depth: &str, time: &str) -> String {
    roomy(&format!(
        "[profile]\ndepth = \"{depth}\"\nbottom_time = \"{time}\""
    ))
}

/// Past an 18-minute limit at 28 m, then 12 m, which lets the gas off again.
fn deep_then_shallow(more: &str) -> String {
    roomy(&format!(
        "[profile]\n{more}\n[[profile.level]]\ndepth = \"28 m\"\ntime = \"22 min\"\n\
         [[profile.level]]\ndepth = \"12 m\"\ntime = \"20 min\""
    ))
}

// ---------------------------------------------------------------------------------------------
// Stops: the anchor, in between, unplanned

#[test]
fn the_first_depth_that_bars_the_way_is_a_stop_however_soon_it_would_open() {
    // Low factors put the anchor so deep that its own factor opens the way at once.
    let mut anchors = 0;
    for (low, depth, time) in [(10, 40, 20), (20, 45, 15), (30, 36, 22), (15, 30, 30)] {
        let plan = one_level(&format!("{depth} m"), &format!("{time} min"))
            .replace("[profile]", "[profile]\nstaged = true")
            + &format!("[model]\ngradient_factors = [{low}, 85]\n");
        let document = json("brief", &plan, &[]);
        let anchor = number(&document["anchor_m"]);
        let stop = document["segments"]
            .as_array()
            .unwrap()
            .iter()
            .find(|segment| {
                segment["kind"] == "stop" && (number(&segment["from_m"]) - anchor).abs() < 1e-9
            });
        let stop =
            stop.unwrap_or_else(|| panic!("no stop at the anchor of {anchor} m: {document}"));
        let end = number(&stop["end_min"]);
        assert!((end - end.round()).abs() < 1e-9 && end > number(&stop["start_min"]));
        anchors += 1;
    }
    assert_eq!(anchors, 4);
}

#[test]
fn a_margin_is_never_negative_and_the_level_past_the_limit_is_named() {
    let plan = deep_then_shallow("");
    let text = words(&brief(&plan, &[]).1);
    assert!(
        !text.contains("-1") && !text.contains("minutes more"),
        "{text}"
    );
    assert!(
        text.contains("The profile is past it from minute 18 on, at 28 m"),
        "{text}"
    );
    // Staged at its end, after a deep second level: the same words.
    let staged = roomy(
        "[[profile.level]]\ndepth = \"12 m\"\ntime = \"20 min\"\n\
         [[profile.level]]\ndepth = \"30 m\"\ntime = \"25 min\"",
    );
    let text = words(&brief(&staged, &[]).1);
    assert!(
        text.contains("The profile is past it from minute 3")
            && text.contains(", at 30 m, and ends"),
        "{text}"
    );
}

#[test]
fn stops_in_between_are_a_no_go_with_their_minutes() {
    let plan = deep_then_shallow("");
    let (status, text) = brief(&plan, &[]);
    assert_eq!(status, 1);
    assert!(text.starts_with("NO-GO  "), "{text}");
    let document = json("brief", &plan, &[]);
    assert_eq!(document["staged"], false);
    assert_eq!(codes(&document, "no-go"), ["stops-in-between"]);
    let [between] = document["not_straight_up"].as_array().unwrap().as_slice() else {
        panic!("{document}");
    };
    // It begins where a dive that stays at 28 m meets its no-stop limit.
    let limit = number(&document["no_stop_limit_min"]);
    assert!(
        (number(&between["from_min"]) - limit).abs() < 1e-6,
        "{between}"
    );
    // And ends where a dive that leaves 12 m is no longer a staged one.
    let end = number(&between["to_min"]);
    assert!(end > 23.0 && end < 42.0, "{between}");
    let cut_at = |minutes: f64| {
        let minutes = format!("{minutes} min");
        json("brief", &plan, &["--bottom-time", &minutes])["staged"].clone()
    };
    assert_eq!(cut_at(end - 0.05), true);
    assert_eq!(cut_at(end + 0.05), false);
    assert!(
        words(&text).contains(&format!(
            "from minute 18 (at 28 m) to minute {} nobody may go straight up",
            end.ceil()
        )),
        "{text}"
    );
    // Who asks for stops is told, and may go.
    let asked = json("brief", &deep_then_shallow("staged = true"), &[]);
    assert_eq!(codes(&asked, "no-go"), Vec::<String>::new());
    assert!(codes(&asked, "caution").contains(&"stops-in-between".to_owned()));
}

#[test]
fn a_dive_past_its_limit_is_a_no_go_unless_its_stops_are_asked_for() {
    // Air at 21 m: the limit is between 30 and 35 minutes.
    let plan = one_level("21 m", "36 min");
    let (status, text) = brief(&plan, &[]);
    assert_eq!(status, 1, "{text}");
    let document = json("brief", &plan, &[]);
    assert!(number(&document["no_stop_limit_min"]) < 36.0);
    assert_eq!(document["verdict"], "no-go");
    assert_eq!(codes(&document, "no-go"), ["staged-unplanned"]);
    // In a check, a what-if and with a longer time on the day too.
    let short = one_level("21 m", "30 min");
    assert_eq!(brief(&short, &[]).0, 0);
    assert_eq!(brief(&short, &["--bottom-time", "36 min"]).0, 1);
    let what_if = json("whatif", &short, &["--late", "6min"]);
    assert_eq!(what_if["verdict"], "go");
    let outcome = &what_if["changes"][0]["outcome"];
    assert_eq!(outcome["verdict"], "no-go");
    assert_eq!(outcome["no_gos"][0]["code"], "staged-unplanned");
    // Said in the plan, or by a gas for it: the caution of a staged dive.
    for asked in [
        plan.replace("[profile]", "[profile]\nstaged = true"),
        plan.replace("[profile]", "[gas]\ndecompression = [\"EAN50\"]\n[profile]")
            .replace(
                "name = \"Odd\"",
                "name = \"Odd\"\nstage = [{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }]",
            ),
    ] {
        let document = json("brief", &asked, &[]);
        assert_eq!(document["verdict"], "go", "{document}");
        assert!(codes(&document, "caution").contains(&"staged".to_owned()));
    }
}

#[test]
fn a_plan_without_a_team_is_a_schedule_and_no_go() {
    let plan = "[profile]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n";
    let (status, text) = brief(plan, &[]);
    assert_eq!(status, 0);
    assert!(text.starts_with("SCHEDULE ONLY  "), "{text}");
    assert!(text.to_lowercase().contains("gas not reckoned"), "{text}");
    let document = json("brief", plan, &[]);
    assert_eq!(document["verdict"], "schedule-only");
    assert_eq!(codes(&document, "note"), ["gas-not-reckoned"]);
    let what_if = json("whatif", plan, &[]);
    assert_eq!(what_if["verdict"], "schedule-only");
    // A schedule that needs stops nobody asked for is no schedule either.
    let staged = plan.replace("30 min", "80 min");
    assert_eq!(brief(&staged, &[]).0, 1);
}

#[test]
fn a_long_safety_stop_is_not_called_compulsory() {
    // 15 minutes at 20 ft: what the tissues alone ask for is what they ask for without it.
    let plan = |safety: &str| {
        format!(
            "units = \"imperial\"\n[profile]\ndepth = \"100 ft\"\nbottom_time = \"26 min\"\n\
             staged = true\n[ascent]\nsafety_stop = {safety}\n\
             [[diver]]\nname = \"Odd\"\nsac = \"0.5 cuft/min\"\n\
             cylinder = {{ rated = \"130 cuft\", at = \"3442 psi\", fill = \"3400 psi\" }}\n"
        )
    };
    let stop_time = |document: &Value| -> f64 {
        let segments = document["segments"].as_array().unwrap().iter();
        segments
            .filter(|segment| {
                ["stop", "safety-stop", "switch"].contains(&segment["kind"].as_str().unwrap())
            })
            .map(|stop| number(&stop["end_min"]) - number(&stop["start_min"]))
            .sum()
    };
    let with = json(
        "brief",
        &plan("{ depth = \"20 ft\", time = \"15 min\" }"),
        &[],
    );
    let without = json("brief", &plan("false"), &[]);
    // Sums of run times are whole to the last bits.
    let up = |minutes: f64| (minutes - 1e-9).ceil();
    let (long, compulsory) = (stop_time(&with), stop_time(&without));
    assert!(long > compulsory + 5.0, "{long} {compulsory}");
    let message = with["findings"]
        .as_array()
        .unwrap()
        .iter()
        .find_map(|finding| {
            (finding["code"] == "staged").then(|| finding["message"].as_str().unwrap())
        });
    let message = message.unwrap();
    assert!(
        message.contains(&format!(
            "{} minutes of them by the tissues alone",
            up(compulsory)
        )) && message.contains(&format!("{} minutes with the plan's own stop", up(long))),
        "{message}"
    );
}

#[test]
fn no_stop_of_a_staged_dive_is_called_a_safety_stop_or_by_choice() {
    // Equal factors: the way up is open at every level, since the safety stop lets enough off;
    // left out, the dive would surface over the high factor.
    let plan = one_level("18 m", "50 min").replace("[profile]", "[profile]\nstaged = true")
        + "[model]\ngradient_factors = [85, 85]\n";
    let document = json("brief", &plan, &[]);
    assert_eq!(document["staged"], true, "{document}");
    let kinds: Vec<&str> = document["segments"]
        .as_array()
        .unwrap()
        .iter()
        .map(|segment| segment["kind"].as_str().unwrap())
        .collect();
    assert!(kinds.contains(&"safety-stop"), "{kinds:?}");
    let (_, text) = brief(&plan, &[]);
    let table: Vec<&str> = text
        .lines()
        .filter(|line| line.ends_with("safety stop"))
        .collect();
    assert!(table.is_empty(), "{text}");
    let (_, explained) = run(&["explain", "-"], &plan);
    assert!(
        !explained.contains("By choice") && !explained.contains("Safety stop at"),
        "{explained}"
    );
    // On a no-stop dive it is one, and by choice.
    let short = one_level("18 m", "30 min");
    assert!(brief(&short, &[]).1.contains("safety stop"));
    assert!(run(&["explain", "-"], &short).1.contains("By choice"));
}

// ---------------------------------------------------------------------------------------------
// Gas: levels, limits, hang

/// A drift that gets shallower.
const DRIFT: &str = r#"
[[profile.level]]
depth = "28 m"
time = "12 min"
[[profile.level]]
depth = "18 m"
time = "15 min"
[[profile.level]]
depth = "12 m"
time = "20 min"
[[diver]]
name = "Ines"
sac = "20 L/min"
cylinder = { size = "10 L", fill = "200 bar" }
"#;

#[test]
fn a_gas_limit_may_end_inside_an_earlier_level() {
    let document = json("brief", DRIFT, &[]);
    let diver = &document["divers"][0];
    let limit = diver["gas_limit_min"].as_u64().unwrap();
    assert!((13..47).contains(&limit), "{diver}");
    assert_eq!(diver["gas_limit_ended_by"], "gas");
    // Put back: at that bottom time the reserve holds, a minute later it does not.
    let holds = |minutes: u64| {
        let minutes = format!("{minutes} min");
        let cut = json("brief", DRIFT, &["--bottom-time", &minutes]);
        !codes(&cut, "no-go").contains(&"reserve-broken".to_owned())
    };
    assert!(holds(limit));
    assert!(!holds(limit + 1));
    let (status, text) = brief(DRIFT, &[]);
    assert_eq!(status, 1);
    assert!(!text.contains("no bottom time"), "{text}");
    assert!(
        words(&text).contains(&format!(
            "time {limit} minutes of bottom time in all: the dive ends at"
        )),
        "{text}"
    );
}

#[test]
fn a_bottom_time_on_the_day_cuts_back_through_the_levels() {
    let cut = |minutes: &str| json("brief", DRIFT, &["--bottom-time", minutes]);
    let levels = |document: &Value| document["divers"][0]["levels"].as_array().unwrap().len();
    assert_eq!(levels(&cut("9 min")), 1);
    assert_eq!(levels(&cut("12 min")), 1);
    assert_eq!(levels(&cut("20 min")), 2);
    assert_eq!(levels(&cut("60 min")), 3);
    assert_relative_eq!(
        number(&cut("20 min")["surface"]["leave_bottom"]["run_time_min"]),
        20.0
    );
    // In the travel from 28 to 18 m, which takes 10/9 min, no dive ends.
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .args(["brief", "-", "--bottom-time", "12.5 min"])
        .write_stdin(DRIFT)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let errors = String::from_utf8(output.stderr).unwrap();
    assert!(
        errors.contains("at most 12 min, or at least 13.12 min"),
        "{errors}"
    );
}

#[test]
fn each_level_demands_its_own_minimum() {
    let document = json("brief", DRIFT, &[]);
    let diver = &document["divers"][0];
    let levels = diver["levels"].as_array().unwrap();
    assert_eq!(levels.len(), 3);
    // The deeper the level, the more there must be left; each is that of a dive that ends there.
    let reserves: Vec<f64> = levels
        .iter()
        .map(|level| number(&level["reserve_l"]))
        .collect();
    assert!(
        reserves[0] > reserves[1] && reserves[1] > reserves[2],
        "{reserves:?}"
    );
    for (level, minutes) in levels.iter().zip(["12 min", "27 min", "47 min"]) {
        let alone = json("brief", DRIFT, &["--bottom-time", minutes]);
        let last = alone["divers"][0]["levels"]
            .as_array()
            .unwrap()
            .last()
            .unwrap()
            .clone();
        assert_eq!(*level, last);
    }
    assert_relative_eq!(number(&diver["reserve_l"]), reserves[0]);
    // With more gas the dive goes, and the screen demands the levels one by one.
    let plenty = DRIFT.replace("10 L", "24 L");
    let text = words(&brief(&plenty, &[]).1);
    for demand in [
        "28 m is left with at least, at minute 12: Ines",
        "18 m is left with at least, at minute 27: Ines",
        "Leave the bottom together at minute 47, and with at least: Ines",
    ] {
        assert!(text.contains(demand), "{demand}: {text}");
    }
}

#[test]
fn where_the_schedule_ends_the_search_it_says_so() {
    // At 29 minutes the dive is still no-stop, and a stop of 6 minutes at 18 m takes it over.
    for litres in ["8", "24"] {
        let plan = OVERLOADING.replace("8 L", &format!("{litres} L"));
        let document = json("brief", &plan, &[]);
        let diver = &document["divers"][0];
        assert_eq!(diver["gas_limit_min"], 28, "{diver}");
        assert_eq!(diver["gas_limit_ended_by"], "schedule");
        assert!(
            diver["gas_limit_because"]
                .as_str()
                .unwrap()
                .contains("takes up gas"),
            "{diver}"
        );
        let text = words(&brief(&plan, &[]).1);
        assert!(!text.contains("gas for 28"), "{text}");
        assert!(
            text.contains("at 29 no way up can be worked out, whatever gas is left"),
            "{text}"
        );
    }
}

/// A deep, long safety stop.
const OVERLOADING: &str = r#"
[profile]
depth = "21 m"
bottom_time = "28 min"
[ascent]
safety_stop = { depth = "18 m", time = "6 min" }
[[diver]]
name = "Ines"
sac = "12 L/min"
cylinder = { size = "8 L", fill = "230 bar" }
pony = { size = "3 L", fill = "200 bar" }
"#;

#[test]
fn what_cannot_be_worked_out_is_never_said_to_hold() {
    for litres in ["8", "24"] {
        let plan = OVERLOADING.replace("8 L", &format!("{litres} L"));
        let late = &json("brief", &plan, &[])["late"];
        let diver = &late["divers"][0];
        for question in ["reserve_gone", "empty", "pony_stops"] {
            assert_eq!(diver[format!("{question}_state")], "unknown", "{late}");
            assert_eq!(diver[format!("{question}_from_min")], 1, "{late}");
        }
        assert_eq!(late["stops_state"], "unknown");
        assert_eq!(late["unknown"][0]["from_min"], 1);
        // The search goes on past the gap: from 6 minutes late the stops are compulsory.
        for command in ["brief", "whatif"] {
            let text = words(&run(&[command, "-"], &plan).1);
            for claim in ["for an hour", "within an hour", "stays a no-stop", "-: not"] {
                assert!(!text.contains(claim), "{command} claims {claim}: {text}");
            }
            assert!(
                text.contains("and from +6 min they are compulsory"),
                "{command}: {text}"
            );
            assert!(
                text.contains("Take it as bad from there on"),
                "{command}: {text}"
            );
        }
        let late_two = json("whatif", &plan, &["--late", "2min,6min"]);
        assert!(late_two["changes"][0]["outcome"].is_null());
        assert_eq!(late_two["changes"][1]["outcome"]["no_stop"], false);
    }
}

#[test]
fn a_shorter_dive_that_needs_more_is_said_with_its_minutes_and_why() {
    // Past the no-stop limit of 19 minutes the way up switches to EAN50 at 21 m; at 19 minutes it
    // does not, and all of it comes from the main cylinder, with a hang on top.
    let plan = r#"
[profile]
depth = "27 m"
bottom_time = "21 min"
[gas]
decompression = ["EAN50"]
[reserve]
floor = "0 bar"
hang = { depth = "5 m", time = "20 min" }
[[diver]]
name = "Ines"
sac = "20 L/min"
cylinder = { size = "12 L", fill = "186 bar" }
stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }]
"#;
    let document = json("brief", plan, &[]);
    assert_eq!(document["verdict"], "go");
    let diver = &document["divers"][0];
    assert_eq!(diver["gas_limit_min"], 18);
    let want = serde_json::json!([{ "from_min": 19, "to_min": 19, "because": "no-switch" }]);
    assert_eq!(diver["shorter_needs_more"], want);
    assert!(codes(&document, "caution").contains(&"shorter-needs-more".to_owned()));
    let text = words(&brief(plan, &[]).1);
    assert!(
        text.contains("not after 19 minutes (there is no switch to EAN50 then"),
        "{text}"
    );
    let at = |minutes: &str| json("brief", plan, &["--bottom-time", minutes])["verdict"].clone();
    assert_eq!(
        [at("18 min"), at("19 min"), at("21 min")],
        ["go", "no-go", "go"]
    );
}

#[test]
fn with_stages_planned_the_need_never_falls_past_the_no_stop_limit() {
    let plan = |minutes: u32| {
        format!(
            "[profile]\ndepth = \"36 m\"\nbottom_time = \"{minutes} min\"\n\
             [gas]\nbottom = \"EAN32\"\ndecompression = [\"EAN50\"]\n\
             [[diver]]\nname = \"Ines\"\nsac = \"18 L/min\"\n\
             cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n\
             pony = {{ size = \"2 L\", fill = \"150 bar\" }}\n\
             stage = [{{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }}]\n\
             [[diver]]\nname = \"Tom\"\nsac = \"17 L/min\"\n\
             cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n\
             stage = [{{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }}]\n"
        )
    };
    let mut went_no_go = false;
    let mut least = 0.0;
    for minutes in 8..=26 {
        let document = json("brief", &plan(minutes), &[]);
        let no_go = document["verdict"] == "no-go";
        assert!(no_go || !went_no_go, "{minutes} minutes are a go again");
        went_no_go |= no_go;
        let diver = &document["divers"][0];
        let reserve = number(&diver["reserve_l"]);
        assert!(
            reserve >= least - 1e-9,
            "{minutes}: {reserve} after {least}"
        );
        least = reserve;
        let pony = &diver["pony"];
        assert!(
            number(&pony["need_full_l"]) >= number(&pony["need_ascent_l"]),
            "{minutes}: {pony}"
        );
    }
    assert!(went_no_go);
}

#[test]
fn the_hang_is_answered_for_each_diver() {
    let plan = "[profile]\ndepth = \"18 m\"\nbottom_time = \"25 min\"\n\
                [site]\nwater = \"en13319\"\n[model]\ngas_law = \"ideal\"\n\
                [reserve]\nhang = { depth = \"6 m\", time = \"12 min\" }\n\
                [[diver]]\nname = \"Ines\"\nsac = \"15 L/min\"\n\
                cylinder = { size = \"12 L\", fill = \"220 bar\" }\n\
                [[diver]]\nname = \"Tom\"\nsac = \"20 L/min\"\n\
                cylinder = { size = \"15 L\", fill = \"220 bar\" }\n";
    let document = json("brief", plan, &[]);
    // 12 min at 1.61325 bar: 19.105847 atm·min, unstressed.
    for (index, litres_a_minute, litres) in [(0, 15.0, 12.0), (1, 20.0, 15.0)] {
        let diver = &document["divers"][index];
        let takes = number(&diver["hang"]["takes_l"]);
        assert_relative_eq!(
            takes,
            litres_a_minute * 12.0 * 1.61325 / 1.01325,
            epsilon = 1e-9
        );
        let left = number(&diver["end_bar"]) - takes * 1.01325 / litres;
        assert_relative_eq!(number(&diver["hang"]["left_bar"]), left, epsilon = 1e-9);
    }
    let (_, text) = brief(plan, &[]);
    assert!(text.contains("The hang: 12 minutes at 6 m"), "{text}");
    // 286.59 and 382.12 L
    for row in ["  Ines   287 L", "  Tom    383 L"] {
        assert!(text.contains(row), "{row}: {text}");
    }
}

#[test]
fn the_current_is_told_over_the_whole_dive_and_on_the_way_up() {
    let plan = one_level("18 m", "20 min") + "[site]\ncurrent = \"0.5 kn\"\n";
    // 0.5 · 1852/60 m/min · 25 min = 385.8 m, shown to the next 10; of it 5 min: 77.2 m.
    let text = words(&brief(&plan, &[]).1);
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

// ---------------------------------------------------------------------------------------------
// Figures and words

#[test]
fn a_fill_is_shown_as_it_was_given_or_converted_to_the_nearest() {
    let plan = |fill: &str| one_level("18 m", "20 min").replace("230 bar", fill);
    for (fill, units, shown) in [
        ("232 bar", "metric", "232 bar"),
        ("207 bar", "metric", "207 bar"),
        ("3000 psi", "metric", "207 bar"),
        ("200 bar", "imperial", "2900 psi"),
        ("2455 psi", "imperial", "2455 psi"),
        ("232 bar", "imperial", "3360 psi"),
    ] {
        let (_, text) = brief(&plan(fill), &["--units", units]);
        let text = words(&text);
        assert!(
            text.contains(&format!("planned fill: Odd {shown}. Less is another plan")),
            "{fill} in {units}: {text}"
        );
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
    assert_eq!(limits("metric"), limits("imperial"));
}

#[test]
fn a_pony_s_figure_is_never_beyond_the_limits_and_a_no_go_has_none() {
    // The pony would do for much longer than the main cylinder's gas or the no-stop limit.
    let plan = |minutes: &str| {
        format!(
            "[profile]\ndepth = \"20 m\"\nbottom_time = \"{minutes}\"\n\
             [[diver]]\nname = \"Tom\"\nsac = \"14 L/min\"\n\
             cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n\
             pony = {{ size = \"6 L\", fill = \"200 bar\" }}\n"
        )
    };
    let document = json("brief", &plan("25 min"), &[]);
    let pony = document["divers"][0]["pony"]["covers_until_min"]
        .as_u64()
        .unwrap();
    let gas = document["divers"][0]["gas_limit_min"].as_u64().unwrap();
    let no_stop = number(&document["no_stop_limit_min"]);
    assert!(pony > gas, "{document}");
    let text = words(&brief(&plan("25 min"), &[]).1);
    // `It covers the way up with every stop (288 L), no longer than 28 minutes of bottom time.`
    let sentence = text.split("pony gives").nth(1).unwrap();
    let shown = sentence.split("), no longer than ").nth(1).unwrap();
    let shown: f64 = shown.split(' ').next().unwrap().parse().unwrap();
    #[expect(clippy::cast_precision_loss, reason = "a small number")]
    let most = no_stop.floor().min(gas as f64);
    assert_relative_eq!(shown, most);
    assert!(text.contains("They buy no bottom time"), "{text}");
    let no_go = words(&brief(&plan("70 min"), &[]).1);
    assert!(no_go.starts_with("NO-GO"), "{no_go}");
    assert!(no_go.contains("They buy no bottom time"), "{no_go}");
    assert!(!no_go.contains("no longer than"), "{no_go}");
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
fn a_no_go_orders_nothing_and_names_the_nearest_go() {
    // Too little gas for the time: what is short can be put right in four ways.
    let plan = "[profile]\ndepth = \"18 m\"\nbottom_time = \"35 min\"\n\
                [[diver]]\nname = \"Ines\"\nsac = \"16 L/min\"\n\
                cylinder = { size = \"10 L\", fill = \"200 bar\" }\n\
                [[diver]]\nname = \"Tom\"\nsac = \"15 L/min\"\n\
                cylinder = { size = \"12 L\", fill = \"230 bar\" }\n";
    let (status, text) = brief(plan, &[]);
    assert_eq!(status, 1);
    for order in [
        "turn",
        "Turn",
        "eave the bottom together",
        "left for both",
        "[ ]",
        "Splash",
        "OVERDUE",
        "Roll call",
    ] {
        assert!(!text.contains(order), "{order}: {text}");
    }
    let nearest = &json("brief", plan, &[])["nearest_go"];
    let verdict = |changed: &str, more: &[&str]| json("brief", changed, more)["verdict"].clone();
    // Each of them alone is a go, and a step nearer to the plan is none.
    let minutes = nearest["bottom_time_min"].as_u64().unwrap();
    assert_eq!(
        verdict(plan, &["--bottom-time", &format!("{minutes} min")]),
        "go"
    );
    assert_eq!(
        verdict(plan, &["--bottom-time", &format!("{} min", minutes + 1)]),
        "no-go"
    );
    let depth = number(&nearest["depth_m"]);
    assert_eq!(verdict(plan, &["--depth", &format!("{depth} m")]), "go");
    assert_eq!(
        verdict(plan, &["--depth", &format!("{} m", depth + 1.0)]),
        "no-go"
    );
    let fill = &nearest["fills"][0];
    assert_eq!(fill["diver"], "Ines");
    let with_fill = |bar: f64| verdict(plan, &["--fill", &format!("Ines={bar} bar")]);
    assert_eq!(with_fill(number(&fill["fill_bar"])), "go");
    assert_eq!(with_fill(number(&fill["fill_bar"]) - 5.0), "no-go");
    let litres = number(&nearest["cylinders"][0]["inner_volume_l"]);
    let with_size = |litres: f64| verdict(&plan.replace("10 L", &format!("{litres} L")), &[]);
    assert_eq!(with_size(litres), "go");
    assert_eq!(with_size(litres - 1.0), "no-go");
    let flat = words(&text);
    for line in [
        format!("time {minutes} minutes of bottom time."),
        format!("depth No deeper than {depth} m."),
        format!(
            "fill Ines {} bar, if the cylinder is rated for it.",
            number(&fill["fill_bar"])
        ),
        format!("cylinder Ines {litres} L, filled to the same pressure."),
    ] {
        assert!(flat.contains(&line), "{line}: {text}");
    }
}

#[test]
fn what_the_figures_assume_stands_under_the_verdict() {
    let assumes = |plan: &str| {
        let (_, text) = brief(plan, &[]);
        let start = text.find("  Assumes ").unwrap();
        let end = start + text[start..].find("\n\n").unwrap();
        let lines = text[start..end].lines().count();
        assert!(lines <= 3, "{text}");
        words(&text[start..end])
    };
    let sea = assumes(&one_level("18 m", "20 min"));
    assert_eq!(
        sea,
        "Assumes the first dive of the day, sea water at sea level, gradient factors 40/85, trouble \
         breathed 1.5 times as hard, turn at half."
    );
    let lake = one_level("18 m", "20 min")
        + "[site]\nwater = \"fresh\"\naltitude = \"1640 m\"\n[reserve]\nstress = 2\nturn = \"third\"\n";
    let lake = assumes(&lake);
    for words in [
        "fresh water at 1640 m",
        "the divers adapted to it",
        "2 times",
        "turn at a third",
    ] {
        assert!(lake.contains(words), "{words}: {lake}");
    }
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
        let (_, text) = brief(&plan, &[]);
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
    let (_, text) = brief(&one_level("22 m", "20 min"), &[]);
    assert!(
        text.contains("  3:00  ") && text.contains("safety stop"),
        "{text}"
    );
}

#[test]
fn no_line_of_a_go_sounds_like_leave() {
    for name in [
        "kittiwake-wall",
        "skua-stack",
        "sand-garden",
        "orla-finch",
        "hollin-tarn",
    ] {
        let path = format!("{}/plans/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let plan = std::fs::read_to_string(path).unwrap();
        let text = words(&brief(&plan, &[]).1);
        for leave in [
            "minutes more",
            "would still be",
            "stays a no-stop",
            "holds for an hour",
            "still a go",
            "gas for",
            "up to 1",
        ] {
            assert!(!text.contains(leave), "{name} says {leave}: {text}");
        }
    }
}

// ---------------------------------------------------------------------------------------------
// Narrow screens

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
    for entry in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/plans")).unwrap() {
        plans.push(std::fs::read_to_string(entry.unwrap().path()).unwrap());
    }
    for plan in plans {
        let (_, text) = brief(&plan, &["--short", "--columns", "60"]);
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
            let (status, text) = run(&[command, "-", "--columns", &width], &plan);
            assert!(status <= 1, "{command} {columns}");
            for (line, next) in text.lines().zip(text.lines().skip(1)) {
                assert!(
                    line.chars().count() <= columns,
                    "{command} {columns}: {line}"
                );
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
    let narrow = words(&brief(&plan, &["--columns", "44"]).1);
    assert!(narrow.contains("Odd: fill 230 bar, turn at "), "{narrow}");
    let wide = brief(&plan, &["--columns", "80"]).1;
    assert!(wide.contains("  Odd    230 bar"), "{wide}");
}

#[test]
fn the_last_line_of_a_long_briefing_is_its_verdict() {
    for plan in [one_level("18 m", "20 min"), one_level("30 m", "40 min")] {
        let (_, text) = brief(&plan, &[]);
        assert_eq!(text.lines().next(), text.lines().last());
    }
}

// ---------------------------------------------------------------------------------------------
// What a guest would take for leave

/// Two divers with so much gas and these stage cylinders.
fn pair(head: &str, sac: &str, litres: &str, stage: &str) -> String {
    let mut plan = format!("{head}\n");
    for name in ["Ann", "Bo"] {
        plan.push_str(&format!(
            "[[diver]]\nname = \"{name}\"\nsac = \"{sac}\"\n\
             cylinder = {{ size = \"{litres}\", fill = \"220 bar\" }}\n{stage}\n"
        ));
    }
    plan
}

/// The figure in "No bottom time beyond 41 minutes".
fn longest(text: &str) -> u32 {
    let rest = text.split("No bottom time beyond ").nth(1).unwrap();
    rest.split(' ').next().unwrap().parse().unwrap()
}

#[test]
fn the_longest_bottom_time_is_a_go_and_a_minute_more_is_none() {
    let stages = pair(
        "[profile]\ndepth = \"32 m\"\nbottom_time = \"38 min\"\n\
         [gas]\nbottom = \"EAN32\"\ndecompression = [\"EAN50\"]",
        "15 L/min",
        "24 L",
        "stage = [{ gas = \"EAN50\", size = \"3 L\", fill = \"175 bar\" }]",
    );
    let oxygen = pair(
        "[profile]\ndepth = \"30 m\"\nbottom_time = \"40 min\"\nstaged = true\n\
         [gas]\nbottom = \"EAN36\"",
        "10 L/min",
        "50 L",
        "",
    );
    let no_stop = pair(
        "[profile]\ndepth = \"24 m\"\nbottom_time = \"20 min\"\nstaged = true",
        "15 L/min",
        "24 L",
        "",
    );
    let gas = pair(
        "[profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"",
        "18 L/min",
        "10 L",
        "",
    );
    for (plan, why) in [
        (
            &stages,
            "a minute more is a no-go (stage short, Ann and Bo)",
        ),
        (&oxygen, "a minute more is a no-go (oxygen dose over)"),
        (&no_stop, "there the no-stop limit ends it"),
        (&gas, "there the gas of Ann and Bo ends it"),
    ] {
        let text = words(&brief(plan, &[]).1);
        assert!(text.contains(why), "{why}: {text}");
        let minutes = longest(&text);
        assert_eq!(json("brief", plan, &[])["longest_go_min"], minutes);
        let at = |minutes: u32| json("brief", plan, &["--bottom-time", &format!("{minutes} min")]);
        assert_eq!(at(minutes)["verdict"], "go", "{why}");
        let beyond = at(minutes + 1);
        assert!(
            beyond["verdict"] == "no-go" || beyond["staged"] == true,
            "{why}: {}",
            minutes + 1
        );
    }
    // A short stage cylinder is in the table of late minutes too.
    let late = &json("brief", &stages, &[])["late"]["divers"][0];
    let from = late["stage_short_from_min"].as_u64().unwrap();
    assert_eq!(
        u64::from(longest(&words(&brief(&stages, &[]).1))),
        38 + from - 1
    );
    assert!(brief(&stages, &[]).1.contains("stage"), "{late}");
}

/// Story: a diver with much gas was told 59 minutes beside a no-stop limit of 24, since the
/// other's gas ends the dive before it.
#[test]
fn no_diver_is_told_a_longer_time_than_the_team() {
    let plan = "[profile]\ndepth = \"24 m\"\nbottom_time = \"15 min\"\n\
                [[diver]]\nname = \"Ines\"\nsac = \"18 L/min\"\n\
                cylinder = { size = \"10 L\", fill = \"200 bar\" }\n\
                [[diver]]\nname = \"Tom\"\nsac = \"12 L/min\"\n\
                cylinder = { size = \"24 L\", fill = \"230 bar\" }\n";
    let document = json("brief", plan, &[]);
    let gas = |index: usize| document["divers"][index]["gas_limit_min"].as_u64().unwrap();
    let team = document["longest_go_min"].as_u64().unwrap();
    assert!(gas(0) == team && gas(1) > 24, "{document}");
    let (_, text) = brief(plan, &[]);
    for name in ["  Ines   ", "  Tom    "] {
        let mut rows = text.lines().filter(|line| line.starts_with(name));
        let row = rows.next().unwrap();
        assert!(row.ends_with(&format!(" {team} min")), "{row}: {text}");
    }
}

#[test]
fn a_short_briefing_tells_the_gas_switch_and_keeps_a_stop_on_one_line() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/plans/long-ledge.toml");
    let plan = std::fs::read_to_string(path).unwrap();
    let (_, text) = brief(&plan, &["--short", "--columns", "40"]);
    assert!(
        words(&text).contains("21 m switch to EAN50 1:00, 9 m 0:26"),
        "{text}"
    );
    for line in text.lines() {
        assert!(!line.ends_with(" m") && !line.ends_with("EAN50"), "{text}");
    }
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
        let text = words(&brief(&plan("5 m"), more).1);
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
fn a_figure_stays_whole_behind_the_longest_name() {
    let plan = one_level("18 m", "20 min").replace("Odd", "Maximiliana Wolkenstein-Rodenegg");
    let (_, text) = brief(&plan, &["--columns", "40"]);
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

#[test]
fn half_a_minute_is_said_and_the_last_level_is_left_before_its_own_safety_stop() {
    let text = words(&brief(&one_level("24 m", "24.5 min"), &[]).1);
    assert!(text.contains("24 m for 24.5 minutes"), "{text}");
    // A stop as deep as the last level: leaving it is a row of its own.
    let drift = roomy(
        "[[profile.level]]\ndepth = \"18 m\"\ntime = \"15 min\"\n\
         [[profile.level]]\ndepth = \"5 m\"\ntime = \"10 min\"",
    );
    let (_, text) = brief(&drift, &[]);
    assert!(text.contains("25:00  leave the bottom, on air\n"), "{text}");
    assert!(text.contains("3:00  28:00  safety stop\n"), "{text}");
    assert!(
        words(&text).contains("a safety stop of 3 minutes at 5 m"),
        "{text}"
    );
}

#[test]
fn a_no_go_is_one_on_the_screens_of_the_classroom_too() {
    let plan = one_level("30 m", "40 min");
    for command in ["trace", "explain"] {
        let (status, text) = run(&[command, "-"], &plan);
        assert_eq!(status, 1);
        assert!(text.contains("NO-GO  as planned"), "{command}: {text}");
        let (_, fine) = run(&[command, "-"], &one_level("18 m", "20 min"));
        assert!(!fine.contains("NO-GO"), "{command}: {fine}");
    }
}
