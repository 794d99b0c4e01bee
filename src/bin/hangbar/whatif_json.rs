//! A what-if as JSON: SI units, unrounded.

use hangbar::briefing::Briefing;
use hangbar::report::Change;
use hangbar::whatif::{Deviation, DiverOutcome, Ending, Outcome};
use serde::Serialize;

use crate::json::pony_word;
use crate::trouble_json::{LateRow, LostGasRow};

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: Option<&'a str>,
    verdict: &'static str,
    planned: OutcomeRow<'a>,
    changes: Vec<ChangeRow<'a>>,
    late: LateRow<'a>,
    lost_gas: Vec<LostGasRow<'a>>,
}

#[derive(Serialize)]
struct ChangeRow<'a> {
    late_min: f64,
    deeper_m: f64,
    harder_pct: f64,
    outcome: Option<OutcomeRow<'a>>,
    error: Option<String>,
}

#[derive(Serialize)]
struct OutcomeRow<'a> {
    verdict: &'static str,
    no_gos: Vec<NoGoRow<'a>>,
    no_stop: bool,
    first_stop_m: Option<f64>,
    stop_time_min: f64,
    run_time_min: f64,
    divers: Vec<DiverRow<'a>>,
}

/// Why a change is a no-go: code and diver; its message is in the briefing of that dive.
#[derive(Serialize)]
struct NoGoRow<'a> {
    code: &'static str,
    diver: Option<&'a str>,
}

#[derive(Serialize)]
struct DiverRow<'a> {
    name: &'a str,
    reserve_holds: bool,
    end_bar: Option<f64>,
    empty_min: Option<f64>,
    empty_m: Option<f64>,
    pony: Option<&'static str>,
}

pub(crate) fn render(
    briefing: &Briefing,
    planned: &Outcome,
    rows: &[Change],
) -> Result<String, serde_json::Error> {
    let document = Document {
        schema: "hangbar/what-if/1",
        title: briefing.plan.title(),
        verdict: briefing.verdict().word(),
        planned: outcome_row(planned),
        changes: rows.iter().map(change_row).collect(),
        late: LateRow::new(&briefing.late),
        lost_gas: briefing.lost_gas.iter().map(LostGasRow::new).collect(),
    };
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}

fn change_row(row: &Change) -> ChangeRow<'_> {
    let Deviation {
        late,
        deeper,
        harder_pct,
    } = row.deviation;
    ChangeRow {
        late_min: late.as_min(),
        deeper_m: deeper.as_m(),
        harder_pct,
        outcome: row.outcome.as_ref().ok().map(outcome_row),
        error: row.outcome.as_ref().err().map(ToString::to_string),
    }
}

fn outcome_row(outcome: &Outcome) -> OutcomeRow<'_> {
    let no_gos = outcome.no_gos.iter().map(|finding| NoGoRow {
        code: finding.code(),
        diver: finding.diver.as_deref(),
    });
    OutcomeRow {
        verdict: outcome.verdict.word(),
        no_gos: no_gos.collect(),
        no_stop: outcome.no_stop,
        first_stop_m: outcome.first_stop.map(|depth| depth.as_m()),
        stop_time_min: outcome.stop_time.as_min(),
        run_time_min: outcome.run_time.as_min(),
        divers: outcome.divers.iter().map(diver_row).collect(),
    }
}

fn diver_row(diver: &DiverOutcome) -> DiverRow<'_> {
    let row = DiverRow {
        name: &diver.name,
        reserve_holds: diver.reserve_holds,
        end_bar: None,
        empty_min: None,
        empty_m: None,
        pony: diver.pony.map(pony_word),
    };
    match diver.ending {
        Ending::Left(left) => DiverRow {
            end_bar: Some(left.as_bar()),
            ..row
        },
        Ending::Empty { run_time, depth } => DiverRow {
            empty_min: Some(run_time.as_min()),
            empty_m: Some(depth.as_m()),
            ..row
        },
    }
}
