//! The wait before a flight against the briefing.

use hangbar::surface::WaitReach;

use crate::document::{Document, all_words, briefing_of, equations, last, run};
use crate::plans::every_plan;
use hangbar::briefing::brief;
use hangbar::plan_file::{Overrides, read_with};

/// Cabins: the usual one, a low one, and one that the slow compartments feel.
const CABINS: [&str; 3] = ["2438 m", "300 m", "4500 m"];

#[test]
fn the_wait_explained_is_the_wait_briefed() {
    let (mut at_once, mut closed, mut checked, mut none) = (0, 0, 0, 0);
    let low = "[profile]\ndepth = \"18 m\"\nbottom_time = \"40 min\"\n\
               [model]\ngradient_factors = [20, 20]\n";
    let low = ("a low factor".to_owned(), low.to_owned());
    for (name, plan) in every_plan().into_iter().chain([low]) {
        for cabin in CABINS {
            let overrides = Overrides {
                cabin_altitude: Some(cabin.to_owned()),
                ..Overrides::default()
            };
            let briefing = brief(read_with(&plan, &overrides).unwrap()).unwrap();
            let arguments = ["-", "--fly", "--cabin-altitude", cabin, "--format", "json"];
            let (json, errors, _) = run(&arguments, &plan);
            assert!(errors.is_empty(), "{errors}");
            let document: Document = serde_json::from_str(&json).unwrap();
            let [row] = &document.explanations[..] else {
                panic!("{name}: one figure was asked for");
            };
            assert_eq!(row.topic, "flying");
            let words = all_words(row);
            let decides = briefing.flying.model.compartment + 1;
            assert!(
                words.contains(&format!("compartment {decides} ")),
                "{name}: {words}"
            );
            let overs: Vec<f64> = equations(row)
                .filter(|line| line.symbol == "x")
                .map(|line| line.result.parse().unwrap())
                .collect();
            match (briefing.flying.model.reach, last(row, "t")) {
                (WaitReach::Minutes(0), None) => {
                    assert!(
                        overs.len() == 1 && overs[0] <= 0.0,
                        "{name} {cabin}: {overs:?}"
                    );
                    at_once += 1;
                }
                (WaitReach::Minutes(wait), Some(time)) => {
                    assert!(
                        (time.ceil() - f64::from(wait)).abs() < 0.5,
                        "{name}: {time}"
                    );
                    assert!(words.contains(&format!("In whole minutes, up: {wait} min.")));
                    closed += 1;
                }
                (WaitReach::Minutes(wait), None) => {
                    assert!(
                        overs.len() == 2 && overs[0] > 0.0 && overs[1] <= 0.0,
                        "{name}"
                    );
                    assert!(words.contains(&format!("Not above 0: after {wait} min")));
                    checked += 1;
                }
                (WaitReach::NotWithinBound, _) => {
                    assert!(
                        overs.len() == 1 && overs[0] > 0.0,
                        "{name} {cabin}: {overs:?}"
                    );
                    assert!(
                        words.contains("after 4320 min it is over the limit"),
                        "{words}"
                    );
                    none += 1;
                }
            }
        }
    }
    assert!(
        at_once >= 10 && closed >= 10 && checked >= 1 && none >= 1,
        "{at_once} {closed} {checked} {none}"
    );
}

#[test]
fn the_advice_stands_in_the_title_with_what_it_comes_from() {
    let title = |arguments: &[&str]| {
        let (text, _, _) = run(arguments, "");
        let line = text.lines().find(|line| line.starts_with("No flying"));
        line.unwrap().to_owned()
    };
    assert_eq!(
        title(&["plans/anvil.toml", "--fly"]),
        "No flying or driving up to 2438 m: 24 h, the published minimum"
    );
    assert_eq!(
        title(&[
            "plans/orla-finch.toml",
            "--fly",
            "--cabin-altitude",
            "10000 ft"
        ]),
        "No flying or driving up to 10000 ft: 12 h, the published minimum"
    );
    let briefing = briefing_of("[profile]\ndepth = \"18 m\"\nbottom_time = \"40 min\"\n");
    assert_eq!(briefing.flying.advised_min(), Some(12 * 60));
}
