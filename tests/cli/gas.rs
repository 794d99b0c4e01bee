//! Gas: levels, limits, ponies, a hang.

use approx::assert_relative_eq;
use serde_json::Value;

use crate::plans::{DRIFT, OVERLOADING};
use crate::read::{codes, flowing, number};
use crate::run::{brief, json, run, screen, text_of};

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
    let (status, text) = screen(DRIFT, &[]);
    assert_eq!(status, 1);
    assert!(!text.contains("no bottom time"), "{text}");
    assert!(
        flowing(&text).contains(&format!(
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
    let output = brief(DRIFT, &["--bottom-time", "12.5 min"]);
    assert_eq!(output.status.code(), Some(2));
    let errors = text_of(&output.stderr);
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
    let text = flowing(&screen(&plenty, &[]).1);
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
        let text = flowing(&screen(&plan, &[]).1);
        assert!(!text.contains("gas for 28"), "{text}");
        assert!(
            text.contains("at 29 no way up can be worked out, whatever gas is left"),
            "{text}"
        );
    }
}

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
            let text = flowing(&run(&[command, "-"], &plan).1);
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
    let text = flowing(&screen(plan, &[]).1);
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
    let (_, text) = screen(plan, &[]);
    assert!(text.contains("The hang: 12 minutes at 6 m"), "{text}");
    // 286.59 and 382.12 L
    for row in ["  Ines   287 L", "  Tom    383 L"] {
        assert!(text.contains(row), "{row}: {text}");
    }
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
    let text = flowing(&screen(&plan("25 min"), &[]).1);
    // `It covers the way up with every stop (288 L), no longer than 28 minutes of bottom time.`
    let sentence = text.split("pony gives").nth(1).unwrap();
    let shown = sentence.split("), no longer than ").nth(1).unwrap();
    let shown: f64 = shown.split(' ').next().unwrap().parse().unwrap();
    #[expect(clippy::cast_precision_loss, reason = "a small number")]
    let most = no_stop.floor().min(gas as f64);
    assert_relative_eq!(shown, most);
    assert!(text.contains("They buy no bottom time"), "{text}");
    let no_go = flowing(&screen(&plan("70 min"), &[]).1);
    assert!(no_go.starts_with("NO-GO"), "{no_go}");
    assert!(no_go.contains("They buy no bottom time"), "{no_go}");
    assert!(!no_go.contains("no longer than"), "{no_go}");
}
