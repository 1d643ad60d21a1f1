//! The mix as the estimators see it: constituents with what is known of them, and
//! lines with their materials, looked up once.

use super::ph::Solution;
use super::substances::{self, Substance};
use crate::composition::{Amount, Composition};
use crate::formula::{Formula, Line, Phase, Variant};
use crate::material::{Class, Material};

/// A constituent and what is known of it.
#[derive(Clone, Copy, Debug)]
pub struct Part<'a> {
    /// How much, and from which lines.
    pub amount: &'a Amount,
    /// What is known of the substance.
    pub substance: Option<&'static Substance>,
}

/// A line and its material.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    /// The phase that holds it.
    pub phase: &'a Phase,
    /// The line.
    pub line: &'a Line,
    /// Its material; none if the formula does not carry it.
    pub material: Option<&'a Material>,
    /// Share of the whole formula, 0 to 1.
    pub share: f64,
}

/// The mix.
#[derive(Clone, Debug)]
pub struct Mix<'a> {
    /// Constituents, largest first.
    pub parts: Vec<Part<'a>>,
    /// Lines in working order.
    pub lines: Vec<Laid<'a>>,
    /// What the mix contains.
    pub composition: &'a Composition,
    /// Typical share of water in the whole formula, 0 to 1.
    pub water: f64,
}

impl<'a> Mix<'a> {
    /// Looks everything up.
    pub fn new(formula: &'a Formula, variant: &'a Variant, composition: &'a Composition) -> Self {
        Self {
            parts: composition
                .constituents
                .iter()
                .map(|amount| Part {
                    amount,
                    substance: substances::find(&amount.inci, amount.cas),
                })
                .collect(),
            lines: variant
                .lines()
                .map(|(phase, line)| Laid {
                    phase,
                    line,
                    material: formula.material(&line.material).map(AsRef::as_ref),
                    share: line.percent.fraction().value(),
                })
                .collect(),
            composition,
            water: composition.water().typical.value(),
        }
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
