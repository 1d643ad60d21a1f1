//! The word lists of `assets/names/words.ron`.

use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

use serde::Deserialize;

const TEXT: &str = include_str!("../../../../assets/names/words.ron");

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
    effect: Vec<String>,
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
    pub(super) effect: HashSet<String>,
}

/// Read on first use. A list that cannot be read is empty, which the test below
/// does not let pass.
pub(super) fn words() -> &'static Words {
    static WORDS: OnceLock<Words> = OnceLock::new();
    WORDS.get_or_init(|| {
        let Ok(lists) = ron::from_str::<Lists>(TEXT) else {
            return Words::default();
        };
        let forms = [
            (lists.liquid, Form::Liquid),
            (lists.solid, Form::Solid),
            (lists.paste, Form::Paste),
        ];
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
            effect: lists.effect.into_iter().collect(),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::naming::words_of;

    #[test]
    fn the_lists_are_read_and_folded() {
        let lists: Lists = ron::from_str(TEXT).unwrap();
        let all = [
            &lists.liquid,
            &lists.solid,
            &lists.paste,
            &lists.grade,
            &lists.quantum_satis,
            &lists.rest,
            &lists.filling,
            &lists.effect,
        ];
        for word in all.into_iter().flatten() {
            assert_eq!(words_of(word).join(" "), *word);
        }
        assert!(words().short.contains_key("eo"));
    }
}
