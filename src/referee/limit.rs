//! No-stop limits by the referee.

use super::body::{Body, Gas};
use super::course::Rules;
use super::dive::body;
use super::evidence::Evidence;
use super::objection::{Judged, Question, sure};
use crate::dive::{NoStopLimit, Reach};
use crate::tissue::Tissues;

/// How far to either side of a limit the answer is asked for, minutes.
const BESIDE_MIN: f64 = 1e-6;
/// Limits are looked for up to this bottom time.
const BOUND_MIN: f64 = 999.0;
/// And the answer has to be the same at so many moments before the limit.
const BEFORE: u32 = 4;

pub(super) fn judge(rules: &Rules<'_>, evidence: &Evidence<'_>) -> Judged {
    let plan = evidence.plan;
    let depths = plan.levels().iter().map(|level| level.depth.as_m());
    let depth_m = depths.fold(0.0, f64::max);
    let team = body(&plan.start().tissues);
    let clean = Body {
        nitrogen: [(rules.surface_bar - 0.0627) * 0.79; 16],
        helium: [0.0; 16],
    };
    judge_limit(rules, &team, depth_m, evidence.no_stop_limit, "the team's")?;
    judge_limit(rules, &clean, depth_m, evidence.clean_limit, "the")?;
    let mut judged: Option<(Gas, &Tissues, Reach)> = None;
    for (index, own) in evidence.own.iter().enumerate() {
        let gas = Gas::from(plan.gas_of(index));
        let start = plan.starts().get(index).unwrap_or(plan.start());
        let known = judged.is_some_and(|(known, tissues, reach)| {
            known.is(gas) && *tissues == start.tissues && reach == own.limit.reach
        });
        if !known {
            let rules = Rules {
                bottom: gas,
                ..rules.clone()
            };
            let tissues = body(&start.tissues);
            judge_limit(&rules, &tissues, depth_m, &own.limit, "a diver's own")?;
        }
        judged = Some((gas, &start.tissues, own.limit.reach));
    }
    Ok(())
}

fn judge_limit(
    rules: &Rules<'_>,
    start: &Body,
    depth_m: f64,
    said: &NoStopLimit,
    whose: &str,
) -> Judged {
    let descent_min = depth_m / rules.descent;
    let arrived = rules.after(start, 0.0, depth_m, descent_min, rules.bottom);
    let open_at = |bottom_min: f64, lean_bar: f64| {
        let stay_min = bottom_min - descent_min;
        let leaving = rules.after(&arrived, depth_m, depth_m, stay_min, rules.bottom);
        let over_bar = rules.over_straight_up(&leaving, depth_m);
        over_bar <= rules.lean_bar + lean_bar
    };
    let object = |so: bool, what: &str| {
        sure(Question::NoStopLimit, so, || {
            format!(
                "{whose} no-stop limit at {depth_m} m: {what}; {:?} in the briefing",
                said.reach
            )
        })
    };
    // At the limit itself a compartment is at its limit: that hangs on a hair.
    let hair_bar = 2e-10;
    match said.reach {
        Reach::Nothing => object(!open_at(descent_min, -hair_bar), "the depth may be touched"),
        Reach::Unlimited => object(open_at(BOUND_MIN, hair_bar), "there is one"),
        Reach::Until(limit) => {
            let limit_min = limit.as_min();
            object(
                limit_min >= descent_min - BESIDE_MIN && limit_min <= BOUND_MIN + BESIDE_MIN,
                "it is no time at that depth",
            )?;
            object(!open_at(limit_min + BESIDE_MIN, -hair_bar), "there is more")?;
            (0..=BEFORE).try_for_each(|part| {
                let share = f64::from(part) / f64::from(BEFORE);
                let before = (limit_min - BESIDE_MIN - descent_min).max(0.0) * share;
                object(open_at(descent_min + before, hair_bar), "it is less")
            })
        }
    }
}
