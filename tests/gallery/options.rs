//! Command lines that cannot be used: options of the day, what does not fit together, files that are
//! not there. What the command line itself cannot make out is told by clap, and not here.

use crate::broken::compare;
use crate::folder::Folder;
use crate::program::{SLATE, STEPS, run};

const LINES: &[(&str, &[&str])] = &[
    (
        "fill-without-a-unit",
        &["brief", "ferry-steps.toml", "--fill", "Runa=190"],
    ),
    (
        "fill-of-nobody",
        &["brief", "ferry-steps.toml", "--fill", "Luna=190 bar"],
    ),
    (
        "fill-of-whom",
        &["brief", "ferry-steps.toml", "--fill", "190 bar"],
    ),
    (
        "fill-twice",
        &[
            "brief",
            "ferry-steps.toml",
            "--fill",
            "Runa=190 bar",
            "--fill",
            "Runa=200 bar",
        ],
    ),
    (
        "depth-without-a-unit",
        &["brief", "ferry-steps.toml", "--depth", "18"],
    ),
    (
        "depth-in-minutes",
        &["brief", "ferry-steps.toml", "--depth", "18 min"],
    ),
    (
        "time-in-metres",
        &["whatif", "ferry-steps.toml", "--bottom-time", "20 m"],
    ),
    (
        "splash-with-a-point",
        &["brief", "ferry-steps.toml", "--splash", "9.30"],
    ),
    (
        "flight-at-an-hour-alone",
        &["brief", "ferry-steps.toml", "--fly-at", "18"],
    ),
    (
        "cabin-without-a-unit",
        &["brief", "ferry-steps.toml", "--cabin-altitude", "8000"],
    ),
    (
        "arrived-without-a-unit",
        &["brief", "ferry-steps.toml", "--arrived", "90"],
    ),
    (
        "home-without-arrived",
        &["brief", "ferry-steps.toml", "--home-altitude", "20 m"],
    ),
    ("no-such-file", &["brief", "nowhere.toml"]),
    ("a-folder", &["brief", "."]),
    (
        "stop-where-none-is",
        &["explain", "ferry-steps.toml", "--stop", "7m"],
    ),
    (
        "gas-of-nobody",
        &["explain", "ferry-steps.toml", "--gas", "Luna"],
    ),
    (
        "interval-of-a-first-dive",
        &["explain", "ferry-steps.toml", "--interval"],
    ),
    ("from-below-to", &["limits", "--from", "50m", "--to", "10m"]),
    ("too-many-depths", &["limits", "--step", "0.3m"]),
    ("water-of-no-kind", &["limits", "--water", "mud"]),
    (
        "blend-of-too-much",
        &[
            "mix",
            "EAN32",
            "--blend",
            "200 bar",
            "--from",
            "220 bar air",
        ],
    ),
    ("best-for-nobody", &["mix", "--best-for", "80m"]),
    (
        "overlapping-days",
        &["day", "ferry-steps.toml", "ferry-steps.toml"],
    ),
    (
        "intervals-too-few",
        &[
            "day",
            "ferry-steps.toml",
            "ferry-steps.toml",
            "ferry-steps.toml",
            "--interval",
            "60 min",
        ],
    ),
    (
        "plan-and-slate-swapped",
        &["debrief", "slate.toml", "ferry-steps.toml"],
    ),
    (
        "record-twice",
        &["debrief", "ferry-steps.toml", "slate.toml", "slate.toml"],
    ),
    (
        "slate-with-a-name",
        &["debrief", "ferry-steps.toml", "Runa=slate.toml"],
    ),
    (
        "next-without-an-interval",
        &[
            "debrief",
            "ferry-steps.toml",
            "slate.toml",
            "--write-next",
            "next.toml",
        ],
    ),
    (
        "next-without-a-record",
        &[
            "debrief",
            "ferry-steps.toml",
            "slate.toml",
            "--write-next",
            "next.toml",
            "--interval",
            "2 h",
        ],
    ),
    (
        "next-with-somebody-who-dived",
        &[
            "debrief",
            "ferry-steps.toml",
            "slate.toml",
            "--write-next",
            "next.toml",
            "--interval",
            "2 h",
            "--absent",
            "Runa",
        ],
    ),
    (
        "next-of-no-ending",
        &[
            "debrief",
            "ferry-steps.toml",
            "slate.toml",
            "--write-next",
            "next.txt",
            "--interval",
            "2 h",
            "--absent",
            "Oskar",
        ],
    ),
    (
        "picture-of-no-kind",
        &["brief", "ferry-steps.toml", "--picture", "wall.png"],
    ),
    (
        "picture-nowhere",
        &["brief", "ferry-steps.toml", "--picture", "no/such/wall.svg"],
    ),
    (
        "record-of-no-kind",
        &["brief", "ferry-steps.toml", "--record", "slate.txt"],
    ),
    (
        "record-that-is-there",
        &["brief", "ferry-steps.toml", "--record", "slate.toml"],
    ),
];

#[test]
fn every_command_line_that_cannot_be_used_is_told_in_the_words_of_its_golden() {
    let folder = Folder::new("gallery-of-options");
    folder.write("ferry-steps.toml", STEPS);
    folder.write("slate.toml", SLATE);
    let told = LINES
        .iter()
        .map(|(name, words)| (*name, run(folder.path(), words)));
    compare("options", told.collect());
    let entries = std::fs::read_dir(folder.path()).unwrap();
    assert_eq!(entries.count(), 2, "something was written");
}
