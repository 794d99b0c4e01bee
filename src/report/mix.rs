//! One gas in words: how deep, what it is like there, how it is blended.

use super::mix_sheet::{MixAtDepth, MixLimit, MixSheet};
use super::sheet::{Align, CAUTIONS, Report, THIN_AIR, Table, Tone};
use crate::dive::{BOUND_MIN, LimitCell};
use crate::finding::{ADVISED_DENSITY_G_L, GREATEST_DENSITY_G_L, Weight};
use crate::gas::{Added, Blend, BlendAsked, Filled};
use crate::quantity::show::{Show, hundredths_up, minutes_down};
use crate::quantity::{Depth, GaugePressure, Kind, Pressure, UnitSystem};
use crate::site::{GREATEST_PO2_BAR, Mix};

/// Parts of a per cent or a bar that are a figure's own; the rest is rounding.
const OWN_PARTS: f64 = 1e9;

/// A gas in words: how deep, what it is like at the depth, how it is blended.
#[must_use]
pub fn mix(sheet: &MixSheet, units: UnitSystem) -> Report {
    let words = Words {
        sheet,
        units,
        show: Show(units),
    };
    let mut report = Report::default();
    words.verdict(&mut report);
    words.how_deep(&mut report);
    if let Some(at) = sheet.at_depth() {
        words.at_depth(at, &mut report);
    }
    if let Some(blend) = sheet.blend() {
        words.blend(blend, &mut report);
    }
    report.heading("Cautions");
    if sheet.environment().is_at_altitude() && sheet.at_depth().is_some() {
        report.paragraph(THIN_AIR);
    }
    report.paragraph(CAUTIONS);
    report
}

struct Words<'a> {
    sheet: &'a MixSheet,
    units: UnitSystem,
    show: Show,
}

impl Words<'_> {
    fn verdict(&self, report: &mut Report) {
        let sheet = self.sheet;
        let text = format!("{}: {}", sheet.gas(), contents(sheet.gas()));
        if sheet.is_no_go() {
            report.marked(Tone::NoGo, "NO-GO", text);
        } else {
            report.title("", text);
        }
        for finding in sheet.findings() {
            let tone = match finding.weight() {
                Weight::NoGo => Tone::NoGo,
                Weight::Caution => Tone::Caution,
                Weight::Note => Tone::Plain,
            };
            let mark = format!("  {:<7}", finding.weight().word());
            report.marked(tone, mark, finding.message(self.units));
        }
        if let (true, Some(at)) = (sheet.is_richest(), sheet.at_depth()) {
            report.paragraph(format!(
                "The richest nitrox in whole per cent that has at most {} of oxygen at {}.",
                bar(sheet.oxygen_limit()),
                self.show.depth(at.depth),
            ));
        }
        report.paragraph(format!(
            "Surface {:.3} bar, {:.4} bar a metre.",
            sheet.environment().surface().as_bar(),
            sheet.environment().bar_per_m(),
        ));
        if sheet.is_blend_withheld() {
            report.paragraph("A no-go gets no steps to blend it.");
        }
    }

    fn how_deep(&self, report: &mut Report) {
        let sheet = self.sheet;
        report.heading("Maximum operating depth, by oxygen alone");
        let mut table = Table::new(&[
            ("oxygen", Align::Right),
            ("MOD", Align::Right),
            ("", Align::Left),
        ]);
        let depth = |limit| match sheet.operating_depth(limit) {
            Some(depth) => self.show.depth_limit(depth),
            None => "none".to_owned(),
        };
        let (bottom, greatest) = (sheet.oxygen_limit(), Pressure::from_bar(GREATEST_PO2_BAR));
        table
            .rows
            .push(vec![bar(bottom), depth(bottom), self.as_bottom_gas()]);
        let switch = match self.switch_that_is_a_go() {
            Some(level) => format!(
                "a no-go beyond; on a staged way up from {}",
                self.show.depth_limit(level)
            ),
            None => "a no-go beyond".to_owned(),
        };
        table
            .rows
            .push(vec![bar(greatest), depth(greatest), switch]);
        report.table(table);
        let dense = |g_l| self.show.depth_limit(sheet.depth_of_density(g_l));
        report.paragraph(format!(
            "Density is another bound: above the advised {ADVISED_DENSITY_G_L} g/L from {} on, and \
             a no-go, above {GREATEST_DENSITY_G_L} g/L, from {} on.",
            dense(ADVISED_DENSITY_G_L),
            dense(GREATEST_DENSITY_G_L),
        ));
    }

    /// Beside the depth that oxygen allows, what does not allow it.
    fn as_bottom_gas(&self) -> String {
        let sheet = self.sheet;
        let too_dense = sheet.depth_of_density(GREATEST_DENSITY_G_L);
        let operating = sheet.operating_depth(sheet.oxygen_limit());
        if sheet.is_too_lean() {
            "as a bottom gas, but never from the surface".to_owned()
        } else if operating.is_some_and(|depth| depth.is_below(too_dense)) {
            let depth = self.show.depth_limit(too_dense);
            format!("as a bottom gas, but too dense from {depth} on")
        } else {
            "as a bottom gas".to_owned()
        }
    }

    /// The stop from which a staged ascent breathes it: of a gas richer than air that is not too dense
    /// there.
    fn switch_that_is_a_go(&self) -> Option<Depth> {
        let too_dense = self.sheet.depth_of_density(GREATEST_DENSITY_G_L);
        let richer = self.sheet.gas().is_richer_than(Mix::AIR);
        let level = self.sheet.switch_depth()?;
        (richer && !level.is_below(too_dense)).then_some(level)
    }

    fn at_depth(&self, at: &MixAtDepth, report: &mut Report) {
        report.heading(format!("At {}", self.show.depth(at.depth)));
        let (name, figure) = (Align::Left, Align::Right);
        let mut table = Table::new(&[("", name), ("", figure), ("", name)]);
        let mut row = |name: &str, figure: String, note: &str| {
            let cells = vec![name.to_owned(), figure, note.to_owned()];
            table.rows.push(cells);
        };
        let po2 = format!("{} bar", hundredths_up(at.po2.as_bar()));
        row("oxygen pressure", po2, "");
        let density = format!("{} g/L", hundredths_up(at.density_g_l));
        row("density", density, "at 0 °C");
        // Depths that somebody might look up in a table are not for a no-go.
        if !self.sheet.is_no_go() {
            row("equivalent air depth", self.show.depth(at.air_depth), "");
            let narcotic = "equivalent narcotic depth";
            let depth = self.show.depth(at.narcotic_depth);
            row(narcotic, depth, "oxygen counted");
            let depth = self.show.depth(at.narcotic_depth_nitrogen);
            row(narcotic, depth, "by nitrogen alone");
        }
        let (limit, note) = self.limit(at.limit);
        row("no-stop limit", limit, &note);
        report.table(table);
        if let MixLimit::Cell(LimitCell::Minutes { .. } | LimitCell::Unlimited) = at.limit {
            report.paragraph(format!(
                "The limit is from {}, down {}, straight up {}, the descent included, rounded down; of \
                 the factors only the high one decides.",
                self.sheet.start_words(self.show),
                self.show.vertical_speed(self.sheet.descent_rate()),
                self.show.vertical_speed(self.sheet.ascent_rate()),
            ));
        }
    }

    /// The limit, and what there is to say beside it.
    fn limit(&self, limit: MixLimit) -> (String, String) {
        let pct = |factor: f64| (factor * 1000.0).round() / 10.0;
        let factors = self.sheet.factors();
        let factors = format!("{}/{}", pct(factors.low()), pct(factors.high()));
        let none = || "not given".to_owned();
        match limit {
            MixLimit::NoGo => (none(), "a no-go".to_owned()),
            MixLimit::Cell(LimitCell::OverOxygenLimit { .. }) => {
                let limit = bar(self.sheet.oxygen_limit());
                (none(), format!("more than {limit} of oxygen"))
            }
            MixLimit::Cell(LimitCell::Unlimited) => (format!("over {BOUND_MIN} min"), factors),
            MixLimit::Cell(LimitCell::Minutes { time, leading }) => (
                format!("{} min", minutes_down(time)),
                format!("{factors}, compartment {}", leading + 1),
            ),
        }
    }

    fn blend(&self, blend: &Blend, report: &mut Report) {
        let BlendAsked {
            start,
            target,
            temperature,
            ..
        } = blend.asked;
        let warm = Kind::Temperature.written(temperature.as_kelvin(), self.units);
        let fill = self.show.pressure_read(target.pressure);
        report.heading(format!("Blending {fill} of {} at {warm}", target.gas));
        if blend.steps.is_empty() {
            report.paragraph("The cylinder holds that already: there is nothing to add.");
        } else {
            let mut table = Table::new(&[
                ("gauge", Align::Left),
                ("real gas", Align::Right),
                ("ideal gas", Align::Right),
            ]);
            let held = self.show.pressure_read(start.pressure);
            table
                .rows
                .push(vec![format!("before, {}", start.gas), held.clone(), held]);
            let mut before = [start.pressure; 2];
            for step in &blend.steps {
                let mut cells = vec![format!("{} to", step.adds)];
                for (filled, before) in [step.real, step.ideal].iter().zip(&mut before) {
                    cells.push(self.gauge(step.adds, filled, *before, &fill));
                    *before = filled.to;
                }
                table.rows.push(cells);
            }
            report.table(table);
            report.paragraph(format!(
                "Gauge pressures at {warm}: warm from filling, a cylinder shows more, so let it cool \
                 before each is read. Real gas (GERG-2008) comes nearest to a cylinder; the ideal gas is \
                 the simple rule beside it. Helium is rounded up and oxygen down, so that rounding makes \
                 it no richer.",
            ));
        }
        report.marked(Tone::Caution, "  caution", BLENDING);
    }

    /// Helium up, oxygen down but not below what was there, the gas on top as it was asked for.
    fn gauge(&self, adds: Added, filled: &Filled, before: GaugePressure, fill: &str) -> String {
        let number = match adds {
            Added::Helium => self.show.fine_up(filled.to),
            Added::Oxygen => {
                let before = self.show.fine_up(before);
                self.show.fine_down(filled.to).max(before)
            }
            Added::Top(_) => return fill.to_owned(),
        };
        format!("{number} {}", self.show.pressure_unit())
    }
}

/// Said under every blend.
const BLENDING: &str = "\
Blending, and handling oxygen at all, is for people trained in it, with equipment cleaned for oxygen. \
Every fill is analysed before it is used, and marked with what the analyser showed.";

/// `32 % oxygen, 68 % nitrogen`
fn contents(gas: Mix) -> String {
    let pct = |fraction: f64| (fraction * 100.0 * OWN_PARTS).round() / OWN_PARTS;
    let parts = [
        (pct(gas.oxygen()), "oxygen"),
        (pct(gas.helium()), "helium"),
        (pct(gas.nitrogen()), "nitrogen"),
    ];
    let parts = parts.into_iter().filter(|(pct, _)| *pct > 0.0);
    let parts: Vec<String> = parts.map(|(pct, name)| format!("{pct} % {name}")).collect();
    parts.join(", ")
}

/// A limit as it was given: `1.4 bar`.
fn bar(limit: Pressure) -> String {
    format!("{} bar", (limit.as_bar() * OWN_PARTS).round() / OWN_PARTS)
}
