//! Our own dice: the same numbers on every machine, a few instructions a throw.
//!
//! SplitMix64 (Steele, Lea & Flood 2014): a counter and a mixing function, so any seed is a good one.

/// A stream of numbers fixed by its seed.
#[derive(Clone, Debug)]
pub(crate) struct Dice(u64);

impl Dice {
    /// The stream of a seed.
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// 64 fresh bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 to `n - 1`; 0 where `n` is 0.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        (((self.bits() >> 32) * n as u64) >> 32) as usize
    }

    /// True once in `n` throws on average.
    pub(crate) fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }
}
