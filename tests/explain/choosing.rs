//! What is explained: everything, what is chosen, what differs on the day.

use hangbar::explain::{ExplainError, Topic, explain};
use hangbar::quantity::{Depth, UnitSystem};

use crate::document::{Document, briefing_of, run};

fn titles(arguments: &[&str]) -> Vec<String> {
    let mut all = arguments.to_vec();
    all.extend(["--format", "json"]);
    let (json, errors, _) = run(&all, "");
    let document: Document = serde_json::from_str(&json).unwrap_or_else(|_| panic!("{errors}"));
    document
        .explanations
        .into_iter()
        .map(|row| row.title)
        .collect()
}

#[test]
fn one_thing_or_several_can_be_chosen_and_nothing_chosen_is_everything() {
    let anvil = "plans/anvil.toml";
    let all = titles(&[anvil]);
    assert_eq!(all.len(), 7, "{all:?}");
    assert_eq!(titles(&[anvil, "--limit"]), all[..1]);
    assert_eq!(titles(&[anvil, "--stop", "12 m"]), all[1..2]);
    assert_eq!(titles(&[anvil, "--stop", "6m"]), all[3..4]);
    assert_eq!(titles(&[anvil, "--gas", "Nils"]), all[5..6]);
    assert_eq!(titles(&[anvil, "--fly"]), all[6..]);
    let several = [
        anvil, "--gas", "Nils", "--stop", "9m", "--stop", "6m", "--limit",
    ];
    let want = [&all[0], &all[2], &all[3], &all[5]];
    assert!(titles(&several).iter().eq(want));
    // The figure that is shown chooses the stop, in either units.
    assert_eq!(
        titles(&[anvil, "--stop", "40ft", "--units", "imperial"]).len(),
        1
    );
    let wreck = titles(&["plans/orla-finch-stern.toml", "--stop", "20 ft"]);
    assert!(
        wreck.len() == 1 && wreck[0].starts_with("Stop at 20 ft, "),
        "{wreck:?}"
    );
}

#[test]
fn what_differs_on_the_day_is_explained_as_it_differs() {
    let anvil = "plans/anvil.toml";
    let longer = titles(&[anvil, "--bottom-time", "30 min"]);
    let planned = titles(&[anvil]);
    assert!(
        longer[4].starts_with("Stop at 6 m, minute 39.33 to "),
        "{longer:?}"
    );
    assert!(
        planned[3].starts_with("Stop at 6 m, minute 28.33 to "),
        "{planned:?}"
    );
    let (text, _, _) = run(&[anvil, "--gas", "Nils", "--fill", "Nils=205 bar"], "");
    assert!(text.contains("((205 + 1.01325)"), "{text}");
    let (text, _, _) = run(&[anvil, "--limit", "--depth", "24 m"], "");
    assert!(text.contains("No-stop limit at 24 m on air: "), "{text}");
}

#[test]
fn an_unknown_stop_or_name_is_refused_with_what_there_is() {
    let no_stop =
        "[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n[ascent]\nsafety_stop = false\n";
    for (arguments, stdin, words) in [
        (
            vec!["plans/anvil.toml", "--stop", "15m"],
            "",
            "there is no stop at 15 m; this dive stops at 12 m, 9 m and 6 m",
        ),
        (
            vec!["plans/orla-finch.toml", "--gas", "Bob"],
            "",
            "nobody is called \"Bob\"; the plan has Pella, Ruan and Hanne",
        ),
        (
            vec!["-", "--stop", "5 m"],
            no_stop,
            "there is no stop at 5 m; this dive makes none",
        ),
        (
            vec!["-", "--gas", "A"],
            no_stop,
            "nobody is called \"A\"; the plan has no divers",
        ),
        (
            vec!["plans/anvil.toml", "--stop", "6"],
            "",
            "`6` has no unit; accepted: ",
        ),
        (
            vec!["plans/anvil.toml", "--stop=-6m"],
            "",
            "accepted: 0.3 m to 200 m",
        ),
        (
            vec!["plans/nowhere.toml"],
            "",
            "cannot read plans/nowhere.toml",
        ),
        (vec!["-"], "depth = 3", "unknown key `depth`"),
    ] {
        let (text, errors, status) = run(&arguments, stdin);
        assert_eq!(status, 2, "{arguments:?}: {errors}");
        assert!(text.is_empty(), "{text}");
        assert!(errors.contains(words), "{arguments:?}: {errors}");
    }
    let briefing = briefing_of(no_stop);
    let nowhere = explain(
        &briefing,
        &[Topic::Stop(Depth::from_m(5.0))],
        UnitSystem::Metric,
    );
    assert!(matches!(nowhere, Err(ExplainError::NoStop { .. })));
    let nobody = explain(&briefing, &[Topic::Gas("A".to_owned())], UnitSystem::Metric);
    assert!(matches!(nobody, Err(ExplainError::NoDiver { .. })));
}

#[test]
fn a_no_go_is_explained_too_and_says_so_by_its_status() {
    let (text, errors, status) = run(&["plans/orla-finch-stern.toml"], "");
    assert_eq!((errors.as_str(), status), ("", 1));
    assert!(
        text.contains("More than the fill: there is nothing to go out with."),
        "{text}"
    );
}
