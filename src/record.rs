//! What was written down of a dive: by a logger or with a pencil.

mod log;

pub use log::{LoggedAt, MOST_READINGS, PencilLog, Reading, ReadingFault, RecordError, SampledLog};
