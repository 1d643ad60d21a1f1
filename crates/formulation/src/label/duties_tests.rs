//! Each part of a label, stated and left open, market by market; whole labels are in the
//! acceptance tests.

use std::sync::Arc;

use jiff::civil::date;

use super::*;
use crate::evaluation::{Context, evaluate};
use crate::fixture;
use crate::material::Class;
use crate::quantity::{grams, millilitres};

const ALL: [Market; 3] = [Market::Eu, Market::Uk, Market::Us];

fn made(market: Market, state: impl FnOnce(&mut LabelInfo)) -> Duties {
    let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
    let mut formula = fixture::formula(vec![fixture::line(&water, "100")]);
    let mut variant = formula.active().as_ref().clone();
    state(Arc::make_mut(&mut variant.label));
    variant.product.markets = [market].into_iter().collect();
    formula.variants = vec![Arc::new(variant)];
    let variant = formula.active();
    let evaluation = evaluate(&formula, variant, &Context::new(date(2026, 6, 1)));
    duties(&formula, variant, &evaluation, market)
}

fn text<'d>(duties: &'d Duties, title: &str) -> Option<&'d str> {
    let found = duties.sections.iter().find(|s| s.kind.title() == title);
    found.map(|s| s.text.as_str())
}

/// Whether something with these words is missing, and whether the law demands it.
fn lacks(duties: &Duties, words: &str) -> Option<bool> {
    let found = duties.missing.iter().find(|m| m.what.contains(words));
    found.map(|m| m.required)
}

fn advises(duties: &Duties, words: &str) -> bool {
    duties.advice.iter().any(|a| a.text.contains(words))
}

#[test]
fn the_formula_lends_its_name_where_the_label_has_none() {
    let own = made(Market::Eu, |l| l.product_name = "  ".into());
    assert_eq!(text(&own, "Name"), Some("Test"));
    let other = made(Market::Eu, |l| l.product_name = "Oat & Juniper".into());
    assert_eq!(text(&other, "Name"), Some("Oat & Juniper"));
}

/// Regulation (EC) No 1223/2009, Article 19(1)(f), (e) and (a); 21 CFR 701.11 and 701.12;
/// Federal Food, Drug, and Cosmetic Act, section 609(a).
#[test]
fn what_is_not_stated_is_missing_as_the_law_of_the_market_demands() {
    for market in ALL {
        let us = market == Market::Us;
        let empty = made(market, |_| {});
        assert_eq!(lacks(&empty, "function"), Some(us), "{market:?}");
        assert_eq!(lacks(&empty, "batch code"), Some(!us), "{market:?}");
        assert_eq!(lacks(&empty, "Net contents"), Some(true), "{market:?}");
        assert_eq!(lacks(&empty, "How long"), Some(!us), "{market:?}");
        assert_eq!(
            lacks(&empty, "country of origin"),
            Some(false),
            "{market:?}"
        );
        let person = if us {
            "manufacturer"
        } else {
            "responsible person"
        };
        assert_eq!(lacks(&empty, person), Some(true), "{market:?}");
        assert_eq!(lacks(&empty, "adverse events"), us.then_some(true));
    }
}

#[test]
fn what_is_stated_stands_on_the_label() {
    for market in ALL {
        let us = market == Market::Us;
        let full = made(market, |l| {
            l.function = "Shower gel".into();
            l.directions = "Rinse well".into();
            l.batch_code = "L26-031".into();
            l.responsible_person = "Larkmoor Studio, 1 Mill Lane (invented)".into();
            l.us_contact = "care@larkmoor.example".into();
            l.country = "Ireland".into();
            l.net_contents = Some(NetContents::Volume(millilitres(250.0)));
            l.durability = Durability::AfterOpening(12);
            l.cautions = vec!["Keep out of eyes".into()];
            l.panel_area_cm2 = Some(60.0);
        });
        let person = if us { "Made by" } else { "Responsible person" };
        for (title, words) in [
            ("Function", "Shower gel"),
            ("Directions", "Rinse well"),
            ("Batch", "L26-031"),
            (person, "Larkmoor Studio, 1 Mill Lane (invented)"),
            ("Country of origin", "Made in Ireland"),
            ("Period after opening", "12 M"),
            ("Caution", "Keep out of eyes"),
        ] {
            assert_eq!(text(&full, title), Some(words), "{market:?} {title}");
        }
        assert_eq!(text(&full, "Contact").is_some(), us);
        assert!(text(&full, "Net contents").unwrap().contains("250 ml"));
        // A wording that a rule may ask for is open still; nothing else is.
        let lacking = full
            .missing
            .iter()
            .filter(|m| !m.what.starts_with("This wording"));
        assert_eq!(lacking.count(), 0, "{market:?}: {:?}", full.missing);
        let of_great_britain = advises(&full, "United Kingdom are held against");
        assert_eq!(of_great_britain, market == Market::Uk);
    }
}

/// Article 19(1)(c): the open jar where the product keeps more than 30 months, else a date.
#[test]
fn how_long_it_keeps() {
    let dated = made(Market::Eu, |l| {
        l.durability = Durability::BestBefore(date(2027, 3, 31));
    });
    assert_eq!(text(&dated, "Best used before the end of"), Some("03/2027"));
    // Never a later day than the one stated: "date: month and year, or day, month and year".
    let by_day = made(Market::Eu, |l| {
        l.durability = Durability::BestBefore(date(2027, 5, 15));
    });
    assert_eq!(text(&by_day, "Best used before"), Some("15/05/2027"));
    assert_eq!(text(&by_day, "Best used before the end of"), None);
    // Not needed without a reason is not stated yet.
    let unsaid = made(Market::Eu, |l| {
        l.durability = Durability::NotNeeded(" ".into());
    });
    assert_eq!(lacks(&unsaid, "Why no period after opening"), Some(true));
    assert!(!advises(&unsaid, "No period after opening"));
    let none = made(Market::Eu, |l| {
        l.durability = Durability::NotNeeded("opened once".into());
    });
    assert_eq!(lacks(&none, "How long"), None);
    assert!(advises(&none, "No period after opening: opened once."));
    let us = made(Market::Us, |l| l.durability = Durability::AfterOpening(6));
    assert!(!advises(&us, "open jar"));
}

/// Article 19(1)(b): packs under 5 g or 5 ml go without.
#[test]
fn the_smallest_packs_need_not_state_what_they_hold() {
    let words = "need not state their contents";
    for (net, tiny) in [
        (NetContents::Mass(grams(4.9)), true),
        (NetContents::Mass(grams(5.0)), false),
        (NetContents::Volume(millilitres(4.9)), true),
        (NetContents::Volume(millilitres(5.0)), false),
        (NetContents::Pieces(1), false),
    ] {
        let eu = made(Market::Eu, |l| l.net_contents = Some(net));
        assert_eq!(advises(&eu, words), tiny, "{net:?}");
        let us = made(Market::Us, |l| l.net_contents = Some(net));
        assert!(!advises(&us, words), "{net:?}");
        // The size of type depends on the panel only in the United States.
        assert_eq!(lacks(&us, "main panel"), Some(false));
        assert_eq!(lacks(&eu, "main panel"), None);
    }
}

#[test]
fn sections_that_tell_by_themselves_stand_without_their_title() {
    let full = made(Market::Eu, |l| {
        l.batch_code = "L26-031".into();
        l.country = "Ireland".into();
        l.durability = Durability::AfterOpening(12);
        l.net_contents = Some(NetContents::Volume(millilitres(250.0)));
    });
    let printed = |kind| {
        let found = full.sections.iter().find(|s| s.kind == kind);
        found.map(super::super::printed).unwrap()
    };
    assert_eq!(printed(SectionKind::Name), "Test");
    assert_eq!(printed(SectionKind::Country), "Made in Ireland");
    assert_eq!(printed(SectionKind::Batch), "Batch: L26-031");
    assert_eq!(
        printed(SectionKind::AfterOpening),
        "Period after opening: 12 M"
    );
}

/// Article 4: established in the European Union; in Great Britain, in the United Kingdom.
#[test]
fn one_person_cannot_be_established_in_both() {
    let words = "cannot be established in both";
    let of = |market: Market, own: &str| {
        let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let mut formula = fixture::formula(vec![fixture::line(&water, "100")]);
        let mut variant = formula.active().as_ref().clone();
        let label = Arc::make_mut(&mut variant.label);
        label.responsible_person = "Larkmoor Studio, Cork (invented)".into();
        label.responsible_person_uk = own.into();
        variant.product.markets = vec![Market::Eu, Market::Uk];
        formula.variants = vec![Arc::new(variant)];
        let context = Context::new(date(2026, 6, 1));
        let evaluation = evaluate(&formula, formula.active(), &context);
        duties(&formula, formula.active(), &evaluation, market)
    };
    for market in [Market::Eu, Market::Uk] {
        assert_eq!(lacks(&of(market, ""), words), Some(false));
        assert_eq!(lacks(&of(market, "Larkmoor Agents, Leeds"), words), None);
    }
    let person = |market| {
        let made = of(market, "Larkmoor Agents, Leeds");
        text(&made, "Responsible person").map(str::to_owned)
    };
    assert_eq!(person(Market::Uk).unwrap(), "Larkmoor Agents, Leeds");
    assert_eq!(
        person(Market::Eu).unwrap(),
        "Larkmoor Studio, Cork (invented)"
    );
    // Sold in one of them only, the one person is that of it.
    let alone = made(Market::Uk, |l| l.responsible_person = "Larkmoor".into());
    assert_eq!(lacks(&alone, words), None);
    let us = made(Market::Us, |l| {
        l.responsible_person = "Larkmoor".into();
        l.made_by_us = "Larkmoor Imports".into();
    });
    assert_eq!(text(&us, "Made by"), Some("Larkmoor Imports"));
}

/// Each market is cited by its own law: Directive 76/211/EEC in the European Union, the Weights
/// and Measures (Packaged Goods) Regulations 2006 in Great Britain (from memory).
#[test]
fn grounds_are_those_of_the_market() {
    let state = |l: &mut LabelInfo| {
        l.net_contents = Some(NetContents::Volume(millilitres(250.0)));
    };
    let of = |market, words: &str| {
        let made = made(market, state);
        let advice = made.advice.into_iter().find(|a| a.text.contains(words));
        advice.unwrap().ground
    };
    for words in ["figures of the net contents", "on average"] {
        assert!(of(Market::Eu, words).contains("76/211/EEC"));
        assert!(of(Market::Uk, words).contains("S.I. 2006/659"));
    }
}

/// 21 CFR 701.20 and section 201(i)(2) of the Act, from memory: soap sold only as soap.
#[test]
fn soap_that_is_nothing_else_is_told_to_be_no_cosmetic() {
    let of = |rows: &[(&str, f64, Class)]| {
        let bar = fixture::material("Noodles", rows);
        let formula = fixture::formula(vec![fixture::line(&bar, "100")]);
        let context = Context::new(date(2026, 6, 1));
        let evaluation = evaluate(&formula, formula.active(), &context);
        let us = duties(&formula, formula.active(), &evaluation, Market::Us);
        advises(&us, "only as soap")
    };
    let anionic = Class::Surfactant(crate::material::Charge::Anionic);
    let soap = ("Sodium Palmate", 88.0, anionic);
    let water = ("Aqua", 12.0, Class::Water);
    assert!(of(&[soap, water]));
    let syndet = ("Sodium Cocoyl Isethionate", 10.0, anionic);
    assert!(!of(&[("Sodium Palmate", 78.0, anionic), syndet, water]));
    assert!(!of(&[water]));
}
