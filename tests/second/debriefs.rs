//! Debriefs against a second implementation.
//!
//! `data/debrief_cases.jsonl` was worked out in another language by somebody who had the definitions
//! and had not seen this code: one case a line, a plan, records, and what each comes to.

use hangbar::debrief::{Debrief, Debriefing};
use hangbar::plan_file::{read, read_pencil};
use hangbar::record::{RecordFormat, format_of, read_csv};
use hangbar::report::document;
use serde_json::Value;

const CASES: &str = include_str!("../data/debrief_cases.jsonl");
/// Two ways to the same figure, as a share of it where it is large.
const SAME: f64 = 1e-8;
/// A ceiling's 1e-9 bar, m.
const SAME_M: f64 = 1e-7;

fn debriefed(case: &Value) -> Debrief {
    let plan = read(case["plan"].as_str().unwrap()).unwrap();
    let mut debriefing = Debriefing::of(plan).unwrap();
    for record in case["records"].as_array().unwrap() {
        let file = record["file"].as_str().unwrap();
        let text = record["text"].as_str().unwrap();
        if format_of(text.as_bytes()).unwrap() == RecordFormat::Pencil {
            for log in read_pencil(text, debriefing.plan()).unwrap() {
                debriefing.pencilled(file, &log).unwrap();
            }
        } else {
            for log in read_csv(text.as_bytes()).unwrap() {
                debriefing.sampled(file, None, &log).unwrap();
            }
        }
    }
    debriefing.end().unwrap()
}

struct Compare<'a> {
    name: String,
    wrong: &'a mut Vec<String>,
}

impl Compare<'_> {
    fn number(&mut self, what: &str, got: &Value, want: &Value, same: f64) {
        let is_same = match (got.as_f64(), want.as_f64()) {
            (Some(got), Some(want)) => (got - want).abs() <= same * want.abs().max(1.0),
            (None, None) => got == want,
            _ => false,
        };
        if !is_same {
            self.wrong
                .push(format!("{}: {what} is {got}, want {want}", self.name));
        }
    }

    fn spans(&mut self, what: &str, got: &Value, want: &Value) {
        let (got, want) = (got.as_array().unwrap(), want.as_array().unwrap());
        if got.len() != want.len() {
            self.wrong.push(format!(
                "{}: {} {what}, want {}",
                self.name,
                got.len(),
                want.len()
            ));
        }
        for (got, want) in got.iter().zip(want) {
            self.number(what, &got["start_min"], &want[0], SAME);
            self.number(what, &got["end_min"], &want[1], SAME);
        }
    }

    fn record(&mut self, got: &Value, want: &Value) {
        const FIGURES: [&str; 7] = [
            "greatest_depth_m",
            "run_time_min",
            "average_depth_m",
            "exposure_atm_min",
            "start_bar",
            "end_bar",
            "used_l",
        ];
        let consumption = &got["consumption_l_per_min"];
        self.number("consumption", consumption, &want["consumption_l_min"], SAME);
        for figure in FIGURES {
            self.number(figure, &got[figure], &want[figure], SAME);
        }
        assert_eq!(got["diver"], want["diver"], "{}", self.name);
        if want["consumption_exposure_atm_min"].is_number() {
            let counted = "consumption_exposure_atm_min";
            self.number(counted, &got[counted], &want[counted], SAME);
        }
        for (index, tissue) in want["tissues"].as_array().unwrap().iter().enumerate() {
            for gas in ["n2_bar", "he_bar"] {
                self.number(gas, &got["tissues"][index][gas], &tissue[gas], 1e-9);
            }
        }
        self.number("CNS", &got["oxygen"]["cns_pct"], &want["cns_pct"], SAME);
        self.number("OTU", &got["oxygen"]["otu"], &want["otu"], SAME);
        let up = &got["way_up"];
        self.number(
            "way up",
            &up["gradient_pct"],
            &want["way_up_gradient_pct"],
            SAME,
        );
        self.number(
            "way up",
            &up["compartment"],
            &want["way_up_compartment"],
            SAME,
        );
        self.number("way up", &up["at_min"], &want["at_min"], SAME);
        let surfacing = &got["surfacing"];
        self.number(
            "surfacing",
            &surfacing["gradient_pct"],
            &want["surfacing_gradient_pct"],
            SAME,
        );
        self.number(
            "surfacing",
            &surfacing["compartment"],
            &want["surfacing_compartment"],
            SAME,
        );
        if want["too_fast"].is_null() {
            return;
        }
        let fastest = &got["fastest"]["greatest_rate_m_per_min"];
        self.number("rate", fastest, &want["greatest_rate_m_min"], SAME);
        self.spans("too fast", &got["too_fast"], &want["too_fast"]);
        self.spans("gaps", &got["gaps"], &want["gaps"]);
        let above = got["above_ceiling"].as_array().unwrap().iter();
        let readings: u64 = above
            .clone()
            .map(|one| one["readings"].as_u64().unwrap())
            .sum();
        self.number(
            "above",
            &readings.into(),
            &want["above_ceiling"]["samples"],
            SAME,
        );
        let most = above
            .map(|one| one["most_m"].as_f64().unwrap())
            .fold(0.0, f64::max);
        if readings > 0 {
            self.number(
                "above",
                &most.into(),
                &want["above_ceiling"]["greatest_m"],
                SAME_M,
            );
        }
    }
}

#[test]
fn every_debrief_comes_out_as_the_second_implementation_has_it() {
    let mut wrong = Vec::new();
    let (mut cases, mut records) = (0, 0);
    for line in CASES.lines() {
        let case: Value = serde_json::from_str(line).unwrap();
        let debrief = debriefed(&case);
        let got = serde_json::to_value(document::Debrief::new(&debrief).unwrap()).unwrap();
        let mut compare = Compare {
            name: case["name"].as_str().unwrap().to_owned(),
            wrong: &mut wrong,
        };
        let want = case["expect"]["records"].as_array().unwrap();
        assert_eq!(got["records"].as_array().unwrap().len(), want.len());
        for (index, want) in want.iter().enumerate() {
            compare.record(&got["records"][index], want);
            records += 1;
        }
        for want in case["expect"]["divers"].as_array().unwrap() {
            let divers = got["divers"].as_array().unwrap();
            let got = divers
                .iter()
                .find(|one| one["name"] == want["name"])
                .unwrap();
            for of in ["suggested", "median", "least", "greatest"] {
                let (ours, theirs) = (format!("{of}_l_per_min"), format!("{of}_l_min"));
                compare.number(of, &got[ours], &want[theirs], SAME);
            }
        }
        cases += 1;
    }
    assert_eq!((cases, records), (88, 117));
    assert!(
        wrong.is_empty(),
        "{} differences:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
