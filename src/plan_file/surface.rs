//! `[surface]`: what the boat above must know.

use super::reader::{Reader, Table};
use crate::plan::Surface;
use crate::quantity::Time;
use crate::rules::ranges::LONGEST_EMERGENCY;
use crate::rules::ranges::OVERDUE_AFTER;

const KEYS: &[&str] = &["overdue_after", "emergency"];

pub(super) fn read(reader: &mut Reader, root: &Table<'_>) -> Surface {
    let mut surface = Surface::default();
    if let Some(table) = reader.section(root, "surface", KEYS) {
        if let Some(time) = reader.quantity(&table, "overdue_after", &OVERDUE_AFTER) {
            surface.overdue_after = Time::from_min(time.value);
        }
        let emergency = reader.label(&table, "emergency", LONGEST_EMERGENCY);
        surface.emergency = emergency.map(|given| given.value);
    }
    surface
}
