//! Harder breathing and more trouble are never cheaper; and how a harder dive stands to its gas.

use hangbar::briefing::Briefing;

use crate::cases::{Wrong, briefed, each, each_changed};
use crate::drawn::Drawn;
use crate::harder::{Count, passes_the_safety_level, takes_up_gas};
use crate::random::Random;

/// Rounding of litres and bar.
const SAME: f64 = 1e-6;

/// What must be kept is no less, what may be used is no more, for any diver.
fn is_no_cheaper(what: &str, harder: &Briefing, easier: &Briefing, wrong: &mut Wrong) {
    let divers = harder.divers.iter().zip(&easier.divers);
    for (index, (more, less)) in divers.enumerate() {
        let limits = [harder, easier].map(|briefing| &briefing.limits[index]);
        let pony = limits.map(|limits| limits.pony_covers_until.map(|limit| limit.minutes));
        let holds = [
            more.reserve.as_l() >= less.reserve.as_l() - SAME,
            more.minimum_gas.as_bar() >= less.minimum_gas.as_bar() - SAME,
            more.planned_use.as_l() >= less.planned_use.as_l() - SAME,
            more.turn.as_bar() >= less.turn.as_bar() - SAME,
            limits[0].gas_limit.minutes <= limits[1].gas_limit.minutes,
            pony[0] <= pony[1],
            less.reserve_holds() || !more.reserve_holds(),
        ];
        if !holds.iter().all(|holds| *holds) {
            wrong.push(format!("{what} is cheaper for {}: {holds:?}", more.name));
        }
    }
}

#[test]
fn more_trouble_and_a_larger_consumption_are_never_cheaper() {
    each("hungrier", 20, |case, random, wrong| {
        let by = random.pick(&[1.001, 1.1, 1.5, 2.0]);
        let stressed = Drawn {
            stress: (case.drawn.stress * by).min(5.0),
            ..case.drawn.clone()
        };
        // One diver breathes more: nobody of the others is better off.
        let mut hungry = case.drawn.clone();
        if let Some(first) = hungry.team.first_mut() {
            first.breathe_harder(by);
        }
        for (what, plan) in [("stress", &stressed), ("sac", &hungry)] {
            if let Some(harder) = briefed(&plan.metric()) {
                is_no_cheaper(what, &harder, &case.briefing, wrong);
            }
        }
        1
    });
}

/// How often a harder dive asks for less reserve, or has the longer gas limit.
#[derive(Default)]
struct Gained {
    reserve_pct: Count,
    limit_min: Count,
}

/// Half of the plans have one factor at every depth, and so a line that no anchor moves.
fn one_factor(plan: &mut Drawn, random: &mut Random) {
    if random.once_in(2) {
        plan.factors.0 = plan.factors.1;
        plan.levels.truncate(1);
        plan.decompression.clear();
        for member in &mut plan.team {
            member.stages.clear();
        }
    }
}

/// Whether a minute more at the only level surely asks for no less reserve: every tissue takes up gas,
/// the stops of the two ways up are a minute apart, and nothing is breathed but the bottom gas.
fn takes_no_less_for_a_minute_more(briefing: &Briefing) -> bool {
    let (rules, dive) = (briefing.plan.rules(), &briefing.schedule);
    let start = &dive.start.tissues;
    let one_line = rules.factors.high() - rules.factors.low() < 1e-9;
    one_line
        && dive.level_ends.len() == 1
        && rules.decompression.is_empty()
        && start.know_nitrogen_alone(rules.bottom_gas)
        && takes_up_gas(rules, start, dive)
        && passes_the_safety_level(rules, dive)
}

#[test]
fn a_minute_more_asks_for_no_less_reserve_where_the_line_stays_and_elsewhere_it_is_counted() {
    let names = [
        "a minute longer",
        "3 m deeper",
        "low factor less 5",
        "high factor less 5",
    ];
    let mut all = [(); 4].map(|()| Gained::default());
    let mut ordered = 0;
    each_changed("gas of harder dives", 20, one_factor, |case, _, wrong| {
        let (plan, easier) = (&case.drawn, &case.briefing);
        let (low, high) = plan.factors;
        let with = |factors| Drawn {
            factors,
            ..plan.clone()
        };
        let harder = [
            plan.later(1.0),
            plan.deeper(3.0),
            with((low - 5.0, high)),
            with((low, high - 5.0)),
        ];
        for (index, (harder, gained)) in harder.iter().zip(&mut all).enumerate() {
            // Not where there is no such plan, or no such dive.
            let Some(harder) = briefed(&harder.metric()) else {
                continue;
            };
            let is_ordered = index == 0 && takes_no_less_for_a_minute_more(easier);
            ordered += u32::from(is_ordered);
            for (index, (more, less)) in harder.divers.iter().zip(&easier.divers).enumerate() {
                let (litres, before) = (more.reserve.as_l(), less.reserve.as_l());
                gained.reserve_pct.add(100.0 * (1.0 - litres / before));
                let minutes = [&harder, easier].map(|of| of.limits[index].gas_limit.minutes);
                gained
                    .limit_min
                    .add(f64::from(minutes[0]) - f64::from(minutes[1]));
                if is_ordered && litres < before - SAME {
                    wrong.push(format!("{litres} L for a minute more, {before} L before"));
                }
            }
        }
        1
    });
    for (name, gained) in names.iter().zip(&all) {
        let Gained {
            reserve_pct,
            limit_min,
        } = gained;
        println!("{name}: less reserve {reserve_pct} %; longer limit {limit_min} min");
    }
    assert!(ordered > 0, "no minute more was ordered");
}
