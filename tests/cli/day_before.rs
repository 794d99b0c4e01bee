//! What a screen says of the day before a dive, where it could be taken for more than it is.

use crate::plans::{REEF, edited};
use crate::read::flowing;
use crate::run::{run, screen, text};

/// Casper on air beside EAN32.
fn mixed() -> String {
    edited(
        REEF,
        "name = \"Casper\"\n",
        "name = \"Casper\"\ngas = \"air\"\n",
    )
}

fn before(gas: &str, depth: &str) -> String {
    format!(
        "[[before]]\ndepth = \"{depth}\"\nbottom_time = \"20 min\"\n{gas}surface_interval = \"3 h\"\n"
    )
}

/// Whether the JSON has a finding of this code.
fn finds(plan: &str, code: &str) -> bool {
    let (_, json) = screen(plan, &["--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let findings = json["findings"].as_array().unwrap().clone();
    findings.iter().any(|finding| finding["code"] == code)
}

#[test]
fn a_gas_that_nobody_named_is_asked_about_where_gases_differ() {
    let unsaid = mixed() + &before("", "18 m");
    assert!(finds(&unsaid, "earlier-gas-unsaid"));
    let words = flowing(&text(&unsaid, &[]));
    assert!(
        words.contains(
            "Gases differ, and dive 1 before this one names none: it counts as dived on EAN32 by \
             all who dived it."
        ),
        "{words}"
    );
    let said = mixed() + &before("gas = \"air\"\n", "18 m");
    assert!(!finds(&said, "earlier-gas-unsaid"));
    let alike = REEF.to_owned() + &before("", "18 m");
    assert!(!finds(&alike, "earlier-gas-unsaid"));
}

#[test]
fn an_earlier_dive_on_a_gas_that_nobody_breathes_there_is_asked_about() {
    // 0.8 · (1.01325 + 40 · 0.1005) bar.
    let rich = REEF.to_owned() + &before("gas = \"EAN80\"\n", "40 m");
    assert!(finds(&rich, "earlier-gas-doubtful"));
    let words = flowing(&text(&rich, &[]));
    assert!(
        words.contains("told on EAN80 at 40 m, 4.03 bar of oxygen: nobody breathes that"),
        "{words}"
    );
    let lean = REEF.to_owned() + &before("gas = \"10/50\"\n", "18 m");
    assert!(finds(&lean, "earlier-gas-doubtful"));
    // 1.61 bar and 1.64 bar of EAN32.
    for (depth, doubtful) in [("40 m", false), ("41 m", true)] {
        let plan = REEF.to_owned() + &before("gas = \"EAN32\"\n", depth);
        assert_eq!(finds(&plan, "earlier-gas-doubtful"), doubtful, "{depth}");
    }
}

/// Less nitrogen than the air here gives is no gift of minutes.
#[test]
fn who_came_down_from_a_height_is_kept_to_the_limit_of_the_adapted() {
    let down = "[site]\narrived = \"10 min\"\nhome_altitude = \"3000 m\"\n\
                [profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n";
    let words = flowing(&text(down, &[]));
    assert!(
        words.contains("Divers adapted to this air would have 46 minutes there: keep to that."),
        "{words}"
    );
    let up = "[site]\nwater = \"fresh\"\naltitude = \"1500 m\"\narrived = \"10 min\"\n\
              [profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n";
    let words = flowing(&text(up, &[]));
    assert!(words.contains("this team's are not."), "{words}");
}

#[test]
fn the_small_screen_names_days_of_diving_and_an_unusual_cabin() {
    let small = |more: &[&str]| flowing(&text(REEF, &[&["--short"], more].concat()));
    let usual = small(&[]);
    assert!(
        usual.contains("No flying or driving up for 12 h after surfacing")
            && usual.contains("; 18 h after days of diving."),
        "{usual}"
    );
    let high = small(&["--cabin-altitude", "3000 m"]);
    assert!(
        high.contains("Counted for 3000 m. Nothing published reaches 3000 m"),
        "{high}"
    );
}

/// Minutes of a long interval are counted on no fingers.
#[test]
fn an_interval_of_a_night_is_told_in_hours() {
    let night = before("", "18 m").replace("3 h", "20 h");
    let words = flowing(&text(&(REEF.to_owned() + &night), &[]));
    assert!(
        words.contains("20 h") && !words.contains("1200 min"),
        "{words}"
    );
}

#[test]
fn a_gas_for_a_plan_starts_as_the_plan_does() {
    let line = ["mix", "air", "--depth", "18m", "--plan"];
    let mix = |plan: &str| flowing(&run(&[&line[..], &[plan]].concat(), "").1);
    let came = mix("plans/hollin-tarn-same-day.toml");
    assert!(
        came.contains(
            "The limit is from the tissues of divers who came 50 minutes before the dive"
        ),
        "{came}"
    );
    assert!(
        came.contains("In thin air this model takes less off"),
        "{came}"
    );
    let dived = mix("plans/tern-slack.toml");
    assert!(
        dived.contains("from the tissues that the plan's earlier dive leaves"),
        "{dived}"
    );
    assert!(!dived.contains("In thin air"), "{dived}");
}

#[test]
fn a_blend_asked_for_in_psi_is_told_in_psi() {
    let blend = [
        "mix",
        "EAN32",
        "--blend",
        "3000 psi",
        "--from",
        "500 psi EAN36",
    ];
    let text = run(&blend, "").1;
    assert!(text.contains("Blending 3000 psi of EAN32"), "{text}");
    assert!(text.contains(" 500 psi"), "{text}");
    let metric = run(&[&blend[..], &["--units", "metric"]].concat(), "").1;
    assert!(metric.contains("Blending 207 bar"), "{metric}");
}

/// Who is not to make this dive has dived today all the same.
#[test]
fn a_no_go_says_how_long_nobody_flies_after_the_earlier_dives() {
    let (status, words) = run(&["brief", "plans/kelp-steps.toml"], "");
    let words = flowing(&words);
    assert_eq!(status, 1, "{words}");
    assert!(
        words.contains(
            "Without this dive, after the last one: No flying or driving up for 24 h after \
             surfacing: published (DAN 2002, for air) as well over 18 h after compulsory stops."
        ),
        "{words}"
    );
    let first = run(&["brief", "plans/orla-finch-stern.toml"], "").1;
    assert!(!first.contains("Without this dive"), "{first}");
}
