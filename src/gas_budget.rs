//! Gas: what each diver uses, must keep, turns at, and for how long a pony bottle would do.

use crate::ascent;
use crate::cylinder::{Charge, Cylinder, GasConditions};
use crate::mix::Mix;
use crate::schedule::{DiveRules, Flight, Moment, Schedule, ScheduleError, Segment, SegmentKind};
use crate::units::{
    ATM_BAR, AtmMinutes, BreathingRate, Depth, FreeVolume, GaugePressure, Speed, Time,
};

/// A pony bottle is emptied down to this in an emergency.
pub const PONY_EMPTY: GaugePressure = GaugePressure::from_bar(10.0);
/// Gas limits are looked for up to this whole minute.
pub const GREATEST_LIMIT_MIN: u32 = 999;

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
    /// The fill.
    pub fill: GaugePressure,
    /// Contents at the fill.
    pub start: FreeVolume,
    /// The whole dive's draw on the main cylinder.
    pub planned_use: FreeVolume,
    /// What is left at the surface; `None` where it runs out before.
    pub end: Option<GaugePressure>,
    /// What is left on leaving the bottom; `None` where it runs out before.
    pub leaving: Option<GaugePressure>,
    /// Reserve, without the floor.
    pub reserve: FreeVolume,
    /// Pressure that holds the reserve, at least the floor.
    pub minimum_gas: GaugePressure,
    /// Whether the floor decides the minimum.
    pub floor_decides: bool,
    /// Whether the plan leaves the bottom with at least the minimum.
    pub reserve_holds: bool,
    /// Turn pressure.
    pub turn: GaugePressure,
    /// Run time at which the plan gets down to it: `None` if not before the bottom is left, 0 if
    /// it is more than the fill.
    pub turn_due: Option<Time>,
    /// Greatest whole bottom time for which the reserve holds; 0 if none.
    pub gas_limit_min: u32,
    /// Pony bottle.
    pub pony: Option<PonyBudget>,
    /// Each decompression gas that the plan breathes.
    pub stages: Vec<StageBudget>,
}

/// Exposure of an emergency that begins at one moment: the sort-out time and the way up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmergencyExposure {
    /// With a straight ascent.
    pub direct: AtmMinutes,
    /// With every stop, the part that is breathed from the main cylinder.
    pub full: AtmMinutes,
}

impl EmergencyExposure {
    /// Sort-out at the depth of `from`, then up.
    ///
    /// # Errors
    /// As [`ascent::ascend`].
    pub fn from(rules: &DiveRules, from: &Moment, sort_out: Time) -> Result<Self, ScheduleError> {
        let mut flight = Flight::resume(rules, from, rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, from.run_time + sort_out);
        let sorted_out = main_exposure(rules, &flight.segments);
        let staged = ascent::ascend(rules, &flight.now)?;
        let direct = ascent::ascend_without_stops(rules, &flight.now);
        Ok(Self {
            direct: sorted_out + main_exposure(rules, &direct),
            full: sorted_out + main_exposure(rules, &staged.segments),
        })
    }

    fn worst(self, other: Self) -> Self {
        Self {
            direct: self.direct.max(other.direct),
            full: self.full.max(other.full),
        }
    }
}

/// Exposure of what is breathed from the main cylinder: the bottom gas.
fn main_exposure(rules: &DiveRules, segments: &[Segment]) -> AtmMinutes {
    exposure_on(rules, segments, rules.bottom_gas)
}

fn exposure_on(rules: &DiveRules, segments: &[Segment], gas: Mix) -> AtmMinutes {
    segments
        .iter()
        .filter(|segment| segment.gas.is_same_gas(gas))
        .map(|segment| segment.exposure(&rules.environment))
        .sum()
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
    let mut worst: Option<EmergencyExposure> = None;
    for end in &schedule.level_ends {
        let here = EmergencyExposure::from(rules, end, reserve.sort_out)?;
        worst = Some(worst.map_or(here, |known| known.worst(here)));
    }
    let worst = worst.ok_or(ScheduleError::NoLevel)?;
    let mut sweep = BottomTimeSweep::new(rules, reserve, schedule)?;
    let mut budgets = Vec::with_capacity(divers.len());
    for (index, diver) in divers.iter().enumerate() {
        let others = divers
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index);
        let partner = others
            .map(|(_, other)| other.breathing)
            .fold(BreathingRate::from_l_min(0.0), BreathingRate::max);
        let budget = Budgeting {
            rules,
            reserve,
            conditions,
            schedule,
            diver,
            shared: (diver.breathing + partner) * reserve.stress,
            alone: diver.breathing * reserve.stress,
        };
        budgets.push(budget.reckon(&worst, &mut sweep));
    }
    Ok(budgets)
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
}

impl Budgeting<'_> {
    fn reckon(&self, worst: &EmergencyExposure, sweep: &mut BottomTimeSweep<'_>) -> DiverBudget {
        let Self {
            rules,
            schedule,
            diver,
            ..
        } = *self;
        let charge = Charge::new(diver.cylinder.water, rules.bottom_gas, self.conditions);
        let start = charge.contents(diver.cylinder.fill);
        let floor = self.reserve.floor;
        let floor_volume = charge.contents(floor);
        let reserve = self.shared * worst.full;
        let minimum_volume = reserve.max(floor_volume);
        let turn_volume =
            minimum_volume + (start - minimum_volume) * (1.0 - self.reserve.turn.share());
        let planned_use = diver.breathing * main_exposure(rules, &schedule.segments);
        let used_at_bottom: FreeVolume = schedule
            .way_down
            .iter()
            .map(|segment| diver.breathing * segment.exposure(&rules.environment))
            .sum();
        let left = |used: FreeVolume| {
            let left = start - used;
            (left.as_l() >= 0.0).then(|| charge.pressure(left))
        };
        let limit = sweep.greatest(|row| {
            let minimum = (self.shared * row.emergency).max(floor_volume);
            start - diver.breathing * row.leaving >= minimum
        });
        DiverBudget {
            name: diver.name.clone(),
            fill: diver.cylinder.fill,
            start,
            planned_use,
            end: left(planned_use),
            leaving: left(used_at_bottom),
            reserve,
            minimum_gas: charge.pressure(reserve).max(floor),
            floor_decides: reserve < floor_volume,
            reserve_holds: start - used_at_bottom >= minimum_volume,
            turn: charge.pressure(turn_volume),
            turn_due: self.turn_due(start, turn_volume),
            gas_limit_min: limit,
            pony: diver.pony.map(|pony| self.pony(&pony, worst, sweep)),
            stages: self.stages(),
        }
    }

    /// Run time at which the plan has used the gas down to the turn volume.
    fn turn_due(&self, start: FreeVolume, turn: FreeVolume) -> Option<Time> {
        if turn > start {
            return Some(Time::from_min(0.0));
        }
        let mut to_use = start - turn;
        for segment in &self.schedule.way_down {
            let used = self.diver.breathing * segment.exposure(&self.rules.environment);
            if used >= to_use {
                return Some(segment.start + self.time_to_use(segment, to_use));
            }
            to_use = to_use - used;
        }
        None
    }

    /// Time in a segment until a volume is used.
    ///
    /// ```text
    /// V̇/(1 atm) · (P0·t + R·t²/2) = V      t = 2c/(P0 + √(P0² + 2·R·c))   c = V·(1 atm)/V̇
    /// ```
    fn time_to_use(&self, segment: &Segment, volume: FreeVolume) -> Time {
        let ambient = |depth| self.rules.environment.ambient(depth).as_bar();
        let (from, to) = (ambient(segment.from), ambient(segment.to));
        let rate = (to - from) / segment.time().as_min();
        let c = volume.as_l() * ATM_BAR / self.diver.breathing.as_l_min();
        let root = (from * from + 2.0 * rate * c).max(0.0).sqrt();
        Time::from_min(2.0 * c / (from + root))
    }

    fn pony(
        &self,
        pony: &Cylinder,
        worst: &EmergencyExposure,
        sweep: &mut BottomTimeSweep<'_>,
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
            covers_until_min: sweep.greatest(|row| have >= self.alone * row.emergency),
        }
    }

    /// Each decompression gas that the schedule breathes, against the cylinders carried.
    fn stages(&self) -> Vec<StageBudget> {
        let mut gases: Vec<Mix> = Vec::new();
        for segment in &self.schedule.way_up {
            let seen = gases.iter().any(|gas| gas.is_same_gas(segment.gas));
            if !seen && !segment.gas.is_same_gas(self.rules.bottom_gas) {
                gases.push(segment.gas);
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

/// The dive with its last level stretched or cut to every whole bottom time, reckoned once for
/// the team and only as far as somebody asks.
struct BottomTimeSweep<'a> {
    rules: &'a DiveRules,
    sort_out: Time,
    /// The diver on arriving at the last level.
    arrival: Moment,
    /// Exposure up to that arrival.
    exposure_to_arrival: AtmMinutes,
    /// Worst emergency over the ends of the earlier levels.
    earlier: AtmMinutes,
    /// First whole minute not before the arrival.
    first: u32,
    rows: Vec<Option<SweepRow>>,
}

/// One whole bottom time.
#[derive(Clone, Copy)]
struct SweepRow {
    /// Exposure on leaving the bottom.
    leaving: AtmMinutes,
    /// Worst emergency with every stop.
    emergency: AtmMinutes,
}

impl<'a> BottomTimeSweep<'a> {
    fn new(
        rules: &'a DiveRules,
        reserve: &ReserveRules,
        schedule: &Schedule,
    ) -> Result<Self, ScheduleError> {
        let arrival = schedule.last_arrival;
        let mut earlier = AtmMinutes::from_atm_min(0.0);
        let before_last = schedule
            .level_ends
            .split_last()
            .map_or(&[][..], |(_, rest)| rest);
        for end in before_last {
            let here = EmergencyExposure::from(rules, end, reserve.sort_out)?;
            earlier = earlier.max(here.full);
        }
        let exposure_to_arrival = schedule
            .way_down
            .iter()
            .take_while(|segment| segment.start < arrival.run_time)
            .map(|segment| segment.exposure(&rules.environment))
            .sum();
        Ok(Self {
            rules,
            sort_out: reserve.sort_out,
            exposure_to_arrival,
            earlier,
            first: first_whole_minute(arrival.run_time),
            arrival,
            rows: Vec::new(),
        })
    }

    /// The greatest whole minute up to which every bottom time passes; 0 if the first does not.
    fn greatest(&mut self, passes: impl Fn(&SweepRow) -> bool) -> u32 {
        let mut greatest = 0;
        for minute in self.first..=GREATEST_LIMIT_MIN {
            match self.row(minute) {
                Some(row) if passes(&row) => greatest = minute,
                _ => break,
            }
        }
        greatest
    }

    /// `None` where the ascent from there cannot be scheduled.
    fn row(&mut self, minute: u32) -> Option<SweepRow> {
        let index = (minute - self.first) as usize;
        while self.rows.len() <= index {
            let next = self.first + u32::try_from(self.rows.len()).ok()?;
            let row = self.reckon(next);
            self.rows.push(row);
        }
        self.rows[index]
    }

    fn reckon(&self, minute: u32) -> Option<SweepRow> {
        let mut flight = Flight::resume(self.rules, &self.arrival, self.rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, Time::from_min(f64::from(minute)));
        let leaving = self.exposure_to_arrival + main_exposure(self.rules, &flight.segments);
        let here = EmergencyExposure::from(self.rules, &flight.now, self.sort_out).ok()?;
        Some(SweepRow {
            leaving,
            emergency: here.full.max(self.earlier),
        })
    }
}

/// The first whole minute not before a run time.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "run times are non-negative; one past u32 saturates, which is past every limit"
)]
fn first_whole_minute(run_time: Time) -> u32 {
    (run_time.as_min() - crate::schedule::SAME_MOMENT_MIN).ceil() as u32
}
