//! A figure beside its source, and how near it has to come.

#![allow(
    dead_code,
    reason = "each program of tests has its own choice of these"
)]

/// The two numbers are the same decimal.
pub(crate) const EXACT: f64 = 0.0;
/// A last bit or two of an f64 where decimals are only multiplied.
pub(crate) const LAST_BITS: f64 = 1e-12;

/// Half a unit of the last printed digit, and a last bit for the edge itself.
pub(crate) fn printed(digits: i32) -> f64 {
    0.5 * 10f64.powi(-digits) + LAST_BITS
}

#[track_caller]
pub(crate) fn assert_close(what: &str, source: &str, got: f64, want: f64, tolerance: f64) {
    assert!(
        (got - want).abs() <= tolerance,
        "{what} [{source}]: got {got}, want {want} ± {tolerance}"
    );
}

#[track_caller]
pub(crate) fn assert_between(what: &str, source: &str, got: f64, least: f64, greatest: f64) {
    assert!(
        (least..=greatest).contains(&got),
        "{what} [{source}]: got {got}, want {least} to {greatest}"
    );
}
