//! The engine on short lists made up for one rule each, where the published lists do not tell
//! apart what has to be: days, purposes, sums, uses and what is left open.

use super::tests::{TODAY, between, face_cream, formula, of, product, pure};
use super::{Law, check};
use crate::finding::{Level, Remedy, StatedField};
use crate::fixture;
use crate::formula::{BodySite, ItemId, Kinds, Market, Product, ProductType};
use crate::material::{Class, FragranceLevel, Material, ProductKind, Role};
use crate::purpose::Purpose;
use crate::rules::RuleBook;
use crate::rules::scope::Truth;
use std::sync::Arc;

/// A book of one list “T” for the European Union and the United Kingdom.
pub(super) fn book(list: &str, entries: &str) -> RuleBook {
    added(&RuleBook::default(), "T", list, "Eu, Uk", entries)
}

/// A book with one more list.
pub(super) fn added(
    book: &RuleBook,
    set: &str,
    list: &str,
    markets: &str,
    entries: &str,
) -> RuleBook {
    let text = format!(
        r#"(version: 1, set: "{set}", title: "Made up", list: {list}, markets: [{markets}], source: "nowhere", entries: [{entries}])"#
    );
    book.with_list(&text, "made-up.rules.ron").unwrap()
}

/// An entry of Alpha alone with these fields.
pub(super) fn of_alpha(fields: &str) -> String {
    format!(r#"(no: "1", name: "A thing", of: ["Alpha"], {fields}),"#)
}

pub(super) fn held(book: &RuleBook, product: Product, lines: Vec<(Material, f64)>) -> Law {
    let f = formula(product, lines);
    check(&f, f.active(), None, TODAY, book)
}

/// The same with what the first line is there for as the maker states it.
pub(super) fn held_as(
    book: &RuleBook,
    product: Product,
    lines: Vec<(Material, f64)>,
    purpose: Purpose,
) -> Law {
    let f = formula(product, lines);
    let mut variant = f.active().as_ref().clone();
    let mut phase = variant.phases[0].as_ref().clone();
    phase.lines[0].purpose = Some(purpose);
    variant.phases[0] = Arc::new(phase);
    check(&f, &variant, None, TODAY, book)
}

pub(super) fn alpha(percent: f64) -> (Material, f64) {
    (pure("Alpha", "", Class::Other), percent)
}

pub(super) fn beta(percent: f64) -> (Material, f64) {
    (pure("Beta", "", Class::Other), percent)
}

pub(super) fn gamma(percent: f64) -> (Material, f64) {
    (pure("Gamma", "", Class::Other), percent)
}

/// Alpha as a preservative.
pub(super) fn keeper(percent: f64) -> (Material, f64) {
    (pure("Alpha", "", Class::Preservative), percent)
}

/// Half Alpha, half Beta.
pub(super) fn blend(percent: f64) -> (Material, f64) {
    let halves = [("Alpha", 50.0, Class::Other), ("Beta", 50.0, Class::Other)];
    (
        fixture::material("Blend", &halves).as_ref().clone(),
        percent,
    )
}

/// Washed off, of no stated type and place.
pub(super) fn wash() -> Product {
    product(ProductKind::RinseOff, &[], None)
}

pub(super) fn shampoo() -> Product {
    product(
        ProductKind::RinseOff,
        &[BodySite::Hair],
        Some(ProductType::Shampoo),
    )
}

fn sold(markets: &[Market], product: Product) -> Product {
    Product {
        markets: markets.to_vec(),
        ..product
    }
}

/// What is told on a rule.
pub(super) fn told<'l>(law: &'l Law, rule: &str) -> Vec<(Level, &'l str)> {
    let found = of(law, rule).into_iter();
    found.map(|f| (f.level, f.message.as_str())).collect()
}

/// Lines, their limits and the rules of these.
pub(super) fn limits(law: &Law) -> Vec<(u64, String, &str)> {
    let all = law.limits.iter();
    all.map(|l| (l.line.0, l.most.to_string(), &*l.rule))
        .collect()
}

fn limit(line: u64, most: &str, rule: &'static str) -> (u64, String, &'static str) {
    (line, most.to_owned(), rule)
}

#[test]
fn an_entry_speaks_from_its_day_on() {
    let book = book(
        "Prohibited",
        &of_alpha(r#"prohibited: "all", from: "2027-01-01""#),
    );
    let on = |day: &str, percent| {
        let market_date = Some(day.parse().unwrap());
        let product = Product {
            market_date,
            ..face_cream()
        };
        held(&book, product, vec![alpha(percent)])
    };
    assert_eq!(
        told(&on("2026-12-31", 1.0), "T 1"),
        [(
            Level::Caution,
            "Alpha: binds products placed on the market from 2027-01-01"
        )]
    );
    assert_eq!(told(&on("2026-12-31", 0.0), "T 1"), []);
    assert_eq!(
        told(&on("2027-01-01", 1.0), "T 1"),
        [(Level::Breach, "Alpha is prohibited")]
    );
}

#[test]
fn what_is_deleted_or_binds_elsewhere_limits_nothing() {
    let law = |fields: &str, market| {
        let book = book("Prohibited", &of_alpha(fields));
        held(&book, sold(&[market], face_cream()), vec![alpha(2.0)])
    };
    let deleted = law(r#"prohibited: "all", deleted: true"#, Market::Eu);
    assert_eq!(told(&deleted, "T 1"), []);
    let limit_of = |market| law("tiers: [(max: 1.0)], binds: [Eu]", market);
    assert_eq!(told(&limit_of(Market::Uk), "T 1"), []);
    assert_eq!(told(&limit_of(Market::Eu), "T 1").len(), 1);
    // A prohibition may follow there, so it is told.
    let prohibition = |market| law(r#"prohibited: "all", binds: [Eu]"#, market);
    let abroad = prohibition(Market::Uk);
    let (level, words) = told(&abroad, "T 1")[0];
    assert_eq!(level, Level::Note);
    assert!(words.starts_with("Alpha is prohibited (this binds in the European Union;"));
    assert_eq!((limits(&abroad), abroad.ceilings.len()), (Vec::new(), 0));
    let home = prohibition(Market::Eu);
    assert_eq!(limits(&home), [limit(10, "0", "T 1")]);
    // What was not seen in the text neither.
    let unseen = law(r#"prohibited: "all", seen: false"#, Market::Eu);
    assert_eq!(told(&unseen, "T 1")[0].0, Level::Caution);
    assert_eq!((limits(&unseen), unseen.ceilings.len()), (Vec::new(), 0));
}

#[test]
fn a_list_binds_in_its_markets_and_a_list_of_ones_own_without_any_everywhere() {
    let breached = |list: &str, markets: &str, sold_in: &[Market]| {
        let entry = of_alpha(r#"prohibited: "all""#);
        let book = added(&RuleBook::default(), "T", list, markets, &entry);
        let law = held(&book, sold(sold_in, face_cream()), vec![alpha(1.0)]);
        !told(&law, "T 1").is_empty()
    };
    for sold_in in [Vec::new(), vec![Market::Us]] {
        assert!(breached("Own", "", &sold_in));
        assert!(!breached("Own", "Eu", &sold_in));
        assert!(!breached("Prohibited", "", &sold_in));
    }
    for list in ["Own", "Prohibited"] {
        assert!(breached(list, "Eu", &[Market::Us, Market::Eu]));
    }
}

/// Where the type is not stated, the limit of the most generous type binds at least.
#[test]
fn the_limit_that_binds_in_every_type_binds_an_unstated_one() {
    let law = |product: Product, line, fields: &str| {
        let book = book("Preservatives", &of_alpha(fields));
        held(&book, product, vec![line])
    };
    let tiers = r#"tiers: [(scope: "shampoo", max: 1.0), (scope: "other", max: 0.5), (scope: "shampoo", max: 0.1, from: "2030-01-01")]"#;
    for product in [wash(), shampoo()] {
        let law = law(product, alpha(0.2), tiers);
        assert_eq!(limits(&law), [limit(10, "1", "T 1")]);
        assert_eq!(law.ceilings.len(), 1);
    }
    for fields in [
        // Of each substance for itself there is no such sum.
        tiers.replace("max: 1.0", "max: 1.0, each: true"),
        // A caution is no limit, nor is one on another purpose.
        format!("{tiers}, level: Caution"),
        format!("{tiers}, purpose: Preservative"),
        // A type of which no limit speaks.
        r#"tiers: [(scope: "shampoo", max: 1.0)]"#.to_owned(),
    ] {
        let law = law(wash(), alpha(0.2), &fields);
        assert_eq!(limits(&law), [], "{fields}");
    }
}

#[test]
fn a_limit_to_come_brings_its_conditions_where_it_speaks_of_the_product() {
    let law = |scope: &str| {
        let fields = format!(
            r#"tiers: [(scope: "{scope}", max: 1.0, from: "2030-01-01")], read: ["Mind this"]"#
        );
        let book = book("Restricted", &of_alpha(&fields));
        held(&book, face_cream(), vec![alpha(0.5)])
    };
    assert_eq!(
        told(&law("leave-on"), "T 1"),
        [(Level::Note, "Alpha: Mind this")]
    );
    assert_eq!(told(&law("rinse-off"), "T 1"), []);
}

#[test]
fn of_limits_that_may_bind_the_strictest_exceeded_is_told() {
    let words = |shampoo: &str, soap: &str, percent| {
        let fields = format!(
            r#"tiers: [(scope: "shampoo", max: {shampoo}), (scope: "hand-wash", max: {soap})]"#
        );
        let book = book("Restricted", &of_alpha(&fields));
        let law = held(&book, wash(), vec![alpha(percent)]);
        let all = told(&law, "T 1");
        assert_eq!((all.len(), all[0].0), (1, Level::Caution), "{all:?}");
        all[0].1.to_owned()
    };
    for (shampoo, soap, percent, told) in [
        (
            "1.0",
            "0.5",
            2.0,
            "the limit is 0.5 % in products: hand wash",
        ),
        ("0.5", "1.0", 2.0, "the limit is 0.5 % in products: shampoo"),
        ("1.0", "1.0", 2.0, "the limit is 1 % in products: shampoo"),
        ("3.0", "1.0", 2.0, "the limit is 1 % in products: hand wash"),
    ] {
        let words = words(shampoo, soap, percent);
        assert!(words.contains(told), "{words}");
    }
}

/// A breach only where it is one in every type that the product can be.
#[test]
fn a_limit_left_open_is_broken_where_no_type_allows_the_amount() {
    let two = r#"(scope: "shampoo", max: 1.0), (scope: "other", max: 0.5)"#;
    let one = r#"(scope: "shampoo", max: 1.0)"#;
    let gone = r#"(scope: "shampoo", max: 1.0), (scope: "other", max: 0.5, until: "2026-01-01")"#;
    let words = r#"(scope: "[roll-on]", max: 1.0), (scope: "other", max: 0.5)"#;
    let word = r#"(scope: "[roll-on]", max: 1.0)"#;
    let (breach, caution) = (Some(Level::Breach), Some(Level::Caution));
    for (list, tiers, product, line, expected) in [
        ("Restricted", two, wash(), alpha(2.0), breach),
        ("Restricted", two, wash(), alpha(0.8), caution),
        ("Restricted", two, wash(), alpha(0.5), None),
        ("Restricted", one, wash(), alpha(2.0), caution),
        ("Restricted", gone, wash(), alpha(2.0), caution),
        ("Restricted", words, face_cream(), alpha(2.0), breach),
        ("Restricted", words, face_cream(), alpha(0.8), caution),
        ("Restricted", word, face_cream(), alpha(2.0), caution),
        // What a list of the allowed does not name is not allowed.
        ("Preservatives", one, wash(), keeper(2.0), breach),
        ("Preservatives", word, face_cream(), keeper(2.0), breach),
        // What may preserve or not is not over it for sure.
        ("Preservatives", one, wash(), alpha(2.0), None),
    ] {
        let purpose = match list {
            "Preservatives" => "Preservative",
            _ => "Any",
        };
        let fields = format!("purpose: {purpose}, tiers: [{tiers}]");
        let law = held(&book(list, &of_alpha(&fields)), product, vec![line]);
        let found = of(&law, "T 1");
        let over = found.iter().filter(|f| f.message.contains("the limit is"));
        let level = over.map(|f| f.level).max();
        assert_eq!(level, expected, "{list} {tiers} {:?}", law.findings);
    }
}

#[test]
fn a_list_of_the_allowed_asks_for_a_type_that_it_may_leave_out() {
    let asked = |list: &str, tiers: &str, line| {
        let fields = format!("purpose: Preservative, tiers: [{tiers}]");
        let law = held(&book(list, &of_alpha(&fields)), wash(), vec![line]);
        let found = of(&law, "T 1");
        let asks = found.iter().find(|f| f.message.contains("state its type"));
        asks.filter(|f| f.message.contains("only in products: shampoo"))
            .map(|f| (f.level, f.remedy.clone()))
    };
    let one = r#"(scope: "shampoo", max: 1.0)"#;
    let open = Remedy::OpenField(StatedField::ProductType);
    let caution = Some((Level::Caution, Some(open)));
    assert_eq!(asked("Preservatives", one, keeper(0.5)), caution);
    let gone = format!(r#"{one}, (scope: "other", max: 0.5, until: "2026-01-01")"#);
    assert_eq!(asked("Preservatives", &gone, keeper(0.5)), caution);
    let all = format!(r#"{one}, (scope: "other", max: 0.5)"#);
    assert_eq!(asked("Preservatives", &all, keeper(0.5)), None);
    assert_eq!(asked("Preservatives", one, alpha(0.5)), None);
    assert_eq!(asked("Restricted", one, keeper(0.5)), None);
    // Over the limit that is what is told.
    assert_eq!(asked("Preservatives", one, keeper(2.0)), None);
}

#[test]
fn substances_of_one_family_are_one_where_a_limit_is_for_each() {
    let book = book(
        "Restricted",
        r#"(no: "1", name: "Things", of: ["Alpha; Alpha Salt", "Beta"], tiers: [(max: 1.0, each: true)])"#,
    );
    let salt = |percent| (pure("Alpha Salt", "", Class::Other), percent);
    let law = |lines| held(&book, face_cream(), lines);
    assert_eq!(
        told(&law(vec![alpha(0.6), salt(0.6)]), "T 1"),
        [(
            Level::Breach,
            "Alpha, Alpha Salt are together 1.2 %; the limit is 1 %"
        )]
    );
    let all = law(vec![alpha(0.6), salt(0.3), beta(0.9)]);
    assert_eq!(told(&all, "T 1"), []);
    assert_eq!(
        limits(&all),
        [
            limit(10, "0.7", "T 1"),
            limit(11, "0.4", "T 1"),
            limit(12, "1", "T 1")
        ]
    );
    let words: Vec<&str> = all.limits.iter().map(|l| l.message.as_str()).collect();
    assert_eq!(
        words,
        [
            "At most 0.7 % before T 1 binds, with 0.3 % from other lines",
            "At most 0.4 % before T 1 binds, with 0.6 % from other lines",
            "At most 1 % before T 1 binds"
        ]
    );
    let shares: Vec<Vec<u64>> = (all.ceilings.iter())
        .map(|c| c.shares.iter().map(|(line, _)| line.0).collect())
        .collect();
    assert_eq!(shares, [vec![10, 11], vec![12]]);
}

#[test]
fn what_is_only_filed_under_an_entry_takes_no_room_of_its_limit() {
    let book = book(
        "Restricted",
        r#"(no: "1", name: "Things", of: ["Alpha", "?Beta"], tiers: [(max: 1.0)])"#,
    );
    let law = held(&book, face_cream(), vec![alpha(0.5), beta(3.0)]);
    assert_eq!(limits(&law), [limit(10, "1", "T 1")]);
    assert_eq!(law.ceilings[0].shares, [(ItemId(10), 1.0)]);
    assert_eq!(told(&law, "T 1")[0].0, Level::Caution);
    let alone = held(&book, face_cream(), vec![beta(3.0)]);
    assert_eq!(
        told(&alone, "T 1"),
        [(
            Level::Caution,
            "Beta is up to 3 %; the limit is 1 %; Beta is only filed under this entry by the Commission's database"
        )]
    );
}

/// Annex V, 1, where the product stays on: 0.5 % as benzoic acid, 122.12 g/mol, of which the
/// sodium salt has 144.10 g/mol (computed from the atomic weights of IUPAC).
#[test]
fn a_line_has_the_room_that_others_leave_it_reckoned_as_itself() {
    let acid = pure("Benzoic Acid", "65-85-0", Class::Preservative);
    let salt = pure("Sodium Benzoate", "532-32-1", Class::Preservative);
    let law = held(
        &RuleBook::shared(),
        face_cream(),
        vec![(acid, 0.3), (salt, 0.1)],
    );
    let most = |line: u64| {
        let limit = law.limits.iter().find(|l| l.line.0 == line).unwrap();
        assert_eq!(&*limit.rule, "EU V/1");
        limit.most.fraction().as_percent()
    };
    let factor = 122.12 / 144.10;
    assert!((most(10) - (0.5 - 0.1 * factor)).abs() < 1e-4);
    assert!((most(11) - (0.5 - 0.3) / factor).abs() < 1e-4);
}

#[test]
fn a_limit_of_nothing_or_of_all_offers_no_percentage_to_hold() {
    let law = |fields: &str, percent| {
        let book = book("Restricted", &of_alpha(fields));
        held(&book, face_cream(), vec![alpha(percent)])
    };
    let none = law("tiers: [(max: 0.0)]", 1.0);
    assert_eq!(of(&none, "T 1")[0].level, Level::Breach);
    assert_eq!(of(&none, "T 1")[0].remedy, None);
    assert_eq!(limits(&none), [limit(10, "0", "T 1")]);
    let some = law("tiers: [(max: 0.5)]", 1.0);
    let hold = Remedy::HoldAtLimit {
        line: ItemId(10),
        percent: "0.5".parse().unwrap(),
    };
    assert_eq!(of(&some, "T 1")[0].remedy, Some(hold));
    assert_eq!(limits(&law("tiers: [(max: 100.0)]", 50.0)), []);
}

#[test]
fn of_equal_limits_the_first_is_named_and_of_others_the_lowest() {
    let first = |one: &str, other: &str| {
        let entry = |no: &str, max: &str| {
            format!(r#"(no: "{no}", name: "A thing", of: ["Alpha"], tiers: [(max: {max})])"#)
        };
        let entries = format!("{}, {}", entry("1", one), entry("2", other));
        let book = book("Restricted", &entries);
        let law = held(&book, face_cream(), vec![alpha(0.1)]);
        (
            law.limits[0].most.to_string(),
            law.limits[0].rule.to_string(),
        )
    };
    let limit = |most: &str, rule: &str| (most.to_owned(), rule.to_owned());
    assert_eq!(first("1.0", "1.0"), limit("1", "T 1"));
    assert_eq!(first("1.0", "0.5"), limit("0.5", "T 2"));
    assert_eq!(first("0.5", "1.0"), limit("0.5", "T 1"));
}

/// Of the law and the certificate of a fragrance the lower limit binds its line.
#[test]
fn a_certificate_and_the_law_bind_a_line_by_the_lower_of_both() {
    let book = book(
        "Restricted",
        r#"(no: "1", name: "Things", of: ["Parfum", "Alpha"], tiers: [(max: 1.0, each: true)])"#,
    );
    let bound = |maximum: &str| {
        let mut perfume = pure("Parfum", "", Class::Fragrance);
        perfume.roles.push(Role::Fragrance);
        perfume.fragrance_levels = vec![FragranceLevel {
            category: "9".into(),
            maximum: maximum.parse().unwrap(),
        }];
        let product = Product {
            fragrance_category: Some("9".into()),
            ..face_cream()
        };
        let law = held(&book, product, vec![alpha(0.1), (perfume, 0.1)]);
        let mut all: Vec<_> = limits(&law)
            .into_iter()
            .map(|(line, most, rule)| (line, most, rule.to_owned()))
            .collect();
        all.sort();
        all
    };
    let of_alpha = || (10, "1".to_owned(), "T 1".to_owned());
    let category = |most: &str| (11, most.to_owned(), "fragrance category 9".to_owned());
    assert_eq!(bound("0.5"), [of_alpha(), category("0.5")]);
    assert_eq!(bound("1"), [of_alpha(), category("1")]);
    let law = (11, "1".to_owned(), "T 1".to_owned());
    assert_eq!(bound("2"), [of_alpha(), law]);
}

#[test]
fn a_window_of_the_ph_is_asked_for_what_surely_preserves() {
    let fields = "purpose: Preservative, tiers: [(max: 1.0, ph: (3.0, 6.0))]";
    let book = book("Preservatives", &of_alpha(fields));
    let needs = |line| {
        let law = held(&book, face_cream(), vec![line]);
        told(&law, "T 1").len()
    };
    assert_eq!(needs(keeper(0.5)), 1);
    assert_eq!(needs(keeper(0.0)), 0);
    assert_eq!(needs(alpha(0.5)), 0);
}

/// Two substances weighed singly make up what the law names as a mixture; what is not there or
/// comes in another blend does not.
#[test]
fn what_counts_beside_another_substance_needs_it_in_its_line_or_singly() {
    let (one, other) = ("56-81-5", "57-55-6");
    let with = |parts: &[(&str, &str)]| {
        let halves: Vec<_> = parts.iter().map(|p| (p.0, 50.0, Class::Other)).collect();
        let mut m = fixture::material(&format!("Of {}", parts[0].0), &halves)
            .as_ref()
            .clone();
        for (constituent, part) in m.constituents.iter_mut().zip(parts) {
            constituent.cas = part.1.parse().ok();
        }
        m
    };
    let alpha = || pure("Alpha", one, Class::Other);
    let beta = || pure("Beta", other, Class::Other);
    let both = || with(&[("Alpha", one), ("Beta", other)]);
    let apart = || with(&[("Alpha", one), ("Gamma", "")]);
    let beta_in_blend = || with(&[("Beta", other), ("Gamma", "")]);
    for (lines, together) in [
        (vec![(alpha(), 1.0), (beta(), 1.0)], true),
        (vec![(alpha(), 1.0), (beta(), 0.0)], false),
        (vec![(alpha(), 1.0)], false),
        (vec![(alpha(), 1.0), (beta_in_blend(), 1.0)], false),
        (vec![(apart(), 1.0), (beta(), 1.0)], false),
        (vec![(both(), 1.0)], true),
    ] {
        for (word, expected) in [("beside", together), ("without", !together)] {
            let entry = format!(
                r#"(no: "1", name: "A thing", of: ["Alpha={one} {word} {other}"], prohibited: "all")"#
            );
            let law = held(&book("Prohibited", &entry), face_cream(), lines.clone());
            assert_eq!(!told(&law, "T 1").is_empty(), expected, "{word} {lines:?}");
        }
    }
}

#[test]
fn an_entry_of_the_nanomaterial_leaves_the_coarse_one_alone() {
    let entry = r#"(no: "1", name: "A thing", of: ["Titanium Dioxide=nano 13463-67-7"], prohibited: "all")"#;
    let book = book("Prohibited", entry);
    let prohibited = |inci: &str| {
        let m = pure(inci, "13463-67-7", Class::Other);
        let law = held(&book, face_cream(), vec![(m, 1.0)]);
        !told(&law, "T 1").is_empty()
    };
    assert!(prohibited("Titanium Dioxide (nano)"));
    assert!(!prohibited("Titanium Dioxide"));
}

#[test]
fn a_finding_names_each_of_its_lines_once() {
    let entries = r#"
        (no: "1", name: "Things", of: ["Alpha", "Beta"], tiers: [(max: 1.0)]),
        (no: "2", name: "A thing", of: ["Alpha"], apart: ["T 3 => they react"]),
        (no: "3", name: "A thing", of: ["Beta"], apart: ["T 2"]),
    "#;
    let book = book("Restricted", entries);
    let law = |lines| held(&book, face_cream(), lines);
    let lines = |law: &Law, rule| {
        let mut lines: Vec<u64> = of(law, rule)[0].lines.iter().map(|l| l.0).collect();
        lines.sort_unstable();
        lines
    };
    let three = law(vec![blend(4.0), alpha(2.0), blend(0.0)]);
    assert_eq!(lines(&three, "T 1"), [10, 11]);
    // Of two entries that name each other the first says it, wherever its lines stand.
    let turned = law(vec![beta(0.1), alpha(0.1)]);
    assert_eq!(
        told(&turned, "T 2"),
        [(
            Level::Breach,
            "Alpha must not be used together with Beta (T 3): they react"
        )]
    );
    assert_eq!(told(&turned, "T 3"), []);
    assert_eq!(lines(&turned, "T 2"), [10, 11]);
    assert_eq!(told(&law(vec![beta(0.0), alpha(0.1)]), "T 2"), []);
}

#[test]
fn what_must_not_meet_is_a_caution_where_it_is_not_sure() {
    let level = |of_it: &str, apart: &str| {
        let entries = format!(
            r#"(no: "1", name: "A thing", of: ["{of_it}"], apart: ["{apart}"]), (no: "2", name: "A thing", of: ["Beta"])"#
        );
        let law = held(
            &book("Restricted", &entries),
            face_cream(),
            vec![alpha(0.1), beta(0.1)],
        );
        told(&law, "T 1")[0].0
    };
    assert_eq!(level("Alpha", "T 2"), Level::Breach);
    assert_eq!(level("?Alpha", "T 2"), Level::Caution);
    assert_eq!(level("Alpha", "?T 2"), Level::Caution);
}

#[test]
fn products_it_must_not_be_in_are_broken_by_what_surely_is_it() {
    let never = |scope: &str, lines| {
        let entry =
            format!(r#"(no: "1", name: "Things", of: ["Alpha", "?Beta"], never: ["{scope}"])"#);
        let spray = Product {
            spray: true,
            ..face_cream()
        };
        let law = held(&book("Restricted", &entry), spray, lines);
        let all = told(&law, "T 1").into_iter();
        all.map(|(level, words)| (level, words.to_owned()))
            .collect::<Vec<_>>()
    };
    let words = |words: &str| words.to_owned();
    let of_beta = (
        Level::Caution,
        words("Beta must not be in products: sprayed"),
    );
    assert_eq!(
        never("spray", vec![alpha(1.0)]),
        [(
            Level::Breach,
            words("Alpha must not be in products: sprayed")
        )]
    );
    assert_eq!(
        never("spray", vec![beta(1.0)]),
        std::slice::from_ref(&of_beta)
    );
    assert_eq!(never("spray", vec![alpha(0.0), beta(1.0)]), [of_beta]);
    assert_eq!(never("rinse-off", vec![alpha(1.0)]), []);
    assert_eq!(
        never("[with a ball]", vec![alpha(1.0)]),
        [(Level::Note, words("Alpha: Not in products: with a ball"))]
    );
    assert_eq!(
        never("spray & [with a ball]", vec![alpha(1.0)]),
        [(
            Level::Caution,
            words(
                "Alpha must not be in products: sprayed, with a ball; no field tells this: with a ball"
            )
        )]
    );
}

#[test]
fn a_list_closes_other_products_to_what_surely_is_meant() {
    let fragrance = |(m, percent): (Material, f64)| {
        let mut m = m;
        m.constituents[0].class = Class::Fragrance;
        (m, percent)
    };
    let restricted = |fields: &str, lines| {
        let entry = format!(
            r#"(no: "1", name: "Things", of: ["Alpha", "?Beta"], tiers: [(scope: "shampoo")], {fields})"#
        );
        let law = held(&book("Restricted", &entry), face_cream(), lines);
        let first = told(&law, "T 1").first().map(|t| t.0);
        (first, limits(&law).len())
    };
    let breach = (Some(Level::Breach), 1);
    let caution = (Some(Level::Caution), 0);
    assert_eq!(restricted("", vec![alpha(1.0)]), breach);
    assert_eq!(restricted("", vec![beta(1.0)]), caution);
    assert_eq!(restricted("open: true", vec![alpha(1.0)]), (None, 0));
    assert_eq!(restricted("joint: true", vec![alpha(1.0)]), (None, 0));
    let scent = "purpose: Fragrance";
    assert_eq!(restricted(scent, vec![alpha(1.0)]), caution);
    assert_eq!(restricted(scent, vec![fragrance(alpha(1.0))]), breach);
    // One is surely meant but may not be scent, the other is scent but may not be meant.
    let doubtful = vec![alpha(1.0), fragrance(beta(1.0))];
    assert_eq!(restricted(scent, doubtful), caution);
    let kept = |of_it: &str, line| {
        let entry = format!(
            r#"(no: "1", name: "A thing", of: ["{of_it}"], purpose: Preservative, tiers: [(scope: "shampoo")])"#
        );
        let law = held(&book("Preservatives", &entry), face_cream(), vec![line]);
        let all = told(&law, "T 1").into_iter();
        all.map(|(level, words)| (level, words.to_owned()))
            .collect::<Vec<_>>()
    };
    let words = "Alpha is allowed for this purpose only in products: shampoo".to_owned();
    assert_eq!(kept("Alpha", keeper(1.0)), [(Level::Breach, words.clone())]);
    assert_eq!(kept("?Alpha", keeper(1.0)), [(Level::Caution, words)]);
    assert_eq!(kept("Alpha", alpha(1.0)), []);
}

/// Entries of one number of a list are one.
#[test]
fn what_one_part_of_an_entry_allows_is_allowed() {
    let law = |second: &str, product: Product, lines| {
        let entries = format!(
            r#"(no: "8a", name: "A thing", of: ["Alpha"], tiers: [(scope: "shampoo")]), (no: "8b", name: "A thing", {second})"#
        );
        let law = held(&book("Restricted", &entries), product, lines);
        let all = |rule| {
            let all = told(&law, rule).into_iter();
            all.map(|t| t.1.to_owned()).collect::<Vec<_>>()
        };
        (all("T 8a"), all("T 8b"))
    };
    let soap = || product(ProductKind::RinseOff, &[], Some(ProductType::HandWash));
    let same = r#"of: ["Alpha"], tiers: [(scope: "hand-wash")]"#;
    let later = r#"of: ["Alpha"], tiers: [(scope: "hand-wash", from: "2030-01-01")]"#;
    let other = r#"of: ["Beta"], tiers: [(scope: "hand-wash")]"#;
    let only = |fields: &str| {
        (
            vec![format!(
                "Alpha is allowed only in products: {fields}; this is none"
            )],
            Vec::<String>::new(),
        )
    };
    let none = (Vec::new(), Vec::new());
    assert_eq!(
        law(same, face_cream(), vec![alpha(1.0)]),
        only("shampoo; or hand wash")
    );
    assert_eq!(law(same, soap(), vec![alpha(1.0)]), none);
    assert_eq!(law(same, shampoo(), vec![alpha(1.0)]), none);
    assert_eq!(
        law(later, soap(), vec![alpha(1.0)]).0,
        only("shampoo; or hand wash").0
    );
    // What the other part does not know it does not allow.
    for lines in [vec![alpha(1.0), beta(1.0)], vec![blend(1.0)]] {
        assert_eq!(law(other, soap(), lines), only("shampoo"));
    }
}

/// Colorants have a list of their own, which decides over those of hair dyes.
#[test]
fn a_listed_colorant_is_not_closed_out_by_an_entry_on_hair_dyes() {
    let level = |purpose: &str, listed: bool, class, beside: bool| {
        let entry = format!(
            r#"(no: "1", name: "Dyes", of: ["Alpha", "Beta"], purpose: {purpose}, tiers: [(scope: "hair-dye")])"#
        );
        let mut book = book("Restricted", &entry);
        if listed {
            let colour = r#"(no: "1", name: "A colour", of: ["Alpha"], tiers: [()])"#;
            book = added(&book, "C", "Colorants", "Eu, Uk", colour);
        }
        let mut lines = vec![(pure("Alpha", "", class), 0.1)];
        lines.extend(beside.then(|| beta(0.1)));
        let law = held(&book, face_cream(), lines);
        told(&law, "T 1").first().map(|t| t.0)
    };
    assert_eq!(level("HairDye", true, Class::Colour, false), None);
    for (purpose, listed, class, beside) in [
        ("HairDye", false, Class::Colour, false),
        ("HairDye", true, Class::Other, false),
        ("HairDye", true, Class::Colour, true),
        ("Any", true, Class::Colour, false),
    ] {
        let found = level(purpose, listed, class, beside);
        assert_eq!(found, Some(Level::Breach), "{purpose} {listed} {class:?}");
    }
}

/// A list of other uses that is closed to the product, beside one that allows the substance as a
/// preservative: what it is there for is asked.
#[test]
fn what_may_preserve_is_asked_for_its_purpose_where_other_uses_are_closed() {
    let other = r#"purpose: Other, tiers: [(scope: "shampoo")]"#;
    let keeps = "purpose: Preservative, tiers: [(max: 1.0)]";
    let books = |restricted: &str, preservative: &str| {
        let book = book("Restricted", &of_alpha(restricted));
        added(&book, "P", "Preservatives", "Eu, Uk", preservative)
    };
    let result = |law: &Law| {
        let found = of(law, "T 1")[0].clone();
        let named = found.message.contains("as a preservative P 1 allows it");
        (found.level, named, found.remedy.is_some())
    };
    let (asked, closed) = ((Level::Caution, true, true), (Level::Breach, false, false));
    let both = books(other, &of_alpha(keeps));
    let law = |book: &RuleBook, lines| result(&held(book, face_cream(), lines));
    assert_eq!(law(&both, vec![alpha(0.5)]), asked);
    // More than it allows, a deleted entry, another purpose, and what the maker states.
    assert_eq!(law(&both, vec![alpha(2.0)]), closed);
    let deleted = books(other, &of_alpha(&format!("{keeps}, deleted: true")));
    assert_eq!(law(&deleted, vec![alpha(0.5)]), closed);
    let any = books(r#"tiers: [(scope: "shampoo")]"#, &of_alpha(keeps));
    assert_eq!(law(&any, vec![alpha(0.5)]), closed);
    let stated = held_as(&both, face_cream(), vec![alpha(0.5)], Purpose::Active);
    assert_eq!(result(&stated), closed);
    // What it allows of another substance says nothing of this one.
    let of_beta = of_alpha(keeps).replace("Alpha", "Beta");
    let beside = books(other, &of_beta);
    for lines in [vec![alpha(0.5), beta(0.5)], vec![blend(1.0)]] {
        assert_eq!(law(&beside, lines), closed);
    }
}

#[test]
fn only_the_entry_on_other_uses_of_the_same_substance_is_pointed_to() {
    let keeps = of_alpha("purpose: Preservative, tiers: [(max: 1.0)]");
    let words = |other: &str| {
        let other = format!(
            r#"(no: "1", name: "A thing", of: ["{other}"], purpose: Other, tiers: [(max: 5.0)])"#
        );
        let book = added(
            &book("Preservatives", &keeps),
            "R",
            "Restricted",
            "Eu, Uk",
            &other,
        );
        let mut m = blend(4.0);
        m.0.constituents[0].class = Class::Preservative;
        let law = held(&book, face_cream(), vec![m]);
        told(&law, "T 1")[0].1.to_owned()
    };
    let over = "Alpha is 2 %; the limit is 1 %";
    assert_eq!(words("Beta"), over);
    assert_eq!(
        words("Alpha"),
        format!("{over}; for a purpose other than preserving see R 1")
    );
}

#[test]
fn traces_and_what_plants_bring_are_not_forbidden_as_lines_are() {
    let entry = of_alpha(r#"prohibited: "all""#);
    let plain = book("Prohibited", &entry);
    let mut carrier = blend(1.0);
    carrier.0.constituents[0].incidental = Some("left from making it".into());
    let traces = held(&plain, face_cream(), vec![carrier.clone()]);
    let (level, words) = told(&traces, "T 1")[0];
    assert_eq!(level, Level::Caution);
    assert!(words.contains("only as incidental traces"), "{words}");
    assert_eq!(limits(&traces), []);
    // The pure line beside it is forbidden, the carrier is not.
    let both = held(&plain, face_cream(), vec![carrier, alpha(1.0)]);
    assert_eq!(told(&both, "T 1")[0].0, Level::Breach);
    assert_eq!(limits(&both), [limit(11, "0", "T 1")]);
    // What there usually is none of forbids no line.
    let perhaps = between("Alpha", "", Class::Other, (0.0, 0.0, 1.0));
    let law = held(&plain, face_cream(), vec![(perhaps, 1.0)]);
    assert_eq!(limits(&law), []);
    let natural = book(
        "Prohibited",
        &of_alpha(r#"prohibited: "all", natural: true"#),
    );
    let plant = held(&natural, face_cream(), vec![blend(1.0), alpha(0.0)]);
    assert_eq!(told(&plant, "T 1"), []);
    let line = held(&natural, face_cream(), vec![blend(1.0), alpha(0.1)]);
    assert_eq!(told(&line, "T 1")[0].0, Level::Breach);
}

#[test]
fn an_exception_lets_through_what_its_entry_knows_and_no_more() {
    let entries = r#"
        (no: "1", name: "Things", of: ["Alpha", "Beta"], prohibited: "all", except: ["T 2"]),
        (no: "2", name: "A thing", of: ["Beta"], tiers: [(max: 5.0)]),
    "#;
    let book = book("Restricted", entries);
    let law = |lines| held(&book, face_cream(), lines);
    assert_eq!(told(&law(vec![beta(1.0)]), "T 1"), []);
    for lines in [vec![blend(1.0)], vec![alpha(1.0), beta(1.0)]] {
        assert_eq!(
            told(&law(lines), "T 1"),
            [(Level::Breach, "Alpha is prohibited")]
        );
    }
}

/// A product used in two ways is held against the law in each.
#[test]
fn a_finding_tells_the_use_in_which_it_binds_unless_it_binds_in_all() {
    let law = |fields: &str, percent| {
        let book = book("Restricted", &of_alpha(fields));
        let both = Product {
            kinds: Kinds::Both,
            ..face_cream()
        };
        let law = held(&book, both, vec![alpha(percent)]);
        let all = told(&law, "T 1").into_iter();
        all.map(|t| t.1.to_owned()).collect::<Vec<_>>()
    };
    let apart = r#"tiers: [(scope: "rinse-off", max: 3.0), (scope: "leave-on", max: 1.0)]"#;
    let on = ProductKind::LeaveOn.label();
    for percent in [2.0, 4.0] {
        let said = law(apart, percent);
        let words = format!(
            "Alpha is {percent} %; the limit is 1 % in products: leave-on (it binds as the product is {on})"
        );
        assert_eq!(said, [words]);
    }
    let alike = r#"tiers: [(max: 1.0)], label: [(text: "Rinse", when: "rinse-off & [it foams]")]"#;
    assert_eq!(law(alike, 2.0), ["Alpha is 2 %; the limit is 1 %"]);
}

/// What is certain of a demand or an allergen stands first and is told for its market.
#[test]
fn demands_and_allergens_are_told_for_their_market() {
    use super::{allergens_to_label, required_wordings};
    let entries = r#"
        (no: "1", name: "A thing", of: ["Alpha"], open: true, label: [(text: "Perhaps", when: "[it foams]"), (text: "Surely")], allergen: (name: "Alpha")),
        (no: "2", name: "A thing", of: ["Beta"], open: true, label: [(text: "In the Union")], binds: [Eu], allergen: (name: "Beta", from: "2030-01-01")),
    "#;
    let book = book("Restricted", entries);
    let everywhere = sold(&Market::ALL, face_cream());
    let law = held(&book, everywhere, vec![alpha(1.0), beta(1.0)]);
    let said = |market| {
        let all = required_wordings(&law, market);
        all.map(|d| (&*d.text, d.certain)).collect::<Vec<_>>()
    };
    let (surely, perhaps) = (("Surely", Truth::Yes), ("Perhaps", Truth::Maybe));
    assert_eq!(
        said(Market::Eu),
        [surely, ("In the Union", Truth::Yes), perhaps]
    );
    assert_eq!(said(Market::Uk), [surely, perhaps]);
    assert_eq!(said(Market::Us), []);
    let in_britain = held(&book, sold(&[Market::Uk], face_cream()), vec![alpha(1.0)]);
    assert_eq!(required_wordings(&in_britain, Market::Eu).count(), 0);
    let named = |market| {
        let all = allergens_to_label(&law, market);
        all.map(|a| &*a.name).collect::<Vec<_>>()
    };
    assert_eq!(named(Market::Eu), ["Alpha"]);
    assert_eq!(named(Market::Uk), ["Alpha"]);
    assert_eq!(named(Market::Us), Vec::<&str>::new());
    let gamma_only = held(&book, face_cream(), vec![gamma(1.0), alpha(0.0)]);
    assert!(gamma_only.allergens.is_empty());
}
