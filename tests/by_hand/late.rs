//! Later, deeper, harder, and from which minute of lateness what is bad.

use approx::assert_abs_diff_eq;
use hangbar::briefing::{Briefing, brief};
use hangbar::gas::{DiverBudget, LevelBudget};
use hangbar::plan_file::{Overrides, read, read_with};
use hangbar::quantity::RunTime;
use hangbar::whatif::{BadFrom, Deviation, Ending, LATE_BOUND_MIN, LongestEnd, deviate};

use crate::pencil::{BAR, MINUTES, briefed, pencil_dive};

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
    // So Ben, with 25 minutes, is who ends the dive.
    let briefing = briefed(&[]);
    let limiting = briefing.limiting_divers().into_iter();
    assert_eq!(
        limiting.map(|diver| &diver.name[..]).collect::<Vec<_>>(),
        ["Ben"]
    );
    let longest = briefing.longest_go.unwrap();
    assert_eq!(longest.minutes, 25);
    assert_eq!(longest.ended_by, LongestEnd::Gas(vec!["Ben".to_owned()]));
}

#[test]
fn the_turn_is_due_where_pencil_and_paper_say() {
    // Ben turns at (579.2487 + 1973.8465)/2 = 1276.5476 L: 697.2989 are 34.864945 atm·min, 35.326905
    // bar·min, 33.413655 of them at 2.81325 bar after the minute down. Ada turns at 1473.9323 L, after
    // 894.6835 L, and leaves the bottom with less breathed.
    let briefing = briefed(&[]);
    let due = |briefing: &Briefing, diver: usize| briefing.divers[diver].turn_due;
    assert_abs_diff_eq!(
        due(&briefing, 1).unwrap().as_min(),
        12.877243,
        epsilon = MINUTES
    );
    assert_eq!(due(&briefing, 0), None);
    // 40 bar of 12 L are 473.7232 L, less than the reserve: back at once, and not before.
    let short = briefed(&[(
        "size = \"12 L\", fill = \"200 bar\"",
        "size = \"12 L\", fill = \"40 bar\"",
    )]);
    assert_eq!(due(&short, 0), Some(RunTime::SPLASH));
}

/// A plan of `plans/` as its text stands.
fn charter(name: &str) -> String {
    let path = format!("{}/plans/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// The answer that briefings of 0, 1, 2, … minutes more come to.
fn first_bad(dives: &[Briefing], is_bad: impl Fn(&Briefing) -> bool) -> BadFrom {
    match (0_u32..).zip(dives).find(|(_, dive)| is_bad(dive)) {
        Some((0, _)) => BadFrom::AsPlanned,
        Some((minute, _)) => BadFrom::Minute(minute),
        None => BadFrom::NotWithinBound,
    }
}

/// Each late dive is briefed as a plan of its own, which says the longer bottom time and is not
/// late at all.
#[test]
fn lateness_agrees_with_the_gas_limit_and_with_each_dive_around_it() {
    let mut minutes = 0;
    for file in ["skua-stack", "kittiwake-wall", "orla-finch", "long-ledge"] {
        let text = charter(file);
        let planned = brief(read(&text).unwrap()).unwrap();
        let bottom_time = planned.schedule.bottom_time.as_min();
        let dives: Vec<Briefing> = (0..=LATE_BOUND_MIN)
            .map(|late| {
                let longer = Overrides {
                    bottom_time: Some(format!("{} min", bottom_time + f64::from(late))),
                    ..Overrides::default()
                };
                brief(read_with(&text, &longer).unwrap()).unwrap()
            })
            .collect();
        for (index, late) in planned.late.divers.iter().enumerate() {
            let from = |is_bad: fn(&DiverBudget) -> bool| {
                first_bad(&dives, |dive| is_bad(&dive.divers[index]))
            };
            let who = format!("{file}: {}", late.name);
            let reserve = from(|diver| {
                let short =
                    |level: &LevelBudget| level.left.is_none_or(|left| left < level.minimum_gas);
                diver.levels.iter().any(short)
            });
            assert_eq!(late.reserve_gone, reserve, "reserve of {who}");
            assert_eq!(late.empty, from(|diver| diver.end.is_none()), "{who}");
            let misses = |diver: &DiverBudget| {
                let pony = diver.pony.unwrap();
                pony.have < pony.need_full
            };
            let pony = planned.divers[index].pony.map(|_| from(misses));
            assert_eq!(late.pony_stops, pony, "pony of {who}");
            let short = |diver: &DiverBudget| {
                let mut stages = diver.stages.iter();
                stages.any(|stage| stage.have < stage.need)
            };
            assert_eq!(late.stage_short, from(short), "stages of {who}");
            if let BadFrom::Minute(from) = late.reserve_gone {
                let limit = f64::from(planned.limits[index].gas_limit.minutes);
                assert_abs_diff_eq!(limit, bottom_time + f64::from(from) - 1.0, epsilon = 1e-9);
            }
            let answers = late.answers();
            minutes += answers
                .filter(|one| matches!(one, BadFrom::Minute(_)))
                .count();
        }
        let stops = first_bad(&dives, |dive| dive.schedule.staged);
        assert_eq!(planned.late.stops, stops, "stops of {file}");
    }
    assert!(minutes >= 20, "only {minutes} answers are a minute");
}

#[test]
fn a_mixed_team_goes_bad_at_a_different_minute_each() {
    let briefing = brief(read(&charter("skua-stack")).unwrap()).unwrap();
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
