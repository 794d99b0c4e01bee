//! The lines that turn a cylinder's pressure into gas and back.

use super::expression::Expression;
use super::sheet::{Line, Sheet};
use super::site::{GIVEN, Site, plain};
use crate::quantity::show::Show;
use crate::quantity::{
    ATM_BAR, CUBIC_FOOT_L, FreeVolume, GaugePressure, PSI_BAR, Pressure, UnitSystem, WaterVolume,
};
use crate::site::Mix;
use crate::site::RealGas;
use crate::site::{Charge, GasLaw};

/// Usual decimals of free litres.
pub(super) const LITRES: usize = 2;
/// Usual decimals of a gauge pressure in bar.
const GAUGE: usize = 2;
/// Usual decimals of a compressibility.
const COMPRESSIBILITY: usize = 6;
/// Usual decimals of a pressure in psi and of a volume in cubic feet.
const IMPERIAL: usize = 1;
/// Decimals of a cylinder's inner volume.
const WATER_L: usize = 5;

/// Usual decimals of a psi in bar.
const PSI_DECIMALS: usize = 7;
/// Usual decimals of a cubic foot in litres.
const CUFT_DECIMALS: usize = 5;

/// Which way a figure that people are shown is rounded.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Rounded {
    Up,
    Down,
}

/// A cylinder of one gas at the site, and the units that it is read in.
pub(super) struct Bottle<'a> {
    site: &'a Site<'a>,
    water: WaterVolume,
    water_symbol: &'static str,
    whose: String,
    charge: Charge,
    /// Equation of state; `None` where the gas is ideal.
    gas: Option<RealGas>,
    gauge: Show,
}

impl<'a> Bottle<'a> {
    pub(super) fn new(
        site: &'a Site<'a>,
        water: WaterVolume,
        (water_symbol, whose): (&'static str, String),
        mix: Mix,
        gauge: Show,
    ) -> Self {
        let conditions = site.plan.gas_conditions();
        let gas = match conditions.law {
            GasLaw::Real => Some(RealGas::new(mix, conditions.temperature)),
            GasLaw::Ideal => None,
        };
        Self {
            site,
            water,
            water_symbol,
            whose,
            charge: Charge::new(water, mix, &conditions),
            gas,
            gauge,
        }
    }

    fn water(&self, sheet: &mut Sheet) -> Expression {
        let meaning = format!("inner volume of {}, L", self.whose);
        sheet.given(self.water_symbol, meaning, self.water.as_l(), WATER_L)
    }

    /// Compressibility at an absolute pressure, taken from the equation of state as it is.
    fn compressibility(
        gas: &RealGas,
        sheet: &mut Sheet,
        (symbol, meaning): (&str, &str),
        pressure: Pressure,
    ) -> Expression {
        let value = gas.compressibility(gas.density(pressure));
        sheet.given(symbol, meaning, value, COMPRESSIBILITY)
    }

    /// `Z_1` and `P_s/Z_s`, the same for every pressure.
    fn references(
        &self,
        gas: &RealGas,
        sheet: &mut Sheet,
        surface: &Expression,
    ) -> (Expression, Expression) {
        let one_atm = Pressure::from_bar(ATM_BAR);
        let meaning = "Z at 1.01325 bar";
        let z_1 = Self::compressibility(gas, sheet, ("Z_1", meaning), one_atm);
        let surface_bar = self.site.rules().environment.surface();
        let meaning = "Z at the pressure at the surface";
        let z_s = Self::compressibility(gas, sheet, ("Z_s", meaning), surface_bar);
        (z_1, surface.clone() / z_s)
    }

    fn z(gas: &RealGas, sheet: &mut Sheet, absolute: Pressure) -> Expression {
        let meaning = "compressibility of the gas at the pressure in this line, from the equation \
                       of state (GERG-2008): not for a calculator, taken as it is";
        Self::compressibility(gas, sheet, ("Z", meaning), absolute)
    }

    /// Free gas above ambient at a gauge pressure.
    ///
    /// ```text
    /// V = V_w·((p + P_s)/Z − P_s/Z_s)/1.01325·Z_1      ideal gas: V_w·p/1.01325
    /// ```
    pub(super) fn contents(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        (title, symbol): (&str, &str),
        (gauge_symbol, meaning, gauge): (&str, &str, GaugePressure),
    ) -> Expression {
        let water = self.water(sheet);
        let pressure = sheet.given(gauge_symbol, meaning, gauge.as_bar(), GIVEN);
        let line = Line {
            title: title.to_owned(),
            symbol,
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let contents = match &self.gas {
            None => water * pressure / plain(ATM_BAR),
            Some(gas) => {
                let absolute = gauge.as_bar() + self.site.rules().environment.surface().as_bar();
                let z = Self::z(gas, sheet, Pressure::from_bar(absolute));
                let (z_1, at_surface) = self.references(gas, sheet, surface);
                let above = (pressure + surface.clone()) / z - at_surface;
                water * above / plain(ATM_BAR) * z_1
            }
        };
        let model = self.charge.contents(gauge).as_l();
        sheet.equation(line, contents, model)
    }

    /// Gauge pressure that holds so much free gas, as the briefing shows it too.
    ///
    /// ```text
    /// p = Z·(V/V_w·1.01325/Z_1 + P_s/Z_s) − P_s      ideal gas: V/V_w·1.01325
    /// ```
    pub(super) fn pressure(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        (title, symbol): (&str, &str),
        volume: &Expression,
        rounded: Rounded,
    ) {
        let water = self.water(sheet);
        let free = FreeVolume::from_l(volume.unrounded());
        let model = self.charge.pressure(free);
        let beyond = self.gauge.pressure_up(model);
        if beyond.starts_with('>') {
            sheet.words(format!(
                "{title}: more than any cylinder is filled to, and not worked out. The briefing \
                 says {beyond}."
            ));
            return;
        }
        let ratio = volume.clone() / water * plain(ATM_BAR);
        let pressure = match &self.gas {
            None => ratio,
            Some(gas) => {
                let absolute = model.as_bar() + self.site.rules().environment.surface().as_bar();
                let z = Self::z(gas, sheet, Pressure::from_bar(absolute));
                let (z_1, at_surface) = self.references(gas, sheet, surface);
                z * (ratio / z_1 + at_surface) - surface.clone()
            }
        };
        let line = Line {
            title: title.to_owned(),
            symbol,
            unit: "bar",
            decimals: sheet.working(GAUGE),
        };
        self.read(sheet, line, pressure, model, rounded);
    }

    /// A gauge pressure that needs no equation, as the briefing shows it.
    pub(super) fn read_as_given(&self, sheet: &mut Sheet, gauge: GaugePressure) {
        let shown = self.gauge.pressure_up(gauge);
        sheet.words(format!("The briefing says {shown}."));
    }

    fn read(
        &self,
        sheet: &mut Sheet,
        line: Line<'_>,
        pressure: Expression,
        model: GaugePressure,
        rounded: Rounded,
    ) {
        let gauge = self.gauge;
        let shown = |pressure| match rounded {
            Rounded::Up => gauge.pressure_up(pressure),
            Rounded::Down => gauge.pressure_down(pressure),
        };
        match gauge.0 {
            UnitSystem::Metric => {
                let bar = |value| shown(GaugePressure::from_bar(value));
                sheet.shown(line, pressure, model.as_bar(), bar);
            }
            UnitSystem::Imperial => {
                let symbol = format!("{}_psi", line.symbol);
                let unit =
                    Expression::constant(&format!("{PSI_BAR:.*}", sheet.working(PSI_DECIMALS)));
                let bar = sheet.equation(line, pressure, model.as_bar());
                let line = Line {
                    title: format!("On a gauge in psi: 1 psi is {} bar", unit.numbers()),
                    symbol: &symbol,
                    unit: "psi",
                    decimals: sheet.working(IMPERIAL),
                };
                let psi = |value| shown(GaugePressure::from_psi(value));
                sheet.shown(line, bar / unit, model.as_psi(), psi);
            }
        }
        let direction = match rounded {
            Rounded::Up => "up",
            Rounded::Down => "down",
        };
        let step = match gauge.0 {
            UnitSystem::Metric => "5 bar",
            UnitSystem::Imperial => "50 psi",
        };
        let shown = shown(model);
        sheet.words(format!(
            "The briefing says {shown}: {direction} to a whole {step}."
        ));
    }
}

/// Free gas as the briefing shows it: whole litres, or tenths of a cubic foot.
pub(super) fn volume(
    sheet: &mut Sheet,
    show: Show,
    line: Line<'_>,
    expression: Expression,
    (model, rounded): (f64, Rounded),
) -> Expression {
    let shown = |volume| match rounded {
        Rounded::Up => show.volume_up(volume),
        Rounded::Down => show.volume_down(volume),
    };
    match show.0 {
        UnitSystem::Metric => sheet.shown(line, expression, model, |value| {
            shown(FreeVolume::from_l(value))
        }),
        UnitSystem::Imperial => {
            let symbol = format!("{}_cuft", line.symbol);
            let litres = sheet.equation(line, expression, model);
            let factor =
                Expression::constant(&format!("{CUBIC_FOOT_L:.*}", sheet.working(CUFT_DECIMALS)));
            let line = Line {
                title: format!("In cubic feet of {} L", factor.numbers()),
                symbol: &symbol,
                unit: "cuft",
                decimals: sheet.working(IMPERIAL + 1),
            };
            let model = FreeVolume::from_l(model).as_cuft();
            sheet.shown(line, litres.clone() / factor, model, |value| {
                shown(FreeVolume::from_cuft(value))
            });
            litres
        }
    }
}
