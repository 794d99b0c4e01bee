//! Exchange of gas with the tissues.

use hangbar::quantity::{Pressure, Time};
use hangbar::tissue::{COMPARTMENTS, CompartmentSet, Loading, Tissues};
use proptest::prelude::*;

use crate::config;
use crate::dives::any_mix;

fn loadings() -> impl Strategy<Value = [Loading; COMPARTMENTS]> {
    let pressure = || prop_oneof![Just(0.0), Just(0.750_934_5), 0.0..8.0];
    let helium = prop_oneof![1 => Just(0.0), 1 => pressure()];
    let one = (pressure(), helium).prop_map(|(n2_bar, he_bar)| Loading { n2_bar, he_bar });
    prop::collection::vec(one, COMPARTMENTS).prop_map(|all| all.try_into().unwrap())
}

proptest! {
    #![proptest_config(config(256))]

    #[test]
    fn two_parts_of_a_segment_equal_the_whole(
        loadings in loadings(),
        gas in any_mix(),
        (from, to) in (0.577..20.0, 0.577..20.0),
        minutes in prop_oneof![Just(1e-6), Just(1.0), 0.0..1500.0],
        part in prop_oneof![4 => Just(0.5), 1 => Just(0.0), 1 => Just(1.0), 4 => 0.0..1.0],
    ) {
        /// Pressures to 20 bar, and ramps whose lag r/k is some thousand bar where they are short.
        const TWICE_ROUNDED_BAR: f64 = 1e-11;
        let set = CompartmentSet::default();
        let bar = Pressure::from_bar;
        let middle = from + (to - from) * part;
        let start = Tissues::from_loadings(loadings);
        let whole = start.after(&set, gas, bar(from), bar(to), Time::from_min(minutes));
        let first = Time::from_min(minutes * part);
        let second = Time::from_min(minutes - first.as_min());
        let parts = start
            .after(&set, gas, bar(from), bar(middle), first)
            .after(&set, gas, bar(middle), bar(to), second);
        for (x, y) in whole.loadings().into_iter().zip(parts.loadings()) {
            prop_assert!((x.n2_bar - y.n2_bar).abs() <= TWICE_ROUNDED_BAR, "N2: {x:?}, {y:?}");
            prop_assert!((x.he_bar - y.he_bar).abs() <= TWICE_ROUNDED_BAR, "He: {x:?}, {y:?}");
        }
    }
}
