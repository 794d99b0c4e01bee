//! Gas: what each diver uses, must keep, turns at, and for how long a pony bottle would do.

use super::limits::{BottomTimeLimit, BottomTimes, Cut, EndExposure, LimitEnd, ShorterIsWorse};
use super::need::{EmergencyExposure, exposure_on, hang_exposure, main_exposure, used_up_at};
use crate::dive::{Schedule, ScheduleError, Segment, SegmentKind};
use crate::plan::DiveRules;
use crate::plan::Diver;
use crate::plan::ReserveRules;
use crate::plan::Stage;
use crate::plan::hungriest_partner;
use crate::quantity::{
    AtmMinutes, BreathingRate, Depth, FreeVolume, GaugePressure, Mass, Time, UnitSystem,
    WaterVolume,
};
use crate::site::Mix;
use crate::site::{Charge, Cylinder, GasConditions};

/// A pony bottle is emptied down to this in an emergency.
pub const PONY_EMPTY: GaugePressure = GaugePressure::from_bar(10.0);

/// What a pony bottle is good for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PonyVerdict {
    /// The ascent with every stop.
    CoversAll,
    /// A straight ascent, but not the stops.
    CoversAscentOnly,
    /// Not even a straight ascent.
    Short,
}

/// A diver's pony bottle: an emergency supply that counts for nothing else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PonyBudget {
    /// Sort-out and a straight ascent, from the worst level end.
    pub need_ascent: FreeVolume,
    /// Sort-out and the ascent with every stop, from the worst level end; not less than
    /// [`PonyBudget::need_ascent`].
    pub need_full: FreeVolume,
    /// Contents down to [`PONY_EMPTY`].
    pub have: FreeVolume,
    /// Contents against needs.
    pub verdict: PonyVerdict,
    /// The bottom time up to which it covers every stop.
    pub covers_until: BottomTimeLimit,
}

/// What decides how much gas a diver must leave a level with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NeedBy {
    /// The reserve: two on one cylinder, or one alone, in trouble.
    Reserve,
    /// The planned way up and the hang.
    Hang,
    /// The floor.
    Floor,
}

/// One diver's gas on leaving one level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LevelBudget {
    /// The level.
    pub depth: Depth,
    /// Run time of leaving it.
    pub leave: Time,
    /// What must be left then, without the floor: the reserve from there, and on leaving the last
    /// level what the planned way up and the hang take if that is more.
    pub reserve: FreeVolume,
    /// Pressure that holds it, at least the floor.
    pub minimum_gas: GaugePressure,
    /// What decides that.
    pub need_by: NeedBy,
    /// What is left then; `None` where nothing is.
    pub left: Option<GaugePressure>,
    /// Contents then less the minimum: what there is to spare, or less than 0.
    pub to_spare: FreeVolume,
    /// Whether what is left would do if there were no hang.
    pub holds_without_hang: bool,
}

impl LevelBudget {
    /// Whether at least the minimum is left.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.to_spare.as_l() >= 0.0
    }
}

/// What the hang takes of one diver's main cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HangBudget {
    /// The gas it takes, unstressed.
    pub takes: FreeVolume,
    /// What is left at the surface after the planned dive and the hang; `None` where the cylinder
    /// is empty before.
    pub left: Option<GaugePressure>,
}

/// A decompression gas on one diver's side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageBudget {
    /// The gas.
    pub gas: Mix,
    /// `stress ·` what the plan draws from it.
    pub need: FreeVolume,
    /// What the diver's stage cylinders of that gas hold.
    pub have: FreeVolume,
    /// Whether the diver carries a cylinder of it at all.
    pub carried: bool,
}

/// One diver's gas.
#[derive(Clone, Debug, PartialEq)]
pub struct DiverBudget {
    /// The diver's name.
    pub name: String,
    /// Units of the diver's gauge, where they differ from the plan's.
    pub gauge: Option<UnitSystem>,
    /// The fill.
    pub fill: GaugePressure,
    /// Contents at the fill.
    pub start: FreeVolume,
    /// The whole dive's draw on the main cylinder.
    pub planned_use: FreeVolume,
    /// What is left at the surface; `None` where it runs out before.
    pub end: Option<GaugePressure>,
    /// Where it runs out, if it does: run time and depth.
    pub empty_at: Option<(Time, Depth)>,
    /// Each level's end, in order; at least one.
    pub levels: Vec<LevelBudget>,
    /// The greatest of what must be left at a level's end, without the floor.
    pub reserve: FreeVolume,
    /// Pressure that holds it, at least the floor.
    pub minimum_gas: GaugePressure,
    /// Who shares the gas in the reserve; `None` for a diver alone.
    pub partner: Option<String>,
    /// What the hang takes, where the plan has one.
    pub hang: Option<HangBudget>,
    /// Turn pressure.
    pub turn: GaugePressure,
    /// Run time at which the plan gets down to it: `None` if not before the bottom is left, 0 if
    /// it is more than the fill.
    pub turn_due: Option<Time>,
    /// The bottom time up to which what must be left at each level's end is.
    pub gas_limit: BottomTimeLimit,
    /// Where the plan leaves enough: shorter bottom times that do not.
    pub shorter_is_worse: Vec<ShorterIsWorse>,
    /// Pony bottle.
    pub pony: Option<PonyBudget>,
    /// Each decompression gas that the plan breathes or the diver carries.
    pub stages: Vec<StageBudget>,
    /// Mass of gas breathed by the end of the last stop (of the dive where there is none), from
    /// all cylinders: so much lighter hangs the diver than at the start.
    pub lighter: Mass,
}

impl DiverBudget {
    /// Whether at every level's end at least its minimum is left.
    #[must_use]
    pub fn reserve_holds(&self) -> bool {
        self.levels.iter().all(LevelBudget::holds)
    }

    /// What must be left on leaving the bottom: the minimum at the end of the last level.
    #[must_use]
    pub fn bottom_minimum(&self) -> GaugePressure {
        let last = self.levels.last();
        last.map_or(self.minimum_gas, |level| level.minimum_gas)
    }

    /// The end of the last level; a budget that [`team_budget`] gave has one.
    #[must_use]
    pub fn leaving(&self) -> Option<&LevelBudget> {
        self.levels.last()
    }
}

/// The gas of a whole team on one schedule.
///
/// Reserve of a diver at the end of a level, in free litres:
///
/// ```text
/// (own V̇ + greatest V̇ among the partners) · stress · ∫ P/(1 atm) dt
/// ```
/// and on leaving the bottom, where there is a hang, at least
/// `own V̇ · (∫ P/(1 atm) dt of the planned way up + that of the hang)`, all of what the main
/// cylinder gives. The turn keeps the greatest over the level ends, the floor included:
///
/// ```text
/// V_turn = V_reserve + (V_start − V_reserve)·(1 − share)
/// ```
/// The partners are the declared buddies, or everybody else; a diver alone counts with the own
/// V̇ only.
///
/// # Errors
/// [`ScheduleError`] where the ascent after the sort-out time cannot be scheduled.
pub fn team_budget(
    rules: &DiveRules,
    reserve: &ReserveRules,
    conditions: &GasConditions,
    schedule: &Schedule,
    divers: &[Diver],
) -> Result<Vec<DiverBudget>, ScheduleError> {
    let ends = EndExposure::of_each(rules, reserve.sort_out, schedule)?;
    let mut times = BottomTimes::new(rules, reserve.sort_out, schedule, &ends);
    let budget = |budgeting: &Budgeting<'_>| {
        let mut budget = budgeting.budget();
        budget.lighter = budgeting.lighter();
        budget.gas_limit = times.limit(|cut| budgeting.lasts(cut));
        if budget.reserve_holds() {
            budget.shorter_is_worse = times.shorter_failures(|cut| budgeting.lasts(cut));
        }
        if let Some(pony) = &mut budget.pony {
            let have = pony.have;
            pony.covers_until = times.limit(|cut| have >= budgeting.pony_needs(cut));
        }
        budget
    };
    Ok(team(
        rules, reserve, conditions, schedule, divers, &ends, budget,
    ))
}

/// As [`team_budget`], but the bottom times up to which gas and ponies last, and the mass breathed,
/// are not looked for and stand at 0: for the many dives of a what-if, which do not show them.
pub(crate) fn team_budget_without_limits(
    rules: &DiveRules,
    reserve: &ReserveRules,
    conditions: &GasConditions,
    schedule: &Schedule,
    divers: &[Diver],
) -> Result<Vec<DiverBudget>, ScheduleError> {
    let ends = EndExposure::of_each(rules, reserve.sort_out, schedule)?;
    let budget = |budgeting: &Budgeting<'_>| budgeting.budget();
    Ok(team(
        rules, reserve, conditions, schedule, divers, &ends, budget,
    ))
}

fn team(
    rules: &DiveRules,
    reserve: &ReserveRules,
    conditions: &GasConditions,
    schedule: &Schedule,
    divers: &[Diver],
    ends: &[EndExposure],
    mut budget: impl FnMut(&Budgeting<'_>) -> DiverBudget,
) -> Vec<DiverBudget> {
    let mut budgets = Vec::with_capacity(divers.len());
    for (index, diver) in divers.iter().enumerate() {
        let partner = hungriest_partner(divers, index);
        let partner_breathes =
            partner.map_or(BreathingRate::from_l_min(0.0), |partner| partner.breathing);
        let charge = Charge::new(diver.cylinder.water, rules.bottom_gas, conditions);
        let budgeting = Budgeting {
            rules,
            reserve,
            conditions,
            schedule,
            diver,
            ends,
            partner,
            shared: (diver.breathing + partner_breathes) * reserve.stress,
            alone: diver.breathing * reserve.stress,
            start: charge.contents(diver.cylinder.fill),
            floor: charge.contents(reserve.floor),
            charge,
        };
        budgets.push(budget(&budgeting));
    }
    budgets
}

/// One diver's budget under way.
struct Budgeting<'a> {
    rules: &'a DiveRules,
    reserve: &'a ReserveRules,
    conditions: &'a GasConditions,
    schedule: &'a Schedule,
    diver: &'a Diver,
    /// The team's level ends, as planned.
    ends: &'a [EndExposure],
    partner: Option<&'a Diver>,
    /// Stressed breathing of the diver and the hungriest partner.
    shared: BreathingRate,
    /// Stressed breathing of the diver alone.
    alone: BreathingRate,
    /// The main cylinder.
    charge: Charge,
    /// Its contents at the fill.
    start: FreeVolume,
    /// Its contents at the floor.
    floor: FreeVolume,
}

impl Budgeting<'_> {
    fn budget(&self) -> DiverBudget {
        let Self {
            rules,
            schedule,
            diver,
            ref charge,
            start,
            ..
        } = *self;
        let levels = self.levels();
        let none = FreeVolume::from_l(0.0);
        let reserve = levels
            .iter()
            .fold(none, |most, level| most.max(level.reserve));
        let minimum = reserve.max(self.floor);
        let turn = minimum + (start - minimum) * (1.0 - self.reserve.turn_share());
        let planned_use = diver.breathing * main_exposure(rules, &schedule.segments);
        let hang = self.reserve.hang.map(|hang| {
            let takes = diver.breathing * hang_exposure(rules, &hang);
            HangBudget {
                takes,
                left: self.left(planned_use + takes),
            }
        });
        let nothing_looked_for = BottomTimeLimit {
            minutes: 0,
            ended_by: LimitEnd::Bound,
        };
        let worst = EmergencyExposure::worst(self.ends.iter().map(|end| &end.emergency));
        DiverBudget {
            name: diver.name.clone(),
            gauge: diver.gauge,
            fill: diver.cylinder.fill,
            start,
            planned_use,
            end: self.left(planned_use),
            empty_at: self
                .used_up_at(&schedule.segments, start)
                .filter(|_| start < planned_use),
            levels,
            reserve,
            minimum_gas: charge.pressure(reserve).max(self.reserve.floor),
            partner: self.partner.map(|partner| partner.name.clone()),
            hang,
            turn: charge.pressure(turn),
            turn_due: self.turn_due(start, turn),
            gas_limit: nothing_looked_for,
            shorter_is_worse: Vec::new(),
            pony: diver
                .pony
                .map(|pony| self.pony(&pony, &worst, nothing_looked_for)),
            stages: self.stages(),
            lighter: Mass::from_kg(0.0),
        }
    }

    /// What is left of the fill after using so much; `None` where it is not enough.
    fn left(&self, used: FreeVolume) -> Option<GaugePressure> {
        let left = self.start - used;
        (left.as_l() >= 0.0).then(|| self.charge.pressure(left))
    }

    fn levels(&self) -> Vec<LevelBudget> {
        let way_up = main_exposure(self.rules, &self.schedule.way_up);
        let last = self.ends.len().saturating_sub(1);
        let moments = self.schedule.level_ends.iter().zip(self.ends).enumerate();
        moments
            .map(|(index, (moment, end))| {
                let in_trouble = self.shared * end.emergency.full;
                let hanging = (index == last).then(|| self.hang_need(way_up)).flatten();
                let reserve = hanging.map_or(in_trouble, |hanging| hanging.max(in_trouble));
                let used = self.diver.breathing * end.used;
                LevelBudget {
                    depth: moment.depth,
                    leave: moment.run_time,
                    reserve,
                    minimum_gas: self.charge.pressure(reserve).max(self.reserve.floor),
                    need_by: if reserve < self.floor {
                        NeedBy::Floor
                    } else if reserve > in_trouble {
                        NeedBy::Hang
                    } else {
                        NeedBy::Reserve
                    },
                    left: self.left(used),
                    to_spare: self.start - used - reserve.max(self.floor),
                    holds_without_hang: self.start - used >= in_trouble.max(self.floor),
                }
            })
            .collect()
    }

    /// What the planned way up and the hang take of the main cylinder, unstressed; `None` without
    /// a hang.
    fn hang_need(&self, way_up: AtmMinutes) -> Option<FreeVolume> {
        let hang = self.reserve.hang.as_ref()?;
        Some(self.diver.breathing * (way_up + hang_exposure(self.rules, hang)))
    }

    /// Whether at every level end of a dive left at one bottom time what must be left is.
    fn lasts(&self, cut: &Cut<'_>) -> bool {
        let left_at = |end: &EndExposure| self.start - self.diver.breathing * end.used;
        let keeps =
            |end: &EndExposure| left_at(end) >= (self.shared * end.emergency.full).max(self.floor);
        let hangs = self
            .hang_need(cut.way_up)
            .is_none_or(|need| left_at(&cut.here) >= need);
        hangs && keeps(&cut.here) && cut.before.iter().all(keeps)
    }

    /// What a pony must hold for every stop of a dive left at one bottom time.
    fn pony_needs(&self, cut: &Cut<'_>) -> FreeVolume {
        self.alone * cut.worst_emergency().full
    }

    /// Mass of all gas breathed by the end of the last stop.
    fn lighter(&self) -> Mass {
        let paused = |segment: &&Segment| segment.kind != SegmentKind::Ascent;
        let last_stop = self.schedule.way_up.iter().rfind(paused);
        let end = last_stop.map_or(self.schedule.run_time(), |stop| stop.end);
        let by_then = self
            .schedule
            .segments
            .iter()
            .filter(|segment| segment.end <= end);
        by_then
            .map(|segment| {
                let volume = self.diver.breathing * segment.exposure(&self.rules.environment);
                let one_litre = WaterVolume::from_l(1.0);
                Charge::new(one_litre, segment.gas, self.conditions).mass(volume)
            })
            .sum()
    }

    /// Run time at which the plan has used the gas down to the turn volume.
    fn turn_due(&self, start: FreeVolume, turn: FreeVolume) -> Option<Time> {
        if turn > start {
            return Some(Time::from_min(0.0));
        }
        self.used_up_at(&self.schedule.way_down, start - turn)
            .map(|(time, _)| time)
    }

    fn used_up_at(&self, segments: &[Segment], volume: FreeVolume) -> Option<(Time, Depth)> {
        let gas = self.rules.bottom_gas;
        used_up_at(self.rules, segments, gas, self.diver.breathing, volume)
    }

    fn pony(
        &self,
        pony: &Cylinder,
        worst: &EmergencyExposure,
        covers_until: BottomTimeLimit,
    ) -> PonyBudget {
        let charge = Charge::new(pony.water, self.rules.bottom_gas, self.conditions);
        let above_empty = charge.contents(pony.fill) - charge.contents(PONY_EMPTY);
        let have = above_empty.max(FreeVolume::from_l(0.0));
        let need_ascent = self.alone * worst.direct;
        let need_full = self.alone * worst.full;
        let verdict = if have >= need_full {
            PonyVerdict::CoversAll
        } else if have >= need_ascent {
            PonyVerdict::CoversAscentOnly
        } else {
            PonyVerdict::Short
        };
        PonyBudget {
            need_ascent,
            need_full,
            have,
            verdict,
            covers_until,
        }
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
        let budget = |gas: Mix| {
            let carried = |stage: &&Stage| stage.gas.is_same_gas(gas);
            let drawn = exposure_on(self.rules, &self.schedule.segments, gas);
            let cylinders = self.diver.stages.iter().filter(carried);
            StageBudget {
                gas,
                need: self.alone * drawn,
                have: cylinders
                    .map(|Stage { gas, cylinder }| {
                        Charge::new(cylinder.water, *gas, self.conditions).contents(cylinder.fill)
                    })
                    .sum(),
                carried: self.diver.stages.iter().any(|stage| carried(&stage)),
            }
        };
        gases.into_iter().map(budget).collect()
    }
}
