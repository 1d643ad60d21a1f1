//! How a material is handled: what wets it, what heats up with water, what to wear for it.

use crate::chemistry::substances::{self, Brings, Substance};
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

/// Equipment and handling for a hazard of a material that heats up with water or does not
/// ([`heats_with_water`]). Common practice of the workshop, no source; the supplier's safety data
/// sheet governs.
pub const fn precaution(hazard: Hazard, heats_with_water: bool) -> (&'static str, &'static str) {
    match hazard {
        Hazard::Dust => (
            "dust mask, eye protection",
            "fine powder; pour low and slowly, away from draught",
        ),
        Hazard::Corrosive => (
            "chemical-resistant gloves, goggles, apron",
            if heats_with_water {
                "corrosive as supplied; add it to water, never water to it, and keep water at hand to rinse"
            } else {
                "corrosive as supplied; keep water at hand to rinse"
            },
        ),
        Hazard::Irritant => (
            "gloves, eye protection",
            "irritates in concentrated form; wipe up spills at once",
        ),
        Hazard::Sensitiser => (
            "gloves",
            "may sensitise in concentrated form; keep it off the skin",
        ),
        Hazard::Flammable => (
            "eye protection",
            "flammable; no flame or hot plate nearby, ventilate",
        ),
        Hazard::Oxidiser => (
            "gloves, eye protection",
            "oxidiser; keep it away from oils, fragrance and paper",
        ),
    }
}

/// What to wear for a hazard.
pub const fn equipment(hazard: Hazard) -> &'static str {
    precaution(hazard, false).0
}

/// Share of strong acid or lye from which a corrosive material heats up when water is poured
/// into it; common practice, no source.
const STRONG: f64 = 0.05;
/// pKa below which an acid gives off its proton, and the heat with it, as soon as it is diluted;
/// common practice, no source.
const STRONG_ACID_BELOW: f64 = 2.5;

/// Whether a material is a strong acid or a lye, which goes into water and never the other way
/// round: corrosive, and so because of the strong acid or lye in it. Weak acids and amines,
/// however concentrated, heat up little.
pub fn heats_with_water(m: &Material) -> bool {
    let strong = m
        .constituents
        .iter()
        .filter(|c| c.class == Class::AcidBase)
        .filter(|c| substances::find(&c.inci, c.cas).is_some_and(is_strong));
    m.hazards.contains(&Hazard::Corrosive)
        && strong.map(|c| c.share.typical.value()).sum::<f64>() >= STRONG
}

/// Whether a substance is fully in ions once it is dissolved: a lye, a mineral acid, or an acid
/// whose first proton is about as free.
fn is_strong(substance: &Substance) -> bool {
    let families = substance.brings.iter().filter_map(|b| match b {
        Brings::Weak(family, _) => Some(family.protolyte()),
        _ => None,
    });
    let mut weak = families.peekable();
    match weak.peek() {
        None => substance.strong_charge() != 0.0,
        // A salt of the acid has lost the proton already.
        Some(_) => {
            substance.strong_charge() == 0.0
                && weak.any(|p| {
                    p.top_charge <= 0 && p.pka.first().is_some_and(|&k| k < STRONG_ACID_BELOW)
                })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_strong_acids_and_lyes_heat_up() {
        let heats = |name: &str| {
            let shelf = crate::shelf::built_in::shelf();
            let material = shelf.iter().find(|m| &*m.name == name);
            heats_with_water(material.expect(name))
        };
        for strong in [
            "Sodium hydroxide pellets",
            "Potassium hydroxide flakes 90 %",
            "Sodium hydroxide solution 30 %",
            "Phosphoric acid 85 %",
            "Hydrochloric acid 10 %",
        ] {
            assert!(heats(strong), "{strong}");
        }
        for weak in [
            "Lactic acid 80 %",
            "Glycolic acid 70 %",
            "Acetic acid 80 %",
            "Citric acid, anhydrous",
            "Triethanolamine 99 %",
            "Cetrimonium chloride 29 %",
            "Ammonium hydroxide solution 25 %",
            "Sodium chloride",
        ] {
            assert!(!heats(weak), "{weak}");
        }
    }
}
