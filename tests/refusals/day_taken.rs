//! What is given on the day and takes the place of a key, up to the same limits.

use approx::assert_relative_eq;
use hangbar::plan::TimeOfDay;
use hangbar::plan_file::{Overrides, read, read_with};
use hangbar::quantity::FOOT_M;

use crate::plans::{DRIFT, SAME, WALL, edited, fills, only};

/// Those that the briefing's command line does not offer.
#[test]
fn water_altitude_and_rates_of_the_day_are_held_to_the_file_s_limits() {
    type Set = fn(&mut Overrides, &str);
    let rows: [(&str, Set, &str, &str, &str); 5] = [
        (
            "--water",
            |day, text| day.water = Some(text.to_owned()),
            "water",
            "1300 kg/m3",
            "1301 kg/m3",
        ),
        (
            "--altitude",
            |day, text| day.altitude = Some(text.to_owned()),
            "altitude",
            "4500 m",
            "4500.1 m",
        ),
        (
            "--arrived",
            |day, text| day.arrived = Some(text.to_owned()),
            "arrived",
            "43200 min",
            "43200.1 min",
        ),
        (
            "--descent-rate",
            |day, text| day.descent_rate = Some(text.to_owned()),
            "descent_rate",
            "60 m/min",
            "60.1 m/min",
        ),
        (
            "--ascent-rate",
            |day, text| day.ascent_rate = Some(text.to_owned()),
            "rate",
            "30 m/min",
            "30.1 m/min",
        ),
    ];
    for (option, set, key, passes, refused) in rows {
        let with = |text: &str| {
            let mut overrides = Overrides::default();
            set(&mut overrides, text);
            read_with(WALL, &overrides)
        };
        assert_ne!(with(passes).unwrap(), read(WALL).unwrap(), "{option}");
        for text in [refused, "1000", "nan m", ""] {
            let problem = only(with(text).unwrap_err());
            assert_eq!(problem.overridden_by, Some(option), "{option} {text}");
            assert_eq!(problem.position, None, "{option} {text}");
            assert!(problem.accepted.is_some(), "{option} {text}");
        }
        let problem = only(with(refused).unwrap_err());
        assert_eq!(
            problem.message,
            format!("`{key}` is {refused}, out of range")
        );
    }
}

#[test]
fn limits_hold_for_overrides_as_for_the_file() {
    let deepest = Overrides {
        depth: Some("200 m".to_owned()),
        ..Overrides::default()
    };
    let plan = read_with(WALL, &deepest).unwrap();
    assert_relative_eq!(plan.levels()[0].depth.as_m(), 200.0);
    let shortest = Overrides {
        bottom_time: Some("0.9 min".to_owned()),
        ..Overrides::default()
    };
    let plan = read_with(WALL, &shortest).unwrap();
    assert_relative_eq!(plan.levels()[0].time.as_min(), 0.9);
    let fullest = Overrides {
        fills: fills(&[("Bram", "3300 psi"), ("Juno", "5000 psi")]),
        ..Overrides::default()
    };
    let plan = read_with(WALL, &fullest).unwrap();
    assert_relative_eq!(
        plan.divers()[0].cylinder.fill.as_psi(),
        5000.0,
        epsilon = SAME
    );
    assert_relative_eq!(
        plan.divers()[1].cylinder.fill.as_psi(),
        3300.0,
        epsilon = SAME
    );
}

#[test]
fn a_bottom_time_stretches_or_cuts_the_last_of_several_levels() {
    for (given, last) in [("40 min", 28.0), ("20 min", 8.0), ("1 h", 48.0)] {
        let overrides = Overrides {
            bottom_time: Some(given.to_owned()),
            ..Overrides::default()
        };
        let plan = read_with(DRIFT, &overrides).unwrap();
        assert_relative_eq!(plan.levels()[0].time.as_min(), 12.0);
        assert_relative_eq!(plan.levels()[1].time.as_min(), last, epsilon = SAME);
    }
}

#[test]
fn a_depth_takes_the_place_of_the_only_level_of_a_list() {
    let second = "\n[[profile.level]]\ndepth = \"50 ft\"\ntime = \"20 min\"\n";
    let one_level = edited(DRIFT, second, "");
    let overrides = Overrides {
        depth: Some("70 ft".to_owned()),
        ..Overrides::default()
    };
    let plan = read_with(&one_level, &overrides).unwrap();
    assert_eq!(plan.levels().len(), 1);
    assert_relative_eq!(plan.levels()[0].depth.as_m(), 70.0 * FOOT_M);
    assert_relative_eq!(plan.levels()[0].time.as_min(), 12.0);
}

#[test]
fn overrides_may_stand_for_keys_that_the_file_leaves_out() {
    let text = edited(WALL, "depth = \"18 m\"\nbottom_time = \"40 min\"\n", "");
    let text = edited(&text, ", fill = \"210 bar\"", "");
    let text = edited(&text, "splash = \"09:40\"\n", "");
    let overrides = Overrides {
        depth: Some("20 m".to_owned()),
        bottom_time: Some("30 min".to_owned()),
        splash: Some("11:05".to_owned()),
        fills: fills(&[("Juno", "200 bar")]),
        ..Overrides::default()
    };
    let plan = read_with(&text, &overrides).unwrap();
    assert_relative_eq!(plan.levels()[0].depth.as_m(), 20.0);
    assert_relative_eq!(plan.levels()[0].time.as_min(), 30.0);
    assert_eq!(plan.splash(), TimeOfDay::new(11, 5));
    assert_relative_eq!(plan.divers()[0].cylinder.fill.as_bar(), 200.0);
}

/// Where they came from says nothing until it is known when.
#[test]
fn a_home_altitude_of_the_day_stands_with_an_arrival() {
    let day = |arrived: Option<&str>, home: &str| Overrides {
        arrived: arrived.map(str::to_owned),
        home_altitude: Some(home.to_owned()),
        ..Overrides::default()
    };
    let problem = only(read_with(WALL, &day(None, "20 m")).unwrap_err());
    assert_eq!(problem.overridden_by, Some("--home-altitude"));
    let accepted = problem.accepted.unwrap();
    assert_eq!(accepted, "--home-altitude with --arrived");
    let arrival = |plan: &str, day: &Overrides| {
        let plan = read_with(plan, day).unwrap();
        let arrival = plan.site().arrival.unwrap();
        let (time, home) = (arrival.before_first_dive, arrival.home_altitude);
        (time.as_min(), home.as_m())
    };
    let both = arrival(WALL, &day(Some("90 min"), "1200 m"));
    assert_relative_eq!(both.0, 90.0);
    assert_relative_eq!(both.1, 1200.0, epsilon = SAME);
    for home in ["4501 m", "-431 m", "20", "inf m", "20 min"] {
        let problem = only(read_with(WALL, &day(Some("90 min"), home)).unwrap_err());
        assert_eq!(problem.overridden_by, Some("--home-altitude"), "{home}");
    }
    // The file's own arrival does for a home of the day, and keeps its home for another time.
    let came = "[site]\narrived = \"2 h\"\nhome_altitude = \"30 m\"\n";
    let there = edited(WALL, "[site]\n", came);
    assert_relative_eq!(arrival(&there, &day(None, "50 m")).0, 120.0);
    assert_relative_eq!(arrival(&there, &day(None, "50 m")).1, 50.0, epsilon = SAME);
    let later = Overrides {
        arrived: Some("3 h".to_owned()),
        ..Overrides::default()
    };
    assert_relative_eq!(arrival(&there, &later).0, 180.0);
    assert_relative_eq!(arrival(&there, &later).1, 30.0, epsilon = SAME);
}
