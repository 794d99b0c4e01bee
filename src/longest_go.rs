//! The longest bottom time of a go, and what ends it.

use crate::bottom_times::{GREATEST_BOTTOM_TIME_MIN, LimitEnd};
use crate::briefing::reckon;
use crate::finding::{Finding, Weight};
use crate::gas_budget::DiverBudget;
use crate::plan::Plan;
use crate::schedule::ScheduleError;
use crate::units::Time;

/// The longest whole bottom time that a screen may speak of, the last level stretched.
#[derive(Clone, Debug, PartialEq)]
pub struct LongestGo {
    /// Whole minutes.
    pub minutes: u32,
    /// What ends it.
    pub ended_by: LongestEnd,
}

/// What ends the bottom time of a go.
#[derive(Clone, Debug, PartialEq)]
pub enum LongestEnd {
    /// The no-stop limit: beyond it stops are compulsory.
    NoStop,
    /// The main cylinders of these divers.
    Gas(Vec<String>),
    /// No way up can be worked out beyond it.
    Schedule(ScheduleError),
    /// What makes the next minute a no-go.
    NoGo(Vec<Finding>),
    /// Nothing up to [`GREATEST_BOTTOM_TIME_MIN`].
    Bound,
}

/// Of a plan that is a go: the least of the divers' gas limits and, where the plan itself needs no
/// stops, of the no-stop bottom time; and within that the last minute that is a go by every rule,
/// found by halving: oxygen and stage cylinders are asked for more the longer a dive lasts.
#[must_use]
pub(crate) fn longest_go(plan: &Plan, divers: &[DiverBudget], no_stop: Option<u32>) -> LongestGo {
    let limit = divers
        .iter()
        .map(|diver| diver.gas_limit)
        .min_by_key(|limit| limit.minutes);
    let gas = limit.map_or(GREATEST_BOTTOM_TIME_MIN, |limit| limit.minutes);
    let first = match (no_stop, limit.map(|limit| limit.ended_by)) {
        (Some(minutes), _) if minutes < gas => LongestGo {
            minutes,
            ended_by: LongestEnd::NoStop,
        },
        (_, Some(LimitEnd::Schedule { cause, .. })) => LongestGo {
            minutes: gas,
            ended_by: LongestEnd::Schedule(cause),
        },
        (_, Some(LimitEnd::Gas { .. })) => {
            let limiting = divers.iter().filter(|diver| diver.gas_limit.minutes == gas);
            LongestGo {
                minutes: gas,
                ended_by: LongestEnd::Gas(limiting.map(|diver| diver.name.clone()).collect()),
            }
        }
        _ => LongestGo {
            minutes: gas,
            ended_by: LongestEnd::Bound,
        },
    };
    let mut go = whole_minutes(plan.bottom_time());
    let mut no_gos = no_gos_at(plan, first.minutes);
    if first.minutes <= go || no_gos.is_empty() {
        return first;
    }
    let mut no_go = first.minutes;
    while no_go - go > 1 {
        let middle = go.midpoint(no_go);
        let found = no_gos_at(plan, middle);
        if found.is_empty() {
            go = middle;
        } else {
            (no_go, no_gos) = (middle, found);
        }
    }
    LongestGo {
        minutes: go,
        ended_by: LongestEnd::NoGo(no_gos),
    }
}

fn no_gos_at(plan: &Plan, minutes: u32) -> Vec<Finding> {
    let Some(cut) = plan.left_at(Time::from_min(f64::from(minutes))) else {
        return Vec::new();
    };
    let findings = reckon(&cut).map(|dive| dive.findings(&cut));
    let mut findings = findings.unwrap_or_default();
    findings.retain(|finding| finding.weight() == Weight::NoGo);
    findings
}

/// Whole minutes, not more.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "run times are non-negative and far below u32's bound"
)]
pub(crate) fn whole_minutes(time: Time) -> u32 {
    (time.as_min() + crate::schedule::SAME_MOMENT_MIN).floor() as u32
}
