//! Fields that may be null but not missing.

use serde::{Deserialize, Deserializer};

/// Reads a field that serde would otherwise let be missing.
pub(super) fn nullable<'de, D, T>(deserializer: D) -> Result<Option<T>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    Option::deserialize(deserializer)
}
