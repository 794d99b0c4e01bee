//! When the dive does not go to plan, against figures worked out by hand.
//!
//! The dives here are made for pencil and paper: water by the gauge calibration (0.1 bar a metre),
//! ideal gas, a surface of 1 atm. With P(d) = 1.01325 + 0.1·d bar and 18 m for 20 minutes:
//!
//! ```text
//! down     1 min       at (1.01325 + 2.81325)/2 = 1.91325 bar    1.91325 bar·min
//! level   19 min       at 2.81325 bar                           53.45175
//! up      13/9 min     at (2.81325 + 1.51325)/2 = 2.16325 bar    3.1246944
//! stop     3 min       at 1.51325 bar                            4.53975
//! up       5/9 min     at (1.51325 + 1.01325)/2 = 1.26325 bar    0.7018056
//! to leaving the bottom  55.365         /1.01325 = 54.641007 atm·min
//! to the end of the stop 63.0294444     /1.01325 = 62.205226 atm·min
//! whole dive             63.73125       /1.01325 = 62.897853 atm·min
//! emergency at the end of the level: 1 min at 2.81325, then up:
//!   with the stop        11.1795        /1.01325 = 11.033309 atm·min
//!   straight up (2 min at 1.91325)
//!                         6.63975       /1.01325 =  6.552924 atm·min
//! ```

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_abs_diff_eq;
use hangbar::briefing::{Briefing, brief};
use hangbar::gas::PonyVerdict;
use hangbar::gas::RescueOutcome;
use hangbar::plan::{Plan, TimeOfDay};
use hangbar::plan::{partners, share_returning_against};
use hangbar::plan_file::read;
use hangbar::quantity::{Depth, Speed, Time};
use hangbar::whatif::{BadFrom, Deviation, Ending, LATE_BOUND_MIN, deviate};

/// The figures above are worked out to six or seven digits.
const LITRES: f64 = 0.01;
const BAR: f64 = 0.001;
/// Run times follow from rates and distances alone.
const MINUTES: f64 = 1e-4;

/// Ada and Ben on the dive of the module's table: 15 and 20 L/min, 12 and 10 litres at 200 bar.
fn pencil_dive(changes: &[(&str, &str)]) -> Plan {
    let mut text = String::from(
        r#"
        [site]
        water = "en13319"
        [profile]
        depth = "18 m"
        bottom_time = "20 min"
        [model]
        gas_law = "ideal"
        [reserve]
        floor = "0 bar"
        [[diver]]
        name = "Ada"
        sac = "15 L/min"
        cylinder = { size = "12 L", fill = "200 bar" }
        [[diver]]
        name = "Ben"
        sac = "20 L/min"
        cylinder = { size = "10 L", fill = "200 bar" }
        "#,
    );
    for (old, new) in changes {
        assert!(text.contains(old), "{old} is not in the plan");
        text = text.replace(old, new);
    }
    read(&text).unwrap()
}

fn briefed(changes: &[(&str, &str)]) -> Briefing {
    brief(pencil_dive(changes)).unwrap()
}

fn codes(briefing: &Briefing) -> Vec<&'static str> {
    briefing
        .findings
        .iter()
        .map(|finding| finding.code())
        .collect()
}

#[test]
fn the_pencil_dive_is_reckoned_as_the_table_has_it() {
    let briefing = briefed(&[]);
    let [ada, ben] = &briefing.divers[..] else {
        panic!("two divers");
    };
    // 12 · 200 / 1.01325 and 10 · 200 / 1.01325
    assert_abs_diff_eq!(ada.start.as_l(), 2368.6158, epsilon = LITRES);
    assert_abs_diff_eq!(ben.start.as_l(), 1973.8465, epsilon = LITRES);
    // 15 · 62.897853 and 20 · 62.897853
    assert_abs_diff_eq!(ada.planned_use.as_l(), 943.4678, epsilon = LITRES);
    assert_abs_diff_eq!(ben.planned_use.as_l(), 1257.9571, epsilon = LITRES);
    // (15 + 20) · 1.5 · 11.033309, the same for both
    assert_abs_diff_eq!(ada.reserve.as_l(), 579.2487, epsilon = LITRES);
    assert_abs_diff_eq!(ben.reserve.as_l(), 579.2487, epsilon = LITRES);
    // 2368.6158 − 15 · 54.641007 = 1549.0007 L; · 1.01325/12
    assert_abs_diff_eq!(
        ada.levels[0].left.unwrap().as_bar(),
        130.7938,
        epsilon = BAR
    );
    // less the reserve
    assert_abs_diff_eq!(ada.levels[0].to_spare.as_l(), 969.7520, epsilon = LITRES);
}

#[test]
fn a_hang_asks_of_each_diver_the_way_up_and_its_minutes_on_the_own_gas() {
    // 10 min at 6 m: 16.1325/1.01325 = 15.921540 atm·min; with the way up, 62.897853 − 54.641007
    // = 8.256846: 24.178386, Ada 362.6758 L and Ben 483.5677: the reserve for two, 579.2487, is
    // more for both.
    let without = briefed(&[]);
    let short = briefed(&[(
        "floor = \"0 bar\"",
        "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"10 min\" }",
    )]);
    assert_eq!(without.schedule, short.schedule);
    for (plain, hanging) in without.divers.iter().zip(&short.divers) {
        assert_eq!(plain.reserve, hanging.reserve);
    }
    // 15 · 15.921540; after the whole dive 2368.6158 − 943.4678 − 238.8231 = 1186.3249 L,
    // · 1.01325/12.
    let ada = short.divers[0].hang.unwrap();
    assert_abs_diff_eq!(ada.takes.as_l(), 238.8231, epsilon = LITRES);
    assert_abs_diff_eq!(ada.left.unwrap().as_bar(), 100.1703, epsilon = BAR);
    // 30 min: 47.764619 and 8.256846 = 56.021465; Ada 840.3220 L, Ben 1120.4293, who leaves the
    // bottom with 881.0264: enough for the reserve, not for the hang.
    let long = briefed(&[(
        "floor = \"0 bar\"",
        "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"30 min\" }",
    )]);
    assert_abs_diff_eq!(long.divers[0].reserve.as_l(), 840.3220, epsilon = LITRES);
    assert_abs_diff_eq!(long.divers[1].reserve.as_l(), 1120.4293, epsilon = LITRES);
    assert_eq!(codes(&long), ["hang-short"]);
    assert_eq!(long.findings[0].diver.as_deref(), Some("Ben"));
    assert!(!long.is_go() && without.is_go());
}

#[test]
fn a_hang_is_not_part_of_what_a_pony_must_cover() {
    let pony = "cylinder = { size = \"12 L\", fill = \"200 bar\" }\npony = { size = \"2 L\", fill = \"200 bar\" }";
    let diver = ("cylinder = { size = \"12 L\", fill = \"200 bar\" }", pony);
    let floor = "floor = \"0 bar\"\nhang = { depth = \"6 m\", time = \"10 min\" }";
    let plain = briefed(&[diver]).divers[0].pony.unwrap();
    let hanging = briefed(&[diver, ("floor = \"0 bar\"", floor)]).divers[0]
        .pony
        .unwrap();
    assert_eq!(plain, hanging);
    // 15 · 1.5 · 11.033309 against 2 · (200 − 10)/1.01325
    assert_abs_diff_eq!(plain.need_full.as_l(), 248.2494, epsilon = LITRES);
    assert_abs_diff_eq!(plain.have.as_l(), 375.0309, epsilon = LITRES);
}

#[test]
fn a_hang_is_drawn_from_the_main_cylinder_even_where_a_stage_is_breathed() {
    // 18 m for 80 minutes with EAN50, breathed from 15 m up: on the planned way up the main
    // cylinder gives 18 to 15 m alone, 1/3 min at 2.66325 bar = 0.876141 atm·min; the hang of an
    // hour at 6 m is 95.529237. 15 · 96.405378 = 1446.0807 L, more than the reserve.
    let stage = r#"stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }]"#;
    let ada = "cylinder = { size = \"12 L\", fill = \"200 bar\" }";
    let ada_new = format!("{ada}\n{stage}");
    let staged = |hang: &str| {
        let floor = format!("floor = \"0 bar\"\n{hang}");
        briefed(&[
            ("bottom_time = \"20 min\"", "bottom_time = \"80 min\""),
            (
                "[model]",
                "[gas]\nbottom = \"air\"\ndecompression = [\"EAN50\"]\n[model]",
            ),
            ("floor = \"0 bar\"", &floor),
            (ada, &ada_new),
        ])
    };
    let plain = staged("");
    let hanging = staged("hang = { depth = \"6 m\", time = \"60 min\" }");
    assert!(plain.schedule.staged, "the dive must switch");
    assert_abs_diff_eq!(
        hanging.divers[0].reserve.as_l(),
        1446.0807,
        epsilon = LITRES
    );
    assert_eq!(plain.divers[0].stages, hanging.divers[0].stages);
}

#[test]
fn the_reserve_counts_the_declared_buddies_and_everybody_else_without_one() {
    // Ada and Cleo are a pair: (15 + 12) · 1.5 · 11.033309; Ben has nobody and may share with
    // Ada, who breathes most of the others: 35 · 1.5 · 11.033309.
    let third = "[[diver]]\n        name = \"Cleo\"\n        sac = \"12 L/min\"\n        \
                 cylinder = { size = \"15 L\", fill = \"200 bar\" }\n        buddy = \"Ada\"\n        \
                 [[diver]]\n        name = \"Ben";
    let paired = briefed(&[
        ("name = \"Ada\"", "name = \"Ada\"\nbuddy = \"Cleo\""),
        ("[[diver]]\n        name = \"Ben", third),
    ]);
    let [ada, cleo, ben] = &paired.divers[..] else {
        panic!("three divers");
    };
    for (diver, partner, want) in [
        (ada, "Cleo", 446.8490),
        (cleo, "Ada", 446.8490),
        (ben, "Ada", 579.2487),
    ] {
        assert_eq!(diver.partner.as_deref(), Some(partner), "{}", diver.name);
        assert_abs_diff_eq!(diver.reserve.as_l(), want, epsilon = LITRES);
    }
    let donors: Vec<_> = paired
        .lost_gas
        .iter()
        .map(|lost| lost.shared.as_ref().unwrap().donor.as_deref().unwrap())
        .collect();
    assert_eq!(donors, ["Cleo", "Ada", "Ada"]);
}

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

#[test]
fn the_gas_breathed_weighs_what_the_ideal_law_says() {
    // 101.325 kPa/(8.314462618 · 288.15) = 0.0422926 mol/L; air 0.21 · 31.998 + 0.79 · 28.014 =
    // 28.85064 g/mol: 1.220169 g/L. By the end of the stop Ada has breathed 15 · 62.205226 =
    // 933.0784 L, Ben 1244.1045 L.
    let briefing = briefed(&[]);
    const GRAMS: f64 = 1e-5;
    assert_abs_diff_eq!(
        briefing.divers[0].lighter.as_kg(),
        1.138513,
        epsilon = GRAMS
    );
    assert_abs_diff_eq!(
        briefing.divers[1].lighter.as_kg(),
        1.518018,
        epsilon = GRAMS
    );
}

#[test]
fn the_gas_breathed_weighs_what_handbook_densities_say() {
    // Air has 1.2754 g/L at 0 °C and 100 kPa (handbook, from memory): 1.2250 g/L at 15 °C and
    // 1 atm, 0.4 % more than 21/79 without argon.
    let real = briefed(&[("gas_law = \"ideal\"", "gas_law = \"real\"")]);
    let want = 0.933_078_4 * 1.2250;
    assert_abs_diff_eq!(real.divers[0].lighter.as_kg(), want, epsilon = 0.006 * want);
}

#[test]
fn a_diver_without_gas_gets_up_on_the_other_s() {
    let briefing = briefed(&[]);
    // On Ben's: 1973.8465 − 1092.8201 = 881.0264 L less 579.2487: 301.7777 L; · 1.01325/10.
    // On Ada's: 969.7520 L; · 1.01325/12.
    for (index, donor, want) in [(0, "Ben", 30.5776), (1, "Ada", 81.8834)] {
        let rescue = briefing.lost_gas[index].shared.as_ref().unwrap();
        assert_eq!(rescue.donor.as_deref(), Some(donor));
        assert_abs_diff_eq!(rescue.run_time.as_min(), 20.0, epsilon = MINUTES);
        let RescueOutcome::EveryStop { left } = rescue.outcome else {
            panic!("{:?}", rescue.outcome);
        };
        assert_abs_diff_eq!(left.as_bar(), want, epsilon = BAR);
    }
}

#[test]
fn a_partner_with_too_little_gas_costs_the_stop_or_the_surface() {
    let fill = |bar: &str| {
        let new = format!("cylinder = {{ size = \"10 L\", fill = \"{bar}\" }}");
        let briefing = briefed(&[("cylinder = { size = \"10 L\", fill = \"200 bar\" }", &new)]);
        briefing.lost_gas[0].shared.clone().unwrap().outcome
    };
    // At 52.5 L/min for two: the sort-out takes 2.776462 atm·min (145.7642 L), the way to 5 m
    // 3.083834 (161.9013), the stop 4.480385 (235.2202), the rest 0.692628; straight up takes
    // 6.552924 (344.0285 L) in all.
    // 160 bar: 1579.0772 − 1092.8201 = 486.2571 L: 178.5916 L into the stop, 178.5916/78.40674
    // = 2.277759 min of it; empty at 20 + 1 + 13/9 + 2.277759.
    let RescueOutcome::StopsMissed {
        empty_at,
        empty_depth,
        missed,
    } = fill("160 bar")
    else {
        panic!("160 bar");
    };
    assert_abs_diff_eq!(empty_at.as_min(), 24.722203, epsilon = MINUTES);
    assert_abs_diff_eq!(empty_depth.as_m(), 5.0, epsilon = 1e-9);
    assert_abs_diff_eq!(missed.as_min(), 0.722241, epsilon = MINUTES);
    // 135 bar: 1332.3464 − 1092.8201 = 239.5263 L; after the sort-out 93.7621 L = 1.785945
    // atm·min = 1.809609 bar·min from 18 m on: 2.81325·t − 0.45·t² = 1.809609, t = 0.728026 min
    // (the rate is 0.9 bar/min), 18 − 9·0.728026 = 11.4478 m.
    let RescueOutcome::NotEnough { empty_depth } = fill("135 bar") else {
        panic!("135 bar");
    };
    assert_abs_diff_eq!(empty_depth.as_m(), 11.4478, epsilon = 1e-3);
}

#[test]
fn a_partner_who_is_empty_already_helps_nobody() {
    // 100 bar: 986.9233 L, less than the 1092.8201 that Ben breathes on the bottom.
    let new = "cylinder = { size = \"10 L\", fill = \"100 bar\" }";
    let briefing = briefed(&[("cylinder = { size = \"10 L\", fill = \"200 bar\" }", new)]);
    let rescue = briefing.lost_gas[0].shared.as_ref().unwrap();
    let RescueOutcome::NotEnough { empty_depth } = rescue.outcome else {
        panic!("{:?}", rescue.outcome);
    };
    assert_abs_diff_eq!(empty_depth.as_m(), 18.0, epsilon = 1e-9);
}

#[test]
fn a_pony_is_empty_where_pencil_and_paper_say() {
    // 1 L at 130 bar: 120/1.01325 = 118.4308 L at 15 · 1.5 = 22.5 L/min = 5.263593 atm·min.
    // Sort-out 2.776462; straight up the rest is 2.487131 atm·min = 2.520086 bar·min:
    // 2.81325·t − 0.45·t² = 2.520086, t = 1.083618 min, 18 − 9·1.083618 = 8.2474 m.
    let pony = "cylinder = { size = \"12 L\", fill = \"200 bar\" }\npony = { size = \"1 L\", fill = \"130 bar\" }";
    let briefing = briefed(&[("cylinder = { size = \"12 L\", fill = \"200 bar\" }", pony)]);
    let rescue = briefing.lost_gas[0].pony.as_ref().unwrap();
    let RescueOutcome::NotEnough { empty_depth } = rescue.outcome else {
        panic!("{:?}", rescue.outcome);
    };
    assert_abs_diff_eq!(empty_depth.as_m(), 8.2474, epsilon = 1e-3);
    assert_eq!(briefing.divers[0].pony.unwrap().verdict, PonyVerdict::Short);
}

#[test]
fn without_buddies_the_partner_is_whoever_has_least_to_spare() {
    let third = r#"
        [[diver]]
        name = "Cleo"
        sac = "12 L/min"
        cylinder = { size = "15 L", fill = "200 bar" }
        [[diver]]
        name = "Ben""#;
    let alone = briefed(&[(
        "[[diver]]\n        name = \"Ben",
        third.trim_end_matches('"'),
    )]);
    let donors = |briefing: &Briefing| -> Vec<String> {
        let each = briefing.lost_gas.iter();
        each.map(|lost| lost.shared.clone().unwrap().donor.unwrap())
            .collect()
    };
    // Ben has least by far; Ben himself is left with Ada, whose cylinder is smaller than Cleo's.
    assert_eq!(donors(&alone), ["Ben", "Ben", "Ada"]);
    let paired = briefed(&[
        ("name = \"Ada\"", "name = \"Ada\"\nbuddy = \"Cleo\""),
        (
            "[[diver]]\n        name = \"Ben",
            third.trim_end_matches('"'),
        ),
        ("name = \"Cleo\"", "name = \"Cleo\"\nbuddy = \"Ada\""),
    ]);
    assert_eq!(donors(&paired), ["Cleo", "Ada", "Ada"]);
    assert_eq!(partners(&paired.plan.divers, 0), [1]);
    assert_eq!(partners(&paired.plan.divers, 2), [0, 1]);
}

#[test]
fn a_cylinder_is_empty_where_pencil_and_paper_say() {
    // Ben with 118 bar: 1164.5694 L = 58.228473 atm·min; 3.587466 atm·min = 3.635000 bar·min
    // after leaving the bottom, 0.510306 bar·min into the stop at 1.51325 bar: 0.337225 min.
    let new = "cylinder = { size = \"10 L\", fill = \"118 bar\" }";
    let plan = pencil_dive(&[("cylinder = { size = \"10 L\", fill = \"200 bar\" }", new)]);
    let outcome = deviate(&plan, &Deviation::NONE).unwrap();
    let Ending::Empty { run_time, depth } = outcome.divers[1].ending else {
        panic!("{:?}", outcome.divers[1]);
    };
    assert_abs_diff_eq!(
        run_time.as_min(),
        20.0 + 13.0 / 9.0 + 0.337225,
        epsilon = MINUTES
    );
    assert_abs_diff_eq!(depth.as_m(), 5.0, epsilon = 1e-9);
    assert!(!outcome.divers[1].reserve_holds);
}

#[test]
fn breathing_harder_and_going_deeper_change_what_they_say() {
    let plan = pencil_dive(&[]);
    // 1.25 · 943.4678 L leave Ada 1189.2811 L; · 1.01325/12.
    let harder = deviate(&plan, &Deviation::harder(25.0)).unwrap();
    let Ending::Left(left) = harder.divers[0].ending else {
        panic!("{:?}", harder.divers[0]);
    };
    assert_abs_diff_eq!(left.as_bar(), 100.4199, epsilon = BAR);
    let deeper = Deviation::deeper(Depth::from_m(3.0)).applied_to(&plan);
    assert_abs_diff_eq!(deeper.levels[0].depth.as_m(), 21.0, epsilon = 1e-12);
    assert_eq!(deeper.levels[0].time, plan.levels[0].time);
}

#[test]
fn lateness_is_bad_from_the_minute_that_pencil_and_paper_say() {
    // Each minute at 18 m takes 20 · 2.776462 = 55.5292 L from Ben; 301.7777 L are to spare while
    // the dive is no-stop: the reserve holds for 5 minutes and is gone from the 6th. On the whole
    // dive Ben has 715.8894 L left: 12 minutes, empty from the 13th.
    let late = briefed(&[]).late;
    assert_eq!(late.divers[1].reserve_gone, BadFrom::Minute(6));
    assert_eq!(late.divers[1].empty, BadFrom::Minute(13));
    assert_eq!(late.divers[1].pony_stops, None);
}

#[test]
fn lateness_agrees_with_the_gas_limit_and_with_each_dive_around_it() {
    for file in ["skua-stack", "kittiwake-wall", "orla-finch", "long-ledge"] {
        let path = format!("{}/plans/{file}.toml", env!("CARGO_MANIFEST_DIR"));
        let briefing = brief(read(&std::fs::read_to_string(path).unwrap()).unwrap()).unwrap();
        let bottom_time = briefing.schedule.bottom_time.as_min();
        for (index, late) in briefing.late.divers.iter().enumerate() {
            let at = |minute: u32| {
                let deviation = Deviation::late(Time::from_min(f64::from(minute)));
                deviate(&briefing.plan, &deviation).unwrap()
            };
            if let BadFrom::Minute(from) = late.reserve_gone {
                let limit = f64::from(briefing.divers[index].gas_limit.minutes);
                assert_abs_diff_eq!(limit, bottom_time + f64::from(from) - 1.0, epsilon = 1e-9);
                assert!(!at(from).divers[index].reserve_holds);
                let before = (0..from).all(|minute| at(minute).divers[index].reserve_holds);
                assert!(before, "{file}: {} from {from}", late.name);
            }
            if let BadFrom::Minute(from) = late.empty {
                let empty =
                    |minute| matches!(at(minute).divers[index].ending, Ending::Empty { .. });
                assert!(
                    empty(from) && !(0..from).any(empty),
                    "{file}: {}",
                    late.name
                );
            }
            if let Some(BadFrom::Minute(from)) = late.pony_stops {
                let covers = |minute| at(minute).divers[index].pony == Some(PonyVerdict::CoversAll);
                assert!(
                    !covers(from) && (0..from).all(covers),
                    "{file}: {}",
                    late.name
                );
            }
        }
        if let BadFrom::Minute(from) = briefing.late.stops {
            assert!(from <= LATE_BOUND_MIN);
        }
    }
}

#[test]
fn a_mixed_team_goes_bad_at_a_different_minute_each() {
    let path = format!("{}/plans/skua-stack.toml", env!("CARGO_MANIFEST_DIR"));
    let briefing = brief(read(&std::fs::read_to_string(path).unwrap()).unwrap()).unwrap();
    assert!(briefing.is_go());
    let mut minutes: Vec<u32> = briefing.late.stops.first_minute().into_iter().collect();
    for diver in &briefing.late.divers {
        minutes.extend(diver.reserve_gone.first_minute());
        minutes.extend(diver.empty.first_minute());
        minutes.extend(diver.pony_stops.and_then(BadFrom::first_minute));
    }
    let count = minutes.len();
    minutes.sort_unstable();
    minutes.dedup();
    assert_eq!((count, minutes.len()), (11, 11), "{minutes:?}");
    assert!(minutes[0] > 0);
}

#[test]
fn a_time_of_day_goes_on_past_midnight() {
    let splash = TimeOfDay::new(23, 50).unwrap();
    for (minutes, want) in [
        (0, "23:50"),
        (9, "23:59"),
        (10, "00:00"),
        (25, "00:15"),
        (1440, "23:50"),
    ] {
        assert_eq!(splash.after(minutes).to_string(), want);
    }
    assert!(TimeOfDay::new(24, 0).is_none() && TimeOfDay::new(0, 60).is_none());
}
