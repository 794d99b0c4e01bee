//! What somebody really breathed.

use super::profile::Profile;
use crate::quantity::{
    AtmMinutes, BreathingRate, FreeVolume, GaugePressure, RunTime, Time, UnitSystem,
};
use crate::record::{Reading, SampledLog};
use crate::rules::ranges::BREATHING;
use crate::site::Charge;
use serde::Serialize;

/// A gauge that rises by more than this was not warmed by the sun: another cylinder, or more gas
/// in it.
const RISE: GaugePressure = GaugePressure::from_bar(5.0);

/// Gauge readings at both ends of the time that is counted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Gauge {
    /// At its beginning.
    pub start: GaugePressure,
    /// At its end.
    pub end: GaugePressure,
}

/// Why there is no consumption.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum NoRate {
    /// No two gauge readings are known.
    NoPressure,
    /// The gauge rises: a cylinder was swapped or refilled.
    Rises {
        /// From here.
        from: GaugePressure,
        /// To here.
        to: GaugePressure,
        /// Run time at which it is there.
        at: RunTime,
        /// Line of the file.
        line: u64,
    },
    /// The gauge is no lower at the end.
    NothingUsed,
    /// More or less than anybody breathes.
    Doubtful {
        /// What it would be.
        rate: BreathingRate,
    },
}

/// What was breathed from the main cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Breathed {
    /// The gauge, where it is known.
    pub gauge: Option<Gauge>,
    /// Pressure breathed over the whole dive on the main cylinder.
    pub whole: AtmMinutes,
    /// The same between the two gauge readings: what the rate is over.
    pub counted: AtmMinutes,
    /// Part of the dive that no gauge reading covers.
    pub uncovered: Time,
    /// Free gas used between the two readings.
    pub used: Option<FreeVolume>,
    /// Gas breathed in a minute at the surface, or why nobody knows.
    pub rate: Result<BreathingRate, NoRate>,
}

impl Breathed {
    /// Between two gauge readings of a cylinder.
    ///
    /// ```text
    /// V̇ = (V(p_start) − V(p_end)) / (∫P dt/1.01325)      free L/min
    /// ```
    pub(super) fn between(
        charge: &Charge,
        gauge: Gauge,
        (whole, counted): (AtmMinutes, AtmMinutes),
        uncovered: Time,
    ) -> Self {
        let used = charge.contents(gauge.start) - charge.contents(gauge.end);
        let rate = used.as_l() / counted.as_atm_min();
        let rate = if used.as_l() <= 0.0 {
            Err(NoRate::NothingUsed)
        } else if BREATHING.check(rate, UnitSystem::Metric).is_err() {
            let rate = BreathingRate::from_l_min(rate);
            Err(NoRate::Doubtful { rate })
        } else {
            Ok(BreathingRate::from_l_min(rate))
        };
        Self {
            gauge: Some(gauge),
            whole,
            counted,
            uncovered,
            used: Some(used),
            rate,
        }
    }

    /// Where nobody knows.
    const fn unknown(gauge: Option<Gauge>, whole: AtmMinutes, why: NoRate) -> Self {
        Self {
            gauge,
            whole,
            counted: whole,
            uncovered: Time::from_min(0.0),
            used: None,
            rate: Err(why),
        }
    }
}

/// A gauge reading and its run time.
#[derive(Clone, Copy, Debug)]
struct At {
    run_time: RunTime,
    pressure: GaugePressure,
    line: u64,
}

/// The gauge readings that count: the last one before the splash or at it, those of the dive, and
/// the first one after it.
fn gauge_readings(log: &SampledLog, profile: &Profile) -> Vec<At> {
    let at = |reading: &Reading| {
        reading.pressure.map(|pressure| At {
            run_time: RunTime::SPLASH + (reading.time - profile.splash),
            pressure,
            line: reading.line,
        })
    };
    let (splash, surfacing) = (RunTime::SPLASH, profile.run_time());
    let all = log.readings.iter().filter_map(at);
    let all: Vec<At> = all.collect();
    let begin = all.iter().rposition(|at| !at.run_time.is_after(splash));
    let end = all.iter().position(|at| !surfacing.is_after(at.run_time));
    let (begin, end) = (
        begin.unwrap_or(0),
        end.unwrap_or(all.len().saturating_sub(1)),
    );
    all.get(begin..=end).map(<[At]>::to_vec).unwrap_or_default()
}

/// Where the gauge rises by more than [`RISE`] above the least so far.
fn rise(readings: &[At]) -> Option<NoRate> {
    let mut least = readings.first()?.pressure;
    readings.iter().find_map(|at| {
        let rises = at.pressure.is_over(least + RISE);
        let found = rises.then_some(NoRate::Rises {
            from: least,
            to: at.pressure,
            at: at.run_time,
            line: at.line,
        });
        least = least.min(at.pressure);
        found
    })
}

/// What a logger's diver breathed; `main` is what was breathed from the main cylinder between two
/// run times, `until` when that ended, where it did before surfacing.
pub(super) fn breathed(
    charge: &Charge,
    log: &SampledLog,
    (profile, until): (&Profile, Option<RunTime>),
    main: impl Fn(RunTime, RunTime) -> AtmMinutes,
) -> Breathed {
    let surfacing = profile.run_time();
    let whole = main(RunTime::SPLASH, surfacing);
    let mut readings = gauge_readings(log, profile);
    if let Some(until) = until {
        readings.retain(|at| !at.run_time.is_after(until));
    }
    let (Some(first), Some(last)) = (readings.first(), readings.last()) else {
        return Breathed::unknown(None, whole, NoRate::NoPressure);
    };
    if readings.len() < 2 {
        return Breathed::unknown(None, whole, NoRate::NoPressure);
    }
    let gauge = Gauge {
        start: first.pressure,
        end: last.pressure,
    };
    if let Some(rises) = rise(&readings) {
        return Breathed::unknown(Some(gauge), whole, rises);
    }
    let (from, to) = (
        first.run_time.max(RunTime::SPLASH),
        last.run_time.min(surfacing),
    );
    let uncovered = (until.unwrap_or(surfacing) - to) + (from - RunTime::SPLASH);
    Breathed::between(charge, gauge, (whole, main(from, to)), uncovered)
}

/// The gauge at a run time: the last reading at or before it.
pub(super) fn gauge_at(
    log: &SampledLog,
    profile: &Profile,
    run_time: RunTime,
) -> Option<GaugePressure> {
    let readings = gauge_readings(log, profile);
    let before = readings
        .iter()
        .rev()
        .find(|at| !at.run_time.is_after(run_time));
    before.map(|at| at.pressure)
}
