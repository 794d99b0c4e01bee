//! The day: one dive after the other.

use super::error::DayError;
use super::order::{Clock, DayPlan, Waits, ordered, since_midnight, time_of_day};
use super::people::{Person, told_twice};
use crate::briefing::{Briefing, brief};
use crate::finding::Verdict;
use crate::plan::{DiveBefore, History, Plan, TimeOfDay, Waiting};
use crate::quantity::{Pressure, Time, nearest};
use crate::rules::Start;
use crate::tissue::CompartmentSet;

/// One dive of the day.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DayDive {
    /// What its plan is called by.
    pub file: String,
    /// Time of day of its splash; `None` where no plan gives any.
    pub splash: Option<TimeOfDay>,
    /// From midnight to its splash; from the first splash where no plan gives any.
    pub starts: Time,
    /// From there to its surfacing.
    pub ends: Time,
    /// Time at the surface since the dive before it; `None` of the first.
    pub surface_interval: Option<Time>,
    /// As it surfaces: the most that anybody of the day holds, who dived it or not.
    pub after: Start,
    /// The dive, from what the day has left in each of its divers.
    pub briefing: Briefing,
}

/// A day of dives.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Day {
    /// The dives, in order; at least one.
    pub dives: Vec<DayDive>,
    /// Everybody who dives, in the order of appearance.
    pub people: Vec<Person>,
    /// Whether the times are times of day.
    pub has_clock: bool,
}

/// What a team without names is called.
const NAMELESS: &str = "the team";

/// A dive that is over, as the later ones of the day see it.
struct Over {
    set: CompartmentSet,
    /// The dive, but for its members.
    dive: DiveBefore,
    /// Everybody who was known by then.
    who: Vec<Member>,
}

/// Somebody as a dive of the day is over.
struct Member {
    name: String,
    dived: bool,
    surfaced: Start,
    air: Pressure,
}

impl Day {
    /// What the dives come to together: a no-go where one of them is.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let verdicts: Vec<Verdict> = self
            .dives
            .iter()
            .map(|dive| dive.briefing.verdict())
            .collect();
        if verdicts.contains(&Verdict::NoGo) {
            Verdict::NoGo
        } else if verdicts.contains(&Verdict::Go) {
            Verdict::Go
        } else {
            Verdict::ScheduleOnly
        }
    }

    /// A moment of the day, `11:42` or `minute 42`, not earlier.
    #[must_use]
    pub fn moment(&self, at: Time) -> String {
        clock(self, at).words()
    }

    /// Names that differ by so little that one person may be meant by both.
    #[must_use]
    pub fn alike(&self) -> Vec<(&str, &str)> {
        let mut pairs = Vec::new();
        for (index, person) in self.people.iter().enumerate() {
            let earlier = self.people[..index].iter().map(|other| other.name.as_str());
            // A dive has both: then they are two.
            let apart = |other: &&str| {
                !self.dives.iter().any(|dive| {
                    let has = |name: &str| {
                        let mut divers = dive.briefing.divers.iter();
                        divers.any(|diver| diver.name == name)
                    };
                    has(other) && has(&person.name)
                })
            };
            let meant = nearest(&person.name, earlier.filter(apart));
            pairs.extend(meant.map(|meant| (meant, person.name.as_str())));
        }
        pairs
    }
}

/// Works out a day: its plans in order, divers known by name.
///
/// The interval before a dive runs from the surfacing of the one before it to the splash. Everybody
/// who has dived that day is at the surface between dives, and during those of others. Who is not
/// in a plan before begins the day with the own plan: clean, or as that plan tells.
///
/// # Errors
/// [`DayError`]: splashes that are not there or overlap, gases that change without a word, sites of
/// different air without an arrival, a dive without a briefing.
pub fn plan_day(plans: Vec<DayPlan>, intervals: &[Time]) -> Result<Day, DayError> {
    let (plans, waits) = ordered(plans, intervals)?;
    let first = &plans[0];
    let teams = plans
        .iter()
        .filter(|plan| !plan.plan.divers().is_empty())
        .count();
    if let Some(nameless) = plans.iter().find(|plan| plan.plan.divers().is_empty())
        && teams > 0
    {
        return Err(DayError::NoDiver {
            file: nameless.file.clone(),
        });
    }
    let has_clock = first.plan.splash().is_some();
    let mut day = Day {
        dives: Vec::with_capacity(plans.len()),
        people: Vec::new(),
        has_clock,
    };
    let mut over: Vec<Over> = Vec::new();
    for (number, plan) in plans.iter().enumerate() {
        if plan.plan.rules().compartments != first.plan.rules().compartments {
            return Err(DayError::OtherModel {
                file: plan.file.clone(),
                first: first.file.clone(),
            });
        }
        let known = |name: &str| day.people.iter().any(|person| person.name == name);
        if let Some(name) = told_twice(&plan.plan, names(&plan.plan), known) {
            let file = plan.file.clone();
            return Err(DayError::ToldTwice { file, name });
        }
        let interval = interval(&day, &waits, number, plan)?;
        let starts = match (day.dives.last(), interval) {
            (Some(last), Some(interval)) => last.ends + interval,
            _ => plan
                .plan
                .splash()
                .map_or(Time::from_min(0.0), since_midnight),
        };
        if let (Some(last), Some(interval)) = (over.last_mut(), interval) {
            last.dive.surface_interval = interval;
        }
        let splash = time_of_day(clock(&day, starts));
        let briefed = match interval {
            None => plan.plan.clone(),
            Some(interval) => {
                let history = history(&day, &over, plan, interval)?;
                plan.plan.in_a_day(history, splash)
            }
        };
        let briefing = brief(briefed).map_err(|cause| DayError::Dive {
            file: plan.file.clone(),
            cause,
        })?;
        let run_time = briefing.schedule.run_time().elapsed();
        take_part(&mut day, &briefing, plan, interval);
        let most = Start::most(day.people.iter().map(|person| &person.now));
        over.push(finished(&day, &briefing));
        day.dives.push(DayDive {
            file: plan.file.clone(),
            splash,
            starts,
            ends: starts + run_time,
            surface_interval: interval,
            after: most.unwrap_or(briefing.surfaced(0)),
            briefing,
        });
    }
    Ok(day)
}

const fn clock(day: &Day, at: Time) -> Clock {
    Clock {
        at,
        is_known: day.has_clock,
    }
}

/// The time at the surface before a plan; `None` of the first.
fn interval(
    day: &Day,
    waits: &Waits,
    number: usize,
    plan: &DayPlan,
) -> Result<Option<Time>, DayError> {
    let Some(last) = day.dives.last() else {
        return Ok(None);
    };
    let splash = match waits {
        Waits::Intervals(intervals) => return Ok(intervals.get(number - 1).copied()),
        Waits::Splashes => plan.plan.splash().map(since_midnight),
    };
    let splash = splash.ok_or_else(|| DayError::NoSplash {
        file: plan.file.clone(),
    })?;
    if last.ends.is_over(splash) {
        return Err(DayError::Overlap {
            file: plan.file.clone(),
            splash: clock(day, splash).words(),
            before: last.file.clone(),
            back: clock(day, last.ends).words(),
        });
    }
    Ok(Some(splash - last.ends))
}

/// What each diver of a plan brings from the day so far.
fn history(day: &Day, over: &[Over], plan: &DayPlan, interval: Time) -> Result<History, DayError> {
    let own = plan.plan.history();
    let mut waiting: Vec<Waiting> = Vec::new();
    let mut starts: Vec<Start> = Vec::new();
    for (index, name) in names(&plan.plan).into_iter().enumerate() {
        let known = day.people.iter().find(|person| person.name == name);
        let (wait, start) = match known {
            Some(person) => {
                person.check_gas(plan, index)?;
                person.wait(interval, plan)?
            }
            // Who comes now has waited as the own plan tells; who is clean stays so.
            None => {
                let air = plan.plan.rules().environment.surface();
                let arrival = own
                    .arrival
                    .map(|arrival| Waiting::of(arrival.at_home(), arrival.before_first_dive, air));
                let told = own.waiting.get(index).copied().or(arrival);
                let clean = Waiting::of(own.arrived[index], interval, air);
                (told.unwrap_or(clean), own.starts[index])
            }
        };
        waiting.push(wait);
        starts.push(start);
    }
    let mut dives = own.dives.clone();
    dives.extend(over.iter().map(|over| over.seen_by(&plan.plan, &starts)));
    if let Some(last) = dives.last_mut() {
        last.rested.clone_from(&starts);
    }
    Ok(History {
        arrival: own.arrival,
        arrived: own.arrived.clone(),
        dives,
        waiting,
        starts,
    })
}

/// The divers of a plan; one of no name of its own where it has none.
fn names(plan: &Plan) -> Vec<String> {
    let named: Vec<String> = plan
        .divers()
        .iter()
        .map(|diver| diver.name.clone())
        .collect();
    if named.is_empty() {
        vec![NAMELESS.to_owned()]
    } else {
        named
    }
}

/// Everybody after a dive: who dived it as it left them, the others after a stay at the surface.
fn take_part(day: &mut Day, briefing: &Briefing, plan: &DayPlan, interval: Option<Time>) {
    let number = day.dives.len();
    let (rules, names) = (briefing.plan.rules(), names(&briefing.plan));
    let waited = interval.unwrap_or(Time::from_min(0.0));
    let passed = waited + briefing.schedule.run_time().elapsed();
    for person in &mut day.people {
        if !names.contains(&person.name) {
            person.stay(rules, passed);
        }
    }
    for (index, name) in names.into_iter().enumerate() {
        let surfaced = briefing.surfaced(index);
        let gas = (briefing.plan.gas_of(index), plan.file.clone());
        let air = rules.environment.surface();
        match day.people.iter_mut().find(|person| person.name == name) {
            Some(person) => {
                person.dives.push(number);
                person.most_cns_pct = person.most_cns_pct.max(surfaced.cns_pct);
                person.gas = gas;
                person.now = surfaced;
                person.air = air;
            }
            None => day.people.push(Person {
                name,
                dives: vec![number],
                gas,
                most_cns_pct: surfaced.cns_pct,
                now: surfaced,
                air,
            }),
        }
    }
}

/// A dive that is over; the interval after it is not known yet.
fn finished(day: &Day, briefing: &Briefing) -> Over {
    let number = day.dives.len();
    let who = day.people.iter().map(|person| Member {
        name: person.name.clone(),
        dived: person.dives.contains(&number),
        surfaced: person.now,
        air: person.air,
    });
    Over {
        set: briefing.plan.rules().compartments.clone(),
        dive: DiveBefore {
            schedule: briefing.schedule.clone(),
            gas: briefing.plan.rules().bottom_gas,
            surface_interval: Time::from_min(0.0),
            dived: Vec::new(),
            surfaced: Vec::new(),
            rested: Vec::new(),
        },
        who: who.collect(),
    }
}

impl Over {
    /// The dive as one of the day before another plan, whose divers begin with `starts`.
    fn seen_by(&self, plan: &Plan, starts: &[Start]) -> DiveBefore {
        let mut seen = self.dive.clone();
        for (name, start) in names(plan).into_iter().zip(starts) {
            let member = self.who.iter().find(|member| member.name == name);
            let rest = |member: &Member| {
                let (air, time) = (member.air, self.dive.surface_interval);
                member.surfaced.rested(&self.set, air, time)
            };
            seen.dived.push(member.is_some_and(|member| member.dived));
            seen.surfaced
                .push(member.map_or(*start, |member| member.surfaced));
            seen.rested.push(member.map_or(*start, rest));
        }
        seen
    }
}
