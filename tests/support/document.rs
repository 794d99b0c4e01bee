//! The JSON documents as scripts may rely on them, under the names that the tests use: every field
//! is demanded, no other is allowed, and null stands only where an `Option` does.

#![allow(unused_imports, reason = "a test file uses those that it needs")]

pub(crate) use hangbar::report::document::{
    FindingLevel as Level, Problem as CheckError, SegmentKind as Kind, *,
};
