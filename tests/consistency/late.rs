//! From which minute late something is bad: every minute up to an hour worked out by itself.

use hangbar::dive::ScheduleError;
use hangbar::quantity::Time;
use hangbar::whatif::{BadFrom, Deviation, DiverOutcome, Outcome, deviate};

use crate::cases::{Case, briefed, each_changed};
use crate::drawn::Drawn;
use crate::random::Random;

const BOUND_MIN: u32 = 60;
/// A level lasts no longer than a day: beyond it there is no dive to ask.
const LONGEST_MIN: f64 = 1440.0;

/// The answer over the dives that are 0, 1, 2, … minutes late.
fn answer(dives: &[Result<Outcome, ScheduleError>], is_bad: impl Fn(&Outcome) -> bool) -> BadFrom {
    let minutes = || (0_u32..).zip(dives);
    let bad = |(_, dive): &(u32, &Result<Outcome, ScheduleError>)| dive.as_ref().is_ok_and(&is_bad);
    let first_bad = minutes().find(bad).map(|(minute, _)| minute);
    let unknown = minutes().find_map(|(minute, dive)| Some((minute, *dive.as_ref().err()?)));
    match (unknown, first_bad) {
        (_, Some(0)) => BadFrom::AsPlanned,
        (Some((from, cause)), bad_from) if bad_from.is_none_or(|bad| bad > from) => {
            BadFrom::Unknown {
                from,
                cause,
                bad_from,
            }
        }
        (_, Some(minute)) => BadFrom::Minute(minute),
        (_, None) => BadFrom::NotWithinBound,
    }
}

fn dives(case: &Case) -> Option<Vec<Result<Outcome, ScheduleError>>> {
    let last = case.drawn.levels.last().unwrap().1 + f64::from(BOUND_MIN);
    let plan = &case.briefing.plan;
    let late = |minute| deviate(plan, &Deviation::late(Time::from_min(f64::from(minute))));
    (last <= LONGEST_MIN).then(|| (0..=BOUND_MIN).map(late).collect())
}

/// Half of the plans hang long and deep on a no-stop dive's safety stop: late, that stop may take up
/// more than anybody may surface with, and later still stops are made instead.
fn deep_safety_stop(plan: &mut Drawn, random: &mut Random) {
    if random.once_in(2) {
        let (depth, minutes) = (random.between(9.0, 20.0), random.between(10.0, 60.0));
        plan.safety_stop = Some((depth, minutes));
    }
}

#[test]
fn every_answer_about_lateness_is_the_first_minute_of_those_worked_out_one_by_one() {
    let (mut unknown, mut known_again, mut stage_short) = (0, 0, 0);
    each_changed("late table", 20, deep_safety_stop, |case, _, wrong| {
        let Some(dives) = dives(case) else {
            return 1;
        };
        let late = &case.briefing.late;
        let mut compare = |what: &str, got: BadFrom, want: BadFrom| {
            unknown += u32::from(matches!(got, BadFrom::Unknown { .. }));
            known_again += u32::from(matches!(
                got,
                BadFrom::Unknown {
                    bad_from: Some(_),
                    ..
                }
            ));
            if got != want {
                wrong.push(format!("{what}: {got:?}, worked out {want:?}"));
            }
        };
        compare("stops", late.stops, answer(&dives, |dive| !dive.no_stop));
        for (index, diver) in late.divers.iter().enumerate() {
            let of = |is_bad: fn(&DiverOutcome) -> bool| {
                answer(&dives, |dive| is_bad(&dive.divers[index]))
            };
            // Where no gas is switched to none is short.
            let stages = if case.drawn.decompression.is_empty() {
                BadFrom::NotWithinBound
            } else {
                of(|diver| !diver.stages_hold)
            };
            stage_short += u32::from(matches!(stages, BadFrom::Minute(_)));
            compare(
                "reserve",
                diver.reserve_gone,
                of(|diver| !diver.reserve_holds),
            );
            compare("empty", diver.empty, of(DiverOutcome::is_empty));
            compare("stage", diver.stage_short, stages);
            if let Some(pony) = diver.pony_stops {
                compare("pony", pony, of(DiverOutcome::pony_misses_stops));
            }
        }
        1
    });
    println!(
        "late table: {unknown} unknown, {known_again} of them bad later, {stage_short} stages"
    );
}

/// A no-stop dive that hangs too long on a deep safety stop from the 4th minute late on; the gas has ended
/// before, and no gas is switched to.
#[test]
fn no_stage_cylinder_is_in_doubt_where_none_is_planned() {
    let plan = "[profile]\ndepth = \"21 m\"\nbottom_time = \"24 min\"\n[ascent]\n\
                safety_stop = { depth = \"12 m\", time = \"60 min\" }\n[[diver]]\nname = \"Oda\"\n\
                sac = \"15 L/min\"\ncylinder = { size = \"24 L\", fill = \"230 bar\" }\n";
    let late = briefed(plan).unwrap().late;
    assert!(
        matches!(late.stops, BadFrom::Unknown { from: 4, .. }),
        "{late:?}"
    );
    assert_eq!(late.divers[0].stage_short, BadFrom::NotWithinBound);
}
