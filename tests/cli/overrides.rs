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
