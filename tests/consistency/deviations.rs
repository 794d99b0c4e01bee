//! What a what-if says of a change is what the briefing of the changed plan says.

use hangbar::briefing::Briefing;
use hangbar::quantity::{DepthChange, Time};
use hangbar::report::{Change, document};
use hangbar::whatif::{Deviation, deviate};
use serde_json::Value;

use crate::cases::{Case, Left, Wrong, briefed, each, same};

/// The row of a change, and the row that the briefing of the changed plan makes of the plan itself.
fn compare(
    what: &str,
    case: &Case,
    deviation: Deviation,
    plan: Option<&Briefing>,
    wrong: &mut Wrong,
) {
    let change = deviate(&case.briefing.plan, &deviation);
    match (&change, plan) {
        (Ok(_), Some(planned)) => {
            let row = row(&case.briefing, deviation);
            let outcome = planned.outcome();
            let planned = document::WhatIf::new(planned, &outcome, &[]).unwrap();
            let planned = serde_json::to_value(planned.planned).unwrap();
            same(what, &planned, &row["outcome"], wrong);
            if change.is_ok_and(|change| {
                let stages = |outcome: &hangbar::whatif::Outcome| -> Vec<bool> {
                    outcome
                        .divers
                        .iter()
                        .map(|diver| diver.stages_hold)
                        .collect()
                };
                stages(&change) != stages(&outcome)
            }) {
                wrong.push(format!("{what}: stage cylinders hold in one of the two"));
            }
        }
        (Err(_), None) => {}
        (Ok(_), None) => wrong.push(format!("{what}: a row, and no such plan")),
        (Err(error), Some(_)) => wrong.push(format!("{what}: no row ({error}), and such a plan")),
    }
}

fn row(briefing: &Briefing, deviation: Deviation) -> Value {
    let changes = [Change::of(&briefing.plan, deviation)];
    let document = document::WhatIf::new(briefing, &briefing.outcome(), &changes).unwrap();
    serde_json::to_value(&document.changes[0]).unwrap()
}

#[test]
fn so_many_minutes_late_is_the_plan_with_so_much_more_bottom_time() {
    each("late", 40, |case, random, wrong| {
        let late = match random.whole(0..=3) {
            0 => random.of_range(0.5, 240.0),
            _ => f64::from(random.whole(1..=30)),
        };
        let planned = Left::at(&case.text, case.drawn.bottom_min() + late).briefing();
        let deviation = Deviation::late(Time::from_min(late));
        compare(
            &format!("+{late} min"),
            case,
            deviation,
            planned.as_ref(),
            wrong,
        );
        1
    });
}

#[test]
fn so_much_deeper_or_harder_is_the_plan_that_is_deeper_or_harder() {
    each("deeper, harder", 20, |case, random, wrong| {
        let plan = &case.drawn;
        let (late, metres) = (f64::from(random.whole(1..=10)), random.of_range(0.1, 50.0));
        let pct = f64::from(random.whole(1..=300));
        let deeper = Deviation::deeper(DepthChange::from_m(metres));
        let deeper_and_late = Deviation {
            late: Time::from_min(late),
            ..deeper
        };
        let rows = [
            (deeper, plan.deeper(metres)),
            (deeper_and_late, plan.deeper(metres).later(late)),
            (Deviation::harder(pct), plan.harder(1.0 + pct / 100.0)),
        ];
        for (deviation, changed) in rows {
            let what = format!("{late} min late, {metres} m deeper, {pct} % harder: {deviation:?}");
            compare(
                &what,
                case,
                deviation,
                briefed(&changed.metric()).as_ref(),
                wrong,
            );
        }
        3
    });
}
