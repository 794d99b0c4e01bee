//! A day of readings and a season of logs, beside the bare cost of reading the files, measured in
//! the same run.
//!
//! ```text
//! cargo bench --bench debrief             # figures
//! cargo bench --bench debrief -- --test   # once each, no figures
//! ```
//! The day is eight hours at one reading a second, 28,800 rows, as a table and as UDDF; the season
//! 1,000 tables of an hour's dive at one reading in ten seconds. The floor reads the same bytes and
//! adds them up.

use std::fmt::Write as _;
use std::fs;
use std::hint::black_box;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

use hangbar::debrief::Debriefing;
use hangbar::plan_file;
use hangbar::record::{read_csv, read_uddf};

const ROUNDS: usize = 20;
const DAY_SECONDS: u32 = 28_800;
const SEASON: usize = 1_000;
const PLAN: &str = "[profile]\ndepth = \"18 m\"\nbottom_time = \"40 min\"\n[[diver]]\nname = \"Noor\"\n\
                    sac = \"15 L/min\"\ncylinder = { size = \"12 L\", fill = \"220 bar\" }\n";

type Answer<T> = Result<T, Box<dyn std::error::Error>>;

fn main() -> ExitCode {
    let once = std::env::args().any(|argument| argument == "--test");
    match measure(if once { 1 } else { ROUNDS }, once) {
        Ok(report) => {
            let _ = std::io::stdout().write_all(report.as_bytes());
            ExitCode::SUCCESS
        }
        Err(error) => {
            let _ = writeln!(std::io::stderr(), "{error}");
            ExitCode::FAILURE
        }
    }
}

/// Depth at a second of the day: up and down between 4 and 12 m, the surface at both ends.
fn depth(second: u32, last: u32) -> f64 {
    let edge = f64::from(second.min(last - second));
    let swing = (f64::from(second) / 300.0).sin();
    (8.0 + 4.0 * swing).min(edge / 10.0)
}

fn table(last: u32, step: usize) -> String {
    let mut text = "time (s),depth (m),pressure (bar)\n".to_owned();
    for second in (0..=last).step_by(step) {
        let bar = 220.0 - 150.0 * f64::from(second) / f64::from(last);
        let _ = writeln!(text, "{second},{:.2},{bar:.1}", depth(second, last));
    }
    text
}

fn uddf(last: u32) -> String {
    let mut text =
        "<uddf version=\"3.2.3\"><profiledata><repetitiongroup><dive><samples>".to_owned();
    for second in 0..=last {
        let pascal = 2.2e7 - 1.5e7 * f64::from(second) / f64::from(last);
        let _ = writeln!(
            text,
            "<waypoint><depth>{:.2}</depth><divetime>{second}</divetime>\
             <tankpressure>{pascal:.0}</tankpressure></waypoint>",
            depth(second, last)
        );
    }
    text + "</samples></dive></repetitiongroup></profiledata></uddf>\n"
}

fn floor(path: &Path) -> Answer<()> {
    let mut bytes = Vec::new();
    fs::File::open(path)?.read_to_end(&mut bytes)?;
    black_box(bytes.iter().map(|byte| u64::from(*byte)).sum::<u64>());
    Ok(())
}

fn debrief(paths: &[PathBuf]) -> Answer<()> {
    let mut debriefing = Debriefing::of(plan_file::read(PLAN)?)?;
    for path in paths {
        let file = fs::File::open(path)?;
        let is_xml = path
            .extension()
            .is_some_and(|extension| extension == "uddf");
        let logs = if is_xml {
            read_uddf(file)?
        } else {
            read_csv(file)?
        };
        for log in &logs {
            debriefing.sampled("log", None, log)?;
        }
    }
    black_box(debriefing.end()?);
    Ok(())
}

fn measure(rounds: usize, once: bool) -> Answer<String> {
    let folder = std::env::temp_dir().join(format!("hangbar-bench-{}", std::process::id()));
    fs::create_dir_all(&folder)?;
    let result = measure_in(&folder, rounds, once);
    fs::remove_dir_all(&folder)?;
    result
}

fn measure_in(folder: &Path, rounds: usize, once: bool) -> Answer<String> {
    let day = [folder.join("day.csv"), folder.join("day.uddf")];
    fs::write(&day[0], table(DAY_SECONDS - 1, 1))?;
    fs::write(&day[1], uddf(DAY_SECONDS - 1))?;
    let season: Vec<PathBuf> = (0..SEASON)
        .map(|index| folder.join(format!("{index}.csv")))
        .collect();
    for path in &season {
        fs::write(path, table(3_600, 10))?;
    }
    let mut report = String::new();
    for (name, paths, rounds) in [
        ("a day as a table", &day[..1], rounds),
        ("a day as UDDF", &day[1..], rounds),
        ("a season of 1,000 tables", &season[..], rounds.min(3)),
    ] {
        let (mut floors, mut debriefs) = (Vec::new(), Vec::new());
        // Taking turns spreads whatever else the machine does over both.
        for _ in 0..rounds {
            let start = Instant::now();
            for path in paths {
                floor(path)?;
            }
            floors.push(start.elapsed());
            let start = Instant::now();
            debrief(paths)?;
            debriefs.push(start.elapsed());
        }
        let (floor, debrief) = (middle(floors), middle(debriefs));
        if !once {
            let _ = writeln!(
                report,
                "{name:<26} floor {:>8.2} ms   debrief {:>8.2} ms   {:>6.1} x floor",
                millis(floor),
                millis(debrief),
                millis(debrief) / millis(floor)
            );
        }
    }
    Ok(report)
}

fn middle(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

fn millis(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}
