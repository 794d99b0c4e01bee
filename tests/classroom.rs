//! No-stop limits side by side, the tissues through a dive, and the pictures.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::PathBuf;

use approx::assert_abs_diff_eq;
use assert_cmd::Command;
use hangbar::dive::fly;
use hangbar::dive::no_stop_limit;
use hangbar::dive::{FactorInForce, trace};
use hangbar::dive::{LimitCell, LimitColumn, limit_table};
use hangbar::plan::{DiveRules, Level};
use hangbar::plan_file::read;
use hangbar::quantity::{Depth, Pressure, Time};
use hangbar::tissue::{GradientFactors, Tissues};
use predicates::prelude::*;
use predicates::str::contains;
use serde_json::Value;

fn hangbar(arguments: &[&str]) -> assert_cmd::assert::Assert {
    Command::cargo_bin("hangbar")
        .unwrap()
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(arguments)
        .assert()
}

fn stdout(arguments: &[&str]) -> String {
    String::from_utf8(hangbar(arguments).get_output().stdout.clone()).unwrap()
}

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&stdout(arguments)).unwrap()
}

fn scratch(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("classroom");
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join(name);
    let _ = fs::remove_file(&path);
    path
}

#[test]
fn the_compartment_that_decides_surfaces_at_the_high_factor_and_no_other_above_it() {
    for gas in ["air", "EAN32", "18/45"] {
        let rules = DiveRules {
            bottom_gas: gas.parse().unwrap(),
            ..DiveRules::default()
        };
        let mut straight = rules.clone();
        straight.ascent.safety_stop = None;
        let column = LimitColumn {
            gas: rules.bottom_gas,
            factors: rules.factors,
        };
        let depths: Vec<Depth> = [15.0, 21.0, 30.0].map(Depth::from_m).to_vec();
        let oxygen = Pressure::from_bar(1.63);
        for row in limit_table(&rules, &[column], &depths, oxygen) {
            let LimitCell::Minutes { time, leading } = row.cells[0] else {
                panic!("{gas} at {:?}: {:?}", row.depth, row.cells[0]);
            };
            let clean = Tissues::clean(rules.environment.surface());
            // A hair inside, so that rounding does not make it a staged dive.
            let level = Level {
                depth: row.depth,
                time: time - Time::from_min(1e-7),
            };
            let dive = fly(&straight, &clean, &[level]).unwrap();
            assert_eq!(dive.surfacing.index, leading, "{gas} at {:?}", row.depth);
            assert_abs_diff_eq!(dive.surfacing.fraction, 0.85, epsilon = 1e-7);
        }
    }
}

#[test]
fn a_depth_beyond_the_oxygen_limit_gets_no_number() {
    // MOD of EAN36 at 1.4 bar in sea water of 1025 kg/m3: 28.608 m (arithmetic of the published
    // rule PO2/f, by the contract's water).
    let arguments = [
        "--gas", "EAN36", "--from", "28.6 m", "--to", "28.7 m", "--step", "0.5 m",
    ];
    let mut inside = vec!["limits", "--format", "json"];
    inside.extend(arguments);
    let rows = json(&inside)["limits"].as_array().unwrap().clone();
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0]["state"], "limit");
    let beyond = json(&[
        "limits", "--format", "json", "--gas", "EAN36", "--from", "28.7 m", "--to", "28.7 m",
    ]);
    assert_eq!(beyond["limits"][0]["state"], "over-oxygen-limit");
    assert!(beyond["limits"][0]["no_stop_limit_min"].is_null());
    let text = stdout(&["limits", "--gas", "EAN36", "--from", "30 m", "--to", "30 m"]);
    // (1.01325 + 30 · 0.10051816) · 0.36 = 1.4503…, shown up.
    assert!(text.contains("O2 1.46 bar"), "{text}");
    let raised = [
        "limits",
        "--gas",
        "EAN36",
        "--from",
        "30 m",
        "--to",
        "30 m",
        "--oxygen-limit",
        "1.6 bar",
    ];
    assert!(
        !stdout(&raised).contains("O2 1.46"),
        "a raised limit lets the number through"
    );
}

#[test]
fn the_table_is_the_briefing_s_limit_in_every_form() {
    let plan = "[profile]\ndepth = \"24 m\"\nbottom_time = \"10 min\"";
    let read = read(plan).unwrap();
    let clean = Tissues::clean(read.rules.environment.surface());
    let want = no_stop_limit(&read.rules, &clean, Depth::from_m(24.0))
        .unwrap()
        .as_min();
    let document = json(&[
        "limits", "--format", "json", "--from", "24 m", "--to", "24 m",
    ]);
    let got = document["limits"][0]["no_stop_limit_min"].as_f64().unwrap();
    assert_abs_diff_eq!(got, want, epsilon = 1e-12);
    let csv = stdout(&[
        "limits", "--format", "csv", "--from", "24 m", "--to", "24 m",
    ]);
    let row: Vec<&str> = csv.lines().nth(1).unwrap().split(',').collect();
    assert_eq!(row[..4], ["24", "air", "40", "85"]);
    assert_abs_diff_eq!(row[4].parse::<f64>().unwrap(), want, epsilon = 1e-12);
    let text = stdout(&["limits", "--from", "24 m", "--to", "24 m"]);
    let shown = format!("{} (", want.floor());
    let row = text
        .lines()
        .find(|line| line.trim_start().starts_with("24 m"));
    assert!(row.unwrap().contains(&shown), "{text}");
}

#[test]
fn the_usual_rows_are_those_of_the_units() {
    let depths = |arguments: &[&str]| -> Vec<f64> {
        let rows = json(arguments)["limits"].as_array().unwrap().clone();
        rows.iter()
            .map(|row| row["depth_m"].as_f64().unwrap())
            .collect()
    };
    let metric = depths(&["limits", "--format", "json"]);
    assert_eq!((metric.len(), metric[0], metric[15]), (16, 10.0, 40.0));
    let imperial = depths(&["limits", "--format", "json", "--units", "imperial"]);
    assert_eq!(imperial.len(), 11);
    assert_abs_diff_eq!(imperial[0], 30.0 * 0.3048, epsilon = 1e-9);
    assert_abs_diff_eq!(imperial[10], 130.0 * 0.3048, epsilon = 1e-9);
}

#[test]
fn the_site_of_the_limits_comes_from_the_plan_or_from_options() {
    let of = |arguments: &[&str]| {
        let mut all = vec![
            "limits", "--format", "json", "--from", "18 m", "--to", "18 m",
        ];
        all.extend(arguments);
        let document = json(&all);
        let limit = document["limits"][0]["no_stop_limit_min"].as_f64().unwrap();
        (limit, document["surface_bar"].as_f64().unwrap())
    };
    let plan = of(&["plans/hollin-tarn.toml"]);
    let options = of(&["--water", "fresh", "--altitude", "1640 m"]);
    assert_eq!(plan, options);
    // ISO 2533 at 1,640 m: 1.01325 · (1 − 0.0065·1640/288.15)^5.2558761
    assert_abs_diff_eq!(plan.1, 0.831_134, epsilon = 1e-6);
    let sea = of(&[]);
    assert!(
        plan.0 < sea.0,
        "the lake is tighter: {} and {}",
        plan.0,
        sea.0
    );
    let slow = of(&["--ascent-rate", "3 m/min"]);
    assert!(
        slow.0 > sea.0,
        "a slower way up gives off more: {} and {}",
        slow.0,
        sea.0
    );
}

#[test]
fn limits_that_make_no_sense_are_refused() {
    for (arguments, words) in [
        (&["--factors", "85/40"][..], "is over the high one"),
        (&["--factors", "40"], "the low and the high per cent"),
        (&["--gas", "EAN320"], "outside 5 % to 100 %"),
        (
            &["--from", "40 m", "--to", "10 m"],
            "--from is deeper than --to",
        ),
        (&["--step", "0 m"], "accepted: 0.3 m"),
        (
            &["--from", "1 m", "--to", "200 m", "--step", "0.5 m"],
            "more than 100 depths",
        ),
        (
            &["--oxygen-limit", "2 bar"],
            "accepted: 0.5 bar to 1.63 bar",
        ),
        (&["--altitude", "5000 m"], "option --altitude"),
        (&["--water", "seas"], "did you mean `sea`?"),
        (&["--ascent-rate", "9 m"], "unit of depth"),
        (
            &["--gas", "air,EAN28,EAN32", "--factors", "30/70,40/85,90/90"],
            "9 columns",
        ),
    ] {
        let mut all = vec!["limits"];
        all.extend(arguments);
        hangbar(&all).code(2).stdout("").stderr(contains(words));
    }
}

/// 30 m for 20 minutes on air, straight up, by two formulas and by Runge-Kutta (worked out for
/// this model's terms apart from this code, not published): half-time, nitrogen on arriving, on
/// leaving the bottom, on surfacing; nine digits printed.
const DERIVED: [(usize, f64, f64, f64); 4] = [
    (0, 1.006_120_369, 2.965_716_749, 2.553_102_58),
    (4, 0.801_180_483, 1.676_643_204, 1.697_019_324),
    (8, 0.763_514_414, 1.024_288_128, 1.043_449_597),
    (15, 0.753_100_209, 0.800_257_922, 0.804_402_327),
];
const NINE_DIGITS: f64 = 1e-9;

#[test]
fn a_trace_passes_through_the_derived_values() {
    let plan = scratch("derived.toml");
    fs::write(
        &plan,
        "[profile]\ndepth = \"30 m\"\nbottom_time = \"20 min\"\n[ascent]\nsafety_stop = false\n\
         [model]\ngradient_factors = [100, 100]\n",
    )
    .unwrap();
    let document = json(&["trace", plan.to_str().unwrap(), "--format", "json"]);
    let samples = document["samples"].as_array().unwrap();
    let at = |minute: f64, index: usize| {
        let sample = samples
            .iter()
            .find(|sample| (sample["run_time_min"].as_f64().unwrap() - minute).abs() < 1e-9);
        sample.unwrap()["compartments"][index]["inert_bar"]
            .as_f64()
            .unwrap()
    };
    for (index, arriving, leaving, surfacing) in DERIVED {
        assert_abs_diff_eq!(at(30.0 / 18.0, index), arriving, epsilon = NINE_DIGITS);
        assert_abs_diff_eq!(at(20.0, index), leaving, epsilon = NINE_DIGITS);
        assert_abs_diff_eq!(
            at(20.0 + 30.0 / 9.0, index),
            surfacing,
            epsilon = NINE_DIGITS
        );
    }
}

#[test]
fn a_trace_holds_every_step_and_every_segment_end() {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let level = Level {
        depth: Depth::from_m(36.0),
        time: Time::from_min(22.0),
    };
    let dive = fly(&rules, &clean, &[level]).unwrap();
    let samples = trace(&rules, &dive, &clean, Time::from_min(1.0)).unwrap();
    let has = |minute: f64| {
        samples
            .iter()
            .any(|sample| (sample.run_time.as_min() - minute).abs() < 1e-9)
    };
    let mut minute = 0.0;
    while minute <= dive.run_time().as_min() {
        assert!(has(minute), "minute {minute}");
        minute += 1.0;
    }
    assert!(
        dive.segments
            .iter()
            .all(|segment| has(segment.end.as_min()))
    );
    let increasing = samples
        .windows(2)
        .all(|pair| pair[0].run_time < pair[1].run_time);
    assert!(increasing);
    let last = samples.last().unwrap();
    for (row, loading) in last.compartments.iter().zip(dive.tissues.loadings()) {
        assert_abs_diff_eq!(row.inert_bar, loading.total_bar(), epsilon = 1e-12);
    }
    assert!(trace(&rules, &dive, &clean, Time::from_min(0.05)).is_err());
    assert!(trace(&rules, &dive, &clean, Time::from_min(f64::NAN)).is_err());
}

#[test]
fn a_ceiling_is_the_shallowest_depth_within_the_factor_in_force() {
    const HAIR_M: f64 = 1e-4;
    for (gas, low, high) in [
        ("air", 40.0, 85.0),
        ("air", 85.0, 85.0),
        ("21/35", 20.0, 80.0),
    ] {
        let rules = DiveRules {
            bottom_gas: gas.parse().unwrap(),
            factors: GradientFactors::from_pct(low, high).unwrap(),
            ..DiveRules::default()
        };
        let clean = Tissues::clean(rules.environment.surface());
        let level = Level {
            depth: Depth::from_m(42.0),
            time: Time::from_min(25.0),
        };
        let dive = fly(&rules, &clean, &[level]).unwrap();
        let factor = FactorInForce::of(&rules, &dive);
        let samples = trace(&rules, &dive, &clean, Time::from_min(2.0)).unwrap();
        let mut seen = 0;
        for sample in samples {
            for row in sample.compartments {
                if row.ceiling.as_m() <= HAIR_M {
                    continue;
                }
                // The limit at the ceiling from the M-value line through this sample's figures:
                // M(P) − P grows by (M − P)' per bar, the same for all depths.
                let spread = |depth: f64| {
                    let here = row.m_value_bar - sample.ambient.as_bar();
                    let there = rules.environment.ambient(Depth::from_m(depth)).as_bar();
                    let slope = slope_of(&row, &sample, &rules);
                    (there, here + slope * (there - sample.ambient.as_bar()))
                };
                let limit = |depth: f64| {
                    let (ambient, spread) = spread(depth);
                    ambient + factor.at(Depth::from_m(depth)) * spread
                };
                let ceiling = row.ceiling.as_m();
                assert!(row.inert_bar <= limit(ceiling + HAIR_M), "{gas}: {row:?}");
                assert!(row.inert_bar > limit(ceiling - HAIR_M), "{gas}: {row:?}");
                seen += 1;
            }
        }
        assert!(seen > 20, "{gas}: only {seen} ceilings");
    }
}

/// `d(M − P)/dP = 1/b − 1` of the compartment that a sample's row is of, by its b or, with two
/// gases, from the row's own M-value: `M = a + P/b`.
fn slope_of(
    row: &hangbar::dive::CompartmentSample,
    sample: &hangbar::dive::Sample,
    rules: &DiveRules,
) -> f64 {
    let index = sample
        .compartments
        .iter()
        .position(|other| other == row)
        .unwrap();
    let compartment = &rules.compartments.compartments()[index];
    let (n2, he) = (&compartment.nitrogen, &compartment.helium);
    // M = a + P/b with a and b means of the two gases with one unknown weight w of helium:
    // (a_n + w·Δa) + P/(b_n + w·Δb) = M. Bisection for w; it is 0 for air.
    let m_value = |w: f64| {
        let a = n2.a_bar + w * (he.a_bar - n2.a_bar);
        let b = n2.b + w * (he.b - n2.b);
        (a + sample.ambient.as_bar() / b, 1.0 / b - 1.0)
    };
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if m_value(middle).0 < row.m_value_bar {
            low = middle;
        } else {
            high = middle;
        }
    }
    m_value(low).1
}

#[test]
fn a_trace_as_csv_has_every_compartment_in_every_row() {
    let csv = stdout(&["trace", "plans/anvil.toml", "--format", "csv"]);
    let mut lines = csv.lines();
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    assert_eq!(header.len(), 7 + 16 * 5 + 1);
    assert_eq!(header.last(), Some(&"inspired_bar"));
    assert!(header.contains(&"compartment_16_ceiling_m"));
    let mut rows = 0;
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(cells.len(), header.len(), "{line}");
        let numbers = cells.iter().enumerate().filter(|(index, _)| *index != 2);
        assert!(
            numbers
                .clone()
                .all(|(_, cell)| cell.parse::<f64>().unwrap().is_finite())
        );
        rows += 1;
    }
    assert!(rows > 40, "{rows} rows");
}

/// What stands in the text elements of an SVG file, in order.
fn words(svg: &str) -> Vec<String> {
    let texts = svg.split("<text").skip(1);
    texts
        .map(|text| {
            let inner = text.split_once('>').unwrap().1;
            unescaped(inner.split_once("</text>").unwrap().0.trim())
        })
        .collect()
}

fn unescaped(text: &str) -> String {
    text.replace("&apos;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

fn picture(name: &str, arguments: &[&str]) -> String {
    let path = scratch(name);
    let mut all = arguments.to_vec();
    let shown = path.to_str().unwrap().to_owned();
    all.extend(["--picture", &shown]);
    let status = hangbar(&all).get_output().status.code().unwrap();
    assert!(status <= 1, "{arguments:?} ended with {status}");
    fs::read_to_string(path).unwrap()
}

/// What a picture must hold. Stop times and pressures in the words are those of the briefing's
/// golden: regression values here, worked out elsewhere.
struct Picture {
    what: &'static str,
    arguments: &'static [&'static str],
    /// Texts that must be there: title, axes, key, labels.
    words: &'static [&'static str],
    /// Circles, marks and their key together.
    circles: usize,
    /// Filled triangles.
    triangles: usize,
}

const PICTURES: &[Picture] = &[
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
        let svg = picture(&format!("picture-{index}.svg"), expected.arguments);
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

/// An attribute of an SVG element as a number.
fn number(head: &str, key: &str) -> f64 {
    let from = head.split_once(&format!(" {key}=\"")).unwrap().1;
    from.split_once('"').unwrap().0.parse().unwrap()
}

/// Left, top, right, bottom of a text, by a letter width of 0.6 of its size.
fn boxes(svg: &str) -> Vec<(String, [f64; 4])> {
    let texts = svg.split("<text").skip(1);
    texts
        .map(|text| {
            let (head, inner) = text.split_once('>').unwrap();
            let word = unescaped(inner.split_once("</text>").unwrap().0.trim());
            let size = number(head, "font-size");
            let width = 0.6 * size * word.chars().count() as f64;
            let (x, y) = (number(head, "x"), number(head, "y"));
            if head.contains("rotate(270") {
                // Upright along the y axis; its y is the middle, its x the top of the letters.
                return (word, [x, y - width / 2.0, x + size, y + width / 2.0]);
            }
            let left = match head {
                head if head.contains("\"middle\"") => x - width / 2.0,
                head if head.contains("\"end\"") => x - width,
                _ => x,
            };
            (word, [left, y - size / 2.0, left + width, y + size / 2.0])
        })
        .collect()
}

/// Shade, thickness and points of a piece of a line.
type Stroke = (String, u32, Vec<(f64, f64)>);

/// Pieces of a picture that are neither grid nor axis nor a line to a label.
fn strokes(svg: &str) -> Vec<Stroke> {
    let lines = svg.split("<polyline").skip(1);
    let each = lines.map(|line| {
        let head = line.split_once("/>").unwrap().0;
        let value = |key: &str| {
            let from = head.split_once(&format!(" {key}=\"")).unwrap().1;
            from.split_once('"').unwrap().0.to_owned()
        };
        let points = value("points");
        let points = points.split_whitespace().map(|pair| {
            let (x, y) = pair.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        });
        let thickness: u32 = value("stroke-width").parse().unwrap();
        (value("stroke"), thickness, points.collect())
    });
    each.filter(|(shade, _, _)| shade != "#181818" && shade != "#D6D6D6")
        .collect()
}

/// Left, top, right, bottom of the frame of the curves: what the grid's lines reach.
fn frame(svg: &str) -> [f64; 4] {
    let lines = svg.split("<line").skip(1);
    let grid: Vec<&str> = lines
        .map(|line| line.split_once("/>").unwrap().0)
        .filter(|head| head.contains("#D6D6D6"))
        .collect();
    let ends = |keys: [&str; 2]| {
        let each = grid
            .iter()
            .flat_map(|head| keys.map(|key| number(head, key)));
        let ends: Vec<f64> = each.collect();
        let least = ends.iter().copied().fold(f64::INFINITY, f64::min);
        (least, ends.into_iter().fold(0.0, f64::max))
    };
    let ((left, right), (top, bottom)) = (ends(["x1", "x2"]), ends(["y1", "y2"]));
    [left, top, right, bottom]
}

/// Where an axis figure stands: the one whose words are a number, on the bottom or the left.
fn tick_at(svg: &str, figure: &str, bottom: bool) -> f64 {
    let [left, _, _, low] = frame(svg);
    let found = boxes(svg).into_iter().find(|(word, [l, t, r, b])| {
        let on_the_bottom = (t + b) / 2.0 > low;
        word == figure && on_the_bottom == bottom && (bottom || (l + r) / 2.0 < left)
    });
    let [l, t, r, b] = found.unwrap().1;
    if bottom { (l + r) / 2.0 } else { (t + b) / 2.0 }
}

#[test]
fn no_words_in_a_picture_stand_on_others_or_leave_it() {
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("words-{index}.svg"), expected.arguments);
        let boxes = boxes(&svg);
        assert!(boxes.len() > 10, "{}", expected.what);
        let upright = svg.matches("rotate(270").count();
        assert_eq!(upright, 1, "{}: the title of the y axis", expected.what);
        for (number, (word, [left, top, right, bottom])) in boxes.iter().enumerate() {
            let inside = *left >= 0.0 && *right <= 1280.0 && *top >= 0.0 && *bottom <= 800.0;
            assert!(inside, "{}: {word} leaves the picture", expected.what);
            for (other, [l, t, r, b]) in &boxes[number + 1..] {
                let apart = right <= l || r <= left || bottom <= t || b <= top;
                assert!(apart, "{}: {word} stands on {other}", expected.what);
            }
        }
    }
}

#[test]
fn a_picture_is_read_from_the_back_of_a_room() {
    const LEAST_PX: f64 = 22.0;
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("size-{index}.svg"), expected.arguments);
        assert!(
            svg.contains("width=\"1280\" height=\"800\""),
            "{}",
            expected.what
        );
        for text in svg.split("<text").skip(1) {
            let (head, inner) = text.split_once('>').unwrap();
            let size = number(head, "font-size");
            let word = inner.split_once("</text>").unwrap().0.trim();
            assert!(
                size >= LEAST_PX - 1e-9,
                "{}: {word} has {size} px",
                expected.what
            );
        }
    }
}

#[test]
fn labels_stand_inside_the_frame_and_on_no_curve() {
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("clear-{index}.svg"), expected.arguments);
        let [left, top, right, bottom] = frame(&svg);
        let inside = |b: &[f64; 4]| b[0] > left && b[2] < right && b[1] > top && b[3] < bottom;
        // What is written over the field of the curves at all is written inside it.
        let labels = boxes(&svg).into_iter().filter(|(word, b)| {
            let across = b[2] > left + 2.0 && b[0] < right && b[3] > top + 14.0 && b[1] < bottom;
            assert!(
                !across || inside(b),
                "{}: {word} leaves the frame",
                expected.what
            );
            across
        });
        for (word, [l, t, r, b]) in labels {
            for (_, _, points) in strokes(&svg) {
                for pair in points.windows(2) {
                    for step in 0..=20 {
                        let share = f64::from(step) / 20.0;
                        let x = pair[0].0 + (pair[1].0 - pair[0].0) * share;
                        let y = pair[0].1 + (pair[1].1 - pair[0].1) * share;
                        let on = l < x && x < r && t < y && y < b;
                        assert!(!on, "{}: {word} stands on a curve", expected.what);
                    }
                }
            }
        }
    }
}

#[test]
fn curves_and_m_value_lines_stay_in_the_frame_to_its_end() {
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("frame-{index}.svg"), expected.arguments);
        let [left, top, right, bottom] = frame(&svg);
        // Lines of the key lie below all of it.
        for (_, _, points) in strokes(&svg) {
            for (x, y) in points.iter().filter(|(_, y)| *y < bottom + 60.0) {
                // Half a mark may stick out at an edge.
                let within = *x >= left - 12.0
                    && *x <= right + 12.0
                    && *y >= top - 12.0
                    && *y <= bottom + 12.0;
                assert!(within, "{}: {x},{y}", expected.what);
            }
        }
    }
    let arguments = ["--compartment", "1", "--against", "ambient"];
    let mut all = vec!["trace", "plans/lesson-1-one-depth.toml"];
    all.extend(arguments);
    let svg = picture("m-values.svg", &all);
    let [_, top, right, bottom] = frame(&svg);
    let strokes = strokes(&svg);
    let m_values = strokes.iter().filter(|(shade, ..)| shade == "#9E3E18");
    let points = m_values.flat_map(|(.., points)| points);
    // The highest point of them all is the end of the M-value line at the right edge, not a cut
    // at the top.
    let highest = points
        .filter(|(_, y)| *y < bottom)
        .min_by(|one, other| one.1.total_cmp(&other.1))
        .unwrap();
    assert!(
        highest.1 > top + 5.0 && highest.0 > right - 40.0,
        "{highest:?}"
    );
}

/// A reading of a curve at a minute, from its points and the figures on the axes.
fn reading(svg: &str, curve: &[(f64, f64)], minute: f64) -> f64 {
    let (x0, x60) = (tick_at(svg, "0", true), tick_at(svg, "60", true));
    let (y0, y3) = (tick_at(svg, "0", false), tick_at(svg, "3", false));
    let x = x0 + (x60 - x0) * minute / 60.0;
    let pair = curve
        .windows(2)
        .find(|pair| pair[0].0 <= x && x <= pair[1].0);
    let [from, to] = pair.unwrap() else {
        unreachable!()
    };
    let y = from.1 + (to.1 - from.1) * (x - from.0) / (to.0 - from.0).max(1e-9);
    3.0 * (y - y0) / (y3 - y0)
}

#[test]
fn a_compartment_over_time_is_drawn_as_an_exponential_below_what_is_inspired() {
    /// A pixel or two of 250 for 3 bar.
    const DRAWN_BAR: f64 = 0.025;
    let plan = "plans/lesson-1-one-depth.toml";
    // However coarse the table is, the picture is fine.
    for step in ["1 min", "30 min"] {
        let svg = picture(
            "exponential.svg",
            &["trace", plan, "--compartment", "1", "--step", step],
        );
        let curve = |shade: &str| {
            let strokes = strokes(&svg);
            let longest = strokes
                .into_iter()
                .filter(|(found, ..)| found == shade)
                .max_by_key(|(.., points)| points.len());
            longest.unwrap().2
        };
        let (held, inspired) = (curve("#122642"), curve("#606060"));
        assert!(held.len() > 100, "{} points", held.len());
        // 9 m of sea on air: (1.01325 + 9*0.1005181625 - 0.0627)*0.79 = 1.46562; on arriving
        // after half a minute 0.7750 is held (Schreiner's equation by hand), and half of what is
        // missing comes in each 5 minutes.
        for minute in [5.5, 10.5, 20.5, 40.5] {
            let want = 1.465_62 - (1.465_62 - 0.7750) * 0.5_f64.powf((minute - 0.5) / 5.0);
            let got = reading(&svg, &held, minute);
            assert_abs_diff_eq!(got, want, epsilon = DRAWN_BAR);
            let got = reading(&svg, &inspired, minute);
            assert_abs_diff_eq!(got, 1.465_62, epsilon = DRAWN_BAR);
        }
    }
}

#[test]
fn the_published_limits_stand_only_beside_air_at_sea_level() {
    for (arguments, drawn) in [
        (&[][..], true),
        (&["--gas", "EAN32,air"], true),
        (&["--water", "en13319"], true),
        (&["--altitude", "80 m"], true),
        (&["--units", "imperial"], true),
        (&["--gas", "EAN32"], false),
        (&["--altitude", "100 m"], false),
        (&["--altitude", "1500 m"], false),
        (&["--water", "fresh"], false),
        // Shallower than the first of them.
        (&["--from", "2 m", "--to", "10 m"], false),
        (&["plans/hollin-tarn.toml"], false),
        (&["plans/kittiwake-wall.toml"], false),
    ] {
        let mut all = vec!["limits"];
        all.extend(arguments);
        let svg = picture("published.svg", &all);
        let words = words(&svg);
        let named = words.iter().filter(|word| word.contains("Navy")).count();
        // Once in the key, once in the caption.
        assert_eq!(named, if drawn { 2 } else { 0 }, "{arguments:?}: {words:?}");
        let crosses = words.iter().any(|word| word.contains("Crosses"));
        assert_eq!(crosses, drawn, "{arguments:?}");
        let grey =
            strokes(&svg).iter().any(|(shade, ..)| shade == "#606060") || svg.contains("#606060");
        assert_eq!(grey, drawn, "{arguments:?}");
    }
}

#[test]
fn minimums_at_one_pressure_stand_side_by_side() {
    let svg = picture("minimums.svg", &["brief", "plans/lesson-3-left-late.toml"]);
    let [_, _, _, bottom] = frame(&svg);
    let rings = svg.split("<circle").skip(1);
    let ring = rings
        .map(|circle| (number(circle, "cx"), number(circle, "cy")))
        .find(|(_, y)| *y < bottom)
        .unwrap();
    let leaving = strokes(&svg)
        .into_iter()
        .find(|(shade, thickness, points)| {
            shade == "#606060" && *thickness == 3 && (points[0].0 - points[1].0).abs() < 0.5
        })
        .unwrap();
    // Jory's cross is on the line itself, Pella's ring beside it, both at the same height.
    let aside = ring.0 - leaving.2[0].0;
    assert!((20.0..40.0).contains(&aside.abs()), "{aside}");
}

#[test]
fn a_minimum_that_no_cylinder_holds_is_named_at_the_top() {
    let plan = scratch("hungry.toml");
    fs::write(
        &plan,
        "[profile]\ndepth = \"40 m\"\nbottom_time = \"30 min\"\n[[diver]]\nname = \"Ines\"\n\
         sac = \"40 L/min\"\ncylinder = { size = \"7 L\", fill = \"100 bar\" }\n",
    )
    .unwrap();
    let svg = picture("hungry.svg", &["brief", plan.to_str().unwrap()]);
    let [_, top, _, bottom] = frame(&svg);
    let boxes = boxes(&svg);
    let label = boxes
        .iter()
        .find(|(word, _)| word == "Ines >600 bar, off the top");
    let [_, t, _, b] = label.unwrap().1;
    assert!(t > top && b < top + (bottom - top) / 4.0, "{t} to {b}");
}

#[test]
fn a_title_with_markup_in_it_stays_text() {
    let plan = scratch("markup.toml");
    fs::write(
        &plan,
        "title = \"Wall <b> & \\\"reef\\\"\"\n[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n",
    )
    .unwrap();
    let svg = picture("markup.svg", &["trace", plan.to_str().unwrap()]);
    assert!(svg.contains("Wall &lt;b&gt; &amp; "), "{svg}");
    assert!(!svg.contains("<b>"));
}

#[test]
fn a_picture_that_cannot_be_written_leaves_nothing_behind() {
    let path = scratch("no-such-folder").join("picture.svg");
    hangbar(&[
        "trace",
        "plans/anvil.toml",
        "--picture",
        path.to_str().unwrap(),
    ])
    .code(2)
    .stdout("")
    .stderr(contains("cannot write"));
    assert!(!path.exists());
    let plan = scratch("kept.toml");
    fs::write(&plan, "kept").unwrap();
    hangbar(&["limits", "--picture", plan.to_str().unwrap()])
        .code(2)
        .stdout("")
        .stderr(contains("ends in .svg"));
    assert_eq!(fs::read_to_string(&plan).unwrap(), "kept");
}

#[test]
fn a_picture_and_a_chart_may_be_asked_for_together() {
    let path = scratch("both.svg");
    let shown = path.to_str().unwrap();
    hangbar(&["trace", "plans/anvil.toml", "--picture", shown, "--chart"]).code(0);
    assert!(path.exists());
}

#[test]
fn a_trace_shows_gas_held_rounded_up_and_its_limit_rounded_down() {
    let arguments = ["trace", "plans/anvil.toml", "--step", "5 min"];
    let text = stdout(&arguments);
    let mut with_json = arguments.to_vec();
    with_json.extend(["--format", "json"]);
    let document = json(&with_json);
    let samples = document["samples"].as_array().unwrap();
    let rows: Vec<&str> = text.lines().filter(|line| line.contains(" / ")).collect();
    let rows = &rows[rows.len() - samples.len()..];
    for (row, sample) in rows.iter().zip(samples) {
        // The last three pairs of the row: the fastest, a middle and the slowest compartment.
        let words: Vec<&str> = row
            .split(['/', ' '])
            .filter(|word| !word.is_empty())
            .collect();
        let shown: Vec<f64> = words[words.len() - 6..]
            .iter()
            .map(|word| word.parse().unwrap())
            .collect();
        for (pair, index) in shown.chunks(2).zip([0, 7, 15]) {
            let compartment = &sample["compartments"][index];
            let figure = |key: &str| compartment[key].as_f64().unwrap();
            let (held, limit) = (figure("inert_bar"), figure("limit_bar"));
            assert!(
                (0.0..0.01).contains(&(pair[0] - held + 1e-9)),
                "{row}: {held}"
            );
            assert!(
                (0.0..0.01).contains(&(limit - pair[1] + 1e-9)),
                "{row}: {limit}"
            );
        }
    }
}

#[test]
fn a_chart_in_characters_is_only_for_a_terminal() {
    hangbar(&["limits", "--chart"])
        .code(0)
        .stdout(contains('|').not())
        .stderr(contains("standard output is not a terminal"));
}

#[test]
fn tables_fit_eighty_columns() {
    for arguments in [
        &[
            "limits",
            "--gas",
            "air,EAN28,EAN32,EAN36",
            "--factors",
            "40/85,30/70",
        ][..],
        &["limits", "--units", "imperial", "--gas", "air,EAN32"],
        &["trace", "plans/anvil.toml"],
        &["trace", "plans/orla-finch-stern.toml"],
        &["trace", "plans/long-ledge.toml", "--step", "0.5 min"],
        &["trace", "plans/anvil.toml", "--compartment", "1,4,8,16"],
        &[
            "trace",
            "plans/anvil.toml",
            "--compartment",
            "1,2,3,4,5,6,7",
        ],
        &[
            "trace",
            "tests/data/trimix.toml",
            "--compartment",
            "13,14,15,16",
        ],
        &[
            "trace",
            "tests/data/trimix.toml",
            "--compartment",
            "1,2,3,4",
            "--depth",
            "110 m",
            "--units",
            "imperial",
        ],
    ] {
        let text = stdout(arguments);
        assert!(text.lines().count() > 10, "{arguments:?}");
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{arguments:?}: {line}");
        }
    }
}

#[test]
fn a_trace_of_a_no_go_ends_with_one() {
    hangbar(&["trace", "plans/orla-finch-stern.toml"]).code(1);
    hangbar(&["trace", "plans/anvil.toml"]).code(0);
    hangbar(&["trace", "plans/anvil.toml", "--step", "0 min"])
        .code(2)
        .stderr(contains("accepted: 0.1 min to 60 min"));
    hangbar(&["trace", "plans/anvil.toml", "--compartment", "17"]).code(2);
}

#[test]
fn compartments_that_cannot_be_shown_are_refused() {
    let against_what = "--compartment <NUMBERS>";
    for (arguments, words) in [
        (
            &["--compartment", "1,4,1"][..],
            "compartment 1 is asked for twice",
        ),
        (
            &["--compartment", "1,2,3,4,5,6,7", "--chart"],
            "a picture holds at most 6",
        ),
        (
            &["--compartment", "1,4", "--against", "ambient", "--chart"],
            "draws one compartment",
        ),
        (&["--against", "time", "--chart"], against_what),
        (&["--compartment", "1", "--against", "time"], "--chart"),
    ] {
        let mut all = vec!["trace", "plans/anvil.toml"];
        all.extend(arguments);
        hangbar(&all).code(2).stdout("").stderr(contains(words));
    }
}

/// The figures of a row of the text: what stands in it without slashes.
fn figures(row: &str) -> Vec<&str> {
    let words = row.split(['/', ' ']);
    words.filter(|word| !word.is_empty()).collect()
}

#[test]
fn the_text_shows_the_compartments_that_are_asked_for() {
    for (asked, half_times) in [
        ("1,4,16", "5 min 18.5 min 635 min"),
        ("9", "109 min"),
        ("16,2,3,1", "635 min 8 min 12.5 min 5 min"),
    ] {
        let arguments = [
            "trace",
            "plans/anvil.toml",
            "--step",
            "10 min",
            "--compartment",
            asked,
        ];
        let text = stdout(&arguments);
        let mut with_json = arguments.to_vec();
        with_json.extend(["--format", "json"]);
        let document = json(&with_json);
        let samples = document["samples"].as_array().unwrap();
        let head = text
            .lines()
            .position(|line| line.contains("inspired  "))
            .unwrap();
        let lines: Vec<&str> = text.lines().skip(head).collect();
        let numbers: Vec<usize> = asked.split(',').map(|n| n.parse().unwrap()).collect();
        let titles = figures(lines[0]);
        let shown: Vec<usize> = titles[5..].iter().map(|n| n.parse().unwrap()).collect();
        assert_eq!(shown, numbers);
        assert_eq!(figures(lines[1]).join(" "), half_times);
        assert_eq!(lines.len(), 2 + samples.len());
        for (row, sample) in lines[2..].iter().zip(samples) {
            let words = figures(row);
            let pairs = &words[words.len() - 2 * numbers.len()..];
            for (pair, number) in pairs.chunks(2).zip(&numbers) {
                let compartment = &sample["compartments"][number - 1];
                let held = compartment["inert_bar"].as_f64().unwrap();
                let limit = compartment["limit_bar"].as_f64().unwrap();
                let shown: Vec<f64> = pair.iter().map(|word| word.parse().unwrap()).collect();
                assert!((0.0..0.01).contains(&(shown[0] - held + 1e-9)), "{row}");
                assert!((0.0..0.01).contains(&(limit - shown[1] + 1e-9)), "{row}");
            }
            let inspired = sample["inspired_bar"].as_f64().unwrap();
            let shown: f64 = words[words.len() - 2 * numbers.len() - 1].parse().unwrap();
            assert!((0.0..0.01).contains(&(shown - inspired + 1e-9)), "{row}");
        }
    }
}

#[test]
fn the_inspired_pressure_is_that_of_both_inert_gases_breathed() {
    let document = json(&["trace", "tests/data/trimix.toml", "--format", "json"]);
    let csv = stdout(&["trace", "tests/data/trimix.toml", "--format", "csv"]);
    let samples = document["samples"].as_array().unwrap();
    let mut gases = Vec::new();
    for (sample, line) in samples.iter().zip(csv.lines().skip(1)) {
        let gas = sample["gas"].as_str().unwrap();
        let inert = match gas {
            "18/45" => 0.82,
            "EAN50" => 0.5,
            other => panic!("{other}"),
        };
        gases.push(gas);
        let ambient = sample["ambient_bar"].as_f64().unwrap();
        let want = (ambient - 0.0627) * inert;
        let got = sample["inspired_bar"].as_f64().unwrap();
        assert_abs_diff_eq!(got, want, epsilon = 1e-12);
        let got: f64 = line.rsplit(',').next().unwrap().parse().unwrap();
        assert_abs_diff_eq!(got, want, epsilon = 1e-12);
    }
    gases.dedup();
    assert_eq!(gases, ["18/45", "EAN50"]);
}

#[test]
fn a_half_time_takes_half_of_what_is_missing() {
    let plan = "plans/lesson-1-one-depth.toml";
    let document = json(&["trace", plan, "--format", "json"]);
    let samples = document["samples"].as_array().unwrap();
    let missing = |minute: f64| {
        let at = |sample: &&Value| (sample["run_time_min"].as_f64().unwrap() - minute).abs() < 1e-9;
        let sample = samples.iter().find(at).unwrap();
        let held = sample["compartments"][0]["inert_bar"].as_f64().unwrap();
        sample["inspired_bar"].as_f64().unwrap() - held
    };
    for minute in 1..=50 {
        let minute = f64::from(minute);
        let half = missing(minute) / 2.0;
        assert_abs_diff_eq!(missing(minute + 5.0), half, epsilon = 1e-12);
    }
}

/// The README's lesson, each line's ends joined.
fn lesson() -> String {
    let readme = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
    let readme = fs::read_to_string(readme).unwrap();
    let lesson = readme.split_once("## A lesson in an hour").unwrap().1;
    let lesson = lesson.split_once("\n## ").unwrap().0;
    lesson.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The commands of a text: what stands in backticks and begins with the program's name.
fn commands(text: &str) -> Vec<Vec<String>> {
    let spans = text.split('`').skip(1).step_by(2);
    let commands = spans.filter_map(|span| span.strip_prefix("hangbar "));
    commands
        .map(|command| {
            // Quoted pieces keep their blanks.
            let pieces = command.split('"').enumerate();
            pieces
                .flat_map(|(index, piece)| {
                    if index % 2 == 1 {
                        vec![piece.to_owned()]
                    } else {
                        piece.split_whitespace().map(str::to_owned).collect()
                    }
                })
                .collect()
        })
        .collect()
}

#[test]
fn every_command_of_the_lesson_does_what_its_step_says() {
    let lesson = lesson();
    let commands = commands(&lesson);
    assert!(commands.len() >= 11, "{commands:?}");
    let mut pictures = 0;
    for mut command in commands {
        let plan = command.iter().find(|word| word.ends_with(".toml"));
        let no_go = plan.is_some_and(|plan| {
            let plan = format!("{}/{plan}", env!("CARGO_MANIFEST_DIR"));
            fs::read_to_string(plan).unwrap().contains("Verdict: NO-GO")
        });
        let drawn = command.iter().position(|word| word == "--picture");
        let path = drawn.map(|at| scratch(&format!("lesson-{}", command[at + 1])));
        if let (Some(at), Some(path)) = (drawn, &path) {
            command[at + 1] = path.to_str().unwrap().to_owned();
        }
        let words: Vec<&str> = command.iter().map(String::as_str).collect();
        let run = hangbar(&words).code(i32::from(no_go)).stderr("");
        assert!(!run.get_output().stdout.is_empty(), "{words:?}");
        if let Some(path) = path {
            assert!(
                fs::read_to_string(path).unwrap().ends_with("</svg>\n"),
                "{words:?}"
            );
            pictures += 1;
        }
    }
    assert!(pictures >= 7, "{pictures} pictures");
    // An option alone would be a command that nobody can run.
    let spans = lesson.split('`').skip(1).step_by(2);
    assert_eq!(spans.filter(|span| span.starts_with("--")).count(), 0);
}

#[test]
fn the_lesson_s_ceiling_begins_before_the_limit_because_the_way_up_gives_off_gas() {
    let lesson = lesson();
    let (begins, limit) = (21.0, 24.0);
    assert!(lesson.contains("at about minute 21, yet the limit is 24 minutes"));
    let document = |arguments: &[&str]| {
        let mut all = vec!["trace", "--format", "json", "--step", "0.1 min"];
        all.extend(arguments);
        json(&all)["samples"].as_array().unwrap().clone()
    };
    let minute = |sample: &Value| sample["run_time_min"].as_f64().unwrap();
    let late = document(&["plans/lesson-3-left-late.toml"]);
    let at_the_limit = document(&["plans/lesson-2-no-stop.toml", "--bottom-time", "24 min"]);
    // The same minute, staged or not: at the surface the high factor is in force for both.
    for samples in [&late, &at_the_limit] {
        let first = samples
            .iter()
            .find(|s| s["ceiling_m"].as_f64().unwrap() > 0.0);
        assert_abs_diff_eq!(minute(first.unwrap()), begins, epsilon = 0.5);
    }
    let limits = json(&[
        "limits", "--format", "json", "--from", "24 m", "--to", "24 m",
    ]);
    let no_stop = limits["limits"][0]["no_stop_limit_min"].as_f64().unwrap();
    assert_abs_diff_eq!(no_stop.floor(), limit, epsilon = 1e-9);
    // Compartment 2 passes what the high factor lets it hold at the surface, 1.01325 bar +
    // 0.85*(1.0000 + 1.01325/0.6514 - 1.01325) = 2.32413 bar, and is back under it on the way up.
    let over: Vec<f64> = at_the_limit
        .iter()
        .filter(|s| s["compartments"][1]["inert_bar"].as_f64().unwrap() > 2.324_13)
        .map(minute)
        .collect();
    let (first, last) = (over[0], *over.last().unwrap());
    assert_abs_diff_eq!(first, begins, epsilon = 0.5);
    let end = minute(at_the_limit.last().unwrap());
    assert!(last > 24.0 && last < 24.0 + 24.0 / 9.0, "{last} of {end}");
}
