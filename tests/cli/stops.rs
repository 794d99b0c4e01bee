//! Stops: the anchor, in between, unplanned, by choice.

use serde_json::Value;

use crate::plans::{deep_then_shallow, one_level, roomy};
use crate::read::{codes, flowing, number};
use crate::run::{json, run, screen};

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
    let text = flowing(&screen(&plan, &[]).1);
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
    let text = flowing(&screen(&staged, &[]).1);
    assert!(
        text.contains("The profile is past it from minute 3")
            && text.contains(", at 30 m, and ends"),
        "{text}"
    );
}

#[test]
fn stops_in_between_are_a_no_go_with_their_minutes() {
    let plan = deep_then_shallow("");
    let (status, text) = screen(&plan, &[]);
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
        flowing(&text).contains(&format!(
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
    let (status, text) = screen(&plan, &[]);
    assert_eq!(status, 1, "{text}");
    let document = json("brief", &plan, &[]);
    assert!(number(&document["no_stop_limit_min"]) < 36.0);
    assert_eq!(document["verdict"], "no-go");
    assert_eq!(codes(&document, "no-go"), ["staged-unplanned"]);
    // In a check, a what-if and with a longer time on the day too.
    let short = one_level("21 m", "30 min");
    assert_eq!(screen(&short, &[]).0, 0);
    assert_eq!(screen(&short, &["--bottom-time", "36 min"]).0, 1);
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
    let (_, text) = screen(&plan, &[]);
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
    assert!(screen(&short, &[]).1.contains("safety stop"));
    assert!(run(&["explain", "-"], &short).1.contains("By choice"));
}
