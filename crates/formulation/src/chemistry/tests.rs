use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::fixture::{self, line, material};
use crate::formula::Line;
use crate::material::{
    Alkalinity, Basis, Charge, Class, Material, PhaseKind, Role, Source, Sourced, Titration,
};
use crate::quantity::{MassFraction, Spread};
use crate::random_formula;

fn neutral(name: &str, constituents: &[(&str, f64, Class)]) -> Arc<Material> {
    let mut m = material(name, constituents).as_ref().clone();
    m.alkalinity = Alkalinity::Neutral;
    Arc::new(m)
}

fn estimated(lines: Vec<(Arc<Material>, Line)>) -> Estimates {
    let f = fixture::formula(lines);
    estimate(&f, f.active())
}

fn water() -> Arc<Material> {
    neutral("water", &[("Aqua", 100.0, Class::Water)])
}

/// 0.5 % sodium benzoate, 0.3 % potassium sorbate and 0.2 % citric acid in water, by mass:
/// the solution that the tables of IPHREEQC hold.
#[test]
fn ph_of_a_formula_is_that_of_its_solution() {
    let pure = |name: &str, class| neutral(name, &[(name, 100.0, class)]);
    let found = estimated(vec![
        line(&water(), "99.0"),
        line(&pure("Sodium Benzoate", Class::Preservative), "0.5"),
        line(&pure("Potassium Sorbate", Class::Preservative), "0.3"),
        line(&pure("Citric Acid", Class::AcidBase), "0.2"),
    ]);
    let mut solution = ph::Solution::new();
    for (name, percent) in [
        ("Sodium Benzoate", 0.5),
        ("Potassium Sorbate", 0.3),
        ("Citric Acid", 0.2),
    ] {
        let substance = substances::by_name(name).unwrap();
        solution.add_substance(substance, 10.0 * percent / substance.molar_mass / 0.99);
    }
    let reference = ph::solve(&solution).ph;
    let ph = &found.ph.figure;
    assert!((ph.value.unwrap() - reference).abs() < 1e-6, "{ph:?}");
    // Sorbic acid is known to 0.15 only.
    assert!(ph.unknown.is_empty() && ph.in_range && ph.high.unwrap() - ph.low.unwrap() < 0.2);
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
            ("Decyl Glucoside", 51.0, Class::Surfactant(Charge::NonIonic)),
            ("Aqua", 49.0, Class::Water),
        ],
    );
    let mut glucoside = glucoside.as_ref().clone();
    glucoside.alkalinity = Alkalinity::Unknown {
        ph_as_sold: crate::quantity::PhRange::new(11.5, 12.5),
        base_mmol_per_gram: Some((0.02, 0.12)),
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
    // Without an amount the pH as sold alone leaves no useful range.
    let mut bare = glucoside.clone();
    bare.alkalinity = Alkalinity::Unknown {
        ph_as_sold: crate::quantity::PhRange::new(11.5, 12.5),
        base_mmol_per_gram: None,
        source: Source::new(Basis::Typical, ""),
    };
    let bare = estimated(lines(bare)).ph;
    assert_eq!(bare.absent, Some(acidity::NoPh::NothingKnown));
    assert!(!bare.figure.is_known() && bare.middle.is_none());
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
    let found = estimate(&f, f.active());
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
    let non_ionic = Class::Surfactant(Charge::NonIonic);
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
                Class::Surfactant(Charge::Amphoteric),
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

fn of_shelf(name: &str, percent: &str) -> (Arc<Material>, Line) {
    let found = crate::shelf::built_in().iter().find(|m| &*m.name == name);
    line(found.unwrap_or_else(|| panic!("no {name}")), percent)
}

/// Where phenoxyethanol is in a mix with a few per cent of something that may take it up.
fn phenoxyethanol_with(name: &str, percent: &str) -> Option<preservation::Whereabouts> {
    let rest = format!("{}", 99.0 - percent.parse::<f64>().unwrap());
    let found = estimated(vec![
        line(&water(), &rest),
        of_shelf("Phenoxyethanol", "1"),
        of_shelf(name, percent),
    ]);
    found.preservation.neutrals.first().map(|n| n.oil)
}

/// Micelles of quaternary ammonium take up phenols and alcohols as others do, and how much is
/// known within a factor of four only; a thickener takes up none.
#[test]
fn cationic_micelles_take_up_a_preservative() {
    let at = phenoxyethanol_with("Cetrimonium chloride 29 %", "10").unwrap();
    // 2.9 % at 10^(0.8 · 1.16 + 0.1) = 10.7 parts to one of water.
    let held = 10.0_f64.powf(0.8 * 1.16 + 0.1) * 0.029 / 0.971;
    assert!((at.free - 1.0 / (1.0 + held)).abs() < 0.002, "{at:?}");
    assert!(at.in_micelles > 0.2 && at.share < 1e-9, "{at:?}");
    assert!(at.free_low < 1.0 / (1.0 + 3.5 * held), "{at:?}");
    assert!(at.free_high > 1.0 / (1.0 + held / 3.5), "{at:?}");
    assert_eq!(phenoxyethanol_with("Xanthan gum", "1"), None);
}

/// Of undecylenic acid (log P 3.86) nearly all is in the oil.
#[test]
fn undecylenic_acid_goes_into_the_oil() {
    let acid = neutral("acid", &[("Undecylenic Acid", 100.0, Class::Preservative)]);
    let found = estimated(vec![
        line(&water(), "84.7"),
        line(&acid, "0.2"),
        of_shelf("Sunflower seed oil", "15"),
        of_shelf("Citric acid, anhydrous", "0.1"),
    ]);
    let acid = &found.preservation.acids[0];
    assert_eq!(acid.acid.inci, "Undecylenic Acid");
    assert!(acid.oil.unwrap().share > 0.9, "{:?}", acid.oil);
}

/// Of what no coefficient is known it is not said that nothing is lost.
#[test]
fn preservatives_of_unknown_uptake_are_named() {
    let unplaced = |preservative: &str, with: &str| {
        let pure = neutral(preservative, &[(preservative, 100.0, Class::Preservative)]);
        let found = estimated(vec![
            line(&water(), "89.7"),
            line(&pure, "0.3"),
            of_shelf(with, "10"),
        ]);
        found.preservation.unplaced
    };
    for name in ["Chlorphenesin", "DMDM Hydantoin", "Dehydroacetic Acid"] {
        for with in [
            "Sunflower seed oil",
            "Cetrimonium chloride 29 %",
            "Sodium laureth sulfate solution 28 %",
        ] {
            assert_eq!(
                unplaced(name, with),
                [Arc::from(name)],
                "{name} with {with}"
            );
        }
        assert!(unplaced(name, "Glycerin 99.5 %").is_empty(), "{name}");
    }
    for name in ["Phenoxyethanol", "Methylparaben", "Benzoic Acid"] {
        assert!(unplaced(name, "Sunflower seed oil").is_empty(), "{name}");
    }
}

/// Two per cent of a material of which nothing is known may be an acid or a base that outweighs
/// the buffer: whatever it is, its pH lies in what is shown, or nothing is shown.
#[test]
fn a_wholly_unknown_material_is_never_told_narrowly() {
    // About pH 5.0 of 1 % of citric acid and 3 % of its salt.
    let with = |unknown: (Arc<Material>, Line), rest: &str| {
        estimated(vec![
            line(&water(), rest),
            line(
                &neutral("acid", &[("Citric Acid", 100.0, Class::AcidBase)]),
                "1",
            ),
            line(
                &neutral("salt", &[("Sodium Citrate", 100.0, Class::AcidBase)]),
                "3",
            ),
            unknown,
        ])
        .ph
    };
    let bare = |roles: &[Role], phase: Option<PhaseKind>| {
        let mut m = material("a complex of one's own", &[]).as_ref().clone();
        m.roles = roles.to_vec();
        m.phase = phase;
        Arc::new(m)
    };
    let unknown = [
        bare(&[], None),
        bare(&[Role::SkinActive], Some(PhaseKind::Water)),
        bare(&[Role::Acid], Some(PhaseKind::Adjust)),
        bare(&[], Some(PhaseKind::CoolDown)),
    ];
    for m in &unknown {
        for (percent, rest) in [("2", "94"), ("0.5", "95.5"), ("0.1", "95.9")] {
            let ph = with(line(m, percent), rest);
            let range = ph.figure.low.zip(ph.figure.high);
            assert_eq!(
                range.is_none(),
                ph.absent == Some(acidity::NoPh::NothingKnown)
            );
            // A tenth of a per cent moves the buffer little.
            assert!(ph.figure.value.is_none() || percent == "0.1", "{ph:?}");
            assert_eq!(ph.figure.unknown, ["a complex of one's own".into()]);
            for (inci, share) in [
                ("Citric Acid", 50.0),
                ("Lactic Acid", 80.0),
                ("Glycolic Acid", 70.0),
                ("Sodium Hydroxide", 30.0),
                ("Triethanolamine", 85.0),
            ] {
                let parts = [
                    (inci, share, Class::AcidBase),
                    ("Aqua", 100.0 - share, Class::Water),
                ];
                let may_be = with(line(&neutral(inci, &parts), percent), rest);
                let is = may_be.middle.unwrap();
                if let Some((low, high)) = range {
                    assert!(
                        low <= is && is <= high,
                        "{percent} % of {inci}: {is}, shown {low} to {high}"
                    );
                }
            }
        }
        // Two per cent are as much as the buffer holds.
        assert_eq!(
            with(line(m, "2"), "94").absent,
            Some(acidity::NoPh::NothingKnown)
        );
    }
    // An oil, a perfume or a pigment without a stated composition is no acid.
    for m in [
        bare(&[Role::Emollient], Some(PhaseKind::Oil)),
        bare(&[Role::Fragrance], Some(PhaseKind::CoolDown)),
        bare(&[Role::Colourant], Some(PhaseKind::Other)),
    ] {
        let ph = with(line(&m, "2"), "94").figure;
        assert!(ph.high.unwrap() - ph.low.unwrap() < 0.4, "{ph:?}");
    }
}

fn in_bounds(found: &Estimates) -> Result<(), TestCaseError> {
    let a_w = found.water_activity.value.unwrap_or(0.5);
    prop_assert!(a_w > 0.0 && a_w <= 1.0);
    prop_assert!(found.water_activity.low.is_none_or(|low| low > 0.0));
    prop_assert!(found.water_activity.high.is_none_or(|high| high <= 1.0));
    prop_assert!(found.ph.residual.abs() < 1e-10);
    prop_assert!(found.ph.figure.low.is_none_or(|low| low >= 0.0));
    prop_assert!(found.ph.figure.high.is_none_or(|high| high <= 14.0));
    prop_assert_eq!(found.ph.figure.low.is_some(), found.ph.absent.is_none());
    if found.ph.figure.low.is_some() {
        prop_assert!(found.ph.water >= 0.5 && found.ph.ionic_strength.unwrap() <= 3.0);
    }
    for acid in &found.preservation.acids {
        prop_assert!(acid.effective_percent >= 0.0);
        prop_assert!(acid.effective_percent <= acid.total_percent + 1e-9);
    }
    for neutral in &found.preservation.neutrals {
        let at = neutral.oil;
        for share in [at.share, at.in_micelles, at.free, at.free_low, at.free_high] {
            prop_assert!(
                (0.0..=1.0 + 1e-9).contains(&share),
                "{}: {at:?}",
                neutral.inci
            );
        }
        prop_assert!(at.share + at.in_micelles + at.free <= 1.0 + 1e-9, "{at:?}");
        prop_assert!(at.free_low <= at.free + 1e-9 && at.free <= at.free_high + 1e-9);
    }
    prop_assert!(found.density.low.is_none_or(|low| low > 0.0));
    if found.emulsion.absent.is_some() {
        let (required, provided) = (&found.emulsion.required, &found.emulsion.provided);
        prop_assert!(!required.is_known() && !provided.is_known());
    }
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
            in_bounds(&estimate(&f, variant))?;
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

    /// What is only known by its pH as sold mixes to a pH between water and what is sold,
    /// as the charge of each material falls with pH; a solution stronger than the test of
    /// 10 % reaches further by the logarithm of the ratio.
    #[test]
    fn ph_lies_between_what_is_mixed_in(
        picks in prop::collection::vec((any::<prop::sample::Index>(), 100_000..8_000_000_i64), 1..6)
    ) {
        let sold = |m: &Material| match &m.alkalinity {
            Alkalinity::Unknown { ph_as_sold: Some(range), .. } => Some(*range),
            _ => None,
        };
        let bare = |m: &Material| m.constituents.iter().all(|c| {
            substances::find(c.inci.spelling(), c.cas)
                .is_none_or(|s| s.brings.is_empty() && s.uncertain_base.is_none())
        });
        let shelf: Vec<_> = crate::shelf::built_in()
            .iter()
            .filter(|m| sold(m).is_some() && bare(m))
            .cloned()
            .collect();
        // Water stands between the pH of the air in it and its own.
        let (mut low, mut high, mut sum, mut strength) = (5.6_f64, 7.0_f64, 0, 0.0);
        let mut lines = Vec::new();
        for (index, units) in &picks {
            let mut l = line(index.get(&shelf), "0");
            l.1.percent = crate::quantity::Percent::from_units(*units);
            sum += units;
            strength += *units as f64 / 1e8 * acidity::test_water(&l.0);
            let range = sold(&l.0).unwrap();
            low = low.min(range.low.value());
            high = high.max(range.high.value());
            lines.push(l);
        }
        let mut rest = line(&water(), "0");
        rest.1.percent = crate::quantity::Percent::from_units(100_000_000 - sum);
        lines.push(rest);
        // All of them together against the water of the test; activity coefficients make up
        // the rest.
        let share = sum as f64 / 1e8;
        let widened = (strength / (1.0 - share)).log10().max(0.0) + 0.16;
        let found = estimated(lines).ph.figure;
        if let (Some(l), Some(h)) = (found.low, found.high) {
            prop_assert!(l >= low - widened, "{l} below {low} - {widened}");
            prop_assert!(h <= high + widened, "{h} above {high} + {widened}");
        }
    }

    /// A mix of anything on the shelf lies between what its materials show alone in the
    /// same water, and beyond the most acid or alkaline of them only by the free acid or
    /// base of all of them together: the charge of each falls with pH.
    #[test]
    fn ph_of_any_mix_lies_between_its_parts(
        picks in prop::collection::vec((any::<prop::sample::Index>(), 10_000..8_000_000_i64), 1..6)
    ) {
        /// Ionic strength moves the constants of the parts, most those of citrate,
        /// phosphate and EDTA.
        const ACTIVITY: f64 = 0.35;
        /// Mixes and parts are solved apart, each to the tolerance of the solver.
        const SOLVED: f64 = 2.0 * ph::SOLVED_WITHIN;
        let shelf: Vec<_> = crate::shelf::built_in().iter().cloned().collect();
        let sum: i64 = picks.iter().map(|(_, units)| units).sum();
        let rest = |taken: i64| {
            let mut l = line(&water(), "0");
            l.1.percent = crate::quantity::Percent::from_units(100_000_000 - taken);
            l
        };
        let mut lines = vec![rest(sum)];
        let (mut acid, mut base) = (1e-7_f64, 1e-7_f64);
        let (mut known, mut lowest, mut highest) = (true, 7.0_f64, 7.0_f64);
        for (index, units) in &picks {
            let mut l = line(index.get(&shelf), "0");
            l.1.percent = crate::quantity::Percent::from_units(*units);
            let alone = estimated(vec![rest(*units), l.clone()]).ph;
            match (alone.figure.low, alone.figure.high) {
                (Some(low), Some(high)) => {
                    acid += 10.0_f64.powf(-low);
                    base += 10.0_f64.powf(high - 14.0);
                    lowest = lowest.min(low);
                    highest = highest.max(high);
                }
                _ => known = false,
            }
            lines.push(l);
        }
        // The water of the mix is less than that of a part alone.
        let thicker = 100_000_000.0 / (100_000_000 - sum) as f64;
        let found = estimated(lines).ph.figure;
        if let (true, Some(low), Some(high)) = (known, found.low, found.high) {
            let least = lowest.min(-(acid * thicker).log10()) - ACTIVITY - SOLVED;
            let most = highest.max(14.0 + (base * thicker).log10()) + ACTIVITY + SOLVED;
            prop_assert!(low >= least, "{low} below {least}");
            prop_assert!(high <= most, "{high} above {most}");
        }
    }

    /// Whatever is mixed from the shelf is neither lighter than the lightest nor heavier
    /// than the heaviest of it, but for what mixing does: 77 % propylene glycol has 0.8 % more
    /// than the glycol alone (J. George and N. V. Sastry, J. Chem. Eng. Data 48 (2003) 1529).
    #[test]
    fn density_lies_between_the_extremes(
        picks in prop::collection::vec((any::<prop::sample::Index>(), 100_000..60_000_000_i64), 1..8)
    ) {
        let shelf: Vec<_> = crate::shelf::built_in().iter().cloned().collect();
        let alone = |m: &Arc<Material>| {
            let stated = m.density.as_ref().map(|d| in_kg_per_m3(d.value));
            let f = estimated(vec![line(m, "100")]).density;
            let low = stated.into_iter().chain(f.low).fold(f64::INFINITY, f64::min);
            let high = stated.into_iter().chain(f.high).fold(0.0, f64::max);
            (low, high)
        };
        let (mut lightest, mut heaviest) = (f64::INFINITY, 0.0_f64);
        let mut lines = Vec::new();
        for (index, units) in &picks {
            let mut l = line(index.get(&shelf), "0");
            l.1.percent = crate::quantity::Percent::from_units(*units);
            let (low, high) = alone(&l.0);
            lightest = lightest.min(low);
            heaviest = heaviest.max(high);
            lines.push(l);
        }
        let found = estimated(lines).density.value.unwrap();
        prop_assert!(
            (0.998 * lightest..=1.009 * heaviest).contains(&found),
            "{found} outside {lightest} to {heaviest}"
        );
    }

    /// Ross's product: each activity falls with the molality of its solute, so more of any solute
    /// in place of water never raises the activity of water, whatever else is in the mix.
    #[test]
    fn more_of_a_solute_never_raises_the_water_activity(
        picks in prop::collection::vec((any::<prop::sample::Index>(), 10_000..9_000_000_i64), 0..5),
        solute in any::<prop::sample::Index>(),
        (some, more) in (0..25_000_000_i64, 10_000..25_000_000_i64),
    ) {
        let shelf: Vec<_> = crate::shelf::built_in().iter().cloned().collect();
        let solutes: Vec<_> = substances::TABLE.iter().filter(|s| !s.is_water()).collect();
        let solute = solute.get(&solutes).name();
        let solute = neutral(solute, &[(solute, 100.0, Class::Other)]);
        let of = |m: &Arc<Material>, units: i64| {
            let mut l = line(m, "0");
            l.1.percent = crate::quantity::Percent::from_units(units);
            l
        };
        let taken: i64 = picks.iter().map(|(_, units)| units).sum();
        let found = |units: i64| {
            let mut lines = vec![of(&water(), 100_000_000 - taken - units), of(&solute, units)];
            lines.extend(picks.iter().map(|(index, units)| of(index.get(&shelf), *units)));
            estimated(lines).water_activity.value
        };
        if let (Some(before), Some(after)) = (found(some), found(some + more)) {
            prop_assert!(after <= before + 1e-9, "{before} to {after} with more {}", solute.name);
        }
    }

    /// A mean lies between its parts: what a blend of oils requires, middle and ends, between
    /// what each requires alone, for either kind of emulsion.
    #[test]
    fn required_hlb_of_a_blend_lies_between_its_parts(
        picks in prop::collection::vec((any::<prop::sample::Index>(), 1_000_000..9_000_000_i64), 1..5),
        water_in_oil in any::<bool>(),
    ) {
        let (emulsifier, oils): (&str, Vec<_>) = if water_in_oil {
            let oils = ["Petrolatum", "Lanolin, anhydrous", "Beeswax, white", "Mineral oil"];
            ("Sorbitan oleate", oils.iter().map(|name| of_shelf(name, "1").0).collect())
        } else {
            let shelf = crate::shelf::built_in().iter();
            let oils = shelf.filter(|m| m.required_hlb.is_some() && m.hlb.is_none());
            ("Polysorbate 60", oils.cloned().collect())
        };
        let required = |picks: &[(Arc<Material>, i64)]| {
            let sum: i64 = picks.iter().map(|(_, units)| units).sum();
            let mut rest = line(&water(), "0");
            rest.1.percent = crate::quantity::Percent::from_units(98_000_000 - sum);
            let mut lines = vec![rest, of_shelf(emulsifier, "2")];
            lines.extend(picks.iter().map(|(m, units)| {
                let mut l = line(m, "0");
                l.1.percent = crate::quantity::Percent::from_units(*units);
                l
            }));
            let found = estimated(lines).emulsion;
            (found.water_in_oil == water_in_oil).then_some(found.required)
        };
        let picks: Vec<_> = picks.iter().map(|(i, units)| (i.get(&oils).clone(), *units)).collect();
        let alone: Option<Vec<_>> = picks.iter().map(|pick| required(std::slice::from_ref(pick))).collect();
        if let Some((alone, blend)) = alone.zip(required(&picks)) {
            for end in [|f: &Figure| f.low, |f: &Figure| f.value, |f: &Figure| f.high] {
                let ends: Vec<f64> = alone.iter().filter_map(end).collect();
                prop_assert_eq!(ends.len(), picks.len());
                let least = ends.iter().copied().fold(f64::INFINITY, f64::min);
                let most = ends.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                let found = end(&blend).unwrap();
                prop_assert!(
                    least - 1e-9 <= found && found <= most + 1e-9,
                    "{} outside {} to {}", found, least, most
                );
            }
        }
    }

    /// What works is never more than what is in it, and what micelles of quaternary ammonium hold
    /// does not work in the water: the more of them, the less.
    #[test]
    fn cationic_micelles_leave_no_more_free_than_there_is(
        preservatives in prop::collection::vec((any::<prop::sample::Index>(), 10_000..1_000_000_i64), 1..4),
        cationic in any::<prop::sample::Index>(),
        (some, more) in (0..10_000_000_i64, 100_000..10_000_000_i64),
        oil in 0..20_000_000_i64,
    ) {
        let shelf: Vec<_> = crate::shelf::built_in().iter().cloned().collect();
        let preserving: Vec<_> = shelf.iter().filter(|m| m.has_role(Role::Preservative)).collect();
        let quats: Vec<_> = shelf
            .iter()
            .filter(|m| m.share_of(Class::Surfactant(Charge::Cationic)).value() > 0.1)
            .collect();
        let quat = *cationic.get(&quats);
        let of = |m: &Arc<Material>, units: i64| {
            let mut l = line(m, "0");
            l.1.percent = crate::quantity::Percent::from_units(units);
            l
        };
        let found = |units: i64| {
            let mut lines = vec![of(quat, units), of(&of_shelf("Sunflower seed oil", "0").0, oil)];
            lines.extend(preservatives.iter().map(|(i, units)| {
                let one: &&Arc<Material> = i.get(&preserving);
                of(one, *units)
            }));
            let taken: i64 = lines.iter().map(|(_, l)| l.percent.units()).sum();
            lines.push(of(&water(), 100_000_000 - taken));
            estimated(lines)
        };
        let (before, after) = (found(some), found(some + more));
        in_bounds(&before)?;
        in_bounds(&after)?;
        for neutral in &after.preservation.neutrals {
            let at = neutral.oil;
            prop_assert!(at.in_micelles > 0.0 && at.free < 1.0, "{}: {:?}", neutral.inci, at);
            prop_assert!(at.free_high <= 1.0 && at.free_low > 0.0, "{:?}", at);
            let fewer = before.preservation.neutrals.iter().find(|n| n.inci.same_as(&neutral.inci));
            if let Some(fewer) = fewer {
                prop_assert!(at.free <= fewer.oil.free + 1e-9, "{:?} after {:?}", at, fewer.oil);
            }
        }
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

/// Suspensions: IPHREEQC-like equilibria by hand, pH of saturated solutions. Magnesium
/// hydroxide 10.3 to 10.5, calcium hydroxide 12.45 (standard buffer, Bates 1973: 12.454,
/// from memory), chalk in a closed jar 9.9, open to the air 8.2 to 8.4 (Stumm and Morgan,
/// Aquatic Chemistry, from memory), zinc oxide 8.4 to 9.
#[test]
fn suspensions_stand_at_their_solubility() {
    let of = |name: &str, percent: &str| {
        let solid = neutral(name, &[(name, 100.0, Class::Other)]);
        let rest = format!("{}", 100.0 - percent.parse::<f64>().unwrap());
        estimated(vec![line(&water(), &rest), line(&solid, percent)]).ph
    };
    let check = |name: &str, low: f64, high: f64| {
        // However much lies at the bottom.
        for percent in ["2", "30"] {
            let ph = of(name, percent).middle.unwrap();
            assert!((low..high).contains(&ph), "{name} {percent} %: {ph}");
        }
    };
    check("Magnesium Hydroxide", 10.2, 10.55);
    check("Calcium Hydroxide", 12.35, 12.6);
    check("Calcium Carbonate", 9.7, 10.0);
    check("Zinc Oxide", 8.2, 9.2);
    check("Salicylic Acid", 2.35, 2.55);
    check("Azelaic Acid", 3.1, 3.4);
    let open = of("Calcium Carbonate", "2").in_air().unwrap();
    assert!((8.1..8.5).contains(&open), "{open}");
    // Water in the air comes to 5.6, soda falls.
    let rain = of("Glycerin", "2").in_air().unwrap();
    assert!((5.55..5.7).contains(&rain), "{rain}");
}

/// A wash of five usual materials comes out within one unit, and one measurement is named.
#[test]
fn a_usual_wash_within_one_unit() {
    let shelf = crate::shelf::built_in();
    let of = |id: &str, percent: &str| {
        let m = shelf.iter().find(|m| m.id.as_str() == id).unwrap();
        line(m, percent)
    };
    let found = estimated(vec![
        line(&water(), "54.1"),
        of("sodium-laureth-sulfate-solution-28", "30"),
        of("cocamidopropyl-betaine-solution-30", "10"),
        of("decyl-glucoside-solution-51", "5"),
        of("sodium-benzoate", "0.5"),
        of("citric-acid-anhydrous", "0.4"),
    ])
    .ph;
    let (low, high) = (found.figure.low.unwrap(), found.figure.high.unwrap());
    assert!(
        high - low <= 1.0 && low > 3.8 && high < 5.2,
        "{low} to {high}"
    );
    assert!(found.widest.is_some());
}

/// A formula of one material of the shelf has the density stated of it, whether liquid,
/// solution or powder.
#[test]
fn one_material_has_its_own_density() {
    let mut off = Vec::new();
    let mut held = 0;
    for m in crate::shelf::built_in().iter() {
        let Some(stated) = m.density.as_ref().map(|d| in_kg_per_m3(d.value)) else {
            continue;
        };
        let found = estimated(vec![line(m, "100")]).density.value;
        if found.is_none_or(|found| (found - stated).abs() > 0.004 * stated) {
            off.push(format!("{}: {found:?}, {stated} is stated", m.id));
        }
        held += 1;
    }
    assert!(
        off.is_empty(),
        "{} of {held}:\n{}",
        off.len(),
        off.join("\n")
    );
    assert!(held >= 600, "{held}");
}

/// Where spreads alone leave the range open, the pH of the mix is the one measurement; where
/// nothing does, none is asked for.
#[test]
fn one_measurement_is_named_where_no_material_leaves_the_range_open() {
    let remarks = |low: f64, high: f64| {
        let mut lactate = material("lactate", &[("Aqua", 70.0, Class::Water)])
            .as_ref()
            .clone();
        let mut add = |inci: &str, (low, high): (f64, f64)| {
            lactate.constituents.push(crate::material::Constituent {
                inci: inci.into(),
                cas: None,
                share: Spread {
                    low: MassFraction::new(low),
                    typical: MassFraction::new(f64::midpoint(low, high)),
                    high: MassFraction::new(high),
                },
                class: Class::AcidBase,
                incidental: None,
                source: None,
            });
        };
        add("Lactic Acid", (low, high));
        add("Sodium Lactate", (0.1, 0.1));
        lactate.alkalinity = Alkalinity::Neutral;
        let found = estimated(vec![line(&water(), "90"), line(&Arc::new(lactate), "10")]).ph;
        assert_eq!(found.widest, None);
        found.figure.remarks
    };
    let asks = |remarks: &[String]| remarks.iter().any(|r| r.contains("the one measurement"));
    assert!(asks(&remarks(0.04, 0.2)));
    assert!(!asks(&remarks(0.1, 0.1)));
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
