//! Partial pressure blending by the ideal law, worked out by hand.

use hangbar::gas::{Added, Blend, BlendAsked, BlendError, Component, CylinderGas, blend};
use hangbar::quantity::{GaugePressure, Pressure, Temperature};
use hangbar::site::Mix;

/// Hand figures have four digits behind the point.
const HAND: f64 = 5e-5 + 1e-9;

fn held(bar: f64, gas: &str) -> CylinderGas {
    CylinderGas {
        pressure: GaugePressure::from_bar(bar),
        gas: gas.parse().unwrap(),
    }
}

fn asked(start: CylinderGas, target: CylinderGas) -> BlendAsked {
    BlendAsked {
        start,
        target,
        top: Mix::AIR,
        temperature: Temperature::from_celsius(15.0),
        surface: Pressure::from_bar(1.0),
    }
}

fn ideal_steps(blend: &Blend) -> Vec<(String, f64)> {
    let steps = blend.steps.iter();
    steps
        .map(|step| (step.adds.to_string(), step.ideal.to.as_bar()))
        .collect()
}

#[track_caller]
fn are(got: &[(String, f64)], want: &[(&str, f64)]) {
    assert_eq!(got.len(), want.len(), "{got:?}");
    for ((adds, bar), (adds_wanted, bar_wanted)) in got.iter().zip(want) {
        assert_eq!(adds, adds_wanted, "{got:?}");
        assert!((bar - bar_wanted).abs() <= HAND, "{got:?}, not {want:?}");
    }
}

#[test]
fn nitrox_from_an_empty_cylinder() {
    // Absolute, 1 bar of air before: nitrogen 201 · 0.68 = 136.68 of which 0.79 are there; air
    // (136.68 − 0.79)/0.79 = 172.0127; oxygen 201 − 172.0127 − 1 = 27.9873, and the gauge is 1 less
    // than 1 + 27.9873.
    let got = blend(&asked(held(0.0, "air"), held(200.0, "EAN32"))).unwrap();
    are(&ideal_steps(&got), &[("oxygen", 27.9873), ("air", 200.0)]);
}

#[test]
fn nitrox_on_top_of_what_is_left() {
    // Nitrogen 201 · 0.68 − 61 · 0.72 = 92.76, air 92.76/0.79 = 117.4177; oxygen
    // 201 − 61 − 117.4177 = 22.5823, from 60 bar to 82.5823.
    let got = blend(&asked(held(60.0, "EAN28"), held(200.0, "EAN32"))).unwrap();
    are(&ideal_steps(&got), &[("oxygen", 82.5823), ("air", 200.0)]);
}

#[test]
fn trimix_gets_its_helium_first() {
    // Helium 201 · 0.45 = 90.45; nitrogen 201 · 0.37 − 0.79 = 73.58, air 93.1392; oxygen
    // 201 − 1 − 90.45 − 93.1392 = 16.4108.
    let got = blend(&asked(held(0.0, "air"), held(200.0, "18/45"))).unwrap();
    let want = [("helium", 90.45), ("oxygen", 106.8608), ("air", 200.0)];
    are(&ideal_steps(&got), &want);
    // Real helium takes more room than the rule says, and oxygen less.
    let real: Vec<f64> = got.steps.iter().map(|step| step.real.to.as_bar()).collect();
    assert!((real[2] - 200.0).abs() < 1e-9, "{real:?}");
    assert!(real[0] > 0.0 && real[0] < real[1] && real[1] < real[2]);
}

#[test]
fn nitrox_on_top_of_oxygen_alone() {
    let rich = Mix::nitrox(32.0).unwrap();
    let with = BlendAsked {
        top: rich,
        ..asked(held(0.0, "EAN32"), held(200.0, "EAN50"))
    };
    // Nitrogen 201 · 0.50 − 0.68 = 99.82, EAN32 on top 99.82/0.68 = 146.7941, oxygen 53.2059.
    let got = blend(&with).unwrap();
    are(&ideal_steps(&got), &[("oxygen", 53.2059), ("EAN32", 200.0)]);
    assert_eq!(got.steps[1].adds, Added::Top(rich));
}

#[test]
fn what_is_there_already_needs_nothing() {
    let got = blend(&asked(held(200.0, "EAN32"), held(200.0, "EAN32"))).unwrap();
    assert_eq!(got.steps, []);
    let topped = blend(&asked(held(50.0, "air"), held(200.0, "air"))).unwrap();
    are(&ideal_steps(&topped), &[("air", 200.0)]);
}

#[test]
fn too_much_of_something_is_drained_to_what_both_laws_can_take() {
    // By the ideal law at most 201 · 0.64/0.68 = 189.18 bar absolute, 188.18 on the gauge.
    let refused = blend(&asked(held(195.0, "EAN32"), held(200.0, "EAN36"))).unwrap_err();
    let BlendError::TooMuch { of, drain_to, .. } = &refused else {
        panic!("{refused:?}");
    };
    assert_eq!(*of, Component::Nitrogen);
    let bar = drain_to.unwrap().as_bar();
    assert!(
        (180.0..=188.0).contains(&bar) && bar.fract() == 0.0,
        "{bar}"
    );
    assert_eq!(
        refused.to_string(),
        "195 bar of EAN32 hold more nitrogen than 200 bar of EAN36 may"
    );
    // Less of it works, a bar more does not.
    assert!(blend(&asked(held(bar, "EAN32"), held(200.0, "EAN36"))).is_ok());
    assert!(blend(&asked(held(bar + 1.0, "EAN32"), held(200.0, "EAN36"))).is_err());
}

#[test]
fn what_no_draining_helps_is_said_so() {
    let none = |start, target| match blend(&asked(start, target)).unwrap_err() {
        BlendError::TooMuch {
            of, drain_to: None, ..
        } => of,
        other => panic!("{other:?}"),
    };
    // A bar of air is left in an empty cylinder, and pure oxygen has no place for it.
    assert_eq!(
        none(held(0.0, "air"), held(200.0, "oxygen")),
        Component::Nitrogen
    );
    assert_eq!(
        none(held(30.0, "18/45"), held(200.0, "EAN32")),
        Component::Helium
    );
    assert_eq!(
        none(held(30.0, "EAN32"), held(200.0, "air")),
        Component::Oxygen
    );
    // Air on top of nothing has more oxygen than 18 %.
    let wrong = blend(&asked(held(0.0, "air"), held(200.0, "18/0"))).unwrap_err();
    assert_eq!(
        wrong.to_string(),
        "air on top brings more oxygen than 200 bar of 18/0 may hold"
    );
    let oxygen_on_top = BlendAsked {
        top: Mix::OXYGEN,
        ..asked(held(0.0, "air"), held(200.0, "EAN32"))
    };
    let wrong = blend(&oxygen_on_top).unwrap_err();
    assert!(matches!(wrong, BlendError::TopWithoutNitrogen { .. }));
}

#[test]
fn quantities_that_nobody_fills_at_are_refused() {
    let good = asked(held(60.0, "EAN28"), held(200.0, "EAN32"));
    let refused = |asked: BlendAsked| blend(&asked).unwrap_err().to_string();
    for bar in [f64::NAN, f64::INFINITY, 0.5, 345.0, -200.0] {
        let target = held(bar, "EAN32");
        assert!(
            refused(BlendAsked { target, ..good }).contains("the fill is"),
            "{bar}"
        );
    }
    for bar in [f64::NAN, -0.1, 345.0] {
        let start = held(bar, "air");
        let words = refused(BlendAsked { start, ..good });
        assert!(words.contains("the pressure before the fill is"), "{words}");
    }
    for celsius in [f64::NAN, -6.0, 46.0] {
        let temperature = Temperature::from_celsius(celsius);
        let words = refused(BlendAsked {
            temperature,
            ..good
        });
        assert!(words.contains("the temperature"), "{words}");
    }
    for bar in [f64::NAN, 0.5, 1.2] {
        let surface = Pressure::from_bar(bar);
        let words = refused(BlendAsked { surface, ..good });
        assert!(words.contains("pressure at the surface"), "{words}");
    }
}

/// A hundred-millionth of a bar: far more than rounding, far below any gauge.
const NOTHING_BAR: f64 = 1e-8;

#[test]
fn what_no_gauge_shows_is_neither_missing_nor_too_much() {
    for before in [200.0 - NOTHING_BAR, 200.0 + NOTHING_BAR] {
        let got = blend(&asked(held(before, "EAN32"), held(200.0, "EAN32"))).unwrap();
        assert_eq!(got.steps, [], "{before}");
    }
    for (before, steps) in [(199.9, 2), (200.1, 0)] {
        let got = blend(&asked(held(before, "EAN32"), held(200.0, "EAN32")));
        assert_eq!(got.map_or(0, |got| got.steps.len()), steps, "{before}");
    }
}

#[test]
fn who_drains_to_what_just_works_is_told_so() {
    // The least fill to which 150 bar before can be topped: less of it, and there is too much nitrogen.
    let from = |before, bar| blend(&asked(held(before, "EAN32"), held(bar, "EAN36")));
    let (mut too_little, mut enough) = (150.0_f64, 200.0_f64);
    while too_little.next_up() < enough {
        let middle = f64::midpoint(too_little, enough);
        if from(150.0, middle).is_ok() {
            enough = middle;
        } else {
            too_little = middle;
        }
    }
    let drain_to = |bar| match from(170.0, bar).unwrap_err() {
        BlendError::TooMuch { drain_to, .. } => drain_to.unwrap().to_string(),
        other => panic!("{other:?}"),
    };
    assert!(from(150.0, too_little).is_err());
    // By one of the laws there is no place for air any more, by the other there is: both are shown.
    let steps = from(150.0, enough).unwrap().steps;
    let added: Vec<String> = steps.iter().map(|step| step.adds.to_string()).collect();
    assert_eq!(added, ["oxygen", "air"]);
    assert_eq!(
        [drain_to(enough), drain_to(too_little)],
        ["150 bar", "149 bar"]
    );
}
