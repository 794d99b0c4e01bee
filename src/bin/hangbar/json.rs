//! A briefing as JSON: SI units, unrounded, the names fixed by the schema.

use hangbar::briefing::Briefing;
use hangbar::dive::{Segment, SegmentKind};
use hangbar::finding::Finding;
use hangbar::finding::Verdict;
use hangbar::gas::{DiverBudget, DiverLimits, PonyBudget, PonyVerdict};
use hangbar::gas::{LimitEnd, WorseBecause};
use hangbar::plan::Diver;
use hangbar::quantity::show::{Show, minutes_down, minutes_up};
use hangbar::quantity::{RunTime, UnitSystem};
use hangbar::tissue::Tissues;
use serde::Serialize;

use crate::trouble_json::{LateRow, LostGasRow};

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: Option<&'a str>,
    verdict: &'static str,
    environment: Environment,
    no_stop_limit_min: Option<f64>,
    staged: bool,
    anchor_m: Option<f64>,
    segments: Vec<SegmentRow>,
    run_time_min: f64,
    surfacing: Surfacing,
    tissues: Vec<TissueRow>,
    oxygen: Oxygen,
    start: StartRow,
    not_straight_up: Vec<NotStraightUpRow>,
    divers: Vec<DiverRow<'a>>,
    longest_go_min: Option<u32>,
    nearest_go: Option<NearestGoRow<'a>>,
    team: Team<'a>,
    surface: Surface<'a>,
    late: LateRow<'a>,
    lost_gas: Vec<LostGasRow<'a>>,
    findings: Vec<FindingRow>,
}

/// The team on leaving the surface.
#[derive(Serialize)]
struct StartRow {
    tissues: Vec<TissueRow>,
    cns_pct: f64,
    otu: f64,
}

/// Run times between which nobody may go straight up.
#[derive(Serialize)]
struct NotStraightUpRow {
    from_min: f64,
    to_min: f64,
    depth_m: f64,
}

/// Of a no-go plan: single changes that make it a go; null where none of a kind does.
#[derive(Serialize)]
struct NearestGoRow<'a> {
    bottom_time_min: Option<u32>,
    depth_m: Option<f64>,
    fills: Vec<FillRow<'a>>,
    cylinders: Vec<CylinderRow<'a>>,
}

#[derive(Serialize)]
struct FillRow<'a> {
    diver: &'a str,
    fill_bar: f64,
}

#[derive(Serialize)]
struct CylinderRow<'a> {
    diver: &'a str,
    inner_volume_l: f64,
    contents_l: f64,
}

#[derive(Serialize)]
struct Team<'a> {
    time_limited_by: Vec<&'a str>,
    gas_limited_by: Option<&'a str>,
    depth_limited_by: Option<&'a str>,
    depth_limit_m: Option<f64>,
    turn_share_pct: f64,
    hang: Option<HangRow>,
}

#[derive(Serialize)]
struct HangRow {
    depth_m: f64,
    time_min: f64,
}

#[derive(Serialize)]
struct Surface<'a> {
    splash: Option<String>,
    leave_bottom: TimeRow,
    first_stop: Option<TimeRow>,
    surface: TimeRow,
    overdue: TimeRow,
    drift_m: Option<f64>,
    drift_dive_m: Option<f64>,
    emergency: Option<&'a str>,
}

/// A run time, and the time of day where the splash is known: whole minutes, rounded toward
/// safety as on the screen.
#[derive(Serialize)]
struct TimeRow {
    run_time_min: f64,
    time_of_day: Option<String>,
}

#[derive(Serialize)]
struct StageRow {
    gas: String,
    need_l: f64,
    have_l: f64,
}

#[derive(Serialize)]
struct Environment {
    surface_bar: f64,
    bar_per_m: f64,
}

#[derive(Serialize)]
struct SegmentRow {
    kind: &'static str,
    from_m: f64,
    to_m: f64,
    start_min: f64,
    end_min: f64,
    gas: String,
}

#[derive(Serialize)]
struct Surfacing {
    gradient_pct: f64,
    compartment: usize,
}

#[derive(Serialize)]
struct TissueRow {
    n2_bar: f64,
    he_bar: f64,
}

#[derive(Serialize)]
struct Oxygen {
    max_po2_bar: f64,
    cns_pct: f64,
    otu: f64,
}

#[derive(Serialize)]
struct DiverRow<'a> {
    name: &'a str,
    no_stop_limit_min: Option<f64>,
    start_l: f64,
    planned_use_l: f64,
    end_bar: Option<f64>,
    reserve_l: f64,
    minimum_gas_bar: f64,
    turn_bar: f64,
    turn_min: Option<f64>,
    gas_limit_min: u32,
    gas_limit_ended_by: &'static str,
    gas_limit_because: Option<String>,
    shorter_needs_more: Vec<ShorterRow>,
    levels: Vec<LevelRow>,
    hang: Option<DiverHangRow>,
    pony: Option<PonyRow>,
    gauge: &'static str,
    buddy: Option<&'a str>,
    leaving_bar: Option<f64>,
    to_spare_l: f64,
    lighter_kg: f64,
    stages: Vec<StageRow>,
}

/// The end of a level.
#[derive(Serialize)]
struct LevelRow {
    depth_m: f64,
    leave_min: f64,
    reserve_l: f64,
    minimum_gas_bar: f64,
    left_bar: Option<f64>,
}

#[derive(Serialize)]
struct DiverHangRow {
    takes_l: f64,
    left_bar: Option<f64>,
}

/// Whole bottom times shorter than the planned one for which the gas is not enough.
#[derive(Serialize)]
struct ShorterRow {
    from_min: u32,
    to_min: u32,
    because: &'static str,
}

#[derive(Serialize)]
struct PonyRow {
    need_ascent_l: f64,
    need_full_l: f64,
    have_l: f64,
    verdict: &'static str,
    covers_until_min: u32,
}

/// A finding, as the briefing and the check both print it.
#[derive(Serialize)]
pub(crate) struct FindingRow {
    level: &'static str,
    code: &'static str,
    diver: Option<String>,
    message: String,
}

impl FindingRow {
    pub(crate) fn new(finding: &Finding, units: UnitSystem) -> Self {
        Self {
            level: finding.weight().word(),
            code: finding.code(),
            diver: finding.diver.clone(),
            message: finding.message(units),
        }
    }
}

/// The document, with a newline at its end.
pub(crate) fn render(briefing: &Briefing) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&document(briefing))?;
    text.push('\n');
    Ok(text)
}

fn document(briefing: &Briefing) -> Document<'_> {
    let environment = &briefing.plan.rules().environment;
    let schedule = &briefing.schedule;
    let units = briefing.plan.units();
    let findings = briefing.findings.iter();
    Document {
        schema: "hangbar/briefing/1",
        title: briefing.plan.title(),
        verdict: briefing.verdict().word(),
        environment: Environment {
            surface_bar: environment.surface().as_bar(),
            bar_per_m: environment.bar_per_m(),
        },
        no_stop_limit_min: briefing.no_stop_limit.time().map(|limit| limit.as_min()),
        staged: schedule.staged,
        anchor_m: schedule.anchor().map(|anchor| anchor.as_m()),
        segments: schedule.segments.iter().map(segment_row).collect(),
        run_time_min: schedule.run_time().as_min(),
        surfacing: Surfacing {
            gradient_pct: schedule.surfacing.fraction * 100.0,
            compartment: schedule.surfacing.index + 1,
        },
        tissues: tissue_rows(&schedule.tissues),
        oxygen: Oxygen {
            max_po2_bar: briefing.oxygen.max_po2_bar,
            cns_pct: briefing.oxygen.cns_pct,
            otu: briefing.oxygen.otu,
        },
        start: StartRow {
            tissues: tissue_rows(&Tissues::clean(environment.surface())),
            cns_pct: 0.0,
            otu: 0.0,
        },
        not_straight_up: briefing
            .not_straight_up
            .iter()
            .map(|stretch| NotStraightUpRow {
                from_min: stretch.from.as_min(),
                to_min: stretch.to.as_min(),
                depth_m: stretch.depth.as_m(),
            })
            .collect(),
        divers: briefing
            .divers
            .iter()
            .zip(&briefing.limits)
            .zip(briefing.plan.divers())
            .map(|(budget, diver)| diver_row(briefing, budget, diver))
            .collect(),
        longest_go_min: briefing.longest_go.as_ref().map(|longest| longest.minutes),
        nearest_go: (briefing.verdict() == Verdict::NoGo).then(|| nearest_go(briefing)),
        team: team(briefing),
        surface: surface(briefing),
        late: LateRow::new(&briefing.late),
        lost_gas: briefing.lost_gas.iter().map(LostGasRow::new).collect(),
        findings: findings
            .map(|finding| FindingRow::new(finding, units))
            .collect(),
    }
}

fn tissue_rows(tissues: &Tissues) -> Vec<TissueRow> {
    let rows = tissues.loadings().iter().map(|loading| TissueRow {
        n2_bar: loading.n2_bar,
        he_bar: loading.he_bar,
    });
    rows.collect()
}

fn nearest_go(briefing: &Briefing) -> NearestGoRow<'_> {
    let nearest = &briefing.nearest_go;
    let fills = nearest.fills.iter().map(|(name, fill)| FillRow {
        diver: name,
        fill_bar: fill.as_bar(),
    });
    let cylinders = nearest
        .cylinders
        .iter()
        .map(|(name, water, contents)| CylinderRow {
            diver: name,
            inner_volume_l: water.as_l(),
            contents_l: contents.as_l(),
        });
    NearestGoRow {
        bottom_time_min: nearest.bottom_time_min,
        depth_m: nearest.depth.map(|depth| depth.as_m()),
        fills: fills.collect(),
        cylinders: cylinders.collect(),
    }
}

fn segment_row(segment: &Segment) -> SegmentRow {
    SegmentRow {
        kind: match segment.kind {
            SegmentKind::Descent => "descent",
            SegmentKind::Level => "level",
            SegmentKind::Ascent => "ascent",
            SegmentKind::Stop => "stop",
            SegmentKind::SafetyStop => "safety-stop",
            SegmentKind::Switch => "switch",
        },
        from_m: segment.from.as_m(),
        to_m: segment.to.as_m(),
        start_min: segment.start.as_min(),
        end_min: segment.end.as_min(),
        gas: segment.gas.to_string(),
    }
}

fn team(briefing: &Briefing) -> Team<'_> {
    let limiting = briefing.limiting_divers();
    let depth = briefing.depth_limit();
    let reserve = briefing.plan.reserve();
    Team {
        time_limited_by: limiting.iter().map(|diver| diver.name.as_str()).collect(),
        gas_limited_by: briefing.least_to_spare().map(|diver| diver.name.as_str()),
        depth_limited_by: depth.map(|(name, _)| name),
        depth_limit_m: depth.map(|(_, limit)| limit.as_m()),
        turn_share_pct: reserve.turn_share() * 100.0,
        hang: reserve.hang.map(|hang| HangRow {
            depth_m: hang.depth.as_m(),
            time_min: hang.time.as_min(),
        }),
    }
}

fn surface(briefing: &Briefing) -> Surface<'_> {
    let (plan, schedule) = (&briefing.plan, &briefing.schedule);
    let row = |time: RunTime, shown: fn(RunTime) -> f64| TimeRow {
        run_time_min: time.as_min(),
        time_of_day: plan.time_of_day(shown(time)).map(|time| time.to_string()),
    };
    let first_stop = schedule.pauses().next();
    Surface {
        splash: plan.splash().map(|splash| splash.to_string()),
        leave_bottom: row(schedule.leave_bottom(), minutes_down),
        first_stop: first_stop.map(|stop| row(stop.start, minutes_down)),
        surface: row(schedule.run_time(), minutes_up),
        overdue: row(
            schedule.run_time() + plan.surface().overdue_after,
            minutes_up,
        ),
        drift_m: briefing.drift().map(|drift| drift.way_up_m),
        drift_dive_m: briefing.drift().map(|drift| drift.whole_dive_m),
        emergency: plan.surface().emergency.as_deref(),
    }
}

fn diver_row<'a>(
    briefing: &Briefing,
    (budget, limits): (&'a DiverBudget, &DiverLimits),
    diver: &'a Diver,
) -> DiverRow<'a> {
    let levels = budget.levels.iter().map(|level| LevelRow {
        depth_m: level.depth.as_m(),
        leave_min: level.leave.as_min(),
        reserve_l: level.reserve.as_l(),
        minimum_gas_bar: level.minimum_gas.as_bar(),
        left_bar: level.left.map(|left| left.as_bar()),
    });
    let shorter = limits.shorter_is_worse.iter().map(|run| ShorterRow {
        from_min: run.from_min,
        to_min: run.to_min,
        because: match run.cause {
            WorseBecause::NoSwitch(_) => "no-switch",
            WorseBecause::WholeMinutes => "whole-minutes",
            WorseBecause::Schedule(_) => "schedule",
        },
    });
    let (ended_by, because) = match limits.gas_limit.ended_by {
        LimitEnd::Gas { .. } => ("gas", None),
        LimitEnd::Schedule { cause, .. } => ("schedule", Some(cause.to_string())),
        LimitEnd::Bound => ("bound", None),
    };
    let leaving = budget.leaving();
    let stages = budget.stages.iter().map(|stage| StageRow {
        gas: stage.gas.to_string(),
        need_l: stage.need.as_l(),
        have_l: stage.have.as_l(),
    });
    DiverRow {
        name: &budget.name,
        no_stop_limit_min: briefing.no_stop_limit.time().map(|limit| limit.as_min()),
        start_l: budget.start.as_l(),
        planned_use_l: budget.planned_use.as_l(),
        end_bar: budget.end.map(|end| end.as_bar()),
        reserve_l: budget.reserve.as_l(),
        minimum_gas_bar: budget.minimum_gas.as_bar(),
        turn_bar: budget.turn.as_bar(),
        turn_min: budget.turn_due.map(|due| due.as_min()),
        gas_limit_min: limits.gas_limit.minutes,
        gas_limit_ended_by: ended_by,
        gas_limit_because: because,
        shorter_needs_more: shorter.collect(),
        levels: levels.collect(),
        hang: budget.hang.map(|hang| DiverHangRow {
            takes_l: hang.takes.as_l(),
            left_bar: hang.left.map(|left| left.as_bar()),
        }),
        pony: budget.pony.as_ref().map(|pony| pony_row(pony, limits)),
        gauge: Show(diver.gauge.unwrap_or(briefing.plan.units())).pressure_unit(),
        buddy: diver.buddy.as_deref(),
        leaving_bar: leaving
            .and_then(|level| level.left)
            .map(|left| left.as_bar()),
        to_spare_l: leaving.map_or(0.0, |level| level.to_spare.as_l()),
        lighter_kg: budget.lighter.as_kg(),
        stages: stages.collect(),
    }
}

fn pony_row(pony: &PonyBudget, limits: &DiverLimits) -> PonyRow {
    PonyRow {
        need_ascent_l: pony.need_ascent.as_l(),
        need_full_l: pony.need_full.as_l(),
        have_l: pony.have.as_l(),
        verdict: pony_word(pony.verdict),
        covers_until_min: limits.pony_covers_until.map_or(0, |limit| limit.minutes),
    }
}

pub(crate) const fn pony_word(verdict: PonyVerdict) -> &'static str {
    match verdict {
        PonyVerdict::CoversAll => "covers-all",
        PonyVerdict::CoversAscentOnly => "covers-ascent-only",
        PonyVerdict::Short => "short",
    }
}
