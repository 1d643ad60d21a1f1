//! Components of an essential oil or a fragrance that stand beside it as ingredients of their own.
//!
//! A data sheet names an oil and what is in it. The oil is one ingredient, with its components in
//! its weight; where they are entered beside it, it counts by its remainder only, and the list
//! names what nobody added. Whether something was added or belongs to the oil only the maker
//! knows, so this tells and never decides.

use crate::amount::Measure;
use crate::inventory::inventory;
use crate::material::{Class, Material, Role};
use crate::substance_words::is_plant_product;

/// Why a component is not listed by itself.
pub const PART_OF_THE_OIL: &str =
    "component of the oil or fragrance, named on the label only where the law demands it";

/// What is looked at of a constituent.
#[derive(Clone, Copy, Debug)]
pub struct Part<'a> {
    /// INCI name.
    pub inci: &'a str,
    /// What it is counted as.
    pub class: Class,
    /// Whether it stands on the ingredient list.
    pub listed: bool,
}

/// An oil or fragrance with components beside it, by their places among the constituents.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LooseParts {
    /// The oil or fragrance.
    pub whole: usize,
    /// Its components.
    pub parts: Vec<usize>,
}

/// The components that stand beside the one oil or fragrance of a material with such a role.
pub fn loose_parts<'a>(
    roles: &[Role],
    constituents: impl Iterator<Item = Part<'a>>,
) -> Option<LooseParts> {
    if !(roles.contains(&Role::EssentialOil) || roles.contains(&Role::Fragrance)) {
        return None;
    }
    let mut whole = None;
    let mut parts = Vec::new();
    for (place, part) in constituents.enumerate().filter(|(_, part)| part.listed) {
        if is_composed(part.inci) {
            if whole.replace(place).is_some() {
                // Of several oils none is known to bring it in.
                return None;
            }
        } else if is_scent(part) {
            parts.push(place);
        }
    }
    let whole = whole.filter(|_| !parts.is_empty())?;
    Some(LooseParts { whole, parts })
}

/// The same of a material.
pub fn loose_parts_of(material: &Material) -> Option<LooseParts> {
    let parts = material.constituents.iter().map(|c| Part {
        inci: c.inci.spelling(),
        class: c.class,
        listed: c.incidental.is_none(),
    });
    loose_parts(&material.roles, parts)
}

/// What is said of a material that has such; none if it has not.
pub fn words_of(material: &Material) -> Option<String> {
    let loose = loose_parts_of(material)?;
    let of = |place: &usize| material.constituents.get(*place);
    let whole = of(&loose.whole)?;
    let parts: Vec<&str> = (loose.parts.iter().filter_map(of))
        .map(|c| c.inci.spelling())
        .collect();
    let share = Measure::SHARE.digits_of(whole.share.typical.as_percent());
    let words = words(whole.inci.spelling(), &share, &parts);
    Some(format!("{}: {words}", material.name))
}

/// What is said of such a material, with the share of the oil alone in percent.
pub fn words(whole: &str, percent: &str, parts: &[&str]) -> String {
    let (parts, stand) = match parts {
        [only] => (
            (*only).to_owned(),
            "stands beside it as an ingredient of its own",
        ),
        _ => (
            parts.join(", "),
            "stand beside it as ingredients of their own",
        ),
    };
    format!(
        "{whole} counts by its own {percent} % only, for {parts} {stand}; what is a component of it belongs to its weight and is named on the label only as an allergen"
    )
}

/// Whether a constituent can be a component: it is counted as fragrance, or as nothing that it is
/// more likely there for and the public inventory gives it as a scent.
fn is_scent(part: Part<'_>) -> bool {
    match part.class {
        Class::Fragrance => true,
        Class::Other | Class::Solvent | Class::Oil => inventory()
            .by_name(part.inci)
            .is_some_and(|entry| entry.roles().contains(&Role::Fragrance)),
        _ => false,
    }
}

/// Whether a name stands for a blend or a natural complex rather than for one substance,
/// by the words INCI names use; common practice, no source.
pub(crate) fn is_composed(inci: &str) -> bool {
    const PERFUMES: [&str; 3] = ["aroma", "fragrance", "parfum"];
    let is_perfume = |word: &str| PERFUMES.iter().any(|w| w.eq_ignore_ascii_case(word));
    is_plant_product(inci) || inci.split(|c: char| !c.is_alphanumeric()).any(is_perfume)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::material;
    use crate::shelf::built_in;

    /// Lavender oil as its data sheet gives it.
    fn lavender() -> Material {
        let rows = [
            ("Lavandula Angustifolia Oil", 27.9, Class::Fragrance),
            ("Linalyl Acetate", 30.0, Class::Fragrance),
            ("Linalool", 34.0, Class::Fragrance),
            ("Camphor", 7.0, Class::Other),
            ("Limonene", 1.0, Class::Solvent),
            ("Coumarin", 0.1, Class::Other),
        ];
        let mut made = Material::clone(&material("lavender", &rows));
        made.roles = vec![Role::EssentialOil];
        made
    }

    #[test]
    fn components_beside_their_oil_are_found() {
        let mut oil = lavender();
        let found = loose_parts_of(&oil).unwrap();
        assert_eq!((found.whole, found.parts), (0, vec![1, 2, 3, 4, 5]));
        oil.roles = vec![Role::Emollient];
        assert_eq!(loose_parts_of(&oil), None);
        // A carrier is an ingredient; of two oils none is known to bring anything in.
        let mut oil = lavender();
        oil.constituents.truncate(1);
        assert_eq!(loose_parts_of(&oil), None);
        let mut oil = lavender();
        oil.constituents[1].inci = "Citrus Limon Peel Oil".into();
        assert_eq!(loose_parts_of(&oil), None);
    }

    #[test]
    fn materials_of_the_shelf_keep_components_within_their_oil() {
        for material in built_in::shelf().iter() {
            assert_eq!(loose_parts_of(material), None, "{}", material.name);
        }
    }
}
