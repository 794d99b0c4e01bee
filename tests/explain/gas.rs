//! Gas and ponies against the briefing.

use std::collections::BTreeSet;

use hangbar::explain::{Explanation, STRAY_UNITS, Step, Topic, explain};
use hangbar::gas::{NeedBy, PonyVerdict};
use hangbar::quantity::show::Show;
use hangbar::quantity::{FreeVolume, GaugePressure, UnitSystem};

use crate::document::{CLOSING, all_words, briefing_of, equations, last, rows_of};
use crate::plans::every_plan;
use crate::reader::student_agrees;

/// Litres: what [`STRAY_UNITS`] leaves of the last of two decimals.
const LITRES: f64 = 0.01 * STRAY_UNITS;

#[test]
fn the_gas_explained_is_the_gas_briefed() {
    let (mut floors, mut ponies, mut empty, mut beyond) = (0, BTreeSet::new(), 0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let rows = rows_of(&plan);
        for budget in &briefing.divers {
            let who = format!("{name}: {}", budget.name);
            let row = rows
                .iter()
                .find(|row| row.diver.as_deref() == Some(&budget.name))
                .unwrap();
            let words = all_words(row);
            let gauge = Show(budget.gauge.unwrap_or(briefing.plan.units()));
            let close = |symbol: &str, model: f64, allowed: f64| {
                let printed = last(row, symbol).unwrap_or_else(|| panic!("{who}: no {symbol}"));
                let off = (printed - model).abs();
                assert!(off <= allowed, "{who}: {symbol} is {printed}, not {model}");
            };
            // The figure on the gauge follows from the printed one just as from the model's.
            let on_gauge = |symbol: &str| match gauge.0 {
                UnitSystem::Metric => GaugePressure::from_bar(last(row, symbol).unwrap()),
                UnitSystem::Imperial => {
                    let psi = last(row, &format!("{symbol}_psi")).unwrap();
                    GaugePressure::from_psi(psi)
                }
            };
            // With several levels each has a reserve of its own, and a hang may be more than
            // the last: the briefing's is the greatest.
            let needs = equations(row)
                .filter(|line| line.symbol.starts_with("V_res") || line.symbol == "V_hang");
            let greatest = needs
                .map(|line| line.result.parse::<f64>().unwrap())
                .fold(0.0, f64::max);
            let off = (greatest - budget.reserve.as_l()).abs();
            assert!(off <= LITRES, "{who}: {greatest}, not {:?}", budget.reserve);
            close("V_start", budget.start.as_l(), LITRES);
            let minimum = gauge.pressure_up(budget.minimum_gas);
            assert!(
                words.contains(&format!("The briefing says {minimum}")),
                "{who}: {words}"
            );
            // The greatest minimum is on one of the level ends.
            let floor = briefing.plan.reserve().floor;
            if budget
                .levels
                .iter()
                .all(|level| level.need_by == NeedBy::Floor)
            {
                assert_eq!(budget.minimum_gas, floor, "{who}");
                assert!(last(row, "p_min").is_none(), "{who}");
                floors += 1;
            } else if minimum.starts_with('>') {
                assert!(last(row, "p_min").is_none(), "{who}");
                beyond += 1;
            } else {
                close("p_min", budget.minimum_gas.as_bar(), CLOSING);
                assert_eq!(gauge.pressure_up(on_gauge("p_min")), minimum, "{who}");
            }
            let turn = gauge.pressure_up(budget.turn);
            if turn.starts_with('>') {
                assert!(last(row, "p_turn").is_none(), "{who}");
            } else {
                close("p_turn", budget.turn.as_bar(), CLOSING);
                assert_eq!(gauge.pressure_up(on_gauge("p_turn")), turn, "{who}");
            }
            assert!(
                words.contains(&format!("The briefing says {turn}")),
                "{who}"
            );
            let holds = words.contains("nothing is missing, the reserve holds");
            let all = !words.contains("the reserve does not hold");
            let empty_on_the_bottom = words.contains("is empty before that");
            assert_eq!(
                holds && all && !empty_on_the_bottom,
                budget.reserve_holds(),
                "{who}"
            );
            match budget.levels.last().unwrap().left {
                Some(left) => {
                    close("p_left", left.as_bar(), CLOSING);
                    let shown = gauge.pressure_down(left);
                    assert_eq!(gauge.pressure_down(on_gauge("p_left")), shown, "{who}");
                }
                None => {
                    assert!(words.contains("is empty before that"), "{who}");
                    empty += 1;
                }
            }
            if let Some(pony) = &budget.pony {
                close("N_ascent", pony.need_ascent.as_l(), LITRES);
                close("N_full", pony.need_full.as_l(), LITRES);
                if pony.have.as_l() > 0.0 {
                    close("H", pony.have.as_l(), LITRES);
                }
                let show = Show(briefing.plan.units());
                let needed = match show.0 {
                    UnitSystem::Metric => FreeVolume::from_l(last(row, "N_full").unwrap()),
                    UnitSystem::Imperial => {
                        FreeVolume::from_cuft(last(row, "N_full_cuft").unwrap())
                    }
                };
                assert_eq!(
                    show.volume_up(needed),
                    show.volume_up(pony.need_full),
                    "{who}"
                );
                let verdict = match pony.verdict {
                    PonyVerdict::CoversAll => "it covers the way up with every stop",
                    PonyVerdict::CoversAscentOnly => "It covers a straight ascent, but not",
                    PonyVerdict::Short => "It does not even cover a straight ascent",
                };
                assert!(words.contains(verdict), "{who}: {words}");
                ponies.insert(verdict);
            }
        }
    }
    assert!(
        floors > 0 && empty > 0 && beyond > 0 && ponies.len() == 3,
        "{ponies:?}"
    );
}

#[test]
fn a_minimum_just_past_a_mark_of_the_gauge_is_printed_past_it() {
    let plan = |sac: f64| {
        format!(
            "[profile]\ndepth = \"30 m\"\nbottom_time = \"15 min\"\n[[diver]]\nname = \"A\"\n\
             sac = \"{sac:.12} L/min\"\ncylinder = {{ size = \"12 L\", fill = \"220 bar\" }}\n"
        )
    };
    // A breathing rate for which the minimum is 0.0001 bar over 100 bar.
    let (mut low, mut high) = (10.0_f64, 100.0_f64);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let minimum = briefing_of(&plan(middle)).divers[0].minimum_gas.as_bar();
        if minimum > 100.0001 {
            high = middle;
        } else {
            low = middle;
        }
    }
    let briefing = briefing_of(&plan(high));
    let model = briefing.divers[0].minimum_gas;
    assert!((model.as_bar() - 100.0001).abs() < 1e-6);
    let topics = [Topic::Gas("A".to_owned())];
    let gas = &explain(&briefing, &topics, UnitSystem::Metric).unwrap()[0];
    let line = equation(gas, "p_min");
    let printed: f64 = line.result.digits().parse().unwrap();
    assert!(printed > 100.0, "{printed}");
    let show = Show(UnitSystem::Metric);
    assert_eq!(show.pressure_up(model), "105 bar");
    assert_eq!(
        show.pressure_up(GaugePressure::from_bar(printed)),
        "105 bar"
    );
    student_agrees(&line.expression.numbers(), line.result.digits(), line.unit).unwrap();
}

fn equation<'a>(explanation: &'a Explanation, symbol: &str) -> &'a hangbar::explain::Equation {
    let find = |step: &'a Step| match step {
        Step::Equation(line) if line.result.symbol() == Some(symbol) => Some(line),
        _ => None,
    };
    explanation.steps.iter().find_map(find).unwrap()
}
