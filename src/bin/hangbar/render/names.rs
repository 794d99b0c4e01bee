//! Text and file names from outside, fit for a terminal.

use std::path::Path;

pub(crate) use hangbar::letters::harmless;

/// Whether a path stands for standard input.
pub(crate) fn is_standard_input(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// A file as messages name it.
pub(crate) fn file_name(path: &Path) -> String {
    if is_standard_input(path) {
        "standard input".to_owned()
    } else {
        harmless(&path.to_string_lossy())
    }
}
