//! Emulsions against published figures, and what is doubted of them.

use std::sync::Arc;

use super::*;
use crate::composition::Composition;
use crate::fixture;
use crate::material::{Basis, Source, Sourced};
use crate::mixture::Mixture;

fn close(found: f64, published: f64, tolerance: f64) {
    assert!(
        (found - published).abs() < tolerance,
        "{found} instead of {published}"
    );
}

/// Griffin 1949: 70 % of a polyoxyethylene sorbitan oleate of HLB 15.0 with 30 % sorbitan
/// oleate of HLB 4.3 gives 11.8 (from memory).
#[test]
fn griffins_blend() {
    close(mean([(70.0, 15.0), (30.0, 4.3)]).unwrap(), 11.8, 0.05);
    let (low, high) = split(4.3, 15.0, 11.79).unwrap();
    close(low, 0.30, 1e-3);
    close(high, 0.70, 1e-3);
}

/// OCL 29 (2022), article ocl210096, Table 4: oil phases of beeswax 12, isopropyl myristate
/// 11.5, glyceryl monostearate 3.8, stearic acid 15 and a seed oil 6.2.
#[test]
fn required_hlb_of_five_published_creams() {
    let values = [12.0, 11.5, 3.8, 15.0, 6.2];
    for (grams, published) in [
        ([1.5, 7.5, 7.5, 12.5, 5.0], 10.33),
        ([1.5, 7.5, 7.5, 10.5, 5.0], 10.04),
        ([1.5, 7.5, 7.5, 8.5, 5.0], 9.71),
        ([1.5, 7.5, 7.5, 6.5, 5.0], 9.33),
        ([1.5, 10.0, 10.0, 10.5, 5.0], 9.72),
    ] {
        close(
            mean(grams.into_iter().zip(values)).unwrap(),
            published,
            0.006,
        );
    }
}

/// Worked examples of a maker's page of 2011: 25 % of soybean oil 10 (7), cocoa butter 7.5 (6)
/// and mango butter 7.5 (8) require 7; glyceryl stearate (3.8) with PEG-100 stearate (18.8)
/// meet 14.5 at 28.67 to 71.33.
#[test]
fn worked_examples_of_makers() {
    close(
        mean([(10.0, 7.0), (7.5, 6.0), (7.5, 8.0)]).unwrap(),
        7.0,
        1e-9,
    );
    close(mean([(1.0, 11.5), (3.0, 15.5)]).unwrap(), 14.5, 1e-9);
    close(mean([(66.0, 2.9), (34.0, 15.0)]).unwrap(), 7.014, 1e-9);
    let (low, high) = split(3.8, 18.8, 14.5).unwrap();
    close(low, 0.2867, 1e-4);
    close(high, 0.7133, 1e-4);
}

#[test]
fn what_cannot_be_met_is_not_split() {
    assert_eq!(split(4.0, 8.0, 12.0), None);
    assert_eq!(split(8.0, 8.0, 8.0), None);
    assert_eq!(mean([(0.0, 8.0)]), None);
}

fn estimated(lines: &[(Material, &str)]) -> Emulsion {
    estimated_of(lines, true)
}

fn estimated_of(lines: &[(Material, &str)], rinsed: bool) -> Emulsion {
    let lines = lines
        .iter()
        .map(|(m, percent)| fixture::line(&Arc::new(m.clone()), percent))
        .collect();
    let f = fixture::formula(lines);
    let mixture = Mixture::of(&f, f.active());
    let composition = Composition::of(&mixture);
    estimate(&Mix::new(&mixture, &composition), rinsed)
}

fn plain(name: &str, class: Class) -> Material {
    Material::clone(&fixture::material(name, &[(name, 100.0, class)]))
}

/// Cetearyl alcohol is an oil in Griffin's sense; what emulsifies in its blend is the
/// polysorbate 60 of HLB 14.9.
#[test]
fn a_blend_has_the_hlb_of_the_emulsifier_in_it() {
    let blend = shelf::built_in()
        .iter()
        .find(|m| &*m.name == "Cetearyl alcohol and polysorbate 60");
    let (hlb, share) = hlb_of(blend.unwrap());
    close(hlb.unwrap(), 14.9, 1e-9);
    close(share, 0.25, 1e-9);
}

/// Griffin's scale compares oils with emulsifiers (J. Soc. Cosmet. Chem. 1 (1949) 311): without
/// oil there is nothing to require it, without water nothing to emulsify.
#[test]
fn no_emulsion_has_no_hlb() {
    let shelf = |name: &str| {
        let found = shelf::built_in().iter().find(|m| &*m.name == name);
        Material::clone(found.unwrap())
    };
    let water = || plain("Aqua", Class::Water);
    let oil = || shelf("Sunflower seed oil");
    let wash = || shelf("Sodium laureth sulfate solution 28 %");
    let solubiliser = || shelf("Polysorbate 20");
    let perfume = || shelf("Lemon essential oil, expressed");
    for (lines, why) in [
        (
            vec![(water(), "94"), (solubiliser(), "5"), (perfume(), "1")],
            Some(NoEmulsion::NoOil),
        ),
        (
            vec![
                (water(), "66"),
                (wash(), "30"),
                (solubiliser(), "3"),
                (oil(), "1"),
            ],
            Some(NoEmulsion::Micelles),
        ),
        (
            vec![(oil(), "99"), (perfume(), "1")],
            Some(NoEmulsion::NoWater),
        ),
        // Rinsed off, this one becomes an emulsion.
        (vec![(oil(), "90"), (solubiliser(), "10")], None),
        // More oil than the micelles of 8.4 % of surfactant hold.
        (vec![(water(), "50"), (wash(), "30"), (oil(), "20")], None),
        (
            vec![(water(), "85"), (oil(), "10"), (solubiliser(), "5")],
            None,
        ),
    ] {
        let found = estimated(&lines);
        let names: Vec<_> = lines.iter().map(|(m, _)| &m.name).collect();
        assert_eq!(found.absent, why, "{names:?}");
        let known = found.required.is_known() || found.provided.is_known();
        assert_eq!(known, why.is_none(), "{names:?}");
    }
    // The same balm stays on the skin.
    let left_on = estimated_of(&[(oil(), "90"), (solubiliser(), "10")], false);
    assert_eq!(left_on.absent, Some(NoEmulsion::NoWater));
    assert_eq!(left_on.required.value, None);
}

/// Griffin 1949, as textbooks have it: 3 to 6 for water-in-oil, 8 and more for oil-in-water.
#[test]
fn water_in_oil_is_judged_by_the_blend() {
    let remarks = |hlb: f64| {
        let mut emulsifier = plain("Sorbitan Oleate", Class::Emulsifier);
        emulsifier.roles = vec![Role::Emulsifier];
        emulsifier.hlb = Some(Sourced::new(hlb, Source::new(Basis::Typical, "")));
        let found = estimated(&[
            (plain("Aqua", Class::Water), "60"),
            (plain("Helianthus Annuus Seed Oil", Class::Oil), "36"),
            (emulsifier, "4"),
        ]);
        found.required.remarks.join(" ")
    };
    assert!(
        remarks(2.0).contains("below the 3 to 6"),
        "{}",
        remarks(2.0)
    );
    for hlb in [3.0, 4.3, 6.0] {
        assert!(
            remarks(hlb).contains("within the 3 to 6"),
            "{}",
            remarks(hlb)
        );
    }
    assert!(
        remarks(7.0).contains("it may be either"),
        "{}",
        remarks(7.0)
    );
    assert!(!remarks(10.0).contains("water-in-oil"), "{}", remarks(10.0));
}

/// An emulsifier of an HLB that rests on something.
fn emulsifier(hlb: f64, basis: Basis) -> Material {
    let mut m = plain("An emulsifier of one's own", Class::Emulsifier);
    m.roles = vec![Role::Emulsifier];
    m.hlb = Some(Sourced::new(hlb, Source::new(basis, "a book")));
    m
}

fn oil(inci: &str, required: Option<(f64, Basis)>) -> Material {
    let mut m = plain(inci, Class::Oil);
    m.required_hlb = required.map(|(hlb, basis)| Sourced::new(hlb, Source::new(basis, "")));
    m
}

fn cream(oils: &[(Material, &str)], emulsifier: Material) -> Emulsion {
    let mut lines = vec![(plain("Aqua", Class::Water), "56"), (emulsifier, "4")];
    lines.extend(oils.iter().cloned());
    estimated(&lines)
}

/// The table that textbooks restate after Griffin 1949 (from memory): for water-in-oil soft
/// paraffin requires 4, beeswax 5, wool fat 8; for oil-in-water three times as much.
#[test]
fn water_in_oil_is_judged_by_what_its_oils_require() {
    let petrolatum = || oil("Petrolatum", Some((12.0, Basis::Published)));
    let wool_fat = || oil("Lanolin", Some((10.0, Basis::Published)));
    let beeswax = || oil("Cera Alba", Some((12.0, Basis::Published)));
    let judged = |oils: &[(Material, &str)], hlb: f64| {
        let found = cream(oils, emulsifier(hlb, Basis::Published));
        assert!(found.water_in_oil && found.kind() == "water-in-oil");
        let doubts = found.doubts.join("; ");
        assert!(
            doubts.is_empty() || doubts.contains("for water-in-oil"),
            "{doubts}"
        );
        (found.required.value.unwrap(), doubts)
    };
    let soft = [(petrolatum(), "40")];
    for (hlb, doubtful) in [
        (2.0, true),
        (2.6, false),
        (4.3, false),
        (5.4, false),
        (6.7, true),
    ] {
        let (required, doubts) = judged(&soft, hlb);
        close(required, 4.0, 1e-9);
        assert_eq!(!doubts.is_empty(), doubtful, "{hlb}: {doubts}");
    }
    // All of the table is from memory.
    let range = cream(&soft, emulsifier(4.3, Basis::Published)).required;
    close(range.low.unwrap(), 2.0, 1e-9);
    close(range.high.unwrap(), 6.0, 1e-9);
    // What holds paraffin is too little for wool fat, and the other way round.
    let wool = [(wool_fat(), "40")];
    assert!(judged(&wool, 7.0).1.is_empty());
    let (_, doubts) = judged(&wool, 4.3);
    assert!(doubts.contains("4.3, the oils require 8.0"), "{doubts}");
    // Hand reckoning: (20 · 4 + 10 · 5 + 10 · 8) / 40 = 5.25.
    let three = [(petrolatum(), "20"), (beeswax(), "10"), (wool_fat(), "10")];
    close(judged(&three, 5.0).0, 5.25, 1e-9);
    // From 8 on the same oils are judged for oil-in-water.
    let found = cream(&soft, emulsifier(12.0, Basis::Published));
    assert!(!found.water_in_oil && found.doubts.is_empty(), "{found:?}");
    close(found.required.value.unwrap(), 12.0, 1e-9);
}

/// Of vegetable oils no table has a figure for water-in-oil: nothing but what is usual.
#[test]
fn an_oil_without_a_figure_for_water_in_oil_has_none() {
    let sunflower = || oil("Helianthus Annuus Seed Oil", Some((7.0, Basis::Published)));
    let found = cream(&[(sunflower(), "40")], emulsifier(4.3, Basis::Published));
    assert!(found.water_in_oil && found.doubts.is_empty(), "{found:?}");
    assert_eq!(found.required.value, None);
    assert_eq!(
        found.required.low.zip(found.required.high),
        Some(WATER_IN_OIL)
    );
    assert_eq!(found.required.unknown.len(), 1);
}

/// What is published is known better than what is remembered, and nothing exactly: Griffin
/// gave rules of thumb.
#[test]
fn an_hlb_is_as_wide_as_what_it_rests_on() {
    let width = |figure: &Figure| figure.high.unwrap() - figure.low.unwrap();
    let of = |oils: Basis, own: Basis| {
        let found = cream(
            &[(oil("An oil", Some((10.0, oils))), "40")],
            emulsifier(10.0, own),
        );
        close(found.required.value.unwrap(), 10.0, 1e-9);
        close(found.provided.value.unwrap(), 10.0, 1e-9);
        (width(&found.required), width(&found.provided))
    };
    for (basis, required, provided) in [
        (Basis::Measured, 2.0, 1.0),
        (Basis::Supplier, 2.0, 1.0),
        (Basis::Published, 2.0, 1.0),
        (Basis::Estimate, 4.0, 2.0),
        (Basis::Typical, 4.0, 2.0),
    ] {
        let found = of(basis, basis);
        close(found.0, required, 1e-9);
        close(found.1, provided, 1e-9);
    }
    // The doubt stays where the middles part by more than is worth a word.
    let doubts = |provided: f64| {
        let oils = [(oil("An oil", Some((10.0, Basis::Typical))), "40")];
        cream(&oils, emulsifier(provided, Basis::Typical)).doubts
    };
    assert!(doubts(11.4).is_empty() && !doubts(11.6).is_empty());
    // What of the oils is untold opens it further: half of 10 ± 1, half of 4 to 16.
    let half = [
        (oil("An oil", Some((10.0, Basis::Published))), "20"),
        (oil("Another", None), "20"),
    ];
    let found = cream(&half, emulsifier(10.0, Basis::Published));
    close(found.required.low.unwrap(), 6.5, 1e-9);
    close(found.required.high.unwrap(), 13.5, 1e-9);
}

/// A sum of nothing is a negative zero, which would be shown as one.
#[test]
fn no_oil_is_zero_and_not_below() {
    let found = estimated(&[(plain("Aqua", Class::Water), "100")]);
    assert!(
        found.oil_percent.is_sign_positive(),
        "{}",
        found.oil_percent
    );
}

/// Hand reckoning: 4 % of a solution of half an emulsifier of HLB 15 is 2 % of it; with 2 %
/// of one of HLB 4.3 they give 9.65. With the water counted it would be 11.43.
#[test]
fn the_water_of_an_emulsifier_does_not_emulsify() {
    let emulsifier = |name: &str, share: f64, hlb: f64| {
        let parts = [
            (name, share, Class::Emulsifier),
            ("Aqua", 100.0 - share, Class::Water),
        ];
        let mut m = Material::clone(&fixture::material(name, &parts));
        m.roles = vec![Role::Emulsifier];
        m.hlb = Some(Sourced {
            value: hlb,
            source: Source::new(Basis::Published, ""),
        });
        m
    };
    let found = estimated(&[
        (emulsifier("Polysorbate 80", 50.0, 15.0), "4"),
        (emulsifier("Sorbitan Oleate", 100.0, 4.3), "2"),
        (plain("Helianthus Annuus Seed Oil", Class::Oil), "10"),
        (plain("Aqua", Class::Water), "84"),
    ]);
    close(found.provided.value.unwrap(), 9.65, 1e-6);
    close(found.emulsifier_percent, 4.0, 1e-6);
}

/// A liquid UV filter belongs to the oil even where only its functions are known; one that
/// dissolves in water and a pigment do not.
#[test]
fn uv_filters_are_oil_unless_salts_or_pigments() {
    for (name, oil) in [
        ("Ethylhexyl Methoxycinnamate", true),
        ("Octocrylene", true),
        ("Menthyl Anthranilate", true),
        ("Phenylbenzimidazole Sulfonic Acid", false),
        ("Benzophenone-4", false),
        ("Titanium Dioxide (nano)", false),
    ] {
        let mut m = Material::clone(&fixture::material(name, &[(name, 100.0, Class::Other)]));
        m.roles = vec![Role::UvFilter];
        let found = estimated(&[(m, "7")]);
        close(found.oil_percent, if oil { 7.0 } else { 0.0 }, 1e-9);
    }
}
