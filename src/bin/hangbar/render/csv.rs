//! Documents as CSV: a header of the fields' names, then a line a row.

use std::fmt::Display;

use hangbar::report::document::{Limits, NotFinite, Trace};
use hangbar::tissue::COMPARTMENTS;

/// A row for each depth, gas and pair of factors.
pub(crate) fn limits(document: Result<Limits, NotFinite>) -> Result<String, String> {
    let document = document.map_err(|error| error.to_string())?;
    let mut csv = String::from(
        "depth_m,gas,gradient_low_pct,gradient_high_pct,no_stop_limit_min,compartment,po2_bar,state\n",
    );
    for limit in &document.limits {
        csv.push_str(&format!(
            "{},{},{},{},{},{},{},{}\n",
            limit.depth_m,
            limit.gas,
            limit.gradient_low_pct,
            limit.gradient_high_pct,
            or_nothing(limit.no_stop_limit_min),
            or_nothing(limit.compartment),
            limit.po2_bar,
            limit.state.word(),
        ));
    }
    Ok(csv)
}

fn or_nothing(value: Option<impl Display>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

/// A row for each sample, all compartments in it.
pub(crate) fn trace(document: Result<Trace, NotFinite>) -> Result<String, String> {
    let document = document.map_err(|error| error.to_string())?;
    let mut csv = trace_header();
    for sample in &document.samples {
        csv.push_str(&format!(
            "{},{},{},{},{},{},{}",
            sample.run_time_min,
            sample.depth_m,
            sample.gas,
            sample.ambient_bar,
            sample.ceiling_m,
            sample.leading.compartment,
            sample.leading.gradient_pct,
        ));
        for row in &sample.compartments {
            csv.push_str(&format!(
                ",{},{},{},{},{}",
                row.inert_bar, row.limit_bar, row.m_value_bar, row.gradient_pct, row.ceiling_m
            ));
        }
        csv.push_str(&format!(",{}\n", sample.inspired_bar));
    }
    Ok(csv)
}

fn trace_header() -> String {
    const OF_EACH: [&str; 5] = [
        "inert_bar",
        "limit_bar",
        "m_value_bar",
        "gradient_pct",
        "ceiling_m",
    ];
    let mut header = String::from(
        "run_time_min,depth_m,gas,ambient_bar,ceiling_m,leading_compartment,leading_gradient_pct",
    );
    for number in 1..=COMPARTMENTS {
        for field in OF_EACH {
            header.push_str(&format!(",compartment_{number}_{field}"));
        }
    }
    header + ",inspired_bar\n"
}
