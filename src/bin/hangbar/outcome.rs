//! What a command prints and how it ends.

use std::io::{self, Write};
use std::path::PathBuf;

use hangbar::finding;
use hangbar::report::document::{Problem, Verdict};

/// Every way to end, from best to worst.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Status {
    /// No no-go finding.
    #[default]
    Go,
    /// At least one.
    NoGo,
    /// The plan or the command cannot be used.
    Unusable,
    /// An internal check failed.
    Internal,
}

impl Status {
    pub(crate) const fn code(self) -> u8 {
        match self {
            Self::Go => 0,
            Self::NoGo => 1,
            Self::Unusable => 2,
            Self::Internal => 3,
        }
    }

    /// What scripts are told of a plan that ends so and has no result.
    pub(crate) const fn without_result(self) -> Verdict {
        match self {
            Self::Internal => Verdict::Failed,
            Self::Go | Self::NoGo | Self::Unusable => Verdict::Unusable,
        }
    }
}

impl From<finding::Verdict> for Status {
    fn from(verdict: finding::Verdict) -> Self {
        match verdict {
            finding::Verdict::Go | finding::Verdict::ScheduleOnly => Self::Go,
            finding::Verdict::NoGo => Self::NoGo,
        }
    }
}

/// What a command prints and how it ends.
#[derive(Debug, Default)]
pub(crate) struct Outcome {
    pub(crate) output: String,
    pub(crate) errors: String,
    pub(crate) status: Status,
    /// The errors once more, for a document of them; empty where there is a result.
    pub(crate) told: Vec<Problem>,
    /// How many errors more there are than are told.
    pub(crate) untold: usize,
    /// Which of several plans they are about; `None` of a command that has one plan at most.
    pub(crate) plan: Option<PathBuf>,
}

impl Outcome {
    /// A result, or why there is none: then a check of the program itself has failed.
    pub(crate) fn of(output: Result<String, String>, status: Status) -> Self {
        match output {
            Ok(output) => Self {
                output,
                status,
                ..Self::default()
            },
            Err(message) => Self::failed(Status::Internal, &message),
        }
    }

    /// No result, for a reason that has no place in a plan.
    pub(crate) fn failed(status: Status, message: &str) -> Self {
        Self {
            errors: format!("error: {message}\n"),
            status,
            told: vec![Problem::without_place(message.to_owned())],
            ..Self::default()
        }
    }

    /// Prints it. What cannot be printed makes a worse end of it.
    pub(crate) fn print(&self) -> Status {
        match self.print_on() {
            Printed::Failed => self.status.max(Status::Unusable),
            Printed::All | Printed::NobodyReads => self.status,
        }
    }

    /// Prints a part of what a command prints.
    pub(crate) fn print_on(&self) -> Printed {
        // Nobody is left to tell where standard error itself is gone.
        let _ = io::stderr().write_all(self.errors.as_bytes());
        match print(&self.output) {
            Ok(()) => Printed::All,
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Printed::NobodyReads,
            Err(error) => {
                let _ = writeln!(io::stderr(), "error: cannot write the result: {error}");
                Printed::Failed
            }
        }
    }
}

/// What became of what was printed.
pub(crate) enum Printed {
    All,
    /// The reader has gone.
    NobodyReads,
    Failed,
}

fn print(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()
}
