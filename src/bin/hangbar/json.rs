//! A briefing as JSON: SI units, unrounded, the names fixed by the schema.

use hangbar::briefing::Briefing;
use hangbar::finding::Finding;
use hangbar::gas_budget::{DiverBudget, PonyBudget, PonyVerdict};
use hangbar::schedule::{Segment, SegmentKind};
use hangbar::units::UnitSystem;
use serde::Serialize;

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    environment: Environment,
    no_stop_limit_min: Option<f64>,
    staged: bool,
    anchor_m: Option<f64>,
    segments: Vec<SegmentRow>,
    run_time_min: f64,
    surfacing: Surfacing,
    tissues: Vec<TissueRow>,
    oxygen: Oxygen,
    divers: Vec<DiverRow<'a>>,
    findings: Vec<FindingRow>,
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
    start_l: f64,
    planned_use_l: f64,
    end_bar: Option<f64>,
    reserve_l: f64,
    minimum_gas_bar: f64,
    turn_bar: f64,
    turn_min: Option<f64>,
    gas_limit_min: u32,
    pony: Option<PonyRow>,
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
    let environment = &briefing.plan.rules.environment;
    let schedule = &briefing.schedule;
    let units = briefing.plan.units;
    let findings = briefing.findings.iter();
    Document {
        schema: "hangbar/briefing/1",
        environment: Environment {
            surface_bar: environment.surface().as_bar(),
            bar_per_m: environment.bar_per_m(),
        },
        no_stop_limit_min: briefing.no_stop_limit.map(|limit| limit.as_min()),
        staged: schedule.staged,
        anchor_m: schedule.anchor.map(|anchor| anchor.as_m()),
        segments: schedule.segments.iter().map(segment_row).collect(),
        run_time_min: schedule.run_time().as_min(),
        surfacing: Surfacing {
            gradient_pct: schedule.surfacing.fraction * 100.0,
            compartment: schedule.surfacing.index + 1,
        },
        tissues: schedule
            .tissues
            .loadings()
            .iter()
            .map(|loading| TissueRow {
                n2_bar: loading.n2_bar,
                he_bar: loading.he_bar,
            })
            .collect(),
        oxygen: Oxygen {
            max_po2_bar: briefing.oxygen.max_po2_bar,
            cns_pct: briefing.oxygen.cns_pct,
            otu: briefing.oxygen.otu,
        },
        divers: briefing.divers.iter().map(diver_row).collect(),
        findings: findings
            .map(|finding| FindingRow::new(finding, units))
            .collect(),
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

fn diver_row(diver: &DiverBudget) -> DiverRow<'_> {
    DiverRow {
        name: &diver.name,
        start_l: diver.start.as_l(),
        planned_use_l: diver.planned_use.as_l(),
        end_bar: diver.end.map(|end| end.as_bar()),
        reserve_l: diver.reserve.as_l(),
        minimum_gas_bar: diver.minimum_gas.as_bar(),
        turn_bar: diver.turn.as_bar(),
        turn_min: diver.turn_due.map(|due| due.as_min()),
        gas_limit_min: diver.gas_limit_min,
        pony: diver.pony.as_ref().map(pony_row),
    }
}

fn pony_row(pony: &PonyBudget) -> PonyRow {
    PonyRow {
        need_ascent_l: pony.need_ascent.as_l(),
        need_full_l: pony.need_full.as_l(),
        have_l: pony.have.as_l(),
        verdict: match pony.verdict {
            PonyVerdict::CoversAll => "covers-all",
            PonyVerdict::CoversAscentOnly => "covers-ascent-only",
            PonyVerdict::Short => "short",
        },
        covers_until_min: pony.covers_until_min,
    }
}
