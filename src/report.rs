//! What is said about a dive, in order and in words, before anybody knows how wide the paper is.
//!
//! A [`Report`] is headings, paragraphs and tables; whoever draws one decides on columns, colour
//! and line ends, and changes no word. Figures in it are rounded toward safety, see
//! [`crate::quantity::show`].

mod brief;
mod gas;
mod rail;
mod sheet;
mod short;
mod trouble;
mod what_if;

pub use brief::brief;
pub use sheet::{Align, Block, CAUTIONS, Column, NO_BREAK, Report, Table, Tone};
pub use short::short;
pub use what_if::{Change, what_if};
