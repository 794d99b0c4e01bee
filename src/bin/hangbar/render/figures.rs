//! Figures and their units in running text.

use hangbar::report::NO_BREAK;

/// A figure and its unit stay on one line.
pub(super) fn keep_units(text: &str) -> String {
    const UNITS: &[&str] = &[
        "m", "ft", "bar", "psi", "L", "cuft", "min", "minute", "minutes", "kg", "lb", "kn", "g/L",
        "%", "h", "m/min", "ft/min",
    ];
    let mut kept = String::with_capacity(text.len());
    let mut after_figure = false;
    for (index, word) in text.split(' ').enumerate() {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        if index > 0 {
            let joined = after_figure && UNITS.contains(&bare);
            kept.push_str(if joined { NO_BREAK } else { " " });
        }
        kept.push_str(word);
        after_figure = word.ends_with(|c: char| c.is_ascii_digit());
    }
    kept
}
