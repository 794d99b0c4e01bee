//! What compartments hold: over run time beside what they tend to, and against ambient pressure
//! beside what they may hold.

use hangbar::dive::{CompartmentSample, Sample, inspired_inert};
use hangbar::quantity::Pressure;
use hangbar::tissue::{Compartment, Tissues};

use super::super::{Chart, Curve, Label, Line, Mark, Point, Shade, Side};
use super::{
    axis, curve, line, marks, pressure_axis, round_down, round_up, run_time_axis, title_of,
};
use crate::trace::Trace;

/// So many compartments leave room for a line each of what they may hold.
const MOST_WITH_M_VALUES: usize = 3;
const INERT: &str = "inert gas, bar";

fn half_times(compartment: &Compartment, helium: bool) -> String {
    let nitrogen = compartment.nitrogen.half_time.as_min();
    if helium {
        let helium = compartment.helium.half_time.as_min();
        format!("{nitrogen} min for nitrogen, {helium} min for helium")
    } else {
        format!("{nitrogen} min for nitrogen")
    }
}

fn pct(factor: f64) -> String {
    format!("{:.0} %", factor * 100.0)
}

/// Inert gas in the chosen compartments over run time, with the inspired pressure that each tends
/// to and, where there is room, what each may hold at the surface.
pub(crate) fn uptake_chart(trace: &Trace) -> Chart {
    let rules = trace.briefing.plan.rules();
    let set = rules.compartments.compartments();
    let helium = trace.briefing.schedule.tissues.hold_helium();
    let over_time = |index: usize, value: &dyn Fn(&CompartmentSample) -> f64| -> Vec<Point> {
        let samples = trace.samples.iter();
        samples
            .map(|sample| (sample.run_time.as_min(), value(&sample.compartments[index])))
            .collect()
    };
    let held = |row: &CompartmentSample| row.inert_bar;
    let m_value = |row: &CompartmentSample| row.surface_m_value_bar;
    let limit = |row: &CompartmentSample| row.surface_limit_bar;
    let mut curves: Vec<Curve> = Vec::new();
    let mut labels: Vec<Label> = Vec::new();
    // Names stand at the ends of the curves.
    let mut label = |curve: &[Point], text: String| {
        labels.extend(curve.last().map(|at| Label {
            at: *at,
            text,
            side: Side::End,
        }));
    };
    let (subject, caption) = if let [index] = trace.shown[..] {
        let points = over_time(index, &held);
        label(&points, format!("{}", index + 1));
        curves.push(curve(format!("compartment {}", index + 1), points, 0));
        let m_values = over_time(index, &m_value);
        label(&m_values, "M-value".to_owned());
        let at_surface = "M-value at the surface";
        curves.push(line(at_surface, m_values, Line::LongDash, Shade::Curve(1)));
        let high = pct(rules.factors.high());
        let limits = over_time(index, &limit);
        label(&limits, high.clone());
        let name = format!("high factor, {high}");
        curves.push(line(name, limits, Line::ShortDash, Shade::Curve(1)));
        let caption = format!(
            "Half-time {}: it takes half of what is missing to the inspired pressure in that time. \
             Above the line of the high factor it holds too much for the surface.",
            half_times(&set[index], helium)
        );
        (format!("compartment {}", index + 1), caption)
    } else {
        for (nth, index) in trace.shown.iter().copied().enumerate() {
            let half_time = set[index].nitrogen.half_time.as_min();
            let points = over_time(index, &held);
            label(&points, format!("{}", index + 1));
            curves.push(curve(
                format!("{}: {half_time} min", index + 1),
                points,
                nth,
            ));
        }
        let drawn = trace.shown.len() <= MOST_WITH_M_VALUES;
        for (nth, index) in trace.shown.iter().copied().enumerate().filter(|_| drawn) {
            let points = over_time(index, &m_value);
            label(&points, format!("M of {}", index + 1));
            let name = format!("{}: M at the surface", index + 1);
            curves.push(line(name, points, Line::ThinDash, Shade::Curve(nth)));
        }
        let mut caption =
            "Compartments with their half-times for nitrogen: in that time each takes \
                           half of what is missing to the inspired pressure."
                .to_owned();
        if drawn {
            caption.push_str(" M: its M-value, what it may hold at the surface at most.");
        }
        ("compartments".to_owned(), caption)
    };
    let inspired = inspired(&trace.samples);
    let halfway = trace.briefing.schedule.bottom_time.as_min() / 2.0;
    let middle = inspired.iter().find(|point| point.0 >= halfway);
    labels.extend(middle.map(|at| Label {
        at: *at,
        text: "inspired".to_owned(),
        side: Side::Around,
    }));
    let name = "inspired inert gas";
    curves.push(line(name, inspired, Line::Thin, Shade::Grey));
    let points = curves.iter().flat_map(|curve| &curve.points);
    let greatest = points.fold(0.0_f64, |most, point| most.max(point.1));
    let run_time = trace.briefing.schedule.run_time().as_min();
    Chart {
        title: format!("{}: {subject} over time", title_of(&trace.briefing)),
        caption,
        // Room for the names at the ends of the curves.
        x: run_time_axis(run_time * 1.14),
        y: pressure_axis(INERT, greatest * 1.06),
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

/// Inert gas against ambient pressure in one compartment, under the lines of what it may hold.
pub(crate) fn path_chart(trace: &Trace, index: usize) -> Chart {
    let briefing = &trace.briefing;
    let rules = briefing.plan.rules();
    let surface = rules.environment.surface();
    let deepest = rules.environment.ambient(briefing.schedule.deepest());
    let samples = trace.samples.iter();
    let path: Vec<Point> = samples
        .map(|sample| {
            (
                sample.ambient.as_bar(),
                sample.compartments[index].inert_bar,
            )
        })
        .collect();
    let tissues = &briefing.schedule.tissues;
    let greatest_x = round_up(deepest.as_bar() * 1.02, 0.1);
    let limit = |name: String, factor: f64, style: Line, shade: Shade| {
        let at = |x: f64| (x, limit_at(trace, tissues, index, x, factor));
        let points = vec![at(surface.as_bar()), at(greatest_x)];
        line(name, points, style, shade)
    };
    let factors = &rules.factors;
    let (high, low) = (pct(factors.high()), pct(factors.low()));
    let ends: Vec<Point> = path
        .first()
        .into_iter()
        .chain(path.last())
        .copied()
        .collect();
    let shade = Shade::Curve(1);
    let curves = vec![
        line(
            "the compartment, through the dive",
            path,
            Line::Solid,
            Shade::Curve(0),
        ),
        limit(
            "M-value: tolerated by the model".to_owned(),
            1.0,
            Line::LongDash,
            shade,
        ),
        limit(
            format!("high factor, {high}"),
            factors.high(),
            Line::ShortDash,
            shade,
        ),
        limit(
            format!("low factor, {low}"),
            factors.low(),
            Line::Dots,
            shade,
        ),
        limit(
            "ambient pressure itself".to_owned(),
            0.0,
            Line::Thin,
            Shade::Grey,
        ),
        marks(
            "start and surfacing",
            ends.clone(),
            Mark::Circle,
            Shade::Curve(0),
        ),
    ];
    let words = ["start", "surfacing"];
    let labels = ends.into_iter().zip(words).map(|(at, text)| Label {
        at,
        text: text.to_owned(),
        side: Side::Around,
    });
    let labels = labels.collect();
    let helium = tissues.hold_helium();
    let two_gases = if helium {
        "; with two inert gases the lines are those on surfacing"
    } else {
        ""
    };
    let points = curves.iter().flat_map(|curve| &curve.points);
    let greatest_y = points.fold(0.0_f64, |most, point| most.max(point.1));
    let room_for_words = 0.13 * (greatest_x - surface.as_bar());
    Chart {
        title: format!("{}: compartment {}", title_of(briefing), index + 1),
        caption: format!(
            "Half-time {}{two_gases}. Time runs along the curve from start to surfacing; above a \
             line the compartment holds more than that line allows.",
            half_times(&rules.compartments.compartments()[index], helium)
        ),
        x: axis(
            "ambient pressure, bar",
            round_down(surface.as_bar() - room_for_words, 0.1),
            greatest_x,
        ),
        y: pressure_axis(INERT, greatest_y),
        curves,
        labels,
    }
}

fn limit_at(trace: &Trace, tissues: &Tissues, index: usize, ambient_bar: f64, factor: f64) -> f64 {
    let set = &trace.briefing.plan.rules().compartments;
    tissues.limit_bar(set, index, Pressure::from_bar(ambient_bar), factor)
}

#[cfg(test)]
mod tests {
    use hangbar::briefing::brief;
    use hangbar::dive::trace;
    use hangbar::plan_file::read;
    use hangbar::quantity::{Time, UnitSystem};

    use super::super::super::characters;
    use super::{Chart, Trace, uptake_chart};

    const TRIMIX: &str = "[profile]\ndepth = \"60 m\"\nbottom_time = \"22 min\"\n\
                          [gas]\nbottom = \"18/45\"\ndecompression = [\"EAN50\"]";

    fn chart(plan: &str, shown: &[usize]) -> Chart {
        let briefing = brief(read(plan).unwrap()).unwrap();
        let rules = briefing.plan.rules();
        let samples = trace(rules, &briefing.schedule, Time::from_min(0.5)).unwrap();
        uptake_chart(&Trace {
            briefing,
            units: UnitSystem::Metric,
            samples,
            shown: shown.to_vec(),
        })
    }

    #[test]
    fn curves_are_told_apart_without_their_shades() {
        for shown in [&[0][..], &[0, 3, 15], &[0, 2, 4, 7, 11, 15]] {
            let chart = chart(TRIMIX, shown);
            // What a compartment may hold shares a line style with what the others may.
            let held = chart.curves.iter().filter(|c| !c.name.contains("M at"));
            let looks: Vec<_> = held
                .map(|curve| (curve.line, curve.marks.as_ref().map(|marks| marks.mark)))
                .collect();
            for (index, look) in looks.iter().enumerate() {
                assert!(!looks[..index].contains(look), "{shown:?}: {look:?}");
            }
        }
    }

    #[test]
    fn what_is_inspired_falls_in_a_step_where_the_gas_is_switched() {
        let chart = chart(TRIMIX, &[0]);
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
        for shown in [&[0][..], &[0, 3, 15], &[0, 2, 4, 7, 11, 15]] {
            let chart = chart(TRIMIX, shown);
            let points = chart.curves.iter().flat_map(|curve| &curve.points);
            for (x, y) in points {
                assert!((chart.x.least..chart.x.greatest).contains(x), "{x}");
                assert!((chart.y.least..chart.y.greatest).contains(y), "{y}");
            }
        }
    }

    #[test]
    fn in_characters_a_compartment_comes_up_to_what_is_inspired() {
        let hour = "[profile]\ndepth = \"9 m\"\nbottom_time = \"60 min\"";
        let text = characters::render(&chart(hour, &[0]));
        assert!(
            text.lines().all(|line| line.chars().count() <= 80),
            "{text}"
        );
        assert!(text.contains("  o  compartment 1\n"), "{text}");
        assert!(text.contains("  *  inspired inert gas\n"), "{text}");
        // The compartment's rows from left to right only rise until the bottom is left.
        let rows: Vec<&str> = text.lines().filter(|line| line.contains('|')).collect();
        let first_of = |row: &&str| row.find('o');
        let starts: Vec<usize> = rows.iter().filter_map(first_of).collect();
        assert!(starts.len() > 2, "{text}");
        assert!(starts.windows(2).all(|pair| pair[0] > pair[1]), "{text}");
    }
}
