//! How a material is handled: what wets it, what heats up with water, what to wear for it.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::chemistry::substances::{self, Brings, Substance};
use crate::material::{Charge, Class, Hazard, Material, WettingMedium};
use crate::notation::material_file::ron_options;
use crate::notation::mirror::HazardName;

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

/// What a hazard asks for.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Asked {
    hazard: HazardName,
    wear: Vec<String>,
    mind: String,
    with_water: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HandlingFile {
    version: u32,
    #[serde(rename = "source")]
    _source: String,
    hazards: Vec<Asked>,
}

fn read(text: &str) -> Result<Vec<Asked>, String> {
    let file: HandlingFile = ron_options().from_str(text).map_err(|e| e.to_string())?;
    if file.version != 1 {
        return Err(format!(
            "version {} of the table of hazards is not known here",
            file.version
        ));
    }
    Ok(file.hazards)
}

/// What a hazard asks for; nothing only if the program was built with a damaged table.
fn asked(hazard: Hazard) -> Option<&'static Asked> {
    static TABLE: OnceLock<Vec<Asked>> = OnceLock::new();
    let table = TABLE.get_or_init(|| {
        read(include_str!("../../../assets/rules/handling.ron")).unwrap_or_default()
    });
    table.iter().find(|a| Hazard::from(a.hazard) == hazard)
}

/// What to wear for a hazard, piece by piece. Common practice of the workshop, no source; the
/// supplier's safety data sheet governs.
pub fn equipment(hazard: Hazard) -> &'static [String] {
    asked(hazard).map_or(&[], |a| &a.wear)
}

/// What to mind with a hazard of a material that heats up with water or does not
/// ([`heats_with_water`]). Common practice of the workshop, no source; the supplier's safety data
/// sheet governs.
pub fn mind(hazard: Hazard, heats_with_water: bool) -> &'static str {
    let with_water = |a: &'static Asked| a.with_water.as_deref().filter(|_| heats_with_water);
    asked(hazard).map_or("", |a| with_water(a).unwrap_or(&a.mind))
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

    /// The words of a caution are held: who turns them round hurts somebody.
    #[test]
    fn every_hazard_asks_for_something() {
        let table = read(include_str!("../../../assets/rules/handling.ron")).unwrap();
        let hazards = [
            Hazard::Dust,
            Hazard::Corrosive,
            Hazard::Irritant,
            Hazard::Sensitiser,
            Hazard::Flammable,
            Hazard::Oxidiser,
        ];
        assert_eq!(table.len(), hazards.len());
        for hazard in hazards {
            assert!(!equipment(hazard).is_empty() && !mind(hazard, false).is_empty());
        }
        assert!(mind(Hazard::Corrosive, true).contains("add it to water, never water to it"));
        assert!(!mind(Hazard::Corrosive, false).contains("water to it"));
        assert_eq!(equipment(Hazard::Dust), ["dust mask", "eye protection"]);
    }

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
