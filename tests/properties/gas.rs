//! Cylinders, gas limits and ponies.

use hangbar::briefing::{Briefing, BriefingError, brief};
use hangbar::gas::{DiverBudget, PonyVerdict};
use hangbar::plan_file;
use hangbar::plan_file::Overrides;
use hangbar::quantity::{FreeVolume, GaugePressure, PSI_BAR, Pressure, Temperature, WaterVolume};
use hangbar::site::{Charge, GasConditions, GasLaw};
use proptest::prelude::*;

use crate::dives::{any_mix, stays};
use crate::plans::{Breathing, Member, Size, Spec, briefed, member, read, spec};
use crate::spelling::Spelling;
use crate::{SAME_TIME_MIN, config};

proptest! {
    #![proptest_config(config(256))]

    #[test]
    fn contents_and_pressure_are_inverse_and_grow_together(
        gas in any_mix(),
        law in prop_oneof![3 => Just(GasLaw::Real), 1 => Just(GasLaw::Ideal)],
        celsius in prop_oneof![Just(15.0), -5.0..45.0],
        surface in prop_oneof![Just(1.01325), 0.577..1.1],
        litres in prop_oneof![Just(0.2), Just(12.0), 0.2..100.0],
        bar in prop_oneof![Just(0.0), Just(1e-6), Just(5000.0 * PSI_BAR), 0.0..345.0],
        more in prop_oneof![Just(1e-6), 0.0..50.0],
    ) {
        /// Density is searched to 14 digits, and near 0 it is the difference of two like numbers.
        const THERE_AND_BACK_BAR: f64 = 1e-9;
        let site = GasConditions {
            law,
            temperature: Temperature::from_celsius(celsius),
            surface: Pressure::from_bar(surface),
        };
        let charge = Charge::new(WaterVolume::from_l(litres), gas, &site);
        let holds = charge.contents(GaugePressure::from_bar(bar));
        let back = charge.pressure(holds).as_bar();
        prop_assert!((back - bar).abs() <= THERE_AND_BACK_BAR, "{bar} bar come back as {back}");
        let again = charge.contents(charge.pressure(holds)).as_l();
        let slack = litres * THERE_AND_BACK_BAR;
        prop_assert!((again - holds.as_l()).abs() <= slack, "{holds:?} come back as {again}");
        let fuller = charge.contents(GaugePressure::from_bar(bar + more)).as_l();
        prop_assert!(fuller + slack >= holds.as_l(), "{more} bar more hold {fuller}, not {holds:?}");
        prop_assert!(more < 1e-3 || fuller > holds.as_l(), "{more} bar more hold no more");
    }
}

/// The profile cut or stretched to every whole bottom time from the first possible one, each
/// briefed afresh: `passes` holds of the first diver up to the limit and not a minute further.
/// Minutes in the travel between two levels are passed over; one that cannot be scheduled ends it.
fn is_the_last_minute_that_passes(
    text: &str,
    planned: &Briefing,
    limit: u32,
    passes: impl Fn(&DiverBudget) -> bool,
) -> Result<(), TestCaseError> {
    const GREATEST_LIMIT_MIN: u32 = 999;
    let arrival = planned.schedule.arrivals[0].run_time.as_min();
    let reached = |minute: &u32| f64::from(*minute) >= arrival - SAME_TIME_MIN;
    let first = (1..GREATEST_LIMIT_MIN).find(reached).unwrap();
    let at = |minute: u32| -> Result<Option<bool>, TestCaseError> {
        let overrides = Overrides {
            bottom_time: Some(format!("{minute} min")),
            ..Overrides::default()
        };
        let Ok(plan) = plan_file::read_with(text, &overrides) else {
            return Ok(None);
        };
        match brief(plan) {
            Ok(briefing) => Ok(Some(passes(&briefing.divers[0]))),
            Err(BriefingError::Check(check)) => Err(TestCaseError::fail(check)),
            Err(_) => Ok(Some(false)),
        }
    };
    let mut brute = 0;
    for minute in first..=limit.saturating_add(1).max(first) {
        match at(minute)? {
            Some(true) => brute = minute,
            Some(false) => break,
            None => {}
        }
    }
    prop_assert_eq!(brute, limit);
    Ok(())
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn the_gas_limit_is_the_last_whole_minute_whose_reserve_holds(
        spec in spec(any_mix()),
        member in member(),
        shallow in stays(35.0, 20.0),
    ) {
        // One diver with a small cylinder: the limit is soon found, minute by minute.
        let size = Size::Litres(7.0);
        let team = vec![Member { size, ..member }];
        let spec = Spec { team, stays: shallow, decompression: Vec::new(), ..spec };
        let text = spec.text(Spelling::Metric);
        let planned = briefed(read(&text)?)?;
        let limit = planned.limits[0].gas_limit.minutes;
        prop_assume!(limit < 100);
        is_the_last_minute_that_passes(&text, &planned, limit, DiverBudget::reserve_holds)?;
    }

    /// Planted, not searched: the first possible minute is where a sweep is easily off by one.
    #[test]
    fn the_gas_limit_is_none_with_a_hair_less_than_the_first_minute_needs(
        spec in spec(any_mix()),
        member in member(),
    ) {
        const LITRES: f64 = 50.0;
        const FILL_BAR: f64 = 300.0;
        /// Of the contents; contents and pressure are inverse to 1e-9.
        const HAIR: f64 = 1e-7;
        let breathing = match member.breathing {
            // A pressure rate of so large a cylinder would be more than anybody breathes.
            Breathing::BarAMinute(rate) => Breathing::LitresAMinute(10.0 * rate),
            litres => litres,
        };
        let size = Size::Litres(LITRES);
        let roomy = Member { breathing, size, fill_bar: FILL_BAR, ..member };
        let stays = vec![spec.stays[0]];
        let spec = Spec { team: vec![roomy], stays, decompression: Vec::new(), ..spec };
        let text = spec.text(Spelling::Metric);
        let arrival = briefed(read(&text)?)?.schedule.arrivals[0].run_time.as_min();
        let first = (arrival - SAME_TIME_MIN).ceil().max(1.0);
        let with_fill = |bar: f64| {
            let overrides = Overrides {
                bottom_time: Some(format!("{first} min")),
                fills: vec![("Diver 0".to_owned(), format!("{bar} bar"))],
                ..Overrides::default()
            };
            let plan = plan_file::read_with(&text, &overrides);
            briefed(plan.map_err(|error| TestCaseError::fail(error.to_string()))?)
        };
        let planned = with_fill(FILL_BAR)?;
        let budget = &planned.divers[0];
        let Some(leaving) = budget.leaving().and_then(|level| level.left) else {
            return Err(TestCaseError::reject("not even this is enough"));
        };
        let conditions = planned.plan.gas_conditions();
        let charge = Charge::new(WaterVolume::from_l(LITRES), spec.bottom, &conditions);
        let used = budget.start.as_l() - charge.contents(leaving).as_l();
        let floor = charge.contents(planned.plan.reserve().floor).as_l();
        let need = used + budget.reserve.as_l().max(floor);
        prop_assume!(need < budget.start.as_l());
        let limit_with = |litres| -> Result<f64, TestCaseError> {
            let fill = charge.pressure(FreeVolume::from_l(litres)).as_bar();
            prop_assume!(fill >= 1.0);
            Ok(f64::from(with_fill(fill)?.limits[0].gas_limit.minutes))
        };
        let (less, more) = (limit_with(need * (1.0 - HAIR))?, limit_with(need * (1.0 + HAIR))?);
        prop_assert!(less < 1.0, "{less} min with less than {first} min need");
        prop_assert!(more >= first, "{more} min with what {first} min need");
    }

    #[test]
    fn a_pony_covers_every_stop_up_to_its_last_whole_minute(
        spec in spec(any_mix()),
        member in member(),
        pony in (1.0..4.0, 60.0..208.0),
    ) {
        let team = vec![Member { pony: Some(pony), ..member }];
        let spec = Spec { team, decompression: Vec::new(), ..spec };
        let text = spec.text(Spelling::Metric);
        let planned = briefed(read(&text)?)?;
        let limit = planned.limits[0].pony_covers_until.unwrap().minutes;
        prop_assume!(limit < 60);
        is_the_last_minute_that_passes(&text, &planned, limit, |budget| {
            budget.pony.is_some_and(|pony| pony.verdict == PonyVerdict::CoversAll)
        })?;
    }
}
