//! What a diver's gas is judged by: the dive left at any minute, and what is in the cylinders.

use super::ascent::way_up;
use super::body::Gas;
use super::course::{Rules, on_bottom_gas};
use super::dive::Flown;
use super::emergency::{End, emergency};
use super::evidence::Evidence;
use super::filling::Filling;
use super::objection::{LEAST, Objection, Question, SHARE, same};
use crate::dive::SegmentKind;
use crate::plan::Diver;
use crate::site::{Cylinder, GasLaw};

/// A pony is emptied down to this, bar.
const PONY_EMPTY_BAR: f64 = 10.0;

/// A dive that is left at some whole minute.
#[derive(Clone, Copy, Debug)]
pub(super) enum Left {
    /// Between two levels.
    Travelling,
    /// There is no way up.
    Stuck,
    /// At a level: how many came before it, and its end.
    At(usize, End),
}

/// What is looked at.
pub(super) struct Court<'e, 'r> {
    pub(super) rules: &'r Rules<'r>,
    pub(super) evidence: &'e Evidence<'e>,
    pub(super) flown: &'r Flown,
    pub(super) ends: Vec<End>,
    /// Dives left at other minutes.
    pub(super) left: Vec<(u32, Left)>,
    /// Gases in cylinders.
    pub(super) fillings: Vec<(Gas, Filling)>,
}

impl Court<'_, '_> {
    /// The dive left at a whole minute.
    pub(super) fn left_at(&mut self, minute: u32) -> Left {
        let known = self.left.iter().find(|(known, _)| *known == minute);
        if let Some((_, left)) = known {
            return *left;
        }
        let left = self.leave_at(f64::from(minute));
        self.left.push((minute, left));
        left
    }

    fn leave_at(&self, minute: f64) -> Left {
        let starts = self.flown.ends.iter().map(|end| end.run_min);
        let mut starts = std::iter::once(0.0).chain(starts);
        let levels = self.flown.arrivals.len();
        let begun = starts
            .by_ref()
            .take(levels)
            .take_while(|start| minute > start + 1e-9);
        let Some(level) = begun.count().checked_sub(1) else {
            return Left::Travelling;
        };
        let arrival = &self.flown.arrivals[level];
        if arrival.run_min > minute + 1e-9 {
            return Left::Travelling;
        }
        let mut diving = arrival.clone();
        diving.stay(self.rules, SegmentKind::Level, minute);
        let sort_out_min = self.evidence.plan.reserve().sort_out.as_min();
        let emergency = emergency(self.rules, sort_out_min, &diving);
        let planned = way_up(self.rules, &diving);
        let (Ok(emergency), Ok(planned)) = (emergency, planned) else {
            return Left::Stuck;
        };
        let end = End {
            used: on_bottom_gas(self.rules, &diving.legs),
            emergency: emergency.taken(self.rules),
            way_up: on_bottom_gas(self.rules, &planned.legs),
        };
        Left::At(level, end)
    }

    /// A gas in a litre of cylinder.
    fn filling(&mut self, gas: Gas) -> Filling {
        let known = self.fillings.iter().find(|(known, _)| known.is(gas));
        if let Some((_, filling)) = known {
            return filling.clone();
        }
        let plan = self.evidence.plan;
        let surface_bar = self.rules.surface_bar;
        let filling = match plan.gas_law() {
            GasLaw::Ideal => Filling::ideal(surface_bar),
            GasLaw::Real => Filling::real(gas, plan.site().temperature.as_kelvin(), surface_bar),
        };
        self.fillings.push((gas, filling.clone()));
        filling
    }

    /// Contents of a cylinder at a gauge pressure, free litres.
    fn contents(&mut self, cylinder: &Cylinder, gas: Gas, gauge_bar: f64) -> f64 {
        self.filling(gas).litres(gauge_bar) * cylinder.water.as_l()
    }
}

/// What one diver's gas is weighed with.
pub(super) struct Scales {
    /// V̇, L/min.
    pub(super) own: f64,
    /// In trouble, alone.
    pub(super) alone: f64,
    /// In trouble, with the partner who breathes most.
    pub(super) shared: f64,
    pub(super) main: Filling,
    pub(super) water_l: f64,
    pub(super) fill_bar: f64,
    pub(super) start_l: f64,
    pub(super) floor_bar: f64,
    pub(super) floor_l: f64,
    /// What the hang exposes to, atm·min.
    pub(super) hang: Option<f64>,
    pub(super) pony_l: Option<f64>,
    /// Each stage cylinder's gas and contents.
    pub(super) stages: Vec<(Gas, f64)>,
}

impl Scales {
    pub(super) fn of(court: &mut Court<'_, '_>, index: usize) -> Result<Self, Objection> {
        let plan = court.evidence.plan;
        let diver = &plan.divers()[index];
        let gas = Gas::from(plan.gas_of(index));
        let main = court.filling(gas);
        let water_l = diver.cylinder.water.as_l();
        let fill_bar = diver.cylinder.fill.as_bar();
        let floor_bar = plan.reserve().floor.as_bar();
        let stress = plan.reserve().stress;
        let own = diver.breathing.as_l_min();
        let partner = partner(plan.divers(), index);
        let said = court.evidence.divers[index].partner;
        let breathes = |partner: Option<usize>| {
            let partner = partner.and_then(|partner| plan.divers().get(partner));
            partner.map_or(0.0, |partner| partner.breathing.as_l_min())
        };
        // Of two who breathe alike either may be named.
        same(
            Question::Gas,
            breathes(said),
            breathes(partner),
            0.0,
            || format!("breathing of who shares the gas of {}", diver.name),
        )?;
        let pony = diver.pony.as_ref().zip(plan.pony_gas_of(index));
        let pony_l = pony.map(|(pony, gas)| {
            let mut contents = |bar| court.contents(&pony.cylinder, gas.into(), bar);
            let full = contents(pony.cylinder.fill.as_bar());
            (full - contents(PONY_EMPTY_BAR)).max(0.0)
        });
        let stages = diver.stages.iter().map(|stage| {
            let gas = Gas::from(stage.gas);
            let bar = stage.cylinder.fill.as_bar();
            (gas, court.contents(&stage.cylinder, gas, bar))
        });
        let stages = stages.collect();
        let hang = plan
            .reserve()
            .hang
            .as_ref()
            .map(|hang| court.rules.ambient(hang.depth.as_m()) / 1.013_25 * hang.time.as_min());
        Ok(Self {
            own,
            alone: own * stress,
            shared: (own + breathes(partner)) * stress,
            start_l: main.litres(fill_bar) * water_l,
            floor_l: main.litres(floor_bar) * water_l,
            main,
            water_l,
            fill_bar,
            floor_bar,
            hang,
            pony_l,
            stages,
        })
    }

    /// By how much two ways to so many litres may differ, as they are what is left of the fill.
    pub(super) fn rounding(&self, litres: f64) -> f64 {
        SHARE * litres.abs().max(self.start_l) + LEAST
    }

    /// The gauge at so many litres.
    pub(super) fn gauge(&self, litres: f64) -> f64 {
        self.main.gauge(litres / self.water_l)
    }

    /// What must be left where a level is left, the floor not counted; the hang where it is the last.
    pub(super) fn need(&self, end: &End, is_last: bool) -> f64 {
        let trouble = self.shared * end.emergency.full;
        let hanging = self.hang.filter(|_| is_last);
        hanging.map_or(trouble, |hang| trouble.max(self.own * (end.way_up + hang)))
    }

    /// Litres to spare where a level is left.
    pub(super) fn spare(&self, end: &End, is_last: bool) -> f64 {
        self.start_l - self.own * end.used - self.need(end, is_last).max(self.floor_l)
    }
}

/// Who of a diver's partners breathes most: of the buddies that the plan declares, else of all.
fn partner(divers: &[Diver], index: usize) -> Option<usize> {
    let named = |one: usize, other: usize| {
        divers[one].buddy.as_deref() == Some(divers[other].name.as_str())
    };
    let mut group = vec![index];
    if divers.iter().any(|diver| diver.buddy.is_some()) {
        let mut seen = 0;
        while seen < group.len() {
            let member = group[seen];
            for other in 0..divers.len() {
                if (named(member, other) || named(other, member)) && !group.contains(&other) {
                    group.push(other);
                }
            }
            seen += 1;
        }
    }
    if group.len() == 1 {
        group = (0..divers.len()).collect();
    }
    let others = group.into_iter().filter(|other| *other != index);
    others.max_by(|one, other| {
        let breathing = |diver: usize| divers[diver].breathing.as_l_min();
        breathing(*one).total_cmp(&breathing(*other))
    })
}
