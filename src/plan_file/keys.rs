//! The keys of the files, their one table: the reader checks by it, screens and schemas are drawn
//! from it.

mod accepted;
pub(super) mod ascent;
pub(super) mod gas;
pub(super) mod model;
pub(super) mod pencil;
mod placed;
pub(super) mod profile;
pub(super) mod reserve;
mod row;
pub(super) mod site;
pub(super) mod team;
pub(super) mod top;
mod usual;

pub(crate) use pencil::RECORD;
pub(crate) use placed::Placed;
pub(super) use row::Spelled;
pub(crate) use row::{Holds, Key, Section, Without};
pub(super) use row::{NumberKey, OwnKey, QuantityKey, TableKey, TablesKey, TextKey, WordKey};
pub(crate) use top::PLAN;
