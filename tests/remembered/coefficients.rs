//! Coefficients of ZH-L16C: the whole table.

use hangbar::quantity::Pressure;
use hangbar::tissue::{COMPARTMENTS, CompartmentSet, FirstCompartment, Loading, Tissues};

use crate::checks::{EXACT, LAST_BITS, assert_close, printed};
use crate::csv::{number, rows};
use crate::zh_l16c::{COMPARTMENT_NAMES, held};

const SOURCE: &str = "from memory: Tauchmedizin, 5th ed. (2002), ZH-L16 set C, and Baker, \
                      Understanding M-values";

struct Row {
    name: &'static str,
    /// Half-time in minutes, a in bar, b.
    nitrogen: [f64; 3],
    helium: [f64; 3],
    /// M-value at the surface in msw (1 msw = 0.1 bar, surface 10 msw) and slope.
    m0_msw: f64,
    slope: f64,
}

fn table() -> Vec<Row> {
    let row = |[name, figures @ ..]: [&'static str; 9]| {
        let [n2, n2_a, n2_b, he, he_a, he_b, m0_msw, slope] = figures.map(number);
        Row {
            name,
            nitrogen: [n2, n2_a, n2_b],
            helium: [he, he_a, he_b],
            m0_msw,
            slope,
        }
    };
    let rows: Vec<Row> = rows(include_str!("../data/zh_l16c_remembered.csv"))
        .map(row)
        .collect();
    let names: Vec<&str> = rows.iter().map(|row| row.name).collect();
    assert_eq!(names, COMPARTMENT_NAMES);
    rows
}

#[test]
fn every_coefficient_is_the_remembered_one() {
    for row in table() {
        let (nitrogen, helium) = held(row.name);
        for (gas, got, want) in [("N2", nitrogen, row.nitrogen), ("He", helium, row.helium)] {
            for (column, (got, want)) in ["half-time", "a", "b"].iter().zip(got.iter().zip(want)) {
                let what = format!("{gas} {column} of {}", row.name);
                assert_close(&what, SOURCE, *got, want, EXACT);
            }
        }
    }
}

#[test]
fn the_four_minute_compartment_replaces_the_first_and_nothing_else() {
    // Source: from memory of the same tables: one of 1 and 1b is used at a time, never both.
    let five = CompartmentSet::zh_l16c(FirstCompartment::FiveMinutes);
    let four = CompartmentSet::zh_l16c(FirstCompartment::FourMinutes);
    assert_eq!(five.compartments().len(), COMPARTMENTS);
    assert_ne!(five.compartments()[0], four.compartments()[0]);
    assert_eq!(five.compartments()[1..], four.compartments()[1..]);
    assert_eq!(CompartmentSet::default(), five);
}

#[test]
fn a_of_compartment_4_is_that_of_set_a_too() {
    // Source: from memory of Tauchmedizin: set C leaves set A from compartment 5 on. The formula
    // of set A could be read: Chapman (1999), a = 2 bar * t^(-1/3).
    let ([half_time, a, _], _) = held("4");
    let want = 2.0 * half_time.cbrt().recip();
    assert_close("4", SOURCE, a, want, printed(4));
}

#[test]
fn a_and_b_give_bakers_m_values_in_every_compartment() {
    // b = 1/slope, m0 = a + p_surface/b.
    const MSW_PER_BAR: f64 = 10.0;
    for row in table() {
        let ([_, a, b], _) = held(row.name);
        assert_close(row.name, SOURCE, b.recip(), row.slope, printed(4));
        let got = MSW_PER_BAR * (a + b.recip());
        assert_close(row.name, SOURCE, got, row.m0_msw, printed(1));
    }
}

#[test]
fn the_helium_half_time_of_1b_lies_beside_the_rule() {
    // Printed 1.88 where 5/2.645 gives 1.89: a ratio of 2.6596.
    const RATIO: f64 = 2.645;
    const AS_PRINTED: f64 = 0.0147;
    let (nitrogen, helium) = held("1b");
    let ratio = nitrogen[0] / helium[0];
    assert_close("1b", SOURCE, ratio, RATIO, AS_PRINTED);
}

#[test]
fn bakers_ceiling_is_where_the_limit_meets_the_loading() {
    // Source: from memory: Baker, Clearing up the confusion about deep stops:
    // p_tol = (p - a*GF)/(GF/b - GF + 1). With GF 1 it is Bühlmann's (p - a)*b.
    const CEILING: &str = "from memory: Baker, tolerated ambient pressure";
    const LOADING_BAR: f64 = 3.2;
    let set = CompartmentSet::default();
    let loaded = Loading {
        n2_bar: LOADING_BAR,
        he_bar: 0.0,
    };
    let tissues = Tissues::from_loadings([loaded; COMPARTMENTS]);
    for factor in [0.30, 0.85, 1.0] {
        for (index, row) in table()[1..].iter().enumerate() {
            let [_, a, b] = row.nitrogen;
            let ceiling = (LOADING_BAR - a * factor) / (factor / b - factor + 1.0);
            let got = tissues.limit_bar(&set, index, Pressure::from_bar(ceiling), factor);
            assert_close(row.name, CEILING, got, LOADING_BAR, LAST_BITS);
        }
    }
}
