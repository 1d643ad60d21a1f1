//! What a batch costs besides its materials, as the maker enters it.

use std::sync::Arc;

use crate::quantity::Decimal;

/// Something that is paid for each container: bottle, pump, label, box.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Packaging {
    /// What it is.
    pub name: Arc<str>,
    /// Price for one container, in the maker's currency.
    pub per_container: Option<Decimal>,
}

/// Work that is paid by the hour.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Labour {
    /// What is done.
    pub name: Arc<str>,
    /// How long for the batch.
    pub minutes: u32,
    /// Wage for an hour, in the maker's currency.
    pub per_hour: Option<Decimal>,
}

/// Anything else, entered as a sum for the batch: energy, rent, cleaning, laboratory.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Overhead {
    /// What for.
    pub name: Arc<str>,
    /// For the batch, in the maker's currency.
    pub per_batch: Option<Decimal>,
}

/// What the maker enters besides the formula.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct CostInputs {
    /// Per container.
    pub packaging: Vec<Packaging>,
    /// By the hour.
    pub labour: Vec<Labour>,
    /// By the batch.
    pub overhead: Vec<Overhead>,
}
