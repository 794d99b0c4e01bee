//! The documents as types: what is written can be read, whole, by this version and by later ones.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use std::ffi::OsStr;

use hangbar::briefing::{Briefing, brief};
use hangbar::day::{DayPlan, home_by, plan_day};
use hangbar::explain::explain;
use hangbar::gas::CylinderGas;
use hangbar::plan_file::{Overrides, read, read_with};
use hangbar::quantity::{Depth, GaugePressure, Pressure, Time};
use hangbar::report::document::{
    self, Check, Errors, Explain, Keys, Limits, Problem, SkipReason, Trace, Verdict, WhatIf,
};
use hangbar::report::{
    BlendWanted, Change, ChangesAsked, CompartmentChoice, GasWanted, KeyFile, KeySheet, LimitSheet,
    LimitsAsked, MixAsked, MixSheet, TracedDive,
};
use hangbar::site::Mix;
use hangbar::whatif::{Deviation, deviate};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

/// A go with a hang, a current, a pony and a splash.
const DRIFT: &str = include_str!("../plans/skua-stack.toml");
/// A no-go in feet and psi.
const STAGED: &str = include_str!("../plans/orla-finch-stern.toml");
/// A staged dive on two gases.
const TWO_GASES: &str = include_str!("../plans/long-ledge.toml");
/// A no-go.
const THIRSTY: &str = "\
[profile]\ndepth = \"30 m\"\nbottom_time = \"20 min\"\n\
[[diver]]\nname = \"Ines\"\nsac = \"30 L/min\"\ndepth_limit = \"30 m\"\n\
cylinder = { size = \"10 L\", fill = \"200 bar\" }\npony = { size = \"2 L\", fill = \"100 bar\" }\n";

fn briefings() -> Vec<Briefing> {
    let plans = [DRIFT, STAGED, TWO_GASES, THIRSTY].map(|plan| read(plan).unwrap());
    plans.map(|plan| brief(plan).unwrap()).to_vec()
}

/// Written and read again it is the same; without any one of its fields it is refused; one more in
/// any of its objects, which a later version may have, is passed over.
fn is_read_whole<D>(document: &D)
where
    D: Serialize + DeserializeOwned,
{
    let text = serde_json::to_string(document).unwrap();
    let value: Value = serde_json::from_str(&text).unwrap();
    // Both are read from the text: reading may move the last bit of a number.
    let read: D = serde_json::from_str(&text).unwrap();
    assert!(serde_json::to_value(&read).unwrap() == value, "{text:.60}");
    for place in objects(&value) {
        let fields = value.pointer(&place).unwrap().as_object().unwrap();
        for field in fields.keys() {
            let mut without = value.clone();
            let object = without.pointer_mut(&place).unwrap();
            object.as_object_mut().unwrap().remove(field);
            let read = serde_json::from_value::<D>(without);
            assert!(read.is_err(), "{place}/{field} may be missing");
        }
        let mut with = value.clone();
        with.pointer_mut(&place).unwrap()["unheard_of"] = json!(1);
        let read = serde_json::from_value::<D>(with);
        let again = serde_json::to_value(read.unwrap()).unwrap();
        assert!(again.pointer(&place).unwrap().get("unheard_of").is_none());
    }
}

/// Places of the objects, those of the first three items of each list.
fn objects(value: &Value) -> Vec<String> {
    let within = |name: &str, value: &Value| {
        let name = name.to_owned();
        let places = objects(value).into_iter();
        places.map(move |place| format!("/{name}{place}"))
    };
    match value {
        Value::Object(fields) => {
            let deeper = fields.iter().flat_map(|(name, value)| within(name, value));
            std::iter::once(String::new()).chain(deeper).collect()
        }
        Value::Array(items) => {
            let items = items.iter().enumerate().take(3);
            items
                .flat_map(|(index, value)| within(&index.to_string(), value))
                .collect()
        }
        _ => Vec::new(),
    }
}

#[test]
fn briefings_and_what_ifs_are_read_whole() {
    for briefing in briefings() {
        is_read_whole(&document::Briefing::try_from(&briefing).unwrap());
        let plan = &briefing.plan;
        let asked = ChangesAsked {
            late: vec![Time::from_min(5.0)],
            ..ChangesAsked::default()
        };
        let deviations = asked.deviations(plan.units()).unwrap().into_iter();
        let changes: Vec<Change> = deviations.map(|one| Change::of(plan, one)).collect();
        let planned = deviate(plan, &Deviation::NONE).unwrap();
        is_read_whole(&WhatIf::new(&briefing, &planned, &changes).unwrap());
    }
}

#[test]
fn traces_and_explanations_are_read_whole() {
    for briefing in briefings() {
        let usual = CompartmentChoice::usual();
        let dive = TracedDive::new(&briefing, Time::from_min(60.0), usual).unwrap();
        let mut trace = Trace::new(&briefing, dive.samples()).unwrap();
        trace.samples.truncate(2);
        is_read_whole(&trace);
        let explanations = explain(&briefing, &[], briefing.plan.units()).unwrap();
        let mut explain = Explain::new(&briefing, &explanations).unwrap();
        explain.explanations.truncate(2);
        is_read_whole(&explain);
    }
}

#[test]
fn limits_are_read_whole() {
    let plan = read(STAGED).unwrap();
    let asked = LimitsAsked {
        gases: vec!["air".parse().unwrap(), "EAN36".parse().unwrap()],
        factors: Vec::new(),
        from: None,
        to: None,
        step: None,
        oxygen_limit: Pressure::from_bar(1.4),
    };
    let sheet = LimitSheet::work_out(&plan, &asked, plan.units()).unwrap();
    is_read_whole(&Limits::try_from(&sheet).unwrap());
}

#[test]
fn keys_are_read_whole() {
    for file in [KeyFile::Plan, KeyFile::Record] {
        is_read_whole(&Keys::try_from(&KeySheet::all(file)).unwrap());
    }
}

#[test]
fn gases_are_read_whole() {
    let plan = read(STAGED).unwrap();
    let asked = MixAsked {
        gas: GasWanted::RichestFor(Depth::from_m(28.0)),
        oxygen_limit: Pressure::from_bar(1.4),
        factors: None,
        blend: Some(BlendWanted {
            fill: GaugePressure::from_bar(200.0),
            start: CylinderGas {
                pressure: GaugePressure::from_bar(40.0),
                gas: Mix::AIR,
            },
            top: Mix::AIR,
            temperature: None,
        }),
    };
    let sheet = MixSheet::work_out(&plan, &asked).unwrap();
    is_read_whole(&document::Mix::try_from(&sheet).unwrap());
    let deep = GasWanted::Named {
        gas: Mix::OXYGEN,
        depth: Some(Depth::from_m(9.0)),
    };
    let deep = MixAsked { gas: deep, ..asked };
    let sheet = MixSheet::work_out(&plan, &deep).unwrap();
    is_read_whole(&document::Mix::try_from(&sheet).unwrap());
}

#[test]
fn errors_and_rows_of_a_check_are_read_whole() {
    let overrides = Overrides {
        depth: Some("deep".to_owned()),
        ..Overrides::default()
    };
    let refused = read_with("[profile]\ndepht = \"18 m\"", &overrides).unwrap_err();
    let problems: Vec<Problem> = refused.problems().iter().map(Problem::from).collect();
    assert!(problems.len() > 1);
    let file = OsStr::new("reef.toml");
    let unusable = Verdict::Unusable;
    is_read_whole(&Errors::new(unusable, 2, Some(file), (problems.clone(), 3)));
    is_read_whole(&Check::refused(file, unusable, 2, (problems, 3)));
    is_read_whole(&Check::skipped(file, SkipReason::HiddenFile));
    for briefing in briefings() {
        is_read_whole(&Check::briefed(file, &briefing, 0));
    }
}

#[test]
fn days_are_read_whole() {
    let plan = |file: &str, text: &str| DayPlan {
        file: file.to_owned(),
        plan: read(text).unwrap(),
    };
    let (wall, slack) = (
        include_str!("../plans/kittiwake-wall.toml"),
        include_str!("../plans/slack-water.toml"),
    );
    let plans = vec![plan("wall.toml", wall), plan("slack.toml", slack)];
    let day = plan_day(plans, &[], None).unwrap();
    let home = home_by(&day, "15:00".parse().unwrap());
    for home in [None, home.as_ref()] {
        is_read_whole(&document::Day::new(&day, home).unwrap());
    }
}

#[test]
fn a_figure_that_is_no_number_makes_no_document() {
    let mut briefing = briefings().remove(0);
    briefing.oxygen.otu = f64::NAN;
    let error = document::Briefing::try_from(&briefing).unwrap_err();
    assert_eq!(
        error.to_string(),
        "internal check failed: oxygen.otu is NaN"
    );
    let mut briefing = briefings().remove(0);
    briefing.divers[1].end = Some(briefing.divers[1].fill * f64::INFINITY);
    let error = document::Briefing::try_from(&briefing).unwrap_err();
    assert!(error.to_string().contains("divers[1].end_bar is inf"));
}
