//! Depth and ceiling over run time.

use super::super::trace::TracedDive;
use super::axes::{in_units, round_up};
use super::parts::{Axis, Chart, Curve, Label, Line, Mark, Point, Shade, title_of};
use crate::briefing::Briefing;
use crate::dive::{Pause, Schedule};
use crate::quantity::show::{Show, minutes_up};
use crate::quantity::{Depth, UnitSystem};

/// The pauses of the way up.
fn pauses(schedule: &Schedule) -> impl Iterator<Item = Pause<'_>> {
    let bottom = schedule.leave_bottom();
    let pauses = schedule.pauses_by_depth();
    pauses.filter(move |pause| pause.arrive >= bottom)
}

/// The end of a pause.
fn end_of(pause: &Pause<'_>, units: UnitSystem) -> Point {
    (pause.leave.as_min(), in_units(pause.depth, units))
}

/// `EAN50, 21 m, 3 min`
fn label(pause: &Pause<'_>, units: UnitSystem) -> Label {
    let gas = pause
        .switched_to()
        .map_or(String::new(), |gas| format!("{gas}, "));
    let depth = Show(units).depth(pause.depth);
    let text = format!("{gas}{depth}, {} min", minutes_up(pause.time()));
    Label::around(end_of(pause, units), text)
}

/// Depth and ceiling over run time, the stops labelled.
pub(super) fn profile(dive: &TracedDive<'_>, units: UnitSystem) -> Chart {
    let briefing = dive.briefing();
    let schedule = &briefing.schedule;
    let over_time = |depth: &dyn Fn(usize) -> Depth| -> Vec<Point> {
        let samples = dive.samples().iter().enumerate();
        samples
            .map(|(index, sample)| (sample.run_time.as_min(), in_units(depth(index), units)))
            .collect()
    };
    let depths = over_time(&|index| dive.samples()[index].depth);
    let ceilings = over_time(&|index| dive.samples()[index].ceiling);
    let ceiling = "ceiling: no shallower than this";
    let mut curves = vec![
        Curve::line("depth", depths, Line::Solid, Shade::Curve(0)),
        Curve::line(ceiling, ceilings, Line::ShortDash, Shade::Curve(1)),
    ];
    let ends: Vec<Point> = pauses(schedule)
        .map(|pause| end_of(&pause, units))
        .collect();
    if !ends.is_empty() {
        let name = "end of a stop or a gas switch";
        curves.push(Curve::marks(name, ends, Mark::Circle, Shade::Curve(0)));
    }
    let deepest = in_units(schedule.deepest(), units);
    let step = match units {
        UnitSystem::Metric => 5.0,
        UnitSystem::Imperial => 10.0,
    };
    Chart {
        below: None,
        title: format!("{}: depth over run time", title_of(briefing)),
        caption: caption(briefing),
        // Room for the last stop's words.
        x: Axis::run_time(schedule.run_time().as_min() * 1.16),
        y: Axis::depth(units, 0.0, round_up(deepest * 1.04, step)).downward(),
        curves,
        labels: pauses(schedule).map(|pause| label(&pause, units)).collect(),
    }
}

fn caption(briefing: &Briefing) -> String {
    let factors = &briefing.plan.rules().factors;
    if briefing.schedule.staged {
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
    }
}
