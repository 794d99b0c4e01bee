//! A day of dives on the screen, as JSON and as a picture.

use serde_json::Value;

use crate::document::{Day, DayDive, Verdict};
use crate::folder::Folder;
use crate::read::{flowing, section, too_wide, without_colour};
use crate::run::{json_of, parsed, run, stdout};
use crate::svg::{boxes, number, picture, words};

/// The charter's day: both dives go.
const DAY: [&str; 3] = ["day", "plans/slack-water.toml", "plans/kittiwake-wall.toml"];
/// Three dives, the last of which needs stops that nobody has planned: a no-go.
const NO_GO: [&str; 8] = [
    "day",
    "plans/kittiwake-wall.toml",
    "plans/slack-water.toml",
    "plans/lesson-3-left-late.toml",
    "--interval",
    "7 min",
    "--interval",
    "61 min",
];

fn with(args: &[&str], more: &[&str]) -> (i32, String) {
    run(&[args, more].concat(), "")
}

fn text(args: &[&str], more: &[&str]) -> String {
    with(args, more).1
}

fn document(args: &[&str], more: &[&str]) -> Day {
    let (_, json) = with(args, &[more, &["--format", "json"]].concat());
    parsed(json.as_bytes())
}

/// The figures of a column that may not be less, or may not be more.
fn up(value: f64) -> String {
    format!("{:.0}", (value - 1e-9).ceil().max(0.0))
}

fn down(value: f64) -> String {
    format!("{:.0}", (value + 1e-9).floor())
}

/// A minute from midnight, not earlier, as a time of day.
fn of_the_day(minute: f64) -> String {
    let minute = (minute - 1e-9).ceil() % 1440.0;
    let hour = (minute / 60.0).floor();
    format!("{hour:02}:{:02}", minute - hour * 60.0)
}

/// Twenty dives of eight divers with long names, from the evening until days after.
fn crowd(folder: &Folder) -> Vec<String> {
    let mut team = String::new();
    for index in 0..8 {
        team.push_str(&format!(
            "[[diver]]\nname = \"Bartholomew Featherstonehaugh number {index}\"\nsac = \"12 L/min\"\n\
             cylinder = {{ size = \"24 L\", fill = \"232 bar\" }}\n"
        ));
    }
    let plan = format!(
        "title = \"A very long title that a charter might well give to one of its regular sites\"\n\
         splash = \"21:40\"\n[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n{team}"
    );
    let file = folder.write("crowd.toml", &plan);
    let file = file.to_str().unwrap().to_owned();
    let mut args = vec!["day".to_owned()];
    args.extend(std::iter::repeat_n(file, 4));
    args.extend(["--interval=100min", "--interval=1500min", "--interval=0min"].map(str::to_owned));
    args
}

/// Every width from a phone's to a desk's, for a go, a no-go, late days and the greatest team.
#[test]
fn a_day_fits_its_columns() {
    let folder = Folder::new("cli-days-wide");
    let crowd = crowd(&folder);
    let crowd: Vec<&str> = crowd.iter().map(String::as_str).collect();
    for days in [&DAY[..], &NO_GO, &crowd] {
        for columns in [40_usize, 44, 60, 80] {
            let width = columns.to_string();
            for more in [&[][..], &["--home-by", "12:30"], &["--units", "imperial"]] {
                let text = text(days, &[more, &["--columns", &width]].concat());
                for line in text.lines() {
                    assert!(line.chars().count() <= columns, "{columns}: {line}");
                    assert!(!line.ends_with(' '), "{columns}: {line}");
                }
            }
        }
        // A pipe has 80 columns.
        assert_eq!(too_wide(&text(days, &[])), Vec::<String>::new());
    }
}

/// No figure is at the end of a line and its unit on the next one.
#[test]
fn no_figure_of_a_day_is_parted_from_its_unit() {
    for days in [&DAY[..], &NO_GO] {
        for columns in 40..=80 {
            let text = text(days, &["--columns", &columns.to_string()]);
            for (line, next) in text.lines().zip(text.lines().skip(1)) {
                let ends_in_figure = line.ends_with(|c: char| c.is_ascii_digit());
                let unit = next.split_whitespace().next().unwrap_or_default();
                let unit = unit.trim_end_matches([',', '.', ';', ')', ':']);
                let units = ["m", "bar", "min", "h", "%", "minutes"];
                assert!(
                    !(ends_in_figure && units.contains(&unit)),
                    "{columns}: {line} | {next}"
                );
            }
        }
    }
}

/// What a guest could take for more time, more depth or more gas.
#[test]
fn no_line_of_a_day_sounds_like_leave() {
    for more in [&[][..], &["--home-by", "15:00"], &["--home-by", "23:00"]] {
        let text = flowing(&text(&DAY, more));
        assert!(text.starts_with("GO "), "{text}");
        for leave in [
            "minutes more",
            "min more",
            "would still be",
            "stays a no-stop",
            "still a go",
            "gas for",
            "up to 1",
            "may stay",
            "can stay",
            "longer than planned",
            "time left",
            "spare time",
        ] {
            assert!(!text.contains(leave), "{leave}: {text}");
        }
        assert!(text.contains("no bottom time beyond 46 min"), "{text}");
    }
}

/// Nothing of a team's gas or turn stands in a dive of the day that may not go.
#[test]
fn a_no_go_of_the_day_orders_nothing() {
    let text = text(&NO_GO, &[]);
    let third = text.split("\nDive 3, ").nth(1).unwrap();
    assert!(third.contains("\nNO-GO  "), "{text}");
    for order in ["turn", "leave the bottom by", "OVERDUE", "No-stop limit"] {
        assert!(!third.contains(order), "{order}: {third}");
    }
}

/// Exit status, the first and the last line, and JSON say the same.
#[test]
fn the_verdict_of_a_day_is_its_exit_status_and_its_first_and_last_line() {
    let late = [&DAY[..], &["--home-by", "14:20"]].concat();
    let in_time = [&DAY[..], &["--home-by", "14:21"]].concat();
    for (args, status, verdict, line) in [
        (&DAY[..], 0, Verdict::Go, "GO  A day of 2 dives"),
        (&in_time, 0, Verdict::Go, "GO  A day of 2 dives"),
        (&late, 1, Verdict::NoGo, "NO-GO  A day of 2 dives"),
        (&NO_GO, 1, Verdict::NoGo, "NO-GO  A day of 3 dives"),
    ] {
        let (got, text) = with(args, &[]);
        assert_eq!(got, status, "{text}");
        assert_eq!(text.lines().next(), Some(line));
        assert_eq!(text.lines().last(), Some(line));
        let (got, _) = with(args, &["--format", "json"]);
        assert_eq!(got, status);
        assert_eq!(document(args, &[]).verdict, verdict);
    }
}

/// A day of plans without a team is a schedule alone, and no no-go.
#[test]
fn a_day_without_a_team_is_a_schedule_only() {
    let plan = "[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n";
    let folder = Folder::new("cli-days-nobody");
    let file = folder.write("sketch.toml", plan);
    let file = file.to_str().unwrap();
    let args = ["day", file, file, "--interval", "60 min"];
    let (status, text) = with(&args, &[]);
    assert_eq!(status, 0);
    assert!(
        text.starts_with("SCHEDULE ONLY  A day of 2 dives\n"),
        "{text}"
    );
    assert!(
        text.contains("minute 0") && text.contains("the team"),
        "{text}"
    );
    assert_eq!(document(&args, &[]).verdict, Verdict::ScheduleOnly);
}

/// A dive that goes in a day that does not is told under what the day comes to.
#[test]
fn the_briefing_of_one_dive_ends_as_the_day_does() {
    for (number, verdict) in [("1", "GO"), ("2", "GO"), ("3", "NO-GO")] {
        let (status, text) = with(&NO_GO, &["--brief", number]);
        assert_eq!(status, 1, "{text}");
        let head = "NO-GO  A day of 3 dives\n  no-go  Dive 3 may not go as planned.\n\n";
        let own = text.strip_prefix(head).unwrap();
        assert!(own.starts_with(&format!("{verdict}  ")), "{text}");
    }
    let (status, text) = with(&DAY, &["--brief", "2"]);
    assert_eq!(status, 0, "{text}");
    assert!(text.starts_with("GO  Slack Water"), "{text}");
}

/// A dive of a day knows the hour and the flight of that day, and its last word on flying.
#[test]
fn the_briefing_of_one_dive_says_what_the_day_says() {
    let (status, text) = with(&DAY, &["--brief", "1", "--home-by", "14:00"]);
    assert_eq!(status, 1, "{text}");
    assert!(text.starts_with("NO-GO  A day of 2 dives\n  no-go  The last dive is back at 14:21"));
    let (status, text) = with(&DAY, &["--brief", "1", "--fly-at", "08:00+1"]);
    assert_eq!(status, 1, "{text}");
    let text = flowing(&text);
    assert!(
        text.contains("no-go The flight at 08:00 the next day is too soon after the day.")
            && text.contains("After the day: No flying or driving up for 18 h"),
        "{text}"
    );
}

/// A dive's line of a narrow screen, the times not earlier and the intervals not longer than they
/// are.
fn line_of(index: usize, dive: &DayDive) -> (String, String) {
    let starts = format!("{}: splash {}, ", index + 1, of_the_day(dive.from_min));
    let back = dive.from_min.ceil() + dive.briefing.run_time_min.ceil();
    let mut ends = format!(", up {}", of_the_day(back));
    if let Some(interval) = dive.surface_interval_min {
        let least = dive.briefing.least_interval.as_ref().unwrap().interval_min;
        let least = least.map_or("never".to_owned(), |least| format!("{least} min"));
        let interval = down(interval);
        ends += &format!(", at the surface before {interval} min, no stops from {least}");
    }
    (starts, ends)
}

#[test]
fn the_text_of_a_day_has_the_figures_of_its_json() {
    for args in [&DAY[..], &NO_GO] {
        let (text, document) = (text(args, &["--columns", "40"]), document(args, &[]));
        let lines = flowing(&section(&text, "The day").join("\n"));
        let mut rest = lines.as_str();
        for (index, dive) in document.dives.iter().enumerate() {
            let (starts, ends) = line_of(index, dive);
            rest = rest.strip_prefix(&starts).expect(&starts);
            let (title, after) = rest.split_once(&ends).expect(&ends);
            assert!(!title.contains("splash"), "{title}");
            assert!(title.ends_with("GO"), "{title}");
            let splash = of_the_day(dive.from_min);
            assert_eq!(dive.splash.as_deref(), Some(splash.as_str()));
            rest = after.trim_start();
        }
        // What is left is about the column.
        assert!(rest.starts_with("\"No stops from\" is about"), "{rest}");
    }
}

/// A line a diver: the numbers of the dives, CNS and OTU not less than they are.
#[test]
fn each_diver_s_line_has_the_figures_of_the_json() {
    for args in [&DAY[..], &NO_GO] {
        let (text, document) = (text(args, &[]), document(args, &[]));
        let lines = section(&text, "Each diver after the day");
        for diver in &document.divers {
            let line = lines
                .iter()
                .find(|line| line.trim().starts_with(&diver.name));
            let numbers: Vec<String> = diver.dives.iter().map(usize::to_string).collect();
            let want = format!(
                "{} {} {} % {} % {}",
                diver.name,
                numbers.join(", "),
                up(diver.most_cns_pct),
                up(diver.end.cns_pct),
                up(diver.end.otu)
            );
            assert_eq!(flowing(line.unwrap()), want);
        }
        assert_eq!(lines.len(), 2 + document.divers.len());
    }
}

/// The day is a chain: from a surfacing to the next splash is the interval.
#[test]
fn the_json_of_a_day_is_a_chain_of_dives() {
    for args in [&DAY[..], &NO_GO] {
        let day = document(args, &[]);
        assert_eq!(day.schema, "hangbar/day/1");
        assert_eq!(day.dives[0].surface_interval_min, None);
        for pair in day.dives.windows(2) {
            let interval = pair[1].from_min - pair[0].to_min;
            let told = pair[1].surface_interval_min.unwrap();
            assert!((interval - told).abs() < 1e-9, "{interval}, {told}");
        }
        for dive in &day.dives {
            let run_time = dive.to_min - dive.from_min;
            assert!((run_time - dive.briefing.run_time_min).abs() < 1e-9);
        }
    }
    let files = document(&DAY, &[]).dives.into_iter().map(|dive| dive.file);
    assert_eq!(
        files.collect::<Vec<_>>(),
        ["plans/kittiwake-wall.toml", "plans/slack-water.toml"]
    );
}

#[test]
fn the_hour_of_a_day_is_the_same_in_text_and_json() {
    for (hour, holds, last, words) in [
        (
            "15:00",
            true,
            Some("14:29"),
            "Home by 15:00: dive 2 splashes at 14:29 at the latest.",
        ),
        (
            "14:00",
            false,
            Some("13:29"),
            "Home by 14:00: dive 2 splashes at 13:29 at the latest.",
        ),
        (
            "12:20",
            false,
            None,
            "Home by 12:20: no splash of dive 2 is early enough and still a go. It is left out.",
        ),
    ] {
        let home = document(&DAY, &["--home-by", hour]).home.unwrap();
        assert_eq!((home.by.as_str(), home.holds), (hour, holds));
        assert_eq!(home.last_splash.as_deref(), last);
        let text = flowing(&text(&DAY, &["--home-by", hour]));
        assert!(text.contains(words), "{text}");
        let late = format!("The last dive is back at 14:21, after {hour}.");
        assert_eq!(text.contains(&late), !holds, "{text}");
    }
    assert_eq!(document(&DAY, &[]).home, None);
}

/// `--brief N` is that dive of the day, whole, and neither the plan alone nor another dive.
#[test]
fn the_briefing_of_a_dive_is_that_of_the_day() {
    let day = json_of(&[&DAY[..], &["--format", "json"]].concat());
    for (number, index) in [("1", 0), ("2", 1)] {
        let more = ["--brief", number, "--format", "json"];
        let brief: Value = json_of(&[&DAY[..], &more].concat());
        assert_eq!(brief["schema"], "hangbar/briefing/1");
        assert_eq!(brief, day["dives"][index]["briefing"]);
    }
    let alone = json_of(&["brief", "plans/slack-water.toml", "--format", "json"]);
    assert_ne!(alone["start"], day["dives"][1]["briefing"]["start"]);
    let first = json_of(&["brief", "plans/kittiwake-wall.toml", "--format", "json"]);
    assert_eq!(first, day["dives"][0]["briefing"]);
}

/// A dive of the day splashes when the day says, not when its plan alone does.
#[test]
fn past_midnight_the_screen_says_so() {
    let folder = Folder::new("cli-days-night");
    let plan = "splash = \"23:10\"\n[profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n\
                [[diver]]\nname = \"Noor\"\nsac = \"12 L/min\"\n\
                cylinder = { size = \"12 L\", fill = \"200 bar\" }\n";
    let file = folder.write("night.toml", plan);
    let file = file.to_str().unwrap();
    let text = flowing(&stdout(&["day", file, file, "--interval", "40 min"]));
    for words in [
        "1: splash 23:10, Untitled dive, GO, up 23:35 2:",
        "2: splash 00:15 the next day, Untitled dive, GO, up 00:40 the next day,",
        "Dive 2, splash 00:15 the next day, 40 min at the surface before it",
        "Splash 00:15. They leave the bottom by 00:35, are up by 00:40,",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

/// A pipe gets no colour; what colour adds is colour alone; JSON has none whatever is asked for.
#[test]
fn colour_of_a_day_is_off_for_a_pipe() {
    for args in [&DAY[..], &NO_GO] {
        let plain = text(args, &[]);
        assert!(!plain.contains('\u{1b}'), "{plain}");
        assert_eq!(text(args, &["--color", "never"]), plain);
        let coloured = text(args, &["--color", "always"]);
        assert!(coloured.contains("\u{1b}["), "{coloured}");
        assert_eq!(without_colour(&coloured), plain);
        let json = text(args, &["--format", "json", "--color", "always"]);
        assert!(!json.contains('\u{1b}'));
    }
}

/// Two panels: depth with each dive's number, and the gradient with the factor that it is held to.
#[test]
fn the_picture_of_a_day_has_its_words() {
    let svg = picture("days", &DAY);
    let words = words(&svg);
    for word in [
        "A day of 2 dives: depth and leading gradient",
        "depth, m",
        "gradient, %",
        "dive 1, 26 m",
        "dive 2, 18 m",
        "depth",
        "gradient of the leading compartment",
        "high gradient factor, 85 %",
    ] {
        assert!(words.iter().any(|found| found == word), "{word}: {words:?}");
    }
    let feet = picture("days-feet", &[&DAY[..], &["--units", "imperial"]].concat());
    for word in ["depth, ft", "dive 2, 60 ft"] {
        assert!(feet.contains(word), "{word}");
    }
}

/// One element inside the other, each closed, every attribute quoted, every number one.
#[test]
fn the_picture_of_a_day_is_whole() {
    for args in [&DAY[..], &NO_GO] {
        let svg = picture("days-whole", args);
        assert!(
            svg.starts_with("<svg ") && svg.ends_with("</svg>\n"),
            "{svg:.80}"
        );
        assert!(svg.contains("xmlns=\"http://www.w3.org/2000/svg\""));
        assert!(!svg.contains("NaN") && !svg.contains("inf"));
        let mut open = Vec::new();
        for part in svg.split('<').skip(1) {
            let (tag, text) = part.split_once('>').unwrap();
            assert!(!text.contains('>'), "{text}");
            assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
            let name = tag.split([' ', '/']).find(|name| !name.is_empty()).unwrap();
            if tag.starts_with('/') {
                assert_eq!(open.pop(), Some(name), "{tag}");
            } else if !tag.ends_with('/') {
                open.push(name);
            }
        }
        assert!(open.is_empty(), "{open:?}");
    }
}

/// The words of both panels stand apart from each other and inside the picture.
#[test]
fn no_words_in_the_picture_of_a_day_stand_on_others() {
    for (name, args) in [("days-words", &DAY[..]), ("days-words-no-go", &NO_GO)] {
        let svg = picture(name, args);
        let head = svg.split('>').next().unwrap();
        let (width, height) = (number(head, "width"), number(head, "height"));
        let boxes = boxes(&svg);
        for (index, (word, [left, top, right, bottom])) in boxes.iter().enumerate() {
            assert!(*left >= 0.0 && *top >= 0.0, "{word} leaves");
            assert!(*right <= width && *bottom <= height, "{word} leaves");
            for (other, [l, t, r, b]) in &boxes[..index] {
                let apart = right <= l || r <= left || bottom <= t || b <= top;
                assert!(apart, "{word} stands on {other}");
            }
        }
        assert!(boxes.len() > 20, "{boxes:?}");
    }
}

/// What draws a picture says the same as what does not.
#[test]
fn a_picture_beside_a_day_changes_nothing_of_it() {
    let folder = Folder::new("cli-days-beside");
    let path = folder.path().join("day.svg");
    let drawn = text(&DAY, &["--picture", path.to_str().unwrap()]);
    assert_eq!(drawn, text(&DAY, &[]));
    assert!(path.exists() && !folder.path().join("day.svg.part").exists());
}
