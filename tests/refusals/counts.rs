//! How many of something a plan may have: so many are read, and one more is refused where it
//! stands, by the file and by the builder alike.

use hangbar::plan::{EarlierDive, PlanBuilder, Stage};
use hangbar::plan_file::{Problem, read};
use hangbar::quantity::{Depth, Time, UnitSystem};
use hangbar::rules::Level;
use hangbar::site::Mix;

use crate::built::{diver, reef, refusal, twelve};
use crate::plans::{REEF, only};

const LEVEL: &str = "[[profile.level]]\ndepth = \"12 m\"\ntime = \"4 min\"\n";

/// One level of so many minutes, so many times.
fn levels(count: usize, minutes: &str) -> String {
    LEVEL.replace('4', minutes).repeat(count)
}

fn divers(count: usize) -> String {
    let one = |number| {
        format!(
            "[[diver]]\nname = \"Diver {number}\"\nsac = \"15 L/min\"\n\
             cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n"
        )
    };
    (1..=count).map(one).collect()
}

fn mixes(count: usize) -> impl Iterator<Item = String> {
    (0..count).map(|more| format!("EAN{}", 40 + more))
}

fn gases(count: usize) -> String {
    let quoted: Vec<String> = mixes(count).map(|gas| format!("\"{gas}\"")).collect();
    format!("[gas]\ndecompression = [{}]\n", quoted.join(", "))
}

fn stages(count: usize) -> String {
    let stage = "{ gas = \"EAN40\", size = \"7 L\", fill = \"200 bar\" }, ";
    let stages = format!("stage = [{}]\n", stage.repeat(count));
    format!("{REEF}{stages}{}", gases(1))
}

fn before(count: usize) -> String {
    let dive =
        "[[before]]\ndepth = \"9 m\"\nbottom_time = \"20 min\"\nsurface_interval = \"60 min\"\n";
    format!("{REEF}{}", dive.repeat(count))
}

/// The text with so many is read; with one more there is this to say, in this line.
#[track_caller]
fn most(count: usize, text: impl Fn(usize) -> String, line: usize, table: &str, what: &str) {
    if let Err(errors) = read(&text(count)) {
        panic!("{count} {what} are refused:\n{errors}");
    }
    said(
        &only(read(&text(count + 1)).unwrap_err()),
        count,
        line,
        table,
        what,
    );
}

#[track_caller]
fn said(problem: &Problem, count: usize, line: usize, table: &str, what: &str) {
    assert_eq!(
        problem.message,
        format!("{} {what} are too many", count + 1)
    );
    assert_eq!(
        problem.accepted.as_deref(),
        Some(format!("at most {count} {what}").as_str())
    );
    assert_eq!(problem.table, table);
    assert_eq!(problem.position.as_ref().unwrap().line, line);
}

#[test]
fn so_many_may_stand_in_a_file_and_not_one_more() {
    let list = "[[profile.level]] 21";
    most(20, |count| levels(count, "4"), 61, list, "levels");
    most(
        50,
        |count| levels(1, "4") + &divers(count),
        204,
        "[[diver]] 51",
        "divers",
    );
    most(
        8,
        stages,
        11,
        "[[diver]] 1 stage 9",
        "stage cylinders of one diver",
    );
    let gases = |count| levels(1, "4") + &gases(count);
    most(8, gases, 5, "[gas]", "decompression gases");
    most(20, before, 91, "[[before]] 21", "earlier dives");
    let before = |count| {
        let levels = levels(count, "4").replace("profile", "before");
        format!("{REEF}[[before]]\nsurface_interval = \"60 min\"\n{levels}")
    };
    most(20, before, 73, "[[before]] 1 level 21", "levels");
}

#[test]
fn a_thousand_are_refused_in_one_line() {
    let text = levels(1, "4") + &divers(1000);
    let problem = only(read(&text).unwrap_err());
    assert_eq!(problem.message, "1000 divers are too many");
    assert_eq!(problem.position.unwrap().line, 204);
}

#[test]
fn levels_may_take_two_days_together() {
    assert!(read(&levels(20, "144")).is_ok());
    let mut text = levels(19, "144");
    text.push_str(&levels(1, "144.5"));
    let problem = only(read(&text).unwrap_err());
    assert_eq!(problem.table, "[[profile.level]] 20");
    assert_eq!(
        problem.message,
        "the bottom time comes to 2880.5 min by here"
    );
    assert_eq!(
        problem.accepted.as_deref(),
        Some("at most 2880 min, all levels together")
    );
    let (depth, half) = (Depth::from_m(12.0), Time::from_min(1440.0));
    let built = PlanBuilder::new(UnitSystem::Metric)
        .level(depth, half)
        .level(depth, half)
        .level(depth, Time::from_min(0.2));
    assert!(refusal(built).starts_with("the bottom time is 2880.2 min; accepted: "));
}

#[test]
fn so_many_may_be_built_and_not_one_more() {
    let level = Level {
        depth: Depth::from_m(12.0),
        time: Time::from_min(4.0),
    };
    let levels = |count| {
        let plan = PlanBuilder::new(UnitSystem::Metric);
        (0..count).fold(plan, |plan, _| plan.level(level.depth, level.time))
    };
    let divers =
        |count| (0..count).fold(reef(), |plan, each| plan.diver(diver(&format!("D{each}"))));
    let dive = |levels: usize| EarlierDive {
        levels: vec![level; levels],
        gas: None,
        surface_interval: Time::from_min(60.0),
        divers: None,
    };
    let before = |count| (0..count).fold(reef(), |plan, _| plan.before(dive(1)));
    let known =
        |gases: usize| -> Vec<Mix> { mixes(gases).map(|gas| gas.parse().unwrap()).collect() };
    let gases = |count| crate::built::with_rules(|rules| rules.decompression = known(count));
    let stages = |count| {
        let mut diver = diver("Ines");
        let gas = known(1)[0];
        diver.stages = vec![
            Stage {
                gas,
                cylinder: twelve()
            };
            count
        ];
        gases(1).diver(diver)
    };
    for (plan, one_more, said) in [
        (levels(20), levels(21), "21 levels; accepted: at most 20"),
        (divers(50), divers(51), "51 divers; accepted: at most 50"),
        (
            before(20),
            before(21),
            "21 earlier dives; accepted: at most 20",
        ),
        (
            reef().before(dive(20)),
            reef().before(dive(21)),
            "21 levels; accepted: at most 20",
        ),
        (
            gases(8),
            gases(9),
            "9 decompression gases; accepted: at most 8",
        ),
        (
            stages(8),
            stages(9),
            "9 stage cylinders of one diver; accepted: at most 8",
        ),
    ] {
        assert!(plan.build().is_ok(), "{said}");
        assert_eq!(refusal(one_more), said);
    }
}
