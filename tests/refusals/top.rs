//! What stands above the first table: title, units, splash, and the names of the tables.

use hangbar::plan::TimeOfDay;
use hangbar::plan_file::{Overrides, read, read_with};

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::{DRIFT, PIER, REEF, WALL, edited, only, refusal};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key at the top": WALL "title =" => "titel ="
        | 1:1 "" "" | "unknown key `titel`" | "title, units, splash, site, profile" | "title";
    "a table": WALL "[reserve]" => "[reserves]"
        | 32:2 "" "" | "unknown key `reserves`" | "gas, reserve, surface, diver, before" | "reserve";
    "a list of tables": DRIFT "[[diver]]" => "[[divers]]"
        | 19:3 "" "" | "unknown key `divers`" | "gas, reserve, surface, diver, before" | "diver";
    "an hour that no day has": WALL "\"09:40\"" => "\"24:00\""
        | 3:10 "" "splash" | "`splash` is \"24:00\"" | "from \"00:00\" to \"23:59\", in quotes" | "";
    "a minute that no hour has": WALL "\"09:40\"" => "\"09:60\""
        | 3:10 "" "splash" | "`splash` is \"09:60\"" | "from \"00:00\" to \"23:59\"" | "";
    "a minute of one digit": WALL "\"09:40\"" => "\"9:4\""
        | 3:10 "" "splash" | "`splash` is \"9:4\"" | "with two digits of minutes, as \"9:40\"" | "";
    "an hour with a sign": WALL "\"09:40\"" => "\"+9:40\""
        | 3:10 "" "splash" | "`splash` is \"+9:40\"" | "from \"00:00\" to \"23:59\"" | "";
    "half a day": WALL "\"09:40\"" => "\"9:40 am\""
        | 3:10 "" "splash" | "`splash` is \"9:40 am\"" | "from \"00:00\" to \"23:59\"" | "";
    "a splash without quotes": WALL "\"09:40\"" => "09:40:00"
        | 3:10 "" "splash" | "`splash` is the date or time 09:40:00" | "in quotes" | "";
    "a terminal's escape in the title": WALL "\"Lantern Wall\"" => "\"Lantern\\u001b]0;Wall\""
        | 1:9 "" "title" | "`title` holds a character that cannot be shown" | "characters on one line" | "";
    "a control character of eight bits in the title": WALL "\"Lantern Wall\"" => "\"Lantern\\u009bWall\""
        | 1:9 "" "title" | "`title` holds a character that cannot be shown" | "characters on one line" | "";
    "an empty title": WALL "\"Lantern Wall\"" => "\"\""
        | 1:9 "" "title" | "`title` is empty" | "characters on one line" | "";
    "a title that is a number": WALL "\"Lantern Wall\"" => "42"
        | 1:9 "" "title" | "`title` is the number 42" | "characters on one line" | "";
    "units that nobody has": WALL "\"metric\"" => "\"nautical\""
        | 2:9 "" "units" | "`units` is \"nautical\"" | "\"metric\", \"imperial\"" | "";
    "misspelled units": WALL "\"metric\"" => "\"Metric\""
        | 2:9 "" "units" | "`units` is \"Metric\"" | "\"metric\", \"imperial\"" | "metric";
    "units that are true": WALL "\"metric\"" => "true"
        | 2:9 "" "units" | "`units` is true" | "\"metric\", \"imperial\"" | "";
};

/// Everything else that has a limit.
pub(crate) const OTHERS: &[Limit] = limits! {
    WALL "\"09:40\"" => "\"@\"" | Least "00:00" "-0:01" | 3:10 "splash";
    WALL "\"09:40\"" => "\"@\"" | Greatest "23:59" "24:00" | 3:10 "splash";
};

#[test]
fn what_is_shown_has_at_most_so_many_characters_and_not_one_more() {
    let emergency = "\"harbour radio, channel 12\"";
    for (plan, old, key, longest) in [
        (WALL, "\"Lantern Wall\"", "title", 200),
        (WALL, "\"Bram\"", "name", 40),
        (PIER, emergency, "emergency", 300),
    ] {
        // Characters, of two and three bytes each.
        let text = |length: usize| edited(plan, old, &format!("\"{}\"", "ä海".repeat(length)));
        assert!(read(&text(longest / 2)).is_ok(), "{key}");
        let problem = only(read(&text(longest / 2 + 1)).unwrap_err());
        assert_eq!(problem.key.as_deref(), Some(key));
        assert_eq!(
            problem.message,
            format!("`{key}` has {} characters", longest + 2)
        );
        assert_eq!(
            problem.accepted,
            Some(format!("1 to {longest} characters on one line"))
        );
        let one_more = edited(plan, old, &format!("\"{}\"", "x".repeat(longest + 1)));
        assert!(read(&one_more).is_err(), "{key}");
    }
}

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
        let plan = read(&edited(REEF, "\"10:15\"", &quoted)).unwrap();
        assert_eq!(plan.splash(), want, "{text}");
        let overrides = Overrides {
            splash: Some(text.to_owned()),
            ..Overrides::default()
        };
        assert_eq!(
            read_with(REEF, &overrides).unwrap().splash(),
            want,
            "{text}"
        );
    }
}

#[test]
fn a_time_of_day_written_otherwise_is_refused_with_the_way_to_write_it() {
    for text in [
        "9:4", "24:00", "9.40", "940", "9:60", "009:40", ":40", "9:", "9:40:00", "-9:40", "9: 40",
        "٩:40",
    ] {
        let problem = refusal(REEF, "\"10:15\"", &format!("\"{text}\""));
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
