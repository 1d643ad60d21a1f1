//! Names put together of everyday words of ten languages, in the English words of the shelf:
//! "Aceite de semilla de brócoli" and "Brokkolisamenöl" are "broccoli seed oil".
//!
//! The words are those of `assets/names/spoken.ron`. A word that is not among them stays as it
//! is, because the names of many plants are the same everywhere: "olio di moringa".

use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

use packed::{Packed, packed};
use serde::Deserialize;

use super::fold;

const TEXT: Packed = packed!("names/spoken.ron");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    joints: Vec<String>,
    lettered: Vec<String>,
    endings: Vec<String>,
    nothing: Vec<String>,
    links: Vec<String>,
    forms: Vec<String>,
    left_out: Vec<String>,
    sorts: Vec<Vec<String>>,
    words: Vec<Vec<String>>,
}

#[derive(Debug, Default)]
struct Spoken {
    joints: HashSet<String>,
    lettered: HashSet<String>,
    /// The longest first.
    endings: Vec<String>,
    links: Vec<String>,
    forms: HashSet<String>,
    left_out: HashSet<String>,
    /// A word or several, and the English words for it.
    words: HashMap<String, Vec<String>>,
    /// Those of them that end a word put together of several.
    ends: HashSet<String>,
    /// Most words that stand side by side for one thing.
    longest: usize,
    /// Words without their endings, and the English words where it is the same for all of them.
    stems: HashMap<String, Option<Vec<String>>>,
}

/// Read on first use. A list that cannot be read is empty, which the test below does not let
/// pass.
fn spoken() -> &'static Spoken {
    static SPOKEN: OnceLock<Spoken> = OnceLock::new();
    SPOKEN.get_or_init(|| {
        let Ok(lists) = ron::from_str::<Lists>(&TEXT.text()) else {
            return Spoken::default();
        };
        let mut spoken = Spoken {
            joints: lists.joints.into_iter().collect(),
            lettered: lists.lettered.into_iter().collect(),
            endings: lists.endings,
            links: lists.links,
            forms: lists.forms.into_iter().collect(),
            left_out: lists.left_out.into_iter().collect(),
            ends: lists.sorts.iter().flatten().cloned().collect(),
            ..Spoken::default()
        };
        for row in lists.sorts.into_iter().chain(lists.words) {
            let english: Vec<String> = row
                .first()
                .into_iter()
                .flat_map(|first| first.split(' ').map(str::to_owned))
                .collect();
            for said in row {
                spoken.longest = spoken.longest.max(said.split(' ').count());
                spoken.words.insert(said, english.clone());
            }
        }
        for said in lists.nothing {
            spoken.longest = spoken.longest.max(said.split(' ').count());
            spoken.words.insert(said, vec![ASIDE.to_owned()]);
        }
        spoken.left_out.insert(ASIDE.to_owned());
        spoken.stems = spoken.all_stems();
        spoken
    })
}

/// Stands for words that say only of which quality something is.
const ASIDE: &str = "(quality)";

/// Letters that the rest of a word keeps at least where its end is taken off.
const FEWEST: usize = 4;
/// Letters of an end that may stand behind a word of no list.
const LONG_END: usize = 3;
/// Longer words are none of a language.
const MOST_LETTERS: usize = 40;

/// Letters that a word has at least without its ending.
const SHORTEST_STEM: usize = 6;

impl Spoken {
    /// A word without its ending.
    fn stem<'w>(&self, word: &'w str) -> Option<&'w str> {
        let ending = |ending: &String| word.strip_suffix(ending.as_str());
        let long_enough = |stem: &&str| stem.len() >= SHORTEST_STEM;
        self.endings.iter().filter_map(ending).find(long_enough)
    }

    #[expect(
        clippy::iter_over_hash_type,
        reason = "words that differ rule each other out in any order"
    )]
    fn all_stems(&self) -> HashMap<String, Option<Vec<String>>> {
        let mut stems: HashMap<String, Option<Vec<String>>> = HashMap::new();
        for (word, english) in &self.words {
            if word.contains(' ') {
                continue;
            }
            for key in [Some(word.as_str()), self.stem(word)].into_iter().flatten() {
                let known = stems
                    .entry(key.to_owned())
                    .or_insert_with(|| Some(english.clone()));
                if known.as_ref() != Some(english) {
                    *known = None;
                }
            }
        }
        stems
    }

    /// The English words for a word that stands in the lists with another ending.
    fn inflected(&self, word: &str) -> Option<&Vec<String>> {
        let of = |key: &str| self.stems.get(key).and_then(Option::as_ref);
        of(self.stem(word)?)
    }

    /// The parts of one word that is put together of several, as they are in lists; `None` if
    /// it is not.
    fn parted(&self, word: &str) -> Option<Vec<String>> {
        if word.len() > MOST_LETTERS {
            return None;
        }
        let starts = word.char_indices().map(|(at, _)| at).skip(FEWEST);
        // The longest end first.
        starts
            .filter_map(|at| Some((word.get(..at)?, word.get(at..)?)))
            .find_map(|(rest, end)| {
                let is_form = self.forms.contains(end);
                if !is_form && !self.ends.contains(end) {
                    return None;
                }
                let mut parts = self.rest_of(rest, end.len() >= LONG_END)?;
                if !is_form {
                    parts.push(end.to_owned());
                }
                Some(parts)
            })
    }

    /// The parts of what stands before an end; a word of no list only `if_unknown`.
    fn rest_of(&self, rest: &str, if_unknown: bool) -> Option<Vec<String>> {
        let without_link = |link: &String| rest.strip_suffix(link.as_str());
        let forms = || std::iter::once(rest).chain(self.links.iter().filter_map(without_link));
        forms()
            .find(|form| self.words.contains_key(*form))
            .map(|form| vec![form.to_owned()])
            .or_else(|| forms().find_map(|form| self.parted(form)))
            .or_else(|| if_unknown.then(|| vec![rest.to_owned()]))
    }
}

/// A name in English words, in the order in which they are written, without strength, form,
/// grade and what only joins others.
pub(super) fn english(name: &str) -> Vec<String> {
    english_of(fold::kept(name))
}

/// The same of the words of a name without strength, form and grade.
pub(super) fn english_of(kept: Vec<String>) -> Vec<String> {
    let spoken = spoken();
    let count = kept.len();
    let mut parts: Vec<String> = Vec::with_capacity(count);
    let mut lettered = false;
    for (place, word) in kept.into_iter().enumerate() {
        // "Vitamin D" is no vitamin of no letter.
        let named = std::mem::replace(&mut lettered, spoken.lettered.contains(&word));
        let last = place + 1 == count;
        if !(word.len() == 1 && (last || named)) && spoken.joints.contains(&word) {
            continue;
        }
        match spoken.words.get(&word) {
            None => match spoken.parted(&word) {
                Some(several) => parts.extend(several),
                None => parts.push(word),
            },
            Some(_) => parts.push(word),
        }
    }
    let mut english = Vec::with_capacity(parts.len());
    let mut at = 0;
    while at < parts.len() {
        let several = (1..=spoken.longest.min(parts.len() - at))
            .rev()
            .find_map(|length| {
                let words = parts.get(at..at + length)?;
                let found = if let [only] = words {
                    spoken.words.get(only).or_else(|| spoken.inflected(only))
                } else {
                    spoken.words.get(&words.join(" "))
                };
                Some((length, found?))
            });
        if let Some((length, words)) = several {
            english.extend(words.iter().cloned());
            at += length;
        } else {
            english.extend(parts.get(at).cloned());
            at += 1;
        }
    }
    english
}

/// English words as a key that does not depend on their order; empty where the name says more
/// than what it is.
pub(super) fn key(english: &[String]) -> String {
    if english.iter().any(|word| word == ASIDE) {
        return String::new();
    }
    let mut words: Vec<&str> = english.iter().map(String::as_str).collect();
    words.sort_unstable();
    words.dedup();
    words.join(" ")
}

/// The key without the words that makers leave out; empty if nothing else is there.
pub(super) fn short_key(english: &[String]) -> String {
    let left_out = &spoken().left_out;
    let kept: Vec<String> = english
        .iter()
        .filter(|w| !left_out.contains(*w))
        .cloned()
        .collect();
    key(&kept)
}

/// The keys of a name without one of its words each; none if it has only one.
pub(super) fn keys_without_one(english: &[String]) -> Vec<String> {
    let without = |out: usize| {
        let mut words = english.to_vec();
        words.remove(out);
        key(&words)
    };
    let several = english.len() > 1;
    let places = (0..english.len()).filter(|_| several);
    places.map(without).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_are_folded_and_stand_once() {
        let lists: Lists = ron::from_str(&TEXT.text()).unwrap();
        let mut seen = HashSet::new();
        for row in lists.sorts.iter().chain(&lists.words) {
            for said in row {
                assert!(seen.insert(said), "“{said}” stands twice");
                assert_eq!(fold::words_of(said).join(" "), *said);
                // What is dropped before the words are looked up is never found.
                assert_eq!(fold::kept(said).join(" "), *said);
            }
        }
        // They are words of the shelf.
        let names = crate::shelf::built_in().iter().map(|m| &m.name);
        let words: HashSet<String> = names.flat_map(|name| fold::words_of(name)).collect();
        for word in &lists.left_out {
            assert!(words.contains(word), "{word}");
        }
    }

    #[test]
    fn names_of_seven_languages_are_put_into_english() {
        let check = |name: &str, expected: &str| {
            assert_eq!(key(&english(name)), expected, "{name}");
        };
        for name in [
            "Broccoli seed oil",
            "Aceite de semilla de brócoli",
            "Brokkolisamenöl",
            "broccolizaadolie, koudgeperst",
            "olio di semi di broccolo",
            "olej z nasion brokuła",
            "huile végétale de graines de brocoli",
        ] {
            check(name, "broccoli oil seed");
        }
        check("Etherische olie van lavendel", "essential lavender oil");
        check("Pfefferminzwasser", "peppermint water");
        check("Rosenhydrolat", "rose water");
        check("Proteína de arroz hidrolizada", "hydrolyzed protein rice");
        check("Weizenproteinhydrolysat 20 %", "hydrolyzed protein wheat");
        check("zwarte komijnolie", "black cumin oil");
        check("Walnussschalenpulver", "shell walnut");
        check("Abrikozenpitpoeder", "apricot kernel");
        assert_eq!(short_key(&english("FD&C Blue No. 1")), "1 blue");
        assert_eq!(short_key(&english("walnut scrub")), "walnut");
        check("walnut scrub", "");
        check("Olio di moringa", "moringa oil");
        // Nothing is taken apart that is no word of several.
        check("Sorbitol", "sorbitol");
        check("Menthol", "menthol");
        check("Vitamin D", "d vitamin");
        check("Vitamina E acetato", "acetate e vitamina");
        check("olio di vinacciolo", "grape oil seed");
        check("olio di girasola", "oil sunflower");
        check(
            "oliwinian cetearylu i sorbitanu",
            "cetearyl olivate sorbitan",
        );
        check("Dinatriumcocoylglutamat 27 %", "cocoyl disodium glutamate");
        check(
            "Cocoyl glutamate disodique 27 %",
            "cocoyl disodium glutamate",
        );
        check(
            "Gliceril estearato y PEG-100 estearato",
            "100 glyceryl peg stearate",
        );
    }
}
