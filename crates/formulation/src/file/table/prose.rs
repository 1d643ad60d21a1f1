//! Recipes told in sentences: "Heat 70 g water with 5 g glycerin, then stir in 2 g xanthan
//! gum." What a sentence names is read out of it and always asked about; the sentence itself
//! stays as what is to be done.

use super::amounts::{self, AmountReading, WrittenAmount};
use super::items::{Item, items};
use super::words::{is_verb, words};
use crate::amount::number::{DecimalMark, is_rough};
use crate::naming::{is_known_name, words_of};

/// Most words of a name within a sentence.
const MOST_WORDS: usize = 6;

/// A word of a sentence.
#[derive(Clone, Copy)]
struct Token<'t> {
    /// With its marks.
    text: &'t str,
    start: usize,
}

impl<'t> Token<'t> {
    fn end(self) -> usize {
        self.start + self.text.len()
    }
    /// Without the marks around it.
    fn bare(self) -> &'t str {
        self.text
            .trim_matches(|c: char| matches!(c, ',' | '.' | ';' | ':' | '(' | ')' | '!' | '?'))
    }
    fn ends_something(self) -> bool {
        self.text
            .ends_with([',', '.', ';', ':', ')', '!', '?', '–', '—'])
    }
    fn folded(self) -> String {
        words_of(self.bare()).concat()
    }
    /// A word at which the name of a material ends.
    fn stops(self) -> bool {
        let folded = self.folded();
        // "Vitamin E" goes on.
        let letter = matches!(self.bare().as_bytes(), [b'B'..=b'Z']);
        !letter && words().joints.contains(&folded) || is_verb(&folded)
    }
    fn is_number(self) -> bool {
        self.bare().starts_with(|c: char| c.is_ascii_digit())
    }
}

fn tokens(text: &str) -> Vec<Token<'_>> {
    let mut found = Vec::new();
    let mut start = None;
    for (place, letter) in text.char_indices() {
        match (letter.is_whitespace(), start) {
            (true, Some(from)) => {
                found.push(Token {
                    text: text.get(from..place).unwrap_or_default(),
                    start: from,
                });
                start = None;
            }
            (false, None) => start = Some(place),
            _ => {}
        }
    }
    if let Some(from) = start {
        found.push(Token {
            text: text.get(from..).unwrap_or_default(),
            start: from,
        });
    }
    found
}

/// An amount in a sentence: the words it takes up and what it says.
struct Amount {
    from: usize,
    to: usize,
    reading: AmountReading,
}

/// The amounts in a sentence that name a unit.
fn amounts_in(text: &str, words: &[Token<'_>], mark: Option<DecimalMark>) -> Vec<Amount> {
    let mut found = Vec::new();
    let mut n = 0;
    while let Some(first) = words.get(n) {
        let amount = (1..=4).rev().find_map(|count| {
            let last = words.get(n + count - 1)?;
            // An amount ends where a clause does.
            let within = words.get(n..n + count - 1)?;
            if !first.is_number() || within.iter().any(|w| w.ends_something()) {
                return None;
            }
            let part = text.get(first.start..last.end())?;
            let part = part
                .trim_matches(['(', ')', ',', ';', ':'])
                .trim_end_matches('.');
            let reading = amounts::read(part, None, mark).ok()?;
            (!matches!(
                reading.written,
                WrittenAmount::Bare(_) | WrittenAmount::Qs(_)
            ))
            .then_some(Amount {
                from: n,
                to: n + count,
                reading,
            })
        });
        n = amount.as_ref().map_or(n + 1, |a| a.to);
        found.extend(amount);
    }
    found
}

/// The materials that a sentence names with their amounts.
pub(super) fn named_in(text: &str, mark: Option<DecimalMark>) -> Vec<Item> {
    let all = tokens(text);
    let amounts = amounts_in(text, &all, mark);
    let name_of = |range: &[Token<'_>]| -> Option<String> {
        let (first, last) = (range.first()?, range.last()?);
        let name = text.get(first.start..last.end())?;
        let name = name.trim_matches(|c: char| {
            c.is_whitespace() || matches!(c, ',' | '.' | ';' | ':' | '(' | ')' | '!' | '?')
        });
        let name = ["d'", "d’", "l'", "l’"]
            .iter()
            .find_map(|article| name.strip_prefix(article))
            .unwrap_or(name);
        name.contains(char::is_alphabetic).then(|| name.to_owned())
    };
    amounts
        .iter()
        .enumerate()
        .filter_map(|(n, amount)| {
            let next = amounts.get(n + 1).map_or(all.len(), |a| a.from);
            let ends = amount
                .to
                .checked_sub(1)
                .and_then(|at| all.get(at))
                .is_some_and(|w| w.ends_something());
            let after = all.get(amount.to..next).unwrap_or_default();
            // "of the olive oil", "de agua".
            let skipped = after
                .iter()
                .take_while(|w| words().articles.contains(&w.folded()))
                .count();
            let after = after.get(skipped..).unwrap_or_default();
            let mut count = 0;
            for word in after.iter().take(MOST_WORDS) {
                if word.stops() || word.text.starts_with('(') {
                    break;
                }
                count += 1;
                if word.ends_something() {
                    break;
                }
            }
            let name = if ends {
                None
            } else {
                name_of(after.get(..count)?)
            };
            // "the water (70 g)".
            let name = name.or_else(|| {
                let before = all.get(
                    n.checked_sub(1)
                        .and_then(|m| amounts.get(m))
                        .map_or(0, |a| a.to)..amount.from,
                )?;
                let count = before
                    .iter()
                    .rev()
                    .take(MOST_WORDS)
                    .enumerate()
                    .take_while(|(at, w)| !(w.stops() || *at > 0 && w.ends_something()))
                    .count();
                let range = before.get(before.len() - count..)?;
                let articles = range
                    .iter()
                    .take_while(|w| words().articles.contains(&w.folded()))
                    .count();
                name_of(range.get(articles..)?)
            })?;
            let folded = words_of(&name);
            let of_batch = folded.iter().all(|w| words().batch.contains(w));
            (!of_batch).then(|| Item {
                name,
                reading: amount.reading.clone(),
            })
        })
        .collect()
}

/// Whether a text tells what is done with amounts that a list does not have.
pub(super) fn is_prose(text: &str, mark: Option<DecimalMark>) -> bool {
    let tokens = tokens(text);
    if tokens.len() < 5 || !tokens.iter().any(|w| is_verb(&w.folded())) {
        return false;
    }
    let named = named_in(text, mark).len();
    named > 0 && {
        let listed = items(text, mark, false).lines;
        listed.len() < named
            // "Melt 20 g wax" is a sentence, whatever a list would make of it.
            || listed.iter().any(|item| {
                !is_known_name(&item.name) && words_of(&item.name).iter().any(|w| is_verb(w))
            })
    }
}

/// Whether the recipe of a text is told in sentences: some tell it, and besides the title no
/// other line has a number, as those of a list have.
pub(super) fn is_told<'t>(lines: impl Iterator<Item = &'t str>, mark: Option<DecimalMark>) -> bool {
    let mut told = false;
    for (n, line) in lines.map(str::trim).filter(|l| !l.is_empty()).enumerate() {
        if is_prose(line, mark) {
            told = true;
        } else if n > 0 && line.contains(|c: char| c.is_ascii_digit())
            || !items(line, mark, false).lines.is_empty()
        {
            return false;
        }
    }
    told
}

/// The sentences of a text.
pub(super) fn sentences(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut start = 0;
    for (place, _) in text.match_indices(". ") {
        let next = text.get(place + 2..).unwrap_or_default();
        let next = next.trim_start();
        // "approx. 70", "ca. 5".
        let before = text.get(start..place).unwrap_or_default();
        let rough = || {
            let last = before.rsplit(' ').next().unwrap_or_default();
            is_rough(&words_of(last).concat())
        };
        let begins = next.starts_with(char::is_uppercase)
            || next.starts_with(|c: char| c.is_ascii_digit()) && !rough();
        if begins {
            found.push(text.get(start..=place).unwrap_or_default().trim());
            start = place + 2;
        }
    }
    found.push(text.get(start..).unwrap_or_default().trim());
    found.retain(|s| !s.is_empty());
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &[&str]) {
        let named: Vec<String> = named_in(text, None).into_iter().map(|i| i.name).collect();
        assert_eq!(named, expected, "{text}");
    }

    #[test]
    fn sentences_name_materials() {
        check(
            "Heat 70 g water with 5 g glycerin, then stir in 2 g xanthan gum.",
            &["water", "glycerin", "xanthan gum"],
        );
        check(
            "Melt 20 g of the beeswax and 60 g olive oil over a water bath at 70 °C for 10 minutes.",
            &["beeswax", "olive oil"],
        );
        check("Warm the olive oil (60 g) gently.", &["olive oil"]);
        check(
            "70 g destilliertes Wasser mit 5 g Glycerin auf 75 °C erwärmen.",
            &["destilliertes Wasser", "Glycerin"],
        );
        check(
            "Faire fondre 15 g de cire d'abeille dans 60 g d'huile d'olive.",
            &["cire d'abeille", "huile d'olive"],
        );
        check("Makes a batch of 500 g.", &[]);
        assert!(is_prose("Melt 20 g beeswax with 60 g olive oil.", None));
        assert!(!is_prose("Olive oil, extra virgin 350 g (70 %)", None));
        assert!(!is_prose("Phase A: 70 % water, 5 % glycerin", None));
        assert!(!is_told(
            ["Water 70 g", "Heat 70 g water with 5 g glycerin."].into_iter(),
            None
        ));
        assert_eq!(sentences("Melt it. Add approx. 5 g oil. Pour.").len(), 3);
    }
}
