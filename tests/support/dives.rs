//! Waters, gases and dives as the tests of figures set them up.

#![allow(
    dead_code,
    reason = "each program of tests has its own choice of these"
)]

use hangbar::dive::no_stop_limit;
use hangbar::dive::{Schedule, Segment, SegmentKind, fly};
use hangbar::oxygen::OxygenExposure;
use hangbar::quantity::{
    ATM_BAR, Depth, FOOT_M, GRAVITY_M_S2, Pressure, RunTime, Speed, Temperature, Time,
};
use hangbar::rules::AscentRules;
use hangbar::rules::{DiveRules, Level};
use hangbar::site::Mix;
use hangbar::site::{Environment, Water};
use hangbar::site::{GasConditions, GasLaw};
use hangbar::tissue::{GradientFactors, Tissues};

/// One atmosphere at the surface and so many feet of water to another, as the manuals count.
pub(crate) fn feet_an_atmosphere(feet: f64) -> Environment {
    const PA_PER_BAR: f64 = 1e5;
    let kg_per_m3 = ATM_BAR * PA_PER_BAR / (GRAVITY_M_S2 * feet * FOOT_M);
    Environment::new(Pressure::from_atm(1.0), Water::Density { kg_per_m3 })
}

/// 1 bar at the surface and 10 m of water to another, as metric textbooks count.
pub(crate) fn ten_metres_a_bar() -> Environment {
    Environment::new(Pressure::from_bar(1.0), Water::En13319)
}

pub(crate) fn segment(
    kind: SegmentKind,
    from: Depth,
    to: Depth,
    minutes: f64,
    gas: Mix,
) -> Segment {
    Segment {
        kind,
        from,
        to,
        start: RunTime::SPLASH,
        end: RunTime::from_min(minutes),
        gas,
    }
}

pub(crate) fn conditions(law: GasLaw, celsius: f64) -> GasConditions {
    GasConditions {
        law,
        temperature: Temperature::from_celsius(celsius),
        surface: Pressure::from_atm(1.0),
    }
}

pub(crate) fn square(depth: Depth, minutes: f64) -> [Level; 1] {
    [Level {
        depth,
        time: Time::from_min(minutes),
    }]
}

pub(crate) fn fly_clean(rules: &DiveRules, levels: &[Level]) -> Schedule {
    let clean = Tissues::clean(rules.environment.surface());
    fly(rules, &clean, levels).expect("a dive that can be scheduled")
}

/// Time at stops of the way up, whatever they are for.
pub(crate) fn stop_minutes(schedule: &Schedule) -> f64 {
    let stops = schedule.way_up.iter();
    let stops = stops.filter(|segment| segment.kind != SegmentKind::Ascent);
    stops.map(|stop| stop.time().as_min()).sum()
}

/// The no-stop limit from clean tissues: minutes, or none.
pub(crate) fn limit_min(rules: &DiveRules, depth: Depth) -> Option<f64> {
    let clean = Tissues::clean(rules.environment.surface());
    let limit = no_stop_limit(rules, &clean, depth).expect("a depth that may be dived to");
    limit.time().map(|time| time.as_min())
}

/// A descent of 60 ft/min, stops every 10 ft, no safety stop.
pub(crate) fn imperial(low_pct: f64, high_pct: f64) -> DiveRules {
    DiveRules {
        factors: GradientFactors::from_pct(low_pct, high_pct).unwrap(),
        descent_rate: Speed::from_ft_min(60.0),
        ascent: AscentRules {
            safety_stop: None,
            ..AscentRules::imperial()
        },
        ..DiveRules::default()
    }
}

/// Doses of a ramp between two oxygen pressures in atm, breathing EAN50.
pub(crate) fn doses(from_atm: f64, to_atm: f64, minutes: f64) -> OxygenExposure {
    let water = Environment::default();
    let gas = Mix::nitrox(50.0).unwrap();
    let depth = |po2_atm| water.depth_at(Pressure::from_atm(po2_atm / 0.5));
    let ramp = segment(
        SegmentKind::Descent,
        depth(from_atm),
        depth(to_atm),
        minutes,
        gas,
    );
    OxygenExposure::of(&water, &[ramp])
}
