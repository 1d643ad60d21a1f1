//! How far apart two spellings are: letters put in, left out, changed or swapped with
//! a neighbour (optimal string alignment).

use std::ops::RangeInclusive;

use super::fold::words_of;
use crate::search::Pattern;

/// A name made ready to be compared letter by letter.
#[derive(Clone, Debug)]
pub struct Spelling {
    /// Its letters without blanks and marks.
    letters: String,
    /// How many they are.
    count: usize,
    /// Which letters occur, one bit each: two names whose sets differ by more than two
    /// letters an edit cannot be near.
    set: u32,
    /// Its words with digits: "Polysorbate 80" is no misspelling of "Polysorbate 20".
    numbers: Vec<String>,
}

/// Which letters occur, one bit each.
fn set_of(letters: &str) -> u32 {
    letters
        .chars()
        .fold(0, |set, c| set | 1 << (u32::from(c) % 32))
}

impl Spelling {
    /// Prepares a name.
    pub fn of(name: &str) -> Self {
        let words = words_of(name);
        // "Tocoferol" is tocopherol, "glicerin" is glycerin as several languages spell them.
        let letters = words.concat().replace("ph", "f").replace('y', "i");
        Self {
            count: letters.chars().count(),
            set: set_of(&letters),
            letters,
            numbers: words
                .into_iter()
                .filter(|w| w.bytes().any(|b| b.is_ascii_digit()))
                .collect(),
        }
    }

    /// How many letters must be changed to get the other; `None` if more than one in
    /// six. Names of fewer letters are abbreviations, where one letter is another
    /// material: "SLES" is no misspelling of "ALES".
    pub fn edits_to(&self, other: &Self) -> Option<usize> {
        if !self.may_be_near(other) {
            return None;
        }
        let most = self.most_edits();
        Some(strsim::osa_distance(&self.letters, &other.letters)).filter(|edits| *edits <= most)
    }

    /// This one made ready to be compared with many others.
    pub fn ready(&self) -> Ready<'_> {
        Ready {
            spelling: self,
            pattern: Pattern::of(&self.letters),
        }
    }

    const fn most_edits(&self) -> usize {
        self.count / 6
    }

    /// How many letters it has.
    pub(super) const fn count(&self) -> usize {
        self.count
    }

    /// How many letters a name has that may be near.
    pub(super) const fn counts_near(&self) -> RangeInclusive<usize> {
        let most = self.most_edits();
        self.count.saturating_sub(most)..=self.count + most
    }

    /// Whether what is soon seen does not rule out that the other is near.
    fn may_be_near(&self, other: &Self) -> bool {
        let most = self.most_edits();
        self.count.abs_diff(other.count) <= most
            && (self.set ^ other.set).count_ones() as usize <= 2 * most
            && self.numbers == other.numbers
    }
}

/// A name made ready to be compared with many others.
pub struct Ready<'s> {
    spelling: &'s Spelling,
    /// None of a name too long for it.
    pattern: Option<Pattern>,
}

impl Ready<'_> {
    /// As [`Spelling::edits_to`].
    pub fn edits_to(&self, other: &Spelling) -> Option<usize> {
        let Some(pattern) = &self.pattern else {
            return self.spelling.edits_to(other);
        };
        if !self.spelling.may_be_near(other) {
            return None;
        }
        pattern.edits_to(&other.letters, self.spelling.most_edits())
    }
}

/// Whether a word is another one misspelt: one letter from five on, two from nine on. What is
/// meant is taken without asking here, so it is a letter stricter than the search while one types
/// (`search/spelling.rs`), whose list a person looks at.
pub fn is_misspelt(word: &str, of: &str) -> bool {
    let most = match of.chars().count() {
        0..=4 => 0,
        5..=8 => 1,
        _ => 2,
    };
    word.chars().count().abs_diff(of.chars().count()) <= most
        && (set_of(word) ^ set_of(of)).count_ones() as usize <= 2 * most
        && strsim::osa_distance(word, of) <= most
}

/// The names that may be meant by one that is not found, the likest first: those in which two
/// of three letters stay, and those in which a word begins with it.
pub fn nearest<'n>(
    wanted: &str,
    among: impl IntoIterator<Item = &'n str>,
    most: usize,
) -> Vec<&'n str> {
    let letters = |name: &str| words_of(name).concat();
    let wanted = letters(wanted);
    let count = wanted.chars().count();
    let mut near: Vec<(f64, &str)> = Vec::new();
    for name in among {
        let words = words_of(name);
        let begins = count >= 3 && words.iter().any(|word| word.starts_with(&wanted));
        let full = words.concat();
        let longer = full.chars().count().max(count).max(1);
        // Names whose lengths differ by more than a third are not near.
        let apart = if full.chars().count().abs_diff(count) * 3 > longer {
            1.0
        } else {
            strsim::osa_distance(&full, &wanted) as f64 / longer as f64
        };
        let apart = if begins { apart.min(0.3) } else { apart };
        if apart <= 1.0 / 3.0 && !near.iter().any(|(_, known)| *known == name) {
            near.push((apart, name));
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    near.into_iter().take(most).map(|(_, name)| name).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_and_far() {
        let edits = |a: &str, b: &str| Spelling::of(a).edits_to(&Spelling::of(b));
        assert_eq!(edits("Glycerine", "Glycerin"), Some(1));
        assert_eq!(edits("Polysorbate 80", "Polysorbate 20"), None);
        assert_eq!(edits("SLES", "ALES"), None);
        assert_eq!(edits("Tocoferol acetate", "Tocopherol acetate"), Some(0));
        assert!(is_misspelt("ingrediant", "ingredient"));
        assert!(is_misspelt("weigth", "weight"));
        assert!(!is_misspelt("fase", "phase"));
    }

    /// Misspellings of chance of every name of the shelf, held against all its names by the
    /// quick way and by the plain one.
    #[test]
    fn the_quick_comparison_says_what_the_plain_one_says() {
        let names: Vec<String> = crate::shelf::built_in()
            .iter()
            .map(|m| m.name.to_string())
            .collect();
        let all: Vec<Spelling> = names.iter().map(|name| Spelling::of(name)).collect();
        // Numbers of a linear congruential generator (Knuth, MMIX), the same in each run.
        let mut seed = 7_u64;
        let mut below = |most: usize| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as usize % most.max(1)
        };
        let mut near = 0;
        for name in names.iter().step_by(5) {
            let mut letters: Vec<char> = name.chars().collect();
            for _ in 0..below(4) {
                let at = below(letters.len());
                match below(4) {
                    0 if letters.len() > 1 => drop(letters.remove(at)),
                    1 => letters.insert(at, 'e'),
                    2 => letters[at] = 'ö',
                    _ if at > 0 => letters.swap(at - 1, at),
                    _ => {}
                }
            }
            let asked = Spelling::of(&letters.iter().collect::<String>());
            let ready = asked.ready();
            for other in &all {
                let plain = asked.edits_to(other);
                assert_eq!(ready.edits_to(other), plain, "{asked:?} {other:?}");
                near += usize::from(plain.is_some());
            }
        }
        assert!(near > names.len() / 10, "{near}");
    }

    #[test]
    fn a_name_that_is_not_found_gets_its_neighbours() {
        let names = [
            "Glycerin",
            "Glyceryl Stearate",
            "Aqua",
            "Sodium Benzoate",
            "Glycerin",
        ];
        let near = |wanted: &str| nearest(wanted, names, 4);
        assert_eq!(near("Glycerine"), ["Glycerin"]);
        assert_eq!(near("benzo"), ["Sodium Benzoate"]);
        assert_eq!(near("glyc").len(), 2);
        assert!(near("Panthenol").is_empty());
    }
}
