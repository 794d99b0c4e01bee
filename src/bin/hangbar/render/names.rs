//! Text and file names from outside, fit for a terminal.

use std::path::Path;

use hangbar::plan::may_be_shown;

/// A text with nothing in it that a terminal would act on.
pub(crate) fn harmless(text: &str) -> String {
    text.chars()
        .map(|c| if may_be_shown(c) { c } else { '\u{fffd}' })
        .collect()
}

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
