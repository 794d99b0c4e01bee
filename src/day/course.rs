//! Through the day: one dive after the other.

use super::error::DayError;
use super::order::{Clock, DayPlan, OrderedBy, Waits, ordered, since_midnight, time_of_day};
use super::over::{Member, Over, names, told};
use super::people::{Person, is_higher, told_twice};
use super::whole::{Day, DayDive};
use crate::briefing::{Briefing, brief};
use crate::plan::{Climb, DiveBefore, FlightTime, History, Waiting};
use crate::quantity::Time;
use crate::quantity::show::whole_minutes_up;
use crate::rules::Start;
use crate::surface::{DayDived, Exposure, day_dived, flying, model_wait};
use crate::tissue::Tissues;

/// Works out a day: its plans in order, divers known by name.
///
/// The interval before a dive runs from the surfacing of the one before it to the splash. Everybody
/// who has dived that day is at the surface between dives, and during those of others. Who is not
/// in a plan before begins the day with the own plan: clean, or as that plan tells. `leaves` is a
/// flight after the last dive.
///
/// # Errors
/// [`DayError`]: splashes that are not there or overlap, gases that change without a word, sites of
/// different air without an arrival, a dive without a briefing, a flight without a splash.
pub fn plan_day(
    plans: Vec<DayPlan>,
    intervals: &[Time],
    leaves: Option<FlightTime>,
) -> Result<Day, DayError> {
    let (plans, waits) = ordered(plans, intervals)?;
    all_or_none_has_divers(&plans)?;
    let has_clock = plans[0].plan.splash().is_some();
    if leaves.is_some() && !has_clock {
        return Err(DayError::FlightUnclocked);
    }
    let ordered_by = match waits {
        Waits::Intervals(_) => OrderedBy::Intervals,
        Waits::Splashes { as_named: true } => OrderedBy::Splashes,
        Waits::Splashes { as_named: false } => OrderedBy::SplashesNotNames,
    };
    let mut day = SoFar {
        dives: Vec::with_capacity(plans.len()),
        people: Vec::new(),
        has_clock,
        ordered_by,
        over: Vec::new(),
    };
    for (number, plan) in plans.iter().enumerate() {
        day.check(&plans[0], plan)?;
        let interval = day.interval(&waits, number, plan)?;
        let leaves = leaves.filter(|_| number + 1 == plans.len());
        day.dive(plan, interval, leaves)?;
    }
    day.end(leaves)
}

/// A plan without divers beside others that have some tells nobody who dives it.
fn all_or_none_has_divers(plans: &[DayPlan]) -> Result<(), DayError> {
    let mut with = plans.iter().filter(|plan| !plan.plan.divers().is_empty());
    let without = plans.iter().find(|plan| plan.plan.divers().is_empty());
    match without.filter(|_| with.next().is_some()) {
        Some(nameless) => Err(DayError::NoDiver {
            file: nameless.file.clone(),
        }),
        None => Ok(()),
    }
}

/// A day while it is worked out.
struct SoFar {
    dives: Vec<DayDive>,
    people: Vec<Person>,
    has_clock: bool,
    ordered_by: OrderedBy,
    /// The dives that are over: those of the boat, and those that its plans tell of.
    over: Vec<Over>,
}

impl SoFar {
    /// Whether a plan goes with the first one, and with who is known by now.
    fn check(&self, first: &DayPlan, plan: &DayPlan) -> Result<(), DayError> {
        let file = plan.file.clone();
        if plan.plan.rules().compartments != first.plan.rules().compartments {
            let first = first.file.clone();
            return Err(DayError::OtherModel { file, first });
        }
        let known = |name: &str| self.people.iter().any(|person| person.name == name);
        match told_twice(&plan.plan, names(&plan.plan), known) {
            Some(name) => Err(DayError::ToldTwice { file, name }),
            None => Ok(()),
        }
    }

    /// The next dive, and everybody after it.
    fn dive(
        &mut self,
        plan: &DayPlan,
        interval: Option<Time>,
        leaves: Option<FlightTime>,
    ) -> Result<(), DayError> {
        let starts = match (self.dives.last(), interval) {
            (Some(last), Some(interval)) => last.ends + interval,
            _ => plan
                .plan
                .splash()
                .map_or(Time::from_min(0.0), since_midnight),
        };
        if let (Some(last), Some(interval)) = (self.over.last_mut(), interval) {
            last.dive.surface_interval = interval;
        }
        let splash = time_of_day(clock(self.has_clock, starts));
        let briefed = match interval {
            None => plan.plan.clone(),
            Some(interval) => plan.plan.in_a_day(self.history(plan, interval)?, splash),
        };
        let briefed = match leaves {
            Some(leaves) => {
                let days = whole_minutes_up(starts) / MINUTES_A_DAY;
                briefed.before_a_flight(leaves.counted_from(days))
            }
            None => briefed,
        };
        let briefing = brief(briefed).map_err(|cause| DayError::Dive {
            file: plan.file.clone(),
            cause,
        })?;
        let run_time = briefing.schedule.run_time().elapsed();
        self.take_part(&briefing, plan, interval);
        self.over.extend(told(plan));
        self.over.push(self.finished(&briefing));
        self.dives.push(DayDive {
            file: plan.file.clone(),
            splash,
            starts,
            ends: starts + run_time,
            surface_interval: interval,
            after: self.most().unwrap_or(briefing.surfaced(0)),
            briefing,
        });
        Ok(())
    }

    /// How those who have dived lower down come to the next site, if it is higher: the longest wait
    /// that any of them is to make before.
    ///
    /// The wait is that before flying, to the pressure of the site: the longer of the published one
    /// and the model's.
    fn climb(&self, plan: &DayPlan, interval: Time) -> Option<Climb> {
        let last = self.dives.last()?;
        let (briefed, surface) = (&last.briefing.plan, plan.plan.rules().environment.surface());
        // Without a word of when they came they may have gone up at once.
        let arrived = plan.plan.site().arrival;
        let arrived = arrived.map(|arrival| arrival.before_first_dive);
        let names = names(&plan.plan);
        // Steps that are small by themselves add up to the lowest site of the day.
        let coming = self.people.iter().filter(|person| {
            let goes_up = surface < person.air && is_higher(person.lowest, surface);
            goes_up && names.contains(&person.name)
        });
        let published = Exposure::of(day_dived(briefed, &last.briefing.schedule)).wait_min();
        let advised = coming.map(|person| {
            let model = model_wait(briefed.rules(), &person.now.tissues, surface);
            model.minutes().map(|model| model.max(published))
        });
        // No end is longer than any.
        let longest = advised.reduce(|one, other| Some(one?.max(other?)))?;
        Some(Climb {
            waited: arrived.map_or(Time::from_min(0.0), |arrived| interval - arrived),
            advised_min: longest,
        })
    }

    /// The most that anybody of the day holds by now.
    fn most(&self) -> Option<Start> {
        Start::most(self.people.iter().map(|person| &person.now))
    }

    /// The day once its last dive is over.
    fn end(self, leaves: Option<FlightTime>) -> Result<Day, DayError> {
        let Some((last, most)) = self.dives.last().zip(self.most()) else {
            return Err(DayError::Count { count: 0 });
        };
        let plan = &last.briefing.plan;
        let each: Vec<Tissues> = self.people.iter().map(|one| one.now.tissues).collect();
        let own = |dive: &DayDive| day_dived(&dive.briefing.plan, &dive.briefing.schedule);
        let dived = DayDived {
            on_air: self.dives.iter().all(|dive| own(dive).on_air),
            ..own(last)
        };
        let cabin = plan.flight().cabin_altitude;
        let flying = flying(plan.rules(), &most.tissues, &each, dived, cabin);
        // Days count from that of the first splash.
        let first = &self.dives[0];
        let flying = match first.splash {
            Some(splash) => {
                let surfaced = last.back_by() - first.starts;
                flying.on_the_clock(splash, whole_minutes_up(surfaced), leaves)
            }
            None => flying,
        };
        Ok(Day {
            flying,
            dives: self.dives,
            people: self.people,
            has_clock: self.has_clock,
            ordered_by: self.ordered_by,
        })
    }

    /// The time at the surface before a plan; `None` of the first.
    fn interval(
        &self,
        waits: &Waits,
        number: usize,
        plan: &DayPlan,
    ) -> Result<Option<Time>, DayError> {
        let Some(last) = self.dives.last() else {
            return Ok(None);
        };
        let splash = match waits {
            Waits::Intervals(intervals) => return Ok(intervals.get(number - 1).copied()),
            Waits::Splashes { .. } => plan.plan.splash().map(since_midnight),
        };
        let splash = splash.ok_or_else(|| DayError::NoSplash {
            file: plan.file.clone(),
        })?;
        if last.ends.is_over(splash) {
            return Err(DayError::Overlap {
                file: plan.file.clone(),
                splash: clock(self.has_clock, splash).words(),
                before: last.file.clone(),
                back: clock(self.has_clock, last.ends).words(),
            });
        }
        Ok(Some(splash - last.ends))
    }

    /// What each diver of a plan brings from the day so far.
    fn history(&self, plan: &DayPlan, interval: Time) -> Result<History, DayError> {
        let own = plan.plan.history();
        let mut waiting: Vec<Waiting> = Vec::new();
        let mut starts: Vec<Start> = Vec::new();
        for (index, name) in names(&plan.plan).into_iter().enumerate() {
            let known = self.people.iter().find(|person| person.name == name);
            let (wait, start) = match known {
                Some(person) => {
                    person.check_gas(plan, index)?;
                    person.wait(interval, plan)?
                }
                // Who comes now has waited as the own plan tells; who is clean stays so.
                None => {
                    let air = plan.plan.rules().environment.surface();
                    let arrival = own.arrival.map(|arrival| {
                        Waiting::of(arrival.at_home(), arrival.before_first_dive, air)
                    });
                    let told = own.waiting.get(index).copied().or(arrival);
                    let clean = Waiting::of(own.arrived[index], interval, air);
                    (told.unwrap_or(clean), own.starts[index])
                }
            };
            waiting.push(wait);
            starts.push(start);
        }
        let mut dives = own.dives.clone();
        dives.extend(
            self.over
                .iter()
                .map(|over| over.seen_by(&plan.plan, &starts)),
        );
        if let Some(last) = dives.last_mut() {
            last.rested.clone_from(&starts);
        }
        Ok(History {
            arrival: own.arrival,
            arrived: own.arrived.clone(),
            dives,
            climb: self.climb(plan, interval),
            waiting,
            starts,
        })
    }

    /// Everybody after a dive: who dived it as it left them, the others after a stay at the surface.
    fn take_part(&mut self, briefing: &Briefing, plan: &DayPlan, interval: Option<Time>) {
        let number = self.dives.len();
        let (rules, names) = (briefing.plan.rules(), names(&briefing.plan));
        let waited = interval.unwrap_or(Time::from_min(0.0));
        let passed = waited + briefing.schedule.run_time().elapsed();
        for person in &mut self.people {
            if !names.contains(&person.name) {
                person.stay(rules, passed);
            }
        }
        for (index, name) in names.into_iter().enumerate() {
            let surfaced = briefing.surfaced(index);
            let gas = (briefing.plan.gas_of(index), plan.file.clone());
            let air = rules.environment.surface();
            match self.people.iter_mut().find(|person| person.name == name) {
                Some(person) => {
                    person.dives.push(number);
                    person.most_cns_pct = person.most_cns_pct.max(surfaced.cns_pct);
                    person.gas = gas;
                    person.now = surfaced;
                    person.air = air;
                    person.lowest = person.lowest.max(air);
                }
                None => self.people.push(Person {
                    name,
                    dives: vec![number],
                    gas,
                    most_cns_pct: surfaced.cns_pct,
                    now: surfaced,
                    air,
                    lowest: air,
                }),
            }
        }
    }

    /// A dive that is over; the interval after it is not known yet.
    fn finished(&self, briefing: &Briefing) -> Over {
        let number = self.dives.len();
        let who = self.people.iter().map(|person| Member {
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
}

const MINUTES_A_DAY: u32 = 1440;

const fn clock(is_known: bool, at: Time) -> Clock {
    Clock { at, is_known }
}
