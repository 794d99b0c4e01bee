//! What was written down of a dive: by a logger or with a pencil.

mod checks;
mod columns;
mod csv;
mod format;
mod log;
mod numbers;
mod stream;
mod uddf;
mod words;

pub use csv::read_csv;
pub use format::{RecordFormat, format_of};
pub use log::{LoggedAt, MOST_READINGS, PencilLog, Reading, ReadingFault, RecordError, SampledLog};
pub use uddf::read_uddf;
