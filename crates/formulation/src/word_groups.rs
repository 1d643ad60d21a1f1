//! Finding the groups to which an ingredient name belongs, by whole words.

use std::ops::{BitOr, BitOrAssign};

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

/// A set of groups by their numbers, which are below [`Self::MOST`].
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(crate) struct Groups([u64; Self::WORDS]);

impl Groups {
    const WORDS: usize = 4;
    /// Most groups that are told apart.
    pub const MOST: usize = 64 * Self::WORDS;

    /// One group alone.
    pub fn one(group: usize) -> Self {
        let mut one = Self::default();
        if let Some(word) = one.0.get_mut(group / 64) {
            *word = 1 << (group % 64);
        }
        one
    }
    /// Whether a group is among them.
    pub fn has(self, group: usize) -> bool {
        let word = self.0.get(group / 64).copied().unwrap_or(0);
        word & 1 << (group % 64) != 0
    }
    /// Those that are not among the others.
    pub fn without(mut self, other: Self) -> Self {
        for (own, out) in self.0.iter_mut().zip(other.0) {
            *own &= !out;
        }
        self
    }
    /// Their numbers, in order.
    pub fn iter(self) -> impl Iterator<Item = usize> {
        self.0.into_iter().enumerate().flat_map(|(at, mut word)| {
            std::iter::from_fn(move || {
                let bit = word.trailing_zeros() as usize;
                (word != 0).then(|| {
                    word &= word - 1;
                    64 * at + bit
                })
            })
        })
    }
}

impl BitOr for Groups {
    type Output = Self;
    fn bitor(mut self, other: Self) -> Self {
        self |= other;
        self
    }
}

impl BitOrAssign for Groups {
    fn bitor_assign(&mut self, other: Self) {
        for (own, more) in self.0.iter_mut().zip(other.0) {
            *own |= more;
        }
    }
}

impl FromIterator<usize> for Groups {
    fn from_iter<I: IntoIterator<Item = usize>>(groups: I) -> Self {
        let ones = groups.into_iter().map(Self::one);
        ones.fold(Self::default(), BitOr::bitor)
    }
}

/// What the patterns say of a name.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(crate) struct Told {
    /// Groups it belongs to by its words.
    pub is: Groups,
    /// Groups that its words keep it out of.
    pub is_not: Groups,
}

#[derive(Debug)]
struct Pattern {
    words: Vec<u64>,
    whole: bool,
    excludes: bool,
    group: usize,
}

impl WordGroups {
    /// Lays up patterns with the number of their group, below [`Groups::MOST`], and those that exclude.
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
                    told.is_not |= Groups::one(pattern.group);
                } else if fits {
                    told.is |= Groups::one(pattern.group);
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
        assert_eq!(is("CI 77947 (Zinc-Oxide)"), Groups::one(0));
        assert_eq!(is("Sodium Cocoyl Isethionate"), Groups::one(1));
        assert_eq!(is("salicylic acid"), Groups::one(2));
        assert_eq!(is("Capryloyl Salicylic Acid"), Groups::default());
        assert_eq!(is("Laureth-4 Zinc"), Groups::default());
        let zinc = Groups::one(0);
        let told = Told {
            is: zinc,
            is_not: zinc,
        };
        assert_eq!(groups.of("Zinc Oxide (nano)"), told);
    }

    #[test]
    fn a_set_of_groups_holds_what_was_put_in() {
        let numbers = [0, 63, 64, 130, 255];
        let set: Groups = numbers.into_iter().collect();
        assert!(set.iter().eq(numbers));
        assert!((0..Groups::MOST).all(|g| set.has(g) == numbers.contains(&g)));
        let some = Groups::one(130) | Groups::one(7);
        assert!(set.without(some).iter().eq([0, 63, 64, 255]));
        assert_eq!(Groups::one(Groups::MOST), Groups::default());
    }
}
