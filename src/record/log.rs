//! Records as plain data, however they were written.

use crate::plan::TimeOfDay;
use crate::quantity::{Depth, GaugePressure, Time};
use crate::site::Mix;
use serde::Serialize;

/// More readings than this are no dive: eleven days at one a second.
pub const MOST_READINGS: usize = 1_000_000;

/// What a logger knows at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Reading {
    /// Time on the logger's own clock, which need not begin at the splash.
    pub time: Time,
    /// Depth; never above the surface.
    pub depth: Depth,
    /// Gauge of the main cylinder, where it is known.
    pub pressure: Option<GaugePressure>,
    /// Gas that is breathed from here on, where the logger says so.
    pub gas: Option<Mix>,
    /// Line of the file, from 1.
    pub line: u64,
}

impl Reading {
    /// A depth at a time, and nothing else.
    #[must_use]
    pub const fn new(time: Time, depth: Depth, line: u64) -> Self {
        Self {
            time,
            depth,
            pressure: None,
            gas: None,
            line,
        }
    }
}

/// When a record says that it begins.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub struct LoggedAt {
    /// The date as it is written, `2026-08-14`; empty where there is none.
    pub date: String,
    /// The time of day.
    pub time: TimeOfDay,
}

impl LoggedAt {
    /// A date, as it is written, and a time of day.
    #[must_use]
    pub const fn new(date: String, time: TimeOfDay) -> Self {
        Self { date, time }
    }
}

/// Something odd in a record that was mended on reading it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum ReadingFault {
    /// A row says exactly what the one before says; it was passed over.
    Repeated {
        /// Its line.
        line: u64,
    },
    /// A depth a little above the surface was taken as the surface.
    AboveSurface {
        /// Its line.
        line: u64,
        /// How far above, m.
        by: Depth,
    },
    /// Numbers have a comma for the decimal point.
    DecimalCommas {
        /// The first line that has one.
        line: u64,
    },
}

impl ReadingFault {
    /// The line that it is about.
    #[must_use]
    pub const fn line(&self) -> u64 {
        match self {
            Self::Repeated { line }
            | Self::AboveSurface { line, .. }
            | Self::DecimalCommas { line } => *line,
        }
    }
}

/// What a logger wrote of one dive of one diver.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct SampledLog {
    /// Whose it is, as the record says; `None` where it does not.
    pub diver: Option<String>,
    /// Which dive of its file, from 1.
    pub number: usize,
    /// When it begins, where the record says so.
    pub begins: Option<LoggedAt>,
    /// Readings at times that grow; at least two, and some of them deeper than
    /// [`SURFACE_BAND`](Self::SURFACE_BAND).
    pub readings: Vec<Reading>,
    /// What was mended on reading, in the order of lines; the first of each kind alone.
    pub faults: Vec<ReadingFault>,
}

impl SampledLog {
    /// At and above this depth a diver is at the surface.
    pub const SURFACE_BAND: Depth = Depth::from_m(0.3);

    /// Readings of nobody known, the first dive of its file.
    #[must_use]
    pub const fn new(readings: Vec<Reading>) -> Self {
        Self {
            diver: None,
            number: 1,
            begins: None,
            readings,
            faults: Vec::new(),
        }
    }
}

/// What somebody wrote down of one diver's dive.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct PencilLog {
    /// Whose it is.
    pub diver: String,
    /// Line of the file where it begins, from 1.
    pub line: u64,
    /// Greatest depth.
    pub greatest_depth: Depth,
    /// From leaving the surface to leaving the last level.
    pub bottom_time: Time,
    /// From leaving the surface to being back, where it is known: written, or out less in.
    pub run_time: Option<Time>,
    /// Time of day of leaving the surface.
    pub time_in: Option<TimeOfDay>,
    /// Time of day of being back.
    pub time_out: Option<TimeOfDay>,
    /// Gauge of the main cylinder before the dive.
    pub start: GaugePressure,
    /// Gauge of the main cylinder after it.
    pub end: GaugePressure,
    /// Average depth over the whole run time, where a computer shows it.
    pub average_depth: Option<Depth>,
}

impl PencilLog {
    /// The least that a pencil log holds.
    #[must_use]
    pub fn new(
        diver: impl Into<String>,
        (greatest_depth, bottom_time): (Depth, Time),
        (start, end): (GaugePressure, GaugePressure),
    ) -> Self {
        Self {
            diver: diver.into(),
            line: 1,
            greatest_depth,
            bottom_time,
            run_time: None,
            time_in: None,
            time_out: None,
            start,
            end,
            average_depth: None,
        }
    }
}

/// Why a record cannot be used: one thing, the first that is found.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{}{message}", .line.map(|line| format!("line {line}: ")).unwrap_or_default())]
#[non_exhaustive]
pub struct RecordError {
    /// Line of the file, from 1; `None` where it is the file as a whole.
    pub line: Option<u64>,
    /// The column of a table, or the element, that it is about.
    pub column: Option<String>,
    /// What was found, in a sentence; nothing in it may move a terminal.
    pub message: String,
    /// What is accepted.
    pub accepted: String,
}

impl RecordError {
    /// What is wrong, and what is accepted instead.
    #[must_use]
    pub fn new(line: Option<u64>, message: impl Into<String>, accepted: impl Into<String>) -> Self {
        Self {
            line,
            column: None,
            message: message.into(),
            accepted: accepted.into(),
        }
    }

    /// The same, about a column or an element.
    #[must_use]
    pub fn about(self, column: impl Into<String>) -> Self {
        let column = Some(column.into());
        Self { column, ..self }
    }
}
