//! The briefing: one value that everything shown is read from.

use crate::dive::{
    BOUND_MIN, NoStopLimit, NotStraightUp, Schedule, ScheduleError, limit_at, not_straight_up,
    time_until_stops,
};
use crate::finding::{Case, Finding, Verdict, Weight, findings};
use crate::gas::{
    DiverBudget, DiverCylinders, DiverLimits, LevelEnd, LostGas, LostStage, TeamGas, TeamTimes,
    lost_gas, lost_stages, team_gas,
};
use crate::oxygen::OxygenExposure;
use crate::plan::Plan;
use crate::quantity::show::whole_minutes;
use crate::quantity::{Depth, GaugePressure, RunTime, Speed, Time};
use crate::referee::{Evidence, examine};
use crate::rules::Start;
use crate::site::Charge;
use crate::surface::{
    self, Flying, LeastInterval, LimitSetBy, Own, Rest, flying_after, flying_without,
    least_interval, limit_set_by, rests,
};
use crate::tissue::Tissues;
use crate::whatif::{
    Deviation, Known, LateTable, LongestGo, NearestGo, Outcome, deviate_with, late_table,
    longest_go, nearest_go,
};
use serde::Serialize;

/// How the end of the bottom time stands to the end of the no-stop dive.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoStopMargin {
    /// So much longer at the last level would still be a no-stop dive.
    Left(Time),
    /// The plan is so far past it, since a moment on its way down and along.
    Past {
        /// By how much.
        by: Time,
        /// Since when, and at which depth that is.
        since: NotStraightUp,
    },
    /// 999 min do not reach it.
    Unlimited,
}

/// Everything worked out from a plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Briefing {
    /// The plan.
    pub plan: Plan,
    /// The dive from the surface back to it.
    pub schedule: Schedule,
    /// No-stop limit at the deepest level, from the team's starting tissues.
    pub no_stop_limit: NoStopLimit,
    /// Each diver apart from the team, in the order of the plan.
    pub own: Vec<Own>,
    /// Whose own no-stop limit is the least, where histories or gases differ.
    pub limit_set_by: Option<LimitSetBy>,
    /// Time at the surface before the dive: since the divers came from another altitude, and after
    /// the last of the earlier dives.
    pub rests: Vec<Rest>,
    /// The least surface interval before the dive from which it is a no-stop dive; `None` of a
    /// first dive.
    pub least_interval: Option<LeastInterval>,
    /// Flying, or driving up, after the dive.
    pub flying: Flying,
    /// The same after the earlier dives alone, from surfacing from the last of them; `None` of a
    /// first dive.
    pub flying_without: Option<Flying>,
    /// What the team's no-stop limit would be with clean tissues.
    pub clean_limit: NoStopLimit,
    /// How the bottom time stands to the end of the no-stop dive, the whole profile behind it.
    pub no_stop_margin: NoStopMargin,
    /// When on the way down and along nobody may go straight up.
    pub not_straight_up: Vec<NotStraightUp>,
    /// Oxygen doses of the day so far, this dive included.
    pub oxygen: OxygenExposure,
    /// The end of each level and what an emergency there takes, in order.
    pub level_ends: Vec<LevelEnd>,
    /// The gas of each diver, in the order of the plan.
    pub divers: Vec<DiverBudget>,
    /// For how long it lasts, in the same order.
    pub limits: Vec<DiverLimits>,
    /// What is left to each diver whose gas is gone at the worst moment.
    pub lost_gas: Vec<LostGas>,
    /// What is left without each decompression gas that the schedule breathes.
    pub lost_stages: Vec<LostStage>,
    /// From which minute of overstaying things go bad.
    pub late: LateTable,
    /// The dive by the usual step deeper, 3 m or 10 ft; `None` where it cannot be scheduled.
    pub deeper: Option<Outcome>,
    /// Where the plan is a go: the longest bottom time of one.
    pub longest_go: Option<LongestGo>,
    /// Where the plan is a no-go: the dives nearest to it that are none. Empty otherwise.
    pub nearest_go: NearestGo,
    /// Findings: no-gos first, then cautions, then notes; the team's before the divers'.
    pub findings: Vec<Finding>,
}

/// A team carried along by the current.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Drift {
    /// The current.
    pub current: Speed,
    /// How far over the whole dive, metres over ground.
    pub whole_dive_m: f64,
    /// How far on the way up, metres over ground.
    pub way_up_m: f64,
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

/// Works out the briefing of a plan, from the tissues that its team starts with.
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
/// assert!(!briefing.schedule.staged && briefing.findings.len() == 1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn brief(plan: Plan) -> Result<Briefing, BriefingError> {
    let rules = plan.rules();
    let schedule = plan.fly()?;
    let cylinders = DiverCylinders::of_each(&plan);
    let gas = team_gas(&plan, &schedule, &cylinders)?;
    let mut times = TeamTimes::new(&plan, &schedule, &gas.level_ends, &cylinders);
    let limits = times.limits(&gas.divers);
    let late = late_table(&plan, &mut times);
    let oxygen = plan.oxygen(&schedule.segments);
    let own = surface::each(&plan, &schedule);
    let limit = limit_at(rules, &plan.start().tissues, schedule.deepest());
    let not_straight_up = not_straight_up(rules, &schedule);
    let lost_stages = lost_stages(&plan, &schedule, &gas, &cylinders);
    let findings = findings(&Case {
        plan: &plan,
        schedule: &schedule,
        oxygen: &oxygen,
        divers: &gas.divers,
        limits: Some(&limits),
        not_straight_up: &not_straight_up,
        lost_stages: &lost_stages,
    });
    let margin = margin(&plan, &schedule, limit.time(), &not_straight_up);
    let verdict = Verdict::of(&findings, &plan);
    let least_interval = least_interval(&plan);
    let nearest_go = match verdict {
        Verdict::NoGo => nearest_go(
            &Known {
                plan: &plan,
                schedule: &schedule,
                ends: &gas.level_ends,
                cylinders: &cylinders,
            },
            &mut times,
            &limits,
            &findings,
            least_interval.as_ref(),
        ),
        Verdict::Go | Verdict::ScheduleOnly => NearestGo::default(),
    };
    let longest_go = (verdict == Verdict::Go).then(|| {
        let staged = schedule.staged || !not_straight_up.is_empty();
        let no_stop = (!staged).then(|| no_stop_bottom_time(&schedule, margin));
        longest_go(&plan, &cylinders, &limits, no_stop.flatten())
    });
    let deeper = Deviation::usual_step_deeper(plan.units());
    let lost_gas = lost_gas(&plan, &gas, &cylinders);
    let TeamGas { level_ends, divers } = gas;
    let briefing = Briefing {
        no_stop_limit: limit,
        no_stop_margin: margin,
        clean_limit: limit_at(
            rules,
            &Tissues::clean(rules.environment.surface()),
            schedule.deepest(),
        ),
        limit_set_by: limit_set_by(&plan, &schedule, &own),
        rests: rests(&plan),
        least_interval,
        flying: flying_after(&plan, &schedule, &own),
        flying_without: flying_without(&plan),
        own,
        not_straight_up,
        oxygen,
        lost_gas,
        lost_stages,
        level_ends,
        divers,
        limits,
        late,
        deeper: deviate_with(&plan, &cylinders, &deeper).ok(),
        longest_go,
        nearest_go,
        findings,
        schedule,
        plan,
    };
    briefing.check()?;
    examine(&briefing.evidence())
        .map_err(|objection| BriefingError::Check(objection.to_string()))?;
    Ok(briefing)
}

/// For one level the limit less the bottom time; after several levels what more there is at the
/// last one.
fn margin(
    plan: &Plan,
    schedule: &Schedule,
    limit: Option<Time>,
    not_straight_up: &[NotStraightUp],
) -> NoStopMargin {
    if schedule.staged
        && let Some(since) = not_straight_up.last()
    {
        // Where already the descent passes it the limit is 0 and all of the bottom time past it.
        let one_level = plan.levels().len() == 1;
        let limit = limit.filter(|_| one_level).unwrap_or(since.from.elapsed());
        return NoStopMargin::Past {
            by: schedule.bottom_time - limit,
            since: *since,
        };
    }
    let left = if plan.levels().len() == 1 {
        limit.map(|limit| limit - schedule.bottom_time)
    } else {
        let end = schedule.level_ends.last();
        let bound = Time::from_min(f64::from(BOUND_MIN)) - schedule.bottom_time;
        end.and_then(|end| time_until_stops(plan.rules(), end, bound))
    };
    match left {
        // By rounding alone it may be a hair less than nothing.
        Some(left) => NoStopMargin::Left(left.max(Time::from_min(0.0))),
        None => NoStopMargin::Unlimited,
    }
}

/// The greatest whole bottom time of a no-stop dive, the last level stretched, where the profile is
/// one all along; `None` where 999 min do not reach it, 0 where the bottom time is past it.
fn no_stop_bottom_time(schedule: &Schedule, margin: NoStopMargin) -> Option<u32> {
    match margin {
        NoStopMargin::Left(left) => Some(whole_minutes(schedule.bottom_time + left)),
        NoStopMargin::Past { .. } => Some(0),
        NoStopMargin::Unlimited => None,
    }
}

impl Briefing {
    /// What all findings come to.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        Verdict::of(&self.findings, &self.plan)
    }

    /// Whether there is a team and nothing was found that forbids the dive.
    #[must_use]
    pub fn is_go(&self) -> bool {
        self.verdict() == Verdict::Go
    }

    /// The greatest whole bottom time that is still a no-stop dive all along, the last level
    /// stretched; `None` where 999 min do not reach it, 0 where the profile is past it anywhere.
    #[must_use]
    pub fn no_stop_bottom_time(&self) -> Option<u32> {
        if !self.not_straight_up.is_empty() {
            return Some(0);
        }
        no_stop_bottom_time(&self.schedule, self.no_stop_margin)
    }

    /// The dive as planned, told as one that differs from its plan.
    #[must_use]
    pub fn outcome(&self) -> Outcome {
        Outcome::of(&self.schedule, &self.divers, self.verdict(), &self.findings)
    }

    /// A diver on surfacing; the team for who is not in it.
    #[must_use]
    pub fn surfaced(&self, diver: usize) -> Start {
        let own = self.own.get(diver).map(|own| own.surfaced);
        own.unwrap_or(Start {
            tissues: self.schedule.tissues,
            cns_pct: self.oxygen.cns_pct,
            otu: self.oxygen.otu,
        })
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
        let limiting = DiverLimits::limiting(&self.limits).into_iter();
        limiting.map(|index| &self.divers[index]).collect()
    }

    /// The diver with least gas to spare at the end of some level, as a share of what the cylinder
    /// holds.
    #[must_use]
    pub fn least_to_spare(&self) -> Option<&DiverBudget> {
        let share = |diver: &DiverBudget| {
            let spare = diver.levels.iter().map(|level| level.to_spare.as_l());
            spare.fold(f64::INFINITY, f64::min) / diver.start.as_l()
        };
        self.divers
            .iter()
            .min_by(|x, y| share(x).total_cmp(&share(y)))
    }

    /// The tightest depth limit in the team and whose it is.
    #[must_use]
    pub fn depth_limit(&self) -> Option<(&str, Depth)> {
        let limits = self.plan.divers().iter().filter_map(|diver| {
            let limit = diver.depth_limit?;
            Some((diver.name.as_str(), limit))
        });
        limits.min_by(|(_, x), (_, y)| x.as_m().total_cmp(&y.as_m()))
    }

    /// How far a team off the line drifts, over the whole dive and from leaving the bottom to the
    /// surface; `None` without a current.
    ///
    /// ```text
    /// current · run time      current · (run time − bottom time)
    /// ```
    #[must_use]
    pub fn drift(&self) -> Option<Drift> {
        let current = self.plan.site().current?;
        let run_time = self.schedule.run_time();
        let way_up = run_time - self.schedule.leave_bottom();
        (current.as_m_min() > 0.0).then(|| Drift {
            current,
            whole_dive_m: current.as_m_min() * run_time.as_min(),
            way_up_m: current.as_m_min() * way_up.as_min(),
        })
    }

    /// What the gauge of a diver's main cylinder shows through the planned dive: run times and
    /// pressures, at least one a minute, up to where it is empty. Empty for a diver who is not in
    /// the team.
    #[must_use]
    pub fn cylinder_over_time(&self, diver: usize) -> Vec<(RunTime, GaugePressure)> {
        let Some((budget, plan)) = self.divers.get(diver).zip(self.plan.divers().get(diver)) else {
            return Vec::new();
        };
        let rules = self.plan.rules();
        let conditions = self.plan.gas_conditions();
        let charge = Charge::new(plan.cylinder.water, budget.gas, &conditions);
        let mut left = budget.start;
        let mut points = vec![(RunTime::SPLASH, budget.fill)];
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

    /// What a referee goes over: see [`examine`].
    #[must_use]
    pub fn evidence(&self) -> Evidence<'_> {
        Evidence {
            plan: &self.plan,
            schedule: &self.schedule,
            no_stop_limit: &self.no_stop_limit,
            clean_limit: &self.clean_limit,
            own: &self.own,
            oxygen: &self.oxygen,
            level_ends: &self.level_ends,
            divers: &self.divers,
            limits: &self.limits,
        }
    }

    /// What must be true of every briefing.
    fn check(&self) -> Result<(), BriefingError> {
        let fail = |what: String| Err(BriefingError::Check(what));
        let rules = self.plan.rules();
        let surface = rules.environment.surface();
        let tissues = &self.schedule.tissues;
        if !tissues.are_within(&rules.compartments, surface, rules.factors.high()) {
            return fail("the dive surfaces above the high gradient factor".to_owned());
        }
        let mut at = (Depth::SURFACE, RunTime::SPLASH);
        for segment in &self.schedule.segments {
            let joins = segment.start.is_at(at.1) && segment.from.is_at(at.0);
            if !joins || segment.end <= segment.start {
                return fail(format!(
                    "the schedule is broken at minute {}",
                    at.1.as_min()
                ));
            }
            at = (segment.to, segment.end);
        }
        if !at.0.is_at(Depth::SURFACE) {
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
