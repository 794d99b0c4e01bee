//! Plan files written again for the next dive: what is asked for is in them, and nothing else has
//! changed.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::Path;

use hangbar::debrief::covering_levels;
use hangbar::plan::{EarlierDive, Plan};
use hangbar::plan_file::{NextPlan, NextPlanError, next_plan, read};
use hangbar::quantity::{BreathingRate, Depth, RunTime, Time, UnitSystem};
use hangbar::rules::Level;
use hangbar::site::Mix;

const METRIC: &str = r#"# The boat leaves at nine.
title = "The near reef"   # by the buoy
splash = "09:40" # slack water

[profile]
depth = "18 m"
bottom_time = "30 min"

[[diver]]
name = "Ines"
sac = "15 L/min"   # last summer, warm water
cylinder = { size = "12 L", fill = "200 bar" } # her own

[[diver]]
name = "Tom"
	sac="1.2 bar/min"
cylinder = { size = "15 L", fill = "200 bar" }
"#;

fn level(metres: f64, minutes: f64) -> Level {
    Level {
        depth: Depth::from_m(metres),
        time: Time::from_min(minutes),
    }
}

fn dive(levels: &[(f64, f64)], interval: f64) -> EarlierDive {
    let levels = levels.iter().map(|&(depth, time)| level(depth, time));
    EarlierDive::new(levels.collect(), Time::from_min(interval))
}

fn breathes(name: &str, litres: f64) -> (String, BreathingRate) {
    (name.to_owned(), BreathingRate::from_l_min(litres))
}

fn rate(plan: &Plan, name: &str) -> f64 {
    let diver = plan.divers().iter().find(|diver| diver.name == name);
    diver.unwrap().breathing.as_l_min()
}

/// The lines that have become other ones, as they were; and those and the ones at the end as they
/// are.
fn changed(before: &str, after: &str) -> (Vec<String>, Vec<String>) {
    let lines =
        |text: &str| -> Vec<String> { text.split_inclusive('\n').map(str::to_owned).collect() };
    let (before, after) = (lines(before), lines(after));
    let gone = before.iter().zip(&after).filter(|(old, new)| old != new);
    let gone = gone.map(|(old, _)| old.clone()).collect();
    let kept = |(index, line): &(usize, &String)| before.get(*index) == Some(*line);
    let new = after.iter().enumerate().filter(|line| !kept(line));
    (gone, new.map(|(_, line)| line.clone()).collect())
}

#[test]
fn only_what_is_asked_for_changes() {
    let mut earlier = dive(&[(18.34, 31.02), (9.0, 5.0)], 75.9);
    earlier.gas = Some(Mix::nitrox(32.0).unwrap());
    earlier.divers = Some(vec!["Tom".to_owned()]);
    let breathing = vec![breathes("Tom", 17.21), breathes("Ines", 16.0)];
    let splash = Some("12:05".parse().unwrap());
    let next = next_plan(METRIC, &NextPlan::new(breathing, vec![earlier], splash)).unwrap();
    let (gone, new) = changed(METRIC, &next);
    assert_eq!(
        gone,
        [
            "splash = \"09:40\" # slack water\n",
            "sac = \"15 L/min\"   # last summer, warm water\n",
            "\tsac=\"1.2 bar/min\"\n",
        ]
    );
    assert_eq!(
        new,
        [
            "splash = \"12:05\" # slack water\n",
            "sac = \"16 L/min\" # measured, was \"15 L/min\"   # last summer, warm water\n",
            "\tsac=\"17.3 L/min\" # measured\n",
            "\n",
            "# as it was dived\n",
            "[[before]]\n",
            "level = [{ depth = \"18.4 m\", time = \"31.1 min\" }, { depth = \"9 m\", time = \"5 min\" }]\n",
            "gas = \"EAN32\"\n",
            "surface_interval = \"75 min\"\n",
            "divers = [\"Tom\"]\n",
        ]
    );
    let plan = read(&next).unwrap();
    assert_eq!(plan.before().len(), 1);
    assert!((rate(&plan, "Tom") - 17.3).abs() < 1e-9);
}

#[test]
fn nothing_asked_for_is_nothing_changed() {
    let asked = NextPlan::new(Vec::new(), Vec::new(), Some("09:40".parse().unwrap()));
    assert_eq!(next_plan(METRIC, &asked).unwrap(), METRIC);
}

#[test]
fn a_splash_that_nobody_knows_goes_and_its_comment_stays() {
    let asked = NextPlan::new(Vec::new(), Vec::new(), None);
    let next = next_plan(METRIC, &asked).unwrap();
    let want = METRIC.replace("splash = \"09:40\" # slack water", "# slack water");
    assert_eq!(next, want);
    // Without a comment the line goes, and again there is nothing to take out.
    let bare = METRIC.replace(
        "splash = \"09:40\" # slack water",
        "  \"splash\" = '09:40'  ",
    );
    let next = next_plan(&bare, &asked).unwrap();
    assert_eq!(
        next,
        METRIC.replace("splash = \"09:40\" # slack water\n", "")
    );
    assert_eq!(next_plan(&next, &asked).unwrap(), next);
}

#[test]
fn a_splash_comes_below_the_title_or_above_everything() {
    let asked = NextPlan::new(Vec::new(), Vec::new(), Some("7:05".parse().unwrap()));
    let without = METRIC.replace("splash = \"09:40\" # slack water\n", "");
    let title = "title = \"The near reef\"   # by the buoy\n";
    let next = next_plan(&without, &asked).unwrap();
    assert_eq!(
        next,
        without.replace(title, &format!("{title}splash = \"07:05\"\n"))
    );
    let untitled = without.replace(title, "");
    let next = next_plan(&untitled, &asked).unwrap();
    assert_eq!(next, format!("splash = \"07:05\"\n{untitled}"));
}

#[test]
fn a_second_time_says_measured_once() {
    let asked = |litres| {
        NextPlan::new(
            vec![breathes("Ines", litres), breathes("Tom", litres)],
            Vec::new(),
            None,
        )
    };
    let once = next_plan(METRIC, &asked(16.0)).unwrap();
    let twice = next_plan(&once, &asked(17.0)).unwrap();
    assert_eq!(twice, once.replace("16 L/min", "17 L/min"));
    assert_eq!(twice.matches("measured").count(), 2);
}

#[test]
fn divers_and_dives_in_brackets_are_found_as_well() {
    let text = "before = [{ depth = \"20 m\", bottom_time = \"20 min\", surface_interval = \"60 min\" }] # early\n\
                diver = [{ name = \"Ines\", sac = \"15 L/min\", cylinder = { size = \"12 L\", fill = \"200 bar\" } }, # guide\n\
                { cylinder = { size = \"12 L\", fill = \"200 bar\" }, sac = \"16 L/min\", name = \" Tom \" }]\n\
                profile = { depth = \"18 m\", bottom_time = \"20 min\" }\n";
    let breathing = vec![breathes("Tom", 18.0)];
    let dives = vec![
        dive(&[(15.0, 20.0)], 50.0),
        dive(&[(12.0, 9.0), (9.0, 9.0), (6.0, 9.0)], 70.0),
    ];
    let asked = NextPlan::new(breathing, dives.clone(), None);
    let next = next_plan(text, &asked).unwrap();
    let want = text.replace("16 L/min", "18 L/min").replace(
        "\"60 min\" }]",
        "\"60 min\" }, { depth = \"15 m\", bottom_time = \"20 min\", surface_interval = \"50 min\" }, \
         { level = [{ depth = \"12 m\", time = \"9 min\" }, { depth = \"9 m\", time = \"9 min\" }, \
         { depth = \"6 m\", time = \"9 min\" }], surface_interval = \"70 min\" }]",
    );
    assert_eq!(next, want);
    // On lines of their own, with and without a comma and comments at the end; and none yet.
    let item = "{ depth = \"20 m\", bottom_time = \"20 min\", surface_interval = \"60 min\" }";
    let layouts = [
        format!("before = [\n    {item}\n]"),
        format!("before = [\n    {item}, # one, two\n  ]"),
        format!("before = [\n    {item} # one, two\n]"),
        format!("before = [{item}, ]"),
        "before = []".to_owned(),
        "before = [ # none, yet\n]".to_owned(),
    ];
    let first = text.lines().next().unwrap();
    for layout in layouts {
        let text = text.replace(first, &layout);
        let had = read(&text).unwrap().before().len();
        let next = next_plan(&text, &asked).unwrap();
        let plan = read(&next).unwrap();
        assert_eq!(plan.before().len(), had + 2, "{next}");
        assert_eq!(plan.before()[had], dives[0], "{next}");
        assert!(
            next.contains("# one, two") == text.contains("# one, two"),
            "{next}"
        );
    }
}

#[test]
fn a_plan_in_feet_gets_feet_and_cubic_feet() {
    let text = "units = \"imperial\"\n[profile]\ndepth = \"60 ft\"\nbottom_time = \"20 min\"\n\
                [[diver]]\nname = \"Ruan\"\nsac = \"20 psi/min\" # his own gauge\n\
                cylinder = { rated = \"80 cuft\", at = \"3000 psi\", fill = \"3000 psi\" }";
    let breathing = vec![("Ruan".to_owned(), BreathingRate::from_cuft_min(0.631))];
    let dives = vec![dive(&[(18.0, 20.0)], 61.0)];
    let next = next_plan(text, &NextPlan::new(breathing, dives, None)).unwrap();
    assert!(
        next.contains("sac = \"0.64 cuft/min\" # measured, was \"20 psi/min\" # his own gauge\n")
    );
    // 18 m are written as they are where they came in whole metres.
    assert!(
        next.contains("\"3000 psi\" }\n\n# as it was dived\n[[before]]\ndepth = \"18 m\"\n"),
        "{next}"
    );
    let feet = vec![EarlierDive::new(
        vec![Level {
            depth: Depth::from_ft(58.3),
            time: Time::from_min(20.0),
        }],
        Time::from_min(61.0),
    )];
    let next = next_plan(text, &NextPlan::new(Vec::new(), feet, None)).unwrap();
    assert!(next.contains("depth = \"59 ft\"\n"), "{next}");
}

#[test]
fn line_ends_and_a_byte_order_mark_stay() {
    let text = format!("\u{feff}{}", METRIC.replace('\n', "\r\n"));
    let breathing = vec![breathes("Tom", 17.0)];
    let asked = NextPlan::new(breathing, vec![dive(&[(18.0, 20.0)], 60.0)], None);
    let next = next_plan(&text, &asked).unwrap();
    assert!(next.starts_with('\u{feff}'));
    assert_eq!(next.matches('\n').count(), next.matches("\r\n").count());
    let plain = next_plan(METRIC, &asked).unwrap();
    assert_eq!(next, format!("\u{feff}{}", plain.replace('\n', "\r\n")));
}

#[test]
fn names_that_are_hard_to_quote_are_found_and_written() {
    let names = [
        "O\"Brien \\ son",
        "Ågot 渚",
        "# no comment",
        "sac = \"9 L/min\"",
    ];
    let mut text = METRIC.to_owned();
    for name in names {
        let quoted = name.replace('\\', "\\\\").replace('"', "\\\"");
        text.push_str(&format!(
            "[[diver]]\nname = \"{quoted}\"\nsac = \"14 L/min\"\ncylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n"
        ));
    }
    let breathing = names.map(|name| breathes(name, 15.5)).to_vec();
    let mut earlier = dive(&[(18.0, 20.0)], 60.0);
    earlier.divers = Some(names.map(str::to_owned).to_vec());
    let next = next_plan(&text, &NextPlan::new(breathing, vec![earlier], None)).unwrap();
    let plan = read(&next).unwrap();
    for name in names {
        assert!((rate(&plan, name) - 15.5).abs() < 1e-9, "{name}");
    }
    assert!((rate(&plan, "Ines") - 15.0).abs() < 1e-9);
    assert_eq!(plan.before()[0].divers.as_ref().unwrap(), &names);
}

#[test]
fn a_level_that_rounding_makes_deeper_still_can_be_reached() {
    // 1.0 min is just the travel to 18 m; 18.01 m becomes 18.1 m, and takes longer.
    let next = NextPlan::new(
        Vec::new(),
        vec![dive(&[(18.01, 18.01 / 18.0), (12.0, 20.0)], 60.0)],
        None,
    );
    let text = next_plan(METRIC, &next).unwrap();
    let levels = read(&text).unwrap().before()[0].levels.clone();
    assert!((levels[0].depth.as_m() - 18.1).abs() < 1e-9);
    assert!((levels[0].time.as_min() - 1.1).abs() < 1e-9);
}

#[test]
fn what_cannot_be_written_is_refused() {
    let written = |breathing, before| next_plan(METRIC, &NextPlan::new(breathing, before, None));
    let nobody = written(vec![breathes("Inés", 15.0)], Vec::new());
    assert!(matches!(nobody, Err(NextPlanError::NoSuchDiver { name }) if name == "Inés"));
    let twice = written(
        vec![breathes("Ines", 15.0), breathes("Ines", 16.0)],
        Vec::new(),
    );
    assert!(matches!(twice, Err(NextPlanError::NoSuchDiver { .. })));
    let many = written(Vec::new(), vec![dive(&[(10.0, 20.0)], 60.0); 21]);
    assert!(matches!(
        many,
        Err(NextPlanError::ManyEarlierDives(many)) if many.count == 21
    ));
    assert!(written(Vec::new(), vec![dive(&[(10.0, 20.0)], 60.0); 20]).is_ok());
    for refused in [
        written(vec![breathes("Ines", 151.0)], Vec::new()),
        written(vec![breathes("Ines", f64::NAN)], Vec::new()),
        written(Vec::new(), vec![dive(&[(201.0, 20.0)], 60.0)]),
        written(Vec::new(), vec![dive(&[(10.0, 20.0)], 10_081.0)]),
        written(Vec::new(), vec![dive(&[(10.0, 20.0)], -1.0)]),
        written(Vec::new(), vec![dive(&[], 60.0)]),
    ] {
        assert!(
            matches!(refused, Err(NextPlanError::Refused(_))),
            "{refused:?}"
        );
    }
    let no_plan = next_plan("depth = 3", &NextPlan::new(Vec::new(), Vec::new(), None));
    assert!(matches!(no_plan, Err(NextPlanError::NoPlan(_))));
    let mut of_a_stranger = dive(&[(10.0, 20.0)], 60.0);
    of_a_stranger.divers = Some(vec!["Kai".to_owned()]);
    let refused = written(Vec::new(), vec![of_a_stranger]).unwrap_err();
    assert!(refused.to_string().contains("Kai"), "{refused}");
}

#[test]
fn levels_that_cover_a_profile_are_written_as_they_are() {
    let points = [
        (0.0, 0.0),
        (1.3, 17.77),
        (9.0, 21.33),
        (31.0, 11.11),
        (38.0, 4.0),
        (40.0, 0.0),
    ];
    let profile = points.map(|(at, depth)| (RunTime::from_min(at), Depth::from_m(depth)));
    for units in ["metric", "imperial"] {
        let text = format!(
            "units = \"{units}\"\n{}",
            METRIC.replace("30 min", "20 min")
        );
        let plan = read(&text).unwrap();
        let covering =
            covering_levels(plan.rules(), &plan.start().tissues, &[profile.to_vec()]).unwrap();
        let dive = EarlierDive::new(covering.levels.clone(), Time::from_min(60.0));
        let next = next_plan(&text, &NextPlan::new(Vec::new(), vec![dive], None)).unwrap();
        let told = read(&next).unwrap().before()[0].levels.clone();
        assert_eq!(told.len(), covering.levels.len());
        for (told, level) in told.iter().zip(&covering.levels) {
            assert!(
                told.depth.is_at(level.depth) && told.time.is_at(level.time),
                "{next}"
            );
        }
    }
}

/// Every plan of the charter, with all that can be asked for.
#[test]
fn every_plan_is_written_again_and_read_back() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("plans");
    let mut teams = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let file = entry.unwrap().path();
        let text = fs::read_to_string(&file).unwrap();
        let plan = read(&text).unwrap();
        let breathing = plan.divers().iter().enumerate();
        let breathing = breathing.map(|(index, diver)| {
            let more = diver.breathing.as_l_min() * (1.01 + 0.013 * index as f64);
            breathes(&diver.name, more)
        });
        let breathing: Vec<_> = breathing.collect();
        teams += usize::from(!breathing.is_empty());
        let dives = vec![
            dive(&[(14.23, 21.07), (7.0, 8.0)], 95.4),
            dive(&[(9.99, 30.0)], 120.0),
        ];
        let splash = plan.splash().map(|splash| splash.after(200));
        let asked = NextPlan::new(breathing.clone(), dives.clone(), splash);
        let next = next_plan(&text, &asked).unwrap();
        let again = read(&next).unwrap();
        let step = match plan.units() {
            UnitSystem::Metric => 0.1,
            UnitSystem::Imperial => 0.2832,
        };
        for (name, asked) in &breathing {
            let more = rate(&again, name) - asked.as_l_min();
            assert!(
                (-1e-9..=step).contains(&more),
                "{}: {name} {more}",
                file.display()
            );
        }
        let had = plan.before().len();
        assert_eq!(again.before()[..had], *plan.before());
        assert_eq!(again.before().len(), had + 2);
        for (told, asked) in again.before()[had..].iter().zip(&dives) {
            for (told, asked) in told.levels.iter().zip(&asked.levels) {
                let deeper = told.depth.as_m() - asked.depth.as_m();
                assert!((-1e-9..=0.3048).contains(&deeper), "{}", file.display());
                assert!(told.time.as_min() >= asked.time.as_min() - 1e-9);
            }
            assert!(told.surface_interval <= asked.surface_interval);
        }
        assert_eq!(again.splash(), splash);
        assert_eq!(again.levels(), plan.levels());
        let (gone, new) = changed(&text, &next);
        let fixed = usize::from(splash.is_some()) + breathing.len();
        assert_eq!(gone.len(), fixed, "{}: {gone:?}", file.display());
        assert!(new.len() > fixed);
    }
    assert!(teams >= 5, "only {teams} plans have divers");
}
