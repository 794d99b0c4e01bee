//! The day before a dive: how the divers came, what they have dived, what is left of it.

use super::before::{Arrival, EarlierDive};
use super::builder::PlanError;
use crate::dive::{Schedule, ScheduleError, Segment, fly_checked};
use crate::oxygen::OxygenExposure;
use crate::quantity::{Pressure, Time};
use crate::rules::{DiveRules, Start};
use crate::site::Mix;
use crate::tissue::Tissues;
use serde::Serialize;

/// An earlier dive that has been flown, and what it left in each member of the team.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DiveBefore {
    /// The dive of those who dived it.
    pub schedule: Schedule,
    /// What was breathed.
    pub gas: Mix,
    /// Time at the surface until the next dive.
    pub surface_interval: Time,
    /// Who dived it, in the order of the members.
    pub dived: Vec<bool>,
    /// Each member on its surfacing.
    pub surfaced: Vec<Start>,
    /// Each member after the surface interval.
    pub rested: Vec<Start>,
}

impl DiveBefore {
    /// Whether it had compulsory stops.
    #[must_use]
    pub const fn had_stops(&self) -> bool {
        self.schedule.staged
    }
}

/// The day before a dive. Its members are the divers of the plan in their order, or one who has no
/// name where the plan has no diver.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct History {
    /// How they came, where that is what they begin the day with.
    pub arrival: Option<Arrival>,
    /// Each member before the first dive.
    pub arrived: Vec<Start>,
    /// The earlier dives, oldest first.
    pub dives: Vec<DiveBefore>,
    /// Going up to the site after dives lower down; `None` where it is no higher, or where nobody
    /// knows.
    pub climb: Option<Climb>,
    /// Each member at the surface before the dive; empty before a first dive.
    pub waiting: Vec<Waiting>,
    /// Each member on leaving the surface.
    pub starts: Vec<Start>,
}

/// Going up to a site from one that is lower, after dives there.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Climb {
    /// From the last surfacing to coming to the higher site.
    pub waited: Time,
    /// The wait that is advised before driving up so high, whole minutes; `None` where the model
    /// finds no end. Of several divers the longest.
    pub advised_min: Option<u32>,
}

impl Climb {
    /// Whether they go up before the advised wait is over.
    #[must_use]
    pub fn is_too_soon(self) -> bool {
        match self.advised_min {
            Some(advised) => Time::from_min(f64::from(advised)).is_over(self.waited),
            None => true,
        }
    }
}

/// Somebody at the surface between two dives of a day.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Waiting {
    /// As the waiting began.
    pub from: Start,
    /// How long it lasts by the plan. Members may differ: one came later, or from another boat.
    pub planned: Time,
    /// The air in which it is spent: that of the site, or a little more between sites of nearly the
    /// same air.
    pub air: Pressure,
}

impl Waiting {
    pub(crate) const fn of(from: Start, planned: Time, air: Pressure) -> Self {
        Self { from, planned, air }
    }
}

impl History {
    /// Flies the earlier dives of a plan. `first` is what everybody begins the day with, and how
    /// they came by it.
    ///
    /// Those who dive fly together from the most that any of them holds, and each goes through the
    /// dive's segments with tissues of the own; the others are at the surface meanwhile.
    pub(super) fn of(
        rules: &DiveRules,
        (first, arrival): (Start, Option<Arrival>),
        before: &[EarlierDive],
        names: &[&str],
    ) -> Result<Self, PlanError> {
        let arrived = vec![first; names.len().max(1)];
        let mut dives: Vec<DiveBefore> = Vec::with_capacity(before.len());
        for (index, dive) in before.iter().enumerate() {
            let starts = dives.last().map_or(&arrived, |last| &last.rested);
            let dived = arrived.iter().enumerate().map(|(member, _)| {
                let name = names.get(member);
                name.is_none_or(|name| dive.was_dived_by(name))
            });
            let flown = DiveBefore::fly(rules, dive, dived.collect(), starts);
            let number = index + 1;
            dives.push(flown.map_err(|cause| PlanError::EarlierDive { number, cause })?);
        }
        let starts = dives.last().map_or(&arrived, |last| &last.rested).clone();
        let waiting = dives.last().map_or_else(Vec::new, |last| {
            let planned = last.surface_interval;
            let members = last.surfaced.iter();
            let air = rules.environment.surface();
            let wait = |from: &Start| Waiting::of(*from, planned, air);
            members.map(wait).collect()
        });
        Ok(Self {
            arrival,
            arrived,
            dives,
            climb: None,
            waiting,
            starts,
        })
    }

    /// The members on leaving the surface where the interval before the dive is longer than planned
    /// by so much, or shorter; `None` where one of them is not back by then.
    #[must_use]
    pub fn waited(&self, rules: &DiveRules, longer: Time) -> Option<Vec<Start>> {
        let none = Time::from_min(0.0);
        let waited = self.waiting.iter().map(|waiting| {
            let time = waiting.planned + longer;
            let rested = |time| {
                let Waiting { from, air, .. } = waiting;
                from.rested(&rules.compartments, *air, time)
            };
            (!none.is_over(time)).then(|| rested(time.max(none)))
        });
        waited.collect()
    }

    /// The same where the interval before the dive is longer by so much, or shorter; `None` where a
    /// member is not back by then. A first dive stays as it is.
    pub(crate) fn shifted(&self, rules: &DiveRules, longer: Time) -> Option<Self> {
        if self.waiting.is_empty() {
            return Some(self.clone());
        }
        let mut shifted = Self {
            starts: self.waited(rules, longer)?,
            ..self.clone()
        };
        for waiting in &mut shifted.waiting {
            waiting.planned = waiting.planned + longer;
        }
        if let Some(last) = shifted.dives.last_mut() {
            last.surface_interval = last.surface_interval + longer;
            last.rested.clone_from(&shifted.starts);
        }
        Some(shifted)
    }

    /// The team on leaving the surface: the most that any of its members brings.
    #[must_use]
    pub(super) fn team(&self) -> Option<Start> {
        Start::most(&self.starts)
    }
}

impl DiveBefore {
    fn fly(
        rules: &DiveRules,
        dive: &EarlierDive,
        dived: Vec<bool>,
        starts: &[Start],
    ) -> Result<Self, ScheduleError> {
        let gas = dive.gas.unwrap_or(rules.bottom_gas);
        let rules = DiveRules {
            bottom_gas: gas,
            decompression: Vec::new(),
            ..rules.clone()
        };
        let divers = starts.iter().zip(&dived).filter(|(_, dived)| **dived);
        let team = Start::most(divers.map(|(start, _)| start));
        // The builder refuses a dive of nobody.
        let team = team.ok_or(ScheduleError::NoLevel)?;
        let schedule = fly_checked(&rules, &team.tissues, &dive.levels)?;
        let surfaced: Vec<Start> = starts
            .iter()
            .zip(&dived)
            .map(|(start, dived)| {
                if *dived {
                    through(&rules, start, &schedule.segments)
                } else {
                    at_the_surface(&rules, start, schedule.run_time().elapsed())
                }
            })
            .collect();
        let rest = |start: &Start| at_the_surface(&rules, start, dive.surface_interval);
        Ok(Self {
            gas,
            surface_interval: dive.surface_interval,
            rested: surfaced.iter().map(rest).collect(),
            schedule,
            dived,
            surfaced,
        })
    }
}

/// One diver after the segments of a dive, from what that diver brings.
#[must_use]
pub(crate) fn through(rules: &DiveRules, start: &Start, segments: &[Segment]) -> Start {
    let ambient = |depth| rules.environment.ambient(depth);
    let set = &rules.compartments;
    let after = |tissues: Tissues, segment: &Segment| {
        let (from, to) = (ambient(segment.from), ambient(segment.to));
        tissues.after(set, segment.gas, from, to, segment.time())
    };
    let oxygen = OxygenExposure::of(&rules.environment, segments).on_top_of(start);
    Start {
        tissues: segments.iter().fold(start.tissues, after),
        cns_pct: oxygen.cns_pct,
        otu: oxygen.otu,
    }
}

fn at_the_surface(rules: &DiveRules, start: &Start, time: Time) -> Start {
    start.rested(&rules.compartments, rules.environment.surface(), time)
}
