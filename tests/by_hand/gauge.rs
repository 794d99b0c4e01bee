//! What the gauge of a main cylinder shows through a dive.

use approx::assert_abs_diff_eq;
use hangbar::briefing::Briefing;

use crate::pencil::{BAR, MINUTES, briefed};

/// Run times and pressures of Ada's gauge.
fn ada_s_gauge(briefing: &Briefing) -> Vec<(f64, f64)> {
    let gauge = briefing.cylinder_over_time(0).into_iter();
    gauge
        .map(|(time, pressure)| (time.as_min(), pressure.as_bar()))
        .collect()
}

fn shows(gauge: &[(f64, f64)], at: f64, want: f64) {
    let point = gauge.iter().find(|(time, _)| (time - at).abs() < MINUTES);
    let &(_, pressure) = point.unwrap();
    assert_abs_diff_eq!(pressure, want, epsilon = BAR);
}

#[test]
fn a_gauge_falls_by_what_is_breathed_all_along_the_dive() {
    // 15/12 of what the table of the pencil dive has: 1.25 · 1.91325 on the way down; 55.365 to
    // leaving the bottom; half of the way to 5 m, 13/18 min from 2.81325 to 2.16325 bar, 1.797069
    // more; 63.0294444 to the end of the stop; 63.73125 in all.
    let gauge = ada_s_gauge(&briefed(&[]));
    shows(&gauge, 0.0, 200.0);
    shows(&gauge, 1.0, 197.6084);
    shows(&gauge, 20.0, 130.7938);
    shows(&gauge, 20.0 + 13.0 / 18.0, 128.5474);
    shows(&gauge, 24.0 + 4.0 / 9.0, 121.2132);
    shows(&gauge, 25.0, 120.3359);
    // the splash, 1 down, 19 along, 2 up, 3 of the stop, 1 up
    assert_eq!(gauge.len(), 27, "{gauge:?}");
    let falls = |pair: &[(f64, f64)]| pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1;
    assert!(gauge.windows(2).all(falls), "{gauge:?}");
}

#[test]
fn a_gauge_that_comes_to_nothing_says_when_and_no_more() {
    // 3 L at 200 bar are 600 bar·L: 15 · 1.91325 go on the way down, then 15 · 2.81325 = 42.19875 a
    // minute: 22.7175 are left at 14 min, for 0.538345 min.
    let small = (
        "cylinder = { size = \"12 L\", fill = \"200 bar\" }",
        "cylinder = { size = \"3 L\", fill = \"200 bar\" }",
    );
    let gauge = ada_s_gauge(&briefed(&[small]));
    shows(&gauge, 14.0, 7.5725);
    shows(&gauge, 14.538345, 0.0);
    assert_eq!(gauge.len(), 16, "{gauge:?}");
}

#[test]
fn a_gauge_rests_while_a_stage_is_breathed() {
    // 24 L: 15/24 · (1.91325 + 79 · 2.81325) = 140.1 bar to leaving the bottom after 80 min, then
    // from 18 to 15 m, 1/3 min at 2.66325 bar, 0.5548; the rest is EAN50.
    let briefing = briefed(&[
        ("bottom_time = \"20 min\"", "bottom_time = \"80 min\""),
        (
            "[model]",
            "[gas]\nbottom = \"air\"\ndecompression = [\"EAN50\"]\n[model]",
        ),
        (
            "cylinder = { size = \"12 L\", fill = \"200 bar\" }",
            "cylinder = { size = \"24 L\", fill = \"200 bar\" }\n\
             stage = [{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }]",
        ),
    ]);
    let gauge = ada_s_gauge(&briefing);
    shows(&gauge, 80.0, 59.9);
    let way_up: Vec<f64> = gauge
        .iter()
        .filter(|(time, _)| *time > 80.0 + MINUTES)
        .map(|&(_, pressure)| pressure)
        .collect();
    assert!(way_up.len() > 5, "{gauge:?}");
    for pressure in way_up {
        assert_abs_diff_eq!(pressure, 59.3452, epsilon = BAR);
    }
}

#[test]
fn nobody_else_has_a_gauge() {
    assert!(briefed(&[]).cylinder_over_time(2).is_empty());
}
