//! Phases as tables name them: by a letter, by words, with a temperature. The words are those
//! of `assets/names/phases.ron`.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;

use crate::amount::{Measure, typed};
use crate::material::PhaseKind;
use crate::plain_words::words_of;
use crate::quantity::{self, Temperature};

/// A phase of the recipe.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct ProposedPhase {
    /// Letter.
    pub letter: String,
    /// What it is for, in the words of the table.
    pub purpose: String,
    /// Working temperature.
    pub temperature: Option<Temperature>,
    /// Kind as told by its words.
    pub kind: Option<PhaseKind>,
}

const TEXT: &str = include_str!("../../../../../assets/names/phases.ron");

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    called: Vec<String>,
    endings: Vec<String>,
    alone: Vec<String>,
    behind_a: Vec<String>,
    cold: Vec<String>,
    hot: Vec<String>,
    kinds: BTreeMap<String, Vec<String>>,
}

/// Read on first use. A list that cannot be read is empty, which the test below does not let
/// pass.
fn lists() -> &'static Lists {
    static LISTS: OnceLock<Lists> = OnceLock::new();
    LISTS.get_or_init(|| ron::from_str(TEXT).unwrap_or_default())
}

fn kind_of_words(words: &[String]) -> Option<PhaseKind> {
    words.iter().find_map(|word| {
        PhaseKind::ALL.into_iter().find(|kind| {
            let known = lists().kinds.get(kind.label());
            known.is_some_and(|known| known.contains(word))
        })
    })
}

/// Whether words say nothing but how warm something is worked: "a freddo", "kalt".
fn is_by_warmth(words: &[String]) -> bool {
    let said = words.join(" ");
    lists().cold.contains(&said) || lists().hot.contains(&said)
}

/// Whether a word is "phase" or ends with it, as "Wasserphase" does.
pub(super) fn is_phase(word: &str) -> bool {
    /// Longer words are names that only end so.
    const LONGEST: usize = 16;
    lists().called.iter().any(|w| w == word)
        || word.len() <= LONGEST
            && lists()
                .endings
                .iter()
                .any(|end| word.ends_with(end.as_str()))
}

/// Whether a word of a text says what a phase is for: "oily", "cool down".
pub(super) fn is_for_a_phase(text: &str) -> bool {
    kind_of_words(&words_of(text)).is_some()
}

/// Whether a text has the word "phase" in it.
pub(super) fn says_phase(text: &str) -> bool {
    words_of(text).iter().any(|word| is_phase(word))
}

/// The phase that a row of text without an amount begins: "Phase B (75 °C)", "Oil
/// phase", "B", "Wasserphase".
pub(super) fn phase_heading(text: &str) -> Option<ProposedPhase> {
    if text.len() > 80 {
        return None;
    }
    let words = words_of(text);
    let names_phase = words.iter().any(|w| is_phase(w));
    // "A", "A (75 °C)" and "A, 70–75°C".
    let is_degrees = |word: &String| {
        word.bytes().all(|b| b.is_ascii_digit()) || matches!(word.as_str(), "c" | "f")
    };
    let letter_alone = match words.as_slice() {
        [one] => one.chars().count() == 1,
        [one, rest @ ..] => {
            (one.chars().count() == 1 || is_roman(one))
                && text.contains('°')
                && rest.iter().all(is_degrees)
                // "75 °C" alone is of no phase.
                && rest.iter().any(|word| word.bytes().any(|b| b.is_ascii_digit()))
        }
        [] => false,
    };
    // "Cool down below 40 °C", "Surfactants", "Oils": no material goes by such a word.
    let speaks_for_itself = words.first().is_some_and(|first| {
        let kind = kind_of_words(std::slice::from_ref(first));
        lists().alone.contains(first)
            || matches!(
                kind,
                Some(PhaseKind::CoolDown | PhaseKind::Adjust | PhaseKind::Surfactant)
            )
    });
    if speaks_for_itself && words.len() <= 5 || is_by_warmth(&words) {
        return Some(phase_of_cell(text));
    }
    if !(names_phase && words.len() <= 8 || letter_alone) {
        return None;
    }
    // A sentence of the method mentions phases too: "Heat phase A to 75".
    let first = words.first()?;
    let begins = letter_alone
        || is_phase(first)
        // "C. Afkoelfase".
        || first.chars().count() == 1 && words.len() <= 3
        // "C. Phase de refroidissement": the sign behind the letter tells it from an article.
        || text.trim().chars().nth(1).is_some_and(|sign| matches!(sign, '.' | ')' | ':'))
            && first.chars().count() == 1
            && words.len() <= 6
        || kind_of_words(std::slice::from_ref(first)).is_some() && words.len() <= 6
        || kind_of_words(&words).is_some() && words.len() <= 4;
    begins.then(|| phase_of_cell(text))
}

/// Whether what stands alone in a column of phases begins one: a letter or a few
/// words such as "Oils", and not the first words of the method.
pub(super) fn names_a_phase(text: &str) -> bool {
    let words = words_of(text);
    match words.as_slice() {
        [] => false,
        [one] if one.chars().count() <= 2 => true,
        words => words.len() <= 3 && kind_of_words(words).is_some(),
    }
}

/// The letters in a cell of phases that names several: "A, C", "A/B", "A + C".
pub(super) fn letters_in(text: &str) -> Vec<String> {
    let parts: Vec<&str> = text
        .split([',', '/', '+', '&', ';'])
        .map(str::trim)
        .collect();
    let is_letter =
        |part: &&str| part.chars().count() == 1 && part.chars().all(char::is_alphanumeric);
    if parts.iter().all(is_letter) {
        parts.into_iter().map(str::to_uppercase).collect()
    } else {
        Vec::new()
    }
}

/// The phase that a text names.
pub(super) fn phase_of_cell(text: &str) -> ProposedPhase {
    // Without the marks of a heading or of bold letters.
    let text = text.trim().trim_matches(['*', '#', '_']).trim();
    let words = words_of(text);
    let letter = letter_of(&words).map(str::to_uppercase);
    ProposedPhase {
        kind: kind_of_words(&words).or_else(|| {
            let cold = lists().cold.contains(&words.join(" "));
            cold.then_some(PhaseKind::CoolDown)
        }),
        temperature: temperature_in(text),
        purpose: match &letter {
            Some(letter) => purpose_without_letter(text, letter),
            None => text.trim().to_owned(),
        },
        letter: letter.unwrap_or_default(),
    }
}

/// The letter or number of a phase: what follows the word "phase", else a first word as
/// short as "A", "B1" or "2". The degrees in "Oil phase 75 °C" are neither.
fn letter_of(words: &[String]) -> Option<&str> {
    let short = |place: usize| {
        let word = words.get(place)?.as_str();
        let digits = word.bytes().all(|b| b.is_ascii_digit());
        let degrees = digits && words.get(place + 1).is_some_and(|w| w == "c" || w == "f");
        let count = word.chars().count();
        let behind_a = word == "a"
            && words
                .get(place + 1)
                .is_some_and(|w| lists().behind_a.contains(w));
        let fits =
            count == 1 || count == 2 && word.bytes().any(|b| b.is_ascii_digit()) || is_roman(word);
        (fits && !degrees && !behind_a).then_some(word)
    };
    let named = words
        .iter()
        .position(|w| is_phase(w))
        .and_then(|place| short(place + 1));
    named.or_else(|| short(0)).or_else(|| match words {
        // "Öl" is what it is for.
        [only] if only.chars().count() <= 2 && kind_of_words(words).is_none() => Some(only),
        _ => None,
    })
}

/// A Roman number from II to XII; "I" and "V" are letters anyway.
pub(super) fn is_roman(word: &str) -> bool {
    word.len() > 1 && roman_place(&word.to_uppercase()).is_some()
}

/// The place of a Roman number from I to XII, from 0.
pub(super) fn roman_place(word: &str) -> Option<u8> {
    let all = [
        "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII",
    ];
    (0..).zip(all).find(|(_, one)| *one == word).map(|(n, _)| n)
}

/// The letters of phases in a column that numbers the lines within each: "A1", "A2", "B1".
/// `None` if what stands in it are other codes. Whether it is certain: "A1", "B1", "C1" may be
/// the names of phases of one line each.
pub(super) fn letters_of_items(cells: &[String]) -> Option<(Vec<String>, bool)> {
    let mut letters: Vec<String> = Vec::new();
    let mut last: Option<(char, u32)> = None;
    for cell in cells {
        let mut signs = cell.trim().chars();
        let letter = signs.next().filter(char::is_ascii_alphabetic)?;
        let number: u32 = signs
            .as_str()
            .trim_start_matches(['.', '-', ' '])
            .parse()
            .ok()?;
        let goes_on = match last {
            Some((known, before)) if known == letter => number == before + 1,
            Some((known, _)) => number == 1 && letter > known,
            None => number == 1,
        };
        if !goes_on {
            return None;
        }
        last = Some((letter, number));
        letters.push(letter.to_ascii_uppercase().to_string());
    }
    let counted = letters.windows(2).any(|w| matches!(w, [a, b] if a == b));
    let several = letters.first() != letters.last();
    // "T1", "T2", "T3" are article numbers.
    if !several && letters.first().is_none_or(|letter| letter != "A") {
        return None;
    }
    let certain = counted && several && letters.len() > 2;
    (letters.len() > 1).then_some((letters, certain))
}

fn purpose_without_letter(text: &str, letter: &str) -> String {
    let rest: Vec<&str> = text
        .split_whitespace()
        .filter(|w| {
            let plain: String = w.chars().filter(|c| c.is_alphanumeric()).collect();
            !plain.is_empty()
                && !plain.eq_ignore_ascii_case(letter)
                && !lists().called.iter().any(|w| plain.eq_ignore_ascii_case(w))
        })
        .collect();
    rest.join(" ")
        .trim_matches(['(', ')', ':', '-', '–'])
        .to_owned()
}

/// A temperature such as "75 °C" or "167°F".
fn temperature_in(text: &str) -> Option<Temperature> {
    let place = text.find('°')?;
    let before = text.get(..place)?.trim_end();
    let start = before
        .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map_or(0, |p| {
            p + before
                .get(p..)
                .and_then(|s| s.chars().next())
                .map_or(1, char::len_utf8)
        });
    let degrees = typed::value(before.get(start..)?, &Measure::NUMBER).ok()?;
    let fahrenheit = text
        .get(place..)?
        .trim_start_matches(['°', ' '])
        .starts_with(['F', 'f']);
    let celsius = if fahrenheit {
        (degrees - 32.0) / 1.8
    } else {
        degrees
    };
    (-30.0..=200.0)
        .contains(&celsius)
        .then(|| quantity::celsius(celsius))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::in_celsius;

    fn check(text: &str, expected: Option<(&str, Option<PhaseKind>, Option<f64>)>) {
        let found = phase_heading(text).map(|p| {
            let celsius = p.temperature.map(|t| in_celsius(t).round());
            (p.letter, p.kind, celsius)
        });
        let expected = expected.map(|(l, k, t)| (l.to_owned(), k, t));
        assert_eq!(found, expected, "{text}");
    }

    #[test]
    fn the_lists_are_read_and_folded() {
        let lists: Lists = ron::from_str(TEXT).unwrap();
        for (kind, words) in &lists.kinds {
            assert!(PhaseKind::ALL.iter().any(|k| k.label() == kind), "{kind}");
            assert!(!words.is_empty(), "{kind}");
        }
        let of_kinds = lists.kinds.values().flatten();
        let all = [
            &lists.called,
            &lists.endings,
            &lists.alone,
            &lists.cold,
            &lists.hot,
        ];
        for word in all.into_iter().flatten().chain(of_kinds) {
            assert_eq!(words_of(word).join(" "), *word);
        }
    }

    #[test]
    fn headings_of_phases_are_told_from_other_rows() {
        let a = |kind, t| Some(("A", kind, t));
        check("Phase A", a(None, None));
        check(
            "Phase A - Water phase (75°C)",
            a(Some(PhaseKind::Water), Some(75.0)),
        );
        check("A", a(None, None));
        check("Phase 2 75 °C", Some(("2", None, Some(75.0))));
        check("Phase B1: oils", Some(("B1", Some(PhaseKind::Oil), None)));
        check(
            "Oil phase at 75 °C",
            Some(("", Some(PhaseKind::Oil), Some(75.0))),
        );
        check(
            "Oil phase 75 °C",
            Some(("", Some(PhaseKind::Oil), Some(75.0))),
        );
        check(
            "Cool down below 40°C",
            Some(("", Some(PhaseKind::CoolDown), Some(40.0))),
        );
        check(
            "C. Phase de refroidissement",
            Some(("C", Some(PhaseKind::CoolDown), None)),
        );
        check("A freddo", Some(("", Some(PhaseKind::CoolDown), None)));
        check("En frío", Some(("", Some(PhaseKind::CoolDown), None)));
        check("À chaud", Some(("", None, None)));
        assert_eq!(letters_in("A, c"), ["A", "C"]);
        assert!(letters_in("A1/A2").is_empty() && letters_in("oil").is_empty());
        check("Surfactants", Some(("", Some(PhaseKind::Surfactant), None)));
        check("A (75 °C)", a(None, Some(75.0)));
        check("A, 70–75°C", a(None, Some(75.0)));
        check("II (75 °C)", Some(("II", None, Some(75.0))));
        for text in [
            "Water",
            "75 °C",
            "Oil",
            "Guar gum",
            "Heat phase A to 75 °C",
            "A phase of stirring follows",
            "Cool down to 40 °C, then stir in phase C slowly",
        ] {
            check(text, None);
        }
    }
}
