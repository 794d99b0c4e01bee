//! What a plan may say in more than one way, and what a tired guide is told who wrote it wrong.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use hangbar::plan::TimeOfDay;
use hangbar::plan_file::{Overrides, PlanErrors, Problem, read, read_with};

/// A plan of one diver; `@` in it stands for what a test puts there.
const REEF: &str = r#"splash = "10:15"

[profile]
depth = "18 m"
bottom_time = "30 min"

[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// The plan with one piece of its text changed.
fn edited(old: &str, new: &str) -> String {
    assert_eq!(REEF.matches(old).count(), 1, "`{old}` must stand once");
    REEF.replace(old, new)
}

/// The only problem there is.
fn only(errors: PlanErrors) -> Problem {
    match errors.problems() {
        [problem] => problem.clone(),
        _ => panic!("several problems:\n{errors}"),
    }
}

/// The only problem of a broken plan.
fn refusal(old: &str, new: &str) -> Problem {
    match read(&edited(old, new)) {
        Ok(_) => panic!("{new} is read"),
        Err(errors) => only(errors),
    }
}

// ---------------------------------------------------------------------------------------------
// The time of day

#[test]
fn an_hour_has_one_digit_or_two_in_the_file_and_on_the_command_line() {
    for (text, hour, minute) in [
        ("9:40", 9, 40),
        ("09:40", 9, 40),
        ("0:00", 0, 0),
        ("00:05", 0, 5),
        ("23:59", 23, 59),
        (" 7:30 ", 7, 30),
    ] {
        let want = TimeOfDay::new(hour, minute);
        let quoted = format!("\"{text}\"");
        let plan = read(&edited("\"10:15\"", &quoted)).unwrap();
        assert_eq!(plan.splash, want, "{text}");
        let overrides = Overrides {
            splash: Some(text.to_owned()),
            ..Overrides::default()
        };
        assert_eq!(read_with(REEF, &overrides).unwrap().splash, want, "{text}");
    }
}

#[test]
fn a_time_of_day_written_otherwise_is_refused_with_the_way_to_write_it() {
    for text in [
        "9:4", "24:00", "9.40", "940", "9:60", "009:40", ":40", "9:", "9:40:00", "-9:40", "9: 40",
        "٩:40",
    ] {
        let problem = refusal("\"10:15\"", &format!("\"{text}\""));
        assert_eq!(problem.key.as_deref(), Some("splash"));
        assert_eq!(problem.message, format!("`splash` is \"{text}\""));
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("with two digits of minutes, as \"9:40\""));
        assert!(accepted.contains("in quotes"));
        let overrides = Overrides {
            splash: Some(text.to_owned()),
            ..Overrides::default()
        };
        let problem = only(read_with(REEF, &overrides).unwrap_err());
        assert_eq!(problem.overridden_by, Some("--splash"));
        // Nobody writes quotes after an option.
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("two digits of minutes, as 9:40"));
        assert!(!accepted.contains("quotes"));
    }
}

// ---------------------------------------------------------------------------------------------
// Twins, and the working pressure of a cylinder in litres

/// Two doubles that differ in the last bits only.
const SAME: f64 = 1e-9;

/// The places where a cylinder may stand, with `@` for what says how large it is.
const PLACES: [(&str, &str); 3] = [
    ("cylinder", "cylinder = { @, fill = \"200 bar\" }\n"),
    (
        "pony",
        "cylinder = { size = \"12 L\", fill = \"200 bar\" }\npony = { @, fill = \"200 bar\" }\n",
    ),
    (
        "stage",
        "cylinder = { size = \"12 L\", fill = \"200 bar\" }\n\
         stage = [{ gas = \"EAN50\", @, fill = \"200 bar\" }]\n",
    ),
];

/// A plan whose cylinder at that place is so large.
fn with_cylinder(form: &str, size: &str) -> String {
    let old = "cylinder = { size = \"12 L\", fill = \"200 bar\" }\n";
    let text = edited(old, &form.replace('@', size));
    text.replace(
        "[[diver]]",
        "[gas]\ndecompression = [\"EAN50\"]\n\n[[diver]]",
    )
}

/// Inner volume in litres and working pressure in bar of the cylinder at that place.
fn cylinder(place: &str, form: &str, size: &str) -> (f64, Option<f64>) {
    let plan = match read(&with_cylinder(form, size)) {
        Ok(plan) => plan,
        Err(errors) => panic!("{place} {size}:\n{errors}"),
    };
    let diver = &plan.divers[0];
    let cylinder = match place {
        "pony" => diver.pony.unwrap(),
        "stage" => diver.stages[0].cylinder,
        _ => diver.cylinder,
    };
    let working = cylinder.working.map(|working| working.as_bar());
    (cylinder.water.as_l(), working)
}

#[test]
fn twins_hold_twice_what_one_of_them_holds_wherever_a_cylinder_may_stand() {
    for (place, form) in PLACES {
        let (one, _) = cylinder(place, form, "rated = \"80 cuft\", at = \"3000 psi\"");
        for size in ["2x10 L", "2 x 10 L", "2×10 L", "2X10L", " 2 × 10 litres "] {
            let (both, working) = cylinder(place, form, &format!("size = \"{size}\""));
            assert!((both - 20.0).abs() < SAME, "{place} {size}: {both} L");
            assert_eq!(working, None);
        }
        for size in ["2x80 cuft", "2 x 80 cuft", "2×80 cu ft"] {
            let rated = format!("rated = \"{size}\", at = \"3000 psi\"");
            let (both, working) = cylinder(place, form, &rated);
            assert!((both - 2.0 * one).abs() < SAME, "{place} {size}: {both} L");
            // 3000 psi at 6894.757293168 Pa each.
            assert!((working.unwrap() - 206.842_718_795_04).abs() < SAME);
        }
    }
}

#[test]
fn a_breathing_rate_in_pressure_is_one_of_both_twins() {
    let rate = |size: &str| {
        let text = with_cylinder(PLACES[0].1, size).replace("15 L/min", "1 bar/min");
        read(&text).unwrap().divers[0].breathing.as_l_min()
    };
    let (one, both) = (rate("size = \"12 L\""), rate("size = \"2x12 L\""));
    assert!((both - 2.0 * one).abs() < SAME, "{one} and {both}");
}

#[test]
fn any_other_number_of_cylinders_is_refused_with_how_twins_are_written() {
    for (place, form) in PLACES {
        for size in [
            "3x10 L", "1x10 L", "2x", "2 x ", "0x10 L", "2.0x10 L", "20x10 L", "02x10 L",
        ] {
            let problem = match read(&with_cylinder(form, &format!("size = \"{size}\""))) {
                Ok(_) => panic!("{place} {size} is read"),
                Err(errors) => only(errors),
            };
            assert_eq!(problem.key.as_deref(), Some("size"), "{place} {size}");
            assert_eq!(problem.message, format!("`size` is \"{}\"", size.trim()));
            let accepted = problem.accepted.unwrap();
            let twins = "twins, two equal cylinders with an open manifold, as \"2x12 L\"";
            assert!(accepted.contains(twins), "{accepted}");
        }
    }
}

#[test]
fn what_was_meant_as_twins_is_told_how_they_are_written() {
    let old = "size = \"12 L\"";
    for (size, message) in [
        ("2x10", "`size`: `10` has no unit"),
        (
            "2x ten L",
            "`size`: `ten L` does not begin with a plain number",
        ),
        ("2x80 cuft", "`size`: `cuft` is a unit of capacity"),
        ("2x-10 L", "`size` is -10 L, out of range"),
        ("10 L x 2", "`size`: `L x 2` is not a known unit"),
        ("2*10 L", "`size`: `*10 L` is not a known unit"),
        (
            "twin 10 L",
            "`size`: `twin 10 L` does not begin with a plain number",
        ),
        ("2x2x10 L", "`size`: `x10 L` is not a known unit"),
    ] {
        let problem = refusal(old, &format!("size = \"{size}\""));
        assert!(problem.message.starts_with(message), "{}", problem.message);
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("as \"2x12 L\""), "{size}: {accepted}");
    }
    // Whoever only missed the unit is not told about manifolds.
    let problem = refusal(old, "size = \"12\"");
    assert_eq!(problem.accepted.unwrap(), "0.2 L to 100 L, as \"12 L\"");
}

#[test]
fn both_twins_together_are_held_to_the_range_of_an_inner_volume() {
    assert!(read(&edited("\"12 L\"", "\"2x50 L\"")).is_ok());
    let problem = refusal("\"12 L\"", "\"2x50.1 L\"");
    assert_eq!(problem.message, "`size` is 2x50.1 L, out of range");
    let accepted = problem.accepted.unwrap();
    assert_eq!(accepted, "0.2 L to 100 L for both together");
    // 2 · 15000 L · 1.01325 bar / 300 bar = 101.3 L.
    let problem = refusal("size = \"12 L\"", "rated = \"2x15000 L\", at = \"300 bar\"");
    assert!(problem.message.contains("101.3"), "{}", problem.message);
}

#[test]
fn a_cylinder_in_litres_may_say_its_working_pressure() {
    for (place, form) in PLACES {
        let (water, working) = cylinder(place, form, "size = \"12 L\", at = \"232 bar\"");
        assert!((water - 12.0).abs() < SAME);
        assert!((working.unwrap() - 232.0).abs() < SAME, "{place}");
        let (water, working) = cylinder(place, form, "size = \"2x12 L\", at = \"232 bar\"");
        assert!((water - 24.0).abs() < SAME);
        assert!((working.unwrap() - 232.0).abs() < SAME, "{place}");
    }
}

/// 232 bar and a tenth are 255.2 bar.
#[test]
fn a_fill_more_than_a_tenth_above_that_working_pressure_is_refused() {
    let filled = |fill: &str| {
        let new = format!("size = \"12 L\", at = \"232 bar\", fill = \"{fill}\"");
        read(&edited("size = \"12 L\", fill = \"200 bar\"", &new))
    };
    assert!(filled("255.2 bar").is_ok());
    let problem = only(filled("255.3 bar").unwrap_err());
    assert_eq!(problem.key.as_deref(), Some("fill"));
    assert!(
        problem.message.ends_with("% above the working pressure"),
        "{}",
        problem.message
    );
    // The fill of the day is held to it too.
    let overrides = Overrides {
        fills: vec![("Ines".to_owned(), "260 bar".to_owned())],
        ..Overrides::default()
    };
    let text = edited("size = \"12 L\"", "size = \"12 L\", at = \"232 bar\"");
    let problem = only(read_with(&text, &overrides).unwrap_err());
    assert_eq!(problem.overridden_by, Some("--fill"));
}

#[test]
fn a_working_pressure_says_what_it_is_of_and_in_which_unit() {
    let problem = refusal("size = \"12 L\"", "size = \"12 L\", at = \"232\"");
    assert_eq!(problem.key.as_deref(), Some("at"));
    assert_eq!(problem.message, "`at`: `232` has no unit");
    let problem = refusal("size = \"12 L\"", "at = \"232 bar\"");
    assert_eq!(problem.message, "`at` is given without `size` or `rated`");
    for size in [
        "size = \"12 L\", rated = \"80 cuft\"",
        "size = \"12 L\", rated = \"80 cuft\", at = \"3000 psi\"",
    ] {
        let problem = refusal("size = \"12 L\"", size);
        assert_eq!(problem.message, "the cylinder has both `size` and `rated`");
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("either size = \"12 L\", or rated = \"80 cuft\" with at"));
    }
}

// ---------------------------------------------------------------------------------------------
// Whether stops are meant

#[test]
fn staged_is_true_or_false_without_quotes() {
    let with = |value: &str| edited("\"30 min\"\n", &format!("\"30 min\"\nstaged = {value}\n"));
    assert!(read(&with("true")).unwrap().staged);
    assert!(!read(&with("false")).unwrap().staged);
    assert!(!read(REEF).unwrap().staged);
    for (value, found) in [
        ("\"yes\"", "the text \"yes\""),
        ("\"true\"", "the text \"true\""),
        ("1", "the number 1"),
        ("[true]", "a list of true"),
        ("{ stops = true }", "a table with the key `stops`"),
    ] {
        let problem = only(read(&with(value)).unwrap_err());
        let at = problem.position.unwrap();
        assert_eq!((at.line, at.column), (6, 10), "{value}");
        assert_eq!(problem.table, "[profile]");
        assert_eq!(problem.key.as_deref(), Some("staged"));
        assert_eq!(problem.message, format!("`staged` is {found}"));
        let accepted = problem.accepted.as_deref();
        assert_eq!(accepted, Some("true or false, without quotes"));
    }
    let problem = only(read(&with("true\nstagd = true")).unwrap_err());
    assert_eq!(problem.message, "unknown key `stagd`");
    assert_eq!(problem.meant.as_deref(), Some("staged"));
}

// ---------------------------------------------------------------------------------------------
// Lists and tables in each other's place

#[test]
fn brackets_that_are_one_too_many_or_too_few_are_told_in_words() {
    for (old, new, message, accepted) in [
        (
            "[profile]",
            "[[profile]]",
            "`profile` is a list with 1 table in it",
            "one [profile], in single brackets, with depth, bottom_time",
        ),
        (
            "[[diver]]\n",
            "[[reserve]]\nstress = 2\n[[reserve]]\nstress = 3\n[[diver]]\n",
            "`reserve` is a list with 2 tables in it",
            "one [reserve], in single brackets, with stress, sort_out",
        ),
        (
            "[[diver]]",
            "[diver]",
            "`diver` is a table with the keys `cylinder`, `name`, `sac`",
            "one [[diver]] table each, in double brackets, with name, sac",
        ),
        (
            "\"15 L/min\"\n",
            "\"15 L/min\"\npony = [{ size = \"3 L\", fill = \"200 bar\" }]\n",
            "`pony` is a list with 1 table in it",
            "a table with size, rated, at, fill, as pony = { size = \"12 L\", fill = \"200 bar\" }",
        ),
        (
            "\"15 L/min\"\n",
            "\"15 L/min\"\npony = \"3 L\"\n",
            "`pony` is the text \"3 L\"",
            "as pony = { size = \"12 L\", fill = \"200 bar\" }",
        ),
        (
            "\"15 L/min\"\n",
            "\"15 L/min\"\nstage = {}\n",
            "`stage` is an empty table",
            "a list of tables, as stage = [{ … }, { … }], each with gas, size, rated, at, fill",
        ),
        (
            "\"18 m\"",
            "[\"18 m\", { a = 1 }, [1], [1, 2], 5, 6]",
            "`depth` is a list of \"18 m\", a table, another list of 1 item, another list of 2 items, …",
            "0.3 m to 200 m",
        ),
        (
            "\"18 m\"",
            "{ a = 1, b = 2, c = 3, d = 4, e = 5 }",
            "`depth` is a table with the keys `a`, `b`, `c`, `d`, …",
            "0.3 m to 200 m",
        ),
    ] {
        let problem = refusal(old, new);
        assert_eq!(problem.message, message);
        let told = problem.accepted.unwrap();
        assert!(told.contains(accepted), "{told}");
    }
}

#[test]
fn every_refusal_of_a_value_names_its_key() {
    for (old, new, key) in [
        ("[profile]", "[site]\nwater = \"mud\"\n[profile]", "water"),
        (
            "[profile]",
            "[site]\naltitude = \"9 m\"\nsurface_pressure = \"1 bar\"\n[profile]",
            "surface_pressure",
        ),
        (
            "[profile]",
            "[ascent]\nsafety_stop = true\n[profile]",
            "safety_stop",
        ),
        (
            "[profile]",
            "[ascent]\nstop_spacing = \"4 m\"\n[profile]",
            "stop_spacing",
        ),
        (
            "[profile]",
            "[ascent]\nlast_stop = \"4 m\"\n[profile]",
            "last_stop",
        ),
        (
            "[profile]",
            "[gas]\ndecompression = \"EAN50\"\n[profile]",
            "decompression",
        ),
        (
            "[profile]\n",
            "[profile]\nswim_speed = \"1 kn\"\nout = \"with\"\n",
            "swim_speed",
        ),
        (
            "[profile]\n",
            "[profile]\nlevel = [{ depth = \"9 m\", time = \"9 min\" }]\n",
            "level",
        ),
        ("\"15 L/min\"\n", "\"15 L/min\"\nbuddy = \"Tom\"\n", "buddy"),
        (
            "\"15 L/min\"\n",
            "\"15 L/min\"\nstage = [{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }]\n",
            "gas",
        ),
    ] {
        let problem = refusal(old, new);
        assert_eq!(problem.key.as_deref(), Some(key), "{}", problem.message);
        assert!(problem.accepted.is_some(), "{}", problem.message);
    }
}

#[test]
fn what_was_found_is_quoted_where_only_a_few_values_do() {
    for (old, new, message) in [
        (
            "[profile]",
            "[ascent]\nstop_spacing = \"4 m\"\n[profile]",
            "`stop_spacing` is 4 m; stops are 3 m or 10 ft apart",
        ),
        (
            "[profile]",
            "[ascent]\nlast_stop = \"4 m\"\n[profile]",
            "`last_stop` is 4 m; the last stop is one or two stop spacings deep",
        ),
        (
            "[profile]",
            "[ascent]\nsafety_stop = \"5 m\"\n[profile]",
            "`safety_stop` is the text \"5 m\"",
        ),
        (
            "\"30 min\"",
            "\"1 min\"\ndescent_rate = \"1 m/min\"",
            "1 min is too short: the travel to this depth alone takes 18.00 min",
        ),
    ] {
        assert_eq!(refusal(old, new).message, message);
    }
}

#[test]
fn a_slip_in_the_toml_is_told_what_a_line_looks_like() {
    for (old, new) in [
        ("\"18 m\"", "18 m"),
        ("[profile]", "[profile"),
        ("depth = \"18 m\"", "depth"),
        ("depth = \"18 m\"", "depth = \"18 m\"\ndepth = \"20 m\""),
    ] {
        let problem = refusal(old, new);
        assert!(
            problem.message.starts_with("not TOML: "),
            "{}",
            problem.message
        );
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("as depth = \"28 m\" under a [profile]"));
    }
}
