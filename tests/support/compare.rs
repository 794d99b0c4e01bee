//! Whether two JSON documents say the same.

#![allow(
    dead_code,
    reason = "each program of tests has its own choice of these"
)]

use serde_json::Value;

/// The contract asks for pressures to 1e-9 bar; relative above 100 bar, where a double's own
/// steps and the density search come near it.
const PRESSURE_BAR: f64 = 1e-9;
/// The contract asks for run times to 1e-6 min.
const RUN_TIME_MIN: f64 = 1e-6;
/// Volumes follow from pressures: 1e-9 of the whole.
const VOLUME_SHARE: f64 = 1e-9;
/// Depths at which a gas runs out follow from run times.
const DEPTH_M: f64 = 1e-5;
/// Per cents and doses: sums of many segments.
const DOSE: f64 = 1e-7;

/// Notes every place at which `got` has not what `want` has, as near as the contract asks for. What
/// `want` leaves out is not asked.
pub(crate) fn compare(path: &str, want: &Value, got: &Value, wrong: &mut Vec<String>) {
    compare_within(path, want, got, &contract, wrong);
}

/// As [`compare`], as near as `tolerance` says of a path and the number wanted there.
pub(crate) fn compare_within(
    path: &str,
    want: &Value,
    got: &Value,
    tolerance: &dyn Fn(&str, f64) -> f64,
    wrong: &mut Vec<String>,
) {
    match (want, got) {
        (Value::Object(want), Value::Object(got)) => {
            for (key, value) in want {
                match got.get(key) {
                    Some(found) => {
                        compare_within(&format!("{path}/{key}"), value, found, tolerance, wrong);
                    }
                    None => wrong.push(format!("{path}/{key} is missing")),
                }
            }
        }
        (Value::Array(want), Value::Array(got)) if want.len() == got.len() => {
            for (index, (value, found)) in want.iter().zip(got).enumerate() {
                compare_within(&format!("{path}/{index}"), value, found, tolerance, wrong);
            }
        }
        (Value::Number(want), Value::Number(got)) => {
            let (want, got) = (want.as_f64().unwrap(), got.as_f64().unwrap());
            let allowed = tolerance(path, want);
            if (want - got).abs() > allowed {
                wrong.push(format!("{path}: got {got}, want {want} ± {allowed}"));
            }
        }
        _ if want == got => {}
        _ => wrong.push(format!("{path}: got {got}, want {want}")),
    }
}

/// As near as the contract asks for, by the name at the end of a path.
pub(crate) fn contract(path: &str, want: f64) -> f64 {
    if path.ends_with("_min") {
        RUN_TIME_MIN
    } else if path.ends_with("_bar") {
        PRESSURE_BAR * (want.abs() / 100.0).max(1.0)
    } else if path.ends_with("_l") {
        VOLUME_SHARE * want.abs().max(1.0)
    } else if path.ends_with("_m") {
        DEPTH_M
    } else {
        DOSE
    }
}
