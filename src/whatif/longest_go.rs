//! The longest bottom time of a go, and what ends it.

use super::trial::Trial;
use crate::dive::ScheduleError;
use crate::finding::{Finding, Weight};
use crate::gas::{DiverCylinders, DiverLimits, GREATEST_BOTTOM_TIME_MIN, LimitEnd};
use crate::plan::Plan;
use crate::quantity::Time;
use crate::quantity::show::whole_minutes;
use serde::Serialize;

/// The longest whole bottom time that a screen may speak of, the last level stretched.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LongestGo {
    /// Whole minutes.
    pub minutes: u32,
    /// What ends it.
    pub ended_by: LongestEnd,
}

/// What ends the bottom time of a go.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
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
pub(crate) fn longest_go(
    plan: &Plan,
    cylinders: &[DiverCylinders],
    limits: &[DiverLimits],
    no_stop: Option<u32>,
) -> LongestGo {
    let limit = DiverLimits::least(limits);
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
            let limiting = DiverLimits::limiting(limits).into_iter();
            let names = limiting.map(|index| plan.divers()[index].name.clone());
            LongestGo {
                minutes: gas,
                ended_by: LongestEnd::Gas(names.collect()),
            }
        }
        _ => LongestGo {
            minutes: gas,
            ended_by: LongestEnd::Bound,
        },
    };
    let mut go = whole_minutes(plan.bottom_time());
    if first.minutes <= go {
        return first;
    }
    let Some(mut ended_by) = end_at(plan, cylinders, first.minutes) else {
        return first;
    };
    let mut no_go = first.minutes;
    while no_go - go > 1 {
        let middle = go.midpoint(no_go);
        match end_at(plan, cylinders, middle) {
            None => go = middle,
            Some(end) => (no_go, ended_by) = (middle, end),
        }
    }
    LongestGo {
        minutes: go,
        ended_by,
    }
}

/// Why the plan left at a bottom time is no go; `None` where it is one.
fn end_at(plan: &Plan, cylinders: &[DiverCylinders], minutes: u32) -> Option<LongestEnd> {
    let cut = plan.left_at(Time::from_min(f64::from(minutes)))?;
    let mut findings = match Trial::of(&cut, cylinders) {
        Ok(dive) => dive.findings(&cut),
        Err(cause) => return Some(LongestEnd::Schedule(cause)),
    };
    findings.retain(|finding| finding.weight() == Weight::NoGo);
    (!findings.is_empty()).then_some(LongestEnd::NoGo(findings))
}
