//! `hangbar schema`: JSON Schema of a file or a document.

use crate::args::SchemaArgs;
use crate::outcome::{Outcome, Status};
use crate::render::json;

pub(super) fn run(args: &SchemaArgs) -> Outcome {
    Outcome::of(json::pretty(Ok(args.of.schema())), Status::Go)
}
