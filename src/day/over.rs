//! The dives that are over, as the later ones of the day see them.

use super::order::DayPlan;
use crate::plan::{DiveBefore, Plan};
use crate::quantity::Pressure;
use crate::rules::Start;
use crate::tissue::CompartmentSet;

/// What a team without names is called.
const NAMELESS: &str = "the team";

/// A dive that is over, of the boat or told by a plan, as the later ones of the day see it.
pub(super) struct Over {
    pub(super) set: CompartmentSet,
    /// The dive, but for its members.
    pub(super) dive: DiveBefore,
    /// Everybody who was known by then.
    pub(super) who: Vec<Member>,
}

/// Somebody as a dive that is over has left them.
#[derive(Clone)]
pub(super) struct Member {
    pub(super) name: String,
    pub(super) dived: bool,
    pub(super) surfaced: Start,
    pub(super) air: Pressure,
}

/// The divers of a plan; one of no name of its own where it has none.
pub(super) fn names(plan: &Plan) -> Vec<String> {
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

/// The dives that a plan tells of its divers, which were not with the boat.
pub(super) fn told(plan: &DayPlan) -> impl Iterator<Item = Over> {
    let (rules, names) = (plan.plan.rules(), names(&plan.plan));
    let dives = plan.plan.history().dives.iter();
    dives.map(move |dive| {
        let member = |(index, name): (usize, &String)| {
            Some(Member {
                name: name.clone(),
                dived: *dive.dived.get(index)?,
                surfaced: *dive.surfaced.get(index)?,
                air: rules.environment.surface(),
            })
        };
        Over {
            set: rules.compartments.clone(),
            dive: dive.clone(),
            who: names.iter().enumerate().filter_map(member).collect(),
        }
    })
}

impl Over {
    /// The dive as one of the day before another plan, whose divers begin with `starts`.
    pub(super) fn seen_by(&self, plan: &Plan, starts: &[Start]) -> DiveBefore {
        let mut seen = DiveBefore {
            dived: Vec::new(),
            surfaced: Vec::new(),
            rested: Vec::new(),
            ..self.dive.clone()
        };
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
