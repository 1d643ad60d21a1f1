//! Every room reads the same mixture: report, label, aim, law and the weighed line agree on
//! every constituent, or differ by a view that has a name.

use jiff::civil::date;
use proptest::collection::vec;
use proptest::prelude::*;

use super::*;
use crate::evaluation::{Context, Evaluation, evaluate};
use crate::file::formula_file;
use crate::finding::FindingValue;
use crate::fixture::{self, material};
use crate::formula::Market;
use crate::label;
use crate::label::ingredients::ListSection;
use crate::label::names::names;
use crate::material::{Basis, Charge, Source, Sourced};
use crate::quantity::kg_per_m3;
use crate::rules::{RuleBook, law};
use crate::shelf;
use crate::solve::subject::{Subject, Supply};
use crate::solve::target::TargetQuantity;

const EXAMPLE: &str = include_str!("../../../examples/oat-and-juniper-shower-gel.formula.ron");
const JUNIPER: &str = "Juniperus Communis Fruit Oil";

fn evaluated(formula: &Formula) -> Evaluation {
    evaluate(formula, formula.active(), &Context::new(date(2026, 6, 1)))
}

/// What Aim counts of a substance, in percent.
fn aimed(formula: &Formula, inci: &str) -> f64 {
    let context = Context::new(date(2026, 6, 1));
    let supply = Supply::default();
    let subject = Subject::new(formula, formula.active(), &context, &supply, &[]);
    let x: Vec<f64> = (formula.active().lines())
        .map(|(_, l)| l.percent.as_percent())
        .collect();
    let form = subject.form(&TargetQuantity::Constituent(inci.into()), None);
    form.unwrap().value(&x).unwrap()
}

/// What the law counts of a substance, in percent: held against a limit that it breaks.
fn limited(formula: &Formula, inci: &str) -> Option<f64> {
    let own = format!(
        r#"(version: 1, set: "Shop", title: "Shop", list: Own, source: "test",
            entries: [(no: "1", name: "x", of: ["{inci}"], tiers: [(max: 0.000001)])])"#
    );
    let book = RuleBook::shared().with_list(&own, "own.ron").unwrap();
    let law = law::check(formula, formula.active(), None, date(2026, 6, 1), &book);
    let finding = law.findings.iter().find(|f| &*f.rule == "Shop 1")?;
    match finding.amount {
        Some(FindingValue::Share(share)) => Some(share.as_percent()),
        _ => None,
    }
}

/// Figures of a substance on the label of the European Union, in percent.
fn on_label(formula: &Formula, evaluation: &Evaluation, inci: &str) -> Option<f64> {
    let label = label::label(formula, formula.active(), evaluation, Market::Eu);
    let listed = label.ingredients.ingredients.into_iter();
    let mut listed = listed.filter(|i| i.inci.same_as(names().european(&inci.into())));
    listed.next().map(|i| i.share.typical.as_percent())
}

#[test]
fn the_juniper_oil_of_the_example_is_one_figure_everywhere() {
    // 0.3 % is weighed and nothing else in the example brings it in.
    let formula = formula_file::read(EXAMPLE, "example").unwrap();
    let evaluation = evaluated(&formula);
    let amount = evaluation.composition.constituent(JUNIPER).unwrap();
    let close = |a: f64| assert!((a - 0.3).abs() < 1e-9, "{a}");
    close(amount.in_view(View::AsDeclared).typical.as_percent());
    close(on_label(&formula, &evaluation, JUNIPER).unwrap());
    close(aimed(&formula, JUNIPER));
    close(limited(&formula, JUNIPER).unwrap());
    // What is left of the oil beside its named components is the other view, by its name.
    assert_eq!(amount.standing, IngredientStatus::Whole);
    assert!(amount.in_view(View::ByComponent).typical.as_percent() < 0.2);
}

#[test]
fn what_is_incidental_is_told_apart_from_what_is_listed() {
    let formula = formula_file::read(EXAMPLE, "example").unwrap();
    let evaluation = evaluated(&formula);
    let glycerin = evaluation.composition.constituent("Glycerin").unwrap();
    let listed = on_label(&formula, &evaluation, "Glycerin").unwrap();
    assert!((glycerin.listed.typical.as_percent() - listed).abs() < 1e-9);
    // The residue of the betaine counts in the mixture and is not an ingredient.
    assert!(glycerin.declared.typical > glycerin.listed.typical);
    assert!((aimed(&formula, "Glycerin") - glycerin.declared.typical.as_percent()).abs() < 1e-9);
}

#[test]
fn moisture_of_a_powder_is_no_ingredient_and_solvent_water_is() {
    let material = |name: &str| {
        let mut found = shelf::built_in().iter().filter(|m| &*m.name == name);
        found.next().unwrap().clone()
    };
    for (name, listed) in [
        ("Corn starch", false),
        ("Xanthan gum", false),
        ("Bentonite", false),
        ("Citric acid monohydrate", false),
        ("Polysorbate 80", false),
        ("Lactic acid 90 %", true),
        ("Glycerin 86 %", true),
        ("Ethanol 96 %, denatured", true),
        ("Cocamidopropyl betaine solution 30 %", true),
        // Soap is sold and labelled with its water: common practice, no source.
        ("Soap noodles, palm and coconut", true),
        ("Water, demineralised", true),
    ] {
        assert_eq!(lists_water(&material(name)), listed, "{name}");
    }
    let f = fixture::formula(vec![
        fixture::line(&material("Corn starch"), "40"),
        fixture::line(&material("Talc"), "60"),
    ]);
    let e = evaluated(&f);
    let label = label::label(&f, f.active(), &e, Market::Eu);
    assert!(!label.ingredients.text().contains("Aqua"));
    let told = label
        .ingredients
        .not_listed
        .iter()
        .find(|n| n.inci.spelling() == "Aqua");
    assert!(told.unwrap().reason.contains("moisture"));
    // It is still water to the chemistry.
    assert!(e.composition.water().typical.as_percent() > 4.0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn all_rooms_agree_on_every_constituent(
        picked in vec((any::<prop::sample::Index>(), 1_u32..1200), 2..9),
        checked in any::<prop::sample::Index>(),
    ) {
        let all: Vec<&Arc<Material>> = shelf::built_in().iter().collect();
        let mut lines = Vec::new();
        let mut seen = Vec::new();
        for (index, hundredths) in picked {
            let material = *index.get(&all);
            if !seen.contains(&&material.id) {
                seen.push(&material.id);
                let percent = format!("{}.{:02}", hundredths / 100, hundredths % 100);
                lines.push(fixture::line(material, &percent));
            }
        }
        let mut formula = fixture::formula(lines);
        // Without a market no allergen is named, so the list holds the ingredients alone.
        let mut variant = Variant::clone(formula.active());
        variant.product.markets.clear();
        formula.variants = vec![variant.into()];
        let evaluation = evaluated(&formula);
        let (mixture, composition) = (&evaluation.mixture, &evaluation.composition);

        // Make weighs the line: its parts and what is unknown are the whole of it.
        for (place, line) in mixture.lines.iter().enumerate() {
            let parts = mixture.contributions.iter().filter(|c| c.place == place);
            let known: f64 = parts.map(|c| c.by_component.typical.value()).sum();
            let whole = known + line.unknown.value();
            prop_assert!((whole - line.percent.fraction().value()).abs() < 2e-6);
        }
        // Both views hold the same whole: components are within their oil or beside it.
        let sum = |pick: &dyn Fn(&Contribution) -> f64| -> f64 {
            mixture.contributions.iter().map(pick).sum()
        };
        let by_component = sum(&|c| c.by_component.typical.value());
        let declared = sum(&|c| match c.standing {
            IngredientStatus::Component => 0.0,
            _ => c.as_declared.typical.value(),
        });
        prop_assert!((by_component - declared).abs() < 1e-9);
        // Classes are told per contribution, not by the first material of a name.
        for class in Class::ALL {
            let of_class = composition.constituents.iter().flat_map(|a| &a.by_class);
            let total: f64 = of_class.filter(|(c, _)| *c == class).map(|(_, s)| s.value()).sum();
            prop_assert!((total - composition.class(class).typical.value()).abs() < 1e-9);
        }
        // Label.
        let label = label::label(&formula, formula.active(), &evaluation, Market::Eu);
        let listed = |inci: &str| -> f64 {
            let same = composition.constituents.iter()
                .filter(|a| names().european(&a.inci).is(inci));
            same.map(|a| a.listed.typical.value()).sum()
        };
        let mut on_label = 0.0;
        for i in &label.ingredients.ingredients {
            prop_assert!(i.part != ListSection::Allergen);
            on_label += i.share.typical.value();
            // Names that stand for one thing on a label are added up there.
            if i.share.typical.value() < listed(i.inci.spelling()) - 1e-9 {
                prop_assert!(false, "{} is less on the label", i.name);
            }
        }
        let in_report: f64 = composition.constituents.iter().map(|a| a.listed.typical.value()).sum();
        prop_assert!((on_label - in_report).abs() < 1e-9);
        // Aim and law, for one constituent of each formula.
        let amount = checked.get(&composition.constituents);
        let plain = !amount.inci.spelling().contains(['"', '|', '=', '\\', '@']);
        if plain && amount.class != Class::Water && amount.declared.typical > MassFraction::ZERO {
            let wanted = amount.declared.typical.as_percent();
            prop_assert!((aimed(&formula, amount.inci.spelling()) - wanted).abs() < 1e-9);
            if let Some(limited) = limited(&formula, amount.inci.spelling()) {
                prop_assert!((limited - wanted).abs() < 1e-9, "{} {limited} {wanted}", amount.inci);
            }
        }
    }
}

fn standings(material: &Material) -> Vec<IngredientStatus> {
    contents(material).map(|c| c.standing).collect()
}

/// A material with what is marked by a star stated as incidental.
fn mixed(constituents: &[(&str, f64, Class)]) -> Material {
    let mut m = material("mixed", constituents).as_ref().clone();
    for c in &mut m.constituents {
        if let Some(name) = c.inci.spelling().strip_suffix('*') {
            c.inci = name.into();
            c.incidental = Some("comes with it".into());
        }
    }
    m
}

/// Regulation (EC) No 1223/2009, Article 19(1)(g): perfume and aromatic compositions are
/// named by one word; what is incidental is no ingredient.
#[test]
fn only_a_scent_with_stated_components_is_declared_whole() {
    use Class::{Antioxidant, Fragrance};
    use IngredientStatus::{Component, Incidental, Ingredient, Whole};
    let oil = mixed(&[
        ("Lavandula Angustifolia Oil", 60.0, Fragrance),
        ("Linalool*", 35.0, Fragrance),
        ("Tocopherol*", 5.0, Antioxidant),
    ]);
    assert_eq!(standings(&oil), [Whole, Component, Incidental]);
    let whole = contents(&oil).next().unwrap();
    assert!((whole.as_declared.typical.as_percent() - 95.0).abs() < 1e-9);
    assert!((whole.by_component.typical.as_percent() - 60.0).abs() < 1e-9);
    // Two substances of a smell: the one that carries no components stays by itself.
    let two = mixed(&[
        ("Parfum", 70.0, Fragrance),
        ("Vanillin", 20.0, Fragrance),
        ("Limonene*", 10.0, Fragrance),
    ]);
    assert_eq!(standings(&two), [Whole, Ingredient, Component]);
    // Without components stated there is nothing that an oil would be the whole of.
    let bare = mixed(&[
        ("Parfum", 95.0, Fragrance),
        ("Tocopherol*", 5.0, Antioxidant),
    ]);
    assert_eq!(standings(&bare), [Ingredient, Incidental]);
    // A scent that is only incidental belongs to no perfume here.
    let none = mixed(&[
        ("Glycerin", 99.0, Class::Humectant),
        ("Linalool*", 1.0, Fragrance),
    ]);
    assert_eq!(standings(&none), [Ingredient, Incidental]);
}

/// The moisture of a solid and a trace in a liquid are no ingredients, a solvent is: figures
/// of the constants above, common practice, no source.
#[test]
fn water_is_an_ingredient_where_it_dissolves() {
    let with_water = |main: Class, water: f64, change: &dyn Fn(&mut Material)| {
        let parts = [("Main", 100.0 - water, main), ("Aqua", water, Class::Water)];
        let mut m = material("m", &parts).as_ref().clone();
        change(&mut m);
        standings(&m)[1] == IngredientStatus::Ingredient
    };
    let plain = |_: &mut Material| {};
    let dust = |m: &mut Material| m.hazards.push(Hazard::Dust);
    let dense = |kg_m3: f64| {
        move |m: &mut Material| {
            let source = Source::new(Basis::Published, "handbook");
            m.density = Some(Sourced::new(kg_per_m3(kg_m3), source));
        }
    };
    let surfactant = Class::Surfactant(Charge::NonIonic);
    // A liquid: 3 % and 5 % are traces, above it water dissolves.
    assert!(!with_water(surfactant, 3.0, &plain));
    assert!(!with_water(surfactant, 5.0, &plain));
    assert!(with_water(surfactant, 5.1, &plain));
    // A powder: 12 % in starch and 16 % are moisture, above it is more than a powder holds.
    assert!(!with_water(Class::Thickener, 12.0, &dust));
    assert!(!with_water(Class::Thickener, 16.0, &dust));
    assert!(with_water(Class::Thickener, 16.1, &dust));
    // Dust tells a powder also where the main constituent is usually a liquid, or where a
    // density is stated.
    assert!(!with_water(surfactant, 10.0, &dust));
    assert!(!with_water(Class::Thickener, 10.0, &|m| {
        dust(m);
        dense(1500.0)(m);
    }));
    // So does a density above 2,000 kg/m³, and no density less does: phosphoric acid of
    // 85 % has 1,685 (CRC Handbook, density of aqueous solutions).
    assert!(!with_water(Class::AcidBase, 15.0, &dense(2001.0)));
    assert!(with_water(Class::AcidBase, 15.0, &dense(2000.0)));
    assert!(with_water(Class::AcidBase, 15.0, &dense(1685.0)));
    // Where nothing tells, an acid or salt is taken for a solid.
    assert!(!with_water(Class::AcidBase, 15.0, &plain));
}

#[test]
fn a_line_has_its_share_of_the_whole_and_a_name() {
    let glycerin = material("glycerin", &[("Glycerin", 80.0, Class::Humectant)]);
    let mut f = fixture::formula(vec![
        fixture::line(&glycerin, "12.5"),
        fixture::line(&glycerin, "87.5"),
    ]);
    let of = |f: &Formula| Mixture::of(f, f.active());
    let mixture = of(&f);
    let shares: Vec<f64> = mixture.lines.iter().map(MixtureLine::share).collect();
    assert_eq!(shares, [0.125, 0.875]);
    assert_eq!(&*mixture.lines[0].name(), "glycerin");
    // A material that the formula does not carry has the name by which it is called.
    f.materials.clear();
    let unknown = of(&f);
    assert_eq!(&*unknown.lines[0].name(), glycerin.id.as_str());
    assert!((unknown.lines[0].unknown.value() - 0.125).abs() < 1e-12);
}

#[test]
fn how_a_part_stands_and_what_is_looked_at_are_told_in_words() {
    let standings = [
        IngredientStatus::Ingredient,
        IngredientStatus::Whole,
        IngredientStatus::Component,
        IngredientStatus::Incidental,
        IngredientStatus::Moisture,
    ];
    assert_eq!(
        standings.map(IngredientStatus::label),
        [
            "ingredient",
            "as declared, with its components",
            "component of a perfume or natural oil",
            "incidental",
            "moisture of a raw material",
        ]
    );
    assert_eq!(View::AsDeclared.label(), "as declared");
    assert_eq!(View::ByComponent.label(), "by component");
}

/// A component of an oil counts with the oil as declared and by itself by component.
#[test]
fn each_view_has_its_own_share_of_an_oil() {
    let mut oil = material(
        "oil",
        &[
            (JUNIPER, 90.0, Class::Fragrance),
            ("Limonene", 10.0, Class::Fragrance),
        ],
    )
    .as_ref()
    .clone();
    oil.constituents[1].incidental = Some("component of the oil".into());
    let f = fixture::formula(vec![fixture::line(&Arc::new(oil), "10")]);
    let mixture = Mixture::of(&f, f.active());
    let whole = &mixture.contributions[0];
    let percent = |view| whole.share(view).typical.as_percent();
    assert!((percent(View::AsDeclared) - 10.0).abs() < 1e-9);
    assert!((percent(View::ByComponent) - 9.0).abs() < 1e-9);
}
