//! A day of several plans: the same as one plan that tells the others, in whatever order they are
//! named, and never less than each dive alone.

use hangbar::briefing::Briefing;
use hangbar::day::{Day, DayDive, DayError, DayPlan, OrderedBy, plan_day};
use hangbar::oxygen::OxygenExposure;
use hangbar::quantity::Time;
use hangbar::rules::Start;
use proptest::prelude::*;

use crate::dives::{any_mix, stays};
use crate::plans::{LEAST_LEVEL_MIN, Spec, briefed, read, spec};
use crate::spelling::Spelling;
use crate::{SAME_DEPTH_M, SAME_PRESSURE_BAR, SAME_TIME_MIN, config};

/// Two ways to the same dose, per cent or OTU.
const SAME_DOSE: f64 = 1e-9;
/// A splash for every dive, further apart than the longest way up of most.
const SPLASHES: [&str; 3] = ["00:05", "08:00", "16:30"];

/// A plan and the dives that are made before it on the same rules, bottom gas alone.
fn same_site() -> impl Strategy<Value = (Spec, Vec<(f64, f64)>)> {
    (spec(any_mix()), stays(40.0, 40.0)).prop_map(|(mut plan, before)| {
        plan.decompression = Vec::new();
        (plan, before)
    })
}

/// Time at the surface: none, a little, hours, a night.
fn interval() -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 4 => 0.0..300.0, 1 => Just(90.0), 1 => 300.0..1500.0]
}

fn named(file: &str, text: &str) -> Result<DayPlan, TestCaseError> {
    let (file, plan) = (file.to_owned(), read(text)?);
    Ok(DayPlan { file, plan })
}

/// The day, or the case thrown away where a dive cannot be scheduled or begins before the one
/// before it is up.
fn planned(plans: Vec<DayPlan>, intervals: &[f64]) -> Result<Day, TestCaseError> {
    let intervals: Vec<Time> = intervals.iter().copied().map(Time::from_min).collect();
    plan_day(plans, &intervals, None).map_err(|error| match error {
        DayError::Dive { .. } | DayError::Overlap { .. } => {
            TestCaseError::reject(error.to_string())
        }
        error => TestCaseError::fail(error.to_string()),
    })
}

/// The stays of another dive at the place and by the rules of a plan.
fn elsewhere(plan: &Spec, stays: &[(f64, f64)]) -> Spec {
    let mut other = plan.clone();
    other.stays = stays.to_vec();
    for member in &mut other.team {
        member.limit_deeper_m = None;
    }
    other
}

/// `[[before]]` of a dive of everybody.
fn told(plan: &Spec, stays: &[(f64, f64)], interval: f64) -> String {
    let mut from = 0.0;
    let mut levels = Vec::new();
    for (depth, stay) in stays {
        let rate = if *depth < from {
            plan.ascent_m_min()
        } else {
            plan.descent_m_min()
        };
        let time = ((depth - from).abs() / rate + stay).max(LEAST_LEVEL_MIN);
        levels.push(format!(
            "{{ depth = \"{depth} m\", time = \"{time} min\" }}"
        ));
        from = *depth;
    }
    format!(
        "[[before]]\nlevel = [{}]\nsurface_interval = \"{interval} min\"\n",
        levels.join(", ")
    )
}

fn same_start(one: &Start, other: &Start) -> Result<(), TestCaseError> {
    let pairs = one
        .tissues
        .loadings()
        .into_iter()
        .zip(other.tissues.loadings());
    for (one, other) in pairs {
        prop_assert!((one.n2_bar - other.n2_bar).abs() <= SAME_PRESSURE_BAR);
        prop_assert!((one.he_bar - other.he_bar).abs() <= SAME_PRESSURE_BAR);
    }
    prop_assert!((one.cns_pct - other.cns_pct).abs() <= SAME_DOSE);
    prop_assert!((one.otu - other.otu).abs() <= SAME_DOSE);
    Ok(())
}

fn same_segments(one: &Briefing, other: &Briefing) -> Result<(), TestCaseError> {
    let (one, other) = (&one.schedule.segments, &other.schedule.segments);
    prop_assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(other) {
        prop_assert_eq!(one.kind, other.kind);
        prop_assert_eq!(one.gas, other.gas);
        for (one, other) in [(one.from, other.from), (one.to, other.to)] {
            prop_assert!((one.as_m() - other.as_m()).abs() <= SAME_DEPTH_M);
        }
        for (one, other) in [(one.start, other.start), (one.end, other.end)] {
            prop_assert!((one.as_min() - other.as_min()).abs() <= SAME_TIME_MIN);
        }
    }
    Ok(())
}

/// Limits of the team and of each diver, and what is said of the dive.
fn same_words(one: &Briefing, other: &Briefing) -> Result<(), TestCaseError> {
    let minutes = |limit: &hangbar::dive::NoStopLimit| limit.time().map(Time::as_min);
    let limits = |briefing: &Briefing| {
        let own = briefing.own.iter().map(|own| minutes(&own.limit));
        std::iter::once(minutes(&briefing.no_stop_limit))
            .chain(own)
            .collect::<Vec<_>>()
    };
    let (one_limits, other_limits) = (limits(one), limits(other));
    prop_assert_eq!(one_limits.len(), other_limits.len());
    for (one, other) in one_limits.iter().zip(&other_limits) {
        prop_assert_eq!(one.is_some(), other.is_some());
        let apart = one.unwrap_or(0.0) - other.unwrap_or(0.0);
        prop_assert!(apart.abs() <= 1e-6, "{one:?}, {other:?}");
    }
    let codes = |briefing: &Briefing| -> Vec<&'static str> {
        let codes = briefing.findings.iter().map(|one| one.code());
        // Of a dive of the day its own briefing finds what is odd about its gas.
        codes
            .filter(|code| !code.starts_with("earlier-gas"))
            .collect()
    };
    prop_assert_eq!(codes(one), codes(other));
    let least = |briefing: &Briefing| briefing.least_interval.as_ref().map(|least| least.reach);
    prop_assert_eq!(least(one), least(other));
    prop_assert_eq!(one.schedule.staged, other.schedule.staged);
    Ok(())
}

/// Each dive of the day on its own gas, from nothing.
fn dose(dive: &DayDive) -> OxygenExposure {
    let briefing = &dive.briefing;
    OxygenExposure::of(
        &briefing.plan.rules().environment,
        &briefing.schedule.segments,
    )
}

proptest! {
    #![proptest_config(config(48))]

    /// Two ways to the same second dive: the day of both plans, and its own plan with the first
    /// told in it.
    #[test]
    fn a_dive_of_a_day_is_the_dive_whose_plan_tells_the_one_before(
        ((plan, before), wait) in (same_site(), interval()),
    ) {
        let text = plan.text(Spelling::Metric);
        let first = elsewhere(&plan, &before).text(Spelling::Metric);
        let plans = vec![named("a.toml", &first)?, named("b.toml", &text)?];
        let day = planned(plans, &[wait])?;
        let alone = briefed(read(&(text + &told(&plan, &before, wait)))?)?;
        let of_the_day = &day.dives[1].briefing;
        let starts = |briefing: &Briefing| briefing.plan.history().starts.clone();
        let (here, there) = (starts(of_the_day), starts(&alone));
        prop_assert_eq!(here.len(), there.len());
        for (here, there) in here.iter().zip(&there) {
            same_start(here, there)?;
        }
        same_start(of_the_day.plan.start(), alone.plan.start())?;
        same_segments(of_the_day, &alone)?;
        for diver in 0..here.len() {
            same_start(&of_the_day.surfaced(diver), &alone.surfaced(diver))?;
        }
        let oxygen = |briefing: &Briefing| (briefing.oxygen.cns_pct, briefing.oxygen.otu);
        let ((cns, otu), (cns_alone, otu_alone)) = (oxygen(of_the_day), oxygen(&alone));
        prop_assert!((cns - cns_alone).abs() <= SAME_DOSE && (otu - otu_alone).abs() <= SAME_DOSE);
        same_words(of_the_day, &alone)?;
    }
}

proptest! {
    #![proptest_config(config(12))]

    /// Three plans with splashes in every order of arguments: the same day to the last bit.
    #[test]
    fn the_order_of_the_arguments_is_nothing_to_the_day(
        (plan, second, third) in (spec(any_mix()), stays(30.0, 30.0), stays(30.0, 30.0)),
    ) {
        let splash = |at: &str, plan: &Spec| {
            format!("splash = \"{at}\"\n{}", plan.text(Spelling::Metric))
        };
        let dives = [plan.clone(), elsewhere(&plan, &second), elsewhere(&plan, &third)];
        let mut plans = Vec::new();
        for ((dive, at), file) in dives.iter().zip(SPLASHES).zip(["c.toml", "a.toml", "b.toml"]) {
            plans.push(named(file, &splash(at, dive))?);
        }
        let day = planned(plans.clone(), &[])?;
        for order in [[0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]] {
            let shuffled = order.map(|index| plans[index].clone()).to_vec();
            let mut other = planned(shuffled, &[])?;
            prop_assert!(other.ordered_by == OrderedBy::SplashesNotNames, "{order:?}");
            other.ordered_by = day.ordered_by;
            prop_assert!(day == other, "{order:?}");
        }
        prop_assert!(day.dives.is_sorted_by_key(|dive| dive.starts.as_min()));
    }
}

proptest! {
    #![proptest_config(config(48))]

    /// Doses of a day are those of its dives: OTU add up, CNS fall at the surface alone and by half
    /// in ninety minutes.
    #[test]
    fn the_doses_of_a_day_are_those_of_its_dives(
        ((plan, before), wait) in (same_site(), interval()),
    ) {
        let first = elsewhere(&plan, &before).text(Spelling::Metric);
        let text = plan.text(Spelling::Metric);
        let plans = vec![named("a.toml", &first)?, named("b.toml", &text)?];
        let day = planned(plans, &[wait])?;
        let [first, second] = [0, 1].map(|dive| dose(&day.dives[dive]));
        let left = first.cns_pct * (-wait / 90.0).exp2();
        for person in &day.people {
            let (now, most) = (person.now, person.most_cns_pct);
            prop_assert!((now.otu - first.otu - second.otu).abs() <= SAME_DOSE);
            prop_assert!((now.cns_pct - left - second.cns_pct).abs() <= SAME_DOSE);
            prop_assert!((most - now.cns_pct.max(first.cns_pct)).abs() <= SAME_DOSE);
        }
    }

    /// Where neither has stops the second dive is as without the first, and everybody has at least
    /// its doses and its tissues.
    #[test]
    fn nobody_has_less_than_the_dive_alone_would_leave(
        ((plan, _), before, after, wait) in
            (same_site(), stays(14.0, 20.0), stays(14.0, 20.0), interval()),
    ) {
        let first = elsewhere(&plan, &before).text(Spelling::Metric);
        let text = elsewhere(&plan, &after).text(Spelling::Metric);
        let alone = briefed(read(&text)?)?;
        let plans = vec![named("a.toml", &first)?, named("b.toml", &text)?];
        let day = planned(plans, &[wait])?;
        prop_assume!(!day.dives[1].briefing.schedule.staged && !alone.schedule.staged);
        let alone = alone.surfaced(0);
        for person in &day.people {
            prop_assert!(person.now.cns_pct >= alone.cns_pct - SAME_DOSE);
            prop_assert!(person.most_cns_pct >= alone.cns_pct - SAME_DOSE);
            prop_assert!(person.now.otu >= alone.otu - SAME_DOSE);
        }
    }
}
