//! Words of INCI names that tell what a substance is, where more than one rule asks: the lists of
//! `assets/names/substance_words.ron`.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::word_groups::WordGroups;

const TEXT: &str = include_str!("../../../assets/names/substance_words.ron");

/// The lists.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SubstanceWords {
    version: u32,
    /// What holds oil in water though it is no emulsifier or surfactant by its class.
    pub oil_holders: Vec<String>,
    /// The last word of a soap.
    pub soaps: Vec<String>,
    /// What is drawn from a plant and brings its acids and salts.
    pub extracts: Vec<String>,
    /// What else is drawn from a plant, or a blend made so.
    pub plant_products: Vec<String>,
    /// What is fermented.
    pub cultures: Vec<String>,
    /// Parts of a plant, in rows of what is one part.
    pub plant_parts: Vec<Vec<String>>,
}

fn read() -> Result<SubstanceWords, String> {
    let lists: SubstanceWords = ron::from_str(TEXT).map_err(|e| e.to_string())?;
    if lists.version == 1 {
        Ok(lists)
    } else {
        Err(format!(
            "version {} of the words of substances is not known here",
            lists.version
        ))
    }
}

/// The lists; empty only if the program was built with a damaged file, which the test below does
/// not let pass.
pub(crate) fn lists() -> &'static SubstanceWords {
    static LISTS: OnceLock<SubstanceWords> = OnceLock::new();
    LISTS.get_or_init(|| read().unwrap_or_default())
}

impl SubstanceWords {
    /// A list by its name in the file, for tables that ask for it with `@NAME`.
    pub fn named(&self, name: &str) -> Option<&[String]> {
        Some(match name {
            "oil_holders" => &self.oil_holders,
            "soaps" => &self.soaps,
            "extracts" => &self.extracts,
            "plant_products" => &self.plant_products,
            "cultures" => &self.cultures,
            _ => return None,
        })
    }
}

/// Bits of [`WordGroups`].
const OIL_HOLDER: usize = 0;
const SOAP: usize = 1;
const PLANT_PRODUCT: usize = 2;
const CULTURE: usize = 3;
const EXTRACT: usize = 4;

/// Whether a name has a word of one of these groups.
fn told(inci: &str, of: &[usize]) -> bool {
    static GROUPS: OnceLock<WordGroups> = OnceLock::new();
    let groups = GROUPS.get_or_init(|| {
        let lists = lists();
        let of = |words: &'static [String], group| words.iter().map(move |w| (w.as_str(), group));
        let all = of(&lists.oil_holders, OIL_HOLDER)
            .chain(of(&lists.soaps, SOAP))
            .chain(of(&lists.plant_products, PLANT_PRODUCT))
            .chain(of(&lists.cultures, CULTURE))
            .chain(of(&lists.extracts, EXTRACT));
        WordGroups::new(all, [])
    });
    let is = groups.of(inci).is;
    of.iter().any(|&group| is.has(group))
}

/// Whether a name is that of a polymer, gum or saponin that holds oil in water.
pub(crate) fn holds_oil(inci: &str) -> bool {
    told(inci, &[OIL_HOLDER])
}

/// Whether a name has the word of a soap.
pub(crate) fn is_soap(inci: &str) -> bool {
    told(inci, &[SOAP])
}

/// Whether a name is that of something drawn from a plant: many substances under one name.
pub(crate) fn is_plant_product(inci: &str) -> bool {
    told(inci, &[EXTRACT, PLANT_PRODUCT])
}

/// Whether a name is that of something drawn from a plant or fermented that brings the acids and
/// salts that were in there.
pub(crate) fn brings_acids_and_salts(inci: &str) -> bool {
    told(inci, &[EXTRACT, CULTURE])
}

/// An INCI name without the words for parts of a plant, as names of the same product are alike
/// that state the part otherwise or not at all.
pub(crate) fn without_plant_parts(inci: &str) -> String {
    let is_part = |word: &&str| {
        lists()
            .plant_parts
            .iter()
            .flatten()
            .any(|part| part == word)
    };
    let kept = inci.split(' ').filter(|word| !is_part(word));
    kept.collect::<Vec<_>>().join(" ")
}

/// The parts of a plant that a name tells: rows of the list, as bits.
pub(crate) fn plant_parts(inci: &str) -> u8 {
    let rows = &lists().plant_parts;
    let row_of = |word: &str| {
        let is = |part: &String| part.eq_ignore_ascii_case(word);
        rows.iter().position(|row| row.iter().any(is))
    };
    let words = inci.split(|c: char| !c.is_alphabetic());
    words
        .filter_map(row_of)
        .fold(0, |bits, row| bits | 1 << row)
}

/// Whether a name is that of something fermented.
pub(crate) fn is_culture(inci: &str) -> bool {
    told(inci, &[CULTURE])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lists_are_read() {
        let lists = read().unwrap();
        for name in [
            "oil_holders",
            "soaps",
            "extracts",
            "plant_products",
            "cultures",
        ] {
            assert!(!lists.named(name).unwrap().is_empty(), "{name}");
        }
        assert!(lists.named("else").is_none() && lists.plant_parts.len() <= 8);
        assert!(holds_oil("Acrylates/C10-30 Alkyl Acrylate Crosspolymer"));
        assert!(!holds_oil("Xanthan Gum") && !holds_oil("Sodium Acrylate"));
        assert!(is_soap("Potassium Palm Kernelate") && !is_soap("Palm Kernel Acid"));
        assert!(is_plant_product("Rosa Damascena Flower Water") && !is_plant_product("Oleic Acid"));
        assert!(is_culture("Lactobacillus Ferment Filtrate"));
    }
}
