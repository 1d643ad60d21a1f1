//! Finding the groups to which an ingredient name belongs, by whole words.

use crate::name_hash::{ByHash, folded_hash};

/// Longest name in words; what stands behind is not looked at.
const MOST_WORDS: usize = 24;

/// Patterns of words and the group that each stands for, or that it keeps a name out of.
///
/// A pattern is one or more words that stand side by side in a name; one that begins with `=` is
/// the whole name. Case and signs between words do not matter.
#[derive(Debug, Default)]
pub(crate) struct WordGroups {
    by_first: ByHash<Vec<Pattern>>,
}

/// What the patterns say of a name, a bit for each group.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(crate) struct Told {
    /// Groups it belongs to by its words.
    pub is: u128,
    /// Groups that its words keep it out of.
    pub is_not: u128,
}

#[derive(Debug)]
struct Pattern {
    words: Vec<u64>,
    whole: bool,
    excludes: bool,
    group: usize,
}

impl WordGroups {
    /// Lays up patterns with the number of their group, below 128, and those that exclude.
    pub fn new<'a>(
        patterns: impl IntoIterator<Item = (&'a str, usize)>,
        but: impl IntoIterator<Item = (&'a str, usize)>,
    ) -> Self {
        let mut by_first: ByHash<Vec<Pattern>> = ByHash::default();
        let belongs = patterns.into_iter().map(|(p, group)| (p, group, false));
        let excludes = but.into_iter().map(|(p, group)| (p, group, true));
        for (pattern, group, excludes) in belongs.chain(excludes) {
            let words: Vec<u64> = words(pattern).collect();
            if let Some(&first) = words.first() {
                by_first.entry(first).or_default().push(Pattern {
                    words,
                    whole: pattern.starts_with('='),
                    excludes,
                    group,
                });
            }
        }
        Self { by_first }
    }

    /// What the patterns say of a name, which is looked at once.
    pub fn of(&self, name: &str) -> Told {
        let mut buffer = [0_u64; MOST_WORDS];
        let mut count = 0;
        for (place, word) in buffer.iter_mut().zip(words(name)) {
            *place = word;
            count += 1;
        }
        let words = buffer.get(..count).unwrap_or_default();
        let mut told = Told::default();
        for (at, first) in words.iter().enumerate() {
            for pattern in self.by_first.get(first).into_iter().flatten() {
                let fits = if pattern.whole {
                    at == 0 && words == pattern.words
                } else {
                    words
                        .get(at..)
                        .is_some_and(|w| w.starts_with(&pattern.words))
                };
                if fits && pattern.excludes {
                    told.is_not |= 1 << pattern.group;
                } else if fits {
                    told.is |= 1 << pattern.group;
                }
            }
        }
        told
    }
}

fn words(text: &str) -> impl Iterator<Item = u64> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(|word| folded_hash(word.bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_words_are_found_and_parts_are_not() {
        let groups = WordGroups::new(
            [
                ("zinc oxide", 0),
                ("isethionate", 1),
                ("=Salicylic Acid", 2),
                ("eth", 3),
            ],
            [("nano", 0)],
        );
        let is = |name: &str| groups.of(name).is;
        assert_eq!(is("CI 77947 (Zinc-Oxide)"), 1);
        assert_eq!(is("Sodium Cocoyl Isethionate"), 2);
        assert_eq!(is("salicylic acid"), 4);
        assert_eq!(is("Capryloyl Salicylic Acid"), 0);
        assert_eq!(is("Laureth-4 Zinc"), 0);
        assert_eq!(groups.of("Zinc Oxide (nano)"), Told { is: 1, is_not: 1 });
    }
}
