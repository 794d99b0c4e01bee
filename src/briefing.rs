//! The briefing: one value that everything shown is read from.

use crate::cylinder::Charge;
use crate::deviation::{Deviation, LateTable, Outcome, deviate, late_table};
use crate::finding::{Fact, Finding, Weight};
use crate::gas_budget::{
    DiverBudget, PonyVerdict, TurnRule, team_budget, team_budget_without_limits,
};
use crate::lost_gas::{LostGas, lost_gas};
use crate::mix::Mix;
use crate::no_stop::{BOUND_MIN, no_stop_limit, time_until_stops};
use crate::oxygen::{OxygenExposure, gas_density_g_l, operating_depth, oxygen_pressure};
use crate::plan::Plan;
use crate::schedule::{SAME_MOMENT_MIN, Schedule, ScheduleError, SegmentKind, fly};
use crate::tissue::Tissues;
use crate::units::{Depth, GaugePressure, Pressure, Speed, Time};

/// Oxygen pressure of the bottom gas above which there is a caution, bar.
const PO2_ADVISED_BAR: f64 = 1.4;
/// Oxygen pressure of any gas above which there is a no-go, bar.
const PO2_LIMIT_BAR: f64 = 1.63;
/// Oxygen pressure at the surface under which a gas leaner than air may not be breathed there,
/// bar (common practice, no source).
const PO2_LEAST_BAR: f64 = 0.16;
/// Gas density above which there is a caution, g/L.
const DENSITY_ADVISED_G_L: f64 = 5.2;
/// Gas density above which there is a no-go, g/L.
const DENSITY_LIMIT_G_L: f64 = 6.2;
/// CNS share above which there is a caution, per cent (common practice, no source).
const CNS_ADVISED_PCT: f64 = 80.0;
/// CNS share above which there is a no-go: the whole single-exposure limit.
const CNS_LIMIT_PCT: f64 = 100.0;

/// How the bottom time stands to the end of the no-stop dive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoStopMargin {
    /// So much longer at the last level is still a no-stop dive.
    Left(Time),
    /// The plan is so far past it.
    Past(Time),
    /// 999 min do not reach it.
    Unlimited,
}

/// Everything worked out from a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Briefing {
    /// The plan.
    pub plan: Plan,
    /// The dive from the surface back to it.
    pub schedule: Schedule,
    /// No-stop limit at the deepest level from clean tissues; `None` where 999 min do not reach
    /// it.
    pub no_stop_limit: Option<Time>,
    /// How the bottom time stands to the no-stop limit; with several levels, how the last one
    /// stands to its own end of the no-stop dive, the whole profile behind it.
    pub no_stop_margin: NoStopMargin,
    /// Oxygen doses.
    pub oxygen: OxygenExposure,
    /// The gas of each diver, in the order of the plan.
    pub divers: Vec<DiverBudget>,
    /// What is left to each diver whose gas is gone at the worst moment.
    pub lost_gas: Vec<LostGas>,
    /// From which minute of overstaying things go bad.
    pub late: LateTable,
    /// The dive by the usual step deeper, 3 m or 10 ft; `None` where it cannot be scheduled.
    pub deeper: Option<Outcome>,
    /// Findings: no-gos first, then cautions, then notes; the team's before the divers'.
    pub findings: Vec<Finding>,
}

/// A team carried along on the way up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    /// The current.
    pub current: Speed,
    /// How far, metres over ground.
    pub metres: f64,
}

/// A dive and its gas without what a whole briefing adds: for the many dives of a what-if.
pub(crate) struct Reckoned {
    pub(crate) schedule: Schedule,
    /// Without the limits, see [`team_budget_without_limits`].
    pub(crate) divers: Vec<DiverBudget>,
}

pub(crate) fn reckon(plan: &Plan) -> Result<Reckoned, ScheduleError> {
    let rules = &plan.rules;
    let clean = Tissues::clean(rules.environment.surface());
    let schedule = fly(rules, &clean, &plan.levels)?;
    let conditions = plan.gas_conditions();
    let divers =
        team_budget_without_limits(rules, &plan.reserve, &conditions, &schedule, &plan.divers)?;
    Ok(Reckoned { schedule, divers })
}

/// Why there is no briefing.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BriefingError {
    /// The dive cannot be scheduled.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
    /// A finished briefing failed a check of its own: a defect of this program.
    #[error("internal check failed: {0}")]
    Check(String),
}

/// Works out the briefing of a plan, from clean tissues.
///
/// # Errors
/// [`BriefingError::Schedule`] where the dive or one of the reserve's ascents cannot be
/// scheduled; [`BriefingError::Check`] where the result contradicts itself.
///
/// # Example
/// ```
/// use hangbar::{briefing, plan_file};
/// let plan = plan_file::read("[profile]\ndepth = \"18 m\"\nbottom_time = \"40 min\"")?;
/// let briefing = briefing::brief(plan)?;
/// assert!(briefing.is_go());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn brief(plan: Plan) -> Result<Briefing, BriefingError> {
    let rules = &plan.rules;
    let clean = Tissues::clean(rules.environment.surface());
    let schedule = fly(rules, &clean, &plan.levels)?;
    let divers = team_budget(
        rules,
        &plan.reserve,
        &plan.gas_conditions(),
        &schedule,
        &plan.divers,
    )?;
    let oxygen = OxygenExposure::of(&rules.environment, &schedule.segments);
    let limit = no_stop_limit(rules, &clean, schedule.deepest());
    let mut briefing = Briefing {
        no_stop_limit: limit,
        no_stop_margin: margin(&plan, &schedule, limit),
        oxygen,
        divers,
        lost_gas: lost_gas(&plan, &schedule)?,
        late: late_table(&plan),
        deeper: deviate(&plan, &Deviation::usual_step_deeper(plan.units)).ok(),
        findings: Vec::new(),
        schedule,
        plan,
    };
    briefing.findings = findings(&briefing);
    briefing.check()?;
    Ok(briefing)
}

/// For one level the limit less the bottom time; after several levels what is left, or not, of
/// the no-stop time since arriving at the last one.
fn margin(plan: &Plan, schedule: &Schedule, limit: Option<Time>) -> NoStopMargin {
    let arrival = &schedule.last_arrival;
    let (limit, used) = if plan.levels.len() == 1 {
        (limit, schedule.bottom_time)
    } else {
        let bound = Time::from_min(BOUND_MIN) - arrival.run_time;
        let limit = time_until_stops(&plan.rules, arrival, bound);
        (limit, schedule.bottom_time - arrival.run_time)
    };
    match limit {
        None if schedule.staged => NoStopMargin::Past(Time::from_min(0.0)),
        None => NoStopMargin::Unlimited,
        Some(limit) if schedule.staged => NoStopMargin::Past(used - limit),
        Some(limit) => NoStopMargin::Left(limit - used),
    }
}

impl Briefing {
    /// Whether nothing was found that forbids the dive.
    #[must_use]
    pub fn is_go(&self) -> bool {
        self.findings
            .iter()
            .all(|finding| finding.weight() != Weight::NoGo)
    }

    /// The findings of one weight.
    pub fn findings_of(&self, weight: Weight) -> impl Iterator<Item = &Finding> {
        self.findings
            .iter()
            .filter(move |finding| finding.weight() == weight)
    }

    /// The divers whose gas limit is the least: they limit the team.
    #[must_use]
    pub fn limiting_divers(&self) -> Vec<&DiverBudget> {
        let least = self.divers.iter().map(|diver| diver.gas_limit_min).min();
        let limits = |diver: &&DiverBudget| Some(diver.gas_limit_min) == least;
        self.divers.iter().filter(limits).collect()
    }

    /// The diver with least gas to spare on leaving the bottom, as a share of what the cylinder
    /// holds.
    #[must_use]
    pub fn least_to_spare(&self) -> Option<&DiverBudget> {
        let share = |diver: &DiverBudget| diver.to_spare.as_l() / diver.start.as_l();
        self.divers
            .iter()
            .min_by(|x, y| share(x).total_cmp(&share(y)))
    }

    /// The tightest depth limit in the team and whose it is.
    #[must_use]
    pub fn depth_limit(&self) -> Option<(&str, Depth)> {
        let limits = self.plan.divers.iter().filter_map(|diver| {
            let limit = diver.depth_limit?;
            Some((diver.name.as_str(), limit))
        });
        limits.min_by(|(_, x), (_, y)| x.as_m().total_cmp(&y.as_m()))
    }

    /// How far a team off the line drifts from leaving the bottom to the surface; `None` without
    /// a current.
    ///
    /// ```text
    /// current · (run time − bottom time)
    /// ```
    #[must_use]
    pub fn drift(&self) -> Option<Drift> {
        let current = self.plan.site.current?;
        let way_up = self.schedule.run_time() - self.schedule.bottom_time;
        let metres = current.as_m_min() * way_up.as_min();
        (metres > 0.0).then_some(Drift { current, metres })
    }

    /// What the gauge of a diver's main cylinder shows through the planned dive: run times and
    /// pressures, at least one a minute, up to where it is empty. Empty for a diver who is not in
    /// the team.
    #[must_use]
    pub fn cylinder_over_time(&self, diver: usize) -> Vec<(Time, GaugePressure)> {
        let Some((budget, plan)) = self.divers.get(diver).zip(self.plan.divers.get(diver)) else {
            return Vec::new();
        };
        let rules = &self.plan.rules;
        let conditions = self.plan.gas_conditions();
        let charge = Charge::new(plan.cylinder.water, rules.bottom_gas, &conditions);
        let mut left = budget.start;
        let mut points = vec![(Time::from_min(0.0), budget.fill)];
        for segment in &self.schedule.segments {
            for piece in segment.pieces(Time::from_min(1.0)) {
                if piece.gas.is_same_gas(rules.bottom_gas) {
                    left = left - plan.breathing * piece.exposure(&rules.environment);
                }
                if left.as_l() < 0.0 {
                    let empty = budget.empty_at.map_or(piece.end, |(time, _)| time);
                    points.push((empty, GaugePressure::from_bar(0.0)));
                    return points;
                }
                points.push((piece.end, charge.pressure(left)));
            }
        }
        points
    }

    /// What must be true of every briefing.
    fn check(&self) -> Result<(), BriefingError> {
        let fail = |what: String| Err(BriefingError::Check(what));
        let rules = &self.plan.rules;
        let surface = rules.environment.surface();
        let tissues = &self.schedule.tissues;
        if !tissues.are_within(&rules.compartments, surface, rules.factors.high()) {
            return fail("the dive surfaces above the high gradient factor".to_owned());
        }
        let mut at = (Depth::from_m(0.0), Time::from_min(0.0));
        for segment in &self.schedule.segments {
            let gap = (segment.start.as_min() - at.1.as_min()).abs();
            let jump = (segment.from.as_m() - at.0.as_m()).abs();
            if gap > SAME_MOMENT_MIN || jump > 1e-9 || segment.end <= segment.start {
                return fail(format!(
                    "the schedule is broken at minute {}",
                    at.1.as_min()
                ));
            }
            at = (segment.to, segment.end);
        }
        if at.0.as_m().abs() > 1e-9 {
            return fail("the schedule does not end at the surface".to_owned());
        }
        let finite = self.divers.iter().all(|diver| {
            let figures = [
                diver.start.as_l(),
                diver.planned_use.as_l(),
                diver.reserve.as_l(),
                diver.minimum_gas.as_bar(),
                diver.turn.as_bar(),
            ];
            figures.iter().all(|figure| figure.is_finite())
        });
        if !finite || !self.oxygen.otu.is_finite() || !self.schedule.surfacing.fraction.is_finite()
        {
            return fail("a figure is not a number".to_owned());
        }
        Ok(())
    }
}

fn findings(briefing: &Briefing) -> Vec<Finding> {
    let mut found: Vec<Finding> = team_facts(briefing)
        .into_iter()
        .map(Finding::of_team)
        .collect();
    for (index, budget) in briefing.divers.iter().enumerate() {
        let facts = diver_facts(briefing, index, budget);
        found.extend(facts.into_iter().map(|fact| Finding::of(budget, fact)));
    }
    found.sort_by_key(Finding::weight);
    found
}

fn team_facts(briefing: &Briefing) -> Vec<Fact> {
    let (plan, schedule) = (&briefing.plan, &briefing.schedule);
    let mut facts = oxygen_facts(briefing);
    for (gas, depth) in deepest_use_of_each_gas(schedule) {
        let density_g_l = gas_density_g_l(&plan.rules.environment, gas, depth);
        if density_g_l > DENSITY_LIMIT_G_L {
            facts.push(Fact::DensityOverLimit {
                gas,
                density_g_l,
                depth,
                limit_g_l: DENSITY_LIMIT_G_L,
            });
        } else if density_g_l > DENSITY_ADVISED_G_L {
            facts.push(Fact::DensityHigh {
                gas,
                density_g_l,
                depth,
                limit_g_l: DENSITY_ADVISED_G_L,
            });
        }
    }
    facts.extend(schedule.breaches.iter().copied().map(Fact::CeilingPassed));
    if schedule.staged {
        let stops = schedule
            .way_up
            .iter()
            .filter(|segment| segment.kind != SegmentKind::Ascent);
        facts.push(Fact::Staged {
            stop_time: stops.clone().map(|stop| stop.time()).sum(),
            first_stop: stops
                .filter(|stop| stop.kind != SegmentKind::Switch)
                .map(|stop| stop.from)
                .next(),
        });
    }
    if let Some(swim) = plan.reserve.swim
        && plan.reserve.current_is_too_strong()
    {
        facts.push(Fact::CurrentTooStrong {
            current: swim.current,
            swim: swim.swim,
        });
    }
    if let Some(current) = plan.site.current
        && plan.reserve.swim.is_none()
        && plan.reserve.turn != TurnRule::All
        && current.as_m_min() > 0.0
        && !plan.divers.is_empty()
    {
        facts.push(Fact::CurrentNotInTurn { current });
    }
    for gas in &plan.rules.decompression {
        if !schedule
            .segments
            .iter()
            .any(|segment| segment.gas.is_same_gas(*gas))
        {
            facts.push(Fact::GasNotBreathed { gas: *gas });
        }
    }
    facts
}

fn oxygen_facts(briefing: &Briefing) -> Vec<Fact> {
    let rules = &briefing.plan.rules;
    let environment = &rules.environment;
    let mut facts = Vec::new();
    let gas = rules.bottom_gas;
    let at_surface = oxygen_pressure(environment, gas, Depth::from_m(0.0)).as_bar();
    if at_surface < PO2_LEAST_BAR && Mix::AIR.is_richer_than(gas) {
        facts.push(Fact::OxygenTooLow {
            gas,
            po2_bar: at_surface,
            limit_bar: PO2_LEAST_BAR,
        });
    }
    for (gas, depth) in deepest_use_of_each_gas(&briefing.schedule) {
        let po2_bar = oxygen_pressure(environment, gas, depth).as_bar();
        if po2_bar > PO2_LIMIT_BAR {
            let limit = Pressure::from_bar(PO2_LIMIT_BAR);
            facts.push(Fact::OxygenOverLimit {
                gas,
                po2_bar,
                depth,
                limit_bar: PO2_LIMIT_BAR,
                operating_depth: operating_depth(environment, gas, limit),
            });
        } else if gas.is_same_gas(rules.bottom_gas) && po2_bar > PO2_ADVISED_BAR {
            facts.push(Fact::OxygenHigh {
                gas,
                po2_bar,
                depth,
                limit_bar: PO2_ADVISED_BAR,
            });
        }
    }
    let cns_pct = briefing.oxygen.cns_pct;
    if cns_pct > CNS_LIMIT_PCT {
        facts.push(Fact::OxygenDoseOverLimit { cns_pct });
    } else if cns_pct > CNS_ADVISED_PCT {
        facts.push(Fact::OxygenDoseHigh { cns_pct });
    }
    facts
}

/// Each gas and the deepest depth at which the schedule breathes it, in order of use.
fn deepest_use_of_each_gas(schedule: &Schedule) -> Vec<(Mix, Depth)> {
    let mut uses: Vec<(Mix, Depth)> = Vec::new();
    for segment in &schedule.segments {
        let deepest = segment.from.max(segment.to);
        match uses
            .iter_mut()
            .find(|(gas, _)| gas.is_same_gas(segment.gas))
        {
            Some((_, depth)) => *depth = depth.max(deepest),
            None => uses.push((segment.gas, deepest)),
        }
    }
    uses
}

fn diver_facts(briefing: &Briefing, index: usize, budget: &DiverBudget) -> Vec<Fact> {
    let plan = &briefing.plan;
    let deepest = briefing.schedule.deepest();
    let mut facts = Vec::new();
    if let Some(limit) = plan.divers[index].depth_limit
        && deepest.as_m() > limit.as_m() + 1e-9
    {
        facts.push(Fact::DepthLimit { limit, deepest });
    }
    if budget.minimum_gas > budget.fill {
        facts.push(Fact::MinimumAboveFill {
            fill: budget.fill,
            minimum: budget.minimum_gas,
        });
    } else if let Some(hang) = plan.reserve.hang
        && !budget.reserve_holds
        && budget.reserve_holds_without_hang
    {
        facts.push(Fact::HangShort {
            hang,
            leaving: budget.leaving,
            minimum: budget.minimum_gas,
        });
    } else if !budget.reserve_holds {
        facts.push(Fact::ReserveBroken {
            leaving: budget.leaving,
            minimum: budget.minimum_gas,
            gas_limit_min: budget.gas_limit_min,
            bottom_time: briefing.schedule.bottom_time,
        });
    }
    match budget.end {
        None => facts.push(Fact::GasRunsOut {
            planned_use: budget.planned_use,
            start: budget.start,
        }),
        Some(end) if end < plan.reserve.floor && budget.reserve_holds => {
            facts.push(Fact::BackBelowFloor {
                end,
                floor: plan.reserve.floor,
            });
        }
        Some(_) => {}
    }
    for stage in &budget.stages {
        let gas = stage.gas;
        if !stage.carried {
            facts.push(Fact::StageMissing { gas });
        } else if stage.have < stage.need {
            facts.push(Fact::StageShort {
                gas,
                need: stage.need,
                have: stage.have,
            });
        }
    }
    if let Some(pony) = &budget.pony {
        match pony.verdict {
            PonyVerdict::CoversAll => {}
            PonyVerdict::CoversAscentOnly => facts.push(Fact::PonyAscentOnly {
                need: pony.need_full,
                have: pony.have,
            }),
            PonyVerdict::Short => facts.push(Fact::PonyShort {
                need: pony.need_ascent,
                have: pony.have,
            }),
        }
    }
    if plan.divers.len() == 1 {
        facts.push(Fact::Alone);
    }
    facts
}
