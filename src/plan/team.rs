//! The divers, what they carry, and who is whose buddy.

use crate::quantity::{BreathingRate, Depth, UnitSystem};
use crate::site::Cylinder;
use crate::site::Mix;
use serde::Serialize;

/// A diver as the gas arithmetic sees one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Diver {
    /// Name; unique in a team.
    pub name: String,
    /// Gas breathed at the surface in a minute.
    pub breathing: BreathingRate,
    /// Main cylinder.
    pub cylinder: Cylinder,
    /// Gas of the main cylinder, where it is not the plan's bottom gas.
    pub gas: Option<Mix>,
    /// Pony bottle.
    pub pony: Option<Pony>,
    /// Stage cylinders.
    pub stages: Vec<Stage>,
    /// Deepest depth that the diver is qualified for.
    pub depth_limit: Option<Depth>,
    /// Units of the diver's gauge, where they differ from the plan's.
    pub gauge: Option<UnitSystem>,
    /// Name of the diver's buddy, where the plan names one.
    pub buddy: Option<String>,
}

impl Diver {
    /// A diver with nothing but a name, a breathing rate and a main cylinder.
    #[must_use]
    pub fn new(name: impl Into<String>, breathing: BreathingRate, cylinder: Cylinder) -> Self {
        Self {
            name: name.into(),
            breathing,
            cylinder,
            gas: None,
            pony: None,
            stages: Vec::new(),
            depth_limit: None,
            gauge: None,
            buddy: None,
        }
    }
}

/// A pony bottle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Pony {
    /// The cylinder.
    pub cylinder: Cylinder,
    /// What is in it, where it is not the plan's bottom gas.
    pub gas: Option<Mix>,
}

/// Gas of a decompression stage cylinder.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Stage {
    /// What is in it.
    pub gas: Mix,
    /// The cylinder.
    pub cylinder: Cylinder,
}

/// The divers whom one diver shares gas with: the others of the buddy group, or everybody else
/// where no buddy is named. Indices into the team.
#[must_use]
pub fn partners(divers: &[Diver], index: usize) -> Vec<usize> {
    let mut group = buddy_group(divers, index);
    if group.len() == 1 {
        return (0..divers.len()).filter(|other| *other != index).collect();
    }
    group.remove(0);
    group.sort_unstable();
    group
}

/// A diver and everybody who is linked to that diver by the buddies named.
fn buddy_group(divers: &[Diver], index: usize) -> Vec<usize> {
    let mut group = vec![index];
    let names = |one: &Diver, other: &Diver| one.buddy.as_deref() == Some(other.name.as_str());
    let mut next = 0;
    while let Some(&member) = group.get(next) {
        for (other, diver) in divers.iter().enumerate() {
            let linked = names(diver, &divers[member]) || names(&divers[member], diver);
            if linked && !group.contains(&other) {
                group.push(other);
            }
        }
        next += 1;
    }
    group
}

/// The first diver whose buddy is nobody in the team or that diver, or whose group is neither two
/// who name each other nor three.
pub(super) fn buddy_fault(divers: &[Diver]) -> Option<String> {
    let fault = |(index, diver): &(usize, &Diver)| {
        let Some(buddy) = &diver.buddy else {
            return false;
        };
        let known = divers.iter().any(|other| other.name == *buddy);
        let group = buddy_group(divers, *index);
        let all_name_one = group.iter().all(|member| divers[*member].buddy.is_some());
        !known || *buddy == diver.name || !all_name_one || group.len() > 3
    };
    let found = divers.iter().enumerate().find(fault);
    found.map(|(_, diver)| diver.name.clone())
}

/// The partner who breathes most, as an index into the team; of equal ones the first.
pub(crate) fn hungriest_partner(divers: &[Diver], index: usize) -> Option<usize> {
    partners(divers, index).into_iter().reduce(|most, other| {
        if divers[other].breathing > divers[most].breathing {
            other
        } else {
            most
        }
    })
}
