//! A day that is worked out.

use super::order::{Clock, OrderedBy};
use super::people::Person;
use crate::briefing::Briefing;
use crate::finding::Verdict;
use crate::plan::TimeOfDay;
use crate::quantity::show::minutes_up;
use crate::quantity::{Time, nearest};
use crate::rules::Start;
use crate::surface::Flying;

/// Dives that are so far apart are hardly of one day at the rail; one of them may be past midnight.
const FAR_APART: Time = Time::from_min(720.0);

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

impl DayDive {
    /// When it is back, as a watch is told: the splash and the run time in whole minutes, neither of
    /// them less. From midnight, or from the first splash where no plan gives any.
    #[must_use]
    pub fn back_by(&self) -> Time {
        let run_time = self.briefing.schedule.run_time().elapsed();
        Time::from_min(minutes_up(self.starts) + minutes_up(run_time))
    }
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
    /// What gave the dives their order.
    pub ordered_by: OrderedBy,
    /// How long nobody of the day flies or drives up after the last surfacing: from the most that
    /// anybody holds then, who made the last dive or not.
    pub flying: Flying,
}

impl Day {
    /// What the dives come to together: a no-go where one of them is, or where a flight leaves too
    /// soon after them.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let verdicts: Vec<Verdict> = self
            .dives
            .iter()
            .map(|dive| dive.briefing.verdict())
            .collect();
        if verdicts.contains(&Verdict::NoGo) || self.flying.leaves_too_soon() {
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
        Clock {
            at,
            is_known: self.has_clock,
        }
        .words()
    }

    /// Dives that their splashes put so long after the one before that another order or another day
    /// may be meant, from 0.
    #[must_use]
    pub fn far_apart(&self) -> Vec<usize> {
        let dives = self.dives.iter().enumerate();
        let by_splash = self.ordered_by != OrderedBy::Intervals;
        let far = dives.filter(|(_, dive)| {
            let interval = dive.surface_interval;
            by_splash && interval.is_some_and(|interval| interval > FAR_APART)
        });
        far.map(|(index, _)| index).collect()
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
