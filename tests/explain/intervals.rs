//! Time at the surface against the briefing.

use hangbar::explain::{ExplainError, STRAY_UNITS, Step, Topic, explain};
use hangbar::quantity::UnitSystem;
use hangbar::surface::{IntervalReach, Since};

use crate::document::{Row, all_words, briefing_of, equations, last, rows_of, run};
use crate::plans::every_plan;
use crate::reader::student_agrees;

/// Bar and per cent: usual decimals, and what they stray by.
const BAR: f64 = 1e-4 * (STRAY_UNITS + 0.5);
const PER_CENT: f64 = 1e-2 * (STRAY_UNITS + 0.5);

/// All results of a symbol, in order.
fn results(row: &Row, symbol: &str) -> Vec<f64> {
    equations(row)
        .filter(|line| line.symbol == symbol)
        .map(|line| line.result.parse().unwrap())
        .collect()
}

fn intervals(rows: &[Row]) -> Vec<&Row> {
    let rows = rows.iter();
    rows.filter(|row| row.topic == "surface-interval").collect()
}

#[test]
fn what_is_left_is_what_the_dive_and_its_limit_start_from() {
    let (mut left, mut of_home) = (0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let rows = rows_of(&plan);
        let found = intervals(&rows);
        assert_eq!(found.len(), briefing.rests.len(), "{name}");
        let Some((rest, row)) = briefing.rests.last().zip(found.last()) else {
            continue;
        };
        // They stand before what starts from them.
        assert_eq!(rows[0].topic, "surface-interval", "{name}");
        let deciding = briefing.no_stop_limit.compartment;
        let start = briefing.plan.start();
        let held = start.tissues.loadings()[deciding];
        let words = all_words(row);
        assert!(
            words.contains(&format!("ompartment {} (", deciding + 1)),
            "{name}: {words}"
        );
        // The leading one first, then the one that decides; then those of the trials.
        let shown = match rest.since {
            Since::EarlierDive if rest.leading != deciding => 1,
            _ => 0,
        };
        let two_gases = briefing.plan.start().tissues.hold_helium();
        let symbol = if two_gases { "p_0_N2" } else { "p_0" };
        let p_0 = results(row, symbol)[shown];
        assert!((p_0 - held.n2_bar).abs() <= BAR, "{name}: {p_0}");
        if two_gases {
            let helium = results(row, "p_0_He")[shown];
            assert!((helium - held.he_bar).abs() <= BAR, "{name}: {helium}");
        }
        let limit = rows
            .iter()
            .find(|row| row.topic == "no-stop-limit")
            .unwrap();
        let helium = two_gases || briefing.plan.rules().bottom_gas.helium() > 0.0;
        let symbol = if helium { "p_0_N2" } else { "p_0" };
        let begins = last(limit, symbol).unwrap();
        assert!((begins - held.n2_bar).abs() <= BAR, "{name}: {begins}");
        if rest.before.cns_pct > 0.0 {
            let cns = last(row, "CNS_0").unwrap();
            assert!((cns - start.cns_pct).abs() <= PER_CENT, "{name}: {cns}");
        }
        of_home += usize::from(last(found[0], "p_home").is_some());
        left += 1;
    }
    assert!(left >= 7 && of_home >= 3, "{left} {of_home}");
}

#[test]
fn a_minute_less_is_above_the_limit_and_the_least_interval_is_not() {
    let (mut minutes, mut never) = (0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let Some(least) = &briefing.least_interval else {
            continue;
        };
        let rows = rows_of(&plan);
        let row = *intervals(&rows).last().unwrap();
        let overs = results(row, "x");
        let words = all_words(row);
        match least.reach {
            IntervalReach::Minutes(0) => assert!(overs.is_empty(), "{name}"),
            IntervalReach::Minutes(least) => {
                let [early, enough] = overs[..] else {
                    panic!("{name}: {overs:?}");
                };
                assert!(early > 0.0 && enough <= 0.0, "{name}: {overs:?}");
                let (after, before) = (least, least - 1);
                for said in [
                    format!("{least} minutes is the least"),
                    format!("after {before} minutes it needs stops"),
                    format!("after {after} minutes it is a no-stop dive"),
                ] {
                    assert!(words.contains(&said), "{name}: {said}: {words}");
                }
                minutes += 1;
            }
            IntervalReach::NotEvenClean | IntervalReach::NotWithinBound => {
                assert!(
                    matches!(overs[..], [over] if over > 0.0),
                    "{name}: {overs:?}"
                );
                never += 1;
            }
        }
    }
    assert!(minutes >= 2 && never >= 1, "{minutes} {never}");
}

#[test]
fn the_limit_says_from_when_it_starts_and_who_sets_it() {
    let (text, _, _) = run(&["plans/tern-slack.toml", "--limit"], "");
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "The dive begins 97 minutes after surfacing from the dive before.",
        "Idris sets it, whose own limit, 46 minutes, is the least of any diver's.",
        "on the leanest gas that one breathes",
    ] {
        assert!(flat.contains(words), "{words}: {text}");
    }
    let (text, _, _) = run(&["plans/tern-slack.toml", "--interval"], "");
    assert!(text.contains("(most in "), "{text}");
    let (text, _, _) = run(&["plans/sand-garden.toml", "--limit"], "");
    assert!(!text.contains("sets it") && !text.contains("The dive begins"));
}

#[test]
fn without_an_earlier_dive_or_an_arrival_there_is_no_interval_to_explain() {
    let plan = "[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n";
    let (text, errors, status) = run(&["-", "--interval"], plan);
    assert_eq!((text.as_str(), status), ("", 2));
    assert!(errors.contains("there is no surface interval"), "{errors}");
    assert!(errors.contains("option --interval"), "{errors}");
    let nothing = explain(&briefing_of(plan), &[Topic::Interval], UnitSystem::Metric);
    assert_eq!(nothing, Err(ExplainError::NoInterval));
    assert!(
        rows_of(plan)
            .iter()
            .all(|row| row.topic != "surface-interval")
    );
    // Who came on the day has one.
    let (text, errors, _) = run(&["-", "--interval", "--arrived", "2 h"], plan);
    assert!(errors.is_empty(), "{errors}");
    assert!(text.contains("120 minutes at the site before the first dive of the day"));
}

#[test]
fn each_diver_s_gas_is_named() {
    let rows = rows_of(&std::fs::read_to_string("plans/tern-slack.toml").unwrap());
    let titles: Vec<&str> = rows
        .iter()
        .filter(|row| row.topic == "gas")
        .map(|row| row.title.as_str())
        .collect();
    let want = [
        "The gas of Tove: EAN32",
        "The gas of Idris: air",
        "The gas of Hanne: EAN32, air in the pony",
    ];
    assert_eq!(titles, want);
}

/// In the library, because a process a dive would take long.
#[test]
fn results_hold_over_many_days() {
    let (mut equations, mut tried) = (0, 0);
    for (depth, minutes) in [(12, 90), (18, 40), (24, 20), (30, 12), (36, 8)] {
        for (before, gas) in [("20 m", "air"), ("33 m", "EAN28"), ("45 m", "21/35")] {
            let plan = format!(
                "[profile]\ndepth = \"{depth} m\"\nbottom_time = \"{minutes} min\"\n\
                 staged = true\n[[before]]\ndepth = \"{before}\"\nbottom_time = \"19 min\"\n\
                 gas = \"{gas}\"\nsurface_interval = \"31 min\"\n"
            );
            let briefing = briefing_of(&plan);
            let topics = [Topic::Interval, Topic::Limit];
            let mut overs = Vec::new();
            for explanation in explain(&briefing, &topics, UnitSystem::Metric).unwrap() {
                for step in &explanation.steps {
                    let Step::Equation(line) = step else {
                        continue;
                    };
                    let (numbers, result) = (line.expression.numbers(), line.result.digits());
                    student_agrees(&numbers, result, line.unit).unwrap();
                    if explanation.topic == Topic::Interval && line.result.symbol() == Some("x") {
                        overs.push(line.result.printed() > 0.0);
                    }
                    equations += 1;
                }
            }
            let least = briefing.least_interval.unwrap();
            let shown = least.reach != IntervalReach::Minutes(0);
            let trials = least.trials.iter().filter(|_| shown);
            let want: Vec<bool> = trials.map(|trial| trial.barred_by.is_some()).collect();
            assert_eq!(overs, want, "{plan}");
            tried += usize::from(want.len() == 2);
        }
    }
    assert!(equations > 400 && tried >= 8, "{equations} {tried}");
}
