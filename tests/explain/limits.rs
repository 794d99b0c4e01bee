//! The no-stop limit against the briefing.

use hangbar::quantity::Time;
use hangbar::quantity::show::minutes_down;

use crate::document::{CLOSING, briefing_of, last, rows_of};
use crate::plans::every_plan;

#[test]
fn the_limit_explained_is_the_limit_briefed() {
    let (mut found, mut none, mut touched) = (0, 0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let rows = rows_of(&plan);
        let row = rows
            .iter()
            .find(|row| row.topic == "no-stop-limit")
            .unwrap();
        match briefing.no_stop_limit.time() {
            Some(limit) if limit.as_min() > 0.0 => {
                let printed = last(row, "t_limit").unwrap();
                assert!(
                    (printed - limit.as_min()).abs() <= CLOSING,
                    "{name}: {printed}"
                );
                let whole = minutes_down(Time::from_min(printed));
                assert!((whole - minutes_down(limit)).abs() < 0.5, "{name}");
                assert!(
                    row.title.contains(&format!(": {whole} minute")),
                    "{}",
                    row.title
                );
                found += 1;
            }
            Some(_) => {
                assert!(last(row, "x").unwrap() > 0.0, "{name}");
                assert!(row.title.ends_with(": 0 minutes"));
                touched += 1;
            }
            None => {
                let past = last(row, "t_limit").is_some_and(|limit| limit > 999.0);
                let never = last(row, "x").is_some_and(|over| over <= 0.0);
                assert!(past || never, "{name}");
                assert!(row.title.ends_with(": none within 999 minutes"));
                none += 1;
            }
        }
    }
    assert!(
        found >= 10 && none >= 3 && touched >= 2,
        "{found} {none} {touched}"
    );
}
