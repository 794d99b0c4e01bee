//! Where the two engines differ.

use std::fmt;

/// What an objection is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Question {
    /// The coefficients of the model.
    Model,
    /// The dives before, and what is left of them.
    History,
    /// Whether the segments are those of the plan.
    Segments,
    /// The tissues along them.
    Tissues,
    /// Whether an instant is over the plain M-value.
    MValue,
    /// Rises between levels.
    Rise,
    /// A no-stop limit.
    NoStopLimit,
    /// An emergency at a level's end.
    Emergency,
    /// What a diver's cylinders hold, use and must keep.
    Gas,
    /// For how long gas lasts.
    GasLimit,
    /// Oxygen.
    Oxygen,
}

/// Where the referee and the briefing differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Objection {
    pub(super) question: Question,
    pub(super) what: String,
}

impl Objection {
    /// What it is about.
    #[must_use]
    pub const fn question(&self) -> Question {
        self.question
    }
}

impl fmt::Display for Objection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the second engine does not agree: {}", self.what)
    }
}

impl std::error::Error for Objection {}

/// Volumes and pressures agree to this share, and to so many litres or bar.
pub(super) const SHARE: f64 = 1e-9;
/// Exposures agree to this share.
pub(super) const LEAST: f64 = 1e-6;
/// Where the answer to a question hangs on less than this, litres, either is accepted.
pub(super) const HAIR_L: f64 = 1e-6;

/// What came of going over something.
pub(super) type Judged = Result<(), Objection>;

/// Objects where a figure is farther than some distance from what it should be, NaN among them.
pub(super) fn same(
    question: Question,
    said: f64,
    found: f64,
    distance: f64,
    what: impl FnOnce() -> String,
) -> Judged {
    if (said - found).abs() <= distance {
        return Ok(());
    }
    let what = format!("{}: {said} in the briefing, {found} found", what());
    Err(Objection { question, what })
}

/// Objects unless something is so.
pub(super) fn sure(question: Question, so: bool, what: impl FnOnce() -> String) -> Judged {
    if so {
        return Ok(());
    }
    let what = what();
    Err(Objection { question, what })
}

/// Objects where two figures are farther apart than rounding puts them.
pub(super) fn near(
    question: Question,
    said: f64,
    found: f64,
    what: impl FnOnce() -> String,
) -> Judged {
    same(question, said, found, SHARE * found.abs() + LEAST, what)
}
