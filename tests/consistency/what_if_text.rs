//! Every figure on the screen of a what-if is the one of its document, rounded toward safety.

use hangbar::briefing::Briefing;
use hangbar::quantity::UnitSystem;
use hangbar::report::{self, Change, document};
use hangbar::whatif::Deviation;

use crate::cases::{Wrong, each};
use crate::screen::{Check, Screen, cell, number, quantity};

/// The plan and its changes, as the rows of the tables have them.
fn outcomes(doc: &document::WhatIf) -> impl Iterator<Item = Option<&document::Outcome>> {
    let changes = doc.changes.iter().map(|change| change.outcome.as_ref());
    std::iter::once(Some(&doc.planned)).chain(changes)
}

fn dives(check: &mut Check<'_>, screen: &Screen, doc: &document::WhatIf) {
    let Some(table) = screen.table("The dive") else {
        check.that(false, || "no table of dives".to_owned());
        return;
    };
    check.that(table.rows.len() == doc.changes.len() + 1, || {
        "rows of dives".to_owned()
    });
    for (row, outcome) in table.rows.iter().zip(outcomes(doc)) {
        let at = |heading: &str| cell(table, row, heading);
        let verdict = at("verdict, why");
        let Some(outcome) = outcome else {
            check.that(
                at("kind") == "unknown" && verdict.starts_with("NO-GO"),
                || row.join(", "),
            );
            continue;
        };
        let kind = if outcome.no_stop { "no-stop" } else { "staged" };
        check.that(at("kind").starts_with(kind), || row.join(", "));
        match outcome.first_stop_m {
            Some(metres) => check.depth("first stop", at("first stop"), metres, true),
            None => check.that(at("first stop") == "none", || row.join(", ")),
        }
        check.next(
            "stops",
            number(at("stops")).0,
            outcome.stop_time_min,
            1.0,
            true,
        );
        check.next("up", number(at("up at")).0, outcome.run_time_min, 1.0, true);
        let no_go = outcome.verdict == document::Verdict::NoGo;
        check.that(verdict.starts_with("NO-GO") == no_go, || row.join(", "));
        check.that(no_go != outcome.no_gos.is_empty(), || row.join(", "));
    }
}

fn divers(check: &mut Check<'_>, screen: &Screen, doc: &document::WhatIf, psi: &[bool]) {
    for (index, planned) in doc.planned.divers.iter().enumerate() {
        let name = &planned.name;
        let Some(table) = screen.table(&format!("{name}, ")) else {
            check.that(false, || format!("no table of {name}"));
            continue;
        };
        for (row, outcome) in table.rows.iter().zip(outcomes(doc).flatten()) {
            let diver = &outcome.divers[index];
            let at = |heading: &str| cell(table, row, heading);
            let reserve = if diver.reserve_holds { "holds" } else { "GONE" };
            check.that(at("reserve").starts_with(reserve), || {
                format!("{name}: {row:?}")
            });
            let back = at("back aboard");
            match (diver.end_bar, diver.empty_min.zip(diver.empty_m)) {
                (Some(bar), _) => {
                    check.pressure(name, quantity(back), bar, psi[index], false);
                }
                (None, Some((minutes, metres))) => {
                    let minute = back.strip_prefix("EMPTY at minute ").unwrap_or_default();
                    let (minute, depth) = number(minute);
                    check.next(name, minute, minutes, 1.0, false);
                    check.depth(name, quantity(depth.trim_start_matches(", ")), metres, true);
                }
                (None, None) => check.that(false, || format!("{name} has no end")),
            }
        }
    }
}

fn screen(briefing: &Briefing, changes: &[Change], units: UnitSystem, wrong: &mut Wrong) -> u64 {
    let planned = briefing.outcome();
    let doc = document::WhatIf::new(briefing, &planned, changes).unwrap();
    let screen = Screen::of(&report::what_if(briefing, &planned, changes, units));
    let mut check = Check {
        units,
        wrong,
        count: 0,
    };
    dives(&mut check, &screen, &doc);
    let of = |diver: &hangbar::gas::DiverBudget| diver.gauge == Some(UnitSystem::Imperial);
    let psi: Vec<bool> = briefing.divers.iter().map(of).collect();
    divers(&mut check, &screen, &doc, &psi);
    check.count
}

#[test]
fn every_figure_of_a_what_if_is_the_document_s_rounded_toward_safety() {
    each("what-if text", 20, |case, _, wrong| {
        let briefing = &case.briefing;
        let plan = &briefing.plan;
        let usual = Deviation::usual(plan.units()).into_iter();
        let changes: Vec<Change> = usual.map(|one| Change::of(plan, one)).collect();
        let metric = screen(briefing, &changes, UnitSystem::Metric, wrong);
        metric + screen(briefing, &changes, UnitSystem::Imperial, wrong)
    });
}
