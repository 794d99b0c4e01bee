//! A current: what it leaves to go out with, and where it carries the divers.

use approx::assert_abs_diff_eq;
use hangbar::plan::share_returning_against;
use hangbar::quantity::Speed;

use crate::pencil::{BAR, briefed, codes};

#[test]
fn the_share_that_goes_out_with_a_current_leaves_enough_to_come_back() {
    let share = |current: f64, swim: f64| {
        share_returning_against(Speed::from_knots(current), Speed::from_knots(swim))
    };
    // (1 − 0.25)/2, (0.8 − 0.2)/1.6, no current, as strong as the swimmer
    for (current, swim, want) in [
        (0.25, 1.0, 0.375),
        (0.2, 0.8, 0.375),
        (0.0, 1.0, 0.5),
        (1.0, 1.0, 0.0),
    ] {
        assert_abs_diff_eq!(share(current, swim), want, epsilon = 1e-12);
    }
}

#[test]
fn a_turn_follows_the_current_only_where_the_way_back_is_against_it() {
    let swim = |out: &str, turn: &str| {
        let site = "water = \"en13319\"\ncurrent = \"0.25 kn\"";
        let depth = format!("depth = \"18 m\"\nswim_speed = \"1 kn\"\nout = \"{out}\"");
        let floor = format!("floor = \"0 bar\"\nturn = \"{turn}\"");
        briefed(&[
            ("water = \"en13319\"", site),
            ("depth = \"18 m\"", &depth),
            ("floor = \"0 bar\"", &floor),
        ])
    };
    // Ada: minimum 579.2487 L, start 2368.6158 L; a share s turns at min + (start − min)·(1 − s):
    // 0.375: 1697.6031 L, half: 1473.9323, a third: 1772.1601, all: 579.2487; · 1.01325/12 bar.
    for (out, turn, want) in [
        ("with", "half", 143.3414),
        ("against", "half", 124.4552),
        ("with", "third", 149.6368),
        ("with", "all", 48.9103),
    ] {
        let briefing = swim(out, turn);
        let got = briefing.divers[0].turn.as_bar();
        assert_abs_diff_eq!(got, want, epsilon = BAR);
        assert!(
            codes(&briefing).is_empty(),
            "{out} {turn}: {:?}",
            codes(&briefing)
        );
    }
}

#[test]
fn a_current_that_cannot_be_swum_against_is_a_no_go_unless_nobody_has_to() {
    for (current, out, turn, no_go) in [
        ("0.8 kn", "with", "half", true),
        ("0.79 kn", "with", "half", false),
        ("0.8 kn", "against", "half", true),
        ("0.8 kn", "against", "all", true),
        ("1.5 kn", "with", "all", false),
    ] {
        let site = format!("water = \"en13319\"\ncurrent = \"{current}\"");
        let depth = format!("depth = \"18 m\"\nswim_speed = \"0.8 kn\"\nout = \"{out}\"");
        let floor = format!("floor = \"0 bar\"\nturn = \"{turn}\"");
        let briefing = briefed(&[
            ("water = \"en13319\"", &site),
            ("depth = \"18 m\"", &depth),
            ("floor = \"0 bar\"", &floor),
        ]);
        let found = codes(&briefing).contains(&"current-too-strong");
        assert_eq!(found, no_go, "{current} {out} {turn}");
        assert_eq!(briefing.is_go(), !no_go, "{current} {out} {turn}");
    }
}

#[test]
fn a_current_without_a_way_to_swim_in_it_is_a_caution() {
    let site = (
        "water = \"en13319\"",
        "water = \"en13319\"\ncurrent = \"0.25 kn\"",
    );
    assert_eq!(codes(&briefed(&[site])), ["current-not-in-turn"]);
    let drift_dive = ("floor = \"0 bar\"", "floor = \"0 bar\"\nturn = \"all\"");
    assert!(codes(&briefed(&[site, drift_dive])).is_empty());
}

#[test]
fn the_drift_is_the_current_times_the_dive_and_its_way_up() {
    let site = (
        "water = \"en13319\"",
        "water = \"en13319\"\ncurrent = \"0.5 kn\"",
    );
    // 0.5 · 1852/60 m/min · (13/9 + 3 + 5/9 = 5 min)
    let drift = briefed(&[site]).drift().unwrap();
    assert_abs_diff_eq!(drift.way_up_m, 77.1667, epsilon = 1e-4);
    // and 25 min in all
    assert_abs_diff_eq!(drift.whole_dive_m, 385.8333, epsilon = 1e-4);
    assert!(briefed(&[]).drift().is_none());
}
