//! What a pencil log can have wrong, and what a good one gives.

use approx::assert_relative_eq;
use hangbar::plan::TimeOfDay;
use hangbar::plan_file::{PlanErrors, Problem, read, read_pencil};
use hangbar::record::PencilLog;

use crate::faults::{Fault, differences_of, faults};
use crate::plans::{DRIFT, SAME, WALL, edited, only};

/// What the team of [`WALL`] wrote down: every key, and those alone that must be there.
pub(crate) const SLATE: &str = r#"# Lantern Wall
[[diver]]
name = "Juno"
greatest_depth = "17.5 m"
bottom_time = "38 min"
time_in = "09:42"
time_out = "10:28"
run_time = "46.5 min"
start_pressure = "210 bar"
end_pressure = "1200 psi"
average_depth = "11 m"

[[diver]]
name = "Bram"
greatest_depth = "57 ft"
bottom_time = "36 min"
start_pressure = "3100 psi"
end_pressure = "900 psi"
"#;

const FAULTS: &[Fault] = faults! {
    "a key at the top": SLATE "# Lantern Wall" => "units = \"metric\""
        | 1:1 "" "" | "unknown key `units`" | "diver" | "";
    "a key of a diver": SLATE "average_depth" => "average_dept"
        | 11:1 "[[diver]] 1" "" | "unknown key `average_dept`" | "end_pressure, average_depth" | "average_depth";
    "a key that must be there, misspelled": SLATE "end_pressure = \"900" => "end_presure = \"900"
        | 18:1 "[[diver]] 2" "" | "unknown key `end_presure`" | "start_pressure, end_pressure" | "end_pressure";
    "a time without quotes": SLATE "\"38 min\"" => "38 min"
        | 5:15 "" "" | "`38 min` has no quotes" | "lines as bottom_time = \"27 min\" under a [[diver]]" | "";
    "a key that is not there": SLATE "end_pressure = \"900 psi\"\n" => ""
        | 13:1 "[[diver]] 2" "end_pressure" | "`end_pressure` is missing" | "0 bar to 344.7 bar" | "";
    "no name": SLATE "name = \"Bram\"\n" => ""
        | 13:1 "[[diver]] 2" "name" | "`name` is missing" | "a diver of the plan: Juno, Bram" | "";
    "an empty name": SLATE "\"Bram\"" => "\"\""
        | 14:8 "[[diver]] 2" "name" | "`name` is not filled in" | "a diver of the plan: Juno, Bram" | "";
    "a name nobody has": SLATE "\"Bram\"" => "\"Brahm\""
        | 14:8 "[[diver]] 2" "name" | "nobody in the plan is called \"Brahm\"" | "a diver of the plan: Juno, Bram" | "Bram";
    "a name in small letters": SLATE "\"Bram\"" => "\"bram\""
        | 14:8 "[[diver]] 2" "name" | "nobody in the plan is called \"bram\"" | "Juno, Bram" | "Bram";
    "a name of one who is not there": SLATE "\"Bram\"" => "\"Selka\""
        | 14:8 "[[diver]] 2" "name" | "nobody in the plan is called \"Selka\"" | "Juno, Bram" | "";
    "a terminal's escape in a name": SLATE "\"Bram\"" => "\"B\\u001b[31mram\""
        | 14:8 "[[diver]] 2" "name" | "`name` holds a character that cannot be shown" | "on one line" | "";
    "two dives of one diver": SLATE "\"Bram\"" => "\" Juno \""
        | 14:8 "[[diver]] 2" "name" | "a dive of Juno is already in the record" | "each diver once" | "";
    "a blank depth": SLATE "\"17.5 m\"" => "\"\""
        | 4:18 "[[diver]] 1" "greatest_depth" | "`greatest_depth` is not filled in" | "0.3 m to 200 m" | "";
    "a blank bottom time": SLATE "\"38 min\"" => "\" \""
        | 5:15 "[[diver]] 1" "bottom_time" | "`bottom_time` is not filled in" | "as \"22 min\"" | "";
    "a blank pressure before": SLATE "\"210 bar\"" => "\"\""
        | 9:18 "[[diver]] 1" "start_pressure" | "`start_pressure` is not filled in" | "1 bar to 344.7 bar" | "";
    "a blank pressure after": SLATE "\"1200 psi\"" => "\"\""
        | 10:16 "[[diver]] 1" "end_pressure" | "`end_pressure` is not filled in" | "0 bar to 344.7 bar" | "";
    "nothing filled in": SLATE
        "\"57 ft\"\nbottom_time = \"36 min\"\nstart_pressure = \"3100 psi\"\nend_pressure = \"900 psi\""
        => "\"\"\nbottom_time = \"\"\nstart_pressure = \"3100 psi\"\nend_pressure = \"\""
        | 13:1 "[[diver]] 2" "" | "Bram's dive is not filled in" | "fill it in, or take the table out if Bram did not dive" | "";
    "nothing there but a name": SLATE
        "greatest_depth = \"57 ft\"\nbottom_time = \"36 min\"\nstart_pressure = \"3100 psi\"\nend_pressure = \"900 psi\"\n" => ""
        | 13:1 "[[diver]] 2" "" | "Bram's dive is not filled in" | "did not dive" | "";
    "a table of nothing": SLATE
        "name = \"Bram\"\ngreatest_depth = \"57 ft\"\nbottom_time = \"36 min\"\nstart_pressure = \"3100 psi\"\nend_pressure = \"900 psi\"\n"
        => "name = \"\"\n"
        | 13:1 "[[diver]] 2" "" | "this dive is not filled in" | "if the diver did not dive" | "";
    "a bare depth": SLATE "\"17.5 m\"" => "17.5"
        | 4:18 "[[diver]] 1" "greatest_depth" | "the bare number 17.5; a depth needs its unit, m or ft" | "0.3 m to 200 m" | "";
    "a depth with a comma": SLATE "\"17.5 m\"" => "\"17,5 m\""
        | 4:18 "[[diver]] 1" "greatest_depth" | "`17,5 m` has a comma in its number" | "0.3 m" | "";
    "minutes as metres": SLATE "\"38 min\"" => "\"38 m\""
        | 5:15 "[[diver]] 1" "bottom_time" | "`m` is a unit of depth" | "as \"22 min\"" | "min";
    "a negative pressure": SLATE "\"1200 psi\"" => "\"-5 bar\""
        | 10:16 "[[diver]] 1" "end_pressure" | "`end_pressure` is -5 bar, out of range" | "0 bar to 344.7 bar (0 psi to 5000 psi)" | "";
    "a pressure in other units": SLATE "\"1200 psi\"" => "\"8000 kPa\""
        | 10:16 "[[diver]] 1" "end_pressure" | "`kPa` is not a known unit" | "0 bar" | "";
    "more at the end than at the start": SLATE "\"1200 psi\"" => "\"3100 psi\""
        | 10:16 "[[diver]] 1" "end_pressure" | "`end_pressure` is 3100 psi, above `start_pressure`, 210 bar: a cylinder swapped or refilled?" | "less than `start_pressure`" | "";
    "nothing breathed": SLATE "\"900 psi\"" => "\"3100 psig\""
        | 18:16 "[[diver]] 2" "end_pressure" | "`end_pressure` is 3100 psig, the same as `start_pressure`: nothing used?" | "less than `start_pressure`" | "";
    "an average below the greatest depth": SLATE "\"11 m\"" => "\"17.6 m\""
        | 11:17 "[[diver]] 1" "average_depth" | "`average_depth` is 17.6 m, deeper than `greatest_depth`, 17.5 m" | "not deeper than `greatest_depth`" | "";
    "an average at the surface": SLATE "\"11 m\"" => "\"0 m\""
        | 11:17 "[[diver]] 1" "average_depth" | "`average_depth` is 0 m, out of range" | "0.3 m" | "";
    "down faster than anybody": SLATE "\"38 min\"" => "\"17 s\""
        | 5:15 "[[diver]] 1" "bottom_time" | "`bottom_time` is 17 s, too short to get down to 17.5 m" | "at least 0.3 min, which is going down at 3 times the plan's 20 m/min" | "";
    "a run time that ends on the bottom": SLATE "\"36 min\"\n" => "\"36 min\"\nrun_time = \"35.9 min\"\n"
        | 17:12 "[[diver]] 2" "run_time" | "`run_time` is 35.9 min, less than `bottom_time`, 36 min" | "at least `bottom_time`, and 24 h at most" | "";
    "a run time of more than a day": SLATE "\"36 min\"\n" => "\"36 min\"\nrun_time = \"24.1 h\"\n"
        | 17:12 "[[diver]] 2" "run_time" | "`run_time` is 24.1 h, out of range" | "1440 min" | "";
    "a run time longer than by the clock": SLATE "\"46.5 min\"" => "\"47.1 min\""
        | 8:12 "[[diver]] 1" "run_time" | "`run_time` is 47.1 min, and from `time_in` to `time_out` it is 46 min" | "within a minute of each other" | "";
    "a run time shorter than by the clock": SLATE "\"46.5 min\"" => "\"44.9 min\""
        | 8:12 "[[diver]] 1" "run_time" | "`run_time` is 44.9 min, and from `time_in` to `time_out` it is 46 min" | "one of the three left empty" | "";
    "back before the bottom was left": SLATE "\"10:28\"\nrun_time = \"46.5 min\"\n" => "\"10:19\"\n"
        | 7:12 "[[diver]] 1" "time_out" | "from `time_in` to `time_out` it is 37 min, less than `bottom_time`, 38 min" | "at least `bottom_time` later" | "";
    "times swapped": SLATE "\"10:28\"\nrun_time = \"46.5 min\"\n" => "\"09:41\"\n"
        | 7:12 "[[diver]] 1" "time_out" | "`time_out` is 09:41, before `time_in`, 09:42: the two are probably swapped" | "past midnight within 6 h" | "";
    "six hours past midnight": SLATE "\"09:42\"\ntime_out = \"10:28\"\nrun_time = \"46.5 min\"\n" => "\"22:00\"\ntime_out = \"04:00\"\n"
        | 7:12 "[[diver]] 1" "time_out" | "`time_out` is 04:00, before `time_in`, 22:00" | "past midnight within 6 h" | "";
    "no time under water": SLATE "\"10:28\"" => "\"9:42\""
        | 7:12 "[[diver]] 1" "time_out" | "`time_out` is 09:42, the same as `time_in`" | "after `time_in`" | "";
    "a time of day that is none": SLATE "\"10:28\"" => "\"10.28\""
        | 7:12 "[[diver]] 1" "time_out" | "`time_out` is \"10.28\"" | "a time of day from \"00:00\" to \"23:59\"" | "";
    "a time of day without quotes": SLATE "\"10:28\"" => "10:28:00"
        | 7:12 "[[diver]] 1" "time_out" | "`time_out` is the date or time 10:28:00" | "in quotes" | "";
};

fn told(plan: &str, text: &str) -> PlanErrors {
    read_pencil(text, &read(plan).unwrap()).unwrap_err()
}

/// The only problem of a record that is refused.
fn refused(old: &str, new: &str) -> Problem {
    only(told(WALL, &edited(SLATE, old, new)))
}

fn taken(old: &str, new: &str) -> Vec<PencilLog> {
    read_pencil(&edited(SLATE, old, new), &read(WALL).unwrap()).unwrap()
}

#[test]
fn every_fault_of_a_record_is_refused_alone_at_its_place_with_the_words_that_help() {
    let plan = read(WALL).unwrap();
    let mut wrong = Vec::new();
    for fault in FAULTS {
        let broken = edited(fault.plan, fault.old, fault.new);
        let dressed = [
            broken.clone(),
            broken.replace('\n', "\r\n"),
            format!("\u{feff}{broken}"),
        ];
        for text in dressed {
            match read_pencil(&text, &plan) {
                Ok(_) => wrong.push(format!("{}: was read as good", fault.what)),
                Err(errors) => wrong.extend(
                    differences_of(fault, &text, &errors)
                        .map(|text| format!("{}: {text}", fault.what)),
                ),
            }
        }
    }
    let all = wrong.join("\n");
    assert!(wrong.is_empty(), "{} wrong:\n{all}", wrong.len());
}

#[test]
fn every_key_of_a_good_record_arrives_in_its_log() {
    let logs = read_pencil(SLATE, &read(WALL).unwrap()).unwrap();
    let [juno, bram] = logs.as_slice() else {
        panic!("two dives are in the record: {logs:?}");
    };
    assert_eq!((juno.diver.as_str(), juno.line), ("Juno", 2));
    assert_relative_eq!(juno.greatest_depth.as_m(), 17.5);
    assert_relative_eq!(juno.bottom_time.as_min(), 38.0);
    assert_eq!(juno.time_in, TimeOfDay::new(9, 42));
    assert_eq!(juno.time_out, TimeOfDay::new(10, 28));
    assert_relative_eq!(juno.run_time.unwrap().as_min(), 46.5);
    assert_relative_eq!(juno.start.as_bar(), 210.0);
    assert_relative_eq!(juno.end.as_psi(), 1200.0, epsilon = SAME);
    assert_relative_eq!(juno.average_depth.unwrap().as_m(), 11.0);
    assert_eq!((bram.diver.as_str(), bram.line), ("Bram", 13));
    assert_relative_eq!(bram.greatest_depth.as_ft(), 57.0, epsilon = SAME);
    assert_eq!((bram.run_time, bram.average_depth), (None, None));
    assert_eq!((bram.time_in, bram.time_out), (None, None));
}

#[test]
fn what_may_be_left_out_may_be_left_empty() {
    let bare = taken(
        "time_in = \"09:42\"\ntime_out = \"10:28\"\nrun_time = \"46.5 min\"\n",
        "",
    );
    let blank = taken(
        "time_in = \"09:42\"\ntime_out = \"10:28\"\nrun_time = \"46.5 min\"\n",
        "time_in = \"\"\ntime_out = \" \"\nrun_time = \"\"\n",
    );
    let without_lines = |logs: &[PencilLog]| {
        let logs = logs.iter().cloned();
        logs.map(|mut log| {
            log.line = 0;
            log
        })
        .collect::<Vec<_>>()
    };
    assert_eq!(without_lines(&bare), without_lines(&blank));
    assert_eq!(bare[0].run_time, None);
    assert_eq!(taken("\"11 m\"", "\"\"")[0].average_depth, None);
}

#[test]
fn a_run_time_follows_from_the_two_times_past_midnight_too() {
    let run_time = |left: &str, back: &str| {
        let new = format!("time_in = \"{left}\"\ntime_out = \"{back}\"\n");
        let old = "time_in = \"09:42\"\ntime_out = \"10:28\"\nrun_time = \"46.5 min\"\n";
        taken(old, &new)[0].run_time.unwrap().as_min()
    };
    for (left, back, minutes) in [
        ("09:42", "10:20", 38.0),
        ("9:42", "12:00", 138.0),
        ("23:30", "00:10", 40.0),
        ("22:00", "03:59", 359.0),
    ] {
        assert_relative_eq!(run_time(left, back), minutes);
    }
    let written = |time: &str| {
        let logs = taken("\"46.5 min\"", &format!("\"{time}\""));
        logs[0].run_time.unwrap().as_min()
    };
    assert_relative_eq!(written("45 min"), 45.0);
    assert_relative_eq!(written("47 min"), 47.0);
}

#[test]
fn what_is_just_possible_is_taken() {
    // 17.5 m at three times 20 m/min are 17.5 s.
    assert_relative_eq!(
        taken("\"38 min\"", "\"17.5 s\"")[0].bottom_time.as_min() * 60.0,
        17.5
    );
    let to_the_last = taken("\"900 psi\"", "\"0 psi\"");
    assert_relative_eq!(to_the_last[1].end.as_bar(), 0.0);
    let flat = taken("\"11 m\"", "\"17.5 m\"");
    assert_eq!(flat[0].average_depth, Some(flat[0].greatest_depth));
}

#[test]
fn a_record_may_be_of_one_diver_and_in_any_order() {
    let (juno, bram) = SLATE.split_once("\n\n").unwrap();
    let plan = read(WALL).unwrap();
    let names = |text: &str| {
        let logs = read_pencil(text, &plan).unwrap();
        logs.into_iter().map(|log| log.diver).collect::<Vec<_>>()
    };
    assert_eq!(names(bram), ["Bram"]);
    assert_eq!(names(&format!("{bram}\n{juno}")), ["Bram", "Juno"]);
}

#[test]
fn everything_wrong_is_told_at_once_in_the_order_of_the_text() {
    let text = SLATE
        .replace("\"Juno\"", "\"Junno\"")
        .replace("\"17.5 m\"", "\"\"")
        .replace("\"10:28\"", "\"08:28\"")
        .replace("\"900 psi\"", "\"9000 psi\"")
        .replace("average_depth", "mean_depth");
    let errors = told(WALL, &text);
    let lines = errors.problems().iter();
    let lines: Vec<usize> = lines
        .map(|one| one.position.as_ref().unwrap().line)
        .collect();
    assert_eq!(lines, [3, 4, 7, 11, 18], "{}", errors.render("slate.toml"));
}

#[test]
fn a_record_of_nobody_is_refused() {
    let accepted = "one [[diver]] for each who dived, with name, greatest_depth, bottom_time";
    for (text, message, line) in [
        ("", "`diver` is missing", 1),
        ("# nobody dived\n", "`diver` is missing", 1),
        ("\ndiver = []\n", "0 dives are in the record", 2),
    ] {
        let problem = only(told(WALL, text));
        assert_eq!(problem.message, message);
        assert_eq!(problem.position.unwrap().line, line);
        assert!(problem.accepted.unwrap().starts_with(accepted));
    }
    let one = only(told(
        WALL,
        &SLATE
            .split_once("\n\n")
            .unwrap()
            .0
            .replace("[[diver]]", "[diver]"),
    ));
    assert!(
        one.accepted
            .unwrap()
            .starts_with("one [[diver]] table each, in double brackets")
    );
}

#[test]
fn more_tables_than_any_team_are_refused_in_one_word() {
    let many = "[[diver]]\nname = \"Juno\"\n".repeat(40_000);
    let problem = only(told(WALL, &many));
    assert_eq!(problem.message, "40000 dives in one record are too many");
    assert_eq!(problem.table, "[[diver]] 51");
    let accepted = problem.accepted.as_deref();
    assert_eq!(accepted, Some("at most 50 dives in one record"));
}

#[test]
fn a_file_that_is_no_record_by_its_length_is_refused_unread() {
    let long = "#".repeat((1 << 20) + 1);
    let problem = only(told(WALL, &long));
    assert_eq!(problem.message, "the file has 1048577 bytes");
    assert_eq!(problem.accepted.as_deref(), Some("at most 1 MiB"));
}

#[test]
fn a_plan_without_divers_has_nobody_to_compare_with() {
    let (alone, _) = WALL.split_once("[[diver]]").unwrap();
    let alone = edited(alone, "current = \"0.5 kn\"\n", "");
    let problem = only(told(&alone, SLATE));
    assert!(
        problem.message.starts_with("the plan has no [[diver]]"),
        "{problem}"
    );
    assert_eq!(
        problem.accepted.as_deref(),
        Some("a plan with the divers who dived")
    );
}

/// The rate of a message is in the units of the plan.
#[test]
fn a_plan_in_feet_is_told_its_rate_in_feet() {
    let plan = read(DRIFT).unwrap();
    let name = &plan.divers()[0].name;
    let text = format!(
        "[[diver]]\nname = \"{name}\"\ngreatest_depth = \"90 ft\"\nbottom_time = \"10 s\"\n\
         start_pressure = \"3000 psi\"\nend_pressure = \"0 bar\"\n"
    );
    let problem = only(read_pencil(&text, &plan).unwrap_err());
    let accepted = problem.accepted.unwrap();
    assert!(accepted.ends_with("ft/min"), "{accepted}");
}

#[test]
fn a_blank_that_is_no_text_is_told_as_what_it_is() {
    let problem = refused("\"38 min\"", "[]");
    assert_eq!(problem.message, "`bottom_time` is an empty list");
}

#[test]
fn a_plan_and_a_record_in_each_others_place_are_told_in_one_word() {
    let plan = read(WALL).unwrap();
    let problem = only(read_pencil(WALL, &plan).unwrap_err());
    assert!(problem.message.contains("this is a plan"), "{problem}");
    assert_eq!(
        problem.accepted.as_deref(),
        Some("the plan first, then the records")
    );
    let problem = only(read(SLATE).unwrap_err());
    assert!(problem.message.ends_with("not a plan"), "{problem}");
    assert_eq!(problem.position.unwrap().line, 4);
}
