//! What each picture holds.

use crate::svg::{picture, words};

/// What a picture must hold. Stop times and pressures in the words are those of the briefing's
/// golden: regression values here, worked out elsewhere.
pub(crate) struct Picture {
    pub(crate) what: &'static str,
    pub(crate) arguments: &'static [&'static str],
    /// Texts that must be there: title, axes, key, labels.
    words: &'static [&'static str],
    /// Circles, marks and their key together.
    circles: usize,
    /// Filled triangles.
    triangles: usize,
}

pub(crate) const PICTURES: &[Picture] = &[
    Picture {
        what: "a staged profile in metres",
        arguments: &["trace", "plans/anvil.toml"],
        words: &[
            "The Anvil, staged on air: depth over run time",
            "run time, minutes",
            "depth, m",
            "depth",
            "ceiling: no shallower than this",
            "end of a stop or a gas switch",
            "12 m, 2 min",
            "9 m, 2 min",
            "6 m, 13 min",
        ],
        circles: 3 + 1,
        triangles: 0,
    },
    Picture {
        what: "a no-stop profile in feet",
        arguments: &["trace", "plans/orla-finch.toml"],
        words: &["depth, ft", "15 ft, 3 min", "run time, minutes"],
        circles: 1 + 1,
        triangles: 0,
    },
    Picture {
        what: "a profile with a gas switch",
        arguments: &["trace", "plans/long-ledge.toml"],
        words: &["EAN50, 21 m, 1 min"],
        circles: 4 + 1,
        triangles: 0,
    },
    Picture {
        what: "one compartment's path",
        arguments: &[
            "trace",
            "plans/anvil.toml",
            "--compartment",
            "5",
            "--against",
            "ambient",
        ],
        words: &[
            "The Anvil, staged on air: compartment 5",
            "ambient pressure, bar",
            "inert gas, bar",
            "the compartment, through the dive",
            "M-value: tolerated by the model",
            "high factor, 85 %",
            "low factor, 40 %",
            "ambient pressure itself",
            "start",
            "surfacing",
        ],
        circles: 2 + 1,
        triangles: 0,
    },
    Picture {
        what: "limits against depth in metres",
        arguments: &["limits", "--gas", "air,EAN32", "--factors", "40/85,30/70"],
        words: &[
            "No-stop limit against depth",
            "depth, m",
            "no-stop limit, minutes",
            "air 40/85",
            "air 30/70",
            "EAN32 40/85",
            "EAN32 30/70",
            "U.S. Navy, air",
        ],
        circles: 0,
        triangles: 0,
    },
    Picture {
        what: "limits against depth in feet",
        arguments: &["limits", "--units", "imperial"],
        words: &["depth, ft", "air 40/85", "130"],
        circles: 0,
        triangles: 0,
    },
    Picture {
        what: "limits of eight columns",
        arguments: &[
            "limits",
            "--gas",
            "air,EAN28,EAN32,EAN36",
            "--factors",
            "40/85,30/70",
        ],
        words: &["EAN36 30/70", "U.S. Navy, air"],
        // Two columns more than there are lines have marks too.
        circles: 10 + 2,
        triangles: 0,
    },
    Picture {
        what: "one compartment over time",
        arguments: &[
            "trace",
            "plans/lesson-1-one-depth.toml",
            "--compartment",
            "1",
        ],
        words: &[
            "Lesson 1: one depth, and time: compartment 1 over time",
            "run time, minutes",
            "inert gas, bar",
            "compartment 1",
            "inspired inert gas",
            "M-value at the surface",
            "high factor, 85 %",
            "1",
            "inspired",
            "M-value",
            "85 %",
        ],
        circles: 0,
        triangles: 0,
    },
    Picture {
        what: "three compartments over time, in a staged dive in feet",
        arguments: &[
            "trace",
            "plans/orla-finch-stern.toml",
            "--compartment",
            "1,4,16",
        ],
        words: &[
            "1: 5 min",
            "4: 18.5 min",
            "16: 635 min",
            "16: M at the surface",
            "inspired inert gas",
            "M of 1",
            "M of 4",
            "M of 16",
        ],
        circles: 0,
        triangles: 0,
    },
    Picture {
        what: "six compartments, two inert gases and a gas switch",
        arguments: &[
            "trace",
            "tests/data/trimix.toml",
            "--compartment",
            "1,3,5,8,12,16",
        ],
        words: &[
            "A title that is longer than the picture's…: compartments over time",
            "1: 5 min",
            "16: 635 min",
            "12",
        ],
        circles: 0,
        triangles: 0,
    },
    Picture {
        what: "one compartment of two inert gases over time",
        arguments: &["trace", "tests/data/trimix.toml", "--compartment", "5"],
        words: &["M-value", "inspired"],
        circles: 0,
        triangles: 0,
    },
    Picture {
        what: "the path of two inert gases",
        arguments: &[
            "trace",
            "tests/data/trimix.toml",
            "--compartment",
            "1",
            "--against",
            "ambient",
        ],
        words: &["start", "surfacing"],
        circles: 2 + 1,
        triangles: 0,
    },
    Picture {
        what: "four cylinders over run time, one with a gauge in psi",
        arguments: &["brief", "plans/skua-stack.toml"],
        words: &[
            "Skua Stack, the mixed four: cylinders over time",
            "run time, minutes",
            "cylinder gauge, bar",
            "Tove: turn 135, minimum 50 bar",
            "Hanne: turn 135, minimum 55 bar",
            "Ruan: turn 1950, minimum 950 psi",
            "Tove 50 bar",
            "Ruan 950 psi",
            "turn due",
            "leave the bottom",
        ],
        // The second diver's mark.
        circles: 1 + 1,
        // The turns of Tove and Hanne are not due before the bottom is left.
        triangles: 2 + 1,
    },
    Picture {
        what: "six cylinders",
        arguments: &["brief", "tests/data/six-divers.toml"],
        words: &[
            "Tove 50 bar",
            "Hanne 65 bar",
            "Ruan 1050 psi",
            "Idris 65 bar",
            "Jory 70 bar",
            "Pella 900 psi",
        ],
        circles: 1 + 1,
        triangles: 3 + 1,
    },
    Picture {
        what: "two cylinders with the same minimum",
        arguments: &["brief", "plans/lesson-3-left-late.toml"],
        words: &["Jory 80 bar", "Pella 80 bar"],
        circles: 1 + 1,
        // A no-go has nothing to turn at.
        triangles: 0,
    },
    Picture {
        what: "two cylinders in psi, one of them empty before the surface",
        arguments: &["brief", "plans/orla-finch-stern.toml"],
        words: &["cylinder gauge, psi", "Ruan 3150 psi", "Pella 2850 psi"],
        circles: 1 + 1,
        triangles: 0,
    },
];

#[test]
fn the_pictures_hold_their_titles_axes_curves_and_marks() {
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("picture-{index}"), expected.arguments);
        let words = words(&svg);
        for word in expected.words {
            assert!(
                words.iter().any(|found| found == word),
                "{}: {word} in {words:?}",
                expected.what
            );
        }
        assert_eq!(
            svg.matches("<circle").count(),
            expected.circles,
            "{}",
            expected.what
        );
        assert_eq!(
            svg.matches("<polygon").count(),
            expected.triangles,
            "{}",
            expected.what
        );
        assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"));
        assert!(
            !svg.contains("NaN") && !svg.contains("inf"),
            "{}",
            expected.what
        );
    }
}
