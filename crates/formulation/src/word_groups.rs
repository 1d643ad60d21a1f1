//! Finding the groups to which an ingredient name belongs, by whole words.

use crate::name_hash::{ByHash, folded_hash};

/// Longest name in words; what stands behind is not looked at.
const MOST_WORDS: usize = 24;

/// Patterns of words and the group that each stands for.
///
/// A pattern is one or more words that stand side by side in a name; one that begins with `=` is
/// the whole name. Case and signs between words do not matter.
#[derive(Debug, Default)]
pub(crate) struct WordGroups {
    by_first: ByHash<Vec<Pattern>>,
}

#[derive(Debug)]
struct Pattern {
    words: Vec<u64>,
    whole: bool,
    group: usize,
}

impl WordGroups {
    /// Lays up patterns with the number of their group, below 128.
    pub fn new<'a>(patterns: impl IntoIterator<Item = (&'a str, usize)>) -> Self {
        let mut by_first: ByHash<Vec<Pattern>> = ByHash::default();
        for (pattern, group) in patterns {
            let words: Vec<u64> = words(pattern).collect();
            if let Some(&first) = words.first() {
                by_first.entry(first).or_default().push(Pattern {
                    words,
                    whole: pattern.starts_with('='),
                    group,
                });
            }
        }
        Self { by_first }
    }

    /// The groups of a name, one bit each.
    pub fn of(&self, name: &str) -> u128 {
        let mut buffer = [0_u64; MOST_WORDS];
        let mut count = 0;
        for (place, word) in buffer.iter_mut().zip(words(name)) {
            *place = word;
            count += 1;
        }
        let words = buffer.get(..count).unwrap_or_default();
        let mut found = 0;
        for (at, first) in words.iter().enumerate() {
            for pattern in self.by_first.get(first).into_iter().flatten() {
                let fits = if pattern.whole {
                    at == 0 && words == pattern.words
                } else {
                    words
                        .get(at..)
                        .is_some_and(|w| w.starts_with(&pattern.words))
                };
                if fits {
                    found |= 1 << pattern.group;
                }
            }
        }
        found
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
        let groups = WordGroups::new([
            ("zinc oxide", 0),
            ("isethionate", 1),
            ("=Salicylic Acid", 2),
            ("eth", 3),
        ]);
        assert_eq!(groups.of("CI 77947 (Zinc-Oxide)"), 1);
        assert_eq!(groups.of("Sodium Cocoyl Isethionate"), 2);
        assert_eq!(groups.of("salicylic acid"), 4);
        assert_eq!(groups.of("Capryloyl Salicylic Acid"), 0);
        assert_eq!(groups.of("Laureth-4 Zinc"), 0);
    }
}
