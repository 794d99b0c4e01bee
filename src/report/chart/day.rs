//! A day: depth over the time of day, and below it the leading gradient.

use super::super::whole_day::title;
use super::axes::{in_units, round_down, round_up};
use super::parts::{Axis, Chart, Curve, Label, Line, Point, Shade, Ticks};
use crate::day::{Day, DayDive};
use crate::dive::{Sample, trace};
use crate::finding::Verdict;
use crate::quantity::show::Show;
use crate::quantity::{Depth, Time, UnitSystem};

const MINUTES_AN_HOUR: f64 = 60.0;
/// Pieces of a dive.
const STEP: Time = Time::from_min(0.5);
/// Pieces of the time at the surface.
const REST_MIN: u32 = 5;
/// How much of the time after the last dive is shown.
const AFTER: Time = Time::from_min(120.0);
/// The whole M-value.
const WHOLE_PCT: f64 = 100.0;

/// Depth over the time of day; below it the gradient of the leading compartment, of the team in the
/// water and of whoever holds most at the surface.
#[must_use]
pub fn day(day: &Day, units: UnitSystem) -> Chart {
    let dives: Vec<(&DayDive, Vec<Sample>)> = day
        .dives
        .iter()
        .map(|dive| {
            let rules = dive.briefing.plan.rules();
            // A step within the range is never refused.
            let samples = trace(rules, &dive.briefing.schedule, STEP).unwrap_or_default();
            (dive, samples)
        })
        .collect();
    let x = hours(day);
    let mut depths: Vec<Point> = Vec::new();
    let mut gradients: Vec<Point> = Vec::new();
    for (index, (dive, samples)) in dives.iter().enumerate() {
        let at = |sample: &Sample| hour(dive.starts + sample.run_time.elapsed());
        depths.extend(samples.iter().map(|s| (at(s), in_units(s.depth, units))));
        let share = |sample: &Sample| sample.leading.fraction.max(0.0) * WHOLE_PCT;
        gradients.extend(samples.iter().map(|s| (at(s), share(s))));
        let next = day.dives.get(index + 1).map(|next| next.starts);
        let until = next.unwrap_or(dive.ends + AFTER);
        let rest = rest(dive, until);
        depths.extend(
            rest.iter()
                .map(|(time, _)| (*time, in_units(Depth::SURFACE, units))),
        );
        gradients.extend(rest);
    }
    let deepest = depths.iter().fold(0.0_f64, |most, point| most.max(point.1));
    let step = match units {
        UnitSystem::Metric => 5.0,
        UnitSystem::Imperial => 10.0,
    };
    let labels = day.dives.iter().enumerate().map(|(index, dive)| {
        let schedule = &dive.briefing.schedule;
        let depth = schedule.last_depth();
        let at = (
            hour(dive.starts + schedule.leave_bottom().elapsed()),
            in_units(depth, units),
        );
        let text = format!(
            "dive {}, {}",
            index + 1,
            Show(units).depth(schedule.deepest())
        );
        Label::around(at, text)
    });
    let highest = gradients
        .iter()
        .fold(0.0_f64, |most, point| most.max(point.1));
    let (factors, name) = factors(day, &x);
    let factor = factors
        .iter()
        .fold(0.0_f64, |most, point| most.max(point.1));
    let below = Chart {
        title: String::new(),
        caption: String::new(),
        x: x.clone(),
        y: Axis::new(
            "gradient, %",
            0.0,
            round_up(highest.max(factor) * 1.04, 20.0),
        ),
        curves: vec![
            Curve::line(
                "gradient of the leading compartment",
                gradients,
                Line::Solid,
                Shade::Curve(1),
            ),
            Curve::line(name, factors, Line::ThinDash, Shade::Grey),
        ],
        labels: Vec::new(),
        below: None,
    };
    Chart {
        title: match day.verdict() {
            Verdict::NoGo => format!("{}: {}", Verdict::NoGo.title(), title(day)),
            Verdict::Go | Verdict::ScheduleOnly => {
                format!("{}: depth and leading gradient", title(day))
            }
        },
        caption: "Gradient by ZH-L16C, of the M-value's at the depth there: of the team in the \
                  water, of whoever holds most at the surface. At 0 % nobody holds more than the \
                  air around; they are still loaded."
            .to_owned(),
        x: Axis {
            title: String::new(),
            ..x
        },
        y: Axis::depth(units, 0.0, round_up(deepest * 1.08, step)).downward(),
        curves: vec![Curve::line("depth", depths, Line::Solid, Shade::Curve(0))],
        labels: labels.collect(),
        below: Some(Box::new(below)),
    }
}

/// The high factor over the day, that of each dive until the next one begins, and what it is called.
fn factors(day: &Day, x: &Axis) -> (Vec<Point>, String) {
    let high = |dive: &DayDive| dive.briefing.plan.rules().factors.high() * WHOLE_PCT;
    let mut points: Vec<Point> = Vec::new();
    for (index, dive) in day.dives.iter().enumerate() {
        let from = if index == 0 {
            x.least
        } else {
            hour(dive.starts)
        };
        let next = day.dives.get(index + 1);
        let until = next.map_or(x.greatest, |next| hour(next.starts));
        points.extend([(from, high(dive)), (until, high(dive))]);
    }
    let first = points[0].1;
    let is_one = points.iter().all(|point| point.1.total_cmp(&first).is_eq());
    let name = if is_one {
        format!("high gradient factor, {first:.0} %")
    } else {
        "high gradient factor, each dive's".to_owned()
    };
    (points, name)
}

fn hour(time: Time) -> f64 {
    time.as_min() / MINUTES_AN_HOUR
}

fn hours(day: &Day) -> Axis {
    let first = day.dives.first().map_or(0.0, |dive| hour(dive.starts));
    let last = day.dives.last().map_or(0.0, |dive| hour(dive.ends + AFTER));
    let (title, ticks) = if day.has_clock {
        ("time of day", Ticks::TimesOfDay)
    } else {
        ("hours since the first splash", Ticks::Numbers)
    };
    Axis {
        ticks,
        ..Axis::new(title, round_down(first, 0.5), round_up(last, 0.5))
    }
}

/// The leading gradient at the surface after a dive.
fn rest(dive: &DayDive, until: Time) -> Vec<Point> {
    let rules = dive.briefing.plan.rules();
    let surface = rules.environment.surface();
    let mut points = Vec::new();
    let mut rested = 0;
    loop {
        let time = Time::from_min(f64::from(rested));
        let at = dive.ends + time;
        let ends = !until.is_over(at);
        let time = if ends { until - dive.ends } else { time };
        let start = dive.after.rested(&rules.compartments, surface, time);
        let leading = start.tissues.gradient(&rules.compartments, surface);
        points.push((
            hour(dive.ends + time),
            leading.fraction.max(0.0) * WHOLE_PCT,
        ));
        if ends {
            return points;
        }
        rested += REST_MIN;
    }
}
