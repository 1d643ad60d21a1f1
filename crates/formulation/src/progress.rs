//! How far a long calculation has come, and the way to stop it.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Shared by whoever works and whoever waits. The work counts its steps here, where they can
/// be counted, and looks between them whether it is to go on.
#[derive(Debug, Default)]
pub struct Progress {
    done: AtomicUsize,
    all: AtomicUsize,
    stopped: AtomicBool,
}

impl Progress {
    /// Begins to count so many steps.
    pub fn expect(&self, all: usize) {
        self.tell(0, all);
    }
    /// One more step is done.
    pub fn step(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }
    /// Notes how many steps of how many are done; whether to go on.
    pub fn tell(&self, done: usize, all: usize) -> bool {
        self.done.store(done, Ordering::Relaxed);
        self.all.store(all, Ordering::Relaxed);
        !self.is_stopped()
    }
    /// Steps done so far.
    pub fn done(&self) -> usize {
        self.done.load(Ordering::Relaxed)
    }
    /// Steps in all; none where they cannot be counted.
    pub fn all(&self) -> Option<usize> {
        Some(self.all.load(Ordering::Relaxed)).filter(|all| *all > 0)
    }
    /// Asks the work to stop soon.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }
    /// Whether it was asked to stop.
    pub fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }
}
