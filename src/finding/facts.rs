//! What there is to say about a plan: reasons for a no-go, cautions, notes.

use crate::dive::CeilingBreach;
use crate::dive::NotStraightUp;
use crate::gas::DiverBudget;
use crate::gas::{ShorterIsWorse, WorseBecause};
use crate::plan::Hang;
use crate::quantity::show::{
    Show, hundredths_down, hundredths_up, list, minutes, minutes_down, minutes_up, whole_up,
};
use crate::quantity::{Depth, FreeVolume, GaugePressure, RunTime, Speed, Time, UnitSystem};
use crate::site::Mix;

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// The dive is off as planned.
    NoGo,
    /// The dive may go, but somebody must know this.
    Caution,
    /// Good to know.
    Note,
}

impl Weight {
    /// The word for it, in JSON and on the screen.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::NoGo => "no-go",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }
}

/// One thing found, with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The diver it is about; `None` for the whole team.
    pub diver: Option<String>,
    /// Units of that diver's gauge, where they differ from the plan's.
    pub gauge: Option<UnitSystem>,
    /// What was found.
    pub fact: Fact,
}

/// What can be found, with the figures that a sentence about it needs.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Fact {
    /// Oxygen pressure above the limit for any gas.
    OxygenOverLimit {
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure, bar.
        po2_bar: f64,
        /// Where.
        depth: Depth,
        /// The limit, bar.
        limit_bar: f64,
        /// Deepest depth at which it is kept.
        operating_depth: Depth,
    },
    /// Oxygen pressure of the bottom gas above what is advised.
    OxygenHigh {
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure, bar.
        po2_bar: f64,
        /// Where.
        depth: Depth,
        /// What is advised, bar.
        limit_bar: f64,
    },
    /// The bottom gas holds too little oxygen to be breathed at the surface.
    OxygenTooLow {
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure at the surface, bar.
        po2_bar: f64,
        /// The least that keeps a diver conscious, bar.
        limit_bar: f64,
    },
    /// The single-exposure oxygen limits are used up.
    OxygenDoseOverLimit {
        /// Share used, per cent.
        cns_pct: f64,
    },
    /// The single-exposure oxygen limits are nearly used up.
    OxygenDoseHigh {
        /// Share used, per cent.
        cns_pct: f64,
    },
    /// The gas is too dense to breathe at work.
    DensityOverLimit {
        /// The gas.
        gas: Mix,
        /// Its density, g/L.
        density_g_l: f64,
        /// Where.
        depth: Depth,
        /// The limit, g/L.
        limit_g_l: f64,
    },
    /// The gas is denser than advised.
    DensityHigh {
        /// The gas.
        gas: Mix,
        /// Its density, g/L.
        density_g_l: f64,
        /// Where.
        depth: Depth,
        /// What is advised, g/L.
        limit_g_l: f64,
    },
    /// A rise between levels passes the low-factor ceiling.
    CeilingPassed(CeilingBreach),
    /// The fill does not even hold the minimum gas.
    MinimumAboveFill {
        /// The fill.
        fill: GaugePressure,
        /// The minimum.
        minimum: GaugePressure,
    },
    /// A level is left with less than the minimum gas.
    ReserveBroken {
        /// The level.
        depth: Depth,
        /// Run time of leaving it.
        leave: RunTime,
        /// Whether it is the only level: then it is the bottom.
        only_level: bool,
        /// What is left then; `None` where nothing is.
        left: Option<GaugePressure>,
        /// The minimum.
        minimum: GaugePressure,
    },
    /// The plan leaves the bottom with the reserve, but not with the gas for the way up and the
    /// hang.
    HangShort {
        /// The hang.
        hang: Hang,
        /// What is left on leaving the bottom; `None` where nothing is.
        left: Option<GaugePressure>,
        /// The minimum, the hang included.
        minimum: GaugePressure,
    },
    /// The hang is deeper than the level that the way up begins from.
    HangTooDeep {
        /// The hang.
        hang: Hang,
        /// The last level.
        last: Depth,
    },
    /// What must be left is at the planned bottom time, but not at some shorter ones.
    ShorterNeedsMore {
        /// Which.
        bad: Vec<ShorterIsWorse>,
        /// Planned bottom time.
        bottom_time: Time,
    },
    /// A current that must be swum against cannot be.
    CurrentTooStrong {
        /// The current.
        current: Speed,
        /// The team's swim speed.
        swim: Speed,
    },
    /// The main cylinder is empty before the surface.
    GasRunsOut {
        /// What the plan draws.
        planned_use: FreeVolume,
        /// What there is.
        start: FreeVolume,
    },
    /// A stage cylinder holds less than the plan needs.
    StageShort {
        /// The gas.
        gas: Mix,
        /// What must be in it.
        need: FreeVolume,
        /// What is in it.
        have: FreeVolume,
    },
    /// The plan breathes a gas that the diver does not carry.
    StageMissing {
        /// The gas.
        gas: Mix,
    },
    /// The dive is deeper than the diver is qualified for.
    DepthLimit {
        /// The diver's limit.
        limit: Depth,
        /// The dive's deepest depth.
        deepest: Depth,
    },
    /// The way up has compulsory stops, and the plan asks for them.
    Staged(StopsNeeded),
    /// The way up has compulsory stops, and the plan does not ask for any.
    StagedUnplanned(StopsNeeded),
    /// A no-stop dive at its end, but not all along.
    StopsInBetween {
        /// When nobody may go straight up.
        between: Vec<NotStraightUp>,
        /// Whether the plan asks for stops.
        asked: bool,
    },
    /// A pony bottle covers a straight ascent but not the stops.
    PonyAscentOnly {
        /// What every stop needs.
        need: FreeVolume,
        /// What it holds.
        have: FreeVolume,
    },
    /// A pony bottle does not even cover a straight ascent.
    PonyShort {
        /// What a straight ascent needs.
        need: FreeVolume,
        /// What it holds.
        have: FreeVolume,
    },
    /// A diver is expected back with less than the floor.
    BackBelowFloor {
        /// Expected at the surface.
        end: GaugePressure,
        /// The floor.
        floor: GaugePressure,
    },
    /// There is a current, and the turn pressures do not allow for it.
    CurrentNotInTurn {
        /// The current.
        current: Speed,
    },
    /// A decompression gas is planned but never breathed.
    GasNotBreathed {
        /// The gas.
        gas: Mix,
    },
    /// One diver alone: nobody else's breathing is in the reserve.
    Alone,
    /// There is no team, so nobody's gas was worked out.
    GasNotReckoned,
}

/// Compulsory stops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopsNeeded {
    /// Time of the stops of the same ascent without a safety stop.
    pub compulsory: Time,
    /// Time of all stops as planned, the safety stop included, gas switches not.
    pub stop_time: Time,
    /// Depth of the first stop; `None` where only a gas switch makes the ascent safe.
    pub first_stop: Option<Depth>,
    /// From when on, and from which depth, nobody may go straight up.
    pub since: Option<NotStraightUp>,
}

impl Finding {
    /// About the whole team.
    #[must_use]
    pub const fn of_team(fact: Fact) -> Self {
        Self {
            diver: None,
            gauge: None,
            fact,
        }
    }

    /// About one diver.
    #[must_use]
    pub fn of(budget: &DiverBudget, fact: Fact) -> Self {
        Self {
            diver: Some(budget.name.clone()),
            gauge: budget.gauge,
            fact,
        }
    }

    /// How much it weighs.
    #[must_use]
    pub const fn weight(&self) -> Weight {
        match self.fact {
            Fact::OxygenOverLimit { .. }
            | Fact::OxygenTooLow { .. }
            | Fact::OxygenDoseOverLimit { .. }
            | Fact::DensityOverLimit { .. }
            | Fact::CeilingPassed(_)
            | Fact::MinimumAboveFill { .. }
            | Fact::ReserveBroken { .. }
            | Fact::HangShort { .. }
            | Fact::CurrentTooStrong { .. }
            | Fact::GasRunsOut { .. }
            | Fact::StageShort { .. }
            | Fact::StageMissing { .. }
            | Fact::DepthLimit { .. }
            | Fact::StagedUnplanned(_)
            | Fact::StopsInBetween { asked: false, .. } => Weight::NoGo,
            Fact::OxygenHigh { .. }
            | Fact::OxygenDoseHigh { .. }
            | Fact::DensityHigh { .. }
            | Fact::Staged(_)
            | Fact::StopsInBetween { asked: true, .. }
            | Fact::HangTooDeep { .. }
            | Fact::ShorterNeedsMore { .. }
            | Fact::PonyAscentOnly { .. }
            | Fact::PonyShort { .. }
            | Fact::BackBelowFloor { .. }
            | Fact::CurrentNotInTurn { .. } => Weight::Caution,
            Fact::GasNotBreathed { .. } | Fact::Alone | Fact::GasNotReckoned => Weight::Note,
        }
    }
}

/// Makes [`Finding::code`] and, of the same rows, [`CODES`]: neither can lack one.
macro_rules! codes {
    (
        $(#[$attribute:meta])*
        pub const fn code(&self) -> &'static str {
            match self.fact {
                $($fact:pat => $code:literal,)+
            }
        }
    ) => {
        /// The codes of all findings, each once.
        pub const CODES: &[&str] = &[$($code),+];

        impl Finding {
            $(#[$attribute])*
            pub const fn code(&self) -> &'static str {
                match self.fact {
                    $($fact => $code,)+
                }
            }
        }
    };
}

codes! {
    /// A name for scripts; does not change between versions.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self.fact {
            Fact::OxygenOverLimit { .. } => "oxygen-over-limit",
            Fact::OxygenHigh { .. } => "oxygen-high",
            Fact::OxygenTooLow { .. } => "oxygen-too-low",
            Fact::OxygenDoseOverLimit { .. } => "oxygen-dose-over-limit",
            Fact::OxygenDoseHigh { .. } => "oxygen-dose-high",
            Fact::DensityOverLimit { .. } => "gas-density-over-limit",
            Fact::DensityHigh { .. } => "gas-density-high",
            Fact::CeilingPassed(_) => "ceiling-passed",
            Fact::MinimumAboveFill { .. } => "minimum-above-fill",
            Fact::ReserveBroken { .. } => "reserve-broken",
            Fact::HangShort { .. } => "hang-short",
            Fact::CurrentTooStrong { .. } => "current-too-strong",
            Fact::GasRunsOut { .. } => "gas-runs-out",
            Fact::StageShort { .. } => "stage-short",
            Fact::StageMissing { .. } => "stage-missing",
            Fact::DepthLimit { .. } => "depth-limit",
            Fact::Staged(_) => "staged",
            Fact::StagedUnplanned(_) => "staged-unplanned",
            Fact::StopsInBetween { .. } => "stops-in-between",
            Fact::HangTooDeep { .. } => "hang-too-deep",
            Fact::ShorterNeedsMore { .. } => "shorter-needs-more",
            Fact::PonyAscentOnly { .. } => "pony-ascent-only",
            Fact::PonyShort { .. } => "pony-short",
            Fact::BackBelowFloor { .. } => "back-below-floor",
            Fact::CurrentNotInTurn { .. } => "current-not-in-turn",
            Fact::GasNotBreathed { .. } => "gas-not-breathed",
            Fact::Alone => "alone",
            Fact::GasNotReckoned => "gas-not-reckoned",
        }
    }
}

impl Finding {
    /// Two or three words for it, where a row of a table has no room for more.
    #[must_use]
    pub const fn in_short(&self) -> &'static str {
        match self.fact {
            Fact::OxygenOverLimit { .. } => "oxygen too high",
            Fact::OxygenHigh { .. } => "oxygen high",
            Fact::OxygenTooLow { .. } => "oxygen too low",
            Fact::OxygenDoseOverLimit { .. } => "oxygen dose over",
            Fact::OxygenDoseHigh { .. } => "oxygen dose high",
            Fact::DensityOverLimit { .. } => "gas too dense",
            Fact::DensityHigh { .. } => "gas dense",
            Fact::CeilingPassed(_) => "ceiling passed",
            Fact::MinimumAboveFill { .. } => "minimum over fill",
            Fact::ReserveBroken { .. } => "reserve gone",
            Fact::HangShort { .. } => "no hang",
            Fact::HangTooDeep { .. } => "hang too deep",
            Fact::ShorterNeedsMore { .. } => "shorter needs more",
            Fact::CurrentTooStrong { .. } => "current too strong",
            Fact::GasRunsOut { .. } => "gas runs out",
            Fact::StageShort { .. } => "stage short",
            Fact::StageMissing { .. } => "stage missing",
            Fact::DepthLimit { .. } => "too deep",
            Fact::Staged(_) => "staged",
            Fact::StagedUnplanned(_) => "stops unplanned",
            Fact::StopsInBetween { .. } => "stops in between",
            Fact::PonyAscentOnly { .. } => "pony misses stops",
            Fact::PonyShort { .. } => "pony short",
            Fact::BackBelowFloor { .. } => "back under floor",
            Fact::CurrentNotInTurn { .. } => "current not in turn",
            Fact::GasNotBreathed { .. } => "gas not breathed",
            Fact::Alone => "alone",
            Fact::GasNotReckoned => "gas not reckoned",
        }
    }

    /// A full sentence with the figures, rounded toward safety; pressures in the units of the
    /// diver's gauge.
    #[must_use]
    pub fn message(&self, units: UnitSystem) -> String {
        let show = Show(units);
        let gauge = Show(self.gauge.unwrap_or(units));
        let who = self.diver.as_deref().unwrap_or("The team");
        match &self.fact {
            Fact::OxygenOverLimit {
                gas,
                po2_bar,
                depth,
                limit_bar,
                operating_depth,
            } => format!(
                "The oxygen pressure of {gas} at {} is {} bar; the limit is {limit_bar} bar, \
                 which this gas reaches at {}.",
                show.depth(*depth),
                hundredths_up(*po2_bar),
                show.depth_limit(*operating_depth),
            ),
            Fact::OxygenHigh {
                gas,
                po2_bar,
                depth,
                limit_bar,
            } => format!(
                "The oxygen pressure of {gas} at {} is {} bar, above the advised {limit_bar:.1} \
                 bar for a bottom gas.",
                show.depth(*depth),
                hundredths_up(*po2_bar),
            ),
            Fact::OxygenTooLow {
                gas,
                po2_bar,
                limit_bar,
            } => format!(
                "The oxygen pressure of {gas} at the surface is {} bar; under {limit_bar} bar a \
                 diver may pass out.",
                hundredths_down(*po2_bar),
            ),
            Fact::OxygenDoseOverLimit { cns_pct } => format!(
                "The dive uses {} % of the oxygen (CNS) limits for a single exposure.",
                whole_up(*cns_pct)
            ),
            Fact::OxygenDoseHigh { cns_pct } => format!(
                "The dive uses {} % of the oxygen (CNS) limits for a single exposure; over 80 % \
                 is close to them.",
                whole_up(*cns_pct)
            ),
            Fact::DensityOverLimit {
                gas,
                density_g_l,
                depth,
                limit_g_l,
            } => format!(
                "The density of {gas} at {} is {} g/L; the limit is {limit_g_l} g/L.",
                show.depth(*depth),
                hundredths_up(*density_g_l),
            ),
            Fact::DensityHigh {
                gas,
                density_g_l,
                depth,
                limit_g_l,
            } => format!(
                "The density of {gas} at {} is {} g/L, above the advised {limit_g_l} g/L: work \
                 is hard to breathe for.",
                show.depth(*depth),
                hundredths_up(*density_g_l),
            ),
            Fact::CeilingPassed(breach) => format!(
                "The rise from {} to {} passes the low-factor ceiling: at {} compartment {} holds \
                 {} bar of inert gas and may hold {} bar.",
                show.depth(breach.from),
                show.depth(breach.to),
                show.depth(breach.at),
                breach.excess.index + 1,
                hundredths_up(breach.excess.total_bar),
                hundredths_down(breach.excess.limit_bar),
            ),
            Fact::MinimumAboveFill { minimum, .. } => {
                let shown = gauge.pressure_up(*minimum);
                let needed = shown.strip_prefix('>').map_or_else(
                    || format!("at least {shown}"),
                    |beyond| format!("more than {beyond}"),
                );
                format!(
                    "{who} needs {needed} to leave the bottom with, more than the fill: the \
                     cylinder does not even hold the reserve."
                )
            }
            Fact::ReserveBroken {
                depth,
                leave,
                only_level,
                left,
                minimum,
            } => {
                let place = if *only_level {
                    "the bottom".to_owned()
                } else {
                    format!("{} at minute {}", show.depth(*depth), minutes_down(*leave))
                };
                format!(
                    "{who} leaves {place} with {} and must have {}.",
                    left.map_or_else(|| "nothing".to_owned(), |left| gauge.pressure_down(left)),
                    gauge.pressure_up(*minimum)
                )
            }
            Fact::HangShort {
                hang,
                left,
                minimum,
            } => format!(
                "{who} cannot hang {} at {}: leaves the bottom with {} and must have {} for it.",
                minutes(minutes_up(hang.time)),
                show.depth(hang.depth),
                left.map_or_else(|| "nothing".to_owned(), |left| gauge.pressure_down(left)),
                gauge.pressure_up(*minimum),
            ),
            Fact::HangTooDeep { hang, last } => format!(
                "The hang at {} is deeper than {}, where the way up begins: it stands for gas \
                 alone, nobody goes down to it.",
                show.depth(hang.depth),
                show.depth(*last),
            ),
            Fact::ShorterNeedsMore { bad, bottom_time } => {
                shorter_needs_more(who, bad, *bottom_time)
            }
            Fact::CurrentTooStrong { current, swim } => format!(
                "The current of {} kn cannot be swum against at {} kn, and this dive has to.",
                hundredths_up(current.as_knots()),
                hundredths_down(swim.as_knots()),
            ),
            Fact::GasRunsOut { planned_use, start } => format!(
                "{who} runs out of gas before the surface: the dive takes {}, the cylinder holds \
                 {}.",
                show.volume_up(*planned_use),
                show.volume_down(*start),
            ),
            Fact::StageShort { gas, need, have } => format!(
                "{who} needs {} of {gas} in the stage cylinder and has {}.",
                show.volume_up(*need),
                show.volume_down(*have),
            ),
            Fact::StageMissing { gas } => {
                format!("{who} carries no {gas}, which the way up is planned with.")
            }
            Fact::DepthLimit { limit, deepest } => format!(
                "{who} may dive to {}; this dive goes to {}.",
                show.depth_limit(*limit),
                show.depth(*deepest),
            ),
            Fact::Staged(stops) => {
                format!("The stops are compulsory: {}", stops_needed(show, stops))
            }
            Fact::StagedUnplanned(stops) => format!(
                "The dive needs stops, and none are planned: {}",
                stops_needed(show, stops)
            ),
            Fact::StopsInBetween { between, asked } => {
                let each: Vec<String> = between
                    .iter()
                    .map(|stretch| {
                        format!(
                            "from minute {} (at {}) to minute {}",
                            minutes_down(stretch.from),
                            show.depth(stretch.depth),
                            minutes_up(stretch.to)
                        )
                    })
                    .collect();
                let levels = if *asked {
                    "The later levels are its stops: none may be left out."
                } else {
                    "The plan does not ask for stops, and the later levels would be some."
                };
                format!(
                    "In between the dive needs stops: {} nobody may go straight up. {levels}",
                    list(&each)
                )
            }
            Fact::PonyAscentOnly { need, have } => format!(
                "{who}'s pony covers a straight ascent but not the stops: they need {}, it gives \
                 {}.",
                show.volume_up(*need),
                show.volume_down(*have),
            ),
            Fact::PonyShort { need, have } => format!(
                "{who}'s pony does not even cover a straight ascent: that needs {}, it gives {}.",
                show.volume_up(*need),
                show.volume_down(*have),
            ),
            Fact::BackBelowFloor { end, floor } => format!(
                "{who} is expected back aboard with {}, under the floor of {}.",
                gauge.pressure_down(*end),
                gauge.pressure_up(*floor),
            ),
            Fact::CurrentNotInTurn { current } => format!(
                "There is a current of {} kn; the turn pressures do not allow for it. Go out \
                 against it, or turn earlier.",
                hundredths_up(current.as_knots()),
            ),
            Fact::GasNotBreathed { gas } => {
                format!("{gas} is planned for the way up, but this dive never switches to it.")
            }
            Fact::Alone => format!(
                "{} dives alone: the reserve counts nobody else's breathing.",
                self.diver.as_deref().unwrap_or("The diver")
            ),
            Fact::GasNotReckoned => {
                "Gas not reckoned: the plan has no diver. Nobody knows whether anybody's gas is \
                 enough."
                    .to_owned()
            }
        }
    }
}

/// `6 minutes of them, the first at 6 m. Nobody may go straight up.` Where the plan's safety stop
/// makes more of them, both sums.
fn stops_needed(show: Show, stops: &StopsNeeded) -> String {
    let compulsory = minutes_up(stops.compulsory);
    let planned = minutes_up(stops.stop_time);
    let words = match stops.first_stop {
        Some(depth) if planned > compulsory => format!(
            "{} of them by the tissues alone, {} with the plan's own stop, the first at {}; none \
             may be left out",
            minutes(compulsory),
            minutes(planned),
            show.depth(depth)
        ),
        Some(depth) => format!(
            "{} of them, the first at {}",
            minutes(planned),
            show.depth(depth)
        ),
        None => "the way up is only safe with the gas switch".to_owned(),
    };
    let since = stops.since.map_or_else(
        || "Nobody may go straight up.".to_owned(),
        |since| {
            format!(
                "After minute {}, at {}, nobody may go straight up.",
                minutes_down(since.from),
                show.depth(since.depth)
            )
        },
    );
    format!("{words}. {since}")
}

fn shorter_needs_more(who: &str, bad: &[ShorterIsWorse], bottom_time: Time) -> String {
    let each: Vec<String> = bad
        .iter()
        .map(|run| {
            let when = if run.from_min == run.to_min {
                minutes(f64::from(run.from_min))
            } else {
                format!("{} to {} minutes", run.from_min, run.to_min)
            };
            let why = match run.cause {
                WorseBecause::NoSwitch(gas) => {
                    format!(
                        "there is no switch to {gas} then, all of it comes from the main cylinder"
                    )
                }
                WorseBecause::WholeMinutes => {
                    "stops end on whole minutes, and a shorter dive may wait longer for one"
                        .to_owned()
                }
                WorseBecause::Schedule(error) => error.to_string(),
            };
            format!("{when} ({why})")
        })
        .collect();
    format!(
        "{who} has enough left after the planned {}, but not after {}. Whoever has to leave the \
         bottom then is short.",
        minutes(minutes_down(bottom_time)),
        list(&each)
    )
}
