//! A decompression gas that is lost: the dive without it flown again, and the gas counted again.

use hangbar::briefing::Briefing;
use hangbar::dive::{ScheduleError, Segment, fly};
use hangbar::finding::{Fact, LostStageFact};
use hangbar::gas::{LossMoment, LostStage, RescueOutcome, WithoutStage};
use hangbar::quantity::{FreeVolume, Time};
use hangbar::rules::{DiveRules, Level};
use hangbar::site::Mix;
use proptest::prelude::*;

use crate::dives::{any_mix, decompression, fly_clean, levels, rules, stays};
use crate::plans::{Spec, briefed, read, spec};
use crate::spelling::Spelling;
use crate::{SAME_DEPTH_M, SAME_TIME_MIN, config};

/// Two ways to the same volume of some thousand litres.
const SAME_LITRES: f64 = 1e-6;

fn some_decompression() -> impl Strategy<Value = Vec<Mix>> {
    decompression().prop_filter("none", |gases| !gases.is_empty())
}

fn without(rules: &DiveRules, gas: Mix) -> DiveRules {
    let mut rules = rules.clone();
    rules.decompression.retain(|known| !known.is_same_gas(gas));
    rules
}

/// The way up of a dive by the rules without the gas that stays the sort-out longer at the level
/// of the moment, from clean tissues.
fn flown_again(
    briefing: &Briefing,
    lost: &LostStage,
    moment: usize,
) -> Result<Vec<Segment>, ScheduleError> {
    let plan = &briefing.plan;
    let mut levels: Vec<Level> = plan.levels()[..=moment].to_vec();
    levels[moment].time = levels[moment].time + plan.reserve().sort_out;
    let rules = without(plan.rules(), lost.gas);
    fly(&rules, &plan.start().tissues, &levels).map(|dive| dive.way_up)
}

/// Free litres of a gas that a rate of breathing takes along segments.
fn taken(briefing: &Briefing, litres_a_minute: f64, gas: Mix, segments: &[Segment]) -> f64 {
    let environment = &briefing.plan.rules().environment;
    let segments = segments.iter().filter(|segment| segment.gas == gas);
    let exposure = segments.map(|segment| segment.exposure(environment).as_atm_min());
    litres_a_minute * exposure.sum::<f64>()
}

fn is_the_same_way_up(
    moment: &LossMoment,
    again: &[Segment],
    sort_out: Time,
) -> Result<(), TestCaseError> {
    let way_up = &moment.way_up.as_ref().unwrap().full;
    let left = moment.run_time + sort_out;
    let after = way_up.iter().filter(|segment| segment.end.is_after(left));
    let after: Vec<&Segment> = after.collect();
    prop_assert_eq!(after.len(), again.len(), "{:?}\n{:?}", after, again);
    for (got, want) in after.iter().zip(again) {
        prop_assert_eq!((got.kind, got.gas), (want.kind, want.gas));
        let depth = (got.from.as_m() - want.from.as_m()).abs() + (got.to - want.to).as_m().abs();
        let time = (got.start - want.start).as_min().abs() + (got.end - want.end).as_min().abs();
        prop_assert!(depth <= SAME_DEPTH_M, "{got:?}, {want:?}");
        prop_assert!(time <= SAME_TIME_MIN, "{got:?}, {want:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(config(96))]

    #[test]
    fn the_way_up_without_a_gas_is_that_of_a_dive_by_rules_without_it(
        (spec, decompression) in (spec(any_mix()), some_decompression()),
    ) {
        let spec = Spec { decompression, ..spec };
        let briefing = briefed(read(&spec.text(Spelling::Metric))?)?;
        let rules = briefing.plan.rules();
        let breathes = |gas: Mix| {
            let mut segments = briefing.schedule.segments.iter();
            gas != rules.bottom_gas && segments.any(|segment| segment.gas == gas)
        };
        let breathed = rules.decompression.iter().filter(|gas| breathes(**gas)).count();
        prop_assert_eq!(briefing.lost_stages.len(), breathed);
        for lost in &briefing.lost_stages {
            prop_assert!(breathes(lost.gas));
            prop_assert_eq!(lost.moments.len(), briefing.plan.levels().len());
            prop_assert_eq!(lost.divers.len(), briefing.divers.len());
            for (index, moment) in lost.moments.iter().enumerate() {
                match (flown_again(&briefing, lost, index), &moment.way_up) {
                    (Ok(again), Ok(_)) => {
                        is_the_same_way_up(moment, &again, briefing.plan.reserve().sort_out)?;
                    }
                    (again, way_up) => prop_assert!(
                        again.is_err() && way_up.is_err(),
                        "{again:?}, {way_up:?}"
                    ),
                }
            }
        }
    }

    #[test]
    fn what_a_diver_has_without_a_gas_is_enough_from_every_moment_or_is_said_not_to_be(
        (spec, decompression) in (spec(any_mix()), some_decompression()),
    ) {
        let spec = Spec { decompression, ..spec };
        let briefing = briefed(read(&spec.text(Spelling::Metric))?)?;
        let plan = &briefing.plan;
        for lost in &briefing.lost_stages {
            let others = without(plan.rules(), lost.gas).decompression;
            for (index, diver) in lost.divers.iter().enumerate() {
                let budget = &briefing.divers[index];
                let breathing = plan.divers()[index].breathing * plan.reserve().stress;
                // Of each moment what the main cylinder has to spare, and the worst of the others.
                let mut enough = true;
                let mut least = f64::INFINITY;
                for (moment, level) in lost.moments.iter().zip(&budget.levels) {
                    let Ok(way_up) = &moment.way_up else {
                        enough = false;
                        continue;
                    };
                    let litres = |gas, segments: &[Segment]| {
                        taken(&briefing, breathing.as_l_min(), gas, segments)
                    };
                    let on_main = litres(plan.rules().bottom_gas, &way_up.full);
                    let spare = level.contents.as_l() - on_main;
                    least = least.min(spare);
                    enough &= spare >= 0.0;
                    for gas in &others {
                        let carried = budget.stages.iter().find(|stage| stage.gas == *gas);
                        let have = carried.map_or(FreeVolume::from_l(0.0), |stage| stage.have);
                        enough &= litres(*gas, &way_up.full) <= have.as_l();
                    }
                }
                prop_assert_eq!(diver.ending.is_covered(), enough, "{:?}", diver);
                let finding = briefing.findings.iter().any(|finding| {
                    let about = match &finding.fact {
                        Fact::LostStage(LostStageFact::NotCovered { gas, .. }) => *gas == lost.gas,
                        _ => false,
                    };
                    about && finding.diver.as_ref() == Some(&diver.name)
                });
                let way_up = !matches!(diver.ending, WithoutStage::NoWayUp);
                prop_assert_eq!(finding, way_up && !enough);
                let WithoutStage::OnOwnGas { main, .. } = &diver.ending else { continue };
                if let RescueOutcome::EveryStop { left } = main
                    && enough
                {
                    let worst = &lost.moments[diver.moment];
                    let way_up = &worst.way_up.as_ref().unwrap().full;
                    let gas = plan.rules().bottom_gas;
                    let on_main = taken(&briefing, breathing.as_l_min(), gas, way_up);
                    let spare = budget.levels[diver.moment].contents.as_l() - on_main;
                    prop_assert!((spare - least).abs() <= SAME_LITRES);
                    prop_assert!(left.as_bar() >= 0.0 && *left <= budget.fill);
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(config(512))]

    /// By so much it may: the pause of the switch is not made, and stops end on whole minutes.
    #[test]
    fn losing_a_gas_shortens_no_way_up_by_more_than_its_switch_and_a_minute(
        (rules, stays) in (rules(any_mix()), stays(75.0, 60.0)),
        decompression in some_decompression(),
    ) {
        let rules = DiveRules { decompression, ..rules };
        const A_WHOLE_MINUTE: f64 = 1.0 + SAME_TIME_MIN;
        let levels = levels(&rules, &stays);
        let Ok(with) = fly_clean(&rules, &levels) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        for gas in &rules.decompression {
            let without = without(&rules, *gas);
            let Ok(lost) = fly_clean(&without, &levels) else { continue };
            let saved = (with.run_time() - lost.run_time()).as_min();
            let may_be = rules.ascent.switch_time.as_min() + A_WHOLE_MINUTE;
            prop_assert!(saved <= may_be, "{saved} min less without {gas:?}");
        }
    }
}
