//! The parts that a list is made of; whole lists are in the acceptance tests.

use jiff::civil::date;

use super::*;
use crate::evaluation::{Context, evaluate};
use crate::fixture;
use crate::formula::Formula;

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
                &*n.inci,
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
    let names = |wanted: &[Arc<str>]| {
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
