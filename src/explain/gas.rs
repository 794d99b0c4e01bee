//! Why a diver must keep so much gas and turns at such a pressure, and what a pony is good for.

use super::Step;
use super::bottle::{Bottle, LITRES, Rounded};
use super::exchange::sum;
use super::expression::Expression;
use super::sheet::{Line, Sheet};
use super::site::{GIVEN, MINUTES, Site, minutes_of, plain};
use crate::briefing::Briefing;
use crate::emergency::{Emergency, hang_gas};
use crate::gas_budget::{Diver, DiverBudget, Hang, TurnRule};
use crate::schedule::{Moment, ScheduleError, Segment, SegmentKind};
use crate::show::Show;
use crate::units::{ATM_BAR, Time, UnitSystem};

/// Usual decimals of an exposure, atm·min.
const EXPOSURE: usize = 4;
/// Usual decimals of what somebody breathes.
const BREATHING: usize = 5;

/// A level end, and the way up of an emergency that begins there.
pub(super) struct Worst {
    pub(super) from: Moment,
    segments: Vec<Segment>,
    /// The hang, where the main cylinder has to give it.
    hang: Option<Hang>,
}

/// One diver's gas and all that it follows from.
pub(super) struct Gas<'a> {
    pub(super) site: &'a Site<'a>,
    briefing: &'a Briefing,
    pub(super) diver: &'a Diver,
    budget: &'a DiverBudget,
    /// Who breathes most among the others.
    other: Option<&'a Diver>,
    pub(super) gauge: Show,
    /// For the reserve.
    reserve: Worst,
    /// For the pony: straight up, and with every stop.
    pub(super) direct: Worst,
    pub(super) full: Worst,
}

/// The title and the steps.
pub(super) fn explain(
    briefing: &Briefing,
    index: usize,
    units: UnitSystem,
) -> Result<(String, Vec<Step>), ScheduleError> {
    let site = Site::new(&briefing.plan, units);
    let diver = &briefing.plan.divers[index];
    let (reserve, direct, full) = worst(&site, briefing)?;
    let others = briefing.plan.divers.iter().enumerate();
    let gas = Gas {
        site: &site,
        briefing,
        diver,
        budget: &briefing.divers[index],
        other: others
            .filter(|(other, _)| *other != index)
            .map(|(_, other)| other)
            .max_by(|x, y| x.breathing.as_l_min().total_cmp(&y.breathing.as_l_min())),
        gauge: Show(diver.gauge.unwrap_or(units)),
        reserve,
        direct,
        full,
    };
    let title = format!("The gas of {}", diver.name);
    Ok((title, Sheet::written(|sheet| gas.write(sheet))))
}

/// The worst level ends: for the reserve, for a straight ascent, for one with every stop.
fn worst(site: &Site<'_>, briefing: &Briefing) -> Result<(Worst, Worst, Worst), ScheduleError> {
    let rules = site.rules();
    let rules_of_reserve = &briefing.plan.reserve;
    let hang = rules_of_reserve.hang;
    let mut found: Option<[(f64, Worst); 3]> = None;
    for end in &briefing.schedule.level_ends {
        let emergency = Emergency::from(rules, end, rules_of_reserve.sort_out)?;
        let exposure = emergency.exposure(rules, hang.as_ref());
        let hang = hang
            .filter(|hang| hang_gas(rules, &emergency.full, hang).is_same_gas(rules.bottom_gas));
        let way = |segments: &Vec<Segment>, hang| Worst {
            from: *end,
            segments: segments.clone(),
            hang,
        };
        let here = [
            (exposure.reserve.as_atm_min(), way(&emergency.full, hang)),
            (exposure.direct.as_atm_min(), way(&emergency.direct, None)),
            (exposure.full.as_atm_min(), way(&emergency.full, None)),
        ];
        found = Some(match found {
            None => here,
            Some(known) => {
                let [a, b, c] = known;
                let [x, y, z] = here;
                let worse = |known: (f64, Worst), here: (f64, Worst)| {
                    if here.0 > known.0 { here } else { known }
                };
                [worse(a, x), worse(b, y), worse(c, z)]
            }
        });
    }
    let [reserve, direct, full] = found.ok_or(ScheduleError::NoLevel)?;
    Ok((reserve.1, direct.1, full.1))
}

impl Gas<'_> {
    fn write(&self, sheet: &mut Sheet) {
        let mix = self.site.rules().bottom_gas;
        let whose = format!("{}'s cylinder", self.diver.name);
        let cylinder = self.diver.cylinder;
        let named = ("V_w", whose);
        let main = Bottle::new(self.site, cylinder.water, named, mix, self.gauge);
        let who = match self.other {
            None => format!("{}, alone,", self.diver.name),
            Some(_) => format!(
                "{} and whoever breathes most among the others",
                self.diver.name
            ),
        };
        sheet.words(format!(
            "Minimum gas: enough for {who} to sort out the trouble and go up, from the worst \
             moment: {}.",
            self.moment(&self.reserve.from)
        ));
        let surface = self.site.surface(sheet);
        let parts = self.exposures(sheet, &surface, &self.reserve, "X");
        let exposure = self.added(sheet, "X", &parts);
        let reserve = self.reserve_volume(sheet, exposure.clone());
        let floor = self.briefing.plan.reserve.floor;
        let held = main.contents(
            sheet,
            &surface,
            ("What the cylinder holds at the floor", "V_floor"),
            ("p_floor", "the plan's least pressure, bar", floor),
        );
        let least = self.minimum(sheet, &main, &surface, reserve, held);
        let fill = main.contents(
            sheet,
            &surface,
            ("What the cylinder holds at the start", "V_start"),
            ("p_fill", "the fill, bar", cylinder.fill),
        );
        self.turn(sheet, &main, &surface, (&fill, &least));
        self.leaving(sheet, &main, &surface, (&fill, &least));
        if let (Some(pony), Some(budget)) = (&self.diver.pony, &self.budget.pony) {
            // The exposure of the reserve is that of the pony too, unless the hang is in it or
            // another level end is worse.
            let same = self.reserve.hang.is_none()
                && self.reserve.from.run_time == self.full.from.run_time;
            let known = same.then_some(exposure);
            self.write_pony(sheet, &surface, known, (pony, budget));
        }
    }

    /// `minute 22, leaving 36 m`
    pub(super) fn moment(&self, moment: &Moment) -> String {
        format!(
            "minute {}, leaving {}",
            minutes_of(moment.run_time),
            self.site.at(moment.depth)
        )
    }

    /// A line for each part of a way up that is breathed from the main cylinder.
    pub(super) fn exposures(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        worst: &Worst,
        symbol: &str,
    ) -> Vec<Expression> {
        let bottom_gas = self.site.rules().bottom_gas;
        let mut parts = Vec::new();
        let mut switched = false;
        for segment in &worst.segments {
            if segment.gas.is_same_gas(bottom_gas) {
                let number = format!("{symbol}{}", parts.len() + 1);
                let title = self.part(segment);
                parts.push(self.exposure(sheet, surface, (title, &number), segment));
            } else {
                switched = true;
            }
        }
        if let Some(hang) = worst.hang {
            let number = format!("{symbol}{}", parts.len() + 1);
            let title = format!("The hang at {}", self.site.at(hang.depth));
            let segment = Segment {
                kind: SegmentKind::Stop,
                from: hang.depth,
                to: hang.depth,
                start: Time::from_min(0.0),
                end: hang.time,
                gas: bottom_gas,
            };
            parts.push(self.exposure(sheet, surface, (title, &number), &segment));
        }
        if switched {
            sheet.words(
                "From the gas switch on the stage cylinder is drawn on, which is not counted here.",
            );
        }
        parts
    }

    /// What a segment is called.
    fn part(&self, segment: &Segment) -> String {
        let (from, to) = (self.site.at(segment.from), self.site.at(segment.to));
        match segment.kind {
            SegmentKind::Descent => format!("Down to {to}"),
            SegmentKind::Ascent => format!("Up from {from} to {to}"),
            SegmentKind::Level => format!("At {from}"),
            SegmentKind::Stop => format!("Stop at {from}"),
            SegmentKind::SafetyStop => format!("Safety stop at {from}"),
            SegmentKind::Switch => format!("Gas switch at {from}"),
        }
    }

    /// ```text
    /// X = (P_s + w·(d_1 + d_2)/2)/1.01325·t
    /// ```
    fn exposure(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        (title, symbol): (String, &str),
        segment: &Segment,
    ) -> Expression {
        let water = self.site.water(sheet);
        let from = segment.from.as_m();
        let from = sheet.given("d_1", "depth at the start of this part, m", from, GIVEN);
        let to = segment.to.as_m();
        let to = sheet.given("d_2", "depth at its end, m", to, GIVEN);
        let minutes = segment.time().as_min();
        let minutes = sheet.given("t", "how long it lasts, min", minutes, MINUTES);
        let line = Line {
            title,
            symbol,
            unit: "atm min",
            decimals: sheet.working(EXPOSURE),
        };
        let mean = surface.clone() + water * (from + to) / plain(2.0);
        let model = segment.exposure(&self.site.rules().environment);
        sheet.equation(line, mean / plain(ATM_BAR) * minutes, model.as_atm_min())
    }

    pub(super) fn added(
        &self,
        sheet: &mut Sheet,
        symbol: &str,
        parts: &[Expression],
    ) -> Expression {
        match parts {
            [one] => one.clone(),
            _ => {
                let line = Line {
                    title: "All of it: atmospheres times minutes".to_owned(),
                    symbol,
                    unit: "atm min",
                    decimals: sheet.working(EXPOSURE),
                };
                sheet.derived(line, sum(parts))
            }
        }
    }

    pub(super) fn breathing(&self, sheet: &mut Sheet) -> Expression {
        let meaning = format!("what {} breathes at the surface, L/min", self.diver.name);
        sheet.given("Q", meaning, self.diver.breathing.as_l_min(), BREATHING)
    }

    pub(super) fn stress(&self, sheet: &mut Sheet) -> Expression {
        let stress = self.briefing.plan.reserve.stress;
        let meaning = "how much harder divers in trouble breathe";
        sheet.given("s", meaning, stress, GIVEN)
    }

    /// ```text
    /// V_res = (Q + Q_2)·s·X
    /// ```
    fn reserve_volume(&self, sheet: &mut Sheet, exposure: Expression) -> Expression {
        let own = self.breathing(sheet);
        let both = match self.other {
            None => own,
            Some(other) => {
                let meaning = format!(
                    "what {} breathes, the most of the others, L/min",
                    other.name
                );
                own + sheet.given("Q_2", meaning, other.breathing.as_l_min(), BREATHING)
            }
        };
        let line = Line {
            title: "The reserve, as free gas".to_owned(),
            symbol: "V_res",
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let stress = self.stress(sheet);
        let model = self.budget.reserve.as_l();
        sheet.equation(line, both * stress * exposure, model)
    }

    /// The reserve or what the floor holds, whichever is more; gives that volume.
    fn minimum(
        &self,
        sheet: &mut Sheet,
        main: &Bottle<'_>,
        surface: &Expression,
        reserve: Expression,
        floor: Expression,
    ) -> Expression {
        let decides = self.budget.floor_decides;
        let more = floor.clone() - reserve.clone();
        self.missing(sheet, "How much more the floor holds", more, decides);
        if decides {
            sheet.words("Above 0: the floor decides, and the minimum gas is the floor.");
            main.read_as_given(sheet, self.budget.minimum_gas);
            floor
        } else {
            sheet.words("Not above 0: the reserve decides.");
            let named = ("Minimum gas: the pressure that holds the reserve", "p_min");
            main.pressure(sheet, surface, named, &reserve, Rounded::Up);
            reserve
        }
    }

    /// ```text
    /// V_turn = V_least + (V_start − V_least)·(1 − share)
    /// ```
    fn turn(
        &self,
        sheet: &mut Sheet,
        main: &Bottle<'_>,
        surface: &Expression,
        (fill, least): (&Expression, &Expression),
    ) {
        sheet.words("The turn: of what is above the minimum, a share goes out and the rest stays.");
        let share = self.share(sheet);
        let line = Line {
            title: "What is left at the turn".to_owned(),
            symbol: "V_turn",
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let above = fill.clone() - least.clone();
        let kept = least.clone() + above * (plain(1.0) - share);
        let turn = sheet.derived(line, kept);
        let named = ("The pressure to turn at", "p_turn");
        main.pressure(sheet, surface, named, &turn, Rounded::Up);
        if turn.unrounded() > fill.unrounded() {
            sheet.words("More than the fill: there is nothing to go out with.");
        }
    }

    /// The turn rule's share, or what a current leaves of it.
    fn share(&self, sheet: &mut Sheet) -> Expression {
        let reserve = &self.briefing.plan.reserve;
        let rule = reserve.turn.share();
        let share = reserve.turn_share();
        match (&reserve.swim, reserve.turn) {
            (Some(swim), _) if share < rule && share > 0.0 => {
                let meaning = "speed of the slowest swimmer, m/min";
                let speed = sheet.given("v", meaning, swim.swim.as_m_min(), GIVEN);
                let current = swim.current.as_m_min();
                let current = sheet.given("c", "the current, m/min", current, GIVEN);
                let line = Line {
                    title: "Share to go out with, the way back being against the current"
                        .to_owned(),
                    symbol: "share",
                    unit: "",
                    decimals: sheet.working(BREATHING),
                };
                let left = (speed.clone() - current) / (plain(2.0) * speed);
                sheet.equation(line, left, share)
            }
            _ if share <= 0.0 => plain(0.0),
            (_, TurnRule::Half) => plain(1.0) / plain(2.0),
            (_, TurnRule::Third) => plain(1.0) / plain(3.0),
            (_, TurnRule::All) => plain(1.0),
        }
    }

    /// What is left on leaving the bottom.
    fn leaving(
        &self,
        sheet: &mut Sheet,
        main: &Bottle<'_>,
        surface: &Expression,
        (fill, least): (&Expression, &Expression),
    ) {
        sheet.words("On leaving the bottom: the fill less what the dive takes until then.");
        let way_down = Worst {
            from: self.reserve.from,
            segments: self.briefing.schedule.way_down.clone(),
            hang: None,
        };
        let parts = self.exposures(sheet, surface, &way_down, "B");
        let exposure = self.added(sheet, "B", &parts);
        let own = self.breathing(sheet);
        let used = own * exposure;
        if self.budget.leaving.is_none() {
            self.missing(sheet, "Missing from the fill", used - fill.clone(), true);
            sheet.words("Above 0: the cylinder is empty before the bottom is left.");
            return;
        }
        let line = Line {
            title: "What is left of the fill".to_owned(),
            symbol: "V_left",
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let left = sheet.derived(line, fill.clone() - used);
        let named = ("The pressure then", "p_left");
        main.pressure(sheet, surface, named, &left, Rounded::Down);
        let holds = self.budget.reserve_holds;
        let title = "Missing from the minimum gas";
        self.missing(sheet, title, least.clone() - left, !holds);
        sheet.words(if holds {
            "Not above 0: nothing is missing, the reserve holds."
        } else {
            "Above 0: the reserve does not hold."
        });
    }

    /// What is missing of a need; more than nothing or not.
    pub(super) fn missing(
        &self,
        sheet: &mut Sheet,
        title: &str,
        missing: Expression,
        is_missing: bool,
    ) {
        let line = Line {
            title: title.to_owned(),
            symbol: "x",
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let model = missing.unrounded();
        sheet.compared(line, missing, model, is_missing);
    }
}
