//! One gas: how deep, what it is like there, how it is blended.

use approx::assert_abs_diff_eq;
use predicates::str::contains;
use serde_json::Value;

use crate::plans::REEF;
use crate::read::{codes, flowing, number, without_colour};
use crate::run::{hangbar, json_of, run, stdout, tried};

/// The JSON of a gas, go or no-go.
fn gas(arguments: &[&str]) -> Value {
    json_of(&[&["mix", "--format", "json"], arguments].concat())
}

/// What the text says of a gas, go or no-go, its lines joined.
fn said(arguments: &[&str]) -> String {
    flowing(&stdout(&[&["mix"], arguments].concat()))
}

#[test]
fn the_figures_of_a_gas_are_those_worked_out_by_hand() {
    // Sea water, 0.1005181625 bar/m under 1.01325 bar: P = 4.028794875 bar at 30 m.
    let document = gas(&["EAN32", "--depth", "30 m"]);
    let at = &document["at"];
    for (figure, want) in [
        // 0.32 · P
        (&at["po2_bar"], 1.289_214),
        // (0.32 · 31.998 + 0.68 · 28.014) · 402.8794875/(8.314462618 · 273.15)
        (&at["density_g_per_l"], 5.195_682),
        // (P · 0.68/0.79 − 1.01325)/0.1005181625
        (&at["air_depth_m"], 24.419_203),
        (&at["narcotic_depth_nitrogen_m"], 24.419_203),
        (&at["narcotic_depth_m"], 30.0),
        // (1.4/0.32 − 1.01325)/0.1005181625 and with 1.63.
        (&document["bottom"]["depth_m"], 33.444_205),
        (&document["way_up"]["depth_m"], 40.594_654),
        (&document["switch_depth_m"], 39.0),
    ] {
        assert_abs_diff_eq!(number(figure), want, epsilon = 1e-6);
    }
    assert_eq!(document["is_no_go"], false);
    assert_eq!(document["findings"], Value::Array(Vec::new()));
}

#[test]
fn its_no_stop_limit_is_that_of_the_table_of_limits() {
    for more in [
        &[][..],
        &["--factors", "30/70"],
        &["--water", "fresh", "--altitude", "1500 m"],
        &["--descent-rate", "10 m/min", "--ascent-rate", "6 m/min"],
    ] {
        let ours = gas(&[&["EAN36", "--depth", "24 m"], more].concat());
        let limits = [
            "limits", "--format", "json", "--gas", "EAN36", "--from", "24 m", "--to", "24 m",
        ];
        let table = json_of(&[&limits[..], more].concat());
        let row = &table["limits"][0];
        for field in ["no_stop_limit_min", "compartment", "po2_bar", "state"] {
            assert_eq!(ours["at"][field], row[field], "{field} {more:?}");
        }
        for field in ["surface_bar", "bar_per_m", "ascent_m_per_min"] {
            assert_eq!(ours[field], table[field], "{field} {more:?}");
        }
    }
}

#[test]
fn a_plan_gives_its_site_and_model() {
    let line = ["--depth", "20 m", "--plan", "plans/hollin-tarn.toml"];
    let ours = gas(&[&["air"][..], &line].concat());
    let tarn = ["limits", "plans/hollin-tarn.toml", "--format", "json"];
    let table = json_of(
        &[
            &tarn[..],
            &["--gas", "air", "--from", "20 m", "--to", "20 m"],
        ]
        .concat(),
    );
    assert_eq!(ours["title"], table["title"]);
    assert_eq!(ours["surface_bar"], table["surface_bar"]);
    assert_eq!(
        ours["at"]["no_stop_limit_min"],
        table["limits"][0]["no_stop_limit_min"]
    );
    // And its temperature to the cylinder.
    let blend = [
        "EAN32", "--blend", "200 bar", "--format", "json", "--plan", "-",
    ];
    let plan = format!("{REEF}\n[site]\ntemperature = \"4 C\"\n");
    let (_, text) = run(&[&["mix"][..], &blend].concat(), &plan);
    let document: Value = serde_json::from_str(&text).unwrap();
    assert_abs_diff_eq!(
        number(&document["blend"]["temperature_c"]),
        4.0,
        epsilon = 1e-9
    );
}

#[test]
fn what_may_not_be_breathed_is_said_plainly_and_gets_no_limit() {
    for (gas_and_depth, code, words) in [
        // 1.78 bar of oxygen.
        (
            ["EAN32", "45 m"],
            "oxygen-over-limit",
            "the limit is 1.63 bar",
        ),
        // 6.4 g/L, with 1.06 bar of oxygen.
        (
            ["air", "40 m"],
            "gas-density-over-limit",
            "the limit is 6.2 g/L",
        ),
        // 0.10 bar at the surface.
        (["10/70", "60 m"], "oxygen-too-low", "a diver may pass out"),
    ] {
        let [name, depth] = gas_and_depth;
        let line = [name, "--depth", depth, "--blend", "200 bar"];
        let document = gas(&line);
        assert_eq!(document["is_no_go"], true, "{name}");
        assert!(
            codes(&document, "no-go").contains(&code.to_owned()),
            "{name}"
        );
        assert_eq!(document["at"]["no_stop_limit_min"], Value::Null);
        assert_eq!(document["at"]["state"], "no-go");
        assert_eq!(document["blend"], Value::Null);
        let (status, text) = run(&[&["mix"], &line[..]].concat(), "");
        assert_eq!(status, 1, "{text}");
        assert!(text.starts_with(&format!("NO-GO  {name}: ")), "{text}");
        let text = flowing(&text);
        assert!(text.contains(words), "{text}");
        assert!(text.contains("no-stop limit not given a no-go"), "{text}");
        assert!(
            text.contains("A no-go gets no steps to blend it."),
            "{text}"
        );
        assert!(
            !text.contains("oxygen to") && !text.contains("equivalent"),
            "{text}"
        );
    }
}

#[test]
fn colour_only_repeats_what_the_words_say() {
    for line in [
        &["EAN32", "--depth", "45 m"][..],
        &["EAN32", "--blend", "200 bar"],
    ] {
        let in_colour = |when| run(&[&["mix", "--color", when], line].concat(), "").1;
        let (coloured, plain) = (in_colour("always"), in_colour("never"));
        assert!(coloured.contains("\u{1b}["), "{coloured}");
        assert_eq!(without_colour(&coloured), plain);
    }
}

#[test]
fn a_go_is_never_said_of_a_gas() {
    for line in [
        &["EAN32", "--depth", "20 m"][..],
        &["air"],
        &["--best-for", "18 m"],
    ] {
        let text = stdout(&[&["mix"], line].concat());
        assert!(!text.lines().any(|line| line.starts_with("GO")), "{text}");
    }
}

#[test]
fn more_oxygen_than_the_bottom_limit_gets_no_limit() {
    let document = gas(&["EAN36", "--depth", "30 m"]);
    assert_eq!(
        codes(&document, "caution"),
        ["oxygen-high", "gas-density-high"]
    );
    assert_eq!(document["at"]["state"], "over-oxygen-limit");
    assert!(said(&["EAN36", "--depth", "30 m"]).contains("not given more than 1.4 bar of oxygen"));
    let raised = gas(&["EAN36", "--depth", "30 m", "--oxygen-limit", "1.5 bar"]);
    assert_eq!(raised["at"]["state"], "limit");
    assert_abs_diff_eq!(number(&raised["bottom"]["limit_bar"]), 1.5);
}

#[test]
fn the_depths_of_a_gas_are_toward_safety() {
    let text = said(&["EAN32", "--depth", "30 m"]);
    // 33.444 m, 40.594 m and 24.419 m.
    for words in ["1.4 bar 33.4 m", "1.63 bar 40.5 m", "air depth 24.5 m"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    // Too dense before it has too much oxygen: 6.2 g/L at 38.5 m.
    let air = said(&["air"]);
    assert!(
        air.contains("56.2 m as a bottom gas, but too dense from 38.4 m on"),
        "{air}"
    );
    assert!(said(&["10/70"]).contains("but never from the surface"));
    // 21 m: 1.563 bar of oxygen in EAN50. Nobody's way up begins with air.
    assert!(said(&["EAN50"]).contains("a no-go beyond; on a staged way up from 21 m"));
    assert!(!air.contains("staged way up"));
    assert!(said(&["oxygen", "--oxygen-limit", "0.5 bar"]).contains("0.5 bar none"));
}

#[test]
fn the_richest_nitrox_is_the_whole_per_cent_that_keeps_the_limit() {
    for (line, name) in [
        (&["--best-for", "30 m"][..], "EAN34"),
        (&["--best-for", "100 ft"], "EAN34"),
        (
            &["--best-for", "30 m", "--oxygen-limit", "1.3 bar"],
            "EAN32",
        ),
        // 0.83 bar at the surface and 0.098 bar a metre: 1.4/3.77.
        (
            &[
                "--best-for",
                "30 m",
                "--altitude",
                "1640 m",
                "--water",
                "fresh",
            ],
            "EAN37",
        ),
        (&["--best-for", "3 m"], "oxygen"),
        (&["--best-for", "56 m"], "air"),
    ] {
        let document = gas(line);
        assert_eq!(document["gas"], name, "{line:?}");
        assert_eq!(document["is_richest"], true);
        let at = &document["at"];
        let limit = number(&document["bottom"]["limit_bar"]);
        assert!(number(&at["po2_bar"]) <= limit, "{line:?}");
        assert!(number(&at["depth_m"]) <= number(&document["bottom"]["depth_m"]));
    }
    let text = said(&["--best-for", "30 m"]);
    assert!(
        text.starts_with("EAN34: 34 % oxygen, 66 % nitrogen"),
        "{text}"
    );
    assert!(text.contains("1.4 bar 30.8 m as a bottom gas"), "{text}");
}

#[test]
fn a_blend_has_its_steps_by_both_laws_and_its_warning() {
    let line = ["18/45", "--blend", "200 bar", "--from", "40 bar 21/35"];
    let document = gas(&line);
    let steps = document["blend"]["steps"].as_array().unwrap();
    let adds: Vec<&Value> = steps.iter().map(|step| &step["adds"]).collect();
    assert_eq!(adds, ["helium", "oxygen", "air"]);
    for law in ["real", "ideal"] {
        let pressures: Vec<f64> = steps
            .iter()
            .map(|step| number(&step[law]["to_bar"]))
            .collect();
        assert!(
            pressures.is_sorted() && pressures[0] > 40.0,
            "{pressures:?}"
        );
        let last = &steps[2][law];
        assert_abs_diff_eq!(number(&last["to_bar"]), 200.0, epsilon = 1e-9);
        assert_abs_diff_eq!(number(&last["oxygen_pct"]), 18.0, epsilon = 1e-9);
        assert_abs_diff_eq!(number(&last["helium_pct"]), 45.0, epsilon = 1e-9);
    }
    // By hand, ideal: helium 201.01325 · 0.45 − 41.01325 · 0.35 = 76.10 bar.
    assert_abs_diff_eq!(
        number(&steps[0]["ideal"]["to_bar"]),
        116.101_325,
        epsilon = 1e-6
    );
    let text = said(&line);
    assert!(
        text.contains("before, 21/35 40 bar 40 bar helium to 114 bar 116.2 bar"),
        "{text}"
    );
    assert!(text.contains("air to 200 bar 200 bar"), "{text}");
    for words in [
        "people trained in it",
        "cleaned for oxygen",
        "Every fill is analysed",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let nothing = said(&["EAN32", "--blend", "200 bar", "--from", "200 bar EAN32"]);
    assert!(nothing.contains("there is nothing to add"), "{nothing}");
    assert!(nothing.contains("Every fill is analysed"), "{nothing}");
}

#[test]
fn a_blend_follows_temperature_and_what_is_on_top() {
    let oxygen_to = |more: &[&str]| {
        let line = [&["EAN40", "--blend", "200 bar"], more].concat();
        let document = gas(&line);
        let step = &document["blend"]["steps"][0];
        assert_eq!(step["adds"], "oxygen");
        (
            number(&step["real"]["to_bar"]),
            number(&step["ideal"]["to_bar"]),
        )
    };
    let (cold, usual) = (oxygen_to(&["--temperature", "-5 C"]), oxygen_to(&[]));
    assert!((cold.0 - usual.0).abs() > 0.05, "{cold:?} {usual:?}");
    assert_abs_diff_eq!(cold.1, usual.1, epsilon = 1e-9);
    let rich = oxygen_to(&["--top", "EAN32"]);
    assert!(rich.0 < usual.0 * 0.6, "{rich:?} {usual:?}");
}

/// Oxygen is never shown above what was worked out, helium never below.
#[test]
fn the_gauge_pressures_shown_make_no_mix_richer() {
    let shown = |units: &str| {
        let line = [
            "18/45",
            "--blend",
            "200 bar",
            "--from",
            "40 bar 21/35",
            "--units",
            units,
        ];
        said(&line)
    };
    // 113.929 and 126.404 bar real, 116.101 and 128.697 ideal.
    let metric = shown("metric");
    assert!(
        metric.contains("helium to 114 bar 116.2 bar oxygen to 126.4 bar 128.6 bar"),
        "{metric}"
    );
    let imperial = shown("imperial");
    let words = "helium to 1653 psi 1684 psi oxygen to 1833 psi 1866 psi";
    assert!(imperial.contains(words), "{imperial}");
}

#[test]
fn what_cannot_be_is_refused_with_what_could() {
    for (arguments, words) in [
        (&["EAN320"][..], "outside 5 % to 100 %"),
        (&["nitrox"], "accepted: \"air\", \"oxygen\""),
        (
            &["EAN32", "--depth", "30"],
            "has no unit; accepted: 0.3 m to 200 m",
        ),
        (&["EAN32", "--depth", "300 m"], "accepted: 0.3 m to 200 m"),
        (&["EAN32", "--depth", "-3 m"], "accepted: 0.3 m to 200 m"),
        (
            &["EAN32", "--oxygen-limit", "1.7 bar"],
            "accepted: 0.5 bar to 1.63 bar",
        ),
        (&["EAN32", "--factors", "85/40"], "is over the high one"),
        (&["EAN32", "--altitude", "9000 m"], "option --altitude"),
        (
            &["EAN32", "--plan", "nowhere.toml"],
            "cannot read nowhere.toml",
        ),
        (
            &["--best-for", "57 m"],
            "accepted: at most 56.2 m, or trimix",
        ),
        (
            &["--best-for", "57 m", "--units", "imperial"],
            "at most 184 ft",
        ),
        (
            &["EAN32", "--blend", "400 bar"],
            "accepted: 1 bar to 344.7 bar",
        ),
        (
            &["EAN32", "--blend", "nan bar"],
            "does not begin with a plain number",
        ),
        (&["EAN32", "--blend", "200 bar", "--from", "60 bar"], "unit"),
        (
            &["EAN32", "--blend", "200 bar", "--from", "60bar"],
            "as \"60 bar EAN28\"",
        ),
        (
            &["EAN32", "--blend", "200 bar", "--from", "-6 bar air"],
            "accepted: 0 bar to",
        ),
        (
            &["EAN32", "--blend", "200 bar", "--from", "60 bar wine"],
            "accepted: \"air\"",
        ),
        (
            &["EAN32", "--blend", "200 bar", "--temperature", "60 C"],
            "accepted: -5 C to 45 C",
        ),
        (
            &["EAN32", "--blend", "200 bar", "--top", "oxygen"],
            "accepted: air or nitrox",
        ),
        (
            &["EAN32", "--blend", "200 bar", "--top", "EAN36"],
            "on top brings more oxygen",
        ),
        (
            &["EAN36", "--blend", "200 bar", "--from", "195 bar EAN32"],
            "accepted: at most 187 bar of EAN32: drain the cylinder",
        ),
        (
            &[
                "EAN36",
                "--blend",
                "200 bar",
                "--from",
                "195 bar EAN32",
                "--units",
                "imperial",
            ],
            "accepted: at most 2710 psi of EAN32",
        ),
        (
            &["oxygen", "--blend", "200 bar"],
            "even when empty, a cylinder of air holds more nitrogen than 200 bar of oxygen may",
        ),
        (
            &["EAN32", "--blend", "200 bar", "--from", "30 bar 18/45"],
            "the 18/45 left in an empty cylinder is too much; rinse it",
        ),
    ] {
        let all = [&["mix"], arguments].concat();
        tried(&all, "").code(2).stdout("").stderr(contains(words));
    }
}

#[test]
fn the_pressure_to_drain_to_is_one_that_works() {
    let blended = |left: &str| {
        let line = ["mix", "EAN36", "--blend", "200 bar", "--from", left];
        hangbar()
            .args(line)
            .assert()
            .get_output()
            .status
            .code()
            .unwrap()
    };
    assert_eq!(blended("187 bar EAN32"), 0);
    assert_eq!(blended("188 bar EAN32"), 2);
}
