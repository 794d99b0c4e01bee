//! What differs on the day.

use crate::plans::{KELP, REEF, THIRSTY, edited};
use crate::run::{brief, run, text_of};

#[test]
fn an_override_gives_the_same_briefing_as_the_file_with_that_value_in_it() {
    for (plan, args, old, new) in [
        (REEF, &["--depth", "24 m"][..], "\"21 m\"", "\"24 m\""),
        (REEF, &["--depth", "80 ft"], "\"21 m\"", "\"80 ft\""),
        (
            REEF,
            &["--bottom-time", "22 min"],
            "\"30 min\"",
            "\"22 min\"",
        ),
        (
            REEF,
            &["--arrived", "1 h", "--home-altitude", "1200 m"],
            "[profile]",
            "[site]\narrived = \"1 h\"\nhome_altitude = \"1200 m\"\n\n[profile]",
        ),
        (REEF, &["--splash", "15:05"], "\"14:20\"", "\"15:05\""),
        (
            REEF,
            &["--fill", "Noor=181 bar"],
            "\"207 bar\"",
            "\"181 bar\"",
        ),
        (
            REEF,
            &["--fill", " Noor = 181 bar "],
            "\"207 bar\"",
            "\"181 bar\"",
        ),
        (
            KELP,
            &["--fill", "Ezra=2700 psi"],
            "fill = \"3000 psi\"",
            "fill = \"2700 psi\"",
        ),
        (
            KELP,
            &["--bottom-time", "30 min"],
            "\"20 min\"",
            "\"15 min\"",
        ),
        (KELP, &["--bottom-time", "1 h"], "\"20 min\"", "\"45 min\""),
    ] {
        let changed = edited(plan, old, new);
        for format in ["text", "json"] {
            let on_the_day = brief(plan, &[args, &["--format", format]].concat());
            let status = on_the_day.status.code().unwrap();
            assert!(status <= 1, "{args:?} ended with {status}");
            assert_eq!(
                on_the_day,
                brief(&changed, &["--format", format]),
                "{args:?}"
            );
            assert_ne!(
                text_of(&on_the_day.stdout),
                text_of(&brief(plan, &["--format", format]).stdout),
                "{args:?}"
            );
        }
    }
}

#[test]
fn overrides_work_together_and_fills_for_each_diver() {
    let args = [
        "--depth",
        "19 m",
        "--bottom-time",
        "35 min",
        "--fill",
        "Casper=200 bar",
        "--fill",
        "Noor=2800 psi",
    ];
    let mut changed = edited(REEF, "\"21 m\"", "\"19 m\"");
    for (old, new) in [
        ("\"30 min\"", "\"35 min\""),
        ("\"220 bar\"", "\"200 bar\""),
        ("\"207 bar\"", "\"2800 psi\""),
    ] {
        changed = edited(&changed, old, new);
    }
    let on_the_day = brief(REEF, &args);
    assert_eq!(on_the_day.status.code(), Some(0));
    assert_eq!(on_the_day, brief(&changed, &[]));
}

#[test]
fn an_override_can_turn_a_go_into_a_no_go_and_back() {
    let fill = brief(REEF, &["--fill", "Casper=70 bar"]);
    assert_eq!(fill.status.code(), Some(1));
    assert!(text_of(&fill.stdout).starts_with("NO-GO  "));
    assert_eq!(brief(REEF, &["--depth", "40 m"]).status.code(), Some(1));
    assert_eq!(brief(THIRSTY, &[]).status.code(), Some(1));
    assert_eq!(
        brief(THIRSTY, &["--depth", "15 m", "--bottom-time", "20 min"])
            .status
            .code(),
        Some(0)
    );
}

#[test]
fn whatif_takes_the_same_overrides() {
    let what_if = |plan: &str, args: &[&str]| run(&[&["whatif", "-"], args].concat(), plan);
    let changed = edited(REEF, "\"21 m\"", "\"24 m\"");
    assert_eq!(what_if(REEF, &["--depth", "24 m"]), what_if(&changed, &[]));
    assert_ne!(what_if(REEF, &[]), what_if(&changed, &[]));
}

/// Splash 14:20, 75 minutes after an earlier dive is over at 13:05.
const AFTER_ANOTHER: &str = "[[before]]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n\
                             surface_interval = \"75 min\"\n";

/// The earlier dive is over when it is: an hour later in is an hour more at the surface.
#[test]
fn another_splash_is_another_surface_interval() {
    let plan = REEF.to_owned() + AFTER_ANOTHER;
    for (splash, interval) in [
        ("15:20", "135 min"),
        ("13:30", "25 min"),
        ("13:05", "0 min"),
    ] {
        let changed = edited(&plan, "\"14:20\"", &format!("\"{splash}\""));
        let changed = edited(&changed, "\"75 min\"", &format!("\"{interval}\""));
        let on_the_day = brief(&plan, &["--splash", splash]);
        assert_eq!(on_the_day, brief(&changed, &[]), "{splash}");
    }
    let refused = brief(&plan, &["--splash", "13:04"]);
    assert_eq!(refused.status.code(), Some(2));
    let told = text_of(&refused.stderr);
    assert!(
        told.contains("--> option --splash")
            && told.contains("accepted: at most 75 min earlier than `splash` of the plan"),
        "{told}"
    );
    // A plan that gives none says how long they wait, whenever that begins.
    let unclocked = edited(&plan, "splash = \"14:20\"\n", "");
    assert_eq!(
        text_of(&brief(&unclocked, &["--splash", "14:20"]).stdout),
        text_of(&brief(&plan, &[]).stdout)
    );
}

/// A no-go for stops alone is a go after the wait that it names, and not a minute before.
#[test]
fn the_wait_that_a_no_go_names_makes_a_go() {
    let plan = "plans/kelp-steps.toml";
    let (status, text) = run(&["brief", plan], "");
    assert_eq!(status, 1, "{text}");
    assert!(
        text.contains("  wait      16 minutes more, 63 minutes at the surface in all."),
        "{text}"
    );
    let (_, json) = run(&["brief", plan, "--format", "json"], "");
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["nearest_go"]["surface_interval_min"], 63);
    // Splash 13:00 in the plan.
    for (splash, status) in [("13:15", 1), ("13:16", 0)] {
        assert_eq!(run(&["brief", plan, "--splash", splash], "").0, status);
    }
}
