//! The way up by the referee: minute by minute as the rules of a staged ascent have it.

use super::body::{Body, Gas, Pace};
use super::course::{Diving, Leg, Rules, SAME_M, minute_after, whole_minute};
use crate::dive::SegmentKind;
use std::rc::Rc;

/// A stop that has not cleared after so many minutes never does.
const LONGEST_HOLD_MIN: u32 = 9_999;
/// Oxygen above this is breathed by nobody, bar.
const MOST_OXYGEN_BAR: f64 = 1.63;

/// A way up.
#[derive(Clone, Debug)]
pub(super) struct WayUp {
    pub(super) legs: Vec<Leg>,
    pub(super) staged: bool,
    pub(super) anchor_m: Option<f64>,
}

/// Why there is no way up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stuck {
    /// A stop that does not clear.
    Stop,
    /// A safety stop that takes up more than may be carried to the surface.
    SafetyStop,
}

/// The way up as it is planned.
pub(super) fn way_up(rules: &Rules<'_>, from: &Diving) -> Result<WayUp, Stuck> {
    let mut diving = from.resumed();
    if rules.is_open(&from.body, from.depth_m) {
        if let Some((depth_m, minutes)) = safety_stop(rules, &diving) {
            diving.travel(rules, SegmentKind::Ascent, depth_m, rules.ascent);
            let leave = diving.run_min + minutes;
            diving.stay(rules, SegmentKind::SafetyStop, leave);
            if !rules.is_open(&diving.body, depth_m) {
                return Err(Stuck::SafetyStop);
            }
        }
        diving.travel(rules, SegmentKind::Ascent, 0.0, rules.ascent);
        return Ok(WayUp {
            legs: diving.legs,
            staged: false,
            anchor_m: None,
        });
    }
    let mut climb = Climb {
        rules,
        diving,
        anchor_m: None,
        paces: Vec::new(),
    };
    climb.climb()?;
    Ok(WayUp {
        legs: climb.diving.legs,
        staged: true,
        anchor_m: climb.anchor_m,
    })
}

/// Straight up on the bottom gas without any stop.
pub(super) fn straight(rules: &Rules<'_>, from: &Diving) -> Vec<Leg> {
    let mut diving = from.resumed();
    up_to(rules, &mut diving, 0.0);
    diving.legs
}

/// An ascent whose tissues nobody asks for.
fn up_to(rules: &Rules<'_>, diving: &mut Diving, depth_m: f64) {
    let minutes = (diving.depth_m - depth_m) / rules.ascent;
    diving.is_at(SegmentKind::Ascent, depth_m, diving.run_min + minutes);
}

/// Straight up on the bottom gas with the safety stop alone.
pub(super) fn straight_with_safety_stop(rules: &Rules<'_>, from: &Diving) -> Vec<Leg> {
    let mut diving = from.resumed();
    if let Some((depth_m, minutes)) = safety_stop(rules, &diving) {
        up_to(rules, &mut diving, depth_m);
        let leave = diving.run_min + minutes;
        diving.is_at(SegmentKind::SafetyStop, depth_m, leave);
    }
    up_to(rules, &mut diving, 0.0);
    diving.legs
}

/// Depth and time of the safety stop of a straight ascent, where one is made.
fn safety_stop(rules: &Rules<'_>, diving: &Diving) -> Option<(f64, f64)> {
    rules.safety.filter(|(depth_m, _)| {
        diving.deepest_m > depth_m + SAME_M && diving.depth_m >= depth_m - SAME_M
    })
}

/// The factor at a depth: low up to the anchor, from there evenly to high at the surface.
pub(super) fn factor(rules: &Rules<'_>, anchor_m: Option<f64>, depth_m: f64) -> f64 {
    match anchor_m {
        Some(anchor_m) if depth_m < anchor_m => {
            rules.high - (rules.high - rules.low) * (depth_m / anchor_m)
        }
        _ => rules.low,
    }
}

/// A staged ascent under way.
struct Climb<'r, 'a> {
    rules: &'r Rules<'a>,
    diving: Diving,
    anchor_m: Option<f64>,
    /// Those of climbs and minutes before, by their time and whether helium is in play.
    paces: Vec<(f64, bool, Rc<Pace>)>,
}

impl Climb<'_, '_> {
    fn climb(&mut self) -> Result<(), Stuck> {
        let mut level = None;
        while self.diving.depth_m > 0.0 {
            let arrived_min = self.diving.run_min;
            if let Some(level) = level {
                self.switch(level);
            }
            let safety_min = level.and_then(|level| self.safety_until(level, arrived_min));
            let (next, next_m) = self.rules.above(self.diving.depth_m);
            self.leave_for(next_m, safety_min)?;
            level = Some(next);
        }
        Ok(())
    }

    /// The richest gas that may be breathed at a level, where that is richer than the one in use.
    fn switch(&mut self, level: u32) {
        let ambient = self.rules.ambient(f64::from(level) * self.rules.spacing_m);
        let mut richest: Gas = self.diving.gas;
        for gas in &self.rules.decompression {
            let breathable = gas.oxygen * ambient <= MOST_OXYGEN_BAR + 1e-9;
            if breathable && gas.oxygen > richest.oxygen + 1e-11 {
                richest = *gas;
            }
        }
        if richest.oxygen > self.diving.gas.oxygen + 1e-11 {
            self.diving.gas = richest;
            let until = self.diving.run_min + self.rules.switch_min;
            self.diving.stay(self.rules, SegmentKind::Switch, until);
        }
    }

    /// The whole minute up to which the safety stop holds at a level, where it is its level.
    fn safety_until(&self, level: u32, arrived_min: f64) -> Option<f64> {
        let (depth_m, minutes) = self.rules.safety?;
        let its_level = self.rules.level_at(depth_m).max(self.rules.last_stop);
        let made = level == its_level && self.diving.deepest_m > depth_m + SAME_M;
        made.then(|| whole_minute((arrived_min + minutes).max(self.diving.run_min)))
    }

    /// Goes on to the next level, at once or after a stop.
    fn leave_for(&mut self, next_m: f64, safety_min: Option<f64>) -> Result<(), Stuck> {
        let rules = self.rules;
        let (here_m, gas, now) = (self.diving.depth_m, self.diving.gas, self.diving.run_min);
        let helium = self.diving.body.meets_helium(gas);
        let climb_min = (here_m - next_m) / rules.ascent;
        let climb = Trial {
            pace: self.pace(climb_min, helium),
            next_m,
        };
        let was_anchored = self.anchor_m.is_some();
        let mut arriving = self.try_it(&climb);
        let is_anchor = self.anchor_m.is_some() && !was_anchored;
        let safety_min = safety_min.filter(|until| *until > now + 1e-9);
        if is_anchor || arriving.is_none() || safety_min.is_some() {
            let kind = if arriving.is_some() && !is_anchor {
                SegmentKind::SafetyStop
            } else {
                SegmentKind::Stop
            };
            let next_minute = minute_after(now);
            let mut leave = safety_min.map_or(next_minute, |until| until.max(next_minute));
            let body = self.diving.body;
            self.diving.body = rules.after(&body, here_m, here_m, leave - now, gas);
            let minute = self.pace(1.0, helium);
            let here = rules.stretch(here_m, here_m, gas);
            arriving = self.try_it(&climb);
            let mut held = 0;
            while arriving.is_none() {
                if held == LONGEST_HOLD_MIN {
                    return Err(Stuck::Stop);
                }
                self.diving.body.go(&minute, &here, |_, _| ());
                leave += 1.0;
                held += 1;
                arriving = self.try_it(&climb);
            }
            self.diving.is_at(kind, here_m, leave);
        }
        if let Some(body) = arriving {
            self.diving.body = body;
            let arrive = self.diving.run_min + climb_min;
            self.diving.is_at(SegmentKind::Ascent, next_m, arrive);
        }
        Ok(())
    }

    fn pace(&mut self, minutes: f64, helium: bool) -> Rc<Pace> {
        let is_it = |known: &&(f64, bool, Rc<Pace>)| {
            known.0.to_bits() == minutes.to_bits() && known.1 == helium
        };
        if let Some((_, _, pace)) = self.paces.iter().find(is_it) {
            return Rc::clone(pace);
        }
        let pace = Rc::new(self.rules.table.pace(minutes, helium));
        self.paces.push((minutes, helium, Rc::clone(&pace)));
        pace
    }

    /// Tissues on arriving at the next level, where they are within its factor; the first depth from
    /// which they are not becomes the anchor.
    fn try_it(&mut self, climb: &Trial) -> Option<Body> {
        let (rules, diving) = (self.rules, &self.diving);
        let mut body = diving.body;
        let up = rules.stretch(diving.depth_m, climb.next_m, diving.gas);
        body.go(&climb.pace, &up, |_, _| ());
        let open = |anchor_m| {
            let factor = factor(rules, anchor_m, climb.next_m);
            rules.within(&body, climb.next_m, factor)
        };
        if !open(self.anchor_m) && self.anchor_m.is_none() {
            self.anchor_m = Some(diving.depth_m);
        }
        open(self.anchor_m).then_some(body)
    }
}

/// The way on to the next level.
struct Trial {
    pace: Rc<Pace>,
    next_m: f64,
}
