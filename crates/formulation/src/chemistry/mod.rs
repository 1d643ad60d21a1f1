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

/// Water activity of a variant as it dries; see [`water_activity::drying`].
pub fn drying_curve(
    formula: &Formula,
    variant: &Variant,
    composition: &Composition,
    points: usize,
) -> Vec<[f64; 2]> {
    water_activity::drying(&mix::Mix::new(formula, variant, composition), points)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use proptest::prelude::*;

    use super::*;
    use crate::composition::compose;
    use crate::finding::Finding;
    use crate::fixture::{self, line, material};
    use crate::formula::Line;
    use crate::material::{Alkalinity, Basis, Class, Material, Source, Sourced, Titration};
    use crate::quantity::{MassFraction, Spread};
    use crate::random_formula;

    fn neutral(name: &str, constituents: &[(&str, f64, Class)]) -> Arc<Material> {
        let mut m = material(name, constituents).as_ref().clone();
        m.alkalinity = Alkalinity::Neutral;
        Arc::new(m)
    }

    fn estimated(lines: Vec<(Arc<Material>, Line)>) -> Estimates {
        let f = fixture::formula(lines);
        estimate(&f, f.active(), &compose(&f, f.active()))
    }

    fn water() -> Arc<Material> {
        neutral("water", &[("Aqua", 100.0, Class::Water)])
    }

    /// IPHREEQC 3.8.6 with the same constants: 0.5 % sodium benzoate, 0.3 % potassium sorbate
    /// and 0.2 % citric acid in water, by mass.
    #[test]
    fn ph_of_a_formula_is_that_of_its_solution() {
        let pure = |name: &str, class| neutral(name, &[(name, 100.0, class)]);
        let found = estimated(vec![
            line(&water(), "99.0"),
            line(&pure("Sodium Benzoate", Class::Preservative), "0.5"),
            line(&pure("Potassium Sorbate", Class::Preservative), "0.3"),
            line(&pure("Citric Acid", Class::AcidBase), "0.2"),
        ]);
        let reference = {
            let text = "case_id,ww\na,sodium_benzoate=0.5;potassium_sorbate=0.3;citric_acid=0.2\n";
            let answers = crate::reference::answer(text, "ph.csv").unwrap();
            answers[0].value.clone().unwrap().parse::<f64>().unwrap()
        };
        let ph = &found.ph.figure;
        assert!((ph.value.unwrap() - reference).abs() < 1e-6, "{ph:?}");
        assert!(ph.unknown.is_empty() && ph.low == ph.high && ph.in_range);
        assert!(found.ph.residual.abs() < 1e-10);
        // Reckoned as the acid: molar masses 122.123 to 144.105 and 112.128 to 150.218.
        let acids = &found.preservation.acids;
        assert!((acids[0].total_percent - 0.5 * 122.123 / 144.105).abs() < 1e-9);
        assert!((acids[1].total_percent - 0.3 * 112.128 / 150.218).abs() < 1e-9);
        assert!(
            acids
                .iter()
                .all(|a| a.undissociated < a.undissociated_ideal)
        );
    }

    #[test]
    fn unknown_alkalinity_gives_a_range_and_no_figure() {
        let glucoside = material(
            "glucoside",
            &[
                (
                    "Decyl Glucoside",
                    51.0,
                    Class::Surfactant(crate::material::Charge::NonIonic),
                ),
                ("Aqua", 49.0, Class::Water),
            ],
        );
        let mut glucoside = glucoside.as_ref().clone();
        glucoside.alkalinity = Alkalinity::Unknown {
            ph_as_sold: crate::quantity::PhRange::new(11.5, 12.5),
            base_mmol_per_gram: None,
            source: Source::new(Basis::Typical, ""),
        };
        let citric = neutral("citric acid", &[("Citric Acid", 100.0, Class::AcidBase)]);
        let lines = |g: Material| {
            vec![
                line(&water(), "79.8"),
                line(&Arc::new(g), "20"),
                line(&citric, "0.2"),
            ]
        };
        let unknown = estimated(lines(glucoside.clone())).ph.figure;
        assert_eq!(unknown.value, None);
        assert!(unknown.low.unwrap() < unknown.high.unwrap());
        assert_eq!(unknown.unknown, ["glucoside".into()]);
        // A titration settles it: 0.05 mmol of acid bring a gram to pH 5.
        glucoside.alkalinity = Alkalinity::Titrated(Sourced::new(
            Titration {
                mmol_acid_per_gram: 0.05,
                to_ph: Ph::new(5.0).unwrap(),
            },
            Source::new(Basis::Measured, "bench"),
        ));
        let known = estimated(lines(glucoside)).ph.figure;
        assert!(known.value.is_some() && known.unknown.is_empty());
    }

    /// A titration to pH 5 with 0.15 mmol of acid per gram says that 90 g of the material and
    /// 13.5 mmol of hydrochloric acid come to pH 5, whatever its constituents tell.
    #[test]
    fn a_titrated_material_comes_to_its_end_point() {
        for citrate in [1.0, 3.0] {
            let mut extract = material(
                "extract",
                &[
                    ("Sodium Citrate", citrate, Class::AcidBase),
                    ("Aqua", 95.0, Class::Water),
                ],
            )
            .as_ref()
            .clone();
            extract.alkalinity = Alkalinity::Titrated(Sourced::new(
                Titration {
                    mmol_acid_per_gram: 0.15,
                    to_ph: Ph::new(5.0).unwrap(),
                },
                Source::new(Basis::Measured, "bench"),
            ));
            // 10 g of 4.9222 % hydrochloric acid are 13.5 mmol.
            let acid = neutral(
                "acid",
                &[
                    ("Hydrochloric Acid", 4.9222, Class::AcidBase),
                    ("Aqua", 95.0778, Class::Water),
                ],
            );
            let found = estimated(vec![line(&Arc::new(extract), "90"), line(&acid, "10")]);
            let ph = found.ph.figure.value.unwrap();
            // The ionic strength of the titration is not told, hence the tolerance.
            assert!((ph - 5.0).abs() < 0.15, "{ph}");
        }
    }

    /// How far phytic acid is dissociated at its own pH is known roughly only.
    #[test]
    fn rough_constants_give_a_range() {
        let phytic = neutral("phytic acid", &[("Phytic Acid", 100.0, Class::AcidBase)]);
        let ph = estimated(vec![line(&water(), "99"), line(&phytic, "1")])
            .ph
            .figure;
        let (low, high) = (ph.low.unwrap(), ph.high.unwrap());
        assert!(
            high - low > 0.05 && (1.0..1.6).contains(&low),
            "{low} to {high}"
        );
        assert_eq!(ph.unknown, ["Phytic Acid".into()]);
    }

    #[test]
    fn measured_values_override() {
        let mut f = fixture::formula(vec![line(&water(), "100")]);
        let mut variant = f.active().as_ref().clone();
        variant.measured.ph = Ph::new(5.5);
        variant.measured.water_activity = Some(0.97);
        variant.measured.density = Some(crate::quantity::kg_per_m3(1020.0));
        f.variants = vec![Arc::new(variant)];
        let found = estimate(&f, f.active(), &compose(&f, f.active()));
        assert_eq!(found.ph.figure.shown(), Some(5.5));
        assert_eq!(found.water_activity.shown(), Some(0.97));
        assert!((found.density.shown().unwrap() - 1020.0).abs() < 1e-9);
        assert!((found.density.value.unwrap() - 998.2).abs() < 0.1);
    }

    #[test]
    fn no_water_no_ph_and_no_water_activity() {
        let oil = material("oil", &[("Helianthus Annuus Seed Oil", 100.0, Class::Oil)]);
        let found = estimated(vec![line(&oil, "100")]);
        assert!(!found.ph.figure.is_known() && !found.water_activity.is_known());
        assert!(
            found
                .density
                .value
                .is_some_and(|d| (860.0..970.0).contains(&d))
        );
        let empty = estimated(vec![]);
        assert!(!empty.density.is_known());
        assert!(!empty.natural_origin.with_water.is_known());
    }

    /// Volume of mixing by the tables: 50 % glycerin in water is 1126.3 kg/m³ at 20 °C (Bosart
    /// and Snoddy 1927).
    #[test]
    fn density_of_a_formula_is_that_of_its_solution() {
        let glycerin = material("glycerin", &[("Glycerin", 100.0, Class::Humectant)]);
        let found = estimated(vec![line(&water(), "50"), line(&glycerin, "50")]);
        assert!((found.density.value.unwrap() - 1126.3).abs() < 0.3);
        // Norrish with K = 1.16 gives 0.8108 for the same mixture.
        assert!((found.water_activity.value.unwrap() - 0.8108).abs() < 1e-4);
    }

    /// The worked example on public pages about ISO 16128: jojoba oil 50 at 1.0, coco-glucoside
    /// 25 at 0.8, water 23, synthetic preservative 2 at 0: 93 %.
    #[test]
    fn natural_origin_of_the_published_example() {
        let with = |name: &str, class, index: f64| {
            let mut m = material(name, &[(name, 100.0, class)]).as_ref().clone();
            m.natural_origin = Some(Sourced::new(
                crate::material::NaturalOrigin {
                    low: index,
                    high: index,
                },
                Source::new(Basis::Supplier, ""),
            ));
            Arc::new(m)
        };
        let non_ionic = Class::Surfactant(crate::material::Charge::NonIonic);
        let found = estimated(vec![
            line(&with("Jojoba", Class::Oil, 1.0), "50"),
            line(&with("Coco-Glucoside", non_ionic, 0.8), "25"),
            line(&water(), "23"),
            line(&with("Synthetic", Class::Preservative, 0.0), "2"),
        ])
        .natural_origin;
        assert!((found.with_water.value.unwrap() - 0.93).abs() < 1e-12);
        assert!((found.without_water.value.unwrap() - 70.0 / 77.0).abs() < 1e-12);
    }

    /// 10 % of a betaine with 5 % salt and 1 % of salt: 1.5 %. Magnesium chloride brings two
    /// equivalents of 58.443 g for 95.211 g.
    #[test]
    fn salt_of_all_materials_in_sodium_chloride() {
        let betaine = material(
            "betaine",
            &[
                (
                    "Cocamidopropyl Betaine",
                    30.0,
                    Class::Surfactant(crate::material::Charge::Amphoteric),
                ),
                ("Sodium Chloride", 5.0, Class::Electrolyte),
                ("Aqua", 65.0, Class::Water),
            ],
        );
        let salt = neutral("salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
        let magnesium = neutral(
            "magnesium chloride",
            &[("Magnesium Chloride", 100.0, Class::Electrolyte)],
        );
        let found = estimated(vec![
            line(&water(), "88"),
            line(&betaine, "10"),
            line(&salt, "1"),
            line(&magnesium, "1"),
        ])
        .electrolyte;
        let expected = 1.5 + 2.0 * 58.443 / 95.211;
        assert!((found.nacl_percent.value.unwrap() - expected).abs() < 1e-9);
        assert!((found.from_materials_percent - 0.5).abs() < 1e-9);
    }

    #[test]
    fn too_little_undissociated_acid_is_found() {
        let benzoate = neutral(
            "benzoate",
            &[("Sodium Benzoate", 100.0, Class::Preservative)],
        );
        let mut f = fixture::formula(vec![line(&water(), "99.5"), line(&benzoate, "0.5")]);
        let mut variant = f.active().as_ref().clone();
        variant.measured.ph = Ph::new(6.5);
        f.variants = vec![Arc::new(variant)];
        let found = estimate(&f, f.active(), &compose(&f, f.active()));
        let mut list: Vec<Finding> = Vec::new();
        findings(&found, &f, f.active(), &mut list);
        let finding = list
            .iter()
            .find(|x| x.rule.as_ref() == "undissociated-acid-low")
            .unwrap();
        assert!(finding.message.contains("challenge test"));
        assert_eq!(finding.lines.len(), 1);
    }

    fn in_bounds(found: &Estimates) -> Result<(), TestCaseError> {
        let a_w = found.water_activity.value.unwrap_or(0.5);
        prop_assert!((0.0..=1.0).contains(&a_w));
        prop_assert!(found.ph.residual.abs() < 1e-10);
        for figure in [
            &found.ph.figure,
            &found.water_activity,
            &found.density,
            &found.electrolyte.nacl_percent,
            &found.natural_origin.with_water,
            &found.natural_origin.without_water,
            &found.emulsion.required,
        ] {
            let (low, high) = (figure.low.unwrap_or(0.0), figure.high.unwrap_or(0.0));
            prop_assert!(low.is_finite() && high.is_finite() && low <= high);
            if let Some(value) = figure.value {
                prop_assert!(value.is_finite() && low - 1e-9 <= value && value <= high + 1e-9);
            }
        }
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn every_estimate_returns_on_any_formula(seed in any::<u64>()) {
            let f = random_formula::formula(seed);
            for variant in &f.variants {
                in_bounds(&estimate(&f, variant, &compose(&f, variant)))?;
            }
        }

        #[test]
        fn every_estimate_returns_on_mixes_of_the_shelf(
            picks in prop::collection::vec((any::<prop::sample::Index>(), 0..60_000_000_i64), 0..12)
        ) {
            let shelf: Vec<_> = crate::shelf::built_in().iter().cloned().collect();
            let lines = picks.iter().map(|(index, units)| {
                let mut l = line(index.get(&shelf), "0");
                l.1.percent = crate::quantity::Percent::from_units(*units);
                l
            });
            in_bounds(&estimated(lines.collect()))?;
        }

        /// More citric acid never raises the estimated pH.
        #[test]
        fn acid_never_raises_the_estimate(
            base in 0.0..2.0_f64,
            salt in 0.0..1.0_f64,
            acid in 0.0..2.0_f64,
            more in 0.01..1.0_f64,
        ) {
            let ph = |acid: f64| {
                let share = |name: &'static str, percent: f64, class| (name, percent, class);
                let mixture = neutral("mixture", &[
                    share("Aqua", 94.0, Class::Water),
                    share("Triethanolamine", base, Class::AcidBase),
                    share("Sodium Benzoate", salt, Class::Preservative),
                    share("Citric Acid", acid, Class::AcidBase),
                ]);
                estimated(vec![line(&mixture, "100")]).ph.middle.unwrap()
            };
            prop_assert!(ph(acid + more) <= ph(acid) + 1e-9);
        }
    }

    #[test]
    fn spreads_of_composition_widen_the_range() {
        let mut lactate = material("lactic acid 80", &[("Aqua", 20.0, Class::Water)])
            .as_ref()
            .clone();
        lactate.constituents.push(crate::material::Constituent {
            inci: "Lactic Acid".into(),
            cas: None,
            share: Spread {
                low: MassFraction::new(0.7),
                typical: MassFraction::new(0.8),
                high: MassFraction::new(0.9),
            },
            class: Class::AcidBase,
            incidental: None,
            source: None,
        });
        lactate.alkalinity = Alkalinity::Neutral;
        let found = estimated(vec![line(&water(), "99"), line(&Arc::new(lactate), "1")]);
        let ph = found.ph.figure;
        assert!(ph.low.unwrap() < ph.value.unwrap() && ph.value.unwrap() < ph.high.unwrap());
    }
}
