//! Each diver apart from the team: own tissues, own gas, own oxygen.

use crate::dive::{NoStopLimit, Schedule, limit_at};
use crate::oxygen::OxygenExposure;
use crate::plan::{Plan, through};
use crate::quantity::{Depth, Pressure, Time};
use crate::rules::Start;
use crate::site::{ADVISED_PO2_BAR, operating_depth};
use crate::tissue::Tissues;
use serde::Serialize;

/// What holds for one diver alone, beside what the team does together.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Own {
    /// No-stop limit at the deepest level, from the own tissues on the own gas.
    pub limit: NoStopLimit,
    /// Oxygen of the day so far, this dive included, on the own gas.
    pub oxygen: OxygenExposure,
    /// Maximum operating depth of the own gas, at [`ADVISED_PO2_BAR`].
    pub operating_depth: Depth,
    /// On surfacing.
    pub surfaced: Start,
}

/// The diver whose own no-stop limit is the least.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LimitSetBy {
    /// Index into the team.
    pub diver: usize,
    /// What that diver's limit would be with clean tissues, on the same gas.
    pub clean: NoStopLimit,
}

/// Each diver, in the order of the plan.
pub(crate) fn each(plan: &Plan, schedule: &Schedule) -> Vec<Own> {
    let mut each: Vec<Own> = Vec::with_capacity(plan.starts().len());
    for (index, start) in plan.starts().iter().enumerate() {
        // Divers who start alike and breathe alike are alike all dive long.
        let alike = |other: &usize| {
            plan.gas_of(*other) == plan.gas_of(index) && plan.starts()[*other] == *start
        };
        let own = match (0..index).find(alike) {
            Some(other) => each[other],
            None => own(plan, schedule, index),
        };
        each.push(own);
    }
    each
}

fn own(plan: &Plan, schedule: &Schedule, index: usize) -> Own {
    let (depth, advised) = (schedule.deepest(), Pressure::from_bar(ADVISED_PO2_BAR));
    let (rules, start) = (plan.rules_of(index), &plan.starts()[index]);
    let segments = plan.breathed_by(index, &schedule.segments);
    Own {
        limit: limit_at(&rules, &start.tissues, depth),
        oxygen: plan.oxygen_of(index, &schedule.segments),
        operating_depth: operating_depth(&rules.environment, rules.bottom_gas, advised),
        surfaced: through(&rules, start, &segments),
    }
}

/// Who sets the limit, where histories or gases differ: of equal ones the first of the plan.
pub(crate) fn limit_set_by(plan: &Plan, schedule: &Schedule, own: &[Own]) -> Option<LimitSetBy> {
    if !plan.histories_differ() && !plan.gases_differ() {
        return None;
    }
    let unlimited = Time::from_min(f64::INFINITY);
    let limit = |own: &Own| own.limit.time().unwrap_or(unlimited);
    let least = own.iter().map(limit).fold(unlimited, Time::min);
    let diver = own.iter().position(|own| !limit(own).is_over(least))?;
    let rules = plan.rules_of(diver);
    let clean = Tissues::clean(rules.environment.surface());
    Some(LimitSetBy {
        diver,
        clean: limit_at(&rules, &clean, schedule.deepest()),
    })
}
