//! Random numbers from a seed: the same on every machine, and one after the other for a plan, so that
//! a plan is known by its number.

use std::ops::RangeInclusive;

/// Splitmix64 (Steele, Lea and Flood, *Fast Splittable Pseudorandom Number Generators*, 2014).
pub(crate) struct Random(u64);

impl Random {
    /// The numbers of one plan of a run.
    pub(crate) fn of(seed: u64, number: u64) -> Self {
        let mut mixed = Self(seed);
        let seed = mixed.bits();
        Self(seed ^ number.wrapping_mul(0xD134_2543_DE82_EF95))
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// From 0 to 1, 1 excluded: 32 bits of it.
    fn share(&mut self) -> f64 {
        let high = u32::try_from(self.bits() >> 32).unwrap();
        f64::from(high) / 4_294_967_296.0
    }

    /// Anything between two numbers.
    pub(crate) fn between(&mut self, least: f64, greatest: f64) -> f64 {
        least + (greatest - least) * self.share()
    }

    /// One of the whole numbers of a range.
    pub(crate) fn whole(&mut self, range: RangeInclusive<u32>) -> u32 {
        let count = u64::from(range.end() - range.start()) + 1;
        range.start() + u32::try_from(self.bits() % count).unwrap()
    }

    /// True once in so many times.
    pub(crate) fn once_in(&mut self, times: u32) -> bool {
        self.whole(1..=times) == 1
    }

    pub(crate) fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        let last = u32::try_from(of.len()).unwrap() - 1;
        of[self.whole(0..=last) as usize]
    }

    /// A quantity of a range: its ends now and then, otherwise a whole number, a tenth, or anything.
    pub(crate) fn of_range(&mut self, least: f64, greatest: f64) -> f64 {
        let any = self.between(least, greatest);
        match self.whole(0..=19) {
            0 => least,
            1 => greatest,
            2..=10 => any.round().clamp(least, greatest),
            11..=15 => ((any * 10.0).round() / 10.0).clamp(least, greatest),
            _ => any,
        }
    }
}
