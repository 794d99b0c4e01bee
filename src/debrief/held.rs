//! A dive as it was, held against its plan.

use super::breathing::NoRate;
use super::dive::{Kept, Pencilled, RealDive, Sampled};
use super::finding::{DebriefFact, Found};
use super::flight::Breach;
use crate::briefing::Briefing;
use crate::dive::{Schedule, Segment, SegmentKind};
use crate::gas::DiverBudget;
use crate::plan::{Diver, TimeOfDay};
use crate::quantity::{BreathingRate, Depth, DepthChange, GaugePressure, Pressure, Time};
use crate::rules::DiveRules;
use crate::site::{ADVISED_PO2_BAR, GREATEST_PO2_BAR, Mix};

/// Deeper than planned by more than this is told (common practice, no source: what a gauge shows).
const DEEPER: DepthChange = DepthChange::from_m(1.0);
/// Longer than planned, or shorter than a way up takes, by more than this is told: a pencil writes
/// whole minutes.
const LONGER: Time = Time::from_min(1.0);
/// As near as this to its depth counts as at a safety stop.
const NEAR_A_STOP: DepthChange = DepthChange::from_m(1.5);
/// More breathed than planned by this is told, free L/min: what a plan is written to.
const MORE: BreathingRate = BreathingRate::from_l_min(0.05);
/// From this share of the planned consumption on more is a caution, up to the other less is (common
/// practice, no source).
const MUCH_MORE_SHARE: f64 = 1.1;
/// See [`MUCH_MORE_SHARE`].
pub(super) const LITTLE_SHARE: f64 = 0.7;
/// A fill that is this much lower than planned is told.
const FILL_STEP: GaugePressure = GaugePressure::from_bar(10.0);
/// Under water for so much longer than a dive takes: a wrong time of day, or a long hang.
const MUCH_LONGER: Time = Time::from_min(10.0);
/// A gauge is read to this.
const GAUGE_STEP: GaugePressure = GaugePressure::from_bar(5.0);
/// CNS share from which on there is a caution, and one that is a reason to stop, per cent (common
/// practice, no source).
const CNS_ADVISED_PCT: f64 = 80.0;
const CNS_LIMIT_PCT: f64 = 100.0;

/// All findings: no-gos first, then cautions, then notes.
pub(super) fn findings(briefing: &Briefing, dives: &[RealDive]) -> Vec<Found> {
    let mut found = Vec::new();
    for (index, dive) in dives.iter().enumerate() {
        let held = Held {
            rules: briefing.plan.rules(),
            schedule: &briefing.schedule,
            floor: briefing.plan.reserve().floor,
            diver: &briefing.plan.divers()[dive.diver],
            planned_gas: briefing.plan.gas_of(dive.diver),
            budget: &briefing.divers[dive.diver],
            dive,
        };
        let another = is_another(&dives[..index], dive).then_some(DebriefFact::AnotherDive);
        found.extend(held.facts().into_iter().chain(another).map(|fact| Found {
            diver: held.diver.name.clone(),
            gauge: held.diver.gauge,
            dive: index,
            fact,
        }));
    }
    found.sort_by_key(Found::weight);
    found
}

/// Whether an earlier record of the same diver is of another dive: on another day, or over before
/// this one begins, or the other way round.
fn is_another(before: &[RealDive], dive: &RealDive) -> bool {
    let mut own = before.iter().filter(|other| other.diver == dive.diver);
    own.any(|other| {
        let days = other.date.as_ref().zip(dive.date.as_ref());
        let times = other.splash.zip(dive.splash).map(|(one, other)| {
            let minutes = |at: TimeOfDay| f64::from(at.hour()) * 60.0 + f64::from(at.minute());
            Time::from_min(minutes(other) - minutes(one))
        });
        let apart = times.is_some_and(|later| {
            later.is_over(other.run_time) || (later * -1.0).is_over(dive.run_time)
        });
        days.is_some_and(|(one, other)| one != other) || apart
    })
}

/// A recorded dive, held against its plan.
struct Held<'a> {
    rules: &'a DiveRules,
    schedule: &'a Schedule,
    floor: GaugePressure,
    diver: &'a Diver,
    planned_gas: Mix,
    budget: &'a DiverBudget,
    dive: &'a RealDive,
}

impl Held<'_> {
    fn facts(&self) -> Vec<DebriefFact> {
        let mut facts = self.tissues();
        facts.extend(self.oxygen());
        if let Some(sampled) = self.dive.sampled() {
            facts.extend(self.of_readings(sampled));
        }
        facts.extend(self.safety_stop());
        facts.extend(self.against_plan());
        facts.extend(self.gas());
        if let Some(sampled) = self.dive.sampled() {
            facts.extend(self.other_gas());
            facts.extend(of_the_record(sampled, self.dive.gas));
        }
        facts
    }

    fn tissues(&self) -> Vec<DebriefFact> {
        let mut facts = Vec::new();
        if let Some(sampled) = self.dive.sampled() {
            let further = |worst: Breach, other: &Breach| {
                if other.most().as_m() > worst.most().as_m() {
                    *other
                } else {
                    worst
                }
            };
            if let Some(first) = sampled.breaches.first() {
                facts.push(DebriefFact::AboveCeiling {
                    worst: sampled.breaches.iter().fold(*first, further),
                    count: sampled.breaches.len(),
                });
            }
            if let Some(peak) = sampled.way_up.filter(|peak| peak.gradient.fraction > 1.0) {
                facts.push(DebriefFact::OverMValue {
                    gradient: peak.gradient,
                    on_the_way: Some(peak),
                });
            }
        }
        if let Kept::Pencilled(flown) = &self.dive.kept {
            facts.extend(self.pencilled_stops(flown));
        }
        let factor = self.rules.factors.high();
        match self.dive.surfacing {
            Some(gradient) if gradient.fraction > 1.0 => facts.push(DebriefFact::OverMValue {
                gradient,
                on_the_way: None,
            }),
            Some(gradient) if facts.is_empty() && gradient.fraction > factor + OVER_FACTOR => {
                facts.push(DebriefFact::OverFactor {
                    gradient,
                    factor_pct: factor * 100.0,
                });
            }
            _ => {}
        }
        facts
    }

    /// Stops that a pencil log shows as missed, or does not show as made.
    fn pencilled_stops(&self, flown: &Pencilled) -> Option<DebriefFact> {
        if !flown.schedule.staged {
            return None;
        }
        let stops = flown.schedule.pauses().filter(|pause| is_compulsory(pause));
        let stops: Time = stops.map(Segment::time).sum();
        match flown.run_time {
            None => Some(DebriefFact::StopsUnsaid {
                stops,
                is_planned: self.schedule.staged,
            }),
            Some(run_time) => flown.is_cut_short().then(|| DebriefFact::StopsCutShort {
                run_time,
                takes: flown.schedule.run_time().elapsed(),
            }),
        }
    }

    /// Planned stops that were not made, of a dive that was as deep and as long as planned.
    fn stops_short(&self, sampled: &Sampled) -> Option<DebriefFact> {
        let (dive, schedule) = (self.dive, self.schedule);
        let is_as_long = dive
            .bottom_time
            .is_some_and(|time| !schedule.bottom_time.is_over(time + LONGER));
        let is_as_deep = !schedule.deepest().is_below(dive.greatest_depth + DEEPER);
        if !(sampled.has_surfacing && is_as_long && is_as_deep) {
            return None;
        }
        let pauses = schedule.pauses().filter(|pause| is_compulsory(pause));
        let mut short = pauses.filter_map(|pause| {
            let lasted = time_near(sampled, pause.from);
            pause
                .time()
                .is_over(lasted + LONGER)
                .then_some((pause, lasted))
        });
        let (first, lasted) = short.next()?;
        Some(DebriefFact::StopShort {
            depth: first.from,
            lasted,
            planned: first.time(),
            count: 1 + short.count(),
        })
    }

    fn oxygen(&self) -> Vec<DebriefFact> {
        let po2 = Pressure::from_bar(self.dive.oxygen.max_po2_bar);
        let over = |limit_bar| po2.is_over(Pressure::from_bar(limit_bar));
        let passed = [(GREATEST_PO2_BAR, true), (ADVISED_PO2_BAR, false)];
        let passed = passed.into_iter().find(|(limit_bar, _)| over(*limit_bar));
        // A gas for the way up may have more than a bottom gas.
        let passed = passed.filter(|(_, over_limit)| *over_limit || self.bottom_gas_is_high());
        let pressure = passed.map(|(limit_bar, is_over_limit)| DebriefFact::Oxygen {
            po2,
            limit_bar,
            is_over_limit,
        });
        let cns_pct = self.dive.oxygen.cns_pct;
        let dose = (cns_pct > CNS_ADVISED_PCT).then_some(DebriefFact::Dose {
            cns_pct,
            is_over_limit: cns_pct > CNS_LIMIT_PCT,
        });
        pressure.into_iter().chain(dose).collect()
    }

    fn bottom_gas_is_high(&self) -> bool {
        let environment = &self.rules.environment;
        let po2 =
            crate::site::oxygen_pressure(environment, self.dive.gas, self.dive.greatest_depth);
        po2.is_over(Pressure::from_bar(ADVISED_PO2_BAR))
    }

    fn of_readings(&self, sampled: &Sampled) -> Vec<DebriefFact> {
        let fast = self.too_fast(sampled).into_iter();
        let short = self
            .stops_short(sampled)
            .filter(|_| sampled.breaches.is_empty());
        fast.chain(short).collect()
    }

    fn too_fast(&self, sampled: &Sampled) -> Option<DebriefFact> {
        let worst =
            sampled.too_fast.iter().reduce(
                |worst, rise| {
                    if rise.rate > worst.rate { rise } else { worst }
                },
            )?;
        Some(DebriefFact::TooFast {
            worst: *worst,
            count: sampled.too_fast.len(),
            planned_m_min: self.rules.ascent.rate.as_m_min(),
        })
    }

    /// Of a dive that was to have one.
    fn safety_stop(&self) -> Option<DebriefFact> {
        let stop = self.rules.ascent.safety_stop?;
        if !self.dive.greatest_depth.is_below(stop.depth) {
            return None;
        }
        let short = |lasted| {
            Some(DebriefFact::SafetyStopShort {
                depth: stop.depth,
                lasted,
                planned: stop.time,
            })
        };
        match &self.dive.kept {
            Kept::Sampled(sampled) => {
                let lasted = time_near(sampled, stop.depth);
                let is_short = sampled.has_surfacing && stop.time.is_over(lasted + HALF_A_MINUTE);
                is_short.then(|| short(Some(lasted)))?
            }
            Kept::Pencilled(flown) => {
                let is_short = !flown.schedule.staged && flown.is_cut_short();
                is_short.then(|| short(None))?
            }
        }
    }

    /// A gas that the plan has neither for the bottom nor for the way up.
    fn other_gas(&self) -> Option<DebriefFact> {
        let planned = self.planned_gas;
        let is_planned = |gas: &Mix| {
            let up = &self.rules.decompression;
            gas.is_same_gas(planned) || up.iter().any(|up| up.is_same_gas(*gas))
        };
        let first = self.dive.gases[0];
        if !first.is_same_gas(planned) {
            return Some(DebriefFact::OtherGas {
                gas: first,
                planned,
            });
        }
        let other = self.dive.gases.iter().find(|gas| !is_planned(gas));
        other.map(|gas| DebriefFact::OtherGas { gas: *gas, planned })
    }

    fn against_plan(&self) -> Vec<DebriefFact> {
        let (dive, schedule) = (self.dive, self.schedule);
        let (depth, planned) = (dive.greatest_depth, schedule.deepest());
        let deeper = depth.is_below(planned + DEEPER);
        let limit = self
            .diver
            .depth_limit
            .filter(|limit| depth.is_below(*limit));
        let bottom_time = dive.bottom_time;
        let late = bottom_time.filter(|time| time.is_over(schedule.bottom_time + LONGER));
        let deeper = deeper.then_some(DebriefFact::Deeper { depth, planned });
        let average = match &dive.kept {
            Kept::Pencilled(flown) if flown.was_deeper() => Some(DebriefFact::DeeperOnAverage {
                average: dive.average_depth,
                flown: flown.flown_average,
            }),
            _ => None,
        };
        let limit = limit.map(|limit| DebriefFact::BelowDepthLimit { depth, limit });
        let late = late.map(|bottom_time| DebriefFact::Longer {
            bottom_time,
            planned: schedule.bottom_time,
        });
        deeper
            .into_iter()
            .chain(average)
            .chain(limit)
            .chain(late)
            .collect()
    }

    fn gas(&self) -> Vec<DebriefFact> {
        let (breathed, budget) = (&self.dive.breathed, self.budget);
        let mut facts = Vec::new();
        let minimum = budget.bottom_minimum();
        let sampled = self.dive.sampled();
        let left = sampled.and_then(|sampled| sampled.left_bottom_at);
        if let Some(left) = left.filter(|left| minimum.is_over(*left)) {
            facts.push(DebriefFact::LeftUnderMinimum { left, minimum });
        }
        let is_whole = !matches!(
            breathed.rate,
            Err(NoRate::Rises { .. } | NoRate::NothingUsed)
        );
        if let Some(gauge) = breathed.gauge.filter(|_| is_whole) {
            let (end, fill) = (gauge.end, budget.fill);
            if fill.is_over(gauge.start + FILL_STEP) {
                let start = gauge.start;
                facts.push(DebriefFact::StartUnderFill { start, fill });
            }
            let planned = budget.end.unwrap_or(GaugePressure::from_bar(0.0));
            if self.floor.is_over(end) {
                facts.push(DebriefFact::EndUnderFloor {
                    end,
                    floor: self.floor,
                });
            } else if planned.is_over(end + GAUGE_STEP) {
                facts.push(DebriefFact::EndUnderPlan { end, planned });
            }
        }
        let planned = self.diver.breathing;
        match breathed.rate {
            Ok(rate) if rate > planned + MORE => facts.push(DebriefFact::BreathedMore {
                rate,
                planned,
                is_much: rate > planned * MUCH_MORE_SHARE,
            }),
            Ok(rate) if rate < planned * LITTLE_SHARE => {
                facts.push(DebriefFact::BreathedLittle { rate, planned });
            }
            Ok(_) => {}
            Err(why) => facts.push(DebriefFact::NoConsumption(why)),
        }
        if breathed.rate.is_ok() && breathed.uncovered.is_over(LONGER) {
            let uncovered = breathed.uncovered;
            facts.push(DebriefFact::GaugePartial { uncovered });
        }
        if let Kept::Pencilled(flown) = &self.dive.kept
            && let Some(run_time) = flown.run_time
        {
            let takes = flown.schedule.run_time().elapsed();
            if run_time.is_over(takes + MUCH_LONGER) {
                facts.push(DebriefFact::RunTimeLong { run_time, takes });
            }
        }
        facts
    }
}

/// Whether a pause is more than a safety stop.
fn is_compulsory(pause: &Segment) -> bool {
    matches!(pause.kind, SegmentKind::Stop | SegmentKind::Switch)
}

/// A gradient over the factor by less is rounding.
const OVER_FACTOR: f64 = 1e-9;
/// A safety stop that is shorter by less is not told.
const HALF_A_MINUTE: Time = Time::from_min(0.5);

/// Time near a depth, after the greatest one.
fn time_near(sampled: &Sampled, depth: Depth) -> Time {
    let moments = &sampled.moments;
    let greatest = moments
        .iter()
        .fold(Depth::SURFACE, |most, at| most.max(at.depth));
    let deepest = moments.iter().rposition(|at| at.depth >= greatest);
    let up = moments.get(deepest.unwrap_or(0)..).unwrap_or_default();
    let legs = up.iter().zip(up.iter().skip(1));
    let near = legs.filter(|(from, to)| {
        let middle = from.depth + (to.depth - from.depth) * 0.5;
        (middle - depth).as_m().abs() <= NEAR_A_STOP.as_m()
    });
    near.map(|(from, to)| to.run_time - from.run_time).sum()
}

/// What is odd about the record itself.
fn of_the_record(sampled: &Sampled, gas: Mix) -> Vec<DebriefFact> {
    let mut facts = Vec::new();
    if let Some(taken_at) = sampled.switch_taken_at {
        facts.push(DebriefFact::SwitchUnsaid { taken_at, gas });
    }
    let ends = sampled.moments.first().zip(sampled.moments.last());
    if let Some((first, last)) = ends {
        if !sampled.has_splash {
            facts.push(DebriefFact::BeginsDeep { depth: first.depth });
        }
        if !sampled.has_surfacing {
            facts.push(DebriefFact::EndsDeep { depth: last.depth });
        }
    }
    let longest = sampled.gaps.iter().reduce(|longest, gap| {
        if gap.end - gap.start > longest.end - longest.start {
            gap
        } else {
            longest
        }
    });
    if let Some(longest) = longest {
        facts.push(DebriefFact::Gaps {
            longest: *longest,
            count: sampled.gaps.len(),
        });
    }
    if let Some(first) = sampled.jumps.first() {
        facts.push(DebriefFact::Jumps {
            first: *first,
            count: sampled.jumps.len(),
        });
    }
    facts.extend(sampled.faults.iter().cloned().map(DebriefFact::Mended));
    facts
}
