//! The slowest inputs of a run, kept where `HANGBAR_FUZZ_SLOWEST` names a folder.

use std::fs;
use std::path::PathBuf;
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// So many are kept.
const KEPT: usize = 20;

static SLOWEST: Mutex<Vec<(Duration, PathBuf)>> = Mutex::new(Vec::new());

/// Times a piece of work on an input, and keeps the input where it is among the slowest.
pub fn timed<T>(input: &[u8], work: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let result = work();
    let took = begun.elapsed();
    if let Some(folder) = std::env::var_os("HANGBAR_FUZZ_SLOWEST") {
        keep(took, input, &PathBuf::from(folder));
    }
    result
}

fn keep(took: Duration, input: &[u8], folder: &PathBuf) {
    let mut slowest = SLOWEST.lock().expect("one thread");
    if slowest.len() == KEPT && slowest.last().is_some_and(|(last, _)| *last >= took) {
        return;
    }
    let path = folder.join(format!("{:07}-us-{}", took.as_micros(), input.len()));
    fs::create_dir_all(folder).expect("a folder that can be made");
    fs::write(&path, input).expect("a folder that can be written to");
    slowest.push((took, path));
    slowest.sort_by(|(x, _), (y, _)| y.cmp(x));
    if slowest.len() > KEPT
        && let Some((_, path)) = slowest.pop()
    {
        let _ = fs::remove_file(path);
    }
}
