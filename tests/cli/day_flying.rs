//! Flying, or driving up, after a day of several dives.

use std::path::PathBuf;

use crate::document::{Day, Exposure, Verdict, WaitDecidedBy};
use crate::folder::Folder;
use crate::read::flowing;
use crate::run::{hangbar, parsed, run, text_of};

/// With stops; Rune alone.
const DEEP: &str = "title = \"Deep first\"\nsplash = \"09:00\"\n\
    [profile]\ndepth = \"36 m\"\nbottom_time = \"30 min\"\nstaged = true\n\
    [[diver]]\nname = \"Rune\"\nsac = \"14 L/min\"\ncylinder = { size = \"24 L\", fill = \"230 bar\" }\n";
/// Without; Sanne alone.
const SHALLOW: &str = "title = \"Shallow second\"\nsplash = \"12:00\"\n\
    [profile]\ndepth = \"10 m\"\nbottom_time = \"30 min\"\n\
    [[diver]]\nname = \"Sanne\"\nsac = \"14 L/min\"\ncylinder = { size = \"12 L\", fill = \"200 bar\" }\n";
/// Sanne's, on another boat.
const TOLD: &str = "[[before]]\ndepth = \"36 m\"\nbottom_time = \"30 min\"\n\
    surface_interval = \"90 min\"\n";
/// Neither of them.
const LATE: &str = "title = \"Late third\"\nsplash = \"15:00\"\n\
    [profile]\ndepth = \"8 m\"\nbottom_time = \"20 min\"\n\
    [[diver]]\nname = \"Tjark\"\nsac = \"14 L/min\"\ncylinder = { size = \"12 L\", fill = \"200 bar\" }\n";

struct Plans {
    folder: Folder,
    files: Vec<PathBuf>,
}

fn plans(name: &str, texts: &[&str]) -> Plans {
    let folder = Folder::new(name);
    let numbered = texts.iter().zip(1..);
    let files = numbered.map(|(text, number)| folder.write(&format!("{number}.toml"), text));
    Plans {
        files: files.collect(),
        folder,
    }
}

impl Plans {
    fn arguments<'a>(&'a self, more: &[&'a str]) -> Vec<&'a str> {
        let files = self.files.iter().map(|file| file.to_str().unwrap());
        ["day"]
            .into_iter()
            .chain(files)
            .chain(more.iter().copied())
            .collect()
    }

    fn text(&self, more: &[&str]) -> (i32, String) {
        assert!(self.folder.path().exists());
        let (status, text) = run(&self.arguments(more), "");
        (status, flowing(&text))
    }

    fn json(&self, more: &[&str]) -> Day {
        let more = [more, &["--format", "json"]].concat();
        parsed(run(&self.arguments(&more), "").1.as_bytes())
    }
}

#[test]
fn who_left_the_boat_after_a_dive_with_stops_is_counted_after_the_last_one_too() {
    let day = plans("day-flying-left", &[DEEP, SHALLOW]);
    let flying = day.json(&["--cabin-altitude", "4500 m"]).flying;
    assert_eq!(flying.published_for, Exposure::CompulsoryStops);
    assert_eq!(flying.advised_wait_min, Some(24 * 60));
    assert_eq!(flying.decided_by, WaitDecidedBy::Published);
    let names: Vec<&str> = flying.divers.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names, ["Rune", "Sanne"]);
    let waits: Vec<_> = flying.divers.iter().map(|one| one.model_wait_min).collect();
    // Rune's is the wait of the whole boat.
    assert!(waits[0] > waits[1], "{waits:?}");
    assert_eq!(flying.model_wait_min, waits[0]);
    let alone = plans("day-flying-alone", &[SHALLOW]).json(&[]).flying;
    assert_eq!(alone.published_for, Exposure::OneNoStopDive);
}

#[test]
fn a_dive_that_one_plan_tells_is_a_dive_of_the_day_for_the_plans_after_it() {
    let told = SHALLOW.to_owned() + TOLD;
    let day = plans("day-flying-told", &[&told, LATE]).json(&[]);
    assert_eq!(day.flying.published_for, Exposure::CompulsoryStops);
    let before = &day.dives[1].briefing.before;
    let seen: Vec<_> = before
        .iter()
        .map(|dive| dive.surface_interval_min)
        .collect();
    assert_eq!(before.len(), 2);
    assert!((seen[0] - 90.0).abs() < 1e-9, "{seen:?}");
    assert_eq!(Some(seen[1]), day.dives[1].surface_interval_min);
    assert!(before[0].staged && !before[1].staged);
    assert!(before.iter().all(|dive| dive.divers.is_empty()));
}

#[test]
fn a_gas_of_one_dive_that_is_not_air_leaves_the_guidance_for_air_behind() {
    let nitrox = DEEP.to_owned() + "[gas]\nbottom = \"EAN28\"\n";
    let (_, text) = plans("day-flying-gas", &[&nitrox, SHALLOW]).text(&[]);
    assert!(
        text.contains("published (DAN 2002, for air) as well over 18 h"),
        "{text}"
    );
    let (_, text) = plans("day-flying-air", &[DEEP, SHALLOW]).text(&[]);
    assert!(
        text.contains("published (DAN 2002) as well over 18 h"),
        "{text}"
    );
}

#[test]
fn a_flight_too_soon_makes_the_day_a_no_go_and_one_late_enough_is_told() {
    let day = plans("day-flying-booked", &[SHALLOW, LATE]);
    // Up at 15:24; 18 h later it is 9:24.
    let (status, text) = day.text(&["--fly-at", "09:23+1"]);
    assert_eq!(status, 1);
    assert!(
        text.starts_with("NO-GO A day of 2 dives")
            && text.contains("The flight at 09:23 the next day is too soon after the day.")
            && text.contains("until 09:24 the next day: published (DAN 2002) for several dives"),
        "{text}"
    );
    assert_eq!(day.json(&["--fly-at", "09:23+1"]).verdict, Verdict::NoGo);
    let (status, text) = day.text(&["--fly-at", "09:24+1"]);
    assert_eq!(status, 0, "{text}");
    assert!(
        text.contains("The flight at 09:24 the next day keeps that."),
        "{text}"
    );
    // One who is not in the last dive flies too soon after it as well.
    let (status, text) = plans("day-flying-other", &[DEEP, LATE]).text(&["--fly-at", "15:23+1"]);
    assert_eq!(status, 1, "{text}");
}

#[test]
fn asked_for_in_full_the_source_and_each_diver_stand_there() {
    let day = plans("day-flying-full", &[DEEP, SHALLOW]);
    let (_, text) = day.text(&["--fly", "--cabin-altitude", "3000 m"]);
    for words in [
        "Flying After Recreational Diving Workshop",
        "2 May 2002",
        "for air, for cabins of 610 m to 2438 m",
        "What the model alone asks of each diver, for 3000 m. It is no leave to fly",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let (_, short) = day.text(&["--cabin-altitude", "3000 m"]);
    assert!(!short.contains("model alone asks of each"), "{short}");
    let told = day.json(&["--cabin-altitude", "3000 m"]).flying;
    assert!((told.cabin_altitude_m - 3000.0).abs() < 1e-9);
}

#[test]
fn a_flight_after_a_day_without_a_splash_is_refused() {
    let unclocked = LATE.replace("splash = \"15:00\"\n", "");
    let day = plans("day-flying-unclocked", &[&unclocked]);
    let arguments = day.arguments(&["--fly-at", "18:00"]);
    let assert = hangbar().args(arguments).assert().code(2).stdout("");
    let told = text_of(&assert.get_output().stderr);
    assert!(
        told.contains("--> option --fly-at")
            && told.contains("accepted: ")
            && told.contains("splash"),
        "{told}"
    );
}

/// The tarn of a second dive, 50 minutes after leaving the coast.
const TARN: &str = "title = \"Tarn\"\n[site]\naltitude = \"1640 m\"\nwater = \"fresh\"\n\
    arrived = \"50 min\"\n[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n\
    [[diver]]\nname = \"Sanne\"\nsac = \"14 L/min\"\ncylinder = { size = \"12 L\", fill = \"200 bar\" }\n";

#[test]
fn driving_up_to_the_next_dive_keeps_the_wait_before_driving_up() {
    let day = plans("day-flying-up", &[SHALLOW, TARN]);
    // 12 h at the coast and 50 min at the tarn are 770 min.
    let (status, text) = day.text(&["--interval", "769 min"]);
    assert_eq!(status, 1, "{text}");
    assert!(
        text.contains(
            "Dive 2: The site is higher up than that of the dives before it, and they are there 719 \
             minutes after surfacing: no driving up for 12 h."
        ),
        "{text}"
    );
    let climb = day.json(&["--interval", "769 min"]).dives[1].climb.clone();
    assert!(climb.is_some_and(|climb| climb.too_soon && climb.advised_wait_min == Some(720)));
    let (status, text) = day.text(&["--interval", "770 min"]);
    assert_eq!(status, 0, "{text}");
    assert!(!text.contains("higher up"), "{text}");
    // Down to the sea is no climb.
    let down = plans(
        "day-flying-down",
        &[
            TARN,
            &(SHALLOW.to_owned() + "[site]\narrived = \"50 min\"\n"),
        ],
    );
    let (status, text) = down.text(&["--interval", "60 min"]);
    assert_eq!(status, 0, "{text}");
    assert!(
        down.json(&["--interval", "60 min"]).dives[1]
            .climb
            .is_none()
    );
    // Back in the same lake nobody goes up.
    let again = plans("day-flying-again", &[SHALLOW, TARN, TARN]);
    let (status, text) = again.text(&["--interval", "800 min", "--interval", "90 min"]);
    assert_eq!(status, 0, "{text}");
    // A time two days later says so.
    let (_, text) = day.text(&["--interval", "48 h"]);
    assert!(text.contains("splash 12:35 2 days later"), "{text}");
}

/// 250 m up and 250 m up again, each of which passes for the same air.
#[test]
fn small_steps_up_are_a_climb_together() {
    let at = |height: &str| {
        let site = format!("altitude = \"{height}\"");
        TARN.replace("altitude = \"1640 m\"", &site)
            .replace("    arrived = \"50 min\"\n", "")
            .replace("arrived = \"50 min\"\n", "")
    };
    let (low, higher, highest) = (at("0 m"), at("250 m"), at("500 m"));
    let wait = ["--interval", "90 min", "--interval", "90 min"];
    let day = plans("day-flying-steps", &[&low, &higher, &highest]).json(&wait);
    let climbs: Vec<_> = day.dives.iter().map(|dive| dive.climb.is_some()).collect();
    assert_eq!(climbs, [false, false, true]);
    assert_eq!(day.verdict, Verdict::NoGo);
    let level = plans("day-flying-level", &[&low, &higher, &higher]).json(&wait);
    assert_eq!(level.verdict, Verdict::Go);
    // Up there 300 m are less of a pressure, and 320 m are not the same air.
    let (lake, next) = (at("2000 m"), at("2320 m"));
    let up = plans("day-flying-up-there", &[&lake, &next]);
    let arguments = up.arguments(&["--interval", "90 min"]);
    let assert = hangbar().args(arguments).assert().code(2).stdout("");
    assert!(text_of(&assert.get_output().stderr).contains("arrived"));
}
