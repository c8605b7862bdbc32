//! Random numbers that are the same everywhere.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::cast_possible_truncation,
    reason = "helpers of tests; each test binary uses some of them"
)]

/// `SplitMix64` (G. Steele, D. Lea, C. Flood, 2014): the same numbers everywhere.
#[derive(Debug)]
pub struct Random(pub u64);

impl Random {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number from `low` to `high`, both included.
    pub fn from(&mut self, low: u32, high: u32) -> u32 {
        low + (self.next() % u64::from(high - low + 1)) as u32
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn one_in(&mut self, n: u32) -> bool {
        self.from(1, n) == 1
    }
}
