//! The rules by which a dive is a go or not: what is found in it, and from which figure on.

use super::facts::{Fact, Finding, StopsNeeded, Weight};
use crate::dive;
use crate::dive::NotStraightUp;
use crate::dive::{Schedule, Segment};
use crate::gas::{DiverBudget, DiverLimits, PonyVerdict};
use crate::oxygen::OxygenExposure;
use crate::plan::AscentRules;
use crate::plan::DiveRules;
use crate::plan::Plan;
use crate::plan::TurnRule;
use crate::quantity::{Depth, Pressure, Time};
use crate::site::Mix;
use crate::site::{gas_density_g_l, operating_depth, oxygen_pressure};

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

/// What all findings of a dive come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Nothing was found that forbids the dive.
    Go,
    /// Something was.
    NoGo,
    /// Nothing was, but there is no team: nobody's gas was worked out.
    ScheduleOnly,
}

impl Verdict {
    /// From the findings, and whether there is a team.
    #[must_use]
    pub fn of(findings: &[Finding], plan: &Plan) -> Self {
        let forbids = |finding: &Finding| finding.weight() == Weight::NoGo;
        if findings.iter().any(forbids) {
            Self::NoGo
        } else if plan.divers().is_empty() {
            Self::ScheduleOnly
        } else {
            Self::Go
        }
    }

    /// The word for scripts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::NoGo => "no-go",
            Self::ScheduleOnly => "schedule-only",
        }
    }

    /// The word at the head of a screen.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Go => "GO",
            Self::NoGo => "NO-GO",
            Self::ScheduleOnly => "SCHEDULE ONLY",
        }
    }
}

/// A dive that has been flown and its gas worked out.
pub(crate) struct Case<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) schedule: &'a Schedule,
    pub(crate) oxygen: &'a OxygenExposure,
    pub(crate) divers: &'a [DiverBudget],
    /// For how long their gas lasts; empty where nobody has looked.
    pub(crate) limits: &'a [DiverLimits],
    pub(crate) not_straight_up: &'a [NotStraightUp],
}

/// All findings: no-gos first, then cautions, then notes; the team's before the divers'.
pub(crate) fn findings(case: &Case<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = team_facts(case).into_iter().map(Finding::of_team).collect();
    for (index, budget) in case.divers.iter().enumerate() {
        let facts = diver_facts(case, index, budget);
        found.extend(facts.into_iter().map(|fact| Finding::of(budget, fact)));
    }
    found.sort_by_key(Finding::weight);
    found
}

/// Stops at the end of the dive, or stops that its later levels make.
fn stop_facts(case: &Case<'_>) -> Option<Fact> {
    let (plan, schedule) = (case.plan, case.schedule);
    let asked = plan.asks_for_stops();
    if !schedule.staged {
        return (!case.not_straight_up.is_empty()).then(|| Fact::StopsInBetween {
            between: case.not_straight_up.to_vec(),
            asked,
        });
    }
    let stops = StopsNeeded {
        compulsory: compulsory_time(plan.rules(), schedule),
        stop_time: time_of_stops(&schedule.way_up),
        first_stop: schedule.first_stop(),
        since: case.not_straight_up.last().copied().filter(|_| !asked),
    };
    Some(if asked {
        Fact::Staged(stops)
    } else {
        Fact::StagedUnplanned(stops)
    })
}

/// Stop time of the same ascent without a safety stop: what the tissues alone ask for.
fn compulsory_time(rules: &DiveRules, schedule: &Schedule) -> Time {
    let without = DiveRules {
        ascent: AscentRules {
            safety_stop: None,
            ..rules.ascent
        },
        ..rules.clone()
    };
    let leaving = schedule.level_ends.last();
    let ascent = leaving.and_then(|leaving| dive::ascend(&without, leaving).ok());
    ascent.map_or_else(
        || time_of_stops(&schedule.way_up),
        |ascent| time_of_stops(&ascent.segments),
    )
}

/// Time of stops and safety stops; gas switches are no stops.
fn time_of_stops(way_up: &[Segment]) -> Time {
    let stops = way_up.iter().filter(|segment| segment.kind.is_stop());
    stops.map(Segment::time).sum()
}

/// The levels that are left with too little.
fn level_facts(plan: &Plan, budget: &DiverBudget) -> Vec<Fact> {
    let only_level = budget.levels.len() == 1;
    let short = budget.levels.iter().filter(|level| !level.holds());
    short
        .map(|level| match plan.reserve().hang {
            Some(hang) if level.holds_without_hang => Fact::HangShort {
                hang,
                left: level.left,
                minimum: level.minimum_gas,
            },
            _ => Fact::ReserveBroken {
                depth: level.depth,
                leave: level.leave,
                only_level,
                left: level.left,
                minimum: level.minimum_gas,
            },
        })
        .collect()
}

fn team_facts(case: &Case<'_>) -> Vec<Fact> {
    let (plan, schedule) = (case.plan, case.schedule);
    let mut facts = oxygen_facts(case);
    for (gas, depth) in deepest_use_of_each_gas(schedule) {
        let density_g_l = gas_density_g_l(&plan.rules().environment, gas, depth);
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
    facts.extend(stop_facts(case));
    if let Some(swim) = plan.reserve().swim
        && plan.reserve().current_is_too_strong()
    {
        facts.push(Fact::CurrentTooStrong {
            current: swim.current,
            swim: swim.swim,
        });
    }
    if let Some(current) = plan.site().current
        && plan.reserve().swim.is_none()
        && plan.reserve().turn != TurnRule::All
        && current.as_m_min() > 0.0
        && !plan.divers().is_empty()
    {
        facts.push(Fact::CurrentNotInTurn { current });
    }
    let last = schedule.last_depth();
    if let Some(hang) = plan.reserve().hang
        && hang.depth.is_below(last)
    {
        facts.push(Fact::HangTooDeep { hang, last });
    }
    if plan.divers().is_empty() {
        facts.push(Fact::GasNotReckoned);
    }
    for gas in &plan.rules().decompression {
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

fn oxygen_facts(case: &Case<'_>) -> Vec<Fact> {
    let rules = case.plan.rules();
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
    for (gas, depth) in deepest_use_of_each_gas(case.schedule) {
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
    let cns_pct = case.oxygen.cns_pct;
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

fn diver_facts(case: &Case<'_>, index: usize, budget: &DiverBudget) -> Vec<Fact> {
    let plan = case.plan;
    let deepest = case.schedule.deepest();
    let mut facts = Vec::new();
    if let Some(limit) = plan.divers()[index].depth_limit
        && deepest.is_below(limit)
    {
        facts.push(Fact::DepthLimit { limit, deepest });
    }
    if budget.minimum_gas > budget.fill {
        facts.push(Fact::MinimumAboveFill {
            fill: budget.fill,
            minimum: budget.minimum_gas,
        });
    } else {
        facts.extend(level_facts(plan, budget));
    }
    if let Some(limits) = case.limits.get(index)
        && !limits.shorter_is_worse.is_empty()
    {
        facts.push(Fact::ShorterNeedsMore {
            bad: limits.shorter_is_worse.clone(),
            bottom_time: case.schedule.bottom_time,
        });
    }
    match budget.end {
        None => facts.push(Fact::GasRunsOut {
            planned_use: budget.planned_use,
            start: budget.start,
        }),
        Some(end) if end < plan.reserve().floor && budget.reserve_holds() => {
            facts.push(Fact::BackBelowFloor {
                end,
                floor: plan.reserve().floor,
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
    if plan.divers().len() == 1 {
        facts.push(Fact::Alone);
    }
    facts
}

/// What a finding is about, for those who look for a change that would help.
pub(crate) mod is_about {
    use super::Fact;

    /// The site, or a gas that cannot be breathed: no time and no depth helps.
    pub(crate) const fn site_or_gas(fact: &Fact) -> bool {
        matches!(
            fact,
            Fact::CurrentTooStrong { .. } | Fact::OxygenTooLow { .. } | Fact::StageMissing { .. }
        )
    }

    /// The depth alone: no time helps.
    pub(crate) const fn depth(fact: &Fact) -> bool {
        matches!(
            fact,
            Fact::OxygenOverLimit { .. } | Fact::DensityOverLimit { .. } | Fact::DepthLimit { .. }
        )
    }

    /// How much gas a diver has.
    pub(crate) const fn amount_of_gas(fact: &Fact) -> bool {
        matches!(
            fact,
            Fact::MinimumAboveFill { .. }
                | Fact::ReserveBroken { .. }
                | Fact::HangShort { .. }
                | Fact::GasRunsOut { .. }
        )
    }
}
