//! Water activity of a mixture of water with humectants, sugars and salts, 25 °C.
//!
//! Each solute lowers the activity of water by itself: humectants and sugars by the
//! equation of Norrish (J. Food Technol. 1 (1966) 25), salts by that of Pitzer
//! (parameters of Pitzer and Mayorga, J. Phys. Chem. 77 (1973) 2300, from memory).
//! For the mixture the activities multiply, each taken at the molality in all the
//! water (K. D. Ross, Food Technol. 29 (1975) 26). The rule is usually good to 0.01
//! above 0.9 and to 0.03 down to about 0.7.
//!
//! What cannot dissolve does not count: each solute is taken at its solubility at most,
//! where the activity of water is the published one over its saturated solution.

use super::figure::Figure;
use super::mix::{Mix, MixConstituent};
use super::substances::{Brings, Substance, WATER_G_PER_MOL, WaterEffect};
use super::water_limits::{FILM, LEAST_LIQUID, NO_ACTIVITY};
use crate::material::{Class, Constituent};

/// Moles of water in a kilogram.
pub const WATER_MOLALITY: f64 = 1000.0 / WATER_G_PER_MOL;
/// Pitzer's Debye-Hückel constant for the osmotic coefficient at 25 °C, (kg/mol)^½
/// (Pitzer, Activity Coefficients in Electrolyte Solutions, 1991).
const PITZER_A: f64 = 0.3915;
/// Below this the mixing rule is far outside the data it was tested on.
pub const LOWEST_TESTED: f64 = 0.7;

/// The method, in words.
pub const METHOD: &str = "Ross's product of the single activities; Norrish for humectants and sugars, Pitzer for salts; 25 °C";
/// Its range, in words.
pub const VALIDITY: &str = "about ±0.01 above 0.9, ±0.03 down to 0.7 and more below; surfactants and polymers are not counted";
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

/// Water activity of one solute in water at a molality in mol/kg, 0 or more: above 0 and at
/// most 1 for every input.
pub fn of_solute(substance: &Substance, molality: f64) -> f64 {
    of_dissolved(substance, molality, saturation_molality(substance))
}

/// The same where up to `most` is known to be dissolved, which may be more than a saturated
/// solution holds: a syrup does not crystallise.
fn of_dissolved(substance: &Substance, molality: f64, most: f64) -> f64 {
    if !molality.is_finite() || molality <= 0.0 {
        return 1.0;
    }
    let a_w = if most > saturation_molality(substance) {
        by_equation(substance, molality.min(most))
    } else {
        beyond_fit(substance, molality)
            .unwrap_or_else(|| by_equation(substance, molality.min(most)).max(floor(substance)))
    };
    a_w.clamp(LEAST, 1.0)
}

/// What an unsaturated solution lies above: the published activity over the saturated one.
fn floor(substance: &Substance) -> f64 {
    let published = substance.saturation.and_then(|s| s.water_activity);
    published.unwrap_or(0.0)
}

/// Molality in mol/kg up to which a sugar or humectant is dissolved in a mix: its solubility,
/// or the strength of the syrup in which it is sold.
fn dissolved_molality(mix: &Mix<'_>, part: &MixConstituent<'_>, substance: &Substance) -> f64 {
    /// With less water a material is a solid with its moisture or crystal water.
    const SYRUP_WATER: f64 = 0.1;
    let saturated = saturation_molality(substance);
    if !matches!(substance.water, WaterEffect::Norrish { .. }) || !saturated.is_finite() {
        return saturated;
    }
    let sold = part.amount.from.iter().filter_map(|(id, _)| {
        let material = mix.line(*id)?.material.as_deref()?;
        let water = material.share_of(Class::Water).value();
        let is_it = |c: &&Constituent| c.inci.same_as(&part.amount.inci);
        let own = material.constituents.iter().find(is_it)?;
        let per_kg = 1000.0 * own.share.typical.value() / water.max(SYRUP_WATER);
        (water > SYRUP_WATER).then_some(per_kg / substance.molar_mass)
    });
    sold.fold(saturated, f64::max)
}

/// Molality of the saturated solution; infinite if it is not known.
fn saturation_molality(substance: &Substance) -> f64 {
    substance
        .saturation
        .map_or(f64::INFINITY, |s| s.g_per_kg / substance.molar_mass)
}

/// Between the end of the fit of a salt and its saturated solution: along a straight line of
/// the logarithm. Above, and for other solutes from the saturated solution on, the value of
/// the saturated solution.
fn beyond_fit(substance: &Substance, molality: f64) -> Option<f64> {
    let saturated = saturation_molality(substance);
    let published = substance.saturation?.water_activity?;
    if molality >= saturated {
        return Some(published);
    }
    let WaterEffect::Pitzer { most, .. } = substance.water else {
        return None;
    };
    if molality <= most || most >= saturated {
        return None;
    }
    let start = by_equation(substance, most).ln();
    let way = (molality - most) / (saturated - most);
    Some((start + way * (published.ln() - start)).exp())
}

fn by_equation(substance: &Substance, molality: f64) -> f64 {
    match substance.water {
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
                    Brings::Solid(..) => 0.0,
                })
                .sum();
            let like_salt = molality * particles / 2.0;
            let phi = osmotic(like_salt.min(6.0), 1.0, 1.0, [0.0765, 0.2664, 0.00127]);
            (-phi * particles * molality / WATER_MOLALITY).exp()
        }
        WaterEffect::Negligible => 1.0,
    }
}

/// No mixture that holds water has none to give.
const LEAST: f64 = 0.001;
/// Error of the rule of mixing where more than one solute is saturated: each lowers the
/// solubility of the others or raises it. Our assumption, no source.
const ERROR_SATURATED: f64 = 0.06;
/// The same where one is, alone, and its saturated solution has a published figure: such tables
/// agree within 0.02 (Wexler's equation in the CRC Handbook).
const ERROR_PUBLISHED: f64 = 0.02;
/// Share from which a solute without data is named and widens the range.
const WORTH_NAMING: f64 = 0.005;
/// Molar mass of a small solute, for the lower end of the range of those without data.
const SMALL_SOLUTE: f64 = 60.0;
/// The same of a salt, acid or base, by its particles: sodium chloride has 29.
const SMALL_SALT: f64 = 30.0;
/// How much further the rule of mixing is off below the data it was tested on, per unit of
/// activity. Our assumption, no source.
const ERROR_BELOW: f64 = 0.2;

/// Whether a solute is saturated and the activity over its saturated solution is published.
fn is_published(substance: &Substance, molality: f64) -> bool {
    let told = substance.saturation.and_then(|s| s.water_activity);
    told.is_some() && molality >= saturation_molality(substance)
}

/// Estimates the water activity of a mix.
pub fn estimate(mix: &Mix<'_>, measured: Option<f64>) -> Figure {
    let mut figure = Figure::of(METHOD, VALIDITY, SOURCE);
    figure.measured = measured;
    if mix.water < NO_ACTIVITY {
        figure.in_range = false;
        figure
            .remarks
            .push("no water in the mix, so its activity is not estimated".to_owned());
        return figure;
    }
    let mut a_w = 1.0;
    let mut without_data = 0.0;
    let mut moles_without_data = 0.0;
    let mut rough = 0.0;
    let mut saturated: Vec<&str> = Vec::new();
    let (mut solutes, mut published) = (0, 0);
    let mut liquid = mix.water;
    for part in &mix.parts {
        let share = part.amount.share.typical.value();
        match part.substance {
            Some(substance) if substance.is_water() => {}
            Some(substance) => {
                let molality = mix.molality(substance, share);
                let most = dissolved_molality(mix, part, substance);
                let single = of_dissolved(substance, molality, most);
                a_w *= single;
                if is_published(substance, molality) {
                    published += usize::from(single < 0.98);
                } else {
                    rough += substance.roughness() * (1.0 - single);
                }
                if single < 1.0 {
                    liquid += share * (most / molality).min(1.0);
                    solutes += usize::from(single < 0.98);
                }
                if molality > most && share >= WORTH_NAMING {
                    saturated.push(substance.name());
                }
            }
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
                    without_data += share;
                    moles_without_data += share
                        / match part.amount.class {
                            Class::Electrolyte | Class::AcidBase => SMALL_SALT,
                            _ => SMALL_SOLUTE,
                        };
                    figure.unknown.push(part.amount.inci.clone().into());
                }
            }
        }
    }
    if mix.water < FILM && liquid < LEAST_LIQUID {
        figure.unknown.clear();
        return figure.without("there is no water phase to speak of: what little water there is sits in powders and oil. Have it measured if it matters");
    }
    let unknown = mix.composition.unknown.value();
    if unknown >= WORTH_NAMING {
        without_data += unknown;
        moles_without_data += unknown / SMALL_SALT;
        figure
            .unknown
            .push(format!("{:.1} % of unknown composition", 100.0 * unknown).into());
    }
    let error = match (saturated.is_empty(), solutes) {
        (false, 2..) => ERROR_SATURATED,
        (false, 1) if published == 1 => ERROR_PUBLISHED,
        _ if a_w >= 0.9 => 0.01,
        _ => 0.03 + ERROR_BELOW * (LOWEST_TESTED - a_w).max(0.0),
    } + rough;
    if !saturated.is_empty() {
        figure.remarks.push(format!(
            "more {} than dissolves at 25 °C; what lies undissolved does not count",
            saturated.join(", ")
        ));
    }
    let a_w = a_w.max(LEAST);
    let small = 1000.0 * moles_without_data / mix.water;
    let low = a_w * WATER_MOLALITY / (WATER_MOLALITY + small) - error;
    figure.in_range = a_w >= LOWEST_TESTED;
    if !figure.in_range {
        figure.remarks.push(format!(
            "below {LOWEST_TESTED} the mixing rule is outside the data it was tested on"
        ));
    }
    let mut figure = figure.with(a_w, low.max(LEAST), (a_w + error).min(1.0));
    // Where more dissolves of what is not known than there is water, as in honey, only the
    // range means anything.
    if without_data > mix.water {
        figure.value = None;
    }
    figure
}

/// Water activity as the mix dries: share of its water that is left in percent, and the
/// activity, in `points` steps from all of it down to a tenth. Empty without water.
pub fn drying(mix: &Mix<'_>, points: usize) -> Vec<[f64; 2]> {
    if mix.water < NO_ACTIVITY || points == 0 {
        return Vec::new();
    }
    (0..=points)
        .map(|i| {
            let left = 1.0 - 0.9 * i as f64 / points as f64;
            let solutes = mix.parts.iter().filter_map(|part| {
                let substance = part.substance.filter(|s| !s.is_water())?;
                let share = part.amount.share.typical.value();
                let molality = mix.molality(substance, share) / left;
                let most = dissolved_molality(mix, part, substance);
                Some(of_dissolved(substance, molality, most))
            });
            [100.0 * left, solutes.product::<f64>().max(LEAST)]
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

    /// Saturated solutions at 25 °C: L. Greenspan, J. Res. Natl. Bur. Stand. 81A (1977) 89, for
    /// most; sodium hydroxide, potassium hydroxide and calcium chloride A. Wexler, Constant
    /// Humidity Solutions, CRC Handbook, whose equation holds within 2 % of relative humidity.
    #[test]
    fn saturated_salts_of_the_published_tables() {
        let saturated = [
            ("Sodium Chloride", 0.7529, 0.002),
            ("Potassium Chloride", 0.8434, 0.002),
            ("Ammonium Chloride", 0.7857, 0.002),
            ("Magnesium Chloride", 0.3278, 0.002),
            ("Potassium Carbonate", 0.4316, 0.002),
            ("Magnesium Nitrate", 0.5289, 0.002),
            ("Ammonium Sulfate", 0.8099, 0.002),
            ("Sodium Hydroxide", 0.060, 0.002),
            ("Potassium Hydroxide", 0.089, 0.002),
            ("Calcium Chloride", 0.285, 0.006),
        ];
        let salts = TABLE.iter().filter(|s| {
            s.saturation.is_some_and(|s| s.water_activity.is_some())
                && s.brings.iter().any(|b| matches!(b, Brings::Strong(..)))
        });
        for salt in salts {
            assert!(
                saturated.iter().any(|(name, ..)| salt.names.contains(name))
                    || ["Maris Sal", "Magnesium Chloride Hexahydrate"].contains(&salt.name()),
                "{} has no published figure",
                salt.name()
            );
        }
        for (name, published, tolerance) in saturated {
            let salt = by_name(name).unwrap();
            for molality in [40.0, 100.0] {
                let found = of_solute(salt, molality);
                assert!((found - published).abs() < tolerance, "{name}: {found}");
            }
            // And it falls on the way there.
            let mut last = 1.0;
            for step in 1..200 {
                let found = of_solute(salt, 0.1 * f64::from(step));
                assert!(
                    found <= last + 0.003,
                    "{name} at {step}: {found} after {last}"
                );
                last = found;
            }
        }
    }

    proptest! {
        #[test]
        fn above_nought_and_never_above_one(
            solutes in prop::collection::vec((0..TABLE.len(), -3.0..4.0_f64), 0..8)
        ) {
            let each = solutes.iter().map(|&(i, log)| of_solute(&TABLE[i], 10.0_f64.powf(log)));
            let a_w: f64 = each.product();
            prop_assert!((0.0..=1.0).contains(&a_w));
            for substance in TABLE {
                prop_assert!(of_solute(substance, 1e4) > 0.0);
            }
        }
    }

    /// A salt nobody knows may be sodium chloride, of whose solution of 10 % the activity is 0.9346
    /// (S. L. Clegg and others, J. Aerosol Sci. 28 (1997)): the range reaches down to it.
    #[test]
    fn an_unknown_salt_may_be_a_small_one() {
        let parts = [
            ("A salt of one's own", 10.0, Class::Electrolyte),
            ("Aqua", 90.0, Class::Water),
        ];
        let own = crate::fixture::material("own", &parts);
        let f = crate::fixture::formula(vec![crate::fixture::line(&own, "100")]);
        let found = crate::chemistry::estimate(&f, f.active()).water_activity;
        assert!(found.low.unwrap() < 0.9346, "{found:?}");
        assert_eq!(found.unknown, ["A salt of one's own".into()]);
    }

    /// Over a saturated solution of a published salt the figure is that of the table, and no
    /// equation makes it rough (L. Greenspan, J. Res. Natl. Bur. Stand. 81A (1977) 89).
    #[test]
    fn a_published_saturated_salt_is_known_well() {
        for (name, published) in [
            ("Potassium Carbonate", 0.4316),
            ("Magnesium Chloride", 0.3278),
        ] {
            let parts = [(name, 75.0, Class::AcidBase), ("Aqua", 25.0, Class::Water)];
            let own = crate::fixture::material(name, &parts);
            let f = crate::fixture::formula(vec![crate::fixture::line(&own, "100")]);
            let found = crate::chemistry::estimate(&f, f.active()).water_activity;
            let (low, high) = (found.low.unwrap(), found.high.unwrap());
            assert!(
                low <= published && published <= high && high - low < 0.05,
                "{found:?}"
            );
        }
    }

    /// The curve begins at the figure, also of syrups, which do not crystallise, and falls.
    #[test]
    fn drying_begins_at_the_figure() {
        let shelf = |name: &str| {
            let found = crate::shelf::built_in().iter().find(|m| &*m.name == name);
            found.unwrap().clone()
        };
        for (name, percent) in [
            ("Honey", "99"),
            ("Sorbitol solution 70 %", "99"),
            ("Glycerin 86 %", "60"),
            ("Sodium chloride", "40"),
        ] {
            let rest = (100.0 - percent.parse::<f64>().unwrap()).to_string();
            let f = crate::fixture::formula(vec![
                crate::fixture::line(&shelf(name), percent),
                crate::fixture::line(&shelf("Water, demineralised"), &rest),
            ]);
            let mixture = crate::mixture::Mixture::of(&f, f.active());
            let composition = crate::composition::Composition::of(&mixture);
            let mix = Mix::new(&mixture, &composition);
            let figure = estimate(&mix, None);
            let curve = drying(&mix, 20);
            let begins = curve[0][1];
            let shown = figure.value.unwrap();
            assert!(
                (begins - shown).abs() < 1e-12,
                "{name}: {begins}, shown {shown}"
            );
            assert!(
                curve.windows(2).all(|w| w[1][1] <= w[0][1] + 1e-9),
                "{name}"
            );
        }
    }

    /// Thermodynamics: of one solute, more lowers the activity of water or, once it is saturated,
    /// leaves it. And citric acid by Norrish's constant comes to the published 0.78 at saturation.
    #[test]
    fn more_of_a_solute_never_raises_it() {
        for substance in TABLE.iter().filter(|s| !s.is_water()) {
            let saturated = saturation_molality(substance);
            let most = if saturated.is_finite() {
                1.5 * saturated
            } else {
                30.0
            };
            let mut before = 1.0;
            for step in 0..=200 {
                let a_w = of_solute(substance, most * f64::from(step) / 200.0);
                assert!(
                    a_w <= before + 1e-9,
                    "{} {step}: {before} to {a_w}",
                    substance.name()
                );
                before = a_w;
            }
        }
        let citric = by_name("Citric Acid").unwrap();
        let nearly = of_solute(citric, 0.999 * saturation_molality(citric));
        assert!((nearly - 0.78).abs() < 0.02, "{nearly}");
    }
}
