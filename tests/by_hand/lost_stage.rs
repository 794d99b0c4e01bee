//! A stage cylinder is lost at the worst moment: the main cylinder on the way up without it.
//!
//! 30 m for 30 minutes on air, EAN50 for the way up. Found lost at the end of the level, it takes a
//! minute to sort out, then up without it: 1 min at 12 m, to the minutes 35 at 9 m, 40 at 6 m and 50
//! at 3 m. With P(d) = 1.01325 + 0.1·d bar:
//!
//! ```text
//! down    5/3 min    2.51325 bar     4.18875 bar·min
//! level  85/3 min    4.01325       113.70875
//!   to leaving the bottom          117.8975     /1.01325 = 116.355786 atm·min
//! sort-out  1 min    4.01325         4.01325
//! to 12 m   2 min    3.11325         6.2265
//! 12 m      1 min    2.21325         2.21325
//! to 9 m  1/3 min    2.06325         0.68775
//! 9 m     2/3 min    1.91325         1.2755
//! to 6 m  1/3 min    1.76325         0.58775
//! 6 m    14/3 min    1.61325         7.5285
//! to 3 m  1/3 min    1.46325         0.48775
//!   to the stop at 3 m              23.02025
//! 3 m    29/3 min    1.31325        12.69475
//! up      1/3 min    1.16325         0.38775
//!   in all                          36.10275    /1.01325 =  35.630644 atm·min
//! straight up, the sort-out before  12.39075    /1.01325 =  12.228719 atm·min
//! ```

use approx::assert_abs_diff_eq;
use hangbar::briefing::Briefing;
use hangbar::gas::{DiverWithoutStage, RescueOutcome, WithoutStage};

use crate::pencil::{BAR, LITRES, MINUTES, briefed, codes};

/// The dive of the table, Ada and Ben with other cylinders, each with a stage cylinder of EAN50.
fn staged(ada: &str, ben: &str) -> Briefing {
    const STAGE: &str = "stage = [{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }]";
    let ada = format!("cylinder = {{ {ada} }}\n{STAGE}");
    let ben = format!("cylinder = {{ {ben} }}\n{STAGE}");
    briefed(&[
        ("depth = \"18 m\"", "depth = \"30 m\""),
        ("\"20 min\"", "\"30 min\""),
        ("[model]", "[gas]\ndecompression = [\"EAN50\"]\n[model]"),
        ("cylinder = { size = \"12 L\", fill = \"200 bar\" }", &ada),
        ("cylinder = { size = \"10 L\", fill = \"200 bar\" }", &ben),
    ])
}

fn on_the_main_cylinder(diver: &DiverWithoutStage) -> RescueOutcome {
    let main = match &diver.ending {
        WithoutStage::OnOwnGas { main, stages } if stages.is_empty() => Some(*main),
        _ => None,
    };
    main.unwrap()
}

#[test]
fn the_way_up_without_the_gas_is_as_the_table_has_it() {
    let briefing = staged(
        "size = \"15 L\", fill = \"200 bar\"",
        "size = \"2x15 L\", fill = \"200 bar\"",
    );
    let [lost] = &briefing.lost_stages[..] else {
        panic!("one gas");
    };
    assert_eq!(lost.gas.to_string(), "EAN50");
    let [moment] = &lost.moments[..] else {
        panic!("one level");
    };
    assert_abs_diff_eq!(moment.run_time.as_min(), 30.0, epsilon = MINUTES);
    assert_abs_diff_eq!(moment.depth.as_m(), 30.0, epsilon = 1e-9);
    let surfacing = moment.surfacing().unwrap();
    assert_abs_diff_eq!(surfacing.as_min(), 50.0 + 1.0 / 3.0, epsilon = MINUTES);
    // 1 + 2/3 + 14/3 + 29/3
    assert_abs_diff_eq!(
        moment.stop_time().unwrap().as_min(),
        16.0,
        epsilon = MINUTES
    );
    let way_up = moment.way_up.as_ref().unwrap();
    assert_abs_diff_eq!(way_up.exposure.full.as_atm_min(), 35.630644, epsilon = 1e-5);
    assert!(
        way_up
            .full
            .iter()
            .all(|segment| segment.gas.to_string() == "air")
    );
}

#[test]
fn what_is_left_is_what_was_there_less_the_way_up_at_stressed_breathing() {
    let briefing = staged(
        "size = \"15 L\", fill = \"200 bar\"",
        "size = \"2x15 L\", fill = \"200 bar\"",
    );
    let divers = &briefing.lost_stages[0].divers;
    // 15 · 200/1.01325 = 2960.7698 L, less 15 · 116.355786 = 1745.3368 is 1215.4330; the way up
    // takes 15 · 1.5 · 35.630644 = 801.6895: 413.7435 L are left, · 1.01325/15.
    let RescueOutcome::EveryStop { left } = on_the_main_cylinder(&divers[0]) else {
        panic!("{:?}", divers[0]);
    };
    assert_abs_diff_eq!(
        briefing.divers[0].levels[0].contents.as_l(),
        1215.4330,
        epsilon = LITRES
    );
    assert_abs_diff_eq!(left.as_bar(), 27.9484, epsilon = BAR);
    // 5921.5396 − 20 · 116.355786 − 20 · 1.5 · 35.630644 = 2525.5046 L, · 1.01325/30
    let RescueOutcome::EveryStop { left } = on_the_main_cylinder(&divers[1]) else {
        panic!("{:?}", divers[1]);
    };
    assert_abs_diff_eq!(left.as_bar(), 85.2989, epsilon = BAR);
    assert_eq!(codes(&briefing), ["staged"]);
}

#[test]
fn a_main_cylinder_too_small_costs_the_stops_or_the_surface() {
    let briefing = staged(
        "size = \"12 L\", fill = \"200 bar\"",
        "size = \"15 L\", fill = \"165 bar\"",
    );
    let divers = &briefing.lost_stages[0].divers;
    // Ada: 2368.6158 − 1745.3368 = 623.2791 L at 22.5 L/min are 28.068333 bar·min: 5.048083 of them
    // at 3 m, at 1.31325 bar 3.843962 min from minute 40 1/3 on. The stop ends at 50.
    let RescueOutcome::StopsMissed {
        empty_at,
        empty_depth,
        missed,
    } = on_the_main_cylinder(&divers[0])
    else {
        panic!("{:?}", divers[0]);
    };
    assert_abs_diff_eq!(empty_at.as_min(), 44.177295, epsilon = MINUTES);
    assert_abs_diff_eq!(empty_depth.as_m(), 3.0, epsilon = 1e-9);
    assert_abs_diff_eq!(missed.as_min(), 5.822705, epsilon = MINUTES);
    // Ben: 2442.6351 − 20 · 116.355786 = 115.5194 L at 30 L/min are 3.901667 bar·min: not even the
    // sort-out.
    let RescueOutcome::NotEnough { empty_depth } = on_the_main_cylinder(&divers[1]) else {
        panic!("{:?}", divers[1]);
    };
    assert_abs_diff_eq!(empty_depth.as_m(), 30.0, epsilon = 1e-9);
    let not_covered = briefing
        .findings
        .iter()
        .filter(|finding| finding.code() == "lost-stage-not-covered");
    let not_covered: Vec<_> = not_covered
        .map(|finding| finding.diver.as_deref())
        .collect();
    assert_eq!(not_covered, [Some("Ada"), Some("Ben")]);
}

#[test]
fn a_dive_that_breathes_no_decompression_gas_can_lose_none() {
    assert!(briefed(&[]).lost_stages.is_empty());
    // Carried, but the dive is over before it would be switched to.
    let unused = briefed(&[("[model]", "[gas]\ndecompression = [\"EAN50\"]\n[model]")]);
    assert!(unused.lost_stages.is_empty());
}

/// Ada on two levels with EAN50 and oxygen for the way up, 30 L on the back.
fn on_two_levels(deep: (u32, u32), shallow: (u32, u32), oxygen: &str) -> Briefing {
    let profile = format!(
        "[[profile.level]]\ndepth = \"{} m\"\ntime = \"{} min\"\n\
         [[profile.level]]\ndepth = \"{} m\"\ntime = \"{} min\"",
        deep.0, deep.1, shallow.0, shallow.1
    );
    let stages = format!(
        "cylinder = {{ size = \"30 L\", fill = \"230 bar\" }}\n\
         stage = [{{ gas = \"EAN50\", size = \"12 L\", fill = \"200 bar\" }}, \
         {{ gas = \"oxygen\", {oxygen}, fill = \"100 bar\" }}]"
    );
    briefed(&[
        ("[profile]", "[profile]\nstaged = true"),
        ("depth = \"18 m\"", ""),
        ("bottom_time = \"20 min\"", &profile),
        (
            "[model]",
            "[gas]\ndecompression = [\"EAN50\", \"oxygen\"]\n[model]",
        ),
        (
            "cylinder = { size = \"12 L\", fill = \"200 bar\" }",
            &stages,
        ),
    ])
}

/// What Ada, at 22.5 L/min, has to spare at the end of each level without EAN50: in the main cylinder,
/// and of oxygen.
fn to_spare(briefing: &Briefing) -> Vec<(f64, f64)> {
    let oxygen = "oxygen".parse().unwrap();
    let rules = briefing.plan.rules();
    let lost = &briefing.lost_stages[0];
    assert_eq!(lost.gas.to_string(), "EAN50");
    let levels = lost.moments.iter().zip(&briefing.divers[0].levels);
    let spare = levels.map(|(moment, level)| {
        let breathed = |gas| {
            let way_up = moment.way_up.as_ref().unwrap().full.iter();
            let of_gas = way_up.filter(|segment| segment.gas == gas);
            let sum = of_gas.map(|segment| segment.exposure(&rules.environment).as_atm_min());
            22.5 * sum.sum::<f64>()
        };
        let stages = briefing.divers[0].stages.iter();
        let oxygen_held = stages
            .filter(|stage| stage.gas == oxygen)
            .map(|stage| stage.have.as_l());
        (
            level.contents.as_l() - breathed(rules.bottom_gas),
            oxygen_held.sum::<f64>() - breathed(oxygen),
        )
    });
    spare.collect()
}

#[test]
fn the_level_from_which_another_gas_is_too_little_is_worse_than_one_that_asks_more_of_the_main_cylinder()
 {
    let briefing = on_two_levels((40, 25), (12, 60), "size = \"3 L\"");
    let [deep, shallow] = to_spare(&briefing)[..] else {
        panic!("two levels");
    };
    assert!(
        deep.0 > shallow.0 && shallow.0 > 0.0,
        "{deep:?} {shallow:?}"
    );
    assert!(deep.1 < 0.0 && shallow.1 > 0.0, "{deep:?} {shallow:?}");
    let ada = &briefing.lost_stages[0].divers[0];
    assert_eq!(ada.moment, 0);
    assert!(!ada.ending.is_covered());
}

#[test]
fn of_levels_that_are_covered_the_one_with_least_to_spare_is_told() {
    let briefing = on_two_levels((40, 20), (21, 4), "size = \"12 L\"");
    let [deep, shallow] = to_spare(&briefing)[..] else {
        panic!("two levels");
    };
    assert!(deep.0 < shallow.0 && deep.0 > 0.0, "{deep:?} {shallow:?}");
    assert!(deep.1 > 0.0 && shallow.1 > 0.0, "{deep:?} {shallow:?}");
    let ada = &briefing.lost_stages[0].divers[0];
    assert_eq!(ada.moment, 0);
    assert!(ada.ending.is_covered());
}
