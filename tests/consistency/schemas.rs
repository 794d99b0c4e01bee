//! Every plan is valid by the schema of plans, in either units, and so is each of its documents: a schema
//! asks for nothing that the reader does not.

use hangbar::explain::explain;
use hangbar::quantity::Time;
use hangbar::report::document::{Briefing, Explain, Trace};
use hangbar::report::{CompartmentChoice, SchemaOf, TracedDive};
use serde_json::Value;

use crate::cases::{Wrong, each};
use crate::json_schema::faults;

fn hold(of: SchemaOf, schema: &Value, value: &Value, wrong: &mut Wrong) {
    let faults = faults(schema, value);
    wrong.extend(faults.into_iter().map(|fault| format!("{of:?} {fault}")));
}

#[test]
fn every_plan_and_its_documents_are_valid_by_their_schemas() {
    let known = [
        SchemaOf::Plan,
        SchemaOf::Briefing,
        SchemaOf::Trace,
        SchemaOf::Explain,
    ];
    let [plan, briefing, trace, explained] = known.map(SchemaOf::schema);
    each("schemas", 40, |case, _, wrong| {
        for text in [case.drawn.metric(), case.drawn.imperial()] {
            let table: toml::Table = text.parse().unwrap();
            let value = serde_json::to_value(table).unwrap();
            hold(SchemaOf::Plan, &plan, &value, wrong);
        }
        let document = Briefing::try_from(&case.briefing).unwrap();
        let document = serde_json::to_value(document).unwrap();
        hold(SchemaOf::Briefing, &briefing, &document, wrong);
        let step = Time::from_min(60.0);
        if let Ok(dive) = TracedDive::new(&case.briefing, step, CompartmentChoice::usual()) {
            let document = Trace::new(&case.briefing, dive.samples()).unwrap();
            let document = serde_json::to_value(document).unwrap();
            hold(SchemaOf::Trace, &trace, &document, wrong);
        }
        let units = case.briefing.plan.units();
        let explanations = explain(&case.briefing, &[], units).unwrap();
        let document = Explain::new(&case.briefing, &explanations).unwrap();
        let document = serde_json::to_value(document).unwrap();
        hold(SchemaOf::Explain, &explained, &document, wrong);
        5
    });
}
