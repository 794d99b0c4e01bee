//! Of limits and gases.

use std::path::PathBuf;

use clap::Args;
use hangbar::gas::CylinderGas;
use hangbar::plan_file::Overrides;
use hangbar::quantity::{Depth, DepthChange, Pressure, Temperature};
use hangbar::site::Mix;
use hangbar::tissue::GradientFactors;

use super::examples::{self, AFTER_HELP};
use super::shown::{Arrival, Drawn, Shown, ShownTable};
use super::values::{
    FillTo, cylinder_gas, cylinder_temperature, factors, fill, gas, oxygen_limit, table_depth,
    table_step,
};

#[derive(Debug, Args)]
#[command(before_help = examples::LIMITS, after_help = AFTER_HELP)]
pub(crate) struct LimitsArgs {
    /// Plan file that gives water, air, rates, gas and factors, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: Option<PathBuf>,

    /// Gases side by side, as air,EAN32 [default: the plan's, or air]
    #[arg(
        long,
        value_name = "GASES",
        value_delimiter = ',',
        help_heading = "Columns and rows"
    )]
    pub(crate) gas: Vec<Mix>,

    /// Gradient factors side by side, as 40/85,30/70; only the high one decides a no-stop limit
    #[arg(long, value_name = "LOW/HIGH", value_delimiter = ',', value_parser = factors, help_heading = "Columns and rows")]
    pub(crate) factors: Vec<GradientFactors>,

    /// Shallowest depth [default: 10 m or 30 ft]
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth, help_heading = "Columns and rows")]
    pub(crate) from: Option<Depth>,

    /// Deepest depth [default: 40 m or 130 ft]
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth, help_heading = "Columns and rows")]
    pub(crate) to: Option<Depth>,

    /// Depth between two rows [default: 2 m or 10 ft]
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_step, help_heading = "Columns and rows")]
    pub(crate) step: Option<DepthChange>,

    /// Oxygen pressure above which a depth gets no number, as "1.4 bar"
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE", default_value = "1.4 bar", value_parser = oxygen_limit, help_heading = "Columns and rows")]
    pub(crate) oxygen_limit: Pressure,

    #[command(flatten)]
    arrival: Arrival,

    #[command(flatten)]
    site: SiteAndRates,

    #[command(flatten)]
    pub(crate) shown: ShownTable,

    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

impl LimitsArgs {
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            arrived: self.arrival.arrived.clone(),
            home_altitude: self.arrival.home_altitude.clone(),
            ..self.site.overrides()
        }
    }
}

/// Where, and how fast.
#[derive(Debug, Args)]
#[command(next_help_heading = "The site and the rates")]
pub(crate) struct SiteAndRates {
    /// Water: sea, fresh, en13319 or a density, as "1030 kg/m3"
    #[arg(long, allow_hyphen_values = true, value_name = "WATER")]
    water: Option<String>,

    /// Altitude of the site, as "1500 m"
    #[arg(long, allow_hyphen_values = true, value_name = "HEIGHT")]
    altitude: Option<String>,

    /// Speed on the way down, as "18 m/min"
    #[arg(long, allow_hyphen_values = true, value_name = "SPEED")]
    descent_rate: Option<String>,

    /// Speed on the way up, as "9 m/min"
    #[arg(long, allow_hyphen_values = true, value_name = "SPEED")]
    ascent_rate: Option<String>,
}

impl SiteAndRates {
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            water: self.water.clone(),
            altitude: self.altitude.clone(),
            descent_rate: self.descent_rate.clone(),
            ascent_rate: self.ascent_rate.clone(),
            ..Overrides::default()
        }
    }
}

#[derive(Debug, Args)]
#[command(before_help = examples::MIX, after_help = AFTER_HELP)]
pub(crate) struct MixArgs {
    /// The gas: air, EAN32, 18/45, oxygen
    #[arg(value_name = "GAS", value_parser = gas, required_unless_present = "best_for")]
    pub(crate) gas: Option<Mix>,

    /// At this depth, as "30 m" or "100 ft"
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth)]
    pub(crate) depth: Option<Depth>,

    /// The richest nitrox for this depth instead of a gas
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth, conflicts_with_all = ["gas", "depth"])]
    pub(crate) best_for: Option<Depth>,

    /// Oxygen pressure up to which it is a bottom gas, as "1.4 bar"
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE", default_value = "1.4 bar", value_parser = oxygen_limit)]
    pub(crate) oxygen_limit: Pressure,

    /// Gradient factors of the no-stop limit, as 40/85 [default: the plan's, or 40/85]
    #[arg(long, value_name = "LOW/HIGH", value_parser = factors)]
    pub(crate) factors: Option<GradientFactors>,

    /// Plan file that gives water, air, rates, factors and temperature, or - for standard input
    #[arg(long, value_name = "PLAN")]
    pub(crate) plan: Option<PathBuf>,

    /// Blend a cylinder of it by partial pressures, up to "200 bar" or "3000 psi"
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE", value_parser = fill, help_heading = "Blending")]
    pub(crate) blend: Option<FillTo>,

    /// What the cylinder holds before, as "60 bar EAN28" [default: 0 bar air]
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE GAS", value_parser = cylinder_gas, requires = "blend", help_heading = "Blending")]
    pub(crate) from: Option<CylinderGas>,

    /// What is filled on top, after helium and oxygen
    #[arg(
        long,
        value_name = "GAS",
        value_parser = gas,
        default_value = "air",
        requires = "blend",
        help_heading = "Blending"
    )]
    pub(crate) top: Mix,

    /// Temperature of the cylinder, as "15 C" [default: the plan's, or 15 C]
    #[arg(long, allow_hyphen_values = true, value_name = "TEMPERATURE", value_parser = cylinder_temperature, requires = "blend", help_heading = "Blending")]
    pub(crate) temperature: Option<Temperature>,

    #[command(flatten)]
    pub(crate) site: SiteAndRates,

    #[command(flatten)]
    pub(crate) shown: Shown,
}
