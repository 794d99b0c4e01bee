//! What must hold for every plan, tried on random ones that keep to the edges: equal values,
//! limits and one step beside them, depths on stop levels.
//!
//! The seed is fixed, so a run is the same everywhere and leaves no files behind. Where a property
//! needs the model, the tests fly the dive again with the equations of the model written out here
//! and take only the coefficients from the library.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a helper of a test may fail the test"
)]

use proptest::prelude::ProptestConfig;
use proptest::test_runner::RngSeed;

mod again;
mod any_text;
mod blending;
mod covering;
mod days;
mod dives;
mod factors;
mod flying;
mod gas;
mod lost_stages;
mod no_stop;
mod plans;
mod same_plans;
mod schedules;
#[path = "../support/spelling.rs"]
mod spelling;
mod tissues;

/// Any number does; this one is the same in every run.
const SEED: u64 = 0x0048_414E_4742_4152;
/// Two ways to the same pressure in f64, over some thousand minutes: bar.
const SAME_PRESSURE_BAR: f64 = 1e-9;
/// Two ways to the same run time: minutes.
const SAME_TIME_MIN: f64 = 1e-9;
/// Two ways to the same depth: metres.
const SAME_DEPTH_M: f64 = 1e-9;
/// What the model lets a compartment stand over its limit: bar.
const WITHIN_BAR: f64 = 1e-9;

/// So many cases, or as many as `PROPTEST_CASES` asks for; at most as many again may be thrown
/// away, lest a property hold of nothing.
fn config(cases: u32) -> ProptestConfig {
    let asked = std::env::var_os("PROPTEST_CASES").map(|_| ProptestConfig::default().cases);
    let cases = asked.unwrap_or(cases);
    ProptestConfig {
        cases,
        max_global_rejects: cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(SEED),
        ..ProptestConfig::default()
    }
}
