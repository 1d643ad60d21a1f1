//! The mix as the estimators see it: the mixture, and its constituents with what is known of
//! each, looked up once.

use super::ph::Solution;
use super::substances::{self, Substance};
use crate::composition::{Composition, SubstanceTotal};
use crate::formula::ItemId;
use crate::material::Class;
use crate::mixture::{Mixture, MixtureLine};
use crate::quantity::Percent;

/// A constituent and what is known of it.
#[derive(Clone, Copy, Debug)]
pub struct MixConstituent<'a> {
    /// How much, and from which lines.
    pub amount: &'a SubstanceTotal,
    /// What is known of the substance.
    pub substance: Option<&'static Substance>,
}

/// The mix.
#[derive(Clone, Debug)]
pub struct Mix<'a> {
    /// Constituents, largest first.
    pub parts: Vec<MixConstituent<'a>>,
    /// Every raw material opened up.
    pub mixture: &'a Mixture,
    /// What the mix contains.
    pub composition: &'a Composition,
    /// Typical share of water in the whole formula, 0 to 1.
    pub water: f64,
}

impl<'a> Mix<'a> {
    /// Looks everything up.
    pub fn new(mixture: &'a Mixture, composition: &'a Composition) -> Self {
        Self {
            parts: composition
                .constituents
                .iter()
                .map(|amount| MixConstituent {
                    amount,
                    substance: substances::find(amount.inci.spelling(), amount.cas),
                })
                .collect(),
            mixture,
            composition,
            water: composition.water().typical.value(),
        }
    }
    /// Lines of which there is something, in working order.
    pub fn lines(&self) -> impl Iterator<Item = &'a MixtureLine> {
        self.mixture
            .lines
            .iter()
            .filter(|l| l.percent > Percent::ZERO)
    }
    /// A line.
    pub fn line(&self, id: ItemId) -> Option<&'a MixtureLine> {
        self.mixture.lines.iter().find(|l| l.line == id)
    }
    /// Typical share of a class in the whole formula, 0 to 1.
    pub fn class(&self, class: Class) -> f64 {
        self.composition.class(class).typical.value()
    }
    /// Mol per kg of water of a substance of which the formula holds a share (0 to 1).
    /// Zero if there is no water.
    pub fn molality(&self, substance: &Substance, share: f64) -> f64 {
        if self.water > 0.0 {
            1000.0 * share / substance.molar_mass / self.water
        } else {
            0.0
        }
    }
    /// Adds a substance of the given share to a solution.
    pub fn dissolve(&self, solution: &mut Solution, substance: &Substance, share: f64) {
        let molality = self.molality(substance, share);
        solution.add_substance(substance, molality);
    }
}
