//! Ways down, along and up: what every schedule keeps to.

use hangbar::dive::SegmentKind;
use hangbar::quantity::Depth;
use proptest::prelude::*;

use crate::again::{Diver, factor_at, is_whole, levels_between, safety_level};
use crate::dives::{any_mix, fly_clean, levels, rules, stays};
use crate::{SAME_DEPTH_M, SAME_PRESSURE_BAR, SAME_TIME_MIN, WITHIN_BAR, config};

proptest! {
    #![proptest_config(config(128))]

    #[test]
    fn every_dive_flown_again_surfaces_within_the_high_factor(
        (rules, stays) in (rules(any_mix()), stays(75.0, 90.0)),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let mut diver = Diver::at_the_surface(&rules);
        for segment in &dive.segments {
            diver.fly(segment);
        }
        let over = diver.over(0.0, rules.factors.high());
        prop_assert!(over <= WITHIN_BAR + SAME_PRESSURE_BAR, "surfaces {over} bar over the limit");
        let tissues = dive.tissues.loadings().into_iter().zip(&diver.loadings).enumerate();
        for (index, (got, [n2, he])) in tissues {
            prop_assert!((got.n2_bar - n2).abs() <= SAME_PRESSURE_BAR, "N2 of {index}: {got:?}, {n2}");
            prop_assert!((got.he_bar - he).abs() <= SAME_PRESSURE_BAR, "He of {index}: {got:?}, {he}");
        }
        prop_assert!(dive.surfacing.fraction <= rules.factors.high() + SAME_PRESSURE_BAR);
    }

    #[test]
    fn segments_follow_each_other_at_the_planned_speeds(
        (rules, stays) in (rules(any_mix()), stays(75.0, 90.0)),
    ) {
        let levels = levels(&rules, &stays);
        let Ok(dive) = fly_clean(&rules, &levels) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let (mut depth, mut minute) = (0.0, 0.0);
        for segment in &dive.segments {
            let (from, to) = (segment.from.as_m(), segment.to.as_m());
            let (start, end) = (segment.start.as_min(), segment.end.as_min());
            prop_assert!((from - depth).abs() <= SAME_DEPTH_M, "{segment:?} begins off {depth} m");
            prop_assert!((start - minute).abs() <= SAME_TIME_MIN, "{segment:?} begins off {minute} min");
            prop_assert!(end > start, "{segment:?} lasts no time");
            let speed = (to - from) / (end - start);
            // A short ramp's speed is known as well as its ends are.
            let known = 1e-9 * (1.0 + speed.abs()) / (end - start).min(1.0);
            let want = match segment.kind {
                SegmentKind::Descent => rules.descent_rate.as_m_min(),
                SegmentKind::Ascent => -rules.ascent.rate.as_m_min(),
                _ => 0.0,
            };
            prop_assert!((speed - want).abs() <= known, "{segment:?} goes at {speed}, not {want} m/min");
            (depth, minute) = (to, end);
        }
        for pair in dive.segments.windows(2) {
            let both_rise = pair.iter().all(|segment| segment.kind == SegmentKind::Ascent);
            prop_assert!(!both_rise || pair[0].gas != pair[1].gas, "two ascents that are one: {pair:?}");
        }
        prop_assert!(depth.abs() <= SAME_DEPTH_M, "ends at {depth} m");
        prop_assert!((dive.run_time().as_min() - minute).abs() <= SAME_TIME_MIN);
        // The levels themselves: bottom time, and each is left when its time is over.
        let mut end = 0.0;
        for (level, left) in levels.iter().zip(&dive.level_ends) {
            end += level.time.as_min();
            prop_assert!((left.run_time.as_min() - end).abs() <= SAME_TIME_MIN);
            prop_assert!((left.depth.as_m() - level.depth.as_m()).abs() <= SAME_DEPTH_M);
        }
        prop_assert!((dive.bottom_time.as_min() - end).abs() <= SAME_TIME_MIN);
        prop_assert_eq!(dive.level_ends.len(), levels.len());
    }

    #[test]
    fn a_dive_is_staged_exactly_if_a_straight_ascent_passes_the_high_factor(
        (rules, stays) in (rules(any_mix()), stays(75.0, 60.0)),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let mut diver = Diver::at_the_surface(&rules);
        for segment in &dive.way_down {
            diver.fly(segment);
        }
        let bottom = dive.last_depth().as_m();
        let over = diver.over_after_rising(rules.bottom_gas, bottom, 0.0, rules.factors.high());
        prop_assume!((over - WITHIN_BAR).abs() > SAME_PRESSURE_BAR);
        prop_assert_eq!(dive.staged, over > WITHIN_BAR, "{} bar over", over);
    }
}

proptest! {
    #![proptest_config(config(128))]

    /// Whole minutes, no earlier than the tissues allow and no later; low factor down to the anchor.
    #[test]
    fn a_staged_ascent_holds_until_the_first_whole_minute_that_is_open(
        (rules, stays) in (rules(any_mix()), stays(75.0, 90.0)),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        prop_assume!(dive.staged);
        let anchor = dive.anchor().map(Depth::as_m);
        let factor = |depth| factor_at(rules.factors, anchor, depth);
        let mut diver = Diver::at_the_surface(&rules);
        for segment in &dive.way_down {
            diver.fly(segment);
        }
        let bottom = dive.last_depth().as_m();
        let safety = safety_level(&rules);
        let mut at_safety_level = 0.0;
        for segment in &dive.way_up {
            let (from, to) = (segment.from.as_m(), segment.to.as_m());
            let next = *levels_between(&rules, from, 0.0).first().unwrap();
            let on_safety_level = safety.is_some_and(|(level, _)| (level - from).abs() <= SAME_DEPTH_M)
                && from < bottom - SAME_DEPTH_M;
            match segment.kind {
                SegmentKind::Ascent => {
                    let mut risen = from;
                    for level in levels_between(&rules, from, to) {
                        // Above the anchor the factor rises; from the anchor up it is asked again.
                        let asked = if anchor.is_some_and(|anchor| risen <= anchor + SAME_DEPTH_M) {
                            factor(level)
                        } else {
                            rules.factors.low()
                        };
                        let minutes = (risen - level) / rules.ascent.rate.as_m_min();
                        diver.breathe(segment.gas, risen, level, minutes);
                        let over = diver.over(level, asked);
                        prop_assert!(
                            over <= WITHIN_BAR + SAME_PRESSURE_BAR,
                            "arrives at {level} m {over} bar over {asked}"
                        );
                        risen = level;
                    }
                }
                SegmentKind::Stop | SegmentKind::SafetyStop => {
                    let (start, end) = (segment.start.as_min(), segment.end.as_min());
                    prop_assert!(is_whole(end), "{segment:?} ends within a minute");
                    let barred = |diver: &Diver| {
                        diver.over_after_rising(segment.gas, from, next, factor(next)) > WITHIN_BAR - SAME_PRESSURE_BAR
                    };
                    let is_anchor = anchor.is_some_and(|anchor| (anchor - from).abs() <= SAME_DEPTH_M);
                    if segment.kind == SegmentKind::Stop && !is_anchor {
                        prop_assert!(barred(&diver), "{segment:?} is open on arrival");
                    }
                    // The anchor is where the low factor bars, and always a stop.
                    if is_anchor && segment.kind == SegmentKind::Stop {
                        let low = rules.factors.low();
                        let over = diver.over_after_rising(segment.gas, from, next, low);
                        prop_assert!(over > WITHIN_BAR - SAME_PRESSURE_BAR, "{segment:?} is no anchor");
                    }
                    if end - 1.0 > start + SAME_TIME_MIN && !on_safety_level {
                        let mut earlier = diver.clone();
                        earlier.breathe(segment.gas, from, from, end - 1.0 - start);
                        prop_assert!(barred(&earlier), "{segment:?} was open a minute before");
                    }
                    diver.fly(segment);
                }
                SegmentKind::Switch => {
                    let po2 = diver.ambient(from) * segment.gas.oxygen();
                    prop_assert!(po2 <= 1.63 + SAME_PRESSURE_BAR, "{segment:?} at {po2} bar");
                    diver.fly(segment);
                }
                kind => prop_assert!(false, "{kind:?} on the way up"),
            }
            if segment.kind != SegmentKind::Ascent && on_safety_level {
                at_safety_level += segment.time().as_min();
            }
        }
        let stops_at = |depth: f64| {
            dive.way_up.iter().any(|segment| {
                let pause = segment.kind != SegmentKind::Ascent;
                pause && (segment.from.as_m() - depth).abs() <= SAME_DEPTH_M
            })
        };
        prop_assert!(anchor.is_none_or(stops_at), "no stop at the anchor, {anchor:?}");
        if let Some((level, stop)) = safety
            && bottom > level + SAME_DEPTH_M
        {
            let least = stop.time.as_min() - SAME_TIME_MIN;
            prop_assert!(at_safety_level >= least, "{at_safety_level} min at {level} m");
        }
    }
}
