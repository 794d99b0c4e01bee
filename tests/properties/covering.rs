//! Real profiles as levels: nobody comes out fresher, whatever the profiles look like.

use hangbar::debrief::{CoverError, Covering, MOST_LEVELS, covering_levels};
use hangbar::dive::{Schedule, fly};
use hangbar::quantity::{Depth, RunTime};
use hangbar::rules::DiveRules;
use hangbar::site::Mix;
use hangbar::tissue::{Loading, Tissues};
use proptest::prelude::*;

use crate::again::Diver;
use crate::dives::{depth_m, fly_clean, levels, one_gas_mix, rules, stays};
use crate::{SAME_DEPTH_M, SAME_PRESSURE_BAR, WITHIN_BAR, config};

/// Minutes and metres from the splash to surfacing.
type Line = Vec<(f64, f64)>;

/// Time between two moments of a profile, and the depth at the second one.
fn leg() -> impl Strategy<Value = (f64, f64)> {
    prop_oneof![
        // A swim, a long one along the bottom, a dash, a jump that no time was written for.
        4 => (0.2..6.0, depth_m(45.0)),
        2 => (5.0..30.0, depth_m(30.0)),
        1 => (0.02..0.3, depth_m(45.0)),
        1 => (Just(0.0), depth_m(45.0)),
        // Shallow, and back at the surface for a word.
        2 => (1.0..40.0, 0.0..6.0),
        1 => (0.5..3.0, Just(0.0)),
    ]
}

fn profile() -> impl Strategy<Value = Line> {
    let wandering = prop::collection::vec(leg(), 1..10);
    let sawtooth = (2_usize..8, 10.0..35.0, 0.5..3.0)
        .prop_map(|(teeth, depth, half)| [(half, depth), (half, 3.0)].repeat(teeth));
    let fast = (20.0..45.0, 5.0..20.0)
        .prop_map(|(depth, stay)| vec![(0.3, depth), (stay, depth), (4.0, 5.0)]);
    let legs = prop_oneof![4 => wandering, 1 => sawtooth, 1 => fast];
    (0.0..5.0, legs, 0.1..3.0).prop_map(|(late, legs, last)| {
        let late = if late < 3.0 { 0.0 } else { late };
        let mut line = vec![(0.0, 0.0), (late, 0.0)];
        let mut at = late;
        for (minutes, depth) in legs {
            at += minutes;
            line.push((at, depth));
        }
        line.push((at + last, 0.0));
        line
    })
}

fn profiles() -> impl Strategy<Value = Vec<Line>> {
    prop::collection::vec(profile(), 1..=3)
}

fn nitrox() -> impl Strategy<Value = Mix> {
    prop_oneof![
        2 => Just(Mix::AIR),
        1 => Just(Mix::nitrox(32.0).unwrap()),
        1 => Just(Mix::nitrox(36.0).unwrap()),
    ]
}

fn trimix() -> impl Strategy<Value = Mix> {
    prop_oneof![
        Just(Mix::trimix(21.0, 35.0).unwrap()),
        Just(Mix::trimix(18.0, 45.0).unwrap()),
    ]
}

/// A team before the dive: so long at a depth on air before it, or clean.
fn start(rules: &DiveRules, (depth, minutes): (f64, f64)) -> Diver<'_> {
    let mut team = Diver::at_the_surface(rules);
    team.breathe(Mix::AIR, depth, depth, minutes);
    team
}

fn tissues(diver: &Diver<'_>) -> Tissues {
    let loading = |[n2_bar, he_bar]: [f64; 2]| Loading { n2_bar, he_bar };
    Tissues::from_loadings(diver.loadings.map(loading))
}

fn points(line: &Line) -> Vec<(RunTime, Depth)> {
    let point = |&(at, depth): &(f64, f64)| (RunTime::from_min(at), Depth::from_m(depth));
    line.iter().map(point).collect()
}

/// When somebody is back for good.
fn surfaced(line: &Line) -> f64 {
    let mut under = line
        .windows(2)
        .filter(|leg| leg[0].1 > 0.0 || leg[1].1 > 0.0);
    under.next_back().map_or(0.0, |leg| leg[1].0)
}

fn depth_of(schedule: &Schedule, at: f64) -> f64 {
    let at = RunTime::from_min(at);
    let under = schedule.segments.iter().find(|segment| segment.end >= at);
    under.map_or(0.0, |segment| segment.depth_at(at).as_m())
}

/// The flown dive is as deep as a profile at its moments and between them.
fn assert_deeper(covering: &Covering, line: &Line) -> Result<(), TestCaseError> {
    const PARTS: u32 = 20;
    let schedule = &covering.schedule;
    let down = schedule.arrivals[0].run_time.as_min();
    for leg in line.windows(2) {
        let ((from, above), (to, below)) = (leg[0], leg[1]);
        for part in 0..=PARTS {
            let share = f64::from(part) / f64::from(PARTS);
            let at = from + (to - from) * share;
            let real = above + (below - above) * share;
            let flown = depth_of(schedule, at);
            let rounding = 1e-6_f64.max(SAME_DEPTH_M);
            prop_assert!(
                at < down + 1e-9 || flown >= real - rounding,
                "{real} m at {at} min, flown {flown} m: {:?}",
                covering.levels
            );
        }
    }
    Ok(())
}

/// After the profile, and at the surface until a moment.
fn after_line<'a>(start: &Diver<'a>, line: &Line, until: f64) -> Diver<'a> {
    let mut diver = start.clone();
    for leg in line.windows(2) {
        let ((from, above), (to, below)) = (leg[0], leg[1]);
        let in_the_air = above <= 0.0 && below <= 0.0;
        let gas = if in_the_air {
            Mix::AIR
        } else {
            diver.rules.bottom_gas
        };
        diver.breathe(gas, above, below, to - from);
    }
    let (last, _) = line[line.len() - 1];
    diver.breathe(Mix::AIR, 0.0, 0.0, until - last);
    diver
}

fn assert_covered(
    covering: &Covering,
    start: &Diver<'_>,
    lines: &[Line],
) -> Result<(), TestCaseError> {
    let schedule = &covering.schedule;
    prop_assert!((1..=MOST_LEVELS).contains(&covering.levels.len()));
    let rules = DiveRules {
        decompression: Vec::new(),
        ..start.rules.clone()
    };
    let again = fly(&rules, &tissues(start), &covering.levels).unwrap();
    prop_assert_eq!(&again, schedule);
    let mut flown = start.clone();
    schedule
        .segments
        .iter()
        .for_each(|segment| flown.fly(segment));
    let back = schedule.run_time().as_min();
    let mut excess = f64::INFINITY;
    let nitrogen = (start.ambient(0.0) - 0.0627) * 0.79 + 1e-8;
    for later in [0.0, 60.0] {
        for line in lines {
            assert_deeper(covering, line)?;
            let really = surfaced(line);
            prop_assert!(back >= really - 1e-9, "back at {back}, {really} really");
            let both = lines
                .iter()
                .map(|line| line[line.len() - 1].0)
                .fold(back, f64::max);
            let mut told = flown.clone();
            told.breathe(Mix::AIR, 0.0, 0.0, both + later - back);
            let real = after_line(start, line, both + later);
            let mut most = f64::NEG_INFINITY;
            for (index, (told, real)) in told.loadings.iter().zip(&real.loadings).enumerate() {
                for ((told, real), balance) in told.iter().zip(real).zip([nitrogen, 0.0]) {
                    let lacking = if *real > balance {
                        0.0
                    } else {
                        covering.under_balance_bar
                    };
                    let allowed = lacking + WITHIN_BAR + SAME_PRESSURE_BAR;
                    prop_assert!(
                        told >= &(real - allowed),
                        "{index} after {later}: {told} < {real}, {lacking} may be lacking"
                    );
                }
                most = most.max(told[0] + told[1] - real[0] - real[1]);
            }
            if later <= 0.0 {
                excess = excess.min(most);
            }
        }
    }
    // Over all profiles it is no more than over any one of them.
    prop_assert!(covering.excess_bar <= excess + SAME_PRESSURE_BAR);
    Ok(())
}

proptest! {
    #![proptest_config(config(64))]

    #[test]
    fn levels_of_random_profiles_leave_nobody_fresher(
        (rules, lines, before) in (rules(nitrox()), profiles(), (0.0..20.0, prop_oneof![Just(0.0), 5.0..60.0])),
    ) {
        let start = start(&rules, before);
        let lines_given: Vec<_> = lines.iter().map(points).collect();
        match covering_levels(&rules, &tissues(&start), &lines_given) {
            Ok(covering) => {
                assert_covered(&covering, &start, &lines)?;
                let is_air = rules.bottom_gas == Mix::AIR;
                prop_assert!(!is_air || covering.under_balance_bar <= 0.0);
            }
            Err(CoverError::Schedule(_)) => return Err(TestCaseError::reject("cannot be scheduled")),
            Err(error) => return Err(TestCaseError::fail(error.to_string())),
        }
    }

    #[test]
    fn a_dive_with_helium_by_the_plans_stops_is_told_with_both_gases_or_not_at_all(
        (rules, stays) in (rules(trimix()), stays(60.0, 25.0)),
    ) {
        let rules = DiveRules { decompression: Vec::new(), ..rules };
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let start = start(&rules, (0.0, 0.0));
        let ends = dive.segments.iter().map(|segment| (segment.end.as_min(), segment.to.as_m()));
        let line: Line = std::iter::once((0.0, 0.0)).chain(ends).collect();
        match covering_levels(&rules, &tissues(&start), &[points(&line)]) {
            Ok(covering) => assert_covered(&covering, &start, &[line])?,
            // Shallow levels wash nitrogen out, and longer stops more of it: then there are none.
            Err(CoverError::Fresher { short_bar, .. }) => prop_assert!(short_bar >= 0.0),
            Err(CoverError::Schedule(_) | CoverError::TooLong) => return Err(TestCaseError::reject("cannot be scheduled")),
            Err(error) => return Err(TestCaseError::fail(error.to_string())),
        }
    }

    #[test]
    fn any_gas_and_any_figures_end_in_levels_or_a_refusal(
        (rules, lines, odd) in (rules(one_gas_mix()), profiles(), 0_usize..40),
        figure in prop_oneof![
            Just(f64::NAN), Just(f64::INFINITY), Just(-1.0), Just(1e9), Just(250.0), Just(0.0)
        ],
    ) {
        let start = start(&rules, (0.0, 0.0));
        let mut given: Vec<_> = lines.iter().map(points).collect();
        let first = &mut given[0];
        let place = odd / 2 % first.len();
        if odd % 2 == 0 {
            first[place].1 = Depth::from_m(figure);
        } else {
            first[place].0 = RunTime::from_min(figure);
        }
        if let Ok(covering) = covering_levels(&rules, &tissues(&start), &given) {
            let lines: Vec<Line> = given
                .iter()
                .map(|line| line.iter().map(|(at, depth)| (at.as_min(), depth.as_m())).collect())
                .collect();
            assert_covered(&covering, &start, &lines)?;
        }
    }
}
