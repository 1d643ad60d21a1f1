//! What the formula leaves open: what a preservative is there for beside another one, and
//! conditions that only words tell.

use super::tests::{face_cream, law, law_stated, level, of, product, pure};
use crate::finding::{Level, Remedy, StatedField};
use crate::fixture;
use crate::formula::{BodySite, Product, ProductType};
use crate::material::{Class, Material, ProductKind, Role};
use crate::purpose::Purpose;

fn climbazole(percent: f64) -> (Material, f64) {
    (
        pure("Climbazole", "38083-17-9", Class::Preservative),
        percent,
    )
}

fn phenoxyethanol() -> (Material, f64) {
    (pure("Phenoxyethanol", "122-99-6", Class::Preservative), 0.8)
}

fn shampoo() -> Product {
    product(
        ProductKind::RinseOff,
        &[BodySite::Hair, BodySite::Scalp],
        Some(ProductType::Shampoo),
    )
}

/// Regulation (EC) No 1223/2009: in shampoos climbazole is allowed to 0.5 % as a preservative
/// (Annex V, entry 32) and to 2 % for other purposes (Annex III, entry 310).
#[test]
fn beside_another_preservative_the_purpose_is_asked() {
    let as_preservative = |lines: Vec<(Material, f64)>| {
        let law = law(shampoo(), lines);
        let found = level(&law, "EU V/32");
        let asks = of(&law, "EU V/32")
            .iter()
            .any(|f| matches!(f.remedy, Some(Remedy::OpenField(StatedField::Purpose(_)))));
        (found, asks)
    };
    let asked = (Some(Level::Caution), true);
    let breach = |lines| {
        let (found, asks) = as_preservative(lines);
        assert_eq!((found, asks), (Some(Level::Breach), false));
    };
    assert_eq!(
        as_preservative(vec![climbazole(1.5), phenoxyethanol()]),
        asked
    );
    // In two lines it is the same product.
    assert_eq!(
        as_preservative(vec![climbazole(0.8), climbazole(0.7), phenoxyethanol()]),
        asked
    );
    // Alone it is what preserves.
    breach(vec![climbazole(1.5)]);
    breach(vec![climbazole(0.8), climbazole(0.7)]);
    // What keeps a raw material does not preserve the product.
    let extract = fixture::material(
        "Extract",
        &[
            ("Aloe Barbadensis Leaf Juice", 99.2, Class::Other),
            ("Phenoxyethanol", 0.8, Class::Preservative),
        ],
    );
    breach(vec![climbazole(1.5), (extract.as_ref().clone(), 5.0)]);
    // None of it preserves.
    breach(vec![climbazole(1.5), {
        let (other, _) = phenoxyethanol();
        (other, 0.0)
    }]);
    // More than other purposes allow.
    breach(vec![climbazole(2.1), phenoxyethanol()]);
    // Within what preserving allows there is nothing to ask.
    let (found, _) = as_preservative(vec![climbazole(0.5), phenoxyethanol()]);
    assert!(found < Some(Level::Caution), "{found:?}");
    // In a cream nothing but preserving is allowed.
    let cream = law(face_cream(), vec![climbazole(1.5), phenoxyethanol()]);
    assert_eq!(level(&cream, "EU V/32"), Some(Level::Breach));
}

#[test]
fn what_the_maker_says_decides() {
    for (purpose, expected) in [
        (Purpose::Preservative, Some(Level::Breach)),
        (Purpose::Active, None),
    ] {
        let lines = vec![climbazole(1.5), phenoxyethanol()];
        let law = law_stated(shampoo(), lines, Some(purpose));
        let found = level(&law, "EU V/32").filter(|l| *l > Level::Note);
        assert_eq!(found, expected, "{purpose:?}");
    }
}

/// Regulation (EC) No 1223/2009, Annex III, entry 321: as a powder with fine particles titanium
/// dioxide is allowed to 25 % in loose face powders and to 1.4 % in hair sprays; in other products
/// not where lungs may be exposed.
#[test]
fn titanium_dioxide_is_told_where_it_may_be_inhaled_and_not_elsewhere() {
    let worst = |product: Product, percent: f64| {
        let white = pure("CI 77891", "13463-67-7", Class::Colour);
        let found = law(product, vec![(white, percent)]);
        level(&found, "EU III/321").filter(|l| *l > Level::Note)
    };
    let powder = |place| product(ProductKind::LeaveOn, &[place], Some(ProductType::Powder));
    let spray = |place| Product {
        spray: true,
        ..product(ProductKind::LeaveOn, &[place], None)
    };
    let caution = Some(Level::Caution);
    for (what, product, percent, expected) in [
        ("loose face powder", powder(BodySite::Face), 20.0, None),
        ("loose face powder", powder(BodySite::Face), 25.0, None),
        ("loose face powder", powder(BodySite::Face), 26.0, caution),
        ("body powder", powder(BodySite::Body), 2.0, caution),
        ("hair spray", spray(BodySite::Hair), 1.4, None),
        ("hair spray", spray(BodySite::Hair), 1.5, caution),
        ("body spray", spray(BodySite::Body), 0.1, caution),
        ("cream", face_cream(), 5.0, None),
        (
            "soap",
            product(
                ProductKind::RinseOff,
                &[BodySite::Hands],
                Some(ProductType::BarSoap),
            ),
            0.5,
            None,
        ),
        (
            "lip balm",
            product(
                ProductKind::LeaveOn,
                &[BodySite::Lips],
                Some(ProductType::LipProduct),
            ),
            1.0,
            None,
        ),
        // Of no stated type: it may be a powder.
        (
            "cream or powder",
            product(ProductKind::LeaveOn, &[BodySite::Face], None),
            5.0,
            None,
        ),
        (
            "make-up",
            product(
                ProductKind::LeaveOn,
                &[BodySite::Face],
                Some(ProductType::FaceMakeUp),
            ),
            10.0,
            None,
        ),
    ] {
        assert_eq!(worst(product, percent), expected, "{what}, {percent} %");
    }
}

/// Regulation (EC) No 1223/2009, Annex V, entry 12a: not in leave-on products for the nappy area
/// of children under three.
#[test]
fn parabens_in_the_care_of_babies_are_told() {
    let worst = |product: Product| {
        let paraben = pure("Butylparaben", "94-26-8", Class::Preservative);
        let found = law(product, vec![(paraben, 0.1)]);
        level(&found, "EU V/12a").filter(|l| *l > Level::Note)
    };
    let baby = |kind, place| Product {
        under_three: true,
        ..product(kind, &[place], None)
    };
    let caution = Some(Level::Caution);
    assert_eq!(worst(baby(ProductKind::LeaveOn, BodySite::Body)), caution);
    assert_eq!(worst(baby(ProductKind::RinseOff, BodySite::Body)), None);
    let nappy = baby(ProductKind::LeaveOn, BodySite::Intimate);
    assert_eq!(worst(nappy), Some(Level::Breach));
    let grown = product(ProductKind::LeaveOn, &[BodySite::Body], None);
    assert_eq!(worst(grown), None);
}

/// What of a list of prohibitions and of filters depends on what a substance is there for: as
/// the maker says, else as far as its material tells. Regulation (EC) No 1223/2009, Annex II,
/// entry 426 (diethyl maleate, when used as a fragrance ingredient) and Annex VI, entry 10
/// (octocrylene, 10 %).
#[test]
fn a_rule_on_a_purpose_asks_what_it_is_there_for() {
    let maleate = |change: &dyn Fn(&mut Material), class, purpose| {
        let mut m = pure("Diethyl Maleate", "141-05-9", class);
        change(&mut m);
        let law = law_stated(face_cream(), vec![(m, 0.1)], purpose);
        level(&law, "EU II/426")
    };
    let plain = |_: &mut Material| {};
    let with = |role| move |m: &mut Material| m.roles = vec![role];
    let (breach, caution) = (Some(Level::Breach), Some(Level::Caution));
    let other = Class::Other;
    assert_eq!(maleate(&plain, other, Some(Purpose::Fragrance)), breach);
    assert_eq!(maleate(&plain, other, Some(Purpose::Solvent)), None);
    // Not stated: a scent by its class or by either role of its material, else it is asked.
    assert_eq!(maleate(&plain, Class::Fragrance, None), breach);
    assert_eq!(maleate(&with(Role::Fragrance), other, None), breach);
    assert_eq!(maleate(&with(Role::EssentialOil), other, None), breach);
    assert_eq!(maleate(&plain, other, None), caution);

    let octocrylene = |percent, purpose| {
        let m = pure("Octocrylene", "6197-30-4", Class::Other);
        let law = law_stated(face_cream(), vec![(m, percent)], purpose);
        level(&law, "EU VI/10").filter(|l| *l > Level::Note)
    };
    assert_eq!(octocrylene(10.5, Some(Purpose::UvFilter)), breach);
    assert_eq!(octocrylene(10.0, Some(Purpose::UvFilter)), None);
    assert_eq!(octocrylene(10.5, Some(Purpose::Solvent)), None);
}

/// Advice of our own list on the area of the eye speaks of every essential oil, by the role of
/// its material and not by a name.
#[test]
fn an_entry_on_a_role_meets_the_largest_part_of_such_materials() {
    let told = |role, place| {
        let mut oil = fixture::material(
            "Oil",
            &[
                ("Invented Flower Oil", 90.0, Class::Fragrance),
                ("Helianthus Annuus Seed Oil", 10.0, Class::Oil),
            ],
        )
        .as_ref()
        .clone();
        oil.roles = vec![role];
        let law = law(
            product(ProductKind::LeaveOn, &[place], None),
            vec![(oil, 0.2)],
        );
        let of_eye = law
            .findings
            .into_iter()
            .filter(|f| f.rule.contains("at the eye"));
        of_eye.map(|f| f.message).collect::<Vec<_>>()
    };
    let at_eye = told(Role::EssentialOil, BodySite::EyeArea);
    assert_eq!(at_eye.len(), 1, "{at_eye:?}");
    assert!(at_eye[0].contains("Invented Flower Oil"), "{at_eye:?}");
    assert!(!at_eye[0].contains("Helianthus"), "{at_eye:?}");
    assert_eq!(told(Role::EssentialOil, BodySite::Body), [""; 0]);
    assert_eq!(told(Role::Emollient, BodySite::EyeArea), [""; 0]);
}
