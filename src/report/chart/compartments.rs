//! What compartments hold: over run time beside what they tend to, and against ambient pressure
//! beside what they may hold.

use super::super::trace::TracedDive;
use super::axes::{round_down, round_up};
use super::parts::{Axis, Chart, Curve, Label, Line, Mark, Point, Shade, highest, title_of};
use crate::dive::{CompartmentSample, Sample, inspired_inert};
use crate::quantity::Pressure;
use crate::tissue::GradientFactors;

/// So many compartments leave room for a line each of what they may hold.
const MOST_WITH_M_VALUES: usize = 3;

/// Curves, the words beside them, and what is said of them.
struct Drawn {
    subject: String,
    caption: String,
    curves: Vec<Curve>,
    labels: Vec<Label>,
}

/// Inert gas in the chosen compartments over run time, with the inspired pressure that each tends
/// to and, where there is room, what each may hold at the surface.
pub(super) fn over_time(dive: &TracedDive<'_>) -> Chart {
    let briefing = dive.briefing();
    let Drawn {
        subject,
        caption,
        mut curves,
        mut labels,
    } = match dive.compartments() {
        [index] => one(dive, *index),
        _ => several(dive),
    };
    let inspired = inspired(dive.samples());
    let halfway = briefing.schedule.bottom_time.as_min() / 2.0;
    let middle = inspired.iter().find(|point| point.0 >= halfway);
    labels.extend(middle.map(|at| Label::around(*at, "inspired")));
    let name = "inspired inert gas";
    curves.push(Curve::line(name, inspired, Line::Thin, Shade::Grey));
    let run_time = briefing.schedule.run_time().as_min();
    Chart {
        below: None,
        title: format!("{}: {subject} over time", title_of(briefing)),
        caption,
        // Room for the names at the ends of the curves.
        x: Axis::run_time(run_time * 1.14),
        y: Axis::inert_gas(highest(&curves) * 1.06),
        curves,
        labels,
    }
}

/// A figure of a compartment over run time.
fn figure(dive: &TracedDive<'_>, index: usize, value: fn(&CompartmentSample) -> f64) -> Vec<Point> {
    let samples = dive.samples().iter();
    samples
        .map(|sample| (sample.run_time.as_min(), value(&sample.compartments[index])))
        .collect()
}

fn one(dive: &TracedDive<'_>, index: usize) -> Drawn {
    let high = high_pct(&dive.briefing().plan.rules().factors);
    let held = figure(dive, index, |row| row.inert_bar);
    let m_values = figure(dive, index, |row| row.surface_m_value_bar);
    let limits = figure(dive, index, |row| row.surface_limit_bar);
    // Names stand at the ends of the curves.
    let labels = [
        Label::at_end_of(&held, format!("{}", index + 1)),
        Label::at_end_of(&m_values, "M-value"),
        Label::at_end_of(&limits, &high),
    ];
    let subject = format!("compartment {}", index + 1);
    let shade = Shade::Curve(1);
    Drawn {
        caption: format!(
            "Half-time {}: it takes half of what is missing to the inspired pressure in that time. \
             Above the line of the high factor it holds too much for the surface.",
            half_times(dive, index)
        ),
        curves: vec![
            Curve::nth(subject.clone(), held, 0),
            Curve::line("M-value at the surface", m_values, Line::LongDash, shade),
            Curve::line(
                format!("high factor, {high}"),
                limits,
                Line::ShortDash,
                shade,
            ),
        ],
        labels: labels.into_iter().flatten().collect(),
        subject,
    }
}

fn several(dive: &TracedDive<'_>) -> Drawn {
    let set = dive.briefing().plan.rules().compartments.compartments();
    let shown = || dive.compartments().iter().copied().enumerate();
    let (mut curves, mut labels) = (Vec::new(), Vec::new());
    for (nth, index) in shown() {
        let half_time = set[index].nitrogen.half_time.as_min();
        let points = figure(dive, index, |row| row.inert_bar);
        labels.extend(Label::at_end_of(&points, format!("{}", index + 1)));
        let name = format!("{}: {half_time} min", index + 1);
        curves.push(Curve::nth(name, points, nth));
    }
    let with_m_values = dive.compartments().len() <= MOST_WITH_M_VALUES;
    for (nth, index) in shown().filter(|_| with_m_values) {
        let points = figure(dive, index, |row| row.surface_m_value_bar);
        labels.extend(Label::at_end_of(&points, format!("M of {}", index + 1)));
        let name = format!("{}: M at the surface", index + 1);
        curves.push(Curve::line(name, points, Line::ThinDash, Shade::Curve(nth)));
    }
    let mut caption = "Compartments with their half-times for nitrogen: in that time each takes \
                       half of what is missing to the inspired pressure."
        .to_owned();
    if with_m_values {
        caption.push_str(" M: its M-value, what it may hold at the surface at most.");
    }
    Drawn {
        subject: "compartments".to_owned(),
        caption,
        curves,
        labels,
    }
}

/// The inspired pressure over run time; a gas switch is a step.
fn inspired(samples: &[Sample]) -> Vec<Point> {
    let mut points = Vec::with_capacity(samples.len());
    let mut before: Option<&Sample> = None;
    for sample in samples {
        if let Some(before) = before.filter(|before| before.gas != sample.gas) {
            let switched = inspired_inert(sample.gas, before.ambient);
            points.push((before.run_time.as_min(), switched.as_bar()));
        }
        points.push((sample.run_time.as_min(), sample.inspired.as_bar()));
        before = Some(sample);
    }
    points
}

/// Inert gas against ambient pressure in the first compartment chosen, under the lines of what it
/// may hold.
pub(super) fn against_ambient(dive: &TracedDive<'_>) -> Chart {
    let briefing = dive.briefing();
    let index = dive.compartments()[0];
    let environment = &briefing.plan.rules().environment;
    let surface = environment.surface().as_bar();
    let deepest = environment.ambient(briefing.schedule.deepest());
    let greatest = round_up(deepest.as_bar() * 1.02, 0.1);
    let samples = dive.samples().iter();
    let path: Vec<Point> = samples
        .map(|sample| {
            let inert = sample.compartments[index].inert_bar;
            (sample.ambient.as_bar(), inert)
        })
        .collect();
    let ends: Vec<Point> = path
        .first()
        .into_iter()
        .chain(path.last())
        .copied()
        .collect();
    let labels = ends.iter().zip(["start", "surfacing"]);
    let labels = labels.map(|(at, text)| Label::around(*at, text)).collect();
    let (name, shade) = ("the compartment, through the dive", Shade::Curve(0));
    let mut curves = vec![Curve::line(name, path, Line::Solid, shade)];
    curves.extend(limits(dive, index, [surface, greatest]));
    let name = "start and surfacing";
    curves.push(Curve::marks(name, ends, Mark::Circle, shade));
    let two_gases = if briefing.schedule.tissues.hold_helium() {
        "; with two inert gases the lines are those on surfacing"
    } else {
        ""
    };
    let room_for_words = 0.13 * (greatest - surface);
    let least = round_down(surface - room_for_words, 0.1);
    Chart {
        below: None,
        title: format!("{}: compartment {}", title_of(briefing), index + 1),
        caption: format!(
            "Half-time {}{two_gases}. Time runs along the curve from start to surfacing; above a \
             line the compartment holds more than that line allows.",
            half_times(dive, index)
        ),
        x: Axis::new("ambient pressure, bar", least, greatest),
        y: Axis::inert_gas(highest(&curves)),
        curves,
        labels,
    }
}

/// What a compartment may hold between two ambient pressures, in bar, by the model and by each
/// factor; last the ambient pressure itself.
fn limits(dive: &TracedDive<'_>, index: usize, ends: [f64; 2]) -> [Curve; 4] {
    let rules = dive.briefing().plan.rules();
    let tissues = &dive.briefing().schedule.tissues;
    let limit = |name: &str, factor: f64, style: Line, shade: Shade| {
        let at = |bar: f64| {
            let ambient = Pressure::from_bar(bar);
            let limit = tissues.limit_bar(&rules.compartments, index, ambient, factor);
            (bar, limit)
        };
        Curve::line(name, ends.map(at).to_vec(), style, shade)
    };
    let factors = &rules.factors;
    let high = format!("high factor, {}", high_pct(factors));
    let low = format!("low factor, {}", pct(factors.low()));
    let shade = Shade::Curve(1);
    [
        limit(
            "M-value: tolerated by the model",
            1.0,
            Line::LongDash,
            shade,
        ),
        limit(&high, factors.high(), Line::ShortDash, shade),
        limit(&low, factors.low(), Line::Dots, shade),
        limit("ambient pressure itself", 0.0, Line::Thin, Shade::Grey),
    ]
}

fn half_times(dive: &TracedDive<'_>, index: usize) -> String {
    let rules = dive.briefing().plan.rules();
    let compartment = &rules.compartments.compartments()[index];
    let nitrogen = compartment.nitrogen.half_time.as_min();
    if dive.briefing().schedule.tissues.hold_helium() {
        let helium = compartment.helium.half_time.as_min();
        format!("{nitrogen} min for nitrogen, {helium} min for helium")
    } else {
        format!("{nitrogen} min for nitrogen")
    }
}

fn high_pct(factors: &GradientFactors) -> String {
    pct(factors.high())
}

fn pct(factor: f64) -> String {
    format!("{:.0} %", factor * 100.0)
}

#[cfg(test)]
mod tests {
    use super::super::super::trace::{CompartmentChoice, TracedDive};
    use super::{Chart, over_time};
    use crate::briefing::brief;
    use crate::plan_file::read;
    use crate::quantity::Time;

    const TRIMIX: &str = "[profile]\ndepth = \"60 m\"\nbottom_time = \"22 min\"\n\
                          [gas]\nbottom = \"18/45\"\ndecompression = [\"EAN50\"]";
    const CHOICES: [&[u8]; 3] = [&[1], &[1, 4, 16], &[1, 3, 5, 8, 12, 16]];

    fn chart(numbers: &[u8]) -> Chart {
        let briefing = brief(read(TRIMIX).unwrap()).unwrap();
        let choice = CompartmentChoice::of(numbers).unwrap();
        over_time(&TracedDive::new(&briefing, Time::from_min(0.5), choice).unwrap())
    }

    #[test]
    fn curves_are_told_apart_without_their_shades() {
        for numbers in CHOICES {
            let chart = chart(numbers);
            // What a compartment may hold shares a line style with what the others may.
            let held = chart.curves.iter().filter(|c| !c.name.contains("M at"));
            let looks: Vec<_> = held
                .map(|curve| (curve.line, curve.marks.as_ref().map(|marks| marks.mark)))
                .collect();
            for (index, look) in looks.iter().enumerate() {
                assert!(!looks[..index].contains(look), "{numbers:?}: {look:?}");
            }
        }
    }

    #[test]
    fn what_is_inspired_falls_in_a_step_where_the_gas_is_switched() {
        let chart = chart(&[1]);
        let inspired = chart.curves.iter().find(|c| c.name.contains("inspired"));
        let points = &inspired.unwrap().points;
        let steps: Vec<f64> = points
            .windows(2)
            .filter(|pair| (pair[1].0 - pair[0].0).abs() < 1e-9)
            .map(|pair| pair[1].1 - pair[0].1)
            .collect();
        // From 18/45 to EAN50 at 21 m of sea: (1.01325 + 21*0.100518 - 0.0627)*(0.5 - 0.82).
        let [step] = steps[..] else {
            panic!("{steps:?}")
        };
        assert!((step + 0.979_66).abs() < 1e-4, "{step}");
    }

    #[test]
    fn every_point_is_within_the_axes() {
        for numbers in CHOICES {
            let chart = chart(numbers);
            let points = chart.curves.iter().flat_map(|curve| &curve.points);
            for (x, y) in points {
                assert!((chart.x.least..chart.x.greatest).contains(x), "{x}");
                assert!((chart.y.least..chart.y.greatest).contains(y), "{y}");
            }
        }
    }
}
