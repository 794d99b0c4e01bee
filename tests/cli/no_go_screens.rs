//! What is said of a dive that is no go.

use crate::plans::one_level;
use crate::read::{codes, flowing, number};
use crate::run::{json, run, screen};

#[test]
fn a_plan_without_a_team_is_a_schedule_and_no_go() {
    let plan = "[profile]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n";
    let (status, text) = screen(plan, &[]);
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
    assert_eq!(screen(&staged, &[]).0, 1);
}

#[test]
fn a_no_go_orders_nothing_and_names_the_nearest_go() {
    // Too little gas for the time: what is short can be put right in four ways.
    let plan = "splash = \"09:40\"\n[profile]\ndepth = \"18 m\"\nbottom_time = \"35 min\"\n\
                [[diver]]\nname = \"Ines\"\nsac = \"16 L/min\"\n\
                cylinder = { size = \"10 L\", fill = \"200 bar\" }\n\
                [[diver]]\nname = \"Tom\"\nsac = \"15 L/min\"\n\
                cylinder = { size = \"12 L\", fill = \"230 bar\" }\n";
    let (status, text) = screen(plan, &[]);
    assert_eq!(status, 1);
    let nearest = &json("brief", plan, &[])["nearest_go"];
    let minutes = nearest["bottom_time_min"].as_u64().unwrap();
    let (_, go) = screen(plan, &["--bottom-time", &format!("{minutes} min")]);
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
        assert!(go.contains(order), "a go does not say {order}: {go}");
    }
    let verdict = |changed: &str, more: &[&str]| json("brief", changed, more)["verdict"].clone();
    // Each of them alone is a go, and a step nearer to the plan is none.
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
    let flat = flowing(&text);
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
