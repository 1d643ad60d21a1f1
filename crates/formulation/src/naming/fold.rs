//! One folding of names: when two spellings are the same.

use std::borrow::Cow;

use super::words::words;
use crate::amount::number::Unit;
pub use crate::plain_words::{plain, words_of};

/// A text in which letters with points are one word: "E.O." is "EO", "D.I. water" "DI water".
fn without_points(text: &str) -> Cow<'_, str> {
    let letters: Vec<char> = text.chars().collect();
    let letter = |at: usize| letters.get(at).is_some_and(|c| c.is_alphabetic());
    // A letter alone with a point behind it.
    let pointed = |at: usize| {
        letter(at)
            && letters.get(at + 1) == Some(&'.')
            && !at
                .checked_sub(1)
                .is_some_and(|before| letters.get(before).is_some_and(|c| c.is_alphanumeric()))
    };
    if !(0..letters.len()).any(|at| pointed(at) && pointed(at + 2)) {
        return Cow::Borrowed(text);
    }
    let joins = |point: usize| {
        letters.get(point) == Some(&'.')
            && point.checked_sub(1).is_some_and(&pointed)
            && (pointed(point + 1) || point.checked_sub(3).is_some_and(&pointed))
    };
    let kept = letters.iter().enumerate();
    kept.filter(|(at, _)| !joins(*at))
        .map(|(_, c)| *c)
        .collect()
}

/// The words of a name with short forms spelt out: "Lavender EO" is "lavender
/// essential oil".
pub fn spelt_out(text: &str) -> Vec<String> {
    let lists = words();
    words_of(&without_points(text))
        .into_iter()
        .enumerate()
        .flat_map(|(place, word)| match lists.short.get(&word) {
            // "Sol" behind a name is short for solution; in front, "sól" is salt in Polish.
            Some(long) if place == 0 && lists.forms.contains_key(long) => vec![word],
            Some(long) => long.split(' ').map(str::to_owned).collect(),
            None => vec![word],
        })
        .collect()
}

/// A word that only joins others: "huile essentielle de menthe", "essential oil of mint".
fn is_joint(word: &str) -> bool {
    words().joints.contains(word)
}

/// Whether a name has a word for water in it, as "Wasser, dest." and "rose water" have.
pub fn says_water(name: &str) -> bool {
    words_of(name).iter().any(|w| words().water.contains(w))
}

/// The words of a name in alphabetical order, so that "Demineralised water" equals
/// "Water, demineralised".
pub fn sorted(text: &str) -> String {
    let mut words = spelt_out(text);
    words.retain(|w| !is_joint(w));
    in_order(words)
}

/// The words of a name as one, so that "Polysorbate20" is "Polysorbate 20".
pub fn glued(text: &str) -> String {
    spelt_out(text).concat()
}

/// The words of a name without the size of a pack: "Olive oil 1 l", "Beeswax 250g".
fn without_pack(words: Vec<String>) -> Vec<String> {
    let is_number = |w: &str| !w.is_empty() && w.bytes().all(|b| b.is_ascii_digit());
    let is_measure =
        |w: &str| Unit::named(w).is_some_and(|u| u.grams().is_some() || u.millilitres().is_some());
    let is_size = |w: &String| {
        let unit = w.trim_start_matches(|c: char| c.is_ascii_digit());
        unit.len() < w.len() && is_measure(unit)
    };
    let mut kept: Vec<String> = Vec::with_capacity(words.len());
    for word in words {
        if is_measure(&word) && kept.last().is_some_and(|w| is_number(w)) {
            kept.pop();
        } else if !is_size(&word) {
            kept.push(word);
        }
    }
    kept
}

/// What is left of a name without strength, form, grade and size of the pack, in alphabetical
/// order: "Sodium hydroxide solution 30 %" is "hydroxide sodium".
pub fn base(text: &str) -> String {
    in_order(kept(text))
}

/// The same words in the order in which they are written.
pub(super) fn kept(text: &str) -> Vec<String> {
    kept_of(spelt_out(&super::strength::without(text)))
}

fn kept_of(spelt_out: Vec<String>) -> Vec<String> {
    let lists = words();
    let mut kept = without_pack(spelt_out);
    kept.retain(|w| !lists.forms.contains_key(w) && !lists.grade.contains(w) && !is_joint(w));
    kept
}

fn in_order(mut words: Vec<String>) -> String {
    words.sort_unstable();
    words.join(" ")
}

/// The words of a name in order, and those that say what it is, worked out at once.
#[derive(PartialEq, Debug)]
pub(super) struct Sorted {
    /// As [`sorted`] gives it.
    pub(super) all: String,
    /// As [`base`] gives it.
    pub(super) base: String,
    /// As [`kept`] gives it.
    pub(super) kept: Vec<String>,
}

impl Sorted {
    pub(super) fn of(name: &str) -> Self {
        let words = spelt_out(name);
        let without_joints = words.iter().filter(|w| !is_joint(w)).cloned().collect();
        let kept = if name.contains('%') {
            kept(name)
        } else {
            kept_of(words)
        };
        Self {
            all: in_order(without_joints),
            base: in_order(kept.clone()),
            kept,
        }
    }
}

/// A name in every form in which it is looked up, worked out at once.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Folded {
    /// As [`spelt_out`] gives it.
    pub(super) words: Vec<String>,
    /// As [`plain`] gives it.
    pub(super) plain: String,
    /// As [`sorted`] gives it.
    pub(super) sorted: String,
    /// As [`glued`] gives it.
    pub(super) glued: String,
    /// As [`base`] gives it.
    pub(super) base: String,
}

impl Folded {
    pub(super) fn of(name: &str) -> Self {
        let words = spelt_out(name);
        let without_joints = words.iter().filter(|w| !is_joint(w)).cloned().collect();
        Self {
            plain: plain(name),
            sorted: in_order(without_joints),
            glued: words.concat(),
            base: if name.contains('%') {
                base(name)
            } else {
                in_order(kept_of(words.clone()))
            },
            words,
        }
    }
}

/// The INCI name, in small letters, of water or perfume in the words of another country; `None`
/// for everything else.
pub fn in_other_words(name: &str) -> Option<&'static str> {
    words().same_inci.get(&plain(name)).map(String::as_str)
}

/// An INCI name with the words of the United States for water and perfume, and doubled
/// names such as "Aqua (Water)", brought to one.
pub fn inci(name: &str) -> String {
    // "Helianthus Annuus (Sunflower) Seed Oil": the name of the United States stands within.
    let within = || {
        let (before, rest) = name.split_once('(')?;
        let (_, behind) = rest.split_once(')')?;
        let both = before.contains(char::is_alphabetic) && behind.contains(char::is_alphabetic);
        (both && !behind.contains('(')).then(|| plain(&format!("{before} {behind}")))
    };
    let plain = within().unwrap_or_else(|| plain(name));
    words().same_inci.get(&plain).cloned().unwrap_or(plain)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::built_in;

    #[test]
    fn all_forms_at_once_are_those_one_by_one() {
        let of_shelf = built_in().iter().map(|m| m.name.as_ref());
        let others = [
            "",
            "Lye 30 %ige",
            "E.O. of lavender",
            "Olive oil 1 l",
            "Shea (raw)",
        ];
        for name in of_shelf.chain(others) {
            let expected = Folded {
                words: spelt_out(name),
                plain: plain(name),
                sorted: sorted(name),
                glued: glued(name),
                base: base(name),
            };
            assert_eq!(Folded::of(name), expected);
            let in_order = Sorted {
                all: sorted(name),
                base: base(name),
                kept: kept(name),
            };
            assert_eq!(Sorted::of(name), in_order);
        }
    }
}
