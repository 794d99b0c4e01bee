//! `hangbar trace`: the tissues through a dive.

use hangbar::briefing::Briefing;
use hangbar::dive::{STEP_MIN, Sample, TraceError, trace};
use hangbar::quantity::show::{Show, hundredths_down, hundredths_up, whole_up};
use hangbar::quantity::{Time, UnitSystem};
use serde::Serialize;

use crate::args::{Against, TableFormat, TraceArgs};
use crate::picture::{self, path_chart, profile_chart, uptake_chart};
use crate::screen::Screen;
use crate::{Outcome, Refusal, refused, verdict_status, wants_colour, work_out};

/// The compartments that are shown where none are asked for: the fastest, a middle and the
/// slowest one.
const SHOWN: [usize; 3] = [0, 7, 15];
/// So many compartments can be told apart in a picture.
const MOST_DRAWN: usize = 6;
/// A picture's curves have at least so many pieces, but no shorter ones than a trace may have.
const PIECES: f64 = 300.0;

/// A dive and its samples.
pub(crate) struct Trace {
    pub(crate) briefing: Briefing,
    pub(crate) units: UnitSystem,
    pub(crate) samples: Vec<Sample>,
    /// Compartments in the table and in a picture of them, in the order asked for.
    pub(crate) shown: Vec<usize>,
}

pub(crate) fn run(args: TraceArgs) -> Outcome {
    let shown = match shown(&args) {
        Ok(shown) => shown,
        Err(message) => return refused(&Refusal::Dive(message), &args.plan),
    };
    let overrides = args.on_the_day.overrides();
    let briefing = match work_out(&args.plan, &overrides) {
        Ok(briefing) => briefing,
        Err(refusal) => return refused(&refusal, &args.plan),
    };
    let samples = match sampled(&briefing, args.step) {
        Ok(samples) => samples,
        Err(error) => return refused(&Refusal::Dive(error.to_string()), &args.plan),
    };
    let units = args.shown.units.map_or(briefing.plan.units(), Into::into);
    let trace = Trace {
        briefing,
        units,
        samples,
        shown,
    };
    let output = match args.shown.format {
        TableFormat::Text => {
            let screen =
                Screen::with_width(wants_colour(args.shown.color), args.shown.width.columns());
            Ok(trace.text(screen))
        }
        TableFormat::Csv => Ok(trace.csv()),
        TableFormat::Json => trace.json(),
    };
    let status = verdict_status(&trace.briefing);
    picture::finish(output, status, &args.drawn, || {
        let trace = trace.finely();
        match (args.compartment.as_slice(), args.against) {
            ([], _) => profile_chart(&trace),
            (_, None | Some(Against::Time)) => uptake_chart(&trace),
            (_, Some(Against::Ambient)) => path_chart(&trace, trace.shown[0]),
        }
    })
}

/// The compartments to show, from 0.
fn shown(args: &TraceArgs) -> Result<Vec<usize>, String> {
    let asked = &args.compartment;
    if asked.is_empty() {
        return Ok(SHOWN.to_vec());
    }
    for (index, number) in asked.iter().enumerate() {
        if asked[..index].contains(number) {
            return Err(format!("compartment {number} is asked for twice"));
        }
    }
    let drawn = args.drawn.picture.is_some() || args.drawn.chart;
    if args.against == Some(Against::Ambient) && asked.len() > 1 {
        return Err(format!(
            "--against ambient draws one compartment under its own lines; {} are asked for",
            asked.len()
        ));
    }
    if drawn && asked.len() > MOST_DRAWN {
        return Err(format!(
            "{} compartments are asked for; a picture holds at most {MOST_DRAWN}",
            asked.len()
        ));
    }
    Ok(asked
        .iter()
        .map(|number| usize::from(*number) - 1)
        .collect())
}

fn sampled(briefing: &Briefing, step: Time) -> Result<Vec<Sample>, TraceError> {
    let rules = briefing.plan.rules();
    trace(rules, &briefing.schedule, step)
}

/// A column of the table: two lines of heading over cells.
struct Column {
    head: [String; 2],
    cells: Vec<String>,
}

impl Column {
    fn width(&self) -> usize {
        let rows = self.head.iter().chain(&self.cells);
        rows.map(|cell| cell.chars().count()).max().unwrap_or(0)
    }

    /// The heading's lines, then the cells, right-aligned.
    fn rows(&self) -> impl Iterator<Item = String> {
        let width = self.width();
        let rows = self.head.iter().chain(&self.cells);
        rows.map(move |cell| format!("{cell:>width$}"))
    }
}

/// Columns beside each other, a space before each.
fn width(columns: &[Column]) -> usize {
    columns.iter().map(|column| column.width() + 1).sum()
}

impl Trace {
    /// The same dive in steps that make smooth curves, whatever the step of the table.
    fn finely(self) -> Self {
        let step = self.briefing.schedule.run_time().as_min() / PIECES;
        let step = step.clamp(*STEP_MIN.start(), 1.0);
        // A step within the range is never refused; the table's own would do as well.
        let samples = sampled(&self.briefing, Time::from_min(step));
        Self {
            samples: samples.unwrap_or(self.samples),
            ..self
        }
    }

    fn text(&self, mut screen: Screen) -> String {
        let title = self.briefing.plan.title().unwrap_or("Untitled dive");
        screen.title("Tissues through the dive: ", title);
        screen.no_go_line(&self.briefing);
        screen.paragraph(
            "Inert gas inspired, bar; in each compartment (with its half-time for nitrogen) inert \
             gas held / what the factor in force lets it hold, bar; the leading compartment and the \
             gradient that it uses; the ceiling of all sixteen.",
        );
        let dive = self.dive_columns();
        let compartments = self.compartment_columns();
        let spare = screen.width().saturating_sub(width(&dive));
        let widest = compartments.iter().map(Column::width).max().unwrap_or(0);
        if spare > widest {
            // The dive beside as many compartments as there is room for.
            let abreast = if width(&compartments) <= spare {
                compartments.len()
            } else {
                spare / (widest + 1)
            };
            for block in compartments.chunks(abreast) {
                // Two columns' air where there is room for it.
                let air = if width(block) + 2 <= spare { "  " } else { "" };
                self.block(&mut screen, dive.iter().chain(block), dive.len(), air);
            }
        } else {
            // A narrow screen: whatever fits beside the minutes, block after block.
            let (minutes, rest) = dive.split_at(1);
            let mut rest: Vec<&Column> = rest.iter().chain(&compartments).collect();
            while !rest.is_empty() {
                let mut room = screen.width().saturating_sub(width(minutes));
                let fitting = rest.iter().take_while(|column| {
                    let fits = column.width() < room;
                    room = room.saturating_sub(column.width() + 1);
                    fits
                });
                let count = fitting.count().max(1);
                let block: Vec<&Column> = rest.drain(..count).collect();
                self.block(&mut screen, minutes.iter().chain(block), 0, "");
            }
        }
        screen.finish()
    }

    /// Columns beside each other; `air` stands before the one with the index `before`.
    fn block<'c>(
        &self,
        screen: &mut Screen,
        columns: impl Iterator<Item = &'c Column>,
        before: usize,
        air: &str,
    ) {
        screen.line("");
        let mut lines = vec![String::new(); self.samples.len() + 2];
        for (index, column) in columns.enumerate() {
            let gap = if index == before { air } else { "" };
            for (line, cell) in lines.iter_mut().zip(column.rows()) {
                line.push_str(gap);
                line.push(' ');
                line.push_str(&cell);
            }
        }
        for line in lines {
            screen.line(&line);
        }
    }

    /// What is said of the diver as a whole.
    fn dive_columns(&self) -> Vec<Column> {
        let show = Show(self.units);
        let column = |head: &str, cell: &dyn Fn(&Sample) -> String| Column {
            head: [head.to_owned(), String::new()],
            cells: self.samples.iter().map(cell).collect(),
        };
        vec![
            column("minute", &|sample| {
                format!("{:.2}", sample.run_time.as_min())
            }),
            column("depth", &|sample| show.depth(sample.depth)),
            column("ceiling", &|sample| {
                if sample.ceiling.as_m() > 0.0 {
                    show.depth(sample.ceiling)
                } else {
                    "surface".to_owned()
                }
            }),
            column("leading", &|sample| {
                let gradient = whole_up(sample.leading.fraction * 100.0);
                format!("{} {gradient:>4} %", sample.leading.index + 1)
            }),
            column("inspired", &|sample| {
                hundredths_up(sample.inspired.as_bar())
            }),
        ]
    }

    /// One for each compartment that is shown.
    fn compartment_columns(&self) -> Vec<Column> {
        let set = self.briefing.plan.rules().compartments.compartments();
        let between = if self.shown.len() <= SHOWN.len() {
            " / "
        } else {
            "/"
        };
        let column = |index: &usize| Column {
            head: [
                format!("{}", index + 1),
                format!("{} min", set[*index].nitrogen.half_time.as_min()),
            ],
            cells: self
                .samples
                .iter()
                .map(|sample| {
                    let row = &sample.compartments[*index];
                    let (held, limit) =
                        (hundredths_up(row.inert_bar), hundredths_down(row.limit_bar));
                    format!("{held}{between}{limit}")
                })
                .collect(),
        };
        self.shown.iter().map(column).collect()
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
        csv.push_str(",inspired_bar\n");
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
            csv.push_str(&format!(",{}\n", sample.inspired.as_bar()));
        }
        csv
    }

    fn json(&self) -> Result<String, serde_json::Error> {
        let document = Document {
            schema: "hangbar/trace/1",
            title: self.briefing.plan.title(),
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
    inspired_bar: f64,
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
        inspired_bar: sample.inspired.as_bar(),
    }
}
