//! Wall time of one `hangbar brief` beside that of programs that work nothing out, measured in the
//! same run.
//!
//! ```text
//! cargo bench --bench startup             # figures
//! cargo bench --bench startup -- --test   # once each, no figures
//! ```
//! These are this program itself, told to end at once (what starting a Rust binary takes), or to do
//! what no briefing can be had without: parse a command line of as many commands and options, read
//! the plan's file as TOML, and print as many bytes as the briefing has. Each briefing stands beside
//! the one of its own plan.

use clap::{Arg, ArgAction, ArgMatches, Command as CommandLine};
use std::hint::black_box;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

const START: &str = "--start-alone";
/// The first word of the program that parses, reads and prints.
const FLOOR: &str = "brief";
const ROUNDS: usize = 400;
/// What the command line of hangbar has: so many commands, and of `brief` so many options.
const COMMANDS: [&str; 9] = [
    FLOOR, "whatif", "limits", "mix", "trace", "explain", "check", "day", "debrief",
];
const OPTIONS: [&str; 12] = [
    "fill",
    "bottom-time",
    "depth",
    "gas",
    "factors",
    "units",
    "format",
    "color",
    "width",
    "picture",
    "splash",
    "interval",
];

type Error = Box<dyn std::error::Error>;

fn main() -> ExitCode {
    let first = std::env::args().nth(1);
    match first.as_deref() {
        Some(START) => ExitCode::SUCCESS,
        Some(FLOOR) => said(parse_and_print()),
        _ => said(measure()),
    }
}

fn said(result: Result<(), Error>) -> ExitCode {
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(std::io::stderr(), "{error}");
            ExitCode::FAILURE
        }
    }
}

/// A command line like that of hangbar.
fn command_line() -> CommandLine {
    let options = || {
        OPTIONS.map(|name| {
            Arg::new(name)
                .long(name)
                .action(ArgAction::Append)
                .help("What it does, in a line as long as such a line is")
        })
    };
    let command = |name: &'static str| {
        CommandLine::new(name)
            .about("What it does, in a line as long as such a line is")
            .args(options())
            .arg(Arg::new("plan").value_parser(clap::value_parser!(PathBuf)))
            .arg(Arg::new("bytes").value_parser(clap::value_parser!(usize)))
    };
    CommandLine::new("floor").subcommands(COMMANDS.map(command))
}

fn parse_and_print() -> Result<(), Error> {
    let matches = command_line().get_matches();
    let (_, brief): (&str, &ArgMatches) = matches.subcommand().ok_or("no command")?;
    let plan: &PathBuf = brief.get_one("plan").ok_or("no plan")?;
    let bytes: &usize = brief.get_one("bytes").ok_or("no bytes")?;
    let table: toml::Table = std::fs::read_to_string(plan)?.parse()?;
    black_box(&table);
    let text = "x".repeat(*bytes);
    std::io::stdout().write_all(text.as_bytes())?;
    Ok(())
}

/// A program and which one is its floor, by index; its own for a floor.
struct Program {
    name: String,
    command: Command,
    floor: usize,
    times: Vec<Duration>,
}

fn programs() -> Result<Vec<Program>, Error> {
    let own = std::env::current_exe()?;
    let hangbar = env!("CARGO_BIN_EXE_hangbar");
    let mut programs: Vec<Program> = Vec::new();
    let mut add = |name: String, floor: Option<usize>, program: &str, arguments: &[&str]| {
        let index = programs.len();
        let mut command = Command::new(program);
        command.args(arguments).stdout(Stdio::null());
        programs.push(Program {
            name,
            command,
            floor: floor.unwrap_or(index),
            times: Vec::new(),
        });
        index
    };
    let own = own.to_str().ok_or("a name that is not UTF-8")?;
    add("start".to_owned(), None, own, &[START]);
    for name in ["sand-garden", "skua-stack", "kittiwake-wall", "long-ledge"] {
        let plan = format!("{}/plans/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let output = Command::new(hangbar).args(["brief", &plan]).output()?;
        if !output.status.success() {
            return Err(format!("{name} ended with {}", output.status).into());
        }
        let bytes = output.stdout.len().to_string();
        let floor = add(
            format!("{name}: parse and print"),
            None,
            own,
            &[FLOOR, &plan, &bytes],
        );
        add(
            format!("{name}: brief"),
            Some(floor),
            hangbar,
            &["brief", &plan],
        );
    }
    Ok(programs)
}

fn measure() -> Result<(), Error> {
    let once = std::env::args().any(|argument| argument == "--test");
    let rounds = if once { 1 } else { ROUNDS };
    let mut programs = programs()?;
    // Taking turns spreads whatever else the machine does over all of them.
    for _ in 0..rounds {
        for program in &mut programs {
            let start = Instant::now();
            let status = black_box(program.command.status())?;
            program.times.push(start.elapsed());
            if !status.success() {
                return Err(format!("{} ended with {status}", program.name).into());
            }
        }
    }
    if once {
        return said_once();
    }
    let medians: Vec<f64> = programs
        .iter_mut()
        .map(|program| median_ms(&mut program.times))
        .collect();
    let mut report = format!("median of {rounds} runs\n");
    for (program, median) in programs.iter().zip(&medians) {
        report.push_str(&format!(
            "{:<34} {median:>8.3} ms   {:>5.2} x floor\n",
            program.name,
            median / medians[program.floor]
        ));
    }
    std::io::stdout().write_all(report.as_bytes())?;
    Ok(())
}

fn said_once() -> Result<(), Error> {
    std::io::stdout().write_all(b"each ran once\n")?;
    Ok(())
}

fn median_ms(times: &mut [Duration]) -> f64 {
    times.sort();
    times[times.len() / 2].as_secs_f64() * 1000.0
}
