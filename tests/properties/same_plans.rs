//! Two plans that say the same in other words have the same briefing.

use hangbar::briefing::Briefing;
use hangbar::quantity::{Depth, GaugePressure, RunTime, Speed, Time};
use hangbar::site::Mix;
use proptest::prelude::*;

use crate::config;
use crate::dives::{any_mix, one_gas_mix};
use crate::no_stop::margin_min;
use crate::plans::{Spec, briefed, read, spec};
use crate::spelling::Spelling;

/// Every number of a briefing under its name, in a fixed order; what is not a number becomes one.
fn figures(briefing: &Briefing) -> Vec<(String, f64)> {
    let mut all = Vec::new();
    let mut add = |name: String, value: f64| all.push((name, value));
    let some = |value: Option<f64>| value.unwrap_or(-1.0);
    let dive = &briefing.schedule;
    let current = briefing.plan.site().current;
    add("current".into(), some(current.map(Speed::as_m_min)));
    add(
        "no-stop limit".into(),
        some(briefing.no_stop_limit.time().map(Time::as_min)),
    );
    add("no-stop margin".into(), margin_min(briefing).min(1e9));
    add("staged".into(), f64::from(u8::from(dive.staged)));
    add("anchor".into(), some(dive.anchor().map(Depth::as_m)));
    for (index, segment) in dive.segments.iter().enumerate() {
        let name = |what: &str| format!("segment {index}, {what} ({:?})", segment.kind);
        add(name("from"), segment.from.as_m());
        add(name("to"), segment.to.as_m());
        add(name("start"), segment.start.as_min());
        add(name("end"), segment.end.as_min());
        add(name("oxygen"), segment.gas.oxygen());
    }
    for (index, loading) in dive.tissues.loadings().into_iter().enumerate() {
        add(format!("N2 of {index}"), loading.n2_bar);
        add(format!("He of {index}"), loading.he_bar);
    }
    add("surfacing gradient".into(), dive.surfacing.fraction);
    add("oxygen pressure".into(), briefing.oxygen.max_po2_bar);
    add("CNS".into(), briefing.oxygen.cns_pct);
    add("OTU".into(), briefing.oxygen.otu);
    for (budget, limits) in briefing.divers.iter().zip(&briefing.limits) {
        let name = |what: &str| format!("{}, {what}", budget.name);
        add(name("start"), budget.start.as_l());
        add(name("planned use"), budget.planned_use.as_l());
        add(name("end"), some(budget.end.map(GaugePressure::as_bar)));
        for (index, level) in budget.levels.iter().enumerate() {
            let level_name = |what: &str| name(&format!("level {index}, {what}"));
            add(
                level_name("left"),
                some(level.left.map(GaugePressure::as_bar)),
            );
            add(level_name("reserve"), level.reserve.as_l());
            add(level_name("minimum gas"), level.minimum_gas.as_bar());
            add(level_name("holds"), f64::from(u8::from(level.holds())));
        }
        add(name("reserve"), budget.reserve.as_l());
        add(name("minimum gas"), budget.minimum_gas.as_bar());
        add(name("turn"), budget.turn.as_bar());
        add(name("turn due"), some(budget.turn_due.map(RunTime::as_min)));
        add(name("gas limit"), f64::from(limits.gas_limit.minutes));
        if let Some(pony) = &budget.pony {
            add(name("pony need, ascent"), pony.need_ascent.as_l());
            add(name("pony need, full"), pony.need_full.as_l());
            add(name("pony have"), pony.have.as_l());
            add(
                name("pony covers until"),
                f64::from(limits.pony_covers_until.map_or(0, |limit| limit.minutes)),
            );
        }
        for stage in &budget.stages {
            add(name("stage need"), stage.need.as_l());
            add(name("stage have"), stage.have.as_l());
        }
    }
    all
}

fn codes(briefing: &Briefing) -> Vec<(&'static str, Option<&str>)> {
    let each = briefing.findings.iter();
    each.map(|finding| (finding.code(), finding.diver.as_deref()))
        .collect()
}

/// Both briefings say the same, number by number.
fn assert_same(one: &Briefing, other: &Briefing, tolerance: f64) -> Result<(), TestCaseError> {
    let (left, right) = (figures(one), figures(other));
    prop_assert_eq!(left.len(), right.len());
    for ((name, x), (other_name, y)) in left.iter().zip(&right) {
        prop_assert_eq!(name, other_name);
        let allowed = tolerance * (1.0 + x.abs());
        prop_assert!((x - y).abs() <= allowed, "{name}: {x} and {y}");
    }
    prop_assert_eq!(codes(one), codes(other));
    prop_assert_eq!(&one.late, &other.late);
    Ok(())
}

proptest! {
    #![proptest_config(config(64))]

    #[test]
    fn a_plan_in_feet_and_psi_is_the_same_plan_in_metres_and_bar(spec in spec(any_mix())) {
        /// A last bit of each conversion, carried through some hundred steps: of 1 + the figure.
        const CONVERTED: f64 = 1e-9;
        let metric = briefed(read(&spec.text(Spelling::Metric))?)?;
        let imperial = briefed(read(&spec.text(Spelling::Imperial))?)?;
        assert_same(&metric, &imperial, CONVERTED)?;
    }

    #[test]
    fn trimix_without_helium_is_nitrox(spec in spec(one_gas_mix())) {
        const THE_VERY_SAME: f64 = 0.0;
        let as_trimix = |gas: Mix| Mix::trimix(gas.oxygen() * 100.0, 0.0).unwrap();
        let trimix = Spec {
            bottom: as_trimix(spec.bottom),
            decompression: spec.decompression.iter().copied().map(as_trimix).collect(),
            ..spec.clone()
        };
        let as_nitrox = |gas: Mix| Mix::nitrox(gas.oxygen() * 100.0).unwrap();
        let nitrox = Spec {
            bottom: as_nitrox(spec.bottom),
            decompression: spec.decompression.iter().copied().map(as_nitrox).collect(),
            ..spec
        };
        prop_assert!(trimix.text(Spelling::Metric).contains("/0\""));
        prop_assert!(nitrox.text(Spelling::Metric).contains("\"EAN"));
        let trimix = briefed(read(&trimix.text(Spelling::Metric))?)?;
        let nitrox = briefed(read(&nitrox.text(Spelling::Metric))?)?;
        assert_same(&trimix, &nitrox, THE_VERY_SAME)?;
        prop_assert_eq!(&trimix.schedule, &nitrox.schedule);
        prop_assert_eq!(&trimix.divers, &nitrox.divers);
    }
}
