//! The trade's hang, which nobody wrote down.

use hangbar::dive::SegmentKind;
use hangbar::quantity::{Depth, Speed, Time};
use hangbar::rules::{AscentRules, LastStop};
use hangbar::rules::{DiveRules, Level};
use hangbar::tissue::GradientFactors;

use crate::checks::assert_close;
use crate::dives::{fly_clean, square, stop_minutes};

const SOURCE: &str = "common practice, no source";
const DEPTH: Depth = Depth::from_ft(105.0);
const BOTTOM_MIN: f64 = 20.0;
const HANG_MIN: f64 = 15.0;
/// From the most cautious that is common to the bare model.
const FACTORS: [(f64, f64); 14] = [
    (30.0, 70.0),
    (30.0, 75.0),
    (30.0, 85.0),
    (35.0, 75.0),
    (40.0, 70.0),
    (40.0, 85.0),
    (45.0, 95.0),
    (50.0, 80.0),
    (55.0, 75.0),
    (60.0, 90.0),
    (70.0, 70.0),
    (85.0, 85.0),
    (90.0, 95.0),
    (100.0, 100.0),
];

fn rules(low_pct: f64, high_pct: f64, safety_stop: bool) -> DiveRules {
    let imperial = AscentRules::imperial();
    DiveRules {
        factors: GradientFactors::from_pct(low_pct, high_pct).unwrap(),
        descent_rate: Speed::from_ft_min(60.0),
        ascent: AscentRules {
            last_stop: LastStop::TwoSpacings,
            safety_stop: imperial.safety_stop.filter(|_| safety_stop),
            ..imperial
        },
        ..DiveRules::default()
    }
}

#[test]
fn a_hang_of_15_minutes_at_20_feet_covers_20_minutes_at_105_feet() {
    // Common practice, no source: after 20 min at 105 ft on air hang a quarter of an hour at
    // 20 ft. All stop time counts, the deeper stops too. Without a safety stop: what the model
    // asks and nothing else. With one as well, since the hang is the safety stop: it is held on
    // the same level, the last stop, and must not add to it.
    for (low, high) in FACTORS {
        for safety_stop in [false, true] {
            let dive = fly_clean(&rules(low, high, safety_stop), &square(DEPTH, BOTTOM_MIN));
            let what = format!("{low}/{high}, safety stop: {safety_stop}");
            let asked = stop_minutes(&dive);
            assert!(
                dive.staged && asked > 0.0,
                "{what} [{SOURCE}]: no stop asked"
            );
            assert!(
                asked <= HANG_MIN,
                "{what} [{SOURCE}]: {asked} min of stops are more than {HANG_MIN} min"
            );
            let shallowest = dive
                .way_up
                .iter()
                .filter(|segment| segment.kind != SegmentKind::Ascent)
                .map(|stop| stop.from.as_ft())
                .fold(f64::INFINITY, f64::min);
            assert_close(&what, SOURCE, shallowest, 20.0, 1e-9);
        }
    }
}

#[test]
fn after_the_hang_itself_the_way_up_is_open() {
    // Common practice, no source: the same dive, flown as the trade does it: straight to 20 ft,
    // 15 min there, up. It surfaces within each high factor. What low factors below the M-values
    // say about the rise to 20 ft is another question and not asked here.
    const RISE_MIN: f64 = (105.0 - 20.0) / 30.0;
    for (low, high) in FACTORS {
        let hang = Level {
            depth: Depth::from_ft(20.0),
            time: Time::from_min(RISE_MIN + HANG_MIN),
        };
        let [bottom] = square(DEPTH, BOTTOM_MIN);
        let dive = fly_clean(&rules(low, high, false), &[bottom, hang]);
        assert!(!dive.staged, "{low}/{high} [{SOURCE}]: still needs a stop");
        let used = dive.surfacing.fraction;
        assert!(
            used <= high / 100.0,
            "{low}/{high} [{SOURCE}]: surfaces at {used}"
        );
    }
}
