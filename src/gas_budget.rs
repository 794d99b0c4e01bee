//! Gas: what each diver uses, must keep, turns at, and for how long a pony bottle would do.

use crate::cylinder::{Charge, Cylinder, GasConditions};
use crate::emergency::{
    BottomTimeSweep, Emergency, EmergencyExposure, exposure_on, hang_exposure, hang_gas,
    main_exposure, used_up_at,
};
use crate::mix::Mix;
use crate::schedule::{DiveRules, Schedule, ScheduleError, Segment, SegmentKind};
use crate::units::{
    BreathingRate, Depth, FreeVolume, GaugePressure, Mass, Speed, Time, UnitSystem, WaterVolume,
};

/// A pony bottle is emptied down to this in an emergency.
pub const PONY_EMPTY: GaugePressure = GaugePressure::from_bar(10.0);
/// Which share of the gas above the reserve is used on the way out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TurnRule {
    /// Out and back: half.
    #[default]
    Half,
    /// A third.
    Third,
    /// All: the dive need not come back to where it began.
    All,
}

impl TurnRule {
    /// The share.
    #[must_use]
    pub const fn share(self) -> f64 {
        match self {
            Self::Half => 1.0 / 2.0,
            Self::Third => 1.0 / 3.0,
            Self::All => 1.0,
        }
    }
}

/// Share of the gas that may be used going out with a current by a diver who must return
/// against it.
///
/// ```text
/// (v − c)/(2v)      v: swim speed   c: current
/// ```
/// 0 where the current cannot be swum against.
#[must_use]
pub fn share_returning_against(current: Speed, swim: Speed) -> f64 {
    let (c, v) = (current.as_m_min(), swim.as_m_min());
    ((v - c) / (2.0 * v)).max(0.0)
}

/// Gas for hanging at a depth over and above the schedule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hang {
    /// Where.
    pub depth: Depth,
    /// How long, on top of the stop that is made there anyway.
    pub time: Time,
}

/// A current and which way the dive goes out in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwimPlan {
    /// The current.
    pub current: Speed,
    /// Speed of the slowest swimmer through the water.
    pub swim: Speed,
    /// Which way the dive goes out.
    pub out: OutBound,
}

/// Which way a dive goes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutBound {
    /// With the current: the way back is against it.
    With,
    /// Against the current.
    Against,
}

/// Rules of the reserve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReserveRules {
    /// How much harder divers in trouble breathe.
    pub stress: f64,
    /// Time to sort the trouble out at depth.
    pub sort_out: Time,
    /// Minimum gas is never less than this.
    pub floor: GaugePressure,
    /// Turn rule.
    pub turn: TurnRule,
    /// Gas to hang with, in every reserve.
    pub hang: Option<Hang>,
    /// The current, where the plan says how the team swims in it.
    pub swim: Option<SwimPlan>,
}

impl ReserveRules {
    /// Share of the gas above the reserve that is used on the way out.
    ///
    /// The turn rule's; where the team must come back against a current, not more than
    /// [`share_returning_against`]. A team that need not come back
    /// ([`TurnRule::All`]) is not held to it.
    #[must_use]
    pub fn turn_share(&self) -> f64 {
        let share = self.turn.share();
        match (self.turn, self.swim) {
            (TurnRule::Half | TurnRule::Third, Some(swim)) if swim.out == OutBound::With => {
                share.min(share_returning_against(swim.current, swim.swim))
            }
            _ => share,
        }
    }

    /// Whether the current is one that the team cannot swim against but has to.
    #[must_use]
    pub fn current_is_too_strong(&self) -> bool {
        let must_swim_against =
            |swim: &SwimPlan| swim.out == OutBound::Against || self.turn != TurnRule::All;
        self.swim
            .is_some_and(|swim| must_swim_against(&swim) && swim.current >= swim.swim)
    }
}

/// Gas of a decompression stage cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stage {
    /// What is in it.
    pub gas: Mix,
    /// The cylinder.
    pub cylinder: Cylinder,
}

/// A diver as the gas arithmetic sees one.
#[derive(Clone, Debug, PartialEq)]
pub struct Diver {
    /// Name; unique in a team.
    pub name: String,
    /// Gas breathed at the surface in a minute.
    pub breathing: BreathingRate,
    /// Main cylinder.
    pub cylinder: Cylinder,
    /// Pony bottle, filled with the bottom gas.
    pub pony: Option<Cylinder>,
    /// Stage cylinders.
    pub stages: Vec<Stage>,
    /// Deepest depth that the diver is qualified for.
    pub depth_limit: Option<Depth>,
    /// Units of the diver's gauge, where they differ from the plan's.
    pub gauge: Option<UnitSystem>,
    /// Name of the diver's buddy, where the plan names one.
    pub buddy: Option<String>,
}

/// The divers whom one diver may get gas from: the others of the buddy group, or everybody else
/// where no buddy is named. Indices into the team.
#[must_use]
pub fn partners(divers: &[Diver], index: usize) -> Vec<usize> {
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
    if group.len() == 1 {
        return (0..divers.len()).filter(|other| *other != index).collect();
    }
    group.remove(0);
    group.sort_unstable();
    group
}

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
    /// Sort-out and the ascent with every stop, from the worst level end.
    pub need_full: FreeVolume,
    /// Contents down to [`PONY_EMPTY`].
    pub have: FreeVolume,
    /// Contents against needs.
    pub verdict: PonyVerdict,
    /// Greatest whole bottom time up to which it covers every stop; 0 if none.
    pub covers_until_min: u32,
}

/// A decompression gas on one diver's side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageBudget {
    /// The gas.
    pub gas: Mix,
    /// `stress ·` what the plan draws from it, the hang included if it is made on this gas.
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
    /// What is left on leaving the bottom; `None` where it runs out before.
    pub leaving: Option<GaugePressure>,
    /// Contents on leaving the bottom less the minimum: what there is to spare, or less than 0.
    pub to_spare: FreeVolume,
    /// Reserve, without the floor.
    pub reserve: FreeVolume,
    /// Pressure that holds the reserve, at least the floor.
    pub minimum_gas: GaugePressure,
    /// Whether the floor decides the minimum.
    pub floor_decides: bool,
    /// Whether the plan leaves the bottom with at least the minimum.
    pub reserve_holds: bool,
    /// Whether it would without the hang.
    pub reserve_holds_without_hang: bool,
    /// Turn pressure.
    pub turn: GaugePressure,
    /// Run time at which the plan gets down to it: `None` if not before the bottom is left, 0 if
    /// it is more than the fill.
    pub turn_due: Option<Time>,
    /// Greatest whole bottom time for which the reserve holds; 0 if none.
    pub gas_limit_min: u32,
    /// Pony bottle.
    pub pony: Option<PonyBudget>,
    /// Each decompression gas that the plan breathes, the diver carries, or a hang may be made on.
    pub stages: Vec<StageBudget>,
    /// Mass of gas breathed by the end of the last stop (of the dive where there is none), from
    /// all cylinders: so much lighter hangs the diver than at the start.
    pub lighter: Mass,
}

/// The gas of a whole team on one schedule.
///
/// Reserve of a diver, in free litres, with the worst exposure over all level ends:
///
/// ```text
/// (own V̇ + greatest V̇ among the others) · stress · ∫ P/(1 atm) dt
/// V_turn = V_reserve + (V_start − V_reserve)·(1 − share)
/// ```
/// A diver alone reckons with the own V̇ only. `V_reserve` in the turn is the contents at the
/// minimum gas pressure, the floor included.
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
    let mut sweep = BottomTimeSweep::new(rules, reserve, schedule)?;
    team(
        rules,
        reserve,
        conditions,
        schedule,
        divers,
        |budgeting, budget| {
            budget.lighter = budgeting.lighter();
            budget.gas_limit_min = budgeting.gas_limit(&mut sweep);
            if let Some(pony) = &mut budget.pony {
                pony.covers_until_min = budgeting.pony_limit(pony.have, &mut sweep);
            }
        },
    )
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
    team(rules, reserve, conditions, schedule, divers, |_, _| ())
}

fn team(
    rules: &DiveRules,
    reserve: &ReserveRules,
    conditions: &GasConditions,
    schedule: &Schedule,
    divers: &[Diver],
    mut find_limits: impl FnMut(&Budgeting<'_>, &mut DiverBudget),
) -> Result<Vec<DiverBudget>, ScheduleError> {
    let worst = EmergencyExposure::worst_of(rules, reserve, &schedule.level_ends)?;
    let hang_gases = hang_gases(rules, reserve, schedule)?;
    let mut budgets = Vec::with_capacity(divers.len());
    for (index, diver) in divers.iter().enumerate() {
        let others = divers
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index);
        let partner = others
            .map(|(_, other)| other.breathing)
            .fold(BreathingRate::from_l_min(0.0), BreathingRate::max);
        let charge = Charge::new(diver.cylinder.water, rules.bottom_gas, conditions);
        let budgeting = Budgeting {
            rules,
            reserve,
            conditions,
            schedule,
            diver,
            shared: (diver.breathing + partner) * reserve.stress,
            alone: diver.breathing * reserve.stress,
            hang_gases: &hang_gases,
            start: charge.contents(diver.cylinder.fill),
            floor: charge.contents(reserve.floor),
            charge,
        };
        let mut budget = budgeting.reckon(&worst);
        find_limits(&budgeting, &mut budget);
        budgets.push(budget);
    }
    Ok(budgets)
}

/// The gases that are in use at the depth of the hang: on the planned way up, and on the way up
/// from an emergency at each level end. A stage cylinder must hold the hang if either breathes it
/// there, so that the hang is never reckoned from no cylinder at all.
fn hang_gases(
    rules: &DiveRules,
    reserve: &ReserveRules,
    schedule: &Schedule,
) -> Result<Vec<Mix>, ScheduleError> {
    let Some(hang) = &reserve.hang else {
        return Ok(Vec::new());
    };
    let mut gases = vec![hang_gas(rules, &schedule.way_up, hang)];
    for end in &schedule.level_ends {
        let emergency = Emergency::from(rules, end, reserve.sort_out)?;
        let gas = hang_gas(rules, &emergency.full, hang);
        if !gases.contains(&gas) {
            gases.push(gas);
        }
    }
    gases.retain(|gas| !gas.is_same_gas(rules.bottom_gas));
    Ok(gases)
}

/// One diver's budget under way.
struct Budgeting<'a> {
    rules: &'a DiveRules,
    reserve: &'a ReserveRules,
    conditions: &'a GasConditions,
    schedule: &'a Schedule,
    diver: &'a Diver,
    /// Stressed breathing of the diver and the hungriest partner.
    shared: BreathingRate,
    /// Stressed breathing of the diver alone.
    alone: BreathingRate,
    /// Gases that the hang may be made on: as planned, or in an emergency at any level end.
    hang_gases: &'a [Mix],
    /// The main cylinder.
    charge: Charge,
    /// Its contents at the fill.
    start: FreeVolume,
    /// Its contents at the floor.
    floor: FreeVolume,
}

impl Budgeting<'_> {
    fn reckon(&self, worst: &EmergencyExposure) -> DiverBudget {
        let Self {
            rules,
            schedule,
            diver,
            ref charge,
            start,
            floor: floor_volume,
            ..
        } = *self;
        let floor = self.reserve.floor;
        let reserve = self.shared * worst.reserve;
        let without_hang = (self.shared * worst.full).max(floor_volume);
        let minimum_volume = reserve.max(floor_volume);
        let turn_volume =
            minimum_volume + (start - minimum_volume) * (1.0 - self.reserve.turn_share());
        let planned_use = diver.breathing * main_exposure(rules, &schedule.segments);
        let used_at_bottom = diver.breathing * main_exposure(rules, &schedule.way_down);
        let left = |used: FreeVolume| {
            let left = start - used;
            (left.as_l() >= 0.0).then(|| charge.pressure(left))
        };
        DiverBudget {
            name: diver.name.clone(),
            gauge: diver.gauge,
            fill: diver.cylinder.fill,
            start,
            planned_use,
            end: left(planned_use),
            empty_at: self
                .used_up_at(&schedule.segments, start)
                .filter(|_| start < planned_use),
            leaving: left(used_at_bottom),
            to_spare: start - used_at_bottom - minimum_volume,
            reserve,
            minimum_gas: charge.pressure(reserve).max(floor),
            floor_decides: reserve < floor_volume,
            reserve_holds: start - used_at_bottom >= minimum_volume,
            reserve_holds_without_hang: start - used_at_bottom >= without_hang,
            turn: charge.pressure(turn_volume),
            turn_due: self.turn_due(start, turn_volume),
            gas_limit_min: 0,
            pony: diver.pony.map(|pony| self.pony(&pony, worst)),
            stages: self.stages(),
            lighter: Mass::from_kg(0.0),
        }
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

    /// The greatest whole bottom time whose reserve is left on leaving the bottom.
    fn gas_limit(&self, sweep: &mut BottomTimeSweep<'_>) -> u32 {
        sweep.greatest(|row| {
            let minimum = (self.shared * row.emergency.reserve).max(self.floor);
            self.start - self.diver.breathing * row.leaving >= minimum
        })
    }

    /// The greatest whole bottom time for which a pony covers every stop.
    fn pony_limit(&self, have: FreeVolume, sweep: &mut BottomTimeSweep<'_>) -> u32 {
        sweep.greatest(|row| have >= self.alone * row.emergency.full)
    }

    fn pony(&self, pony: &Cylinder, worst: &EmergencyExposure) -> PonyBudget {
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
            covers_until_min: 0,
        }
    }

    /// Each decompression gas that the schedule breathes, the diver carries, or a hang may be
    /// made on.
    fn stages(&self) -> Vec<StageBudget> {
        let breathed = self.schedule.way_up.iter().map(|segment| segment.gas);
        let carried = self.diver.stages.iter().map(|stage| stage.gas);
        let mut gases: Vec<Mix> = Vec::new();
        let hung_on = self.hang_gases.iter().copied();
        for gas in breathed.chain(carried).chain(hung_on) {
            if !gas.is_same_gas(self.rules.bottom_gas) && !gases.contains(&gas) {
                gases.push(gas);
            }
        }
        let budget = |gas: Mix| {
            let carried = |stage: &&Stage| stage.gas.is_same_gas(gas);
            let mut drawn = exposure_on(self.rules, &self.schedule.segments, gas);
            if let Some(hang) = &self.reserve.hang
                && self.hang_gases.contains(&gas)
            {
                drawn = drawn + hang_exposure(self.rules, hang);
            }
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
