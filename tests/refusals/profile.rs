//! Depths, times and the swim.

use hangbar::plan_file::read;

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::{DRIFT, PIER, REEF, WALL, edited, only};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of the profile, which is not called missing too": WALL "depth = \"18 m\"" => "depht = \"18 m\""
        | 12:1 "[profile]" "" | "unknown key `depht`" | "depth, bottom_time, level, descent_rate" | "depth";
    "a key of a level": DRIFT "time = \"20 min\"" => "tiem = \"20 min\""
        | 14:1 "[[profile.level]] 2" "" | "unknown key `tiem`" | "depth, time" | "time";
    "a unit that nobody knows": WALL "\"18 m\"" => "\"18 fathoms\""
        | 12:9 "[profile]" "depth" | "`fathoms` is not a known unit" | "0.3 m to 200 m (1 ft to 656.1 ft), as \"28 m\"" | "";
    "a misspelled metre": WALL "\"18 m\"" => "\"18 mters\""
        | 12:9 "[profile]" "depth" | "`mters` is not a known unit" | "0.3 m to 200 m" | "meters";
    "a metre where minutes are wanted": WALL "\"40 min\"" => "\"40 m\""
        | 13:15 "[profile]" "bottom_time" | "`m` is a unit of depth" | "0.1 min to 1440 min, as \"22 min\"" | "min";
    "a time where a depth is wanted": WALL "\"18 m\"" => "\"18 min\""
        | 12:9 "[profile]" "depth" | "`min` is a unit of time" | "0.3 m to 200 m" | "m";
    "a depth without its unit": WALL "\"18 m\"" => "\"18\""
        | 12:9 "[profile]" "depth" | "`18` has no unit" | "as \"28 m\"" | "";
    "a bare depth": WALL "\"18 m\"" => "18"
        | 12:9 "[profile]" "depth" | "the bare number 18; a depth needs its unit, m or ft, in quotes" | "as \"28 m\"" | "";
    "a bare time": WALL "\"40 min\"" => "40.5"
        | 13:15 "[profile]" "bottom_time" | "the bare number 40.5; a time needs its unit, min" | "as \"22 min\"" | "";
    "two quantities in one": WALL "\"18 m\"" => "\"18 m 3\""
        | 12:9 "[profile]" "depth" | "`m 3` is not a known unit" | "as \"28 m\"" | "";
    "a decimal comma": WALL "\"18 m\"" => "\"18,5 m\""
        | 12:9 "[profile]" "depth" | "`18,5 m` has a comma in its number; write a point for decimals" | "0.3 m to 200 m" | "";
    "nan": WALL "\"18 m\"" => "nan"
        | 12:9 "[profile]" "depth" | "`depth` is the number nan" | "0.3 m to 200 m" | "";
    "inf": WALL "\"40 min\"" => "inf"
        | 13:15 "[profile]" "bottom_time" | "`bottom_time` is the number inf" | "0.1 min to 1440 min" | "";
    "nan in quotes": WALL "\"18 m\"" => "\"nan m\""
        | 12:9 "[profile]" "depth" | "`nan m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "inf in quotes": WALL "\"40 min\"" => "\"inf min\""
        | 13:15 "[profile]" "bottom_time" | "`inf min` does not begin with a plain number" | "0.1 min to 1440 min" | "";
    "a number beyond all numbers in quotes": WALL "\"18 m\"" => "\"1e999 m\""
        | 12:9 "[profile]" "depth" | "`1e999 m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "no number": WALL "\"18 m\"" => "\"m\""
        | 12:9 "[profile]" "depth" | "`m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "two points": WALL "\"18 m\"" => "\"1.8.0 m\""
        | 12:9 "[profile]" "depth" | "`1.8.0 m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "digits of another script": WALL "\"18 m\"" => "\"١٨ m\""
        | 12:9 "[profile]" "depth" | "`١٨ m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "a number in another base": WALL "\"18 m\"" => "0x12"
        | 12:9 "[profile]" "depth" | "`depth` is the number" | "0.3 m to 200 m" | "";
    "a negative depth": WALL "\"18 m\"" => "\"-18 m\""
        | 12:9 "[profile]" "depth" | "`depth` is -18 m, out of range" | "0.3 m to 200 m" | "";
    "a depth with a typographer's minus": WALL "\"18 m\"" => "\"−18 m\""
        | 12:9 "[profile]" "depth" | "`depth` is −18 m, out of range" | "0.3 m to 200 m" | "";
    "a negative time": WALL "\"40 min\"" => "\"-40 min\""
        | 13:15 "[profile]" "bottom_time" | "`bottom_time` is -40 min, out of range" | "0.1 min to 1440 min" | "";
    "no depth at all": WALL "\"18 m\"" => "\"0 m\""
        | 12:9 "[profile]" "depth" | "`depth` is 0 m, out of range" | "0.3 m to 200 m" | "";
    "no time at all": WALL "\"40 min\"" => "\"0 min\""
        | 13:15 "[profile]" "bottom_time" | "`bottom_time` is 0 min, out of range" | "0.1 min to 1440 min" | "";
    "a descent that does not sink": WALL "\"20 m/min\"" => "\"0 m/min\""
        | 14:16 "[profile]" "descent_rate" | "`descent_rate` is 0 m/min, out of range" | "1 m/min to 60 m/min" | "";
    "a depth and levels": DRIFT "[[profile.level]]\ndepth = \"90 ft\"" => "[profile]\ndepth = \"90 ft\"\n[[profile.level]]\ndepth = \"90 ft\""
        | 10:1 "[profile]" "level" | "`depth` or `bottom_time` is given, and levels too" | "`depth` and `bottom_time`, or one [[profile.level]] or more" | "";
    "a bottom time and levels": DRIFT "[[profile.level]]\ndepth = \"90 ft\"" => "[profile]\nbottom_time = \"9 min\"\n[[profile.level]]\ndepth = \"90 ft\""
        | 10:1 "[profile]" "level" | "`depth` or `bottom_time` is given, and levels too" | "one [[profile.level]] or more" | "";
    "no depth": WALL "depth = \"18 m\"\n" => ""
        | 11:1 "[profile]" "depth" | "`depth` is missing" | "0.3 m to 200 m" | "";
    "no bottom time": WALL "bottom_time = \"40 min\"\n" => ""
        | 11:1 "[profile]" "bottom_time" | "`bottom_time` is missing" | "as \"22 min\"" | "";
    "no depth of a level": DRIFT "depth = \"50 ft\"\n" => ""
        | 12:1 "[[profile.level]] 2" "depth" | "`depth` is missing" | "0.3 m to 200 m" | "";
    "no time of a level": DRIFT "time = \"12 min\"\n" => ""
        | 8:1 "[[profile.level]] 1" "time" | "`time` is missing" | "as \"22 min\"" | "";
    "a list of no levels": WALL "depth = \"18 m\"\nbottom_time = \"40 min\"" => "level = []"
        | 12:9 "[profile]" "level" | "`level` is empty" | "one [[profile.level]] or more" | "";
    "a level too short to get down to": WALL "\"40 min\"" => "\"0.5 min\""
        | 13:15 "[profile]" "bottom_time" | "0.5 min is too short: the travel to this depth alone takes 0.90 min" | "at least 0.9 min" | "";
    "a level too short to get up to": DRIFT "\"20 min\"" => "\"1.1 min\""
        | 14:8 "[[profile.level]] 2" "time" | "1.1 min is too short: the travel to this depth alone takes 1.34 min" | "at least 1.34 min" | "";
    "a depth that is a table": WALL "depth = \"18 m\"" => "depth = { is = \"18 m\" }"
        | 12:9 "[profile]" "depth" | "`depth` is a table with the key `is`" | "0.3 m to 200 m" | "";
    "a depth that is a list": WALL "depth = \"18 m\"" => "depth = [\"18 m\", \"12 m\"]"
        | 12:9 "[profile]" "depth" | "`depth` is the list [\"18 m\", \"12 m\"]" | "0.3 m to 200 m" | "";
    "a depth that is a date": WALL "depth = \"18 m\"" => "depth = 2018-01-18"
        | 12:9 "[profile]" "depth" | "`depth` is the date or time 2018-01-18" | "0.3 m to 200 m" | "";
    "a list where the profile is wanted": WALL "[profile]" => "[[profile]]"
        | 11:1 "" "profile" | "`profile` is a list with 1 table in it" | "one [profile], in single brackets, with depth, bottom_time" | "";
    "a table where levels are wanted": WALL "[profile]\ndepth = \"18 m\"\nbottom_time" => "[profile.level]\ndepth = \"18 m\"\ntime"
        | 11:1 "[profile]" "level" | "`level` is a table with the keys `depth`, `descent_rate`, `time`" | "one [[profile.level]] table each, in double brackets, with depth, time" | "";
    "a key of the profile": PIER "swim_speed =" => "swimspeed ="
        | 9:1 "[profile]" "" | "unknown key `swimspeed`" | "swim_speed, out" | "swim_speed";
    "a swim speed without a current": PIER "[site]\ncurrent = \"0.4 kn\"\n" => "[site]\n"
        | 8:14 "[profile]" "swim_speed" | "`swim_speed` says how to swim in a current, and the plan has none" | "with `current` in [site]" | "";
    "a way out without a swim speed": PIER "swim_speed = \"0.8 kn\"\n" => ""
        | 6:1 "[profile]" "swim_speed" | "`swim_speed` is missing" | "as \"0.7 kn\"" | "";
    "a swim speed without a way out": PIER "out = \"against\"\n" => ""
        | 6:1 "[profile]" "out" | "`out` is missing" | "\"with\" or \"against\"" | "";
    "a way out that is none": PIER "\"against\"" => "\"againts\""
        | 10:7 "[profile]" "out" | "`out` is \"againts\"" | "\"with\", \"against\"" | "against";
    "a swim speed as a depth": PIER "\"0.8 kn\"" => "\"25 m\""
        | 9:14 "[profile]" "swim_speed" | "`m` is a unit of depth" | "as \"0.7 kn\"" | "m/min";
};

/// Quantities: both limits of each, in both unit systems where there are two.
pub(crate) const QUANTITIES: &[Limit] = limits! {
    WALL "\"18 m\"" => "\"@\"" | Least "0.3 m" "0.29 m" | 12:9 "depth";
    WALL "\"18 m\"" => "\"@\"" | Least "1 ft" "0.98 ft" | 12:9 "depth";
    WALL "\"18 m\"" => "\"@\"" | Greatest "200 m" "200.1 m" | 12:9 "depth";
    WALL "\"18 m\"" => "\"@\"" | Greatest "656.1 ft" "656.2 ft" | 12:9 "depth";
    DRIFT "\"50 ft\"" => "\"@\"" | Least "0.3 m" "0.29 m" | 13:9 "depth";
    WALL "\"18 m\"\nbottom_time = \"40 min\"" => "\"0.3 m\"\nbottom_time = \"@\"" | Least "0.1 min" "0.09 min" | 13:15 "bottom_time";
    WALL "\"18 m\"\nbottom_time = \"40 min\"" => "\"0.3 m\"\nbottom_time = \"@\"" | Least "6 s" "5 s" | 13:15 "bottom_time";
    WALL "\"40 min\"" => "\"@\"" | Greatest "1440 min" "1440.1 min" | 13:15 "bottom_time";
    WALL "\"40 min\"" => "\"@\"" | Greatest "24 h" "24.1 h" | 13:15 "bottom_time";
    DRIFT "\"20 min\"" => "\"@\"" | Greatest "1440 min" "1440.1 min" | 14:8 "time";
    WALL "\"20 m/min\"" => "\"@\"" | Least "1 m/min" "0.9 m/min" | 14:16 "descent_rate";
    WALL "\"20 m/min\"" => "\"@\"" | Greatest "60 m/min" "60.1 m/min" | 14:16 "descent_rate";
    PIER "\"0.8 kn\"" => "\"@\"" | Least "3 m/min" "2.9 m/min" | 9:14 "swim_speed";
    PIER "\"0.8 kn\"" => "\"@\"" | Greatest "3 kn" "3.1 kn" | 9:14 "swim_speed";
};

/// Everything else that has a limit.
pub(crate) const OTHERS: &[Limit] = limits! {
    // 18 m at 20 m/min, down; 40 ft at 30 ft/min, up.
    WALL "\"40 min\"" => "\"@\"" | Least "0.9 min" "0.89 min" | 13:15 "bottom_time";
    WALL "\"40 min\"" => "\"@\"" | Least "54 s" "53 s" | 13:15 "bottom_time";
    DRIFT "\"20 min\"" => "\"@\"" | Least "80 s" "79 s" | 14:8 "time";
};

/// `1.6 min is too short: the travel to this depth alone takes 1.56 min` sends nobody anywhere.
#[test]
fn a_time_that_is_too_short_never_prints_as_long_enough() {
    let text = edited(
        WALL,
        "\"18 m\"\nbottom_time = \"40 min\"",
        "\"31.2 m\"\nbottom_time = \"1.55 min\"",
    );
    let problem = only(read(&text).unwrap_err());
    let printed: f64 = problem.message.split(' ').next().unwrap().parse().unwrap();
    assert!(printed < 1.56, "{}", problem.message);
}

#[test]
fn staged_is_true_or_false_without_quotes() {
    let with = |value: &str| {
        edited(
            REEF,
            "\"30 min\"\n",
            &format!("\"30 min\"\nstaged = {value}\n"),
        )
    };
    assert!(read(&with("true")).unwrap().staged());
    assert!(!read(&with("false")).unwrap().staged());
    assert!(!read(REEF).unwrap().staged());
    for (value, found) in [
        ("\"yes\"", "the text \"yes\""),
        ("\"true\"", "the text \"true\""),
        ("1", "the number 1"),
        ("[true]", "the list [true]"),
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
