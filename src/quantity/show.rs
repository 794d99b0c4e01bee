//! Figures for people: rounded to what a gauge or a watch shows, always toward safety, with the
//! unit beside them. The direction is in the name.

use super::differences::{DepthChange, Minutes, RunTime};
use super::units::{
    Altitude, Depth, FOOT_M, FreeVolume, GaugePressure, Mass, Speed, Time, UnitSystem, WaterVolume,
};

/// Step of a pressure gauge that people read, bar.
const GAUGE_STEP_BAR: f64 = 5.0;
/// Step of a pressure gauge that people read, psi.
const GAUGE_STEP_PSI: f64 = 50.0;
/// Pressures above these are no figures for a gauge.
const BEYOND_BAR: f64 = 600.0;
const BEYOND_PSI: f64 = 9000.0;
/// Part of a step by which a figure may be past a mark and still be that mark: rounding noise.
const NOISE: f64 = 1e-9;

/// The next multiple of a step that is not less.
fn up_to(value: f64, step: f64) -> f64 {
    (value / step - NOISE).ceil() * step + 0.0
}

/// The next multiple of a step that is not more.
fn down_to(value: f64, step: f64) -> f64 {
    (value / step + NOISE).floor() * step + 0.0
}

/// Figures closer to a whole number of tenths than this were given so.
const AS_GIVEN: f64 = 1e-6;
/// What a gauge is read to, psi.
const READ_PSI: f64 = 10.0;

/// What somebody reads off a gauge: as it was given, or to the nearest step of the gauge.
fn as_read(value: f64, step: f64) -> String {
    let tenths = (value * 10.0).round();
    if (value * 10.0 - tenths).abs() < AS_GIVEN * value.abs().max(1.0) {
        format!("{}", tenths / 10.0)
    } else {
        format!("{}", (value / step).round() * step)
    }
}

/// Minutes and seconds of run time, `17:27`; seconds not less.
#[must_use]
pub fn min_s_up(time: RunTime) -> String {
    min_s(up_to(time.as_min() * SECONDS, 1.0))
}

/// Minutes and seconds of run time, `17:27`; seconds not more.
#[must_use]
pub fn min_s_down(time: RunTime) -> String {
    min_s(down_to(time.as_min() * SECONDS, 1.0))
}

/// What lies between two run times as [`min_s_up`] and [`min_s_down`] show them: the later one
/// rounded up or down, the earlier one up.
#[must_use]
pub fn min_s_between(from: RunTime, to: RunTime, to_is_rounded_up: bool) -> String {
    let to = to.as_min() * SECONDS;
    let to = if to_is_rounded_up {
        up_to(to, 1.0)
    } else {
        down_to(to, 1.0)
    };
    min_s((to - up_to(from.as_min() * SECONDS, 1.0)).max(0.0))
}

fn min_s(seconds: f64) -> String {
    let minutes = (seconds / SECONDS).floor();
    format!("{minutes}:{:02}", seconds - minutes * SECONDS)
}

/// Seconds in a minute.
const SECONDS: f64 = 60.0;

/// Whole minutes, not less.
#[must_use]
pub fn minutes_up(time: impl Minutes) -> f64 {
    up_to(time.minutes(), 1.0)
}

/// Whole minutes, not more.
#[must_use]
pub fn minutes_down(time: impl Minutes) -> f64 {
    down_to(time.minutes(), 1.0)
}

/// A time that a plan gives, `24.5 minutes`: tenths, not more.
#[must_use]
pub fn minutes_given(time: Time) -> String {
    minutes(tenths_down(time))
}

/// Tenths of a minute, not more.
#[must_use]
pub fn tenths_down(time: Time) -> f64 {
    (down_to(time.as_min(), 0.1) * 10.0).round() / 10.0
}

/// How figures are shown: in one of the two unit systems.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Show(pub UnitSystem);

impl Show {
    /// A pressure to be kept or turned at: up to the next 5 bar or 50 psi, without its unit. Beyond
    /// what any cylinder takes, `>600` bar or `>9000` psi.
    #[must_use]
    pub fn pressure_number_up(self, pressure: GaugePressure) -> String {
        match self.0 {
            UnitSystem::Metric if pressure.as_bar() > BEYOND_BAR => format!(">{BEYOND_BAR}"),
            UnitSystem::Imperial if pressure.as_psi() > BEYOND_PSI => format!(">{BEYOND_PSI}"),
            UnitSystem::Metric => format!("{}", up_to(pressure.as_bar(), GAUGE_STEP_BAR)),
            UnitSystem::Imperial => format!("{}", up_to(pressure.as_psi(), GAUGE_STEP_PSI)),
        }
    }

    /// A pressure that somebody reads off a gauge, the fill: as it was given; in the other unit
    /// the nearest whole bar or 10 psi. Without its unit.
    #[must_use]
    pub fn pressure_number_read(self, pressure: GaugePressure) -> String {
        match self.0 {
            UnitSystem::Metric => as_read(pressure.as_bar(), 1.0),
            UnitSystem::Imperial => as_read(pressure.as_psi(), READ_PSI),
        }
    }

    /// As [`Show::pressure_number_read`], with the unit.
    #[must_use]
    pub fn pressure_read(self, pressure: GaugePressure) -> String {
        let number = self.pressure_number_read(pressure);
        format!("{number} {}", self.pressure_unit())
    }

    /// A pressure to be expected: down to the next 5 bar or 50 psi, without its unit.
    #[must_use]
    pub fn pressure_number_down(self, pressure: GaugePressure) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{}", down_to(pressure.as_bar(), GAUGE_STEP_BAR)),
            UnitSystem::Imperial => format!("{}", down_to(pressure.as_psi(), GAUGE_STEP_PSI)),
        }
    }

    /// As [`Show::pressure_number_up`], with the unit.
    #[must_use]
    pub fn pressure_up(self, pressure: GaugePressure) -> String {
        format!(
            "{} {}",
            self.pressure_number_up(pressure),
            self.pressure_unit()
        )
    }

    /// As [`Show::pressure_number_down`], with the unit.
    #[must_use]
    pub fn pressure_down(self, pressure: GaugePressure) -> String {
        format!(
            "{} {}",
            self.pressure_number_down(pressure),
            self.pressure_unit()
        )
    }

    /// A pressure to be drained to: down to the whole bar or the next 10 psi.
    #[must_use]
    pub fn pressure_whole_down(self, pressure: GaugePressure) -> String {
        let number = match self.0 {
            UnitSystem::Metric => down_to(pressure.as_bar(), 1.0),
            UnitSystem::Imperial => down_to(pressure.as_psi(), READ_PSI),
        };
        format!("{number} {}", self.pressure_unit())
    }

    /// A pressure on a blender's gauge, not less: tenths of a bar or whole psi, without its unit.
    #[must_use]
    pub fn fine_up(self, pressure: GaugePressure) -> f64 {
        match self.0 {
            UnitSystem::Metric => nearest_tenth(up_to(pressure.as_bar(), 0.1)),
            UnitSystem::Imperial => up_to(pressure.as_psi(), 1.0),
        }
    }

    /// A pressure on a blender's gauge, not more: tenths of a bar or whole psi, without its unit.
    #[must_use]
    pub fn fine_down(self, pressure: GaugePressure) -> f64 {
        match self.0 {
            UnitSystem::Metric => nearest_tenth(down_to(pressure.as_bar(), 0.1)),
            UnitSystem::Imperial => down_to(pressure.as_psi(), 1.0),
        }
    }

    /// Unit of a cylinder's gauge.
    #[must_use]
    pub const fn pressure_unit(self) -> &'static str {
        match self.0 {
            UnitSystem::Metric => "bar",
            UnitSystem::Imperial => "psi",
        }
    }

    /// A depth, never shallower than it is: tenths of a metre or whole feet.
    #[must_use]
    pub fn depth(self, depth: Depth) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} m", tenths(up_to(depth.as_m(), 0.1))),
            UnitSystem::Imperial => format!("{} ft", up_to(depth.as_ft(), 1.0)),
        }
    }

    /// A change of depth, as [`Show::depth`] shows a depth.
    #[must_use]
    pub fn depth_change(self, change: DepthChange) -> String {
        self.depth(Depth::SURFACE + change)
    }

    /// A depth that may not be passed, never deeper than it is.
    #[must_use]
    pub fn depth_limit(self, depth: Depth) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} m", tenths(down_to(depth.as_m(), 0.1))),
            UnitSystem::Imperial => format!("{} ft", down_to(depth.as_ft(), 1.0)),
        }
    }

    /// A height of the site, to the nearest metre or foot.
    #[must_use]
    pub fn height(self, altitude: Altitude) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} m", altitude.as_m().round() + 0.0),
            UnitSystem::Imperial => format!("{} ft", altitude.as_ft().round() + 0.0),
        }
    }

    /// A height that a cabin is kept at, to the nearest metre or 10 ft.
    #[must_use]
    pub fn cabin_height(self, altitude: Altitude) -> String {
        const STEP_FT: f64 = 10.0;
        match self.0 {
            UnitSystem::Metric => self.height(altitude),
            UnitSystem::Imperial => {
                let feet = (altitude.as_ft() / STEP_FT).round() * STEP_FT;
                format!("{} ft", feet + 0.0)
            }
        }
    }

    /// A vertical speed that may not be passed.
    #[must_use]
    pub fn vertical_speed(self, speed: Speed) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} m/min", tenths(down_to(speed.as_m_min(), 0.1))),
            UnitSystem::Imperial => format!("{} ft/min", down_to(speed.as_ft_min(), 1.0)),
        }
    }

    /// A distance over ground that may be more: up to the next 10 m or 50 ft.
    #[must_use]
    pub fn distance_up(self, metres: f64) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} m", up_to(metres, 10.0)),
            UnitSystem::Imperial => format!("{} ft", up_to(metres / FOOT_M, 50.0)),
        }
    }

    /// A mass, up: tenths of a kilogram or of a pound.
    #[must_use]
    pub fn mass_up(self, mass: Mass) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} kg", tenths(up_to(mass.as_kg(), 0.1))),
            UnitSystem::Imperial => format!("{} lb", tenths(up_to(mass.as_lb(), 0.1))),
        }
    }

    /// Inner volume of a cylinder, up: tenths of a litre.
    #[must_use]
    pub fn water_up(self, volume: WaterVolume) -> String {
        format!("{} L", tenths(up_to(volume.as_l(), 0.1)))
    }

    /// Gas that is needed: whole litres or tenths of a cubic foot, up.
    #[must_use]
    pub fn volume_up(self, volume: FreeVolume) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} L", up_to(volume.as_l(), 1.0)),
            UnitSystem::Imperial => format!("{} cuft", tenths(up_to(volume.as_cuft(), 0.1))),
        }
    }

    /// Gas that is there: whole litres or tenths of a cubic foot, down.
    #[must_use]
    pub fn volume_down(self, volume: FreeVolume) -> String {
        match self.0 {
            UnitSystem::Metric => format!("{} L", down_to(volume.as_l(), 1.0)),
            UnitSystem::Imperial => format!("{} cuft", tenths(down_to(volume.as_cuft(), 0.1))),
        }
    }
}

/// At most one decimal, none where it is nought.
fn tenths(value: f64) -> String {
    format!("{}", nearest_tenth(value))
}

fn nearest_tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// Hundredths, not less.
#[must_use]
pub fn hundredths_up(value: f64) -> String {
    format!("{:.2}", up_to(value, 0.01))
}

/// Hundredths, not more.
#[must_use]
pub fn hundredths_down(value: f64) -> String {
    format!("{:.2}", down_to(value, 0.01))
}

/// At most two decimals, not less.
#[must_use]
pub fn short_up(value: f64) -> String {
    at_most_hundredths(up_to(value, 0.01))
}

/// At most two decimals, not more.
#[must_use]
pub fn short_down(value: f64) -> String {
    at_most_hundredths(down_to(value, 0.01))
}

/// Whole per cents, not less.
#[must_use]
pub fn whole_up(value: f64) -> String {
    format!("{}", up_to(value, 1.0))
}

/// A current or a swim speed in knots, hundredths.
#[must_use]
pub fn knots(speed: Speed) -> String {
    format!("{} kn", at_most_hundredths(speed.as_knots()))
}

/// At most two decimals, none where they are nought.
fn at_most_hundredths(value: f64) -> String {
    format!("{}", (value * 100.0).round() / 100.0)
}

/// `1 minute`, `3 minutes`.
#[must_use]
pub fn minutes(count: f64) -> String {
    if (count - 1.0).abs() < 0.05 {
        "1 minute".to_owned()
    } else {
        format!("{count} minutes")
    }
}

/// `25 min`, `12 h`, `3 h 12 min`.
#[must_use]
pub fn hours_min(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// `16 minutes`, not more; `more than 999 minutes` where such a bound does not reach a limit.
#[must_use]
pub fn limit_words(limit: Option<Time>, bound_min: u32) -> String {
    limit.map_or_else(
        || format!("more than {bound_min} minutes"),
        |limit| minutes(minutes_down(limit)),
    )
}

/// `Ines`, `Ines and Tom`, `Ines, Tom and Kai`.
#[must_use]
pub fn list<S: AsRef<str>>(words: &[S]) -> String {
    match words.split_last() {
        Some((last, [])) => last.as_ref().to_owned(),
        Some((last, rest)) => {
            let rest: Vec<&str> = rest.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", rest.join(", "), last.as_ref())
        }
        None => String::new(),
    }
}

/// Whole minutes, not less.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "run times are non-negative and far below u32's bound"
)]
pub(crate) fn whole_minutes_up(time: impl Minutes) -> u32 {
    minutes_up(time) as u32
}

/// Whole minutes, not more.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "run times are non-negative and far below u32's bound"
)]
pub(crate) fn whole_minutes(time: Time) -> u32 {
    (time.as_min() + NOISE).floor() as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_pressure_of_a_gauge_is_still_a_figure() {
        let metric =
            |bar| Show(UnitSystem::Metric).pressure_number_up(GaugePressure::from_bar(bar));
        assert_eq!(metric(596.0), "600");
        assert_eq!(metric(BEYOND_BAR), "600");
        assert_eq!(metric(600.5), ">600");
        let psi = |psi| Show(UnitSystem::Imperial).pressure_number_up(GaugePressure::from_psi(psi));
        assert_eq!(psi(8960.0), "9000");
        assert_eq!(psi(9001.0), ">9000");
    }

    #[test]
    fn a_fill_is_told_as_it_was_given() {
        let read = |units, bar| Show(units).pressure_number_read(GaugePressure::from_bar(bar));
        assert_eq!(read(UnitSystem::Metric, 200.0), "200");
        assert_eq!(read(UnitSystem::Metric, 231.5), "231.5");
        // 3000 psi and 206.842719 bar; 200 bar are 2900.755 psi
        assert_eq!(read(UnitSystem::Metric, 206.842_719), "207");
        assert_eq!(read(UnitSystem::Imperial, 200.0), "2900");
    }

    #[test]
    fn a_cabin_is_told_as_its_height_is_known() {
        let cabin = Altitude::from_m(2438.0);
        assert_eq!(Show(UnitSystem::Metric).cabin_height(cabin), "2438 m");
        // 7998.7 ft
        assert_eq!(Show(UnitSystem::Imperial).cabin_height(cabin), "8000 ft");
    }
}
