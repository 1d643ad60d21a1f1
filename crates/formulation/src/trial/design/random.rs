//! Numbers that look random and are the same everywhere for the same seed (SplitMix64, Steele,
//! Lea, Flood 2014).

/// A stream of such numbers.
#[derive(Clone, Debug)]
pub struct RandomStream(u64);

impl RandomStream {
    /// The stream of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }
    /// The next number of the stream.
    pub fn number(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
    /// A whole number below `n`; 0 for none.
    pub fn below(&mut self, n: usize) -> usize {
        if n == 0 {
            0
        } else {
            (self.number() % n as u64) as usize
        }
    }
    /// Puts a list into random order.
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for i in (1..list.len()).rev() {
            let j = self.below(i + 1);
            list.swap(i, j);
        }
    }
}
