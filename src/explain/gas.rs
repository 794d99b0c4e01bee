//! Why a diver must keep so much gas and turns at such a pressure, and what a pony is good for.

use super::bottle::{Bottle, LITRES, Rounded};
use super::exchange::sum;
use super::expression::Expression;
use super::sheet::{Line, Sheet};
use super::site::{GIVEN, MINUTES, Site, minutes_of, plain};
use super::steps::Step;
use crate::briefing::Briefing;
use crate::dive::{Moment, Segment, SegmentKind};
use crate::gas::{DiverBudget, LevelBudget, LevelEnd, NeedBy, until};
use crate::plan::{Diver, Hang, TurnRule};
use crate::quantity::show::Show;
use crate::quantity::{ATM_BAR, RunTime, UnitSystem};

/// Usual decimals of an exposure, atm·min.
const EXPOSURE: usize = 4;
/// Usual decimals of what somebody breathes.
const BREATHING: usize = 5;

/// One diver's gas and all that it follows from.
pub(super) struct Gas<'a> {
    pub(super) site: &'a Site<'a>,
    briefing: &'a Briefing,
    pub(super) diver: &'a Diver,
    budget: &'a DiverBudget,
    /// Who shares the gas.
    partner: Option<&'a Diver>,
    pub(super) gauge: Show,
    /// Each level's end, and what an emergency there takes.
    pub(super) ends: &'a [LevelEnd],
}

/// The title and the steps.
pub(super) fn explain(briefing: &Briefing, index: usize, units: UnitSystem) -> (String, Vec<Step>) {
    let site = Site::new(&briefing.plan, units);
    let diver = &briefing.plan.divers()[index];
    let budget = &briefing.divers[index];
    let partner = budget
        .partner
        .map(|partner| &briefing.plan.divers()[partner]);
    let gas = Gas {
        site: &site,
        briefing,
        diver,
        budget,
        partner,
        gauge: Show(diver.gauge.unwrap_or(units)),
        ends: &briefing.level_ends,
    };
    let pony = budget.pony.as_ref();
    let pony = pony.filter(|pony| !pony.gas.is_same_gas(budget.gas));
    let pony = pony.map_or_else(String::new, |pony| format!(", {} in the pony", pony.gas));
    let title = format!("The gas of {}: {}{pony}", diver.name, budget.gas);
    (title, Sheet::written(|sheet| gas.write(sheet)))
}

impl Gas<'_> {
    fn write(&self, sheet: &mut Sheet) {
        let mix = self.budget.gas;
        let whose = format!("{}'s cylinder", self.diver.name);
        let cylinder = self.diver.cylinder;
        let named = ("V_w", whose);
        let main = Bottle::new(self.site, cylinder.water, named, mix, self.gauge);
        let surface = self.site.surface(sheet);
        let fill = main.contents(
            sheet,
            &surface,
            ("What the cylinder holds at the start", "V_start"),
            ("p_fill", "the fill, bar", cylinder.fill),
        );
        let floor = self.briefing.plan.reserve().floor;
        let floor = main.contents(
            sheet,
            &surface,
            ("What the cylinder holds at the floor", "V_floor"),
            ("p_floor", "the plan's least pressure, bar", floor),
        );
        let mut greatest: Option<Expression> = None;
        let decides = self.budget.reserve_from;
        let mut exposure = plain(0.0);
        let last = self.ends.len().saturating_sub(1);
        for (index, (end, level)) in self.ends.iter().zip(&self.budget.levels).enumerate() {
            let hang = self.briefing.plan.reserve().hang.filter(|_| index == last);
            let given = (end, level, hang, &floor);
            // Each of several levels has symbols of its own: the turn goes on with one of them.
            let number = if last == 0 {
                String::new()
            } else {
                format!("_{}", index + 1)
            };
            let (needed, least) = self.minimum_at(sheet, &main, &surface, given, &number);
            exposure = needed;
            self.leaving(sheet, &main, &surface, (level, &fill, &least));
            if index == decides {
                greatest = Some(least);
            }
        }
        if let Some(least) = greatest {
            self.turn(sheet, &main, &surface, (&fill, &least));
        }
        if let (Some(pony), Some(budget)) = (&self.diver.pony, &self.budget.pony) {
            // With one level the exposure of the reserve is that of the pony too.
            let known = (self.ends.len() == 1).then_some(exposure);
            self.write_pony(sheet, &surface, known, (pony, budget));
        }
    }

    /// The minimum gas of one level's end: the exposure of the emergency, and the volume that
    /// must be left.
    fn minimum_at(
        &self,
        sheet: &mut Sheet,
        main: &Bottle<'_>,
        surface: &Expression,
        (end, level, hang, floor): (&LevelEnd, &LevelBudget, Option<Hang>, &Expression),
        number: &str,
    ) -> (Expression, Expression) {
        let who = match self.partner {
            None => format!("{}, alone,", self.diver.name),
            Some(_) if self.diver.buddy.is_some() => format!(
                "{} and whoever breathes most among the buddies",
                self.diver.name
            ),
            Some(_) => format!(
                "{} and whoever breathes most among the others",
                self.diver.name
            ),
        };
        sheet.words(format!(
            "Minimum gas at {}: enough for {who} to sort out the trouble and go up.",
            self.moment(&end.moment)
        ));
        if !self.site.rules().decompression.is_empty() {
            sheet.words(
                "Where a gas switch is planned, the straight ascent with the safety stop, all of \
                 it on the main cylinder, is the least that counts.",
            );
        }
        let parts = self.exposures(sheet, surface, end.emergency.deciding(), "X");
        let exposure = self.added(sheet, "X", &parts);
        let symbol = format!("V_res{number}");
        let in_trouble = self.reserve_volume(sheet, &symbol, exposure.clone());
        let reserve = match hang {
            Some(hang) => self.with_hang(sheet, surface, (hang, level.hang_decides()), in_trouble),
            None => in_trouble,
        };
        let least = self.minimum(sheet, main, surface, (level, reserve, floor.clone()));
        (exposure, least)
    }

    /// The planned way up and the hang, unstressed and on the own gas, where that is more.
    ///
    /// ```text
    /// V_hang = Q·(∫ P/(1 atm) dt of the planned way up + that of the hang)
    /// ```
    fn with_hang(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        (hang, decides): (Hang, bool),
        in_trouble: Expression,
    ) -> Expression {
        sheet.words(format!(
            "The hang: {} must be able to make the planned way up and stay at {} on top of it, on \
             the own cylinder, breathing as always.",
            self.diver.name,
            self.site.at(hang.depth)
        ));
        let mut segments = self.briefing.schedule.way_up.clone();
        segments.push(Segment {
            kind: SegmentKind::Stop,
            from: hang.depth,
            to: hang.depth,
            start: RunTime::SPLASH,
            end: RunTime::SPLASH + hang.time,
            gas: self.site.rules().bottom_gas,
        });
        let parts = self.exposures(sheet, surface, &segments, "H");
        let exposure = self.added(sheet, "H", &parts);
        let own = self.breathing(sheet);
        let line = Line {
            title: "The planned way up and the hang, as free gas".to_owned(),
            symbol: "V_hang",
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let hanging = sheet.derived(line, own * exposure);
        let more = hanging.clone() - in_trouble.clone();
        self.missing(
            sheet,
            "How much more that is than the reserve",
            more,
            decides,
        );
        if decides {
            sheet.words("Above 0: the hang decides.");
            hanging
        } else {
            sheet.words("Not above 0: the reserve holds the hang too.");
            in_trouble
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
        segments: &[Segment],
        symbol: &str,
    ) -> Vec<Expression> {
        let bottom_gas = self.site.rules().bottom_gas;
        let mut parts = Vec::new();
        let mut switched = false;
        for segment in segments {
            if segment.gas.is_same_gas(bottom_gas) {
                let number = format!("{symbol}{}", parts.len() + 1);
                let title = self.part(segment);
                parts.push(self.exposure(sheet, surface, (title, &number), segment));
            } else {
                switched = true;
            }
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
            SegmentKind::SafetyStop if self.briefing.schedule.staged => format!("Stop at {from}"),
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
        let stress = self.briefing.plan.reserve().stress;
        let meaning = "how much harder divers in trouble breathe";
        sheet.given("s", meaning, stress, GIVEN)
    }

    /// ```text
    /// V_res = (Q + Q_2)·s·X
    /// ```
    fn reserve_volume(&self, sheet: &mut Sheet, symbol: &str, exposure: Expression) -> Expression {
        let own = self.breathing(sheet);
        let both = match self.partner {
            None => own,
            Some(other) => {
                let whom = if self.diver.buddy.is_some() {
                    "buddies"
                } else {
                    "others"
                };
                let meaning = format!(
                    "what {} breathes, the most of the {whom}, L/min",
                    other.name
                );
                own + sheet.given("Q_2", meaning, other.breathing.as_l_min(), BREATHING)
            }
        };
        let line = Line {
            title: "The reserve, as free gas".to_owned(),
            symbol,
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let stress = self.stress(sheet);
        sheet.derived(line, both * stress * exposure)
    }

    /// The reserve or what the floor holds, whichever is more; gives that volume.
    fn minimum(
        &self,
        sheet: &mut Sheet,
        main: &Bottle<'_>,
        surface: &Expression,
        (level, reserve, floor): (&LevelBudget, Expression, Expression),
    ) -> Expression {
        let decides = level.need_by == NeedBy::Floor;
        let more = floor.clone() - reserve.clone();
        self.missing(sheet, "How much more the floor holds", more, decides);
        if decides {
            sheet.words("Above 0: the floor decides, and the minimum gas is the floor.");
            main.read_as_given(sheet, level.minimum_gas);
            floor
        } else {
            sheet.words("Not above 0: the floor does not decide.");
            let named = ("Minimum gas: the pressure that holds it", "p_min");
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
        let reserve = self.briefing.plan.reserve();
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

    /// What is left on leaving a level.
    fn leaving(
        &self,
        sheet: &mut Sheet,
        main: &Bottle<'_>,
        surface: &Expression,
        (level, fill, least): (&LevelBudget, &Expression, &Expression),
    ) {
        sheet.words(format!(
            "On leaving {}: the fill less what the dive takes until then.",
            self.site.at(level.depth)
        ));
        let way_down = until(&self.briefing.schedule.way_down, level.leave);
        let parts = self.exposures(sheet, surface, &way_down, "B");
        let exposure = self.added(sheet, "B", &parts);
        let own = self.breathing(sheet);
        let used = own * exposure;
        if level.left.is_none() {
            self.missing(sheet, "Missing from the fill", used - fill.clone(), true);
            sheet.words("Above 0: the cylinder is empty before that.");
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
        let holds = level.holds();
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
