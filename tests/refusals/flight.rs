//! Going up after the dive: options of the day alone, refused under their names.

use hangbar::plan_file::{Overrides, read_with};

use crate::plans::{DRIFT, WALL, only};

/// No splash.
const SKETCH: &str = "[profile]\ndepth = \"18 m\"\nbottom_time = \"40 min\"\n";

fn on_the_day(cabin_altitude: &str, fly_at: &str) -> Overrides {
    let given = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    Overrides {
        cabin_altitude: given(cabin_altitude),
        fly_at: given(fly_at),
        ..Overrides::default()
    }
}

#[test]
fn a_flight_that_cannot_be_is_refused_by_its_option_with_the_words_that_help() {
    const CABIN: &str = "0 m to 4500 m (0 ft to 14763.7 ft), as \"2438 m\"";
    const TIME: &str = "a time of day from 00:00 to 23:59, as 18:00";
    const SPLASH: &str = "--fly-at with --splash, or with a plan that has `splash`";
    for (plan, cabin, fly_at, option, message, accepted) in [
        (
            WALL,
            "9000 m",
            "",
            "--cabin-altitude",
            "a cabin altitude of 9000 m is out of range",
            CABIN,
        ),
        (
            WALL,
            "4500.1 m",
            "",
            "--cabin-altitude",
            "4500.1 m is out of range",
            CABIN,
        ),
        (
            WALL,
            "-1 m",
            "",
            "--cabin-altitude",
            "-1 m is out of range",
            CABIN,
        ),
        (
            WALL,
            "8000",
            "",
            "--cabin-altitude",
            "`8000` has no unit",
            CABIN,
        ),
        (
            WALL,
            "8000 bar",
            "",
            "--cabin-altitude",
            "`bar` is a unit of ",
            CABIN,
        ),
        (
            WALL,
            "nan m",
            "",
            "--cabin-altitude",
            "`nan m` does not begin with a plain number",
            CABIN,
        ),
        (WALL, " ", "", "--cabin-altitude", "cabin altitude", CABIN),
        (
            WALL,
            "",
            "tomorrow",
            "--fly-at",
            "`tomorrow` is no time of a flight",
            TIME,
        ),
        (
            WALL,
            "",
            "24:00",
            "--fly-at",
            "`24:00` is no time of a flight",
            TIME,
        ),
        (
            WALL,
            "",
            "18:00+8",
            "--fly-at",
            "`18:00+8` is no time of a flight",
            "+0 to +7",
        ),
        (
            WALL,
            "",
            "18:00-1",
            "--fly-at",
            "`18:00-1` is no time of a flight",
            TIME,
        ),
        (WALL, "", " ", "--fly-at", "`` is no time of a flight", TIME),
        (
            SKETCH,
            "",
            "18:00",
            "--fly-at",
            "nobody says when they leave the surface",
            SPLASH,
        ),
        (
            SKETCH,
            "",
            "18:00+1",
            "--fly-at",
            "nobody says when they leave the surface",
            SPLASH,
        ),
    ] {
        let problem = only(read_with(plan, &on_the_day(cabin, fly_at)).unwrap_err());
        assert_eq!(problem.overridden_by, Some(option), "{problem:?}");
        assert_eq!((problem.table.as_str(), problem.key.as_deref()), ("", None));
        assert!(problem.message.contains(message), "{problem:?}");
        let found = problem.accepted.as_deref().unwrap();
        assert!(found.contains(accepted), "{problem:?}");
    }
}

#[test]
fn both_are_refused_together_and_a_splash_that_is_wrong_is_one_all_the_same() {
    let errors = read_with(SKETCH, &on_the_day("9 km", "18:00")).unwrap_err();
    assert_eq!(errors.problems().len(), 2, "{errors:?}");
    let overrides = Overrides {
        splash: Some("25:00".to_owned()),
        ..on_the_day("", "18:00")
    };
    let problem = only(read_with(SKETCH, &overrides).unwrap_err());
    assert_eq!(problem.overridden_by, Some("--splash"));
}

#[test]
fn cabins_and_flights_up_to_the_limits_are_taken() {
    for cabin in ["0 m", "4500 m", "8000 ft", "14763.7795 ft", "2 100 m"] {
        let taken = read_with(WALL, &on_the_day(cabin, ""));
        assert_eq!(taken.is_ok(), cabin != "2 100 m", "{cabin}");
    }
    let usual = read_with(WALL, &on_the_day("", "")).unwrap();
    assert!((usual.flight().cabin_altitude.as_m() - 2438.0).abs() < 1e-9);
    assert!(usual.flight().leaves.is_none());
    for (plan, fly_at) in [(WALL, "0:00"), (WALL, "23:59+0"), (DRIFT, " 7:30+7 ")] {
        let overrides = Overrides {
            splash: Some("8:00".to_owned()),
            ..on_the_day("", fly_at)
        };
        assert!(read_with(plan, &overrides).is_ok(), "{fly_at}");
    }
}
