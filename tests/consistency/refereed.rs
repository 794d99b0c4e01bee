//! The second engine agrees with the briefing of every plan.

use hangbar::referee::examine;

use crate::cases::each;

#[test]
fn the_referee_has_no_objection_to_any_briefing() {
    each("refereed", 40, |case, _, wrong| {
        if let Err(objection) = examine(&case.briefing.evidence()) {
            wrong.push(objection.to_string());
        }
        1
    });
}
