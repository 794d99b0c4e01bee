//! The JSON of a briefing.

use approx::assert_relative_eq;
use hangbar::{briefing, plan_file};
use serde_json::Value;

use crate::document::{Briefing, Kind, Level, PonyVerdict};
use crate::plans::{BRIG, GOOD_FILES, LAGOON, REEF, THIRSTY, edited};
use crate::run::{brief, json_briefing, parsed};

#[test]
fn the_json_of_a_briefing_has_every_field_and_no_other() {
    for (name, plan, _) in GOOD_FILES {
        let document = json_briefing(plan, &[]);
        assert_eq!(document.schema, "hangbar/briefing/1", "{name}");
        assert_eq!(document.tissues.len(), 16, "{name}");
        assert!((1..=16).contains(&document.surfacing.compartment), "{name}");
        assert!(
            document.findings.is_sorted_by_key(|finding| finding.level),
            "{name}"
        );
        let segments = &document.segments;
        assert_eq!(segments[0].kind, Kind::Descent, "{name}");
        assert_relative_eq!(segments[0].start_min, 0.0);
        assert_relative_eq!(segments.last().unwrap().end_min, document.run_time_min);
        assert_relative_eq!(segments.last().unwrap().to_m, 0.0);
        for pair in segments.windows(2) {
            assert_relative_eq!(pair[0].end_min, pair[1].start_min);
            assert_relative_eq!(pair[0].to_m, pair[1].from_m);
        }
    }
}

#[test]
fn null_stands_where_the_contract_allows_it_and_a_number_elsewhere() {
    let (reef, brig, thirsty) = (
        json_briefing(REEF, &[]),
        json_briefing(BRIG, &[]),
        json_briefing(THIRSTY, &[]),
    );
    assert_eq!(json_briefing(LAGOON, &[]).no_stop_limit_min, None);
    assert!(reef.no_stop_limit_min.unwrap() > 30.0);
    assert_eq!((reef.staged, reef.anchor_m), (false, None));
    assert!(brig.staged && brig.anchor_m.unwrap() > 0.0);
    assert!(reef.divers.iter().all(|diver| diver.end_bar.is_some()));
    assert_eq!(thirsty.divers[0].end_bar, None);
    assert!(reef.divers[0].pony.is_some() && reef.divers[1].pony.is_none());
    assert_eq!(
        thirsty.divers[0].pony.as_ref().unwrap().verdict,
        PonyVerdict::Short
    );
    assert_relative_eq!(thirsty.divers[0].turn_min.unwrap(), 0.0);
    // Turned at nothing but the reserve, a short dive never gets there.
    let short = edited(REEF, "\"30 min\"", "\"5 min\"");
    assert_eq!(json_briefing(&short, &[]).divers[0].turn_min, None);
    let of_team = |document: &Briefing| document.findings.iter().any(|one| one.diver.is_none());
    let of_diver = |document: &Briefing, name: &str| {
        document
            .findings
            .iter()
            .any(|one| one.diver.as_deref() == Some(name))
    };
    assert!(of_team(&brig) && of_diver(&brig, "Orsolya") && of_diver(&thirsty, "Benedikta"));
}

#[test]
fn a_no_go_finding_and_exit_status_1_go_together() {
    for (name, plan, code) in GOOD_FILES {
        let document = json_briefing(plan, &[]);
        let no_go = document
            .findings
            .iter()
            .any(|finding| finding.level == Level::NoGo);
        assert_eq!(no_go, *code == 1, "{name}");
    }
}

#[test]
fn the_figures_of_the_json_are_the_library_s_unrounded() {
    for (_, plan, _) in GOOD_FILES {
        let document = json_briefing(plan, &[]);
        let briefing = briefing::brief(plan_file::read(plan).unwrap()).unwrap();
        assert_relative_eq!(document.run_time_min, briefing.schedule.run_time().as_min());
        assert_relative_eq!(document.oxygen.cns_pct, briefing.oxygen.cns_pct);
        assert_relative_eq!(document.oxygen.otu, briefing.oxygen.otu);
        assert_relative_eq!(
            document.surfacing.gradient_pct,
            briefing.schedule.surfacing.fraction * 100.0
        );
        for (tissue, loading) in document
            .tissues
            .iter()
            .zip(briefing.schedule.tissues.loadings())
        {
            assert_relative_eq!(tissue.n2_bar, loading.n2_bar);
            assert_relative_eq!(tissue.he_bar, loading.he_bar);
        }
        assert_eq!(document.divers.len(), briefing.divers.len());
        let budgets = briefing.divers.iter().zip(&briefing.limits);
        for (diver, (budget, limits)) in document.divers.iter().zip(budgets) {
            assert_eq!(diver.name, budget.name);
            assert_relative_eq!(diver.start_l, budget.start.as_l());
            assert_relative_eq!(diver.planned_use_l, budget.planned_use.as_l());
            assert_relative_eq!(diver.reserve_l, budget.reserve.as_l());
            assert_relative_eq!(diver.minimum_gas_bar, budget.minimum_gas.as_bar());
            assert_relative_eq!(diver.turn_bar, budget.turn.as_bar());
            assert_eq!(diver.gas_limit_min, limits.gas_limit.minutes);
        }
    }
}

#[test]
fn every_number_of_the_json_is_finite_and_no_key_is_in_another_case() {
    fn walk(value: &Value, path: &str) {
        match value {
            Value::Number(number) => assert!(number.as_f64().unwrap().is_finite(), "{path}"),
            Value::Array(items) => items.iter().for_each(|item| walk(item, path)),
            Value::Object(fields) => {
                for (key, field) in fields {
                    let snake = key
                        .chars()
                        .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
                    assert!(snake, "{path}.{key}");
                    walk(field, &format!("{path}.{key}"));
                }
            }
            Value::Null | Value::Bool(_) | Value::String(_) => {}
        }
    }
    for (name, plan, _) in GOOD_FILES {
        let value: Value = parsed(&brief(plan, &["--format", "json"]).stdout);
        walk(&value, name);
    }
}
