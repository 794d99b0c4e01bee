//! Flying, or driving up, after the dive.

use crate::document::{Exposure, GuidanceReach, Verdict, WaitDecidedBy, WaitState};
use crate::plans::{REEF, THIRSTY, edited, one_level};
use crate::read::flowing;
use crate::run::{json, json_briefing, screen, text};

const BEFORE: &str = "[[before]]\ndepth = \"12 m\"\nbottom_time = \"25 min\"\ngas = \"air\"\n\
                      surface_interval = \"3 h\"\n";

/// Splash 14:20, up at 14:46.
fn reef_on_air() -> String {
    let air = edited(REEF, "bottom = \"EAN32\"", "bottom = \"air\"");
    edited(&air, "\"30 min\"", "\"20 min\"")
}

/// What a briefing says of it, on one line.
fn said(plan: &str, more: &[&str]) -> String {
    let text = flowing(&text(plan, more));
    let (_, rest) = text.split_once(" Cautions ").unwrap();
    let (said, _) = rest.split_once("These figures come from a model").unwrap();
    said.trim().to_owned()
}

#[test]
fn a_briefing_says_how_long_not_to_fly_and_by_what() {
    let reef = reef_on_air();
    let staged = "[profile]\ndepth = \"30 m\"\nbottom_time = \"30 min\"\nstaged = true\n";
    for (plan, more, words) in [
        (
            reef.clone(),
            &[][..],
            "No flying or driving up for 12 h after surfacing, until 02:46 the next day: published \
             (DAN 2002) for one no-stop dive; 18 h after days of diving. Model 0 min: too short.",
        ),
        (
            reef.clone() + BEFORE,
            &["--cabin-altitude", "3000 m"],
            "No flying or driving up for 18 h after surfacing, until 08:46 the next day: published \
             (DAN 2002, for cabins of 610 m to 2438 m) for several dives. Model for 3000 m 3 min: \
             too short. Nothing published reaches 3000 m: this may be too short.",
        ),
        (
            edited(REEF, "\"30 min\"", "\"20 min\""),
            &["--cabin-altitude", "300 m", "--splash", "2:00"],
            "No flying or driving up for 12 h after surfacing, until 14:26: published (DAN 2002, \
             for air, for cabins of 610 m to 2438 m) for one no-stop dive; 18 h after days of \
             diving. Model for 300 m 0 min: too short.",
        ),
        (
            staged.to_owned(),
            &["--units", "imperial"],
            "No flying or driving up for 24 h after surfacing: published (DAN 2002) as well over \
             18 h after compulsory stops. Model 30 min: too short.",
        ),
    ] {
        assert_eq!(said(&plan, more), words);
    }
}

#[test]
fn where_the_model_asks_for_more_it_decides_and_the_published_minimum_stands_beside_it() {
    let long = "[profile]\ndepth = \"18 m\"\nbottom_time = \"150 min\"\nstaged = true\n";
    let high = ["--cabin-altitude", "4500 m"];
    let words = said(long, &high);
    assert!(
        words.starts_with("No flying or driving up for 25 h ") && words.contains(
            " after surfacing: the model, for 4500 m. Published: 24 h (DAN 2002, for cabins of 610 m"
        ),
        "{words}"
    );
    let flying = json_briefing(long, &high).flying;
    assert_eq!(flying.decided_by, WaitDecidedBy::Model);
    assert_eq!(flying.advised_wait_min, flying.model_wait_min);
    assert_eq!(flying.published_wait_min, 24 * 60);
    assert_eq!(flying.published_reach, GuidanceReach::CabinAbove);
    // Surface air itself holds more than a low factor lets a slow compartment bring up there.
    let low = long.to_owned() + "[model]\ngradient_factors = [20, 20]\n";
    assert!(said(&low, &high).starts_with(
        "No flying or driving up: the model finds no end within 72 h, for 4500 m. Published: 24 h"
    ));
    let flying = json_briefing(&low, &[&high[..], &["--splash", "9:00"]].concat()).flying;
    assert_eq!(flying.model_state, WaitState::NotWithin);
    assert_eq!(
        (flying.model_wait_min, flying.advised_wait_min),
        (None, None)
    );
    assert_eq!(
        (flying.not_before, flying.not_before_days_later),
        (None, None)
    );
}

#[test]
fn a_no_go_is_not_dived_and_nothing_is_flown_after_it() {
    let (status, text) = screen(THIRSTY, &[]);
    assert_eq!(status, 1);
    assert!(!text.contains("flying") && !text.contains("DAN"), "{text}");
    // For scripts it is there all the same.
    let flying = json_briefing(THIRSTY, &[]).flying;
    assert_eq!(flying.published_for, Exposure::CompulsoryStops);
}

#[test]
fn the_document_has_each_diver_and_the_clock() {
    let flying = json_briefing(&(reef_on_air() + BEFORE), &[]).flying;
    assert!((flying.cabin_altitude_m - 2438.0).abs() < 1e-9);
    assert!((flying.cabin_bar - 0.752_661_5).abs() < 1e-7);
    assert_eq!(flying.published_for, Exposure::SeveralDives);
    assert!(flying.published_covers_gas);
    assert_eq!(flying.not_before.as_deref(), Some("08:46"));
    assert_eq!(flying.not_before_days_later, Some(1));
    assert!(flying.flight.is_none());
    let names: Vec<&str> = flying.divers.iter().map(|own| own.name.as_str()).collect();
    assert_eq!(names, ["Noor", "Casper"]);
    // Divers who were not on the dive before wait less for the model, not by the guidance.
    let noor = BEFORE.replace("surface_interval", "divers = [\"Noor\"]\nsurface_interval");
    let deep = noor.replace("12 m", "18 m").replace("3 h", "90 min");
    let high = ["--cabin-altitude", "4000 m"];
    let flying = json_briefing(&(reef_on_air() + &deep), &high).flying;
    let own: Vec<u32> = flying
        .divers
        .iter()
        .map(|own| own.model_wait_min.unwrap())
        .collect();
    assert!(own[0] > own[1], "{own:?}");
    assert!(flying.model_wait_min >= Some(own[0]));
    assert_eq!(flying.published_for, Exposure::SeveralDives);
}

#[test]
fn a_flight_before_that_is_a_no_go_by_so_much_and_from_that_minute_on_it_is_none() {
    let reef = reef_on_air();
    // Up at 14:46: 02:46 the next day.
    let (status, text) = screen(&reef, &["--fly-at", "02:45"]);
    assert_eq!(status, 1);
    let text = flowing(&text);
    assert!(
        text.contains(
            "no-go The flight at 02:45 the next day is 1 min too soon: not before 02:46 the next \
             day, 12 h after surfacing, the published minimum after one no-stop dive."
        ),
        "{text}"
    );
    assert!(
        text.contains("flight Not before 02:46 the next day."),
        "{text}"
    );
    let document = json_briefing(&reef, &["--fly-at", "02:45"]);
    assert_eq!(document.verdict, Verdict::NoGo);
    assert_eq!(document.findings[0].code, "flies-too-soon");
    let nearest = document.nearest_go.unwrap();
    assert_eq!(nearest.flight_not_before.as_deref(), Some("02:46"));
    assert_eq!(nearest.flight_not_before_days_later, Some(1));
    let booked = document.flying.flight.unwrap();
    assert_eq!((booked.leaves.as_str(), booked.days_later), ("02:45", 1));
    // What the nearest go says is one.
    let (status, text) = screen(&reef, &["--fly-at", "2:46"]);
    assert_eq!(status, 0, "{text}");
    assert!(
        said(&reef, &["--fly-at", "2:46"])
            .ends_with("The flight at 02:46 the next day keeps that.")
    );
    for (at, status) in [
        ("14:46", 1),
        ("23:00", 1),
        ("14:45", 0),
        ("3:00+0", 1),
        ("2:46+1", 0),
        ("2:45+2", 0),
    ] {
        assert_eq!(screen(&reef, &["--fly-at", at]).0, status, "{at}");
    }
}

#[test]
fn a_flight_too_soon_beside_other_no_gos_is_not_put_right_alone() {
    let arguments = ["--fly-at", "20:00", "--splash", "9:00"];
    let document = json("brief", THIRSTY, &arguments);
    let codes: Vec<&str> = document["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|finding| finding["code"].as_str().unwrap())
        .collect();
    assert!(
        codes.contains(&"flies-too-soon") && codes.len() > 2,
        "{codes:?}"
    );
    assert!(document["nearest_go"]["flight_not_before"].is_null());
    assert!(flowing(&text(THIRSTY, &arguments)).contains("a dive with compulsory stops"));
    // A shorter bottom time puts right what it does: no stops, and 12 h in place of 24.
    let plan = one_level("30 m", "24 min").replace("[profile]", "[profile]\nstaged = true");
    let at = ["--fly-at", "22:00", "--splash", "9:00"];
    let document = json("brief", &plan, &at);
    assert_eq!(
        document["findings"][0]["code"], "flies-too-soon",
        "{document}"
    );
    let shorter = document["nearest_go"]["bottom_time_min"].as_u64().unwrap();
    let time = format!("{shorter} min");
    let shorter = [&at[..], &["--bottom-time", &time]].concat();
    assert_eq!(json("brief", &plan, &shorter)["verdict"], "go");
}

#[test]
fn where_the_model_finds_no_end_every_flight_is_too_soon() {
    let plan = one_level("18 m", "20 min") + "[model]\ngradient_factors = [20, 20]\n";
    let arguments = [
        "--cabin-altitude",
        "4500 m",
        "--splash",
        "9:00",
        "--fly-at",
        "9:00+7",
    ];
    let (status, text) = screen(&plan, &arguments);
    assert_eq!(status, 1);
    assert!(
        flowing(&text).contains(
            "The flight at 09:00 7 days later is too soon: 72 h after surfacing the model is still \
             over its limits for a cabin at 4500 m."
        ),
        "{text}"
    );
}

#[test]
fn the_short_briefing_has_it_on_one_line_and_the_other_commands_do_not_ask() {
    let short = text(&reef_on_air(), &["--short", "--columns", "60"]);
    let line = "  No flying or driving up for 12 h after surfacing, until";
    assert!(short.contains(line), "{short}");
    let too_soon = text(&reef_on_air(), &["--short", "--fly-at", "20:00"]);
    assert!(flowing(&too_soon).contains("flight too soon"), "{too_soon}");
    assert!(flowing(&too_soon).contains("a later flight"), "{too_soon}");
    let what_if = crate::run::tried(&["whatif", "-", "--fly-at", "20:00"], REEF);
    what_if.code(2);
}
