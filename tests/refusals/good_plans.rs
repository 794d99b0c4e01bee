//! A good plan arrives with every key that it has.

use approx::assert_relative_eq;
use hangbar::plan::TimeOfDay;
use hangbar::plan::{OutBound, TurnRule};
use hangbar::plan_file::read;
use hangbar::quantity::{PSI_BAR, UnitSystem};
use hangbar::rules::{LastStop, StopSpacing};
use hangbar::site::GasLaw;
use hangbar::site::Water;

use crate::plans::{DRIFT, PIER, SAME, WALL, edited};

#[test]
fn every_key_of_a_good_plan_with_one_depth_arrives_in_the_plan() {
    let plan = read(WALL).unwrap();
    assert_eq!(plan.title(), Some("Lantern Wall"));
    assert_eq!(plan.units(), UnitSystem::Metric);
    assert_eq!(plan.splash(), TimeOfDay::new(9, 40));
    assert_eq!(plan.site().water, Water::Fresh);
    assert_relative_eq!(plan.site().altitude.unwrap().as_m(), 120.0);
    assert!(plan.rules().environment.surface().as_bar() < 1.0);
    assert_relative_eq!(plan.site().temperature.as_celsius(), 14.0, epsilon = SAME);
    assert_relative_eq!(plan.site().current.unwrap().as_knots(), 0.5, epsilon = SAME);
    assert_eq!(plan.levels().len(), 1);
    assert_relative_eq!(plan.levels()[0].depth.as_m(), 18.0);
    assert_relative_eq!(plan.levels()[0].time.as_min(), 40.0);
    assert_relative_eq!(plan.rules().descent_rate.as_m_min(), 20.0);
    let ascent = plan.rules().ascent;
    assert_relative_eq!(ascent.rate.as_m_min(), 8.0);
    assert_eq!(ascent.spacing, StopSpacing::ThreeMetres);
    assert_eq!(ascent.last_stop, LastStop::TwoSpacings);
    let safety_stop = ascent.safety_stop.unwrap();
    assert_relative_eq!(safety_stop.depth.as_m(), 6.0);
    assert_relative_eq!(safety_stop.time.as_min(), 4.0);
    assert_relative_eq!(ascent.switch_time.as_min(), 2.0);
    assert_relative_eq!(plan.rules().factors.low(), 0.45);
    assert_relative_eq!(plan.rules().factors.high(), 0.80);
    let four_minutes = read(&edited(WALL, "first_compartment = \"1\"\n", "")).unwrap();
    assert_ne!(four_minutes.rules().compartments, plan.rules().compartments);
    assert_eq!(plan.gas_law(), GasLaw::Ideal);
    assert_eq!(plan.rules().bottom_gas.to_string(), "EAN32");
    let on_the_way_up: Vec<String> = plan
        .rules()
        .decompression
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(on_the_way_up, ["EAN50", "oxygen"]);
    assert_relative_eq!(plan.reserve().stress, 1.8);
    assert_relative_eq!(plan.reserve().sort_out.as_min(), 2.0);
    assert_relative_eq!(plan.reserve().floor.as_bar(), 40.0);
    assert_eq!(plan.reserve().turn, TurnRule::Third);
    let [juno, bram] = plan.divers() else {
        panic!(
            "two divers are in the plan, {} were read",
            plan.divers().len()
        );
    };
    assert_eq!(juno.name, "Juno");
    assert_relative_eq!(juno.breathing.as_l_min(), 16.0);
    assert_relative_eq!(juno.cylinder.water.as_l(), 12.0);
    assert_relative_eq!(juno.cylinder.fill.as_bar(), 210.0);
    let pony = juno.pony.unwrap();
    assert_relative_eq!(pony.cylinder.water.as_l(), 3.0);
    assert_relative_eq!(pony.cylinder.fill.as_bar(), 190.0);
    assert_relative_eq!(juno.depth_limit.unwrap().as_m(), 30.0);
    assert_eq!(juno.stages.len(), 1);
    assert_eq!(juno.stages[0].gas.to_string(), "EAN50");
    assert_relative_eq!(juno.stages[0].cylinder.water.as_l(), 7.0);
    assert_relative_eq!(juno.stages[0].cylinder.fill.as_bar(), 180.0);
    assert_eq!(bram.name, "Bram");
    // 100 cuft at 3000 psi, breathed at 25 psi a minute: 25/3000 of the rating.
    assert_relative_eq!(
        bram.breathing.as_cuft_min(),
        100.0 * 25.0 / 3000.0,
        epsilon = SAME
    );
    assert_relative_eq!(bram.cylinder.fill.as_psi(), 3100.0, epsilon = SAME);
    assert_eq!(bram.depth_limit, None);
}

#[test]
fn every_key_of_a_good_plan_with_levels_arrives_in_the_plan() {
    let plan = read(DRIFT).unwrap();
    assert_eq!(plan.units(), UnitSystem::Imperial);
    assert_eq!(plan.site().water, Water::Density { kg_per_m3: 1020.0 });
    assert_relative_eq!(
        plan.rules().environment.surface().as_bar(),
        1.005,
        epsilon = SAME
    );
    let levels: Vec<(f64, f64)> = plan
        .levels()
        .iter()
        .map(|level| (level.depth.as_ft(), level.time.as_min()))
        .collect();
    assert_eq!(levels.len(), 2);
    assert_relative_eq!(levels[0].0, 90.0, epsilon = SAME);
    assert_relative_eq!(levels[0].1, 12.0);
    assert_relative_eq!(levels[1].0, 50.0, epsilon = SAME);
    assert_relative_eq!(levels[1].1, 20.0);
    assert_eq!(plan.rules().ascent.safety_stop, None);
    assert_eq!(plan.rules().ascent.spacing, StopSpacing::TenFeet);
    assert_relative_eq!(
        plan.divers()[0].breathing.as_cuft_min(),
        0.6,
        epsilon = SAME
    );
    assert_relative_eq!(
        plan.divers()[0].cylinder.fill.as_bar(),
        2900.0 * PSI_BAR,
        epsilon = SAME
    );
}

#[test]
fn every_key_of_a_good_plan_with_a_current_a_hang_buddies_and_a_boat_arrives_in_the_plan() {
    let plan = read(PIER).unwrap();
    let swim = plan.reserve().swim.unwrap();
    assert_relative_eq!(swim.current.as_knots(), 0.4, epsilon = SAME);
    assert_relative_eq!(swim.swim.as_knots(), 0.8, epsilon = SAME);
    assert_eq!(swim.out, OutBound::Against);
    let hang = plan.reserve().hang.unwrap();
    assert_relative_eq!(hang.depth.as_m(), 4.0);
    assert_relative_eq!(hang.time.as_min(), 8.0);
    let [selka, tarn] = plan.divers() else {
        panic!(
            "two divers are in the plan, {} were read",
            plan.divers().len()
        );
    };
    assert_eq!(
        (selka.gauge, tarn.gauge),
        (Some(UnitSystem::Imperial), None)
    );
    assert_eq!(selka.buddy.as_deref(), Some("Tarn"));
    assert_eq!(tarn.buddy.as_deref(), Some("Selka"));
    assert_relative_eq!(plan.surface().overdue_after.as_min(), 15.0);
    let emergency = plan.surface().emergency.as_deref();
    assert_eq!(emergency, Some("harbour radio, channel 12"));
}

#[test]
fn a_plan_asks_for_stops_where_it_says_so_or_brings_a_gas_for_them() {
    let asks = |staged: &str, gas: &str| {
        let text =
            format!("[profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n{staged}\n{gas}");
        read(&text).unwrap().asks_for_stops()
    };
    let (staged, gas) = ("staged = true", "[gas]\ndecompression = [\"EAN50\"]");
    assert_eq!(
        [
            asks("", ""),
            asks(staged, ""),
            asks("", gas),
            asks(staged, gas)
        ],
        [false, true, true, true]
    );
}
