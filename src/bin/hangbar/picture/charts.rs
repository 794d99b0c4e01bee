//! The four charts: profile with ceiling, one compartment's path, limits against depth, cylinders.

use hangbar::briefing::Briefing;
use hangbar::gas_budget::DiverBudget;
use hangbar::limit_table::LimitCell;
use hangbar::mix::Mix;
use hangbar::schedule::SegmentKind;
use hangbar::show::{Show, minutes_up};
use hangbar::tissue::Tissues;
use hangbar::units::{Depth, GaugePressure, Pressure, Time, UnitSystem};

use super::{Axis, Chart, Curve, LINES, Label, Line, MARKS, Mark, Side};
use crate::limits::Limits;
use crate::trace::Trace;

/// No-stop limits of the U.S. Navy for air: depth in fsw, minutes.
///
/// Source: NOAA No-Decompression Air Table, chart 1 (U.S. Navy Standard Air limits).
const NAVY_AIR: [(f64, f64); 10] = [
    (40.0, 200.0),
    (50.0, 100.0),
    (60.0, 60.0),
    (70.0, 50.0),
    (80.0, 40.0),
    (90.0, 30.0),
    (100.0, 25.0),
    (110.0, 20.0),
    (120.0, 15.0),
    (130.0, 10.0),
];
/// Limits above this are cut off: the short ones are what a class must read.
const GREATEST_LIMIT_SHOWN_MIN: f64 = 120.0;
const TITLE_CHARACTERS: usize = 46;

/// Depths as an axis shows them.
fn in_units(depth: Depth, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => depth.as_m(),
        UnitSystem::Imperial => depth.as_ft(),
    }
}

const fn depth_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Metric => "m",
        UnitSystem::Imperial => "ft",
    }
}

/// The next multiple of a round step that is not less.
fn round_up(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

fn axis(title: impl Into<String>, least: f64, greatest: f64) -> Axis {
    Axis {
        title: title.into(),
        least,
        greatest,
        downward: false,
    }
}

fn title_of(briefing: &Briefing) -> String {
    let title = briefing.plan.title.as_deref().unwrap_or("Untitled dive");
    if title.chars().count() <= TITLE_CHARACTERS {
        return title.to_owned();
    }
    let cut: String = title.chars().take(TITLE_CHARACTERS - 1).collect();
    cut + "…"
}

/// Everything at one depth of the way up.
struct Pause {
    depth: Depth,
    end: Time,
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
        Curve {
            name: "depth".to_owned(),
            points: depths.collect(),
            line: Some(Line::Solid),
            mark: None,
            mark_every: 1,
            shade: 0,
        },
        Curve {
            name: "ceiling: no shallower than this".to_owned(),
            points: ceilings.collect(),
            line: Some(Line::ShortDash),
            mark: None,
            mark_every: 1,
            shade: 1,
        },
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
                side: Side::Right,
            }
        })
        .collect();
    if !stops.is_empty() {
        curves.push(Curve {
            name: "end of a stop or a gas switch".to_owned(),
            points: stops,
            line: None,
            mark: Some(Mark::Circle),
            mark_every: 1,
            shade: 0,
        });
    }
    let factors = &briefing.plan.rules.factors;
    let caption = if schedule.staged {
        format!(
            "Ceiling by ZH-L16C with gradient factors {:.0}/{:.0}; where it is at 0 the surface is \
             open.",
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
        x: axis("run time, minutes", 0.0, round_up(run_time * 1.16, 5.0)),
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

/// Inert gas against ambient pressure in one compartment, with what it may hold.
pub(crate) fn compartment_chart(trace: &Trace, index: usize) -> Chart {
    let briefing = &trace.briefing;
    let rules = &briefing.plan.rules;
    let surface = rules.environment.surface();
    let deepest = rules.environment.ambient(briefing.schedule.deepest());
    let path: Vec<(f64, f64)> = trace
        .samples
        .iter()
        .map(|sample| {
            (
                sample.ambient.as_bar(),
                sample.compartments[index].inert_bar,
            )
        })
        .collect();
    let tissues = &briefing.schedule.tissues;
    let greatest_x = round_up(deepest.as_bar() * 1.05, 0.5);
    let line = |name: String, factor: f64, line: Line, shade: usize| {
        let at = |x: f64| (x, limit_at(trace, tissues, index, x, factor));
        Curve {
            name,
            points: vec![at(surface.as_bar()), at(greatest_x)],
            line: Some(line),
            mark: None,
            mark_every: 1,
            shade,
        }
    };
    let pct = |factor: f64| format!("{:.0} %", factor * 100.0);
    let factors = &rules.factors;
    let mut curves = vec![Curve {
        name: "the compartment, through the dive".to_owned(),
        points: path.clone(),
        line: Some(Line::Solid),
        mark: None,
        mark_every: 1,
        shade: 0,
    }];
    curves.push(line(
        "M-value: tolerated by the model".to_owned(),
        1.0,
        Line::LongDash,
        1,
    ));
    curves.push(line(
        format!("high factor, {}", pct(factors.high())),
        factors.high(),
        Line::ShortDash,
        1,
    ));
    curves.push(line(
        format!("low factor, {}", pct(factors.low())),
        factors.low(),
        Line::Dots,
        1,
    ));
    curves.push(line(
        "ambient pressure itself".to_owned(),
        0.0,
        Line::Thin,
        4,
    ));
    let ends = [path.first().copied(), path.last().copied()];
    curves.push(Curve {
        name: "start and surfacing".to_owned(),
        points: ends.into_iter().flatten().collect(),
        line: None,
        mark: Some(Mark::Circle),
        mark_every: 1,
        shade: 0,
    });
    let words = ["start", "surfacing"];
    let labels = ends
        .into_iter()
        .flatten()
        .zip(words)
        .map(|(at, text)| Label {
            at,
            text: text.to_owned(),
            side: Side::Left,
        });
    let labels = labels.collect();
    let compartment = &rules.compartments.compartments()[index];
    let helium = if tissues.hold_helium() {
        let half_time = compartment.helium.half_time.as_min();
        format!(
            ", {half_time} min for helium; with two inert gases the lines are those on surfacing"
        )
    } else {
        String::new()
    };
    let greatest_y = path.iter().fold(0.0_f64, |most, point| most.max(point.1));
    let line_end = limit_at(trace, tissues, index, surface.as_bar(), 1.0);
    Chart {
        title: format!("{}: compartment {}", title_of(briefing), index + 1),
        caption: format!(
            "Half-time {} min for nitrogen{helium}. Time runs along the curve from start to \
             surfacing; above a line the compartment holds more than that line allows.",
            compartment.nitrogen.half_time.as_min()
        ),
        x: axis(
            "ambient pressure, bar",
            round_down(
                surface.as_bar() - 0.13 * (greatest_x - surface.as_bar()),
                0.1,
            ),
            greatest_x,
        ),
        y: axis(
            "inert gas in the compartment, bar",
            0.0,
            round_up(greatest_y.max(line_end) * 1.1, 0.5),
        ),
        curves,
        labels,
    }
}

fn round_down(value: f64, step: f64) -> f64 {
    (value / step + 1e-9).floor() * step
}

fn limit_at(trace: &Trace, tissues: &Tissues, index: usize, ambient_bar: f64, factor: f64) -> f64 {
    let set = &trace.briefing.plan.rules.compartments;
    tissues.limit_bar(set, index, Pressure::from_bar(ambient_bar), factor)
}

/// No-stop limits against depth, with the navy's as marks.
pub(crate) fn limits_chart(limits: &Limits) -> Chart {
    let units = limits.units;
    let depth = |depth: Depth| in_units(depth, units);
    let fine = limits.finely();
    let mut curves: Vec<Curve> = limits
        .columns
        .iter()
        .enumerate()
        .map(|(index, column)| {
            let points = fine.iter().filter_map(|row| match row.cells[index] {
                LimitCell::Minutes { time, .. } => Some((depth(row.depth), time.as_min())),
                LimitCell::OverOxygenLimit { .. } | LimitCell::Unlimited => None,
            });
            Curve {
                name: Limits::column_name(column),
                points: points.collect(),
                line: Some(LINES[index % LINES.len()]),
                mark: extra_mark(index),
                mark_every: 10,
                shade: index,
            }
        })
        .collect();
    curves.push(Curve {
        name: "U.S. Navy, air".to_owned(),
        points: NAVY_AIR
            .iter()
            .map(|(feet, minutes)| (depth(Depth::from_ft(*feet)), *minutes))
            .collect(),
        line: None,
        mark: Some(Mark::Cross),
        mark_every: 1,
        shade: 4,
    });
    let ends = limits.rows.first().zip(limits.rows.last());
    let (least, greatest) = ends.map_or((0.0, 1.0), |(first, last)| {
        (depth(first.depth), depth(last.depth))
    });
    let longest = curves
        .iter()
        .flat_map(|curve| &curve.points)
        .fold(10.0_f64, |most, point| most.max(point.1));
    let greatest_minutes = round_up(longest, 10.0).min(GREATEST_LIMIT_SHOWN_MIN);
    Chart {
        title: "No-stop limit against depth".to_owned(),
        caption: format!(
            "ZH-L16C; surface {:.3} bar. Gas low/high gradient factor, per cent: only the high one \
             decides. Limits above {greatest_minutes} min are cut off; a curve ends where the gas has \
             too much oxygen. Crosses: U.S. Navy Standard Air limits, another model, from the NOAA \
             No-Decompression Air Table, chart 1 (sea level).",
            limits.plan.rules.environment.surface().as_bar()
        ),
        x: axis(
            format!("depth, {}", depth_unit(units)),
            least,
            greatest.max(least + 1.0),
        ),
        y: axis("no-stop limit, minutes", 0.0, greatest_minutes),
        curves,
        labels: Vec::new(),
    }
}

/// Every diver's main cylinder over run time, with turn and minimum.
pub(crate) fn cylinder_chart(briefing: &Briefing, units: UnitSystem) -> Chart {
    let pressure = |pressure: GaugePressure| match units {
        UnitSystem::Metric => pressure.as_bar(),
        UnitSystem::Imperial => pressure.as_psi(),
    };
    let show = Show(units);
    let bottom = briefing.schedule.bottom_time.as_min();
    let mut curves = Vec::new();
    let (mut turns, mut minimums) = (Vec::new(), Vec::new());
    let mut highest = 0.0_f64;
    for (index, diver) in briefing.divers.iter().enumerate() {
        let points: Vec<(f64, f64)> = briefing
            .cylinder_over_time(index)
            .into_iter()
            .map(|(time, gauge)| (time.as_min(), pressure(gauge)))
            .collect();
        highest = points.iter().fold(highest, |most, point| most.max(point.1));
        curves.push(Curve {
            name: cylinder_name(show, diver),
            points,
            line: Some(LINES[index % LINES.len()]),
            mark: extra_mark(index),
            mark_every: 5,
            shade: index,
        });
        if let Some(due) = diver.turn_due {
            turns.push((due.as_min(), pressure(diver.turn.min(diver.fill))));
        }
        minimums.push((bottom, pressure(diver.minimum_gas)));
        highest = highest.max(pressure(diver.minimum_gas.min(diver.fill * 1.2)));
    }
    let names = briefing.divers.iter().map(|diver| {
        let name: String = diver.name.chars().take(14).collect();
        format!("{name} {}", show.pressure_number_up(diver.minimum_gas))
    });
    let labels = apart(names.zip(minimums.iter().copied()), highest);
    curves.push(marks("turn due", turns, Mark::Triangle));
    curves.push(marks("minimum gas", minimums, Mark::Cross));
    let step = match units {
        UnitSystem::Metric => 20.0,
        UnitSystem::Imperial => 250.0,
    };
    let greatest = round_up(highest.max(step), step);
    curves.push(Curve {
        name: "leave the bottom".to_owned(),
        points: vec![(bottom, 0.0), (bottom, greatest)],
        line: Some(Line::Thin),
        mark: None,
        mark_every: 1,
        shade: 4,
    });
    let run_time = briefing.schedule.run_time().as_min();
    Chart {
        title: format!("{}: cylinders over run time", title_of(briefing)),
        caption:
            "Main cylinders as planned. A curve above its cross where it leaves the bottom keeps its \
                  reserve. Figures in the key are rounded toward safety."
                .to_owned(),
        x: axis("run time, minutes", 0.0, round_up(run_time * 1.02, 5.0)),
        y: axis(
            format!("cylinder gauge, {}", show.pressure_unit()),
            0.0,
            greatest,
        ),
        curves,
        labels,
    }
}

/// Names beside their points, moved so far apart that none stands on another.
fn apart(named: impl Iterator<Item = (String, (f64, f64))>, range: f64) -> Vec<Label> {
    const LEAST_SHARE: f64 = 0.045;
    let mut named: Vec<(String, (f64, f64))> = named.collect();
    named.sort_by(|(_, one), (_, other)| one.1.total_cmp(&other.1));
    let mut free_from = f64::NEG_INFINITY;
    let labels = named.into_iter().map(|(name, (x, y))| {
        let y = y.max(free_from);
        free_from = y + LEAST_SHARE * range;
        Label {
            at: (x, y),
            text: name,
            side: Side::Left,
        }
    });
    labels.collect()
}

/// Where the line styles are used up, the next curves of a kind get marks too.
fn extra_mark(index: usize) -> Option<Mark> {
    let round = index / LINES.len();
    round.checked_sub(1).map(|round| MARKS[round % MARKS.len()])
}

fn cylinder_name(show: Show, diver: &DiverBudget) -> String {
    let name: String = diver.name.chars().take(14).collect();
    format!(
        "{name}: turn {}, minimum {}",
        show.pressure_number_up(diver.turn),
        show.pressure_number_up(diver.minimum_gas)
    )
}

fn marks(name: &str, points: Vec<(f64, f64)>, mark: Mark) -> Curve {
    Curve {
        name: name.to_owned(),
        points,
        line: None,
        mark: Some(mark),
        mark_every: 1,
        shade: 4,
    }
}
