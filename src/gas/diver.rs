//! One diver's gas: worked out from the plan, the schedule and the team's level ends.

use super::bottom_times::{Cut, EndExposure};
use super::budget::{DiverBudget, HangBudget, LevelBudget, NeedBy, StageBudget};
use super::cylinders::DiverCylinders;
use super::need::{LevelEnd, exposure_on, hang_exposure, main_exposure, used_up_at};
use super::pony::PonyBudget;
use crate::dive::{Schedule, Segment};
use crate::plan::{Diver, Plan, hungriest_partner};
use crate::quantity::{
    AtmMinutes, BreathingRate, Depth, FreeVolume, GaugePressure, Mass, RunTime, WaterVolume,
};
use crate::rules::DiveRules;
use crate::site::{Charge, Mix};

/// One diver's gas on one schedule.
pub(super) struct DiverGas<'a> {
    plan: &'a Plan,
    rules: &'a DiveRules,
    schedule: &'a Schedule,
    diver: &'a Diver,
    /// What is in the main cylinder.
    gas: Mix,
    /// What the diver carries.
    cylinders: &'a DiverCylinders,
    /// The team's level ends, as planned.
    ends: &'a [LevelEnd],
    /// Index of the partner who breathes most; `None` for a diver alone.
    partner: Option<usize>,
    /// Stressed breathing of the diver and the hungriest partner.
    shared: BreathingRate,
    /// Stressed breathing of the diver alone.
    alone: BreathingRate,
    /// Contents of the main cylinder at the fill.
    start: FreeVolume,
    /// Its contents at the floor.
    floor: FreeVolume,
}

impl<'a> DiverGas<'a> {
    pub(super) fn new(
        plan: &'a Plan,
        schedule: &'a Schedule,
        ends: &'a [LevelEnd],
        cylinders: &'a DiverCylinders,
        index: usize,
    ) -> Self {
        let diver = &plan.divers()[index];
        let partner = hungriest_partner(plan.divers(), index);
        let none = BreathingRate::from_l_min(0.0);
        let partner_breathes = partner.map_or(none, |partner| plan.divers()[partner].breathing);
        Self {
            plan,
            rules: plan.rules(),
            gas: plan.gas_of(index),
            schedule,
            diver,
            ends,
            partner,
            shared: (diver.breathing + partner_breathes) * plan.reserve().stress,
            alone: diver.breathing * plan.reserve().stress,
            start: cylinders.start,
            floor: cylinders.floor,
            cylinders,
        }
    }

    pub(super) fn budget(&self) -> DiverBudget {
        let (diver, start) = (self.diver, self.start);
        let segments = &self.schedule.segments;
        let planned_use = diver.breathing * main_exposure(self.rules, segments);
        let minimum = self.minimum();
        let share = self.plan.reserve().turn_share();
        let turn = minimum.volume + (start - minimum.volume) * (1.0 - share);
        DiverBudget {
            name: diver.name.clone(),
            gas: self.gas,
            gauge: diver.gauge,
            fill: diver.cylinder.fill,
            start,
            planned_use,
            end: self.left(planned_use),
            empty_at: self
                .used_up_at(segments, start)
                .filter(|_| start < planned_use),
            levels: minimum.levels,
            reserve: minimum.reserve,
            reserve_from: minimum.from,
            minimum_gas: self.pressure_of(minimum.reserve),
            partner: self.partner,
            hang: self.hang(planned_use),
            turn: self.cylinders.main.pressure(turn),
            turn_due: self.turn_due(turn),
            pony: self.cylinders.pony.as_ref().map(|pony| {
                let (gas, have) = (pony.gas, pony.have);
                PonyBudget::new(gas, have, self.alone, self.ends)
            }),
            stages: self.stages(),
            lighter: self.lighter(),
        }
    }

    /// Each level's end and the greatest of what must be left there.
    fn minimum(&self) -> Minimum {
        let levels = self.levels();
        let (mut from, mut reserve) = (0, FreeVolume::from_l(0.0));
        for (index, level) in levels.iter().enumerate() {
            if level.reserve > reserve {
                (from, reserve) = (index, level.reserve);
            }
        }
        Minimum {
            levels,
            reserve,
            from,
            volume: reserve.max(self.floor),
        }
    }

    /// The pressure that holds a volume, at least the floor.
    fn pressure_of(&self, volume: FreeVolume) -> GaugePressure {
        self.cylinders
            .main
            .pressure(volume)
            .max(self.plan.reserve().floor)
    }

    fn hang(&self, planned_use: FreeVolume) -> Option<HangBudget> {
        let hang = self.plan.reserve().hang.as_ref()?;
        let takes = self.diver.breathing * hang_exposure(self.rules, hang);
        Some(HangBudget {
            takes,
            left: self.left(planned_use + takes),
        })
    }

    /// What is left of the fill after using so much; `None` where it is not enough.
    fn left(&self, used: FreeVolume) -> Option<GaugePressure> {
        let left = self.start - used;
        (left.as_l() >= 0.0).then(|| self.cylinders.main.pressure(left))
    }

    fn levels(&self) -> Vec<LevelBudget> {
        let way_up = main_exposure(self.rules, &self.schedule.way_up);
        let last = self.ends.len().saturating_sub(1);
        let level = |(index, end): (usize, &LevelEnd)| {
            let hanging = (index == last).then(|| self.hang_need(way_up)).flatten();
            self.level(end, hanging)
        };
        self.ends.iter().enumerate().map(level).collect()
    }

    fn level(&self, end: &LevelEnd, hanging: Option<FreeVolume>) -> LevelBudget {
        let trouble = self.shared * end.emergency.exposure.full;
        let reserve = hanging.map_or(trouble, |hanging| hanging.max(trouble));
        let used = self.diver.breathing * end.used;
        let contents = self.start - used;
        LevelBudget {
            depth: end.moment.depth,
            leave: end.moment.run_time,
            trouble,
            hanging,
            reserve,
            minimum_gas: self.pressure_of(reserve),
            need_by: if reserve < self.floor {
                NeedBy::Floor
            } else if reserve > trouble {
                NeedBy::Hang
            } else {
                NeedBy::Reserve
            },
            contents,
            left: self.left(used),
            to_spare: contents - reserve.max(self.floor),
            holds_without_hang: contents >= trouble.max(self.floor),
        }
    }

    /// What the planned way up and the hang take of the main cylinder, unstressed; `None` without
    /// a hang.
    fn hang_need(&self, way_up: AtmMinutes) -> Option<FreeVolume> {
        let hang = self.plan.reserve().hang.as_ref()?;
        Some(self.diver.breathing * (way_up + hang_exposure(self.rules, hang)))
    }

    /// Whether every level is left with what must be left there.
    pub(super) fn keeps_all(&self) -> bool {
        let way_up = main_exposure(self.rules, &self.schedule.way_up);
        let ends: Vec<EndExposure> = self.ends.iter().map(EndExposure::from).collect();
        let keeps = ends.iter().all(|end| self.keeps(end));
        keeps && ends.last().is_none_or(|end| self.hangs(end, way_up))
    }

    /// Whether the main cylinder is enough for the dive, and every level is left with enough.
    pub(super) fn has_enough(&self) -> bool {
        let use_of_all = self.diver.breathing * main_exposure(self.rules, &self.schedule.segments);
        self.start >= use_of_all && self.keeps_all()
    }

    /// Whether at every level end of a dive left at one bottom time what must be left is.
    pub(super) fn lasts(&self, cut: &Cut<'_>) -> bool {
        self.hangs(&cut.here, cut.way_up.main())
            && self.keeps(&cut.here)
            && cut.before.iter().all(|end| self.keeps(end))
    }

    /// What is left at a level's end.
    fn left_at(&self, end: &EndExposure) -> FreeVolume {
        self.start - self.diver.breathing * end.used
    }

    /// Whether it is enough for trouble there, and the floor.
    fn keeps(&self, end: &EndExposure) -> bool {
        self.left_at(end) >= (self.shared * end.emergency).max(self.floor)
    }

    /// Whether it is enough for the planned way up and the hang.
    fn hangs(&self, end: &EndExposure, way_up: AtmMinutes) -> bool {
        let need = self.hang_need(way_up);
        need.is_none_or(|need| self.left_at(end) >= need)
    }

    /// Whether the pony covers every stop of a dive left at one bottom time; `None` without one.
    pub(super) fn pony_covers(&self, cut: &Cut<'_>) -> Option<bool> {
        let pony = self.cylinders.pony.as_ref()?;
        Some(pony.have >= self.alone * cut.worst_emergency())
    }

    /// Whether the main cylinder is empty before the surface on a dive left at one bottom time.
    pub(super) fn runs_empty(&self, cut: &Cut<'_>) -> bool {
        self.start < self.diver.breathing * cut.whole()
    }

    /// Whether the stage cylinders hold what the way up of a dive left at one bottom time needs.
    pub(super) fn stages_hold(&self, cut: &Cut<'_>) -> bool {
        let mut drawn = cut.way_up.stages.iter();
        drawn.all(|(gas, drawn)| self.stage(*gas, *drawn).holds())
    }

    /// Mass of all gas breathed by the end of the last stop.
    fn lighter(&self) -> Mass {
        let end = self.schedule.last_pause_ends();
        let segments = self.schedule.segments.iter();
        let by_then = segments.filter(|segment| segment.end <= end);
        by_then
            .map(|segment| {
                let volume = self.diver.breathing * segment.exposure(&self.rules.environment);
                if segment.gas.is_same_gas(self.rules.bottom_gas) {
                    return self.cylinders.main.mass(volume);
                }
                let mut carried = self.cylinders.stages.iter();
                let one_litre = WaterVolume::from_l(1.0);
                match carried.find(|stage| stage.gas.is_same_gas(segment.gas)) {
                    Some(stage) => stage.charge.mass(volume),
                    None => Charge::new(one_litre, segment.gas, &self.plan.gas_conditions())
                        .mass(volume),
                }
            })
            .sum()
    }

    /// Run time at which the plan has used the gas down to the turn volume.
    fn turn_due(&self, turn: FreeVolume) -> Option<RunTime> {
        if turn > self.start {
            return Some(RunTime::SPLASH);
        }
        self.used_up_at(&self.schedule.way_down, self.start - turn)
            .map(|(time, _)| time)
    }

    fn used_up_at(&self, segments: &[Segment], volume: FreeVolume) -> Option<(RunTime, Depth)> {
        let gas = self.rules.bottom_gas;
        used_up_at(self.rules, segments, gas, self.diver.breathing, volume)
    }

    /// Each decompression gas that the schedule breathes or the diver carries.
    fn stages(&self) -> Vec<StageBudget> {
        let breathed = self.schedule.way_up.iter().map(|segment| segment.gas);
        let carried = self.diver.stages.iter().map(|stage| stage.gas);
        let mut gases: Vec<Mix> = Vec::new();
        for gas in breathed.chain(carried) {
            if !gas.is_same_gas(self.rules.bottom_gas) && !gases.contains(&gas) {
                gases.push(gas);
            }
        }
        let drawn = |gas| exposure_on(self.rules, &self.schedule.segments, gas);
        let budgets = gases.into_iter().map(|gas| self.stage(gas, drawn(gas)));
        budgets.collect()
    }

    /// What the diver carries of a gas of which so much is drawn.
    fn stage(&self, gas: Mix, drawn: AtmMinutes) -> StageBudget {
        let stages = self.cylinders.stages.iter();
        let mut carried = stages.filter(|stage| stage.gas.is_same_gas(gas)).peekable();
        StageBudget {
            gas,
            need: self.alone * drawn,
            carried: carried.peek().is_some(),
            have: carried.map(|stage| stage.contents).sum(),
        }
    }
}

/// What must be left at the levels' ends.
struct Minimum {
    levels: Vec<LevelBudget>,
    /// The greatest over them, without the floor.
    reserve: FreeVolume,
    /// Where that is.
    from: usize,
    /// The greatest over them, the floor included.
    volume: FreeVolume,
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::DiverGas;
    use crate::gas::bottom_times::{BottomTimes, Left};
    use crate::gas::cylinders::DiverCylinders;
    use crate::gas::need::LevelEnd;
    use crate::plan_file::read;
    use crate::quantity::FreeVolume;

    #[test]
    fn what_is_just_enough_is_not_gone_before_the_surface() {
        let text = "[profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n[[diver]]\nname = \"Ada\"\n\
                    sac = \"15 L/min\"\ncylinder = { size = \"12 L\", fill = \"200 bar\" }";
        let plan = read(text).unwrap();
        let (schedule, sort_out) = (plan.fly().unwrap(), plan.reserve().sort_out);
        let ends = LevelEnd::of_each(plan.rules(), sort_out, &schedule).unwrap();
        let mut times = BottomTimes::new(plan.rules(), sort_out, &schedule, &ends);
        let Left::At(cut) = times.left_at(schedule.leave_bottom()) else {
            panic!("a level");
        };
        let breathed = plan.divers()[0].breathing * cut.whole();
        let runs_empty = |litres: f64| {
            let mut cylinders = DiverCylinders::of_each(&plan);
            cylinders[0].start = FreeVolume::from_l(litres);
            DiverGas::new(&plan, &schedule, &ends, &cylinders[0], 0).runs_empty(&cut)
        };
        assert!(!runs_empty(breathed.as_l()) && !runs_empty(breathed.as_l().next_up()));
        assert!(runs_empty(breathed.as_l().next_down()));
    }
}
