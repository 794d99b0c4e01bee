//! What is given on the day and refused, under the name of its option.

use hangbar::plan_file::{Overrides, read_with};

use crate::plans::{DRIFT, WALL, brief, edited, fills, only};

/// Overrides that are refused.
struct Instead {
    what: &'static str,
    plan: &'static str,
    depth: &'static str,
    bottom_time: &'static str,
    splash: &'static str,
    fills: &'static [(&'static str, &'static str)],
    option: &'static str,
    table: &'static str,
    key: &'static str,
    message: &'static str,
    accepted: &'static str,
    meant: &'static str,
}

/// `"what": PLAN depth "" time "" splash "" fills [("name", "pressure")] | "option" "table" "key"
///  | "message" | "accepted" | "meant"`; "" stands for none.
macro_rules! instead {
    ($($what:literal: $plan:ident depth $depth:literal time $time:literal splash $splash:literal
       fills $fills:tt
       | $option:literal $table:literal $key:literal
       | $message:literal | $accepted:literal | $meant:literal;)+) => {
        &[$(Instead {
            what: $what, plan: $plan, depth: $depth, bottom_time: $time,
            splash: $splash, fills: &$fills,
            option: $option, table: $table, key: $key,
            message: $message, accepted: $accepted, meant: $meant,
        }),+]
    };
}

const OVERRIDES: &[Instead] = instead! {
    "a depth without a unit": WALL depth "18" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`18` has no unit" | "0.3 m to 200 m" | "";
    "a depth past its limit": WALL depth "200.1 m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`depth` is 200.1 m, out of range" | "0.3 m to 200 m" | "";
    "a negative depth": WALL depth "-18 m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`depth` is -18 m, out of range" | "0.3 m to 200 m" | "";
    "a depth that is not a number": WALL depth "nan m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`nan m` does not begin with a plain number" | "as \"28 m\"" | "";
    "a depth in minutes": WALL depth "18 min" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`min` is a unit of time" | "as \"28 m\"" | "m";
    "a depth with a comma": WALL depth "18,5 m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "has a comma in its number" | "as \"28 m\"" | "";
    "a depth for one of several levels": DRIFT depth "60 ft" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`--depth` cannot say which of the plan's 2 levels it means" | "--depth for a plan with one level; otherwise change the file" | "";
    "a bottom time without a unit": WALL depth "" time "30" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`30` has no unit" | "0.1 min to 1440 min, as \"22 min\"" | "";
    "a bottom time in metres": WALL depth "" time "30 m" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`m` is a unit of depth" | "as \"22 min\"" | "min";
    "a bottom time past its limit": WALL depth "" time "24.1 h" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`bottom_time` is 24.1 h, out of range" | "0.1 min to 1440 min" | "";
    "a bottom time too short to get down": WALL depth "" time "0.5 min" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "0.5 min is too short: the travel to this depth alone takes 0.90 min" | "at least 0.9 min" | "";
    "a bottom time too short for a depth that is given too": WALL depth "60 m" time "2 min" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "2 min is too short: the travel to this depth alone takes 3.00 min" | "at least 3 min" | "";
    "a bottom time that ends in the travel to the last level": DRIFT depth "" time "12.5 min" splash "" fills []
        | "--bottom-time" "[[profile.level]] 2" "bottom_time" | "0.5 min is too short: the travel to this depth alone takes 1.34 min" | "at most 12 min, or at least 13.34 min" | "";
    "a bottom time of several levels without a unit": DRIFT depth "" time "30" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`30` has no unit" | "as \"22 min\"" | "";
    "a fill for somebody else": WALL depth "" time "" splash "" fills [("Wilhelmina", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"Wilhelmina\"" | "Juno, Bram" | "";
    "a fill for a misspelled diver": WALL depth "" time "" splash "" fills [("Barm", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"Barm\"" | "Juno, Bram" | "Bram";
    "a fill for a diver in small letters": WALL depth "" time "" splash "" fills [("juno", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"juno\"" | "Juno, Bram" | "Juno";
    "a fill without a unit": WALL depth "" time "" splash "" fills [("Juno", "200")]
        | "--fill" "[[diver]] 1 cylinder" "fill" | "`200` has no unit" | "as \"200 bar\"" | "";
    "a fill past its limit": WALL depth "" time "" splash "" fills [("Juno", "5001 psi")]
        | "--fill" "[[diver]] 1 cylinder" "fill" | "`fill` is 5001 psi, out of range" | "1 bar to 344.7 bar (14.6 psi to 5000 psi)" | "";
    "a fill of nothing": WALL depth "" time "" splash "" fills [("Juno", "0 bar")]
        | "--fill" "[[diver]] 1 cylinder" "fill" | "`fill` is 0 bar, out of range" | "1 bar to 344.7 bar" | "";
    "a fill far above the rating": WALL depth "" time "" splash "" fills [("Bram", "3600 psi")]
        | "--fill" "[[diver]] 2 cylinder" "fill" | "a fill of 248 bar (3600 psi) is 20 % above the working pressure" | "227 bar (3300 psi)" | "";
    "a fill just above the rating and a tenth": WALL depth "" time "" splash "" fills [("Bram", "3301 psi")]
        | "--fill" "[[diver]] 2 cylinder" "fill" | "above the working pressure" | "227 bar (3300 psi)" | "";
    "a terminal's escape for a name": WALL depth "" time "" splash "" fills [("Ju\u{1b}[31mno", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"Ju\\u{1b}[31mno\"" | "Juno, Bram" | "";
    "a splash of no day": WALL depth "" time "" splash "24:00" fills []
        | "--splash" "" "splash" | "`splash` is \"24:00\"" | "from 00:00 to 23:59" | "";
    "a minute of one digit": WALL depth "" time "" splash "9:4" fills []
        | "--splash" "" "splash" | "`splash` is \"9:4\"" | "with two digits of minutes, as 9:40" | "";
};

#[test]
fn every_fault_of_an_override_is_refused_under_the_option_s_name() {
    for row in OVERRIDES {
        let problem = only(read_with(row.plan, &row.overrides()).expect_err(row.what));
        assert_eq!(problem.position, None, "{}", row.what);
        assert_eq!(problem.overridden_by, Some(row.option), "{}", row.what);
        assert_eq!(problem.table, row.table, "{}", row.what);
        assert_eq!(
            problem.key.as_deref().unwrap_or_default(),
            row.key,
            "{}",
            row.what
        );
        assert_eq!(
            problem.meant.as_deref().unwrap_or_default(),
            row.meant,
            "{}",
            row.what
        );
        assert!(
            problem.message.contains(row.message),
            "{}: {}",
            row.what,
            problem.message
        );
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains(row.accepted), "{}: {accepted}", row.what);

        let args = row.args();
        let output = brief(
            row.plan,
            &args.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        let stderr = String::from_utf8(output.stderr).unwrap();
        assert_eq!(
            (output.status.code(), output.stdout.len()),
            (Some(2), 0),
            "{}",
            row.what
        );
        assert!(
            stderr.contains(&format!("--> option {} ", row.option)),
            "{}: {stderr}",
            row.what
        );
        assert!(stderr.contains(row.message), "{}: {stderr}", row.what);
        let harmless = stderr.chars().all(|c| c == '\n' || !c.is_control());
        assert!(harmless, "{}: {stderr:?}", row.what);
    }
}

impl Instead {
    fn overrides(&self) -> Overrides {
        let given = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        Overrides {
            depth: given(self.depth),
            bottom_time: given(self.bottom_time),
            splash: given(self.splash),
            fills: fills(self.fills),
            ..Overrides::default()
        }
    }

    fn args(&self) -> Vec<String> {
        let mut args = Vec::new();
        for (option, text) in [
            ("--depth", self.depth),
            ("--bottom-time", self.bottom_time),
            ("--splash", self.splash),
        ] {
            if !text.is_empty() {
                args.push(format!("{option}={text}"));
            }
        }
        for (name, pressure) in self.fills {
            args.push(format!("--fill={name}={pressure}"));
        }
        args
    }
}

#[test]
fn two_fills_for_the_same_diver_are_refused() {
    let overrides = Overrides {
        fills: fills(&[("Juno", "200 bar"), ("Juno", "190 bar")]),
        ..Overrides::default()
    };
    let problem = only(read_with(WALL, &overrides).unwrap_err());
    assert_eq!(problem.overridden_by, Some("--fill"));
    assert_eq!(problem.message, "two fills are given for Juno");
    assert_eq!(problem.accepted.as_deref(), Some("once each: Juno, Bram"));
    let output = brief(WALL, &["--fill", "Juno=200 bar", "--fill", "Juno=200 bar"]);
    assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0));
}

#[test]
fn the_name_that_was_given_twice_is_not_suggested_again() {
    let overrides = Overrides {
        fills: fills(&[("Juno", "200 bar"), ("Juno", "190 bar")]),
        ..Overrides::default()
    };
    assert_eq!(only(read_with(WALL, &overrides).unwrap_err()).meant, None);
}

#[test]
fn a_fill_for_a_plan_without_divers_says_that_there_are_none() {
    let text = "[profile]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n";
    let overrides = Overrides {
        fills: fills(&[("Juno", "200 bar")]),
        ..Overrides::default()
    };
    let problem = only(read_with(text, &overrides).unwrap_err());
    assert_eq!(
        problem.message,
        "nobody is called \"Juno\": the plan has no diver"
    );
    assert_eq!(
        problem.accepted.as_deref(),
        Some("--fill for a plan with a [[diver]]")
    );
}

#[test]
fn faults_of_overrides_come_after_those_of_the_file() {
    let text = edited(WALL, "\"3100 psi\"", "\"3100\"");
    let text = edited(&text, "title =", "titel =");
    let overrides = Overrides {
        depth: Some("300 m".to_owned()),
        bottom_time: Some("30".to_owned()),
        splash: Some("noon".to_owned()),
        fills: fills(&[("Juno", "1 psi"), ("Kasimir", "200 bar")]),
        ..Overrides::default()
    };
    let errors = read_with(&text, &overrides).unwrap_err();
    let origins: Vec<String> = errors
        .problems()
        .iter()
        .map(|problem| match (&problem.position, problem.overridden_by) {
            (Some(at), None) => at.line.to_string(),
            (None, Some(option)) => option.to_owned(),
            both => panic!("a problem has one origin, not {both:?}"),
        })
        .collect();
    assert_eq!(origins[..2], ["1", "49"]);
    let mut options = origins[2..].to_vec();
    options.sort();
    assert_eq!(
        options,
        ["--bottom-time", "--depth", "--fill", "--fill", "--splash"]
    );
}

#[test]
fn a_value_of_the_file_is_checked_even_where_an_override_takes_its_place() {
    let text = edited(WALL, "\"18 m\"", "\"18 fathoms\"");
    let overrides = Overrides {
        depth: Some("20 m".to_owned()),
        ..Overrides::default()
    };
    let problem = only(read_with(&text, &overrides).unwrap_err());
    assert_eq!(problem.position.unwrap().line, 12);
}

/// The file's bottom time does for the file's depth, not for the override's.
#[test]
fn a_depth_override_that_makes_the_bottom_time_too_short_is_named() {
    let text = edited(WALL, "\"40 min\"", "\"2 min\"");
    let overrides = Overrides {
        depth: Some("60 m".to_owned()),
        ..Overrides::default()
    };
    let errors = read_with(&text, &overrides).unwrap_err();
    assert!(errors.render("plan.toml").contains("--depth"), "{errors}");
}

/// Two levels, cut so short that the second is not reached: the message names a bottom time.
#[test]
fn the_bottom_time_that_a_message_asks_for_is_accepted() {
    let with = |time: &str| {
        let overrides = Overrides {
            bottom_time: Some(time.to_owned()),
            ..Overrides::default()
        };
        read_with(DRIFT, &overrides)
    };
    let problem = only(with("12.5 min").unwrap_err());
    let accepted = problem.accepted.unwrap();
    let (most, least) = accepted
        .strip_prefix("at most ")
        .unwrap()
        .split_once(", or at least ")
        .unwrap();
    for time in [most, least] {
        assert!(with(time).is_ok(), "{time} is refused again");
    }
}

#[test]
fn the_minute_at_which_the_last_level_begins_is_printed_short() {
    let text = edited(DRIFT, "\"12 min\"", "\"740 s\"");
    let overrides = Overrides {
        bottom_time: Some("12.5 min".to_owned()),
        ..Overrides::default()
    };
    let problem = only(read_with(&text, &overrides).unwrap_err());
    let accepted = problem.accepted.unwrap();
    assert!(
        accepted.starts_with("at most 12.33 min, or at least "),
        "{accepted}"
    );
}
