//! What breathing takes at depth: worked examples.

use hangbar::dive::SegmentKind;
use hangbar::plan_file;
use hangbar::quantity::{ATM_BAR, BreathingRate, Depth, FreeVolume, WaterVolume};
use hangbar::site::Environment;
use hangbar::site::Mix;
use hangbar::site::{Charge, GasLaw};

use crate::checks::{assert_close, printed};
use crate::dives::{conditions, feet_an_atmosphere, segment, ten_metres_a_bar};

/// What a breathing rate uses in so many minutes at a depth.
pub(crate) fn use_at(
    water: &Environment,
    depth: Depth,
    minutes: f64,
    rate: BreathingRate,
) -> FreeVolume {
    rate * segment(SegmentKind::Level, depth, depth, minutes, Mix::AIR).exposure(water)
}

#[test]
fn psi_a_minute_at_the_surface_gives_the_lecturers_750_psi_at_66_feet() {
    // Source: lecture notes on air consumption, (D + 33)/33, author not named: 750 psi in
    // 10 min at 66 fsw is 75 psi/min there and 25 psi/min at the surface. Here backwards:
    // 25 psi/min in a plan file must draw the cylinder down by 750 psi. Ideal gas, as they have.
    const SOURCE: &str = "lecture notes on air consumption";
    /// 33 ft an atmosphere against 1025 kg/m³: 0.2 % at 66 ft.
    const RULE_OF_33_PSI: f64 = 750.0 * 0.003;
    let plan = plan_file::read(
        r#"
        units = "imperial"
        [profile]
        depth = "66 ft"
        bottom_time = "11.1 min"
        [model]
        gas_law = "ideal"
        [[diver]]
        name = "Ana"
        sac = "25 psi/min"
        cylinder = { rated = "80 cuft", at = "3000 psi", fill = "3000 psi" }
        "#,
    )
    .unwrap();
    let diver = &plan.divers()[0];
    let charge = Charge::new(diver.cylinder.water, Mix::AIR, &plan.gas_conditions());
    let left = |water: &Environment| {
        let used = use_at(water, Depth::from_ft(66.0), 10.0, diver.breathing);
        charge.pressure(charge.contents(diver.cylinder.fill) - used)
    };
    let drawn = |water: &Environment| 3000.0 - left(water).as_psi();
    let rule = feet_an_atmosphere(33.0);
    assert_close("750 psi in 10 min", SOURCE, drawn(&rule), 750.0, 1e-6);
    let sea = drawn(&plan.rules().environment);
    assert_close(
        "750 psi in 10 min, in sea water",
        SOURCE,
        sea,
        750.0,
        RULE_OF_33_PSI,
    );
}

#[test]
fn twenty_bar_of_a_ten_litre_cylinder_in_150_seconds_at_30_metres_is_20_litres_a_minute() {
    // Source: diving magazine article on gas planning: 10 L, 20 bar in 2.5 min at 30 m where it
    // is 4 bar: 20 L/min. Backwards: at 20 L/min the gauge must fall by 20 bar.
    const SOURCE: &str = "diving magazine article on gas planning";
    /// 4 bar for the 4.03 bar of sea water at 30 m.
    const RULE_OF_10_BAR: f64 = 20.0 * 0.015;
    let ten = WaterVolume::from_l(10.0);
    let charge = Charge::new(ten, Mix::AIR, &conditions(GasLaw::Ideal, 15.0));
    let depth = Depth::from_m(30.0);
    let rate = BreathingRate::from_l_min(20.0);
    let drop = |water: &Environment| charge.pressure(use_at(water, depth, 2.5, rate)).as_bar();
    assert_close("20 bar", SOURCE, drop(&ten_metres_a_bar()), 20.0, 1e-9);
    let sea = drop(&Environment::default());
    assert_close("20 bar, in sea water", SOURCE, sea, 20.0, RULE_OF_10_BAR);
}

#[test]
fn ten_minutes_at_30_metres_take_the_regulations_2500_litres() {
    // Source: Norwegian Labour Inspection Authority, Regulations concerning the performance of
    // work, sec. 26-33 (10 min at 62.5 L/min); the 2500 L are arithmetic: 62.5 * 10 * 4 bar.
    const SOURCE: &str = "Norwegian regulations, sec. 26-33";
    /// 4 bar for the 3.976 atm of sea water at 30 m; 1 bar at the surface for 1 atm.
    const RULE_OF_10_L: f64 = 2500.0 * 0.015;
    let depth = Depth::from_m(30.0);
    let rate = BreathingRate::from_l_min(62.5);
    let sea = use_at(&Environment::default(), depth, 10.0, rate).as_l();
    assert_close("2500 L", SOURCE, sea, 2500.0, RULE_OF_10_L);
    // Their litres are at 1 bar, ours at 1 atm.
    let rule = use_at(&ten_metres_a_bar(), depth, 10.0, rate).as_l() * ATM_BAR;
    assert_close("2500 L by the rule of 10", SOURCE, rule, 2500.0, 1e-9);
}

#[test]
fn the_navys_rates_at_depth_come_out() {
    // Source: U.S. Navy Diving Manual, C = (D + 33)/33 * RMV: para 7-4.1, p. 7-14 with the
    // inputs of its sample problem (the 4.37 is arithmetic); para 15-8 of Rev 4/5.
    const NAVY: &str = "U.S. Navy Diving Manual Rev 4 Change A";
    const RULE_OF_33: f64 = 0.003;
    const ROWS: [(&str, f64, f64, f64); 2] = [
        ("twin 72, 70 fsw, moderate work", 70.0, 1.4, 4.37),
        ("emergency gas at 300 fsw", 300.0, 1.4, 14.13),
    ];
    for (what, feet, acfm, want) in ROWS {
        let (depth, rate) = (Depth::from_ft(feet), BreathingRate::from_cuft_min(acfm));
        let rule = use_at(&feet_an_atmosphere(33.0), depth, 1.0, rate).as_cuft();
        assert_close(what, NAVY, rule, want, printed(2));
        let sea = use_at(&Environment::default(), depth, 1.0, rate).as_cuft();
        assert_close(what, NAVY, sea / want, 1.0, RULE_OF_33);
    }
}
