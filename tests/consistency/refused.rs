//! A change that makes a dive which no plan may ask for is no row of a what-if, but says why.

use hangbar::plan_file;
use hangbar::quantity::{DepthChange, Time, UnitSystem};
use hangbar::report::{self, Change, document};
use hangbar::whatif::Deviation;

use crate::cases::briefed;
use crate::screen::Screen;

fn plan(depth: &str, bottom_time: &str, sac: &str) -> String {
    format!(
        "[profile]\ndepth = \"{depth}\"\nbottom_time = \"{bottom_time}\"\n[gas]\nbottom = \"10/70\"\n\
         [[diver]]\nname = \"Oda\"\nsac = \"{sac}\"\n\
         cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n"
    )
}

/// What the what-if of a plan says of a change: why there is no row, nothing where there is one.
fn refusal(plan: &str, deviation: Deviation) -> Option<String> {
    let briefing = briefed(plan).unwrap();
    let changes = [Change::of(&briefing.plan, deviation)];
    let planned = briefing.outcome();
    let document = document::WhatIf::new(&briefing, &planned, &changes).unwrap();
    let row = &document.changes[0];
    assert_ne!(row.outcome.is_some(), row.error.is_some());
    if let Some(error) = &row.error {
        let screen = report::what_if(&briefing, &planned, &changes, UnitSystem::Metric);
        let screen = Screen::of(&screen);
        assert!(
            screen.has(&format!(": not worked out: {error}.")),
            "{error}"
        );
    }
    row.error.clone()
}

#[test]
fn a_change_may_go_to_the_end_of_what_is_accepted_and_no_further() {
    let deeper = |metres| Deviation::deeper(DepthChange::from_m(metres));
    let late = |minutes| Deviation::late(Time::from_min(minutes));
    let harder = Deviation::harder;
    let plan = |depth, time| plan(depth, time, "60 L/min");
    let depth = "accepted: 0.3 m to 200 m";
    let rate = "accepted: 2 L/min to 150 L/min";
    // The most that is taken, and what is too much.
    for (plan, taken, refused, why) in [
        (plan("198 m", "20 min"), deeper(2.0), deeper(2.1), depth),
        (
            plan("9 m", "1435 min"),
            late(5.0),
            late(5.5),
            "accepted: 0 min to 1440 min",
        ),
        (plan("9 m", "20 min"), harder(150.0), harder(151.0), rate),
    ] {
        assert_eq!(refusal(&plan, taken), None);
        let said = refusal(&plan, refused).unwrap_or_default();
        assert!(said.contains(why), "{said}");
    }
}

#[test]
fn all_levels_together_last_no_longer_than_a_plan_may_with_a_change_too() {
    let level = "[[profile.level]]\ndepth = \"6 m\"\ntime = ";
    let plan = format!("[profile]\n{level}\"1440 min\"\n{level}\"1430 min\"\n");
    let late = |minutes| Deviation::late(Time::from_min(minutes));
    assert_eq!(refusal(&plan, late(10.0)), None);
    // One level too long, both of them too long together.
    let shorter = plan.replace("1430", "1425");
    assert!(refusal(&shorter, late(20.0)).is_some_and(|why| why.contains("time of a level")));
    let three = format!("{plan}{level}\"6 min\"\n");
    let said = refusal(&three, late(10.0)).unwrap_or_default();
    assert!(said.contains("the bottom time is 2886 min"), "{said}");
    // The plan file says the same of them.
    assert!(plan_file::read(&three.replace("\"6 min\"", "\"16 min\"")).is_err());
}
