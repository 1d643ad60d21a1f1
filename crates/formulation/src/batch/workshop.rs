//! The workshop: scales, vessels and habits that every batch starts from.

use super::code::CodeScheme;
use super::mass::{ExactMass, MassUnit};
use super::plan::PlanRequest;
use super::scale::{Allowances, Vessel};
use super::weighing_scale::WeighingScale;
use crate::cost::CostInputs;
use crate::quantity::MassFraction;

/// What the maker has set up once.
#[derive(Clone, PartialEq, Debug)]
pub struct Workshop {
    /// Scales.
    pub scales: Vec<WeighingScale>,
    /// Vessels.
    pub vessels: Vec<Vessel>,
    /// How far a weighing may be off, as a share of the line.
    pub tolerance: MassFraction,
    /// Unit of mass.
    pub unit: MassUnit,
    /// What is added for losses.
    pub allowances: Allowances,
    /// How batch codes are made.
    pub codes: CodeScheme,
    /// Packaging, labour and overhead.
    pub costs: CostInputs,
}

impl Default for Workshop {
    /// One scale of 0.1 g without a stated range, grams, one percent tolerance, no losses.
    fn default() -> Self {
        let tenth = ExactMass::from_femtograms(100_000_000_000_000);
        Self {
            scales: WeighingScale::new("scale", tenth, None)
                .into_iter()
                .collect(),
            vessels: Vec::new(),
            tolerance: PlanRequest::TOLERANCE,
            unit: MassUnit::Gram,
            allowances: Allowances::default(),
            codes: CodeScheme::default(),
            costs: CostInputs::default(),
        }
    }
}
