//! Who comes with what: each name through the day.

use super::error::DayError;
use super::order::DayPlan;
use crate::plan::{Arrival, Plan, Waiting};
use crate::quantity::{Altitude, Pressure, Time};
use crate::rules::{DiveRules, Start};
use crate::site::{Mix, standard_altitude};

/// Air that differs by less than this is the same air on another day: the weather, or a shore some
/// way up. What lies between is taken at the higher pressure, where less is given off.
const SAME_AIR: Altitude = Altitude::from_m(300.0);
/// Two ways to the same height, m.
const SAME_HEIGHT_M: f64 = 1e-6;

/// A diver through the day.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Person {
    /// The name.
    pub name: String,
    /// The dives of the day that this diver makes, from 0.
    pub dives: Vec<usize>,
    /// What was breathed last, and in which plan.
    pub gas: (Mix, String),
    /// The greatest share of the single-exposure oxygen limits at any surfacing, per cent.
    pub most_cns_pct: f64,
    /// As the last dive of the day surfaces, made by this diver or not.
    pub now: Start,
    /// The air where that is.
    pub(super) air: Pressure,
    /// That of the lowest site of the day so far.
    pub(super) lowest: Pressure,
}

/// Whether a site is that much higher than another one.
pub(super) fn is_higher(was: Pressure, now: Pressure) -> bool {
    now < was && same_air(was, now).is_none()
}

/// The pressure at which a wait between two sites of nearly the same air is taken.
fn same_air(was: Pressure, now: Pressure) -> Option<Pressure> {
    let height = |air| standard_altitude(air).as_m();
    let differs = (height(was) - height(now)).abs();
    (differs <= SAME_AIR.as_m() + SAME_HEIGHT_M).then_some(if was > now { was } else { now })
}

impl Person {
    /// The wait before a plan of the day: what it begins with at the plan's site, how long it is
    /// there, and what this diver brings at its end.
    pub(super) fn wait(
        &self,
        interval: Time,
        plan: &DayPlan,
    ) -> Result<(Waiting, Start), DayError> {
        let rules = plan.plan.rules();
        let surface = rules.environment.surface();
        let rest = |start: &Start, air, time| start.rested(&rules.compartments, air, time);
        if let Some(air) = same_air(self.air, surface) {
            let start = rest(&self.now, air, interval);
            return Ok((Waiting::of(self.now, interval, air), start));
        }
        let Some(Arrival {
            before_first_dive: arrived,
            ..
        }) = plan.plan.site().arrival
        else {
            return Err(DayError::Unarrived {
                file: plan.file.clone(),
                name: self.name.clone(),
                was: self.air,
                now: surface,
            });
        };
        if arrived.is_over(interval) {
            return Err(DayError::ArrivedTooEarly {
                file: plan.file.clone(),
                name: self.name.clone(),
                arrived,
                interval,
            });
        }
        let there = rest(&self.now, self.air, interval - arrived);
        let start = rest(&there, surface, arrived);
        Ok((Waiting::of(there, arrived, surface), start))
    }

    /// Whether a plan changes this diver's gas without a word.
    pub(super) fn check_gas(&self, plan: &DayPlan, index: usize) -> Result<(), DayError> {
        let own = plan.plan.divers().get(index).and_then(|diver| diver.gas);
        let said = plan.plan.says_gas() || own.is_some();
        let now = plan.plan.gas_of(index);
        if said || now.is_same_gas(self.gas.0) {
            return Ok(());
        }
        Err(DayError::GasUnsaid {
            name: self.name.clone(),
            was: self.gas.0,
            before: self.gas.1.clone(),
            file: plan.file.clone(),
            now,
        })
    }

    /// Time at the surface where this diver is, while others dive.
    pub(super) fn stay(&mut self, rules: &DiveRules, time: Time) {
        self.now = self.now.rested(&rules.compartments, self.air, time);
    }
}

/// Whose own earlier dives a plan tells, though they are known from the plans before it. `names` are
/// its divers, or what a team without names is called.
pub(super) fn told_twice(
    plan: &Plan,
    names: Vec<String>,
    known: impl Fn(&str) -> bool,
) -> Option<String> {
    let mut told = names.into_iter().filter(|name| {
        let mut before = plan.before().iter();
        before.any(|dive| dive.was_dived_by(name))
    });
    told.find(|name| known(name))
}
