//! The engine against the published texts, entry by entry.

use std::sync::Arc;

use proptest::prelude::*;

use super::{Law, check};
use crate::finding::{Finding, FindingValue, Level, Limit, Remedy};
use crate::fixture;
use crate::formula::{BodySite, Date, Formula, ItemId, Kinds, Market, Product, ProductType};
use crate::material::{Class, Material, ProductKind, Role};
use crate::purpose::Purpose;
use crate::quantity::{MassFraction, Percent, PhRange, Spread};
use crate::rules::RuleBook;
use crate::rules::entry::{List, ListEntry, Member, RuledPurpose};
use crate::rules::scope::{Scope, Truth};

pub(super) const TODAY: Date = Date::constant(2026, 12, 1);

/// A substance by itself: INCI name, CAS number or nothing, class.
pub(super) fn pure(inci: &str, cas: &str, class: Class) -> Material {
    let mut m = fixture::material(inci, &[(inci, 100.0, class)])
        .as_ref()
        .clone();
    if let Some(only) = m.constituents.first_mut() {
        only.cas = (!cas.is_empty()).then(|| cas.parse().unwrap());
    }
    m
}

pub(super) fn formula(product: Product, lines: Vec<(Material, f64)>) -> Formula {
    let lines = lines
        .into_iter()
        .map(|(m, percent)| fixture::line(&Arc::new(m), &percent.to_string()))
        .collect();
    let mut f = fixture::formula(lines);
    let mut variant = f.active().as_ref().clone();
    variant.product = product;
    f.variants = vec![Arc::new(variant)];
    f
}

pub(super) fn law(product: Product, lines: Vec<(Material, f64)>) -> Law {
    let f = formula(product, lines);
    check(&f, f.active(), None, TODAY, &RuleBook::shared())
}

/// The same with what the first line is there for as the maker states it.
pub(super) fn law_stated(
    product: Product,
    lines: Vec<(Material, f64)>,
    purpose: Option<Purpose>,
) -> Law {
    let f = formula(product, lines);
    let mut variant = f.active().as_ref().clone();
    let mut phase = variant.phases[0].as_ref().clone();
    phase.lines[0].purpose = purpose;
    variant.phases[0] = Arc::new(phase);
    check(&f, &variant, None, TODAY, &RuleBook::shared())
}

pub(super) fn product(
    kind: impl Into<Kinds>,
    places: &[BodySite],
    product_type: Option<ProductType>,
) -> Product {
    Product {
        kinds: kind.into(),
        places: places.to_vec(),
        product_type,
        ..Product::default()
    }
}

pub(super) fn face_cream() -> Product {
    product(
        ProductKind::LeaveOn,
        &[BodySite::Face],
        Some(ProductType::FaceCream),
    )
}

pub(super) fn of<'l>(law: &'l Law, rule: &str) -> Vec<&'l Finding> {
    law.findings.iter().filter(|f| &*f.rule == rule).collect()
}

pub(super) fn level(law: &Law, rule: &str) -> Option<Level> {
    of(law, rule).iter().map(|f| f.level).max()
}

/// The first way in which a member can be met: a name, else a CAS number.
fn met(member: &Member) -> Option<(String, String)> {
    let name = member.names.first().map(ToString::to_string);
    let cas = member.cas.first().map(ToString::to_string);
    if member.salts || member.role.is_some() || member.beside.is_some() || member.without.is_some()
    {
        return None;
    }
    match (name, cas) {
        (Some(name), _) if !name.ends_with('*') => Some((name, cas_or_none(member))),
        (None, Some(cas)) => Some(("Anything".to_owned(), cas)),
        _ => None,
    }
}

fn cas_or_none(member: &Member) -> String {
    member
        .cas
        .first()
        .map(ToString::to_string)
        .unwrap_or_default()
}

#[test]
fn every_flat_prohibition_is_a_breach_by_name_and_by_number() {
    let book = RuleBook::built_in().unwrap();
    let mut tried = 0;
    for entry in book.entries() {
        let set = book.set_of(entry).unwrap();
        let flat = entry.prohibited == Some(Scope::All)
            && entry.level == Level::Breach
            && entry.purpose == RuledPurpose::Any
            && entry.except.is_empty()
            && entry.seen
            && entry.from.is_none()
            && !set.markets.is_empty();
        if !flat || entry.deleted {
            continue;
        }
        for member in entry.members.iter().filter(|m| m.sure && !m.nano) {
            let ways = member
                .names
                .iter()
                .map(|n| {
                    let salt = if member.salts { " Hydrochloride" } else { "" };
                    (format!("{n}{salt}"), String::new())
                })
                .chain(
                    member
                        .cas
                        .iter()
                        .map(|c| ("Anything".to_owned(), c.to_string())),
                );
            // Twenty of a group of hundreds stand for it.
            for (name, cas) in ways.take(20) {
                let p = Product {
                    markets: set.markets.clone(),
                    ..face_cream()
                };
                let law = law(p, vec![(pure(&name, &cas, Class::Other), 1.0)]);
                let breached = law.findings.iter().any(|f| f.level == Level::Breach);
                assert!(breached, "{} {name} {cas}: {:?}", entry.rule, law.findings);
                tried += 1;
            }
        }
    }
    assert!(tried > 2000, "{tried}");
}

/// Regulation (EC) No 1223/2009, Article 14(1)(b): a restricted substance must not be used
/// otherwise than Annex III says.
#[test]
fn a_limited_field_of_use_is_closed_to_every_other_product() {
    let book = RuleBook::built_in().unwrap();
    let mut tried = 0;
    for entry in book.entries() {
        let set = book.set_of(entry).unwrap();
        if set.list != List::Restricted
            || entry.open
            || entry.joint
            || entry.product
            || entry.deleted
            || entry.tiers.is_empty()
            || entry.level != Level::Breach
            || !entry.seen
            || entry.purpose != RuledPurpose::Any
            || entry.tiers.iter().any(|t| t.from.is_some())
        {
            continue;
        }
        let p = Product {
            markets: set.markets.clone(),
            ..face_cream()
        };
        let elsewhere = entry.truths(&p).all(|(_, truth)| truth == Truth::No);
        let Some((name, cas)) = entry
            .members
            .iter()
            .filter(|m| m.sure && !m.nano)
            .find_map(met)
        else {
            continue;
        };
        if !elsewhere {
            continue;
        }
        let law = law(p, vec![(pure(&name, &cas, Class::Other), 0.001)]);
        assert_eq!(
            level(&law, &entry.rule),
            Some(Level::Breach),
            "{} {name} {:?}",
            entry.rule,
            law.findings
        );
        assert!(
            law.limits.iter().any(|l| l.most == Percent::ZERO),
            "{}",
            entry.rule
        );
        tried += 1;
    }
    assert!(tried >= 30, "{tried}");
}

#[test]
fn hydroquinone_is_one_breach_and_nails_are_left_to_the_entry_that_allows_it() {
    let line = || vec![(pure("Hydroquinone", "123-31-9", Class::Other), 0.01)];
    let face = law(face_cream(), line());
    let found: Vec<_> = face
        .findings
        .iter()
        .filter(|f| f.message.starts_with("Hydroquinone"))
        .collect();
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].level, Level::Breach);
    assert!(
        found[0].message.contains("EU II/1339"),
        "{}",
        found[0].message
    );
    let nails = Product {
        professional: true,
        ..product(
            ProductKind::LeaveOn,
            &[BodySite::Nails],
            Some(ProductType::ArtificialNails),
        )
    };
    assert_eq!(level(&law(nails, line()), "EU II/1339"), None);
}

#[test]
fn entries_that_must_not_meet_give_one_finding_that_names_both() {
    let amine = || (pure("Triethanolamine", "102-71-6", Class::AcidBase), 1.0);
    let nitrite = || (pure("Sodium Nitrite", "7632-00-0", Class::Other), 0.1);
    let together = law(face_cream(), vec![amine(), nitrite()]);
    let found: Vec<_> = together
        .findings
        .iter()
        .filter(|f| f.level == Level::Breach && f.message.contains("nitrosamines"))
        .collect();
    assert_eq!(found.len(), 1, "{:#?}", together.findings);
    assert!(
        found[0].message.contains("Triethanolamine") && found[0].message.contains("Sodium Nitrite")
    );
    assert_eq!(found[0].lines.len(), 2);
    for alone in [vec![amine()], vec![nitrite()]] {
        let one = law(face_cream(), alone);
        assert!(
            one.findings.iter().all(|f| f.level < Level::Caution),
            "{:#?}",
            one.findings
        );
    }
}

/// (EU) 2018/35 and (EU) 2024/1328: "equal to or greater than 0.1 %", with their days.
#[test]
fn what_is_too_much_at_the_limit_itself_breaks_it_there() {
    let d5 = |percent: f64, kind, day: &str| {
        let p = Product {
            market_date: Some(day.parse().unwrap()),
            ..product(kind, &[BodySite::Hair], None)
        };
        let line = pure("Cyclopentasiloxane", "541-02-6", Class::Oil);
        level(&law(p, vec![(line, percent)]), "REACH XVII/70")
    };
    let (off, on) = (ProductKind::RinseOff, ProductKind::LeaveOn);
    assert_eq!(d5(0.1, off, "2020-01-31"), Some(Level::Breach));
    assert_eq!(d5(0.099_999, off, "2020-01-31"), None);
    assert_eq!(d5(0.1, off, "2020-01-30"), Some(Level::Caution));
    assert_eq!(d5(5.0, on, "2027-06-05"), Some(Level::Caution));
    assert_eq!(d5(0.1, on, "2027-06-06"), Some(Level::Breach));
    let d6 = |day: &str| {
        let p = Product {
            market_date: Some(day.parse().unwrap()),
            ..product(off, &[BodySite::Hair], None)
        };
        let line = pure("Cyclohexasiloxane", "540-97-6", Class::Oil);
        level(&law(p, vec![(line, 1.0)]), "REACH XVII/70")
    };
    assert_eq!(d6("2026-06-05"), Some(Level::Caution));
    assert_eq!(d6("2026-06-06"), Some(Level::Breach));
}

#[test]
fn names_are_met_by_their_beginning() {
    // Nonylphenol ethoxylates of every length, REACH Annex XVII, entry 46.
    let wash = || product(ProductKind::RinseOff, &[BodySite::Body], None);
    for name in ["Nonoxynol-9", "NONOXYNOL-40"] {
        let found = law(wash(), vec![(pure(name, "", Class::Emulsifier), 0.1)]);
        assert_eq!(
            level(&found, "REACH XVII/46"),
            Some(Level::Breach),
            "{name}"
        );
    }
    let octoxynol = law(
        wash(),
        vec![(pure("Octoxynol-9", "", Class::Emulsifier), 2.0)],
    );
    assert_eq!(level(&octoxynol, "REACH XVII/46"), None);
}

#[test]
fn the_strictest_place_binds_and_is_named() {
    let sun =
        |places: &[BodySite]| product(ProductKind::LeaveOn, places, Some(ProductType::SunCare));
    let line = || {
        let mut m = pure("Benzophenone-3", "131-57-7", Class::Other);
        m.roles.push(Role::UvFilter);
        vec![(m, 4.0)]
    };
    let rule = "EU VI/4";
    let face = law(sun(&[BodySite::Face]), line());
    assert!(
        level(&face, rule) < Some(Level::Caution),
        "{:?}",
        face.findings
    );
    let both = law(sun(&[BodySite::Body, BodySite::Face]), line());
    let graver = |l: &Law| -> Vec<Finding> {
        let found = of(l, rule).into_iter().filter(|f| f.level > Level::Note);
        found.cloned().collect()
    };
    let found = graver(&both);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].level, Level::Breach);
    assert!(
        found[0].message.contains("for the body"),
        "{}",
        found[0].message
    );
    let Some(Limit::AtMost(limit)) = found[0].limit else {
        panic!("{:#?}", found[0]);
    };
    assert!((limit.number() - 2.2).abs() < 1e-9);
    // The order of the places is no matter.
    let turned = law(sun(&[BodySite::Face, BodySite::Body]), line());
    assert_eq!(graver(&turned), found);
}

/// Regulation (EC) No 1223/2009, Annex V, entry 57: 0.0015 % in rinse-off products only; Annex
/// III: fragrance allergens are named above 0.001 % on what stays on, 0.01 % on what does not.
#[test]
fn of_two_kinds_the_stricter_binds_and_is_named() {
    let lines = || {
        let mut oil = pure("Linalool", "78-70-6", Class::Fragrance);
        oil.roles.push(Role::Fragrance);
        let preservative = pure("Methylisothiazolinone", "2682-20-4", Class::Preservative);
        vec![(preservative, 0.001), (oil, 0.005)]
    };
    let of_kinds = |kinds: Kinds| law(product(kinds, &[BodySite::Hair], None), lines());
    let rule = "EU V/57";
    let washed_off = of_kinds(ProductKind::RinseOff.into());
    assert!(level(&washed_off, rule) < Some(Level::Breach));
    let both = of_kinds(Kinds::Both);
    let breach = of(&both, rule)
        .into_iter()
        .find(|f| f.level == Level::Breach);
    let breach = breach.expect("a breach");
    assert!(breach.message.contains("leave-on)"), "{}", breach.message);
    let must = |l: &Law| l.allergens.iter().map(|a| a.must).collect::<Vec<_>>();
    assert_eq!(must(&washed_off), [Truth::No]);
    assert_eq!(must(&both), [Truth::Yes]);
    // With several places as well, the finding still names the kind alone.
    let everywhere = product(Kinds::Both, &[BodySite::Hair, BodySite::Body], None);
    let found = law(everywhere, lines());
    let named = of(&found, rule)
        .iter()
        .any(|f| f.message.contains("is leave-on)"));
    assert!(named, "{:#?}", of(&found, rule));
}

#[test]
fn remarks_are_shown_in_the_products_they_speak_of() {
    let line = || vec![(pure("Hydrogen Peroxide", "7722-84-1", Class::Other), 0.05)];
    let dental = |l: &Law| l.findings.iter().any(|f| f.message.contains("dental"));
    assert!(!dental(&law(face_cream(), line())));
    let paste = product(
        ProductKind::RinseOff,
        &[BodySite::Mouth],
        Some(ProductType::Toothpaste),
    );
    assert!(dental(&law(paste, line())));
}

#[test]
fn preservatives_and_filters_on_no_list_are_found() {
    // Methyldibromo glutaronitrile was taken off Annex V; preserving is its only function in
    // the Commission's inventory. Caprylyl glycol has other functions.
    let wash = || {
        product(
            ProductKind::RinseOff,
            &[BodySite::Hair],
            Some(ProductType::Shampoo),
        )
    };
    let found = law(
        wash(),
        vec![(
            pure(
                "Methyldibromo Glutaronitrile",
                "35691-65-7",
                Class::Preservative,
            ),
            0.1,
        )],
    );
    assert_eq!(level(&found, "EU V"), Some(Level::Breach));
    let listed = law(
        wash(),
        vec![(pure("Phenoxyethanol", "122-99-6", Class::Preservative), 1.0)],
    );
    assert_eq!(level(&listed, "EU V"), None);
    let glycol = law(
        wash(),
        vec![(pure("Caprylyl Glycol", "1117-86-8", Class::Humectant), 1.0)],
    );
    assert_eq!(level(&glycol, "EU V"), None);
    // 21 CFR 352.10 does not name DHHB; bemotrizinol is in the monograph from 9 August 2026.
    let us = || Product {
        markets: vec![Market::Us],
        ..product(
            ProductKind::LeaveOn,
            &[BodySite::Face],
            Some(ProductType::SunCare),
        )
    };
    let filter = |inci: &str, cas: &str, percent| {
        let mut m = pure(inci, cas, Class::Other);
        m.roles.push(Role::UvFilter);
        vec![(m, percent)]
    };
    let dhhb = filter(
        "Diethylamino Hydroxybenzoyl Hexyl Benzoate",
        "302776-68-7",
        3.0,
    );
    assert_eq!(level(&law(us(), dhhb), "US 352.10"), Some(Level::Breach));
    let bemotrizinol = |percent| {
        filter(
            "Bis-Ethylhexyloxyphenol Methoxyphenyl Triazine",
            "187393-00-6",
            percent,
        )
    };
    let rule = "US 352.10 bemotrizinol";
    let at = law(us(), bemotrizinol(6.0));
    assert_eq!((level(&at, "US 352.10"), level(&at, rule)), (None, None));
    let above = law(us(), bemotrizinol(6.000_1));
    assert_eq!(level(&above, rule), Some(Level::Breach));
}

#[test]
fn what_plants_bring_in_is_held_against_the_threshold() {
    // Annex II, 360: safrole only as normal content of natural essences, at most 100 ppm.
    let oil = |percent: f64| {
        let mut m = fixture::material(
            "Leaf oil",
            &[
                ("Leaf Oil", 99.0, Class::Fragrance),
                ("Safrole", 1.0, Class::Fragrance),
            ],
        )
        .as_ref()
        .clone();
        m.roles.push(Role::EssentialOil);
        vec![(m, percent)]
    };
    assert_eq!(level(&law(face_cream(), oil(1.0)), "EU II/360"), None);
    assert_eq!(
        level(&law(face_cream(), oil(1.001)), "EU II/360"),
        Some(Level::Breach)
    );
    let itself = vec![(pure("Safrole", "94-59-7", Class::Fragrance), 0.001)];
    assert_eq!(
        level(&law(face_cream(), itself), "EU II/360"),
        Some(Level::Breach)
    );
}

#[test]
fn great_britain_is_not_bound_by_what_only_the_union_adopted() {
    // (EU) 2022/2195: homosalate 7.34 % in face products; in Great Britain still 10 %.
    let sun = |markets: &[Market]| Product {
        markets: markets.to_vec(),
        ..product(
            ProductKind::LeaveOn,
            &[BodySite::Body],
            Some(ProductType::SunCare),
        )
    };
    let line = |percent| {
        let mut m = pure("Homosalate", "118-56-9", Class::Other);
        m.roles.push(Role::UvFilter);
        vec![(m, percent)]
    };
    let breach = |l: &Law| l.findings.iter().any(|f| f.level == Level::Breach);
    assert!(!breach(&law(sun(&[Market::Uk]), line(9.0))));
    assert!(breach(&law(sun(&[Market::Uk]), line(10.001))));
    assert!(breach(&law(sun(&[Market::Eu]), line(9.0))));
    assert!(breach(&law(sun(&[Market::Uk, Market::Eu]), line(9.0))));
}

/// Regulation (EU) 2026/909 sets limits of citral and zinc salts from 2027; no instrument of Great
/// Britain that adopts it was found.
#[test]
fn single_limits_bind_only_where_they_were_adopted() {
    let law = |market, inci: &str, cas: &str, percent| {
        let deodorant = Product {
            markets: vec![market],
            market_date: Some(Date::constant(2027, 3, 1)),
            ..product(
                ProductKind::LeaveOn,
                &[BodySite::Underarm],
                Some(ProductType::Deodorant),
            )
        };
        law(deodorant, vec![(pure(inci, cas, Class::Other), percent)])
    };
    let citral = |market| level(&law(market, "Citral", "5392-40-5", 0.1), "EU III/70");
    assert_eq!(citral(Market::Eu), Some(Level::Breach));
    assert!(citral(Market::Uk) < Some(Level::Caution));
    // The old limit of 1 % zinc goes on in Great Britain.
    let zinc = law(Market::Uk, "Zinc Chloride", "7646-85-7", 5.0);
    assert_eq!(level(&zinc, "EU III/24"), Some(Level::Breach));
}

#[test]
fn what_counts_for_nobody_knows_how_much_is_told() {
    let cream = law(
        face_cream(),
        vec![(pure("Zinc Ascorbate", "", Class::Other), 5.0)],
    );
    let told = of(&cream, "EU III/24");
    assert!(
        told.iter().any(|f| f.message.contains("is not known here")),
        "{told:?}"
    );
}

#[test]
fn what_is_stated_to_colour_must_be_listed() {
    let cream = |purpose| {
        let mica = pure("Mica", "12001-26-2", Class::Other);
        let law = law_stated(face_cream(), vec![(mica, 5.0)], purpose);
        law.findings
            .iter()
            .filter(|f| f.message.contains("colorants"))
            .map(|f| f.level)
            .max()
    };
    assert_eq!(cream(None), None);
    assert_eq!(cream(Some(Purpose::Colorant)), Some(Level::Breach));
}

#[test]
fn no_breach_of_law_stands_on_general_knowledge() {
    let book = RuleBook::built_in().unwrap();
    let unseen = |e: &&Arc<ListEntry>| !e.seen && !e.members.is_empty();
    let mut tried = 0;
    for entry in book.entries().iter().filter(unseen) {
        let set = book.set_of(entry).unwrap();
        let Some((name, cas)) = entry.members.iter().find_map(met) else {
            continue;
        };
        let p = Product {
            markets: set.markets.clone(),
            spray: true,
            ..product(
                ProductKind::LeaveOn,
                &[BodySite::Lips, BodySite::EyeArea],
                None,
            )
        };
        let class = if set.list == List::Colorants {
            Class::Colour
        } else {
            Class::Other
        };
        let found = law(p, vec![(pure(&name, &cas, class), 50.0)]);
        assert!(
            level(&found, &entry.rule) < Some(Level::Breach),
            "{}",
            entry.rule
        );
        tried += 1;
    }
    assert!(tried > 20, "{tried}");
}

/// Substances with limits by place, type and market, from several lists.
const POOL: [(&str, &str, Class, f64); 14] = [
    ("Benzophenone-3", "131-57-7", Class::Other, 3.0),
    ("Homosalate", "118-56-9", Class::Other, 8.0),
    ("Sodium Benzoate", "532-32-1", Class::Preservative, 0.9),
    ("Salicylic Acid", "69-72-7", Class::Preservative, 0.6),
    ("Cetrimonium Chloride", "112-02-7", Class::Conditioner, 0.9),
    ("Kojic Acid", "501-30-4", Class::Other, 1.5),
    ("Methyl Salicylate", "119-36-8", Class::Fragrance, 0.05),
    ("Ultramarines", "", Class::Colour, 0.5),
    ("CI 42051", "", Class::Colour, 0.1),
    ("Hydrogen Peroxide", "7722-84-1", Class::Other, 3.0),
    ("Sodium Fluoride", "7681-49-4", Class::Other, 0.1),
    ("Cyclopentasiloxane", "541-02-6", Class::Oil, 2.0),
    ("Hexachlorophene", "70-30-4", Class::Other, 0.05),
    ("Retinol", "68-26-8", Class::Other, 0.2),
];

fn breaches(product: &Product, picks: &[usize]) -> Vec<String> {
    let lines = picks
        .iter()
        .filter_map(|&i| POOL.get(i))
        .map(|&(inci, cas, class, percent)| {
            let mut m = pure(inci, cas, class);
            if matches!(inci, "Benzophenone-3" | "Homosalate") {
                m.roles.push(Role::UvFilter);
            }
            (m, percent)
        })
        .collect();
    let found = law(product.clone(), lines);
    let mut rules: Vec<String> = found
        .findings
        .iter()
        .filter(|f| f.level == Level::Breach)
        .map(|f| format!("{} {:?}", f.rule, f.lines))
        .collect();
    rules.sort();
    rules.dedup();
    rules
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_place_a_market_or_a_kind_more_never_takes_a_breach_away(
        places in proptest::sample::subsequence(BodySite::ALL.to_vec(), 1..4),
        more in proptest::sample::select(BodySite::ALL.to_vec()),
        market in proptest::sample::select(Market::ALL.to_vec()),
        second in proptest::sample::select(Market::ALL.to_vec()),
        leave_on: bool,
        spray: bool,
        product_type in proptest::option::of(proptest::sample::select(ProductType::ALL.to_vec())),
        picks in proptest::sample::subsequence((0..POOL.len()).collect::<Vec<_>>(), 1..6),
    ) {
        let kind = if leave_on { ProductKind::LeaveOn } else { ProductKind::RinseOff };
        let before = Product {
            markets: vec![market],
            spray,
            ..product(kind, &places, product_type)
        };
        let mut with_place = before.clone();
        with_place.places.push(more);
        let mut with_market = before.clone();
        with_market.markets.push(second);
        let mut with_kind = before.clone();
        with_kind.kinds = Kinds::Both;
        let old = breaches(&before, &picks);
        for (what, after) in [("place", with_place), ("market", with_market), ("kind", with_kind)] {
            let new = breaches(&after, &picks);
            for rule in &old {
                prop_assert!(new.contains(rule), "{what} {more:?} {second:?} takes {rule} away: {new:?}");
            }
        }
    }
}

/// A substance with a range of shares, in percent.
pub(super) fn between(inci: &str, cas: &str, class: Class, shares: (f64, f64, f64)) -> Material {
    let mut m = pure(inci, cas, class);
    if let Some(only) = m.constituents.first_mut() {
        let (low, typical, high) = shares;
        only.share = Spread {
            low: MassFraction::from_percent(low),
            typical: MassFraction::from_percent(typical),
            high: MassFraction::from_percent(high),
        };
    }
    m
}

fn percent_of(value: Option<FindingValue>) -> Option<f64> {
    match value {
        Some(FindingValue::Share(share)) => Some((share.as_percent() * 1e6).round() / 1e6),
        _ => None,
    }
}

/// Annex V, 29: phenoxyethanol, at most 1.0 %.
#[test]
fn an_amount_is_told_as_far_as_it_is_certain() {
    let phenoxyethanol = |shares, percent| {
        let m = between("Phenoxyethanol", "122-99-6", Class::Preservative, shares);
        let law = law(face_cream(), vec![(m, percent)]);
        of(&law, "EU V/29").first().map(|f| (*f).clone())
    };
    let exact = phenoxyethanol((100.0, 100.0, 100.0), 1.2).unwrap();
    assert!(
        exact
            .message
            .starts_with("Phenoxyethanol is 1.2 %; the limit is 1 %"),
        "{}",
        exact.message
    );
    assert_eq!(percent_of(exact.amount), Some(1.2));
    assert_eq!(exact.level, Level::Breach);
    // The typical share keeps the limit, the highest does not.
    let open = phenoxyethanol((80.0, 90.0, 100.0), 1.05).unwrap();
    assert!(
        open.message
            .starts_with("Phenoxyethanol is 0.945 % (up to 1.05 %); the limit is 1 %"),
        "{}",
        open.message
    );
    assert!(
        open.message.contains("only at the upper end"),
        "{}",
        open.message
    );
    assert_eq!(percent_of(open.amount), Some(1.05));
    assert_eq!(open.level, Level::Caution);
    // Both are over it: the certain amount is the one held against the limit.
    let wide = phenoxyethanol((80.0, 90.0, 100.0), 1.5).unwrap();
    assert_eq!(percent_of(wide.amount), Some(1.35));
    assert!(
        wide.message.contains("1.35 % (up to 1.5 %)"),
        "{}",
        wide.message
    );
    assert_eq!(phenoxyethanol((80.0, 90.0, 100.0), 1.0), None);
    // Annex V, 34: counted as something else than a preservative, nothing of it is certain.
    let solvent = law(
        face_cream(),
        vec![(pure("Benzyl Alcohol", "100-51-6", Class::Other), 2.0)],
    );
    let told = of(&solvent, "EU V/34");
    assert!(
        told.iter()
            .any(|f| f.message.contains("Benzyl Alcohol is up to 2 %")),
        "{told:?}"
    );
}

/// Annex V, 1: benzoic acid and its sodium salt, together at most 0.5 % as the acid where the
/// product stays on. 122.12 g/mol of acid in 144.10 g/mol of salt (computed from the atomic
/// weights of IUPAC).
#[test]
fn substances_of_one_limit_are_named_and_added_up() {
    let acid = || pure("Benzoic Acid", "65-85-0", Class::Preservative);
    let salt = || pure("Sodium Benzoate", "532-32-1", Class::Preservative);
    let words = |lines| {
        let law = law(face_cream(), lines);
        of(&law, "EU V/1")
            .first()
            .map(|f| f.message.clone())
            .unwrap()
    };
    let both = words(vec![(acid(), 0.3), (salt(), 0.3)]);
    assert!(
        both.starts_with("Benzoic Acid, Sodium Benzoate are together 0.5542 % as benzoic acid"),
        "{both}"
    );
    // What is not in the formula is not named, and a name twice is one.
    let one = words(vec![(acid(), 0.6), (salt(), 0.0)]);
    assert!(
        one.starts_with("Benzoic Acid is 0.6 % as benzoic acid"),
        "{one}"
    );
    let twice = words(vec![(acid(), 0.3), (acid(), 0.3)]);
    assert!(
        twice.starts_with("Benzoic Acid is 0.6 % as benzoic acid"),
        "{twice}"
    );
}

#[test]
fn one_line_over_a_limit_can_be_held_there() {
    let m = || pure("Phenoxyethanol", "122-99-6", Class::Preservative);
    let remedy = |lines| {
        let law = law(face_cream(), lines);
        of(&law, "EU V/29").first().and_then(|f| f.remedy.clone())
    };
    assert_eq!(
        remedy(vec![(m(), 1.2)]),
        Some(Remedy::HoldAtLimit {
            line: ItemId(10),
            percent: "1".parse().unwrap(),
        })
    );
    // Half of it is something else: twice as much may be weighed.
    let half = between(
        "Phenoxyethanol",
        "122-99-6",
        Class::Preservative,
        (50.0, 50.0, 50.0),
    );
    assert_eq!(
        remedy(vec![(half, 2.5)]),
        Some(Remedy::HoldAtLimit {
            line: ItemId(10),
            percent: "2".parse().unwrap(),
        })
    );
    // Where several lines share the limit, the maker decides which gives way.
    assert_eq!(remedy(vec![(m(), 0.6), (m(), 0.6)]), None);
}

#[test]
fn a_limit_is_kept_as_a_sum_over_lines_unless_none_can_reach_it() {
    let with = |share: f64| {
        let m = between(
            "Phenoxyethanol",
            "122-99-6",
            Class::Preservative,
            (share, share, share),
        );
        let law = law(face_cream(), vec![(m, 0.5)]);
        law.ceilings
            .into_iter()
            .find(|c| &*c.rule == "EU V/29")
            .map(|c| (c.shares, c.max.as_percent()))
    };
    assert_eq!(with(100.0), Some((vec![(ItemId(10), 1.0)], 1.0)));
    assert_eq!(with(1.01).map(|(shares, _)| shares.len()), Some(1));
    assert_eq!(with(1.0), None);
    assert_eq!(with(0.5), None);
}

/// Annex V, 45: dimethyl oxazolidine, “the pH of the finished product must not be lower than
/// 6”. Annex III, 15c: calcium hydroxide for other uses, a pH below 11.
#[test]
fn a_window_of_the_ph_is_held_against_the_whole_range() {
    let level_at = |inci: &str, cas: &str, class, rule: &str, ph: Option<(f64, f64)>| {
        let f = formula(face_cream(), vec![(pure(inci, cas, class), 0.05)]);
        let ph = ph.map(|(low, high)| PhRange::new(low, high).unwrap());
        let law = check(&f, f.active(), ph, TODAY, &RuleBook::shared());
        let found = of(&law, rule);
        let of_ph = found.iter().filter(|f| f.message.contains("pH"));
        of_ph
            .map(|f| (f.level, f.message.clone()))
            .max_by_key(|f| f.0)
    };
    let oxazolidine = |ph| {
        level_at(
            "Dimethyl Oxazolidine",
            "51200-87-4",
            Class::Preservative,
            "EU V/45",
            ph,
        )
    };
    let level = |found: Option<(Level, String)>| found.map(|(level, _)| level);
    assert_eq!(level(oxazolidine(None)), Some(Level::Note));
    assert_eq!(level(oxazolidine(Some((6.0, 6.0)))), None);
    assert_eq!(level(oxazolidine(Some((6.0, 9.0)))), None);
    assert_eq!(level(oxazolidine(Some((5.99, 7.0)))), Some(Level::Caution));
    assert_eq!(level(oxazolidine(Some((5.0, 6.0)))), Some(Level::Caution));
    assert_eq!(level(oxazolidine(Some((5.0, 5.99)))), Some(Level::Breach));
    let said = |found: Option<(Level, String)>| found.map(|f| f.1).unwrap_or_default();
    let exact = said(oxazolidine(Some((5.5, 5.5))));
    assert!(exact.ends_with("the pH is 5.50"), "{exact}");
    let range = said(oxazolidine(Some((5.5, 6.5))));
    assert!(
        range.ends_with("the pH is 5.50 to 6.50, estimated: measure it"),
        "{range}"
    );
    let lime = |ph| {
        level(level_at(
            "Calcium Hydroxide",
            "1305-62-0",
            Class::AcidBase,
            "EU III/15c",
            Some(ph),
        ))
    };
    assert_eq!(lime((11.0, 11.0)), None);
    assert_eq!(lime((10.5, 11.01)), Some(Level::Caution));
    assert_eq!(lime((11.0, 12.0)), Some(Level::Caution));
    assert_eq!(lime((11.01, 12.0)), Some(Level::Breach));
}

/// Lavender oil with its components beside it, or within it.
fn lavender(within: bool) -> Material {
    let rows = [
        ("Lavandula Angustifolia Oil", 27.9, Class::Fragrance),
        ("Linalyl Acetate", 30.0, Class::Fragrance),
        ("Linalool", 34.0, Class::Fragrance),
        ("Camphor", 7.0, Class::Fragrance),
        ("Limonene", 1.0, Class::Fragrance),
        ("Coumarin", 0.1, Class::Fragrance),
    ];
    let mut oil = Material::clone(&fixture::material("lavender", &rows));
    oil.roles = vec![Role::EssentialOil];
    for c in oil.constituents.iter_mut().skip(1).filter(|_| within) {
        c.incidental = Some("component of the oil".into());
    }
    oil
}

/// Regulation (EU) 2023/1545 adds "Lavandula Oil/Extract" to Annex III; in Great Britain only
/// the older allergens, such as linalool (Annex III, entry 84), are to be named.
#[test]
fn an_oil_counts_whole_and_allergens_bind_by_market() {
    let named = |within: bool, markets: &[Market]| {
        let cream = Product {
            markets: markets.to_vec(),
            ..face_cream()
        };
        let water = pure("Aqua", "", Class::Water);
        let made = law(cream, vec![(lavender(within), 0.03), (water, 99.97)]);
        let told = made.findings.iter();
        let allergens = told.clone().find(|f| f.message.starts_with("To be named"));
        let beside = told.clone().any(|f| &*f.rule == "oil-components");
        (
            allergens.map_or(String::new(), |f| f.message.clone()),
            beside,
        )
    };
    let (eu, beside) = named(true, &[Market::Eu]);
    assert!(eu.contains("Lavandula Oil/Extract") && !beside, "{eu}");
    let (_, beside) = named(false, &[Market::Eu]);
    assert!(beside);
    let (uk, _) = named(true, &[Market::Uk]);
    assert!(uk.contains("Linalool") && !uk.contains("Lavandula"), "{uk}");
    assert!(
        !uk.contains("Linalyl Acetate") && !uk.contains("only"),
        "{uk}"
    );
    let (both, _) = named(true, &[Market::Eu, Market::Uk]);
    assert!(
        both.contains("Lavandula Oil/Extract 0.03 % (EU only)"),
        "{both}"
    );
}

/// Regulation (EC) No 1223/2009, Article 16(2) and (3).
#[test]
fn nanomaterials_are_notified_but_for_what_the_annexes_list() {
    let rule = "nano-notification";
    let told = |inci: &str, cas: &str, class, purpose, markets: &[Market]| {
        let cream = Product {
            markets: markets.to_vec(),
            ..face_cream()
        };
        let water = pure("Aqua", "", Class::Water);
        let lines = vec![(pure(inci, cas, class), 5.0), (water, 95.0)];
        level(&law_stated(cream, lines, purpose), rule)
    };
    let eu = [Market::Eu];
    let silica = ("Silica (nano)", "7631-86-9", Class::Other);
    let zinc = ("Zinc Oxide (nano)", "1314-13-2", Class::Other);
    let some = Some(Level::Caution);
    assert_eq!(told(silica.0, silica.1, silica.2, None, &eu), some);
    assert_eq!(
        told(silica.0, silica.1, silica.2, None, &[Market::Uk]),
        some
    );
    assert_eq!(
        told(silica.0, silica.1, silica.2, None, &[Market::Us]),
        None
    );
    assert_eq!(told("Silica", silica.1, silica.2, None, &eu), None);
    let filter = Some(Purpose::UvFilter);
    assert_eq!(told(zinc.0, zinc.1, zinc.2, filter, &eu), None);
    assert_eq!(
        told(zinc.0, zinc.1, zinc.2, Some(Purpose::Absorbent), &eu),
        some
    );
    assert_eq!(told(zinc.0, zinc.1, zinc.2, None, &eu), some);
}
