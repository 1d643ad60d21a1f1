//! Water activity of a mixture of water with humectants, sugars and salts, 25 °C.
//!
//! Each solute lowers the activity of water by itself: humectants and sugars by the
//! equation of Norrish (J. Food Technol. 1 (1966) 25), salts by that of Pitzer
//! (parameters of Pitzer and Mayorga, J. Phys. Chem. 77 (1973) 2300, from memory).
//! For the mixture the activities multiply, each taken at the molality in all the
//! water (K. D. Ross, Food Technol. 29 (1975) 26). The rule is usually good to 0.01
//! above 0.9 and to 0.03 down to about 0.7.

use super::figure::Figure;
use super::mix::Mix;
use super::substances::{Brings, Substance, WaterEffect};
use crate::material::Class;

/// Moles of water in a kilogram.
pub const WATER_MOLALITY: f64 = 1000.0 / 18.01528;
/// Pitzer's Debye-Hückel constant for the osmotic coefficient at 25 °C, (kg/mol)^½
/// (Pitzer, Activity Coefficients in Electrolyte Solutions, 1991).
const PITZER_A: f64 = 0.3915;
/// Below this the mixing rule is far outside the data it was tested on.
pub const LOWEST_TESTED: f64 = 0.7;

/// The method, in words.
pub const METHOD: &str = "Ross's product of the single activities; Norrish for humectants and sugars, Pitzer for salts; 25 °C";
/// Its range, in words.
pub const VALIDITY: &str =
    "about ±0.01 above 0.9 and ±0.03 down to 0.7; surfactants and polymers are not counted";
/// Its sources, in words.
pub const SOURCE: &str =
    "K. D. Ross 1975; Norrish constants of J. Chirife; Pitzer and Mayorga 1973";

/// Lowest water activity at which a group of organisms grows.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct GrowthLimit {
    /// The organisms.
    pub group: &'static str,
    /// Water activity below which they do not grow.
    pub least: f64,
}

/// Growth limits by group: United States Pharmacopeia, chapter 1112 (Application of
/// water activity determination to nonsterile products), and FDA, Water Activity in
/// Foods (Inspection Technical Guide 39); values from memory.
pub const GROWTH_LIMITS: &[GrowthLimit] = &[
    GrowthLimit {
        group: "Pseudomonas aeruginosa",
        least: 0.97,
    },
    GrowthLimit {
        group: "Escherichia coli",
        least: 0.95,
    },
    GrowthLimit {
        group: "most bacteria",
        least: 0.91,
    },
    GrowthLimit {
        group: "most yeasts",
        least: 0.87,
    },
    GrowthLimit {
        group: "Staphylococcus aureus",
        least: 0.86,
    },
    GrowthLimit {
        group: "most moulds",
        least: 0.80,
    },
    GrowthLimit {
        group: "salt-loving bacteria",
        least: 0.75,
    },
    GrowthLimit {
        group: "dry-loving moulds",
        least: 0.65,
    },
    GrowthLimit {
        group: "sugar-loving yeasts",
        least: 0.60,
    },
];

/// Water activity of one solute in water at a molality in mol/kg, 0 or more. Between 0
/// and 1 for every input.
pub fn of_solute(substance: &Substance, molality: f64) -> f64 {
    if !molality.is_finite() || molality <= 0.0 {
        return 1.0;
    }
    let a_w = match substance.water {
        WaterEffect::Norrish { k, .. } => {
            let x = molality / (molality + WATER_MOLALITY);
            (1.0 - x) * (-k * x * x).exp()
        }
        WaterEffect::Pitzer {
            cation,
            anion,
            parameters,
            most,
        } => {
            let (cations, anions) = stoichiometry(cation, anion);
            let phi = osmotic(molality.min(most), cation, anion, parameters);
            (-phi * (cations + anions) * molality / WATER_MOLALITY).exp()
        }
        WaterEffect::AsSodiumChloride => {
            let particles: f64 = substance
                .brings
                .iter()
                .map(|b| match *b {
                    Brings::Weak(_, n) | Brings::Strong(_, n) => n,
                })
                .sum();
            let like_salt = molality * particles / 2.0;
            let phi = osmotic(like_salt.min(6.0), 1.0, 1.0, [0.0765, 0.2664, 0.00127]);
            (-phi * particles * molality / WATER_MOLALITY).exp()
        }
        WaterEffect::Negligible => 1.0,
    };
    a_w.clamp(0.0, 1.0)
}

/// Water activity of a mixture of solutes, each with its molality in all the water.
pub fn of_mixture(solutes: impl IntoIterator<Item = (&'static Substance, f64)>) -> f64 {
    solutes
        .into_iter()
        .map(|(substance, molality)| of_solute(substance, molality))
        .product()
}

/// Share from which a solute without data is named and widens the range.
const WORTH_NAMING: f64 = 0.005;
/// Molar mass of a small solute, for the lower end of the range of those without data.
const SMALL_SOLUTE: f64 = 60.0;
/// Below this share of water there is nothing to compute.
const NO_WATER: f64 = 0.001;

/// Estimates the water activity of a mix.
pub fn estimate(mix: &Mix<'_>, measured: Option<f64>) -> Figure {
    let mut figure = Figure::of(METHOD, VALIDITY, SOURCE);
    figure.measured = measured;
    if mix.water < NO_WATER {
        figure.in_range = false;
        figure
            .remarks
            .push("no water in the mix, so its activity is not estimated".to_owned());
        return figure;
    }
    let mut a_w = 1.0;
    let mut untold = 0.0;
    for part in &mix.parts {
        let share = part.amount.share.typical.value();
        match part.substance {
            Some(substance) if substance.is_water() => {}
            Some(substance) => a_w *= of_solute(substance, mix.molality(substance, share)),
            None => {
                let dissolves = matches!(
                    part.amount.class,
                    Class::Humectant
                        | Class::Electrolyte
                        | Class::AcidBase
                        | Class::Solvent
                        | Class::Other
                );
                if dissolves && share >= WORTH_NAMING {
                    untold += share;
                    figure.unknown.push(part.amount.inci.clone());
                }
            }
        }
    }
    let unknown = mix.composition.unknown.value();
    if unknown >= WORTH_NAMING {
        untold += unknown;
        figure
            .unknown
            .push(format!("{:.1} % of unknown composition", 100.0 * unknown).into());
    }
    let error = if a_w >= 0.9 { 0.01 } else { 0.03 };
    let small = 1000.0 * untold / SMALL_SOLUTE / mix.water;
    let low = a_w * WATER_MOLALITY / (WATER_MOLALITY + small) - error;
    figure.in_range = a_w >= LOWEST_TESTED;
    if !figure.in_range {
        figure.remarks.push(format!(
            "below {LOWEST_TESTED} the mixing rule is outside the data it was tested on"
        ));
    }
    figure.with(a_w, low.max(0.0), (a_w + error).min(1.0))
}

/// Water activity as the mix dries: share of its water that is left in percent, and the
/// activity, in `points` steps from all of it down to a tenth. Empty without water.
pub fn drying(mix: &Mix<'_>, points: usize) -> Vec<[f64; 2]> {
    if mix.water < NO_WATER || points == 0 {
        return Vec::new();
    }
    (0..=points)
        .map(|i| {
            let left = 1.0 - 0.9 * i as f64 / points as f64;
            let solutes = mix.parts.iter().filter_map(|part| {
                let substance = part.substance.filter(|s| !s.is_water())?;
                let share = part.amount.share.typical.value();
                Some((substance, mix.molality(substance, share) / left))
            });
            [100.0 * left, of_mixture(solutes)]
        })
        .collect()
}

fn stoichiometry(cation: f64, anion: f64) -> (f64, f64) {
    if cation == anion {
        (1.0, 1.0)
    } else {
        (anion, cation)
    }
}

/// Osmotic coefficient by Pitzer's equation, molality in mol/kg.
fn osmotic(molality: f64, cation: f64, anion: f64, [b0, b1, c]: [f64; 3]) -> f64 {
    let (cations, anions) = stoichiometry(cation, anion);
    let ions = cations + anions;
    let ionic = 0.5 * molality * (cations * cation * cation + anions * anion * anion);
    let root = ionic.sqrt();
    let long_range = -PITZER_A * root / (1.0 + 1.2 * root);
    let second = b0 + b1 * (-2.0 * root).exp();
    1.0 + cation * anion * long_range
        + molality * (2.0 * cations * anions / ions) * second
        + molality * molality * (2.0 * (cations * anions).powf(1.5) / ions) * c
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::substances::{TABLE, by_name};
    use super::*;

    /// Robinson and Stokes, Electrolyte Solutions, 1959, sodium chloride at 25 °C:
    /// molality and water activity from the osmotic coefficients.
    #[test]
    fn sodium_chloride_of_robinson_and_stokes() {
        let salt = by_name("Sodium Chloride").unwrap();
        for (molality, published) in [
            (0.1, 0.9966),
            (0.5, 0.9835),
            (1.0, 0.9669),
            (2.0, 0.9316),
            (3.0, 0.8932),
            (4.0, 0.8515),
            (5.0, 0.8068),
            (6.0, 0.7598),
        ] {
            let found = of_solute(salt, molality);
            assert!((found - published).abs() < 0.001, "{molality}: {found}");
        }
    }

    /// Robinson and Stokes 1959, appendix 8.3, osmotic coefficients at 25 °C, from memory:
    /// MgCl2 1 mol/kg 1.108, CaCl2 1 mol/kg 1.046, Na2SO4 1 mol/kg 0.642, KCl 1 mol/kg 0.897.
    #[test]
    fn other_salts_of_robinson_and_stokes() {
        for (name, ions, published) in [
            ("Magnesium Chloride", 3.0, 1.108),
            ("Calcium Chloride", 3.0, 1.046),
            ("Sodium Sulfate", 3.0, 0.642),
            ("Potassium Chloride", 2.0, 0.897),
        ] {
            let a_w = of_solute(by_name(name).unwrap(), 1.0);
            let phi = -a_w.ln() * WATER_MOLALITY / ions;
            assert!((phi - published).abs() < 0.01, "{name}: {phi}");
        }
    }

    proptest! {
        #[test]
        fn never_above_one(
            solutes in prop::collection::vec((0..TABLE.len(), -3.0..4.0_f64), 0..8)
        ) {
            let mixture = solutes.iter().map(|&(i, log)| (&TABLE[i], 10.0_f64.powf(log)));
            let a_w = of_mixture(mixture);
            prop_assert!((0.0..=1.0).contains(&a_w));
        }
    }
}
