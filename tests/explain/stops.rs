//! Stops against the schedule and a trace of it.

use hangbar::dive::{Sample, trace};
use hangbar::dive::{Segment, SegmentKind};
use hangbar::explain::STRAY_UNITS;
use hangbar::quantity::{RunTime, Time};

use crate::document::{Row, all_words, briefing_of, equations, last, number_of, rows_of};
use crate::plans::every_plan;

/// The pressure of the sample at a run time.
fn sample_at(samples: &[Sample], time: RunTime) -> &Sample {
    let at = |sample: &&Sample| (sample.run_time.as_min() - time.as_min()).abs() < 1e-6;
    samples.iter().rfind(at).unwrap()
}

#[test]
fn each_stop_is_barred_a_minute_early_and_open_as_planned() {
    /// Bar: usual decimals of a pressure, and what they stray by.
    const BAR: f64 = 1e-4 * (STRAY_UNITS + 0.5);
    let (mut barred, mut by_choice) = (0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let rules = briefing.plan.rules();
        let samples = trace(rules, &briefing.schedule, Time::from_min(1.0)).unwrap();
        let is_stop = |segment: &&Segment| {
            matches!(segment.kind, SegmentKind::Stop | SegmentKind::SafetyStop)
        };
        let stops: Vec<&Segment> = briefing.schedule.segments.iter().filter(is_stop).collect();
        let rows = rows_of(&plan);
        let rows: Vec<&Row> = rows.iter().filter(|row| row.topic == "stop").collect();
        assert_eq!(rows.len(), stops.len(), "{name}");
        for (row, stop) in rows.iter().zip(stops) {
            assert!((row.depth_m.unwrap() - stop.from.as_m()).abs() < 1e-12);
            let words = all_words(row);
            if stop.kind == SegmentKind::SafetyStop {
                assert!(row.steps.len() == 1, "{name}");
                // Nothing is by choice on a dive on which nobody may go straight up.
                assert_eq!(
                    words.starts_with("By choice:"),
                    !briefing.schedule.staged,
                    "{name}"
                );
                assert_eq!(
                    row.title.starts_with("Safety stop"),
                    !briefing.schedule.staged,
                    "{name}"
                );
                by_choice += usize::from(!briefing.schedule.staged);
                continue;
            }
            let overs: Vec<f64> = equations(row)
                .filter(|line| line.symbol == "x")
                .map(|line| line.result.parse().unwrap())
                .collect();
            assert!(*overs.last().unwrap() <= 0.0, "{name}: {}", row.title);
            if words.contains("is barred") {
                assert!(overs.len() == 2 && overs[0] > 0.0, "{name}: {}", row.title);
                barred += 1;
            } else {
                assert!(
                    words.contains("safety stop holds until then")
                        || words.contains("the stop lasts to the first whole minute"),
                    "{name}: {words}"
                );
            }
            // What the compartment holds when the stop begins and when it ends.
            let number: usize = words
                .split("ompartment ")
                .find_map(|rest| rest.split(' ').next().unwrap().parse().ok())
                .unwrap();
            let held = |time| sample_at(&samples, time).compartments[number - 1].inert_bar;
            let start = briefing.schedule.start.tissues;
            if start.know_nitrogen_alone(briefing.plan.rules().bottom_gas) {
                let first = equations(row)
                    .find_map(|line| number_of(line, "p_0"))
                    .unwrap();
                assert!(
                    (first - held(stop.start)).abs() <= BAR,
                    "{name}: {}",
                    row.title
                );
                if let Some(leaving) = last(row, "p_1") {
                    assert!(
                        (leaving - held(stop.end)).abs() <= BAR,
                        "{name}: {}",
                        row.title
                    );
                }
            }
        }
    }
    assert!(barred >= 12 && by_choice >= 5, "{barred} {by_choice}");
}
