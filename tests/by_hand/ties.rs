//! What lies exactly on a bound is within it, and of equals the first is named, whatever the last
//! bit of a product says.

use hangbar::dive::SegmentKind;
use hangbar::quantity::{Depth, Pressure};
use hangbar::site::{Environment, Mix, Water, richest_nitrox};

use crate::pencil::{briefed, codes};

/// A surface at which 25 m of the gauge calibration lie under 3.5 bar, and 0.4 · 3.5 = 1.4.
const AT_ONE_BAR: (&str, &str) = (
    "water = \"en13319\"",
    "water = \"en13319\"\nsurface_pressure = \"1 bar\"",
);

#[test]
fn the_richest_nitrox_may_lie_on_the_limit() {
    let site = Environment::new(Pressure::from_bar(1.0), Water::En13319);
    let limit = Pressure::from_bar(1.4);
    // (depth, per cent): 1.4/3.5, 1.4/5.0, 1.4/2.5, 1.4/1.75.
    for (metres, oxygen_pct) in [(25.0, 40.0), (40.0, 28.0), (15.0, 56.0), (7.5, 80.0)] {
        let best = richest_nitrox(&site, Depth::from_m(metres), limit);
        assert_eq!(best, Mix::nitrox(oxygen_pct).ok(), "at {metres} m");
    }
}

#[test]
fn a_bottom_gas_on_what_is_advised_is_no_caution_and_a_decimetre_deeper_is_one() {
    let dive = |depth| {
        briefed(&[
            AT_ONE_BAR,
            ("depth = \"18 m\"", depth),
            ("[model]", "[gas]\nbottom = \"EAN40\"\n[model]"),
        ])
    };
    let (on, over) = (dive("depth = \"25 m\""), dive("depth = \"25.1 m\""));
    assert!(!codes(&on).contains(&"oxygen-high"), "{:?}", codes(&on));
    assert!(codes(&over).contains(&"oxygen-high"), "{:?}", codes(&over));
}

#[test]
fn a_switch_may_lie_on_the_greatest_oxygen_pressure() {
    // 1.03 + 0.1 · 6 = 1.63 bar of pure oxygen; a millibar more and it is the level above.
    let switched = |surface| {
        let briefing = briefed(&[
            (AT_ONE_BAR.0, surface),
            ("depth = \"18 m\"", "depth = \"40 m\""),
            ("\"20 min\"", "\"25 min\""),
            ("[model]", "[gas]\ndecompression = [\"oxygen\"]\n[model]"),
            ("cylinder = { size = \"12 L\", fill = \"200 bar\" }", STAGE),
            ("cylinder = { size = \"10 L\", fill = \"200 bar\" }", STAGE),
        ]);
        let mut segments = briefing.schedule.segments.iter();
        let switch = segments.find(|segment| segment.kind == SegmentKind::Switch);
        switch.unwrap().from.as_m()
    };
    let on = switched("water = \"en13319\"\nsurface_pressure = \"1.03 bar\"");
    assert!((on - 6.0).abs() < 1e-9, "{on}");
    let over = switched("water = \"en13319\"\nsurface_pressure = \"1.031 bar\"");
    assert!((over - 3.0).abs() < 1e-9, "{over}");
}

/// A large cylinder and oxygen for the way up.
const STAGE: &str = "cylinder = { size = \"24 L\", fill = \"200 bar\" }\n\
    stage = [{ gas = \"oxygen\", size = \"7 L\", fill = \"200 bar\" }]";

#[test]
fn of_equal_limits_the_first_of_the_plan_sets_it() {
    // A minute at 1 m five hours ago leaves Ben's 12.5-minute compartment less than 1e-9 bar.
    let briefing = briefed(&[
        ("depth = \"18 m\"", "depth = \"30 m\""),
        ("\"20 min\"", "\"10 min\""),
        (
            "[model]",
            "[[before]]\ndepth = \"1 m\"\nbottom_time = \"1 min\"\nsurface_interval = \"300 min\"\n\
             divers = [\"Ben\"]\n[model]",
        ),
    ]);
    let (ada, ben) = (briefing.own[0].limit.time(), briefing.own[1].limit.time());
    let apart = ada.unwrap().as_min() - ben.unwrap().as_min();
    assert!(apart > 0.0 && apart < 1e-9, "{apart:e} min apart");
    assert_eq!(briefing.limit_set_by.unwrap().diver, 0);
}
