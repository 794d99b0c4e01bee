//! Times of day.

use hangbar::plan::TimeOfDay;

#[test]
fn a_time_of_day_goes_on_past_midnight() {
    let splash = TimeOfDay::new(23, 50).unwrap();
    for (minutes, want) in [
        (0, "23:50"),
        (9, "23:59"),
        (10, "00:00"),
        (25, "00:15"),
        (1440, "23:50"),
    ] {
        assert_eq!(splash.after(minutes).to_string(), want);
    }
    assert!(TimeOfDay::new(24, 0).is_none() && TimeOfDay::new(0, 60).is_none());
}
