//! What is said about a dive, in order and in words, before anybody knows how wide the paper is.
//!
//! A [`Report`] is headings, paragraphs, tables and equations; whoever draws one decides on columns,
//! colour and line ends, and changes no word. Figures in it are rounded toward safety, see
//! [`crate::quantity::show`]. [`chart`] has what is worth a picture, [`document`] the same results
//! for scripts.

mod aboard;
mod before;
mod brief;
mod change;
pub mod chart;
mod check;
mod debrief;
pub mod document;
mod explain;
mod flying;
mod gas;
mod key_sheet;
mod keys;
mod limits;
mod lost_stages;
mod mix;
mod mix_sheet;
mod only;
mod part;
mod rail;
mod schema;
mod sheet;
mod short;
mod trace;
mod trouble;
mod what_if;
mod whole_day;

pub use brief::{brief, brief_in_parts};
pub use change::{Change, ChangesAsked, TooManyChanges};
pub use check::codes_in_a_line;
pub use debrief::debrief;
pub use explain::explain;
pub use flying::FlyingShown;
pub use key_sheet::{KeyFile, KeySheet, NoSuchTable};
pub use keys::keys;
pub use limits::{LimitSheet, LimitsAsked, LimitsError, limits};
pub use mix::mix;
pub use mix_sheet::{BlendWanted, GasWanted, MixAsked, MixAtDepth, MixError, MixLimit, MixSheet};
pub use only::only;
pub use part::{Part, Topic};
pub use schema::SchemaOf;
pub use sheet::{
    Air, Align, Block, CAUTIONS, Column, EquationLines, Grid, GridColumn, NO_BREAK, Report, Table,
    Tone,
};
pub use short::short;
pub use trace::{ChoiceError, CompartmentChoice, TracedDive, trace};
pub use what_if::what_if;
pub use whole_day::{brief_of_a_day, brief_of_a_day_in_parts, day, day_in_parts};
