//! Emergencies at the levels' ends by the referee.

use super::ascent::{Stuck, straight, straight_with_safety_stop, way_up};
use super::course::{Diving, Leg, Rules, on_bottom_gas};
use super::dive::{Flown, compare};
use super::evidence::Evidence;
use super::objection::{Objection, Question, near, sure};
use crate::dive::SegmentKind;
use crate::gas::LevelEnd;

/// What an emergency at one moment exposes the main cylinder to, atm·min.
#[derive(Clone, Copy, Debug)]
pub(super) struct Emergency {
    pub(super) direct: f64,
    /// With every stop, or the least that counts.
    pub(super) full: f64,
}

/// What leaving a level is judged by, atm·min.
#[derive(Clone, Copy, Debug)]
pub(super) struct End {
    pub(super) used: f64,
    pub(super) emergency: Emergency,
    /// Of the planned way up.
    pub(super) way_up: f64,
}

/// The emergencies at the levels' ends, held against those of the briefing.
pub(super) fn ends(
    rules: &Rules<'_>,
    evidence: &Evidence<'_>,
    flown: &Flown,
) -> Result<Vec<End>, Objection> {
    let counts = evidence.level_ends.len() == flown.ends.len();
    sure(Question::Emergency, counts, || {
        "not every level has an emergency".to_owned()
    })?;
    let sort_out_min = evidence.plan.reserve().sort_out.as_min();
    let planned = on_bottom_gas(rules, &flown.way_up);
    let ends = flown.ends.iter().zip(evidence.level_ends);
    ends.map(|(end, said)| {
        let used = on_bottom_gas(rules, &end.legs);
        near(Question::Emergency, said.used.as_atm_min(), used, || {
            format!("exposure up to leaving {} m", end.depth_m)
        })?;
        Ok(End {
            used,
            emergency: judge_emergency(rules, sort_out_min, end, said)?,
            way_up: planned,
        })
    })
    .collect()
}

fn judge_emergency(
    rules: &Rules<'_>,
    sort_out_min: f64,
    end: &Diving,
    said: &LevelEnd,
) -> Result<Emergency, Objection> {
    let stuck = |_| Objection {
        question: Question::Emergency,
        what: format!("there is no way up in an emergency at {} m", end.depth_m),
    };
    let found = emergency(rules, sort_out_min, end).map_err(stuck)?;
    let said = &said.emergency;
    let compare = |found: &[Leg], said, whereabouts| {
        compare(found, said, whereabouts).map_err(|objection| Objection {
            question: Question::Emergency,
            ..objection
        })
    };
    compare(
        &found.direct,
        &said.direct,
        "of the straight way up in an emergency",
    )?;
    compare(&found.full, &said.full, "of the way up in an emergency")?;
    sure(
        Question::Emergency,
        found.least.is_some() == said.least.is_some(),
        || "whether there is a least that counts".to_owned(),
    )?;
    if let Some((found, said)) = found.least.as_ref().zip(said.least.as_ref()) {
        compare(found, said, "of the least that counts in an emergency")?;
    }
    let taken = found.taken(rules);
    let pairs = [
        ("the straight way up", said.exposure.direct, taken.direct),
        ("the way up with every stop", said.exposure.full, taken.full),
    ];
    for (what, said, found) in pairs {
        near(Question::Emergency, said.as_atm_min(), found, || {
            format!("exposure of {what} from {} m", end.depth_m)
        })?;
    }
    Ok(taken)
}

/// The ways up of an emergency, the sort-out before each.
pub(super) struct WaysUp {
    direct: Vec<Leg>,
    full: Vec<Leg>,
    least: Option<Vec<Leg>>,
}

impl WaysUp {
    pub(super) fn taken(&self, rules: &Rules<'_>) -> Emergency {
        let of = |legs: &[Leg]| on_bottom_gas(rules, legs);
        let full = of(&self.full);
        Emergency {
            direct: of(&self.direct),
            full: self
                .least
                .as_ref()
                .map_or(full, |least| full.max(of(least))),
        }
    }
}

pub(super) fn emergency(
    rules: &Rules<'_>,
    sort_out_min: f64,
    end: &Diving,
) -> Result<WaysUp, Stuck> {
    let mut sorted_out = Diving {
        gas: rules.bottom,
        ..end.resumed()
    };
    sorted_out.stay(rules, SegmentKind::Level, end.run_min + sort_out_min);
    let behind = |legs: Vec<Leg>| [sorted_out.legs.clone(), legs].concat();
    let least = !rules.decompression.is_empty();
    Ok(WaysUp {
        direct: behind(straight(rules, &sorted_out)),
        full: behind(way_up(rules, &sorted_out)?.legs),
        least: least.then(|| behind(straight_with_safety_stop(rules, &sorted_out))),
    })
}
