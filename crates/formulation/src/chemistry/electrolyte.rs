//! Electrolyte and charge: salt in equivalents of sodium chloride, ionic strength, and
//! the proportions of the surfactants.

use std::sync::Arc;

use super::acidity::Acidity;
use super::figure::Figure;
use super::mix::{Mix, MixConstituent};
use super::substances::{Brings, SODIUM_CHLORIDE_G_PER_MOL, Substance};
use crate::material::{Charge, Class};
use crate::quantity::MassFraction;

/// The method, in words.
pub const METHOD: &str =
    "inorganic salts of all materials by equivalents of charge, as sodium chloride";
/// Its range, in words.
pub const VALIDITY: &str = "salt that data sheets list; counter-ions of surfactants and organic salts are not counted here but in the ionic strength of what dissolves";
/// Its sources, in words.
pub const SOURCE: &str = "arithmetic on the composition of the materials";

/// Electrolyte and charge of a mix.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Electrolyte {
    /// Inorganic salt in % of sodium chloride.
    pub nacl_percent: Figure,
    /// The part of it that materials other than salts bring, %.
    pub from_materials_percent: f64,
    /// Organic salts (benzoate, citrate, lactate …) in % of sodium chloride.
    pub organic_percent: f64,
    /// The part of it that goes in as salt, without what acids and lyes form with each other, %.
    pub organic_added_percent: f64,
    /// Ionic strength of the water phase, mol/kg; ions of surfactants left out.
    pub ionic_strength: Option<f64>,
    /// Active matter by charge, % of the formula, in the order of [`Charge::ALL`].
    pub active_percent: [f64; 4],
    /// Moles of positive charge of cationic substances over moles of anionic surfactant; none
    /// if either is missing or a molar mass is not known.
    pub cationic_per_anionic: Option<f64>,
    /// Charged substances without a known molar mass.
    pub unknown_molar_mass: Vec<Arc<str>>,
}

/// Equivalents of positive strong charge per mole, ammonium included.
fn equivalents(substance: &Substance) -> f64 {
    substance
        .brings
        .iter()
        .map(|b| match *b {
            Brings::Strong(ion, n) if ion.charge() > 0 => n * f64::from(ion.charge()),
            Brings::Weak(super::acids::Family::Ammonia, n) => n,
            _ => 0.0,
        })
        .sum()
}

/// Estimates electrolyte and charge.
pub fn estimate(mix: &Mix<'_>, acidity: &Acidity) -> Electrolyte {
    let mut found = Electrolyte {
        nacl_percent: Figure::of(METHOD, VALIDITY, SOURCE),
        ionic_strength: acidity.ionic_strength,
        active_percent: Charge::ALL.map(|c| mix.composition.active(c).typical.as_percent()),
        ..Electrolyte::default()
    };
    let (mut low, mut typical, mut high) = (0.0, 0.0, 0.0);
    for part in &mix.parts {
        let as_salt = |share: MassFraction| match part.substance {
            Some(s) => {
                share.as_percent() * equivalents(s) / s.molar_mass * SODIUM_CHLORIDE_G_PER_MOL
            }
            None => share.as_percent(),
        };
        let share = part.amount.share;
        match part.amount.class {
            Class::Electrolyte => {
                low += as_salt(share.low);
                typical += as_salt(share.typical);
                high += as_salt(share.high);
                if part.substance.is_none() && share.typical > MassFraction::ZERO {
                    found
                        .nacl_percent
                        .unknown
                        .push(part.amount.inci.clone().into());
                }
                found.from_materials_percent += from_materials(mix, part, as_salt);
            }
            Class::AcidBase | Class::Preservative | Class::Chelator | Class::Humectant
                if part.substance.is_some() =>
            {
                let salt = as_salt(share.typical);
                found.organic_percent += salt;
                // A lye has no acid of its own.
                let weak = |b: &Brings| matches!(b, Brings::Weak(..));
                if part.substance.is_some_and(|s| s.brings.iter().any(weak)) {
                    found.organic_added_percent += salt;
                }
            }
            _ => {}
        }
    }
    // Of nothing, nothing is known.
    if !mix.parts.is_empty() {
        found.nacl_percent = found.nacl_percent.with(typical, low, high);
    }
    if !found.nacl_percent.unknown.is_empty() {
        found
            .nacl_percent
            .remarks
            .push("salts of unknown molar mass are counted gram for gram".to_owned());
    }
    charge_ratio(mix, &mut found);
    found
}

/// Salt that comes in with materials of which salt is a minor part.
fn from_materials(
    mix: &Mix<'_>,
    part: &MixConstituent<'_>,
    as_salt: impl Fn(MassFraction) -> f64,
) -> f64 {
    part.amount
        .from
        .iter()
        .filter(|(id, share)| {
            mix.line(*id)
                .is_some_and(|l| share.value() < 0.5 * l.share())
        })
        .map(|(_, share)| as_salt(*share))
        .sum()
}

fn charge_ratio(mix: &Mix<'_>, found: &mut Electrolyte) {
    let (mut anionic, mut cationic) = (0.0, 0.0);
    for part in &mix.parts {
        let share = part.amount.share.typical.value();
        let sum = match part.amount.class {
            Class::Surfactant(Charge::Anionic) => &mut anionic,
            Class::Surfactant(Charge::Cationic) | Class::Conditioner => &mut cationic,
            _ => continue,
        };
        if share <= 0.0 {
            continue;
        }
        match part.substance {
            Some(substance) => *sum += 1000.0 * share / substance.molar_mass,
            None => found
                .unknown_molar_mass
                .push(part.amount.inci.clone().into()),
        }
    }
    if anionic > 0.0 && cationic > 0.0 && found.unknown_molar_mass.is_empty() {
        found.cationic_per_anionic = Some(cationic / anionic);
    }
}
