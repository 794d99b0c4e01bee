//! What a go says, and what a guest must not take for leave.

use std::fs;

use crate::document::Level;
use crate::plans::{GOOD_FILES, one_level, pair};
use crate::read::flowing;
use crate::run::{json, json_briefing, screen, text};

#[test]
fn what_the_figures_assume_stands_under_the_verdict() {
    let assumes = |plan: &str| {
        let (_, text) = screen(plan, &[]);
        let start = text.find("  Assumes ").unwrap();
        let end = start + text[start..].find("\n\n").unwrap();
        let lines = text[start..end].lines().count();
        assert!(lines <= 3, "{text}");
        flowing(&text[start..end])
    };
    let sea = assumes(&one_level("18 m", "20 min"));
    assert_eq!(
        sea,
        "Assumes the first dive of the day, sea water at sea level, gradient factors 40/85, trouble \
         breathed 1.5 times as hard, turn at half."
    );
    let lake = one_level("18 m", "20 min")
        + "[site]\nwater = \"fresh\"\naltitude = \"1640 m\"\n[reserve]\nstress = 2\nturn = \"third\"\n";
    let lake = assumes(&lake);
    for words in [
        "fresh water at 1640 m",
        "the divers adapted to it",
        "2 times",
        "turn at a third",
    ] {
        assert!(lake.contains(words), "{words}: {lake}");
    }
}

#[test]
fn no_line_of_a_go_sounds_like_leave() {
    for name in [
        "kittiwake-wall",
        "skua-stack",
        "sand-garden",
        "orla-finch",
        "hollin-tarn",
    ] {
        let path = format!("{}/plans/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let plan = fs::read_to_string(path).unwrap();
        let text = flowing(&screen(&plan, &[]).1);
        assert!(text.starts_with("GO "), "{name}: {text}");
        for leave in [
            "minutes more",
            "would still be",
            "stays a no-stop",
            "holds for an hour",
            "still a go",
            "gas for",
            "up to 1",
        ] {
            assert!(!text.contains(leave), "{name} says {leave}: {text}");
        }
    }
}

#[test]
fn the_last_line_of_a_long_briefing_is_its_verdict() {
    for plan in [one_level("18 m", "20 min"), one_level("30 m", "40 min")] {
        let (_, text) = screen(&plan, &[]);
        let first = text.lines().next().unwrap();
        assert!(first.contains("GO  "), "{text}");
        assert_eq!(text.lines().last(), Some(first));
    }
}

/// The figure in "No bottom time beyond 41 minutes".
fn longest(text: &str) -> u32 {
    let rest = text.split("No bottom time beyond ").nth(1).unwrap();
    rest.split(' ').next().unwrap().parse().unwrap()
}

#[test]
fn the_longest_bottom_time_is_a_go_and_a_minute_more_is_none() {
    let stages = pair(
        "[profile]\ndepth = \"32 m\"\nbottom_time = \"38 min\"\n\
         [gas]\nbottom = \"EAN32\"\ndecompression = [\"EAN50\"]",
        "15 L/min",
        "24 L",
        "stage = [{ gas = \"EAN50\", size = \"3 L\", fill = \"175 bar\" }]",
    );
    let oxygen = pair(
        "[profile]\ndepth = \"30 m\"\nbottom_time = \"40 min\"\nstaged = true\n\
         [gas]\nbottom = \"EAN36\"",
        "10 L/min",
        "50 L",
        "",
    );
    let no_stop = pair(
        "[profile]\ndepth = \"24 m\"\nbottom_time = \"20 min\"\nstaged = true",
        "15 L/min",
        "24 L",
        "",
    );
    let gas = pair(
        "[profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"",
        "18 L/min",
        "10 L",
        "",
    );
    for (plan, why) in [
        (
            &stages,
            "a minute more is a no-go (stage short, Ann and Bo)",
        ),
        (&oxygen, "a minute more is a no-go (oxygen dose over)"),
        (&no_stop, "there the no-stop limit ends it"),
        (&gas, "there the gas of Ann and Bo ends it"),
    ] {
        let text = flowing(&screen(plan, &[]).1);
        assert!(text.contains(why), "{why}: {text}");
        let minutes = longest(&text);
        assert_eq!(json("brief", plan, &[])["longest_go_min"], minutes);
        let at = |minutes: u32| json("brief", plan, &["--bottom-time", &format!("{minutes} min")]);
        assert_eq!(at(minutes)["verdict"], "go", "{why}");
        let beyond = at(minutes + 1);
        assert!(
            beyond["verdict"] == "no-go" || beyond["staged"] == true,
            "{why}: {}",
            minutes + 1
        );
    }
    // A short stage cylinder is in the table of late minutes too.
    let late = &json("brief", &stages, &[])["late"]["divers"][0];
    let from = late["stage_short_from_min"].as_u64().unwrap();
    assert_eq!(
        u64::from(longest(&flowing(&screen(&stages, &[]).1))),
        38 + from - 1
    );
    assert!(screen(&stages, &[]).1.contains("stage"), "{late}");
}

/// Story: a diver with much gas was told 59 minutes beside a no-stop limit of 24, since the
/// other's gas ends the dive before it.
#[test]
fn no_diver_is_told_a_longer_time_than_the_team() {
    let plan = "[profile]\ndepth = \"24 m\"\nbottom_time = \"15 min\"\n\
                [[diver]]\nname = \"Ines\"\nsac = \"18 L/min\"\n\
                cylinder = { size = \"10 L\", fill = \"200 bar\" }\n\
                [[diver]]\nname = \"Tom\"\nsac = \"12 L/min\"\n\
                cylinder = { size = \"24 L\", fill = \"230 bar\" }\n";
    let document = json("brief", plan, &[]);
    let gas = |index: usize| document["divers"][index]["gas_limit_min"].as_u64().unwrap();
    let team = document["longest_go_min"].as_u64().unwrap();
    assert!(gas(0) == team && gas(1) > 24, "{document}");
    let (_, text) = screen(plan, &[]);
    for name in ["  Ines   ", "  Tom    "] {
        let mut rows = text.lines().filter(|line| line.starts_with(name));
        let row = rows.next().unwrap();
        assert!(row.ends_with(&format!(" {team} min")), "{row}: {text}");
    }
}

#[test]
fn the_text_has_every_finding_of_the_json_in_its_own_words() {
    let mut found = 0;
    for (name, plan, _) in GOOD_FILES {
        let text = text(plan, &[]);
        let (head, _) = text.split_once("\n\n").unwrap();
        let words = flowing(head);
        let document = json_briefing(plan, &[]);
        found += document.findings.len();
        for finding in &document.findings {
            let level = match finding.level {
                Level::NoGo => "no-go",
                Level::Caution => "caution",
                Level::Note => "note",
            };
            let sentence = format!("{level} {}", finding.message);
            assert!(
                words.contains(&sentence),
                "{name}: `{sentence}` is not in\n{words}"
            );
        }
    }
    assert!(found >= 10, "only {found} findings");
}
