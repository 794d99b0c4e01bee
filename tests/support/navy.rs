//! The Navy's no-stop limits, and who printed which.

use crate::csv::{number, rows};

pub(crate) struct NavyLimit {
    pub(crate) source: &'static str,
    pub(crate) feet: f64,
    pub(crate) minutes: f64,
}

/// The rows of these sources, in the order of the file: by source, then by depth.
pub(crate) fn navy_limits(sources: &[&str]) -> Vec<NavyLimit> {
    let row = |[source, feet, minutes]: [&'static str; 3]| NavyLimit {
        source,
        feet: number(feet),
        minutes: number(minutes),
    };
    rows(include_str!("../data/navy_no_stop.csv"))
        .map(row)
        .filter(|limit| sources.contains(&limit.source))
        .collect()
}
