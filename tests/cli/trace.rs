//! The tissues through a dive: samples, ceilings, the table of them.

use approx::assert_abs_diff_eq;
use hangbar::dive::fly;
use hangbar::dive::trace;
use hangbar::quantity::{Depth, Time};
use hangbar::rules::{DiveRules, Level};
use hangbar::tissue::{GradientFactors, Tissues};
use predicates::str::contains;
use serde_json::Value;

use crate::folder::Folder;
use crate::run::{json_of, stdout, tried};

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
    let folder = Folder::new("cli-derived");
    let plan = folder.write(
        "derived.toml",
        "[profile]\ndepth = \"30 m\"\nbottom_time = \"20 min\"\n[ascent]\nsafety_stop = false\n\
         [model]\ngradient_factors = [100, 100]\n",
    );
    let document = json_of(&["trace", plan.to_str().unwrap(), "--format", "json"]);
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
    let samples = trace(&rules, &dive, Time::from_min(1.0)).unwrap();
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
    assert!(trace(&rules, &dive, Time::from_min(0.05)).is_err());
    assert!(trace(&rules, &dive, Time::from_min(f64::NAN)).is_err());
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
        let factor = dive.factors;
        let samples = trace(&rules, &dive, Time::from_min(2.0)).unwrap();
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

#[test]
fn a_trace_shows_gas_held_rounded_up_and_its_limit_rounded_down() {
    let arguments = ["trace", "plans/anvil.toml", "--step", "5 min"];
    let text = stdout(&arguments);
    let mut with_json = arguments.to_vec();
    with_json.extend(["--format", "json"]);
    let document = json_of(&with_json);
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
fn a_trace_of_a_no_go_ends_with_one() {
    tried(&["trace", "plans/orla-finch-stern.toml"], "").code(1);
    tried(&["trace", "plans/anvil.toml"], "").code(0);
    tried(&["trace", "plans/anvil.toml", "--step", "0 min"], "")
        .code(2)
        .stderr(contains("accepted: 0.1 min to 60 min"));
    tried(&["trace", "plans/anvil.toml", "--compartment", "17"], "").code(2);
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
        tried(&all, "").code(2).stdout("").stderr(contains(words));
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
        let document = json_of(&with_json);
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
    let document = json_of(&["trace", "tests/data/trimix.toml", "--format", "json"]);
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
    let document = json_of(&["trace", plan, "--format", "json"]);
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
