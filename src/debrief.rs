//! The dive as it was, from what was written down of it, beside its plan.

mod bins;
mod breathing;
mod climb;
mod dive;
mod envelope;
mod error;
mod finding;
mod flight;
mod held;
mod left;
mod next;
mod profile;
mod steps;
mod whole;
mod words;

pub use breathing::{Breathed, Gauge, NoRate};
pub use climb::{Rise, TOO_FAST_SHARE};
pub use dive::{Drawn, Gap, Jump, Kept, Pencilled, RealDive, Sampled, Source};
pub use envelope::{CoverError, Covering, MOST_LEVELS, covering_levels};
pub use error::DebriefError;
pub use finding::{CODES, DebriefFact, Found, MEANINGS};
pub use flight::{Breach, Peak};
pub use next::{NextAsked, NextError, NextWritten, Wait, write_next};
pub use profile::{Point, Profile};
pub use whole::{Consumption, Debrief, Debriefing};
pub use words::{CARE, rate_up};
