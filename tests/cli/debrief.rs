//! Debriefs by the command: whose a record is, what is refused, and the plan of the next dive.

use std::fs;

use hangbar::debrief::Debriefing;
use hangbar::plan_file::read;
use hangbar::quantity::Time;
use hangbar::record::read_csv;
use serde_json::Value;

use crate::folder::Folder;
use crate::run::{hangbar, parsed, text_of};

/// Two divers on 18 m for 20 minutes.
const PLAN: &str = "title = \"The quay\" # ours\nsplash = \"09:00\"\n\n[profile]\ndepth = \"18 m\"\n\
    bottom_time = \"20 min\"\n\n[[diver]]\nname = \"Noor\"\nsac = \"15 L/min\" # a guess\n\
    cylinder = { size = \"12 L\", fill = \"220 bar\" }\n\n[[diver]]\nname = \"Ada\"\n\
    sac = \"18 L/min\"\ncylinder = { size = \"15 L\", fill = \"220 bar\" }\n";
const GOOD: &str = "time (min),depth (m),pressure (bar)\n0,0,220\n1.5,17.8\u{2c}\n20,18.2,140\n22,5,\n\
    25.5,5,\n26.5,0,120\n";
/// Up at once from a long time at 40 m.
const BOLTED: &str = "time (min),depth (m)\n0,0\n3,40\n40,40\n43,0\n";

struct Ended {
    status: i32,
    stdout: String,
    stderr: String,
}

fn debrief(folder: &Folder, more: &[&str]) -> Ended {
    let mut command = hangbar();
    command.current_dir(folder.path());
    let output = command
        .args(["debrief", "plan.toml"])
        .args(more)
        .output()
        .unwrap();
    Ended {
        status: output.status.code().unwrap(),
        stdout: text_of(&output.stdout),
        stderr: text_of(&output.stderr),
    }
}

fn folder(name: &str, record: &str) -> Folder {
    let folder = Folder::new(name);
    folder.write("plan.toml", PLAN);
    folder.write("log.csv", record);
    folder
}

#[test]
fn a_record_is_whose_the_command_or_the_record_says() {
    let folder = folder("debrief-whose", GOOD);
    let unsaid = debrief(&folder, &["log.csv"]);
    assert_eq!(unsaid.status, 2);
    assert!(
        unsaid
            .stderr
            .contains("log.csv does not say whose dive it is"),
        "{}",
        unsaid.stderr
    );
    assert!(unsaid.stderr.contains("NAME=log.csv"), "{}", unsaid.stderr);
    let said = debrief(&folder, &["Noor=log.csv"]);
    assert_eq!(said.status, 0, "{}", said.stderr);
    assert!(said.stdout.contains("No record of Ada."), "{}", said.stdout);
    folder.write("named.csv", &format!("# diver: Ada\n{GOOD}"));
    let named = debrief(&folder, &["named.csv", "--format", "json"]);
    let document: Value = parsed(named.stdout.as_bytes());
    assert_eq!(document["records"][0]["diver"], "Ada");
    // The form of a record is told by what is in it.
    fs::rename(
        folder.path().join("named.csv"),
        folder.path().join("named.toml"),
    )
    .unwrap();
    assert_eq!(debrief(&folder, &["named.toml"]).status, 0);
    assert_eq!(debrief(&folder, &["Noor=log.csv", "Ada=log.csv"]).status, 2);
}

#[test]
fn a_broken_record_is_named_with_its_line_in_text_and_in_json() {
    let folder = folder("debrief-broken", "time (s),depth (m)\n0,0\n30,x\n");
    let ended = debrief(&folder, &["Noor=log.csv", "--format", "json"]);
    assert_eq!(ended.status, 2);
    assert!(ended.stderr.contains("--> log.csv:3"), "{}", ended.stderr);
    let document: Value = parsed(ended.stdout.as_bytes());
    assert_eq!(document["schema"], "hangbar/errors/1");
    assert_eq!(document["errors"][0]["line"], 3);
    assert!(document["file"].as_str().unwrap().ends_with("log.csv"));
}

#[test]
fn what_hurts_is_said_first_and_once_and_gets_no_next_plan() {
    let folder = folder("debrief-hurt", BOLTED);
    let more = ["Noor=log.csv", "--columns", "60"];
    let ended = debrief(&folder, &more);
    assert_eq!(ended.status, 1);
    assert!(
        ended
            .stdout
            .starts_with("FIRST  Noor needs the local emergency procedure")
    );
    assert_eq!(
        ended.stdout.matches("emergency procedure").count(),
        1,
        "{}",
        ended.stdout
    );
    assert!(ended.stdout.lines().all(|line| line.chars().count() <= 60));
    let next = [
        "Noor=log.csv",
        "--write-next",
        "next.toml",
        "--interval",
        "60min",
        "--absent",
        "Ada",
    ];
    let refused = debrief(&folder, &next);
    assert_eq!(refused.status, 2);
    assert!(
        refused.stderr.contains("a no-go finding about Noor"),
        "{}",
        refused.stderr
    );
    assert!(!folder.path().join("next.toml").exists());
}

#[test]
fn the_next_plan_starts_nobody_fresher_than_the_record_leaves() {
    let folder = folder("debrief-next", GOOD);
    let next = [
        "Noor=log.csv",
        "--write-next",
        "next.toml",
        "--interval",
        "60min",
    ];
    let unsaid = debrief(&folder, &next);
    assert!(
        unsaid.stderr.contains("there is no record of Ada"),
        "{}",
        unsaid.stderr
    );
    let written = debrief(&folder, &[&next[..], &["--absent", "Ada"]].concat());
    assert_eq!(written.status, 0, "{}", written.stderr);
    assert!(
        written.stderr.contains("put them right, then brief it"),
        "{}",
        written.stderr
    );
    let text = fs::read_to_string(folder.path().join("next.toml")).unwrap();
    assert!(
        text.starts_with("# The next dive after The quay: not briefed yet."),
        "{text}"
    );
    assert!(text.contains("title = \"The quay\" # ours\n"), "{text}");
    assert!(text.contains("# a guess"), "{text}");
    // From the record itself, apart from what was written.
    let plan = read(PLAN).unwrap();
    let mut debriefing = Debriefing::of(plan).unwrap();
    let log = read_csv(GOOD.as_bytes()).unwrap().remove(0);
    debriefing.sampled("log.csv", Some("Noor"), &log).unwrap();
    let dive = debriefing.end().unwrap().dives.remove(0);
    let next = read(&text).unwrap();
    let rules = next.rules();
    let surface = rules.environment.surface();
    let real = dive
        .after
        .rested(&rules.compartments, surface, Time::from_min(60.0));
    let starts = next.starts();
    for (real, told) in real
        .tissues
        .loadings()
        .iter()
        .zip(starts[0].tissues.loadings())
    {
        assert!(told.n2_bar >= real.n2_bar - 1e-9, "{told:?} for {real:?}");
        // As hard as it was, not twice as hard.
        assert!(told.n2_bar <= real.n2_bar + 0.08, "{told:?} for {real:?}");
    }
    assert_eq!(starts[1], hangbar::rules::Start::clean(surface));
    // Breathed: rounded up to a tenth.
    let breathed = dive.breathed.rate.unwrap().as_l_min();
    let planned = next.divers()[0].breathing.as_l_min();
    assert!(
        planned >= breathed && planned < breathed + 0.1,
        "{planned} for {breathed}"
    );
}

#[test]
fn nothing_is_written_over() {
    let folder = folder("debrief-over", GOOD);
    folder.write("next.toml", "mine");
    let next = [
        "Noor=log.csv",
        "--write-next",
        "next.toml",
        "--interval",
        "60min",
        "--absent",
        "Ada",
    ];
    let ended = debrief(&folder, &next);
    assert_eq!(ended.status, 2);
    assert!(
        ended.stderr.contains("is there already"),
        "{}",
        ended.stderr
    );
    assert_eq!(
        fs::read_to_string(folder.path().join("next.toml")).unwrap(),
        "mine"
    );
}

#[test]
fn a_next_splash_needs_the_time_of_day_of_every_record() {
    let folder = folder("debrief-clock", GOOD);
    let next = [
        "Noor=log.csv",
        "--write-next",
        "next.toml",
        "--next-splash",
        "11:00",
        "--absent",
        "Ada",
    ];
    let ended = debrief(&folder, &next);
    assert!(
        ended
            .stderr
            .contains("log.csv does not say at what time of day"),
        "{}",
        ended.stderr
    );
    folder.write(
        "slate.toml",
        "[[diver]]\nname = \"Noor\"\ngreatest_depth = \"18 m\"\nbottom_time = \"20 min\"\n\
         time_in = \"09:10\"\ntime_out = \"09:36\"\nstart_pressure = \"220 bar\"\n\
         end_pressure = \"130 bar\"\n",
    );
    let slate = [&["slate.toml"], &next[1..]].concat();
    let ended = debrief(&folder, &slate);
    assert_eq!(ended.status, 0, "{}", ended.stderr);
    let text = fs::read_to_string(folder.path().join("next.toml")).unwrap();
    assert!(text.contains("splash = \"11:00\""), "{text}");
    // Back at 09:36: 84 minutes, and no more is told.
    assert!(text.contains("surface_interval = \"84 min\""), "{text}");
    let sooner = [
        &["slate.toml", "--write-next", "b.toml"],
        &["--next-splash", "09:20"][..],
        &next[5..],
    ]
    .concat();
    assert!(
        debrief(&folder, &sooner)
            .stderr
            .contains("before this one is over")
    );
}

#[test]
fn both_pictures_are_drawn() {
    let folder = folder("debrief-pictures", GOOD);
    for draw in ["profile", "breathing"] {
        let file = format!("{draw}.svg");
        let ended = debrief(
            &folder,
            &["Noor=log.csv", "--picture", &file, "--draw", draw],
        );
        assert_eq!(ended.status, 0, "{}", ended.stderr);
        let svg = fs::read_to_string(folder.path().join(file)).unwrap();
        assert!(
            svg.contains("The quay") && svg.contains("planned"),
            "{draw}"
        );
    }
}
