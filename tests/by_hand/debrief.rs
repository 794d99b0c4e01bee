//! Records of made-up dives, against figures worked out by hand.
//!
//! As in `pencil`: 0.1 bar a metre, ideal gas, a surface of 1 atm. Down to 20 m in 2 minutes, 18
//! minutes there, up in 4, 3 minutes at 5 m, up in 1:
//!
//! ```text
//! down     2 min   at (1.01325 + 3.01325)/2 = 2.01325 bar     4.0265 bar·min
//! level   18 min   at 3.01325                                54.2385
//! up       4 min   at (3.01325 + 1.51325)/2 = 2.26325         9.053
//! stop     3 min   at 1.51325                                 4.53975
//! up       1 min   at (1.51325 + 1.01325)/2 = 1.26325         1.26325
//!         28 min                                             73.121      /1.01325 = 72.164816 atm·min
//! mean depth  (20 + 360 + 50 + 15 + 2.5)/28 = 447.5/28 = 15.982143 m
//! ```

use approx::assert_abs_diff_eq;
use hangbar::debrief::{Debrief, DebriefError, Debriefing, NoRate};
use hangbar::finding::Weight;
use hangbar::quantity::{Depth, GaugePressure, Time};
use hangbar::record::{PencilLog, Reading, SampledLog};

use crate::pencil::pencil_dive;

const SAME: f64 = 1e-6;
/// Minutes and metres of the dive of the table.
const TABLE: [(f64, f64); 6] = [
    (0.0, 0.0),
    (2.0, 20.0),
    (20.0, 20.0),
    (24.0, 5.0),
    (27.0, 5.0),
    (28.0, 0.0),
];

fn readings(moments: &[(f64, f64)]) -> Vec<Reading> {
    let each = moments.iter().zip(1..);
    each.map(|((minute, metres), line)| {
        Reading::new(Time::from_min(*minute), Depth::from_m(*metres), line)
    })
    .collect()
}

/// Ada's logger, with her gauge at some of its readings.
fn ada(moments: &[(f64, f64)], gauge: &[(usize, f64)]) -> Debrief {
    let mut readings = readings(moments);
    for (index, bar) in gauge {
        readings[*index].pressure = Some(GaugePressure::from_bar(*bar));
    }
    let mut debriefing = Debriefing::of(pencil_dive(&[])).unwrap();
    let log = SampledLog::new(readings);
    debriefing.sampled("ada.csv", Some("Ada"), &log).unwrap();
    debriefing.end().unwrap()
}

fn codes(debrief: &Debrief) -> Vec<&'static str> {
    debrief.findings.iter().map(|found| found.code()).collect()
}

#[test]
fn consumption_is_the_gas_used_over_the_pressure_breathed() {
    // 12 L from 200 to 110 bar: 1080/1.01325 = 1065.8771 L; /72.164816 = 14.770039 L/min.
    let debrief = ada(&TABLE, &[(0, 200.0), (5, 110.0)]);
    let dive = &debrief.dives[0];
    assert_abs_diff_eq!(dive.breathed.whole.as_atm_min(), 72.164_816, epsilon = SAME);
    assert_abs_diff_eq!(
        dive.breathed.used.unwrap().as_l(),
        1_065.877_128,
        epsilon = SAME
    );
    assert_abs_diff_eq!(
        dive.breathed.rate.unwrap().as_l_min(),
        14.770_039,
        epsilon = SAME
    );
    assert_abs_diff_eq!(dive.average_depth.as_m(), 15.982_143, epsilon = SAME);
    assert_abs_diff_eq!(dive.run_time.as_min(), 28.0, epsilon = SAME);
    let suggested = debrief.consumptions[0].unwrap().suggested.as_l_min();
    assert_abs_diff_eq!(suggested, 14.770_039, epsilon = SAME);
    assert!(debrief.consumptions[1].is_none(), "Ben has no record");
    assert_eq!(debrief.unrecorded().collect::<Vec<_>>(), ["Ben"]);
}

#[test]
fn time_on_the_boat_is_no_part_of_the_dive() {
    // Ten minutes on deck before, with waves of 0.2 m; five after. The gauge before counts.
    let mut moments = vec![(0.0, 0.0), (5.0, 0.2)];
    moments.extend(
        TABLE
            .iter()
            .map(|(minute, metres)| (minute + 10.0, *metres)),
    );
    moments.push((43.0, 0.1));
    let debrief = ada(&moments, &[(1, 200.0), (8, 110.0)]);
    let dive = &debrief.dives[0];
    assert_abs_diff_eq!(dive.run_time.as_min(), 28.0, epsilon = SAME);
    assert_abs_diff_eq!(
        dive.breathed.rate.unwrap().as_l_min(),
        14.770_039,
        epsilon = SAME
    );
}

#[test]
fn a_gauge_that_is_known_for_a_part_counts_for_that_part() {
    // Between minutes 2 and 24: 63.2915 bar·min = 62.463854 atm·min; 12 · 80/1.01325 = 947.446336 L.
    let debrief = ada(&TABLE, &[(1, 195.0), (3, 115.0)]);
    let breathed = debrief.dives[0].breathed;
    assert_abs_diff_eq!(breathed.counted.as_atm_min(), 62.463_854, epsilon = SAME);
    assert_abs_diff_eq!(
        breathed.rate.unwrap().as_l_min(),
        15.167_914,
        epsilon = SAME
    );
    assert_abs_diff_eq!(breathed.uncovered.as_min(), 6.0, epsilon = SAME);
    assert!(codes(&debrief).contains(&"gauge-partial"));
}

#[test]
fn a_gauge_that_rises_gives_no_consumption() {
    let debrief = ada(&TABLE, &[(0, 200.0), (2, 120.0), (3, 190.0), (5, 150.0)]);
    assert!(matches!(
        debrief.dives[0].breathed.rate,
        Err(NoRate::Rises { line: 4, .. })
    ));
    assert!(codes(&debrief).contains(&"gauge-rises"));
    assert!(debrief.consumptions[0].is_none());
    // A warmed cylinder is none: 4 bar.
    let debrief = ada(&TABLE, &[(0, 200.0), (2, 140.0), (3, 144.0), (5, 110.0)]);
    assert_abs_diff_eq!(
        debrief.dives[0].breathed.rate.unwrap().as_l_min(),
        14.770_039,
        epsilon = SAME
    );
}

#[test]
fn too_fast_begins_at_a_fifth_over_the_plan() {
    // The plan's 9 m/min · 1.2 = 10.8: 15 m in 15/10.8 = 1.388889 min is too fast, in 1.39 it is not.
    let rises = |minutes: f64| {
        let top = 20.0 + minutes;
        let moments = [
            (0.0, 0.0),
            (2.0, 20.0),
            (20.0, 20.0),
            (top, 5.0),
            (top + 3.0, 5.0),
            (top + 4.0, 0.0),
        ];
        let debrief = ada(&moments, &[]);
        let sampled = debrief.dives[0].sampled().unwrap().clone();
        (
            sampled.too_fast.len(),
            sampled.fastest.unwrap().rate.as_m_min(),
        )
    };
    let (count, rate) = rises(15.0 / 10.8);
    assert_eq!(count, 1);
    assert_abs_diff_eq!(rate, 10.8, epsilon = SAME);
    assert_eq!(rises(1.39).0, 0);
}

#[test]
fn a_rate_is_over_fifteen_seconds_where_readings_are_closer() {
    // Every 5 s; 2 m up within 5 s, else level: over 15 s that is 8 m/min and not 24.
    let mut moments = vec![(0.0, 0.0), (1.0, 12.0)];
    for step in 1..=24 {
        let metres = if step < 12 { 12.0 } else { 10.0 };
        moments.push((1.0 + f64::from(step) * 5.0 / 60.0, metres));
    }
    moments.extend([(12.0, 5.0), (16.0, 5.0), (20.0, 0.0)]);
    let debrief = ada(&moments, &[]);
    let fastest = debrief.dives[0].sampled().unwrap().fastest.unwrap();
    assert_abs_diff_eq!(fastest.rate.as_m_min(), 8.0, epsilon = SAME);
    assert_abs_diff_eq!((fastest.end - fastest.start).as_min(), 0.25, epsilon = SAME);
}

#[test]
fn up_at_once_from_a_long_deep_dive_is_more_than_a_calculation() {
    let moments = [(0.0, 0.0), (2.0, 40.0), (40.0, 40.0), (44.0, 0.0)];
    let debrief = ada(&moments, &[]);
    assert!(debrief.is_no_go());
    let found = codes(&debrief);
    assert!(
        found.contains(&"above-ceiling") && found.contains(&"over-m-value"),
        "{found:?}"
    );
    for finding in debrief
        .findings
        .iter()
        .filter(|one| one.weight() == Weight::NoGo)
    {
        let message = finding.message(debrief.plan().units());
        let says = message.contains("emergency procedure") && message.contains("medical advice");
        assert!(says, "{message}");
    }
}

#[test]
fn gaps_count_from_five_minutes_on() {
    let with = |minutes: f64| {
        let moments = [
            (0.0, 0.0),
            (2.0, 12.0),
            (6.0, 12.0),
            (6.0 + minutes, 12.0),
            (9.0 + minutes, 5.0),
            (12.0 + minutes, 5.0),
            (13.0 + minutes, 0.0),
        ];
        ada(&moments, &[]).dives[0].sampled().unwrap().gaps.len()
    };
    assert_eq!(with(4.99), 0);
    assert_eq!(with(5.0), 1);
}

fn ben(change: impl FnOnce(&mut PencilLog)) -> Result<Debrief, DebriefError> {
    let bar = GaugePressure::from_bar;
    let mut log = PencilLog::new(
        "Ben",
        (Depth::from_m(18.0), Time::from_min(20.0)),
        (bar(200.0), bar(80.0)),
    );
    change(&mut log);
    let mut debriefing = Debriefing::of(pencil_dive(&[])).unwrap();
    debriefing.pencilled("slate.toml", &log)?;
    debriefing.end()
}

#[test]
fn a_pencil_log_is_the_planned_dive_as_deep_and_as_long() {
    // As planned: 62.897853 atm·min of the whole dive; 10 · 120/1.01325 = 1184.307920 L.
    let rate = |debrief: &Debrief| debrief.dives[0].breathed.rate.unwrap().as_l_min();
    let debrief = ben(|_| {}).unwrap();
    assert_abs_diff_eq!(rate(&debrief), 18.829_067, epsilon = SAME);
    assert_abs_diff_eq!(debrief.dives[0].run_time.as_min(), 25.0, epsilon = SAME);
    // 27 m for 10: 1.5 min at 2.36325 + 8.5 at 3.71325 + 22/9 at 2.61325 + 3 at 1.51325 + 5/9 at
    // 1.26325 = 46.737 bar·min = 46.125833 atm·min.
    let deeper = ben(|log| {
        log.greatest_depth = Depth::from_m(27.0);
        log.bottom_time = Time::from_min(10.0);
    });
    assert_abs_diff_eq!(rate(&deeper.unwrap()), 25.675_589, epsilon = SAME);
}

#[test]
fn an_average_depth_counts_over_the_run_time() {
    // 12 m: 2.21325 bar for 24 min = 53.118 bar·min = 52.423390 atm·min.
    let debrief = ben(|log| {
        log.average_depth = Some(Depth::from_m(12.0));
        log.run_time = Some(Time::from_min(24.0));
    });
    let breathed = debrief.unwrap().dives[0].breathed;
    assert_abs_diff_eq!(breathed.whole.as_atm_min(), 52.423_390, epsilon = SAME);
    assert_abs_diff_eq!(
        breathed.rate.unwrap().as_l_min(),
        22.591_212,
        epsilon = SAME
    );
}

#[test]
fn of_several_records_the_highest_is_for_the_next_plan() {
    let bar = GaugePressure::from_bar;
    let mut debriefing = Debriefing::of(pencil_dive(&[])).unwrap();
    for end in [80.0, 100.0, 70.0, 90.0] {
        let log = PencilLog::new(
            "Ben",
            (Depth::from_m(18.0), Time::from_min(20.0)),
            (bar(200.0), bar(end)),
        );
        debriefing.pencilled("slate.toml", &log).unwrap();
    }
    let of = debriefing.end().unwrap().consumptions[1].unwrap();
    // 10/1.01325/62.897853 L/min a bar: 0.15690889.
    assert_abs_diff_eq!(
        of.suggested.as_l_min(),
        130.0 * 0.156_908_89,
        epsilon = 1e-5
    );
    assert_abs_diff_eq!(of.least.as_l_min(), 100.0 * 0.156_908_89, epsilon = 1e-5);
    assert_abs_diff_eq!(of.median.as_l_min(), 115.0 * 0.156_908_89, epsilon = 1e-5);
    assert_eq!(of.records, 4);
}

#[test]
fn a_record_is_of_somebody_of_the_plan() {
    let log = SampledLog::new(readings(&TABLE));
    let mut debriefing = Debriefing::of(pencil_dive(&[])).unwrap();
    let whose = debriefing.sampled("x.csv", None, &log).unwrap_err();
    assert!(matches!(whose, DebriefError::Whose { .. }), "{whose}");
    let nobody = debriefing.sampled("x.csv", Some("Bem"), &log).unwrap_err();
    let DebriefError::Nobody { meant, .. } = nobody else {
        panic!("{nobody}");
    };
    assert_eq!(meant.as_deref(), Some("Ben"));
    assert_eq!(debriefing.end().unwrap_err(), DebriefError::NoRecord);
}

#[test]
fn back_too_soon_by_the_slate_says_so() {
    let debrief = ben(|log| {
        log.greatest_depth = Depth::from_m(40.0);
        log.bottom_time = Time::from_min(30.0);
        log.run_time = Some(Time::from_min(36.0));
    });
    let debrief = debrief.unwrap();
    assert_eq!(debrief.findings[0].code(), "stops-cut-short");
    assert!(debrief.is_no_go());
    // On a no-stop dive it is the safety stop.
    let debrief = ben(|log| log.run_time = Some(Time::from_min(22.0))).unwrap();
    assert!(codes(&debrief).contains(&"safety-stop-short"));
    assert!(!debrief.is_no_go());
}

#[test]
fn a_slate_past_the_stops_without_a_run_time_is_no_go() {
    let debrief = ben(|log| {
        log.greatest_depth = Depth::from_m(40.0);
        log.bottom_time = Time::from_min(30.0);
    });
    let debrief = debrief.unwrap();
    assert_eq!(debrief.findings[0].code(), "stops-unsaid");
    assert!(debrief.is_no_go());
}

#[test]
fn what_was_breathed_on_stops_that_were_cut_short_is_counted_over_the_whole_way_up() {
    let debrief = ben(|log| {
        log.greatest_depth = Depth::from_m(40.0);
        log.bottom_time = Time::from_min(30.0);
        log.run_time = Some(Time::from_min(36.0));
        log.end = GaugePressure::from_bar(10.0);
    });
    let debrief = debrief.unwrap();
    assert!(codes(&debrief).contains(&"stops-cut-short") && debrief.is_no_go());
    let flown = &debrief.dives[0].breathed;
    let suggested = debrief.consumptions[1].unwrap().suggested;
    assert_eq!(flown.rate, Ok(suggested));
}

#[test]
fn an_average_deeper_than_the_flown_dive_is_told() {
    let with = |metres: f64| {
        let debrief = ben(|log| {
            log.average_depth = Some(Depth::from_m(metres));
            log.run_time = Some(Time::from_min(25.0));
        });
        codes(&debrief.unwrap()).contains(&"deeper-on-average")
    };
    // 63.73125 bar·min in 25 min: (2.54925 − 1.01325)/0.1 = 15.36 m.
    assert!(!with(15.8) && with(15.9));
}

#[test]
fn the_bottom_is_left_where_it_is_left() {
    let debrief = ada(&TABLE, &[]);
    // 15 m on the way up from 20 m (the plan's 18 m less 3): 20 + 4 · 5/15 = 21.333 min.
    let bottom_time = debrief.dives[0].bottom_time.unwrap();
    assert_abs_diff_eq!(bottom_time.as_min(), 64.0 / 3.0, epsilon = SAME);
}

#[test]
fn less_than_the_planned_fill_is_told() {
    let debrief = ada(&TABLE, &[(0, 185.0), (5, 95.0)]);
    assert!(codes(&debrief).contains(&"start-under-fill"));
    let debrief = ada(&TABLE, &[(0, 195.0), (5, 105.0)]);
    assert!(!codes(&debrief).contains(&"start-under-fill"));
}
