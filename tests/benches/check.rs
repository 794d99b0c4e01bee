//! `hangbar check` over folders of the demo's plans: plans a second and greatest memory, beside one
//! core that reads and briefs the same plans in process, measured in the same run.
//!
//! ```text
//! cargo bench --bench check             # 1,000, 10,000 and 100,000 plans
//! cargo bench --bench check -- --test   # a few, no figures
//! ```
//! Memory is what Linux says of the process while it runs; elsewhere there is no such figure.

use hangbar::briefing::brief;
use hangbar::plan_file;
use std::fs;
use std::hint::black_box;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

const FOLDERS: [usize; 3] = [1_000, 10_000, 100_000];
/// Runs of each folder; the quickest counts.
const RUNS: usize = 3;
/// How often the memory of a process is looked at.
const LOOK: Duration = Duration::from_millis(5);
/// So many plans to a folder, as on a disk that somebody keeps in order.
const IN_A_FOLDER: usize = 1_000;

type Error = Box<dyn std::error::Error>;

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

/// The demo's plans.
fn plans() -> Result<Vec<String>, Error> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("plans");
    let mut files: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path
            .extension()
            .is_some_and(|extension| extension == "toml")
        {
            files.push(path);
        }
    }
    files.sort();
    let texts = files.iter().map(fs::read_to_string);
    Ok(texts.collect::<Result<_, _>>()?)
}

/// Folders of so many plans in all, the demo's one after the other; gives their paths.
fn fill(root: &Path, plans: &[String], count: usize) -> Result<Vec<PathBuf>, Error> {
    let mut folders = Vec::new();
    for number in 0..count {
        let folder = root.join(format!("{:03}", number / IN_A_FOLDER));
        if number % IN_A_FOLDER == 0 {
            fs::create_dir_all(&folder)?;
            folders.push(folder.clone());
        }
        let name = format!("{number:06}.toml");
        fs::write(folder.join(name), &plans[number % plans.len()])?;
    }
    Ok(folders)
}

/// One core that reads and briefs so many plans: plans a second.
fn one_core(plans: &[String], count: usize) -> Result<f64, Error> {
    let begin = Instant::now();
    for text in plans.iter().cycle().take(count) {
        black_box(brief(plan_file::read(black_box(text))?)?);
    }
    Ok(per_second(count, begin.elapsed()))
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a hundred thousand plans are counted exactly"
)]
fn per_second(count: usize, time: Duration) -> f64 {
    count as f64 / time.as_secs_f64()
}

/// The greatest memory that a process has held, KiB, until it ends.
fn watched(child: &mut Child) -> Result<Option<u64>, Error> {
    let status = format!("/proc/{}/status", child.id());
    let mut most = None;
    while child.try_wait()?.is_none() {
        let text = fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let kib = line.and_then(|line| line.trim().trim_end_matches(" kB").parse().ok());
        most = most.max(kib);
        std::thread::sleep(LOOK);
    }
    Ok(most)
}

/// Checks folders and counts the lines: the time it takes, and the memory.
fn check(folders: &[PathBuf], count: usize) -> Result<(Duration, Option<u64>), Error> {
    let output = folders[0].with_file_name("rows.txt");
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command.arg("check").args(folders);
    command
        .stdout(fs::File::create(&output)?)
        .stderr(Stdio::null());
    let begin = Instant::now();
    let mut child = command.spawn()?;
    let memory = watched(&mut child)?;
    let time = begin.elapsed();
    let rows = fs::read_to_string(&output)?;
    let name = |row: &str| row.split_whitespace().nth(1).map(str::to_owned);
    let names = rows.lines().map(name);
    let in_order = names.is_sorted();
    if rows.lines().count() != count || !in_order {
        return Err(format!(
            "{} rows of {count}, in order: {in_order}",
            rows.lines().count()
        )
        .into());
    }
    Ok((time, memory))
}

fn measure(once: bool) -> Result<String, Error> {
    let plans = plans()?;
    let (sizes, runs): (&[usize], _) = if once { (&[40], 1) } else { (&FOLDERS, RUNS) };
    let place = tempfile::tempdir()?;
    let mut report = String::new();
    for count in sizes {
        let root = place.path().join(count.to_string());
        let folders = fill(&root, &plans, *count)?;
        let (mut floor, mut checked, mut memory) = (0.0_f64, 0.0_f64, None);
        for _ in 0..runs {
            floor = floor.max(one_core(&plans, (*count).min(FOLDERS[0]))?);
            let (time, held) = check(&folders, *count)?;
            checked = checked.max(per_second(*count, time));
            memory = memory.max(held);
        }
        fs::remove_dir_all(&root)?;
        report.push_str(&format!(
            "{count:>7} plans   one core in process {floor:>7.0} /s   check {checked:>7.0} /s   \
             {:.2} x floor   {} KiB at most\n",
            checked / floor,
            memory.map_or_else(|| "?".to_owned(), |kib| kib.to_string())
        ));
    }
    if once {
        return Ok("each ran once\n".to_owned());
    }
    Ok(report)
}
