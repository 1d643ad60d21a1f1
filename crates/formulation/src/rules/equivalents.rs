//! How much of one substance a part of another counts as.

use std::collections::HashMap;

use crate::cas::Cas;
use crate::inci::Inci;

/// Conversions from substances to what a limit is expressed as.
#[derive(Clone, Debug, Default)]
pub struct Equivalents {
    targets: Vec<Inci>,
    factors: HashMap<(u16, Cas), f64>,
}

impl Equivalents {
    /// Adds a target and gives its index.
    pub(crate) fn add_target(&mut self, name: &str) -> u16 {
        self.targets.push(name.into());
        (self.targets.len() - 1) as u16
    }
    /// Adds a conversion; the factor is mass of target per mass of substance.
    pub(crate) fn add(&mut self, target: u16, cas: Cas, factor: f64) {
        self.factors.insert((target, cas), factor);
    }
    /// The index of a target.
    pub fn target(&self, name: &str) -> Option<u16> {
        self.targets
            .iter()
            .position(|t| t.is(name))
            .map(|i| i as u16)
    }
    /// The name of a target.
    pub fn name(&self, target: u16) -> &str {
        self.targets
            .get(usize::from(target))
            .map_or("", Inci::spelling)
    }
    /// Mass of the target that a mass of the substance counts as; `None` if not known.
    pub fn factor(&self, target: u16, cas: Cas) -> Option<f64> {
        self.factors.get(&(target, cas)).copied()
    }
    /// How many conversions there are.
    pub fn len(&self) -> usize {
        self.factors.len()
    }
    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.factors.is_empty()
    }
}
