//! Everything that is worked out from a plan, and what must hold of it.

use hangbar::briefing::{Briefing, BriefingError, brief};
use hangbar::explain::{Topic, explain};
use hangbar::plan::Plan;
use hangbar::plan_file::{self, NextPlan, Overrides, next_plan, pencil_form, read};
use hangbar::quantity::{Time, UnitSystem};
use hangbar::report::chart::{self, TraceChart};
use hangbar::report::{self, Change, ChangesAsked, CompartmentChoice, TracedDive, document};

use crate::checks;

/// A team that is no larger has its what-ifs, traces and explanations looked at too.
const SMALL: usize = 4;

/// The plan of a text; `None` where it is refused as it must be.
#[must_use]
pub fn plan(text: &str) -> Option<Plan> {
    match read(text) {
        Ok(plan) => Some(plan),
        Err(errors) => {
            checks::refusals(text, &errors);
            None
        }
    }
}

/// The briefing of a plan; `None` where it has no way up. A failed check of its own is a crash.
#[must_use]
pub fn briefing(plan: Plan) -> Option<Briefing> {
    match brief(plan) {
        Ok(briefing) => Some(briefing),
        Err(BriefingError::Check(check)) => panic!("an internal check failed: {check}"),
        Err(error) => {
            checks::shown(&error.to_string());
            None
        }
    }
}

/// Every screen, document and picture of a briefing.
pub fn look_at(briefing: &Briefing, text: &str) {
    let json = checks::document(document::Briefing::try_from(briefing));
    checks::shown(&json);
    for units in [UnitSystem::Metric, UnitSystem::Imperial] {
        screen(&report::brief(briefing, units), text);
        screen(&report::short(briefing, units), text);
    }
    let form = pencil_form(&briefing.plan);
    checks::shown(&form);
    if briefing.plan.divers().len() <= SMALL {
        look_closely(briefing, text);
    }
}

fn screen(report: &report::Report, names: &str) {
    for width in [40, 80] {
        let text = crate::screen(report, width);
        checks::screen(&text, width);
        checks::figures(&text, names);
    }
}

fn look_closely(briefing: &Briefing, text: &str) {
    let units = briefing.plan.units();
    let asked = ChangesAsked {
        late: Vec::new(),
        deeper: Vec::new(),
        harder_pct: Vec::new(),
    };
    let deviations = asked.deviations(units).expect("the usual ones");
    let changes: Vec<Change> = deviations
        .into_iter()
        .map(|one| Change::of(&briefing.plan, one))
        .collect();
    let planned = briefing.outcome();
    screen(&report::what_if(briefing, &planned, &changes, units), text);
    checks::shown(&checks::document(document::WhatIf::new(
        briefing, &planned, &changes,
    )));

    // A sample every so often: no more than some hundred of a long dive.
    let step = (briefing.schedule.run_time().as_min() / 100.0).clamp(0.5, 60.0);
    let dive = TracedDive::new(
        briefing,
        Time::from_min(step.ceil()),
        CompartmentChoice::usual(),
    )
    .expect("a step in its range");
    screen(&report::trace(&dive, units), text);
    checks::document(document::Trace::new(briefing, dive.samples()));
    picture(&chart::trace(&dive, TraceChart::Profile, units), text);
    picture(&chart::cylinders(briefing, units), text);

    let mut topics = vec![Topic::Limit, Topic::Flying];
    topics.extend((!briefing.rests.is_empty()).then_some(Topic::Interval));
    topics.extend(
        briefing
            .divers
            .iter()
            .map(|diver| Topic::Gas(diver.name.clone())),
    );
    match explain(briefing, &topics, units) {
        Ok(explanations) => {
            // An equation has a minus before a number that may be 0.
            let names = format!("{text} -0");
            screen(&report::explain(briefing, &explanations, units), &names);
            checks::shown(&checks::document(document::Explain::new(
                briefing,
                &explanations,
            )));
        }
        Err(error) => checks::shown(&error.to_string()),
    }
}

/// A picture that is XML without characters that it may not have.
pub fn picture(chart: &chart::Chart, names: &str) {
    let svg = crate::picture_of(chart);
    checks::shown(&svg);
    checks::figures(&svg, names);
    checks::shown(&crate::characters_of(chart));
}

/// The plan in other forms of its text: as a TOML writer has it, and written again for a next dive
/// of which nobody says anything. Both must give the same briefing.
pub fn written_again(text: &str, briefing: &Briefing) {
    let table: toml::Table = text
        .strip_prefix('\u{feff}')
        .unwrap_or(text)
        .parse()
        .expect("an accepted plan is TOML");
    let written = toml::to_string(&table).expect("a plan can be written");
    let again = match plan_file::read_with(&written, &Overrides::default()) {
        Ok(plan) => plan,
        Err(errors) => panic!("{}\nof {written}", errors.render("plan.toml")),
    };
    let again = brief(again).expect("as before");
    same(briefing, &again, &written);
    if briefing.plan.splash().is_none() {
        let next = next_plan(text, &NextPlan::new(Vec::new(), Vec::new(), None))
            .expect("nothing to change");
        assert_eq!(next, text, "nothing was asked for");
    }
}

fn same(one: &Briefing, other: &Briefing, text: &str) {
    let json = |briefing| checks::document(document::Briefing::try_from(briefing));
    assert_eq!(json(one), json(other), "another briefing by {text}");
}
