//! Partial pressure blending.

use hangbar::gas::{Added, Blend, BlendAsked, BlendError, BlendStep, CylinderGas, Filled, blend};
use hangbar::quantity::{GaugePressure, Pressure, Temperature};
use hangbar::site::{Mix, RealGas};
use proptest::prelude::*;

use crate::config;
use crate::dives::any_mix;

/// Two ways to the same pressure of a cylinder: bar.
const SAME_BAR: f64 = 1e-6;
/// Two ways to the same fraction.
const SAME_FRACTION: f64 = 1e-8;

fn nitrox(pct: u32) -> Mix {
    Mix::nitrox(f64::from(pct)).unwrap()
}

fn held(pressure_bar: f64, gas: Mix) -> CylinderGas {
    let pressure = GaugePressure::from_bar(pressure_bar);
    CylinderGas { pressure, gas }
}

prop_compose! {
    fn asked()(
        left in prop_oneof![2 => Just(0.0), 1 => Just(199.0), 3 => 0.0..120.0, 1 => 0.0..250.0],
        before in any_mix(),
        full in prop_oneof![Just(1.0), Just(200.0), 1.0..344.0],
        wanted in any_mix(),
        top in prop_oneof![4 => Just(Mix::AIR), 1 => (21_u32..=40).prop_map(nitrox)],
        same in prop_oneof![4 => Just(false), 1 => Just(true)],
        celsius in prop_oneof![Just(15.0), -5.0..45.0],
        surface in prop_oneof![Just(1.01325), 0.577..1.1],
    ) -> BlendAsked {
        BlendAsked {
            start: held(left, if same { wanted } else { before }),
            target: held(full, wanted),
            top,
            temperature: Temperature::from_celsius(celsius),
            surface: Pressure::from_bar(surface),
        }
    }
}

/// Moles of nitrogen in a litre of cylinder, by the equation of state of the mix that is in it; `None`
/// of what is no breathing gas.
fn nitrogen(asked: &BlendAsked, bar: f64, oxygen: f64, helium: f64) -> Option<f64> {
    let mix = Mix::trimix(oxygen * 100.0, helium * 100.0).ok()?;
    let gas = RealGas::new(mix, asked.temperature);
    let absolute = Pressure::from_bar(bar + asked.surface.as_bar());
    Some(gas.density(absolute).as_mol_per_l() * mix.nitrogen())
}

fn holds_the_target(done: &Blend, ways: impl Fn(usize) -> Filled) -> Result<(), TestCaseError> {
    let asked = done.asked;
    let mut before = asked.start.pressure.as_bar();
    for index in 0..done.steps.len() {
        let after = ways(index).to.as_bar();
        prop_assert!(after >= before - SAME_BAR, "{done:?}");
        before = after;
    }
    let target = asked.target;
    if let Some(last) = done.steps.len().checked_sub(1) {
        let last = ways(last);
        let off = (last.to.as_bar() - target.pressure.as_bar()).abs();
        prop_assert!(off <= SAME_BAR, "{done:?}");
        prop_assert!(
            (last.oxygen - target.gas.oxygen()).abs() <= SAME_FRACTION,
            "{done:?}"
        );
        prop_assert!(
            (last.helium - target.gas.helium()).abs() <= SAME_FRACTION,
            "{done:?}"
        );
    } else {
        prop_assert!(target.gas.is_same_gas(asked.start.gas), "{done:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(config(512))]

    #[test]
    fn what_is_blended_and_analysed_is_what_was_asked_for(asked in asked()) {
        match blend(&asked) {
            Ok(done) => {
                holds_the_target(&done, |index| done.steps[index].real)?;
                holds_the_target(&done, |index| done.steps[index].ideal)?;
                // Helium and oxygen bring no nitrogen.
                let gas = asked.start.gas;
                let start = asked.start.pressure.as_bar();
                let first = nitrogen(&asked, start, gas.oxygen(), gas.helium()).unwrap();
                let pure = |step: &&BlendStep| !matches!(step.adds, Added::Top(_));
                for step in done.steps.iter().filter(pure) {
                    let Filled { to, oxygen, helium, .. } = step.real;
                    if let Some(after) = nitrogen(&asked, to.as_bar(), oxygen, helium) {
                        let same = (after - first).abs() <= SAME_BAR;
                        prop_assert!(same, "{step:?}: {after} and {first}");
                    }
                }
            }
            Err(BlendError::TooMuch { drain_to: Some(lower), .. }) => {
                let from = |bar: f64| {
                    blend(&BlendAsked { start: held(bar, asked.start.gas), ..asked })
                };
                let bar = lower.as_bar();
                prop_assert!(bar < asked.start.pressure.as_bar() && bar.fract() == 0.0);
                prop_assert!(from(bar).is_ok(), "drained to {bar}");
                prop_assert!(from(bar + 1.0).is_err(), "{bar} and a bar");
            }
            Err(BlendError::TooMuch { .. } | BlendError::WrongTop { .. }) => {
                let empty = blend(&BlendAsked { start: held(0.0, asked.start.gas), ..asked });
                prop_assert!(empty.is_err());
            }
            Err(other) => return Err(TestCaseError::fail(other.to_string())),
        }
    }

    /// The rule of the textbooks, in absolute pressures: the oxygen that is wanted, less what is there,
    /// less what comes with the air.
    #[test]
    fn by_the_ideal_law_it_is_the_textbook_s_rule(
        left in 0.0..100.0,
        before in 21_u32..=32,
        full in 150.0..300.0,
        wanted in 33_u32..=60,
    ) {
        let asked = BlendAsked {
            start: held(left, nitrox(before)),
            target: held(full, nitrox(wanted)),
            top: Mix::AIR,
            temperature: Temperature::from_celsius(15.0),
            surface: Pressure::from_atm(1.0),
        };
        let done = blend(&asked);
        prop_assume!(done.is_ok());
        let steps = done.unwrap().steps;
        let (full, left) = (full + 1.01325, left + 1.01325);
        let richer = |pct: u32| f64::from(pct) / 100.0 - 0.21;
        let oxygen = (full * richer(wanted) - left * richer(before)) / 0.79;
        let got = steps[0].ideal.to.as_bar() + 1.01325 - left;
        prop_assert!((got - oxygen).abs() <= SAME_BAR, "{got} bar and {oxygen}");
    }

    #[test]
    fn more_of_a_gas_richer_than_air_never_needs_more_oxygen(
        left in 0.0..60.0,
        more in 0.0..40.0,
        before in 21_u32..=36,
        wanted in 33_u32..=60,
    ) {
        let oxygen = |bar: f64| {
            let asked = BlendAsked {
                start: held(bar, nitrox(before)),
                target: held(200.0, nitrox(wanted)),
                top: Mix::AIR,
                temperature: Temperature::from_celsius(15.0),
                surface: Pressure::from_atm(1.0),
            };
            let steps = blend(&asked).ok()?.steps;
            let first = steps.first().filter(|step| step.adds.to_string() == "oxygen");
            Some(first.map_or(0.0, |step| step.ideal.to.as_bar() - bar))
        };
        if let Some((less, more)) = oxygen(left).zip(oxygen(left + more)) {
            prop_assert!(more <= less + SAME_BAR, "{more} bar, not {less}");
        }
    }
}
