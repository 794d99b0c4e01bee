//! The model beside the exponentials and logarithms that it cannot do without, in the same run.
//!
//! ```text
//! cargo bench --bench model             # figures
//! cargo bench --bench model -- --test   # once each, no figures
//! ```
//! Each figure is the least of many rounds that take turns, in nanoseconds, and its ratio to the
//! floor that stands above it.

use hangbar::briefing::brief;
use hangbar::dive::{Schedule, fly, no_stop_limit};
use hangbar::plan_file;
use hangbar::quantity::{Depth, Pressure, Time};
use hangbar::rules::{DiveRules, Level};
use hangbar::site::Mix;
use hangbar::tissue::Tissues;
use std::hint::black_box;
use std::io::Write;
use std::process::ExitCode;
use std::time::{Duration, Instant};

const ROUNDS: usize = 400;
/// One round of one figure takes about so long.
const ROUND: Duration = Duration::from_micros(500);

type Error = Box<dyn std::error::Error>;

struct Figure {
    name: String,
    /// Which figure is its floor, by index; its own for a floor.
    floor: usize,
    run: Box<dyn FnMut()>,
}

fn main() -> ExitCode {
    let once = std::env::args().any(|argument| argument == "--test");
    match measure(once) {
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

/// Exponentials of arguments that nobody knows beforehand.
fn exponentials(count: usize) -> impl FnMut() {
    let arguments: Vec<f64> = (1_u32..)
        .take(count)
        .map(|n| -0.01 * f64::from(n % 61))
        .collect();
    move || {
        for argument in black_box(&arguments) {
            black_box(argument.exp());
        }
    }
}

fn exponentials_and_logarithms(count: usize) -> impl FnMut() {
    let mut exponentials = exponentials(count);
    let arguments: Vec<f64> = (1_u32..)
        .take(count)
        .map(|n| 1.0 + 0.01 * f64::from(n))
        .collect();
    move || {
        exponentials();
        for argument in black_box(&arguments) {
            black_box(argument.ln());
        }
    }
}

/// The exponentials that the segments of a schedule cannot do without: 16 for each inert gas.
fn needed(schedule: &Schedule) -> usize {
    let gases = |mix: Mix| 1 + usize::from(mix.helium() > 0.0);
    schedule
        .segments
        .iter()
        .map(|segment| 16 * gases(segment.gas))
        .sum()
}

fn figures() -> Result<Vec<Figure>, Error> {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let mut figures: Vec<Figure> = Vec::new();
    let mut add = |name: &str, floor: Option<usize>, run: Box<dyn FnMut()>| {
        let own = figures.len();
        figures.push(Figure {
            name: name.to_owned(),
            floor: floor.unwrap_or(own),
            run,
        });
        own
    };
    let sixteen = add("16 exponentials", None, Box::new(exponentials(16)));
    let bar = |bar| black_box(Pressure::from_bar(bar));
    {
        let (set, tissues) = (rules.compartments.clone(), clean);
        add(
            "segment: a level",
            Some(sixteen),
            Box::new(move || {
                let time = black_box(Time::from_min(20.0));
                black_box(black_box(&tissues).after(&set, Mix::AIR, bar(4.0), bar(4.0), time));
            }),
        );
        let set = rules.compartments.clone();
        add(
            "segment: 3 m up",
            Some(sixteen),
            Box::new(move || {
                let time = black_box(Time::from_min(1.0 / 3.0));
                black_box(black_box(&tissues).after(&set, Mix::AIR, bar(4.0), bar(3.7), time));
            }),
        );
    }
    let both = add(
        "16 exponentials, 16 logarithms",
        None,
        Box::new(exponentials_and_logarithms(16)),
    );
    for depth_m in [18.0, 30.0, 42.0] {
        let rules = rules.clone();
        no_stop_limit(&rules, &clean, Depth::from_m(depth_m))?;
        add(
            &format!("no-stop limit at {depth_m} m"),
            Some(both),
            Box::new(move || {
                let _ = black_box(no_stop_limit(
                    &rules,
                    &clean,
                    black_box(Depth::from_m(depth_m)),
                ));
            }),
        );
    }
    for (depth_m, minutes) in [(45.0, 30.0), (45.0, 90.0), (60.0, 200.0)] {
        let rules = rules.clone();
        let levels = [Level {
            depth: Depth::from_m(depth_m),
            time: Time::from_min(minutes),
        }];
        let schedule = fly(&rules, &clean, &levels)?;
        let count = needed(&schedule);
        let floor = add(
            &format!("{count} exponentials"),
            None,
            Box::new(exponentials(count)),
        );
        let name = format!(
            "schedule: {depth_m} m, {minutes} min, {:.0} min up",
            (schedule.run_time() - schedule.leave_bottom()).as_min()
        );
        add(
            &name,
            Some(floor),
            Box::new(move || {
                let _ = black_box(fly(&rules, &clean, black_box(&levels)));
            }),
        );
    }
    for name in ["sand-garden", "skua-stack", "kittiwake-wall", "long-ledge"] {
        let file = format!("{}/plans/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(&file)?;
        let plan = plan_file::read(&text)?;
        brief(plan.clone())?;
        add(
            &format!("brief in process: {name}"),
            Some(sixteen),
            Box::new(move || {
                let _ = black_box(brief(black_box(plan.clone())));
            }),
        );
    }
    Ok(figures)
}

fn measure(once: bool) -> Result<String, Error> {
    let mut figures = figures()?;
    if once {
        for figure in &mut figures {
            (figure.run)();
        }
        return Ok("each ran once\n".to_owned());
    }
    let mut repeats = Vec::new();
    for figure in &mut figures {
        let start = Instant::now();
        (figure.run)();
        let once = start.elapsed().max(Duration::from_nanos(20));
        let fit = (ROUND.as_nanos() / once.as_nanos()).max(1);
        repeats.push(u32::try_from(fit).unwrap_or(u32::MAX));
    }
    let mut least = vec![f64::INFINITY; figures.len()];
    for _ in 0..ROUNDS {
        for ((figure, repeats), least) in figures.iter_mut().zip(&repeats).zip(&mut least) {
            let start = Instant::now();
            for _ in 0..*repeats {
                (figure.run)();
            }
            *least = least.min(start.elapsed().as_nanos() as f64 / f64::from(*repeats));
        }
    }
    let mut report = format!("least of {ROUNDS} rounds\n");
    for (index, figure) in figures.iter().enumerate() {
        let ratio = if figure.floor == index {
            "floor".to_owned()
        } else {
            format!("{:.2} x floor", least[index] / least[figure.floor])
        };
        report.push_str(&format!(
            "{:<40} {:>12.1} ns   {ratio}\n",
            figure.name, least[index]
        ));
    }
    Ok(report)
}
