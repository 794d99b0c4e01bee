//! `[surface]`: what the boat above must know.

use super::keys::{reserve as keys, top};
use super::reader::{Reader, Table};
use crate::plan::Surface;
use crate::quantity::Time;

pub(super) fn read(reader: &mut Reader, root: &Table<'_>) -> Surface {
    let mut surface = Surface::default();
    if let Some(table) = reader.section(root, &top::SURFACE_TABLE) {
        if let Some(time) = reader.quantity(&table, &keys::OVERDUE) {
            surface.overdue_after = Time::from_min(time.value);
        }
        let emergency = reader.label(&table, &keys::EMERGENCY);
        surface.emergency = emergency.map(|given| given.value);
    }
    surface
}
