//! Files that are written and never written over.

use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::Path;

use crate::render::names::harmless;

/// Writes a file that was not there: the whole of it or none.
///
/// Whatever has the name already, a link to nowhere and a folder among them, stays as it is.
pub(crate) fn write_new(path: &Path, text: &str) -> Result<(), String> {
    let shown = harmless(&path.to_string_lossy());
    // Only what is made here is ever taken away again.
    let file = OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = file.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => format!("{shown} is there already, and is left as it is"),
        _ => format!("cannot write {shown}: {error}"),
    })?;
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all());
    drop(file);
    written.map_err(|error| {
        let left = match fs::remove_file(path) {
            Ok(()) => "",
            Err(gone) if gone.kind() == ErrorKind::NotFound => "",
            Err(_) => "; a part of it is left",
        };
        format!("cannot write {shown}: {error}{left}")
    })
}
