//! The parts that a list is made of; whole lists are in the acceptance tests.

use jiff::civil::date;

use super::*;
use crate::evaluation::{Context, evaluate};
use crate::fixture;
use crate::formula::Formula;
use crate::label_info::{LabelInfo, LeftOut};
use crate::rules::law::LabelAllergen;

fn spread(low: f64, typical: f64, high: f64) -> Spread {
    Spread {
        low: MassFraction::from_percent(low),
        typical: MassFraction::from_percent(typical),
        high: MassFraction::from_percent(high),
    }
}

fn ingredient(name: &str, share: (f64, f64, f64), part: ListSection) -> Ingredient {
    Ingredient {
        name: name.to_owned(),
        inci: name.into(),
        share: spread(share.0, share.1, share.2),
        part,
        lines: vec![ItemId(10)],
    }
}

fn listed(lines: Vec<(Arc<Material>, &str)>, market: Market) -> IngredientList {
    let lines = lines.into_iter().map(|(m, p)| fixture::line(&m, p));
    let formula: Formula = fixture::formula(lines.collect());
    let variant = formula.active();
    let evaluation = evaluate(&formula, variant, &Context::new(date(2026, 6, 1)));
    list(variant, &evaluation, market)
}

#[test]
fn an_order_that_lots_may_turn_round_is_remarked() {
    let remarks = |pair: [Ingredient; 2]| {
        let mut made = IngredientList {
            ingredients: pair.into(),
            ..IngredientList::default()
        };
        remark_on_ranges(&mut made);
        made.remarks
    };
    let by_weight = |name: &str, share| ingredient(name, share, ListSection::ByWeight);
    let turned = remarks([
        by_weight("First", (8.0, 10.0, 12.0)),
        by_weight("Second", (7.0, 9.0, 11.0)),
    ]);
    assert_eq!(turned.len(), 1, "{turned:?}");
    assert!(
        turned[0].starts_with("First stands before Second"),
        "{turned:?}"
    );
    let told_apart = remarks([
        by_weight("First", (8.0, 10.0, 12.0)),
        by_weight("Second", (7.0, 7.5, 8.0)),
    ]);
    assert!(told_apart.is_empty(), "{told_apart:?}");
    // Those in any order have none to turn round.
    let any = remarks([
        ingredient("First", (0.2, 0.5, 0.8), ListSection::AnyOrder),
        ingredient("Second", (0.1, 0.4, 0.7), ListSection::AnyOrder),
    ]);
    assert!(any.is_empty(), "{any:?}");
}

#[test]
fn a_share_on_both_sides_of_one_percent_is_remarked() {
    let remarked = |share, part| {
        let mut made = IngredientList {
            ingredients: vec![ingredient("Glycerin", share, part)],
            ..IngredientList::default()
        };
        remark_on_ranges(&mut made);
        made.remarks
    };
    for part in [ListSection::ByWeight, ListSection::AnyOrder] {
        let both = remarked((0.8, 0.95, 1.2), part);
        assert_eq!(
            both,
            ["Glycerin lies between 0.80 and 1.20 %, on both sides of 1 %"]
        );
    }
    for one_side in [
        (1.0, 1.1, 1.3),
        (0.5, 0.8, 1.0),
        (1.0, 1.0, 1.0),
        (1.1, 1.2, 1.3),
        (0.1, 0.2, 0.3),
    ] {
        assert!(
            remarked(one_side, ListSection::AnyOrder).is_empty(),
            "{one_side:?}"
        );
    }
    // Colorants stand at the end, however much they are.
    assert!(remarked((0.8, 0.95, 1.2), ListSection::Colorant).is_empty());
}

#[test]
fn what_is_not_listed_is_added_up_by_name_and_reason() {
    let mut made = IngredientList::default();
    let half = spread(0.5, 0.5, 0.5);
    let mut note = |inci: &str, reason: &str, by_maker| {
        note_not_listed(&mut made, &inci.into(), half, &reason.into(), by_maker);
    };
    note("Sodium Chloride", "from making it", false);
    note("SODIUM CHLORIDE", "from making it", false);
    note("Sodium Chloride", "another reason", false);
    note("Sodium Chloride", "from making it", true);
    note("Glycerin", "from making it", false);
    let shares: Vec<_> = made
        .not_listed
        .iter()
        .map(|n| {
            (
                n.inci.spelling(),
                &*n.reason,
                n.by_maker,
                n.share.typical.as_percent(),
            )
        })
        .collect();
    assert_eq!(
        shares,
        [
            ("Sodium Chloride", "from making it", false, 1.0),
            ("Sodium Chloride", "another reason", false, 0.5),
            ("Sodium Chloride", "from making it", true, 0.5),
            ("Glycerin", "from making it", false, 0.5),
        ]
    );
}

#[test]
fn ingredients_of_one_name_become_one_with_all_their_lines() {
    let mut all = vec![
        ingredient("Iron Oxides", (0.1, 0.2, 0.3), ListSection::AnyOrder),
        ingredient("iron oxides", (1.0, 1.0, 1.0), ListSection::ByWeight),
        ingredient("Mica", (1.0, 1.0, 1.0), ListSection::ByWeight),
    ];
    all[1].lines = vec![ItemId(10), ItemId(11)];
    merge_same_names(&mut all);
    assert_eq!(all.len(), 2);
    assert_eq!(all[0].lines, [ItemId(10), ItemId(11)]);
    assert_eq!(all[0].part, ListSection::ByWeight);
    assert_eq!(all[0].share, spread(0.1, 0.2, 0.3) + spread(1.0, 1.0, 1.0));
}

#[test]
fn the_makers_order_may_use_the_name_of_the_label_or_of_the_inventory() {
    let names = |wanted: &[Inci]| {
        let mut two = vec![
            ingredient("Water", (0.3, 0.3, 0.3), ListSection::AnyOrder),
            ingredient("Glycerin", (0.2, 0.2, 0.2), ListSection::AnyOrder),
            ingredient("Betaine", (0.1, 0.1, 0.1), ListSection::AnyOrder),
        ];
        two[2].inci = "Trimethylglycine".into();
        sort(&mut two, wanted);
        two.into_iter().map(|i| i.name).collect::<Vec<_>>()
    };
    assert_eq!(names(&[]), ["Water", "Glycerin", "Betaine"]);
    assert_eq!(names(&["BETAINE".into()]), ["Betaine", "Water", "Glycerin"]);
    assert_eq!(
        names(&["trimethylglycine".into(), "Glycerin".into()]),
        ["Betaine", "Glycerin", "Water"]
    );
}

#[test]
fn perfume_is_what_is_there_for_its_smell() {
    let with = |roles: &[Role]| {
        let mut m = fixture::material("Oil", &[]).as_ref().clone();
        m.roles = roles.into();
        is_perfume(&m)
    };
    assert!(with(&[Role::Fragrance]));
    assert!(with(&[Role::EssentialOil]));
    assert!(!with(&[Role::EssentialOil, Role::Cooling]));
    assert!(!with(&[Role::Cooling]));
    assert!(!with(&[Role::Humectant]));
}

/// 21 CFR 701.3(f)(2) and Article 19(1)(g) of Regulation (EC) No 1223/2009 differ at one percent.
#[test]
fn one_percent_itself_stands_by_weight_in_europe_only() {
    let one = spread(1.0, 1.0, 1.0);
    assert!(stands_by_weight(one, Market::Eu));
    assert!(stands_by_weight(one, Market::Uk));
    assert!(!stands_by_weight(one, Market::Us));
    assert!(stands_by_weight(spread(0.9, 1.01, 1.2), Market::Us));
    assert!(!stands_by_weight(spread(0.9, 0.99, 1.2), Market::Eu));
}

#[test]
fn what_is_no_colour_additive_there_is_said_for_the_united_states_alone() {
    let said = |inci: &str, class, market| {
        let m = fixture::material("Colour", &[(inci, 100.0, class)]);
        let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let made = listed(vec![(water, "99"), (m, "1")], market);
        made.remarks
            .iter()
            .any(|r| r.contains("colour additives listed in the United States"))
    };
    // 21 CFR 73.2575: titanium dioxide. CI 16035, but not CI 14720, is in 21 CFR 74.
    assert!(!said("CI 77891", Class::Colour, Market::Us));
    assert!(said("CI 14720", Class::Colour, Market::Us));
    assert!(!said("CI 14720", Class::Colour, Market::Eu));
    assert!(!said("CI 14720", Class::Other, Market::Us));
}

#[test]
fn an_ingredient_is_what_most_of_it_is_there_for() {
    let pigment = fixture::material("Pigment", &[("CI 77891", 100.0, Class::Colour)]);
    let powder = fixture::material("Powder", &[("CI 77891", 100.0, Class::Other)]);
    let part = |colour: &str, other: &str, turned: bool| {
        let mut lines = vec![(pigment.clone(), colour), (powder.clone(), other)];
        if turned {
            lines.reverse();
        }
        let made = listed(lines, Market::Eu);
        made.ingredients.iter().map(|i| i.part).collect::<Vec<_>>()
    };
    for turned in [false, true] {
        assert_eq!(part("3", "2", turned), [ListSection::Colorant]);
        assert_eq!(part("2", "3", turned), [ListSection::ByWeight]);
    }
}

#[test]
fn a_line_that_brings_a_substance_twice_is_named_once() {
    let twice = fixture::material(
        "Blend",
        &[
            ("Glycerin", 40.0, Class::Humectant),
            ("Glycerin", 60.0, Class::Humectant),
        ],
    );
    let made = listed(vec![(twice, "100")], Market::Eu);
    assert_eq!(made.ingredients.len(), 1);
    assert_eq!(made.ingredients[0].lines, [ItemId(10)]);
}

/// The list of the European Union, of a variant changed as it says.
fn list_of(
    lines: Vec<(Arc<Material>, &str)>,
    change: impl FnOnce(&mut Variant, &mut LabelInfo),
) -> IngredientList {
    let lines = lines.into_iter().map(|(m, p)| fixture::line(&m, p));
    let formula: Formula = fixture::formula(lines.collect());
    let mut variant = formula.active().as_ref().clone();
    let mut label = LabelInfo::default();
    change(&mut variant, &mut label);
    variant.label = Arc::new(label);
    let evaluation = evaluate(&formula, &variant, &Context::new(date(2026, 6, 1)));
    list(&variant, &evaluation, Market::Eu)
}

fn names_of(made: &IngredientList) -> Vec<&str> {
    made.ingredients.iter().map(|i| i.name.as_str()).collect()
}

fn water() -> Arc<Material> {
    fixture::material("Water", &[("Aqua", 100.0, Class::Water)])
}

#[test]
fn a_line_of_nothing_is_neither_listed_nor_remarked() {
    let blend = fixture::material("Blend", &[("Glycerin", 60.0, Class::Humectant)]);
    let made = |share| listed(vec![(water(), "90"), (blend.clone(), share)], Market::Eu);
    let nothing = made("0");
    assert_eq!(names_of(&nothing), ["Aqua"]);
    assert_eq!(nothing.remarks, Vec::<String>::new());
    let some = made("10");
    assert_eq!(names_of(&some), ["Aqua", "Glycerin"]);
    assert_eq!(
        some.remarks,
        [
            "4.000 % of the formula, from Blend, has no known composition; ask the supplier, the list may lack ingredients"
        ]
    );
}

#[test]
fn what_the_file_does_not_carry_is_missed_in_the_list() {
    let missed = |share: &str| {
        let lost = fixture::material("Lost", &[("Glycerin", 100.0, Class::Humectant)]);
        let lines = vec![fixture::line(&water(), "90"), fixture::line(&lost, share)];
        let mut formula = fixture::formula(lines);
        formula.materials.remove(&lost.id);
        let variant = formula.active();
        let evaluation = evaluate(&formula, variant, &Context::new(date(2026, 6, 1)));
        let remarks = list(variant, &evaluation, Market::Eu).remarks;
        remarks
            .iter()
            .any(|r| r.contains("is not carried by the file"))
    };
    assert!(missed("10"));
    assert!(!missed("0"));
}

#[test]
fn of_equal_parts_the_first_tells_what_an_ingredient_is() {
    let pigment = fixture::material("Pigment", &[("CI 77891", 100.0, Class::Colour)]);
    let powder = fixture::material("Powder", &[("CI 77891", 100.0, Class::Other)]);
    let part = |lines| listed(lines, Market::Eu).ingredients[0].part;
    let first = part(vec![(pigment.clone(), "2"), (powder.clone(), "2")]);
    assert_eq!(first, ListSection::Colorant);
    let first = part(vec![(powder, "2"), (pigment, "2")]);
    assert_eq!(first, ListSection::ByWeight);
}

#[test]
fn oils_are_perfume_where_the_maker_says_so_and_only_their_scent() {
    let mut oil = fixture::material(
        "Lavender oil",
        &[
            ("Lavandula Angustifolia Oil", 90.0, Class::Fragrance),
            ("Tocopherol", 10.0, Class::Antioxidant),
        ],
    )
    .as_ref()
    .clone();
    oil.roles.push(Role::EssentialOil);
    let mut extract = oil.clone();
    extract.roles.clear();
    let made = |material: &Material, as_perfume| {
        let lines = vec![(water(), "90"), (Arc::new(material.clone()), "10")];
        list_of(lines, |_, label| label.oils_as_perfume = as_perfume)
    };
    let scent = "Lavandula Angustifolia Oil";
    assert_eq!(
        names_of(&made(&oil, true)),
        ["Aqua", "Parfum", "Tocopherol"]
    );
    assert_eq!(names_of(&made(&oil, false)), ["Aqua", scent, "Tocopherol"]);
    // What is not there for its smell is no perfume.
    let named = made(&extract, true);
    assert_eq!(names_of(&named), ["Aqua", scent, "Tocopherol"]);
}

#[test]
fn what_the_maker_leaves_out_is_off_the_list_with_its_reason() {
    let salt = fixture::material("Salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
    let without = |reason: &str| {
        let lines = vec![(water(), "99"), (salt.clone(), "1")];
        list_of(lines, |_, label| {
            label.left_out = vec![LeftOut {
                inci: "SODIUM CHLORIDE".into(),
                reason: reason.into(),
            }];
        })
    };
    let made = without("comes with the raw material");
    assert_eq!(names_of(&made), ["Aqua"]);
    assert!(made.not_listed[0].by_maker);
    assert_eq!(&*made.not_listed[0].reason, "comes with the raw material");
    assert_eq!(made.remarks, Vec::<String>::new());
    let unsaid = without(" ");
    assert_eq!(names_of(&unsaid), ["Aqua"]);
    assert_eq!(
        unsaid.remarks,
        ["SODIUM CHLORIDE is left off the list without a reason; write down why"]
    );
}

#[test]
fn shades_stand_behind_the_list_where_there_are_any() {
    let made = |shades: &[&str]| {
        list_of(vec![(water(), "100")], |_, label| {
            label.may_contain = shades.iter().map(|s| (*s).into()).collect();
        })
    };
    assert_eq!(made(&[]).text(), "Aqua");
    assert_eq!(
        made(&["CI 77491", "CI 77492"]).text(),
        "Aqua [+/- CI 77491, CI 77492]"
    );
}

/// Regulation (EC) No 1223/2009, Article 19(1)(g): colorants "other than colorants intended to
/// colour the hair" may stand in any order at the end.
#[test]
fn colorants_of_hair_dyes_stand_by_weight_in_europe() {
    let dye = fixture::material("Dye", &[("CI 77891", 100.0, Class::Colour)]);
    let part = |product_type, market| {
        let lines = [fixture::line(&water(), "97"), fixture::line(&dye, "3")];
        let formula = fixture::formula(lines.into());
        let mut variant = formula.active().as_ref().clone();
        variant.product.product_type = product_type;
        let evaluation = evaluate(&formula, &variant, &Context::new(date(2026, 6, 1)));
        let made = list(&variant, &evaluation, market);
        let dye = made
            .ingredients
            .iter()
            .find(|i| i.inci.spelling() == "CI 77891");
        dye.map(|i| i.part)
    };
    let hair = Some(ProductType::HairDyeNonOxidative);
    assert_eq!(part(hair, Market::Eu), Some(ListSection::ByWeight));
    assert_eq!(part(hair, Market::Us), Some(ListSection::Colorant));
    assert_eq!(part(None, Market::Eu), Some(ListSection::Colorant));
}

#[test]
fn a_section_is_told_in_words() {
    let sections = [
        ListSection::ByWeight,
        ListSection::AnyOrder,
        ListSection::Allergen,
        ListSection::Colorant,
    ];
    let told = ["by weight", "any order", "allergen", "colorant"];
    assert_eq!(sections.map(ListSection::label), told);
}

/// An evaluation whose one allergen is as stated here.
fn with_allergen(allergen: LabelAllergen, lines: Vec<(Arc<Material>, &str)>) -> IngredientList {
    let lines = lines.into_iter().map(|(m, p)| fixture::line(&m, p));
    let formula: Formula = fixture::formula(lines.collect());
    let variant = formula.active();
    let mut evaluation = evaluate(&formula, variant, &Context::new(date(2026, 6, 1)));
    evaluation.allergens = vec![allergen];
    list(variant, &evaluation, Market::Eu)
}

fn linalool(must: Truth, share: (f64, f64, f64)) -> LabelAllergen {
    LabelAllergen {
        name: "Linalool".into(),
        constituents: vec!["Linalool".into(), "l-Linalool".into()],
        share: spread(share.0, share.1, share.2),
        threshold: MassFraction::from_percent(0.001),
        must,
        from: None,
        markets: vec![Market::Eu],
        rule: "EU III/84".into(),
        lines: vec![ItemId(10)],
    }
}

#[test]
fn an_allergen_is_named_where_it_must_or_may_have_to_be() {
    let made = |allergen| with_allergen(allergen, vec![(water(), "100")]);
    let named = |allergen| {
        made(allergen)
            .ingredients
            .iter()
            .any(|i| i.name == "Linalool")
    };
    assert!(named(linalool(Truth::Yes, (0.01, 0.01, 0.01))));
    assert!(named(linalool(Truth::Maybe, (0.0, 0.0005, 0.002))));
    assert!(!named(linalool(Truth::No, (0.0001, 0.0001, 0.0001))));
    let elsewhere = LabelAllergen {
        markets: vec![Market::Us],
        ..linalool(Truth::Yes, (0.01, 0.01, 0.01))
    };
    assert!(!named(elsewhere));
    // Only where it hangs on the stated range it is said.
    let sure = made(linalool(Truth::Yes, (0.01, 0.01, 0.01)));
    assert_eq!(sure.remarks, Vec::<String>::new());
    let perhaps = made(linalool(Truth::Maybe, (0.0, 0.0005, 0.002)));
    assert_eq!(
        perhaps.remarks,
        [
            "Linalool is named because the highest share its sources state, 0.0020 %, passes the threshold of 0.001 %; at the typical share it would not"
        ]
    );
}

#[test]
fn an_allergen_that_is_an_ingredient_stands_once_with_the_greater_share() {
    let own = |inci: &str| fixture::material(inci, &[(inci, 100.0, Class::Fragrance)]);
    let made = |share| {
        let lines = vec![
            (water(), "97"),
            (own("Linalool"), "2"),
            (own("l-Linalool"), "1"),
        ];
        let made = with_allergen(linalool(Truth::Yes, (share, share, share)), lines);
        let percent = made.ingredients[1].share.typical.as_percent();
        let names: Vec<_> = made.ingredients.into_iter().map(|i| i.name).collect();
        (names, (percent * 1e6).round() / 1e6)
    };
    let names = vec!["Aqua".to_owned(), "Linalool".to_owned()];
    assert_eq!(made(3.0), (names.clone(), 3.0));
    // Counted with less than the line has, the line's own share stays.
    assert_eq!(made(1.5), (names, 2.0));
    // Of as much, the range of the line is the one known better.
    let lines = vec![(water(), "98"), (own("Linalool"), "2")];
    let ranging = linalool(Truth::Yes, (1.0, 2.0, 3.0));
    let made = with_allergen(ranging, lines);
    assert_eq!(made.ingredients[1].share, spread(2.0, 2.0, 2.0));
}

/// 21 CFR 701.3(c): in the United States the name that consumers know is asked for; where none is
/// known here, the list says so, once for a plant.
#[test]
fn a_plant_without_a_common_name_is_remarked_in_the_united_states() {
    let parts = [
        ("Lactuca Virosa Leaf Extract", 40.0, Class::Other),
        ("Lactuca Virosa Seed Oil", 30.0, Class::Oil),
        ("Olea Europaea Fruit Oil", 30.0, Class::Oil),
    ];
    let own = fixture::material("own", &parts);
    let american = listed(vec![(own.clone(), "100")], Market::Us);
    let about: Vec<&String> = american
        .remarks
        .iter()
        .filter(|r| r.contains("no common name is known here for Lactuca Virosa;"))
        .collect();
    assert_eq!(about.len(), 1, "{:?}", american.remarks);
    let european = listed(vec![(own, "100")], Market::Eu);
    let told = |list: &IngredientList| list.remarks.iter().any(|r| r.contains("common name"));
    assert!(!told(&european), "{:?}", european.remarks);
}
