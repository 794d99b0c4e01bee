//! How long not to fly: the search by minutes beside the closed form, and what more does to it.

use hangbar::plan::{FlightTime, TimeOfDay};
use hangbar::quantity::{Altitude, Pressure, Time};
use hangbar::rules::DiveRules;
use hangbar::site::{Mix, standard_atmosphere};
use hangbar::surface::{LONGEST_WAIT_MIN, ModelWait, WaitReach, model_wait};
use hangbar::tissue::Tissues;
use proptest::prelude::*;

use crate::dives::{any_mix, fly_clean, levels, one_gas_mix, rules, stays};
use crate::{WITHIN_BAR, config};

/// A closed form and a search may part where the time is a whole minute but for so much of one.
const WHOLE_MIN: f64 = 1e-6;
/// A limit that surface air itself comes so near to: the closed form then loses all its digits.
const ASYMPTOTE_BAR: f64 = 1e-6;

fn cabin() -> impl Strategy<Value = Pressure> {
    let height = prop_oneof![
        3 => Just(2438.0),
        1 => Just(0.0),
        1 => Just(4500.0),
        3 => 0.0..4500.0,
    ];
    height.prop_map(|metres| standard_atmosphere(Altitude::from_m(metres)))
}

/// On air at the surface of the site.
fn rested(rules: &DiveRules, tissues: &Tissues, minutes: f64) -> Tissues {
    let surface = rules.environment.surface();
    let time = Time::from_min(minutes);
    tissues.after(&rules.compartments, Mix::AIR, surface, surface, time)
}

fn is_within(rules: &DiveRules, tissues: &Tissues, cabin: Pressure, minutes: u32) -> bool {
    let tissues = rested(rules, tissues, f64::from(minutes));
    tissues.are_within(&rules.compartments, cabin, rules.factors.high())
}

/// More than any wait where there is none.
fn minutes(wait: ModelWait) -> u32 {
    wait.minutes().unwrap_or(LONGEST_WAIT_MIN + 1)
}

/// `t = T/ln 2 · ln((p − p_in)/(L − p_in))`, the longest of the sixteen: 0 where none is over its
/// limit, infinite where one never comes within. `None` where one is under what surface air tends
/// to (it takes up), or its limit is next to that.
fn closed_form(rules: &DiveRules, tissues: &Tissues, cabin: Pressure) -> Option<f64> {
    const WATER_VAPOUR_BAR: f64 = 0.0627;
    let inspired = (rules.environment.surface().as_bar() - WATER_VAPOUR_BAR) * 0.79;
    let (cabin, high) = (cabin.as_bar(), rules.factors.high());
    let rows = tissues
        .loadings()
        .into_iter()
        .zip(rules.compartments.compartments());
    rows.map(|(held, compartment)| {
        let gas = &compartment.nitrogen;
        let m_value = gas.a_bar + cabin / gas.b;
        let room = cabin + high * (m_value - cabin) + WITHIN_BAR - inspired;
        let over = held.n2_bar - inspired;
        if over < 0.0 || room.abs() < ASYMPTOTE_BAR {
            None
        } else if over <= room {
            Some(0.0)
        } else if room < 0.0 {
            Some(f64::INFINITY)
        } else {
            let half_time = gas.half_time.as_min();
            Some(half_time / std::f64::consts::LN_2 * (over / room).ln())
        }
    })
    .try_fold(0.0, |longest: f64, time| Some(longest.max(time?)))
}

proptest! {
    #![proptest_config(config(192))]

    #[test]
    fn with_nitrogen_alone_the_wait_is_the_minute_after_the_closed_form(
        (rules, stays, cabin) in (rules(one_gas_mix()), stays(60.0, 90.0), cabin()),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let Some(time) = closed_form(&rules, &dive.tissues, cabin) else {
            return Err(TestCaseError::reject("a compartment takes up, or never gets there"));
        };
        let got = f64::from(minutes(model_wait(&rules, &dive.tissues, cabin)));
        let bound = f64::from(LONGEST_WAIT_MIN + 1);
        let least = (time - WHOLE_MIN).ceil().clamp(0.0, bound);
        let most = (time + WHOLE_MIN).ceil().clamp(0.0, bound);
        prop_assert!((least..=most).contains(&got), "got {got}, closed form {time}");
    }

    #[test]
    fn from_the_wait_on_it_is_within_and_a_minute_before_it_is_not(
        (rules, stays, cabin) in (rules(any_mix()), stays(60.0, 90.0), cabin()),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let within = |minute| is_within(&rules, &dive.tissues, cabin, minute);
        let wait = model_wait(&rules, &dive.tissues, cabin);
        let decided_at = match wait.reach {
            WaitReach::NotWithinBound => {
                prop_assert!(!within(LONGEST_WAIT_MIN));
                LONGEST_WAIT_MIN
            }
            WaitReach::Minutes(wait) => {
                prop_assert!(wait == 0 || !within(wait - 1));
                let later = (wait..=LONGEST_WAIT_MIN).step_by(97).chain([LONGEST_WAIT_MIN]);
                for minute in later {
                    prop_assert!(within(minute), "wait {wait}, not within at {minute}");
                }
                wait.saturating_sub(1)
            }
        };
        // The compartment that decides is the one that is furthest over then, if one is over.
        let tissues = rested(&rules, &dive.tissues, f64::from(decided_at));
        let worst = tissues.worst_excess(&rules.compartments, cabin, rules.factors.high());
        prop_assert!(worst.is_none_or(|worst| worst.index == wait.compartment));
        prop_assert_eq!(worst.is_some(), wait.minutes() != Some(0));
    }

    #[test]
    fn a_higher_cabin_never_asks_for_less(
        (rules, stays, low, higher) in
            (rules(any_mix()), stays(60.0, 90.0), 0.0..4500.0, 0.0..4500.0),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let wait = |metres: f64| {
            let cabin = standard_atmosphere(Altitude::from_m(metres));
            minutes(model_wait(&rules, &dive.tissues, cabin))
        };
        let (low, high) = (f64::min(low, higher), f64::max(low, higher));
        prop_assert!(wait(low) <= wait(high), "{low} m: {}, {high} m: {}", wait(low), wait(high));
    }

    #[test]
    fn minutes_waited_are_minutes_less_to_wait(
        (rules, stays, cabin, waited) in
            (rules(one_gas_mix()), stays(60.0, 90.0), cabin(), 0_u32..600),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let first = model_wait(&rules, &dive.tissues, cabin);
        let later = rested(&rules, &dive.tissues, f64::from(waited));
        let later = model_wait(&rules, &later, cabin);
        if let Some(wait) = first.minutes() {
            // Two ways to the same minute may part by rounding, at a limit just reached.
            let want = wait.saturating_sub(waited);
            prop_assert!(minutes(later).abs_diff(want) <= 1, "{first:?}, then {later:?}");
        }
    }

    #[test]
    fn the_most_of_two_divers_waits_no_less_than_either(
        (rules, one, other, cabin) in
            (rules(any_mix()), stays(60.0, 90.0), stays(60.0, 90.0), cabin()),
    ) {
        let dives = [one, other].map(|stays| fly_clean(&rules, &levels(&rules, &stays)));
        let [Ok(one), Ok(other)] = dives else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let wait = |tissues: &Tissues| minutes(model_wait(&rules, tissues, cabin));
        let team = wait(&one.tissues.most(&other.tissues));
        let longest = wait(&one.tissues).max(wait(&other.tissues));
        prop_assert!(team >= longest, "{team} < {longest}");
    }

    #[test]
    fn a_flight_without_a_day_leaves_within_a_day_of_surfacing(
        (splash, flight, surfaced) in (0_u16..1440, 0_u16..1440, 0_u32..10_000),
    ) {
        let at = |minute: u16| TimeOfDay::new(minute / 60, minute % 60).unwrap();
        let leaves: FlightTime = at(flight).to_string().parse().unwrap();
        let leaves = leaves.after(at(splash), surfaced);
        let wait = leaves.minutes_since(at(splash).day_time_after(surfaced));
        prop_assert!((0..1440).contains(&wait), "{leaves}: {wait} min");
        prop_assert_eq!(leaves.time, at(flight));
    }
}
