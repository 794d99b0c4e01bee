//! Letters that move a terminal, turn the text around them, hide, or break a picture: wherever they
//! come in, none of them comes out.

use std::fs;

use crate::folder::Folder;
use crate::program::{Ended, SLATE, STEPS, TABLE, UDDF, edited, hangbar, run};

/// What a terminal acts on, what turns a text, what nobody sees, and what is no character.
const HARMFUL: &[char] = &[
    '\u{1}',
    '\u{7}',
    '\u{8}',
    '\t',
    '\u{b}',
    '\r',
    '\u{1b}',
    '\u{7f}',
    '\u{85}',
    '\u{9b}',
    '\u{9d}',
    '\u{61c}',
    '\u{200b}',
    '\u{200e}',
    '\u{200f}',
    '\u{2028}',
    '\u{2029}',
    '\u{202a}',
    '\u{202b}',
    '\u{202c}',
    '\u{202d}',
    '\u{202e}',
    '\u{2066}',
    '\u{2067}',
    '\u{2068}',
    '\u{2069}',
    '\u{feff}',
    '\u{fffe}',
    '\u{ffff}',
    '\u{e0041}',
    '\u{10ffff}',
];

/// Whether a text has any of it, line ends apart.
fn harmful(text: &str) -> Option<char> {
    text.chars().find(|c| HARMFUL.contains(c))
}

/// What a command prints is harmless, and it ends as it should.
fn harmless(what: &str, ended: &Ended) {
    for text in [&ended.stdout, &ended.stderr] {
        assert_eq!(harmful(text), None, "{what}: {ended:?}");
    }
    assert!((0..=2).contains(&ended.status), "{what}: {ended:?}");
}

/// A few of them at a time: what is quoted is cut, and a run takes its time.
fn few() -> impl Iterator<Item = String> {
    HARMFUL.chunks(8).map(|some| some.iter().collect())
}

/// A word around them, as the command line takes it.
fn word(some: &str) -> String {
    format!("a{some}[2Jb")
}

#[test]
fn none_on_the_command_line_comes_out() {
    let folder = Folder::new("gallery-letters-options");
    folder.write("steps.toml", STEPS);
    folder.write("slate.toml", SLATE);
    folder.write("table.csv", TABLE);
    for some in few() {
        let word = word(&some);
        let filled = format!("{word}=190 bar");
        let named = format!("{word}=table.csv");
        let svg = format!("no/{word}.svg");
        for words in [
            &["brief", word.as_str()][..],
            &["check", &word],
            &["day", "steps.toml", &word],
            &["trace", &word],
            &["debrief", "steps.toml", &word],
            &["debrief", "steps.toml", &named],
            &["debrief", "steps.toml", "table.csv", "--absent", &word],
            &["explain", "steps.toml", "--gas", &word],
            &["explain", "steps.toml", "--stop", &word],
            &["limits", "--gas", &word],
            &["limits", "--water", &word],
            &["limits", "--factors", &word],
            &["mix", &word],
            &["mix", "air", "--plan", &word],
            &["mix", "EAN32", "--blend", &word],
            &["mix", "EAN32", "--blend", "200 bar", "--top", &word],
            &["brief", "steps.toml", "--fill", &filled],
            &["brief", "steps.toml", "--fill", &word],
            &["brief", "steps.toml", "--depth", &word],
            &["brief", "steps.toml", "--bottom-time", &word],
            &["brief", "steps.toml", "--splash", &word],
            &["brief", "steps.toml", "--fly-at", &word],
            &["brief", "steps.toml", "--units", &word],
            &["brief", "steps.toml", "--format", &word],
            &["brief", "steps.toml", "--picture", &word],
            &["brief", "steps.toml", "--picture", &svg],
            &["brief", "steps.toml", "--record", &word],
            &["brief", "steps.toml", &word],
            &["sheet", &word],
            &["sheet", "steps.toml", "-o", &word],
            &["sheet", "steps.toml", "--fly-at", &word],
            &["whatif", "steps.toml", "--late", &word],
            &["whatif", "steps.toml", "--harder", &word],
            &["trace", "steps.toml", "--step", &word],
            &["trace", "steps.toml", "--compartment", &word],
            &["day", "steps.toml", "--home-by", &word],
            &["day", "steps.toml", "--interval", &word],
            &[&word],
        ] {
            let what = format!("{words:?}");
            let ended = run(folder.path(), words);
            harmless(&what, &ended);
            assert_eq!(ended.status, 2, "{what}: {ended:?}");
            let json = run(folder.path(), &[words, &["--format", "json"]].concat());
            harmless(&what, &json);
        }
    }
}

#[test]
fn none_in_the_name_of_a_file_comes_out() {
    let folder = Folder::new("gallery-letters-files");
    for some in few() {
        let word = word(&some);
        let name = format!("{word}.toml");
        let broken = format!("broken {name}");
        let inside = format!("{word}/inside.toml");
        folder.write(&name, STEPS);
        folder.write(&broken, "[profile]\ndepth = \"24\"\n");
        folder.write(&inside, STEPS);
        let slate = format!("slate {word}");
        let table = format!("table {word}");
        folder.write(&slate, SLATE);
        folder.write(&table, &edited(TABLE, "Runa", "Nobody"));
        for words in [
            &["brief", name.as_str()][..],
            &["brief", &broken],
            &["brief", &word],
            &["check", &name],
            &["check", &broken],
            &["check", &word],
            &["day", &name],
            &["day", &name, &broken],
            &["day", &name, &name],
            &["debrief", &name, &slate],
            &["debrief", &name, &table],
        ] {
            let what = format!("{words:?}");
            harmless(&what, &run(folder.path(), words));
            let json = [words, &["--format", "json"]].concat();
            harmless(&what, &run(folder.path(), &json));
        }
    }
    for format in ["text", "json"] {
        let ended = run(folder.path(), &["check", ".", "--format", format]);
        harmless("a folder of them", &ended);
        // Those of this test: a plan, one in a folder and a broken one for each.
        let rows = ended.stdout.lines().count();
        assert_eq!(rows, 3 * few().count(), "{ended:?}");
    }
}

/// As the character stands in the file, and as TOML writes it out.
fn spelled(c: char) -> [String; 2] {
    [c.to_string(), format!("\\U{:08x}", c as u32)]
}

#[test]
fn none_in_a_plan_comes_out() {
    let folder = Folder::new("gallery-letters-plans");
    let imperilled = |text: &str, is_refused: bool| {
        folder.write("plan.toml", text);
        for command in ["brief", "check"] {
            let ended = run(folder.path(), &[command, "plan.toml", "--format", "json"]);
            harmless(text, &ended);
            assert!(ended.status == 2 || !is_refused, "{command} took {text:?}");
        }
    };
    for c in HARMFUL {
        for [old, new] in [
            ["title = \"Ferry Steps\"", "title = \"Ferry Steps%\""],
            ["title = \"Ferry Steps\"", "title = \"Ferry% Steps\""],
            ["name = \"Oskar\"", "name = \"Os%kar\""],
            ["buddy = \"Oskar\"", "buddy = \"Os%kar\""],
            ["bottom = \"EAN32\"", "bottom = \"EA%N32\""],
            ["depth = \"24 m\"", "depth = \"24 m%m\""],
            ["depth = \"24 m\"", "depth = \"24% m%\""],
            ["water = \"sea\"", "water = \"se%a\""],
            ["splash = \"09:30\"", "splash = \"09:%30\""],
            ["water = \"sea\"", "\"wa%ter\" = \"sea\""],
            ["[reserve]", "[\"res%erve\"]"],
            [
                "[gas]",
                "[surface]\nemergency = \"Lapwing% on 77\"\n\n[gas]",
            ],
            [
                "[gas]",
                "[[before]]\ndepth = \"9 m\"\nbottom_time = \"9 min\"\nsurface_interval = \"2 h\"\n\
                 divers = [\"Os%kar\"]\n\n[gas]",
            ],
        ] {
            for spelled in spelled(*c) {
                // A blank of any kind is nothing before and behind a text.
                let text = edited(STEPS, old, &new.replace('%', &spelled));
                imperilled(&text, !c.is_whitespace());
            }
        }
        // In a comment it does no harm unless its line is shown.
        let shown = format!("depth = \"24\" # how deep{c}[2J");
        imperilled(&edited(STEPS, "depth = \"24 m\"", &shown), true);
    }
}

#[test]
fn none_in_a_record_comes_out() {
    let folder = Folder::new("gallery-letters-records");
    folder.write("steps.toml", STEPS);
    let imperilled = |file: &str, text: &str, is_refused: bool| {
        folder.write(file, text);
        let ended = run(
            folder.path(),
            &["debrief", "steps.toml", file, "--format", "json"],
        );
        harmless(text, &ended);
        assert!(ended.status == 2 || !is_refused, "{text:?}: {ended:?}");
    };
    for c in HARMFUL {
        let with =
            |text: &str, old: &str, new: &str| edited(text, old, &new.replace('%', &c.to_string()));
        for [old, new] in [
            ["time (s)", "ti%me (s)"],
            ["depth (m)", "depth (f%t)"],
            ["160,24.0", "160,2%4.0"],
            ["160,24.0", "1%60,24.0"],
            ["Runa", "Ru%na"],
        ] {
            imperilled("table.csv", &with(TABLE, old, new), true);
        }
        for [old, new] in [
            ["name = \"Runa\"", "name = \"Ru%na\""],
            ["\"24.2 m\"", "\"24.2 %m\""],
            ["\"09:34\"", "\"09:%34\""],
            ["time_in", "\"time%_in\""],
        ] {
            // A blank of any kind may stand before a unit.
            let is_refused = !c.is_whitespace() || !new.contains(" %m");
            for spelled in spelled(*c) {
                let text = edited(SLATE, old, &new.replace('%', &spelled));
                imperilled("slate.toml", &text, is_refused);
            }
        }
        for [old, new] in [
            ["Runa", "Ru%na"],
            ["\"3.2.3\"", "\"3%.2.3\""],
            [
                "<depth>24.0</depth><divetime>160",
                "<depth>2%4.0</depth><divetime>160",
            ],
            ["<switchmix ref=\"mix-1\"/>", "<switchmix ref=\"mix%-1\"/>"],
            ["2026-08-14T", "2026-08%-14T"],
        ] {
            let text = with(UDDF, old, new);
            let by_number = edited(UDDF, old, &new.replace('%', &format!("&#{};", *c as u32)));
            for text in [text, by_number] {
                folder.write("logger.uddf", &text);
                let json = ["debrief", "steps.toml", "logger.uddf", "--format", "json"];
                harmless(&text, &run(folder.path(), &json));
            }
        }
    }
}

/// Whether a text is well-formed XML without anything in it that XML does not know.
fn is_well_formed(svg: &str) -> bool {
    let may_stand = |c: char| matches!(c, '\t' | '\n' | '\r' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..);
    let mut reader = quick_xml::Reader::from_str(svg);
    let config = reader.config_mut();
    config.check_end_names = true;
    loop {
        match reader.read_event() {
            Ok(quick_xml::events::Event::Eof) => break,
            Ok(_) => {}
            Err(_) => return false,
        }
    }
    svg.chars().all(may_stand)
}

#[test]
fn what_xml_and_json_have_a_meaning_for_is_written_out_in_pictures_and_documents() {
    let folder = Folder::new("gallery-letters-pictures");
    // Nothing in these is harmful: they are names.
    for name in [
        "A&B",
        "<b>Ida</b>",
        "]]>",
        "\\\"Ida\\\"",
        "Ida's",
        "--><!--",
        "&#27;[2J",
        "&amp;",
        "%s{}$(id)",
        "海斗",
        "محمد",
    ] {
        let text = edited(STEPS, "name = \"Oskar\"", &format!("name = \"{name}\""));
        let text = edited(&text, "buddy = \"Oskar\"", &format!("buddy = \"{name}\""));
        let text = edited(
            &text,
            "title = \"Ferry Steps\"",
            &format!("title = \"{name}\""),
        );
        folder.write("plan.toml", &text);
        for words in [
            &["brief", "plan.toml"][..],
            &["trace", "plan.toml"],
            &["trace", "plan.toml", "--compartment", "1,4"],
            &["day", "plan.toml"],
        ] {
            let picture = ["--picture", "picture.svg"];
            let ended = run(folder.path(), &[words, &picture].concat());
            assert!(ended.status <= 1, "{name}: {ended:?}");
            harmless(name, &ended);
            let svg = fs::read_to_string(folder.path().join("picture.svg")).unwrap();
            assert!(is_well_formed(&svg), "{words:?}: {name}");
            assert_eq!(harmful(&svg), None);
            let plain: String = name.replace("\\\"", "\"");
            let words = [words, &["--format", "json"]].concat();
            let json = run(folder.path(), &words);
            let document: serde_json::Value = serde_json::from_str(&json.stdout).unwrap();
            assert!(holds(&document, &plain), "{name}: {words:?}");
        }
    }
}

/// Whether a text of a document is, or has in it, the one wanted.
fn holds(document: &serde_json::Value, wanted: &str) -> bool {
    match document {
        serde_json::Value::String(text) => text.contains(wanted),
        serde_json::Value::Array(items) => items.iter().any(|item| holds(item, wanted)),
        serde_json::Value::Object(fields) => fields.values().any(|field| holds(field, wanted)),
        _ => false,
    }
}

#[test]
fn a_picture_that_is_broken_would_be_noticed() {
    assert!(is_well_formed("<svg><text>a &amp; b</text></svg>"));
    for broken in [
        "<svg><text>a</svg>",
        "<svg><text>a\u{1b}</text></svg>",
        "<svg><text>a\u{ffff}</text></svg>",
    ] {
        assert!(!is_well_formed(broken), "{broken:?}");
    }
}

/// Standard input has no name that could do harm, and what is in it is held to the same.
#[test]
fn none_from_standard_input_comes_out() {
    use std::io::Write;
    use std::process::Stdio;

    let folder = Folder::new("gallery-letters-input");
    for c in HARMFUL {
        let mut child = hangbar(folder.path())
            .args(["brief", "-"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let text = format!("{STEPS}tit{c}le = 1\n");
        child
            .stdin
            .take()
            .unwrap()
            .write_all(text.as_bytes())
            .unwrap();
        let ended = Ended::of(child.wait_with_output().unwrap());
        harmless("standard input", &ended);
        assert_eq!(ended.status, 2);
    }
}
