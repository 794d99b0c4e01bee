//! `hangbar trace`: the tissues through a dive.

use hangbar::briefing::Briefing;
use hangbar::show::{Show, hundredths_down, hundredths_up, whole_up};
use hangbar::tissue::Tissues;
use hangbar::trace::{Sample, trace};
use hangbar::units::UnitSystem;
use serde::Serialize;

use crate::args::{TableFormat, TraceArgs};
use crate::picture::{self, compartment_chart, profile_chart};
use crate::screen::Screen;
use crate::{Outcome, Refusal, refused, verdict_status, wants_colour, work_out};

/// The compartments that the text shows: the fastest, a middle and the slowest one.
const SHOWN: [usize; 3] = [0, 7, 15];

/// A dive and its samples.
pub(crate) struct Trace {
    pub(crate) briefing: Briefing,
    pub(crate) units: UnitSystem,
    pub(crate) samples: Vec<Sample>,
}

pub(crate) fn run(args: TraceArgs) -> Outcome {
    let overrides = args.on_the_day.overrides();
    let briefing = match work_out(&args.plan, &overrides) {
        Ok(briefing) => briefing,
        Err(refusal) => return refused(&refusal, &args.plan),
    };
    let rules = &briefing.plan.rules;
    let clean = Tissues::clean(rules.environment.surface());
    let samples = match trace(rules, &briefing.schedule, &clean, args.step) {
        Ok(samples) => samples,
        Err(error) => return refused(&Refusal::Dive(error.to_string()), &args.plan),
    };
    let units = args.shown.units.map_or(briefing.plan.units, Into::into);
    let trace = Trace {
        briefing,
        units,
        samples,
    };
    let output = match args.shown.format {
        TableFormat::Text => Ok(trace.text(wants_colour(args.shown.color))),
        TableFormat::Csv => Ok(trace.csv()),
        TableFormat::Json => trace.json(),
    };
    let status = verdict_status(&trace.briefing);
    picture::finish(output, status, &args.drawn, || match args.compartment {
        Some(number) => compartment_chart(&trace, usize::from(number) - 1),
        None => profile_chart(&trace),
    })
}

impl Trace {
    fn text(&self, colour: bool) -> String {
        let show = Show(self.units);
        let set = &self.briefing.plan.rules.compartments;
        let mut screen = Screen::new(colour);
        let title = self
            .briefing
            .plan
            .title
            .as_deref()
            .unwrap_or("Untitled dive");
        screen.title("Tissues through the dive: ", title);
        screen.paragraph(
            "Inert gas held / what the factor in force lets it hold, bar; the leading compartment \
             and the gradient that it uses; the ceiling of all sixteen.",
        );
        screen.line("");
        let half_times: Vec<String> = SHOWN
            .iter()
            .map(|index| {
                let half_time = set.compartments()[*index].nitrogen.half_time.as_min();
                format!("{:>12}", format!("{} ({half_time} min)", index + 1))
            })
            .collect();
        screen.line(&format!(
            "  minute    depth   ceiling   leading   {}",
            half_times.join(" ")
        ));
        for sample in &self.samples {
            let held: Vec<String> = SHOWN
                .iter()
                .map(|index| {
                    let row = &sample.compartments[*index];
                    format!(
                        "{:>12}",
                        format!(
                            "{} /{:>5}",
                            hundredths_up(row.inert_bar),
                            hundredths_down(row.limit_bar)
                        )
                    )
                })
                .collect();
            let ceiling = if sample.ceiling.as_m() > 0.0 {
                show.depth(sample.ceiling)
            } else {
                "surface".to_owned()
            };
            let leading = format!(
                "{} {:>4} %",
                sample.leading.index + 1,
                whole_up(sample.leading.fraction * 100.0)
            );
            screen.line(&format!(
                "{:>8.2} {:>8} {ceiling:>9} {leading:>9}   {}",
                sample.run_time.as_min(),
                show.depth(sample.depth),
                held.join(" ")
            ));
        }
        screen.finish()
    }

    fn csv(&self) -> String {
        let mut csv = String::from(
            "run_time_min,depth_m,gas,ambient_bar,ceiling_m,leading_compartment,leading_gradient_pct",
        );
        for number in 1..=hangbar::tissue::COMPARTMENTS {
            for column in [
                "inert_bar",
                "limit_bar",
                "m_value_bar",
                "gradient_pct",
                "ceiling_m",
            ] {
                csv.push_str(&format!(",compartment_{number}_{column}"));
            }
        }
        csv.push('\n');
        for sample in &self.samples {
            csv.push_str(&format!(
                "{},{},{},{},{},{},{}",
                sample.run_time.as_min(),
                sample.depth.as_m(),
                sample.gas,
                sample.ambient.as_bar(),
                sample.ceiling.as_m(),
                sample.leading.index + 1,
                sample.leading.fraction * 100.0,
            ));
            for row in &sample.compartments {
                csv.push_str(&format!(
                    ",{},{},{},{},{}",
                    row.inert_bar,
                    row.limit_bar,
                    row.m_value_bar,
                    row.gradient * 100.0,
                    row.ceiling.as_m()
                ));
            }
            csv.push('\n');
        }
        csv
    }

    fn json(&self) -> Result<String, serde_json::Error> {
        let document = Document {
            schema: "hangbar/trace/1",
            title: self.briefing.plan.title.as_deref(),
            verdict: self.briefing.verdict().word(),
            samples: self.samples.iter().map(sample_row).collect(),
        };
        let mut text = serde_json::to_string_pretty(&document)?;
        text.push('\n');
        Ok(text)
    }
}

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: Option<&'a str>,
    verdict: &'static str,
    samples: Vec<SampleRow>,
}

#[derive(Serialize)]
struct SampleRow {
    run_time_min: f64,
    depth_m: f64,
    gas: String,
    ambient_bar: f64,
    ceiling_m: f64,
    leading: Leading,
    compartments: Vec<CompartmentRow>,
}

#[derive(Serialize)]
struct Leading {
    compartment: usize,
    gradient_pct: f64,
}

#[derive(Serialize)]
struct CompartmentRow {
    inert_bar: f64,
    limit_bar: f64,
    m_value_bar: f64,
    gradient_pct: f64,
    ceiling_m: f64,
}

fn sample_row(sample: &Sample) -> SampleRow {
    SampleRow {
        run_time_min: sample.run_time.as_min(),
        depth_m: sample.depth.as_m(),
        gas: sample.gas.to_string(),
        ambient_bar: sample.ambient.as_bar(),
        ceiling_m: sample.ceiling.as_m(),
        leading: Leading {
            compartment: sample.leading.index + 1,
            gradient_pct: sample.leading.fraction * 100.0,
        },
        compartments: sample
            .compartments
            .iter()
            .map(|row| CompartmentRow {
                inert_bar: row.inert_bar,
                limit_bar: row.limit_bar,
                m_value_bar: row.m_value_bar,
                gradient_pct: row.gradient * 100.0,
                ceiling_m: row.ceiling.as_m(),
            })
            .collect(),
    }
}
