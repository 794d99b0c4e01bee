//! The exponentials of all compartments side by side.
//!
//! The library's own `exp` takes one number at a time; written as a loop over sixteen the same sums
//! go two or more to an instruction. A test holds every value against it.

use super::coefficients::{COMPARTMENTS, Row};

/// Beyond this nothing is left that matters to anybody: e⁻⁷⁰⁰ is 10⁻³⁰⁴.
const MOST: f64 = 700.0;
/// ln 2 in two parts, the first of which times any whole number up to 2¹¹ is exact.
const LN_2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;
/// Added to a number it leaves the nearest whole number in the last bits.
const ROUNDER: f64 = 6_755_399_441_055_744.0;
/// Bits below the exponent.
const MANTISSA_BITS: u32 = 52;
/// The bits of 1.
const ONE: u64 = 1_023 << MANTISSA_BITS;
/// 1/2! to 1/13!: the Taylor series of `eʳ` behind its second term. For |r| up to ln 2/2 what is left
/// out is below 5·10⁻¹⁸.
const SERIES: [f64; 12] = [
    1.0 / 2.0,
    1.0 / 6.0,
    1.0 / 24.0,
    1.0 / 120.0,
    1.0 / 720.0,
    1.0 / 5_040.0,
    1.0 / 40_320.0,
    1.0 / 362_880.0,
    1.0 / 3_628_800.0,
    1.0 / 39_916_800.0,
    1.0 / 479_001_600.0,
    1.0 / 6_227_020_800.0,
];

/// `e⁻ˣ = 2⁻ⁿ·(1 + q)` with `q = eʳ − 1`, `r = n·ln 2 − x`, `|r|` up to `ln 2/2`: `2⁻ⁿ` and `q` of each
/// `x`, none of which is below 0.
#[inline]
fn halvings(x: &Row) -> (Row, Row) {
    let (mut powers, mut rests) = ([0.0; COMPARTMENTS], [0.0; COMPARTMENTS]);
    for index in 0..COMPARTMENTS {
        // What is no number stays none.
        let x = if x[index] > MOST { MOST } else { x[index] };
        let shifted = x * std::f64::consts::LOG2_E + ROUNDER;
        let whole = shifted - ROUNDER;
        powers[index] = f64::from_bits(ONE.wrapping_sub(shifted.to_bits() << MANTISSA_BITS));
        rests[index] = (whole * LN_2_HIGH - x) + whole * LN_2_LOW;
    }
    // Pairs of terms, pairs of pairs: a sum that does not wait for itself.
    let pair = |r: f64, first: usize| SERIES[first] + r * SERIES[first + 1];
    let four = |r: f64, square: f64, first| pair(r, first) + square * pair(r, first + 2);
    for r in &mut rests {
        let square = *r * *r;
        let fourth = square * square;
        let last = four(*r, square, 4) + fourth * four(*r, square, 8);
        let sum = four(*r, square, 0) + fourth * last;
        *r += square * sum;
    }
    (powers, rests)
}

/// `1 − e⁻ˣ` of each, all its digits good for small `x` too.
#[inline]
pub(super) fn fallen(x: &Row) -> Row {
    let (powers, mut rests) = halvings(x);
    for (rest, power) in rests.iter_mut().zip(&powers) {
        *rest = (1.0 - power) - power * *rest;
    }
    rests
}

/// `e⁻ˣ` of each.
#[inline]
pub(super) fn left(x: &Row) -> Row {
    let (powers, mut rests) = halvings(x);
    for (rest, power) in rests.iter_mut().zip(&powers) {
        *rest = power + power * *rest;
    }
    rests
}

#[cfg(test)]
mod tests {
    use super::{fallen, left};

    /// Two units in the last place.
    const LAST_PLACES: f64 = 4.5e-16;

    /// From a split second of the slowest compartment to a day of the fastest.
    #[test]
    fn they_are_those_of_the_standard_library() {
        for step in 0..60_000_u32 {
            let x =
                f64::from(step % 1000) * 1e-3 * 10_f64.powf(f64::from(step / 1000) * 0.24 - 11.0);
            let (fallen, left) = (fallen(&[x; 16]), left(&[x; 16]));
            let (of_fallen, of_left) = (-(-x).exp_m1(), (-x).exp());
            for index in [0, 7, 15] {
                let apart = (fallen[index] - of_fallen).abs();
                assert!(apart <= LAST_PLACES * of_fallen, "1 − e^−{x}: {apart}");
                let apart = (left[index] - of_left).abs();
                // At 700 it ends.
                let ends = x > 700.0 && left[index] < 1e-303;
                assert!(ends || apart <= LAST_PLACES * of_left, "e^−{x}: {apart}");
            }
        }
    }

    #[test]
    fn nothing_falls_in_no_time_and_all_in_the_end() {
        for x in [0.0, 1e-300, f64::MIN_POSITIVE] {
            assert!((fallen(&[x; 16])[3] - x).abs() <= f64::MIN_POSITIVE);
            assert_eq!(left(&[x; 16])[3].to_bits(), 1.0_f64.to_bits());
        }
        for x in [701.0, 1e6, f64::INFINITY] {
            assert_eq!(fallen(&[x; 16])[3].to_bits(), 1.0_f64.to_bits());
            assert!(left(&[x; 16])[3] < 1e-303);
        }
        assert!(fallen(&[f64::NAN; 16])[3].is_nan());
        assert!(left(&[f64::NAN; 16])[3].is_nan());
    }
}
