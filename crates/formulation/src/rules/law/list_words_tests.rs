//! What the engine says on short lists made up for one rule each: wordings of the label,
//! allergens, prohibitions, other laws, conditions to be read, days and colorants.

use super::Law;
use super::list_tests::{
    added, alpha, beta, blend, book, held, held_as, keeper, limits, of_alpha, shampoo, told, wash,
};
use super::tests::{TODAY, between, face_cream, of, pure};
use crate::finding::{Finding, Level, Remedy, StatedField};
use crate::fixture;
use crate::formula::{BodySite, Date, ItemId, Market, Product};
use crate::material::{Basis, Class, Material, Role};
use crate::purpose::Purpose;
use crate::rules::RuleBook;
use crate::rules::scope::Truth;

/// Alpha, of which there typically is one share and may be another.
fn ranging(typical: f64, high: f64) -> (Material, f64) {
    let shares = (0.0, typical, high);
    (between("Alpha", "", Class::Other, shares), 100.0)
}

fn spray() -> Product {
    Product {
        spray: true,
        ..face_cream()
    }
}

fn on_day(day: &str) -> Product {
    Product {
        market_date: Some(day.parse().unwrap()),
        ..face_cream()
    }
}

/// The findings on a rule, as level and words of one's own.
fn said(law: &Law, rule: &str) -> Vec<(Level, String)> {
    let all = told(law, rule).into_iter();
    all.map(|(level, words)| (level, words.to_owned()))
        .collect()
}

/// How certain each wording is, and on what condition.
fn demanded(law: &Law) -> Vec<(Truth, &str)> {
    let all = law.demands.iter();
    all.map(|d| (d.certain, d.condition.as_str())).collect()
}

#[test]
fn a_wording_is_as_certain_as_what_asks_for_it() {
    let above = r#"label: [(text: "Contains alpha", above: 0.05)]"#;
    let plain = r#"label: [(text: "Contains alpha")]"#;
    let when = r#"label: [(text: "Contains alpha", when: "[children use it]")]"#;
    let roll = r#"tiers: [(scope: "[roll-on]")], label: [(text: "Contains alpha")]"#;
    let other =
        r#"tiers: [(scope: "other"), (scope: "[roll-on]")], label: [(text: "Contains alpha")]"#;
    let whole = r#"tiers: [(scope: "[roll-on]")], label: [(text: "Contains alpha", above: 0.05, when: "[children use it]")]"#;
    let (certain, open) = (Truth::Yes, Truth::Maybe);
    let amount = "if the amount is above 0.05 %";
    for (of_it, fields, line, expected) in [
        ("Alpha", plain, alpha(0.1), Some((certain, ""))),
        ("Alpha", plain, alpha(0.0), None),
        ("Alpha", above, alpha(0.05), None),
        ("Alpha", above, alpha(0.06), Some((certain, ""))),
        ("Alpha", above, ranging(0.04, 0.06), Some((open, amount))),
        (
            "Alpha",
            when,
            alpha(0.1),
            Some((open, "if children use it")),
        ),
        (
            "Alpha",
            roll,
            alpha(0.1),
            Some((open, "in products: roll-on")),
        ),
        (
            "Alpha",
            other,
            alpha(0.1),
            Some((open, "in the products the entry speaks of")),
        ),
        (
            "?Alpha",
            plain,
            alpha(0.1),
            Some((open, "if the entry covers it")),
        ),
        (
            "?Alpha",
            whole,
            ranging(0.04, 0.06),
            Some((
                open,
                "if the amount is above 0.05 %, in products: roll-on, if children use it, if the entry covers it",
            )),
        ),
    ] {
        let entry = format!(r#"(no: "1", name: "A thing", of: ["{of_it}"], {fields})"#);
        let law = held(&book("Restricted", &entry), face_cream(), vec![line]);
        assert_eq!(
            demanded(&law).first().copied(),
            expected,
            "{of_it} {fields}"
        );
        // What is certain is told as a note for the label.
        let notes = law.findings.iter();
        let notes = notes.filter(|f| f.message.contains("“Contains alpha”"));
        let sure = expected.is_some_and(|(truth, _)| truth == Truth::Yes);
        assert_eq!(notes.count(), usize::from(sure), "{of_it} {fields}");
    }
}

/// What a structure can release at most is not what it releases.
#[test]
fn a_sum_of_what_may_be_released_makes_no_wording_certain() {
    let fields = r#"joint: true, label: [(text: "Contains alpha", above: 0.05)]"#;
    let book = book("Restricted", &of_alpha(fields));
    let law = |line| held(&book, face_cream(), vec![line]);
    let open = (Truth::Maybe, "if the amount is above 0.05 %");
    let much = law(alpha(0.06));
    assert_eq!(demanded(&much), [open]);
    let (level, words) = told(&much, "T 1")[0];
    assert_eq!(level, Level::Caution);
    assert!(
        words.starts_with("Alpha can release up to 0.06 % "),
        "{words}"
    );
    let little = law(alpha(0.05));
    assert_eq!((demanded(&little), told(&little, "T 1")), (vec![], vec![]));
    let perhaps = law(ranging(0.04, 0.06));
    assert_eq!(demanded(&perhaps), [open]);
    assert_eq!(told(&perhaps, "T 1"), []);
}

#[test]
fn a_limit_that_may_bind_asks_for_its_wording_perhaps() {
    let fields = r#"purpose: Preservative, tiers: [(scope: "shampoo", max: 1.0, label: [(text: "Rinse well")])]"#;
    let book = book("Preservatives", &of_alpha(fields));
    let demands = |product, line| {
        let law = held(&book, product, vec![line]);
        let all = demanded(&law).into_iter();
        all.map(|(certain, condition)| (certain, condition.to_owned()))
            .collect::<Vec<_>>()
    };
    let perhaps = (Truth::Maybe, "in products: shampoo".to_owned());
    assert_eq!(demands(wash(), keeper(0.5)), [perhaps]);
    assert_eq!(
        demands(shampoo(), keeper(0.5)),
        [(Truth::Yes, String::new())]
    );
    for (product, line) in [
        (wash(), keeper(0.0)),
        (wash(), alpha(0.5)),
        (shampoo(), alpha(0.5)),
    ] {
        assert_eq!(demands(product, line), []);
    }
}

/// Three allergens, two of them under one name, one with a day.
fn allergens(markets: &str) -> RuleBook {
    let entries = r#"
        (no: "1", name: "Alpha", of: ["Alpha"], open: true, allergen: (name: "Group")),
        (no: "2", name: "Beta", of: ["Beta"], open: true, allergen: (name: "Group")),
        (no: "3", name: "Gamma", of: ["Gamma"], open: true, allergen: (name: "Gamma", from: "2027-01-01")),
    "#;
    added(&RuleBook::default(), "T", "Restricted", markets, entries)
}

fn gamma(percent: f64) -> (Material, f64) {
    (pure("Gamma", "", Class::Fragrance), percent)
}

#[test]
fn allergens_of_one_name_are_one_with_the_lines_of_all() {
    let book = allergens("Eu, Uk");
    let lines = || vec![beta(0.4), alpha(0.2), gamma(0.1)];
    let law = held(&book, on_day("2026-12-31"), lines());
    let all: Vec<_> = (law.allergens.iter())
        .map(|a| {
            let lines: Vec<u64> = a.lines.iter().map(|l| l.0).collect();
            let parts: Vec<&str> = a
                .constituents
                .iter()
                .map(crate::inci::Inci::spelling)
                .collect();
            (&*a.name, parts, lines, a.must)
        })
        .collect();
    assert_eq!(
        all,
        [
            ("Group", vec!["Alpha", "Beta"], vec![10, 11], Truth::Yes),
            ("Gamma", vec!["Gamma"], vec![12], Truth::No)
        ]
    );
    assert_eq!(
        said(&law, "T allergens"),
        [(
            Level::Note,
            "To be named in the ingredient list: Group 0.6 %; for products placed on the market from 2027-01-01 also Gamma 0.1 %".to_owned()
        )]
    );
    let lines_told = &of(&law, "T allergens")[0].lines;
    assert_eq!(lines_told, &[ItemId(10), ItemId(11), ItemId(12)]);
    let law = held(&book, on_day("2027-01-01"), lines());
    assert_eq!(
        told(&law, "T allergens")[0].1,
        "To be named in the ingredient list: Group 0.6 %, Gamma 0.1 %"
    );
    // The lines of what is named alone.
    let law = held(&book, face_cream(), vec![pair(0.1), beta(0.4)]);
    assert_eq!(of(&law, "T allergens")[0].lines, [ItemId(11)]);
}

/// A material that no entry knows.
fn pair(percent: f64) -> (Material, f64) {
    (pure("Omega", "", Class::Other), percent)
}

/// Annex III: above 0.001 % where it stays on, above 0.01 % where it is washed off.
#[test]
fn an_allergen_is_named_above_its_threshold_from_its_day_on() {
    let book = allergens("Eu, Uk");
    let named = |product: Product, line: (Material, f64)| {
        let law = held(&book, product, vec![line]);
        said(&law, "T allergens").pop().map(|found| found.1)
    };
    let before = || on_day("2026-12-31");
    let since = || on_day("2027-01-01");
    for percent in [0.0005, 0.001] {
        assert_eq!(named(before(), gamma(percent)), None, "{percent}");
        assert_eq!(named(since(), gamma(percent)), None, "{percent}");
    }
    assert_eq!(
        named(before(), gamma(0.0011)).unwrap(),
        "for products placed on the market from 2027-01-01 also Gamma 0.0011 %"
    );
    assert_eq!(
        named(since(), gamma(0.0011)).unwrap(),
        "To be named in the ingredient list: Gamma 0.0011 %"
    );
    let perhaps = between("Gamma", "", Class::Fragrance, (0.0, 0.0005, 0.002));
    assert_eq!(
        named(since(), (perhaps, 100.0)).unwrap(),
        "at the upper end of the stated shares also Gamma 0.0005 %"
    );
    assert_eq!(named(shampoo(), alpha(0.01)), None);
    assert_eq!(
        named(shampoo(), alpha(0.011)).unwrap(),
        "To be named in the ingredient list: Group 0.011 %"
    );
}

#[test]
fn scents_of_which_nobody_told_the_allergens_are_asked_about() {
    let book = allergens("Eu, Uk, Us");
    let asked = |constituents: &[(&str, f64, Class)], role, percent, markets: &[Market]| {
        let mut m = fixture::material("Scent", constituents).as_ref().clone();
        m.roles.push(role);
        let product = Product {
            markets: markets.to_vec(),
            ..face_cream()
        };
        let law = held(&book, product, vec![alpha(0.0), (m, percent)]);
        let is_it = |f: &Finding| f.message.contains("are not known here");
        let found = law.findings.iter().find(|f| is_it(f));
        found.map(|f| (f.lines.clone(), f.remedy.clone()))
    };
    let scent = Class::Fragrance;
    let line = ItemId(11);
    let open = Some((
        vec![line],
        Some(Remedy::OpenField(StatedField::Material(line))),
    ));
    let eu = [Market::Eu];
    let perfume = [("Parfum", 100.0, scent)];
    assert_eq!(asked(&[], Role::Fragrance, 1.0, &eu), open);
    for inci in ["Parfum", "Aroma", "Lavandula Angustifolia Oil"] {
        for role in [Role::Fragrance, Role::EssentialOil] {
            assert_eq!(asked(&[(inci, 100.0, scent)], role, 1.0, &eu), open);
        }
    }
    assert_eq!(asked(&perfume, Role::Fragrance, 1.0, &[Market::Uk]), open);
    // A single substance, a told composition, another role, nothing of it, another market.
    let linalool = [("Linalool", 100.0, scent)];
    assert_eq!(asked(&linalool, Role::Fragrance, 1.0, &eu), None);
    let told = [("Parfum", 90.0, scent), ("Linalool", 10.0, scent)];
    assert_eq!(asked(&told, Role::Fragrance, 1.0, &eu), None);
    assert_eq!(asked(&perfume, Role::Humectant, 1.0, &eu), None);
    assert_eq!(asked(&perfume, Role::Fragrance, 0.0, &eu), None);
    assert_eq!(asked(&perfume, Role::Fragrance, 1.0, &[Market::Us]), None);
}

#[test]
fn what_is_open_of_a_prohibition_is_told_and_asked() {
    let law = |list: &str, of_it: &str, fields: &str, product: Product| {
        let entry = format!(r#"(no: "1", name: "Things", of: ["{of_it}"], {fields})"#);
        held(&book(list, &entry), product, vec![alpha(1.0)])
    };
    let all = r#"prohibited: "all""#;
    let read = r#"prohibited: "all", read: ["Read this."], level"#;
    let (note, caution, breach) = (Level::Note, Level::Caution, Level::Breach);
    let question = "no field tells this: roll-on";
    for (list, of_it, fields, level, words, limited) in [
        (
            "Prohibited",
            "Alpha",
            all,
            breach,
            "Alpha is prohibited",
            true,
        ),
        (
            "Prohibited",
            "Alpha",
            r#"prohibited: "leave-on""#,
            breach,
            "Alpha is prohibited in products: leave-on",
            true,
        ),
        (
            "Prohibited",
            "?Alpha",
            all,
            caution,
            "Alpha is filed under the prohibited “Things” by the Commission's database, its CAS number is not in the entry; read it",
            false,
        ),
        (
            "Prohibited",
            "Alpha",
            r#"prohibited: "[roll-on]""#,
            caution,
            &format!("Alpha is prohibited in products: roll-on; {question}"),
            false,
        ),
        (
            "Prohibited",
            "Alpha",
            r#"prohibited: "all", purpose: Fragrance"#,
            caution,
            "Alpha is prohibited as a fragrance ingredient; state what it is here for",
            false,
        ),
        (
            "Prohibited",
            "Alpha",
            &format!("{read}: Note"),
            note,
            "Alpha: the supplier has to state that the condition of “Things” is met. Read this.",
            false,
        ),
        (
            "Prohibited",
            "Alpha",
            &format!("{read}: Caution"),
            caution,
            "Alpha is prohibited under conditions to be read: Things. Read this.",
            false,
        ),
        // A review is no law, whatever level it has.
        (
            "Conclusions",
            "Alpha",
            all,
            caution,
            "Alpha is prohibited",
            false,
        ),
    ] {
        let law = law(list, of_it, fields, face_cream());
        assert_eq!(said(&law, "T 1"), [(level, words.to_owned())]);
        assert_eq!(!limits(&law).is_empty(), limited, "{fields}");
    }
    let remedy = |fields: &str, product| {
        let law = law("Prohibited", "Alpha", fields, product);
        of(&law, "T 1")[0].remedy.clone()
    };
    let open = |field| Some(Remedy::OpenField(field));
    let scent = r#"prohibited: "all", purpose: Fragrance"#;
    let purpose = StatedField::Purpose(ItemId(10));
    assert_eq!(remedy(scent, face_cream()), open(purpose));
    let typed = r#"prohibited: "shampoo""#;
    assert_eq!(remedy(typed, wash()), open(StatedField::ProductType));
    assert_eq!(remedy(r#"prohibited: "[roll-on]""#, wash()), None);
    assert_eq!(remedy(all, face_cream()), None);
}

#[test]
fn where_another_law_begins_is_told_as_surely_as_it_is_known() {
    let law = |list: &str, of_it: &str, tiers: &str, line| {
        let entry = format!(
            r#"(no: "1", name: "A thing", of: ["{of_it}"], tiers: [{tiers}], read: ["It is a drug"])"#
        );
        let law = held(&book(list, &entry), face_cream(), vec![line]);
        (said(&law, "T 1").pop(), law.demands.len())
    };
    let mark = "(max: 1.0)";
    let words = "Alpha: It is a drug".to_owned();
    let maybe = "Alpha, if it is here for that: It is a drug".to_owned();
    let (note, caution) = (Level::Note, Level::Caution);
    assert_eq!(
        law("Borders", "Alpha", mark, alpha(2.0)),
        (Some((caution, words.clone())), 1)
    );
    assert_eq!(
        law("Advice", "Alpha", mark, alpha(2.0)),
        (Some((caution, words.clone())), 0)
    );
    assert_eq!(
        law("Borders", "Alpha", mark, ranging(0.5, 2.0)),
        (Some((note, words.clone())), 0)
    );
    assert_eq!(
        law("Borders", "?Alpha", "", alpha(2.0)),
        (Some((note, maybe)), 0)
    );
    assert_eq!(
        law("Borders", "Alpha", "", alpha(0.1)),
        (Some((caution, words)), 1)
    );
    assert_eq!(law("Borders", "Alpha", mark, alpha(1.0)), (None, 0));
    assert_eq!(law("Borders", "Alpha", "", alpha(0.0)), (None, 0));
}

#[test]
fn a_rule_about_the_product_speaks_where_it_is_such_a_product() {
    let law = |list: &str, scope: &str, product: Product| {
        let entry = format!(
            r#"(no: "1", name: "A rule", product: true, tiers: [(scope: "{scope}", label: [(text: "Keep away from flames")]), (scope: "spray", from: "2030-01-01", label: [(text: "Later")])], read: ["It is under pressure."])"#
        );
        let law = held(&book(list, &entry), product, vec![alpha(1.0)]);
        let demands = law.demands.iter().map(|d| (d.certain, d.border));
        (said(&law, "T 1"), demands.collect::<Vec<_>>())
    };
    let words = |level, words: &str| vec![(level, words.to_owned())];
    let plain = "It is under pressure.";
    let note = "The label has to say (EU): “Keep away from flames”";
    let (found, demands) = law("Restricted", "spray", spray());
    assert_eq!(found[..1], words(Level::Note, plain));
    assert_eq!(found[1..], words(Level::Note, note));
    assert_eq!(demands, [(Truth::Yes, false)]);
    assert_eq!(
        law("Restricted", "leave-on & [with gas]", face_cream()),
        (
            words(
                Level::Note,
                "It is under pressure. Whether this is such a product the formula does not tell."
            ),
            vec![(Truth::Maybe, false)]
        )
    );
    assert_eq!(
        law("Restricted", "rinse-off", face_cream()),
        (vec![], vec![])
    );
    // Where another law begins, that is what is demanded, and it is no wording of the label.
    let (found, demands) = law("Borders", "leave-on", face_cream());
    assert_eq!(found, words(Level::Caution, plain));
    assert_eq!(demands, [(Truth::Yes, true)]);
    assert_eq!(law("Borders", "rinse-off", face_cream()), (vec![], vec![]));
}

#[test]
fn a_rule_about_the_product_is_silent_where_something_serves_its_purpose() {
    let with = |class, role: Option<Role>| {
        let mut m = pure("Alpha", "", class);
        m.roles.extend(role);
        m
    };
    let speaks = |unless: &str, m: Material, percent, purpose: Option<Purpose>| {
        let entry = format!(
            r#"(no: "1", name: "A rule", product: true, unless: {unless}, read: ["Something is missing."])"#
        );
        let book = book("Restricted", &entry);
        let lines = vec![(m, percent)];
        let law = match purpose {
            Some(purpose) => held_as(&book, face_cream(), lines, purpose),
            None => held(&book, face_cream(), lines),
        };
        !told(&law, "T 1").is_empty()
    };
    let filter = || with(Class::Other, Some(Role::UvFilter));
    for (unless, serving) in [
        ("UvFilter", filter()),
        ("Preservative", with(Class::Preservative, None)),
        ("Fragrance", with(Class::Fragrance, None)),
        ("Colour", with(Class::Colour, None)),
    ] {
        assert!(!speaks(unless, serving.clone(), 1.0, None), "{unless}");
        assert!(speaks(unless, serving, 0.0, None), "{unless}");
        let humectant = with(Class::Humectant, None);
        assert!(speaks(unless, humectant, 1.0, None), "{unless}");
    }
    let stated = Some(Purpose::UvFilter);
    assert!(!speaks("UvFilter", with(Class::Other, None), 1.0, stated));
}

#[test]
fn one_condition_of_several_entries_is_told_once() {
    let entry = |no: &str, of_it: &str, fields: &str| {
        format!(r#"(no: "{no}", name: "A thing", of: ["{of_it}"], {fields}),"#)
    };
    let notes = |entries: &[String], market, lines| {
        let product = Product {
            markets: vec![market],
            ..face_cream()
        };
        let law = held(&book("Restricted", &entries.concat()), product, lines);
        let of_t = |f: &&Finding| f.rule.starts_with("T ");
        let all = law.findings.iter().filter(of_t);
        all.map(|f| {
            let lines = f.lines.iter().map(|l| l.0).collect::<Vec<_>>();
            (f.rule.to_string(), f.message.clone(), lines)
        })
        .collect::<Vec<_>>()
    };
    let mind = r#"read: ["Mind this"]"#;
    let note = |rule: &str, words: &str, lines: &[u64]| {
        (rule.to_owned(), words.to_owned(), lines.to_vec())
    };
    let two = [entry("1", "Alpha", mind), entry("2", "Beta", mind)];
    assert_eq!(
        notes(&two, Market::Eu, vec![blend(1.0), beta(1.0), alpha(0.0)]),
        [note("T 1", "Alpha, Beta: Mind this (also T 2)", &[10, 11])]
    );
    let (first, second) = (note("T 1", "Alpha: Mind this", &[10]), |words: &str| {
        note("T 2", words, &[11])
    });
    let lines = || vec![alpha(1.0), beta(1.0)];
    let words = [two[0].clone(), entry("2", "Beta", r#"read: ["Mind that"]"#)];
    assert_eq!(
        notes(&words, Market::Eu, lines()),
        [first.clone(), second("Beta: Mind that")]
    );
    let cited = format!(r#"{mind}, cite: "elsewhere""#);
    let cited = [two[0].clone(), entry("2", "Beta", &cited)];
    assert_eq!(
        notes(&cited, Market::Eu, lines()),
        [first.clone(), second("Beta: Mind this")]
    );
    let unseen = [entry("1", "Alpha", &format!("{mind}, seen: false"))];
    assert_eq!(
        notes(&unseen, Market::Eu, vec![alpha(1.0)])[0].1,
        "Alpha: Mind this (this row is from general knowledge, it was not seen in the official text)"
    );
    let union = [entry(
        "1",
        "Alpha",
        &format!(r#"{mind}, prohibited: "spray", binds: [Eu]"#),
    )];
    assert_eq!(notes(&union, Market::Eu, vec![alpha(1.0)]), [first]);
    assert_eq!(
        notes(&union, Market::Uk, vec![alpha(1.0)])[0].1,
        "Alpha: Mind this (this binds in the European Union; no instrument of Great Britain that adopts it was found)"
    );
}

/// What is cited is the document of the entry, else that of its list.
#[test]
fn a_finding_cites_what_it_is_from() {
    let source = |list: &str, fields: &str| {
        let fields = format!("tiers: [(max: 1.0)], {fields}");
        let law = held(
            &book(list, &of_alpha(&fields)),
            face_cream(),
            vec![alpha(2.0)],
        );
        let source = of(&law, "T 1")[0].source.clone();
        (source.basis, source.text.to_string())
    };
    let of_text = |basis, text: &str| (basis, text.to_owned());
    let law = Basis::Published;
    assert_eq!(source("Restricted", ""), of_text(law, "nowhere"));
    let cited = source("Restricted", r#"cite: "elsewhere""#);
    assert_eq!(cited, of_text(law, "elsewhere"));
    for list in ["Own", "Advice"] {
        let habit = Basis::Practice;
        assert_eq!(source(list, r#"read: ["Mind"]"#), of_text(habit, "nowhere"));
    }
}

#[test]
fn a_product_older_than_the_text_of_a_list_is_told() {
    let list = |list: &str| {
        let text = format!(
            r#"(version: 1, set: "T", title: "Made up", list: {list}, markets: [Eu], as_of: "2026-05-18", source: "nowhere", entries: [])"#
        );
        RuleBook::default()
            .with_list(&text, "made-up.rules.ron")
            .unwrap()
    };
    let book = list("Restricted");
    let dated = |day: Option<Date>| {
        let product = Product {
            market_date: day,
            ..face_cream()
        };
        let law = held(&book, product, vec![alpha(1.0)]);
        said(&law, "T").pop().map(|found| found.1)
    };
    let day = |text: &str| Some(text.parse::<Date>().unwrap());
    assert_eq!(
        dated(day("2026-05-17")).unwrap(),
        "The lists follow the texts of 2026-05-18; for a product placed on the market on 2026-05-17 the text of that day must be read"
    );
    assert_eq!(dated(day("2026-05-18")), None);
    assert!(TODAY > day("2026-05-18").unwrap());
    assert_eq!(dated(None), None);
    // A list of one's own is a habit, no text.
    let basis = |book: &RuleBook| {
        let law = held(book, on_day("2026-01-01"), vec![alpha(1.0)]);
        of(&law, "T")[0].source.basis
    };
    assert_eq!(basis(&book), Basis::Published);
    assert_eq!(basis(&list("Own")), Basis::Practice);
}

#[test]
fn a_colorant_is_allowed_by_the_entry_that_allows_it_most() {
    let law = |entries: &str, line| held(&book("Colorants", entries), face_cream(), vec![line]);
    let colour = |percent| (pure("Alpha", "", Class::Colour), percent);
    let entry = |no: &str, fields: &str| {
        format!(r#"(no: "{no}", name: "A colour", of: ["Alpha"], {fields}),"#)
    };
    let hair = entry("1", r#"tiers: [(scope: "hair")]"#);
    let nails = entry("2", r#"tiers: [(scope: "nails")]"#);
    let face = entry(
        "2",
        r#"tiers: [(scope: "face", max: 1.0), (scope: "hair", max: 0.1)]"#,
    );
    let perhaps = entry("2", r#"tiers: [(scope: "[in bars]")]"#);
    for entries in [[&hair, &face], [&face, &hair]] {
        let entries = [entries[0].as_str(), entries[1]].concat();
        let within = law(&entries, colour(0.5));
        assert_eq!(
            (said(&within, "T 1"), said(&within, "T 2")),
            (vec![], vec![])
        );
        let over = law(&entries, colour(2.0));
        assert_eq!(
            said(&over, "T 2"),
            [(
                Level::Breach,
                "Alpha is 2 %; the limit is 1 % in products: for the face".to_owned()
            )]
        );
    }
    // Of two that do not, the first is told; one that may is told before one that does not.
    let neither = law(&format!("{hair}{nails}"), colour(0.5));
    let words = "Alpha is allowed as a colorant only in products: for hair or scalp";
    assert_eq!(said(&neither, "T 1"), [(Level::Breach, words.to_owned())]);
    assert_eq!(said(&neither, "T 2"), []);
    let open = law(&format!("{hair}{perhaps}"), colour(0.5));
    let words = "Alpha is allowed as a colorant in products: in bars; the formula does not tell whether this is one";
    assert_eq!(said(&open, "T 2"), [(Level::Caution, words.to_owned())]);
    let never = law(&entry("1", r#"tiers: [()], never: ["face"]"#), colour(0.5));
    let words = "Alpha is allowed as a colorant only in products: not for the face";
    assert_eq!(said(&never, "T 1"), [(Level::Breach, words.to_owned())]);
    // What does not colour is not held against the list, nor what is not there.
    assert_eq!(said(&law(&hair, alpha(0.5)), "T 1"), []);
    assert_eq!(said(&law(&nails, colour(0.0)), "T 2"), []);
}

/// A colour must be on the list of each market it is sold in.
#[test]
fn a_colorant_that_a_list_does_not_know_is_told_for_that_list() {
    let colour = |inci: &str| (pure(inci, "", Class::Colour), 0.1);
    let alpha_in = |markets: &str, of_it: &str| {
        let entry = format!(r#"(no: "1", name: "A colour", of: ["{of_it}"], tiers: [()])"#);
        let book = added(&RuleBook::default(), "E", "Colorants", "Eu, Uk", &entry);
        added(
            &book,
            "U",
            "Colorants",
            markets,
            r#"(no: "1", name: "Another", of: ["Beta"], tiers: [()])"#,
        )
    };
    let book = alpha_in("Us", "Alpha");
    let unlisted = |line, markets: &[Market], place| {
        let product = Product {
            markets: markets.to_vec(),
            places: vec![place],
            ..face_cream()
        };
        let law = held(&book, product, vec![line]);
        let of_list = |list: &str| of(&law, list).iter().map(|f| f.level).max();
        (of_list("E"), of_list("U"))
    };
    let face = BodySite::Face;
    let both = [Market::Eu, Market::Us];
    let caution = Some(Level::Caution);
    assert_eq!(unlisted(colour("Alpha"), &both, face), (None, caution));
    assert_eq!(unlisted(colour("Beta"), &both, face), (caution, None));
    assert_eq!(unlisted(colour("Alpha"), &[Market::Eu], face), (None, None));
    // A colour index name is one of a colour, whatever else is known.
    let breach = Some(Level::Breach);
    assert_eq!(unlisted(colour("CI 99999"), &both, face), (breach, breach));
    assert_eq!(unlisted(alpha(0.1), &both, face), (None, None));
    let none = (pure("Beta", "", Class::Colour), 0.0);
    assert_eq!(unlisted(none, &both, face), (None, None));
}
