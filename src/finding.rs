//! What there is to say about a plan: reasons for a no-go, cautions, notes, and the rules behind them.

mod facts;
mod rules;

pub use facts::{CODES, Fact, Finding, StopsNeeded, Weight};
pub use rules::Verdict;
pub(crate) use rules::{Case, findings, is_about};
