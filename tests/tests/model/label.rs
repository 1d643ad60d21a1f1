//! Ingredient lists whose order follows from the text of the law, and the rest of the
//! label.
//!
//! The words of the law referred to below, restated:
//! - EU 19(1)(g): the list is established in descending order of weight of the ingredients
//!   at the time they are added; ingredients in concentrations of less than 1 % may be
//!   listed in any order after those in concentrations of more than 1 %; impurities in raw
//!   materials and technical aids are not ingredients; perfume is referred to as “parfum”,
//!   and substances whose mention Annex III demands are named besides; nanomaterials are
//!   followed by “(nano)”; colorants other than for hair may be listed in any order after
//!   the other ingredients, by colour index number; in ranges of decorative products all
//!   colorants may follow “may contain” or “+/-”. Regulation (EC) No 1223/2009, Article
//!   19(1)(g).
//! - US 701.3(f): ingredients above 1 % in descending order of predominance; then those at
//!   not more than 1 % without regard to order; then colour additives without regard to
//!   order. US 701.3(a): fragrance may be listed as fragrance. 21 CFR 701.3.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::sync::Arc;

use formulation::evaluation::{Context, evaluate};
use formulation::file::{formula_file, label_report};
use formulation::formula::{Date, Formula, ItemId, Line, Market, Phase, ProductType, Variant};
use formulation::label::{self, Holds, Label, ListSection, SectionKind};
use formulation::label_info::{Durability, LabelInfo, LeftOut, NetContents};
use formulation::material::{
    Class, Constituent, Material, MaterialId, PhaseKind, ProductKind, Role,
};
use formulation::quantity::{MassFraction, Spread, millilitres};
use formulation::shelf;

/// A material of constituents in percent.
fn blend(name: &str, constituents: &[(&str, f64, Class)]) -> Material {
    let mut m = Material::unknown(MaterialId::from_name(name), name);
    m.constituents = constituents
        .iter()
        .map(|&(inci, percent, class)| Constituent {
            inci: inci.into(),
            cas: None,
            share: Spread::exact(MassFraction::from_percent(percent)),
            class,
            incidental: None,
            source: None,
        })
        .collect();
    m
}

fn pure(inci: &str, class: Class) -> Material {
    blend(inci, &[(inci, 100.0, class)])
}

/// What a test case is made of.
struct Case {
    kind: ProductKind,
    product_type: Option<ProductType>,
    lines: Vec<(Material, &'static str)>,
    info: LabelInfo,
}

fn case(lines: Vec<(Material, &'static str)>) -> Case {
    Case {
        kind: ProductKind::RinseOff,
        product_type: None,
        lines,
        info: LabelInfo::default(),
    }
}

impl Case {
    fn formula(&self) -> Formula {
        let mut formula = Formula::new("Case");
        let mut variant: Variant = formula.active().as_ref().clone();
        variant.product.kinds = self.kind.into();
        variant.product.product_type = self.product_type;
        variant.product.markets = Market::ALL.to_vec();
        variant.label = Arc::new(self.info.clone());
        let mut lines = Vec::new();
        for (i, (material, percent)) in self.lines.iter().enumerate() {
            lines.push(Line {
                id: ItemId(10 + i as u64),
                material: material.id.clone(),
                percent: percent.parse().unwrap(),
                why: "".into(),
                held: false,
                min: None,
                max: None,
                purpose: None,
            });
            formula
                .materials
                .insert(material.id.clone(), Arc::new(material.clone()));
        }
        variant.phases = vec![Arc::new(Phase {
            id: ItemId(1),
            letter: "A".into(),
            kind: PhaseKind::Other,
            purpose: "".into(),
            temperature: None,
            lines,
            steps: Vec::new(),
        })];
        formula.variants = vec![Arc::new(variant)];
        formula
    }

    fn label(&self, market: Market) -> Label {
        draw_up(&self.formula(), market)
    }

    fn check(&self, market: Market, expected: &str) {
        assert_eq!(
            self.label(market).ingredients.text(),
            expected,
            "{market:?}"
        );
    }
}

fn draw_up(formula: &Formula, market: Market) -> Label {
    let variant = formula.active();
    // A day on which the duty to name the allergens added in 2023 binds new products.
    let context = Context::new(Date::constant(2026, 9, 1));
    let evaluation = evaluate(formula, variant, &context);
    label::label(formula, variant, &evaluation, market)
}

fn water() -> Material {
    pure("Aqua", Class::Water)
}

fn glycerin() -> Material {
    pure("Glycerin", Class::Humectant)
}

#[test]
fn list_01_descending_order_of_weight() {
    // EU 19(1)(g), first sentence.
    case(vec![
        (glycerin(), "5"),
        (water(), "85"),
        (pure("Cetyl Alcohol", Class::Oil), "10"),
    ])
    .check(Market::Eu, "Aqua, Cetyl Alcohol, Glycerin");
}

/// A list of a formula that is not closed says so.
#[test]
fn a_formula_off_100_has_no_list_to_rely_on() {
    let of = |percent: &'static str| {
        let formula = case(vec![(water(), percent), (glycerin(), "54")]).formula();
        let label = draw_up(&formula, Market::Eu);
        let told = |m: &&label::Missing| m.required && m.what.contains("add up to");
        label.missing.iter().find(told).cloned()
    };
    assert_eq!(of("46"), None);
    assert!(of("50").unwrap().what.contains("104 %"));
}

#[test]
fn list_02_descending_order_of_predominance_us() {
    // US 701.3(f)(1); water and fragrance under their English names, 701.3(a) and (c).
    case(vec![
        (glycerin(), "5"),
        (water(), "93"),
        (pure("Parfum", Class::Fragrance), "2"),
    ])
    .check(Market::Us, "Water, Glycerin, Fragrance");
}

#[test]
fn list_03_under_one_percent_in_the_makers_order() {
    // EU 19(1)(g): less than 1 % in any order after those of more.
    let mut c = case(vec![
        (water(), "94"),
        (glycerin(), "5"),
        (pure("Xanthan Gum", Class::Thickener), "0.5"),
        (pure("Allantoin", Class::Other), "0.2"),
        (pure("Panthenol", Class::Other), "0.3"),
    ]);
    c.check(
        Market::Eu,
        "Aqua, Glycerin, Xanthan Gum, Panthenol, Allantoin",
    );
    c.info.low_order = vec!["Allantoin".into(), "Panthenol".into()];
    c.check(
        Market::Eu,
        "Aqua, Glycerin, Allantoin, Panthenol, Xanthan Gum",
    );
}

#[test]
fn list_04_the_makers_order_cannot_lift_what_is_above_one_percent() {
    let mut c = case(vec![
        (water(), "97"),
        (glycerin(), "2"),
        (pure("Xanthan Gum", Class::Thickener), "1"),
    ]);
    c.info.low_order = vec!["Xanthan Gum".into(), "Glycerin".into()];
    c.check(Market::Eu, "Aqua, Glycerin, Xanthan Gum");
}

#[test]
fn list_05_exactly_one_percent() {
    // EU: only what is less than 1 % is free of order. US 701.3(f)(2): what is not more than
    // 1 % is.
    let mut c = case(vec![
        (water(), "98"),
        (glycerin(), "1"),
        (pure("Allantoin", Class::Other), "0.5"),
        (pure("Panthenol", Class::Other), "0.5"),
    ]);
    c.info.low_order = vec!["Panthenol".into(), "Allantoin".into(), "Glycerin".into()];
    c.check(Market::Eu, "Aqua, Glycerin, Panthenol, Allantoin");
    c.check(Market::Us, "Water, Panthenol, Allantoin, Glycerin");
}

#[test]
fn list_06_colorants_last_even_above_others() {
    // EU 19(1)(g): colorants after the other ingredients, by number; US 701.3(f)(3).
    let c = case(vec![
        (water(), "90"),
        (pure("CI 77891", Class::Colour), "5"),
        (glycerin(), "4.5"),
        (pure("Xanthan Gum", Class::Thickener), "0.5"),
    ]);
    c.check(Market::Eu, "Aqua, Glycerin, Xanthan Gum, CI 77891");
    c.check(Market::Us, "Water, Glycerin, Xanthan Gum, Titanium Dioxide");
}

#[test]
fn list_07_water_of_solutions_counts_as_water() {
    // Blends are expanded: 50 % of a 30 % solution is 15 % active and 35 % water.
    case(vec![
        (
            blend(
                "betaine",
                &[
                    ("Aqua", 65.0, Class::Water),
                    ("Cocamidopropyl Betaine", 30.0, Class::Other),
                    ("Sodium Chloride", 5.0, Class::Electrolyte),
                ],
            ),
            "50",
        ),
        (glycerin(), "20"),
        (pure("Cetyl Alcohol", Class::Oil), "30"),
    ])
    .check(
        Market::Eu,
        "Aqua, Cetyl Alcohol, Glycerin, Cocamidopropyl Betaine, Sodium Chloride",
    );
}

#[test]
fn list_08_one_ingredient_of_two_materials_is_named_once() {
    // Weight of the ingredient, not of the raw material: 3 + 4 = 7 % glycerin.
    case(vec![
        (water(), "80.5"),
        (pure("Cetyl Alcohol", Class::Oil), "6.5"),
        (glycerin(), "3"),
        (
            blend(
                "extract",
                &[
                    ("GLYCERIN", 40.0, Class::Humectant),
                    (
                        "Calendula Officinalis Flower Extract",
                        55.555556,
                        Class::Other,
                    ),
                ],
            ),
            "10",
        ),
    ])
    .check(
        Market::Eu,
        "Aqua, Glycerin, Cetyl Alcohol, Calendula Officinalis Flower Extract",
    );
}

#[test]
fn list_09_names_of_plants_us() {
    // US 701.3(c): names of the adopted dictionary, Latin with the common name.
    let c = case(vec![
        (pure("Helianthus Annuus Seed Oil", Class::Oil), "60"),
        (pure("Butyrospermum Parkii Butter", Class::Oil), "30"),
        (pure("Cera Alba", Class::Oil), "10"),
    ]);
    c.check(
        Market::Us,
        "Helianthus Annuus (Sunflower) Seed Oil, Butyrospermum Parkii (Shea) Butter, Beeswax",
    );
    c.check(
        Market::Eu,
        "Helianthus Annuus Seed Oil, Butyrospermum Parkii Butter, Cera Alba",
    );
}

#[test]
fn list_10_certified_colours_us() {
    let c = case(vec![
        (water(), "99.9"),
        (pure("CI 42090", Class::Colour), "0.06"),
        (pure("CI 19140", Class::Colour), "0.04"),
    ]);
    c.check(Market::Us, "Water, Blue 1, Yellow 5");
    c.check(Market::Eu, "Aqua, CI 42090, CI 19140");
}

#[test]
fn list_11_three_iron_oxides_are_one_name_us() {
    let c = case(vec![
        (pure("Talc", Class::Other), "90"),
        (pure("CI 77491", Class::Colour), "4"),
        (pure("CI 77492", Class::Colour), "5"),
        (pure("CI 77499", Class::Colour), "1"),
    ]);
    c.check(Market::Us, "Talc, Iron Oxides");
    c.check(Market::Eu, "Talc, CI 77492, CI 77491, CI 77499");
}

#[test]
fn list_12_nanomaterials_are_marked() {
    // EU 19(1)(g): followed by the word nano in brackets; no such duty in the United States.
    let c = case(vec![
        (pure("Caprylic/Capric Triglyceride", Class::Oil), "85"),
        (pure("Zinc Oxide (nano)", Class::Other), "15"),
    ]);
    c.check(
        Market::Eu,
        "Caprylic/Capric Triglyceride, Zinc Oxide (nano)",
    );
    c.check(Market::Us, "Caprylic/Capric Triglyceride, Zinc Oxide");
}

/// A perfume of which a part is limonene, entered as a component.
fn perfume(limonene: f64) -> Material {
    let mut m = blend(
        "Perfume",
        &[
            ("Parfum", 100.0 - limonene, Class::Fragrance),
            ("Limonene", limonene, Class::Fragrance),
        ],
    );
    m.roles = vec![Role::Fragrance];
    m.constituents[1].incidental = Some("component of the perfume".into());
    m.constituents[1].cas = Some("5989-27-5".parse().unwrap());
    m
}

#[test]
fn list_13_allergens_above_the_threshold() {
    // Annex III, entry 88: named above 0.01 % in products washed off. 1 % of a perfume with
    // 2 % limonene brings 0.02 %, with 0.9 % it brings 0.009 %.
    let of = |limonene| case(vec![(water(), "99"), (perfume(limonene), "1")]);
    of(2.0).check(Market::Eu, "Aqua, Parfum, Limonene");
    of(0.9).check(Market::Eu, "Aqua, Parfum");
}

#[test]
fn list_14_allergens_in_products_that_stay_on() {
    // Annex III, entry 88: named above 0.001 % in products that stay on.
    let of = |limonene| {
        let mut c = case(vec![(water(), "99"), (perfume(limonene), "1")]);
        c.kind = ProductKind::LeaveOn;
        c
    };
    of(0.2).check(Market::Eu, "Aqua, Parfum, Limonene");
    of(0.09).check(Market::Eu, "Aqua, Parfum");
}

#[test]
fn list_15_components_count_to_the_perfume_not_beside_it() {
    // 1.2 % perfume is more than 1 %, although its listed part without limonene is 0.9 %.
    let c = case(vec![
        (water(), "97.7"),
        (pure("Xanthan Gum", Class::Thickener), "1.1"),
        (perfume(25.0), "1.2"),
    ]);
    c.check(Market::Eu, "Aqua, Parfum, Xanthan Gum, Limonene");
    c.check(Market::Us, "Water, Fragrance, Xanthan Gum");
}

#[test]
fn list_16_an_allergen_that_is_an_ingredient_is_named_once() {
    // Benzyl alcohol as preservative is an ingredient and an allergen (Annex III, entry 45).
    let mut preservative = pure("Benzyl Alcohol", Class::Preservative);
    preservative.constituents[0].cas = Some("100-51-6".parse().unwrap());
    case(vec![
        (water(), "95"),
        (glycerin(), "4.2"),
        (preservative, "0.8"),
    ])
    .check(Market::Eu, "Aqua, Glycerin, Benzyl Alcohol");
}

#[test]
fn list_17_impurities_are_not_ingredients() {
    // EU 19(1)(g): impurities in the raw materials used are not ingredients.
    let mut powder = blend(
        "powder",
        &[
            ("Sodium Coco-Sulfate", 97.0, Class::Other),
            ("Sodium Sulfate", 3.0, Class::Electrolyte),
        ],
    );
    powder.constituents[1].incidental = Some("left from making it".into());
    let c = case(vec![(water(), "60"), (powder, "40")]);
    c.check(Market::Eu, "Aqua, Sodium Coco-Sulfate");
    let not_listed = c.label(Market::Eu).ingredients.not_listed;
    assert_eq!(not_listed.len(), 1);
    assert_eq!(&*not_listed[0].reason, "left from making it");
    assert!((not_listed[0].share.typical.as_percent() - 1.2).abs() < 1e-9);
}

#[test]
fn list_18_what_the_maker_holds_incidental_keeps_its_reason() {
    let mut c = case(vec![
        (water(), "95"),
        (glycerin(), "4.9"),
        (pure("Sodium Hydroxide", Class::AcidBase), "0.1"),
    ]);
    c.info.left_out = vec![LeftOut {
        inci: "sodium hydroxide".into(),
        reason: "used up on the acid".into(),
    }];
    c.check(Market::Eu, "Aqua, Glycerin");
    let list = c.label(Market::Eu).ingredients;
    assert!(list.not_listed[0].by_maker);
    assert_eq!(&*list.not_listed[0].reason, "used up on the acid");
}

#[test]
fn list_19_shades_may_contain() {
    // EU 19(1)(g): +/- for the colorants of a range; US 701.3(g): “may contain”.
    let mut c = case(vec![
        (pure("Talc", Class::Other), "95"),
        (pure("CI 77891", Class::Colour), "5"),
    ]);
    c.info.may_contain = vec!["CI 77491".into(), "CI 77007".into()];
    c.check(Market::Eu, "Talc, CI 77891 [+/- CI 77491, CI 77007]");
    c.check(
        Market::Us,
        "Talc, Titanium Dioxide [+/- Iron Oxides, Ultramarines]",
    );
}

#[test]
fn list_20_colorants_of_hair_dyes_stand_by_weight() {
    // EU 19(1)(g): colorants other than those meant to colour the hair come last.
    let mut c = case(vec![
        (water(), "80"),
        (pure("CI 60730", Class::Colour), "0.5"),
        (pure("Cetyl Alcohol", Class::Oil), "19.3"),
        (pure("Xanthan Gum", Class::Thickener), "0.2"),
    ]);
    c.product_type = Some(ProductType::HairDyeNonOxidative);
    c.check(Market::Eu, "Aqua, Cetyl Alcohol, CI 60730, Xanthan Gum");
    c.product_type = None;
    c.check(Market::Eu, "Aqua, Cetyl Alcohol, Xanthan Gum, CI 60730");
}

#[test]
fn list_21_essential_oils_as_perfume_if_the_maker_wants() {
    // EU 19(1)(g): perfume compositions and their raw materials are referred to as parfum.
    let oil = shelf::built_in()
        .get(&MaterialId::from_name("Patchouli essential oil"))
        .unwrap()
        .as_ref()
        .clone();
    let mut c = case(vec![(water(), "99.998"), (oil, "0.002")]);
    c.check(Market::Us, "Water, Pogostemon Cablin (Patchouli) Leaf Oil");
    c.info.oils_as_perfume = true;
    c.check(Market::Us, "Water, Fragrance");
}

#[test]
fn list_22_reaction_products_as_a_choice() {
    // By weight as added, the law's own order; or the salt that forms: 0.5 % of an acrylic
    // acid polymer and 0.2 % sodium hydroxide, 40.00 g for 72.06 g, make 0.61 % of the salt.
    let mut c = case(vec![
        (water(), "99.3"),
        (pure("Carbomer", Class::Thickener), "0.5"),
        (pure("Sodium Hydroxide", Class::AcidBase), "0.2"),
    ]);
    c.check(Market::Eu, "Aqua, Carbomer, Sodium Hydroxide");
    c.info.reaction_products = true;
    c.check(Market::Eu, "Aqua, Sodium Carbomer, Carbomer");
    assert!(
        c.label(Market::Eu)
            .ingredients
            .remarks
            .iter()
            .any(|r| r.contains("as if they reacted completely"))
    );
}

#[test]
fn an_order_that_depends_on_the_lot_is_pointed_out() {
    let mut loose = glycerin();
    loose.constituents[0].share = Spread {
        low: MassFraction::from_percent(80.0),
        typical: MassFraction::from_percent(100.0),
        high: MassFraction::from_percent(100.0),
    };
    let label = case(vec![
        (water(), "90"),
        (loose, "5.1"),
        (pure("Cetyl Alcohol", Class::Oil), "4.9"),
    ])
    .label(Market::Eu);
    assert!(
        label
            .ingredients
            .remarks
            .iter()
            .any(|r| r.starts_with("Glycerin stands before Cetyl Alcohol"))
    );
}

#[test]
fn unknown_composition_is_pointed_out() {
    let label = case(vec![
        (water(), "95"),
        (blend("jar", &[("Glycerin", 60.0, Class::Humectant)]), "5"),
    ])
    .label(Market::Eu);
    assert!(
        label
            .ingredients
            .remarks
            .iter()
            .any(|r| r.starts_with("2.000 % of the formula, from jar"))
    );
    let silicones = label
        .claims
        .iter()
        .find(|c| c.fact == "contains no silicones")
        .unwrap();
    assert!(matches!(silicones.holds, Holds::Unknown(p) if (p - 2.0).abs() < 1e-9));
}

#[test]
fn what_is_missing_is_listed_and_goes_when_it_is_stated() {
    let mut c = case(vec![(water(), "100")]);
    let required = |c: &Case, market| -> Vec<String> {
        c.label(market)
            .missing
            .into_iter()
            .filter(|m| m.required)
            .map(|m| m.what)
            .collect()
    };
    // EU 19(1): responsible person (a), net contents (b), durability (c), batch (e).
    assert_eq!(
        required(&c, Market::Eu).len(),
        4,
        "{:?}",
        required(&c, Market::Eu)
    );
    // US: identity 701.11, net contents 701.13, name 701.12, contact 609(a), type size 701.3(b).
    assert_eq!(
        required(&c, Market::Us).len(),
        5,
        "{:?}",
        required(&c, Market::Us)
    );
    c.info = LabelInfo {
        function: "Shower gel".into(),
        responsible_person: "Larkmoor Studio".into(),
        us_contact: "555-0100".into(),
        net_contents: Some(NetContents::Volume(millilitres(250.0))),
        durability: Durability::AfterOpening(12),
        batch_code: "on the base".into(),
        x_height_mm: 1.6,
        panel_area_cm2: Some(50.0),
        ..LabelInfo::default()
    };
    assert_eq!(required(&c, Market::Eu), Vec::<String>::new());
    assert_eq!(required(&c, Market::Us), Vec::<String>::new());
    let text = c.label(Market::Us).text();
    assert!(text.contains("8.45 fl oz (250 ml)"), "{text}");
    assert!(
        c.label(Market::Eu)
            .text()
            .contains("Period after opening: 12 M")
    );
}

#[test]
fn wordings_that_rules_demand_reach_the_label() {
    // Annex III, entry 13 (salicylic acid as an ingredient is entry 98): read from the rules;
    // any product with such a demand must show it as a warning of this market.
    let formula = example("broken");
    let label = draw_up(&formula, Market::Eu);
    let context = Context::new(Date::constant(2026, 9, 1));
    let evaluation = evaluate(&formula, formula.active(), &context);
    let demanded: Vec<_> = formula::label_demands(&evaluation);
    for text in demanded {
        assert!(
            label
                .sections
                .iter()
                .any(|s| s.kind == SectionKind::Warning && s.text == text)
                || label.missing.iter().any(|m| m.what.contains(&text)),
            "{text}"
        );
    }
}

/// Helpers over the demands of an evaluation.
mod formula {
    use formulation::evaluation::Evaluation;
    use formulation::formula::Market;

    pub fn label_demands(evaluation: &Evaluation) -> Vec<String> {
        evaluation
            .demands
            .iter()
            .filter(|d| d.markets.contains(&Market::Eu))
            .map(|d| d.text.to_string())
            .collect()
    }
}

fn example(name: &str) -> Formula {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples")
        .join(format!("{name}.formula.ron"));
    formula_file::read(&std::fs::read_to_string(path).unwrap(), name).unwrap()
}

#[test]
fn the_examples_have_labels_without_required_gaps() {
    for name in [
        "oat-and-juniper-shower-gel",
        "clear-rosemary-shampoo",
        "calendula-hand-lotion",
        "heather-foot-balm",
        "moss-conditioner",
    ] {
        let formula = example(name);
        for &market in &formula.active().product.markets {
            let label = draw_up(&formula, market);
            let required: Vec<_> = label.missing.iter().filter(|m| m.required).collect();
            assert!(required.is_empty(), "{name}, {market:?}: {required:#?}");
            // The order is legal whatever the maker chose.
            let order: Vec<_> = label
                .ingredients
                .ingredients
                .iter()
                .map(|i| (i.part, i.share.typical.value()))
                .collect();
            for pair in order.windows(2) {
                let [(a, more), (b, less)] = pair else {
                    continue;
                };
                assert!(
                    a <= b || (*a == ListSection::Allergen && *b == ListSection::AnyOrder),
                    "{name}"
                );
                if *a == ListSection::ByWeight && *b == ListSection::ByWeight {
                    assert!(more >= less, "{name}");
                }
            }
            let drawing = label::svg::draw(&label, &formula.active().label);
            assert!(drawing.svg.starts_with("<svg") && drawing.svg.ends_with("</svg>\n"));
            // Nothing is cut off, however small the label.
            for (width, height) in [(20.0, 10.0), (60.0, 30.0), (150.0, 200.0)] {
                let mut info = formula.active().label.as_ref().clone();
                (info.width_mm, info.height_mm) = (width, height);
                let drawing = label::svg::draw(&label, &info);
                assert_eq!(drawing.fits, drawing.height_mm == height, "{name}");
                for line in &drawing.lines {
                    assert!(line.y_mm < drawing.height_mm, "{name}: {}", line.text);
                    let short = line.text.chars().count() <= 2;
                    assert!(
                        short || line.x_mm + line.width_mm <= width,
                        "{name}: {}",
                        line.text
                    );
                }
                let size = format!("height=\"{}mm\"", drawing.height_mm);
                assert!(drawing.svg.contains(&size), "{name}");
            }
            let json: serde_json::Value =
                serde_json::from_str(&label_report::json(&label).unwrap()).unwrap();
            assert_eq!(
                json["ingredient_list"].as_str().unwrap(),
                label.ingredients.text()
            );
        }
    }
}

#[test]
fn facts_name_what_stands_against_them() {
    let formula = example("oat-and-juniper-shower-gel");
    let label = draw_up(&formula, Market::Eu);
    let words: Vec<String> = label.claims.iter().map(label::Claim::words).collect();
    assert!(words.contains(&"Sulfate surfactants: Sodium Laureth Sulfate".to_owned()));
    assert!(words.contains(&"Parabens: none".to_owned()), "{words:?}");
    let fact = |words: &str| {
        &label
            .claims
            .iter()
            .find(|c| c.fact.contains(words))
            .unwrap()
            .holds
    };
    assert_eq!(
        *fact("sulfate surfactants"),
        Holds::No(vec!["Sodium Laureth Sulfate".into()])
    );
    assert_eq!(*fact("parabens"), Holds::Yes);
    assert_eq!(*fact("isothiazolinones"), Holds::Yes);
    let Holds::No(ethoxylates) = fact("ethoxylates") else {
        panic!("laureth sulfate and polysorbate are ethoxylates");
    };
    assert!(ethoxylates.contains(&"Sodium Laureth Sulfate".to_owned()));
    assert!(ethoxylates.contains(&"Polysorbate 20".to_owned()));
    assert!(!ethoxylates.iter().any(|e| e.contains("Glucoside")));
}

/// Phenoxyethanol, 1 % at most: Regulation (EC) No 1223/2009, Annex V, entry 29, which says
/// nothing of the United States. What is printed stays as it is.
#[test]
fn a_breach_stands_beside_the_label_of_its_market() {
    let cream = case(vec![
        (pure("Aqua", Class::Water), "97"),
        (pure("Phenoxyethanol", Class::Preservative), "3"),
    ]);
    for (market, stands) in [(Market::Eu, true), (Market::Uk, true), (Market::Us, false)] {
        let label = cream.label(market);
        let found: Vec<&str> = label.breaches.iter().map(|b| &*b.rule).collect();
        assert_eq!(found.contains(&"EU V/29"), stands, "{market:?} {found:?}");
        assert!(!label.text().contains("Not for sale"));
        assert!(!stands || label.is_short());
        let report = label_report::text(&label);
        assert_eq!(report.contains("Not for sale in the"), stands, "{report}");
        let json = label_report::json(&label).unwrap();
        assert_eq!(json.contains("EU V/29"), stands, "{json}");
    }
}
