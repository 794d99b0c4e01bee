//! Wall time of one `hangbar brief` beside that of a trivial program, measured in the same run.
//!
//! ```text
//! cargo bench --bench startup             # figures
//! cargo bench --bench startup -- --test   # once each, no figures
//! ```
//! The trivial program is this one, told to end at once: the floor is starting a Rust binary.

use std::hint::black_box;
use std::io::Write;
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

const FLOOR: &str = "--floor";
const ROUNDS: usize = 200;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if arguments.iter().any(|argument| argument == FLOOR) {
        return ExitCode::SUCCESS;
    }
    let rounds = if arguments.iter().any(|argument| argument == "--test") {
        1
    } else {
        ROUNDS
    };
    match measure(rounds) {
        Ok(report) => {
            let _ = std::io::stdout().write_all(report.as_bytes());
            ExitCode::SUCCESS
        }
        Err(message) => {
            let _ = std::io::stderr().write_all(message.as_bytes());
            ExitCode::FAILURE
        }
    }
}

fn measure(rounds: usize) -> Result<String, String> {
    let own = std::env::current_exe().map_err(|error| error.to_string())?;
    let root = env!("CARGO_MANIFEST_DIR");
    let hangbar = env!("CARGO_BIN_EXE_hangbar");
    let plan = |name: &str| format!("{root}/plans/{name}.toml");
    let mut programs = vec![("floor".to_owned(), Command::new(own))];
    programs[0].1.arg(FLOOR);
    for name in ["sand-garden", "skua-stack", "long-ledge"] {
        let mut command = Command::new(hangbar);
        command.args(["brief", &plan(name)]);
        programs.push((format!("brief/{name}"), command));
    }
    let mut times: Vec<Vec<Duration>> = vec![Vec::new(); programs.len()];
    // Taking turns spreads whatever else the machine does over all of them.
    for _ in 0..rounds {
        for ((name, command), times) in programs.iter_mut().zip(&mut times) {
            let start = Instant::now();
            let status = black_box(command.stdout(Stdio::null()).status());
            times.push(start.elapsed());
            let status = status.map_err(|error| format!("{name}: {error}\n"))?;
            if !status.success() {
                return Err(format!("{name} ended with {status}\n"));
            }
        }
    }
    let medians: Vec<f64> = times.iter_mut().map(|times| median_ms(times)).collect();
    let mut report = format!("median of {rounds} runs\n");
    for ((name, _), median) in programs.iter().zip(&medians) {
        let ratio = median / medians[0];
        report.push_str(&format!(
            "{name:<20} {median:>8.3} ms   {ratio:>5.2} x floor\n"
        ));
    }
    Ok(report)
}

fn median_ms(times: &mut [Duration]) -> f64 {
    times.sort();
    times[times.len() / 2].as_secs_f64() * 1000.0
}
