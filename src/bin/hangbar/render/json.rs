//! Documents as JSON.

use hangbar::report::document::NotFinite;
use serde::Serialize;

/// A document over many lines, a newline at its end.
pub(crate) fn pretty(document: Result<impl Serialize, NotFinite>) -> Result<String, String> {
    let document = document.map_err(|error| error.to_string())?;
    let text = serde_json::to_string_pretty(&document).map_err(|error| error.to_string())?;
    Ok(text + "\n")
}

/// A document on one line.
pub(crate) fn line(document: &impl Serialize) -> Result<String, String> {
    serde_json::to_string(document).map_err(|error| error.to_string())
}
