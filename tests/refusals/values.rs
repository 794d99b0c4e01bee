//! What holds of a value wherever it stands.

use hangbar::plan_file::read;

use crate::plans::{REEF, WALL, edited, only, refusal};

#[test]
fn a_number_of_four_hundred_digits_is_refused() {
    let digits = "9".repeat(400);
    let problem = refusal(WALL, "\"18 m\"", &format!("\"{digits} m\""));
    assert_eq!(problem.key.as_deref(), Some("depth"));
    let bare = refusal(WALL, "\"18 m\"", &digits);
    assert_eq!(bare.position.unwrap().width, 400);
}

/// Blanks between number and unit may be line ends and other control characters.
#[test]
fn no_control_character_of_a_quantity_reaches_a_message() {
    for blank in ["\\n", "\\u000b", "\\u0085"] {
        let text = edited(WALL, "\"18 m\"", &format!("\"900 {blank} m\""));
        let problem = only(read(&text).unwrap_err());
        assert!(
            !problem.message.contains(char::is_control),
            "{:?}",
            problem.message
        );
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
        let problem = refusal(REEF, old, new);
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
        assert_eq!(refusal(REEF, old, new).message, message);
    }
}

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
            "a table with size, rated, at, fill, gas, as pony = { size = \"12 L\", fill = \"200 bar\" }",
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
            "`depth` is the list [\"18 m\", a table, another list of 1 item, another list of 2 items, …]",
            "0.3 m to 200 m",
        ),
        (
            "\"18 m\"",
            "{ a = 1, b = 2, c = 3, d = 4, e = 5 }",
            "`depth` is a table with the keys `a`, `b`, `c`, `d`, …",
            "0.3 m to 200 m",
        ),
    ] {
        let problem = refusal(REEF, old, new);
        assert_eq!(problem.message, message);
        let told = problem.accepted.unwrap();
        assert!(told.contains(accepted), "{told}");
    }
}
