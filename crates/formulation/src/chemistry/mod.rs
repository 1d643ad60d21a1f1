//! Chemistry of the mix, estimated: pH, preservation, water activity, density,
//! emulsification, electrolyte and natural origin, each with its method and range.
//!
//! A measured value overrides an estimate and is shown as measured. What is not known
//! is named and widens the range; it is never taken as zero.

pub mod acidity;
pub mod acids;
pub mod adjust;
pub mod density;
pub mod electrolyte;
pub mod emulsion;
pub mod figure;
mod findings;
pub mod ions;
pub mod mix;
pub mod natural_origin;
pub mod ph;
pub mod preservation;
pub mod substances;
pub mod water_activity;

pub use acidity::Acidity;
pub use electrolyte::Electrolyte;
pub use emulsion::Emulsion;
pub use figure::Figure;
pub use findings::findings;
pub use natural_origin::NaturalOriginEstimate;
pub use preservation::Preservation;

use crate::composition::Composition;
use crate::formula::{Formula, Variant};
use crate::quantity::{Ph, in_kg_per_m3};

/// Every estimate of a mix.
#[derive(Clone, PartialEq, Debug)]
pub struct Estimates {
    /// pH of the water phase.
    pub ph: Acidity,
    /// The preservative system.
    pub preservation: Preservation,
    /// Water activity, 0 to 1.
    pub water_activity: Figure,
    /// Density in kg/m³ at 20 °C.
    pub density: Figure,
    /// HLB required and provided.
    pub emulsion: Emulsion,
    /// Salt and charge.
    pub electrolyte: Electrolyte,
    /// Natural origin index.
    pub natural_origin: NaturalOriginEstimate,
}

/// Estimates everything for a variant. Returns for every input, also an empty one.
pub fn estimate(formula: &Formula, variant: &Variant, composition: &Composition) -> Estimates {
    let mix = mix::Mix::new(formula, variant, composition);
    let measured = &variant.measured;
    let ph = acidity::estimate(&mix, measured.ph.map(Ph::value));
    Estimates {
        preservation: preservation::estimate(&mix, &ph, variant.target_ph.map(Ph::value)),
        water_activity: water_activity::estimate(&mix, measured.water_activity),
        density: density::estimate(&mix, measured.density.map(in_kg_per_m3)),
        emulsion: emulsion::estimate(&mix),
        electrolyte: electrolyte::estimate(&mix, &ph),
        natural_origin: natural_origin::estimate(&mix),
        ph,
    }
}
