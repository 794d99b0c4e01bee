//! The codes of findings: the table in DEVELOPERS.md has all of the library's, with their levels.

use std::collections::BTreeMap;

use hangbar::dive::{CeilingBreach, ScheduleError};
use hangbar::finding::{
    CODES, CurrentFact, DayFact, DensityFact, Fact, Finding, FlightFact, InertGasJumpFact,
    LostStageFact, OxygenFact, PonyFact, ReserveFact, StageFact, StopsFact, StopsNeeded, TeamFact,
};
use hangbar::gas::RescueOutcome;
use hangbar::plan::{Climb, Hang, TimeOfDay, USUAL_CABIN_ALTITUDE};
use hangbar::quantity::{Depth, FreeVolume, GaugePressure, Pressure, RunTime, Speed, Time};
use hangbar::site::Mix;
use hangbar::surface::{Exposure, WaitDecidedBy};
use hangbar::tissue::Excess;

use crate::program::developers;
use crate::tables::table;

/// The codes in the table, each with its levels.
fn documented_codes() -> BTreeMap<String, Vec<String>> {
    codes_under("\n### Codes of findings")
}

fn codes_under(heading: &str) -> BTreeMap<String, Vec<String>> {
    let text = developers();
    let (_, section) = text.split_once(heading).unwrap();
    let rows = table(section);
    let count = rows.len();
    let codes: BTreeMap<String, Vec<String>> = rows
        .into_iter()
        .map(|row| {
            assert_eq!(row.len(), 3, "{row:?}");
            assert!(!row[2].is_empty(), "{row:?}");
            let levels = row[1].split(", ").map(str::to_owned).collect();
            (row[0].trim_matches('`').to_owned(), levels)
        })
        .collect();
    assert_eq!(codes.len(), count, "a code stands there twice");
    codes
}

#[test]
fn the_codes_in_the_table_are_those_of_the_library() {
    let mut library: Vec<&str> = CODES.to_vec();
    library.sort_unstable();
    let documented = documented_codes();
    assert_eq!(documented.keys().collect::<Vec<_>>(), library);
    let levels = ["no-go", "caution", "note"];
    for (code, found) in &documented {
        let known = |level: &String| levels.contains(&level.as_str());
        assert!(found.iter().all(known), "{code}: {found:?}");
    }
}

#[test]
fn the_codes_of_a_debrief_are_those_of_the_library() {
    let mut library: Vec<&str> = hangbar::debrief::CODES.to_vec();
    library.sort_unstable();
    let documented = codes_under("\n### Codes of a debrief");
    assert_eq!(documented.keys().collect::<Vec<_>>(), library);
}

/// One of each fact; of one that weighs differently, one of each weight.
fn facts() -> Vec<Fact> {
    let gas = Mix::AIR;
    let depth = Depth::from_m(30.0);
    let time = Time::from_min(9.0);
    let volume = FreeVolume::from_l(900.0);
    let pressure = GaugePressure::from_bar(60.0);
    let speed = Speed::from_m_min(20.0);
    let (po2_bar, limit_bar, cns_pct) = (1.5, 1.4, 90.0);
    let (density_g_l, limit_g_l) = (5.9, 5.2);
    let stops = StopsNeeded {
        compulsory: time,
        stop_time: time,
        first_stop: Some(depth),
        since: None,
    };
    let between = |asked| {
        Fact::Stops(StopsFact::InBetween {
            between: Vec::new(),
            asked,
        })
    };
    vec![
        Fact::Oxygen(OxygenFact::OverLimit {
            gas,
            po2_bar,
            depth,
            limit_bar,
            operating_depth: depth,
        }),
        Fact::Oxygen(OxygenFact::High {
            gas,
            po2_bar,
            depth,
            limit_bar,
        }),
        Fact::Oxygen(OxygenFact::TooLow {
            gas,
            po2_bar,
            limit_bar,
        }),
        Fact::Oxygen(OxygenFact::DoseOverLimit {
            cns_pct,
            of_the_day: false,
        }),
        Fact::Oxygen(OxygenFact::DoseHigh {
            cns_pct,
            of_the_day: true,
        }),
        Fact::Oxygen(OxygenFact::PonyOverLimit {
            gas,
            po2_bar,
            depth,
            limit_bar,
            operating_depth: depth,
        }),
        Fact::Oxygen(OxygenFact::SharedOverLimit {
            donor: "Ines".to_owned(),
            gas,
            po2_bar,
            depth,
            limit_bar,
        }),
        Fact::Day(DayFact::ShortInterval {
            interval: time,
            after: 1,
        }),
        Fact::Day(DayFact::TakenAsAdapted),
        Fact::Day(DayFact::LeanerGas {
            gas,
            richer: gas,
            depth,
            limit: Some(time),
            without: None,
        }),
        Fact::Flight(FlightFact::TooSoon {
            leaves: TimeOfDay::new(18, 0).unwrap().day_time_after(0),
            cabin_altitude: USUAL_CABIN_ALTITUDE,
            advised: None,
            decided_by: WaitDecidedBy::Model,
            exposure: Exposure::SeveralDives,
        }),
        Fact::Density(DensityFact::OverLimit {
            gas,
            density_g_l,
            depth,
            limit_g_l,
        }),
        Fact::Density(DensityFact::High {
            gas,
            density_g_l,
            depth,
            limit_g_l,
        }),
        Fact::Stops(StopsFact::CeilingPassed(CeilingBreach {
            from: depth,
            to: depth,
            at: depth,
            excess: Excess {
                index: 0,
                total_bar: 2.0,
                limit_bar: 1.9,
            },
        })),
        Fact::Reserve(ReserveFact::MinimumAboveFill {
            fill: pressure,
            minimum: pressure,
        }),
        Fact::Reserve(ReserveFact::Broken {
            depth,
            leave: RunTime::SPLASH + time,
            only_level: true,
            left: None,
            minimum: pressure,
        }),
        Fact::Reserve(ReserveFact::HangShort {
            hang: Hang { depth, time },
            left: None,
            minimum: pressure,
        }),
        Fact::Reserve(ReserveFact::HangTooDeep {
            hang: Hang { depth, time },
            last: depth,
        }),
        Fact::Reserve(ReserveFact::ShorterNeedsMore {
            bad: Vec::new(),
            bottom_time: time,
        }),
        Fact::Current(CurrentFact::TooStrong {
            current: speed,
            swim: speed,
        }),
        Fact::Reserve(ReserveFact::GasRunsOut {
            planned_use: volume,
            start: volume,
        }),
        Fact::Stage(StageFact::Short {
            gas,
            need: volume,
            have: volume,
        }),
        Fact::Stage(StageFact::Missing { gas }),
        Fact::InertGasJump(InertGasJumpFact::Jump {
            from: gas,
            to: gas,
            depth,
            nitrogen_rise_bar: 0.4,
            helium_fall_bar: 1.3,
        }),
        Fact::Team(TeamFact::DepthLimit {
            limit: depth,
            deepest: depth,
        }),
        Fact::Day(DayFact::EarlierGasUnsaid { dive: 1, gas }),
        Fact::Day(DayFact::EarlierGasDoubtful {
            dive: 1,
            gas,
            depth,
            po2: Pressure::from_bar(1.7),
        }),
        Fact::Day(DayFact::DrivenUpTooSoon(Climb {
            waited: time,
            advised_min: Some(720),
        })),
        Fact::Stops(StopsFact::Staged(stops)),
        Fact::Stops(StopsFact::StagedUnplanned(stops)),
        between(false),
        between(true),
        Fact::Pony(PonyFact::AscentOnly {
            need: volume,
            have: volume,
        }),
        Fact::Pony(PonyFact::Short {
            need: volume,
            have: volume,
        }),
        Fact::LostStage(LostStageFact::NotCovered {
            gas,
            depth,
            run_time: RunTime::SPLASH + time,
            main: RescueOutcome::NotEnough { empty_depth: depth },
            short: Vec::new(),
        }),
        Fact::LostStage(LostStageFact::NoWayUp {
            gas,
            depth,
            run_time: RunTime::SPLASH + time,
            cause: ScheduleError::NoLevel,
        }),
        Fact::Reserve(ReserveFact::BackBelowFloor {
            end: pressure,
            floor: pressure,
        }),
        Fact::Current(CurrentFact::NotInTurn { current: speed }),
        Fact::Stage(StageFact::NotBreathed { gas }),
        Fact::Team(TeamFact::Alone),
        Fact::Team(TeamFact::NoTeam),
    ]
}

#[test]
fn the_levels_in_the_table_are_those_of_the_library() {
    let mut library: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for finding in facts().into_iter().map(Finding::of_team) {
        let levels = library.entry(finding.code().to_owned()).or_default();
        levels.push(finding.weight().word().to_owned());
    }
    assert_eq!(library, documented_codes());
}
