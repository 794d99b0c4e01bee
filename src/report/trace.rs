//! The tissues through a dive: what is asked, what comes of it, and its words.

use super::before::start_sentence;
use super::rail::Rail;
use super::sheet::{Air, Grid, GridColumn, Report};
use crate::briefing::Briefing;
use crate::dive::{STEP_MIN, Sample, TraceError};
use crate::quantity::show::{Show, hundredths_down, hundredths_up, whole_up};
use crate::quantity::{Time, UnitSystem};
use crate::tissue::COMPARTMENTS;

/// A smooth curve has at least so many pieces, but no shorter ones than a trace may have.
const PIECES: f64 = 300.0;
/// Longest piece of a smooth curve, min.
const LONGEST_PIECE_MIN: f64 = 1.0;

/// Compartments that somebody wants to see, in the order asked for, each once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CompartmentChoice(Vec<usize>);

/// Why there is no such choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ChoiceError {
    /// Nobody needs a compartment twice.
    #[error("compartment {0} is asked for twice")]
    Twice(u8),
    /// There is no such compartment.
    #[error("there is no compartment {0}; accepted: 1 to {COMPARTMENTS}")]
    NoSuch(u8),
    /// There is nothing to see.
    #[error("no compartment is asked for")]
    None,
}

impl CompartmentChoice {
    /// Where nothing is asked for: the fastest, a middle and the slowest one.
    #[must_use]
    pub fn usual() -> Self {
        Self(vec![0, 7, 15])
    }

    /// Compartments by their numbers, 1 (fastest) to 16.
    ///
    /// # Errors
    /// [`ChoiceError`] for a number out of that range, one given twice, or none at all.
    pub fn of(numbers: &[u8]) -> Result<Self, ChoiceError> {
        if numbers.is_empty() {
            return Err(ChoiceError::None);
        }
        let mut indices = Vec::new();
        for number in numbers.iter().copied() {
            let index = usize::from(number).checked_sub(1);
            let index = index.filter(|index| *index < COMPARTMENTS);
            let index = index.ok_or(ChoiceError::NoSuch(number))?;
            if indices.contains(&index) {
                return Err(ChoiceError::Twice(number));
            }
            indices.push(index);
        }
        Ok(Self(indices))
    }

    /// Their indices, 0 to 15; at least one.
    #[must_use]
    pub fn indices(&self) -> &[usize] {
        &self.0
    }
}

/// A dive and its samples.
#[derive(Clone, Debug, PartialEq)]
pub struct TracedDive<'a> {
    briefing: &'a Briefing,
    samples: Vec<Sample>,
    compartments: CompartmentChoice,
}

impl<'a> TracedDive<'a> {
    /// Samples a dive, from the tissues that the plan starts with, at every multiple of a step and at the end of every
    /// segment.
    ///
    /// # Errors
    /// [`TraceError`] unless the step is in [`STEP_MIN`].
    pub fn new(
        briefing: &'a Briefing,
        step: Time,
        compartments: CompartmentChoice,
    ) -> Result<Self, TraceError> {
        Ok(Self {
            briefing,
            samples: sampled(briefing, step)?,
            compartments,
        })
    }

    /// The same dive in steps that make smooth curves.
    #[must_use]
    pub fn finely(&self) -> Self {
        let step = self.briefing.schedule.run_time().as_min() / PIECES;
        let step = step.clamp(*STEP_MIN.start(), LONGEST_PIECE_MIN);
        // A step within the range is never refused; the table's own would do as well.
        let samples = sampled(self.briefing, Time::from_min(step));
        Self {
            samples: samples.unwrap_or_else(|_| self.samples.clone()),
            ..self.clone()
        }
    }

    /// The dive.
    #[must_use]
    pub const fn briefing(&self) -> &'a Briefing {
        self.briefing
    }

    /// The samples, in the order of time.
    #[must_use]
    pub fn samples(&self) -> &[Sample] {
        &self.samples
    }

    /// The compartments to show, 0 to 15, in the order asked for.
    #[must_use]
    pub fn compartments(&self) -> &[usize] {
        self.compartments.indices()
    }
}

fn sampled(briefing: &Briefing, step: Time) -> Result<Vec<Sample>, TraceError> {
    let rules = briefing.plan.rules();
    crate::dive::trace(rules, &briefing.schedule, step)
}

/// The samples as a table: the dive, and the compartments chosen.
#[must_use]
pub fn trace(dive: &TracedDive<'_>, units: UnitSystem) -> Report {
    let rail = Rail::new(dive.briefing, units);
    let mut report = Report::default();
    report.title("Tissues through the dive: ", rail.title());
    rail.no_go_line(&mut report);
    report.paragraph(
        "Inert gas inspired, bar; in each compartment (with its half-time for nitrogen) inert \
         gas held / what the factor in force lets it hold, bar; the leading compartment and the \
         gradient that it uses; the ceiling of all sixteen.",
    );
    if let Some(start) = start_sentence(&dive.briefing.plan, rail.show) {
        report.paragraph(start);
    }
    report.grid(Grid {
        leading: dive_columns(dive, rail.show),
        columns: compartment_columns(dive),
        air: Air::WhereItFits(2),
    });
    report
}

/// What is said of the diver as a whole.
fn dive_columns(dive: &TracedDive<'_>, show: Show) -> Vec<GridColumn> {
    let column = |heading: &str, cell: &dyn Fn(&Sample) -> String| GridColumn {
        heading: heading.to_owned(),
        cells: dive.samples.iter().map(cell).collect(),
        least_width: 0,
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
fn compartment_columns(dive: &TracedDive<'_>) -> Vec<GridColumn> {
    let set = dive.briefing.plan.rules().compartments.compartments();
    let few = CompartmentChoice::usual().indices().len();
    let between = if dive.compartments().len() <= few {
        " / "
    } else {
        "/"
    };
    let columns = dive.compartments().iter().map(|index| {
        let half_time = set[*index].nitrogen.half_time.as_min();
        let cells = dive.samples.iter().map(|sample| {
            let row = &sample.compartments[*index];
            let (held, limit) = (hundredths_up(row.inert_bar), hundredths_down(row.limit_bar));
            format!("{held}{between}{limit}")
        });
        GridColumn {
            heading: format!("{}\n{half_time} min", index + 1),
            cells: cells.collect(),
            least_width: 0,
        }
    });
    columns.collect()
}
