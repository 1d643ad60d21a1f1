//! Tests of the rule book's data.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use super::book::RuleBook;

fn numbers(book: &RuleBook, set: &str) -> BTreeSet<String> {
    book.entries()
        .iter()
        .filter(|e| !e.joint && book.set_of(e).is_some_and(|s| &*s.name == set))
        .map(|e| e.number.to_string())
        .collect()
}

fn rows(book: &RuleBook, set: &str) -> usize {
    book.entries()
        .iter()
        .filter(|e| !e.joint && book.set_of(e).is_some_and(|s| &*s.name == set))
        .count()
}

#[test]
fn every_list_holds_as_many_entries_as_its_source() {
    let book = RuleBook::built_in().unwrap();
    // Annex II: the CosIng export of January 2024 has 1716 rows and lacks entry 68 (cadmium),
    // which the export of the European Chemicals Agency has; the consolidated text of
    // 18 May 2026 deletes 1398 and 1399 and adds 1725 to 1767. Neither export has the other
    // numbers left out, which were moved or deleted before.
    assert_eq!(rows(&book, "EU II"), 1716 + 1 - 2 + 43);
    let two = numbers(&book, "EU II");
    let absent: Vec<u32> = (1..=1767)
        .filter(|n| !two.contains(&n.to_string()))
        .collect();
    let moved = [382, 451, 698, 701, 704, 743, 1033, 1063, 1398, 1399, 1427];
    assert_eq!(absent, moved);
    // Annex III: 1 to 371 in the exports, 372 to 386 added by the text of 2026; 311 is deleted.
    let three = numbers(&book, "EU III");
    for n in 327..=386 {
        assert!(three.contains(&n.to_string()), "III/{n}");
    }
    // The CosIng export has 367 rows of 358 numbers; the export of the European Chemicals
    // Agency has three more numbers, 15d, 233 and 268, and with 15 new ones that makes 376.
    assert_eq!(three.len(), 376);
    // Annex IV: 154 rows.
    assert_eq!(rows(&book, "EU IV"), 154);
    // Annex V: 62 numbers, of which 55 are in force, with 40 and 41 printed as one.
    let five = numbers(&book, "EU V");
    let in_force: BTreeSet<_> = book
        .entries()
        .iter()
        .filter(|e| e.rule.starts_with("EU V/") && !e.joint && !e.deleted)
        .map(|e| &e.number)
        .collect();
    assert_eq!((five.len(), in_force.len()), (63, 55));
    // Annex VI: 35 rows, of which 5 and 18 are deleted.
    assert_eq!(rows(&book, "EU VI"), 35);
    // 21 CFR 700 subpart B: 11 sections; colour additives: 64 rows, 16 seen in the agency's table.
    assert_eq!(rows(&book, "US"), 11);
    assert_eq!(rows(&book, "US colour"), 64);
    let seen = book
        .entries()
        .iter()
        .filter(|e| e.seen && book.set_of(e).is_some_and(|s| &*s.name == "US colour"))
        .count();
    assert_eq!(
        seen,
        16 + 1 + 26,
        "27 were seen in sections of 21 CFR 73, 74 and 82"
    );
    // REACH, Annex XVII: entries 46, 70 (three substances) and 78. 21 CFR 352.10 lists 16 active
    // ingredients; the order of June 2026 adds one. 21 CFR 740 subpart B has 6 sections, of
    // which 740.18 binds hair dyes only and is covered by section 601(a).
    assert_eq!(rows(&book, "REACH XVII"), 5);
    assert_eq!(rows(&book, "US 352.10"), 16 + 1);
    let warnings = numbers(&book, "US 21 CFR");
    let sections = warnings.iter().filter(|n| n.starts_with("740."));
    assert_eq!(sections.count(), 6 - 1);
    // SI 2025/413 has 18 limits in its schedule; those of children under one year stand here
    // as one for under-threes, which leaves 15.
    let gb = book.entries_of("GB III/324").next().unwrap();
    assert_eq!(gb.tiers.len(), 15);
    // Review conclusions: 12 of the 19 collected were seen in a source.
    assert_eq!(rows(&book, "CIR"), 12);
    // The trade association's twelve categories with their divisions.
    assert_eq!(book.categories().len(), 18);
    // 81 allergen entries: 82 rows of the source, one of which stands twice.
    let allergens: BTreeSet<_> = book
        .entries()
        .iter()
        .filter(|e| e.allergen.is_some())
        .map(|e| &e.number)
        .collect();
    assert_eq!(allergens.len(), 81);
}

#[test]
fn entries_that_nothing_can_match_are_few_and_known() {
    let book = RuleBook::built_in().unwrap();
    let unmatched: Vec<&str> = book
        .entries()
        .iter()
        .filter(|e| e.members.is_empty() && !e.deleted && !e.product)
        .map(|e| &*e.rule)
        .collect();
    // Groups in words alone, such as “antibiotics” in Annex II or the N-substituted
    // phenylenediamines in Annex III: SOURCES.md names the number.
    let of = |prefix: &str| unmatched.iter().filter(|r| r.starts_with(prefix)).count();
    assert_eq!(
        (of("EU II/"), of("EU III/"), unmatched.len()),
        (21, 3, 24),
        "{unmatched:?}"
    );
}

const HEAD: &str = r#"version: 1, set: "Own", title: "", list: Own, source: "", "#;

fn refused(text: &str, word: &str) {
    let book = RuleBook::built_in().unwrap();
    match book.with_list(text, "own.rules.ron") {
        Ok(_) => panic!("accepted: {}", &text[..text.len().min(200)]),
        Err(error) => {
            let shown = error.to_string();
            assert!(shown.contains(word), "“{shown}” does not say “{word}”");
            assert!(shown.contains("own.rules.ron"), "{shown}");
        }
    }
}

#[test]
fn hostile_files_are_refused_with_a_reason() {
    refused("", "own.rules.ron");
    refused("not rules at all", "own.rules.ron");
    refused(&" ".repeat(5 << 20), "larger than 4 megabytes");
    refused(&"(".repeat(100_000), "own.rules.ron");
    refused(
        &format!(r#"({HEAD} groups: {{"a": ["@b"], "b": ["@c"], "c": ["@a"]}}, entries: [])"#),
        "contains itself",
    );
    refused(
        &format!(r#"({HEAD} entries: [(no: "1", name: "x", of: ["@nowhere"])])"#),
        "no group “nowhere”",
    );
    refused(
        &format!(
            r#"({HEAD} entries: [(no: "1", name: "x", of: ["Isobutyl Benzoate=1205-50-3"])])"#
        ),
        "check digit",
    );
    refused(
        &format!(r#"({HEAD} entries: [(no: "1", name: "x", of: ["Water=7732185"])])"#),
        "form of a CAS number",
    );
    refused(
        &format!(r#"({HEAD} entries: [(no: "1", name: "x", of: ["Water"], tiers: [(max: 101)])])"#),
        "percentage from 0 to 100",
    );
    refused(
        &format!(r#"({HEAD} entries: [(no: "1", name: "x", of: ["Water"], tiers: [(max: nan)])])"#),
        "own.rules.ron",
    );
    refused(
        &format!(
            r#"({HEAD} entries: [(no: "1", name: "x", of: ["Water"], tiers: [(scope: "shampo")])])"#
        ),
        "shampo",
    );
    refused(
        &format!(
            r#"({HEAD} entries: [(no: "1", name: "x", of: ["Water"], tiers: [(expressed: "gold")])])"#
        ),
        "gold",
    );
    refused(
        &format!(
            r#"({HEAD} entries: [(no: "1", name: "x", of: ["Water"], tiers: [(from: "2027-01-01", until: "2026-01-01")])])"#
        ),
        "ends before it begins",
    );
    refused(
        &format!(r#"({HEAD} entries: [(no: "1", name: "x", colour: "red")])"#),
        "no field `colour`",
    );
    refused(&format!("({HEAD} entries: []"), "own.rules.ron");
    refused(
        r#"(version: 9, set: "Own", title: "", list: Own, source: "", entries: [])"#,
        "version 9",
    );
    refused(
        r#"(version: 1, set: "EU V", title: "", list: Own, source: "", entries: [])"#,
        "in use already",
    );
    // Groups that double at every step would make a thousand million substances.
    let mut groups = r#""g0": ["Water", "Glycerin"]"#.to_owned();
    for i in 1..30 {
        let _ = write!(groups, r#", "g{i}": ["@g{0}", "@g{0}"]"#, i - 1);
    }
    refused(
        &format!("({HEAD} groups: {{{groups}}}, entries: [])"),
        "more than 5000 substances",
    );
    let many = r#"(no: "1", name: "x"),"#.repeat(20_001);
    refused(
        &format!("({HEAD} entries: [{many}])"),
        "more than the 20000",
    );
}

#[test]
fn a_list_of_ones_own_is_added() {
    let book = RuleBook::built_in().unwrap();
    let text = format!(
        r#"({HEAD} groups: {{"donors": ["DMDM Hydantoin=6440-58-0"]}}, entries: [
            (no: "1", name: "Donors", of: ["@donors"], prohibited: Some("all")),
        ])"#
    );
    let more = book.with_list(&text, "own.rules.ron").unwrap();
    assert_eq!(more.entries().len(), book.entries().len() + 1);
    assert_eq!(more.entries_of("Own 1").count(), 1);
}

/// Members of the groups of Annex II stand under their entry and none of them is an ingredient
/// of the shelf.
#[test]
fn members_of_groups_in_words_are_found_and_free_ingredients_are_not() {
    let book = RuleBook::built_in().unwrap();
    let check = |name: &str, rule: &str, sure: bool| {
        let mut found = Vec::new();
        book.matches(None, &name.into(), |e, m| {
            let entry = &book.entries()[e as usize];
            let member = &entry.members[usize::from(m)];
            if &*entry.rule == rule {
                found.push(member.sure);
                assert!(member.ground.is_some(), "{name} has no ground");
            }
        });
        assert_eq!(found, [sure], "{name} under {rule}");
    };
    check("Hydrocortisone", "EU II/300", true);
    check("Erythromycin", "EU II/39", true);
    check("Oestrone", "EU II/260", true);
    check("Progesterone", "EU II/194", true);
    check("Phenobarbital", "EU II/220", true);
    check("Atropa Belladonna Leaf Extract", "EU II/44", true);
    check("Strychnos Nux-Vomica Seed Extract", "EU II/305", true);
    check("Cannabidiol - Synthetically Produced", "EU II/306", false);
    check("Lidocaine HCl", "EU II/399", true);
    check("Pilocarpine Nitrate", "EU II/283", true);
    check("Sodium Trichloroacetate", "EU II/10", false);
    let grounded = |e: &super::entry::ListEntry| e.members.iter().any(|m| m.ground.is_some());
    for entry in book.entries().iter().filter(|e| grounded(e)) {
        for constituent in crate::shelf::built_in()
            .iter()
            .flat_map(|m| &m.constituents)
        {
            let is_it = |m: &super::entry::Member| {
                m.ground.is_some()
                    && (m.named(&constituent.inci).is_some()
                        || constituent.cas.is_some_and(|cas| m.cas.contains(&cas)))
            };
            let found = entry.members.iter().find(|m| is_it(m));
            assert!(found.is_none(), "{}: {}", entry.rule, constituent.inci);
        }
    }
    // Of the names of the public inventory the salts found are those of what the entries name.
    let mut salts = BTreeSet::new();
    for listed in crate::inventory::inventory().entries() {
        let name = listed.label_name();
        book.matches(None, &name.as_str().into(), |e, m| {
            let entry = &book.entries()[e as usize];
            if entry.members[usize::from(m)].salts {
                salts.insert(format!("{} {}", entry.rule, name.to_lowercase()));
            }
        });
    }
    let known = [
        "EU II/10 ammonium trichloroacetate",
        "EU II/10 sodium trichloroacetate",
        "EU II/62 brucine sulfate",
        "EU II/1505 hydroxylamine hcl",
        "EU II/1505 hydroxylamine sulfate",
        "EU II/1645 cobalt chloride",
        "EU II/1645 cobalt gluconate",
        "EU II/1720 pentasodium pentetate",
        "EU II/1024 zinc ethylhexanoate",
        "EU II/1384 2-chloro-p-phenylenediamine sulfate",
        "EU II/339 diphenhydramine hcl",
        "EU II/418 sodium urocanate",
    ];
    assert_eq!(salts, known.map(str::to_owned).into(), "{salts:#?}");
}
