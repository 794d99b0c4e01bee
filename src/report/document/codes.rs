//! Codes of findings in a schema.

use serde_json::{Value, json};

/// The codes that there are, each with its meaning, and any other that a later version may have.
pub(super) fn these_or_later(meanings: &[(&str, &str)]) -> Value {
    let known = meanings.iter();
    let known = known.map(|(code, meaning)| json!({ "const": code, "description": meaning }));
    let later = json!({ "type": "string", "description": "A code of a later version." });
    known.chain([later]).collect()
}
