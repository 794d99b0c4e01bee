//! What is shown in which units.

use predicates::prelude::*;
use predicates::str::is_match;

use crate::plans::{GOOD_FILES, KELP, REEF, gully, one_level};
use crate::read::flowing;
use crate::run::{brief, json, screen, text};

#[test]
fn units_change_the_text_and_neither_the_json_nor_the_verdict() {
    for (name, plan, code) in GOOD_FILES {
        let plain = brief(plan, &["--format", "json"]);
        let (metric, imperial) = (&["--units", "metric"][..], &["--units", "imperial"][..]);
        for units in [metric, imperial] {
            let output = brief(plan, &[units, &["--format", "json"]].concat());
            assert_eq!(output, plain, "{name}");
            assert_eq!(brief(plan, units).status.code(), Some(*code), "{name}");
        }
        let (metric, imperial) = (text(plan, metric), text(plan, imperial));
        assert_ne!(metric, imperial, "{name}");
        assert_eq!(metric.lines().next(), imperial.lines().next(), "{name}");
        let depth_in = |unit: &str| is_match(format!(r"\d {unit}\b[^/]")).unwrap();
        for (text, own, other) in [(&metric, "m", "ft"), (&imperial, "ft", "m")] {
            assert!(
                depth_in(own).eval(text),
                "{name} has no depth in {own}:\n{text}"
            );
            assert!(
                !depth_in(other).eval(text),
                "{name} has a depth in {other}:\n{text}"
            );
        }
    }
}

#[test]
fn a_plan_is_shown_in_its_own_units_unless_others_are_asked_for() {
    assert_eq!(text(REEF, &[]), text(REEF, &["--units", "metric"]));
    assert_eq!(text(KELP, &[]), text(KELP, &["--units", "imperial"]));
}

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
        let (_, text) = screen(&plan(fill), &["--units", units]);
        let text = flowing(&text);
        assert!(
            text.contains(&format!("planned fill: Odd {shown}. Less is another plan")),
            "{fill} in {units}: {text}"
        );
    }
}

#[test]
fn each_diver_reads_the_own_gauge() {
    // Ada's minimum is 48.91 bar, shown as 50; Ben's 58.69 bar = 851.2 psi, shown as 900.
    let (status, text) = screen(&gully("200 bar"), &[]);
    assert_eq!(status, 0);
    let words = flowing(&text);
    assert!(words.contains("Ada 50 bar, Ben 900 psi"), "{text}");
    assert!(
        text.contains("  Ben    ...:...  ..... psi  ...:...  ..... psi"),
        "{text}"
    );
    let document = json("brief", &gully("200 bar"), &[]);
    assert_eq!(document["divers"][0]["gauge"], "bar");
    assert_eq!(document["divers"][1]["gauge"], "psi");
}
