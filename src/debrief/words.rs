//! The sentences of the findings.

use super::breathing::NoRate;
use super::finding::{DebriefFact, Found};
use crate::quantity::show::{
    Show, hundredths_up, min_s_down, min_s_up, minutes_down, minutes_up, whole_up,
};
use crate::quantity::{BreathingRate, RunTime, UnitSystem};
use crate::record::ReadingFault;
use crate::tissue::Gradient;

/// What a missed stop and a gradient over 100 % need.
pub const CARE: &str = "the local emergency procedure and medical advice now, not a calculation";

/// A consumption for people, rounded up: tenths of a litre or hundredths of a cubic foot.
#[must_use]
pub fn rate_up(rate: BreathingRate, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{:.1} L/min", up(rate.as_l_min(), 10.0)),
        UnitSystem::Imperial => format!("{:.2} cuft/min", up(rate.as_cuft_min(), 100.0)),
    }
}

fn up(value: f64, parts: f64) -> f64 {
    (value * parts - 1e-6).ceil() / parts
}

fn compartment(gradient: Gradient) -> String {
    format!(
        "{} % of what the model allows at the very most, in compartment {}",
        whole_up(gradient.fraction * 100.0),
        gradient.index + 1
    )
}

/// `2 times` or nothing.
fn times(count: usize) -> String {
    match count {
        0 | 1 => String::new(),
        count => format!(" {count} times, worst"),
    }
}

impl Found {
    /// What was found in full, with the figures rounded toward safety; pressures in the units of the
    /// diver's gauge. Where it hurts people, it says what that needs.
    #[must_use]
    pub fn message(&self, units: UnitSystem) -> String {
        let sentence = self.sentence(units);
        if self.needs_care() {
            format!("{sentence} This needs {CARE}.")
        } else {
            sentence
        }
    }

    /// The same without what it needs, for a screen that says that once.
    #[must_use]
    pub fn sentence(&self, units: UnitSystem) -> String {
        sentence(self, units)
    }

    /// Whether it needs [`CARE`].
    #[must_use]
    pub const fn needs_care(&self) -> bool {
        matches!(
            self.fact,
            DebriefFact::AboveCeiling { .. }
                | DebriefFact::StopsCutShort { .. }
                | DebriefFact::OverMValue { .. }
        )
    }
}

fn sentence(found: &Found, units: UnitSystem) -> String {
    let (who, show) = (&found.diver, Show(units));
    let gauge = Show(found.gauge.unwrap_or(units));
    match &found.fact {
        DebriefFact::AboveCeiling { .. }
        | DebriefFact::StopsCutShort { .. }
        | DebriefFact::OverMValue { .. }
        | DebriefFact::OverFactor { .. }
        | DebriefFact::TooFast { .. }
        | DebriefFact::SafetyStopShort { .. } => way_up(found, show),
        DebriefFact::Oxygen { .. } | DebriefFact::Dose { .. } => oxygen(found),
        DebriefFact::Deeper { depth, planned } => format!(
            "{who} went to {}; the plan was {}.",
            show.depth(*depth),
            show.depth(*planned)
        ),
        DebriefFact::BelowDepthLimit { depth, limit } => format!(
            "{who} went to {}, below the own limit of {}.",
            show.depth(*depth),
            show.depth_limit(*limit)
        ),
        DebriefFact::Longer {
            bottom_time,
            planned,
        } => format!(
            "{who} left the bottom at {}; planned was {}.",
            min_s_up(RunTime::SPLASH + *bottom_time),
            min_s_down(RunTime::SPLASH + *planned)
        ),
        DebriefFact::LeftUnderMinimum { .. }
        | DebriefFact::EndUnderFloor { .. }
        | DebriefFact::EndUnderPlan { .. }
        | DebriefFact::StartUnderFill { .. } => pressure(found, gauge),
        DebriefFact::StopsUnsaid { .. } | DebriefFact::StopShort { .. } => stops(found, show),
        DebriefFact::DeeperOnAverage { average, flown } => format!(
            "{who}'s average depth of {} says that the dive was deeper for longer than planned (flown \
             it is {}): what is said of tissues and gradient is too little.",
            show.depth(*average),
            show.depth(*flown)
        ),
        DebriefFact::AnotherDive => format!(
            "This record of {who} is of another dive than the one before: each is worked out as if it \
             were the planned one."
        ),
        DebriefFact::BreathedLittle { rate, planned } => format!(
            "{who} breathed {} at the surface; the plan counts on {}. So little is doubtful: check \
             gauge, units, cylinder and times. A next plan keeps the planned figure.",
            rate_up(*rate, units),
            rate_up(*planned, units)
        ),
        DebriefFact::BreathedMore { rate, planned, .. } => format!(
            "{who} breathed {} at the surface; the plan counts on {}.",
            rate_up(*rate, units),
            rate_up(*planned, units)
        ),
        DebriefFact::RunTimeLong { run_time, takes } => format!(
            "{who} was under water for {} minutes by the record; the dive takes {}. A wrong time makes \
             the consumption too low: check it.",
            minutes_up(*run_time),
            minutes_up(*takes)
        ),
        DebriefFact::NoConsumption(why) => no_consumption(who, *why, gauge, units),
        DebriefFact::GaugePartial { uncovered } => format!(
            "{who}'s gauge is not known for {} minutes of the dive: the consumption is that of the \
             rest.",
            minutes_up(*uncovered)
        ),
        DebriefFact::OtherGas { gas, planned } => format!(
            "{who}'s record says {gas}, the plan {planned}: it was worked out on {gas}. Find out \
             which it was."
        ),
        DebriefFact::SwitchUnsaid { taken_at, gas } => format!(
            "{who}'s record does not say when the gas was switched: the tissues are those of {gas} \
             to the end, and the main cylinder counts up to {}, as planned.",
            min_s_down(*taken_at)
        ),
        DebriefFact::BeginsDeep { .. }
        | DebriefFact::EndsDeep { .. }
        | DebriefFact::Gaps { .. }
        | DebriefFact::Jumps { .. }
        | DebriefFact::Mended(_) => record(found, show),
    }
}

fn stops(found: &Found, show: Show) -> String {
    let who = &found.diver;
    match &found.fact {
        DebriefFact::StopsUnsaid { stops, is_planned } => {
            let what = if *is_planned {
                "Ask, and write the run time down."
            } else {
                "The plan has none. Ask now: if they were not made, that needs the local emergency \
                 procedure and medical advice."
            };
            format!(
                "{who}'s dive as written down takes {} minutes of compulsory stops, and the log does \
                 not say when it was over. {what}",
                minutes_up(*stops)
            )
        }
        DebriefFact::StopShort {
            depth,
            lasted,
            planned,
            count,
        } => {
            let others = match count - 1 {
                0 => String::new(),
                1 => " One more planned stop was short.".to_owned(),
                more => format!(" {more} more planned stops were short."),
            };
            format!(
                "{who}'s planned stop of {} minutes at {} lasted {}, never above the ceiling.{others}",
                minutes_up(*planned),
                show.depth(*depth),
                min_s_down(RunTime::SPLASH + *lasted)
            )
        }
        _ => String::new(),
    }
}

fn way_up(found: &Found, show: Show) -> String {
    let who = &found.diver;
    match &found.fact {
        DebriefFact::AboveCeiling { worst, count } => format!(
            "{who} was above the ceiling{}: {} above it at {}, minute {}{}. A compulsory stop was \
             missed.",
            times(*count),
            show.depth_change(worst.most()),
            show.depth_limit(worst.depth),
            min_s_down(worst.at),
            if worst.end.is_after(worst.start) {
                let (start, end) = (min_s_down(worst.start), min_s_up(worst.end));
                format!("; so from {start} to {end}")
            } else {
                String::new()
            },
        ),
        DebriefFact::StopsCutShort { run_time, takes } => format!(
            "{who} was back after {} minutes; with the compulsory stops the way up ends at minute \
             {}. Stops were missed or the times are wrong; what was breathed is counted over the \
             whole way up, so the real rate may be higher.",
            minutes_down(*run_time),
            minutes_up(*takes)
        ),
        DebriefFact::OverMValue {
            gradient,
            on_the_way: Some(peak),
        } => format!(
            "{who} was over the M-value on the way up: {} at {}, minute {}.",
            compartment(*gradient),
            show.depth_limit(peak.depth),
            min_s_down(peak.run_time)
        ),
        DebriefFact::OverMValue { gradient, .. } => format!(
            "{who} surfaced over the M-value: {}.",
            compartment(*gradient)
        ),
        DebriefFact::OverFactor {
            gradient,
            factor_pct,
        } => format!(
            "{who} surfaced with {}; the plan keeps to {factor_pct:.0} %. Ask {who} more than \
             once how it feels.",
            compartment(*gradient)
        ),
        DebriefFact::TooFast {
            worst,
            count,
            planned_m_min,
        } => format!(
            "{who} came up too fast{}: {} from {} to {}, minute {} to {}; planned is {}. Ask {who} more \
             than once how it feels.",
            times(*count),
            rise(worst.rate.as_m_min(), show),
            show.depth(worst.from),
            show.depth_limit(worst.to),
            min_s_down(worst.start),
            min_s_up(worst.end),
            rise(*planned_m_min, show)
        ),
        DebriefFact::SafetyStopShort {
            depth,
            lasted,
            planned,
        } => {
            let lasted = lasted.map_or_else(
                || "by the run time it was not made or cut short".to_owned(),
                |lasted| {
                    let lasted = min_s_down(RunTime::SPLASH + lasted);
                    format!("it lasted {lasted}")
                },
            );
            format!(
                "{who}'s safety stop at {} was to last {} minutes: {lasted}.",
                show.depth(*depth),
                minutes_up(*planned)
            )
        }
        _ => String::new(),
    }
}

/// A rate of ascent, up.
fn rise(m_min: f64, show: Show) -> String {
    match show.0 {
        UnitSystem::Metric => format!("{:.1} m/min", up(m_min, 10.0)),
        UnitSystem::Imperial => format!("{:.0} ft/min", up(m_min / 0.3048, 1.0)),
    }
}

fn oxygen(found: &Found) -> String {
    let who = &found.diver;
    match &found.fact {
        DebriefFact::Oxygen {
            po2,
            limit_bar,
            is_over_limit,
        } => {
            let (which, what) = if *is_over_limit {
                ("the limit", " Find out why before anybody dives again.")
            } else {
                ("advised for a bottom gas", "")
            };
            format!(
                "{who} breathed oxygen at {} bar; {which} is {limit_bar} bar.{what}",
                hundredths_up(po2.as_bar())
            )
        }
        DebriefFact::Dose {
            cns_pct,
            is_over_limit,
        } => {
            let what = if *is_over_limit {
                "No more oxygen-rich gas for anybody like this today."
            } else {
                "Over 80 % is close to them."
            };
            format!(
                "{who} has used {} % of the oxygen (CNS) limits for a single exposure today. {what}",
                whole_up(*cns_pct)
            )
        }
        _ => String::new(),
    }
}

fn pressure(found: &Found, gauge: Show) -> String {
    let who = &found.diver;
    match &found.fact {
        DebriefFact::LeftUnderMinimum { left, minimum } => format!(
            "{who} left the bottom with {}; the minimum was {}.",
            gauge.pressure_read(*left),
            gauge.pressure_up(*minimum)
        ),
        DebriefFact::StartUnderFill { start, fill } => format!(
            "{who} began with {}; the plan counts on {}.",
            gauge.pressure_read(*start),
            gauge.pressure_read(*fill)
        ),
        DebriefFact::EndUnderFloor { end, floor } => format!(
            "{who} was back with {}, under the floor of {}.",
            gauge.pressure_read(*end),
            gauge.pressure_up(*floor)
        ),
        DebriefFact::EndUnderPlan { end, planned } => format!(
            "{who} was back with {}; the plan expected {}.",
            gauge.pressure_read(*end),
            gauge.pressure_down(*planned)
        ),
        _ => String::new(),
    }
}

fn no_consumption(who: &str, why: NoRate, gauge: Show, units: UnitSystem) -> String {
    match why {
        NoRate::NoPressure => {
            format!("{who}'s record has no gauge at both ends: no consumption from it.")
        }
        NoRate::Rises { from, to, at, line } => format!(
            "{who}'s gauge rises from {} to {} at minute {} (line {line}): a cylinder swapped or \
             refilled? No consumption from this record.",
            gauge.pressure_read(from),
            gauge.pressure_read(to),
            min_s_down(at)
        ),
        NoRate::NothingUsed => {
            format!("{who}'s gauge is no lower at the end: no consumption from this record.")
        }
        NoRate::Doubtful { rate } => format!(
            "{who} would have breathed {}, which nobody does: depths, times, pressures or the \
             cylinder are not as recorded. It is not used.",
            rate_up(rate, units)
        ),
    }
}

fn record(found: &Found, show: Show) -> String {
    let who = &found.diver;
    match &found.fact {
        DebriefFact::BeginsDeep { depth } => format!(
            "{who}'s record begins at {}: the way down is not in it, and tissues and gas lack it.",
            show.depth(*depth)
        ),
        DebriefFact::EndsDeep { depth } => format!(
            "{who}'s record ends at {}: how it went on from there is not known.",
            show.depth(*depth)
        ),
        DebriefFact::Gaps { longest, count } => format!(
            "{who}'s record has {}: nothing from {} to {} (line {}). Taken as a straight line, \
             whatever happened.",
            match count {
                1 => "a gap".to_owned(),
                count => format!("{count} gaps, the longest"),
            },
            min_s_down(longest.start),
            min_s_up(longest.end),
            longest.line
        ),
        DebriefFact::Jumps { first, count } => format!(
            "{who}'s depth jumps{} from {} to {} at minute {} (line {}): taken as recorded, and \
             ceiling and gas are no better than that.",
            match count {
                1 => String::new(),
                count => format!(" {count} times, first"),
            },
            show.depth(first.from),
            show.depth(first.to),
            min_s_down(first.run_time),
            first.line
        ),
        DebriefFact::Mended(ReadingFault::Repeated { line }) => {
            format!("{who}'s record says a row twice (line {line}): once is enough.")
        }
        DebriefFact::Mended(ReadingFault::AboveSurface { line, .. }) => format!(
            "{who}'s record has depths above the surface (line {line}): taken as the surface."
        ),
        DebriefFact::Mended(ReadingFault::DecimalCommas { line }) => {
            format!("{who}'s record has decimal commas (line {line}): taken as points.")
        }
        _ => String::new(),
    }
}
