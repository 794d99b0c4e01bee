//! A stage cylinder that is lost: what the screens say of it, and where they say nothing.

use crate::plans::{BRIG, REEF};
use crate::read::{codes, flowing};
use crate::run::{json, screen, text};

const HEADING: &str = "If a stage cylinder is lost";

/// GO, staged, two gases for the way up; one of the two divers has little on the back.
const STAIRS: &str = r#"title = "Quarry stairs"

[profile]
depth = "32 m"
bottom_time = "45 min"

[gas]
bottom = "EAN28"
decompression = ["EAN50", "oxygen"]

[[diver]]
name = "Sabine"
sac = "14 L/min"
cylinder = { size = "2x12 L", fill = "220 bar" }
stage = [
    { gas = "EAN50", size = "11 L", fill = "190 bar" },
    { gas = "oxygen", size = "7 L", fill = "190 bar" },
]

[[diver]]
name = "Nils"
sac = "20 L/min"
cylinder = { size = "2x12 L", fill = "220 bar" }
stage = [
    { gas = "EAN50", size = "5 L", fill = "190 bar" },
    { gas = "oxygen", size = "7 L", fill = "190 bar" },
]
"#;

/// Without its gas the last stop never clears.
const HANGS_ON_IT: &str = r#"[profile]
depth = "30 m"
bottom_time = "25 min"

[ascent]
last_stop = "6 m"

[model]
gradient_factors = [10, 10]

[gas]
decompression = ["EAN50"]

[[diver]]
name = "Sabine"
sac = "15 L/min"
cylinder = { size = "2x12 L", fill = "220 bar" }
stage = [{ gas = "EAN50", size = "2x12 L", fill = "200 bar" }]
"#;

#[test]
fn who_gets_up_without_a_stage_cylinder_is_said_with_what_is_left() {
    let (status, screen) = screen(BRIG, &[]);
    assert_eq!(status, 0);
    let document = json("brief", BRIG, &[]);
    let lost = document["lost_stages"].as_array().unwrap();
    let gases: Vec<&str> = lost
        .iter()
        .map(|lost| lost["gas"].as_str().unwrap())
        .collect();
    assert_eq!(gases, ["EAN50", "oxygen"]);
    let words = flowing(&screen);
    assert!(words.contains(HEADING), "{screen}");
    for lost in lost {
        let gas = lost["gas"].as_str().unwrap();
        let moment = &lost["moments"][0];
        let up = moment["run_time_min"].as_f64().unwrap().ceil();
        let from = format!("Without {gas} from 55 m, minute 25: ");
        let rest = words.split(&from).nth(1).expect(&from);
        let first = rest.split('.').next().unwrap();
        assert!(
            first.ends_with(&format!("back on the surface at minute {up}")),
            "{first}"
        );
        // Longer than with all gases, and no way of the document's own to the same figure.
        assert!(up > document["run_time_min"].as_f64().unwrap(), "{gas}");
    }
}

#[test]
fn a_lost_stage_that_is_not_covered_is_a_caution_on_every_screen() {
    let document = json("brief", STAIRS, &[]);
    assert_eq!(document["verdict"], "go", "{document}");
    let cautions = codes(&document, "caution");
    let not_covered = cautions
        .iter()
        .filter(|code| *code == "lost-stage-not-covered");
    assert_eq!(not_covered.count(), 1, "{cautions:?}");
    let divers = document["lost_stages"].as_array().unwrap().iter();
    let divers = divers.flat_map(|lost| lost["divers"].as_array().unwrap());
    for diver in divers.clone().filter(|diver| diver["covered"] == true) {
        assert_eq!(diver["main"], "every-stop");
    }
    assert_eq!(divers.filter(|diver| diver["covered"] == false).count(), 1);
    let whole = flowing(&text(STAIRS, &[]));
    assert!(
        whole.contains("caution Nils cannot go up as scheduled if the oxygen is lost at 32 m"),
        "{whole}"
    );
    assert!(
        whole.contains("NOT ENOUGH EAN50: the way up takes"),
        "{whole}"
    );
    let short = flowing(&text(STAIRS, &["--short"]));
    assert!(short.contains("lost stage not covered, Nils"), "{short}");
    // Who gets up has no line on the short one.
    let enough = STAIRS.replace("\"5 L\"", "\"11 L\"");
    assert!(flowing(&text(&enough, &[])).contains(HEADING));
    assert!(!flowing(&text(&enough, &["--short"])).contains("lost stage"));
}

#[test]
fn too_little_on_the_back_costs_stops_and_is_said_with_what_it_is() {
    // Nils alone, with a little less on the back: go as planned, and the reserve of one diver holds.
    let mut parts = STAIRS.split("[[diver]]");
    let (head, nils) = (parts.next().unwrap(), parts.nth(1).unwrap());
    let nils = nils
        .replace("220 bar", "182 bar")
        .replace("\"5 L\"", "\"11 L\"");
    let plan = format!("{head}[reserve]\nfloor = \"20 bar\"\n[[diver]]{nils}");
    let document = json("brief", &plan, &[]);
    let nils = &document["lost_stages"][0]["divers"][0];
    assert_eq!(document["verdict"], "go");
    assert_eq!(nils["main"], "stops-missed", "{nils}");
    assert!(nils["missed_stops_min"].as_f64().unwrap() > 0.0);
    let whole = flowing(&text(&plan, &[]));
    assert!(
        whole.contains(
            "Nils cannot make every stop if the EAN50 is lost at 32 m at minute 45: the main"
        ),
        "{whole}"
    );
    assert!(whole.contains("of stops still to make"), "{whole}");
    assert!(
        whole.contains("Missed stops are what happens, never a plan."),
        "{whole}"
    );
}

#[test]
fn a_dive_that_depends_on_one_gas_is_told_so() {
    let document = json("brief", HANGS_ON_IT, &[]);
    assert!(codes(&document, "caution").contains(&"lost-stage-no-way-up".to_owned()));
    let lost = &document["lost_stages"][0];
    assert!(lost["moments"][0]["run_time_min"].is_null());
    assert!(
        lost["moments"][0]["error"]
            .as_str()
            .unwrap()
            .contains("does not clear")
    );
    assert_eq!(lost["divers"][0]["main"], "no-way-up");
    let words = flowing(&text(HANGS_ON_IT, &[]));
    assert!(
        words.contains("If the EAN50 is lost at 30 m at minute 25, no way up"),
        "{words}"
    );
    assert!(words.contains("The dive depends on that gas."), "{words}");
    assert!(!words.contains("every stop,"), "{words}");
    let short = flowing(&text(HANGS_ON_IT, &["--short"]));
    assert!(short.contains("no way up without stage"), "{short}");
}

#[test]
fn without_a_team_the_way_up_alone_is_said_and_without_such_a_gas_nothing() {
    let nobody = STAIRS.split("[[diver]]").next().unwrap();
    let words = flowing(&text(nobody, &[]));
    assert!(
        words.contains("Without EAN50 from 32 m, minute 45: "),
        "{words}"
    );
    assert!(!words.contains("main cylinder"), "{words}");
    for plan in [REEF, &BRIG.replace("55 m", "18 m")] {
        assert!(!text(plan, &[]).contains(HEADING));
        assert_eq!(
            json("brief", plan, &[])["lost_stages"],
            serde_json::json!([])
        );
    }
}

#[test]
fn a_no_go_has_no_such_section() {
    let no_go = STAIRS.replace("220 bar", "120 bar");
    let (status, screen) = screen(&no_go, &[]);
    assert_eq!(status, 1);
    assert!(!screen.contains(HEADING), "{screen}");
}
