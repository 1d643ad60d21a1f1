//! Each group of substances that makers ask about, with a name that belongs to it and one
//! that only looks so.

use jiff::civil::date;

use super::*;
use crate::evaluation::{Context, evaluate};
use crate::fixture;
use crate::material::Charge;

fn of(constituents: &[(&str, f64, Class)]) -> Vec<Claim> {
    let material = fixture::material("Material", constituents);
    let formula = fixture::formula(vec![fixture::line(&material, "100")]);
    let context = Context::new(date(2026, 6, 1));
    claims(&evaluate(&formula, formula.active(), &context))
}

fn about<'c>(claims: &'c [Claim], about: &str) -> &'c Claim {
    claims.iter().find(|c| c.about == Some(about)).unwrap()
}

#[test]
fn each_group_knows_its_own_and_leaves_the_others() {
    let anionic = Class::Surfactant(Charge::Anionic);
    let nonionic = Class::Surfactant(Charge::NonIonic);
    for (group, inci, class, belongs) in [
        (
            "perfume and essential oils",
            "Parfum",
            Class::Fragrance,
            true,
        ),
        ("perfume and essential oils", "Lanolin", Class::Oil, false),
        ("colorants", "CI 77891", Class::Colour, true),
        ("colorants", "Titanium Dioxide", Class::Other, false),
        (
            "sulfate surfactants",
            "Sodium Laureth Sulfate",
            anionic,
            true,
        ),
        (
            "sulfate surfactants",
            "Magnesium Sulfate",
            Class::Electrolyte,
            false,
        ),
        (
            "sulfate surfactants",
            "Sodium Lauryl Sulfoacetate",
            anionic,
            false,
        ),
        ("parabens", "Methylparaben", Class::Preservative, true),
        (
            "isothiazolinones",
            "Methylisothiazolinone",
            Class::Preservative,
            true,
        ),
        (
            "formaldehyde donors",
            "Imidazolidinyl Urea",
            Class::Preservative,
            true,
        ),
        ("formaldehyde donors", "Urea", Class::Humectant, false),
        ("ethoxylates", "Sodium Laureth Sulfate", anionic, true),
        ("ethoxylates", "PEG-7 Glyceryl Cocoate", nonionic, true),
        ("ethoxylates", "Polysorbate 20", nonionic, true),
        ("ethoxylates", "Ceteareth-20", nonionic, true),
        ("ethoxylates", "C12-13 Pareth-3", nonionic, true),
        ("ethoxylates", "Poloxamer 407", nonionic, true),
        ("ethoxylates", "Sodium Lauryl Sulfate", anionic, false),
        ("ethoxylates", "Decyl Glucoside", nonionic, false),
        ("silicones", "Cyclopentasiloxane", Class::Oil, true),
        ("silicones", "Silica", Class::Other, false),
        ("mineral oil and paraffins", "Petrolatum", Class::Oil, true),
        ("mineral oil and paraffins", "Squalane", Class::Oil, false),
        ("ethanol", "Alcohol Denat.", Class::Solvent, true),
        ("ethanol", "Cetearyl Alcohol", Class::Oil, false),
        (
            "beeswax, honey, lanolin, silk, keratin, collagen, carmine",
            "Hydrolyzed Keratin",
            Class::Other,
            true,
        ),
        // Melaleuca is no honey.
        (
            "beeswax, honey, lanolin, silk, keratin, collagen, carmine",
            "Melaleuca Alternifolia Leaf Oil",
            Class::Fragrance,
            false,
        ),
        ("water", "Aqua", Class::Water, true),
        ("water", "Glycerin", Class::Humectant, false),
    ] {
        let claims = of(&[(inci, 100.0, class)]);
        let claim = about(&claims, group);
        match &claim.holds {
            Holds::No(against) => assert!(belongs && !against.is_empty(), "{inci}: {claim:?}"),
            Holds::Yes => assert!(!belongs, "{inci}: {claim:?}"),
            Holds::Unknown(_) => panic!("{inci}: {claim:?}"),
        }
    }
}

#[test]
fn what_is_not_known_of_a_material_is_told_with_its_share() {
    let claims = of(&[("Glycerin", 60.0, Class::Humectant)]);
    let silicones = about(&claims, "silicones");
    assert_eq!(silicones.holds, Holds::Unknown(40.0));
    assert!(silicones.words().contains("40.000 %"), "{silicones:?}");
    // What is known to stand against it decides all the same.
    let claims = of(&[("Dimethicone", 60.0, Class::Oil)]);
    let silicones = about(&claims, "silicones");
    assert_eq!(silicones.words(), "Silicones: Dimethicone");
}

#[test]
fn the_words_deny_nothing_twice() {
    let claims = of(&[("Glycerin", 100.0, Class::Humectant)]);
    assert_eq!(about(&claims, "parabens").words(), "Parabens: none");
}

/// How it was looked for is said in words that fit what was found and what was not.
#[test]
fn grounds_fit_both_answers() {
    let claims = of(&[("Dimethicone", 100.0, Class::Oil)]);
    for claim in claims.iter().filter(|c| c.about.is_some()) {
        assert!(!claim.ground.starts_with("no "), "{}", claim.ground);
    }
}
