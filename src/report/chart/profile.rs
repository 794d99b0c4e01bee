//! Depth and ceiling over run time.

use super::super::trace::TracedDive;
use super::axes::{in_units, round_up};
use super::parts::{Axis, Chart, Curve, Label, Line, Mark, Point, Shade, title_of};
use crate::briefing::Briefing;
use crate::dive::{Schedule, SegmentKind};
use crate::quantity::show::{Show, minutes_up};
use crate::quantity::{Depth, Time, UnitSystem};
use crate::site::Mix;

/// Everything at one depth of the way up.
struct Pause {
    depth: Depth,
    end: Time,
    time: Time,
    /// The gas switched to there.
    gas: Option<Mix>,
}

impl Pause {
    /// Each, in the order of the way up.
    fn each(schedule: &Schedule) -> Vec<Self> {
        let mut pauses: Vec<Self> = Vec::new();
        let stops = schedule.way_up.iter();
        for stop in stops.filter(|segment| segment.kind != SegmentKind::Ascent) {
            let gas = (stop.kind == SegmentKind::Switch).then_some(stop.gas);
            match pauses.last_mut() {
                Some(pause) if pause.depth == stop.to => {
                    pause.end = stop.end;
                    pause.time = pause.time + stop.time();
                }
                _ => pauses.push(Self {
                    depth: stop.to,
                    end: stop.end,
                    time: stop.time(),
                    gas,
                }),
            }
        }
        pauses
    }

    /// Its end.
    fn at(&self, units: UnitSystem) -> Point {
        (self.end.as_min(), in_units(self.depth, units))
    }

    /// `EAN50, 21 m, 3 min`
    fn label(&self, units: UnitSystem) -> Label {
        let gas = self.gas.map_or(String::new(), |gas| format!("{gas}, "));
        let depth = Show(units).depth(self.depth);
        let text = format!("{gas}{depth}, {} min", minutes_up(self.time));
        Label::around(self.at(units), text)
    }
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
    let pauses = Pause::each(schedule);
    let ends: Vec<Point> = pauses.iter().map(|pause| pause.at(units)).collect();
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
        title: format!("{}: depth over run time", title_of(briefing)),
        caption: caption(briefing),
        // Room for the last stop's words.
        x: Axis::run_time(schedule.run_time().as_min() * 1.16),
        y: Axis::depth(units, 0.0, round_up(deepest * 1.04, step)).downward(),
        curves,
        labels: pauses.iter().map(|pause| pause.label(units)).collect(),
    }
}

fn caption(briefing: &Briefing) -> String {
    let factors = &briefing.plan.rules.factors;
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
