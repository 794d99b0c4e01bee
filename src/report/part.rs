//! The parts of a report that is long: what each is about, so that paper can give each its place.

use super::sheet::Report;

/// What a part of a briefing, or of a day, is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Topic {
    /// A day that is a no-go, above a dive of it.
    DayVerdict,
    /// The verdict, every finding, what the figures assume.
    Verdict,
    /// What alone would make a no-go a go.
    NearestGo,
    /// Earlier dives.
    Before,
    /// The dive in sentences.
    Dive,
    /// Each diver's own limit, where gases or histories differ.
    EachDiver,
    /// Levels and stops in run time.
    WayUp,
    /// Turn, minimum and what is left, for each diver.
    Gas,
    /// What a no-go would leave: nothing to turn at.
    GasAskedFor,
    /// The hang.
    Hang,
    /// Stage cylinders.
    Stages,
    /// Ponies.
    Ponies,
    /// Leaving the bottom late.
    Late,
    /// One diver without gas.
    LostGas,
    /// A stage cylinder that is lost.
    LostStages,
    /// The clock, the drift, whom to call.
    Skipper,
    /// Who is in and out, to be filled in.
    RollCall,
    /// What is ticked at the rail.
    RailCheck,
    /// The dives of a day, in order.
    Order,
    /// Each diver through a day.
    People,
    /// A dive of a day in short.
    DiveInShort,
    /// Flying after a day.
    Flying,
    /// Cautions.
    Cautions,
    /// The verdict once more.
    VerdictAgain,
}

/// A part of a report.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is about.
    pub topic: Topic,
    /// What it says.
    pub report: Report,
}

/// Parts under way.
#[derive(Debug, Default)]
pub(super) struct Parts {
    pub(super) all: Vec<Part>,
}

impl Parts {
    /// One more, if it says anything.
    pub(super) fn add(&mut self, topic: Topic, write: impl FnOnce(&mut Report)) {
        let mut report = Report::default();
        write(&mut report);
        if !report.blocks.is_empty() {
            self.all.push(Part { topic, report });
        }
    }
}

/// All parts one after the other.
pub(super) fn joined(parts: Vec<Part>) -> Report {
    let blocks = parts.into_iter().flat_map(|part| part.report.blocks);
    Report {
        blocks: blocks.collect(),
    }
}
