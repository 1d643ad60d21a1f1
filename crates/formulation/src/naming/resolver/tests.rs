use super::*;
use crate::material::{Class, Constituent, MaterialId};
use crate::quantity::{MassFraction, Spread};

fn solution(name: &str, inci: &str, percent: f64) -> Arc<Material> {
    let mut m = Material::unknown(MaterialId::from_name(name), name);
    for (inci, percent, class) in [
        ("Aqua", 100.0 - percent, Class::Water),
        (inci, percent, Class::Other),
    ] {
        m.constituents.push(Constituent {
            inci: inci.into(),
            cas: None,
            share: Spread::exact(MassFraction::from_percent(percent)),
            class,
            incidental: None,
            source: None,
        });
    }
    Arc::new(m)
}

fn shelf() -> Shelf {
    let pure = |name: &str, inci: &str, cas: &str| {
        Arc::new(Material::pure(
            MaterialId::from_name(name),
            name,
            inci,
            cas.parse().ok(),
            Class::Other,
        ))
    };
    let mut betaine = Material::clone(&solution("Coco betaine", "Cocamidopropyl Betaine", 30.0));
    betaine.synonyms.push("CAPB 30".into());
    [
        pure("Purified water", "Aqua", "7732-18-5"),
        pure("Glycerin", "Glycerin", "56-81-5"),
        pure("Polysorbate 20", "Polysorbate 20", "9005-64-5"),
        Arc::new(betaine),
    ]
    .into_iter()
    .collect()
}

fn check(name: &str, inci: &str, cas: &str, expected: Option<(&str, How)>) {
    let shelf = shelf();
    let matcher = Resolver::new(&shelf);
    let found = matcher.candidates(&Wanted {
        name: name.into(),
        inci: inci.into(),
        cas: cas.parse().ok(),
        ..Wanted::default()
    });
    assert_eq!(
        found.first().map(|c| (c.id.as_str(), c.how)),
        expected,
        "for “{name}” “{inci}” “{cas}”"
    );
}

#[test]
fn names_are_matched_in_every_way() {
    check("GLYCERIN", "", "", Some(("glycerin", How::Name)));
    check("capb-30", "", "", Some(("coco-betaine", How::Synonym)));
    check(
        "Spring water",
        "Water (Aqua)",
        "",
        Some(("purified-water", How::Inci)),
    );
    check("Water", "", "", Some(("purified-water", How::Inci)));
    check(
        "Vegetable stuff",
        "",
        "56-81-5",
        Some(("glycerin", How::Cas)),
    );
    check(
        "Foamer",
        "Cocamidopropyl Betaine, Aqua",
        "",
        Some(("coco-betaine", How::Inci)),
    );
    check(
        "Foamer",
        "Cocamidopropyl Betaine",
        "",
        Some(("coco-betaine", How::MainInci)),
    );
    check(
        "Foamer (Cocamidopropyl Betaine)",
        "",
        "",
        Some(("coco-betaine", How::MainInci)),
    );
    check("Glycerine", "", "", Some(("glycerin", How::Order)));
    check("Glycerrin", "", "", Some(("glycerin", How::Misspelt)));
    check(
        "Polysorbat 20",
        "",
        "",
        Some(("polysorbate-20", How::Order)),
    );
    check("Coco betain", "", "", Some(("coco-betaine", How::Order)));
    check(
        "Cocamidopropylbetain",
        "",
        "",
        Some(("coco-betaine", How::Misspelt)),
    );
    check(
        "water purified",
        "",
        "",
        Some(("purified-water", How::Order)),
    );
    check("betaine", "", "", Some(("coco-betaine", How::Words)));
    check("Oat silk", "", "", None);
}

#[test]
fn a_nearly_pure_material_goes_by_its_inci_name() {
    let shelf: Shelf = [
        solution("Glycerin 86 %", "Glycerin", 86.0),
        solution("Glycerin 99.5 %", "Glycerin", 99.5),
    ]
    .into_iter()
    .collect();
    let found = Resolver::new(&shelf).candidates(&Wanted {
        name: "Glycerin".into(),
        ..Wanted::default()
    });
    let told: Vec<(&str, How)> = found.iter().map(|c| (&*c.name, c.how)).collect();
    assert_eq!(
        told,
        [
            ("Glycerin 99.5 %", How::Inci),
            ("Glycerin 86 %", How::Everyday)
        ]
    );
}

#[test]
fn an_abbreviation_is_not_taken_for_another() {
    let mut ales = Material::unknown(MaterialId::from_name("a"), "Ammonium laureth sulfate");
    ales.synonyms.push("ALES".into());
    let shelf: Shelf = [Arc::new(ales)].into_iter().collect();
    let matcher = Resolver::new(&shelf);
    let wanted = |name: &str| Wanted {
        name: name.into(),
        ..Wanted::default()
    };
    let how = |name| matcher.candidates(&wanted(name)).first().map(|c| c.how);
    assert_eq!(how("ALES"), Some(How::Synonym));
    assert!(!how("SLES").is_some_and(How::is_taken));
}

#[test]
fn another_number_is_another_material() {
    check("Polysorbate 80", "", "", None);
}

#[test]
fn what_contradicts_is_a_question() {
    let shelf = built_in::shelf();
    let resolver = Resolver::new(shelf);
    let check = |name: &str, inci: &str, cas: &str, expected: Option<&str>, doubtful: bool| {
        let found = resolver.resolve(&Wanted {
            name: name.into(),
            inci: inci.into(),
            cas: cas.parse().ok(),
            ..Wanted::default()
        });
        let taken = found.candidates.first().filter(|_| found.taken);
        assert_eq!(
            taken.map(|c| c.id.as_str()),
            expected,
            "{name} | {inci} | {cas}: {found:?}"
        );
        assert_eq!(
            !found.doubts.is_empty(),
            doubtful,
            "{name} | {inci} | {cas}: {:?}",
            found.doubts
        );
    };
    check("Glycerin", "", "", Some("glycerin-99-5"), false);
    check(
        "Cetearyl alcohol (and) ceteareth-20",
        "",
        "",
        Some("cetearyl-alcohol-and-ceteareth-20"),
        false,
    );
    check(
        "Benzyl alcohol (and) dehydroacetic acid",
        "",
        "",
        Some("benzyl-alcohol-and-dehydroacetic-acid-blend"),
        false,
    );
    check(
        "Lye solution 30 %",
        "Sodium Hydroxide",
        "",
        Some("sodium-hydroxide-solution-30"),
        false,
    );
    check(
        "Some name 10 %",
        "Sodium Hydroxide",
        "",
        Some("sodium-hydroxide-solution-10"),
        false,
    );
    check(
        "Lactic acid 80 %",
        "Lactic Acid",
        "",
        Some("lactic-acid-80"),
        false,
    );
    check("Urea 40 % paste", "Urea", "", None, true);
    check(
        "Betaine",
        "Betaine",
        "107-43-7",
        Some("betaine-trimethylglycine-powder"),
        false,
    );
    // By itself it may be the surfactant.
    check(
        "Betaine",
        "",
        "",
        Some("betaine-trimethylglycine-powder"),
        true,
    );
    check(
        "Vitamin E",
        "Tocopheryl Acetate",
        "",
        Some("tocopheryl-acetate"),
        true,
    );
    check(
        "Emulsifying wax NF",
        "Cetearyl Alcohol, Ceteareth-20",
        "",
        Some("cetearyl-alcohol-and-ceteareth-20"),
        true,
    );
    check(
        "SLES 28",
        "",
        "",
        Some("sodium-laureth-sulfate-solution-28"),
        false,
    );
    check(
        "SLES",
        "",
        "",
        Some("sodium-laureth-sulfate-paste-70"),
        true,
    );
    check("Moonlight balm", "", "", None, false);
}

#[test]
fn strength_of_another_column_counts() {
    let resolver = Resolver::new(built_in::shelf());
    let found = resolver.resolve(&Wanted {
        name: "SLES".into(),
        strength: "28".into(),
        ..Wanted::default()
    });
    assert_eq!(
        found.candidates[0].id.as_str(),
        "sodium-laureth-sulfate-solution-28"
    );
    assert!(found.taken && found.doubts.is_empty(), "{found:?}");
}

#[test]
fn strengths_of_name_and_column_that_differ_are_asked() {
    let resolver = Resolver::new(built_in::shelf());
    let asked = |name: &str, strength: &str| {
        let found = resolver.resolve(&Wanted {
            name: name.into(),
            strength: strength.into(),
            ..Wanted::default()
        });
        let best = found.candidates.first().unwrap();
        !found.taken || !found.doubts.is_empty() || best.how.is_doubtful()
    };
    assert!(asked("Lactic acid 80 %", "90 %"));
    assert!(asked("Lactic acid 90 %", "80"));
    assert!(asked("Sodium hydroxide solution 30 %", "10 %"));
    assert!(asked("SLES 28 %", "70"));
    assert!(!asked("Lactic acid 80 %", "80 %"));
    assert!(!asked("Sodium hydroxide solution 30 %", "30"));
}

#[test]
fn names_of_other_languages_are_taken_word_by_word_or_offered() {
    let resolver = Resolver::new(built_in::shelf());
    let found = |name: &str| {
        let found = resolver.resolve(&Wanted::named(name));
        let best = found.candidates.first().unwrap();
        let alone = found.taken && found.doubts.is_empty() && !best.how.is_doubtful();
        (best.id.to_string(), alone)
    };
    assert_eq!(
        found("Etherische olie van pepermunt"),
        ("peppermint-essential-oil".to_owned(), true)
    );
    assert_eq!(
        found("Pfefferminzwasser"),
        ("peppermint-water".to_owned(), true)
    );
    assert_eq!(
        found("Aceite de semilla de brócoli"),
        ("broccoli-seed-oil".to_owned(), true)
    );
    assert_eq!(
        found("Proteína de arroz hidrolizada"),
        found("Hydrolysed rice protein")
    );
    // A number in the name tells two of one INCI name apart.
    let found_beside = |name: &str| {
        let found = resolver.resolve(&Wanted {
            name: name.into(),
            inci: "Sucrose Stearate".into(),
            ..Wanted::default()
        });
        (
            found.candidates.first().unwrap().id.to_string(),
            found.doubts.is_empty(),
        )
    };
    assert_eq!(
        found_beside("Sucrosestearat HLB 15"),
        ("sucrose-stearate-hlb-15".to_owned(), true)
    );
    assert!(!found_beside("Sucrosestearat").1);
    // What is left out of a name is asked.
    assert_eq!(
        found("triple pressed stearic"),
        ("stearic-acid".to_owned(), false)
    );
}

/// What a name leaves to several substances is asked, unless data say which it means.
#[test]
fn a_name_that_lacks_the_word_between_two_is_asked() {
    let resolver = Resolver::new(built_in::shelf());
    let found = |name: &str| resolver.resolve(&Wanted::named(name));
    for name in ["Chamomile essential oil", "Kamillenöl ätherisch"] {
        let found = found(name);
        assert!(
            !found.taken || !found.doubts.is_empty(),
            "{name}: {found:?}"
        );
        for id in ["german", "roman"] {
            let id = format!("{id}-chamomile-essential-oil");
            assert!(
                found.candidates.iter().any(|c| c.id.as_str() == id),
                "{name}"
            );
        }
    }
    // Said of one of them by its own name, nothing is asked.
    for name in ["German chamomile essential oil", "olejek rumiankowy"] {
        let found = found(name);
        assert_eq!(
            found.candidates[0].id.as_str(),
            "german-chamomile-essential-oil"
        );
        assert!(found.taken && found.doubts.is_empty(), "{name}: {found:?}");
    }
}

#[test]
fn a_name_in_two_parts_is_the_one_that_both_mean() {
    let resolver = Resolver::new(built_in::shelf());
    let found = resolver.resolve(&Wanted::named("Lye - NaOH"));
    assert!(found.taken, "{found:?}");
    assert_eq!(found.candidates[0].id.as_str(), "sodium-hydroxide-pellets");
    let found = resolver.resolve(&Wanted::named("Olive oil - infused with rosemary"));
    assert!(!found.taken || !found.doubts.is_empty(), "{found:?}");
}

/// Everyday names in any tongue may be misspelt too, and names with a strength; it is asked.
#[test]
fn everyday_names_and_names_with_a_strength_may_be_misspelt() {
    let matcher = Resolver::new(built_in::shelf());
    for (name, id) in [
        ("Glicerna", "glycerin-99-5"),
        (
            "Sodium Laureth Sufate 28 %",
            "sodium-laureth-sulfate-solution-28",
        ),
        (
            "Sodium Laureth Sufate 70 %",
            "sodium-laureth-sulfate-paste-70",
        ),
    ] {
        let wanted = Wanted {
            name: name.into(),
            ..Wanted::default()
        };
        let found = matcher.candidates(&wanted);
        let first = found.first().unwrap_or_else(|| panic!("{name}"));
        assert_eq!(
            (first.id.as_str(), first.how.is_doubtful()),
            (id, true),
            "{name}"
        );
    }
}
