use std::sync::Arc;

use super::*;
use crate::inventory::inventory;
use crate::material::{Class, Material, MaterialId, Role};
use proptest::prelude::*;

fn material(name: &str, inci: &str, cas: &str, role: Role, supplier: &str) -> Arc<Material> {
    let mut m = Material::pure(
        MaterialId::from_name(name),
        name,
        inci,
        cas.parse().ok(),
        Class::Other,
    );
    m.roles.push(role);
    m.supplier = Some(supplier.into());
    Arc::new(m)
}

/// The distances of bits are those of the table, which are those of strsim.
#[test]
fn both_ways_of_counting_edits_agree() {
    let names = inventory().entries();
    let mut compared = 0;
    for (n, one) in names.iter().enumerate().step_by(1_481) {
        let one = words_of(one.name).join(" ");
        let letters: Vec<char> = one.chars().collect();
        let pattern = Pattern::of(&one);
        for other in names.iter().skip(n % 7).step_by(97) {
            let other = words_of(other.name).join(" ");
            let others: Vec<char> = other.chars().collect();
            for most in [2, 8, 40] {
                let by_table = edits_within(&letters, &others, most, &mut Rows::default());
                if let Some(pattern) = &pattern {
                    assert_eq!(pattern.edits_to(&other, most), by_table, "{one} {other}");
                    compared += 1;
                }
                let edits = strsim::osa_distance(&one, &other);
                assert_eq!(by_table, Some(edits).filter(|e| *e <= most));
            }
        }
    }
    assert!(compared > 500);
    let swapped = Pattern::of("zażółć").unwrap();
    assert_eq!(swapped.edits_to("zaóżłć", 3), Some(1));
}

#[test]
fn a_number_finds_what_is_bought_for_it_first() {
    let shelf = crate::shelf::built_in();
    let index = MaterialIndex::new(shelf.iter());
    let first = |query: &str, many: usize| -> Vec<String> {
        let found = index.search(query, many);
        let names = found.iter().filter_map(|id| shelf.get(id));
        names.map(|m| m.name.to_string()).collect()
    };
    // Glycerin is left over in amides and carries many extracts.
    for name in first("56-81-5", 2) {
        assert!(name.starts_with("Glycerin"), "{name}");
    }
    // Salt comes with most surfactants.
    for name in first("7647-14-5", 2) {
        assert!(
            ["Sodium chloride", "Himalayan salt"].contains(&&*name),
            "{name}"
        );
    }
    assert!(
        first("7732-18-5", 1)
            .iter()
            .all(|name| name.starts_with("Water"))
    );
}

fn shelf() -> MaterialIndex {
    let mut betaine = Material::clone(&material(
        "Coco betaine",
        "Cocamidopropyl Betaine",
        "61789-40-0",
        Role::CoSurfactant,
        "Fell Supplies",
    ));
    betaine.synonyms.push("CAPB".into());
    MaterialIndex::new(&[
        material(
            "Glycerin",
            "Glycerin",
            "56-81-5",
            Role::Humectant,
            "Fell Supplies",
        ),
        material(
            "Glyceryl stearate",
            "Glyceryl Stearate",
            "",
            Role::Emulsifier,
            "Tarn & Co",
        ),
        material(
            "Vegetable glycerin 86 %",
            "Glycerin",
            "56-81-5",
            Role::Humectant,
            "Tarn & Co",
        ),
        material("Purified water", "Aqua", "7732-18-5", Role::Solvent, ""),
        material(
            "Mandelöl",
            "Prunus Amygdalus Dulcis Oil",
            "",
            Role::Emollient,
            "",
        ),
        Arc::new(betaine),
    ])
}

fn check(query: &str, expected: &[&str]) {
    let found = shelf().search(query, 10);
    let found: Vec<&str> = found.iter().map(MaterialId::as_str).collect();
    assert_eq!(found, expected, "for “{query}”");
}

#[test]
fn words_are_found_in_every_field() {
    check("glycerin", &["glycerin", "vegetable-glycerin-86"]);
    check("aqua", &["purified-water"]);
    check("7732-18-5", &["purified-water"]);
    check("56-81", &["glycerin", "vegetable-glycerin-86"]);
    check("capb", &["coco-betaine"]);
    check("co-surfactant", &["coco-betaine"]);
    check("tarn", &["glyceryl-stearate", "vegetable-glycerin-86"]);
    check("tarn humectant", &["vegetable-glycerin-86"]);
    check("mandelol", &["mandelöl"]);
    check("MANDELÖL", &["mandelöl"]);
    check("amidopropyl", &["coco-betaine"]);
}

#[test]
fn small_misspellings_are_forgiven() {
    check("glycerinn", &["glycerin", "vegetable-glycerin-86"]);
    check("glycreyl", &["glyceryl-stearate"]);
    check("cocamidoprpoyl", &["coco-betaine"]);
    check("cocamidoprp", &["coco-betaine"]);
    check("stearat glycerin", &["glyceryl-stearate"]);
    check("watr", &["purified-water"]);
    check("wtr", &[]);
    check("xylophone", &[]);
}

#[test]
fn an_empty_query_lists_all_by_name() {
    assert_eq!(shelf().search("  ", 100).len(), 6);
    assert_eq!(shelf().search("", 2).len(), 2);
    assert_eq!(shelf().search("", 100)[0].as_str(), "coco-betaine");
    assert!(MaterialIndex::default().search("x", 5).is_empty());
}

proptest! {
    /// The whole table, as another library fills it, gives the same number.
    #[test]
    fn few_edits_are_counted_as_the_whole_table_counts_them(
        a in "[a-d]{0,9}", b in "[a-d]{0,9}", most in 0_usize..5,
    ) {
        let letters = |text: &str| text.chars().collect::<Vec<_>>();
        let edits = strsim::osa_distance(&a, &b);
        let found = edits_within(&letters(&a), &letters(&b), most, &mut Rows::default());
        prop_assert_eq!(found, (edits <= most).then_some(edits));
    }
}

/// What a new maker types first.
#[test]
fn everyday_words_find_what_is_common_first() {
    let shelf = crate::shelf::built_in();
    let index = MaterialIndex::for_people(shelf.iter());
    let first = |query: &str| -> String {
        let found = index.search(query, 1);
        let material = found.first().and_then(|id| shelf.get(id));
        material.map_or_else(String::new, |m| m.name.to_string())
    };
    for (query, wanted) in [
        ("glyc", "Glycerin"),
        ("distilled", "Water"),
        ("distilled water", "Water"),
        ("water", "Water"),
        ("xanthan", "Xanthan gum"),
        ("salt", "Sodium chloride"),
        ("citric", "Citric acid"),
        // Not what is merely dissolved in it.
        ("sunflower oil", "Sunflower seed oil"),
    ] {
        let name = first(query);
        assert!(name.starts_with(wanted), "{query} finds {name}");
    }
    let all = |query: &str| -> Vec<&Arc<Material>> {
        let found = index.search(query, 5);
        found.iter().filter_map(|id| shelf.get(id)).collect()
    };
    let broad = all("broad-spectrum");
    assert_eq!(broad.len(), 5);
    for material in broad {
        assert!(material.has_role(Role::Preservative), "{}", material.name);
    }
    for (query, role) in [("thickener", Role::Thickener), ("perfume", Role::Fragrance)] {
        let found = all(query);
        assert!(found.iter().any(|m| m.has_role(role)), "{query}");
    }
}

#[test]
fn what_is_used_often_comes_first() {
    let index = shelf();
    let used = UseCounts::from([(MaterialId::from_name("Vegetable glycerin 86 %"), 9)]);
    assert_eq!(index.search("glyc", 1)[0].as_str(), "glycerin");
    assert_eq!(
        index.search_used("glyc", 1, &used)[0].as_str(),
        "vegetable-glycerin-86"
    );
}

#[test]
fn names_that_begin_with_the_word_come_first() {
    let shelf = crate::shelf::built_in();
    let found = MaterialIndex::new(shelf.iter()).search("glyc", 8);
    assert_eq!(found.len(), 8);
    for id in found {
        let name = &shelf.get(&id).unwrap().name;
        assert!(name.starts_with("Glyc"), "{name}");
    }
}

#[test]
fn nearest_names_come_nearest_first() {
    let near = shelf().nearest_names("Glicerin", 3);
    assert_eq!(near[0].0.as_str(), "glycerin");
    assert!(near[0].1 > 0.8);
    assert!(shelf().nearest_names("entirely different", 3).is_empty());
}

#[test]
fn a_limit_keeps_the_best() {
    assert_eq!(shelf().search("glycerin", 1)[0].as_str(), "glycerin");
}

/// The nearest of all names, each compared with the one wanted.
fn nearest_of_all(index: &Index, name: &str, most: usize) -> Vec<(u32, usize)> {
    let wanted = words_of(name).join(" ");
    let length = wanted.chars().count();
    let allowed = (length / 3).clamp(1, MOST_EDITS);
    let edits = |name: &str| strsim::osa_distance(&wanted, name);
    let all = (0..).zip(index.names.iter().map(|name| edits(name)));
    let mut near: Vec<(usize, u32)> = all
        .filter(|(_, edits)| *edits <= allowed)
        .map(|(entry, edits)| (edits, entry))
        .collect();
    near.sort_unstable();
    near.truncate(most);
    near.into_iter()
        .map(|(edits, entry)| (entry, edits))
        .collect()
}

/// Names of the inventory, misspelt in many ways, and words that are none.
#[test]
fn the_nearest_names_are_those_of_a_comparison_with_all() {
    let mut builder = IndexBuilder::default();
    let entries = inventory().entries();
    for entry in entries.iter().step_by(9) {
        builder.add(entry.name, []);
    }
    let index = builder.build();
    let mut found_any = 0;
    for (n, entry) in entries.iter().enumerate().step_by(487) {
        let mut letters: Vec<char> = entry.name.chars().collect();
        for edit in 0..n % 4 {
            let at = (n * 31 + edit * 7) % letters.len();
            match (n + edit) % 3 {
                0 if letters.len() > 2 => drop(letters.remove(at)),
                1 => letters.insert(at, 'é'),
                _ => letters[at] = 'o',
            }
        }
        let asked: String = letters.into_iter().collect();
        for most in [1, 3, 50] {
            let length = words_of(&asked).join(" ").chars().count();
            let quick = index.nearest_names(&asked, most);
            let plain = nearest_of_all(&index, &asked, most);
            let scored = plain.iter().map(|&(entry, edits)| Hit {
                entry,
                score: 1.0 - edits as f32 / length as f32,
            });
            assert_eq!(quick, scored.collect::<Vec<_>>(), "{asked}");
            found_any += usize::from(!quick.is_empty());
        }
    }
    assert!(found_any > 60, "{found_any}");
}

proptest! {
    #[test]
    fn counts_of_letters_never_say_more_edits_than_there_are(
        a in "[a-f0-3é]{0,12}", b in "[a-f0-3é]{0,12}",
    ) {
        let least = LetterCounts::of(&a).least_edits(&LetterCounts::of(&b));
        prop_assert!(least <= strsim::osa_distance(&a, &b));
        prop_assert_eq!(LetterCounts::of(&a).least_edits(&LetterCounts::of(&a)), 0);
    }

    /// The whole-word count agrees with strsim's optimal string alignment.
    #[test]
    fn edits_agree_with_an_independent_count(a in "[a-d]{4,12}", b in "[a-d]{1,14}") {
        let outside = strsim::osa_distance(&a, &b);
        let prefix = (0..=b.len()).map(|n| strsim::osa_distance(&a, &b[..n])).min().unwrap();
        let ours = Pattern::of(&a).unwrap().edits_to_start(&b, 2);
        if prefix > 2 {
            prop_assert_eq!(ours, None);
        } else {
            let (edits, whole) = ours.unwrap();
            prop_assert_eq!(edits, prefix);
            prop_assert_eq!(whole, outside == prefix);
        }
    }

    #[test]
    fn no_query_panics(query in "\\PC{0,60}") {
        shelf().search(&query, 5);
        shelf().nearest_names(&query, 5);
    }
}
