//! What there is to say about a plan: reasons for a no-go, cautions, notes, and the rules behind
//! them.
//!
//! One file a subject: there the rules stand with their thresholds and with the weight, code and
//! words of what they find. A new finding is a variant there, its row in the table of kinds, its
//! sentence and its rule; a new subject is a file more and a line in the list in `facts`.

mod bottom_gas;
mod case;
mod current;
mod day;
mod density;
mod facts;
mod flight;
mod inert_gas_jump;
mod kind;
mod lost_stages;
mod oxygen;
mod ponies;
mod reserve;
mod stages;
mod stops;
mod team;
mod verdict;

pub use bottom_gas::findings_of_bottom_gas;
pub(crate) use case::Case;
pub use current::CurrentFact;
pub use day::DayFact;
pub use density::{ADVISED_DENSITY_G_L, DensityFact, GREATEST_DENSITY_G_L};
pub use facts::{CODES, Fact, Finding, MEANINGS};
pub(crate) use facts::{codes_of, findings, oxygen_forbids};
pub use flight::{AdvisedWait, FlightFact};
pub use inert_gas_jump::InertGasJumpFact;
pub(crate) use kind::Help;
pub use kind::Weight;
pub use lost_stages::LostStageFact;
pub use oxygen::OxygenFact;
pub(crate) use oxygen::dose_forbids;
pub use ponies::PonyFact;
pub use reserve::ReserveFact;
pub use stages::StageFact;
pub use stops::{StopsFact, StopsNeeded};
pub use team::TeamFact;
pub use verdict::Verdict;
