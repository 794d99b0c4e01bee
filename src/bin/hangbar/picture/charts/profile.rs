//! Depth and ceiling over run time.

use hangbar::dive::SegmentKind;
use hangbar::quantity::show::{Show, minutes_up};
use hangbar::quantity::{Depth, RunTime, Time, UnitSystem};
use hangbar::site::Mix;

use super::super::{Axis, Chart, Label, Line, Mark, Shade, Side};
use super::{depth_unit, in_units, line, marks, round_up, run_time_axis, title_of};
use crate::trace::Trace;

/// Everything at one depth of the way up.
struct Pause {
    depth: Depth,
    end: RunTime,
    time: Time,
    /// The gas switched to there.
    gas: Option<Mix>,
}

/// Depth and ceiling over run time, the stops labelled.
pub(crate) fn profile_chart(trace: &Trace) -> Chart {
    let units = trace.units;
    let briefing = &trace.briefing;
    let schedule = &briefing.schedule;
    let show = Show(units);
    let run_time = schedule.run_time().as_min();
    let deepest = in_units(schedule.deepest(), units);
    let samples = trace.samples.iter();
    let depths = samples
        .clone()
        .map(|s| (s.run_time.as_min(), in_units(s.depth, units)));
    let ceilings = samples.map(|s| (s.run_time.as_min(), in_units(s.ceiling, units)));
    let mut curves = vec![
        line("depth", depths.collect(), Line::Solid, Shade::Curve(0)),
        line(
            "ceiling: no shallower than this",
            ceilings.collect(),
            Line::ShortDash,
            Shade::Curve(1),
        ),
    ];
    let mut pauses: Vec<Pause> = Vec::new();
    let stops = schedule.way_up.iter();
    for stop in stops.filter(|segment| segment.kind != SegmentKind::Ascent) {
        let gas = (stop.kind == SegmentKind::Switch).then_some(stop.gas);
        match pauses.last_mut() {
            Some(pause) if pause.depth == stop.to => {
                pause.end = stop.end;
                pause.time = pause.time + stop.time();
            }
            _ => pauses.push(Pause {
                depth: stop.to,
                end: stop.end,
                time: stop.time(),
                gas,
            }),
        }
    }
    let at = |pause: &Pause| (pause.end.as_min(), in_units(pause.depth, units));
    let stops: Vec<(f64, f64)> = pauses.iter().map(at).collect();
    let labels: Vec<Label> = pauses
        .iter()
        .map(|pause| {
            let gas = pause.gas.map_or(String::new(), |gas| format!("{gas}, "));
            let depth = show.depth(pause.depth);
            Label {
                at: at(pause),
                text: format!("{gas}{depth}, {} min", minutes_up(pause.time)),
                side: Side::Around,
            }
        })
        .collect();
    if !stops.is_empty() {
        curves.push(marks(
            "end of a stop or a gas switch",
            stops,
            Mark::Circle,
            Shade::Curve(0),
        ));
    }
    let factors = &briefing.plan.rules().factors;
    let caption = if schedule.staged {
        format!(
            "Ceiling by ZH-L16C, gradient factors {:.0}/{:.0}, for going up at once; at 0 the \
             surface is open. The way up itself gives off gas: a ceiling may show before the \
             no-stop limit.",
            factors.low() * 100.0,
            factors.high() * 100.0
        )
    } else {
        format!(
            "Ceiling by ZH-L16C with the high gradient factor, {:.0} %, for going up at once: a \
             no-stop dive may show one for a while, since the way up itself gives off gas.",
            factors.high() * 100.0
        )
    };
    let step = if matches!(units, UnitSystem::Metric) {
        5.0
    } else {
        10.0
    };
    Chart {
        title: format!("{}: depth over run time", title_of(briefing)),
        caption,
        // Room for the last stop's words.
        x: run_time_axis(run_time * 1.16),
        y: Axis {
            title: format!("depth, {}", depth_unit(units)),
            least: 0.0,
            greatest: round_up(deepest * 1.04, step),
            downward: true,
        },
        curves,
        labels,
    }
}
