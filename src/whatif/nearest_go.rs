//! The dives nearest to a no-go plan that are none: one change each, worked out.

use super::trial::Trial;
use crate::dive::Schedule;
use crate::finding::{Fact, Finding, FlightFact, Help, Weight, dose_forbids};
use crate::gas::{DiverCylinders, DiverLimits, LevelEnd, TeamTimes, has_enough, until};
use crate::plan::{DayTime, Plan};
use crate::quantity::show::whole_minutes_up;
use crate::quantity::{
    Depth, DepthChange, FreeVolume, GaugePressure, PSI_BAR, RunTime, Time, UnitSystem, WaterVolume,
};
use crate::rules::Level;
use crate::site::{Charge, Cylinder};
use crate::surface::LeastInterval;
use serde::Serialize;

/// A fill beyond this is none to propose where nobody said what the cylinder is rated for.
const GREATEST_UNRATED_FILL: GaugePressure = GaugePressure::from_bar(232.0);
/// A depth or a fill that is a whole number of steps but for this share of one is that number.
const SAME_STEP: f64 = 1e-9;
/// A cylinder beyond this is none that a diver carries, litres.
const GREATEST_CYLINDER_L: f64 = 30.0;
/// No dive shallower than this is proposed, metres.
const SHALLOWEST_M: f64 = 3.0;

/// Changes of a no-go plan, each of which by itself makes it a go.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[non_exhaustive]
pub struct NearestGo {
    /// The longest bottom time, whole minutes; shorter than the plan's.
    pub bottom_time_min: Option<u32>,
    /// The greatest depth; whatever is deeper comes up to it.
    pub depth: Option<Depth>,
    /// The least fills, of every diver whose gas is short.
    pub fills: Vec<(String, GaugePressure)>,
    /// The smallest cylinders at the same fill, of every diver whose gas is short: inner volume
    /// and contents.
    pub cylinders: Vec<(String, WaterVolume, FreeVolume)>,
    /// Where nothing but the flight is too soon: when it may leave.
    pub flight_not_before: Option<DayTime>,
    /// The least surface interval before it; longer than the plan's.
    pub wait: Option<LongerWait>,
}

/// A longer surface interval before a dive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct LongerWait {
    /// The interval, whole minutes.
    pub interval_min: u32,
    /// How much more that is than planned, whole minutes.
    pub more_min: u32,
}

impl NearestGo {
    /// Whether no single change makes a go.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.bottom_time_min.is_none()
            && self.depth.is_none()
            && self.fills.is_empty()
            && self.cylinders.is_empty()
            && self.flight_not_before.is_none()
            && self.wait.is_none()
    }
}

/// The dive as planned, worked out.
pub(crate) struct Known<'a> {
    /// The plan.
    pub(crate) plan: &'a Plan,
    /// How it is flown.
    pub(crate) schedule: &'a Schedule,
    /// Its level ends.
    pub(crate) ends: &'a [LevelEnd],
    /// What its divers carry.
    pub(crate) cylinders: &'a [DiverCylinders],
}

/// Looks for each change by itself.
///
/// The bottom time is looked for downward from the plan's, minute by minute; the depth metre by
/// metre or foot by foot; fills in steps of 5 bar or 50 psi up to the rated pressure (232 bar
/// where none is known); cylinders in whole litres up to 30 L. `least` is the least interval from
/// which the dive is a no-stop dive.
#[must_use]
pub(crate) fn nearest_go(
    known: &Known<'_>,
    times: &mut TeamTimes<'_>,
    limits: &[DiverLimits],
    findings: &[Finding],
    least: Option<&LeastInterval>,
) -> NearestGo {
    let (plan, cylinders) = (known.plan, known.cylinders);
    let no_gos = || {
        findings
            .iter()
            .filter(|finding| finding.weight() == Weight::NoGo)
    };
    let any = |help: Help| no_gos().any(|finding| finding.help() == help);
    let mut nearest = NearestGo::default();
    if !any(Help::Other) {
        if !any(Help::Depth) {
            nearest.bottom_time_min = bottom_time(known, times, limits);
        }
        nearest.depth = depth(plan, cylinders);
        nearest.wait = least.and_then(|least| wait(plan, cylinders, least));
    }
    if no_gos().all(|finding| finding.help() == Help::LaterFlight) {
        nearest.flight_not_before = no_gos().find_map(later_flight);
    }
    if no_gos().all(|finding| finding.help() == Help::MainGas) {
        let short: Vec<usize> = (0..plan.divers().len())
            .filter(|index| {
                let name = plan.divers()[*index].name.as_str();
                no_gos().any(|finding| finding.diver.as_deref() == Some(name))
            })
            .collect();
        nearest.fills = fills(known, &short);
        nearest.cylinders = larger(known, &short);
    }
    nearest
}

/// When a flight that is too soon may leave.
fn later_flight(finding: &Finding) -> Option<DayTime> {
    match &finding.fact {
        Fact::Flight(FlightFact::TooSoon { advised, .. }) => advised.map(|wait| wait.not_before),
        _ => None,
    }
}

/// The least interval, where that is longer than the plan's and makes a go.
fn wait(plan: &Plan, cylinders: &[DiverCylinders], least: &LeastInterval) -> Option<LongerWait> {
    let interval_min = least.minutes()?;
    let planned = plan.history().dives.last()?.surface_interval;
    let longer = Time::from_min(f64::from(interval_min)) - planned;
    if !longer.is_over(Time::from_min(0.0)) {
        return None;
    }
    let more_min = whole_minutes_up(longer);
    let history = plan.history().shifted(plan.rules(), longer)?;
    let splash = plan.splash().map(|splash| splash.after(more_min));
    Trial::is_go(&plan.in_a_day(history, splash), cylinders).then_some(LongerWait {
        interval_min,
        more_min,
    })
}

fn bottom_time(
    known: &Known<'_>,
    times: &mut TeamTimes<'_>,
    limits: &[DiverLimits],
) -> Option<u32> {
    let (plan, schedule, cylinders) = (known.plan, known.schedule, known.cylinders);
    let planned = plan.bottom_time();
    let gas = DiverLimits::least(limits).map(|least| least.minutes);
    let longest = gas.unwrap_or(crate::gas::GREATEST_BOTTOM_TIME_MIN);
    let dose = |minutes: u32| {
        let left = RunTime::from_min(f64::from(minutes));
        plan.oxygen(&until(&schedule.way_down, left)).cns_pct
    };
    // The dose only grows: where it is too much on leaving the bottom it is at every later minute.
    let (mut least, mut longest) = (0, longest.min(whole_minutes_up(planned)));
    while least < longest {
        let middle = longest - (longest - least) / 2;
        if dose_forbids(dose(middle)) {
            longest = middle - 1;
        } else {
            least = middle;
        }
    }
    (1..=longest)
        .rev()
        .skip_while(|minutes| !planned.is_over(Time::from_min(f64::from(*minutes))))
        .find(|minutes| {
            if times.forbid(*minutes) {
                return false;
            }
            let cut = plan.left_at(Time::from_min(f64::from(*minutes)));
            cut.is_some_and(|cut| Trial::is_go(&cut, cylinders))
        })
}

/// The greatest depth, whole metres or feet, to which all that is deeper can come up.
fn depth(plan: &Plan, cylinders: &[DiverCylinders]) -> Option<Depth> {
    let step = match plan.units() {
        UnitSystem::Metric => DepthChange::from_m(1.0),
        UnitSystem::Imperial => DepthChange::from_ft(1.0),
    };
    let deepest = plan
        .levels()
        .iter()
        .fold(Depth::from_m(0.0), |deepest, level| {
            deepest.max(level.depth)
        });
    let mut steps = (deepest.as_m() / step.as_m() - SAME_STEP).ceil() - 1.0;
    while step.as_m() * steps >= SHALLOWEST_M {
        let depth = Depth::SURFACE + step * steps;
        let shallower = |level: &Level| Level {
            depth: level.depth.min(depth),
            ..*level
        };
        let levels = plan.levels().iter().map(shallower).collect();
        if Trial::is_go(&plan.with_levels(levels), cylinders) {
            return Some(depth);
        }
        steps -= 1.0;
    }
    None
}

/// Raises the fills of the divers named until each of them has enough; empty where one cannot.
fn fills(known: &Known<'_>, short: &[usize]) -> Vec<(String, GaugePressure)> {
    let raise = |cylinder: Cylinder, gauge: UnitSystem| -> Vec<Cylinder> {
        let step_bar = match gauge {
            UnitSystem::Metric => 5.0,
            UnitSystem::Imperial => 50.0 * PSI_BAR,
        };
        let greatest = cylinder.working.unwrap_or(GREATEST_UNRATED_FILL);
        let mut steps = (cylinder.fill.as_bar() / step_bar + SAME_STEP).floor() + 1.0;
        let mut raised = Vec::new();
        while !GaugePressure::from_bar(steps * step_bar).is_over(greatest) {
            raised.push(Cylinder {
                fill: GaugePressure::from_bar(steps * step_bar),
                ..cylinder
            });
            steps += 1.0;
        }
        raised
    };
    let enough = with_more(known, short, raise);
    let named = |index: &usize| {
        let diver = &enough.as_ref()?.divers()[*index];
        Some((diver.name.clone(), diver.cylinder.fill))
    };
    short.iter().filter_map(named).collect()
}

/// Gives the divers named greater cylinders until each of them has enough; empty where one cannot.
fn larger(known: &Known<'_>, short: &[usize]) -> Vec<(String, WaterVolume, FreeVolume)> {
    let enlarge = |cylinder: Cylinder, _: UnitSystem| -> Vec<Cylinder> {
        let mut litres = cylinder.water.as_l().floor() + 1.0;
        let mut larger = Vec::new();
        while litres <= GREATEST_CYLINDER_L {
            larger.push(Cylinder {
                water: WaterVolume::from_l(litres),
                ..cylinder
            });
            litres += 1.0;
        }
        larger
    };
    let enough = with_more(known, short, enlarge);
    let named = |index: &usize| {
        let enough = enough.as_ref()?;
        let diver = &enough.divers()[*index];
        let gas = enough.gas_of(*index);
        let charge = Charge::new(diver.cylinder.water, gas, &enough.gas_conditions());
        let contents = charge.contents(diver.cylinder.fill);
        Some((diver.name.clone(), diver.cylinder.water, contents))
    };
    short.iter().filter_map(named).collect()
}

/// The plan in which each diver named has the first of the cylinders with which there is enough gas;
/// `None` where one has no such cylinder or it is still no go.
///
/// Nothing but that diver's own gas changes with the cylinder, and a later one of the list holds more
/// of it above the floor: the first is found by halving.
fn with_more(
    known: &Known<'_>,
    short: &[usize],
    more: impl Fn(Cylinder, UnitSystem) -> Vec<Cylinder>,
) -> Option<Plan> {
    if short.is_empty() {
        return None;
    }
    let plan = known.plan;
    let mut enough = Vec::new();
    for &index in short {
        let diver = &plan.divers()[index];
        let tried = more(diver.cylinder, diver.gauge.unwrap_or(plan.units()));
        let first = tried.partition_point(|cylinder| {
            let own = known.cylinders[index].with_main(cylinder, plan.reserve().floor);
            !has_enough(plan, known.schedule, known.ends, &own, index)
        });
        enough.push((index, *tried.get(first)?));
    }
    let plan = plan.with_divers(|divers| {
        for (index, cylinder) in &enough {
            divers[*index].cylinder = *cylinder;
        }
    });
    Trial::is_go(&plan, &DiverCylinders::of_each(&plan)).then_some(plan)
}
