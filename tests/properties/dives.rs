//! Random rules and levels, and the dives flown by them.

use hangbar::dive::{Schedule, ScheduleError, fly};
use hangbar::quantity::{Depth, FOOT_M, Pressure, Speed, Time};
use hangbar::rules::{AscentRules, LastStop, SafetyStop};
use hangbar::rules::{DiveRules, Level};
use hangbar::site::Mix;
use hangbar::site::{Environment, Water};
use hangbar::tissue::{CompartmentSet, FirstCompartment, GradientFactors, Tissues};
use proptest::prelude::*;

pub(crate) const METRIC_LEVEL_M: f64 = 3.0;
pub(crate) const IMPERIAL_LEVEL_M: f64 = 10.0 * FOOT_M;

/// A depth in metres up to about `deepest`: on a stop level, a hair beside one, or anywhere.
pub(crate) fn depth_m(deepest: f64) -> impl Strategy<Value = f64> {
    const BESIDE_M: f64 = 1e-6;
    let level = prop_oneof![Just(METRIC_LEVEL_M), Just(IMPERIAL_LEVEL_M)];
    let on_level = (1_u32..=40, level)
        .prop_map(move |(number, spacing)| (f64::from(number) * spacing).min(deepest));
    prop_oneof![
        3 => on_level.clone(),
        1 => on_level.clone().prop_map(|depth| depth + BESIDE_M),
        1 => on_level.prop_map(|depth| depth - BESIDE_M),
        1 => prop_oneof![Just(0.3), Just(5.0), Just(15.0 * FOOT_M), Just(5.0 + BESIDE_M)],
        4 => 0.3..deepest,
    ]
}

/// Time at a depth after the travel: none, nearly none, whole minutes, anything.
pub(crate) fn at_depth_min(longest: f64) -> impl Strategy<Value = f64> {
    prop_oneof![
        1 => Just(0.0),
        1 => Just(1e-6),
        3 => (0.0..longest).prop_map(f64::round),
        5 => 0.0..longest,
    ]
}

pub(crate) fn one_gas_mix() -> impl Strategy<Value = Mix> {
    prop_oneof![
        3 => Just(Mix::AIR),
        1 => Just(Mix::nitrox(100.0).unwrap()),
        3 => (21_u32..=50).prop_map(|pct| Mix::nitrox(f64::from(pct)).unwrap()),
        1 => (5.0..=100.0).prop_map(|pct| Mix::nitrox(pct).unwrap()),
    ]
}

pub(crate) fn helium_mix() -> impl Strategy<Value = Mix> {
    prop_oneof![
        2 => Just(Mix::trimix(18.0, 45.0).unwrap()),
        1 => Just(Mix::trimix(21.0, 79.0).unwrap()),
        1 => Just(Mix::trimix(21.0, 1e-6).unwrap()),
        3 => (10_u32..=32, 1_u32..=68)
            .prop_map(|(o2, he)| Mix::trimix(f64::from(o2), f64::from(he)).unwrap()),
    ]
}

pub(crate) fn any_mix() -> impl Strategy<Value = Mix> {
    prop_oneof![2 => one_gas_mix(), 1 => helium_mix()]
}

/// Gases for the way up: none, one or two, richer than air.
pub(crate) fn decompression() -> impl Strategy<Value = Vec<Mix>> {
    let nitrox = |pct| Mix::nitrox(pct).unwrap();
    prop_oneof![
        3 => Just(Vec::new()),
        1 => Just(vec![nitrox(50.0)]),
        1 => Just(vec![nitrox(100.0)]),
        1 => Just(vec![nitrox(50.0), nitrox(100.0)]),
        1 => (32.0..99.0).prop_map(move |pct| vec![nitrox(pct)]),
    ]
}

pub(crate) fn factors() -> impl Strategy<Value = GradientFactors> {
    let pair = |(low, high)| GradientFactors::from_pct(low, high).unwrap();
    prop_oneof![
        2 => Just((40.0, 85.0)),
        1 => Just((100.0, 100.0)),
        1 => (20.0..=100.0).prop_map(|both| (both, both)),
        4 => (10.0..=100.0, 10.0..=100.0)
            .prop_map(|(x, y): (f64, f64)| (x.min(y), x.max(y).max(25.0))),
    ]
    .prop_map(pair)
}

pub(crate) fn environment() -> impl Strategy<Value = Environment> {
    let surface = prop_oneof![
        4 => Just(Pressure::from_atm(1.0)),
        1 => Just(Pressure::from_bar(0.577)),
        2 => (0.577..1.1).prop_map(Pressure::from_bar),
    ];
    let water = prop_oneof![
        4 => Just(Water::Sea),
        1 => Just(Water::Fresh),
        1 => Just(Water::En13319),
        1 => (950.0..1300.0).prop_map(|kg_per_m3| Water::Density { kg_per_m3 }),
    ];
    (surface, water).prop_map(|(surface, water)| Environment::new(surface, water))
}

pub(crate) fn ascent_rules() -> impl Strategy<Value = AscentRules> {
    let base = prop_oneof![Just(AscentRules::metric()), Just(AscentRules::imperial())];
    let rate = prop_oneof![4 => Just(None), 1 => (3.0..30.0).prop_map(Some)];
    let safety = prop_oneof![
        3 => Just(None),
        1 => Just(Some(None)),
        1 => (depth_m(20.0), 0.5..8.0).prop_map(|(depth, minutes)| {
            Some(Some(SafetyStop {
                depth: Depth::from_m(depth.clamp(1.0, 20.0)),
                time: Time::from_min(minutes),
            }))
        }),
    ];
    let switch = prop_oneof![3 => Just(1.0), 1 => Just(0.0), 1 => 0.0..4.0];
    (base, rate, any::<bool>(), safety, switch).prop_map(|(base, rate, two, safety, switch)| {
        AscentRules {
            rate: rate.map_or(base.rate, Speed::from_m_min),
            last_stop: if two {
                LastStop::TwoSpacings
            } else {
                LastStop::OneSpacing
            },
            safety_stop: safety.unwrap_or(base.safety_stop),
            switch_time: Time::from_min(switch),
            ..base
        }
    })
}

pub(crate) fn rules(bottom_gas: impl Strategy<Value = Mix>) -> impl Strategy<Value = DiveRules> {
    let first = prop_oneof![
        3 => Just(FirstCompartment::FiveMinutes),
        1 => Just(FirstCompartment::FourMinutes)
    ];
    let descent = prop_oneof![3 => Just(18.0), 1 => Just(60.0 * FOOT_M), 1 => 5.0..40.0];
    (
        environment(),
        factors(),
        ascent_rules(),
        bottom_gas,
        decompression(),
        first,
        descent,
    )
        .prop_map(
            |(environment, factors, ascent, bottom_gas, decompression, first, descent)| DiveRules {
                environment,
                compartments: CompartmentSet::zh_l16c(first),
                factors,
                descent_rate: Speed::from_m_min(descent),
                ascent,
                bottom_gas,
                decompression,
            },
        )
}

/// A dive of one to three levels, each with its depth and the time after the travel to it.
pub(crate) fn stays(deepest: f64, longest: f64) -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((depth_m(deepest), at_depth_min(longest)), 1..=3)
}

/// Levels of the stays, the travel to each added.
pub(crate) fn levels(rules: &DiveRules, stays: &[(f64, f64)]) -> Vec<Level> {
    let mut from = 0.0;
    let level = |&(depth, stay): &(f64, f64)| {
        let travel = travel_min(rules, from, depth);
        from = depth;
        Level {
            depth: Depth::from_m(depth),
            time: Time::from_min(travel + stay),
        }
    };
    stays.iter().map(level).collect()
}

pub(crate) fn travel_min(rules: &DiveRules, from_m: f64, to_m: f64) -> f64 {
    let rate = if to_m < from_m {
        rules.ascent.rate
    } else {
        rules.descent_rate
    };
    (to_m - from_m).abs() / rate.as_m_min()
}

pub(crate) fn fly_clean(rules: &DiveRules, levels: &[Level]) -> Result<Schedule, ScheduleError> {
    let clean = Tissues::clean(rules.environment.surface());
    fly(rules, &clean, levels)
}
