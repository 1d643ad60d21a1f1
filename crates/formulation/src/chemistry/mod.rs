//! Chemistry of the mix, estimated: pH, preservation, water activity, density,
//! emulsification, electrolyte and natural origin, each with its method and range.
//!
//! A measured value overrides an estimate and is shown as measured. What is not known
//! is named and widens the range; it is never taken as zero.

pub mod acidity;
pub mod acids;
pub mod adjust;
mod basis;
pub mod constants;
pub mod density;
pub mod electrolyte;
pub mod emulsion;
pub mod figure;
mod findings;
pub mod freezing;
pub mod ions;
pub mod mix;
pub mod natural_origin;
pub mod partition;
mod partition_table;
pub mod ph;
pub mod ph_in_use;
pub mod preservation;
mod preservative_acids;
pub mod soap;
pub mod solubility;
pub mod substances;
pub mod water_activity;
pub(crate) mod water_limits;
pub mod work_out;

pub use acidity::Acidity;
pub use electrolyte::Electrolyte;
pub use emulsion::Emulsion;
pub use figure::Figure;
pub use findings::findings;
pub use natural_origin::NaturalOriginEstimate;
pub use preservation::PreservativeSystem;
pub use soap::{Soap, UnvaluedFats};

use crate::composition::Composition;
use crate::formula::{Formula, Variant};
use crate::material::ProductKind;
use crate::mixture::Mixture;
use crate::quantity::{Ph, in_kg_per_m3};

/// Every estimate of a mix.
#[derive(Clone, PartialEq, Debug)]
pub struct Estimates {
    /// pH of the water phase.
    pub ph: Acidity,
    /// The preservative system.
    pub preservation: PreservativeSystem,
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
    /// Soap that lye or amines make of fats and fatty acids.
    pub soap: Option<Soap>,
    /// Fats of unknown saponification value that lye meets; there is then no [`Self::soap`].
    pub unvalued_fats: Option<UnvaluedFats>,
}

impl Estimates {
    /// Whether lye turns fats into soap.
    pub fn makes_soap(&self) -> bool {
        makes_soap(self.soap.as_ref(), self.unvalued_fats.as_ref())
    }
}

fn makes_soap(soap: Option<&Soap>, unvalued: Option<&UnvaluedFats>) -> bool {
    unvalued.is_some() || soap.is_some_and(|s| s.making == soap::Making::Saponified)
}

/// Estimates everything for a variant. Returns for every input, also an empty one.
pub fn estimate(formula: &Formula, variant: &Variant) -> Estimates {
    let mixture = Mixture::of(formula, variant);
    estimate_mixture(variant, &mixture, &Composition::of(&mixture))
}

/// [`estimate`] of a variant that is opened up and added up already.
pub fn estimate_mixture(
    variant: &Variant,
    mixture: &Mixture,
    composition: &Composition,
) -> Estimates {
    let mix = mix::Mix::new(mixture, composition);
    let measured = &variant.measured;
    let (soap, unvalued_fats) = match soap::estimate(&mix) {
        Ok(soap) => (soap, None),
        Err(unvalued) => (None, Some(unvalued)),
    };
    let is_soap = makes_soap(soap.as_ref(), unvalued_fats.as_ref());
    let mut ph = acidity::estimate(&mix, measured.ph.map(Ph::value));
    let mut water_activity = water_activity::estimate(&mix, measured.water_activity);
    if is_soap {
        ph = ph.without(acidity::NoPh::Saponified);
        water_activity = water_activity.without("lye and fats turn into soap, whose water activity is not estimated; bars usually dry to less than 0.8 (common practice, no source)");
    }
    let mut emulsion =
        emulsion::estimate(&mix, variant.product.kinds.contains(ProductKind::RinseOff));
    if is_soap {
        emulsion = emulsion.without(emulsion::NoEmulsion::Saponified);
    }
    Estimates {
        preservation: preservation::estimate(&mix, &ph, variant.target_ph),
        water_activity,
        density: density::estimate(&mix, measured.density.map(in_kg_per_m3)),
        emulsion,
        electrolyte: electrolyte::estimate(&mix, &ph),
        natural_origin: natural_origin::estimate(&mix),
        soap,
        unvalued_fats,
        ph,
    }
}

/// Water activity of a mixture as it dries; see [`water_activity::drying`].
pub fn drying_curve(mixture: &Mixture, composition: &Composition, points: usize) -> Vec<[f64; 2]> {
    water_activity::drying(&mix::Mix::new(mixture, composition), points)
}

#[cfg(test)]
mod tests;
