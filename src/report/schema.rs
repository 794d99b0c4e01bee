//! What a file may hold and what a document has, as JSON Schema (draft 2020-12).
//!
//! The schema of a file comes from the table of keys that the reader checks by; it cannot know ranges,
//! names of the team and what only a dive that is tried shows. The schema of a document comes from its
//! type in [`document`](super::document): every field is required, those that may be null say so, and
//! fields that nobody knows are passed over, as later versions may have some.

mod document_schema;
mod file_schema;
mod list;
mod patterns;

pub use list::SchemaOf;
