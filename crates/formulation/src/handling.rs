//! How a material is handled: what wets it, what heat it bears, what heats up with water, what
//! to wear for it.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::chemistry::substances::{self, Brings, Substance};
use crate::formula::ItemId;
use crate::material::{Charge, Class, Constituent, Hazard, Material, WettingMedium};
use crate::notation::material_file::ron_options;
use crate::notation::mirror::HazardName;
use crate::quantity::{MassFraction, Temperature, in_celsius};

/// Difference that a thermometer of the workshop does not tell, kelvin; common practice.
pub(crate) const UNTOLD_KELVIN: f64 = 0.5;

/// Whether a temperature is more than a material bears, as far as a thermometer tells; never
/// where it is not known what it bears.
pub(crate) fn is_too_hot(material: &Material, at: Temperature) -> bool {
    let bears = material.max_temperature.as_ref();
    bears.is_some_and(|b| in_celsius(at) > in_celsius(b.value) + UNTOLD_KELVIN)
}

/// Least share of a wetting medium that must be what wets: half, of surfactants, which are sold
/// as solutions, a quarter. Common practice, no source.
const WETS: f64 = 0.5;
/// The same for surfactants.
const SURFACTANT_WETS: f64 = 0.25;

/// Whether a material is a powder as far as is known: it dusts, lumps itself, or is a solid
/// substance sold without water.
fn is_powder(m: &Material) -> bool {
    let solid = |c: &Constituent| {
        let substance = substances::find(c.inci.spelling(), c.cas);
        substance.is_some_and(|s| s.saturation.is_some())
    };
    m.hazards.contains(&Hazard::Dust)
        || !m.wet_with.is_empty()
        || m.share_of(Class::Water) == MassFraction::ZERO && m.main_constituent().is_some_and(solid)
}

/// Whether a material serves as a wetting medium: a liquid with enough of what wets.
fn is_medium(m: &Material, medium: WettingMedium) -> bool {
    let share = |class| m.share_of(class).value();
    let enough = match medium {
        WettingMedium::Humectant => share(Class::Humectant) >= WETS,
        WettingMedium::Oil => share(Class::Oil) >= WETS,
        WettingMedium::Alcohol => share(Class::Solvent) >= WETS,
        WettingMedium::Surfactant => {
            let all = Charge::ALL.iter().map(|&c| share(Class::Surfactant(c)));
            all.sum::<f64>() >= SURFACTANT_WETS
        }
    };
    enough && !is_powder(m)
}

/// Whether a material wets a powder that lumps in water.
pub(crate) fn wets(medium: &Material, powder: &Material) -> bool {
    powder.wet_with.iter().any(|&w| is_medium(medium, w))
}

/// A material with more water than this lets a powder meet water; common practice, no source.
const WATERY: f64 = 0.5;

/// How a powder that lumps in water is wetted where it stands in its phase.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Wetting {
    /// In the medium of this line, before any water goes into the phase.
    Before(ItemId),
    /// The phase has a medium, that of this line, but water goes in before the two meet.
    After(ItemId),
    /// The phase has nothing that wets it.
    Missing,
}

impl Wetting {
    /// How the powder of a line is wetted among the lines of its phase in their order; `None` if
    /// it does not lump. A powder that is a humectant itself, such as a hyaluronate, dissolves by
    /// itself where it is strewn on water and left to stand, so that it is only told where a
    /// medium is there before the water. Common practice, no source.
    pub(crate) fn of<'m>(
        phase: impl Iterator<Item = (ItemId, &'m Material)>,
        line: ItemId,
    ) -> Option<Self> {
        let phase: Vec<_> = phase.collect();
        let place = phase.iter().position(|(id, _)| *id == line)?;
        let (_, powder) = *phase.get(place)?;
        if powder.wet_with.is_empty() {
            return None;
        }
        let medium = |(_, m): &&(ItemId, &Material)| wets(m, powder);
        let watery = |m: &Material| m.share_of(Class::Water).value() > WATERY && !wets(m, powder);
        let first_water = phase.iter().position(|(_, m)| watery(m));
        let dry = first_water.unwrap_or(phase.len());
        let before = phase.iter().take(dry).find(medium);
        if let Some((id, _)) = before.filter(|_| place < dry) {
            return Some(Self::Before(*id));
        }
        let humectant = |c: &Constituent| c.class == Class::Humectant;
        if powder.main_constituent().is_some_and(humectant) {
            return None;
        }
        let anywhere = phase.iter().find(medium);
        Some(anywhere.map_or(Self::Missing, |(id, _)| Self::After(*id)))
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
        .filter(|c| substances::find(c.inci.spelling(), c.cas).is_some_and(is_strong));
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
        assert_eq!(table.len(), Hazard::ALL.len());
        for hazard in Hazard::ALL {
            assert!(!equipment(hazard).is_empty() && !mind(hazard, false).is_empty());
        }
        assert!(mind(Hazard::Corrosive, true).contains("add it to water, never water to it"));
        assert!(!mind(Hazard::Corrosive, false).contains("water to it"));
        assert_eq!(equipment(Hazard::Dust), ["dust mask", "eye protection"]);
    }

    fn on_the_shelf(name: &str) -> std::sync::Arc<Material> {
        let shelf = crate::shelf::built_in::shelf();
        let material = shelf.iter().find(|m| &*m.name == name);
        material.expect(name).clone()
    }

    /// Wetting of the second line, of a phase of these materials in this order.
    fn wetted(names: &[&str]) -> Option<Wetting> {
        let materials: Vec<_> = names.iter().map(|n| on_the_shelf(n)).collect();
        let lines = (0..).map(ItemId).zip(materials.iter().map(AsRef::as_ref));
        Wetting::of(lines, ItemId(1))
    }

    /// Common practice, no source.
    #[test]
    fn powders_are_wetted_before_water_or_told() {
        use Wetting::{After, Before, Missing};
        let (gum, water, glycerin) = ("Xanthan gum", "Water, demineralised", "Glycerin 99.5 %");
        assert_eq!(wetted(&[glycerin, gum, water]), Some(Before(ItemId(0))));
        // The medium may follow the gum as long as both come before the water.
        let oil = "Sunflower seed oil";
        assert_eq!(wetted(&[oil, gum, glycerin]), Some(Before(ItemId(0))));
        assert_eq!(wetted(&[water, gum, glycerin]), Some(After(ItemId(2))));
        assert_eq!(wetted(&[water, gum]), Some(Missing));
        assert_eq!(wetted(&[glycerin, water]), None);
        // A humectant that is a powder itself wets nothing.
        for powder in [
            "Sodium hyaluronate powder",
            "Xylitol powder",
            "Trehalose powder",
        ] {
            assert_eq!(wetted(&[powder, gum, water]), Some(Missing), "{powder}");
        }
        // A hyaluronate dissolves by itself where nothing wets it in time.
        let hyaluronate = "Sodium hyaluronate powder";
        let before = wetted(&[glycerin, hyaluronate, water]);
        assert_eq!(before, Some(Before(ItemId(0))));
        assert_eq!(wetted(&[water, hyaluronate, glycerin]), None);
        assert_eq!(wetted(&[water, hyaluronate]), None);
    }

    #[test]
    fn half_a_kelvin_is_not_told() {
        let bears_80 = Material {
            max_temperature: Some(crate::material::Sourced::new(
                crate::quantity::celsius(80.0),
                crate::material::Source::new(crate::material::Basis::Practice, ""),
            )),
            ..Material::unknown(crate::material::MaterialId::from_name("m"), "M")
        };
        let hot = |at: f64| is_too_hot(&bears_80, crate::quantity::celsius(at));
        assert!(!hot(80.0) && !hot(80.4) && hot(81.0));
    }

    #[test]
    fn only_strong_acids_and_lyes_heat_up() {
        let heats = |name: &str| heats_with_water(&on_the_shelf(name));
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
