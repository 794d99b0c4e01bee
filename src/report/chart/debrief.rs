//! A dive as it was: depth and ceiling over run time beside the plan; what each diver breathed.

use super::axes::{in_units, round_up};
use super::parts::{Axis, Chart, Curve, Label, Line, Mark, Marks, Point, Shade, short};
use crate::debrief::{Debrief, Drawn, rate_up};
use crate::quantity::{BreathingRate, Depth, RunTime, UnitSystem};

/// A curve has no more moments than this; of more, what is drawn is the deepest of each few.
const MOMENTS: usize = 800;
/// So many records have names of their own in the key.
const NAMED: usize = 6;
const NAME_WIDTH: usize = 16;
const TITLE_WIDTH: usize = 42;

fn title(debrief: &Debrief) -> String {
    let title = short(
        debrief.plan().title().unwrap_or("Untitled dive"),
        TITLE_WIDTH,
    );
    if debrief.is_no_go() {
        format!("NO-GO for another dive: {title}")
    } else {
        title
    }
}

/// Depth over run time as planned and as it was, and the ceiling of each logger's dive.
#[must_use]
pub fn debriefed(debrief: &Debrief, units: UnitSystem) -> Chart {
    let schedule = &debrief.briefing.schedule;
    let point = |run_time: RunTime, depth: Depth| (run_time.as_min(), in_units(depth, units));
    let splash = std::iter::once((0.0, 0.0));
    let planned = schedule.segments.iter().map(|one| point(one.end, one.to));
    let planned: Vec<Point> = splash.chain(planned).collect();
    let mut curves = vec![Curve::line("planned", planned, Line::ThinDash, Shade::Grey)];
    let mut labels = Vec::new();
    let mut has_ceiling = false;
    for (index, dive) in debrief.dives.iter().enumerate().take(NAMED) {
        let name = short(&debrief.plan().divers()[dive.diver].name, NAME_WIDTH);
        let how = match dive.sampled() {
            Some(_) => "logger",
            None => "pencil, flown as planned",
        };
        let points: Vec<Point> = match dive.sampled() {
            Some(sampled) => thinned(&sampled.moments)
                .iter()
                .map(|at| point(at.run_time, at.depth))
                .collect(),
            None => dive
                .profile()
                .into_iter()
                .map(|(at, depth)| point(at, depth))
                .collect(),
        };
        labels.extend(Label::at_end_of(&points, name.clone()));
        curves.push(Curve::nth(format!("{name}: depth ({how})"), points, index));
        let ceilings = dive.sampled().map(|sampled| {
            let moments = thinned(&sampled.moments);
            let ceilings = moments.iter().map(|at| point(at.run_time, at.ceiling));
            ceilings.collect::<Vec<Point>>()
        });
        if let Some(ceilings) = ceilings.filter(|line| line.iter().any(|point| point.1 > 0.0)) {
            let name = format!("{name}: ceiling, no shallower than this");
            has_ceiling = true;
            curves.push(Curve::line(name, ceilings, Line::Thin, Shade::Curve(index)));
        }
    }
    let breaches = debrief.dives.iter().filter_map(|dive| dive.sampled());
    let worst = breaches
        .flat_map(|sampled| &sampled.breaches)
        .map(|breach| point(breach.at, breach.depth));
    let worst: Vec<Point> = worst.collect();
    if !worst.is_empty() {
        curves.push(Curve::marks(
            "above the ceiling",
            worst,
            Mark::Cross,
            Shade::Grey,
        ));
    }
    let dives = debrief.dives.iter();
    let longest = dives.clone().map(|dive| dive.run_time.as_min());
    let longest = longest.fold(schedule.run_time().as_min(), f64::max);
    let deepest = dives.map(|dive| dive.greatest_depth);
    let deepest = in_units(deepest.fold(schedule.deepest(), Depth::max), units);
    let step = match units {
        UnitSystem::Metric => 5.0,
        UnitSystem::Imperial => 10.0,
    };
    let left_out = debrief.dives.len().saturating_sub(NAMED);
    let left_out = match left_out {
        0 => String::new(),
        count => format!(" {count} more records are not drawn."),
    };
    Chart {
        below: None,
        title: format!("{}: the dive as it was", title(debrief)),
        caption: format!(
            "{}{left_out}",
            if has_ceiling {
                let high = debrief.plan().rules().factors.high() * 100.0;
                format!(
                    "Ceiling by ZH-L16C with the high gradient factor, {high:.0} %, from the recorded dive."
                )
            } else {
                "No ceiling in any recorded dive with the high gradient factor.".to_owned()
            }
        ),
        x: Axis::run_time(longest * 1.1),
        y: Axis::depth(units, 0.0, round_up(deepest * 1.04, step)).downward(),
        curves,
        labels,
    }
}

/// Of many moments the deepest of each few, and the deepest ceiling.
fn thinned(moments: &[Drawn]) -> Vec<Drawn> {
    let few = moments.len().div_ceil(MOMENTS).max(1);
    let deepest = |few: &[Drawn]| {
        let first = *few.first()?;
        Some(few.iter().fold(first, |deepest, at| Drawn {
            ceiling: deepest.ceiling.max(at.ceiling),
            ..if at.depth > deepest.depth {
                *at
            } else {
                deepest
            }
        }))
    };
    let last = moments.last().copied();
    let mut kept: Vec<Drawn> = moments.chunks(few).filter_map(deepest).collect();
    if few > 1 {
        kept.extend(last.filter(|last| {
            kept.last()
                .is_some_and(|kept| kept.run_time < last.run_time)
        }));
    }
    kept
}

/// What each diver breathed in every record, beside the plan.
#[must_use]
pub fn breathing(debrief: &Debrief, units: UnitSystem) -> Chart {
    let figure = |rate: BreathingRate| match units {
        UnitSystem::Metric => rate.as_l_min(),
        UnitSystem::Imperial => rate.as_cuft_min(),
    };
    let divers = debrief.plan().divers();
    let row = |index: usize| f64::from(u32::try_from(index + 1).unwrap_or(u32::MAX));
    let planned = divers.iter().enumerate();
    let planned: Vec<Point> = planned
        .map(|(index, diver)| (figure(diver.breathing), row(index)))
        .collect();
    let real = debrief.dives.iter().filter_map(|dive| {
        let rate = dive.breathed.rate.ok()?;
        Some((figure(rate), row(dive.diver)))
    });
    let real: Vec<Point> = real.collect();
    let names = divers.iter().enumerate().map(|(index, diver)| {
        let next = debrief.consumptions[index].map_or_else(
            || "no consumption recorded".to_owned(),
            |next| format!("next plan {}", rate_up(next.suggested, units)),
        );
        let name = short(&diver.name, NAME_WIDTH);
        Label::around(
            (figure(diver.breathing), row(index)),
            format!("{name}: {next}"),
        )
    });
    let greatest = planned
        .iter()
        .chain(&real)
        .fold(0.0_f64, |most, point| most.max(point.0));
    let (unit, step) = match units {
        UnitSystem::Metric => ("L/min", 5.0),
        UnitSystem::Imperial => ("cuft/min", 0.2),
    };
    let rows = Curve {
        name: "planned".to_owned(),
        points: Vec::new(),
        line: None,
        marks: Some(Marks {
            mark: Mark::Ring,
            at: planned.clone(),
        }),
        shade: Shade::Grey,
    };
    Chart {
        below: None,
        title: format!("{}: what was breathed", title(debrief)),
        caption:
            "Gas breathed in a minute at the surface's pressure. A calm dive says little of a hard \
                  one."
                .to_owned(),
        x: Axis::new(
            format!("breathed, {unit}"),
            0.0,
            round_up(greatest * 1.3, step),
        ),
        y: Axis::new("diver, as numbered in the plan", 0.0, row(divers.len())).downward(),
        curves: vec![
            rows,
            Curve::marks("breathed, each record", real, Mark::Circle, Shade::Curve(0)),
        ],
        labels: names.collect(),
    }
}
