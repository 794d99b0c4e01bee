//! Time at the surface before a dive, and what it leaves of what was there.

use crate::plan::{Arrival, Plan};
use crate::quantity::Time;
use crate::rules::Start;
use crate::tissue::COMPARTMENTS;
use serde::Serialize;

/// What time at the surface begins with.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Since {
    /// Surfacing from the dive before.
    EarlierDive,
    /// Coming from another altitude.
    Arrival(Arrival),
}

/// Time at the surface before a dive, and what it leaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Rest {
    /// What it begins with.
    pub since: Since,
    /// How long it is.
    pub time: Time,
    /// The team when it begins: in every compartment, for each gas and of either dose the most of
    /// any diver.
    pub before: Start,
    /// The team when it ends.
    pub after: Start,
    /// The compartment that leads when it begins, 0 to 15: the one nearest to its M-value at the
    /// surface.
    pub leading: usize,
    /// Index into the team of who holds most nitrogen when it ends, for each of the 16
    /// compartments, fastest first; of equal ones the first of the plan.
    pub most_in: [usize; COMPARTMENTS],
}

/// How the divers came, then the surface interval after the last of the earlier dives: those that
/// the plan has.
#[must_use]
pub fn rests(plan: &Plan) -> Vec<Rest> {
    let history = plan.history();
    let arrival = history.arrival.map(|arrival| {
        let home = vec![arrival.at_home(); history.arrived.len()];
        let time = arrival.before_first_dive;
        Rest::of(
            plan,
            Since::Arrival(arrival),
            time,
            (&home, &history.arrived),
        )
    });
    let interval = history.dives.last().map(|dive| {
        let members = (dive.surfaced.as_slice(), dive.rested.as_slice());
        Rest::of(plan, Since::EarlierDive, dive.surface_interval, members)
    });
    arrival.into_iter().chain(interval).flatten().collect()
}

impl Rest {
    /// From each member before it and after it; `None` of nobody.
    fn of(
        plan: &Plan,
        since: Since,
        time: Time,
        (before, after): (&[Start], &[Start]),
    ) -> Option<Self> {
        let rules = plan.rules();
        let (before, team) = (Start::most(before)?, Start::most(after)?);
        let surface = rules.environment.surface();
        let nitrogen = |member: &Start, index: usize| member.tissues.loading(index).n2_bar;
        let most_in = std::array::from_fn(|index| {
            let most = nitrogen(&team, index);
            let found = after.iter().position(|one| nitrogen(one, index) >= most);
            found.unwrap_or(0)
        });
        Some(Self {
            since,
            time,
            leading: before.tissues.gradient(&rules.compartments, surface).index,
            before,
            after: team,
            most_in,
        })
    }
}
