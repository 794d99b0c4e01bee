//! How long not to fly, or drive up: the model's wait, and what is longer.

use super::exchange::{Deciding, Stretch};
use super::expression::Expression;

use super::sheet::{Line, Sheet, upper};
use super::site::{BAR, GIVEN, MINUTES, Site, plain};
use super::steps::Step;
use crate::briefing::Briefing;
use crate::quantity::show::{hours_min, minutes_up};
use crate::quantity::{ATM_BAR, Time, UnitSystem};
use crate::site::{LAPSE_K_M, Mix, SEA_LEVEL_K, TROPOSPHERE_EXPONENT};
use crate::surface::{Exposure, Flying, LONGEST_WAIT_MIN, WaitDecidedBy, WaitReach, rested};
use crate::tissue::Tissues;

/// Usual decimals of the wait, min.
const WAIT_MIN: usize = 2;

/// The wait that is explained.
struct Wait<'a> {
    site: Site<'a>,
    flying: &'a Flying,
    /// On surfacing.
    tissues: &'a Tissues,
    deciding: Deciding<'a>,
}

/// The title and the steps.
pub(super) fn explain(briefing: &Briefing, units: UnitSystem) -> (String, Vec<Step>) {
    let site = Site::new(&briefing.plan, units);
    let (flying, tissues) = (&briefing.flying, &briefing.schedule.tissues);
    let helium = !tissues.know_nitrogen_alone(Mix::AIR);
    let wait = Wait {
        deciding: Deciding::new(site.rules(), flying.model.compartment, helium),
        site,
        flying,
        tissues,
    };
    let advised = match (flying.advised_min(), flying.decided_by()) {
        (None, _) => "the model finds no end".to_owned(),
        (Some(minutes), WaitDecidedBy::Published) => {
            format!("{}, the published minimum", hours_min(minutes))
        }
        (Some(minutes), WaitDecidedBy::Model) => format!("{}, the model's", hours_min(minutes)),
    };
    let title = format!(
        "No flying or driving up to {}: {advised}",
        wait.cabin_name()
    );
    (title, Sheet::written(|sheet| wait.write(sheet)))
}

impl Wait<'_> {
    fn cabin_name(&self) -> String {
        self.site.show.cabin_height(self.flying.cabin_altitude)
    }

    fn write(&self, sheet: &mut Sheet) {
        let who = self.deciding.name();
        sheet.words(match self.flying.model.reach {
            WaitReach::Minutes(0) => format!(
                "The model: on surfacing all sixteen hold no more than the high factor lets them \
                 at the pressure of the cabin. Nearest to its limit is {who}."
            ),
            WaitReach::Minutes(_) => format!(
                "The model: of the sixteen, {who} decides. In the last minute in which any holds \
                 more than the high factor lets it at the pressure of the cabin, it is the furthest \
                 over."
            ),
            WaitReach::NotWithinBound => format!(
                "The model: in {} on air at the surface it does not come within the limits of the \
                 cabin. Furthest over its limit then is {who}.",
                hours_min(LONGEST_WAIT_MIN)
            ),
        });
        let cabin = self.cabin(sheet);
        let inspired = match self.flying.model.reach {
            WaitReach::Minutes(0) => Vec::new(),
            WaitReach::Minutes(_) | WaitReach::NotWithinBound => self.inspired(sheet),
        };
        match (self.flying.model.reach, inspired.as_slice()) {
            (WaitReach::Minutes(0), _) => self.holds(sheet, &cabin, &inspired, 0, false),
            (WaitReach::Minutes(wait), [inspired]) if self.gives_off(inspired) => {
                self.closed_form(sheet, &cabin, inspired, wait);
            }
            (WaitReach::Minutes(wait), _) => {
                self.holds(sheet, &cabin, &inspired, wait - 1, true);
                self.holds(sheet, &cabin, &inspired, wait, false);
            }
            (WaitReach::NotWithinBound, _) => {
                self.holds(sheet, &cabin, &inspired, LONGEST_WAIT_MIN, true);
            }
        }
        sheet.words(self.advice());
    }

    /// Of each gas, what is breathed at the surface.
    fn inspired(&self, sheet: &mut Sheet) -> Vec<Expression> {
        let surface = self.site.surface(sheet);
        let gases = self.deciding.gases.iter();
        gases
            .map(|gas| gas.inspired(sheet, ("p_in", "the surface"), &surface, Mix::AIR))
            .collect()
    }

    /// Whether the one gas goes down to a pressure that the limit is above.
    fn gives_off(&self, inspired: &Expression) -> bool {
        let index = self.deciding.index;
        let (set, high) = (
            &self.site.rules().compartments,
            self.site.rules().factors.high(),
        );
        let limit = self.tissues.limit_bar(set, index, self.flying.cabin, high);
        limit > inspired.unrounded()
    }

    /// ```text
    /// P_c = 1.01325·(1 − 0.0065·h_c/288.15)^5.2558761
    /// ```
    fn cabin(&self, sheet: &mut Sheet) -> Expression {
        let meaning = "altitude that the cabin is kept at, or that of the pass, m";
        let metres = self.flying.cabin_altitude.as_m();
        let height = sheet.given("h_c", meaning, metres, GIVEN);
        let line = Line {
            title: "Pressure of the cabin, by the standard atmosphere".to_owned(),
            symbol: "P_c",
            unit: "bar",
            decimals: sheet.working(BAR + 1),
        };
        let cooler = plain(1.0) - plain(LAPSE_K_M) * height / plain(SEA_LEVEL_K);
        let pressure = plain(ATM_BAR) * cooler.power(plain(TROPOSPHERE_EXPONENT));
        sheet.equation(line, pressure, self.flying.cabin.as_bar())
    }

    /// What the high factor lets it hold at the pressure of the cabin.
    fn limit(
        &self,
        sheet: &mut Sheet,
        cabin: &Expression,
        held: &[Expression],
        tissues: &Tissues,
    ) -> Expression {
        let high = self.site.rules().factors.high();
        let high = sheet.given("G", "the high gradient factor", high, GIVEN);
        self.deciding
            .limit(sheet, "the cabin", (cabin, high), held, tissues)
    }

    /// What it holds of each gas on surfacing.
    fn surfaced(&self, sheet: &mut Sheet) -> Vec<Expression> {
        let held = self.deciding.gases.iter().map(|gas| {
            let meaning = format!("{} that it holds on surfacing, bar", gas.name);
            let held = gas.held(self.tissues, self.deciding.index);
            sheet.given(&gas.symbol("p_0"), meaning, held, BAR)
        });
        held.collect()
    }

    /// ```text
    /// t = T/ln 2 · ln((p_0 − p_in)/(L − p_in))
    /// ```
    fn closed_form(&self, sheet: &mut Sheet, cabin: &Expression, inspired: &Expression, wait: u32) {
        let limit = self.limit(sheet, cabin, &[], self.tissues);
        let (Some(gas), [held]) = (self.deciding.gases.first(), &self.surfaced(sheet)[..]) else {
            return;
        };
        let half_time = gas.half_time(sheet);
        let ratio = (held.clone() - inspired.clone()) / (limit - inspired.clone());
        let time = half_time / plain(2.0).ln() * ratio.ln();
        let line = Line {
            title: "Time on air at the surface until it holds no more than that".to_owned(),
            symbol: "t",
            unit: "min",
            decimals: sheet.closing(WAIT_MIN),
        };
        let model = time.unrounded();
        let whole = |minutes: f64| format!("{}", minutes_up(Time::from_min(minutes)));
        sheet.closed(line, time, model, whole);
        sheet.words(format!("In whole minutes, up: {wait} min."));
    }

    /// What it holds after whole minutes, beside the limit.
    fn holds(
        &self,
        sheet: &mut Sheet,
        cabin: &Expression,
        inspired: &[Expression],
        minutes: u32,
        is_over: bool,
    ) {
        let surfaced = self.surfaced(sheet);
        let index = self.deciding.index;
        let tissues = rested(self.site.rules(), self.tissues, minutes);
        let held: Vec<Expression> = if minutes == 0 {
            surfaced
        } else {
            let meaning = "time on air at the surface, min";
            let symbol = format!("t_{minutes}");
            let time = sheet.given(&symbol, meaning, f64::from(minutes), MINUTES);
            let gases = self.deciding.gases.iter().zip(inspired).zip(surfaced);
            gases
                .map(|((gas, inspired), start)| {
                    let stretch = Stretch {
                        title: format!("{} after {minutes} min", upper(gas.name)),
                        symbol: "p",
                        start: Some(start),
                        taken: gas.share_taken(sheet, "E", &time, None),
                        inspired: inspired.clone(),
                        rate: None,
                        time: time.clone(),
                        model: Some(gas.held(&tissues, index)),
                    };
                    gas.exchange(sheet, stretch)
                })
                .collect()
        };
        let total = self.deciding.total(sheet, ("p_sum", "in it"), &held);
        let limit = self.limit(sheet, cabin, &held, &tissues);
        let when = match minutes {
            0 => "on surfacing".to_owned(),
            minutes => format!("after {minutes} min"),
        };
        let line = Line {
            title: format!("How far over the limit, {when}"),
            symbol: "x",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let over = total - limit;
        let model = over.unrounded();
        sheet.compared(line, over, model, is_over);
        sheet.words(if is_over {
            format!("Above 0: {when} it is over the limit.")
        } else {
            format!("Not above 0: {when} it is within the limit.")
        });
    }

    /// The published minimum beside it, and which is the longer.
    fn advice(&self) -> String {
        let minimum = hours_min(self.flying.exposure.wait_min());
        let exposure = match self.flying.exposure {
            Exposure::OneNoStopDive => "one no-stop dive (18 h after several days of diving)",
            Exposure::SeveralDives => "several dives",
            Exposure::CompulsoryStops => {
                "a dive with compulsory stops (\"substantially longer than 18 h\", taken as 24 h)"
            }
        };
        let longer = match self.flying.decided_by() {
            WaitDecidedBy::Published => {
                "That is the longer one, and it holds: the model alone allows waits that failed in \
                 trials."
            }
            WaitDecidedBy::Model => "The model's is the longer one, and it holds.",
        };
        format!(
            "The published minimum after {exposure}: {minimum} (Sheffield and Vann, Flying After \
             Recreational Diving Workshop, DAN 2002; for air, cabins of 610 m to 2438 m (2000 ft \
             to 8000 ft), divers without symptoms). {longer}"
        )
    }
}
