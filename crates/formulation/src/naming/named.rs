//! Which raw material of several a maker means by a name.

use std::sync::Arc;

use super::fold::words_of;
use crate::material::{Material, MaterialId};

/// What a name means among some materials.
#[derive(Clone, PartialEq, Debug)]
pub enum Named<'m> {
    /// This one.
    One(&'m Arc<Material>),
    /// Any of these, equally well.
    Several(Vec<&'m Arc<Material>>),
    /// None of them.
    Nothing,
}

/// How well a name fits a material, the surest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Name,
    Synonym,
    /// The INCI names of the whole, or the one of its main constituent.
    Inci,
    /// All words are among those of its name: "glycerin" for "Glycerin 99.5 %".
    Words,
}

/// The material that a name means: the one whose id, name or synonym it is; else the one
/// it is the INCI name of; else the one in whose name all its words occur. Capitals,
/// accents and marks between words do not count. Misspellings are not guessed at.
pub fn named<'m>(name: &str, among: impl IntoIterator<Item = &'m Arc<Material>>) -> Named<'m> {
    let id = MaterialId::from_name(name);
    let words = words_of(name);
    let mut best: Option<Fit> = None;
    let mut found: Vec<&Arc<Material>> = Vec::new();
    for material in among {
        let Some(fit) = fit(material, &id, &words) else {
            continue;
        };
        if best.is_none_or(|best| fit < best) {
            best = Some(fit);
            found.clear();
        }
        if best == Some(fit) && !found.iter().any(|m| m.id == material.id) {
            found.push(material);
        }
    }
    match found.as_slice() {
        [] => Named::Nothing,
        [one] => Named::One(one),
        _ => Named::Several(found),
    }
}

fn fit(material: &Material, id: &MaterialId, words: &[String]) -> Option<Fit> {
    if words.is_empty() {
        return None;
    }
    let is = |text: &str| words_of(text) == words;
    if material.id == *id || is(&material.name) {
        return Some(Fit::Name);
    }
    if material.synonyms.iter().any(|s| is(s)) {
        return Some(Fit::Synonym);
    }
    if material
        .main_constituent()
        .is_some_and(|c| is(c.inci.spelling()))
        || is(&material.inci_line())
    {
        return Some(Fit::Inci);
    }
    let own = words_of(&material.name);
    words.iter().all(|w| own.contains(w)).then_some(Fit::Words)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::material::Class;

    fn shelf() -> Vec<Arc<Material>> {
        let solution = |name, inci, percent: f64| {
            let water = ("Aqua", 100.0 - percent, Class::Water);
            fixture::material(name, &[(inci, percent, Class::Other), water])
        };
        let mut betaine = Material::clone(&solution(
            "Betaine solution 30 %",
            "Cocamidopropyl Betaine",
            30.0,
        ));
        betaine.synonyms.push("CAPB".into());
        vec![
            solution("Glycerin 99.5 %", "Glycerin", 99.5),
            solution("Glycerin 85 %", "Glycerin", 85.0),
            solution("Crème base", "Cetyl Alcohol", 20.0),
            Arc::new(betaine),
        ]
    }

    fn check(name: &str, expected: &[&str]) {
        let shelf = shelf();
        let found = match named(name, &shelf) {
            Named::One(one) => vec![one],
            Named::Several(several) => several,
            Named::Nothing => vec![],
        };
        let found: Vec<&str> = found.iter().map(|m| m.name.as_ref()).collect();
        assert_eq!(found, expected, "{name}");
    }

    #[test]
    fn a_name_is_found_in_every_way() {
        check("glycerin 85 %", &["Glycerin 85 %"]);
        check("glycerin-85", &["Glycerin 85 %"]);
        check("capb", &["Betaine solution 30 %"]);
        check("COCAMIDOPROPYL BETAINE", &["Betaine solution 30 %"]);
        check("betaine", &["Betaine solution 30 %"]);
        check("creme base", &["Crème base"]);
        check("Glycerin", &["Glycerin 99.5 %", "Glycerin 85 %"]);
        check("glycerine", &[]);
        check(" ", &[]);
        check("%", &[]);
    }
}
