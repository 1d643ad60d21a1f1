//! Plain names: what the shelf has several of is asked about where the word that tells them apart
//! is left out.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::collections::{BTreeMap, BTreeSet};

use formulation::material::Material;
use formulation::naming::{How, Resolver, Wanted, strength};
use formulation::plain_words::words_of;
use formulation::shelf::built_in;

/// A name without its strength and its form, in words.
fn words(name: &str) -> Vec<String> {
    const FORMS: [&str; 8] = [
        "powder", "solution", "flakes", "pellets", "paste", "liquid", "crystals", "beads",
    ];
    let mut words = words_of(&strength::without(name));
    words.retain(|word| !FORMS.contains(&word.as_str()));
    words
}

/// What is left of the names of the shelf without one of their words, where the same is left of
/// materials of other substances: "chamomile essential oil" of the Roman and of the German one.
fn left_to_several() -> BTreeMap<String, BTreeSet<String>> {
    let main = |m: &Material| m.main_constituent().map(|c| c.inci.to_string());
    let mut left: BTreeMap<String, Vec<(String, Option<String>)>> = BTreeMap::new();
    for material in built_in().iter() {
        let words = words(&material.name);
        for out in 0..words.len() {
            let mut rest = words.clone();
            rest.remove(out);
            let of = left.entry(rest.join(" ")).or_default();
            of.push((material.id.to_string(), main(material)));
        }
    }
    let several = |of: &Vec<(String, Option<String>)>| {
        of.iter().any(|(_, main)| *main != of.first().unwrap().1)
    };
    let left = left
        .into_iter()
        .filter(|(name, of)| name.len() > 2 && several(of));
    left.map(|(name, of)| (name, of.into_iter().map(|(id, _)| id).collect()))
        .collect()
}

/// Names that data give to one material, in words.
fn said_by_data() -> BTreeSet<Vec<String>> {
    let key = |name: &str| {
        let mut words = words(name);
        words.sort();
        words
    };
    let plain = built_in::plain_names().iter().map(|name| key(&name.name));
    let names = built_in().iter().flat_map(|m| {
        let own = std::iter::once(&m.name).chain(&m.synonyms);
        own.map(|name| key(name)).collect::<Vec<_>>()
    });
    plain.chain(names).collect()
}

/// What a name is taken for without a question.
fn taken(resolver: &Resolver<'_>, name: &str) -> Option<(String, How)> {
    let found = resolver.resolve(&Wanted::named(name));
    let best = found.candidates.first().filter(|_| found.taken)?;
    let asked = !found.doubts.is_empty() || best.how.is_doubtful();
    (!asked).then(|| (best.id.to_string(), best.how))
}

#[test]
fn names_without_the_word_that_tells_are_asked() {
    let resolver = Resolver::new(built_in());
    let said = said_by_data();
    let mut amiss = Vec::new();
    for (name, of) in left_to_several() {
        let mut key = words_of(&name);
        key.sort();
        if said.contains(&key) {
            continue;
        }
        // An INCI name says what it is.
        if let Some((id, how)) = taken(&resolver, &name).filter(|(_, how)| *how != How::Inci) {
            amiss.push(format!("“{name}” is taken as {id} ({how:?}) of {of:?}"));
        }
    }
    assert!(amiss.is_empty(), "{}", amiss.join("\n"));
}

/// Names that makers use for several materials.
#[test]
fn names_of_several_materials_are_asked() {
    let resolver = Resolver::new(built_in());
    for name in [
        "Lavender",
        "Chamomile",
        "Chamomile oil",
        "Chamomile essential oil",
        "Vitamin C",
        "Vitamin E",
        "Iron oxide",
        "Citronella",
        "Cedarwood",
        "Cedarwood essential oil",
        "Eucalyptus",
        "Emulsifying wax NF",
        "Pine oil",
        "Carrot oil",
        "Betaine",
        "Panthenol",
    ] {
        assert_eq!(taken(&resolver, name), None, "{name}");
    }
}
