//! However the names of substances are spelt, every room takes them for the same substances.

use std::sync::Arc;

use proptest::collection::vec;
use proptest::prelude::*;

use crate::evaluation::{self, Context, Evaluation};
use crate::fixture;
use crate::formula::{Date, Formula, Market};
use crate::inci::Inci;
use crate::label;
use crate::label_info::{LabelInfo, LeftOut};
use crate::material::{Class, Material};
use crate::material_change::material_changes;
use crate::random_formula::Dice;
use crate::shelf::{self, Shelf};
use crate::solve::aim::{Aim, Answer, Prepared};
use crate::solve::pasted_list;
use crate::solve::subject::Supply;

fn context() -> Context {
    Context::new(Date::constant(2026, 11, 30))
}

fn evaluated(formula: &Formula) -> Evaluation {
    evaluation::evaluate(formula, formula.active(), &context())
}

/// A name in other capitals: all, none, or some by chance.
fn respelt(dice: &mut Dice, name: &str) -> Inci {
    let way = dice.below(3);
    let other = name.chars().map(|c| match way {
        0 => c.to_ascii_uppercase(),
        1 => c.to_ascii_lowercase(),
        _ if dice.chance(2) => c.to_ascii_uppercase(),
        _ => c.to_ascii_lowercase(),
    });
    other.collect::<String>().into()
}

fn material_respelt(dice: &mut Dice, material: &Material) -> Arc<Material> {
    let mut other = material.clone();
    for constituent in &mut other.constituents {
        constituent.inci = respelt(dice, constituent.inci.spelling());
    }
    Arc::new(other)
}

/// A formula of materials of the shelf, given by place and hundredths of a per cent.
fn of_shelf(picked: &[(prop::sample::Index, u32)]) -> Formula {
    let all: Vec<&Arc<Material>> = shelf::built_in().iter().collect();
    let mut lines = Vec::new();
    for (index, hundredths) in picked {
        let percent = format!("{}.{:02}", hundredths / 100, hundredths % 100);
        let material = *index.get(&all);
        lines.push(fixture::line(material, &percent));
    }
    let mut formula = fixture::formula(lines);
    let mut variant = formula.active().as_ref().clone();
    variant.product.markets = Market::ALL.to_vec();
    formula.variants = vec![Arc::new(variant)];
    formula
}

fn formula_respelt(dice: &mut Dice, formula: &Formula) -> Formula {
    let mut other = formula.clone();
    for material in other.materials.values_mut() {
        *material = material_respelt(dice, material);
    }
    let mut variant = other.active().as_ref().clone();
    let mut info = LabelInfo::clone(&variant.label);
    for name in &mut info.low_order {
        *name = respelt(dice, name.spelling());
    }
    for left in &mut info.left_out {
        left.inci = respelt(dice, left.inci.spelling());
    }
    variant.label = Arc::new(info);
    other.variants = vec![Arc::new(variant)];
    other
}

/// Everything that is told, in small letters.
fn told(what: &impl std::fmt::Debug) -> String {
    format!("{what:#?}").to_lowercase()
}

/// The first line in which two texts differ.
fn differ(one: &str, other: &str) -> Option<String> {
    let mut pairs = one.lines().zip(other.lines());
    let found = pairs
        .find(|(a, b)| a != b)
        .map(|(a, b)| format!("{a}\n{b}"));
    found.or_else(|| (one != other).then(|| "one is longer".to_owned()))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn names_in_any_capitals_give_the_same_answers(
        picked in vec((any::<prop::sample::Index>(), 1_u32..1200), 2..9),
        reactions in any::<bool>(),
        seed in any::<u64>(),
    ) {
        let mut formula = of_shelf(&picked);
        let mut dice = Dice::new(seed);
        let names: Vec<Inci> = evaluated(&formula).composition.constituents.iter()
            .map(|a| a.inci.clone()).collect();
        let mut variant = formula.active().as_ref().clone();
        let chosen = |dice: &mut Dice| names[dice.below(names.len())].clone();
        variant.label = Arc::new(LabelInfo {
            low_order: vec![chosen(&mut dice), chosen(&mut dice)],
            left_out: vec![LeftOut { inci: chosen(&mut dice), reason: "traces".into() }],
            reaction_products: reactions,
            ..LabelInfo::default()
        });
        formula.variants = vec![Arc::new(variant)];
        let other = formula_respelt(&mut dice, &formula);
        let (one, two) = (evaluated(&formula), evaluated(&other));
        for (a, b) in [
            (told(&one.mixture), told(&two.mixture)),
            (told(&one.composition), told(&two.composition)),
            (told(&one.estimates), told(&two.estimates)),
            (told(&one.findings), told(&two.findings)),
            (told(&(&one.limits, &one.ceilings)), told(&(&two.limits, &two.ceilings))),
            (told(&(&one.demands, &one.allergens)), told(&(&two.demands, &two.allergens))),
        ] {
            prop_assert_eq!(differ(&a, &b), None);
        }
        for market in Market::ALL {
            let label = |f: &Formula, e: &Evaluation| told(&label::label(f, f.active(), e, market));
            prop_assert_eq!(differ(&label(&formula, &one), &label(&other, &two)), None);
        }
        // Claims are told once for each substance.
        let claims = |e: &Evaluation| told(&label::claims::claims(e));
        prop_assert_eq!(differ(&claims(&one), &claims(&two)), None);
    }

    #[test]
    fn aim_finds_the_same_whatever_the_capitals(
        picked in vec((any::<prop::sample::Index>(), 300_u32..2000), 2..6),
        seed in any::<u64>(),
    ) {
        let formula = of_shelf(&picked);
        let mut dice = Dice::new(seed);
        let other = formula_respelt(&mut dice, &formula);
        let constituents = evaluated(&formula).composition.constituents;
        let amount = &constituents[dice.below(constituents.len())];
        let answer = |formula: &Formula, name: &str| {
            let target = format!("inci \"{name}\" >= {:.3}", 1.2 * amount.share.typical.as_percent());
            let context = context();
            let supply = Supply::default();
            let prepared = Prepared::new(formula, formula.active(), &context, &supply, &[]);
            match target.parse().map(|t| prepared.answer(&Aim::new(vec![t]))) {
                Ok(Ok(Answer::Proposal(p))) => told(&p.lines),
                Ok(Ok(Answer::Collision(c))) => c.sentence().to_lowercase(),
                Ok(Err(e)) => e.to_string().to_lowercase(),
                Err(e) => panic!("{target}: {e}"),
            }
        };
        let name = amount.inci.spelling();
        let one = answer(&formula, name);
        prop_assert_eq!(&answer(&other, name), &one);
        prop_assert_eq!(&answer(&other, respelt(&mut dice, name).spelling()), &one);
    }

    #[test]
    fn a_list_in_any_capitals_is_read_the_same(
        picked in vec((any::<prop::sample::Index>(), 1_u32..1200), 2..9),
        seed in any::<u64>(),
    ) {
        let formula = of_shelf(&picked);
        let names: Vec<Inci> = evaluated(&formula).composition.constituents.iter()
            .map(|a| a.inci.clone()).collect();
        let mut dice = Dice::new(seed);
        let read = |names: Vec<String>, shelf: &Shelf| {
            let list = pasted_list::read(&names.join("; "), shelf);
            let keys = list.names.iter().map(|n| (n.inci.key(), n.known, n.class));
            keys.collect::<Vec<_>>()
        };
        let one = read(names.iter().map(ToString::to_string).collect(), shelf::built_in());
        let other = names.iter().map(|n| respelt(&mut dice, n.spelling()).to_string());
        prop_assert_eq!(read(other.collect(), shelf::built_in()), one);
    }
}

/// The same substance in two spellings within one material is found by both: what the law names,
/// what an entry excepts, and what is a part of an oil.
#[test]
fn two_spellings_in_one_formula_are_one_substance() {
    let one = fixture::material("one", &[("Phenoxyethanol", 100.0, Class::Preservative)]);
    let two = fixture::material("two", &[("PHENOXYETHANOL ", 100.0, Class::Preservative)]);
    let f = fixture::formula(vec![fixture::line(&one, "0.6"), fixture::line(&two, "0.6")]);
    let e = evaluated(&f);
    assert_eq!(e.composition.constituents.len(), 1);
    // 1.2 % of what 1 % is allowed of, told once.
    let of_list = e.findings.iter().filter(|f| &*f.rule == "EU V/29");
    assert_eq!(of_list.count(), 1, "{:?}", e.findings);
    let label = label::label(&f, f.active(), &e, Market::Eu);
    assert_eq!(label.ingredients.text(), "Phenoxyethanol");
}

/// The scent of a material is the same substance however its parts spell it.
#[test]
fn a_scent_in_two_spellings_is_one() {
    let mut oil = Material::clone(&fixture::material(
        "oil",
        &[
            ("Lavandula Angustifolia Oil", 60.0, Class::Fragrance),
            ("LAVANDULA ANGUSTIFOLIA OIL", 10.0, Class::Fragrance),
            ("Linalool", 30.0, Class::Fragrance),
        ],
    ));
    oil.constituents[2].incidental = Some("part of the oil".into());
    let scent = oil.scent();
    let whole = |place: usize| oil.share_with_components(&oil.constituents[place], scent);
    for place in [0, 1] {
        assert_eq!(whole(place).typical.as_percent().round(), 100.0);
    }
}

/// A change of spelling is a change to undo, saving and the difference of two materials, and no
/// change of what the formula is.
#[test]
fn a_change_of_spelling_is_a_change() {
    let one = fixture::material("one", &[("Glycerin", 100.0, Class::Humectant)]);
    let other = fixture::material("one", &[("GLYCERIN", 100.0, Class::Humectant)]);
    assert!(one != other && one.constituents != other.constituents);
    assert_eq!(one.constituents, one.clone().constituents);
    let changes = material_changes(&one, &other);
    let [change] = &changes[..] else {
        panic!("{changes:?}");
    };
    assert_eq!((&*change.before, &*change.after), ("Glycerin", "GLYCERIN"));
    assert_eq!(material_changes(&one, &one), []);
}
