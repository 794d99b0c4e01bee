//! Recorded dives told as levels: nobody comes out fresher than from the own dive.

use hangbar::debrief::{Polyline, covering_levels};
use hangbar::quantity::{Depth, RunTime, Time};
use hangbar::rules::DiveRules;
use hangbar::site::Mix;
use hangbar::tissue::Tissues;
use proptest::prelude::*;

/// Two ways to the same pressure, bar.
const SAME: f64 = 2e-9;

/// A dive of some legs: minutes and the depth at their end, then up.
fn dives() -> impl Strategy<Value = Polyline> {
    let legs = prop::collection::vec((0.2..12.0_f64, 0.5..42.0_f64), 1..7);
    (legs, 1.0..25.0_f64, any::<bool>()).prop_map(|(legs, up, stops)| {
        let mut at = 0.0;
        let mut moments = vec![(RunTime::SPLASH, Depth::SURFACE)];
        for (minutes, metres) in legs {
            at += minutes;
            moments.push((RunTime::from_min(at), Depth::from_m(metres)));
        }
        if stops {
            at += up / 2.0;
            moments.push((RunTime::from_min(at), Depth::from_m(5.0)));
            at += 4.0;
            moments.push((RunTime::from_min(at), Depth::from_m(4.6)));
        }
        at += up / 2.0;
        moments.push((RunTime::from_min(at), Depth::SURFACE));
        moments
    })
}

/// The tissues of a dive, so long after the boat's clock began.
fn left(rules: &DiveRules, start: &Tissues, dive: &Polyline, until: RunTime) -> Tissues {
    let set = &rules.compartments;
    let ambient = |depth| rules.environment.ambient(depth);
    let mut tissues = *start;
    for pair in dive.windows(2) {
        let ((begin, from), (end, to)) = (pair[0], pair[1]);
        tissues = tissues.after(
            set,
            rules.bottom_gas,
            ambient(from),
            ambient(to),
            end - begin,
        );
    }
    let surface = rules.environment.surface();
    let rest = until - dive[dive.len() - 1].0;
    tissues.after(set, Mix::AIR, surface, surface, rest)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn nobody_comes_out_of_a_told_dive_fresher(
        profiles in prop::collection::vec(dives(), 1..4),
        gas in prop::sample::select(vec!["air", "EAN28", "EAN32", "EAN40", "21/35"]),
    ) {
        let mut rules = DiveRules::default();
        rules.bottom_gas = gas.parse().unwrap();
        let start = Tissues::clean(rules.environment.surface());
        let covering = match covering_levels(&rules, &start, &profiles) {
            Ok(covering) => covering,
            // At a shallow stop there is less nitrogen in it than in air at the surface.
            Err(_) if gas == "21/35" => return Ok(()),
            Err(error) => panic!("{error}"),
        };
        prop_assert!(covering.levels.len() <= 8, "{} levels", covering.levels.len());
        let ends = profiles.iter().map(|dive| dive[dive.len() - 1].0);
        let last = ends.fold(covering.schedule.run_time(), RunTime::max);
        for after in [0.0, 60.0, 600.0] {
            let until = last + Time::from_min(after);
            let surface = rules.environment.surface();
            let rest = until - covering.schedule.run_time();
            let told = covering.schedule.tissues.after(
                &rules.compartments, Mix::AIR, surface, surface, rest,
            );
            for dive in &profiles {
                let real = left(&rules, &start, dive, until);
                for (real, told) in real.loadings().iter().zip(told.loadings()) {
                    prop_assert!(told.n2_bar >= real.n2_bar - SAME, "{told:?} for {real:?}");
                    prop_assert!(told.he_bar >= real.he_bar - SAME, "{told:?} for {real:?}");
                }
            }
        }
    }
}
