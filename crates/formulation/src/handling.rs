//! How a material is handled: what wets it, and what heats up with water.

use crate::material::{Charge, Class, Hazard, Material, WettingMedium};

/// Whether a material serves as a wetting medium: at least a quarter of it for
/// surfactants (sold as solutions), half for the others.
pub(crate) fn is_medium(m: &Material, medium: WettingMedium) -> bool {
    match medium {
        WettingMedium::Humectant => m.share_of(Class::Humectant).value() >= 0.5,
        WettingMedium::Oil => m.share_of(Class::Oil).value() >= 0.5,
        WettingMedium::Alcohol => m.share_of(Class::Solvent).value() >= 0.5,
        WettingMedium::Surfactant => {
            Charge::ALL
                .iter()
                .map(|&c| m.share_of(Class::Surfactant(c)).value())
                .sum::<f64>()
                >= 0.25
        }
    }
}

/// The media in words, joined with “or”.
pub(crate) fn wetting_words(media: &[WettingMedium]) -> String {
    media
        .iter()
        .map(|m| match m {
            WettingMedium::Humectant => "a humectant such as glycerin",
            WettingMedium::Oil => "an oil",
            WettingMedium::Surfactant => "a surfactant",
            WettingMedium::Alcohol => "alcohol",
        })
        .collect::<Vec<_>>()
        .join(" or ")
}

/// Share of acid or base from which a corrosive material heats up when water is poured into it;
/// common practice, no source.
const STRONG: f64 = 0.05;

/// Whether a material is a strong acid or a lye, which goes into water and never the other way
/// round: corrosive, and so because of the acid or base in it.
pub fn heats_with_water(m: &Material) -> bool {
    m.hazards.contains(&Hazard::Corrosive) && m.share_of(Class::AcidBase).value() >= STRONG
}
