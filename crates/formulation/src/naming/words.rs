//! The word lists of `assets/names/words.ron`.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::OnceLock;

use packed::{Packed, packed};
use serde::Deserialize;

use crate::material::Role;

const TEXT: Packed = packed!("names/words.ron");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    short: Vec<(String, String)>,
    liquid: Vec<String>,
    solid: Vec<String>,
    paste: Vec<String>,
    grade: Vec<String>,
    quantum_satis: Vec<String>,
    rest: Vec<String>,
    filling: Vec<String>,
    needed: Vec<String>,
    effect: Vec<String>,
    beside: Vec<String>,
    fills: Vec<String>,
    units: Vec<String>,
    joints: Vec<String>,
    water: Vec<String>,
    purposes: Vec<String>,
    same_inci: Vec<(String, String)>,
    and_in_brackets: Vec<String>,
    and_between_blanks: Vec<String>,
    stand_in: String,
    carriers: Vec<String>,
    isomers: Vec<String>,
    functions: BTreeMap<String, Vec<String>>,
    strength: Vec<String>,
    aside: Vec<String>,
}

/// The form in which a material comes, as its name tells.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Form {
    Liquid,
    Solid,
    Paste,
}

/// The lists, ready to be asked.
#[derive(Debug, Default)]
pub(super) struct Words {
    pub(super) short: HashMap<String, String>,
    pub(super) forms: HashMap<String, Form>,
    pub(super) grade: HashSet<String>,
    pub(super) quantum_satis: HashSet<String>,
    pub(super) rest: HashSet<String>,
    pub(super) filling: HashSet<String>,
    pub(super) needed: HashSet<String>,
    pub(super) effect: HashSet<String>,
    pub(super) beside: HashSet<String>,
    pub(super) fills: HashSet<String>,
    pub(super) units: HashSet<String>,
    pub(super) joints: HashSet<String>,
    pub(super) water: HashSet<String>,
    /// What begins to say what a material is for.
    pub(super) purposes: HashSet<String>,
    pub(super) same_inci: HashMap<String, String>,
    /// Every spelling of "and" between the names of a blend.
    pub(super) and: Vec<String>,
    /// Those of them that stand in no name that is not a list.
    pub(super) and_in_brackets: Vec<String>,
    /// Ends the name of a material that only stands for one of the maker's.
    pub(super) stand_in: String,
    /// Between what a material is named for and what it is in, with the blanks.
    pub(super) carriers: Vec<String>,
    /// In front of a name, which mirror form of a substance it is.
    pub(super) isomers: HashSet<String>,
    /// Phrase and what a material does by it, longest first.
    functions: Vec<(String, Role)>,
    pub(super) strength: HashSet<String>,
    pub(super) aside: HashSet<String>,
}

/// Phrases that say what a material does, the longest first.
pub(crate) fn functions() -> &'static [(String, Role)] {
    &words().functions
}

/// Read on first use. A list that cannot be read is empty, which the test below
/// does not let pass.
pub(super) fn words() -> &'static Words {
    static WORDS: OnceLock<Words> = OnceLock::new();
    WORDS.get_or_init(|| {
        let Ok(lists) = ron::from_str::<Lists>(&TEXT.text()) else {
            return Words::default();
        };
        let forms = [
            (lists.liquid, Form::Liquid),
            (lists.solid, Form::Solid),
            (lists.paste, Form::Paste),
        ];
        let mut functions: Vec<(String, Role)> = Role::ALL
            .into_iter()
            .flat_map(|role| {
                let phrases = lists.functions.get(role.label()).into_iter().flatten();
                phrases.map(move |phrase| (phrase.clone(), role))
            })
            .collect();
        functions.sort_by_key(|(phrase, _)| std::cmp::Reverse(phrase.len()));
        Words {
            short: lists.short.into_iter().collect(),
            forms: forms
                .into_iter()
                .flat_map(|(list, form)| list.into_iter().map(move |word| (word, form)))
                .collect(),
            grade: lists.grade.into_iter().collect(),
            quantum_satis: lists.quantum_satis.into_iter().collect(),
            rest: lists.rest.into_iter().collect(),
            filling: lists.filling.into_iter().collect(),
            needed: lists.needed.into_iter().collect(),
            effect: lists.effect.into_iter().collect(),
            beside: lists.beside.into_iter().collect(),
            fills: lists.fills.into_iter().collect(),
            units: lists.units.into_iter().collect(),
            joints: lists.joints.into_iter().collect(),
            water: lists.water.into_iter().collect(),
            purposes: lists.purposes.into_iter().collect(),
            same_inci: lists.same_inci.into_iter().collect(),
            and: (lists.and_in_brackets.iter().cloned())
                .chain(lists.and_between_blanks.iter().map(|w| format!(" {w} ")))
                .collect(),
            and_in_brackets: lists.and_in_brackets,
            stand_in: lists.stand_in,
            carriers: lists.carriers.iter().map(|w| format!(" {w} ")).collect(),
            isomers: lists.isomers.into_iter().collect(),
            functions,
            strength: lists.strength.into_iter().collect(),
            aside: lists.aside.into_iter().collect(),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::naming::words_of;

    #[test]
    fn the_lists_are_read_and_folded() {
        let lists: Lists = ron::from_str(&TEXT.text()).unwrap();
        let all = [
            &lists.liquid,
            &lists.solid,
            &lists.paste,
            &lists.grade,
            &lists.quantum_satis,
            &lists.rest,
            &lists.filling,
            &lists.needed,
            &lists.effect,
            &lists.beside,
            &lists.fills,
            &lists.units,
            &lists.joints,
            &lists.water,
            &lists.purposes,
            &lists.strength,
            &lists.aside,
            &lists.isomers,
        ];
        for word in all.into_iter().flatten() {
            assert_eq!(words_of(word).join(" "), *word);
        }
        for (role, phrases) in &lists.functions {
            assert!(Role::ALL.iter().any(|r| r.label() == role), "{role}");
            for phrase in phrases {
                assert_eq!(words_of(phrase).join(" "), *phrase);
            }
        }
        for (from, to) in &lists.same_inci {
            assert_eq!(words_of(from).join(" "), *from);
            assert_eq!(words_of(to).join(" "), *to);
        }
        for and in lists
            .and_in_brackets
            .iter()
            .chain(&lists.and_between_blanks)
        {
            assert_eq!(and.to_lowercase(), *and);
        }
        let shelf = crate::shelf::built_in::shelf();
        assert!(shelf.iter().any(|m| m.name.contains(&lists.stand_in)));
        assert!(words().short.contains_key("eo"));
    }
}
