//! Results drawn: as lines for a terminal, as CSV and JSON, as pictures.

pub(crate) mod characters;
pub(crate) mod csv;
mod figures;
pub(crate) mod html;
pub(crate) mod json;
mod layout;
pub(crate) mod names;
pub(crate) mod svg;
pub(crate) mod terminal;
