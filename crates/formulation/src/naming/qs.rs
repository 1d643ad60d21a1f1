//! "q.s.": as much as is needed, in its many spellings. Report, import and window
//! understand the same ones.

use rust_decimal::Decimal;

use super::fold::words_of;
use super::words::words;
use crate::amount::number;

/// A "q.s." and whether it fills up to the whole, says nothing, or is for an effect.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Qs {
    /// "q.s. 100", "ad 100 %", "to 500", "rest", "balance", with the number if one
    /// stands there.
    ToWhole(Option<Decimal>),
    /// "q.s." alone.
    Plain,
    /// "q.s. to pH 5.5", "as needed".
    Effect,
}

/// Whether a text stands for "as much as is needed".
pub fn is_qs(text: &str) -> bool {
    quantum_satis(text).is_some()
}

/// What a text says, if it is a "q.s.".
pub fn quantum_satis(text: &str) -> Option<Qs> {
    let lists = words();
    let text = text.trim();
    // A number in front is an amount.
    if text.is_empty() || text.len() > 60 || text.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    // "Auf 40 °C abkühlen" fills nothing up.
    if text.contains('°') {
        return None;
    }
    // "A-12" is a code.
    let signs: Vec<char> = text.chars().collect();
    let is_code = |w: &[char]| matches!(w, [a, '-', b] if a.is_alphabetic() && b.is_ascii_digit());
    if !text.contains(' ') && signs.windows(3).any(is_code) {
        return None;
    }
    let number = number_in(text);
    let mut letters: Vec<String> = words_of(text)
        .into_iter()
        .flat_map(|word| split_number(&word))
        .filter(|w| w.chars().any(char::is_alphabetic))
        // Units, and what is left of "w/w".
        .filter(|w| !lists.units.contains(w))
        .collect();
    join_single_letters(&mut letters);
    let of_phrase = |w: &str| {
        let phrases = lists.quantum_satis.iter().filter(|p| p.contains(' '));
        phrases.flat_map(|p| p.split(' ')).any(|part| part == w)
    };
    let known = |w: &String| {
        lists.quantum_satis.contains(w)
            || lists.rest.contains(w)
            || lists.filling.contains(w)
            || lists.needed.contains(w)
            || lists.effect.contains(w)
            || lists.beside.contains(w)
            || of_phrase(w)
    };
    // A word of those that fill up, cut short: "uzup. do 100 %", "aufgef. auf 100".
    if let [first, second, ..] = letters.as_slice()
        && lists.filling.contains(second)
        && first.len() > 2
        && lists.filling.iter().any(|w| w.starts_with(first.as_str()))
    {
        letters.remove(0);
    }
    let has = |list: &std::collections::HashSet<String>| letters.iter().any(|w| list.contains(w));
    let joined = letters.join(" ");
    let says_qs = has(&lists.quantum_satis)
        || lists
            .quantum_satis
            .iter()
            .any(|p| p.contains(' ') && joined.starts_with(p.as_str()));
    let says_rest = has(&lists.rest);
    // "pH" alone is what something is for, not how much.
    let for_effect = has(&lists.needed) || has(&lists.effect) && letters.len() > 1;
    let all_known = letters.iter().all(known);
    // "q.s. perfume" is a q.s., "Water q.s." a name with one.
    let begins = letters.first().is_some_and(known);
    if !begins {
        return None;
    }
    if for_effect && (says_qs || says_rest || all_known) {
        return Some(Qs::Effect);
    }
    if letters.is_empty() || !(all_known || says_qs) {
        return None;
    }
    // "q.s. perfume" is still a q.s.; "rest of the oils" is a name.
    if says_rest && all_known {
        return Some(Qs::ToWhole(number));
    }
    if says_qs {
        // Words that say that it fills: "qsp", "q.s. ad".
        let fills = number.is_some() || has(&lists.fills);
        return Some(if fills {
            Qs::ToWhole(number)
        } else {
            Qs::Plain
        });
    }
    // "ad 100", "up to 500 g", "auffüllen auf 100 %"; "to" alone is no amount. A whole
    // below 10 is the other end of a range.
    let whole = number.filter(|n| *n >= Decimal::TEN);
    let filling = letters.first().is_some_and(|w| {
        lists.filling.contains(w)
            && !matches!(
                w.as_str(),
                "the" | "of" | "with" | "mit" | "weight" | "batch" | "total" | "final"
            )
    });
    (filling && whole.is_some()).then_some(Qs::ToWhole(whole))
}

/// "100g" as "100" and "g".
fn split_number(word: &str) -> Vec<String> {
    let digits = word.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = word.split_at(digits);
    let mut parts: Vec<String> = [number, rest]
        .into_iter()
        .filter(|p| !p.is_empty())
        .map(str::to_owned)
        .collect();
    // "qs100", "ad100".
    if digits == 0
        && let Some(at) = word.find(|c: char| c.is_ascii_digit())
    {
        let (word, number) = word.split_at(at);
        parts = vec![word.to_owned(), number.to_owned()];
    }
    parts
}

/// "q.s.p." is three words of one letter; they are one.
fn join_single_letters(words: &mut Vec<String>) {
    let mut joined: Vec<String> = Vec::with_capacity(words.len());
    let mut open = false;
    for word in words.drain(..) {
        let single = word.chars().count() == 1;
        let goes_on = single && matches!(word.as_str(), "q" | "s" | "p" | "b" | "c" | "f" | "n");
        match joined.last_mut() {
            Some(last) if open && goes_on => last.push_str(&word),
            _ => joined.push(word),
        }
        open = goes_on;
    }
    *words = joined;
}

/// The first number of a text; thousands are not divided in a q.s.
fn number_in(text: &str) -> Option<Decimal> {
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let rest = text.get(start..)?;
    let end = rest
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .unwrap_or(rest.len());
    let text = rest.get(..end)?.trim_end_matches(['.', ',']);
    number::amount(text, None).ok().map(|a| a.value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spelling_is_known() {
        for text in [
            "q.s. ad 100",
            "qs 100",
            "ad 100 %",
            "uzup. do 100 %",
            "aufgef. auf 100",
            "to 100",
            "QSP 100",
            "q.b. a 100",
            "q.s. to 100",
            "c.s.p. 100",
            "balance to 100",
            "rest to 100",
            "make up to 100",
            "auffüllen auf 100 %",
            "up to 100",
            "qs100",
            "q.s. 100 g",
            "completer à 100",
            "hasta 100",
            "do 100 %",
            "aanvullen tot 100",
            "q.s.p. 100",
            "qs to 100%",
        ] {
            assert_eq!(
                quantum_satis(text),
                Some(Qs::ToWhole(Some(Decimal::ONE_HUNDRED))),
                "{text}"
            );
        }
        assert_eq!(
            quantum_satis("to 500"),
            Some(Qs::ToWhole(Some(Decimal::from(500))))
        );
        for text in ["Rest", "balance", "Restmenge", "reste", "(balance)"] {
            assert_eq!(quantum_satis(text), Some(Qs::ToWhole(None)), "{text}");
        }
        for text in [
            "q.s.",
            "QS",
            "q. s.",
            "qs %",
            "(q.s.)",
            "quantum satis",
            "q.b.",
        ] {
            assert_eq!(quantum_satis(text), Some(Qs::Plain), "{text}");
        }
        for text in [
            "q.s. to pH 5.5",
            "as needed",
            "as needed to pH 5",
            "nach Bedarf",
            "qs for viscosity",
            "trace",
        ] {
            assert_eq!(quantum_satis(text), Some(Qs::Effect), "{text}");
        }
        for text in [
            "5",
            "2 to 3 %",
            "Glycerin",
            "",
            "to 5",
            "a",
            "100",
            "Rest of the oils",
            "Sodium chloride",
            "pH",
            "viscosity",
            "A-12",
            "to-100",
        ] {
            assert_eq!(quantum_satis(text), None, "{text}");
        }
    }
}
