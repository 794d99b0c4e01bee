//! Plan text: refused with places in it, or briefed, shown in every way, and the same once written again.
#![no_main]

use hangbar_fuzz::mutate::{Lines, mutated};
use hangbar_fuzz::{dives, slow};
use libfuzzer_sys::{fuzz_mutator, fuzz_target};

fuzz_target!(|data: &[u8]| {
    let Ok(text) = str::from_utf8(data) else {
        return;
    };
    let briefing = slow::timed(data, || dives::plan(text).and_then(dives::briefing));
    if let Some(briefing) = briefing {
        dives::look_at(&briefing, text);
        dives::written_again(text, &briefing);
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    mutated(Lines::Plan, data, size, max_size, seed)
});
