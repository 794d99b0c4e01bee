//! Time at the surface, as lines: what was there, what is breathed, what is left.

use super::exchange::Inert;
use super::expression::Expression;
use super::sheet::{Line, Sheet, upper};
use super::site::{BAR, GIVEN, MINUTES, SURFACE_BAR, Site, plain};
use crate::quantity::Altitude;
use crate::site::{Mix, standard_atmosphere};
use crate::surface::{Rest, Since};
use crate::tissue::{SURFACE_NITROGEN, WATER_VAPOUR_BAR};

/// What is breathed at the surface.
const AIR: Mix = Mix::AIR;

/// Whether a gas is in the air at all.
fn is_breathed(gas: &Inert) -> bool {
    gas.fraction_in(AIR) > 0.0
}

/// ```text
/// p_air = (P_s − 0.0627)·0.79
/// ```
pub(super) fn air(sheet: &mut Sheet, gases: &[Inert], surface: &Expression) -> Option<Expression> {
    let gas = gases.iter().find(|gas| is_breathed(gas))?;
    let line = Line {
        title: format!(
            "Inspired {} at the surface, on air: clean tissues hold as much",
            gas.name
        ),
        symbol: &gas.symbol("p_air"),
        unit: "bar",
        decimals: sheet.working(BAR),
    };
    let dry = surface.clone() - plain(WATER_VAPOUR_BAR);
    Some(sheet.derived(line, dry * plain(SURFACE_NITROGEN)))
}

/// What a compartment holds of a gas when the time begins; `None` where that is nothing.
///
/// It is taken as it is on surfacing from a dive; from another altitude it is
///
/// ```text
/// p_home = (P_home − 0.0627)·0.79
/// ```
pub(super) fn before(
    sheet: &mut Sheet,
    rest: &Rest,
    gas: &Inert,
    index: usize,
) -> Option<Expression> {
    let held = gas.held(&rest.before.tissues, index);
    if held <= 0.0 {
        return None;
    }
    Some(match rest.since {
        Since::EarlierDive => {
            let meaning = format!(
                "{} that it holds on surfacing from the dive before, bar",
                gas.name
            );
            sheet.given(&gas.symbol("p_up"), meaning, held, BAR)
        }
        Since::Arrival(arrival) => {
            let home = pressure_at(sheet, arrival.home_altitude);
            let line = Line {
                title: format!(
                    "{} that it holds on coming, in balance with air",
                    upper(gas.name)
                ),
                symbol: &gas.symbol("p_home"),
                unit: "bar",
                decimals: sheet.working(BAR),
            };
            let dry = home - plain(WATER_VAPOUR_BAR);
            sheet.equation(line, dry * plain(SURFACE_NITROGEN), held)
        }
    })
}

/// Pressure of the air where they came from.
fn pressure_at(sheet: &mut Sheet, home: Altitude) -> Expression {
    let meaning = "the altitude that they came from, m";
    let height = sheet.given("h_home", meaning, home.as_m(), GIVEN);
    let line = Line {
        title: "Pressure of the air where they came from".to_owned(),
        symbol: "P_home",
        unit: "bar",
        decimals: sheet.working(SURFACE_BAR),
    };
    let pressure = Site::standard_air(height);
    sheet.equation(line, pressure, standard_atmosphere(home).as_bar())
}

/// How long the time is.
pub(super) fn time(sheet: &mut Sheet, minutes: f64) -> Expression {
    sheet.given("t_rest", "time at the surface, min", minutes, MINUTES)
}

/// What a compartment holds of a gas when the time ends.
///
/// ```text
/// p_0 = p_air + (p_up − p_air)·2^(−t_rest/T)      of helium, which is not in air, p_up·2^(−t_rest/T)
/// ```
pub(super) fn after(
    sheet: &mut Sheet,
    title: String,
    gas: &Inert,
    (before, air, time): (Expression, Option<&Expression>, &Expression),
    model: f64,
) -> Expression {
    let half_time = gas.half_time(sheet);
    let left = plain(2.0).power(-time.clone() / half_time);
    let rested = match air.filter(|_| is_breathed(gas)) {
        Some(air) => air.clone() + (before - air.clone()) * left,
        None => before * left,
    };
    let line = Line {
        title,
        symbol: &gas.symbol("p_0"),
        unit: "bar",
        decimals: sheet.working(BAR),
    };
    sheet.equation(line, rested, model)
}
