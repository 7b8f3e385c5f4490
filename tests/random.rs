//! Pseudo-random numbers for tests, the same in every run: SplitMix64 (Steele,
//! Lea and Flood, OOPSLA 2014).
#![allow(dead_code, reason = "each test program uses only part of it")]

/// A sequence of numbers.
pub struct Random(pub u64);

impl Random {
    /// The next number.
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to below `most`.
    pub fn below(&mut self, most: usize) -> usize {
        (self.next() % most as u64) as usize
    }

    /// A number from 1 to `most`, small ones as likely as large ones.
    pub fn of_any_size(&mut self, most: usize) -> usize {
        let bits = most.ilog2() as usize + 1;
        let ceiling = most.min((1 << (1 + self.below(bits))) - 1);
        1 + self.below(ceiling)
    }

    /// One of some things.
    pub fn one_of<T: Copy>(&mut self, things: &[T]) -> T {
        things[self.below(things.len())]
    }

    /// Bytes.
    pub fn bytes(&mut self, count: usize) -> Vec<u8> {
        (0..count).map(|_| self.next() as u8).collect()
    }
}
