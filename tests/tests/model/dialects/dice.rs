//! A stream of numbers that depends on its seed alone.

use formulation::trial::design::random::RandomStream;

/// Throws of which all follow from the seed.
pub struct Dice(RandomStream);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(RandomStream::new(seed))
    }
    pub fn next(&mut self) -> u64 {
        self.0.number()
    }
    /// A number from 0 below an end.
    pub fn below(&mut self, end: usize) -> usize {
        self.0.below(end.max(1))
    }
    /// True once in so many times.
    pub fn chance(&mut self, one_in: usize) -> bool {
        self.below(one_in) == 0
    }
    /// One of several.
    pub fn of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())]
    }
    /// Changes the order at random.
    pub fn shuffle<T>(&mut self, all: &mut [T]) {
        self.0.shuffle(all);
    }
}
